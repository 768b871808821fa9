/* SPDX-License-Identifier: MIT */
/*
 * Why: hours of weather. A missing hour is null and becomes NAN; a figure out of the bounds of any
 * weather on record is refused rather than counted (a station that says 700 degC is broken).
 */
#include <math.h>
#include <string.h>

#include "base/limits.h"
#include "intake/field.h"
#include "model/series.h"

#include "base/banned.h"

enum { HOUR_S = 3600 };

/* The arrays of a series and what any weather on record can be. */
static const struct {
    const char *name;
    size_t offset;
    double least;
    double most;
} columns[] = {
    {"temp_degc", offsetof(struct series, temp_degc), -90.0, 70.0},
    {"rain_mm", offsetof(struct series, rain_mm), 0.0, 500.0},
    {"rh_pct", offsetof(struct series, rh_pct), 0.0, 100.0},
    {"wind_mps", offsetof(struct series, wind_mps), 0.0, 120.0},
    {"gust_mps", offsetof(struct series, gust_mps), 0.0, 120.0},
};
enum { COLUMNS = sizeof columns / sizeof *columns };

static enum status read_column(const struct intake *intake, const struct spot *spot, json_t *array,
                               double least, double most, double *out)
{
    enum status status = STATUS_OK;
    struct field field = {.type = FIELD_NUMBER, .least = least, .most = most};
    size_t count = json_array_size(array);
    for (size_t i = 0; i < count; i++) {
        json_t *value = json_array_get(array, i);
        if (json_is_null(value)) {
            out[i] = NAN;
            continue;
        }
        double number = json_is_number(value) ? json_number_value(value) : (double)NAN;
        if (number >= least && number <= most) {
            out[i] = number;
            continue;
        }
        struct spot here = {.up = spot, .index = i};
        status = field_worse(status, field_read(intake, &here, &field, value, &out[i]));
    }
    return status;
}

/* Reads the arrays that are there; all must have the length of the first. */
static enum status read_columns(const struct intake *intake, const struct spot *spot, json_t *json,
                                struct series *out)
{
    enum status status = STATUS_OK;
    const char *first = NULL;
    for (size_t c = 0; c < COLUMNS; c++) {
        json_t *array = json_object_get(json, columns[c].name);
        struct spot here = {.up = spot, .key = columns[c].name};
        if (array == NULL) continue;
        if (field_array(intake, &here, array, SERIES_SAMPLES_MAX, "hours") == NULL) {
            status = field_worse(status, STATUS_INVALID);
            continue;
        }
        size_t count = json_array_size(array);
        if (first == NULL) {
            first = columns[c].name;
            out->count = count;
        } else if (count != out->count) {
            status = field_worse(status,
                                 field_fault(intake, &here, NULL, "arrays of one length",
                                             "%zu hours, and %zu in %s", count, out->count, first));
            continue;
        }
        double *values = ARENA_TAKE(intake->arena, count, double);
        if (values == NULL) return field_no_memory(intake, &here);
        status = field_worse(
            status, read_column(intake, &here, array, columns[c].least, columns[c].most, values));
        memcpy((char *)out + columns[c].offset, &values, sizeof values);
    }
    return status;
}

/* `start` and `made`, beside the arrays. */
struct series_head {
    int64_t start_s;
    int64_t made_s;
};

