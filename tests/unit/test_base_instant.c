/* SPDX-License-Identifier: MIT */
/* Instants and dates as text: what is read, what is refused and why, and that both ways agree. */
#include "base/instant.h"

#include <check.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const struct {
    const char *text;
    int64_t at_s;
} good[] = {
    {"1970-01-01T00:00:00Z", 0},
    {"1970-01-01t00:00:00z", 0},
    {"1970-01-01T05:30:00+05:30", 0},
    {"2200-01-01T00:00:00Z", INSTANT_MAX_S},
    {"2199-12-31T17:00:00-07:00", INSTANT_MAX_S},
    {"2026-10-24T10:00:00-06:00", 1792857600},
    {"2026-10-24T16:00:00.000Z", 1792857600},
    {"2026-10-24T16:00:00.0+00:00", 1792857600},
    {"2026-10-24T16:00:00-00:00", 1792857600},
    {"1985-04-12T23:20:50Z", 482196050}, /* date of RFC 3339 section 5.8, without its fraction */
    {"1996-12-19T16:39:57-08:00", 851042397}, /* RFC 3339 section 5.8 */
    {"1996-12-20T00:39:57Z", 851042397},
    {"2000-02-29T23:59:59Z", 951868799},
    {"2026-10-25T15:59:00+23:59", 1792857600},
};

static const char whole_form[] = "an instant with its offset, like 2026-10-24T10:00:00-06:00";
static const char in_range[] = "an instant from 1970-01-01T00:00:00Z to 2200-01-01T00:00:00Z";

static const struct {
    const char *text;
    const char *wanted;
} bad[] = {
    {"", whole_form},
    {"2026-10-24", whole_form},
    {"2026-10-24T10:00:00", whole_form},
    {"2026-10-24 10:00:00Z", whole_form},
    {"2026-10-24T10:00Z", whole_form},
    {"2026-10-24T10:00:00+0600", whole_form},
    {"2026-10-24T10:00:00+06", whole_form},
    {"2026-10-24T10:00:00+06:00 ", whole_form},
    {" 2026-10-24T10:00:00Z", whole_form},
    {"2026-10-24T10:00:00+06:60", whole_form},
    {"2026-10-24T10:00:00+24:00", whole_form},
    {"2026-10-24T24:00:00Z", whole_form},
    {"2026-10-24T10:60:00Z", whole_form},
    {"2026-10-24T10:00:61Z", whole_form},
    {"2026-02-29T10:00:00Z", whole_form},
    {"2026-13-01T10:00:00Z", whole_form},
    {"2026-00-01T10:00:00Z", whole_form},
    {"2026-01-00T10:00:00Z", whole_form},
    {"2026/10/24T10:00:00Z", whole_form},
    {"2026-10-24T10.00.00Z", whole_form},
    {"+026-10-24T10:00:00Z", whole_form},
    {"2026-10-24T-1:00:00Z", whole_form},
    {"2026-10-24T10:00:00.Z", whole_form},
    {"2026-10-24T10:00:00,0Z", whole_form},
    {"2026-10-24T10:00:00.0", whole_form},
    {"2026-10-24T10:00:00ZZ", whole_form},
    {"2026-10-24T10:00:00.5Z", "whole seconds"},
    {"2026-10-24T10:00:00.0001Z", "whole seconds"},
    {"1990-12-31T23:59:60Z", "a second from 00 to 59"}, /* a leap second that was */
    {"1969-12-31T23:59:59Z", in_range},
    {"1970-01-01T00:00:00+00:01", in_range},
    {"2200-01-01T00:00:01Z", in_range},
    {"2199-12-31T23:59:59-00:01", in_range},
    {"9999-12-31T23:59:59Z", in_range},
    {"0000-01-01T00:00:00Z", in_range},
};

START_TEST(a_good_instant_is_read_as_its_second)
{
    int64_t at_s = -1;
    ck_assert_int_eq(instant_parse(&at_s, good[_i].text, strlen(good[_i].text), NULL), STATUS_OK);
    ck_assert_int_eq(at_s, good[_i].at_s);
}
END_TEST

