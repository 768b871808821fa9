/* SPDX-License-Identifier: MIT */
/*
 * bench_crews: the whole plan of a company, crews shared out for three weeks, against its aims.
 *
 * Companies of invented jobs at every stage, three weeks of hourly weather, half of it forecast.
 * Prints times of this machine beside the aim; never asserted in a test.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/arena.h"
#include "planner/planner.h"

enum { HOUR_S = 3600, DAY_S = 86400, WEATHER_H = 504, AHEAD_H = 504, JOBS = 200, RECORDS = 64 };

static double now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); /* of this process: others may be busy */
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static uint32_t state = 12345;
static int any(int below)
{
    state = state * 1664525u + 1013904223u;
    return (int)((state >> 8) % (uint32_t)below);
}

static double temp[WEATHER_H + AHEAD_H], rain[WEATHER_H + AHEAD_H], wind[WEATHER_H + AHEAD_H];
static struct record records[JOBS][RECORDS];
static struct job jobs[JOBS];
static char ids[JOBS][16];

/* Work done up to a stage, a day apart, and readings on the way. */
static size_t draw_records(struct record *r, const struct rulebook *rulebook, int stage,
                           int64_t now_s)
{
    size_t n = 0;
    int64_t at_s = now_s - (int64_t)(stage + 1) * 20 * HOUR_S;
    for (int t = 0; t < stage && n < RECORDS - 2; t++, at_s += 20 * HOUR_S) {
        const struct task_rule *rule = &rulebook->tasks[t];
        r[n] = record_blank(rule->hold ? RECORD_PASSED : RECORD_DONE, at_s);
        r[n++].task = (enum task)t;
    }
    r[n] = record_blank(RECORD_READING, now_s - 2 * HOUR_S);
    r[n].part = PART_PAD;
    r[n].how = HOW_PROBE;
    r[n++].temp_degc = 14;
    return n;
}

static void draw_job(int i, const struct zone *zone, const struct station *station,
                     const struct rulebook *rulebook, int64_t now_s)
{
    struct job *job = &jobs[i];
    snprintf(ids[i], sizeof ids[i], "job-%d", i);
    *job = (struct job){.id = ids[i],
                        .name = ids[i],
                        .zone = zone,
                        .station = station,
                        .station_id = "town",
                        .rulebook_id = "modular-masonry",
                        .options = {.base = BASE_SLAB,
                                    .pad = PAD_NEW,
                                    .place = (enum place)any(PLACE_COUNT),
                                    .permit = true},
                        .latitude_deg = 43.6 + any(100) / 150.0,
                        .longitude_deg = -116.2 + any(100) / 120.0,
                        .records = records[i]};
    job->options.town.build_on_floor_h = NAN;
    job->options.town.request_cutoff_min = 840;
    for (int q = 0; q < QUANTITY_COUNT; q++) job->quantities[q] = 10;
    job->quantities[QUANTITY_COURSES] = 5;
    job->quantities[QUANTITY_CHIMNEY_FT] = 10 + any(8);
    job->quantities[QUANTITY_FLOOR_BRICK] = 36;
    job->quantities[QUANTITY_BACK_BRICK] = 45;
    job->quantities[QUANTITY_SIDE_BRICK] = 56;
    job->quantities[QUANTITY_DRIVE_H] = any(10) / 10.0;
    job->record_count = draw_records(records[i], rulebook, 3 + any(34), now_s);
}

static void measure(const char *what, double aim_ms, const struct casefile *casefile,
                    const struct rulebook *rulebook, int rounds)
{
    struct arena *arena = arena_new();
    const struct plan *plan = NULL;
    double best = 1e18;
    for (int i = 0; i < rounds; i++) {
        arena_reset(arena);
        double begin = now_ms();
        if (planner_run(&plan, casefile, rulebook, arena) != STATUS_OK) exit(70);
        double took = now_ms() - begin;
        if (took < best) best = took;
    }
    size_t pieces = 0, late = 0;
    for (size_t c = 0; c < plan->crew_count; c++)
        for (size_t d = 0; d < plan->crews[c].day_count; d++)
            pieces += plan->crews[c].days[d].work_count;
    for (size_t u = 0; u < plan->unplaced_count; u++)
        late += plan->unplaced[u].why == CREW_UNPLACED_NO_ROOM;
    printf("%-44s %8.2f ms   aim %4.0f ms   %zu pieces, no room for %zu, %.1f MB\n", what, best,
           aim_ms, pieces, late, (double)arena_bytes(arena) / 1e6);
    arena_free(arena);
}

int main(void)
{
    struct rulebook *rulebook;
    struct zone *zone;
    struct faults faults = {0};
    if (rulebook_load_shipped(&rulebook, "modular-masonry", &faults) != STATUS_OK) return 70;
    if (zone_load(&zone, "America/Denver", NULL) != STATUS_OK) return 70;
    for (int i = 0; i < WEATHER_H + AHEAD_H; i++) {
        temp[i] = 9 + 7 * sin(i / 24.0 * 6.2832) + 5 * sin(i / 170.0);
        rain[i] = i % 97 < 3 ? 0.8 : 0;
        wind[i] = 3 + i % 7;
    }
    const int64_t now_s = 1767621600 + 7 * DAY_S; /* a Monday, 07:00 there */
    struct station station = {
        .id = "town",
        .forecast_made_s = now_s,
        .observed = {now_s - (int64_t)WEATHER_H * HOUR_S, WEATHER_H, temp, rain, NULL, wind, NULL},
        .forecast = {now_s, AHEAD_H, temp + WEATHER_H, rain + WEATHER_H, NULL, wind + WEATHER_H,
                     NULL}};
    struct crew crews[10] = {{.id = "c0", .people = 3}, {.id = "c1", .people = 3},
                             {.id = "c2", .people = 2}, {.id = "c3", .people = 3},
                             {.id = "c4", .people = 3}, {.id = "c5", .people = 3},
                             {.id = "c6", .people = 3}, {.id = "c7", .people = 2},
                             {.id = "c8", .people = 3}, {.id = "c9", .people = 4}};
    struct company company = {.zone = zone,
                              .work_days = 0x1f,
                              .hours = {420, 930},
                              .lunch = {720, 750},
                              .crews = crews,
                              .crew_count = 3};
    for (int i = 0; i < JOBS; i++) draw_job(i, zone, &station, rulebook, now_s);
    struct casefile casefile = {.now_s = now_s,
                                .now_zone = zone,
                                .company = company,
                                .stations = &station,
                                .station_count = 1,
                                .jobs = jobs,
                                .job_count = 25};
    measure("25 jobs, 3 crews", 20, &casefile, rulebook, 20);
    struct record *late = &records[3][jobs[3].record_count++];
    *late = record_blank(RECORD_READING, now_s - HOUR_S);
    late->part = PART_PAD;
    late->how = HOW_PROBE;
    late->temp_degc = 6;
    measure("25 jobs, 3 crews, again after one reading", 10, &casefile, rulebook, 20);
    casefile.company.crew_count = 0;
    measure("25 jobs, nobody shared out", 0, &casefile, rulebook, 20);
    casefile.company.crew_count = 10;
    casefile.job_count = 200;
    measure("200 jobs, 10 crews", 300, &casefile, rulebook, 5);
    casefile.company.crew_count = 0;
    measure("200 jobs, nobody shared out", 0, &casefile, rulebook, 5);
    zone_free(zone);
    rulebook_free(rulebook);
    return 0;
}
