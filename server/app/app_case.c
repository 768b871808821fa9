/* SPDX-License-Identifier: MIT */
/* Why: see app_case.h. What goes out is what was stored, byte for byte; what comes in goes through
 * intake as a whole case, and after it is written every job of the store is read once more. */
#include "app/app_case.h"

#include <math.h>
#include <string.h>

#include "app/app_accept.h"
#include "app/app_internal.h"
#include "base/instant.h"
#include "base/limits.h"
#include "model/record.h"
#include "store/store_station.h"

#include "base/banned.h"

/* --- out ----------------------------------------------------------------------------------- */

struct exporting {
    struct text *out;
    int64_t now_s;
    struct arena *arena;
};

static void column_put(struct text *out, const char *name, const double *column, size_t count)
{
    if (column == NULL) return;
    text_add_z(out, ",\"");
    text_add_z(out, name);
    text_add_z(out, "\":[");
    for (size_t i = 0; i < count; i++) {
        if (i > 0) text_add_byte(out, ',');
        app_number(out, column[i]);
    }
    text_add_byte(out, ']');
}

static void series_put(struct text *out, const struct series *series, int64_t made_s)
{
    text_add_z(out, "{\"start\":");
    text_json_instant(out, series->start_s, NULL);
    if (made_s != INSTANT_NONE) {
        text_add_z(out, ",\"made\":");
        text_json_instant(out, made_s, NULL);
    }
    column_put(out, "temp_degc", series->temp_degc, series->count);
    column_put(out, "rain_mm", series->rain_mm, series->count);
    column_put(out, "rh_pct", series->rh_pct, series->count);
    column_put(out, "wind_mps", series->wind_mps, series->count);
    column_put(out, "gust_mps", series->gust_mps, series->count);
    text_add_byte(out, '}');
}

/* A member of an object whose first member may be any of them. */
static void member(struct text *out, bool *first, const char *name)
{
    text_add_z(out, *first ? "\"" : ",\"");
    text_add_z(out, name);
    text_add_z(out, "\":");
    *first = false;
}

static enum status station_put(struct exporting *exporting, struct store_txn *txn,
                               const struct store_station *head, struct fault *fault)
{
    struct text *out = exporting->out;
    struct series observed, forecast;
    struct series *history = NULL;
    size_t count = 0;
    enum status status =
        store_station_hours(txn, head->number, &observed, &forecast, exporting->arena, fault);
    if (status == STATUS_OK) {
        status =
            store_station_history(txn, head->number, &history, &count, exporting->arena, fault);
    }
    if (status != STATUS_OK) return status;
    bool first = true;
    text_json_z(out, head->id);
    text_add_z(out, ":{");
    if (head->name != NULL) {
        member(out, &first, "name");
        text_json_z(out, head->name);
    }
    if (!isnan(head->latitude_deg)) {
        member(out, &first, "latitude");
        app_number(out, head->latitude_deg);
    }
    if (!isnan(head->longitude_deg)) {
        member(out, &first, "longitude");
        app_number(out, head->longitude_deg);
    }
    if (observed.count > 0) {
        member(out, &first, "observed");
        series_put(out, &observed, INSTANT_NONE);
    }
    if (forecast.count > 0) {
        member(out, &first, "forecast");
        series_put(out, &forecast, head->forecast_made_s);
    }
    if (count > 0) member(out, &first, "history");
    for (size_t i = 0; i < count; i++) {
        text_add_byte(out, i == 0 ? '[' : ',');
        series_put(out, &history[i], INSTANT_NONE);
    }
    if (count > 0) text_add_byte(out, ']');
    text_add_byte(out, '}');
    return STATUS_OK;
}

static enum status head_put(struct exporting *exporting, struct store_txn *txn, struct fault *fault)
{
    struct text *out = exporting->out;
    struct store_company company = {.body = app_company_default,
                                    .body_length = strlen(app_company_default)};
    const enum status status = store_company_get(txn, &company, exporting->arena, fault);
    if (status != STATUS_OK && status != STATUS_NOT_FOUND) return status;
    text_add_z(out, "{\"emberwait\":1,\"now\":");
    text_json_instant(out, exporting->now_s, NULL);
    text_add_z(out, ",\"company\":");
    text_add(out, company.body, company.body_length);
    return STATUS_OK;
}

