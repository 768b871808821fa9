/* SPDX-License-Identifier: MIT */
/* An hour strip in words: its title, its sums, its key, and the same pieces as a table. */
#ifndef EMBERWAIT_VIEWS_SVG_HOUR_TABLE_H
#define EMBERWAIT_VIEWS_SVG_HOUR_TABLE_H

#include "views/page.h"

/** So many days that hours cannot be told apart: each day is drawn as one. */
bool svg_hour_dense(const struct part_strip *strip);
/** "Pad: hour by hour". */
void svg_hour_title(struct text *out, const struct page *page, const struct part_plan *part);
/** "So far 12 h in full, 6 h nothing: 15.4 of 48 warm hours", with the title before it, in bold. */
void svg_hour_sums(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct part_plan *part);
/** The picture as sentences, for those who cannot see it. */
void svg_hour_says(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct part_plan *part);
/** What each shape and line means; only those that are drawn. */
void svg_hour_key(struct text *out, const struct page *page, const struct part_plan *part);
/** What the picture leaves out, what its band is made of, and how far the station can be trusted.
 */
void svg_hour_notes(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part);
/** The pieces in a `<details>`: when, what they counted and why, how warm, resting on what. */
void svg_hour_table(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct part_plan *part);

/**
 * Path commands of one stretch of hours. Full: solid. Part: the lower half. Nothing: a line along
 * the foot. No reading: a crossed-out frame. Stopped: bars across.
 * Assumed: an empty frame.
 */
void svg_hour_shape(struct text *out, enum hour_class hour, int x, int wide);

/** A title with `{what}` in it, its first letter a capital. */
void svg_capital(struct text *out, const struct page *page, enum word word, const char *what);

/** A word cut to three letters: "Tue", "mié". */
void svg_short(struct text *out, const char *word);

/** A weekday cut short, with the day of the month: "Tue 20". */
void svg_day_name(struct text *out, const struct words *words, int32_t day);

#endif
