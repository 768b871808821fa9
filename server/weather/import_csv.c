/* SPDX-License-Identifier: MIT */
/*
 * Why: the format everybody can make. Columns say their unit in their name (temp_degf, rain_in), a
 * file with other names brings a column map; a figure without a unit is never guessed. Hourly rows
 * have `time` (start of the hour, or the moment of a reading) or `time_end`; daily rows have
 * `date`. A time without an offset is refused unless a zone was given: half a year of it would be
 * an hour off and nobody would see. Source: [rfc4180], [rfc3339]
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "base/limits.h"
#include "compute/civil.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum { HOUR_S = 3600, TIME_BYTES_MAX = 40 };

enum role { ROLE_TIME, ROLE_TIME_END, ROLE_DATE, ROLE_HOUR, ROLE_DAY };

/* The columns there can be: role, figure, and its unit as `value * scale + shift`. */
static const struct column {
    const char *name;
    enum role role;
    int figure;
    double scale;
    double shift;
} columns[] = {
    {"time", ROLE_TIME, 0, 0, 0},
    {"time_end", ROLE_TIME_END, 0, 0, 0},
    {"date", ROLE_DATE, 0, 0, 0},
    {"temp_degc", ROLE_HOUR, FIGURE_TEMP, 1, 0},
    {"temp_degf", ROLE_HOUR, FIGURE_TEMP, 5.0 / 9.0, -160.0 / 9.0},
    {"rain_mm", ROLE_HOUR, FIGURE_RAIN, 1, 0},
    {"rain_in", ROLE_HOUR, FIGURE_RAIN, 25.4, 0},
    {"rh_pct", ROLE_HOUR, FIGURE_RH, 1, 0},
    {"wind_mps", ROLE_HOUR, FIGURE_WIND, 1, 0},
    {"wind_mph", ROLE_HOUR, FIGURE_WIND, 0.44704, 0},
    {"wind_kmh", ROLE_HOUR, FIGURE_WIND, 1 / 3.6, 0},
    {"gust_mps", ROLE_HOUR, FIGURE_GUST, 1, 0},
    {"gust_mph", ROLE_HOUR, FIGURE_GUST, 0.44704, 0},
    {"gust_kmh", ROLE_HOUR, FIGURE_GUST, 1 / 3.6, 0},
    {"min_degc", ROLE_DAY, DAY_MIN, 1, 0},
    {"min_degf", ROLE_DAY, DAY_MIN, 5.0 / 9.0, -160.0 / 9.0},
    {"max_degc", ROLE_DAY, DAY_MAX, 1, 0},
    {"max_degf", ROLE_DAY, DAY_MAX, 5.0 / 9.0, -160.0 / 9.0},
};
enum { COLUMNS = sizeof columns / sizeof *columns };
#define COLUMN_WORDS                                                                               \
    "time, time_end or date; temp_degc|temp_degf, rain_mm|rain_in, rh_pct, wind_|gust_ "           \
    "mps|mph|kmh; days: min_|max_ degc|degf"

/* Where each column stands in the file at hand; -1: nowhere. */
struct layout {
    int field[COLUMNS];
    int only;
    int time; /* index into columns */
    size_t width;
    bool daily;
    int64_t last_local_s; /* wall clock of the row before, for the hour that comes twice */
    int64_t last_at_s;
};

static const char *header_of(const struct weather *weather, const char *target)
{
    for (size_t i = 0; i < weather->mapped_count; i++) {
        if (strcmp(weather->mapped[i].target, target) == 0) return weather->mapped[i].header;
    }
    return target;
}

static bool known_target(const char *target)
{
    for (size_t c = 0; c < COLUMNS; c++) {
        if (strcmp(columns[c].name, target) == 0) return true;
    }
    return false;
}

static void header_words(char out[FAULT_TEXT_MAX], const struct input *input)
{
    size_t length = 0;
    out[0] = '\0';
    for (size_t i = 0; i < input->field_count && length + 40 < FAULT_TEXT_MAX; i++) {
        const int more = snprintf(out + length, FAULT_TEXT_MAX - length, "%s%.32s",
                                  i == 0 ? "columns " : ",", input->fields[i]);
        length += more > 0 ? (size_t)more : 0;
    }
    for (char *c = out; *c != '\0'; c++) {
        if ((unsigned char)*c < ' ') *c = '?';
    }
}

