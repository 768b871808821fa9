/* SPDX-License-Identifier: MIT */
/*
 * Paper: the do-not-light tag and the day sheet. Paper goes stale, so the tag carries no date and
 * the sheet says when it was printed.
 */
#include "views/crew_day.h"
#include "views/html.h"
#include "views/html_crew.h"
#include "views/html_qr.h"

#include "base/banned.h"

enum { SHEET_LINES = 3, SHEET_LINES_SHARED = 2 /* several sites, one page */ };

static void tag_half(struct text *out, const struct words *words)
{
    static const enum word lines[] = {WORD_TAG_WHY, WORD_TAG_STORE};
    text_print(out, "<section lang=\"%s\"><h1>", words_language(words));
    text_html_z(out, words_get(words, WORD_TAG_BIG));
    RAW(out, "</h1><p class=\"permission\">");
    text_html_z(out, words_get(words, WORD_TAG_PERMISSION));
    RAW(out, "</p>");
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        RAW(out, "<p>");
        text_html_z(out, words_get(words, lines[i]));
        RAW(out, "</p>");
    }
    RAW(out, "</section>");
}

void html_tag(struct text *out, const struct page *page, const struct words *second,
              const struct job_plan *job, const char *home_token)
{
    struct frame frame = {.title = words_get(page->words, WORD_TAG_TITLE),
                          .style = "tag",
                          .noindex = true,
                          .paper = true};
    html_open(out, page, &frame);
    tag_half(out, page->words);
    tag_half(out, second);
    RAW(out, "<section class=\"call\">");
    if (page->company->phone != NULL) {
        RAW(out, "<p class=\"number\">");
        text_html_z(out, page->company->phone);
        RAW(out, "</p>");
    }
    if (page->company->name != NULL) {
        RAW(out, "<p>");
        text_html_z(out, page->company->name);
        RAW(out, "</p>");
    }
    if (home_token != NULL && page->base_url != NULL) {
        struct text url = TEXT_UP_TO(2000);
        text_add_z(&url, page->base_url);
        text_add_z(&url, "/h/");
        html_segment(&url, home_token);
        RAW(out, "<figure>");
        html_qr(out, page, text_z(&url));
        RAW(out, "<figcaption>");
        html_word(out, page, WORD_TAG_SCAN);
        RAW(out, " / ");
        text_html_z(out, words_get(second, WORD_TAG_SCAN));
        RAW(out, "</figcaption></figure>");
        text_free(&url);
    }
    RAW(out, "<p class=\"line\">");
    html_word(out, page, WORD_TAG_INITIALS);
    RAW(out, " / ");
    text_html_z(out, words_get(second, WORD_TAG_INITIALS));
    RAW(out, "</p><p class=\"small\">");
    text_html_z(out, job->job->name == NULL ? job->job->id : job->job->name);
    RAW(out, "</p></section>");
    html_close(out, page, &frame);
}

static void write_lines(struct text *out, const struct page *page, enum word head, int lines)
{
    RAW(out, "<p class=\"lines-head\">");
    html_word(out, page, head);
    RAW(out, "</p>");
    for (int i = 0; i < lines; i++) RAW(out, "<p class=\"line\">&nbsp;</p>");
}

/* One station speaks for all jobs of the sheet: its weather is printed once. */
static bool one_sky(const struct job_plan *const *jobs, size_t count)
{
    for (size_t i = 1; i < count; i++)
        if (jobs[i]->job->station != jobs[0]->job->station) return false;
    return count > 1;
}

static void sheet_job(struct text *out, const struct page *page, const struct plan *plan,
                      const struct crew *crew, const struct job_plan *job, bool weather)
{
    RAW(out, "<article>");
    html_crew_head(out, job->job);
    RAW(out, "<div class=\"two\"><div><h3>");
    html_word(out, page, WORD_CREW_DO);
    RAW(out, "</h3>");
    html_crew_do(out, page, plan, crew, job);
    RAW(out, "</div><div><div class=\"do-not\"><h3>");
    html_word(out, page, WORD_CREW_DO_NOT);
    RAW(out, "</h3>");
    html_crew_do_not(out, page, job);
    RAW(out, "</div><h3>");
    html_word(out, page, WORD_CREW_BEFORE_LEAVE);
    RAW(out, "</h3>");
    html_crew_leave(out, page, job);
    RAW(out, "</div></div>");
    if (weather) html_crew_weather(out, page, job);
    RAW(out, "</article>");
}

void html_day_sheet(struct text *out, const struct page *page, const struct plan *plan,
                    const struct crew *crew, const struct job_plan *job)
{
    struct frame frame = {.title = words_get(page->words, WORD_SHEET_TITLE),
                          .style = "sheet",
                          .noindex = true,
                          .paper = true};
    const struct job_plan *jobs[CREW_JOBS_MAX] = {job};
    size_t count = crew == NULL ? 1 : crew_day_jobs(page, plan, crew, jobs);
    struct when when = html_when(page, page->company->zone);
    struct phrase now = when_day_time(&when, page->now_s);
    struct phrase date = when_date_of(&when, page->now_s);
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_SHEET_TITLE);
    RAW(out, ", ");
    text_html_z(out, date.z);
    if (crew != NULL) {
        RAW(out, " <small>");
        text_html_z(out, crew->name == NULL ? crew->id : crew->name);
        RAW(out, "</small>");
    }
    RAW(out, "</h1><p class=\"small\">");
    HTML_SAY(out, page, WORD_SHEET_PAPER, {"time", now.z});
    RAW(out, " ");
    html_word(out, page, WORD_SAYS_NOT_PERMISSION);
    RAW(out, "</p>");
    const bool once = one_sky(jobs, count);
    if (once) html_crew_weather(out, page, jobs[0]);
    for (size_t i = 0; i < count && jobs[i] != NULL; i++)
        sheet_job(out, page, plan, crew, jobs[i], !once);
    if (count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_CREW_NO_JOBS);
        RAW(out, "</p>");
    }
    const int lines = count > 1 ? SHEET_LINES_SHARED : SHEET_LINES;
    write_lines(out, page, WORD_SHEET_READINGS, lines);
    write_lines(out, page, WORD_SHEET_TIMES, lines);
    html_crew_safety(out, page);
    html_close(out, page, &frame);
}
