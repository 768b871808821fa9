/* SPDX-License-Identifier: MIT */
/* links: compute */
/* Moist air: statuses, edges, the join of ice and water, and that inverses invert. */
#include <check.h>
#include <math.h>

#include "compute/psychro.h"

START_TEST(saturation_rises_throughout_over_either_surface)
{
    double before[2] = {0, 0}, now;
    for (double temp = -100; temp <= 200; temp += 0.05) {
        for (int surface = 0; surface < 2; surface++) {
            int status =
                psychro_saturation_pressure(temp, surface ? PSYCHRO_WATER : PSYCHRO_HANDBOOK, &now);
            ck_assert_int_ge(status, 0);
            ck_assert_double_gt(now, before[surface]);
            before[surface] = now;
        }
    }
}
END_TEST

START_TEST(ice_and_water_meet_at_the_triple_point)
{
    double ice, water;
    ck_assert_int_eq(psychro_saturation_pressure(0.01, PSYCHRO_HANDBOOK, &ice), PSYCHRO_OK);
    ck_assert_int_eq(psychro_saturation_pressure(0.01, PSYCHRO_WATER, &water), PSYCHRO_OK);
    ck_assert_double_eq_tol(ice, water, 1e-4);
    ck_assert_double_le(ice, water);
    ck_assert_int_eq(psychro_saturation_pressure(-10, PSYCHRO_HANDBOOK, &ice), PSYCHRO_OK);
    ck_assert_int_eq(psychro_saturation_pressure(-10, PSYCHRO_WATER, &water), PSYCHRO_OK);
    ck_assert_double_gt(water, ice * 1.05);
}
END_TEST

