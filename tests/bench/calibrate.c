/* SPDX-License-Identifier: MIT */
/*
 * calibrate [OPTIONS] FILE.dly: is the outlook worth what it says? History is replayed: for every
 * start day of every held-out year the planner is asked for p10, p50 and p90 with nothing but the
 * years before that year, and then what really happened is worked out by the same planner from that
 * year's own hours. Coverage is the share of start days on which the truth came no later than the
 * quantile. Nothing else is fitted, and no later day is ever read.
 *
 *   --held-out N       the last N complete years that have a start day (10)
 *   --until YEAR       the last of them is YEAR or before: another decade of the same file
 *   --zone ID          the job's zone (America/New_York)
 *   --latitude DEG     of the station, for hours out of days; GHCN-Daily files do not say (40)
 *   --longitude DEG    (-75)
 *   --month            one line a month of the start day besides
 *
 * What is promised:
 *   pad-24    the opening of a pad on ground: 24 h, 24 warm hours        (clock pad.build-on)
 *   pad-48    the opening of a pad over a void: 48 h, 48 warm hours      (clock pad.build-on)
 *   days-28   28 counted days of an exposed unit, rain rules and all     (clock unit.dry-cure)
 *   job       a whole job outdoors: the pad poured that day, its wait, the build on the crew's
 *             calendar with every wait in it, 28 counted days; the first fire (task fire-1)
 *
 * Each has two lines. `pad-24` are p10, p50 and p90 of the plan: nearest rank over every past year.
 * `pad-24-recent` are recent_p10, recent_p50 and recent_p90: the latest years alone, ranked for the
 * year to come. Why there are two, and what was found, is told in server/planner/outlook.c.
 *
 * How to read a line. Truth and quantile are often the same instant: whole days, or in July a pad
 * that opens after exactly its 24 h, year after year. A promise met on its very day is kept, so
 * `p90` counts truth <= p90. Whether p50 parts the start days in halves, and p10 a tenth from the
 * rest, is another question, and there a tie belongs to both sides: `p10` and `p50` count it half
 * (the usual mid-distribution reading; a right quantile shows its nominal share however many ties
 * there are). Both bounds stand on the line as well: `before` counts truth < quantile, `by` counts
 * <=. `exact` is what an outlook would show whose past years are just like the year to come: r/(n +
 * 1) of the r-th of n years, averaged over the start days. `promise` is fire.promise, kept by its
 * day.
 *
 * Neighbouring start days share their weather, so ten years of them hold some 120 independent
 * trials: p50 of a perfect outlook is 0.50 +- 0.05, p90 0.90 +- 0.03 (one standard deviation), and
 * what is left beyond `exact` in one decade may turn round in another (--until).
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/zone.h"
#include "compute/civil.h"
#include "planner/planner.h"
#include "weather/weather.h"

enum {
    HOUR_S = 3600,
    DAY_S = 86400,
    POUR_S = 13 * HOUR_S, /* of the start day, by the wall clock */
    SEEN_DAYS = 10,       /* observed days before the start, for rain that passes on */
    YEAR_H = 366 * 24,
    CALENDAR_YEARS = 28, /* weekdays and leap days come round */
    YEARS_MAX = 300,
    MONTHS = 12,
};

enum row { ROW_PAD_24, ROW_PAD_48, ROW_DAYS_28, ROW_JOB, ROW_COUNT };
static const char *const row_names[ROW_COUNT] = {"pad-24", "pad-48", "days-28", "job"};

static const double nominal[3] = {0.1, 0.5, 0.9};

/* What is counted of one row, over all start days or those of a month. */
struct tally {
    long starts;
    long by[3];     /* truth <= quantile */
    long before[3]; /* truth < quantile */
    double exact[3];
    double width_s;
    long widths;
    long promised;
    long promises_kept;
};

enum kind { KIND_ALL, KIND_RECENT, KIND_COUNT };
static const char *const kind_names[KIND_COUNT] = {"", "-recent"};

