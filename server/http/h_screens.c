/* SPDX-License-Identifier: MIT */
/* The owner's screens that show one list of the plan whole. */
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

typedef void screen(struct text *out, const struct page *page, const struct plan *plan);

static void show(struct http_request *request, struct http_reply *reply, screen *write)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    const enum status status = plans_take(&entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    const struct casefile *casefile = plans_plan(entry)->casefile;
    struct page page;
    say_page(&page, request, reply, &casefile->company, casefile->now_s);
    write(&reply->body, &page, plans_plan(entry));
    reply_page(reply, 200);
    plans_release(entry);
}

#define SCREEN(handler, view)                                                                      \
    void handler(struct http_request *request, struct http_reply *reply)                           \
    {                                                                                              \
        show(request, reply, view);                                                                \
    }
SCREEN(h_page_pads, html_pads)
SCREEN(h_page_tonight, html_tonight)
SCREEN(h_page_call_in, html_call_in)
SCREEN(h_page_jobs, html_jobs)
SCREEN(h_page_weeks, html_weeks)
SCREEN(h_page_fires, html_first_fires)
SCREEN(h_page_dates, html_dates)
