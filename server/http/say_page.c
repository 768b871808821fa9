/* SPDX-License-Identifier: MIT */
/* Why: see say_page.h. */
#include "http/say_page.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "app/app_view.h"
#include "app/app_watch.h"

#include "base/banned.h"

static const char *const languages[HTTP_LANGUAGE_COUNT] = {"en", "es"};

static int language_index(const char *text, size_t length)
{
    for (int i = 0; i < HTTP_LANGUAGE_COUNT; i++) {
        if (length == strlen(languages[i]) && memcmp(text, languages[i], length) == 0) return i;
    }
    return -1;
}

static int language_of_cookie(const char *cookies)
{
    const char *at = cookies == NULL ? NULL : strstr(cookies, "lang=");
    if (at == NULL || (at != cookies && at[-1] != ' ' && at[-1] != ';')) return -1;
    return language_index(at + 5, strcspn(at + 5, "; "));
}

/* The first of our languages that is named; browsers list them by liking. */
static int language_of_header(const char *accept)
{
    for (const char *at = accept; at != NULL && *at != '\0';) {
        at += strspn(at, " \t,");
        const int index = language_index(at, strcspn(at, "-;, "));
        if (index >= 0) return index;
        at += strcspn(at, ",");
    }
    return -1;
}

const struct words *request_words(struct http_request *request, struct http_reply *reply)
{
    const char *asked = request_query(request, "lang");
    int index = asked == NULL ? -1 : language_index(asked, strlen(asked));
    if (index >= 0 && reply != NULL)
        reply->cookie =
            arena_print(request->arena, "lang=%s; Path=/; Max-Age=31536000; HttpOnly; SameSite=Lax",
                        languages[index]);
    if (index < 0) index = language_of_cookie(request_header(request, "Cookie"));
    if (index < 0) index = language_of_header(request_header(request, "Accept-Language"));
    return request->tools->words[index < 0 ? 0 : index];
}

void say_page(struct page *out, struct http_request *request, struct http_reply *reply,
              const struct company *company, int64_t now_s)
{
    *out =
        (struct page){.words = request_words(request, reply),
                      .now_s = now_s,
                      .company = company,
                      .base_url = request_base_url(request),
                      .path = request_path(request),
                      .forms = true,
                      .csrf = request->who.csrf[0] == '\0' ? NULL : request->who.csrf,
                      .signed_in = request->who.session ? request->who.name : NULL,
                      .people = request->who.csrf[0] != '\0' && request->who.role == APP_ROLE_OWNER,
                      .demo = request->who.demo ? request->who.name : NULL,
                      .notice = WORD_COUNT};
    const char *sent = request_query(request, "sent");
    if (sent != NULL)
        out->notice = strcmp(sent, "twice") == 0 ? WORD_PAGE_HOUR_TWICE : WORD_PAGE_SENT;
    randombytes_buf(out->form_seed, sizeof out->form_seed);
    struct alarm_list *alarms = ARENA_TAKE(request->arena, 1, struct alarm_list);
    if (alarms == NULL || request->match.face != HTTP_FACE_PAGE) return;
    if (app_alarms(alarms, request->tools->app, request->arena, NULL) == STATUS_OK)
        out->alarms = alarms;
}

bool say_problem_page(struct http_request *request, struct http_reply *reply, enum problem problem,
                      const char *detail, const struct faults *faults)
{
    struct app_view *view = NULL;
    if (app_view_take(&view, request->tools->app, NULL) != STATUS_OK) return false;
    struct page page;
    say_page(&page, request, reply, &app_view_case(view)->company, request->now_s);
    if (request->match.route == NULL) page.path = "/";
    struct fault fault = {.path = ""};
    const struct fault *shown = NULL;
    if (faults != NULL && faults->count > 0) {
        shown = &faults->items[0];
    } else if (detail != NULL) {
        fault_set(&fault, "", problem_kind(problem)->title, "%s", detail);
        shown = &fault;
    }
    html_problem(&reply->body, &page, problem_kind(problem)->status, shown);
    app_view_release(view);
    if (text_status(&reply->body) != STATUS_OK) return false;
    reply_page(reply, problem_kind(problem)->http);
    return true;
}
