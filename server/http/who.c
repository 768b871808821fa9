/* SPDX-License-Identifier: MIT */
/* Why: see who.h. */
#include "http/who.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "app/app_secret.h"
#include "base/limits.h"
#include "http/judge.h"
#include "http/may.h"
#include "http/request.h"

#include "base/banned.h"

enum {
    CSRF_BYTES = 16,
    DOOR_BYTES = 16,
    DOOR_TEXT_MAX = 23,
    KNOWN_RANDOM = DOOR_TEXT_MAX - 1,
    KNOWN_TEXT_MAX = KNOWN_RANDOM + WHO_CSRF_MAX,
};

/* Over https a name that no other site of the domain can set, and that is never sent in the clear.
 */
static const char *cookie_name(const struct http_request *request)
{
    return request_is_https(request) ? "__Host-emberwait" : "emberwait";
}

static const char *door_name(const struct http_request *request)
{
    return request_is_https(request) ? "__Host-emberwait-door" : "emberwait-door";
}

/* Sent to the door only; __Host- would want the path of everything. */
static const char *known_name(const struct http_request *request)
{
    return request_is_https(request) ? "__Secure-emberwait-known" : "emberwait-known";
}

/* What a form carries: a hash, under a key of the store, of what the browser's cookie holds. */
static void csrf_of(char out[WHO_CSRF_MAX], const struct app *app, const char *what,
                    const char *value)
{
    unsigned char key[APP_SECRET_BYTES];
    unsigned char bytes[CSRF_BYTES];
    app_secret(key, app, "csrf");
    crypto_generichash_state state;
    (void)crypto_generichash_init(&state, key, sizeof key, sizeof bytes);
    (void)crypto_generichash_update(&state, (const unsigned char *)what, strlen(what) + 1);
    (void)crypto_generichash_update(&state, (const unsigned char *)value, strlen(value));
    (void)crypto_generichash_final(&state, bytes, sizeof bytes);
    (void)sodium_bin2hex(out, WHO_CSRF_MAX, bytes, sizeof bytes);
    sodium_memzero(key, sizeof key);
}

void who_cookie(struct http_request *request, struct http_reply *reply, const char *token)
{
    reply->pass_cookie = arena_print(
        request->arena, "%s=%s; Path=/; HttpOnly; SameSite=Strict%s; Max-Age=%d",
        cookie_name(request), token == NULL ? "" : token,
        request_is_https(request) ? "; Secure" : "", token == NULL ? 0 : (int)SESSION_S);
}

const char *who_door_csrf(struct http_request *request, struct http_reply *reply)
{
    const char *held = request_cookie(request, door_name(request));
    if (held == NULL || strlen(held) != DOOR_TEXT_MAX - 1) {
        unsigned char bytes[DOOR_BYTES];
        char text[DOOR_TEXT_MAX];
        randombytes_buf(bytes, sizeof bytes);
        (void)sodium_bin2base64(text, sizeof text, bytes, sizeof bytes,
                                sodium_base64_VARIANT_URLSAFE_NO_PADDING);
        held = arena_copy(request->arena, text, strlen(text));
        if (held == NULL) return NULL;
        reply->pass_cookie =
            arena_print(request->arena, "%s=%s; Path=/; HttpOnly; SameSite=Strict%s",
                        door_name(request), held, request_is_https(request) ? "; Secure" : "");
    }
    char csrf[WHO_CSRF_MAX];
    csrf_of(csrf, request->tools->app, "door", held);
    return arena_copy(request->arena, csrf, strlen(csrf));
}

/* KNOWN_RANDOM characters of chance, then a hash of them and the name. */
static bool known_of(char out[KNOWN_TEXT_MAX], struct http_request *request, const char *chance,
                     const char *name)
{
    const char *value = arena_print(request->arena, "%.*s %s", KNOWN_RANDOM, chance, name);
    char hash[WHO_CSRF_MAX];
    if (value == NULL) return false;
    csrf_of(hash, request->tools->app, "known", value);
    const int length = snprintf(out, KNOWN_TEXT_MAX, "%.*s%s", KNOWN_RANDOM, chance, hash);
    return length == KNOWN_TEXT_MAX - 1;
}

const char *who_known(struct http_request *request, const char *name)
{
    char wanted[KNOWN_TEXT_MAX];
    const char *held = request_cookie(request, known_name(request));
    if (held == NULL || strlen(held) != KNOWN_TEXT_MAX - 1 ||
        !known_of(wanted, request, held, name) ||
        sodium_memcmp(held, wanted, KNOWN_TEXT_MAX - 1) != 0)
        return NULL;
    return held;
}

void who_know(struct http_request *request, struct http_reply *reply, const char *name)
{
    unsigned char bytes[DOOR_BYTES];
    char chance[DOOR_TEXT_MAX];
    char known[KNOWN_TEXT_MAX];
    randombytes_buf(bytes, sizeof bytes);
    (void)sodium_bin2base64(chance, sizeof chance, bytes, sizeof bytes,
                            sodium_base64_VARIANT_URLSAFE_NO_PADDING);
    if (!known_of(known, request, chance, name)) return;
    reply->known_cookie = arena_print(
        request->arena, "%s=%s; Path=/sign-in; HttpOnly; SameSite=Strict%s; Max-Age=31536000",
        known_name(request), known, request_is_https(request) ? "; Secure" : "");
}

