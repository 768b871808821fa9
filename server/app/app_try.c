/* SPDX-License-Identifier: MIT */
/*
 * Why: try-it. A copy is tried as bytes: the stored job and its records are put together, changed,
 * and read through intake like any other; so are a company and hours of weather. A try can never do
 * what a record, a rulebook or a company could not, and nothing of it is stored.
 */
#include <string.h>

#include "app/app_accept.h"
#include "app/app_company.h"
#include "app/app_internal.h"
#include "app/app_plan.h"
#include "rulebook/rulebook.h"

#include "base/banned.h"

struct trying {
    struct app *app;
    const struct app_view *view;
    const struct job *job;
    json_t *changes;
    json_t *whole; /**< the copy; own */
    struct arena *arena;
    struct faults *faults;
};

static enum status whole_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct trying *trying = context;
    struct arena *scratch = arena_new();
    if (scratch == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_job job = {0};
    const struct store_record_body *records = NULL;
    size_t count = 0;
    enum status status = store_job_find(txn, trying->job->id, &job, scratch, fault);
    if (status == STATUS_OK) {
        status = store_record_list(txn, job.number, &records, &count, scratch, fault);
    }
    if (status == STATUS_OK) {
        struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
        app_whole_text(&text, &job, records, count);
        status = app_text_status(&text, trying->faults);
        if (status == STATUS_OK) {
            status = app_parse_stored(&trying->whole, text.data, text.length, trying->faults);
        }
        text_free(&text);
    }
    arena_free(scratch);
    return status;
}

/* Only these may be changed; each of the shape its place has. */
static enum status members_check(const struct trying *trying)
{
    static const char *const objects[] = {"options",  "quantities", "job",
                                          "settings", "company",    "weather"};
    if (!json_is_object(trying->changes)) {
        return faults_add(trying->faults, "", "an object", "something else");
    }
    enum status status = STATUS_OK;
    const char *name;
    json_t *value;
    json_object_foreach(trying->changes, name, value)
    {
        const bool list = strcmp(name, "records") == 0;
        bool object = false;
        for (size_t i = 0; i < sizeof objects / sizeof *objects; i++)
            object = object || strcmp(name, objects[i]) == 0;
        if (!object && !list && strcmp(name, "rulebook") != 0) {
            status = faults_add(trying->faults, name,
                                "one of records, options, quantities, rulebook, job, settings, "
                                "company, weather",
                                "\"%s\"", name);
        } else if ((object && !json_is_object(value)) || (list && !json_is_array(value))) {
            status =
                faults_add(trying->faults, name, object ? "an object" : "a list", "something else");
        }
    }
    return status;
}

/* Members of the job itself; what has a place of its own is changed there. */
static enum status job_members(const struct trying *trying, json_t *members)
{
    static const char *const elsewhere[] = {"id", "records", "options", "quantities", "rulebook"};
    const char *name;
    json_t *value;
    json_object_foreach(json_object_get(trying->changes, "job"), name, value)
    {
        for (size_t i = 0; i < sizeof elsewhere / sizeof *elsewhere; i++)
            if (strcmp(name, elsewhere[i]) == 0)
                return faults_add(trying->faults, "job", "members that have no place of their own",
                                  "\"%s\"", name);
        if (json_object_set(members, name, value) != 0) return app_no_memory(trying->faults);
    }
    return STATUS_OK;
}

/* A record the job has already: the same body is nothing new, another one is refused. */
static enum status record_known(const struct trying *trying, json_t *there, json_t *record,
                                bool *out_known)
{
    static const char *const less[] = {"received", "who", NULL};
    *out_known = false;
    const char *id = json_string_value(json_object_get(record, "id"));
    size_t index;
    json_t *one;
    json_array_foreach(there, index, one)
    {
        if (strcmp(json_string_value(json_object_get(one, "id")), id) != 0) continue;
        struct text a = TEXT_UP_TO(1048576);
        struct text b = TEXT_UP_TO(1048576);
        app_canonical(&a, one, less);
        app_canonical(&b, record, less);
        *out_known = !a.failed && !b.failed && strcmp(text_z(&a), text_z(&b)) == 0;
        text_free(&a);
        text_free(&b);
        if (*out_known) return STATUS_OK;
        (void)faults_add(trying->faults, "id", "a new id, or the same record again",
                         "\"%s\", which is on record with another body", id);
        return STATUS_CONFLICT;
    }
    return STATUS_OK;
}

