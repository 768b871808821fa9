/* SPDX-License-Identifier: MIT */
/*
 * Published strength-with-age ratios at standard curing. For reference through `calc` only: no
 * clock and no page uses them, because a ratio for standard laboratory curing says nothing about a
 * half-yard pad that nobody cast a cylinder of.
 */
#ifndef EMBERWAIT_COMPUTE_STRENGTH_H
#define EMBERWAIT_COMPUTE_STRENGTH_H

#include "base/status.h"

#define STRENGTH_AGE_MAX_D 36500.0 /**< a hundred years */

/** What came of a strength ratio. */
enum strength_status {
    STRENGTH_OK = 0,
    STRENGTH_OUT_OF_CALIBRATION = 1, /**< computed, but younger than 3 d (EN) or 1 d (ACI) */
    STRENGTH_AGE = -1,               /**< age not finite or outside (0, 36500] d */
    STRENGTH_CONSTANT = -2,          /**< a constant not finite or out of its bounds */
};

/**
 * Ratio of mean strength at an age to that at 28 days: exp(s (1 - sqrt(28/t))).
 *
 * @param[in]  age_d     Age at 20 degC, d, (0, 36500].
 * @param[in]  s         Cement coefficient, [0, 1]: 0.20 class R, 0.25 class N, 0.38 class S.
 * @param[out] out_frac  Ratio, 1 at 28 d; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 STRENGTH_OUT_OF_CALIBRATION younger than 3 d;  -1 STRENGTH_AGE;
 *         -2 STRENGTH_CONSTANT. First fault in this order is reported.
 * Source:  [en-1992-1-1] eq. 3.2.
 */
MUST_USE enum strength_status strength_ratio_en1992(double age_d, double s, double *out_frac);

/**
 * Ratio of strength at an age to that at 28 days: t/(a + b t).
 *
 * @param[in]  age_d     Age, d, (0, 36500].
 * @param[in]  a_d       Constant a, d, (0, 100]: 4 for Type I moist cured.
 * @param[in]  b         Constant b, 1, (0, 10]: 0.85 for Type I moist cured.
 * @param[out] out_frac  Ratio, near 1 at 28 d; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 STRENGTH_OUT_OF_CALIBRATION younger than 1 d;  -1 STRENGTH_AGE;
 *         -2 STRENGTH_CONSTANT. First fault in this order is reported.
 * Source:  [aci-209r] eq. 2-1.
 */
MUST_USE enum strength_status strength_ratio_aci209(double age_d, double a_d, double b,
                                                    double *out_frac);

#endif
