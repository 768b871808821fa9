/* SPDX-License-Identifier: MIT */
/* The one date everybody waits for: when the first fire may come, and what still blocks it. */
#ifndef EMBERWAIT_PLANNER_FIRE_H
#define EMBERWAIT_PLANNER_FIRE_H

#include "model/plan.h"
#include "planner/facts.h"

/**
 * The fire date from the unit's clocks.
 *
 * @param[in,out] out   Reads clocks; fills `fire`.
 * @param[in]     facts Records and now.
 */
void fire_plan_find(struct job_plan *out, const struct facts *facts);

/**
 * The date to give: the later of 9 years in 10 and earliest + margin.
 *
 * @param[in,out] fire   Reads earliest_day and p90_day; sets promise_day (DAY_NONE: none).
 * @param[in]     facts  Place and margins.
 * @param[in]     ranked Past years were ranked; without them an exposed unit has no promise.
 */
void fire_promise(struct fire_plan *fire, const struct facts *facts, bool ranked);

#endif
