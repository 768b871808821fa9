/* SPDX-License-Identifier: MIT */
/* Why: see sequence.h. What can never be scheduled is said before anything searches for it. */
#include "sequence/internal.h"

#include <string.h>

static enum status check_uses(const struct sequence_problem *problem, int32_t j,
                              struct fault *fault)
{
    const struct sequence_activity *activity = &problem->activities[j];
    for (int32_t u = 0; u < activity->use_count; u++) {
        const struct sequence_use *use = &activity->uses[u];
        if (use->resource < 0 || use->resource >= problem->resource_count || use->amount < 0) {
            fault_set(fault, "uses", "a resource of the problem", "activity %d uses resource %d", j,
                      use->resource);
            return STATUS_INVALID;
        }
        if (use->amount <= problem->capacity[use->resource]) continue;
        fault_set(fault, "uses", "no more than there is",
                  "activity %d asks for %d of resource %d, which has %d", j, use->amount,
                  use->resource, problem->capacity[use->resource]);
        return STATUS_INVALID;
    }
    return STATUS_OK;
}

static enum status check_choice(const struct sequence_problem *problem, int32_t j,
                                struct fault *fault)
{
    const uint64_t mask = problem->activities[j].one_of;
    for (int32_t r = 0; r < SEQUENCE_CHOICES_MAX; r++) {
        if ((mask >> r & 1) == 0) continue;
        if (r < problem->resource_count && problem->capacity[r] >= 1) continue;
        fault_set(fault, "one_of", "resources that have a unit", "activity %d could choose %d", j,
                  r);
        return STATUS_INVALID;
    }
    return STATUS_OK;
}

static enum status check_activity(const struct sequence_problem *problem, int32_t j,
                                  struct fault *fault)
{
    const struct sequence_activity *activity = &problem->activities[j];
    if (activity->duration < 0 || activity->release < 0 || activity->gap_max < 0 ||
        activity->weight < 0 || activity->keep_weight < 0 ||
        activity->use_count > SEQUENCE_USES_MAX || activity->calendar >= problem->calendar_count ||
        (problem->changeover != NULL && activity->place >= problem->place_count)) {
        fault_set(fault, "activity", "times, weights and indices in range", "activity %d", j);
        return STATUS_INVALID;
    }
    enum status status = check_uses(problem, j, fault);
    return status != STATUS_OK ? status : check_choice(problem, j, fault);
}

static enum status check_arcs(const struct sequence_problem *problem, struct fault *fault)
{
    for (int32_t a = 0; a < problem->arc_count; a++) {
        const struct sequence_arc *arc = &problem->arcs[a];
        if (arc->from >= 0 && arc->from < problem->count && arc->to >= 0 &&
            arc->to < problem->count && arc->lag >= 0)
            continue;
        fault_set(fault, "arcs", "two activities and a minimum lag of 0 or more",
                  "arc %d: %d to %d, lag %d", a, arc->from, arc->to, arc->lag);
        return STATUS_INVALID;
    }
    return STATUS_OK;
}

/* Whether lags close into a circle: take away what waits for nothing until nothing is left. */
static enum status check_circle(const struct sequence_problem *problem, struct fault *fault,
                                struct arena *arena)
{
    const size_t n = (size_t)problem->count, m = (size_t)problem->arc_count;
    int32_t *waits = ARENA_TAKE(arena, n, int32_t), *stack = ARENA_TAKE(arena, n, int32_t);
    int32_t *last = ARENA_TAKE(arena, n, int32_t), *chain = ARENA_TAKE(arena, m, int32_t);
    if (waits == NULL || stack == NULL || last == NULL || chain == NULL) return STATUS_LIMIT;
    for (int32_t j = 0; j < problem->count; j++) last[j] = SEQUENCE_NONE;
    for (int32_t a = 0; a < problem->arc_count; a++) {
        waits[problem->arcs[a].to]++;
        chain[a] = last[problem->arcs[a].from];
        last[problem->arcs[a].from] = a;
    }
    int32_t top = 0, left = problem->count;
    for (int32_t j = 0; j < problem->count; j++)
        if (waits[j] == 0) stack[top++] = j;
    for (; top > 0; left--)
        for (int32_t a = last[stack[--top]]; a != SEQUENCE_NONE; a = chain[a])
            if (--waits[problem->arcs[a].to] == 0) stack[top++] = problem->arcs[a].to;
    if (left == 0) return STATUS_OK;
    int32_t j = 0;
    while (waits[j] == 0) j++;
    fault_set(fault, "arcs", "lags that do not close into a circle",
              "activity %d waits, through %d others at most, for itself", j, left - 1);
    return STATUS_INVALID;
}

enum status sequence_check(const struct sequence_problem *problem, struct fault *fault,
                           struct arena *arena)
{
    for (int32_t r = 0; r < problem->resource_count; r++) {
        if (problem->capacity[r] >= 0 && problem->capacity[r] <= SEQUENCE_AMOUNT_MAX) continue;
        fault_set(fault, "capacity", "0 to 30000", "resource %d has %d", r, problem->capacity[r]);
        return STATUS_INVALID;
    }
    for (int32_t j = 0; j < problem->count; j++)
        if (check_activity(problem, j, fault) != STATUS_OK) return STATUS_INVALID;
    if (check_arcs(problem, fault) != STATUS_OK) return STATUS_INVALID;
    struct arena_mark mark = arena_mark(arena);
    enum status status = check_circle(problem, fault, arena);
    arena_rewind(arena, mark);
    return status;
}

int32_t sequence_critical_path(const struct sequence_problem *problem, int32_t *earliest)
{
    int32_t last = 0;
    for (int32_t j = 0; j < problem->count; j++) earliest[j] = problem->activities[j].release;
    for (bool moved = true; moved;) {
        moved = false;
        for (int32_t a = 0; a < problem->arc_count; a++) {
            const struct sequence_arc *arc = &problem->arcs[a];
            int32_t lag = arc->lag;
            if (arc->from_finish) lag += problem->activities[arc->from].duration;
            if (earliest[arc->from] + lag <= earliest[arc->to]) continue;
            earliest[arc->to] = earliest[arc->from] + lag;
            moved = true;
        }
    }
    for (int32_t j = 0; j < problem->count; j++) {
        int32_t finish = earliest[j] + problem->activities[j].duration;
        if (finish > last) last = finish;
    }
    return last;
}
