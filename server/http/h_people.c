/* SPDX-License-Identifier: MIT */
/* The owner's page of people and links: one form a deed, each with a word for it in `action`. */
#include <string.h>

#include "app/app_link.h"
#include "app/app_pass.h"
#include "app/app_view.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/say_page.h"
#include "model/record.h"
#include "views/people.h"

#include "base/banned.h"

/* What a posted form says, and what came of it. */
struct deed {
    const char *action;
    const char *name;
    const char *role;
    const char *password;
    const char *crew;
    const char *phone;
    char token[APP_PASS_TEXT_MAX]; /* of a script, to be shown; empty: none */
    struct faults faults;
};

static enum status people_of(struct people *out, struct http_request *request,
                             struct faults *faults)
{
    const struct app_person *people = NULL;
    size_t count = 0;
    enum status status = app_person_list(&people, &count, request->tools->app, request->now_s,
                                         request->arena, faults);
    if (status != STATUS_OK) return status;
    struct people_person *rows = ARENA_TAKE(request->arena, count, struct people_person);
    if (rows == NULL) return STATUS_LIMIT;
    static const enum people_role roles[APP_ROLE_COUNT] = {[APP_ROLE_OWNER] = PEOPLE_OWNER,
                                                           [APP_ROLE_OFFICE] = PEOPLE_OFFICE,
                                                           [APP_ROLE_STATION] = PEOPLE_STATION};
    for (size_t i = 0; i < count; i++) {
        rows[i] = (struct people_person){.name = people[i].name,
                                         .role = roles[people[i].role],
                                         .revoked_s = people[i].revoked_s,
                                         .seen_s = people[i].seen_s,
                                         .sessions = people[i].sessions,
                                         .tokens = people[i].tokens};
    }
    out->people = rows;
    out->person_count = count;
    return STATUS_OK;
}

static enum status links_of(struct people *out, struct http_request *request, struct faults *faults)
{
    const struct app_link *links = NULL;
    size_t count = 0;
    const enum status status =
        app_link_list(&links, &count, request->tools->app, request->arena, faults);
    if (status != STATUS_OK) return status;
    struct people_link *rows = ARENA_TAKE(request->arena, count, struct people_link);
    if (rows == NULL) return STATUS_LIMIT;
    for (size_t i = 0; i < count; i++) {
        if (links[i].kind != APP_LINK_CREW || links[i].revoked_s != INSTANT_NONE) continue;
        rows[out->link_count++] = (struct people_link){.crew_id = links[i].target,
                                                       .phone = links[i].phone,
                                                       .token = links[i].token,
                                                       .made_s = links[i].made_s,
                                                       .seen_s = links[i].seen_s};
    }
    out->links = rows;
    return STATUS_OK;
}

