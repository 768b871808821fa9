/* SPDX-License-Identifier: MIT */
/* The parts of a crew's day that the phone page and the paper sheet share. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_CREW_H
#define EMBERWAIT_VIEWS_HTML_CREW_H

#include "views/html.h"

/** The job's name and how to get in. */
void html_crew_head(struct text *out, const struct job *job);
/** Tasks to do, each with its state and the one check that matters; the bag's minimum. */
void html_crew_do(struct text *out, const struct page *page, const struct plan *plan,
                  const struct crew *crew, const struct job_plan *job);
/** "Not before 6 am", or the sign and words of the task's state. */
void html_crew_task_state(struct text *out, const struct page *page, const struct when *when,
                          const struct task_plan *task);
/** The lowest temperature of the bag in use and how long a bucket lasts. */
void html_crew_bag(struct text *out, const struct page *page, const struct job_plan *job);
/** The words of a set whose bits are in `members`, with commas; plain text. */
void html_crew_list(struct text *out, const struct page *page, enum word_set set, uint64_t members);
/** The "do not" sentences. */
void html_crew_do_not(struct text *out, const struct page *page, const struct job_plan *job);
/** Temperature, rain and gust of the working hours, two hours a row. */
void html_crew_weather(struct text *out, const struct page *page, const struct job_plan *job);
/** What to do before leaving, with boxes. */
void html_crew_leave(struct text *out, const struct page *page, const struct job_plan *job);
/** The short cautions. */
void html_crew_safety(struct text *out, const struct page *page);

#endif
