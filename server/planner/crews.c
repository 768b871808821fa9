/* SPDX-License-Identifier: MIT */
/*
 * Why: see crews.h. Each job's own plan already says what may be done that day and in which order;
 * here that day's work of a job is one block. A crew takes the most pressing block it may take,
 * then the next that still fits after the drive. What is left over stays on the list of work that
 * nobody is on. Nothing is placed earlier than the job's own plan has it.
 */
#include "planner/crews.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/calendar.h"
#include "planner/gate_list.h"

enum { HOUR_S = 3600 };

/* The work of one job on the day, in order. */
struct block {
    struct job_plan *job;
    enum task tasks[TASK_COUNT];
    size_t count;
    int64_t start_s; /* of the first, as the job's own plan has it */
    int pressing;    /* higher goes first */
    bool taken;
};

struct day {
    const struct casefile *casefile;
    const struct rulebook *rulebook;
    struct calendar calendar;
    int32_t day;
    int64_t begins_s; /* now, or the opening of the day */
    int64_t closes_s;
    struct block *blocks;
    size_t block_count;
};

static bool crew_does(const struct rulebook *rulebook, enum task task)
{
    enum who who = rulebook->tasks[task].who;
    return who == WHO_CREW || who == WHO_MASON;
}

static bool waits_to_be_done(const struct task_plan *task)
{
    return task->state == TASK_STATE_WAIT_OVER || task->state == TASK_STATE_WORKING ||
           task->state == TASK_STATE_STOPPED || task->state == TASK_STATE_NOT_YET ||
           task->state == TASK_STATE_WAITING_CURE || task->state == TASK_STATE_WAITING_WEATHER;
}

/* What is under way comes first, then what starts a long clock. */
static int pressing_of(const struct task_plan *task)
{
    if (task->state == TASK_STATE_WORKING || task->state == TASK_STATE_STOPPED) return 4;
    switch (task->task) {
    case TASK_PAD_POUR:
    case TASK_LINE_FLOOR:
    case TASK_LINE_BACK:
    case TASK_LINE_SIDES:
    case TASK_LINE_CLEAN:
    case TASK_CHIMNEY_RUN:
    case TASK_CAP_SET:
        return 3;
    case TASK_NIGHT_COVER:
    case TASK_PAD_PROTECT:
        return 2;
    default:
        return 1;
    }
}

/* The night's cover is the last thing before they leave. */
static int64_t order_of(const struct task_plan *task)
{
    return task->task == TASK_NIGHT_COVER ? INT64_MAX : task->start_s;
}

static void gather(struct day *day, struct job_plan *job)
{
    struct block *block = &day->blocks[day->block_count];
    *block = (struct block){.job = job};
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &job->tasks[t];
        if (!crew_does(day->rulebook, task->task) || !waits_to_be_done(task)) continue;
        if (task->start_s == INSTANT_NONE || isnan(task->hours)) continue;
        if (task->start_s >= day->closes_s) continue;
        if (task->task == TASK_CURE_WATCH) continue; /* a visit on the way, not a day's work */
        size_t k = block->count++;
        for (; k > 0 && order_of(&job->tasks[block->tasks[k - 1]]) > order_of(task); k--)
            block->tasks[k] = block->tasks[k - 1];
        block->tasks[k] = task->task;
        if (pressing_of(task) > block->pressing) block->pressing = pressing_of(task);
    }
    if (block->count == 0) return;
    block->start_s = job->tasks[block->tasks[0]].start_s;
    day->block_count++;
}

static bool may_take(const struct crew *crew, const struct block *block)
{
    const char *wanted = block->job->job->crew_id;
    return !block->taken && (wanted == NULL || strcmp(wanted, crew->id) == 0);
}

/* When a crew that is free from `free_s` on could begin a block; INSTANT_NONE: not this day. */
static int64_t could_begin_s(const struct day *day, const struct block *block, int64_t free_s,
                             bool moves)
{
    double drive_h = block->job->job->quantities[QUANTITY_DRIVE_H];
    if (isnan(drive_h)) drive_h = 0;
    int64_t at_s = moves ? free_s + llround(drive_h * HOUR_S) : free_s;
    if (block->start_s > at_s) at_s = block->start_s;
    if (!moves) return at_s < day->closes_s ? at_s : INSTANT_NONE;
    bool far = drive_h > rulebook_setting(day->rulebook, SETTING_START_DRIVE_OVER_H);
    double left_h = rulebook_setting(day->rulebook, far ? SETTING_START_LEFT_DRIVE_H
                                                        : SETTING_START_LEFT_ON_SITE_H);
    at_s = calendar_start_s(&day->calendar, at_s, left_h);
    return at_s != INSTANT_NONE && at_s < day->closes_s ? at_s : INSTANT_NONE;
}

