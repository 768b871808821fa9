/* SPDX-License-Identifier: MIT */
/* links: planner rulebook */
/*
 * Outlook: whatever is looked up in sums of past years must be what a plan gives when that year's
 * hours are laid behind the forecast one by one. Random jobs, stations and years: leap days, gaps,
 * years cut short, winters across new year, a station that moved (its record in two pieces).
 */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/zone.h"
#include "compute/civil.h"
#include "planner/outlook.h"
#include "planner/planner.h"

enum { HOUR_S = 3600, DAY_S = 86400, YEARS = 7, RECORDS = 40, AHEAD_H = 365 * 24, CASES = 150 };

static struct rulebook *book;
static struct zone *zones[4];
static const char *const zone_names[4] = {"America/Denver", "Europe/London", "Pacific/Auckland",
                                          "Asia/Kolkata"};
static struct arena *scratch;

static void set_up(void)
{
    struct faults faults = {0};
    ck_assert_int_eq(rulebook_load_shipped(&book, "modular-masonry", &faults), STATUS_OK);
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(zone_load(&zones[i], zone_names[i], NULL), STATUS_OK);
    scratch = arena_new();
}

static void tear_down(void)
{
    for (int i = 0; i < 4; i++) zone_free(zones[i]);
    rulebook_free(book);
    arena_free(scratch);
}

/* --- chance ----------------------------------------------------------------------------------- */

static uint64_t seed;

static uint32_t draw(uint32_t below)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return (uint32_t)(seed >> 32) % below;
}

static double draw_between(double low, double high)
{
    return low + (high - low) * draw(1000001) / 1e6;
}

/* --- a station -------------------------------------------------------------------------------- */

static void draw_hours(struct series *out, int64_t start_s, size_t count, double base)
{
    *out = (struct series){.start_s = start_s, .count = count};
    out->temp_degc = ARENA_TAKE(scratch, count, double);
    out->rain_mm = ARENA_TAKE(scratch, count, double);
    double front = 0;
    for (size_t i = 0; i < count; i++) {
        const double at = (double)(start_s / HOUR_S + (int64_t)i);
        if (draw(60) == 0) front = draw_between(-9, 7);
        const double season = -9 * cos((at / 24 - 20) / 365.25 * 6.2831853);
        const double degc = base + season + front + 5 * sin((at - 9) / 24 * 6.2831853);
        out->temp_degc[i] = round(degc * 10) / 10;
        out->rain_mm[i] = draw(60) == 0 ? round(draw_between(0.3, 8) * 10) / 10 : 0;
    }
}

/* Holes of a few hours, of days, and figures that are missing alone. */
static void make_gaps(struct series *hours)
{
    const uint32_t holes = draw(6);
    for (uint32_t k = 0; k < holes; k++) {
        size_t at = draw((uint32_t)hours->count);
        for (uint32_t i = draw(draw(3) == 0 ? 200 : 6) + 1; i > 0 && at < hours->count; i--, at++) {
            hours->temp_degc[at] = NAN;
            if (k % 2 == 0) hours->rain_mm[at] = NAN;
        }
    }
}

/* Seven years: alone or in one record, from new year or from any day, some cut short. */
static void draw_history(struct station *station, double base)
{
    station->history = ARENA_TAKE(scratch, YEARS, struct series);
    const int64_t start_s =
        (int64_t)civil_day(2008 + (int)draw(9), draw(2) == 0 ? 1 : 7, 1) * DAY_S +
        (draw(3) == 0 ? 7 * HOUR_S : 0);
    if (draw(3) == 0) { /* one record, and another after the station moved */
        station->history_count = 2;
        draw_hours(&station->history[0], start_s, 4 * 365 * 24 + 24 + draw(4000), base);
        draw_hours(&station->history[1], start_s + 5LL * 366 * DAY_S, 3 * 366 * 24, base + 1);
    } else {
        station->history_count = YEARS;
        for (int y = 0; y < YEARS; y++) {
            size_t count = 366 * 24;
            if (draw(5) == 0) count -= draw(8000);
            draw_hours(&station->history[y], start_s + y * 365LL * DAY_S, count, base);
        }
    }
    for (size_t i = 0; i < station->history_count; i++) make_gaps(&station->history[i]);
}

/* --- a job ------------------------------------------------------------------------------------ */

struct drawn {
    struct job job;
    struct station station;
    struct record records[RECORDS];
    int64_t now_s;
};

static struct record *add(struct drawn *d, enum record_kind kind, int64_t at_s)
{
    ck_assert_uint_lt(d->job.record_count, RECORDS);
    struct record *r = &d->records[d->job.record_count++];
    *r = record_blank(kind, at_s);
    r->id = "r";
    return r;
}

