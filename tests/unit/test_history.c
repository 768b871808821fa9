/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * How warm the part was: readings, shelters, caps and the station, one sentence a test. The pad is
 * poured at midnight on Monday 5 January; what its build-on clock has earned shows which figure
 * ruled: an hour at 20 degC earns 1, at 15 0.75, at 10 0.5, at 5 0.25.
 */
#include "clock_case.h"

#define MONDAY POUR("2026-01-05T00:00")
#define ROOM_ON CLOSE("pad", "room", "2026-01-05T00:00")
#define BLANKET_ON CLOSE("pad", "blanket", "2026-01-05T00:00")
#define NOTE_20 DEGC("pad", "thermostat", 20, "2026-01-05T00:00")
#define PROBE_20 DEGC("pad", "probe", 20, "2026-01-05T00:00")

static void earned(const struct job_plan *plan, double warm_h)
{
    ck_have(plan, CLOCK_PAD_BUILD_ON, warm_h);
}

/* --- in the open ------------------------------------------------------------------------------ */

START_TEST(a_reading_in_the_open_holds_six_hours_then_the_station_rules)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*10", .records = MONDAY PROBE_20),
           9);
}
END_TEST

START_TEST(before_the_first_reading_in_the_open_the_station_rules)
{
    earned(plan_told(.now = "2026-01-05T09:00", .observed = "24*10",
                     .records = MONDAY DEGC("pad", "probe", 20, "2026-01-05T03:00")),
           1.5 + 6);
}
END_TEST

START_TEST(readings_24_h_apart_are_a_pair_and_the_station_may_lower_it_after_6_h)
{
    earned(plan_told(.now = "2026-01-06T00:00", .observed = "24*10",
                     .records = MONDAY PROBE_20 DEGC("pad", "probe", 15, "2026-01-06T00:00")),
           6 * 0.75 + 18 * 0.5);
}
END_TEST

START_TEST(readings_24_h_and_a_minute_apart_are_no_pair_in_the_open)
{
    earned(plan_told(.now = "2026-01-06T00:01", .observed = "25*10",
                     .records = MONDAY PROBE_20 DEGC("pad", "probe", 15, "2026-01-06T00:01")),
           6 + 18 * 0.5 + 0.5 / 60);
}
END_TEST

START_TEST(a_pair_stands_alone_where_the_station_is_silent)
{
    earned(plan_told(.now = "2026-01-06T00:00", .observed = "6*10 18*null",
                     .records = MONDAY PROBE_20 DEGC("pad", "probe", 15, "2026-01-06T00:00")),
           24 * 0.75);
}
END_TEST

START_TEST(a_warmer_station_never_raises_a_pair)
{
    earned(plan_told(.now = "2026-01-06T00:00", .observed = "24*20",
                     .records = MONDAY PROBE_20 DEGC("pad", "probe", 15, "2026-01-06T00:00")),
           24 * 0.75);
}
END_TEST

START_TEST(air_in_the_open_is_never_above_the_station_of_the_instant)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "3*10 3*15",
                     .records = MONDAY DEGC("pad", "air", 20, "2026-01-05T00:00")),
           1.5 + 2.25);
}
END_TEST

START_TEST(a_probe_in_the_air_is_no_air_reading)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .records = MONDAY DEGC("air", "probe", 20, "2026-01-05T00:00")),
           6);
}
END_TEST

START_TEST(air_under_a_roof_of_its_own_does_not_ask_the_station)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .records = MONDAY BLANKET_ON DEGC("pad", "air", 20, "2026-01-05T00:00")),
           6);
}
END_TEST

START_TEST(readings_of_one_instant_are_air_only_if_all_of_them_are)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .records = MONDAY PROBE_20 DEGC("pad", "air", 20, "2026-01-05T00:00")),
           6);
}
END_TEST

START_TEST(one_air_reading_of_a_pair_lets_the_station_lower_the_first_6_h)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .records = MONDAY PROBE_20 DEGC("pad", "air", 20, "2026-01-05T06:00")),
           3);
}
END_TEST

START_TEST(indoor_alone_is_the_open)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10", .records = MONDAY), 3);
}
END_TEST

START_TEST(the_site_offset_is_added_to_every_station_hour)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .more = ",\"site_offset_degf\":-9", .records = MONDAY),
           1.5);
}
END_TEST

