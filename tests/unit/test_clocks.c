/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * Clocks of warm hours: floors, targets, frost and soaking, looks, redo, who may change a number,
 * mortar and its bag. Poured at midnight on Monday 5 January in a room at 20 degC unless a test
 * says otherwise, so that an hour earns one.
 */
#include "clock_case.h"

#define MONDAY POUR("2026-01-05T00:00")
#define ROOM_ON CLOSE("pad", "room", "2026-01-05T00:00")
#define NOTE(degc) DEGC("pad", "thermostat", degc, "2026-01-05T00:00")
#define WARM MONDAY ROOM_ON NOTE(20)
#define COOL MONDAY ROOM_ON NOTE(10) /* half an hour an hour */

/* --- the table -------------------------------------------------------------------------------- */

START_TEST(each_pad_clock_on_the_ground_opens_at_its_floor_and_target)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T01:00", .records = WARM);
    ck_cross(plan, CLOCK_PAD_STRIP, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-07 00:00");
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-19 00:00");
    ck_assert(!has_clock(plan, CLOCK_PAD_MOIST_CURE));
}
END_TEST

START_TEST(each_pad_clock_in_the_cool_opens_at_its_target)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T01:00", .records = COOL);
    ck_cross(plan, CLOCK_PAD_STRIP, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-07 00:00");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-09 00:00");
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-19 00:00");
}
END_TEST

START_TEST(over_a_void_the_pad_waits_48_and_168_and_propped_72)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .options = OVER_A_VOID, .records = WARM);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-12 00:00");
    plan = plan_told(.now = "2026-01-05T01:00", .options = OVER_A_VOID ",\"propped\":true",
                     .records = WARM);
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-08 00:00");
}
END_TEST

START_TEST(the_facing_waits_for_84_warm_hours_after_14_days)
{
    /* 41 F earns a quarter: 84 warm hours after 336 h exactly; 40.9 F a little later */
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 41, "2026-01-05T00:00"));
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-19 00:00");
    plan = plan_told(.now = "2026-01-05T01:00",
                     .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 40.1, "2026-01-05T00:00"));
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-20 13:20"); /* 84 / 0.225 = 373 1/3 h */
}
END_TEST

START_TEST(forty_degrees_earn_and_a_little_less_earns_nothing)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T09:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 40, "2026-01-05T00:00"));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 2);
    plan = plan_told(.now = "2026-01-05T09:00",
                     .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 39.9, "2026-01-05T00:00"));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 0);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "none");
}
END_TEST

START_TEST(no_hour_earns_more_than_one)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T06:00", .records = MONDAY ROOM_ON NOTE(35));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 30);
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "open");
}
END_TEST

START_TEST(a_clock_opens_at_the_instant_both_hold_and_have_runs_on)
{
    ck_clock(plan_told(.now = "2026-01-05T23:59", .records = WARM), CLOCK_PAD_BUILD_ON, "running");
    struct job_plan *plan = plan_told(.now = "2026-01-06T00:00", .records = WARM);
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "open");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 24);
}
END_TEST

START_TEST(opens_is_the_next_whole_hour_of_the_wall_clock_and_a_whole_hour_stays)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .records = POUR("2026-01-05T00:20") ROOM_ON NOTE(20));
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:20");
    ck_opens(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 01:00");
    ck_opens(plan_told(.now = "2026-01-05T01:00", .records = WARM), CLOCK_PAD_BUILD_ON,
             "2026-01-06 00:00");
}
END_TEST

START_TEST(the_wall_clock_of_a_half_hour_zone_rules_the_rounding)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .zone = "Asia/Kolkata", .records = WARM);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 05:30");
    ck_opens(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 06:00");
    plan = plan_told(.now = "2026-01-05T01:00", .zone = "Asia/Kathmandu", .records = WARM);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 05:45");
    ck_opens(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 06:00");
}
END_TEST

START_TEST(a_floor_is_elapsed_time_across_a_clock_change)
{
    struct job_plan *plan =
        plan_told(.now = "2026-03-07T20:00", .zone = "America/Denver",
                  .records = POUR("2026-03-07T19:00") CLOSE("pad", "room", "2026-03-07T19:00")
                      DEGC("pad", "thermostat", 20, "2026-03-07T19:00"));
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-03-08 13:00"); /* poured at 12:00 by the wall */
}
END_TEST

/* --- numbers that somebody changed ------------------------------------------------------------ */

START_TEST(a_blended_mix_takes_half_as_much_again_of_every_target_and_no_floor)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T01:00",
                                      .options = INDOOR ",\"mix\":\"blended\"", .records = WARM);
    ck_cross(plan, CLOCK_PAD_STRIP, "2026-01-06 00:00");
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 12:00");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 12:00");
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-08 00:00");
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_FACING_READY)->need, 126);
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->floor_h, 24);
}
END_TEST

