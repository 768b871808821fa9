/* SPDX-License-Identifier: MIT */
/*
 * Why: what somebody should know of the network beside its dates: a quantity that is missing, a
 * last chance that has gone, work that is late, a slot that is lost, a task that nobody can do.
 * A caution never moves a date; what moves it stands in the reasons.
 */
#include "planner/network.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/fire_steps.h"
#include "planner/inspect.h"
#include "planner/network_internal.h"

#include "base/banned.h"

static bool is_over(const struct task_plan *plan)
{
    return plan->state == TASK_STATE_NOT_NEEDED || plan->state == TASK_STATE_DONE ||
           plan->state == TASK_STATE_PASSED;
}

static bool has_begun(const struct task_plan *plan)
{
    return plan->state == TASK_STATE_DONE || plan->state == TASK_STATE_PASSED || plan->held ||
           plan->state == TASK_STATE_WORKING || plan->state == TASK_STATE_STOPPED;
}

static struct caution about(enum caution_id id, enum task task)
{
    return (struct caution){.caution = id,
                            .part = PART_NONE,
                            .task = task,
                            .at_s = INSTANT_NONE,
                            .value = NAN,
                            .quantity = QUANTITY_NONE};
}

/* The quantities an unfinished task needs and lacks. */
static size_t missing(struct caution *room, size_t capacity, const struct facts *facts,
                      enum task task)
{
    const struct task_rule *rule = &facts->rulebook->tasks[task];
    size_t count = 0;
    for (size_t i = 0; i < rule->per_count; i++) {
        enum quantity lacks[2];
        int lacking = duration_missing(lacks, facts->job, rule->per[i].measure);
        for (int k = 0; k < lacking && count < capacity; k++) {
            bool named = false;
            for (size_t j = 0; j < count; j++) named = named || room[j].quantity == lacks[k];
            if (named) continue;
            room[count] = about(CAUTION_MISSING_QUANTITY, task);
            room[count++].quantity = lacks[k];
        }
    }
    return count;
}

/* A last chance is gone when what it had to precede has begun. */
static bool missed(const struct job_plan *out, const struct facts *facts, enum task task)
{
    const struct task_rule *rule = &facts->rulebook->tasks[task];
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_BEFORE) continue;
        if (!rulebook_holds(link->when, link->when_count, &facts->job->options)) continue;
        if (has_begun(&out->tasks[link->task])) return true;
    }
    return false;
}

/** Cautions while they are written. */
struct room {
    struct caution *items;
    size_t capacity;
    size_t count;
};

static void put(struct room *room, enum caution_id id, enum task task, int64_t at_s)
{
    if (room->count == room->capacity) return;
    room->items[room->count] = about(id, task);
    room->items[room->count++].at_s = at_s;
}

/* The forecast has rain in the hour that begins an hour's notice after an instant. */
static bool before_rain(const struct facts *facts, int64_t at_s)
{
    const struct station *station = facts->job->station;
    if (station == NULL || station->forecast.rain_mm == NULL) return false;
    const int64_t rain_s =
        at_s +
        llround(rulebook_setting(facts->rulebook, SETTING_COVER_BEFORE_RAIN_H) * NETWORK_HOUR_S);
    const int64_t i = (rain_s - station->forecast.start_s) / NETWORK_HOUR_S;
    return rain_s >= station->forecast.start_s && i < (int64_t)station->forecast.count &&
           (rain_s - station->forecast.start_s) % NETWORK_HOUR_S == 0 &&
           station->forecast.rain_mm[i] > 0;
}

