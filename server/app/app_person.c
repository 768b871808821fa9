/* SPDX-License-Identifier: MIT */
/* Why: see app_person.h. */
#include "app/app_person.h"

#include <sodium.h>
#include <string.h>

#include "app/app_internal.h"
#include "app/app_password.h"
#include "base/limits.h"
#include "model/record.h"
#include "store/store_person.h"

#include "base/banned.h"

static const char *const role_names[APP_ROLE_COUNT] = {"owner", "office", "station"};

const char *app_role_name(enum app_role role)
{
    REQUIRE(role >= 0 && role < APP_ROLE_COUNT);
    return role_names[role];
}

bool app_role_parse(enum app_role *out, const char *name)
{
    for (int i = 0; i < APP_ROLE_COUNT; i++) {
        if (strcmp(role_names[i], name) != 0) continue;
        *out = (enum app_role)i;
        return true;
    }
    return false;
}

enum status app_name_check(const char *name, const char *path, struct faults *faults)
{
    const size_t length = strlen(name);
    bool plain = length > 0 && length <= NAME_BYTES_MAX && utf8_valid(name, length);
    for (size_t i = 0; plain && i < length; i++) {
        plain = (unsigned char)name[i] >= 0x20 && name[i] != 0x7f;
    }
    if (plain) return STATUS_OK;
    return faults_add(faults, path, "a name of 1 to 200 bytes without control characters",
                      "%zu bytes", length);
}

bool app_person_any(struct app *app)
{
    return atomic_load_explicit(&app->people, memory_order_acquire);
}

/* --- adding -------------------------------------------------------------------------------- */

struct adding {
    struct store_person person;
    int64_t owners;
};

static enum status add_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct adding *adding = context;
    enum status status =
        store_person_count(txn, role_names[APP_ROLE_OWNER], &adding->owners, fault);
    if (status != STATUS_OK) return status;
    if (adding->owners == 0 && strcmp(adding->person.role, role_names[APP_ROLE_OWNER]) != 0) {
        fault_set(fault, "role", "owner: the first person has to be one", "%s",
                  adding->person.role);
        return STATUS_CONFLICT;
    }
    int64_t number = 0;
    return store_person_add(txn, &adding->person, &number, fault);
}

static enum status password_fits(enum app_role role, const char *password, const char *name,
                                 struct faults *faults)
{
    if (role != APP_ROLE_STATION && password != NULL)
        return app_password_check(password, name, faults);
    if (role == APP_ROLE_STATION && password == NULL) return STATUS_OK;
    return faults_add(faults, "password", "one for an owner or the office, none for a station",
                      password == NULL ? "none" : "one");
}

enum status app_person_add(struct app *app, const char *name, enum app_role role,
                           const char *password, int64_t now_s, struct faults *faults)
{
    enum status status = app_name_check(name, "name", faults);
    if (status == STATUS_OK) status = password_fits(role, password, name, faults);
    char stretched[APP_PASSWORD_TEXT_MAX];
    if (status == STATUS_OK && password != NULL)
        status = app_password_stretch(stretched, app, password, faults);
    if (status != STATUS_OK) return status;
    struct adding adding = {.person = {.name = name,
                                       .role = app_role_name(role),
                                       .made_s = now_s,
                                       .revoked_s = INSTANT_NONE,
                                       .password = password == NULL ? NULL : stretched}};
    struct fault fault = {0};
    status = store_write(app->store, (struct store_work){add_run, &adding, false}, &fault);
    if (status == STATUS_OK) atomic_store_explicit(&app->people, true, memory_order_release);
    return app_fault(faults, status, &fault);
}

/* --- changing ------------------------------------------------------------------------------ */

struct changing {
    const char *name;
    const char *password;
    int64_t now_s;
};

static enum status passes_end(struct store_txn *txn, int64_t person, bool tokens, int64_t now_s,
                              struct fault *fault)
{
    const enum status status = store_pass_revoke_all(txn, person, "session", now_s, fault);
    if (status != STATUS_OK || !tokens) return status;
    return store_pass_revoke_all(txn, person, "token", now_s, fault);
}

/* The person of a name, and then what is to be done with them. */
static enum status
with_person(struct store_txn *txn, const struct changing *changing,
            enum status (*then)(struct store_txn *txn, const struct changing *changing,
                                const struct store_person *person, struct fault *fault),
            struct fault *fault)
{
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_person person = {0};
    enum status status = store_person_open(txn, changing->name, &person, arena, fault);
    if (status == STATUS_OK) status = then(txn, changing, &person, fault);
    arena_free(arena);
    return status;
}

