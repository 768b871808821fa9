/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_feed.h. One piece of work is one entry, named by job and task; work that a crew does
 * in several goes has the number of the go in its name from the second on. What is past and no
 * longer planned stays as it was said; what is to come and no longer planned is taken back.
 */
#include "app/app_feed.h"

#include <stdlib.h>
#include <string.h>

#include "app/app_internal.h"
#include "app/app_plan.h"
#include "store/store_feed.h"

#include "base/banned.h"

enum { DAY_S = 86400, WEEKS_AHEAD_DAYS = 90 };

static bool is_owner(const char *target)
{
    return strcmp(target, "owner") == 0;
}

/* --- gathering ----------------------------------------------------------------------------- */

struct gathering {
    struct feed_event *events;
    size_t count;
    const struct plan *plan;
    struct arena *arena;
};

static bool under_way_or_booked(const struct job_plan *job, const struct task_plan *task)
{
    if (task->state == TASK_STATE_WORKING) return true;
    for (size_t i = 0; i < job->job->record_count; i++) {
        const struct record *r = &job->job->records[i];
        if (r->task == task->task && (r->kind == RECORD_BOOKED || r->kind == RECORD_HELD_DATE))
            return true;
    }
    return false;
}

/* How many goes at the same work stand in the list already. */
static int goes_before(const struct gathering *all, const struct job *job, enum task task)
{
    int goes = 0;
    for (size_t i = 0; i < all->count; i++)
        goes += all->events[i].job == job && all->events[i].task == task;
    return goes;
}

static void add_span(struct gathering *all, const struct job_plan *job, enum task task,
                     const struct crew *crew, int64_t start_s, int64_t finish_s)
{
    if (all->count == APP_FEED_EVENTS_MAX) return;
    const int goes = goes_before(all, job->job, task);
    const struct task_plan *plan = &job->tasks[task];
    const char *id = id_of(&task_ids, (int)task);
    const char *uid =
        goes == 0 ? arena_print(all->arena, "%s.%s@emberwait", id, job->job->id)
                  : arena_print(all->arena, "%s.%d.%s@emberwait", id, goes + 1, job->job->id);
    if (uid == NULL) return;
    all->events[all->count++] = (struct feed_event){
        .uid = uid,
        .job_id = job->job->id,
        .job = job->job,
        .task = task,
        .plan = plan,
        .crew = crew,
        .day = DAY_NONE,
        .start_s = start_s,
        .finish_s = finish_s,
        .status = under_way_or_booked(job, plan) ? FEED_CONFIRMED : FEED_TENTATIVE};
}

static void add_crew(struct gathering *all, const struct crew_plan *crew)
{
    for (size_t d = 0; d < crew->day_count; d++) {
        for (size_t w = 0; w < crew->days[d].work_count; w++) {
            const struct crew_work *work = &crew->days[d].work[w];
            const struct job_plan *job = app_plan_find(all->plan, work->job->id);
            if (job == NULL) continue;
            add_span(all, job, work->task, crew->crew, work->start_s, work->finish_s);
        }
    }
}

static bool is_of_others(const struct rulebook *rulebook, enum task task)
{
    const enum who who = rulebook->tasks[task].who;
    return who == WHO_INSPECTOR || who == WHO_PLUMBER || who == WHO_HVAC || who == WHO_ROOFER ||
           who == WHO_FRAMER || who == WHO_SETTER;
}

/* Inspectors' and other trades' work of a job, and the date given while the plan supports it. */
static void add_others(struct gathering *all, const struct job_plan *job,
                       const struct rulebook *rulebook)
{
    const int64_t until_s = all->plan->casefile->now_s + (int64_t)WEEKS_AHEAD_DAYS * DAY_S;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &job->tasks[t];
        const bool open = task->state != TASK_STATE_DONE && task->state != TASK_STATE_PASSED &&
                          task->state != TASK_STATE_NOT_NEEDED;
        if (!open || !is_of_others(rulebook, task->task)) continue;
        if (task->start_s == INSTANT_NONE || task->finish_s == INSTANT_NONE) continue;
        if (task->start_s > until_s) continue;
        add_span(all, job, task->task, NULL, task->start_s, task->finish_s);
    }
    if (job->fire.agreed_day == DAY_NONE || !job->fire.agreed_holds) return;
    if (all->count == APP_FEED_EVENTS_MAX) return;
    const char *uid = arena_print(all->arena, "date-given.%s@emberwait", job->job->id);
    if (uid == NULL) return;
    all->events[all->count++] = (struct feed_event){.uid = uid,
                                                    .job_id = job->job->id,
                                                    .job = job->job,
                                                    .task = TASK_NONE,
                                                    .day = job->fire.agreed_day,
                                                    .start_s = INSTANT_NONE,
                                                    .finish_s = INSTANT_NONE,
                                                    .status = FEED_TENTATIVE};
}

