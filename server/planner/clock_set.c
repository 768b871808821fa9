/* SPDX-License-Identifier: MIT */
/*
 * Why: clocks of warm hours. Credit is the integral of the rate over the constant pieces of the
 * part's history, inside the times in which the clock was not stopped. The pad's clocks are stopped
 * together by a freeze or a soaking before the first-frost limit and go on from the look.
 */
#include <math.h>

#include "base/limits.h"
#include "planner/bag.h"
#include "planner/clock.h"

enum { HOUR_S = 3600 };
#define FROST_SLACK_DEGC 1e-9

static const struct facts *facts_of(const struct clocks *clocks)
{
    return clocks->facts;
}

/* --- the pad's stops -------------------------------------------------------------------------- */

struct stop {
    int64_t at_s; /* INSTANT_NONE: none up to now */
    bool soaked;
    double credit; /* warm hours when it came, or at now */
};

/* The next soaking of the pad after an instant, up to and including now. */
static int64_t soaked_after(const struct facts *facts, int64_t after_s)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_SOAKED && r->part == PART_PAD && r->at_s > after_s) return r->at_s;
    }
    return INSTANT_NONE;
}

/* The first freeze or soaking from `from_s` on, while the warm hours are below the limit. */
static struct stop first_stop(const struct facts *facts, const struct history *history,
                              const struct maturity_law *law, int64_t from_s, double credit,
                              double limit, bool looked)
{
    struct stop stop = {.at_s = INSTANT_NONE, .credit = credit};
    const double frost_degc = rulebook_setting(facts->rulebook, SETTING_FROST_DEGC);
    int64_t soaked_s = soaked_after(facts, looked ? from_s - 1 : from_s);
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, history, from_s, facts->now_s);
    while (stop.credit < limit - CREDIT_SLACK && history_walk_next(&walk, &piece)) {
        bool soaked = soaked_s != INSTANT_NONE && soaked_s < piece.until_s;
        if (piece.frost_degc < frost_degc - FROST_SLACK_DEGC) {
            stop.at_s = piece.from_s;
            return stop;
        }
        double rate = isnan(piece.temp_degc) ? 0 : maturity_rate(law, piece.temp_degc);
        if (soaked) {
            double at = stop.credit + rate * (double)(soaked_s - piece.from_s) / HOUR_S;
            if (at < limit - CREDIT_SLACK) {
                stop = (struct stop){soaked_s, true, at};
                return stop;
            }
            soaked_s = INSTANT_NONE; /* the limit was passed before it came */
        }
        stop.credit += rate * (double)(piece.until_s - piece.from_s) / HOUR_S;
    }
    if (soaked_s == facts->now_s && stop.credit < limit - CREDIT_SLACK)
        stop = (struct stop){soaked_s, true, stop.credit};
    return stop;
}

static double frost_limit(const struct facts *facts)
{
    double limit = rulebook_setting(facts->rulebook, SETTING_FROST_LIMIT);
    if (facts->job->options.mix == MIX_BLENDED)
        limit *= rulebook_setting(facts->rulebook, SETTING_BLENDED_FACTOR);
    return limit;
}

/* Append [from, until) to the times a clock earns in. */
static void running_add(struct running *running, int64_t from_s, int64_t until_s)
{
    running->spans[running->count][0] = from_s;
    running->spans[running->count][1] = until_s;
    running->count++;
}

static bool running_room(struct running *running, const struct facts *facts)
{
    *running = (struct running){.stopped_s = INSTANT_NONE};
    running->spans = arena_take(facts->arena, facts->count + 2, sizeof *running->spans);
    return running->spans != NULL;
}

static bool pad_running(struct running *running, struct clocks *clocks, int64_t pour_s)
{
    const struct facts *facts = facts_of(clocks);
    if (!running_room(running, facts)) return false;
    const struct history *history = clock_history(clocks, PART_PAD);
    const struct maturity_law *law = &facts->rulebook->clocks[CLOCK_PAD_FIRST_FROST].law;
    const double limit = frost_limit(facts);
    int64_t from_s = pour_s;
    double credit = 0;
    for (;;) {
        struct stop stop = first_stop(facts, history, law, from_s, credit, limit, from_s != pour_s);
        running_add(running, from_s, stop.at_s == INSTANT_NONE ? INT64_MAX : stop.at_s);
        if (stop.at_s == INSTANT_NONE) return true;
        const struct record *look = clock_look_after(facts, PART_PAD, stop.at_s);
        if (look == NULL) {
            running->stopped_s = stop.at_s;
            running->soaked = stop.soaked;
            return true;
        }
        from_s = look->at_s;
        credit = stop.credit;
    }
}

/* --- mortar ----------------------------------------------------------------------------------- */

