/* SPDX-License-Identifier: MIT */
/* Two plans held against each other: what moved, where it grew, what moved it. */
#ifndef EMBERWAIT_PLANNER_CHANGES_H
#define EMBERWAIT_PLANNER_CHANGES_H

#include "base/arena.h"
#include "base/status.h"
#include "model/change.h"
#include "rulebook/rulebook.h"

/**
 * What moved from one plan of a job to another.
 *
 * @param[out] out    Its moves are in the arena.
 * @param[in]  before As it was; borrowed.
 * @param[in]  after  As it is; borrowed.
 * @param[in]  arena  Memory; without any there are no moves.
 */
void changes_compare(struct job_moves *out, const struct job_plan *before,
                     const struct job_plan *after, struct arena *arena);

/**
 * Jobs whose dates moved since an instant.
 *
 * The plan as it stood then: with the records that had been received, at that instant. A record
 * that was not there is left out once more to see whether it was the one; when the records alone
 * move nothing it was the weather, work not done, or a calendar. Hours of weather are read as they
 * are on file now: a forecast that was replaced is not kept.
 *
 * @param[out] out      In the arena, in the order of the jobs, shape [count].
 * @param[out] count    Jobs that moved.
 * @param[in]  plan     The plan of now; borrowed.
 * @param[in]  since_s  Not after the plan's now.
 * @param[in]  rulebook Borrowed.
 * @param[in]  arena    Memory.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status changes_since(const struct change **out, size_t *count,
                                   const struct plan *plan, int64_t since_s,
                                   const struct rulebook *rulebook, struct arena *arena);

#endif
