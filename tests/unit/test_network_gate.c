/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * How the weather holds work back, and the lists made of it: starts, finishes, reasons with their
 * figures, tonight, the pour's answer, lost half-days. Hour h of the sky is 06:00 + h on Tuesday.
 */
#include "gate_case.h"

#define EXPOSED "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"exposed\",\"permit\":false"
#define BASE_READY                                                                                 \
    DONE("order-kit", "2026-10-12T09:00")                                                          \
    PASSED("footing-ready", "2026-10-15T09:00")                                                    \
    PASSED("pad-steel", "2026-10-16T12:00") PASSED("kit-receive", "2026-10-16T12:00")
/* The pad is old and warm, the box is next. */
#define BOX_NEXT                                                                                   \
    BASE_READY DONE("pad-pour", "2026-10-06T09:00") DONE("pad-protect", "2026-10-06T11:00")        \
        DONE("pad-strip", "2026-10-08T11:00") PASSED("pad-check", "2026-10-12T09:00")              \
            PASSED("layout", "2026-10-19T09:00")
#define STACK_NEXT                                                                                 \
    BOX_NEXT PASSED("box-courses", "2026-10-12T15:00") PASSED("throat-set", "2026-10-13T09:00")    \
        DONE("lintel-iron", "2026-10-13T10:00") PASSED("damper-set", "2026-10-13T10:30")           \
            PASSED("smoke-chamber", "2026-10-13T12:00") DONE("transition-set", "2026-10-13T13:00")

START_TEST(a_windy_morning_puts_the_box_off_until_two_hours_in_a_row_are_open)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, 4, 30); /* to 10:00 */
    sky.gust_mph[5] = 30;             /* 11:00: one open hour is not worth it */
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-20 12:30"); /* 12:00 is lunch */
    ck_state(plan, BOX_COURSES, "waiting-weather");
    const struct reason *reason = because(&plan->tasks[TASK_BOX_COURSES], "gate.gust");
    ck_assert_ptr_nonnull(reason);
    ck_assert_int_eq(reason->kind, REASON_WEATHER);
    ck_assert_int_eq(reason->until_s, plan->tasks[TASK_BOX_COURSES].start_s);
    ck_assert_double_eq_tol(reason->have, 30, 0.001);
    ck_assert_double_eq_tol(reason->need, 25, 0.001);
    ck_assert_int_eq(reason->unit, UNIT_MPH);
    ck_assert_int_eq(reason->mark, MARK_HR);
    ck_assert_ptr_eq(reason, &plan->tasks[TASK_BOX_COURSES].because[0]);
}
END_TEST

START_TEST(open_weather_holds_nothing)
{
    sky_mild();
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-20 07:00");
    ck_state(plan, BOX_COURSES, "wait-over");
    ck_assert_ptr_null(because(&plan->tasks[TASK_BOX_COURSES], "gate.gust"));
}
END_TEST

START_TEST(hours_closed_on_the_way_are_not_worked_and_the_finish_moves_by_them)
{
    sky_mild();
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_finish(plan, BOX_COURSES, "2026-10-20 10:15"); /* 3 h 15 min */
    sky.rain_in[3] = 0.05;                            /* 09:00 to 10:00 */
    plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-20 07:00");
    ck_finish(plan, BOX_COURSES, "2026-10-20 11:15");
}
END_TEST

START_TEST(a_day_that_is_closed_to_its_end_sends_the_crew_the_next_morning)
{
    sky_mild();
    sky_fill(sky.temp_degf, 0, 25, 48); /* under the bag's 50 until Wednesday 07:00 */
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-21 07:00");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_BOX_COURSES], "bag.minimum"));
}
END_TEST

