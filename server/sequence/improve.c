/* SPDX-License-Identifier: MIT */
/*
 * Why: one order gives one schedule; this file finds a good order within a stated number of passes.
 *
 * A small population of schedules is bred. Two of them are crossed at two points in time: what the
 * one does inside the window is taken in the order of the other (Debels & Vanhoucke 2005, 2007, who
 * cross start times; Hartmann 1998 for lists of activities). Each child is first pushed to the
 * right by a backward pass, then to the left by a forward pass, so that gaps close from both sides
 * (double justification: Valls, Ballestin & Quintanilla 2005; Tormos & Lova 2001). It takes the
 * place of the worse of two drawn members unless it is worse than that one, or the same as any. The
 * first members come from the order of latest finishes, blurred (sampling about a rule: Kolisch
 * 1996). Where many activities have dates of their own to meet, pushing everything to the right
 * loses the order that met them: most children are then made by a forward pass alone. The count of
 * passes as the measure of effort: Kolisch & Hartmann 2006. Papers cited from memory.
 *
 * Refused: exact search (no answer in a stated time), and searches with more than these few numbers
 * to set. The numbers below were chosen on the published sets and on problems of 120 activities
 * drawn for that purpose; none is sharp.
 */
#include <math.h>
#include <string.h>

#include "sequence/internal.h"

enum {
    MEMBERS_MIN = 4,
    MEMBERS_MAX = 128,
    EPISODE_PASSES = 5000, /* of a search without a number: then four times as many, from anew */
    EPISODE_GROWTH = 4,
    BLUR_PERCENT = 200, /* keys of the first members: of the longest path */
    WINDOW_PERCENT =
        25,            /* least part of the time a crossing takes from the other parent; 3x most */
    STRAY_PERCENT = 3, /* activities of a child that stray, of two like parents STRAY_LIKE */
    STRAY_DATED_PERCENT = 6, /* where many activities have dates of their own */
    STRAY_LIKE_PERCENT = 20,
    FORWARD_PERCENT = 80,    /* children then made by a forward pass alone */
    STRAY_REACH_PERCENT = 30 /* how far, of the time the schedule takes */
};
static const double MEMBERS_FACTOR = 9.2; /* times the root of passes per activity */

struct search {
    const struct sequence_problem *problem;
    const struct sequence_budget *budget;
    struct sequence_side forward;
    struct sequence_side mirrored;
    struct sequence_room room;
    struct sequence_schedule members[MEMBERS_MAX];
    int32_t member_count;
    struct sequence_schedule pushed; /* to the right */
    struct sequence_schedule child;
    struct sequence_schedule best;
    int32_t *keys;
    int32_t *latest; /* finishes, by lags alone */
    bool own_dates;  /* many activities have a date of their own to meet, not the end alone */
    int64_t schedules;
    uint64_t chance;
    bool over;
};

/* splitmix64 (Steele, Lea & Flood 2014): 0 .. below - 1. */
static int32_t draw(struct search *search, int32_t below)
{
    uint64_t z = search->chance += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    z ^= z >> 31;
    return (int32_t)((z >> 33) * (uint64_t)below >> 31);
}

static bool kept(const struct sequence_problem *problem, int32_t j, int32_t start, int32_t choice)
{
    const struct sequence_activity *activity = &problem->activities[j];
    const int32_t moved = start - activity->keep_start;
    return choice == activity->keep_choice && moved <= problem->keep_margin &&
           -moved <= problem->keep_margin;
}

int64_t sequence_cost(const struct sequence_problem *problem, const int32_t *start,
                      const int32_t *finish, const int32_t *choice)
{
    int64_t cost = 0;
    for (int32_t j = 0; j < problem->count; j++) {
        const struct sequence_activity *activity = &problem->activities[j];
        int32_t end = start[j] == SEQUENCE_NONE ? 2 * problem->horizon : finish[j];
        if (end > activity->due) cost += (int64_t)activity->weight * (end - activity->due);
        if (activity->keep_weight > 0 && !kept(problem, j, start[j], choice[j]))
            cost += activity->keep_weight;
    }
    return cost;
}

static void copy(const struct search *search, struct sequence_schedule *to,
                 const struct sequence_schedule *from)
{
    const size_t bytes = (size_t)search->problem->count * sizeof(int32_t);
    memcpy(to->start, from->start, bytes);
    memcpy(to->finish, from->finish, bytes);
    memcpy(to->choice, from->choice, bytes);
    to->cost = from->cost;
}

static void count_pass(struct search *search)
{
    const struct sequence_budget *budget = search->budget;
    search->schedules++;
    if (search->schedules >= budget->schedules || search->best.cost <= budget->enough ||
        (budget->stop != NULL && budget->stop(budget->own)))
        search->over = true;
}

