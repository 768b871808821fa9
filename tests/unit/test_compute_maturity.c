/* SPDX-License-Identifier: MIT */
/* links: compute */
/* Rate laws, their cuts and their sums: every status, both sides of every edge. */
#include <check.h>
#include <math.h>

#include "compute/maturity.h"

static const struct maturity_law plain = {.kind = MATURITY_TEMPERATURE_TIME,
                                          .datum_degc = 0,
                                          .reference_degc = 20,
                                          .stall_degc = 40.0 / 9.0,
                                          .cap = 1};

static struct maturity_law steps_law(void)
{
    return (struct maturity_law){.kind = MATURITY_STEPS,
                                 .stall_degc = 0,
                                 .cap = 1,
                                 .step_count = 3,
                                 .steps = {{5, 0.25}, {10, 0.5}, {20, 1.5}}};
}

START_TEST(an_hour_at_the_reference_is_one_warm_hour)
{
    ck_assert_double_eq(maturity_rate(&plain, 20), 1.0);
    ck_assert_double_eq(maturity_rate(&plain, 10), 0.5);
}
END_TEST

START_TEST(no_hour_is_worth_more_than_the_cap)
{
    ck_assert_double_eq(maturity_rate(&plain, 20.0001), 1.0);
    ck_assert_double_eq(maturity_rate(&plain, 90), 1.0);
    ck_assert_double_gt(maturity_rate_uncut(&plain, 90), 1.0);
    struct maturity_law half = plain;
    half.cap = 0.5;
    ck_assert_double_eq(maturity_rate(&half, 15), 0.5);
}
END_TEST

START_TEST(below_the_stall_an_hour_earns_nothing_and_at_it_something)
{
    double stall = plain.stall_degc;
    ck_assert_double_gt(maturity_rate(&plain, stall), 0.2);
    ck_assert_double_gt(maturity_rate(&plain, stall - 0.5e-9), 0.2);
    ck_assert_double_eq(maturity_rate(&plain, stall - 2e-9), 0.0);
    ck_assert_double_gt(maturity_rate(&plain, (40.0 - 32.0) / 1.8), 0.2);
    ck_assert_double_gt(maturity_rate_uncut(&plain, stall - 1), 0.0);
}
END_TEST

START_TEST(a_negative_rate_is_clipped_only_when_cut)
{
    struct maturity_law cold = plain;
    cold.stall_degc = -50;
    ck_assert_double_eq(maturity_rate(&cold, -5), 0.0);
    ck_assert_double_eq(maturity_rate_uncut(&cold, -5), -0.25);
}
END_TEST

START_TEST(no_reading_earns_nothing)
{
    ck_assert_double_eq(maturity_rate(&plain, NAN), 0.0);
    ck_assert_double_eq(maturity_rate(&plain, INFINITY), 0.0);
    ck_assert_double_eq(maturity_rate(&plain, -INFINITY), 0.0);
    ck_assert_double_eq(maturity_rate(&plain, MATURITY_TEMP_MAX_DEGC + 1), 0.0);
    ck_assert(isnan(maturity_rate_uncut(&plain, NAN)));
    ck_assert(isnan(maturity_rate_uncut(&plain, MATURITY_TEMP_MIN_DEGC - 1)));
}
END_TEST

START_TEST(steps_take_the_last_row_reached)
{
    struct maturity_law law = steps_law();
    ck_assert_double_eq(maturity_rate_uncut(&law, 4.99), 0.0);
    ck_assert_double_eq(maturity_rate_uncut(&law, 5 - 0.5e-9), 0.25);
    ck_assert_double_eq(maturity_rate_uncut(&law, 5), 0.25);
    ck_assert_double_eq(maturity_rate_uncut(&law, 19.99), 0.5);
    ck_assert_double_eq(maturity_rate_uncut(&law, 150), 1.5);
    ck_assert_double_eq(maturity_rate(&law, 150), 1.0);
}
END_TEST

START_TEST(every_law_earns_no_less_when_warmer)
{
    struct maturity_law laws[] = {plain, plain, plain, steps_law()};
    laws[1].kind = MATURITY_EQUIVALENT_AGE;
    laws[1].q_k = 5000;
    laws[2].kind = MATURITY_ANNEX_B;
    for (int i = 0; i < 4; i++) {
        ck_assert_int_eq(maturity_law_check(&laws[i]), MATURITY_OK);
        double before = 0;
        for (double temp = -60; temp <= 93; temp += 0.37) {
            double rate = maturity_rate(&laws[i], temp);
            ck_assert_double_ge(rate, before);
            ck_assert_double_le(rate, laws[i].cap);
            before = rate;
        }
        ck_assert_double_eq(before, 1.0);
    }
}
END_TEST

