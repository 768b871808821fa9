/* SPDX-License-Identifier: MIT */
/*
 * The task network of one job as if it had the crew for itself: what is finished, what may start
 * when, what it waits for and why. Sharing crews among jobs comes after this.
 *
 * What the dates mean. A start is the earliest sensible one if nothing more goes wrong. A clock
 * that has not started yet counts from the planned finish of the work that starts it, at the best
 * rate the rulebook allows: such dates can only become later. No lead time is invented: a permit,
 * a kit or another trade counts from the day it may begin unless a booked or held date is on record
 * or the job says how many business days it takes.
 * A hold point that is not passed and a clock with no end in sight give no date to what stands
 * behind them. Work of unknown length (a quantity is missing) has no finish; what follows it is
 * not before the hours that are known of it, and a caution names the quantity.
 *
 * Jobs entered half built. A task that nobody recorded, but behind which later work is finished, is
 * shown `done` (never `passed`) with no `done_s`: not recorded, the later work shows it.
 * Inspections and last chances are never taken as passed in that way.
 */
#ifndef EMBERWAIT_PLANNER_NETWORK_H
#define EMBERWAIT_PLANNER_NETWORK_H

#include <stddef.h>

#include "model/plan.h"
#include "planner/facts.h"

/**
 * Fill `out->tasks`, all of them.
 *
 * @param[in,out] out   Reads clocks, fire and cautions (all filled before); fills tasks. The
 * reasons are in the arena of the facts, their strings are static.
 * @param[in]     facts Records, rulebook, company and now; borrowed.
 *
 * When the arena has no memory tasks have no reasons (arena_failed tells).
 */
void network_plan(struct job_plan *out, const struct facts *facts);

/**
 * The day of the first fire if some tasks were finished at other instants: the same forward pass,
 * nothing else changed. What a missed cut-off costs and what a work-back is worth is asked here.
 *
 * @param[in] plan       After network_plan; not changed.
 * @param[in] facts      The same facts.
 * @param[in] finished_s Instants by task; INSTANT_NONE: as planned. Shape [TASK_COUNT].
 * @return DAY_NONE when there is no such day in sight.
 */
int32_t network_fire_day_if(const struct job_plan *plan, const struct facts *facts,
                            const int64_t finished_s[TASK_COUNT]);

/**
 * Cautions of the network: a quantity that a task needs and lacks; a last chance that has gone.
 *
 * @param[out] room     Filled from the front, in the order of the tasks.
 * @param[in]  capacity Cautions that fit; more are left out.
 * @param[in]  out      After network_plan.
 * @param[in]  facts    The same facts.
 * @return how many were written.
 */
size_t network_cautions(struct caution *room, size_t capacity, const struct job_plan *out,
                        const struct facts *facts);

#endif
