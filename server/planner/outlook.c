/* SPDX-License-Identifier: MIT */
/*
 * Why: see outlook.h. Quantiles are nearest-rank, so each is a date that some past year would
 * really have given. A year in which the count is never full ranks last and has no date.
 */
#include "planner/outlook.h"

#include <math.h>

#include "planner/fire.h"

static int32_t date_in_year(const struct clocks *now, const struct past_tail *tail)
{
    const struct facts *facts = now->facts;
    struct clocks clocks = {.facts = facts};
    struct job_plan plan = {.job = facts->job};
    clocks.plans = ARENA_TAKE(facts->arena, CLOCK_COUNT, struct clock_plan);
    history_weather_year(&clocks.weather, &now->weather, tail);
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
    struct past_cache cache = {.arena = facts->arena};
    const struct past *past = past_of(&cache, station, 0, clocks->weather.ahead_s);
    if (past == NULL || past->year_count == 0 ||
        (double)past->year_count < rulebook_setting(facts->rulebook, SETTING_OUTLOOK_YEARS))
        return;
    int32_t days[PAST_YEARS_MAX] = {0};
    for (size_t i = 0; i < past->year_count; i++) {
        struct arena_mark mark = arena_mark(facts->arena);
        struct past_tail tail;
        past_tail_of(&tail, past, i, facts->job->site_offset_degc);
        int32_t day = date_in_year(clocks, &tail);
        arena_rewind(facts->arena, mark);
        size_t k = i;
        for (; k > 0 && days[k - 1] > day; k--) days[k] = days[k - 1];
        days[k] = day;
    }
    fire->p10_day = nearest_rank(days, past->year_count, 0.1);
    fire->p50_day = nearest_rank(days, past->year_count, 0.5);
    fire->p90_day = nearest_rank(days, past->year_count, 0.9);
    fire->likely_day = fire->p50_day;
    fire_promise(fire, facts, true);
}
