/* SPDX-License-Identifier: MIT */
/*
 * Why: what holds activities apart. A wait runs on elapsed time from the finish of one task to the
 * start of the next; how long it is depends on the weather, so each job's own plan says it: from
 * the own finish of what starts a clock to the own opening of that clock. Everything else is the
 * plain order of the work. Two units at one address are one place; no two crews are in one place.
 */
#include <math.h>
#include <string.h>

#include "planner/crews_internal.h"

#include "base/banned.h"

enum { PLACES_MAX = 1000 /* the table of drives stays at 4 MB; jobs past it are not placed */ };
static const double earth_radius_m = 6371000.0;
static const double radians = 3.14159265358979323846 / 180;

/* --- places ------------------------------------------------------------------------------------
 */

static bool one_place(const struct job *a, const struct job *b)
{
    if (a->address != NULL && b->address != NULL && strcmp(a->address, b->address) == 0)
        return true;
    return a->latitude_deg == b->latitude_deg && a->longitude_deg == b->longitude_deg; /* not NAN */
}

static double from_yard_h(const struct job *job)
{
    const double drive_h = job->quantities[QUANTITY_DRIVE_H];
    return isnan(drive_h) ? 0 : drive_h;
}

/* The job that stands for the place of a job: one place has one way to it. */
static const struct job *at_place(const struct crews *crews, const struct job *job)
{
    const int32_t place = crews->job_place[job - crews->casefile->jobs];
    return place == SEQUENCE_NONE ? job : crews->jobs[crews->place_job[place]].job;
}

/* By the straight line and a factor where both are on the map; else as far as the farther of them
 * is from the yard. Never farther than by way of the yard. */
double crews_between_h(const struct crews *crews, const struct job *a, const struct job *b)
{
    a = at_place(crews, a);
    b = at_place(crews, b);
    if (a == b || one_place(a, b)) return 0;
    const double by_yard_h = from_yard_h(a) + from_yard_h(b);
    if (isnan(a->latitude_deg) || isnan(a->longitude_deg) || isnan(b->latitude_deg) ||
        isnan(b->longitude_deg))
        return fmax(from_yard_h(a), from_yard_h(b));
    const double north = (b->latitude_deg - a->latitude_deg) * radians;
    const double east = (b->longitude_deg - a->longitude_deg) * radians;
    const double h = sin(north / 2) * sin(north / 2) + cos(a->latitude_deg * radians) *
                                                           cos(b->latitude_deg * radians) *
                                                           sin(east / 2) * sin(east / 2);
    const double line_m = 2 * earth_radius_m * asin(fmin(1, sqrt(h)));
    const double drive_h = line_m * rulebook_setting(crews->rulebook, SETTING_DRIVE_ROAD_FACTOR) /
                           rulebook_setting(crews->rulebook, SETTING_DRIVE_SPEED_MPS) / 3600;
    return by_yard_h > 0 && drive_h > by_yard_h ? by_yard_h : drive_h;
}

static int32_t place_of(struct crews *crews, size_t job, int32_t *count)
{
    const struct job *own = crews->jobs[job].job;
    for (int32_t p = 0; p < *count; p++)
        if (one_place(crews->jobs[crews->place_job[p]].job, own)) return p;
    if (*count == PLACES_MAX) return SEQUENCE_NONE;
    crews->place_job[*count] = job;
    return (*count)++;
}

/* Where a cover may be due before leaving, the time for it belongs to the way. */
static int32_t change_slots(const struct crews *crews, int32_t a, int32_t b)
{
    const struct job *one = crews->jobs[crews->place_job[a]].job;
    const struct job *other = crews->jobs[crews->place_job[b]].job;
    int32_t slots = crews_slots_of(crews_between_h(crews, one, other));
    return crews->place_open[a] || crews->place_open[b] ? slots + crews->cover_slots : slots;
}