struct bench {
    const struct rulebook *rulebook;
    struct rulebook *one_year; /* the same, but one year is outlook enough: the truth */
    struct zone *zone;
    const struct series *hours; /* of the whole file */
    const struct weather_days *days;
    int moved_years; /* added to every year, so that none is before 1970 */
    struct arena *arena;
    struct tally tallies[ROW_COUNT][KIND_COUNT][MONTHS + 1]; /* [MONTHS]: all */
    long unknown[ROW_COUNT]; /* starts whose truth lies past the file's end */
};

/* --- the file --------------------------------------------------------------------------------- */

static char *read_whole(const char *path, size_t *out_length)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL || fseek(file, 0, SEEK_END) != 0) {
        perror(path);
        exit(66);
    }
    const long length = ftell(file);
    char *text = length < 0 || length > WEATHER_BYTES_MAX ? NULL : malloc((size_t)length + 1);
    rewind(file);
    if (text == NULL || fread(text, 1, (size_t)length, file) != (size_t)length) {
        fprintf(stderr, "%s: cannot be read, or too long\n", path);
        exit(66);
    }
    fclose(file);
    text[length] = '\0';
    *out_length = (size_t)length;
    return text;
}

/* Columns 12-15 of a line hold the year. */
static int year_at(const char *line, const char *end)
{
    if (end - line < 15) return -1;
    int year = 0;
    for (int i = 11; i < 15; i++) {
        if (line[i] < '0' || line[i] > '9') return -1;
        year = year * 10 + (line[i] - '0');
    }
    return year;
}

/* No series holds hours before 1970: the years are moved by a whole number of calendar rounds. */
static int move_years(char *text, size_t length)
{
    char *end = text + length;
    int first = 9999, moved = 0;
    for (int pass = 0; pass < 2; pass++) {
        for (char *line = text; line < end;) {
            const int year = year_at(line, end);
            if (year > 0 && pass == 0 && year < first) first = year;
            if (year > 0 && pass == 1) {
                char digits[12];
                (void)snprintf(digits, sizeof digits, "%04d", (year + moved) % 10000);
                memcpy(line + 11, digits, 4);
            }
            char *next = memchr(line, '\n', (size_t)(end - line));
            line = next == NULL ? end : next + 1;
        }
        while (first + moved < 1971) moved += CALENDAR_YEARS;
        if (moved == 0) break;
    }
    return moved;
}

static struct weather *import(const char *path, double latitude, double longitude,
                              const struct rulebook *rulebook, int *moved)
{
    size_t length = 0;
    char *text = read_whole(path, &length);
    *moved = move_years(text, length);
    const struct weather_options options = {
        .format = WEATHER_GHCN_DLY,
        .keep_good = true,
        .now_s = INSTANT_NONE,
        .latitude_deg = latitude,
        .longitude_deg = longitude,
        .diurnal = {rulebook_setting(rulebook, SETTING_DIURNAL_PEAK_LAG_H),
                    rulebook_setting(rulebook, SETTING_DIURNAL_NIGHT_FALL),
                    rulebook_setting(rulebook, SETTING_DIURNAL_MIN_LAG_H), DIURNAL_PAPER}};
    struct weather_bytes bytes = {text, length, 0};
    const struct weather_source source = {path, weather_read_bytes, &bytes};
    struct weather *weather = NULL;
    struct fault fault = {.path = ""};
    if (weather_new(&weather, &options, &fault) != STATUS_OK ||
        weather_read(weather, &source, &fault) != STATUS_OK ||
        weather_finish(weather, &fault) != STATUS_OK) {
        fprintf(stderr, "%s: found %s, wanted %s\n", fault.path, fault.found, fault.wanted);
        exit(65);
    }
    free(text);
    return weather;
}

