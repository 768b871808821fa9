/* SPDX-License-Identifier: MIT */
/*
 * Why: see plan_json.h. Instants are in the job's own zone with its offset (a crew's days: in the
 * zone of the job worked on), days are civil days of the job. What is not known is null, never
 * zero.
 */
#include "views/plan_json.h"

#include <math.h>

#include "base/limits.h"
#include "views/check_json.h"
#include "views/plan_json_crews.h"
#include "views/plan_json_dates.h"
#include "views/plan_json_gate.h"
#include "views/says.h"
#include "views/when.h"

#include "base/banned.h"

static const char *const outlook_keys[6] = {"p10",        "p50",        "p90",
                                            "recent_p10", "recent_p50", "recent_p90"};
static const char *const finish_keys[6] = {"finish_p10",        "finish_p50",
                                           "finish_p90",        "recent_finish_p10",
                                           "recent_finish_p50", "recent_finish_p90"};

enum { SAYS_BYTES_MAX = 4000 };

/* What every part of a job is written with. */
struct job_writer {
    struct json *json;
    struct when when;
    struct text says; /* the sentence at hand */
};

static void put_instant(struct job_writer *w, const char *key, int64_t at_s)
{
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S) {
        json_put_null(w->json, key);
    } else {
        json_put_instant(w->json, key, at_s, w->when.zone);
    }
}

static void put_day(struct json *json, const char *key, int32_t day)
{
    if (day == DAY_NONE) {
        json_put_null(json, key);
    } else {
        json_put_date(json, key, day);
    }
}

/* To a millionth: sums of hours carry noise behind that. */
static void put_figure(struct json *json, const char *key, double value)
{
    json_put_number(json, key, isfinite(value) ? round(value * 1e6) / 1e6 : value);
}

static void put_id(struct json *json, const char *key, const struct id_table *table, int value)
{
    json_put_text(json, key, value < 0 ? NULL : id_of(table, value));
}

/* Writes the sentence in w->says and empties it. */
static void put_says(struct job_writer *w)
{
    json_put_bytes(w->json, "says", text_z(&w->says), w->says.length);
    text_clear(&w->says);
}

/* What was added to station figures, where that ruled. */
static void put_offset(struct json *json, double site_offset_degc)
{
    put_figure(json, "site_offset_degf", site_offset_degc == 0 ? NAN : site_offset_degc * 1.8);
}

static void put_reason(struct job_writer *w, const struct reason *reason)
{
    struct json *json = w->json;
    bool figures = isfinite(reason->need);
    json_open_object(json, NULL);
    json_put_text(json, "rule", reason->rule);
    put_id(json, "kind", &reason_ids, (int)reason->kind);
    put_instant(w, "until", reason->until_s);
    says_reason(&w->says, &w->when, reason);
    put_says(w);
    put_figure(json, "have", reason->have);
    put_figure(json, "need", reason->need);
    bool check = reason->kind == REASON_CHECK_OUT || reason->kind == REASON_CHECK_MISSING ||
                 reason->kind == REASON_CHECK_EVIDENCE;
    if (check)
        put_id(json, "unit", &check_unit_ids, figures ? (int)reason->check_unit : -1);
    else
        put_id(json, "unit", &unit_ids, figures ? (int)reason->unit : -1);
    put_figure(json, "floor_h", reason->floor_h);
    put_id(json, "task", &task_ids, (int)reason->task);
    put_id(json, "clock", &clock_ids, (int)reason->clock);
    put_id(json, "mark", &mark_ids, (int)reason->mark);
    json_put_text(json, "source", reason->source);
    put_instant(w, "old_forecast_made",
                reason->forecast_old ? reason->forecast_made_s : INSTANT_NONE);
    put_offset(json, reason->site_offset_degc);
    json_close(json);
}

/* Past years of an instant: of all of them, and of the latest alone. */
static void put_outlook(struct job_writer *w, const char *const keys[6],
                        const struct outlook_range *outlook)
{
    put_instant(w, keys[0], outlook->p10_s);
    put_instant(w, keys[1], outlook->p50_s);
    put_instant(w, keys[2], outlook->p90_s);
    put_instant(w, keys[3], outlook->recent_p10_s);
    put_instant(w, keys[4], outlook->recent_p50_s);
    put_instant(w, keys[5], outlook->recent_p90_s);
}

