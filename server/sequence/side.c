/* SPDX-License-Identifier: MIT */
/* Why: see internal.h: the problem as one pass reads it, and its mirror image in time. */
#include "sequence/internal.h"

/* An arc as this side sees it: turned round, start and finish change names. */
static struct sequence_bound seen(const struct sequence_arc *arc, bool mirrored, int32_t *to)
{
    *to = mirrored ? arc->from : arc->to;
    if (!mirrored) return (struct sequence_bound){arc->from, arc->lag, arc->from_finish, false};
    return (struct sequence_bound){arc->to, arc->lag, true, !arc->from_finish};
}

static bool make_arcs(struct sequence_side *out, struct arena *arena)
{
    const struct sequence_problem *problem = out->problem;
    const size_t n = (size_t)problem->count, m = (size_t)problem->arc_count;
    struct sequence_bound *bounds = ARENA_TAKE(arena, m, struct sequence_bound);
    int32_t *first = ARENA_TAKE(arena, n + 2, int32_t), *next = ARENA_TAKE(arena, m, int32_t);
    int32_t *next_first = ARENA_TAKE(arena, n + 2, int32_t);
    if (bounds == NULL || first == NULL || next == NULL || next_first == NULL) return false;
    for (size_t a = 0; a < m; a++) {
        int32_t to;
        struct sequence_bound bound = seen(&problem->arcs[a], out->mirrored, &to);
        first[to + 2]++;
        next_first[bound.from + 2]++;
    }
    for (size_t j = 2; j < n + 2; j++) {
        first[j] += first[j - 1];
        next_first[j] += next_first[j - 1];
    }
    for (size_t a = 0; a < m; a++) {
        int32_t to;
        struct sequence_bound bound = seen(&problem->arcs[a], out->mirrored, &to);
        bounds[first[to + 1]++] = bound;
        next[next_first[bound.from + 1]++] = to;
    }
    out->bounds = bounds;
    out->first = first;
    out->next = next;
    out->next_first = next_first;
    return true;
}

static bool make_calendars(struct sequence_side *out, struct arena *arena)
{
    const struct sequence_problem *problem = out->problem;
    const size_t horizon = (size_t)problem->horizon, k = (size_t)problem->calendar_count;
    const uint8_t **calendars = ARENA_TAKE(arena, k, const uint8_t *);
    const int32_t **closed_run = ARENA_TAKE(arena, k, const int32_t *);
    if (calendars == NULL || closed_run == NULL) return false;
    for (size_t c = 0; c < k; c++) {
        uint8_t *open = ARENA_TAKE(arena, horizon, uint8_t);
        int32_t *run = ARENA_TAKE(arena, horizon + 1, int32_t);
        if (open == NULL || run == NULL) return false;
        for (size_t s = 0; s < horizon; s++)
            open[s] = problem->calendars[c][out->mirrored ? horizon - 1 - s : s];
        for (size_t s = horizon; s-- > 0;) run[s] = open[s] ? 0 : run[s + 1] + 1;
        calendars[c] = open;
        closed_run[c] = run;
    }
    out->calendars = calendars;
    out->closed_run = closed_run;
    return true;
}

bool sequence_side_make(struct sequence_side *out, const struct sequence_problem *problem,
                        bool mirrored, struct arena *arena)
{
    *out = (struct sequence_side){.problem = problem, .mirrored = mirrored};
    return make_arcs(out, arena) && make_calendars(out, arena);
}