static int64_t before(const struct drawn *d, uint32_t hours_most)
{
    return d->now_s - (int64_t)draw(hours_most) * HOUR_S - (int64_t)draw(60) * 60;
}

static void draw_pad(struct drawn *d)
{
    int64_t pour_s = before(d, 60);
    add(d, RECORD_DONE, pour_s)->task = TASK_PAD_POUR;
    if (draw(2) == 0) add(d, RECORD_WET_COVER_ON, pour_s + HOUR_S)->part = PART_PAD;
    if (draw(3) == 0) {
        struct record *r = add(d, RECORD_CLOSED_IN, pour_s);
        r->part = PART_PAD;
        r->shelter = draw(2) == 0 ? SHELTER_BLANKET : SHELTER_ROOM;
    }
    for (uint32_t i = draw(4); i > 0; i--) {
        struct record *r = add(d, RECORD_READING, before(d, 50));
        r->part = PART_PAD;
        r->how = draw(4) == 0 ? HOW_AIR : draw(5) == 0 ? HOW_IMPRESSION : HOW_PROBE;
        r->temp_degc = draw_between(3, 20);
    }
    if (draw(4) == 0) {
        struct record *r = add(d, RECORD_OVERRIDDEN, pour_s);
        r->clock = draw(2) == 0 ? CLOCK_PAD_BUILD_ON : CLOCK_PAD_STRIP;
        r->floor_h = draw(2) == 0 ? 90 : NAN;
        r->need = draw(2) == 0 ? 60 : NAN;
    }
}

static void draw_mortar(struct drawn *d)
{
    if (draw(2) == 0) {
        struct record *bag = add(d, RECORD_BAG, before(d, 40) - 40 * HOUR_S);
        bag->lot = "7";
        bag->mortar = draw(3) == 0 ? MORTAR_AIR_DRYING : MORTAR_POLYMER;
        bag->bag_min_degc = draw_between(2, 10);
    }
    add(d, RECORD_DONE, before(d, 30))->task = TASK_TRANSITION_SET;
    if (draw(4) == 0) {
        struct record *r = add(d, RECORD_ACCEPTED, before(d, 4));
        r->clock = draw(2) == 0 ? CLOCK_BED_SET : CLOCK_UNIT_DRY_CURE;
        r->by = "Ana";
        r->reason = "taken over";
    }
}

static void draw_unit(struct drawn *d)
{
    int64_t lined_s = before(d, 600);
    if (draw(3) != 0) add(d, RECORD_DONE, lined_s - 30 * HOUR_S)->task = TASK_CAP_SET;
    add(d, RECORD_DONE, lined_s - 20 * HOUR_S)->task = TASK_CHIMNEY_RUN;
    add(d, RECORD_DONE, lined_s)->task = TASK_LINE_CLEAN;
    if (draw(4) == 0) add(d, RECORD_FACING, before(d, 300));
    for (uint32_t i = draw(3); i > 0; i--) {
        struct record *r = add(d, RECORD_PATCHED, before(d, 200));
        r->days = draw(2) == 0 ? 7 : 28;
        r->initials = "A.";
    }
    if (draw(3) == 0) {
        struct record *soaked = add(d, RECORD_SOAKED, before(d, 60));
        soaked->part = PART_UNIT;
        soaked->standing = draw(2) == 0;
    }
    if (draw(6) == 0) add(d, RECORD_WRAPPED, before(d, 100));
    if (draw(5) == 0) add(d, RECORD_UNWRAPPED, before(d, 10));
    if (draw(3) == 0) add(d, RECORD_COVERED, before(d, 200) - 40 * HOUR_S);
    if (draw(2) == 0) add(d, RECORD_UNCOVERED, before(d, 40));
    if (draw(5) == 0) {
        struct record *r = add(d, RECORD_CLOSED_IN, before(d, 100));
        r->part = PART_UNIT;
        r->shelter = draw(2) == 0 ? SHELTER_BLANKET : SHELTER_ROOM;
        r = add(d, RECORD_READING, d->now_s - HOUR_S);
        r->part = PART_UNIT;
        r->how = HOW_PROBE;
        r->temp_degc = draw_between(4, 18);
    }
}

