/* SPDX-License-Identifier: MIT */
/*
 * People who may change things: each has a name, a role and a key of 160 random bits. The key is
 * shown once, when it is made; the store keeps its hash. A key is a sign-in word nobody chose, so
 * there is nothing to guess and nothing to stretch.
 */
#ifndef EMBERWAIT_APP_APP_PERSON_H
#define EMBERWAIT_APP_APP_PERSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "app/app_link.h"
#include "base/arena.h"

enum app_role {
    APP_ROLE_OWNER,  /**< everything, people and links too */
    APP_ROLE_OFFICE, /**< jobs, records, stations, plans */
    APP_ROLE_COUNT
};

struct app_person {
    int64_t number; /**< of the store, from 1 on */
    const char *name;
    enum app_role role;
    int64_t made_s;
    int64_t revoked_s; /**< INSTANT_NONE: may sign in */
};

/** Name of a role: "owner", "office". */
const char *app_role_name(enum app_role role);
/** The role of a name; false for any other. */
bool app_role_parse(enum app_role *out, const char *name);

/**
 * Add a person; a name that may sign in already is refused.
 *
 * @param[out] out_key  The key, the only time it is seen.
 * @param[in]  name     1..NAME_BYTES_MAX bytes, no control characters.
 * Status: OK, INVALID (name), CONFLICT (name taken), BUSY, IO.
 */
MUST_USE enum status app_person_add(char out_key[APP_TOKEN_TEXT_MAX], struct app *app,
                                    const char *name, enum app_role role, int64_t now_s,
                                    struct faults *faults);

/**
 * Whose key this is.
 *
 * @param[out] out     `name` is in `arena`.
 * @param[in]  key     From outside, shape [length].
 * Status: OK, NOT_FOUND (unknown or revoked), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_person_find(struct app_person *out, struct app *app, const char *key,
                                     size_t length, struct arena *arena, struct faults *faults);

/** The person of a number who may still sign in; parameters and status as app_person_find. */
MUST_USE enum status app_person_get(struct app_person *out, struct app *app, int64_t number,
                                    struct arena *arena, struct faults *faults);

/** Everybody, in the order added. */
MUST_USE enum status app_person_list(const struct app_person **out, size_t *out_count,
                                     struct app *app, struct arena *arena, struct faults *faults);

/** Take the key away. Status: OK, NOT_FOUND (nobody of that name may sign in), BUSY, IO. */
MUST_USE enum status app_person_revoke(struct app *app, const char *name, int64_t now_s,
                                       struct faults *faults);

/** A key of 32 bytes made with the store and kept in it, e.g. for signing cookies. */
enum { APP_SECRET_BYTES = 32 };
/** Secret for a purpose (at most 16 bytes of name): derived, so that purposes never share a key. */
void app_secret(unsigned char out[APP_SECRET_BYTES], const struct app *app, const char *purpose);

#endif
