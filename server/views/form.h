/* SPDX-License-Identifier: MIT */
/*
 * What a person types into a page, turned into the record the API takes, so that a form and a
 * machine go through the same door. A form may carry more fields than its kind of record has (a
 * group of events shares one form that works without JavaScript): those are left out. An empty
 * field is an absent one. A field the kind needs and that is empty or wrong is a fault under its
 * own name, so that the page can mark it and keep what was typed.
 */
#ifndef EMBERWAIT_VIEWS_FORM_H
#define EMBERWAIT_VIEWS_FORM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/status.h"
#include "base/text.h"
#include "model/job.h"

/** One posted field, decoded; both strings end with NUL. */
struct form_field {
    const char *name;
    const char *value;
};

/** What the person should be told although the form was good. */
struct form_said {
    bool hour_twice; /**< the hour came twice that night; the later one was taken */
};

/**
 * Turn posted fields into the JSON of one record. The fields are listed in views/README.md.
 *
 * The time is `at` (RFC 3339, a phone that was out of signal) or else `at_local`
 * (`YYYY-MM-DDTHH:MM`, wall clock of the job) or else `now_s`. An hour that the wall clock skips is
 * a fault; of one that comes twice the later is taken, unless it is still to come, and `said` says
 * so.
 *
 * @param[in,out] json   Appended to; only on OK.
 * @param[in]  fields    Posted fields, shape [count]; of two with one name the first counts.
 * @param[in]  count     Their number.
 * @param[in]  job       For its wall clock.
 * @param[in]  now_s     The present.
 * @param[out] said      May be NULL.
 * @param[out] faults    Path = name of the field. May be NULL.
 * Status: OK, INVALID (faults), LIMIT or IO (text).
 */
MUST_USE enum status form_record_json(struct text *json, const struct form_field *fields,
                                      size_t count, const struct job *job, int64_t now_s,
                                      struct form_said *said, struct faults *faults);

/** Value of a field, or NULL when it is absent. Borrow. */
const char *form_field_value(const struct form_field *fields, size_t count, const char *name);

#endif
