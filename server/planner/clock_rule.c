/* SPDX-License-Identifier: MIT */
/*
 * Why: which numbers are in force. Order: default, blended mix, town and kit (the longer), engineer
 * (takes the place of house rules, never goes below common practice or a published minimum),
 * overridden (the longer). Nothing here can shorten a number that is not a house rule.
 */
#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/clock.h"

static bool is_pad_clock(const struct facts *facts, enum clock_id clock)
{
    return facts->rulebook->clocks[clock].part == PART_PAD;
}

static void lengthen(struct rule_number *number, double value)
{
    if (isnan(value) || (!isnan(number->value) && value <= number->value)) return;
    if (isnan(number->value)) number->mark = MARK_HR; /* else its standing stays what it was */
    number->value = value;
}

/* An engineer's figure takes the place of a house rule; it never touches CP or P, nor a minimum. */
static void engineer(struct rule_number *number, double value, bool *held)
{
    if (isnan(value)) return;
    if (number->mark != MARK_HR) {
        *held = *held || value != number->value;
        return;
    }
    if (!isnan(number->least) && value < number->least) {
        *held = true;
        value = number->least;
    }
    number->value = value;
}

/* The kit's own sheet lengthens; a shorter figure on it is said and not used. */
static void kit_sheet(struct clock_terms *terms, const struct kit *kit, enum clock_id clock)
{
    if (kit == NULL) return;
    const double floor_h = kit->floor_h[clock], need = kit->need[clock];
    terms->kit_shorter = floor_h < terms->floor_h.value || need < terms->need.value;
    lengthen(&terms->floor_h, floor_h);
    lengthen(&terms->need, need);
}

void clock_terms_find(struct clock_terms *out, const struct facts *facts, enum clock_id clock)
{
    clock_terms_from(out, facts, clock, NAN);
}

void clock_terms_from(struct clock_terms *out, const struct facts *facts, enum clock_id clock,
                      double need_base)
{
    const struct clock_variant *variant =
        rulebook_variant(&facts->rulebook->clocks[clock], &facts->job->options);
    *out = (struct clock_terms){.floor_h = variant->floor_h, .need = variant->need};
    if (!isnan(need_base)) out->need.value = need_base;
    if (facts->job->options.mix == MIX_BLENDED && is_pad_clock(facts, clock))
        out->need.value *= rulebook_setting(facts->rulebook, SETTING_BLENDED_FACTOR);
    if (clock == CLOCK_PAD_BUILD_ON)
        lengthen(&out->floor_h, facts->job->options.town.build_on_floor_h);
    kit_sheet(out, company_kit(facts->company, facts->job->kit_id), clock);
    double floor_h = NAN, need = NAN;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_ENGINEER || r->clock != clock) continue;
        if (!isnan(r->floor_h)) floor_h = r->floor_h;
        if (!isnan(r->need)) need = r->need;
        out->source = r->sheet;
    }
    engineer(&out->floor_h, floor_h, &out->held_to_floor);
    engineer(&out->need, need, &out->held_to_floor);
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_OVERRIDDEN || r->clock != clock) continue;
        lengthen(&out->floor_h, r->floor_h);
        lengthen(&out->need, r->need);
    }
}

const struct history *clock_history(struct clocks *clocks, enum part part)
{
    if (!clocks->built[part]) {
        history_build(&clocks->histories[part], clocks->facts, &clocks->weather, part);
        clocks->built[part] = true;
    }
    return &clocks->histories[part];
}

bool clock_is_start(const struct clock_rule *rule, const struct record *record)
{
    for (size_t i = 0; i < rule->start_count; i++) {
        const struct clock_start *s = &rule->starts[i];
        if (s->kind == record->kind && (s->task == TASK_NONE || s->task == record->task))
            return true;
    }
    return false;
}