static enum status password_then(struct store_txn *txn, const struct changing *changing,
                                 const struct store_person *person, struct fault *fault)
{
    if (strcmp(person->role, role_names[APP_ROLE_STATION]) == 0) {
        fault_set(fault, "name", "somebody who signs in; a station has a token", "\"%.80s\"",
                  changing->name);
        return STATUS_CONFLICT;
    }
    const enum status status =
        store_person_password(txn, person->number, changing->password, fault);
    if (status != STATUS_OK) return status;
    return passes_end(txn, person->number, false, changing->now_s, fault);
}

static enum status password_run(struct store_txn *txn, void *context, struct fault *fault)
{
    return with_person(txn, context, password_then, fault);
}

enum status app_person_password(struct app *app, const char *name, const char *password,
                                int64_t now_s, struct faults *faults)
{
    enum status status = app_password_check(password, name, faults);
    char stretched[APP_PASSWORD_TEXT_MAX];
    if (status == STATUS_OK) status = app_password_stretch(stretched, app, password, faults);
    if (status != STATUS_OK) return status;
    struct changing changing = {name, stretched, now_s};
    struct fault fault = {0};
    status = store_write(app->store, (struct store_work){password_run, &changing, false}, &fault);
    return app_fault(faults, status, &fault);
}

static enum status revoke_then(struct store_txn *txn, const struct changing *changing,
                               const struct store_person *person, struct fault *fault)
{
    int64_t owners = 0;
    enum status status = store_person_count(txn, role_names[APP_ROLE_OWNER], &owners, fault);
    if (status != STATUS_OK) return status;
    if (owners == 1 && strcmp(person->role, role_names[APP_ROLE_OWNER]) == 0) {
        fault_set(fault, "name", "somebody beside the last owner: add another owner first",
                  "\"%.80s\"", changing->name);
        return STATUS_CONFLICT;
    }
    status = store_person_revoke(txn, person->number, changing->now_s, fault);
    if (status != STATUS_OK) return status;
    return passes_end(txn, person->number, true, changing->now_s, fault);
}

static enum status revoke_run(struct store_txn *txn, void *context, struct fault *fault)
{
    return with_person(txn, context, revoke_then, fault);
}

enum status app_person_revoke(struct app *app, const char *name, int64_t now_s,
                              struct faults *faults)
{
    struct changing changing = {name, NULL, now_s};
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){revoke_run, &changing, false}, &fault);
    return app_fault(faults, status, &fault);
}

/* --- listing ------------------------------------------------------------------------------- */

struct listing {
    const struct store_person *people;
    size_t count;
    const struct store_pass *passes;
    size_t pass_count;
    struct arena *arena;
};

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct listing *listing = context;
    const enum status status =
        store_person_list(txn, &listing->people, &listing->count, listing->arena, fault);
    if (status != STATUS_OK) return status;
    return store_pass_list(txn, &listing->passes, &listing->pass_count, listing->arena, fault);
}

static void passes_count(struct app_person *out, const struct listing *listing, int64_t now_s)
{
    for (size_t i = 0; i < listing->pass_count; i++) {
        const struct store_pass *pass = &listing->passes[i];
        if (pass->person != out->number) continue;
        const bool session = strcmp(pass->kind, "session") == 0;
        if (session &&
            (now_s >= pass->made_s + SESSION_S || now_s >= pass->seen_s + SESSION_IDLE_S))
            continue;
        if (session)
            out->sessions++;
        else
            out->tokens++;
        if (out->seen_s == INSTANT_NONE || pass->seen_s > out->seen_s) out->seen_s = pass->seen_s;
    }
}

enum status app_person_list(const struct app_person **out, size_t *out_count, struct app *app,
                            int64_t now_s, struct arena *arena, struct faults *faults)
{
    struct listing listing = {.arena = arena};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){list_run, &listing, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_person *people = ARENA_TAKE(arena, listing.count, struct app_person);
    if (people == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < listing.count; i++) {
        const struct store_person *row = &listing.people[i];
        enum app_role role = APP_ROLE_STATION;
        ENSURE(app_role_parse(&role, row->role));
        people[i] = (struct app_person){.number = row->number,
                                        .name = row->name,
                                        .role = role,
                                        .made_s = row->made_s,
                                        .revoked_s = row->revoked_s,
                                        .seen_s = INSTANT_NONE};
        passes_count(&people[i], &listing, now_s);
    }
    *out = people;
    *out_count = listing.count;
    return STATUS_OK;
}
