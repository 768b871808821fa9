/* SPDX-License-Identifier: MIT */
/*
 * Why: clocks of counted days. What a civil day earns does not depend on which clock asks, so each
 * day is judged once (day_judge) and the clocks only add up. Day 0 is the day of the last wet work;
 * a clock completes at the end of the day on which its count is full.
 */
#include <math.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "compute/counted_day.h"
#include "planner/clock.h"

enum { HOUR_S = 3600 };
#define DAY_SLACK 1e-9

/* Rain on the uncovered hours of one civil day. */
struct rain {
    double mm;
    int unknown_h; /* uncovered past hours with no rain figure */
};

/* What a day is judged by, gathered once a job. */
struct calendar {
    struct clocks *clocks;
    const struct facts *facts;
    const struct history *history;
    struct counted_day_law rule;
    int32_t first_day;   /* days[0] */
    int32_t settled_day; /* from here on every day is like the last */
    struct counted_day
        *days; /* judged so far, in order; one past settled_day stands for the rest */
    size_t count, capacity;
    const struct record **events; /* records a day can hang on: everything here but readings */
    size_t event_count;
    struct rain *rains; /* of first_day - rain_back on */
    size_t rain_count;
    int rain_back;
    int64_t cap_set_s; /* latest cap; INSTANT_NONE */
    bool rain_matters;
};

static double setting(const struct calendar *c, enum setting id)
{
    return rulebook_setting(c->facts->rulebook, id);
}

static int64_t day_start(const struct calendar *c, int32_t day)
{
    return civil_day_start_s(c->facts->job->zone, day);
}

static int32_t day_of(const struct calendar *c, int64_t at_s)
{
    return civil_day_of(c->facts->job->zone, at_s);
}

/* --- what takes a day away -------------------------------------------------------------------- */

static bool soaked_day(const struct calendar *c, int32_t day)
{
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->kind != RECORD_SOAKED || r->part != PART_UNIT) continue;
        int32_t wet = day_of(c, r->at_s);
        double after =
            setting(c, r->standing ? SETTING_DAY_STANDING_DAYS : SETTING_DAY_SOAKED_DAYS);
        if (day >= wet && day <= wet + (int32_t)after) return true;
    }
    return false;
}

static bool wrapped_day(const struct calendar *c, int64_t from_s, int64_t until_s)
{
    bool on = false;
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->at_s >= until_s) break;
        if (r->kind == RECORD_UNWRAPPED) {
            if (on && r->at_s > from_s) return true;
            on = false;
        }
        if (r->kind == RECORD_WRAPPED) on = true;
    }
    return on;
}

/* Wet work or a fire on that day. */
static enum day_reason worked_day(const struct calendar *c, int64_t from_s, int64_t until_s)
{
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->at_s < from_s || r->at_s >= until_s) continue;
        if (r->kind == RECORD_LIT) return DAY_LIT;
        if (r->kind == RECORD_FACING || r->kind == RECORD_PATCHED || r->kind == RECORD_RELAID)
            return DAY_WET_WORK;
    }
    return DAY_FULL;
}

static bool covered_at(const struct calendar *c, int64_t at_s)
{
    for (size_t i = c->event_count; i-- > 0;) {
        const struct record *r = c->events[i];
        if (r->at_s > at_s) continue;
        if (r->kind == RECORD_COVERED) return true;
        if (r->kind == RECORD_UNCOVERED) return false;
    }
    return false;
}

static struct rain rain_measure(const struct calendar *c, int32_t day)
{
    struct rain rain = {0, 0};
    int64_t from_s = day_start(c, day), until_s = day_start(c, day + 1);
    int64_t first_s = (from_s + HOUR_S - 1) / HOUR_S * HOUR_S;
    for (int64_t at_s = first_s; at_s < until_s; at_s += HOUR_S) {
        double mm = history_rain_mm(&c->clocks->weather, at_s);
        bool past = at_s + HOUR_S <= c->facts->now_s;
        if (isnan(mm) ? !past : mm <= 0) continue;
        if (covered_at(c, at_s)) continue;
        if (isnan(mm))
            rain.unknown_h++;
        else
            rain.mm += mm;
    }
    return rain;
}

