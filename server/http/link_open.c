/* SPDX-License-Identifier: MIT */
/* Why: see link_open.h. */
#include "http/link_open.h"

#include <string.h>

#include "app/app_plan.h"
#include "http/today.h"

#include "base/banned.h"

bool link_open(struct plans_entry **entry, const char **target, struct http_request *request,
               struct http_reply *reply, enum app_link_kind kind)
{
    struct faults faults = {0};
    struct app_link link;
    const char *token = request->match.captures[0];
    enum status status =
        app_link_find(&link, request->tools->app, token, strlen(token), request->arena, &faults);
    if (status == STATUS_OK && link.kind != kind) status = STATUS_NOT_FOUND;
    if (status == STATUS_OK) status = plans_take(entry, request, &faults);
    if (status == STATUS_NOT_FOUND) {
        faults_free(&faults);
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
        return false;
    }
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return false;
    }
    app_link_seen(request->tools->app, &link, request->now_s);
    request->who.name = link.phone != NULL
                            ? arena_print(request->arena, "%s (%s)", link.phone, link.target)
                            : link.target;
    *target = link.target;
    return true;
}

const struct crew *link_open_crew(struct plans_entry **entry, struct http_request *request,
                                  struct http_reply *reply)
{
    const char *crew_id = NULL;
    if (!link_open(entry, &crew_id, request, reply, APP_LINK_CREW)) return NULL;
    const struct crew *crew = today_crew(&plans_plan(*entry)->casefile->company, crew_id);
    if (crew != NULL) return crew;
    reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    plans_release(*entry);
    *entry = NULL;
    return NULL;
}
