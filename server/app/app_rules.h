/* SPDX-License-Identifier: MIT */
/* The rules in force, for people to read, and the owner's changes to their numbers. */
#ifndef EMBERWAIT_APP_APP_RULES_H
#define EMBERWAIT_APP_APP_RULES_H

#include <stdint.h>

#include "app/app_view.h"
#include "base/text.h"

/** The rulebook of every job as sentences, one a line (rulebook/rulebook.h). Check the text. */
void app_rules_show(struct text *out, const struct app_view *view);

/** Ids of the numbers that can be changed, in the order of the rulebook; NULL ends them. */
const char *app_rules_id(size_t index);

/**
 * Change a number, later only; what was changed before stays on record.
 *
 * @param[in] id      Of a setting, or a clock's with `.need` or `.floor_h`.
 * @param[in] value   In the unit the rulebook writes it in.
 * @param[in] reason  Why; not empty.
 * @param[in] by      Who; not empty.
 * Status: OK, INVALID (paths `id`, `value`, `reason`, `by`), CONFLICT (changed meanwhile), LIMIT,
 * BUSY, IO.
 */
MUST_USE enum status app_rules_change(struct app *app, const char *id, double value,
                                      const char *reason, const char *by, int64_t now_s,
                                      struct faults *faults);

#endif