static enum status header_fault(const struct input *input, const char *wanted, struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    char found[FAULT_TEXT_MAX];
    header_words(found, input);
    fault_set(fault, input_where(where, input, NULL), wanted, "%s", found);
    return STATUS_INVALID;
}

/* Field of a header; -1 none, -2 twice. */
static int find_field(struct input *input, const char *header)
{
    int found = -1;
    for (size_t i = 0; i < input->field_count; i++) {
        /* fields point into the input's own text: trimming in place is allowed */
        char *field = input->text + (input->fields[i] - input->text);
        if (strcmp(input_trim(field), header) != 0) continue;
        if (found >= 0) return -2;
        found = (int)i;
    }
    return found;
}

static enum status find_columns(const struct weather *weather, struct input *input,
                                struct layout *layout, struct fault *fault)
{
    char wanted[FAULT_TEXT_MAX];
    for (size_t i = 0; i < weather->mapped_count; i++) {
        const struct mapped *mapped = &weather->mapped[i];
        const bool known = known_target(mapped->target);
        if (known && find_field(input, mapped->header) >= 0) continue;
        (void)snprintf(wanted, sizeof wanted, "%s",
                       known ? "one column of the name the column map says" : COLUMN_WORDS);
        fault_set(fault, "columns", wanted, "%s=%s", mapped->target, mapped->header);
        return STATUS_INVALID;
    }
    for (size_t c = 0; c < COLUMNS; c++) {
        layout->field[c] = find_field(input, header_of(weather, columns[c].name));
        if (layout->field[c] == -2) {
            (void)snprintf(wanted, sizeof wanted, "one column %s, not two", columns[c].name);
            return header_fault(input, wanted, fault);
        }
    }
    layout->only = -1;
    if (weather->options.only_column != NULL) {
        layout->only = find_field(input, weather->options.only_column);
        if (layout->only < 0) return header_fault(input, "the column of the rows wanted", fault);
    }
    return STATUS_OK;
}

/* One time column, one unit a figure, and figures that fit it. */
static enum status check_columns(const struct input *input, struct layout *layout,
                                 struct fault *fault)
{
    int times = 0;
    int figures = 0;
    for (size_t c = 0; c < COLUMNS; c++) {
        if (layout->field[c] < 0) continue;
        if (columns[c].role <= ROLE_DATE) {
            times++;
            layout->time = (int)c;
            continue;
        }
        figures++;
        for (size_t other = c + 1; other < COLUMNS; other++) {
            if (layout->field[other] < 0 || columns[other].role != columns[c].role) continue;
            if (columns[other].figure != columns[c].figure) continue;
            return header_fault(input, "one column a figure, in one unit", fault);
        }
    }
    if (times != 1 || figures == 0) return header_fault(input, COLUMN_WORDS, fault);
    layout->daily = columns[layout->time].role == ROLE_DATE;
    for (size_t c = 0; c < COLUMNS; c++) {
        if (layout->field[c] < 0 || columns[c].role <= ROLE_DATE) continue;
        const bool rain_or_wind =
            columns[c].role == ROLE_HOUR &&
            (columns[c].figure == FIGURE_RAIN || columns[c].figure == FIGURE_WIND);
        const bool fits = layout->daily ? columns[c].role == ROLE_DAY || rain_or_wind
                                        : columns[c].role == ROLE_HOUR;
        if (fits) continue;
        return header_fault(input,
                            layout->daily ? "min_, max_, rain_ and wind_ beside date"
                                          : "temp_ beside time; min_ and max_ go with date",
                            fault);
    }
    return STATUS_OK;
}

