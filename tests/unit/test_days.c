/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * Counted days and the fire date. The lining is done on Monday 5 January 2026 at noon, in a house
 * kept at 15 degC, unless a test says otherwise: day 1 is the 6th, day 28 is 2 February, and the
 * first fire may come on the 3rd. What a day loses shows in `have` and in that date.
 */
#include "clock_case.h"

#define DAY_0 WORK("line-clean", "2026-01-05T12:00")
#define HOUSE(degc)                                                                                \
    CLOSE("unit", "room", "2026-01-04T00:00")                                                      \
    DEGC("unit", "thermostat", degc, "2026-01-04T00:00")
#define DRY_HOUSE                                                                                  \
    DAY_0 HOUSE(15) DEGC("unit", "thermostat", 15, "2026-01-11T00:00")                             \
        DEGC("unit", "thermostat", 15, "2026-01-18T00:00")
#define DRY CLOCK_UNIT_DRY_CURE
#define LOGGED(date, mean, min, at)                                                                \
    WITH("logged-day", "\"date\":\"" date "\",\"mean_degf\":" #mean ",\"min_degf\":" #min, at)
#define CORRECTS(id, with, at) WITH("corrected", "\"corrects\":\"" id "\",\"with\":" with, at)

/* --- the count -------------------------------------------------------------------------------- */

START_TEST(day_28_is_followed_by_the_fire_date)
{
    struct job_plan *plan = plan_told(.now = "2026-03-12T12:00",
                                      .records = WORK("line-clean", "2026-03-11T12:00")
                                          CLOSE("unit", "room", "2026-03-11T00:00")
                                              DEGC("unit", "thermostat", 15, "2026-03-11T00:00"));
    ck_fire(plan, "2026-04-09");
    ck_cross(plan, DRY, "2026-04-09 00:00");
    ck_have(plan, DRY, 0);
}
END_TEST

START_TEST(have_counts_days_that_are_over)
{
    ck_have(plan_told(.now = "2026-01-06T23:59", .records = DRY_HOUSE), DRY, 0);
    ck_have(plan_told(.now = "2026-01-07T00:00", .records = DRY_HOUSE), DRY, 1);
    ck_have(plan_told(.now = "2026-01-15T10:00", .records = DRY_HOUSE), DRY, 9);
}
END_TEST

START_TEST(have_stops_at_the_target)
{
    struct job_plan *plan =
        plan_told(.now = "2026-02-20T10:00",
                  .records = DRY_HOUSE DEGC("unit", "thermostat", 15, "2026-01-25T00:00")
                      DEGC("unit", "thermostat", 15, "2026-02-01T00:00"));
    ck_have(plan, DRY, 28);
    ck_clock(plan, DRY, "open");
    ck_fire(plan, "2026-02-03");
}
END_TEST

START_TEST(the_day_is_that_of_the_job_and_not_of_the_office)
{
    /* 5 January 03:00 UTC is still the 4th in Boise */
    struct job_plan *plan = plan_told(.now = "2026-01-06T12:00", .zone = "America/Boise",
                                      .records = HOUSE(15) WORK("line-clean", "2026-01-05T03:00"));
    ck_fire(plan, "2026-02-02");
    ck_cross(plan, DRY, "2026-02-02 00:00");
}
END_TEST

START_TEST(there_is_no_drying_before_the_lining_is_done)
{
    struct job_plan *plan = plan_told(.now = "2026-01-06T12:00",
                                      .records = HOUSE(15) WORK("cap-set", "2026-01-05T12:00"));
    ck_assert(!has_clock(plan, DRY));
    ck_fire(plan, "none");
    ck_assert(plan->fire.blocked_by & FIRE_BLOCK_NOT_LINED);
}
END_TEST

START_TEST(the_last_of_chimney_cap_lining_and_relaid_is_day_0)
{
    ck_fire(plan_told(.now = "2026-01-12T12:00",
                      .records = DRY_HOUSE WORK("chimney-run", "2026-01-07T12:00")),
            "2026-02-05");
    ck_fire(plan_told(.now = "2026-01-12T12:00",
                      .records = DRY_HOUSE WORK("cap-set", "2026-01-08T12:00")),
            "2026-02-06");
    struct job_plan *plan =
        plan_told(.now = "2026-01-12T12:00",
                  .records = DRY_HOUSE WITH("relaid", "\"what\":\"back\"", "2026-01-09T12:00"));
    ck_fire(plan, "2026-02-07");
    ck_assert_uint_eq(plan->struck_count, 1);
    ck_assert_double_eq(plan->struck[0].have, 3);
    ck_assert_str_eq(wall(plan->struck[0].start_s), "2026-01-05 12:00");
}
END_TEST

/* --- warmth ----------------------------------------------------------------------------------- */

/* Credit of Tuesday 6 January, given the readings of it as a logged day, F. */
static double logged_credit(const char *mean, const char *min)
{
    const char *records = arena_print(
        case_intake.arena,
        "%s{\"kind\":\"logged-day\",\"date\":\"2026-01-06\",\"mean_degf\":%s,\"min_degf\":%s,"
        "\"at\":\"2026-01-07T00:00:00Z\"}",
        DAY_0, mean, min);
    struct job_plan *plan = plan_told(.now = "2026-01-07T06:00", .records = records);
    return clock_in(plan, DRY)->have;
}

START_TEST(each_threshold_of_a_day_counts_on_its_own_side)
{
    ck_assert_double_eq(logged_credit("50", "40"), 1);
    ck_assert_double_eq(logged_credit("49.9", "40"), 0.5);
    ck_assert_double_eq(logged_credit("50", "39.9"), 0.5);
    ck_assert_double_eq(logged_credit("40", "32"), 0.5);
    ck_assert_double_eq(logged_credit("39.9", "32"), 0);
    ck_assert_double_eq(logged_credit("40", "31.9"), 0);
    ck_assert_double_eq(logged_credit("90", "31.9"), 0);
}
END_TEST

START_TEST(the_mean_is_weighted_by_time_and_the_minimum_is_the_lowest)
{
    /* 8 h at 20 and 16 h at 5: 10 degC = 50 F, and 41 F at least */
    ck_have(plan_told(.now = "2026-01-07T00:00", .observed = "24*10 8*20 16*5", .records = DAY_0),
            DRY, 1);
    ck_have(plan_told(.now = "2026-01-07T00:00", .observed = "24*10 7*20 17*5", .records = DAY_0),
            DRY, 0.5);
    ck_have(plan_told(.now = "2026-01-07T00:00", .observed = "24*10 1*4 23*20", .records = DAY_0),
            DRY, 0.5);
}
END_TEST

START_TEST(the_last_logged_day_of_a_date_stands_and_replaces_the_readings)
{
    const char *now = "2026-01-08T06:00";
    ck_have(plan_told(.now = now,
                      .records = DRY_HOUSE LOGGED("2026-01-06", 40, 32, "2026-01-07T00:00")),
            DRY, 1.5);
    ck_have(plan_told(.now = now, .records =
                                      DRY_HOUSE LOGGED("2026-01-06", 40, 32, "2026-01-07T00:00")
                                          LOGGED("2026-01-06", 30, 30, "2026-01-07T01:00")),
            DRY, 1);
    ck_have(plan_told(.now = now, .records =
                                      DRY_HOUSE LOGGED("2026-01-06", 30, 30, "2026-01-07T01:00")
                                          LOGGED("2026-01-06", 40, 32, "2026-01-07T00:00")
                                              LOGGED("2026-01-06", 50, 40, "2026-01-08T05:00")),
            DRY, 2);
}
END_TEST

START_TEST(a_logged_day_written_after_now_does_not_count)
{
    ck_have(plan_told(.now = "2026-01-08T06:00",
                      .records = DRY_HOUSE LOGGED("2026-01-06", 30, 30, "2026-01-08T06:01")),
            DRY, 2);
}
END_TEST

START_TEST(a_withdrawn_logged_day_gives_the_readings_back)
{
    ck_have(plan_told(.now = "2026-01-08T06:00",
                      .records = LOGGED("2026-01-06", 30, 30, "2026-01-07T00:00")
                          DRY_HOUSE CORRECTS("r0", "null", "2026-01-08T00:00")),
            DRY, 2);
}
END_TEST

START_TEST(missing_time_up_to_6_h_leaves_half_and_more_leaves_nothing)
{
    ck_have(plan_told(.now = "2026-01-07T00:00", .observed = "48*15", .records = DAY_0), DRY, 1);
    ck_have(
        plan_told(.now = "2026-01-07T00:00", .observed = "24*15 1*null 23*15", .records = DAY_0),
        DRY, 0.5);
    ck_have(
        plan_told(.now = "2026-01-07T00:00", .observed = "24*15 6*null 18*15", .records = DAY_0),
        DRY, 0.5);
    ck_have(
        plan_told(.now = "2026-01-07T00:00", .observed = "24*15 7*null 17*15", .records = DAY_0),
        DRY, 0);
    ck_have(plan_told(.now = "2026-01-07T00:00",
                      .records = DAY_0 LOGGED("2026-01-06", 60, 50, "2026-01-07T00:00")),
            DRY, 1);
}
END_TEST

START_TEST(missing_time_takes_nothing_more_from_a_half_day)
{
    ck_have(plan_told(.now = "2026-01-07T00:00", .observed = "24*15 6*null 18*5", .records = DAY_0),
            DRY, 0.5);
}
END_TEST

START_TEST(days_past_the_forecast_count_in_full_if_there_is_a_station)
{
    ck_fire(plan_told(.now = "2026-01-05T12:00", .observed = "12*15", .forecast = "36*15",
                      .records = DAY_0),
            "2026-02-03");
    ck_fire(plan_told(.now = "2026-01-05T12:00", .no_station = true, .records = DAY_0), "none");
}
END_TEST

START_TEST(hours_past_the_forecast_are_left_out_of_mean_and_minimum)
{
    /* the 6th: 12 h at 5 degC are all that is known of it: a half day */
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "12*15",
                                      .forecast = "12*15 12*5", .records = DAY_0);
    ck_fire(plan, "2026-02-04");
}
END_TEST

