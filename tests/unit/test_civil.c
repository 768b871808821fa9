/* SPDX-License-Identifier: MIT */
/* links: compute */
/*
 * Civil days and wall clocks: known dates by name, and every rule of civil.h against a search that
 * walks minute by minute. Changes of the clock are past ones, as the system's zone files have them.
 */
#include "compute/civil.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/instant.h"

static struct zone *zone_of(const char *name)
{
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, name, NULL), STATUS_OK);
    return zone;
}

static int64_t at(const char *text)
{
    int64_t at_s = 0;
    ck_assert_msg(instant_parse(&at_s, text, strlen(text), NULL) == STATUS_OK, "%s", text);
    return at_s;
}

static void ck_instant(const struct zone *zone, int64_t at_s, const char *expected)
{
    char text[INSTANT_TEXT_MAX];
    instant_format(text, at_s, zone);
    ck_assert_str_eq(text, expected);
}

START_TEST(every_day_of_the_years_1_to_2400_is_one_after_the_one_before)
{
    int32_t day = civil_day(1, 1, 1);
    ck_assert_int_eq(day, -719162);
    ck_assert_int_eq(civil_day(1970, 1, 1), 0);
    ck_assert_int_eq(civil_day(2000, 3, 1), 11017);
    ck_assert_int_eq(civil_day(2200, 1, 1) * 86400LL, INSTANT_MAX_S);
    for (int year = 1; year <= 2400; year++) {
        for (int month = 1; month <= 12; month++) {
            for (int of_month = 1; civil_date_valid(year, month, of_month); of_month++, day++) {
                int y = 0, m = 0, d = 0;
                civil_date(day, &y, &m, &d);
                if (civil_day(year, month, of_month) != day || y != year || m != month ||
                    d != of_month)
                    ck_abort_msg("%d-%d-%d is day %d", year, month, of_month, day);
            }
        }
    }
    ck_assert_int_eq(day, civil_day(2401, 1, 1));
}
END_TEST

START_TEST(dates_that_do_not_exist_are_not_valid)
{
    ck_assert(civil_date_valid(2028, 2, 29));
    ck_assert(civil_date_valid(2000, 2, 29));
    ck_assert(!civil_date_valid(1900, 2, 29));
    ck_assert(!civil_date_valid(2026, 2, 29));
    ck_assert(!civil_date_valid(2026, 4, 31));
    ck_assert(!civil_date_valid(2026, 13, 1));
    ck_assert(!civil_date_valid(2026, 0, 1));
    ck_assert(!civil_date_valid(2026, 1, 0));
    ck_assert(!civil_date_valid(0, 1, 1));
    ck_assert(!civil_date_valid(10000, 1, 1));
}
END_TEST

START_TEST(weekdays_begin_with_monday_on_both_sides_of_1970)
{
    ck_assert_int_eq(civil_weekday(0), 3); /* Thursday */
    ck_assert_int_eq(civil_weekday(civil_day(2026, 3, 11)), 2);
    ck_assert_int_eq(civil_weekday(civil_day(2026, 4, 8)), 2);
    ck_assert_int_eq(civil_weekday(civil_day(1969, 12, 29)), 0);
    for (int32_t day = -4000; day < 4000; day++)
        ck_assert_int_eq((civil_weekday(day) + 1) % 7, civil_weekday(day + 1));
}
END_TEST

START_TEST(a_day_is_23_24_or_25_hours_long)
{
    struct zone *zone = zone_of("America/Denver");
    const int32_t spring = civil_day(2024, 3, 10);
    const int32_t autumn = civil_day(2024, 11, 3);
    ck_assert_int_eq(civil_day_start_s(zone, spring + 1) - civil_day_start_s(zone, spring), 82800);
    ck_assert_int_eq(civil_day_start_s(zone, autumn + 1) - civil_day_start_s(zone, autumn), 90000);
    ck_assert_int_eq(civil_day_start_s(zone, 11) - civil_day_start_s(zone, 10), 86400);
    ck_instant(zone, civil_day_start_s(zone, spring), "2024-03-10T00:00:00-07:00");
    ck_instant(zone, civil_day_start_s(zone, spring + 1), "2024-03-11T00:00:00-06:00");
    ck_assert_int_eq(civil_offset_s(zone, at("2024-03-10T08:59:59Z")), -25200);
    ck_assert_int_eq(civil_offset_s(zone, at("2024-03-10T09:00:00Z")), -21600);
    zone_free(zone);
}
END_TEST

