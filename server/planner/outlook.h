/* SPDX-License-Identifier: MIT */
/*
 * What past years would make of this job: each in turn supplies the hours after the forecast ends,
 * the counted-day clocks are worked out again, and the dates that come out are ranked.
 */
#ifndef EMBERWAIT_PLANNER_OUTLOOK_H
#define EMBERWAIT_PLANNER_OUTLOOK_H

#include "planner/clock.h"

/**
 * Quantiles of the fire date and the promise that follows from them.
 *
 * @param[in,out] out    Reads `fire`; fills likely, p10, p50, p90 and promise. With fewer years
 * than the rulebook asks for it fills nothing: the promise of fire.c stands, or none for an exposed
 * unit.
 * @param[in]     clocks The job's clocks as they are.
 */
void outlook_find(struct job_plan *out, const struct clocks *clocks);

#endif
