/* SPDX-License-Identifier: MIT */
/*
 * The door: in with a name and a password, out here or everywhere. A wrong name and a wrong
 * password are answered alike, after the same work; tries are counted by name and by address before
 * any work is done.
 */
#include <stdio.h>
#include <string.h>

#include "app/app_pass.h"
#include "app/app_view.h"
#include "http/form_post.h"
#include "http/guard.h"
#include "http/handlers.h"
#include "http/say_page.h"
#include "http/throttle.h"

#include "base/banned.h"

static const struct throttle_rule by_name = {"name", HTTP_SIGN_IN_NAME_TRIES,
                                             HTTP_SIGN_IN_NAME_REFILL_S};
static const struct throttle_rule by_browser = {"browser", HTTP_SIGN_IN_NAME_TRIES,
                                                HTTP_SIGN_IN_NAME_REFILL_S};
static const struct throttle_rule by_address = {"address", HTTP_SIGN_IN_ADDRESS_TRIES,
                                                HTTP_SIGN_IN_ADDRESS_REFILL_S};

/* A path of ours, and nothing that a browser might read as another site. */
static const char *safe_path(const char *to)
{
    if (to == NULL || to[0] != '/' || to[1] == '/' || to[1] == '\\') return NULL;
    for (const char *at = to; *at != '\0'; at++) {
        if ((unsigned char)*at <= 0x20 || (unsigned char)*at >= 0x7f || *at == '\\') return NULL;
    }
    return strncmp(to, "/sign-", 6) == 0 ? NULL : to;
}

static void write_door(struct http_request *request, struct http_reply *reply,
                       const struct sign_in_form *form)
{
    struct faults faults = {0};
    struct app_view *view = NULL;
    const enum status status = app_view_take(&view, request->tools->app, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    struct page page;
    say_page(&page, request, reply, &app_view_case(view)->company, request->now_s);
    page.csrf = who_door_csrf(request, reply);
    page.path = "/sign-in";
    html_sign_in(&reply->body, &page, form);
    reply_page(reply, form->wrong ? 422 : 200);
    app_view_release(view);
}

/*
 * A session's cookie is not sent along when another site leads here (a mail, say). The page then
 * asks for itself once more: that request is ours, and comes with the cookie if there is one.
 */
static const char *again(struct http_request *request, const char *to)
{
    const char *site = request_header(request, "Sec-Fetch-Site");
    if (site == NULL || strcmp(site, "cross-site") != 0) return NULL;
    return to == NULL ? "/" : to;
}

void h_sign_in_page(struct http_request *request, struct http_reply *reply)
{
    const char *to = safe_path(request_query(request, "to"));
    if (!app_person_any(request->tools->app) || who_session(request)) {
        reply_see_other(reply, to == NULL ? "/" : to);
        return;
    }
    const struct sign_in_form form = {.to = to, .go_on = again(request, to)};
    write_door(request, reply, &form);
}

static void too_many(struct http_request *request, struct http_reply *reply, int wait_s)
{
    char detail[200];
    (void)snprintf(detail, sizeof detail, "too many tries: wait %d minutes, then try again",
                   (wait_s + 59) / 60);
    reply_problem(request, reply, PROBLEM_TOO_MANY, detail, NULL);
    reply->retry_after_s = wait_s;
}

/* What a try is counted by: the address, and the browser where the name is known there, else the
 * name.
 */
struct counted {
    const char *address;
    const struct throttle_rule *rule;
    const char *key;
};

static struct counted counted_by(struct http_request *request, const char *name)
{
    const char *known = who_known(request, name);
    return (struct counted){.address = request_address(request),
                            .rule = known != NULL ? &by_browser : &by_name,
                            .key = known != NULL ? known : name};
}

/* One try; 0, or the seconds until there is one. */
static int take_try(struct throttle *throttle, const struct counted *counted)
{
    const int64_t now_ns = guard_now_ns();
    int wait_s = throttle_take(throttle, &by_address, counted->address, now_ns);
    if (wait_s > 0) return wait_s;
    wait_s = throttle_take(throttle, counted->rule, counted->key, now_ns);
    if (wait_s > 0) throttle_give(throttle, &by_address, counted->address, now_ns);
    return wait_s;
}

static void give_try(struct throttle *throttle, const struct counted *counted)
{
    throttle_give(throttle, &by_address, counted->address, guard_now_ns());
    throttle_give(throttle, counted->rule, counted->key, guard_now_ns());
}

/* The browser's session before this one ends: what somebody slipped it is worth nothing now. */
static void let_in(struct http_request *request, struct http_reply *reply, const char *token,
                   const char *to)
{
    if (who_session(request) && app_pass_sign_out(request->tools->app, &request->who.pass,
                                                  request->now_s, NULL) != STATUS_OK) {
        reply_problem(request, reply, PROBLEM_BUSY, NULL, NULL);
        return;
    }
    who_cookie(request, reply, token);
    reply_see_other(reply, to == NULL ? "/" : to);
}

static void try_to_sign_in(struct http_request *request, struct http_reply *reply,
                           const struct form_post *post)
{
    const char *name = form_field_value(post->fields, post->count, "name");
    const char *password = form_field_value(post->fields, post->count, "password");
    const char *to = safe_path(form_field_value(post->fields, post->count, "to"));
    if (name == NULL) name = "";
    if (password == NULL) password = "";
    const struct counted counted = counted_by(request, name);
    const int wait_s = take_try(request->tools->throttle, &counted);
    if (wait_s > 0) {
        too_many(request, reply, wait_s);
        return;
    }
    struct faults faults = {0};
    char token[APP_PASS_TEXT_MAX];
    const enum status status =
        app_pass_sign_in(token, request->tools->app, name, password, request->now_s, &faults);
    if (status != STATUS_DENIED) give_try(request->tools->throttle, &counted);
    if (status == STATUS_OK) {
        who_know(request, reply, name);
        let_in(request, reply, token, to);
    } else if (status == STATUS_DENIED) {
        const struct sign_in_form form = {.name = name, .to = to, .wrong = true};
        write_door(request, reply, &form);
    } else {
        reply_status(request, reply, status, &faults);
    }
    faults_free(&faults);
}

void h_sign_in(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    const enum status status = form_post_read(&post, request);
    if (status == STATUS_OK)
        try_to_sign_in(request, reply, &post);
    else
        reply_status(request, reply, status, &post.faults);
    form_post_free(&post);
}

void h_sign_out(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    struct faults faults = {0};
    enum status status = form_post_read(&post, request);
    const bool everywhere =
        status == STATUS_OK && form_field_value(post.fields, post.count, "everywhere") != NULL;
    if (status == STATUS_OK && request->who.session) {
        status = everywhere ? app_pass_sign_out_everywhere(request->tools->app, request->who.name,
                                                           request->now_s, &faults)
                            : app_pass_sign_out(request->tools->app, &request->who.pass,
                                                request->now_s, &faults);
    }
    form_post_free(&post);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    who_cookie(request, reply, NULL);
    reply_see_other(reply, "/sign-in");
}
