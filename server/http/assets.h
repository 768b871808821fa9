/* SPDX-License-Identifier: MIT */
/*
 * The files of static/: read once at the start, with a tag and a gzip of each that shrinks, then
 * served from memory. A request is looked up among the names found, so no path can lead elsewhere.
 */
#ifndef EMBERWAIT_HTTP_ASSETS_H
#define EMBERWAIT_HTTP_ASSETS_H

#include <stddef.h>

#include "base/status.h"

enum { ASSET_TAG_MAX = 24 };

struct asset {
    char *path;       /**< below the folder, e.g. `css/base.css` */
    const char *type; /**< Content-Type */
    char *bytes;
    size_t length;
    char *gzip; /**< NULL: not smaller */
    size_t gzip_length;
    char tag[ASSET_TAG_MAX]; /**< of the content, without quotes */
};

struct assets;

/**
 * Read every file of a folder and of the folders in it; names that begin with a dot are left out.
 *
 * @param[out] out        Own; assets_free.
 * @param[in]  directory  A folder that is not there gives no assets.
 * @param[in]  faults     A file of no known type, or over a ceiling.
 * Status: OK, INVALID, LIMIT, IO.
 */
MUST_USE enum status assets_load(struct assets **out, const char *directory, struct faults *faults);
/** NULL is allowed. */
void assets_free(struct assets *assets);
/** By its path; NULL when there is none. */
const struct asset *assets_find(const struct assets *assets, const char *path);
/** One file by itself, e.g. schema/openapi.json. Status as assets_load, NOT_FOUND. */
MUST_USE enum status asset_read(struct asset *out, const char *file, const char *path,
                                struct faults *faults);
/** Free what it owns. */
void asset_release(struct asset *asset);

#endif
