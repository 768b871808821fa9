/* SPDX-License-Identifier: MIT */
/*
 * Why: one place that turns what a handler says into a status, headers of meaning (tags, places)
 * and problem documents. The headers every answer carries are server.c's.
 */
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "http/request.h"
#include "http/say_page.h"

#include "base/banned.h"

static const struct problem_kind kinds[PROBLEM_COUNT] = {
    [PROBLEM_INVALID] = {"invalid", 400, STATUS_INVALID, "The request is wrong"},
    [PROBLEM_SIGN_IN] = {"sign-in", 401, STATUS_DENIED, "Sign in first"},
    [PROBLEM_TOO_MANY] = {"too-many", 429, STATUS_BUSY, "Too many tries"},
    [PROBLEM_DENIED] = {"denied", 403, STATUS_DENIED, "Not allowed"},
    [PROBLEM_NOT_FOUND] = {"not-found", 404, STATUS_NOT_FOUND, "Nothing of that name"},
    [PROBLEM_METHOD] = {"method", 405, STATUS_INVALID, "Not a method of this path"},
    [PROBLEM_CONFLICT] = {"conflict", 409, STATUS_CONFLICT, "Contradicts what is on record"},
    [PROBLEM_PRECONDITION_FAILED] = {"precondition-failed", 412, STATUS_CONFLICT,
                                     "It was changed in the meantime"},
    [PROBLEM_LIMIT] = {"limit", 413, STATUS_LIMIT, "Over a ceiling"},
    [PROBLEM_TARGET_LONG] = {"target-long", 414, STATUS_LIMIT, "The address is too long"},
    [PROBLEM_MEDIA_TYPE] = {"media-type", 415, STATUS_INVALID, "Not a media type taken here"},
    [PROBLEM_FORM] = {"form", 422, STATUS_INVALID, "The form was not taken"},
    [PROBLEM_MISDIRECTED] = {"misdirected", 421, STATUS_DENIED, "Not a name of this server"},
    [PROBLEM_PRECONDITION_REQUIRED] = {"precondition-required", 428, STATUS_INVALID,
                                       "If-Match is required"},
    [PROBLEM_HEAD_LONG] = {"head-long", 431, STATUS_LIMIT, "The request head is too long"},
    [PROBLEM_CORRUPT] = {"corrupt", 500, STATUS_CORRUPT, "What is stored fails its own check"},
    [PROBLEM_NOT_IMPLEMENTED] = {"not-implemented", 501, STATUS_INVALID, "Not done here"},
    [PROBLEM_BUSY] = {"busy", 503, STATUS_BUSY, "Try again in a moment"},
    [PROBLEM_IO] = {"io", 507, STATUS_IO, "The disk refused; nothing was stored"},
    [PROBLEM_PHOTOS_FULL] = {"photos-full", 507, STATUS_LIMIT, "There is no more room for photos"},
};

static const enum problem of_status[STATUS_COUNT] = {
    [STATUS_INVALID] = PROBLEM_INVALID,   [STATUS_NOT_FOUND] = PROBLEM_NOT_FOUND,
    [STATUS_CONFLICT] = PROBLEM_CONFLICT, [STATUS_DENIED] = PROBLEM_DENIED,
    [STATUS_LIMIT] = PROBLEM_LIMIT,       [STATUS_BUSY] = PROBLEM_BUSY,
    [STATUS_CORRUPT] = PROBLEM_CORRUPT,   [STATUS_IO] = PROBLEM_IO,
};

const struct problem_kind *problem_kind(enum problem problem)
{
    REQUIRE((unsigned)problem < PROBLEM_COUNT);
    return &kinds[problem];
}

enum problem problem_of_status(enum status status)
{
    REQUIRE(status != STATUS_OK && (unsigned)status < STATUS_COUNT);
    return of_status[status];
}

void reply_json(struct http_reply *reply, unsigned status)
{
    reply->status = status;
    reply->type = "application/json";
}

void reply_page(struct http_reply *reply, unsigned status)
{
    reply->status = status;
    reply->type = "text/html; charset=utf-8";
    reply->varies = true;
}

void reply_see_other(struct http_reply *reply, const char *location)
{
    reply->status = 303;
    reply->location = location;
}

void reply_tag(struct http_reply *reply, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(reply->tag, sizeof reply->tag, format, arguments);
    va_end(arguments);
    ENSURE(length > 0 && (size_t)length < sizeof reply->tag);
    reply->cache = "private, no-cache";
}

