/* SPDX-License-Identifier: MIT */
/*
 * Maturity: how much curing an hour at a given temperature is worth.
 *
 * Two users with two needs. The clocks ask maturity_rate for the credit of one hour under a law of
 * the rulebook, cut at a stall below and a cap above, so that no hour is ever worth more than one.
 * Whoever holds the laws against published figures asks the uncut sums. None of this is a strength:
 * the published methods need a curve made in a laboratory for that very mix.
 */
#ifndef EMBERWAIT_COMPUTE_MATURITY_H
#define EMBERWAIT_COMPUTE_MATURITY_H

#include <stddef.h>

#include "base/limits.h"
#include "base/status.h"

enum { MATURITY_STEPS_MAX = 16 /**< rows of a `steps` law; a field table has five or six */ };

#define MATURITY_TEMP_MIN_DEGC (-100.0) /**< below this a figure is a fault, not a temperature */
#define MATURITY_TEMP_MAX_DEGC 200.0    /**< above this no curing law was ever fitted */
#define MATURITY_STEP_MAX_H 87600.0     /**< spacing of a series: ten years */
#define MATURITY_COMPARE_DEGC 1e-9 /**< slack of comparisons, for figures that came from degF */

/** The shapes a rate law can have. */
enum maturity_kind {
    MATURITY_TEMPERATURE_TIME, /**< (T - T0) / (Tr - T0) */
    MATURITY_EQUIVALENT_AGE,   /**< exp(-Q (1/(T+273.15) - 1/(Tr+273.15))) */
    MATURITY_ANNEX_B,          /**< exp(-(4000/(273+T) - 13.65)) */
    MATURITY_STEPS,            /**< a table: from this temperature on, this rate */
};

/** One row of a `steps` law: from `from_degc` (inclusive) on, `rate`. */
struct maturity_step {
    double from_degc;
    double rate;
};

/** A rate law with its cuts. Fields a kind does not use are ignored. */
struct maturity_law {
    enum maturity_kind kind;
    double datum_degc;     /**< temperature-time: T0, degC */
    double reference_degc; /**< temperature-time, equivalent-age: Tr, degC, above the datum */
    double q_k;            /**< equivalent-age: Q = Ea/R, K, > 0 */
    double stall_degc;     /**< below this an hour earns nothing */
    double cap;            /**< an hour earns at most this, 0..1 */
    size_t step_count;     /**< steps: 1..MATURITY_STEPS_MAX */
    struct maturity_step steps[MATURITY_STEPS_MAX]; /**< steps: ascending in both columns */
};

/** What came of a maturity sum or of a law's check. */
enum maturity_status {
    MATURITY_OK = 0,
    MATURITY_OUT_OF_CALIBRATION = 1, /**< computed, but a temperature lies outside 0..40 degC */
    MATURITY_SHAPE = -1, /**< no samples, too many, or a spacing outside (0, MATURITY_STEP_MAX_H] */
    MATURITY_GAP = -2,   /**< a missing (NAN) sample */
    MATURITY_RANGE = -3, /**< a sample outside MATURITY_TEMP_MIN_DEGC..MATURITY_TEMP_MAX_DEGC */
    MATURITY_CONSTANT = -4, /**< a constant of the law is not finite or out of its bounds */
};

/**
 * Whether a law can be used: constants finite, reference above the datum, Q > 0, cap 0..1, steps
 * 1..MATURITY_STEPS_MAX ascending in temperature and not falling in rate (warmer never earns less).
 *
 * @param[in] law  Law; borrowed.
 * Status:  0 usable;  -4 MATURITY_CONSTANT.
 */
MUST_USE enum maturity_status maturity_law_check(const struct maturity_law *law);

/**
 * Credit of one hour at a temperature, cut: 0 when temp + 1e-9 < stall, never below 0, never above
 * the cap. Credit of a span is this times its hours.
 *
 * @param[in] law        Checked law (maturity_law_check); borrowed.
 * @param[in] temp_degc  Temperature, degC; NAN (no reading) and infinities earn 0.
 * @return credit per hour, 0..cap.
 * Source:  [astm-c1074], [en-1992-1-1] by kind; stall and cap are settings of the rulebook.
 */
double maturity_rate(const struct maturity_law *law, double temp_degc);