/* A year with both temperatures on all but ten days. */
static bool is_complete(const struct weather_days *days, int year)
{
    const int32_t first = civil_day(year, 1, 1), end = civil_day(year + 1, 1, 1);
    int known = 0;
    for (int32_t day = first; day < end; day++) {
        const int64_t i = (int64_t)day - days->first_day;
        if (i < 0 || i >= (int64_t)days->count) continue;
        known += !isnan(days->min_degc[i]) && !isnan(days->max_degc[i]);
    }
    return known >= end - first - 10;
}

static struct series part_of(const struct series *all, int64_t from_s, int64_t until_s)
{
    struct series part = {.start_s = from_s};
    if (from_s < all->start_s) from_s = all->start_s;
    const int64_t end_s = all->start_s + (int64_t)all->count * HOUR_S;
    if (until_s > end_s) until_s = end_s;
    if (from_s >= until_s) return part;
    const size_t first = (size_t)((from_s - all->start_s) / HOUR_S);
    part.start_s = from_s;
    part.count = (size_t)((until_s - from_s) / HOUR_S);
    part.temp_degc = all->temp_degc + first;
    part.rain_mm = all->rain_mm == NULL ? NULL : all->rain_mm + first;
    return part;
}

/* --- jobs ------------------------------------------------------------------------------------- */

static size_t records_of(struct record *out, enum row row, int64_t at_s)
{
    static const enum task lined[] = {TASK_CHIMNEY_RUN, TASK_CAP_SET, TASK_LINE_CLEAN};
    size_t count = 0;
    if (row == ROW_DAYS_28) {
        for (; count < 3; count++) {
            out[count] = record_blank(RECORD_DONE, at_s);
            out[count].task = lined[count];
        }
    } else {
        out[count] = record_blank(RECORD_PASSED, at_s - HOUR_S);
        out[count++].task = TASK_PAD_INSPECT;
        out[count] = record_blank(RECORD_DONE, at_s);
        out[count++].task = TASK_PAD_POUR;
    }
    return count;
}

static struct job job_of(const struct bench *bench, enum row row, const struct station *station)
{
    struct job job = {.id = "j",
                      .name = "J",
                      .zone = bench->zone,
                      .station_id = "s",
                      .station = station,
                      .rulebook_id = "modular-masonry",
                      .options = {.base = row == ROW_PAD_48 ? BASE_CRAWL : BASE_SLAB,
                                  .pad = PAD_NEW,
                                  .place = PLACE_EXPOSED,
                                  .permit = true}};
    static const struct {
        enum quantity quantity;
        double value;
    } sizes[] = {{QUANTITY_OPENING_WIDTH_IN, 42}, {QUANTITY_OPENING_HEIGHT_IN, 30},
                 {QUANTITY_COURSES, 5},           {QUANTITY_CHIMNEY_FT, 14},
                 {QUANTITY_BLOCK_RISE_IN, 8},     {QUANTITY_FLOOR_BRICK, 36},
                 {QUANTITY_BACK_BRICK, 45},       {QUANTITY_SIDE_BRICK, 56},
                 {QUANTITY_PAD_FT2, 24},          {QUANTITY_PAD_THICKNESS_IN, 4},
                 {QUANTITY_PALLETS, 2},           {QUANTITY_DRIVE_H, 0.4}};
    for (int i = 0; i < QUANTITY_COUNT; i++) job.quantities[i] = NAN;
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        job.quantities[sizes[i].quantity] = sizes[i].value;
    job.options.town.build_on_floor_h = NAN;
    job.options.town.request_cutoff_min = -1;
    job.permit_lead_days = job.kit_lead_days = -1;
    job.wanted_fire_day = DAY_NONE;
    return job;
}

/* What the planner says; the three are INSTANT_NONE where a year never comes to an end. */
struct answer {
    struct outlook_range range;
    int64_t promise_s; /* INSTANT_NONE: none */
    bool any;
};