START_TEST(a_wall_clock_in_a_gap_is_the_first_instant_after_it)
{
    struct zone *zone = zone_of("America/Denver");
    const int32_t spring = civil_day(2024, 3, 10);
    ck_instant(zone, civil_instant_s(zone, spring, 7199), "2024-03-10T01:59:59-07:00");
    ck_instant(zone, civil_instant_s(zone, spring, 7200), "2024-03-10T03:00:00-06:00");
    ck_instant(zone, civil_instant_s(zone, spring, 9000), "2024-03-10T03:00:00-06:00");
    ck_instant(zone, civil_instant_s(zone, spring, 10800), "2024-03-10T03:00:00-06:00");
    ck_instant(zone, civil_instant_s(zone, spring, 10801), "2024-03-10T03:00:01-06:00");
    zone_free(zone);
}
END_TEST

START_TEST(a_wall_clock_shown_twice_is_the_earlier_one)
{
    struct zone *zone = zone_of("America/Denver");
    const int32_t autumn = civil_day(2024, 11, 3);
    ck_instant(zone, civil_instant_s(zone, autumn, 3600), "2024-11-03T01:00:00-06:00");
    ck_instant(zone, civil_instant_s(zone, autumn, 7199), "2024-11-03T01:59:59-06:00");
    ck_instant(zone, civil_instant_s(zone, autumn, 7200), "2024-11-03T02:00:00-07:00");
    ck_instant(zone, civil_instant_s(zone, autumn, 86400), "2024-11-04T00:00:00-07:00");
    zone_free(zone);
}
END_TEST

START_TEST(a_day_without_midnight_starts_at_one)
{
    struct zone *zone = zone_of("Africa/Cairo"); /* 2024-04-26: 00:00 -> 01:00 */
    const int64_t start_s = civil_day_start_s(zone, civil_day(2024, 4, 26));
    ck_instant(zone, start_s, "2024-04-26T01:00:00+03:00");
    ck_assert_int_eq(civil_day_of(zone, start_s - 1), civil_day(2024, 4, 25));
    zone_free(zone);
}
END_TEST

START_TEST(a_day_with_two_midnights_starts_at_the_first)
{
    struct zone *zone = zone_of("America/Havana"); /* 2024-11-03: 01:00 -> 00:00 */
    const int64_t start_s = civil_day_start_s(zone, civil_day(2024, 11, 3));
    ck_instant(zone, start_s, "2024-11-03T00:00:00-04:00");
    ck_assert_int_eq(civil_day_start_s(zone, civil_day(2024, 11, 4)) - start_s, 90000);
    zone_free(zone);
}
END_TEST

START_TEST(a_day_left_for_a_minute_and_begun_again_starts_at_its_first_instant)
{
    struct zone *zone = zone_of("America/St_Johns"); /* 2010-11-07: 00:01 -> 23:01 */
    const int32_t day = civil_day(2010, 11, 7);
    const int64_t start_s = civil_day_start_s(zone, day);
    ck_instant(zone, start_s, "2010-11-07T00:00:00-02:30");
    ck_assert_int_eq(civil_day_of(zone, start_s + 59), day);
    ck_assert_int_eq(civil_day_of(zone, start_s + 60), day - 1);
    ck_assert_int_eq(civil_day_of(zone, start_s + 3600), day);
    zone_free(zone);
}
END_TEST

START_TEST(a_skipped_day_has_no_length)
{
    struct zone *zone = zone_of("Pacific/Apia"); /* no 2011-12-30 */
    const int32_t day = civil_day(2011, 12, 30);
    ck_assert_int_eq(civil_day_start_s(zone, day), civil_day_start_s(zone, day + 1));
    ck_instant(zone, civil_day_start_s(zone, day), "2011-12-31T00:00:00+14:00");
    ck_instant(zone, civil_instant_s(zone, day, 43200), "2011-12-31T00:00:00+14:00");
    ck_assert_int_eq(civil_day_of(zone, civil_day_start_s(zone, day) - 1), day - 1);
    zone_free(zone);
}
END_TEST

