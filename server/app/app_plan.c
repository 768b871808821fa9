/* SPDX-License-Identifier: MIT */
/* Why: see app_plan.h. A copy is tried as bytes: the stored job and its records are put together,
 * changed, and read through intake like any other, so a try can never do what a record could not.
 */
#include "app/app_plan.h"

#include <string.h>

#include "app/app_internal.h"
#include "planner/planner.h"

#include "base/banned.h"

enum status app_plan_job(const struct job_plan **out, const struct app_view *view,
                         const char *job_id, int64_t now_s, struct arena *arena,
                         struct faults *faults)
{
    const struct job *job = app_view_job(view, job_id);
    if (job == NULL) {
        (void)faults_add(faults, "job", "the id of a job of this store", "\"%s\"", job_id);
        return STATUS_NOT_FOUND;
    }
    struct job_plan *plan = ARENA_TAKE(arena, 1, struct job_plan);
    if (plan == NULL) return app_no_memory(faults);
    const enum status status = planner_job(plan, job, &app_view_case(view)->company,
                                           app_view_rulebook(view, job), now_s, arena);
    if (status != STATUS_OK) return app_no_memory(faults);
    *out = plan;
    return STATUS_OK;
}

static enum status plan_case(const struct plan **out, const struct casefile *casefile,
                             const struct rulebook *rulebook, int64_t now_s, struct arena *arena,
                             struct faults *faults)
{
    struct casefile *copy = ARENA_TAKE(arena, 1, struct casefile);
    if (copy == NULL) return app_no_memory(faults);
    *copy = *casefile;
    copy->now_s = now_s;
    return planner_run(out, copy, rulebook, arena) == STATUS_OK ? STATUS_OK : app_no_memory(faults);
}

enum status app_plan_all(const struct plan **out, const struct app_view *view, int64_t now_s,
                         struct arena *arena, struct faults *faults)
{
    return plan_case(out, app_view_case(view), app_view_any_rulebook(view), now_s, arena, faults);
}

enum status app_plan_pictures(const struct job_plan **out, const struct app_view *view,
                              const struct job_plan *plan, int64_t now_s, struct arena *arena,
                              struct faults *faults)
{
    struct job_plan *copy = ARENA_TAKE(arena, 1, struct job_plan);
    if (copy == NULL) return app_no_memory(faults);
    *copy = *plan;
    const enum status status = planner_pictures(copy, &app_view_case(view)->company,
                                                app_view_rulebook(view, plan->job), now_s, arena);
    if (status != STATUS_OK) return app_no_memory(faults);
    *out = copy;
    return STATUS_OK;
}

const struct job_plan *app_plan_find(const struct plan *plan, const char *job_id)
{
    for (size_t i = 0; i < plan->job_count; i++) {
        if (strcmp(plan->jobs[i].job->id, job_id) == 0) return &plan->jobs[i];
    }
    return NULL;
}

/* --- try-it -------------------------------------------------------------------------------- */

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
    if (!json_is_object(trying->changes)) {
        return faults_add(trying->faults, "", "an object", "something else");
    }
    enum status status = STATUS_OK;
    const char *name;
    json_t *value;
    json_object_foreach(trying->changes, name, value)
    {
        const bool object = strcmp(name, "options") == 0 || strcmp(name, "quantities") == 0;
        const bool list = strcmp(name, "records") == 0;
        if (!object && !list && strcmp(name, "rulebook") != 0) {
            status = faults_add(trying->faults, name,
                                "one of records, options, quantities, rulebook", "\"%s\"", name);
        } else if ((object && !json_is_object(value)) || (list && !json_is_array(value))) {
            status =
                faults_add(trying->faults, name, object ? "an object" : "a list", "something else");
        }
    }
    return status;
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
    room = room && app_merge_patch(trying->whole, members);
    json_decref(members);
    return room ? records_try(trying) : app_no_memory(trying->faults);
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

/* The case with one job in another's place. */
static enum status plan_both(struct app_try *out, const struct trying *trying,
                             const struct job *job, int64_t now_s)
{
    const struct casefile *casefile = app_view_case(trying->view);
    struct casefile changed = *casefile;
    struct job *jobs = ARENA_TAKE(trying->arena, casefile->job_count, struct job);
    if (jobs == NULL) return app_no_memory(trying->faults);
    for (size_t i = 0; i < casefile->job_count; i++) {
        jobs[i] = &casefile->jobs[i] == trying->job ? *job : casefile->jobs[i];
    }
    changed.jobs = jobs;
    const struct rulebook *rulebook = app_view_rulebook(trying->view, trying->job);
    enum status status =
        plan_case(&out->before, casefile, rulebook, now_s, trying->arena, trying->faults);
    if (status == STATUS_OK) {
        status = plan_case(&out->after, &changed, rulebook, now_s, trying->arena, trying->faults);
    }
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
