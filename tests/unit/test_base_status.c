/* SPDX-License-Identifier: MIT */
/* Statuses and faults: one table for HTTP and the command line, and lists with a ceiling. */
#include <check.h>
#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static int allocations_left = -1; /* before one fails; below 0: none does */

static void *test_realloc(void *old, size_t size)
{
    if (allocations_left >= 0 && allocations_left-- == 0) return NULL;
    return realloc(old, size);
}

#define realloc test_realloc
#include "base/status.c"
#undef realloc

START_TEST(every_status_has_a_name_an_http_status_and_an_exit_status)
{
    for (int a = 0; a < STATUS_COUNT; a++) {
        ck_assert_ptr_nonnull(status_name((enum status)a));
        ck_assert_int_ge(status_http((enum status)a), 200);
        ck_assert_int_eq(status_exit((enum status)a) == 0, a == STATUS_OK);
        ck_assert_int_eq(status_http((enum status)a) < 400, a == STATUS_OK);
        for (int b = 0; b < a; b++)
            ck_assert_str_ne(status_name((enum status)a), status_name((enum status)b));
    }
    ck_assert_int_eq(status_exit(STATUS_INVALID), 65); /* sysexits.h EX_DATAERR */
    ck_assert_int_eq(status_http(STATUS_NOT_FOUND), 404);
}
END_TEST

START_TEST(a_status_out_of_the_set_is_a_bug_of_ours)
{
    (void)status_name(STATUS_COUNT);
}
END_TEST

START_TEST(faults_are_kept_in_order_and_cut_at_their_size)
{
    struct faults faults = {0};
    char most[1000];
    memset(most, 'x', sizeof most - 1);
    most[sizeof most - 1] = '\0';
    ck_assert_int_eq(faults_add(&faults, "jobs[0].id", "an id", "%d", 7), STATUS_INVALID);
    ck_assert_int_eq(faults_add(&faults, most, most, "%s", most), STATUS_INVALID);
    ck_assert_uint_eq(faults.count, 2);
    ck_assert_str_eq(faults.items[0].path, "jobs[0].id");
    ck_assert_str_eq(faults.items[0].wanted, "an id");
    ck_assert_str_eq(faults.items[0].found, "7");
    ck_assert_uint_eq(strlen(faults.items[1].path), FAULT_PATH_MAX - 1);
    ck_assert_uint_eq(strlen(faults.items[1].found), FAULT_TEXT_MAX - 1);
    faults_free(&faults);
    ck_assert_uint_eq(faults.count, 0);
    ck_assert_ptr_null(faults.items);
    faults_free(NULL);
    ck_assert_int_eq(faults_add(NULL, "", "", "x"), STATUS_INVALID);
    fault_set(NULL, "", "", "x");
}
END_TEST

START_TEST(faults_past_the_ceiling_are_counted)
{
    struct faults faults = {0};
    for (int i = 0; i < FAULTS_MAX + 5; i++) (void)faults_add(&faults, "p", "w", "%d", i);
    ck_assert_uint_eq(faults.count, FAULTS_MAX);
    ck_assert_uint_eq(faults.dropped, 5);
    ck_assert_str_eq(faults.items[FAULTS_MAX - 1].found, "199");
    faults_free(&faults);
}
END_TEST

START_TEST(a_fault_there_is_no_memory_for_is_counted_and_the_others_stay)
{
    struct faults faults = {0};
    allocations_left = 0;
    ck_assert_int_eq(faults_add(&faults, "p", "w", "lost"), STATUS_INVALID);
    ck_assert_uint_eq(faults.count, 0);
    ck_assert_uint_eq(faults.dropped, 1);
    allocations_left = 1;
    for (int i = 0; i < 9; i++) (void)faults_add(&faults, "p", "w", "%d", i);
    allocations_left = -1;
    ck_assert_uint_eq(faults.count, 8);
    ck_assert_uint_eq(faults.dropped, 2);
    ck_assert_str_eq(faults.items[7].found, "7");
    faults_free(&faults);
}
END_TEST

START_TEST(a_broken_requirement_aborts_in_every_build)
{
    const int one = 1;
    if (_i == 0)
        REQUIRE(one == 2);
    else
        ENSURE(one == 2);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("status");
    TCase *tests = tcase_create("status");
    tcase_add_test(tests, every_status_has_a_name_an_http_status_and_an_exit_status);
    tcase_add_test_raise_signal(tests, a_status_out_of_the_set_is_a_bug_of_ours, SIGABRT);
    tcase_add_test(tests, faults_are_kept_in_order_and_cut_at_their_size);
    tcase_add_test(tests, faults_past_the_ceiling_are_counted);
    tcase_add_test(tests, a_fault_there_is_no_memory_for_is_counted_and_the_others_stay);
    tcase_add_loop_test_raise_signal(tests, a_broken_requirement_aborts_in_every_build, SIGABRT, 0,
                                     2);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
