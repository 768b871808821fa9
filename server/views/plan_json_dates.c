/* SPDX-License-Identifier: MIT */
/*
 * Why: see plan_json_dates.h. What is not known is null, never zero. The lists name jobs by id and
 * name, so that each can be read without the plans beside it.
 */
#include "views/plan_json_dates.h"

#include <math.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "views/says.h"

#include "base/banned.h"

enum { DATE_SAYS_BYTES_MAX = 4000 };

static void put_instant(struct json *json, const struct zone *zone, const char *key, int64_t at_s)
{
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S)
        json_put_null(json, key);
    else
        json_put_instant(json, key, at_s, zone);
}

static void put_day(struct json *json, const char *key, int32_t day)
{
    if (day == DAY_NONE)
        json_put_null(json, key);
    else
        json_put_date(json, key, day);
}

static void put_task(struct json *json, const char *key, enum task task)
{
    json_put_text(json, key, task == TASK_NONE ? NULL : id_of(&task_ids, (int)task));
}

static void put_tasks(struct json *json, const char *key, uint64_t tasks)
{
    json_open_array(json, key);
    for (int t = 0; t < TASK_COUNT; t++)
        if ((tasks >> t & 1U) != 0) put_task(json, NULL, (enum task)t);
    json_close(json);
}

static void put_reason(struct json *json, const struct when *when, const char *key,
                       const struct reason *reason)
{
    if (reason == NULL) {
        json_put_null(json, key);
        return;
    }
    struct text says = TEXT_UP_TO(DATE_SAYS_BYTES_MAX);
    says_reason(&says, when, reason);
    json_open_object(json, key);
    json_put_text(json, "rule", reason->rule);
    put_instant(json, when->zone, "until", reason->until_s);
    json_put_text(json, "says", text_z(&says));
    json_close(json);
    text_free(&says);
}

void plan_json_task_dates(struct json *json, const struct when *when, const struct task_plan *task)
{
    put_instant(json, when->zone, "latest_finish", task->latest_finish_s);
    if (task->days_to_spare == DAY_NONE)
        json_put_null(json, "days_to_spare");
    else
        json_put_integer(json, "days_to_spare", task->days_to_spare);
    put_instant(json, when->zone, "last_chance", task->last_chance_s);
    put_task(json, "closed_by", task->closed_by);
    put_instant(json, when->zone, "due", task->due_s);
}

void plan_json_fire_steps(struct json *json, const struct when *when, const struct fire_plan *fire)
{
    put_day(json, "projected", fire->projected_day);
    if (fire->next_size > 5) {
        json_put_null(json, "next");
        return;
    }
    json_open_object(json, "next");
    json_put_integer(json, "number", fire->next_size);
    json_put_bool(json, "extra_small_first", fire->next_extra);
    json_put_integer(json, "sizes_back", fire->stepped_back);
    put_instant(json, when->zone, "last_fire", fire->last_fire_s);
    put_instant(json, when->zone, "rest_until", fire->rest_until_s);
    json_put_bool(json, "look_first", fire->sign_hold != NULL);
    json_put_text(json, "sign",
                  fire->sign_hold == NULL || fire->sign_hold->sign == SIGN_NONE
                      ? NULL
                      : id_of(&fire_sign_ids, (int)fire->sign_hold->sign));
    json_close(json);
}

void plan_json_work_back(struct json *json, const struct when *when, const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    if (fire->wanted_day == DAY_NONE) {
        json_put_null(json, "work_back");
        return;
    }
    json_open_object(json, "work_back");
    put_day(json, "fire", fire->wanted_day);
    json_put_text(json, "from", fire->wanted_is_agreed ? "agreed" : "wanted");
    const bool known = fire->projected_day != DAY_NONE;
    if (known)
        json_put_bool(json, "reached", fire->projected_day <= fire->wanted_day);
    else
        json_put_null(json, "reached");
    json_open_array(json, "assumes");
    json_put_text(json, NULL, words_get(when->words, WORD_WORK_BACK_FULL));
    json_put_text(json, NULL, words_get(when->words, WORD_WORK_BACK_GATES));
    json_close(json);
    json_close(json);
}

/* --- lists
 * ---------------------------------------------------------------------------------------- */

