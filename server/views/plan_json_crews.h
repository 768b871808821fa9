/* SPDX-License-Identifier: MIT */
/* The proposal for the crews as JSON: their days, what nobody is sent to, and the weeks. */
#ifndef EMBERWAIT_VIEWS_PLAN_JSON_CREWS_H
#define EMBERWAIT_VIEWS_PLAN_JSON_CREWS_H

#include "base/json.h"
#include "model/plan.h"

/** The members `crews`, `unplaced` and `weeks` of a plan. */
void plan_json_crews(struct json *json, const struct plan *plan);

#endif
