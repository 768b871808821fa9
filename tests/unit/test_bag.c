/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Bags of mortar and a kit's own sheet: which card rules, until when a lot may be used, what is
 * refused, and what a sheet lengthens. Warm room at 60 F: 0.7778 warm hours an hour.
 */
#include "network_case.h"

#include "planner/bag.h"

#define CARD(lot, more, at) "{\"kind\":\"bag\",\"lot\":\"" lot "\"" more AT(at)
#define DRY_SLAB PASSED("pad-check", "2026-10-16T08:00") DONE("kit-receive", "2026-10-16T07:00")
#define SET_UP DRY_SLAB ROOM("unit", "2026-10-17T08:00") READ("unit", 60, "2026-10-17T08:00")
#define NOON "2026-10-20T12:00"

static const struct clock_plan *clock_in(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return &plan->clocks[i];
    ck_abort_msg("no clock %s", id_of(&clock_ids, (int)id));
    return NULL;
}

static const struct caution *caution_in(const struct job_plan *plan, enum caution_id id)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (plan->cautions[i].caution == id) return &plan->cautions[i];
    return NULL;
}

static int32_t day_of(int year, int month, int day)
{
    return civil_day(year, month, day);
}

static struct record card(int32_t made_on, double months)
{
    struct record r = record_blank(RECORD_BAG, 0);
    r.lot = "A";
    r.made_on = made_on;
    r.months = months;
    return r;
}

START_TEST(a_bag_keeps_its_months_to_the_same_day_of_the_month)
{
    const struct {
        int made[3];
        double months;
        int last[3];
    } rows[] = {
        {{2026, 1, 15}, 6, {2026, 7, 15}},  {{2025, 8, 31}, 6, {2026, 2, 28}},
        {{2023, 8, 31}, 6, {2024, 2, 29}},  {{2026, 12, 1}, 12, {2027, 12, 1}},
        {{2026, 11, 30}, 3, {2027, 2, 28}}, {{2026, 3, 1}, 0, {2026, 3, 1}},
        {{2026, 3, 1}, 1.5, {2026, 4, 16}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct record r =
            card(day_of(rows[i].made[0], rows[i].made[1], rows[i].made[2]), rows[i].months);
        ck_assert_int_eq(bag_expires_day(&r),
                         day_of(rows[i].last[0], rows[i].last[1], rows[i].last[2]));
    }
    struct record unknown = card(day_of(2026, 1, 1), NAN);
    ck_assert_int_eq(bag_expires_day(&unknown), DAY_NONE);
    unknown = card(DAY_NONE, 6);
    ck_assert_int_eq(bag_expires_day(&unknown), DAY_NONE);
}
END_TEST

START_TEST(the_last_day_of_a_bag_is_still_its_own)
{
    const char *bag = CARD("A", ",\"made_on\":\"2026-04-20\",\"months\":6", "2026-10-15T08:00");
    const char *records = arena_print(case_intake.arena, "%s%s", DRY_SLAB, bag);
    struct job_plan *plan = case_plan("2026-10-20T23:00", OLD_SLAB, UNIT_42, records);
    ck_state(plan, LAYOUT, "wait-over");
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_REFUSED));
    plan = case_plan("2026-10-21T00:30", OLD_SLAB, UNIT_42, records);
    ck_state(plan, LAYOUT, "waiting-part");
    ck_start(plan, LAYOUT, "none");
    const struct reason *reason = because(&plan->tasks[TASK_LAYOUT], "bag-refused");
    ck_assert_str_eq(reason->record->lot, "A");
    ck_assert_int_eq((int)reason->bag, BAG_STATE_OUT_OF_DATE);
    ck_assert_int_eq((int)caution_in(plan, CAUTION_BAG_REFUSED)->bag, BAG_STATE_OUT_OF_DATE);
}
END_TEST

