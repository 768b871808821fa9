/* SPDX-License-Identifier: MIT */
/*
 * The integral behind every clock of warm hours: over which times it runs, what a piece of history
 * earns, and when the sum reaches each of the targets that wait for it.
 */
#ifndef EMBERWAIT_PLANNER_CLOCK_SUM_H
#define EMBERWAIT_PLANNER_CLOCK_SUM_H

#include "planner/history.h"

#define CREDIT_SLACK 1e-9 /**< warm hours: rounding of sums must not undo an exact 24 */

/** The times a clock earns in: [from, until) each; the last one may be without end. */
struct running {
    int64_t (*spans)[2];
    size_t count;
    int64_t stopped_s; /**< stopped at now since then; INSTANT_NONE */
    bool soaked;
};

/** How one clock turns a piece into credit per hour. */
struct earning {
    enum clock_kind kind;
    struct maturity_law law;
    double moist_degc;
    int64_t (*wet)[2]; /**< moist cure: times kept wet */
    size_t wet_count;
    const struct past_sums *sums; /**< its sums over past years; NULL: hours are walked */
};

/** A target somebody waits for, and when the credit reaches it. */
struct goal {
    double need;        /**< NAN: a floor and no target */
    int64_t crossing_s; /**< INSTANT_NONE: not in sight */
    unsigned assumes;
};

enum { GOALS_MAX = 5 /**< the pad's clocks of one law are summed in one walk */ };

/** The sum of a walk: what is had at now, and the goals. */
struct sum {
    double have;
    int64_t silent_s; /**< nothing is known at now since then; INSTANT_NONE */
    struct goal goals[GOALS_MAX];
    size_t goal_count;
    size_t waiting;      /**< goals not reached yet */
    double ahead_credit; /**< warm seconds at the end of the known hours (weather->ahead_s) */
};

/** What a piece of history earns an hour, kept wet or not asked. */
double sum_rate(const struct earning *earning, const struct piece *piece);

/** Wait for one more target; its number is the goal's index. */
void sum_goal(struct sum *sum, double need);

/**
 * Integrate, and see which goals are reached when.
 *
 * @param[in,out] sum     Goals given with sum_goal; the rest is filled.
 * @param[in] history     Of the clock's part.
 * @param[in] running     When it earns.
 * @param[in] earning     What an hour earns.
 * @param[in] start_s     The clock's start.
 */
void sum_integrate(struct sum *sum, const struct history *history, const struct running *running,
                   const struct earning *earning, int64_t start_s);

/**
 * The same from the end of the known hours on, under a past year: goals reached by then stay.
 *
 * @param[in,out] sum     As sum_integrate left it, under the same running and earning.
 * @param[in] history     history_year of the clock's part.
 */
void sum_integrate_year(struct sum *sum, const struct history *history,
                        const struct running *running, const struct earning *earning);

/** A law whose sums over past years the earning is looked up in: its own, or a moist cure's. */
struct maturity_law sum_law(const struct earning *earning);

#endif
