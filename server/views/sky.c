/* SPDX-License-Identifier: MIT */
/* Why: see sky.h. */
#include "views/sky.h"

#include <math.h>

#include "model/record.h"

#include "base/banned.h"

enum { HOUR_S = 3600 };

/* The figure of the hour that starts at `at_s` in one array of a series; NAN when there is none. */
static double figure(const struct series *series, const double *values, int64_t at_s)
{
    if (values == NULL || at_s < series->start_s) return NAN;
    uint64_t i = (uint64_t)(at_s - series->start_s) / HOUR_S;
    return i < series->count ? values[i] : NAN;
}

#define SKY_FIGURE(station, array, at_s)                                                           \
    (!isnan(figure(&(station)->observed, (station)->observed.array, (at_s)))                       \
         ? figure(&(station)->observed, (station)->observed.array, (at_s))                         \
         : figure(&(station)->forecast, (station)->forecast.array, (at_s)))

static void add_hour(struct sky *sky, const struct station *station, double offset_degc,
                     int64_t at_s)
{
    double temp = SKY_FIGURE(station, temp_degc, at_s);
    if (!isnan(temp)) {
        sky->hours_known++;
        if (!(sky->low_degc <= temp + offset_degc)) {
            sky->low_degc = temp + offset_degc;
            sky->low_s = at_s;
        }
    }
    double rain = SKY_FIGURE(station, rain_mm, at_s);
    if (!isnan(rain)) {
        sky->rain_mm = isnan(sky->rain_mm) ? rain : sky->rain_mm + rain;
        if (rain > 0 && sky->rain_s == INSTANT_NONE) sky->rain_s = at_s;
    }
    double gust = SKY_FIGURE(station, gust_mps, at_s);
    if (isnan(gust)) gust = SKY_FIGURE(station, wind_mps, at_s);
    if (!isnan(gust) && !(sky->gust_mps >= gust)) sky->gust_mps = gust;
}

struct sky sky_between(const struct station *station, double offset_degc, int64_t from_s,
                       int64_t until_s)
{
    struct sky sky = {.low_degc = NAN,
                      .low_s = INSTANT_NONE,
                      .rain_mm = NAN,
                      .rain_s = INSTANT_NONE,
                      .gust_mps = NAN};
    for (int64_t at_s = from_s - from_s % HOUR_S; at_s < until_s; at_s += HOUR_S) {
        sky.hours++;
        if (station != NULL) add_hour(&sky, station, offset_degc, at_s);
    }
    return sky;
}
