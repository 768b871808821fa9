/* SPDX-License-Identifier: MIT */
/*
 * Why: a sensor that says -10 degC for one hour of a mild night would stop a pad for frost, one
 * that says +40 in January would earn. Both are told and left out. A figure is questioned only when
 * it stands out from BOTH sides: a front falls once and stays down. The bounds are house rules.
 *
 * A thermometer that hangs stands out from nothing beside it, so figures are held against the range
 * the station has had in that month as well. Stations do set records, so a cold one is told and
 * kept (somebody looks at a pad for nothing), and only a warm one, which might earn, is left out.
 */
#include <math.h>
#include <stdio.h>

#include "base/instant.h"
#include "compute/civil.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum {
    HOUR_S = 3600,
    DAY_S = 86400,
    RUN_MAX = 3 /* hours that may be wrong together */,
    GAP_MAX = 3
};

/* The next figure within GAP_MAX hours from `at` on; `count` when there is none. */
static size_t known_from(const double *values, size_t count, size_t at)
{
    for (size_t i = at; i < count && i - at < GAP_MAX; i++) {
        if (!isnan(values[i])) return i;
    }
    return count;
}

static void question_hour(struct weather *weather, size_t hour, double before, double after)
{
    struct series *series = &weather->series;
    char where[INPUT_WHERE_MAX];
    char at[INSTANT_TEXT_MAX];
    instant_format(at, series->start_s + (int64_t)hour * HOUR_S, NULL);
    (void)snprintf(where, sizeof where, "%s %s temp_degc", weather->names[0], at);
    report_tell(&weather->report, WEATHER_QUESTIONED, where,
                "a figure within 12 degC of the hours beside it", "%.1f between %.1f and %.1f",
                series->temp_degc[hour], before, after);
    if (!weather->options.keep_questioned) series->temp_degc[hour] = (double)NAN;
}

/* Length of a run of 1..RUN_MAX known hours from `at` that jump away from `before` and back; 0. */
static size_t jump(const double *values, size_t count, size_t at, double before, double *after)
{
    const double away = values[at] - before;
    if (!(fabs(away) > WEATHER_HOUR_JUMP_DEGC)) return 0;
    size_t last = at;
    for (size_t length = 1; length <= RUN_MAX; length++) {
        const size_t next = known_from(values, count, last + 1);
        if (next == count) return 0;
        const double back = values[last] - values[next];
        if (fabs(back) > WEATHER_HOUR_JUMP_DEGC && (back > 0) == (away > 0)) {
            *after = values[next];
            return last - at + 1;
        }
        last = next;
    }
    return 0;
}

void question_hours(struct weather *weather)
{
    const double *values = weather->series.temp_degc;
    const size_t count = weather->series.count;
    if (values == NULL) return;
    for (size_t at = known_from(values, count, 0), known = at; at < count; at++) {
        if (isnan(values[at])) continue;
        const double before = values[known];
        double after = before;
        const size_t run = at - known <= GAP_MAX ? jump(values, count, at, before, &after) : 0;
        for (size_t i = 0; i < run; i++) {
            if (!isnan(values[at + i])) question_hour(weather, at + i, before, after);
        }
        if (run > 0) {
            at += run - 1;
        } else {
            known = at;
        }
    }
}

static void question_day(struct weather *weather, size_t i, double *column, const char *name)
{
    char where[INPUT_WHERE_MAX];
    char date[DATE_TEXT_MAX];
    date_format(date, weather->days.first_day + (int32_t)i);
    (void)snprintf(where, sizeof where, "%s %s %s", weather->names[0], date, name);
    report_tell(&weather->report, WEATHER_QUESTIONED, where,
                "a figure within 15 degC of the days beside it", "%.1f between %.1f and %.1f",
                column[i], column[i - 1], column[i + 1]);
}

/* sign -1: below both neighbours; +1: above both. */
static void question_column(struct weather *weather, double *column, double sign, const char *name)
{
    const size_t count = weather->days.count;
    for (size_t i = 1; i + 1 < count; i++) {
        if (!(sign * (column[i] - column[i - 1]) >= WEATHER_DAY_JUMP_DEGC)) continue;
        if (!(sign * (column[i] - column[i + 1]) >= WEATHER_DAY_JUMP_DEGC)) continue;
        question_day(weather, i, column, name);
        if (!weather->options.keep_questioned) column[i] = (double)NAN;
    }
}

