/* SPDX-License-Identifier: MIT */
/*
 * A small yard for the tests of the pages: five invented jobs at five stages, one crew, one
 * station, worked out by hand. It stands for what the planner answers; nothing here is computed by
 * it.
 */
#ifndef EMBERWAIT_TESTS_VIEWS_SAMPLE_H
#define EMBERWAIT_TESTS_VIEWS_SAMPLE_H

#include <math.h>
#include <string.h>

#include "base/zone.h"
#include "compute/civil.h"
#include "model/plan.h"
#include "views/page.h"

enum { SAMPLE_JOBS = 5, SAMPLE_HOURS = 120, SAMPLE_DAYS = 16 };

struct sample {
    struct zone *zone;
    int64_t now_s;
    int32_t today;
    struct company company;
    struct crew crews[2];
    struct station station;
    double temp_degc[SAMPLE_HOURS], rain_mm[SAMPLE_HOURS], gust_mps[SAMPLE_HOURS];
    struct job jobs[SAMPLE_JOBS];
    struct job_plan plans[SAMPLE_JOBS];
    struct gate_stretch gusts;
    struct gate_strip strip;
    struct half_day half_day;
    struct gate_measure measures[2];
    struct record records[16];
    struct clock_plan clocks[12];
    struct counted_day days[SAMPLE_DAYS];
    struct struck_clock struck[1];
    struct caution cautions[4];
    struct reason reasons[12];
    struct crew_work work[3];
    struct crew_day crew_days[1];
    struct crew_plan crew_plans[2];
    struct plan plan;
    struct date_change changes[1];
    struct page page;
};

static struct record sample_record(const char *id, enum record_kind kind, int64_t at_s)
{
    struct record record = record_blank(kind, at_s);
    record.id = id;
    record.received_s = at_s + 120;
    record.by = "Tomas";
    record.who = "crew link";
    return record;
}

static struct clock_plan sample_clock(enum clock_id clock, enum part part, double have, double need,
                                      enum unit unit, int64_t start_s, int64_t opens_s)
{
    return (struct clock_plan){.clock = clock,
                               .part = part,
                               .state = CLOCK_STATE_RUNNING,
                               .have = have,
                               .need = need,
                               .unit = unit,
                               .floor_h = NAN,
                               .floor_mark = MARK_NONE,
                               .need_mark = MARK_HR,
                               .start_s = start_s,
                               .crossing_s = opens_s,
                               .opens_s = opens_s,
                               .stopped_s = INSTANT_NONE,
                               .no_reading_since_s = INSTANT_NONE};
}

static struct reason sample_reason(enum reason_kind kind, int64_t until_s, enum task task,
                                   enum clock_id clock)
{
    return (struct reason){.kind = kind,
                           .rule = "sample",
                           .until_s = until_s,
                           .task = task,
                           .clock = clock,
                           .have = NAN,
                           .need = NAN,
                           .unit = UNIT_WARM_HOUR,
                           .floor_h = NAN,
                           .mark = MARK_NONE};
}

static void sample_tasks(struct job_plan *plan, enum task done_until)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        plan->tasks[t] =
            (struct task_plan){.task = (enum task)t,
                               .state = t <= (int)done_until ? TASK_STATE_DONE : TASK_STATE_NOT_YET,
                               .start_s = INSTANT_NONE,
                               .finish_s = INSTANT_NONE,
                               .opens_s = INSTANT_NONE,
                               .hours = NAN,
                               .done_s = INSTANT_NONE};
    }
    for (int p = 0; p < PART_COUNT; p++)
        plan->parts[p] = (struct part_plan){.part = (enum part)p, .temp_now_degc = NAN};
    plan->fire = (struct fire_plan){.cure_complete_day = DAY_NONE,
                                    .earliest_day = DAY_NONE,
                                    .likely_day = DAY_NONE,
                                    .p10_day = DAY_NONE,
                                    .p50_day = DAY_NONE,
                                    .p90_day = DAY_NONE,
                                    .promise_day = DAY_NONE,
                                    .at_recent_rate_day = DAY_NONE,
                                    .driven_by = CLOCK_NONE,
                                    .blocked_by = FIRE_BLOCK_NOT_LINED,
                                    .agreed_day = DAY_NONE,
                                    .projected_day = DAY_NONE,
                                    .next_size = 1,
                                    .last_fire_s = INSTANT_NONE,
                                    .rest_until_s = INSTANT_NONE,
                                    .wanted_day = DAY_NONE};
}

