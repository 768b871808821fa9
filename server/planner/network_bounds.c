/* SPDX-License-Identifier: MIT */
/*
 * Why: every constraint on one unfinished task. Nothing here decides; each link of the rulebook,
 * each clock and each last chance becomes a reason with its end, and the totals say what follows.
 */
#include "planner/network_internal.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/bag.h"
#include "planner/clock_year.h"
#include "planner/explain.h"
#include "planner/fire_gate.h"

#include "base/banned.h"

/* Keep apart what the crew itself was doing until then: it is on site. */
static void note_end(struct bounds *bounds, int64_t until_s, bool crew)
{
    if (crew)
        bounds->crew_s = later_s(bounds->crew_s, until_s);
    else
        bounds->other_s = later_s(bounds->other_s, until_s);
}

static void add(struct bounds *bounds, struct reason reason, bool met)
{
    note_end(bounds, reason.until_s, false);
    explain_add(bounds, reason, met);
}

/* --- tasks ----------------------------------------------------------------------------------- */

static enum reason_kind kind_of(const struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    if (rule->inspection || rule->who == WHO_INSPECTOR) return REASON_INSPECTION;
    switch (rule->who) {
    case WHO_PLUMBER:
    case WHO_HVAC:
    case WHO_ROOFER:
    case WHO_FRAMER:
    case WHO_SETTER:
        return REASON_TRADE;
    default:
        return REASON_AFTER;
    }
}

/* Finished, but on top of something that is not in order: name that. */
static void add_root(struct bounds *bounds, const struct step *step)
{
    enum explain_rule rule = step->root_missed ? EXPLAIN_BEFORE : EXPLAIN_HOLD;
    add(bounds,
        explain_plain(step->root_missed ? REASON_MISSED : REASON_HOLD,
                      explain_rule(rule, step->root), INSTANT_NONE, step->root),
        false);
}

static void add_after(struct bounds *bounds, const struct net *net, enum task before,
                      const struct task_link *link)
{
    const struct step *step = &net->steps[before];
    const double wait_h = link == NULL ? 0 : link->wait_h;
    const int64_t now_s = net->facts->now_s;
    if (step->finished && step->root != TASK_NONE) {
        add_root(bounds, step);
        return;
    }
    bool held = network_held(step) && step->phase != PHASE_FAILED && step->phase != PHASE_REDO;
    struct reason reason = explain_plain(
        held && kind_of(net, before) == REASON_AFTER ? REASON_HOLD : kind_of(net, before),
        explain_rule(EXPLAIN_AFTER, before), INSTANT_NONE, before);
    if (step->release_s != INSTANT_NONE)
        reason.until_s = step->release_s + llround(wait_h * NETWORK_HOUR_S);
    if (link != NULL && wait_h > 0) {
        if (step->finished) reason.have = (double)(now_s - step->release_s) / NETWORK_HOUR_S;
        reason.need = wait_h;
        reason.mark = link->mark;
        reason.source = link->source;
    }
    bool met = step->finished && reason.until_s <= now_s;
    note_end(bounds, reason.until_s, wait_h <= 0 && network_by_crew(net, before));
    explain_add(bounds, reason, met);
}

/* At the same time as the named task: not before it may start. */
static void add_with(struct bounds *bounds, const struct net *net, enum task other)
{
    const struct task_plan *plan = &net->out->tasks[other];
    if (!net->steps[other].needed || net->steps[other].finished) return;
    bool met = plan->state == TASK_STATE_WAIT_OVER || plan->state == TASK_STATE_WORKING;
    struct reason reason =
        explain_plain(REASON_AFTER, explain_rule(EXPLAIN_WITH, other), plan->start_s, other);
    note_end(bounds, plan->start_s, network_by_crew(net, other));
    explain_add(bounds, reason, met);
}