static enum status stations_put(struct exporting *exporting, struct store_txn *txn,
                                struct fault *fault)
{
    const struct store_station *heads = NULL;
    size_t count = 0;
    enum status status = store_station_list(txn, &heads, &count, exporting->arena, fault);
    text_add_z(exporting->out, ",\"stations\":{");
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        if (i > 0) text_add_byte(exporting->out, ',');
        status = station_put(exporting, txn, &heads[i], fault);
    }
    text_add_byte(exporting->out, '}');
    return status;
}

static enum status jobs_put(struct exporting *exporting, struct store_txn *txn, struct fault *fault)
{
    const struct store_job *jobs = NULL;
    size_t count = 0;
    enum status status = store_job_list(txn, &jobs, &count, exporting->arena, fault);
    text_add_z(exporting->out, ",\"jobs\":[");
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        const struct store_record_body *records = NULL;
        size_t record_count = 0;
        status = store_record_list(txn, jobs[i].number, &records, &record_count, exporting->arena,
                                   fault);
        if (status != STATUS_OK) break;
        if (i > 0) text_add_byte(exporting->out, ',');
        app_whole_text(exporting->out, &jobs[i], records, record_count);
    }
    text_add_z(exporting->out, "]}\n");
    return status;
}

static enum status export_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct exporting *exporting = context;
    enum status status = head_put(exporting, txn, fault);
    if (status == STATUS_OK) status = stations_put(exporting, txn, fault);
    if (status == STATUS_OK) status = jobs_put(exporting, txn, fault);
    return status;
}

enum status app_export(struct text *out, struct app *app, int64_t now_s, struct faults *faults)
{
    struct exporting exporting = {out, now_s, arena_new()};
    if (exporting.arena == NULL) return app_no_memory(faults);
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){export_run, &exporting, false}, &fault);
    arena_free(exporting.arena);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    return app_text_status(out, faults);
}

/* --- in ------------------------------------------------------------------------------------ */

/** A job of the file, ready for the store. */
struct coming {
    struct store_job job;
    const struct store_record *records;
    size_t record_count;
};

struct importing {
    struct app *app;
    const struct casefile *casefile;
    struct text company;
    struct coming *jobs;
    struct app_imported counts;
    struct arena *arena;
    struct faults found;
    bool dry;   /**< everything is done and then taken back */
    bool whole; /**< ... and nothing was wrong */
};

static enum status job_in(struct importing *importing, struct store_txn *txn,
                          const struct coming *coming, struct fault *fault)
{
    struct store_job there = {0};
    int64_t number = 0;
    enum status status = store_job_find(txn, coming->job.id, &there, importing->arena, fault);
    const bool known = status == STATUS_OK;
    if (status == STATUS_NOT_FOUND) {
        status = store_job_add(txn, &coming->job, &number, fault);
        importing->counts.jobs++;
    } else if (known) {
        number = there.number;
        importing->counts.jobs_known++;
        if (there.body_length != coming->job.body_length ||
            memcmp(there.body, coming->job.body, there.body_length) != 0) {
            fault_set(fault, "jobs", "new jobs, or the same as stored",
                      "\"%s\", which is stored with another body", coming->job.id);
            status = STATUS_CONFLICT;
        }
    }
    bool any = false;
    for (size_t i = 0; status == STATUS_OK && i < coming->record_count; i++) {
        bool created = false;
        status =
            store_record_add(txn, number, coming->job.id, &coming->records[i], &created, fault);
        importing->counts.records += created;
        importing->counts.records_known += !created;
        any = any || created;
    }
    if (status == STATUS_OK && known && any) status = store_job_touch(txn, number, fault);
    return status;
}

static enum status company_in(struct importing *importing, struct store_txn *txn,
                              struct fault *fault)
{
    struct store_company there = {.version = 0};
    const enum status status = store_company_get(txn, &there, importing->arena, fault);
    if (status != STATUS_OK && status != STATUS_NOT_FOUND) return status;
    if (there.version > 0 && there.body_length == importing->company.length &&
        memcmp(there.body, importing->company.data, there.body_length) == 0) {
        return STATUS_OK;
    }
    const struct store_company company = {there.version + 1, importing->company.data,
                                          importing->company.length};
    return store_company_put(txn, &company, fault);
}

static enum status import_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct importing *importing = context;
    const struct casefile *casefile = importing->casefile;
    faults_free(&importing->found);
    importing->counts = (struct app_imported){0};
    importing->whole = false;
    enum status status = company_in(importing, txn, fault);
    for (size_t i = 0; status == STATUS_OK && i < casefile->station_count; i++) {
        status = store_station_put(txn, &casefile->stations[i], fault);
        importing->counts.stations++;
    }
    for (size_t i = 0; status == STATUS_OK && i < casefile->job_count; i++) {
        status = job_in(importing, txn, &importing->jobs[i], fault);
    }
    if (status != STATUS_OK) return status;
    status = app_jobs_check(importing->app, txn, casefile->company.zone, &importing->found);
    importing->whole = status == STATUS_OK;
    return importing->whole && importing->dry ? STATUS_CONFLICT : status; /* takes it back */
}