START_TEST(a_room_never_read_again_is_carried_forward_and_its_silent_past_counts_nothing)
{
    /* the note of the 4th ends on the 11th; seen from the 15th, the 11th to the 14th are silent and
     * so is the morning of the 15th, half a day of it: 5 days counted, 23 more from the 16th */
    struct job_plan *plan = plan_told(.now = "2026-01-15T12:00", .records = DAY_0 HOUSE(15));
    ck_have(plan, DRY, 5);
    ck_fire(plan, "2026-02-08");
}
END_TEST

START_TEST(a_unit_in_a_closed_stay_never_read_has_no_fire_date)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T12:00", .observed = "36*15", .forecast = "96*15",
                  .records = DAY_0 CLOSE("unit", "room", "2026-01-05T12:00"));
    ck_fire(plan, "none");
    ck_assert(plan->fire.blocked_by & FIRE_BLOCK_NO_READING);
}
END_TEST

/* --- what takes a day away -------------------------------------------------------------------- */

START_TEST(a_soaking_takes_its_day_and_two_more_and_standing_water_five)
{
    ck_fire(plan_told(.now = "2026-01-20T12:00",
                      .records = DRY_HOUSE SOAKED("unit", "2026-01-10T12:00")),
            "2026-02-06");
    ck_fire(plan_told(.now = "2026-01-20T12:00",
                      .records = DRY_HOUSE WITH("soaked", "\"part\":\"unit\",\"standing\":true",
                                                "2026-01-10T12:00")),
            "2026-02-09");
    ck_fire(plan_told(.now = "2026-01-20T12:00",
                      .records = DRY_HOUSE SOAKED("pad", "2026-01-10T12:00")),
            "2026-02-03");
    /* two soakings overlap: the 10th to the 13th */
    ck_fire(plan_told(.now = "2026-01-20T12:00", .records =
                                                     DRY_HOUSE SOAKED("unit", "2026-01-10T12:00")
                                                         SOAKED("unit", "2026-01-11T12:00")),
            "2026-02-07");
}
END_TEST

