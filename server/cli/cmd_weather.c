/* SPDX-License-Identifier: MIT */
/*
 * Why: see cmd_weather.h. The file is read and judged whole before the store is opened for writing,
 * so that a refused file costs the store nothing. The report goes to stderr, answers to stdout.
 */
#include "cli/cmd_weather.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "app/app_record.h"
#include "app/app_station.h"
#include "app/app_view.h"
#include "base/instant.h"
#include "base/limits.h"
#include "cli/db_words.h"
#include "cli/weather_words.h"
#include "rulebook/rulebook.h"
#include "weather/weather.h"

#include "base/banned.h"

enum { REPORT_BYTES_MAX = 262144, EVERY_MINUTES = 30, MINUTES_MAX = 1440, HOUR_S = 3600 };

/* What a call has in hand; each member freed by let_go. */
struct errand {
    struct weather_words words;
    struct weather_options options;
    struct weather_range range;
    enum weather_kind kind;
    int64_t every_s;
    int64_t now_s;
    struct zone *zone;
    char only[WEATHER_COLUMN_NAME_MAX * 2];
    struct weather *weather;
    struct app *app;
    struct faults faults;
    struct text text;
};

static void let_go(struct errand *errand)
{
    weather_free(errand->weather);
    app_close(errand->app);
    zone_free(errand->zone);
    faults_free(&errand->faults);
    text_free(&errand->text);
}

static int wrong(const char *option, const char *found, const char *wanted)
{
    (void)fprintf(stderr, "%s: found \"%s\", wanted %s\n", option, found == NULL ? "" : found,
                  wanted);
    return EX_USAGE;
}

static int said(enum status status, const struct fault *fault)
{
    (void)fprintf(stderr, "%s: found %s, wanted %s\n",
                  fault->path[0] != '\0' ? fault->path : "weather", fault->found, fault->wanted);
    return status_exit(status);
}

static int print_text(struct text *text)
{
    const enum status status = text_status(text);
    if (status != STATUS_OK) {
        (void)fputs("weather: found a longer answer than 256 MiB, wanted fewer hours\n", stderr);
        return status_exit(status);
    }
    if (fwrite(text_z(text), 1, text->length, stdout) == text->length &&
        fputc('\n', stdout) != EOF && fflush(stdout) == 0) {
        return EX_OK;
    }
    (void)fprintf(stderr, "stdout: %s\n", strerror(errno));
    return EX_IOERR;
}

/* A number of the command line in [least, most]; absent: `otherwise`. */
static bool number(double *out, const char *option, const char *text, double least, double most,
                   double otherwise)
{
    char wanted[80];
    *out = otherwise;
    if (text == NULL) return true;
    if (weather_number(out, text) && *out >= least && *out <= most) return true;
    (void)snprintf(wanted, sizeof wanted, "a number from %g to %g", least, most);
    (void)wrong(option, text, wanted);
    return false;
}

/* --- the words, read into options ----------------------------------------------------------- */

static int read_only_option(struct errand *errand)
{
    const char *only = errand->words.only;
    const char *equals = only == NULL ? NULL : strchr(only, '=');
    if (only == NULL) return EX_OK;
    if (equals == NULL || equals == only || strlen(only) >= sizeof errand->only) {
        return wrong("--only", only, "COLUMN=VALUE");
    }
    memcpy(errand->only, only, strlen(only) + 1);
    errand->only[equals - only] = '\0';
    errand->options.only_column = errand->only;
    errand->options.only_value = errand->only + (equals - only) + 1;
    return EX_OK;
}

