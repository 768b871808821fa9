/* SPDX-License-Identifier: MIT */
/* Why: see plan_json_gate.h. Figures stand in the unit they are spoken in, which stands beside
 * them. */
#include "views/plan_json_gate.h"

#include <math.h>

#include "base/limits.h"
#include "views/says_gate.h"

#include "base/banned.h"

enum { SAYS_BYTES_MAX = 2000, MINUTES = 60 };

static void put_instant(struct json *json, const struct when *when, const char *key, int64_t at_s)
{
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S)
        json_put_null(json, key);
    else
        json_put_instant(json, key, at_s, when->zone);
}

static void put_number(struct json *json, const char *key, double value)
{
    json_put_number(json, key, isfinite(value) ? round(value * 1e4) / 1e4 : NAN);
}

static void put_id(struct json *json, const char *key, const struct id_table *table, int value)
{
    json_put_text(json, key, value < 0 ? NULL : id_of(table, value));
}

/* What decides, with its sentence; null when nothing does. */
static void put_figure(struct json *json, const struct when *when, const struct gate_figure *figure)
{
    if (figure->rule == GATE_RULE_NONE) {
        json_put_null(json, "figure");
        return;
    }
    struct text says = TEXT_UP_TO(SAYS_BYTES_MAX);
    says_gate_figure(&says, when->words, figure);
    json_open_object(json, "figure");
    put_id(json, "rule", &gate_rule_ids, (int)figure->rule);
    put_number(json, "value", figure->value);
    put_number(json, "limit", figure->limit);
    put_id(json, "unit", &unit_ids, isfinite(figure->limit) ? (int)figure->unit : -1);
    put_id(json, "mark", &mark_ids, (int)figure->mark);
    json_put_text(json, "source", figure->source);
    put_instant(json, when, "at", figure->at_s);
    json_put_bool(json, "mean_wind", figure->mean_wind);
    json_put_bytes(json, "says", text_z(&says), says.length);
    json_close(json);
    text_free(&says);
}

static void put_measures(struct json *json, const struct when *when,
                         const struct gate_measure *measures, size_t count)
{
    json_open_array(json, "measures");
    for (size_t i = 0; i < count; i++) {
        json_open_object(json, NULL);
        put_id(json, "measure", &measure_id_ids, (int)measures[i].measure);
        json_put_text(json, "do",
                      words_of(when->words, WORD_SET_WEATHER_DO, (int)measures[i].measure));
        put_figure(json, when, &measures[i].figure);
        json_close(json);
    }
    json_close(json);
}

void plan_json_measures(struct json *json, const struct when *when, const struct task_plan *task)
{
    put_measures(json, when, task->measures, task->measure_count);
    put_number(json, "bucket_min", task->bucket_h * MINUTES);
}

static void put_gates(struct json *json, const struct when *when, const struct job_plan *plan)
{
    json_open_array(json, "gates");
    for (size_t i = 0; i < plan->gate_count; i++) {
        const struct gate_strip *strip = &plan->gates[i];
        json_open_object(json, NULL);
        put_id(json, "gate", &gate_class_ids, (int)strip->gate);
        json_open_array(json, "tasks");
        for (int t = 0; t < TASK_COUNT; t++)
            if ((strip->tasks >> (unsigned)t & 1U) != 0) put_id(json, NULL, &task_ids, t);
        json_close(json);
        json_open_array(json, "hours");
        for (size_t s = 0; s < strip->count; s++) {
            json_open_object(json, NULL);
            put_instant(json, when, "from", strip->stretches[s].from_s);
            put_instant(json, when, "until", strip->stretches[s].until_s);
            put_id(json, "state", &gate_state_ids, (int)strip->stretches[s].state);
            put_figure(json, when, &strip->stretches[s].figure);
            json_close(json);
        }
        json_close(json);
        json_close(json);
    }
    json_close(json);
}

