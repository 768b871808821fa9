/* SPDX-License-Identifier: MIT */
/*
 * Something somebody has to be told: found by looking at the plan again, not by anybody's tap. It
 * stays until it is seen, and is mailed at most twice.
 */
#ifndef EMBERWAIT_MODEL_ALARM_H
#define EMBERWAIT_MODEL_ALARM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "model/ids.h"

#define ALARM_KIND_LIST(X)                                                                         \
    X(NOT_YET, "not-yet")     /* a wait that was over is not any more; about: the clock */         \
    X(FROST, "frost")         /* frost is forecast before the first-frost limit; about: pad */     \
    X(WITHDRAWN, "withdrawn") /* the date given is no longer supported; about: that date */        \
    X(MISSED, "missed")       /* an inspection was not called in by the cut-off; about: the task */
#define ALARM_ENUM_KIND(name, id) ALARM_##name,
enum alarm_kind { ALARM_KIND_LIST(ALARM_ENUM_KIND) ALARM_KIND_COUNT };
extern const struct id_table alarm_kind_ids;

enum { ALARM_MAILS_MAX = 2 /**< one alarm, one repeat */ };

/** An alarm; strings are borrowed from the arena of whoever made the list. */
struct alarm {
    int64_t number; /**< the store's own; 0: not stored yet */
    const char *job_id;
    enum alarm_kind kind;
    const char *about; /**< id of a clock or task, "pad", or a date YYYY-MM-DD */
    int64_t since_s;   /**< start of the clock it speaks of; INSTANT_NONE */
    int64_t at_s;      /**< when it was found */
    int64_t due_s;     /**< the frost, the cut-off; INSTANT_NONE */
    int told;          /**< mails so far, 0..ALARM_MAILS_MAX */
    int64_t told_s;    /**< the last of them; INSTANT_NONE */
    int64_t over_s;    /**< true no more since then; INSTANT_NONE: still true */
    int64_t seen_s;    /**< seen by the office; INSTANT_NONE */
    const char *seen_by;
    int64_t crew_seen_s; /**< seen on a crew's phone; INSTANT_NONE */
};

struct alarm_list {
    const struct alarm *items;
    size_t count;
};

#endif
