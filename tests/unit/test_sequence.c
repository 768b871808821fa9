/* SPDX-License-Identifier: MIT */
/* links: sequence base */
/*
 * The sequencing engine against brute force on small problems of our own drawing, and against a
 * checker of its own on problems with calendars, choices and changes of place.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sequence/sequence.h"

enum { SMALL = 7, RESOURCES = 2, LARGE = 40, CREWS = 3, PLACES = 6, DAY = 24, DAYS = 20 };

static uint32_t state;
static int32_t any(int32_t below)
{
    state = state * 1664525u + 1013904223u;
    return (int32_t)((state >> 8) % (uint32_t)below);
}

struct world {
    struct sequence_problem problem;
    struct sequence_activity activities[LARGE + 1];
    struct sequence_use uses[LARGE + 1][RESOURCES];
    struct sequence_arc arcs[4 * LARGE];
    int32_t capacity[CREWS + RESOURCES];
    uint8_t open[2][DAY * DAYS];
    const uint8_t *calendars[2];
    int32_t changeover[PLACES * PLACES];
};

static const struct sequence_activity blank = {
    .calendar = SEQUENCE_NONE, .place = SEQUENCE_NONE, .keep_choice = SEQUENCE_NONE};

static void arc(struct world *w, int32_t from, int32_t to, int32_t lag, bool from_finish)
{
    w->arcs[w->problem.arc_count++] = (struct sequence_arc){from, to, lag, from_finish};
}

/* SMALL activities, two resources, finish-to-start arcs and lags between starts, and an end event.
 */
static void draw_small(struct world *w, uint32_t seed)
{
    *w = (struct world){0};
    state = seed;
    w->problem = (struct sequence_problem){.activities = w->activities,
                                           .count = SMALL + 1,
                                           .arcs = w->arcs,
                                           .capacity = w->capacity,
                                           .resource_count = RESOURCES,
                                           .horizon = 120,
                                           .changeover_calendar = SEQUENCE_NONE};
    for (int32_t r = 0; r < RESOURCES; r++) w->capacity[r] = 3 + any(3);
    for (int32_t j = 0; j < SMALL; j++) {
        w->activities[j] = blank;
        w->activities[j].duration = any(7);
        w->activities[j].release = any(4) == 0 ? any(6) : 0;
        w->activities[j].uses = w->uses[j];
        w->activities[j].use_count = RESOURCES;
        for (int32_t r = 0; r < RESOURCES; r++)
            w->uses[j][r] = (struct sequence_use){r, any(w->capacity[r] + 1)};
        for (int32_t k = 0; k < j; k++)
            if (any(5) == 0) arc(w, k, j, any(2) ? 0 : any(9), any(2) == 0);
        arc(w, j, SMALL, 0, true);
    }
    w->activities[SMALL] = blank;
    w->activities[SMALL].weight = 1;
}

/* Every order, each activity at its first fit: some order gives an optimum. Shares nothing with the
 * engine. */
static int32_t best_by_force(const struct world *w, int32_t *starts, uint32_t placed)
{
    const struct sequence_problem *p = &w->problem;
    int32_t best = INT32_MAX;
    if (placed == (1u << SMALL) - 1) {
        best = 0;
        for (int32_t j = 0; j < SMALL; j++)
            if (starts[j] + w->activities[j].duration > best)
                best = starts[j] + w->activities[j].duration;
        return best;
    }
    for (int32_t j = 0; j < SMALL; j++) {
        bool ready = !(placed >> j & 1);
        int32_t at = w->activities[j].release;
        for (int32_t a = 0; a < p->arc_count && ready; a++) {
            const struct sequence_arc *arc_in = &p->arcs[a];
            if (arc_in->to != j) continue;
            if (!(placed >> arc_in->from & 1)) ready = false;
            int32_t from = starts[arc_in->from] + arc_in->lag;
            if (arc_in->from_finish) from += w->activities[arc_in->from].duration;
            if (from > at) at = from;
        }
        if (!ready) continue;
        for (bool fits = false; !fits; at += !fits) {
            fits = true;
            for (int32_t s = at; s < at + w->activities[j].duration && fits; s++)
                for (int32_t r = 0; r < RESOURCES && fits; r++) {
                    int32_t used = w->uses[j][r].amount;
                    for (int32_t k = 0; k < SMALL; k++)
                        if (placed >> k & 1 && starts[k] <= s &&
                            s < starts[k] + w->activities[k].duration)
                            used += w->uses[k][r].amount;
                    fits = used <= w->capacity[r];
                }
        }
        starts[j] = at;
        int32_t found = best_by_force(w, starts, placed | 1u << j);
        if (found < best) best = found;
    }
    return best;
}

