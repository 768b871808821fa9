/* SPDX-License-Identifier: MIT */
/*
 * A proposal for the next crew day: who goes where, in which order. Only work whose wait is over by
 * then is placed, one crew is in one place at a time, and the owner decides.
 */
#ifndef EMBERWAIT_PLANNER_CREWS_H
#define EMBERWAIT_PLANNER_CREWS_H

#include "base/arena.h"
#include "model/plan.h"
#include "rulebook/rulebook.h"

/**
 * Fill the crews' days.
 *
 * @param[in,out] crews    [casefile->company.crew_count]; days are filled, in the arena.
 * @param[in,out] jobs     [casefile->job_count]; placed tasks get their crew.
 * @param[in]     casefile Company, crews, now.
 * @param[in]     rulebook Who does a task, hours that must be left.
 * @param[in]     arena    Memory.
 */
void crews_propose(struct crew_plan *crews, struct job_plan *jobs, const struct casefile *casefile,
                   const struct rulebook *rulebook, struct arena *arena);

#endif
