/* SPDX-License-Identifier: MIT */
/* The company and the jobs: bodies and versions. A job's version grows with its body and records.
 */
#ifndef EMBERWAIT_STORE_STORE_JOB_H
#define EMBERWAIT_STORE_STORE_JOB_H

#include "store/store.h"

struct store_company {
    int64_t version;
    const char *body; /**< in the arena */
    size_t body_length;
};

/** The company. Status: OK, NOT_FOUND (none was put), IO… */
MUST_USE enum status store_company_get(struct store_txn *txn, struct store_company *out,
                                       struct arena *arena, struct fault *fault);
/** Put the company with the version it has now. */
MUST_USE enum status store_company_put(struct store_txn *txn, const struct store_company *company,
                                       struct fault *fault);

struct store_job {
    int64_t number; /**< the store's own key, in the order of making */
    const char *id;
    int64_t version;
    int64_t created_s;
    const char *body; /**< in the arena */
    size_t body_length;
};

/** A job by id. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_job_find(struct store_txn *txn, const char *id, struct store_job *out,
                                    struct arena *arena, struct fault *fault);
/** A job by number. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_job_get(struct store_txn *txn, int64_t number, struct store_job *out,
                                   struct arena *arena, struct fault *fault);
/** Every job, in the order of making; shape [*out_count], in the arena. */
MUST_USE enum status store_job_list(struct store_txn *txn, const struct store_job **out,
                                    size_t *out_count, struct arena *arena, struct fault *fault);

struct store_head {
    int64_t number;
    int64_t version;
};
/** Number and version of every job, in the order of making. */
MUST_USE enum status store_job_heads(struct store_txn *txn, const struct store_head **out,
                                     size_t *out_count, struct arena *arena, struct fault *fault);

/** Add a job with version 1. Status: OK, LIMIT (JOBS_MAX), CONFLICT (id taken), IO… */
MUST_USE enum status store_job_add(struct store_txn *txn, const struct store_job *job,
                                   int64_t *out_number, struct fault *fault);
/** Put another body; the version grows by one. */
MUST_USE enum status store_job_put(struct store_txn *txn, int64_t number, const char *body,
                                   size_t body_length, struct fault *fault);
/** The job changed (a record came): the version grows by one. */
MUST_USE enum status store_job_touch(struct store_txn *txn, int64_t number, struct fault *fault);

#endif