START_TEST(a_frozen_or_damp_bag_is_refused_until_another_lot_is_on_record)
{
    const char *frozen = SET_UP CARD("A", ",\"condition\":\"frozen\"", "2026-10-17T08:00");
    struct job_plan *plan = case_plan(NOON, OLD_SLAB, UNIT_42, frozen);
    ck_state(plan, LAYOUT, "waiting-part");
    ck_assert_int_eq((int)caution_in(plan, CAUTION_BAG_REFUSED)->bag, BAG_STATE_FROZEN);
    plan = case_plan(NOON, OLD_SLAB, UNIT_42,
                     SET_UP CARD("A", ",\"condition\":\"damp\"", "2026-10-17T08:00"));
    ck_state(plan, LAYOUT, "waiting-part");
    plan = case_plan(
        NOON, OLD_SLAB, UNIT_42,
        arena_print(case_intake.arena, "%s%s", frozen, CARD("B", "", "2026-10-18T08:00")));
    ck_state(plan, LAYOUT, "wait-over");
    ck_assert_ptr_nonnull(caution_in(plan, CAUTION_BAG_REFUSED)); /* of A, for ever */
}
END_TEST

START_TEST(a_lot_that_was_frozen_once_is_not_made_good_by_another_card)
{
    const struct job_plan *plan =
        case_plan(NOON, OLD_SLAB, UNIT_42,
                  SET_UP CARD("A", ",\"condition\":\"frozen\"", "2026-10-17T08:00")
                      CARD("A", ",\"condition\":\"dry\"", "2026-10-18T08:00"));
    ck_state(plan, LAYOUT, "waiting-part");
}
END_TEST

START_TEST(without_any_card_nothing_is_refused)
{
    ck_state(case_plan(NOON, OLD_SLAB, UNIT_42, SET_UP), LAYOUT, "wait-over");
}
END_TEST

START_TEST(work_that_needs_no_mortar_goes_on)
{
    const struct job_plan *plan =
        case_plan(NOON, OLD_SLAB ",\"outside_air\":true", UNIT_42,
                  SET_UP CARD("A", ",\"condition\":\"frozen\"", "2026-10-17T08:00"));
    ck_state(plan, AIR_CUT, "wait-over");
    ck_state(plan, LAYOUT, "waiting-part");
}
END_TEST

START_TEST(mortar_that_was_used_although_refused_is_said)
{
    const struct job_plan *plan =
        case_plan(NOON, OLD_SLAB, UNIT_42,
                  SET_UP CARD("A", ",\"made_on\":\"2026-04-01\",\"months\":6", "2026-10-15T08:00")
                      DONE("layout", "2026-10-19T09:00"));
    const struct caution *caution = caution_in(plan, CAUTION_BAG_USED_REFUSED);
    ck_assert_ptr_nonnull(caution);
    ck_assert_int_eq((int)caution->task, TASK_LAYOUT);
    plan =
        case_plan(NOON, OLD_SLAB, UNIT_42,
                  SET_UP CARD("A", ",\"made_on\":\"2026-04-01\",\"months\":6", "2026-09-15T08:00")
                      DONE("layout", "2026-10-01T09:00")); /* its last day */
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_USED_REFUSED));
}
END_TEST

/* --- the lot in use ------------------------------------------------------------------------------
 */

#define BOX_AT(more) "{\"kind\":\"done\",\"task\":\"box-courses\"" more AT("2026-10-17T12:00")

static double joints_have(const char *records)
{
    const struct job_plan *plan = case_plan("2026-10-18T12:00", OLD_SLAB, UNIT_42, records);
    return clock_in(plan, CLOCK_JOINTS_EARLY)->have;
}

START_TEST(the_lot_that_the_work_names_rules_else_the_latest_card)
{
    /* a reading of 60 F holds 24 h, 20 of them after the work: 20 x 15.5556/20; under 65 nothing */
    const char *cards = SET_UP CARD("WARM", ",\"min_degf\":65", "2026-10-16T08:00")
        CARD("COLD", ",\"min_degf\":45", "2026-10-16T09:00");
    ck_assert_double_eq_tol(joints_have(arena_print(case_intake.arena, "%s%s", cards, BOX_AT(""))),
                            15.5556, 1e-3);
    ck_assert_double_eq_tol(
        joints_have(arena_print(case_intake.arena, "%s%s", cards, BOX_AT(",\"lot\":\"WARM\""))), 0,
        1e-9);
    /* its card is written down a day later: it is the same bag */
    ck_assert_double_eq_tol(joints_have(SET_UP BOX_AT(",\"lot\":\"LATE\"")
                                            CARD("LATE", ",\"min_degf\":65", "2026-10-18T08:00")),
                            0, 1e-9);
}
END_TEST

