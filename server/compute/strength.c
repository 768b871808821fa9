/* SPDX-License-Identifier: MIT */
/* Two closed formulas; see strength.h for why nothing in the program depends on them. */
#include "compute/strength.h"

#include <math.h>
#include <stdbool.h>

static bool age_in_range(double age_d)
{
    return age_d > 0.0 && age_d <= STRENGTH_AGE_MAX_D;
}

enum strength_status strength_ratio_en1992(double age_d, double s, double *out_frac)
{
    *out_frac = NAN;
    if (!age_in_range(age_d)) return STRENGTH_AGE;
    if (!(s >= 0.0 && s <= 1.0)) return STRENGTH_CONSTANT;
    *out_frac = exp(s * (1.0 - sqrt(28.0 / age_d)));
    return age_d < 3.0 ? STRENGTH_OUT_OF_CALIBRATION : STRENGTH_OK;
}

enum strength_status strength_ratio_aci209(double age_d, double a_d, double b, double *out_frac)
{
    *out_frac = NAN;
    if (!age_in_range(age_d)) return STRENGTH_AGE;
    if (!(a_d > 0.0 && a_d <= 100.0 && b > 0.0 && b <= 10.0)) return STRENGTH_CONSTANT;
    *out_frac = age_d / (a_d + b * age_d);
    return age_d < 1.0 ? STRENGTH_OUT_OF_CALIBRATION : STRENGTH_OK;
}