const struct record *clock_start_record(const struct facts *facts, enum clock_id clock,
                                        int64_t from_s)
{
    const struct clock_rule *rule = &facts->rulebook->clocks[clock];
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *record = facts->records[i];
        if (record->at_s < from_s) return NULL;
        if (clock_is_start(rule, record)) return record;
    }
    return NULL;
}

const struct record *clock_redo_after(const struct facts *facts, enum part part, int64_t after_s)
{
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *r = facts->records[i];
        if (r->at_s <= after_s) return NULL;
        if (r->kind == RECORD_LOOKED && r->result == RESULT_REDO && r->part == part) return r;
    }
    return NULL;
}

const struct record *clock_look_after(const struct facts *facts, enum part part, int64_t after_s)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->at_s > after_s && r->kind == RECORD_LOOKED && r->part == part &&
            r->result == RESULT_NO_DAMAGE_SEEN)
            return r;
    }
    return NULL;
}

void clock_settle(struct clock_plan *plan, const struct facts *facts, int64_t crossing_s)
{
    plan->crossing_s = crossing_s;
    plan->opens_s = INSTANT_NONE;
    plan->state = CLOCK_STATE_RUNNING;
    if (crossing_s == INSTANT_NONE) return;
    plan->opens_s = civil_hour_up_s(facts->job->zone, crossing_s);
    if (crossing_s <= facts->now_s) plan->state = CLOCK_STATE_OPEN;
}

struct clock_redo *clock_redo_new(struct clocks *clocks, const struct clock_plan *plan)
{
    if (clocks->redo_count == clocks->redo_room) {
        size_t room = clocks->redo_room == 0 ? CLOCK_COUNT : clocks->redo_room * 2;
        struct clock_redo *redos = ARENA_TAKE(clocks->facts->arena, room, struct clock_redo);
        if (redos == NULL) return NULL;
        if (clocks->redo_count > 0)
            memcpy(redos, clocks->redos, clocks->redo_count * sizeof *redos);
        clocks->redos = redos;
        clocks->redo_room = room;
    }
    struct clock_redo *redo = &clocks->redos[clocks->redo_count++];
    *redo = (struct clock_redo){
        .clock = plan->clock,
        .fixed = plan->state == CLOCK_STATE_CHECK_IT || plan->state == CLOCK_STATE_ENDED ||
                 (plan->crossing_s != INSTANT_NONE && plan->crossing_s <= clocks->weather.ahead_s),
        .crossing_s = plan->crossing_s,
        .floor_s = plan->start_s + (int64_t)llround(plan->floor_h * 3600),
        .accepted_s = INSTANT_NONE,
        .other = CLOCK_NONE,
        .start_s = plan->start_s,
        .need = plan->need,
    };
    return redo;
}

struct clock_plan *clock_new(struct clocks *clocks, enum clock_id clock, enum part part,
                             int64_t start_s)
{
    if (clocks->plans == NULL || clocks->count >= CLOCK_COUNT) return NULL;
    struct clock_terms terms;
    clock_terms_find(&terms, clocks->facts, clock);
    struct clock_plan *plan = &clocks->plans[clocks->count++];
    *plan = (struct clock_plan){
        .clock = clock,
        .part = part,
        .state = CLOCK_STATE_RUNNING,
        .need = terms.need.value,
        .unit = clocks->facts->rulebook->clocks[clock].unit,
        .floor_h = isnan(terms.floor_h.value) ? 0 : terms.floor_h.value,
        .floor_mark = terms.floor_h.mark,
        .need_mark = terms.need.mark,
        .source = terms.source != NULL        ? terms.source
                  : terms.need.source != NULL ? terms.need.source
                                              : terms.floor_h.source,
        .start_s = start_s,
        .crossing_s = INSTANT_NONE,
        .opens_s = INSTANT_NONE,
        .stopped_s = INSTANT_NONE,
        .no_reading_since_s = INSTANT_NONE,
        .outlook = OUTLOOK_NONE,
    };
    return plan;
}
