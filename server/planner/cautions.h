/* SPDX-License-Identifier: MIT */
/* What somebody should know beside the dates: a caution never moves a date, it asks a person. */
#ifndef EMBERWAIT_PLANNER_CAUTIONS_H
#define EMBERWAIT_PLANNER_CAUTIONS_H

#include "planner/clock.h"

enum { CAUTIONS_ROOM = 96 /**< cautions kept of one job */ };

/** A growing list of cautions in the arena. */
struct caution_list {
    struct caution *items; /**< [CAUTIONS_ROOM] */
    size_t count;
};

/** Append one; past CAUTIONS_ROOM it is dropped (the same kinds are already there many times). */
void cautions_add(struct caution_list *list, struct caution caution);

/** Cautions that follow from histories and clocks: frost ahead, no reading, hot, disagreement… */
void cautions_find(struct caution_list *list, struct clocks *clocks, const struct job_plan *plan);

#endif
