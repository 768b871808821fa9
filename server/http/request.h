/* SPDX-License-Identifier: MIT */
/*
 * What a handler gets (a request whose head, host, origin, route, media type and body were checked)
 * and what it gives (a reply that it fills in and the server sends). Inside http/ only.
 */
#ifndef EMBERWAIT_HTTP_REQUEST_H
#define EMBERWAIT_HTTP_REQUEST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/arena.h"
#include "base/status.h"
#include "base/text.h"
#include "http/assets.h"
#include "http/head.h"
#include "http/origin.h"
#include "http/route.h"
#include "http/urlencoded.h"
#include "http/who.h"
#include "views/words.h"

struct MHD_Connection;
struct guard_slot;
struct http_server;
struct metrics;
struct plans;
struct throttle;

enum { HTTP_LANGUAGE_COUNT = 2, HTTP_TAG_MAX = 64, HTTP_BOOT_MAX = 12 };

/** What handlers may use of the server. */
struct http_tools {
    struct app *app;
    struct plans *plans;
    struct metrics *metrics;
    struct assets *assets;  /**< static/ */
    struct assets *schemas; /**< schema/json/ */
    struct asset openapi;
    struct words *words[HTTP_LANGUAGE_COUNT]; /**< English first */
    char boot[HTTP_BOOT_MAX]; /**< differs with each start: part of tags that counters make */
    struct throttle *throttle;
    const char *demo_owner; /**< a show: who is signed in at this machine; NULL: nobody */
    bool behind_proxy;      /**< a proxy on another machine is believed, see request_address */
    bool fixed_clock;
    int64_t fixed_now_s;
};

/** What is answered; zeroed before the handler runs. */
struct http_reply {
    unsigned status;           /**< HTTP status */
    const char *type;          /**< Content-Type, literal */
    struct text body;          /**< taken by the server */
    const struct asset *asset; /**< instead of a body: bytes that are kept */
    char tag[HTTP_TAG_MAX];    /**< ETag without quotes; empty: none */
    const char *cache;         /**< Cache-Control, literal; NULL: no-store */
    const char *location;      /**< in the arena */
    const char *allow;         /**< in the arena */
    const char *cookie;        /**< Set-Cookie, in the arena */
    const char *pass_cookie;   /**< another one: who is signed in, in the arena */
    const char *known_cookie;  /**< a third: a browser that somebody signed in with, in the arena */
    int retry_after_s;         /**< Retry-After; 0: none */
    const char *worker_scope;  /**< Service-Worker-Allowed, literal */
    bool picture;              /**< shown in a sandbox, never compressed again */
    bool varies;               /**< the language was chosen by header or cookie */
    bool close;                /**< close the connection after it */
};

/** A request under way. */
struct http_request {
    struct http_tools *tools;
    struct http_server *server;
    struct MHD_Connection *connection;
    struct guard_slot *slot;
    struct arena *arena; /**< lives as long as the request */
    char *target;        /**< as it came, in the arena */
    const char *method;
    struct head head;
    struct head_says says;
    enum origin_host host_kind;
    enum origin_from from; /**< of what changes something */
    struct route_match match;
    struct form_field *query;
    size_t query_count;
    struct text body;
    size_t discarded;    /**< bytes of a refused body that were thrown away */
    size_t reserved;     /**< bytes counted against HTTP_BODIES_BYTES_MAX */
    int64_t now_s;       /**< when the head was complete; the fixed clock if there is one */
    struct http_who who; /**< who is asking, where the route wants to know */
    int64_t begin_ns;
    int64_t body_begin_ns;
    bool refused;              /**< judged from the head alone; the body is thrown away */
    struct http_reply refusal; /**< then the answer */
    bool judged;
    unsigned status_sent;
    size_t bytes_sent;
};