static void sample_state(struct job_plan *plan, enum task task, enum task_state state,
                         int64_t start_s, int64_t opens_s, const struct reason *because,
                         size_t count)
{
    plan->tasks[task].state = state;
    plan->tasks[task].start_s = start_s;
    plan->tasks[task].opens_s = opens_s;
    plan->tasks[task].because = because;
    plan->tasks[task].because_count = count;
}

static void sample_jobs(struct sample *s)
{
    static const char *const names[SAMPLE_JOBS][2] = {{"hollow-pine", "Hollow Pine"},
                                                      {"the-bench", "The Bench <upper>"},
                                                      {"larkspur", "Larkspur Lane"},
                                                      {"quarry-road", "Quarry Road"},
                                                      {"alder", "Alder Court"}};
    for (int i = 0; i < SAMPLE_JOBS; i++) {
        s->jobs[i] = (struct job){.id = names[i][0],
                                  .name = names[i][1],
                                  .zone = s->zone,
                                  .station_id = "town",
                                  .station = &s->station,
                                  .rulebook_id = "modular-masonry",
                                  .latitude_deg = NAN,
                                  .longitude_deg = NAN,
                                  .crew_id = "north",
                                  .address = "14 Sample Street",
                                  .homeowner = "Mrs Abernathy"};
        for (int q = 0; q < QUANTITY_COUNT; q++) s->jobs[i].quantities[q] = NAN;
        s->jobs[i].options.town.build_on_floor_h = NAN;
        s->jobs[i].options.town.request_cutoff_min = 840;
        s->jobs[i].options.permit = true;
        s->plans[i].job = &s->jobs[i];
    }
    s->jobs[0].options.base = BASE_CRAWL;
    s->jobs[0].access = "Gate 4471, dog is loud but kind. Park on the lane.";
    s->jobs[0].quantities[QUANTITY_DRIVE_H] = 0.6;
    s->jobs[1].options.place = PLACE_EXPOSED;
    s->jobs[1].access = "Lockbox on the left post.";
}

/* What is due tonight at 15:30, by the figure that decides. */
static struct tonight_item sample_tonight(const struct sample *s, enum tonight_what what,
                                          enum gate_rule rule, double value, double limit,
                                          enum unit unit)
{
    return (struct tonight_item){
        .what = what,
        .crew_id = "north",
        .before_s = civil_instant_s(s->zone, s->today, 15 * 3600 + 1800),
        .can_act = true,
        .figure = {.rule = rule,
                   .value = value,
                   .limit = limit,
                   .unit = unit,
                   .mark = MARK_HR,
                   .at_s = civil_instant_s(s->zone, s->today + 1, 3 * 3600)},
        .low_degf = 30.2,
        .low_s = civil_instant_s(s->zone, s->today + 1, 4 * 3600),
        .rain_in = 4.2 / 25.4,
        .rain_s = civil_instant_s(s->zone, s->today + 1, 1 * 3600),
        .gust_mph = 18,
        .gust_s = civil_instant_s(s->zone, s->today, 17 * 3600)};
}

