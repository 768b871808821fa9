/* SPDX-License-Identifier: MIT */
/* Alarms, what the watch last saw of each job, and the queue of messages. */
#ifndef EMBERWAIT_STORE_STORE_ALARM_H
#define EMBERWAIT_STORE_STORE_ALARM_H

#include "model/alarm.h"
#include "store/store.h"

/** What the watch last saw of a job. */
struct store_watched {
    const char *job_id;
    const char *open; /**< clocks that were open: `id@start`, with a blank between */
    int64_t given;    /**< civil day of the date given that was supported; INSTANT_NONE */
};

/** Every job's row that there is. Status: OK, LIMIT, IO… */
MUST_USE enum status store_watched_list(struct store_txn *txn, const struct store_watched **out,
                                        size_t *out_count, struct arena *arena,
                                        struct fault *fault);
/** Put a job's row; a job that is not there is left out. Status: OK, IO… */
MUST_USE enum status store_watched_put(struct store_txn *txn, const struct store_watched *row,
                                       struct fault *fault);

/** Alarms that are true still or that somebody has not seen, oldest first. */
MUST_USE enum status store_alarm_list(struct store_txn *txn, const struct alarm **out,
                                      size_t *out_count, struct arena *arena, struct fault *fault);
/** Add an alarm (job, kind, about, at, due); one that is open already is left as it is. */
MUST_USE enum status store_alarm_add(struct store_txn *txn, const struct alarm *alarm,
                                     struct fault *fault);
/** Put `due`, `told`, `told_s` and `over_s` of an alarm. */
MUST_USE enum status store_alarm_put(struct store_txn *txn, const struct alarm *alarm,
                                     struct fault *fault);
/** The office (`by`) or, `by` NULL, the crew has seen it. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_alarm_seen(struct store_txn *txn, int64_t number, int64_t now_s,
                                      const char *by, struct fault *fault);

/** A message. Strings in the arena or borrowed. */
struct store_mail {
    int64_t number;
    const char *id;
    const char *job_id; /**< NULL: of no job */
    const char *kind;   /**< "homeowner" or "alarm" */
    const char *receiver;
    const char *subject;
    const char *body;
    int64_t made_s;
    const char *made_by; /**< NULL: the watch */
    int64_t sent_s;      /**< INSTANT_NONE: still in the queue */
};

/** Queue a message. Status: OK, CONFLICT (the id is known), NOT_FOUND (no such job), IO… */
MUST_USE enum status store_mail_add(struct store_txn *txn, const struct store_mail *mail,
                                    struct fault *fault);
/** How many messages wait. Status: OK, IO… */
MUST_USE enum status store_mail_waiting(struct store_txn *txn, int64_t *out, struct fault *fault);
/** Messages still in the queue, oldest first. */
MUST_USE enum status store_mail_queued(struct store_txn *txn, const struct store_mail **out,
                                       size_t *out_count, struct arena *arena, struct fault *fault);
/** The newest messages of a job (NULL: of all), newest first, at most 200. */
MUST_USE enum status store_mail_list(struct store_txn *txn, const char *job_id,
                                     const struct store_mail **out, size_t *out_count,
                                     struct arena *arena, struct fault *fault);
/** It left the queue. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_mail_sent(struct store_txn *txn, int64_t number, int64_t now_s,
                                     struct fault *fault);

#endif