#define TOWN(h) INDOOR ",\"town\":{\"build_on_floor_h\":" #h "}"

START_TEST(a_town_lengthens_the_build_on_floor_and_never_shortens_it)
{
    ck_cross(plan_told(.now = "2026-01-05T01:00", .options = TOWN(36), .records = WARM),
             CLOCK_PAD_BUILD_ON, "2026-01-06 12:00");
    ck_cross(plan_told(.now = "2026-01-05T01:00", .options = TOWN(12), .records = WARM),
             CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
}
END_TEST

START_TEST(an_override_lengthens_and_a_shorter_one_is_passed_over)
{
    ck_cross(
        plan_told(.now = "2026-01-05T01:00",
                  .records = WARM OVERRIDDEN("pad.build-on", "\"floor_h\":36", "2026-01-05T00:30")),
        CLOCK_PAD_BUILD_ON, "2026-01-06 12:00");
    ck_cross(
        plan_told(.now = "2026-01-05T01:00",
                  .records = WARM OVERRIDDEN("pad.build-on", "\"need\":40", "2026-01-05T00:30")),
        CLOCK_PAD_BUILD_ON, "2026-01-06 16:00");
    ck_cross(plan_told(.now = "2026-01-05T01:00",
                       .records = WARM OVERRIDDEN("pad.build-on", "\"floor_h\":1,\"need\":1",
                                                  "2026-01-05T00:30")),
             CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
}
END_TEST

START_TEST(of_several_overrides_the_longest_stands)
{
    ck_cross(plan_told(.now = "2026-01-05T01:00",
                       .records =
                           WARM OVERRIDDEN("pad.build-on", "\"floor_h\":48", "2026-01-05T00:30")
                               OVERRIDDEN("pad.build-on", "\"floor_h\":36", "2026-01-05T00:40")),
             CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
}
END_TEST

START_TEST(an_engineer_replaces_house_rules_shorter_or_longer)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .options = OVER_A_VOID,
                  .records = WARM ENGINEER("pad.chimney-load", "\"floor_h\":60,\"need\":50",
                                           "2026-01-05T00:30"));
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-07 12:00");
    plan = plan_told(.now = "2026-01-05T01:00",
                     .records =
                         WARM ENGINEER("pad.chimney-load", "\"floor_h\":240", "2026-01-05T00:30"));
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-15 00:00");
}
END_TEST

START_TEST(an_engineer_never_replaces_a_figure_of_common_practice)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00",
                  .records = WARM ENGINEER("pad.build-on", "\"floor_h\":12,\"need\":10",
                                           "2026-01-05T00:30"));
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->floor_h, 24);
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->need, 10);
}
END_TEST

START_TEST(an_override_comes_after_the_engineer)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .options = OVER_A_VOID,
                  .records =
                      WARM OVERRIDDEN("pad.chimney-load", "\"floor_h\":100", "2026-01-05T00:20")
                          ENGINEER("pad.chimney-load", "\"floor_h\":60,\"need\":50",
                                   "2026-01-05T00:30"));
    ck_cross(plan, CLOCK_PAD_CHIMNEY_LOAD, "2026-01-09 04:00");
}
END_TEST

START_TEST(an_engineer_comes_after_the_mix)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .options = INDOOR ",\"mix\":\"blended\"",
                  .records = WARM ENGINEER("pad.chimney-load", "\"need\":50", "2026-01-05T00:30"));
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_CHIMNEY_LOAD)->need, 50);
}
END_TEST

