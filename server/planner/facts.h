/* SPDX-License-Identifier: MIT */
/*
 * Which records count: those that happened up to `now`, with corrections carried out, in the order
 * in which they happened. Every later step of the planner reads records from here only, so that a
 * late reading, a correction or a withdrawal is the same to it as a record that was there at once.
 */
#ifndef EMBERWAIT_PLANNER_FACTS_H
#define EMBERWAIT_PLANNER_FACTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "model/job.h"
#include "rulebook/rulebook.h"

struct gates;

/** What one job's plan is worked out from. Everything is borrowed. */
struct facts {
    const struct job *job;
    const struct company *company;
    const struct rulebook *rulebook;
    int64_t now_s;
    struct arena *arena;
    const struct record *const
        *records; /**< ascending by at_s; equal instants in the order given */
    size_t count;
    struct gates *gates; /**< the weather's gates, filled when asked; NULL: none hold anything */
};

/**
 * Gather the facts of a job.
 *
 * @param[out] out      Filled. `records` is in the arena; `out->count` is 0 when memory failed.
 * @param[in]  job      Borrowed.
 * @param[in]  company  Borrowed.
 * @param[in]  rulebook Borrowed.
 * @param[in]  now_s    Records after it do not count.
 * @param[in]  arena    Memory.
 */
void facts_gather(struct facts *out, const struct job *job, const struct company *company,
                  const struct rulebook *rulebook, int64_t now_s, struct arena *arena);

/** Latest record of a kind (and task, unless TASK_NONE), or NULL. */
const struct record *facts_latest(const struct facts *facts, enum record_kind kind, enum task task);

#endif
