/* SPDX-License-Identifier: MIT */
/*
 * Why: see clock_year.h. The arithmetic is that of the clocks themselves (clock_sum, day): only
 * where it begins and which hours lie ahead are different here.
 */
#include "planner/clock_year.h"

#include <math.h>

#include "base/limits.h"
#include "compute/civil.h"

enum { HOUR_S = 3600 };

static const struct facts *facts_of(const struct clock_year *year)
{
    return year->clocks->facts;
}

static const struct history *history_of(struct clock_year *year, enum part part)
{
    if (!year->built[part]) {
        history_year(&year->histories[part], clock_history(year->clocks, part), &year->weather);
        year->built[part] = true;
    }
    return &year->histories[part];
}

/* --- making ready ----------------------------------------------------------------------------- */

/* Days of each counted-day clock that are over before the first day a year can touch. */
static bool count_known(struct clock_year *year)
{
    struct clocks *clocks = year->clocks;
    year->counted = ARENA_TAKE(clocks->facts->arena, clocks->redo_count, double);
    if (year->counted == NULL) return false;
    for (size_t i = 0; i < clocks->redo_count; i++) {
        const struct clock_redo *redo = &clocks->redos[i];
        if (redo->fixed || redo->sum != NULL) continue;
        for (int32_t day = day_of(clocks->days, redo->start_s) + 1; day < year->ahead_day; day++)
            year->counted[i] += day_get(clocks->days, day)->credit;
    }
    return true;
}

/* From when on, and from which sums, the unit's days may be looked up. */
static void find_day_sums(struct clock_year *year, struct past_cache *cache)
{
    const struct history *history = clock_history(year->clocks, PART_UNIT);
    const struct history_span *last = &history->spans[history->count - 1];
    const int32_t untouched = day_untouched(&year->days);
    if (!cache->keeps_sums || untouched == DAY_NONE) return;
    if (!history_is_station_from(history, INT64_MAX)) return;
    year->sums = day_past(cache, year->past, &year->days, day_rain_ahead(&year->days));
    enum past_rain ahead = day_rain_ahead(&year->days);
    if (ahead == PAST_RAIN_OPEN) ahead = PAST_RAIN_CAPPED;
    year->ahead = day_past(cache, year->past, &year->days, ahead);
    if (year->sums == NULL) return;
    year->sums_day = year->sums->first_day > untouched ? year->sums->first_day : untouched;
    if (last->from_s != INT64_MIN && day_of(&year->days, last->from_s) >= year->sums_day)
        year->sums_day = day_of(&year->days, last->from_s) + 1;
}

static void find_sums(struct clock_year *year, struct past_cache *cache)
{
    struct clocks *clocks = year->clocks;
    const double offset_degc = facts_of(year)->job->site_offset_degc;
    for (size_t i = 0; i < clocks->redo_count; i++) {
        const struct clock_redo *redo = &clocks->redos[i];
        if (redo->fixed || redo->sum == NULL || redo->sum->earning.sums != NULL) continue;
        const struct maturity_law law = sum_law(&redo->sum->earning);
        redo->sum->earning.sums = past_sums_of(cache, year->past, &law, offset_degc);
    }
    for (int c = 0; c < CLOCK_COUNT; c++) {
        if (facts_of(year)->rulebook->clocks[c].kind == CLOCK_KIND_DAYS) continue;
        struct earning *earning = &year->earnings[c];
        *earning = clock_set_earning(facts_of(year), (enum clock_id)c);
        const struct maturity_law law = sum_law(earning);
        earning->sums = past_sums_of(cache, year->past, &law, offset_degc);
    }
}

bool clock_year_begin(struct clock_year *out, struct clocks *clocks, struct past_cache *cache,
                      struct past *past)
{
    *out = (struct clock_year){.clocks = clocks, .past = past, .sums_day = INT32_MAX};
    out->ahead_day = civil_day_of(clocks->facts->job->zone, clocks->weather.ahead_s);
    const int32_t today = civil_day_of(clocks->facts->job->zone, clocks->facts->now_s);
    clock_year_take(out, 0);
    if (!day_from(&out->days, clocks, history_of(out, PART_UNIT), today)) return false;
    find_day_sums(out, cache);
    find_sums(out, cache);
    return count_known(out);
}