static void draw_case(struct drawn *d)
{
    static const enum place places[] = {PLACE_EXPOSED, PLACE_EXPOSED, PLACE_COVERED, PLACE_INDOOR};
    const double base = draw_between(4, 18);
    arena_reset(scratch);
    *d = (struct drawn){.now_s = ((int64_t)civil_day(2024, 1, 1) + draw(800)) * DAY_S +
                                 (int64_t)draw(86400)};
    const int64_t hour_s = d->now_s - d->now_s % HOUR_S;
    d->station = (struct station){.id = "town", .forecast_made_s = INSTANT_NONE};
    draw_hours(&d->station.observed, hour_s - 1000 * HOUR_S, 1001, base);
    if (draw(4) != 0) draw_hours(&d->station.forecast, hour_s, 1 + draw(200), base);
    draw_history(&d->station, base);
    d->job = (struct job){.id = "j",
                          .name = "J",
                          .zone = zones[draw(4)],
                          .station_id = "town",
                          .station = &d->station,
                          .rulebook_id = "modular-masonry",
                          .options = {.place = places[draw(4)], .permit = true},
                          .site_offset_degc = draw(3) == 0 ? -1.7 : 0,
                          .records = d->records};
    d->job.options.town.build_on_floor_h = NAN;
    d->job.options.town.request_cutoff_min = -1;
    for (int i = 0; i < QUANTITY_COUNT; i++) d->job.quantities[i] = 10;
    draw_pad(d);
    if (draw(4) == 0) return; /* the whole work is ahead */
    draw_mortar(d);
    draw_unit(d);
}

/* --- by hand ---------------------------------------------------------------------------------- */

/* Which years there are: the pieces of a record between anniversaries of its start. */
static size_t years_of(struct series out[40], const struct station *station)
{
    size_t n = 0;
    for (size_t i = 0; i < station->history_count; i++) {
        const struct series *all = &station->history[i];
        int year, month, day;
        civil_date((int32_t)(all->start_s / DAY_S), &year, &month, &day);
        for (int k = 0;; k++) {
            int64_t from_s =
                k == 0 ? all->start_s
                       : (int64_t)civil_day(year + k, month, day) * DAY_S + all->start_s % DAY_S;
            int64_t left = (int64_t)all->count - (from_s - all->start_s) / HOUR_S;
            if (left <= 0 || (k > 0 && left < 365 * 12)) break;
            out[n] = *all;
            out[n].start_s = from_s;
            out[n].temp_degc += (from_s - all->start_s) / HOUR_S;
            out[n].rain_mm += (from_s - all->start_s) / HOUR_S;
            out[n++].count = (size_t)(left > 366 * 24 ? 366 * 24 : left);
        }
    }
    return n;
}

static int64_t same_hour(int64_t at_s, int year)
{
    int of_year, month, day;
    civil_date((int32_t)(at_s / DAY_S), &of_year, &month, &day);
    if (month == 2 && day == 29 && !civil_date_valid(year, 2, 29)) day = 28;
    return (int64_t)civil_day(year, month, day) * DAY_S + at_s % DAY_S;
}

/* The forecast, and behind it the year's hours. */
static void lay_behind(struct station *out, const struct station *station,
                       const struct series *past, int64_t now_s)
{
    const struct series *f = &station->forecast;
    int64_t from_s = now_s - now_s % HOUR_S + HOUR_S;
    int64_t start_s = f->count > 0 ? f->start_s : from_s;
    if (f->count > 0 && f->start_s + (int64_t)f->count * HOUR_S > now_s)
        from_s = f->start_s + (int64_t)f->count * HOUR_S;
    size_t count = (size_t)((from_s - start_s) / HOUR_S) + AHEAD_H;
    *out = *station;
    out->history_count = 0;
    out->forecast = (struct series){.start_s = start_s, .count = count};
    out->forecast.temp_degc = ARENA_TAKE(scratch, count, double);
    out->forecast.rain_mm = ARENA_TAKE(scratch, count, double);
    int year, month, day;
    civil_date((int32_t)(past->start_s / DAY_S), &year, &month, &day);
    for (size_t i = 0; i < count; i++) {
        int64_t at_s = start_s + (int64_t)i * HOUR_S;
        out->forecast.temp_degc[i] = out->forecast.rain_mm[i] = NAN;
        if (at_s < from_s) {
            out->forecast.temp_degc[i] = f->temp_degc[i];
            out->forecast.rain_mm[i] = f->rain_mm[i];
            continue;
        }
        for (int k = 1; k >= 0; k--) {
            int64_t hour = (same_hour(at_s, year + k) - past->start_s) / HOUR_S;
            if (same_hour(at_s, year + k) < past->start_s || hour >= (int64_t)past->count) continue;
            out->forecast.temp_degc[i] = past->temp_degc[hour];
            out->forecast.rain_mm[i] = past->rain_mm[hour];
        }
    }
}