START_TEST(a_lot_without_a_card_goes_by_the_fifty_degrees)
{
    const char *cards = SET_UP READ("unit", 49, "2026-10-17T11:00")
        CARD("A", ",\"min_degf\":40", "2026-10-16T08:00");
    ck_assert_double_gt(joints_have(arena_print(case_intake.arena, "%s%s", cards, BOX_AT(""))), 5);
    ck_assert_double_eq_tol(
        joints_have(arena_print(case_intake.arena, "%s%s", cards, BOX_AT(",\"lot\":\"X\""))), 0,
        1e-9);
}
END_TEST

START_TEST(a_card_says_how_warm_and_for_how_long)
{
#define SET(min, hours, max)                                                                       \
    SET_UP READ("unit", 60, "2026-10-18T08:00") READ("unit", 44, "2026-10-18T20:00")               \
        CARD("A",                                                                                  \
             ",\"mortar\":\"hydraulic\",\"min_degf\":" min ",\"min_for_h\":" hours                 \
             ",\"max_degf\":" max,                                                                 \
             "2026-10-16T08:00") BOX_AT("")
    /* 60 F and 44 F are 12 h apart: 44 F from 08:00 on the 18th, 20 h after the box */
    const struct job_plan *plan =
        case_plan("2026-10-19T12:00", OLD_SLAB, UNIT_42, SET("45", "48", "90"));
    const struct caution *caution = caution_in(plan, CAUTION_BAG_NOT_KEPT);
    ck_assert_ptr_nonnull(caution);
    ck_assert_str_eq(wall(caution->at_s), "2026-10-18 08:00");
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_TOO_WARM));
    plan = case_plan("2026-10-19T12:00", OLD_SLAB, UNIT_42, SET("45", "20", "90"));
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_NOT_KEPT)); /* its time was over then */
    plan = case_plan("2026-10-19T12:00", OLD_SLAB, UNIT_42, SET("44", "48", "90"));
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_NOT_KEPT)); /* at the minimum is kept */
    plan = case_plan("2026-10-19T12:00", OLD_SLAB, UNIT_42, SET("40", "20", "59"));
    ck_assert_str_eq(caution_in(plan, CAUTION_BAG_TOO_WARM)->record->lot, "A");
    plan = case_plan("2026-10-19T12:00", OLD_SLAB, UNIT_42, SET("40", "20", "60"));
    ck_assert_ptr_null(caution_in(plan, CAUTION_BAG_TOO_WARM));
}
END_TEST

/* --- a kit's sheet
 * -------------------------------------------------------------------------------- */

static struct kit the_kit;
static struct company with_kit;

