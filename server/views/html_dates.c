/* SPDX-License-Identifier: MIT */
/*
 * First fires to come, with what is left and what holds each back; and the dates that were given,
 * as they stand, with every one before.
 */
#include <math.h>

#include "views/html_screens.h"
#include "views/html_yard.h"

#include "base/banned.h"

enum { LEFT_SHOWN = 4 }; /* tasks named of a job; the job's page has them all */

static void heads(struct text *out, const struct page *page, const enum word *words, size_t count)
{
    RAW(out, "<thead><tr>");
    for (size_t i = 0; i < count; i++) {
        RAW(out, "<th scope=\"col\">");
        html_word(out, page, words[i]);
        RAW(out, "</th>");
    }
    RAW(out, "</tr></thead>");
}
#define HEADS(out, page, words) heads((out), (page), (words), sizeof(words) / sizeof *(words))

static void date_cell(struct text *out, const struct when *when, int32_t day)
{
    RAW(out, "<td>");
    text_html_z(out, when_date(when, day).z);
    RAW(out, "</td>");
}

static void left_cell(struct text *out, const struct page *page, const struct first_fire *fire)
{
    struct text list = TEXT_UP_TO(2000);
    size_t count = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        if ((fire->left >> t & 1u) == 0 || ++count > LEFT_SHOWN) continue;
        if (count > 1) text_add_z(&list, ", ");
        text_add_z(&list, words_of(page->words, WORD_SET_TASK, t));
    }
    RAW(out, "<td>");
    if (count > LEFT_SHOWN) {
        const struct phrase more = says_figure((double)(count - LEFT_SHOWN));
        HTML_SAY(out, page, WORD_TODAY_FIRST, {"task", text_z(&list)}, {"n", more.z});
    } else {
        text_html_z(out, text_z(&list));
    }
    RAW(out, "</td>");
    text_free(&list);
}

/* The years behind know when the drying is over, not that nobody lights it before the earliest. */
static int32_t not_before(int32_t day, int32_t earliest)
{
    return day != DAY_NONE && earliest != DAY_NONE && day < earliest ? earliest : day;
}

static void fire_row(struct text *out, const struct page *page, const struct first_fire *fire)
{
    const struct job_plan *job = fire->job;
    const struct when when = html_when(page, job->job->zone);
    RAW(out, "<tr><th scope=\"row\">");
    html_yard_job_link(out, job->job);
    RAW(out, "</th><td>");
    text_html_z(out, when_date(&when, fire->day).z);
    if (fire->projected && fire->day != DAY_NONE) {
        RAW(out, "<br><small>");
        html_word(out, page, WORD_FIRES_PROJECTED);
        RAW(out, "</small>");
    }
    RAW(out, "</td>");
    date_cell(out, &when, not_before(job->fire.likely_day, fire->day));
    date_cell(out, &when, not_before(job->fire.p90_day, fire->day));
    RAW(out, "<td>");
    text_add_z(out, job->fire.agreed_day != DAY_NONE && !job->fire.agreed_holds ? "<s>" : "<span>");
    text_html_z(out, when_date(&when, job->fire.agreed_day).z);
    text_add_z(out,
               job->fire.agreed_day != DAY_NONE && !job->fire.agreed_holds ? "</s>" : "</span>");
    if (job->fire.agreed_day == DAY_NONE && job->fire.promise_day != DAY_NONE) {
        RAW(out, "<br><small>");
        html_word(out, page, WORD_YARD_PROPOSED);
        RAW(out, ": ");
        text_html_z(out, when_date(&when, job->fire.promise_day).z);
        RAW(out, "</small>");
    }
    if (fire->thin) {
        RAW(out, "<br><b>");
        html_word(out, page, WORD_FIRES_THIN);
        RAW(out, "</b>");
    }
    RAW(out, "</td>");
    left_cell(out, page, fire);
    RAW(out, "<td>");
    if (fire->driver != NULL) html_reason(out, page, &when, fire->driver);
    RAW(out, "</td></tr>");
}

