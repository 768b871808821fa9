/* SPDX-License-Identifier: MIT */
/*
 * Why: clocks of counted days. The days are judged once (day.h) and the clocks only add up. Day 0
 * is the day of the last wet work; a clock completes at the end of the day on which its count is
 * full.
 */
#include <math.h>

#include "base/limits.h"
#include "planner/day.h"

enum { HOUR_S = 3600 };

static double setting(const struct unit_days *c, enum setting id)
{
    return rulebook_setting(c->facts->rulebook, id);
}

/* --- one clock -------------------------------------------------------------------------------- */

/* Days that count and are over at `until_s`, of a clock begun at `start_s`. */
static double count_until(struct unit_days *c, int64_t start_s, int64_t until_s)
{
    double count = 0;
    for (int32_t day = day_of(c, start_s) + 1; day_start(c, day + 1) <= until_s; day++)
        count += day_get(c, day)->credit;
    return count;
}

/* The day on which the count is full; DAY_NONE when it never is. `have` stops at the target. */
static int32_t count_days(struct unit_days *c, int64_t start_s, double need, double *have)
{
    double count = 0;
    int32_t day = day_of(c, start_s), today = day_of(c, c->facts->now_s);
    *have = 0;
    for (int n = 0; n < COUNTED_DAYS_MAX; n++) {
        const struct counted_day *judged = day_get(c, ++day);
        count += judged->credit;
        if (day < today) *have = count < need ? count : need;
        if (count + DAY_SLACK >= need) return day;
        if (day > c->settled_day && day >= today && judged->credit <= 0) break;
    }
    return DAY_NONE;
}

/* A fire that nobody has looked at since, after this clock began. */
static const struct record *unlooked_fire(const struct facts *facts, int64_t start_s)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_LIT || r->at_s <= start_s) continue;
        if (clock_look_after(facts, PART_UNIT, r->at_s) == NULL) return r;
    }
    return NULL;
}

/* Somebody vouched for it: the midnight after, once as many days have gone by as have to count. */
static const struct record *acceptance(int64_t *out_s, const struct clock_plan *plan,
                                       const struct unit_days *c)
{
    int32_t floor_day = day_of(c, plan->start_s) + (int32_t)ceil(plan->need) + 1;
    *out_s = INSTANT_NONE;
    for (size_t i = 0; i < c->facts->count; i++) {
        const struct record *r = c->facts->records[i];
        if (r->kind != RECORD_ACCEPTED || r->clock != plan->clock || r->at_s < plan->start_s)
            continue;
        int32_t day = day_of(c, r->at_s) + (r->at_s > day_start(c, day_of(c, r->at_s)) ? 1 : 0);
        *out_s = day_start(c, day > floor_day ? day : floor_day);
        return r;
    }
    return NULL;
}

static int64_t accepted_end(struct clock_plan *plan, const struct unit_days *c, int64_t crossing_s)
{
    int64_t at_s;
    const struct record *record = acceptance(&at_s, plan, c);
    if (record == NULL || (crossing_s != INSTANT_NONE && crossing_s <= at_s)) return crossing_s;
    plan->accepted = record;
    plan->assumes = ASSUME_ACCEPTED;
    return at_s;
}

/* How a clock of counted days is worked out again; once its state is final. */
static void note_redo(struct unit_days *c, const struct clock_plan *plan)
{
    struct clock_redo *redo = clock_redo_new(c->clocks, plan);
    if (redo != NULL) (void)acceptance(&redo->accepted_s, plan, c);
}

static unsigned assumes_of(const struct unit_days *c, int64_t crossing_s)
{
    if (crossing_s == INSTANT_NONE || crossing_s <= c->facts->now_s) return 0;
    unsigned assumes = 0;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, c->history, c->facts->now_s, crossing_s);
    while (history_walk_next(&walk, &piece))
        assumes |= piece.past_forecast ? ASSUME_NOTHING_WRONG : piece.span->assumes;
    return assumes | (c->rain_matters ? ASSUME_STAYS_DRY : 0);
}

