/* SPDX-License-Identifier: MIT */
/*
 * What the files of the network share. One `struct net` lives for one network_plan:
 *   network_records.c  one pass over the records: what is written of each task
 *   network_order.c    order of the tasks; what follows from the records of other tasks
 *   network_bounds.c   every constraint on an unfinished task, as reasons
 *   network_calendar.c the sensible start on the calendar of whoever does it
 *   network_special.c  the two tasks that are not done once: the watch and the night cover
 *   network.c          the forward pass: dates and states
 *   network_year.c     the same once for each past year
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
#include "planner/hold.h"

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
    PHASE_FAILED,  /**< failed, or a fire with a stop sign */
    PHASE_REDO,    /**< has to be done again */
    PHASE_CHECK,   /**< done or passed, but a check of it does not hold */
    PHASE_EXCUSED, /**< its last chance was missed, and the owner excused that */
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
    const struct record *booked;  /**< latest booked or held-date record; NULL */
    const struct record *excused; /**< the owner's word that a missed last chance may be; NULL */

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
    struct answers answers; /**< to the checks of the tasks */
    enum task order[TASK_COUNT];
    struct duration durations[TASK_COUNT];
    double follow_h[TASK_COUNT];   /**< crew work that has to follow within the same day */
    struct calendar crew_calendar; /**< crews, office and owner */
    int64_t lifts_s;     /**< the bed under the chimney was laid then; INSTANT_NONE: not known */
    const int64_t *pins; /**< [TASK_COUNT] or NULL: finished then, whatever its calendar says */
    int64_t projected_s; /**< first fire as the work ahead has it; INSTANT_NONE: not known */
    struct clock_year *year; /**< whose weather clocks to come have; NULL: the best rate */
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
    uint64_t leave_out;  /**< constraints of these tasks are not asked for */
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

/** Recorded, but not in order: done and not passed, a check that fails, failed, to be redone. */
bool network_held(const struct step *step);

/** Everything a forward pass begins from. */
void network_begin(struct net *net, struct job_plan *out, const struct facts *facts);

/** Fill the tasks of `net->out` in order. */
void network_forward(struct net *net);

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
    bool weather;     /**< a weather gate moved the start */
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

/** The calendar of whoever does a task; the party when it has one of its own, else NULL. */
const struct outside_party *network_calendar_of(struct calendar *out, const struct net *net,
                                                enum who who);

/** Hours that must fit into one day: work that cannot be left half done over night, with what has
 * to follow it; 0: none. */
double network_whole_h(const struct net *net, enum task task);

/** They said they come on a day they do not work, and that day's hours are not over. */
bool network_comes_off_duty(const struct net *net, enum task task, const struct calendar *calendar,
                            int64_t at_s);

/** When a task of known length ends: over as many days as it takes, chimney lifts day by day. */
int64_t network_spread_s(const struct net *net, enum task task, const struct calendar *calendar,
                         int64_t start_s);

/** Unfinished work that starts a clock again and comes before the task; its own later work else. */
uint64_t network_clock_starts(const struct net *net, enum clock_id clock, enum task task);

/**
 * The earliest opening of a clock that starts at an instant ahead, every hour and day counted;
 * under a past year, what that year gives: INSTANT_NONE: never.
 */
int64_t network_clock_opens_s(struct net *net, enum clock_id clock, int64_t start_s);

/** The clock a link asks for, if it holds the task back: TASK ahead starts it, or it runs. */
bool network_clock_ahead(const struct net *net, enum clock_id clock, enum task task);

/** Business days of the company from an instant on: the opening of the last of them. */
int64_t network_lead_s(const struct net *net, int64_t from_s, int days);

/** The task whose end a lead time is counted from, and its days; TASK_NONE: no lead time acts. */
enum task network_lead_of(const struct net *net, enum task task, int *days);

/** Latest finishes, worked back from the wanted fire date; after the forward pass. */
void network_back(struct net *net);

/** The inspections to ask for, into the plan; after the forward pass. */
void network_call_ins(struct net *net);

/** Dates by which tasks have to be done: within, and last chances. After the forward pass. */
void network_due(struct net *net);

/**
 * Move a start on to the first hour from which the gate of a task is open for long enough.
 *
 * @param[in,out] span     Its start is the calendar's; moved when a gate holds it.
 * @param[in]     net      The network.
 * @param[in]     task     The task.
 * @param[in,out] bounds   Takes a reason for each rule that closed hours on the way.
 * @param[in]     calendar Of whoever does it.
 * @param[in]     needed_h Hours of the day that must be left.
 */
void network_gate(struct span *span, const struct net *net, enum task task, struct bounds *bounds,
                  const struct calendar *calendar, double needed_h);

/** The finish of a task put off by the working hours that its gate closes on the way. */
int64_t network_gate_finish_s(const struct net *net, enum task task,
                              const struct calendar *calendar, int64_t start_s, int64_t finish_s);

/** The measures this weather asks for while a task is done, and how long a bucket lasts. */
void network_gate_notes(const struct net *net, enum task task, struct task_plan *out);

/** When work that goes on since an instant ends: not before now. */
int64_t network_finish_s(const struct net *net, enum task task, int64_t start_s, double hours);

#endif
