/* SPDX-License-Identifier: MIT */
/* Why: see store_stmt.h. Errors of SQLite become ours in one place, stmt_failure. */
#include "store/store_stmt.h"

#include <math.h>
#include <string.h>

#include "base/banned.h"

#define STMT_SQL(name, sql) sql,
static const char *const stmt_sql[STMT_COUNT] = {STMT_LIST(STMT_SQL)};

enum status stmt_failure(sqlite3 *db, int result, struct fault *fault)
{
    const char *said = db != NULL ? sqlite3_errmsg(db) : sqlite3_errstr(result);
    switch (result & 0xff) {
    case SQLITE_FULL:
        fault_set(fault, "store", "room on the disk; reading goes on", "the disk is full");
        return STATUS_IO;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        fault_set(fault, "store", "a store that nobody else is writing to", "%s", said);
        return STATUS_BUSY;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        fault_set(fault, "store", "a whole store file", "%s", said);
        return STATUS_CORRUPT;
    case SQLITE_CONSTRAINT:
        fault_set(fault, "store", "what the store's own rules allow", "%s", said);
        return STATUS_CONFLICT;
    case SQLITE_CANTOPEN:
        fault_set(fault, "store", "a store file that can be opened", "%s", said);
        return STATUS_IO;
    case SQLITE_NOMEM:
        fault_set(fault, "store", "memory", "no memory");
        return STATUS_IO;
    default:
        fault_set(fault, "store", "a disk that reads and writes", "%s (SQLite %d)", said, result);
        return STATUS_IO;
    }
}

struct stmt stmt_begin(struct store_txn *txn, enum stmt_id id)
{
    struct stmt stmt = {.txn = txn};
    if (txn->prepared[id] == NULL) {
        stmt.result = sqlite3_prepare_v3(txn->db, stmt_sql[id], -1, SQLITE_PREPARE_PERSISTENT,
                                         &txn->prepared[id], NULL);
        if (stmt.result != SQLITE_OK) txn->prepared[id] = NULL;
    }
    stmt.handle = txn->prepared[id];
    return stmt;
}

static void keep(struct stmt *stmt, int result)
{
    if (stmt->result == SQLITE_OK) stmt->result = result;
}

void stmt_integer(struct stmt *stmt, int index, int64_t value)
{
    if (stmt->handle != NULL) keep(stmt, sqlite3_bind_int64(stmt->handle, index, value));
}

void stmt_real(struct stmt *stmt, int index, double value)
{
    if (stmt->handle == NULL) return;
    keep(stmt, isfinite(value) ? sqlite3_bind_double(stmt->handle, index, value)
                               : sqlite3_bind_null(stmt->handle, index));
}

void stmt_text(struct stmt *stmt, int index, const char *text, size_t length)
{
    if (stmt->handle == NULL) return;
    keep(stmt, text == NULL ? sqlite3_bind_null(stmt->handle, index)
                            : sqlite3_bind_text64(stmt->handle, index, text, length, SQLITE_STATIC,
                                                  SQLITE_UTF8));
}

void stmt_text_z(struct stmt *stmt, int index, const char *z)
{
    stmt_text(stmt, index, z, z == NULL ? 0 : strlen(z));
}

void stmt_blob(struct stmt *stmt, int index, const void *bytes, size_t length)
{
    if (stmt->handle == NULL) return;
    keep(stmt, sqlite3_bind_blob64(stmt->handle, index, bytes, length, SQLITE_STATIC));
}

bool stmt_step(struct stmt *stmt)
{
    stmt->row = false;
    if (stmt->result != SQLITE_OK) return false;
    const int result = sqlite3_step(stmt->handle);
    if (result == SQLITE_ROW) {
        stmt->row = true;
    } else if (result != SQLITE_DONE) {
        stmt->result = result;
    }
    return stmt->row;
}

void stmt_again(struct stmt *stmt)
{
    if (stmt->handle != NULL) (void)sqlite3_reset(stmt->handle);
}

enum status stmt_end(struct stmt *stmt, struct fault *fault)
{
    enum status status = STATUS_OK;
    if (stmt->result != SQLITE_OK) status = stmt_failure(stmt->txn->db, stmt->result, fault);
    if (stmt->handle != NULL) {
        (void)sqlite3_reset(stmt->handle);
        (void)sqlite3_clear_bindings(stmt->handle);
    }
    return status;
}

enum status stmt_run(struct store_txn *txn, enum stmt_id id, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, id);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