static enum status records_try(struct trying *trying)
{
    json_t *records = json_object_get(trying->changes, "records");
    if (records == NULL) return STATUS_OK;
    const struct intake intake = {trying->arena, NULL, trying->faults};
    const struct record *checked = NULL;
    size_t count = 0;
    enum status status = intake_records(&checked, &count, records, "records", trying->job->zone,
                                        trying->job->records, trying->job->record_count, &intake);
    json_t *there = json_object_get(trying->whole, "records");
    size_t index;
    json_t *record;
    json_array_foreach(records, index, record)
    {
        bool known = false;
        if (status == STATUS_OK) status = record_known(trying, there, record, &known);
        if (status != STATUS_OK) break;
        if (!known && json_array_append(there, record) != 0) return app_no_memory(trying->faults);
    }
    return status;
}

static enum status change(struct trying *trying)
{
    enum status status = members_check(trying);
    if (status != STATUS_OK) return status;
    struct fault fault = {0};
    const size_t before = trying->faults == NULL ? 0 : trying->faults->count;
    status = store_read(trying->app->store, (struct store_work){whole_run, trying, false}, &fault);
    if (status != STATUS_OK) {
        if (trying->faults != NULL && trying->faults->count == before) {
            (void)app_fault(trying->faults, status, &fault);
        }
        return status;
    }
    json_t *members = json_object();
    static const char *const merged[] = {"options", "quantities", "rulebook"};
    bool room = members != NULL;
    for (size_t i = 0; room && i < sizeof merged / sizeof *merged; i++) {
        json_t *value = json_object_get(trying->changes, merged[i]);
        room = value == NULL || json_object_set(members, merged[i], value) == 0;
    }
    if (room) status = job_members(trying, members);
    room = room && (status != STATUS_OK || app_merge_patch(trying->whole, members));
    json_decref(members);
    if (status != STATUS_OK) return status;
    return room ? records_try(trying) : app_no_memory(trying->faults);
}

/* --- company, settings, weather --------------------------------------------------------------- */

static enum status company_text(struct trying *trying, struct text *out)
{
    struct faults none = {0};
    const enum status status = app_company_get(out, NULL, trying->app, &none);
    faults_free(&none);
    if (status == STATUS_NOT_FOUND) {
        text_add_z(out, app_company_default);
        return app_text_status(out, trying->faults);
    }
    return status;
}

/* The company with a merge patch; the job's zone stays as it was read. */
static enum status changed_company(struct trying *trying, struct casefile *changed)
{
    json_t *patch = json_object_get(trying->changes, "company");
    if (patch == NULL) return STATUS_OK;
    struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    json_t *whole = NULL;
    enum status status = company_text(trying, &text);
    if (status == STATUS_OK)
        status = app_parse_stored(&whole, text.data, text.length, trying->faults);
    text_free(&text);
    if (status == STATUS_OK && !app_merge_patch(whole, patch))
        status = app_no_memory(trying->faults);
    if (status == STATUS_OK) {
        (void)pthread_mutex_lock(&trying->app->zones_mutex);
        const struct intake intake = app_intake(trying->app, trying->arena, trying->faults);
        status = intake_company(&changed->company, whole, "company", &intake);
        (void)pthread_mutex_unlock(&trying->app->zones_mutex);
    }
    json_decref(whole);
    return status;
}

/* Settings by id, in the unit they are written in; never one that could open earlier. */
static enum status changed_rulebook(const struct trying *trying, const struct rulebook **book)
{
    json_t *settings = json_object_get(trying->changes, "settings");
    if (settings == NULL || json_object_size(settings) == 0) return STATUS_OK;
    struct rulebook *copy = ARENA_TAKE(trying->arena, 1, struct rulebook);
    if (copy == NULL) return app_no_memory(trying->faults);
    *copy = **book;
    enum status status = STATUS_OK;
    const char *name;
    json_t *value;
    json_object_foreach(settings, name, value)
    {
        const enum status one =
            json_is_number(value)
                ? rulebook_try_setting(copy, *book, name, json_number_value(value), trying->faults)
                : faults_add(trying->faults, name, "a number", "something else");
        if (one != STATUS_OK) status = one;
    }
    *book = copy;
    return status;
}

/* Every hour ahead warmer or colder by so much. */
static enum status shift_hours(const struct trying *trying, struct station *station, double degc)
{
    double *temps = ARENA_TAKE(trying->arena, station->forecast.count, double);
    if (temps == NULL) return app_no_memory(trying->faults);
    for (size_t i = 0; i < station->forecast.count; i++)
        temps[i] = station->forecast.temp_degc[i] + degc;
    station->forecast.temp_degc = temps;
    return STATUS_OK;
}

