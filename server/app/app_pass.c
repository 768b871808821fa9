/* SPDX-License-Identifier: MIT */
/* Why: see app_pass.h. A token is looked up by its hash, so how long the look takes says nothing
 * about any token there is. */
#include "app/app_pass.h"

#include <sodium.h>
#include <string.h>

#include "app/app_internal.h"
#include "app/app_password.h"
#include "base/limits.h"
#include "model/record.h"
#include "store/store_person.h"

#include "base/banned.h"

enum { PASS_BYTES = 32, PASS_CHARACTERS = APP_PASS_TEXT_MAX - 1, FORGET_AFTER_S = 90 * 86400 };

static void new_token(char out[APP_PASS_TEXT_MAX], unsigned char hash[STORE_HASH_BYTES])
{
    unsigned char bytes[PASS_BYTES];
    randombytes_buf(bytes, sizeof bytes);
    (void)sodium_bin2base64(out, APP_PASS_TEXT_MAX, bytes, sizeof bytes,
                            sodium_base64_VARIANT_URLSAFE_NO_PADDING);
    store_hash(hash, out, PASS_CHARACTERS, NULL, 0, NULL, 0);
    sodium_memzero(bytes, sizeof bytes);
}

/* --- signing in ---------------------------------------------------------------------------- */

struct entering {
    const char *name;
    const char *kind;
    struct store_person person;
    bool found;
    int64_t number; /**< of the person whose password was right; 0: found by name here */
    unsigned char hash[STORE_HASH_BYTES];
    int64_t now_s;
    struct arena *arena;
};

static enum status look_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct entering *entering = context;
    const enum status status =
        store_person_open(txn, entering->name, &entering->person, entering->arena, fault);
    entering->found = status == STATUS_OK;
    return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}

/* The person may have been revoked, or the password changed, while it was stretched. */
static enum status enter_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct entering *entering = context;
    struct store_person now = {0};
    enum status status = store_person_get(txn, entering->number, &now, entering->arena, fault);
    if (status != STATUS_OK) return status;
    if (now.password == NULL || strcmp(now.password, entering->person.password) != 0) {
        fault_set(fault, "password", "a name and a password that go together", "others");
        return STATUS_NOT_FOUND;
    }
    status = store_pass_forget(txn, entering->now_s - FORGET_AFTER_S, fault);
    if (status != STATUS_OK) return status;
    return store_pass_add(txn, entering->number, "session", entering->now_s, entering->hash, fault);
}

static enum status sign_in(struct entering *entering, struct app *app, const char *password,
                           char out_token[APP_PASS_TEXT_MAX], struct faults *faults)
{
    struct fault fault = {0};
    enum status status =
        store_read(app->store, (struct store_work){look_run, entering, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    status = app_password_verify(app, entering->found ? entering->person.password : NULL, password,
                                 faults);
    if (status != STATUS_OK) return status;
    entering->number = entering->person.number;
    new_token(out_token, entering->hash);
    status = store_write(app->store, (struct store_work){enter_run, entering, false}, &fault);
    if (status == STATUS_NOT_FOUND) status = STATUS_DENIED;
    return app_fault(faults, status, &fault);
}

enum status app_pass_sign_in(char out_token[APP_PASS_TEXT_MAX], struct app *app, const char *name,
                             const char *password, int64_t now_s, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return app_no_memory(faults);
    struct entering entering = {.name = name, .now_s = now_s, .arena = arena};
    const bool fits = strlen(password) <= PASSWORD_BYTES_MAX;
    const enum status status = sign_in(&entering, app, fits ? password : "", out_token, faults);
    if (status != STATUS_OK) sodium_memzero(out_token, APP_PASS_TEXT_MAX);
    arena_free(arena);
    return status;
}

/* --- who is there -------------------------------------------------------------------------- */

struct finding {
    unsigned char hash[STORE_HASH_BYTES];
    struct store_pass pass;
    int64_t now_s;
    struct arena *arena;
};

static enum status find_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct finding *finding = context;
    return store_pass_find(txn, finding->hash, &finding->pass, finding->arena, fault);
}

static enum status seen_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct finding *finding = context;
    return store_pass_seen(txn, finding->pass.number, finding->now_s, fault);
}

