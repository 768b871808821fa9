/* SPDX-License-Identifier: MIT */
/*
 * Rate laws and their sums. Each sample rules its whole step: no trapezoid, because a station hour
 * is constant within its hour and the clocks integrate step functions exactly. The alternative,
 * fitting a curve through the samples, would credit warmth nobody measured.
 */
#include "compute/maturity.h"

#include <math.h>
#include <stdbool.h>

#define KELVIN_OFFSET 273.15
#define ANNEX_B_KELVIN_OFFSET 273.0 /* the standard writes 273, not 273.15 */
#define CALIBRATED_MIN_DEGC 0.0
#define CALIBRATED_MAX_DEGC 40.0
#define Q_MAX_K 50000.0

static bool temperature_in_range(double temp_degc)
{
    return temp_degc >= MATURITY_TEMP_MIN_DEGC && temp_degc <= MATURITY_TEMP_MAX_DEGC;
}

static double rate_equivalent_age(double q_k, double reference_degc, double temp_degc)
{
    double inverse = 1.0 / (temp_degc + KELVIN_OFFSET) - 1.0 / (reference_degc + KELVIN_OFFSET);
    return exp(-q_k * inverse);
}

static double rate_annex_b(double temp_degc)
{
    return exp(-(4000.0 / (ANNEX_B_KELVIN_OFFSET + temp_degc) - 13.65));
}

/* The last row whose temperature is reached; nothing below the first. */
static double rate_steps(const struct maturity_law *law, double temp_degc)
{
    double rate = 0.0;
    for (size_t i = 0; i < law->step_count && i < MATURITY_STEPS_MAX; i++) {
        if (temp_degc + MATURITY_COMPARE_DEGC < law->steps[i].from_degc) break;
        rate = law->steps[i].rate;
    }
    return rate;
}

/* Steps ascend in temperature and never fall in rate, so that warmer never earns less. */
static bool steps_usable(const struct maturity_law *law)
{
    if (law->step_count < 1 || law->step_count > MATURITY_STEPS_MAX) return false;
    for (size_t i = 0; i < law->step_count; i++) {
        const struct maturity_step *step = &law->steps[i];
        if (!temperature_in_range(step->from_degc)) return false;
        if (!(step->rate >= 0.0 && step->rate <= 100.0)) return false;
        if (i > 0 && !(step->from_degc > step[-1].from_degc && step->rate >= step[-1].rate))
            return false;
    }
    return true;
}

enum maturity_status maturity_law_check(const struct maturity_law *law)
{
    bool usable = law->cap >= 0.0 && law->cap <= 1.0 && temperature_in_range(law->stall_degc);
    switch (law->kind) {
    case MATURITY_TEMPERATURE_TIME:
        usable = usable && temperature_in_range(law->datum_degc) &&
                 temperature_in_range(law->reference_degc) && law->reference_degc > law->datum_degc;
        break;
    case MATURITY_EQUIVALENT_AGE:
        usable = usable && temperature_in_range(law->reference_degc) && law->q_k > 0.0 &&
                 law->q_k <= Q_MAX_K;
        break;
    case MATURITY_ANNEX_B:
        break;
    case MATURITY_STEPS:
        usable = usable && steps_usable(law);
        break;
    default:
        usable = false;
    }
    return usable ? MATURITY_OK : MATURITY_CONSTANT;
}

double maturity_rate_uncut(const struct maturity_law *law, double temp_degc)
{
    if (!temperature_in_range(temp_degc)) return NAN;
    switch (law->kind) {
    case MATURITY_TEMPERATURE_TIME:
        return (temp_degc - law->datum_degc) / (law->reference_degc - law->datum_degc);
    case MATURITY_EQUIVALENT_AGE:
        return rate_equivalent_age(law->q_k, law->reference_degc, temp_degc);
    case MATURITY_ANNEX_B:
        return rate_annex_b(temp_degc);
    case MATURITY_STEPS:
        return rate_steps(law, temp_degc);
    }
    return NAN;
}

double maturity_rate(const struct maturity_law *law, double temp_degc)
{
    if (temp_degc + MATURITY_COMPARE_DEGC < law->stall_degc) return 0.0;
    double rate = maturity_rate_uncut(law, temp_degc);
    if (!(rate > 0.0)) return 0.0; /* NAN too: no reading earns nothing */
    return rate > law->cap ? law->cap : rate;
}

/* Shape, gaps, range of a series, in that order; 0 or +1 when it can be summed. */
static enum maturity_status series_check(const double *temp_degc, size_t n, double step_h)
{
    if (n < 1 || n > SERIES_SAMPLES_MAX) return MATURITY_SHAPE;
    if (!(step_h > 0.0 && step_h <= MATURITY_STEP_MAX_H)) return MATURITY_SHAPE;
    for (size_t i = 0; i < n; i++)
        if (isnan(temp_degc[i])) return MATURITY_GAP;
    enum maturity_status status = MATURITY_OK;
    for (size_t i = 0; i < n; i++) {
        if (!temperature_in_range(temp_degc[i])) return MATURITY_RANGE;
        if (temp_degc[i] < CALIBRATED_MIN_DEGC || temp_degc[i] > CALIBRATED_MAX_DEGC)
            status = MATURITY_OUT_OF_CALIBRATION;
    }
    return status;
}

enum maturity_status maturity_temperature_time(const double *temp_degc, size_t n, double step_h,
                                               double datum_degc, bool clamp, double *out_degch)
{
    *out_degch = NAN;
    enum maturity_status status = series_check(temp_degc, n, step_h);
    if (status < 0) return status;
    if (!temperature_in_range(datum_degc)) return MATURITY_CONSTANT;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        double above = temp_degc[i] - datum_degc;
        sum += clamp && above < 0.0 ? 0.0 : above;
    }
    *out_degch = sum * step_h;
    return status;
}

enum maturity_status maturity_equivalent_age(const double *temp_degc, size_t n, double step_h,
                                             double q_k, double reference_degc, double *out_h)
{
    *out_h = NAN;
    enum maturity_status status = series_check(temp_degc, n, step_h);
    if (status < 0) return status;
    if (!temperature_in_range(reference_degc)) return MATURITY_CONSTANT;
    if (!(q_k > 0.0 && q_k <= Q_MAX_K)) return MATURITY_CONSTANT;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) sum += rate_equivalent_age(q_k, reference_degc, temp_degc[i]);
    *out_h = sum * step_h;
    return status;
}

enum maturity_status maturity_annex_b_age(const double *temp_degc, size_t n, double step_h,
                                          double *out_h)
{
    *out_h = NAN;
    enum maturity_status status = series_check(temp_degc, n, step_h);
    if (status < 0) return status;
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) sum += rate_annex_b(temp_degc[i]);
    *out_h = sum * step_h;
    return status;
}