/* A pad under a blanket, half way, last read a day ago. */
static void sample_pad_job(struct sample *s)
{
    int64_t h = 3600, opens = civil_instant_s(s->zone, s->today + 4, 6 * 3600);
    struct job_plan *plan = &s->plans[0];
    sample_tasks(plan, TASK_PAD_PROTECT);
    s->records[0] = sample_record("r-pour", RECORD_DONE, s->now_s - 41 * h);
    s->records[0].task = TASK_PAD_POUR;
    s->records[1] = sample_record("r-blanket", RECORD_CLOSED_IN, s->now_s - 40 * h);
    s->records[1].part = PART_PAD;
    s->records[1].shelter = SHELTER_BLANKET;
    s->records[2] = sample_record("r-read", RECORD_READING, s->now_s - 25 * h);
    s->records[2].part = PART_PAD;
    s->records[2].how = HOW_PROBE;
    s->records[2].temp_degc = 12.2;
    s->records[3] = sample_record("r-wrong", RECORD_READING, s->now_s - 24 * h);
    s->records[3].part = PART_PAD;
    s->records[3].temp_degc = 44.0;
    s->records[4] = sample_record("r-fix", RECORD_CORRECTED, s->now_s - 23 * h);
    s->records[4].corrects = "r-wrong";
    s->jobs[0].records = s->records;
    s->jobs[0].record_count = 5;
    s->clocks[0] = sample_clock(CLOCK_PAD_FIRST_FROST, PART_PAD, 24, 24, UNIT_WARM_HOUR,
                                s->now_s - 41 * h, s->now_s - 5 * h);
    s->clocks[0].state = CLOCK_STATE_OPEN;
    s->clocks[1] = sample_clock(CLOCK_PAD_BUILD_ON, PART_PAD, 27, 48, UNIT_WARM_HOUR,
                                s->now_s - 41 * h, opens);
    s->clocks[1].floor_h = 48;
    s->clocks[1].last_reading = &s->records[2];
    s->clocks[1].no_reading_since_s = s->now_s - 1 * h - 1800;
    s->clocks[1].assumes = ASSUME_BLANKET_FORECAST | ASSUME_FORECAST;
    s->clocks[2] = sample_clock(CLOCK_PAD_MOIST_CURE, PART_PAD, 38.4, 168, UNIT_HOUR,
                                s->now_s - 40 * h, INSTANT_NONE);
    plan->clocks = s->clocks;
    plan->clock_count = 3;
    plan->parts[PART_PAD].last_reading = &s->records[2];
    s->reasons[0] = sample_reason(REASON_CLOCK, opens, TASK_NONE, CLOCK_PAD_BUILD_ON);
    s->reasons[0].have = 27;
    s->reasons[0].need = 48;
    s->reasons[0].floor_h = 48;
    s->reasons[0].mark = MARK_HR;
    s->reasons[0].source = "astm-c1074";
    s->reasons[1] = sample_reason(REASON_CREW_DAY, opens + h, TASK_NONE, CLOCK_NONE);
    sample_state(plan, TASK_PAD_CHECK, TASK_STATE_WAITING_CURE, opens + h, opens, s->reasons, 2);
    sample_state(plan, TASK_LAYOUT, TASK_STATE_WAITING_CURE, opens + 2 * h, opens, s->reasons, 2);
    sample_state(plan, TASK_PAD_STRIP, TASK_STATE_WAIT_OVER, s->now_s, s->now_s - 17 * h, NULL, 0);
    s->cautions[0] = (struct caution){CAUTION_FROST_AHEAD,
                                      PART_PAD,
                                      TASK_NONE,
                                      civil_instant_s(s->zone, s->today + 1, 5 * 3600),
                                      -2,
                                      QUANTITY_NONE,
                                      .record = NULL};
    s->cautions[1] = (struct caution){
        CAUTION_NO_READING, PART_PAD,      TASK_NONE, s->clocks[1].no_reading_since_s, NAN,
        QUANTITY_NONE,      .record = NULL};
    plan->cautions = s->cautions;
    plan->caution_count = 2;
    plan->tonight[plan->tonight_count++] =
        sample_tonight(s, TONIGHT_PAD, GATE_RULE_FROST, 30.2, 32, UNIT_DEGF);
    plan->tonight[0].covered = plan->tonight[0].blanket = true;
}