static void put_job(struct json *json, const struct job_plan *job)
{
    json_put_text(json, "job", job->job->id);
    json_put_text(json, "name", job->job->name);
}

static void put_call_in(struct json *json, const struct call_in *call)
{
    const struct zone *zone = call->job->job->zone;
    const struct outside_party *party = call->inspector;
    json_open_object(json, NULL);
    put_job(json, call->job);
    put_task(json, "task", call->task);
    json_put_text(json, "inspector",
                  party == NULL         ? NULL
                  : party->name != NULL ? party->name
                                        : party->id);
    json_put_text(json, "phone", party == NULL ? NULL : party->phone);
    json_put_bool(json, "today", call->today);
    put_instant(json, zone, "request_by", call->request_by_s);
    put_day(json, "visit", call->visit_day);
    put_tasks(json, "releases", call->releases);
    put_instant(json, zone, "missed_cutoff", call->missed_s);
    json_put_integer(json, "cost_days", call->cost_days);
    json_put_integer(json, "end_cost_days", call->end_cost_days);
    json_close(json);
}

static void put_first_fire(struct json *json, const struct first_fire *one, const struct when *when)
{
    json_open_object(json, NULL);
    put_job(json, one->job);
    put_day(json, "date", one->day);
    json_put_bool(json, "projected", one->projected);
    put_day(json, "agreed", one->job->fire.agreed_day);
    put_day(json, "promise", one->job->fire.promise_day);
    json_put_bool(json, "thin", one->thin);
    put_tasks(json, "left", one->left);
    put_reason(json, when, "driver", one->driver);
    json_close(json);
}

static void put_date_given(struct json *json, const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    const int32_t now_day =
        fire->projected_day != DAY_NONE ? fire->projected_day : fire->earliest_day;
    if (fire->agreed_day == DAY_NONE) return;
    json_open_object(json, NULL);
    put_job(json, job);
    put_day(json, "agreed", fire->agreed_day);
    json_put_bool(json, "holds", fire->agreed_holds);
    put_day(json, "earliest", fire->earliest_day);
    put_day(json, "promise", fire->promise_day);
    if (now_day == DAY_NONE)
        json_put_null(json, "days_to_spare");
    else
        json_put_integer(json, "days_to_spare", fire->agreed_day - now_day);
    json_close(json);
}

static void put_owed(struct json *json, const struct owed_call *call)
{
    json_open_object(json, NULL);
    put_job(json, call->job);
    json_put_text(json, "who", call->task == TASK_NONE ? "homeowner" : "trade");
    put_task(json, "task", call->task);
    put_day(json, "told", call->told_day);
    put_day(json, "now", call->now_day);
    json_put_text(json, "phone", call->phone);
    json_close(json);
}

void plan_json_lists(struct json *json, const struct plan *plan, const struct words *words)
{
    const struct plan_lists *lists = &plan->lists;
    json_open_object(json, "lists");
    json_open_array(json, "call_in");
    for (size_t i = 0; i < lists->call_in_count; i++) put_call_in(json, &lists->call_ins[i]);
    json_close(json);
    json_open_array(json, "first_fires");
    for (size_t i = 0; i < lists->first_fire_count; i++) {
        const struct first_fire *one = &lists->first_fires[i];
        const struct when when = {
            .words = words, .zone = one->job->job->zone, .now_s = plan->casefile->now_s};
        put_first_fire(json, one, &when);
    }
    json_close(json);
    json_open_array(json, "dates_given");
    for (size_t i = 0; i < plan->job_count; i++) put_date_given(json, &plan->jobs[i]);
    json_close(json);
    json_open_array(json, "idle");
    for (size_t i = 0; i < lists->idle_count; i++) {
        json_open_object(json, NULL);
        put_job(json, lists->idle[i].job);
        put_task(json, "task", lists->idle[i].task);
        put_instant(json, lists->idle[i].job->job->zone, "since", lists->idle[i].since_s);
        json_close(json);
    }
    json_close(json);
    json_open_array(json, "owed_calls");
    for (size_t i = 0; i < lists->owed_count; i++) put_owed(json, &lists->owed[i]);
    json_close(json);
    json_close(json);
}