/* Rain of a day, measured once, in order. */
static struct rain rain_of(struct calendar *c, int32_t day)
{
    size_t index = (size_t)(day - (c->first_day - c->rain_back));
    while (c->rain_count <= index) {
        int32_t next = c->first_day - c->rain_back + (int32_t)c->rain_count;
        c->rains[c->rain_count++] = rain_measure(c, next);
    }
    return c->rains[index];
}

static bool rain_day(struct calendar *c, int32_t day, bool *unknown)
{
    *unknown = false;
    if (!c->rain_matters) return false;
    for (int32_t wet = day; wet >= day - c->rain_back; wet--) {
        struct rain rain = rain_of(c, wet);
        if (wet == day && rain.unknown_h > setting(c, SETTING_DAY_RAIN_UNKNOWN_H)) *unknown = true;
        bool rained = rain.mm + DAY_SLACK >= setting(c, SETTING_DAY_RAIN_MM);
        bool poured = rain.mm + DAY_SLACK >= setting(c, SETTING_DAY_RAIN_NEXT_MM);
        bool capped = c->cap_set_s != INSTANT_NONE && c->cap_set_s < day_start(c, wet);
        if (wet == day && rained) return true;
        if (wet == day - 1 && poured) return true;
        if (wet < day && rained && !capped &&
            day - wet <= (int)setting(c, SETTING_DAY_UNCAPPED_DAYS))
            return true;
    }
    return false;
}

/* --- how warm was it -------------------------------------------------------------------------- */

struct warmth {
    double mean_degc, min_degc; /* NAN: no temperature at all */
    int64_t missing_s;          /* time with no reading */
    int64_t known_s;
};

static struct warmth warmth_of(const struct calendar *c, int32_t day, int64_t from_s,
                               int64_t until_s)
{
    for (size_t i = c->event_count; i-- > 0;) {
        const struct record *r = c->events[i];
        if (r->kind == RECORD_LOGGED_DAY && r->day == day &&
            (r->part == PART_NONE || r->part == PART_UNIT))
            return (struct warmth){
                .mean_degc = r->mean_degc, .min_degc = r->min_degc, .known_s = until_s - from_s};
    }
    struct warmth w = {.mean_degc = NAN, .min_degc = NAN};
    double sum = 0;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, c->history, from_s, until_s);
    while (history_walk_next(&walk, &piece)) {
        int64_t length_s = piece.until_s - piece.from_s;
        if (piece.past_forecast) continue; /* left out of mean and minimum */
        if (isnan(piece.temp_degc)) {
            w.missing_s += length_s;
        } else {
            w.known_s += length_s;
            sum += piece.temp_degc * (double)length_s;
            w.min_degc = fmin(w.min_degc, piece.temp_degc);
        }
    }
    if (w.known_s > 0) w.mean_degc = sum / (double)w.known_s;
    return w;
}

static void warm_credit(const struct calendar *c, struct counted_day *out, const struct warmth *w)
{
    const double half = setting(c, SETTING_DAY_HALF_CREDIT);
    out->mean_degc = w->mean_degc;
    out->min_degc = w->min_degc;
    if ((double)w->missing_s > setting(c, SETTING_DAY_NO_READING_H) * HOUR_S) {
        out->reason = DAY_NO_READING;
        return;
    }
    if (w->known_s == 0) { /* nothing but hours past the forecast, or not even that */
        out->credit = w->missing_s == 0 ? 1 : 0;
        out->reason = w->missing_s == 0 ? DAY_AHEAD : DAY_NO_READING;
    } else {
        out->credit = counted_day_credit(&c->rule, w->mean_degc, w->min_degc);
        out->reason = out->credit <= 0 ? DAY_COLD : out->credit < 1 ? DAY_HALF_COOL : DAY_FULL;
        if (out->reason == DAY_HALF_COOL) out->credit = half;
    }
    if (w->missing_s > 0 && out->credit > half) {
        out->credit = half;
        out->reason = DAY_HALF_GAPS;
    }
}

