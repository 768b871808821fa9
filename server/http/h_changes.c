/* SPDX-License-Identifier: MIT */
/*
 * `GET /api/v1/changes?since=`: which dates moved since an instant, and what moved each. Without
 * `since`: since yesterday 17:00 by the company's clock.
 */
#include <string.h>

#include "app/app_changes.h"
#include "base/instant.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "views/change_json.h"

#include "base/banned.h"

/* The instant asked for, or the evening before. */
static enum status read_since(int64_t *out, const struct http_request *request,
                              const struct plan *plan, struct faults *faults)
{
    const struct casefile *casefile = plan->casefile;
    const char *since = request_query(request, "since");
    *out = app_changes_evening_s(&casefile->company, casefile->now_s);
    if (since == NULL) return STATUS_OK;
    if (instant_parse(out, since, strlen(since), NULL) != STATUS_OK)
        return faults_add(faults, "since", "an instant like 2026-10-23T17:00:00-06:00", "\"%.80s\"",
                          since);
    if (*out > casefile->now_s)
        return faults_add(faults, "since", "an instant that is past", "\"%.80s\"", since);
    return STATUS_OK;
}

void h_changes(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    const struct change *changes = NULL;
    size_t count = 0;
    int64_t since_s = 0;
    enum status status = plans_take(&entry, request, &faults);
    if (status == STATUS_OK) status = read_since(&since_s, request, plans_plan(entry), &faults);
    if (status == STATUS_OK)
        status = app_changes_since(&changes, &count, plans_view(entry), plans_plan(entry), since_s,
                                   request->arena, &faults);
    if (status == STATUS_OK) {
        const struct casefile *casefile = plans_plan(entry)->casefile;
        struct json json = {.text = &reply->body};
        json_open_object(&json, NULL);
        json_put_integer(&json, "emberwait", 1);
        json_put_instant(&json, "now", casefile->now_s, casefile->company.zone);
        json_put_instant(&json, "since", since_s, casefile->company.zone);
        change_json_list(&json, "changes", changes, count, casefile->now_s,
                         request_words(request, NULL));
        json_close(&json);
        text_add_byte(&reply->body, '\n');
        reply_json(reply, 200);
        reply->varies = true;
    } else {
        reply_status(request, reply, status, &faults);
    }
    plans_release(entry);
}
