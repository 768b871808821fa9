/* SPDX-License-Identifier: MIT */
/* Work-back on the job's page. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_WORK_BACK_H
#define EMBERWAIT_VIEWS_HTML_WORK_BACK_H

#include "views/page.h"
#include "views/when.h"

/** The latest finish of each open task for the wanted (or given) fire date; nothing without one. */
void html_work_back(struct text *out, const struct page *page, const struct when *when,
                    const struct job_plan *job);

#endif
