/* SPDX-License-Identifier: MIT */
/* Why: see app_person.h. */
#include "app/app_person.h"

#include <sodium.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/limits.h"
#include "model/record.h"
#include "store/store_link.h"

#include "base/banned.h"

enum { KEY_BYTES = 20, KEY_CHARACTERS = APP_TOKEN_TEXT_MAX - 1 };

static const char *const role_names[APP_ROLE_COUNT] = {"owner", "office"};

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

static void person_out(struct app_person *out, const struct store_link *row)
{
    enum app_role role = APP_ROLE_OFFICE;
    ENSURE(app_role_parse(&role, row->kind));
    *out = (struct app_person){.number = row->number,
                               .name = row->target,
                               .role = role,
                               .made_s = row->made_s,
                               .revoked_s = row->revoked_s};
}

static enum status name_check(const char *name, struct faults *faults)
{
    const size_t length = strlen(name);
    bool plain = length > 0 && length <= NAME_BYTES_MAX && utf8_valid(name, length);
    for (size_t i = 0; plain && i < length; i++) {
        plain = (unsigned char)name[i] >= 0x20 && name[i] != 0x7f;
    }
    if (plain) return STATUS_OK;
    return faults_add(faults, "name", "a name of 1 to 200 bytes without control characters",
                      "%zu bytes", length);
}

static enum status add_run(struct store_txn *txn, void *context, struct fault *fault)
{
    return store_person_add(txn, context, fault);
}

enum status app_person_add(char out_key[APP_TOKEN_TEXT_MAX], struct app *app, const char *name,
                           enum app_role role, int64_t now_s, struct faults *faults)
{
    const enum status named = name_check(name, faults);
    if (named != STATUS_OK) return named;
    unsigned char bytes[KEY_BYTES];
    randombytes_buf(bytes, sizeof bytes);
    (void)sodium_bin2base64(out_key, APP_TOKEN_TEXT_MAX, bytes, sizeof bytes,
                            sodium_base64_VARIANT_URLSAFE_NO_PADDING);
    struct store_link person = {
        .kind = app_role_name(role), .target = name, .made_s = now_s, .revoked_s = INSTANT_NONE};
    store_hash(person.hash, out_key, KEY_CHARACTERS, NULL, 0, NULL, 0);
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){add_run, &person, false}, &fault);
    if (status != STATUS_OK) sodium_memzero(out_key, APP_TOKEN_TEXT_MAX);
    return app_fault(faults, status, &fault);
}

struct seeking {
    unsigned char hash[STORE_HASH_BYTES];
    int64_t number;
    struct store_link row;
    const struct store_link *all;
    size_t count;
    struct arena *arena;
};

static enum status find_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct seeking *seeking = context;
    return seeking->number > 0
               ? store_person_get(txn, seeking->number, &seeking->row, seeking->arena, fault)
               : store_person_find(txn, seeking->hash, &seeking->row, seeking->arena, fault);
}

static enum status seek(struct app_person *out, struct app *app, struct seeking *seeking,
                        struct faults *faults)
{
    struct fault fault = {0};
    enum status status =
        store_read(app->store, (struct store_work){find_run, seeking, false}, &fault);
    if (status == STATUS_OK && seeking->row.revoked_s != INSTANT_NONE) status = STATUS_NOT_FOUND;
    if (status == STATUS_OK) person_out(out, &seeking->row);
    if (status == STATUS_NOT_FOUND) {
        fault_set(&fault, "key", "the key of somebody who may sign in", "another one");
    }
    return app_fault(faults, status, &fault);
}

enum status app_person_find(struct app_person *out, struct app *app, const char *key, size_t length,
                            struct arena *arena, struct faults *faults)
{
    struct seeking seeking = {.arena = arena};
    store_hash(seeking.hash, key, length, NULL, 0, NULL, 0);
    return seek(out, app, &seeking, faults);
}

enum status app_person_get(struct app_person *out, struct app *app, int64_t number,
                           struct arena *arena, struct faults *faults)
{
    struct seeking seeking = {.arena = arena, .number = number};
    if (number > 0) return seek(out, app, &seeking, faults);
    (void)faults_add(faults, "number", "the number of a person", "%lld", (long long)number);
    return STATUS_NOT_FOUND;
}

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct seeking *seeking = context;
    return store_person_list(txn, &seeking->all, &seeking->count, seeking->arena, fault);
}

enum status app_person_list(const struct app_person **out, size_t *out_count, struct app *app,
                            struct arena *arena, struct faults *faults)
{
    struct seeking seeking = {.arena = arena};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){list_run, &seeking, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_person *people = ARENA_TAKE(arena, seeking.count, struct app_person);
    if (people == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < seeking.count; i++) person_out(&people[i], &seeking.all[i]);
    *out = people;
    *out_count = seeking.count;
    return STATUS_OK;
}

struct revoking {
    const char *name;
    int64_t now_s;
};

static enum status revoke_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct revoking *revoking = context;
    return store_person_revoke(txn, revoking->name, revoking->now_s, fault);
}

enum status app_person_revoke(struct app *app, const char *name, int64_t now_s,
                              struct faults *faults)
{
    struct revoking revoking = {name, now_s};
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){revoke_run, &revoking, false}, &fault);
    return app_fault(faults, status, &fault);
}
