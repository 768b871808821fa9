/* SPDX-License-Identifier: MIT */
/* links: planner intake */
/*
 * Hour strips: the pieces follow each other without a hole, add up to what the clock has, are never
 * too many, and each says what it counted, why, and what it rests on.
 */
#include <math.h>

#include "clock_case.h"

#define MONDAY POUR("2026-01-05T00:00")
#define ROOM_ON CLOSE("pad", "room", "2026-01-05T00:00")

static const struct part_plan *drawn(struct job_plan *plan, enum part part)
{
    ck_assert_int_eq(planner_pictures(plan, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    ck_assert_ptr_nonnull(plan->parts[part].strip);
    return &plan->parts[part];
}

/* No hole, no overlap, not too many; what is had by now. */
static double sum_of(const struct part_plan *part)
{
    double had = 0;
    int64_t at_s = part->strip->from_s;
    ck_assert_uint_le(part->piece_count, STRIP_PIECES_MAX);
    for (size_t i = 0; i < part->piece_count; i++) {
        const struct history_piece *p = &part->pieces[i];
        ck_assert_int_eq(p->from_s, at_s);
        ck_assert_int_gt(p->until_s, at_s);
        ck_assert_double_eq_tol(p->credit, p->rate * (double)(p->until_s - p->from_s) / 3600, 1e-9);
        if (!p->ahead) had += p->credit;
        at_s = p->until_s;
    }
    ck_assert_int_eq(at_s, part->strip->until_s);
    return had;
}

static const struct history_piece *piece_at(const struct part_plan *part, const char *at)
{
    for (size_t i = 0; i < part->piece_count; i++) {
        const struct history_piece *p = &part->pieces[i];
        if (strcmp(wall(p->from_s), at) <= 0 && strcmp(wall(p->until_s), at) > 0) return p;
    }
    ck_abort_msg("no piece at %s", at);
    return NULL;
}

#define ck_piece(part, at, hour_id, why_id, rest_id)                                               \
    do {                                                                                           \
        const struct history_piece *found = piece_at((part), (at));                                \
        ck_assert_str_eq(id_of(&hour_class_ids, (int)found->hour), (hour_id));                     \
        ck_assert_str_eq(id_of(&hour_why_ids, (int)found->why), (why_id));                         \
        ck_assert_str_eq(id_of(&hour_rest_ids, (int)found->rests), (rest_id));                     \
    } while (0)

START_TEST(the_pieces_add_up_to_what_the_clock_has)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T14:30", .observed = "6*10 6*3 12*25", .records = MONDAY);
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_assert_double_eq_tol(sum_of(pad), 6 * 0.5 + 2.5, 1e-9);
    ck_have(plan, CLOCK_PAD_BUILD_ON, sum_of(pad));
    ck_assert_int_eq(pad->strip->clock, CLOCK_PAD_BUILD_ON);
    ck_assert_int_eq(pad->strip->step_s, 0);
}
END_TEST

START_TEST(each_hour_says_what_it_counted_and_why)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "3*10 3*3 2*null 4*25",
                                      .forecast = "24*25", .records = MONDAY);
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_piece(pad, "2026-01-05 01:00", "part", "cool", "station");
    ck_piece(pad, "2026-01-05 04:00", "nothing", "cold", "station");
    ck_piece(pad, "2026-01-05 07:00", "no-reading", "no-reading", "nothing");
    ck_piece(pad, "2026-01-05 09:00", "full", "warm", "station");
    ck_piece(pad, "2026-01-05 13:00", "full", "warm", "forecast");
    ck_assert(!piece_at(pad, "2026-01-05 11:59")->ahead);
    ck_assert(piece_at(pad, "2026-01-05 12:00")->ahead);
}
END_TEST

START_TEST(a_room_rests_on_its_readings_and_carries_the_last)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-06T06:00", .observed = "30*-5",
                  .records = MONDAY ROOM_ON DEGC("pad", "probe", 12, "2026-01-05T08:00"));
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_piece(pad, "2026-01-05 03:00", "no-reading", "no-reading", "nothing");
    ck_piece(pad, "2026-01-05 09:00", "part", "cool", "reading");
    ck_piece(pad, "2026-01-06 07:00", "part", "cool", "carried");
    ck_have(plan, CLOCK_PAD_BUILD_ON, sum_of(pad));
    ck_assert_uint_eq(pad->strip->reading_count, 1);
    ck_assert_uint_eq(pad->strip->band_count, 0);
}
END_TEST