static void clock_of_days(struct clock_plan *plan, struct unit_days *c)
{
    const struct facts *facts = c->facts;
    int32_t full_day = count_days(c, plan->start_s, plan->need, &plan->have);
    size_t first = (size_t)(day_of(c, plan->start_s) + 1 - c->first_day);
    if (first < c->count) {
        size_t last = full_day == DAY_NONE ? c->count : (size_t)(full_day - c->first_day) + 1;
        plan->days = &c->days[first];
        plan->day_count = (last < c->count ? last : c->count) - first;
    }
    plan->last_reading = c->history->last_reading;
    const struct record *fire = unlooked_fire(facts, plan->start_s);
    if (fire != NULL) {
        plan->state = CLOCK_STATE_CHECK_IT;
        plan->stopped_s = fire->at_s;
        return;
    }
    int64_t crossing_s =
        full_day == DAY_NONE
            ? INSTANT_NONE
            : day_not_before_s(c, full_day + 1,
                               plan->start_s + (int64_t)llround(plan->floor_h * HOUR_S));
    plan->assumes = assumes_of(c, crossing_s);
    clock_settle(plan, facts, accepted_end(plan, c, crossing_s));
}

/* --- the unit's clocks ------------------------------------------------------------------------ */

static bool renews(const struct record *r, bool any_wet_work)
{
    if (r->kind == RECORD_RELAID || (r->kind == RECORD_DONE && r->task == TASK_LINE_CLEAN))
        return true;
    return any_wet_work && (r->kind == RECORD_FACING || r->kind == RECORD_PATCHED);
}

static bool renewed_after(const struct facts *facts, int64_t at_s)
{
    for (size_t i = facts->count; i-- > 0 && facts->records[i]->at_s > at_s;)
        if (renews(facts->records[i], true)) return true;
    return false;
}

static void dry_cure(struct clocks *clocks, struct unit_days *c)
{
    const struct facts *facts = c->facts;
    const enum task once = facts->rulebook->clocks[CLOCK_UNIT_DRY_CURE].once;
    if (facts_latest(facts, RECORD_DONE, once) == NULL) return;
    const struct record *start = clock_start_record(facts, CLOCK_UNIT_DRY_CURE, INSTANT_NONE);
    if (start == NULL) return;
    struct clock_plan *plan = clock_new(clocks, CLOCK_UNIT_DRY_CURE, PART_UNIT, start->at_s);
    if (plan == NULL) return;
    clock_of_days(plan, c);
    /* A cap or chimney set after a redo is no new start: only what was relaid or lined again is. */
    int64_t begun_s = INSTANT_NONE;
    for (size_t i = 0; i < facts->count; i++)
        if (renews(facts->records[i], false)) begun_s = facts->records[i]->at_s;
    if (begun_s == INSTANT_NONE || begun_s > start->at_s) begun_s = start->at_s;
    if (clock_redo_after(facts, PART_UNIT, begun_s) != NULL) {
        plan->state = CLOCK_STATE_ENDED;
        plan->crossing_s = plan->opens_s = INSTANT_NONE;
    }
    note_redo(c, plan);
}

static const struct record *first_redo_after(const struct facts *facts, int64_t start_s)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->at_s > start_s && r->kind == RECORD_LOOKED && r->result == RESULT_REDO &&
            r->part == PART_UNIT)
            return r;
    }
    return NULL;
}

/* Facing or patch: dropped when it was ended and later work is on record; ended when none is. */
static bool facing_or_patch(struct clock_plan *plan, struct unit_days *c)
{
    const struct record *redo = first_redo_after(c->facts, plan->start_s);
    if (redo != NULL && renewed_after(c->facts, redo->at_s)) return false;
    clock_of_days(plan, c);
    if (redo != NULL) {
        plan->state = CLOCK_STATE_ENDED;
        plan->crossing_s = plan->opens_s = INSTANT_NONE;
    }
    note_redo(c, plan);
    return true;
}

