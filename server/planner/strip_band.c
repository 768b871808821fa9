/* SPDX-License-Identifier: MIT */
/*
 * Why: what past years make of the hours ahead, for the eye: of each stretch of hours the figures
 * of all years stand in one row, and the band runs from the one in ten to the nine in ten. The
 * dates of the outlook do not come from here: there each year is worked out as a whole.
 */
#include <math.h>

#include "compute/civil.h"
#include "planner/strip.h"

enum { HOUR_S = 3600, DAY_S = 86400, DAY_H = 24, YEARS_USED = 60 };

/* The same month, day and hour in a year; 29 February takes the 28th. */
static int64_t hour_in_year(int64_t at_s, int year)
{
    int of_year, month, day;
    civil_date((int32_t)(at_s / DAY_S), &of_year, &month, &day);
    if (month == 2 && day == 29 && !civil_date_valid(year, 2, 29)) day = 28;
    return (int64_t)civil_day(year, month, day) * DAY_S + at_s % DAY_S;
}

static int year_of(int64_t at_s)
{
    int year, month, day;
    civil_date((int32_t)(at_s / DAY_S), &year, &month, &day);
    return year;
}

/* First and last year any past series speaks of. */
static bool years_of(const struct station *station, int *first, int *last)
{
    bool any = false;
    for (size_t i = 0; i < station->history_count; i++) {
        const struct series *past = &station->history[i];
        if (past->count == 0 || past->temp_degc == NULL) continue;
        int from = year_of(past->start_s);
        int until = year_of(past->start_s + ((int64_t)past->count - 1) * HOUR_S);
        *first = any && *first < from ? *first : from;
        *last = any && *last > until ? *last : until;
        any = true;
    }
    if (any && *last - *first >= YEARS_USED) *first = *last - YEARS_USED + 1;
    return any;
}

static double figure_at(const struct station *station, int64_t at_s)
{
    for (size_t i = 0; i < station->history_count; i++) {
        const struct series *past = &station->history[i];
        if (past->temp_degc == NULL || at_s < past->start_s) continue;
        int64_t index = (at_s - past->start_s) / HOUR_S;
        if (index < (int64_t)past->count && !isnan(past->temp_degc[index]))
            return past->temp_degc[index];
    }
    return NAN;
}

/* Shell's sort: a few hundred figures, and no memory of its own. */
static void sort(double *values, size_t count)
{
    for (size_t gap = count / 2; gap > 0; gap = gap == 2 ? 1 : gap * 5 / 11) {
        for (size_t i = gap; i < count; i++) {
            double moved = values[i];
            size_t k = i;
            for (; k >= gap && values[k - gap] > moved; k -= gap) values[k] = values[k - gap];
            values[k] = moved;
        }
    }
}

static double nearest_rank(const double *sorted, size_t count, double fraction)
{
    size_t rank = (size_t)ceil(fraction * (double)count - 1e-9);
    return sorted[rank < 1 ? 0 : rank - 1];
}

/* One stretch: the figures of all its hours in all years. The years that had any. */
static size_t band_of(struct outlook_band *out, const struct facts *facts, double *values,
                      int64_t from_s, int64_t hours, const int years[2])
{
    size_t count = 0, spoke = 0;
    for (int year = years[0]; year <= years[1]; year++) {
        size_t before = count;
        for (int64_t h = 0; h < hours; h++) {
            double value = figure_at(facts->job->station, hour_in_year(from_s + h * HOUR_S, year));
            if (!isnan(value)) values[count++] = value + facts->job->site_offset_degc;
        }
        if (count > before) spoke++;
    }
    *out = (struct outlook_band){from_s, NAN, NAN, NAN};
    if ((double)spoke < rulebook_setting(facts->rulebook, SETTING_OUTLOOK_YEARS)) return 0;
    sort(values, count);
    out->low_degc = nearest_rank(values, count, 0.1);
    out->mid_degc = nearest_rank(values, count, 0.5);
    out->high_degc = nearest_rank(values, count, 0.9);
    return spoke;
}

/* Stretches divide a day, or are whole days: each covers the same hours as the one before. */
static int64_t stretch_h(int64_t hours)
{
    static const int64_t steps[] = {1, 2, 3, 4, 6, 8, 12};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        if (hours <= steps[i] * STRIP_BAND_MAX) return steps[i];
    return (hours + (int64_t)STRIP_BAND_MAX * DAY_H - 1) / ((int64_t)STRIP_BAND_MAX * DAY_H) *
           DAY_H;
}

void strip_band_find(struct part_strip *out, const struct facts *facts, int64_t from_s,
                     int64_t until_s, bool daily)
{
    out->band = NULL;
    out->band_count = out->years = 0;
    int years[2] = {0, 0};
    if (facts->job->station == NULL || from_s >= until_s) return;
    if (!years_of(facts->job->station, &years[0], &years[1])) return;
    int64_t hours = (until_s - from_s + HOUR_S - 1) / HOUR_S;
    int64_t step_h = stretch_h(hours);
    if (daily && step_h < DAY_H) step_h = DAY_H;
    struct outlook_band *band = ARENA_TAKE(facts->arena, STRIP_BAND_MAX, struct outlook_band);
    double *values =
        ARENA_TAKE(facts->arena, (size_t)(years[1] - years[0] + 1) * (size_t)step_h, double);
    if (band == NULL || values == NULL) return;
    for (int64_t h = 0; h < hours; h += step_h) {
        int64_t here = hours - h < step_h ? hours - h : step_h;
        size_t spoke =
            band_of(&band[out->band_count++], facts, values, from_s + h * HOUR_S, here, years);
        if (spoke > out->years) out->years = spoke;
    }
    out->band = out->years > 0 ? band : NULL;
    if (out->years == 0) out->band_count = 0;
}
