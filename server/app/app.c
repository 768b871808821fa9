/* SPDX-License-Identifier: MIT */
/* Why: see app.h. Opening and closing, the secret, and the figures. */
#include "app/app.h"

#include <sodium.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/app_internal.h"
#include "app/app_password.h"
#include "app/app_person.h"
#include "base/datadir.h"
#include "base/limits.h"
#include "store/store_link.h"
#include "store/store_person.h"

#include "base/banned.h"

enum { DIRECTORY_MAX = 4096 };

enum status app_fault(struct faults *faults, enum status status, const struct fault *fault)
{
    if (status != STATUS_OK) {
        (void)faults_add(faults, fault->path, fault->wanted, "%s", fault->found);
    }
    return status;
}

enum status app_no_memory(struct faults *faults)
{
    (void)faults_add(faults, "", "memory", "none left");
    return STATUS_LIMIT;
}

enum status app_text_status(const struct text *text, struct faults *faults)
{
    const enum status status = text_status(text);
    if (status == STATUS_IO) return app_no_memory(faults);
    if (status == STATUS_LIMIT) {
        (void)faults_add(faults, "", "a shorter answer", "more than %zu bytes", text->limit);
    }
    return status;
}

/* --- the secret ---------------------------------------------------------------------------- */

static enum status owners_look(struct store_txn *txn, void *context, struct fault *fault)
{
    struct app *app = context;
    int64_t owners = 0;
    const enum status status =
        store_person_count(txn, app_role_name(APP_ROLE_OWNER), &owners, fault);
    atomic_store_explicit(&app->people, owners > 0, memory_order_release);
    return status;
}

static enum status secret_ready(struct store_txn *txn, void *context, struct fault *fault)
{
    struct app *app = context;
    const enum status status =
        store_secret_get(txn, "root", app->secret, sizeof app->secret, fault);
    if (status != STATUS_NOT_FOUND || app->read_only) return status;
    randombytes_buf(app->secret, sizeof app->secret);
    return store_secret_put(txn, "root", app->secret, sizeof app->secret, fault);
}

void app_secret(unsigned char out[APP_SECRET_BYTES], const struct app *app, const char *purpose)
{
    REQUIRE(strlen(purpose) > 0 && strlen(purpose) <= 16);
    (void)crypto_generichash(out, APP_SECRET_BYTES, (const unsigned char *)purpose, strlen(purpose),
                             app->secret, sizeof app->secret);
}

/* --- open and close ------------------------------------------------------------------------ */

static enum status store_ready(struct app *app, const struct app_options *options,
                               struct faults *faults)
{
    char migrations[DIRECTORY_MAX];
    const int length = snprintf(migrations, sizeof migrations, "%s/schema/migrations", data_dir());
    if (length < 0 || (size_t)length >= sizeof migrations) {
        (void)faults_add(faults, "", "a shorter data directory", "%s", data_dir());
        return STATUS_IO;
    }
    const struct store_options store = {
        .path = options->path,
        .migrations = migrations,
        .vfs = options->vfs,
        .now_s = options->now_s,
        .create = options->create,
        .read_only = options->read_only,
    };
    struct fault fault = {0};
    enum status status = store_open(&app->store, &store, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    const struct store_work work = {secret_ready, app, .outside = false};
    status = options->read_only ? store_read(app->store, work, &fault)
                                : store_write(app->store, work, &fault);
    if (options->read_only && status == STATUS_NOT_FOUND) return STATUS_OK;
    if (status == STATUS_OK)
        status = store_read(app->store, (struct store_work){owners_look, app, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_open(struct app **out, const struct app_options *options, struct faults *faults)
{
    *out = NULL;
    struct app *app = calloc(1, sizeof *app);
    if (app == NULL) return app_no_memory(faults);
    app->read_only = options->read_only;
    ENSURE(pthread_mutex_init(&app->zones_mutex, NULL) == 0);
    ENSURE(pthread_mutex_init(&app->view_mutex, NULL) == 0);
    app_password_ready(app);
    app->zones = intake_zones_new();
    enum status status = app->zones == NULL ? app_no_memory(faults) : STATUS_OK;
    if (status == STATUS_OK) {
        status = rulebook_load_shipped(&app->rulebook, "modular-masonry", faults);
    }
    if (status == STATUS_OK) status = store_ready(app, options, faults);
    if (status != STATUS_OK) {
        app_close(app);
        return status;
    }
    *out = app;
    return STATUS_OK;
}

void app_close(struct app *app)
{
    if (app == NULL) return;
    app_view_forget(app);
    store_close(app->store);
    rulebook_free(app->rulebook);
    intake_zones_free(app->zones);
    (void)pthread_mutex_destroy(&app->zones_mutex);
    (void)pthread_mutex_destroy(&app->view_mutex);
    app_password_done(app);
    sodium_memzero(app->secret, sizeof app->secret);
    free(app);
}

/* --- figures ------------------------------------------------------------------------------- */

void app_figures(struct app *app, struct app_figures *out)
{
    struct store_figures store;
    store_figures(app->store, &store);
    (void)pthread_mutex_lock(&app->stretching.mutex);
    const uint64_t passwords = app->stretching.count;
    (void)pthread_mutex_unlock(&app->stretching.mutex);
    (void)pthread_mutex_lock(&app->view_mutex);
    *out = (struct app_figures){
        .commits = store.commits,
        .writes = store.writes,
        .failed_writes = store.failed_writes,
        .rebuilds = app->rebuilds,
        .jobs_parsed = app->jobs_parsed,
        .passwords = passwords,
        .last_rebuild_s = app->last_rebuild_s,
    };
    (void)pthread_mutex_unlock(&app->view_mutex);
}

static enum status look(struct store_txn *txn, void *context, struct fault *fault)
{
    struct arena *arena = context;
    const struct store_head *heads = NULL;
    size_t count = 0;
    return store_job_heads(txn, &heads, &count, arena, fault);
}

static enum status beat(struct store_txn *txn, void *context, struct fault *fault)
{
    (void)context;
    return store_beat(txn, fault);
}

static int64_t steady_s(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec;
}

enum status app_health(struct app *app, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return app_no_memory(faults);
    struct fault fault = {0};
    enum status status = store_read(app->store, (struct store_work){look, arena, false}, &fault);
    if (status == STATUS_OK && !app->read_only && steady_s() >= atomic_load(&app->well_until_s)) {
        status = store_write(app->store, (struct store_work){beat, NULL, false}, &fault);
        if (status == STATUS_OK) atomic_store(&app->well_until_s, steady_s() + HEALTH_KEPT_S);
    }
    arena_free(arena);
    return app_fault(faults, status, &fault);
}