static void put_task(struct job_writer *w, const struct task_plan *task)
{
    struct json *json = w->json;
    json_open_object(json, NULL);
    put_id(json, "task", &task_ids, (int)task->task);
    put_id(json, "state", &task_state_ids, (int)task->state);
    put_instant(w, "start", task->start_s);
    put_instant(w, "finish", task->finish_s);
    json_put_text(json, "crew", task->crew_id);
    plan_json_task_dates(json, &w->when, task);
    put_instant(w, "opens", task->opens_s);
    put_outlook(w, outlook_keys, &task->outlook);
    put_outlook(w, finish_keys, &task->outlook_finish);
    put_figure(json, "hours", task->hours);
    put_instant(w, "done", task->done_s);
    json_put_bool(json, "held", task->held);
    json_put_bool(json, "old_forecast", task->forecast_old);
    check_json_task(json, task, &w->when);
    json_open_array(json, "because");
    for (size_t i = 0; i < task->because_count; i++) put_reason(w, &task->because[i]);
    json_close(json);
    plan_json_measures(json, &w->when, task);
    json_close(json);
}

static void put_last_reading(struct job_writer *w, const struct record *reading)
{
    if (reading == NULL) {
        json_put_null(w->json, "last_reading");
        return;
    }
    json_open_object(w->json, "last_reading");
    put_instant(w, "at", reading->at_s);
    put_figure(w->json, "degf", reading->temp_degc * 9.0 / 5.0 + 32.0);
    put_figure(w->json, "degc", reading->temp_degc);
    put_id(w->json, "how", &reading_how_ids, (int)reading->how);
    json_close(w->json);
}

static void put_accepted(struct job_writer *w, const struct record *accepted)
{
    if (accepted == NULL) return;
    json_open_object(w->json, "accepted");
    put_instant(w, "at", accepted->at_s);
    json_put_text(w->json, "by", accepted->by);
    json_put_text(w->json, "reason", accepted->reason);
    json_close(w->json);
}

static void put_days(struct json *json, const struct clock_plan *clock)
{
    if (clock->days == NULL) return;
    json_open_array(json, "days");
    for (size_t i = 0; i < clock->day_count; i++) {
        const struct counted_day *day = &clock->days[i];
        json_open_object(json, NULL);
        put_day(json, "date", day->day);
        json_put_number(json, "credit", day->credit);
        put_id(json, "reason", &day_reason_ids, (int)day->reason);
        put_figure(json, "mean_degc", day->mean_degc);
        put_figure(json, "min_degc", day->min_degc);
        json_close(json);
    }
    json_close(json);
}

static void put_clock(struct job_writer *w, const struct clock_plan *clock)
{
    struct json *json = w->json;
    json_open_object(json, NULL);
    put_id(json, "clock", &clock_ids, (int)clock->clock);
    put_id(json, "part", &part_ids, (int)clock->part);
    put_id(json, "state", &clock_state_ids, (int)clock->state);
    put_figure(json, "have", clock->have);
    put_figure(json, "need", clock->need);
    put_id(json, "unit", &unit_ids, (int)clock->unit);
    put_figure(json, "floor_h", clock->floor_h);
    put_instant(w, "crossing", clock->crossing_s);
    put_instant(w, "opens", clock->opens_s);
    json_open_array(json, "assumes");
    for (unsigned bit = 0; bit < assume_word_ids.count; bit++) {
        enum assume assume = (enum assume)(1U << bit);
        if ((clock->assumes & assume) == 0) continue;
        says_assume(&w->says, &w->when, clock, assume);
        json_put_bytes(json, NULL, text_z(&w->says), w->says.length);
        text_clear(&w->says);
    }
    json_close(json);
    const bool old = (clock->assumes & ASSUME_FORECAST_OLD) != 0;
    put_instant(w, "old_forecast_made", old ? clock->forecast_made_s : INSTANT_NONE);
    put_offset(json, clock->site_offset_degc);
    put_instant(w, "started", clock->start_s);
    put_instant(w, "stopped", clock->stopped_s);
    if (clock->state == CLOCK_STATE_CHECK_IT) {
        json_put_bool(json, "stopped_by_soaking", clock->stopped_by_soaking);
    }
    put_last_reading(w, clock->last_reading);
    put_instant(w, "no_reading_since", clock->no_reading_since_s);
    put_outlook(w, outlook_keys, &clock->outlook);
    put_accepted(w, clock->accepted);
    put_id(json, "mark", &mark_ids, (int)clock->need_mark);
    put_id(json, "floor_mark", &mark_ids, (int)clock->floor_mark);
    json_put_text(json, "source", clock->source);
    put_days(json, clock);
    json_close(json);
}

static void put_struck(struct job_writer *w, const struct job_plan *plan)
{
    json_open_array(w->json, "struck");
    for (size_t i = 0; i < plan->struck_count; i++) {
        const struct struck_clock *struck = &plan->struck[i];
        json_open_object(w->json, NULL);
        put_id(w->json, "clock", &clock_ids, (int)struck->clock);
        put_instant(w, "started", struck->start_s);
        put_instant(w, "ended", struck->ended_s);
        put_figure(w->json, "have", struck->have);
        json_put_text(w->json, "because", struck->because == NULL ? NULL : struck->because->id);
        json_close(w->json);
    }
    json_close(w->json);
}

