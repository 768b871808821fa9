/* SPDX-License-Identifier: MIT */
/*
 * Messages: to the homeowner, drafted for the owner to read and send; to owner and crew, when
 * something went wrong. And the message as bytes that a host's own mailer takes (`sendmail -t`).
 */
#ifndef EMBERWAIT_VIEWS_MAIL_H
#define EMBERWAIT_VIEWS_MAIL_H

#include "base/text.h"
#include "model/alarm.h"
#include "model/plan.h"
#include "views/when.h"
#include "views/words.h"

/** A message on its way. All borrowed. */
struct mail_message {
    const char *id;        /**< left half of its Message-ID; the same when it is written again */
    const char *from;      /**< an address */
    const char *from_name; /**< NULL: none */
    const char *to;        /**< an address */
    const char *subject;
    const char *body; /**< lines end in \n */
    int64_t made_s;
    const struct zone *zone; /**< whose offset the Date has */
    bool automatic;          /**< nobody pressed a button: Auto-Submitted, RFC 3834 */
};

/**
 * Write a message as RFC 5322 text with MIME (UTF-8, quoted-printable), lines ending in CRLF.
 *
 * A line break or a control character in any header is written as a blank, so a subject cannot
 * bring headers of its own.
 *
 * @param[in,out] out  Appended to.
 * Source: [rfc5322]
 */
void mail_write(struct text *out, const struct mail_message *message);

/** What a homeowner is told, ready to be read by the owner first: what stands on their page. */
struct mail_draft {
    struct text subject;
    struct text body;
};
/** Free the texts of a draft. */
void mail_draft_free(struct mail_draft *draft);

/**
 * A draft for the homeowner in the language of `words`.
 *
 * It says the agreed date only while the plan supports it, else that the date is being checked, or
 * that there is none yet. Never a computed date.
 *
 * @param[out] out      mail_draft_free.
 * @param[in]  url      The homeowner's page; NULL: none.
 */
void mail_draft_home(struct mail_draft *out, const struct words *words,
                     const struct company *company, const struct job_plan *job, int64_t now_s,
                     const char *url);

/** What an alarm says, in one or two sentences. Plain text. */
void mail_say_alarm(struct text *out, const struct when *when, const struct alarm *alarm);

/** The message about an alarm: in the first language, then in the second (NULL: only one). */
void mail_draft_alarm(struct mail_draft *out, const struct words *first, const struct words *second,
                      const struct job *job, const struct alarm *alarm, int64_t now_s);

#endif
