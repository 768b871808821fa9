/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * What must hold of the plan of any job: random options and random records, in and out of order,
 * some contradicting each other. No example here is likely; each has to be planned without harm.
 */
#include "network_case.h"

#include "planner/calendar.h"

enum { ROUNDS = 1500 };

static uint64_t chance_state;

static unsigned chance(unsigned below)
{
    chance_state = chance_state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (unsigned)(chance_state >> 33) % below;
}

static const char *pick(const char *const *words, unsigned count)
{
    return words[chance(count)];
}

static const char *random_options(void)
{
    static const char *const base[] = {"slab", "crawl", "basement"};
    static const char *const pad[] = {"new", "new", "existing"};
    static const char *const place[] = {"indoor", "covered", "exposed"};
    static const char *const lighter[] = {"none", "flush", "top"};
    static const char *const facing[] = {"none", "framed", "mortared"};
    static const char *const yes[] = {"true", "false"};
    return arena_print(case_intake.arena,
                       "\"base\":\"%s\",\"pad\":\"%s\",\"place\":\"%s\",\"lighter\":\"%s\","
                       "\"facing\":\"%s\",\"outside_air\":%s,\"permit\":%s,\"through_roof\":%s,"
                       "\"propped\":%s,\"town\":{\"throat_look\":%s}",
                       pick(base, 3), pick(pad, 3), pick(place, 3), pick(lighter, 3),
                       pick(facing, 3), pick(yes, 2), pick(yes, 2), pick(yes, 2), pick(yes, 2),
                       pick(yes, 2));
}

static const char *random_quantities(void)
{
    const char *out = "\"drive_h\":0.7";
    for (int q = 0; q < QUANTITY_DRIVE_H; q++)
        if (chance(10) > 0)
            out = arena_print(case_intake.arena, "%s,\"%s\":%u", out, quantity_ids.ids[q],
                              1 + chance(60));
    return out;
}

/* A job built up to a random task, with mistakes: passes forgotten, things stopped, failed, redone.
 */
static const char *random_records(void)
{
    static const char *const kinds[] = {"done",   "done",    "done",    "passed",
                                        "passed", "started", "stopped", "failed"};
    const char *out = ROOM("pad", "2026-09-01T07:00") ROOM("unit", "2026-09-01T07:00");
    const bool tidy = chance(3) == 0; /* built up to the drying, nothing forgotten */
    unsigned upto = tidy ? TASK_FACING_OTHERS + chance(4) : chance(TASK_COUNT + 1);
    for (unsigned t = 0; t < upto; t++) {
        if (!tidy && chance(8) == 0) continue;
        unsigned times = tidy ? 2 : 1 + chance(2);
        for (unsigned i = 0; i < times; i++) {
            bool astray = !tidy && chance(3) == 0;
            unsigned hour = astray ? chance(50 * 24) : t * 24 + chance(tidy ? 12 : 30);
            out = arena_print(case_intake.arena,
                              "%s{\"kind\":\"%s\",\"task\":\"%s\",\"at\":"
                              "\"2026-%02u-%02uT%02u:00:00-06:00\"}",
                              out,
                              times == 2 && i == 1 ? "passed"
                              : tidy               ? "done"
                                                   : pick(kinds, 8),
                              task_ids.ids[t], 9 + hour / 24 / 30, 1 + hour / 24 % 30, hour % 24);
        }
    }
    for (unsigned i = 0; tidy && i < 12; i++)
        out = arena_print(case_intake.arena,
                          "%s{\"kind\":\"reading\",\"part\":\"unit\",\"how\":\"thermostat\","
                          "\"degf\":66,\"at\":\"2026-%02u-%02uT06:00:00-06:00\"}",
                          out, 9 + i / 5, 1 + i % 5 * 6);
    for (unsigned i = 0; !tidy && i < 12; i++)
        out = arena_print(case_intake.arena,
                          "%s{\"kind\":\"reading\",\"part\":\"%s\",\"degf\":%u,\"at\":"
                          "\"2026-%02u-%02uT%02u:30:00-06:00\"}",
                          out, chance(2) ? "pad" : "unit", 30 + chance(45), 9 + chance(2),
                          1 + chance(30), chance(24));
    static const char *const rare[] = {
        "\"kind\":\"looked\",\"part\":\"pad\",\"result\":\"redo\",\"by\":\"Wren\"",
        "\"kind\":\"looked\",\"part\":\"pad\",\"result\":\"no-damage-seen\",\"by\":\"Wren\"",
        "\"kind\":\"looked\",\"part\":\"unit\",\"result\":\"redo\",\"by\":\"Wren\"",
        "\"kind\":\"lit\"",
        "\"kind\":\"facing\",\"last\":true",
        "\"kind\":\"facing\"",
        "\"kind\":\"soaked\",\"part\":\"unit\"",
        "\"kind\":\"delivered\"",
        "\"kind\":\"relaid\",\"what\":\"floor\"",
        "\"kind\":\"fire\",\"number\":1",
        "\"kind\":\"held-date\",\"task\":\"layout\",\"date\":\"2026-10-20\"",
        "\"kind\":\"booked\",\"task\":\"final-inspect\",\"date\":\"2026-10-21\""};
    for (unsigned i = chance(4); i > 0; i--)
        out = arena_print(case_intake.arena, "%s{%s,\"at\":\"2026-10-%02uT%02u:00:00-06:00\"}", out,
                          pick(rare, sizeof rare / sizeof *rare), 1 + chance(15), chance(24));
    return out;
}

