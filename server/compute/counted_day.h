/* SPDX-License-Identifier: MIT */
/*
 * What one whole civil day is worth to a counted-day clock, from its mean and its minimum at the
 * unit. The rule itself only; rain, soaking, wrapping and gaps are the planner's, because they are
 * facts of the job. Every threshold is a house rule and comes from the rulebook.
 */
#ifndef EMBERWAIT_COMPUTE_COUNTED_DAY_H
#define EMBERWAIT_COMPUTE_COUNTED_DAY_H

#include "base/status.h"

#define COUNTED_DAY_COMPARE_DEGC                                                                   \
    1e-9 /**< slack of comparisons, for figures that came from degF                                \
          */

/** Thresholds of the rulebook, degC. A full day asks at least as much as a half day. */
struct counted_day_law {
    double full_mean_degc; /**< mean from which a day counts whole */
    double full_min_degc;  /**< and its minimum */
    double half_mean_degc; /**< mean from which a day counts half */
    double half_min_degc;  /**< and its minimum */
};

/** What came of a check. */
enum counted_day_status {
    COUNTED_DAY_OK = 0,
    COUNTED_DAY_CONSTANT = -1, /**< a threshold not finite, or a full day asks less than a half */
};

/**
 * Whether thresholds can be used: finite, full not below half in mean or minimum.
 *
 * @param[in] law  Borrowed.
 * Status:  0 usable;  -1 COUNTED_DAY_CONSTANT.
 */
MUST_USE enum counted_day_status counted_day_check(const struct counted_day_law *law);

/**
 * Credit of a day: 1 if mean and minimum reach the full thresholds, 0.5 if they reach the half
 * ones, else 0. At a threshold (within 1e-9) counts as reached.
 *
 * @param[in] law        Checked thresholds; borrowed.
 * @param[in] mean_degc  Time-weighted mean, degC; NAN or infinite (no figure) earns 0.
 * @param[in] min_degc   Minimum, degC; NAN or infinite earns 0; above the mean is no day: earns 0.
 * @return 0, 0.5 or 1.
 */
double counted_day_credit(const struct counted_day_law *law, double mean_degc, double min_degc);

#endif
