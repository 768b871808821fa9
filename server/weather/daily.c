/* SPDX-License-Identifier: MIT */
/*
 * Why: most long records are of days. Their minimum and maximum become hours by Parton & Logan, in
 * solar time of the station: a zone's clock may be an hour and more from the sun, and the curve
 * knows only the sun. The figure of an hour is that of its middle. A night without the next day's
 * minimum stays missing.
 */
#include <math.h>
#include <stdlib.h>

#include "base/instant.h"
#include "base/limits.h"
#include "compute/civil.h"
#include "weather/import.h"

#include "base/banned.h"

enum { HOUR_S = 3600, DAY_S = 86400, DAY_HOURS = 24 };

#define PI 3.14159265358979323846

static int day_of_year(int32_t day)
{
    int year = 0;
    int month = 0;
    int day_of_month = 0;
    zone_date_of_day(day, &year, &month, &day_of_month);
    return (int)(day - zone_day_of_date(year, 1, 1)) + 1;
}

/* Sun's clock less mean clock, h. Spencer (1971), from memory; within half a minute. */
static double equation_of_time_h(int32_t day)
{
    const double b = 2.0 * PI * (day_of_year(day) - 1) / 365.0;
    return 229.18 / 60.0 *
           (0.000075 + 0.001868 * cos(b) - 0.032077 * sin(b) - 0.014615 * cos(2.0 * b) -
            0.040849 * sin(2.0 * b));
}

double weather_solar_h(int64_t at_s, double longitude_deg, int32_t *out_day)
{
    const int32_t day = (int32_t)zone_floor_div(at_s, DAY_S);
    const double solar_s = (double)(at_s - (int64_t)day * DAY_S) +
                           HOUR_S * (longitude_deg / 15.0 + equation_of_time_h(day));
    const double whole = floor(solar_s / DAY_S);
    *out_day = day + (int32_t)whole;
    return fmin((solar_s - whole * DAY_S) / HOUR_S, 24.0);
}

static double column_at(const struct weather_days *days, const double *column, int32_t day)
{
    const int64_t i = (int64_t)day - days->first_day;
    return i < 0 || i >= (int64_t)days->count ? (double)NAN : column[i];
}

/* The sunset temperature of a day; NAN when it is not known. */
static double sunset_of(const struct weather_days *days, int32_t day, double latitude_deg,
                        const struct diurnal_constants *constants)
{
    struct diurnal_day shape = {
        .min_degc = column_at(days, days->min_degc, day),
        .max_degc = column_at(days, days->max_degc, day),
        .next_min_degc = column_at(days, days->min_degc, day),
        .sunset_before_degc = (double)NAN,
    };
    double sunset_degc = (double)NAN;
    if (diurnal_day_length(latitude_deg, day_of_year(day), &shape.day_length_h) < 0)
        return (double)NAN;
    if (diurnal_sunset(&shape, constants, &sunset_degc) < 0) return (double)NAN;
    return sunset_degc;
}

/* The curve of one solar day, worked out once for its 24 hours. */
struct curve {
    int32_t day;
    bool known; /* the sun rises and sets */
    bool night; /* the next day's minimum is known */
    struct diurnal_day shape;
};

static struct curve curve_of(const struct weather_days *days, int32_t day, double latitude_deg,
                             const struct diurnal_constants *constants)
{
    struct curve curve = {
        .day = day,
        .shape = {.min_degc = column_at(days, days->min_degc, day),
                  .max_degc = column_at(days, days->max_degc, day),
                  .next_min_degc = column_at(days, days->min_degc, day + 1),
                  .sunset_before_degc = sunset_of(days, day - 1, latitude_deg, constants)},
    };
    curve.night = !isnan(curve.shape.next_min_degc);
    if (!curve.night) curve.shape.next_min_degc = curve.shape.min_degc; /* never looked at */
    curve.known =
        diurnal_day_length(latitude_deg, day_of_year(day), &curve.shape.day_length_h) >= 0;
    return curve;
}

static double curve_at(const struct curve *curve, double solar_h,
                       const struct diurnal_constants *constants)
{
    double temp_degc = (double)NAN;
    if (!curve->known) return (double)NAN;
    if (!curve->night && solar_h > 12.0 + 0.5 * curve->shape.day_length_h) return (double)NAN;
    return diurnal_at(&curve->shape, constants, solar_h, &temp_degc) < 0 ? (double)NAN : temp_degc;
}

