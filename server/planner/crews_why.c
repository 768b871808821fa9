/* SPDX-License-Identifier: MIT */
/*
 * Why: a proposal that does not say why is an order. Each piece carries the first reason that
 * holds, and each difference from an earlier proposal what changed and what made it change.
 */
#include <string.h>

#include "compute/civil.h"
#include "planner/crews_internal.h"
#include "planner/gate_list.h"

#include "base/banned.h"

enum { DAY_S = 86400, WEATHER_AHEAD_DAYS = 3 };

static bool held(const struct task_plan *task)
{
    for (size_t i = 0; i < task->because_count; i++)
        if (task->because[i].kind == REASON_HELD_DATE) return true;
    return false;
}

/* Whether somebody from outside is booked to find this done. */
static bool somebody_booked(const struct crews *crews, const struct job_plan *job, enum task task)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        if (crews_task_ours(crews, (enum task)t) || crews_task_over(&job->tasks[t])) continue;
        if (held(&job->tasks[t]) && crews_waits_for(crews, job, (enum task)t) >> task & 1)
            return true;
    }
    return false;
}

static bool starts_long_clock(enum task task)
{
    return task == TASK_PAD_POUR || task == TASK_CHIMNEY_RUN || task == TASK_CAP_SET ||
           task == TASK_LINE_FLOOR || task == TASK_LINE_BACK || task == TASK_LINE_SIDES ||
           task == TASK_LINE_CLEAN;
}

/* Whether the weather closes work of the crews, of any job, in the time of a piece. */
static bool bad_weather(const struct crews *crews, const struct crew_work *work)
{
    for (size_t j = 0; j < crews->casefile->job_count; j++)
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &crews->jobs[j].tasks[t];
            if (crews_task_over(task) || !crews_task_ours(crews, (enum task)t)) continue;
            if (task->opens_s == INSTANT_NONE || task->opens_s > work->start_s) continue;
            if (gate_closed_from_s(&crews->jobs[j], (enum task)t, work->start_s, work->finish_s) !=
                INSTANT_NONE)
                return true;
        }
    return false;
}

static enum crew_why why_of(const struct crews *crews, const struct crew_day *day, size_t index)
{
    const struct crew_work *work = &day->work[index];
    const struct job_plan *job = &crews->jobs[work->job - crews->casefile->jobs];
    const struct task_plan *task = &job->tasks[work->task];
    const int64_t ahead_s = work->finish_s + (int64_t)WEATHER_AHEAD_DAYS * DAY_S;
    if (task->state == TASK_STATE_WORKING || task->state == TASK_STATE_STOPPED)
        return CREW_WHY_UNDER_WAY;
    if (held(task)) return CREW_WHY_HELD_DATE;
    if (work->task == TASK_NIGHT_COVER) return CREW_WHY_COVER;
    if (somebody_booked(crews, job, work->task)) return CREW_WHY_INSPECTION;
    if (starts_long_clock(work->task)) return CREW_WHY_LONG_CLOCK;
    if (gate_closed_from_s(job, work->task, work->finish_s, ahead_s) != INSTANT_NONE)
        return CREW_WHY_WEATHER_LASTS;
    if (bad_weather(crews, work)) return CREW_WHY_BAD_WEATHER;
    if (index > 0 && day->work[index - 1].job == work->job) return CREW_WHY_ON_SITE;
    return CREW_WHY_WAIT_OVER;
}

/* The first piece an earlier proposal had of a task from now on; NULL. */
const struct crew_kept *crews_earlier(const struct crews *crews, const struct job *job,
                                      enum task task)
{
    const struct casefile *casefile = crews->casefile;
    const struct crew_kept *first = NULL;
    for (size_t k = 0; k < casefile->proposal_count; k++) {
        const struct crew_kept *kept = &casefile->proposal[k];
        if (kept->task != task || kept->start_s < crews->base_s) continue;
        if (first != NULL && first->start_s <= kept->start_s) continue;
        if (strcmp(kept->job_id, job->id) == 0) first = kept;
    }
    return first;
}

static const struct crew_plan *crew_of(const struct crews *crews, const struct crew_plan *plans,
                                       const char *id)
{
    for (size_t c = 0; c < crews->casefile->company.crew_count; c++)
        if (strcmp(plans[c].crew->id, id) == 0) return &plans[c];
    return NULL;
}

/* What a crew does at an instant; NULL: nothing. */
static const struct crew_work *doing(const struct crew_plan *plan, int64_t at_s)
{
    for (size_t d = 0; d < plan->day_count; d++)
        for (size_t i = 0; i < plan->days[d].work_count; i++)
            if (plan->days[d].work[i].start_s <= at_s && at_s < plan->days[d].work[i].finish_s)
                return &plan->days[d].work[i];
    return NULL;
}