static int read_numbers(struct errand *errand)
{
    const struct weather_words *words = &errand->words;
    struct weather_options *options = &errand->options;
    const double nowhere = (double)NAN;
    double year = 0;
    double every = 0;
    if (!number(&options->latitude_deg, "--latitude", words->latitude, -90, 90, nowhere) ||
        !number(&options->longitude_deg, "--longitude", words->longitude, -180, 180, nowhere) ||
        !number(&year, "--year", words->year, 1970, WEATHER_LAST_YEAR, 0) ||
        !number(&every, "--every", words->every, 0, MINUTES_MAX, EVERY_MINUTES)) {
        return EX_USAGE;
    }
    if (year != floor(year)) return wrong("--year", words->year, "a whole year");
    options->typical_year = (int)year;
    errand->every_s = (int64_t)lround(every * 60);
    return EX_OK;
}

static int read_logger_words(const struct errand *errand)
{
    const struct weather_words *words = &errand->words;
    const bool logger = errand->options.format == WEATHER_LOGGER;
    if (!logger && (words->part != NULL || words->how != NULL || words->job != NULL)) {
        return wrong("--format", words->format, "logger beside --part, --how or --job");
    }
    if (!logger) return EX_OK;
    if (words->part == NULL || id_find(&part_ids, words->part) < 0) {
        return wrong("--part", words->part, "a part: pad, footing, joints, bed, lining, unit, air");
    }
    const int how = words->how == NULL ? HOW_PROBE : id_find(&reading_how_ids, words->how);
    if (how != HOW_PROBE && how != HOW_SURFACE && how != HOW_AIR && how != HOW_THERMOSTAT) {
        return wrong("--how", words->how, "probe, surface, air or thermostat");
    }
    if (words->job == NULL && !words->dry_run) return wrong("--job", NULL, "the job's id");
    return words->kind == NULL ? EX_OK : wrong("--kind", words->kind, "nothing beside logger");
}

/* The kind a format is by itself: forecasts are forecasts, long records are past years. */
static int read_kind(struct errand *errand)
{
    static const enum weather_kind usual[WEATHER_FORMAT_COUNT] = {
        [WEATHER_CSV] = WEATHER_OBSERVED,     [WEATHER_GHCN_DLY] = WEATHER_HISTORY,
        [WEATHER_GHCN_CSV] = WEATHER_HISTORY, [WEATHER_NWS] = WEATHER_FORECAST,
        [WEATHER_EPW] = WEATHER_HISTORY,      [WEATHER_LOGGER] = WEATHER_OBSERVED,
    };
    errand->kind = usual[errand->options.format];
    if (errand->words.kind != NULL) errand->kind = weather_kind_find(errand->words.kind);
    if (errand->kind == WEATHER_KIND_COUNT) {
        return wrong("--kind", errand->words.kind, "observed, forecast or history");
    }
    if (errand->options.format == WEATHER_NWS && errand->kind != WEATHER_FORECAST) {
        return wrong("--kind", errand->words.kind, "forecast: nws files hold nothing else");
    }
    errand->options.past = errand->kind != WEATHER_FORECAST;
    return EX_OK;
}

static int read_settings(struct errand *errand)
{
    struct rulebook *book = NULL;
    if (rulebook_load_shipped(&book, "modular-masonry", &errand->faults) != STATUS_OK) {
        db_words_faults(&errand->faults);
        return EX_CONFIG;
    }
    errand->options.diurnal = (struct diurnal_constants){
        .lag_max_h = rulebook_setting(book, SETTING_DIURNAL_PEAK_LAG_H),
        .night_coefficient = rulebook_setting(book, SETTING_DIURNAL_NIGHT_FALL),
        .lag_min_h = rulebook_setting(book, SETTING_DIURNAL_MIN_LAG_H),
        .form = DIURNAL_PAPER,
    };
    rulebook_free(book);
    return EX_OK;
}

