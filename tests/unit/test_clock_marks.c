/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * Marks beside a date: an old forecast, and station figures taken colder for the site. They stand
 * only where they acted, and they never move the date.
 */
#include "clock_case.h"

#define MONDAY POUR("2026-01-05T00:00")
#define COLDER ",\"site_offset_degf\":-5"

static bool marked(const struct job_plan *plan, enum clock_id id, enum assume assume)
{
    return (clock_in(plan, id)->assumes & (unsigned)assume) != 0;
}

static struct job_plan *forecast_of(const char *now, const char *made_from)
{
    return plan_told(.now = now, .observed = "24*8", .forecast = "240*8",
                     .forecast_from = made_from, .records = MONDAY);
}

START_TEST(a_forecast_of_24_hours_is_not_old_and_a_minute_more_is)
{
    struct job_plan *plan = forecast_of("2026-01-06T00:00", "2026-01-05T00:00");
    ck_assert(!plan->forecast_old);
    ck_assert(!marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_FORECAST_OLD));
    plan = forecast_of("2026-01-06T00:01", "2026-01-05T00:00");
    ck_assert(plan->forecast_old);
    ck_assert(marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_FORECAST_OLD));
    ck_assert(warned(plan, CAUTION_FORECAST_OLD));
    ck_assert_str_eq(wall(clock_in(plan, CLOCK_PAD_BUILD_ON)->forecast_made_s), "2026-01-05 00:00");
}
END_TEST

START_TEST(an_old_forecast_stands_in_the_reason_of_the_task_that_waits)
{
    struct job_plan *plan = forecast_of("2026-01-06T00:01", "2026-01-05T00:00");
    const struct task_plan *check = &plan->tasks[TASK_PAD_CHECK];
    bool said = false;
    for (size_t i = 0; i < check->because_count; i++)
        said = said ||
               (check->because[i].clock == CLOCK_PAD_BUILD_ON && check->because[i].forecast_old);
    ck_assert(said);
}
END_TEST

START_TEST(a_task_behind_a_marked_one_is_marked_and_one_beside_it_is_not)
{
    struct job_plan *plan = forecast_of("2026-01-06T00:01", "2026-01-05T00:00");
    ck_assert(plan->tasks[TASK_PAD_CHECK].forecast_old);
    ck_assert(plan->tasks[TASK_LAYOUT].forecast_old);
    ck_assert(plan->tasks[TASK_BOX_COURSES].forecast_old);
    ck_assert(!plan->tasks[TASK_KIT_RECEIVE].forecast_old);
    ck_assert(!plan->tasks[TASK_PAD_POUR].forecast_old); /* done */
    plan = forecast_of("2026-01-06T00:00", "2026-01-05T00:00");
    ck_assert(!plan->tasks[TASK_PAD_CHECK].forecast_old);
}
END_TEST

START_TEST(a_date_that_uses_no_forecast_is_not_marked)
{
    struct job_plan *plan = plan_told(.now = "2026-01-06T06:00", .observed = "24*8",
                                      .forecast = "240*8", .forecast_from = "2026-01-05T00:00",
                                      .records = MONDAY CLOSE("pad", "room", "2026-01-05T00:00")
                                          DEGC("pad", "thermostat", 10, "2026-01-05T00:00"));
    ck_assert(plan->forecast_old);
    ck_assert_int_ne(clock_in(plan, CLOCK_PAD_BUILD_ON)->crossing_s, INSTANT_NONE);
    ck_assert(!marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_FORECAST_OLD));
}
END_TEST

START_TEST(a_forecast_that_has_run_out_is_used_by_no_date)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-09T00:00", .options = EXPOSED, .observed = "96*18",
                  .observed_rain = "96*0", .forecast = "24*18", .forecast_from = "2026-01-05T00:00",
                  .records = WORK("chimney-run", "2026-01-05T09:00")
                      WORK("cap-set", "2026-01-05T10:00") WORK("line-clean", "2026-01-05T15:00"));
    ck_assert(plan->forecast_old);
    ck_assert_int_ne(clock_in(plan, CLOCK_UNIT_DRY_CURE)->crossing_s, INSTANT_NONE);
    ck_assert(marked(plan, CLOCK_UNIT_DRY_CURE, ASSUME_STAYS_DRY));
    ck_assert(!marked(plan, CLOCK_UNIT_DRY_CURE, ASSUME_FORECAST_OLD));
}
END_TEST

