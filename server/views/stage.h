/* SPDX-License-Identifier: MIT */
/*
 * Where a job stands, in one word for a list: worked out from its tasks, never stored. And which of
 * its tasks a person would ask about next. Both are for reading only; no date rests on them.
 */
#ifndef EMBERWAIT_VIEWS_STAGE_H
#define EMBERWAIT_VIEWS_STAGE_H

#include <stdbool.h>

#include "model/ids.h"
#include "model/plan.h"

#define STAGE_LIST(X)                                                                              \
    X(QUOTED, "quoted")                                                                            \
    X(PERMIT, "permit")                                                                            \
    X(BASE, "base")                                                                                \
    X(BOX, "box")                                                                                  \
    X(STACK, "stack")                                                                              \
    X(LINING, "lining")                                                                            \
    X(FACING, "facing")                                                                            \
    X(DRYING, "drying")                                                                            \
    X(FIRST_FIRES, "first-fires")                                                                  \
    X(CLOSED, "closed")                                                                            \
    X(ON_HOLD, "on-hold")
#define STAGE_ENUM(name, id) STAGE_##name,
enum stage { STAGE_LIST(STAGE_ENUM) STAGE_COUNT };
extern const struct id_table stage_ids;

/** How soon somebody should look at a job: lower first. */
enum attention {
    ATTENTION_CALL,    /**< the homeowner's date no longer holds, or a fire was lit */
    ATTENTION_STOPPED, /**< a clock or a task is stopped until somebody looks */
    ATTENTION_READY,   /**< a wait is over, or work is under way */
    ATTENTION_READING, /**< hours are going by without a reading */
    ATTENTION_WAITING,
    ATTENTION_CLOSED
};

/** The stage a job is in. */
enum stage stage_of(const struct job_plan *job);
/** The task a person would ask about next; NULL when nothing is left to do. */
const struct task_plan *stage_next_task(const struct job_plan *job);
/** How soon somebody should look. */
enum attention stage_attention(const struct job_plan *job);
/** Whether a task is finished or not needed. */
bool stage_task_over(const struct task_plan *task);
/** Whether a task was done on this job (done or passed). */
bool stage_task_done(const struct job_plan *job, enum task task);
/** The clock of that id in a job's plan, or NULL when it has not started. */
const struct clock_plan *stage_clock(const struct job_plan *job, enum clock_id clock);

#endif
