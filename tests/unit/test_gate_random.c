/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Weather gates on random jobs under random skies. What must hold of each plan: work lies in no
 * hour that the weather closes, and enough of its first day is open. What must hold of a worse sky
 * (colder, wetter or windier by one hour or one day): no hour that was closed opens, and no task
 * with the same constraints starts or ends earlier. Past the forecast the weather holds nothing.
 */
#include "gate_case.h"

enum { WORLDS = 300 }; /* each is planned four times; tests/properties has the large numbers */

static uint64_t state;

static unsigned below(unsigned n)
{
    state += UINT64_C(0x9e3779b97f4a7c15);
    uint64_t z = state;
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return (unsigned)((z ^ (z >> 31)) % n);
}

static double between(double low, double high)
{
    return low + (high - low) * below(1000001) / 1000000.0;
}

/* --- worlds ----------------------------------------------------------------------------------- */

static const char *const steps[] = {
    DONE("order-kit", "2026-10-06T09:00") PASSED("footing-ready", "2026-10-06T09:10"),
    PASSED("pad-steel", "2026-10-06T12:00") PASSED("kit-receive", "2026-10-06T12:00"),
    DONE("pad-pour", "2026-10-07T09:00") DONE("pad-protect", "2026-10-07T11:00"),
    DONE("pad-strip", "2026-10-09T11:00") PASSED("pad-check", "2026-10-12T09:00"),
    PASSED("layout", "2026-10-12T10:00"),
    PASSED("box-courses", "2026-10-12T15:00"),
    PASSED("throat-set", "2026-10-13T09:00") DONE("lintel-iron", "2026-10-13T10:00"),
    PASSED("damper-set", "2026-10-13T10:30") PASSED("smoke-chamber", "2026-10-13T12:00"),
    DONE("transition-set", "2026-10-13T13:00"),
    DONE("chimney-run", "2026-10-15T13:00"),
    DONE("cap-set", "2026-10-15T15:00"),
};

static char options[300], records[6000];

static void draw_job(void)
{
    static const char *const places[] = {"indoor", "covered", "exposed", "exposed"};
    static const char *const bags[] = {"35", "40", "45", "50", "55"};
    snprintf(
        options, sizeof options,
        "\"base\":\"%s\",\"pad\":\"new\",\"place\":\"%s\",\"permit\":false,\"through_roof\":%s",
        below(3) == 0 ? "crawl" : "slab", places[below(4)], below(3) == 0 ? "true" : "false");
    records[0] = '\0';
    size_t used = 0, count = below(sizeof steps / sizeof *steps + 1);
    for (size_t i = 0; i < count; i++)
        used += (size_t)snprintf(records + used, sizeof records - used, "%s", steps[i]);
    if (below(3) == 0)
        used += (size_t)snprintf(records + used, sizeof records - used,
                                 "{\"kind\":\"bag\",\"lot\":\"L\",\"mortar\":\"%s\","
                                 "\"min_degf\":%s" AT("2026-10-19T15:00"),
                                 below(2) ? "polymer" : "hydraulic", bags[below(5)]);
    if (below(4) == 0)
        used += (size_t)snprintf(records + used, sizeof records - used,
                                 "%s{\"kind\":\"reading\",\"part\":\"unit\",\"degf\":%u%s",
                                 ROOM("unit", "2026-10-19T09:00"), 35 + below(40),
                                 AT("2026-10-20T05:00"));
}

static void draw_sky(void)
{
    const double mean = between(15, 90), swing = between(0, 20), windy = between(0, 30);
    sky.count = (int)below(SKY_HOURS + 1);
    sky.before_degf = between(50, 75);
    for (int i = 0; i < SKY_HOURS; i++) {
        sky.temp_degf[i] = below(40) == 0 ? NAN : mean + swing * sin((i - 3) * 0.2618);
        sky.rain_in[i] = below(40) == 0 ? NAN : below(12) == 0 ? between(0, 0.3) : 0;
        sky.rh_pct[i] = between(5, 100);
        sky.wind_mph[i] = between(0, windy);
        sky.gust_mph[i] = below(4) == 0 ? NAN : sky.wind_mph[i] * 1.4;
    }
}

/* --- what must hold -----------------------------------------------------------------------------
 */

static bool is_gated(const struct task_plan *task)
{
    if (task->start_s == INSTANT_NONE || gates_class(task->task) == GATE_CLASS_NONE) return false;
    return task->state != TASK_STATE_DONE && task->state != TASK_STATE_PASSED && !task->held;
}

