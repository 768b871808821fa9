/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * What may start when, and why: hold points, last chances, half-built jobs, clocks, the crew's day.
 * Each test is one situation of the trade, made from records as a crew would write them.
 */
#include "network_case.h"

/* A warm pad, kit on site, with its build-on clock long open on Thursday 22 October. */
#define WARM_PAD                                                                                   \
    PASSED("footing-ready", "2026-10-15T09:00")                                                    \
    DONE("pad-steel", "2026-10-15T12:00")                                                          \
    PASSED("pad-inspect", "2026-10-16T09:00")                                                      \
    DONE("pad-pour", "2026-10-19T09:00")                                                           \
    ROOM("pad", "2026-10-19T09:00")                                                                \
    READ("pad", 70, "2026-10-19T09:00")                                                            \
    READ("pad", 70, "2026-10-20T08:00")                                                            \
    READ("pad", 70, "2026-10-21T07:00")                                                            \
    READ("pad", 70, "2026-10-22T06:00")                                                            \
    DONE("kit-receive", "2026-10-19T12:00")
#define THURSDAY "2026-10-22T07:30"
#define BOX_UP                                                                                     \
    PASSED("pad-check", "2026-10-20T10:00")                                                        \
    DONE("layout", "2026-10-20T11:00")                                                             \
    DONE("box-courses", "2026-10-20T15:00")

START_TEST(a_done_hold_point_is_check_it_and_releases_nothing)
{
    struct job_plan *plan =
        case_plan(THURSDAY, SLAB, UNIT_42, WARM_PAD DONE("pad-check", "2026-10-21T10:00"));
    ck_state(plan, PAD_CHECK, "check-it");
    ck_assert(plan->tasks[TASK_PAD_CHECK].held);
    ck_state(plan, LAYOUT, "not-yet");
    ck_start(plan, LAYOUT, "none");
    const struct reason *reason = because(&plan->tasks[TASK_LAYOUT], "after.pad-check");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_HOLD);
    ck_assert(reason->until_s == INSTANT_NONE);
}
END_TEST

START_TEST(a_passed_hold_point_releases_what_stands_behind_it)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB, UNIT_42,
                                      WARM_PAD DONE("pad-check", "2026-10-21T10:00")
                                          PASSED("pad-check", "2026-10-21T10:05"));
    ck_state(plan, PAD_CHECK, "passed");
    ck_state(plan, LAYOUT, "wait-over");
    ck_start(plan, LAYOUT, "2026-10-22 07:30");
    ck_finish(plan, LAYOUT, "2026-10-22 08:30");
}
END_TEST

START_TEST(a_done_right_after_the_pass_changes_nothing)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB, UNIT_42,
                                      WARM_PAD PASSED("pad-check", "2026-10-21T10:00")
                                          DONE("pad-check", "2026-10-21T10:05"));
    ck_state(plan, PAD_CHECK, "passed");
    ck_state(plan, LAYOUT, "wait-over");
}
END_TEST

START_TEST(a_later_failure_opens_a_pass_again)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB, UNIT_42,
                                      WARM_PAD PASSED("pad-check", "2026-10-20T10:00")
                                          FAILED("pad-check", "2026-10-21T10:00"));
    ck_state(plan, PAD_CHECK, "redo");
    ck_assert_int_ne(plan->tasks[TASK_LAYOUT].state, TASK_STATE_WAIT_OVER);
}
END_TEST

START_TEST(only_passed_releases_an_inspection)
{
    static const char *const result[] = {"passed", "passed-with-note", "failed", "not-come"};
    static const char *const state[] = {"passed", "check-it", "redo", "wait-over"};
    for (int i = 0; i < 4; i++) {
        const char *records = arena_print(
            case_intake.arena,
            PASSED("footing-ready", "2026-10-15T09:00")
                DONE("pad-steel",
                     "2026-10-15T12:00") "{\"kind\":\"inspection\",\"task\":\"pad-inspect\","
                                         "\"result\":\"%s\"" AT("2026-10-16T09:00"),
            result[i]);
        struct job_plan *plan = case_plan("2026-10-19T07:00", SLAB, UNIT_42, records);
        ck_state(plan, PAD_INSPECT, state[i]);
        ck_state(plan, PAD_POUR, i == 0 ? "wait-over" : "waiting-inspector");
    }
}
END_TEST

