/* SPDX-License-Identifier: MIT */
/*
 * What the files of the crews' proposal share. One `struct crews` lives for one proposal:
 *   crews.c        the order of the steps
 *   crews_slots.c  instants <-> slots; which slots a day, a party, the weather leaves open
 *   crews_items.c  the jobs' own plans as activities
 *   crews_links.c  what comes after what, how far apart, how long from place to place
 *   crews_days.c   the schedule as the days of each crew
 *   crews_why.c    why each piece, and what changed since an earlier proposal
 *   crews_rest.c   what nobody is sent to, free half days, weeks, the load
 */
#ifndef EMBERWAIT_PLANNER_CREWS_INTERNAL_H
#define EMBERWAIT_PLANNER_CREWS_INTERNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "planner/calendar.h"
#include "planner/crews.h"
#include "sequence/sequence.h"

enum {
    CREWS_SLOT_S = 300,
    CREWS_DAYS = 21,
    CREWS_WEEKS = 3,
    CREWS_ITEM_TASKS_MAX = 4, /* one task and what has to follow it within the day */
    CREWS_PIECES_MAX = 12,    /* days of one task that is spread over days */
    CREWS_HOURS_MAX = 512,    /* over the hours of CREWS_DAYS */
    CREWS_REST_H = 4,         /* a closed gap this long frees a crew */
};

/* One activity: a task and what follows it at once, or one day's piece of a task. */
struct crews_item {
    struct job_plan *job;
    size_t job_index;
    enum task tasks[CREWS_ITEM_TASKS_MAX];
    double hours[CREWS_ITEM_TASKS_MAX];
    int task_count;
    int piece; /* 0 .. pieces - 1 */
    int pieces;
    bool by_crew;
    int people;
};

/* What a calendar is made of; equal rows are one calendar. Compared byte by byte: zeroed first. */
struct crews_row {
    uint64_t closed[CREWS_HOURS_MAX / 64]; /* hours from slot 0 on that the weather closes */
    const struct outside_party *party;
    const struct zone *zone;
    const int32_t *town_off;
    int64_t early; /* slots kept free at the end of each day; SEQUENCE_NONE: not a crew's */
};

struct crews {
    const struct casefile *casefile;
    const struct rulebook *rulebook;
    struct job_plan *jobs;
    struct arena *arena;

    struct calendar calendar; /* the company's */
    int32_t first_day;        /* civil day of slot 0, company's zone */
    int64_t base_s;           /* begin of slot 0 */
    int32_t slots;

    size_t *crew_of;     /* [crew_count]: resource r of the engine is this crew of the company */
    int32_t *job_place;  /* [job_count]: SEQUENCE_NONE: nothing to do there in these weeks */
    size_t *place_job;   /* [place_count]: a job that stands for the place */
    bool *place_open;    /* [place_count]: outdoors: a cover may be due before leaving */
    int32_t cover_slots; /* kept free for it */

    struct crews_item *items;
    struct sequence_activity *activities; /* [problem.count] beside items */
    int32_t item_count;
    int32_t item_room;
    int32_t *item_of; /* [job_count * TASK_COUNT]: first item of a task; SEQUENCE_NONE */
    uint64_t *waits;  /* [job_count * TASK_COUNT]: see crews_waits_for */
    bool *seen;       /* [job_count * TASK_COUNT]: its first piece has told what changed */
    uint8_t *why_not; /* [job_count * TASK_COUNT]: enum crew_unplaced_why + 1; 0: placed or n/a */

    const uint8_t **calendars;
    struct crews_row *rows; /* [calendar_count]: what each was made of */
    int32_t calendar_count;
    int32_t calendar_room;

    struct sequence_arc *arcs;
    int32_t arc_count;
    int32_t arc_room;

    struct sequence_problem problem;
    struct sequence_answer answer;
    bool solved;             /* else nothing is placed */
    struct crew_day **days;  /* [crew_count]: what the plans of the crews point to */
    struct crew_work **work; /* [crew_count] */
};

