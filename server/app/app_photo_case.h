/* SPDX-License-Identifier: MIT */
/*
 * Photos beside a case file: a list that says what each is, and one file each under
 * `photos/`, named by its id, which any program shows. The list is JSON; `sha256sum` checks it.
 */
#ifndef EMBERWAIT_APP_APP_PHOTO_CASE_H
#define EMBERWAIT_APP_APP_PHOTO_CASE_H

#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "app/app_photo.h"
#include "base/text.h"

enum { APP_PHOTO_FILE_MAX = 64 }; /**< "photos/UUID.webp" and NUL */

/** Path of a photo's file beside the case file. */
void app_photo_file(char out[APP_PHOTO_FILE_MAX], const struct app_photo *photo);

/**
 * The list of all photos, `{"emberwait_photos":1,"photos":[…]}`.
 *
 * @param[in,out] out  The JSON is added to it.
 * Status: OK, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_photo_list_write(struct text *out, struct app *app, struct faults *faults);

/** Reads a photo's file into `out`; false, having said why, when it cannot. */
typedef bool app_photo_reader(void *context, const char *file, struct text *out);

struct app_photos_imported {
    size_t photos, photos_known;
};

/**
 * Take photos in by their list. Every file is held against the list before the first is kept; one
 * that is not as the list says refuses them all.
 *
 * @param[out] out      Counts.
 * @param[in]  json     The list, shape [length].
 * @param[in]  read     Reads a file.
 * @param[in]  context  Handed to it.
 * Status: OK, INVALID, CONFLICT (an id is on record with other bytes), NOT_FOUND (no such job),
 *         LIMIT, BUSY, IO.
 */
MUST_USE enum status app_photos_import(struct app_photos_imported *out, struct app *app,
                                       const char *json, size_t length, app_photo_reader *read,
                                       void *context, struct faults *faults);

#endif
