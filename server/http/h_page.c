/* SPDX-License-Identifier: MIT */
/* The owner's pages: the yard, a job, its forms, its tag and its sheet of paper. */
#include <string.h>

#include "app/app_link.h"
#include "app/app_plan.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/may.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

/* The plan and the job's row of it; NULL after the fault was told. */
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

static void page_of(struct page *out, struct http_request *request, struct http_reply *reply,
                    const struct plans_entry *entry)
{
    const struct casefile *casefile = plans_plan(entry)->casefile;
    say_page(out, request, reply, &casefile->company, casefile->now_s);
}

/* Path of the job's own page: the request's, without what follows the id. */
static const char *job_page_path(struct http_request *request)
{
    const char *path = request_path(request);
    const char *id = path + strlen("/jobs/");
    const char *out = arena_copy(request->arena, path, strlen("/jobs/") + strcspn(id, "/"));
    return out == NULL ? "/" : out;
}

/* Open links of a job, for its page; a store that cannot tell gives none. */
static struct job_links links_of(struct http_request *request, const struct job *job)
{
    struct job_links out = {NULL, NULL};
    const struct app_link *links = NULL;
    size_t count = 0;
    if (app_link_list(&links, &count, request->tools->app, request->arena, NULL) != STATUS_OK)
        return out;
    for (size_t i = 0; i < count; i++) {
        if (links[i].revoked_s != INSTANT_NONE) continue;
        if (links[i].kind == APP_LINK_HOMEOWNER && strcmp(links[i].target, job->id) == 0)
            out.home_token = links[i].token;
        if (links[i].kind == APP_LINK_CREW && job->crew_id != NULL &&
            strcmp(links[i].target, job->crew_id) == 0)
            out.crew_token = links[i].token;
    }
    return out;
}

/* Alarms are kept aside of what the generation counts: a page that shows them has their print in
 * its tag. FNV-1a over what is shown of each. */
static uint64_t alarms_print(const struct alarm_list *list)
{
    uint64_t print = UINT64_C(14695981039346656037);
    for (size_t i = 0; list != NULL && i < list->count; i++) {
        const struct alarm *alarm = &list->items[i];
        const int64_t shown[] = {alarm->number, alarm->due_s, alarm->over_s, alarm->seen_s};
        for (size_t k = 0; k < sizeof shown / sizeof *shown; k++)
            print = (print ^ (uint64_t)shown[k]) * UINT64_C(1099511628211);
    }
    return print;
}

typedef void morning(struct text *out, const struct page *page, const struct plan *plan,
                     const struct date_change *changes, size_t change_count);

static void show_morning(struct http_request *request, struct http_reply *reply, morning *write,
                         char kind)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    const struct date_change *changes = NULL;
    size_t change_count = 0;
    enum status status = plans_take(&entry, request, &faults);
    if (status == STATUS_OK)
        status = plans_changes(&changes, &change_count, request, entry, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
    } else {
        struct page page;
        page_of(&page, request, reply, entry);
        write(&reply->body, &page, plans_plan(entry), changes, change_count);
        reply_page(reply, 200);
        const struct plans_key key = plans_key_of(entry);
        reply_tag(reply, "%c%llu-%lld-%llx-%s-%s-%.6s", kind, (unsigned long long)key.generation,
                  (long long)key.now_s, (unsigned long long)alarms_print(page.alarms),
                  words_language(page.words), request->tools->boot, request->who.csrf);
        if (page.notice == WORD_COUNT) (void)reply_not_modified(request, reply);
    }
    plans_release(entry);
}

void h_page_today(struct http_request *request, struct http_reply *reply)
{
    show_morning(request, reply, html_today, 'h');
}

void h_page_yard(struct http_request *request, struct http_reply *reply)
{
    show_morning(request, reply, html_yard, 'y');
}

