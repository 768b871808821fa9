/* SPDX-License-Identifier: MIT */
/*
 * People who may change things: each has a name and a role. An owner or somebody of the office
 * signs in with a password; a script (role station) has a token. Until there is an owner on record
 * nobody has to sign in, for nobody could; from then on there is always one: the last is never
 * revoked.
 */
#ifndef EMBERWAIT_APP_APP_PERSON_H
#define EMBERWAIT_APP_APP_PERSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/arena.h"

enum app_role {
    APP_ROLE_OWNER,   /**< everything, people and links too */
    APP_ROLE_OFFICE,  /**< jobs, records, plans; no dates given, no overrides, no people */
    APP_ROLE_STATION, /**< a script: the hours of weather stations, nothing else */
    APP_ROLE_COUNT
};

struct app_person {
    int64_t number; /**< of the store, from 1 on */
    const char *name;
    enum app_role role;
    int64_t made_s;
    int64_t revoked_s; /**< INSTANT_NONE: may come in */
    int64_t seen_s;    /**< a pass was used last, within SEEN_EVERY_S; INSTANT_NONE: none is open */
    int sessions;      /**< open ones */
    int tokens;        /**< open ones */
};

/** Name of a role: "owner", "office", "station". */
const char *app_role_name(enum app_role role);
/** The role of a name; false for any other. */
bool app_role_parse(enum app_role *out, const char *name);

/** Whether an owner is on record, so that everybody has to say who they are. */
bool app_person_any(struct app *app);

/**
 * Add a person; a name that may come in already is refused.
 *
 * @param[in] name      1..NAME_BYTES_MAX bytes, no control characters.
 * @param[in] password  At least PASSWORD_CHARACTERS_MIN characters; NULL for a station.
 * Status: OK, INVALID (name or password), CONFLICT (name taken, or no owner yet), BUSY, IO.
 */
MUST_USE enum status app_person_add(struct app *app, const char *name, enum app_role role,
                                    const char *password, int64_t now_s, struct faults *faults);

/** Put another password; every session of that person ends. Status: as app_person_add, NOT_FOUND.
 */
MUST_USE enum status app_person_password(struct app *app, const char *name, const char *password,
                                         int64_t now_s, struct faults *faults);

/** Everybody, in the order added. */
MUST_USE enum status app_person_list(const struct app_person **out, size_t *out_count,
                                     struct app *app, int64_t now_s, struct arena *arena,
                                     struct faults *faults);

/**
 * Take a person's way in: password, sessions and tokens. What they wrote down stays.
 *
 * Status: OK, NOT_FOUND (nobody of that name may come in), CONFLICT (the last owner), BUSY, IO.
 */
MUST_USE enum status app_person_revoke(struct app *app, const char *name, int64_t now_s,
                                       struct faults *faults);

#endif
