/* SPDX-License-Identifier: MIT */
/* Why: see judge.h. One check after the other; the first that fails speaks. */
#include "http/judge.h"

#include <microhttpd.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "http/serve.h"

#include "base/banned.h"

struct http_reply *judge_refuse(struct http_request *request)
{
    REQUIRE(!request->refused);
    request->refused = true;
    request->refusal = (struct http_reply){.body = TEXT_UP_TO(HTTP_ANSWER_BYTES_MAX)};
    return &request->refusal;
}

static enum MHD_Result collect(void *context, enum MHD_ValueKind kind, const char *name,
                               size_t name_length, const char *value, size_t value_length)
{
    (void)kind;
    struct head *head = context;
    if (head->field_total++ >= HTTP_HEADERS_MAX) return MHD_YES;
    head->fields[head->field_count++] = (struct head_field){
        name, name_length, value == NULL ? "" : value, value == NULL ? 0 : value_length};
    return MHD_YES;
}

static void read_head(struct http_request *request, const char *method, const char *version)
{
    struct head *head = &request->head;
    head->method = method;
    head->target = request->target;
    head->version = version;
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(request->connection, MHD_CONNECTION_INFO_REQUEST_HEADER_SIZE);
    head->bytes = info == NULL ? 0 : info->header_size;
    (void)MHD_get_connection_values_n(request->connection, MHD_HEADER_KIND, collect, head);
    request->method = method;
}

static enum problem problem_of(unsigned http_status)
{
    switch (http_status) {
    case 414:
        return PROBLEM_TARGET_LONG;
    case 431:
        return PROBLEM_HEAD_LONG;
    case 501:
        return PROBLEM_NOT_IMPLEMENTED;
    default:
        return PROBLEM_INVALID;
    }
}

/* Framing; true when it is good. */
static bool judge_framing(struct http_request *request)
{
    unsigned http_status = 0;
    const char *wrong = head_check(&request->says, &request->head, &http_status);
    if (wrong == NULL) return true;
    struct http_reply *reply = judge_refuse(request);
    reply->close = true;
    reply_problem(request, reply, problem_of(http_status), wrong, NULL);
    return false;
}

static bool judge_route(struct http_request *request)
{
    const char *target = request->target;
    const size_t path = strcspn(target, "?");
    route_find(&request->match, request->method, target, path, request->arena);
    struct route_match *match = &request->match;
    if (match->broken) {
        reply_problem(request, judge_refuse(request), PROBLEM_INVALID,
                      "the path is not percent-encoded UTF-8", NULL);
        return false;
    }
    if (match->route == NULL) {
        struct http_reply *reply = judge_refuse(request);
        if (match->known) reply->allow = match->allow;
        reply_problem(request, reply, match->known ? PROBLEM_METHOD : PROBLEM_NOT_FOUND,
                      match->known ? "this path takes other methods, see Allow" : NULL, NULL);
        return false;
    }
    if (target[path] == '\0') return true;
    struct faults faults = {0};
    const char *query = target + path + 1;
    const enum status status =
        urlencoded_read(&request->query, &request->query_count, query, strlen(query),
                        HTTP_QUERY_FIELDS_MAX, request->arena, &faults);
    if (status != STATUS_OK) reply_status(request, judge_refuse(request), STATUS_INVALID, &faults);
    return status == STATUS_OK;
}

static bool changes(const char *method)
{
    return strcmp(method, "GET") != 0 && strcmp(method, "HEAD") != 0;
}

static bool judge_host(struct http_request *request)
{
    struct http_server *server = request->server;
    request->host_kind =
        origin_host_of(request->says.host, (const char *const *)server->hosts, server->host_count);
    if (request->host_kind != ORIGIN_HOST_FOREIGN) return true;
    reply_problem(request, judge_refuse(request), PROBLEM_MISDIRECTED,
                  "the Host is neither loopback nor a name given with --host", NULL);
    return false;
}

/*
 * For what changes something: where it comes from. What a browser hides is told by what only our
 * pages know: the link in the path, or a field of the form (who.c looks at that one).
 */
