/* SPDX-License-Identifier: MIT */
/* Keeping the store: is it whole, a copy of it, and a copy put back. */
#ifndef EMBERWAIT_APP_APP_KEEP_H
#define EMBERWAIT_APP_APP_KEEP_H

#include <stdbool.h>
#include <stddef.h>

#include "app/app.h"

/** What was looked at. */
struct app_verified {
    size_t migrations, jobs, records, stations, photos;
};

/**
 * Check a store file: SQLite's own integrity and foreign keys, migrations' checksums, the chain of
 * records, that every body parses and says what its columns say, and every photo's hash. Never
 * writes.
 *
 * @param[out] out   Counts; may be NULL.
 * @param[in]  path  The database file; may be in use by a server.
 * @param[in]  vfs   As app_options.
 * @param[in,out] faults Every fault.
 * Status: OK, NOT_FOUND, CORRUPT (see the faults), CONFLICT (migrations), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_verify(struct app_verified *out, const char *path, const char *vfs,
                                struct faults *faults);

/**
 * Copy a store file in one step while others may be writing to it; the copy is fsynced, verified
 * and only then given its name. An existing file is never overwritten.
 *
 * @param[in] path  The database file.
 * @param[in] copy  The file to make.
 * Status: OK, CONFLICT (`copy` exists), NOT_FOUND, CORRUPT (the copy does not verify), BUSY, IO.
 */
MUST_USE enum status app_backup(const char *path, const char *copy, struct faults *faults);

/** The same from a running app, by its writing connection. */
MUST_USE enum status app_backup_live(struct app *app, const char *copy, struct faults *faults);

/**
 * Put a copy in the place of a store: verified first, then renamed into place.
 *
 * @param[in] copy   The copy; it is not changed.
 * @param[in] path   The database file to make.
 * @param[in] force  Replace a store that is there; without it that is CONFLICT. A store that is in
 *                   use is never replaced.
 * Status: OK, CONFLICT, NOT_FOUND, CORRUPT (the copy does not verify), BUSY (in use), IO.
 */
MUST_USE enum status app_restore(const char *copy, const char *path, bool force,
                                 struct faults *faults);

#endif
