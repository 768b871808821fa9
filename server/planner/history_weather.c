/* SPDX-License-Identifier: MIT */
/* Why: observed and forecast hours become one series as seen at `now`; see history.h. */
#include <math.h>
#include <string.h>

#include "base/zone.h"
#include "compute/civil.h"
#include "planner/history.h"

enum { HOUR_S = 3600, DAY_S = 86400 };

static int64_t hour_floor_s(int64_t at_s)
{
    int64_t rest = at_s % HOUR_S;
    return at_s - (rest < 0 ? rest + HOUR_S : rest);
}

static int64_t series_end_s(const struct series *series)
{
    return series->start_s + (int64_t)series->count * HOUR_S;
}

static double series_at(const struct series *series, const double *values, int64_t hour_s)
{
    if (values == NULL || hour_s < series->start_s) return NAN;
    int64_t index = (hour_s - series->start_s) / HOUR_S;
    return index < (int64_t)series->count ? values[index] : NAN;
}

static int64_t forecast_end_s(const struct series *forecast)
{
    if (forecast->temp_degc == NULL) return INT64_MIN;
    for (size_t i = forecast->count; i-- > 0;) {
        if (!isnan(forecast->temp_degc[i])) return forecast->start_s + (int64_t)(i + 1) * HOUR_S;
    }
    return INT64_MIN;
}

/*
 * Lay observed hours up to now and forecast hours from the one that holds now over NAN; where both
 * speak (the hour of now) the observed figure wins.
 */
static void lay_figures(double *out, int64_t first_s, size_t count, const double *observed,
                        const double *forecast, const struct station *station, int64_t now_s,
                        double offset)
{
    for (size_t i = 0; i < count; i++) out[i] = NAN;
    const int64_t end_s = first_s + (int64_t)count * HOUR_S;
    for (int pass = 0; pass < 2; pass++) {
        const struct series *series = pass == 0 ? &station->forecast : &station->observed;
        const double *values = pass == 0 ? forecast : observed;
        if (values == NULL) continue;
        int64_t from_s = series->start_s > first_s ? series->start_s : first_s;
        int64_t until_s = series_end_s(series) < end_s ? series_end_s(series) : end_s;
        if (pass == 0 && from_s < hour_floor_s(now_s)) from_s = hour_floor_s(now_s);
        if (pass == 1 && until_s > hour_floor_s(now_s) + HOUR_S)
            until_s = hour_floor_s(now_s) + HOUR_S;
        for (int64_t at_s = from_s; at_s < until_s; at_s += HOUR_S) {
            double value = values[(at_s - series->start_s) / HOUR_S];
            if (!isnan(value)) out[(at_s - first_s) / HOUR_S] = value + offset;
        }
    }
}

/* The day of a past year that stands for a UTC day: same month and day; 29 Feb takes 28 Feb. */
static int32_t past_day(const struct series *past, int32_t day)
{
    int year, month, day_of_month, past_year, past_month, past_first;
    civil_date(day, &year, &month, &day_of_month);
    civil_date((int32_t)(past->start_s / DAY_S), &past_year, &past_month, &past_first);
    int32_t found = INT32_MIN;
    for (int ahead = 1; ahead >= 0; ahead--) { /* a winter's record may run across new year */
        int take = past_year + ahead;
        int d =
            month == 2 && day_of_month == 29 && !civil_date_valid(take, 2, 29) ? 28 : day_of_month;
        int32_t at = civil_day(take, month, d);
        if ((int64_t)(at + 1) * DAY_S > past->start_s && (int64_t)at * DAY_S < series_end_s(past))
            found = at;
    }
    return found;
}

/* After the last forecast hour a past year supplies both figures; past its own last one, nothing.
 */
static void lay_past_year(struct weather_view *out, double *temp, double *rain, int64_t first_s,
                          size_t count, const struct facts *facts, const struct series *past)
{
    int64_t from_s = forecast_end_s(&facts->job->station->forecast);
    if (from_s <= facts->now_s) from_s = hour_floor_s(facts->now_s) + HOUR_S;
    if (from_s < first_s) from_s = first_s;
    int32_t mapped = INT32_MIN, day = INT32_MIN;
    for (int64_t at_s = from_s; at_s < first_s + (int64_t)count * HOUR_S; at_s += HOUR_S) {
        if (day != (int32_t)(at_s / DAY_S)) {
            day = (int32_t)(at_s / DAY_S);
            mapped = past_day(past, day);
        }
        if (mapped == INT32_MIN) continue;
        int64_t past_s = (int64_t)mapped * DAY_S + at_s % DAY_S;
        size_t i = (size_t)((at_s - first_s) / HOUR_S);
        temp[i] = series_at(past, past->temp_degc, past_s) + facts->job->site_offset_degc;
        rain[i] = series_at(past, past->rain_mm, past_s);
        if (!isnan(temp[i])) out->forecast_end_s = at_s + HOUR_S;
    }
}

void history_weather(struct weather_view *out, const struct facts *facts, int64_t from_s,
                     const struct series *past_year, int64_t past_until_s)
{
    *out = (struct weather_view){.forecast_end_s = INT64_MIN};
    const struct station *station = facts->job->station;
    if (station == NULL) return;
    out->station = true;
    out->forecast_end_s = forecast_end_s(&station->forecast);
    int64_t end_s = series_end_s(&station->observed);
    if (series_end_s(&station->forecast) > end_s) end_s = series_end_s(&station->forecast);
    if (past_year != NULL && past_until_s > end_s) end_s = hour_floor_s(past_until_s);
    int64_t first_s = station->observed.count > 0 ? station->observed.start_s : INT64_MAX;
    if (station->forecast.count > 0 && station->forecast.start_s < first_s)
        first_s = station->forecast.start_s;
    if (hour_floor_s(from_s) > first_s) first_s = hour_floor_s(from_s);
    if (first_s >= end_s) return;
    size_t count = (size_t)((end_s - first_s) / HOUR_S);
    double *temp = ARENA_TAKE(facts->arena, count, double);
    double *rain = ARENA_TAKE(facts->arena, count, double);
    if (temp == NULL || rain == NULL) return;
    lay_figures(temp, first_s, count, station->observed.temp_degc, station->forecast.temp_degc,
                station, facts->now_s, facts->job->site_offset_degc);
    lay_figures(rain, first_s, count, station->observed.rain_mm, station->forecast.rain_mm, station,
                facts->now_s, 0);
    if (past_year != NULL) lay_past_year(out, temp, rain, first_s, count, facts, past_year);
    out->start_s = first_s;
    out->count = count;
    out->temp_degc = temp;
    out->rain_mm = rain;
}

double history_rain_mm(const struct weather_view *weather, int64_t hour_s)
{
    if (weather->count == 0 || hour_s < weather->start_s) return NAN;
    int64_t index = (hour_s - weather->start_s) / HOUR_S;
    return index < (int64_t)weather->count ? weather->rain_mm[index] : NAN;
}
