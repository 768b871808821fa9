/* SPDX-License-Identifier: MIT */
/* Why: see app_job.h. A patch is checked inside its own transaction, against the body of that very
 * moment; a new job is checked before, and again when the company changed meanwhile. */
#include "app/app_job.h"

#include <string.h>

#include "app/app_accept.h"
#include "app/app_internal.h"
#include "base/limits.h"

#include "base/banned.h"

enum { LIST_BYTES_MAX = 268435456, BODY_BYTES_MAX = 1048576 };

/* --- reading ------------------------------------------------------------------------------- */

struct reading {
    struct text *out;
    const char *job_id;
    int64_t *out_version;
};

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct reading *reading = context;
    struct arena *arena = arena_new();
    const struct store_job *jobs = NULL;
    size_t count = 0;
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    enum status status = store_job_list(txn, &jobs, &count, arena, fault);
    text_add_z(reading->out, "{\"jobs\":[");
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        size_t records = 0;
        status = store_record_count(txn, jobs[i].number, &records, fault);
        text_add_z(reading->out, i == 0 ? "{\"id\":" : ",{\"id\":");
        text_json_z(reading->out, jobs[i].id);
        text_add_z(reading->out, ",\"version\":");
        text_integer(reading->out, jobs[i].version);
        text_add_z(reading->out, ",\"records\":");
        text_integer(reading->out, (int64_t)records);
        text_add_z(reading->out, ",\"job\":");
        text_add(reading->out, jobs[i].body, jobs[i].body_length);
        text_add_byte(reading->out, '}');
    }
    text_add_z(reading->out, "]}");
    arena_free(arena);
    return status;
}

static enum status job_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct reading *reading = context;
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_job job = {0};
    const enum status status = store_job_find(txn, reading->job_id, &job, arena, fault);
    if (status == STATUS_OK) {
        text_add(reading->out, job.body, job.body_length);
        if (reading->out_version != NULL) *reading->out_version = job.version;
    }
    arena_free(arena);
    return status;
}

static enum status read_into(struct reading *reading, struct app *app,
                             enum status (*run)(struct store_txn *, void *, struct fault *),
                             struct faults *faults)
{
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){run, reading, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    return app_text_status(reading->out, faults);
}

enum status app_jobs_list(struct text *out, struct app *app, struct faults *faults)
{
    struct reading reading = {out, NULL, NULL};
    return read_into(&reading, app, list_run, faults);
}

enum status app_job_get(struct text *out, int64_t *out_version, struct app *app, const char *job_id,
                        struct faults *faults)
{
    struct reading reading = {out, job_id, out_version};
    return read_into(&reading, app, job_run, faults);
}

/* --- creating ------------------------------------------------------------------------------ */

struct creating {
    struct store_job job;
    const struct store_record *records;
    size_t record_count;
    int64_t company_version;
    bool stale; /**< the company is another by now */
    bool created;
    int64_t version;
};

static enum status company_same(struct store_txn *txn, int64_t version, bool *out,
                                struct fault *fault)
{
    struct arena *arena = arena_new();
    struct store_company company = {.version = 0};
    enum status status = STATUS_LIMIT;
    if (arena != NULL) status = store_company_get(txn, &company, arena, fault);
    if (status == STATUS_NOT_FOUND) status = STATUS_OK;
    *out = company.version == version;
    arena_free(arena);
    return status;
}

/* The row of the job: there already with the same body, or made now. */
static enum status job_ready(struct store_txn *txn, struct creating *creating, int64_t *out_number,
                             struct fault *fault)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    struct store_job there = {0};
    enum status status = store_job_find(txn, creating->job.id, &there, arena, fault);
    if (status == STATUS_NOT_FOUND) {
        creating->created = true;
        status = store_job_add(txn, &creating->job, out_number, fault);
    } else if (status == STATUS_OK) {
        *out_number = there.number;
        creating->version = there.version;
        if (there.body_length != creating->job.body_length ||
            memcmp(there.body, creating->job.body, there.body_length) != 0) {
            fault_set(fault, "id", "an id that no job has yet", "\"%s\", which another job has",
                      creating->job.id);
            status = STATUS_CONFLICT;
        }
    }
    arena_free(arena);
    return status;
}

