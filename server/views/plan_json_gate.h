/* SPDX-License-Identifier: MIT */
/* The weather's part of a plan as JSON: gates hour by hour, measures, the pour, tonight, half-days.
 */
#ifndef EMBERWAIT_VIEWS_PLAN_JSON_GATE_H
#define EMBERWAIT_VIEWS_PLAN_JSON_GATE_H

#include "base/json.h"
#include "model/plan.h"
#include "views/when.h"

/** `measures` and `bucket_min` of a task, inside its object. */
void plan_json_measures(struct json *json, const struct when *when, const struct task_plan *task);

/** `gates`, `can_pour`, `tonight` and `weather_half_days` of a job, inside its object. */
void plan_json_gates(struct json *json, const struct when *when, const struct job_plan *plan);

/** What is due before the night at one job, in an open array: each item with its job's id. */
void plan_json_tonight(struct json *json, const struct when *when, const struct job_plan *plan);

/** `tonight`, `can_pour` and `weather_half_days` of all jobs, each item with its job's id. */
void plan_json_weather_lists(struct json *json, const struct words *words, const struct plan *plan);

#endif