/** A header of the request, or NULL. Borrow. */
const char *request_header(const struct http_request *request, const char *name);
/** A field of the query, or NULL. */
const char *request_query(const struct http_request *request, const char *name);
/** The first cookie of a name, in the arena, or NULL. */
const char *request_cookie(struct http_request *request, const char *name);
/** Whether the browser came by https: under a name that was given, a proxy stands before us. */
bool request_is_https(const struct http_request *request);
/**
 * Whose tries are counted together: the address of the client, of IPv6 its first 64 bits.
 *
 * A proxy's last X-Forwarded-For is believed when the proxy is on this machine (a name that was
 * given) or was stated at the start. Empty when nobody can tell.
 */
const char *request_address(struct http_request *request);
/** Path of the request as it came, without the query; in the arena. */
const char *request_path(struct http_request *request);
/** Scheme and host for links on paper: http on loopback, https behind a proxy. In the arena. */
const char *request_base_url(struct http_request *request);
/** Words of the language asked for: ?lang, cookie, Accept-Language, English. */
const struct words *request_words(struct http_request *request, struct http_reply *reply);

/** What If-Match says. */
enum match_kind { MATCH_ABSENT, MATCH_ANY, MATCH_VERSION, MATCH_NEVER };
/** Read If-Match as a version tag `"v12"`. MATCH_NEVER: none of ours, so nothing can match. */
enum match_kind request_if_match(const struct http_request *request, int64_t *version);

/** A JSON answer with a status; the body was written into reply->body. */
void reply_json(struct http_reply *reply, unsigned status);
/** An HTML answer. */
void reply_page(struct http_reply *reply, unsigned status);
/** See other: after a form was taken. `location` is in the arena. */
void reply_see_other(struct http_reply *reply, const char *location);

/** Set a tag and the caching that goes with it: ask each time, keep in between. */
void reply_tag(struct http_reply *reply, const char *format, ...) PRINTF_LIKE(2, 3);
/** Whether If-None-Match names the reply's tag: then the reply is a 304 and there is no more to do.
 */
bool reply_not_modified(const struct http_request *request, struct http_reply *reply);

/** Kinds of fault that only HTTP has; the others come from enum status. */
enum problem {
    PROBLEM_INVALID,
    PROBLEM_SIGN_IN,
    PROBLEM_DENIED,
    PROBLEM_NOT_FOUND,
    PROBLEM_METHOD,
    PROBLEM_CONFLICT,
    PROBLEM_PRECONDITION_FAILED,
    PROBLEM_LIMIT,
    PROBLEM_TARGET_LONG,
    PROBLEM_MEDIA_TYPE,
    PROBLEM_FORM,
    PROBLEM_MISDIRECTED,
    PROBLEM_PRECONDITION_REQUIRED,
    PROBLEM_TOO_MANY,
    PROBLEM_HEAD_LONG,
    PROBLEM_CORRUPT,
    PROBLEM_NOT_IMPLEMENTED,
    PROBLEM_BUSY,
    PROBLEM_IO,
    PROBLEM_PHOTOS_FULL,
    PROBLEM_COUNT
};
/** Id (last part of the problem's type), HTTP status and title of a kind. */
struct problem_kind {
    const char *id;
    unsigned http;
    enum status status; /**< the nearest, for pages */
    const char *title;
};
const struct problem_kind *problem_kind(enum problem problem);
/** The problem a status of the layers below becomes. */
enum problem problem_of_status(enum status status);

/**
 * Tell a fault, as a problem document [rfc9457] or as a page, whichever the route speaks.
 *
 * @param[in] detail  A sentence for people; NULL: the title is enough.
 * @param[in] faults  Borrowed; may be NULL.
 */
void reply_problem(struct http_request *request, struct http_reply *reply, enum problem problem,
                   const char *detail, const struct faults *faults);
/** Answer a read of something with a version: its body with an ETag (or 304), or the status. */
void reply_versioned(struct http_request *request, struct http_reply *reply, enum status status,
                     int64_t version, struct faults *faults);

/** The same for a status of the layers below; frees the faults. */
void reply_status(struct http_request *request, struct http_reply *reply, enum status status,
                  struct faults *faults);

#endif