START_TEST(a_soaking_before_day_0_passes_its_days_on)
{
    ck_fire(plan_told(.now = "2026-01-09T12:00",
                      .records = DRY_HOUSE SOAKED("unit", "2026-01-04T12:00")),
            "2026-02-04");
}
END_TEST

START_TEST(a_day_wrapped_at_any_time_counts_nothing)
{
    ck_fire(plan_told(.now = "2026-01-15T12:00", .records =
                                                     DRY_HOUSE PLAIN("wrapped", "2026-01-07T23:59")
                                                         PLAIN("unwrapped", "2026-01-09T00:01")),
            "2026-02-06");
    /* from midnight to midnight it is one day */
    ck_fire(plan_told(.now = "2026-01-15T12:00", .records =
                                                     DRY_HOUSE PLAIN("wrapped", "2026-01-07T00:00")
                                                         PLAIN("unwrapped", "2026-01-08T00:00")),
            "2026-02-04");
    ck_fire(plan_told(.now = "2026-01-15T12:00", .records =
                                                     DRY_HOUSE PLAIN("wrapped", "2026-01-07T09:00")
                                                         PLAIN("unwrapped", "2026-01-07T10:00")),
            "2026-02-04");
    struct job_plan *plan = plan_told(.now = "2026-01-15T12:00",
                                      .records = DRY_HOUSE PLAIN("wrapped", "2026-01-07T09:00"));
    ck_have(plan, DRY, 1);
    ck_fire(plan, "none");
}
END_TEST

