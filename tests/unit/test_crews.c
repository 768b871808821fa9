/* SPDX-License-Identifier: MIT */
/* links: planner rulebook sequence compute model base */
/*
 * The proposal for the crews on random companies: what must hold of every one, tried by code that
 * shares nothing with the planner but the calendar, and single situations of the trade.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "compute/civil.h"
#include "planner/calendar.h"
#include "planner/gate_list.h"
#include "planner/planner.h"

enum { HOUR_S = 3600, DAY_S = 86400, HOURS = 336, JOBS = 14, RECORDS = 64, CREWS = 3 };

static struct rulebook *rulebook;
static struct zone *zone;
static struct arena *arena;
static uint32_t state;

static int any(int below)
{
    state = state * 1664525u + 1013904223u;
    return (int)((state >> 8) % (uint32_t)below);
}

struct firm {
    double temp[2 * HOURS], rain[2 * HOURS], wind[2 * HOURS];
    struct record records[JOBS][RECORDS];
    struct job jobs[JOBS];
    char ids[JOBS][16];
    struct crew crews[CREWS];
    struct station station;
    struct casefile casefile;
    struct calendar calendar;
};
static struct firm firm;

static const int64_t monday_s = 1767621600; /* 2026-01-05 07:00 in Denver */

static bool ours(enum task task)
{
    return rulebook->tasks[task].who == WHO_CREW || rulebook->tasks[task].who == WHO_MASON;
}

static size_t draw_records(struct record *r, int stage, int64_t now_s)
{
    size_t n = 0;
    int64_t at_s = now_s - (int64_t)(stage + 1) * 26 * HOUR_S;
    for (int t = 0; t < stage; t++, at_s += 26 * HOUR_S) {
        r[n] = record_blank(rulebook->tasks[t].hold ? RECORD_PASSED : RECORD_DONE, at_s);
        r[n++].task = (enum task)t;
    }
    if (any(3) == 0) {
        r[n] = record_blank(RECORD_STARTED, now_s - HOUR_S);
        r[n++].task = (enum task)stage;
    }
    return n;
}

static void draw_job(int i, int stage)
{
    struct job *job = &firm.jobs[i];
    snprintf(firm.ids[i], sizeof firm.ids[i], "job-%d", i);
    *job = (struct job){.id = firm.ids[i],
                        .name = firm.ids[i],
                        .zone = zone,
                        .station = &firm.station,
                        .station_id = "town",
                        .rulebook_id = "modular-masonry",
                        .latitude_deg = NAN,
                        .longitude_deg = NAN,
                        .records = firm.records[i]};
    job->options = (struct options){.base = (enum base)any(BASE_COUNT),
                                    .pad = PAD_NEW,
                                    .place = (enum place)any(PLACE_COUNT),
                                    .lighter = (enum lighter)any(LIGHTER_COUNT),
                                    .outside_air = any(2) == 0,
                                    .permit = any(4) != 0,
                                    .propped = any(2) == 0};
    job->options.town.build_on_floor_h = NAN;
    job->options.town.request_cutoff_min = any(2) ? 840 : -1;
    job->options.town.throat_look = any(3) == 0;
    for (int q = 0; q < QUANTITY_COUNT; q++) job->quantities[q] = 8 + any(8);
    job->quantities[QUANTITY_CHIMNEY_FT] = 8 + any(14);
    job->quantities[QUANTITY_DRIVE_H] = any(10) / 10.0;
    if (any(12) == 0) job->quantities[QUANTITY_FLOOR_BRICK] = NAN;
    const int where = any(4);
    if (where == 0) { /* one of ten places on the map */
        job->latitude_deg = 43.6 + any(10) / 30.0;
        job->longitude_deg = -116.2;
        job->quantities[QUANTITY_DRIVE_H] = 0.5;
    } else if (where == 1) { /* units at one address */
        job->address = "12 Alder Lane";
        job->quantities[QUANTITY_DRIVE_H] = 0.3;
    }
    if (any(4) == 0) job->crew_id = firm.crews[any(CREWS)].id;
    job->record_count = draw_records(firm.records[i], stage, firm.casefile.now_s);
}