/* No later than a while after the named task. A pass that is too old has to be looked at again. */
static void add_within(struct bounds *bounds, const struct net *net, const struct task_link *link)
{
    const struct step *step = &net->steps[link->task];
    if (!step->hold || !step->finished || step->implied || link->same_day) return;
    int64_t until_s = step->done_s + llround(link->wait_h * NETWORK_HOUR_S);
    if (until_s >= net->facts->now_s) return;
    struct reason reason = explain_plain(REASON_LOOK, explain_rule(EXPLAIN_WITHIN, link->task),
                                         INSTANT_NONE, link->task);
    reason.have = (double)(net->facts->now_s - step->done_s) / NETWORK_HOUR_S;
    reason.need = link->wait_h;
    reason.mark = link->mark;
    reason.source = link->source;
    bounds->check_it = true;
    add(bounds, reason, false);
}

/* --- clocks ---------------------------------------------------------------------------------- */

/* Least hours a clock needs from its start: at its floor and at the best rate of its law. */
static double least_h(struct net *net, enum clock_id clock)
{
    if (!isnan(net->clock_least_h[clock])) return net->clock_least_h[clock];
    const struct clock_rule *rule = &net->rulebook->clocks[clock];
    struct clock_terms terms;
    clock_terms_find(&terms, net->facts, clock);
    double cap = rule->kind == CLOCK_KIND_MOIST || !(rule->law.cap > 0) ? 1 : rule->law.cap;
    double hours = fmax(isnan(terms.floor_h.value) ? 0 : terms.floor_h.value,
                        isnan(terms.need.value) ? 0 : terms.need.value / cap);
    if (rule->kind == CLOCK_KIND_EITHER && rule->other != CLOCK_NONE) {
        clock_terms_find(&terms, net->facts, rule->other);
        hours = fmin(hours, terms.need.value);
    }
    net->clock_least_h[clock] = hours;
    return hours;
}

int64_t network_clock_opens_s(struct net *net, enum clock_id clock, int64_t start_s)
{
    const struct zone *zone = net->facts->job->zone;
    if (net->year != NULL) {
        const int64_t at_s = clock_year_ahead_s(net->year, clock, start_s);
        return at_s == INSTANT_NONE ? INSTANT_NONE : civil_hour_up_s(zone, at_s);
    }
    if (net->rulebook->clocks[clock].kind != CLOCK_KIND_DAYS)
        return civil_hour_up_s(zone, start_s + llround(least_h(net, clock) * NETWORK_HOUR_S));
    struct clock_terms terms;
    clock_terms_find(&terms, net->facts, clock);
    int32_t days = (int32_t)ceil(terms.need.value);
    return civil_day_start_s(zone, civil_day_of(zone, start_s) + days + 1);
}

uint64_t network_clock_starts(const struct net *net, enum clock_id clock, enum task task)
{
    const struct clock_rule *rule = &net->rulebook->clocks[clock];
    uint64_t earlier = 0, any = 0;
    for (size_t i = 0; i < rule->start_count; i++) {
        enum task start = rule->starts[i].task;
        if (start == TASK_NONE || !net->steps[start].needed || net->steps[start].finished) continue;
        if (start == task || net->steps[start].earlier & task_bit(task)) continue;
        any |= task_bit(start);
        if (net->steps[task].earlier & task_bit(start)) earlier |= task_bit(start);
    }
    return earlier != 0 ? earlier : any;
}

/* A clock that has not started, or that work still ahead will start again. */
static void add_clock_ahead(struct bounds *bounds, struct net *net, enum clock_id clock,
                            uint64_t starts)
{
    int64_t start_s = INSTANT_NONE;
    bool known = true;
    for (uint64_t m = starts; m != 0; m &= m - 1) {
        enum task t = task_first(m);
        if (net->steps[t].release_s == INSTANT_NONE) known = false;
        start_s = later_s(start_s, net->steps[t].release_s);
    }
    struct clock_terms terms;
    clock_terms_find(&terms, net->facts, clock);
    struct reason reason = explain_plain(REASON_CLOCK_NOT_STARTED, id_of(&clock_ids, (int)clock),
                                         INSTANT_NONE, TASK_NONE);
    if (known && start_s != INSTANT_NONE)
        reason.until_s = network_clock_opens_s(net, clock, start_s);
    reason.clock = clock;
    reason.have = 0;
    reason.need = terms.need.value;
    reason.unit = net->rulebook->clocks[clock].unit;
    reason.floor_h = terms.floor_h.value;
    reason.mark = terms.need.mark;
    reason.source = terms.source != NULL ? terms.source : terms.need.source;
    add(bounds, reason, false);
}