START_TEST(a_pass_older_than_it_may_be_has_to_be_looked_at_again)
{
    struct job_plan *plan =
        case_plan("2026-10-19T07:00", SLAB, UNIT_42,
                  DONE("pad-steel", "2026-10-01T12:00") PASSED("pad-inspect", "2026-10-02T09:00"));
    ck_state(plan, PAD_POUR, "check-it");
    ck_start(plan, PAD_POUR, "none");
    ck_assert_int_eq(plan->tasks[TASK_PAD_POUR].because[0].kind, REASON_LOOK);
}
END_TEST

START_TEST(failed_work_under_finished_work_holds_back_what_comes_after_both)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB, UNIT_42,
                                      WARM_PAD DONE("pad-check", "2026-10-20T10:00")
                                          DONE("layout", "2026-10-20T11:00"));
    ck_state(plan, LAYOUT, "done");
    ck_state(plan, BOX_COURSES, "not-yet");
    const struct reason *reason = because(&plan->tasks[TASK_BOX_COURSES], "hold.pad-check");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->task, TASK_PAD_CHECK);
}
END_TEST

#define AIR SLAB ",\"outside_air\":true"

START_TEST(the_last_chance_comes_before_what_closes_it_in)
{
    struct job_plan *plan = case_plan(THURSDAY, AIR, UNIT_42,
                                      WARM_PAD PASSED("pad-check", "2026-10-20T10:00")
                                          DONE("layout", "2026-10-20T11:00"));
    ck_state(plan, AIR_CUT, "wait-over");
    ck_assert_int_ne(plan->tasks[TASK_BOX_COURSES].state, TASK_STATE_WAIT_OVER);
    const struct reason *reason = because(&plan->tasks[TASK_BOX_COURSES], "before.air-cut");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_LAST_CHANCE);
    ck_assert(plan->tasks[TASK_BOX_COURSES].start_s >= plan->tasks[TASK_AIR_CUT].finish_s);
    ck_assert(!cautioned(plan, CAUTION_LAST_CHANCE_MISSED, TASK_AIR_CUT));
}
END_TEST

START_TEST(a_missed_last_chance_blocks_what_follows_until_it_is_done)
{
#define NO_CUT BOX_UP DONE("throat-set", "2026-10-21T09:00")
    struct job_plan *plan = case_plan(THURSDAY, AIR, UNIT_42, WARM_PAD NO_CUT);
    ck_assert(cautioned(plan, CAUTION_LAST_CHANCE_MISSED, TASK_AIR_CUT));
    ck_state(plan, AIR_CUT, "check-it");
    ck_start(plan, LINTEL_IRON, "none");
    ck_start(plan, LINE_FLOOR, "none");
    const struct reason *reason = because(&plan->tasks[TASK_LINTEL_IRON], "before.air-cut");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_MISSED);
    plan = case_plan(THURSDAY, AIR, UNIT_42, WARM_PAD NO_CUT DONE("air-cut", "2026-10-21T10:00"));
    ck_assert(!cautioned(plan, CAUTION_LAST_CHANCE_MISSED, TASK_AIR_CUT));
    ck_state(plan, LINTEL_IRON, "wait-over");
}
END_TEST

START_TEST(a_missed_last_chance_reaches_through_work_that_went_on)
{
    struct job_plan *plan =
        case_plan("2026-11-20T08:00", OLD_SLAB ",\"permit\":false,\"lighter\":\"flush\"", UNIT_42,
                  DONE("chimney-run", "2026-10-01T12:00") DONE("cap-set", "2026-10-01T14:00")
                      DONE("line-clean", "2026-10-05T14:00"));
    ck_state(plan, LINE_FLOOR, "done");
    ck_assert(cautioned(plan, CAUTION_LAST_CHANCE_MISSED, TASK_LIGHTER_FLUSH));
    ck_state(plan, LIGHTER_FLUSH, "check-it");
    ck_start(plan, HANDOVER, "none");
    ck_start(plan, FIRE_1, "none");
}
END_TEST

