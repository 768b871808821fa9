/* SPDX-License-Identifier: MIT */
/*
 * Why: see outlook.h. Nearest rank and nothing finer: with some thirty years a quantile between two
 * of them would be a date that no year gave. What the three are worth is measured, not assumed:
 * tests/bench/calibrate.c replays history and counts.
 */
#include "planner/outlook.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/fire.h"

#define RANK_SLACK 1e-9 /* of 0.9 times 10 years the rank is 9, whatever the last bit says */

/* Shell's sort: some thirty values, and no memory of its own. Never ranks last. */
static void sort(int64_t *values, size_t count)
{
    for (size_t gap = count / 2; gap > 0; gap /= 2) {
        for (size_t i = gap; i < count; i++) {
            int64_t value = values[i];
            size_t k = i;
            for (; k >= gap && (uint64_t)values[k - gap] > (uint64_t)value; k -= gap)
                values[k] = values[k - gap];
            values[k] = value;
        }
    }
}

static int64_t nearest_rank(const int64_t *sorted, size_t count, double fraction)
{
    size_t rank = (size_t)ceil(fraction * (double)count - RANK_SLACK);
    return sorted[rank < 1 ? 0 : rank - 1];
}

void outlook_rank(struct outlook_range *out, int64_t *values, size_t count)
{
    sort(values, count);
    out->p10_s = nearest_rank(values, count, 0.1);
    out->p50_s = nearest_rank(values, count, 0.5);
    out->p90_s = nearest_rank(values, count, 0.9);
}

static bool begin(struct outlook *outlook, struct clocks *clocks, struct past_cache *cache)
{
    const struct facts *facts = clocks->facts;
    const struct station *station = facts->job->station;
    if (station == NULL || station->history_count == 0) return false;
    struct past *past = past_of(cache, station, cache->version, clocks->weather.ahead_s);
    if (past == NULL || past->year_count == 0) return false;
    if ((double)past->year_count < rulebook_setting(facts->rulebook, SETTING_OUTLOOK_YEARS))
        return false;
    outlook->crossings = arena_take(facts->arena, past->year_count, sizeof *outlook->crossings);
    if (outlook->crossings == NULL) return false;
    if (!clock_year_begin(&outlook->year, clocks, cache, past)) return false;
    outlook->count = past->year_count;
    for (size_t i = 0; i < outlook->count; i++) {
        clock_year_take(&outlook->year, i);
        clock_year_cross(&outlook->year);
        for (int c = 0; c < CLOCK_COUNT; c++) outlook->crossings[i][c] = outlook->year.crossings[c];
    }
    return true;
}

static void rank_clock(struct outlook_range *out, const struct outlook *outlook,
                       enum clock_id clock)
{
    int64_t values[PAST_YEARS_MAX];
    for (size_t i = 0; i < outlook->count; i++) values[i] = outlook->crossings[i][clock];
    outlook_rank(out, values, outlook->count);
}

int64_t outlook_fire_s(const struct outlook *outlook, size_t year)
{
    const struct clocks *clocks = outlook->year.clocks;
    int64_t latest_s = INSTANT_NONE;
    for (size_t i = 0; i < clocks->redo_count; i++) {
        const struct clock_redo *redo = &clocks->redos[i];
        if (redo->sum != NULL ||
            clocks->facts->rulebook->clocks[redo->clock].kind != CLOCK_KIND_DAYS)
            continue;
        const int64_t at_s = outlook->crossings[year][redo->clock];
        if (at_s == INSTANT_NONE) return INSTANT_NONE;
        if (at_s > latest_s) latest_s = at_s;
    }
    return latest_s;
}

static int32_t day_of_instant(const struct facts *facts, int64_t at_s)
{
    return at_s == INSTANT_NONE ? DAY_NONE : civil_day_of(facts->job->zone, at_s);
}

static void rank_fire(struct fire_plan *fire, const struct outlook *outlook)
{
    const struct facts *facts = outlook->year.clocks->facts;
    int64_t values[PAST_YEARS_MAX];
    struct outlook_range range;
    for (size_t i = 0; i < outlook->count; i++) values[i] = outlook_fire_s(outlook, i);
    outlook_rank(&range, values, outlook->count);
    fire->p10_day = day_of_instant(facts, range.p10_s);
    fire->p50_day = day_of_instant(facts, range.p50_s);
    fire->p90_day = day_of_instant(facts, range.p90_s);
    fire->likely_day = fire->p50_day;
    fire_promise(fire, facts, true);
}

void outlook_find(struct outlook *outlook, struct job_plan *out, struct clock_plan *plans,
                  struct clocks *clocks, struct past_cache *cache)
{
    *outlook = (struct outlook){.count = 0};
    if (!begin(outlook, clocks, cache)) return;
    for (size_t i = 0; i < out->clock_count; i++)
        if (plans[i].state == CLOCK_STATE_RUNNING)
            rank_clock(&plans[i].outlook, outlook, plans[i].clock);
    if (out->fire.cure_complete_day != DAY_NONE) rank_fire(&out->fire, outlook);
}
