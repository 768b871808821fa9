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

#endif
