/* SPDX-License-Identifier: MIT */
/*
 * Why: the fire date is the civil day that begins when the last counted-day clock is full. Anything
 * that stops a unit clock, an unexplained fire or an unfinished facing takes the date away; it is
 * never replaced by a guess.
 */
#include "planner/fire.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/fire_gate.h"

static bool counts_days(const struct facts *facts, const struct clock_plan *clock)
{
    return facts->rulebook->clocks[clock->clock].kind == CLOCK_KIND_DAYS;
}

/* A reported fire that nobody has looked at since, whatever clock runs. */
static bool lit_unlooked(const struct facts *facts)
{
    const struct record *lit = facts_latest(facts, RECORD_LIT, TASK_NONE);
    if (lit == NULL) return false;
    for (size_t i = facts->count; i-- > 0 && facts->records[i]->at_s > lit->at_s;) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_LOOKED && r->part == PART_UNIT) return false;
    }
    return true;
}

static bool facing_unfinished(const struct facts *facts)
{
    if (facts->job->options.facing != FACING_MORTARED) return false;
    for (size_t i = 0; i < facts->count; i++)
        if (facts->records[i]->kind == RECORD_FACING && facts->records[i]->last) return false;
    return true;
}

static void block(struct fire_plan *fire, const struct clock_plan *clock)
{
    if (clock->state == CLOCK_STATE_CHECK_IT)
        fire->blocked_by |= FIRE_BLOCK_CHECK_IT;
    else if (clock->state == CLOCK_STATE_ENDED)
        fire->blocked_by |= FIRE_BLOCK_ENDED;
    else if (clock->crossing_s == INSTANT_NONE)
        fire->blocked_by |= FIRE_BLOCK_NO_READING;
}

/* Days counted in the days just past; what is left at that rate. */
static int32_t at_recent_rate(const struct facts *facts, const struct clock_plan *clock)
{
    const int32_t window = (int32_t)rulebook_setting(facts->rulebook, SETTING_RECENT_RATE_DAYS);
    const int32_t today = civil_day_of(facts->job->zone, facts->now_s);
    if (clock->have >= clock->need) return DAY_NONE;
    double earned = 0;
    int32_t seen = 0;
    for (size_t i = 0; i < clock->day_count; i++) {
        if (clock->days[i].day >= today || clock->days[i].day < today - window) continue;
        earned += clock->days[i].credit;
        seen++;
    }
    if (seen == 0 || earned <= 0) return DAY_NONE;
    return today + (int32_t)ceil((clock->need - clock->have) / (earned / seen) - 1e-9);
}

void fire_promise(struct fire_plan *fire, const struct facts *facts, bool ranked)
{
    const enum place place = facts->job->options.place;
    fire->promise_day = DAY_NONE;
    if (ranked ? fire->p90_day == DAY_NONE : place == PLACE_EXPOSED) return;
    enum setting margin =
        place == PLACE_INDOOR ? SETTING_PROMISE_INDOOR_DAYS : SETTING_PROMISE_COVERED_DAYS;
    fire->promise_day =
        fire->earliest_day + (int32_t)ceil(rulebook_setting(facts->rulebook, margin));
    if (ranked && fire->p90_day > fire->promise_day) fire->promise_day = fire->p90_day;
}

/* A burn ban over the date given takes it away, as soon as it is known. */
static bool is_free_of_ban(const struct facts *facts, int32_t day)
{
    const int64_t day_s = civil_day_start_s(facts->job->zone, day);
    return fire_gate_after_ban_s(facts, day_s) == day_s;
}

static void agreed(struct fire_plan *fire, const struct facts *facts)
{
    const struct record *agreement = facts_latest(facts, RECORD_AGREED, TASK_NONE);
    if (agreement == NULL) return;
    fire->agreed_day = agreement->day;
    for (size_t i = facts->count; i-- > 0 && facts->records[i]->at_s >= agreement->at_s;)
        if (facts->records[i]->kind == RECORD_NOTE && facts->records[i]->told) fire->told = true;
    fire->agreed_holds = fire->blocked_by == 0 && fire->cure_complete_day != DAY_NONE &&
                         fire->cure_complete_day <= agreement->day &&
                         is_free_of_ban(facts, agreement->day);
}

void fire_plan_find(struct job_plan *out, const struct facts *facts)
{
    struct fire_plan *fire = &out->fire;
    *fire = (struct fire_plan){.cure_complete_day = DAY_NONE,
                               .earliest_day = DAY_NONE,
                               .likely_day = DAY_NONE,
                               .p10_day = DAY_NONE,
                               .p50_day = DAY_NONE,
                               .p90_day = DAY_NONE,
                               .recent_p10_day = DAY_NONE,
                               .recent_p50_day = DAY_NONE,
                               .recent_p90_day = DAY_NONE,
                               .promise_day = DAY_NONE,
                               .at_recent_rate_day = DAY_NONE,
                               .driven_by = CLOCK_NONE,
                               .agreed_day = DAY_NONE,
                               .projected_day = DAY_NONE,
                               .next_size = 1,
                               .last_fire_s = INSTANT_NONE,
                               .rest_until_s = INSTANT_NONE,
                               .too_big_s = INSTANT_NONE,
                               .cold_degc = NAN,
                               .wanted_day = DAY_NONE};
    const struct clock_plan *latest = NULL;
    bool lined = false;
    for (size_t i = 0; i < out->clock_count; i++) {
        const struct clock_plan *clock = &out->clocks[i];
        if (!counts_days(facts, clock)) continue;
        lined = lined || clock->clock == CLOCK_UNIT_DRY_CURE;
        block(fire, clock);
        if (latest == NULL || clock->crossing_s > latest->crossing_s) latest = clock;
    }
    if (!lined) fire->blocked_by |= FIRE_BLOCK_NOT_LINED;
    if (lit_unlooked(facts)) fire->blocked_by |= FIRE_BLOCK_LIT;
    if (facing_unfinished(facts)) fire->blocked_by |= FIRE_BLOCK_FACING;
    if (latest != NULL) fire->driven_by = latest->clock;
    if (fire->blocked_by == 0) {
        fire->cure_complete_day = civil_day_of(facts->job->zone, latest->crossing_s);
        fire->earliest_day = fire->cure_complete_day;
        fire->at_recent_rate_day = at_recent_rate(facts, latest);
        fire_promise(fire, facts, false);
    }
    agreed(fire, facts);
}
