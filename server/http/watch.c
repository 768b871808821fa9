/* SPDX-License-Identifier: MIT */
/* Why: see watch.h. */
#include "http/watch.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "app/app_mail.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "app/app_watch.h"
#include "base/log.h"
#include "http/plans.h"
#include "views/mail.h"

#include "base/banned.h"

enum {
    LOOK_S = 300, /**< a wait may go back by the clock alone, and files are fetched meanwhile */
    SETTLE_S = 2, /**< after a write: a phone that comes back sends many records at once */
    PATH_MAX_BYTES = 4096,
    MESSAGE_BYTES_MAX = 1 << 20,
};

struct watch {
    struct http_tools *tools;
    char *mail_dir;
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t woken;
    bool wake, stopping;
    _Atomic uint64_t looks;
};

/* --- the folder ---------------------------------------------------------------------------- */

static bool path_of(char out[PATH_MAX_BYTES], const struct watch *watch, const char *folder,
                    const char *id, const char *ending)
{
    const int length =
        snprintf(out, PATH_MAX_BYTES, "%s/%s%s%s", watch->mail_dir, folder, id, ending);
    return length > 0 && length < PATH_MAX_BYTES;
}

static bool write_whole(int file, const char *bytes, size_t length)
{
    for (size_t done = 0; done < length;) {
        const ssize_t wrote = write(file, bytes + done, length - done);
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote <= 0) return false;
        done += (size_t)wrote;
    }
    return fsync(file) == 0;
}

/* Under another name first: whoever fetches it finds it whole or not at all. */
static bool put_file(const struct watch *watch, const char *id, const struct text *bytes)
{
    char making[PATH_MAX_BYTES], made[PATH_MAX_BYTES];
    if (!path_of(making, watch, ".", id, ".new") || !path_of(made, watch, "", id, ".eml"))
        return false;
    const int file = open(making, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0640);
    bool done = file >= 0 && write_whole(file, bytes->data, bytes->length);
    if (file >= 0 && close(file) != 0) done = false;
    if (done) done = rename(making, made) == 0;
    if (!done && file >= 0) (void)unlink(making);
    return done;
}

static bool there(const struct watch *watch, const char *folder, const char *id)
{
    char path[PATH_MAX_BYTES];
    struct stat stat_of;
    return path_of(path, watch, folder, id, ".eml") && lstat(path, &stat_of) == 0;
}

static void hand_over(const struct watch *watch, const struct app_mail *mail,
                      const struct company *company)
{
    if (company->mail_from == NULL) return;
    struct text bytes = TEXT_UP_TO(MESSAGE_BYTES_MAX);
    const struct mail_message message = {.id = mail->id,
                                         .from = company->mail_from,
                                         .from_name = company->name,
                                         .to = mail->receiver,
                                         .subject = mail->subject,
                                         .body = mail->body,
                                         .made_s = mail->made_s,
                                         .zone = company->zone,
                                         .automatic = mail->alarm};
    mail_write(&bytes, &message);
    if (text_status(&bytes) != STATUS_OK || !put_file(watch, mail->id, &bytes))
        log_error("a message could not be put into the folder of messages",
                  LOG_WITH(log_text("id", mail->id)));
    text_free(&bytes);
}

static void tend_folder(const struct watch *watch, const struct company *company, int64_t now_s,
                        struct arena *arena)
{
    const struct app_mail *mails = NULL;
    size_t count = 0;
    if (watch->mail_dir == NULL) return;
    if (app_mail_waiting(&mails, &count, watch->tools->app, arena, NULL) != STATUS_OK) return;
    for (size_t i = 0; i < count; i++) {
        if (there(watch, "sent/", mails[i].id)) {
            if (app_mail_sent(watch->tools->app, mails[i].number, now_s, NULL) != STATUS_OK)
                log_warning("a sent message could not be noted", NULL);
        } else if (!there(watch, "", mails[i].id)) {
            hand_over(watch, &mails[i], company);
        }
    }
}

/* --- alarms -------------------------------------------------------------------------------- */

static bool queue_alarm(const struct watch *watch, const char *receiver, const struct job *job,
                        const struct alarm *alarm, bool both, int64_t now_s)
{
    char id[APP_ID_TEXT_MAX];
    struct mail_draft draft;
    app_new_id(id);
    mail_draft_alarm(&draft, watch->tools->words[0], both ? watch->tools->words[1] : NULL, job,
                     alarm, now_s);
    const struct app_mail mail = {.id = id,
                                  .job_id = job->id,
                                  .alarm = true,
                                  .receiver = receiver,
                                  .subject = text_z(&draft.subject),
                                  .body = text_z(&draft.body)};
    const enum status status = app_mail_queue(watch->tools->app, &mail, now_s, NULL);
    mail_draft_free(&draft);
    return status == STATUS_OK;
}

static const char *crew_mail(const struct company *company, const struct job *job)
{
    for (size_t i = 0; job->crew_id != NULL && i < company->crew_count; i++)
        if (strcmp(company->crews[i].id, job->crew_id) == 0) return company->crews[i].mail;
    return NULL;
}