static int read_words(struct errand *errand)
{
    const struct weather_words *words = &errand->words;
    struct weather_options *options = &errand->options;
    const char *format = words->format == NULL ? "" : words->format;
    const bool stores = !words->dry_run && !words->print;
    options->format = weather_format_find(format);
    if (options->format == WEATHER_FORMAT_COUNT) {
        return wrong("--format", format, "csv, ghcn-dly, ghcn-csv, nws, epw or logger");
    }
    if (words->file_count == 0) return wrong("FILE", "", "at least one file, - for stdin");
    if (stores && (words->db == NULL || words->db[0] == '\0')) {
        return wrong("--db", "", "a store, or --print or --dry-run");
    }
    if (stores && options->format != WEATHER_LOGGER && words->station == NULL) {
        return wrong("--station", "", "the station's id");
    }
    options->columns = words->columns;
    options->keep_good = words->keep_good;
    options->keep_questioned = words->keep_questioned;
    options->morning_observer = words->morning_observer;
    options->now_s = errand->now_s;
    int answer = read_numbers(errand);
    if (answer == EX_OK) answer = read_only_option(errand);
    if (answer == EX_OK) answer = read_logger_words(errand);
    if (answer == EX_OK) answer = read_kind(errand);
    if (answer == EX_OK) answer = read_settings(errand);
    if (answer != EX_OK || words->zone == NULL) return answer;
    struct fault fault = {0};
    const enum status status = zone_load(&errand->zone, words->zone, &fault);
    options->zone = errand->zone;
    return status == STATUS_OK ? EX_OK : wrong("--zone", words->zone, "an IANA zone");
}

/* --- reading the files ---------------------------------------------------------------------- */

static long read_stream(void *context, char *out, size_t capacity)
{
    FILE *file = context;
    const size_t count = fread(out, 1, capacity, file);
    return count == 0 && ferror(file) != 0 ? -1 : (long)count;
}

static int read_one(struct errand *errand, const char *path)
{
    const bool standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    if (file == NULL) {
        (void)fprintf(stderr, "%s: %s\n", path, strerror(errno));
        return EX_NOINPUT;
    }
    const char *slash = strrchr(path, '/');
    const struct weather_source source = {standard        ? "stdin"
                                          : slash == NULL ? path
                                                          : slash + 1,
                                          read_stream, file};
    struct fault fault = {0};
    const enum status status = weather_read(errand->weather, &source, &fault);
    if (!standard) (void)fclose(file);
    return status == STATUS_OK ? EX_OK : said(status, &fault);
}

static void print_report(const struct errand *errand)
{
    struct text text = TEXT_UP_TO(REPORT_BYTES_MAX);
    weather_report_text(&text, errand->weather);
    (void)fputs(text_z(&text), stderr);
    text_free(&text);
}

static int read_files(struct errand *errand)
{
    struct fault fault = {0};
    enum status status = weather_new(&errand->weather, &errand->options, &fault);
    if (status != STATUS_OK) return said(status, &fault);
    for (size_t i = 0; i < errand->words.file_count; i++) {
        const int answer = read_one(errand, errand->words.files[i]);
        if (answer != EX_OK) return answer;
    }
    status = weather_finish(errand->weather, &fault);
    if (errand->options.format == WEATHER_LOGGER && status == STATUS_OK) {
        weather_records_json(&errand->text, errand->weather,
                             errand->words.job == NULL ? "" : errand->words.job, errand->words.part,
                             errand->words.how == NULL ? "probe" : errand->words.how,
                             errand->every_s);
    }
    print_report(errand);
    return status == STATUS_OK ? EX_OK : said(status, &fault);
}

/* --- the store ------------------------------------------------------------------------------ */

static enum status open_store(struct errand *errand, bool read_only)
{
    const struct app_options options = {.path = errand->words.db,
                                        .create = errand->words.create,
                                        .read_only = read_only,
                                        .now_s = errand->now_s};
    return app_open(&errand->app, &options, &errand->faults);
}

