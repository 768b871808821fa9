/* SPDX-License-Identifier: MIT */
/*
 * Why: the jobs' own plans become activities. Every task ahead is one, whoever does it, so that the
 * wait for an inspector lies between two visits of the crew as it will; only tasks of the crew need
 * a crew. What has to follow at once (cover a pad, clean the lining) is one activity with what it
 * follows; chimney lifts are one a day. None may start before the job's own plan has it.
 */
#include <math.h>
#include <string.h>

#include "planner/crews_internal.h"
#include "planner/duration.h"

#include "base/banned.h"

static const double LEAST_LEFT_H = 0.25;
enum { WEIGHT_UNDER_WAY = 20, WEIGHT_BOOKED = 50, WEIGHT_COVER = 10 };

bool crews_task_ours(const struct crews *crews, enum task task)
{
    enum who who = crews->rulebook->tasks[task].who;
    return who == WHO_CREW || who == WHO_MASON;
}

bool crews_task_over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

static void unplaced(struct crews *crews, size_t job, enum task task, enum crew_unplaced_why why)
{
    crews->why_not[crews_at(crews, job, task)] = (uint8_t)(why + 1);
}

/* Whether it stands in these weeks; a task of the crew that does not is noted with its reason. */
static bool wanted(struct crews *crews, size_t job, enum task task)
{
    const struct task_plan *plan = &crews->jobs[job].tasks[task];
    const bool ours = crews_task_ours(crews, task);
    enum crew_unplaced_why why = CREW_UNPLACED_COUNT;
    if (crews_task_over(plan)) return false;
    if (task == TASK_CURE_WATCH)
        why = CREW_UNPLACED_VISIT;
    else if (task == TASK_NIGHT_COVER && plan->state != TASK_STATE_WAIT_OVER)
        why = CREW_UNPLACED_AT_NIGHTFALL;
    else if (plan->start_s == INSTANT_NONE || plan->state == TASK_STATE_CHECK_IT)
        why = CREW_UNPLACED_NO_DATE;
    else if (isnan(plan->hours))
        why = CREW_UNPLACED_NO_HOURS;
    else if (plan->start_s >= crews_instant_s(crews, crews->slots))
        why = CREW_UNPLACED_LATER;
    if (why == CREW_UNPLACED_COUNT) return true;
    if (ours) unplaced(crews, job, task, why);
    return false;
}

/* The task that this one has to follow within the day; TASK_NONE. */
static enum task follows(const struct crews *crews, size_t job, enum task task)
{
    const struct task_rule *rule = &crews->rulebook->tasks[task];
    const struct job_plan *plan = &crews->jobs[job];
    const double day_h = calendar_day_h(&crews->calendar);
    if (task == TASK_NIGHT_COVER || !crews_task_ours(crews, task)) return TASK_NONE;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_WITHIN || (!link->same_day && link->wait_h > day_h)) continue;
        if (!rulebook_holds(link->when, link->when_count, &plan->job->options)) continue;
        const struct task_plan *head = &plan->tasks[link->task];
        if (crews_task_over(head) || !crews_task_ours(crews, link->task)) continue;
        if (head->start_s == INSTANT_NONE || isnan(head->hours)) continue;
        return link->task;
    }
    return TASK_NONE;
}

/* Whether a day's work on the job can end with green joints in the open. */
static bool ends_in_cover(const struct crews *crews, const struct job_plan *job)
{
    if (job->job->options.place == PLACE_INDOOR) return false;
    for (int t = 0; t < TASK_COUNT; t++)
        if (crews->rulebook->tasks[t].makes_joints && !crews_task_over(&job->tasks[t])) return true;
    return false;
}

/* The first of what has to be done in one go with a task; the task itself when nothing is. */
static enum task head_of(const struct crews *crews, size_t job, enum task task)
{
    enum task head = task;
    for (int i = 0; i < CREWS_ITEM_TASKS_MAX; i++) {
        enum task before = follows(crews, job, head);
        if (before == TASK_NONE) break;
        head = before;
    }
    return head;
}

static bool is_held(const struct task_plan *task)
{
    for (size_t i = 0; i < task->because_count; i++)
        if (task->because[i].kind == REASON_HELD_DATE) return true;
    return false;
}

static int weight_of(const struct crews *crews, const struct crews_item *item)
{
    int weight = 1;
    for (int t = 0; t < item->task_count; t++) {
        const struct task_plan *task = &item->job->tasks[item->tasks[t]];
        int own = 1;
        switch (item->tasks[t]) {
        case TASK_PAD_POUR:
        case TASK_LINE_FLOOR:
        case TASK_LINE_BACK:
        case TASK_LINE_SIDES:
        case TASK_LINE_CLEAN:
        case TASK_CHIMNEY_RUN:
        case TASK_CAP_SET:
            own = (int)lround(rulebook_setting(crews->rulebook, SETTING_CREWS_LONG_CLOCK));
            break;
        case TASK_NIGHT_COVER:
            own = WEIGHT_COVER;
            break;
        default:
            break;
        }
        if (task->state == TASK_STATE_WORKING || task->state == TASK_STATE_STOPPED)
            own = WEIGHT_UNDER_WAY;
        if (is_held(task)) own = WEIGHT_BOOKED;
        if (own > weight) weight = own;
    }
    return weight;
}