static const struct clock_plan *clock_in(const struct job_plan *plan, enum clock_id clock)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == clock) return &plan->clocks[i];
    return NULL;
}

static int64_t rank_by_hand(int64_t values[], size_t count, int tenths)
{
    for (size_t i = 1; i < count; i++)
        for (size_t k = i; k > 0; k--) {
            bool later = values[k - 1] == INSTANT_NONE ||
                         (values[k] != INSTANT_NONE && values[k - 1] > values[k]);
            if (!later) break;
            int64_t moved = values[k];
            values[k] = values[k - 1];
            values[k - 1] = moved;
        }
    return values[(count * (size_t)tenths + 9) / 10 - 1];
}

static const struct company company = {
    .work_days = 0x1f, .hours = {420, 930}, .lunch = {720, 750}, .name = "C"};

static void plan_of(struct job_plan *out, const struct job *job, int64_t now_s,
                    struct past_cache *cache)
{
    struct company here = company;
    here.zone = zones[0];
    enum status status = cache == NULL
                             ? planner_job(out, job, &here, book, now_s, scratch)
                             : planner_job_sharing(out, job, &here, book, now_s, scratch, cache);
    ck_assert_int_eq(status, STATUS_OK);
}

#define ck_same(a, b, what, number)                                                                \
    ck_assert_msg((a) == (b), "case %llu: %s of %s: %lld, by hand %lld",                           \
                  (unsigned long long)(number), what, id_of(&clock_ids, c), (long long)(a),        \
                  (long long)(b))

/* --- tests ------------------------------------------------------------------------------------ */

START_TEST(every_clock_ranks_as_when_each_year_is_laid_behind_the_forecast)
{
    static struct drawn d;
    seed = 88172645463325252ULL + (uint64_t)_i * 7919;
    draw_case(&d);
    struct job_plan plan;
    plan_of(&plan, &d.job, d.now_s, NULL);
    struct series years[40];
    const size_t count = years_of(years, &d.station);
    static int64_t at_s[CLOCK_COUNT][40], fire_s[40], begins_s[TASK_COUNT][40];
    for (size_t y = 0; y < count; y++) {
        struct station laid;
        struct job job = d.job;
        struct job_plan year;
        job.station = &laid;
        lay_behind(&laid, &d.station, &years[y], d.now_s);
        plan_of(&year, &job, d.now_s, NULL);
        for (int c = 0; c < CLOCK_COUNT; c++) {
            const struct clock_plan *clock = clock_in(&year, (enum clock_id)c);
            at_s[c][y] = clock == NULL ? INSTANT_NONE : clock->crossing_s;
        }
        for (int t = 0; t < TASK_COUNT; t++) begins_s[t][y] = year.tasks[t].start_s;
        fire_s[y] =
            year.fire.cure_complete_day == DAY_NONE ? INSTANT_NONE : year.fire.cure_complete_day;
    }
    for (int c = 0; c < CLOCK_COUNT; c++) {
        const struct clock_plan *clock = clock_in(&plan, (enum clock_id)c);
        if (clock == NULL || clock->state != CLOCK_STATE_RUNNING || count < 5) continue;
        ck_same(clock->outlook.p10_s, rank_by_hand(at_s[c], count, 1), "p10", _i);
        ck_same(clock->outlook.p50_s, rank_by_hand(at_s[c], count, 5), "p50", _i);
        ck_same(clock->outlook.p90_s, rank_by_hand(at_s[c], count, 9), "p90", _i);
    }
    if (plan.fire.cure_complete_day != DAY_NONE && count >= 5) {
        const int c = CLOCK_UNIT_DRY_CURE;
        const int64_t p90 = rank_by_hand(fire_s, count, 9);
        ck_same((int64_t)plan.fire.p90_day, p90 == INSTANT_NONE ? DAY_NONE : p90, "fire p90", _i);
        const int64_t p10 = rank_by_hand(fire_s, count, 1);
        ck_same((int64_t)plan.fire.p10_day, p10 == INSTANT_NONE ? DAY_NONE : p10, "fire p10", _i);
    }
    /* What waits for a clock that runs begins in a year as in the plan whose forecast goes on with
     * that year; work with a weather gate does not, for gates end with the forecast of now. */
    static const enum task behind[] = {TASK_PAD_CHECK};
    for (size_t i = 0; i < sizeof behind / sizeof *behind && count >= 5; i++) {
        const int t = (int)behind[i];
        const struct task_plan *task = &plan.tasks[t];
        if (task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
            task->state == TASK_STATE_NOT_NEEDED)
            continue;
        const int64_t p50_s = rank_by_hand(begins_s[t], count, 5);
        ck_assert_msg(task->outlook.p50_s == p50_s, "case %d: %s begins %lld, by hand %lld", _i,
                      id_of(&task_ids, t), (long long)task->outlook.p50_s, (long long)p50_s);
        const int64_t p90_s = rank_by_hand(begins_s[t], count, 9);
        ck_assert_msg(task->outlook.p90_s == p90_s, "case %d: %s begins %lld, by hand %lld", _i,
                      id_of(&task_ids, t), (long long)task->outlook.p90_s, (long long)p90_s);
    }
}
END_TEST

