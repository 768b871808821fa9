/* SPDX-License-Identifier: MIT */
/* Why: see store_record.h. */
#include "store/store_record.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "store/store_stmt.h"

#include "base/banned.h"

static void link_hash(unsigned char out[STORE_HASH_BYTES],
                      const unsigned char previous[STORE_HASH_BYTES], const char *job_id,
                      const char *body, size_t body_length)
{
    /* an id has no control characters, so the line feed ends it */
    crypto_generichash_state state;
    (void)crypto_generichash_init(&state, NULL, 0, STORE_HASH_BYTES);
    (void)crypto_generichash_update(&state, previous, STORE_HASH_BYTES);
    (void)crypto_generichash_update(&state, (const unsigned char *)job_id, strlen(job_id));
    (void)crypto_generichash_update(&state, (const unsigned char *)"\n", 1);
    (void)crypto_generichash_update(&state, (const unsigned char *)body, body_length);
    (void)crypto_generichash_final(&state, out, STORE_HASH_BYTES);
}

/* Is the id on record at this job, and with the same content? Ids are the sender's, one job's own.
 */
static enum status known(struct store_txn *txn, int64_t job_number,
                         const struct store_record *record, bool *out, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_KNOWN);
    stmt_integer(&stmt, 1, job_number);
    stmt_text_z(&stmt, 2, record->id);
    bool same = false;
    *out = stmt_step(&stmt);
    if (*out) {
        unsigned char sent[STORE_HASH_BYTES];
        stmt_column_blob(&stmt, 0, sent, sizeof sent);
        same = memcmp(sent, record->sent, sizeof sent) == 0;
    }
    const enum status status = stmt_end(&stmt, fault);
    if (status != STATUS_OK || !*out || same) return status;
    fault_set(fault, "id", "a new id, or the same record again",
              "\"%s\", which is on record with another body", record->id);
    return STATUS_CONFLICT;
}

static enum status tip(struct store_txn *txn, int64_t *out_seq,
                       unsigned char hash[STORE_HASH_BYTES], struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_TIP);
    *out_seq = 0;
    memset(hash, 0, STORE_HASH_BYTES);
    if (stmt_step(&stmt)) {
        *out_seq = stmt_column_integer(&stmt, 0, 0);
        stmt_column_blob(&stmt, 1, hash, STORE_HASH_BYTES);
    }
    return stmt_end(&stmt, fault);
}

enum status store_record_add(struct store_txn *txn, int64_t job_number, const char *job_id,
                             const struct store_record *record, bool *out_created,
                             struct fault *fault)
{
    bool there = false;
    *out_created = false;
    enum status status = known(txn, job_number, record, &there, fault);
    if (status != STATUS_OK || there) return status;
    int64_t seq = 0;
    unsigned char previous[STORE_HASH_BYTES];
    unsigned char hash[STORE_HASH_BYTES];
    status = tip(txn, &seq, previous, fault);
    if (status != STATUS_OK) return status;
    link_hash(hash, previous, job_id, record->body, record->body_length);
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_ADD);
    stmt_integer(&stmt, 1, seq + 1);
    stmt_integer(&stmt, 2, job_number);
    stmt_text_z(&stmt, 3, record->id);
    stmt_text_z(&stmt, 4, record->kind);
    stmt_integer(&stmt, 5, record->at_s);
    stmt_integer(&stmt, 6, record->received_s);
    stmt_text_z(&stmt, 7, record->who);
    stmt_text(&stmt, 8, record->body, record->body_length);
    stmt_blob(&stmt, 9, record->sent, sizeof record->sent);
    stmt_blob(&stmt, 10, previous, sizeof previous);
    stmt_blob(&stmt, 11, hash, sizeof hash);
    (void)stmt_step(&stmt);
    status = stmt_end(&stmt, fault);
    *out_created = status == STATUS_OK;
    return status;
}

enum status store_record_count(struct store_txn *txn, int64_t job_number, size_t *out,
                               struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_COUNT_OF_JOB);
    stmt_integer(&stmt, 1, job_number);
    *out = stmt_step(&stmt) ? (size_t)stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

