/* SPDX-License-Identifier: MIT */
/* links: weather intake compute model */
/*
 * CSV: units, column maps, quotes, line ends, clock changes, and every way a row can be wrong. Each
 * sample is written here; none is anybody's data.
 */
#include "weather_case.h"

START_TEST(units_are_read_from_the_column_names)
{
    ck_assert_int_eq(read_text("time,temp_degf,rain_in,rh_pct,wind_mph,gust_kmh\n"
                               "2026-01-05T06:00:00Z,50,0.1,80,10,36\n"),
                     STATUS_OK);
    const struct series *series = weather_series(weather);
    ck_assert_uint_eq(series->count, 1);
    ck_assert_double_eq_tol(series->temp_degc[0], 10.0, 1e-9);
    ck_assert_double_eq_tol(series->rain_mm[0], 2.54, 1e-9);
    ck_assert_double_eq_tol(series->rh_pct[0], 80.0, 1e-9);
    ck_assert_double_eq_tol(series->wind_mps[0], 4.4704, 1e-9);
    ck_assert_double_eq_tol(series->gust_mps[0], 10.0, 1e-9);
}
END_TEST

START_TEST(a_column_map_gives_other_names_their_meaning)
{
    options.columns = "time=when,temp_degf=t";
    ck_assert_int_eq(read_text("t,when,junk\n32,2026-01-05T06:00:00-05:00,x\n"), STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2026-01-05T11:00:00Z"), 0.0, 1e-9);
}
END_TEST

START_TEST(a_column_map_that_names_nothing_is_refused)
{
    options.columns = "time=when,temp=t";
    ck_assert_int_eq(read_text("t,when\n32,2026-01-05T06:00:00Z\n"), STATUS_INVALID);
    ck_assert_str_eq(fault.found, "temp=t");
    options.columns = "time=nowhere";
    ck_assert_int_eq(read_text("temp_degc,when\n3,2026-01-05T06:00:00Z\n"), STATUS_INVALID);
    ck_assert_str_eq(fault.found, "time=nowhere");
    options.columns = "time";
    ck_assert_int_eq(read_text("time,temp_degc\n"), STATUS_INVALID);
    ck_assert_str_eq(fault.path, "columns");
}
END_TEST

START_TEST(a_temperature_without_a_unit_is_never_guessed)
{
    ck_assert_int_eq(read_text("time,temp\n2026-01-05T06:00:00Z,50\n"), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "temp_degc|temp_degf");
    ASSERT_SAYS(fault.found, "time,temp");
}
END_TEST

START_TEST(two_units_for_one_figure_are_refused)
{
    ck_assert_int_eq(read_text("time,temp_degc,temp_degf\n2026-01-05T06:00:00Z,10,50\n"),
                     STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "one unit");
}
END_TEST

START_TEST(every_line_end_and_a_byte_order_mark_read_the_same)
{
    static const char text[] = "\xEF\xBB\xBFtime,temp_degc\r\n2026-01-05T06:00:00Z,1\r"
                               "2026-01-05T07:00:00Z,2\n\r\n\n2026-01-05T08:00:00Z,3";
    for (size_t size = 1; size <= sizeof text; size++) {
        weather_set_up();
        ck_assert_int_eq(read_bytes(text, sizeof text - 1, size < 3 ? 3 : size), STATUS_OK);
        ck_assert_uint_eq(weather_report(weather)->rows, 3);
        ck_assert_double_eq_tol(temp_at("2026-01-05T06:00:00Z"), 1.0, 1e-9);
        ck_assert_double_eq_tol(temp_at("2026-01-05T07:00:00Z"), 2.0, 1e-9);
        ck_assert_double_eq_tol(temp_at("2026-01-05T08:00:00Z"), 3.0, 1e-9);
        weather_tear_down();
    }
}
END_TEST

START_TEST(quoted_fields_hold_commas_quotes_and_line_ends)
{
    static const char text[] = "note,time,\"temp_degc\"\n"
                               "\"a, \"\"b\"\"\r\nc\",2026-01-05T06:00:00Z,\"1.5\"\n"
                               "\"\",2026-01-05T07:00:00Z,2.5\n";
    for (size_t size = 3; size <= sizeof text; size++) {
        weather_set_up();
        ck_assert_int_eq(read_bytes(text, sizeof text - 1, size), STATUS_OK);
        ck_assert_double_eq_tol(temp_at("2026-01-05T06:00:00Z"), 1.5, 1e-9);
        ck_assert_double_eq_tol(temp_at("2026-01-05T07:00:00Z"), 2.5, 1e-9);
        weather_tear_down();
    }
}
END_TEST

START_TEST(a_quote_that_never_ends_is_a_fault_of_the_file)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-01-05T06:00:00Z,\"1.5\n"), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_SHAPE), 1);
    ck_assert_str_eq(weather_report(weather)->items[0].fault.wanted, "a closing quote");
}
END_TEST