/* What the store knows of the station already: its range, and its place unless that was given. */
static int know_from_store(struct errand *errand)
{
    if (errand->words.station == NULL || errand->words.db == NULL || errand->words.dry_run ||
        errand->words.print || errand->options.format == WEATHER_LOGGER) {
        return EX_OK;
    }
    const bool here = !isnan(errand->options.latitude_deg) && !isnan(errand->options.longitude_deg);
    if (here && errand->words.create)
        return EX_OK; /* no store is made for a file that is refused */
    struct app_view *view = NULL;
    enum status status = open_store(errand, false);
    if (status == STATUS_OK) status = app_view_take(&view, errand->app, &errand->faults);
    if (status == STATUS_OK) {
        const struct station *station = app_view_station(view, errand->words.station);
        if (station != NULL && isnan(errand->options.latitude_deg)) {
            errand->options.latitude_deg = station->latitude_deg;
        }
        if (station != NULL && isnan(errand->options.longitude_deg)) {
            errand->options.longitude_deg = station->longitude_deg;
        }
        if (station != NULL) {
            weather_range_of(&errand->range, station);
            errand->options.range = &errand->range;
        }
    }
    app_view_release(view);
    db_words_faults(&errand->faults);
    return status == STATUS_OK ? EX_OK : status_exit(status);
}

static struct station make_station(const struct errand *errand, struct series *history)
{
    struct station station = {.id = errand->words.station, .forecast_made_s = INSTANT_NONE};
    weather_place(errand->weather, &station.latitude_deg, &station.longitude_deg);
    if (errand->kind == WEATHER_OBSERVED) station.observed = *weather_series(errand->weather);
    if (errand->kind == WEATHER_FORECAST) {
        station.forecast = *weather_series(errand->weather);
        station.forecast_made_s = weather_made_s(errand->weather);
    }
    *history = *weather_series(errand->weather);
    station.history = history;
    station.history_count = errand->kind == WEATHER_HISTORY && history->count > 0;
    return station;
}

static enum status store_readings(struct errand *errand)
{
    const struct app_added *added = NULL;
    size_t count = 0;
    size_t created = 0;
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    enum status status = errand->app == NULL ? open_store(errand, false) : STATUS_OK;
    if (status == STATUS_OK) {
        status =
            app_records_add(&added, &count, errand->app, errand->words.job, text_z(&errand->text),
                            errand->text.length, NULL, errand->now_s, arena, &errand->faults);
    }
    for (size_t i = 0; status == STATUS_OK && i < count; i++) created += added[i].created;
    arena_free(arena);
    if (status == STATUS_OK)
        (void)printf("%zu new readings, %zu known\n", created, count - created);
    return status;
}

static int finish_import(struct errand *errand)
{
    struct series history = {0};
    const bool logger = errand->options.format == WEATHER_LOGGER;
    if (errand->words.dry_run) return EX_OK;
    const struct station station = make_station(errand, &history);
    if (!logger && weather_series(errand->weather)->count == 0) {
        (void)fputs("weather: found no hour from 1970 on, wanted at least one\n", stderr);
        return EX_DATAERR;
    }
    if (weather_is_typical(errand->weather) && errand->kind != WEATHER_HISTORY) {
        (void)fputs("weather: found a typical year put together out of several, wanted --kind "
                    "history: nobody observed it\n",
                    stderr);
        return EX_DATAERR;
    }
    if (errand->words.print) {
        if (!logger) weather_station_json(&errand->text, &station);
        return print_text(&errand->text);
    }
    enum status status = STATUS_OK;
    if (logger) {
        status = store_readings(errand);
    } else {
        if (errand->app == NULL) status = open_store(errand, false);
        if (status == STATUS_OK) status = app_station_put(errand->app, &station, &errand->faults);
        if (status == STATUS_OK) {
            (void)printf("%zu hours %s of station %s stored\n",
                         weather_report(errand->weather)->hours, weather_kind_name(errand->kind),
                         errand->words.station);
        }
    }
    db_words_faults(&errand->faults);
    return status == STATUS_OK ? EX_OK : status_exit(status);
}

/* --- show ----------------------------------------------------------------------------------- */

