/* SPDX-License-Identifier: MIT */
/* Two comparisons, kept apart from the planner so that a table can hold every edge of them. */
#include "compute/counted_day.h"

#include <math.h>
#include <stdbool.h>

static bool reaches(double value_degc, double threshold_degc)
{
    return value_degc + COUNTED_DAY_COMPARE_DEGC >= threshold_degc;
}

enum counted_day_status counted_day_check(const struct counted_day_law *law)
{
    bool usable = isfinite(law->full_mean_degc) && isfinite(law->full_min_degc) &&
                  isfinite(law->half_mean_degc) && isfinite(law->half_min_degc) &&
                  law->full_mean_degc >= law->half_mean_degc &&
                  law->full_min_degc >= law->half_min_degc;
    return usable ? COUNTED_DAY_OK : COUNTED_DAY_CONSTANT;
}

double counted_day_credit(const struct counted_day_law *law, double mean_degc, double min_degc)
{
    if (!isfinite(mean_degc) || !isfinite(min_degc)) return 0.0;
    if (!reaches(mean_degc, min_degc)) return 0.0;
    if (reaches(mean_degc, law->full_mean_degc) && reaches(min_degc, law->full_min_degc))
        return 1.0;
    if (reaches(mean_degc, law->half_mean_degc) && reaches(min_degc, law->half_min_degc))
        return 0.5;
    return 0.0;
}
