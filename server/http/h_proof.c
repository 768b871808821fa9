/* SPDX-License-Identifier: MIT */
/* Paper that the owner hands out or keeps: the proof file of a job, a letter to its homeowner. */
#include <string.h>

#include "app/app_link.h"
#include "app/app_mail.h"
#include "app/app_photo.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

/* The plan and the job of the path; NULL after the fault was told. */
static const struct job_plan *take(struct plans_entry **entry, struct http_request *request,
                                   struct http_reply *reply, struct page *page)
{
    struct faults faults = {0};
    const enum status status = plans_take(entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return NULL;
    }
    const struct casefile *casefile = plans_plan(*entry)->casefile;
    const struct job_plan *job = app_plan_find(plans_plan(*entry), request->match.captures[0]);
    if (job != NULL) {
        say_page(page, request, reply, &casefile->company, casefile->now_s);
        return job;
    }
    reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    plans_release(*entry);
    return NULL;
}

static enum status take_marks(struct proof *proof, struct http_request *request, const char *job_id,
                              struct faults *faults)
{
    const struct app_mark *marks = NULL;
    size_t count = 0;
    struct app_mark *tip = ARENA_TAKE(request->arena, 1, struct app_mark);
    if (tip == NULL) return STATUS_LIMIT;
    const enum status status =
        app_record_marks(&marks, &count, tip, request->tools->app, job_id, request->arena, faults);
    if (status != STATUS_OK) return status;
    struct proof_mark *out = ARENA_TAKE(request->arena, count, struct proof_mark);
    if (out == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < count; i++) {
        out[i] = (struct proof_mark){.record_id = marks[i].record_id, .seq = marks[i].seq};
        memcpy(out[i].hash, marks[i].hash, sizeof out[i].hash);
    }
    proof->marks = out;
    proof->mark_count = count;
    proof->tip_seq = tip->seq;
    proof->tip_hash = tip->hash;
    return STATUS_OK;
}

static enum status take_photos(struct proof *proof, struct http_request *request,
                               const char *job_id, struct faults *faults)
{
    const struct app_photo *photos = NULL;
    size_t count = 0;
    const enum status status =
        app_photo_list(&photos, &count, request->tools->app, job_id, request->arena, faults);
    if (status != STATUS_OK) return status;
    struct proof_photo *out = ARENA_TAKE(request->arena, count, struct proof_photo);
    if (out == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < count; i++)
        out[i] = (struct proof_photo){.id = photos[i].id,
                                      .who = photos[i].who,
                                      .sha256 = photos[i].sha256,
                                      .taken_s = photos[i].taken_s,
                                      .received_s = photos[i].received_s,
                                      .width = photos[i].width,
                                      .height = photos[i].height};
    proof->photos = out;
    proof->photo_count = count;
    return STATUS_OK;
}

static enum status take_sent(struct proof *proof, struct http_request *request, const char *job_id,
                             struct faults *faults)
{
    const struct app_mail *mails = NULL;
    size_t count = 0;
    const enum status status =
        app_mail_list(&mails, &count, request->tools->app, job_id, request->arena, faults);
    if (status != STATUS_OK) return status;
    struct tell_sent *out = ARENA_TAKE(request->arena, count, struct tell_sent);
    if (out == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < count; i++) {
        if (mails[i].alarm) continue;
        out[proof->sent_count++] = (struct tell_sent){
            mails[i].made_s, mails[i].sent_s, mails[i].receiver, mails[i].subject, mails[i].body};
    }
    proof->sent = out;
    return STATUS_OK;
}

void h_proof(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    struct page page;
    const struct job_plan *job = take(&entry, request, reply, &page);
    if (job == NULL) return;
    struct proof proof = {0};
    enum status status = take_marks(&proof, request, job->job->id, &faults);
    if (status == STATUS_OK) status = take_photos(&proof, request, job->job->id, &faults);
    if (status == STATUS_OK) status = take_sent(&proof, request, job->job->id, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
    } else {
        html_proof(&reply->body, &page, job, &proof);
        reply_page(reply, 200);
    }
    plans_release(entry);
}

static const char *home_token(struct http_request *request, const char *job_id)
{
    const struct app_link *links = NULL;
    size_t count = 0;
    if (app_link_list(&links, &count, request->tools->app, request->arena, NULL) != STATUS_OK)
        return NULL;
    for (size_t i = 0; i < count; i++)
        if (links[i].kind == APP_LINK_HOMEOWNER && links[i].revoked_s == INSTANT_NONE &&
            strcmp(links[i].target, job_id) == 0)
            return links[i].token;
    return NULL;
}

void h_letter(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    struct page page;
    const struct job_plan *job = take(&entry, request, reply, &page);
    if (job == NULL) return;
    if (request_query(request, "lang") == NULL) /* theirs, not the office's */
        page.words = request->tools->words[job->job->homeowner_language];
    html_letter(&reply->body, &page, job, home_token(request, job->job->id));
    reply_page(reply, 200);
    plans_release(entry);
}

void h_fire_sheet(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    struct page page;
    const struct job_plan *job = take(&entry, request, reply, &page);
    if (job == NULL) return;
    if (request_query(request, "lang") == NULL)
        page.words = request->tools->words[job->job->homeowner_language];
    html_fire_sheet(&reply->body, &page, job);
    reply_page(reply, 200);
    plans_release(entry);
}
