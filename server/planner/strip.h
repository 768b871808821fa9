/* SPDX-License-Identifier: MIT */
/*
 * The hours of a part as a picture needs them: which counted in full, in part or not at all, and
 * why. They come from the same walk, the same terms and the same verdicts as the clock, so that a
 * picture can never show another number than the clock beside it.
 */
#ifndef EMBERWAIT_PLANNER_STRIP_H
#define EMBERWAIT_PLANNER_STRIP_H

#include "planner/clock.h"

/**
 * Fill `pieces` and `strip` of every part that has a started clock.
 *
 * Pieces follow each other without a hole from the start of the clock to the latest crossing of the
 * part's waits; they are cut at now (for the unit: at midnights). While one of these waits runs,
 * the credit of the pieces that are not ahead sums to the clock's `have`. At most STRIP_PIECES_MAX:
 * when the exact ones are more, those of a stretch of time are put together, and `step_s` says how
 * long it is.
 *
 * @param[in,out] out     parts[] filled; memory in the arena of the facts.
 * @param[in]     clocks  Worked out at now.
 */
void strip_fill(struct job_plan *out, struct clocks *clocks);

/**
 * What past years of the job's station make of the hours in [from_s, until_s).
 *
 * @param[out] out      Band and years of a strip; empty below the rulebook's least number of years.
 * @param[in]  facts    Station, offset and arena.
 * @param[in]  from_s   Whole hour.
 * @param[in]  until_s  Exclusive.
 * @param[in]  daily    By whole days at least, for a strip in which hours cannot be told apart.
 */
void strip_band_find(struct part_strip *out, const struct facts *facts, int64_t from_s,
                     int64_t until_s, bool daily);

#endif