START_TEST(a_pour_wants_its_whole_length_open)
{
    sky_mild();
    struct job_plan *plan = sky_plan(EXPOSED, BASE_READY);
    ck_start(plan, PAD_POUR, "2026-10-20 07:00");
    ck_finish(plan, PAD_POUR, "2026-10-20 08:20");
    sky.temp_degf[2] = 31; /* 08:00: frost in its second hour */
    plan = sky_plan(EXPOSED, BASE_READY);
    ck_start(plan, PAD_POUR, "2026-10-20 09:00");
    ck_state(plan, PAD_POUR, "waiting-weather");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_PAD_POUR], "frost.below"));
    /* 120 ft2 take 2 h 40 min: two open hours are not enough of them. */
    sky_quantities = "\"pad_ft2\":120,\"pad_thickness_in\":6,\"sleeves\":0,\"drive_h\":0.2";
    sky_mild();
    plan = sky_plan(EXPOSED, BASE_READY);
    ck_finish(plan, PAD_POUR, "2026-10-20 09:40");
    sky.temp_degf[3] = 31; /* 09:00 */
    plan = sky_plan(EXPOSED, BASE_READY);
    ck_start(plan, PAD_POUR, "2026-10-20 10:00");
    sky_quantities = UNIT_42;
}
END_TEST

START_TEST(a_measure_holds_nothing_and_stands_on_the_task)
{
    sky_mild();
    sky.temp_degf[20] = 35;
    struct job_plan *plan = sky_plan(EXPOSED, BASE_READY);
    const struct task_plan *pour = &plan->tasks[TASK_PAD_POUR];
    ck_start(plan, PAD_POUR, "2026-10-20 07:00");
    ck_state(plan, PAD_POUR, "wait-over");
    ck_assert_int_eq(pour->measure_count, 2);
    ck_assert_int_eq(pour->measures[0].measure, DO_BLANKETS);
    ck_assert_double_eq_tol(pour->measures[0].figure.value, 35, 0.001);
    ck_assert_double_eq_tol(pour->measures[0].figure.limit, 40, 0.001);
    ck_assert_int_eq(plan->pour.state, GATE_MEASURE);
}
END_TEST

START_TEST(past_the_forecast_nothing_is_held)
{
    sky_mild();
    sky.count = 28; /* to Wednesday 10:00 */
    sky_fill(sky.gust_mph, 0, 28, 40);
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-21 10:00"); /* the first hour nobody knows */
    sky.count = 6;
    plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-20 12:30");
}
END_TEST

START_TEST(the_scaffold_has_its_own_wind)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, 24, 22);
    struct job_plan *plan = sky_plan(EXPOSED, STACK_NEXT);
    ck_state(plan, CHIMNEY_RUN, "waiting-weather");
    ck_start(plan, CHIMNEY_RUN, "2026-10-21 07:00");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_CHIMNEY_RUN], "gate.scaffold-gust"));
    plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_state(plan, BOX_COURSES, "wait-over"); /* 22 mph is no matter on the ground */
}
END_TEST

START_TEST(a_job_in_a_closed_room_is_indifferent_to_the_weather)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, SKY_HOURS, 60);
    sky_fill(sky.rain_in, 0, SKY_HOURS, 0.4);
    sky_fill(sky.temp_degf, 0, SKY_HOURS, 5);
    struct job_plan *plan =
        sky_plan("\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\",\"permit\":false",
                 BOX_NEXT ROOM("unit", "2026-10-19T10:00") READ("unit", 64, "2026-10-20T05:00"));
    ck_start(plan, BOX_COURSES, "2026-10-20 07:00");
    ck_state(plan, BOX_COURSES, "wait-over");
    ck_assert_int_eq(plan->half_day_count, 0);
}
END_TEST

/* --- lists ------------------------------------------------------------------------------------ */

