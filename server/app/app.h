/* SPDX-License-Identifier: MIT */
/*
 * The use cases. Each function here is one transaction: the command line and the server call the
 * same ones, so neither can do what the other cannot. Bytes come in as JSON and are checked by
 * intake; answers go out as a status, faults, and either stored JSON or a plan for the views.
 *
 * Reading order: app.h (open, close), app_view.h (reading: a picture of the store that does not
 * change under you), app_job.h, app_record.h, app_station.h, app_company.h (writing), app_plan.h
 * (plans, try-it), app_link.h, app_person.h (who may look), app_case.h (export, import),
 * app_keep.h (verify, backup, restore).
 *
 * Every function may be called from any thread. `now_s` is always an argument. A function that
 * writes is back only when its records are on disk (fsync); any other status means nothing of it
 * was stored. A write function may be called again with the same input after STATUS_IO or
 * STATUS_BUSY: the second call finds what the first one stored.
 */
#ifndef EMBERWAIT_APP_APP_H
#define EMBERWAIT_APP_APP_H

#include <stdbool.h>
#include <stdint.h>

#include "base/status.h"

/** An open store with everything worked out from it. */
struct app;

enum { APP_VERSION_ANY = 0 }; /**< a change without a precondition (no If-Match) */

/** How to open one. */
struct app_options {
    const char *path; /**< the database file */
    bool create;      /**< make it when there is none */
    bool read_only;   /**< never writes; may look on while another process serves the same store */
    int64_t now_s;    /**< noted beside migrations that are applied */
    const char *vfs;  /**< SQLite VFS by name, for tests; NULL: the default */
};

/**
 * Open a store: migrations applied or checked, rulebooks read.
 *
 * @param[out] out      Own; app_close.
 * @param[in]  options  Borrowed.
 * @param[in,out] faults What is wrong.
 * Status: OK; NOT_FOUND (no such file and not `create`); BUSY (another process writes to it);
 *         CONFLICT (its migrations are not ours); CORRUPT (not a store); INVALID (a shipped
 * rulebook has faults); LIMIT (no memory); IO.
 */
MUST_USE enum status app_open(struct app **out, const struct app_options *options,
                              struct faults *faults);

/** Close it; every view must have been released before. NULL is allowed. */
void app_close(struct app *app);

/** Figures of a running app, for /metrics and tests. Counters only ever grow. */
struct app_figures {
    uint64_t commits;       /**< groups of writes committed (one fsync each) */
    uint64_t writes;        /**< write requests in them */
    uint64_t failed_writes; /**< write requests the machine refused */
    uint64_t rebuilds;      /**< views built */
    uint64_t jobs_parsed;   /**< jobs read again for them */
    uint64_t passwords;     /**< passwords stretched: set, or held against one */
    double last_rebuild_s;  /**< time the last view took */
};

/** The figures now. */
void app_figures(struct app *app, struct app_figures *out);

/**
 * Whether the store can be read and written just now, for /healthz. It writes, but when it could a
 * moment ago (HEALTH_KEPT_S) that is taken: whoever may ask may not keep the disk busy.
 *
 * Status: OK; IO or CORRUPT with the fault.
 */
MUST_USE enum status app_health(struct app *app, struct faults *faults);

#endif
