/* SPDX-License-Identifier: MIT */
/*
 * Why: the one piece of code that places work. Serial generation (Kelley 1963): the activities are
 * taken one by one and each is put at the first slot where its lags, its calendar and what is left
 * of every resource allow it. A schedule made so can not be bettered by moving one activity
 * earlier.
 */
#include <string.h>

#include "sequence/internal.h"

/* What one activity asks of the slots it runs in. */
struct want {
    const int16_t *row[SEQUENCE_USES_MAX + 1];
    int16_t amount[SEQUENCE_USES_MAX + 1];
    int32_t count;
    const int16_t
        *where; /* who keeps the chosen resource busy; NULL: changing over costs nothing */
    int32_t place;
    int32_t longest;      /* of all changes from or to there */
    const int32_t *until; /* with `where`: ends of busy stretches */
    int32_t first_least;
    int32_t duration;
    const uint8_t *open; /* NULL: always */
    const int32_t *closed_run;
    int32_t gap_max;
};

bool sequence_room_make(struct sequence_room *out, const struct sequence_problem *problem,
                        struct arena *arena)
{
    const size_t n = (size_t)problem->count, slots = (size_t)problem->horizon + 1;
    *out = (struct sequence_room){0};
    for (size_t j = 0; j < n && problem->changeover != NULL; j++)
        for (int32_t r = 0; r < SEQUENCE_CHOICES_MAX; r++)
            if (problem->activities[j].one_of >> r & 1 && r >= out->choice_count)
                out->choice_count = r + 1;
    out->free = ARENA_TAKE(arena, (size_t)problem->resource_count * slots, int16_t);
    out->where = ARENA_TAKE(arena, (size_t)out->choice_count * slots, int16_t);
    out->until = ARENA_TAKE(arena, (size_t)out->choice_count * slots, int32_t);
    out->used_from = ARENA_TAKE(arena, (size_t)problem->resource_count, int32_t);
    out->used_until = ARENA_TAKE(arena, (size_t)problem->resource_count, int32_t);
    out->full = ARENA_TAKE(arena, (size_t)problem->resource_count * slots, int16_t);
    if (out->used_from == NULL || out->used_until == NULL || out->full == NULL) return false;
    for (int32_t r = 0; r < problem->resource_count; r++) {
        out->used_until[r] = problem->horizon + 1; /* the first pass fills all of it */
        for (size_t s = 0; s < slots; s++)
            out->full[(size_t)r * slots + s] = (int16_t)problem->capacity[r];
    }
    out->waits = ARENA_TAKE(arena, n, int32_t);
    out->heap = ARENA_TAKE(arena, n, int64_t);
    const size_t places = problem->changeover == NULL ? 0 : (size_t)problem->place_count;
    out->longest = ARENA_TAKE(arena, places, int32_t);
    for (size_t p = 0; p < places * places && out->longest != NULL; p++)
        if (problem->changeover[p] > out->longest[p / places])
            out->longest[p / places] = problem->changeover[p];
    return out->longest != NULL && out->free != NULL && out->until != NULL && out->where != NULL &&
           out->waits != NULL && out->heap != NULL;
}

static struct want want_of(const struct sequence_side *side, const struct sequence_room *room,
                           int32_t j, int32_t choice)
{
    const struct sequence_problem *problem = side->problem;
    const struct sequence_activity *activity = &problem->activities[j];
    const size_t slots = (size_t)problem->horizon + 1;
    struct want want = {
        .duration = activity->duration, .gap_max = activity->gap_max, .place = activity->place};
    for (int32_t u = 0; u < activity->use_count; u++) {
        if (activity->uses[u].amount == 0) continue;
        want.row[want.count] = room->free + (size_t)activity->uses[u].resource * slots;
        want.amount[want.count++] = (int16_t)activity->uses[u].amount;
    }
    if (choice != SEQUENCE_NONE) {
        want.row[want.count] = room->free + (size_t)choice * slots;
        want.amount[want.count++] = 1;
        if (problem->changeover != NULL && activity->place != SEQUENCE_NONE) {
            want.where = room->where + (size_t)choice * slots;
            want.longest = room->longest[activity->place];
            want.until = room->until + (size_t)choice * slots;
            want.first_least = side->mirrored ? 0 : activity->first_least;
            if (want.first_least > want.duration) want.first_least = want.duration;
        }
    }
    if (activity->calendar != SEQUENCE_NONE) {
        want.open = side->calendars[activity->calendar];
        want.closed_run = side->closed_run[activity->calendar];
    }
    return want;
}

