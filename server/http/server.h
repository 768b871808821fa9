/* SPDX-License-Identifier: MIT */
/*
 * The server: libmicrohttpd behind a small face, so that `serve`, `demo` and tests can each run one
 * on an open app. Eight threads take connections, each with an epoll set of its own; a handler runs
 * in the thread of its connection and may wait for the disk there (see limits.h for the numbers).
 *
 * Reading order: limits.h, route.h (the table), request.h (what a handler gets and gives),
 * h_<noun>.c (the handlers), head.h and origin.h (what is refused), guard.h (slow clients),
 * server.c.
 *
 * Refused: one epoll thread (stalls at 128 events, and one fsync would hold everybody up); a thread
 * a connection (a thousand idle phones, a thousand stacks); the library's reader of form bodies.
 */
#ifndef EMBERWAIT_HTTP_SERVER_H
#define EMBERWAIT_HTTP_SERVER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/status.h"

struct http_server;

/** How to run one. Everything is borrowed until http_server_start is back. */
struct http_config {
    const char *address;      /**< NULL: 127.0.0.1. Another than loopback: see behind_proxy */
    uint16_t port;            /**< 0: any free one */
    const char *const *hosts; /**< further names a Host header may have (a proxy's) */
    size_t host_count;
    bool behind_proxy; /**< a proxy that speaks https stands before us, maybe on another machine */
    const char *demo_owner; /**< a show: who is signed in at this machine; NULL: nobody */
    bool fixed_clock;     /**< every plan is worked out at `fixed_now_s`, for tests and for shows */
    int64_t fixed_now_s;  /**< with fixed_clock */
    bool quiet;           /**< no line per request */
    const char *mail_dir; /**< folder of outgoing messages; NULL: none (see watch.h) */
};

/**
 * Listen and answer, in threads of its own.
 *
 * @param[out] out     Own; http_server_stop.
 * @param[in]  config  Borrowed.
 * @param[in]  app     Borrowed; must outlive the server.
 * @param[out] fault   What is wrong.
 * Status: OK; DENIED (an address that others can reach, and no proxy was stated or no owner can
 * sign in yet); INVALID (address, or files of the program that cannot be used); BUSY (the port is
 * taken); LIMIT; IO.
 */
MUST_USE enum status http_server_start(struct http_server **out, const struct http_config *config,
                                       struct app *app, struct fault *fault);

/** The port it listens on. */
uint16_t http_server_port(const struct http_server *server);
/** `http://127.0.0.1:PORT/`. Borrow. */
const char *http_server_url(const struct http_server *server);

/** Take no more connections, finish the requests under way, stop the threads. NULL is allowed. */
void http_server_stop(struct http_server *server);

#endif
