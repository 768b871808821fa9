/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_watch.h. What was last seen lies in the store, not in memory, so that a restart over
 * night forgets nothing; a clock is remembered with its start, so that a new pour is not taken for
 * a wait that went back.
 */
#include "app/app_watch.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"
#include "app/app_plan.h"
#include "base/instant.h"
#include "compute/civil.h"
#include "store/store_alarm.h"

#include "base/banned.h"

enum { HOUR_S = 3600, DAY_S = 86400, TOKEN_MAX = 80, ABOUT_MAX = 64 };

struct watch {
    const struct plan *plan;
    int64_t now_s;
    const struct store_watched *seen; /* as last time */
    size_t seen_count;
    const struct alarm *alarms; /* open or unseen */
    size_t alarm_count;
    struct store_watched *rows; /* to be put */
    size_t row_count;
    struct alarm *changes; /* to be added (number 0) or put */
    size_t change_count;
    size_t change_room;
    struct arena *arena;
};

/* --- what is so now ------------------------------------------------------------------------ */

static const char *token_of(char out[TOKEN_MAX], const struct clock_plan *clock)
{
    const int length = snprintf(out, TOKEN_MAX, "%s@%" PRId64, id_of(&clock_ids, (int)clock->clock),
                                clock->start_s);
    ENSURE(length > 0 && length < TOKEN_MAX);
    return out;
}

static const char *open_clocks(const struct job_plan *job, struct arena *arena)
{
    struct text text = TEXT_UP_TO(CLOCK_COUNT * TOKEN_MAX);
    char token[TOKEN_MAX];
    for (size_t i = 0; i < job->clock_count; i++) {
        if (job->clocks[i].state != CLOCK_STATE_OPEN) continue;
        if (text.length > 0) text_add_byte(&text, ' ');
        text_add_z(&text, token_of(token, &job->clocks[i]));
    }
    const char *out = text.failed ? NULL : arena_copy(arena, text_z(&text), text.length);
    text_free(&text);
    return out;
}

static bool was_open(const struct store_watched *before, const char *token)
{
    const size_t length = strlen(token);
    for (const char *at = before->open; at != NULL && *at != '\0';) {
        const size_t one = strcspn(at, " ");
        if (one == length && memcmp(at, token, length) == 0) return true;
        at += one + (at[one] == ' ');
    }
    return false;
}

static bool task_over(const struct job_plan *job, enum task task)
{
    return job->tasks[task].state == TASK_STATE_DONE || job->tasks[task].state == TASK_STATE_PASSED;
}

static int64_t given_of(const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    if (task_over(job, TASK_FIRE_1) || fire->agreed_day == DAY_NONE || !fire->agreed_holds)
        return INSTANT_NONE;
    return fire->agreed_day;
}

/* --- alarms -------------------------------------------------------------------------------- */

static const struct alarm *open_alarm(const struct watch *watch, const char *job_id,
                                      enum alarm_kind kind, const char *about)
{
    for (size_t i = 0; i < watch->alarm_count; i++) {
        const struct alarm *a = &watch->alarms[i];
        if (a->over_s == INSTANT_NONE && a->kind == kind && strcmp(a->job_id, job_id) == 0 &&
            strcmp(a->about, about) == 0)
            return a;
    }
    return NULL;
}

static void change(struct watch *watch, struct alarm alarm)
{
    if (watch->change_count < watch->change_room) watch->changes[watch->change_count++] = alarm;
}

static void raise(struct watch *watch, const struct job_plan *job, enum alarm_kind kind,
                  const char *about, int64_t since_s, int64_t due_s)
{
    const struct alarm *there = open_alarm(watch, job->job->id, kind, about);
    if (there == NULL) {
        change(watch, (struct alarm){.job_id = job->job->id,
                                     .kind = kind,
                                     .about = arena_print(watch->arena, "%s", about),
                                     .since_s = since_s,
                                     .at_s = watch->now_s,
                                     .due_s = due_s,
                                     .told_s = INSTANT_NONE,
                                     .over_s = INSTANT_NONE,
                                     .seen_s = INSTANT_NONE,
                                     .crew_seen_s = INSTANT_NONE});
    } else if (there->due_s != due_s) {
        struct alarm moved = *there;
        moved.due_s = due_s;
        change(watch, moved);
    }
}

