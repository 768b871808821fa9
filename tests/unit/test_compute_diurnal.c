/* SPDX-License-Identifier: MIT */
/* links: compute */
/* Hours of a day and day length: statuses, edges, shape. */
#include <check.h>
#include <math.h>

#include "compute/diurnal.h"

static const struct diurnal_constants paper = DIURNAL_CONSTANTS_AIR_150_CM;

static struct diurnal_day spring(void)
{
    return (struct diurnal_day){.min_degc = 2,
                                .max_degc = 15,
                                .next_min_degc = 4,
                                .sunset_before_degc = NAN,
                                .day_length_h = 12.5};
}

static int status_of(struct diurnal_day day, struct diurnal_constants constants)
{
    double hours[DIURNAL_HOURS];
    int status = diurnal_hours(&day, &constants, hours);
    for (int i = 0; i < DIURNAL_HOURS; i++) ck_assert_int_eq(isnan(hours[i]) != 0, status < 0);
    return status;
}

START_TEST(the_day_stays_between_its_extremes)
{
    struct diurnal_day day = spring();
    for (double hour = 0; hour <= 24; hour += 0.1) {
        double temp;
        ck_assert_int_eq(diurnal_at(&day, &paper, hour, &temp), DIURNAL_OK);
        ck_assert_double_ge(temp, day.min_degc);
        ck_assert_double_le(temp, day.max_degc);
    }
}
END_TEST

START_TEST(the_maximum_comes_at_its_lag_and_the_minimum_at_its_own)
{
    struct diurnal_day day = spring();
    double temp;
    ck_assert_int_eq(diurnal_at(&day, &paper, 12 + 1.86 - 0.17, &temp), DIURNAL_OK);
    ck_assert_double_eq_tol(temp, day.max_degc, 1e-9);
    ck_assert_int_eq(diurnal_at(&day, &paper, 12 - 12.5 / 2 - 0.17, &temp), DIURNAL_OK);
    ck_assert_double_eq_tol(temp, day.min_degc, 1e-9);
    struct diurnal_constants lagged = paper;
    lagged.form = DIURNAL_LAGGED;
    ck_assert_int_eq(diurnal_at(&day, &lagged, 12 + 1.86, &temp), DIURNAL_OK);
    ck_assert_double_eq_tol(temp, day.max_degc, 1e-9);
}
END_TEST

START_TEST(the_night_joins_the_day_before_at_midnight)
{
    struct diurnal_day day = spring(), next = spring();
    double end, begin;
    next.min_degc = day.next_min_degc;
    ck_assert_int_eq(diurnal_sunset(&day, &paper, &next.sunset_before_degc), DIURNAL_OK);
    ck_assert_int_eq(diurnal_at(&day, &paper, 24, &end), DIURNAL_OK);
    ck_assert_int_eq(diurnal_at(&next, &paper, 0, &begin), DIURNAL_OK);
    ck_assert_double_eq_tol(end, begin, 1e-9);
}
END_TEST

START_TEST(a_shift_of_all_extremes_shifts_every_hour)
{
    struct diurnal_day day = spring(), warmer = spring();
    double plain[DIURNAL_HOURS], shifted[DIURNAL_HOURS];
    warmer.min_degc += 3, warmer.max_degc += 3, warmer.next_min_degc += 3;
    ck_assert_int_eq(diurnal_hours(&day, &paper, plain), DIURNAL_OK);
    ck_assert_int_eq(diurnal_hours(&warmer, &paper, shifted), DIURNAL_OK);
    for (int i = 0; i < DIURNAL_HOURS; i++) ck_assert_double_eq_tol(shifted[i] - plain[i], 3, 1e-9);
}
END_TEST

START_TEST(a_day_names_every_fault)
{
    struct diurnal_day day = spring();
    ck_assert_int_eq(status_of(day, paper), DIURNAL_OK);
    day.next_min_degc = 14;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_WARMING_NIGHT);
    day = spring(), day.max_degc = 70.1;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_TEMPERATURE);
    day = spring(), day.next_min_degc = NAN;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_TEMPERATURE);
    day = spring(), day.sunset_before_degc = INFINITY;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_TEMPERATURE);
    day = spring(), day.min_degc = 15.001;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_ORDER);
    day = spring(), day.day_length_h = 24;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_POLAR);
    day = spring(), day.day_length_h = 0;
    ck_assert_int_eq(status_of(day, paper), DIURNAL_POLAR);
}
END_TEST

START_TEST(constants_out_of_their_bounds_are_refused)
{
    struct diurnal_day day = spring();
    struct diurnal_constants constants = paper;
    double temp;
    constants.night_coefficient = 0;
    ck_assert_int_eq(status_of(day, constants), DIURNAL_CONSTANT);
    constants = paper, constants.lag_max_h = NAN;
    ck_assert_int_eq(status_of(day, constants), DIURNAL_CONSTANT);
    constants = paper, constants.lag_max_h = -3;
    ck_assert_int_eq(status_of(day, constants), DIURNAL_CONSTANT);
    constants = paper, constants.lag_min_h = -5.9;
    ck_assert_int_eq(status_of(day, constants), DIURNAL_CONSTANT);
    ck_assert_int_eq(diurnal_at(&day, &paper, 24.001, &temp), DIURNAL_CONSTANT);
    ck_assert_int_eq(diurnal_at(&day, &paper, NAN, &temp), DIURNAL_CONSTANT);
}
END_TEST

START_TEST(day_length_is_refused_where_the_sun_does_not_set_or_rise)
{
    double out;
    ck_assert_int_eq(diurnal_day_length(75, 172, &out), DIURNAL_POLAR);
    ck_assert(isnan(out));
    ck_assert_int_eq(diurnal_day_length(75, 355, &out), DIURNAL_POLAR);
    ck_assert_int_eq(diurnal_day_length(90.1, 100, &out), DIURNAL_PLACE);
    ck_assert_int_eq(diurnal_day_length(NAN, 100, &out), DIURNAL_PLACE);
    ck_assert_int_eq(diurnal_day_length(40, 0, &out), DIURNAL_PLACE);
    ck_assert_int_eq(diurnal_day_length(40, 367, &out), DIURNAL_PLACE);
    ck_assert_int_eq(diurnal_day_length(40, 366, &out), DIURNAL_OK);
}
END_TEST

START_TEST(hours_can_be_made_wherever_the_sun_rises_and_sets)
{
    for (int latitude = -65; latitude <= 65; latitude += 5) {
        for (int date = 1; date <= 366; date++) {
            struct diurnal_day day = spring();
            ck_assert_int_eq(diurnal_day_length(latitude, date, &day.day_length_h), DIURNAL_OK);
            ck_assert_int_ge(status_of(day, paper), 0);
        }
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("diurnal");
    TCase *cases = tcase_create("diurnal");
    tcase_add_test(cases, the_day_stays_between_its_extremes);
    tcase_add_test(cases, the_maximum_comes_at_its_lag_and_the_minimum_at_its_own);
    tcase_add_test(cases, the_night_joins_the_day_before_at_midnight);
    tcase_add_test(cases, a_shift_of_all_extremes_shifts_every_hour);
    tcase_add_test(cases, a_day_names_every_fault);
    tcase_add_test(cases, constants_out_of_their_bounds_are_refused);
    tcase_add_test(cases, day_length_is_refused_where_the_sun_does_not_set_or_rise);
    tcase_add_test(cases, hours_can_be_made_wherever_the_sun_rises_and_sets);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
