/* SPDX-License-Identifier: MIT */
/*
 * Hours out of a day's minimum and maximum, for stations that publish no hourly series.
 *
 * By day a sine from the minimum to past sunset; by night an exponential towards the next minimum.
 * Times are solar: 12 h is the sun's noon. Two printed forms differ in when the maximum comes and
 * how the night is scaled; the one of the 1981 paper is used unless the other is asked for. Left
 * out: clouds, fronts, snow. A day that warmed at midnight comes out wrong, and so does any summer
 * or winter day beyond the polar circles, which is refused.
 */
#ifndef EMBERWAIT_COMPUTE_DIURNAL_H
#define EMBERWAIT_COMPUTE_DIURNAL_H

#include "base/status.h"

enum { DIURNAL_HOURS = 24 };

#define DIURNAL_TEMP_MIN_DEGC (-100.0) /**< below this a figure is a fault, not a temperature */
#define DIURNAL_TEMP_MAX_DEGC 70.0     /**< above this no air was ever measured */

/** Which printed form of the model. */
enum diurnal_form {
    DIURNAL_PAPER,  /**< 1981: sine sin(pi m/(Y+2a)), night exp(-b n/Z), Z the night length */
    DIURNAL_LAGGED, /**< 1985: sine sin(pi m/(Y+2(a-c))), night exp(-b n/(Z+c)) */
};

/** Constants of the model. */
struct diurnal_constants {
    double lag_max_h;         /**< a: lag of the maximum, h, -6..6 */
    double night_coefficient; /**< b: decay of the night, 1, (0, 20] */
    double lag_min_h;         /**< c: lag of the minimum after sunrise, h, -6..6 */
    enum diurnal_form form;
};

/** Air at 150 cm, Denver: a 1.86 h, b 2.20, c -0.17 h. [parton-logan-1981], from memory. */
#define DIURNAL_CONSTANTS_AIR_150_CM                                                               \
    {                                                                                              \
        1.86, 2.20, -0.17, DIURNAL_PAPER                                                           \
    }

/** One day. */
struct diurnal_day {
    double min_degc;           /**< minimum of the day, near sunrise */
    double max_degc;           /**< maximum of the day, >= min_degc */
    double next_min_degc;      /**< minimum of the next day */
    double sunset_before_degc; /**< the day before's diurnal_sunset; NAN: as this day's own */
    double day_length_h;       /**< sunrise to sunset, h, inside (0, 24) */
};

/** What came of a day's hours. */
enum diurnal_status {
    DIURNAL_OK = 0,
    DIURNAL_WARMING_NIGHT =
        1,                    /**< computed, but the next minimum is above the sunset temperature */
    DIURNAL_TEMPERATURE = -1, /**< a temperature not finite or outside -100..70 degC */
    DIURNAL_ORDER = -2,       /**< minimum above maximum */
    DIURNAL_PLACE = -3,       /**< latitude or day of the year out of range */
    DIURNAL_POLAR = -4,       /**< the sun does not rise, or does not set */
    DIURNAL_CONSTANT = -5,    /**< a constant out of its bounds, or no sine fits the day length */
};

/**
 * Day length from latitude and day of the year.
 *
 * @param[in]  latitude_deg  Latitude, degrees north, -90..90.
 * @param[in]  day_of_year   1 = 1 January, .. 366.
 * @param[out] out_h         Sunrise to sunset, h: the sun's upper edge at the horizon, refraction
 *                           included (0.8333 degrees); NAN on any status < 0.
 *
 * Status:  0 computed;  -3 DIURNAL_PLACE;  -4 DIURNAL_POLAR. First fault in this order is reported.
 * Notes:   1) Within a few minutes below 60 degrees of latitude.
 * Source:  [forsythe-1995] CBM model.
 */
MUST_USE enum diurnal_status diurnal_day_length(double latitude_deg, int day_of_year,
                                                double *out_h);

/**
 * Temperature at sunset, from which the night falls; feeds the next day's `sunset_before_degc`.
 *
 * @param[in]  day        Borrowed.
 * @param[in]  constants  Borrowed.
 * @param[out] out_degc   degC; NAN on any status < 0.
 *
 * Status:  0 computed;  -1 DIURNAL_TEMPERATURE;  -2 DIURNAL_ORDER;  -4 DIURNAL_POLAR;
 *         -5 DIURNAL_CONSTANT. First fault in this order is reported.
 * Source:  [parton-logan-1981] eq. 1.
 */
MUST_USE enum diurnal_status diurnal_sunset(const struct diurnal_day *day,
                                            const struct diurnal_constants *constants,
                                            double *out_degc);

/**
 * Air temperature at one solar time of the day.
 *
 * @param[in]  day         Borrowed.
 * @param[in]  constants   Borrowed.
 * @param[in]  solar_h     Time of the day, h, 0..24.
 * @param[out] out_degc    degC; NAN on any status < 0.
 *
 * Status:  0 computed;  +1 DIURNAL_WARMING_NIGHT;  -1 DIURNAL_TEMPERATURE;  -2 DIURNAL_ORDER;
 *         -4 DIURNAL_POLAR;  -5 DIURNAL_CONSTANT. First fault in this order is reported.
 * Notes:   1) The night before sunrise decays to this day's minimum, the night after sunset to the
 *             next one. As printed, the exponential ends a little above its minimum, so there is
 *             a small step at the time of the minimum.
 * Source:  [parton-logan-1981] eq. 1 and 2; DIURNAL_LAGGED [wann-1985].
 */
MUST_USE enum diurnal_status diurnal_at(const struct diurnal_day *day,
                                        const struct diurnal_constants *constants, double solar_h,
                                        double *out_degc);

/**
 * The 24 temperatures at the whole solar hours 0..23.
 *
 * @param[in]  day        Borrowed.
 * @param[in]  constants  Borrowed.
 * @param[out] out_degc   degC, shape [DIURNAL_HOURS]; all NAN on any status < 0.
 *
 * Status and source as diurnal_at.
 */
MUST_USE enum diurnal_status diurnal_hours(const struct diurnal_day *day,
                                           const struct diurnal_constants *constants,
                                           double out_degc[DIURNAL_HOURS]);

#endif