START_TEST(facing_patching_and_a_fire_take_their_day)
{
    ck_have(plan_told(.now = "2026-01-15T12:00",
                      .records = DRY_HOUSE PLAIN("facing", "2026-01-07T12:00")
                          PLAIN("patched", "2026-01-08T12:00") PLAIN("lit", "2026-01-09T12:00")
                              LOOK("unit", "2026-01-09T18:00")),
            DRY, 6);
}
END_TEST

/* --- rain ------------------------------------------------------------------------------------- */

#define CAPPED WORK("cap-set", "2026-01-05T06:00")

/* Days counted up to Monday 12 January, six at most; rain from Sunday 4 January on. */
static double rained(const char *rain, const char *more)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-12T00:00", .options = EXPOSED,
                  .observed_from = "2026-01-04T00:00", .observed = "192*15", .observed_rain = rain,
                  .records = arena_print(case_intake.arena, "%s%s", more, DAY_0));
    return clock_in(plan, DRY)->have;
}

START_TEST(rain_on_a_capped_unit_counts_from_1_mm_and_from_5_mm_twice)
{
    ck_assert_double_eq(rained("192*0", CAPPED), 6);
    ck_assert_double_eq(rained("72*0 9*0.1 111*0", CAPPED), 6);
    ck_assert_double_eq(rained("72*0 10*0.1 110*0", CAPPED), 5);
    ck_assert_double_eq(rained("72*0 1*4.9 119*0", CAPPED), 5);
    ck_assert_double_eq(rained("72*0 10*0.5 110*0", CAPPED), 4);
}
END_TEST

START_TEST(rain_is_summed_over_the_day_in_which_its_hours_start)
{
    ck_assert_double_eq(rained("71*0 2*0.6 119*0", CAPPED), 6);
    ck_assert_double_eq(rained("72*0 2*0.6 118*0", CAPPED), 5);
}
END_TEST

START_TEST(rain_on_an_indoor_or_covered_unit_does_not_count)
{
    ck_have(plan_told(.now = "2026-01-12T00:00",
                      .options = "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"covered\"",
                      .observed = "168*15", .observed_rain = "168*9", .records = DAY_0),
            DRY, 6);
}
END_TEST

START_TEST(rain_down_a_flue_without_a_cap_takes_two_more_days)
{
    ck_assert_double_eq(rained("72*0 1*0.9 119*0", ""), 6);
    ck_assert_double_eq(rained("72*0 1*1 119*0", ""), 3);
    ck_assert_double_eq(rained("72*0 1*9 119*0", ""), 3);
}
END_TEST

START_TEST(a_cap_set_at_midnight_or_before_is_judged_by_when_the_day_began)
{
    /* the cap is the last wet work: the 6th is day 0, rain on the 7th */
    ck_assert_double_eq(rained("72*0 1*1 119*0", WORK("cap-set", "2026-01-06T23:59")), 4);
    /* set at the midnight at which the 7th begins it was not done before: 7 is day 0, 8, 9 lost */
    ck_assert_double_eq(rained("72*0 1*1 119*0", WORK("cap-set", "2026-01-07T00:00")), 2);
}
END_TEST

START_TEST(rain_of_the_days_before_day_0_is_passed_on)
{
    /* Sunday the 4th, no cap that day: 4, 5 and 6 are lost */
    ck_assert_double_eq(rained("1*1 191*0", CAPPED), 5);
    /* capped on Saturday: only 5 mm on Monday reach the 6th */
    ck_assert_double_eq(rained("1*9 191*0", WORK("cap-set", "2026-01-03T06:00")), 6);
    ck_assert_double_eq(rained("24*0 1*5 167*0", WORK("cap-set", "2026-01-03T06:00")), 5);
}
END_TEST

#define COVERED(at) PLAIN("covered", at)
#define UNCOVERED(at) PLAIN("uncovered", at)

START_TEST(an_hour_that_starts_covered_has_no_rain)
{
    const char *rain = "82*0 1*9 109*0"; /* 7 January 10:00 */
    ck_assert_double_eq(rained(rain, CAPPED COVERED("2026-01-07T10:00")), 6);
    ck_assert_double_eq(rained(rain, CAPPED COVERED("2026-01-07T10:01")), 4);
    ck_assert_double_eq(
        rained(rain, CAPPED COVERED("2026-01-06T10:00") UNCOVERED("2026-01-07T10:01")), 6);
    ck_assert_double_eq(
        rained(rain, CAPPED COVERED("2026-01-06T10:00") UNCOVERED("2026-01-07T10:00")), 4);
}
END_TEST