static struct sequence_answer solve(const struct sequence_problem *problem, int64_t schedules,
                                    struct arena *arena)
{
    struct sequence_answer answer;
    struct fault fault;
    struct sequence_budget budget = {.schedules = schedules, .seed = 3};
    ck_assert_int_eq(sequence_check(problem, &fault, arena), STATUS_OK);
    ck_assert_int_eq(sequence_solve(&answer, problem, &budget, arena), STATUS_OK);
    ck_assert_int_le(answer.schedules, schedules);
    return answer;
}

START_TEST(small_problems_are_solved_to_the_optimum_that_brute_force_finds)
{
    struct arena *arena = arena_new();
    static struct world w;
    for (uint32_t seed = 1; seed <= 60; seed++) {
        arena_reset(arena);
        draw_small(&w, seed);
        int32_t starts[SMALL] = {0};
        int32_t best = best_by_force(&w, starts, 0);
        struct sequence_answer answer = solve(&w.problem, 1000, arena);
        ck_assert_msg(answer.cost == best, "seed %u: %lld, brute force %d", seed,
                      (long long)answer.cost, best);
    }
    arena_free(arena);
}
END_TEST

/* Crews that drive, days of 8 open slots with a break, work that may or may not span a night. */
static void draw_crews(struct world *w, uint32_t seed)
{
    *w = (struct world){0};
    state = seed;
    for (int32_t s = 0; s < DAY * DAYS; s++) {
        int32_t hour = s % DAY;
        w->open[0][s] = hour >= 7 && hour < 16 && hour != 12 && s / DAY % 7 < 5;
        w->open[1][s] = w->open[0][s] && s / DAY % 3 != 1; /* weather */
    }
    for (int32_t c = 0; c < 2; c++) w->calendars[c] = w->open[c];
    for (int32_t a = 0; a < PLACES; a++)
        for (int32_t b = 0; b < a; b++)
            w->changeover[a * PLACES + b] = w->changeover[b * PLACES + a] = 1 + any(2);
    for (int32_t r = 0; r < CREWS + RESOURCES; r++) w->capacity[r] = r < CREWS ? 1 : 2;
    w->problem = (struct sequence_problem){.activities = w->activities,
                                           .count = LARGE,
                                           .arcs = w->arcs,
                                           .capacity = w->capacity,
                                           .resource_count = CREWS + RESOURCES,
                                           .horizon = DAY * DAYS,
                                           .calendars = w->calendars,
                                           .calendar_count = 2,
                                           .changeover = w->changeover,
                                           .place_count = PLACES,
                                           .changeover_calendar = 0,
                                           .rest = 8};
    for (int32_t j = 0; j < LARGE; j++) {
        w->activities[j] = blank;
        w->activities[j].duration = 1 + any(6);
        w->activities[j].weight = 1;
        w->activities[j].one_of = 1 + (uint64_t)any(7);
        w->activities[j].calendar = any(2);
        w->activities[j].gap_max = any(3) == 0 ? 1 : 200;
        w->activities[j].place = j % PLACES;
        w->activities[j].release = any(30);
        w->activities[j].uses = w->uses[j];
        w->activities[j].use_count = 1;
        w->uses[j][0] = (struct sequence_use){CREWS + any(RESOURCES), 1};
        if (j >= PLACES) arc(w, j - PLACES, j, any(3) * 6, true);
    }
}

/* Slots in which activity j holds its crew: all of its span but the long closed gaps. */
static bool holds(const struct world *w, const struct sequence_answer *answer, int32_t j, int32_t s)
{
    const uint8_t *open = w->open[w->activities[j].calendar];
    if (answer->start[j] < 0 || s < answer->start[j] || s >= answer->finish[j]) return false;
    int32_t from = s, until = s;
    while (!open[from] && from > 0) from--;
    while (!open[until] && until < DAY * DAYS - 1) until++;
    return open[s] || until - from - 1 < w->problem.rest;
}

/* The open slots of the changing calendar between two slots, -1 when a rest lies between. */
static int32_t time_between(const struct world *w, int32_t from, int32_t until)
{
    int32_t had = 0, closed = 0;
    for (int32_t s = from; s < until; s++) {
        closed = w->open[0][s] ? 0 : closed + 1;
        if (closed >= w->problem.rest) return -1;
        had += w->open[0][s];
    }
    return had;
}