static struct answer ask(const struct bench *bench, const struct rulebook *rulebook, enum row row,
                         int64_t now_s, const struct series *history)
{
    struct record records[4];
    struct series past = *history;
    const struct station station = {
        .id = "s",
        .forecast_made_s = INSTANT_NONE,
        .observed = part_of(bench->hours, now_s - (int64_t)SEEN_DAYS * DAY_S - now_s % HOUR_S,
                            now_s - now_s % HOUR_S + HOUR_S),
        .history = &past,
        .history_count = 1};
    const struct company company = {
        .zone = bench->zone, .work_days = 0x1f, .hours = {420, 930}, .lunch = {720, 750}};
    struct job job = job_of(bench, row, &station);
    job.records = records;
    job.record_count = records_of(records, row, now_s);
    struct job_plan plan;
    struct answer answer = {.promise_s = INSTANT_NONE};
    arena_reset(bench->arena);
    if (planner_job(&plan, &job, &company, rulebook, now_s, bench->arena) != STATUS_OK) exit(70);
    if (row == ROW_JOB) {
        answer.any = true; /* without a forecast only the years have a date */
        answer.range = plan.tasks[TASK_FIRE_1].outlook;
        return answer;
    }
    const enum clock_id clock = row == ROW_DAYS_28 ? CLOCK_UNIT_DRY_CURE : CLOCK_PAD_BUILD_ON;
    for (size_t i = 0; i < plan.clock_count; i++) {
        if (plan.clocks[i].clock != clock) continue;
        answer.any = true;
        answer.range = plan.clocks[i].outlook;
    }
    if (row == ROW_DAYS_28 && plan.fire.promise_day != DAY_NONE)
        answer.promise_s = civil_day_start_s(bench->zone, plan.fire.promise_day);
    return answer;
}

/* --- counting --------------------------------------------------------------------------------- */

static bool is_by(int64_t truth_s, int64_t quantile_s)
{
    if (quantile_s == INSTANT_NONE) return true; /* "never": whatever happened came no later */
    return truth_s != INSTANT_NONE && truth_s <= quantile_s;
}

/* The rank that a quantile is, as outlook.c ranks. */
static double rank_of(enum kind kind, int quantile, size_t years)
{
    const double n = (double)years;
    if (kind == KIND_ALL) return ceil(nominal[quantile] * n - 1e-9);
    if (quantile == 1) return floor((n + 1) / 2);
    return quantile == 0 ? fmax(1, floor(0.1 * (n + 1) + 1e-9))
                         : fmin(n, ceil(0.9 * (n + 1) - 1e-9));
}

static void count(struct tally *tally, const struct answer *said, enum kind kind, int64_t truth_s,
                  size_t years)
{
    const struct outlook_range *range = &said->range;
    const int64_t quantiles[KIND_COUNT][3] = {
        {range->p10_s, range->p50_s, range->p90_s},
        {range->recent_p10_s, range->recent_p50_s, range->recent_p90_s}};
    tally->starts++;
    for (int q = 0; q < 3; q++) {
        tally->by[q] += is_by(truth_s, quantiles[kind][q]);
        tally->before[q] += is_by(truth_s, quantiles[kind][q]) && truth_s != quantiles[kind][q];
        tally->exact[q] += rank_of(kind, q, years) / ((double)years + 1);
    }
    if (quantiles[kind][0] != INSTANT_NONE && quantiles[kind][2] != INSTANT_NONE) {
        tally->width_s += (double)(quantiles[kind][2] - quantiles[kind][0]);
        tally->widths++;
    }
    if (said->promise_s == INSTANT_NONE || kind != KIND_ALL) return;
    tally->promised++;
    tally->promises_kept += is_by(truth_s, said->promise_s);
}

