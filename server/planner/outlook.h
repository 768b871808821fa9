/* SPDX-License-Identifier: MIT */
/*
 * What past years would make of this job: each in turn supplies the hours after the forecast ends,
 * the job is worked out again, and the dates that come out are ranked. 1 year in 10 was over by
 * p10, 1 in 2 by p50, 9 in 10 by p90.
 */
#ifndef EMBERWAIT_PLANNER_OUTLOOK_H
#define EMBERWAIT_PLANNER_OUTLOOK_H

#include "planner/clock_year.h"

/** The years of one job, taken one after the other. */
struct outlook {
    struct clock_year year;
    size_t count;                      /**< years, oldest first; 0: too few, or no station */
    size_t recent;                     /**< so many of them, the last, are the latest years */
    int64_t (*crossings)[CLOCK_COUNT]; /**< [count], of started clocks */
};

/**
 * Quantiles of the clocks and of the fire date, and the promise that follows.
 *
 * With fewer years than the rulebook asks for it fills nothing: the promise of fire.c stands, or
 * none for an exposed unit. Quantiles are nearest-rank: each is a date that some past year would
 * really have given. A year in which the answer never comes ranks last and has no date.
 * The same three are given of the latest years alone, ranked for the chance of the year to come.
 *
 * @param[out]    outlook Filled; for what is worked out from it afterwards.
 * @param[in,out] out     Reads `fire`; fills likely, p10, p50, p90 and promise, and the outlook of
 *                        every running clock.
 * @param[in]     plans   The clocks of `out`.
 * @param[in]     clocks  The job's clocks as they are.
 * @param[in,out] cache   What is kept of past years.
 */
void outlook_find(struct outlook *outlook, struct job_plan *out, struct clock_plan *plans,
                  struct clocks *clocks, struct past_cache *cache);

/** When the unit's clocks are all full in a year; INSTANT_NONE: never, or none runs. */
int64_t outlook_fire_s(const struct outlook *outlook, size_t year);

/**
 * Rank instants and take the three, of all and of the last `recent` of them.
 *
 * @param[out]    out    Filled.
 * @param[in,out] values Shape [count], oldest year first; sorted on return. INSTANT_NONE is never,
 *                       and ranks last.
 * @param[in]     count  1..PAST_YEARS_MAX.
 * @param[in]     recent 1..count.
 */
void outlook_rank(struct outlook_range *out, int64_t *values, size_t count, size_t recent);

#endif
