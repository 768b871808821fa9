/* SPDX-License-Identifier: MIT */
/* Why: see fire_gate.h. No fire is ever planned on a day the unit's clocks do not give. */
#include "planner/fire_gate.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"

#include "base/banned.h"

bool fire_gate_is_next(const struct net *net, enum task task)
{
    if (task == TASK_FIRE_1) return true;
    if (task < TASK_FIRE_1 || task > TASK_FIRE_5) return false;
    const struct step *before = &net->steps[task - 1];
    return before->finished || before->phase == PHASE_STARTED;
}

/* Rain on an unroofed unit since `from_s`: the end of the last hour that made a wet day. */
static int64_t rained_on_s(const struct net *net, int64_t from_s)
{
    const struct job *job = net->facts->job;
    const double wet_mm = rulebook_setting(net->rulebook, SETTING_DAY_RAIN_MM);
    if (job->options.place != PLACE_EXPOSED || job->station == NULL) return INSTANT_NONE;
    const struct series *seen = &job->station->observed;
    if (seen->rain_mm == NULL) return INSTANT_NONE;
    int64_t first = (from_s - seen->start_s) / NETWORK_HOUR_S;
    int64_t wet_s = INSTANT_NONE;
    double total_mm = 0;
    int32_t today = DAY_NONE;
    for (int64_t i = first > 0 ? first : 0; i < (int64_t)seen->count; i++) {
        int64_t hour_s = seen->start_s + i * NETWORK_HOUR_S;
        if (hour_s >= net->facts->now_s) break;
        if (isnan(seen->rain_mm[i]) || seen->rain_mm[i] <= 0) continue;
        int32_t day = civil_day_of(job->zone, hour_s);
        if (day != today) total_mm = 0;
        today = day;
        total_mm += seen->rain_mm[i];
        if (total_mm >= wet_mm) wet_s = hour_s + NETWORK_HOUR_S;
    }
    return wet_s;
}

/* When the unit was last wetted, as far as it still matters; whether it is covered now or not. */
static int64_t wetted_s(const struct net *net, int64_t from_s)
{
    int64_t last_s = rained_on_s(net, from_s);
    for (size_t i = net->facts->count; i-- > 0 && net->facts->records[i]->at_s >= from_s;) {
        const struct record *r = net->facts->records[i];
        if (r->kind != RECORD_SOAKED || r->part != PART_UNIT) continue;
        last_s = later_s(last_s, r->at_s);
        break;
    }
    return last_s;
}

static void add_dry(struct bounds *bounds, const struct net *net, enum task task)
{
    const struct rule_number *dry = &net->rulebook->settings[SETTING_FIRE_DRY_H];
    const int64_t dry_s = llround(dry->value * NETWORK_HOUR_S);
    const int64_t now_s = net->facts->now_s;
    int64_t wet_s = wetted_s(net, now_s - dry_s);
    const struct step *step = &net->steps[task];
    if (step->phase == PHASE_FAILED) wet_s = later_s(wet_s, step->redone_s); /* steam at a fire */
    if (wet_s == INSTANT_NONE) return;
    struct reason reason =
        explain_plain(REASON_LOOK, setting_ids.ids[SETTING_FIRE_DRY_H], wet_s + dry_s, TASK_NONE);
    reason.have = (double)(now_s - wet_s) / NETWORK_HOUR_S;
    reason.need = dry->value;
    reason.mark = dry->mark;
    reason.source = dry->source;
    explain_add(bounds, reason, reason.until_s <= now_s);
}

void fire_gate_add(struct bounds *bounds, const struct net *net, enum task task)
{
    const struct fire_plan *fire = &net->out->fire;
    const struct zone *zone = net->facts->job->zone;
    add_dry(bounds, net, task);
    if (fire->blocked_by & FIRE_BLOCK_LIT)
        explain_add(bounds, explain_plain(REASON_LIT, "lit", INSTANT_NONE, TASK_NONE), false);
    if (fire->blocked_by & FIRE_BLOCK_FACING)
        explain_add(bounds, explain_plain(REASON_FACING_LAST, "facing", INSTANT_NONE, TASK_NONE),
                    false);
    if (fire->blocked_by == 0 && fire->cure_complete_day != DAY_NONE) {
        int64_t day_s = civil_day_start_s(zone, fire->cure_complete_day);
        bool named = false;
        for (size_t i = 0; i < bounds->count && !named; i++)
            named = bounds->reasons[i].kind == REASON_CLOCK && bounds->reasons[i].until_s >= day_s;
        if (named) return; /* the clock that drives the date stands there already */
        const struct clock_plan *clock =
            fire->driven_by == CLOCK_NONE ? NULL : net->clocks[fire->driven_by];
        struct reason reason =
            clock != NULL ? explain_clock(clock)
                          : explain_plain(REASON_LOOK, "fire.cure-complete", day_s, TASK_NONE);
        reason.until_s = day_s;
        explain_add(bounds, reason, day_s <= net->facts->now_s);
        return;
    }
    if (bounds->unknown) return; /* what takes the date away stands there already */
    bool unlined = (fire->blocked_by & FIRE_BLOCK_NOT_LINED) != 0;
    explain_add(bounds,
                unlined ? explain_plain(REASON_AFTER, explain_rule(EXPLAIN_AFTER, TASK_LINE_CLEAN),
                                        INSTANT_NONE, TASK_LINE_CLEAN)
                        : explain_plain(REASON_CLOCK_UNKNOWN, "fire.cure-complete", INSTANT_NONE,
                                        TASK_NONE),
                false);
}
