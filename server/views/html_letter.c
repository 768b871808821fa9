/* SPDX-License-Identifier: MIT */
/*
 * A letter for a homeowner who reads paper: what the homeowner's page says, as of a date, with the
 * warning that paper goes stale. Only the date the owner gave, and only while the plan supports it.
 */
#include <math.h>

#include "views/html.h"
#include "views/html_qr.h"

#include "base/banned.h"

static void paragraph(struct text *out, const struct page *page, enum word word)
{
    RAW(out, "<p>");
    html_word(out, page, word);
    RAW(out, "</p>");
}

static void the_date(struct text *out, const struct page *page, const struct when *when,
                     const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    RAW(out, "<p class=\"the-date\">");
    if (fire->agreed_day == DAY_NONE) {
        html_word(out, page, WORD_HOME_NO_DATE);
    } else if (!fire->agreed_holds) {
        html_word(out, page, WORD_SAYS_CHECKING_DATE);
    } else {
        const struct phrase date = when_date(when, fire->agreed_day);
        HTML_SAY(out, page, WORD_SAYS_FIRST_FIRE, {"date", date.z});
    }
    RAW(out, "</p>");
    const struct clock_plan *dry = stage_clock(job, CLOCK_UNIT_DRY_CURE);
    if (dry == NULL || !isfinite(dry->have)) return;
    const struct phrase have = says_figure(dry->have), need = says_figure(dry->need);
    RAW(out, "<p>");
    HTML_SAY(out, page, WORD_MAIL_COUNTED, {"have", have.z}, {"need", need.z});
    RAW(out, "</p>");
}

void html_letter(struct text *out, const struct page *page, const struct job_plan *job,
                 const char *home_token)
{
    static const enum word please[] = {WORD_PLEASE_RAIN, WORD_PLEASE_AIR, WORD_PLEASE_WARM,
                                       WORD_PLEASE_WASH, WORD_PLEASE_MANTEL};
    const struct frame frame = {.title = words_get(page->words, WORD_LETTER_TITLE),
                                .style = "letter",
                                .noindex = true,
                                .paper = true};
    const struct when when = html_when(page, job->job->zone);
    const struct phrase today = when_date_of(&when, page->now_s);
    html_open(out, page, &frame);
    RAW(out, "<header><p><b>");
    text_html_z(out, page->company->name);
    RAW(out, "</b><br>");
    text_html_z(out, page->company->phone);
    RAW(out, "</p><p>");
    text_html_z(out, today.z);
    RAW(out, "</p></header><h1>");
    html_word(out, page, WORD_LETTER_TITLE);
    RAW(out, "</h1><p>");
    if (job->job->homeowner == NULL)
        html_word(out, page, WORD_MAIL_HELLO_NONE);
    else
        HTML_SAY(out, page, WORD_MAIL_HELLO, {"name", job->job->homeowner});
    RAW(out, "</p>");
    the_date(out, page, &when, job);
    paragraph(out, page, WORD_MAIL_UNCHANGED);
    paragraph(out, page, WORD_LETTER_PLEASE);
    RAW(out, "<ul>");
    for (size_t i = 0; i < sizeof please / sizeof *please; i++) {
        RAW(out, "<li>");
        html_word(out, page, please[i]);
        RAW(out, "</li>");
    }
    RAW(out, "</ul><p><b>");
    HTML_SAY(out, page, WORD_LETTER_STALE, {"date", today.z});
    RAW(out, "</b></p>");
    if (page->company->phone != NULL) {
        RAW(out, "<p>");
        HTML_SAY(out, page, WORD_MAIL_CALL, {"phone", page->company->phone});
        RAW(out, "</p>");
    }
    html_home_code(out, page, home_token);
    html_close(out, page, &frame);
}
