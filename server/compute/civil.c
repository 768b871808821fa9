/* SPDX-License-Identifier: MIT */
/* Why: see civil.h. The date arithmetic itself stands in base/zone.h. */
#include "compute/civil.h"

#include "base/status.h"

enum { HOUR_S = 3600 };

int32_t civil_day(int year, int month, int day)
{
    REQUIRE(month >= 1 && month <= 12);
    return zone_day_of_date(year, month, day);
}

bool civil_date_valid(int year, int month, int day)
{
    return year >= 1 && year <= 9999 && day >= 1 && day <= zone_month_days(year, month);
}

void civil_date(int32_t day, int *year, int *month, int *day_of_month)
{
    zone_date_of_day(day, year, month, day_of_month);
}

int civil_weekday(int32_t day)
{
    const int64_t since_monday = (int64_t)day + 3; /* 1970-01-01 was a Thursday */
    return (int)(since_monday - 7 * zone_floor_div(since_monday, 7));
}

int32_t civil_offset_s(const struct zone *zone, int64_t at_s)
{
    return zone_offset_s(zone, at_s);
}

int32_t civil_day_of(const struct zone *zone, int64_t at_s)
{
    return (int32_t)zone_floor_div(at_s + zone_offset_s(zone, at_s), ZONE_DAY_S);
}

int civil_second_of_day(const struct zone *zone, int64_t at_s)
{
    const int64_t wall_s = at_s + zone_offset_s(zone, at_s);
    return (int)(wall_s - ZONE_DAY_S * zone_floor_div(wall_s, ZONE_DAY_S));
}

int64_t civil_day_start_s(const struct zone *zone, int32_t day)
{
    return civil_instant_s(zone, day, 0);
}

/*
 * Each span shows the wall clocks [from + offset, next from + offset). Going forward from the first
 * span that can hold the wall clock, the first that does not end before it either shows it (the
 * earlier of two), or begins after it: then it lies in the gap before that span.
 */
int64_t civil_instant_s(const struct zone *zone, int32_t day, int second_of_day)
{
    REQUIRE(second_of_day >= 0 && second_of_day <= ZONE_DAY_S);
    const int64_t wall_s = (int64_t)day * ZONE_DAY_S + second_of_day;
    size_t i = zone_span_at(zone, wall_s - ZONE_OFFSET_MAX_S);
    for (;; i++) {
        const struct zone_span *span = &zone->spans[i];
        const int64_t at_s = wall_s - span->offset_s;
        if (i + 1 < zone->count && at_s >= span[1].from_s) continue;
        return at_s > span->from_s ? at_s : span->from_s;
    }
}

int64_t civil_hour_up_s(const struct zone *zone, int64_t at_s)
{
    size_t i = zone_span_at(zone, at_s);
    for (;; i++) {
        const struct zone_span *span = &zone->spans[i];
        if (span->from_s > at_s) at_s = span->from_s;
        const int64_t wall_s = at_s + span->offset_s;
        const int64_t up_s = -zone_floor_div(-wall_s, HOUR_S) * HOUR_S - span->offset_s;
        if (i + 1 == zone->count || up_s < span[1].from_s) return up_s;
    }
}
