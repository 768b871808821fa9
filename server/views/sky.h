/* SPDX-License-Identifier: MIT */
/*
 * What a station says about a stretch of time, for the lists that ask "what can rain on me": the
 * lowest temperature, the rain, the strongest gust. Observed where observed, else forecast; an hour
 * with neither is left out and counted, so that a page can say it does not know.
 */
#ifndef EMBERWAIT_VIEWS_SKY_H
#define EMBERWAIT_VIEWS_SKY_H

#include <stddef.h>
#include <stdint.h>

#include "model/series.h"

struct sky {
    double low_degc;    /**< NAN: no temperature known */
    int64_t low_s;      /**< hour of the low; INSTANT_NONE */
    double rain_mm;     /**< sum of the hours known; NAN: none known */
    int64_t rain_s;     /**< first hour with rain; INSTANT_NONE: none */
    double gust_mps;    /**< strongest gust, or wind where no gust is known; NAN */
    size_t hours;       /**< hours asked about */
    size_t hours_known; /**< of them, hours with a temperature */
};

/**
 * Sum up the hours that start in [from_s, until_s).
 *
 * @param[in] station     NULL: nothing is known.
 * @param[in] offset_degc Added to every temperature (the job's site offset).
 * @param[in] from_s      Inclusive; rounded down to a whole hour.
 * @param[in] until_s     Exclusive.
 */
struct sky sky_between(const struct station *station, double offset_degc, int64_t from_s,
                       int64_t until_s);

#endif
