/* SPDX-License-Identifier: MIT */
/* Spreadsheets: everything out as CSV, and rows in, with a dry run that says what each becomes. */
#include <string.h>

#include "app/app_csv.h"
#include "app/app_view.h"
#include "base/json.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

static void send_csv(struct http_request *request, struct http_reply *reply, enum app_csv_what what)
{
    struct faults faults = {0};
    const enum status status = app_csv_export(&reply->body, request->tools->app, what, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    reply->status = 200;
    reply->type = "text/csv; charset=utf-8; header=present";
    reply->cache = "private, no-cache";
}

void h_jobs_csv(struct http_request *request, struct http_reply *reply)
{
    send_csv(request, reply, APP_CSV_JOBS);
}

void h_records_csv(struct http_request *request, struct http_reply *reply)
{
    send_csv(request, reply, APP_CSV_RECORDS);
}

static void put_rows(struct json *json, const struct app_imported *counts,
                     const struct app_csv_row *rows, size_t count, bool dry)
{
    json_open_object(json, NULL);
    json_put_bool(json, "dry_run", dry);
    json_put_integer(json, "jobs", (int64_t)counts->jobs);
    json_put_integer(json, "jobs_known", (int64_t)counts->jobs_known);
    json_put_integer(json, "records", (int64_t)counts->records);
    json_put_integer(json, "records_known", (int64_t)counts->records_known);
    json_open_array(json, "rows");
    for (size_t i = 0; i < count; i++) {
        json_open_object(json, NULL);
        json_put_integer(json, "line", (int64_t)rows[i].line);
        json_put_text(json, "job", rows[i].job_id);
        json_put_bool(json, "new_job", rows[i].new_job);
        json_put_integer(json, "cells", (int64_t)rows[i].cells);
        json_put_integer(json, "records", (int64_t)rows[i].records);
        json_close(json);
    }
    json_close(json);
    json_close(json);
}

void h_import_csv(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    enum app_csv_what what;
    struct app_imported counts;
    const struct app_csv_row *rows = NULL;
    size_t count = 0;
    const char *dry = request_query(request, "dry_run");
    if (!app_csv_parse(&what, request->match.captures[0])) {
        (void)faults_add(&faults, "what", "jobs or records", "%s", request->match.captures[0]);
        reply_status(request, reply, STATUS_NOT_FOUND, &faults);
        return;
    }
    const bool keep = dry == NULL || strcmp(dry, "0") == 0;
    const enum status status = app_csv_import(
        &counts, &rows, &count, request->tools->app, what, text_z(&request->body),
        request->body.length, !keep, request->who.name, request->now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    if (keep) plans_wrote(request->tools->plans, request->now_s);
    struct json json = {.text = &reply->body};
    put_rows(&json, &counts, rows, count, !keep);
    reply_json(reply, 200);
}

/* --- the page ------------------------------------------------------------------------------ */

static void write_page(struct http_request *request, struct http_reply *reply,
                       struct import_page *import, unsigned status)
{
    struct app_view *view = NULL;
    struct faults faults = {0};
    const enum status taken = app_view_take(&view, request->tools->app, &faults);
    if (taken != STATUS_OK) {
        reply_status(request, reply, taken, &faults);
        return;
    }
    struct page page;
    say_page(&page, request, reply, &app_view_case(view)->company, request->now_s);
    html_import(&reply->body, &page, import);
    reply_page(reply, status);
    app_view_release(view);
}

void h_page_import(struct http_request *request, struct http_reply *reply)
{
    struct import_page import = {.what = "jobs"};
    write_page(request, reply, &import, 200);
}

static const struct import_row *page_rows(struct http_request *request,
                                          const struct app_csv_row *rows, size_t count)
{
    struct import_row *out = ARENA_TAKE(request->arena, count, struct import_row);
    for (size_t i = 0; out != NULL && i < count; i++)
        out[i] = (struct import_row){rows[i].line, rows[i].job_id, rows[i].new_job, rows[i].cells,
                                     rows[i].records};
    return out;
}

void h_page_import_post(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    struct app_imported counts = {0};
    const struct app_csv_row *rows = NULL;
    size_t count = 0;
    enum app_csv_what what = APP_CSV_JOBS;
    enum status status = form_post_read(&post, request);
    const char *name = form_field_value(post.fields, post.count, "what");
    const char *csv = form_field_value(post.fields, post.count, "csv");
    const bool keep = form_field_value(post.fields, post.count, "keep") != NULL;
    if (status == STATUS_OK && (name == NULL || !app_csv_parse(&what, name)))
        status = faults_add(&post.faults, "what", "jobs or records", "%s",
                            name == NULL ? "nothing" : name);
    if (status == STATUS_OK)
        status = app_csv_import(&counts, &rows, &count, request->tools->app, what,
                                csv == NULL ? "" : csv, csv == NULL ? 0 : strlen(csv), !keep,
                                request->who.name, request->now_s, request->arena, &post.faults);
    if (status == STATUS_OK && keep) plans_wrote(request->tools->plans, request->now_s);
    struct import_page import = {.what = app_csv_name(what),
                                 .csv = csv,
                                 .rows = page_rows(request, rows, count),
                                 .row_count = status == STATUS_OK ? count : 0,
                                 .kept = status == STATUS_OK && keep,
                                 .faults = &post.faults};
    if (import.rows == NULL) import.row_count = 0;
    if (status == STATUS_IO || status == STATUS_BUSY || status == STATUS_CORRUPT)
        reply_status(request, reply, status, &post.faults);
    else
        write_page(request, reply, &import, status == STATUS_OK ? 200 : 422);
    form_post_free(&post);
}
