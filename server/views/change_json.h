/* SPDX-License-Identifier: MIT */
/* What moved, as JSON and as one sentence. */
#ifndef EMBERWAIT_VIEWS_CHANGE_JSON_H
#define EMBERWAIT_VIEWS_CHANGE_JSON_H

#include "base/json.h"
#include "model/change.h"
#include "views/when.h"

/** One sentence: what moved the date, naming the record, the weather or the work. */
void says_change(struct text *out, const struct when *when, const struct change *change);

/** "1 day late here, 4 days late at the end, because …"; nothing when nothing moved. */
void says_slip(struct text *out, const struct when *when, const struct job_moves *moves);

/** The list of changes, shape [count]. */
void change_json_list(struct json *json, const char *key, const struct change *changes,
                      size_t count, int64_t now_s, const struct words *words);

/** What a try moved, shape [count]; jobs in which nothing moved are left out. */
void change_json_slips(struct json *json, const char *key, const struct job_moves *moves,
                       size_t count, int64_t now_s, const struct words *words);

#endif
