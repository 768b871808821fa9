/* SPDX-License-Identifier: MIT */
/*
 * Past years of a station as one plan sees them: each in turn supplies the hours after the forecast
 * ends (same month, day and hour; 29 February takes the 28th where the year has none).
 *
 * A past year is laid out on slots: the 366 days of a leap year by 24 UTC hours. Which slot an hour
 * ahead falls on depends on the plan's time line only, which figure a slot holds depends on the
 * year only, so a year is never copied behind a forecast: it is looked up. On the slots of a year
 * sums from its first slot on can be kept, one list a law (past_sums) and one a kind of day
 * (past_days): then "when does the credit reach X" is a search by halves, and one more job costs
 * logarithms, not hours.
 *
 * Sums cost a walk over all years once, so they are made only where jobs share them: a
 * `struct past_cache` outlives one job (a plan of many jobs) or many plans (whoever keeps it).
 * Without one every year is walked, which is cheaper for a single job. Both ways give the same
 * answers (tests/unit/test_outlook.c).
 */
#ifndef EMBERWAIT_PLANNER_PAST_H
#define EMBERWAIT_PLANNER_PAST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/zone.h"
#include "compute/maturity.h"
#include "model/series.h"

enum {
    PAST_YEARS_MAX = 200, /**< past years of one station that are ranked */
    PAST_YEAR_DAYS = 365, /**< how far ahead of the forecast a past year is used */
    PAST_SLOT_DAYS = 366, /**< days of a leap year */
    PAST_SLOTS = PAST_SLOT_DAYS * 24,
    PAST_RUNS_MAX = 4,     /**< stretches of slots in order, of a year ahead */
    PAST_SHARING_JOBS = 8, /**< from so many jobs on a plan keeps sums */
};

/** One past year: a series of at most 366 days and a day. */
struct past_year {
    struct series hours;
    int32_t jan_1[2]; /**< of the year it begins in, and of the next */
    bool leap[2];
};

/** Hours ahead that fall on slots in order. */
struct past_run {
    int64_t from_s;
    int64_t until_s;
    int32_t slot; /**< of its first hour */
};

/** The hours after the forecast ends: [from_s, until_s), whole UTC hours. */
struct past_line {
    int64_t from_s;
    int64_t until_s;
    struct past_run runs[PAST_RUNS_MAX];
    size_t run_count;
};

/** Warm seconds of one law from a year's first slot on, shape [year][PAST_SLOTS + 1]. */
struct past_sums {
    struct maturity_law law;
    double offset_degc;
    double **years;
    struct past_sums *next;
};

/** How rain takes days away once nothing on record changes any more. */
enum past_rain {
    PAST_RAIN_NONE,   /**< covered, or under a roof */
    PAST_RAIN_CAPPED, /**< uncovered, flue capped */
    PAST_RAIN_OPEN,   /**< uncovered, flue open */
};

/** Counted days from `first_day` on, shape [year][count + 1]; of days at the station alone. */
struct past_days {
    const struct zone *zone;
    const void *rulebook;
    double offset_degc;
    enum past_rain rain;
    int32_t first_day;
    size_t count;
    double **years;
    struct past_days *next;
};

/** What is kept of one station. */
struct past {
    const struct station *station;
    uint64_t version;
    struct past_year *years;
    size_t year_count;
    struct past_line line;
    struct past_sums *sums;
    struct past_days *days;
    struct past *next;
};

/** Shared between the jobs of a plan, or between plans. Not for two threads at a time. */
struct past_cache {
    struct arena *arena; /**< of everything kept; it must outlive every use */
    bool keeps_sums;
    uint64_t version; /**< of the stations' hours; another one: what is kept is forgotten */
    struct past *stations;
};

/** One past year as it stands behind a forecast. */
struct past_tail {
    const struct past_year *year;
    const struct past_line *line;
    size_t index;       /**< of the year */
    double offset_degc; /**< site offset */
    int64_t end_s;      /**< end of its last hour ahead with a temperature; from_s: none */
};

/**
 * The past years of a station and the time line behind `from_s`, kept in the cache.
 *
 * A record of many years is taken apart at the anniversaries of its start; a rest of less than
 * half a year is no year. Years stand oldest first. What was kept for another version of the
 * station is forgotten.
 *
 * @param[in,out] cache   Memory and what is kept.
 * @param[in]     station Borrowed for as long as the cache is used.
 * @param[in]     version Whoever keeps the cache between plans gives another one when the station's
 *                        hours have changed; 0 where the cache serves one plan.
 * @param[in]     from_s  First whole UTC hour that a past year may supply.
 * @return NULL when memory failed.
 */
struct past *past_of(struct past_cache *cache, const struct station *station, uint64_t version,
                     int64_t from_s);

/** Whether two laws are the same in every figure they use. */
bool past_same_law(const struct maturity_law *a, const struct maturity_law *b);

/** A year behind the forecast. */
void past_tail_of(struct past_tail *out, const struct past *past, size_t year, double offset_degc);

/** Temperature of a whole UTC hour of the time line, site offset included; NAN: none. */
double past_degc(const struct past_tail *tail, int64_t hour_s);

/** Rain of a whole UTC hour of the time line, mm; NAN: none. */
double past_rain_mm(const struct past_tail *tail, int64_t hour_s);

/**
 * Sums of a law, made on first use.
 *
 * @return NULL when the cache keeps none or memory failed.
 */
const struct past_sums *past_sums_of(struct past_cache *cache, struct past *past,
                                     const struct maturity_law *law, double offset_degc);

/** Warm seconds of the whole hours [from_s, until_s) of the time line. */
double past_sum(const struct past_sums *sums, const struct past_tail *tail, int64_t from_s,
                int64_t until_s);

/**
 * When a sum is reached.
 *
 * @param[in] sums   Of the law.
 * @param[in] tail   Year and time line.
 * @param[in] from_s A whole UTC hour of the time line.
 * @param[in] left   Warm seconds still to earn from there on.
 * @param[in] slack_s  Rounding must not undo an exact hour: it may be reached so much after its
 * end.
 * @return the first whole second at which it is reached; INSTANT_NONE: not before tail->end_s.
 */
int64_t past_reach_s(const struct past_sums *sums, const struct past_tail *tail, int64_t from_s,
                     double left, double slack_s);

#endif
