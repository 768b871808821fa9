/* SPDX-License-Identifier: MIT */
/*
 * The one table of routes: dispatch, 404, 405 with Allow, who may, what body is taken, and the test
 * that schema/openapi.json describes each route and no other, all read it.
 */
#ifndef EMBERWAIT_HTTP_ROUTE_H
#define EMBERWAIT_HTTP_ROUTE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "http/limits.h"

struct http_request;
struct http_reply;

/** Who may; which role that is stands in may.c. */
enum http_auth {
    HTTP_AUTH_OPEN,    /**< anybody who reaches the server: liveness, assets, the door */
    HTTP_AUTH_OWNER,   /**< the owner: people, links, the company, dates given */
    HTTP_AUTH_OFFICE,  /**< the owner and the office: jobs, records, plans */
    HTTP_AUTH_STATION, /**< these and scripts: hours of weather stations */
    HTTP_AUTH_TOKEN,   /**< who holds the link in the path */
    HTTP_AUTH_COUNT
};

/** What body is taken. */
enum http_body {
    HTTP_BODY_NONE,
    HTTP_BODY_JSON,  /**< application/json */
    HTTP_BODY_PATCH, /**< application/merge-patch+json or application/json */
    HTTP_BODY_CSV,   /**< text/csv */
    HTTP_BODY_FORM,  /**< application/x-www-form-urlencoded */
    HTTP_BODY_WORDS, /**< a form or JSON: a page without its script, and with it */
    HTTP_BODY_PHOTO, /**< image/jpeg, image/png or image/webp, as it is */
};

/** Who reads the answer, and so how a fault is told. */
enum http_face {
    HTTP_FACE_JSON,
    HTTP_FACE_PAGE,
    HTTP_FACE_PLAIN,
};

struct http_route {
    const char *method;  /**< HEAD goes where GET goes */
    const char *pattern; /**< `{name}` takes one part of a path, `{name*}` all that is left */
    enum http_auth auth;
    enum http_body body;
    enum http_face face;
    size_t body_max;
    void (*run)(struct http_request *request, struct http_reply *reply);
};

/** The table, shape [*count]. */
const struct http_route *http_routes(size_t *count);

/** What a path led to. */
struct route_match {
    const struct http_route *route;          /**< NULL: see `known` */
    bool known;                              /**< the path is there, for other methods: `allow` */
    bool broken;                             /**< the path is not percent-encoded UTF-8 */
    enum http_face face;                     /**< how to tell a fault when there is no route */
    const char *captures[HTTP_CAPTURES_MAX]; /**< decoded, in the arena */
    char allow[64];                          /**< `GET, HEAD, POST` */
};

/**
 * Find the route of a request.
 *
 * @param[out] out     The answer.
 * @param[in]  method  As it came.
 * @param[in]  path    As it came, still encoded, shape [length].
 * @param[in]  arena   Takes the captures.
 */
void route_find(struct route_match *out, const char *method, const char *path, size_t length,
                struct arena *arena);

#endif
