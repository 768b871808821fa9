/* SPDX-License-Identifier: MIT */
/* Why: see store_person.h. */
#include "store/store_person.h"

#include <string.h>

#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { ROWS_AT_ONCE = 64 };

static void person_read(struct stmt *stmt, void *row, struct arena *arena)
{
    struct store_person *out = row;
    out->number = stmt_column_integer(stmt, 0, 0);
    out->name = stmt_column_text(stmt, 1, arena, NULL);
    out->role = stmt_column_text(stmt, 2, arena, NULL);
    out->made_s = stmt_column_integer(stmt, 3, 0);
    out->revoked_s = stmt_column_integer(stmt, 4, INSTANT_NONE);
    out->password = stmt_column_text(stmt, 5, arena, NULL);
}

static void pass_read(struct stmt *stmt, void *row, struct arena *arena)
{
    struct store_pass *out = row;
    out->number = stmt_column_integer(stmt, 0, 0);
    out->person = stmt_column_integer(stmt, 1, 0);
    out->kind = stmt_column_text(stmt, 2, arena, NULL);
    out->made_s = stmt_column_integer(stmt, 3, 0);
    out->seen_s = stmt_column_integer(stmt, 4, 0);
    out->name = stmt_column_text(stmt, 5, arena, NULL);
    out->role = stmt_column_text(stmt, 6, arena, NULL);
}

typedef void reader(struct stmt *stmt, void *row, struct arena *arena);

static enum status one(struct stmt *stmt, reader *read, void *out, struct arena *arena,
                       struct fault *fault)
{
    const bool found = stmt_step(stmt);
    if (found) read(stmt, out, arena);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || found) return status;
    fault_set(fault, "name", "somebody who may sign in", "nobody");
    return STATUS_NOT_FOUND;
}

/* Rows of `size` bytes into an array that doubles. */
static enum status every(struct stmt *stmt, reader *read, size_t size, const void **out,
                         size_t *out_count, struct arena *arena, struct fault *fault)
{
    size_t room = ROWS_AT_ONCE;
    size_t count = 0;
    char *all = arena_take(arena, room, size);
    while (all != NULL && stmt_step(stmt)) {
        if (count == room) {
            char *more = arena_take(arena, room * 2, size);
            if (more != NULL) memcpy(more, all, count * size);
            all = more;
            room *= 2;
        }
        if (all != NULL) read(stmt, all + count++ * size, arena);
    }
    if (all == NULL && stmt->result == SQLITE_OK) stmt->result = SQLITE_NOMEM;
    *out = all;
    *out_count = count;
    return stmt_end(stmt, fault);
}

/* A change by number and at most one more value. */
static struct stmt change(struct store_txn *txn, enum stmt_id id, int64_t number)
{
    struct stmt stmt = stmt_begin(txn, id);
    stmt_integer(&stmt, 1, number);
    return stmt;
}

static enum status must_change(struct stmt *stmt, struct fault *fault)
{
    (void)stmt_step(stmt);
    const int rows = sqlite3_changes(stmt->txn->db);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || rows > 0) return status;
    fault_set(fault, "name", "somebody who may sign in", "nobody");
    return STATUS_NOT_FOUND;
}

static enum status run(struct stmt *stmt, struct fault *fault)
{
    (void)stmt_step(stmt);
    return stmt_end(stmt, fault);
}

enum status store_person_open(struct store_txn *txn, const char *name, struct store_person *out,
                              struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PERSON_OPEN);
    stmt_text_z(&stmt, 1, name);
    return one(&stmt, person_read, out, arena, fault);
}

enum status store_person_get(struct store_txn *txn, int64_t number, struct store_person *out,
                             struct arena *arena, struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PERSON_NUMBER, number);
    return one(&stmt, person_read, out, arena, fault);
}

