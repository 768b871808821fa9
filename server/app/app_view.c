/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_view.h. A view is put together from units: one per job, one per station, one per
 * station's past years, one for the company. A unit is parsed once into an arena of its own, never
 * changed, counted, and shared by every view that has it; so after a record came in one job is read
 * again and all the rest is pointers.
 */
#include "app/app_view.h"

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/app_internal.h"
#include "model/record.h"
#include "store/store_station.h"

#include "base/banned.h"

/** Something parsed, shared by views. */
struct piece {
    atomic_size_t references;
    struct arena *arena; /**< holds the unit itself */
    int64_t number;
    int64_t version;
    struct piece *part; /**< a station's past years; NULL else */
};

struct company_unit {
    struct piece unit;
    struct company company;
};

struct job_unit {
    struct piece unit;
    struct job job; /**< station still NULL */
    unsigned char body_hash[STORE_HASH_BYTES];
};

struct history_unit {
    struct piece unit;
    struct series *history;
    size_t count;
};

struct station_unit {
    struct piece unit;
    struct station station;
};

struct app_view {
    atomic_size_t references;
    struct app *app;
    struct arena *arena; /**< holds the view and its arrays */
    uint64_t commits;
    uint64_t generation;
    struct casefile casefile;
    struct company_unit *company;
    struct job_unit **jobs; /**< in the order of the case */
    struct station_unit **stations;
    const struct job **by_id;        /**< sorted */
    const struct rulebook *rulebook; /**< with the changes of the company */
};

/* --- units --------------------------------------------------------------------------------- */

static void *unit_new(size_t bytes)
{
    struct arena *arena = arena_new();
    struct piece *unit = arena == NULL ? NULL : arena_take(arena, 1, bytes);
    if (unit == NULL) {
        arena_free(arena);
        return NULL;
    }
    atomic_init(&unit->references, 1);
    unit->arena = arena;
    return unit;
}

static void *unit_share(struct piece *unit)
{
    (void)atomic_fetch_add_explicit(&unit->references, 1, memory_order_relaxed);
    return unit;
}

static void unit_release(struct piece *unit)
{
    if (unit == NULL) return;
    if (atomic_fetch_sub_explicit(&unit->references, 1, memory_order_acq_rel) != 1) return;
    unit_release(unit->part);
    arena_free(unit->arena);
}

static void view_free(struct app_view *view)
{
    unit_release(view->company == NULL ? NULL : &view->company->unit);
    for (size_t i = 0; i < view->casefile.job_count; i++) {
        if (view->jobs[i] != NULL) unit_release(&view->jobs[i]->unit);
    }
    for (size_t i = 0; i < view->casefile.station_count; i++) {
        if (view->stations[i] != NULL) unit_release(&view->stations[i]->unit);
    }
    arena_free(view->arena);
}

void app_view_release(struct app_view *view)
{
    if (view == NULL) return;
    if (atomic_fetch_sub_explicit(&view->references, 1, memory_order_acq_rel) == 1) {
        view_free(view);
    }
}

void app_view_forget(struct app *app)
{
    app_view_release(app->view);
    app->view = NULL;
}

/* --- building ------------------------------------------------------------------------------ */

struct build {
    struct app *app;
    const struct app_view *old; /**< NULL: none */
    struct app_view *view;
    struct arena *scratch;
    struct faults *faults;
    size_t parsed;
};

static enum status company_build(struct build *build, struct store_txn *txn)
{
    struct store_company head = {.version = 0};
    struct fault fault = {0};
    enum status status = store_company_get(txn, &head, build->scratch, &fault);
    if (status != STATUS_OK && status != STATUS_NOT_FOUND) {
        return app_fault(build->faults, status, &fault);
    }
    if (build->old != NULL && build->old->company->unit.version == head.version) {
        build->view->company = unit_share(&build->old->company->unit);
    } else {
        struct company_unit *company = unit_new(sizeof *company);
        if (company == NULL) return app_no_memory(build->faults);
        build->view->company = company;
        status = app_company_read(&company->company, &company->unit.version, build->app, txn,
                                  company->unit.arena, build->faults);
        if (status != STATUS_OK) return status;
    }
    build->view->casefile.company = build->view->company->company;
    build->view->casefile.now_zone = build->view->company->company.zone;
    build->view->generation += (uint64_t)head.version;
    return STATUS_OK;
}

