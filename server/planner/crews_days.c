/* SPDX-License-Identifier: MIT */
/*
 * Why: the schedule speaks of activities, a crew of days. An activity over a night is a piece on
 * each day, what follows at once is a piece of its own, and whoever leaves green joints in the open
 * covers them last; the time for that was kept free.
 */
#include <math.h>

#include "compute/civil.h"
#include "planner/crews_internal.h"

#include "base/banned.h"

struct pieces {
    struct crew_work *work;
    size_t *crew;  /* of the company */
    int32_t *next; /* in order of time, one list a slot */
    int32_t count;
    int32_t room;
    int32_t *head; /* [slots] */
};

static bool add(struct crews *crews, struct pieces *pieces, size_t crew, struct crew_work work)
{
    if (pieces->count == pieces->room) {
        int32_t room = pieces->room == 0 ? 64 : pieces->room * 2;
        struct pieces larger = *pieces;
        larger.work = ARENA_TAKE(crews->arena, (size_t)room, struct crew_work);
        larger.crew = ARENA_TAKE(crews->arena, (size_t)room, size_t);
        larger.next = ARENA_TAKE(crews->arena, (size_t)room, int32_t);
        if (larger.work == NULL || larger.crew == NULL || larger.next == NULL) return false;
        for (int32_t i = 0; i < pieces->count; i++) {
            larger.work[i] = pieces->work[i];
            larger.crew[i] = pieces->crew[i];
            larger.next[i] = pieces->next[i];
        }
        larger.room = room;
        *pieces = larger;
    }
    int32_t slot = crews_slot_up(crews, work.start_s), i = pieces->count++;
    pieces->work[i] = work;
    pieces->crew[i] = crew;
    pieces->next[i] = pieces->head[slot];
    pieces->head[slot] = i;
    return true;
}

/* The task of an item that is at work after so many of its slots; sets where that task ends. */
static enum task at_work(const struct crews_item *item, int32_t worked, int32_t *ends)
{
    double hours = 0;
    for (int t = 0; t < item->task_count - 1; t++) {
        hours += item->hours[t];
        *ends = crews_slots_of(hours);
        if (worked < *ends) return item->tasks[t];
    }
    *ends = INT32_MAX;
    return item->tasks[item->task_count - 1];
}

/* One item as pieces: cut where it rests, where the weather closes and where the next of its tasks
 * begins; lunch is no cut. */
static bool cut(struct crews *crews, struct pieces *pieces, int32_t index)
{
    const struct crews_item *item = &crews->items[index];
    const uint8_t *open = crews->calendars[crews->activities[index].calendar];
    const uint8_t *hours = crews->calendars[0];
    const int32_t finish = crews->answer.finish[index];
    const size_t crew = crews->crew_of[crews->answer.choice[index]];
    int32_t worked = 0, ends;
    for (int32_t s = crews->answer.start[index]; s < finish;) {
        enum task task = at_work(item, worked, &ends);
        int32_t from = s, until = s, closed = 0;
        for (; s < finish && worked < ends && closed < crews->problem.rest; s++) {
            if (!open[s] && hours[s]) break;
            closed = open[s] ? 0 : closed + 1;
            worked += open[s];
            if (open[s]) until = s + 1;
        }
        while (s < finish && !open[s]) s++;
        struct crew_work work = {.job = item->job->job,
                                 .task = task,
                                 .start_s = crews_instant_s(crews, from),
                                 .finish_s = crews_instant_s(crews, until)};
        if (!add(crews, pieces, crew, work)) return false;
        struct task_plan *plan = &item->job->tasks[task];
        if (plan->crew_id == NULL) plan->crew_id = crews->casefile->company.crews[crew].id;
    }
    return true;
}

/* Whether a cover due now comes with the end of other work on the job before it. */
static bool comes_with_work(const struct crews *crews, const struct crews_item *cover, int32_t at)
{
    if (cover->tasks[0] != TASK_NIGHT_COVER) return false;
    for (int32_t i = 0; i < crews->item_count; i++) {
        const struct crews_item *item = &crews->items[i];
        if (item->job != cover->job || !item->by_crew || !crews_placed(crews, i)) continue;
        if (crews->answer.start[i] >= at) continue;
        for (int t = 0; t < item->task_count; t++)
            if (crews->rulebook->tasks[item->tasks[t]].makes_joints) return true;
    }
    return false;
}

/* The slots of working time a cover takes from an instant on, lunch left out. */
static bool cover_span(const struct crews *crews, int64_t at_s, int64_t *from_s, int64_t *until_s)
{
    int32_t left = crews->cover_slots;
    *from_s = *until_s = INSTANT_NONE;
    for (int32_t s = crews_slot_up(crews, at_s); s < crews->slots && left > 0; s++) {
        if (!crews->calendars[0][s]) continue;
        if (*from_s == INSTANT_NONE) *from_s = crews_instant_s(crews, s);
        *until_s = crews_instant_s(crews, s + 1);
        left--;
    }
    return left == 0;
}

/* Whether a crew comes to the place of a job between two instants. */
static bool somebody_comes(const struct crews *crews, const struct pieces *pieces,
                           const struct job *job, int64_t from_s, int64_t until_s)
{
    const int32_t place = crews->job_place[job - crews->casefile->jobs];
    const int32_t until = crews_slot_up(crews, until_s);
    for (int32_t s = crews_slot_up(crews, from_s); s < until && s < crews->slots; s++)
        for (int32_t i = pieces->head[s]; i != SEQUENCE_NONE; i = pieces->next[i])
            if (crews->job_place[pieces->work[i].job - crews->casefile->jobs] == place) return true;
    return false;
}