START_TEST(the_whole_hour_is_that_of_the_wall_clock)
{
    struct zone *kolkata = zone_of("Asia/Kolkata");
    ck_instant(kolkata, civil_hour_up_s(kolkata, at("2026-10-24T10:00:00Z")),
               "2026-10-24T16:00:00+05:30");
    ck_assert_int_eq(civil_hour_up_s(kolkata, at("2026-10-24T10:30:00Z")),
                     at("2026-10-24T10:30:00Z"));
    ck_instant(kolkata, civil_hour_up_s(kolkata, at("2026-10-24T10:30:01Z")),
               "2026-10-24T17:00:00+05:30");
    zone_free(kolkata);
    struct zone *denver = zone_of("America/Denver");
    ck_instant(denver, civil_hour_up_s(denver, at("2024-03-10T01:30:00-07:00")),
               "2024-03-10T03:00:00-06:00");
    ck_instant(denver, civil_hour_up_s(denver, at("2024-11-03T01:30:00-06:00")),
               "2024-11-03T01:00:00-07:00");
    zone_free(denver);
}
END_TEST

START_TEST(a_change_of_half_an_hour_moves_the_whole_hour)
{
    struct zone *zone = zone_of("Australia/Lord_Howe");
    /* 2024-10-06: 02:00 +10:30 -> 02:30 +11 */
    ck_instant(zone, civil_hour_up_s(zone, at("2024-10-06T01:10:00+10:30")),
               "2024-10-06T03:00:00+11:00");
    ck_assert_int_eq(civil_hour_up_s(zone, at("2024-10-06T01:10:00+10:30")) -
                         at("2024-10-06T01:10:00+10:30"),
                     80 * 60);
    /* 2024-04-07: 02:00 +11 -> 01:30 +10:30 */
    ck_instant(zone, civil_hour_up_s(zone, at("2024-04-07T01:10:00+11:00")),
               "2024-04-07T02:00:00+10:30");
    zone_free(zone);
}
END_TEST

/* ---- against a walk, minute by minute -------------------------------------------------------- */

static const struct {
    const char *zone;
    const char *change; /* an instant near a change of the clock */
} walks[] = {
    {"America/Denver", "2024-03-10T09:00:00Z"},
    {"America/Denver", "2024-11-03T08:00:00Z"},
    {"Australia/Lord_Howe", "2024-10-05T15:30:00Z"},
    {"Australia/Lord_Howe", "2024-04-06T15:00:00Z"},
    {"Africa/Cairo", "2024-04-25T22:00:00Z"},
    {"Africa/Cairo", "2024-10-31T21:00:00Z"},
    {"America/Havana", "2024-11-03T05:00:00Z"},
    {"America/Havana", "2024-03-10T05:00:00Z"},
    {"America/St_Johns", "2010-11-07T02:31:00Z"},
    {"America/St_Johns", "2010-03-14T03:31:00Z"},
    {"America/Santiago", "2024-04-07T03:00:00Z"},
    {"America/Santiago", "2024-09-08T04:00:00Z"},
    {"Pacific/Apia", "2011-12-30T10:00:00Z"},
    {"Europe/Dublin", "2024-03-31T01:00:00Z"},
    {"Asia/Kathmandu", "1985-12-31T18:30:00Z"},
    {"Africa/Casablanca", "2024-03-10T02:00:00Z"},
    {"America/St_Johns", "2150-06-01T00:00:00Z"},
    {"UTC", "2024-01-01T00:00:00Z"},
};

enum { WALK_MIN = 5 * 24 * 60 };