static bool free_at(const struct want *want, int32_t slot)
{
    for (int32_t k = 0; k < want->count; k++)
        if (want->row[k][slot] < want->amount[k]) return false;
    return true;
}

/* Slots that the chosen resource lacks to come from (step -1) or go on to (step 1) its next place;
 * `met` is the busy slot it comes from or goes to. 0: it has the time. */
static int32_t lacks(const struct sequence_side *side, const struct want *want, int32_t slot,
                     int32_t step, int32_t *met)
{
    const struct sequence_problem *problem = side->problem;
    const int32_t calendar = problem->changeover_calendar;
    const uint8_t *open = calendar == SEQUENCE_NONE ? NULL : side->calendars[calendar];
    const int32_t *needed = problem->changeover + (ptrdiff_t)want->place * problem->place_count;
    int32_t had = 0, closed = 0;
    for (int32_t s = slot; s >= 0 && s < problem->horizon && had < want->longest; s += step) {
        if (want->where[s] != 0) {
            *met = s;
            return needed[want->where[s] - 1] > had ? needed[want->where[s] - 1] - had : 0;
        }
        bool is_open = open == NULL || open[s];
        closed = is_open ? 0 : closed + 1;
        if (closed >= problem->rest) return 0;
        had += is_open;
    }
    return 0;
}

/* Whether the chosen resource was at the place already, with no rest in between. */
static bool was_there(const struct sequence_side *side, const struct want *want, int32_t slot)
{
    const int32_t calendar = side->problem->changeover_calendar;
    int32_t closed = 0;
    for (int32_t s = slot - 1; s >= 0; s--) {
        if (want->where[s] != 0) return want->where[s] - 1 == want->place;
        closed = calendar == SEQUENCE_NONE || side->calendars[calendar][s] ? 0 : closed + 1;
        if (closed >= side->problem->rest) return false;
    }
    return false;
}

/* Whether work may pause from `s` on for a run of closed slots; `worked` is what is done by then.
 */
static bool may_pause(const struct sequence_side *side, const struct want *want, int32_t at,
                      int32_t s, int32_t worked)
{
    const int32_t run = want->closed_run[s];
    if (s == at || run > want->gap_max) return false;
    if (run < side->problem->rest || want->where == NULL) return true;
    if (worked < want->first_least && !was_there(side, want, at)) return false;
    int32_t met;
    return lacks(side, want, s, 1, &met) == 0 && lacks(side, want, s + run - 1, -1, &met) == 0;
}

/* Walk the slots an activity would hold from `at` on. Answers its finish, or SEQUENCE_NONE and in
 * `retry` the next slot worth trying. */
static int32_t walk(const struct sequence_side *side, const struct want *want, int32_t at,
                    int32_t *retry)
{
    const int32_t horizon = side->problem->horizon, rest = side->problem->rest;
    int32_t left = want->duration, s = at;
    *retry = at + 1;
    if (want->open != NULL && at < horizon && want->closed_run[at] > 0 && left > 0) {
        *retry = at + want->closed_run[at];
        return SEQUENCE_NONE;
    }
    int32_t met, lacking = want->where == NULL ? 0 : lacks(side, want, at - 1, -1, &met);
    if (lacking > 0) {
        *retry = at + lacking;
        return SEQUENCE_NONE;
    }
    while (left > 0) {
        if (s >= horizon) {
            *retry = horizon + 1;
            return SEQUENCE_NONE;
        }
        const int32_t run = want->open == NULL ? 0 : want->closed_run[s];
        if (run > 0 && !may_pause(side, want, at, s, want->duration - left)) {
            *retry = want->gap_max < run ? s + run : at + 1;
            return SEQUENCE_NONE;
        }
        if (run > 0 && run >= rest) { /* it lets go for the night, and comes back */
            s += run;
            continue;
        }
        if (!free_at(want, s)) {
            *retry = want->where != NULL && want->where[s] != 0 ? want->until[s] : s + 1;
            return SEQUENCE_NONE;
        }
        left -= run == 0;
        s++;
    }
    if (want->where != NULL && lacks(side, want, s, 1, &met) > 0) {
        *retry = want->until[met]; /* later is only closer to it */
        return SEQUENCE_NONE;
    }
    return s;
}