START_TEST(bytes_behind_a_closing_quote_are_a_fault)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-01-05T06:00:00Z,\"1\"5\n"), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_SHAPE), 1);
}
END_TEST

START_TEST(one_faulty_row_refuses_the_file_unless_the_good_is_kept)
{
    static const char text[] = "time,temp_degc\n2026-01-05T06:00:00Z,1\n"
                               "2026-01-05T07:00:00Z,warm\n2026-01-05T08:00:00Z,3\n";
    ck_assert_int_eq(read_text(text), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "1 faults");
    const struct weather_item *item = &weather_report(weather)->items[0];
    ck_assert_int_eq(item->reason, WEATHER_UNREADABLE);
    ck_assert_str_eq(item->fault.path, "file:3 temp_degc");
    ck_assert_str_eq(item->fault.found, "\"warm\"");
    options.keep_good = true;
    ck_assert_int_eq(read_text(text), STATUS_OK);
    ck_assert_uint_eq(weather_report(weather)->hours, 2);
    ck_assert(isnan(temp_at("2026-01-05T07:00:00Z")));
}
END_TEST

START_TEST(a_row_that_is_cut_short_is_told_with_its_line)
{
    ck_assert_int_eq(read_text("time,temp_degc,rain_mm\n2026-01-05T06:00:00Z,1,0\n2026-01-05T07"),
                     STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_SHAPE), 1);
    ck_assert_str_eq(weather_report(weather)->items[0].fault.path, "file:3");
}
END_TEST

START_TEST(absurd_figures_are_faults_on_both_sides_of_each_bound)
{
    static const struct {
        const char *column;
        const char *figure;
        bool good;
    } rows[] = {
        {"temp_degc", "-90", true},   {"temp_degc", "-90.1", false}, {"temp_degc", "70", true},
        {"temp_degc", "70.1", false}, {"temp_degf", "999", false},   {"rain_mm", "-0.1", false},
        {"rain_mm", "0", true},       {"rain_mm", "500", true},      {"rain_mm", "500.1", false},
        {"rh_pct", "100", true},      {"rh_pct", "100.1", false},    {"rh_pct", "-1", false},
        {"wind_mps", "120", true},    {"wind_mps", "121", false},    {"gust_mph", "300", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[160];
        weather_set_up();
        snprintf(text, sizeof text, "time,%s\n2026-01-05T06:00:00Z,%s\n", rows[i].column,
                 rows[i].figure);
        ck_assert_msg((read_text(text) == STATUS_OK) == rows[i].good, "%s", text);
        ck_assert_uint_eq(counted(WEATHER_OUT_OF_RANGE), rows[i].good ? 0 : 1);
        weather_tear_down();
    }
}
END_TEST

START_TEST(infinity_hexadecimal_and_a_decimal_comma_are_not_numbers)
{
    static const char *const figures[] = {"inf", "0x10", "1e999", "1.2.3", "--1", "\"1,5\"", "1 2"};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
        char text[160];
        weather_set_up();
        snprintf(text, sizeof text, "time,temp_degc\n2026-01-05T06:00:00Z,%s\n", figures[i]);
        ck_assert_msg(read_text(text) == STATUS_INVALID, "%s", figures[i]);
        ck_assert_uint_eq(counted(WEATHER_UNREADABLE), 1);
        weather_tear_down();
    }
}
END_TEST

