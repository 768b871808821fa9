/* SPDX-License-Identifier: MIT */
/*
 * Why: see changes.h. A reason is found by asking again, not by guessing: the plan is worked out
 * without each new record in turn, so that the one that is named is one without which the date
 * would be another.
 */
#include "planner/changes.h"

#include <stdlib.h>

#include "compute/civil.h"
#include "planner/facts.h"
#include "planner/planner.h"

enum { TRIED_MAX = 12 /**< new records tried one by one; of more, the latest */ };

static bool is_over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

static int32_t day_of(const struct job_plan *plan, int64_t at_s)
{
    return at_s == INSTANT_NONE ? DAY_NONE : civil_day_of(plan->job->zone, at_s);
}

static int32_t fire_day(const struct job_plan *plan)
{
    return plan->fire.projected_day != DAY_NONE ? plan->fire.projected_day
                                                : plan->fire.earliest_day;
}

static int32_t between(int32_t from, int32_t until)
{
    return from == DAY_NONE || until == DAY_NONE ? 0 : until - from;
}

/* The one that begins sooner; without a date last. */
static bool begins_before(const struct date_move *a, const struct date_move *b)
{
    if (a->new_s == b->new_s) return false;
    if (a->new_s == INSTANT_NONE || b->new_s == INSTANT_NONE) return b->new_s == INSTANT_NONE;
    return a->new_s < b->new_s;
}

/* Where the delay grows most from one task to a later one, and what holds that one. */
static void find_snap(struct job_moves *out)
{
    int32_t before = out->here_days, most = 0;
    for (size_t i = 1; i < out->count; i++) {
        const int32_t grown = out->moves[i].days - before;
        const struct task_plan *task = &out->after->tasks[out->moves[i].task];
        if (abs(grown) > abs(most)) {
            most = grown;
            out->snapped = out->moves[i].task;
            out->snap = task->because_count > 0 ? &task->because[0] : NULL;
        }
        if (abs(out->moves[i].days) > abs(before)) before = out->moves[i].days;
    }
}

void changes_compare(struct job_moves *out, const struct job_plan *before,
                     const struct job_plan *after, struct arena *arena)
{
    *out = (struct job_moves){.before = before,
                              .after = after,
                              .old_fire_day = fire_day(before),
                              .new_fire_day = fire_day(after),
                              .here = TASK_NONE,
                              .snapped = TASK_NONE};
    out->end_days = between(out->old_fire_day, out->new_fire_day);
    struct date_move *moves = ARENA_TAKE(arena, TASK_COUNT, struct date_move);
    if (moves == NULL) return;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *was = &before->tasks[t], *is = &after->tasks[t];
        if (is_over(was) || is_over(is) || t == TASK_NIGHT_COVER || t == TASK_CURE_WATCH) continue;
        const int32_t old_day = day_of(before, was->start_s), new_day = day_of(after, is->start_s);
        if (old_day == new_day) continue;
        const struct date_move move = {(enum task)t, was->start_s, is->start_s,
                                       between(old_day, new_day)};
        size_t at = out->count++;
        for (; at > 0 && begins_before(&move, &moves[at - 1]); at--) moves[at] = moves[at - 1];
        moves[at] = move;
    }
    out->moves = moves;
    if (out->count == 0) return;
    out->here = moves[0].task;
    out->here_days = moves[0].days;
    find_snap(out);
}

/* --- since an instant ---------------------------------------------------------------------------
 */

/** One job asked about again and again. */
struct asking {
    const struct plan *plan;
    const struct job_plan *now;
    const struct rulebook *rulebook;
    struct arena *arena;
    int64_t since_s;
    enum task moved; /* judged by this task's start when the fire did not move; TASK_NONE */
};

static int64_t known_s(const struct record *record)
{
    return record->received_s != INSTANT_NONE ? record->received_s : record->at_s;
}

/* The plan of the job with some of its records: those known at an instant, or all but one. */
static const struct job_plan *plan_with(const struct asking *asking, int64_t known_by_s,
                                        const struct record *without, int64_t now_s)
{
    const struct job *job = asking->now->job;
    struct job *copy = ARENA_TAKE(asking->arena, 1, struct job);
    struct record *records = ARENA_TAKE(asking->arena, job->record_count, struct record);
    struct job_plan *plan = ARENA_TAKE(asking->arena, 1, struct job_plan);
    if (copy == NULL || records == NULL || plan == NULL) return NULL;
    *copy = *job;
    copy->record_count = 0;
    for (size_t i = 0; i < job->record_count; i++)
        if (known_s(&job->records[i]) <= known_by_s && &job->records[i] != without)
            records[copy->record_count++] = job->records[i];
    copy->records = records;
    const enum status status = planner_job(plan, copy, &asking->plan->casefile->company,
                                           asking->rulebook, now_s, asking->arena);
    return status == STATUS_OK ? plan : NULL;
}

