/* SPDX-License-Identifier: MIT */
/*
 * Why: the public forecast of the U.S. National Weather Service, in its two faces: hourly periods
 * (temperature, humidity, wind; no rain amount) and the grid's layers (those and
 * quantitativePrecipitation, each value over an ISO 8601 interval). An interval's rain is spread
 * evenly over its hours, every other layer holds through them. Of "5 to 10 mph" the higher is
 * taken. Members a reply lacks, and null, are missing figures; a unit we do not know is a fault.
 * Source: [nws-api] GeoJSON of /gridpoints and /forecast/hourly
 */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "base/limits.h"
#include "intake/intake.h"
#include "weather/import.h"
#include "weather/input.h"

#include "base/banned.h"

enum { HOUR_S = 3600, INTERVAL_HOURS_MAX = 24 * 31 };

/* Units by the last word of their code (`wmoUnit:degC`, `unit:percent`, `mph`). */
static const struct measure {
    const char *code;
    enum figure figure;
    double scale;
    double shift;
} units[] = {
    {"degC", FIGURE_TEMP, 1, 0},
    {"C", FIGURE_TEMP, 1, 0},
    {"degF", FIGURE_TEMP, 5.0 / 9.0, -160.0 / 9.0},
    {"F", FIGURE_TEMP, 5.0 / 9.0, -160.0 / 9.0},
    {"percent", FIGURE_RH, 1, 0},
    {"km_h-1", FIGURE_WIND, 1 / 3.6, 0},
    {"km/h", FIGURE_WIND, 1 / 3.6, 0},
    {"mph", FIGURE_WIND, 0.44704, 0},
    {"m_s-1", FIGURE_WIND, 1, 0},
    {"m/s", FIGURE_WIND, 1, 0},
    {"mm", FIGURE_RAIN, 1, 0},
};

/* What both faces work with. */
struct nws {
    struct weather *weather;
    struct input *input;
    char where[INPUT_WHERE_MAX];
};

static const struct measure *find_unit(const char *code, enum figure figure)
{
    const enum figure kind = figure == FIGURE_GUST ? FIGURE_WIND : figure;
    const char *colon = code == NULL ? NULL : strrchr(code, ':');
    if (colon != NULL) code = colon + 1;
    for (size_t i = 0; code != NULL && i < sizeof units / sizeof *units; i++) {
        if (units[i].figure == kind && strcmp(units[i].code, code) == 0) return &units[i];
    }
    return NULL;
}

static double missing(struct nws *nws)
{
    report_count(&nws->weather->report, WEATHER_MISSING, 1);
    return (double)NAN;
}

/* A number in a unit, in bounds; NAN with a fault told otherwise. */
static double in_unit(struct nws *nws, double value, const char *code, enum figure figure)
{
    const struct measure *unit = find_unit(code, figure);
    const struct bounds *bounds = &figure_bounds[figure];
    if (unit == NULL) {
        report_tell(&nws->weather->report, WEATHER_UNREADABLE, nws->where, "a unit that is known",
                    "\"%.40s\"", code == NULL ? "" : code);
        return (double)NAN;
    }
    const double converted = value * unit->scale + unit->shift;
    if (converted >= bounds->least && converted <= bounds->most) return converted;
    report_tell(&nws->weather->report, WEATHER_OUT_OF_RANGE, nws->where, bounds->wanted, "%g %s",
                value, unit->code);
    return (double)NAN;
}

/* `{"unitCode": …, "value": …}` */
static double quantity(struct nws *nws, json_t *json, enum figure figure)
{
    json_t *value = json_object_get(json, "value");
    if (value == NULL || json_is_null(value)) {
        json_t *most = json_object_get(json, "maxValue"); /* a range instead of one value */
        if (!json_is_number(most)) return missing(nws);
        value = most;
    }
    if (!json_is_number(value)) {
        report_tell(&nws->weather->report, WEATHER_UNREADABLE, nws->where, "a number or null",
                    "something else");
        return (double)NAN;
    }
    return in_unit(nws, json_number_value(value),
                   json_string_value(json_object_get(json, "unitCode")), figure);
}

/* "15 mph", "0 km/h", "5 to 10 mph": the higher. */
static double speed_words(struct nws *nws, const char *text, enum figure figure)
{
    char copy[64];
    char *words[5] = {NULL};
    size_t count = 0;
    double value = 0.0;
    double higher = 0.0;
    (void)snprintf(copy, sizeof copy, "%s", text);
    for (char *at = copy; *at != '\0' && count < 5;) {
        at += strspn(at, " ");
        if (*at == '\0') break;
        words[count++] = at;
        at += strcspn(at, " ");
        if (*at != '\0') *at++ = '\0';
    }
    const bool one = count == 2 && weather_number(&value, words[0]);
    const bool range = count == 4 && weather_number(&value, words[0]) &&
                       strcmp(words[1], "to") == 0 && weather_number(&higher, words[2]);
    if (strlen(text) < sizeof copy && (one || range)) {
        return in_unit(nws, range && higher > value ? higher : value, words[count - 1], figure);
    }
    report_tell(&nws->weather->report, WEATHER_UNREADABLE, nws->where,
                "a speed like \"10 mph\" or \"5 to 10 mph\"", "\"%.60s\"", text);
    return (double)NAN;
}

