/* SPDX-License-Identifier: MIT */
/* Try it: the record of a form on a copy of the store, and what it would move. Nothing is kept. */
#include <string.h>

#include "app/app_changes.h"
#include "app/app_plan.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/say_page.h"

#include "base/banned.h"

enum { RECORD_JSON_MAX = 65536 };

static enum status try_form(struct app_try *out, struct form_post *post, struct app_view *view,
                            struct http_request *request, const struct job *job)
{
    struct text json = TEXT_UP_TO(RECORD_JSON_MAX);
    text_add_z(&json, "{\"records\":[");
    enum status status = form_record_json(&json, post->fields, post->count, job, request->now_s,
                                          &post->said, &post->faults);
    text_add_z(&json, "]}");
    if (status == STATUS_OK) status = text_status(&json);
    if (status == STATUS_OK)
        status = app_try(out, view, job->id, text_z(&json), json.length, request->now_s,
                         request->arena, &post->faults);
    text_free(&json);
    return status;
}

static void answer(struct http_request *request, struct http_reply *reply,
                   const struct app_try *tried, struct app_view *view, struct faults *faults)
{
    const struct job_moves *moves = NULL;
    size_t count = 0;
    const struct job_plan *job = app_plan_find(tried->after, request->match.captures[0]);
    const enum status status =
        app_changes_between(&moves, &count, tried->before, tried->after, request->arena, faults);
    if (status != STATUS_OK || job == NULL) {
        reply_status(request, reply, status != STATUS_OK ? status : STATUS_NOT_FOUND, faults);
        return;
    }
    struct page page;
    say_page(&page, request, reply, &app_view_case(view)->company, tried->after->casefile->now_s);
    html_try(&reply->body, &page, job, moves, count);
    reply_page(reply, 200);
}

void h_page_try(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    struct app_view *view = NULL;
    struct app_try tried = {NULL, NULL};
    enum status status = form_post_read(&post, request);
    if (status == STATUS_OK) status = app_view_take(&view, request->tools->app, &post.faults);
    const struct job *job =
        status == STATUS_OK ? app_view_job(view, request->match.captures[0]) : NULL;
    if (status == STATUS_OK && job == NULL) {
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    } else {
        if (status == STATUS_OK) status = try_form(&tried, &post, view, request, job);
        if (status == STATUS_OK)
            answer(request, reply, &tried, view, &post.faults);
        else if (status == STATUS_INVALID || status == STATUS_CONFLICT)
            reply_problem(request, reply, PROBLEM_FORM, NULL, &post.faults);
        else
            reply_status(request, reply, status, &post.faults);
    }
    app_view_release(view);
    form_post_free(&post);
}
