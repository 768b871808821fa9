/* SPDX-License-Identifier: MIT */
/* Why: see store_job.h. */
#include "store/store_job.h"

#include <string.h>

#include "base/limits.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum status store_company_get(struct store_txn *txn, struct store_company *out, struct arena *arena,
                              struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_COMPANY_GET);
    const bool found = stmt_step(&stmt);
    if (found) {
        out->version = stmt_column_integer(&stmt, 0, 0);
        out->body = stmt_column_text(&stmt, 1, arena, &out->body_length);
    }
    const enum status status = stmt_end(&stmt, fault);
    if (status != STATUS_OK || found) return status;
    fault_set(fault, "company", "a company", "none yet");
    return STATUS_NOT_FOUND;
}

enum status store_company_put(struct store_txn *txn, const struct store_company *company,
                              struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_COMPANY_PUT);
    stmt_integer(&stmt, 1, company->version);
    stmt_text(&stmt, 2, company->body, company->body_length);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

static void job_read(struct stmt *stmt, struct store_job *out, struct arena *arena)
{
    out->number = stmt_column_integer(stmt, 0, 0);
    out->id = stmt_column_text(stmt, 1, arena, NULL);
    out->version = stmt_column_integer(stmt, 2, 0);
    out->created_s = stmt_column_integer(stmt, 3, 0);
    out->body = stmt_column_text(stmt, 4, arena, &out->body_length);
}

static enum status job_one(struct stmt *stmt, struct store_job *out, const char *what,
                           struct arena *arena, struct fault *fault)
{
    const bool found = stmt_step(stmt);
    if (found) job_read(stmt, out, arena);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || found) return status;
    fault_set(fault, "job", "the id of a job of this store", "\"%s\"", what);
    return STATUS_NOT_FOUND;
}

enum status store_job_find(struct store_txn *txn, const char *id, struct store_job *out,
                           struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_JOB_FIND);
    stmt_text_z(&stmt, 1, id);
    return job_one(&stmt, out, id, arena, fault);
}

enum status store_job_get(struct store_txn *txn, int64_t number, struct store_job *out,
                          struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_JOB_NUMBER);
    stmt_integer(&stmt, 1, number);
    return job_one(&stmt, out, "a number", arena, fault);
}

static enum status jobs_count(struct store_txn *txn, size_t *out, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_JOB_COUNT);
    *out = stmt_step(&stmt) ? (size_t)stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

enum status store_job_list(struct store_txn *txn, const struct store_job **out, size_t *out_count,
                           struct arena *arena, struct fault *fault)
{
    size_t room = 0;
    enum status status = jobs_count(txn, &room, fault);
    if (status != STATUS_OK) return status;
    struct store_job *jobs = ARENA_TAKE(arena, room, struct store_job);
    struct stmt stmt = stmt_begin(txn, STMT_JOB_LIST);
    size_t count = 0;
    while (jobs != NULL && count < room && stmt_step(&stmt)) {
        job_read(&stmt, &jobs[count++], arena);
    }
    if (jobs == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = jobs;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_job_heads(struct store_txn *txn, const struct store_head **out, size_t *out_count,
                            struct arena *arena, struct fault *fault)
{
    size_t room = 0;
    enum status status = jobs_count(txn, &room, fault);
    if (status != STATUS_OK) return status;
    struct store_head *heads = ARENA_TAKE(arena, room, struct store_head);
    struct stmt stmt = stmt_begin(txn, STMT_JOB_HEADS);
    size_t count = 0;
    while (heads != NULL && count < room && stmt_step(&stmt)) {
        heads[count].number = stmt_column_integer(&stmt, 0, 0);
        heads[count++].version = stmt_column_integer(&stmt, 1, 0);
    }
    if (heads == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = heads;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_job_add(struct store_txn *txn, const struct store_job *job, int64_t *out_number,
                          struct fault *fault)
{
    size_t count = 0;
    const enum status status = jobs_count(txn, &count, fault);
    if (status != STATUS_OK) return status;
    if (count >= JOBS_MAX) {
        fault_set(fault, "job", "at most 20000 jobs", "%zu already", count);
        return STATUS_LIMIT;
    }
    struct stmt stmt = stmt_begin(txn, STMT_JOB_ADD);
    stmt_text_z(&stmt, 1, job->id);
    stmt_integer(&stmt, 2, job->created_s);
    stmt_text(&stmt, 3, job->body, job->body_length);
    (void)stmt_step(&stmt);
    *out_number = sqlite3_last_insert_rowid(txn->db);
    return stmt_end(&stmt, fault);
}

enum status store_job_put(struct store_txn *txn, int64_t number, const char *body,
                          size_t body_length, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_JOB_PUT);
    stmt_integer(&stmt, 1, number);
    stmt_text(&stmt, 2, body, body_length);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

enum status store_job_touch(struct store_txn *txn, int64_t number, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_JOB_TOUCH);
    stmt_integer(&stmt, 1, number);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}