START_TEST(more_than_6_uncovered_past_hours_without_a_figure_take_the_day)
{
    ck_assert_double_eq(rained("72*0 6*null 114*0", CAPPED), 6);
    ck_assert_double_eq(rained("72*0 7*null 113*0", CAPPED), 5);
    ck_assert_double_eq(rained("72*0 7*null 113*0", CAPPED COVERED("2026-01-07T06:00")), 6);
    ck_assert_double_eq(rained("72*0 1*1 119*0", CAPPED COVERED("2026-01-05T13:00")), 6);
}
END_TEST

START_TEST(hours_ahead_without_a_rain_figure_are_not_unknown)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T12:00", .options = EXPOSED, .observed = "36*15",
                  .observed_rain = "36*0", .forecast = "96*15", .records = CAPPED DAY_0);
    ck_fire(plan, "2026-02-03");
}
END_TEST

START_TEST(forecast_rain_takes_days_ahead)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T12:00", .options = EXPOSED, .observed = "36*15",
                  .observed_rain = "36*0", .forecast = "96*15", .forecast_rain = "20*0 1*5 75*0",
                  .records = CAPPED DAY_0);
    ck_fire(plan, "2026-02-05"); /* the 7th and the 8th */
}
END_TEST

START_TEST(an_hour_of_rain_in_a_half_hour_zone_belongs_to_the_day_in_which_it_starts)
{
    /* 18:00 UTC is 23:30 in Kolkata: half of that hour falls into the next day */
    static const char *const rain[] = {"18*0 1*4 149*0", "19*0 1*4 148*0"};
    static const double counted[] = {6, 5};
    for (size_t i = 0; i < 2; i++) {
        struct job_plan *plan =
            plan_told(.now = "2026-01-12T00:00", .zone = "Asia/Kolkata", .options = EXPOSED,
                      .observed = "168*15", .observed_rain = rain[i],
                      .records = WORK("cap-set", "2026-01-03T06:00") DAY_0);
        ck_have(plan, DRY, counted[i]);
    }
}
END_TEST

/* --- facing and patches ----------------------------------------------------------------------- */

#define MORTARED INDOOR ",\"facing\":\"mortared\""

START_TEST(the_facing_counts_14_days_from_the_latest_of_it)
{
    struct job_plan *plan = plan_told(.now = "2026-01-24T12:00",
                                      .records = DRY_HOUSE PLAIN("facing", "2026-01-20T12:00")
                                          PLAIN("facing", "2026-01-23T12:00"));
    ck_cross(plan, CLOCK_UNIT_FACING_CURE, "2026-02-07 00:00");
    ck_cross(plan, DRY, "2026-02-05 00:00"); /* two days lost */
    ck_fire(plan, "2026-02-07");
}
END_TEST

START_TEST(mortared_facing_without_its_last_has_no_fire_date)
{
    struct job_plan *plan = plan_told(.now = "2026-01-24T12:00", .options = MORTARED,
                                      .records = DRY_HOUSE PLAIN("facing", "2026-01-20T12:00"));
    ck_fire(plan, "none");
    ck_assert_uint_eq(plan->fire.blocked_by, FIRE_BLOCK_FACING);
    plan = plan_told(.now = "2026-01-24T12:00", .options = MORTARED,
                     .records = DRY_HOUSE WITH("facing", "\"last\":true", "2026-01-20T12:00"));
    ck_fire(plan, "2026-02-04");
}
END_TEST

START_TEST(a_patch_counts_28_days_or_7_with_initials)
{
    ck_fire(plan_told(.now = "2026-01-20T12:00",
                      .records = DRY_HOUSE PLAIN("patched", "2026-01-19T12:00")),
            "2026-02-17");
    ck_fire(plan_told(.now = "2026-01-20T12:00",
                      .records = DRY_HOUSE WITH("patched", "\"days\":7", "2026-01-19T12:00")),
            "2026-02-17");
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00",
                  .records = DRY_HOUSE WITH("patched", "\"days\":7,\"initials\":\"AM\"",
                                            "2026-01-19T12:00"));
    ck_cross(plan, CLOCK_UNIT_PATCH, "2026-01-27 00:00");
    ck_fire(plan, "2026-02-04");
}
END_TEST

START_TEST(of_several_patches_the_one_that_ends_latest_is_shown)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00",
                  .records = DRY_HOUSE PLAIN("patched", "2026-01-15T12:00")
                      WITH("patched", "\"days\":7,\"initials\":\"AM\"", "2026-01-19T12:00"));
    ck_cross(plan, CLOCK_UNIT_PATCH, "2026-02-14 00:00"); /* from the 15th, the 19th lost */
    ck_assert_double_eq(clock_in(plan, CLOCK_UNIT_PATCH)->need, 28);
    ck_fire(plan, "2026-02-14");
}
END_TEST

