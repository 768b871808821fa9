/* SPDX-License-Identifier: MIT */
/* links: views model compute */
/*
 * The plan as bytes: names and order fixed, what is not known null and never zero, every instant in
 * the job's own zone with the offset of that day, the same plan the same bytes.
 */
#include <check.h>
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "views/plan_json.h"

enum { NOW_S = 1792800000 }; /* 2026-10-23T18:00:00-06:00 */

static struct words *words;
static struct zone *zone;
static struct job job;
static struct job_plan plan;
static struct casefile casefile;
static struct plan whole;
static struct text text;

static void set_up(void)
{
    ck_assert_int_eq(words_load(&words, PROJECT_ROOT "/schema/words", "en", NULL), STATUS_OK);
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    job = (struct job){.id = "hollow-pine", .name = "Hollow \"Pine\"", .zone = zone};
    plan = (struct job_plan){.job = &job,
                             .fire = {.cure_complete_day = DAY_NONE,
                                      .earliest_day = DAY_NONE,
                                      .likely_day = DAY_NONE,
                                      .p10_day = DAY_NONE,
                                      .p50_day = DAY_NONE,
                                      .p90_day = DAY_NONE,
                                      .promise_day = DAY_NONE,
                                      .at_recent_rate_day = DAY_NONE,
                                      .driven_by = CLOCK_NONE,
                                      .agreed_day = DAY_NONE,
                                      .projected_day = DAY_NONE,
                                      .next_size = 1,
                                      .last_fire_s = INSTANT_NONE,
                                      .rest_until_s = INSTANT_NONE,
                                      .wanted_day = DAY_NONE}};
    for (int i = 0; i < TASK_COUNT; i++) {
        plan.tasks[i] = (struct task_plan){.task = (enum task)i,
                                           .state = TASK_STATE_NOT_YET,
                                           .start_s = INSTANT_NONE,
                                           .finish_s = INSTANT_NONE,
                                           .opens_s = INSTANT_NONE,
                                           .hours = NAN,
                                           .done_s = INSTANT_NONE,
                                           .latest_finish_s = INSTANT_NONE,
                                           .days_to_spare = DAY_NONE,
                                           .last_chance_s = INSTANT_NONE,
                                           .closed_by = TASK_NONE,
                                           .due_s = INSTANT_NONE};
    }
    casefile = (struct casefile){.now_s = NOW_S, .now_zone = zone, .jobs = &job, .job_count = 1};
    whole = (struct plan){.casefile = &casefile, .jobs = &plan, .job_count = 1};
    text = (struct text)TEXT_UP_TO(1 << 20);
}

static void tear_down(void)
{
    text_free(&text);
    words_free(words);
    zone_free(zone);
}

