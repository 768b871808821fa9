/* SPDX-License-Identifier: MIT */
/* links: intake model */
/*
 * Checks, lots, kits' sheets and who accepted what, as they come in: what is read, and every fault
 * with its place, what was found and what was wanted.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "intake/intake.h"

static struct faults faults;
static struct intake intake;

static void set_up(void)
{
    memset(&faults, 0, sizeof faults);
    intake = (struct intake){arena_new(), intake_zones_new(), &faults};
}

static void tear_down(void)
{
    faults_free(&faults);
    arena_free(intake.arena);
    intake_zones_free(intake.zones);
}

static enum status read(const char *company, const char *members, const char *record,
                        struct casefile **out)
{
    const char *text = arena_print(
        intake.arena,
        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\",\"company\":{\"time_zone\":\"UTC\","
        "\"work_days\":[\"mon\"],\"work_hours\":[\"07:00\",\"15:30\"]%s},\"jobs\":[{\"id\":\"elm\","
        "\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\"}%s,\"records\":[%s]}]"
        "}",
        company, members, record);
    faults_free(&faults);
    return intake_case_text(out, text, strlen(text), &intake);
}

#define R(kind, more)                                                                              \
    "{\"id\":\"r1\",\"kind\":\"" kind "\",\"at\":\"2026-10-20T13:00:00Z\"," more "}"
#define CHECKS(answers) R("passed", "\"task\":\"pad-check\",\"checks\":[" answers "]")

static const struct record *good(const char *record)
{
    struct casefile *out = NULL;
    if (read("", "", record, &out) != STATUS_OK)
        ck_abort_msg("%s: found %s, wanted %s", faults.items[0].path, faults.items[0].found,
                     faults.items[0].wanted);
    return &out->jobs[0].records[0];
}

/* One bad thing: where, what was found, what was wanted (words of them). */
struct bad {
    const char *company, *members, *record;
    const char *path, *found, *wanted;
};

static void refused(const struct bad *bad)
{
    struct casefile *out = NULL;
    ck_assert_int_eq(read(bad->company, bad->members, bad->record, &out), STATUS_INVALID);
    ck_assert_ptr_null(out);
    if (faults.count != 1)
        ck_abort_msg("%zu faults, the second %s: found %s, wanted %s", faults.count,
                     faults.count > 1 ? faults.items[1].path : "none",
                     faults.count > 1 ? faults.items[1].found : "",
                     faults.count > 1 ? faults.items[1].wanted : "");
    ck_assert_str_eq(faults.items[0].path, bad->path);
    ck_assert_msg(strstr(faults.items[0].found, bad->found) != NULL, "%s: found %s", bad->path,
                  faults.items[0].found);
    ck_assert_msg(strstr(faults.items[0].wanted, bad->wanted) != NULL, "%s: wanted %s", bad->path,
                  faults.items[0].wanted);
}

START_TEST(each_kind_of_answer_is_read)
{
    const struct record *r = good(CHECKS("{\"check\":\"level\",\"value\":0.125,\"photo\":\"p1\"},"
                                         "{\"check\":\"scratch\",\"yes\":true,\"initials\":\"AM\"},"
                                         "{\"check\":\"dry\",\"yes\":false}"));
    ck_assert_uint_eq(r->check_count, 3);
    ck_assert_int_eq((int)r->checks[0].check, CHECK_PAD_CHECK_LEVEL);
    ck_assert_double_eq(r->checks[0].value, 0.125);
    ck_assert_str_eq(r->checks[0].photo, "p1");
    ck_assert_int_eq(r->checks[0].yes, -1);
    ck_assert_int_eq(r->checks[1].yes, 1);
    ck_assert_str_eq(r->checks[1].initials, "AM");
    ck_assert(isnan(r->checks[1].value));
    ck_assert_int_eq(r->checks[2].yes, 0);
    r = good(R("done", "\"task\":\"line-sides\",\"lot\":\"L7\",\"checks\":["
                       "{\"check\":\"spacers\",\"value\":6,\"of\":6}]"));
    ck_assert_double_eq(r->checks[0].of, 6);
    ck_assert_str_eq(r->lot, "L7");
    r = good(R("inspection", "\"task\":\"pad-inspect\",\"result\":\"passed\",\"checks\":["
                             "{\"check\":\"slip\",\"yes\":true,\"slip\":\"A-113\"}]"));
    ck_assert_str_eq(r->checks[0].slip, "A-113");
    r = good(R("done", "\"task\":\"facing-others\",\"checks\":["
                       "{\"check\":\"last-mortar\",\"date\":\"2026-10-19\"}]"));
    ck_assert_int_ne(r->checks[0].day, DAY_NONE);
    r = good(R("done", "\"task\":\"pad-pour\",\"checks\":["
                       "{\"check\":\"finish\",\"text\":\"14:20\"}]"));
    ck_assert_str_eq(r->checks[0].text, "14:20");
    r = good(R("passed", "\"task\":\"pad-check\",\"taken_over\":true"));
    ck_assert(r->taken_over && r->checks == NULL);
}
END_TEST