START_TEST(a_job_entered_half_built_shows_what_later_work_shows)
{
    struct job_plan *plan =
        case_plan("2026-10-09T10:00", OLD_SLAB ",\"permit\":false", UNIT_42,
                  DONE("chimney-run", "2026-10-01T12:00") DONE("cap-set", "2026-10-01T14:00")
                      DONE("line-clean", "2026-10-05T14:00"));
    ck_state(plan, LAYOUT, "done");
    ck_assert(plan->tasks[TASK_LAYOUT].done_s == INSTANT_NONE);
    ck_state(plan, PAD_CHECK, "done");
    ck_state(plan, SITE_WALK, "done");
    ck_state(plan, TAG_HANG, "wait-over");
    ck_state(plan, HEARTH_EXT, "wait-over");
    ck_assert(plan->tasks[TASK_LINE_CLEAN].done_s != INSTANT_NONE);
}
END_TEST

START_TEST(an_inspection_is_never_taken_as_passed_from_later_work)
{
    struct job_plan *plan =
        case_plan("2026-10-21T10:00", SLAB, UNIT_42, DONE("pad-pour", "2026-10-19T09:00"));
    ck_state(plan, PAD_STEEL, "done");
    ck_state(plan, PAD_INSPECT, "check-it");
    ck_assert(plan->tasks[TASK_PAD_INSPECT].held);
}
END_TEST

START_TEST(work_done_ahead_of_its_clock_does_not_pull_the_next_work_forward)
{
    struct job_plan *plan = case_plan(
        "2026-10-19T14:00", SLAB, UNIT_42,
        DONE("pad-pour", "2026-10-19T07:00") READ("pad", 70, "2026-10-19T07:00")
            PASSED("pad-check", "2026-10-19T12:00") DONE("kit-receive", "2026-10-19T12:00")
                DONE("layout", "2026-10-19T13:00"));
    const struct reason *reason = because(&plan->tasks[TASK_BOX_COURSES], "pad.build-on");
    ck_assert_ptr_nonnull(reason);
    ck_state(plan, BOX_COURSES, "waiting-cure");
    if (reason->until_s != INSTANT_NONE)
        ck_assert(plan->tasks[TASK_BOX_COURSES].start_s >= reason->until_s);
}
END_TEST

START_TEST(a_new_pad_makes_the_check_of_the_old_one_worth_nothing)
{
    struct job_plan *plan =
        case_plan("2026-10-26T08:00", SLAB, UNIT_42,
                  WARM_PAD PASSED("pad-check", "2026-10-21T10:00")
                      DONE("pad-pour", "2026-10-23T10:00") READ("pad", 70, "2026-10-23T10:00")
                          READ("pad", 70, "2026-10-24T09:00") READ("pad", 70, "2026-10-25T09:00"));
    ck_state(plan, PAD_CHECK, "redo");
    ck_assert_int_ne(plan->tasks[TASK_LAYOUT].state, TASK_STATE_WAIT_OVER);
}
END_TEST

START_TEST(a_look_that_says_redo_opens_the_pour_again)
{
    struct job_plan *plan = case_plan(
        "2026-10-22T07:30", SLAB, UNIT_42,
        WARM_PAD PASSED("pad-check", "2026-10-21T10:00") "{\"kind\":\"looked\",\"part\":\"pad\","
                                                         "\"result\":\"redo\",\"by\":\"Wren\"" AT(
                                                             "2026-10-21T12:00"));
    ck_state(plan, PAD_POUR, "redo");
    ck_state(plan, PAD_CHECK, "redo");
    ck_assert_int_ne(plan->tasks[TASK_LAYOUT].state, TASK_STATE_WAIT_OVER);
}
END_TEST

