/* SPDX-License-Identifier: MIT */
/*
 * outlook [JOBS [YEARS]]: what the outlook of clocks costs after a station's weather has changed,
 * and how it grows. Each job has three groups of clocks running: the pad's (poured yesterday), the
 * bed's, and 28 counted days outdoors with rain. The first column is the whole answer for all jobs
 * on one core: readings and records read again, clocks worked out, the sums of all past years made
 * anew, and p10, p50 and p90 of every clock. Beside it, in the same run: the same without shared
 * sums (every year walked hour by hour), and a bare loop that adds up one rate an hour, for three
 * clocks a job and year, until a day's warmth is reached, with nothing else around it. Ratios may
 * be compared between machines, times may not. Asserts nothing but that both ways give the same
 * dates.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/arena.h"
#include "base/zone.h"
#include "planner/fire.h"
#include "planner/outlook.h"
#include "planner/planner.h"

enum { HOUR_S = 3600, YEAR_H = 8760, SEEN_H = 1200, AHEAD_H = 168, RECORDS = 8, YEARS_MOST = 100 };
enum { NEED_H = 24, CLOCKS = 3 };

static double now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); /* others may be at work on the machine */
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static double noise(unsigned *seed)
{
    *seed = *seed * 1103515245U + 12345U;
    return (double)(*seed >> 16 & 0x7fff) / 32768.0;
}

/* Hours of a place with seasons, days, fronts and rain. */
static void fill(struct series *out, int64_t start_s, size_t count, unsigned seed)
{
    *out = (struct series){.start_s = start_s, .count = count};
    out->temp_degc = malloc(count * sizeof(double));
    out->rain_mm = malloc(count * sizeof(double));
    if (out->temp_degc == NULL || out->rain_mm == NULL) exit(70);
    double front = 0;
    for (size_t i = 0; i < count; i++) {
        const double at_h = (double)(start_s / HOUR_S + (int64_t)i);
        if (noise(&seed) < 0.015) front = 16 * noise(&seed) - 9;
        out->temp_degc[i] = 9 - 10 * cos((at_h / 24 - 20) / 365.25 * 6.28318) + front +
                            5 * sin((at_h - 15) / 24 * 6.28318);
        out->rain_mm[i] = noise(&seed) < 0.015 ? 6 * noise(&seed) : 0;
    }
}

struct bench {
    struct rulebook *rulebook;
    struct zone *zone;
    struct company company;
    struct station station;
    struct job *jobs;
    struct record (*records)[RECORDS];
    int64_t now_s;
};

static struct record *add(struct job *job, struct record *records, enum record_kind kind,
                          int64_t at_s)
{
    records[job->record_count] = record_blank(kind, at_s);
    return &records[job->record_count++];
}

static void make_job(struct bench *b, size_t i)
{
    struct job *job = &b->jobs[i];
    struct record *records = b->records[i];
    const int64_t shift_s = (int64_t)(i % 97) * 600;
    *job = (struct job){.id = "j",
                        .name = "J",
                        .zone = b->zone,
                        .station = &b->station,
                        .station_id = "town",
                        .rulebook_id = "modular-masonry",
                        .options = {.place = PLACE_EXPOSED, .permit = true},
                        .records = records,
                        .permit_lead_days = -1,
                        .kit_lead_days = -1,
                        .wanted_fire_day = DAY_NONE};
    job->options.town.build_on_floor_h = NAN;
    job->options.town.request_cutoff_min = -1;
    for (int q = 0; q < QUANTITY_COUNT; q++) job->quantities[q] = 10;
    const int64_t lined_s = b->now_s - 300 * HOUR_S - shift_s;
    add(job, records, RECORD_DONE, lined_s - 20 * HOUR_S)->task = TASK_CHIMNEY_RUN;
    add(job, records, RECORD_DONE, lined_s - 10 * HOUR_S)->task = TASK_CAP_SET;
    add(job, records, RECORD_DONE, lined_s)->task = TASK_LINE_CLEAN;
    add(job, records, RECORD_DONE, b->now_s - 12 * HOUR_S - shift_s / 4)->task = TASK_PAD_POUR;
    struct record *reading = add(job, records, RECORD_READING, b->now_s - 9 * HOUR_S);
    reading->part = PART_PAD;
    reading->how = HOW_PROBE;
    reading->temp_degc = 9;
    add(job, records, RECORD_DONE, b->now_s - 2 * HOUR_S)->task = TASK_TRANSITION_SET;
}

