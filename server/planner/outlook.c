/* SPDX-License-Identifier: MIT */
/*
 * Why: see outlook.h. Nearest rank and nothing finer: with some thirty years a quantile between two
 * of them would be a date that no year gave. What the three are worth is measured, not assumed:
 * tests/bench/calibrate.c replays history and counts.
 *
 * What the counting showed, and what the ranking of the latest years does about it:
 * - Nearest rank describes the years that were. A year to come that is like n others falls at or
 *   before the r-th of them with a chance of r/(n + 1), so the p90 of 30 years (the 27th) holds for
 *   0.87 of the years to come, of 20 years for 0.86, of 10 for 0.82; of 19 or 29 for just 0.90.
 *   The latest years are ranked for the year to come: p90 is the ceil(0.9 (n + 1))-th, p10 the
 *   floor(0.1 (n + 1))-th, p50 the middle one (of two, the earlier).
 * - Climates move. Where years grow warmer, an outlook over forty of them is late by twenty years
 * of that: more than half of the dates come true too early. The latest 19 lag by ten.
 * - Fewer than 19 would lag less, but then p10 and p90 hang on the very first and last of them.
 * Refused: more years by shifting each a few days (neighbouring starts share their weather, so the
 * shifted years add no knowledge of the tails), and taking a trend out of the temperatures (rain
 * has its own; the slope of thirty years is known to about its own size).
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
    if (count == 0) return INSTANT_NONE;
    size_t rank = (size_t)ceil(fraction * (double)count - RANK_SLACK);
    return sorted[rank < 1 ? 0 : rank - 1];
}

/* The r-th of n years is the chance of r/(n + 1) that the next one comes no later. */
static void rank_recent(struct outlook_range *out, const int64_t *values, size_t count)
{
    int64_t sorted[PAST_YEARS_MAX];
    if (count == 0) return; /* no year, no range */
    const double ranks = (double)count + 1;
    for (size_t i = 0; i < count; i++) sorted[i] = values[i];
    sort(sorted, count);
    const size_t first = (size_t)floor(0.1 * ranks + RANK_SLACK);
    const size_t last = (size_t)ceil(0.9 * ranks - RANK_SLACK);
    out->recent_p10_s = sorted[first < 1 ? 0 : first - 1];
    out->recent_p50_s = sorted[(count + 1) / 2 - 1];
    out->recent_p90_s = sorted[(last > count ? count : last) - 1];
}

void outlook_rank(struct outlook_range *out, int64_t *values, size_t count, size_t recent)
{
    rank_recent(out, values + (count - recent), recent);
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
    outlook->count = outlook->recent = past->year_count;
    const double recent = rulebook_setting(facts->rulebook, SETTING_OUTLOOK_RECENT_YEARS);
    if ((double)outlook->recent > recent && recent >= 1) outlook->recent = (size_t)recent;
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
    outlook_rank(out, values, outlook->count, outlook->recent);
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
    struct outlook_range range = OUTLOOK_NONE;
    for (size_t i = 0; i < outlook->count; i++) values[i] = outlook_fire_s(outlook, i);
    outlook_rank(&range, values, outlook->count, outlook->recent);
    fire->p10_day = day_of_instant(facts, range.p10_s);
    fire->p50_day = day_of_instant(facts, range.p50_s);
    fire->p90_day = day_of_instant(facts, range.p90_s);
    fire->recent_p10_day = day_of_instant(facts, range.recent_p10_s);
    fire->recent_p50_day = day_of_instant(facts, range.recent_p50_s);
    fire->recent_p90_day = day_of_instant(facts, range.recent_p90_s);
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
