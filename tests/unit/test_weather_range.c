/* SPDX-License-Identifier: MIT */
/* links: weather intake compute model */
/*
 * Figures beyond what a station has had in that month. The figures are those of 8 May 2013 at New
 * York JFK (U.S. Government observations, public domain): an evening of 57 F with one hour at 13.1
 * F; May there had run from 6.1 to 30.6 degC. The years around it are made here.
 */
#include "weather_case.h"

enum { HOUR_S = 3600, MAY_H = 31 * 24 };

static struct weather_range range;

static void set_up(void)
{
    weather_set_up();
    for (int m = 0; m < WEATHER_MONTHS; m++) {
        range.low_degc[m] = range.high_degc[m] = (double)NAN;
        range.years[m] = 0;
    }
    range.low_degc[4] = 6.1;
    range.high_degc[4] = 30.6;
    range.years[4] = WEATHER_RANGE_YEARS;
    options.range = &range;
}

#define EVENING "time,temp_degf\n2013-05-09T00:00:00Z,57.02\n2013-05-09T01:00:00Z,57.02\n"

START_TEST(a_thermometer_that_hangs_is_told_by_the_range_of_its_month)
{
    /* the bad hour of that evening, but for six hours: no neighbour gives it away */
    ck_assert_int_eq(read_text(EVENING "2013-05-09T02:00:00Z,13.1\n2013-05-09T03:00:00Z,13.1\n"
                                       "2013-05-09T04:00:00Z,13.1\n2013-05-09T05:00:00Z,13.1\n"
                                       "2013-05-09T06:00:00Z,13.1\n2013-05-09T07:00:00Z,13.1\n"
                                       "2013-05-09T08:00:00Z,57.92\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 0);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 6);
    ck_assert_uint_eq(weather_report(weather)->item_count, 6);
    ck_assert_double_eq_tol(temp_at("2013-05-09T02:00:00Z"), -10.5, 1e-9); /* told, not dropped */
    ck_assert_ptr_nonnull(strstr(weather_report(weather)->items[0].fault.path, "2013-05-09T02:00"));
    ck_assert_ptr_nonnull(strstr(weather_report(weather)->items[0].fault.found, "-10.5"));
    ck_assert_ptr_nonnull(strstr(weather_report(weather)->items[0].fault.found, "6.1 to 30.6"));
}
END_TEST

START_TEST(the_last_hour_of_a_file_is_held_against_the_range_too)
{
    ck_assert_int_eq(read_text(EVENING "2013-05-09T02:00:00Z,13.1\n"), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 0);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 1);
}
END_TEST

START_TEST(a_lone_hour_is_questioned_once_by_its_neighbours)
{
    ck_assert_int_eq(read_text(EVENING "2013-05-09T02:00:00Z,13.1\n2013-05-09T03:00:00Z,57.2\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 1);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 0);
    ck_assert(isnan(temp_at("2013-05-09T02:00:00Z")));
}
END_TEST

START_TEST(ten_degrees_beyond_are_believed_and_a_little_more_are_told)
{
    static const struct {
        const char *text;
        size_t told;
        bool left_out;
    } rows[] = {{"time,temp_degc\n2013-05-09T02:00:00Z,-3.9\n", 0, false},
                {"time,temp_degc\n2013-05-09T02:00:00Z,-4.0\n", 1, false},
                {"time,temp_degc\n2013-05-09T02:00:00Z,40.6\n", 0, false},
                {"time,temp_degc\n2013-05-09T02:00:00Z,40.7\n", 1, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        options.keep_good = true; /* a file of one hour that is left out has nothing to take */
        (void)read_text(rows[i].text);
        ck_assert_uint_eq(counted(WEATHER_UNUSUAL), rows[i].told);
        const double *temp_degc = weather_series(weather)->temp_degc;
        ck_assert_int_eq(temp_degc == NULL || isnan(temp_degc[0]), rows[i].left_out);
    }
    options.keep_questioned = true;
    ck_assert_int_eq(read_text(rows[3].text), STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2013-05-09T02:00:00Z"), 40.7, 1e-9);
}
END_TEST

START_TEST(another_month_or_too_few_years_say_nothing)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2013-06-09T02:00:00Z,-30\n"), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 0);
    range.years[4] = WEATHER_RANGE_YEARS - 1;
    ck_assert_int_eq(read_text("time,temp_degc\n2013-05-09T02:00:00Z,-30\n"), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 0);
    options.range = NULL;
    ck_assert_int_eq(read_text("time,temp_degc\n2013-05-09T02:00:00Z,-30\n"), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 0);
}
END_TEST

START_TEST(a_days_minimum_and_maximum_are_held_against_the_range)
{
    options.format = WEATHER_GHCN_DLY;
    options.latitude_deg = 40.6;
    options.longitude_deg = -73.8;
    char text[2 * 271 + 1], *at = text;
    for (int e = 0; e < 2; e++) {
        at += sprintf(at, "USW00094789201305%s", e == 0 ? "TMAX" : "TMIN");
        for (int day = 1; day <= 31; day++) /* two cold nights, two hot days: no lone one */
            at += sprintf(at, "%5d  X",
                          e == 0 ? (day == 20 || day == 21 ? 420 : 180)
                                 : (day == 8 || day == 9 ? -105 : 90));
        *at++ = '\n';
    }
    ck_assert_int_eq(read_bytes(text, (size_t)(at - text), 4096), STATUS_OK);
    const struct weather_days *days = weather_days(weather);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 0);
    ck_assert_uint_eq(counted(WEATHER_UNUSUAL), 4);
    ck_assert_double_eq_tol(days->min_degc[7], -10.5, 1e-9);
    ck_assert(isnan(days->max_degc[19]));
    ck_assert(!isnan(days->max_degc[18]));
}
END_TEST

START_TEST(a_stations_range_is_of_months_with_twenty_days_of_hours)
{
    static double may[2][MAY_H];
    for (int y = 0; y < 2; y++)
        for (int i = 0; i < MAY_H; i++)
            may[y][i] = 10 + y + (i % 24 == 3 ? -3.5 : i % 24 == 15 ? 6 : 0);
    struct series history[2] = {{.start_s = 1367366400, .count = MAY_H, .temp_degc = may[0]},
                                {.start_s = 1398902400, .count = MAY_H, .temp_degc = may[1]}};
    struct station station = {.id = "town", .history = history, .history_count = 2};
    struct weather_range found;
    weather_range_of(&found, &station);
    ck_assert_int_eq(found.years[4], 2);
    ck_assert_double_eq_tol(found.low_degc[4], 6.5, 1e-9);
    ck_assert_double_eq_tol(found.high_degc[4], 17, 1e-9);
    ck_assert_int_eq(found.years[5], 0);
    ck_assert(isnan(found.low_degc[5]));
    history[1].count = 479;
    weather_range_of(&found, &station);
    ck_assert_int_eq(found.years[4], 1); /* an hour short of twenty days is no year of May ... */
    ck_assert_double_eq_tol(found.high_degc[4], 17, 1e-9); /* ... but its figures were seen */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather range");
    TCase *tests = tcase_create("range");
    tcase_add_checked_fixture(tests, set_up, weather_tear_down);
    tcase_add_test(tests, a_thermometer_that_hangs_is_told_by_the_range_of_its_month);
    tcase_add_test(tests, the_last_hour_of_a_file_is_held_against_the_range_too);
    tcase_add_test(tests, a_lone_hour_is_questioned_once_by_its_neighbours);
    tcase_add_test(tests, ten_degrees_beyond_are_believed_and_a_little_more_are_told);
    tcase_add_test(tests, another_month_or_too_few_years_say_nothing);
    tcase_add_test(tests, a_days_minimum_and_maximum_are_held_against_the_range);
    tcase_add_test(tests, a_stations_range_is_of_months_with_twenty_days_of_hours);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