START_TEST(accepted_opens_a_clock_whose_floor_has_run_and_is_marked)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-07T00:00", .no_station = true,
                  .records = MONDAY ACCEPTED("pad.build-on", "2026-01-06T12:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "open");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 12:00");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 0);
    ck_assert_ptr_nonnull(clock_in(plan, CLOCK_PAD_BUILD_ON)->accepted);
    ck_assert(warned(plan, CAUTION_ACCEPTED_WITHOUT_READINGS));
}
END_TEST

START_TEST(accepted_before_the_floor_waits_for_the_floor)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .no_station = true,
                  .records = MONDAY ACCEPTED("pad.build-on", "2026-01-05T06:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "running");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
}
END_TEST

START_TEST(accepted_opens_no_clock_that_has_to_be_looked_at)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-07T00:00", .observed = "48*-1",
                  .records = MONDAY ACCEPTED("pad.build-on", "2026-01-06T12:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "check-it");
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "none");
}
END_TEST

START_TEST(the_latest_of_two_pours_governs)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T12:00", .records = WARM POUR("2026-01-06T00:00"));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 12);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
}
END_TEST

/* --- first frost ------------------------------------------------------------------------------ */

#define PAD_IDS                                                                                    \
    CLOCK_PAD_STRIP, CLOCK_PAD_FIRST_FROST, CLOCK_PAD_BUILD_ON, CLOCK_PAD_CHIMNEY_LOAD,            \
        CLOCK_PAD_FACING_READY

static void every_pad_clock(const struct job_plan *plan, const char *state)
{
    static const enum clock_id ids[] = {PAD_IDS};
    for (size_t i = 0; i < sizeof ids / sizeof *ids; i++) ck_clock(plan, ids[i], state);
}

START_TEST(thirty_two_is_no_frost_and_anything_below_stops_every_pad_clock)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .observed = "6*10 6*0", .records = MONDAY);
    every_pad_clock(plan, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3);
    plan =
        plan_told(.now = "2026-01-05T12:00", .observed = "6*10 1*-0.1 5*10",
                  .records = MONDAY WITH("wet-cover-on", "\"part\":\"pad\"", "2026-01-05T00:00"));
    every_pad_clock(plan, "check-it");
    ck_clock(plan, CLOCK_PAD_MOIST_CURE, "check-it");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3);
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 6);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "none");
    ck_assert(warned(plan, CAUTION_FROZE_TOO_SOON));
}
END_TEST

START_TEST(a_frost_in_the_hour_of_the_pour_stops_and_one_before_it_does_not)
{
    every_pad_clock(plan_told(.now = "2026-01-05T12:00", .observed = "1*-1 11*10",
                              .records = POUR("2026-01-05T00:59")),
                    "check-it");
    every_pad_clock(plan_told(.now = "2026-01-05T12:00", .observed = "1*-1 11*10",
                              .records = POUR("2026-01-05T01:00")),
                    "running");
}
END_TEST

START_TEST(the_site_offset_makes_a_frost)
{
    every_pad_clock(plan_told(.now = "2026-01-05T12:00", .observed = "12*2",
                              .more = ",\"site_offset_degf\":-5", .records = MONDAY),
                    "check-it");
}
END_TEST

START_TEST(the_station_is_tested_in_the_open_whatever_the_probe_says)
{
    every_pad_clock(plan_told(.now = "2026-01-05T03:00", .observed = "2*10 1*-1",
                              .records = MONDAY DEGC("pad", "probe", 20, "2026-01-05T00:00")),
                    "check-it");
    every_pad_clock(plan_told(.now = "2026-01-05T03:00", .observed = "2*10 1*-1", .records = WARM),
                    "running");
}
END_TEST

START_TEST(a_cap_alone_is_tested_for_frost)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "impression", 31, "2026-01-05T10:00"));
    every_pad_clock(plan, "check-it");
    ck_assert_str_eq(wall(clock_in(plan, CLOCK_PAD_BUILD_ON)->stopped_s), "2026-01-05 04:00");
}
END_TEST

START_TEST(a_frost_after_24_warm_hours_stops_nothing)
{
    every_pad_clock(
        plan_told(.now = "2026-01-06T03:00", .observed = "23*20 4*-1", .records = MONDAY),
        "check-it");
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T03:00", .observed = "24*20 3*-1", .records = MONDAY);
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "open");
    ck_clock(plan, CLOCK_PAD_CHIMNEY_LOAD, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 24);
}
END_TEST

