/* SPDX-License-Identifier: MIT */
/*
 * A job taken over half built: what somebody vouches for on one form. It becomes ordinary records,
 * each marked as taken over, so that no plan ever takes it for something that was seen.
 */
#ifndef EMBERWAIT_MODEL_TAKE_OVER_H
#define EMBERWAIT_MODEL_TAKE_OVER_H

#include <stddef.h>
#include <stdint.h>

#include "model/ids.h"

/** Work that was done before we came. */
struct taken_task {
    enum task task;
    int32_t day;    /**< civil day of the job; DAY_NONE: `at_s` says it */
    int64_t at_s;   /**< INSTANT_NONE: the end of `day`, or now when that is today */
    const char *by; /**< who did it or says so; NULL: who takes over */
};

/** A wait that is taken to be over although nobody read a thermometer. */
struct taken_clock {
    enum clock_id clock;
    const char *reason; /**< NULL: the reason of the whole */
};

struct take_over {
    const char *id; /**< made by the sender; sent twice it is stored once */
    const char *by;
    const char *reason;
    const struct taken_task *tasks;
    size_t task_count;
    const struct taken_clock *clocks;
    size_t clock_count;
};

#endif
