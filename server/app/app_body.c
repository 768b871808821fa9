/* SPDX-License-Identifier: MIT */
/* Why: stored bytes through intake, the one way in: what was checked once is checked the same. */
#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/limits.h"

#include "base/banned.h"

const char app_company_default[] =
    "{\"time_zone\":\"UTC\",\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],"
    "\"work_hours\":[\"07:00\",\"15:30\"]}";

void app_whole_text(struct text *out, const struct store_job *job,
                    const struct store_record_body *records, size_t count)
{
    ENSURE(job->body_length > 2 && job->body[job->body_length - 1] == '}');
    text_add(out, job->body, job->body_length - 1);
    text_add_z(out, ",\"records\":[");
    for (size_t i = 0; i < count; i++) {
        if (i > 0) text_add_byte(out, ',');
        text_add(out, records[i].body, records[i].body_length);
    }
    text_add_z(out, "]}");
}

struct intake app_intake(struct app *app, struct arena *arena, struct faults *faults)
{
    return (struct intake){.arena = arena, .zones = app->zones, .faults = faults};
}

enum status app_parse_stored(json_t **out, const char *body, size_t length, struct faults *faults)
{
    const enum status status = intake_parse(out, body, length, faults);
    return status == STATUS_INVALID ? STATUS_CORRUPT : status;
}

static enum status whole_parse(struct job *out, struct app *app, const struct text *whole,
                               const char *path, const struct zone *zone, struct arena *model,
                               struct faults *faults)
{
    json_t *json = NULL;
    enum status status = app_text_status(whole, faults);
    if (status == STATUS_OK) status = intake_parse(&json, whole->data, whole->length, faults);
    if (status != STATUS_OK) return status;
    (void)pthread_mutex_lock(&app->zones_mutex);
    const struct intake intake = app_intake(app, model, faults);
    status = intake_job(out, json, path, zone, NULL, 0, &intake);
    (void)pthread_mutex_unlock(&app->zones_mutex);
    json_decref(json);
    return status;
}

enum status app_job_read(struct job *out, struct app *app, struct store_txn *txn,
                         const struct store_job *job, const struct text *body,
                         const struct zone *zone, struct arena *model, struct faults *faults)
{
    struct arena *scratch = arena_new();
    if (scratch == NULL) return app_no_memory(faults);
    struct store_job tried = *job;
    if (body != NULL) {
        tried.body = body->data;
        tried.body_length = body->length;
    }
    const struct store_record_body *records = NULL;
    size_t count = 0;
    struct fault fault = {0};
    enum status status = app_fault(
        faults, store_record_list(txn, job->number, &records, &count, scratch, &fault), &fault);
    if (status == STATUS_OK) {
        struct text whole = TEXT_UP_TO(APP_BODY_BYTES_MAX);
        char path[FAULT_PATH_MAX];
        (void)snprintf(path, sizeof path, "jobs.%s", job->id);
        app_whole_text(&whole, &tried, records, count);
        status = whole_parse(out, app, &whole, body != NULL ? "" : path, zone, model, faults);
        text_free(&whole);
    }
    arena_free(scratch);
    return status;
}

enum status app_jobs_check(struct app *app, struct store_txn *txn, const struct zone *zone,
                           struct faults *faults)
{
    struct arena *list = arena_new();
    struct arena *model = arena_new();
    const struct store_job *jobs = NULL;
    size_t count = 0;
    struct fault fault = {0};
    enum status status =
        list == NULL || model == NULL
            ? app_no_memory(faults)
            : app_fault(faults, store_job_list(txn, &jobs, &count, list, &fault), &fault);
    for (size_t i = 0; i < count && (status == STATUS_OK || status == STATUS_INVALID); i++) {
        struct job ignored;
        const enum status one =
            app_job_read(&ignored, app, txn, &jobs[i], NULL, zone, model, faults);
        if (one != STATUS_OK) status = one;
        arena_reset(model);
    }
    arena_free(list);
    arena_free(model);
    return status;
}

enum status app_company_read(struct company *out, int64_t *out_version, struct app *app,
                             struct store_txn *txn, struct arena *model, struct faults *faults)
{
    struct store_company company = {
        .body = app_company_default,
        .body_length = strlen(app_company_default),
    };
    struct fault fault = {0};
    enum status status = store_company_get(txn, &company, model, &fault);
    if (status != STATUS_OK && status != STATUS_NOT_FOUND) {
        return app_fault(faults, status, &fault);
    }
    json_t *json = NULL;
    status = app_parse_stored(&json, company.body, company.body_length, faults);
    if (status != STATUS_OK) return status;
    (void)pthread_mutex_lock(&app->zones_mutex);
    const struct intake intake = app_intake(app, model, faults);
    status = intake_company(out, json, "company", &intake);
    (void)pthread_mutex_unlock(&app->zones_mutex);
    json_decref(json);
    *out_version = company.version;
    return status == STATUS_INVALID ? STATUS_CORRUPT : status;
}