START_TEST(a_blended_pad_is_tested_for_frost_until_36)
{
    every_pad_clock(plan_told(.now = "2026-01-06T14:00", .options = INDOOR ",\"mix\":\"blended\"",
                              .observed = "35*20 3*-1", .records = MONDAY),
                    "check-it");
    ck_clock(plan_told(.now = "2026-01-06T14:00", .options = INDOOR ",\"mix\":\"blended\"",
                       .observed = "36*20 2*-1", .records = MONDAY),
             CLOCK_PAD_BUILD_ON, "open");
}
END_TEST

START_TEST(a_frost_still_to_come_is_a_caution_with_its_hour_and_stops_nothing)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "12*10",
                                      .forecast = "6*10 3*-1 96*20", .records = MONDAY);
    every_pad_clock(plan, "running");
    ck_cross(plan, CLOCK_PAD_FIRST_FROST, "2026-01-06 12:00"); /* 6 + 3 + 0 + 15 */
    bool said = false;
    for (size_t i = 0; i < plan->caution_count; i++)
        if (plan->cautions[i].caution == CAUTION_FROST_AHEAD) {
            ck_assert_str_eq(wall(plan->cautions[i].at_s), "2026-01-05 18:00");
            said = true;
        }
    ck_assert(said);
}
END_TEST

START_TEST(the_frost_of_the_present_hour_counts_up_to_now_only)
{
    every_pad_clock(
        plan_told(.now = "2026-01-05T12:00", .observed = "12*10 1*-1", .records = MONDAY),
        "running");
    every_pad_clock(
        plan_told(.now = "2026-01-05T12:01", .observed = "12*10 1*-1", .records = MONDAY),
        "check-it");
}
END_TEST

START_TEST(a_look_lets_the_clocks_go_on_from_the_look)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                                      .records = MONDAY LOOK("pad", "2026-01-05T10:00"));
    every_pad_clock(plan, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3 + 5);
}
END_TEST

START_TEST(a_look_at_the_instant_of_the_frost_came_too_early)
{
    every_pad_clock(plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                              .records = MONDAY LOOK("pad", "2026-01-05T06:00")),
                    "check-it");
}
END_TEST

START_TEST(a_look_while_it_still_freezes_stops_at_once_again)
{
    const char *hours = "6*10 3*-1 11*10";
    struct job_plan *plan = plan_told(.now = "2026-01-05T20:00", .observed = hours,
                                      .records = MONDAY LOOK("pad", "2026-01-05T07:30"));
    every_pad_clock(plan, "check-it");
    plan = plan_told(.now = "2026-01-05T20:00", .observed = hours,
                     .records =
                         MONDAY LOOK("pad", "2026-01-05T07:30") LOOK("pad", "2026-01-05T12:00"));
    every_pad_clock(plan, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3 + 4);
}
END_TEST

START_TEST(each_frost_before_the_limit_needs_a_look_of_its_own)
{
    const char *hours = "6*10 1*-1 6*10 1*-1 10*10";
    struct job_plan *plan = plan_told(.now = "2026-01-06T00:00", .observed = hours,
                                      .records = MONDAY LOOK("pad", "2026-01-05T08:00"));
    every_pad_clock(plan, "check-it");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3 + 2.5);
    plan = plan_told(.now = "2026-01-06T00:00", .observed = hours,
                     .records =
                         MONDAY LOOK("pad", "2026-01-05T08:00") LOOK("pad", "2026-01-05T15:00"));
    every_pad_clock(plan, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 3 + 2.5 + 4.5);
}
END_TEST

START_TEST(a_look_at_another_part_starts_nothing)
{
    every_pad_clock(plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                              .records = MONDAY LOOK("unit", "2026-01-05T10:00")),
                    "check-it");
}
END_TEST