static void one_crew_is_kept(const struct world *w, const struct sequence_answer *answer,
                             int32_t crew)
{
    int32_t last = SEQUENCE_NONE, last_slot = 0;
    for (int32_t s = 0; s < DAY * DAYS; s++) {
        int32_t here = SEQUENCE_NONE;
        for (int32_t j = 0; j < LARGE; j++) {
            if (answer->choice[j] != crew || !holds(w, answer, j, s)) continue;
            ck_assert_msg(here == SEQUENCE_NONE, "crew %d at %d and %d in slot %d", crew, here, j,
                          s);
            here = j;
        }
        if (here == SEQUENCE_NONE) continue;
        if (last != SEQUENCE_NONE) {
            int32_t had = time_between(w, last_slot + 1, s);
            int32_t a = w->activities[last].place, b = w->activities[here].place;
            ck_assert_msg(had < 0 || had >= w->changeover[a * PLACES + b],
                          "crew %d from %d to %d in %d slots", crew, a, b, had);
        }
        last = here;
        last_slot = s;
    }
}

static void one_activity_is_kept(const struct world *w, const struct sequence_answer *answer,
                                 int32_t j)
{
    const struct sequence_activity *activity = &w->activities[j];
    const uint8_t *open = w->open[activity->calendar];
    int32_t worked = 0, closed = 0, longest = 0;
    ck_assert_int_ge(answer->start[j], activity->release);
    ck_assert_int_le(answer->finish[j], DAY * DAYS);
    ck_assert(open[answer->start[j]] && open[answer->finish[j] - 1]);
    for (int32_t s = answer->start[j]; s < answer->finish[j]; s++) {
        closed = open[s] ? 0 : closed + 1;
        worked += open[s];
        if (closed > longest) longest = closed;
    }
    ck_assert_int_eq(worked, activity->duration);
    ck_assert_int_le(longest, activity->gap_max);
    ck_assert(activity->one_of >> answer->choice[j] & 1);
}

START_TEST(crews_keep_hours_breaks_drives_and_lags)
{
    struct arena *arena = arena_new();
    static struct world w;
    int placed = 0;
    for (uint32_t seed = 1; seed <= 80; seed++) {
        arena_reset(arena);
        draw_crews(&w, seed);
        struct sequence_answer answer = solve(&w.problem, 40, arena);
        for (int32_t j = 0; j < LARGE; j++) {
            if (answer.start[j] == SEQUENCE_NONE) continue;
            placed++;
            one_activity_is_kept(&w, &answer, j);
        }
        for (int32_t c = 0; c < CREWS; c++) one_crew_is_kept(&w, &answer, c);
        for (int32_t a = 0; a < w.problem.arc_count; a++) {
            const struct sequence_arc *x = &w.arcs[a];
            if (answer.start[x->to] == SEQUENCE_NONE) continue;
            ck_assert_int_ne(answer.start[x->from], SEQUENCE_NONE);
            ck_assert_int_ge(answer.start[x->to], answer.finish[x->from] + x->lag);
        }
    }
    ck_assert_int_gt(placed, 80 * LARGE / 2);
    arena_free(arena);
}
END_TEST

START_TEST(two_jobs_share_one_crew_in_the_wait_of_the_long_one)
{
    /* 2 slots, a wait of 6, 2 slots; and 5 slots of something else: 10 in all, worked by hand. */
    struct world w = {0};
    struct arena *arena = arena_new();
    for (int32_t j = 0; j < 4; j++) w.activities[j] = blank;
    w.activities[0].duration = 2;
    w.activities[1].duration = 2;
    w.activities[2].duration = 5;
    w.activities[3].weight = 1;
    for (int32_t j = 0; j < 3; j++) {
        w.activities[j].one_of = 1;
        w.problem.activities = w.activities;
        arc(&w, j, 3, 0, true);
    }
    arc(&w, 0, 1, 6, true);
    w.capacity[0] = 1;
    w.problem.count = 4;
    w.problem.arcs = w.arcs;
    w.problem.capacity = w.capacity;
    w.problem.resource_count = 1;
    w.problem.horizon = 30;
    w.problem.changeover_calendar = SEQUENCE_NONE;
    struct sequence_answer answer = solve(&w.problem, 100, arena);
    ck_assert_int_eq(answer.cost, 10);
    ck_assert_int_eq(answer.start[0], 0);
    ck_assert_int_eq(answer.start[1], 8);
    arena_free(arena);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_schedule_and_more_passes_never_a_worse_one)
{
    struct arena *arena = arena_new();
    static struct world w;
    for (uint32_t seed = 1; seed <= 10; seed++) {
        draw_crews(&w, seed);
        struct sequence_answer a = solve(&w.problem, 200, arena), b = solve(&w.problem, 200, arena);
        ck_assert_mem_eq(a.start, b.start, sizeof *a.start * LARGE);
        ck_assert_mem_eq(a.choice, b.choice, sizeof *a.choice * LARGE);
        struct sequence_answer one = solve(&w.problem, 1, arena);
        ck_assert_int_eq(one.schedules, 1);
        ck_assert_int_ge(one.cost, a.cost);
        arena_reset(arena);
    }
    arena_free(arena);
}
END_TEST

