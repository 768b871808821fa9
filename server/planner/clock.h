/* SPDX-License-Identifier: MIT */
/*
 * Clocks: what has been earned at `now`, and when both conditions will hold. A clock is never a
 * running timer; it is worked out again each time from its start record, the history of its part
 * and the rule in force.
 *
 * clock_rule.c   which floor and target are in force for this job (blended, town, engineer,
 * override) clock_set.c    clocks of warm hours: pad, joints, bed, lift, lining, and the moist cure
 * clock_days.c   clocks of counted days: dry cure, facing, patches
 * clock_year.c   all of them again under a past year, and those that have not started
 */
#ifndef EMBERWAIT_PLANNER_CLOCK_H
#define EMBERWAIT_PLANNER_CLOCK_H

#include "model/plan.h"
#include "planner/clock_sum.h"
#include "planner/facts.h"
#include "planner/history.h"

/** One sum of warm hours, and what it was made of. */
struct set_sum {
    struct running running;
    struct earning earning;
    struct sum sum;
    enum part part;
};

struct unit_days;

/** How a clock's crossing is worked out again under a past year. */
struct clock_redo {
    enum clock_id clock;
    bool fixed;          /**< stopped, ended, or reached by what is known: alike in every year */
    int64_t crossing_s;  /**< when fixed; INSTANT_NONE: never */
    int64_t floor_s;     /**< not before */
    int64_t accepted_s;  /**< somebody vouched for it: open from then on; INSTANT_NONE */
    struct set_sum *sum; /**< warm hours; NULL: counted days */
    size_t goal;
    enum clock_id other; /**< open as soon as this one is; CLOCK_NONE */
    int64_t start_s;     /**< counted days */
    double need;
};

/** What all clocks of a job share: one view of the weather, one history a part, made when asked. */
struct clocks {
    const struct facts *facts;
    struct weather_view weather;
    struct history histories[PART_COUNT];
    bool built[PART_COUNT];
    struct clock_plan *plans; /**< [CLOCK_COUNT] room in the arena; only started clocks are kept */
    size_t count;
    struct clock_redo *redos; /**< one a clock; several of the patches */
    size_t redo_count, redo_room;
    struct unit_days *days; /**< the unit's days; NULL: nothing counts days */
};

/** The floor and target in force for one clock of one job. */
struct clock_terms {
    struct rule_number floor_h;
    struct rule_number need;
    const char *source; /**< sheet or rule the number comes from; NULL */
    bool held_to_floor; /**< an engineer's figure lay below a CP or P minimum and was not taken */
    bool kit_shorter;   /**< the kit's sheet has a shorter figure, which was not taken */
};

/** Work out floor and target: default, blended, town, engineer, overridden, in this order. */
void clock_terms_find(struct clock_terms *out, const struct facts *facts, enum clock_id clock);

/** The same, with another target to begin from (a patch of 7 days); NAN: the rulebook's. */
void clock_terms_from(struct clock_terms *out, const struct facts *facts, enum clock_id clock,
                      double need_base);

/** The history of a part, built on first use. */
const struct history *clock_history(struct clocks *clocks, enum part part);

/** Whether a record is one of those that start a clock. */
bool clock_is_start(const struct clock_rule *rule, const struct record *record);

/** Latest record that starts a clock, at or after `from_s`; NULL: not started. */
const struct record *clock_start_record(const struct facts *facts, enum clock_id clock,
                                        int64_t from_s);

/** Latest `looked` with result redo of a part after an instant; NULL: none. */
const struct record *clock_redo_after(const struct facts *facts, enum part part, int64_t after_s);

/** First `looked` with no damage seen of a part after an instant; NULL: none. */
const struct record *clock_look_after(const struct facts *facts, enum part part, int64_t after_s);

/** Set crossing and opening, and the state that follows from them at now. */
void clock_settle(struct clock_plan *plan, const struct facts *facts, int64_t crossing_s);

/** Work out every clock of warm hours that has started. */
void clock_set_all(struct clocks *clocks);

/**
 * When a clock of warm hours earns and what an hour earns it: the very terms its sum is made of.
 *
 * @param[out] running  In the arena of the facts.
 * @param[out] earning  Filled.
 * @param[in]  clock    A set clock that has started; the moist cure is none.
 * @param[in]  start_s  Its start.
 * @return false when memory failed.
 */
bool clock_set_terms(struct running *running, struct earning *earning, struct clocks *clocks,
                     enum clock_id clock, int64_t start_s);

/**
 * What an hour will earn a clock that has not started: by the bag in use now, as far as it says how
 * cold is too cold. A mortar that earns no warm hours is not carried over to the next lot.
 */
struct earning clock_set_earning(const struct facts *facts, enum clock_id clock);

/** Work out every clock of counted days that has started, and the struck ones. */
void clock_days_all(struct clocks *clocks, struct job_plan *out);

/**
 * When so many days have counted since an instant, day 0 being its own: the rest after a fire that
 * steamed.
 *
 * @param[in] start_s Not in a day that lies ahead of all weather.
 * @param[in] days    Counted days.
 * @return The midnight that ends the last of them; INSTANT_NONE: no end in sight.
 */
int64_t clock_days_rest_s(struct clocks *clocks, int64_t start_s, double days);

/** Note how a settled clock's crossing is worked out again; NULL when memory failed. */
struct clock_redo *clock_redo_new(struct clocks *clocks, const struct clock_plan *plan);

/** The earlier of two instants, INSTANT_NONE being never. */
static inline int64_t clock_sooner_s(int64_t a_s, int64_t b_s)
{
    if (a_s == INSTANT_NONE || b_s == INSTANT_NONE) return a_s == INSTANT_NONE ? b_s : a_s;
    return a_s < b_s ? a_s : b_s;
}

/** A new, zeroed plan for a clock; NULL when memory failed. */
struct clock_plan *clock_new(struct clocks *clocks, enum clock_id clock, enum part part,
                             int64_t start_s);

#endif