enum status store_person_add(struct store_txn *txn, const struct store_person *person,
                             int64_t *out_number, struct fault *fault)
{
    struct stmt there = stmt_begin(txn, STMT_PERSON_OPEN);
    stmt_text_z(&there, 1, person->name);
    const bool taken = stmt_step(&there);
    enum status status = stmt_end(&there, fault);
    if (status != STATUS_OK) return status;
    if (taken) {
        fault_set(fault, "name", "a name nobody signs in with", "\"%s\"", person->name);
        return STATUS_CONFLICT;
    }
    struct stmt stmt = stmt_begin(txn, STMT_PERSON_ADD);
    stmt_text_z(&stmt, 1, person->name);
    stmt_text_z(&stmt, 2, person->role);
    stmt_integer(&stmt, 3, person->made_s);
    stmt_text_z(&stmt, 4, person->password);
    status = run(&stmt, fault);
    *out_number = sqlite3_last_insert_rowid(txn->db);
    return status;
}

enum status store_person_list(struct store_txn *txn, const struct store_person **out,
                              size_t *out_count, struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PERSON_LIST);
    const void *rows = NULL;
    const enum status status =
        every(&stmt, person_read, sizeof **out, &rows, out_count, arena, fault);
    *out = rows;
    return status;
}

enum status store_person_count(struct store_txn *txn, const char *role, int64_t *out,
                               struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PERSON_COUNT);
    stmt_text_z(&stmt, 1, role);
    *out = stmt_step(&stmt) ? stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

enum status store_person_revoke(struct store_txn *txn, int64_t number, int64_t now_s,
                                struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PERSON_REVOKE, number);
    stmt_integer(&stmt, 2, now_s);
    return must_change(&stmt, fault);
}

enum status store_person_password(struct store_txn *txn, int64_t number, const char *password,
                                  struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PERSON_PASSWORD, number);
    stmt_text_z(&stmt, 2, password);
    return must_change(&stmt, fault);
}

enum status store_pass_add(struct store_txn *txn, int64_t person, const char *kind, int64_t now_s,
                           const unsigned char hash[STORE_HASH_BYTES], struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PASS_ADD, person);
    stmt_text_z(&stmt, 2, kind);
    stmt_integer(&stmt, 3, now_s);
    stmt_blob(&stmt, 4, hash, STORE_HASH_BYTES);
    return run(&stmt, fault);
}

enum status store_pass_find(struct store_txn *txn, const unsigned char hash[STORE_HASH_BYTES],
                            struct store_pass *out, struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PASS_FIND);
    stmt_blob(&stmt, 1, hash, STORE_HASH_BYTES);
    return one(&stmt, pass_read, out, arena, fault);
}

enum status store_pass_list(struct store_txn *txn, const struct store_pass **out, size_t *out_count,
                            struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PASS_LIST);
    const void *rows = NULL;
    const enum status status =
        every(&stmt, pass_read, sizeof **out, &rows, out_count, arena, fault);
    *out = rows;
    return status;
}

enum status store_pass_seen(struct store_txn *txn, int64_t number, int64_t now_s,
                            struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PASS_SEEN, number);
    stmt_integer(&stmt, 2, now_s);
    return run(&stmt, fault);
}

enum status store_pass_revoke(struct store_txn *txn, int64_t number, int64_t now_s,
                              struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PASS_REVOKE, number);
    stmt_integer(&stmt, 2, now_s);
    return run(&stmt, fault);
}

enum status store_pass_revoke_all(struct store_txn *txn, int64_t person, const char *kind,
                                  int64_t now_s, struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PASS_REVOKE_ALL, person);
    stmt_text_z(&stmt, 2, kind);
    stmt_integer(&stmt, 3, now_s);
    return run(&stmt, fault);
}

enum status store_pass_forget(struct store_txn *txn, int64_t before_s, struct fault *fault)
{
    struct stmt stmt = change(txn, STMT_PASS_FORGET, before_s);
    return run(&stmt, fault);
}