/* --- the station as seen at now --------------------------------------------------------------- */

START_TEST(a_past_hour_is_observed_or_missing_whatever_was_forecast)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "3*10 3*null 6*10", .forecast = "24*20",
                     .forecast_from = "2026-01-05T00:00", .records = MONDAY),
           4.5);
}
END_TEST

START_TEST(the_hour_that_holds_now_is_observed_if_there_is_a_figure)
{
    earned(plan_told(.now = "2026-01-05T12:30", .observed = "13*10", .forecast = "24*20",
                     .forecast_from = "2026-01-05T00:00", .records = MONDAY),
           6.25);
}
END_TEST

START_TEST(the_hour_that_holds_now_is_forecast_if_nothing_was_observed)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:30", .observed = "12*10 1*null", .forecast = "48*15",
                  .forecast_from = "2026-01-05T00:00", .records = MONDAY);
    earned(plan, 6.375);
}
END_TEST

START_TEST(an_hour_after_now_is_never_observed)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .observed = "72*10", .records = MONDAY);
    earned(plan, 6);
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "none");
}
END_TEST

START_TEST(a_missing_forecast_hour_earns_nothing_and_the_end_of_it_ends_a_set_clock)
{
    const char *obs = "12*20";
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = obs,
                                      .forecast = "6*20 3*null 6*20", .records = MONDAY);
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 03:00");
    plan = plan_told(.now = "2026-01-05T12:00", .observed = obs, .forecast = "6*20 3*null 5*20",
                     .records = MONDAY);
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "none");
}
END_TEST

START_TEST(after_now_the_last_reading_runs_out_its_6_h_then_the_forecast_rules)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .observed = "12*20", .forecast = "48*10",
                  .records = MONDAY DEGC("pad", "probe", 20, "2026-01-05T10:00"));
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 08:00"); /* 12 + 4 at 16:00, 8 at half */
}
END_TEST

/* --- figures ---------------------------------------------------------------------------------- */

START_TEST(the_figure_of_a_reading_is_the_lowest_within_the_hour_up_to_it)
{
    earned(plan_told(.now = "2026-01-05T08:00",
                     .records = MONDAY ROOM_ON PROBE_20 DEGC("pad", "probe", 10, "2026-01-05T01:00")
                         DEGC("pad", "probe", 20, "2026-01-05T02:00")),
           4);
}
END_TEST

START_TEST(a_reading_more_than_an_hour_before_does_not_lower_the_figure)
{
    earned(plan_told(.now = "2026-01-05T08:00",
                     .records = MONDAY ROOM_ON PROBE_20 DEGC("pad", "probe", 10, "2026-01-05T00:59")
                         DEGC("pad", "probe", 20, "2026-01-05T02:00")),
           2 * 0.5 + 6);
}
END_TEST

START_TEST(a_reading_of_another_stay_does_not_lower_the_figure)
{
    earned(plan_told(.now = "2026-01-05T08:00", .observed = "24*10",
                     .records = MONDAY DEGC("pad", "probe", 10, "2026-01-05T00:30")
                         CLOSE("pad", "blanket", "2026-01-05T00:40")
                             DEGC("pad", "probe", 20, "2026-01-05T01:00")),
           (40.0 / 60) * 0.5 + 7);
}
END_TEST

START_TEST(readings_more_than_8_f_apart_within_the_hour_disagree)
{
    const char *now = "2026-01-05T03:00";
    struct job_plan *plan =
        plan_told(.now = now, .records = MONDAY ROOM_ON DEGF("pad", "probe", 50, "2026-01-05T00:00")
                                  DEGF("pad", "surface", 58, "2026-01-05T01:00"));
    ck_assert(!warned(plan, CAUTION_READINGS_DISAGREE));
    plan =
        plan_told(.now = now, .records = MONDAY ROOM_ON DEGF("pad", "probe", 50, "2026-01-05T00:00")
                                  DEGF("pad", "surface", 58.5, "2026-01-05T01:00"));
    ck_assert(warned(plan, CAUTION_READINGS_DISAGREE));
    plan =
        plan_told(.now = now, .records = MONDAY ROOM_ON DEGF("pad", "probe", 50, "2026-01-05T00:00")
                                  DEGF("pad", "surface", 58.5, "2026-01-05T01:01"));
    ck_assert(!warned(plan, CAUTION_READINGS_DISAGREE));
}
END_TEST

