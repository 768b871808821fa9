/* SPDX-License-Identifier: MIT */
/* Why: observed and forecast hours become one series as seen at `now`; see history.h. */
#include <math.h>
#include <string.h>

#include "base/zone.h"
#include "compute/civil.h"
#include "planner/history.h"

enum { HOUR_S = 3600 };

static int64_t hour_floor_s(int64_t at_s) {
    int64_t rest = at_s % HOUR_S;
    return at_s - (rest < 0 ? rest + HOUR_S : rest);
}

static int64_t series_end_s(const struct series *series) {
    return series->start_s + (int64_t)series->count * HOUR_S;
}

static double series_at(const struct series *series, const double *values, int64_t hour_s) {
    if (values == NULL || hour_s < series->start_s) return NAN;
    int64_t index = (hour_s - series->start_s) / HOUR_S;
    return index < (int64_t)series->count ? values[index] : NAN;
}

static int64_t forecast_end_s(const struct series *forecast) {
    if (forecast->temp_degc == NULL) return INT64_MIN;
    for (size_t i = forecast->count; i-- > 0;) {
        if (!isnan(forecast->temp_degc[i])) return forecast->start_s + (int64_t)(i + 1) * HOUR_S;
    }
    return INT64_MIN;
}

static double view_figure(const struct station *station, bool rain, int64_t hour_s, int64_t now_s) {
    const struct series *observed = &station->observed, *forecast = &station->forecast;
    double seen = NAN, ahead = NAN;
    if (hour_s <= now_s)
        seen = series_at(observed, rain ? observed->rain_mm : observed->temp_degc, hour_s);
    if (hour_s + HOUR_S > now_s)
        ahead = series_at(forecast, rain ? forecast->rain_mm : forecast->temp_degc, hour_s);
    return isnan(seen) ? ahead : seen;
}

/* The hour of a past year that stands for `hour_s`: same month, day and hour; 29 Feb takes 28 Feb.
 */
static int64_t past_hour_s(const struct series *past, int64_t hour_s) {
    int32_t day = (int32_t)(hour_s / 86400);
    int year, month, day_of_month, past_year, past_month, past_day;
    civil_date(day, &year, &month, &day_of_month);
    civil_date((int32_t)(past->start_s / 86400), &past_year, &past_month, &past_day);
    int64_t second = hour_s - (int64_t)day * 86400;
    for (int ahead = 0; ahead < 2;
         ahead++) { /* a season may run across the end of the series' year */
        int take = past_year + ahead;
        int d =
            month == 2 && day_of_month == 29 && !civil_date_valid(take, 2, 29) ? 28 : day_of_month;
        int64_t at = (int64_t)civil_day(take, month, d) * 86400 + second;
        if (at >= past->start_s) return at;
    }
    return INT64_MIN;
}

void history_weather(struct weather_view *out, const struct facts *facts, int64_t from_s,
                     const struct series *past_year, int64_t past_until_s) {
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
    for (size_t i = 0; i < count; i++) {
        int64_t hour_s = first_s + (int64_t)i * HOUR_S;
        temp[i] = view_figure(station, false, hour_s, facts->now_s) + facts->job->site_offset_degc;
        rain[i] = view_figure(station, true, hour_s, facts->now_s);
        if (past_year == NULL || hour_s <= facts->now_s || hour_s < out->forecast_end_s) continue;
        int64_t past_s = past_hour_s(past_year, hour_s);
        temp[i] = series_at(past_year, past_year->temp_degc, past_s) + facts->job->site_offset_degc;
        rain[i] = series_at(past_year, past_year->rain_mm, past_s);
    }
    out->start_s = first_s;
    out->count = count;
    out->temp_degc = temp;
    out->rain_mm = rain;
}

double history_rain_mm(const struct weather_view *weather, int64_t hour_s) {
    if (weather->count == 0 || hour_s < weather->start_s) return NAN;
    int64_t index = (hour_s - weather->start_s) / HOUR_S;
    return index < (int64_t)weather->count ? weather->rain_mm[index] : NAN;
}
