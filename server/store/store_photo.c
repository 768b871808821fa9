/* SPDX-License-Identifier: MIT */
/* Why: see store_photo.h. */
#include "store/store_photo.h"

#include <sodium.h>
#include <string.h>

#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { PHOTOS_AT_ONCE = 64 };

void store_photo_sha256(unsigned char out[STORE_SHA256_BYTES], const void *bytes, size_t length)
{
    (void)crypto_hash_sha256(out, bytes, length);
}

static void photo_read(struct stmt *stmt, struct store_photo *out, struct arena *arena)
{
    out->number = stmt_column_integer(stmt, 0, 0);
    out->job_id = stmt_column_text(stmt, 1, arena, NULL);
    out->id = stmt_column_text(stmt, 2, arena, NULL);
    out->type = stmt_column_text(stmt, 3, arena, NULL);
    out->width = stmt_column_integer(stmt, 4, 0);
    out->height = stmt_column_integer(stmt, 5, 0);
    out->taken_s = stmt_column_integer(stmt, 6, INSTANT_NONE);
    out->received_s = stmt_column_integer(stmt, 7, 0);
    out->who = stmt_column_text(stmt, 8, arena, NULL);
    out->size = stmt_column_integer(stmt, 9, 0);
    stmt_column_blob(stmt, 10, out->sha256, sizeof out->sha256);
}

static enum status not_found(struct fault *fault, const char *id)
{
    fault_set(fault, "photo", "the id of a photo that came", "\"%s\"", id);
    return STATUS_NOT_FOUND;
}

enum status store_photo_find(struct store_txn *txn, const char *id, struct store_photo *out,
                             struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PHOTO_FIND);
    stmt_text_z(&stmt, 1, id);
    const bool found = stmt_step(&stmt);
    if (found) photo_read(&stmt, out, arena);
    const enum status status = stmt_end(&stmt, fault);
    return status != STATUS_OK || found ? status : not_found(fault, id);
}

enum status store_photo_body(struct store_txn *txn, const char *id, struct text *out,
                             struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PHOTO_BODY);
    stmt_text_z(&stmt, 1, id);
    const bool found = stmt_step(&stmt);
    if (found) stmt_column_bytes(&stmt, 0, out);
    const enum status status = stmt_end(&stmt, fault);
    return status != STATUS_OK || found ? status : not_found(fault, id);
}

static enum status known(struct store_txn *txn, const struct store_photo *photo, bool *out,
                         struct fault *fault)
{
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_photo there = {0};
    enum status status = store_photo_find(txn, photo->id, &there, arena, fault);
    *out = status == STATUS_OK;
    if (status == STATUS_NOT_FOUND) status = STATUS_OK;
    if (*out && (strcmp(there.job_id, photo->job_id) != 0 ||
                 memcmp(there.sha256, photo->sha256, sizeof there.sha256) != 0)) {
        fault_set(fault, "photo", "a new id, or the same photo of the same job again",
                  "\"%s\", which is on record otherwise", photo->id);
        status = STATUS_CONFLICT;
    }
    arena_free(arena);
    return status;
}

enum status store_photo_add(struct store_txn *txn, int64_t job_number,
                            const struct store_photo *photo, const void *bytes, bool *out_created,
                            struct fault *fault)
{
    bool there = false;
    *out_created = false;
    enum status status = known(txn, photo, &there, fault);
    if (status != STATUS_OK || there) return status;
    struct stmt stmt = stmt_begin(txn, STMT_PHOTO_ADD);
    stmt_integer(&stmt, 1, job_number);
    stmt_text_z(&stmt, 2, photo->id);
    stmt_text_z(&stmt, 3, photo->type);
    stmt_integer(&stmt, 4, photo->width);
    stmt_integer(&stmt, 5, photo->height);
    if (photo->taken_s != INSTANT_NONE) stmt_integer(&stmt, 6, photo->taken_s);
    stmt_integer(&stmt, 7, photo->received_s);
    stmt_text_z(&stmt, 8, photo->who);
    stmt_integer(&stmt, 9, photo->size);
    stmt_blob(&stmt, 10, photo->sha256, sizeof photo->sha256);
    stmt_blob(&stmt, 11, bytes, (size_t)photo->size);
    (void)stmt_step(&stmt);
    status = stmt_end(&stmt, fault);
    *out_created = status == STATUS_OK;
    return status;
}

enum status store_photo_list(struct store_txn *txn, int64_t job_number,
                             const struct store_photo **out, size_t *out_count, struct arena *arena,
                             struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, job_number > 0 ? STMT_PHOTO_OF_JOB : STMT_PHOTO_ALL);
    if (job_number > 0) stmt_integer(&stmt, 1, job_number);
    size_t room = PHOTOS_AT_ONCE;
    size_t count = 0;
    struct store_photo *all = ARENA_TAKE(arena, room, struct store_photo);
    while (all != NULL && stmt_step(&stmt)) {
        if (count == room) {
            struct store_photo *more = ARENA_TAKE(arena, room * 2, struct store_photo);
            if (more != NULL) memcpy(more, all, count * sizeof *all);
            all = more;
            room *= 2;
        }
        if (all != NULL) photo_read(&stmt, &all[count++], arena);
    }
    if (all == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = all;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_photo_total(struct store_txn *txn, int64_t *out_count, int64_t *out_bytes,
                              struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_PHOTO_TOTAL);
    const bool found = stmt_step(&stmt);
    *out_count = found ? stmt_column_integer(&stmt, 0, 0) : 0;
    *out_bytes = found ? stmt_column_integer(&stmt, 1, 0) : 0;
    return stmt_end(&stmt, fault);
}
