/* SPDX-License-Identifier: MIT */
/*
 * Why: the telephone list. Which inspections somebody has to ask for, by when, and what each holds
 * up. A cut-off that went by is priced: the visit it would have given against the one that is left,
 * and the first fire with either.
 */
#include "planner/network_internal.h"

#include "compute/civil.h"
#include "planner/inspect.h"
#include "planner/network.h"

#include "base/banned.h"

enum { CALL_IN_DAYS_AHEAD = 14 /* ten business days */ };

/* Booked for a day that is still to come. */
static bool is_booked(const struct net *net, const struct step *step)
{
    const struct zone *zone = net->facts->job->zone;
    return step->booked != NULL && step->booked->day != DAY_NONE &&
           step->booked->day >= civil_day_of(zone, net->facts->now_s);
}

static bool is_wanted(const struct net *net, enum task task)
{
    const struct step *step = &net->steps[task];
    const struct task_plan *plan = &net->out->tasks[task];
    return net->rulebook->tasks[task].who == WHO_INSPECTOR && step->needed && !step->finished &&
           step->phase != PHASE_STARTED && plan->start_s != INSTANT_NONE && !is_booked(net, step);
}

/* The first fire if this inspection were over at another instant. */
static int32_t fire_day_with(const struct net *net, enum task task, int64_t finish_s)
{
    int64_t finished_s[TASK_COUNT];
    for (int t = 0; t < TASK_COUNT; t++) finished_s[t] = INSTANT_NONE;
    finished_s[task] = finish_s;
    return network_fire_day_if(net->out, net->facts, finished_s);
}

/* What the cut-off that went by would have given. */
static void price(struct call_in *out, const struct net *net)
{
    const struct company *company = net->facts->company;
    const struct job *job = net->facts->job;
    const struct task_plan *plan = &net->out->tasks[out->task];
    struct calendar visits;
    inspect_calendar(&visits, out->inspector, company, job);
    const int64_t ready_s = later_s(net->facts->now_s, plan->opens_s);
    const int64_t could_s = calendar_start_s(&visits, ready_s, 0);
    if (could_s == INSTANT_NONE) return;
    const int32_t could_day = civil_day_of(job->zone, could_s);
    const int64_t by_s = inspect_request_by_s(company, job, could_day);
    if (could_day >= out->visit_day || by_s == INSTANT_NONE || by_s >= net->facts->now_s) return;
    out->missed_s = by_s;
    out->cost_days = out->visit_day - could_day;
    const int64_t length_s = plan->finish_s == INSTANT_NONE ? 0 : plan->finish_s - plan->start_s;
    const int32_t fire_day = fire_day_with(net, out->task, could_s + length_s);
    if (fire_day != DAY_NONE && net->out->fire.projected_day != DAY_NONE)
        out->end_cost_days = net->out->fire.projected_day - fire_day;
}

void network_call_ins(struct net *net)
{
    const struct company *company = net->facts->company;
    const struct job *job = net->facts->job;
    const int32_t today = civil_day_of(job->zone, net->facts->now_s);
    size_t count = 0, room = 0;
    for (int t = 0; t < TASK_COUNT; t++) room += is_wanted(net, (enum task)t) ? 1 : 0;
    net->out->call_ins = NULL;
    net->out->call_in_count = 0;
    if (room == 0) return;
    struct call_in *items = ARENA_TAKE(net->facts->arena, room, struct call_in);
    if (items == NULL) return;
    for (int t = 0; t < TASK_COUNT; t++) {
        if (!is_wanted(net, (enum task)t)) continue;
        const int32_t visit = civil_day_of(job->zone, net->out->tasks[t].start_s);
        if (visit > today + CALL_IN_DAYS_AHEAD) continue;
        struct call_in *call = &items[count++];
        *call = (struct call_in){.job = net->out,
                                 .task = (enum task)t,
                                 .inspector = inspect_party(company, job),
                                 .visit_day = visit,
                                 .request_by_s = inspect_request_by_s(company, job, visit),
                                 .missed_s = INSTANT_NONE,
                                 .releases = net->steps[t].releases | net->steps[t].precedes};
        call->today = call->request_by_s == INSTANT_NONE
                          ? visit <= today + 1
                          : civil_day_of(job->zone, call->request_by_s) <= today;
        price(call, net);
    }
    net->out->call_ins = items;
    net->out->call_in_count = count;
}
