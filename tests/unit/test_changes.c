/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * What moved since an instant and what moved it: a record, the weather, work that is not done, a
 * calendar. Each test is one night of one job; the plans of both ends are worked out in full.
 */
#include "network_case.h"

#include "planner/changes.h"

static const struct plan *the_plan;
static const struct change *changes;
static size_t change_count;

#define RECEIVED(body, at, received)                                                               \
    "{" body ",\"received\":\"" received ":00-06:00\",\"at\":\"" at ":00-06:00\"}"

/* The changes of a job since an instant; records as text with `at` and, if late, `received`. */
static void since(const char *now, int64_t hours_ago, const char *records)
{
    const char *text = arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s:00-06:00\",\"company\":{\"time_zone\":\"America/Denver\","
        "\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],\"work_hours\":[\"07:00\",\"15:30"
        "\"],\"lunch\":[\"12:00\",\"12:30\"],\"crews\":[{\"id\":\"north\",\"people\":3}],"
        "\"inspectors\":[{\"id\":\"alder\",\"work_days\":[\"tue\",\"thu\"],\"work_hours\":[\"08:00"
        "\",\"12:00\"],\"request_cutoff\":\"14:00\"}]},\"jobs\":[{\"id\":\"elm\",\"options\":{" SLAB
        "},\"quantities\":{" UNIT_42 "},\"records\":[%s]}]}",
        now, case_with_ids(records));
    struct casefile *casefile = NULL;
    ck_assert_int_eq(intake_case_text(&casefile, text, strlen(text), &case_intake), STATUS_OK);
    ck_assert_int_eq(planner_run(&the_plan, casefile, book, case_intake.arena), STATUS_OK);
    the_job = &casefile->jobs[0];
    ck_assert_int_eq(changes_since(&changes, &change_count, the_plan,
                                   casefile->now_s - hours_ago * 3600, book, case_intake.arena),
                     STATUS_OK);
}

#define POURED                                                                                     \
    DONE("site-walk", "2026-09-01T08:00")                                                          \
    DONE("kit-receive", "2026-09-02T08:00")                                                        \
    PASSED("footing-ready", "2026-09-02T10:00")                                                    \
    DONE("pad-steel", "2026-09-02T12:00")                                                          \
    PASSED("pad-inspect", "2026-09-03T09:00")                                                      \
    ROOM("pad", "2026-09-07T08:00")                                                                \
    DONE("pad-pour", "2026-09-07T09:00")                                                           \
    READ("pad", 70, "2026-09-07T09:00")

static const struct date_move *move_of(enum task task)
{
    for (size_t i = 0; i < changes[0].moves.count; i++)
        if (changes[0].moves.moves[i].task == task) return &changes[0].moves.moves[i];
    return NULL;
}

START_TEST(a_cold_reading_that_came_in_late_is_named)
{
    /* 70 F: 24 warm hours by Tuesday 09:00. A probe of Monday 20:00 that came in over night says
       44 F: then at the lower of the two, 0.33 an hour, and the check slips past Tuesday. */
    since("2026-09-08T06:00", 13,
          POURED RECEIVED("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":44", "2026-09-07T20:00",
                          "2026-09-07T22:00"));
    ck_assert_uint_eq(change_count, 1);
    ck_assert_int_eq(changes[0].why, CHANGE_RECORD);
    ck_assert_str_eq(changes[0].record->id, "r8");
    const struct date_move *move = move_of(TASK_PAD_CHECK);
    ck_assert_ptr_nonnull(move);
    ck_assert_str_eq(wall(move->old_s), "2026-09-08 09:00");
    ck_assert_int_gt(move->days, 0);
    ck_assert_int_gt(changes[0].moves.new_fire_day, changes[0].moves.old_fire_day);
}
END_TEST

START_TEST(of_two_records_the_one_that_moved_it_is_named)
{
    since("2026-09-08T06:00", 13,
          POURED RECEIVED("\"kind\":\"reading\",\"part\":\"pad\",\"degf\":44", "2026-09-07T20:00",
                          "2026-09-07T22:00")
              RECEIVED("\"kind\":\"note\",\"note\":\"gate was open\"", "2026-09-07T22:30",
                       "2026-09-07T22:31"));
    ck_assert_uint_eq(change_count, 1);
    ck_assert_str_eq(changes[0].record->id, "r8");
}
END_TEST

START_TEST(work_that_was_planned_and_is_not_done_is_named)
{
    since("2026-09-10T06:00", 24, POURED READ("pad", 70, "2026-09-08T09:00"));
    ck_assert_uint_eq(change_count, 1);
    ck_assert_int_eq(changes[0].why, CHANGE_NOT_DONE);
    ck_assert_ptr_null(changes[0].record);
    const struct date_move *move = move_of(TASK_LAYOUT);
    ck_assert_ptr_nonnull(move);
    ck_assert_int_eq(move->days, 1);
}
END_TEST

START_TEST(nothing_moved_is_no_change)
{
    since("2026-09-08T06:00", 1, POURED);
    ck_assert_uint_eq(change_count, 0);
}
END_TEST

START_TEST(a_job_nobody_knew_then_is_no_change)
{
    since("2026-09-08T06:00", 24 * 30, POURED);
    ck_assert_uint_eq(change_count, 0);
}
END_TEST

START_TEST(one_day_late_here_is_two_where_the_inspector_comes)
{
    /* Steel Mon 14 September 12:00, asked for before 14:00, is seen Tuesday; a day later the next
       visit that can be asked for is Thursday. */
    since("2026-09-14T13:00", 1,
          DONE("site-walk", "2026-09-01T08:00") DONE("permit-get", "2026-09-01T09:00")
              PASSED("footing-ready", "2026-09-02T10:00") DONE("pad-steel", "2026-09-14T11:30"));
    const struct job_plan before = the_plan->jobs[0];
    since("2026-09-15T13:00", 1,
          DONE("site-walk", "2026-09-01T08:00") DONE("permit-get", "2026-09-01T09:00")
              PASSED("footing-ready", "2026-09-02T10:00") DONE("pad-steel", "2026-09-15T11:30"));
    struct job_moves moves;
    changes_compare(&moves, &before, &the_plan->jobs[0], case_intake.arena);
    const struct date_move *inspect = NULL;
    for (size_t i = 0; i < moves.count; i++)
        if (moves.moves[i].task == TASK_PAD_INSPECT) inspect = &moves.moves[i];
    ck_assert_ptr_nonnull(inspect);
    ck_assert_int_eq(inspect->days, 2);
    ck_assert_int_eq(moves.here_days, 1); /* the order of the kit: nobody did it that day */
    ck_assert_int_ge(moves.end_days, 2);
    /* then a weekend comes between: most of it grows there, in the crew's own days */
    ck_assert_int_ne(moves.snapped, TASK_NONE);
    ck_assert_ptr_nonnull(moves.snap);
    ck_assert(moves.snap->kind == REASON_CREW_DAY || moves.snap->kind == REASON_AFTER);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_cold_reading_that_came_in_late_is_named,
        of_two_records_the_one_that_moved_it_is_named,
        work_that_was_planned_and_is_not_done_is_named,
        nothing_moved_is_no_change,
        a_job_nobody_knew_then_is_no_change,
        one_day_late_here_is_two_where_the_inspector_comes,
    };
    return case_run("changes", tests, sizeof tests / sizeof *tests);
}
