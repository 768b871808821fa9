/* SPDX-License-Identifier: MIT */
/*
 * bench_plan: what the planner costs beside the bare arithmetic, in one run of one machine.
 *
 * Prints absolute times for orientation and ratios to a bare loop over the same hours (one rate an
 * hour, nothing else), which is what may be compared between machines. Never asserted in a test.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/arena.h"
#include "compute/maturity.h"
#include "planner/planner.h"

enum { HOUR_S = 3600, YEAR_H = 8760, AHEAD_H = 168, READINGS = 60, RECORDS = READINGS + 8 };

static double now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e6 + (double)t.tv_nsec / 1e3;
}

/* An exposed job poured `ago_h` hours ago, lined 900 hours ago, with readings of the pad. */
static size_t draw_records(struct record *r, int64_t now_s, int ago_h)
{
    static const struct {
        enum task task;
        int ago_h;
    } done[] = {{TASK_CHIMNEY_RUN, 900}, {TASK_CAP_SET, 890}, {TASK_LINE_CLEAN, 850}};
    size_t n = 0;
    r[n] = record_blank(RECORD_DONE, now_s - (int64_t)ago_h * HOUR_S);
    r[n++].task = TASK_PAD_POUR;
    r[n++] = record_blank(RECORD_WET_COVER_ON, now_s - (int64_t)(ago_h - 1) * HOUR_S);
    for (int i = 0; i < READINGS; i++) {
        r[n] = record_blank(RECORD_READING, now_s - (int64_t)(ago_h - 7 * i) * HOUR_S);
        r[n].part = PART_PAD;
        r[n].how = HOW_PROBE;
        r[n++].temp_degc = 8 + i % 11;
    }
    for (size_t i = 0; i < 3; i++) {
        r[n] = record_blank(RECORD_DONE, now_s - (int64_t)done[i].ago_h * HOUR_S);
        r[n++].task = done[i].task;
    }
    return n;
}

static double plan_us(const struct rulebook *rulebook, const struct job *job,
                      const struct company *company, int64_t now_s, int rounds)
{
    struct arena *arena = arena_new();
    struct job_plan plan;
    double best = 1e18;
    for (int i = 0; i < rounds; i++) {
        arena_reset(arena);
        double begin = now_us();
        if (planner_job(&plan, job, company, rulebook, now_s, arena) != STATUS_OK) exit(70);
        double took = now_us() - begin;
        if (took < best) best = took;
    }
    arena_free(arena);
    return best;
}

int main(void)
{
    struct rulebook *rulebook;
    struct zone *zone;
    struct faults faults = {0};
    if (rulebook_load_shipped(&rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (zone_load(&zone, "America/Denver", NULL) != STATUS_OK) return 70;
    static double temp[YEAR_H], rain[YEAR_H], ahead[AHEAD_H], ahead_rain[AHEAD_H];
    for (int i = 0; i < YEAR_H; i++) {
        temp[i] = 10 + 12 * sin(i / 8760.0 * 6.2832) + 6 * sin(i / 24.0 * 6.2832);
        rain[i] = i % 61 == 0 ? 1.5 : 0;
    }
    for (int i = 0; i < AHEAD_H; i++) ahead[i] = temp[i];
    const int64_t start_s = 1735689600, now_s = start_s + (int64_t)YEAR_H * HOUR_S;
    struct station station = {.id = "town",
                              .forecast_made_s = INSTANT_NONE,
                              .observed = {start_s, YEAR_H, temp, rain, NULL, NULL, NULL},
                              .forecast = {now_s, AHEAD_H, ahead, ahead_rain, NULL, NULL, NULL}};
    struct company company = {
        .zone = zone, .work_days = 0x1f, .hours = {420, 930}, .lunch = {720, 750}};
    struct record records[RECORDS];
    struct job job = {.id = "j",
                      .name = "J",
                      .zone = zone,
                      .station = &station,
                      .station_id = "town",
                      .rulebook_id = "modular-masonry",
                      .options = {.place = PLACE_EXPOSED, .permit = true},
                      .records = records};
    job.options.town.build_on_floor_h = NAN;
    job.options.town.request_cutoff_min = -1;
    for (int i = 0; i < QUANTITY_COUNT; i++) job.quantities[i] = 10;

    volatile double sink = 0;
    double bare = 1e18;
    for (int k = 0; k < 200; k++) {
        double begin = now_us(), sum = 0;
        for (int i = 0; i < YEAR_H; i++)
            sum += maturity_rate(&rulebook->clocks[CLOCK_PAD_BUILD_ON].law, temp[i]);
        double took = now_us() - begin;
        sink = sink + sum;
        if (took < bare) bare = took;
    }
    printf("bare loop over a year of hours          %9.1f us\n", bare);
    static const int ago_h[] = {64, 1200, 8700};
    for (size_t i = 0; i < 3; i++) {
        job.record_count = draw_records(records, now_s, ago_h[i]);
        double us = plan_us(rulebook, &job, &company, now_s, 500);
        printf("plan of one job, poured %5d h ago       %9.1f us   ratio to bare %6.2f\n", ago_h[i],
               us, us / bare);
    }
    job.record_count = draw_records(records, now_s, 1200);
    struct job *jobs = calloc(1000, sizeof *jobs);
    if (jobs == NULL) return 70;
    for (int i = 0; i < 1000; i++) jobs[i] = job;
    struct casefile casefile = {.now_s = now_s,
                                .now_zone = zone,
                                .company = company,
                                .stations = &station,
                                .station_count = 1,
                                .jobs = jobs,
                                .job_count = 1000};
    struct arena *arena = arena_new();
    const struct plan *plan;
    double begin = now_us();
    if (planner_run(&plan, &casefile, rulebook, arena) != STATUS_OK) return 70;
    double took = now_us() - begin;
    printf("plan of 1,000 jobs                      %9.1f ms   ratio to 1,000 bare loops %6.2f\n",
           took / 1e3, took / (1000 * bare));
    arena_free(arena);
    free(jobs);
    zone_free(zone);
    rulebook_free(rulebook);
    return 0;
}
