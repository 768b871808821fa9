/* SPDX-License-Identifier: MIT */
/* The forms of the job page, one per group of events, and what forms share. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_FORMS_H
#define EMBERWAIT_VIEWS_HTML_FORMS_H

#include "views/html.h"

/** The form being written. */
struct form_out {
    struct text *out;
    const struct page *page;
    const struct job_plan *job;
    const char *name;       /**< posted as `form` */
    char level;             /**< of its heading, '2' or '3'; 0: '3' */
    const char *try_action; /**< where "Try it" posts to; NULL: no such button */
};

/** `<form …>` with its hidden fields and heading. `action` is the path it posts to. */
void html_form_open(struct form_out *form, const char *action, enum word title, unsigned serial);
/** The faults of this form, the button, and the end. */
void html_form_close(struct form_out *form, enum word button);
/** A choice out of a vocabulary; bit n of `shown` shows value n. `first` is preset; -1: empty. */
void html_form_choice(struct form_out *form, const char *field, enum word label, enum word_set set,
                      const struct id_table *table, uint64_t shown, int first);
/** A typed field: `type` is text, date, number or datetime-local. `value` presets it; may be NULL.
 */
void html_form_input(struct form_out *form, const char *field, enum word label, const char *type,
                     const char *value);
/** A tick box. */
void html_form_tick(struct form_out *form, const char *field, enum word label);
/** F or C, F preset. */
void html_form_scale(struct form_out *form);
/** When (wall clock of the job; empty means now) and who. */
void html_form_when_by(struct form_out *form);
/** A hidden field. */
void html_form_hidden(struct form_out *form, const char *field, const char *value);

/** All forms of the job page. */
void html_forms_job(struct text *out, const struct page *page, const struct job_plan *job);
/** Whether the page shows this form again because it was refused. */
bool html_form_echoes(const struct form_out *form);
/** What was typed into a field of a refused form; NULL. */
const char *html_form_typed(const struct form_out *form, const char *field);
/** The fault of a field of a refused form; NULL. */
const struct fault *html_form_fault(const struct form_out *form, const char *field);
/** The id of the record a form makes: a version 4 UUID [rfc9562] from the page's seed. */
void html_form_id(struct text *out, const struct page *page, unsigned serial);

#endif