/* Poured Monday 12:00 in a 68 F room: 24 h and 24 warm hours end Tuesday 12:00, at lunch. */
static struct job_plan *opens_at_noon(const char *drive)
{
    return case_plan("2026-10-19T14:00", SLAB ",\"permit\":false",
                     arena_print(case_intake.arena, "\"pad_ft2\":24,\"drive_h\":%s", drive),
                     DONE("pad-pour", "2026-10-19T12:00") ROOM("pad", "2026-10-19T12:00")
                         READ("pad", 70, "2026-10-19T12:00"));
}

START_TEST(a_crew_near_by_starts_when_two_hours_are_left)
{
    struct job_plan *plan = opens_at_noon("0.4");
    ck_assert_str_eq(wall(plan->tasks[TASK_PAD_CHECK].opens_s), "2026-10-20 12:00");
    ck_start(plan, PAD_CHECK, "2026-10-20 12:30"); /* 3 h are left after lunch */
    ck_state(plan, PAD_CHECK, "waiting-cure");
}
END_TEST

START_TEST(a_crew_that_drives_far_comes_the_next_day)
{
    struct job_plan *plan = opens_at_noon("0.6");
    ck_assert_str_eq(wall(plan->tasks[TASK_PAD_CHECK].opens_s), "2026-10-20 12:00");
    ck_start(plan, PAD_CHECK, "2026-10-21 07:00");
    const struct reason *reason = because(&plan->tasks[TASK_PAD_CHECK], "drive");
    ck_assert_ptr_nonnull(reason);
    ck_assert_double_eq_tol(reason->have, 3.0, 1e-9);
    ck_assert_double_eq_tol(reason->need, 4.0, 1e-9);
    reason = because(&plan->tasks[TASK_PAD_CHECK], "pad.build-on");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_CLOCK);
    ck_assert_double_eq_tol(reason->need, 24.0, 1e-9);
}
END_TEST

START_TEST(a_crew_that_goes_on_needs_no_hours_left)
{
    struct job_plan *plan =
        case_plan(THURSDAY, SLAB, UNIT_42, WARM_PAD PASSED("pad-check", "2026-10-21T10:00"));
    ck_start(plan, LAYOUT, "2026-10-22 07:30");
    ck_start(plan, BOX_COURSES, "2026-10-22 08:30");
    ck_finish(plan, BOX_COURSES, "2026-10-22 11:45"); /* 0.25 + 5 x 0.6 h */
    ck_start(plan, THROAT_SET, "2026-10-22 11:45");
    ck_finish(plan, THROAT_SET, "2026-10-22 13:45"); /* over lunch */
    ck_start(plan, LINTEL_IRON, "2026-10-22 11:45");
    ck_start(plan, SMOKE_CHAMBER, "2026-10-22 14:15");
    ck_finish(plan, SMOKE_CHAMBER, "2026-10-23 07:21"); /* 1.6 h over the night */
}
END_TEST

START_TEST(a_clock_ahead_counts_from_the_planned_work_at_its_least)
{
    struct job_plan *plan =
        case_plan(THURSDAY, SLAB, UNIT_42, WARM_PAD PASSED("pad-check", "2026-10-21T10:00"));
    /* transition set Friday 07:21 + 0.75 h = 08:06; 16 h later is Saturday 00:06, up to 01:00 */
    ck_finish(plan, TRANSITION_SET, "2026-10-23 08:06");
    const struct reason *reason = because(&plan->tasks[TASK_CHIMNEY_RUN], "bed.set");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_CLOCK_NOT_STARTED);
    ck_assert_str_eq(wall(reason->until_s), "2026-10-24 01:00");
    ck_start(plan, CHIMNEY_RUN, "2026-10-26 07:00");
    ck_finish(plan, CHIMNEY_RUN, "2026-10-27 10:07"); /* 7.3 h: 8 ft, then 6 ft */
}
END_TEST