/* The crews that may be sent: the one that usually goes there, else every one with the people. */
static uint64_t choices_of(const struct crews *crews, const struct crews_item *item)
{
    const struct company *company = &crews->casefile->company;
    const char *usual = item->job->job->crew_id;
    uint64_t all = 0;
    for (size_t r = 0; r < company->crew_count; r++) {
        const struct crew *crew = &company->crews[crews->crew_of[r]];
        if (crew->people < item->people) continue;
        if (usual != NULL && strcmp(usual, crew->id) == 0) return UINT64_C(1) << r;
        all |= UINT64_C(1) << r;
    }
    return all;
}

/* Working hours that are still to be done of a task that is begun: up to its own finish, and some
 * as long as nobody says it is done. */
static double hours_left(const struct crews *crews, const struct task_plan *task)
{
    if (task->state != TASK_STATE_WORKING || task->finish_s == INSTANT_NONE) return task->hours;
    int32_t until = crews_slot_up(crews, task->finish_s);
    int32_t open = crews_open_count(crews, 0, 0, until); /* slots before now are closed */
    double left = fmax((double)open * CREWS_SLOT_S / 3600, LEAST_LEFT_H);
    return left < task->hours ? left : task->hours;
}

static void fill_activity(struct crews *crews, const struct crews_item *item, int32_t index)
{
    struct sequence_activity *out = &crews->activities[index];
    const struct task_rule *rule = &crews->rulebook->tasks[item->tasks[0]];
    const struct task_plan *first = &item->job->tasks[item->tasks[0]];
    const struct task_plan *last = &item->job->tasks[item->tasks[item->task_count - 1]];
    const double drive_h = item->job->job->quantities[QUANTITY_DRIVE_H];
    const bool far = drive_h > rulebook_setting(crews->rulebook, SETTING_START_DRIVE_OVER_H);
    const int32_t early = ends_in_cover(crews, item->job) ? crews->cover_slots : 0;
    double hours = 0;
    for (int t = 0; t < item->task_count; t++) hours += item->hours[t];
    int64_t from_s =
        first->start_s > crews->casefile->now_s ? first->start_s : crews->casefile->now_s;
    *out = (struct sequence_activity){.duration = crews_slots_of(hours / item->pieces),
                                      .release = crews_slot_up(crews, from_s),
                                      .weight = weight_of(crews, item),
                                      .gap_max = crews->slots,
                                      .place = SEQUENCE_NONE,
                                      .keep_choice = SEQUENCE_NONE};
    if (!item->by_crew) {
        out->calendar = crews_calendar_of_party(crews, item->job->job, rule->who);
        out->due = out->release + out->duration;
        return;
    }
    if (out->duration == 0) out->duration = 1;
    out->calendar = crews_calendar_of(crews, item->job, item->tasks, item->task_count, early);
    if (item->piece == item->pieces - 1 && last->finish_s != INSTANT_NONE && item->pieces > 1) {
        int32_t own = crews_slot_up(crews, last->finish_s) - out->duration;
        if (own > out->release) out->release = own;
    }
    out->due = last->finish_s == INSTANT_NONE ? out->release + out->duration
                                              : crews_slot_up(crews, last->finish_s);
    out->one_of = choices_of(crews, item);
    out->place = crews->job_place[item->job_index];
    out->first_least = crews_slots_of(rulebook_setting(
        crews->rulebook, far ? SETTING_START_LEFT_DRIVE_H : SETTING_START_LEFT_ON_SITE_H));
    const int32_t day = crews_slots_of(calendar_day_h(&crews->calendar)) - early;
    const bool whole = rule->no_undo || item->task_count > 1 || item->pieces > 1;
    if (whole && out->duration <= day) out->gap_max = crews_slots_of(CREWS_REST_H) - 1;
}

static bool add_item(struct crews *crews, struct crews_item item)
{
    if (crews->item_count == crews->item_room) {
        int32_t room = crews->item_room == 0 ? 64 : crews->item_room * 2;
        struct crews_item *items = ARENA_TAKE(crews->arena, (size_t)room, struct crews_item);
        if (items == NULL) return false;
        for (int32_t i = 0; i < crews->item_count; i++) items[i] = crews->items[i];
        crews->items = items;
        crews->item_room = room;
    }
    crews->items[crews->item_count++] = item;
    return true;
}