START_TEST(of_several_patches_without_an_end_the_first_begun_is_shown)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00",
                  .records = DRY_HOUSE WITH("patched", "\"days\":7,\"initials\":\"AM\"",
                                            "2026-01-15T12:00") PLAIN("patched", "2026-01-17T12:00")
                      PLAIN("lit", "2026-01-19T12:00"));
    ck_clock(plan, CLOCK_UNIT_PATCH, "check-it");
    ck_assert_str_eq(wall(clock_in(plan, CLOCK_UNIT_PATCH)->start_s), "2026-01-15 12:00");
}
END_TEST

/* --- fires before their time ------------------------------------------------------------------ */

START_TEST(a_fire_stops_the_clocks_begun_before_it_until_somebody_looked)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-19T12:00"));
    ck_clock(plan, DRY, "check-it");
    ck_have(plan, DRY, 13);
    ck_fire(plan, "none");
    plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-19T12:00")
                                                 LOOK("unit", "2026-01-19T12:00"));
    ck_clock(plan, DRY, "check-it");
    plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-19T12:00")
                                                 LOOK("unit", "2026-01-20T10:00"));
    ck_clock(plan, DRY, "running");
    ck_fire(plan, "2026-02-04");
}
END_TEST

START_TEST(a_fire_nobody_looked_at_keeps_the_date_away_from_newer_clocks_too)
{
    struct job_plan *plan = plan_told(.now = "2026-01-20T12:00",
                                      .records = DRY_HOUSE PLAIN("lit", "2026-01-18T12:00")
                                          WITH("relaid", "\"what\":\"back\"", "2026-01-19T12:00"));
    ck_clock(plan, DRY, "running");
    ck_fire(plan, "none");
    ck_assert_uint_eq(plan->fire.blocked_by, FIRE_BLOCK_LIT);
    plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-04T12:00"));
    ck_clock(plan, DRY, "running");
    ck_fire(plan, "none");
}
END_TEST

START_TEST(two_fires_need_a_look_after_the_second)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-16T12:00")
                                                 LOOK("unit", "2026-01-17T12:00")
                                                     PLAIN("lit", "2026-01-18T12:00"));
    ck_clock(plan, DRY, "check-it");
    ck_fire(plan, "none");
}
END_TEST

/* --- redo ------------------------------------------------------------------------------------- */

START_TEST(a_redo_ends_the_drying_and_a_cap_set_after_it_starts_nothing)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE REDO("unit", "2026-01-10T12:00"));
    ck_clock(plan, DRY, "ended");
    ck_fire(plan, "none");
    plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE REDO("unit", "2026-01-10T12:00")
                                                 WORK("cap-set", "2026-01-12T12:00"));
    ck_clock(plan, DRY, "ended");
    ck_fire(plan, "none");
}
END_TEST

START_TEST(relaid_or_lined_again_begins_another_drying_after_a_redo)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00",
                  .records = DRY_HOUSE REDO("unit", "2026-01-10T12:00")
                      WITH("relaid", "\"what\":\"side\",\"percent\":11", "2026-01-12T12:00"));
    ck_clock(plan, DRY, "running");
    ck_fire(plan, "2026-02-10");
    plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE REDO("unit", "2026-01-10T12:00")
                                                 WORK("line-clean", "2026-01-12T12:00"));
    ck_fire(plan, "2026-02-10");
}
END_TEST

START_TEST(a_redo_wins_over_an_unlooked_fire)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-20T12:00", .records = DRY_HOUSE PLAIN("lit", "2026-01-09T12:00")
                                                 REDO("unit", "2026-01-10T12:00"));
    ck_clock(plan, DRY, "ended");
}
END_TEST

START_TEST(an_ended_facing_is_dropped_once_there_is_later_work)
{
    struct job_plan *plan = plan_told(.now = "2026-01-20T12:00",
                                      .records = DRY_HOUSE PLAIN("facing", "2026-01-08T12:00")
                                          REDO("unit", "2026-01-10T12:00"));
    ck_clock(plan, CLOCK_UNIT_FACING_CURE, "ended");
    plan = plan_told(.now = "2026-01-20T12:00",
                     .records = DRY_HOUSE PLAIN("facing", "2026-01-08T12:00")
                         REDO("unit", "2026-01-10T12:00")
                             WITH("relaid", "\"what\":\"floor\"", "2026-01-12T12:00"));
    ck_assert(!has_clock(plan, CLOCK_UNIT_FACING_CURE));
    ck_fire(plan, "2026-02-10");
    plan = plan_told(.now = "2026-01-20T12:00",
                     .records = DRY_HOUSE PLAIN("patched", "2026-01-08T12:00")
                         REDO("unit", "2026-01-10T12:00") PLAIN("facing", "2026-01-12T12:00"));
    ck_assert(!has_clock(plan, CLOCK_UNIT_PATCH));
    ck_clock(plan, CLOCK_UNIT_FACING_CURE, "running");
    ck_clock(plan, DRY, "ended");
}
END_TEST