/* Hours of the job's station: series of the case file's shape, and a shift of what is ahead. */
static enum status changed_weather(const struct trying *trying, struct job *job)
{
    json_t *weather = json_object_get(trying->changes, "weather");
    if (weather == NULL) return STATUS_OK;
    if (job->station == NULL)
        return faults_add(trying->faults, "weather", "a job with a station", "a job without one");
    struct station *copy = ARENA_TAKE(trying->arena, 1, struct station);
    json_t *series = json_deep_copy(weather);
    if (copy == NULL || series == NULL) {
        json_decref(series);
        return app_no_memory(trying->faults);
    }
    *copy = *job->station;
    json_t *shift = json_object_get(weather, "shift_degf");
    struct station read;
    (void)json_object_del(series, "shift_degf");
    const struct intake intake = {trying->arena, NULL, trying->faults};
    enum status status = intake_station(&read, copy->id, series, "weather", &intake);
    json_decref(series);
    if (status != STATUS_OK) return status;
    if (read.observed.count > 0) copy->observed = read.observed;
    if (read.forecast.count > 0) {
        copy->forecast = read.forecast;
        copy->forecast_made_s = read.forecast_made_s;
    }
    job->station = copy;
    if (shift == NULL) return STATUS_OK;
    if (!json_is_number(shift) ||
        !(json_number_value(shift) >= -60 && json_number_value(shift) <= 60))
        return faults_add(trying->faults, "weather.shift_degf", "a number, -60 to 60",
                          "something else");
    if (copy->forecast.count == 0 || copy->forecast.temp_degc == NULL) return STATUS_OK;
    return shift_hours(trying, copy, json_number_value(shift) / 1.8);
}

static enum status changed_job(struct trying *trying, struct job *out)
{
    enum status status = change(trying);
    if (status != STATUS_OK) return status;
    const struct casefile *casefile = app_view_case(trying->view);
    (void)pthread_mutex_lock(&trying->app->zones_mutex);
    const struct intake intake = app_intake(trying->app, trying->arena, trying->faults);
    status = intake_job(out, trying->whole, "", casefile->company.zone, casefile->stations,
                        casefile->station_count, &intake);
    (void)pthread_mutex_unlock(&trying->app->zones_mutex);
    return status;
}

/* What the tried records accept has to be on the table; what is on record is not asked again. */
static enum status accepts(const struct trying *trying, const struct rulebook *rulebook,
                           const struct company *company, const struct job *job)
{
    const size_t there = trying->job->record_count;
    if (job->record_count <= there) return STATUS_OK;
    return app_accept_check(rulebook, company, job, job->records + there, job->record_count - there,
                            "records", trying->faults);
}

/* The case with one job in another's place, and whatever else was changed. */
static enum status plan_both(struct app_try *out, struct trying *trying, struct job *job,
                             int64_t now_s)
{
    const struct casefile *casefile = app_view_case(trying->view);
    struct casefile *changed = ARENA_TAKE(trying->arena, 1, struct casefile);
    struct job *jobs = ARENA_TAKE(trying->arena, casefile->job_count, struct job);
    const struct rulebook *rulebook = app_view_rulebook(trying->view, trying->job);
    const struct rulebook *tried = rulebook;
    if (changed == NULL || jobs == NULL) return app_no_memory(trying->faults);
    *changed = *casefile;
    enum status status = changed_weather(trying, job);
    for (size_t i = 0; i < casefile->job_count; i++) {
        jobs[i] = &casefile->jobs[i] == trying->job ? *job : casefile->jobs[i];
    }
    changed->jobs = jobs;
    if (status == STATUS_OK) status = changed_company(trying, changed);
    if (status == STATUS_OK) status = changed_rulebook(trying, &tried);
    if (status == STATUS_OK) status = accepts(trying, tried, &changed->company, job);
    if (status == STATUS_OK)
        status =
            app_plan_case(&out->before, casefile, rulebook, now_s, trying->arena, trying->faults);
    if (status == STATUS_OK)
        status = app_plan_case(&out->after, changed, tried, now_s, trying->arena, trying->faults);
    return status;
}

enum status app_try(struct app_try *out, struct app_view *view, const char *job_id,
                    const char *json, size_t length, int64_t now_s, struct arena *arena,
                    struct faults *faults)
{
    struct trying trying = {.app = app_view_app(view),
                            .view = view,
                            .job = app_view_job(view, job_id),
                            .arena = arena,
                            .faults = faults};
    if (trying.job == NULL) {
        (void)faults_add(faults, "job", "the id of a job of this store", "\"%s\"", job_id);
        return STATUS_NOT_FOUND;
    }
    enum status status = intake_parse(&trying.changes, json, length, faults);
    struct job *job = ARENA_TAKE(arena, 1, struct job);
    if (status == STATUS_OK && job == NULL) status = app_no_memory(faults);
    if (status == STATUS_OK) status = changed_job(&trying, job);
    if (status == STATUS_OK) status = plan_both(out, &trying, job, now_s);
    json_decref(trying.changes);
    json_decref(trying.whole);
    return status;
}
