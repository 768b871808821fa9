/* SPDX-License-Identifier: MIT */
/*
 * Civil days and wall clocks over a zone table. A job counts days, work hours and whole hours by
 * the wall clock of its own zone, where a day can be 23, 24 or 25 h long (or 0 h: Apia has no
 * 30 December 2011). Everything here is arithmetic on the table of base/zone.h: no TZ variable, no
 * C library time functions, nothing remembered between calls. Each call is one binary search.
 *
 * A day is an int32_t, days since 1970-01-01; an instant is int64_t seconds since 1970 UTC. Exact
 * for INSTANT_MIN_S..INSTANT_MAX_S and the civil days they fall in, in every zone.
 *
 * Where a clock goes back across midnight (St. John's until 2011: 00:01 -> 23:01) the wall clock
 * shows the new day, the old one, and the new one again. civil_day_of then follows the wall clock;
 * civil_day_start_s is the first instant of all. Cut time into days by civil_day_start_s, where
 * days may not overlap.
 */
#ifndef EMBERWAIT_COMPUTE_CIVIL_H
#define EMBERWAIT_COMPUTE_CIVIL_H

#include <stdbool.h>
#include <stdint.h>

#include "base/zone.h"

/**
 * Day of a proleptic Gregorian date.
 *
 * @param[in] year   -9999..9999.
 * @param[in] month  1..12.
 * @param[in] day    1..31; not checked against the month (civil_date_valid does).
 * @return days since 1970-01-01.
 */
int32_t civil_day(int year, int month, int day);

/** Whether there is such a date, years 1..9999. */
bool civil_date_valid(int year, int month, int day);

/** Date of a day; the inverse of civil_day. */
void civil_date(int32_t day, int *year, int *month, int *day_of_month);

/** Weekday, 0 = Monday .. 6 = Sunday. */
int civil_weekday(int32_t day);

/** Offset of the wall clock from UTC at an instant, s, east positive. */
int32_t civil_offset_s(const struct zone *zone, int64_t at_s);

/** Civil day that the wall clock shows at an instant. */
int32_t civil_day_of(const struct zone *zone, int64_t at_s);

/** Second of the day that the wall clock shows, 0..86399. */
int civil_second_of_day(const struct zone *zone, int64_t at_s);

/**
 * First instant of a civil day. Where midnight does not exist: the first instant after the gap (of
 * a day that is skipped whole: the first instant of the next day). Where it occurs twice: the
 * first.
 */
int64_t civil_day_start_s(const struct zone *zone, int32_t day);

/**
 * Instant at which the wall clock shows a second of a day. In a gap: the first instant after it.
 * Where the clock shows it twice: the earlier.
 *
 * @param[in] zone           Borrowed.
 * @param[in] day            Civil day.
 * @param[in] second_of_day  0..86400; 86400 is 24:00, the start of the next day.
 */
int64_t civil_instant_s(const struct zone *zone, int32_t day, int second_of_day);

/**
 * Round up to the whole hour of the wall clock.
 *
 * @return `at_s` if the wall clock is on a whole hour, else the next instant at which it is. Zones
 *         off by half an hour and changes by half an hour are followed.
 */
int64_t civil_hour_up_s(const struct zone *zone, int64_t at_s);

#endif