/* The day a plan is judged by. */
static int32_t judged_day(const struct asking *asking, const struct job_plan *plan)
{
    return asking->moved == TASK_NONE ? fire_day(plan)
                                      : day_of(plan, plan->tasks[asking->moved].start_s);
}

/* The new record without which the day would be another; NULL: no single one. */
static const struct record *find_record(const struct asking *asking, int32_t now_day)
{
    const struct job *job = asking->now->job;
    const int64_t now_s = asking->plan->casefile->now_s;
    const struct record *latest = NULL;
    int tried = 0;
    for (size_t i = job->record_count; i-- > 0 && tried < TRIED_MAX;) {
        const struct record *r = &job->records[i];
        if (known_s(r) <= asking->since_s || r->at_s > now_s) continue;
        if (latest == NULL) latest = r;
        tried++;
        const struct job_plan *without = plan_with(asking, INT64_MAX, r, now_s);
        if (without != NULL && judged_day(asking, without) != now_day) return r;
    }
    return latest;
}

static bool is_weather(const struct reason *reason)
{
    switch (reason->kind) {
    case REASON_CLOCK:
    case REASON_CLOCK_STOPPED:
    case REASON_CLOCK_UNKNOWN:
    case REASON_FROST_AHEAD:
    case REASON_GUST:
        return true;
    default:
        return false;
    }
}

static bool is_calendar(const struct reason *reason)
{
    switch (reason->kind) {
    case REASON_INSPECTION:
    case REASON_HELD_DATE:
    case REASON_LEAD:
    case REASON_BURN_BAN:
        return true;
    default:
        return false;
    }
}

/* The records moved nothing: the weather, a calendar, or only the day that has passed. */
static void find_cause(struct change *out)
{
    const struct job_moves *moves = &out->moves;
    out->why = CHANGE_WEATHER;
    out->task = moves->here;
    if (moves->here == TASK_NONE) return;
    const struct task_plan *first = &moves->after->tasks[moves->here];
    const struct reason *reason = first->because_count > 0 ? &first->because[0] : NULL;
    if (first->state == TASK_STATE_WAIT_OVER || reason == NULL)
        out->why = CHANGE_NOT_DONE;
    else if (is_weather(reason))
        out->why = CHANGE_WEATHER;
    else
        out->why = is_calendar(reason) ? CHANGE_CALENDAR : CHANGE_NOT_DONE;
}

/* False when nothing moved, or nothing was known then. */
static bool change_of(struct change *out, struct asking *asking)
{
    const int64_t now_s = asking->plan->casefile->now_s;
    bool known = false;
    for (size_t i = 0; i < asking->now->job->record_count && !known; i++)
        known = known_s(&asking->now->job->records[i]) <= asking->since_s;
    if (!known) return false;
    const struct job_plan *then = plan_with(asking, asking->since_s, NULL, asking->since_s);
    if (then == NULL) return false;
    *out = (struct change){.task = TASK_NONE};
    changes_compare(&out->moves, then, asking->now, asking->arena);
    out->holds_no_more = then->fire.agreed_holds && !asking->now->fire.agreed_holds;
    const bool fire_moved = out->moves.old_fire_day != out->moves.new_fire_day &&
                            !is_over(&asking->now->tasks[TASK_FIRE_1]);
    if (!fire_moved && out->moves.count == 0 && !out->holds_no_more) return false;
    asking->moved = fire_moved || out->moves.count == 0 ? TASK_NONE : out->moves.here;
    const struct job_plan *waited = plan_with(asking, asking->since_s, NULL, now_s);
    const int32_t now_day = judged_day(asking, asking->now);
    if (waited != NULL && judged_day(asking, waited) != now_day) {
        out->why = CHANGE_RECORD;
        out->record = find_record(asking, now_day);
        if (out->record != NULL) return true;
    }
    find_cause(out);
    return true;
}

enum status changes_since(const struct change **out, size_t *count, const struct plan *plan,
                          int64_t since_s, const struct rulebook *rulebook, struct arena *arena)
{
    struct change *list = ARENA_TAKE(arena, plan->job_count, struct change);
    *out = list;
    *count = 0;
    if (list == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < plan->job_count; i++) {
        struct asking asking = {.plan = plan,
                                .now = &plan->jobs[i],
                                .rulebook = rulebook,
                                .arena = arena,
                                .since_s = since_s};
        if (change_of(&list[*count], &asking)) (*count)++;
    }
    return arena_failed(arena) ? STATUS_LIMIT : STATUS_OK;
}
