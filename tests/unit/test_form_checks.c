/* SPDX-License-Identifier: MIT */
/* links: views compute model */
/*
 * Checks and whole half-built jobs as a phone or a desk posts them: what becomes of each field, and
 * every fault under its own name.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "views/form_checks.h"
#include "views/form_take_over.h"
#include "views/says.h"

static struct faults faults;

static const char *put(enum task task, const struct form_field *fields, size_t count)
{
    static struct text text;
    text_free(&text);
    text = (struct text)TEXT_UP_TO(4000);
    struct json json = {.text = &text};
    faults_free(&faults);
    json_open_object(&json, NULL);
    bool good = form_checks_put(&json, fields, count, task, &faults);
    json_close(&json);
    ck_assert(good == (faults.count == 0));
    return text_z(&text);
}
#define PUT(task, ...)                                                                             \
    put(task, (const struct form_field[]){__VA_ARGS__},                                            \
        sizeof((const struct form_field[]){__VA_ARGS__}) / sizeof(struct form_field))

START_TEST(a_figure_is_read_as_it_stands_on_a_tape)
{
    const struct {
        const char *text;
        double figure;
    } good[] = {{"1/8", 0.125},   {"0.125", 0.125}, {"0,125", 0.125}, {".5", 0.5},
                {"1 1/4", 1.25},  {"12", 12},       {"-1/8", -0.125}, {"+2", 2},
                {"3/16", 0.1875}, {"2.", 2},        {"15/16", 0.9375}};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        double figure = NAN;
        ck_assert_msg(form_figure(&figure, good[i].text, strlen(good[i].text)), "%s", good[i].text);
        ck_assert_double_eq_tol(figure, good[i].figure, 1e-12);
    }
    static const char *const bad[] = {
        "",    "a",    "1/0",   "1/",  "/8", "1 2",    "1/8/2",  "--1",
        "1e3", "0x10", "1.2.3", "inf", ".",  "1  1/8", "1 -1/8", "12345678901234567890123456"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double figure = 7;
        ck_assert_msg(!form_figure(&figure, bad[i], strlen(bad[i])), "%s", bad[i]);
        ck_assert_double_eq(figure, 7);
    }
}
END_TEST

START_TEST(each_kind_of_check_is_put_as_its_own_answer)
{
    ck_assert_str_eq(PUT(TASK_PAD_CHECK, {"check.level", " 1/8 "}, {"photo.level", "p1"},
                         {"check.dry", "no"}, {"initials.dry", "AM"}, {"check.probe", ""}),
                     "{\"checks\":[{\"check\":\"level\",\"value\":0.125,\"photo\":\"p1\"},"
                     "{\"check\":\"dry\",\"yes\":false,\"initials\":\"AM\"}]}");
    ck_assert_str_eq(PUT(TASK_LINE_SIDES, {"check.spacers", "6"}, {"of.spacers", "6"}),
                     "{\"checks\":[{\"check\":\"spacers\",\"value\":6,\"of\":6}]}");
    ck_assert_str_eq(PUT(TASK_FACING_OTHERS, {"check.last-mortar", "2026-10-20"}),
                     "{\"checks\":[{\"check\":\"last-mortar\",\"date\":\"2026-10-20\"}]}");
    ck_assert_str_eq(PUT(TASK_PAD_POUR, {"check.finish", "14:20 \"sharp\""}),
                     "{\"checks\":[{\"check\":\"finish\",\"text\":\"14:20 \\\"sharp\\\"\"}]}");
    ck_assert_str_eq(PUT(TASK_PAD_INSPECT, {"check.slip", "yes"}, {"slip.slip", "A-113"}),
                     "{\"checks\":[{\"check\":\"slip\",\"yes\":true,\"slip\":\"A-113\"}]}");
}
END_TEST

START_TEST(nothing_answered_is_nothing_said)
{
    ck_assert_str_eq(PUT(TASK_PAD_CHECK, {"check.level", "  "}, {"photo.level", "p1"}), "{}");
    ck_assert_str_eq(PUT(TASK_PAD_CHECK, {"task", "pad-check"}), "{}");
}
END_TEST

static void refused(const char *field, const char *wanted)
{
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.items[0].path, field);
    ck_assert_ptr_nonnull(strstr(faults.items[0].wanted, wanted));
}

START_TEST(each_fault_of_an_answer_stands_under_its_field)
{
    (void)PUT(TASK_PAD_CHECK, {"check.level", "a bit"});
    refused("check.level", "1/8");
    (void)PUT(TASK_PAD_CHECK, {"check.level", "1001"});
    refused("check.level", "number");
    (void)PUT(TASK_PAD_CHECK, {"check.dry", "quite"});
    refused("check.dry", "yes or no");
    (void)PUT(TASK_FACING_OTHERS, {"check.last-mortar", "yesterday"});
    refused("check.last-mortar", "YYYY-MM-DD");
    (void)PUT(TASK_LINE_SIDES, {"check.spacers", "6"}, {"of.spacers", "all"});
    refused("of.spacers", "number");
    (void)PUT(TASK_PAD_CHECK, {"check.spacers", "6"});
    refused("check.spacers", "a check of this task");
}
END_TEST

START_TEST(inches_are_said_as_they_stand_on_a_tape)
{
    struct words *words = NULL;
    ck_assert_int_eq(words_load(&words, PROJECT_ROOT "/schema/words", "en", &faults), STATUS_OK);
    const struct {
        double figure;
        enum check_unit unit;
        const char *said;
    } rows[] = {
        {0.125, CHECK_UNIT_IN, "1/8 in."},
        {1.25, CHECK_UNIT_IN, "1 1/4 in."},
        {2, CHECK_UNIT_IN, "2 in."},
        {0.0625, CHECK_UNIT_IN, "1/16 in."},
        {0, CHECK_UNIT_IN, "0 in."},
        {0.3, CHECK_UNIT_IN, "0.3 in."},
        {0.12345, CHECK_UNIT_IN, "0.123 in."},
        {0.25, CHECK_UNIT_IN_PER_10_FT, "1/4 in. in 10 ft"},
        {54.5, CHECK_UNIT_F, "54.5\u00b0F"},
        {6, CHECK_UNIT_PIECES, "6 pieces"},
        {NAN, CHECK_UNIT_IN, ""},
        {0.5, CHECK_UNIT_NONE, "0.5"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_str_eq(says_measure(words, rows[i].figure, rows[i].unit).z, rows[i].said);
    words_free(words);
}
END_TEST

/* --- a whole job ---------------------------------------------------------------------------------
 */