/* One start day: false when the truth lies past the end of the file. */
static bool try_start(struct bench *bench, enum row row, int32_t day, const struct series *before,
                      size_t years)
{
    const int64_t now_s = civil_instant_s(bench->zone, day, POUR_S);
    const int64_t hour_s = now_s - now_s % HOUR_S;
    const struct series own =
        part_of(bench->hours, hour_s - 24 * HOUR_S, hour_s + (YEAR_H - 24) * (int64_t)HOUR_S);
    const struct answer truth = ask(bench, bench->one_year, row, now_s, &own);
    const int64_t known_until_s = own.start_s + (int64_t)own.count * HOUR_S;
    if (truth.range.p50_s == INSTANT_NONE ? own.count < YEAR_H - 24
                                          : truth.range.p50_s > known_until_s - DAY_S)
        return false;
    const struct answer said = ask(bench, bench->rulebook, row, now_s, before);
    if (!truth.any || !said.any) {
        fprintf(stderr, "%s has no answer\n", row_names[row]);
        exit(70);
    }
    int year, month, day_of_month;
    civil_date(day, &year, &month, &day_of_month);
    const size_t recent_most =
        (size_t)rulebook_setting(bench->rulebook, SETTING_OUTLOOK_RECENT_YEARS);
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        const size_t used = kind == KIND_RECENT && years > recent_most ? recent_most : years;
        struct tally *tallies = bench->tallies[row][kind];
        count(&tallies[month - 1], &said, (enum kind)kind, truth.range.p50_s, used);
        count(&tallies[MONTHS], &said, (enum kind)kind, truth.range.p50_s, used);
    }
    return true;
}

static void hold_out(struct bench *bench, int first_year, int year)
{
    const struct series before = part_of(bench->hours, (int64_t)civil_day(first_year, 1, 1) * DAY_S,
                                         (int64_t)civil_day(year, 1, 1) * DAY_S);
    for (int row = 0; row < ROW_COUNT; row++) {
        bool known = true; /* once a truth is not known, later starts are left out, known or not */
        for (int32_t day = civil_day(year, 1, 1); day < civil_day(year + 1, 1, 1); day++) {
            known =
                known && try_start(bench, (enum row)row, day, &before, (size_t)(year - first_year));
            if (!known) bench->unknown[row]++;
        }
    }
}

static double half(const struct tally *t, int q)
{
    return 0.5 * (double)(t->by[q] + t->before[q]) / (double)t->starts;
}

static void tell(const char *name, const struct tally *t, bool days, long unknown)
{
    const double n = (double)t->starts;
    if (t->starts == 0) {
        printf("%-14s starts 0\n", name);
        return;
    }
    printf("%-14s p10 %.3f p50 %.3f p90 %.3f width_%s %.1f starts %ld", name, half(t, 0),
           half(t, 1), (double)t->by[2] / n, days ? "d" : "h",
           t->width_s / (double)(t->widths > 0 ? t->widths : 1) / (days ? DAY_S : HOUR_S),
           t->starts);
    printf("  before %.3f %.3f %.3f", (double)t->before[0] / n, (double)t->before[1] / n,
           (double)t->before[2] / n);
    printf("  by %.3f %.3f %.3f", (double)t->by[0] / n, (double)t->by[1] / n, (double)t->by[2] / n);
    printf("  exact %.3f %.3f %.3f", t->exact[0] / n, t->exact[1] / n, t->exact[2] / n);
    if (t->promised > 0) printf("  promise %.3f", (double)t->promises_kept / (double)t->promised);
    if (unknown > 0) printf("  past_the_file %ld", unknown);
    printf("\n");
}

static void tell_all(const struct bench *bench, bool months)
{
    for (int row = 0; row < ROW_COUNT; row++) {
        const bool days = row >= ROW_DAYS_28;
        for (int kind = 0; kind < KIND_COUNT; kind++) {
            char name[24];
            (void)snprintf(name, sizeof name, "%s%s", row_names[row], kind_names[kind]);
            tell(name, &bench->tallies[row][kind][MONTHS], days, bench->unknown[row]);
            for (int m = 0; m < MONTHS && months; m++) {
                (void)snprintf(name, sizeof name, "  month %02d", m + 1);
                tell(name, &bench->tallies[row][kind][m], days, 0);
            }
        }
    }
}

/* --- the call --------------------------------------------------------------------------------- */

struct call {
    const char *path;
    const char *zone;
    double held_out, until, latitude, longitude;
    bool months;
};