static struct station_unit *station_known(const struct build *build, int64_t number)
{
    for (size_t i = 0; build->old != NULL && i < build->old->casefile.station_count; i++) {
        if (build->old->stations[i]->unit.number == number) return build->old->stations[i];
    }
    return NULL;
}

static enum status history_build(struct build *build, struct store_txn *txn,
                                 const struct store_station *head, const struct station_unit *old,
                                 struct station_unit *station)
{
    if (old != NULL && old->unit.part->version == head->history_version) {
        station->unit.part = unit_share(old->unit.part);
    } else {
        struct history_unit *history = unit_new(sizeof *history);
        if (history == NULL) return app_no_memory(build->faults);
        history->unit.version = head->history_version;
        station->unit.part = &history->unit;
        struct fault fault = {0};
        const enum status status = store_station_history(
            txn, head->number, &history->history, &history->count, history->unit.arena, &fault);
        if (status != STATUS_OK) return app_fault(build->faults, status, &fault);
    }
    const struct history_unit *part = (const struct history_unit *)(void *)station->unit.part;
    station->station.history = part->history;
    station->station.history_count = part->count;
    return STATUS_OK;
}

static enum status station_build(struct build *build, struct store_txn *txn,
                                 const struct store_station *head, struct station_unit **out)
{
    struct station_unit *old = station_known(build, head->number);
    if (old != NULL && old->unit.version == head->version) {
        *out = unit_share(&old->unit);
        return STATUS_OK;
    }
    struct station_unit *station = unit_new(sizeof *station);
    if (station == NULL) return app_no_memory(build->faults);
    *out = station;
    struct arena *arena = station->unit.arena;
    station->unit.number = head->number;
    station->unit.version = head->version;
    struct station *model = &station->station;
    model->id = arena_copy(arena, head->id, strlen(head->id));
    model->name = head->name == NULL ? NULL : arena_copy(arena, head->name, strlen(head->name));
    model->latitude_deg = head->latitude_deg;
    model->longitude_deg = head->longitude_deg;
    model->forecast_made_s = head->forecast_made_s;
    if (arena_failed(arena)) return app_no_memory(build->faults);
    struct fault fault = {0};
    const enum status status =
        store_station_hours(txn, head->number, &model->observed, &model->forecast, arena, &fault);
    if (status != STATUS_OK) return app_fault(build->faults, status, &fault);
    return history_build(build, txn, head, old, station);
}

static enum status stations_build(struct build *build, struct store_txn *txn)
{
    struct app_view *view = build->view;
    const struct store_station *heads = NULL;
    size_t count = 0;
    struct fault fault = {0};
    enum status status = store_station_list(txn, &heads, &count, build->scratch, &fault);
    if (status != STATUS_OK) return app_fault(build->faults, status, &fault);
    struct station *stations = ARENA_TAKE(view->arena, count, struct station);
    view->stations = ARENA_TAKE(view->arena, count, struct station_unit *);
    if (arena_failed(view->arena)) return app_no_memory(build->faults);
    view->casefile.stations = stations;
    view->casefile.station_count = count;
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        status = station_build(build, txn, &heads[i], &view->stations[i]);
        if (status == STATUS_OK) stations[i] = view->stations[i]->station;
        view->generation += (uint64_t)heads[i].version;
    }
    return status;
}

static int by_number(const void *key, const void *element)
{
    const int64_t number = *(const int64_t *)key;
    const struct job_unit *unit = *(struct job_unit *const *)element;
    return (number > unit->unit.number) - (number < unit->unit.number);
}

/* Jobs keep their zone from the company, so another company means every job again. */
static struct job_unit *job_known(const struct build *build, const struct store_head *head)
{
    if (build->old == NULL || build->old->company != build->view->company) return NULL;
    struct job_unit *const *found =
        build->old->casefile.job_count == 0
            ? NULL
            : bsearch(&head->number, build->old->jobs, build->old->casefile.job_count,
                      sizeof *build->old->jobs, by_number);
    return found != NULL && (*found)->unit.version == head->version ? *found : NULL;
}

