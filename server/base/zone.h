/* SPDX-License-Identifier: MIT */
/*
 * A time zone as a plain table: from each transition on, an offset from UTC. The table is read once
 * from the system's zone files (zone.c) and then handed about by pointer, so that the computing
 * layers stay free of files and of the process-wide TZ setting.
 */
#ifndef EMBERWAIT_BASE_ZONE_H
#define EMBERWAIT_BASE_ZONE_H

#include <stddef.h>
#include <stdint.h>

#include "base/status.h"

enum {
    ZONE_NAME_MAX = 64,
    ZONE_ABBREVIATION_MAX = 12,
    ZONE_OFFSET_MAX_S = 93600, /**< 26 h; no offset is further from UTC (RFC 9636) */
    ZONE_DAY_S = 86400,
};

/** From `from_s` (inclusive) on, local time = UTC + offset_s. */
struct zone_span {
    int64_t from_s;
    int32_t offset_s;
    char abbreviation[ZONE_ABBREVIATION_MAX];
};

/** An IANA zone, complete from 1970 to 2200. Spans ascend; span[0].from_s is INT64_MIN. */
struct zone {
    char name[ZONE_NAME_MAX];
    size_t count;
    struct zone_span *spans;
};

/**
 * Read a zone by its IANA name, e.g. `America/Denver`.
 *
 * @param[out] out    Own; free with zone_free.
 * @param[in]  name   Letters, digits, `_ - + /`; no leading slash, no `..`.
 * @param[out] fault  found / wanted when the name is unknown; may be NULL.
 * Status: OK, INVALID (bad name), NOT_FOUND (no such zone), CORRUPT (bad file), IO.
 * Source: [rfc9636] TZif, with the footer rule expanded to 2200.
 */
MUST_USE enum status zone_load(struct zone **out, const char *name, struct fault *fault);

/** Free a zone; NULL is allowed. */
void zone_free(struct zone *zone);

/** Index of the span in force at `at_s`. Binary search; O(log count). */
static inline size_t zone_span_at(const struct zone *zone, int64_t at_s)
{
    const struct zone_span *spans = zone->spans;
    size_t low = 0;
    size_t left = zone->count;
    while (left > 1) {
        const size_t half = left / 2;
        if (spans[low + half].from_s <= at_s) low += half;
        left -= half;
    }
    return low;
}

/** Offset from UTC in force at `at_s`, seconds, east positive. */
static inline int32_t zone_offset_s(const struct zone *zone, int64_t at_s)
{
    return zone->spans[zone_span_at(zone, at_s)].offset_s;
}

/** Quotient rounded down, for instants and offsets of either sign; `divisor` > 0. */
static inline int64_t zone_floor_div(int64_t value, int64_t divisor)
{
    return value / divisor - (value % divisor < 0);
}

/**
 * Days since 1970-01-01 of a proleptic Gregorian date. It stands here, below everybody, because the
 * zone reader, the instants and compute/civil all need it. The year is counted from March, so that
 * the leap day is its last.
 *
 * @param[in] year   -9999..9999.
 * @param[in] month  1..12.
 * @param[in] day    1..31; a day past the end of the month runs on into the next.
 */
static inline int32_t zone_day_of_date(int year, int month, int day)
{
    const int32_t from_march = month > 2 ? year : year - 1;
    const int32_t era = (int32_t)zone_floor_div(from_march, 400);
    const int32_t year_of_era = from_march - era * 400;
    const int32_t day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    const int32_t day_of_era =
        year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return era * 146097 + day_of_era - 719468;
}

/** The date of a day since 1970-01-01; the inverse of zone_day_of_date. */
static inline void zone_date_of_day(int32_t day, int *year, int *month, int *day_of_month)
{
    const int32_t shifted = day + 719468;
    const int32_t era = (int32_t)zone_floor_div(shifted, 146097);
    const int32_t day_of_era = shifted - era * 146097;
    const int32_t year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    const int32_t day_of_year =
        day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    const int32_t from_march = (5 * day_of_year + 2) / 153;
    *day_of_month = day_of_year - (153 * from_march + 2) / 5 + 1;
    *month = from_march < 10 ? from_march + 3 : from_march - 9;
    *year = year_of_era + era * 400 + (*month <= 2);
}

/** Days of a month, 28..31; 0 when there is no such month. */
static inline int zone_month_days(int year, int month)
{
    if (month < 1 || month > 12) return 0;
    if (month == 2) return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) ? 29 : 28;
    return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
}

#endif
