/* SPDX-License-Identifier: MIT */
/*
 * The weather's word on the pages: measures under a task, closed hours of today, what is due before
 * the night, lost half-days. Every figure is the plan's own: no page repeats a number of a rule.
 */
#ifndef EMBERWAIT_VIEWS_HTML_WEATHER_H
#define EMBERWAIT_VIEWS_HTML_WEATHER_H

#include "views/html.h"

/** The measures of a task as a list under its heading; nothing when there are none. */
void html_weather_measures(struct text *out, const struct page *page, const struct task_plan *task);

/** The same inside a link: what to do, without the figures, on one line. */
void html_weather_measures_short(struct text *out, const struct page *page,
                                 const struct task_plan *task);

/** Hours of today, in working hours, that a gate closes to the work ahead, and why. */
void html_weather_closed(struct text *out, const struct page *page, const struct job_plan *job);

/** What is due before the night, one list item each; `link` puts the job's name before it. */
void html_weather_tonight(struct text *out, const struct page *page, const struct job_plan *job,
                          bool link);

/** Halves of crew days with hours lost to the weather, one list item each. */
void html_weather_half_days(struct text *out, const struct page *page, const struct job_plan *job);

#endif