/* Clocks that stood open with the same start and do not any more. */
static void look_at_clocks(struct watch *watch, const struct job_plan *job,
                           const struct store_watched *before)
{
    char token[TOKEN_MAX];
    for (size_t i = 0; i < job->clock_count; i++) {
        const struct clock_plan *clock = &job->clocks[i];
        if (clock->state == CLOCK_STATE_OPEN || clock->state == CLOCK_STATE_ENDED) continue;
        if (!was_open(before, token_of(token, clock))) continue;
        raise(watch, job, ALARM_NOT_YET, id_of(&clock_ids, (int)clock->clock), clock->start_s,
              clock->opens_s);
    }
}

static const char *date_text(char out[ABOUT_MAX], int64_t day)
{
    int year, month, day_of_month;
    civil_date((int32_t)day, &year, &month, &day_of_month);
    (void)snprintf(out, ABOUT_MAX, "%04d-%02d-%02d", year, month, day_of_month);
    return out;
}

static void look_at_date(struct watch *watch, const struct job_plan *job,
                         const struct store_watched *before)
{
    char about[ABOUT_MAX];
    if (before->given == INSTANT_NONE || before->given != job->fire.agreed_day) return;
    if (task_over(job, TASK_FIRE_1) || job->fire.agreed_holds) return;
    raise(watch, job, ALARM_WITHDRAWN, date_text(about, before->given), INSTANT_NONE, INSTANT_NONE);
}

static const struct caution *frost_ahead(const struct job_plan *job)
{
    for (size_t i = 0; i < job->caution_count; i++)
        if (job->cautions[i].caution == CAUTION_FROST_AHEAD) return &job->cautions[i];
    return NULL;
}

/* The same wait, started at the same time, and not over. */
static bool waits_still(const struct job_plan *job, const struct alarm *alarm)
{
    for (size_t i = 0; i < job->clock_count; i++) {
        const struct clock_plan *clock = &job->clocks[i];
        if (strcmp(id_of(&clock_ids, (int)clock->clock), alarm->about) != 0) continue;
        return clock->start_s == alarm->since_s && clock->state != CLOCK_STATE_OPEN &&
               clock->state != CLOCK_STATE_ENDED;
    }
    return false;
}

/* Whether what an alarm says is so still. */
static bool holds(const struct job_plan *job, const struct alarm *alarm)
{
    char about[ABOUT_MAX];
    switch (alarm->kind) {
    case ALARM_NOT_YET:
        return waits_still(job, alarm);
    case ALARM_FROST:
        return frost_ahead(job) != NULL;
    case ALARM_WITHDRAWN:
        return job->fire.agreed_day != DAY_NONE && !job->fire.agreed_holds &&
               strcmp(date_text(about, job->fire.agreed_day), alarm->about) == 0;
    default:
        return true;
    }
}

static void look_at_old(struct watch *watch, const struct job_plan *job)
{
    for (size_t i = 0; i < watch->alarm_count; i++) {
        const struct alarm *alarm = &watch->alarms[i];
        if (alarm->over_s != INSTANT_NONE || strcmp(alarm->job_id, job->job->id) != 0) continue;
        if (holds(job, alarm)) continue;
        struct alarm over = *alarm;
        over.over_s = watch->now_s;
        change(watch, over);
    }
}

static void look_at_job(struct watch *watch, const struct job_plan *job)
{
    static const struct store_watched nothing = {.open = "", .given = INSTANT_NONE};
    const struct store_watched *before = &nothing;
    for (size_t i = 0; i < watch->seen_count; i++)
        if (strcmp(watch->seen[i].job_id, job->job->id) == 0) before = &watch->seen[i];
    look_at_clocks(watch, job, before);
    look_at_date(watch, job, before);
    const struct caution *frost = frost_ahead(job);
    if (frost != NULL) raise(watch, job, ALARM_FROST, "pad", INSTANT_NONE, frost->at_s);
    look_at_old(watch, job);
    struct store_watched row = {
        .job_id = job->job->id, .open = open_clocks(job, watch->arena), .given = given_of(job)};
    if (row.open == NULL) return;
    if (before != &nothing && strcmp(before->open, row.open) == 0 && before->given == row.given)
        return;
    if (before == &nothing && row.open[0] == '\0' && row.given == INSTANT_NONE) return;
    watch->rows[watch->row_count++] = row;
}

/* --- the store ----------------------------------------------------------------------------- */

static enum status read_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct watch *watch = context;
    const enum status status =
        store_watched_list(txn, &watch->seen, &watch->seen_count, watch->arena, fault);
    if (status != STATUS_OK) return status;
    return store_alarm_list(txn, &watch->alarms, &watch->alarm_count, watch->arena, fault);
}

