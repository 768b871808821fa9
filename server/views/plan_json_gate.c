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

/* The members of what decides, inside an object. */
static void put_figure(struct json *json, const struct when *when, const struct gate_figure *figure)
{
    struct text says = TEXT_UP_TO(SAYS_BYTES_MAX);
    const bool figures = figure->rule != GATE_RULE_NONE && isfinite(figure->limit);
    says_gate_figure(&says, when->words, figure);
    put_id(json, "rule", &gate_rule_ids, (int)figure->rule);
    put_number(json, "value", figure->rule == GATE_RULE_NONE ? NAN : figure->value);
    put_number(json, "limit", figure->rule == GATE_RULE_NONE ? NAN : figure->limit);
    put_id(json, "unit", &unit_ids, figures ? (int)figure->unit : -1);
    put_id(json, "mark", &mark_ids, figure->rule == GATE_RULE_NONE ? -1 : (int)figure->mark);
    json_put_text(json, "source", figure->rule == GATE_RULE_NONE ? NULL : figure->source);
    put_instant(json, when, "at", figure->rule == GATE_RULE_NONE ? INSTANT_NONE : figure->at_s);
    json_put_bool(json, "mean_wind", figure->mean_wind);
    if (figure->rule == GATE_RULE_NONE)
        json_put_null(json, "says");
    else
        json_put_bytes(json, "says", text_z(&says), says.length);
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

/* The members of the pour's answer, inside an object. */
static void put_pour(struct json *json, const struct when *when, const struct job_plan *plan)
{
    const struct pour_plan *pour = &plan->pour;
    const struct task_plan *task = &plan->tasks[TASK_PAD_POUR];
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
}

/* One thing due before the night, inside an object. */
static void put_tonight(struct json *json, const struct when *when, const struct tonight_item *item)
{
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
}

void plan_json_tonight(struct json *json, const struct when *when, const struct job_plan *plan)
{
    json_open_array(json, "tonight");
    for (size_t i = 0; i < plan->tonight_count; i++) {
        json_open_object(json, NULL);
        put_tonight(json, when, &plan->tonight[i]);
        json_close(json);
    }
    json_close(json);
}

static void put_half_day(struct json *json, const struct when *when, const struct half_day *half)
{
    json_put_date(json, "date", half->day);
    json_put_text(json, "half", half->afternoon ? "afternoon" : "morning");
    put_id(json, "task", &task_ids, (int)half->task);
    put_number(json, "hours", half->hours);
    put_number(json, "hours_lost", half->hours_lost);
    json_put_bool(json, "lost", half->lost);
    put_figure(json, when, &half->figure);
}

void plan_json_gates(struct json *json, const struct when *when, const struct job_plan *plan)
{
    put_gates(json, when, plan);
    if (plan->pour.asked) {
        json_open_object(json, "can_pour");
        put_pour(json, when, plan);
        json_close(json);
    } else {
        json_put_null(json, "can_pour");
    }
    plan_json_tonight(json, when, plan);
    json_open_array(json, "weather_half_days");
    for (size_t i = 0; i < plan->half_day_count; i++) {
        json_open_object(json, NULL);
        put_half_day(json, when, &plan->half_days[i]);
        json_close(json);
    }
    json_close(json);
}

void plan_json_weather_lists(struct json *json, const struct words *words, const struct plan *plan)
{
    const int64_t now_s = plan->casefile->now_s;
    json_open_array(json, "tonight");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct job_plan *job = &plan->jobs[j];
        const struct when when = {.words = words, .zone = job->job->zone, .now_s = now_s};
        for (size_t i = 0; i < job->tonight_count; i++) {
            json_open_object(json, NULL);
            json_put_text(json, "job", job->job->id);
            put_tonight(json, &when, &job->tonight[i]);
            json_close(json);
        }
    }
    json_close(json);
    json_open_array(json, "can_pour");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct job_plan *job = &plan->jobs[j];
        const struct when when = {.words = words, .zone = job->job->zone, .now_s = now_s};
        if (!job->pour.asked) continue;
        json_open_object(json, NULL);
        json_put_text(json, "job", job->job->id);
        put_pour(json, &when, job);
        json_close(json);
    }
    json_close(json);
    json_open_array(json, "weather_half_days");
    for (size_t j = 0; j < plan->job_count; j++) {
        const struct job_plan *job = &plan->jobs[j];
        const struct when when = {.words = words, .zone = job->job->zone, .now_s = now_s};
        for (size_t i = 0; i < job->half_day_count; i++) {
            json_open_object(json, NULL);
            json_put_text(json, "job", job->job->id);
            put_half_day(json, &when, &job->half_days[i]);
            json_close(json);
        }
    }
    json_close(json);
}
