/* SPDX-License-Identifier: MIT */
/*
 * Why: see lists.h. Each list answers one question of the owner's morning and is in the order in
 * which it is read: what has to be called in first by its cut-off, fires by their day, idle work by
 * how long it has been ready.
 */
#include "planner/lists.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/network_internal.h"

#include "base/banned.h"

static bool is_over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

/* --- call in ---------------------------------------------------------------------------------- */

static bool calls_before(const struct call_in *a, const struct call_in *b)
{
    if (a->request_by_s != b->request_by_s) {
        if (a->request_by_s == INSTANT_NONE || b->request_by_s == INSTANT_NONE)
            return b->request_by_s == INSTANT_NONE;
        return a->request_by_s < b->request_by_s;
    }
    return a->visit_day < b->visit_day;
}

static void call_ins(struct plan *plan, struct arena *arena)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->job_count; i++) count += plan->jobs[i].call_in_count;
    struct call_in *list = ARENA_TAKE(arena, count, struct call_in);
    if (list == NULL) return;
    size_t used = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        for (size_t k = 0; k < plan->jobs[i].call_in_count; k++) {
            const struct call_in call = plan->jobs[i].call_ins[k];
            size_t at = used++;
            for (; at > 0 && calls_before(&call, &list[at - 1]); at--) list[at] = list[at - 1];
            list[at] = call;
            list[at].job = &plan->jobs[i];
        }
    plan->lists.call_ins = list;
    plan->lists.call_in_count = used;
}

/* --- first fires --------------------------------------------------------------------------------
 */

/* Everything that stands before a task by the links that act for a job. */
static uint64_t before_of(const struct rulebook *rulebook, const struct options *options,
                          enum task task)
{
    const struct task_rule *rule = &rulebook->tasks[task];
    uint64_t before = 0;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (!rulebook_holds(link->when, link->when_count, options)) continue;
        if (link->kind == LINK_AFTER) before |= task_bit(link->task);
        if (link->kind != LINK_AFTER_CLOCK || link->if_started) continue;
        const struct clock_rule *clock = &rulebook->clocks[link->clock];
        for (size_t k = 0; k < clock->start_count; k++)
            if (clock->starts[k].task != TASK_NONE) before |= task_bit(clock->starts[k].task);
    }
    for (int t = 0; t < TASK_COUNT; t++)
        for (size_t i = 0; i < rulebook->tasks[t].link_count; i++) {
            const struct task_link *link = &rulebook->tasks[t].links[i];
            if (link->kind == LINK_BEFORE && link->task == task &&
                rulebook_holds(link->when, link->when_count, options))
                before |= task_bit((enum task)t);
        }
    return before;
}

static uint64_t left_before_fire(const struct job_plan *job, const struct rulebook *rulebook)
{
    uint64_t seen = task_bit(TASK_FIRE_1), fresh = seen, left = 0;
    while (fresh != 0) {
        const enum task task = task_first(fresh);
        fresh &= fresh - 1;
        const uint64_t before = before_of(rulebook, &job->job->options, task) & ~seen;
        seen |= before;
        fresh |= before;
    }
    for (uint64_t m = seen & ~task_bit(TASK_FIRE_1); m != 0; m &= m - 1)
        if (!is_over(&job->tasks[task_first(m)])) left |= task_bit(task_first(m));
    return left;
}

static bool fires_before(const struct first_fire *a, const struct first_fire *b)
{
    if (a->day == b->day) return false;
    if (a->day == DAY_NONE || b->day == DAY_NONE) return b->day == DAY_NONE;
    return a->day < b->day;
}

static void first_fires(struct plan *plan, const struct rulebook *rulebook, struct arena *arena)
{
    struct first_fire *list = ARENA_TAKE(arena, plan->job_count, struct first_fire);
    if (list == NULL) return;
    size_t used = 0;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        const struct task_plan *task = &job->tasks[TASK_FIRE_1];
        const struct fire_plan *fire = &job->fire;
        if (is_over(task)) continue;
        struct first_fire one = {.job = job, .left = left_before_fire(job, rulebook)};
        const int32_t given = fire->agreed_day != DAY_NONE ? fire->agreed_day : fire->promise_day;
        one.day = fire->projected_day;
        one.projected = fire->earliest_day == DAY_NONE;
        const int32_t from = one.day != DAY_NONE ? one.day : fire->earliest_day;
        one.thin = given != DAY_NONE && from != DAY_NONE &&
                   (double)(given - from) < rulebook_setting(rulebook, SETTING_PROMISE_THIN_DAYS);
        one.driver = task->because_count > 0 ? &task->because[0] : NULL;
        size_t at = used++;
        for (; at > 0 && fires_before(&one, &list[at - 1]); at--) list[at] = list[at - 1];
        list[at] = one;
    }
    plan->lists.first_fires = list;
    plan->lists.first_fire_count = used;
}

