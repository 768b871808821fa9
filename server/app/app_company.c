/* SPDX-License-Identifier: MIT */
/* Why: see app_company.h. Another zone moves the civil days of jobs that name none, so then every
 * job is read again before the company is taken. */
#include "app/app_company.h"

#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"

#include "base/banned.h"

enum { COMPANY_BYTES_MAX = 1048576 };

struct getting {
    struct text *out;
    int64_t version;
};

static enum status get_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct getting *getting = context;
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_company company = {0};
    const enum status status = store_company_get(txn, &company, arena, fault);
    if (status == STATUS_OK) {
        text_add(getting->out, company.body, company.body_length);
        getting->version = company.version;
    }
    arena_free(arena);
    return status;
}

enum status app_company_get(struct text *out, int64_t *out_version, struct app *app,
                            struct faults *faults)
{
    struct getting getting = {out, 0};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){get_run, &getting, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    if (out_version != NULL) *out_version = getting.version;
    return app_text_status(out, faults);
}

struct putting {
    struct app *app;
    int64_t expected;
    const struct text *body;
    const struct zone *zone;
    const struct company *company; /**< as it comes */
    int64_t version;
    struct faults found;
};

/* Changes of rules are only added to: who changed a number, when and why is never taken back. */
static enum status keeps_rules(const struct company *old, const struct company *coming,
                               struct faults *found)
{
    for (size_t i = 0; i < old->rule_count; i++) {
        const struct rule_change *was = &old->rules[i];
        const struct rule_change *is = &coming->rules[i];
        if (i < coming->rule_count && strcmp(was->id, is->id) == 0 && was->value == is->value &&
            was->at_s == is->at_s && strcmp(was->by, is->by) == 0 &&
            strcmp(was->reason, is->reason) == 0)
            continue;
        char path[40];
        (void)snprintf(path, sizeof path, "rules[%zu]", i);
        return faults_add(found, path, "the change that is on record; add another one behind it",
                          "another, or none");
    }
    return STATUS_OK;
}

static enum status put(struct putting *putting, struct store_txn *txn, struct arena *arena,
                       struct fault *fault)
{
    struct company old;
    struct store_company row = {.version = 0};
    enum status status = store_company_get(txn, &row, arena, fault);
    if (status == STATUS_NOT_FOUND) status = STATUS_OK;
    if (status != STATUS_OK) return status;
    putting->version = row.version;
    if (putting->expected != APP_VERSION_ANY && putting->expected != row.version) {
        fault_set(fault, "version", "the version the change was made against", "version %lld",
                  (long long)row.version);
        return STATUS_CONFLICT;
    }
    if (row.version > 0 && row.body_length == putting->body->length &&
        memcmp(row.body, putting->body->data, row.body_length) == 0) {
        return STATUS_OK;
    }
    status = app_company_read(&old, &row.version, putting->app, txn, arena, &putting->found);
    if (status == STATUS_OK) status = keeps_rules(&old, putting->company, &putting->found);
    if (status == STATUS_OK && strcmp(old.zone->name, putting->zone->name) != 0) {
        status = app_jobs_check(putting->app, txn, putting->zone, &putting->found);
    }
    if (status != STATUS_OK) return status;
    putting->version++;
    const struct store_company company = {putting->version, putting->body->data,
                                          putting->body->length};
    return store_company_put(txn, &company, fault);
}

static enum status put_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct putting *putting = context;
    faults_free(&putting->found);
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    const enum status status = put(putting, txn, arena, fault);
    arena_free(arena);
    return status;
}

static enum status put_checked(struct putting *putting, json_t *json, struct text *body,
                               struct arena *arena, struct faults *faults)
{
    struct company *company = ARENA_TAKE(arena, 1, struct company);
    if (company == NULL) return app_no_memory(faults);
    (void)pthread_mutex_lock(&putting->app->zones_mutex);
    const struct intake intake = app_intake(putting->app, arena, faults);
    enum status status = intake_company(company, json, "", &intake);
    (void)pthread_mutex_unlock(&putting->app->zones_mutex);
    struct rulebook *changed = ARENA_TAKE(arena, 1, struct rulebook);
    if (status == STATUS_OK && changed == NULL) status = app_no_memory(faults);
    if (status == STATUS_OK)
        status = rulebook_change(changed, putting->app->rulebook, company->rules,
                                 company->rule_count, faults);
    if (status != STATUS_OK) return status;
    app_canonical(body, json, NULL);
    status = app_text_status(body, faults);
    if (status != STATUS_OK) return status;
    putting->company = company;
    putting->zone = company->zone;
    putting->body = body;
    struct fault fault = {0};
    status = store_write(putting->app->store, (struct store_work){put_run, putting, false}, &fault);
    for (size_t i = 0; i < putting->found.count; i++) {
        (void)app_fault(faults, status, &putting->found.items[i]);
    }
    if (putting->found.count == 0) (void)app_fault(faults, status, &fault);
    faults_free(&putting->found);
    return status;
}

enum status app_company_put(int64_t *out_version, struct app *app, int64_t expected,
                            const char *json, size_t length, struct faults *faults)
{
    json_t *parsed = NULL;
    enum status status = intake_parse(&parsed, json, length, faults);
    if (status != STATUS_OK) return status;
    struct arena *arena = arena_new();
    struct text body = TEXT_UP_TO(COMPANY_BYTES_MAX);
    struct putting putting = {.app = app, .expected = expected};
    status =
        arena == NULL ? app_no_memory(faults) : put_checked(&putting, parsed, &body, arena, faults);
    if (status == STATUS_OK && out_version != NULL) *out_version = putting.version;
    text_free(&body);
    arena_free(arena);
    json_decref(parsed);
    return status;
}