static void set_up(struct bench *b, size_t jobs, size_t years)
{
    b->now_s = 1775044800; /* 2026-04-01T12:00Z: cool days, a real spread */
    b->station = (struct station){.id = "town", .forecast_made_s = b->now_s};
    fill(&b->station.observed, b->now_s - (int64_t)SEEN_H * HOUR_S, SEEN_H, 1);
    fill(&b->station.forecast, b->now_s, 12, 2); /* so that clocks lean on past years */
    b->station.history = calloc(years, sizeof *b->station.history);
    if (b->station.history == NULL) exit(70);
    b->station.history_count = years;
    for (size_t y = 0; y < years; y++)
        fill(&b->station.history[y],
             civil_instant_s(b->zone, civil_day(2025 - (int)y, 1, 1), 0) / HOUR_S * HOUR_S, YEAR_H,
             100 + (unsigned)y);
    for (size_t i = 0; i < jobs; i++) make_job(b, i);
}

static void tear_down(struct bench *b)
{
    struct series *all[2] = {&b->station.observed, &b->station.forecast};
    for (size_t i = 0; i < 2; i++) {
        free(all[i]->temp_degc);
        free(all[i]->rain_mm);
    }
    for (size_t y = 0; y < b->station.history_count; y++) {
        free(b->station.history[y].temp_degc);
        free(b->station.history[y].rain_mm);
    }
    free(b->station.history);
}

/* Clocks and their outlook, as planner_job works them out before anything else. */
static int64_t one_job(const struct bench *b, const struct job *job, struct arena *arena,
                       struct past_cache *cache)
{
    struct facts facts;
    struct clocks clocks = {.facts = &facts};
    struct job_plan plan = {.job = job};
    struct outlook outlook;
    facts_gather(&facts, job, &b->company, b->rulebook, b->now_s, arena);
    clocks.plans = ARENA_TAKE(arena, CLOCK_COUNT, struct clock_plan);
    history_weather(&clocks.weather, &facts, b->now_s - 500 * (int64_t)HOUR_S);
    clock_set_all(&clocks);
    clock_days_all(&clocks, &plan);
    plan.clocks = clocks.plans;
    plan.clock_count = clocks.count;
    fire_plan_find(&plan, &facts);
    outlook_find(&outlook, &plan, clocks.plans, &clocks, cache);
    int64_t sum = plan.fire.p90_day;
    for (size_t i = 0; i < clocks.count; i++)
        sum = sum * 31 + clocks.plans[i].outlook.p10_s + clocks.plans[i].outlook.p90_s;
    return sum;
}

/* All jobs; the sums of the past years are made anew in it. */
static double all_jobs(const struct bench *b, size_t jobs, bool shared, int64_t *sum)
{
    struct arena *kept = arena_new(), *scratch = arena_new();
    if (kept == NULL || scratch == NULL) exit(70);
    struct past_cache cache = {.arena = kept, .keeps_sums = shared};
    const double begin_ms = now_ms();
    *sum = 0;
    for (size_t i = 0; i < jobs; i++) {
        struct past_cache alone = {.arena = scratch};
        arena_reset(scratch);
        *sum = *sum * 31 + one_job(b, &b->jobs[i], scratch, shared ? &cache : &alone);
    }
    const double took_ms = now_ms() - begin_ms;
    arena_free(kept);
    arena_free(scratch);
    return took_ms;
}

/* One rate an hour, from now on in each year, until a day's warmth is reached. */
static double bare(const struct bench *b, size_t jobs, volatile double *sink)
{
    const struct maturity_law *law = &b->rulebook->clocks[CLOCK_PAD_BUILD_ON].law;
    const double begin_ms = now_ms();
    for (size_t i = 0; i < jobs * CLOCKS; i++) {
        for (size_t y = 0; y < b->station.history_count; y++) {
            const double *degc = &b->station.history[y].temp_degc[2172 + i % 48];
            double warm = 0;
            for (size_t h = 0; warm < NEED_H && h < 6000; h++) warm += maturity_rate(law, degc[h]);
            *sink = *sink + warm;
        }
    }
    return now_ms() - begin_ms;
}