static bool judge_site(struct http_request *request)
{
    if (!changes(request->method)) return true;
    const struct http_route *route = request->match.route;
    request->from =
        origin_from(head_value(&request->head, "Sec-Fetch-Site"),
                    head_value(&request->head, "Origin"), request->says.host, request->host_kind);
    if (request->from == ORIGIN_FROM_OURS || request->from == ORIGIN_FROM_UNSAID) return true;
    if (request->from == ORIGIN_FROM_HIDDEN &&
        (route->auth == HTTP_AUTH_TOKEN || route->body == HTTP_BODY_FORM))
        return true;
    reply_problem(request, judge_refuse(request), PROBLEM_DENIED,
                  "the request comes from a page of another site", NULL);
    return false;
}

static bool type_is(const char *type, const char *wanted)
{
    const size_t length = strcspn(type, "; \t");
    return length == strlen(wanted) && strncasecmp(type, wanted, length) == 0;
}

static bool judge_type(struct http_request *request)
{
    const enum http_body body = request->match.route->body;
    const char *type = head_value(&request->head, "Content-Type");
    if (type == NULL) type = "";
    bool taken = true;
    const char *wanted = NULL;
    switch (body) {
    case HTTP_BODY_NONE:
        break;
    case HTTP_BODY_JSON:
        wanted = "application/json";
        taken = type_is(type, wanted);
        break;
    case HTTP_BODY_PATCH:
        wanted = "application/merge-patch+json";
        taken = type_is(type, wanted) || type_is(type, "application/json");
        break;
    case HTTP_BODY_PHOTO:
        wanted = "image/jpeg, image/png or image/webp";
        taken = type_is(type, "image/jpeg") || type_is(type, "image/png") ||
                type_is(type, "image/webp");
        break;
    case HTTP_BODY_CSV:
        wanted = "text/csv";
        taken = type_is(type, wanted);
        break;
    case HTTP_BODY_FORM:
        wanted = "application/x-www-form-urlencoded";
        taken = type_is(type, wanted);
        break;
    case HTTP_BODY_WORDS:
        wanted = "application/x-www-form-urlencoded or application/json";
        taken =
            type_is(type, "application/x-www-form-urlencoded") || type_is(type, "application/json");
        break;
    }
    const char *coding = head_value(&request->head, "Content-Encoding");
    if (taken && (coding == NULL || strcasecmp(coding, "identity") == 0)) return true;
    struct faults faults = {0};
    (void)faults_add(&faults, coding == NULL ? "Content-Type" : "Content-Encoding",
                     coding == NULL && wanted != NULL ? wanted : "none", "%s",
                     coding == NULL ? type : coding);
    reply_problem(request, judge_refuse(request), PROBLEM_MEDIA_TYPE, NULL, &faults);
    faults_free(&faults);
    return false;
}

void judge_body_long(struct http_request *request)
{
    struct http_reply *reply = judge_refuse(request);
    struct faults faults = {0};
    char wanted[FAULT_TEXT_MAX];
    (void)snprintf(wanted, sizeof wanted, "at most %zu bytes", request->match.route->body_max);
    (void)faults_add(&faults, "body", wanted, "more");
    reply_status(request, reply, STATUS_LIMIT, &faults);
}

/* Room for the body, in its own ceiling and in that of all bodies together. */
static bool judge_length(struct http_request *request)
{
    struct http_server *server = request->server;
    const size_t most = request->match.route->body_max;
    request->body.limit = most;
    if (request->says.body_length > most) {
        judge_body_long(request);
        return false;
    }
    if (!request->says.chunked && request->says.body_length == 0) return true;
    const size_t room = request->says.chunked ? most : (size_t)request->says.body_length;
    request->reserved = room;
    if (atomic_fetch_add(&server->bodies_bytes, room) + room <= HTTP_BODIES_BYTES_MAX) return true;
    reply_problem(request, judge_refuse(request), PROBLEM_BUSY,
                  "other bodies are being received, as many as there is room for", NULL);
    return false;
}

bool judge_head(struct http_request *request, const char *method, const char *version)
{
    read_head(request, method, version);
    if (!judge_framing(request)) return true;
    const bool good = judge_host(request) && judge_route(request) && judge_site(request) &&
                      who_judge(request) && judge_type(request) && judge_length(request);
    if (good || request->says.body_length <= HTTP_DRAIN_BYTES_MAX) return false;
    request->refusal.close = true;
    return true;
}