void question_days(struct weather *weather)
{
    struct weather_days *days = &weather->days;
    question_column(weather, days->min_degc, -1.0, "min_degc");
    question_column(weather, days->max_degc, 1.0, "max_degc");
    for (size_t i = 0; i < days->count; i++) {
        if (!(days->min_degc[i] > days->max_degc[i])) continue;
        char where[INPUT_WHERE_MAX];
        char date[DATE_TEXT_MAX];
        date_format(date, days->first_day + (int32_t)i);
        (void)snprintf(where, sizeof where, "%s %s", weather->names[0], date);
        report_tell(&weather->report, WEATHER_QUESTIONED, where, "a minimum below the maximum",
                    "%.1f and %.1f", days->min_degc[i], days->max_degc[i]);
        days->min_degc[i] = days->max_degc[i] = (double)NAN; /* no hours can be made of them */
    }
}

/* --- the station's own range --------------------------------------------------------------------
 */

static int month_of(int32_t day)
{
    int year, month, day_of_month;
    civil_date(day, &year, &month, &day_of_month);
    return month - 1;
}

/* Beyond the range of the month? -1 below, +1 above, 0 within or too little is known. */
static int beyond(const struct weather_range *range, int month, double degc)
{
    if (range->years[month] < WEATHER_RANGE_YEARS) return 0;
    if (degc < range->low_degc[month] - WEATHER_RANGE_DEGC) return -1;
    return degc > range->high_degc[month] + WEATHER_RANGE_DEGC ? 1 : 0;
}

static void tell_unusual(struct weather *weather, const char *when, const char *name, int month,
                         double degc)
{
    const struct weather_range *range = weather->options.range;
    char where[INPUT_WHERE_MAX];
    (void)snprintf(where, sizeof where, "%s %s %s", weather->names[0], when, name);
    report_tell(&weather->report, WEATHER_UNUSUAL, where,
                "a figure within 10 degC of what this station had in that month",
                "%.1f, and so far %.1f to %.1f in %d years", degc, range->low_degc[month],
                range->high_degc[month], range->years[month]);
}

static void range_hours(struct weather *weather)
{
    struct series *series = &weather->series;
    int32_t last = INT32_MIN;
    int month = 0;
    for (size_t i = 0; i < series->count; i++) {
        const int64_t at_s = series->start_s + (int64_t)i * HOUR_S;
        if (isnan(series->temp_degc[i])) continue;
        if ((int32_t)(at_s / DAY_S) != last) month = month_of((int32_t)(at_s / DAY_S));
        last = (int32_t)(at_s / DAY_S);
        const int side = beyond(weather->options.range, month, series->temp_degc[i]);
        if (side == 0) continue;
        char at[INSTANT_TEXT_MAX];
        instant_format(at, at_s, NULL);
        tell_unusual(weather, at, "temp_degc", month, series->temp_degc[i]);
        if (side > 0 && !weather->options.keep_questioned) series->temp_degc[i] = (double)NAN;
    }
}

static void range_days(struct weather *weather, double *column, const char *name)
{
    for (size_t i = 0; i < weather->days.count; i++) {
        const int32_t day = weather->days.first_day + (int32_t)i;
        if (isnan(column[i])) continue;
        const int month = month_of(day);
        const int side = beyond(weather->options.range, month, column[i]);
        if (side == 0) continue;
        char date[DATE_TEXT_MAX];
        date_format(date, day);
        tell_unusual(weather, date, name, month, column[i]);
        if (side > 0 && !weather->options.keep_questioned) column[i] = (double)NAN;
    }
}

void question_range(struct weather *weather)
{
    if (weather->options.range == NULL) return;
    if (weather->series.temp_degc != NULL) range_hours(weather);
    if (weather->days.count == 0) return;
    range_days(weather, weather->days.min_degc, "min_degc");
    range_days(weather, weather->days.max_degc, "max_degc");
}
