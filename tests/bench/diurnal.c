/* SPDX-License-Identifier: MIT */
/*
 * bench_diurnal DAYS.csv HOURS.csv LATITUDE LONGITUDE [WORD=VALUE...]: hours made out of daily
 * minima and maxima, held against hours that were measured, by Parton & Logan and, in the same run
 * on the same hours, by the plain cosine (minimum 06, maximum 15 local standard time).
 *
 *   days=MAP hours=MAP   column maps of the two files, as `emberwait weather import --columns`
 *   only=COLUMN=VALUE    rows of DAYS.csv
 *   offset=H             local standard time, h from UTC, of the baseline; default longitude / 15
 *   a= b= c=             other constants than the rulebook's
 *
 * Readings that the importer questions are left out of both. Prints bias, MAE and RMSE in degC, by
 * hour of the day when `hourly=1`. Asserts nothing.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/record.h"
#include "rulebook/rulebook.h"
#include "weather/weather.h"

enum { HOUR_S = 3600, DAY_S = 86400, DAY_HOURS = 24 };

#define PI 3.14159265358979323846

struct sums {
    double sum;
    double absolute;
    double square;
    long count;
};

static void add(struct sums *sums, double difference)
{
    sums->sum += difference;
    sums->absolute += fabs(difference);
    sums->square += difference * difference;
    sums->count++;
}

static void tell(const char *name, const struct sums *sums)
{
    const double n = (double)sums->count;
    printf("%-18s %6ld hours  bias %+.2f  MAE %.2f  RMSE %.2f degC\n", name, sums->count,
           sums->sum / n, sums->absolute / n, sqrt(sums->square / n));
}

/* --- reading -------------------------------------------------------------------------------- */

static long read_stream(void *context, char *out, size_t capacity)
{
    return (long)fread(out, 1, capacity, context);
}

static struct weather *read_file(const char *path, const struct weather_options *options)
{
    struct weather *weather = NULL;
    struct fault fault = {.path = ""};
    FILE *file = fopen(path, "rb");
    const struct weather_source source = {path, read_stream, file};
    if (file == NULL) {
        perror(path);
        exit(66);
    }
    if (weather_new(&weather, options, &fault) != STATUS_OK ||
        weather_read(weather, &source, &fault) != STATUS_OK ||
        weather_finish(weather, &fault) != STATUS_OK) {
        fprintf(stderr, "%s: found %s, wanted %s\n", fault.path, fault.found, fault.wanted);
        exit(65);
    }
    fclose(file);
    return weather;
}

static const char *word(int argc, char **argv, const char *name)
{
    const size_t length = strlen(name);
    for (int i = 5; i < argc; i++) {
        if (strncmp(argv[i], name, length) == 0 && argv[i][length] == '=')
            return argv[i] + length + 1;
    }
    return NULL;
}

static double number_word(int argc, char **argv, const char *name, double otherwise)
{
    const char *text = word(argc, argv, name);
    double value = otherwise;
    if (text != NULL && !weather_number(&value, text)) {
        fprintf(stderr, "%s: found \"%s\", wanted a number\n", name, text);
        exit(64);
    }
    return value;
}

static struct diurnal_constants constants_of(int argc, char **argv)
{
    struct rulebook *book = NULL;
    struct faults faults = {0};
    if (rulebook_load_shipped(&book, "modular-masonry", &faults) != STATUS_OK) exit(78);
    const struct diurnal_constants constants = {
        number_word(argc, argv, "a", rulebook_setting(book, SETTING_DIURNAL_PEAK_LAG_H)),
        number_word(argc, argv, "b", rulebook_setting(book, SETTING_DIURNAL_NIGHT_FALL)),
        number_word(argc, argv, "c", rulebook_setting(book, SETTING_DIURNAL_MIN_LAG_H)),
        DIURNAL_PAPER,
    };
    rulebook_free(book);
    return constants;
}

/* --- the baseline --------------------------------------------------------------------------- */

static double day_of(const struct weather_days *days, const double *column, int64_t day)
{
    const int64_t i = day - days->first_day;
    return i < 0 || i >= (int64_t)days->count ? (double)NAN : column[i];
}