/* --- ready, and nobody is on it ------------------------------------------------------------------
 */

static bool somebody_is_on(const struct plan *plan, const struct job_plan *job, enum task task)
{
    for (size_t c = 0; c < plan->crew_count; c++)
        for (size_t d = 0; d < plan->crews[c].day_count && d < 1; d++) /* the next crew day */
            for (size_t i = 0; i < plan->crews[c].days[d].work_count; i++) {
                const struct crew_work *work = &plan->crews[c].days[d].work[i];
                if (work->job == job->job && work->task == task) return true;
            }
    return false;
}

static bool idles_before(const struct idle_work *a, const struct idle_work *b)
{
    if (a->since_s == INSTANT_NONE || b->since_s == INSTANT_NONE)
        return a->since_s != INSTANT_NONE && b->since_s == INSTANT_NONE;
    return a->since_s < b->since_s;
}

static void idle(struct plan *plan, const struct rulebook *rulebook, struct arena *arena)
{
    size_t room = 0, used = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        for (int t = 0; t < TASK_COUNT; t++)
            room += plan->jobs[i].tasks[t].state == TASK_STATE_WAIT_OVER ? 1 : 0;
    struct idle_work *list = ARENA_TAKE(arena, room, struct idle_work);
    if (list == NULL) return;
    for (size_t i = 0; i < plan->job_count; i++)
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct job_plan *job = &plan->jobs[i];
            const enum who who = rulebook->tasks[t].who;
            if (job->tasks[t].state != TASK_STATE_WAIT_OVER) continue;
            if (who != WHO_CREW && who != WHO_MASON) continue;
            if (somebody_is_on(plan, job, (enum task)t)) continue;
            const struct idle_work one = {job, (enum task)t, job->tasks[t].opens_s};
            size_t at = used++;
            for (; at > 0 && idles_before(&one, &list[at - 1]); at--) list[at] = list[at - 1];
            list[at] = one;
        }
    plan->lists.idle = list;
    plan->lists.idle_count = used;
}

/* --- who is owed a call
 * --------------------------------------------------------------------------- */

static const char *phone_of(const struct company *company, const struct rulebook *rulebook,
                            enum task task)
{
    const char *id = id_of(&who_ids, (int)rulebook->tasks[task].who);
    for (size_t i = 0; i < company->trade_count; i++)
        if (strcmp(company->trades[i].id, id) == 0) return company->trades[i].phone;
    return NULL;
}

static bool homeowner_is_owed(const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    if (fire->agreed_day == DAY_NONE || is_over(&job->tasks[TASK_FIRE_1])) return false;
    return !fire->agreed_holds && !fire->told;
}

static void owed(struct plan *plan, const struct rulebook *rulebook, struct arena *arena)
{
    size_t room = plan->job_count, used = 0;
    for (size_t i = 0; i < plan->job_count; i++) room += plan->jobs[i].caution_count;
    struct owed_call *list = ARENA_TAKE(arena, room, struct owed_call);
    if (list == NULL) return;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        const struct zone *zone = job->job->zone;
        if (homeowner_is_owed(job))
            list[used++] = (struct owed_call){job, TASK_NONE, job->fire.agreed_day,
                                              job->fire.earliest_day, NULL};
        for (size_t k = 0; k < job->caution_count; k++) {
            const struct caution *caution = &job->cautions[k];
            if (caution->caution != CAUTION_SLOT_LOST) continue;
            const int64_t start_s = job->tasks[caution->task].start_s;
            list[used++] =
                (struct owed_call){job, caution->task, civil_day_of(zone, caution->at_s),
                                   start_s == INSTANT_NONE ? DAY_NONE : civil_day_of(zone, start_s),
                                   phone_of(&plan->casefile->company, rulebook, caution->task)};
        }
    }
    plan->lists.owed = list;
    plan->lists.owed_count = used;
}

void lists_make(struct plan *plan, const struct rulebook *rulebook, struct arena *arena)
{
    call_ins(plan, arena);
    first_fires(plan, rulebook, arena);
    idle(plan, rulebook, arena);
    owed(plan, rulebook, arena);
}