START_TEST(every_wall_clock_near_a_change_is_what_a_walk_finds)
{
    struct zone *zone = zone_of(walks[_i].zone);
    const int64_t from_s = at(walks[_i].change) - WALK_MIN / 2 * 60;
    static int64_t wall_min[WALK_MIN];
    for (int i = 0; i < WALK_MIN; i++) {
        const int64_t at_s = from_s + i * 60;
        wall_min[i] = civil_day_of(zone, at_s) * 1440LL + civil_second_of_day(zone, at_s) / 60;
        ck_assert_int_eq(wall_min[i] * 60, at_s + civil_offset_s(zone, at_s));
    }
    int64_t highest = INT64_MIN; /* so far */
    for (int i = 0; i < WALK_MIN; i++) {
        const int64_t first = highest == INT64_MIN ? wall_min[i] : highest + 1;
        for (int64_t w = first; w <= wall_min[i]; w++) {
            const int32_t day = (int32_t)zone_floor_div(w, 1440);
            const int64_t found_s = civil_instant_s(zone, day, (int)(w - day * 1440LL) * 60);
            if (found_s != from_s + i * 60)
                ck_abort_msg("%s day %d minute %d: %lld, walked %lld", zone->name, day,
                             (int)(w - day * 1440LL), (long long)found_s,
                             (long long)from_s + i * 60);
        }
        if (wall_min[i] > highest) highest = wall_min[i];
    }
    zone_free(zone);
}
END_TEST

START_TEST(every_whole_hour_near_a_change_is_what_a_walk_finds)
{
    struct zone *zone = zone_of(walks[_i].zone);
    const int64_t from_s = at(walks[_i].change) - 12 * 3600;
    int64_t next_s = INT64_MAX;
    for (int i = 24 * 60; i >= 0; i--) {
        const int64_t at_s = from_s + i * 60;
        if (civil_second_of_day(zone, at_s) % 3600 == 0) next_s = at_s;
        if (next_s == INT64_MAX) continue;
        ck_assert_int_eq(civil_hour_up_s(zone, at_s), next_s);
        /* a second later than a minute before the hour still leads to it */
        if (at_s < next_s) ck_assert_int_eq(civil_hour_up_s(zone, at_s + 1), next_s);
    }
    zone_free(zone);
}
END_TEST

START_TEST(every_day_to_2199_begins_where_the_one_before_ends)
{
    struct zone *zone = zone_of(walks[_i].zone);
    int64_t start_s = civil_day_start_s(zone, 0);
    for (int32_t day = 0; day < INSTANT_MAX_S / 86400; day++) {
        const int64_t next_s = civil_day_start_s(zone, day + 1);
        const bool skipped = next_s == start_s;
        if (next_s < start_s || next_s - start_s > 26 * 3600 ||
            (!skipped &&
             (civil_day_of(zone, start_s) != day || civil_day_of(zone, start_s - 1) >= day)))
            ck_abort_msg("%s day %d", zone->name, day);
        start_s = next_s;
    }
    zone_free(zone);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("civil");
    TCase *tests = tcase_create("civil");
    const int walks_count = (int)(sizeof walks / sizeof walks[0]);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, every_day_of_the_years_1_to_2400_is_one_after_the_one_before);
    tcase_add_test(tests, dates_that_do_not_exist_are_not_valid);
    tcase_add_test(tests, weekdays_begin_with_monday_on_both_sides_of_1970);
    tcase_add_test(tests, a_day_is_23_24_or_25_hours_long);
    tcase_add_test(tests, a_wall_clock_in_a_gap_is_the_first_instant_after_it);
    tcase_add_test(tests, a_wall_clock_shown_twice_is_the_earlier_one);
    tcase_add_test(tests, a_day_without_midnight_starts_at_one);
    tcase_add_test(tests, a_day_with_two_midnights_starts_at_the_first);
    tcase_add_test(tests, a_day_left_for_a_minute_and_begun_again_starts_at_its_first_instant);
    tcase_add_test(tests, a_skipped_day_has_no_length);
    tcase_add_test(tests, the_whole_hour_is_that_of_the_wall_clock);
    tcase_add_test(tests, a_change_of_half_an_hour_moves_the_whole_hour);
    tcase_add_loop_test(tests, every_wall_clock_near_a_change_is_what_a_walk_finds, 0, walks_count);
    tcase_add_loop_test(tests, every_whole_hour_near_a_change_is_what_a_walk_finds, 0, walks_count);
    tcase_add_loop_test(tests, every_day_to_2199_begins_where_the_one_before_ends, 0, walks_count);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
