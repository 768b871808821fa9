/* SPDX-License-Identifier: MIT */
/*
 * What the files of the engine share. A `side` is the problem as one pass reads it; the backward
 * pass is the forward pass of the mirrored side (slot t becomes horizon - t, arcs turn round), so
 * there is one piece of code that places work, not two that must agree.
 */
#ifndef EMBERWAIT_SEQUENCE_INTERNAL_H
#define EMBERWAIT_SEQUENCE_INTERNAL_H

#include "sequence/sequence.h"

/** A bound on an activity from one that is already placed. */
struct sequence_bound {
    int32_t from;
    int32_t lag;
    bool from_finish;
    bool to_finish;
};

struct sequence_side {
    const struct sequence_problem *problem;
    bool mirrored;
    const struct sequence_bound *bounds; /**< those of activity j: first[j] .. first[j + 1] */
    const int32_t *first;
    const int32_t *next; /**< activities after j: next[next_first[j]] .. */
    const int32_t *next_first;
    const uint8_t *const *calendars;
    const int32_t *const *closed_run; /**< [calendar][slot]: closed slots from here on */
};

/** Room of one pass. */
struct sequence_room {
    int16_t *full;    /**< [resource][horizon + 1]: as `free` before anything is placed */
    int16_t *free;    /**< [resource][horizon + 1] */
    int16_t *where;   /**< [chosen resource][horizon + 1]: place + 1 of who is there, 0 nobody */
    int32_t *until;   /**< [chosen resource][horizon + 1]: end of the busy stretch of a busy slot */
    int32_t *longest; /**< change from or to a place */
    int32_t *used_from; /**< [resource]: what the pass before took lies in [from, until) */
    int32_t *used_until;
    int32_t *waits; /**< activities still to be placed before this one */
    int64_t *heap;
    int32_t heap_count;
    int32_t choice_count; /**< resources somebody can choose */
};

/** One schedule in the time of its own side. */
struct sequence_schedule {
    int32_t *start;
    int32_t *finish;
    int32_t *choice;
    int64_t cost; /**< of forward schedules */
};

/** Fill a side; false without memory. */
bool sequence_side_make(struct sequence_side *out, const struct sequence_problem *problem,
                        bool mirrored, struct arena *arena);

/** Room for passes of a problem; false without memory. */
bool sequence_room_make(struct sequence_room *out, const struct sequence_problem *problem,
                        struct arena *arena);

/**
 * One pass: of the activities whose predecessors are placed, always the one with the least key, as
 * early as it fits.
 *
 * @param[out] out  Filled but for its cost.
 * @param[in]  side Forward or mirrored.
 * @param[in]  keys [count]
 * @param[in]  room Scratch.
 */
void sequence_pass(struct sequence_schedule *out, const struct sequence_side *side,
                   const int32_t *keys, struct sequence_room *room);

#endif
