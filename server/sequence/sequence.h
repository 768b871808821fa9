/* SPDX-License-Identifier: MIT */
/*
 * One general engine for "who does what when, with too few hands": activities with durations,
 * several renewable resources, minimum lags, release times, soft due dates, calendars, and a choice
 * among unit resources (crews) that need time to change over from place to place. It knows nothing
 * of fireplaces; the planner states its crews in these words, the bench states public benchmark
 * problems in the same ones.
 *
 * Time is whole slots, 0 .. horizon; what a slot is, the caller knows. Maximum lags, several modes
 * and resources that are used up are left out: the trade has none, and without them every order of
 * the activities that respects the arcs gives a schedule, so that a search can never end without
 * one.
 *
 *   check.c    is there any schedule at all, and if not, why not
 *   side.c     the problem as a pass reads it, forward and mirrored in time
 *   pass.c     one order -> one schedule (serial generation)
 *   improve.c  many orders within a budget -> the best schedule
 */
#ifndef EMBERWAIT_SEQUENCE_SEQUENCE_H
#define EMBERWAIT_SEQUENCE_SEQUENCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/status.h"

enum {
    SEQUENCE_NONE = -1,        /**< no calendar, place, choice or start */
    SEQUENCE_USES_MAX = 16,    /**< resources one activity may use, beside the one it chooses */
    SEQUENCE_CHOICES_MAX = 64, /**< only the first 64 resources can be chosen among: one bit each */
    SEQUENCE_AMOUNT_MAX = 30000 /**< capacity of a resource: fits 16 bits with room to spare */
};

/** `to` starts at least `lag` slots (0 or more) after `from` starts, or after it finishes. */
struct sequence_arc {
    int32_t from;
    int32_t to;
    int32_t lag;
    bool from_finish;
};

/** While an activity runs it holds `amount` of `resource`. */
struct sequence_use {
    int32_t resource;
    int32_t amount;
};

struct sequence_activity {
    int32_t duration; /**< slots of work; 0: an event */
    int32_t release;  /**< not before this slot */
    int32_t due;      /**< finish wanted by this slot */
    int32_t weight;   /**< cost of each slot after `due`; 0: nobody minds */
    const struct sequence_use *uses;
    int32_t use_count;
    uint64_t one_of;     /**< bit r: one unit of resource r would do; 0: no choice to make */
    int32_t calendar;    /**< index, or SEQUENCE_NONE: every slot is open */
    int32_t gap_max;     /**< a closed gap of the calendar that the work may span, slots */
    int32_t first_least; /**< slots to work before the first rest, unless the chosen resource was
                            at the place since the rest before; work shorter than that: all of it */
    int32_t place;       /**< where the chosen resource has to be; SEQUENCE_NONE: anywhere */
    int32_t keep_choice; /**< what an earlier plan said; SEQUENCE_NONE: nothing */
    int32_t keep_start;
    int32_t keep_weight; /**< cost of another choice, or of a start beyond keep_margin from it */
};

struct sequence_problem {
    const struct sequence_activity *activities;
    int32_t count;
    const struct sequence_arc *arcs;
    int32_t arc_count;
    const int32_t *capacity; /**< [resource_count] */
    int32_t resource_count;
    int32_t horizon;                 /**< slots; nothing is placed past it */
    const uint8_t *const *calendars; /**< [calendar_count][horizon], 1 = open */
    int32_t calendar_count;
    const int32_t *changeover; /**< [place_count * place_count] slots, symmetric; NULL: no time */
    int32_t place_count;
    int32_t changeover_calendar; /**< slots in which a change can be made; SEQUENCE_NONE: all */
    int32_t rest;                /**< a closed gap this long frees resources and costs no change */
    int32_t keep_margin;         /**< slots that a start may move without being a change */
};

/** When to stop, and the chance used. */
struct sequence_budget {
    int64_t schedules;            /**< forward and backward passes, at least 1 */
    uint64_t seed;                /**< the same seed gives the same answer */
    int64_t enough;               /**< a cost that cannot be improved upon; 0 is always one */
    const int32_t *const *orders; /**< [order_count][count]: keys of schedules to begin with */
    int32_t order_count;          /**< least key first; tried before anything else */
    bool (*stop)(void *own);      /**< asked after each pass: true ends the search; NULL */
    void *own;                    /**< handed to `stop` */
};

struct sequence_answer {
    int32_t *start;    /**< [count]; SEQUENCE_NONE: did not fit before the horizon */
    int32_t *finish;   /**< [count]: slot after the last one worked */
    int32_t *choice;   /**< [count]: the resource chosen, SEQUENCE_NONE when there was no choice */
    int64_t cost;      /**< weighted slots late, plus what was changed; see sequence_cost */
    int64_t schedules; /**< passes made */
};

/**
 * Whether a problem is one this engine solves.
 *
 * @param[in]  problem Borrowed.
 * @param[out] fault   Which activity or arc, and why; NULL is allowed.
 * @param[in]  arena   Scratch, given back.
 * @return STATUS_INVALID when no schedule can exist (an activity asks for more than there is, lags
 *         close into a circle) or an index leads nowhere; STATUS_LIMIT without memory.
 */
MUST_USE enum status sequence_check(const struct sequence_problem *problem, struct fault *fault,
                                    struct arena *arena);

/**
 * Earliest starts when nobody is short of hands: lags and releases alone.
 *
 * @param[in]  problem  Checked.
 * @param[out] earliest [count]
 * @return the latest finish among them: the critical path.
 */
int32_t sequence_critical_path(const struct sequence_problem *problem, int32_t *earliest);

/**
 * A schedule, as good as the budget allows.
 *
 * @param[out] out     Arrays in the arena.
 * @param[in]  problem Checked by sequence_check.
 * @param[in]  budget  Borrowed.
 * @param[in]  arena   The answer; scratch is given back.
 * @return STATUS_OK, or STATUS_LIMIT without memory.
 */
MUST_USE enum status sequence_solve(struct sequence_answer *out,
                                    const struct sequence_problem *problem,
                                    const struct sequence_budget *budget, struct arena *arena);

/** What a schedule costs: weight * slots late, keep_weight where an earlier plan was changed; an
 * activity that did not fit counts as finished at twice the horizon. */
int64_t sequence_cost(const struct sequence_problem *problem, const int32_t *start,
                      const int32_t *finish, const int32_t *choice);

#endif
