/* SPDX-License-Identifier: MIT */
/*
 * Why: the whole plan of a job once for each past year, so that every task has an outlook of its
 * own: what runs opens as it would have in that year, and what has not started is counted under
 * that year's weather from the planned end of the work that starts it. Crews, bookings, gates and
 * the forecast are those of now; only the hours behind the forecast differ.
 */
#include "planner/network_year.h"

#include "compute/civil.h"
#include "planner/gate.h"
#include "planner/network_internal.h"

#include "base/banned.h"

/** The starts and finishes of all tasks in all years. */
struct dates {
    int64_t (*starts)[TASK_COUNT];
    int64_t (*finishes)[TASK_COUNT];
};

static bool is_ahead(const struct task_plan *task)
{
    return task->state != TASK_STATE_NOT_NEEDED && task->state != TASK_STATE_DONE &&
           task->state != TASK_STATE_PASSED;
}

/* The plan of one year: its clocks and its fire date in the place of the known ones. */
static void one_year(struct net *net, struct clock_plan *plans, const struct outlook *outlook,
                     size_t index)
{
    struct job_plan *out = net->out;
    const struct facts *facts = net->facts;
    for (size_t i = 0; i < out->clock_count; i++) {
        net->clocks[plans[i].clock] = &plans[i];
        if (plans[i].state == CLOCK_STATE_RUNNING)
            clock_settle(&plans[i], facts, outlook->crossings[index][plans[i].clock]);
    }
    if (out->fire.cure_complete_day != DAY_NONE) {
        const int64_t fire_s = outlook_fire_s(outlook, index);
        out->fire.cure_complete_day =
            fire_s == INSTANT_NONE ? DAY_NONE : civil_day_of(facts->job->zone, fire_s);
    }
    network_forward(net);
}

static void keep(struct dates *dates, size_t index, const struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        dates->starts[index][t] = net->out->tasks[t].start_s;
        dates->finishes[index][t] = net->out->tasks[t].finish_s;
    }
    if (dates->starts[index][TASK_FIRE_1] == INSTANT_NONE)
        dates->starts[index][TASK_FIRE_1] = net->projected_s;
}

static void rank(struct outlook_range *out, int64_t (*dates)[TASK_COUNT], int task,
                 const struct outlook *outlook)
{
    int64_t values[PAST_YEARS_MAX];
    for (size_t i = 0; i < outlook->count; i++) values[i] = dates[i][task];
    outlook_rank(out, values, outlook->count, outlook->recent);
}

void network_years(struct job_plan *out, const struct facts *facts, struct outlook *outlook)
{
    struct arena *arena = facts->arena;
    if (outlook->count == 0) return;
    struct net *known = ARENA_TAKE(arena, 1, struct net), *net = ARENA_TAKE(arena, 1, struct net);
    struct job_plan *copy = ARENA_TAKE(arena, 1, struct job_plan);
    struct clock_plan *plans = ARENA_TAKE(arena, out->clock_count, struct clock_plan);
    struct dates dates = {arena_take(arena, outlook->count, sizeof *dates.starts),
                          arena_take(arena, outlook->count, sizeof *dates.finishes)};
    struct gates *gates = ARENA_TAKE(arena, 1, struct gates);
    struct facts again = *facts;
    if (gates == NULL || known == NULL || net == NULL || copy == NULL || plans == NULL ||
        dates.starts == NULL || dates.finishes == NULL)
        return;
    /* What is made when first asked for must not be made inside a year, whose memory goes again. */
    for (int c = 0; c < CLOCK_COUNT; c++)
        (void)clock_history(outlook->year.clocks, facts->rulebook->clocks[c].part);
    *copy = *out;
    network_begin(known, copy, &again);
    known->year = &outlook->year;
    for (size_t i = 0; i < outlook->count; i++) {
        struct arena_mark mark = arena_mark(arena);
        for (size_t k = 0; k < out->clock_count; k++) plans[k] = out->clocks[k];
        copy->fire = out->fire;
        *net = *known;
        /* Gates judge hours when first asked: what the first year asks for stays for all. */
        if (i > 0 && facts->gates != NULL) {
            *gates = *facts->gates;
            again.gates = gates;
        }
        clock_year_take(&outlook->year, i);
        one_year(net, plans, outlook, i);
        keep(&dates, i, net);
        if (i > 0) arena_rewind(arena, mark);
    }
    for (int t = 0; t < TASK_COUNT; t++) {
        if (!is_ahead(&out->tasks[t])) continue;
        rank(&out->tasks[t].outlook, dates.starts, t, outlook);
        rank(&out->tasks[t].outlook_finish, dates.finishes, t, outlook);
    }
}