static bool closed_at(const struct job_plan *plan, enum task task, int64_t at_s)
{
    for (size_t g = 0; g < plan->gate_count; g++) {
        if ((plan->gates[g].tasks >> (unsigned)task & 1U) == 0) continue;
        for (size_t s = 0; s < plan->gates[g].count; s++) {
            const struct gate_stretch *stretch = &plan->gates[g].stretches[s];
            if (at_s >= stretch->from_s && at_s < stretch->until_s)
                return stretch->state == GATE_CLOSED;
        }
    }
    return false;
}

/* Of whoever does it: another trade takes no lunch with the crew. */
static struct calendar calendar_for(enum task task)
{
    struct calendar calendar;
    const enum who who = book->tasks[task].who;
    if (who == WHO_CREW || who == WHO_MASON)
        calendar_of_company(&calendar, the_company);
    else
        calendar_of_party(&calendar, NULL, the_company, the_company->zone);
    return calendar;
}

/* Quarters of an hour worked between two instants, and how many of them the weather closes. */
static void count_quarters(const struct job_plan *plan, enum task task, int64_t from_s,
                           int64_t until_s, double *open_h, double *closed_h)
{
    const struct calendar calendar = calendar_for(task);
    *open_h = *closed_h = 0;
    for (int64_t at_s = from_s; at_s < until_s;) {
        int64_t next_s = at_s - at_s % 900 + 900;
        if (next_s > until_s) next_s = until_s;
        double left = calendar_left_h(&calendar, at_s), after = calendar_left_h(&calendar, next_s);
        double hours = left > after ? left - after : 0;
        *(closed_at(plan, task, at_s) ? closed_h : open_h) += hours;
        at_s = next_s;
    }
}

static void ck_standing(const struct job_plan *plan, int world)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan->tasks[t];
        const struct calendar calendar = calendar_for((enum task)t);
        double open_h, closed_h;
        if (!is_gated(task) || task->state == TASK_STATE_WORKING) continue;
        ck_assert_msg(!closed_at(plan, task->task, task->start_s),
                      "world %d: %s starts in a closed hour", world, id_of(&task_ids, t));
        if (task->finish_s == INSTANT_NONE || isnan(task->hours)) continue;
        count_quarters(plan, task->task, task->start_s, task->finish_s, &open_h, &closed_h);
        ck_assert_msg(open_h > task->hours - 0.01, "world %d: %s has %g open hours of %g", world,
                      id_of(&task_ids, t), open_h, task->hours);
        double first_h = book->tasks[t].no_undo ? task->hours : fmin(task->hours, 2);
        first_h = fmin(first_h, calendar_left_h(&calendar, task->start_s));
        int64_t end_s = calendar_finish_s(&calendar, task->start_s, first_h);
        count_quarters(plan, task->task, task->start_s, end_s, &open_h, &closed_h);
        ck_assert_msg(closed_h <= 0.001, "world %d: %s is closed within its first hours", world,
                      id_of(&task_ids, t));
    }
}

/* What the crews are sent to do lies in open weather too, to the quarter. */
static unsigned ck_crews(int world)
{
    const struct plan *plan = NULL;
    unsigned pieces = 0;
    ck_assert_int_eq(planner_run(&plan, sky_case, book, case_intake.arena), STATUS_OK);
    for (size_t c = 0; c < plan->crew_count; c++) {
        for (size_t d = 0; d < plan->crews[c].day_count; d++) {
            const struct crew_day *day = &plan->crews[c].days[d];
            for (size_t w = 0; w < day->work_count; w++) {
                const struct crew_work *work = &day->work[w];
                double open_h, closed_h;
                if (gates_class(work->task) == GATE_CLASS_NONE) continue;
                count_quarters(&plan->jobs[0], work->task, work->start_s, work->finish_s, &open_h,
                               &closed_h);
                ck_assert_msg(closed_h <= 0.001, "world %d: a crew does %s in closed weather",
                              world, id_of(&task_ids, (int)work->task));
                pieces++;
            }
        }
    }
    return pieces;
}

static void ck_not_earlier(const struct job_plan *a, const struct job_plan *b, int world,
                           const char *worse)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *was = &a->tasks[t], *is = &b->tasks[t];
        if (!is_gated(was) || !is_gated(is) || was->opens_s != is->opens_s) continue;
        ck_assert_msg(is->start_s >= was->start_s, "world %d: %s starts earlier: %s", world,
                      id_of(&task_ids, t), worse);
        /* How a stack is shared out in lifts depends on when its bed is laid, if that is ahead. */
        if (t == TASK_CHIMNEY_RUN && strstr(records, "transition-set") == NULL) continue;
        if (was->finish_s != INSTANT_NONE && is->finish_s != INSTANT_NONE)
            ck_assert_msg(is->finish_s >= was->finish_s, "world %d: %s ends earlier: %s", world,
                          id_of(&task_ids, t), worse);
    }
}

