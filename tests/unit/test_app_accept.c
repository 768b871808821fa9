/* SPDX-License-Identifier: MIT */
/* links: app */
/*
 * Who accepted what: only a figure that is on the table can be accepted. Refused are a figure of
 * one's own, one of another check, and any figure for a check that has none.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_accept.h"
#include "intake/intake.h"

static struct faults faults;
static struct intake intake;
static struct rulebook *book;

static void set_up(void)
{
    memset(&faults, 0, sizeof faults);
    intake = (struct intake){arena_new(), intake_zones_new(), &faults};
    ck_assert_int_eq(rulebook_load_shipped(&book, "modular-masonry", &faults), STATUS_OK);
}

static void tear_down(void)
{
    rulebook_free(book);
    faults_free(&faults);
    arena_free(intake.arena);
    intake_zones_free(intake.zones);
}

static enum status accepting(const char *kits, const char *job, const char *rule, const char *need)
{
    const char *text = arena_print(
        intake.arena,
        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\",\"company\":{\"time_zone\":\"UTC\","
        "\"work_days\":[\"mon\"],\"work_hours\":[\"07:00\",\"15:30\"]%s},\"jobs\":[{\"id\":\"elm\","
        "\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\"}%s,\"records\":[{"
        "\"id\":\"r1\",\"kind\":\"overridden\",\"rule\":\"%s\",\"need\":%s,\"sheet\":\"p. 12\","
        "\"by\":\"Rosa\",\"reason\":\"listed\",\"at\":\"2026-10-20T13:00:00Z\"}]}]}",
        kits, job, rule, need);
    struct casefile *casefile = NULL;
    faults_free(&faults);
    ck_assert_int_eq(intake_case_text(&casefile, text, strlen(text), &intake), STATUS_OK);
    return app_accept_check_case(book, casefile, &faults);
}

START_TEST(either_figure_on_the_table_may_be_accepted)
{
    ck_assert_int_eq(accepting("", "", "check.line-floor.thickness", "1.25"), STATUS_OK);
    ck_assert_int_eq(accepting("", "", "check.line-floor.thickness", "2"), STATUS_OK);
    ck_assert_int_eq(accepting("", "", "check.frame-inspect.back", "1"), STATUS_OK);
    ck_assert_uint_eq(faults.count, 0);
}
END_TEST

START_TEST(a_figure_of_ones_own_is_refused_with_those_on_the_table)
{
    ck_assert_int_eq(accepting("", "", "check.line-floor.thickness", "1.5"), STATUS_INVALID);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.items[0].path, "jobs[0].records[0].need");
    ck_assert_str_eq(faults.items[0].found, "1.5 for check.line-floor.thickness");
    ck_assert_str_eq(faults.items[0].wanted, "one of the figures on the table: 1.25, 2");
    ck_assert_int_eq(accepting("", "", "check.line-floor.thickness", "1.2499"), STATUS_INVALID);
}
END_TEST

START_TEST(a_check_without_figures_has_nothing_to_accept)
{
    ck_assert_int_eq(accepting("", "", "check.pad-check.dry", "1"), STATUS_INVALID);
    ck_assert_ptr_nonnull(strstr(faults.items[0].wanted, "no figures"));
}
END_TEST

START_TEST(a_kits_figure_is_on_the_table_of_its_jobs_only)
{
    const char *kits = ",\"kits\":[{\"id\":\"k\",\"page\":\"7\",\"clearances\":{\"back_in\":3}}]";
    ck_assert_int_eq(accepting(kits, ",\"kit\":\"k\"", "check.frame-inspect.back", "3"), STATUS_OK);
    ck_assert_int_eq(accepting(kits, "", "check.frame-inspect.back", "3"), STATUS_INVALID);
}
END_TEST

START_TEST(the_hearth_of_a_small_opening_has_figures_of_its_own)
{
    const char *small = ",\"quantities\":{\"opening_width_in\":30,\"opening_height_in\":26}";
    ck_assert_int_eq(accepting("", small, "check.hearth-ext.front", "16"), STATUS_OK);
    ck_assert_int_eq(accepting("", "", "check.hearth-ext.front", "16"), STATUS_INVALID);
}
END_TEST

START_TEST(a_missed_inspection_is_nobodys_to_excuse)
{
    const char *text =
        "{\"emberwait\":1,\"now\":\"2026-10-23T18:00:00Z\",\"company\":{\"time_zone\":\"UTC\","
        "\"work_days\":[\"mon\"],\"work_hours\":[\"07:00\",\"15:30\"]},\"jobs\":[{\"id\":\"elm\","
        "\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\"},\"records\":["
        "{\"id\":\"a\",\"kind\":\"overridden\",\"rule\":\"missed.air-cut\",\"by\":\"Rosa\","
        "\"reason\":\"none\",\"at\":\"2026-10-20T13:00:00Z\"},"
        "{\"id\":\"b\",\"kind\":\"overridden\",\"rule\":\"missed.frame-inspect\",\"by\":\"Rosa\","
        "\"reason\":\"none\",\"at\":\"2026-10-20T13:00:00Z\"}]}]}";
    struct casefile *casefile = NULL;
    ck_assert_int_eq(intake_case_text(&casefile, text, strlen(text), &intake), STATUS_OK);
    ck_assert_int_eq(app_accept_check_case(book, casefile, &faults), STATUS_INVALID);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.items[0].path, "jobs[0].records[1].rule");
    ck_assert_str_eq(faults.items[0].found, "missed.frame-inspect");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("app accept");
    TCase *cases = tcase_create("accept");
    tcase_add_checked_fixture(cases, set_up, tear_down);
    tcase_add_test(cases, either_figure_on_the_table_may_be_accepted);
    tcase_add_test(cases, a_figure_of_ones_own_is_refused_with_those_on_the_table);
    tcase_add_test(cases, a_check_without_figures_has_nothing_to_accept);
    tcase_add_test(cases, a_kits_figure_is_on_the_table_of_its_jobs_only);
    tcase_add_test(cases, the_hearth_of_a_small_opening_has_figures_of_its_own);
    tcase_add_test(cases, a_missed_inspection_is_nobodys_to_excuse);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