/* A box that grows: green joints, an inspection of the throat to call in. */
static void sample_box_job(struct sample *s)
{
    int64_t h = 3600;
    struct job_plan *plan = &s->plans[1];
    sample_tasks(plan, TASK_LINTEL_IRON);
    s->clocks[3] = sample_clock(CLOCK_JOINTS_EARLY, PART_JOINTS, 9.6, 24, UNIT_WARM_HOUR,
                                s->now_s - 16 * h, s->now_s + 13 * h);
    s->clocks[3].floor_h = 24;
    plan->clocks = &s->clocks[3];
    plan->clock_count = 1;
    s->reasons[2] = sample_reason(REASON_INSPECTION, INSTANT_NONE, TASK_THROAT_INSPECT, CLOCK_NONE);
    s->reasons[3] = sample_reason(REASON_AFTER, INSTANT_NONE, TASK_TRANSITION_SET, CLOCK_NONE);
    s->reasons[4] = sample_reason(REASON_TRADE, INSTANT_NONE, TASK_GAS_ROUGH, CLOCK_NONE);
    sample_state(plan, TASK_DAMPER_SET, TASK_STATE_WAIT_OVER, s->now_s, s->now_s - h, NULL, 0);
    sample_state(plan, TASK_THROAT_INSPECT, TASK_STATE_WAITING_INSPECTOR, INSTANT_NONE,
                 INSTANT_NONE, NULL, 0);
    sample_state(plan, TASK_SMOKE_CHAMBER, TASK_STATE_WAITING_INSPECTOR, INSTANT_NONE, INSTANT_NONE,
                 &s->reasons[2], 1);
    sample_state(plan, TASK_CHIMNEY_RUN, TASK_STATE_NOT_YET, INSTANT_NONE, INSTANT_NONE,
                 &s->reasons[3], 1);
    sample_state(plan, TASK_LINE_FLOOR, TASK_STATE_WAITING_TRADE, INSTANT_NONE, INSTANT_NONE,
                 &s->reasons[4], 1);
    plan->tonight[plan->tonight_count++] =
        sample_tonight(s, TONIGHT_JOINTS, GATE_RULE_RAIN, 1.4 / 25.4, 0.01, UNIT_INCH);
    s->gusts = (struct gate_stretch){
        .from_s = civil_instant_s(s->zone, s->today, (int)(13 * h)),
        .until_s = civil_instant_s(s->zone, s->today, (int)(18 * h)),
        .state = GATE_CLOSED,
        .figure = {.rule = GATE_RULE_GUST,
                   .value = 31,
                   .limit = 25,
                   .unit = UNIT_MPH,
                   .mark = MARK_HR,
                   .at_s = civil_instant_s(s->zone, s->today, (int)(14 * h))}};
    s->strip = (struct gate_strip){.gate = GATE_CLASS_PIECES,
                                   .tasks = UINT64_C(1) << TASK_DAMPER_SET,
                                   .stretches = &s->gusts,
                                   .count = 1};
    plan->gates = &s->strip;
    plan->gate_count = 1;
    s->half_day = (struct half_day){.day = s->today,
                                    .afternoon = true,
                                    .task = TASK_DAMPER_SET,
                                    .hours = 3,
                                    .hours_lost = 2.5,
                                    .lost = true,
                                    .figure = s->gusts.figure};
    plan->half_days = &s->half_day;
    plan->half_day_count = 1;
}

