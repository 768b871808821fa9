/* SPDX-License-Identifier: MIT */
/* A feed as iCalendar: what a telephone's calendar subscribes to. */
#ifndef EMBERWAIT_VIEWS_ICS_H
#define EMBERWAIT_VIEWS_ICS_H

#include "base/text.h"
#include "model/feed.h"
#include "views/words.h"

/**
 * A whole VCALENDAR object.
 *
 * Work stands in the job's zone, with a VTIMEZONE that holds the clock changes from the year before
 * the first entry to the year after the last. Each entry says as of when it is and that it may be
 * later; none is a permission.
 *
 * @param[in,out] out  Appended to; text_status tells LIMIT and no memory.
 * @param[in] feed     Borrowed.
 * @param[in] words    The language of the summaries.
 * Source: [rfc5545], [rfc7986] (NAME, REFRESH-INTERVAL).
 */
void ics_write(struct text *out, const struct feed *feed, const struct words *words);

#endif
