/* SPDX-License-Identifier: MIT */
/*
 * Sine by day, exponential by night. The sine is taken as printed and not rescaled to hit the
 * minimum and maximum on whole hours: the daily figures are kept by the record, the hours only
 * carry the shape between them.
 */
#include "compute/diurnal.h"

#include <math.h>
#include <stdbool.h>

#define PI 3.14159265358979323846
#define RADIANS (PI / 180.0)
#define HORIZON_DEG 0.8333 /* sun's radius and refraction */

enum diurnal_status diurnal_day_length(double latitude_deg, int day_of_year, double *out_h)
{
    *out_h = NAN;
    if (!(fabs(latitude_deg) <= 90.0)) return DIURNAL_PLACE;
    if (day_of_year < 1 || day_of_year > 366) return DIURNAL_PLACE;
    double revolution = 0.2163108 + 2.0 * atan(0.9671396 * tan(0.00860 * (day_of_year - 186)));
    double declination = asin(0.39795 * cos(revolution));
    double latitude = latitude_deg * RADIANS;
    double cosine = (sin(HORIZON_DEG * RADIANS) + sin(latitude) * sin(declination)) /
                    (cos(latitude) * cos(declination));
    if (!(cosine > -1.0 && cosine < 1.0)) return DIURNAL_POLAR;
    *out_h = 24.0 - 24.0 / PI * acos(cosine);
    return DIURNAL_OK;
}

/* The day worked out once: when its minimum and sunset are, how wide its sine, how long its night.
 */
struct shape {
    double minimum_h;
    double sunset_h;
    double sine_h;
    double night_h;
};

static bool temperature_in_range(double temp_degc)
{
    return temp_degc >= DIURNAL_TEMP_MIN_DEGC && temp_degc <= DIURNAL_TEMP_MAX_DEGC;
}

/* The sine must rise out of the minimum before noon's far side and not pass below it by sunset. */
static enum diurnal_status shape_of(const struct diurnal_day *day,
                                    const struct diurnal_constants *constants, struct shape *shape)
{
    if (!temperature_in_range(day->min_degc) || !temperature_in_range(day->max_degc) ||
        !temperature_in_range(day->next_min_degc))
        return DIURNAL_TEMPERATURE;
    if (!isnan(day->sunset_before_degc) && !temperature_in_range(day->sunset_before_degc))
        return DIURNAL_TEMPERATURE;
    if (day->min_degc > day->max_degc) return DIURNAL_ORDER;
    if (!(day->day_length_h > 0.0 && day->day_length_h < 24.0)) return DIURNAL_POLAR;
    if (!(fabs(constants->lag_max_h) <= 6.0 && fabs(constants->lag_min_h) <= 6.0))
        return DIURNAL_CONSTANT;
    if (!(constants->night_coefficient > 0.0 && constants->night_coefficient <= 20.0))
        return DIURNAL_CONSTANT;
    bool lagged = constants->form == DIURNAL_LAGGED;
    shape->minimum_h = 12.0 - 0.5 * day->day_length_h + constants->lag_min_h;
    shape->sunset_h = 12.0 + 0.5 * day->day_length_h;
    shape->sine_h =
        day->day_length_h + 2.0 * (constants->lag_max_h - (lagged ? constants->lag_min_h : 0.0));
    shape->night_h = 24.0 - day->day_length_h + (lagged ? constants->lag_min_h : 0.0);
    double length_h = shape->sunset_h - shape->minimum_h;
    if (!(shape->minimum_h >= 0.0 && length_h >= 0.0)) return DIURNAL_CONSTANT;
    if (!(length_h <= shape->sine_h && shape->sine_h > 0.0 && shape->night_h > 0.0))
        return DIURNAL_CONSTANT;
    return DIURNAL_OK;
}

static double by_day(const struct diurnal_day *day, const struct shape *shape, double solar_h)
{
    double angle = PI * (solar_h - shape->minimum_h) / shape->sine_h;
    return day->min_degc + (day->max_degc - day->min_degc) * sin(angle);
}

static double by_night(double from_degc, double to_degc, double coefficient,
                       const struct shape *shape, double since_h)
{
    return to_degc + (from_degc - to_degc) * exp(-coefficient * since_h / shape->night_h);
}

/* One time of a day whose shape is known. */
static double at_time(const struct diurnal_day *day, const struct shape *shape, double coefficient,
                      double solar_h)
{
    double sunset_degc = by_day(day, shape, shape->sunset_h);
    if (solar_h < shape->minimum_h) {
        double from_degc = isnan(day->sunset_before_degc) ? sunset_degc : day->sunset_before_degc;
        double since_h = solar_h + 24.0 - shape->sunset_h;
        return by_night(from_degc, day->min_degc, coefficient, shape, since_h);
    }
    if (solar_h <= shape->sunset_h) return by_day(day, shape, solar_h);
    return by_night(sunset_degc, day->next_min_degc, coefficient, shape, solar_h - shape->sunset_h);
}

enum diurnal_status diurnal_sunset(const struct diurnal_day *day,
                                   const struct diurnal_constants *constants, double *out_degc)
{
    struct shape shape;
    *out_degc = NAN;
    enum diurnal_status status = shape_of(day, constants, &shape);
    if (status < 0) return status;
    *out_degc = by_day(day, &shape, shape.sunset_h);
    return DIURNAL_OK;
}

enum diurnal_status diurnal_at(const struct diurnal_day *day,
                               const struct diurnal_constants *constants, double solar_h,
                               double *out_degc)
{
    struct shape shape;
    *out_degc = NAN;
    enum diurnal_status status = shape_of(day, constants, &shape);
    if (status < 0) return status;
    if (!(solar_h >= 0.0 && solar_h <= 24.0)) return DIURNAL_CONSTANT;
    *out_degc = at_time(day, &shape, constants->night_coefficient, solar_h);
    bool warming = day->next_min_degc > by_day(day, &shape, shape.sunset_h);
    return warming ? DIURNAL_WARMING_NIGHT : DIURNAL_OK;
}

enum diurnal_status diurnal_hours(const struct diurnal_day *day,
                                  const struct diurnal_constants *constants,
                                  double out_degc[DIURNAL_HOURS])
{
    enum diurnal_status status = DIURNAL_OK;
    for (int hour = 0; hour < DIURNAL_HOURS; hour++) {
        enum diurnal_status here = diurnal_at(day, constants, hour, &out_degc[hour]);
        if (here != DIURNAL_OK) status = here; /* the same for every hour of a day */
    }
    return status;
}
