/* SPDX-License-Identifier: MIT */
/* Why: see log.h. A line is built on the stack, so that logging works when memory does not. */
#include "base/log.h"

#include <errno.h>
#include <stdatomic.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/status.h"
#include "base/text.h"

#include "base/banned.h"

static const char *const names[LOG_LEVEL_COUNT] = {"error", "warning", "info", "debug"};
static const char cut_mark[] = " cut=true";

static atomic_int level_now = LOG_INFO;

struct line {
    char *data;
    size_t length;
    bool cut;
};

/* Add all of it or nothing, so that a cut never falls inside an escape or a field. */
static void add(struct line *line, const char *bytes, size_t length)
{
    const size_t most = LOG_LINE_MAX - sizeof cut_mark; /* the mark without its NUL, a newline */
    if (line->cut || length > most - line->length) {
        line->cut = true;
        return;
    }
    memcpy(line->data + line->length, bytes, length);
    line->length += length;
}

/* Bytes that may stand without quotes. */
static bool bare(unsigned char c)
{
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
           memchr("-_.,:/+@%", c, 9) != NULL;
}

/*
 * A value, quoted when it has to be. Within quotes, `"` and `\` take a backslash; control bytes,
 * DEL, whatever is not UTF-8, and the characters beyond ASCII that break or turn a line (C1
 * controls, U+2028, U+2029, and the marks of writing direction) are written as \xhh, byte by byte.
 */
static bool breaks_line(const unsigned char *at, size_t length)
{
    if (length == 2) return at[0] == 0xc2 && at[1] < 0xa0;
    if (length != 3 || at[0] != 0xe2) return false;
    return (at[1] == 0x80 &&
            ((at[2] >= 0xa8 && at[2] <= 0xae) || at[2] == 0x8e || at[2] == 0x8f)) ||
           (at[1] == 0x81 && at[2] >= 0xa6 && at[2] <= 0xa9);
}

static void add_escaped(struct line *line, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length;) {
        const unsigned char byte = (unsigned char)bytes[i];
        const size_t step = byte < 0x20 || byte == 0x7f ? 0 : utf8_length(bytes + i, length - i);
        if (byte == '"' || byte == '\\') {
            const char escaped[2] = {'\\', (char)byte};
            add(line, escaped, 2);
            i++;
        } else if (step == 0 || breaks_line((const unsigned char *)bytes + i, step)) {
            static const char hex[] = "0123456789abcdef";
            const char escaped[4] = {'\\', 'x', hex[byte >> 4], hex[byte & 15]};
            add(line, escaped, 4);
            i++;
        } else {
            add(line, bytes + i, step);
            i += step;
        }
    }
}

static void add_value(struct line *line, const char *bytes, size_t length)
{
    bool plain = length > 0 && length <= LOG_VALUE_MAX;
    for (size_t i = 0; plain && i < length; i++) plain = bare((unsigned char)bytes[i]);
    if (plain) {
        add(line, bytes, length);
        return;
    }
    const bool cut = length > LOG_VALUE_MAX;
    add(line, "\"", 1);
    add_escaped(line, bytes, cut ? LOG_VALUE_MAX : length);
    add(line, cut ? "...\"" : "\"", cut ? 4 : 1);
}

static void add_field(struct line *line, const struct log_field *field)
{
    add(line, " ", 1);
    add(line, field->key, strlen(field->key));
    add(line, "=", 1);
    if (field->text != NULL) {
        add_value(line, field->text, field->length);
        return;
    }
    char number[24];
    const int length = snprintf(number, sizeof number, "%lld", (long long)field->number);
    ENSURE(length > 0 && (size_t)length < sizeof number);
    add(line, number, (size_t)length);
}

size_t log_format(char out[LOG_LINE_MAX + 1], enum log_level level, const char *message,
                  const struct log_field *fields)
{
    REQUIRE((unsigned)level < LOG_LEVEL_COUNT && message != NULL);
    struct line line = {.data = out};
    add(&line, names[level], strlen(names[level]));
    add(&line, " ", 1);
    add_value(&line, message, strlen(message));
    for (; fields != NULL && fields->key != NULL && !line.cut; fields++) {
        const size_t whole = line.length;
        add_field(&line, fields);
        if (line.cut) line.length = whole;
    }
    if (line.cut) {
        memcpy(out + line.length, cut_mark, sizeof cut_mark - 1);
        line.length += sizeof cut_mark - 1;
    }
    out[line.length++] = '\n';
    out[line.length] = '\0';
    return line.length;
}

void log_write(enum log_level level, const char *message, const struct log_field *fields)
{
    if (!log_wants(level)) return;
    char line[LOG_LINE_MAX + 1];
    const size_t length = log_format(line, level, message, fields);
    const int kept = errno;
    ssize_t written;
    do {
        written = write(STDERR_FILENO, line, length);
    } while (written < 0 && errno == EINTR);
    errno = kept; /* a log line never disturbs the error it speaks of */
}

void log_error(const char *message, const struct log_field *fields)
{
    log_write(LOG_ERROR, message, fields);
}

void log_warning(const char *message, const struct log_field *fields)
{
    log_write(LOG_WARNING, message, fields);
}

void log_info(const char *message, const struct log_field *fields)
{
    log_write(LOG_INFO, message, fields);
}

void log_debug(const char *message, const struct log_field *fields)
{
    log_write(LOG_DEBUG, message, fields);
}

struct log_field log_text(const char *key, const char *z)
{
    if (z == NULL) z = "-";
    return (struct log_field){.key = key, .text = z, .length = strlen(z)};
}

struct log_field log_bytes(const char *key, const char *bytes, size_t length)
{
    return (struct log_field){
        .key = key, .text = bytes == NULL ? "-" : bytes, .length = bytes == NULL ? 1 : length};
}

struct log_field log_number(const char *key, int64_t number)
{
    return (struct log_field){.key = key, .number = number};
}

void log_level_set(enum log_level level)
{
    REQUIRE((unsigned)level < LOG_LEVEL_COUNT);
    atomic_store(&level_now, (int)level);
}

bool log_wants(enum log_level level)
{
    return (int)level <= atomic_load(&level_now);
}

bool log_level_parse(enum log_level *out, const char *name)
{
    for (int i = 0; i < LOG_LEVEL_COUNT; i++) {
        if (strcmp(names[i], name) == 0) {
            *out = (enum log_level)i;
            return true;
        }
    }
    return false;
}
