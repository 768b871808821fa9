/* SPDX-License-Identifier: MIT */
/* The checks of a task and the lots of mortar, as JSON. Inside views only. */
#ifndef EMBERWAIT_VIEWS_CHECK_JSON_H
#define EMBERWAIT_VIEWS_CHECK_JSON_H

#include "base/json.h"
#include "model/plan.h"
#include "views/when.h"

/** Members `checks`, `measured`, `photo` of a task; no `checks` for work that lies ahead. */
void check_json_task(struct json *json, const struct task_plan *task, const struct when *when);

/** Member `without_photo` of a job: what was passed and no photo goes with it, in order of time. */
void check_json_without_photo(struct json *json, const struct job_plan *plan,
                              const struct when *when);

/** Member `bags` of a plan: every lot on record, the one that is out of date first first. */
void check_json_bags(struct json *json, const struct plan *plan);

#endif