/* --- stays ------------------------------------------------------------------------------------ */

START_TEST(a_reading_in_the_open_says_nothing_under_the_blanket)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*10",
                     .records = MONDAY PROBE_20 CLOSE("pad", "blanket", "2026-01-05T04:00")),
           4);
}
END_TEST

START_TEST(a_reading_at_the_instant_of_closing_belongs_inside_whatever_is_written_first)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*10",
                     .records = MONDAY PROBE_20 BLANKET_ON),
           12);
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*10",
                     .records = MONDAY BLANKET_ON PROBE_20),
           12);
}
END_TEST

START_TEST(a_reading_at_the_instant_of_opening_belongs_outside)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*10",
                     .records = MONDAY BLANKET_ON DEGC("pad", "probe", 20, "2026-01-05T02:00")
                         OPEN_UP("pad", "2026-01-05T02:00")),
           6 + 4 * 0.5);
}
END_TEST

START_TEST(an_enclosure_over_a_blanket_is_a_room_and_taking_it_off_leaves_the_blanket)
{
    /* in a room a thermostat note holds 7 days, under a blanket 24 h */
    earned(plan_told(.now = "2026-01-07T00:00",
                     .records =
                         MONDAY BLANKET_ON CLOSE("pad", "enclosure", "2026-01-05T00:00") NOTE_20),
           48);
    earned(plan_told(.now = "2026-01-07T00:00",
                     .records = MONDAY BLANKET_ON CLOSE("pad", "enclosure", "2026-01-05T00:00")
                         TAKE_OFF("pad", "enclosure", "2026-01-05T00:00") NOTE_20),
           24);
}
END_TEST

START_TEST(a_second_shelter_of_the_same_kind_of_place_is_no_new_stay)
{
    earned(plan_told(.now = "2026-01-05T12:00", .records = MONDAY ROOM_ON PROBE_20 CLOSE(
                                                    "pad", "enclosure", "2026-01-05T04:00")),
           12);
}
END_TEST

START_TEST(opened_without_how_takes_every_shelter_away)
{
    earned(
        plan_told(.now = "2026-01-05T08:00", .observed = "24*10",
                  .records = MONDAY BLANKET_ON ROOM_ON PROBE_20 OPEN_UP("pad", "2026-01-05T04:00")),
        4 + 4 * 0.5);
}
END_TEST

/* --- closed places ---------------------------------------------------------------------------- */

START_TEST(in_a_closed_place_the_station_never_fills_in)
{
    earned(plan_told(.now = "2026-01-05T12:00", .observed = "24*20",
                     .records = MONDAY ROOM_ON DEGC("pad", "probe", 20, "2026-01-05T06:00")),
           6);
}
END_TEST

START_TEST(a_reading_in_a_closed_place_holds_24_h_then_there_is_none)
{
    earned(plan_told(.now = "2026-01-06T06:00", .records = MONDAY BLANKET_ON PROBE_20), 24);
    earned(plan_told(.now = "2026-01-06T06:00", .records = MONDAY ROOM_ON PROBE_20), 24);
}
END_TEST

START_TEST(a_thermostat_note_in_a_room_holds_7_days_and_under_a_blanket_24_h)
{
    earned(plan_told(.now = "2026-01-13T00:00", .records = MONDAY ROOM_ON NOTE_20), 168);
    earned(plan_told(.now = "2026-01-13T00:00", .records = MONDAY BLANKET_ON NOTE_20), 24);
}
END_TEST

START_TEST(a_note_beside_a_probe_of_the_same_instant_is_no_note)
{
    earned(plan_told(.now = "2026-01-07T00:00", .records = MONDAY ROOM_ON NOTE_20 PROBE_20), 24);
}
END_TEST

START_TEST(closed_readings_up_to_24_h_apart_bridge_at_the_lower)
{
    earned(plan_told(.now = "2026-01-06T00:00", .records = MONDAY BLANKET_ON PROBE_20 DEGC(
                                                    "pad", "probe", 15, "2026-01-06T00:00")),
           18);
}
END_TEST

