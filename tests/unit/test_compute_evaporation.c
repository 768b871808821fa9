/* SPDX-License-Identifier: MIT */
/* links: compute */
/* Evaporation and strength ratios: statuses, edges, directions, units. */
#include <check.h>
#include <math.h>

#include "compute/evaporation.h"
#include "compute/strength.h"

typedef enum evaporation_status (*form)(double, double, double, double, double *);
static const form forms[] = {evaporation_uno, evaporation_uno_exact, evaporation_menzel};

START_TEST(every_form_names_every_fault)
{
    for (int i = 0; i < 3; i++) {
        double out;
        ck_assert_int_eq(forms[i](81, 20, 2, -1, &out), EVAPORATION_TEMPERATURE);
        ck_assert(isnan(out));
        ck_assert_int_eq(forms[i](20, -15.1, 0.5, 5, &out), EVAPORATION_TEMPERATURE);
        ck_assert_int_eq(forms[i](NAN, 20, 0.5, 5, &out), EVAPORATION_TEMPERATURE);
        ck_assert_int_eq(forms[i](20, 20, 1.01, -1, &out), EVAPORATION_HUMIDITY);
        ck_assert_int_eq(forms[i](20, 20, NAN, 5, &out), EVAPORATION_HUMIDITY);
        ck_assert_int_eq(forms[i](20, 20, 0.5, -0.1, &out), EVAPORATION_WIND);
        ck_assert_int_eq(forms[i](20, 20, 0.5, 200.1, &out), EVAPORATION_WIND);
        ck_assert_int_eq(forms[i](-15, 80, 0, 200, &out), EVAPORATION_OK);
        ck_assert_int_eq(forms[i](10, 30, 1, 5, &out), EVAPORATION_CONDENSING);
        ck_assert_double_lt(out, 0);
    }
}
END_TEST

START_TEST(every_form_rises_with_warmth_and_wind_and_falls_with_humidity)
{
    for (int i = 0; i < 3; i++) {
        double base, more;
        ck_assert_int_eq(forms[i](25, 20, 0.5, 10, &base), EVAPORATION_OK);
        ck_assert_int_eq(forms[i](26, 20, 0.5, 10, &more), EVAPORATION_OK);
        ck_assert_double_gt(more, base);
        ck_assert_int_eq(forms[i](25, 20, 0.5, 11, &more), EVAPORATION_OK);
        ck_assert_double_gt(more, base);
        ck_assert_int_eq(forms[i](25, 20, 0.51, 10, &more), EVAPORATION_OK);
        ck_assert_double_lt(more, base);
    }
}
END_TEST

START_TEST(the_exact_form_is_the_customary_one_in_other_units)
{
    double out;
    double customary = (pow(87, 2.5) - 0.5 * pow(80, 2.5)) * (1 + 0.4 * 12) * 1e-6;
    int status = evaporation_uno_exact((87 - 32) / 1.8, (80 - 32) / 1.8, 0.5, 12 * 1.609344, &out);
    ck_assert_int_eq(status, EVAPORATION_OK);
    ck_assert_double_eq_tol(out / 4.88242764, customary, 1e-8);
}
END_TEST

START_TEST(strength_ratios_name_every_fault)
{
    double out;
    ck_assert_int_eq(strength_ratio_en1992(0, 9, &out), STRENGTH_AGE);
    ck_assert(isnan(out));
    ck_assert_int_eq(strength_ratio_en1992(NAN, 0.25, &out), STRENGTH_AGE);
    ck_assert_int_eq(strength_ratio_en1992(36501, 0.25, &out), STRENGTH_AGE);
    ck_assert_int_eq(strength_ratio_en1992(7, -0.01, &out), STRENGTH_CONSTANT);
    ck_assert_int_eq(strength_ratio_en1992(7, NAN, &out), STRENGTH_CONSTANT);
    ck_assert_int_eq(strength_ratio_en1992(2.99, 0.25, &out), STRENGTH_OUT_OF_CALIBRATION);
    ck_assert_int_eq(strength_ratio_en1992(3, 0.25, &out), STRENGTH_OK);
    ck_assert_int_eq(strength_ratio_aci209(-1, 0, 0, &out), STRENGTH_AGE);
    ck_assert_int_eq(strength_ratio_aci209(7, 0, 0.85, &out), STRENGTH_CONSTANT);
    ck_assert_int_eq(strength_ratio_aci209(7, 4, 0, &out), STRENGTH_CONSTANT);
    ck_assert_int_eq(strength_ratio_aci209(0.99, 4, 0.85, &out), STRENGTH_OUT_OF_CALIBRATION);
    ck_assert_int_eq(strength_ratio_aci209(1, 4, 0.85, &out), STRENGTH_OK);
}
END_TEST

START_TEST(strength_ratios_rise_with_age)
{
    double before[2] = {0, 0}, now[2];
    for (double age = 0.5; age < 4000; age *= 1.3) {
        ck_assert_int_ge(strength_ratio_en1992(age, 0.38, &now[0]), 0);
        ck_assert_int_ge(strength_ratio_aci209(age, 4, 0.85, &now[1]), 0);
        for (int i = 0; i < 2; i++) {
            ck_assert_double_gt(now[i], before[i]);
            before[i] = now[i];
        }
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("evaporation");
    TCase *cases = tcase_create("evaporation");
    tcase_add_test(cases, every_form_names_every_fault);
    tcase_add_test(cases, every_form_rises_with_warmth_and_wind_and_falls_with_humidity);
    tcase_add_test(cases, the_exact_form_is_the_customary_one_in_other_units);
    tcase_add_test(cases, strength_ratios_name_every_fault);
    tcase_add_test(cases, strength_ratios_rise_with_age);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
