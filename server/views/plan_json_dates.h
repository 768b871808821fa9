/* SPDX-License-Identifier: MIT */
/* The dates of a plan as JSON: what was worked back, limits, the fires to come, the lists. */
#ifndef EMBERWAIT_VIEWS_PLAN_JSON_DATES_H
#define EMBERWAIT_VIEWS_PLAN_JSON_DATES_H

#include "base/json.h"
#include "model/plan.h"
#include "views/when.h"

/** The members of a task: latest_finish, days_to_spare, last_chance, closed_by, due. */
void plan_json_task_dates(struct json *json, const struct when *when, const struct task_plan *task);

/** The members of `fire` about the break-in fires: projected, next. */
void plan_json_fire_steps(struct json *json, const struct when *when, const struct fire_plan *fire);

/** `work_back`: the date worked back from and what that assumes; null without one. */
void plan_json_work_back(struct json *json, const struct when *when, const struct job_plan *job);

/** `lists`: call_in, first_fires, dates_given, idle, owed_calls. */
void plan_json_lists(struct json *json, const struct plan *plan, const struct words *words);

#endif