START_TEST(closed_readings_up_to_72_h_apart_bridge_at_the_lower_less_3_f)
{
    const double rate = (15 - 3 / 1.8) / 20;
    earned(plan_told(.now = "2026-01-06T00:01", .records = MONDAY BLANKET_ON PROBE_20 DEGC(
                                                    "pad", "probe", 15, "2026-01-06T00:01")),
           rate * (24 + 1.0 / 60));
    earned(plan_told(.now = "2026-01-08T00:00", .records = MONDAY ROOM_ON PROBE_20 DEGC(
                                                    "pad", "probe", 15, "2026-01-08T00:00")),
           rate * 72);
    earned(plan_told(.now = "2026-01-08T00:01", .records = MONDAY ROOM_ON PROBE_20 DEGC(
                                                    "pad", "probe", 15, "2026-01-08T00:01")),
           24);
}
END_TEST

START_TEST(two_thermostat_notes_in_a_room_bridge_7_days)
{
    earned(plan_told(.now = "2026-01-12T00:00", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                    "pad", "thermostat", 15, "2026-01-12T00:00")),
           126);
    earned(plan_told(.now = "2026-01-12T00:01", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                    "pad", "thermostat", 15, "2026-01-12T00:01")),
           168);
    earned(plan_told(.now = "2026-01-12T00:00", .records = MONDAY BLANKET_ON NOTE_20 DEGC(
                                                    "pad", "thermostat", 15, "2026-01-12T00:00")),
           24);
}
END_TEST

START_TEST(a_note_with_a_probe_next_is_an_ordinary_reading)
{
    earned(plan_told(.now = "2026-01-09T00:00", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                    "pad", "probe", 20, "2026-01-09T00:00")),
           24);
    earned(plan_told(.now = "2026-01-07T00:00", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                    "pad", "probe", 20, "2026-01-07T00:00")),
           48 * (20 - 3 / 1.8) / 20);
}
END_TEST

START_TEST(the_frost_test_reads_a_bridge_without_the_3_f)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-07T00:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "probe", 33, "2026-01-05T00:00")
                      DEGF("pad", "probe", 33, "2026-01-07T00:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "running");
    plan = plan_told(.now = "2026-01-07T00:00",
                     .records = MONDAY ROOM_ON DEGF("pad", "probe", 33, "2026-01-05T00:00")
                         DEGF("pad", "probe", 31.9, "2026-01-07T00:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "check-it");
}
END_TEST

START_TEST(a_room_carries_its_last_reading_forward_however_old)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-09T04:00",
                  .records = MONDAY ROOM_ON DEGC("pad", "probe", 10, "2026-01-05T00:00"));
    earned(plan, 12);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-10 04:00");
    ck_assert_uint_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->assumes, ASSUME_LAST_READING);
}
END_TEST

START_TEST(a_blanket_carries_24_h_then_at_most_10_f_over_the_forecast)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .forecast = "96*5",
                                      .records = MONDAY BLANKET_ON PROBE_20);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-07 21:28"); /* 24 h at (5 + 10 / 1.8) / 20 */
    plan = plan_told(.now = "2026-01-05T12:00", .records = MONDAY BLANKET_ON PROBE_20);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "none");
}
END_TEST

START_TEST(a_blanket_is_never_warmer_than_its_last_reading)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .forecast = "96*20",
                  .records = MONDAY BLANKET_ON DEGC("pad", "probe", 10, "2026-01-05T00:00"));
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
}
END_TEST

START_TEST(a_stay_never_read_has_no_opening_time_and_says_so)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "24*20",
                                      .forecast = "96*20", .records = MONDAY ROOM_ON);
    earned(plan, 0);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "none");
    ck_assert(warned(plan, CAUTION_NO_READING));
}
END_TEST

START_TEST(a_stay_read_before_and_a_new_one_not_read_has_no_opening_time)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .forecast = "96*20",
                  .records = MONDAY BLANKET_ON PROBE_20 CLOSE("pad", "room", "2026-01-05T05:00"));
    earned(plan, 5);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "none");
    ck_assert(warned(plan, CAUTION_NO_READING));
}
END_TEST

/* --- caps ------------------------------------------------------------------------------------- */

