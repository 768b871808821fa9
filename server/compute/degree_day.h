/* SPDX-License-Identifier: MIT */
/*
 * Degree-days of a day of which only the minimum and the maximum are known: the area under a sine
 * or a triangle between two thresholds. A temperature-time day clamped at its datum is the same
 * area with the datum as lower threshold and no upper one, which is how the daily sums are
 * cross-checked.
 */
#ifndef EMBERWAIT_COMPUTE_DEGREE_DAY_H
#define EMBERWAIT_COMPUTE_DEGREE_DAY_H

#include "base/status.h"

#define DEGREE_DAY_LIMIT 500.0 /**< largest magnitude of a temperature, either scale */

/** Shape of the day. */
enum degree_day_method {
    DEGREE_DAY_SINE,
    DEGREE_DAY_TRIANGLE,
};

/** What happens above the upper threshold. */
enum degree_day_cutoff {
    DEGREE_DAY_NONE,       /**< nothing: the upper threshold is not used */
    DEGREE_DAY_HORIZONTAL, /**< warmth above the upper threshold counts as the threshold */
};

/** What came of a day's degree-days. */
enum degree_day_status {
    DEGREE_DAY_OK = 0,
    DEGREE_DAY_TEMPERATURE = -1, /**< a temperature not finite or beyond DEGREE_DAY_LIMIT */
    DEGREE_DAY_ORDER = -2,       /**< minimum above maximum */
    DEGREE_DAY_THRESHOLD = -3,   /**< a threshold not finite, or lower not below upper */
};

/**
 * Degree-days of one day, single method: the whole day has one minimum.
 *
 * @param[in]  min     Minimum, degC or degF, |min| <= 500.
 * @param[in]  max     Maximum, same scale, >= min.
 * @param[in]  lower   Lower threshold, same scale.
 * @param[in]  upper   Upper threshold, same scale, > lower; ignored with DEGREE_DAY_NONE.
 * @param[in]  method  Shape of the day.
 * @param[in]  cutoff  What happens above the upper threshold.
 * @param[out] out     Degree-days of the scale of the inputs, >= 0; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 DEGREE_DAY_TEMPERATURE;  -2 DEGREE_DAY_ORDER;
 *         -3 DEGREE_DAY_THRESHOLD. First fault in this order is reported.
 * Source:  [baskerville-emin-1969] sine, [sevacherian-1977] triangle, cut-off as
 *          [uc-ipm-degree-days].
 */
MUST_USE enum degree_day_status degree_day_single(double min, double max, double lower,
                                                  double upper, enum degree_day_method method,
                                                  enum degree_day_cutoff cutoff, double *out);

/**
 * Degree-days of one day, double method: the falling half ends at the next day's minimum.
 *
 * @param[in]  min       Minimum, degC or degF.
 * @param[in]  max       Maximum, same scale, >= min and >= next_min.
 * @param[in]  next_min  Minimum of the next day, same scale.
 * @param[in]  lower     Lower threshold, same scale.
 * @param[in]  upper     Upper threshold, same scale, > lower; ignored with DEGREE_DAY_NONE.
 * @param[in]  method    Shape of each half.
 * @param[in]  cutoff    What happens above the upper threshold.
 * @param[out] out       Degree-days of the scale of the inputs, >= 0; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 DEGREE_DAY_TEMPERATURE;  -2 DEGREE_DAY_ORDER;
 *         -3 DEGREE_DAY_THRESHOLD. First fault in this order is reported.
 * Source:  [uc-ipm-degree-days].
 */
MUST_USE enum degree_day_status degree_day_double(double min, double max, double next_min,
                                                  double lower, double upper,
                                                  enum degree_day_method method,
                                                  enum degree_day_cutoff cutoff, double *out);

#endif