bool network_clock_ahead(const struct net *net, enum clock_id clock, enum task task)
{
    return net->clocks[clock] == NULL ||
           (network_clock_starts(net, clock, task) & net->steps[task].earlier) != 0;
}

static void add_clock(struct bounds *bounds, struct net *net, enum task task, enum clock_id clock,
                      bool if_started)
{
    const struct clock_plan *plan = net->clocks[clock];
    if (plan == NULL && if_started) return;
    uint64_t starts = network_clock_starts(net, clock, task);
    if (network_clock_ahead(net, clock, task)) add_clock_ahead(bounds, net, clock, starts);
    if (plan == NULL) return;
    if (plan->state == CLOCK_STATE_CHECK_IT) bounds->check_it = true;
    if (plan->state == CLOCK_STATE_ENDED && starts != 0) return; /* the new start counts */
    struct reason reason = explain_clock(plan);
    bool met = plan->state == CLOCK_STATE_OPEN && plan->opens_s != INSTANT_NONE &&
               plan->opens_s <= net->facts->now_s;
    add(bounds, reason, met);
}

static void add_clocks(struct bounds *bounds, struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    unsigned asked = 0;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_AFTER_CLOCK || !network_link_acts(net, link)) continue;
        asked |= 1U << (unsigned)link->clock;
        add_clock(bounds, net, task, link->clock, link->if_started);
    }
    for (int c = 0; c < CLOCK_COUNT; c++)
        if (net->steps[task].clocks & ~asked & 1U << (unsigned)c)
            add_clock(bounds, net, task, (enum clock_id)c, true);
}

/* --- lead times ------------------------------------------------------------------------------ */

enum task network_lead_of(const struct net *net, enum task task, int *days)
{
    const struct job *job = net->facts->job;
    const enum task from = task == TASK_PERMIT_GET    ? TASK_SITE_WALK
                           : task == TASK_KIT_RECEIVE ? TASK_ORDER_KIT
                                                      : TASK_NONE;
    if (from == TASK_NONE || net->steps[task].booked != NULL) return TASK_NONE;
    *days = task == TASK_PERMIT_GET ? job->permit_lead_days : job->kit_lead_days;
    if (*days < 0) return TASK_NONE;
    if (task == TASK_KIT_RECEIVE && facts_latest(net->facts, RECORD_DELIVERED, TASK_NONE) != NULL)
        return TASK_NONE; /* it has come */
    return from;
}

int64_t network_lead_s(const struct net *net, int64_t from_s, int days)
{
    const struct calendar *calendar = &net->crew_calendar;
    int32_t day = civil_day_of(calendar->zone, from_s);
    if (days == 0) return from_s;
    for (int i = 0; i < days; i++) {
        day = calendar_next_day(calendar, day + 1);
        if (day == DAY_NONE) return INSTANT_NONE;
    }
    return calendar_open_s(calendar, day);
}

/* A permit or a delivery takes the business days that somebody said it takes. */
static void add_lead(struct bounds *bounds, const struct net *net, enum task task)
{
    int days = 0;
    const enum task from = network_lead_of(net, task, &days);
    if (from == TASK_NONE || net->steps[from].release_s == INSTANT_NONE) return;
    const int64_t until_s = network_lead_s(net, net->steps[from].release_s, days);
    add(bounds, explain_plain(REASON_LEAD, "lead", until_s, task),
        until_s != INSTANT_NONE && until_s <= net->facts->now_s);
}

/* --- the rest -------------------------------------------------------------------------------- */