static enum status gather(struct gathering *all, struct app *app, const char *target,
                          struct faults *faults)
{
    const struct plan *plan = all->plan;
    bool found = is_owner(target);
    for (size_t i = 0; i < plan->crew_count; i++) {
        if (!is_owner(target) && strcmp(plan->crews[i].crew->id, target) != 0) continue;
        found = true;
        add_crew(all, &plan->crews[i]);
    }
    for (size_t i = 0; is_owner(target) && i < plan->job_count; i++)
        add_others(all, &plan->jobs[i], app->rulebook);
    if (found) return STATUS_OK;
    (void)faults_add(faults, "target", "a crew of the company", "\"%s\"", target);
    return STATUS_NOT_FOUND;
}

/* --- remembering --------------------------------------------------------------------------- */

struct remembering {
    const char *target;
    const struct store_feed_event *said; /* by uid */
    size_t said_count;
    const struct store_feed_event *put; /* what moved */
    size_t put_count;
    int64_t drop_before_s;
    struct arena *arena;
};

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct remembering *r = context;
    return store_feed_list(txn, r->target, &r->said, &r->said_count, r->arena, fault);
}

static enum status put_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct remembering *r = context;
    enum status status = store_feed_drop(txn, r->target, r->drop_before_s, fault);
    for (size_t i = 0; status == STATUS_OK && i < r->put_count; i++)
        status = store_feed_put(txn, r->target, &r->put[i], fault);
    return status;
}

static int by_uid(const void *key, const void *event)
{
    return strcmp(key, ((const struct store_feed_event *)event)->uid);
}

static struct store_feed_event as_said(const struct feed_event *event)
{
    return (struct store_feed_event){
        .uid = event->uid,
        .job = event->job_id,
        .task = event->task == TASK_NONE ? NULL : id_of(&task_ids, (int)event->task),
        .crew = event->crew == NULL ? NULL : event->crew->id,
        .day = event->day == DAY_NONE ? INSTANT_NONE : event->day,
        .start_s = event->start_s,
        .finish_s = event->finish_s,
        .status = (int64_t)event->status,
        .sequence = event->sequence,
        .changed_s = event->changed_s};
}

static bool same_text(const char *a, const char *b)
{
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

static bool moved(const struct store_feed_event *was, const struct store_feed_event *is)
{
    return was->day != is->day || was->start_s != is->start_s || was->finish_s != is->finish_s ||
           was->status != is->status || !same_text(was->crew, is->crew);
}

/* Number the entries of now; what moved is put into `put`. */
static size_t number(struct gathering *all, const struct remembering *r,
                     struct store_feed_event *put, int64_t now_s)
{
    size_t count = 0;
    for (size_t i = 0; i < all->count; i++) {
        struct feed_event *event = &all->events[i];
        const struct store_feed_event *was =
            r->said_count == 0
                ? NULL
                : bsearch(event->uid, r->said, r->said_count, sizeof *r->said, by_uid);
        const struct store_feed_event is = as_said(event);
        const bool anew = was == NULL || moved(was, &is);
        event->sequence = was == NULL ? 0 : was->sequence + (anew ? 1 : 0);
        event->changed_s = anew ? now_s : was->changed_s;
        if (anew) put[count++] = as_said(event);
    }
    return count;
}

static const struct feed_event *find_event(const struct gathering *all, size_t count,
                                           const char *uid)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(all->events[i].uid, uid) == 0) return &all->events[i];
    return NULL;
}

