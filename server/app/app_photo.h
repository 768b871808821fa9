/* SPDX-License-Identifier: MIT */
/*
 * Photos: sent once under an id the phone made, kept as they came, never decoded, never changed.
 * The same id with the same bytes is known; with others it is refused. What a photo shows is said
 * by the record that names it (member `photo`), which may come before it or after it.
 */
#ifndef EMBERWAIT_APP_APP_PHOTO_H
#define EMBERWAIT_APP_APP_PHOTO_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/arena.h"
#include "base/text.h"

enum {
    APP_PHOTO_ID_CHARACTERS = 36,
    APP_PHOTO_SHA256_TEXT_MAX = 65, /**< 64 hex digits and NUL */
};

/** What is known of a photo; strings in the caller's arena. */
struct app_photo {
    const char *id; /**< UUID, small letters */
    const char *job_id;
    const char *type;   /**< media type */
    const char *ending; /**< of a file of that type, e.g. "jpg" */
    int width;          /**< pixels */
    int height;         /**< pixels */
    int64_t taken_s;    /**< INSTANT_NONE: not said */
    int64_t received_s;
    const char *who; /**< NULL: nobody said */
    int64_t size;    /**< bytes */
    char sha256[APP_PHOTO_SHA256_TEXT_MAX];
};

/** A photo on its way in; everything borrowed. */
struct app_photo_sent {
    const char *job_id;
    const char *id;   /**< from outside */
    const char *type; /**< media type it is said to be; NULL: whatever it is */
    const void *bytes;
    size_t length;
    int64_t taken_s; /**< INSTANT_NONE: not said */
    const char *who; /**< NULL: nobody said */
    int64_t now_s;   /**< when it came in */
    bool any_room;   /**< the company's ceiling does not count (an import) */
};

/** What became of it. */
struct app_photo_kept {
    struct app_photo photo; /**< as sent; what is on record may have come at another time */
    bool created;           /**< false: it was known already */
    bool no_room;           /**< LIMIT because of the company's ceiling for photos */
    bool not_image;         /**< INVALID because of the bytes */
};

/**
 * Whether text is a UUID as we write them: 8-4-4-4-12 small hex digits.
 */
bool app_photo_id_valid(const char *id);

/**
 * Keep a photo.
 *
 * @param[out] out    Strings borrowed from `sent`.
 * @param[in]  sent   Borrowed.
 * Status: OK (known when not `created`); INVALID (id, or not a picture of that type); NOT_FOUND (no
 *         such job); CONFLICT (the id is on record with other bytes or in another job); LIMIT (too
 *         large, or `no_room`); BUSY; IO.
 */
MUST_USE enum status app_photo_put(struct app_photo_kept *out, struct app *app,
                                   const struct app_photo_sent *sent, struct faults *faults);

/** What is known of a photo. Status: OK, NOT_FOUND, LIMIT, BUSY, CORRUPT, IO. */
MUST_USE enum status app_photo_find(struct app_photo *out, struct app *app, const char *id,
                                    struct arena *arena, struct faults *faults);

/** Its bytes, added to `out`. Status: OK, NOT_FOUND, LIMIT, BUSY, CORRUPT, IO. */
MUST_USE enum status app_photo_bytes(struct text *out, struct app *app, const char *id,
                                     struct faults *faults);

/**
 * Photos of a job, or of all, in the order they came.
 *
 * @param[out] out     In `arena`, shape [*out_count].
 * @param[in]  job_id  NULL: of all.
 * Status: OK, NOT_FOUND (no such job), LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_photo_list(const struct app_photo **out, size_t *out_count,
                                    struct app *app, const char *job_id, struct arena *arena,
                                    struct faults *faults);

/** How much room photos take. */
struct app_photo_room {
    int64_t count;
    int64_t bytes;
    int64_t bytes_max; /**< the company's ceiling */
};
/** Status: OK, LIMIT, BUSY, CORRUPT, IO. */
MUST_USE enum status app_photo_room(struct app_photo_room *out, struct app *app,
                                    struct faults *faults);

#endif