START_TEST(marks_of_a_missing_figure_are_counted_and_leave_a_gap)
{
    ck_assert_int_eq(read_text("time,temp_degc,rain_mm\n2026-01-05T06:00:00Z,NA,0\n"
                               "2026-01-05T07:00:00Z,NaN,0\n2026-01-05T08:00:00Z,,0\n"
                               "2026-01-05T09:00:00Z,-9999,T\n2026-01-05T10:00:00Z,4,M\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_MISSING), 5);
    ck_assert_uint_eq(counted(WEATHER_TRACE), 1);
    ck_assert(isnan(temp_at("2026-01-05T08:00:00Z")));
    ck_assert_double_eq_tol(temp_at("2026-01-05T10:00:00Z"), 4.0, 1e-9);
    ck_assert(isnan(at(weather_series(weather)->rain_mm, "2026-01-05T10:00:00Z")));
}
END_TEST

START_TEST(a_file_of_nothing_but_missing_figures_is_refused)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-01-05T06:00:00Z,NA\n"), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "none in 1 rows");
    ck_assert_int_eq(read_text(""), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "empty");
}
END_TEST

START_TEST(a_time_without_offset_needs_a_zone)
{
    static const char text[] = "time,temp_degc\n2026-07-05 06:00,1\n2026-01-05T06:00:00,2\n";
    ck_assert_int_eq(read_text(text), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 2);
    ASSERT_SAYS(weather_report(weather)->items[0].fault.wanted, "offset");
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    options.zone = zone;
    ck_assert_int_eq(read_text(text), STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2026-07-05T12:00:00Z"), 1.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-01-05T13:00:00Z"), 2.0, 1e-9);
    zone_free(zone);
}
END_TEST

START_TEST(the_hour_that_comes_twice_is_two_hours)
{
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    options.zone = zone;
    ck_assert_int_eq(read_text("time,temp_degc\n2026-11-01 00:00,1\n2026-11-01 01:00,2\n"
                               "2026-11-01 01:00,3\n2026-11-01 02:00,4\n"),
                     STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2026-11-01T06:00:00Z"), 1.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-11-01T07:00:00Z"), 2.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-11-01T08:00:00Z"), 3.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-11-01T09:00:00Z"), 4.0, 1e-9);
    zone_free(zone);
}
END_TEST

START_TEST(half_hours_through_the_hour_that_comes_twice_keep_their_order)
{
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    options.zone = zone;
    ck_assert_int_eq(read_text("time,temp_degc\n2026-11-01 01:00,2\n2026-11-01 01:30,4\n"
                               "2026-11-01 01:00,6\n2026-11-01 01:30,8\n2026-11-01 02:00,9\n"),
                     STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2026-11-01T07:00:00Z"), 3.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-11-01T08:00:00Z"), 7.0, 1e-9);
    zone_free(zone);
}
END_TEST

