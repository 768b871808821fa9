/* SPDX-License-Identifier: MIT */
/*
 * The first fires on paper, to hang beside the fireplace: large print, boxes to tick, the signs to
 * stop at and whom to call. It carries no date of a fire: paper goes stale, and only the people
 * who hand it over say when.
 */
#include "views/html_home.h"

#include "base/banned.h"

static void head(struct text *out, const struct page *page, const struct job *job)
{
    RAW(out, "<header><p><b>");
    text_html_z(out, page->company->name);
    RAW(out, "</b></p><p>");
    text_html_z(out, job->homeowner);
    RAW(out, "</p></header><h1>");
    html_word(out, page, WORD_FIRE_SHEET_TITLE);
    RAW(out, "</h1><p class=\"big\">");
    html_word(out, page, WORD_FIRE_SHEET_BIG);
    RAW(out, "</p><p>");
    html_word(out, page, WORD_FIRE_SHEET_WITH_US);
    RAW(out, "</p>");
}

void html_fire_sheet(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct frame frame = {.title = words_get(page->words, WORD_FIRE_SHEET_TITLE),
                                .style = "fire-sheet",
                                .noindex = true,
                                .paper = true};
    const struct when when = html_when(page, job->job->zone);
    const struct phrase today = when_date_of(&when, page->now_s);
    html_open(out, page, &frame);
    head(out, page, job->job);
    html_home_fires(out, page, job);
    html_home_care(out, page);
    RAW(out, "<section class=\"call\">");
    html_heading(out, page, '2', "call", WORD_HOME_CALL);
    RAW(out, "<p class=\"number\">");
    if (page->company->phone == NULL)
        html_word(out, page, WORD_HOME_CALL_NONE);
    else
        html_phone(out, page);
    RAW(out, "</p><p>");
    HTML_SAY(out, page, WORD_FIRE_SHEET_STALE, {"date", today.z});
    RAW(out, "</p></section>");
    html_close(out, page, &frame);
}
