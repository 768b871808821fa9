/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * Edges of clocks where an easier rule would be wrong: who may shorten what, which bag, what
 * happens at one and the same instant, whose record it is. Poured at midnight on Monday 5 January
 * in a room at 20 degC unless a test says otherwise, so that an hour earns one.
 */
#include "clock_case.h"

#define MONDAY POUR("2026-01-05T00:00")
#define ROOM_ON CLOSE("pad", "room", "2026-01-05T00:00")
#define WARM MONDAY ROOM_ON DEGC("pad", "thermostat", 20, "2026-01-05T00:00")
#define LINED                                                                                      \
    CLOSE("unit", "room", "2026-01-01T00:00")                                                      \
    WORK("chimney-run", "2026-01-04T10:00")                                                        \
    WORK("cap-set", "2026-01-04T12:00") WORK("line-clean", "2026-01-05T15:00")
#define UNIT_NOTES                                                                                 \
    DEGF("unit", "thermostat", 68, "2026-01-05T09:00")                                             \
    DEGF("unit", "thermostat", 68, "2026-01-12T09:00")

START_TEST(an_engineer_does_not_touch_a_practice_floor_that_the_town_lengthened)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T01:00", .options = SLAB ",\"town\":{\"build_on_floor_h\":36}",
                  .records = WARM ENGINEER("pad.build-on", "\"floor_h\":12", "2026-01-05T00:30"));
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 12:00");
    ck_assert(warned(plan, CAUTION_ENGINEER_HELD_TO_FLOOR));
}
END_TEST

START_TEST(a_lot_whose_card_names_no_minimum_goes_by_50_f)
{
    /* 45 F is over lot 7's 40 F, but lot 8 is in use and says nothing: under 50 F nothing counts */
    const char *now = "2026-01-05T12:00";
    struct job_plan *plan =
        plan_told(.now = now, .records = CLOSE("unit", "room", "2026-01-05T00:00")
                                  DEGF("unit", "probe", 45, "2026-01-05T00:00")
                                      BAG("hydraulic", 40, "2026-01-04T08:00")
                                          WITH("bag", "\"lot\":\"8\"", "2026-01-04T09:00")
                                              WORK("line-sides", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_LINING_EARLY, 0);
    plan = plan_told(.now = now, .records = CLOSE("unit", "room", "2026-01-05T00:00")
                                     DEGF("unit", "probe", 45, "2026-01-05T00:00")
                                         BAG("hydraulic", 40, "2026-01-04T08:00")
                                             WORK("line-sides", "2026-01-05T00:00"));
    ck_have(plan, CLOCK_LINING_EARLY, 12 * (13 / 1.8) / 20);
}
END_TEST

START_TEST(a_soaking_at_the_instant_of_the_look_stops_again)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T09:00", .records = WARM SOAKED("pad", "2026-01-05T04:00")
                                                 SOAKED("pad", "2026-01-05T06:00")
                                                     LOOK("pad", "2026-01-05T06:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "check-it");
    ck_have(plan, CLOCK_PAD_BUILD_ON, 4);
}
END_TEST

START_TEST(a_shelter_changed_for_its_like_at_one_instant_is_the_same_stay)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00",
                                      .records = WARM TAKE_OFF("pad", "room", "2026-01-05T06:00")
                                          CLOSE("pad", "enclosure", "2026-01-05T06:00"));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 12);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-06 00:00");
    plan = plan_told(.now = "2026-01-05T12:00",
                     .records = WARM TAKE_OFF("pad", "room", "2026-01-05T06:00")
                         CLOSE("pad", "enclosure", "2026-01-05T06:01"));
    ck_have(plan, CLOCK_PAD_BUILD_ON, 6);
    ck_assert(clock_in(plan, CLOCK_PAD_BUILD_ON)->crossing_s == INSTANT_NONE);
}
END_TEST

START_TEST(a_wet_cover_of_the_footing_is_none_of_the_pad)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00",
                  .records = WARM WITH("wet-cover-on", "\"part\":\"footing\"", "2026-01-05T01:00"));
    ck_assert(!has_clock(plan, CLOCK_PAD_MOIST_CURE));
    plan = plan_told(.now = "2026-01-05T12:00",
                     .records = WARM WITH("wet-cover-on", "\"part\":\"pad\"", "2026-01-05T01:00"));
    ck_have(plan, CLOCK_PAD_MOIST_CURE, 11);
}
END_TEST

