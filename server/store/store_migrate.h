/* SPDX-License-Identifier: MIT */
/*
 * Migrations: schema/migrations/NNNN-name.sql, numbered from 0001 without a gap. Each runs once, in
 * its own transaction, and leaves its number, name and BLAKE2b-256 in the store. A store whose
 * applied migrations are changed, missing or newer than ours is refused: what its tables mean would
 * be a guess.
 */
#ifndef EMBERWAIT_STORE_STORE_MIGRATE_H
#define EMBERWAIT_STORE_STORE_MIGRATE_H

#include "store/store_stmt.h"

/** What becomes of migrations that the store has not had yet. */
enum store_migrate_how {
    STORE_MIGRATE_APPLY, /**< they are applied */
    STORE_MIGRATE_WHOLE, /**< each is a fault: this store is to be read as it is now */
    STORE_MIGRATE_OLDER, /**< none is a fault: a copy from before is still whole */
};

/**
 * Hold the store's applied migrations against those of a directory, and apply the rest.
 *
 * @param[in]  txn        Connection, in no transaction.
 * @param[in]  directory  Where they are.
 * @param[in]  how        With what is missing.
 * @param[in]  now_s      Noted beside what is applied.
 * @param[out] out_count  Migrations in force, an older store's its own; may be NULL.
 * @param[in,out] faults  Every fault.
 * Status: OK, NOT_FOUND (no migrations there), CONFLICT, INVALID (bad numbering), LIMIT, IO…
 */
MUST_USE enum status store_migrate(struct store_txn *txn, const char *directory,
                                   enum store_migrate_how how, int64_t now_s, size_t *out_count,
                                   struct faults *faults);

#endif
