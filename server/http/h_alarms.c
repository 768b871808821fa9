/* SPDX-License-Identifier: MIT */
/* What somebody has to be told: listed, and taken off a page by who saw it. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_plan.h"
#include "app/app_watch.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/link_open.h"
#include "http/today.h"

#include "base/banned.h"

void h_alarms_list(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct alarm_list list;
    const enum status status = app_alarms(&list, request->tools->app, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_open_array(&json, "alarms");
    for (size_t i = 0; i < list.count; i++) {
        const struct alarm *alarm = &list.items[i];
        json_open_object(&json, NULL);
        json_put_integer(&json, "number", alarm->number);
        json_put_text(&json, "job", alarm->job_id);
        json_put_text(&json, "kind", id_of(&alarm_kind_ids, (int)alarm->kind));
        json_put_text(&json, "about", alarm->about);
        json_put_instant(&json, "found", alarm->at_s, NULL);
        json_put_instant(&json, "due", alarm->due_s, NULL);
        json_put_instant(&json, "over", alarm->over_s, NULL);
        json_put_integer(&json, "mailed", alarm->told);
        json_put_instant(&json, "seen", alarm->seen_s, NULL);
        json_put_text(&json, "seen_by", alarm->seen_by);
        json_put_instant(&json, "crew_seen", alarm->crew_seen_s, NULL);
        json_close(&json);
    }
    json_close(&json);
    json_close(&json);
    reply_json(reply, 200);
}

/* The number in the path; 0 when it is none. */
static int64_t number_of(const char *text)
{
    const size_t digits = strspn(text, "0123456789");
    if (digits == 0 || digits > 15 || text[digits] != '\0') return 0;
    return strtoll(text, NULL, 10);
}

static void seen(struct http_request *request, struct http_reply *reply, int64_t number,
                 const char *by, const char *back)
{
    struct faults faults = {0};
    const enum status status =
        app_alarm_seen(request->tools->app, number, by, request->now_s, &faults);
    if (status != STATUS_OK)
        reply_status(request, reply, status, &faults);
    else
        reply_see_other(reply, back);
    faults_free(&faults);
}

void h_alarm_seen(struct http_request *request, struct http_reply *reply)
{
    seen(request, reply, number_of(request->match.captures[0]),
         request->who.name == NULL ? "office" : request->who.name, "/");
}

/* Of one of the crew's jobs; another one's alarm is not told from none. */
static bool is_crews(struct http_request *request, const struct plan *plan, const struct crew *crew,
                     int64_t number)
{
    struct alarm_list list;
    if (app_alarms(&list, request->tools->app, request->arena, NULL) != STATUS_OK) return false;
    for (size_t i = 0; i < list.count; i++) {
        if (list.items[i].number != number) continue;
        const struct job_plan *job = app_plan_find(plan, list.items[i].job_id);
        return job != NULL && today_crew_has(plan, crew->id, job->job);
    }
    return false;
}

void h_crew_alarm_seen(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    const int64_t number = number_of(request->match.captures[1]);
    const char *back = arena_print(request->arena, "/c/%s", request->match.captures[0]);
    if (back == NULL || !is_crews(request, plans_plan(entry), crew, number))
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
    else
        seen(request, reply, number, NULL, back);
    plans_release(entry);
}