START_TEST(a_bad_instant_is_refused_with_what_was_wanted)
{
    int64_t at_s = -7;
    struct fault fault = {.path = "?"};
    ck_assert_msg(instant_parse(&at_s, bad[_i].text, strlen(bad[_i].text), &fault) ==
                      STATUS_INVALID,
                  "%s", bad[_i].text);
    ck_assert_int_eq(at_s, -7);
    ck_assert_str_eq(fault.wanted, bad[_i].wanted);
    ck_assert_str_eq(fault.found, bad[_i].text[0] == '\0' ? "nothing" : bad[_i].text);
    ck_assert_str_eq(fault.path, "");
}
END_TEST

START_TEST(what_was_found_is_shown_short_and_printable)
{
    int64_t at_s = 0;
    struct fault fault;
    ck_assert_int_eq(instant_parse(&at_s, "a\nb\x1b[31m\0\xff", 10, &fault), STATUS_INVALID);
    ck_assert_str_eq(fault.found, "a?b?[31m??");
    char most[5000];
    memset(most, 'x', sizeof most);
    ck_assert_int_eq(instant_parse(&at_s, most, sizeof most, &fault), STATUS_INVALID);
    ck_assert_uint_eq(strlen(fault.found), 47);
    ck_assert_str_eq(fault.found + 43, "x...");
}
END_TEST

START_TEST(only_the_given_bytes_are_read)
{
    int64_t at_s = 0;
    const char *text = "2026-10-24T16:00:00Z";
    for (size_t length = 0; length < 20; length++) {
        char *exact = malloc(length + (length == 0));
        memcpy(exact, text, length);
        ck_assert_int_eq(instant_parse(&at_s, exact, length, NULL), STATUS_INVALID);
        free(exact);
    }
    ck_assert_int_eq(instant_parse(&at_s, text, 20, NULL), STATUS_OK);
    ck_assert_int_eq(instant_parse(&at_s, "2026-10-24T16:00:00Z9", 20, NULL), STATUS_OK);
}
END_TEST

START_TEST(every_instant_written_is_read_back)
{
    static const char *const zones[] = {"America/Denver",
                                        "Asia/Kathmandu",
                                        "Australia/Lord_Howe",
                                        "Africa/Monrovia",
                                        "Pacific/Apia",
                                        "UTC",
                                        NULL};
    for (size_t z = 0; z < sizeof zones / sizeof zones[0]; z++) {
        struct zone *zone = NULL;
        if (zones[z] != NULL) ck_assert_int_eq(zone_load(&zone, zones[z], NULL), STATUS_OK);
        for (int64_t at_s = INSTANT_MIN_S; at_s <= INSTANT_MAX_S; at_s += 777777) {
            char text[INSTANT_TEXT_MAX];
            int64_t back_s = -1;
            instant_format(text, at_s, zone);
            if (text[0] != '1' && text[0] != '2') ck_abort_msg("%s", text);
            if (instant_parse(&back_s, text, strlen(text), NULL) != STATUS_OK || back_s != at_s)
                ck_abort_msg("%s", text);
        }
        zone_free(zone);
    }
}
END_TEST

START_TEST(an_instant_without_a_zone_is_written_as_the_c_library_writes_utc)
{
    for (int64_t at_s = INSTANT_MIN_S; at_s <= INSTANT_MAX_S; at_s += 86399 * 3) {
        char text[INSTANT_TEXT_MAX];
        char expected[32];
        const time_t at = (time_t)at_s;
        struct tm utc;
        if (gmtime_r(&at, &utc) == NULL) ck_abort_msg("no time");
        (void)strftime(expected, sizeof expected, "%Y-%m-%dT%H:%M:%SZ", &utc);
        instant_format(text, at_s, NULL);
        if (strcmp(text, expected) != 0) ck_abort_msg("%s, not %s", text, expected);
    }
}
END_TEST

