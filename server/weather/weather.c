/* SPDX-License-Identifier: MIT */
/*
 * Why: the life of one import. Rows are kept as they come, in any order and from any number of
 * files, and become hours only at the end: then doubles, contradictions and outliers can be seen.
 * Days are few, and go straight to their place in one column a figure.
 */
#include "weather/weather.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum { HOUR_S = 3600, DAY_COLUMN = 164360 /* days of 1750..2199, and one */ };

static const char *const format_names[WEATHER_FORMAT_COUNT] = {
    "csv", "ghcn-dly", "ghcn-csv", "nws", "epw", "logger",
};

const struct bounds figure_bounds[FIGURE_COUNT] = {
    {"temp_degc", -90.0, 70.0, "-90..70 degC"}, {"rain_mm", 0.0, 500.0, "0..500 mm in an hour"},
    {"rh_pct", 0.0, 100.0, "0..100 %"},         {"wind_mps", 0.0, 120.0, "0..120 m/s"},
    {"gust_mps", 0.0, 120.0, "0..120 m/s"},
};
const struct bounds day_bounds[DAY_FIGURE_COUNT] = {
    {"min_degc", -90.0, 70.0, "-90..70 degC"},
    {"max_degc", -90.0, 70.0, "-90..70 degC"},
    {"rain_mm", 0.0, 2000.0, "0..2000 mm in a day"},
    {"wind_mps", 0.0, 120.0, "0..120 m/s"},
};

const char *weather_format_name(enum weather_format format)
{
    return format_names[format];
}

enum weather_format weather_format_find(const char *word)
{
    enum weather_format format = WEATHER_CSV;
    while (format < WEATHER_FORMAT_COUNT && strcmp(format_names[format], word) != 0) format++;
    return format;
}

long weather_read_bytes(void *context, char *out, size_t capacity)
{
    struct weather_bytes *bytes = context;
    size_t count = bytes->length - bytes->at;
    if (count > capacity) count = capacity;
    if (count > 0) memcpy(out, bytes->data + bytes->at, count);
    bytes->at += count;
    return (long)count;
}

static enum status no_memory(struct fault *fault)
{
    fault_set(fault, "", "memory", "none left");
    return STATUS_LIMIT;
}

/* One `target=header` of the column map, [text, text + length). */
static enum status map_one(struct weather *weather, const char *text, size_t length,
                           struct fault *fault)
{
    const char *equals = memchr(text, '=', length);
    const size_t target = equals == NULL ? 0 : (size_t)(equals - text);
    const size_t header = equals == NULL ? 0 : length - target - 1;
    if (target == 0 || header == 0 || target >= WEATHER_COLUMN_NAME_MAX ||
        header >= WEATHER_COLUMN_NAME_MAX || weather->mapped_count == MAPPED_MAX) {
        fault_set(fault, "columns", "at most 16 pairs like temp_degf=temp with commas between",
                  "\"%.*s\"", (int)(length < 200 ? length : 200), text);
        return STATUS_INVALID;
    }
    struct mapped *mapped = &weather->mapped[weather->mapped_count++];
    memcpy(mapped->target, text, target);
    memcpy(mapped->header, equals + 1, header);
    mapped->target[target] = mapped->header[header] = '\0';
    return STATUS_OK;
}

static enum status map_columns(struct weather *weather, const char *columns, struct fault *fault)
{
    if (strlen(columns) > WEATHER_COLUMNS_BYTES_MAX) {
        fault_set(fault, "columns", "at most 2000 bytes", "%zu", strlen(columns));
        return STATUS_INVALID;
    }
    for (const char *at = columns;;) {
        const size_t length = strcspn(at, ",");
        const enum status status = map_one(weather, at, length, fault);
        if (status != STATUS_OK || at[length] == '\0') return status;
        at += length + 1;
    }
}

enum status weather_new(struct weather **out, const struct weather_options *options,
                        struct fault *fault)
{
    struct weather *weather = calloc(1, sizeof *weather);
    *out = NULL;
    if (weather == NULL) return no_memory(fault);
    weather->options = *options;
    weather->made_s = INSTANT_NONE;
    weather->latitude_deg = options->latitude_deg;
    weather->longitude_deg = options->longitude_deg;
    weather->day_from = DAY_COLUMN;
    enum status status = STATUS_OK;
    if (options->columns != NULL) status = map_columns(weather, options->columns, fault);
    if (status == STATUS_OK) {
        *out = weather;
    } else {
        weather_free(weather);
    }
    return status;
}