static bool add_task(struct crews *crews, size_t job, enum task task)
{
    struct job_plan *plan = &crews->jobs[job];
    const struct duration duration = duration_of(crews->rulebook, plan->job, task);
    struct crews_item item = {.job = plan,
                              .job_index = job,
                              .by_crew = crews_task_ours(crews, task),
                              .people = crews->rulebook->tasks[task].people,
                              .tasks = {task},
                              .hours = {hours_left(crews, &plan->tasks[task])},
                              .task_count = 1,
                              .pieces = 1};
    crews->item_of[crews_at(crews, job, task)] = crews->item_count;
    for (int t = 0; t < TASK_COUNT && item.by_crew; t++) {
        if (t == (int)task || head_of(crews, job, (enum task)t) != task) continue;
        if (!wanted(crews, job, (enum task)t) || item.task_count == CREWS_ITEM_TASKS_MAX) continue;
        item.tasks[item.task_count] = (enum task)t;
        item.hours[item.task_count++] = plan->tasks[t].hours;
        if (crews->rulebook->tasks[t].people > item.people)
            item.people = crews->rulebook->tasks[t].people;
        crews->item_of[crews_at(crews, job, (enum task)t)] = crews->item_count;
    }
    const bool begun = plan->tasks[task].state == TASK_STATE_WORKING;
    if (item.by_crew && item.task_count == 1 && duration.days > 1 && !begun)
        item.pieces = duration.days < CREWS_PIECES_MAX ? duration.days : CREWS_PIECES_MAX;
    for (item.piece = 0; item.piece < item.pieces; item.piece++)
        if (!add_item(crews, item)) return false;
    return true;
}

/* Tasks of the crew that nobody can be sent to, each with its reason. */
static uint64_t never(struct crews *crews, size_t job)
{
    uint64_t out = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        const enum task task = (enum task)t;
        const struct task_plan *plan = &crews->jobs[job].tasks[t];
        struct crews_item probe = {.job = &crews->jobs[job],
                                   .people = crews->rulebook->tasks[t].people};
        if (crews_task_over(plan) || !crews_task_ours(crews, task)) continue;
        if (task == TASK_CURE_WATCH || task == TASK_NIGHT_COVER) continue;
        if (choices_of(crews, &probe) == 0)
            unplaced(crews, job, task, CREW_UNPLACED_NO_CREW);
        else if (plan->start_s == INSTANT_NONE || !isnan(plan->hours))
            continue;
        else
            unplaced(crews, job, task, CREW_UNPLACED_NO_HOURS);
        out |= UINT64_C(1) << t;
    }
    return out;
}

/* What nobody can be sent to is left out, and so is everything that comes after it. */
static void leave_out(struct crews *crews, size_t job)
{
    uint64_t out = never(crews, job);
    for (uint64_t before = 0; out != before;) {
        before = out;
        for (int t = 0; t < TASK_COUNT; t++) {
            if ((out >> t & 1) != 0 || crews_task_over(&crews->jobs[job].tasks[t])) continue;
            const enum task head = follows(crews, job, (enum task)t);
            uint64_t waits = crews_waits_for(crews, &crews->jobs[job], (enum task)t);
            if (head != TASK_NONE) waits |= UINT64_C(1) << head;
            if ((waits & out) == 0) continue;
            out |= UINT64_C(1) << t;
            unplaced(crews, job, (enum task)t, CREW_UNPLACED_BEHIND);
        }
    }
}

bool crews_items_make(struct crews *crews)
{
    const size_t cells = crews->casefile->job_count * TASK_COUNT;
    crews->item_of = ARENA_TAKE(crews->arena, cells, int32_t);
    crews->why_not = ARENA_TAKE(crews->arena, cells, uint8_t);
    crews->seen = ARENA_TAKE(crews->arena, cells, bool);
    if (crews->item_of == NULL || crews->why_not == NULL || crews->seen == NULL) return false;
    if (!crews_waits_make(crews)) return false;
    for (size_t i = 0; i < cells; i++) crews->item_of[i] = SEQUENCE_NONE;
    for (size_t j = 0; j < crews->casefile->job_count; j++) {
        leave_out(crews, j);
        for (int t = 0; t < TASK_COUNT; t++) {
            const enum task task = (enum task)t;
            if (crews->why_not[crews_at(crews, j, task)] != 0) continue;
            if (crews->item_of[crews_at(crews, j, task)] != SEQUENCE_NONE) continue;
            const enum task head = head_of(crews, j, task);
            if (!wanted(crews, j, task)) continue;
            if (head != task && crews->item_of[crews_at(crews, j, head)] == SEQUENCE_NONE &&
                wanted(crews, j, head))
                continue; /* it comes with its head */
            if (!add_task(crews, j, task)) return false;
        }
    }
    return true;
}

bool crews_activities_make(struct crews *crews)
{
    crews->activities =
        ARENA_TAKE(crews->arena, (size_t)crews->item_count, struct sequence_activity);
    if (crews->activities == NULL) return false;
    for (int32_t i = 0; i < crews->item_count; i++) fill_activity(crews, &crews->items[i], i);
    return true;
}