static enum status take(struct text *out, const struct form_field *fields, size_t count)
{
    *out = (struct text)TEXT_UP_TO(4000);
    faults_free(&faults);
    return form_take_over_json(out, fields, count, &faults);
}

START_TEST(ticks_with_days_become_one_body)
{
    const struct form_field fields[] = {{"id", "take-0001"},
                                        {"by", "Rosa"},
                                        {"reason", "seen"},
                                        {"done_on", "2026-09-01"},
                                        {"task.pad-check", "1"},
                                        {"task.box-courses", "1"},
                                        {"date.box-courses", "2026-09-14"},
                                        {"date.layout", "2026-09-02"},
                                        {"clock.joints.early", "1"}};
    struct text out;
    ck_assert_int_eq(take(&out, fields, sizeof fields / sizeof *fields), STATUS_OK);
    ck_assert_str_eq(text_z(&out),
                     "{\"id\":\"take-0001\",\"by\":\"Rosa\",\"reason\":\"seen\",\"tasks\":["
                     "{\"task\":\"pad-check\",\"date\":\"2026-09-01\"},"
                     "{\"task\":\"box-courses\",\"date\":\"2026-09-14\"}],"
                     "\"clocks\":[{\"clock\":\"joints.early\"}]}");
    text_free(&out);
}
END_TEST

START_TEST(who_why_and_a_day_have_to_be_said)
{
    const struct form_field fields[] = {{"id", "take-0001"},
                                        {"reason", ""},
                                        {"task.pad-check", "1"},
                                        {"date.pad-check", "soon"},
                                        {"task.layout", "1"}};
    struct text out;
    ck_assert_int_eq(take(&out, fields, sizeof fields / sizeof *fields), STATUS_INVALID);
    ck_assert_uint_eq(out.length, 0);
    ck_assert_uint_eq(faults.count, 4);
    ck_assert_str_eq(faults.items[0].path, "by");
    ck_assert_str_eq(faults.items[1].path, "reason");
    ck_assert_str_eq(faults.items[2].path, "date.pad-check");
    ck_assert_str_eq(faults.items[2].found, "soon");
    ck_assert_str_eq(faults.items[3].path, "done_on");
    text_free(&out);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("form checks");
    TCase *cases = tcase_create("forms");
    tcase_add_test(cases, a_figure_is_read_as_it_stands_on_a_tape);
    tcase_add_test(cases, each_kind_of_check_is_put_as_its_own_answer);
    tcase_add_test(cases, nothing_answered_is_nothing_said);
    tcase_add_test(cases, each_fault_of_an_answer_stands_under_its_field);
    tcase_add_test(cases, inches_are_said_as_they_stand_on_a_tape);
    tcase_add_test(cases, ticks_with_days_become_one_body);
    tcase_add_test(cases, who_why_and_a_day_have_to_be_said);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
