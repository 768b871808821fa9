/* SPDX-License-Identifier: MIT */
/*
 * Why: see crews.h. Each job's own plan says what may be done when; the crews are too few to be
 * everywhere then. The jobs' plans are stated as one problem of activities, crews, places, waits
 * and calendars, the engine (sequence/) looks for the order that makes the least of it late, long
 * clocks weighing more, and the answer is read back as the days of each crew. Nothing is placed
 * earlier than the job's own plan has it, and no date of a job rests on the proposal.
 *
 * The search begins with what a person would do: first come first served by the jobs' own plans,
 * the same with long clocks first, and the earlier proposal if there is one. Leaving that one costs
 * something, so it stays unless a change gains more.
 */
#include "planner/crews.h"

#include <string.h>

#include "compute/civil.h"
#include "planner/crews_internal.h"

#include "base/banned.h"

enum {
    PASS_WORK = 250000, /* items * crews of all passes: keeps a plan of 25 jobs in milliseconds */
    PASSES_LEAST = 6,
    PASSES_MOST = 500,
    ORDERS = 5,
    SEED = 20 /* any fixed number: the same case gives the same proposal */
};

/* Ties go to the crew of fewer people: three are not sent where two do. */
static bool order_crews(struct crews *crews)
{
    const struct company *company = &crews->casefile->company;
    crews->crew_of = ARENA_TAKE(crews->arena, company->crew_count, size_t);
    if (crews->crew_of == NULL) return false;
    for (size_t c = 0; c < company->crew_count; c++) {
        size_t at = c;
        for (; at > 0 && company->crews[crews->crew_of[at - 1]].people > company->crews[c].people;
             at--)
            crews->crew_of[at] = crews->crew_of[at - 1];
        crews->crew_of[at] = c;
    }
    return true;
}

/* Resources: the crews, then one for each place, so that no two crews are in one. */
static bool make_resources(struct crews *crews)
{
    const int32_t crew_count = (int32_t)crews->casefile->company.crew_count;
    const int32_t count = crew_count + crews->problem.place_count;
    int32_t *capacity = ARENA_TAKE(crews->arena, (size_t)count, int32_t);
    struct sequence_use *uses =
        ARENA_TAKE(crews->arena, (size_t)crews->problem.place_count, struct sequence_use);
    if (capacity == NULL || uses == NULL) return false;
    for (int32_t r = 0; r < count; r++) capacity[r] = 1;
    for (int32_t p = 0; p < crews->problem.place_count; p++)
        uses[p] = (struct sequence_use){crew_count + p, 1};
    for (int32_t i = 0; i < crews->item_count; i++) {
        if (crews->activities[i].place == SEQUENCE_NONE) continue;
        crews->activities[i].uses = &uses[crews->activities[i].place];
        crews->activities[i].use_count = 1;
    }
    crews->problem.capacity = capacity;
    crews->problem.resource_count = count;
    return true;
}

/* What an earlier proposal said of an item: crew and start. */
static void keep_earlier(struct crews *crews)
{
    const struct company *company = &crews->casefile->company;
    const int32_t weight = crews_slots_of(rulebook_setting(crews->rulebook, SETTING_CREWS_KEEP_H));
    for (int32_t i = 0; i < crews->item_count && crews->casefile->proposal_count > 0; i++) {
        const struct crews_item *item = &crews->items[i];
        struct sequence_activity *activity = &crews->activities[i];
        if (!item->by_crew || item->piece > 0) continue;
        const struct crew_kept *kept = crews_earlier(crews, item->job->job, item->tasks[0]);
        if (kept == NULL) continue;
        for (size_t r = 0; r < company->crew_count; r++)
            if (strcmp(company->crews[crews->crew_of[r]].id, kept->crew_id) == 0)
                activity->keep_choice = (int32_t)r;
        activity->keep_start = crews_slot_up(crews, kept->start_s);
        activity->keep_weight = weight;
    }
}

/* What hangs on an item: its own weight and that of the heaviest chain behind it. */
static void find_tails(const struct crews *crews, int32_t *tails)
{
    for (int32_t i = 0; i < crews->item_count; i++) tails[i] = crews->activities[i].weight;
    for (bool moved = true; moved;) {
        moved = false;
        for (int32_t a = crews->arc_count; a-- > 0;) {
            const struct sequence_arc *arc = &crews->arcs[a];
            int32_t tail = crews->activities[arc->from].weight + tails[arc->to];
            if (tail <= tails[arc->from]) continue;
            tails[arc->from] = tail;
            moved = true;
        }
    }
}