/* --- hourly periods ------------------------------------------------------------------------- */

static void stand_at(struct nws *nws, size_t index, const char *member)
{
    (void)snprintf(nws->where, sizeof nws->where, "%.60s properties.periods[%zu].%s",
                   nws->input->source->name, index, member);
}

/* A member of a period: a number with the period's unit, a quantity, or words. */
static double period_figure(struct nws *nws, json_t *period, size_t index, const char *member,
                            const char *unit, enum figure figure)
{
    json_t *json = json_object_get(period, member);
    stand_at(nws, index, member);
    if (json == NULL || json_is_null(json)) return missing(nws);
    if (json_is_object(json)) return quantity(nws, json, figure);
    if (json_is_number(json) && unit != NULL) {
        return in_unit(nws, json_number_value(json), unit, figure);
    }
    if (json_is_string(json) && (figure == FIGURE_WIND || figure == FIGURE_GUST)) {
        return speed_words(nws, json_string_value(json), figure);
    }
    report_tell(&nws->weather->report, WEATHER_UNREADABLE, nws->where,
                "a number with its unit, a quantity or null", "something else");
    return (double)NAN;
}

static bool read_instant(int64_t *out, json_t *json)
{
    const char *text = json_string_value(json);
    return text != NULL && instant_parse(out, text, strlen(text), NULL) == STATUS_OK;
}

/* Start of a period that is one hour long; false with a fault told. */
static bool period_start(struct nws *nws, json_t *period, size_t index, int64_t *out_s)
{
    json_t *end = json_object_get(period, "endTime");
    int64_t end_s = 0;
    stand_at(nws, index, "startTime");
    if (!read_instant(out_s, json_object_get(period, "startTime"))) {
        const char *text = json_string_value(json_object_get(period, "startTime"));
        report_tell(&nws->weather->report, WEATHER_BAD_TIME, nws->where,
                    "a time with its offset, RFC 3339", "\"%.40s\"", text == NULL ? "" : text);
        return false;
    }
    if (end == NULL) return true;
    stand_at(nws, index, "endTime");
    if (read_instant(&end_s, end) && end_s - *out_s == HOUR_S) return true;
    const char *text = json_string_value(end);
    report_tell(&nws->weather->report, WEATHER_BAD_TIME, nws->where,
                "one hour after the start: the hourly forecast", "\"%.40s\"",
                text == NULL ? "" : text);
    return false;
}

static enum status read_periods(struct nws *nws, json_t *properties, json_t *periods,
                                struct fault *fault)
{
    const char *unit_names = json_string_value(json_object_get(properties, "units"));
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(periods); i++) {
        json_t *period = json_array_get(periods, i);
        int64_t at_s = 0;
        nws->weather->report.rows++;
        if (!json_is_object(period)) {
            stand_at(nws, i, "");
            report_tell(&nws->weather->report, WEATHER_SHAPE, nws->where, "a period", "none");
            continue;
        }
        if (!period_start(nws, period, i, &at_s)) continue;
        const char *unit = json_string_value(json_object_get(period, "temperatureUnit"));
        if (unit == NULL && unit_names != NULL) unit = strcmp(unit_names, "si") == 0 ? "C" : "F";
        struct row row = row_empty(at_s, i + 1, nws->weather);
        row.figures[FIGURE_TEMP] = period_figure(nws, period, i, "temperature", unit, FIGURE_TEMP);
        row.figures[FIGURE_RH] = period_figure(nws, period, i, "relativeHumidity", NULL, FIGURE_RH);
        row.figures[FIGURE_WIND] = period_figure(nws, period, i, "windSpeed", NULL, FIGURE_WIND);
        if (json_object_get(period, "windGust") != NULL) {
            row.figures[FIGURE_GUST] = period_figure(nws, period, i, "windGust", NULL, FIGURE_GUST);
        }
        status = row_add(nws->weather, &row, fault);
    }
    return status;
}

/* --- layers of the grid --------------------------------------------------------------------- */

static const struct {
    const char *name;
    enum figure figure;
} layers[] = {
    {"temperature", FIGURE_TEMP},
    {"relativeHumidity", FIGURE_RH},
    {"windSpeed", FIGURE_WIND},
    {"windGust", FIGURE_GUST},
    {"quantitativePrecipitation", FIGURE_RAIN},
};
enum { LAYERS = sizeof layers / sizeof *layers };

