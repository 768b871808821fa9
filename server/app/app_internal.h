/* SPDX-License-Identifier: MIT */
/* What the files of this folder share: the open app, faults, canonical JSON, bodies read whole. */
#ifndef EMBERWAIT_APP_APP_INTERNAL_H
#define EMBERWAIT_APP_APP_INTERNAL_H

#include <jansson.h>
#include <pthread.h>
#include <stdatomic.h>

#include "app/app.h"
#include "app/app_secret.h"
#include "app/app_view.h"
#include "base/arena.h"
#include "base/text.h"
#include "intake/intake.h"
#include "model/plan.h"
#include "rulebook/rulebook.h"
#include "store/store.h"
#include "store/store_job.h"
#include "store/store_record.h"

/** How many passwords are being stretched, and how many wait for their turn. */
struct app_stretching {
    pthread_mutex_t mutex;
    pthread_cond_t turn;
    int running, waiting;
    uint64_t count; /**< stretched since the start */
};

struct app {
    struct store *store;
    struct rulebook *rulebook; /**< the one every job goes by */
    pthread_mutex_t zones_mutex;
    struct intake_zones *zones; /**< every model borrows from it; under zones_mutex */
    pthread_mutex_t view_mutex;
    struct app_view *view; /**< the newest, one reference; under view_mutex */
    uint64_t rebuilds;     /**< under view_mutex, as the next two */
    uint64_t jobs_parsed;
    double last_rebuild_s;
    bool read_only;
    _Atomic int64_t well_until_s;     /**< steady clock: until then the last good write counts */
    atomic_bool people;               /**< an owner is on record: see app_person_any */
    struct app_stretching stretching; /**< see app_password.c */
    unsigned char secret[APP_SECRET_BYTES];
};

enum {
    APP_BODY_BYTES_MAX = 67108864, /**< a job with all its records as JSON: 20,000 of 3 KiB */
    APP_TRIES_MAX = 10,            /**< how often a write is checked again when the job changed */
};

/* --- faults -------------------------------------------------------------------------------- */

/** Add the store's one fault to a list; the status is handed on. */
enum status app_fault(struct faults *faults, enum status status, const struct fault *fault);
/** No memory: a fault and STATUS_LIMIT. */
enum status app_no_memory(struct faults *faults);
/** text_status, with a fault. */
MUST_USE enum status app_text_status(const struct text *text, struct faults *faults);

/** A name of a person or phone: 1..NAME_BYTES_MAX bytes, no control characters. OK or INVALID. */
enum status app_name_check(const char *name, const char *path, struct faults *faults);

/* --- JSON ---------------------------------------------------------------------------------- */

/**
 * Write JSON in its one canonical form: members sorted by name (bytes), no blanks, numbers in the
 * fewest digits that read back as the same double, strings escaped as base/text does.
 *
 * @param[in,out] out   The bytes are added.
 * @param[in]     json  Borrowed.
 * @param[in]     less  Names of top members to leave out, ended by NULL; or NULL.
 */
void app_canonical(struct text *out, const json_t *json, const char *const *less);

/** A number in the fewest digits that read back as the same double. */
void app_number(struct text *out, double value);

/** RFC 7396: change `target` by `patch`; both objects. False: no memory. */
MUST_USE bool app_merge_patch(json_t *target, const json_t *patch);

/* --- bodies -------------------------------------------------------------------------------- */

/** The company of a store that has none: UTC, Monday to Friday, seven to half past three. */
extern const char app_company_default[];

/** A stored job with its records as one JSON text: the body with `records` as its last member. */
void app_whole_text(struct text *out, const struct store_job *job,
                    const struct store_record_body *records, size_t count);

/** The zone cache and intake for it; lock app->zones_mutex around its use. */
struct intake app_intake(struct app *app, struct arena *arena, struct faults *faults);

/** Parse a stored body; a fault there means that the store is corrupt. */
MUST_USE enum status app_parse_stored(json_t **out, const char *body, size_t length,
                                      struct faults *faults);

/**
 * Read a job and its records from the store and through intake.
 *
 * @param[out] out    Filled; in `model`.
 * @param[in]  job    Stored row.
 * @param[in]  body   Another body to try instead of the stored one; NULL: the stored one.
 * @param[in]  zone   Company's zone.
 * @param[in]  model  Takes the model.
 * Status: OK, INVALID (with the faults), LIMIT, IO…
 */
MUST_USE enum status app_job_read(struct job *out, struct app *app, struct store_txn *txn,
                                  const struct store_job *job, const struct text *body,
                                  const struct zone *zone, struct arena *model,
                                  struct faults *faults);

/** Every job of the store read again: after a change that may concern them all. */
MUST_USE enum status app_jobs_check(struct app *app, struct store_txn *txn, const struct zone *zone,
                                    struct faults *faults);

/** The stored company (or the default) through intake; version 0 for the default. */
MUST_USE enum status app_company_read(struct company *out, int64_t *out_version, struct app *app,
                                      struct store_txn *txn, struct arena *model,
                                      struct faults *faults);

/** A case at an instant, planned. */
MUST_USE enum status app_plan_case(const struct plan **out, const struct casefile *casefile,
                                   const struct rulebook *rulebook, int64_t now_s,
                                   struct arena *arena, struct faults *faults);

/* --- views --------------------------------------------------------------------------------- */

/** Version of the company a view was made with; 0: the default. */
int64_t app_view_company_version(const struct app_view *view);
/** Hash of the body of a job (not of its records) as the view has it. */
const unsigned char *app_view_body_hash(const struct app_view *view, const struct job *job);
/** The rulebook of every job. */
const struct rulebook *app_view_any_rulebook(const struct app_view *view);
/** The app a view was made from. */
struct app *app_view_app(const struct app_view *view);
/** The view at hand, new or not, with a reference; false when there is none yet. */
bool app_view_glance(struct app_view **out, struct app *app);
/** Drop the app's own reference. */
void app_view_forget(struct app *app);

/* --- records ------------------------------------------------------------------------------- */

/**
 * Checked JSON records made ready for the store, in the order given.
 *
 * @param[out] out    In the arena, shape [json_array_size(array)].
 * @param[in]  array  Checked by intake; `received` and `who` are set in it.
 * @param[in]  who    Written into each; NULL: as each says.
 * @param[in]  now_s  `received`.
 * @param[in]  keep   Keep a `received` and `who` that a record has (an import).
 * Status: OK, LIMIT.
 */
MUST_USE enum status app_records_ready(const struct store_record **out, json_t *array,
                                       const char *who, int64_t now_s, bool keep,
                                       struct arena *arena, struct faults *faults);

#endif