/* --- zones ------------------------------------------------------------------------------------ */

/* The fire date of a lining done at noon UTC, in a house in a zone. */
static struct job_plan *in_zone(const char *zone, const char *day_0, const char *now)
{
    const char *records = arena_print(
        case_intake.arena,
        "{\"kind\":\"done\",\"task\":\"line-clean\",\"at\":\"%sT12:00:00Z\"}"
        "{\"kind\":\"closed-in\",\"part\":\"unit\",\"how\":\"room\",\"at\":\"%sT12:00:00Z\"}"
        "{\"kind\":\"reading\",\"part\":\"unit\",\"how\":\"thermostat\",\"degc\":15,"
        "\"at\":\"%sT12:00:00Z\"}",
        day_0, day_0, day_0);
    return plan_told(.now = now, .zone = zone, .records = records);
}

START_TEST(days_of_23_and_25_hours_count_as_one_each)
{
    struct job_plan *plan = in_zone("America/Denver", "2026-03-06", "2026-03-10T12:00");
    ck_have(plan, DRY, 3);
    ck_fire(plan, "2026-04-04");
    plan = in_zone("America/Denver", "2026-10-30", "2026-11-03T12:00");
    ck_have(plan, DRY, 3);
    ck_fire(plan, "2026-11-28");
}
END_TEST

START_TEST(the_missing_time_of_a_25_hour_day_is_elapsed_time)
{
    /* 1 November 2026 in Denver runs from 06:00 to 07:00 UTC of the next day */
    const char *from = "2026-10-31T00:00";
    ck_have(plan_told(.now = "2026-11-02T12:00", .zone = "America/Denver", .observed_from = from,
                      .observed = "30*15 6*null 24*15",
                      .records = WORK("line-clean", "2026-10-31T12:00")),
            DRY, 0.5);
    ck_have(plan_told(.now = "2026-11-02T12:00", .zone = "America/Denver", .observed_from = from,
                      .observed = "30*15 7*null 23*15",
                      .records = WORK("line-clean", "2026-10-31T12:00")),
            DRY, 0);
}
END_TEST

START_TEST(where_midnight_does_not_exist_the_day_begins_at_the_first_instant_there_is)
{
    /* day 28 is the last of the old time: Saturday 5 September in Santiago, ... */
    struct job_plan *plan = in_zone("America/Santiago", "2026-08-08", "2026-08-10T12:00");
    ck_cross(plan, DRY, "2026-09-06 01:00");
    ck_opens(plan, DRY, "2026-09-06 01:00");
    ck_fire(plan, "2026-09-06");
    /* ... Thursday 23 April in Cairo, Saturday 28 March in Beirut */
    plan = in_zone("Africa/Cairo", "2026-03-26", "2026-03-28T12:00");
    ck_cross(plan, DRY, "2026-04-24 01:00");
    ck_fire(plan, "2026-04-24");
    plan = in_zone("Asia/Beirut", "2026-02-28", "2026-03-02T12:00");
    ck_cross(plan, DRY, "2026-03-29 01:00");
    ck_fire(plan, "2026-03-29");
}
END_TEST

START_TEST(where_midnight_comes_twice_the_day_begins_at_the_first)
{
    /* Beirut and Santiago go back at 24:00 to 23:00: the 23rd hour twice, midnight once. Cairo too.
     * The day that ends there is of 25 h and counts as one. */
    struct job_plan *plan = in_zone("Asia/Beirut", "2026-10-20", "2026-10-27T12:00");
    ck_have(plan, DRY, 6);
    ck_fire(plan, "2026-11-18");
    plan = in_zone("America/Santiago", "2026-04-01", "2026-04-07T12:00");
    ck_have(plan, DRY, 5);
    ck_fire(plan, "2026-04-30");
}
END_TEST

/* --- what was agreed -------------------------------------------------------------------------- */

START_TEST(a_promise_lies_3_days_after_the_earliest_indoors_and_7_under_a_roof)
{
    struct job_plan *plan = plan_told(.now = "2026-01-06T12:00", .records = DRY_HOUSE);
    ck_assert_str_eq(date_of(plan->fire.promise_day), "2026-02-06");
    plan = plan_told(.now = "2026-01-06T12:00",
                     .options = "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"covered\"",
                     .records = DRY_HOUSE);
    ck_assert_str_eq(date_of(plan->fire.promise_day), "2026-02-10");
    plan = plan_told(.now = "2026-01-06T12:00", .options = EXPOSED, .records = DRY_HOUSE);
    ck_assert_str_eq(date_of(plan->fire.promise_day), "none");
}
END_TEST