static bool read_call(struct call *call, int argc, char **argv)
{
    *call = (struct call){.zone = "America/New_York",
                          .held_out = 10,
                          .until = WEATHER_LAST_YEAR,
                          .latitude = 40,
                          .longitude = -75};
    for (int i = 1; i < argc; i++) {
        const struct {
            const char *word;
            double *value;
        } numbers[] = {{"--held-out", &call->held_out},
                       {"--until", &call->until},
                       {"--latitude", &call->latitude},
                       {"--longitude", &call->longitude}};
        bool known = false;
        for (size_t k = 0; k < sizeof numbers / sizeof *numbers && !known; k++) {
            if (strcmp(argv[i], numbers[k].word) != 0) continue;
            if (i + 1 >= argc || !weather_number(numbers[k].value, argv[++i])) return false;
            known = true;
        }
        if (known) continue;
        if (strcmp(argv[i], "--zone") == 0 && i + 1 < argc)
            call->zone = argv[++i];
        else if (strcmp(argv[i], "--month") == 0)
            call->months = true;
        else if (argv[i][0] != '-' && call->path == NULL)
            call->path = argv[i];
        else
            return false;
    }
    return call->path != NULL && call->held_out >= 1 && call->held_out < YEARS_MAX;
}

/* The years that are held out, the last ones first; how many. */
static int choose_years(int out[YEARS_MAX], const struct bench *bench, const struct call *call,
                        int *first_year)
{
    const struct weather_days *days = bench->days;
    int first, last, month, day, count = 0;
    civil_date(days->first_day, &first, &month, &day);
    if (month > 1 || day > 1) first++;
    civil_date(days->first_day + (int32_t)days->count - 1, &last, &month, &day);
    const int least = (int)rulebook_setting(bench->rulebook, SETTING_OUTLOOK_YEARS);
    if (last > (int)call->until + bench->moved_years) last = (int)call->until + bench->moved_years;
    for (int year = last; year >= first + least && count < (int)call->held_out; year--)
        if (is_complete(days, year)) out[count++] = year;
    *first_year = first;
    return count;
}

int main(int argc, char **argv)
{
    struct call call;
    struct rulebook *rulebook, *one_year;
    struct faults faults = {0};
    static struct bench bench;
    if (!read_call(&call, argc, argv)) {
        fprintf(stderr, "usage: calibrate [--held-out N] [--until YEAR] [--zone ID] "
                        "[--latitude DEG] [--longitude DEG] [--month] FILE.dly\n");
        return 64;
    }
    if (rulebook_load_shipped(&rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (rulebook_load_shipped(&one_year, "modular-masonry", &faults) != STATUS_OK) return 70;
    one_year->settings[SETTING_OUTLOOK_YEARS].value = 1;
    if (zone_load(&bench.zone, call.zone, NULL) != STATUS_OK) {
        fprintf(stderr, "%s: no such zone\n", call.zone);
        return 65;
    }
    struct weather *weather =
        import(call.path, call.latitude, call.longitude, rulebook, &bench.moved_years);
    bench.rulebook = rulebook;
    bench.one_year = one_year;
    bench.hours = weather_series(weather);
    bench.days = weather_days(weather);
    bench.arena = arena_new();
    int years[YEARS_MAX], first_year;
    const int count = choose_years(years, &bench, &call, &first_year);
    if (count == 0) {
        fprintf(stderr, "%s: no complete year with enough years before it\n", call.path);
        return 65;
    }
    printf(
        "p10 and p50: share of start days with the truth before it, a tie counts half; p90: share "
        "kept by its day\n");
    printf("%s: years from %d, held out %d..%d (%d)\n", call.path, first_year - bench.moved_years,
           years[count - 1] - bench.moved_years, years[0] - bench.moved_years, count);
    for (int i = count; i-- > 0;) hold_out(&bench, first_year, years[i]);
    tell_all(&bench, call.months);
    arena_free(bench.arena);
    weather_free(weather);
    zone_free(bench.zone);
    rulebook_free(one_year);
    rulebook_free(rulebook);
    return 0;
}
