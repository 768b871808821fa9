/* SPDX-License-Identifier: MIT */
/*
 * Why: the forward pass. The tasks are taken in order, so that everything a task waits for is
 * worked out before it; each gets its constraints, its dates and the one word for how it stands.
 */
#include "planner/network.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"
#include "planner/fire_steps.h"
#include "planner/network_internal.h"

#include "base/banned.h"

/* --- states ---------------------------------------------------------------------------------- */

static bool by_trade(enum who who)
{
    return who == WHO_PLUMBER || who == WHO_HVAC || who == WHO_ROOFER || who == WHO_FRAMER ||
           who == WHO_SETTER;
}

static bool is_cure(const struct reason *reason)
{
    return reason->kind == REASON_CLOCK || reason->kind == REASON_CLOCK_UNKNOWN;
}

/* Its own constraints are met: it only has to be done, or to be passed. */
static bool under_way(const struct net *net, enum task task)
{
    return net->steps[task].ready || net->out->tasks[task].held;
}

/* What an unmet task means for the task behind it. */
static enum task_state behind(const struct net *net, enum task task)
{
    enum who who = net->rulebook->tasks[task].who;
    if (!under_way(net, task)) return TASK_STATE_NOT_YET;
    if (who == WHO_INSPECTOR) return TASK_STATE_WAITING_INSPECTOR;
    if (by_trade(who)) return TASK_STATE_WAITING_TRADE;
    if (task == TASK_KIT_RECEIVE) return TASK_STATE_WAITING_PART;
    return TASK_STATE_NOT_YET;
}

/** What the unmet constraints of a task are made of. */
struct wait {
    bool cure;         /**< a clock that runs */
    bool frost;        /**< forms stay on for the frost */
    bool task;         /**< another task */
    bool idle;         /**< a task that cannot be done yet either */
    bool follows_cure; /**< a task that waits for the cure itself */
    bool other;
    const struct reason *driver; /**< the one that ends last */
};

static void weigh(struct wait *wait, const struct net *net, const struct reason *r)
{
    if (is_cure(r))
        wait->cure = true;
    else if (r->kind == REASON_FROST_AHEAD)
        wait->frost = true;
    else if (r->task == TASK_NONE || net->steps[r->task].finished)
        wait->other = true;
    else {
        wait->task = true;
        if (!under_way(net, r->task)) wait->idle = true;
        if (net->out->tasks[r->task].state == TASK_STATE_WAITING_CURE) wait->follows_cure = true;
    }
    const struct reason *driver = wait->driver;
    if (driver != NULL && driver->until_s == INSTANT_NONE) return;
    if (driver == NULL || r->until_s == INSTANT_NONE || r->until_s > driver->until_s)
        wait->driver = r;
}

/*
 * The word for a task that waits. It waits for the cure when a clock of its own runs and nothing
 * else is in the way, or what is in the way waits for the cure too or is done before the clock is
 * open. Else what ends last says whom it waits for.
 */
static enum task_state waiting(const struct net *net, const struct bounds *bounds)
{
    struct wait wait = {.driver = NULL};
    for (size_t i = 0; i < bounds->acting_count; i++) {
        if (!bounds->met[i]) weigh(&wait, net, &bounds->reasons[i]);
    }
    if (wait.driver == NULL) return TASK_STATE_NOT_YET;
    if (wait.frost && !wait.task && !wait.other) return TASK_STATE_WAITING_WEATHER;
    if (wait.cure && !wait.task && !wait.other) return TASK_STATE_WAITING_CURE;
    if (wait.cure && (wait.follows_cure || (is_cure(wait.driver) && !wait.idle)))
        return TASK_STATE_WAITING_CURE;
    if (wait.driver->kind == REASON_BAG_REFUSED) return TASK_STATE_WAITING_PART;
    return wait.driver->task == TASK_NONE ? TASK_STATE_NOT_YET : behind(net, wait.driver->task);
}

static enum task_state state_of(const struct net *net, enum task task, const struct bounds *bounds,
                                const struct span *span)
{
    const struct step *step = &net->steps[task];
    const struct task_rule *rule = &net->rulebook->tasks[task];
    if (step->phase == PHASE_STARTED) return TASK_STATE_WORKING;
    if (step->phase == PHASE_STOPPED) return TASK_STATE_STOPPED;
    if (bounds->check_it) return TASK_STATE_CHECK_IT;
    if (step->phase == PHASE_FAILED || step->phase == PHASE_REDO) return TASK_STATE_REDO;
    if (bounds->unmet) return waiting(net, bounds);
    if (span->weather) return TASK_STATE_WAITING_WEATHER;
    if (span->booked && rule->who == WHO_INSPECTOR) return TASK_STATE_WAITING_INSPECTOR;
    if (span->booked && by_trade(rule->who)) return TASK_STATE_WAITING_TRADE;
    if (task == TASK_KIT_RECEIVE && facts_latest(net->facts, RECORD_DELIVERED, TASK_NONE) == NULL)
        return TASK_STATE_WAITING_PART;
    return TASK_STATE_WAIT_OVER;
}

