/* SPDX-License-Identifier: MIT */
/*
 * Records: append-only, one chain through the whole store. A record's hash is BLAKE2b-256 of the
 * hash before it (32 zero bytes for the first), the job's id, one line feed, and the body; so
 * neither a body, nor its place, nor the job it belongs to can change unnoticed.
 */
#ifndef EMBERWAIT_STORE_STORE_RECORD_H
#define EMBERWAIT_STORE_STORE_RECORD_H

#include "store/store.h"

/** A record on its way in. Everything is borrowed. */
struct store_record {
    const char *id;
    const char *kind;
    int64_t at_s;
    int64_t received_s;
    const char *who; /**< NULL: nobody said */
    const char *body;
    size_t body_length;
    unsigned char sent[STORE_HASH_BYTES]; /**< hash of what was sent: body less received and who */
};

/**
 * Append a record, unless it is known.
 *
 * @param[in]  txn         Writing.
 * @param[in]  job_number  Its job.
 * @param[in]  job_id      The id of that job.
 * @param[in]  record      Borrowed.
 * @param[out] out_created False: the same id with the same `sent` is in this job already.
 * Status: OK; CONFLICT (the job has the id with another body); IO… Ids are one job's own.
 */
MUST_USE enum status store_record_add(struct store_txn *txn, int64_t job_number, const char *job_id,
                                      const struct store_record *record, bool *out_created,
                                      struct fault *fault);

/** Records of a job. */
MUST_USE enum status store_record_count(struct store_txn *txn, int64_t job_number, size_t *out,
                                        struct fault *fault);

/** A stored record as one job's reader wants it. */
struct store_record_body {
    const char *id;
    const char *body;
    size_t body_length;
};
/** The records of a job in the order they came in; shape [*out_count], in the arena. */
MUST_USE enum status store_record_list(struct store_txn *txn, int64_t job_number,
                                       const struct store_record_body **out, size_t *out_count,
                                       struct arena *arena, struct fault *fault);

/** Where a record stands in the chain. */
struct store_record_mark {
    const char *id;
    int64_t seq;
    unsigned char hash[STORE_HASH_BYTES];
};
/** The marks of a job's records, in the order they came; shape [*out_count], in the arena. */
MUST_USE enum status store_record_marks(struct store_txn *txn, int64_t job_number,
                                        const struct store_record_mark **out, size_t *out_count,
                                        struct arena *arena, struct fault *fault);
/** The last record of the store; seq 0 and zeros when there is none. */
MUST_USE enum status store_record_tip(struct store_txn *txn, int64_t *out_seq,
                                      unsigned char out_hash[STORE_HASH_BYTES],
                                      struct fault *fault);

/** One link of the chain, for checking. */
struct store_link_of_chain {
    int64_t seq;
    const char *job_id;
    struct store_record record;
};

/**
 * Walk the whole chain in order, checking number, previous and hash of each record.
 *
 * @param[in]  each    Called for every record, sound or not; its strings live until it is back.
 * @param[in]  context Handed on.
 * @param[in,out] faults A broken link is a fault `records[SEQ]`; the walk goes on behind it.
 * @param[out] out_count Records walked; may be NULL.
 * Status: OK, CORRUPT (a link is broken), IO…
 */
MUST_USE enum status store_record_walk(struct store_txn *txn,
                                       void (*each)(const struct store_link_of_chain *link,
                                                    void *context),
                                       void *context, size_t *out_count, struct faults *faults);

#endif
