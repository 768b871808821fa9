/* SPDX-License-Identifier: MIT */
/*
 * Why: the longest public record of days. Two faces of it: fixed columns (.dly, a month of one
 * element a line) and one station's CSV (a day a row, each element beside its attributes). Values
 * are whole tenths. A value with a quality flag failed a check of its publisher and is dropped; a
 * missing value presumed zero (MFLAG P) is missing here, for an hour nobody measured must not count
 * as dry.
 * Source: [ghcn-daily] readme of the format; units of AWND and MFLAG P from memory.
 */
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "base/limits.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum {
    LINE_BYTES = 269,
    LINE_BYTES_LEAST = 266, /* the last value's three flags may be cut off as trailing blanks */
    ID_BYTES = 11,
    VALUES_AT = 21,
    VALUE_BYTES = 8,
    DAYS = 31,
    MISSING = -9999,
};

/* The elements used here, all in tenths. */
static const struct {
    const char *name;
    enum day_figure figure;
} elements[] = {
    {"TMAX", DAY_MAX},
    {"TMIN", DAY_MIN},
    {"PRCP", DAY_RAIN},
    {"AWND", DAY_WIND},
};
enum { ELEMENTS = sizeof elements / sizeof *elements };

/* One value with its flags, wherever it stood. */
struct value {
    int32_t day;
    enum day_figure figure;
    int tenths;
    char measurement;
    char quality;
};

static enum status take_value(struct weather *weather, const struct value *value, const char *where,
                              struct fault *fault)
{
    struct weather_report *report = &weather->report;
    const struct bounds *bounds = &day_bounds[value->figure];
    if (value->tenths == MISSING || value->measurement == 'P') {
        report_count(report, WEATHER_MISSING, 1);
        return STATUS_OK;
    }
    if (value->quality != ' ') {
        report_count(report, WEATHER_QUALITY, 1);
        return STATUS_OK;
    }
    const double figure = value->tenths / 10.0;
    if (figure < bounds->least || figure > bounds->most) {
        report_tell(report, WEATHER_OUT_OF_RANGE, where, bounds->wanted, "%d tenths",
                    value->tenths);
        return STATUS_OK;
    }
    const bool temperature = value->figure == DAY_MIN || value->figure == DAY_MAX;
    if (value->measurement == 'T' && !temperature) report_count(report, WEATHER_TRACE, 1);
    const bool back = weather->options.morning_observer &&
                      (value->figure == DAY_MAX || value->figure == DAY_RAIN);
    return day_add(weather, back ? value->day - 1 : value->day, value->figure, figure, where,
                   fault);
}

/* Digits of fixed width, blanks in front, one sign; false for anything else. */
static bool fixed_integer(int *out, const char *text, size_t width)
{
    size_t i = 0;
    int value = 0;
    while (i < width && text[i] == ' ') i++;
    const bool negative = i < width && text[i] == '-';
    i += negative;
    if (i == width) return false;
    for (; i < width; i++) {
        if (text[i] < '0' || text[i] > '9') return false;
        value = 10 * value + (text[i] - '0');
    }
    *out = negative ? -value : value;
    return true;
}

/* --- fixed columns -------------------------------------------------------------------------- */

struct dly {
    int year;
    int month;
    enum day_figure figure;
    bool used;
};

/* The head of a line; false, with a fault told, when it is none. */
static bool read_head(struct weather *weather, const struct input *input, struct dly *out)
{
    char where[INPUT_WHERE_MAX];
    const char *text = input->text;
    if (!fixed_integer(&out->year, text + ID_BYTES, 4) ||
        !fixed_integer(&out->month, text + ID_BYTES + 4, 2) || out->year <= WEATHER_FIRST_YEAR ||
        out->year > WEATHER_LAST_YEAR || out->month < 1 || out->month > 12) {
        report_tell(&weather->report, WEATHER_BAD_TIME, input_where(where, input, NULL),
                    "a year from 1751 on and a month 01..12 in columns 12 to 17", "\"%.6s\"",
                    text + ID_BYTES);
        return false;
    }
    out->used = false;
    for (size_t e = 0; e < ELEMENTS; e++) {
        if (memcmp(text + ID_BYTES + 6, elements[e].name, 4) != 0) continue;
        out->figure = elements[e].figure;
        out->used = true;
    }
    if (!out->used) report_count(&weather->report, WEATHER_UNUSED, 1);
    return true;
}