START_TEST(the_warm_hours_since_the_pour_count_on_over_a_look)
{
    /* 20 before the frost, 4 after the look: the second frost comes at the limit */
    struct job_plan *plan = plan_told(.now = "2026-01-06T06:00", .observed = "20*20 1*-1 5*20 4*-1",
                                      .records = MONDAY LOOK("pad", "2026-01-05T22:00"));
    ck_clock(plan, CLOCK_PAD_CHIMNEY_LOAD, "running");
    ck_have(plan, CLOCK_PAD_CHIMNEY_LOAD, 24);
}
END_TEST

START_TEST(a_withdrawn_look_was_none)
{
    every_pad_clock(
        plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                  .records = MONDAY LOOK("pad", "2026-01-05T10:00")
                      WITH("corrected", "\"corrects\":\"r1\",\"with\":null", "2026-01-05T11:00")),
        "check-it");
}
END_TEST

START_TEST(a_soaking_stops_the_pad_strictly_after_the_pour_up_to_now)
{
    every_pad_clock(
        plan_told(.now = "2026-01-05T12:00", .records = WARM SOAKED("pad", "2026-01-05T00:00")),
        "running");
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .records = WARM SOAKED("pad", "2026-01-05T05:00"));
    every_pad_clock(plan, "check-it");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 5);
    ck_assert(warned(plan, CAUTION_SOAKED_GREEN_PAD));
    plan = plan_told(.now = "2026-01-05T12:00", .records = WARM SOAKED("pad", "2026-01-05T12:00"));
    every_pad_clock(plan, "check-it");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 12);
}
END_TEST

START_TEST(a_soaking_at_24_warm_hours_stops_nothing)
{
    ck_clock(
        plan_told(.now = "2026-01-06T02:00", .records = WARM SOAKED("pad", "2026-01-06T00:00")),
        CLOCK_PAD_CHIMNEY_LOAD, "running");
    ck_clock(
        plan_told(.now = "2026-01-06T02:00", .records = WARM SOAKED("pad", "2026-01-05T23:59")),
        CLOCK_PAD_CHIMNEY_LOAD, "check-it");
}
END_TEST

START_TEST(a_soaking_of_another_part_stops_no_pad)
{
    every_pad_clock(
        plan_told(.now = "2026-01-05T12:00", .records = WARM SOAKED("unit", "2026-01-05T05:00")),
        "running");
}
END_TEST

START_TEST(a_soaking_after_the_look_stops_again)
{
    every_pad_clock(plan_told(.now = "2026-01-05T12:00",
                              .records = WARM SOAKED("pad", "2026-01-05T05:00") LOOK(
                                  "pad", "2026-01-05T06:00") SOAKED("pad", "2026-01-05T08:00")),
                    "check-it");
}
END_TEST

START_TEST(a_new_pour_forgets_the_frost_of_the_one_before)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                                      .records = MONDAY POUR("2026-01-05T10:00"));
    every_pad_clock(plan, "running");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 5);
}
END_TEST

START_TEST(a_redo_ends_every_pad_clock_until_a_new_pour)
{
    every_pad_clock(
        plan_told(.now = "2026-01-08T00:00", .records = WARM REDO("pad", "2026-01-07T00:00")),
        "ended");
    every_pad_clock(plan_told(.now = "2026-01-08T00:00", .records =
                                                             WARM REDO("pad", "2026-01-07T00:00")
                                                                 LOOK("pad", "2026-01-07T12:00")),
                    "ended");
    struct job_plan *plan =
        plan_told(.now = "2026-01-08T00:00",
                  .records = WARM REDO("pad", "2026-01-07T00:00") POUR("2026-01-07T12:00"));
    every_pad_clock(plan, "running");
}
END_TEST

START_TEST(a_redo_ends_a_stopped_clock_too)
{
    every_pad_clock(plan_told(.now = "2026-01-05T20:00", .observed = "6*10 1*-1 13*10",
                              .records = MONDAY REDO("pad", "2026-01-05T10:00")),
                    "ended");
}
END_TEST

/* --- moist cure ------------------------------------------------------------------------------- */

#define WET(at) WITH("wet-cover-on", "\"part\":\"pad\"", at)
#define DRY(at) WITH("wet-cover-off", "\"part\":\"pad\"", at)