static enum status create_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct creating *creating = context;
    creating->created = false;
    creating->version = 1;
    bool same = false;
    enum status status = company_same(txn, creating->company_version, &same, fault);
    creating->stale = status == STATUS_OK && !same;
    if (status != STATUS_OK || creating->stale) {
        return creating->stale ? STATUS_BUSY : status;
    }
    int64_t number = 0;
    status = job_ready(txn, creating, &number, fault);
    bool any = false;
    for (size_t i = 0; status == STATUS_OK && i < creating->record_count; i++) {
        bool created = false;
        status =
            store_record_add(txn, number, creating->job.id, &creating->records[i], &created, fault);
        any = any || created;
    }
    if (status == STATUS_OK && any && !creating->created) {
        status = store_job_touch(txn, number, fault);
        creating->version++;
    }
    return status;
}

/* Checked with the company and the stations of the newest view. */
static enum status create_check(struct creating *creating, struct app *app, json_t *json,
                                struct arena *arena, struct faults *faults)
{
    struct app_view *view = NULL;
    enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    const struct casefile *casefile = app_view_case(view);
    static const struct station no_station;
    struct job job;
    (void)pthread_mutex_lock(&app->zones_mutex);
    const struct intake intake = app_intake(app, arena, faults);
    status = intake_job(&job, json, "", casefile->company.zone,
                        casefile->station_count > 0 ? casefile->stations : &no_station,
                        casefile->station_count, &intake);
    (void)pthread_mutex_unlock(&app->zones_mutex);
    if (status == STATUS_OK)
        status = app_accept_check(app->rulebook, &casefile->company, &job, job.records,
                                  job.record_count, "records", faults);
    if (status == STATUS_OK && job.kit_id != NULL &&
        company_kit(&casefile->company, job.kit_id) == NULL)
        status = faults_add(faults, "kit", "the id of a kit of the company", "\"%s\"", job.kit_id);
    creating->company_version = app_view_company_version(view);
    app_view_release(view);
    return status;
}

static enum status create_write(struct creating *creating, struct app *app, json_t *json,
                                struct arena *arena, struct faults *faults)
{
    for (int tries = 0;; tries++) {
        struct fault fault = {0};
        enum status status =
            store_write(app->store, (struct store_work){create_run, creating, false}, &fault);
        if (!creating->stale || tries == APP_TRIES_MAX) {
            if (creating->stale) {
                fault_set(&fault, "company", "a company that keeps for a moment", "one changing");
            }
            return app_fault(faults, status, &fault);
        }
        status = create_check(creating, app, json, arena, faults);
        if (status != STATUS_OK) return status;
    }
}

static enum status create(struct creating *creating, struct app *app, json_t *json, const char *who,
                          int64_t now_s, struct text *body, struct arena *arena,
                          struct faults *faults)
{
    enum status status = create_check(creating, app, json, arena, faults);
    if (status != STATUS_OK) return status;
    json_t *records = json_object_get(json, "records");
    if (records != NULL) {
        status = app_records_ready(&creating->records, records, who, now_s, false, arena, faults);
        creating->record_count = json_array_size(records);
    }
    static const char *const less[] = {"records", NULL};
    app_canonical(body, json, less);
    if (status == STATUS_OK) status = app_text_status(body, faults);
    if (status != STATUS_OK) return status;
    creating->job = (struct store_job){.id = json_string_value(json_object_get(json, "id")),
                                       .created_s = now_s,
                                       .body = body->data,
                                       .body_length = body->length};
    return create_write(creating, app, json, arena, faults);
}

enum status app_job_create(struct text *out_id, int64_t *out_version, bool *out_created,
                           struct app *app, const char *json, size_t length, const char *who,
                           int64_t now_s, struct faults *faults)
{
    json_t *parsed = NULL;
    enum status status = intake_parse(&parsed, json, length, faults);
    if (status != STATUS_OK) return status;
    struct creating creating = {.version = 0};
    struct text body = TEXT_UP_TO(BODY_BYTES_MAX);
    struct arena *arena = arena_new();
    status = arena == NULL ? app_no_memory(faults)
                           : create(&creating, app, parsed, who, now_s, &body, arena, faults);
    if (status == STATUS_OK) {
        if (out_id != NULL) text_add_z(out_id, creating.job.id);
        if (out_version != NULL) *out_version = creating.version;
        if (out_created != NULL) *out_created = creating.created;
    }
    arena_free(arena);
    text_free(&body);
    json_decref(parsed);
    return status;
}

/* --- patching ------------------------------------------------------------------------------ */

struct patching {
    struct app *app;
    const char *job_id;
    const json_t *patch;
    int64_t expected;
    struct text body; /**< the new one */
    int64_t version;
    struct faults found; /**< of the changed job */
};