static void write_job_page(struct http_request *request, struct http_reply *reply,
                           const struct plans_entry *entry, const struct job_plan *job,
                           const struct form_echo *echo)
{
    struct page page;
    page_of(&page, request, reply, entry);
    page.path = job_page_path(request);
    page.echo = echo;
    const struct job_links links = links_of(request, job->job);
    struct faults faults = {0};
    const struct job_plan *drawn = job;
    const enum status status =
        app_plan_pictures(&drawn, plans_view(entry), job, page.now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    html_job(&reply->body, &page, plans_plan(entry), drawn, &links);
    reply_page(reply, echo == NULL ? 200 : 422);
}

void h_page_job(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    write_job_page(request, reply, entry, job, NULL);
    plans_release(entry);
}

static void post_form(struct http_request *request, struct http_reply *reply, const char *kind)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    struct form_post post;
    enum status status = form_post_read(&post, request);
    for (size_t i = 0; kind != NULL && i < post.count; i++) {
        if (strcmp(post.fields[i].name, "kind") == 0) post.fields[i].value = kind;
    }
    const char *posted = form_field_value(post.fields, post.count, "kind");
    if (status == STATUS_OK && request->who.role == APP_ROLE_OFFICE && posted != NULL &&
        !may_office_record(posted)) {
        reply_problem(request, reply, PROBLEM_DENIED, "only the owner records this", NULL);
        form_post_free(&post);
        plans_release(entry);
        return;
    }
    if (status == STATUS_OK) status = form_post_store(&post, request, job, request->who.name);
    if (status == STATUS_OK) {
        form_post_sent(&post, request, reply, job_page_path(request));
    } else if (post.fields != NULL && (status == STATUS_INVALID || status == STATUS_CONFLICT)) {
        const struct form_echo echo = form_post_echo(&post, job->job->id);
        write_job_page(request, reply, entry, job, &echo);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
    plans_release(entry);
}

void h_page_job_record(struct http_request *request, struct http_reply *reply)
{
    post_form(request, reply, NULL);
}

void h_page_job_agree(struct http_request *request, struct http_reply *reply)
{
    post_form(request, reply, "agreed");
}

/* Whom a link of the job's page is for; NULL after the fault was told. */
static const char *link_target(enum app_link_kind *kind, const struct form_post *post,
                               const struct job *job, struct faults *faults)
{
    const char *name = form_field_value(post->fields, post->count, "kind");
    if (name != NULL && strcmp(name, "homeowner") == 0) {
        *kind = APP_LINK_HOMEOWNER;
        return job->id;
    }
    if (name != NULL && strcmp(name, "crew") == 0 && job->crew_id != NULL) {
        *kind = APP_LINK_CREW;
        return job->crew_id;
    }
    (void)faults_add(faults, "kind", "homeowner, or crew at a job that has one", "%s",
                     name == NULL ? "nothing" : name);
    return NULL;
}

/* Make the link of a page to hand out, or with `off` switch it off: the old address is dead then.
 */
void h_page_job_link(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    struct form_post post;
    enum app_link_kind kind = APP_LINK_HOMEOWNER;
    enum status status = form_post_read(&post, request);
    const char *target =
        status == STATUS_OK ? link_target(&kind, &post, job->job, &post.faults) : NULL;
    if (status == STATUS_OK && target == NULL) status = STATUS_INVALID;
    if (status == STATUS_OK && form_field_value(post.fields, post.count, "off") != NULL) {
        status = app_link_revoke(request->tools->app, kind, target, request->now_s, &post.faults);
    } else if (status == STATUS_OK) {
        struct app_link link;
        status =
            app_link_make(&link, request->tools->app, kind, target, request->now_s, &post.faults);
    }
    if (status == STATUS_OK)
        form_post_sent(&post, request, reply, job_page_path(request));
    else
        reply_status(request, reply, status, &post.faults);
    form_post_free(&post);
    plans_release(entry);
}

void h_page_tag(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    struct page page;
    page_of(&page, request, reply, entry);
    struct words *const *words = request->tools->words;
    const struct words *second = page.words == words[0] ? words[1] : words[0];
    const struct job_links links = links_of(request, job->job);
    html_tag(&reply->body, &page, second, job, links.home_token);
    reply_page(reply, 200);
    plans_release(entry);
}

void h_page_job_sheet(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct job_plan *job = take_job(&entry, request, reply);
    if (job == NULL) return;
    struct page page;
    page_of(&page, request, reply, entry);
    html_day_sheet(&reply->body, &page, plans_plan(entry), NULL, job);
    reply_page(reply, 200);
    plans_release(entry);
}
