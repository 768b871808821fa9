/* SPDX-License-Identifier: MIT */
/* Jobs: everything about one but its records. Its version grows with every change and record. */
#ifndef EMBERWAIT_APP_APP_JOB_H
#define EMBERWAIT_APP_APP_JOB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/text.h"

/**
 * All jobs as `{"jobs":[{"id":…,"version":…,"records":…,"job":{…stored body…}},…]}`, oldest first.
 *
 * @param[in,out] out  The JSON is added to it.
 * Status: OK, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_jobs_list(struct text *out, struct app *app, struct faults *faults);

/**
 * One job as it is stored: the case file's shape without `records`.
 *
 * @param[in,out] out      The JSON is added to it.
 * @param[out] out_version For the ETag; may be NULL.
 * @param[in]  job_id      NUL-ended.
 * Status: OK, NOT_FOUND, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_job_get(struct text *out, int64_t *out_version, struct app *app,
                                 const char *job_id, struct faults *faults);

/**
 * Store a new job; `records` in it are stored with it, all or nothing. Its `station` must be in the
 * store already.
 *
 * @param[in,out] out_id   The id is added to it as plain text. May be NULL.
 * @param[out] out_version May be NULL.
 * @param[out] out_created False: the very same job was there already. May be NULL.
 * @param[in]  json        Shape [length], need not end in NUL.
 * @param[in]  who         Who wrote it, noted on its records; NULL: as the records say.
 * @param[in]  now_s       When it came in.
 * Status: OK, INVALID, CONFLICT (another job has the id), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_job_create(struct text *out_id, int64_t *out_version, bool *out_created,
                                    struct app *app, const char *json, size_t length,
                                    const char *who, int64_t now_s, struct faults *faults);

/**
 * Change members of a job by a JSON merge patch. `id` and `records` cannot be changed so.
 *
 * @param[in,out] out      The whole changed job is added to it. May be NULL.
 * @param[out] out_version The new version; may be NULL.
 * @param[in]  expected    Version the patch was made against (If-Match), or APP_VERSION_ANY.
 * @param[in]  json        The patch, shape [length].
 * Status: OK; NOT_FOUND; CONFLICT (the version is another: the only conflict there is, HTTP 412);
 *         INVALID; LIMIT; BUSY; IO.
 * Source: [rfc7396]
 */
MUST_USE enum status app_job_patch(struct text *out, int64_t *out_version, struct app *app,
                                   const char *job_id, int64_t expected, const char *json,
                                   size_t length, int64_t now_s, struct faults *faults);

#endif
