/* SPDX-License-Identifier: MIT */
/*
 * Why: a typical year where no record was kept. Eight header lines, then one row an hour; hour 1 is
 * the first of the day and is told at its end, so hour h is the hour that starts at h - 1. Times
 * are of the zone of the header, a fixed offset. A typical year joins months of several years: it
 * is put on one year, and is never an observation.
 * Source: [energyplus-epw] weather file format, the missing codes from memory.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum { HOUR_S = 3600, HEADERS = 8, FIELDS_LEAST = 22 };

/* Fields of a row with a figure, and from where on it is missing. */
static const struct {
    const char *name;
    size_t field;
    enum figure figure;
    double missing;
} used[] = {
    {"dry bulb", 6, FIGURE_TEMP, 99.9},
    {"relative humidity", 8, FIGURE_RH, 999.0},
    {"wind speed", 21, FIGURE_WIND, 999.0},
    {"liquid precipitation", 33, FIGURE_RAIN, 999.0},
};

struct epw {
    double zone_h;
    int first_year; /* 0: no row yet */
    int year;       /* where a typical year is put */
};

static enum status header_fault(const struct input *input, const char *wanted, const char *found,
                                struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    fault_set(fault, input_where(where, input, NULL), wanted, "\"%.60s\"", found);
    return STATUS_INVALID;
}

static enum status read_location(struct weather *weather, const struct input *input,
                                 struct epw *epw, struct fault *fault)
{
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    if (strcasecmp(input->fields[0], "LOCATION") != 0) {
        return header_fault(input, "LOCATION, the first line of an EPW file", input->fields[0],
                            fault);
    }
    if (input->field_count < 9 || !weather_number(&latitude_deg, input->fields[6]) ||
        !weather_number(&longitude_deg, input->fields[7]) ||
        !weather_number(&epw->zone_h, input->fields[8]) || fabs(latitude_deg) > 90.0 ||
        fabs(longitude_deg) > 180.0 || fabs(epw->zone_h) > 14.0) {
        return header_fault(input, "LOCATION with latitude, longitude and offset from UTC",
                            input->fields[0], fault);
    }
    if (isnan(weather->latitude_deg)) weather->latitude_deg = latitude_deg;
    if (isnan(weather->longitude_deg)) weather->longitude_deg = longitude_deg;
    return STATUS_OK;
}

static enum status read_headers(struct weather *weather, struct input *input, struct epw *epw,
                                struct fault *fault)
{
    for (int line = 0; line < HEADERS; line++) {
        enum status status = input_row(input, fault);
        if (status == STATUS_NOT_FOUND) {
            return header_fault(input, "eight header lines", "the end of the file", fault);
        }
        if (status == STATUS_OK && line == 0) status = read_location(weather, input, epw, fault);
        if (status != STATUS_OK) return status;
    }
    double an_hour = 0.0;
    if (strcasecmp(input->fields[0], "DATA PERIODS") != 0) {
        return header_fault(input, "DATA PERIODS, the eighth line of an EPW file", input->fields[0],
                            fault);
    }
    if (input->field_count < 3 || !weather_number(&an_hour, input->fields[2]) || an_hour != 1.0) {
        return header_fault(input, "one row an hour",
                            input->field_count < 3 ? "" : input->fields[2], fault);
    }
    return STATUS_OK;
}

static bool whole(int *out, const char *text, int least, int most)
{
    double value = 0.0;
    if (!weather_number(&value, text) || value != floor(value)) return false;
    if (value < least || value > most) return false;
    *out = (int)value;
    return true;
}

static void take_figures(struct weather *weather, const struct input *input, struct row *row)
{
    char where[INPUT_WHERE_MAX];
    for (size_t i = 0; i < sizeof used / sizeof *used; i++) {
        if (used[i].field >= input->field_count) continue;
        const char *text = input->fields[used[i].field];
        const struct bounds *bounds = &figure_bounds[used[i].figure];
        double value = 0.0;
        if (text[0] == '\0') {
            report_count(&weather->report, WEATHER_MISSING, 1);
        } else if (!weather_number(&value, text)) {
            report_tell(&weather->report, WEATHER_UNREADABLE,
                        input_where(where, input, used[i].name), "a number", "\"%.60s\"", text);
        } else if (value >= used[i].missing) {
            report_count(&weather->report, WEATHER_MISSING, 1);
        } else if (used[i].figure == FIGURE_RH && value > 100.0 && value <= 110.0) {
            row->figures[FIGURE_RH] = 100.0; /* the format allows 110, for supersaturated air */
        } else if (value < bounds->least || value > bounds->most) {
            report_tell(&weather->report, WEATHER_OUT_OF_RANGE,
                        input_where(where, input, used[i].name), bounds->wanted, "%.60s", text);
        } else {
            row->figures[used[i].figure] = value;
        }
    }
}

static bool row_date(struct weather *weather, const struct input *input, struct epw *epw,
                     int *month, int *day, int *hour)
{
    char where[INPUT_WHERE_MAX];
    int year = 0;
    if (!whole(&year, input->fields[0], 1800, WEATHER_LAST_YEAR) ||
        !whole(month, input->fields[1], 1, 12) || !whole(day, input->fields[2], 1, 31) ||
        !whole(hour, input->fields[3], 1, 24) || *day > zone_month_days(2000, *month)) {
        report_tell(&weather->report, WEATHER_BAD_TIME, input_where(where, input, NULL),
                    "year, month, day and an hour 1..24", "%.8s,%.8s,%.8s,%.8s", input->fields[0],
                    input->fields[1], input->fields[2], input->fields[3]);
        return false;
    }
    if (epw->first_year == 0) epw->first_year = year;
    weather->typical = weather->typical || year != epw->first_year;
    epw->year =
        weather->options.typical_year != 0 ? weather->options.typical_year : epw->first_year;
    return true;
}

static enum status take_row(struct weather *weather, const struct input *input, struct epw *epw,
                            struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    int month = 0;
    int day = 0;
    int hour = 0;
    weather->report.rows++;
    if (input->unclosed || input->stray || input->field_count < FIELDS_LEAST) {
        report_tell(&weather->report, WEATHER_SHAPE, input_where(where, input, NULL),
                    "a row of 35 fields", "%zu", input->field_count);
        return STATUS_OK;
    }
    if (!row_date(weather, input, epw, &month, &day, &hour)) return STATUS_OK;
    if (day > zone_month_days(epw->year, month)) { /* 29 February on a year without one */
        report_count(&weather->report, WEATHER_UNUSED, 1);
        return STATUS_OK;
    }
    const int64_t at_s = (int64_t)zone_day_of_date(epw->year, month, day) * ZONE_DAY_S +
                         (int64_t)(hour - 1) * HOUR_S - llround(epw->zone_h * HOUR_S);
    if (at_s < INSTANT_MIN_S) {
        report_count(&weather->report, WEATHER_TOO_OLD, 1);
        return STATUS_OK;
    }
    struct row row = row_empty(at_s, input->line, weather);
    take_figures(weather, input, &row);
    return row_add(weather, &row, fault);
}

enum status import_epw(struct weather *weather, struct input *input, struct fault *fault)
{
    struct epw epw = {0.0, 0, 0};
    enum status status = read_headers(weather, input, &epw, fault);
    if (status != STATUS_OK) return status;
    while ((status = input_row(input, fault)) == STATUS_OK) {
        status = take_row(weather, input, &epw, fault);
        if (status != STATUS_OK) return status;
    }
    return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}