/* --- one task -------------------------------------------------------------------------------- */

/* Never done and no longer to be: the reason says on whose word. */
static void plan_excused(const struct net *net, const struct step *step, struct task_plan *out)
{
    struct bounds bounds = {.latest_s = INSTANT_NONE};
    struct reason reason = explain_plain(REASON_EXCUSED, explain_rule(EXPLAIN_BEFORE, out->task),
                                         step->excused->at_s, step->closed_by);
    reason.record = step->excused;
    out->state = TASK_STATE_NOT_NEEDED;
    explain_add(&bounds, reason, true);
    explain_keep(out, &bounds, net->facts->arena);
}

static void plan_finished(const struct net *net, const struct step *step, struct task_plan *out)
{
    out->state = step->phase == PHASE_PASSED ? TASK_STATE_PASSED : TASK_STATE_DONE;
    if (step->phase == PHASE_EXCUSED) {
        plan_excused(net, step, out);
        return;
    }
    out->start_s = step->started_s;
    out->finish_s = out->done_s = step->done_s;
}

/* Done and not passed, or an inspection that later work has passed by: somebody has to look. */
static void plan_held(struct net *net, enum task task, struct task_plan *out)
{
    struct bounds bounds = {.latest_s = INSTANT_NONE};
    const struct step *step = &net->steps[task];
    out->state = TASK_STATE_CHECK_IT;
    out->held = true;
    out->start_s = step->started_s;
    out->done_s = step->done_s;
    if (net->answers.failing & task_bit(task)) hold_explain(&bounds, net, task);
    if (bounds.count == 0 || (step->hold && step->phase != PHASE_CHECK))
        explain_add(
            &bounds,
            explain_plain(REASON_HOLD, explain_rule(EXPLAIN_HOLD, task), INSTANT_NONE, task),
            false);
    explain_keep(out, &bounds, net->facts->arena);
}

static void plan_ahead(struct net *net, enum task task, struct task_plan *out)
{
    struct step *step = &net->steps[task];
    const struct task_rule *rule = &net->rulebook->tasks[task];
    const double known_h = isnan(out->hours) ? rule->hours_fixed : out->hours;
    struct bounds bounds = {.leave_out = 0};
    struct span span = {INSTANT_NONE, INSTANT_NONE, false, false};
    network_bounds(&bounds, net, task);
    step->ready = !bounds.unmet;
    out->opens_s = bounds.unknown ? INSTANT_NONE : bounds.latest_s;
    if (step->phase == PHASE_STARTED) {
        span.start_s = step->started_s;
        span.finish_s = network_finish_s(net, task, step->started_s, out->hours);
        step->release_s = network_finish_s(net, task, step->started_s, known_h);
    } else if (!bounds.unknown) {
        network_calendar(&span, net, task, &bounds);
        step->release_s =
            isnan(out->hours) ? network_finish_s(net, task, span.start_s, known_h) : span.finish_s;
    }
    if (net->pins != NULL && net->pins[task] != INSTANT_NONE) step->release_s = net->pins[task];
    out->start_s = span.start_s;
    out->finish_s = span.finish_s;
    out->state = state_of(net, task, &bounds, &span);
    network_gate_notes(net, task, out);
    if (step->phase == PHASE_STOPPED)
        explain_add(&bounds, explain_plain(REASON_STOPPED, "stopped", step->stopped_s, task), true);
    explain_keep(out, &bounds, net->facts->arena);
}