/* Whether an item has its place in the proposal. */
static inline bool crews_placed(const struct crews *crews, int32_t item)
{
    return crews->solved && crews->answer.start[item] != SEQUENCE_NONE;
}

/** The place of a task in the tables of a job's tasks. */
static inline size_t crews_at(const struct crews *crews, size_t job, enum task task)
{
    (void)crews;
    return job * TASK_COUNT + (size_t)task;
}

/* --- crews_slots.c --- */

/** The slot that begins at or after an instant, may lie outside 0 .. slots. */
int32_t crews_slot_up(const struct crews *crews, int64_t at_s);
/** The begin of a slot. */
int64_t crews_instant_s(const struct crews *crews, int32_t slot);
/** Slots of so many hours, rounded up. */
int32_t crews_slots_of(double hours);
/** Begin the slots and make calendar 0, the company's own; false without memory. */
bool crews_slots_begin(struct crews *crews);
/** The calendar of a crew's task on a job: the company's less what the weather closes, less the
 * last `early` slots of each day. 0 without memory. */
int32_t crews_calendar_of(struct crews *crews, const struct job_plan *job, const enum task *tasks,
                          int task_count, int32_t early);
/** The calendar of somebody else: inspector, trade, office. */
int32_t crews_calendar_of_party(struct crews *crews, const struct job *job, enum who who);
/** Whether a night or more follows a slot. */
bool crews_rests_after(const struct crews *crews, int32_t slot);
/** Open slots of a calendar in [from, until). */
int32_t crews_open_count(const struct crews *crews, int32_t calendar, int32_t from, int32_t until);

/** The calendar of a task that has an item; else the company's. */
int32_t crews_calendar_index(const struct crews *crews, const struct job_plan *job, enum task task);

/* --- crews_items.c --- */

/** The items of all jobs; false without memory. */
bool crews_items_make(struct crews *crews);
/** The items as activities of the engine, once places are known; false without memory. */
bool crews_activities_make(struct crews *crews);
/** A task that is finished, or that this job has not. */
bool crews_task_over(const struct task_plan *task);
/** Whether the crew itself does it. */
bool crews_task_ours(const struct crews *crews, enum task task);

/* --- crews_links.c --- */

/** Places of the jobs with items and the time from one to another; false without memory. */
bool crews_places_make(struct crews *crews);
/** Arcs between the items; false without memory. */
bool crews_arcs_make(struct crews *crews);
/** Find them for every task; false without memory. */
bool crews_waits_make(struct crews *crews);
/** Unfinished tasks that a task comes after, through tasks that the job has not. */
uint64_t crews_waits_for(const struct crews *crews, const struct job_plan *job, enum task task);
/** Drive between two jobs, h; 0 for one place. */
double crews_between_h(const struct crews *crews, const struct job *a, const struct job *b);

/* --- crews_days.c --- */

/** The days of each crew; tasks get their crew. */
void crews_days_make(struct crews *crews, struct crew_plan *plans);

/* --- crews_why.c --- */

/** Why each piece, and what changed. */
void crews_why_find(struct crews *crews, struct crew_plan *plans);
/** The first piece an earlier proposal had of a task from today on; NULL. */
const struct crew_kept *crews_earlier(const struct crews *crews, const struct job *job,
                                      enum task task);
/** What became of an earlier proposal of a task; `crew` NULL: nobody is sent to it now. */
struct crew_change crews_change_of(const struct crews *crews, const struct crew_plan *plans,
                                   const struct job_plan *job, enum task task,
                                   const struct crew *crew, int64_t start_s);

/* --- crews_rest.c --- */

/** Unplaced tasks, free half days, loads and weeks. */
void crews_rest_find(struct crews *crews, struct crew_plan *plans, struct plan *plan);

#endif