static struct block *most_pressing(struct day *day, const struct crew *crew, int64_t free_s,
                                   bool moves, int64_t *begin_s)
{
    struct block *best = NULL;
    for (size_t i = 0; i < day->block_count; i++) {
        struct block *block = &day->blocks[i];
        if (!may_take(crew, block)) continue;
        int64_t at_s = could_begin_s(day, block, free_s, moves);
        if (at_s == INSTANT_NONE) continue;
        if (best != NULL && (block->pressing < best->pressing ||
                             (block->pressing == best->pressing && at_s >= *begin_s)))
            continue;
        best = block;
        *begin_s = at_s;
    }
    return best;
}

/* Lay a block's tasks one after the other; the whole block moves by what its first task moves. */
static int64_t lay(struct crew_day *out, struct crew_work *work, const struct day *day,
                   const struct crew *crew, struct block *block, int64_t begin_s)
{
    const int64_t shift_s = begin_s - block->start_s;
    int64_t free_s = begin_s;
    bool stopped = false; /* by the weather: what was done is still covered */
    block->taken = true;
    for (size_t i = 0; i < block->count; i++) {
        struct task_plan *task = &block->job->tasks[block->tasks[i]];
        const struct task_rule *rule = &day->rulebook->tasks[task->task];
        if (stopped && task->task != TASK_NIGHT_COVER) continue; /* it comes after what stopped */
        int64_t at_s = task->start_s + shift_s > free_s ? task->start_s + shift_s : free_s;
        at_s = calendar_start_s(&day->calendar, at_s, 0);
        if (at_s == INSTANT_NONE || at_s >= day->closes_s || rule->people > crew->people) break;
        int64_t finish_s = calendar_finish_s(&day->calendar, at_s, task->hours);
        if (finish_s == INSTANT_NONE) break;
        if (rule->no_undo && finish_s > day->closes_s) break; /* not begun if it can't be ended */
        int64_t closed_s = gate_closed_from_s(block->job, task->task, at_s, finish_s);
        if (closed_s == at_s || (closed_s != INSTANT_NONE && rule->no_undo)) {
            stopped = true;
            continue;
        }
        if (closed_s != INSTANT_NONE) finish_s = closed_s; /* the weather ends this piece of it */
        task->crew_id = crew->id;
        work[out->work_count++] =
            (struct crew_work){.job = block->job->job,
                               .task = task->task,
                               .start_s = at_s,
                               .finish_s = finish_s < day->closes_s ? finish_s : day->closes_s};
        free_s = finish_s;
        if (closed_s != INSTANT_NONE) stopped = true;
        if (finish_s >= day->closes_s) break;
    }
    return free_s;
}

static void fill(struct crew_plan *plan, struct day *day, struct arena *arena)
{
    const struct crew *crew = plan->crew;
    struct crew_day *out = ARENA_TAKE(arena, 1, struct crew_day);
    struct crew_work *work = ARENA_TAKE(arena, TASK_COUNT * 2, struct crew_work);
    if (out == NULL || work == NULL) return;
    out->day = day->day;
    out->work = work;
    plan->days = out;
    plan->day_count = 1;
    int64_t free_s = day->begins_s, begin_s = 0;
    for (bool moves = false; out->work_count < TASK_COUNT; moves = true) {
        struct block *block = most_pressing(day, crew, free_s, moves, &begin_s);
        if (block == NULL) return;
        free_s = lay(out, work, day, crew, block, begin_s);
        if (free_s >= day->closes_s) return;
    }
}

void crews_propose(struct crew_plan *crews, struct job_plan *jobs, const struct casefile *casefile,
                   const struct rulebook *rulebook, struct arena *arena)
{
    if (casefile->company.crew_count == 0) return;
    struct day day = {.casefile = casefile, .rulebook = rulebook};
    calendar_of_company(&day.calendar, &casefile->company);
    day.begins_s = calendar_start_s(&day.calendar, casefile->now_s, 0);
    day.blocks = ARENA_TAKE(arena, casefile->job_count, struct block);
    if (day.begins_s == INSTANT_NONE || day.blocks == NULL) return;
    day.day = civil_day_of(day.calendar.zone, day.begins_s);
    day.closes_s = civil_instant_s(day.calendar.zone, day.day, day.calendar.hours.until_min * 60);
    for (size_t i = 0; i < casefile->job_count; i++) gather(&day, &jobs[i]);
    for (size_t i = 0; i < casefile->company.crew_count; i++) fill(&crews[i], &day, arena);
}