int64_t stmt_column_integer(const struct stmt *stmt, int column, int64_t otherwise)
{
    if (sqlite3_column_type(stmt->handle, column) == SQLITE_NULL) return otherwise;
    return sqlite3_column_int64(stmt->handle, column);
}

double stmt_column_real(const struct stmt *stmt, int column)
{
    if (sqlite3_column_type(stmt->handle, column) == SQLITE_NULL) return NAN;
    return sqlite3_column_double(stmt->handle, column);
}

const char *stmt_column_text(struct stmt *stmt, int column, struct arena *arena, size_t *length)
{
    if (length != NULL) *length = 0;
    if (sqlite3_column_type(stmt->handle, column) == SQLITE_NULL) return NULL;
    const char *text = (const char *)sqlite3_column_text(stmt->handle, column);
    const size_t bytes = (size_t)sqlite3_column_bytes(stmt->handle, column);
    char *copy = text == NULL ? NULL : arena_copy(arena, text, bytes);
    if (copy == NULL) {
        keep(stmt, SQLITE_NOMEM);
        return NULL;
    }
    if (length != NULL) *length = bytes;
    return copy;
}

void stmt_column_bytes(struct stmt *stmt, int column, struct text *out)
{
    const void *bytes = sqlite3_column_blob(stmt->handle, column);
    const size_t length = (size_t)sqlite3_column_bytes(stmt->handle, column);
    if (bytes != NULL) text_add(out, bytes, length);
    if (out->failed || (bytes == NULL && length > 0)) keep(stmt, SQLITE_NOMEM);
}

void stmt_column_blob(struct stmt *stmt, int column, unsigned char *out, size_t length)
{
    const void *bytes = sqlite3_column_blob(stmt->handle, column);
    const size_t found = (size_t)sqlite3_column_bytes(stmt->handle, column);
    memset(out, 0, length);
    if (bytes != NULL && found == length) {
        memcpy(out, bytes, length);
    } else {
        keep(stmt, bytes == NULL && found > 0 ? SQLITE_NOMEM : SQLITE_CORRUPT);
    }
}

enum status stmt_script(sqlite3 *db, const char *sql, struct fault *fault)
{
    const int result = sqlite3_exec(db, sql, NULL, NULL, NULL);
    return result == SQLITE_OK ? STATUS_OK : stmt_failure(db, result, fault);
}

/* recursive_triggers: INSERT OR REPLACE must not slip a record past the trigger that keeps it. */
#define STMT_SETTINGS                                                                              \
    "PRAGMA foreign_keys = ON; PRAGMA recursive_triggers = ON; PRAGMA trusted_schema = OFF;"       \
    "PRAGMA mmap_size = 0; PRAGMA cell_size_check = ON; PRAGMA temp_store = MEMORY;"

enum status stmt_connect(struct store_txn *out, const struct store_options *options, bool writing,
                         struct fault *fault)
{
    memset(out, 0, sizeof *out);
    const int flags =
        (writing ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY) | SQLITE_OPEN_NOMUTEX;
    const int result = sqlite3_open_v2(options->path, &out->db, flags, options->vfs);
    if (result != SQLITE_OK) {
        const enum status failed = stmt_failure(out->db, result, fault);
        stmt_disconnect(out);
        return failed;
    }
    (void)sqlite3_extended_result_codes(out->db, 1);
    (void)sqlite3_busy_timeout(out->db, 5000);
    (void)sqlite3_db_config(out->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    if (!writing) (void)sqlite3_db_config(out->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    out->writing = writing;
    enum status status = stmt_script(out->db, STMT_SETTINGS, fault);
    if (status == STATUS_OK && writing) {
        status = stmt_script(out->db,
                             options->sync_normal
                                 ? "PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL;"
                                 : "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;",
                             fault);
        if (status == STATUS_OK) {
            status = stmt_script(out->db, "PRAGMA journal_size_limit = 16777216;", fault);
        }
    }
    /* what ends a transaction must be at hand when there is no memory left to prepare it */
    for (enum stmt_id id = STMT_BEGIN_WRITE; status == STATUS_OK && id <= STMT_ROLLBACK_TO; id++) {
        struct stmt stmt = stmt_begin(out, id);
        status = stmt_end(&stmt, fault);
    }
    if (status != STATUS_OK) stmt_disconnect(out);
    return status;
}

void stmt_disconnect(struct store_txn *txn)
{
    for (size_t i = 0; i < STMT_COUNT; i++) {
        (void)sqlite3_finalize(txn->prepared[i]);
        txn->prepared[i] = NULL;
    }
    (void)sqlite3_close_v2(txn->db);
    txn->db = NULL;
}
