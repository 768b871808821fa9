/* SPDX-License-Identifier: MIT */
/*
 * Why: readings become hours. Rows are put in order of time (in the order of the file where times
 * are equal), doubles are dropped, contradictions are faults and leave the figure out, and what
 * falls into one hour becomes that hour's figure: the mean of temperature, humidity and wind, the
 * highest gust, the sum of rain. An hour nobody read stays missing; nothing is drawn between two.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/instant.h"
#include "base/limits.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum { HOUR_S = 3600 };

static int by_time(const void *a, const void *b)
{
    const struct row *left = a;
    const struct row *right = b;
    if (left->at_s != right->at_s) return left->at_s < right->at_s ? -1 : 1;
    if (left->file != right->file) return left->file < right->file ? -1 : 1;
    return left->line < right->line ? -1 : left->line > right->line;
}

static void row_where(char out[INPUT_WHERE_MAX], const struct weather *weather,
                      const struct row *row, const char *column)
{
    (void)snprintf(out, INPUT_WHERE_MAX, "%s:%u %s", weather->names[row->file], row->line, column);
}

/* Folds the second row of an instant into the first: fills gaps, counts doubles, tells of others.
 */
static void fold(struct weather *weather, struct row *first, const struct row *second,
                 bool spoiled[FIGURE_COUNT])
{
    bool repeated = false;
    for (size_t f = 0; f < FIGURE_COUNT; f++) {
        const double value = second->figures[f];
        if (isnan(value) || spoiled[f]) continue;
        if (isnan(first->figures[f])) {
            first->figures[f] = value;
        } else if (fabs(first->figures[f] - value) <= 1e-9) {
            repeated = true;
        } else {
            char where[INPUT_WHERE_MAX];
            char at[INSTANT_TEXT_MAX];
            row_where(where, weather, second, figure_bounds[f].name);
            instant_format(at, second->at_s, NULL);
            report_tell(&weather->report, WEATHER_CONTRADICTED, where, "one figure for an instant",
                        "%g, and %g in line %u, both at %s", value, first->figures[f], first->line,
                        at);
            first->figures[f] = (double)NAN;
            spoiled[f] = true;
        }
    }
    if (repeated) report_count(&weather->report, WEATHER_REPEATED, 1);
}

/* Rows in order, one an instant. */
static void one_an_instant(struct weather *weather)
{
    qsort(weather->rows, weather->row_count, sizeof *weather->rows, by_time);
    size_t kept = 0;
    for (size_t i = 0; i < weather->row_count;) {
        struct row *first = &weather->rows[kept];
        bool spoiled[FIGURE_COUNT] = {false};
        *first = weather->rows[i++];
        for (; i < weather->row_count && weather->rows[i].at_s == first->at_s; i++) {
            fold(weather, first, &weather->rows[i], spoiled);
        }
        kept++;
    }
    weather->row_count = kept;
}

static enum status keep_readings(struct weather *weather, struct fault *fault)
{
    weather->readings = calloc(weather->row_count + 1, sizeof *weather->readings);
    if (weather->readings == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    for (size_t i = 0; i < weather->row_count; i++) {
        const double temp_degc = weather->rows[i].figures[FIGURE_TEMP];
        if (isnan(temp_degc)) continue;
        weather->readings[weather->reading_count++] =
            (struct weather_reading){weather->rows[i].at_s, temp_degc};
    }
    return STATUS_OK;
}

/* The figure of one hour from its rows [from, to). */
static double figure_of(const struct row *rows, size_t from, size_t to, size_t figure)
{
    double sum = 0.0;
    double most = 0.0;
    size_t count = 0;
    for (size_t i = from; i < to; i++) {
        const double value = rows[i].figures[figure];
        if (isnan(value)) continue;
        sum += value;
        if (count == 0 || value > most) most = value;
        count++;
    }
    if (count == 0) return (double)NAN;
    if (figure == FIGURE_GUST) return most;
    return figure == FIGURE_RAIN ? sum : sum / (double)count;
}

static enum status fill_column(struct weather *weather, size_t figure, double **out,
                               struct fault *fault)
{
    const struct series *series = &weather->series;
    const struct row *rows = weather->rows;
    bool any = false;
    double *column = malloc(series->count * sizeof *column);
    if (column == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    size_t from = 0;
    for (size_t hour = 0; hour < series->count; hour++) {
        const int64_t end_s = series->start_s + (int64_t)(hour + 1) * HOUR_S;
        size_t to = from;
        while (to < weather->row_count && rows[to].at_s < end_s) to++;
        column[hour] = figure_of(rows, from, to, figure);
        any = any || !isnan(column[hour]);
        from = to;
    }
    if (any) {
        *out = column;
    } else {
        free(column);
    }
    return STATUS_OK;
}

enum status merge_rows(struct weather *weather, struct fault *fault)
{
    if (weather->row_count == 0) return STATUS_OK;
    one_an_instant(weather);
    if (weather->options.format == WEATHER_LOGGER) return keep_readings(weather, fault);
    const int64_t first_s = weather->rows[0].at_s;
    const int64_t last_s = weather->rows[weather->row_count - 1].at_s;
    struct series *series = &weather->series;
    series->start_s = first_s - first_s % HOUR_S;
    const int64_t count = (last_s - series->start_s) / HOUR_S + 1;
    if (count > SERIES_SAMPLES_MAX) {
        fault_set(fault, weather->names[0], "at most 1000000 hours from first to last", "%lld",
                  (long long)count);
        return STATUS_LIMIT;
    }
    series->count = (size_t)count;
    double **columns[FIGURE_COUNT] = {&series->temp_degc, &series->rain_mm, &series->rh_pct,
                                      &series->wind_mps, &series->gust_mps};
    enum status status = STATUS_OK;
    for (size_t f = 0; status == STATUS_OK && f < FIGURE_COUNT; f++) {
        status = fill_column(weather, f, columns[f], fault);
    }
    return status;
}
