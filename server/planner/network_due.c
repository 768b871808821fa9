/* SPDX-License-Identifier: MIT */
/*
 * Why: dates by which a task has to be done. `within` says how long after another it may come; a
 * last chance ends when what closes it in would begin if it did not wait. Neither moves a start:
 * the one who is late is told, the one who would close something in is held back elsewhere.
 */
#include "planner/network_internal.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"

#include "base/banned.h"

/* The end of a limit that runs from an instant. */
static int64_t limit_s(const struct net *net, const struct task_link *link, int64_t from_s)
{
    const struct zone *zone = net->facts->job->zone;
    if (from_s == INSTANT_NONE) return INSTANT_NONE;
    if (link->same_day) return civil_day_start_s(zone, civil_day_of(zone, from_s) + 1) - 1;
    return from_s + llround(link->wait_h * NETWORK_HOUR_S);
}

/* Rain on green joints that nobody has covered: the hour it is forecast for. */
static int64_t rain_ahead_s(const struct net *net)
{
    const struct job *job = net->facts->job;
    if (job->station == NULL || job->station->forecast.rain_mm == NULL) return INSTANT_NONE;
    const struct series *ahead = &job->station->forecast;
    for (size_t i = 0; i < ahead->count; i++) {
        const int64_t hour_s = ahead->start_s + (int64_t)i * NETWORK_HOUR_S;
        if (hour_s + NETWORK_HOUR_S > net->facts->now_s && ahead->rain_mm[i] > 0) return hour_s;
    }
    return INSTANT_NONE;
}

/* The cover is due soon after the work, sooner before rain. */
static int64_t cover_due_s(const struct net *net, int64_t joints_s)
{
    const struct task_rule *rule = &net->rulebook->tasks[TASK_NIGHT_COVER];
    int64_t due_s = INSTANT_NONE;
    if (joints_s == INSTANT_NONE) return INSTANT_NONE;
    for (size_t i = 0; i < rule->link_count; i++)
        if (rule->links[i].kind == LINK_WITHIN && network_link_acts(net, &rule->links[i]) &&
            net->steps[rule->links[i].task].done_s == joints_s)
            due_s = limit_s(net, &rule->links[i], joints_s);
    const int64_t rain_s = rain_ahead_s(net);
    if (rain_s == INSTANT_NONE || net->facts->job->options.place == PLACE_INDOOR) return due_s;
    const int64_t before_s =
        rain_s -
        llround(rulebook_setting(net->rulebook, SETTING_COVER_BEFORE_RAIN_H) * NETWORK_HOUR_S);
    return due_s == INSTANT_NONE || before_s < due_s ? before_s : due_s;
}

static bool is_ahead(const struct task_plan *plan)
{
    return plan->state != TASK_STATE_DONE && plan->state != TASK_STATE_PASSED &&
           plan->state != TASK_STATE_NOT_NEEDED;
}

static void due_of(struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    struct task_plan *out = &net->out->tasks[task];
    if (task == TASK_NIGHT_COVER) {
        const struct clock_plan *green = net->clocks[CLOCK_JOINTS_EARLY];
        const bool due = out->state == TASK_STATE_WAIT_OVER && green != NULL;
        out->due_s = cover_due_s(net, due ? green->start_s : INSTANT_NONE);
        return;
    }
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        const struct step *step = &net->steps[link->task == TASK_NONE ? task : link->task];
        if (link->kind != LINK_WITHIN || !network_link_acts(net, link) || !step->needed) continue;
        const int64_t due_s = limit_s(net, link, step->finished ? step->done_s : step->release_s);
        if (due_s != INSTANT_NONE && (out->due_s == INSTANT_NONE || due_s < out->due_s))
            out->due_s = due_s;
    }
}

/* When a task would begin if it did not wait for its last chances. */
static int64_t would_begin_s(struct net *net, enum task task, uint64_t chances)
{
    struct bounds bounds = {.leave_out = chances};
    struct span span;
    network_bounds(&bounds, net, task);
    if (bounds.unknown) return INSTANT_NONE;
    network_calendar(&span, net, task, &bounds);
    return span.start_s;
}

/* The instant at which a task closes in what had to precede it. */
static int64_t closes_s(struct net *net, enum task task)
{
    const struct step *step = &net->steps[task];
    if (step->finished || step->phase == PHASE_DONE || step->phase == PHASE_NOTED)
        return step->started_s != INSTANT_NONE ? step->started_s : step->done_s;
    if (step->phase == PHASE_STARTED || step->phase == PHASE_STOPPED) return step->started_s;
    uint64_t open = 0;
    for (uint64_t m = step->chances; m != 0; m &= m - 1)
        if (!network_releases(&net->steps[task_first(m)])) open |= task_bit(task_first(m));
    return would_begin_s(net, task, open);
}

static void chance_of(struct net *net, enum task task)
{
    struct task_plan *out = &net->out->tasks[task];
    for (uint64_t m = net->steps[task].precedes; m != 0; m &= m - 1) {
        const enum task closing = task_first(m);
        const int64_t at_s = closes_s(net, closing);
        if (at_s == INSTANT_NONE) continue;
        if (out->last_chance_s != INSTANT_NONE && out->last_chance_s <= at_s) continue;
        out->last_chance_s = at_s;
        out->closed_by = closing;
    }
}

void network_due(struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        if (!net->steps[t].needed || !is_ahead(&net->out->tasks[t])) continue;
        due_of(net, (enum task)t);
        chance_of(net, (enum task)t);
    }
}