START_TEST(the_lowest_caps_back_to_the_reading_or_cap_before_it)
{
    earned(plan_told(.now = "2026-01-05T09:00",
                     .records = MONDAY ROOM_ON NOTE_20 DEGC("pad", "lowest", 10, "2026-01-05T05:00")
                         DEGC("pad", "lowest", 15, "2026-01-05T08:00")),
           5 * 0.5 + 3 * 0.75 + 1);
}
END_TEST

START_TEST(the_lowest_caps_at_most_24_h)
{
    earned(plan_told(.now = "2026-01-06T06:00", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                    "pad", "lowest", 10, "2026-01-06T06:00")),
           6 + 12);
}
END_TEST

START_TEST(the_lowest_taken_with_a_reading_caps_back_to_the_one_before_both)
{
    earned(plan_told(.now = "2026-01-05T08:00",
                     .records = MONDAY ROOM_ON NOTE_20 DEGC("pad", "probe", 20, "2026-01-05T08:00")
                         DEGC("pad", "lowest", 10, "2026-01-05T08:00")),
           4);
}
END_TEST

START_TEST(an_impression_caps_6_h_either_side_over_the_border_of_a_stay)
{
    earned(plan_told(.now = "2026-01-05T16:00", .observed = "24*20",
                     .records =
                         MONDAY ROOM_ON NOTE_20 DEGC("pad", "impression", 10, "2026-01-05T09:00")
                             OPEN_UP("pad", "2026-01-05T10:00")
                                 DEGC("pad", "probe", 20, "2026-01-05T10:00")),
           3 + 12 * 0.5 + 1);
}
END_TEST

START_TEST(an_impression_reaches_into_the_hours_after_now)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T20:00", .records = MONDAY ROOM_ON NOTE_20 DEGC(
                                                 "pad", "impression", 10, "2026-01-05T20:00"));
    earned(plan, 14 + 3);
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 06:00"); /* 17 + 6 at half + 4 */
}
END_TEST

START_TEST(a_cap_never_earns_and_is_no_reading)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00",
                  .records = MONDAY ROOM_ON DEGC("pad", "lowest", 20, "2026-01-05T12:00"));
    earned(plan, 0);
    ck_assert(warned(plan, CAUTION_NO_READING));
}
END_TEST

START_TEST(a_warm_cap_raises_nothing)
{
    earned(plan_told(.now = "2026-01-05T06:00", .observed = "6*10",
                     .records = MONDAY DEGC("pad", "impression", 20, "2026-01-05T03:00")),
           3);
}
END_TEST

/* --- which readings --------------------------------------------------------------------------- */

START_TEST(a_part_without_a_reading_uses_the_air_and_the_caps_of_both)
{
    earned(plan_told(.now = "2026-01-05T09:00",
                     .records = MONDAY ROOM_ON DEGC("air", "probe", 20, "2026-01-05T00:00")
                         DEGC("pad", "lowest", 10, "2026-01-05T03:00")
                             DEGC("air", "lowest", 15, "2026-01-05T06:00")),
           1.5 + 2.25 + 3);
}
END_TEST

START_TEST(a_part_with_a_reading_of_its_own_hears_nothing_of_the_air)
{
    earned(plan_told(.now = "2026-01-05T06:00",
                     .records = MONDAY ROOM_ON PROBE_20 DEGC("air", "probe", 5, "2026-01-05T00:00")
                         DEGC("air", "lowest", 5, "2026-01-05T06:00")),
           6);
}
END_TEST

START_TEST(a_first_own_reading_takes_the_air_away_from_the_hours_before_it)
{
    earned(plan_told(.now = "2026-01-05T06:00",
                     .records = MONDAY ROOM_ON DEGC("air", "probe", 20, "2026-01-05T00:00")
                         DEGC("pad", "probe", 20, "2026-01-05T04:00")),
           2);
}
END_TEST

#define JOINTS WORK("box-courses", "2026-01-05T00:00")
#define UNIT_ROOM                                                                                  \
    CLOSE("unit", "room", "2026-01-05T00:00")                                                      \
    DEGC("unit", "thermostat", 20, "2026-01-05T00:00")

START_TEST(joints_without_a_record_of_their_own_live_as_the_unit)
{
    ck_have(plan_told(.now = "2026-01-05T06:00", .records = JOINTS UNIT_ROOM), CLOCK_JOINTS_EARLY,
            6);
}
END_TEST

