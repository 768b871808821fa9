/* SPDX-License-Identifier: MIT */
/* links: compute */
/* Degree-days, the counted day and code figures: statuses, edges, properties. */
#include <check.h>
#include <math.h>

#include "compute/code.h"
#include "compute/counted_day.h"
#include "compute/degree_day.h"

START_TEST(degree_days_name_every_fault)
{
    double out;
    ck_assert_int_eq(degree_day_single(NAN, 2, 0, 1, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
                     DEGREE_DAY_TEMPERATURE);
    ck_assert(isnan(out));
    ck_assert_int_eq(degree_day_single(2, 1, NAN, 1, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
                     DEGREE_DAY_ORDER);
    ck_assert_int_eq(degree_day_single(1, 2, NAN, 1, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
                     DEGREE_DAY_THRESHOLD);
    ck_assert_int_eq(degree_day_single(1, 2, 5, 5, DEGREE_DAY_SINE, DEGREE_DAY_HORIZONTAL, &out),
                     DEGREE_DAY_THRESHOLD);
    ck_assert_int_eq(degree_day_single(1, 2, 5, NAN, DEGREE_DAY_SINE, DEGREE_DAY_HORIZONTAL, &out),
                     DEGREE_DAY_THRESHOLD);
    ck_assert_int_eq(degree_day_single(1, 2, 5, NAN, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
                     DEGREE_DAY_OK);
    ck_assert_int_eq(degree_day_double(1, 2, 2.1, 0, 5, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
                     DEGREE_DAY_ORDER);
    ck_assert_int_eq(
        degree_day_double(1, 2, INFINITY, 0, 5, DEGREE_DAY_SINE, DEGREE_DAY_NONE, &out),
        DEGREE_DAY_TEMPERATURE);
}
END_TEST

START_TEST(a_threshold_next_to_an_extreme_gives_a_figure)
{
    for (int i = 1; i < 2000; i++) {
        double out, min = i * 0.0137, max = min + i * 0.0251;
        const double near[] = {nextafter(max, min), nextafter(min, max)};
        for (int k = 0; k < 2; k++) {
            ck_assert_int_eq(degree_day_single(min, max, near[k], near[k] + 1e-12, DEGREE_DAY_SINE,
                                               DEGREE_DAY_HORIZONTAL, &out),
                             DEGREE_DAY_OK);
            ck_assert_double_ge(out, 0);
            ck_assert_double_le(out, 2e-12);
        }
    }
}
END_TEST

START_TEST(degree_days_scale_with_the_unit)
{
    for (int i = 0; i < 2; i++) {
        enum degree_day_method method = i ? DEGREE_DAY_TRIANGLE : DEGREE_DAY_SINE;
        for (double min = -5; min < 40; min += 1.7) {
            double celsius, fahrenheit;
            ck_assert_int_eq(
                degree_day_single(min, min + 11, 10, 30, method, DEGREE_DAY_HORIZONTAL, &celsius),
                DEGREE_DAY_OK);
            ck_assert_int_eq(degree_day_single(min * 1.8 + 32, (min + 11) * 1.8 + 32, 50, 86,
                                               method, DEGREE_DAY_HORIZONTAL, &fahrenheit),
                             DEGREE_DAY_OK);
            ck_assert_double_eq_tol(fahrenheit, celsius * 1.8, 1e-9);
        }
    }
}
END_TEST

START_TEST(degree_days_never_fall_when_warmer_and_never_pass_the_width)
{
    for (int i = 0; i < 2; i++) {
        double before = 0;
        for (double min = 20; min < 100; min += 0.25) {
            double out;
            ck_assert_int_eq(degree_day_single(min, min + 20, 50, 70,
                                               i ? DEGREE_DAY_TRIANGLE : DEGREE_DAY_SINE,
                                               DEGREE_DAY_HORIZONTAL, &out),
                             DEGREE_DAY_OK);
            ck_assert_double_ge(out, before - 1e-12);
            ck_assert_double_le(out, 20 + 1e-12);
            before = out;
        }
        ck_assert_double_eq_tol(before, 20, 1e-12);
    }
}
END_TEST

START_TEST(a_double_day_with_the_same_minimum_is_a_single_day)
{
    double once, twice;
    ck_assert_int_eq(
        degree_day_single(41, 77, 50, 70, DEGREE_DAY_SINE, DEGREE_DAY_HORIZONTAL, &once),
        DEGREE_DAY_OK);
    ck_assert_int_eq(
        degree_day_double(41, 77, 41, 50, 70, DEGREE_DAY_SINE, DEGREE_DAY_HORIZONTAL, &twice),
        DEGREE_DAY_OK);
    ck_assert_double_eq_tol(once, twice, 1e-12);
}
END_TEST

static double degc(double degf)
{
    return (degf - 32) / 1.8;
}

static struct counted_day_law thresholds(void)
{
    return (struct counted_day_law){degc(50), degc(40), degc(40), degc(32)};
}

START_TEST(a_day_counts_whole_half_or_not_at_the_very_edges)
{
    struct counted_day_law law = thresholds();
    ck_assert_int_eq(counted_day_check(&law), COUNTED_DAY_OK);
    static const struct {
        double mean_degf, min_degf, credit;
    } rows[] = {
        {50, 40, 1},    {49.99, 40, 0.5}, {50, 39.99, 0.5}, {80, 32, 0.5},    {40, 32, 0.5},
        {39.99, 32, 0}, {40, 31.99, 0},   {90, 31.99, 0},   {90, 70, 1},      {45, 45, 0.5},
        {-20, -30, 0},  {50, 50, 1},      {40, 40, 0.5},    {49.99, 49, 0.5},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ck_assert_double_eq(
            counted_day_credit(&law, degc(rows[i].mean_degf), degc(rows[i].min_degf)),
            rows[i].credit);
    ck_assert_double_eq(counted_day_credit(&law, law.full_mean_degc - 0.5e-9, 5), 1);
    ck_assert_double_eq(counted_day_credit(&law, law.full_mean_degc - 2e-9, 5), 0.5);
}
END_TEST

START_TEST(a_day_without_a_figure_earns_nothing)
{
    struct counted_day_law law = thresholds();
    ck_assert_double_eq(counted_day_credit(&law, NAN, 10), 0);
    ck_assert_double_eq(counted_day_credit(&law, 20, NAN), 0);
    ck_assert_double_eq(counted_day_credit(&law, INFINITY, 10), 0);
    ck_assert_double_eq(counted_day_credit(&law, 10, 11), 0);
}
END_TEST

START_TEST(a_day_never_earns_more_when_colder)
{
    struct counted_day_law law = thresholds();
    for (double mean = -5; mean < 20; mean += 0.11)
        for (double min = -5; min < mean; min += 0.13) {
            double credit = counted_day_credit(&law, mean, min);
            ck_assert_double_le(counted_day_credit(&law, mean - 0.05, min - 0.05), credit);
            ck_assert_double_le(counted_day_credit(&law, mean, min - 0.3), credit);
        }
}
END_TEST

START_TEST(thresholds_out_of_order_are_refused)
{
    struct counted_day_law law = thresholds();
    law.half_mean_degc = law.full_mean_degc + 0.1;
    ck_assert_int_eq(counted_day_check(&law), COUNTED_DAY_CONSTANT);
    law = thresholds(), law.half_min_degc = law.full_min_degc + 0.1;
    ck_assert_int_eq(counted_day_check(&law), COUNTED_DAY_CONSTANT);
    law = thresholds(), law.full_min_degc = NAN;
    ck_assert_int_eq(counted_day_check(&law), COUNTED_DAY_CONSTANT);
}
END_TEST

START_TEST(code_figures_name_every_fault)
{
    struct code_hearth hearth;
    double out;
    ck_assert_int_eq(code_hearth_extension(0, &hearth), CODE_OPENING);
    ck_assert_double_eq(hearth.front_in, 0);
    ck_assert_int_eq(code_hearth_extension(NAN, &hearth), CODE_OPENING);
    ck_assert_int_eq(code_hearth_extension(100.1, &hearth), CODE_OPENING);
    ck_assert_int_eq(code_hearth_extension(100, &hearth), CODE_OK);
    ck_assert_int_eq(code_flue_area(0, CODE_FLUE_ROUND, 1, &out), CODE_OPENING);
    ck_assert(isnan(out));
    ck_assert_int_eq(code_flue_area(6, CODE_FLUE_RECTANGULAR, 0.9, &out), CODE_ASPECT);
    ck_assert_int_eq(code_flue_area(6, CODE_FLUE_RECTANGULAR, NAN, &out), CODE_ASPECT);
    ck_assert_int_eq(code_flue_area(6, (enum code_flue)9, 1, &out), CODE_SHAPE);
    ck_assert_int_eq(code_flue_area(6, CODE_FLUE_ROUND, NAN, &out), CODE_OK);
}
END_TEST

START_TEST(a_larger_opening_never_asks_for_less)
{
    struct code_hearth hearth;
    double front = 0, area = 0, now;
    for (double opening = 0.1; opening <= 100; opening += 0.1) {
        ck_assert_int_eq(code_hearth_extension(opening, &hearth), CODE_OK);
        ck_assert_double_ge(hearth.front_in, front);
        front = hearth.front_in;
        ck_assert_int_eq(code_flue_area(opening, CODE_FLUE_SQUARE, 1, &now), CODE_OK);
        ck_assert_double_gt(now, area);
        area = now;
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("degree_day");
    TCase *cases = tcase_create("degree_day");
    tcase_add_test(cases, degree_days_name_every_fault);
    tcase_add_test(cases, a_threshold_next_to_an_extreme_gives_a_figure);
    tcase_add_test(cases, degree_days_scale_with_the_unit);
    tcase_add_test(cases, degree_days_never_fall_when_warmer_and_never_pass_the_width);
    tcase_add_test(cases, a_double_day_with_the_same_minimum_is_a_single_day);
    tcase_add_test(cases, a_day_counts_whole_half_or_not_at_the_very_edges);
    tcase_add_test(cases, a_day_without_a_figure_earns_nothing);
    tcase_add_test(cases, a_day_never_earns_more_when_colder);
    tcase_add_test(cases, thresholds_out_of_order_are_refused);
    tcase_add_test(cases, code_figures_name_every_fault);
    tcase_add_test(cases, a_larger_opening_never_asks_for_less);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