static void draw_firm(uint32_t seed)
{
    memset(&firm, 0, sizeof firm);
    state = seed * 2654435761u + 17;
    for (int i = 0; i < 2 * HOURS; i++) {
        firm.temp[i] = 2 + seed % 9 + 7 * sin(i / 24.0 * 6.2832) + 5 * sin(i / 170.0);
        firm.rain[i] = i % 61 < 5 ? 1.2 : 0;
        firm.wind[i] = 2 + i % 12;
    }
    firm.casefile.now_s = monday_s + any(7) * DAY_S + any(24) * HOUR_S + any(60) * 60;
    const int64_t hour_s = firm.casefile.now_s - firm.casefile.now_s % HOUR_S;
    firm.station = (struct station){
        .id = "town",
        .forecast_made_s = hour_s,
        .observed = {hour_s - HOURS * HOUR_S, HOURS, firm.temp, firm.rain, NULL, firm.wind, NULL},
        .forecast = {hour_s, HOURS, firm.temp + HOURS, firm.rain + HOURS, NULL, firm.wind + HOURS,
                     NULL}};
    static const char *const names[CREWS] = {"north", "south", "west"};
    for (int c = 0; c < CREWS; c++)
        firm.crews[c] = (struct crew){.id = names[c], .people = 2 + any(2)};
    firm.casefile.now_zone = zone;
    firm.casefile.company = (struct company){.zone = zone,
                                             .work_days = 0x1f,
                                             .hours = {420, 930},
                                             .lunch = {720, 750},
                                             .crews = firm.crews,
                                             .crew_count = 1 + (size_t)any(CREWS)};
    firm.casefile.stations = &firm.station;
    firm.casefile.station_count = 1;
    firm.casefile.jobs = firm.jobs;
    firm.casefile.job_count = 1 + (size_t)any(JOBS);
    for (int i = 0; i < JOBS; i++) draw_job(i, 3 + any(34));
    calendar_of_company(&firm.calendar, &firm.casefile.company);
}

static const struct plan *plan(void)
{
    const struct plan *out;
    ck_assert_int_eq(planner_run(&out, &firm.casefile, rulebook, arena), STATUS_OK);
    return out;
}

/* --- what must hold of every proposal ------------------------------------------------------------
 */

struct stay {
    const struct crew_work *work;
    const struct crew *crew;
};

static struct stay stays[4096];
static size_t stay_count;

static void gather(const struct plan *p)
{
    stay_count = 0;
    for (size_t c = 0; c < p->crew_count; c++)
        for (size_t d = 0; d < p->crews[c].day_count; d++)
            for (size_t i = 0; i < p->crews[c].days[d].work_count; i++) {
                ck_assert(stay_count < 4096);
                stays[stay_count++] = (struct stay){&p->crews[c].days[d].work[i], p->crews[c].crew};
            }
}

static const struct job_plan *job_of(const struct plan *p, const struct job *job)
{
    return &p->jobs[job - firm.jobs];
}

/* Working hours of the company between two instants of one day. */
static double worked_h(int64_t from_s, int64_t until_s)
{
    return calendar_left_h(&firm.calendar, from_s) - calendar_left_h(&firm.calendar, until_s);
}

static bool one_place(const struct job *a, const struct job *b)
{
    return a == b || (a->address != NULL && b->address != NULL) ||
           (a->latitude_deg == b->latitude_deg && a->longitude_deg == b->longitude_deg);
}