void html_first_fires(struct text *out, const struct page *page, const struct plan *plan)
{
    static const enum word words[] = {WORD_YARD_JOB,         WORD_YARD_EARLIEST,   WORD_YARD_LIKELY,
                                      WORD_YARD_NINE_IN_TEN, WORD_YARD_DATE_GIVEN, WORD_FIRES_LEFT,
                                      WORD_FIRES_HELD_BY};
    const struct frame frame = {
        .title = words_get(page->words, WORD_FIRES_TITLE), .style = "yard", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_FIRES_TITLE);
    RAW(out, "</h1>");
    if (plan->lists.first_fire_count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_FIRES_NONE);
        RAW(out, "</p>");
    } else {
        RAW(out, "<table class=\"fires\">");
        HEADS(out, page, words);
        RAW(out, "<tbody>");
        for (size_t i = 0; i < plan->lists.first_fire_count; i++)
            fire_row(out, page, &plan->lists.first_fires[i]);
        RAW(out, "</tbody></table>");
    }
    html_close(out, page, &frame);
}

/* Dates given before the one that stands, oldest first, with the reason that was given. */
static void earlier(struct text *out, const struct page *page, const struct when *when,
                    const struct job_plan *job)
{
    for (size_t i = 0; i < job->job->record_count; i++) {
        const struct record *r = &job->job->records[i];
        if (r->kind != RECORD_AGREED || r->at_s > page->now_s) continue;
        if (r->day == job->fire.agreed_day) continue;
        RAW(out, "<div><s>");
        text_html_z(out, when_date(when, r->day).z);
        RAW(out, "</s>");
        if (r->reason != NULL) {
            RAW(out, " ");
            text_html_z(out, r->reason);
        }
        RAW(out, "</div>");
    }
}

static void given_row(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct when when = html_when(page, job->job->zone);
    const struct fire_plan *fire = &job->fire;
    RAW(out, "<tr><th scope=\"row\">");
    html_yard_job_link(out, job->job);
    RAW(out, "</th><td>");
    text_html_z(out, job->job->homeowner);
    RAW(out, "</td><td>");
    text_add_z(out, fire->agreed_holds ? "<b>" : "<s>");
    text_html_z(out, when_date(&when, fire->agreed_day).z);
    text_add_z(out, fire->agreed_holds ? "</b> " : "</s> ");
    html_word(out, page, fire->agreed_holds ? WORD_DATES_STANDS : WORD_DATES_WITHDRAWN);
    RAW(out, "</td>");
    date_cell(out, &when, fire->cure_complete_day);
    RAW(out, "<td>");
    earlier(out, page, &when, job);
    RAW(out, "</td><td><a href=\"/jobs/");
    html_segment(out, job->job->id);
    RAW(out, "/tell\">");
    html_word(out, page, WORD_TELL_TITLE);
    RAW(out, "</a></td></tr>");
}

void html_dates(struct text *out, const struct page *page, const struct plan *plan)
{
    static const enum word words[] = {WORD_DATES_JOB,      WORD_DATES_WHO, WORD_DATES_NOW,
                                      WORD_DATES_COMPUTED, WORD_DATES_WAS, WORD_TELL_TITLE};
    const struct frame frame = {
        .title = words_get(page->words, WORD_DATES_TITLE), .style = "yard", .yard_links = true};
    size_t count = 0;
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_DATES_TITLE);
    RAW(out, "</h1>");
    for (int pass = 0; pass < 2; pass++) { /* those that no longer stand first */
        for (size_t i = 0; i < plan->job_count; i++) {
            const struct job_plan *job = &plan->jobs[i];
            if (job->fire.agreed_day == DAY_NONE || job->fire.agreed_holds != (pass == 1)) continue;
            if (count++ == 0) {
                RAW(out, "<table class=\"fires\">");
                HEADS(out, page, words);
                RAW(out, "<tbody>");
            }
            given_row(out, page, job);
        }
    }
    if (count > 0) {
        RAW(out, "</tbody></table>");
    } else {
        RAW(out, "<p>");
        html_word(out, page, WORD_DATES_NONE);
        RAW(out, "</p>");
    }
    html_close(out, page, &frame);
}
