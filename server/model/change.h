/* SPDX-License-Identifier: MIT */
/*
 * What moved between two plans of a job, and why: the morning's "what did last night do", and the
 * answer of a try. Everything is borrowed from the two plans.
 */
#ifndef EMBERWAIT_MODEL_CHANGE_H
#define EMBERWAIT_MODEL_CHANGE_H

#include "model/plan.h"

#define CHANGE_WHY_LIST(X)                                                                         \
    X(RECORD, "record")     /* something was written down */                                       \
    X(WEATHER, "weather")   /* the weather or missing readings */                                  \
    X(NOT_DONE, "not-done") /* work was planned and is not done */                                 \
    X(CALENDAR, "calendar") /* a cut-off, a slot or a day off */
#define CHANGE_ENUM_WHY(name, id) CHANGE_##name,
enum change_why { CHANGE_WHY_LIST(CHANGE_ENUM_WHY) CHANGE_WHY_COUNT };
extern const struct id_table change_why_ids;

/** A task whose start moved to another civil day, or gained or lost it. */
struct date_move {
    enum task task;
    int64_t old_s; /**< start; INSTANT_NONE: no date */
    int64_t new_s;
    int32_t days; /**< later is positive; 0 when one of them has no date */
};

/** Two plans of one job held against each other. */
struct job_moves {
    const struct job_plan *before;
    const struct job_plan *after;
    const struct date_move *moves; /**< in the order of the work */
    size_t count;
    int32_t old_fire_day; /**< first fire, projected before it is counted; DAY_NONE */
    int32_t new_fire_day;
    enum task here;            /**< the first task that moved; TASK_NONE: none */
    int32_t here_days;         /**< by so much */
    int32_t end_days;          /**< the first fire by so much; 0 when one has no date */
    enum task snapped;         /**< where it grew (or shrank) most on the way; TASK_NONE */
    const struct reason *snap; /**< what did it there; NULL */
};

/** A job whose dates moved since an instant. */
struct change {
    struct job_moves moves;
    enum change_why why;
    const struct record *record; /**< RECORD: the one that moved it; NULL else */
    enum task task;              /**< NOT_DONE, CALENDAR, WEATHER: the first one; TASK_NONE */
    bool holds_no_more;          /**< the date given held then and does not now */
};

#endif