START_TEST(instants_are_written_with_the_offset_of_their_zone_then)
{
    static const struct {
        const char *zone;
        int64_t at_s;
        const char *text;
    } rows[] = {
        {"America/Denver", 1792857600, "2026-10-24T10:00:00-06:00"},
        {"Asia/Kathmandu", 0, "1970-01-01T05:30:00+05:30"},
        {"Asia/Kathmandu", 1792857600, "2026-10-24T21:45:00+05:45"},
        {"America/St_Johns", 1705320000, "2024-01-15T08:30:00-03:30"},
        {"Africa/Monrovia", 0, "1969-12-31T23:16:00-00:44"}, /* -00:44:30 until 1972 */
        {"UTC", 0, "1970-01-01T00:00:00+00:00"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct zone *zone = NULL;
        char text[INSTANT_TEXT_MAX];
        ck_assert_int_eq(zone_load(&zone, rows[i].zone, NULL), STATUS_OK);
        instant_format(text, rows[i].at_s, zone);
        ck_assert_str_eq(text, rows[i].text);
        zone_free(zone);
    }
}
END_TEST

START_TEST(instants_past_what_can_be_read_are_still_written)
{
    char text[INSTANT_TEXT_MAX];
    instant_format(text, INSTANT_MAX_S + 30LL * 366 * 86400, NULL);
    ck_assert_str_eq(text, "2230-01-24T00:00:00Z");
    instant_format(text, -62167046400LL, NULL);
    ck_assert_str_eq(text, "0000-01-03T00:00:00Z");
    instant_format(text, 253402128000LL, NULL);
    ck_assert_str_eq(text, "9999-12-30T00:00:00Z");
}
END_TEST

START_TEST(an_instant_of_no_four_digit_year_is_a_bug_of_ours)
{
    char text[INSTANT_TEXT_MAX];
    instant_format(text, INT64_MIN, NULL);
}
END_TEST

START_TEST(dates_are_read_and_written)
{
    static const struct {
        const char *text;
        int32_t day;
    } rows[] = {{"1970-01-01", 0},
                {"2026-03-11", 20523},
                {"2000-02-29", 11016},
                {"2200-01-01", INSTANT_MAX_S / 86400}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int32_t day = -1;
        char text[DATE_TEXT_MAX];
        ck_assert_int_eq(date_parse(&day, rows[i].text, 10, NULL), STATUS_OK);
        ck_assert_int_eq(day, rows[i].day);
        date_format(text, day);
        ck_assert_str_eq(text, rows[i].text);
    }
}
END_TEST

START_TEST(a_bad_date_is_refused)
{
    static const char *const rows[] = {"",           "2026-3-11",   "2026-02-29", "1900-02-29",
                                       "2026-03-32", "2026-03-11 ", "20260311",   "2026-03-11T",
                                       "1969-12-31", "2200-01-02",  "2026-03-1a", "yyyy-mm-dd"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int32_t day = -7;
        struct fault fault;
        ck_assert_msg(date_parse(&day, rows[i], strlen(rows[i]), &fault) == STATUS_INVALID, "%s",
                      rows[i]);
        ck_assert_int_eq(day, -7);
        ck_assert_str_eq(fault.wanted, "a date from 1970-01-01 to 2200-01-01, like 2026-10-24");
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("instant");
    TCase *tests = tcase_create("instant");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, a_good_instant_is_read_as_its_second, 0,
                        (int)(sizeof good / sizeof good[0]));
    tcase_add_loop_test(tests, a_bad_instant_is_refused_with_what_was_wanted, 0,
                        (int)(sizeof bad / sizeof bad[0]));
    tcase_add_test(tests, what_was_found_is_shown_short_and_printable);
    tcase_add_test(tests, only_the_given_bytes_are_read);
    tcase_add_test(tests, every_instant_written_is_read_back);
    tcase_add_test(tests, an_instant_without_a_zone_is_written_as_the_c_library_writes_utc);
    tcase_add_test(tests, instants_are_written_with_the_offset_of_their_zone_then);
    tcase_add_test(tests, instants_past_what_can_be_read_are_still_written);
    tcase_add_test_raise_signal(tests, an_instant_of_no_four_digit_year_is_a_bug_of_ours, SIGABRT);
    tcase_add_test(tests, dates_are_read_and_written);
    tcase_add_test(tests, a_bad_date_is_refused);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