static void row(struct bench *b, size_t jobs, size_t years)
{
    int64_t shared_sum, walked_sum;
    volatile double sink = 0;
    set_up(b, jobs, years);
    const double shared_ms = all_jobs(b, jobs, true, &shared_sum);
    const size_t few = jobs < 1000 ? jobs : 1000; /* walking all of them takes long */
    const double few_ms = all_jobs(b, few, true, &shared_sum);
    const double walked_ms = all_jobs(b, few, false, &walked_sum);
    const double bare_ms = bare(b, jobs, &sink);
    if (shared_sum != walked_sum) {
        fprintf(stderr, "the sums give other dates than walking\n");
        exit(70);
    }
    printf(
        "%6zu jobs x %3zu years %9.1f ms %7.2f us a job   ratio to bare %5.2f   walked %5.1f x\n",
        jobs, years, shared_ms, shared_ms * 1e3 / (double)jobs, shared_ms / bare_ms,
        walked_ms / few_ms);
    tear_down(b);
}

/* The best of some whole plans of one job, tasks and all. */
static double whole_ms(const struct bench *b, int rounds)
{
    struct arena *arena = arena_new();
    struct job_plan plan;
    double best_ms = 1e18;
    for (int i = 0; i < rounds; i++) {
        arena_reset(arena);
        const double begin_ms = now_ms();
        if (planner_job(&plan, &b->jobs[0], &b->company, b->rulebook, b->now_s, arena) != STATUS_OK)
            exit(70);
        best_ms = fmin(best_ms, now_ms() - begin_ms);
    }
    arena_free(arena);
    return best_ms;
}

/* What tasks cost on top: whole plans with and without past years. */
static void whole(struct bench *b, size_t years)
{
    set_up(b, 1, years);
    const double with_ms = whole_ms(b, 50);
    b->jobs[0].record_count = 4; /* the bed is not laid: work, and clocks to come, lie ahead */
    const double ahead_ms = whole_ms(b, 50);
    const size_t kept = b->station.history_count;
    b->station.history_count = 0;
    const double without_ms = whole_ms(b, 50);
    b->station.history_count = kept;
    printf(
        "a whole plan of one job, tasks and all: %.2f ms with %zu years, %.2f ms with more ahead, "
        "%.2f ms with none\n",
        with_ms, years, ahead_ms, without_ms);
    tear_down(b);
}

int main(int argc, char **argv)
{
    struct bench b = {.rulebook = NULL};
    struct faults faults = {0};
    const long jobs = argc > 1 ? strtol(argv[1], NULL, 10) : 10000;
    const long years = argc > 2 ? strtol(argv[2], NULL, 10) : 30;
    if (jobs < 1 || jobs > 1000000 || years < 5 || years > YEARS_MOST) {
        fprintf(stderr, "usage: outlook [JOBS [YEARS 5..%d]]\n", YEARS_MOST);
        return 64;
    }
    if (rulebook_load_shipped(&b.rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (zone_load(&b.zone, "America/Denver", NULL) != STATUS_OK) return 70;
    b.company = (struct company){
        .zone = b.zone, .work_days = 0x1f, .hours = {420, 930}, .lunch = {720, 750}};
    b.jobs = calloc((size_t)jobs, sizeof *b.jobs);
    b.records = calloc((size_t)jobs, sizeof *b.records);
    if (b.jobs == NULL || b.records == NULL) return 70;
    row(&b, (size_t)jobs, (size_t)years);
    whole(&b, (size_t)years);
    printf("how it grows with jobs\n");
    for (long j = 10; j <= jobs; j *= 10) row(&b, (size_t)j, (size_t)years);
    printf("how it grows with years\n");
    for (long y = 5; y <= 80; y *= 2) row(&b, (size_t)jobs, (size_t)y);
    free(b.jobs);
    free(b.records);
    zone_free(b.zone);
    rulebook_free(b.rulebook);
    return 0;
}
