/* SPDX-License-Identifier: MIT */
/*
 * The plan of everything at one instant, worked out once and shared by every page and answer until
 * a record comes in or the minute turns. So the morning page, a job's page and its JSON never
 * differ, and a hundred phones that ask at once cost one plan.
 *
 * The instant is the start of the running minute, or the last write if that was later: a record is
 * counted as soon as its sender has the answer, and in between the same bytes can be asked for by
 * tag.
 */
#ifndef EMBERWAIT_HTTP_PLANS_H
#define EMBERWAIT_HTTP_PLANS_H

#include <stddef.h>
#include <stdint.h>

#include "app/app_view.h"
#include "http/request.h"
#include "model/change.h"
#include "model/plan.h"
#include "views/page.h"

struct plans;

/** A plan that is held. */
struct plans_entry;

/** NULL when there is no memory. Own; plans_free. */
struct plans *plans_new(void);
/** Every entry must have been released. NULL is allowed. */
void plans_free(struct plans *plans);
/** Whom to tell after each write; before the first request. `told` is quick and takes any thread.
 */
void plans_on_write(struct plans *plans, void (*told)(void *context), void *context);
/** Something was written at `now_s`. */
void plans_wrote(struct plans *plans, int64_t now_s);

/** Where a plan stands: what it was made from. Two of one value have the same bytes. */
struct plans_key {
    uint64_t generation;
    int64_t now_s;
};
/** The key of the plan that plans_take would give, without working it out. Status as app_view_take.
 */
MUST_USE enum status plans_key(struct plans_key *out, const struct http_request *request,
                               struct faults *faults);

/**
 * The plan of now.
 *
 * @param[out] out  One reference; plans_release. NULL on any status but OK.
 * Status: OK, CORRUPT, LIMIT, BUSY, IO.
 */
MUST_USE enum status plans_take(struct plans_entry **out, const struct http_request *request,
                                struct faults *faults);
/** Give the reference back; NULL is allowed. */
void plans_release(struct plans_entry *entry);

/** What an entry holds; borrow until it is released. */
const struct plan *plans_plan(const struct plans_entry *entry);
const struct app_view *plans_view(const struct plans_entry *entry);
struct plans_key plans_key_of(const struct plans_entry *entry);

/**
 * First-fire dates that moved since yesterday evening (17:00 by the company's clock), worked out
 * once.
 *
 * @param[out] out  Borrow, as long as the entry is held; shape [*count].
 * Status: OK, LIMIT.
 */
MUST_USE enum status plans_changes(const struct date_change **out, size_t *count,
                                   const struct http_request *request, struct plans_entry *entry,
                                   struct faults *faults);

/** The same with the tasks that moved: every job of which anything did. */
MUST_USE enum status plans_all_changes(const struct change **out, size_t *count,
                                       const struct http_request *request,
                                       struct plans_entry *entry, struct faults *faults);

#endif