START_TEST(the_pour_says_what_closes_it_and_what_the_nights_are)
{
    sky_mild();
    sky.rain_in[3] = 0.3;
    sky.temp_degf[20] = 44;
    sky.temp_degf[44] = 45;
    sky.temp_degf[68] = 46;
    struct job_plan *plan = sky_plan(EXPOSED, BASE_READY);
    const struct pour_plan *pour = &plan->pour;
    ck_assert(pour->asked);
    ck_assert_int_eq(pour->state, GATE_CLOSED);
    ck_assert_int_eq(pour->figure.rule, GATE_RULE_POUR_RAIN);
    ck_assert_double_eq_tol(pour->figure.value, 0.3, 0.001);
    ck_assert_double_eq_tol(pour->rain_limit_in, 0.1, 1e-9);
    ck_assert_double_eq_tol(pour->low_degf[0], 44, 0.001);
    ck_assert_double_eq_tol(pour->low_degf[1], 45, 0.001);
    ck_assert_double_eq_tol(pour->low_degf[2], 46, 0.001);
    ck_start(plan, PAD_POUR, "2026-10-20 10:00");
    ck_assert(!sky_plan(EXPOSED, BOX_NEXT)->pour.asked);
}
END_TEST

static const struct tonight_item *tonight(const struct job_plan *plan, enum tonight_what what)
{
    for (size_t i = 0; i < plan->tonight_count; i++)
        if (plan->tonight[i].what == what) return &plan->tonight[i];
    return NULL;
}

#define POURED BASE_READY DONE("pad-pour", "2026-10-19T13:00")

START_TEST(a_young_pad_and_a_freezing_night_make_an_alarm_with_its_hour)
{
    sky_mild();
    sky.before_degf = 50;
    sky_fill(sky.temp_degf, 0, 14, 50);
    sky_fill(sky.temp_degf, 14, 24, 30); /* from 20:00 */
    struct job_plan *plan = sky_plan(EXPOSED, POURED);
    const struct tonight_item *pad = tonight(plan, TONIGHT_PAD);
    ck_assert_ptr_nonnull(pad);
    ck_assert_int_eq(pad->figure.rule, GATE_RULE_FROST);
    ck_assert_str_eq(wall(pad->figure.at_s), "2026-10-20 20:00");
    ck_assert_str_eq(wall(pad->before_s), "2026-10-20 15:30"); /* before they leave */
    ck_assert(pad->alarm && pad->can_act && !pad->covered);
    sky_fill(sky.temp_degf, 14, 24, 33);
    plan = sky_plan(EXPOSED, POURED);
    pad = tonight(plan, TONIGHT_PAD);
    ck_assert_int_eq(pad->figure.rule, GATE_RULE_POUR_COLD);
    ck_assert(!pad->alarm);
}
END_TEST

START_TEST(the_end_of_last_nights_frost_leaves_time_for_tonights)
{
    sky_mild();
    sky.before_degf = 40;
    sky_fill(sky.temp_degf, 0, 1, 31); /* 06:00, going on */
    sky_fill(sky.temp_degf, 1, 14, 50);
    sky_fill(sky.temp_degf, 14, 24, 30);
    sky.temp_degf[21] = 24; /* 03:00 */
    const struct tonight_item *pad = tonight(sky_plan(EXPOSED, POURED), TONIGHT_PAD);
    ck_assert_ptr_nonnull(pad);
    ck_assert_str_eq(wall(pad->before_s), "2026-10-20 15:30");
    ck_assert(pad->can_act);
}
END_TEST