static void tell(const struct watch *watch, const struct plan *plan, const struct alarm_list *list,
                 int64_t now_s)
{
    const struct company *company = &plan->casefile->company;
    for (size_t i = 0; i < list->count; i++) {
        const struct alarm *alarm = &list->items[i];
        const struct job_plan *job = app_plan_find(plan, alarm->job_id);
        if (job == NULL || !app_alarm_due(watch->tools->app, alarm, company->zone, now_s)) continue;
        const char *crew = crew_mail(company, job->job);
        bool told = false;
        if (company->alarm_mail != NULL)
            told = queue_alarm(watch, company->alarm_mail, job->job, alarm, false, now_s);
        if (crew != NULL) told = queue_alarm(watch, crew, job->job, alarm, true, now_s) || told;
        if (told && app_alarm_told(watch->tools->app, alarm, now_s, NULL) != STATUS_OK)
            log_warning("an alarm was queued and could not be noted", NULL);
    }
}

void watch_look(struct watch *watch, int64_t now_s)
{
    struct faults faults = {0};
    struct arena *arena = arena_new();
    struct plans_entry *entry = NULL;
    struct alarm_list alarms = {0};
    struct http_request request = {.tools = watch->tools, .arena = arena, .now_s = now_s};
    enum status status = arena == NULL ? STATUS_LIMIT : plans_take(&entry, &request, &faults);
    if (status == STATUS_OK)
        status = app_watch(&alarms, watch->tools->app, plans_plan(entry), now_s, arena, &faults);
    if (status == STATUS_OK) {
        if (watch->mail_dir != NULL) tell(watch, plans_plan(entry), &alarms, now_s);
        tend_folder(watch, &plans_plan(entry)->casefile->company, now_s, arena);
    } else {
        log_warning("the watch could not look", LOG_WITH(log_text("status", status_name(status))));
    }
    plans_release(entry);
    faults_free(&faults);
    arena_free(arena);
    atomic_fetch_add(&watch->looks, 1);
}

/* --- the thread ---------------------------------------------------------------------------- */

/* Wait until something was written or `seconds` are over; false: stop. Under the lock. */
static bool pause_for(struct watch *watch, int seconds, bool wakes)
{
    struct timespec until = {0};
    (void)clock_gettime(CLOCK_REALTIME, &until);
    until.tv_sec += seconds;
    while (!watch->stopping && !(wakes && watch->wake))
        if (pthread_cond_timedwait(&watch->woken, &watch->lock, &until) == ETIMEDOUT) break;
    return !watch->stopping;
}

static void *watch_main(void *context)
{
    struct watch *watch = context;
    const struct http_tools *tools = watch->tools;
    (void)pthread_mutex_lock(&watch->lock);
    while (pause_for(watch, LOOK_S, true) && pause_for(watch, SETTLE_S, false)) {
        watch->wake = false;
        (void)pthread_mutex_unlock(&watch->lock);
        watch_look(watch, tools->fixed_clock ? tools->fixed_now_s : (int64_t)time(NULL));
        (void)pthread_mutex_lock(&watch->lock);
    }
    (void)pthread_mutex_unlock(&watch->lock);
    return NULL;
}

static enum status check_folder(const char *mail_dir, struct fault *fault)
{
    struct stat stat_of;
    if (stat(mail_dir, &stat_of) == 0 && S_ISDIR(stat_of.st_mode) &&
        access(mail_dir, W_OK | X_OK) == 0)
        return STATUS_OK;
    fault_set(fault, "mail-dir", "a folder this program may write in", "%s", mail_dir);
    return STATUS_NOT_FOUND;
}

enum status watch_start(struct watch **out, struct http_tools *tools, const char *mail_dir,
                        struct fault *fault)
{
    *out = NULL;
    if (mail_dir != NULL) {
        const enum status status = check_folder(mail_dir, fault);
        if (status != STATUS_OK) return status;
    }
    struct watch *watch = calloc(1, sizeof *watch);
    if (watch == NULL) return STATUS_LIMIT;
    watch->tools = tools;
    watch->wake = true;
    watch->mail_dir = mail_dir == NULL ? NULL : strdup(mail_dir);
    (void)pthread_mutex_init(&watch->lock, NULL);
    (void)pthread_cond_init(&watch->woken, NULL);
    if ((mail_dir != NULL && watch->mail_dir == NULL) ||
        pthread_create(&watch->thread, NULL, watch_main, watch) != 0) {
        free(watch->mail_dir);
        free(watch);
        fault_set(fault, "", "memory and a thread for the watch", "none");
        return STATUS_LIMIT;
    }
    *out = watch;
    return STATUS_OK;
}

void watch_wake(void *context)
{
    struct watch *watch = context;
    if (watch == NULL) return;
    (void)pthread_mutex_lock(&watch->lock);
    watch->wake = true;
    (void)pthread_cond_signal(&watch->woken);
    (void)pthread_mutex_unlock(&watch->lock);
}

uint64_t watch_looks(const struct watch *watch)
{
    return watch == NULL ? 0 : atomic_load(&watch->looks);
}

bool watch_sends(const struct watch *watch)
{
    return watch != NULL && watch->mail_dir != NULL;
}

void watch_stop(struct watch *watch)
{
    if (watch == NULL) return;
    (void)pthread_mutex_lock(&watch->lock);
    watch->stopping = true;
    (void)pthread_cond_signal(&watch->woken);
    (void)pthread_mutex_unlock(&watch->lock);
    (void)pthread_join(watch->thread, NULL);
    (void)pthread_mutex_destroy(&watch->lock);
    (void)pthread_cond_destroy(&watch->woken);
    free(watch->mail_dir);
    free(watch);
}
