/* SPDX-License-Identifier: MIT */
/*
 * Reasons: what acts on a date, as structures with stable rule ids. The sentences are made by the
 * views. Constraints come latest first; one with no known end comes before all.
 */
#ifndef EMBERWAIT_PLANNER_EXPLAIN_H
#define EMBERWAIT_PLANNER_EXPLAIN_H

#include "model/plan.h"
#include "planner/network_internal.h"

/** Which sentence a rule id of a task belongs to. */
enum explain_rule {
    EXPLAIN_AFTER,  /**< "after.<task>" */
    EXPLAIN_BEFORE, /**< "before.<task>": the named task is the last chance */
    EXPLAIN_WITH,   /**< "with.<task>" */
    EXPLAIN_WITHIN, /**< "within.<task>" */
    EXPLAIN_HOLD,   /**< "hold.<task>" */
    EXPLAIN_RULES
};

/** The static rule id of a kind and task. */
const char *explain_rule(enum explain_rule rule, enum task task);

/** A reason without figures, mark or source. */
struct reason explain_plain(enum reason_kind kind, const char *rule, int64_t until_s,
                            enum task task);

/** A reason from a started clock: its figures, and what kind of wait it is. */
struct reason explain_clock(const struct clock_plan *clock);

/**
 * Append a reason and keep the totals of the bounds.
 *
 * @param[in,out] bounds Constraints so far; past REASONS_MAX only the totals are kept.
 * @param[in]     reason The constraint.
 * @param[in]     met    It no longer acts at now.
 */
void explain_add(struct bounds *bounds, struct reason reason, bool met);

/** Sort latest first and copy into the arena: the `because` of a task. */
void explain_keep(struct task_plan *out, struct bounds *bounds, struct arena *arena);

#endif
