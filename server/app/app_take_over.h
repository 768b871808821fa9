/* SPDX-License-Identifier: MIT */
/*
 * A job taken over half built, as one transaction: what was done before we came and the waits that
 * are taken to be over become records of the ordinary kinds, all of them or none. Each says that it
 * was taken over, so that a plan says "accepted without readings" for ever.
 */
#ifndef EMBERWAIT_APP_APP_TAKE_OVER_H
#define EMBERWAIT_APP_APP_TAKE_OVER_H

#include "app/app_record.h"

/**
 * Expand one form into records and add them.
 *
 * Work becomes `done`, a hold point or inspection `passed`; a mortared facing also the `facing`
 * that ends it. A day without a time counts at its end (later is the safe side of every wait),
 * today at now. A clock becomes `accepted` at now. The ids are made of the id of the form.
 *
 * @param[out] out        In `arena`, as app_records_add.
 * @param[out] out_count  Their number.
 * @param[in]  job_id     NUL-ended.
 * @param[in]  json       `{"id","by","reason","tasks":[…],"clocks":[…]}`, shape [length].
 * @param[in]  who        Who sent it; NULL: as `by` says.
 * @param[in]  now_s      When it came in.
 * @param[in]  arena      Memory of the answer.
 * Status: OK; NOT_FOUND; INVALID; CONFLICT (the form was sent before with another body); LIMIT;
 *         BUSY; IO.
 */
MUST_USE enum status app_take_over(const struct app_added **out, size_t *out_count, struct app *app,
                                   const char *job_id, const char *json, size_t length,
                                   const char *who, int64_t now_s, struct arena *arena,
                                   struct faults *faults);

#endif