START_TEST(an_earlier_plan_is_kept_unless_a_change_gains_more_than_it_costs)
{
    struct world w = {0};
    struct arena *arena = arena_new();
    for (int32_t j = 0; j < 2; j++) {
        w.activities[j] = blank;
        w.activities[j].duration = 4;
        w.activities[j].weight = 1;
        w.activities[j].one_of = 1;
        w.activities[j].keep_choice = 0;
        w.activities[j].keep_weight = 3;
    }
    w.activities[0].keep_start = 4; /* yesterday: the second one first */
    w.activities[1].keep_start = 0;
    w.capacity[0] = 1;
    w.problem = (struct sequence_problem){.activities = w.activities,
                                          .count = 2,
                                          .capacity = w.capacity,
                                          .resource_count = 1,
                                          .horizon = 30,
                                          .changeover_calendar = SEQUENCE_NONE};
    struct sequence_answer answer = solve(&w.problem, 100, arena);
    ck_assert_int_eq(answer.start[1], 0);
    ck_assert_int_eq(answer.start[0], 4);
    w.activities[0].weight = 9; /* now every slot late costs more than both changes */
    answer = solve(&w.problem, 100, arena);
    ck_assert_int_eq(answer.start[0], 0);
    arena_free(arena);
}
END_TEST

START_TEST(what_can_never_be_scheduled_is_refused_with_its_reason)
{
    struct arena *arena = arena_new();
    static struct world w;
    struct fault fault;
    draw_small(&w, 5);
    w.uses[2][1].amount = w.capacity[1] + 1;
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    ck_assert_ptr_nonnull(strstr(fault.found, "activity 2 asks for"));
    draw_small(&w, 5);
    arc(&w, 3, 5, 1, false);
    arc(&w, 5, 3, 1, false);
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    ck_assert_ptr_nonnull(strstr(fault.found, "for itself"));
    draw_small(&w, 5);
    w.arcs[0].lag = -1;
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    draw_small(&w, 5);
    w.arcs[0].to = SMALL + 1;
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    draw_small(&w, 5);
    w.activities[0].one_of = 1u << RESOURCES;
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    draw_small(&w, 5);
    w.activities[0].calendar = 0;
    ck_assert_int_eq(sequence_check(&w.problem, &fault, arena), STATUS_INVALID);
    arena_free(arena);
}
END_TEST

START_TEST(what_fits_before_no_horizon_is_said_and_so_is_what_waits_for_it)
{
    struct arena *arena = arena_new();
    static struct world w;
    draw_crews(&w, 2);
    memset(w.open[1], 0, sizeof w.open[1]); /* weather that never opens */
    struct sequence_answer answer = solve(&w.problem, 30, arena);
    for (int32_t j = 0; j < LARGE; j++)
        if (w.activities[j].calendar == 1) ck_assert_int_eq(answer.start[j], SEQUENCE_NONE);
    for (int32_t a = 0; a < w.problem.arc_count; a++)
        if (answer.start[w.arcs[a].from] == SEQUENCE_NONE)
            ck_assert_int_eq(answer.start[w.arcs[a].to], SEQUENCE_NONE);
    arena_free(arena);
}
END_TEST

int main(void)
{
    const TTest *const sentences[] = {
        small_problems_are_solved_to_the_optimum_that_brute_force_finds,
        crews_keep_hours_breaks_drives_and_lags,
        two_jobs_share_one_crew_in_the_wait_of_the_long_one,
        the_same_seed_gives_the_same_schedule_and_more_passes_never_a_worse_one,
        an_earlier_plan_is_kept_unless_a_change_gains_more_than_it_costs,
        what_can_never_be_scheduled_is_refused_with_its_reason,
        what_fits_before_no_horizon_is_said_and_so_is_what_waits_for_it,
    };
    Suite *suite = suite_create("sequence");
    TCase *tests = tcase_create("sequence");
    tcase_set_timeout(tests, 60);
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++)
        tcase_add_test(tests, sentences[i]);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
