/* SPDX-License-Identifier: MIT */
/*
 * People and their passes. A person signs in with a password (stored stretched); a pass is what
 * proves it afterwards: a browser's session, or the token of a script. Only hashes of passes are
 * kept. A person is never deleted: who wrote a record stays known.
 */
#ifndef EMBERWAIT_STORE_STORE_PERSON_H
#define EMBERWAIT_STORE_STORE_PERSON_H

#include "store/store.h"

/** Strings in the arena or borrowed. */
struct store_person {
    int64_t number;
    const char *name;
    const char *role;
    int64_t made_s;
    int64_t revoked_s;    /**< INSTANT_NONE: may sign in */
    const char *password; /**< as libsodium writes it; NULL: none */
};

/** Add a person (name, role, made_s, password). Status: OK, CONFLICT (name taken), IO… */
MUST_USE enum status store_person_add(struct store_txn *txn, const struct store_person *person,
                                      int64_t *out_number, struct fault *fault);
/** The person of that name who was not revoked. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_person_open(struct store_txn *txn, const char *name,
                                       struct store_person *out, struct arena *arena,
                                       struct fault *fault);
/** The person of that number who was not revoked. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_person_get(struct store_txn *txn, int64_t number,
                                      struct store_person *out, struct arena *arena,
                                      struct fault *fault);
/** Everybody, in the order added; in the arena. */
MUST_USE enum status store_person_list(struct store_txn *txn, const struct store_person **out,
                                       size_t *out_count, struct arena *arena, struct fault *fault);
/** How many of a role were not revoked. */
MUST_USE enum status store_person_count(struct store_txn *txn, const char *role, int64_t *out,
                                        struct fault *fault);
/** Revoke. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_person_revoke(struct store_txn *txn, int64_t number, int64_t now_s,
                                         struct fault *fault);
/** Put another password. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status store_person_password(struct store_txn *txn, int64_t number,
                                           const char *password, struct fault *fault);

/** A pass, with whom it stands for. Strings in the arena or borrowed. */
struct store_pass {
    int64_t number;
    int64_t person;
    const char *kind; /**< "session" or "token" */
    int64_t made_s;
    int64_t seen_s; /**< when it was used last, within minutes */
    const char *name;
    const char *role;
};

/** Add a pass of a person. Status: OK, IO… */
MUST_USE enum status store_pass_add(struct store_txn *txn, int64_t person, const char *kind,
                                    int64_t now_s, const unsigned char hash[STORE_HASH_BYTES],
                                    struct fault *fault);
/** A pass by the hash of its token; neither it nor its person revoked. Status: OK, NOT_FOUND, IO…
 */
MUST_USE enum status store_pass_find(struct store_txn *txn,
                                     const unsigned char hash[STORE_HASH_BYTES],
                                     struct store_pass *out, struct arena *arena,
                                     struct fault *fault);
/** Every pass that was not revoked; in the arena. */
MUST_USE enum status store_pass_list(struct store_txn *txn, const struct store_pass **out,
                                     size_t *out_count, struct arena *arena, struct fault *fault);
/** Note that a pass was used. */
MUST_USE enum status store_pass_seen(struct store_txn *txn, int64_t number, int64_t now_s,
                                     struct fault *fault);
/** End one pass; one that has ended is allowed. */
MUST_USE enum status store_pass_revoke(struct store_txn *txn, int64_t number, int64_t now_s,
                                       struct fault *fault);
/** End every pass of a kind that a person has. */
MUST_USE enum status store_pass_revoke_all(struct store_txn *txn, int64_t person, const char *kind,
                                           int64_t now_s, struct fault *fault);
/** Forget sessions not used since. */
MUST_USE enum status store_pass_forget(struct store_txn *txn, int64_t before_s,
                                       struct fault *fault);

#endif
