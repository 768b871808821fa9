/* SPDX-License-Identifier: MIT */
/* The pieces that pages share: the frame, escaped words, signs, bars, reasons. Inside views only.
 */
#ifndef EMBERWAIT_VIEWS_HTML_H
#define EMBERWAIT_VIEWS_HTML_H

#include "views/page.h"
#include "views/says.h"
#include "views/stage.h"
#include "views/when.h"

/** What a page's frame needs besides the page. */
struct frame {
    const char *title;      /**< plain text */
    const char *style;      /**< static/css/page-<style>.css */
    bool noindex;           /**< ask search engines to keep out */
    bool paper;             /**< a page made to be printed: no header, no switch */
    bool yard_links;        /**< the way back to the owner's page */
    bool pictures;          /**< static/css/svg.css too: it draws svg_* pictures */
    const char *look_again; /**< an address the browser goes to by itself; NULL: none */
};

/** The head, the signs, and the top of the page with the as-of time. */
void html_open(struct text *out, const struct page *page, const struct frame *frame);
/** The foot and the end of the document. */
void html_close(struct text *out, const struct page *page, const struct frame *frame);

/** HTML as it is: our own tags only. */
#define RAW(out, html) text_add((out), (html), sizeof(html) - 1)
/** A word, escaped. */
void html_word(struct text *out, const struct page *page, enum word word);
/** A value's word, escaped. */
void html_of(struct text *out, const struct page *page, enum word_set set, int value);
/** A filled template, escaped: HTML_SAY(out, page, WORD_X, {"n", "3"}). */
#define HTML_SAY(out, page, word, ...)                                                             \
    html_fill((out), words_get((page)->words, (word)), (const struct word_arg[]){__VA_ARGS__},     \
              sizeof((const struct word_arg[]){__VA_ARGS__}) / sizeof(struct word_arg))
void html_fill(struct text *out, const char *template, const struct word_arg *args, size_t count);

/** By a job's wall clock. */
struct when html_when(const struct page *page, const struct zone *zone);

/** A heading: `<h2 id="…">word</h2>`. `level` is '1'..'4'. */
void html_heading(struct text *out, const struct page *page, char level, const char *id,
                  enum word word);
/** The sign of a task's state (a shape) and its words. */
void html_state(struct text *out, const struct page *page, enum task_state state);
/** The sign of a clock's state and its words. */
void html_clock_state(struct text *out, const struct page *page, enum clock_state state);
/** A plain bar with its figures: "27/48", read aloud as "27 of 48 warm hours". */
void html_bar(struct text *out, const struct page *page, double have, double need, enum unit unit);
/** One reason as an escaped sentence with the standing of its number. */
void html_reason(struct text *out, const struct page *page, const struct when *when,
                 const struct reason *reason);
/** All reasons of a date in a `<details>` whose summary holds the first one. */
void html_because(struct text *out, const struct page *page, const struct when *when,
                  const struct reason *because, size_t count);
/** The cautions of a job as a list with the check sign; nothing when there are none. */
void html_cautions(struct text *out, const struct page *page, const struct job_plan *job);
/** "Rests on: 44°F probe, Sat 6 am (24 h ago)" and "No reading since …" of a clock. */
void html_rests_on(struct text *out, const struct page *page, const struct when *when,
                   const struct clock_plan *clock);
/** Beside a date: that it rests on an old forecast, with the check sign. */
void html_forecast_old(struct text *out, const struct page *page, const struct when *when,
                       int64_t made_s);
/** The same beside the first fire's date, when one of the unit's counts rests on one. */
void html_fire_old(struct text *out, const struct page *page, const struct job_plan *job);
/** `<time datetime="…">phrase</time>`. */
void html_time(struct text *out, const struct zone *zone, int64_t at_s, struct phrase phrase);
/** "Call 555-0100" with a tel: link; nothing when the company has no phone. */
void html_phone(struct text *out, const struct page *page);
/** The shapes of the signs, once at the top of a page. */
void html_sprite(struct text *out);
/** The link to the same page in the other language. */
void html_language_switch(struct text *out, const struct page *page);
/** "As of Tue 6:31 am", with the word OLD for a script to show. */
void html_as_of(struct text *out, const struct page *page);
/** A hidden field of a form; NULL: none. `name` is ours. */
void html_hidden(struct text *out, const char *name, const char *value);
/** Percent-encode a path segment. */
void html_segment(struct text *out, const char *segment);

#endif