START_TEST(a_frozen_pad_stands_still_until_it_was_looked_at)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "4*10 2*-2 18*20",
                                      .records = MONDAY LOOK("pad", "2026-01-05T08:00"));
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_piece(pad, "2026-01-05 03:00", "part", "cool", "station");
    ck_piece(pad, "2026-01-05 05:00", "stopped", "froze", "station");
    ck_piece(pad, "2026-01-05 07:00", "stopped", "froze", "station");
    ck_piece(pad, "2026-01-05 08:00", "full", "warm", "station");
    ck_assert_double_eq_tol(sum_of(pad), 4 * 0.5 + 4, 1e-9);
    ck_have(plan, CLOCK_PAD_BUILD_ON, sum_of(pad));
}
END_TEST

START_TEST(a_soaked_pad_says_that_it_was_soaked)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "24*10",
                                      .records = MONDAY SOAKED("pad", "2026-01-05T05:30"));
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_piece(pad, "2026-01-05 07:00", "stopped", "soaked", "station");
    ck_have(plan, CLOCK_PAD_BUILD_ON, sum_of(pad));
    ck_assert_str_eq(wall(pad->strip->until_s), "2026-01-05 12:00");
}
END_TEST

START_TEST(a_wait_that_is_over_is_drawn_to_its_crossing)
{
    struct job_plan *plan =
        plan_told(.now = "2026-02-05T12:00", .observed = "744*20", .records = MONDAY);
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_assert_str_eq(wall(pad->strip->until_s), "2026-01-07 00:00"); /* the chimney's 48 h */
    ck_assert_double_eq_tol(sum_of(pad), 48, 1e-9);
}
END_TEST

/* 20 days that change with the hour: 480 pieces become stretches of 2 h, and no credit is lost. */
START_TEST(too_many_pieces_are_put_together_and_lose_nothing)
{
    char hours[8000];
    size_t used = 0;
    for (int i = 0; i < 480; i++)
        used += (size_t)snprintf(hours + used, sizeof hours - used, "%s1*%.1f", i == 0 ? "" : " ",
                                 5.0 + (i * 7 % 24) * 0.1);
    struct job_plan *plan = plan_told(.now = "2026-01-24T23:00", .observed = hours, .more = "",
                                      .records = MONDAY OVERRIDDEN(
                                          "pad.build-on", "\"floor_h\":600", "2026-01-05T01:00"));
    const struct part_plan *pad = drawn(plan, PART_PAD);
    ck_assert_int_ge(pad->strip->step_s, 7200);
    ck_assert_uint_gt(pad->piece_count, 100);
    ck_have(plan, CLOCK_PAD_BUILD_ON, sum_of(pad));
    ck_assert_double_lt(pad->pieces[0].low_degc, pad->pieces[0].temp_degc);
}
END_TEST

#define LINED                                                                                      \
    WORK("chimney-run", "2026-01-05T09:00")                                                        \
    WORK("cap-set", "2026-01-05T10:00") WORK("line-clean", "2026-01-05T15:00")

START_TEST(hours_of_the_unit_count_as_their_days_did)
{
    struct job_plan *plan = plan_told(.now = "2026-01-09T12:00",
                                      .records = LINED CLOSE("unit", "room", "2026-01-05T00:00")
                                          DEGC("unit", "thermostat", 18, "2026-01-05T08:00")
                                              DEGC("unit", "thermostat", 18, "2026-01-08T08:00")
                                                  SOAKED("unit", "2026-01-08T09:00"));
    const struct part_plan *unit = drawn(plan, PART_UNIT);
    ck_assert_int_eq(unit->strip->clock, CLOCK_UNIT_DRY_CURE);
    ck_piece(unit, "2026-01-05 18:00", "nothing", "day-zero", "reading");
    ck_piece(unit, "2026-01-06 18:00", "full", "day", "reading");
    ck_piece(unit, "2026-01-08 18:00", "nothing", "day", "reading");
    ck_assert_int_eq(piece_at(unit, "2026-01-08 18:00")->day, DAY_SOAKED);
    ck_assert(piece_at(unit, "2026-01-09 01:00")->ahead); /* the day is not over */
    ck_assert_double_eq_tol(sum_of(unit), 2, 1e-9);
    ck_have(plan, CLOCK_UNIT_DRY_CURE, sum_of(unit));
}
END_TEST

START_TEST(a_day_of_23_hours_counts_one)
{
    struct job_plan *plan =
        plan_told(.now = "2026-03-10T18:00", .zone = "America/Denver",
                  .records = WORK("chimney-run", "2026-03-06T09:00")
                      WORK("cap-set", "2026-03-06T10:00") WORK("line-clean", "2026-03-06T20:00")
                          CLOSE("unit", "room", "2026-03-06T00:00")
                              DEGC("unit", "thermostat", 18, "2026-03-06T08:00"));
    const struct part_plan *unit = drawn(plan, PART_UNIT);
    ck_assert_double_eq_tol(sum_of(unit), 3, 1e-9);
    ck_have(plan, CLOCK_UNIT_DRY_CURE, sum_of(unit));
}
END_TEST