static void sample_dry_job(struct sample *s)
{
    struct job_plan *plan = &s->plans[2];
    sample_tasks(plan, TASK_TAG_HANG);
    for (int t = TASK_FRAME_OTHERS; t <= TASK_HEARTH_EXT; t++)
        plan->tasks[t].state = TASK_STATE_NOT_NEEDED;
    static const enum day_reason reasons[SAMPLE_DAYS] = {
        DAY_FULL,   DAY_FULL, DAY_HALF_COOL, DAY_FULL,      DAY_SOAKED, DAY_SOAKED,
        DAY_SOAKED, DAY_FULL, DAY_FULL,      DAY_HALF_GAPS, DAY_FULL,   DAY_FULL,
        DAY_COLD,   DAY_FULL, DAY_FULL,      DAY_AHEAD};
    double have = 0;
    for (int i = 0; i < SAMPLE_DAYS; i++) {
        bool half = reasons[i] == DAY_HALF_COOL || reasons[i] == DAY_HALF_GAPS;
        double credit = reasons[i] == DAY_FULL || reasons[i] == DAY_AHEAD ? 1 : half ? 0.5 : 0;
        s->days[i] = (struct counted_day){s->today - 15 + i, credit, reasons[i], 13.5, 8.0};
        if (i < SAMPLE_DAYS - 1) have += credit;
    }
    s->clocks[4] = sample_clock(CLOCK_UNIT_DRY_CURE, PART_UNIT, have, 28, UNIT_COUNTED_DAY,
                                civil_day_start_s(s->zone, s->today - 16),
                                civil_day_start_s(s->zone, s->today + 18));
    s->clocks[4].need_mark = MARK_CP;
    s->clocks[4].days = s->days;
    s->clocks[4].day_count = SAMPLE_DAYS;
    s->clocks[4].assumes = ASSUME_NOTHING_WRONG;
    plan->clocks = &s->clocks[4];
    plan->clock_count = 1;
    s->records[8] = sample_record("r-agree-1", RECORD_AGREED, s->now_s - 15 * 86400);
    s->records[8].day = s->today + 17;
    s->records[9] = sample_record("r-floor", RECORD_RELAID, s->now_s - 12 * 86400);
    s->records[9].what = RELAID_FLOOR;
    s->records[10] = sample_record("r-agree-2", RECORD_AGREED, s->now_s - 10 * 86400);
    s->records[10].day = s->today + 21;
    s->records[10].reason = "rain got under the cover on Sunday: two drying days added";
    s->jobs[2].records = &s->records[8];
    s->jobs[2].record_count = 3;
    s->struck[0] = (struct struck_clock){CLOCK_UNIT_DRY_CURE, s->now_s - 20 * 86400,
                                         s->now_s - 16 * 86400, 3.5, &s->records[9]};
    plan->struck = s->struck;
    plan->struck_count = 1;
    plan->fire.blocked_by = 0;
    plan->fire.cure_complete_day = s->today + 18;
    plan->fire.earliest_day = s->today + 18;
    plan->fire.p50_day = s->today + 20;
    plan->fire.p90_day = s->today + 21;
    plan->fire.promise_day = s->today + 21;
    plan->fire.driven_by = CLOCK_UNIT_DRY_CURE;
    plan->fire.agreed_day = s->today + 21;
    plan->fire.agreed_holds = true;
    s->reasons[5] = sample_reason(REASON_CLOCK, civil_day_start_s(s->zone, s->today + 18),
                                  TASK_NONE, CLOCK_UNIT_DRY_CURE);
    s->reasons[5].have = have;
    s->reasons[5].need = 28;
    s->reasons[5].unit = UNIT_COUNTED_DAY;
    s->reasons[5].mark = MARK_CP;
    sample_state(plan, TASK_CURE_WATCH, TASK_STATE_WAITING_CURE,
                 civil_instant_s(s->zone, s->today + 18, 7 * 3600), INSTANT_NONE, &s->reasons[5],
                 1);
    plan->tasks[TASK_FINAL_INSPECT].state = TASK_STATE_WAIT_OVER;
}

static void sample_lit_job(struct sample *s)
{
    struct job_plan *plan = &s->plans[3];
    sample_tasks(plan, TASK_TAG_HANG);
    for (int t = TASK_FRAME_OTHERS; t <= TASK_HEARTH_EXT; t++)
        plan->tasks[t].state = TASK_STATE_NOT_NEEDED;
    plan->fire.blocked_by = FIRE_BLOCK_LIT | FIRE_BLOCK_CHECK_IT;
    plan->fire.agreed_day = s->today + 9;
    s->clocks[5] = sample_clock(CLOCK_UNIT_DRY_CURE, PART_UNIT, 5, 28, UNIT_COUNTED_DAY,
                                s->now_s - 6 * 86400, INSTANT_NONE);
    s->clocks[5].state = CLOCK_STATE_CHECK_IT;
    s->clocks[5].stopped_s = s->now_s - 12 * 3600;
    plan->clocks = &s->clocks[5];
    plan->clock_count = 1;
    s->reasons[6] = sample_reason(REASON_LIT, INSTANT_NONE, TASK_NONE, CLOCK_NONE);
    sample_state(plan, TASK_CURE_WATCH, TASK_STATE_CHECK_IT, INSTANT_NONE, INSTANT_NONE,
                 &s->reasons[6], 1);
    s->cautions[2] =
        (struct caution){CAUTION_LIT_EARLY, PART_UNIT,     TASK_NONE, s->now_s - 12 * 3600, NAN,
                         QUANTITY_NONE,     .record = NULL};
    plan->cautions = &s->cautions[2];
    plan->caution_count = 1;
}

