/* SPDX-License-Identifier: MIT */
/*
 * What a crew is told for one job and one day: what to do, what not to do, what to leave behind.
 * Worked out from the plan's states and reasons; shared by the phone page and the paper sheet, so
 * that they can never differ. Inside views only.
 */
#ifndef EMBERWAIT_VIEWS_CREW_DAY_H
#define EMBERWAIT_VIEWS_CREW_DAY_H

#include <stdbool.h>
#include <stddef.h>

#include "views/page.h"
#include "views/when.h"

enum { CREW_JOBS_MAX = 6, CREW_DO_MAX = 5, CREW_DO_NOT_MAX = 7, CREW_LEAVE_MAX = 8 };

/** The jobs of a crew today: those planned, else its own jobs with work whose wait is over. */
size_t crew_day_jobs(const struct page *page, const struct plan *plan, const struct crew *crew,
                     const struct job_plan *jobs[CREW_JOBS_MAX]);

/** The tasks that can be a crew's: bit n is task n. */
uint64_t crew_day_tasks(void);

/** Tasks to do at a job today, at most five. `crew` NULL: whichever crew. */
size_t crew_day_do(const struct page *page, const struct plan *plan, const struct crew *crew,
                   const struct job_plan *job, const struct task_plan *tasks[CREW_DO_MAX]);

/** Append one "do not" sentence for each thing that must not be done at a job now, via `each`. */
void crew_day_do_not(const struct when *when, const struct job_plan *job,
                     void (*each)(void *context, const char *sentence), void *context);

/** What has to be done before leaving, at most eight words; the last may be an inspection. */
size_t crew_day_leave(const struct job_plan *job, enum word leave[CREW_LEAVE_MAX]);

/** The inspection that is planned or booked for tomorrow; TASK_NONE. */
enum task crew_day_inspection_tomorrow(const struct page *page, const struct job_plan *job);

/** Whether mortar is mixed for a task, so that the bag's minimum has to be shown. */
bool crew_day_mixes(enum task task);
/** How long a bucket of the bag in use lasts, minutes; NAN when its card does not say. */
double crew_day_bag_pot_min(const struct job_plan *job);

#endif
