/* SPDX-License-Identifier: MIT */
/* What the homeowner's page and the fire sheet share. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_HOME_H
#define EMBERWAIT_VIEWS_HTML_HOME_H

#include "views/html.h"

/** The small fires with boxes to tick, which one is next, and the signs to stop at. */
void html_home_fires(struct text *out, const struct page *page, const struct job_plan *job);
/** What always holds for a fire in a house. */
void html_home_care(struct text *out, const struct page *page);

#endif