/* A wall clock `YYYY-MM-DD HH:MM[:SS]` in the zone; the hour that comes twice by the row before. */
static bool local_time(int64_t *out, const struct weather *weather, struct layout *layout,
                       const char *text)
{
    char utc[TIME_BYTES_MAX + 8];
    const size_t length = strlen(text);
    if (length != 16 && length != 19) return false;
    (void)snprintf(utc, sizeof utc, "%s%sZ", text, length == 16 ? ":00" : "");
    int64_t local_s = 0;
    if (instant_parse(&local_s, utc, strlen(utc), NULL) != STATUS_OK) return false;
    const int32_t day = (int32_t)(local_s / ZONE_DAY_S);
    const struct zone *zone = weather->options.zone;
    int64_t at_s = civil_instant_s(zone, day, (int)(local_s % ZONE_DAY_S));
    if (at_s + zone_offset_s(zone, at_s) != local_s) return false; /* the clock skipped it */
    for (int64_t later_s = at_s + 1800; later_s <= at_s + 7200; later_s += 1800) {
        if (later_s + zone_offset_s(zone, later_s) != local_s) continue;
        /* shown twice: the second time if the clock was set back, or this very time was had */
        if (layout->last_local_s != INSTANT_NONE && layout->last_at_s < later_s &&
            (local_s <= layout->last_local_s || layout->last_at_s > at_s)) {
            at_s = later_s;
        }
        break;
    }
    if (at_s < INSTANT_MIN_S) return false;
    layout->last_local_s = local_s;
    layout->last_at_s = at_s;
    *out = at_s;
    return true;
}

static bool has_offset(const char *text)
{
    const size_t length = strlen(text);
    if (length == 0 || text[length - 1] == 'Z' || text[length - 1] == 'z') return true;
    return length > 19 && (strchr(text + 19, '+') != NULL || strchr(text + 19, '-') != NULL);
}

/* The instant of a row, told of when there is none. */
static bool row_time(int64_t *out, struct weather *weather, const struct input *input,
                     struct layout *layout, const char *text)
{
    char copy[TIME_BYTES_MAX];
    char where[INPUT_WHERE_MAX];
    struct fault fault = {.wanted = "a time as RFC 3339"};
    const size_t length = strlen(text);
    (void)snprintf(copy, sizeof copy, "%s", text);
    if (length > 11 && copy[10] == ' ') copy[10] = 'T';
    input_where(where, input, header_of(weather, columns[layout->time].name));
    if (length < sizeof copy) {
        if (has_offset(copy)) {
            if (instant_parse(out, copy, length, &fault) == STATUS_OK) return true;
        } else if (weather->options.zone == NULL) {
            (void)snprintf(fault.wanted, sizeof fault.wanted,
                           "a time with its offset from UTC, or the zone of the file");
        } else if (local_time(out, weather, layout, copy)) {
            return true;
        } else {
            (void)snprintf(fault.wanted, sizeof fault.wanted, "a time that the clock of %s showed",
                           weather->options.zone->name);
        }
    }
    report_tell(&weather->report, WEATHER_BAD_TIME, where, fault.wanted, "\"%.60s\"", text);
    return false;
}

/* One figure of a row; NAN when it is missing or a fault. */
static double row_figure(struct weather *weather, const struct input *input,
                         const struct column *column, const struct bounds *bounds, char *text)
{
    char where[INPUT_WHERE_MAX];
    const char *header = header_of(weather, column->name);
    double value = 0.0;
    text = input_trim(text);
    if (input_missing(text)) {
        report_count(&weather->report, WEATHER_MISSING, 1);
        return (double)NAN;
    }
    if (strcmp(text, "T") == 0 && strncmp(column->name, "rain", 4) == 0) {
        report_count(&weather->report, WEATHER_TRACE, 1);
        return 0.0;
    }
    if (!weather_number(&value, text)) {
        report_tell(&weather->report, WEATHER_UNREADABLE, input_where(where, input, header),
                    "a number", "\"%.60s\"", text);
        return (double)NAN;
    }
    value = value * column->scale + column->shift;
    if (value < bounds->least || value > bounds->most) {
        report_tell(&weather->report, WEATHER_OUT_OF_RANGE, input_where(where, input, header),
                    bounds->wanted, "%.60s", text);
        return (double)NAN;
    }
    return value;
}

static char *field(struct input *input, int index)
{
    return input->text + (input->fields[index] - input->text);
}