/* Whether anybody leaves green joints on a job between two instants. */
static bool leaves_joints(const struct crews *crews, const struct pieces *pieces,
                          const struct job *job, int64_t from_s, int64_t until_s)
{
    const int32_t until = crews_slot_up(crews, until_s);
    for (int32_t s = crews_slot_up(crews, from_s); s < until; s++)
        for (int32_t i = pieces->head[s]; i != SEQUENCE_NONE; i = pieces->next[i])
            if (pieces->work[i].job == job &&
                crews->rulebook->tasks[pieces->work[i].task].makes_joints)
                return true;
    return false;
}

/* What the last visit of a day to a job leaves green is covered before they go. */
static void cover(struct crews *crews, const struct pieces *pieces, struct crew_day *day,
                  struct crew_work *work, const struct crew *crew)
{
    if (day->work_count == 0) return;
    const struct crew_work last = work[day->work_count - 1];
    const struct zone *zone = crews->calendar.zone;
    const int64_t over_s = civil_day_start_s(zone, day->day + 1);
    struct task_plan *plan = &crews->jobs[last.job - crews->casefile->jobs].tasks[TASK_NIGHT_COVER];
    if (last.task == TASK_NIGHT_COVER || plan->state == TASK_STATE_NOT_NEEDED) return;
    if (!leaves_joints(crews, pieces, last.job, civil_day_start_s(zone, day->day), last.finish_s))
        return;
    int64_t from_s, until_s;
    if (!cover_span(crews, last.finish_s, &from_s, &until_s) || until_s > over_s) return;
    if (somebody_comes(crews, pieces, last.job, last.finish_s, over_s)) return;
    work[day->work_count++] = (struct crew_work){
        .job = last.job, .task = TASK_NIGHT_COVER, .start_s = from_s, .finish_s = until_s};
    if (plan->crew_id == NULL) plan->crew_id = crew->id;
}

static double yard_h(const struct job *job)
{
    double drive_h = job->quantities[QUANTITY_DRIVE_H];
    return isnan(drive_h) ? 0 : drive_h;
}

static void drive(const struct crews *crews, struct crew_day *day, struct crew_work *work)
{
    for (size_t i = 0; i < day->work_count; i++) {
        work[i].drive_h =
            i == 0 ? yard_h(work[i].job) : crews_between_h(crews, work[i - 1].job, work[i].job);
        day->drive_h += work[i].drive_h;
    }
    if (day->work_count > 0) day->drive_h += yard_h(work[day->work_count - 1].job);
}

static void close_day(struct crews *crews, const struct pieces *pieces, struct crew_day *day,
                      struct crew_work *work, const struct crew *crew)
{
    cover(crews, pieces, day, work, crew);
    drive(crews, day, work);
    day->work = work;
}

static void one_crew(struct crews *crews, const struct pieces *pieces, struct crew_plan *plan,
                     size_t crew, size_t count)
{
    struct crew_day *days = ARENA_TAKE(crews->arena, CREWS_DAYS + 1, struct crew_day);
    struct crew_work *work = ARENA_TAKE(crews->arena, 2 * count + 1, struct crew_work);
    const int64_t open_s = calendar_start_s(&crews->calendar, crews->casefile->now_s, 0);
    if (days == NULL || work == NULL || open_s == INSTANT_NONE) return;
    struct crew_work *const first = work;
    struct crew_day *day = days;
    *day = (struct crew_day){.day = civil_day_of(crews->calendar.zone, open_s)};
    for (int32_t s = 0; s < crews->slots; s++) {
        for (int32_t i = pieces->head[s]; i != SEQUENCE_NONE; i = pieces->next[i]) {
            if (pieces->crew[i] != crew) continue;
            int32_t on = civil_day_of(crews->calendar.zone, pieces->work[i].start_s);
            const bool moves =
                day->work_count > 0 && work[day->work_count - 1].job != pieces->work[i].job;
            if (on != day->day) {
                close_day(crews, pieces, day, work, plan->crew);
                work += day->work_count;
                day++;
                *day = (struct crew_day){.day = on};
            } else if (moves) {
                cover(crews, pieces, day, work, plan->crew);
            }
            work[day->work_count++] = pieces->work[i];
        }
    }
    close_day(crews, pieces, day, work, plan->crew);
    crews->days[crew] = days;
    crews->work[crew] = first;
    plan->days = days;
    plan->day_count = (size_t)(day - days) + 1;
}

void crews_days_make(struct crews *crews, struct crew_plan *plans)
{
    const size_t crew_count = crews->casefile->company.crew_count;
    struct pieces pieces = {.head = ARENA_TAKE(crews->arena, (size_t)crews->slots + 1, int32_t)};
    crews->days = ARENA_TAKE(crews->arena, crew_count, struct crew_day *);
    crews->work = ARENA_TAKE(crews->arena, crew_count, struct crew_work *);
    if (pieces.head == NULL || crews->days == NULL || crews->work == NULL) return;
    for (int32_t s = 0; s <= crews->slots; s++) pieces.head[s] = SEQUENCE_NONE;
    for (int32_t i = 0; i < crews->item_count; i++) {
        if (!crews->items[i].by_crew || !crews_placed(crews, i)) continue;
        if (comes_with_work(crews, &crews->items[i], crews->answer.start[i])) continue;
        if (!cut(crews, &pieces, i)) return;
    }
    for (size_t c = 0; c < crew_count; c++) {
        size_t count = 0;
        for (int32_t i = 0; i < pieces.count; i++) count += pieces.crew[i] == c;
        one_crew(crews, &pieces, &plans[c], c, count);
    }
}
