/* SPDX-License-Identifier: MIT */
/*
 * Why: the answers as JSON, in the shapes that the case file and the server already take, so that
 * an import can be looked at before it is stored, or sent to a store on another machine.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/json.h"
#include "base/limits.h"
#include "weather/import.h"

#include "base/banned.h"

static const char *const kind_names[WEATHER_KIND_COUNT] = {"observed", "forecast", "history"};

const char *weather_kind_name(enum weather_kind kind)
{
    return kind_names[kind];
}

enum weather_kind weather_kind_find(const char *word)
{
    enum weather_kind kind = WEATHER_OBSERVED;
    while (kind < WEATHER_KIND_COUNT && strcmp(kind_names[kind], word) != 0) kind++;
    return kind;
}

static void put_series(struct json *json, const char *key, const struct series *series,
                       int64_t made_s)
{
    const struct {
        const char *name;
        const double *values;
        int decimals;
    } columns[] = {
        {"temp_degc", series->temp_degc, 2}, {"rain_mm", series->rain_mm, 4},
        {"rh_pct", series->rh_pct, 1},       {"wind_mps", series->wind_mps, 2},
        {"gust_mps", series->gust_mps, 2},
    };
    json_open_object(json, key);
    json_put_instant(json, "start", series->start_s, NULL);
    if (made_s != INSTANT_NONE) json_put_instant(json, "made", made_s, NULL);
    for (size_t c = 0; c < sizeof columns / sizeof *columns; c++) {
        if (columns[c].values == NULL) continue;
        json_open_array(json, columns[c].name);
        for (size_t i = 0; i < series->count; i++) {
            json_put_fixed(json, NULL, columns[c].values[i], columns[c].decimals);
        }
        json_close(json);
    }
    json_close(json);
}

void weather_station_json(struct text *out, const struct station *station)
{
    struct json json = {.text = out};
    json_open_object(&json, NULL);
    if (station->name != NULL) json_put_text(&json, "name", station->name);
    if (!isnan(station->latitude_deg)) json_put_number(&json, "latitude", station->latitude_deg);
    if (!isnan(station->longitude_deg)) json_put_number(&json, "longitude", station->longitude_deg);
    if (station->observed.count > 0) {
        put_series(&json, "observed", &station->observed, INSTANT_NONE);
    }
    if (station->forecast.count > 0) {
        put_series(&json, "forecast", &station->forecast, station->forecast_made_s);
    }
    if (station->history_count > 0) {
        json_open_array(&json, "history");
        for (size_t i = 0; i < station->history_count; i++) {
            put_series(&json, NULL, &station->history[i], INSTANT_NONE);
        }
        json_close(&json);
    }
    json_close(&json);
}

/* FNV-1a, 64 bits: a name for job, part and how that is the same on every machine. */
static uint64_t name_of(const char *job, const char *part, const char *how)
{
    const char *const texts[] = {job, part, how};
    uint64_t hash = 0xcbf29ce484222325u;
    for (size_t t = 0; t < sizeof texts / sizeof *texts; t++) {
        for (const char *c = texts[t];; c++) {
            hash = (hash ^ (unsigned char)*c) * 0x100000001b3u;
            if (*c == '\0') break;
        }
    }
    return hash;
}

void weather_records_json(struct text *out, struct weather *weather, const char *job,
                          const char *part, const char *how, int64_t every_s)
{
    const struct weather_reading *readings = weather->readings;
    const uint64_t name = name_of(job, part, how);
    struct json json = {.text = out};
    json_open_array(&json, NULL);
    for (size_t i = 0; i < weather->reading_count;) {
        size_t coldest = i;
        size_t next = i + 1;
        while (every_s > 0 && next < weather->reading_count &&
               readings[next].at_s / every_s == readings[i].at_s / every_s) {
            if (readings[next].temp_degc < readings[coldest].temp_degc) coldest = next;
            report_count(&weather->report, WEATHER_THINNED, 1);
            next++;
        }
        char id[ID_BYTES_MAX + 1];
        (void)snprintf(id, sizeof id, "logger-%016llx-%lld", (unsigned long long)name,
                       (long long)readings[coldest].at_s);
        json_open_object(&json, NULL);
        json_put_text(&json, "id", id);
        json_put_text(&json, "kind", "reading");
        json_put_instant(&json, "at", readings[coldest].at_s, NULL);
        json_put_text(&json, "part", part);
        json_put_text(&json, "how", how);
        json_put_fixed(&json, "degc", readings[coldest].temp_degc, 2);
        json_close(&json);
        i = next;
    }
    json_close(&json);
}