START_TEST(the_hour_that_never_was_is_a_fault)
{
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    options.zone = zone;
    ck_assert_int_eq(read_text("time,temp_degc\n2026-03-08 02:30,1\n"), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
    ASSERT_SAYS(weather_report(weather)->items[0].fault.wanted, "America/Denver");
    zone_free(zone);
}
END_TEST

START_TEST(the_same_row_twice_counts_once_and_another_figure_is_a_contradiction)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-01-05T07:00:00Z,1\n2026-01-05T06:00:00Z,2\n"
                               "2026-01-05T07:00:00Z,1\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_REPEATED), 1);
    options.keep_good = true;
    ck_assert_int_eq(read_text("time,temp_degc\n2026-01-05T07:00:00Z,1\n2026-01-05T06:00:00Z,2\n"
                               "2026-01-05T07:00:00Z,1.5\n2026-01-05T07:00:00Z,1\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_CONTRADICTED), 1);
    ck_assert_uint_eq(weather_series(weather)->count, 2);
    ck_assert(isnan(temp_at("2026-01-05T07:00:00Z"))); /* neither is believed */
}
END_TEST

START_TEST(readings_within_an_hour_are_averaged_and_their_rain_added)
{
    ck_assert_int_eq(read_text("time,temp_degc,rain_mm,gust_mps\n2026-01-05T06:05:00Z,1,0.2,4\n"
                               "2026-01-05T06:55:00Z,3,0.3,9\n"),
                     STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2026-01-05T06:00:00Z"), 2.0, 1e-9);
    ck_assert_double_eq_tol(weather_series(weather)->rain_mm[0], 0.5, 1e-9);
    ck_assert_double_eq_tol(weather_series(weather)->gust_mps[0], 9.0, 1e-9);
}
END_TEST

START_TEST(an_hour_told_at_its_end_starts_an_hour_before)
{
    ck_assert_int_eq(read_text("time_end,rain_mm\n2026-01-05T06:00:00Z,1\n"), STATUS_OK);
    ck_assert_double_eq_tol(at(weather_series(weather)->rain_mm, "2026-01-05T05:00:00Z"), 1.0,
                            1e-9);
}
END_TEST

START_TEST(a_lone_cold_hour_is_questioned_and_left_out)
{
    static const char text[] = "time,temp_degc\n2026-05-09T00:00:00Z,14\n2026-05-09T01:00:00Z,14\n"
                               "2026-05-09T02:00:00Z,-10.5\n2026-05-09T03:00:00Z,14\n";
    ck_assert_int_eq(read_text(text), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 1);
    ck_assert(isnan(temp_at("2026-05-09T02:00:00Z")));
    ck_assert_double_eq_tol(temp_at("2026-05-09T03:00:00Z"), 14.0, 1e-9);
    options.keep_questioned = true;
    ck_assert_int_eq(read_text(text), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 1);
    ck_assert_double_eq_tol(temp_at("2026-05-09T02:00:00Z"), -10.5, 1e-9);
}
END_TEST

START_TEST(a_front_that_stays_cold_is_believed_at_any_size)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-05-09T00:00:00Z,20\n2026-05-09T01:00:00Z,20\n"
                               "2026-05-09T02:00:00Z,-5\n2026-05-09T03:00:00Z,-6\n"
                               "2026-05-09T04:00:00Z,-7\n2026-05-09T05:00:00Z,-7\n"
                               "2026-05-09T06:00:00Z,-8\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 0);
}
END_TEST

START_TEST(twelve_degrees_are_believed_and_a_little_more_are_not)
{
    ck_assert_int_eq(read_text("time,temp_degc\n2026-05-09T00:00:00Z,12\n2026-05-09T01:00:00Z,0\n"
                               "2026-05-09T02:00:00Z,12\n2026-05-09T03:00:00Z,24.1\n"
                               "2026-05-09T04:00:00Z,24.1\n2026-05-09T05:00:00Z,12\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUESTIONED), 2); /* the two warm hours stand out together */
    ck_assert_double_eq_tol(temp_at("2026-05-09T01:00:00Z"), 0.0, 1e-9);
}
END_TEST

START_TEST(observed_hours_later_than_now_are_faults_and_forecast_ones_are_not)
{
    static const char text[] = "time,temp_degc\n2026-01-05T06:00:00Z,1\n2026-01-05T07:00:00Z,2\n";
    options.now_s = 1767594000; /* 2026-01-05T06:20:00Z */
    ck_assert_int_eq(read_text(text), STATUS_OK);
    options.past = true;
    ck_assert_int_eq(read_text(text), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_AFTER_NOW), 1);
}
END_TEST

START_TEST(only_the_rows_asked_for_are_taken)
{
    options.only_column = "place";
    options.only_value = "Alder";
    ck_assert_int_eq(read_text("place,time,temp_degc\nAlder,2026-01-05T06:00:00Z,1\n"
                               "Birch,2026-01-05T06:00:00Z,absurd\n"),
                     STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_UNUSED), 1);
    ck_assert_double_eq_tol(temp_at("2026-01-05T06:00:00Z"), 1.0, 1e-9);
}
END_TEST

START_TEST(hours_further_apart_than_a_series_holds_are_a_limit)
{
    ck_assert_int_eq(read_text("time,temp_degc\n1970-01-01T00:00:00Z,1\n2199-01-01T00:00:00Z,1\n"),
                     STATUS_LIMIT);
    ASSERT_SAYS(fault.wanted, "1000000");
}
END_TEST

START_TEST(a_nul_byte_and_an_endless_line_are_refused)
{
    static char endless[WEATHER_LINE_BYTES_MAX + 200];
    ck_assert_int_eq(read_bytes("time\0,temp_degc\n", 16, 100), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "NUL");
    memset(endless, 'a', sizeof endless);
    ck_assert_int_eq(read_bytes(endless, sizeof endless, 4096), STATUS_LIMIT);
    memset(endless, ',', sizeof endless);
    ck_assert_int_eq(read_bytes(endless, sizeof endless, 4096), STATUS_LIMIT);
    ASSERT_SAYS(fault.wanted, "512 fields");
}
END_TEST

START_TEST(fifty_faults_are_told_and_the_rest_are_counted)
{
    struct text text = TEXT_UP_TO(100000);
    text_add_z(&text, "time,temp_degc\n");
    for (int i = 0; i < 80; i++) text_print(&text, "2026-01-05T06:00:00Z,x%d\n", i);
    ck_assert_int_eq(read_text(text_z(&text)), STATUS_INVALID);
    ck_assert_uint_eq(weather_report(weather)->item_count, 50);
    ck_assert_uint_eq(weather_report(weather)->items_dropped, 30);
    ck_assert_uint_eq(weather_report(weather)->faults, 80);
    text_free(&text);
}
END_TEST

START_TEST(a_logger_becomes_readings_the_coldest_of_each_span)
{
    struct text text = TEXT_UP_TO(10000);
    size_t count = 0;
    options.format = WEATHER_LOGGER;
    ck_assert_int_eq(read_text("time,temp_degf\n2026-01-05T06:00:00Z,50\n2026-01-05T06:10:00Z,41\n"
                               "2026-01-05T06:20:00Z,59\n2026-01-05T06:40:00Z,68\n"),
                     STATUS_OK);
    (void)weather_readings(weather, &count);
    ck_assert_uint_eq(count, 4);
    weather_records_json(&text, weather, "hollow-pine", "pad", "probe", 1800);
    ck_assert_uint_eq(counted(WEATHER_THINNED), 2);
    ASSERT_SAYS(text_z(&text), "\"at\":\"2026-01-05T06:10:00Z\",\"part\":\"pad\",\"how\":\"probe\","
                               "\"degc\":5.00");
    ASSERT_SAYS(text_z(&text), "\"at\":\"2026-01-05T06:40:00Z\"");
    ck_assert_ptr_null(strstr(text_z(&text), "06:20:00Z"));
    text_free(&text);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather csv");
    TCase *tests = tcase_create("csv");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, weather_set_up, weather_tear_down);
    tcase_add_test(tests, units_are_read_from_the_column_names);
    tcase_add_test(tests, a_column_map_gives_other_names_their_meaning);
    tcase_add_test(tests, a_column_map_that_names_nothing_is_refused);
    tcase_add_test(tests, a_temperature_without_a_unit_is_never_guessed);
    tcase_add_test(tests, two_units_for_one_figure_are_refused);
    tcase_add_test(tests, every_line_end_and_a_byte_order_mark_read_the_same);
    tcase_add_test(tests, quoted_fields_hold_commas_quotes_and_line_ends);
    tcase_add_test(tests, a_quote_that_never_ends_is_a_fault_of_the_file);
    tcase_add_test(tests, bytes_behind_a_closing_quote_are_a_fault);
    tcase_add_test(tests, one_faulty_row_refuses_the_file_unless_the_good_is_kept);
    tcase_add_test(tests, a_row_that_is_cut_short_is_told_with_its_line);
    tcase_add_test(tests, absurd_figures_are_faults_on_both_sides_of_each_bound);
    tcase_add_test(tests, infinity_hexadecimal_and_a_decimal_comma_are_not_numbers);
    tcase_add_test(tests, marks_of_a_missing_figure_are_counted_and_leave_a_gap);
    tcase_add_test(tests, a_file_of_nothing_but_missing_figures_is_refused);
    tcase_add_test(tests, a_time_without_offset_needs_a_zone);
    tcase_add_test(tests, the_hour_that_comes_twice_is_two_hours);
    tcase_add_test(tests, half_hours_through_the_hour_that_comes_twice_keep_their_order);
    tcase_add_test(tests, the_hour_that_never_was_is_a_fault);
    tcase_add_test(tests, the_same_row_twice_counts_once_and_another_figure_is_a_contradiction);
    tcase_add_test(tests, readings_within_an_hour_are_averaged_and_their_rain_added);
    tcase_add_test(tests, an_hour_told_at_its_end_starts_an_hour_before);
    tcase_add_test(tests, a_lone_cold_hour_is_questioned_and_left_out);
    tcase_add_test(tests, a_front_that_stays_cold_is_believed_at_any_size);
    tcase_add_test(tests, twelve_degrees_are_believed_and_a_little_more_are_not);
    tcase_add_test(tests, observed_hours_later_than_now_are_faults_and_forecast_ones_are_not);
    tcase_add_test(tests, only_the_rows_asked_for_are_taken);
    tcase_add_test(tests, hours_further_apart_than_a_series_holds_are_a_limit);
    tcase_add_test(tests, a_nul_byte_and_an_endless_line_are_refused);
    tcase_add_test(tests, fifty_faults_are_told_and_the_rest_are_counted);
    tcase_add_test(tests, a_logger_becomes_readings_the_coldest_of_each_span);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
