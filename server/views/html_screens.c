/* SPDX-License-Identifier: MIT */
/* Why: the owner's screens that show one list whole: pads, tonight, what to call in, all jobs. */
#include "views/html_screens.h"

#include "views/html_yard.h"

#include "base/banned.h"

static void begin(struct text *out, const struct page *page, enum word title)
{
    const struct frame frame = {
        .title = words_get(page->words, title), .style = "yard", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, title);
    RAW(out, "</h1>");
}

static void end(struct text *out, const struct page *page)
{
    const struct frame frame = {.style = "yard", .yard_links = true};
    html_close(out, page, &frame);
}

void html_pads(struct text *out, const struct page *page, const struct plan *plan)
{
    begin(out, page, WORD_NAV_PADS);
    html_yard_pads(out, page, plan);
    html_yard_pours(out, page, plan);
    end(out, page);
}

void html_tonight(struct text *out, const struct page *page, const struct plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->job_count; i++) count += plan->jobs[i].tonight_count;
    begin(out, page, WORD_NAV_TONIGHT);
    html_yard_tonight(out, page, plan);
    if (count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</p>");
    }
    html_yard_half_days(out, page, plan);
    end(out, page);
}

void html_jobs(struct text *out, const struct page *page, const struct plan *plan)
{
    begin(out, page, WORD_NAV_JOBS);
    RAW(out, "<p><a href=\"/jobs/new\">");
    html_word(out, page, WORD_JOBS_NEW);
    RAW(out, "</a></p>");
    html_yard_jobs(out, page, plan);
    end(out, page);
}

static void call_row(struct text *out, const struct page *page, const struct call_in *call)
{
    const struct when when = html_when(page, call->job->job->zone);
    const struct phrase by = when_day_time(&when, call->request_by_s);
    const struct phrase visit = when_date(&when, call->visit_day);
    RAW(out, "<li>");
    html_yard_job_link(out, call->job->job);
    RAW(out, ": <b>");
    html_of(out, page, WORD_SET_TASK, (int)call->task);
    RAW(out, "</b>");
    if (call->request_by_s != INSTANT_NONE) {
        RAW(out, " <b>");
        HTML_SAY(out, page, WORD_YARD_CALL_BY, {"time", by.z});
        RAW(out, "</b>");
    }
    if (call->inspector != NULL) {
        RAW(out, " ");
        text_html_z(out,
                    call->inspector->name == NULL ? call->inspector->id : call->inspector->name);
        if (call->inspector->phone != NULL) {
            RAW(out, ", ");
            text_html_z(out, call->inspector->phone);
        }
    }
    RAW(out, ", ");
    HTML_SAY(out, page, WORD_CALL_VISIT, {"date", visit.z});
    for (int t = 0; t < TASK_COUNT; t++) {
        if ((call->releases >> t & 1u) == 0) continue;
        RAW(out, "<br><span class=\"aside\">");
        HTML_SAY(out, page, WORD_YARD_CALL_RELEASES,
                 {"task", words_of(page->words, WORD_SET_TASK, t)});
        RAW(out, "</span>");
    }
    if (call->missed_s != INSTANT_NONE) {
        const struct phrase missed = when_day_time(&when, call->missed_s);
        const struct phrase days = says_figure(call->cost_days);
        const struct phrase last = says_figure(call->end_cost_days);
        RAW(out, "<br><b>");
        HTML_SAY(out, page, WORD_CALL_MISSED, {"time", missed.z}, {"days", days.z},
                 {"end", last.z});
        RAW(out, "</b>");
    }
    RAW(out, "</li>");
}

void html_call_in(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct plan_lists *lists = &plan->lists;
    begin(out, page, WORD_CALL_TITLE);
    for (int later = 0; later <= 1; later++) {
        size_t count = 0;
        for (size_t i = 0; i < lists->call_in_count; i++) {
            if (lists->call_ins[i].today == (later == 1)) continue;
            if (count++ == 0) {
                RAW(out, "<section>");
                html_heading(out, page, '2', later ? "later" : "today",
                             later ? WORD_CALL_LATER : WORD_YARD_CALL_IN);
                RAW(out, "<ul class=\"rows\">");
            }
            call_row(out, page, &lists->call_ins[i]);
        }
        if (count > 0) RAW(out, "</ul></section>");
    }
    if (lists->call_in_count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_CALL_NONE);
        RAW(out, "</p>");
    }
    end(out, page);
}