static json_t *written(void)
{
    json_error_t error;
    text_clear(&text);
    plan_json(&text, &whole, words);
    ck_assert_int_eq(text_status(&text), STATUS_OK);
    json_t *json = json_loadb(text.data, text.length, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(json != NULL, "%s", error.text);
    return json;
}

static json_t *at(json_t *json, const char *key)
{
    json_t *value = json_object_get(json, key);
    ck_assert_msg(value != NULL, "no %s", key);
    return value;
}

static json_t *job_of(json_t *json)
{
    return json_array_get(at(json, "jobs"), 0);
}

START_TEST(a_plan_of_nothing_has_every_task_and_nulls_for_what_is_not_known)
{
    json_t *json = written();
    ck_assert_int_eq(json_integer_value(at(json, "emberwait")), 1);
    ck_assert_str_eq(json_string_value(at(json, "now")), "2026-10-23T18:00:00-06:00");
    ck_assert_str_eq(json_string_value(at(job_of(json), "name")), "Hollow \"Pine\"");
    json_t *tasks = at(job_of(json), "tasks");
    ck_assert_uint_eq(json_array_size(tasks), TASK_COUNT);
    for (size_t i = 0; i < TASK_COUNT; i++) {
        json_t *task = json_array_get(tasks, i);
        ck_assert_str_eq(json_string_value(at(task, "task")), task_ids.ids[i]);
        ck_assert_str_eq(json_string_value(at(task, "state")), "not-yet");
        const char *const nulls[] = {"start", "finish", "crew", "latest_finish", "hours", "opens"};
        for (size_t n = 0; n < 6; n++) ck_assert(json_is_null(at(task, nulls[n])));
        ck_assert_uint_eq(json_array_size(at(task, "because")), 0);
    }
    json_t *fire = at(job_of(json), "fire");
    const char *const days[] = {"cure_complete", "earliest", "likely",  "p10",
                                "p50",           "p90",      "promise", "at_recent_rate",
                                "agreed",        "driven_by"};
    for (size_t n = 0; n < 10; n++) ck_assert(json_is_null(at(fire, days[n])));
    ck_assert_uint_eq(json_array_size(at(fire, "blocked_by")), 0);
    ck_assert_uint_eq(json_array_size(at(json, "crews")), 0);
    json_decref(json);
}
END_TEST

START_TEST(a_clock_is_told_in_the_jobs_zone_with_the_offset_of_that_day)
{
    struct record reading = {.at_s = NOW_S - 3600, .temp_degc = 10.0, .how = HOW_PROBE};
    struct clock_plan clock = {.clock = CLOCK_PAD_BUILD_ON,
                               .part = PART_PAD,
                               .state = CLOCK_STATE_RUNNING,
                               .have = 41.2000000004,
                               .need = 48,
                               .unit = UNIT_WARM_HOUR,
                               .floor_h = 48,
                               .floor_mark = MARK_HR,
                               .need_mark = MARK_HR,
                               .start_s = NOW_S - 86400,
                               .crossing_s = 1793550617, /* 1 Nov: the clocks have gone back */
                               .opens_s = 1793552400,
                               .stopped_s = INSTANT_NONE,
                               .assumes = ASSUME_FORECAST | ASSUME_LAST_READING,
                               .last_reading = &reading,
                               .no_reading_since_s = INSTANT_NONE};
    plan.clocks = &clock;
    plan.clock_count = 1;
    json_t *json = written();
    json_t *told = json_array_get(at(job_of(json), "clocks"), 0);
    ck_assert_str_eq(json_string_value(at(told, "clock")), "pad.build-on");
    ck_assert_str_eq(json_string_value(at(told, "state")), "running");
    ck_assert_str_eq(json_string_value(at(told, "unit")), "warm-hour");
    ck_assert(json_number_value(at(told, "have")) == 41.2);
    ck_assert_str_eq(json_string_value(at(told, "started")), "2026-10-22T18:00:00-06:00");
    ck_assert_str_eq(json_string_value(at(told, "crossing")), "2026-11-01T09:30:17-07:00");
    ck_assert_str_eq(json_string_value(at(told, "opens")), "2026-11-01T10:00:00-07:00");
    ck_assert(json_is_null(at(told, "stopped")));
    ck_assert(json_is_null(at(told, "source")));
    ck_assert_uint_eq(json_array_size(at(told, "assumes")), 2);
    ck_assert(json_number_value(at(at(told, "last_reading"), "degf")) == 50.0);
    ck_assert_ptr_null(json_object_get(told, "stopped_by_soaking"));
    ck_assert_ptr_null(json_object_get(told, "days"));
    json_decref(json);
}
END_TEST

START_TEST(counted_days_and_what_ended_are_told)
{
    struct counted_day days[] = {{20746, 1.0, DAY_FULL, 15.0, 6.0},
                                 {20747, 0.5, DAY_HALF_COOL, 8.0, 1.0},
                                 {20748, 0.0, DAY_NO_READING, NAN, NAN}};
    struct record accepted = {.at_s = NOW_S, .by = "R. Keel", .reason = "old pad"};
    struct record relaid = {.id = "r5"};
    struct clock_plan clock = {.clock = CLOCK_UNIT_DRY_CURE,
                               .part = PART_UNIT,
                               .state = CLOCK_STATE_CHECK_IT,
                               .have = 1.5,
                               .need = 28,
                               .unit = UNIT_COUNTED_DAY,
                               .floor_h = NAN,
                               .need_mark = MARK_CP,
                               .floor_mark = MARK_NONE,
                               .start_s = NOW_S,
                               .crossing_s = INSTANT_NONE,
                               .opens_s = INSTANT_NONE,
                               .stopped_s = NOW_S,
                               .no_reading_since_s = INSTANT_NONE,
                               .accepted = &accepted,
                               .days = days,
                               .day_count = 3};
    struct struck_clock struck = {CLOCK_UNIT_DRY_CURE, NOW_S - 86400, NOW_S, 0.5, &relaid};
    plan.clocks = &clock;
    plan.clock_count = 1;
    plan.struck = &struck;
    plan.struck_count = 1;
    json_t *json = written();
    json_t *told = json_array_get(at(job_of(json), "clocks"), 0);
    ck_assert(json_is_null(at(told, "crossing")));
    ck_assert(json_is_null(at(told, "floor_h")));
    ck_assert(json_is_null(at(told, "floor_mark")));
    ck_assert(json_is_null(at(told, "last_reading")));
    ck_assert(json_is_false(at(told, "stopped_by_soaking")));
    ck_assert_str_eq(json_string_value(at(at(told, "accepted"), "by")), "R. Keel");
    json_t *day = json_array_get(at(told, "days"), 1);
    ck_assert_str_eq(json_string_value(at(day, "date")), "2026-10-21");
    ck_assert(json_number_value(at(day, "credit")) == 0.5);
    ck_assert_str_eq(json_string_value(at(day, "reason")), "half-cool");
    ck_assert(json_is_null(at(json_array_get(at(told, "days"), 2), "mean_degc")));
    json_t *line = json_array_get(at(job_of(json), "struck"), 0);
    ck_assert_str_eq(json_string_value(at(line, "because")), "r5");
    json_decref(json);
}
END_TEST

START_TEST(every_kind_of_reason_and_caution_has_a_sentence)
{
    struct reason reasons[REASON_COUNT];
    struct caution cautions[CAUTION_COUNT];
    for (int i = 0; i < REASON_COUNT; i++) {
        reasons[i] = (struct reason){.kind = (enum reason_kind)i,
                                     .rule = "pad.build-on",
                                     .until_s = i % 2 ? INSTANT_NONE : NOW_S + 3600,
                                     .task = i % 3 ? TASK_PAD_POUR : TASK_NONE,
                                     .clock = CLOCK_PAD_BUILD_ON,
                                     .have = i % 2 ? NAN : 41.2,
                                     .need = i % 2 ? NAN : 48,
                                     .unit = UNIT_WARM_HOUR,
                                     .floor_h = NAN,
                                     .mark = i % 2 ? MARK_NONE : MARK_P,
                                     .source = i % 2 ? NULL : "astm-c1074"};
    }
    for (int i = 0; i < CAUTION_COUNT; i++) {
        cautions[i] = (struct caution){.caution = (enum caution_id)i,
                                       .part = i % 2 ? PART_NONE : PART_PAD,
                                       .task = TASK_NONE,
                                       .at_s = NOW_S,
                                       .value = 1.0,
                                       .quantity = QUANTITY_NONE};
    }
    plan.tasks[TASK_LAYOUT].because = reasons;
    plan.tasks[TASK_LAYOUT].because_count = REASON_COUNT;
    plan.cautions = cautions;
    plan.caution_count = CAUTION_COUNT;
    json_t *json = written();
    json_t *because = at(json_array_get(at(job_of(json), "tasks"), TASK_LAYOUT), "because");
    ck_assert_uint_eq(json_array_size(because), REASON_COUNT);
    for (size_t i = 0; i < REASON_COUNT; i++) {
        json_t *reason = json_array_get(because, i);
        ck_assert_uint_gt(json_string_length(at(reason, "says")), 8);
        ck_assert_str_eq(json_string_value(at(reason, "kind")), reason_ids.ids[i]);
        ck_assert_int_eq(json_is_null(at(reason, "unit")), i % 2 == 1);
        ck_assert_int_eq(json_is_null(at(reason, "mark")), i % 2 == 1);
        ck_assert_int_eq(json_is_null(at(reason, "until")), i % 2 == 1);
    }
    json_t *told = at(job_of(json), "cautions");
    ck_assert_uint_eq(json_array_size(told), CAUTION_COUNT);
    for (size_t i = 0; i < CAUTION_COUNT; i++) {
        ck_assert_str_eq(json_string_value(at(json_array_get(told, i), "id")), caution_ids.ids[i]);
        ck_assert_uint_gt(json_string_length(at(json_array_get(told, i), "says")), 8);
    }
    json_decref(json);
}
END_TEST

START_TEST(every_block_of_the_fire_has_its_id)
{
    static const char *const ids[] = {"not-lined", "lit",   "facing",
                                      "check-it",  "ended", "no-reading"};
    plan.fire.blocked_by = FIRE_BLOCK_NOT_LINED | FIRE_BLOCK_LIT | FIRE_BLOCK_FACING |
                           FIRE_BLOCK_CHECK_IT | FIRE_BLOCK_ENDED | FIRE_BLOCK_NO_READING;
    json_t *json = written();
    json_t *blocks = at(at(job_of(json), "fire"), "blocked_by");
    ck_assert_uint_eq(json_array_size(blocks), 6);
    for (size_t i = 0; i < 6; i++) {
        ck_assert_str_eq(json_string_value(json_array_get(blocks, i)), ids[i]);
    }
    json_decref(json);
}
END_TEST

START_TEST(a_crews_days_are_told_in_the_zone_of_the_job_worked_on)
{
    struct crew crew = {.id = "north", .people = 3};
    struct crew_work work = {
        .job = &job, .task = TASK_LAYOUT, .start_s = NOW_S, .finish_s = NOW_S + 3600};
    struct crew_day day = {.day = 20749, .work = &work, .work_count = 1};
    struct crew_plan crews = {.crew = &crew, .days = &day, .day_count = 1};
    whole.crews = &crews;
    whole.crew_count = 1;
    json_t *json = written();
    json_t *told = json_array_get(at(json, "crews"), 0);
    ck_assert_str_eq(json_string_value(at(told, "crew")), "north");
    json_t *first = json_array_get(at(told, "days"), 0);
    ck_assert_str_eq(json_string_value(at(first, "date")), "2026-10-23");
    json_t *piece = json_array_get(at(first, "work"), 0);
    ck_assert_str_eq(json_string_value(at(piece, "task")), "layout");
    ck_assert_str_eq(json_string_value(at(piece, "start")), "2026-10-23T18:00:00-06:00");
    json_decref(json);
}
END_TEST

START_TEST(the_same_plan_is_the_same_bytes_and_a_full_text_says_so)
{
    struct text again = TEXT_UP_TO(1 << 20);
    json_decref(written());
    plan_json(&again, &whole, words);
    ck_assert_uint_eq(again.length, text.length);
    ck_assert_mem_eq(again.data, text.data, text.length);
    text_free(&again);
    struct text small = TEXT_UP_TO(500);
    plan_json(&small, &whole, words);
    ck_assert_int_eq(text_status(&small), STATUS_LIMIT);
    text_free(&small);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan json");
    TCase *cases = tcase_create("plan json");
    tcase_add_checked_fixture(cases, set_up, tear_down);
    tcase_add_test(cases, a_plan_of_nothing_has_every_task_and_nulls_for_what_is_not_known);
    tcase_add_test(cases, a_clock_is_told_in_the_jobs_zone_with_the_offset_of_that_day);
    tcase_add_test(cases, counted_days_and_what_ended_are_told);
    tcase_add_test(cases, every_kind_of_reason_and_caution_has_a_sentence);
    tcase_add_test(cases, every_block_of_the_fire_has_its_id);
    tcase_add_test(cases, a_crews_days_are_told_in_the_zone_of_the_job_worked_on);
    tcase_add_test(cases, the_same_plan_is_the_same_bytes_and_a_full_text_says_so);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
