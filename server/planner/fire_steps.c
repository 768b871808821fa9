/* SPDX-License-Identifier: MIT */
/*
 * Why: see fire_steps.h. Steam or beads of water: dry counted days, then the same size again. Rain
 * on the unit since the last fire: dry days, one size back. Anything else that was seen: nothing
 * until somebody has looked. Too long a gap: one size back. Cold masonry: one more number 1 first.
 * A fire bigger than the next one is believed to have been the next one, no more.
 */
#include "planner/fire_steps.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/fire_gate.h"
#include "planner/history.h"

#include "base/banned.h"

enum { HOUR_S = 3600 };

/** The fires as they are read, one after the other. */
struct reading {
    struct clocks *clocks;
    struct fire_plan *fire;
    int expected;    /* size of the next fire */
    bool any;        /* a fire is on record */
    bool extra_done; /* since the last fire that counted, one in cold masonry */
    const struct record *last;
    const struct record *sign; /* the last fire was stopped for a sign */
};

/* Size of the fire a record speaks of; 0: none. `expected` where it does not say. */
static int size_of(const struct record *r, int expected)
{
    if (r->kind == RECORD_FIRE)
        return r->fire_number < 1 || r->fire_number > FIRE_SIZES ? expected : r->fire_number;
    if (r->kind != RECORD_DONE && r->kind != RECORD_FAILED && r->kind != RECORD_PASSED) return 0;
    return r->task >= TASK_FIRE_1 && r->task <= TASK_FIRE_5 ? r->task - TASK_FIRE_1 + 1 : 0;
}

static bool is_stopped(const struct record *r)
{
    return r->stop_sign || r->sign != SIGN_NONE || r->kind == RECORD_FAILED;
}

/* Only water shows: it dries, and the same size comes again. */
static bool is_only_wet(const struct record *r)
{
    return r->sign == SIGN_STEAM || r->sign == SIGN_WATER;
}

/* How warm the masonry is at an instant; NAN: nobody knows. */
static double warm_degc(struct clocks *clocks, int64_t at_s)
{
    const struct history *history = clock_history(clocks, PART_UNIT);
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, history, at_s, at_s + 1);
    return history_walk_next(&walk, &piece) && !piece.past_forecast ? piece.temp_degc : NAN;
}

static bool is_cold(struct clocks *clocks, int64_t at_s, double *degc)
{
    *degc = warm_degc(clocks, at_s);
    return *degc < rulebook_setting(clocks->facts->rulebook, SETTING_FIRE_COLD_DEGC) - 1e-9;
}

static void read_fire(struct reading *in, const struct record *r, int size)
{
    double degc = NAN;
    if (in->any && size > in->expected) {
        in->fire->too_big_s = r->at_s;
        size = in->expected;
    }
    in->any = true;
    in->last = r;
    in->sign = is_stopped(r) ? r : NULL;
    if (in->sign != NULL) {
        in->expected = size;
    } else if (size == 1 && !in->extra_done && is_cold(in->clocks, r->at_s, &degc)) {
        in->extra_done = true;
    } else {
        in->expected = size + 1;
        in->extra_done = false;
        in->fire->lit_s[size - 1] = r->at_s;
    }
}

/* A look of the unit after an instant that found no damage. */
static bool looked_after(const struct facts *facts, int64_t at_s)
{
    return clock_look_after(facts, PART_UNIT, at_s) != NULL;
}

static void rest_after_steam(struct reading *in)
{
    const struct facts *facts = in->clocks->facts;
    in->fire->rest_for = in->sign;
    in->fire->rest_until_s = clock_days_rest_s(
        in->clocks, in->sign->at_s, rulebook_setting(facts->rulebook, SETTING_FIRE_REST_DAYS));
}

/* Wetted since the last fire: dry days after it stops, and one size back. */
static void rest_after_soaking(struct reading *in)
{
    const struct facts *facts = in->clocks->facts;
    const struct zone *zone = facts->job->zone;
    const struct record *wet = NULL;
    int64_t wet_s = fire_gate_rained_on_s(facts, in->last->at_s);
    for (size_t i = facts->count; i-- > 0 && facts->records[i]->at_s > in->last->at_s;) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_SOAKED || r->part != PART_UNIT) continue;
        wet = r;
        break;
    }
    if (wet != NULL) wet_s = later_s(wet_s, wet->at_s);
    if (wet_s == INSTANT_NONE) return;
    const double days = rulebook_setting(facts->rulebook, SETTING_FIRE_SOAKED_DAYS);
    const int64_t dry_s =
        civil_day_start_s(zone, civil_day_of(zone, wet_s - 1) + (int32_t)ceil(days) + 1);
    const bool endless = in->fire->rest_for != NULL && in->fire->rest_until_s == INSTANT_NONE;
    if (in->fire->rest_for == NULL) in->fire->rest_for = wet != NULL ? wet : in->last;
    if (!endless) in->fire->rest_until_s = later_s(in->fire->rest_until_s, dry_s);
    in->fire->stepped_back++;
}