static enum status job_build(struct build *build, struct store_txn *txn,
                             const struct store_head *head, struct job_unit **out)
{
    struct job_unit *known = job_known(build, head);
    if (known != NULL) {
        *out = unit_share(&known->unit);
        return STATUS_OK;
    }
    struct job_unit *unit = unit_new(sizeof *unit);
    if (unit == NULL) return app_no_memory(build->faults);
    *out = unit;
    unit->unit.number = head->number;
    unit->unit.version = head->version;
    struct store_job row = {0};
    struct fault fault = {0};
    struct arena *scratch = arena_new();
    if (scratch == NULL) return app_no_memory(build->faults);
    enum status status = store_job_get(txn, head->number, &row, scratch, &fault);
    (void)app_fault(build->faults, status, &fault);
    if (status == STATUS_OK) {
        store_hash(unit->body_hash, row.body, row.body_length, NULL, 0, NULL, 0);
        status = app_job_read(&unit->job, build->app, txn, &row, NULL,
                              build->view->company->company.zone, unit->unit.arena, build->faults);
        if (status == STATUS_INVALID || status == STATUS_NOT_FOUND) status = STATUS_CORRUPT;
    }
    arena_free(scratch);
    build->parsed++;
    return status;
}

static int by_id(const void *a, const void *b)
{
    return strcmp((*(const struct job *const *)a)->id, (*(const struct job *const *)b)->id);
}

static enum status jobs_build(struct build *build, struct store_txn *txn)
{
    struct app_view *view = build->view;
    const struct store_head *heads = NULL;
    size_t count = 0;
    struct fault fault = {0};
    enum status status = store_job_heads(txn, &heads, &count, build->scratch, &fault);
    if (status != STATUS_OK) return app_fault(build->faults, status, &fault);
    struct job *jobs = ARENA_TAKE(view->arena, count, struct job);
    view->jobs = ARENA_TAKE(view->arena, count, struct job_unit *);
    view->by_id = ARENA_TAKE(view->arena, count, const struct job *);
    if (arena_failed(view->arena)) return app_no_memory(build->faults);
    view->casefile.jobs = jobs;
    view->casefile.job_count = count;
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        status = job_build(build, txn, &heads[i], &view->jobs[i]);
        if (status != STATUS_OK) break;
        jobs[i] = view->jobs[i]->job;
        if (jobs[i].station_id != NULL) {
            jobs[i].station = app_view_station(view, jobs[i].station_id);
        }
        view->by_id[i] = &jobs[i];
        view->generation += (uint64_t)heads[i].version;
    }
    if (status == STATUS_OK && count > 0) qsort(view->by_id, count, sizeof *view->by_id, by_id);
    return status;
}

/* The shipped rulebook, or a copy with the owner's changes. */
static enum status rulebook_build(struct build *build)
{
    const struct company *company = &build->view->casefile.company;
    build->view->rulebook = build->app->rulebook;
    if (company->rule_count == 0) return STATUS_OK;
    struct rulebook *changed = ARENA_TAKE(build->view->arena, 1, struct rulebook);
    if (changed == NULL) return app_no_memory(build->faults);
    build->view->rulebook = changed;
    return rulebook_change(changed, build->app->rulebook, company->rules, company->rule_count,
                           build->faults);
}

static enum status build_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct build *build = context;
    (void)fault;
    enum status status = company_build(build, txn);
    if (status == STATUS_OK) status = stations_build(build, txn);
    if (status == STATUS_OK) status = jobs_build(build, txn);
    if (status == STATUS_OK) status = rulebook_build(build);
    return status;
}

