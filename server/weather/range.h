/* SPDX-License-Identifier: MIT */
/*
 * What a station has had so far: the lowest and the highest temperature of each month, and of how
 * many years. Months are those of UTC: a few hours at their ends make no difference to a range.
 */
#ifndef EMBERWAIT_WEATHER_RANGE_H
#define EMBERWAIT_WEATHER_RANGE_H

#include "model/series.h"

enum { WEATHER_MONTHS = 12 };

struct weather_range {
    double low_degc[WEATHER_MONTHS]; /**< NAN: nothing is known of the month */
    double high_degc[WEATHER_MONTHS];
    int years[WEATHER_MONTHS]; /**< in which the month was seen on twenty days' worth of hours */
};

/** The range of a station's observed hours and past years. */
void weather_range_of(struct weather_range *out, const struct station *station);

#endif