static void ck_still_closed(struct gates *was, struct gates *is, int world, const char *worse)
{
    for (int c = 0; c < GATE_CLASS_COUNT; c++) {
        for (int64_t at_s = was->from_s; at_s < was->until_s; at_s += 3600) {
            const struct gate_hour *a = gates_hour(was, (enum gate_class)c, at_s);
            const struct gate_hour *b = gates_hour(is, (enum gate_class)c, at_s);
            if (a == NULL || a->state != GATE_CLOSED) continue;
            ck_assert_msg(b != NULL && b->state == GATE_CLOSED, "world %d: %s opens %s: %s", world,
                          id_of(&gate_class_ids, c), wall(at_s), worse);
        }
    }
}

/* One hour or one whole day worse; false: nothing is known there that could be worse. */
static bool make_worse(const char **what)
{
    static const char *const names[] = {"colder", "wetter", "windier", "gustier"};
    const unsigned kind = below(4);
    const int from = (int)below(SKY_HOURS), until = below(2) ? from + 1 : from + 24;
    bool any = false;
    *what = names[kind];
    for (int i = from; i < until && i < sky.count; i++) {
        double *figures[] = {sky.temp_degf, sky.rain_in, sky.wind_mph, sky.gust_mph};
        if (isnan(figures[kind][i])) continue;
        figures[kind][i] += kind == 0 ? -12 : kind == 1 ? 0.08 : 9;
        any = true;
    }
    return any;
}

START_TEST(work_lies_in_open_weather_and_worse_weather_is_never_earlier)
{
    unsigned gated = 0, moved = 0, measures = 0, pieces = 0;
    for (int world = 0; world < WORLDS; world++) {
        const char *worse;
        arena_reset(case_intake.arena);
        state = (uint64_t)world * 7919 + 1;
        draw_job();
        draw_sky();
        if (sky.count == 0) sky.count = 1;
        struct gates *was = sky_gates(options, records);
        struct job_plan *a = sky_plan(options, records);
        ck_standing(a, world);
        pieces += ck_crews(world);
        for (int t = 0; t < TASK_COUNT; t++) {
            if (!is_gated(&a->tasks[t])) continue;
            gated++;
            if (a->tasks[t].state == TASK_STATE_WAITING_WEATHER) moved++;
            if (a->tasks[t].measure_count > 0) measures++;
        }
        if (!make_worse(&worse)) continue;
        struct gates *is = sky_gates(options, records);
        struct job_plan *b = sky_plan(options, records);
        ck_standing(b, world);
        ck_still_closed(was, is, world, worse);
        ck_not_earlier(a, b, world, worse);
    }
    /* The worlds are wild enough to reach what they are for. */
    ck_assert_uint_gt(gated, WORLDS);
    ck_assert_uint_gt(moved, WORLDS / 20);
    ck_assert_uint_gt(measures, WORLDS / 20);
    ck_assert_uint_gt(pieces, WORLDS / 20);
}
END_TEST

/* The same sky with no hour known: every start is what the calendar alone gives, and none is later.
 */
START_TEST(without_a_forecast_the_weather_holds_nothing)
{
    for (int world = 0; world < WORLDS / 5; world++) {
        arena_reset(case_intake.arena);
        state = (uint64_t)world * 104729 + 5;
        draw_job();
        draw_sky();
        sky.count = 1;
        sky.temp_degf[0] = 60;
        sky.rain_in[0] = sky.gust_mph[0] = sky.wind_mph[0] = 0;
        struct job_plan *plan = sky_plan(options, records);
        if (strstr(records, "\"room\"") != NULL) continue; /* a cold reading holds in a room */
        for (int t = 0; t < TASK_COUNT; t++) {
            ck_assert_int_ne(plan->tasks[t].state == TASK_STATE_WAITING_WEATHER &&
                                 gates_class((enum task)t) != GATE_CLASS_STRIP,
                             1);
            for (size_t i = 0; i < plan->tasks[t].because_count; i++)
                ck_assert_int_ne(plan->tasks[t].because[i].kind, REASON_WEATHER);
        }
    }
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        work_lies_in_open_weather_and_worse_weather_is_never_earlier,
        without_a_forecast_the_weather_holds_nothing,
    };
    return case_run("gate random", tests, sizeof tests / sizeof *tests);
}
