/* SPDX-License-Identifier: MIT */
/*
 * The plan as JSON: what `emberwait plan` prints and the server answers. Written straight into a
 * bounded text, in the order of the structs, so that the same plan is the same bytes.
 */
#ifndef EMBERWAIT_VIEWS_PLAN_JSON_H
#define EMBERWAIT_VIEWS_PLAN_JSON_H

#include "base/json.h"
#include "base/text.h"
#include "model/plan.h"
#include "views/words.h"

/** Bytes a plan may have: a thousand jobs take some 40 MB. */
enum { PLAN_JSON_BYTES_MAX = 1 << 30 };

/**
 * Write a whole plan and a line end.
 *
 * @param[in,out] out    Appended to; check with text_status.
 * @param[in]     plan   Borrowed.
 * @param[in]     words  Language of the sentences; borrowed.
 */
void plan_json(struct text *out, const struct plan *plan, const struct words *words);

/**
 * Write one job's plan as a JSON object, as it stands in `jobs` of a whole plan.
 *
 * @param[in,out] json   The writer, where a value may stand.
 * @param[in]     key    Member name, or NULL in an array or at the top.
 * @param[in]     plan   Borrowed.
 * @param[in]     now_s  Instant of the plan.
 * @param[in]     words  Language of the sentences; borrowed.
 */
void plan_json_job(struct json *json, const char *key, const struct job_plan *plan, int64_t now_s,
                   const struct words *words);

#endif