START_TEST(sums_that_are_shared_give_what_walking_gives)
{
    static struct drawn d;
    seed = 6364136223846793005ULL + (uint64_t)_i * 104729;
    draw_case(&d);
    struct job_plan walked, looked_up;
    struct past_cache cache = {.arena = scratch, .keeps_sums = true};
    plan_of(&walked, &d.job, d.now_s, NULL);
    for (int twice = 0; twice < 2; twice++) { /* made, then used again */
        plan_of(&looked_up, &d.job, d.now_s, &cache);
        ck_assert_uint_eq(walked.clock_count, looked_up.clock_count);
        for (size_t i = 0; i < walked.clock_count; i++) {
            const struct outlook_range *a = &walked.clocks[i].outlook;
            const struct outlook_range *b = &looked_up.clocks[i].outlook;
            const int c = (int)walked.clocks[i].clock;
            ck_same(b->p10_s, a->p10_s, "p10", _i);
            ck_same(b->p50_s, a->p50_s, "p50", _i);
            ck_same(b->p90_s, a->p90_s, "p90", _i);
        }
        ck_assert_int_eq(walked.fire.p10_day, looked_up.fire.p10_day);
        ck_assert_int_eq(walked.fire.p90_day, looked_up.fire.p90_day);
        ck_assert_int_eq(walked.fire.promise_day, looked_up.fire.promise_day);
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *a = &walked.tasks[t], *b = &looked_up.tasks[t];
            ck_assert_msg(a->outlook.p90_s == b->outlook.p90_s &&
                              a->outlook.p10_s == b->outlook.p10_s &&
                              a->outlook_finish.p50_s == b->outlook_finish.p50_s,
                          "case %d: %s", _i, id_of(&task_ids, t));
        }
    }
}
END_TEST

/* --- years made by hand -------------------------------------------------------------------------
 */

/* Five years of one temperature, in which it rains 2 mm at noon (UTC) of every so many-th day. */
static void steady_years(struct station *station, double degc, int rain_every)
{
    station->history = ARENA_TAKE(scratch, 5, struct series);
    station->history_count = 5;
    for (int y = 0; y < 5; y++) {
        struct series *hours = &station->history[y];
        *hours = (struct series){.start_s = (int64_t)civil_day(2019 + y, 1, 1) * DAY_S,
                                 .count = 366 * 24};
        hours->temp_degc = ARENA_TAKE(scratch, hours->count, double);
        hours->rain_mm = ARENA_TAKE(scratch, hours->count, double);
        for (size_t i = 0; i < hours->count; i++) {
            hours->temp_degc[i] = degc;
            bool rains = rain_every > 0 && i % 24 == 12 && (i / 24) % (size_t)rain_every == 0;
            hours->rain_mm[i] = rains ? 2 : 0;
        }
    }
}

/* A pad outdoors, poured on Wednesday 6 May 2026 at noon UTC, under such years and no forecast. */
static void steady_plan(struct job_plan *out, struct drawn *d, double degc, int rain_every)
{
    arena_reset(scratch);
    *d = (struct drawn){.now_s = (int64_t)civil_day(2026, 5, 6) * DAY_S + 12 * HOUR_S};
    d->station = (struct station){.id = "town", .forecast_made_s = INSTANT_NONE};
    steady_years(&d->station, degc, rain_every);
    d->station.observed = (struct series){
        .start_s = d->now_s, .count = 1, .temp_degc = ARENA_TAKE(scratch, 1, double)};
    d->station.observed.temp_degc[0] = degc; /* the hour that holds now */
    d->job = (struct job){.id = "j",
                          .name = "J",
                          .zone = zones[0],
                          .station_id = "town",
                          .station = &d->station,
                          .rulebook_id = "modular-masonry",
                          .options = {.place = PLACE_EXPOSED, .pad = PAD_NEW},
                          .permit_lead_days = -1,
                          .kit_lead_days = -1,
                          .wanted_fire_day = DAY_NONE,
                          .records = d->records};
    d->job.options.town.build_on_floor_h = NAN;
    d->job.options.town.request_cutoff_min = -1;
    for (int i = 0; i < QUANTITY_COUNT; i++) d->job.quantities[i] = 10;
    add(d, RECORD_DONE, d->now_s)->task = TASK_PAD_POUR;
    plan_of(out, &d->job, d->now_s, NULL);
}

