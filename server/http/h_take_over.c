/* SPDX-License-Identifier: MIT */
/* A job taken over half built: the API's body and the owner's page go the same way. */
#include <string.h>

#include "app/app_plan.h"
#include "app/app_take_over.h"
#include "base/json.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"
#include "views/form_take_over.h"

#include "base/banned.h"

enum { TAKE_OVER_JSON_MAX = 1 << 16 };

static void put_stored(struct json *json, const struct app_added *added, size_t count)
{
    static const char *const lists[] = {"ids", "stored", "known"};
    json_open_object(json, NULL);
    for (size_t list = 0; list < 3; list++) {
        json_open_array(json, lists[list]);
        for (size_t i = 0; i < count; i++)
            if (list == 0 || added[i].created == (list == 1))
                json_put_text(json, NULL, added[i].id);
        json_close(json);
    }
    json_close(json);
}

void h_take_over(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const struct app_added *added = NULL;
    size_t count = 0;
    const enum status status = app_take_over(
        &added, &count, request->tools->app, request->match.captures[0], text_z(&request->body),
        request->body.length, request->who.name, request->now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    bool created = false;
    for (size_t i = 0; i < count; i++) created = created || added[i].created;
    struct json json = {.text = &reply->body};
    put_stored(&json, added, count);
    reply_json(reply, created ? 201 : 200);
}

/* The page, with what was typed when the form was refused. */
static void write_page(struct http_request *request, struct http_reply *reply,
                       const struct plans_entry *entry, const struct job_plan *job,
                       const struct form_echo *echo)
{
    const struct casefile *casefile = plans_plan(entry)->casefile;
    struct page page;
    say_page(&page, request, reply, &casefile->company, casefile->now_s);
    page.echo = echo;
    html_take_over(&reply->body, &page, job);
    reply_page(reply, echo == NULL ? 200 : 422);
}

static const struct job_plan *take_job(struct plans_entry **entry, struct http_request *request,
                                       struct http_reply *reply)
{
    struct faults faults = {0};
    const enum status status = plans_take(entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return NULL;
    }
    const struct job_plan *job = app_plan_find(plans_plan(*entry), request->match.captures[0]);
    if (job != NULL) return job;
    reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    plans_release(*entry);
    *entry = NULL;
    return NULL;
}

void h_page_take_over(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    write_page(request, reply, entry, job, NULL);
    plans_release(entry);
}

/* The form's own reader names fields; what the body's reader still finds belongs to no one field.
 */
static void rename_faults(struct form_post *post)
{
    for (size_t i = 0; i < post->faults.count; i++)
        if (strchr(post->faults.items[i].path, '[') != NULL) post->faults.items[i].path[0] = '\0';
}

void h_page_take_over_post(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    struct form_post post;
    struct text json = TEXT_UP_TO(TAKE_OVER_JSON_MAX);
    const struct app_added *added = NULL;
    size_t count = 0;
    enum status status = form_post_read(&post, request);
    if (status == STATUS_OK)
        status = form_take_over_json(&json, post.fields, post.count, &post.faults);
    if (status == STATUS_OK)
        status = app_take_over(&added, &count, request->tools->app, job->job->id, text_z(&json),
                               json.length, request->who.name, request->now_s, request->arena,
                               &post.faults);
    if (status == STATUS_OK) {
        plans_wrote(request->tools->plans, request->now_s);
        const char *path = request_path(request);
        const char *page = arena_copy(request->arena, path, strlen(path) - strlen("/take-over"));
        form_post_sent(&post, request, reply, page == NULL ? "/" : page);
    } else if (post.fields != NULL && (status == STATUS_INVALID || status == STATUS_CONFLICT)) {
        rename_faults(&post);
        const struct form_echo echo = form_post_echo(&post, job->job->id);
        write_page(request, reply, entry, job, &echo);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    text_free(&json);
    form_post_free(&post);
    plans_release(entry);
}