static const struct crew *crew_of(const struct plan *plan, const char *id)
{
    for (size_t i = 0; id != NULL && i < plan->crew_count; i++)
        if (strcmp(plan->crews[i].crew->id, id) == 0) return plan->crews[i].crew;
    return NULL;
}

/* What was said and is not planned now: past, it stays; to come, it is taken back. */
static size_t keep_or_cancel(struct gathering *all, const struct remembering *r,
                             struct store_feed_event *put, size_t count, int64_t now_s)
{
    const size_t planned = all->count;
    for (size_t i = 0; i < r->said_count && all->count < APP_FEED_EVENTS_MAX; i++) {
        struct store_feed_event was = r->said[i];
        if (find_event(all, planned, was.uid) != NULL) continue;
        const int64_t begins_s = was.start_s != INSTANT_NONE ? was.start_s : was.day * DAY_S;
        if (begins_s > now_s && was.status != FEED_CANCELLED) {
            was.status = FEED_CANCELLED;
            was.sequence++;
            was.changed_s = now_s;
            put[count++] = was;
        }
        const struct job_plan *job = app_plan_find(all->plan, was.job);
        const int task = was.task == NULL ? -1 : id_find(&task_ids, was.task);
        all->events[all->count++] =
            (struct feed_event){.uid = was.uid,
                                .job_id = was.job,
                                .job = job == NULL ? NULL : job->job,
                                .task = task < 0 ? TASK_NONE : (enum task)task,
                                .crew = crew_of(all->plan, was.crew),
                                .day = was.day == INSTANT_NONE ? DAY_NONE : (int32_t)was.day,
                                .start_s = was.start_s,
                                .finish_s = was.finish_s,
                                .status = (enum feed_status)was.status,
                                .sequence = was.sequence,
                                .changed_s = was.changed_s};
    }
    return count;
}

static int64_t begins_s(const struct feed_event *event)
{
    return event->start_s != INSTANT_NONE ? event->start_s : (int64_t)event->day * DAY_S;
}

static int by_time(const void *left, const void *right)
{
    const struct feed_event *a = left, *b = right;
    const int64_t first = begins_s(a), second = begins_s(b);
    if (first != second) return first < second ? -1 : 1;
    return strcmp(a->uid, b->uid);
}

static enum status remember(struct gathering *all, struct app *app, struct remembering *r,
                            int64_t now_s, struct faults *faults)
{
    struct fault fault = {0};
    enum status status = store_read(app->store, (struct store_work){list_run, r, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct store_feed_event *put =
        ARENA_TAKE(all->arena, all->count + r->said_count, struct store_feed_event);
    if (put == NULL) return app_no_memory(faults);
    r->put = put;
    r->put_count = number(all, r, put, now_s);
    r->put_count = keep_or_cancel(all, r, put, r->put_count, now_s);
    r->drop_before_s = now_s - (int64_t)APP_FEED_KEEP_DAYS * DAY_S;
    if (all->count > 0) qsort(all->events, all->count, sizeof *all->events, by_time);
    if (r->put_count == 0 || app->read_only) return STATUS_OK;
    status = store_write_aside(app->store, (struct store_work){put_run, r, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_feed(struct feed *out, struct app *app, const char *target, const struct plan *plan,
                     int64_t now_s, struct arena *arena, struct faults *faults)
{
    struct gathering all = {.plan = plan, .arena = arena};
    struct remembering r = {.target = target, .arena = arena};
    all.events = ARENA_TAKE(arena, APP_FEED_EVENTS_MAX, struct feed_event);
    if (all.events == NULL) return app_no_memory(faults);
    enum status status = gather(&all, app, target, faults);
    if (status == STATUS_OK) status = remember(&all, app, &r, now_s, faults);
    if (status != STATUS_OK) return status;
    if (arena_failed(arena)) return app_no_memory(faults);
    *out = (struct feed){.crew = is_owner(target) ? NULL : crew_of(plan, target),
                         .plan = plan,
                         .events = all.events,
                         .count = all.count,
                         .made_s = now_s};
    return STATUS_OK;
}