/**
 * Rate of a law at a temperature, uncut: may be negative (temperature-time below its datum) or
 * above one. A `steps` law is 0 below its first row.
 *
 * @param[in] law        Checked law; borrowed.
 * @param[in] temp_degc  Temperature, degC.
 * @return credit per hour; NAN for a temperature that is not finite or outside
 *         MATURITY_TEMP_MIN_DEGC..MATURITY_TEMP_MAX_DEGC.
 * Source:  [astm-c1074], [en-1992-1-1] by kind.
 */
double maturity_rate_uncut(const struct maturity_law *law, double temp_degc);

/**
 * Temperature-time factor of a temperature series: sum of (T - T0) dt.
 *
 * @param[in]  temp_degc   Element temperature, degC, shape [n], NAN = missing; borrowed.
 * @param[in]  n           Samples, 1..SERIES_SAMPLES_MAX.
 * @param[in]  step_h      Spacing, h, (0, MATURITY_STEP_MAX_H]; each sample rules its whole step.
 * @param[in]  datum_degc  Datum T0, degC; below it a step counts negative unless clamped (Note 1).
 * @param[in]  clamp       true: a step below the datum counts 0 instead of negative.
 * @param[out] out_degch   degC.h; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 MATURITY_OUT_OF_CALIBRATION;  -1 MATURITY_SHAPE;  -2 MATURITY_GAP;
 *         -3 MATURITY_RANGE;  -4 MATURITY_CONSTANT. First fault in this order is reported.
 * Notes:   1) The standard's text is silent on temperatures below the datum; both readings are
 *             offered and neither is chosen here.
 *          2) Published datums differ (0, -10, -11, -11.7 degC): the figure means nothing without
 * it. Source:  [astm-c1074] eq. 1.
 */
MUST_USE enum maturity_status maturity_temperature_time(const double *temp_degc, size_t n,
                                                        double step_h, double datum_degc,
                                                        bool clamp, double *out_degch);

/**
 * Equivalent age at a reference temperature: sum of exp(-Q (1/Ta - 1/Ts)) dt.
 *
 * @param[in]  temp_degc       Element temperature, degC, shape [n], NAN = missing; borrowed.
 * @param[in]  n               Samples, 1..SERIES_SAMPLES_MAX.
 * @param[in]  step_h          Spacing, h, (0, MATURITY_STEP_MAX_H].
 * @param[in]  q_k             Q = Ea/R, K, (0, 50000].
 * @param[in]  reference_degc  Reference temperature, degC.
 * @param[out] out_h           Hours at the reference temperature; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 MATURITY_OUT_OF_CALIBRATION;  -1 MATURITY_SHAPE;  -2 MATURITY_GAP;
 *         -3 MATURITY_RANGE;  -4 MATURITY_CONSTANT. First fault in this order is reported.
 * Notes:   1) The law does not stop at freezing.
 * Source:  [astm-c1074] eq. 2.
 */
MUST_USE enum maturity_status maturity_equivalent_age(const double *temp_degc, size_t n,
                                                      double step_h, double q_k,
                                                      double reference_degc, double *out_h);

/**
 * Temperature-adjusted age: sum of exp(-(4000/(273+T) - 13.65)) dt.
 *
 * @param[in]  temp_degc  Element temperature, degC, shape [n], NAN = missing; borrowed.
 * @param[in]  n          Samples, 1..SERIES_SAMPLES_MAX.
 * @param[in]  step_h     Spacing, h, (0, MATURITY_STEP_MAX_H].
 * @param[out] out_h      Hours at 20 degC (0.99812 per hour there, by the rounded constants of the
 *                        standard); NAN on any status < 0.
 *
 * Status:  0 computed;  +1 MATURITY_OUT_OF_CALIBRATION;  -1 MATURITY_SHAPE;  -2 MATURITY_GAP;
 *         -3 MATURITY_RANGE. First fault in this order is reported.
 * Notes:   1) Given for 0..80 degC; the caution follows the narrower 0..40 of the other laws.
 * Source:  [en-1992-1-1] eq. B.10.
 */
MUST_USE enum maturity_status maturity_annex_b_age(const double *temp_degc, size_t n, double step_h,
                                                   double *out_h);

/** Gas constant as the maturity literature rounds it, J/(mol K); Q = 1000 Ea[kJ/mol] / this. */
#define MATURITY_GAS_CONSTANT_JMOLK 8.314

#endif
