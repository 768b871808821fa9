/* SPDX-License-Identifier: MIT */
/* Keeping the file: SQLite's own checks, a copy in one step, a copy put into place. */
#ifndef EMBERWAIT_STORE_STORE_KEEP_H
#define EMBERWAIT_STORE_STORE_KEEP_H

#include "store/store.h"

/**
 * integrity_check, foreign_key_check, and the migrations' checksums, of an open transaction.
 *
 * @param[in]  migrations  Directory.
 * @param[out] out_count   Migrations in force.
 * Status: OK, CORRUPT (with faults), CONFLICT (migrations), IO…
 */
MUST_USE enum status store_keep_check(struct store_txn *txn, const char *migrations,
                                      size_t *out_count, struct faults *faults);

/**
 * Copy a store file into a new one, all pages in one step, then fsync it. Small steps would begin
 * again at every write of somebody else and might never end. The copy is a single file (no log).
 *
 * @param[in] path  The store; may be in use.
 * @param[in] copy  The file to make; it must not be there.
 * Status: OK, CONFLICT (it is there), NOT_FOUND, IO…; on any but OK nothing is left behind.
 */
MUST_USE enum status store_keep_copy(const char *path, const char *copy, struct fault *fault);

/** The same from the writing connection of an open store. */
MUST_USE enum status store_keep_copy_live(struct store *store, const char *copy,
                                          struct fault *fault);

/**
 * Rename a verified file to its final name and fsync the directory.
 *
 * @param[in] replace  Replace a store of that name (its log is folded into it first).
 * Status: OK, CONFLICT (there is one, and not `replace`), BUSY (it is in use), IO.
 */
MUST_USE enum status store_keep_place(const char *file, const char *path, bool replace,
                                      struct fault *fault);

#endif
