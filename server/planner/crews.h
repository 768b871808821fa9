/* SPDX-License-Identifier: MIT */
/*
 * A proposal for three weeks: who goes where, in which order, and why; what nobody is sent to, and
 * why not. One crew is in one place at a time, one place has one crew, and the owner decides.
 */
#ifndef EMBERWAIT_PLANNER_CREWS_H
#define EMBERWAIT_PLANNER_CREWS_H

#include "base/arena.h"
#include "model/plan.h"
#include "rulebook/rulebook.h"

/**
 * Fill the crews' days.
 *
 * @param[in,out] plan       Its casefile is set; unplaced tasks and weeks are filled, in the arena.
 * @param[in,out] crew_plans [company.crew_count]; days are filled, in the arena.
 * @param[in,out] jobs       [job_count]; placed tasks get their crew.
 * @param[in]     rulebook   Who does a task, hours that must be left, what a change must gain.
 * @param[in]     arena      Memory; without any there is no proposal (arena_failed tells).
 */
void crews_propose(struct plan *plan, struct crew_plan *crew_plans, struct job_plan *jobs,
                   const struct rulebook *rulebook, struct arena *arena);

#endif