static bool over(const struct task_plan *plan)
{
    return plan->state == TASK_STATE_DONE || plan->state == TASK_STATE_PASSED;
}

static bool ahead(const struct task_plan *plan)
{
    return !over(plan) && !plan->held && plan->state != TASK_STATE_NOT_NEEDED &&
           plan->state != TASK_STATE_WORKING && plan->task != TASK_CURE_WATCH;
}

static const struct clock_plan *clock_of(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return &plan->clocks[i];
    return NULL;
}

/* No task starts before what it comes after is finished, or while a clock of its is shut. */
static void check_links(const struct job_plan *plan, const struct task_plan *task)
{
    const struct task_rule *rule = &book->tasks[task->task];
    bool ready = task->state == TASK_STATE_WAIT_OVER;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (!rulebook_holds(link->when, link->when_count, &the_job->options)) continue;
        if (link->kind == LINK_AFTER) {
            const struct task_plan *before = &plan->tasks[link->task];
            if (before->state == TASK_STATE_NOT_NEEDED || over(before)) continue;
            ck_assert_msg(!ready, "%s ready before %s", task_ids.ids[task->task],
                          task_ids.ids[link->task]);
            if (before->held) ck_assert(task->start_s == INSTANT_NONE);
            if (task->start_s == INSTANT_NONE || link->task == TASK_CURE_WATCH) continue;
            ck_assert(before->start_s != INSTANT_NONE);
            if (before->finish_s != INSTANT_NONE)
                ck_assert_msg(task->start_s >= before->finish_s + (int64_t)(link->wait_h * 3600),
                              "%s before %s", task_ids.ids[task->task], task_ids.ids[link->task]);
        }
        if (link->kind == LINK_AFTER_CLOCK) {
            const struct clock_plan *clock = clock_of(plan, link->clock);
            if (clock == NULL && link->if_started) continue;
            bool open =
                clock != NULL && clock->state == CLOCK_STATE_OPEN && clock->opens_s <= the_now_s;
            ck_assert_msg(open || !ready, "%s ready with %s shut", task_ids.ids[task->task],
                          clock_ids.ids[link->clock]);
            if (task->start_s != INSTANT_NONE && clock != NULL &&
                clock->state != CLOCK_STATE_ENDED) {
                ck_assert(clock->opens_s != INSTANT_NONE);
                ck_assert(task->start_s >= clock->opens_s);
            }
        }
    }
}

/* Last chances: what they precede is not ready while they are not finished. */
static void check_chances(const struct job_plan *plan, const struct task_plan *task)
{
    const struct task_rule *rule = &book->tasks[task->task];
    if (over(task) || task->state == TASK_STATE_NOT_NEEDED) return;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_BEFORE) continue;
        if (!rulebook_holds(link->when, link->when_count, &the_job->options)) continue;
        const struct task_plan *closes = &plan->tasks[link->task];
        ck_assert_int_ne(closes->state, TASK_STATE_WAIT_OVER);
        if (!over(closes)) continue;
        ck_assert(cautioned(plan, CAUTION_LAST_CHANCE_MISSED, task->task));
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_rule *next = &book->tasks[t];
            for (size_t k = 0; k < next->link_count; k++) {
                if (next->links[k].kind != LINK_AFTER || next->links[k].task != link->task ||
                    t == TASK_CURE_WATCH ||
                    !rulebook_holds(next->links[k].when, next->links[k].when_count,
                                    &the_job->options))
                    continue;
                ck_assert_int_ne(plan->tasks[t].state, TASK_STATE_WAIT_OVER);
                if (ahead(&plan->tasks[t])) ck_assert(plan->tasks[t].start_s == INSTANT_NONE);
            }
        }
    }
}