/* A forward pass by search->keys; the best one is remembered. */
static void pass_forward(struct search *search, struct sequence_schedule *out)
{
    sequence_pass(out, &search->forward, search->keys, &search->room);
    out->cost = sequence_cost(search->problem, out->start, out->finish, out->choice);
    if (out->cost < search->best.cost) copy(search, &search->best, out);
    count_pass(search);
}

/* A slot of one side as a slot of the other; what did not fit comes last. */
static int32_t turned(const struct search *search, int32_t finish, int32_t unplaced)
{
    return finish == SEQUENCE_NONE ? unplaced : search->problem->horizon - finish;
}

/* Backward by search->keys, then forward by where that put each start; false: time was up before.
 */
static bool push_and_pull(struct search *search, struct sequence_schedule *out)
{
    if (search->over) return false;
    sequence_pass(&search->pushed, &search->mirrored, search->keys, &search->room);
    count_pass(search);
    if (search->over) return false;
    for (int32_t j = 0; j < search->problem->count; j++)
        search->keys[j] = turned(search, search->pushed.finish[j], search->problem->horizon);
    pass_forward(search, out);
    return true;
}

/* Latest finishes when nobody is short of hands, from due dates and the horizon; answers how far
 * the longest path behind any of them reaches. */
static int32_t find_latest(struct search *search)
{
    const struct sequence_problem *problem = search->problem;
    int32_t *latest = search->latest, longest = 0;
    for (int32_t j = 0; j < problem->count; j++) {
        const struct sequence_activity *activity = &problem->activities[j];
        bool wanted = activity->weight > 0 && activity->due > 0;
        latest[j] = wanted ? activity->due : problem->horizon;
    }
    for (bool moved = true; moved;) {
        moved = false;
        for (int32_t a = problem->arc_count; a-- > 0;) {
            const struct sequence_arc *arc = &problem->arcs[a];
            int32_t at = latest[arc->to] - problem->activities[arc->to].duration - arc->lag;
            if (!arc->from_finish) at += problem->activities[arc->from].duration;
            if (at >= latest[arc->from]) continue;
            latest[arc->from] = at;
            moved = true;
        }
    }
    for (int32_t j = 0; j < problem->count; j++) {
        int32_t behind = problem->horizon - latest[j] + problem->activities[j].duration;
        if (behind > longest) longest = behind;
    }
    return longest;
}

static void set_first_keys(struct search *search, int32_t member, int32_t blur)
{
    const struct sequence_budget *budget = search->budget;
    for (int32_t j = 0; j < search->problem->count; j++) {
        if (member < budget->order_count)
            search->keys[j] = budget->orders[member][j];
        else
            search->keys[j] = search->latest[j] + (blur > 0 ? draw(search, blur + 1) : 0);
    }
}

/* The first members: orders the caller knows, the rule itself, then the rule blurred. */
static void found(struct search *search, int32_t wanted, int32_t longest)
{
    const int32_t known = search->budget->order_count;
    for (search->member_count = 0; search->member_count < wanted && !search->over;) {
        struct sequence_schedule *member = &search->members[search->member_count];
        bool blurred = search->member_count > known;
        set_first_keys(search, search->member_count,
                       blurred ? (int32_t)((int64_t)longest * BLUR_PERCENT / 100) : 0);
        pass_forward(search, member);
        search->member_count++;
        if (search->own_dates) continue; /* passes are dear, and pushing loses their order */
        for (int32_t j = 0; j < search->problem->count; j++)
            search->keys[j] = turned(search, member->finish[j], 0);
        if (push_and_pull(search, &search->child) && search->child.cost <= member->cost)
            copy(search, member, &search->child);
    }
}

static bool same(const struct search *search, const struct sequence_schedule *a,
                 const struct sequence_schedule *b)
{
    const size_t bytes = (size_t)search->problem->count * sizeof(int32_t);
    return a->cost == b->cost && memcmp(a->start, b->start, bytes) == 0 &&
           memcmp(a->choice, b->choice, bytes) == 0;
}

/* The key of an activity for a forward pass, or for a backward one. */
static int32_t key_of(const struct search *search, const struct sequence_schedule *schedule,
                      int32_t j, bool forward)
{
    if (!forward) return turned(search, schedule->finish[j], 0);
    return schedule->start[j] == SEQUENCE_NONE ? search->problem->horizon : schedule->start[j];
}