static void put_pour(struct json *json, const struct when *when, const char *key,
                     const struct job_plan *plan)
{
    const struct pour_plan *pour = &plan->pour;
    const struct task_plan *task = &plan->tasks[TASK_PAD_POUR];
    json_open_object(json, key);
    json_put_text(json, "job", plan->job->id);
    put_id(json, "state", &gate_state_ids, (int)pour->state);
    put_instant(json, when, "from", pour->from_s);
    put_instant(json, when, "until", pour->until_s);
    put_instant(json, when, "start", task->start_s);
    put_figure(json, when, &pour->figure);
    json_open_array(json, "night_lows_degf");
    for (size_t i = 0; i < sizeof pour->low_degf / sizeof *pour->low_degf; i++)
        put_number(json, NULL, pour->low_degf[i]);
    json_close(json);
    put_number(json, "rain_in", pour->rain_in);
    json_put_bool(json, "roof", pour->roof);
    put_measures(json, when, task->measures, task->measure_count);
    json_close(json);
}

void plan_json_tonight(struct json *json, const struct when *when, const struct job_plan *plan)
{
    for (size_t i = 0; i < plan->tonight_count; i++) {
        const struct tonight_item *item = &plan->tonight[i];
        json_open_object(json, NULL);
        json_put_text(json, "job", plan->job->id);
        put_id(json, "what", &tonight_ids, (int)item->what);
        json_put_text(json, "do", words_of(when->words, WORD_SET_TONIGHT, (int)item->what));
        json_put_text(json, "crew", item->crew_id);
        put_instant(json, when, "before", item->before_s);
        json_put_bool(json, "covered", item->covered);
        json_put_bool(json, "blanket", item->blanket);
        json_put_bool(json, "can_act", item->can_act);
        json_put_bool(json, "alarm", item->alarm);
        put_figure(json, when, &item->figure);
        put_number(json, "low_degf", item->low_degf);
        put_instant(json, when, "low_at", item->low_s);
        put_number(json, "rain_in", item->rain_in);
        put_instant(json, when, "rain_at", item->rain_s);
        put_number(json, "gust_mph", item->gust_mph);
        put_instant(json, when, "gust_at", item->gust_s);
        json_close(json);
    }
}

/* The halves of crew days with hours lost, in an open array. */
static void put_half_days(struct json *json, const struct when *when, const struct job_plan *plan)
{
    for (size_t i = 0; i < plan->half_day_count; i++) {
        const struct half_day *half = &plan->half_days[i];
        json_open_object(json, NULL);
        json_put_text(json, "job", plan->job->id);
        json_put_date(json, "date", half->day);
        json_put_text(json, "half", half->afternoon ? "afternoon" : "morning");
        put_id(json, "task", &task_ids, (int)half->task);
        put_number(json, "hours", half->hours);
        put_number(json, "hours_lost", half->hours_lost);
        json_put_bool(json, "lost", half->lost);
        put_figure(json, when, &half->figure);
        json_close(json);
    }
}

void plan_json_gates(struct json *json, const struct when *when, const struct job_plan *plan)
{
    put_gates(json, when, plan);
    if (plan->pour.asked)
        put_pour(json, when, "can_pour", plan);
    else
        json_put_null(json, "can_pour");
    json_open_array(json, "tonight");
    plan_json_tonight(json, when, plan);
    json_close(json);
    json_open_array(json, "weather_half_days");
    put_half_days(json, when, plan);
    json_close(json);
}

static struct when when_of(const struct plan *plan, size_t job, const struct words *words)
{
    return (struct when){
        .words = words, .zone = plan->jobs[job].job->zone, .now_s = plan->casefile->now_s};
}

void plan_json_weather_lists(struct json *json, const struct words *words, const struct plan *plan)
{
    json_open_array(json, "tonight");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct when when = when_of(plan, j, words);
        plan_json_tonight(json, &when, &plan->jobs[j]);
    }
    json_close(json);
    json_open_array(json, "can_pour");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct when when = when_of(plan, j, words);
        if (plan->jobs[j].pour.asked) put_pour(json, &when, NULL, &plan->jobs[j]);
    }
    json_close(json);
    json_open_array(json, "weather_half_days");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct when when = when_of(plan, j, words);
        put_half_days(json, &when, &plan->jobs[j]);
    }
    json_close(json);
}