/* The verdict on one civil day. */
static struct counted_day day_judge(struct calendar *c, int32_t day)
{
    struct counted_day out = {.day = day, .mean_degc = NAN, .min_degc = NAN};
    int64_t from_s = day_start(c, day), until_s = day_start(c, day + 1);
    struct warmth warmth = warmth_of(c, day, from_s, until_s);
    warm_credit(c, &out, &warmth);
    bool unknown = false;
    enum day_reason worked = worked_day(c, from_s, until_s);
    enum day_reason taken = DAY_FULL;
    if (soaked_day(c, day))
        taken = DAY_SOAKED;
    else if (worked != DAY_FULL)
        taken = worked;
    else if (rain_day(c, day, &unknown))
        taken = DAY_RAIN;
    else if (wrapped_day(c, from_s, until_s))
        taken = DAY_WRAPPED;
    else if (unknown)
        taken = DAY_RAIN_UNKNOWN;
    if (taken != DAY_FULL) {
        out.credit = 0;
        out.reason = taken;
    }
    return out;
}

/* A day by number; judged on first use, in order. Past settled_day every day is like that one. */
static const struct counted_day *day_get(struct calendar *c, int32_t day)
{
    size_t index = (size_t)(day - c->first_day);
    if (index >= c->capacity) index = c->capacity - 1;
    for (; c->count <= index; c->count++)
        c->days[c->count] = day_judge(c, c->first_day + (int32_t)c->count);
    return &c->days[index];
}

/* --- one clock -------------------------------------------------------------------------------- */

/* Days that count and are over at `until_s`, of a clock begun at `start_s`. */
static double count_until(struct calendar *c, int64_t start_s, int64_t until_s)
{
    double count = 0;
    for (int32_t day = day_of(c, start_s) + 1; day_start(c, day + 1) <= until_s; day++)
        count += day_get(c, day)->credit;
    return count;
}

/* The day on which the count is full; DAY_NONE when it never is. `have` stops at the target. */
static int32_t count_days(struct calendar *c, int64_t start_s, double need, double *have)
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

static int64_t accepted_end(struct clock_plan *plan, const struct calendar *c, int64_t crossing_s)
{
    int32_t floor_day = day_of(c, plan->start_s) + (int32_t)ceil(plan->need) + 1;
    for (size_t i = 0; i < c->facts->count; i++) {
        const struct record *r = c->facts->records[i];
        if (r->kind != RECORD_ACCEPTED || r->clock != plan->clock || r->at_s < plan->start_s)
            continue;
        int32_t day = day_of(c, r->at_s) + (r->at_s > day_start(c, day_of(c, r->at_s)) ? 1 : 0);
        int64_t at_s = day_start(c, day > floor_day ? day : floor_day);
        if (crossing_s != INSTANT_NONE && crossing_s <= at_s) return crossing_s;
        plan->accepted = r;
        plan->assumes = ASSUME_ACCEPTED;
        return at_s;
    }
    return crossing_s;
}

static unsigned assumes_of(const struct calendar *c, int64_t crossing_s)
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

/* The midnight a count is over, or the first one after a floor that somebody put on it. */
static int64_t not_before_floor(const struct calendar *c, const struct clock_plan *plan,
                                int32_t day)
{
    int64_t floor_s = plan->start_s + (int64_t)llround(plan->floor_h * HOUR_S);
    while (day_start(c, day) < floor_s) day++;
    return day_start(c, day);
}

static void clock_of_days(struct clock_plan *plan, struct calendar *c)
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
        full_day == DAY_NONE ? INSTANT_NONE : not_before_floor(c, plan, full_day + 1);
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

