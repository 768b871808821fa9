/* SPDX-License-Identifier: MIT */
/*
 * What a link opens: the crew's day and its records, the homeowner's page. A token that is unknown,
 * misspelt or taken back is told in one way, with whom to call.
 */
#include <string.h>
#include <strings.h>

#include "app/app_crew.h"
#include "app/app_link.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/limits.h"
#include "http/link_open.h"
#include "http/plans.h"
#include "http/reply_added.h"
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

/* Whose phones the crew has, for the tap that signs: the one that asks first, each name once. */
static void name_phones(struct page *page, struct http_request *request, const struct crew *crew)
{
    struct faults faults = {0};
    const struct app_link *links = NULL;
    size_t count = 0;
    if (app_link_list(&links, &count, request->tools->app, request->arena, &faults) != STATUS_OK) {
        faults_free(&faults); /* a name can be typed */
        return;
    }
    const char **names = ARENA_TAKE(request->arena, HTTP_CREW_NAMES_MAX, const char *);
    size_t found = 0;
    for (size_t i = 0; names != NULL && i < count && found < HTTP_CREW_NAMES_MAX; i++) {
        const struct app_link *link = &links[i];
        if (link->kind != APP_LINK_CREW || link->phone == NULL || link->revoked_s != INSTANT_NONE ||
            strcmp(link->target, crew->id) != 0)
            continue;
        names[found++] = link->phone;
        if (strcmp(link->token, request->match.captures[0]) != 0) continue;
        names[found - 1] = names[0];
        names[0] = link->phone;
    }
    page->names = names;
    page->name_count = found;
}

static void write_crew_page(struct http_request *request, struct http_reply *reply,
                            const struct plans_entry *entry, const struct crew *crew,
                            const struct form_echo *echo)
{
    struct page page;
    page_of(&page, request, reply, entry);
    page.path = crew_path(request);
    page.echo = echo;
    name_phones(&page, request, crew);
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

/* The job that is spoken of; NULL when it is not one of that crew's. */
static const struct job_plan *job_of(const char *id, const struct plan *plan,
                                     const struct crew *crew)
{
    const struct job_plan *job = id == NULL ? NULL : app_plan_find(plan, id);
    return job != NULL && today_crew_has(plan, crew->id, job->job) ? job : NULL;
}

static void deny(struct http_request *request, struct http_reply *reply, const struct job_plan *job)
{
    reply_problem(request, reply, PROBLEM_DENIED,
                  job == NULL ? "not a job of this crew" : "only the owner records this", NULL);
}

/* --- as a form: a page without its script ------------------------------------------------------
 */

/* Passing what nobody called done says both: the finish, then that its checks were made. */
static enum status store_done(struct form_post *post, struct http_request *request,
                              const struct job_plan *job)
{
    const char *kind = form_field_value(post->fields, post->count, "kind");
    const char *id = form_field_value(post->fields, post->count, "done_id");
    if (kind == NULL || strcmp(kind, "passed") != 0 || id == NULL) return STATUS_OK;
    static const char *const kept[] = {"task", "by", "at", "at_local"};
    struct form_field fields[sizeof kept / sizeof *kept + 2] = {{"kind", "done"}, {"id", id}};
    size_t count = 2;
    for (size_t i = 0; i < sizeof kept / sizeof *kept; i++) {
        const char *value = form_field_value(post->fields, post->count, kept[i]);
        if (value != NULL) fields[count++] = (struct form_field){kept[i], value};
    }
    struct form_post done = {.fields = fields, .count = count};
    const enum status status = form_post_store(&done, request, job, request->who.name);
    if (status != STATUS_OK) post->faults = done.faults;
    return status;
}

static void store_form(struct http_request *request, struct http_reply *reply,
                       const struct plans_entry *entry, const struct crew *crew,
                       struct form_post *post)
{
    const char *id = form_field_value(post->fields, post->count, "job");
    const struct job_plan *job = job_of(id, plans_plan(entry), crew);
    const char *kind = form_field_value(post->fields, post->count, "kind");
    if (job == NULL || (kind != NULL && !app_crew_may_kind(kind))) {
        deny(request, reply, job);
        return;
    }
    enum status status = store_done(post, request, job);
    if (status == STATUS_OK) status = form_post_store(post, request, job, request->who.name);
    if (status == STATUS_OK) {
        form_post_sent(post, request, reply, crew_path(request));
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT) {
        const struct form_echo echo = form_post_echo(post, job->job->id);
        write_crew_page(request, reply, entry, crew, &echo);
    } else {
        reply_status(request, reply, status, &post->faults);
    }
}

static void take_form(struct http_request *request, struct http_reply *reply,
                      const struct plans_entry *entry, const struct crew *crew)
{
    struct form_post post;
    const enum status status = form_post_read(&post, request);
    if (status == STATUS_OK) {
        store_form(request, reply, entry, crew, &post);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
}

/* --- as JSON: a phone that sends what it kept --------------------------------------------------
 */

static void take_json(struct http_request *request, struct http_reply *reply,
                      const struct plans_entry *entry, const struct crew *crew)
{
    const struct job_plan *job = job_of(request_query(request, "job"), plans_plan(entry), crew);
    if (job == NULL ||
        !app_crew_may(text_z(&request->body), request->body.length, job->job, crew->id)) {
        deny(request, reply, job);
        return;
    }
    struct faults faults = {0};
    const struct app_added *added = NULL;
    size_t count = 0;
    const enum status status = app_records_add(
        &added, &count, request->tools->app, job->job->id, text_z(&request->body),
        request->body.length, request->who.name, request->now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    reply_added(reply, added, count);
}

void h_crew_record(struct http_request *request, struct http_reply *reply)
{
    const char *type = request_header(request, "Content-Type");
    const bool json = type != NULL && strncasecmp(type, "application/json", 16) == 0;
    if (json) request->match.face = HTTP_FACE_JSON; /* a script reads the answer */
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    if (json)
        take_json(request, reply, entry, crew);
    else
        take_form(request, reply, entry, crew);
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
