/* SPDX-License-Identifier: MIT */
/*
 * One entry of a calendar that others subscribe to. It has a name that stays (uid) and a number
 * that grows each time it moves, so that a calendar knows a change from a copy, and a cancellation
 * from a silence.
 */
#ifndef EMBERWAIT_MODEL_FEED_H
#define EMBERWAIT_MODEL_FEED_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/plan.h"

/** How sure an entry is (RFC 5545, 3.8.1.11). */
enum feed_status { FEED_TENTATIVE, FEED_CONFIRMED, FEED_CANCELLED, FEED_STATUS_COUNT };

/** An entry; strings are borrowed from the plan or the arena it was made in. */
struct feed_event {
    const char *uid;              /**< the same for the same work for ever */
    const char *job_id;           /**< which job */
    const struct job *job;        /**< NULL: a job that is gone */
    enum task task;               /**< TASK_NONE: the date given to the homeowner */
    const struct task_plan *plan; /**< as it stands; NULL: no longer planned */
    const struct crew *crew;      /**< who goes; NULL: no crew of ours */
    int32_t day;                  /**< a whole day; DAY_NONE: from start to finish */
    int64_t start_s;              /**< INSTANT_NONE for a whole day */
    int64_t finish_s;             /**< INSTANT_NONE for a whole day */
    enum feed_status status;
    int64_t sequence;  /**< 0, 1, 2 … : grows when it moves */
    int64_t changed_s; /**< when it last moved */
};

/** A feed, put in order of time. */
struct feed {
    const struct crew *crew; /**< whose; NULL: the owner's */
    const struct plan *plan; /**< what it was made from */
    const struct feed_event *events;
    size_t count;
    int64_t made_s;
};

#endif
