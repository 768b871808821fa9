/* SPDX-License-Identifier: MIT */
/*
 * All clocks of a job again under one past year. What is known up to the end of the forecast is the
 * same in every year and is not worked out again: a clock goes on from the credit it has there.
 * Clocks that have not started are counted from the planned end of the work that starts them, under
 * the weather of that year.
 *
 * What a clock that has not started is taken to live in: the place its part stands in by the
 * records of now. An indoor job is the exception: its clocks count at the best rate until they
 * start, for nobody lays brick in an open winter shell, and a shelter is recorded when it is put
 * up.
 */
#ifndef EMBERWAIT_PLANNER_CLOCK_YEAR_H
#define EMBERWAIT_PLANNER_CLOCK_YEAR_H

#include "planner/clock.h"
#include "planner/day.h"
#include "planner/past.h"

/** One job under one past year after the other. */
struct clock_year {
    struct clocks *clocks; /**< as they are known */
    struct past *past;
    /* the same for every year */
    int32_t ahead_day;                    /**< first civil day that is not wholly known */
    double *counted;                      /**< [redo] days counted before it */
    struct unit_days days;                /**< judged again for each question */
    const struct past_days *sums;         /**< as the unit stands now; NULL: days are walked */
    const struct past_days *ahead;        /**< for clocks to come, flue capped; NULL */
    int32_t sums_day;                     /**< the sums hold from here on */
    struct earning earnings[CLOCK_COUNT]; /**< of set clocks to come */
    /* of the year at hand */
    struct past_tail tail;
    struct weather_view weather;
    struct history histories[PART_COUNT];
    bool built[PART_COUNT];
    int64_t crossings[CLOCK_COUNT]; /**< of started clocks; INSTANT_NONE: never in that year */
};

/**
 * Make ready for the years of a station.
 *
 * @param[out]    out    Memory of the facts' arena.
 * @param[in,out] clocks The job's clocks, worked out.
 * @param[in,out] cache  What is kept of past years.
 * @param[in,out] past   Of the job's station, its line at the end of the known hours.
 * @return false when memory failed.
 */
bool clock_year_begin(struct clock_year *out, struct clocks *clocks, struct past_cache *cache,
                      struct past *past);

/** Take a year; `crossings` are not touched. */
void clock_year_take(struct clock_year *year, size_t index);

/** Work out the crossings of the started clocks in the year taken. */
void clock_year_cross(struct clock_year *year);

/**
 * When a clock that has not started would open in the year taken.
 *
 * @param[in,out] year    Taken.
 * @param[in]     clock   Any.
 * @param[in]     start_s When the work that starts it will be done; not before now.
 * @return the first instant at which it is open; INSTANT_NONE: never in that year.
 */
int64_t clock_year_ahead_s(struct clock_year *year, enum clock_id clock, int64_t start_s);

#endif
