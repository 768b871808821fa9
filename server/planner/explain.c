/* SPDX-License-Identifier: MIT */
/* Why: see explain.h. The rule ids are put together by the compiler, so nothing is copied. */
#include "planner/explain.h"

#include <math.h>
#include <string.h>

#include "base/banned.h"

#define EXPLAIN_AFTER_TEXT(name, id) "after." id,
#define EXPLAIN_BEFORE_TEXT(name, id) "before." id,
#define EXPLAIN_WITH_TEXT(name, id) "with." id,
#define EXPLAIN_WITHIN_TEXT(name, id) "within." id,
#define EXPLAIN_HOLD_TEXT(name, id) "hold." id,
static const char *const rule_text[EXPLAIN_RULES][TASK_COUNT] = {
    [EXPLAIN_AFTER] = {TASK_LIST(EXPLAIN_AFTER_TEXT)},
    [EXPLAIN_BEFORE] = {TASK_LIST(EXPLAIN_BEFORE_TEXT)},
    [EXPLAIN_WITH] = {TASK_LIST(EXPLAIN_WITH_TEXT)},
    [EXPLAIN_WITHIN] = {TASK_LIST(EXPLAIN_WITHIN_TEXT)},
    [EXPLAIN_HOLD] = {TASK_LIST(EXPLAIN_HOLD_TEXT)},
};

const char *explain_rule(enum explain_rule rule, enum task task)
{
    return rule_text[rule][task];
}

struct reason explain_plain(enum reason_kind kind, const char *rule, int64_t until_s,
                            enum task task)
{
    return (struct reason){.kind = kind,
                           .rule = rule,
                           .until_s = until_s,
                           .task = task,
                           .clock = CLOCK_NONE,
                           .have = NAN,
                           .need = NAN,
                           .unit = UNIT_HOUR,
                           .floor_h = NAN,
                           .mark = MARK_NONE,
                           .source = NULL,
                           .check = CHECK_NONE,
                           .check_unit = CHECK_UNIT_NONE};
}

struct reason explain_clock(const struct clock_plan *clock)
{
    struct reason reason = explain_plain(REASON_CLOCK, id_of(&clock_ids, (int)clock->clock),
                                         clock->opens_s, TASK_NONE);
    bool stopped = clock->state == CLOCK_STATE_CHECK_IT || clock->state == CLOCK_STATE_ENDED;
    if (stopped)
        reason.kind = REASON_CLOCK_STOPPED;
    else if (clock->opens_s == INSTANT_NONE)
        reason.kind = REASON_CLOCK_UNKNOWN;
    if (stopped) reason.until_s = INSTANT_NONE;
    reason.clock = clock->clock;
    reason.have = clock->have;
    reason.need = clock->need;
    reason.unit = clock->unit;
    reason.floor_h = clock->floor_h;
    bool enough = clock->have >= clock->need && clock->floor_mark != MARK_NONE;
    reason.mark = enough ? clock->floor_mark : clock->need_mark;
    reason.source = clock->source;
    reason.forecast_old = (clock->assumes & ASSUME_FORECAST_OLD) != 0;
    reason.forecast_made_s = clock->forecast_made_s;
    reason.site_offset_degc = clock->site_offset_degc;
    return reason;
}

void explain_add(struct bounds *bounds, struct reason reason, bool met)
{
    if (reason.until_s == INSTANT_NONE) bounds->unknown = true;
    bounds->latest_s = later_s(bounds->latest_s, reason.until_s);
    if (!met) bounds->unmet = true;
    if (bounds->count >= REASONS_MAX) return;
    bounds->met[bounds->count] = met;
    bounds->reasons[bounds->count++] = reason;
}

/* Whether a stands before b: no end known, then the later, then the order of reason kinds. */
static bool stands_before(const struct reason *a, const struct reason *b)
{
    if (a->until_s != b->until_s) {
        if (a->until_s == INSTANT_NONE || b->until_s == INSTANT_NONE)
            return a->until_s == INSTANT_NONE;
        return a->until_s > b->until_s;
    }
    return a->kind < b->kind;
}

void explain_keep(struct task_plan *out, struct bounds *bounds, struct arena *arena)
{
    for (size_t i = 1; i < bounds->count; i++) {
        struct reason moved = bounds->reasons[i];
        size_t place = i;
        for (; place > 0 && stands_before(&moved, &bounds->reasons[place - 1]); place--)
            bounds->reasons[place] = bounds->reasons[place - 1];
        bounds->reasons[place] = moved;
    }
    struct reason *kept = ARENA_TAKE(arena, bounds->count, struct reason);
    if (kept == NULL) return;
    memcpy(kept, bounds->reasons, bounds->count * sizeof *kept);
    out->because = kept;
    out->because_count = bounds->count;
}