START_TEST(an_accepted_drying_still_waits_for_28_whole_days)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T12:00", .no_station = true,
                  .records = DAY_0 ACCEPTED("unit.dry-cure", "2026-01-06T00:00"));
    ck_fire(plan, "2026-02-03");
    ck_assert_ptr_nonnull(clock_in(plan, DRY)->accepted);
}
END_TEST

START_TEST(an_engineer_never_shortens_28_days_and_an_override_lengthens_them)
{
    ck_fire(plan_told(.now = "2026-01-06T12:00",
                      .records =
                          DRY_HOUSE ENGINEER("unit.dry-cure", "\"need\":10", "2026-01-06T00:00")),
            "2026-02-03");
    ck_fire(plan_told(.now = "2026-01-06T12:00",
                      .records =
                          DRY_HOUSE OVERRIDDEN("unit.dry-cure", "\"need\":30", "2026-01-06T00:00")),
            "2026-02-05");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        day_28_is_followed_by_the_fire_date,
        have_counts_days_that_are_over,
        have_stops_at_the_target,
        the_day_is_that_of_the_job_and_not_of_the_office,
        there_is_no_drying_before_the_lining_is_done,
        the_last_of_chimney_cap_lining_and_relaid_is_day_0,
        each_threshold_of_a_day_counts_on_its_own_side,
        the_mean_is_weighted_by_time_and_the_minimum_is_the_lowest,
        the_last_logged_day_of_a_date_stands_and_replaces_the_readings,
        a_logged_day_written_after_now_does_not_count,
        a_withdrawn_logged_day_gives_the_readings_back,
        missing_time_up_to_6_h_leaves_half_and_more_leaves_nothing,
        missing_time_takes_nothing_more_from_a_half_day,
        days_past_the_forecast_count_in_full_if_there_is_a_station,
        hours_past_the_forecast_are_left_out_of_mean_and_minimum,
        a_room_never_read_again_is_carried_forward_and_its_silent_past_counts_nothing,
        a_unit_in_a_closed_stay_never_read_has_no_fire_date,
        a_soaking_takes_its_day_and_two_more_and_standing_water_five,
        a_soaking_before_day_0_passes_its_days_on,
        a_day_wrapped_at_any_time_counts_nothing,
        facing_patching_and_a_fire_take_their_day,
        rain_on_a_capped_unit_counts_from_1_mm_and_from_5_mm_twice,
        rain_is_summed_over_the_day_in_which_its_hours_start,
        rain_on_an_indoor_or_covered_unit_does_not_count,
        rain_down_a_flue_without_a_cap_takes_two_more_days,
        a_cap_set_at_midnight_or_before_is_judged_by_when_the_day_began,
        rain_of_the_days_before_day_0_is_passed_on,
        an_hour_that_starts_covered_has_no_rain,
        more_than_6_uncovered_past_hours_without_a_figure_take_the_day,
        hours_ahead_without_a_rain_figure_are_not_unknown,
        forecast_rain_takes_days_ahead,
        an_hour_of_rain_in_a_half_hour_zone_belongs_to_the_day_in_which_it_starts,
        the_facing_counts_14_days_from_the_latest_of_it,
        mortared_facing_without_its_last_has_no_fire_date,
        a_patch_counts_28_days_or_7_with_initials,
        of_several_patches_the_one_that_ends_latest_is_shown,
        of_several_patches_without_an_end_the_first_begun_is_shown,
        a_fire_stops_the_clocks_begun_before_it_until_somebody_looked,
        a_fire_nobody_looked_at_keeps_the_date_away_from_newer_clocks_too,
        two_fires_need_a_look_after_the_second,
        a_redo_ends_the_drying_and_a_cap_set_after_it_starts_nothing,
        relaid_or_lined_again_begins_another_drying_after_a_redo,
        a_redo_wins_over_an_unlooked_fire,
        an_ended_facing_is_dropped_once_there_is_later_work,
        days_of_23_and_25_hours_count_as_one_each,
        the_missing_time_of_a_25_hour_day_is_elapsed_time,
        where_midnight_does_not_exist_the_day_begins_at_the_first_instant_there_is,
        where_midnight_comes_twice_the_day_begins_at_the_first,
        a_promise_lies_3_days_after_the_earliest_indoors_and_7_under_a_roof,
        an_accepted_drying_still_waits_for_28_whole_days,
        an_engineer_never_shortens_28_days_and_an_override_lengthens_them,
    };
    return case_run("days", tests, sizeof tests / sizeof *tests);
}