static enum status write_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct watch *watch = context;
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < watch->change_count; i++) {
        const struct alarm *alarm = &watch->changes[i];
        status = alarm->number == 0 ? store_alarm_add(txn, alarm, fault)
                                    : store_alarm_put(txn, alarm, fault);
    }
    for (size_t i = 0; status == STATUS_OK && i < watch->row_count; i++)
        status = store_watched_put(txn, &watch->rows[i], fault);
    return status;
}

static enum status read_all(struct watch *watch, struct app *app, struct faults *faults)
{
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){read_run, watch, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_watch(struct alarm_list *out, struct app *app, const struct plan *plan,
                      int64_t now_s, struct arena *arena, struct faults *faults)
{
    struct watch watch = {.plan = plan, .now_s = now_s, .arena = arena};
    enum status status = read_all(&watch, app, faults);
    if (status != STATUS_OK) return status;
    watch.change_room = watch.alarm_count + plan->job_count * (CLOCK_COUNT + 2);
    watch.changes = ARENA_TAKE(arena, watch.change_room, struct alarm);
    watch.rows = ARENA_TAKE(arena, plan->job_count, struct store_watched);
    if (watch.changes == NULL || watch.rows == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < plan->job_count; i++) look_at_job(&watch, &plan->jobs[i]);
    if (arena_failed(arena)) return app_no_memory(faults);
    if (!app->read_only && watch.change_count + watch.row_count > 0) {
        struct fault fault = {0};
        status =
            store_write_aside(app->store, (struct store_work){write_run, &watch, false}, &fault);
        if (status != STATUS_OK) return app_fault(faults, status, &fault);
        status = read_all(&watch, app, faults);
    }
    *out = (struct alarm_list){watch.alarms, watch.alarm_count};
    return status;
}

enum status app_alarms(struct alarm_list *out, struct app *app, struct arena *arena,
                       struct faults *faults)
{
    struct watch watch = {.arena = arena};
    const enum status status = read_all(&watch, app, faults);
    *out = (struct alarm_list){watch.alarms, watch.alarm_count};
    return status;
}

struct seeing {
    int64_t number, now_s;
    const char *by;
    const struct alarm *told;
};

static enum status seen_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct seeing *seeing = context;
    if (seeing->told != NULL) return store_alarm_put(txn, seeing->told, fault);
    return store_alarm_seen(txn, seeing->number, seeing->now_s, seeing->by, fault);
}

static enum status put(struct app *app, struct seeing *seeing, struct faults *faults)
{
    struct fault fault = {0};
    const enum status status =
        store_write_aside(app->store, (struct store_work){seen_run, seeing, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_alarm_seen(struct app *app, int64_t number, const char *by, int64_t now_s,
                           struct faults *faults)
{
    struct seeing seeing = {.number = number, .now_s = now_s, .by = by};
    return put(app, &seeing, faults);
}

enum status app_alarm_told(struct app *app, const struct alarm *alarm, int64_t now_s,
                           struct faults *faults)
{
    struct alarm told = *alarm;
    told.told++;
    told.told_s = now_s;
    struct seeing seeing = {.told = &told};
    return put(app, &seeing, faults);
}

/* --- when to mail -------------------------------------------------------------------------- */

static int64_t setting_s(const struct app *app, enum setting setting)
{
    return (int64_t)(rulebook_setting(app->rulebook, setting) * HOUR_S);
}

bool app_alarm_due(const struct app *app, const struct alarm *alarm, const struct zone *zone,
                   int64_t now_s)
{
    if (alarm->told >= ALARM_MAILS_MAX || alarm->over_s != INSTANT_NONE) return false;
    if (alarm->seen_s != INSTANT_NONE) return false;
    if (alarm->told > 0 && now_s < alarm->told_s + setting_s(app, SETTING_ALARM_REPEAT_H))
        return false;
    const int64_t clock_s = civil_second_of_day(zone, now_s);
    const bool quiet = clock_s >= setting_s(app, SETTING_ALARM_QUIET_FROM_H) ||
                       clock_s < setting_s(app, SETTING_ALARM_QUIET_UNTIL_H);
    if (!quiet) return true;
    return alarm->due_s != INSTANT_NONE && alarm->kind == ALARM_FROST &&
           alarm->due_s >= now_s + setting_s(app, SETTING_ALARM_CAN_ACT_H);
}
