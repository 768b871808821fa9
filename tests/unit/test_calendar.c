/* SPDX-License-Identifier: MIT */
/* links: planner */
/*
 * Working hours by the wall clock: lunch, days off, clock changes, calendars without a working day.
 */
#include <check.h>
#include <stdlib.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "model/record.h"
#include "planner/calendar.h"

static struct zone *denver;
static struct calendar week;

static void set_up(void)
{
    ck_assert_int_eq(zone_load(&denver, "America/Denver", NULL), STATUS_OK);
    week = (struct calendar){.zone = denver,
                             .work_days = 0x1f,
                             .hours = {7 * 60, 15 * 60 + 30},
                             .lunch = {12 * 60, 12 * 60 + 30}};
}

static void tear_down(void)
{
    zone_free(denver);
}

static int64_t at(int month, int day, int hour, int minute)
{
    return civil_instant_s(denver, civil_day(2026, month, day), (hour * 60 + minute) * 60);
}

START_TEST(a_crew_day_has_eight_hours)
{
    ck_assert_double_eq(calendar_day_h(&week), 8.0);
    ck_assert_double_eq(calendar_left_h(&week, at(10, 19, 6, 0)), 8.0);
    ck_assert_double_eq(calendar_left_h(&week, at(10, 19, 11, 0)), 4.0);
    ck_assert_double_eq(calendar_left_h(&week, at(10, 19, 12, 15)), 3.0);
    ck_assert_double_eq(calendar_left_h(&week, at(10, 19, 15, 30)), 0.0);
    ck_assert_double_eq(calendar_left_h(&week, at(10, 18, 9, 0)), 0.0); /* Sunday */
}
END_TEST

START_TEST(work_starts_at_once_inside_hours_and_at_the_next_opening_outside)
{
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 9, 1), 0), at(10, 19, 9, 1));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 5, 0), 0), at(10, 19, 7, 0));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 12, 0), 0), at(10, 19, 12, 30));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 15, 30), 0), at(10, 20, 7, 0));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 23, 16, 0), 0), at(10, 26, 7, 0));
}
END_TEST

START_TEST(the_hours_that_must_be_left_are_working_hours)
{
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 11, 0), 4), at(10, 19, 11, 0));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 11, 1), 4), at(10, 20, 7, 0));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 13, 30), 2), at(10, 19, 13, 30));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 13, 31), 2), at(10, 20, 7, 0));
    /* the opening of a day always does, even of a day shorter than asked */
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 7, 0), 20), at(10, 19, 7, 0));
}
END_TEST

START_TEST(work_runs_over_lunch_nights_and_weekends)
{
    ck_assert_int_eq(calendar_finish_s(&week, at(10, 19, 11, 0), 1), at(10, 19, 12, 0));
    ck_assert_int_eq(calendar_finish_s(&week, at(10, 19, 11, 0), 1.5), at(10, 19, 13, 0));
    ck_assert_int_eq(calendar_finish_s(&week, at(10, 19, 7, 0), 8), at(10, 19, 15, 30));
    ck_assert_int_eq(calendar_finish_s(&week, at(10, 23, 15, 0), 1), at(10, 26, 7, 30));
    ck_assert_int_eq(calendar_finish_s(&week, at(10, 19, 9, 17), 0), at(10, 19, 9, 17));
}
END_TEST

START_TEST(a_day_off_is_passed_over)
{
    static int32_t off[2];
    off[0] = civil_day(2026, 10, 19);
    off[1] = civil_day(2026, 10, 20);
    week.days_off = off;
    week.days_off_count = 2;
    ck_assert(!calendar_works(&week, off[0]));
    ck_assert(!calendar_works(&week, off[1]));
    ck_assert(calendar_works(&week, off[1] + 1));
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 9, 0), 0), at(10, 21, 7, 0));
}
END_TEST