START_TEST(a_law_that_cannot_be_used_is_refused)
{
    struct maturity_law law = plain;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_OK);
    law.cap = 1.0000001;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = plain, law.cap = -0.1;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = plain, law.reference_degc = law.datum_degc;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = plain, law.stall_degc = NAN;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = plain, law.kind = MATURITY_EQUIVALENT_AGE, law.q_k = 0;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law.q_k = INFINITY;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = plain, law.kind = (enum maturity_kind)99;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
}
END_TEST

START_TEST(a_table_of_steps_must_rise)
{
    struct maturity_law law = steps_law();
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_OK);
    law.steps[1].from_degc = 5;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = steps_law(), law.steps[2].rate = 0.4;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = steps_law(), law.steps[0].rate = -0.1;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law = steps_law(), law.step_count = 0;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
    law.step_count = MATURITY_STEPS_MAX + 1;
    ck_assert_int_eq(maturity_law_check(&law), MATURITY_CONSTANT);
}
END_TEST

START_TEST(a_series_reports_its_first_fault_in_order)
{
    double out, good[] = {10, 20}, gap[] = {500, NAN}, hot[] = {10, 200.5}, warm[] = {10, 40.5};
    ck_assert_int_eq(maturity_temperature_time(good, 0, 1, 0, false, &out), MATURITY_SHAPE);
    ck_assert(isnan(out));
    ck_assert_int_eq(maturity_temperature_time(good, SERIES_SAMPLES_MAX + 1, 1, 0, false, &out),
                     MATURITY_SHAPE);
    ck_assert_int_eq(maturity_annex_b_age(good, 2, 0, &out), MATURITY_SHAPE);
    ck_assert_int_eq(maturity_annex_b_age(good, 2, NAN, &out), MATURITY_SHAPE);
    ck_assert_int_eq(maturity_annex_b_age(good, 2, MATURITY_STEP_MAX_H + 1, &out), MATURITY_SHAPE);
    ck_assert_int_eq(maturity_equivalent_age(gap, 2, 1, 5000, 20, &out), MATURITY_GAP);
    ck_assert_int_eq(maturity_equivalent_age(hot, 2, 1, 5000, 20, &out), MATURITY_RANGE);
    ck_assert(isnan(out));
    ck_assert_int_eq(maturity_equivalent_age(good, 2, 1, 0, 20, &out), MATURITY_CONSTANT);
    ck_assert_int_eq(maturity_equivalent_age(good, 2, 1, 5000, NAN, &out), MATURITY_CONSTANT);
    ck_assert_int_eq(maturity_temperature_time(good, 2, 1, NAN, false, &out), MATURITY_CONSTANT);
    ck_assert_int_eq(maturity_annex_b_age(warm, 2, 1, &out), MATURITY_OUT_OF_CALIBRATION);
    ck_assert_double_gt(out, 0);
    ck_assert_int_eq(maturity_annex_b_age(good, 2, 1, &out), MATURITY_OK);
}
END_TEST

START_TEST(two_half_steps_are_one_step)
{
    double whole, halves, one[] = {7, 31}, two[] = {7, 7, 31, 31};
    ck_assert_int_eq(maturity_equivalent_age(one, 2, 3, 5000, 20, &whole), MATURITY_OK);
    ck_assert_int_eq(maturity_equivalent_age(two, 4, 1.5, 5000, 20, &halves), MATURITY_OK);
    ck_assert_double_eq_tol(whole, halves, 1e-12);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("maturity");
    TCase *cases = tcase_create("maturity");
    tcase_add_test(cases, an_hour_at_the_reference_is_one_warm_hour);
    tcase_add_test(cases, no_hour_is_worth_more_than_the_cap);
    tcase_add_test(cases, below_the_stall_an_hour_earns_nothing_and_at_it_something);
    tcase_add_test(cases, a_negative_rate_is_clipped_only_when_cut);
    tcase_add_test(cases, no_reading_earns_nothing);
    tcase_add_test(cases, steps_take_the_last_row_reached);
    tcase_add_test(cases, every_law_earns_no_less_when_warmer);
    tcase_add_test(cases, a_law_that_cannot_be_used_is_refused);
    tcase_add_test(cases, a_table_of_steps_must_rise);
    tcase_add_test(cases, a_series_reports_its_first_fault_in_order);
    tcase_add_test(cases, two_half_steps_are_one_step);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