/* Polymer mortar below its bag minimum in the first 24 h: the film never forms. */
static bool joints_running(struct running *running, struct clocks *clocks, enum part part,
                           int64_t start_s, const struct record *bag)
{
    const struct facts *facts = facts_of(clocks);
    if (!running_room(running, facts)) return false;
    if (bag == NULL || bag->mortar != MORTAR_POLYMER || isnan(bag->bag_min_degc)) {
        running_add(running, start_s, INT64_MAX);
        return true;
    }
    int64_t watch_s =
        start_s + (int64_t)(rulebook_setting(facts->rulebook, SETTING_MORTAR_POLYMER_H) * HOUR_S);
    if (watch_s > facts->now_s) watch_s = facts->now_s;
    const double least_degc = bag_minimum_degc(facts, bag);
    int64_t from_s = start_s;
    for (;;) {
        struct history_walk walk;
        struct piece piece;
        int64_t cold_s = INSTANT_NONE;
        history_walk_begin(&walk, clock_history(clocks, part), from_s, watch_s);
        while (cold_s == INSTANT_NONE && history_walk_next(&walk, &piece)) {
            double lowest = fmin(piece.temp_degc, piece.span->cap_degc); /* fmin passes over NAN */
            if (lowest < least_degc - FROST_SLACK_DEGC) cold_s = piece.from_s;
        }
        running_add(running, from_s, cold_s == INSTANT_NONE ? INT64_MAX : cold_s);
        if (cold_s == INSTANT_NONE) return true;
        const struct record *look = clock_look_after(facts, part, cold_s);
        if (look == NULL) {
            running->stopped_s = cold_s;
            return true;
        }
        from_s = look->at_s;
    }
}

/* --- one clock -------------------------------------------------------------------------------- */

/* Someone took the job over and vouches for it: the floor still has to run. */
static const struct record *acceptance(int64_t *out_s, const struct clock_plan *plan,
                                       const struct facts *facts)
{
    int64_t floor_s = plan->start_s + (int64_t)llround(plan->floor_h * HOUR_S);
    *out_s = INSTANT_NONE;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_ACCEPTED || r->clock != plan->clock || r->at_s < plan->start_s)
            continue;
        *out_s = r->at_s > floor_s ? r->at_s : floor_s;
        return r;
    }
    return NULL;
}

static void accept(struct clock_plan *plan, const struct facts *facts, int64_t *crossing_s)
{
    int64_t at_s;
    const struct record *record = acceptance(&at_s, plan, facts);
    if (record == NULL || (*crossing_s != INSTANT_NONE && *crossing_s <= at_s)) return;
    *crossing_s = at_s;
    plan->accepted = record;
    plan->assumes = ASSUME_ACCEPTED;
}

static int64_t both(const struct clock_plan *plan, int64_t credit_s)
{
    if (credit_s == INSTANT_NONE) return INSTANT_NONE;
    int64_t floor_s = plan->start_s + (int64_t)llround(plan->floor_h * HOUR_S);
    return credit_s > floor_s ? credit_s : floor_s;
}

/* How a clock of warm hours is worked out again; after finish. */
static struct clock_redo *note_redo(struct clocks *clocks, const struct clock_plan *plan,
                                    struct set_sum *sum, size_t goal)
{
    struct clock_redo *redo = clock_redo_new(clocks, plan);
    if (redo == NULL) return NULL;
    redo->sum = sum;
    redo->goal = goal;
    (void)acceptance(&redo->accepted_s, plan, facts_of(clocks));
    return redo;
}

/* `begun_s`: a redo after it ends the clock (for the pad: the pour, whatever the clock's own
 * start). */
static void finish(struct clock_plan *plan, struct clocks *clocks, const struct running *running,
                   const struct sum *sum, int64_t begun_s, int64_t crossing_s, unsigned assumes)
{
    const struct facts *facts = facts_of(clocks);
    plan->have = sum->have;
    plan->assumes = crossing_s != INSTANT_NONE && crossing_s > facts->now_s ? assumes : 0;
    plan->last_reading = clock_history(clocks, plan->part)->last_reading;
    plan->no_reading_since_s = sum->silent_s;
    if (clock_redo_after(facts, plan->part, begun_s) != NULL) {
        plan->state = CLOCK_STATE_ENDED;
        return;
    }
    if (running->stopped_s != INSTANT_NONE) {
        plan->state = CLOCK_STATE_CHECK_IT;
        plan->stopped_s = running->stopped_s;
        plan->stopped_by_soaking = running->soaked;
        return;
    }
    accept(plan, facts, &crossing_s);
    clock_settle(plan, facts, crossing_s);
}

static struct earning earning_of(const struct facts *facts, enum clock_id clock)
{
    const struct clock_rule *rule = &facts->rulebook->clocks[clock];
    return (struct earning){.kind = rule->kind,
                            .law = rule->law,
                            .moist_degc = rulebook_setting(facts->rulebook, SETTING_MOIST_DEGC)};
}