static void dry_cure(struct clocks *clocks, struct calendar *c)
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
static bool facing_or_patch(struct clock_plan *plan, struct calendar *c)
{
    const struct record *redo = first_redo_after(c->facts, plan->start_s);
    if (redo != NULL && renewed_after(c->facts, redo->at_s)) return false;
    clock_of_days(plan, c);
    if (redo == NULL) return true;
    plan->state = CLOCK_STATE_ENDED;
    plan->crossing_s = plan->opens_s = INSTANT_NONE;
    return true;
}

static void facing_cure(struct clocks *clocks, struct calendar *c)
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
static void patches(struct clocks *clocks, struct calendar *c)
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
static void strike(struct calendar *c, struct job_plan *out)
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

static bool first_wet_day(struct calendar *c)
{
    bool any = false;
    for (size_t i = 0; i < c->facts->count && !any; i++) {
        const struct record *r = c->facts->records[i];
        for (int clock = 0; clock < CLOCK_COUNT && !any; clock++) {
            const struct clock_rule *rule = &c->facts->rulebook->clocks[clock];
            any = rule->kind == CLOCK_KIND_DAYS && clock_is_start(rule, r);
        }
        if (any) c->first_day = day_of(c, r->at_s);
    }
    return any;
}

static bool day_event(const struct record *r)
{
    switch (r->kind) {
    case RECORD_SOAKED:
    case RECORD_WRAPPED:
    case RECORD_UNWRAPPED:
    case RECORD_FACING:
    case RECORD_PATCHED:
    case RECORD_RELAID:
    case RECORD_LIT:
    case RECORD_COVERED:
    case RECORD_UNCOVERED:
    case RECORD_LOGGED_DAY:
        return true;
    default:
        return false;
    }
}

/* Room for the days up to the one that stands for all later ones, their rain and their events. */
static bool day_room(struct calendar *c)
{
    struct arena *arena = c->facts->arena;
    double tail = fmax(setting(c, SETTING_DAY_STANDING_DAYS), setting(c, SETTING_DAY_SOAKED_DAYS));
    c->rain_back = (int)fmax(1, setting(c, SETTING_DAY_UNCAPPED_DAYS));
    c->settled_day = day_of(c, c->history->settled_s) + (int32_t)tail + c->rain_back + 1;
    c->capacity = (size_t)(c->settled_day - c->first_day) + 2;
    c->days = ARENA_TAKE(arena, c->capacity, struct counted_day);
    c->rains = ARENA_TAKE(arena, c->capacity + (size_t)c->rain_back, struct rain);
    c->events = ARENA_TAKE(arena, c->facts->count, const struct record *);
    if (c->days == NULL || c->rains == NULL || c->events == NULL) return false;
    for (size_t i = 0; i < c->facts->count; i++)
        if (day_event(c->facts->records[i])) c->events[c->event_count++] = c->facts->records[i];
    return true;
}

void clock_days_all(struct clocks *clocks, struct job_plan *out)
{
    const struct facts *facts = clocks->facts;
    struct calendar c = {.clocks = clocks, .facts = facts, .cap_set_s = INSTANT_NONE};
    if (!first_wet_day(&c)) return;
    c.history = clock_history(clocks, PART_UNIT);
    c.rule = (struct counted_day_law){
        .full_mean_degc = setting(&c, SETTING_DAY_FULL_MEAN_DEGC),
        .full_min_degc = setting(&c, SETTING_DAY_FULL_MIN_DEGC),
        .half_mean_degc = setting(&c, SETTING_DAY_HALF_MEAN_DEGC),
        .half_min_degc = setting(&c, SETTING_DAY_HALF_MIN_DEGC),
    };
    const struct record *cap = facts_latest(facts, RECORD_DONE, TASK_CAP_SET);
    if (cap != NULL) c.cap_set_s = cap->at_s;
    c.rain_matters = facts->job->options.place == PLACE_EXPOSED;
    if (!day_room(&c)) return;
    dry_cure(clocks, &c);
    facing_cure(clocks, &c);
    patches(clocks, &c);
    strike(&c, out);
}