static void put_fire(struct job_writer *w, const struct fire_plan *fire)
{
    struct json *json = w->json;
    json_open_object(json, "fire");
    put_day(json, "cure_complete", fire->cure_complete_day);
    put_day(json, "earliest", fire->earliest_day);
    put_day(json, "likely", fire->likely_day);
    put_day(json, "p10", fire->p10_day);
    put_day(json, "p50", fire->p50_day);
    put_day(json, "p90", fire->p90_day);
    put_day(json, "recent_p10", fire->recent_p10_day);
    put_day(json, "recent_p50", fire->recent_p50_day);
    put_day(json, "recent_p90", fire->recent_p90_day);
    put_day(json, "promise", fire->promise_day);
    put_day(json, "at_recent_rate", fire->at_recent_rate_day);
    json_open_array(json, "blocked_by");
    for (int bit = 0; bit < (int)block_word_ids.count; bit++) {
        if ((fire->blocked_by >> bit & 1U) != 0) put_id(json, NULL, &block_word_ids, bit);
    }
    json_close(json);
    says_fire_blocks(&w->says, w->when.words, fire->blocked_by);
    put_says(w);
    put_id(json, "driven_by", &clock_ids, (int)fire->driven_by);
    put_day(json, "agreed", fire->agreed_day);
    json_put_bool(json, "agreed_holds", fire->agreed_holds);
    plan_json_fire_steps(json, &w->when, fire);
    json_close(json);
}

static void put_caution(struct job_writer *w, const struct caution *caution)
{
    json_open_object(w->json, NULL);
    put_id(w->json, "id", &caution_ids, (int)caution->caution);
    says_caution(&w->says, &w->when, caution);
    put_says(w);
    put_instant(w, "at", caution->at_s);
    if (caution->record != NULL) json_put_text(w->json, "by", caution->record->by);
    if (caution->record != NULL && caution->record->lot != NULL)
        json_put_text(w->json, "lot", caution->record->lot);
    put_id(w->json, "part", &part_ids, (int)caution->part);
    put_id(w->json, "task", &task_ids, (int)caution->task);
    put_id(w->json, "quantity", &quantity_ids, (int)caution->quantity);
    json_close(w->json);
}

void plan_json_job(struct json *json, const char *key, const struct job_plan *plan, int64_t now_s,
                   const struct words *words)
{
    struct job_writer w = {.json = json,
                           .when = {.words = words, .zone = plan->job->zone, .now_s = now_s},
                           .says = TEXT_UP_TO(SAYS_BYTES_MAX)};
    json_open_object(json, key);
    json_put_text(json, "id", plan->job->id);
    json_put_text(json, "name", plan->job->name);
    json_put_text(json, "time_zone", plan->job->zone->name);
    if (plan->job->site != NULL) json_put_text(json, "site", plan->job->site);
    json_open_array(json, "tasks");
    for (int i = 0; i < TASK_COUNT; i++) put_task(&w, &plan->tasks[i]);
    json_close(json);
    json_open_array(json, "clocks");
    for (size_t i = 0; i < plan->clock_count; i++) put_clock(&w, &plan->clocks[i]);
    json_close(json);
    put_struck(&w, plan);
    put_fire(&w, &plan->fire);
    plan_json_work_back(json, &w.when, plan);
    json_open_array(json, "cautions");
    for (size_t i = 0; i < plan->caution_count; i++) put_caution(&w, &plan->cautions[i]);
    json_close(json);
    check_json_without_photo(json, plan, &w.when);
    plan_json_gates(json, &w.when, plan);
    json_close(json);
    text_free(&w.says);
}

void plan_json(struct text *out, const struct plan *plan, const struct words *words)
{
    struct json json = {.text = out};
    const struct casefile *casefile = plan->casefile;
    json_open_object(&json, NULL);
    json_put_integer(&json, "emberwait", 1);
    json_put_instant(&json, "now", casefile->now_s, casefile->now_zone);
    json_open_array(&json, "jobs");
    for (size_t i = 0; i < plan->job_count; i++) {
        plan_json_job(&json, NULL, &plan->jobs[i], casefile->now_s, words);
    }
    json_close(&json);
    plan_json_crews(&json, plan);
    plan_json_weather_lists(&json, words, plan);
    check_json_bags(&json, plan);
    plan_json_lists(&json, plan, words);
    json_close(&json);
    text_add_byte(out, '\n');
    ENSURE(json_done(&json));
}
