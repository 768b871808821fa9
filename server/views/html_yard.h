/* SPDX-License-Identifier: MIT */
/* Sections of the owner's page that stand in a file of their own. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_YARD_H
#define EMBERWAIT_VIEWS_HTML_YARD_H

#include "views/html.h"

/** The job's name as a link to its page. */
void html_yard_job_link(struct text *out, const struct job *job);
/** A row of "dates that moved": was, now, and what moved it. */
void html_yard_change(struct text *out, const struct page *page, const struct date_change *change);
/** Pads: when each opens, its figures, what they rest on. */
void html_yard_pads(struct text *out, const struct page *page, const struct plan *plan);
/** Pads on the morning's one screen: a line each. */
void html_today_pads(struct text *out, const struct page *page, const struct plan *plan);
/** All jobs, the one to look at first at the top. */
void html_yard_jobs(struct text *out, const struct page *page, const struct plan *plan);
/** What the night can spoil. Nothing when there is nothing green out of doors. */
void html_yard_tonight(struct text *out, const struct page *page, const struct plan *plan);
/** Pads that could be poured, with the nights and the rain ahead. Nothing when there is none. */
void html_yard_pours(struct text *out, const struct page *page, const struct plan *plan);
/** Halves of crew days with hours lost to the weather, for builders' claims. Nothing when none. */
void html_yard_half_days(struct text *out, const struct page *page, const struct plan *plan);

#endif
