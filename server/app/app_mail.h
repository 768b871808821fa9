/* SPDX-License-Identifier: MIT */
/* The queue of messages. Nothing here sends: see http/watch.h for how a message leaves. */
#ifndef EMBERWAIT_APP_APP_MAIL_H
#define EMBERWAIT_APP_APP_MAIL_H

#include "app/app.h"
#include "base/arena.h"

enum {
    APP_MAIL_SUBJECT_MAX = 300, /**< bytes */
    APP_MAIL_BODY_MAX = 20000,  /**< bytes: ten times the longest draft */
    APP_MAIL_QUEUE_MAX = 1000, /**< messages waiting: a host whose mailer is broken is not filled */
};

/** A message; strings borrowed or in the arena it was read into. */
struct app_mail {
    int64_t number;
    const char *id;       /**< the sender's UUID: the same id is queued once */
    const char *job_id;   /**< NULL: of no job */
    bool alarm;           /**< made by the watch; else for a homeowner */
    const char *receiver; /**< an address */
    const char *subject;
    const char *body;
    const char *made_by; /**< NULL: the watch */
    int64_t made_s;
    int64_t sent_s; /**< INSTANT_NONE: still in the queue */
};

/**
 * Put a message into the queue.
 *
 * @param[in] mail  number, made_s and sent_s are not read.
 * Status: OK; CONFLICT (this id is queued already); NOT_FOUND (no such job); INVALID (empty or too
 * long, or a line break in the subject); LIMIT (the queue is full); BUSY; IO.
 */
MUST_USE enum status app_mail_queue(struct app *app, const struct app_mail *mail, int64_t now_s,
                                    struct faults *faults);

/** What waits, oldest first; shape [*count], in `arena`. Status: OK, LIMIT, BUSY, IO. */
MUST_USE enum status app_mail_waiting(const struct app_mail **out, size_t *count, struct app *app,
                                      struct arena *arena, struct faults *faults);

/** The newest messages of a job (NULL: of all), newest first, at most 200. Status: as above. */
MUST_USE enum status app_mail_list(const struct app_mail **out, size_t *count, struct app *app,
                                   const char *job_id, struct arena *arena, struct faults *faults);

/** A message left. Status: OK, NOT_FOUND (it does not wait), BUSY, IO. */
MUST_USE enum status app_mail_sent(struct app *app, int64_t number, int64_t now_s,
                                   struct faults *faults);

#endif
