/* SPDX-License-Identifier: MIT */
/* A message to a homeowner: drafted, read by the owner, and then put into the queue. */
#include <string.h>

#include "app/app_link.h"
#include "app/app_mail.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"
#include "http/serve.h"
#include "http/watch.h"
#include "views/mail.h"

#include "base/banned.h"

static const char *home_url(struct http_request *request, const char *job_id)
{
    const struct app_link *links = NULL;
    size_t count = 0;
    if (app_link_list(&links, &count, request->tools->app, request->arena, NULL) != STATUS_OK)
        return NULL;
    for (size_t i = 0; i < count; i++) {
        if (links[i].kind != APP_LINK_HOMEOWNER || links[i].revoked_s != INSTANT_NONE ||
            strcmp(links[i].target, job_id) != 0)
            continue;
        return arena_print(request->arena, "%s/h/%s", request_base_url(request), links[i].token);
    }
    return NULL;
}

static enum status sent_before(struct tell *tell, struct http_request *request, const char *job_id,
                               struct faults *faults)
{
    const struct app_mail *mails = NULL;
    size_t count = 0;
    enum status status =
        app_mail_list(&mails, &count, request->tools->app, job_id, request->arena, faults);
    struct tell_sent *sent =
        status == STATUS_OK ? ARENA_TAKE(request->arena, count, struct tell_sent) : NULL;
    if (status != STATUS_OK) return status;
    if (sent == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < count; i++) {
        if (mails[i].alarm) continue;
        sent[tell->sent_count++] = (struct tell_sent){
            mails[i].made_s, mails[i].sent_s, mails[i].receiver, mails[i].subject, mails[i].body};
    }
    tell->sent = sent;
    return STATUS_OK;
}

/* The page, with the draft of now or, `post` given, what was typed and why it was not taken. */
static void write_page(struct http_request *request, struct http_reply *reply,
                       const struct plans_entry *entry, const struct job_plan *job,
                       const struct form_post *post)
{
    const struct casefile *casefile = plans_plan(entry)->casefile;
    const struct company *company = &casefile->company;
    struct faults faults = {0};
    struct mail_draft draft;
    struct page page;
    char id[APP_ID_TEXT_MAX];
    app_new_id(id);
    say_page(&page, request, reply, company, casefile->now_s);
    mail_draft_home(&draft, request->tools->words[job->job->homeowner_language], company, job,
                    casefile->now_s, home_url(request, job->job->id));
    struct tell tell = {.id = id,
                        .receiver = job->job->homeowner_mail,
                        .subject = text_z(&draft.subject),
                        .body = text_z(&draft.body),
                        .can_send =
                            company->mail_from != NULL && watch_sends(request->server->watch)};
    const enum status status = sent_before(&tell, request, job->job->id, &faults);
    if (post != NULL) {
        const char *subject = form_field_value(post->fields, post->count, "subject");
        const char *body = form_field_value(post->fields, post->count, "body");
        if (subject != NULL) tell.subject = subject;
        if (body != NULL) tell.body = body;
        if (post->faults.count > 0) tell.wrong = &post->faults.items[0];
    }
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
    } else {
        html_tell(&reply->body, &page, job, &tell);
        reply_page(reply, post == NULL ? 200 : 422);
    }
    faults_free(&faults);
    mail_draft_free(&draft);
}

/* The plan and the job of the path; NULL after the fault was told. */
static const struct job_plan *take(struct plans_entry **entry, struct http_request *request,
                                   struct http_reply *reply)
{
    struct faults faults = {0};
    const enum status status = plans_take(entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return NULL;
    }
    const struct job_plan *job = app_plan_find(plans_plan(*entry), request->match.captures[0]);
    if (job == NULL) {
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
        plans_release(*entry);
        *entry = NULL;
    }
    return job;
}

void h_tell(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take(&entry, request, reply);
    if (job == NULL) return;
    write_page(request, reply, entry, job, NULL);
    plans_release(entry);
}

/* A browser sends CRLF; a message has LF until it is written. */
static char *lines(struct arena *arena, const char *text)
{
    char *out = text == NULL ? NULL : arena_copy(arena, text, strlen(text));
    char *to = out;
    for (const char *from = out; from != NULL && *from != '\0'; from++)
        if (*from != '\r') *to++ = *from;
    if (to != NULL) *to = '\0';
    return out;
}

void h_tell_send(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take(&entry, request, reply);
    if (job == NULL) return;
    struct form_post post;
    enum status status = form_post_read(&post, request);
    const char *id = form_field_value(post.fields, post.count, "id");
    if (status == STATUS_OK && (id == NULL || strlen(id) + 1 != APP_ID_TEXT_MAX)) {
        status = faults_add(&post.faults, "id", "a UUID", "%s", id == NULL ? "nothing" : id);
    } else if (status == STATUS_OK) {
        const char *body = form_field_value(post.fields, post.count, "body");
        const struct app_mail mail = {.id = id,
                                      .job_id = job->job->id,
                                      .receiver = job->job->homeowner_mail,
                                      .subject =
                                          form_field_value(post.fields, post.count, "subject"),
                                      .body = lines(request->arena, body),
                                      .made_by = "office"};
        status = app_mail_queue(request->tools->app, &mail, request->now_s, &post.faults);
    }
    if (status == STATUS_OK) {
        watch_wake(request->server->watch);
        form_post_sent(&post, request, reply, request_path(request));
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT || status == STATUS_LIMIT) {
        write_page(request, reply, entry, job, &post);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
    plans_release(entry);
}