START_TEST(moist_hours_need_not_be_consecutive)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T00:00", .records = WARM WET("2026-01-05T02:00")
                                                 DRY("2026-01-05T06:00") WET("2026-01-05T10:00"));
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 4 + 14);
    ck_cross(plan, CLOCK_PAD_MOIST_CURE, "2026-01-12 06:00"); /* 150 h on */
}
END_TEST

START_TEST(moist_hours_count_at_50_f_or_more_and_earn_one)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T00:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 50, "2026-01-05T00:00")
                      WET("2026-01-05T00:00"));
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 24);
    plan = plan_told(.now = "2026-01-06T00:00",
                     .records = MONDAY ROOM_ON DEGF("pad", "thermostat", 49.9, "2026-01-05T00:00")
                         WET("2026-01-05T00:00"));
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 0);
}
END_TEST

START_TEST(a_cover_taken_off_for_good_leaves_no_opening_time)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T00:00",
                  .records = WARM WET("2026-01-05T02:00") DRY("2026-01-05T06:00"));
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 4);
    ck_cross(plan, CLOCK_PAD_MOIST_CURE, "none");
}
END_TEST

START_TEST(protecting_the_pad_starts_the_moist_cure)
{
    ck_have(plan_told(.now = "2026-01-06T00:00",
                      .records = WARM WORK("pad-protect", "2026-01-05T02:00")),
            CLOCK_PAD_MOIST_CURE, 22);
}
END_TEST

START_TEST(the_facing_may_come_at_the_moist_cure_before_14_days)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T00:00", .records = WARM WET("2026-01-05T00:00"));
    ck_cross(plan, CLOCK_PAD_MOIST_CURE, "2026-01-12 00:00");
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-12 00:00");
}
END_TEST

START_TEST(the_facing_does_not_wait_for_a_late_moist_cure)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-16T00:00",
                  .records = WARM DEGC("pad", "thermostat", 20, "2026-01-12T00:00")
                      WET("2026-01-15T00:00"));
    ck_cross(plan, CLOCK_PAD_MOIST_CURE, "2026-01-22 00:00");
    ck_cross(plan, CLOCK_PAD_FACING_READY, "2026-01-19 00:00");
}
END_TEST

/* --- mortar ----------------------------------------------------------------------------------- */

#define UNIT(degf)                                                                                 \
    CLOSE("unit", "room", "2026-01-05T00:00")                                                      \
    DEGF("unit", "thermostat", degf, "2026-01-05T00:00")

START_TEST(each_mortar_clock_opens_at_its_floor_and_target)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T01:00",
                                      .records = UNIT(68) WORK("transition-set", "2026-01-05T00:00")
                                          WORK("chimney-run", "2026-01-05T01:00")
                                              WORK("line-floor", "2026-01-05T00:00"));
    ck_cross(plan, CLOCK_JOINTS_EARLY, "2026-01-06 01:00");
    ck_cross(plan, CLOCK_BED_SET, "2026-01-05 16:00");
    ck_cross(plan, CLOCK_LIFT_NEXT, "2026-01-05 13:00");
    ck_cross(plan, CLOCK_LINING_EARLY, "2026-01-07 00:00");
}
END_TEST

START_TEST(mortar_without_a_card_earns_from_50_f)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T08:00",
                                      .records = UNIT(50) WORK("box-courses", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 4);
    plan = plan_told(.now = "2026-01-05T08:00",
                     .records = UNIT(49.9) WORK("box-courses", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 0);
}
END_TEST

START_TEST(mortar_with_a_card_earns_from_its_minimum)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T08:00", .records = BAG("hydraulic", 41, "2026-01-05T00:00")
                                                 UNIT(41) WORK("box-courses", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 2);
    plan = plan_told(.now = "2026-01-05T08:00", .records = BAG("hydraulic", 41, "2026-01-05T00:00")
                                                    UNIT(40.9)
                                                        WORK("box-courses", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 0);
    ck_clock(plan, CLOCK_JOINTS_EARLY, "running");
    plan =
        plan_told(.now = "2026-01-05T08:00", .records = BAG("hydraulic", 59, "2026-01-05T00:00")
                                                 UNIT(50) WORK("box-courses", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 0);
}
END_TEST

START_TEST(the_last_bag_before_the_work_is_the_lot_in_use)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T08:00", .records = BAG("hydraulic", 59, "2026-01-04T00:00")
                                                 BAG("hydraulic", 41, "2026-01-05T00:00") UNIT(50)
                                                     WORK("box-courses", "2026-01-05T00:00")
                                                         BAG("hydraulic", 59, "2026-01-05T04:00"));
    ck_have(plan, CLOCK_JOINTS_EARLY, 4);
}
END_TEST