/* Keys of the schedules the search begins with: the earlier proposal; first come, first served; and
 * the more hangs on it the sooner, by so much a unit of what hangs on it. */
static int make_orders(struct crews *crews, const int32_t *orders[ORDERS])
{
    static const int32_t sooner[ORDERS] = {0, 0, 6, 20, 60};
    const size_t n = (size_t)crews->item_count;
    int32_t *tails = ARENA_TAKE(crews->arena, n, int32_t);
    bool any = false;
    int count = 0;
    if (tails == NULL) return 0;
    find_tails(crews, tails);
    for (int32_t i = 0; i < crews->item_count; i++)
        any = any || crews->activities[i].keep_weight > 0;
    for (int o = any ? 0 : 1; o < ORDERS; o++) {
        int32_t *keys = ARENA_TAKE(crews->arena, n, int32_t);
        if (keys == NULL) return count;
        for (size_t i = 0; i < n; i++) {
            const struct sequence_activity *activity = &crews->activities[i];
            const int32_t piece = crews->items[i].piece;
            const struct sequence_activity *first = &crews->activities[i - (size_t)piece];
            keys[i] = activity->release - sooner[o] * tails[i];
            if (o > 0 || !crews->items[i].by_crew) continue;
            keys[i] = first->keep_weight > 0 ? first->keep_start + piece * 24 * 3600 / CREWS_SLOT_S
                                             : crews->slots + activity->release;
        }
        orders[count++] = keys;
    }
    return count;
}

static bool solve(struct crews *crews)
{
    const int32_t *orders[ORDERS];
    struct sequence_budget budget = {.seed = SEED, .orders = orders};
    struct fault fault;
    if (crews->casefile->company.crew_count == 0) return false;
    const int64_t work =
        (int64_t)(crews->item_count + 1) * (int64_t)crews->casefile->company.crew_count * 64;
    budget.schedules = (int64_t)PASS_WORK * 64 / work / 8;
    if (budget.schedules < PASSES_LEAST) budget.schedules = PASSES_LEAST;
    if (budget.schedules > PASSES_MOST) budget.schedules = PASSES_MOST;
    if (sequence_check(&crews->problem, &fault, crews->arena) != STATUS_OK) return false;
    budget.order_count = make_orders(crews, orders);

    return sequence_solve(&crews->answer, &crews->problem, &budget, crews->arena) == STATUS_OK;
}

static bool state_problem(struct crews *crews)
{
    if (!order_crews(crews) || !crews_slots_begin(crews) || !crews_items_make(crews) ||
        !crews_places_make(crews) || !crews_activities_make(crews) || !crews_arcs_make(crews) ||
        !make_resources(crews))
        return false;
    keep_earlier(crews);
    crews->problem.activities = crews->activities;
    crews->problem.count = crews->item_count;
    crews->problem.arcs = crews->arcs;
    crews->problem.arc_count = crews->arc_count;
    crews->problem.horizon = crews->slots;
    crews->problem.calendars = crews->calendars;
    crews->problem.calendar_count = crews->calendar_count;
    crews->problem.changeover_calendar = 0;
    crews->problem.rest = crews_slots_of(CREWS_REST_H);
    crews->problem.keep_margin = crews_slots_of(calendar_day_h(&crews->calendar));
    return true;
}

void crews_propose(struct plan *plan, struct crew_plan *crew_plans, struct job_plan *jobs,
                   const struct rulebook *rulebook, struct arena *arena)
{
    const struct casefile *casefile = plan->casefile;
    const double cover_h = rulebook->tasks[TASK_NIGHT_COVER].hours_fixed;
    if (casefile->company.crew_count == 0 || casefile->job_count == 0) return;
    struct crews *crews = ARENA_TAKE(arena, 1, struct crews);
    if (crews == NULL) return;
    *crews = (struct crews){.casefile = casefile,
                            .rulebook = rulebook,
                            .jobs = jobs,
                            .arena = arena,
                            .cover_slots = crews_slots_of(cover_h)};
    if (!state_problem(crews)) return;
    crews->solved = solve(crews);
    crews_days_make(crews, crew_plans);
    crews_why_find(crews, crew_plans);
    crews_rest_find(crews, crew_plans, plan);
}
