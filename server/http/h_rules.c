/* SPDX-License-Identifier: MIT */
/* The page of rules: every number in its sentence, and a change of one, which is a record. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_rules.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

enum { IDS_MAX = 512, NUMBER_MAX = 24 };

/* A decimal number, whole; the comma of another keyboard is taken for a point. */
static bool read_number(double *out, const char *text)
{
    char plain[NUMBER_MAX];
    const size_t length = strlen(text);
    if (length == 0 || length >= sizeof plain || strspn(text, "0123456789.,-") != length)
        return false;
    memcpy(plain, text, length + 1);
    for (char *c = plain; *c != '\0'; c++)
        if (*c == ',') *c = '.';
    char *end = NULL;
    *out = strtod(plain, &end);
    return *end == '\0' && isfinite(*out);
}

static void write_page(struct http_request *request, struct http_reply *reply,
                       const struct form_post *post, unsigned status)
{
    struct faults faults = {0};
    struct app_view *view = NULL;
    const enum status taken = app_view_take(&view, request->tools->app, &faults);
    const char **ids = ARENA_TAKE(request->arena, IDS_MAX, const char *);
    if (taken != STATUS_OK || ids == NULL) {
        reply_status(request, reply, taken != STATUS_OK ? taken : STATUS_LIMIT, &faults);
        app_view_release(view);
        return;
    }
    size_t count = 0;
    while (count < IDS_MAX && app_rules_id(count) != NULL) {
        ids[count] = app_rules_id(count);
        count++;
    }
    struct page page;
    struct text rules = TEXT_UP_TO(1 << 20);
    app_rules_show(&rules, view);
    const struct rules_page rules_page = {.rules = text_z(&rules),
                                          .ids = ids,
                                          .id_count = count,
                                          .fields = post == NULL ? NULL : post->fields,
                                          .field_count = post == NULL ? 0 : post->count,
                                          .faults = post == NULL ? NULL : &post->faults};
    say_page(&page, request, reply, &app_view_case(view)->company, request->now_s);
    html_rules(&reply->body, &page, &rules_page);
    if (text_status(&rules) != STATUS_OK) reply->body.failed = true;
    text_free(&rules);
    reply_page(reply, status);
    app_view_release(view);
}

void h_page_rules(struct http_request *request, struct http_reply *reply)
{
    write_page(request, reply, NULL, 200);
}

enum { BY_MAX = 256 };

/* The name that was typed, and behind it who is signed in where that is somebody else. */
static void signed_by(char by[static BY_MAX], const struct http_request *request, const char *typed)
{
    const char *who = request->who.name;
    const char *name = typed == NULL ? "" : typed;
    if (who != NULL && name[0] != '\0' && strcmp(who, name) != 0)
        (void)snprintf(by, BY_MAX, "%s (%s)", name, who);
    else
        (void)snprintf(by, BY_MAX, "%s", name);
}

void h_page_rules_post(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    double value = 0;
    enum status status = form_post_read(&post, request);
    const char *id = form_field_value(post.fields, post.count, "id");
    const char *typed = form_field_value(post.fields, post.count, "value");
    char by[BY_MAX];
    signed_by(by, request, form_field_value(post.fields, post.count, "by"));
    if (status == STATUS_OK && id == NULL)
        status = faults_add(&post.faults, "id", "the id of a number", "nothing");
    else if (status == STATUS_OK && (typed == NULL || !read_number(&value, typed)))
        status =
            faults_add(&post.faults, "value", "a number", "\"%s\"", typed == NULL ? "" : typed);
    if (status == STATUS_OK)
        status = app_rules_change(request->tools->app, id, value,
                                  form_field_value(post.fields, post.count, "reason"), by,
                                  request->now_s, &post.faults);
    if (status == STATUS_OK) {
        plans_wrote(request->tools->plans, request->now_s);
        form_post_sent(&post, request, reply, "/rules");
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT) {
        write_page(request, reply, &post, 422);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
}
