/* SPDX-License-Identifier: MIT */
/* Why: see calendar.h. A day is at most two stretches of work, before and after lunch. */
#include "planner/calendar.h"

#include <math.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "model/record.h"

#include "base/banned.h"

enum { MINUTE_S = 60, HOUR_S = 3600 };

/** One stretch of work. */
struct stretch {
    int64_t from_s;
    int64_t until_s;
};

void calendar_of_company(struct calendar *out, const struct company *company)
{
    *out = (struct calendar){.zone = company->zone,
                             .work_days = company->work_days,
                             .hours = company->hours,
                             .lunch = company->lunch,
                             .days_off = company->days_off,
                             .days_off_count = company->days_off_count};
}

void calendar_of_party(struct calendar *out, const struct outside_party *party,
                       const struct company *company, const struct zone *zone)
{
    calendar_of_company(out, company);
    out->zone = zone;
    out->lunch = (struct window){0, 0};
    if (party == NULL) return;
    out->work_days = party->work_days;
    out->hours = party->hours;
    out->days_off = party->days_off;
    out->days_off_count = party->days_off_count;
}

bool calendar_has_day(const int32_t *days, size_t count, int32_t day)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (days[middle] < day)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && days[low] == day;
}

static bool day_off(const struct calendar *calendar, int32_t day)
{
    return calendar_has_day(calendar->days_off, calendar->days_off_count, day) ||
           calendar_has_day(calendar->town_off, calendar->town_off_count, day);
}

bool calendar_works(const struct calendar *calendar, int32_t day)
{
    return (calendar->work_days >> civil_weekday(day) & 1U) != 0 &&
           calendar->hours.from_min < calendar->hours.until_min && !day_off(calendar, day);
}

/* Lunch inside the hours; from == until when there is none. */
static struct window lunch_inside(const struct calendar *calendar)
{
    struct window lunch = calendar->lunch;
    if (lunch.from_min < calendar->hours.from_min) lunch.from_min = calendar->hours.from_min;
    if (lunch.until_min > calendar->hours.until_min) lunch.until_min = calendar->hours.until_min;
    if (lunch.from_min >= lunch.until_min)
        lunch.from_min = lunch.until_min = calendar->hours.until_min;
    return lunch;
}

/* The stretches of a working day; an empty one has from_s >= until_s. */
static void day_stretches(const struct calendar *calendar, int32_t day, struct stretch out[2])
{
    const struct window lunch = lunch_inside(calendar);
    out[0].from_s = civil_instant_s(calendar->zone, day, calendar->hours.from_min * MINUTE_S);
    out[0].until_s = civil_instant_s(calendar->zone, day, lunch.from_min * MINUTE_S);
    if (lunch.from_min == lunch.until_min) {
        out[1] = (struct stretch){out[0].until_s, out[0].until_s};
        return;
    }
    out[1].from_s = civil_instant_s(calendar->zone, day, lunch.until_min * MINUTE_S);
    out[1].until_s = civil_instant_s(calendar->zone, day, calendar->hours.until_min * MINUTE_S);
}

static int64_t left_s(const struct stretch stretches[2], int64_t at_s)
{
    int64_t total_s = 0;
    for (int i = 0; i < 2; i++) {
        int64_t from_s = stretches[i].from_s > at_s ? stretches[i].from_s : at_s;
        if (stretches[i].until_s > from_s) total_s += stretches[i].until_s - from_s;
    }
    return total_s;
}

double calendar_day_h(const struct calendar *calendar)
{
    const struct window lunch = lunch_inside(calendar);
    int minutes = calendar->hours.until_min - calendar->hours.from_min;
    minutes -= lunch.until_min - lunch.from_min;
    return minutes > 0 ? (double)minutes * MINUTE_S / HOUR_S : 0;
}

int64_t calendar_open_s(const struct calendar *calendar, int32_t day)
{
    return civil_instant_s(calendar->zone, day, calendar->hours.from_min * MINUTE_S);
}

int32_t calendar_next_day(const struct calendar *calendar, int32_t day)
{
    for (int32_t i = 0; i < CALENDAR_DAYS_MAX; i++)
        if (calendar_works(calendar, day + i)) return day + i;
    return DAY_NONE;
}

double calendar_left_h(const struct calendar *calendar, int64_t at_s)
{
    int32_t day = civil_day_of(calendar->zone, at_s);
    if (!calendar_works(calendar, day)) return 0;
    struct stretch stretches[2];
    day_stretches(calendar, day, stretches);
    return (double)left_s(stretches, at_s) / HOUR_S;
}

int64_t calendar_start_s(const struct calendar *calendar, int64_t at_s, double left_h)
{
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S) return INSTANT_NONE;
    int32_t day = civil_day_of(calendar->zone, at_s);
    struct stretch stretches[2];
    if (calendar_works(calendar, day)) {
        day_stretches(calendar, day, stretches);
        if (at_s <= stretches[0].from_s) return stretches[0].from_s;
        int64_t rest_s = left_s(stretches, at_s);
        if (rest_s > 0 && (double)rest_s >= left_h * HOUR_S - 0.5) {
            bool lunch = at_s >= stretches[0].until_s && at_s < stretches[1].from_s;
            return lunch ? stretches[1].from_s : at_s;
        }
    }
    day = calendar_next_day(calendar, day + 1);
    return day == DAY_NONE ? INSTANT_NONE : calendar_open_s(calendar, day);
}

int64_t calendar_finish_s(const struct calendar *calendar, int64_t start_s, double hours)
{
    int64_t rest_s = llround(hours * HOUR_S);
    if (rest_s <= 0) return start_s;
    int32_t day = civil_day_of(calendar->zone, start_s);
    int32_t last_day = day + CALENDAR_DAYS_MAX;
    for (day = calendar_next_day(calendar, day); day != DAY_NONE && day < last_day;
         day = calendar_next_day(calendar, day + 1)) {
        struct stretch stretches[2];
        day_stretches(calendar, day, stretches);
        for (int i = 0; i < 2; i++) {
            int64_t from_s = stretches[i].from_s > start_s ? stretches[i].from_s : start_s;
            int64_t length_s = stretches[i].until_s - from_s;
            if (length_s <= 0) continue;
            if (rest_s <= length_s) return from_s + rest_s;
            rest_s -= length_s;
        }
    }
    return INSTANT_NONE;
}
