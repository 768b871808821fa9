/* SPDX-License-Identifier: MIT */
/*
 * Records: append-only, each with its maker's id. What is stored is the canonical JSON of what was
 * sent plus `received` and `who`. The same id and body again is known; the same id with another
 * body refuses the whole batch.
 */
#ifndef EMBERWAIT_APP_APP_RECORD_H
#define EMBERWAIT_APP_APP_RECORD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/arena.h"
#include "base/text.h"

/** What became of one record of a batch. */
struct app_added {
    const char *id;
    bool created; /**< false: it was known already */
};

/**
 * Add one record or a list to a job, all or nothing.
 *
 * @param[out] out        In `arena`, in the order sent; the second of a double is not `created`.
 * @param[out] out_count  Their number.
 * @param[in]  job_id     NUL-ended.
 * @param[in]  json       One object or an array, shape [length].
 * @param[in]  who        Who sent it; written into each body. NULL: as the body says.
 * @param[in]  now_s      When it came in; written into each body as `received`.
 * @param[in]  arena      Memory of the answer.
 * Status: OK (all known when no `created` is true); NOT_FOUND (no such job); INVALID; CONFLICT (an
 *         id is on record in this job with another body); LIMIT; BUSY; IO.
 */
MUST_USE enum status app_records_add(const struct app_added **out, size_t *out_count,
                                     struct app *app, const char *job_id, const char *json,
                                     size_t length, const char *who, int64_t now_s,
                                     struct arena *arena, struct faults *faults);

/**
 * Which kinds of stored records the corrections in what was sent name, in every body that each of
 * those ever had: whoever takes back or changes a record has to be one who may write it.
 *
 * @param[out] out  Bits of enum record_kind; none where there is no such job.
 * Status: OK, INVALID (no JSON), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_records_corrected(uint64_t *out, struct app *app, const char *job_id,
                                           const char *json, size_t length, struct faults *faults);

/**
 * Which kinds of record are in what was sent (one, a list, or a job with its records), in
 * corrections too; nothing is checked beside that.
 *
 * @param[out] out  Bits of enum record_kind.
 * Status: OK, INVALID (no JSON), LIMIT.
 */
MUST_USE enum status app_records_kinds(uint64_t *out, const char *json, size_t length,
                                       struct faults *faults);

/**
 * The records of a job as `{"records":[…]}`, in the order they came in.
 *
 * @param[in,out] out      The JSON is added to it.
 * @param[out] out_version Version of the job, for the ETag; may be NULL.
 * Status: OK, NOT_FOUND, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_records_list(struct text *out, int64_t *out_version, struct app *app,
                                      const char *job_id, struct faults *faults);

/** Where a record stands in the chain, as text. */
struct app_mark {
    const char *record_id;
    int64_t seq;
    char hash[65]; /**< 64 hex digits and NUL */
};

/**
 * The marks of a job's records and of the last record of the store, all of one picture.
 *
 * @param[out] out  In `arena`, in the order they came, shape [*out_count].
 * @param[out] tip  `record_id` NULL; seq 0 when there is no record at all.
 * Status: OK, NOT_FOUND, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_record_marks(const struct app_mark **out, size_t *out_count,
                                      struct app_mark *tip, struct app *app, const char *job_id,
                                      struct arena *arena, struct faults *faults);

enum { APP_ID_TEXT_MAX = 37 }; /**< a UUID and NUL */

/** A new random UUID (version 4). */
void app_new_id(char out[APP_ID_TEXT_MAX]);

/**
 * The owner's yes to a date: an `agreed` record, at `now_s`. Refused unless the plan of `now_s`
 * supports it: no block, and the cure complete on or before that day.
 *
 * @param[out] out_id  The record's id; may be NULL.
 * @param[in]  day     Civil day since 1970 in the job's zone.
 * @param[in]  by      Who agreed; NUL-ended, not empty.
 * Status: OK, NOT_FOUND, CONFLICT (the plan does not support it), INVALID, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_agree(char out_id[APP_ID_TEXT_MAX], struct app *app, const char *job_id,
                               int32_t day, const char *by, int64_t now_s, struct faults *faults);

#endif