/* Last chances: what has to be finished before this one starts. */
static void add_chances(struct bounds *bounds, const struct net *net, enum task task)
{
    for (uint64_t m = net->steps[task].chances & ~bounds->leave_out; m != 0; m &= m - 1) {
        enum task t = task_first(m);
        const struct step *step = &net->steps[t];
        if (network_releases(step)) continue;
        bool gone = step->missed && step->closed_by != task;
        int64_t until_s = step->missed ? INSTANT_NONE : step->release_s;
        note_end(bounds, until_s, network_by_crew(net, (enum task)t));
        explain_add(bounds,
                    explain_plain(gone ? REASON_MISSED : REASON_LAST_CHANCE,
                                  explain_rule(EXPLAIN_BEFORE, (enum task)t), until_s,
                                  (enum task)t),
                    false);
    }
}

/* Forms stay on while frost is forecast before the first-frost limit. */
static void add_frost(struct bounds *bounds, const struct net *net)
{
    const struct clock_plan *clock = net->clocks[CLOCK_PAD_FIRST_FROST];
    if (clock == NULL || clock->state == CLOCK_STATE_OPEN) return;
    for (size_t i = 0; i < net->out->caution_count; i++) {
        const struct caution *caution = &net->out->cautions[i];
        if (caution->caution != CAUTION_FROST_AHEAD || caution->part != PART_PAD) continue;
        struct reason reason = explain_clock(clock);
        reason.kind = REASON_FROST_AHEAD;
        add(bounds, reason, false);
        return;
    }
}

/* The mortar there is, is out of date, damp or frozen: other mortar first. */
static void add_bag(struct bounds *bounds, const struct net *net)
{
    struct reason reason =
        explain_plain(REASON_BAG_REFUSED, "bag-refused", INSTANT_NONE, TASK_NONE);
    reason.record = bag_refused(net->facts, &reason.bag);
    if (reason.record != NULL) add(bounds, reason, false);
}

/* Nothing acts any more: say what it came after last. */
static void add_last_finished(struct bounds *bounds, const struct net *net, enum task task)
{
    enum task last = TASK_NONE;
    for (uint64_t m = net->steps[task].waits_for & ~bounds->leave_out; m != 0; m &= m - 1) {
        enum task p = task_first(m);
        if (last == TASK_NONE || net->steps[p].release_s > net->steps[last].release_s)
            last = (enum task)p;
    }
    if (last != TASK_NONE) add_after(bounds, net, last, NULL);
}

void network_bounds(struct bounds *out, struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    const struct step *step = &net->steps[task];
    uint64_t named = 0;
    out->count = out->acting_count = 0;
    out->latest_s = out->crew_s = out->other_s = INSTANT_NONE;
    out->unknown = out->unmet = out->check_it = false;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->task == TASK_NONE || !network_link_acts(net, link)) continue;
        if (out->leave_out & task_bit(link->task)) continue;
        if (link->kind == LINK_WITH) add_with(out, net, link->task);
        if (link->kind == LINK_WITHIN && net->steps[link->task].needed) add_within(out, net, link);
        if (link->kind != LINK_AFTER || !net->steps[link->task].needed) continue;
        named |= task_bit(link->task);
        if (step->chances & task_bit(link->task) && link->wait_h <= 0) continue; /* said there */
        if (!network_releases(&net->steps[link->task]) || link->wait_h > 0)
            add_after(out, net, link->task, link);
        else
            note_end(out, net->steps[link->task].release_s, network_by_crew(net, link->task));
    }
    named |= step->chances | out->leave_out;
    for (uint64_t m = step->waits_for & ~named; m != 0; m &= m - 1)
        if (!network_releases(&net->steps[task_first(m)])) add_after(out, net, task_first(m), NULL);
    add_clocks(out, net, task);
    add_chances(out, net, task);
    if (rule->mortar) add_bag(out, net);
    if (task == TASK_PAD_STRIP) add_frost(out, net);
    add_lead(out, net, task);
    if (task >= TASK_FIRE_1 && task <= TASK_FIRE_5) fire_gate_add(out, net, task);
    if (step->missed) {
        out->check_it = true;
        add(out,
            explain_plain(REASON_MISSED, explain_rule(EXPLAIN_BEFORE, task), INSTANT_NONE,
                          step->closed_by),
            false);
    }
    if (out->count == 0) add_last_finished(out, net, task);
    out->acting_count = out->count;
}