START_TEST(the_crew_day_stays_at_seven_across_a_clock_change)
{
    week.work_days = 0x7f; /* 1 November 2026, 02:00 MDT -> 01:00 MST */
    int64_t saturday_s = calendar_open_s(&week, civil_day(2026, 10, 31));
    int64_t sunday_s = calendar_open_s(&week, civil_day(2026, 11, 1));
    ck_assert_int_eq(sunday_s - saturday_s, 25 * 3600);
    ck_assert_int_eq(calendar_finish_s(&week, saturday_s, 9), sunday_s + 3600);
}
END_TEST

START_TEST(a_calendar_without_a_working_day_has_no_start_and_no_finish)
{
    week.work_days = 0;
    ck_assert_int_eq(calendar_next_day(&week, civil_day(2026, 10, 19)), DAY_NONE);
    ck_assert(calendar_start_s(&week, at(10, 19, 9, 0), 0) == INSTANT_NONE);
    ck_assert(calendar_finish_s(&week, at(10, 19, 9, 0), 1) == INSTANT_NONE);
    week.work_days = 0x1f;
    week.hours.until_min = week.hours.from_min;
    ck_assert(calendar_start_s(&week, at(10, 19, 9, 0), 0) == INSTANT_NONE);
    ck_assert(calendar_start_s(&week, INSTANT_NONE, 0) == INSTANT_NONE);
}
END_TEST

START_TEST(a_lunch_outside_the_hours_takes_nothing)
{
    week.lunch = (struct window){16 * 60, 17 * 60};
    ck_assert_double_eq(calendar_day_h(&week), 8.5);
    week.lunch = (struct window){6 * 60, 7 * 60 + 30};
    ck_assert_double_eq(calendar_day_h(&week), 8.0);
    ck_assert_int_eq(calendar_start_s(&week, at(10, 19, 7, 10), 0), at(10, 19, 7, 30));
}
END_TEST

START_TEST(a_start_and_a_finish_always_lie_in_working_hours)
{
    uint64_t seed = 20261019;
    for (int i = 0; i < 20000; i++) {
        seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
        int64_t at_s = at(1, 1, 0, 0) + (int64_t)(seed >> 33) % (365 * 86400);
        double hours = (double)(seed >> 20 & 0xff) / 16;
        double left_h = (double)(seed >> 10 & 7);
        int64_t start_s = calendar_start_s(&week, at_s, left_h);
        int64_t finish_s = calendar_finish_s(&week, start_s, hours);
        ck_assert(start_s >= at_s && finish_s >= start_s);
        ck_assert(calendar_left_h(&week, start_s) > 0);
        ck_assert(calendar_start_s(&week, start_s, 0) == start_s);
        /* as many working hours lie between them as were asked for */
        double worked_h = 0;
        for (int32_t day = civil_day_of(denver, start_s); day <= civil_day_of(denver, finish_s);
             day++) {
            int64_t open_s = calendar_open_s(&week, day);
            double from_h = calendar_left_h(&week, start_s > open_s ? start_s : open_s);
            bool last = day == civil_day_of(denver, finish_s);
            worked_h += from_h - (last ? calendar_left_h(&week, finish_s) : 0);
        }
        ck_assert_double_eq_tol(worked_h, hours, 1.0 / 3600);
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_crew_day_has_eight_hours,
        work_starts_at_once_inside_hours_and_at_the_next_opening_outside,
        the_hours_that_must_be_left_are_working_hours,
        work_runs_over_lunch_nights_and_weekends,
        a_day_off_is_passed_over,
        the_crew_day_stays_at_seven_across_a_clock_change,
        a_calendar_without_a_working_day_has_no_start_and_no_finish,
        a_lunch_outside_the_hours_takes_nothing,
        a_start_and_a_finish_always_lie_in_working_hours,
    };
    Suite *suite = suite_create("calendar");
    TCase *sentences = tcase_create("calendar");
    tcase_add_checked_fixture(sentences, set_up, tear_down);
    for (size_t i = 0; i < sizeof tests / sizeof *tests; i++) tcase_add_test(sentences, tests[i]);
    suite_add_tcase(suite, sentences);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