static void check_calendar(const struct task_plan *task)
{
    if (!ahead(task) || task->start_s == INSTANT_NONE) return;
    ck_assert(task->start_s >= the_now_s);
    enum who who = book->tasks[task->task].who;
    if (who == WHO_HOMEOWNER || who == WHO_INSPECTOR) return;
    struct calendar calendar;
    calendar_of_company(&calendar, the_company);
    if (who != WHO_CREW && who != WHO_MASON && who != WHO_OWNER && who != WHO_OFFICE) return;
    ck_assert_msg(calendar_start_s(&calendar, task->start_s, 0) == task->start_s,
                  "%s starts outside hours", task_ids.ids[task->task]);
    if (task->finish_s == INSTANT_NONE) return;
    ck_assert(task->finish_s >= task->start_s);
    if (task->hours > 0) ck_assert(calendar_left_h(&calendar, task->finish_s - 1) > 0);
}

/* Latest first, no end known before all; the first one gives the date, or says there is none. */
static void check_reasons(const struct task_plan *task)
{
    for (size_t i = 0; i < task->because_count; i++) {
        const struct reason *reason = &task->because[i];
        ck_assert_ptr_nonnull(reason->rule);
        if (i == 0) continue;
        const struct reason *before = &task->because[i - 1];
        ck_assert(before->until_s == INSTANT_NONE ||
                  (reason->until_s != INSTANT_NONE && before->until_s >= reason->until_s));
    }
    if (!ahead(task) || task->task == TASK_NIGHT_COVER) return;
    if (task->start_s == INSTANT_NONE) {
        ck_assert_uint_gt(task->because_count, 0);
        ck_assert(task->because[0].until_s == INSTANT_NONE);
    } else if (task->start_s > the_now_s) {
        ck_assert_uint_gt(task->because_count, 0);
        ck_assert_msg(task->because[0].until_s == task->start_s, "%s: %s", task_ids.ids[task->task],
                      task->because[0].rule);
    }
}

static void check_fire(const struct job_plan *plan)
{
    for (int t = TASK_FIRE_1; t <= TASK_FIRE_5; t++) {
        const struct task_plan *task = &plan->tasks[t];
        if (!ahead(task)) continue;
        bool given = plan->fire.blocked_by == 0 && plan->fire.cure_complete_day != DAY_NONE;
        if (!given) {
            ck_assert(task->start_s == INSTANT_NONE);
            ck_assert_int_ne(task->state, TASK_STATE_WAIT_OVER);
        } else if (task->start_s != INSTANT_NONE) {
            ck_assert_int_ge(civil_day_of(the_job->zone, task->start_s),
                             plan->fire.cure_complete_day);
        }
    }
}

static void check_same(const struct job_plan *plan)
{
    struct job_plan again;
    ck_assert_int_eq(planner_job(&again, the_job, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    for (int t = 0; t < TASK_COUNT; t++) {
        ck_assert_int_eq(again.tasks[t].state, plan->tasks[t].state);
        ck_assert(again.tasks[t].start_s == plan->tasks[t].start_s);
        ck_assert(again.tasks[t].finish_s == plan->tasks[t].finish_s);
        ck_assert_uint_eq(again.tasks[t].because_count, plan->tasks[t].because_count);
    }
}

START_TEST(every_job_is_planned_without_harm)
{
    unsigned dated = 0, ready = 0, missed = 0, fires = 0;
    for (unsigned round = 0; round < ROUNDS; round++) {
        chance_state = round + 1;
        chance(2);
        const char *options = random_options();
        const char *quantities = random_quantities();
        const char *records = random_records();
        const char *now = arena_print(case_intake.arena, "2026-%02u-%02uT%02u:20", 10 + chance(2),
                                      1 + chance(30), chance(24));
        const struct job_plan *plan = case_plan(now, options, quantities, records);
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &plan->tasks[t];
            ck_assert_int_eq(task->task, t);
            if (task->task != TASK_NIGHT_COVER && ahead(task)) check_links(plan, task);
            check_chances(plan, task);
            check_calendar(task);
            check_reasons(task);
            dated += ahead(task) && task->start_s != INSTANT_NONE;
            ready += task->state == TASK_STATE_WAIT_OVER;
        }
        check_fire(plan);
        check_same(plan);
        fires +=
            ahead(&plan->tasks[TASK_FIRE_1]) && plan->tasks[TASK_FIRE_1].start_s != INSTANT_NONE;
        for (size_t i = 0; i < plan->caution_count; i++)
            missed += plan->cautions[i].caution == CAUTION_LAST_CHANCE_MISSED;
        if (round % 100 == 99) arena_reset(case_intake.arena);
    }
    /* the rounds reach what they are meant to look at */
    ck_assert_uint_gt(dated, ROUNDS);
    ck_assert_uint_gt(ready, ROUNDS / 4);
    ck_assert_uint_gt(missed, ROUNDS / 20);
    ck_assert_uint_gt(fires, ROUNDS / 50);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {every_job_is_planned_without_harm};
    return case_run("network-random", tests, 1);
}