START_TEST(an_open_clock_that_work_ahead_starts_again_is_waited_for_again)
{
    struct job_plan *plan = case_plan(
        "2026-10-26T07:00", SLAB, UNIT_42,
        WARM_PAD BOX_UP ROOM("unit", "2026-10-20T15:00") READ("unit", 70, "2026-10-20T15:00")
            READ("unit", 70, "2026-10-21T14:00") READ("unit", 70, "2026-10-22T13:00"));
    const struct reason *reason = because(&plan->tasks[TASK_LINE_FLOOR], "joints.early");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_CLOCK_NOT_STARTED); /* the chimney's joints count anew */
    const struct task_plan *chimney = &plan->tasks[TASK_CHIMNEY_RUN];
    ck_assert(chimney->finish_s != INSTANT_NONE);
    ck_assert(plan->tasks[TASK_LINE_FLOOR].start_s >= chimney->finish_s + 24 * 3600);
}
END_TEST

START_TEST(a_missing_quantity_is_a_caution_and_gives_no_finish)
{
    struct job_plan *plan =
        case_plan(THURSDAY, SLAB, "\"courses\":5,\"pad_ft2\":24,\"pallets\":4,\"drive_h\":0.2",
                  WARM_PAD PASSED("pad-check", "2026-10-21T10:00"));
    ck_assert(isnan(plan->tasks[TASK_CHIMNEY_RUN].hours));
    ck_start(plan, CHIMNEY_RUN, "2026-10-26 07:00");
    ck_finish(plan, CHIMNEY_RUN, "none");
    ck_assert(cautioned(plan, CAUTION_MISSING_QUANTITY, TASK_CHIMNEY_RUN));
    ck_assert(plan->tasks[TASK_CAP_SET].start_s > plan->tasks[TASK_CHIMNEY_RUN].start_s);
    ck_assert(!cautioned(plan, CAUTION_MISSING_QUANTITY, TASK_BOX_COURSES));
    ck_assert(!cautioned(plan, CAUTION_MISSING_QUANTITY, TASK_PAD_POUR)); /* it is done */
}
END_TEST

START_TEST(the_hours_of_a_42_inch_unit_are_those_worked_by_hand)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB ",\"lining\":\"thick\"", UNIT_42, WARM_PAD);
    ck_assert_double_eq_tol(plan->tasks[TASK_BOX_COURSES].hours, 3.25, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_CHIMNEY_RUN].hours, 7.3, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_LINE_FLOOR].hours, 2.46, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_LINE_BACK].hours, 3.6, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_LINE_SIDES].hours, 5.18, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_PAD_POUR].hours, 1 + 0.75 * 24 * 6 / 12 / 27, 1e-9);
    plan = case_plan(THURSDAY, SLAB ",\"lining\":\"thin\"", UNIT_42, WARM_PAD);
    ck_assert_double_eq_tol(plan->tasks[TASK_LINE_FLOOR].hours, 2.46 * 0.85, 1e-9);
    ck_assert_double_eq_tol(plan->tasks[TASK_LINE_CLEAN].hours, 1.0, 1e-9);
}
END_TEST

/* A lined unit in a warm room, last wet work Tuesday 1 September 2026: fire date 30 September. */
#define LINED                                                                                      \
    ROOM("unit", "2026-08-20T08:00")                                                               \
    DONE("chimney-run", "2026-08-27T12:00")                                                        \
    DONE("cap-set", "2026-08-27T14:00")                                                            \
    DONE("line-clean", "2026-09-01T14:00")                                                         \
    DONE("hearth-ext", "2026-09-02T14:00")                                                         \
    "{\"kind\":\"reading\",\"part\":\"unit\",\"how\":\"thermostat\",\"degf\":68" AT(               \
        "2026-09-01T08:00")

START_TEST(the_first_fire_stands_on_the_day_the_cure_is_complete)
{
    struct job_plan *plan =
        case_plan("2026-09-02T15:00", OLD_SLAB ",\"permit\":false", UNIT_42, LINED);
    ck_assert_int_eq(plan->fire.cure_complete_day, civil_day(2026, 9, 30));
    ck_state(plan, CURE_WATCH, "working");
    ck_start(plan, HANDOVER, "2026-09-30 07:00");
    ck_start(plan, FIRE_1, "2026-09-30 08:00"); /* after the handover */
    ck_start(plan, FIRE_2, "2026-10-01 08:45"); /* 24 h after the first is out */
    ck_state(plan, FIRE_1, "waiting-cure");
}
END_TEST

