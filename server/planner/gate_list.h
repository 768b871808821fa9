/* SPDX-License-Identifier: MIT */
/*
 * The lists the weather makes of a job's plan: gates hour by hour, can it be poured, what is due
 * before the night and by when, and which halves of crew days are lost outdoors. A list never moves
 * a date.
 */
#ifndef EMBERWAIT_PLANNER_GATE_LIST_H
#define EMBERWAIT_PLANNER_GATE_LIST_H

#include "model/plan.h"
#include "planner/facts.h"

/**
 * Fill the weather's part of a job's plan.
 *
 * @param[in,out] out   After network_plan and the cautions; fills gates, pour, tonight, half_days.
 * @param[in]     facts With its gates; borrowed. Lists are in the arena.
 *
 * When the arena has no memory the lists are empty (arena_failed tells).
 */
void gate_lists(struct job_plan *out, const struct facts *facts);

/** The first instant of [from_s, until_s) that the weather closes to a task; INSTANT_NONE: none. */
int64_t gate_closed_from_s(const struct job_plan *job, enum task task, int64_t from_s,
                           int64_t until_s);

/** Name the crew that is there today for what nobody is named for. */
void gate_lists_crews(struct job_plan *jobs, size_t job_count, const struct crew_plan *crews,
                      size_t crew_count);

#endif
