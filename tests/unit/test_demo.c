/* SPDX-License-Identifier: MIT */
/* links: app intake compute model */
/* The demonstration's weather as a function of the hour, and its case as bytes. What the plan says
 * of the case is looked at in tests/demo. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/demo.h"
#include "app/demo_weather.h"
#include "base/arena.h"
#include "intake/intake.h"

enum { HOUR_S = 3600, YEAR_H = 8766, MONTH_H = 730 };

static const int64_t new_year_2026_h = 490896; /* 2026-01-01T00Z: 1767225600 s */

static double mean_degc(int64_t from_h, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++) sum += demo_weather_hour(from_h + i, -7).temp_degc;
    return sum / count;
}

START_TEST(an_hour_reads_the_same_whenever_it_is_asked_for)
{
    for (int i = 0; i < 200; i++) {
        const struct demo_hour a = demo_weather_hour(new_year_2026_h + 37 * i, -7);
        const struct demo_hour b = demo_weather_hour(new_year_2026_h + 37 * i, -7);
        ck_assert_mem_eq(&a, &b, sizeof a);
    }
}
END_TEST

START_TEST(every_figure_of_ten_years_is_one_that_air_can_have)
{
    for (int i = 0; i < 10 * YEAR_H; i++) {
        const struct demo_hour hour = demo_weather_hour(new_year_2026_h + i, -7);
        ck_assert(hour.temp_degc > -35 && hour.temp_degc < 42);
        ck_assert(hour.rain_mm >= 0 && hour.rain_mm < 12);
        ck_assert(hour.rh_pct >= 12 && hour.rh_pct <= 100);
        ck_assert(hour.wind_mps > 0 && hour.wind_mps < 20);
        ck_assert(hour.gust_mps > hour.wind_mps);
    }
}
END_TEST

START_TEST(july_is_warmer_than_january_in_every_year)
{
    for (int year = 0; year < 10; year++) {
        const int64_t january = new_year_2026_h + (int64_t)year * YEAR_H;
        const double winter = mean_degc(january, MONTH_H);
        const double summer = mean_degc(january + 6 * MONTH_H, MONTH_H);
        ck_assert(summer - winter > 15 && summer - winter < 32);
    }
}
END_TEST

/* The longest stretch without 0.2 mm in an hour, and the number of wet stretches, of a year. */
START_TEST(rain_comes_in_spells_every_few_days)
{
    int spells = 0, dry_h = 1000, longest_h = 0;
    for (int i = 0; i < YEAR_H; i++) {
        const bool wet = demo_weather_hour(new_year_2026_h + i, -7).rain_mm > 0;
        if (wet && dry_h > 24) spells++;
        if (!wet && i > 0 && dry_h < 1000 && dry_h + 1 > longest_h) longest_h = dry_h + 1;
        dry_h = wet ? 0 : dry_h + 1;
    }
    ck_assert_int_ge(spells, 35);
    ck_assert_int_le(spells, 120);
    ck_assert_int_gt(longest_h, 5 * 24);
}
END_TEST

/* A drop of the day's mean by more than 4 degrees within two days, with rain or wind between. */
START_TEST(it_turns_colder_behind_a_front_and_windier_at_it)
{
    int drops = 0, windy = 0;
    for (int day = 0; day < 365; day++) {
        const int64_t from_h = new_year_2026_h + (int64_t)day * 24;
        if (mean_degc(from_h + 48, 24) > mean_degc(from_h, 24) - 4) continue;
        drops++;
        double most_mps = 0;
        for (int i = 0; i < 72; i++)
            most_mps = fmax(most_mps, demo_weather_hour(from_h + i, -7).wind_mps);
        windy += most_mps > 4.5;
    }
    ck_assert_int_ge(drops, 20);
    ck_assert_int_ge(windy * 10, drops * 9);
}
END_TEST

START_TEST(the_case_of_any_hour_of_a_week_is_read_without_a_fault)
{
    for (int hour = 0; hour < 7 * 24; hour += 5) {
        const int64_t now_s =
            (new_year_2026_h + 67 * 24 - 8 + hour) * HOUR_S; /* 8 March among them */
        struct text text = TEXT_UP_TO(DEMO_BYTES_MAX);
        struct fault fault;
        ck_assert_int_eq(demo_case(&text, now_s, &fault), STATUS_OK);
        struct faults faults = {0};
        struct intake intake = {arena_new(), intake_zones_new(), &faults};
        struct casefile *casefile = NULL;
        ck_assert_int_eq(intake_case_text(&casefile, text_z(&text), text.length, &intake),
                         STATUS_OK);
        ck_assert_uint_eq(faults.count, 0);
        ck_assert_uint_eq(casefile->job_count, 15);
        ck_assert_int_eq(casefile->now_s, now_s);
        arena_free(intake.arena);
        intake_zones_free(intake.zones);
        faults_free(&faults);
        text_free(&text);
    }
}
END_TEST

START_TEST(a_now_before_1980_or_after_2189_is_refused_with_what_is_wanted)
{
    static const int64_t wrong_s[] = {0, 315532799, 6942412800, INT64_MAX, -1};
    for (size_t i = 0; i < sizeof wrong_s / sizeof *wrong_s; i++) {
        struct text text = TEXT_UP_TO(DEMO_BYTES_MAX);
        struct fault fault = {.path = ""};
        ck_assert_int_eq(demo_case(&text, wrong_s[i], &fault), STATUS_INVALID);
        ck_assert_str_eq(fault.path, "now");
        ck_assert_uint_eq(text.length, 0);
        text_free(&text);
    }
}
END_TEST

START_TEST(a_text_too_short_for_the_case_is_said)
{
    struct text text = TEXT_UP_TO(1000);
    struct fault fault;
    ck_assert_int_eq(demo_case(&text, new_year_2026_h * HOUR_S, &fault), STATUS_LIMIT);
    text_free(&text);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("demo");
    TCase *tcase = tcase_create("demo");
    tcase_add_test(tcase, an_hour_reads_the_same_whenever_it_is_asked_for);
    tcase_add_test(tcase, every_figure_of_ten_years_is_one_that_air_can_have);
    tcase_add_test(tcase, july_is_warmer_than_january_in_every_year);
    tcase_add_test(tcase, rain_comes_in_spells_every_few_days);
    tcase_add_test(tcase, it_turns_colder_behind_a_front_and_windier_at_it);
    tcase_add_test(tcase, the_case_of_any_hour_of_a_week_is_read_without_a_fault);
    tcase_add_test(tcase, a_now_before_1980_or_after_2189_is_refused_with_what_is_wanted);
    tcase_add_test(tcase, a_text_too_short_for_the_case_is_said);
    suite_add_tcase(suite, tcase);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failures = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
