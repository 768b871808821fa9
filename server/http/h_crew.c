/* SPDX-License-Identifier: MIT */
/*
 * What a link opens: the crew's day and its records, the homeowner's page. A token that is unknown,
 * misspelt or taken back is told in one way, with whom to call.
 */
#include <string.h>

#include "app/app_link.h"
#include "app/app_plan.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/link_open.h"
#include "http/plans.h"
#include "http/say_page.h"
#include "http/today.h"

#include "base/banned.h"

static const char *crew_path(struct http_request *request)
{
    const char *path = arena_print(request->arena, "/c/%s", request->match.captures[0]);
    return path == NULL ? "/" : path;
}

static void page_of(struct page *out, struct http_request *request, struct http_reply *reply,
                    const struct plans_entry *entry)
{
    const struct casefile *casefile = plans_plan(entry)->casefile;
    say_page(out, request, reply, &casefile->company, casefile->now_s);
}

static void write_crew_page(struct http_request *request, struct http_reply *reply,
                            const struct plans_entry *entry, const struct crew *crew,
                            const struct form_echo *echo)
{
    struct page page;
    page_of(&page, request, reply, entry);
    page.path = crew_path(request);
    page.echo = echo;
    html_crew(&reply->body, &page, plans_plan(entry), crew, request->match.captures[0]);
    reply_page(reply, echo == NULL ? 200 : 422);
}

void h_crew(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    write_crew_page(request, reply, entry, crew, NULL);
    plans_release(entry);
}

void h_crew_sheet(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    struct page page;
    page_of(&page, request, reply, entry);
    html_day_sheet(&reply->body, &page, plans_plan(entry), crew, NULL);
    reply_page(reply, 200);
    plans_release(entry);
}

/* The job a crew's form speaks of; NULL when it is not one of that crew's. */
static const struct job_plan *job_of_form(const struct form_post *post, const struct plan *plan,
                                          const struct crew *crew)
{
    const char *id = form_field_value(post->fields, post->count, "job");
    const struct job_plan *job = id == NULL ? NULL : app_plan_find(plan, id);
    return job != NULL && today_crew_has(plan, crew->id, job->job) ? job : NULL;
}

/* What a crew may write down: what happened. Dates, overrides and sheets are the owner's. */
static bool crew_may(const struct form_post *post)
{
    static const char *const owners[] = {"agreed", "held-date", "accepted", "engineer",
                                         "overridden"};
    const char *kind = form_field_value(post->fields, post->count, "kind");
    for (size_t i = 0; kind != NULL && i < sizeof owners / sizeof *owners; i++) {
        if (strcmp(kind, owners[i]) == 0) return false;
    }
    return true;
}

static void store(struct http_request *request, struct http_reply *reply,
                  const struct plans_entry *entry, const struct crew *crew, struct form_post *post)
{
    const struct job_plan *job = job_of_form(post, plans_plan(entry), crew);
    if (job == NULL || !crew_may(post)) {
        reply_problem(request, reply, PROBLEM_DENIED,
                      job == NULL ? "not a job of this crew" : "only the owner records this", NULL);
        return;
    }
    const enum status status = form_post_store(post, request, job, crew->id);
    if (status == STATUS_OK) {
        form_post_sent(post, request, reply, crew_path(request));
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT) {
        const struct form_echo echo = form_post_echo(post, job->job->id);
        write_crew_page(request, reply, entry, crew, &echo);
    } else {
        reply_status(request, reply, status, &post->faults);
    }
}

void h_crew_record(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    struct form_post post;
    const enum status status = form_post_read(&post, request);
    if (status == STATUS_OK) {
        store(request, reply, entry, crew, &post);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
    plans_release(entry);
}

void h_home(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const char *job_id = NULL;
    if (!link_open(&entry, &job_id, request, reply, APP_LINK_HOMEOWNER)) return;
    const struct job_plan *job = app_plan_find(plans_plan(entry), job_id);
    if (job == NULL) {
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    } else {
        struct page page;
        page_of(&page, request, reply, entry);
        html_home(&reply->body, &page, job);
        reply_page(reply, 200);
    }
    plans_release(entry);
}
