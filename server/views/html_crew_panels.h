/* SPDX-License-Identifier: MIT */
/*
 * What opens when a thumb taps: one panel for a reading, one for each task, one for covers, one for
 * "something is wrong". A panel is a plain form in the page, shown alone while the address names it
 * (`#j1-reading`), so that it works with no script, the back key closes it, and closing loses
 * nothing that was typed. Inside views only.
 */
#ifndef EMBERWAIT_VIEWS_HTML_CREW_PANELS_H
#define EMBERWAIT_VIEWS_HTML_CREW_PANELS_H

#include "views/crew_day.h"
#include "views/html_crew.h"
#include "views/html_forms.h"

enum { CREW_FIELD_MAX = 64 }; /**< the longest name of a field, and its NUL */

/** The page while it is written. All borrowed. */
struct crew_page {
    struct text *out;
    const struct page *page;
    const struct plan *plan;
    const struct crew *crew;
    const char *token;
    const char *action; /**< where forms post to */
    unsigned serial;    /**< of forms: sets their ids apart */
};

/** All panels of one job, the n-th of the page. */
void html_crew_panels(struct crew_page *day, size_t n, const struct job_plan *job);
/** The checks of a task: what to look at, and fields to answer each. */
void html_crew_checks(const struct form_out *form, const struct task_plan *task);
/** Whether some check of a task is kept by a photo, a clip or a slip. */
bool html_crew_wants_photo(const struct task_plan *task);
/** The panel that lists what was written down on this phone; a script fills it. */
void html_crew_mine(const struct crew_page *day);
/** Sentences a script may show, hidden. */
void html_crew_says(const struct crew_page *day);
/** "Call the boss" as a link that dials; nothing when the company has no phone. */
void html_crew_boss(struct text *out, const struct page *page);
/** "Bring: …" */
void html_crew_bring(struct text *out, const struct page *page, const char *list);

#endif
