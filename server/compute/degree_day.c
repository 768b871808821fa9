/* SPDX-License-Identifier: MIT */
/*
 * One area above one threshold, for each shape; a horizontal cut-off is the difference of two such
 * areas. That replaces the six cases of the textbooks, which are the same thing written out.
 */
#include "compute/degree_day.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846

static bool usable(double value)
{
    return fabs(value) <= DEGREE_DAY_LIMIT; /* false for NAN */
}

/* Mean height of the day above a threshold, sine between min and max. */
static double sine_above(double min, double max, double threshold)
{
    double mean = 0.5 * (max + min);
    double amplitude = 0.5 * (max - min);
    if (threshold <= min) return mean - threshold;
    if (threshold >= max) return 0.0;
    double height = (threshold - mean) / amplitude; /* inside -1..1 but for rounding */
    double angle = height >= 1.0 ? 0.5 * PI : height <= -1.0 ? -0.5 * PI : asin(height);
    return ((mean - threshold) * (0.5 * PI - angle) + amplitude * cos(angle)) / PI;
}

/* Mean height of the day above a threshold, straight lines between min and max. */
static double triangle_above(double min, double max, double threshold)
{
    if (threshold <= min) return 0.5 * (max + min) - threshold;
    if (threshold >= max) return 0.0;
    return (max - threshold) * (max - threshold) / (2.0 * (max - min));
}

static double above(double min, double max, double threshold, enum degree_day_method method)
{
    return method == DEGREE_DAY_TRIANGLE ? triangle_above(min, max, threshold)
                                         : sine_above(min, max, threshold);
}

enum degree_day_status degree_day_single(double min, double max, double lower, double upper,
                                         enum degree_day_method method,
                                         enum degree_day_cutoff cutoff, double *out)
{
    *out = NAN;
    if (!usable(min) || !usable(max)) return DEGREE_DAY_TEMPERATURE;
    if (min > max) return DEGREE_DAY_ORDER;
    if (!usable(lower)) return DEGREE_DAY_THRESHOLD;
    if (cutoff == DEGREE_DAY_HORIZONTAL && !(usable(upper) && lower < upper))
        return DEGREE_DAY_THRESHOLD;
    double total = above(min, max, lower, method);
    if (cutoff == DEGREE_DAY_HORIZONTAL) total -= above(min, max, upper, method);
    *out = total > 0.0 ? total : 0.0; /* two equal areas may differ by a rounding */
    return DEGREE_DAY_OK;
}

enum degree_day_status degree_day_double(double min, double max, double next_min, double lower,
                                         double upper, enum degree_day_method method,
                                         enum degree_day_cutoff cutoff, double *out)
{
    double rising, falling;
    *out = NAN;
    if (!usable(next_min)) return DEGREE_DAY_TEMPERATURE;
    enum degree_day_status status =
        degree_day_single(min, max, lower, upper, method, cutoff, &rising);
    if (status < 0) return status;
    status = degree_day_single(next_min, max, lower, upper, method, cutoff, &falling);
    if (status < 0) return status;
    *out = 0.5 * (rising + falling);
    return DEGREE_DAY_OK;
}