START_TEST(polymer_mortar_below_its_bag_within_24_h_has_to_be_looked_at)
{
    const char *hours = "6*10 1*4 41*10";
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = hours,
                                      .records = BAG("polymer", 41, "2026-01-05T00:00")
                                          WORK("box-courses", "2026-01-05T00:00"));
    ck_clock(plan, CLOCK_JOINTS_EARLY, "check-it");
    ck_have(plan, CLOCK_JOINTS_EARLY, 3);
    ck_assert(warned(plan, CAUTION_BELOW_BAG_MINIMUM));
    plan = plan_told(.now = "2026-01-05T12:00", .observed = hours,
                     .records = BAG("polymer", 41, "2026-01-05T00:00") WORK(
                         "box-courses", "2026-01-05T00:00") LOOK("joints", "2026-01-05T08:00"));
    ck_clock(plan, CLOCK_JOINTS_EARLY, "running");
    ck_have(plan, CLOCK_JOINTS_EARLY, 3 + 2);
}
END_TEST

START_TEST(other_mortar_below_its_bag_only_waits)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "6*10 1*4 41*10",
                                      .records = BAG("hydraulic", 41, "2026-01-05T00:00")
                                          WORK("box-courses", "2026-01-05T00:00"));
    ck_clock(plan, CLOCK_JOINTS_EARLY, "running");
    ck_have(plan, CLOCK_JOINTS_EARLY, 5.5);
}
END_TEST

START_TEST(polymer_mortar_below_its_bag_after_24_h_only_waits)
{
    ck_clock(plan_told(.now = "2026-01-06T02:00", .observed = "24*10 2*4",
                       .records = BAG("polymer", 41, "2026-01-05T00:00")
                           WORK("box-courses", "2026-01-05T00:00")),
             CLOCK_JOINTS_EARLY, "running");
    ck_clock(plan_told(.now = "2026-01-06T02:00", .observed = "23*10 3*4",
                       .records = BAG("polymer", 41, "2026-01-05T00:00")
                           WORK("box-courses", "2026-01-05T00:00")),
             CLOCK_JOINTS_EARLY, "check-it");
}
END_TEST

START_TEST(polymer_mortar_at_its_bag_minimum_is_not_below_it)
{
    ck_clock(plan_told(.now = "2026-01-05T12:00", .observed = "12*5",
                       .records = BAG("polymer", 41, "2026-01-05T00:00")
                           WORK("box-courses", "2026-01-05T00:00")),
             CLOCK_JOINTS_EARLY, "running");
}
END_TEST

START_TEST(air_drying_and_heat_setting_mortar_earn_no_warm_hours)
{
    static const char *const bags[] = {BAG("air-drying", 41, "2026-01-05T00:00"),
                                       BAG("heat-setting", 41, "2026-01-05T00:00")};
    for (size_t i = 0; i < 2; i++) {
        struct job_plan *plan =
            plan_told(.now = "2026-01-05T12:00",
                      .records = arena_print(case_intake.arena, "%s%s", bags[i],
                                             UNIT(68) WORK("line-floor", "2026-01-05T00:00")));
        ck_have(plan, CLOCK_LINING_EARLY, 0);
        ck_cross(plan, CLOCK_LINING_EARLY, "none");
    }
}
END_TEST

