/* SPDX-License-Identifier: MIT */
/* What is told of the server itself, and the files it hands out as they are. */
#include <stdio.h>
#include <string.h>

#include "base/json.h"
#include "http/guard.h"
#include "http/handlers.h"
#include "http/serve.h"
#include "http/watch.h"

#include "base/banned.h"

void h_healthz(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const enum status status = app_health(request->tools->app, &faults);
    if (status != STATUS_OK) {
        reply_problem(request, reply, PROBLEM_BUSY, "the store cannot be used", &faults);
        faults_free(&faults);
        return;
    }
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_put_text(&json, "status", "ok");
    json_close(&json);
    reply_json(reply, 200);
}

static void figure(struct text *out, const char *name, const char *kind, const char *says,
                   double value)
{
    text_print(out, "# HELP emberwait_%s %s\n# TYPE emberwait_%s %s\nemberwait_%s %.15g\n", name,
               says, name, kind, name, value);
}

void h_metrics(struct http_request *request, struct http_reply *reply)
{
    const struct http_server *server = request->server;
    struct text *out = &reply->body;
    struct app_figures figures;
    app_figures(request->tools->app, &figures);
    metrics_write(out, request->tools->metrics);
    figure(out, "http_connections", "gauge", "Connections open.", guard_connections(server->guard));
    figure(out, "http_closed_late_total", "counter", "Connections closed because they were slow.",
           (double)guard_closed(server->guard));
    figure(out, "http_under_way", "gauge", "Requests whose answer is not out yet.",
           atomic_load(&server->under_way));
    figure(out, "commits_total", "counter", "Groups of writes committed, one fsync each.",
           (double)figures.commits);
    figure(out, "writes_total", "counter", "Writes stored.", (double)figures.writes);
    figure(out, "failed_writes_total", "counter", "Writes the machine refused.",
           (double)figures.failed_writes);
    figure(out, "rebuilds_total", "counter", "Pictures of the store built.",
           (double)figures.rebuilds);
    figure(out, "jobs_parsed_total", "counter", "Jobs read again for them.",
           (double)figures.jobs_parsed);
    figure(out, "watch_looks_total", "counter", "Looks of the watch at the plan.",
           (double)watch_looks(server->watch));
    figure(out, "passwords_total", "counter",
           "Passwords stretched, each some 60 ms of a processor.", (double)figures.passwords);
    figure(out, "last_rebuild_seconds", "gauge", "Time the last picture took.",
           figures.last_rebuild_s);
    reply->status = 200;
    reply->type = "text/plain; version=0.0.4; charset=utf-8";
}

static void reply_asset(struct http_request *request, struct http_reply *reply,
                        const struct asset *asset)
{
    if (asset == NULL) {
        reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
        return;
    }
    reply->status = 200;
    reply->type = asset->type;
    reply->asset = asset;
    reply_tag(reply, "%s", asset->tag);
    reply->cache = "no-cache";
    (void)reply_not_modified(request, reply);
}

void h_openapi(struct http_request *request, struct http_reply *reply)
{
    reply_asset(request, reply, &request->tools->openapi);
}

void h_schema(struct http_request *request, struct http_reply *reply)
{
    reply_asset(request, reply, assets_find(request->tools->schemas, request->match.captures[0]));
}

void h_static(struct http_request *request, struct http_reply *reply)
{
    const char *path = request->match.captures[0];
    reply_asset(request, reply, assets_find(request->tools->assets, path));
    if (strcmp(path, "js/keep.js") == 0) reply->worker_scope = "/c/";
}
