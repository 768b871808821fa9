/* SPDX-License-Identifier: MIT */
/* Why: see text.h. Plain runs are copied whole; only the bytes between them are looked at singly.
 */
#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/instant.h"

#include "base/banned.h"

enum { CAPACITY_FIRST = 256 };

static const char replacement[] = "\xEF\xBF\xBD"; /* U+FFFD */

void text_free(struct text *text)
{
    free(text->data);
    *text = (struct text){.limit = text->limit};
}

void text_clear(struct text *text)
{
    text->length = 0;
    text->failed = false;
    text->over_limit = false;
    if (text->data != NULL) text->data[0] = '\0';
}

enum status text_status(const struct text *text)
{
    if (!text->failed) return STATUS_OK;
    return text->over_limit ? STATUS_LIMIT : STATUS_IO;
}

const char *text_z(const struct text *text)
{
    return text->data == NULL ? "" : text->data;
}

char *text_release(struct text *text, size_t *length)
{
    if (text->failed) text_free(text);
    if (length != NULL) *length = text->length;
    char *data = text->data;
    *text = (struct text){.limit = text->limit};
    return data;
}

/* The slow half of text_room: the capacity doubles, at most to the limit and its NUL. */
static bool grow(struct text *text, size_t bytes)
{
    if (text->failed) return false;
    if (bytes > text->limit - text->length) {
        text->failed = true;
        text->over_limit = true;
        return false;
    }
    size_t capacity = text->capacity < CAPACITY_FIRST ? CAPACITY_FIRST : text->capacity;
    while (capacity - 1 < text->length + bytes) {
        capacity = capacity > SIZE_MAX / 2 ? text->length + bytes + 1 : capacity * 2;
    }
    if (capacity - 1 > text->limit) capacity = text->limit + 1;
    char *data = realloc(text->data, capacity);
    if (data == NULL) {
        text->failed = true;
        return false;
    }
    text->data = data;
    text->capacity = capacity;
    return true;
}

static inline bool room(struct text *text, size_t bytes)
{
    if (!text->failed && bytes < text->capacity - text->length) return true;
    return grow(text, bytes);
}

bool text_room(struct text *text, size_t bytes)
{
    REQUIRE(text->limit < SIZE_MAX);
    return room(text, bytes);
}

static inline void add(struct text *text, const char *bytes, size_t length)
{
    if (length == 0 || !room(text, length)) return;
    memcpy(text->data + text->length, bytes, length);
    text->length += length;
    text->data[text->length] = '\0';
}

void text_add(struct text *text, const char *bytes, size_t length)
{
    add(text, bytes, length);
}

void text_add_z(struct text *text, const char *z)
{
    add(text, z, strlen(z));
}

void text_add_byte(struct text *text, char byte)
{
    add(text, &byte, 1);
}

void text_print(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    va_list again;
    va_copy(again, arguments);
    const size_t left = text->failed || text->data == NULL ? 0 : text->capacity - text->length;
    const int length =
        vsnprintf(left == 0 ? NULL : text->data + text->length, left, format, arguments);
    va_end(arguments);
    ENSURE(length >= 0);
    const size_t bytes = (size_t)length;
    if (bytes < left) {
        text->length += bytes;
    } else if (room(text, bytes)) {
        (void)vsnprintf(text->data + text->length, bytes + 1, format, again);
        text->length += bytes;
    } else if (left > 0) {
        text->data[text->length] = '\0'; /* nothing half printed is left behind */
    }
    va_end(again);
}

/* ---- numbers --------------------------------------------------------------------------------- */

enum { DIGITS_MAX = 20 };

/* The decimal digits of a number, at least `least`, ending at `end`; answers where they begin. */
static char *digits_before(char *end, uint64_t value, int least)
{
    while (value > 0 || least > 0) {
        *--end = (char)('0' + value % 10);
        value /= 10;
        least--;
    }
    return end;
}

void text_integer(struct text *text, int64_t value)
{
    char digits[DIGITS_MAX + 1];
    char *const end = digits + sizeof digits;
    char *from = digits_before(end, value < 0 ? 0 - (uint64_t)value : (uint64_t)value, 1);
    if (value < 0) *--from = '-';
    add(text, from, (size_t)(end - from));
}

/* Add what printf wrote, with a decimal point whatever the locale says. */
static void printed_add(struct text *text, char *printed, int length)
{
    for (int i = 0; i < length; i++) {
        if (printed[i] == ',') printed[i] = '.';
    }
    add(text, printed, (size_t)length);
}

/* `units` of 10^-decimals, with a sign, and without the zeros at the end when `trim`. */
static void decimal_add(struct text *text, bool minus, uint64_t units, int decimals, bool trim)
{
    char digits[DIGITS_MAX + 4];
    char *end = digits + sizeof digits;
    uint64_t power = 1;
    for (int i = 0; i < decimals; i++) power *= 10;
    uint64_t part = units % power;
    for (; trim && decimals > 0 && part % 10 == 0; decimals--) part /= 10;
    char *from = digits_before(end, part, decimals);
    if (decimals > 0) *--from = '.';
    from = digits_before(from, units / power, 1);
    if (minus && units > 0) *--from = '-';
    add(text, from, (size_t)(end - from));
}

