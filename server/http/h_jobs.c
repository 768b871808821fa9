/* SPDX-License-Identifier: MIT */
/* Jobs and their records, as JSON. Everything checks itself in the app layer; here it is only told.
 */
#include <string.h>

#include "app/app_job.h"
#include "app/app_record.h"
#include "app/app_view.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/may.h"
#include "http/plans.h"
#include "http/reply_added.h"

#include "base/banned.h"

/* A part of a path; in the arena of the request. */
static const char *job_path(struct http_request *request, const char *id)
{
    struct text path = TEXT_UP_TO(HTTP_TARGET_BYTES_MAX);
    text_add_z(&path, "/api/v1/jobs/");
    urlencoded_add(&path, id);
    const char *out = arena_copy(request->arena, text_z(&path), path.length);
    text_free(&path);
    return out;
}

void h_jobs_list(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct app_view *view = NULL;
    enum status status = app_view_take(&view, request->tools->app, &faults);
    if (status == STATUS_OK) {
        reply_tag(reply, "g%llu-%s", (unsigned long long)app_view_generation(view),
                  request->tools->boot);
        app_view_release(view);
        if (reply_not_modified(request, reply)) return;
        status = app_jobs_list(&reply->body, request->tools->app, &faults);
    }
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    reply_json(reply, 200);
}

/* The office writes most kinds of record; the owner's it may not, nor take back or change one.
 * @param job_id  Whose records may be corrected; NULL: a new job has none. */
static enum status office_may(struct http_request *request, const char *job_id,
                              struct faults *faults)
{
    if (request->who.role != APP_ROLE_OFFICE) return STATUS_OK;
    uint64_t kinds = 0, corrected = 0;
    enum status status =
        app_records_kinds(&kinds, text_z(&request->body), request->body.length, faults);
    if (status == STATUS_OK && job_id != NULL)
        status = app_records_corrected(&corrected, request->tools->app, job_id,
                                       text_z(&request->body), request->body.length, faults);
    if (status != STATUS_OK || ((kinds | corrected) & may_owner_kinds()) == 0) return status;
    (void)faults_add(faults, "kind", "a kind that the office may write",
                     "one that is the owner's: agreed, accepted, engineer or overridden");
    return STATUS_DENIED;
}

void h_jobs_create(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct text id = TEXT_UP_TO(4 * ID_BYTES_MAX);
    int64_t version = 0;
    bool created = false;
    enum status status = office_may(request, NULL, &faults);
    if (status == STATUS_OK)
        status =
            app_job_create(&id, &version, &created, request->tools->app, text_z(&request->body),
                           request->body.length, request->who.name, request->now_s, &faults);
    if (status == STATUS_OK) status = text_status(&id);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        text_free(&id);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_put_bytes(&json, "id", text_z(&id), id.length);
    json_put_integer(&json, "version", version);
    json_put_bool(&json, "created", created);
    json_close(&json);
    reply_json(reply, created ? 201 : 200);
    reply_tag(reply, "v%lld", (long long)version);
    reply->location = job_path(request, text_z(&id));
    text_free(&id);
}

void h_job_get(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    int64_t version = 0;
    const enum status status = app_job_get(&reply->body, &version, request->tools->app,
                                           request->match.captures[0], &faults);
    reply_versioned(request, reply, status, version, &faults);
}

void h_job_patch(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    int64_t expected = APP_VERSION_ANY;
    int64_t version = 0;
    const enum match_kind match = request_if_match(request, &expected);
    if (match == MATCH_ABSENT) {
        reply_problem(request, reply, PROBLEM_PRECONDITION_REQUIRED,
                      "send If-Match with the ETag of the job that was changed", NULL);
        return;
    }
    if (match == MATCH_NEVER) {
        reply_problem(request, reply, PROBLEM_PRECONDITION_FAILED, NULL, NULL);
        return;
    }
    const enum status status = app_job_patch(
        &reply->body, &version, request->tools->app, request->match.captures[0], expected,
        text_z(&request->body), request->body.length, request->now_s, &faults);
    if (status == STATUS_CONFLICT) {
        reply_problem(request, reply, PROBLEM_PRECONDITION_FAILED, NULL, &faults);
        faults_free(&faults);
        return;
    }
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    reply_json(reply, 200);
    reply_tag(reply, "v%lld", (long long)version);
}

void h_records_list(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    int64_t version = 0;
    const enum status status = app_records_list(&reply->body, &version, request->tools->app,
                                                request->match.captures[0], &faults);
    reply_versioned(request, reply, status, version, &faults);
}

void h_records_add(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const struct app_added *added = NULL;
    size_t count = 0;
    enum status status = office_may(request, request->match.captures[0], &faults);
    if (status == STATUS_OK)
        status = app_records_add(&added, &count, request->tools->app, request->match.captures[0],
                                 text_z(&request->body), request->body.length, request->who.name,
                                 request->now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    reply_added(reply, added, count);
}
