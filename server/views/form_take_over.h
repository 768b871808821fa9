/* SPDX-License-Identifier: MIT */
/* The form of a job that is taken over half built, as it is posted. */
#ifndef EMBERWAIT_VIEWS_FORM_TAKE_OVER_H
#define EMBERWAIT_VIEWS_FORM_TAKE_OVER_H

#include "views/form.h"

/**
 * Turn posted fields into the JSON of a take-over: `task.<id>` ticked, `date.<id>` its day or else
 * `done_on`; `clock.<id>` ticked; `id`, `by`, `reason`.
 *
 * @param[in,out] json   Appended to; only on OK.
 * @param[in]  fields    Posted fields, shape [count].
 * @param[in]  count     Their number.
 * @param[out] faults    Path = name of the field. May be NULL.
 * Status: OK, INVALID, LIMIT or IO (text).
 */
MUST_USE enum status form_take_over_json(struct text *json, const struct form_field *fields,
                                         size_t count, struct faults *faults);

#endif