static void days_are_kept(const struct plan *p, uint32_t seed)
{
    for (size_t i = 0; i < stay_count; i++) {
        const struct crew_work *w = stays[i].work;
        const struct job_plan *job = job_of(p, w->job);
        const struct task_plan *own = &job->tasks[w->task];
        int32_t day = civil_day_of(zone, w->start_s);
        ck_assert_msg(w->start_s < w->finish_s && civil_day_of(zone, w->finish_s) == day,
                      "seed %u: %s %s is not within a day", seed, w->job->id,
                      task_ids.ids[w->task]);
        ck_assert_msg(w->start_s >= firm.casefile.now_s, "seed %u: in the past", seed);
        ck_assert_msg(calendar_start_s(&firm.calendar, w->start_s, 0) == w->start_s &&
                          calendar_start_s(&firm.calendar, w->finish_s - 1, 0) == w->finish_s - 1,
                      "seed %u: %s %s outside working hours", seed, w->job->id,
                      task_ids.ids[w->task]);
        if (w->task == TASK_NIGHT_COVER) continue;
        ck_assert_msg(gate_closed_from_s(job, w->task, w->start_s, w->finish_s) == INSTANT_NONE,
                      "seed %u: %s %s in closed weather", seed, w->job->id, task_ids.ids[w->task]);
        ck_assert_msg(w->start_s >= own->start_s, "seed %u: %s %s before its own plan", seed,
                      w->job->id, task_ids.ids[w->task]);
        ck_assert_int_ge(stays[i].crew->people, rulebook->tasks[w->task].people);
    }
}

static void nobody_is_in_two_places(uint32_t seed)
{
    for (size_t i = 0; i < stay_count; i++)
        for (size_t k = 0; k < stay_count; k++) {
            const struct crew_work *a = stays[i].work, *b = stays[k].work;
            if (i == k || a->start_s > b->start_s || (a->start_s == b->start_s && i > k)) continue;
            bool apart = a->finish_s <= b->start_s;
            ck_assert_msg(apart || stays[i].crew != stays[k].crew, "seed %u: crew %s at %s and %s",
                          seed, stays[i].crew->id, a->job->id, b->job->id);
            ck_assert_msg(apart || !one_place(a->job, b->job), "seed %u: two crews at %s", seed,
                          a->job->id);
        }
    for (size_t i = 1; i < stay_count; i++) {
        const struct crew_work *a = stays[i - 1].work, *b = stays[i].work;
        if (stays[i - 1].crew != stays[i].crew || one_place(a->job, b->job)) continue;
        if (civil_day_of(zone, a->start_s) != civil_day_of(zone, b->start_s)) continue;
        ck_assert_msg(
            worked_h(a->finish_s, b->start_s) >= b->drive_h - 1e-6,
            "seed %u: no time to drive from %s of %s (to %lld) to %s of %s (%lld, %.2f h)", seed,
            task_ids.ids[a->task], a->job->id, (long long)a->finish_s, task_ids.ids[b->task],
            b->job->id, (long long)b->start_s, b->drive_h);
        ck_assert_msg(b->drive_h > 0 || a->job->quantities[QUANTITY_DRIVE_H] == 0 ||
                          b->job->quantities[QUANTITY_DRIVE_H] == 0,
                      "seed %u: a drive of nothing", seed);
    }
}

/* First start, last finish and hours of a task in the proposal; false: not there. */
static bool placed(const struct job *job, enum task task, int64_t *start_s, int64_t *finish_s,
                   double *hours)
{
    bool found = false;
    *hours = 0;
    for (size_t i = 0; i < stay_count; i++) {
        const struct crew_work *w = stays[i].work;
        if (w->job != job || w->task != task) continue;
        if (!found || w->start_s < *start_s) *start_s = w->start_s;
        if (!found || w->finish_s > *finish_s) *finish_s = w->finish_s;
        *hours += worked_h(w->start_s, w->finish_s);
        found = true;
    }
    return found;
}

static bool unplaced(const struct plan *p, const struct job *job, enum task task)
{
    for (size_t i = 0; i < p->unplaced_count; i++)
        if (p->unplaced[i].job == job && p->unplaced[i].task == task) return true;
    return false;
}

static bool over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

