/* SPDX-License-Identifier: MIT */
/*
 * The store as a folder that needs no program to be read: `case.json`, and beside it `photos.json`
 * and the photos as they came. Files are written whole or the export has failed; what there is of
 * it then is left for whoever wants to look.
 */
#ifndef EMBERWAIT_CLI_EXPORT_FOLDER_H
#define EMBERWAIT_CLI_EXPORT_FOLDER_H

#include <stdbool.h>

#include "app/app_photo_case.h"

/** Make a folder with the case (`text`) and every photo. Status: OK, CONFLICT (it is there), IO… */
MUST_USE enum status export_folder_write(const char *folder, struct app *app,
                                         const struct text *text, struct faults *faults);
/** Whether a path is a folder. */
bool export_folder_is(const char *path);
/** The case of a folder. Status: OK, NOT_FOUND, LIMIT, IO; it has been said on stderr. */
MUST_USE enum status export_folder_case(struct text *out, const char *folder);
/** Take the photos of a folder in, after its case. Status as app_photos_import; NOT_FOUND (no
 * list).
 */
MUST_USE enum status export_folder_photos(struct app_photos_imported *out, struct app *app,
                                          const char *folder, struct faults *faults);

#endif