static void facing_cure(struct clocks *clocks, struct unit_days *c)
{
    const struct record *start = clock_start_record(c->facts, CLOCK_UNIT_FACING_CURE, INSTANT_NONE);
    if (start == NULL) return;
    struct clock_plan *plan = clock_new(clocks, CLOCK_UNIT_FACING_CURE, PART_UNIT, start->at_s);
    if (plan != NULL && !facing_or_patch(plan, c)) clocks->count--;
}

static bool ends_later(const struct clock_plan *a, const struct clock_plan *b)
{
    if (a->crossing_s == INSTANT_NONE || b->crossing_s == INSTANT_NONE)
        return a->crossing_s == INSTANT_NONE && b->crossing_s != INSTANT_NONE;
    return a->crossing_s > b->crossing_s;
}

/* Each patch has its clock; the one shown is the one that ends latest, or never. */
static void patches(struct clocks *clocks, struct unit_days *c)
{
    const struct facts *facts = c->facts;
    struct clock_plan worst;
    bool any = false;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_PATCHED) continue;
        struct clock_plan *plan = clock_new(clocks, CLOCK_UNIT_PATCH, PART_UNIT, r->at_s);
        if (plan == NULL) return;
        clocks->count--; /* a candidate: only the worst is kept */
        double days = setting(c, SETTING_PATCH_DAYS_INITIALS);
        if (r->days == (int)days && r->initials != NULL) {
            struct clock_terms terms;
            clock_terms_from(&terms, facts, CLOCK_UNIT_PATCH, days);
            plan->need = terms.need.value;
        }
        if (!facing_or_patch(plan, c)) continue;
        if (!any || ends_later(plan, &worst)) worst = *plan;
        any = true;
    }
    if (any) clocks->plans[clocks->count++] = worst;
}

/* Earlier starts of the 28: kept visible, struck through. */
static void strike(struct unit_days *c, struct job_plan *out)
{
    const struct facts *facts = c->facts;
    const struct clock_rule *rule = &facts->rulebook->clocks[CLOCK_UNIT_DRY_CURE];
    struct struck_clock *struck = ARENA_TAKE(facts->arena, facts->count + 1, struct struck_clock);
    if (struck == NULL) return;
    bool lined = false;
    int64_t start_s = INSTANT_NONE;
    size_t count = 0;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (!clock_is_start(rule, r)) continue;
        if (lined && r->at_s > start_s) {
            double have = count_until(c, start_s, r->at_s);
            struck[count++] = (struct struck_clock){CLOCK_UNIT_DRY_CURE, start_s, r->at_s, have, r};
        }
        lined = lined || (r->kind == RECORD_DONE && r->task == rule->once);
        start_s = r->at_s;
    }
    out->struck = struck;
    out->struck_count = count;
}

int64_t clock_days_rest_s(struct clocks *clocks, int64_t start_s, double days)
{
    struct unit_days c;
    double have = 0;
    const int32_t first_day = civil_day_of(clocks->facts->job->zone, start_s);
    if (!day_from(&c, clocks, clock_history(clocks, PART_UNIT), first_day)) return INSTANT_NONE;
    const int32_t full_day = count_days(&c, start_s, days, &have);
    return full_day == DAY_NONE ? INSTANT_NONE : day_start(&c, full_day + 1);
}

void clock_days_all(struct clocks *clocks, struct job_plan *out)
{
    struct unit_days *c = ARENA_TAKE(clocks->facts->arena, 1, struct unit_days);
    if (c == NULL || !day_all(c, clocks)) return;
    clocks->days = c;
    dry_cure(clocks, c);
    facing_cure(clocks, c);
    patches(clocks, c);
    strike(c, out);
}