bool who_session(struct http_request *request)
{
    struct http_who *who = &request->who;
    const char *token = request_cookie(request, cookie_name(request));
    if (token == NULL || app_pass_session(&who->pass, request->tools->app, token, strlen(token),
                                          request->now_s, request->arena, NULL) != STATUS_OK)
        return false;
    who->session = true;
    who->name = who->pass.name;
    who->role = who->pass.role;
    csrf_of(who->csrf, request->tools->app, "session", token);
    return true;
}

/* `Authorization: Bearer TOKEN`. */
static bool bearer(struct http_request *request)
{
    const char *value = request_header(request, "Authorization");
    if (value == NULL || strncasecmp(value, "Bearer ", 7) != 0) return false;
    value += 7;
    struct app_pass pass;
    if (app_pass_token(&pass, request->tools->app, value, strlen(value), request->now_s,
                       request->arena, NULL) != STATUS_OK)
        return false;
    request->who.name = pass.name;
    request->who.role = pass.role;
    return true;
}

/* A proxy passed it on: somebody far away can write a loopback name into Host too. */
static bool was_passed_on(const struct http_request *request)
{
    static const char *const marks[] = {"X-Forwarded-For", "Forwarded", "X-Real-IP", "Via"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (request_header(request, marks[i]) != NULL) return true;
    return false;
}

/* Before there is an owner: who sits at this machine, or the owner of a show. */
static bool nobody_yet(struct http_request *request)
{
    struct http_who *who = &request->who;
    if (app_person_any(request->tools->app) || request->host_kind != ORIGIN_HOST_LOOPBACK ||
        was_passed_on(request))
        return false;
    who->role = APP_ROLE_OWNER;
    who->name = request->tools->demo_owner;
    who->demo = who->name != NULL;
    csrf_of(who->csrf, request->tools->app, "machine", "");
    return true;
}

/* A page is asked for: to the door, and back here afterwards. */
static void to_the_door(struct http_request *request)
{
    struct http_reply *reply = judge_refuse(request);
    struct text to = TEXT_UP_TO(4 * HTTP_TARGET_BYTES_MAX);
    static const char hex[] = "0123456789ABCDEF";
    text_add_z(&to, "/sign-in?to=");
    for (const char *at = request->target; *at != '\0'; at++) {
        const unsigned char byte = (unsigned char)*at;
        const bool plain = (byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'Z') ||
                           (byte >= 'a' && byte <= 'z') || strchr("-_.~/", byte) != NULL;
        if (!plain) text_add_byte(&to, '%');
        if (!plain) text_add_byte(&to, hex[byte >> 4]);
        text_add_byte(&to, plain ? *at : hex[byte & 15]);
    }
    const char *location = arena_copy(request->arena, text_z(&to), to.length);
    text_free(&to);
    reply_see_other(reply, location == NULL ? "/sign-in" : location);
}

static void refuse_nobody(struct http_request *request)
{
    const bool page = request->match.face == HTTP_FACE_PAGE;
    const bool get = strcmp(request->method, "GET") == 0 || strcmp(request->method, "HEAD") == 0;
    if (!app_person_any(request->tools->app)) {
        reply_problem(request, judge_refuse(request), PROBLEM_DENIED,
                      "nobody can sign in yet: add an owner at the machine itself "
                      "(emberwait person add --role owner NAME)",
                      NULL);
    } else if (page && get) {
        to_the_door(request);
    } else {
        reply_problem(request, judge_refuse(request), PROBLEM_SIGN_IN,
                      "sign in (/sign-in), or send Authorization: Bearer and a token of a script",
                      NULL);
    }
}

bool who_judge(struct http_request *request)
{
    const enum http_auth auth = request->match.route->auth;
    if (auth == HTTP_AUTH_OPEN || auth == HTTP_AUTH_TOKEN) return true;
    if (!nobody_yet(request) && !bearer(request) && !who_session(request)) {
        refuse_nobody(request);
        return false;
    }
    if (may_use(request->who.role, auth)) return true;
    reply_problem(request, judge_refuse(request), PROBLEM_DENIED,
                  request->who.role == APP_ROLE_STATION
                      ? "this token is for the hours of weather stations only"
                      : "only the owner does this",
                  NULL);
    return false;
}

bool who_form_is_ours(struct http_request *request, struct http_reply *reply)
{
    const struct http_route *route = request->match.route;
    if (route->body != HTTP_BODY_FORM || route->auth == HTTP_AUTH_TOKEN ||
        request->from == ORIGIN_FROM_OURS)
        return true;
    /* what is no browser sends nothing, and has no session either */
    const bool door = route->auth == HTTP_AUTH_OPEN;
    if (request->from == ORIGIN_FROM_UNSAID && !request->who.session && !door) return true;
    char wanted[WHO_CSRF_MAX];
    memcpy(wanted, request->who.csrf, sizeof wanted);
    const char *held = door ? request_cookie(request, door_name(request)) : NULL;
    if (held != NULL) csrf_of(wanted, request->tools->app, "door", held);
    struct form_field *fields = NULL;
    size_t count = 0;
    const char *sent = NULL;
    if (urlencoded_read(&fields, &count, text_z(&request->body), request->body.length,
                        HTTP_FORM_FIELDS_MAX, request->arena, NULL) == STATUS_OK)
        sent = form_field_value(fields, count, "csrf");
    if (wanted[0] != '\0' && sent != NULL && strlen(sent) == strlen(wanted) &&
        sodium_memcmp(sent, wanted, strlen(wanted)) == 0)
        return true;
    reply_problem(request, reply, PROBLEM_DENIED,
                  "the form does not come from a page of ours: load the page again, then send it",
                  NULL);
    return false;
}