static void every_task_is_there_or_said(const struct plan *p, uint32_t seed)
{
    for (size_t j = 0; j < p->job_count; j++)
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *own = &p->jobs[j].tasks[t];
            const struct job *job = p->jobs[j].job;
            int64_t start_s = 0, finish_s = 0;
            double hours;
            if (over(own) || !ours((enum task)t)) continue;
            bool here = placed(job, (enum task)t, &start_s, &finish_s, &hours);
            bool said = unplaced(p, job, (enum task)t);
            ck_assert_msg(here || said, "seed %u: %s of %s was dropped", seed, task_ids.ids[t],
                          job->id);
            if (said || t == TASK_NIGHT_COVER || own->state == TASK_STATE_WORKING) continue;
            ck_assert_msg(hours >= own->hours - 1e-6, "seed %u: %s of %s gets %.2f of %.2f h", seed,
                          task_ids.ids[t], job->id, hours, own->hours);
        }
}

/* The order of the work, and the waits as long as the job's own plan has them. */
static void order_and_waits_are_kept(const struct plan *p, uint32_t seed)
{
    for (size_t j = 0; j < p->job_count; j++)
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct job *job = p->jobs[j].job;
            const struct task_plan *own = &p->jobs[j].tasks[t];
            int64_t start_s = 0, finish_s = 0, from_s = 0, until_s = 0;
            double hours;
            if (t == TASK_NIGHT_COVER || !placed(job, (enum task)t, &start_s, &finish_s, &hours))
                continue;
            for (size_t l = 0; l < rulebook->tasks[t].link_count; l++) {
                const struct task_link *link = &rulebook->tasks[t].links[l];
                if (link->kind != LINK_AFTER || !ours(link->task)) continue;
                if (!rulebook_holds(link->when, link->when_count, &job->options)) continue;
                if (over(&p->jobs[j].tasks[link->task])) continue;
                ck_assert_msg(placed(job, link->task, &from_s, &until_s, &hours) &&
                                  start_s >= until_s + llround(link->wait_h * HOUR_S),
                              "seed %u: %s of %s before %s", seed, task_ids.ids[t], job->id,
                              task_ids.ids[link->task]);
            }
            for (size_t b = 0; b < own->because_count; b++) {
                const struct reason *reason = &own->because[b];
                if (reason->kind != REASON_CLOCK_NOT_STARTED || reason->until_s == INSTANT_NONE)
                    continue;
                const struct clock_rule *clock = &rulebook->clocks[reason->clock];
                if (clock->start_count != 1 || clock->starts[0].task == TASK_NONE) continue;
                const enum task began = clock->starts[0].task;
                if (!placed(job, began, &from_s, &until_s, &hours)) continue;
                int64_t wait_s = reason->until_s - p->jobs[j].tasks[began].finish_s;
                ck_assert_msg(start_s >= until_s + wait_s - 600,
                              "seed %u: the wait of %s between %s and %s is cut short", seed,
                              clock_ids.ids[reason->clock], task_ids.ids[began], task_ids.ids[t]);
            }
        }
}

START_TEST(what_must_hold_of_every_proposal_holds_on_random_companies)
{
    size_t pieces = 0;
    for (uint32_t seed = 1; seed <= 100; seed++) {
        arena_reset(arena);
        draw_firm(seed);
        const struct plan *p = plan();
        gather(p);
        days_are_kept(p, seed);
        nobody_is_in_two_places(seed);
        every_task_is_there_or_said(p, seed);
        order_and_waits_are_kept(p, seed);
        pieces += stay_count;
    }
    ck_assert_int_gt(pieces, 2000);
}
END_TEST

/* --- changes -------------------------------------------------------------------------------------
 */

static struct crew_kept kept[4096];

/* Today's proposal is handed back tomorrow. */
static void keep(void)
{
    for (size_t i = 0; i < stay_count; i++)
        kept[i] = (struct crew_kept){stays[i].crew->id, stays[i].work->job->id, stays[i].work->task,
                                     stays[i].work->start_s};
    firm.casefile.proposal = kept;
    firm.casefile.proposal_count = stay_count;
}

/* A longer search may still gain something where crews are short, but most of it stays. */
START_TEST(a_proposal_handed_back_mostly_stays_as_it_is)
{
    size_t all = 0, changed = 0;
    for (uint32_t seed = 1; seed <= 30; seed++) {
        arena_reset(arena);
        draw_firm(seed);
        gather(plan());
        keep();
        gather(plan());
        all += stay_count;
        for (size_t i = 0; i < stay_count; i++)
            changed += stays[i].work->change.kind != CREW_CHANGE_NONE;
    }
    ck_assert_msg(changed * 5 <= all, "%zu of %zu pieces changed with nothing new", changed, all);
}
END_TEST