START_TEST(the_station_stands_beside_it_with_the_site_offset)
{
    struct job_plan *plan =
        plan_told(.now = "2026-01-05T12:00", .observed = "12*10", .forecast = "24*10",
                  .more = ",\"site_offset_degf\":-9", .records = MONDAY);
    const struct part_strip *strip = drawn(plan, PART_PAD)->strip;
    ck_assert_uint_ge(strip->station_count, 36);
    ck_assert_double_eq_tol(strip->station_degc[0], 5, 1e-9);
    ck_assert_str_eq(wall(strip->forecast_from_s), "2026-01-05 12:00");
    ck_assert_str_eq(wall(strip->forecast_until_s), "2026-01-06 12:00");
}
END_TEST

/* A job with `years` past years, each warmer by a degree, every hour of it. */
static struct job_plan *with_years(int years)
{
    struct job_plan *plan = plan_told(.now = "2026-01-05T12:00", .observed = "12*8",
                                      .forecast = "12*8", .records = MONDAY);
    struct station *station = ARENA_TAKE(case_intake.arena, 1, struct station);
    *station = *the_job->station;
    station->history = ARENA_TAKE(case_intake.arena, (size_t)years, struct series);
    station->history_count = (size_t)years;
    for (int y = 0; y < years; y++) {
        struct series *past = &station->history[y];
        *past = (struct series){.start_s = (int64_t)civil_day(2015 + y, 1, 1) * 86400,
                                .count = 24 * 60};
        past->temp_degc = ARENA_TAKE(case_intake.arena, past->count, double);
        for (size_t i = 0; i < past->count; i++) past->temp_degc[i] = y;
    }
    struct job *job = ARENA_TAKE(case_intake.arena, 1, struct job);
    *job = *the_job;
    job->station = station;
    ck_assert_int_eq(planner_job(plan, job, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

START_TEST(past_years_make_a_band_after_the_forecast)
{
    const struct part_strip *strip = drawn(with_years(10), PART_PAD)->strip;
    ck_assert_uint_eq(strip->years, 10);
    ck_assert_uint_le(strip->band_count, STRIP_BAND_MAX);
    ck_assert_str_eq(wall(strip->band[0].from_s), "2026-01-06 00:00");
    ck_assert_double_eq_tol(strip->band[0].low_degc, 0, 1e-9); /* nearest rank: 1st, 5th, 9th */
    ck_assert_double_eq_tol(strip->band[0].mid_degc, 4, 1e-9);
    ck_assert_double_eq_tol(strip->band[0].high_degc, 8, 1e-9);
}
END_TEST

START_TEST(four_years_make_no_band_and_five_do)
{
    ck_assert_uint_eq(drawn(with_years(4), PART_PAD)->strip->band_count, 0);
    ck_assert_uint_gt(drawn(with_years(5), PART_PAD)->strip->band_count, 0);
}
END_TEST

START_TEST(of_too_many_readings_the_lowest_of_each_stretch_is_kept)
{
    char records[60000] = MONDAY ROOM_ON;
    size_t used = strlen(records);
    for (int i = 0; i < 300; i++)
        used += (size_t)snprintf(
            records + used, sizeof records - used,
            "{\"kind\":\"reading\",\"part\":\"pad\",\"how\":\"probe\",\"degc\":%d,\"at\":"
            "\"2026-01-05T%02d:%02d:00Z\"}",
            i == 150 ? 5 : 10, i / 60, i % 60);
    struct job_plan *plan = plan_told(.now = "2026-01-05T06:00", .records = records);
    const struct part_strip *strip = drawn(plan, PART_PAD)->strip;
    ck_assert_uint_le(strip->reading_count, STRIP_READINGS_MAX);
    ck_assert_uint_gt(strip->reading_count, 5);
    bool lowest = false;
    for (size_t i = 0; i < strip->reading_count; i++)
        lowest = lowest || strip->readings[i]->temp_degc == 5;
    ck_assert(lowest);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        the_pieces_add_up_to_what_the_clock_has,
        each_hour_says_what_it_counted_and_why,
        a_room_rests_on_its_readings_and_carries_the_last,
        a_frozen_pad_stands_still_until_it_was_looked_at,
        a_soaked_pad_says_that_it_was_soaked,
        a_wait_that_is_over_is_drawn_to_its_crossing,
        too_many_pieces_are_put_together_and_lose_nothing,
        hours_of_the_unit_count_as_their_days_did,
        a_day_of_23_hours_counts_one,
        the_station_stands_beside_it_with_the_site_offset,
        past_years_make_a_band_after_the_forecast,
        four_years_make_no_band_and_five_do,
        of_too_many_readings_the_lowest_of_each_stretch_is_kept,
    };
    return case_run("strip", tests, sizeof tests / sizeof *tests);
}