/* Whether a list of entity tags holds one; weak comparison (RFC 9110, 13.1.2). */
static bool tags_hold(const char *list, const char *tag)
{
    const size_t wanted = strlen(tag);
    for (const char *at = list; *at != '\0';) {
        at += strspn(at, " \t,");
        if (*at == '*') return true;
        if (strncmp(at, "W/", 2) == 0) at += 2;
        if (*at != '"') return false;
        const char *end = strchr(at + 1, '"');
        if (end == NULL) return false;
        if ((size_t)(end - at - 1) == wanted && memcmp(at + 1, tag, wanted) == 0) return true;
        at = end + 1;
    }
    return false;
}

bool reply_not_modified(const struct http_request *request, struct http_reply *reply)
{
    const char *held = request_header(request, "If-None-Match");
    if (held == NULL || reply->tag[0] == '\0' || !tags_hold(held, reply->tag)) return false;
    text_free(&reply->body);
    reply->asset = NULL;
    reply->status = 304;
    return true;
}

enum match_kind request_if_match(const struct http_request *request, int64_t *version)
{
    const char *value = request_header(request, "If-Match");
    if (value == NULL) return MATCH_ABSENT;
    if (strcmp(value, "*") == 0) return MATCH_ANY;
    uint64_t number = 0;
    size_t digits = 0;
    const char *at = value;
    if (strncmp(at, "\"v", 2) != 0) return MATCH_NEVER;
    for (at += 2; *at >= '0' && *at <= '9' && digits < 18; at++, digits++)
        number = number * 10 + (uint64_t)(*at - '0');
    if (digits == 0 || strcmp(at, "\"") != 0 || number == 0) return MATCH_NEVER;
    *version = (int64_t)number;
    return MATCH_VERSION;
}

static void problem_json(struct text *out, enum problem problem, const char *detail,
                         const struct faults *faults)
{
    const struct problem_kind *kind = problem_kind(problem);
    struct json json = {.text = out};
    json_open_object(&json, NULL);
    char type[80];
    (void)snprintf(type, sizeof type, "/api/v1/openapi.json#/x-problems/%s", kind->id);
    json_put_text(&json, "type", type);
    json_put_text(&json, "title", kind->title);
    json_put_integer(&json, "status", kind->http);
    json_put_text(&json, "detail", detail != NULL ? detail : kind->title);
    json_open_array(&json, "faults");
    for (size_t i = 0; faults != NULL && i < faults->count; i++) {
        json_open_object(&json, NULL);
        json_put_text(&json, "path", faults->items[i].path);
        json_put_text(&json, "found", faults->items[i].found);
        json_put_text(&json, "wanted", faults->items[i].wanted);
        json_close(&json);
    }
    json_close(&json);
    if (faults != NULL && faults->dropped > 0)
        json_put_integer(&json, "more_faults", (int64_t)faults->dropped);
    json_close(&json);
    text_add_byte(out, '\n');
}

void reply_problem(struct http_request *request, struct http_reply *reply, enum problem problem,
                   const char *detail, const struct faults *faults)
{
    text_free(&reply->body);
    const char *allow = reply->allow;
    const bool close = reply->close;
    *reply = (struct http_reply){.allow = allow, .close = close};
    reply->body.limit = HTTP_ANSWER_BYTES_MAX;
    reply->status = problem_kind(problem)->http;
    if (request->match.face == HTTP_FACE_PAGE &&
        say_problem_page(request, reply, problem, detail, faults))
        return;
    text_clear(&reply->body);
    reply->type = "application/problem+json";
    problem_json(&reply->body, problem, detail, faults);
}

void reply_status(struct http_request *request, struct http_reply *reply, enum status status,
                  struct faults *faults)
{
    char detail[3 * FAULT_TEXT_MAX];
    const char *says = NULL;
    if (faults != NULL && faults->count > 0) {
        const struct fault *first = &faults->items[0];
        (void)snprintf(detail, sizeof detail, "%s%sfound %s, wanted %s", first->path,
                       first->path[0] == '\0' ? "" : ": ", first->found, first->wanted);
        says = detail;
    }
    reply_problem(request, reply, problem_of_status(status), says, faults);
    faults_free(faults);
}

void reply_versioned(struct http_request *request, struct http_reply *reply, enum status status,
                     int64_t version, struct faults *faults)
{
    if (status != STATUS_OK) {
        reply_status(request, reply, status, faults);
        return;
    }
    reply_json(reply, 200);
    reply_tag(reply, "v%lld", (long long)version);
    (void)reply_not_modified(request, reply);
}