/*
 * Twelve significant digits of a number of ordinary size: scaled by a power of ten that a double
 * holds exactly into 10^11..10^12, it errs by one rounding, 0.0001 at most. Unless the part cut off
 * is that near to a half (then printf, which is exact, decides), the rounded number is the right
 * one.
 */
static bool number_add(struct text *text, bool minus, double size)
{
    static const double powers[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                    1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    enum { DECIMALS_MAX = sizeof powers / sizeof powers[0] - 1 };
    if (size < 1e11 && size == (double)(uint64_t)size) {
        decimal_add(text, minus, (uint64_t)size, 0, false);
        return true;
    }
    if (size < 1e-3 || size >= 1e11) return false;
    int decimals = 1;
    while (decimals < DECIMALS_MAX && size * powers[decimals] < 1e11) decimals++;
    const double scaled = size * powers[decimals];
    const uint64_t whole = (uint64_t)scaled;
    const double part = scaled - (double)whole;
    if (fabs(part - 0.5) < 1e-3 || scaled < 1e11) return false;
    decimal_add(text, minus, whole + (part > 0.5), decimals, true);
    return true;
}

void text_json_number(struct text *text, double value)
{
    if (!isfinite(value)) {
        add(text, "null", 4);
        return;
    }
    if (number_add(text, value < 0, fabs(value))) return;
    char printed[32];
    const int length = snprintf(printed, sizeof printed, "%.12g", value);
    ENSURE(length > 0 && (size_t)length < sizeof printed);
    printed_add(text, printed, length);
}

void text_json_fixed(struct text *text, double value, int decimals)
{
    static const double powers[] = {1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};
    REQUIRE(decimals >= 0 && decimals <= 9);
    if (!isfinite(value)) {
        add(text, "null", 4);
        return;
    }
    const double scaled = round(fabs(value) * powers[decimals]);
    if (scaled < 1e15) {
        decimal_add(text, value < 0, (uint64_t)scaled, decimals, false);
        return;
    }
    char printed[336]; /* 309 digits, a sign, a point, 9 decimals */
    const int length = snprintf(printed, sizeof printed, "%.*f", decimals, value);
    ENSURE(length > 0 && (size_t)length < sizeof printed);
    printed_add(text, printed, length);
}

/* ---- UTF-8 ----------------------------------------------------------------------------------- */

static bool continues(unsigned char byte, unsigned char least, unsigned char most)
{
    return byte >= least && byte <= most;
}

/* Source: the Unicode Standard, table 3-7, well-formed UTF-8 byte sequences. */
size_t utf8_length(const char *bytes, size_t length)
{
    const unsigned char *at = (const unsigned char *)bytes;
    if (length == 0) return 0;
    if (at[0] < 0x80) return 1;
    if (at[0] < 0xc2 || at[0] > 0xf4) return 0;
    const size_t wanted = at[0] < 0xe0 ? 2 : at[0] < 0xf0 ? 3 : 4;
    if (length < wanted) return 0;
    unsigned char least = 0x80;
    unsigned char most = 0xbf;
    if (at[0] == 0xe0) least = 0xa0;
    if (at[0] == 0xed) most = 0x9f;
    if (at[0] == 0xf0) least = 0x90;
    if (at[0] == 0xf4) most = 0x8f;
    if (!continues(at[1], least, most)) return 0;
    for (size_t i = 2; i < wanted; i++) {
        if (!continues(at[i], 0x80, 0xbf)) return 0;
    }
    return wanted;
}

bool utf8_valid(const char *bytes, size_t length)
{
    for (size_t i = 0; i < length;) {
        const size_t step = utf8_length(bytes + i, length - i);
        if (step == 0) return false;
        i += step;
    }
    return true;
}

/* ---- escaping -------------------------------------------------------------------------------- */

/* What a byte needs: 0 nothing, 1 only in JSON, 2 only in HTML, 3 in both. */
enum { PLAIN = 0, IN_JSON = 1, IN_HTML = 2 };

static inline unsigned needs(unsigned char byte)
{
    static const unsigned char table[128] = {
        ['"'] = IN_JSON | IN_HTML, ['\\'] = IN_JSON, ['&'] = IN_HTML,
        ['<'] = IN_HTML,           ['>'] = IN_HTML,  ['\''] = IN_HTML};
    if (byte < 0x20) return byte == '\t' || byte == '\n' ? IN_JSON : IN_JSON | IN_HTML;
    if (byte >= 0x7f) return IN_JSON | IN_HTML;
    return table[byte];
}

/* A byte that JSON escapes, or the UTF-8 character it begins. Answers the bytes read. */
static size_t json_escape(struct text *text, const char *bytes, size_t length)
{
    const unsigned char byte = (unsigned char)bytes[0];
    if (byte < 0x20) {
        static const char hex[] = "0123456789abcdef";
        static const char letters[0x20] = {
            ['\b'] = 'b', ['\f'] = 'f', ['\n'] = 'n', ['\r'] = 'r', ['\t'] = 't'};
        const char numbered[6] = {'\\', 'u', '0', '0', hex[byte >> 4], hex[byte & 15]};
        const char lettered[2] = {'\\', letters[byte]};
        if (letters[byte] != 0)
            add(text, lettered, 2);
        else
            add(text, numbered, 6);
        return 1;
    }
    if (byte < 0x7f) {
        const char escaped[2] = {'\\', (char)byte};
        add(text, escaped, 2);
        return 1;
    }
    const size_t step = utf8_length(bytes, length);
    add(text, step == 0 ? replacement : bytes, step == 0 ? 3 : step);
    return step == 0 ? 1 : step;
}

/* The same for HTML. A control character has no form in HTML at all: U+FFFD. */
static size_t html_escape(struct text *text, const char *bytes, size_t length)
{
    const char *entity = NULL;
    switch (bytes[0]) {
    case '&':
        entity = "&amp;";
        break;
    case '<':
        entity = "&lt;";
        break;
    case '>':
        entity = "&gt;";
        break;
    case '"':
        entity = "&quot;";
        break;
    case '\'':
        entity = "&#39;";
        break;
    default:
        break;
    }
    if (entity != NULL) {
        text_add_z(text, entity);
        return 1;
    }
    const unsigned char byte = (unsigned char)bytes[0];
    const size_t step = byte < 0x20 || byte == 0x7f ? 0 : utf8_length(bytes, length);
    add(text, step == 0 ? replacement : bytes, step == 0 ? 3 : step);
    return step == 0 ? 1 : step;
}

/*
 * Bytes at the front that JSON takes as they are, eight at a time: the high bit of a byte is set in
 * `word` where it is beyond ASCII, and by the subtractions where it is below 0x20, `"` or a
 * backslash. A borrow can set further bits above such a byte, but none without one.
 */
static size_t json_plain(const char *bytes, size_t length)
{
    const uint64_t ones = UINT64_C(0x0101010101010101);
    const uint64_t highs = ones * 0x80;
    size_t i = 0;
    for (; length - i >= sizeof ones; i += sizeof ones) {
        uint64_t word;
        memcpy(&word, bytes + i, sizeof word);
        const uint64_t quotes = word ^ ones * '"';
        const uint64_t slashes = word ^ ones * '\\';
        if ((word | (word - ones * 0x20) | (quotes - ones) | (slashes - ones)) & highs) break;
    }
    while (i < length && !(needs((unsigned char)bytes[i]) & IN_JSON)) i++;
    return i;
}

void text_json_string(struct text *text, const char *bytes, size_t length)
{
    if (bytes == NULL) {
        add(text, "null", 4);
        return;
    }
    add(text, "\"", 1);
    for (size_t i = 0; i < length;) {
        const size_t plain = json_plain(bytes + i, length - i);
        add(text, bytes + i, plain);
        i += plain;
        if (i < length) i += json_escape(text, bytes + i, length - i);
    }
    add(text, "\"", 1);
}

void text_json_z(struct text *text, const char *z)
{
    text_json_string(text, z, z == NULL ? 0 : strlen(z));
}

void text_html(struct text *text, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length;) {
        const size_t from = i;
        while (i < length && !(needs((unsigned char)bytes[i]) & IN_HTML)) i++;
        add(text, bytes + from, i - from);
        if (i < length) i += html_escape(text, bytes + i, length - i);
    }
}

void text_html_z(struct text *text, const char *z)
{
    if (z != NULL) text_html(text, z, strlen(z));
}

/* ---- instants and dates ---------------------------------------------------------------------- */

void text_instant(struct text *text, int64_t at_s, const struct zone *zone)
{
    if (!room(text, INSTANT_TEXT_MAX - 1)) return;
    instant_format(text->data + text->length, at_s, zone);
    text->length += strlen(text->data + text->length);
}

void text_date(struct text *text, int32_t day)
{
    char written[DATE_TEXT_MAX];
    date_format(written, day);
    add(text, written, DATE_TEXT_MAX - 1);
}

void text_json_instant(struct text *text, int64_t at_s, const struct zone *zone)
{
    if (at_s == INT64_MIN) {
        add(text, "null", 4);
        return;
    }
    add(text, "\"", 1);
    text_instant(text, at_s, zone);
    add(text, "\"", 1);
}

void text_json_date(struct text *text, int32_t day)
{
    if (day == INT32_MIN) {
        add(text, "null", 4);
        return;
    }
    add(text, "\"", 1);
    text_date(text, day);
    add(text, "\"", 1);
}