bool crews_places_make(struct crews *crews)
{
    const size_t jobs = crews->casefile->job_count;
    crews->job_place = ARENA_TAKE(crews->arena, jobs, int32_t);
    crews->place_job = ARENA_TAKE(crews->arena, PLACES_MAX, size_t);
    crews->place_open = ARENA_TAKE(crews->arena, PLACES_MAX, bool);
    if (crews->job_place == NULL || crews->place_job == NULL || crews->place_open == NULL)
        return false;
    for (size_t j = 0; j < jobs; j++) crews->job_place[j] = SEQUENCE_NONE;
    int32_t count = 0;
    for (int32_t i = 0; i < crews->item_count; i++) {
        const struct crews_item *item = &crews->items[i];
        if (!item->by_crew) continue;
        int32_t *place = &crews->job_place[item->job_index];
        if (*place == SEQUENCE_NONE) *place = place_of(crews, item->job_index, &count);
        if (*place != SEQUENCE_NONE && item->job->job->options.place != PLACE_INDOOR)
            crews->place_open[*place] = true;
    }
    const size_t places = (size_t)count;
    int32_t *changeover = ARENA_TAKE(crews->arena, places * places, int32_t);
    if (changeover == NULL) return false;
    for (int32_t a = 0; a < count; a++)
        for (int32_t b = 0; b < a; b++)
            changeover[a * count + b] = changeover[b * count + a] = change_slots(crews, a, b);
    crews->problem.changeover = changeover;
    crews->problem.place_count = count;
    return true;
}

/* --- what comes after what ---------------------------------------------------------------------
 */

static bool acts(const struct job_plan *job, const struct task_link *link)
{
    return rulebook_holds(link->when, link->when_count, &job->job->options);
}

/* Links of a job's tasks as sets, by what its options make of them. */
static void find_direct(const struct crews *crews, const struct job_plan *job,
                        uint64_t direct[TASK_COUNT])
{
    for (int t = 0; t < TASK_COUNT; t++) direct[t] = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &crews->rulebook->tasks[t];
        for (size_t i = 0; i < rule->link_count; i++) {
            const struct task_link *link = &rule->links[i];
            if (!acts(job, link)) continue;
            if (link->kind == LINK_AFTER) direct[t] |= UINT64_C(1) << link->task;
            if (link->kind == LINK_BEFORE) direct[link->task] |= UINT64_C(1) << t;
        }
    }
}

bool crews_waits_make(struct crews *crews)
{
    const size_t jobs = crews->casefile->job_count;
    uint64_t direct[TASK_COUNT];
    crews->waits = ARENA_TAKE(crews->arena, jobs * TASK_COUNT, uint64_t);
    if (crews->waits == NULL) return false;
    for (size_t j = 0; j < jobs; j++) {
        const struct job_plan *job = &crews->jobs[j];
        find_direct(crews, job, direct);
        for (int t = 0; t < TASK_COUNT; t++) {
            uint64_t open = direct[t], seen = open;
            while (open != 0) {
                const int before = __builtin_ctzll(open);
                open &= open - 1;
                if (job->tasks[before].state == TASK_STATE_NOT_NEEDED) {
                    open |= direct[before] & ~seen;
                    seen |= direct[before];
                } else if (!crews_task_over(&job->tasks[before])) {
                    crews->waits[crews_at(crews, j, (enum task)t)] |= UINT64_C(1) << before;
                }
            }
        }
    }
    return true;
}

uint64_t crews_waits_for(const struct crews *crews, const struct job_plan *job, enum task task)
{
    return crews->waits[crews_at(crews, (size_t)(job->job - crews->casefile->jobs), task)];
}

static bool add_arc(struct crews *crews, int32_t from, int32_t to, int32_t lag, bool from_finish)
{
    if (from == to) return true;
    if (crews->arc_count == crews->arc_room) {
        int32_t room = crews->arc_room == 0 ? 256 : crews->arc_room * 2;
        struct sequence_arc *arcs = ARENA_TAKE(crews->arena, (size_t)room, struct sequence_arc);
        if (arcs == NULL) return false;
        for (int32_t a = 0; a < crews->arc_count; a++) arcs[a] = crews->arcs[a];
        crews->arcs = arcs;
        crews->arc_room = room;
    }
    crews->arcs[crews->arc_count++] = (struct sequence_arc){from, to, lag, from_finish};
    return true;
}

/* The last piece of a task. */
static int32_t last_item(const struct crews *crews, size_t job, enum task task)
{
    int32_t first = crews->item_of[crews_at(crews, job, task)];
    return first == SEQUENCE_NONE ? first : first + crews->items[first].pieces - 1;
}