static bool behind_moved(const struct crews *crews, const struct job_plan *job, enum task task,
                         int64_t was_s)
{
    const size_t index = (size_t)(job->job - crews->casefile->jobs);
    for (uint64_t m = crews_waits_for(crews, job, task); m != 0; m &= m - 1) {
        int32_t item = crews->item_of[crews_at(crews, index, (enum task)__builtin_ctzll(m))];
        if (item == SEQUENCE_NONE) continue;
        item += crews->items[item].pieces - 1;
        if (!crews_placed(crews, item)) return true;
        if (crews_instant_s(crews, crews->answer.finish[item]) > was_s) return true;
    }
    return false;
}

/* What made it change. */
static void blame(struct crew_change *change, const struct crews *crews,
                  const struct crew_plan *plans, const struct job_plan *job, enum task task)
{
    const struct crew_plan *crew = crew_of(crews, plans, change->was_crew_id);
    const struct task_plan *own = &job->tasks[task];
    const struct zone *zone = crews->calendar.zone;
    const int32_t was = civil_day_of(zone, change->was_start_s);
    const int32_t slot = crews_slot_up(crews, change->was_start_s);
    change->why = CREW_CHANGE_WHY_GAINS;
    if (crew == NULL || crew->crew->people < crews->rulebook->tasks[task].people) {
        change->why = CREW_CHANGE_WHY_CREW_GONE;
        return;
    }
    if (change->kind == CREW_CHANGE_SOONER) return;
    if (own->start_s == INSTANT_NONE || civil_day_of(zone, own->start_s) > was) {
        change->why = CREW_CHANGE_WHY_OWN_DATE;
        return;
    }
    if (behind_moved(crews, job, task, change->was_start_s)) {
        change->why = CREW_CHANGE_WHY_BEHIND;
        return;
    }
    const int32_t calendar = crews_calendar_index(crews, job, task);
    if (slot < crews->slots && !crews->calendars[calendar][slot]) {
        change->why = CREW_CHANGE_WHY_CLOSED;
        return;
    }
    const struct crew_work *instead = doing(crew, change->was_start_s);
    if (instead == NULL || (instead->job == job->job && instead->task == task)) return;
    change->why = CREW_CHANGE_WHY_CREW_BUSY;
    change->instead_job = instead->job;
    change->instead_task = instead->task;
}

struct crew_change crews_change_of(const struct crews *crews, const struct crew_plan *plans,
                                   const struct job_plan *job, enum task task,
                                   const struct crew *crew, int64_t start_s)
{
    struct crew_change change = {.was_start_s = INSTANT_NONE, .instead_task = TASK_NONE};
    if (crews->casefile->proposal_count == 0 || task == TASK_NIGHT_COVER) return change;
    const struct crew_kept *kept = crews_earlier(crews, job->job, task);
    if (kept == NULL) {
        if (crew != NULL) change.kind = CREW_CHANGE_NEW;
        return change;
    }
    const int32_t was = civil_day_of(crews->calendar.zone, kept->start_s);
    const int32_t now = crew == NULL ? was : civil_day_of(crews->calendar.zone, start_s);
    if (crew == NULL)
        change.kind = CREW_CHANGE_LEFT_OUT;
    else if (now != was)
        change.kind = now < was ? CREW_CHANGE_SOONER : CREW_CHANGE_LATER;
    else if (strcmp(crew->id, kept->crew_id) != 0)
        change.kind = CREW_CHANGE_OTHER_CREW;
    if (change.kind == CREW_CHANGE_NONE) return change;
    change.was_start_s = kept->start_s;
    change.was_crew_id = kept->crew_id;
    blame(&change, crews, plans, job, task);
    return change;
}

void crews_why_find(struct crews *crews, struct crew_plan *plans)
{
    for (size_t c = 0; c < crews->casefile->company.crew_count; c++)
        for (size_t d = 0; d < plans[c].day_count; d++) {
            const struct crew_day *day = &plans[c].days[d];
            struct crew_work *works = crews->work[c] + (day->work - crews->work[c]);
            for (size_t i = 0; i < day->work_count; i++) {
                struct crew_work *work = &works[i];
                const size_t index = (size_t)(work->job - crews->casefile->jobs);
                const int32_t item = crews->item_of[crews_at(crews, index, work->task)];
                work->why = why_of(crews, day, i);
                work->change =
                    (struct crew_change){.was_start_s = INSTANT_NONE, .instead_task = TASK_NONE};
                if (item == SEQUENCE_NONE || crews->seen[crews_at(crews, index, work->task)])
                    continue;
                crews->seen[crews_at(crews, index, work->task)] = true;
                work->change = crews_change_of(crews, plans, &crews->jobs[index], work->task,
                                               plans[c].crew, work->start_s);
            }
        }
}