/* Hours of an ISO 8601 duration of days and hours, `P1DT6H`; 0 for anything else. */
static int duration_hours(const char *text)
{
    int total = 0;
    bool time = false;
    bool any = false;
    if (*text++ != 'P') return 0;
    while (*text != '\0') {
        int value = 0;
        if (*text == 'T' && !time) {
            time = true;
            text++;
            continue;
        }
        const char *digits = text;
        while (*text >= '0' && *text <= '9' && value < 10000) value = 10 * value + (*text++ - '0');
        if (text == digits || (*text != 'D' && *text != 'H') || (*text == 'H') != time) return 0;
        total += value * (*text++ == 'D' ? 24 : 1);
        any = true;
        if (total > INTERVAL_HOURS_MAX) return 0;
    }
    return any ? total : 0;
}

/* `2024-01-11T11:00:00+00:00/PT6H` */
static bool read_interval(json_t *json, int64_t *out_s, int *out_hours)
{
    const char *text = json_string_value(json);
    const char *slash = text == NULL ? NULL : strchr(text, '/');
    if (slash == NULL) return false;
    if (instant_parse(out_s, text, (size_t)(slash - text), NULL) != STATUS_OK) return false;
    *out_hours = duration_hours(slash + 1);
    return *out_hours > 0;
}

static enum status read_layer(struct nws *nws, json_t *layer, size_t l, struct fault *fault)
{
    const char *unit = json_string_value(json_object_get(layer, "uom"));
    json_t *values = json_object_get(layer, "values");
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(values); i++) {
        json_t *item = json_array_get(values, i);
        json_t *value = json_object_get(item, "value");
        int64_t at_s = 0;
        int hours = 0;
        nws->weather->report.rows++;
        (void)snprintf(nws->where, sizeof nws->where, "%.60s properties.%s.values[%zu]",
                       nws->input->source->name, layers[l].name, i);
        if (!read_interval(json_object_get(item, "validTime"), &at_s, &hours)) {
            report_tell(&nws->weather->report, WEATHER_BAD_TIME, nws->where,
                        "a validTime like 2026-01-11T06:00:00+00:00/PT6H, in whole hours",
                        "\"%.60s\"",
                        json_is_string(json_object_get(item, "validTime"))
                            ? json_string_value(json_object_get(item, "validTime"))
                            : "");
            continue;
        }
        if (!json_is_number(value)) {
            (void)missing(nws);
            continue;
        }
        double figure = in_unit(nws, json_number_value(value), unit, layers[l].figure);
        if (isnan(figure)) continue;
        if (layers[l].figure == FIGURE_RAIN) figure /= hours;
        for (int h = 0; status == STATUS_OK && h < hours; h++) {
            struct row row = row_empty(at_s + (int64_t)h * HOUR_S, i + 1, nws->weather);
            row.figures[layers[l].figure] = figure;
            status = row_add(nws->weather, &row, fault);
        }
    }
    return status;
}

static enum status read_root(struct nws *nws, json_t *root, struct fault *fault)
{
    json_t *properties = json_object_get(root, "properties");
    json_t *periods = json_object_get(properties, "periods");
    int64_t made_s = 0;
    if (read_instant(&made_s, json_object_get(properties, "updateTime")) ||
        read_instant(&made_s, json_object_get(properties, "generatedAt"))) {
        if (made_s > nws->weather->made_s) nws->weather->made_s = made_s;
    }
    if (json_is_array(periods) && json_array_size(periods) > 0) {
        return read_periods(nws, properties, periods, fault);
    }
    enum status status = STATUS_OK;
    bool any = false;
    for (size_t l = 0; status == STATUS_OK && l < LAYERS; l++) {
        json_t *layer = json_object_get(properties, layers[l].name);
        if (!json_is_array(json_object_get(layer, "values"))) continue;
        any = true;
        status = read_layer(nws, layer, l, fault);
    }
    if (any) return status;
    fault_set(fault, nws->input->source->name,
              "properties.periods of an hourly forecast, or the layers of a grid point",
              periods == NULL ? "neither" : "no periods");
    return STATUS_INVALID;
}

enum status import_nws(struct weather *weather, struct input *input, struct fault *fault)
{
    struct text bytes = TEXT_UP_TO(WEATHER_JSON_BYTES_MAX + INPUT_BLOCK_BYTES);
    struct faults faults = {0};
    json_t *root = NULL;
    enum status status = input_rest(input, &bytes, WEATHER_JSON_BYTES_MAX, fault);
    if (status == STATUS_OK) {
        status = intake_parse(&root, text_z(&bytes), bytes.length, &faults);
        if (status != STATUS_OK && faults.count > 0) {
            char where[INPUT_WHERE_MAX];
            (void)snprintf(where, sizeof where, "%.60s %.100s", input->source->name,
                           faults.items[0].path);
            fault_set(fault, where, faults.items[0].wanted, "%s", faults.items[0].found);
        }
    }
    struct nws nws = {.weather = weather, .input = input};
    if (status == STATUS_OK) status = read_root(&nws, root, fault);
    json_decref(root);
    faults_free(&faults);
    text_free(&bytes);
    return status;
}
