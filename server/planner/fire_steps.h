/* SPDX-License-Identifier: MIT */
/*
 * The five break-in fires: which size is next, and what has to happen before it. Read from what is
 * written of each fire, in order; the rules of stopping and starting again are all here.
 */
#ifndef EMBERWAIT_PLANNER_FIRE_STEPS_H
#define EMBERWAIT_PLANNER_FIRE_STEPS_H

#include "planner/clock.h"
#include "planner/network_internal.h"

enum { FIRE_SIZES = TASK_FIRE_5 - TASK_FIRE_1 + 1 };

/**
 * Work out the next fire.
 *
 * @param[in,out] out    Fills the break-in members of `fire`.
 * @param[in,out] clocks Days and temperatures of the unit.
 */
void fire_steps_find(struct job_plan *out, struct clocks *clocks);

/** Give the fire tasks the phase that follows: smaller sizes done, the next one open. */
void fire_steps_apply(struct net *net);

/**
 * Cautions of the fires: one size back, cold masonry, a fire that was too big.
 *
 * @param[out] room     Filled from the front.
 * @param[in]  capacity Cautions that fit.
 * @return how many were written.
 */
size_t fire_steps_cautions(struct caution *room, size_t capacity, const struct job_plan *plan);

#endif