START_TEST(a_facing_dropped_once_stays_dropped)
{
    const char *twice = LINED UNIT_NOTES PLAIN("facing", "2026-01-06T10:00")
        REDO("unit", "2026-01-07T10:00") WITH("relaid", "\"what\":\"floor\"", "2026-01-08T10:00")
            REDO("unit", "2026-01-09T10:00");
    struct job_plan *plan = plan_told(.now = "2026-01-12T12:00", .records = twice);
    ck_assert(!has_clock(plan, CLOCK_UNIT_FACING_CURE));
    ck_clock(plan, CLOCK_UNIT_DRY_CURE, "ended");
    ck_fire(plan, "none");
}
END_TEST

START_TEST(an_owner_who_lengthens_first_frost_does_not_move_the_frost_test)
{
    /* -2 degC at 30 warm hours: past the test's 24, short of the owner's 40 */
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T08:00",
                  .records = WARM OVERRIDDEN("pad.first-frost", "\"need\":40", "2026-01-05T01:00")
                      DEGC("pad", "probe", 20, "2026-01-06T05:59")
                          DEGC("pad", "probe", -2, "2026-01-06T07:30"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "open");
    ck_clock(plan, CLOCK_PAD_FIRST_FROST, "running");
}
END_TEST

START_TEST(a_floor_somebody_put_on_a_clock_of_days_is_kept)
{
    /* 28 days are full on 2 February; 720 h after 5 January 15:00 is 4 February 15:00 */
    struct job_plan *plan = plan_told(.now = "2026-01-12T12:00", .records = LINED UNIT_NOTES);
    ck_cross(plan, CLOCK_UNIT_DRY_CURE, "2026-02-03 00:00");
    plan = plan_told(.now = "2026-01-12T12:00",
                     .records = LINED UNIT_NOTES OVERRIDDEN("unit.dry-cure", "\"floor_h\":720",
                                                            "2026-01-06T08:00"));
    ck_cross(plan, CLOCK_UNIT_DRY_CURE, "2026-02-05 00:00");
    ck_fire(plan, "2026-02-05");
}
END_TEST

START_TEST(readings_of_one_instant_disagree_from_the_lowest_to_the_highest)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T03:00",
                  .records = MONDAY ROOM_ON DEGF("pad", "probe", 54, "2026-01-05T01:00")
                      DEGF("pad", "surface", 50, "2026-01-05T01:00")
                          DEGF("pad", "air", 45, "2026-01-05T01:00"));
    ck_assert(warned(plan, CAUTION_READINGS_DISAGREE));
    plan = plan_told(.now = "2026-01-05T03:00",
                     .records = MONDAY ROOM_ON DEGF("pad", "probe", 50, "2026-01-05T01:00")
                         DEGF("pad", "surface", 58, "2026-01-05T01:30")
                             DEGF("pad", "air", 59, "2026-01-05T01:30"));
    ck_assert(warned(plan, CAUTION_READINGS_DISAGREE));
}
END_TEST

START_TEST(a_part_nobody_asked_about_has_no_temperature)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T01:00", .records = WARM);
    ck_assert(isnan(plan->parts[PART_FOOTING].temp_now_degc));
    ck_assert_double_eq_tol(plan->parts[PART_PAD].temp_now_degc, 20, 1e-9);
}
END_TEST

START_TEST(the_date_to_give_is_the_margin_after_the_earliest)
{
    struct job_plan *plan = plan_told(.now = "2026-01-12T12:00", .records = LINED UNIT_NOTES);
    ck_assert_str_eq(date_of(plan->fire.earliest_day), "2026-02-03");
    ck_assert_str_eq(date_of(plan->fire.promise_day), "2026-02-06");
    plan = plan_told(.now = "2026-01-12T12:00", .options = EXPOSED, .records = LINED UNIT_NOTES);
    ck_assert_str_eq(date_of(plan->fire.promise_day), "none");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        an_engineer_does_not_touch_a_practice_floor_that_the_town_lengthened,
        a_lot_whose_card_names_no_minimum_goes_by_50_f,
        a_soaking_at_the_instant_of_the_look_stops_again,
        a_shelter_changed_for_its_like_at_one_instant_is_the_same_stay,
        a_wet_cover_of_the_footing_is_none_of_the_pad,
        a_facing_dropped_once_stays_dropped,
        an_owner_who_lengthens_first_frost_does_not_move_the_frost_test,
        a_floor_somebody_put_on_a_clock_of_days_is_kept,
        readings_of_one_instant_disagree_from_the_lowest_to_the_highest,
        a_part_nobody_asked_about_has_no_temperature,
        the_date_to_give_is_the_margin_after_the_earliest,
    };
    return case_run("clock-edges", tests, sizeof tests / sizeof *tests);
}
