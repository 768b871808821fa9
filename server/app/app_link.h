/* SPDX-License-Identifier: MIT */
/*
 * Secret links: who holds one may look, without an account. A token is a keyed hash of what it
 * opens and a generation, so the owner can be shown the same link again; the store keeps only the
 * hash of each token, and looks it up by that. Revoking starts a new generation.
 * A crew has one link for each phone, named after whose it is, and one that is nobody's.
 */
#ifndef EMBERWAIT_APP_APP_LINK_H
#define EMBERWAIT_APP_APP_LINK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/arena.h"

/** What a link opens. */
enum app_link_kind {
    APP_LINK_CREW,      /**< target: a crew id; the crew's day page and its records */
    APP_LINK_HOMEOWNER, /**< target: a job id; that job's homeowner page */
    APP_LINK_FEED,      /**< target: a crew id, or "owner"; a calendar */
    APP_LINK_KIND_COUNT
};

enum { APP_TOKEN_TEXT_MAX = 28 }; /**< base64url of 20 bytes (27) and NUL */

struct app_link {
    int64_t number;
    enum app_link_kind kind;
    const char *target;
    const char *phone; /**< whose; NULL: nobody said */
    int64_t generation;
    int64_t made_s;
    int64_t revoked_s; /**< INSTANT_NONE: open */
    int64_t seen_s;    /**< used last, within SEEN_EVERY_S; INSTANT_NONE: never */
    char token[APP_TOKEN_TEXT_MAX];
};

/** Name of a kind: "crew", "homeowner", "feed". */
const char *app_link_kind_name(enum app_link_kind kind);
/** The kind of a name; false for any other. */
bool app_link_kind_parse(enum app_link_kind *out, const char *name);

/**
 * The open link to a target, made when there is none. The same call gives the same token until it
 * is revoked.
 *
 * @param[out] out     Token. `target` is the one given.
 * Status: OK, NOT_FOUND (no such job or crew), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_link_make(struct app_link *out, struct app *app, enum app_link_kind kind,
                                   const char *target, int64_t now_s, struct faults *faults);

/**
 * The same for one phone of a crew.
 *
 * @param[in] phone  Whose, 1..NAME_BYTES_MAX bytes without control characters; NULL: nobody's.
 * Status: as app_link_make; INVALID (the name, or a phone at a link that is no crew's).
 */
MUST_USE enum status app_link_make_for(struct app_link *out, struct app *app,
                                       enum app_link_kind kind, const char *target,
                                       const char *phone, int64_t now_s, struct faults *faults);

/** Note that a link was used; once in SEEN_EVERY_S it is written. A failure is of no account. */
void app_link_seen(struct app *app, const struct app_link *link, int64_t now_s);

/**
 * What a token opens.
 *
 * @param[out] out    `target` is in `arena`.
 * @param[in]  token  From outside, shape [length].
 * Status: OK, NOT_FOUND (unknown, misspelt or revoked: not told apart), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_link_find(struct app_link *out, struct app *app, const char *token,
                                   size_t length, struct arena *arena, struct faults *faults);

/**
 * Close the open link to a target; the next app_link_make gives another token.
 *
 * Status: OK, NOT_FOUND (none is open), BUSY, IO.
 */
MUST_USE enum status app_link_revoke(struct app *app, enum app_link_kind kind, const char *target,
                                     int64_t now_s, struct faults *faults);

/** The same for one phone of a crew; NULL: the link that is nobody's. */
MUST_USE enum status app_link_revoke_for(struct app *app, enum app_link_kind kind,
                                         const char *target, const char *phone, int64_t now_s,
                                         struct faults *faults);

/**
 * Every link, open and revoked, with its token.
 *
 * @param[out] out  In `arena`, shape [*out_count].
 * Status: OK, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_link_list(const struct app_link **out, size_t *out_count, struct app *app,
                                   struct arena *arena, struct faults *faults);

#endif
