/* SPDX-License-Identifier: MIT */
/*
 * Calendars to subscribe to, one per crew and one for the owner. The language is the link's own
 * (?lang=es), never a cookie's: calendars keep none. An answer whose entries did not move has the
 * same tag, so a telephone that asks each hour mostly gets 304.
 */
#include <sodium.h>
#include <string.h>

#include "app/app_feed.h"
#include "http/handlers.h"
#include "http/link_open.h"
#include "views/ics.h"

#include "base/banned.h"

enum { TAG_BYTES = 12 };

static void tag_of(struct http_reply *reply)
{
    unsigned char hash[crypto_generichash_BYTES_MIN];
    char hex[2 * TAG_BYTES + 1];
    (void)crypto_generichash(hash, sizeof hash, (const unsigned char *)reply->body.data,
                             reply->body.length, NULL, 0);
    (void)sodium_bin2hex(hex, sizeof hex, hash, TAG_BYTES);
    reply_tag(reply, "f%s", hex);
}

void h_feed(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    const char *target = NULL;
    struct feed feed;
    if (!link_open(&entry, &target, request, reply, APP_LINK_FEED)) return;
    const enum status status = app_feed(&feed, request->tools->app, target, plans_plan(entry),
                                        plans_key_of(entry).now_s, request->arena, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
    } else {
        ics_write(&reply->body, &feed, request_words(request, NULL));
        reply->status = 200;
        reply->type = "text/calendar; charset=utf-8";
        if (text_status(&reply->body) == STATUS_OK) {
            tag_of(reply);
            (void)reply_not_modified(request, reply);
        }
    }
    plans_release(entry);
}