void clock_year_take(struct clock_year *year, size_t index)
{
    past_tail_of(&year->tail, year->past, index, facts_of(year)->job->site_offset_degc);
    history_weather_year(&year->weather, &year->clocks->weather, &year->tail);
    for (int p = 0; p < PART_COUNT; p++) year->built[p] = false;
}

/* --- counted days ----------------------------------------------------------------------------- */

/* A stretch of days looked up; the day on which the count is full, DAY_NONE: not in it. */
static int32_t full_in_sums(const struct past_days *sums, size_t index, int32_t day, double count,
                            double need)
{
    const double *sum = sums->years[index];
    const size_t first = (size_t)(day - sums->first_day);
    const double goal = sum[first] + need - count - DAY_SLACK;
    size_t low = first, high = sums->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (sum[middle + 1] >= goal)
            high = middle;
        else
            low = middle + 1;
    }
    return low < sums->count ? sums->first_day + (int32_t)low : DAY_NONE;
}

/* The day on which `need` is reached, counting from a day on; DAY_NONE: never in that year. */
static int32_t full_day(struct clock_year *year, const struct past_days *sums, int32_t sums_day,
                        int32_t day, double count, double need)
{
    const int32_t today = day_of(&year->days, facts_of(year)->now_s);
    if (count + DAY_SLACK >= need) return day - 1;
    if (sums != NULL && sums->years[year->tail.index] == NULL) sums = NULL;
    for (int n = 0; n < COUNTED_DAYS_MAX; n++, day++) {
        if (sums != NULL && day >= sums_day && day < sums->first_day + (int32_t)sums->count) {
            int32_t full = full_in_sums(sums, year->tail.index, day, count, need);
            if (full != DAY_NONE) return full;
            sums = NULL; /* not within the year: the days are walked to its end */
        }
        const struct counted_day *judged = day_get(&year->days, day);
        count += judged->credit;
        if (count + DAY_SLACK >= need) return day;
        if (day > year->days.settled_day && day >= today && judged->credit <= 0) break;
    }
    return DAY_NONE;
}

static int64_t cross_days(struct clock_year *year, size_t index)
{
    const struct clock_redo *redo = &year->clocks->redos[index];
    int32_t day = day_of(&year->days, redo->start_s) + 1;
    if (day < year->ahead_day) day = year->ahead_day;
    if (year->days.first_day != day) day_again(&year->days, history_of(year, PART_UNIT), day);
    int32_t full =
        full_day(year, year->sums, year->sums_day, day, year->counted[index], redo->need);
    return full == DAY_NONE ? INSTANT_NONE : day_not_before_s(&year->days, full + 1, redo->floor_s);
}

/* --- warm hours ------------------------------------------------------------------------------- */

static int64_t not_before(int64_t at_s, int64_t floor_s)
{
    return at_s == INSTANT_NONE || at_s > floor_s ? at_s : floor_s;
}

/* The goals of a sum under the year taken. Several clocks in a row go by the same sum. */
static int64_t cross_warm(struct clock_year *year, const struct clock_redo *redo,
                          const struct set_sum **done, struct sum *sum)
{
    if (*done != redo->sum) {
        *sum = redo->sum->sum;
        sum_integrate_year(sum, history_of(year, redo->sum->part), &redo->sum->running,
                           &redo->sum->earning);
        *done = redo->sum;
    }
    int64_t at_s = not_before(sum->goals[redo->goal].crossing_s, redo->floor_s);
    return redo->other == CLOCK_NONE ? at_s : clock_sooner_s(at_s, year->crossings[redo->other]);
}