static enum status patch_body(struct patching *patching, const struct store_job *job)
{
    json_t *json = NULL;
    enum status status = app_parse_stored(&json, job->body, job->body_length, &patching->found);
    if (status != STATUS_OK) return status;
    text_clear(&patching->body);
    if (app_merge_patch(json, patching->patch)) {
        app_canonical(&patching->body, json, NULL);
        status = app_text_status(&patching->body, &patching->found);
    } else {
        status = app_no_memory(&patching->found);
    }
    json_decref(json);
    return status;
}

static bool body_same(const struct patching *patching, const struct store_job *job)
{
    return patching->body.length == job->body_length &&
           memcmp(patching->body.data, job->body, job->body_length) == 0;
}

/* The changed job must parse with the records it has, and name a station that is there. */
static enum status patch_check(struct patching *patching, struct store_txn *txn,
                               const struct store_job *job, struct arena *arena)
{
    struct company company;
    int64_t version = 0;
    struct job read;
    enum status status =
        app_company_read(&company, &version, patching->app, txn, arena, &patching->found);
    if (status == STATUS_OK) {
        status = app_job_read(&read, patching->app, txn, job, &patching->body, company.zone, arena,
                              &patching->found);
    }
    return status;
}

static enum status patch_apply(struct patching *patching, struct store_txn *txn,
                               struct arena *arena, struct fault *fault)
{
    struct store_job job = {0};
    enum status status = store_job_find(txn, patching->job_id, &job, arena, fault);
    if (status != STATUS_OK) return status;
    patching->version = job.version;
    if (patching->expected != APP_VERSION_ANY && patching->expected != job.version) {
        fault_set(fault, "version", "the version the change was made against", "version %lld",
                  (long long)job.version);
        return STATUS_CONFLICT;
    }
    status = patch_body(patching, &job);
    if (status != STATUS_OK || body_same(patching, &job)) return status;
    status = patch_check(patching, txn, &job, arena);
    if (status != STATUS_OK) return status;
    patching->version++;
    return store_job_put(txn, job.number, patching->body.data, patching->body.length, fault);
}

static enum status patch_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct patching *patching = context;
    faults_free(&patching->found);
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    const enum status status = patch_apply(patching, txn, arena, fault);
    arena_free(arena);
    return status;
}

/* What a patch may not touch, and stations that are not there. */
static enum status patch_refuse(struct app *app, const json_t *patch, struct faults *faults)
{
    if (!json_is_object(patch)) {
        return faults_add(faults, "", "an object of members to change", "something else");
    }
    enum status status = STATUS_OK;
    static const char *const kept[] = {"id", "records"};
    for (size_t i = 0; i < 2; i++) {
        if (json_object_get(patch, kept[i]) == NULL) continue;
        status = faults_add(faults, kept[i],
                            "a member that may change (records are added, an id "
                            "never changes)",
                            "\"%s\"", kept[i]);
    }
    const char *station = json_string_value(json_object_get(patch, "station"));
    if (station == NULL) return status;
    struct app_view *view = NULL;
    const enum status taken = app_view_take(&view, app, faults);
    if (taken != STATUS_OK) return taken;
    if (app_view_station(view, station) == NULL) {
        status = faults_add(faults, "station", "a station of this store", "\"%s\"", station);
    }
    app_view_release(view);
    return status;
}

static enum status patch(struct patching *patching, struct faults *faults)
{
    enum status status = patch_refuse(patching->app, patching->patch, faults);
    if (status != STATUS_OK) return status;
    struct fault fault = {0};
    status =
        store_write(patching->app->store, (struct store_work){patch_run, patching, false}, &fault);
    for (size_t i = 0; i < patching->found.count; i++) {
        (void)app_fault(faults, status, &patching->found.items[i]);
    }
    if (patching->found.count == 0) (void)app_fault(faults, status, &fault);
    return status;
}

enum status app_job_patch(struct text *out, int64_t *out_version, struct app *app,
                          const char *job_id, int64_t expected, const char *json, size_t length,
                          int64_t now_s, struct faults *faults)
{
    (void)now_s;
    json_t *parsed = NULL;
    enum status status = intake_parse(&parsed, json, length, faults);
    if (status != STATUS_OK) return status;
    struct patching patching = {.app = app,
                                .job_id = job_id,
                                .patch = parsed,
                                .expected = expected,
                                .body = TEXT_UP_TO(BODY_BYTES_MAX)};
    status = patch(&patching, faults);
    if (status == STATUS_OK) {
        if (out != NULL) {
            text_add(out, patching.body.data, patching.body.length);
            status = app_text_status(out, faults);
        }
        if (out_version != NULL) *out_version = patching.version;
    }
    faults_free(&patching.found);
    text_free(&patching.body);
    json_decref(parsed);
    return status;
}