START_TEST(a_clock_to_come_waits_as_long_as_the_year_is_cool)
{
    static struct drawn d;
    static struct job_plan warm, cool;
    steady_plan(&warm, &d, 20, 0);
    const int64_t bed_s = warm.tasks[TASK_TRANSITION_SET].outlook_finish.p50_s;
    const int64_t chimney_s = warm.tasks[TASK_CHIMNEY_RUN].outlook.p50_s;
    ck_assert_int_ne(bed_s, INSTANT_NONE);
    ck_assert_int_ge(chimney_s, bed_s + 16 * HOUR_S); /* its floor */
    ck_assert_int_eq(warm.tasks[TASK_CHIMNEY_RUN].outlook.p10_s, chimney_s);
    ck_assert_int_eq(warm.tasks[TASK_CHIMNEY_RUN].outlook.p90_s, chimney_s);
    steady_plan(&cool, &d, 11,
                0); /* 0.55 warm hours an hour: 12 take 21.8 h, the pad's 24 43.6 h */
    ck_assert_int_eq(clock_in(&cool, CLOCK_PAD_BUILD_ON)->outlook.p50_s,
                     d.now_s + (int64_t)ceil(24 / 0.55 * HOUR_S));
    const int64_t cool_bed_s = cool.tasks[TASK_TRANSITION_SET].outlook_finish.p50_s;
    ck_assert_int_ge(cool.tasks[TASK_CHIMNEY_RUN].outlook.p50_s,
                     cool_bed_s + (int64_t)ceil(12 / 0.55 * HOUR_S));
    steady_plan(&cool, &d, 9, 0); /* below what mortar needs: never */
    ck_assert_int_ne(cool.tasks[TASK_TRANSITION_SET].outlook.p50_s, INSTANT_NONE);
    ck_assert_int_eq(cool.tasks[TASK_CHIMNEY_RUN].outlook.p50_s, INSTANT_NONE);
}
END_TEST

static bool rains_on(int32_t day, int every)
{
    int year, month, day_of_month;
    civil_date(day, &year, &month, &day_of_month);
    return every > 0 && (civil_day(2021, month, day_of_month) - civil_day(2021, 1, 1)) % every == 0;
}

START_TEST(the_first_fire_of_a_job_not_begun_counts_the_rain_of_its_year)
{
    static struct drawn d;
    static struct job_plan plan;
    for (int every = 0; every <= 3; every += 3) {
        steady_plan(&plan, &d, 20, every);
        const int64_t lined_s = plan.tasks[TASK_LINE_CLEAN].outlook_finish.p50_s;
        const int64_t fire_s = plan.tasks[TASK_FIRE_1].outlook.p50_s;
        ck_assert_int_ne(lined_s, INSTANT_NONE);
        /* 28 days without rain, by the calendar of the years; noon UTC is a morning in Denver. Rain
         * of the day of the lining or the day before ran down a flue that had no cap yet. */
        const int32_t lined = civil_day_of(zones[0], lined_s);
        int32_t day = lined;
        for (int counted = 0; counted < 28;) {
            day++;
            bool lost = rains_on(day, every);
            for (int32_t wet = lined - 1; wet <= lined; wet++)
                lost = lost || (day - wet <= 2 && rains_on(wet, every));
            counted += !lost;
        }
        int32_t handed = day + 1; /* handed over on a working day, and lit on that day */
        while (civil_weekday(handed) >= 5) handed++;
        ck_assert_int_eq(civil_day_of(zones[0], fire_s), handed);
        /* nothing counts before the lining is clean */
        ck_assert_int_eq(plan.fire.p50_day, DAY_NONE);
    }
}
END_TEST