void clock_year_cross(struct clock_year *year)
{
    const struct clocks *clocks = year->clocks;
    const struct set_sum *done = NULL;
    struct sum sum;
    bool seen[CLOCK_COUNT] = {false};
    for (int c = 0; c < CLOCK_COUNT; c++) year->crossings[c] = INSTANT_NONE;
    year->days.first_day = INT32_MIN; /* of another year */
    for (size_t i = 0; i < clocks->redo_count; i++) {
        const struct clock_redo *redo = &clocks->redos[i];
        int64_t at_s = redo->crossing_s;
        if (!redo->fixed) {
            at_s = redo->sum != NULL ? cross_warm(year, redo, &done, &sum) : cross_days(year, i);
            at_s = clock_sooner_s(at_s, redo->accepted_s);
        }
        int64_t *crossing_s = &year->crossings[redo->clock];
        if (!seen[redo->clock])
            *crossing_s = at_s;
        else if (*crossing_s != INSTANT_NONE && (at_s == INSTANT_NONE || at_s > *crossing_s))
            *crossing_s = at_s; /* of several patches the one that ends latest, or never */
        seen[redo->clock] = true;
    }
}

/* --- clocks to come --------------------------------------------------------------------------- */

static int64_t ahead_days(struct clock_year *year, enum clock_id clock, int64_t start_s)
{
    struct unit_days *days = &year->days;
    struct clock_terms terms;
    clock_terms_find(&terms, facts_of(year), clock);
    const int32_t first = day_of(days, start_s) + 1;
    const int64_t floor_s =
        start_s + (isnan(terms.floor_h.value) ? 0 : llround(terms.floor_h.value * HOUR_S));
    if (facts_of(year)->job->options.place == PLACE_INDOOR)
        return day_not_before_s(days, first + (int32_t)ceil(terms.need.value), floor_s);
    const int64_t cap_set_s = days->cap_set_s;
    day_again(days, history_of(year, PART_UNIT), first);
    if (cap_set_s == INSTANT_NONE) days->cap_set_s = start_s;
    int32_t sums_day = first + days->rain_back; /* before it, rain into an open flue */
    if (sums_day < year->sums_day) sums_day = year->sums_day;
    int32_t full = full_day(year, year->ahead, sums_day, first, 0, terms.need.value);
    days->cap_set_s = cap_set_s;
    return full == DAY_NONE ? INSTANT_NONE : day_not_before_s(days, full + 1, floor_s);
}

static int64_t ahead_warm(struct clock_year *year, enum clock_id clock, int64_t start_s)
{
    const struct clock_rule *rule = &facts_of(year)->rulebook->clocks[clock];
    struct clock_terms terms;
    clock_terms_find(&terms, facts_of(year), clock);
    const int64_t floor_s =
        start_s + (isnan(terms.floor_h.value) ? 0 : llround(terms.floor_h.value * HOUR_S));
    struct earning earning = year->earnings[clock];
    if (facts_of(year)->job->options.place == PLACE_INDOOR) {
        const double cap =
            earning.kind == CLOCK_KIND_MOIST || !(earning.law.cap > 0) ? 1 : earning.law.cap;
        const double need = isnan(terms.need.value) ? 0 : terms.need.value / cap;
        return not_before(start_s + llround(need * HOUR_S), floor_s);
    }
    int64_t wet[1][2] = {{start_s, INT64_MAX}}, spans[1][2] = {{start_s, INT64_MAX}};
    earning.wet = wet;
    earning.wet_count = 1;
    const struct running running = {.spans = spans, .count = 1, .stopped_s = INSTANT_NONE};
    struct sum sum = {0};
    sum_goal(&sum, terms.need.value);
    sum_integrate(&sum, history_of(year, rule->part), &running, &earning, start_s);
    return not_before(sum.goals[0].crossing_s, floor_s);
}

int64_t clock_year_ahead_s(struct clock_year *year, enum clock_id clock, int64_t start_s)
{
    const struct clock_rule *rule = &facts_of(year)->rulebook->clocks[clock];
    if (rule->kind == CLOCK_KIND_DAYS) return ahead_days(year, clock, start_s);
    int64_t at_s = ahead_warm(year, clock, start_s);
    if (rule->kind != CLOCK_KIND_EITHER || rule->other == CLOCK_NONE) return at_s;
    return clock_sooner_s(at_s, ahead_warm(year, rule->other, start_s));
}