void weather_free(struct weather *weather)
{
    if (weather == NULL) return;
    free(weather->names);
    free(weather->rows);
    for (size_t i = 0; i < DAY_FIGURE_COUNT; i++) free(weather->day_figures[i]);
    free(weather->series.temp_degc);
    free(weather->series.rain_mm);
    free(weather->series.rh_pct);
    free(weather->series.wind_mps);
    free(weather->series.gust_mps);
    free(weather->readings);
    free(weather);
}

static enum status name_file(struct weather *weather, const char *name, struct fault *fault)
{
    if (weather->file_count == FILES_MAX) {
        fault_set(fault, "", "at most 1000 files at once", "more");
        return STATUS_LIMIT;
    }
    void *more = realloc(weather->names, (weather->file_count + 1) * sizeof *weather->names);
    if (more == NULL) return no_memory(fault);
    weather->names = more;
    char *out = weather->names[weather->file_count++];
    (void)snprintf(out, WEATHER_COLUMN_NAME_MAX, "%s", name);
    return STATUS_OK;
}

enum status weather_read(struct weather *weather, const struct weather_source *source,
                         struct fault *fault)
{
    static enum status (*const importers[WEATHER_FORMAT_COUNT])(struct weather *, struct input *,
                                                                struct fault *) = {
        [WEATHER_CSV] = import_csv,           [WEATHER_GHCN_DLY] = import_ghcn_dly,
        [WEATHER_GHCN_CSV] = import_ghcn_csv, [WEATHER_NWS] = import_nws,
        [WEATHER_EPW] = import_epw,           [WEATHER_LOGGER] = import_csv,
    };
    enum status status = name_file(weather, source->name, fault);
    if (status != STATUS_OK) return status;
    struct input *input = malloc(sizeof *input);
    if (input == NULL) return no_memory(fault);
    status = input_open(input, source, fault);
    if (status == STATUS_OK) status = importers[weather->options.format](weather, input, fault);
    free(input);
    return status;
}

struct row row_empty(int64_t at_s, size_t line, const struct weather *weather)
{
    struct row row = {.at_s = at_s,
                      .line = line < UINT32_MAX ? (uint32_t)line : UINT32_MAX,
                      .file = (uint32_t)(weather->file_count - 1)};
    for (size_t i = 0; i < FIGURE_COUNT; i++) row.figures[i] = (double)NAN;
    return row;
}

enum status row_add(struct weather *weather, const struct row *row, struct fault *fault)
{
    if (weather->row_count == weather->row_capacity) {
        size_t capacity = weather->row_capacity == 0 ? 4096 : 2 * weather->row_capacity;
        if (capacity > WEATHER_ROWS_MAX) capacity = WEATHER_ROWS_MAX;
        if (weather->row_count == WEATHER_ROWS_MAX) {
            fault_set(fault, weather->names[weather->file_count - 1],
                      "at most 2000000 readings at once; cut the file by years", "more");
            return STATUS_LIMIT;
        }
        struct row *rows = realloc(weather->rows, capacity * sizeof *rows);
        if (rows == NULL) return no_memory(fault);
        weather->rows = rows;
        weather->row_capacity = capacity;
    }
    weather->rows[weather->row_count++] = *row;
    return STATUS_OK;
}

enum status day_add(struct weather *weather, int32_t day, enum day_figure figure, double value,
                    const char *where, struct fault *fault)
{
    const int32_t zero = zone_day_of_date(WEATHER_FIRST_YEAR, 1, 1);
    REQUIRE(day >= zero && day - zero < DAY_COLUMN);
    const size_t index = (size_t)(day - zero);
    if (weather->options.past && weather->options.now_s != INSTANT_NONE &&
        day > weather->options.now_s / ZONE_DAY_S + 1) {
        report_tell(&weather->report, WEATHER_AFTER_NOW, where, "a day not later than now", "%g",
                    value);
        return STATUS_OK;
    }
    double **column = &weather->day_figures[figure];
    if (*column == NULL) {
        *column = malloc(DAY_COLUMN * sizeof **column);
        if (*column == NULL) return no_memory(fault);
        for (size_t i = 0; i < DAY_COLUMN; i++) (*column)[i] = (double)NAN;
    }
    double *there = &(*column)[index];
    if (isnan(*there)) {
        *there = value;
    } else if (fabs(*there - value) <= 1e-9) {
        report_count(&weather->report, WEATHER_REPEATED, 1);
    } else {
        report_tell(&weather->report, WEATHER_CONTRADICTED, where, "one figure for a day",
                    "%g and before it %g", value, *there);
        *there = (double)NAN;
    }
    if (index < weather->day_from) weather->day_from = index;
    if (index + 1 > weather->day_to) weather->day_to = index + 1;
    return STATUS_OK;
}