START_TEST(a_probe_under_36_and_falling_is_an_alarm_and_a_rising_one_is_not)
{
    sky_mild();
    sky_fill(sky.temp_degf, 0, SKY_HOURS, 45);
#define BLANKET                                                                                    \
    "{\"kind\":\"closed-in\",\"part\":\"pad\",\"how\":\"blanket\"" AT("2026-10-19T14:00")
    struct job_plan *plan = sky_plan(EXPOSED, POURED BLANKET READ("pad", 37, "2026-10-20T03:00")
                                                  READ("pad", 35.9, "2026-10-20T05:30"));
    ck_assert(tonight(plan, TONIGHT_PAD)->alarm);
    ck_assert(tonight(plan, TONIGHT_PAD)->blanket);
    plan = sky_plan(EXPOSED, POURED BLANKET READ("pad", 35, "2026-10-20T03:00")
                                 READ("pad", 35.9, "2026-10-20T05:30"));
    ck_assert(!tonight(plan, TONIGHT_PAD)->alarm);
    plan = sky_plan(EXPOSED, POURED BLANKET READ("pad", 37, "2026-10-20T03:00")
                                 READ("pad", 36, "2026-10-20T05:30"));
    ck_assert(!tonight(plan, TONIGHT_PAD)->alarm);
}
END_TEST

START_TEST(joints_are_covered_an_hour_before_the_rain_and_at_night_it_may_be_too_late)
{
    sky_mild();
    sky.rain_in[7] = 0.2; /* 13:00 */
    const struct job_plan *plan =
        sky_plan(EXPOSED, BOX_NEXT STARTED("box-courses", "2026-10-19T13:00"));
    const struct tonight_item *joints = tonight(plan, TONIGHT_JOINTS);
    ck_assert_ptr_nonnull(joints);
    ck_assert_str_eq(wall(joints->before_s), "2026-10-20 12:00");
    ck_assert_int_eq(joints->figure.rule, GATE_RULE_RAIN);
    ck_assert(joints->can_act);
    plan = sky_plan_at("2026-10-20T13:20", EXPOSED,
                       BOX_NEXT STARTED("box-courses", "2026-10-19T13:00"));
    ck_assert(!tonight(plan, TONIGHT_JOINTS)->can_act);
    ck_assert_ptr_null(tonight(sky_plan(EXPOSED, BASE_READY), TONIGHT_JOINTS));
    /* In a house the same joints are covered, but no rain decides. */
    plan = sky_plan("\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\",\"permit\":false",
                    BOX_NEXT STARTED("box-courses", "2026-10-19T13:00"));
    ck_assert_int_eq(tonight(plan, TONIGHT_JOINTS)->figure.rule, GATE_RULE_NONE);
}
END_TEST

START_TEST(an_open_flue_is_on_the_list_until_the_cap_is_set)
{
    sky_mild();
#define RUN STACK_NEXT PASSED("chimney-run", "2026-10-19T13:00")
    ck_assert_ptr_nonnull(tonight(sky_plan(EXPOSED, RUN), TONIGHT_FLUE));
    ck_assert_ptr_null(
        tonight(sky_plan(EXPOSED, RUN PASSED("cap-set", "2026-10-19T15:00")), TONIGHT_FLUE));
}
END_TEST

START_TEST(a_half_day_is_lost_when_less_than_two_hours_of_it_are_left)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, 4, 31); /* 07:00 to 10:00 closed: two of five hours left */
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_assert_int_eq(plan->half_day_count, 1);
    ck_assert(!plan->half_days[0].lost && !plan->half_days[0].afternoon);
    ck_assert_double_eq_tol(plan->half_days[0].hours, 5, 1e-9);
    ck_assert_double_eq_tol(plan->half_days[0].hours_lost, 3, 1e-9);
    sky.gust_mph[4] = 28; /* 10:00 too */
    plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_assert(plan->half_days[0].lost);
    ck_assert_double_eq_tol(plan->half_days[0].hours_lost, 4, 1e-9);
    ck_assert_int_eq(plan->half_days[0].figure.rule, GATE_RULE_GUST);
    ck_assert_double_eq_tol(plan->half_days[0].figure.value, 31, 0.001);
    ck_assert_int_eq(plan->half_days[0].task, TASK_BOX_COURSES);
}
END_TEST