/* Keys for a pass: outside a window of time those of `a`, inside it those of `b`. */
static void cross(struct search *search, const struct sequence_schedule *a,
                  const struct sequence_schedule *b, bool forward)
{
    const int32_t n = search->problem->count, apart = 4 * search->problem->horizon;
    int32_t least = INT32_MAX, most = 0;
    for (int32_t j = 0; j < n; j++) {
        int32_t key = key_of(search, a, j, forward);
        if (key < least) least = key;
        if (key > most) most = key;
    }
    const int32_t span = most - least + 1;
    const int32_t width =
        (int32_t)((int64_t)span * (WINDOW_PERCENT + draw(search, 2 * WINDOW_PERCENT)) / 100);
    const int32_t from = least + draw(search, span - width + 1), until = from + width;
    const int32_t stray = same(search, a, b)  ? STRAY_LIKE_PERCENT
                          : search->own_dates ? STRAY_DATED_PERCENT
                                              : STRAY_PERCENT;
    const int32_t reach = (int32_t)((int64_t)span * STRAY_REACH_PERCENT / 100);
    for (int32_t j = 0; j < n; j++) {
        int32_t key = key_of(search, a, j, forward);
        if (key > until)
            key += 2 * apart;
        else if (key >= from)
            key = apart + key_of(search, b, j, forward);
        if (draw(search, 100) < stray) key += draw(search, 2 * reach + 1) - reach;
        search->keys[j] = key;
    }
}

/* The better of two drawn members, or the worse. */
static int32_t drawn(struct search *search, bool better)
{
    int32_t a = draw(search, search->member_count), b = draw(search, search->member_count);
    return (search->members[a].cost <= search->members[b].cost) == better ? a : b;
}

static void breed(struct search *search, int64_t until)
{
    while (!search->over && search->schedules < until) {
        int32_t a = drawn(search, true), b = drawn(search, true);
        if (a == b) b = draw(search, search->member_count);
        const bool forward = search->own_dates && draw(search, 100) < FORWARD_PERCENT;
        cross(search, &search->members[a], &search->members[b], forward);
        if (forward)
            pass_forward(search, &search->child);
        else if (!push_and_pull(search, &search->child))
            return;
        bool known = false;
        for (int32_t m = 0; m < search->member_count && !known; m++)
            known = same(search, &search->members[m], &search->child);
        int32_t worse = drawn(search, false);
        if (!known && search->child.cost <= search->members[worse].cost)
            copy(search, &search->members[worse], &search->child);
    }
}

static int32_t members_wanted(const struct search *search, int64_t passes)
{
    double wanted = MEMBERS_FACTOR * sqrt((double)passes / (search->problem->count + 1));
    if (wanted < MEMBERS_MIN) return MEMBERS_MIN;
    return wanted > MEMBERS_MAX ? MEMBERS_MAX : (int32_t)wanted;
}

static bool make_room(struct search *search, struct sequence_schedule *out, struct arena *arena)
{
    const size_t n = (size_t)search->problem->count;
    out->start = ARENA_TAKE(arena, n, int32_t);
    out->finish = ARENA_TAKE(arena, n, int32_t);
    out->choice = ARENA_TAKE(arena, n, int32_t);
    out->cost = INT64_MAX;
    return out->start != NULL && out->finish != NULL && out->choice != NULL;
}

static bool prepare(struct search *search, int32_t member_max, struct arena *arena)
{
    const size_t n = (size_t)search->problem->count;
    bool made = make_room(search, &search->pushed, arena) &&
                make_room(search, &search->child, arena) &&
                sequence_side_make(&search->forward, search->problem, false, arena) &&
                sequence_side_make(&search->mirrored, search->problem, true, arena) &&
                sequence_room_make(&search->room, search->problem, arena);
    for (int32_t m = 0; m < member_max && made; m++)
        made = make_room(search, &search->members[m], arena);
    search->keys = ARENA_TAKE(arena, n, int32_t);
    search->latest = ARENA_TAKE(arena, n, int32_t);
    return made && search->keys != NULL && search->latest != NULL;
}

enum status sequence_solve(struct sequence_answer *out, const struct sequence_problem *problem,
                           const struct sequence_budget *budget, struct arena *arena)
{
    REQUIRE(budget->schedules >= 1 && problem->horizon >= 1 && problem->horizon < 1 << 26);
    struct search *search = ARENA_TAKE(arena, 1, struct search);
    if (search == NULL) return STATUS_LIMIT;
    *search = (struct search){.problem = problem, .budget = budget, .chance = budget->seed};
    if (!make_room(search, &search->best, arena)) return STATUS_LIMIT;
    struct arena_mark mark = arena_mark(arena);
    const bool stated = budget->schedules < INT64_MAX;
    int64_t passes = stated ? budget->schedules : EPISODE_PASSES;
    if (!prepare(search, stated ? members_wanted(search, passes) : MEMBERS_MAX, arena))
        return STATUS_LIMIT;
    const int32_t longest = find_latest(search);
    int32_t dated = 0;
    for (int32_t j = 0; j < problem->count; j++) dated += problem->activities[j].weight > 0;
    search->own_dates = dated > 1;
    while (!search->over) {
        int64_t until = search->schedules + passes;
        found(search, members_wanted(search, passes), longest);
        breed(search, until);
        passes *= EPISODE_GROWTH;
    }
    *out = (struct sequence_answer){search->best.start, search->best.finish, search->best.choice,
                                    search->best.cost, search->schedules};
    arena_rewind(arena, mark);
    return STATUS_OK;
}