START_TEST(rain_that_fell_on_the_roof_costs_no_day_once_the_roof_is_off)
{
    static struct drawn d;
    static struct job_plan plan;
    static double degc[24 * 11], rain[24 * 11];
    steady_plan(&plan, &d, 20, 0);
    const int64_t today_s = civil_day_start_s(zones[0], civil_day_of(zones[0], d.now_s));
    const int64_t first_s = today_s - 240 * HOUR_S;
    d.job.record_count = 0;
    add(&d, RECORD_DONE, first_s + 8 * HOUR_S)->task = TASK_CAP_SET;
    add(&d, RECORD_DONE, first_s + 8 * HOUR_S)->task = TASK_CHIMNEY_RUN;
    add(&d, RECORD_DONE, first_s + 9 * HOUR_S)->task = TASK_LINE_CLEAN;
    add(&d, RECORD_COVERED, first_s + 10 * HOUR_S);
    add(&d, RECORD_UNCOVERED, d.now_s - HOUR_S);
    for (int i = 0; i < 24 * 11; i++) {
        degc[i] = 20;
        rain[i] = i == 24 * 10 + 2 ? 6 : 0; /* two in the morning of today, under the roof */
    }
    d.station.observed =
        (struct series){.start_s = first_s, .count = 24 * 11, .temp_degc = degc, .rain_mm = rain};
    struct past_cache cache = {.arena = scratch, .keeps_sums = true};
    for (int shared = 0; shared < 2; shared++) {
        plan_of(&plan, &d.job, d.now_s, shared == 0 ? NULL : &cache);
        ck_assert_int_eq(plan.fire.p50_day, civil_day_of(zones[0], first_s) + 29);
    }
}
END_TEST

START_TEST(years_that_are_alike_give_one_date_whatever_the_gates_of_the_forecast)
{
    static struct drawn d;
    static struct job_plan plan;
    static double degc[168], rain[168];
    steady_plan(&plan, &d, 20, 0);
    for (int i = 0; i < 168; i++) { /* cold mornings and wet afternoons close hours */
        degc[i] = i % 24 < 18 ? 3 : 12;
        rain[i] = i % 24 > 20 ? 4 : 0;
    }
    d.station.forecast =
        (struct series){.start_s = d.now_s, .count = 168, .temp_degc = degc, .rain_mm = rain};
    plan_of(&plan, &d.job, d.now_s, NULL);
    int dated = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan.tasks[t];
        ck_assert_msg(task->outlook.p10_s == task->outlook.p90_s, "%s", id_of(&task_ids, t));
        ck_assert_int_eq(task->outlook_finish.p10_s, task->outlook_finish.p90_s);
        dated += task->outlook.p50_s != INSTANT_NONE;
    }
    ck_assert_int_gt(dated, 10);
}
END_TEST

START_TEST(a_floor_holds_for_a_pad_that_is_not_poured_yet)
{
    static struct drawn d;
    static struct job_plan plan;
    steady_plan(&plan, &d, 20, 0);
    d.job.record_count = 0;
    d.job.options.town.build_on_floor_h = 72;
    plan_of(&plan, &d.job, d.now_s, NULL);
    const int64_t poured_s = plan.tasks[TASK_PAD_POUR].outlook_finish.p50_s;
    ck_assert_int_ne(poured_s, INSTANT_NONE);
    ck_assert_int_ge(plan.tasks[TASK_PAD_CHECK].outlook.p50_s, poured_s + 72 * HOUR_S);
}
END_TEST

START_TEST(the_latest_years_are_the_latest_in_whatever_order_they_came)
{
    static struct drawn d;
    static struct job_plan plan;
    static struct series years[24];
    steady_plan(&plan, &d, 20, 0);
    for (int y = 0; y < 24; y++) { /* newest first; the five oldest were cold */
        years[y] = d.station.history[0];
        years[y].start_s = (int64_t)civil_day(2025 - y, 1, 1) * DAY_S;
        if (y < 19) continue;
        years[y].temp_degc = ARENA_TAKE(scratch, years[y].count, double);
        for (size_t i = 0; i < years[y].count; i++) years[y].temp_degc[i] = 10;
    }
    d.station.history = years;
    d.station.history_count = 24;
    plan_of(&plan, &d.job, d.now_s, NULL);
    const struct outlook_range *pad = &clock_in(&plan, CLOCK_PAD_BUILD_ON)->outlook;
    ck_assert_int_eq(pad->p50_s, d.now_s + 24 * HOUR_S);
    ck_assert_int_eq(pad->p90_s, d.now_s + 47 * HOUR_S); /* the first hour was seen, and warm */
    ck_assert_int_eq(pad->recent_p90_s, d.now_s + 24 * HOUR_S);
}
END_TEST

START_TEST(four_years_are_no_outlook)
{
    static struct drawn d;
    static struct job_plan plan;
    steady_plan(&plan, &d, 20, 0);
    ck_assert_int_ne(clock_in(&plan, CLOCK_PAD_BUILD_ON)->outlook.p50_s, INSTANT_NONE);
    d.station.history_count = 4;
    plan_of(&plan, &d.job, d.now_s, NULL);
    ck_assert_int_eq(clock_in(&plan, CLOCK_PAD_BUILD_ON)->outlook.p50_s, INSTANT_NONE);
    ck_assert_int_eq(plan.tasks[TASK_LAYOUT].outlook.p50_s, INSTANT_NONE);
}
END_TEST

