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
        plan_told(.now = "2026-01-09T00:00", .observed = "96*8", .forecast = "24*8",
                  .forecast_from = "2026-01-05T00:00", .records = MONDAY);
    ck_assert(plan->forecast_old);
    ck_assert(!marked(plan, CLOCK_PAD_CHIMNEY_LOAD, ASSUME_FORECAST_OLD));
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

int main(void)
{
    const TTest *const tests[] = {
        a_forecast_of_24_hours_is_not_old_and_a_minute_more_is,
        an_old_forecast_stands_in_the_reason_of_the_task_that_waits,
        a_date_that_uses_no_forecast_is_not_marked,
        a_forecast_that_has_run_out_is_used_by_no_date,
        station_figures_taken_colder_are_said_where_they_ruled,
        a_room_that_was_read_owes_nothing_to_the_station,
        between_two_readings_only_a_colder_station_ruled,
        a_frost_that_only_the_station_saw_is_said_to_be_the_offsets,
    };
    return case_run("clock marks", tests, sizeof tests / sizeof *tests);
}