enum status store_record_list(struct store_txn *txn, int64_t job_number,
                              const struct store_record_body **out, size_t *out_count,
                              struct arena *arena, struct fault *fault)
{
    size_t room = 0;
    const enum status status = store_record_count(txn, job_number, &room, fault);
    if (status != STATUS_OK) return status;
    struct store_record_body *records = ARENA_TAKE(arena, room, struct store_record_body);
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_OF_JOB);
    stmt_integer(&stmt, 1, job_number);
    size_t count = 0;
    while (records != NULL && count < room && stmt_step(&stmt)) {
        struct store_record_body *one = &records[count++];
        one->id = stmt_column_text(&stmt, 0, arena, NULL);
        one->body = stmt_column_text(&stmt, 1, arena, &one->body_length);
    }
    if (records == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = records;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_record_marks(struct store_txn *txn, int64_t job_number,
                               const struct store_record_mark **out, size_t *out_count,
                               struct arena *arena, struct fault *fault)
{
    size_t room = 0;
    const enum status status = store_record_count(txn, job_number, &room, fault);
    if (status != STATUS_OK) return status;
    struct store_record_mark *marks = ARENA_TAKE(arena, room, struct store_record_mark);
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_MARKS);
    stmt_integer(&stmt, 1, job_number);
    size_t count = 0;
    while (marks != NULL && count < room && stmt_step(&stmt)) {
        struct store_record_mark *one = &marks[count++];
        one->seq = stmt_column_integer(&stmt, 0, 0);
        one->id = stmt_column_text(&stmt, 1, arena, NULL);
        stmt_column_blob(&stmt, 2, one->hash, sizeof one->hash);
    }
    if (marks == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = marks;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_record_tip(struct store_txn *txn, int64_t *out_seq,
                             unsigned char out_hash[STORE_HASH_BYTES], struct fault *fault)
{
    return tip(txn, out_seq, out_hash, fault);
}

/* --- the walk ------------------------------------------------------------------------------ */

struct walk {
    unsigned char last[STORE_HASH_BYTES];
    int64_t seq;
    bool broken;
    struct faults *faults;
};

static void walk_check(struct walk *walk, const struct store_link_of_chain *link,
                       const unsigned char previous[STORE_HASH_BYTES],
                       const unsigned char hash[STORE_HASH_BYTES])
{
    char path[FAULT_PATH_MAX];
    (void)snprintf(path, sizeof path, "records[%lld]", (long long)link->seq);
    unsigned char expected[STORE_HASH_BYTES];
    link_hash(expected, previous, link->job_id, link->record.body, link->record.body_length);
    if (link->seq != walk->seq + 1) {
        (void)faults_add(walk->faults, path, "numbers without a gap", "%lld after %lld",
                         (long long)link->seq, (long long)walk->seq);
        walk->broken = true;
    }
    if (memcmp(previous, walk->last, STORE_HASH_BYTES) != 0) {
        (void)faults_add(walk->faults, path, "the hash of the record before it",
                         "another one (id \"%s\")", link->record.id);
        walk->broken = true;
    }
    if (memcmp(hash, expected, STORE_HASH_BYTES) != 0) {
        (void)faults_add(walk->faults, path, "the hash of its own body", "another one (id \"%s\")",
                         link->record.id);
        walk->broken = true;
    }
    memcpy(walk->last, hash, STORE_HASH_BYTES);
    walk->seq = link->seq;
}

static void link_read(struct stmt *stmt, struct store_link_of_chain *link, struct arena *arena)
{
    struct store_record *record = &link->record;
    link->seq = stmt_column_integer(stmt, 0, 0);
    link->job_id = stmt_column_text(stmt, 1, arena, NULL);
    record->id = stmt_column_text(stmt, 2, arena, NULL);
    record->kind = stmt_column_text(stmt, 3, arena, NULL);
    record->at_s = stmt_column_integer(stmt, 4, 0);
    record->received_s = stmt_column_integer(stmt, 5, 0);
    record->who = stmt_column_text(stmt, 6, arena, NULL);
    record->body = stmt_column_text(stmt, 7, arena, &record->body_length);
    stmt_column_blob(stmt, 8, record->sent, sizeof record->sent);
}

enum status store_record_walk(struct store_txn *txn,
                              void (*each)(const struct store_link_of_chain *link, void *context),
                              void *context, size_t *out_count, struct faults *faults)
{
    struct arena *arena = arena_new();
    struct walk walk = {.faults = faults};
    struct fault fault;
    struct stmt stmt = stmt_begin(txn, STMT_RECORD_ALL);
    if (arena == NULL) stmt.result = SQLITE_NOMEM;
    size_t count = 0;
    while (stmt_step(&stmt)) {
        struct store_link_of_chain link = {0};
        unsigned char previous[STORE_HASH_BYTES];
        unsigned char hash[STORE_HASH_BYTES];
        link_read(&stmt, &link, arena);
        stmt_column_blob(&stmt, 9, previous, sizeof previous);
        stmt_column_blob(&stmt, 10, hash, sizeof hash);
        if (stmt.result != SQLITE_OK) break;
        walk_check(&walk, &link, previous, hash);
        each(&link, context);
        arena_reset(arena);
        count++;
    }
    const enum status status = stmt_end(&stmt, &fault);
    if (status != STATUS_OK) (void)faults_add(faults, "records", fault.wanted, "%s", fault.found);
    arena_free(arena);
    if (out_count != NULL) *out_count = count;
    return status == STATUS_OK && walk.broken ? STATUS_CORRUPT : status;
}
