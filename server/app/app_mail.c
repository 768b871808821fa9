/* SPDX-License-Identifier: MIT */
/* Why: see app_mail.h. */
#include "app/app_mail.h"

#include <string.h>

#include "app/app_internal.h"
#include "app/app_photo.h"
#include "base/limits.h"
#include "store/store_alarm.h"

#include "base/banned.h"

struct queueing {
    const struct store_mail *mail;
    int64_t number, now_s;
};

static enum status queue_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct queueing *queueing = context;
    int64_t count = 0;
    const enum status status = store_mail_waiting(txn, &count, fault);
    if (status != STATUS_OK) return status;
    if (count >= APP_MAIL_QUEUE_MAX) {
        fault_set(fault, "queue", "fewer than 1000 messages waiting; is the host's mailer running?",
                  "%lld", (long long)count);
        return STATUS_LIMIT;
    }
    return store_mail_add(txn, queueing->mail, fault);
}

static bool fits(const char *text, size_t most)
{
    return text != NULL && text[0] != '\0' && strlen(text) <= most;
}

static enum status check(const struct app_mail *mail, struct faults *faults)
{
    /* it becomes the name of a file and a line of a message's head */
    if (!app_photo_id_valid(mail->id))
        return faults_add(faults, "id", "a UUID in small letters", "another");
    if (!fits(mail->subject, APP_MAIL_SUBJECT_MAX) || strpbrk(mail->subject, "\r\n") != NULL)
        return faults_add(faults, "subject", "one line of 1 to 300 bytes", "another");
    if (!fits(mail->body, APP_MAIL_BODY_MAX))
        return faults_add(faults, "body", "1 to 20000 bytes", "%zu",
                          mail->body == NULL ? 0 : strlen(mail->body));
    if (!fits(mail->receiver, MAIL_BYTES_MAX))
        return faults_add(faults, "receiver", "a mail address; the job has none", "nothing");
    return STATUS_OK;
}

enum status app_mail_queue(struct app *app, const struct app_mail *mail, int64_t now_s,
                           struct faults *faults)
{
    enum status status = check(mail, faults);
    if (status != STATUS_OK) return status;
    const struct store_mail row = {.id = mail->id,
                                   .job_id = mail->job_id,
                                   .kind = mail->alarm ? "alarm" : "homeowner",
                                   .receiver = mail->receiver,
                                   .subject = mail->subject,
                                   .body = mail->body,
                                   .made_s = now_s,
                                   .made_by = mail->made_by};
    struct queueing queueing = {.mail = &row};
    struct fault fault = {0};
    status =
        store_write_aside(app->store, (struct store_work){queue_run, &queueing, false}, &fault);
    return app_fault(faults, status, &fault);
}

struct listing {
    const char *job_id;
    bool waiting;
    const struct store_mail *rows;
    size_t count;
    struct arena *arena;
};

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct listing *l = context;
    return l->waiting ? store_mail_queued(txn, &l->rows, &l->count, l->arena, fault)
                      : store_mail_list(txn, l->job_id, &l->rows, &l->count, l->arena, fault);
}

static enum status list(const struct app_mail **out, size_t *count, struct app *app,
                        struct listing *listing, struct faults *faults)
{
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){list_run, listing, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_mail *mails = ARENA_TAKE(listing->arena, listing->count, struct app_mail);
    if (mails == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < listing->count; i++) {
        const struct store_mail *row = &listing->rows[i];
        mails[i] = (struct app_mail){.number = row->number,
                                     .id = row->id,
                                     .job_id = row->job_id,
                                     .alarm = strcmp(row->kind, "alarm") == 0,
                                     .receiver = row->receiver,
                                     .subject = row->subject,
                                     .body = row->body,
                                     .made_by = row->made_by,
                                     .made_s = row->made_s,
                                     .sent_s = row->sent_s};
    }
    *out = mails;
    *count = listing->count;
    return STATUS_OK;
}

enum status app_mail_waiting(const struct app_mail **out, size_t *count, struct app *app,
                             struct arena *arena, struct faults *faults)
{
    struct listing listing = {.waiting = true, .arena = arena};
    return list(out, count, app, &listing, faults);
}

enum status app_mail_list(const struct app_mail **out, size_t *count, struct app *app,
                          const char *job_id, struct arena *arena, struct faults *faults)
{
    struct listing listing = {.job_id = job_id, .arena = arena};
    return list(out, count, app, &listing, faults);
}

static enum status sent_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct queueing *queueing = context;
    return store_mail_sent(txn, queueing->number, queueing->now_s, fault);
}

enum status app_mail_sent(struct app *app, int64_t number, int64_t now_s, struct faults *faults)
{
    struct queueing queueing = {.number = number, .now_s = now_s};
    struct fault fault = {0};
    const enum status status =
        store_write_aside(app->store, (struct store_work){sent_run, &queueing, false}, &fault);
    return app_fault(faults, status, &fault);
}
