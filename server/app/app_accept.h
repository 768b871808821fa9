/* SPDX-License-Identifier: MIT */
/*
 * Who accepted what: an override of a check may accept the less strict of the figures that are on
 * the table (practice, published code, the kit's sheet) and no figure of its own. Which figures
 * there are is the rulebook's and the job's, so it cannot be told while the record is read alone.
 * Nor can which last chance is an inspection: that one nobody excuses.
 */
#ifndef EMBERWAIT_APP_APP_ACCEPT_H
#define EMBERWAIT_APP_APP_ACCEPT_H

#include <stddef.h>

#include "base/status.h"
#include "model/job.h"
#include "rulebook/rulebook.h"

/**
 * Refuse overrides of checks that accept nothing, and of inspections that were missed.
 *
 * @param[in]     rulebook Borrowed.
 * @param[in]     company  For its kits.
 * @param[in]     job      Whose records they are; its own records are not looked at.
 * @param[in]     records  Shape [count].
 * @param[in]     count    Their number.
 * @param[in]     path     Where they stand, for faults: `jobs[0].records`.
 * @param[in,out] faults   One for each that is refused.
 * Status: OK, INVALID.
 */
MUST_USE enum status app_accept_check(const struct rulebook *rulebook,
                                      const struct company *company, const struct job *job,
                                      const struct record *records, size_t count, const char *path,
                                      struct faults *faults);

/** The same for every job of a case. Status: OK, INVALID. */
MUST_USE enum status app_accept_check_case(const struct rulebook *rulebook,
                                           const struct casefile *casefile, struct faults *faults);

#endif
