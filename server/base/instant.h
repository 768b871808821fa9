/* SPDX-License-Identifier: MIT */
/*
 * Instants and dates as text: RFC 3339 with an offset, and YYYY-MM-DD. Reading is strict, and every
 * refusal says what was found and what was wanted: a time that is only nearly right must not start
 * a clock. A fraction of a second that is not zero is refused, not cut.
 */
#ifndef EMBERWAIT_BASE_INSTANT_H
#define EMBERWAIT_BASE_INSTANT_H

#include <stddef.h>
#include <stdint.h>

#include "base/limits.h"
#include "base/status.h"
#include "base/zone.h"

enum {
    INSTANT_TEXT_MAX = 26, /**< "2026-10-24T10:00:00-06:00" and NUL */
    DATE_TEXT_MAX = 11,    /**< "2026-10-24" and NUL */
};

/**
 * Read an RFC 3339 instant, e.g. `2026-10-24T10:00:00-06:00`. `T` and `Z` may be lower case; a
 * fraction may only be zeros; second 60 is refused.
 *
 * @param[out] out_s   Seconds since 1970 UTC, INSTANT_MIN_S..INSTANT_MAX_S; untouched on a fault.
 * @param[in]  text    Bytes, not necessarily ended by NUL.
 * @param[in]  length  Their number.
 * @param[out] fault   found and wanted; the path is left empty for the caller. May be NULL.
 * Status: OK, INVALID.
 * Source: [rfc3339] section 5.6
 */
MUST_USE enum status instant_parse(int64_t *out_s, const char *text, size_t length,
                                   struct fault *fault);

/**
 * Write an instant with the offset its zone has then.
 *
 * @param[out] out   `2026-10-24T10:00:00-06:00`, or `...Z` without a zone.
 * @param[in]  at_s  Any instant of the years 0..9999 but their first and last two days: what is
 *                   worked out may lie past what can be read.
 * @param[in]  zone  NULL: UTC, written Z. An offset with odd seconds (Monrovia until 1972) is
 *                   written in whole minutes, the instant stays the same.
 */
void instant_format(char out[INSTANT_TEXT_MAX], int64_t at_s, const struct zone *zone);

/**
 * Read a date, `YYYY-MM-DD`, from 1970-01-01 to 2200-01-01.
 *
 * @param[out] out_day  Days since 1970-01-01; untouched on a fault.
 * @param[in]  text     Bytes, not necessarily ended by NUL.
 * @param[in]  length   Their number.
 * @param[out] fault    found and wanted; the path is left empty for the caller. May be NULL.
 * Status: OK, INVALID.
 */
MUST_USE enum status date_parse(int32_t *out_day, const char *text, size_t length,
                                struct fault *fault);

/** Write a day as `YYYY-MM-DD`; years 0..9999. */
void date_format(char out[DATE_TEXT_MAX], int32_t day);

#endif
