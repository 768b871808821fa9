/* SPDX-License-Identifier: MIT */
/*
 * Photos: bytes that are kept as they came, each once, under the id its sender made. Never changed
 * and never deleted. The bytes are large, so only one photo's are ever read at a time.
 */
#ifndef EMBERWAIT_STORE_STORE_PHOTO_H
#define EMBERWAIT_STORE_STORE_PHOTO_H

#include "base/text.h"
#include "store/store.h"

enum {
    STORE_SHA256_BYTES = 32,
    STORE_PHOTO_MIGRATION = 2, /**< a store that has not had this one has no photos */
};

/** What is known of a photo. Strings in the arena or borrowed. */
struct store_photo {
    int64_t number;
    const char *job_id;
    const char *id;   /**< UUID, small letters */
    const char *type; /**< media type */
    int64_t width;    /**< pixels */
    int64_t height;   /**< pixels */
    int64_t taken_s;  /**< INSTANT_NONE: not said */
    int64_t received_s;
    const char *who; /**< NULL: nobody said */
    int64_t size;    /**< bytes */
    unsigned char sha256[STORE_SHA256_BYTES];
};

/**
 * Keep a photo, unless it is known.
 *
 * @param[in]  job_number  Its job.
 * @param[in]  photo       Borrowed; `number` does not count. `job_id` is that job's id.
 * @param[in]  bytes       Shape [photo->size].
 * @param[out] out_created False: the same job has the same bytes under that id already.
 * Status: OK; CONFLICT (the id is on record with other bytes or in another job); IO…
 */
MUST_USE enum status store_photo_add(struct store_txn *txn, int64_t job_number,
                                     const struct store_photo *photo, const void *bytes,
                                     bool *out_created, struct fault *fault);

/** A photo by id. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_photo_find(struct store_txn *txn, const char *id,
                                      struct store_photo *out, struct arena *arena,
                                      struct fault *fault);

/** Its bytes, added to a text. Status: OK, NOT_FOUND, LIMIT (the text's), IO… */
MUST_USE enum status store_photo_body(struct store_txn *txn, const char *id, struct text *out,
                                      struct fault *fault);

/** Photos of a job (0: of all) in the order they came; shape [*out_count], in the arena. */
MUST_USE enum status store_photo_list(struct store_txn *txn, int64_t job_number,
                                      const struct store_photo **out, size_t *out_count,
                                      struct arena *arena, struct fault *fault);

/** How many photos there are, and their bytes together. */
MUST_USE enum status store_photo_total(struct store_txn *txn, int64_t *out_count,
                                       int64_t *out_bytes, struct fault *fault);

/** SHA-256 of bytes. */
void store_photo_sha256(unsigned char out[STORE_SHA256_BYTES], const void *bytes, size_t length);

#endif
