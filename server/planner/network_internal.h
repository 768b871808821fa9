/* SPDX-License-Identifier: MIT */
/*
 * What the files of the network share. One `struct net` lives for one network_plan:
 *   network_records.c  one pass over the records: what is written of each task
 *   network_order.c    order of the tasks; what follows from the records of other tasks
 *   network_bounds.c   every constraint on an unfinished task, as reasons
 *   network_calendar.c the sensible start on the calendar of whoever does it
 *   network_special.c  the two tasks that are not done once: the watch and the night cover
 *   network.c          the forward pass: dates and states
 * Sets of tasks are bit masks, so that a question about fifty tasks is one operation.
 */
#ifndef EMBERWAIT_PLANNER_NETWORK_INTERNAL_H
#define EMBERWAIT_PLANNER_NETWORK_INTERNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/plan.h"
#include "planner/calendar.h"
#include "planner/duration.h"
#include "planner/facts.h"

enum { NETWORK_HOUR_S = 3600, REASONS_MAX = 40 };

typedef char network_tasks_fit_a_mask[TASK_COUNT <= 64 ? 1 : -1];

/** How far a task has come by its own records. */
enum phase {
    PHASE_NONE,
    PHASE_STARTED,
    PHASE_STOPPED,
    PHASE_DONE,  /**< of a hold point: done, not passed */
    PHASE_NOTED, /**< passed with a note: not a pass */
    PHASE_PASSED,
    PHASE_FAILED, /**< failed, or a fire with a stop sign */
    PHASE_REDO,   /**< has to be done again */
};

/** One task while the network is worked out. */
struct step {
    bool needed;
    bool hold; /**< a hold point or inspection: only a pass releases */
    enum phase phase;
    int64_t started_s; /**< latest start of the work now going on; INSTANT_NONE */
    int64_t done_s;    /**< latest done or passed; INSTANT_NONE */
    int64_t stopped_s; /**< INSTANT_NONE */
    int64_t redone_s;  /**< latest time the work was opened again or repeated; INSTANT_NONE */
    const struct record *booked; /**< latest booked or held-date record; NULL */

    uint64_t waits_for; /**< needed tasks it comes after, through tasks that are not needed */
    uint64_t releases;  /**< the reverse of waits_for */
    uint64_t precedes;  /**< needed tasks it has to be finished before: last chances */
    uint64_t chances;   /**< the reverse of precedes */
    uint64_t earlier;   /**< every task somewhere before it */

    bool finished;       /**< releases what comes after it, unless `root` says otherwise */
    bool implied;        /**< never recorded, but later work is finished */
    int64_t implied_s;   /**< it was finished by then */
    bool missed;         /**< its last chance has gone */
    enum task closed_by; /**< missed: by which task */
    enum task root;      /**< finished although this one is not in order: releases nothing */
    bool root_missed;    /**< `root` is a missed last chance, else an unpassed hold point */
    unsigned clocks;     /**< bits of clocks it was done ahead of: they hold back what follows */

    bool ready;        /**< worked out: nothing it needs is in the way now */
    int64_t release_s; /**< when it is or will be finished; INSTANT_NONE: not known */
};

struct net {
    struct job_plan *out;
    const struct facts *facts;
    const struct rulebook *rulebook;
    const struct clock_plan *clocks[CLOCK_COUNT]; /**< NULL: not started */
    double clock_least_h[CLOCK_COUNT]; /**< not started: least hours to open; NAN: not asked yet */
    struct step steps[TASK_COUNT];
    enum task order[TASK_COUNT];
    struct duration durations[TASK_COUNT];
    double follow_h[TASK_COUNT];   /**< crew work that has to follow within the same day */
    struct calendar crew_calendar; /**< crews, office and owner */
};

/** The constraints of one task while they are collected. */
struct bounds {
    struct reason reasons[REASONS_MAX];
    bool met[REASONS_MAX]; /**< the constraint no longer acts at now */
    size_t count;
    size_t acting_count; /**< the first of them are constraints; the rest is the calendar's */
    int64_t latest_s;    /**< latest end of a constraint; INSTANT_NONE: none */
    bool unknown;        /**< some constraint has no end */
    bool unmet;          /**< some constraint still acts at now */
    bool check_it;       /**< a clock it needs is in check-it, or a look has run out */
    int64_t crew_s;      /**< latest finish of crew work it follows without a wait; INSTANT_NONE */
    int64_t other_s;     /**< latest end of every other constraint; INSTANT_NONE */
};

/** A bit of a task mask. */
static inline uint64_t task_bit(enum task task)
{
    return UINT64_C(1) << (unsigned)task;
}

/** The first task of a mask that is not empty: `for (m = mask; m != 0; m &= m - 1)` walks it. */
static inline enum task task_first(uint64_t mask)
{
    return (enum task)__builtin_ctzll(mask);
}

/** The later of two instants, INSTANT_NONE being before all. */
static inline int64_t later_s(int64_t a_s, int64_t b_s)
{
    return a_s > b_s ? a_s : b_s;
}

/** True when a link acts for this job. */
bool network_link_acts(const struct net *net, const struct task_link *link);

/** True when the crew itself does the task. */
bool network_by_crew(const struct net *net, enum task task);

/** Finished, and nothing it rests on is out of order. */
bool network_releases(const struct step *step);

/** Recorded, but not in order: a hold point done and not passed, failed, to be done again. */
bool network_held(const struct step *step);

/** Read the records once into steps. */
void network_records(struct net *net);

/** Order the tasks, then find what later and earlier records imply for each. */
void network_order(struct net *net);

/** Collect every constraint on an unfinished task; tasks before it in order are worked out. */
void network_bounds(struct bounds *out, struct net *net, enum task task);

/** True when the task was one of the special ones and has been filled. */
bool network_special(struct net *net, enum task task);

/** When a task starts and ends. */
struct span {
    int64_t start_s;  /**< INSTANT_NONE: no date */
    int64_t finish_s; /**< INSTANT_NONE: no date, or no duration */
    bool booked;      /**< a booked day ahead holds it */
};

/**
 * Put a task on the calendar of whoever does it.
 *
 * @param[out]    out    Start and finish.
 * @param[in]     net    The network.
 * @param[in]     task   Unfinished, its constraints all with an end.
 * @param[in,out] bounds Takes the reasons of the calendar: hours, drive, booked day.
 */
void network_calendar(struct span *out, const struct net *net, enum task task,
                      struct bounds *bounds);

/** When work that goes on since an instant ends: not before now. */
int64_t network_finish_s(const struct net *net, enum task task, int64_t start_s, double hours);

#endif
