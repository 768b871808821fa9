/* SPDX-License-Identifier: MIT */
/*
 * Hold points and their measures: which checks a job's task asks for, what was answered last, and
 * what of it does not hold.
 *
 * A bare `passed` is a pass by name: it counts, and is shown as passed without its measures. Once
 * any check of a task was answered, each one that the task asks of this job has to hold, or the
 * task releases nothing, whoever says it is passed. The latest answer to a check governs until the
 * work is opened again (failed, to be redone, done again); a later bare pass changes no answer.
 */
#ifndef EMBERWAIT_PLANNER_HOLD_H
#define EMBERWAIT_PLANNER_HOLD_H

#include "model/plan.h"
#include "planner/facts.h"

struct net;
struct bounds;

/** The latest answers, while the records are read once. */
struct answers {
    const struct check_result *results[CHECK_COUNT]; /**< NULL: not answered */
    const struct record *records[CHECK_COUNT];       /**< what carried it */
    const struct record *passes[TASK_COUNT];         /**< latest pass; NULL */
    const struct record *photos[TASK_COUNT];         /**< latest record with a photo; NULL */
    uint64_t answered;                               /**< tasks of which some check was answered */
    uint64_t failing;                                /**< of these, those with a check that fails */
};

/** Take over what a done, passed, inspection or photo record says of its task. */
void hold_answer(struct answers *answers, const struct record *record);

/** The work is opened again: what was measured before speaks of other work. */
void hold_forget(struct answers *answers, enum task task);

/** After all records: which tasks have a check that does not hold; their steps take that phase. */
void hold_judge(struct net *net);

/** One reason for each check of a task that does not hold. */
void hold_explain(struct bounds *bounds, const struct net *net, enum task task);

/** After the forward pass: checks, pass and photo of every task into the plan. */
void hold_fill(struct net *net);

/** What is said for ever: passed without measures, taken over, checks that fail, who accepted what.
 *  Returns how many were put into room[capacity]. */
size_t hold_cautions(struct caution *room, size_t capacity, const struct job_plan *out,
                     const struct facts *facts);

enum { HOLD_LIMITS_MAX = 6 };

/**
 * The figures on the table for a measure of a job, and which of them act.
 *
 * @param[out] room      Shape [HOLD_LIMITS_MAX].
 * @param[out] accepted  The record by which a less strict figure was accepted; NULL: none.
 * @param[in]  facts     The job, its kit and its records.
 * @param[in]  check     A check of the rulebook.
 * @return their number; 0 for a check that is no measure or has no limit.
 */
size_t hold_limits(struct check_limit room[HOLD_LIMITS_MAX], const struct record **accepted,
                   const struct facts *facts, enum check_id check);

#endif