/* Slots of an item that lie behind the end of one of its tasks. */
static int32_t slots_behind(const struct crews_item *item, enum task task)
{
    double hours = 0;
    for (int t = item->task_count; t-- > 0 && item->tasks[t] != task;) hours += item->hours[t];
    return (int32_t)(hours * 3600 / CREWS_SLOT_S);
}

/* From the own finish of what starts a clock to its own opening, as the reasons of a task say. */
static bool add_clock(struct crews *crews, size_t job, int32_t to, enum clock_id clock,
                      int64_t until_s)
{
    const struct clock_rule *rule = &crews->rulebook->clocks[clock];
    const struct job_plan *plan = &crews->jobs[job];
    int64_t latest_s = INSTANT_NONE;
    for (size_t i = 0; i < rule->start_count; i++) {
        const enum task task = rule->starts[i].task;
        if (task == TASK_NONE || last_item(crews, job, task) == SEQUENCE_NONE) continue;
        if (plan->tasks[task].finish_s > latest_s) latest_s = plan->tasks[task].finish_s;
    }
    if (latest_s == INSTANT_NONE || until_s <= latest_s) return true;
    const int32_t lag = (int32_t)((until_s - latest_s + CREWS_SLOT_S - 1) / CREWS_SLOT_S);
    for (size_t i = 0; i < rule->start_count; i++) {
        const enum task task = rule->starts[i].task;
        if (task == TASK_NONE) continue;
        const int32_t from = last_item(crews, job, task);
        if (from == SEQUENCE_NONE || from == to) continue;
        const int32_t less = slots_behind(&crews->items[from], task);
        if (!add_arc(crews, from, to, lag > less ? lag - less : 0, true)) return false;
    }
    return true;
}

/* Waits of the links themselves, whole hours after a task. */
static bool add_waits(struct crews *crews, size_t job, int32_t to, enum task task)
{
    const struct task_rule *rule = &crews->rulebook->tasks[task];
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_AFTER || !(link->wait_h > 0) || !acts(&crews->jobs[job], link))
            continue;
        const int32_t from = last_item(crews, job, link->task);
        if (from == SEQUENCE_NONE) continue;
        if (!add_arc(crews, from, to, crews_slots_of(link->wait_h), true)) return false;
    }
    return true;
}

static bool add_arcs_of(struct crews *crews, size_t job, enum task task)
{
    const int32_t to = crews->item_of[crews_at(crews, job, task)];
    const struct job_plan *plan = &crews->jobs[job];
    if (to == SEQUENCE_NONE) return true;
    for (uint64_t m = crews_waits_for(crews, plan, task); m != 0; m &= m - 1) {
        const int32_t from = last_item(crews, job, (enum task)__builtin_ctzll(m));
        if (from != SEQUENCE_NONE && !add_arc(crews, from, to, 0, true)) return false;
    }
    if (!add_waits(crews, job, to, task)) return false;
    const struct task_plan *own = &plan->tasks[task];
    for (size_t i = 0; i < own->because_count; i++) {
        const struct reason *reason = &own->because[i];
        if (reason->clock == CLOCK_NONE || reason->until_s == INSTANT_NONE) continue;
        if (!add_clock(crews, job, to, reason->clock, reason->until_s)) return false;
    }
    return true;
}

/* A day's piece begins a night after the one before: never twice on one day, and the joints rest.
 */
static bool add_pieces(struct crews *crews, int32_t item)
{
    const struct window hours = crews->calendar.hours;
    const double night_h = 24 - (double)(hours.until_min - hours.from_min) / 60;
    if (crews->items[item].piece == 0) return true;
    return add_arc(crews, item - 1, item, crews_slots_of(night_h), true);
}

bool crews_arcs_make(struct crews *crews)
{
    for (int32_t i = 0; i < crews->item_count; i++)
        if (!add_pieces(crews, i)) return false;
    for (size_t j = 0; j < crews->casefile->job_count; j++)
        for (int t = 0; t < TASK_COUNT; t++)
            if (!add_arcs_of(crews, j, (enum task)t)) return false;
    return true;
}