START_TEST(every_change_says_what_it_was_and_why)
{
    size_t gone = 0;
    for (uint32_t seed = 1; seed <= 30; seed++) {
        arena_reset(arena);
        draw_firm(seed);
        if (firm.casefile.company.crew_count < 2) continue;
        gather(plan());
        keep();
        firm.casefile.company.crew_count--; /* a crew is not there any more */
        const struct plan *p = plan();
        gather(p);
        for (size_t i = 0; i < stay_count; i++) {
            const struct crew_change *change = &stays[i].work->change;
            if (change->kind == CREW_CHANGE_NONE || change->kind == CREW_CHANGE_NEW) continue;
            ck_assert_ptr_nonnull(change->was_crew_id);
            ck_assert_int_ne(change->was_start_s, INSTANT_NONE);
            ck_assert_int_ne(change->why, CREW_CHANGE_WHY_NONE);
            gone += change->why == CREW_CHANGE_WHY_CREW_GONE;
            if (change->why == CREW_CHANGE_WHY_CREW_BUSY)
                ck_assert_ptr_nonnull(change->instead_job);
        }
        for (size_t k = 0; k < firm.casefile.proposal_count; k++) {
            bool there = kept[k].task == TASK_NIGHT_COVER;
            for (size_t i = 0; i < stay_count && !there; i++)
                there = stays[i].work->task == kept[k].task &&
                        strcmp(stays[i].work->job->id, kept[k].job_id) == 0;
            for (size_t u = 0; u < p->unplaced_count && !there; u++)
                there = p->unplaced[u].task == kept[k].task &&
                        strcmp(p->unplaced[u].job->id, kept[k].job_id) == 0 &&
                        p->unplaced[u].change.kind == CREW_CHANGE_LEFT_OUT;
            ck_assert_msg(there, "seed %u: %s vanished", seed, task_ids.ids[kept[k].task]);
        }
    }
    ck_assert_int_gt(gone, 10);
}
END_TEST

/* --- single situations ---------------------------------------------------------------------------
 */

/* Jobs that only wait to be lined, all near by, no weather, Monday morning. */
static void lined_jobs(int count, size_t crew_count)
{
    draw_firm(1);
    firm.casefile.now_s = monday_s - HOUR_S;
    for (int i = 0; i < 2 * HOURS; i++) {
        firm.temp[i] = 18;
        firm.rain[i] = 0;
    }
    firm.casefile.company.crew_count = crew_count;
    firm.casefile.job_count = (size_t)count;
    for (int i = 0; i < count; i++) {
        struct job *job = &firm.jobs[i];
        draw_job(i, TASK_LINE_FLOOR);
        job->options = (struct options){.place = PLACE_INDOOR, .permit = false};
        job->options.town.build_on_floor_h = NAN;
        job->options.town.request_cutoff_min = -1;
        for (int q = 0; q < QUANTITY_COUNT; q++) job->quantities[q] = 10;
        job->quantities[QUANTITY_DRIVE_H] = 0.25;
        job->latitude_deg = NAN;
        job->address = NULL;
        job->crew_id = NULL;
        state = 3;
        job->record_count = draw_records(firm.records[i], TASK_LINE_FLOOR, firm.casefile.now_s);
    }
    for (int c = 0; c < CREWS; c++) firm.crews[c].people = 3;
}

START_TEST(a_crew_too_small_is_not_sent_and_the_reason_is_said)
{
    lined_jobs(1, 1);
    firm.crews[0].people = 1;
    const struct plan *p = plan();
    gather(p);
    for (size_t i = 0; i < stay_count; i++) ck_assert_int_ne(stays[i].work->task, TASK_LINE_FLOOR);
    bool floor = false, behind = false;
    for (size_t u = 0; u < p->unplaced_count; u++) {
        floor = floor || (p->unplaced[u].task == TASK_LINE_FLOOR &&
                          p->unplaced[u].why == CREW_UNPLACED_NO_CREW);
        behind = behind || (p->unplaced[u].task == TASK_TAG_HANG &&
                            p->unplaced[u].why == CREW_UNPLACED_BEHIND);
    }
    ck_assert(floor && behind);
}
END_TEST