/* When the next fire could be at the earliest, for the rules that ask for its day: from the hour
 * the company opens, and never before the unit's own date. */
static int64_t candidate_s(const struct reading *in)
{
    const struct facts *facts = in->clocks->facts;
    const struct zone *zone = facts->job->zone;
    int64_t at_s = later_s(facts->now_s, in->fire->rest_until_s);
    at_s =
        later_s(at_s, in->last->at_s +
                          llround(rulebook_setting(facts->rulebook, SETTING_FIRE_GAP_H) * HOUR_S));
    if (in->fire->cure_complete_day != DAY_NONE)
        at_s = later_s(at_s, civil_day_start_s(zone, in->fire->cure_complete_day));
    return later_s(
        at_s, civil_instant_s(zone, civil_day_of(zone, at_s), facts->company->hours.from_min * 60));
}

static void step_back_for_gap(struct reading *in)
{
    const struct facts *facts = in->clocks->facts;
    const struct zone *zone = facts->job->zone;
    const enum setting setting = facts->job->options.place == PLACE_INDOOR
                                     ? SETTING_FIRE_STEP_BACK_ROOM_DAYS
                                     : SETTING_FIRE_STEP_BACK_OPEN_DAYS;
    const int32_t gap = civil_day_of(zone, candidate_s(in)) - civil_day_of(zone, in->last->at_s);
    if ((double)gap > rulebook_setting(facts->rulebook, setting)) in->fire->stepped_back++;
}

void fire_steps_find(struct job_plan *out, struct clocks *clocks)
{
    const struct facts *facts = clocks->facts;
    struct fire_plan *fire = &out->fire;
    struct reading in = {.clocks = clocks, .fire = fire, .expected = 1};
    fire->last_fire_s = fire->rest_until_s = fire->too_big_s = INSTANT_NONE;
    for (int i = 0; i < FIRE_SIZES; i++) fire->lit_s[i] = INSTANT_NONE;
    for (size_t i = 0; i < facts->count; i++) {
        const int size = size_of(facts->records[i], in.expected <= FIRE_SIZES ? in.expected : 5);
        if (size > 0) read_fire(&in, facts->records[i], size);
    }
    fire->next_size = in.expected;
    if (!in.any || in.expected > FIRE_SIZES) return;
    fire->last_fire_s = in.last->at_s;
    fire->last_sign = in.sign;
    if (in.sign != NULL && is_only_wet(in.sign)) rest_after_steam(&in);
    if (in.sign != NULL && !is_only_wet(in.sign) && !looked_after(facts, in.sign->at_s))
        fire->sign_hold = in.sign;
    rest_after_soaking(&in);
    step_back_for_gap(&in);
    fire->next_size -= fire->stepped_back;
    if (fire->next_size < 1) fire->next_size = 1;
    fire->next_extra = !in.extra_done && is_cold(clocks, candidate_s(&in), &fire->cold_degc);
}

void fire_steps_apply(struct net *net)
{
    const struct fire_plan *fire = &net->out->fire;
    if (fire->last_fire_s == INSTANT_NONE && fire->next_size <= FIRE_SIZES) return;
    for (int size = 1; size <= FIRE_SIZES; size++) {
        struct step *step = &net->steps[TASK_FIRE_1 + size - 1];
        const int64_t lit_s = fire->lit_s[size - 1];
        if (size < fire->next_size) {
            if (lit_s == INSTANT_NONE && step->phase == PHASE_NONE) continue; /* later ones show */
            step->phase = PHASE_DONE;
            if (lit_s != INSTANT_NONE) step->done_s = lit_s;
            if (step->done_s == INSTANT_NONE) step->done_s = fire->last_fire_s; /* by then */
        } else if (size > fire->next_size || step->phase != PHASE_STARTED ||
                   step->started_s <= fire->last_fire_s) {
            const bool failed =
                size == fire->next_size && fire->last_sign != NULL && fire->stepped_back == 0;
            step->phase = failed ? PHASE_FAILED : PHASE_NONE;
            step->done_s = INSTANT_NONE;
        }
    }
}

static struct caution about(enum caution_id id, int64_t at_s, double value)
{
    return (struct caution){.caution = id,
                            .part = PART_NONE,
                            .task = TASK_NONE,
                            .at_s = at_s,
                            .value = value,
                            .quantity = QUANTITY_NONE};
}

size_t fire_steps_cautions(struct caution *room, size_t capacity, const struct job_plan *plan)
{
    const struct fire_plan *fire = &plan->fire;
    size_t count = 0;
    if (fire->last_fire_s == INSTANT_NONE) return 0;
    if (fire->stepped_back > 0 && count < capacity)
        room[count++] = about(CAUTION_FIRE_STEP_BACK, fire->last_fire_s, NAN);
    if (fire->next_extra && count < capacity)
        room[count++] = about(CAUTION_FIRE_COLD, INSTANT_NONE, fire->cold_degc);
    if (fire->too_big_s != INSTANT_NONE && count < capacity)
        room[count++] = about(CAUTION_FIRE_TOO_BIG, fire->too_big_s, NAN);
    return count;
}