static bool read_bound(int64_t *out, const char *option, const char *text, int64_t otherwise)
{
    struct fault fault = {0};
    *out = otherwise;
    if (text == NULL || instant_parse(out, text, strlen(text), &fault) == STATUS_OK) return true;
    (void)wrong(option, text, "a time as RFC 3339, with its offset");
    return false;
}

/* The hours of a series that lie in [from_s, to_s). */
static struct series cut(const struct series *series, int64_t from_s, int64_t to_s)
{
    struct series out = *series;
    const int64_t count = (int64_t)series->count;
    int64_t first =
        from_s <= series->start_s ? 0 : (from_s - series->start_s + HOUR_S - 1) / HOUR_S;
    int64_t end = to_s <= series->start_s ? 0 : (to_s - series->start_s + HOUR_S - 1) / HOUR_S;
    if (end > count) end = count;
    if (first > end) first = end;
    out.start_s += first * HOUR_S;
    out.count = (size_t)(end - first);
    if (out.temp_degc != NULL) out.temp_degc += first;
    if (out.rain_mm != NULL) out.rain_mm += first;
    if (out.rh_pct != NULL) out.rh_pct += first;
    if (out.wind_mps != NULL) out.wind_mps += first;
    if (out.gust_mps != NULL) out.gust_mps += first;
    return out;
}

static int show_station(struct errand *errand, const struct station *station, int64_t from_s,
                        int64_t to_s)
{
    struct series history[HISTORY_YEARS_MAX];
    struct station shown = *station;
    shown.observed = cut(&station->observed, from_s, to_s);
    shown.forecast = cut(&station->forecast, from_s, to_s);
    shown.history = history;
    shown.history_count = 0;
    for (size_t i = 0; i < station->history_count && i < HISTORY_YEARS_MAX; i++) {
        history[shown.history_count] = cut(&station->history[i], from_s, to_s);
        shown.history_count += history[shown.history_count].count > 0;
    }
    weather_station_json(&errand->text, &shown);
    return print_text(&errand->text);
}

static int show(struct errand *errand)
{
    const struct weather_words *words = &errand->words;
    int64_t from_s = 0;
    int64_t to_s = 0;
    if (words->db == NULL || words->db[0] == '\0') return wrong("--db", "", "a store");
    if (words->station == NULL) return wrong("--station", "", "the station's id");
    if (!read_bound(&from_s, "--from", words->from, INSTANT_MIN_S) ||
        !read_bound(&to_s, "--to", words->to, INSTANT_MAX_S)) {
        return EX_USAGE;
    }
    struct app_view *view = NULL;
    enum status status = open_store(errand, true);
    if (status == STATUS_OK) status = app_view_take(&view, errand->app, &errand->faults);
    db_words_faults(&errand->faults);
    int answer = status_exit(status);
    if (status == STATUS_OK) {
        const struct station *station = app_view_station(view, words->station);
        if (station != NULL) {
            answer = show_station(errand, station, from_s, to_s);
        } else {
            (void)fprintf(stderr, "--station: found no station \"%s\", wanted one of the store\n",
                          words->station);
            answer = status_exit(STATUS_NOT_FOUND);
        }
    }
    app_view_release(view);
    return answer;
}

int cmd_weather(int argc, char **argv)
{
    struct errand errand = {.now_s = db_words_now(), .text = TEXT_UP_TO(CASE_BYTES_MAX)};
    if (!weather_words_read(&errand.words, argc, argv)) {
        weather_words_usage();
        return EX_USAGE;
    }
    int answer = EX_OK;
    if (errand.words.show) {
        answer = show(&errand);
    } else {
        answer = read_words(&errand);
        if (answer == EX_OK) answer = know_from_store(&errand);
        if (answer == EX_OK) answer = read_files(&errand);
        if (answer == EX_OK) answer = finish_import(&errand);
    }
    let_go(&errand);
    return answer;
}