START_TEST(another_version_of_a_station_forgets_its_sums)
{
    static struct drawn d;
    seed = 42;
    draw_case(&d);
    while (d.station.history_count != YEARS) draw_case(&d);
    struct job_plan first, second, fresh;
    struct past_cache cache = {.arena = scratch, .keeps_sums = true, .version = 1};
    plan_of(&first, &d.job, d.now_s, &cache);
    for (size_t y = 0; y < d.station.history_count; y++)
        for (size_t i = 0; i < d.station.history[y].count; i++)
            d.station.history[y].temp_degc[i] -= 3;
    cache.version = 2;
    plan_of(&second, &d.job, d.now_s, &cache);
    plan_of(&fresh, &d.job, d.now_s, NULL);
    bool moved = false;
    for (size_t i = 0; i < fresh.clock_count; i++) {
        ck_assert_int_eq(second.clocks[i].outlook.p90_s, fresh.clocks[i].outlook.p90_s);
        moved = moved || first.clocks[i].outlook.p90_s != fresh.clocks[i].outlook.p90_s;
    }
    ck_assert(moved);
}
END_TEST

START_TEST(the_tenth_of_ten_years_is_the_first_and_never_ranks_last)
{
    int64_t values[10] = {50, INSTANT_NONE, 30, 10, 20, 40, 90, 80, 70, 60};
    struct outlook_range range;
    outlook_rank(&range, values, 10, 10);
    ck_assert_int_eq(range.p10_s, 10);
    ck_assert_int_eq(range.p50_s, 50);
    ck_assert_int_eq(range.p90_s, 90);
    int64_t seven[7] = {7, 6, 5, 4, INSTANT_NONE, 2, 1};
    outlook_rank(&range, seven, 7, 7);
    ck_assert_int_eq(range.p10_s, 1);
    ck_assert_int_eq(range.p50_s, 5);
    ck_assert_int_eq(range.p90_s, INSTANT_NONE);
}
END_TEST

START_TEST(the_latest_years_are_ranked_for_the_year_to_come)
{
    int64_t values[30];
    struct outlook_range range;
    for (int i = 0; i < 30; i++) values[i] = i < 11 ? 1000 + i : i; /* eleven old ones, 19 latest */
    outlook_rank(&range, values, 30, 19);
    ck_assert_int_eq(range.recent_p10_s, 12); /* second, tenth and eighteenth of 11..29 */
    ck_assert_int_eq(range.recent_p50_s, 20);
    ck_assert_int_eq(range.recent_p90_s, 28);
    ck_assert_int_eq(range.p10_s, 13); /* third, fifteenth and 27th of all thirty */
    ck_assert_int_eq(range.p50_s, 25);
    ck_assert_int_eq(range.p90_s, 1007);
    int64_t six[6] = {1, 2, 3, 4, 5, INSTANT_NONE};
    outlook_rank(&range, six, 6, 6);
    ck_assert_int_eq(range.recent_p10_s, 1);
    ck_assert_int_eq(range.recent_p50_s, 3);
    ck_assert_int_eq(range.recent_p90_s, INSTANT_NONE); /* nine in ten is more than six can say */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("outlook");
    TCase *tcase = tcase_create("outlook");
    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, every_clock_ranks_as_when_each_year_is_laid_behind_the_forecast, 0,
                        CASES);
    tcase_add_loop_test(tcase, sums_that_are_shared_give_what_walking_gives, 0, CASES);
    tcase_add_test(tcase, a_clock_to_come_waits_as_long_as_the_year_is_cool);
    tcase_add_test(tcase, the_first_fire_of_a_job_not_begun_counts_the_rain_of_its_year);
    tcase_add_test(tcase, rain_that_fell_on_the_roof_costs_no_day_once_the_roof_is_off);
    tcase_add_test(tcase, years_that_are_alike_give_one_date_whatever_the_gates_of_the_forecast);
    tcase_add_test(tcase, a_floor_holds_for_a_pad_that_is_not_poured_yet);
    tcase_add_test(tcase, the_latest_years_are_the_latest_in_whatever_order_they_came);
    tcase_add_test(tcase, four_years_are_no_outlook);
    tcase_add_test(tcase, another_version_of_a_station_forgets_its_sums);
    tcase_add_test(tcase, the_tenth_of_ten_years_is_the_first_and_never_ranks_last);
    tcase_add_test(tcase, the_latest_years_are_ranked_for_the_year_to_come);
    suite_add_tcase(suite, tcase);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