START_TEST(saturation_refuses_what_lies_outside_its_range)
{
    double out;
    ck_assert_int_eq(psychro_saturation_pressure(-100, PSYCHRO_HANDBOOK, &out), PSYCHRO_OK);
    ck_assert_int_eq(psychro_saturation_pressure(-100.001, PSYCHRO_HANDBOOK, &out),
                     PSYCHRO_TEMPERATURE);
    ck_assert(isnan(out));
    ck_assert_int_eq(psychro_saturation_pressure(200, PSYCHRO_HANDBOOK, &out), PSYCHRO_OK);
    ck_assert_int_eq(psychro_saturation_pressure(200.001, PSYCHRO_HANDBOOK, &out),
                     PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_saturation_pressure(NAN, PSYCHRO_HANDBOOK, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_saturation_pressure(-51, PSYCHRO_WATER, &out),
                     PSYCHRO_OUT_OF_CALIBRATION);
    ck_assert_double_gt(out, 0);
}
END_TEST

START_TEST(the_dew_point_gives_its_vapour_back)
{
    for (double air = -40; air <= 60; air += 7.3) {
        for (double rh = 0.05; rh <= 1; rh += 0.19) {
            double vapour, frost, dew, back;
            ck_assert_int_eq(psychro_vapour_pressure(air, rh, &vapour), PSYCHRO_OK);
            ck_assert_int_eq(psychro_dew_point(air, rh, PSYCHRO_HANDBOOK, &frost), PSYCHRO_OK);
            ck_assert_int_eq(psychro_saturation_pressure(frost, PSYCHRO_HANDBOOK, &back),
                             PSYCHRO_OK);
            ck_assert_double_eq_tol(back / vapour, 1, 1e-8);
            ck_assert_double_le(frost, air);
            ck_assert_int_ge(psychro_dew_point(air, rh, PSYCHRO_WATER, &dew), 0);
            ck_assert_double_le(dew, frost + 1e-9);
        }
    }
}
END_TEST

START_TEST(the_dew_point_names_every_fault)
{
    double out;
    ck_assert_int_eq(psychro_dew_point(201, 2, PSYCHRO_HANDBOOK, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_dew_point(20, 0, PSYCHRO_HANDBOOK, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_dew_point(20, 1.001, PSYCHRO_HANDBOOK, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_dew_point(20, NAN, PSYCHRO_HANDBOOK, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_dew_point(-90, 0.01, PSYCHRO_HANDBOOK, &out), PSYCHRO_BELOW_RANGE);
    ck_assert(isnan(out));
    ck_assert_int_eq(psychro_dew_point(-40, 0.05, PSYCHRO_WATER, &out), PSYCHRO_OUT_OF_CALIBRATION);
}
END_TEST

START_TEST(the_short_form_stays_near_the_long_one_where_it_was_fitted)
{
    for (double air = -20; air <= 50; air += 5) {
        double vapour, saturated, dew, brief;
        ck_assert_int_eq(psychro_vapour_pressure(air, 0.6, &vapour), PSYCHRO_OK);
        ck_assert_int_eq(psychro_saturation_pressure(air, PSYCHRO_WATER, &saturated), PSYCHRO_OK);
        ck_assert_int_eq(psychro_dew_point(air, 0.6, PSYCHRO_WATER, &dew), PSYCHRO_OK);
        int status = psychro_dew_point_magnus(air, vapour / saturated, 17.625, 243.04, &brief);
        ck_assert_int_eq(status, PSYCHRO_OK);
        ck_assert_double_eq_tol(dew, brief, 0.05);
    }
}
END_TEST

START_TEST(the_short_form_names_every_fault)
{
    double out;
    ck_assert_int_eq(psychro_dew_point_magnus(20, 0.5, 9, 243, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_dew_point_magnus(20, 0.5, 17, 301, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_dew_point_magnus(NAN, 0.5, 17, 243, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_dew_point_magnus(20, 0, 17, 243, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_dew_point_magnus(61, 0.5, 17, 243, &out), PSYCHRO_OUT_OF_CALIBRATION);
    ck_assert_int_eq(psychro_dew_point_magnus(-39, 0.5, 17, 243, &out), PSYCHRO_OUT_OF_CALIBRATION);
}
END_TEST

START_TEST(humidity_ratio_names_every_fault)
{
    double out;
    ck_assert_int_eq(psychro_humidity_ratio(201, 2, 0, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_humidity_ratio(20, -0.01, 0, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_humidity_ratio(20, 0.5, 999, &out), PSYCHRO_PRESSURE);
    ck_assert_int_eq(psychro_humidity_ratio(20, 0.5, INFINITY, &out), PSYCHRO_PRESSURE);
    ck_assert_int_eq(psychro_humidity_ratio(101, 1, PSYCHRO_STANDARD_PA, &out), PSYCHRO_NO_AIR);
    ck_assert(isnan(out));
    ck_assert_int_eq(psychro_humidity_ratio(20, 0, PSYCHRO_STANDARD_PA, &out), PSYCHRO_OK);
    ck_assert_double_eq(out, 0);
}
END_TEST

START_TEST(the_wet_bulb_inverts_its_own_equation)
{
    for (double air = -30; air <= 50; air += 3.7) {
        for (double rh = 0.1; rh <= 1; rh += 0.15) {
            double wet, ratio, back;
            ck_assert_int_eq(psychro_humidity_ratio(air, rh, 90000, &ratio), PSYCHRO_OK);
            ck_assert_int_eq(psychro_wet_bulb(air, rh, 90000, &wet), PSYCHRO_OK);
            ck_assert_double_le(wet, air);
            if (fabs(wet) < 1e-9) continue; /* inside the step from ice to water */
            ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(air, wet, 90000, &back), PSYCHRO_OK);
            ck_assert_double_eq_tol(back, ratio, 1e-9);
        }
    }
}
END_TEST

START_TEST(the_wet_bulb_names_every_fault)
{
    double out;
    ck_assert_int_eq(psychro_wet_bulb(-101, 0.5, 90000, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_wet_bulb(20, 0, 90000, &out), PSYCHRO_HUMIDITY);
    ck_assert_int_eq(psychro_wet_bulb(20, 0.5, 0, &out), PSYCHRO_PRESSURE);
    ck_assert_int_eq(psychro_wet_bulb(150, 0.9, 90000, &out), PSYCHRO_NO_AIR);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(20, 20.001, 90000, &out), PSYCHRO_WET_BULB);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(40, 0, 90000, &out), PSYCHRO_WET_BULB);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(20, NAN, 90000, &out), PSYCHRO_TEMPERATURE);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(20, 10, NAN, &out), PSYCHRO_PRESSURE);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(120, 110, 90000, &out), PSYCHRO_NO_AIR);
    ck_assert_int_eq(psychro_humidity_ratio_wet_bulb(20, 20, 90000, &out), PSYCHRO_OK);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("psychro");
    TCase *cases = tcase_create("psychro");
    tcase_add_test(cases, saturation_rises_throughout_over_either_surface);
    tcase_add_test(cases, ice_and_water_meet_at_the_triple_point);
    tcase_add_test(cases, saturation_refuses_what_lies_outside_its_range);
    tcase_add_test(cases, the_dew_point_gives_its_vapour_back);
    tcase_add_test(cases, the_dew_point_names_every_fault);
    tcase_add_test(cases, the_short_form_stays_near_the_long_one_where_it_was_fitted);
    tcase_add_test(cases, the_short_form_names_every_fault);
    tcase_add_test(cases, humidity_ratio_names_every_fault);
    tcase_add_test(cases, the_wet_bulb_inverts_its_own_equation);
    tcase_add_test(cases, the_wet_bulb_names_every_fault);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