static enum status read_values(struct weather *weather, const struct input *input,
                               const struct dly *dly, struct fault *fault)
{
    const int days = zone_month_days(dly->year, dly->month);
    enum status status = STATUS_OK;
    for (int d = 1; status == STATUS_OK && d <= DAYS; d++) {
        char where[INPUT_WHERE_MAX];
        char column[24];
        const char *at = input->text + VALUES_AT + (d - 1) * VALUE_BYTES;
        struct value value = {.figure = dly->figure, .measurement = at[5], .quality = at[6]};
        (void)snprintf(column, sizeof column, "%.4s day %d", input->text + ID_BYTES + 6, d);
        input_where(where, input, column);
        if (!fixed_integer(&value.tenths, at, 5)) {
            report_tell(&weather->report, WEATHER_UNREADABLE, where, "a whole number in 5 columns",
                        "\"%.5s\"", at);
        } else if (d <= days) {
            value.day = zone_day_of_date(dly->year, dly->month, d);
            status = take_value(weather, &value, where, fault);
        } else if (value.tenths != MISSING) {
            report_tell(&weather->report, WEATHER_BAD_TIME, where,
                        "-9999 for days the month does not have", "%d", value.tenths);
        }
    }
    return status;
}

static enum status other_station(const struct input *input, const char *found, const char *first,
                                 struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    fault_set(fault, input_where(where, input, NULL), "the lines of one station",
              "\"%.11s\" after \"%.11s\"", found, first);
    return STATUS_INVALID;
}

enum status import_ghcn_dly(struct weather *weather, struct input *input, struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    char station[ID_BYTES + 1] = "";
    size_t length = 0;
    enum status status = STATUS_OK;
    while ((status = input_line(input, &length, fault)) == STATUS_OK) {
        struct dly dly = {0};
        if (length == 0) continue;
        const bool shaped = length >= LINE_BYTES_LEAST && length <= LINE_BYTES;
        if (!shaped && weather->report.rows == 0 && station[0] == '\0') {
            fault_set(fault, input_where(where, input, NULL), "lines of 269 bytes (.dly)",
                      "%zu bytes", length);
            return STATUS_INVALID;
        }
        weather->report.rows++;
        if (!shaped) {
            report_tell(&weather->report, WEATHER_SHAPE, input_where(where, input, NULL),
                        "a line of 269 bytes", "%zu", length);
            continue;
        }
        memset(input->text + length, ' ', LINE_BYTES - length);
        if (station[0] == '\0') memcpy(station, input->text, ID_BYTES);
        if (memcmp(station, input->text, ID_BYTES) != 0) {
            return other_station(input, input->text, station, fault);
        }
        if (!read_head(weather, input, &dly) || !dly.used) continue;
        status = read_values(weather, input, &dly, fault);
        if (status != STATUS_OK) return status;
    }
    return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}

/* --- one station's CSV ---------------------------------------------------------------------- */

struct by_station {
    int station;
    int date;
    int latitude;
    int longitude;
    int value[ELEMENTS];
    int attributes[ELEMENTS];
    size_t width;
    char id[ID_BYTES + 1];
};

static int find_field(const struct input *input, const char *name)
{
    for (size_t i = 0; i < input->field_count; i++) {
        if (strcmp(input->fields[i], name) == 0) return (int)i;
    }
    return -1;
}

static enum status read_header(const struct input *input, struct by_station *out,
                               struct fault *fault)
{
    char name[24];
    char where[INPUT_WHERE_MAX];
    bool any = false;
    out->station = find_field(input, "STATION");
    out->date = find_field(input, "DATE");
    out->latitude = find_field(input, "LATITUDE");
    out->longitude = find_field(input, "LONGITUDE");
    out->width = input->field_count;
    for (size_t e = 0; e < ELEMENTS; e++) {
        (void)snprintf(name, sizeof name, "%s_ATTRIBUTES", elements[e].name);
        out->value[e] = find_field(input, elements[e].name);
        out->attributes[e] = find_field(input, name);
        any = any || out->value[e] >= 0;
        if (out->value[e] < 0 || out->attributes[e] >= 0) continue;
        fault_set(fault, input_where(where, input, elements[e].name),
                  "its attributes beside it: without flags a failed value cannot be told",
                  "no column %s", name);
        return STATUS_INVALID;
    }
    if (out->station >= 0 && out->date >= 0 && any) return STATUS_OK;
    fault_set(fault, input_where(where, input, NULL),
              "columns STATION, DATE and one of TMAX, TMIN, PRCP, AWND", "\"%.40s\" and %zu more",
              input->fields[0], input->field_count - 1);
    return STATUS_INVALID;
}