static double seconds(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

/* Called with view_mutex held; app->view is replaced on OK. */
static enum status rebuild(struct app *app, uint64_t commits, struct faults *faults)
{
    const double from = seconds();
    struct arena *arena = arena_new();
    struct arena *scratch = arena_new();
    struct app_view *view = arena == NULL ? NULL : ARENA_TAKE(arena, 1, struct app_view);
    if (view == NULL || scratch == NULL) {
        arena_free(arena);
        arena_free(scratch);
        return app_no_memory(faults);
    }
    atomic_init(&view->references, 1);
    view->app = app;
    view->arena = arena;
    view->commits = commits;
    view->casefile.now_s = INSTANT_NONE;
    struct build build = {app, app->view, view, scratch, faults, 0};
    struct fault fault = {0};
    const size_t faults_before = faults == NULL ? 0 : faults->count;
    const enum status status =
        store_read(app->store, (struct store_work){build_run, &build, false}, &fault);
    if (status != STATUS_OK && faults != NULL && faults->count == faults_before) {
        (void)app_fault(faults, status, &fault);
    }
    arena_free(scratch);
    if (status != STATUS_OK) {
        app_view_release(view);
        return status;
    }
    app_view_release(app->view);
    app->view = view;
    app->rebuilds++;
    app->jobs_parsed += build.parsed;
    app->last_rebuild_s = seconds() - from;
    return STATUS_OK;
}

/* --- taking -------------------------------------------------------------------------------- */

enum status app_view_take(struct app_view **out, struct app *app, struct faults *faults)
{
    *out = NULL;
    enum status status = STATUS_OK;
    (void)pthread_mutex_lock(&app->view_mutex);
    /* read before the store is: what commits meanwhile is then seen as new by the next taker */
    const uint64_t commits = store_commits(app->store);
    if (app->view == NULL || app->view->commits != commits || app->read_only) {
        status = rebuild(app, commits, faults);
    }
    if (status == STATUS_OK) {
        (void)atomic_fetch_add_explicit(&app->view->references, 1, memory_order_relaxed);
        *out = app->view;
    }
    (void)pthread_mutex_unlock(&app->view_mutex);
    return status;
}

bool app_view_glance(struct app_view **out, struct app *app)
{
    (void)pthread_mutex_lock(&app->view_mutex);
    *out = app->view;
    if (*out != NULL) {
        (void)atomic_fetch_add_explicit(&(*out)->references, 1, memory_order_relaxed);
    }
    (void)pthread_mutex_unlock(&app->view_mutex);
    return *out != NULL;
}

const struct casefile *app_view_case(const struct app_view *view)
{
    return &view->casefile;
}

uint64_t app_view_generation(const struct app_view *view)
{
    return view->generation;
}

static int id_of_job(const void *key, const void *element)
{
    return strcmp(key, (*(const struct job *const *)element)->id);
}

const struct job *app_view_job(const struct app_view *view, const char *job_id)
{
    if (view->casefile.job_count == 0) return NULL;
    const struct job *const *found =
        bsearch(job_id, view->by_id, view->casefile.job_count, sizeof *view->by_id, id_of_job);
    return found == NULL ? NULL : *found;
}

int64_t app_view_job_version(const struct app_view *view, const char *job_id)
{
    const struct job *job = app_view_job(view, job_id);
    return job == NULL ? 0 : view->jobs[job - view->casefile.jobs]->unit.version;
}

const struct station *app_view_station(const struct app_view *view, const char *station_id)
{
    for (size_t i = 0; i < view->casefile.station_count; i++) {
        const struct station *station = &view->casefile.stations[i];
        if (strcmp(station->id, station_id) == 0) return station;
    }
    return NULL;
}

const struct rulebook *app_view_rulebook(const struct app_view *view, const struct job *job)
{
    REQUIRE(strcmp(job->rulebook_id, view->rulebook->id) == 0);
    return view->rulebook;
}

const struct rulebook *app_view_any_rulebook(const struct app_view *view)
{
    return view->rulebook;
}

struct app *app_view_app(const struct app_view *view)
{
    return view->app;
}

int64_t app_view_company_version(const struct app_view *view)
{
    return view->company->unit.version;
}

const unsigned char *app_view_body_hash(const struct app_view *view, const struct job *job)
{
    return view->jobs[job - view->casefile.jobs]->body_hash;
}
