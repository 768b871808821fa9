/* SPDX-License-Identifier: MIT */
/* Why: see app_link.h. The token is looked up by its hash, so how long the look takes says nothing
 * about the token; the hash found is compared once more in constant time. */
#include "app/app_link.h"

#include <sodium.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/limits.h"
#include "model/record.h"
#include "store/store_link.h"

#include "base/banned.h"

enum { TOKEN_BYTES = 20, TOKEN_CHARACTERS = APP_TOKEN_TEXT_MAX - 1 };

static const char *const kind_names[APP_LINK_KIND_COUNT] = {"crew", "homeowner", "feed"};

const char *app_link_kind_name(enum app_link_kind kind)
{
    REQUIRE(kind >= 0 && kind < APP_LINK_KIND_COUNT);
    return kind_names[kind];
}

bool app_link_kind_parse(enum app_link_kind *out, const char *name)
{
    for (int i = 0; i < APP_LINK_KIND_COUNT; i++) {
        if (strcmp(kind_names[i], name) != 0) continue;
        *out = (enum app_link_kind)i;
        return true;
    }
    return false;
}

/* BLAKE2b-160, keyed, over kind, target and generation, each ended by a NUL. */
static void token_of(char out[APP_TOKEN_TEXT_MAX], const struct app *app, const char *kind,
                     const char *target, int64_t generation)
{
    unsigned char key[APP_SECRET_BYTES];
    unsigned char bytes[TOKEN_BYTES];
    unsigned char number[8];
    for (int i = 0; i < 8; i++) number[i] = (unsigned char)((uint64_t)generation >> (8 * i));
    app_secret(key, app, "link");
    crypto_generichash_state state;
    (void)crypto_generichash_init(&state, key, sizeof key, sizeof bytes);
    (void)crypto_generichash_update(&state, (const unsigned char *)kind, strlen(kind) + 1);
    (void)crypto_generichash_update(&state, (const unsigned char *)target, strlen(target) + 1);
    (void)crypto_generichash_update(&state, number, sizeof number);
    (void)crypto_generichash_final(&state, bytes, sizeof bytes);
    (void)sodium_bin2base64(out, APP_TOKEN_TEXT_MAX, bytes, sizeof bytes,
                            sodium_base64_VARIANT_URLSAFE_NO_PADDING);
    sodium_memzero(key, sizeof key);
}

static void link_out(struct app_link *out, const struct app *app, const struct store_link *link)
{
    enum app_link_kind kind = APP_LINK_CREW;
    ENSURE(app_link_kind_parse(&kind, link->kind));
    *out = (struct app_link){.number = link->number,
                             .kind = kind,
                             .target = link->target,
                             .phone = link->phone,
                             .seen_s = link->seen_s,
                             .generation = link->generation,
                             .made_s = link->made_s,
                             .revoked_s = link->revoked_s};
    token_of(out->token, app, link->kind, link->target, link->generation);
}

/* --- making -------------------------------------------------------------------------------- */

struct making {
    struct app *app;
    struct app_link *out;
    const char *kind;
    const char *target;
    const char *phone;
    int64_t now_s;
    struct arena *arena;
};

static enum status make_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct making *making = context;
    struct store_link link = {0};
    enum status status = store_link_open(txn, making->kind, making->target, making->phone, &link,
                                         making->arena, fault);
    if (status == STATUS_OK) {
        link_out(making->out, making->app, &link);
        return STATUS_OK;
    }
    if (status != STATUS_NOT_FOUND) return status;
    int64_t last = 0;
    status = store_link_last(txn, making->kind, making->target, &last, fault);
    if (status != STATUS_OK) return status;
    link = (struct store_link){.kind = making->kind,
                               .target = making->target,
                               .phone = making->phone,
                               .seen_s = INSTANT_NONE,
                               .generation = last + 1,
                               .made_s = making->now_s,
                               .revoked_s = INSTANT_NONE};
    link_out(making->out, making->app, &link);
    store_hash(link.hash, making->out->token, TOKEN_CHARACTERS, NULL, 0, NULL, 0);
    return store_link_add(txn, &link, fault);
}

/* A link to nothing would be a page that never was. */
static enum status target_check(struct app *app, enum app_link_kind kind, const char *target,
                                struct faults *faults)
{
    struct app_view *view = NULL;
    const enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    bool found = kind == APP_LINK_FEED && strcmp(target, "owner") == 0;
    if (kind == APP_LINK_HOMEOWNER) {
        found = app_view_job(view, target) != NULL;
    } else {
        const struct company *company = &app_view_case(view)->company;
        for (size_t i = 0; i < company->crew_count; i++) {
            found = found || strcmp(company->crews[i].id, target) == 0;
        }
    }
    app_view_release(view);
    if (found) return STATUS_OK;
    (void)faults_add(faults, "target",
                     kind == APP_LINK_HOMEOWNER ? "the id of a job" : "the id of a crew", "\"%s\"",
                     target);
    return STATUS_NOT_FOUND;
}