/* The same for work that never stops and goes nowhere: from the end, so that a retry leaps. */
static int32_t leap(const struct want *want, int32_t horizon, int32_t at, int32_t *retry)
{
    if (at + want->duration > horizon) {
        *retry = horizon + 1;
        return SEQUENCE_NONE;
    }
    for (int32_t s = at + want->duration; s-- > at;) {
        if (free_at(want, s)) continue;
        *retry = s + 1;
        return SEQUENCE_NONE;
    }
    return at + want->duration;
}

static int32_t first_fit(const struct sequence_side *side, const struct want *want, int32_t at,
                         int32_t finish_least, int32_t finish_most, int32_t *finish)
{
    const bool plain = want->open == NULL && want->where == NULL;
    if (plain && finish_least - want->duration > at) at = finish_least - want->duration;
    while (at + want->duration <= finish_most) {
        int32_t retry = at + 1;
        *finish =
            plain ? leap(want, side->problem->horizon, at, &retry) : walk(side, want, at, &retry);
        if (*finish != SEQUENCE_NONE && *finish >= finish_least) return at;
        at = retry;
    }
    *finish = SEQUENCE_NONE;
    return SEQUENCE_NONE;
}

/* Take what an activity holds while it runs. */
static void hold(const struct sequence_side *side, struct sequence_room *room, int32_t j,
                 int32_t start, int32_t finish, int32_t choice)
{
    const struct sequence_problem *problem = side->problem;
    const size_t slots = (size_t)problem->horizon + 1;
    struct want want = want_of(side, room, j, choice);
    int16_t *where = want.where == NULL ? NULL : room->where + (size_t)choice * slots;
    int32_t *until = want.where == NULL ? NULL : room->until + (size_t)choice * slots;
    int32_t end = start; /* of the stretch without a rest */
    for (int32_t k = 0; k < want.count; k++) {
        const ptrdiff_t r = (want.row[k] - room->free) / (ptrdiff_t)slots;
        if (start < room->used_from[r]) room->used_from[r] = start;
        if (finish > room->used_until[r]) room->used_until[r] = finish;
    }
    for (int32_t s = start; s < finish; s++) {
        int32_t run = want.open == NULL ? 0 : want.closed_run[s];
        if (run > 0 && run >= problem->rest) {
            s += run - 1;
            continue;
        }
        for (int32_t k = 0; k < want.count; k++) {
            int16_t *row = room->free + (want.row[k] - room->free);
            row[s] = (int16_t)(row[s] - want.amount[k]);
        }
        if (where == NULL) continue;
        if (s >= end) {
            for (end = s + 1; end < finish; end++)
                if (want.open != NULL && want.closed_run[end] >= problem->rest) break;
        }
        where[s] = (int16_t)(want.place + 1);
        until[s] = end;
    }
}

/* The earliest an activity may start and finish by what is already placed; false: never. */
static bool bounds_of(const struct sequence_side *side, const struct sequence_schedule *out,
                      int32_t j, int32_t *at, int32_t *finish_least)
{
    *at = side->mirrored ? 0 : side->problem->activities[j].release;
    *finish_least = 0;
    for (int32_t b = side->first[j]; b < side->first[j + 1]; b++) {
        const struct sequence_bound *bound = &side->bounds[b];
        if (out->start[bound->from] == SEQUENCE_NONE) return false;
        int32_t from = bound->from_finish ? out->finish[bound->from] : out->start[bound->from];
        int32_t *least = bound->to_finish ? finish_least : at;
        if (from + bound->lag > *least) *least = from + bound->lag;
    }
    return true;
}