START_TEST(joints_with_a_shelter_of_their_own_leave_the_unit)
{
    ck_have(plan_told(.now = "2026-01-05T06:00",
                      .records = JOINTS UNIT_ROOM CLOSE("joints", "blanket", "2026-01-05T00:00")),
            CLOCK_JOINTS_EARLY, 0);
}
END_TEST

START_TEST(joints_with_a_reading_of_their_own_leave_the_unit)
{
    /* in the open: 6 h, and no station */
    ck_have(plan_told(.now = "2026-01-05T12:00", .no_station = true,
                      .records = JOINTS UNIT_ROOM DEGC("joints", "probe", 20, "2026-01-05T00:00")),
            CLOCK_JOINTS_EARLY, 6);
}
END_TEST

/* --- which records ---------------------------------------------------------------------------- */

START_TEST(a_reading_handed_in_late_is_filed_when_it_was_taken)
{
    earned(
        plan_told(.now = "2026-01-05T08:00",
                  .records = MONDAY DEGC("pad", "probe", 15, "2026-01-05T08:00") PROBE_20 ROOM_ON),
        6);
}
END_TEST

START_TEST(a_record_after_now_does_not_count)
{
    earned(plan_told(.now = "2026-01-05T06:00", .records = MONDAY ROOM_ON PROBE_20 DEGC(
                                                    "pad", "probe", 5, "2026-01-05T06:01")),
           6);
}
END_TEST

#define CORRECTS(id, with, at) WITH("corrected", "\"corrects\":\"" id "\",\"with\":" with, at)

START_TEST(a_withdrawn_reading_was_never_taken)
{
    earned(plan_told(.now = "2026-01-05T06:00",
                     .records = MONDAY ROOM_ON PROBE_20 DEGC("pad", "probe", 5, "2026-01-05T02:00")
                         CORRECTS("r3", "null", "2026-01-05T05:00")),
           6);
}
END_TEST

START_TEST(a_correction_that_is_withdrawn_leaves_the_first_word)
{
    earned(plan_told(.now = "2026-01-05T06:00",
                     .records = MONDAY ROOM_ON PROBE_20 CORRECTS("r2", "null", "2026-01-05T02:00")
                         CORRECTS("r3", "null", "2026-01-05T03:00")),
           6);
}
END_TEST

START_TEST(the_later_of_two_corrections_stands)
{
    earned(
        plan_told(.now = "2026-01-05T06:00",
                  .records = MONDAY ROOM_ON PROBE_20 CORRECTS(
                      "r2", "null", "2026-01-05T02:00") "{\"kind\":\"corrected\",\"corrects\":"
                                                        "\"r2\",\"with\":" DEGC("pad", "probe", 10,
                                                                                "2026-01-05T00:00")
                                                            Z("2026-01-05T03:00")),
        3);
}
END_TEST

START_TEST(a_correction_after_now_changes_nothing_yet)
{
    earned(plan_told(.now = "2026-01-05T06:00",
                     .records = MONDAY ROOM_ON PROBE_20 CORRECTS("r2", "null", "2026-01-05T06:01")),
           6);
}
END_TEST

START_TEST(a_withdrawn_pour_starts_no_clock)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T06:00",
                  .records = MONDAY ROOM_ON PROBE_20 CORRECTS("r0", "null", "2026-01-05T05:00"));
    ck_assert(!has_clock(plan, CLOCK_PAD_BUILD_ON));
}
END_TEST