START_TEST(two_crews_share_four_jobs_evenly)
{
    lined_jobs(4, 2);
    const struct plan *p = plan();
    double hours[2] = {0, 0};
    for (size_t c = 0; c < 2; c++)
        for (size_t d = 0; d < p->crews[c].day_count && d < 2; d++)
            for (size_t i = 0; i < p->crews[c].days[d].work_count; i++)
                hours[c] += worked_h(p->crews[c].days[d].work[i].start_s,
                                     p->crews[c].days[d].work[i].finish_s);
    ck_assert_msg(hours[0] > 3 && hours[1] > 3, "%.1f and %.1f h", hours[0], hours[1]);
}
END_TEST

START_TEST(a_free_half_day_names_what_else_is_near)
{
    lined_jobs(2, 2);
    firm.jobs[1].crew_id = "north"; /* the other crew has nothing of its own there */
    firm.jobs[0].crew_id = "north";
    const struct plan *p = plan();
    const struct crew_day *day = &p->crews[1].days[0];
    ck_assert_int_eq(day->work_count, 0);
    ck_assert_double_ge(day->free_h, 4);
    ck_assert_int_gt(day->could_count, 0);
    ck_assert_int_eq(day->could[0].task, TASK_LINE_FLOOR);
    ck_assert_double_le(day->could[0].drive_h, 0.34);
}
END_TEST

START_TEST(a_week_counts_the_crew_days_had_and_needed)
{
    lined_jobs(3, 2);
    const struct plan *p = plan();
    ck_assert_int_eq(p->week_count, 3);
    ck_assert_double_eq_tol(p->weeks[0].had_days, 10, 1e-9);
    ck_assert_double_gt(p->weeks[0].needed_days, 1);
    ck_assert_double_gt(p->weeks[0].placed_days, p->weeks[0].needed_days - 0.5);
    ck_assert_int_eq(p->weeks[0].short_jobs, 0);
}
END_TEST

START_TEST(the_truck_is_loaded_for_the_day)
{
    lined_jobs(1, 1);
    const struct crew_day *day = &plan()->crews[0].days[0];
    ck_assert_int_gt(day->work_count, 0);
    ck_assert(day->load >> CREW_LOAD_FIREBRICK & 1);
    ck_assert(day->load >> CREW_LOAD_SPACERS & 1);
    ck_assert(day->load >> CREW_LOAD_MORTAR & 1);
    ck_assert(!(day->load >> CREW_LOAD_SCAFFOLD & 1));
    ck_assert_double_eq_tol(day->drive_h, 0.5, 1e-9); /* there and home */
}
END_TEST

static void set_up(void)
{
    struct faults faults = {0};
    arena = arena_new();
    ck_assert_int_eq(rulebook_load_shipped(&rulebook, "modular-masonry", &faults), STATUS_OK);
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
}

static void tear_down(void)
{
    rulebook_free(rulebook);
    zone_free(zone);
    arena_free(arena);
}

int main(void)
{
    const TTest *const sentences[] = {
        what_must_hold_of_every_proposal_holds_on_random_companies,
        a_proposal_handed_back_mostly_stays_as_it_is,
        every_change_says_what_it_was_and_why,
        a_crew_too_small_is_not_sent_and_the_reason_is_said,
        two_crews_share_four_jobs_evenly,
        a_free_half_day_names_what_else_is_near,
        a_week_counts_the_crew_days_had_and_needed,
        the_truck_is_loaded_for_the_day,
    };
    Suite *suite = suite_create("crews");
    TCase *tests = tcase_create("crews");
    tcase_set_timeout(tests, 300);
    tcase_add_checked_fixture(tests, set_up, tear_down);
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++)
        tcase_add_test(tests, sentences[i]);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
