/* SPDX-License-Identifier: MIT */
/* The lists of the owner's morning, put together from the plans of all jobs and crews. */
#ifndef EMBERWAIT_PLANNER_LISTS_H
#define EMBERWAIT_PLANNER_LISTS_H

#include "base/arena.h"
#include "model/plan.h"
#include "rulebook/rulebook.h"

/**
 * Fill `plan->lists`.
 *
 * @param[in,out] plan     Its jobs and crews are planned; borrowed by the lists.
 * @param[in]     rulebook Borrowed.
 * @param[in]     arena    Memory; without any a list is empty.
 */
void lists_make(struct plan *plan, const struct rulebook *rulebook, struct arena *arena);

#endif