double weather_days_at(const struct weather_days *days, int64_t at_s, double latitude_deg,
                       double longitude_deg, const struct diurnal_constants *constants)
{
    int32_t day = 0;
    const double solar_h = weather_solar_h(at_s, longitude_deg, &day);
    const struct curve curve = curve_of(days, day, latitude_deg, constants);
    return curve_at(&curve, solar_h, constants);
}

/* The columns of a series of `count` hours, all missing. */
static enum status make_series(struct series *out, size_t count, struct fault *fault)
{
    double **columns[] = {&out->temp_degc, &out->rain_mm, &out->wind_mps};
    for (size_t c = 0; c < sizeof columns / sizeof *columns; c++) {
        *columns[c] = malloc(count * sizeof(double));
        if (*columns[c] == NULL) {
            fault_set(fault, "", "memory", "none left");
            return STATUS_LIMIT;
        }
        for (size_t i = 0; i < count; i++) (*columns[c])[i] = (double)NAN;
    }
    out->count = count;
    return STATUS_OK;
}

static void drop_empty(double **column, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!isnan((*column)[i])) return;
    }
    free(*column);
    *column = NULL;
}

static void fill_hours(struct weather *weather)
{
    struct series *series = &weather->series;
    const struct weather_days *days = &weather->days;
    struct curve curve = {.day = INT32_MIN};
    for (size_t i = 0; i < series->count; i++) {
        const int64_t middle_s = series->start_s + (int64_t)i * HOUR_S + HOUR_S / 2;
        int32_t day = 0;
        const double solar_h = weather_solar_h(middle_s, weather->longitude_deg, &day);
        if (day != curve.day) {
            curve = curve_of(days, day, weather->latitude_deg, &weather->options.diurnal);
        }
        series->temp_degc[i] = curve_at(&curve, solar_h, &weather->options.diurnal);
        series->rain_mm[i] = column_at(days, days->rain_mm, day) / DAY_HOURS;
        series->wind_mps[i] = column_at(days, days->wind_mps, day);
        if (isnan(series->temp_degc[i]) && !isnan(column_at(days, days->min_degc, day))) {
            report_count(&weather->report, WEATHER_NO_HOURS, 1);
        }
    }
    drop_empty(&series->temp_degc, series->count);
    drop_empty(&series->rain_mm, series->count);
    drop_empty(&series->wind_mps, series->count);
}

enum status daily_hours(struct weather *weather, struct fault *fault)
{
    const struct weather_days *days = &weather->days;
    if (!(fabs(weather->latitude_deg) <= 90.0 && fabs(weather->longitude_deg) <= 180.0)) {
        fault_set(fault, weather->names[0],
                  "latitude and longitude of the station, to make hours of days", "none");
        return STATUS_INVALID;
    }
    /* The sun's midnight is near this many seconds after midnight UTC. */
    const int64_t shift_s = (int64_t)lround(-weather->longitude_deg / 15.0) * HOUR_S;
    int64_t from_s = (int64_t)days->first_day * DAY_S + shift_s;
    const int64_t to_s = from_s + (int64_t)days->count * DAY_S;
    if (from_s < INSTANT_MIN_S) {
        const int64_t lost_s = (to_s < INSTANT_MIN_S ? to_s : INSTANT_MIN_S) - from_s;
        report_count(&weather->report, WEATHER_TOO_OLD, (size_t)(lost_s / HOUR_S));
        from_s = INSTANT_MIN_S;
    }
    if (to_s <= from_s) return STATUS_OK;
    if ((to_s - from_s) / HOUR_S > SERIES_SAMPLES_MAX) {
        fault_set(fault, weather->names[0], "at most 1000000 hours, 114 years", "%zu days",
                  days->count);
        return STATUS_LIMIT;
    }
    weather->series.start_s = from_s;
    const enum status status =
        make_series(&weather->series, (size_t)((to_s - from_s) / HOUR_S), fault);
    if (status == STATUS_OK) fill_hours(weather);
    return status;
}