/* A limit that has run out, or will have when the work comes. */
static void limits(struct room *room, const struct job_plan *out, const struct facts *facts,
                   enum task task)
{
    const struct task_rule *rule = &facts->rulebook->tasks[task];
    const struct task_plan *plan = &out->tasks[task];
    if (plan->due_s == INSTANT_NONE) return;
    if (task == TASK_NIGHT_COVER) {
        if (before_rain(facts, plan->due_s))
            put(room, CAUTION_COVER_BEFORE_RAIN, task, plan->due_s);
        if (plan->due_s < facts->now_s) put(room, CAUTION_LATE, task, plan->due_s);
        return;
    }
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind != LINK_WITHIN || !is_over(&out->tasks[link->task])) continue;
        if (!rulebook_holds(link->when, link->when_count, &facts->job->options)) continue;
        if (out->tasks[link->task].done_s == INSTANT_NONE) continue;
        const bool look = facts->rulebook->tasks[link->task].hold;
        const int64_t start_s = later_s(facts->now_s, plan->start_s);
        if (look && plan->due_s < start_s)
            put(room, CAUTION_LOOK_AGAIN, link->task, plan->due_s);
        else if (!look && plan->due_s < facts->now_s)
            put(room, CAUTION_LATE, task, plan->due_s);
    }
}

static bool is_crews(enum who who)
{
    return who == WHO_CREW || who == WHO_MASON;
}

/* Nobody on file can do it: too few people, or no day on which they work. */
static void nobody(struct room *room, const struct job_plan *out, const struct facts *facts,
                   enum task task)
{
    const struct task_rule *rule = &facts->rulebook->tasks[task];
    const struct task_plan *plan = &out->tasks[task];
    int most = 0;
    for (size_t i = 0; i < facts->company->crew_count; i++)
        if (facts->company->crews[i].people > most) most = facts->company->crews[i].people;
    if (is_crews(rule->who) && most > 0 && rule->people > most)
        put(room, CAUTION_NO_CREW, task, INSTANT_NONE);
    for (size_t i = 0; i < plan->because_count; i++)
        if (plan->because[i].kind == REASON_CREW_DAY && plan->because[i].until_s == INSTANT_NONE) {
            put(room, CAUTION_NEVER_SERVES, task, INSTANT_NONE);
            return;
        }
}

/* A booked day that cannot be kept, or that comes too late. */
static void slots(struct room *room, const struct job_plan *out, const struct facts *facts,
                  enum task task)
{
    const struct task_plan *plan = &out->tasks[task];
    const struct zone *zone = facts->job->zone;
    const struct record *booked = NULL;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->task == task && (r->kind == RECORD_BOOKED || r->kind == RECORD_HELD_DATE) &&
            r->day != DAY_NONE)
            booked = r;
    }
    if (booked == NULL) return;
    const int64_t slot_s = civil_day_start_s(zone, booked->day);
    const int32_t start_day =
        plan->start_s == INSTANT_NONE ? DAY_NONE : civil_day_of(zone, plan->start_s);
    const bool gone = booked->day < civil_day_of(zone, facts->now_s);
    if (gone || (start_day != DAY_NONE && start_day > booked->day))
        put(room, CAUTION_SLOT_LOST, task, slot_s);
    else if (plan->last_chance_s != INSTANT_NONE && slot_s > plan->last_chance_s)
        put(room, CAUTION_SLOT_TOO_LATE, task, plan->last_chance_s);
}

size_t network_cautions(struct caution *items, size_t capacity, const struct job_plan *out,
                        const struct facts *facts)
{
    struct room room = {items, capacity, 0};
    for (int t = 0; t < TASK_COUNT && room.count < capacity; t++) {
        if (is_over(&out->tasks[t])) continue;
        if (missed(out, facts, (enum task)t))
            put(&room, CAUTION_LAST_CHANCE_MISSED, (enum task)t, INSTANT_NONE);
        room.count += missing(items + room.count, capacity - room.count, facts, (enum task)t);
        limits(&room, out, facts, (enum task)t);
        nobody(&room, out, facts, (enum task)t);
        slots(&room, out, facts, (enum task)t);
    }
    for (size_t i = 0; i < out->call_in_count; i++)
        if (out->call_ins[i].missed_s != INSTANT_NONE)
            put(&room, CAUTION_CUTOFF_MISSED, out->call_ins[i].task, out->call_ins[i].missed_s);
    room.count += fire_steps_cautions(items + room.count, capacity - room.count, out);
    return room.count;
}