/* Half cosines between the minimum at 06 and the maximum at 15 of local standard time. */
static double cosine_at(const struct weather_days *days, int64_t at_s, double offset_h)
{
    const int64_t local_s = at_s + llround(offset_h * HOUR_S);
    const int64_t day = zone_floor_div(local_s, DAY_S);
    const double hour = (double)(local_s - day * DAY_S) / HOUR_S;
    const double min = day_of(days, days->min_degc, day);
    const double max = day_of(days, days->max_degc, day);
    double from = min;
    double to = max;
    double part = (hour - 6.0) / 9.0;
    if (hour < 6.0) {
        from = day_of(days, days->max_degc, day - 1);
        to = min;
        part = (hour + 9.0) / 15.0;
    } else if (hour > 15.0) {
        from = max;
        to = day_of(days, days->min_degc, day + 1);
        part = (hour - 15.0) / 15.0;
    }
    return from + (to - from) * 0.5 * (1.0 - cos(PI * part));
}

int main(int argc, char **argv)
{
    struct weather_options options = {.format = WEATHER_CSV, .now_s = INSTANT_NONE};
    if (argc < 5 || !weather_number(&options.latitude_deg, argv[3]) ||
        !weather_number(&options.longitude_deg, argv[4])) {
        fprintf(stderr,
                "usage: bench_diurnal DAYS.csv HOURS.csv LATITUDE LONGITUDE [WORD=VALUE...]\n");
        return 64;
    }
    const double offset_h = number_word(argc, argv, "offset", round(options.longitude_deg / 15.0));
    options.diurnal = constants_of(argc, argv);
    options.columns = word(argc, argv, "hours");
    struct weather *measured = read_file(argv[2], &options);
    char only[128] = "";
    const char *rows = word(argc, argv, "only");
    if (rows != NULL && strchr(rows, '=') != NULL && strlen(rows) < sizeof only) {
        memcpy(only, rows, strlen(rows) + 1);
        *strchr(only, '=') = '\0';
        options.only_column = only;
        options.only_value = only + strlen(only) + 1;
    }
    options.columns = word(argc, argv, "days");
    struct weather *daily = read_file(argv[1], &options);

    const struct weather_days *days = weather_days(daily);
    const struct series *hours = weather_series(measured);
    struct sums curve = {0};
    struct sums cosine = {0};
    struct sums by_hour[DAY_HOURS] = {{0}};
    for (size_t i = 0; i < hours->count && hours->temp_degc != NULL; i++) {
        const int64_t at_s = hours->start_s + (int64_t)i * HOUR_S;
        const double seen = hours->temp_degc[i];
        const double made = weather_days_at(days, at_s, options.latitude_deg, options.longitude_deg,
                                            &options.diurnal);
        const double plain = cosine_at(days, at_s, offset_h);
        if (isnan(seen) || isnan(made) || isnan(plain)) continue;
        add(&curve, made - seen);
        add(&cosine, plain - seen);
        const int64_t local_h = zone_floor_div(at_s, HOUR_S) + llround(offset_h);
        add(&by_hour[((local_h % DAY_HOURS) + DAY_HOURS) % DAY_HOURS], made - seen);
    }
    if (curve.count == 0) {
        fprintf(stderr, "found no hour in both files\n");
        return 65;
    }
    printf("constants a %.2f b %.2f c %.2f; %zu readings questioned and left out\n",
           options.diurnal.lag_max_h, options.diurnal.night_coefficient, options.diurnal.lag_min_h,
           weather_report(measured)->counts[WEATHER_QUESTIONED]);
    tell("Parton & Logan", &curve);
    tell("cosine 06/15", &cosine);
    printf("ratio of RMSE      %.3f\n",
           sqrt(curve.square / (double)curve.count) / sqrt(cosine.square / (double)cosine.count));
    for (int h = 0; h < DAY_HOURS && word(argc, argv, "hourly") != NULL; h++) {
        char name[16];
        snprintf(name, sizeof name, "hour %02d", h);
        tell(name, &by_hour[h]);
    }
    weather_free(daily);
    weather_free(measured);
    return 0;
}