/* A clock whose sum is known: goal number `goal` of it. */
static void plain_clock(struct clocks *clocks, enum clock_id clock, int64_t start_s,
                        struct set_sum *sum, size_t goal)
{
    const enum part part = facts_of(clocks)->rulebook->clocks[clock].part;
    struct clock_plan *plan = clock_new(clocks, clock, part, start_s);
    if (plan == NULL) return;
    const struct goal *reached = &sum->sum.goals[goal];
    finish(plan, clocks, &sum->running, &sum->sum, start_s, both(plan, reached->crossing_s),
           reached->assumes);
    (void)note_redo(clocks, plan, sum, goal);
}

/* --- moist cure ------------------------------------------------------------------------------- */

static bool wet_on(const struct record *r)
{
    return r->kind == RECORD_WET_COVER_ON ||
           ((r->kind == RECORD_DONE || r->kind == RECORD_STARTED) && r->task == TASK_PAD_PROTECT);
}

/* Times the pad was kept wet since the pour; the start is the first of them. */
static bool wet_times(struct earning *earning, const struct facts *facts, int64_t pour_s)
{
    earning->wet = arena_take(facts->arena, facts->count + 1, sizeof *earning->wet);
    if (earning->wet == NULL) return false;
    bool on = false;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->at_s < pour_s || (r->part != PART_NONE && r->part != PART_PAD)) continue;
        if (wet_on(r) && !on) {
            earning->wet[earning->wet_count][0] = r->at_s;
            earning->wet[earning->wet_count++][1] = INT64_MAX;
            on = true;
        } else if (r->kind == RECORD_WET_COVER_OFF && on) {
            earning->wet[earning->wet_count - 1][1] = r->at_s;
            on = false;
        }
    }
    return earning->wet_count > 0;
}

static const struct clock_plan *moist_clock(struct clocks *clocks, const struct running *running,
                                            int64_t pour_s)
{
    const struct facts *facts = facts_of(clocks);
    struct earning earning = earning_of(facts, CLOCK_PAD_MOIST_CURE);
    if (!wet_times(&earning, facts, pour_s)) return NULL;
    struct clock_plan *plan = clock_new(clocks, CLOCK_PAD_MOIST_CURE, PART_PAD, earning.wet[0][0]);
    struct set_sum *moist = ARENA_TAKE(facts->arena, 1, struct set_sum);
    if (plan == NULL || moist == NULL) return NULL;
    *moist = (struct set_sum){.running = *running, .earning = earning, .part = PART_PAD};
    struct sum *sum = &moist->sum;
    sum_goal(sum, plan->need);
    sum_integrate(sum, clock_history(clocks, PART_PAD), running, &earning, plan->start_s);
    finish(plan, clocks, running, sum, pour_s, both(plan, sum->goals[0].crossing_s),
           sum->goals[0].assumes | ASSUME_WET_COVER_STAYS);
    (void)note_redo(clocks, plan, moist, 0);
    return plan;
}

/* Facing may come at the moist cure, or after 14 days and enough warm hours, whichever is first. */
static void facing_ready_clock(struct clocks *clocks, int64_t pour_s, struct set_sum *sum,
                               size_t goal, const struct clock_plan *moist)
{
    struct clock_plan *plan = clock_new(clocks, CLOCK_PAD_FACING_READY, PART_PAD, pour_s);
    if (plan == NULL) return;
    int64_t crossing_s = both(plan, sum->sum.goals[goal].crossing_s);
    unsigned assumes = sum->sum.goals[goal].assumes;
    if (moist != NULL && moist->crossing_s != INSTANT_NONE &&
        (crossing_s == INSTANT_NONE || moist->crossing_s < crossing_s)) {
        crossing_s = moist->crossing_s;
        assumes = moist->assumes;
    }
    finish(plan, clocks, &sum->running, &sum->sum, pour_s, crossing_s, assumes);
    struct clock_redo *redo = note_redo(clocks, plan, sum, goal);
    if (redo != NULL && moist != NULL) redo->other = CLOCK_PAD_MOIST_CURE;
}

static const enum clock_id pad_ids[GOALS_MAX] = {CLOCK_PAD_STRIP, CLOCK_PAD_FIRST_FROST,
                                                 CLOCK_PAD_BUILD_ON, CLOCK_PAD_CHIMNEY_LOAD,
                                                 CLOCK_PAD_FACING_READY};

