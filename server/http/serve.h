/* SPDX-License-Identifier: MIT */
/* The library's callbacks, and the server they share. Inside http/ only. */
#ifndef EMBERWAIT_HTTP_SERVE_H
#define EMBERWAIT_HTTP_SERVE_H

#include <microhttpd.h>
#include <stdatomic.h>

#include "http/compress.h"
#include "http/guard.h"
#include "http/metrics.h"
#include "http/plans.h"
#include "http/request.h"
#include "http/server.h"

enum { SERVE_URL_MAX = 80 };

struct http_server {
    struct http_tools tools;
    struct MHD_Daemon *daemon;
    struct guard *guard;
    struct watch *watch;
    struct compress *compress;
    char **hosts;
    char *demo_owner;
    size_t host_count;
    int listener;
    uint16_t port;
    char url[SERVE_URL_MAX];
    bool quiet;
    atomic_bool stopping;
    atomic_uint under_way;       /**< requests whose head is complete and whose answer is not out */
    _Atomic size_t bodies_bytes; /**< reserved for bodies being received */
};

/** A head, then pieces of its body, then its end: MHD_AccessHandlerCallback. */
enum MHD_Result serve_request(void *context, struct MHD_Connection *connection, const char *url,
                              const char *method, const char *version, const char *upload,
                              size_t *upload_length, void **request);
/** A request line came: makes the request. */
void *serve_target(void *context, const char *target, struct MHD_Connection *connection);
/** A request is over, well or not: frees it. */
void serve_completed(void *context, struct MHD_Connection *connection, void **request,
                     enum MHD_RequestTerminationCode how);
/** A connection was made or is about to be closed. */
void serve_connection(void *context, struct MHD_Connection *connection, void **socket_context,
                      enum MHD_ConnectionNotificationCode what);
/** Paths are decoded by route.c: the library leaves them as they are. */
size_t serve_unescape(void *context, struct MHD_Connection *connection, char *text);

#endif