static void sample_pour_job(struct sample *s)
{
    struct job_plan *plan = &s->plans[4];
    sample_tasks(plan, TASK_PAD_INSPECT);
    sample_state(plan, TASK_PAD_POUR, TASK_STATE_WAIT_OVER, s->now_s, s->now_s - 86400, NULL, 0);
    s->measures[0] = (struct gate_measure){DO_BLANKETS,
                                           {.rule = GATE_RULE_POUR_COLD,
                                            .value = 30.2,
                                            .limit = 40,
                                            .unit = UNIT_DEGF,
                                            .mark = MARK_HR}};
    s->measures[1] = (struct gate_measure){
        DO_NAME_WHO_LOOKS, {.rule = GATE_RULE_LOOK, .value = NAN, .limit = NAN, .mark = MARK_NONE}};
    plan->tasks[TASK_PAD_POUR].measures = s->measures;
    plan->tasks[TASK_PAD_POUR].measure_count = 2;
    plan->pour = (struct pour_plan){.asked = true,
                                    .state = GATE_MEASURE,
                                    .figure = s->measures[0].figure,
                                    .from_s = s->now_s,
                                    .until_s = s->now_s + 7200,
                                    .low_degf = {30.2, 31, 44},
                                    .rain_in = 0,
                                    .rain_h = 6,
                                    .rain_limit_in = 0.1,
                                    .blanket_degf = 40};
}

static void sample_weather(struct sample *s)
{
    for (int i = 0; i < SAMPLE_HOURS; i++) {
        s->temp_degc[i] = 6.0 + 7.0 * sin((i - 4) * 0.2618);
        s->rain_mm[i] = i >= 20 && i < 23 ? 1.4 : 0;
        s->gust_mps[i] = 4 + (i % 5);
    }
    s->station = (struct station){
        .id = "town", .latitude_deg = NAN, .longitude_deg = NAN, .forecast_made_s = INSTANT_NONE};
    s->station.forecast = (struct series){.start_s = s->now_s - s->now_s % 3600 - 3600,
                                          .count = SAMPLE_HOURS,
                                          .temp_degc = s->temp_degc,
                                          .rain_mm = s->rain_mm,
                                          .gust_mps = s->gust_mps};
}

/** Build the sample; needs the zone America/Denver. Free with zone_free(sample->zone). */
static enum status sample_make(struct sample *s, const struct words *words)
{
    memset(s, 0, sizeof *s);
    enum status status = zone_load(&s->zone, "America/Denver", NULL);
    if (status != STATUS_OK) return status;
    s->today = civil_day(2026, 10, 23); /* a Friday */
    s->now_s = civil_instant_s(s->zone, s->today, 6 * 3600 + 31 * 60);
    s->crews[0] = (struct crew){.id = "north", .name = "North crew", .people = 3};
    s->crews[1] = (struct crew){.id = "south", .name = "South crew", .people = 2};
    s->company = (struct company){.name = "Two Rivers Hearth",
                                  .phone = "555-0142",
                                  .zone = s->zone,
                                  .work_days = 31,
                                  .hours = {420, 930},
                                  .lunch = {720, 750},
                                  .crews = s->crews,
                                  .crew_count = 2};
    sample_weather(s);
    sample_jobs(s);
    sample_pad_job(s);
    sample_box_job(s);
    sample_dry_job(s);
    sample_lit_job(s);
    sample_pour_job(s);
    for (int i = 0; i < SAMPLE_JOBS; i++) s->plans[i].bag_min_degf = 50;
    int64_t seven = civil_instant_s(s->zone, s->today, 7 * 3600);
    s->work[0] = (struct crew_work){
        .job = &s->jobs[0], .task = TASK_PAD_STRIP, .start_s = seven, .finish_s = seven + 2700};
    s->work[1] = (struct crew_work){.job = &s->jobs[1],
                                    .task = TASK_DAMPER_SET,
                                    .start_s = seven + 7200,
                                    .finish_s = seven + 9000};
    s->crew_days[0] = (struct crew_day){.day = s->today, .work = s->work, .work_count = 2};
    s->crew_plans[0] = (struct crew_plan){&s->crews[0], s->crew_days, 1};
    s->crew_plans[1] = (struct crew_plan){&s->crews[1], NULL, 0};
    s->plan = (struct plan){
        .jobs = s->plans, .job_count = SAMPLE_JOBS, .crews = s->crew_plans, .crew_count = 2};
    s->changes[0] = (struct date_change){
        .job = &s->plans[2], .was_day = s->today + 16, .now_day = s->today + 18};
    s->page = (struct page){.words = words,
                            .now_s = s->now_s,
                            .company = &s->company,
                            .base_url = "https://hearth.example",
                            .path = "/",
                            .csrf = "sample-csrf",
                            .forms = true,
                            .notice = WORD_COUNT};
    memset(s->page.form_seed, 7, PAGE_SEED_BYTES);
    return STATUS_OK;
}

#endif
