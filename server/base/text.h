/* SPDX-License-Identifier: MIT */
/*
 * A text that grows up to a limit: answers, pages and files are written into one, straight in their
 * final form. Once it cannot grow (no memory, or the limit reached) it takes nothing more and
 * remembers it, so that a writer checks once, at its end, with text_status. What it holds then is
 * cut short and must not be sent.
 */
#ifndef EMBERWAIT_BASE_TEXT_H
#define EMBERWAIT_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "base/status.h"
#include "base/zone.h"

/** `data` holds `length` bytes and a NUL behind them; NULL while nothing was added. */
struct text {
    char *data;
    size_t length;
    size_t capacity;
    size_t limit;    /**< bytes it may hold; the NUL is not counted */
    bool failed;     /**< something could not be added */
    bool over_limit; /**< ... because of the limit */
};

/** An empty text that may hold `bytes` bytes: `struct text answer = TEXT_UP_TO(1 << 20);` */
#define TEXT_UP_TO(bytes)                                                                          \
    {                                                                                              \
        .limit = (bytes)                                                                           \
    }

/** Free the bytes; the text is empty again, keeps its limit, and may be used again. */
void text_free(struct text *text);
/** Forget the bytes, and any failure, but keep the memory. */
void text_clear(struct text *text);
/** OK; LIMIT when the limit was reached; IO when there was no memory. */
MUST_USE enum status text_status(const struct text *text);
/** Bytes as a NUL-ended string, never NULL. Borrow, until the next addition. */
const char *text_z(const struct text *text);
/**
 * Hand the bytes over; the text is empty afterwards.
 *
 * @param[in,out] text  The text.
 * @param[out] length   Bytes without the NUL; may be NULL.
 * @return own; free with free(). NULL when nothing was ever added or the text failed.
 */
char *text_release(struct text *text, size_t *length);

/** Make room for `bytes` more at once. False, and failed, when there is none. */
bool text_room(struct text *text, size_t bytes);
/** Add bytes as they are. */
void text_add(struct text *text, const char *bytes, size_t length);
/** Add a NUL-ended string as it is. */
void text_add_z(struct text *text, const char *z);
/** Add one byte. */
void text_add_byte(struct text *text, char byte);
/** printf. Never for numbers of an answer: use text_integer and text_json_number. */
void text_print(struct text *text, const char *format, ...) PRINTF_LIKE(2, 3);
/** Add a whole number in decimal. */
void text_integer(struct text *text, int64_t value);

/** Add a JSON string with its quotes (RFC 8259); invalid UTF-8 becomes U+FFFD. NULL: `null`. */
void text_json_string(struct text *text, const char *bytes, size_t length);
/** The same for a NUL-ended string. NULL: `null`. */
void text_json_z(struct text *text, const char *z);
/** Add the shortest decimal that is right to 12 significant digits; not finite: `null`. */
void text_json_number(struct text *text, double value);
/** Add a number with `decimals` (0..9) decimals, half away from zero; not finite: `null`. */
void text_json_fixed(struct text *text, double value, int decimals);
/** Add an instant as a JSON string in a zone (NULL: UTC); INT64_MIN, no instant: `null`. */
void text_json_instant(struct text *text, int64_t at_s, const struct zone *zone);
/** Add a day since 1970-01-01 as a JSON string `YYYY-MM-DD`; INT32_MIN, no day: `null`. */
void text_json_date(struct text *text, int32_t day);

/** Add text for HTML, in elements and quoted attributes: & < > " ' escaped, bad UTF-8 U+FFFD. */
void text_html(struct text *text, const char *bytes, size_t length);
/** The same for a NUL-ended string; NULL adds nothing. */
void text_html_z(struct text *text, const char *z);

/** Add an instant as RFC 3339 without quotes. */
void text_instant(struct text *text, int64_t at_s, const struct zone *zone);
/** Add a date `YYYY-MM-DD` without quotes. */
void text_date(struct text *text, int32_t day);

/** Whether bytes are well-formed UTF-8 (no overlong forms, no surrogates, to U+10FFFF). */
bool utf8_valid(const char *bytes, size_t length);
/**
 * Length of the UTF-8 character at the front, 1..4.
 *
 * @return 0 when the bytes there are not well-formed, or there are none.
 */
size_t utf8_length(const char *bytes, size_t length);

#endif