static void plan_task(struct net *net, enum task task)
{
    struct step *step = &net->steps[task];
    struct task_plan *out = &net->out->tasks[task];
    *out = (struct task_plan){.task = task,
                              .state = TASK_STATE_NOT_NEEDED,
                              .start_s = INSTANT_NONE,
                              .finish_s = INSTANT_NONE,
                              .outlook = OUTLOOK_NONE,
                              .outlook_finish = OUTLOOK_NONE,
                              .opens_s = INSTANT_NONE,
                              .hours = NAN,
                              .bucket_h = NAN,
                              .done_s = INSTANT_NONE,
                              .latest_finish_s = INSTANT_NONE,
                              .days_to_spare = DAY_NONE,
                              .last_chance_s = INSTANT_NONE,
                              .closed_by = TASK_NONE,
                              .due_s = INSTANT_NONE};
    if (!step->needed) return;
    out->hours = net->durations[task].hours;
    if (network_by_crew(net, task)) out->crew_id = net->facts->job->crew_id;
    if (network_special(net, task)) return;
    bool held = (step->phase == PHASE_DONE && step->hold) || step->phase == PHASE_NOTED ||
                step->phase == PHASE_CHECK;
    if (step->finished)
        plan_finished(net, step, out);
    else if (held || step->implied)
        plan_held(net, task, out);
    else
        plan_ahead(net, task, out);
}

/* Crew work that has to follow a task within the day, so that both are planned together. */
static void find_following(struct net *net)
{
    const double day_h = calendar_day_h(&net->crew_calendar);
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &net->rulebook->tasks[t];
        const struct step *step = &net->steps[t];
        if (t == TASK_NIGHT_COVER || !step->needed || step->finished) continue;
        if (!network_by_crew(net, (enum task)t) || isnan(net->durations[t].hours)) continue;
        for (size_t i = 0; i < rule->link_count; i++) {
            const struct task_link *link = &rule->links[i];
            if (link->kind != LINK_WITHIN || !network_link_acts(net, link)) continue;
            if (!link->same_day && link->wait_h > day_h) continue;
            net->follow_h[link->task] += net->durations[t].hours;
        }
    }
}

/* The bed under the chimney: when it was laid, or will be. Known in time, for the order has it. */
static void note_bed(struct net *net)
{
    const struct clock_plan *bed = net->clocks[CLOCK_BED_SET];
    const double feet = net->facts->job->quantities[QUANTITY_CHIMNEY_FT];
    net->lifts_s = INSTANT_NONE;
    if (!(feet > 0) || isnan(net->durations[TASK_CHIMNEY_RUN].hours)) return;
    net->lifts_s = net->steps[TASK_TRANSITION_SET].release_s;
    if (bed != NULL) net->lifts_s = later_s(net->lifts_s, bed->start_s);
}

void network_begin(struct net *net, struct job_plan *out, const struct facts *facts)
{
    *net = (struct net){.out = out,
                        .facts = facts,
                        .rulebook = facts->rulebook,
                        .lifts_s = INSTANT_NONE,
                        .projected_s = INSTANT_NONE};
    for (int c = 0; c < CLOCK_COUNT; c++) net->clock_least_h[c] = NAN;
    for (size_t i = 0; i < out->clock_count; i++)
        net->clocks[out->clocks[i].clock] = &out->clocks[i];
    calendar_of_company(&net->crew_calendar, facts->company);
    network_records(net);
    fire_steps_apply(net);
    network_order(net);
    for (int t = 0; t < TASK_COUNT; t++)
        net->durations[t] = duration_of(net->rulebook, facts->job, (enum task)t);
    find_following(net);
}

void network_forward(struct net *net)
{
    for (int i = 0; i < TASK_COUNT; i++) {
        if (net->order[i] == TASK_CHIMNEY_RUN) note_bed(net);
        plan_task(net, net->order[i]);
    }
}

/* The day of the first fire: its own start, or where the work ahead leads. */
static int32_t fire_day(const struct net *net)
{
    const struct task_plan *fire = &net->out->tasks[TASK_FIRE_1];
    const int64_t at_s = fire->start_s != INSTANT_NONE ? fire->start_s : net->projected_s;
    return at_s == INSTANT_NONE ? DAY_NONE : civil_day_of(net->facts->job->zone, at_s);
}

void network_plan(struct job_plan *out, const struct facts *facts)
{
    struct net net;
    network_begin(&net, out, facts);
    network_forward(&net);
    hold_fill(&net);
    out->fire.projected_day = fire_day(&net);
    network_due(&net);
    network_back(&net);
    network_call_ins(&net);
}

int32_t network_fire_day_if(const struct job_plan *plan, const struct facts *facts,
                            const int64_t finished_s[TASK_COUNT])
{
    struct net net;
    struct job_plan *copy = ARENA_TAKE(facts->arena, 1, struct job_plan);
    if (copy == NULL) return DAY_NONE;
    *copy = *plan;
    network_begin(&net, copy, facts);
    net.pins = finished_s;
    network_forward(&net);
    return fire_day(&net);
}