static enum status take_hour(struct weather *weather, struct input *input, struct layout *layout,
                             struct fault *fault)
{
    int64_t at_s = 0;
    const char *time = input_trim(field(input, layout->field[layout->time]));
    if (!row_time(&at_s, weather, input, layout, time)) return STATUS_OK;
    if (columns[layout->time].role == ROLE_TIME_END) at_s -= HOUR_S;
    char where[INPUT_WHERE_MAX];
    if (weather->options.past && weather->options.now_s != INSTANT_NONE &&
        at_s > weather->options.now_s) {
        report_tell(&weather->report, WEATHER_AFTER_NOW, input_where(where, input, NULL),
                    "what was observed, not later than now", "\"%.60s\"", time);
        return STATUS_OK;
    }
    if (at_s < INSTANT_MIN_S) {
        report_count(&weather->report, WEATHER_TOO_OLD, 1);
        return STATUS_OK;
    }
    struct row row = row_empty(at_s, input->line, weather);
    bool any = false;
    for (size_t c = 0; c < COLUMNS; c++) {
        if (layout->field[c] < 0 || columns[c].role != ROLE_HOUR) continue;
        const int f = columns[c].figure;
        row.figures[f] = row_figure(weather, input, &columns[c], &figure_bounds[f],
                                    field(input, layout->field[c]));
        any = any || !isnan(row.figures[f]);
    }
    return any ? row_add(weather, &row, fault) : STATUS_OK;
}

static enum status take_day(struct weather *weather, struct input *input,
                            const struct layout *layout, struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    int32_t day = 0;
    const char *date = input_trim(field(input, layout->field[layout->time]));
    if (date_parse(&day, date, strlen(date), NULL) != STATUS_OK) {
        report_tell(&weather->report, WEATHER_BAD_TIME, input_where(where, input, NULL),
                    "a date YYYY-MM-DD from 1970 on", "\"%.60s\"", date);
        return STATUS_OK;
    }
    enum status status = STATUS_OK;
    for (size_t c = 0; status == STATUS_OK && c < COLUMNS; c++) {
        if (layout->field[c] < 0 || columns[c].role <= ROLE_DATE) continue;
        const int f = columns[c].role == ROLE_DAY        ? columns[c].figure
                      : columns[c].figure == FIGURE_RAIN ? DAY_RAIN
                                                         : DAY_WIND;
        const double value =
            row_figure(weather, input, &columns[c], &day_bounds[f], field(input, layout->field[c]));
        if (isnan(value)) continue;
        const bool back = weather->options.morning_observer && (f == DAY_MAX || f == DAY_RAIN);
        input_where(where, input, header_of(weather, columns[c].name));
        status = day_add(weather, back ? day - 1 : day, (enum day_figure)f, value, where, fault);
    }
    return status;
}

static enum status take_row(struct weather *weather, struct input *input, struct layout *layout,
                            struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    weather->report.rows++;
    if (input->unclosed || input->stray || input->field_count != layout->width) {
        const char *wanted = input->unclosed ? "a closing quote"
                             : input->stray  ? "quotes around whole fields only"
                                             : "as many fields as the header";
        report_tell(&weather->report, WEATHER_SHAPE, input_where(where, input, NULL), wanted,
                    "%zu fields, header %zu", input->field_count, layout->width);
        return STATUS_OK;
    }
    if (layout->only >= 0 &&
        strcmp(input_trim(field(input, layout->only)), weather->options.only_value) != 0) {
        report_count(&weather->report, WEATHER_UNUSED, 1);
        return STATUS_OK;
    }
    return layout->daily ? take_day(weather, input, layout, fault)
                         : take_hour(weather, input, layout, fault);
}

enum status import_csv(struct weather *weather, struct input *input, struct fault *fault)
{
    struct layout layout = {.only = -1, .last_local_s = INSTANT_NONE, .last_at_s = INSTANT_NONE};
    enum status status = input_row(input, fault);
    if (status == STATUS_NOT_FOUND) {
        fault_set(fault, input->source->name, "a header with the names of the columns",
                  "an empty file");
        return STATUS_INVALID;
    }
    if (status == STATUS_OK) status = find_columns(weather, input, &layout, fault);
    if (status == STATUS_OK) status = check_columns(input, &layout, fault);
    if (status != STATUS_OK) return status;
    if (weather->options.format == WEATHER_LOGGER && layout.daily) {
        return header_fault(input, "time and temp_degc or temp_degf", fault);
    }
    layout.width = input->field_count;
    while ((status = input_row(input, fault)) == STATUS_OK) {
        status = take_row(weather, input, &layout, fault);
        if (status != STATUS_OK) return status;
    }
    return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}
