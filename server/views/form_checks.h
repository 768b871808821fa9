/* SPDX-License-Identifier: MIT */
/* The checks of a task out of a posted form. Inside views only; the fields are in README.md. */
#ifndef EMBERWAIT_VIEWS_FORM_CHECKS_H
#define EMBERWAIT_VIEWS_FORM_CHECKS_H

#include "base/json.h"
#include "model/check.h"
#include "views/form.h"

/**
 * Append the member `checks` for the answered checks of a task; nothing when none is answered.
 *
 * @param[in,out] json   Inside the record's object.
 * @param[in]  fields    Posted fields, shape [count].
 * @param[in]  count     Their number.
 * @param[in]  task      Whose checks.
 * @param[out] faults    Path = name of the field. May be NULL.
 * @return false: an answer could not be read, or a field names a check the task does not have.
 */
bool form_checks_put(struct json *json, const struct form_field *fields, size_t count,
                     enum task task, struct faults *faults);

/**
 * A figure as it is written on a tape: 0.125, 0,125, 1/8, 1 1/4, with a sign or without.
 *
 * @param[out] out    The figure; left alone on false.
 * @param[in]  value  Need not end in NUL.
 * @param[in]  length Bytes.
 */
bool form_figure(double *out, const char *value, size_t length);

#endif
