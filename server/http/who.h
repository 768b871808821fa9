/* SPDX-License-Identifier: MIT */
/*
 * Who is asking. A browser shows a session in a cookie, a script a token in Authorization; a link's
 * token in the path says it by itself (link_open.h). As long as no owner is on record nobody can
 * sign in, and who sits at this machine is the owner.
 */
#ifndef EMBERWAIT_HTTP_WHO_H
#define EMBERWAIT_HTTP_WHO_H

#include <stdbool.h>
#include <stdint.h>

#include "app/app_pass.h"

struct http_request;
struct http_reply;

enum { WHO_CSRF_MAX = 33 }; /**< 16 bytes in hex, and NUL */

/** Somebody. */
struct http_who {
    const char *name; /**< as records have it; NULL: nobody said */
    enum app_role role;
    struct app_pass pass;    /**< with `session` */
    bool session;            /**< a browser that signed in */
    bool demo;               /**< the owner of a show */
    char csrf[WHO_CSRF_MAX]; /**< what forms of our pages carry; empty: nothing */
};

/**
 * Find out, and hold it against what the route asks for; refuses the request else.
 *
 * @return false when it was refused.
 */
bool who_judge(struct http_request *request);

/**
 * A form whose sender's browser does not say where it comes from has to carry what only our page
 * knew.
 *
 * @return false after the fault was told.
 */
bool who_form_is_ours(struct http_request *request, struct http_reply *reply);

/** Whom a session's cookie stands for, on a route that asks for nobody. */
bool who_session(struct http_request *request);
/** Set, or with a NULL token take away, the cookie of a session. */
void who_cookie(struct http_request *request, struct http_reply *reply, const char *token);
/**
 * The mark of a browser in which somebody of that name signed in before; NULL: it has none, or that
 * of another name. Its tries are counted by themselves, so that others who guess at a name cannot
 * keep its owner out.
 */
const char *who_known(struct http_request *request, const char *name);
/** Give the browser such a mark. */
void who_know(struct http_request *request, struct http_reply *reply, const char *name);

/** The word a sign-in form carries; sets a cookie beside it where there is none yet. */
const char *who_door_csrf(struct http_request *request, struct http_reply *reply);

#endif
