/* SPDX-License-Identifier: MIT */
/*
 * What becomes of a request. Its head is judged first: framing, host, route, origin, media type,
 * length. What is refused there still has its body read to the end (up to a ceiling) and thrown
 * away, because a client that is cut off while it sends never sees the answer; only a head whose
 * framing cannot be trusted, or a body that is far too long, closes the connection.
 */
#include "http/serve.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <time.h>

#include "base/log.h"
#include "http/judge.h"
#include "http/limits.h"

#include "base/banned.h"

#define NS_PER_S INT64_C(1000000000)

size_t serve_unescape(void *context, struct MHD_Connection *connection, char *text)
{
    (void)context;
    (void)connection;
    return strlen(text);
}

void serve_connection(void *context, struct MHD_Connection *connection, void **socket_context,
                      enum MHD_ConnectionNotificationCode what)
{
    struct http_server *server = context;
    if (what == MHD_CONNECTION_NOTIFY_STARTED) {
        const union MHD_ConnectionInfo *info =
            MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
        *socket_context = info == NULL ? NULL
                                       : guard_open(server->guard, info->connect_fd,
                                                    guard_in_s(HTTP_HEAD_WAIT_S));
    } else {
        guard_close(server->guard, *socket_context);
        *socket_context = NULL;
    }
}

void *serve_target(void *context, const char *target, struct MHD_Connection *connection)
{
    struct http_server *server = context;
    struct arena *arena = arena_new();
    struct http_request *request = arena == NULL ? NULL : ARENA_TAKE(arena, 1, struct http_request);
    if (request != NULL) request->target = arena_copy(arena, target, strlen(target));
    if (request == NULL || request->target == NULL) {
        arena_free(arena);
        return NULL;
    }
    request->arena = arena;
    request->server = server;
    request->tools = &server->tools;
    request->connection = connection;
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    request->slot = info == NULL ? NULL : info->socket_context;
    guard_deadline_within(request->slot, guard_in_s(HTTP_HEAD_WAIT_S));
    return request;
}

static void log_line(const struct http_server *server, const struct http_request *request,
                     int64_t took_ns)
{
    if (server->quiet || !log_wants(LOG_INFO)) return;
    const struct http_route *route = request->match.route;
    const char *who = request->who.name == NULL ? "-" : request->who.name;
    log_info("request", LOG_WITH(log_text("method", route == NULL ? "-" : request->method),
                                 log_text("route", route == NULL ? "-" : route->pattern),
                                 log_number("status", request->status_sent),
                                 log_number("bytes", (int64_t)request->bytes_sent),
                                 log_number("us", took_ns / 1000), log_text("who", who)));
}

void serve_completed(void *context, struct MHD_Connection *connection, void **slot,
                     enum MHD_RequestTerminationCode how)
{
    (void)connection;
    (void)how;
    struct http_server *server = context;
    struct http_request *request = *slot;
    *slot = NULL;
    if (request == NULL) return;
    guard_deadline(request->slot, guard_in_s(HTTP_IDLE_S));
    text_free(&request->refusal.body);
    text_free(&request->body);
    atomic_fetch_sub(&server->bodies_bytes, request->reserved);
    if (request->judged) atomic_fetch_sub(&server->under_way, 1);
    arena_free(request->arena);
}

static void add_header(struct MHD_Response *response, const char *name, const char *value)
{
    if (value != NULL) (void)MHD_add_response_header(response, name, value);
}

/* A stopped clock is told as it stands: phones hold theirs against it. The library adds the true
 * one otherwise. */
static void add_date(struct MHD_Response *response, const struct http_request *request)
{
    if (!request->tools->fixed_clock) return;
    char date[40];
    struct tm tm;
    const time_t now = (time_t)request->tools->fixed_now_s;
    if (gmtime_r(&now, &tm) != NULL &&
        strftime(date, sizeof date, "%a, %d %b %Y %H:%M:%S GMT", &tm) > 0)
        add_header(response, "Date", date);
}

/* What every answer carries. */
static void add_headers(struct MHD_Response *response, const struct http_request *request,
                        const struct http_reply *reply)
{
    add_date(response, request);
    add_header(response, "Content-Type", reply->type);
    add_header(response, "Cache-Control", reply->cache == NULL ? "no-store" : reply->cache);
    add_header(response, "X-Content-Type-Options", "nosniff");
    add_header(response, "Referrer-Policy", "no-referrer");
    add_header(response, "Cross-Origin-Resource-Policy", "same-origin");
    add_header(
        response, "Content-Security-Policy",
        reply->picture
            ? "default-src 'none'; sandbox; frame-ancestors 'none'"
            : "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
              "connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; "
              "frame-ancestors 'none'; base-uri 'none'");
    const struct http_route *route = request->match.route;
    if (request->match.face == HTTP_FACE_PAGE || (route != NULL && route->auth == HTTP_AUTH_TOKEN))
        add_header(response, "X-Robots-Tag", "noindex, nofollow");
    add_header(response, "Vary",
               reply->varies ? "Accept-Encoding, Accept-Language, Cookie" : "Accept-Encoding");
    add_header(response, "Location", reply->location);
    add_header(response, "Allow", reply->allow);
    add_header(response, "Set-Cookie", reply->cookie);
    add_header(response, "Set-Cookie", reply->pass_cookie);
    add_header(response, "Set-Cookie", reply->known_cookie);
    add_header(response, "Service-Worker-Allowed", reply->worker_scope);
    if (reply->status == 401) add_header(response, "WWW-Authenticate", "Bearer");
    const int wait_s = reply->status == 503 ? 1 : reply->retry_after_s;
    if (wait_s > 0) {
        char seconds[16];
        (void)snprintf(seconds, sizeof seconds, "%d", wait_s);
        add_header(response, "Retry-After", seconds);
    }
    if (reply->close || atomic_load(&request->server->stopping))
        add_header(response, "Connection", "close");
}

