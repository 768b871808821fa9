/* SPDX-License-Identifier: MIT */
/* What somebody has to be told, at the top of a page until it is seen. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_ALARMS_H
#define EMBERWAIT_VIEWS_HTML_ALARMS_H

#include "views/html.h"

/**
 * The alarms of page->alarms that this page's reader has not seen, each with its button.
 *
 * @param[in] plan   Names of the jobs.
 * @param[in] crew   NULL: the owner's page, all jobs; else that crew's jobs.
 * @param[in] token  Of the crew's page; NULL on the owner's.
 * @param[in] job    Only of this job; NULL: of all.
 */
void html_alarms(struct text *out, const struct page *page, const struct plan *plan,
                 const struct crew *crew, const char *token, const struct job_plan *job);

#endif
