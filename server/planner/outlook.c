/* SPDX-License-Identifier: MIT */
/*
 * Why: see outlook.h. Quantiles are nearest-rank, so each is a date that some past year would
 * really have given. A year in which the count is never full ranks last and has no date.
 */
#include "planner/outlook.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/fire.h"

enum { HOUR_S = 3600, DAY_S = 86400, YEAR_DAYS = 365, YEARS_MAX = 200 };

/* One past year as a series of its own; a long record gives several. */
struct years {
    struct series items[YEARS_MAX];
    size_t count;
};

static struct series from_hour(const struct series *all, size_t first)
{
    struct series part = *all;
    part.start_s += (int64_t)first * HOUR_S;
    part.count -= first;
    if (part.temp_degc != NULL) part.temp_degc += first;
    if (part.rain_mm != NULL) part.rain_mm += first;
    return part;
}

/* A record of many years is taken apart at the anniversaries of its start. */
static void add_years(struct years *years, const struct series *all)
{
    int year, month, day;
    civil_date((int32_t)(all->start_s / DAY_S), &year, &month, &day);
    if (month == 2 && day == 29) day = 28;
    for (int n = 0; years->count < YEARS_MAX; n++) {
        int64_t begin_s =
            n == 0 ? all->start_s
                   : (int64_t)civil_day(year + n, month, day) * DAY_S + all->start_s % DAY_S;
        int64_t gone_h = (begin_s - all->start_s) / HOUR_S;
        if (gone_h >= (int64_t)all->count) return;
        struct series part = from_hour(all, (size_t)gone_h);
        if (n > 0 && part.count < (size_t)YEAR_DAYS * 12)
            return; /* the tail of a record, no year */
        if (part.count > (size_t)YEAR_DAYS * 24 + 24) part.count = (size_t)YEAR_DAYS * 24 + 24;
        years->items[years->count++] = part;
    }
}

static int32_t date_in_year(const struct clocks *now, const struct series *year)
{
    const struct facts *facts = now->facts;
    struct clocks clocks = {.facts = facts};
    int64_t from_s = now->weather.count > 0 ? now->weather.start_s : facts->now_s;
    struct job_plan plan = {.job = facts->job};
    clocks.plans = ARENA_TAKE(facts->arena, CLOCK_COUNT, struct clock_plan);
    /* A past year has a year to give: cut shorter, a winter would be followed by days that all
     * count. */
    int64_t ahead_s =
        now->weather.forecast_end_s > facts->now_s ? now->weather.forecast_end_s : facts->now_s;
    history_weather(&clocks.weather, facts, from_s, year, ahead_s + (int64_t)YEAR_DAYS * DAY_S);
    clock_days_all(&clocks, &plan);
    plan.clocks = clocks.plans;
    plan.clock_count = clocks.count;
    fire_plan_find(&plan, facts);
    return plan.fire.cure_complete_day == DAY_NONE ? INT32_MAX : plan.fire.cure_complete_day;
}

static int32_t nearest_rank(const int32_t *sorted, size_t count, double fraction)
{
    size_t rank = (size_t)ceil(fraction * (double)count - 1e-9);
    int32_t day = sorted[rank < 1 ? 0 : rank - 1];
    return day == INT32_MAX ? DAY_NONE : day;
}

void outlook_find(struct job_plan *out, const struct clocks *clocks)
{
    const struct facts *facts = clocks->facts;
    const struct station *station = facts->job->station;
    struct fire_plan *fire = &out->fire;
    if (fire->cure_complete_day == DAY_NONE || station == NULL) return;
    struct years years = {.count = 0};
    for (size_t i = 0; i < station->history_count; i++)
        if (station->history[i].count > 0) add_years(&years, &station->history[i]);
    if (years.count == 0 ||
        (double)years.count < rulebook_setting(facts->rulebook, SETTING_OUTLOOK_YEARS))
        return;
    int32_t days[YEARS_MAX] = {0};
    for (size_t i = 0; i < years.count; i++) {
        struct arena_mark mark = arena_mark(facts->arena);
        int32_t day = date_in_year(clocks, &years.items[i]);
        arena_rewind(facts->arena, mark);
        size_t k = i;
        for (; k > 0 && days[k - 1] > day; k--) days[k] = days[k - 1];
        days[k] = day;
    }
    fire->p10_day = nearest_rank(days, years.count, 0.1);
    fire->p50_day = nearest_rank(days, years.count, 0.5);
    fire->p90_day = nearest_rank(days, years.count, 0.9);
    fire->likely_day = fire->p50_day;
    fire_promise(fire, facts, true);
}
