/* SPDX-License-Identifier: MIT */
/*
 * Dates and hours as people on a site say them: "Tue 6 am", "Thu 9 April", "jueves 9 de abril". The
 * wall clock is always the job's own. A page never shows a bare number of hours from now as a date.
 */
#ifndef EMBERWAIT_VIEWS_WHEN_H
#define EMBERWAIT_VIEWS_WHEN_H

#include <stdint.h>

#include "base/text.h"
#include "base/zone.h"
#include "views/words.h"

enum { WHEN_TEXT_MAX = 96 }; /**< the longest phrase and its NUL, in bytes */

/** In which language, by whose wall clock, and seen from when. All borrowed. */
struct when {
    const struct words *words;
    const struct zone *zone;
    int64_t now_s;
};

/** A phrase, returned by value so that it can stand in a list of arguments. */
struct phrase {
    char z[WHEN_TEXT_MAX];
};

/** "6 am", "6:30 pm", "noon", "midnight". INSTANT_NONE: "no date yet". */
struct phrase when_clock(const struct when *when, int64_t at_s);
/** "Tue 6 am" within six days of now, else "Thu 9 April, 6 am". INSTANT_NONE: "no date yet". */
struct phrase when_day_time(const struct when *when, int64_t at_s);
/** "Thu 9 April" (with the year when it is not this year's). DAY_NONE: "no date yet". */
struct phrase when_date(const struct when *when, int32_t day);
/** The civil day of an instant as when_date says it. INSTANT_NONE: "no date yet". */
struct phrase when_date_of(const struct when *when, int64_t at_s);
/** "2026-10-23 06:31" by the job's wall clock: for a record that may be argued about. "-": none. */
struct phrase when_exact(const struct when *when, int64_t at_s);
/** "40 min ago", "3 h ago", "2 days ago"; a time not yet past counts as 0 min. */
struct phrase when_age(const struct when *when, int64_t at_s);
/** "2026-10-23T06:31", the value of a datetime-local field; empty for INSTANT_NONE. */
struct phrase when_field(const struct when *when, int64_t at_s);
/** A minute of the day as a clock: 840 is "2 pm". */
struct phrase when_minute(const struct when *when, int minute);

#endif