/* The same case again, its job of a kit whose sheet is filled by the test. */
static struct job_plan *again_with_kit(void)
{
    static struct job job;
    with_kit = *the_company;
    with_kit.kits = &the_kit;
    with_kit.kit_count = 1;
    job = *the_job;
    job.kit_id = the_kit.id;
    struct job_plan *plan = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    ck_assert_int_eq(planner_job(plan, &job, &with_kit, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

static void blank_kit(void)
{
    the_kit = (struct kit){.id = "k42", .bag_min_degc = NAN};
    for (int c = 0; c < CLOCK_COUNT; c++) the_kit.floor_h[c] = the_kit.need[c] = NAN;
    for (int c = 0; c < CLEARANCE_COUNT; c++) the_kit.clearances_in[c] = NAN;
}

#define POURED                                                                                     \
    "{\"kind\":\"done\",\"task\":\"pad-pour\"" AT(                                                 \
        "2026-10-19T08:00") "{\"kind\":\"closed-in\",\"part\":\"pad\",\"how\":\"room\"" AT("2026-" \
                                                                                           "10-"   \
                                                                                           "19T07" \
                                                                                           ":00")  \
        READ("pad", 68, "2026-10-19T07:30") READ("pad", 68, "2026-10-20T07:30")

START_TEST(a_kits_sheet_lengthens_and_never_shortens)
{
    blank_kit();
    (void)case_plan(NOON, SLAB, UNIT_42, POURED);
    the_kit.floor_h[CLOCK_PAD_BUILD_ON] = 48;
    the_kit.need[CLOCK_PAD_BUILD_ON] = 40;
    struct job_plan *plan = again_with_kit();
    const struct clock_plan *clock = clock_in(plan, CLOCK_PAD_BUILD_ON);
    ck_assert_double_eq(clock->floor_h, 48);
    ck_assert_double_eq(clock->need, 40);
    ck_assert_ptr_null(caution_in(plan, CAUTION_KIT_SHORTER));
    the_kit.floor_h[CLOCK_PAD_BUILD_ON] = 12;
    the_kit.need[CLOCK_PAD_BUILD_ON] = 20;
    plan = again_with_kit();
    clock = clock_in(plan, CLOCK_PAD_BUILD_ON);
    ck_assert_double_eq(clock->floor_h, 24);
    ck_assert_double_eq(clock->need, 24);
    ck_assert_int_eq((int)caution_in(plan, CAUTION_KIT_SHORTER)->clock, CLOCK_PAD_BUILD_ON);
}
END_TEST

START_TEST(of_town_and_kit_the_longer_rules_before_the_engineer)
{
    blank_kit();
    the_kit.floor_h[CLOCK_PAD_BUILD_ON] = 48;
    (void)case_plan(NOON, SLAB ",\"town\":{\"build_on_floor_h\":72}", UNIT_42, POURED);
    ck_assert_double_eq(clock_in(again_with_kit(), CLOCK_PAD_BUILD_ON)->floor_h, 72);
    (void)case_plan(NOON, SLAB ",\"town\":{\"build_on_floor_h\":30}", UNIT_42, POURED);
    ck_assert_double_eq(clock_in(again_with_kit(), CLOCK_PAD_BUILD_ON)->floor_h, 48);
    /* the engineer comes after: the target, a house rule, is his; the floor stays the kit's */
    the_kit.need[CLOCK_PAD_BUILD_ON] = 40;
    (void)case_plan(NOON, SLAB, UNIT_42,
                    POURED "{\"kind\":\"engineer\",\"rule\":\"pad.build-on\",\"need\":30,"
                           "\"sheet\":\"S1\"" AT("2026-10-19T09:00"));
    ck_assert_double_eq(clock_in(again_with_kit(), CLOCK_PAD_BUILD_ON)->need, 30);
    ck_assert_double_eq(clock_in(again_with_kit(), CLOCK_PAD_BUILD_ON)->floor_h, 48);
}
END_TEST

START_TEST(a_kit_on_a_blended_mix_is_held_against_the_longer_target)
{
    blank_kit();
    the_kit.need[CLOCK_PAD_BUILD_ON] = 30; /* over 24, under 36 */
    (void)case_plan(NOON, SLAB ",\"mix\":\"blended\"", UNIT_42, POURED);
    struct job_plan *plan = again_with_kit();
    ck_assert_double_eq(clock_in(plan, CLOCK_PAD_BUILD_ON)->need, 36);
    ck_assert_ptr_nonnull(caution_in(plan, CAUTION_KIT_SHORTER));
}
END_TEST

START_TEST(a_kits_bag_minimum_rules_only_when_it_is_warmer)
{
    blank_kit();
    const char *records = SET_UP CARD("A", ",\"min_degf\":45", "2026-10-16T08:00") BOX_AT("");
    (void)case_plan("2026-10-18T12:00", OLD_SLAB, UNIT_42, records);
    the_kit.bag_min_degc = (65.0 - 32) * 5 / 9;
    ck_assert_double_eq_tol(clock_in(again_with_kit(), CLOCK_JOINTS_EARLY)->have, 0, 1e-9);
    the_kit.bag_min_degc = (40.0 - 32) * 5 / 9;
    ck_assert_double_eq_tol(clock_in(again_with_kit(), CLOCK_JOINTS_EARLY)->have, 15.5556, 1e-3);
}
END_TEST

START_TEST(a_kit_whose_sheet_is_not_on_file_is_said)
{
    (void)case_plan(NOON, SLAB, UNIT_42, POURED);
    blank_kit();
    ck_assert_ptr_null(caution_in(again_with_kit(), CAUTION_KIT_UNKNOWN));
    struct job job = *the_job;
    job.kit_id = "gone";
    struct job_plan *plan = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    ck_assert_int_eq(planner_job(plan, &job, &with_kit, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    ck_assert_ptr_nonnull(caution_in(plan, CAUTION_KIT_UNKNOWN));
}
END_TEST

/* --- the company's lots
 * --------------------------------------------------------------------------- */

START_TEST(the_lots_of_a_company_are_listed_with_the_jobs_that_will_use_them)
{
    (void)case_plan(
        NOON, OLD_SLAB, UNIT_42,
        SET_UP CARD("LATER", ",\"made_on\":\"2026-09-01\",\"months\":12", "2026-10-16T08:00")
            CARD("SOON", ",\"made_on\":\"2026-04-21\",\"months\":6", "2026-10-16T09:00")
                CARD("NODATE", "", "2026-10-16T09:30"));
    const struct job jobs[] = {*the_job, *the_job};
    struct casefile casefile = {.now_s = the_now_s,
                                .now_zone = the_job->zone,
                                .company = *the_company,
                                .jobs = jobs,
                                .job_count = 2};
    const struct plan *plan = NULL;
    ck_assert_int_eq(planner_run(&plan, &casefile, book, case_intake.arena), STATUS_OK);
    ck_assert_uint_eq(plan->bag_count, 3);
    ck_assert_str_eq(plan->bags[0].card->lot, "SOON");
    ck_assert_int_eq(plan->bags[0].expires_day, day_of(2026, 10, 21));
    ck_assert_int_eq(plan->bags[0].age_days, day_of(2026, 10, 20) - day_of(2026, 4, 21));
    ck_assert_uint_eq(plan->bags[0].job_count, 2);
    ck_assert(!plan->bags[0].outlives); /* the lining comes after the 21st */
    ck_assert_str_eq(plan->bags[1].card->lot, "LATER");
    ck_assert(plan->bags[1].outlives);
    ck_assert_str_eq(plan->bags[2].card->lot, "NODATE");
    ck_assert_int_eq((int)plan->bags[0].state, BAG_STATE_USABLE);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_bag_keeps_its_months_to_the_same_day_of_the_month,
        the_last_day_of_a_bag_is_still_its_own,
        a_frozen_or_damp_bag_is_refused_until_another_lot_is_on_record,
        a_lot_that_was_frozen_once_is_not_made_good_by_another_card,
        without_any_card_nothing_is_refused,
        work_that_needs_no_mortar_goes_on,
        mortar_that_was_used_although_refused_is_said,
        the_lot_that_the_work_names_rules_else_the_latest_card,
        a_lot_without_a_card_goes_by_the_fifty_degrees,
        a_card_says_how_warm_and_for_how_long,
        a_kits_sheet_lengthens_and_never_shortens,
        of_town_and_kit_the_longer_rules_before_the_engineer,
        a_kit_on_a_blended_mix_is_held_against_the_longer_target,
        a_kits_bag_minimum_rules_only_when_it_is_warmer,
        a_kit_whose_sheet_is_not_on_file_is_said,
        the_lots_of_a_company_are_listed_with_the_jobs_that_will_use_them,
    };
    return case_run("bag", tests, sizeof tests / sizeof *tests);
}