START_TEST(a_reported_fire_leaves_no_fire_a_date)
{
    struct job_plan *plan = case_plan("2026-09-12T15:00", OLD_SLAB ",\"permit\":false", UNIT_42,
                                      LINED "{\"kind\":\"lit\"" AT("2026-09-10T20:00"));
    ck_state(plan, FIRE_1, "check-it");
    ck_start(plan, FIRE_1, "none");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "lit"));
    ck_start(plan, FIRE_2, "none");
    ck_state(plan, HANDOVER, "check-it");
}
END_TEST

START_TEST(an_unfinished_facing_leaves_no_fire_a_date)
{
    struct job_plan *plan =
        case_plan("2026-09-12T15:00", OLD_SLAB ",\"permit\":false,\"facing\":\"mortared\"", UNIT_42,
                  LINED "{\"kind\":\"facing\"" AT("2026-09-10T15:00"));
    ck_start(plan, FIRE_1, "none");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "facing"));
    ck_state(plan, FACING_OTHERS, "working");
}
END_TEST

#define WARM_MONTH                                                                                 \
    NOTE("2026-09-08T08:00")                                                                       \
    NOTE("2026-09-15T08:00")                                                                       \
    NOTE("2026-09-22T08:00")                                                                       \
    NOTE("2026-09-29T08:00")                                                                       \
    DONE("handover", "2026-10-01T09:00")
#define NOTE(at) "{\"kind\":\"reading\",\"part\":\"unit\",\"how\":\"thermostat\",\"degf\":68" AT(at)

START_TEST(a_fire_that_steamed_is_made_again_after_three_counted_days)
{
    struct job_plan *plan = case_plan(
        "2026-10-10T12:00", OLD_SLAB ",\"permit\":false", UNIT_42,
        LINED WARM_MONTH NOTE("2026-10-06T08:00") "{\"kind\":\"fire\",\"number\":1,\"sign\":"
                                                  "\"steam\"" AT("2026-10-10T10:00"));
    ck_state(plan, FIRE_1, "redo");
    ck_start(plan, FIRE_1, "2026-10-14 07:00"); /* the 11th, 12th and 13th count */
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "fire.rest"));
    ck_assert_int_ne(plan->tasks[TASK_FIRE_2].state, TASK_STATE_WAIT_OVER);
}
END_TEST

START_TEST(the_night_cover_is_due_until_the_joints_are_covered)
{
#define COVERED_PLACE "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"covered\""
    struct job_plan *plan = case_plan("2026-10-20T15:10", COVERED_PLACE, UNIT_42, WARM_PAD BOX_UP);
    ck_state(plan, NIGHT_COVER, "wait-over");
    ck_start(plan, NIGHT_COVER, "2026-10-20 15:10");
    plan = case_plan("2026-10-20T15:20", COVERED_PLACE, UNIT_42,
                     WARM_PAD BOX_UP "{\"kind\":\"covered\"" AT("2026-10-20T15:15"));
    ck_state(plan, NIGHT_COVER, "done");
    plan = case_plan("2026-10-20T15:25", COVERED_PLACE, UNIT_42,
                     WARM_PAD BOX_UP "{\"kind\":\"covered\"" AT(
                         "2026-10-20T15:15") "{\"kind\":\"uncovered\"" AT("2026-10-20T15:20"));
    ck_state(plan, NIGHT_COVER, "wait-over");
    plan = case_plan("2026-10-20T15:10", SLAB, UNIT_42, WARM_PAD BOX_UP);
    ck_state(plan, NIGHT_COVER, "not-needed");
}
END_TEST

