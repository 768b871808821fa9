/* SPDX-License-Identifier: MIT */
/* Links, and secrets of the store itself. Only hashes of tokens are kept. */
#ifndef EMBERWAIT_STORE_STORE_LINK_H
#define EMBERWAIT_STORE_STORE_LINK_H

#include "store/store.h"

/** A link. Strings in the arena or borrowed. */
struct store_link {
    int64_t number;
    const char *kind;
    const char *target;
    const char *phone; /**< whose phone it is for; NULL: nobody said */
    int64_t generation;
    int64_t made_s;
    int64_t revoked_s; /**< INSTANT_NONE: open */
    int64_t seen_s;    /**< when it was used last, within minutes; INSTANT_NONE: never */
    unsigned char hash[STORE_HASH_BYTES];
};

/** The open link to a target, of that phone (NULL: of none). Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_link_open(struct store_txn *txn, const char *kind, const char *target,
                                     const char *phone, struct store_link *out, struct arena *arena,
                                     struct fault *fault);
/** Highest generation there ever was of a target; 0 for none. */
MUST_USE enum status store_link_last(struct store_txn *txn, const char *kind, const char *target,
                                     int64_t *out, struct fault *fault);
/** Add a link (kind, target, phone, generation, made_s, hash). */
MUST_USE enum status store_link_add(struct store_txn *txn, const struct store_link *link,
                                    struct fault *fault);
/** A link by the hash of its token, open or not. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_link_find(struct store_txn *txn,
                                     const unsigned char hash[STORE_HASH_BYTES],
                                     struct store_link *out, struct arena *arena,
                                     struct fault *fault);
/** Close the open link to a target, of that phone (NULL: of none). Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_link_revoke(struct store_txn *txn, const char *kind, const char *target,
                                       const char *phone, int64_t now_s, struct fault *fault);
/** Note that a link was used. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_link_seen(struct store_txn *txn, int64_t number, int64_t now_s,
                                     struct fault *fault);
/** Every link, open or not; in the arena. */
MUST_USE enum status store_link_list(struct store_txn *txn, const struct store_link **out,
                                     size_t *out_count, struct arena *arena, struct fault *fault);

/** A secret of exactly `length` bytes. Status: OK, NOT_FOUND, CORRUPT (another length), IO… */
MUST_USE enum status store_secret_get(struct store_txn *txn, const char *name, unsigned char *out,
                                      size_t length, struct fault *fault);
/** Keep a new secret. Status: OK, CONFLICT (there is one), IO… */
MUST_USE enum status store_secret_put(struct store_txn *txn, const char *name,
                                      const unsigned char *secret, size_t length,
                                      struct fault *fault);

#endif
