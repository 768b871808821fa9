/* SPDX-License-Identifier: MIT */
/* Why: see urlencoded.h. */
#include "http/urlencoded.h"

#include <string.h>

#include "base/text.h"

#include "base/banned.h"

static int hex(char c)
{
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return -1;
}

/* Decode into `out`, which has room for `length` bytes and a NUL. */
static bool decode(char *out, size_t *out_length, const char *bytes, size_t length, bool plus)
{
    size_t n = 0;
    for (size_t i = 0; i < length; i++) {
        char byte = bytes[i];
        if (byte == '+' && plus) byte = ' ';
        if (byte == '%') {
            if (length - i < 3) return false;
            const int high = hex(bytes[i + 1]);
            const int low = hex(bytes[i + 2]);
            if (high < 0 || low < 0) return false;
            byte = (char)(high * 16 + low);
            i += 2;
        }
        if (byte == '\0') return false;
        out[n++] = byte;
    }
    out[n] = '\0';
    *out_length = n;
    return utf8_valid(out, n);
}

/* NULL with *broken false: no memory. */
static char *decoded(const char *bytes, size_t length, bool plus, struct arena *arena, bool *broken)
{
    size_t n = 0;
    char *out = ARENA_TAKE(arena, length + 1, char);
    *broken = out != NULL && !decode(out, &n, bytes, length, plus);
    return *broken ? NULL : out;
}

char *urlencoded_segment(const char *bytes, size_t length, struct arena *arena)
{
    bool broken;
    char *out = decoded(bytes, length, false, arena, &broken);
    for (const char *at = out; at != NULL && *at != '\0'; at++) {
        if ((unsigned char)*at < 0x20 || *at == 0x7f) return NULL;
    }
    return out;
}

static size_t until(const char *bytes, size_t length, char stop)
{
    const char *at = length == 0 ? NULL : memchr(bytes, stop, length);
    return at == NULL ? length : (size_t)(at - bytes);
}

enum status urlencoded_read(struct form_field **out, size_t *out_count, const char *bytes,
                            size_t length, size_t most, struct arena *arena, struct faults *faults)
{
    *out = NULL;
    *out_count = 0;
    struct form_field *fields = ARENA_TAKE(arena, most, struct form_field);
    if (fields == NULL) return STATUS_LIMIT;
    size_t count = 0;
    for (size_t at = 0; at < length;) {
        const size_t piece = until(bytes + at, length - at, '&');
        const size_t name = until(bytes + at, piece, '=');
        if (piece > 0) {
            if (count == most) {
                (void)faults_add(faults, "form", "fewer fields", "more than %zu fields", most);
                return STATUS_LIMIT;
            }
            bool broken_name, broken_value = false;
            struct form_field *field = &fields[count++];
            const size_t value = name == piece ? piece : name + 1;
            field->name = decoded(bytes + at, name, true, arena, &broken_name);
            field->value = decoded(bytes + at + value, piece - value, true, arena, &broken_value);
            if (broken_name || broken_value)
                return faults_add(faults, "form", "percent-encoded UTF-8 without NUL",
                                  "a broken escape, a NUL or other bytes in field %zu", count);
            if (field->name == NULL || field->value == NULL) return STATUS_LIMIT;
        }
        at += piece + 1;
    }
    *out = fields;
    *out_count = count;
    return STATUS_OK;
}

void urlencoded_add(struct text *out, const char *segment)
{
    static const char hex[] = "0123456789ABCDEF";
    for (const char *at = segment; *at != '\0'; at++) {
        const unsigned char byte = (unsigned char)*at;
        const bool plain = (byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'Z') ||
                           (byte >= 'a' && byte <= 'z') || strchr("-_.~", byte) != NULL;
        if (!plain) text_add_byte(out, '%');
        if (!plain) text_add_byte(out, hex[byte >> 4]);
        text_add_byte(out, plain ? *at : hex[byte & 15]);
    }
}