/* An entity tag names bytes: the compressed answer is another entity. */
static void add_tag(struct MHD_Response *response, const struct http_reply *reply)
{
    if (reply->tag[0] == '\0') return;
    char tag[HTTP_TAG_MAX + 4];
    (void)snprintf(tag, sizeof tag, "\"%s\"", reply->tag);
    add_header(response, "ETag", tag);
}

/* The bytes of the answer, compressed where that is asked for and helps. Takes reply->body. */
static struct MHD_Response *make_response(struct http_request *request, struct http_reply *reply)
{
    const bool gzip =
        !reply->picture && compress_accepted(request_header(request, "Accept-Encoding"));
    struct MHD_Response *response;
    size_t length = 0;
    bool packed = false;
    if (reply->asset != NULL) {
        packed = gzip && reply->asset->gzip != NULL;
        length = packed ? reply->asset->gzip_length : reply->asset->length;
        char *bytes = packed ? reply->asset->gzip : reply->asset->bytes;
        response = MHD_create_response_from_buffer(length, bytes, MHD_RESPMEM_PERSISTENT);
    } else {
        char *bytes = NULL;
        if (gzip && reply->body.length > 0)
            bytes = compress_gzip(request->server->compress, reply->body.data, reply->body.length,
                                  &length);
        packed = bytes != NULL;
        if (!packed) bytes = text_release(&reply->body, &length);
        text_free(&reply->body);
        if (bytes == NULL) length = 0;
        response = MHD_create_response_from_buffer(
            length, bytes, bytes == NULL ? MHD_RESPMEM_PERSISTENT : MHD_RESPMEM_MUST_FREE);
        if (response == NULL) free(bytes);
    }
    if (response != NULL && packed) add_header(response, "Content-Encoding", "gzip");
    request->bytes_sent = length;
    return response;
}

static enum MHD_Result send_reply(struct http_request *request, struct http_reply *reply)
{
    struct http_server *server = request->server;
    if (text_status(&reply->body) != STATUS_OK)
        reply_problem(request, reply, reply->body.over_limit ? PROBLEM_LIMIT : PROBLEM_BUSY,
                      "the answer could not be written", NULL);
    struct MHD_Response *response = make_response(request, reply);
    if (response == NULL) return MHD_NO;
    add_headers(response, request, reply);
    add_tag(response, reply);
    request->status_sent = reply->status;
    const int64_t took_ns = guard_now_ns() - request->begin_ns;
    const int64_t seconds = HTTP_REPLY_GRACE_S + (int64_t)(request->bytes_sent / HTTP_REPLY_RATE);
    guard_deadline(request->slot, guard_in_s(seconds));
    metrics_add(server->tools.metrics, request->match.route, reply->status, request->bytes_sent,
                took_ns);
    log_line(server, request, took_ns);
    const enum MHD_Result queued = MHD_queue_response(request->connection, reply->status, response);
    MHD_destroy_response(response);
    return queued;
}

static enum MHD_Result finish(struct http_request *request)
{
    if (request->refused) return send_reply(request, &request->refusal);
    struct http_reply reply = {.status = 0};
    reply.body.limit = HTTP_ANSWER_BYTES_MAX;
    if (!who_form_is_ours(request, &reply)) return send_reply(request, &reply);
    request->match.route->run(request, &reply);
    ENSURE(reply.status != 0);
    return send_reply(request, &reply);
}

/* A piece of the body: kept, or counted and thrown away. */
static enum MHD_Result take_piece(struct http_request *request, const char *bytes, size_t length)
{
    if (!request->refused) {
        text_add(&request->body, bytes, length);
        if (text_status(&request->body) != STATUS_OK) {
            judge_body_long(request);
            text_free(&request->body);
        }
    }
    size_t received = request->body.length;
    if (request->refused) {
        request->discarded += length;
        if (request->discarded > HTTP_DRAIN_BYTES_MAX) return MHD_NO;
        received = request->discarded;
    }
    guard_deadline(request->slot, request->body_begin_ns + ((int64_t)HTTP_BODY_GRACE_S +
                                                            (int64_t)(received / HTTP_BODY_RATE)) *
                                                               NS_PER_S);
    return MHD_YES;
}

static enum MHD_Result begin(struct http_request *request, const char *method, const char *version)
{
    struct http_server *server = request->server;
    request->judged = true;
    atomic_fetch_add(&server->under_way, 1);
    request->begin_ns = guard_now_ns();
    request->body_begin_ns = request->begin_ns;
    request->now_s = server->tools.fixed_clock ? server->tools.fixed_now_s : (int64_t)time(NULL);
    const bool at_once = judge_head(request, method, version);
    guard_deadline(request->slot, guard_in_s(HTTP_BODY_GRACE_S));
    return at_once ? finish(request) : MHD_YES;
}

enum MHD_Result serve_request(void *context, struct MHD_Connection *connection, const char *url,
                              const char *method, const char *version, const char *upload,
                              size_t *upload_length, void **slot)
{
    (void)context;
    (void)connection;
    (void)url;
    struct http_request *request = *slot;
    if (request == NULL) return MHD_NO;
    if (!request->judged) return begin(request, method, version);
    if (*upload_length > 0) {
        const size_t length = *upload_length;
        *upload_length = 0;
        return take_piece(request, upload, length);
    }
    guard_deadline(request->slot, GUARD_NEVER);
    return finish(request);
}