START_TEST(work_put_off_past_the_forecast_still_names_the_half_days_it_lost)
{
    sky_mild();
    sky.count = 34; /* to Wednesday 16:00 */
    sky_fill(sky.gust_mph, 0, 34, 40);
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    ck_start(plan, BOX_COURSES, "2026-10-22 07:00");
    ck_assert_int_eq(plan->half_day_count, 4);
    for (size_t i = 0; i < 4; i++) {
        ck_assert(plan->half_days[i].lost);
        ck_assert_int_eq(plan->half_days[i].task, TASK_BOX_COURSES);
    }
    ck_assert_uint_gt(plan->gate_count, 0);
}
END_TEST

START_TEST(a_half_that_was_over_before_the_work_could_begin_is_no_loss)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, 36, 30);
    struct job_plan *plan = sky_plan(
        EXPOSED,
        BOX_NEXT PASSED("box-courses", "2026-10-12T15:00") PASSED("throat-set", "2026-10-13T09:00")
            DONE("lintel-iron", "2026-10-13T10:00") PASSED("damper-set", "2026-10-13T10:30")
                PASSED("smoke-chamber", "2026-10-13T12:00")
                    DONE("transition-set", "2026-10-20T05:00"));
    ck_assert_int_eq(plan->half_day_count, 2); /* the bed opens on Tuesday at 21:00 */
    ck_assert_int_eq(plan->half_days[0].day, civil_day(2026, 10, 21));
    ck_assert_int_eq(plan->half_days[1].day, civil_day(2026, 10, 21));
}
END_TEST

START_TEST(the_hours_of_a_gate_stand_in_stretches_with_their_worst_figure)
{
    sky_mild();
    sky.gust_mph[3] = 27;
    sky.gust_mph[4] = 33;
    struct job_plan *plan = sky_plan(EXPOSED, BOX_NEXT);
    const struct gate_strip *pieces = NULL;
    for (size_t i = 0; i < plan->gate_count; i++)
        if (plan->gates[i].gate == GATE_CLASS_PIECES) pieces = &plan->gates[i];
    ck_assert_ptr_nonnull(pieces);
    ck_assert(pieces->tasks >> TASK_BOX_COURSES & 1U);
    ck_assert_int_eq(pieces->count, 3);
    ck_assert_int_eq(pieces->stretches[1].state, GATE_CLOSED);
    ck_assert_str_eq(wall(pieces->stretches[1].from_s), "2026-10-20 09:00");
    ck_assert_str_eq(wall(pieces->stretches[1].until_s), "2026-10-20 11:00");
    ck_assert_double_eq_tol(pieces->stretches[1].figure.value, 33, 0.001);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_windy_morning_puts_the_box_off_until_two_hours_in_a_row_are_open,
        open_weather_holds_nothing,
        hours_closed_on_the_way_are_not_worked_and_the_finish_moves_by_them,
        a_day_that_is_closed_to_its_end_sends_the_crew_the_next_morning,
        a_pour_wants_its_whole_length_open,
        a_measure_holds_nothing_and_stands_on_the_task,
        past_the_forecast_nothing_is_held,
        the_scaffold_has_its_own_wind,
        a_job_in_a_closed_room_is_indifferent_to_the_weather,
        the_pour_says_what_closes_it_and_what_the_nights_are,
        a_young_pad_and_a_freezing_night_make_an_alarm_with_its_hour,
        the_end_of_last_nights_frost_leaves_time_for_tonights,
        a_probe_under_36_and_falling_is_an_alarm_and_a_rising_one_is_not,
        joints_are_covered_an_hour_before_the_rain_and_at_night_it_may_be_too_late,
        an_open_flue_is_on_the_list_until_the_cap_is_set,
        a_half_day_is_lost_when_less_than_two_hours_of_it_are_left,
        work_put_off_past_the_forecast_still_names_the_half_days_it_lost,
        a_half_that_was_over_before_the_work_could_begin_is_no_loss,
        the_hours_of_a_gate_stand_in_stretches_with_their_worst_figure,
    };
    return case_run("network gate", tests, sizeof tests / sizeof *tests);
}