/* The columns from the first day with a figure to the last, as one view of them. */
static enum status view_days(struct weather *weather, struct fault *fault)
{
    if (weather->day_from >= weather->day_to) return STATUS_OK;
    double *columns[DAY_FIGURE_COUNT] = {NULL};
    for (size_t f = 0; f < DAY_FIGURE_COUNT; f++) {
        if (weather->day_figures[f] == NULL) {
            weather->day_figures[f] = malloc(DAY_COLUMN * sizeof(double));
            if (weather->day_figures[f] == NULL) return no_memory(fault);
            for (size_t i = 0; i < DAY_COLUMN; i++) weather->day_figures[f][i] = (double)NAN;
        }
        columns[f] = weather->day_figures[f] + weather->day_from;
    }
    weather->days = (struct weather_days){
        .first_day = zone_day_of_date(WEATHER_FIRST_YEAR, 1, 1) + (int32_t)weather->day_from,
        .count = weather->day_to - weather->day_from,
        .min_degc = columns[DAY_MIN],
        .max_degc = columns[DAY_MAX],
        .rain_mm = columns[DAY_RAIN],
        .wind_mps = columns[DAY_WIND],
    };
    for (size_t i = 0; i < weather->days.count; i++) {
        for (size_t f = 0; f < DAY_FIGURE_COUNT; f++) {
            if (isnan(columns[f][i])) continue;
            weather->report.days++;
            break;
        }
    }
    return STATUS_OK;
}

static enum status nothing_taken(const struct weather *weather, struct fault *fault)
{
    fault_set(fault, weather->file_count > 0 ? weather->names[0] : "",
              "at least one figure to take", "none in %zu rows", weather->report.rows);
    return STATUS_INVALID;
}

/* All or nothing: any fault refuses everything, unless the good is to be kept. */
static enum status judge(const struct weather *weather, struct fault *fault)
{
    if (weather->report.faults == 0 || weather->options.keep_good) return STATUS_OK;
    fault_set(fault, weather->names[0],
              "no fault, or that the good rows are kept without the others",
              "%zu faults, nothing is taken", weather->report.faults);
    return STATUS_INVALID;
}

enum status weather_finish(struct weather *weather, struct fault *fault)
{
    enum status status = merge_rows(weather, fault);
    if (status != STATUS_OK) return status;
    status = view_days(weather, fault);
    if (status != STATUS_OK) return status;
    question_hours(weather);
    question_days(weather);
    question_range(weather);
    status = judge(weather, fault);
    if (status == STATUS_OK && weather->days.count > 0) status = daily_hours(weather, fault);
    if (status != STATUS_OK) return status;
    const struct series *series = &weather->series;
    const double *columns[] = {series->temp_degc, series->rain_mm, series->rh_pct, series->wind_mps,
                               series->gust_mps};
    for (size_t i = 0; i < series->count; i++) {
        for (size_t f = 0; f < FIGURE_COUNT; f++) {
            if (columns[f] == NULL || isnan(columns[f][i])) continue;
            weather->report.hours++;
            break;
        }
    }
    if (weather->report.hours == 0 && weather->reading_count == 0 && weather->days.count == 0) {
        return nothing_taken(weather, fault);
    }
    return STATUS_OK;
}

const struct series *weather_series(const struct weather *weather)
{
    return &weather->series;
}

const struct weather_days *weather_days(const struct weather *weather)
{
    return &weather->days;
}

const struct weather_reading *weather_readings(const struct weather *weather, size_t *count)
{
    *count = weather->reading_count;
    return weather->readings;
}

const struct weather_report *weather_report(const struct weather *weather)
{
    return &weather->report;
}

int64_t weather_made_s(const struct weather *weather)
{
    return weather->made_s;
}

void weather_place(const struct weather *weather, double *latitude_deg, double *longitude_deg)
{
    *latitude_deg = weather->latitude_deg;
    *longitude_deg = weather->longitude_deg;
}

bool weather_is_typical(const struct weather *weather)
{
    return weather->typical;
}
