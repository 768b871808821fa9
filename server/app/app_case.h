/* SPDX-License-Identifier: MIT */
/* The whole store as one case file, and a case file into the store. */
#ifndef EMBERWAIT_APP_APP_CASE_H
#define EMBERWAIT_APP_APP_CASE_H

#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/text.h"

/**
 * Everything but links and people as a case file, at `now_s`; app_import takes it back.
 *
 * @param[in,out] out  The JSON is added to it; its limit should be CASE_BYTES_MAX.
 * Status: OK, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_export(struct text *out, struct app *app, int64_t now_s,
                                struct faults *faults);

/** What an import brought. */
struct app_imported {
    size_t jobs, jobs_known;
    size_t records, records_known;
    size_t stations;
};

/**
 * Take a case file in, all or nothing. Jobs and records that are there already with the same body
 * are known; with another body the whole file is refused. The company replaces the stored one.
 *
 * @param[out] out    Counts; may be NULL.
 * @param[in]  json   Shape [length].
 * @param[in]  who    Noted on records that do not say; may be NULL.
 * @param[in]  now_s  `received` of records that do not say.
 * Status: OK, INVALID, CONFLICT, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_import(struct app_imported *out, struct app *app, const char *json,
                                size_t length, const char *who, int64_t now_s,
                                struct faults *faults);

/** The same, but nothing is kept: what would become of it. Status as app_import. */
MUST_USE enum status app_import_dry(struct app_imported *out, struct app *app, const char *json,
                                    size_t length, const char *who, int64_t now_s,
                                    struct faults *faults);

#endif
