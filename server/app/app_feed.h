/* SPDX-License-Identifier: MIT */
/*
 * Calendars that a crew or the owner subscribes to. Entries come from the plan of now; the store
 * remembers what was last said of each, so that one that moves gets a higher number and one that
 * goes is taken back. The homeowner gets no feed: a stale copy of a date is dangerous.
 */
#ifndef EMBERWAIT_APP_APP_FEED_H
#define EMBERWAIT_APP_APP_FEED_H

#include "app/app.h"
#include "base/arena.h"
#include "model/feed.h"

enum {
    APP_FEED_EVENTS_MAX = 2000, /**< entries of one feed: 40 jobs of 50 tasks */
    APP_FEED_KEEP_DAYS = 60,    /**< an entry is kept that long after its end */
};

/**
 * The feed of a crew or of the owner.
 *
 * @param[out] out     Entries in `arena`, by start, then uid.
 * @param[in]  target  A crew's id, or "owner".
 * @param[in]  plan    Of now, all jobs; borrowed as long as the feed is used.
 * @param[in]  now_s   When it is asked for: `changed_s` of what moved.
 * Status: OK, NOT_FOUND (a crew that is no longer of the company), LIMIT, BUSY, IO.
 */
MUST_USE enum status app_feed(struct feed *out, struct app *app, const char *target,
                              const struct plan *plan, int64_t now_s, struct arena *arena,
                              struct faults *faults);

#endif
