/* SPDX-License-Identifier: MIT */
/*
 * The unit's civil days: what each one earns, whichever clock asks. Between now and the end of the
 * known hours a day is the same in every outlook; behind them each past year has days of its own,
 * so a calendar can be opened again from the first such day on (day_year).
 */
#ifndef EMBERWAIT_PLANNER_DAY_H
#define EMBERWAIT_PLANNER_DAY_H

#include "compute/civil.h"
#include "compute/counted_day.h"
#include "planner/clock.h"

#define DAY_SLACK 1e-9 /**< days: rounding of sums must not undo a full count */

/** Rain on the uncovered hours of one civil day. */
struct rain {
    double mm;
    int unknown_h; /**< uncovered past hours with no rain figure */
};

/** What a day is judged by, gathered once a job. */
struct unit_days {
    struct clocks *clocks;
    const struct facts *facts;
    const struct history *history;
    const struct weather_view *weather;
    struct counted_day_law rule;
    int32_t first_day; /**< days[0] */
    int64_t settled_s;
    int32_t settled_day; /**< from here on every day is like the last */
    struct counted_day
        *days; /**< judged so far, in order; one past settled_day stands for the rest */
    size_t count, capacity, room;
    const struct record **events; /**< records a day can hang on: everything here but readings */
    size_t event_count;
    struct rain *rains; /**< of first_day - rain_back on */
    size_t rain_count;
    int rain_back;
    int64_t cap_set_s; /**< latest cap; INSTANT_NONE */
    bool rain_matters;
};

/**
 * Gather what the unit's days are judged by, from the first record that any counted-day clock
 * starts at.
 *
 * @return false when no such record is there, or memory failed.
 */
bool day_all(struct unit_days *out, struct clocks *clocks);

/**
 * The same from a day on, under the weather of a history.
 *
 * @param[out] out       In the arena of the facts.
 * @param[in]  clocks    Facts and records.
 * @param[in]  history   Of the unit; known, or under a past year.
 * @param[in]  first_day First day anybody will ask for.
 */
bool day_from(struct unit_days *out, struct clocks *clocks, const struct history *history,
              int32_t first_day);

/** Judge again from another day on and under another weather; memory is used again. */
void day_again(struct unit_days *days, const struct history *history, int32_t first_day);

/** A day by number; judged on first use, in order. Past settled_day every day is like that one. */
const struct counted_day *day_get(struct unit_days *days, int32_t day);

/** The midnight that begins a day, or the first one at or after an instant. */
int64_t day_not_before_s(const struct unit_days *days, int32_t day, int64_t floor_s);

/** How rain takes days away from now on, as long as nothing more is recorded. */
enum past_rain day_rain_ahead(const struct unit_days *days);

/** The first day after today that no record at hand can touch; DAY_NONE: there is none. */
int32_t day_untouched(const struct unit_days *days);

/**
 * Sums of counted days under past years, at the station alone and with nothing recorded, from
 * tomorrow on: as observed, then as forecast, then as the year was.
 *
 * @param[in,out] cache Where they are kept.
 * @param[in,out] past  Of the job's station.
 * @param[in]     days  Rules, zone and place of the job.
 * @param[in]     rain  As day_rain_ahead says.
 * @return NULL when the cache keeps none or memory failed.
 */
const struct past_days *day_past(struct past_cache *cache, struct past *past,
                                 const struct unit_days *days, enum past_rain rain);

/** Start of a civil day of the job. */
static inline int64_t day_start(const struct unit_days *days, int32_t day)
{
    return civil_day_start_s(days->facts->job->zone, day);
}

/** The civil day of the job that holds an instant. */
static inline int32_t day_of(const struct unit_days *days, int64_t at_s)
{
    return civil_day_of(days->facts->job->zone, at_s);
}

#endif