START_TEST(a_second_pour_governs_and_withdrawing_it_gives_the_first_back)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T06:00",
                                      .records = MONDAY ROOM_ON PROBE_20 POUR("2026-01-05T04:00"));
    earned(plan, 2);
    plan = plan_told(.now = "2026-01-05T06:00", .records =
                                                    MONDAY ROOM_ON PROBE_20 POUR("2026-01-05T04:00")
                                                        CORRECTS("r3", "null", "2026-01-05T05:00"));
    earned(plan, 6);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_reading_in_the_open_holds_six_hours_then_the_station_rules,
        before_the_first_reading_in_the_open_the_station_rules,
        readings_24_h_apart_are_a_pair_and_the_station_may_lower_it_after_6_h,
        readings_24_h_and_a_minute_apart_are_no_pair_in_the_open,
        a_pair_stands_alone_where_the_station_is_silent,
        a_warmer_station_never_raises_a_pair,
        air_in_the_open_is_never_above_the_station_of_the_instant,
        a_probe_in_the_air_is_no_air_reading,
        air_under_a_roof_of_its_own_does_not_ask_the_station,
        readings_of_one_instant_are_air_only_if_all_of_them_are,
        one_air_reading_of_a_pair_lets_the_station_lower_the_first_6_h,
        indoor_alone_is_the_open,
        the_site_offset_is_added_to_every_station_hour,
        a_past_hour_is_observed_or_missing_whatever_was_forecast,
        the_hour_that_holds_now_is_observed_if_there_is_a_figure,
        the_hour_that_holds_now_is_forecast_if_nothing_was_observed,
        an_hour_after_now_is_never_observed,
        a_missing_forecast_hour_earns_nothing_and_the_end_of_it_ends_a_set_clock,
        after_now_the_last_reading_runs_out_its_6_h_then_the_forecast_rules,
        the_figure_of_a_reading_is_the_lowest_within_the_hour_up_to_it,
        a_reading_more_than_an_hour_before_does_not_lower_the_figure,
        a_reading_of_another_stay_does_not_lower_the_figure,
        readings_more_than_8_f_apart_within_the_hour_disagree,
        a_reading_in_the_open_says_nothing_under_the_blanket,
        a_reading_at_the_instant_of_closing_belongs_inside_whatever_is_written_first,
        a_reading_at_the_instant_of_opening_belongs_outside,
        an_enclosure_over_a_blanket_is_a_room_and_taking_it_off_leaves_the_blanket,
        a_second_shelter_of_the_same_kind_of_place_is_no_new_stay,
        opened_without_how_takes_every_shelter_away,
        in_a_closed_place_the_station_never_fills_in,
        a_reading_in_a_closed_place_holds_24_h_then_there_is_none,
        a_thermostat_note_in_a_room_holds_7_days_and_under_a_blanket_24_h,
        a_note_beside_a_probe_of_the_same_instant_is_no_note,
        closed_readings_up_to_24_h_apart_bridge_at_the_lower,
        closed_readings_up_to_72_h_apart_bridge_at_the_lower_less_3_f,
        two_thermostat_notes_in_a_room_bridge_7_days,
        a_note_with_a_probe_next_is_an_ordinary_reading,
        the_frost_test_reads_a_bridge_without_the_3_f,
        a_room_carries_its_last_reading_forward_however_old,
        a_blanket_carries_24_h_then_at_most_10_f_over_the_forecast,
        a_blanket_is_never_warmer_than_its_last_reading,
        a_stay_never_read_has_no_opening_time_and_says_so,
        a_stay_read_before_and_a_new_one_not_read_has_no_opening_time,
        the_lowest_caps_back_to_the_reading_or_cap_before_it,
        the_lowest_caps_at_most_24_h,
        the_lowest_taken_with_a_reading_caps_back_to_the_one_before_both,
        an_impression_caps_6_h_either_side_over_the_border_of_a_stay,
        an_impression_reaches_into_the_hours_after_now,
        a_cap_never_earns_and_is_no_reading,
        a_warm_cap_raises_nothing,
        a_part_without_a_reading_uses_the_air_and_the_caps_of_both,
        a_part_with_a_reading_of_its_own_hears_nothing_of_the_air,
        a_first_own_reading_takes_the_air_away_from_the_hours_before_it,
        joints_without_a_record_of_their_own_live_as_the_unit,
        joints_with_a_shelter_of_their_own_leave_the_unit,
        joints_with_a_reading_of_their_own_leave_the_unit,
        a_reading_handed_in_late_is_filed_when_it_was_taken,
        a_record_after_now_does_not_count,
        a_withdrawn_reading_was_never_taken,
        a_correction_that_is_withdrawn_leaves_the_first_word,
        the_later_of_two_corrections_stands,
        a_correction_after_now_changes_nothing_yet,
        a_withdrawn_pour_starts_no_clock,
        a_second_pour_governs_and_withdrawing_it_gives_the_first_back,
    };
    return case_run("history", tests, sizeof tests / sizeof *tests);
}