static enum status phone_check(enum app_link_kind kind, const char *phone, struct faults *faults)
{
    if (phone == NULL) return STATUS_OK;
    if (kind == APP_LINK_CREW) return app_name_check(phone, "phone", faults);
    return faults_add(faults, "phone", "none: only a crew has a link for each phone", "\"%.80s\"",
                      phone);
}

enum status app_link_make_for(struct app_link *out, struct app *app, enum app_link_kind kind,
                              const char *target, const char *phone, int64_t now_s,
                              struct faults *faults)
{
    enum status status = phone_check(kind, phone, faults);
    if (status == STATUS_OK) status = target_check(app, kind, target, faults);
    if (status != STATUS_OK) return status;
    struct arena *arena = arena_new();
    if (arena == NULL) return app_no_memory(faults);
    struct making making = {app, out, app_link_kind_name(kind), target, phone, now_s, arena};
    struct fault fault = {0};
    status = store_write(app->store, (struct store_work){make_run, &making, false}, &fault);
    out->target = target;
    out->phone = phone;
    arena_free(arena);
    return app_fault(faults, status, &fault);
}

enum status app_link_make(struct app_link *out, struct app *app, enum app_link_kind kind,
                          const char *target, int64_t now_s, struct faults *faults)
{
    return app_link_make_for(out, app, kind, target, NULL, now_s, faults);
}

/* --- finding ------------------------------------------------------------------------------- */

struct finding {
    unsigned char hash[STORE_HASH_BYTES];
    struct store_link link;
    const struct store_link *all;
    size_t count;
    struct arena *arena;
};

static enum status find_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct finding *finding = context;
    return store_link_find(txn, finding->hash, &finding->link, finding->arena, fault);
}

enum status app_link_find(struct app_link *out, struct app *app, const char *token, size_t length,
                          struct arena *arena, struct faults *faults)
{
    struct finding finding = {.arena = arena};
    struct fault fault = {0};
    enum status status = STATUS_NOT_FOUND;
    if (length == TOKEN_CHARACTERS) {
        store_hash(finding.hash, token, length, NULL, 0, NULL, 0);
        status = store_read(app->store, (struct store_work){find_run, &finding, false}, &fault);
    }
    if (status == STATUS_OK &&
        (finding.link.revoked_s != INSTANT_NONE ||
         sodium_memcmp(finding.hash, finding.link.hash, sizeof finding.hash) != 0)) {
        status = STATUS_NOT_FOUND;
    }
    if (status == STATUS_NOT_FOUND) {
        fault_set(&fault, "token", "a link that is open", "another one");
    }
    if (status == STATUS_OK) link_out(out, app, &finding.link);
    return app_fault(faults, status, &fault);
}

/* --- revoking and listing ------------------------------------------------------------------ */

static enum status revoke_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct making *making = context;
    return store_link_revoke(txn, making->kind, making->target, making->phone, making->now_s,
                             fault);
}

enum status app_link_revoke(struct app *app, enum app_link_kind kind, const char *target,
                            int64_t now_s, struct faults *faults)
{
    return app_link_revoke_for(app, kind, target, NULL, now_s, faults);
}

static enum status seen_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct app_link *link = context;
    return store_link_seen(txn, link->number, link->seen_s, fault);
}

void app_link_seen(struct app *app, const struct app_link *link, int64_t now_s)
{
    if (app->read_only || (link->seen_s != INSTANT_NONE && now_s - link->seen_s < SEEN_EVERY_S))
        return;
    struct app_link now = *link;
    now.seen_s = now_s;
    if (store_write(app->store, (struct store_work){seen_run, &now, false}, NULL) != STATUS_OK)
        return; /* a page that can be shown is shown, with a full disk too */
}

enum status app_link_revoke_for(struct app *app, enum app_link_kind kind, const char *target,
                                const char *phone, int64_t now_s, struct faults *faults)
{
    struct making making = {app, NULL, app_link_kind_name(kind), target, phone, now_s, NULL};
    struct fault fault = {0};
    const enum status status =
        store_write(app->store, (struct store_work){revoke_run, &making, false}, &fault);
    return app_fault(faults, status, &fault);
}

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct finding *finding = context;
    return store_link_list(txn, &finding->all, &finding->count, finding->arena, fault);
}

enum status app_link_list(const struct app_link **out, size_t *out_count, struct app *app,
                          struct arena *arena, struct faults *faults)
{
    struct finding finding = {.arena = arena};
    struct fault fault = {0};
    enum status status =
        store_read(app->store, (struct store_work){list_run, &finding, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_link *links = ARENA_TAKE(arena, finding.count, struct app_link);
    if (links == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < finding.count; i++) link_out(&links[i], app, &finding.all[i]);
    *out = links;
    *out_count = finding.count;
    return STATUS_OK;
}
