/* SPDX-License-Identifier: MIT */
/* What moved since an instant: the morning's question, asked of the store's own records. */
#ifndef EMBERWAIT_APP_APP_CHANGES_H
#define EMBERWAIT_APP_APP_CHANGES_H

#include <stddef.h>
#include <stdint.h>

#include "app/app_view.h"
#include "base/arena.h"
#include "model/change.h"

/** Yesterday 17:00 by the company's clock: the office went home then. */
int64_t app_changes_evening_s(const struct company *company, int64_t now_s);

/**
 * Jobs whose dates moved since an instant.
 *
 * @param[out] out     In `arena`, shape [count]; valid while plan, view and arena are held.
 * @param[in]  view    Borrowed.
 * @param[in]  plan    Of this view; its now is the other end.
 * @param[in]  since_s Not after the plan's now.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status app_changes_since(const struct change **out, size_t *count,
                                       const struct app_view *view, const struct plan *plan,
                                       int64_t since_s, struct arena *arena, struct faults *faults);

/** What moved between the two plans of a try, job by job; shape [plan->job_count]. */
MUST_USE enum status app_changes_between(const struct job_moves **out, size_t *count,
                                         const struct plan *before, const struct plan *after,
                                         struct arena *arena, struct faults *faults);

#endif