static bool over(const struct store_pass *pass, int64_t now_s)
{
    return now_s >= pass->made_s + SESSION_S || now_s >= pass->seen_s + SESSION_IDLE_S;
}

static enum status find(struct app_pass *out, struct app *app, const char *kind, const char *token,
                        size_t length, struct finding *finding, struct faults *faults)
{
    struct fault fault = {0};
    enum status status = STATUS_NOT_FOUND;
    if (length == PASS_CHARACTERS) {
        store_hash(finding->hash, token, length, NULL, 0, NULL, 0);
        status = store_read(app->store, (struct store_work){find_run, finding, false}, &fault);
    }
    const struct store_pass *pass = &finding->pass;
    if (status == STATUS_OK && strcmp(pass->kind, kind) != 0) status = STATUS_NOT_FOUND;
    if (status == STATUS_OK && strcmp(kind, "session") == 0 && over(pass, finding->now_s))
        status = STATUS_NOT_FOUND;
    if (status == STATUS_NOT_FOUND) fault_set(&fault, "", "somebody who is signed in", "nobody");
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    *out = (struct app_pass){.number = pass->number, .person = pass->person, .name = pass->name};
    ENSURE(app_role_parse(&out->role, pass->role));
    if (app->read_only || finding->now_s - pass->seen_s < SEEN_EVERY_S) return STATUS_OK;
    if (store_write(app->store, (struct store_work){seen_run, finding, false}, NULL) != STATUS_OK)
        return STATUS_OK; /* a full disk shuts nobody out */
    return STATUS_OK;
}

enum status app_pass_session(struct app_pass *out, struct app *app, const char *token,
                             size_t length, int64_t now_s, struct arena *arena,
                             struct faults *faults)
{
    struct finding finding = {.now_s = now_s, .arena = arena};
    return find(out, app, "session", token, length, &finding, faults);
}

enum status app_pass_token(struct app_pass *out, struct app *app, const char *token, size_t length,
                           int64_t now_s, struct arena *arena, struct faults *faults)
{
    struct finding finding = {.now_s = now_s, .arena = arena};
    return find(out, app, "token", token, length, &finding, faults);
}

/* --- ending -------------------------------------------------------------------------------- */

static enum status out_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct finding *finding = context;
    return store_pass_revoke(txn, finding->pass.number, finding->now_s, fault);
}

enum status app_pass_sign_out(struct app *app, const struct app_pass *pass, int64_t now_s,
                              struct faults *faults)
{
    struct finding finding = {.pass = {.number = pass->number}, .now_s = now_s};
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){out_run, &finding, false}, &fault);
    return app_fault(faults, status, &fault);
}

/* By name: end all passes of a kind, and with a hash begin another. */
static enum status renew_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct entering *entering = context;
    struct store_person person = {0};
    enum status status = store_person_open(txn, entering->name, &person, entering->arena, fault);
    if (status == STATUS_OK)
        status = store_pass_revoke_all(txn, person.number, entering->kind, entering->now_s, fault);
    if (status != STATUS_OK || !entering->found) return status;
    return store_pass_add(txn, person.number, entering->kind, entering->now_s, entering->hash,
                          fault);
}

static enum status renew(struct app *app, struct entering *entering, struct faults *faults)
{
    entering->arena = arena_new();
    if (entering->arena == NULL) return app_no_memory(faults);
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){renew_run, entering, false}, &fault);
    arena_free(entering->arena);
    return app_fault(faults, status, &fault);
}

enum status app_pass_sign_out_everywhere(struct app *app, const char *name, int64_t now_s,
                                         struct faults *faults)
{
    struct entering entering = {.name = name, .kind = "session", .now_s = now_s};
    return renew(app, &entering, faults);
}

enum status app_pass_new_token(char out_token[APP_PASS_TEXT_MAX], struct app *app, const char *name,
                               int64_t now_s, struct faults *faults)
{
    struct entering entering = {.name = name, .kind = "token", .now_s = now_s, .found = true};
    new_token(out_token, entering.hash);
    const enum status status = renew(app, &entering, faults);
    if (status != STATUS_OK) sodium_memzero(out_token, APP_PASS_TEXT_MAX);
    return status;
}
