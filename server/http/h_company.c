/* SPDX-License-Identifier: MIT */
/* The company and its stations: put whole, or hour by hour. */
#include "app/app_company.h"
#include "app/app_job.h"
#include "app/app_station.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/plans.h"

#include "base/banned.h"

void h_company_get(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    int64_t version = 0;
    const enum status status =
        app_company_get(&reply->body, &version, request->tools->app, &faults);
    reply_versioned(request, reply, status, version, &faults);
}

void h_company_put(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    int64_t expected = APP_VERSION_ANY;
    int64_t version = 0;
    if (request_if_match(request, &expected) == MATCH_NEVER) {
        reply_problem(request, reply, PROBLEM_PRECONDITION_FAILED, NULL, NULL);
        return;
    }
    enum status status = app_company_put(&version, request->tools->app, expected,
                                         text_z(&request->body), request->body.length, &faults);
    if (status == STATUS_CONFLICT) {
        reply_problem(request, reply, PROBLEM_PRECONDITION_FAILED, NULL, &faults);
        faults_free(&faults);
        return;
    }
    if (status == STATUS_OK) {
        plans_wrote(request->tools->plans, request->now_s);
        status = app_company_get(&reply->body, &version, request->tools->app, &faults);
    }
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    reply_json(reply, 200);
    reply_tag(reply, "v%lld", (long long)version);
}

void h_station_hours(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const char *id = request->match.captures[0];
    const enum status status = app_station_put_hours(
        request->tools->app, id, text_z(&request->body), request->body.length, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    plans_wrote(request->tools->plans, request->now_s);
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_put_text(&json, "station", id);
    json_close(&json);
    reply_json(reply, 200);
}