/* One walk for all pad clocks that go by this clock's law; each is one goal of the sum. */
static struct set_sum *pad_sum(struct clocks *clocks, const struct running *running, int64_t pour_s,
                               enum clock_id clock)
{
    const struct facts *facts = facts_of(clocks);
    struct set_sum *sum = ARENA_TAKE(facts->arena, 1, struct set_sum);
    if (sum == NULL) return NULL;
    *sum = (struct set_sum){
        .running = *running, .earning = earning_of(facts, clock), .part = PART_PAD};
    sum->earning.kind = CLOCK_KIND_SET;
    for (size_t i = 0; i < GOALS_MAX; i++) {
        struct clock_terms terms;
        clock_terms_find(&terms, facts, pad_ids[i]);
        sum_goal(&sum->sum, terms.need.value);
    }
    sum_integrate(&sum->sum, clock_history(clocks, PART_PAD), running, &sum->earning, pour_s);
    return sum;
}

static void pad_clocks(struct clocks *clocks)
{
    const struct facts *facts = facts_of(clocks);
    const struct record *pour = clock_start_record(facts, CLOCK_PAD_BUILD_ON, INSTANT_NONE);
    struct running running;
    if (pour == NULL || !pad_running(&running, clocks, pour->at_s)) return;
    struct set_sum *sum = NULL;
    for (size_t i = 0; i < GOALS_MAX; i++) {
        const struct maturity_law *law = &facts->rulebook->clocks[pad_ids[i]].law;
        if (sum == NULL || !past_same_law(&sum->earning.law, law))
            sum = pad_sum(clocks, &running, pour->at_s, pad_ids[i]);
        if (sum == NULL) return;
        if (pad_ids[i] != CLOCK_PAD_FACING_READY) {
            plain_clock(clocks, pad_ids[i], pour->at_s, sum, i);
            continue;
        }
        const struct clock_plan *moist = moist_clock(clocks, &running, pour->at_s);
        facing_ready_clock(clocks, pour->at_s, sum, i, moist);
    }
}

/* Mortar by its bag: where it stalls, and whether it earns warm hours at all. */
static struct earning mortar_earning(const struct facts *facts, enum clock_id clock,
                                     const struct record *bag)
{
    struct earning earning = earning_of(facts, clock);
    if (facts->rulebook->clocks[clock].mortar)
        earning.law.stall_degc = bag_minimum_degc(facts, bag);
    /* Air-drying mortar goes by counted days only; heat-setting mortar never sets before fire. */
    if (bag != NULL && (bag->mortar == MORTAR_AIR_DRYING || bag->mortar == MORTAR_HEAT_SETTING))
        earning.law.cap = 0;
    return earning;
}

struct earning clock_set_earning(const struct facts *facts, enum clock_id clock)
{
    if (facts->rulebook->clocks[clock].part != PART_PAD) {
        struct earning earning = mortar_earning(facts, clock, bag_in_use(facts, facts->now_s));
        earning.law.cap = facts->rulebook->clocks[clock].law.cap;
        return earning;
    }
    struct earning earning = earning_of(facts, clock);
    if (earning.kind == CLOCK_KIND_EITHER) earning.kind = CLOCK_KIND_SET;
    return earning;
}

bool clock_set_terms(struct running *running, struct earning *earning, struct clocks *clocks,
                     enum clock_id clock, int64_t start_s)
{
    const struct facts *facts = facts_of(clocks);
    const enum part part = facts->rulebook->clocks[clock].part;
    if (part == PART_PAD) {
        *earning = earning_of(facts, clock);
        earning->kind = CLOCK_KIND_SET;
        return pad_running(running, clocks, start_s);
    }
    const struct record *bag = bag_in_use(facts, start_s);
    const struct record *watched = clock == CLOCK_JOINTS_EARLY ? bag : NULL;
    *earning = mortar_earning(facts, clock, bag);
    return joints_running(running, clocks, part, start_s, watched);
}

static void mortar_clock(struct clocks *clocks, enum clock_id clock)
{
    const struct facts *facts = facts_of(clocks);
    const struct record *start = clock_start_record(facts, clock, INSTANT_NONE);
    if (start == NULL) return;
    struct set_sum *sum = ARENA_TAKE(facts->arena, 1, struct set_sum);
    if (sum == NULL) return;
    sum->part = facts->rulebook->clocks[clock].part;
    if (!clock_set_terms(&sum->running, &sum->earning, clocks, clock, start->at_s)) return;
    struct clock_terms terms;
    clock_terms_find(&terms, facts, clock);
    sum_goal(&sum->sum, terms.need.value);
    sum_integrate(&sum->sum, clock_history(clocks, sum->part), &sum->running, &sum->earning,
                  start->at_s);
    plain_clock(clocks, clock, start->at_s, sum, 0);
}

void clock_set_all(struct clocks *clocks)
{
    pad_clocks(clocks);
    static const enum clock_id mortar[] = {CLOCK_JOINTS_EARLY, CLOCK_BED_SET, CLOCK_LIFT_NEXT,
                                           CLOCK_LINING_EARLY};
    for (size_t i = 0; i < sizeof mortar / sizeof *mortar; i++) mortar_clock(clocks, mortar[i]);
}