/* The page, after a deed that failed or has something to show, or (deed NULL) by itself. */
static void write_page(struct http_request *request, struct http_reply *reply,
                       const struct deed *deed, bool failed)
{
    struct faults faults = {0};
    struct people people = {.people = NULL};
    struct app_view *view = NULL;
    enum status status = people_of(&people, request, &faults);
    if (status == STATUS_OK) status = links_of(&people, request, &faults);
    if (status == STATUS_OK) status = app_view_take(&view, request->tools->app, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    if (deed != NULL && deed->token[0] != '\0') {
        people.new_token = deed->token;
        people.token_name = deed->name;
    }
    const char *code = request_query(request, "code");
    for (size_t i = 0; code != NULL && i < people.link_count; i++) {
        if (strcmp(people.links[i].token, code) == 0) people.code = &people.links[i];
    }
    if (failed) {
        people.failed_action = deed->action;
        people.typed_name = strcmp(deed->action, "add") == 0 ? deed->name : NULL;
        people.fault = deed->faults.count > 0 ? &deed->faults.items[0] : NULL;
    }
    struct page page;
    say_page(&page, request, reply, &app_view_case(view)->company, request->now_s);
    html_people(&reply->body, &page, &people);
    reply_page(reply, failed ? 422 : 200);
    app_view_release(view);
}

void h_people(struct http_request *request, struct http_reply *reply)
{
    write_page(request, reply, NULL, false);
}

static enum status add(struct http_request *request, struct deed *deed)
{
    enum app_role role;
    if (deed->role == NULL || !app_role_parse(&role, deed->role))
        return faults_add(&deed->faults, "role", "owner, office or station", "%.80s",
                          deed->role == NULL ? "nothing" : deed->role);
    const bool none = role == APP_ROLE_STATION && deed->password[0] == '\0';
    enum status status =
        app_person_add(request->tools->app, deed->name, role, none ? NULL : deed->password,
                       request->now_s, &deed->faults);
    if (status == STATUS_OK && role == APP_ROLE_STATION)
        status = app_pass_new_token(deed->token, request->tools->app, deed->name, request->now_s,
                                    &deed->faults);
    return status;
}

static enum status link_make(struct http_request *request, struct deed *deed)
{
    struct app_link link;
    return app_link_make_for(&link, request->tools->app, APP_LINK_CREW, deed->crew,
                             deed->phone[0] == '\0' ? NULL : deed->phone, request->now_s,
                             &deed->faults);
}

static enum status link_off(struct http_request *request, struct deed *deed)
{
    return app_link_revoke_for(request->tools->app, APP_LINK_CREW, deed->crew,
                               deed->phone[0] == '\0' ? NULL : deed->phone, request->now_s,
                               &deed->faults);
}

static enum status revoke(struct http_request *request, struct deed *deed)
{
    return app_person_revoke(request->tools->app, deed->name, request->now_s, &deed->faults);
}

static enum status sign_out(struct http_request *request, struct deed *deed)
{
    return app_pass_sign_out_everywhere(request->tools->app, deed->name, request->now_s,
                                        &deed->faults);
}

static enum status password(struct http_request *request, struct deed *deed)
{
    return app_person_password(request->tools->app, deed->name, deed->password, request->now_s,
                               &deed->faults);
}

static enum status token(struct http_request *request, struct deed *deed)
{
    return app_pass_new_token(deed->token, request->tools->app, deed->name, request->now_s,
                              &deed->faults);
}

static enum status run(struct http_request *request, struct deed *deed)
{
    static const struct {
        const char *action;
        enum status (*run)(struct http_request *request, struct deed *deed);
    } deeds[] = {{"add", add},           {"revoke", revoke}, {"sign-out", sign_out},
                 {"password", password}, {"token", token},   {"link", link_make},
                 {"link-off", link_off}};
    for (size_t i = 0; i < sizeof deeds / sizeof *deeds; i++) {
        if (strcmp(deeds[i].action, deed->action) == 0) return deeds[i].run(request, deed);
    }
    return faults_add(&deed->faults, "action", "a form of this page", "%.80s", deed->action);
}

static const char *said(const struct form_post *post, const char *field)
{
    const char *value = form_field_value(post->fields, post->count, field);
    return value == NULL ? "" : value;
}

void h_people_change(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    enum status status = form_post_read(&post, request);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &post.faults);
        form_post_free(&post);
        return;
    }
    struct deed deed = {.action = said(&post, "action"),
                        .name = said(&post, "name"),
                        .role = form_field_value(post.fields, post.count, "role"),
                        .password = said(&post, "password"),
                        .crew = said(&post, "crew"),
                        .phone = said(&post, "phone")};
    status = run(request, &deed);
    if (status == STATUS_OK && deed.token[0] == '\0') {
        reply_see_other(reply, "/people?sent=1");
    } else if (status == STATUS_OK) {
        write_page(request, reply, &deed, false);
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT ||
               status == STATUS_NOT_FOUND) {
        write_page(request, reply, &deed, true);
    } else {
        reply_status(request, reply, status, &deed.faults);
    }
    faults_free(&deed.faults);
    form_post_free(&post);
}
