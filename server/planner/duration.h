/* SPDX-License-Identifier: MIT */
/*
 * How long a task takes: linear in the quantities of the job, with the rulebook's hours. A quantity
 * that is needed and absent gives no duration at all; nothing is ever guessed.
 */
#ifndef EMBERWAIT_PLANNER_DURATION_H
#define EMBERWAIT_PLANNER_DURATION_H

#include "model/job.h"
#include "rulebook/rulebook.h"

/** Length of a task. */
struct duration {
    double hours; /**< working hours of the stated crew; NAN when a quantity is missing */
    int days;     /**< spread over at least so many days (chimney lifts); 1 */
};

/** The figure of a measure for a job, in its own unit; NAN when a quantity is absent. */
double duration_measure(const struct job *job, enum measure measure);

/** How long a task takes on a job. */
struct duration duration_of(const struct rulebook *rulebook, const struct job *job, enum task task);

/**
 * Quantities that a measure needs and the job lacks.
 *
 * @param[out] out     At most two.
 * @param[in]  job     Borrowed.
 * @param[in]  measure Of the rulebook.
 * @return how many.
 */
int duration_missing(enum quantity out[2], const struct job *job, enum measure measure);

#endif