START_TEST(forms_stay_on_while_frost_is_forecast)
{
    struct job_plan *plan =
        case_plan("2026-10-20T07:30", SLAB, UNIT_42,
                  DONE("pad-pour", "2026-10-19T07:00") ROOM("pad", "2026-10-19T07:00")
                      READ("pad", 55, "2026-10-19T07:00") READ("pad", 55, "2026-10-20T07:00"));
    ck_state(plan, PAD_STRIP, "wait-over"); /* 15 warm hours of 12, 24 h */
    struct caution frost = {.caution = CAUTION_FROST_AHEAD, .part = PART_PAD, .task = TASK_NONE};
    struct facts facts;
    facts_gather(&facts, the_job, the_company, book, the_now_s, case_intake.arena);
    plan->cautions = &frost;
    plan->caution_count = 1;
    network_plan(plan, &facts);
    ck_state(plan, PAD_STRIP, "waiting-weather");
    const struct reason *reason = because(&plan->tasks[TASK_PAD_STRIP], "pad.first-frost");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_FROST_AHEAD);
    ck_assert(plan->tasks[TASK_PAD_STRIP].start_s >= reason->until_s);
}
END_TEST

START_TEST(a_held_date_is_not_moved_forward)
{
    struct job_plan *plan = case_plan(
        THURSDAY, SLAB, UNIT_42,
        WARM_PAD PASSED("pad-check", "2026-10-21T10:00") "{\"kind\":\"held-date\",\"task\":"
                                                         "\"layout\",\"date\":\"2026-10-28\"" AT(
                                                             "2026-10-21T11:00"));
    ck_start(plan, LAYOUT, "2026-10-28 07:00");
    ck_assert_str_eq(plan->tasks[TASK_LAYOUT].because[0].rule, "held-date");
}
END_TEST

START_TEST(an_inspection_is_asked_for_by_the_cutoff_of_the_day_before)
{
#define TOWN SLAB ",\"town\":{\"request_cutoff\":\"14:00\"}"
#define STEEL PASSED("footing-ready", "2026-10-15T09:00") DONE("pad-steel", "2026-10-15T12:00")
    struct job_plan *plan = case_plan("2026-10-19T13:00", TOWN, UNIT_42, STEEL);
    ck_start(plan, PAD_INSPECT, "2026-10-20 07:00");
    plan = case_plan("2026-10-19T14:30", TOWN, UNIT_42, STEEL);
    ck_start(plan, PAD_INSPECT, "2026-10-21 07:00");
    plan = case_plan("2026-10-19T14:30", TOWN, UNIT_42,
                     STEEL "{\"kind\":\"booked\",\"task\":\"pad-inspect\",\"date\":"
                           "\"2026-10-20\"" AT("2026-10-16T10:00"));
    ck_start(plan, PAD_INSPECT, "2026-10-20 07:00");
    ck_state(plan, PAD_INSPECT, "waiting-inspector");
}
END_TEST

START_TEST(a_cover_that_is_overdue_is_due_now)
{
    struct job_plan *plan =
        case_plan("2026-10-20T14:30", SLAB, UNIT_42, DONE("pad-pour", "2026-10-19T13:00"));
    ck_state(plan, PAD_PROTECT, "wait-over");
    ck_start(plan, PAD_PROTECT, "2026-10-20 14:30"); /* with an hour of the day left */
}
END_TEST

START_TEST(the_pour_leaves_room_to_cover_the_pad_the_same_day)
{
    struct job_plan *plan = case_plan("2026-10-19T07:00", SLAB ",\"permit\":false", UNIT_42,
                                      DONE("pad-steel", "2026-10-16T12:00"));
    ck_assert_int_eq(civil_day_of(the_job->zone, plan->tasks[TASK_PAD_POUR].start_s),
                     civil_day_of(the_job->zone, plan->tasks[TASK_PAD_PROTECT].finish_s));
    plan = case_plan("2026-10-19T12:30", SLAB ",\"permit\":false",
                     "\"pad_ft2\":100,\"pad_thickness_in\":6,\"drive_h\":0.1",
                     DONE("pad-steel", "2026-10-16T12:00"));
    /* 1 + 0.75 x 1.85 = 2.39 h and the cover: 2.89 h of the 3 h left */
    ck_start(plan, PAD_POUR, "2026-10-19 12:30");
    plan = case_plan("2026-10-19T12:45", SLAB ",\"permit\":false",
                     "\"pad_ft2\":100,\"pad_thickness_in\":6,\"drive_h\":0.1",
                     DONE("pad-steel", "2026-10-16T12:00"));
    ck_start(plan, PAD_POUR, "2026-10-20 07:00");
}
END_TEST

