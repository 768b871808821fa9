/* SPDX-License-Identifier: MIT */
/* Links for crews, homeowners and calendars: made, listed and taken back by the owner. */
#include <stdio.h>

#include "app/app_link.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/request.h"
#include "model/record.h"

#include "base/banned.h"

static void put_link(struct json *json, const struct app_link *link)
{
    static const char *const folders[APP_LINK_KIND_COUNT] = {"/c/", "/h/", "/feed/"};
    char path[APP_TOKEN_TEXT_MAX + 16];
    const char *suffix = link->kind == APP_LINK_FEED ? ".ics" : "";
    const int length =
        snprintf(path, sizeof path, "%s%s%s", folders[link->kind], link->token, suffix);
    ENSURE(length > 0 && (size_t)length < sizeof path);
    json_open_object(json, NULL);
    json_put_text(json, "kind", app_link_kind_name(link->kind));
    json_put_text(json, "target", link->target);
    json_put_text(json, "phone", link->phone);
    json_put_text(json, "token", link->token);
    json_put_text(json, "path", path);
    json_put_instant(json, "made", link->made_s, NULL);
    json_put_instant(json, "revoked", link->revoked_s, NULL);
    json_put_instant(json, "seen", link->seen_s, NULL);
    json_close(json);
}

void h_links_list(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const struct app_link *links = NULL;
    size_t count = 0;
    const enum status status =
        app_link_list(&links, &count, request->tools->app, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_open_array(&json, "links");
    for (size_t i = 0; i < count; i++) put_link(&json, &links[i]);
    json_close(&json);
    json_close(&json);
    reply_json(reply, 200);
}

/* The kind in the path; false after the fault was told. */
static bool read_kind(struct http_request *request, struct http_reply *reply,
                      enum app_link_kind *kind)
{
    const char *name = request->match.captures[0];
    if (app_link_kind_parse(kind, name)) return true;
    struct faults faults = {0};
    (void)faults_add(&faults, "kind", "crew, homeowner or feed", "%s", name);
    reply_status(request, reply, STATUS_NOT_FOUND, &faults);
    return false;
}

void h_links_make(struct http_request *request, struct http_reply *reply)
{
    enum app_link_kind kind;
    if (!read_kind(request, reply, &kind)) return;
    struct faults faults = {0};
    struct app_link link;
    const enum status status =
        app_link_make_for(&link, request->tools->app, kind, request->match.captures[1],
                          request_query(request, "phone"), request->now_s, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    struct json json = {.text = &reply->body};
    put_link(&json, &link);
    reply_json(reply, 200);
}

void h_links_revoke(struct http_request *request, struct http_reply *reply)
{
    enum app_link_kind kind;
    if (!read_kind(request, reply, &kind)) return;
    struct faults faults = {0};
    const enum status status =
        app_link_revoke_for(request->tools->app, kind, request->match.captures[1],
                            request_query(request, "phone"), request->now_s, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    reply->status = 204;
}
