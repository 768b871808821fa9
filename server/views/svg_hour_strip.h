/* SPDX-License-Identifier: MIT */
/*
 * The hours of a part as a picture: which counted in full, in part or not at all, under the
 * temperature they went by. Hours are told apart by shape, not by colour, so that it reads on paper
 * in black and white; beside it stands the same in words and as a table. There is no rising line
 * and no target in it: an hour counted or it did not.
 *
 * The picture is drawn with presentation attributes and classes of static/css/svg.css only: the
 * pages' Content-Security-Policy lets no style stand inside. It has no fixed width: its paths are
 * stretched over the page, its words and marks are not.
 */
#ifndef EMBERWAIT_VIEWS_SVG_HOUR_STRIP_H
#define EMBERWAIT_VIEWS_SVG_HOUR_STRIP_H

#include "views/page.h"

/**
 * Draw one part as a `<figure>`; nothing when it has no strip. It has no ids, so that any page may
 * hold any number of them; a page that does sets `pictures` in its frame.
 *
 * @param[in,out] out   Appended to; a full text takes nothing more.
 * @param[in]     page  Words.
 * @param[in]     job   Of a plan with pictures (planner_pictures).
 * @param[in]     part  One of job->parts.
 */
void svg_hour_strip(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part);

#endif