/* What a choice costs beside being late: leaving what an earlier plan said. */
static int64_t score(const struct sequence_activity *activity, int32_t choice, int32_t finish)
{
    const int32_t weight = activity->weight > 0 ? activity->weight : 1;
    return (int64_t)finish * weight + (choice != activity->keep_choice ? activity->keep_weight : 0);
}

static void place_one(struct sequence_schedule *out, const struct sequence_side *side, int32_t j,
                      struct sequence_room *room)
{
    const struct sequence_activity *activity = &side->problem->activities[j];
    int32_t at, finish_least, most = side->problem->horizon;
    out->start[j] = out->finish[j] = out->choice[j] = SEQUENCE_NONE;
    if (!bounds_of(side, out, j, &at, &finish_least)) return;
    uint64_t choices = activity->one_of;
    do {
        int32_t finish, choice = choices == 0 ? SEQUENCE_NONE : __builtin_ctzll(choices);
        struct want want = want_of(side, room, j, choice);
        int32_t start = first_fit(side, &want, at, finish_least, most, &finish);
        choices &= choices - 1;
        if (start == SEQUENCE_NONE) continue;
        if (out->start[j] != SEQUENCE_NONE &&
            score(activity, choice, finish) >= score(activity, out->choice[j], out->finish[j]))
            continue;
        out->start[j] = start;
        out->finish[j] = finish;
        out->choice[j] = choice;
        if (activity->keep_weight == 0) most = finish; /* nothing later is looked at */
    } while (choices != 0);
    if (out->start[j] != SEQUENCE_NONE)
        hold(side, room, j, out->start[j], out->finish[j], out->choice[j]);
}

/* Least key first, then least index. */
static int64_t item_of(const int32_t *keys, int32_t j)
{
    return (int64_t)keys[j] * ((int64_t)INT32_MAX + 1) + j;
}

static void heap_put(struct sequence_room *room, int64_t item)
{
    int32_t i = room->heap_count++;
    for (; i > 0 && room->heap[(i - 1) / 2] > item; i = (i - 1) / 2)
        room->heap[i] = room->heap[(i - 1) / 2];
    room->heap[i] = item;
}

static int64_t heap_take(struct sequence_room *room)
{
    int64_t top = room->heap[0], last = room->heap[--room->heap_count];
    int32_t i = 0;
    for (int32_t child; (child = 2 * i + 1) < room->heap_count; i = child) {
        if (child + 1 < room->heap_count && room->heap[child + 1] < room->heap[child]) child++;
        if (room->heap[child] >= last) break;
        room->heap[i] = room->heap[child];
    }
    room->heap[i] = last;
    return top;
}

static void begin(const struct sequence_side *side, const int32_t *keys, struct sequence_room *room)
{
    const struct sequence_problem *problem = side->problem;
    const size_t slots = (size_t)problem->horizon + 1;
    for (int32_t r = 0; r < problem->resource_count; r++) {
        const int32_t from = room->used_from[r], until = room->used_until[r];
        const size_t first = (size_t)r * slots + (size_t)from;
        if (until > from)
            memcpy(room->free + first, room->full + first,
                   (size_t)(until - from) * sizeof *room->free);
        if (r < room->choice_count && until > from)
            memset(room->where + (size_t)r * slots + from, 0,
                   (size_t)(until - from) * sizeof *room->where);
        room->used_from[r] = problem->horizon;
        room->used_until[r] = 0;
    }
    room->heap_count = 0;
    for (int32_t j = 0; j < problem->count; j++) {
        room->waits[j] = side->first[j + 1] - side->first[j];
        if (room->waits[j] == 0) heap_put(room, item_of(keys, j));
    }
}

void sequence_pass(struct sequence_schedule *out, const struct sequence_side *side,
                   const int32_t *keys, struct sequence_room *room)
{
    begin(side, keys, room);
    while (room->heap_count > 0) {
        int32_t j = (int32_t)(heap_take(room) & INT32_MAX);
        place_one(out, side, j, room);
        for (int32_t a = side->next_first[j]; a < side->next_first[j + 1]; a++)
            if (--room->waits[side->next[a]] == 0) heap_put(room, item_of(keys, side->next[a]));
    }
}