#define AT(path) "jobs[0].records[0]." path

START_TEST(every_fault_of_a_check_is_named)
{
    const struct bad rows[] = {
        {"", "", R("passed", "\"task\":\"pad-check\",\"checks\":{}"), AT("checks"), "", "checks"},
        {"", "", CHECKS("7"), AT("checks[0]"), "7", "object"},
        {"", "", CHECKS("{\"yes\":true}"), AT("checks[0].check"), "nothing", ""},
        {"", "", CHECKS("{\"check\":\"straight\",\"yes\":true}"), AT("checks[0].check"), "straight",
         "one of level scratch probe cracks dry"},
        {"", "", CHECKS("{\"check\":\"level\"}"), AT("checks[0].value"), "nothing",
         "an answer: the check is a measure"},
        {"", "", CHECKS("{\"check\":\"level\",\"value\":0.1,\"yes\":true}"), AT("checks[0].yes"),
         "true", "nothing: the check is a measure"},
        {"", "", CHECKS("{\"check\":\"level\",\"value\":\"1/8\"}"), AT("checks[0].value"), "1/8",
         "number"},
        {"", "", CHECKS("{\"check\":\"level\",\"value\":1001}"), AT("checks[0].value"), "1001",
         "1000"},
        {"", "", CHECKS("{\"check\":\"level\",\"value\":0,\"of\":2}"), AT("checks[0].of"), "2",
         "only a count"},
        {"", "", CHECKS("{\"check\":\"dry\",\"yes\":true,\"colour\":1}"), AT("checks[0].colour"),
         "", ""},
        {"", "", CHECKS("{\"check\":\"dry\",\"yes\":true},{\"check\":\"dry\",\"yes\":true}"),
         AT("checks[1].check"), "dry", "once"},
        {"", "", R("started", "\"task\":\"pad-check\",\"checks\":[]"), AT("checks"), "", ""},
        {"", "", R("bag", "\"lot\":\"A\",\"condition\":\"wet\""), AT("condition"), "wet", "damp"},
        {"", "", R("failed", "\"task\":\"layout\",\"lot\":\"A\""), AT("lot"), "", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) refused(&rows[i]);
}
END_TEST

START_TEST(all_faults_of_a_list_of_checks_are_told_at_once)
{
    struct casefile *out = NULL;
    (void)read("", "",
               CHECKS("{\"check\":\"level\",\"yes\":true},{\"check\":\"x\",\"yes\":true},"
                      "{\"check\":\"dry\",\"value\":1}"),
               &out);
    ck_assert_uint_eq(faults.count, 5); /* two each for a wrong answer: one too many, one missing */
}
END_TEST

#define OVER(more) R("overridden", "\"by\":\"Rosa\",\"reason\":\"listed\"," more)

START_TEST(an_override_names_a_clock_a_check_or_a_missed_chance)
{
    const struct record *r = good(OVER("\"rule\":\"pad.build-on\",\"floor_h\":72"));
    ck_assert_int_eq((int)r->clock, CLOCK_PAD_BUILD_ON);
    ck_assert(r->check == CHECK_NONE && r->excuses == TASK_NONE);
    r = good(OVER("\"rule\":\"check.line-floor.thickness\",\"need\":1.25,\"sheet\":\"p. 12\""));
    ck_assert_int_eq((int)r->check, CHECK_LINE_FLOOR_THICKNESS);
    ck_assert_int_eq((int)r->clock, CLOCK_NONE);
    r = good(OVER("\"rule\":\"missed.air-cut\""));
    ck_assert_int_eq((int)r->excuses, TASK_AIR_CUT);
}
END_TEST

START_TEST(every_fault_of_an_override_is_named)
{
    const struct bad rows[] = {
        {"", "", OVER("\"rule\":\"pad.build\",\"floor_h\":72"), AT("rule"), "pad.build",
         "check.<task>.<check>"},
        {"", "", OVER("\"rule\":\"check.line-floor.width\",\"need\":1,\"sheet\":\"p\""), AT("rule"),
         "width", "a clock"},
        {"", "", OVER("\"rule\":\"missed.lunch\""), AT("rule"), "lunch", "missed.<task>"},
        {"", "", OVER("\"rule\":\"pad.build-on\""), "jobs[0].records[0]", "neither", "floor_h"},
        {"", "", OVER("\"rule\":\"pad.build-on\",\"floor_h\":72,\"sheet\":\"p\""), AT("sheet"),
         "a sheet", "only a check"},
        {"", "", OVER("\"rule\":\"check.line-floor.thickness\",\"need\":1.25"), AT("sheet"),
         "nothing", "listing page"},
        {"", "", OVER("\"rule\":\"check.line-floor.thickness\",\"sheet\":\"p\""), AT("need"),
         "nothing", "the figure"},
        {"", "",
         OVER("\"rule\":\"check.line-floor.thickness\",\"need\":1.25,\"sheet\":\"p\","
              "\"floor_h\":1"),
         AT("floor_h"), "1", "only a clock"},
        {"", "", OVER("\"rule\":\"missed.air-cut\",\"need\":1"), AT("need"), "1", "excused"},
        {"", "", OVER("\"rule\":\"missed.air-cut\",\"sheet\":\"p\""), AT("sheet"), "p", "excused"},
        {"", "", R("overridden", "\"rule\":\"missed.air-cut\",\"reason\":\"x\""), AT("by"),
         "nothing", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) refused(&rows[i]);
}
END_TEST

#define KITS(kit) ",\"kits\":[" kit "]"

START_TEST(a_kits_sheet_is_read_by_clock_and_by_distance)
{
    struct casefile *out = NULL;
    ck_assert_int_eq(
        read(KITS("{\"id\":\"k42\",\"name\":\"Forty-two\",\"revision\":\"C\",\"page\":\"7\","
                  "\"clocks\":{\"pad.build-on\":{\"floor_h\":48},\"unit.dry-cure\":{\"need\":30}},"
                  "\"clearances\":{\"back_in\":3,\"lining_in\":1.25},\"bag_min_degf\":50}"),
             ",\"kit\":\"k42\",\"site\":\"Alder Court\"", "", &out),
        STATUS_OK);
    const struct kit *kit = company_kit(&out->company, out->jobs[0].kit_id);
    ck_assert_str_eq(kit->name, "Forty-two");
    ck_assert_double_eq(kit->floor_h[CLOCK_PAD_BUILD_ON], 48);
    ck_assert(isnan(kit->need[CLOCK_PAD_BUILD_ON]));
    ck_assert_double_eq(kit->need[CLOCK_UNIT_DRY_CURE], 30);
    ck_assert_double_eq(kit->clearances_in[CLEARANCE_BACK_IN], 3);
    ck_assert_double_eq(kit->clearances_in[CLEARANCE_LINING_IN], 1.25);
    ck_assert(isnan(kit->clearances_in[CLEARANCE_FRONT_IN]));
    ck_assert_double_eq_tol(kit->bag_min_degc, 10, 1e-9);
    ck_assert_str_eq(out->jobs[0].site, "Alder Court");
    ck_assert_ptr_null(company_kit(&out->company, "k43"));
    ck_assert_ptr_null(company_kit(&out->company, NULL));
}
END_TEST

START_TEST(every_fault_of_a_kit_is_named)
{
    const struct bad rows[] = {
        {",\"kits\":{}", "", "", "company.kits", "", "kits"},
        {KITS("{\"name\":\"x\"}"), "", "", "company.kits[0].id", "nothing", ""},
        {KITS("{\"id\":\"a\"},{\"id\":\"a\"}"), "", "", "company.kits[1].id", "a", "its own"},
        {KITS("{\"id\":\"a\",\"clocks\":{\"pad.build\":{}}}"), "", "",
         "company.kits[0].clocks.pad.build", "", ""},
        {KITS("{\"id\":\"a\",\"clocks\":{\"pad.strip\":{\"floor\":1}}}"), "", "",
         "company.kits[0].clocks.pad.strip.floor", "", ""},
        {KITS("{\"id\":\"a\",\"clocks\":{\"pad.strip\":{\"floor_h\":-1}}}"), "", "",
         "company.kits[0].clocks.pad.strip.floor_h", "-1", "0"},
        {KITS("{\"id\":\"a\",\"clearances\":{\"roof_in\":2}}"), "", "",
         "company.kits[0].clearances.roof_in", "", ""},
        {KITS("{\"id\":\"a\",\"clearances\":{\"back_in\":\"2\"}}"), "", "",
         "company.kits[0].clearances.back_in", "2", "number"},
        {KITS("{\"id\":\"a\",\"bag_min_degf\":300}"), "", "", "company.kits[0].bag_min_degf", "300",
         "200"},
        {KITS("{\"id\":\"a\"}"), ",\"kit\":\"b\"", "", "jobs[0].kit", "b", "a kit of the company"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) refused(&rows[i]);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("intake checks");
    TCase *cases = tcase_create("checks");
    tcase_add_checked_fixture(cases, set_up, tear_down);
    tcase_add_test(cases, each_kind_of_answer_is_read);
    tcase_add_test(cases, every_fault_of_a_check_is_named);
    tcase_add_test(cases, all_faults_of_a_list_of_checks_are_told_at_once);
    tcase_add_test(cases, an_override_names_a_clock_a_check_or_a_missed_chance);
    tcase_add_test(cases, every_fault_of_an_override_is_named);
    tcase_add_test(cases, a_kits_sheet_is_read_by_clock_and_by_distance);
    tcase_add_test(cases, every_fault_of_a_kit_is_named);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
