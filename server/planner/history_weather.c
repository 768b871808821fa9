/* SPDX-License-Identifier: MIT */
/* Why: observed and forecast hours become one series as seen at `now`; see history.h. */
#include <math.h>

#include "planner/history.h"

enum { HOUR_S = 3600 };

static int64_t hour_floor_s(int64_t at_s)
{
    int64_t rest = at_s % HOUR_S;
    return at_s - (rest < 0 ? rest + HOUR_S : rest);
}

static int64_t series_end_s(const struct series *series)
{
    return series->start_s + (int64_t)series->count * HOUR_S;
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

void history_weather(struct weather_view *out, const struct facts *facts, int64_t from_s)
{
    *out = (struct weather_view){.forecast_end_s = INT64_MIN,
                                 .ahead_s = hour_floor_s(facts->now_s) + HOUR_S};
    const struct station *station = facts->job->station;
    if (station == NULL) return;
    out->station = true;
    out->forecast_end_s = forecast_end_s(&station->forecast);
    if (out->forecast_end_s > facts->now_s) out->ahead_s = out->forecast_end_s;
    int64_t end_s = series_end_s(&station->observed);
    if (series_end_s(&station->forecast) > end_s) end_s = series_end_s(&station->forecast);
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
    out->start_s = first_s;
    out->count = count;
    out->temp_degc = temp;
    out->rain_mm = rain;
}

void history_weather_year(struct weather_view *out, const struct weather_view *weather,
                          const struct past_tail *tail)
{
    *out = *weather;
    out->tail = tail;
    if (tail->end_s > tail->line->from_s) out->forecast_end_s = tail->end_s;
}

double history_rain_mm(const struct weather_view *weather, int64_t hour_s)
{
    if (weather->tail != NULL && hour_s >= weather->ahead_s)
        return past_rain_mm(weather->tail, hour_s);
    if (weather->count == 0 || hour_s < weather->start_s) return NAN;
    int64_t index = (hour_s - weather->start_s) / HOUR_S;
    return index < (int64_t)weather->count ? weather->rain_mm[index] : NAN;
}