START_TEST(every_task_stands_in_the_plan_and_the_unneeded_ones_are_marked)
{
    struct job_plan *plan = case_plan(THURSDAY, SLAB, UNIT_42, WARM_PAD);
    for (int t = 0; t < TASK_COUNT; t++) ck_assert_int_eq(plan->tasks[t].task, t);
    ck_state(plan, TOWER_BLOCK, "not-needed");
    ck_state(plan, AIR_CUT, "not-needed");
    ck_state(plan, LIGHTER_TOP, "not-needed");
    ck_state(plan, FINAL_INSPECT, "not-yet");
}
END_TEST

START_TEST(a_stopped_task_is_stopped_and_a_started_one_works)
{
    struct job_plan *plan = case_plan("2026-10-22T10:00", SLAB, UNIT_42,
                                      WARM_PAD PASSED("pad-check", "2026-10-21T10:00")
                                          STARTED("layout", "2026-10-22T08:00"));
    ck_state(plan, LAYOUT, "working");
    ck_start(plan, LAYOUT, "2026-10-22 08:00");
    ck_finish(plan, LAYOUT, "2026-10-22 10:00"); /* an hour of work, but it still goes on */
    plan = case_plan("2026-10-22T10:00", SLAB, UNIT_42,
                     WARM_PAD PASSED("pad-check", "2026-10-21T10:00")
                         STARTED("layout", "2026-10-22T08:00")
                             OF("stopped", "layout", "2026-10-22T08:30"));
    ck_state(plan, LAYOUT, "stopped");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_LAYOUT], "stopped"));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_done_hold_point_is_check_it_and_releases_nothing,
        a_passed_hold_point_releases_what_stands_behind_it,
        a_done_right_after_the_pass_changes_nothing,
        a_later_failure_opens_a_pass_again,
        only_passed_releases_an_inspection,
        a_pass_older_than_it_may_be_has_to_be_looked_at_again,
        failed_work_under_finished_work_holds_back_what_comes_after_both,
        the_last_chance_comes_before_what_closes_it_in,
        a_missed_last_chance_blocks_what_follows_until_it_is_done,
        a_missed_last_chance_reaches_through_work_that_went_on,
        a_job_entered_half_built_shows_what_later_work_shows,
        an_inspection_is_never_taken_as_passed_from_later_work,
        work_done_ahead_of_its_clock_does_not_pull_the_next_work_forward,
        a_new_pad_makes_the_check_of_the_old_one_worth_nothing,
        a_look_that_says_redo_opens_the_pour_again,
        a_crew_near_by_starts_when_two_hours_are_left,
        a_crew_that_drives_far_comes_the_next_day,
        a_crew_that_goes_on_needs_no_hours_left,
        a_clock_ahead_counts_from_the_planned_work_at_its_least,
        an_open_clock_that_work_ahead_starts_again_is_waited_for_again,
        a_missing_quantity_is_a_caution_and_gives_no_finish,
        the_hours_of_a_42_inch_unit_are_those_worked_by_hand,
        the_first_fire_stands_on_the_day_the_cure_is_complete,
        a_reported_fire_leaves_no_fire_a_date,
        an_unfinished_facing_leaves_no_fire_a_date,
        a_fire_that_steamed_is_made_again_after_three_counted_days,
        the_night_cover_is_due_until_the_joints_are_covered,
        forms_stay_on_while_frost_is_forecast,
        a_held_date_is_not_moved_forward,
        an_inspection_is_asked_for_by_the_cutoff_of_the_day_before,
        a_cover_that_is_overdue_is_due_now,
        the_pour_leaves_room_to_cover_the_pad_the_same_day,
        every_task_stands_in_the_plan_and_the_unneeded_ones_are_marked,
        a_stopped_task_is_stopped_and_a_started_one_works,
    };
    return case_run("network", tests, sizeof tests / sizeof *tests);
}
