/* SPDX-License-Identifier: MIT */
/* Why: see store_link.h. */
#include "store/store_link.h"

#include <string.h>

#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { LINKS_AT_ONCE = 64 };

static void link_read(struct stmt *stmt, struct store_link *out, struct arena *arena)
{
    out->number = stmt_column_integer(stmt, 0, 0);
    out->kind = stmt_column_text(stmt, 1, arena, NULL);
    out->target = stmt_column_text(stmt, 2, arena, NULL);
    out->generation = stmt_column_integer(stmt, 3, 0);
    out->made_s = stmt_column_integer(stmt, 4, 0);
    out->revoked_s = stmt_column_integer(stmt, 5, INSTANT_NONE);
    stmt_column_blob(stmt, 6, out->hash, sizeof out->hash);
    out->phone = stmt_column_text(stmt, 7, arena, NULL);
    out->seen_s = stmt_column_integer(stmt, 8, INSTANT_NONE);
}

static enum status one(struct stmt *stmt, struct store_link *out, struct arena *arena,
                       struct fault *fault)
{
    const bool found = stmt_step(stmt);
    if (found) link_read(stmt, out, arena);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || found) return status;
    fault_set(fault, "", "something on record", "nothing");
    return STATUS_NOT_FOUND;
}

/* Rows into an array that doubles; what is left behind stays in the arena until it goes. */
static enum status every(struct stmt *stmt, const struct store_link **out, size_t *out_count,
                         struct arena *arena, struct fault *fault)
{
    size_t room = LINKS_AT_ONCE;
    size_t count = 0;
    struct store_link *all = ARENA_TAKE(arena, room, struct store_link);
    while (all != NULL && stmt_step(stmt)) {
        if (count == room) {
            struct store_link *more = ARENA_TAKE(arena, room * 2, struct store_link);
            if (more != NULL) memcpy(more, all, count * sizeof *all);
            all = more;
            room *= 2;
        }
        if (all != NULL) link_read(stmt, &all[count++], arena);
    }
    if (all == NULL && stmt->result == SQLITE_OK) stmt->result = SQLITE_NOMEM;
    *out = all;
    *out_count = count;
    return stmt_end(stmt, fault);
}

/* An UPDATE that must have met a row. */
static enum status changed(struct stmt *stmt, struct fault *fault)
{
    (void)stmt_step(stmt);
    const int rows = sqlite3_changes(stmt->txn->db);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || rows > 0) return status;
    fault_set(fault, "", "something that is open", "nothing");
    return STATUS_NOT_FOUND;
}

enum status store_link_open(struct store_txn *txn, const char *kind, const char *target,
                            const char *phone, struct store_link *out, struct arena *arena,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_OPEN);
    stmt_text_z(&stmt, 1, kind);
    stmt_text_z(&stmt, 2, target);
    stmt_text_z(&stmt, 3, phone);
    return one(&stmt, out, arena, fault);
}

enum status store_link_last(struct store_txn *txn, const char *kind, const char *target,
                            int64_t *out, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_LAST);
    stmt_text_z(&stmt, 1, kind);
    stmt_text_z(&stmt, 2, target);
    *out = stmt_step(&stmt) ? stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

enum status store_link_add(struct store_txn *txn, const struct store_link *link,
                           struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_ADD);
    stmt_text_z(&stmt, 1, link->kind);
    stmt_text_z(&stmt, 2, link->target);
    stmt_integer(&stmt, 3, link->generation);
    stmt_integer(&stmt, 4, link->made_s);
    stmt_blob(&stmt, 5, link->hash, sizeof link->hash);
    stmt_text_z(&stmt, 6, link->phone);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

enum status store_link_find(struct store_txn *txn, const unsigned char hash[STORE_HASH_BYTES],
                            struct store_link *out, struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_FIND);
    stmt_blob(&stmt, 1, hash, STORE_HASH_BYTES);
    return one(&stmt, out, arena, fault);
}

enum status store_link_revoke(struct store_txn *txn, const char *kind, const char *target,
                              const char *phone, int64_t now_s, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_REVOKE);
    stmt_text_z(&stmt, 1, kind);
    stmt_text_z(&stmt, 2, target);
    stmt_text_z(&stmt, 3, phone);
    stmt_integer(&stmt, 4, now_s);
    return changed(&stmt, fault);
}

enum status store_link_list(struct store_txn *txn, const struct store_link **out, size_t *out_count,
                            struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_LIST);
    return every(&stmt, out, out_count, arena, fault);
}

enum status store_link_seen(struct store_txn *txn, int64_t number, int64_t now_s,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_LINK_SEEN);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, now_s);
    return changed(&stmt, fault);
}

enum status store_secret_get(struct store_txn *txn, const char *name, unsigned char *out,
                             size_t length, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_SECRET_GET);
    stmt_text_z(&stmt, 1, name);
    const bool found = stmt_step(&stmt);
    if (found) stmt_column_blob(&stmt, 0, out, length);
    const enum status status = stmt_end(&stmt, fault);
    if (status != STATUS_OK || found) return status;
    fault_set(fault, "secret", "a secret of that name", "none");
    return STATUS_NOT_FOUND;
}

enum status store_secret_put(struct store_txn *txn, const char *name, const unsigned char *secret,
                             size_t length, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_SECRET_PUT);
    stmt_text_z(&stmt, 1, name);
    stmt_blob(&stmt, 2, secret, length);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}
