/* SPDX-License-Identifier: MIT */
/*
 * bench_import [YEARS]: YEARS (50) of GHCN-Daily lines, made here, imported from a file into hours,
 * beside a bare fread of the same file in the same run. Five rounds, medians; asserts nothing.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "model/record.h"
#include "weather/weather.h"

enum { ROUNDS = 5, BLOCK = 65536, LAST_YEAR = 2025, ELEMENTS = 12 };

static double now_s(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static void write_days(FILE *file, int years)
{
    static const char *const elements[ELEMENTS] = {"TMAX", "TMIN", "PRCP", "AWND", "SNOW", "SNWD",
                                                   "WDF2", "WDF5", "WSF2", "WSF5", "WT01", "WT16"};
    unsigned seed = 1;
    for (int year = LAST_YEAR - years + 1; year <= LAST_YEAR; year++) {
        for (int month = 1; month <= 12; month++) {
            for (int e = 0; e < ELEMENTS; e++) {
                fprintf(file, "XX000000001%04d%02d%s", year, month, elements[e]);
                for (int day = 1; day <= 31; day++) {
                    seed = seed * 1103515245u + 12345u;
                    const int noise = (int)(seed >> 16) % 60;
                    const int value = e == 0 ? 150 + noise : noise;
                    fprintf(file, "%5d  X", day <= zone_month_days(year, month) ? value : -9999);
                }
                fputc('\n', file);
            }
        }
    }
}

static long read_stream(void *context, char *out, size_t capacity)
{
    return (long)fread(out, 1, capacity, context);
}

static double bare(FILE *file)
{
    static char block[BLOCK];
    unsigned long sum = 0;
    rewind(file);
    const double begin_s = now_s();
    for (size_t count = 0; (count = fread(block, 1, BLOCK, file)) > 0;) sum += count;
    const double spent_s = now_s() - begin_s;
    if (sum == 0) exit(74);
    return spent_s;
}

static double import(FILE *file, size_t *out_hours)
{
    const struct weather_options options = {.format = WEATHER_GHCN_DLY,
                                            .now_s = INSTANT_NONE,
                                            .latitude_deg = 40.0,
                                            .longitude_deg = -75.0,
                                            .diurnal = DIURNAL_CONSTANTS_AIR_150_CM};
    const struct weather_source source = {"days.dly", read_stream, file};
    struct weather *weather = NULL;
    struct fault fault = {.path = ""};
    rewind(file);
    const double begin_s = now_s();
    if (weather_new(&weather, &options, &fault) != STATUS_OK ||
        weather_read(weather, &source, &fault) != STATUS_OK ||
        weather_finish(weather, &fault) != STATUS_OK) {
        fprintf(stderr, "%s: found %s, wanted %s\n", fault.path, fault.found, fault.wanted);
        exit(65);
    }
    const double spent_s = now_s() - begin_s;
    *out_hours = weather_report(weather)->hours;
    weather_free(weather);
    return spent_s;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return x < y ? -1 : x > y;
}

int main(int argc, char **argv)
{
    double years = 50;
    if (argc > 1 && (!weather_number(&years, argv[1]) || years < 1 || years > 56)) {
        fprintf(stderr, "usage: bench_import [1..56]\n");
        return 64;
    }
    FILE *file = tmpfile();
    if (file == NULL) return 74;
    write_days(file, (int)years);
    const double size_mb = (double)ftell(file) / 1e6;
    double bare_s[ROUNDS];
    double import_s[ROUNDS];
    size_t hours = 0;
    for (int i = 0; i < ROUNDS; i++) {
        bare_s[i] = bare(file);
        import_s[i] = import(file, &hours);
    }
    fclose(file);
    qsort(bare_s, ROUNDS, sizeof *bare_s, by_size);
    qsort(import_s, ROUNDS, sizeof *import_s, by_size);
    struct rusage usage;
    (void)getrusage(RUSAGE_SELF, &usage);
    printf("%d years, %.1f MB, %zu hours\n", (int)years, size_mb, hours);
    printf("bare fread  %8.2f ms\nimport      %8.2f ms   ratio %.1f\n", bare_s[ROUNDS / 2] * 1e3,
           import_s[ROUNDS / 2] * 1e3, import_s[ROUNDS / 2] / bare_s[ROUNDS / 2]);
    printf("resident at most %.1f MB\n", (double)usage.ru_maxrss / 1024.0);
    return 0;
}
