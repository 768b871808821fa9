/* SPDX-License-Identifier: MIT */
/*
 * The days of a count as a calendar, a row a week: each civil day from the day of the last wet work
 * on, and what it counted. A sign for each reason, told apart by its shape; the same in words and
 * as a table beside it. The homeowner's has three signs, and of the days to come only how many
 * there are: where they would stand is a date, and that page shows none but the one the owner gave.
 */
#ifndef EMBERWAIT_VIEWS_SVG_DAY_STRIP_H
#define EMBERWAIT_VIEWS_SVG_DAY_STRIP_H

#include "views/page.h"

/**
 * Draw one count as a `<figure>`; nothing for a clock that counts no days. It has no ids, so that
 * any page may hold any number of them; a page that does sets `pictures` in its frame.
 *
 * @param[in,out] out    Appended to; a full text takes nothing more.
 * @param[in]     page   Words and now.
 * @param[in]     job    Whose zone the days are of.
 * @param[in]     clock  One of job->clocks.
 * @param[in]     home   For the homeowner.
 */
void svg_day_strip(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct clock_plan *clock, bool home);

#endif