static enum status jobs_ready(struct importing *importing, json_t *root, const char *who,
                              int64_t now_s, struct faults *faults)
{
    static const char *const less[] = {"records", NULL};
    json_t *jobs = json_object_get(root, "jobs");
    importing->jobs = ARENA_TAKE(importing->arena, json_array_size(jobs), struct coming);
    if (importing->jobs == NULL) return app_no_memory(faults);
    struct text text = TEXT_UP_TO(1048576);
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(jobs); i++) {
        json_t *job = json_array_get(jobs, i);
        json_t *records = json_object_get(job, "records");
        struct coming *coming = &importing->jobs[i];
        text_clear(&text);
        app_canonical(&text, job, less);
        status = app_text_status(&text, faults);
        if (status != STATUS_OK) break;
        coming->job = (struct store_job){
            .id = json_string_value(json_object_get(job, "id")),
            .created_s = now_s,
            .body = arena_copy(importing->arena, text.data, text.length),
            .body_length = text.length,
        };
        if (coming->job.body == NULL) status = app_no_memory(faults);
        if (status == STATUS_OK && records != NULL) {
            coming->record_count = json_array_size(records);
            status = app_records_ready(&coming->records, records, who, now_s, true,
                                       importing->arena, faults);
        }
    }
    text_free(&text);
    return status;
}

static enum status import(struct importing *importing, json_t *root, const char *who, int64_t now_s,
                          struct faults *faults)
{
    struct casefile *casefile = NULL;
    (void)pthread_mutex_lock(&importing->app->zones_mutex);
    const struct intake intake = app_intake(importing->app, importing->arena, faults);
    enum status status = intake_case(&casefile, root, &intake);
    (void)pthread_mutex_unlock(&importing->app->zones_mutex);
    if (status == STATUS_OK) {
        struct rulebook *changed = ARENA_TAKE(importing->arena, 1, struct rulebook);
        status = changed == NULL
                     ? app_no_memory(faults)
                     : rulebook_change(changed, importing->app->rulebook, casefile->company.rules,
                                       casefile->company.rule_count, faults);
    }
    if (status == STATUS_OK)
        status = app_accept_check_case(importing->app->rulebook, casefile, faults);
    if (status != STATUS_OK) return status;
    importing->casefile = casefile;
    app_canonical(&importing->company, json_object_get(root, "company"), NULL);
    status = app_text_status(&importing->company, faults);
    if (status == STATUS_OK) status = jobs_ready(importing, root, who, now_s, faults);
    if (status != STATUS_OK) return status;
    struct fault fault = {0};
    status = store_write(importing->app->store, (struct store_work){import_run, importing, false},
                         &fault);
    if (importing->dry && importing->whole) return STATUS_OK;
    for (size_t i = 0; i < importing->found.count; i++) {
        (void)app_fault(faults, status, &importing->found.items[i]);
    }
    if (importing->found.count == 0) (void)app_fault(faults, status, &fault);
    faults_free(&importing->found);
    return status;
}

static enum status import_text(struct app_imported *out, struct app *app, const char *json,
                               size_t length, bool dry, const char *who, int64_t now_s,
                               struct faults *faults)
{
    json_t *root = NULL;
    enum status status = intake_parse(&root, json, length, faults);
    if (status != STATUS_OK) return status;
    struct importing importing = {
        .app = app, .company = TEXT_UP_TO(1048576), .arena = arena_new(), .dry = dry};
    status = importing.arena == NULL ? app_no_memory(faults)
                                     : import(&importing, root, who, now_s, faults);
    if (status == STATUS_OK && out != NULL) *out = importing.counts;
    text_free(&importing.company);
    arena_free(importing.arena);
    json_decref(root);
    return status;
}

enum status app_import(struct app_imported *out, struct app *app, const char *json, size_t length,
                       const char *who, int64_t now_s, struct faults *faults)
{
    return import_text(out, app, json, length, false, who, now_s, faults);
}

enum status app_import_dry(struct app_imported *out, struct app *app, const char *json,
                           size_t length, const char *who, int64_t now_s, struct faults *faults)
{
    return import_text(out, app, json, length, true, who, now_s, faults);
}