static enum status read_series(const struct intake *intake, const struct spot *spot, json_t *json,
                               bool forecast, struct series *out, int64_t *made_s)
{
    static const struct field fields[] = {
        {"start", FIELD_INSTANT, .required = true, .offset = offsetof(struct series_head, start_s)},
        {"temp_degc", FIELD_JSON, .required = false},
        {"rain_mm", FIELD_JSON, .required = false},
        {"rh_pct", FIELD_JSON, .required = false},
        {"wind_mps", FIELD_JSON, .required = false},
        {"gust_mps", FIELD_JSON, .required = false},
        {"made", FIELD_INSTANT, .offset = offsetof(struct series_head, made_s)},
    };
    struct series_head head = {INSTANT_NONE, INSTANT_NONE};
    struct series series = {.count = 0};
    size_t count = sizeof fields / sizeof *fields - (forecast ? 0 : 1);
    enum status status = field_read_object(intake, spot, json, fields, count, &head);
    if (!json_is_object(json)) return status;
    if (head.start_s != INSTANT_NONE && head.start_s % HOUR_S != 0) {
        status = field_worse(status, field_fault_value(intake, spot, "start", "a whole UTC hour",
                                                       json_object_get(json, "start")));
    }
    series.start_s = head.start_s;
    status = field_worse(status, read_columns(intake, spot, json, &series));
    if (head.start_s != INSTANT_NONE &&
        head.start_s + (int64_t)series.count * HOUR_S > INSTANT_MAX_S) {
        status = field_worse(status, field_fault(intake, spot, NULL, "hours that end before 2200",
                                                 "%zu hours", series.count));
    }
    if (status != STATUS_OK) return status;
    *out = series;
    if (made_s != NULL) *made_s = head.made_s;
    return STATUS_OK;
}

enum status intake_series(struct series *out, int64_t *out_made_s, json_t *json, const char *path,
                          const struct intake *intake)
{
    struct spot spot = {.key = path};
    return read_series(intake, &spot, json, out_made_s != NULL, out, out_made_s);
}

static enum status read_history(const struct intake *intake, const struct spot *spot, json_t *array,
                                struct station *out)
{
    if (field_array(intake, spot, array, HISTORY_YEARS_MAX, "past years") == NULL) {
        return STATUS_INVALID;
    }
    size_t count = json_array_size(array);
    out->history = ARENA_TAKE(intake->arena, count, struct series);
    if (out->history == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        status = field_worse(status, read_series(intake, &here, json_array_get(array, i), false,
                                                 &out->history[i], NULL));
    }
    out->history_count = count;
    return status;
}

enum status intake_station(struct station *out, const char *id, json_t *json, const char *path,
                           const struct intake *intake)
{
    static const struct field fields[] = {
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct station, name)},
        {"latitude", FIELD_NUMBER, .nullable = true, .least = -90, .most = 90,
         .offset = offsetof(struct station, latitude_deg)},
        {"longitude", FIELD_NUMBER, .nullable = true, .least = -180, .most = 180,
         .offset = offsetof(struct station, longitude_deg)},
        {"observed", FIELD_JSON, .required = false},
        {"forecast", FIELD_JSON, .required = false},
        {"history", FIELD_JSON, .required = false},
    };
    struct spot spot = {.key = path};
    struct station station = {
        .latitude_deg = NAN, .longitude_deg = NAN, .forecast_made_s = INSTANT_NONE};
    enum status status = STATUS_OK;
    size_t length = strlen(id);
    if (length == 0 || length > ID_BYTES_MAX) {
        status = field_fault(intake, &spot, NULL, "a station id of 1 to 80 bytes",
                             "an id of %zu bytes", length);
    }
    station.id = arena_copy(intake->arena, id, length);
    if (station.id == NULL) return field_no_memory(intake, &spot);
    status = field_worse(status, field_read_object(intake, &spot, json, fields,
                                                   sizeof fields / sizeof *fields, &station));
    json_t *observed = json_object_get(json, "observed");
    json_t *forecast = json_object_get(json, "forecast");
    json_t *history = json_object_get(json, "history");
    struct spot here = {.up = &spot, .key = "observed"};
    if (observed != NULL) {
        status = field_worse(status,
                             read_series(intake, &here, observed, false, &station.observed, NULL));
    }
    here.key = "forecast";
    if (forecast != NULL) {
        status = field_worse(status, read_series(intake, &here, forecast, true, &station.forecast,
                                                 &station.forecast_made_s));
    }
    if (station.forecast_made_s == INSTANT_NONE && station.forecast.count > 0)
        station.forecast_made_s = station.forecast.start_s; /* it cannot have been made later */
    here.key = "history";
    if (history != NULL) {
        status = field_worse(status, read_history(intake, &here, history, &station));
    }
    if (status == STATUS_OK) *out = station;
    return status;
}