START_TEST(station_figures_taken_colder_are_said_where_they_ruled)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T06:00", .observed = "24*12",
                                      .forecast = "240*12", .more = COLDER, .records = MONDAY);
    ck_assert(marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
    ck_assert_double_eq_tol(clock_in(plan, CLOCK_PAD_BUILD_ON)->site_offset_degc, -5 / 1.8, 1e-9);
    plan = plan_told(.now = "2026-01-05T06:00", .observed = "24*12", .forecast = "240*12",
                     .records = MONDAY);
    ck_assert(!marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->site_offset_degc, 0);
}
END_TEST

START_TEST(a_room_that_was_read_owes_nothing_to_the_station)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T06:00", .observed = "24*-12", .more = COLDER,
                  .records = MONDAY CLOSE("pad", "room", "2026-01-05T00:00")
                      DEGC("pad", "thermostat", 10, "2026-01-05T00:00"));
    ck_assert(!marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
}
END_TEST

/* In the open a reading rules six hours; a warmer station does not rule beside it, a colder does.
 */
START_TEST(between_two_readings_only_a_colder_station_ruled)
{
#define TWENTY_H_APART                                                                             \
    DEGC("pad", "probe", 10, "2026-01-05T00:00")                                                   \
    DEGC("pad", "probe", 10, "2026-01-05T20:00")                                                   \
    DEGC("pad", "probe", 10, "2026-01-06T16:00") DEGC("pad", "probe", 10, "2026-01-07T12:00")
    struct job_plan *plan = plan_told(.now = "2026-01-07T12:00", .observed = "60*25",
                                      .more = COLDER, .records = MONDAY TWENTY_H_APART);
    ck_cross(plan, CLOCK_PAD_BUILD_ON, "2026-01-07 00:00");
    ck_assert(!marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
    plan = plan_told(.now = "2026-01-07T12:00", .observed = "10*25 2*5 48*25", .more = COLDER,
                     .records = MONDAY TWENTY_H_APART);
    ck_assert(marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
}
END_TEST

START_TEST(a_frost_that_only_the_station_saw_is_said_to_be_the_offsets)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T04:00", .observed = "2*12 2*1 20*12", .more = COLDER,
                  .records = MONDAY DEGC("pad", "probe", 8, "2026-01-05T00:00"));
    ck_clock(plan, CLOCK_PAD_BUILD_ON, "check-it");
    ck_assert(marked(plan, CLOCK_PAD_BUILD_ON, ASSUME_SITE_OFFSET));
}
END_TEST

/* The pour is held back by cold: what the air's warmth decided carries both marks. */
START_TEST(a_gate_of_the_weather_carries_the_marks_of_its_forecast)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-12T06:00", .options = EXPOSED, .observed = "174*12",
                  .forecast = "180*12 20*-10 160*12", .forecast_from = "2026-01-05T00:00",
                  .more = COLDER,
                  .records = WORK("order-kit", "2026-01-02T09:00")
                      WITH("passed", "\"task\":\"footing-ready\"", "2026-01-05T10:00")
                          WITH("passed", "\"task\":\"pad-steel\"", "2026-01-05T11:00")
                              WITH("passed", "\"task\":\"kit-receive\"", "2026-01-05T12:00"));
    const struct task_plan *pour = &plan->tasks[TASK_PAD_POUR];
    bool marked_so = false;
    for (size_t i = 0; i < pour->because_count; i++) {
        const struct reason *reason = &pour->because[i];
        if (reason->kind != REASON_WEATHER || reason->unit != UNIT_DEGF) continue;
        ck_assert(reason->forecast_old);
        ck_assert_double_eq_tol(reason->site_offset_degc, -5 / 1.8, 1e-9);
        marked_so = true;
    }
    ck_assert(marked_so);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_forecast_of_24_hours_is_not_old_and_a_minute_more_is,
        an_old_forecast_stands_in_the_reason_of_the_task_that_waits,
        a_task_behind_a_marked_one_is_marked_and_one_beside_it_is_not,
        a_date_that_uses_no_forecast_is_not_marked,
        a_forecast_that_has_run_out_is_used_by_no_date,
        station_figures_taken_colder_are_said_where_they_ruled,
        a_room_that_was_read_owes_nothing_to_the_station,
        between_two_readings_only_a_colder_station_ruled,
        a_frost_that_only_the_station_saw_is_said_to_be_the_offsets,
        a_gate_of_the_weather_carries_the_marks_of_its_forecast,
    };
    return case_run("clock marks", tests, sizeof tests / sizeof *tests);
}