START_TEST(a_redo_of_the_joints_ends_them_until_work_is_done_again)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00",
                                      .records = UNIT(68) WORK("box-courses", "2026-01-05T00:00")
                                          REDO("joints", "2026-01-05T06:00"));
    ck_clock(plan, CLOCK_JOINTS_EARLY, "ended");
    plan = plan_told(.now = "2026-01-05T12:00",
                     .records = UNIT(68) WORK("box-courses", "2026-01-05T00:00") REDO(
                         "joints", "2026-01-05T06:00") WORK("box-courses", "2026-01-05T08:00"));
    ck_clock(plan, CLOCK_JOINTS_EARLY, "running");
    ck_have(plan, CLOCK_JOINTS_EARLY, 4);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        each_pad_clock_on_the_ground_opens_at_its_floor_and_target,
        each_pad_clock_in_the_cool_opens_at_its_target,
        over_a_void_the_pad_waits_48_and_168_and_propped_72,
        the_facing_waits_for_84_warm_hours_after_14_days,
        forty_degrees_earn_and_a_little_less_earns_nothing,
        no_hour_earns_more_than_one,
        a_clock_opens_at_the_instant_both_hold_and_have_runs_on,
        opens_is_the_next_whole_hour_of_the_wall_clock_and_a_whole_hour_stays,
        the_wall_clock_of_a_half_hour_zone_rules_the_rounding,
        a_floor_is_elapsed_time_across_a_clock_change,
        a_blended_mix_takes_half_as_much_again_of_every_target_and_no_floor,
        a_town_lengthens_the_build_on_floor_and_never_shortens_it,
        an_override_lengthens_and_a_shorter_one_is_passed_over,
        of_several_overrides_the_longest_stands,
        an_engineer_replaces_house_rules_shorter_or_longer,
        an_engineer_never_replaces_a_figure_of_common_practice,
        an_override_comes_after_the_engineer,
        an_engineer_comes_after_the_mix,
        accepted_opens_a_clock_whose_floor_has_run_and_is_marked,
        accepted_before_the_floor_waits_for_the_floor,
        accepted_opens_no_clock_that_has_to_be_looked_at,
        the_latest_of_two_pours_governs,
        thirty_two_is_no_frost_and_anything_below_stops_every_pad_clock,
        a_frost_in_the_hour_of_the_pour_stops_and_one_before_it_does_not,
        the_site_offset_makes_a_frost,
        the_station_is_tested_in_the_open_whatever_the_probe_says,
        a_cap_alone_is_tested_for_frost,
        a_frost_after_24_warm_hours_stops_nothing,
        a_blended_pad_is_tested_for_frost_until_36,
        a_frost_still_to_come_is_a_caution_with_its_hour_and_stops_nothing,
        the_frost_of_the_present_hour_counts_up_to_now_only,
        a_look_lets_the_clocks_go_on_from_the_look,
        a_look_at_the_instant_of_the_frost_came_too_early,
        a_look_while_it_still_freezes_stops_at_once_again,
        each_frost_before_the_limit_needs_a_look_of_its_own,
        a_look_at_another_part_starts_nothing,
        the_warm_hours_since_the_pour_count_on_over_a_look,
        a_withdrawn_look_was_none,
        a_soaking_stops_the_pad_strictly_after_the_pour_up_to_now,
        a_soaking_at_24_warm_hours_stops_nothing,
        a_soaking_of_another_part_stops_no_pad,
        a_soaking_after_the_look_stops_again,
        a_new_pour_forgets_the_frost_of_the_one_before,
        a_redo_ends_every_pad_clock_until_a_new_pour,
        a_redo_ends_a_stopped_clock_too,
        moist_hours_need_not_be_consecutive,
        moist_hours_count_at_50_f_or_more_and_earn_one,
        a_cover_taken_off_for_good_leaves_no_opening_time,
        protecting_the_pad_starts_the_moist_cure,
        the_facing_may_come_at_the_moist_cure_before_14_days,
        the_facing_does_not_wait_for_a_late_moist_cure,
        each_mortar_clock_opens_at_its_floor_and_target,
        mortar_without_a_card_earns_from_50_f,
        mortar_with_a_card_earns_from_its_minimum,
        the_last_bag_before_the_work_is_the_lot_in_use,
        polymer_mortar_below_its_bag_within_24_h_has_to_be_looked_at,
        other_mortar_below_its_bag_only_waits,
        polymer_mortar_below_its_bag_after_24_h_only_waits,
        polymer_mortar_at_its_bag_minimum_is_not_below_it,
        air_drying_and_heat_setting_mortar_earn_no_warm_hours,
        a_redo_of_the_joints_ends_them_until_work_is_done_again,
    };
    return case_run("clocks", tests, sizeof tests / sizeof *tests);
}