/* `M,Q,S` or `M,Q,S,time`: the flag before the n-th comma; a blank when it is empty. */
static char attribute(const char *text, int n)
{
    for (; n > 0; n--) {
        text = strchr(text, ',');
        if (text == NULL) return ' ';
        text++;
    }
    return *text == '\0' || *text == ',' ? ' ' : *text;
}

static enum status take_element(struct weather *weather, struct input *input,
                                const struct by_station *by, size_t e, int32_t day,
                                struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    double tenths = 0.0;
    char *text = input_trim(input->text + (input->fields[by->value[e]] - input->text));
    const char *flags = input->fields[by->attributes[e]];
    input_where(where, input, elements[e].name);
    if (text[0] == '\0') {
        report_count(&weather->report, WEATHER_MISSING, 1);
        return STATUS_OK;
    }
    if (strchr(text, '.') != NULL || !weather_number(&tenths, text) || tenths < -99999 ||
        tenths > 99999) {
        report_tell(&weather->report, WEATHER_UNREADABLE, where,
                    "whole tenths; files in degrees go in as csv with a column map", "\"%.40s\"",
                    text);
        return STATUS_OK;
    }
    const struct value value = {day, elements[e].figure, (int)tenths, attribute(flags, 0),
                                attribute(flags, 1)};
    return take_value(weather, &value, where, fault);
}

static void read_place(struct weather *weather, const struct input *input,
                       const struct by_station *by)
{
    double value = 0.0;
    if (by->latitude >= 0 && weather->latitude_deg != weather->latitude_deg &&
        weather_number(&value, input->fields[by->latitude])) {
        weather->latitude_deg = value;
    }
    if (by->longitude >= 0 && weather->longitude_deg != weather->longitude_deg &&
        weather_number(&value, input->fields[by->longitude])) {
        weather->longitude_deg = value;
    }
}

static bool row_day(int32_t *out, struct weather *weather, const struct input *input,
                    const char *text)
{
    char where[INPUT_WHERE_MAX];
    int year = 0;
    int month = 0;
    int day = 0;
    if (strlen(text) == 10 && text[4] == '-' && text[7] == '-' && fixed_integer(&year, text, 4) &&
        fixed_integer(&month, text + 5, 2) && fixed_integer(&day, text + 8, 2) &&
        year > WEATHER_FIRST_YEAR && year <= WEATHER_LAST_YEAR && day >= 1 &&
        day <= zone_month_days(year, month)) {
        *out = zone_day_of_date(year, month, day);
        return true;
    }
    report_tell(&weather->report, WEATHER_BAD_TIME, input_where(where, input, "DATE"),
                "a date YYYY-MM-DD from 1751 on", "\"%.40s\"", text);
    return false;
}

static enum status take_row(struct weather *weather, struct input *input, struct by_station *by,
                            struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    int32_t day = 0;
    weather->report.rows++;
    if (input->unclosed || input->stray || input->field_count != by->width) {
        report_tell(&weather->report, WEATHER_SHAPE, input_where(where, input, NULL),
                    "as many fields as the header, quotes around whole fields", "%zu fields",
                    input->field_count);
        return STATUS_OK;
    }
    const char *station = input->fields[by->station];
    if (by->id[0] == '\0') (void)snprintf(by->id, sizeof by->id, "%s", station);
    if (strncmp(by->id, station, ID_BYTES) != 0) {
        return other_station(input, station, by->id, fault);
    }
    read_place(weather, input, by);
    if (!row_day(&day, weather, input, input->fields[by->date])) return STATUS_OK;
    enum status status = STATUS_OK;
    for (size_t e = 0; status == STATUS_OK && e < ELEMENTS; e++) {
        if (by->value[e] >= 0) status = take_element(weather, input, by, e, day, fault);
    }
    return status;
}

enum status import_ghcn_csv(struct weather *weather, struct input *input, struct fault *fault)
{
    struct by_station by = {.id = ""};
    enum status status = input_row(input, fault);
    if (status == STATUS_NOT_FOUND) {
        fault_set(fault, input->source->name, "a header with STATION and DATE", "an empty file");
        return STATUS_INVALID;
    }
    if (status == STATUS_OK) status = read_header(input, &by, fault);
    if (status != STATUS_OK) return status;
    while ((status = input_row(input, fault)) == STATUS_OK) {
        status = take_row(weather, input, &by, fault);
        if (status != STATUS_OK) return status;
    }
    return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}
