/* SPDX-License-Identifier: MIT */
/*
 * The crew's phone at 6:45: for each job how to get in, what to do, what not to do, the working
 * hours' weather and what to leave behind, in that order; then what to load and how old all this
 * is. A task is one big thing to tap and opens its panel (html_crew_panels.c). The page has its own
 * head and one style sheet of its own, because each further request costs a slow line most of a
 * second. No price, no homeowner's phone, nothing that needs a password.
 */
#include <string.h>

#include "views/crew_load.h"
#include "views/html_alarms.h"
#include "views/html_crew_panels.h"
#include "views/html_weather.h"

#include "base/banned.h"

static void head(const struct crew_page *day, const char *name)
{
    struct text *out = day->out;
    text_print(out, "<!doctype html>\n<html lang=\"%s\"><head><meta charset=\"utf-8\">",
               words_language(day->page->words));
    RAW(out, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
             "<link rel=\"stylesheet\" href=\"/static/css/page-crew.css\">"
             "<meta name=\"robots\" content=\"noindex, nofollow\">"
             "<meta name=\"referrer\" content=\"no-referrer\"><title>");
    html_word(out, day->page, WORD_CREW_TITLE);
    RAW(out, ": ");
    text_html_z(out, name);
    RAW(out, "</title><link rel=\"icon\" href=\"/static/icon.svg\" type=\"image/svg+xml\">");
    RAW(out, "</head><body class=\"crew\">");
    html_sprite(out);
}

static void top(const struct crew_page *day, const char *name)
{
    struct text *out = day->out;
    const struct page *page = day->page;
    struct when when = html_when(page, page->company->zone);
    RAW(out, "<a class=\"skip\" href=\"#main\">");
    html_word(out, page, WORD_PAGE_SKIP);
    RAW(out, "</a><header class=\"top\"><p><b>");
    text_html_z(out, name);
    RAW(out, "</b><br>");
    text_html_z(out, when_date_of(&when, page->now_s).z);
    RAW(out, "</p>");
    html_language_switch(out, page);
    RAW(out, "</header>");
}

/* One task of the list: all of it is the thing to tap. */
static void one_task(const struct crew_page *day, size_t n, const struct job_plan *job,
                     const struct task_plan *task)
{
    struct text *out = day->out;
    struct when when = html_when(day->page, job->job->zone);
    const char *id = task_ids.ids[task->task];
    text_print(out, "<li><a class=\"task\" data-task=\"%s\" href=\"#j%zu-%s\"><b>", id, n, id);
    html_of(out, day->page, WORD_SET_TASK, (int)task->task);
    RAW(out, "</b> ");
    html_crew_task_state(out, day->page, &when, task);
    RAW(out, " <span>");
    HTML_SAY(out, day->page, WORD_CREW_CHECK,
             {"check", words_of(day->page->words, WORD_SET_CHECK, (int)task->task)});
    RAW(out, "</span>");
    html_weather_measures_short(out, day->page, task);
    const uint64_t materials = crew_load_materials(task->task);
    if (materials != 0) {
        struct text list = TEXT_UP_TO(2000);
        html_crew_list(&list, day->page, WORD_SET_MATERIAL, materials);
        RAW(out, " <span class=\"bring\">");
        html_crew_bring(out, day->page, text_z(&list));
        RAW(out, "</span>");
        text_free(&list);
    }
    RAW(out, "</a></li>");
}

static void do_list(const struct crew_page *day, size_t n, const struct job_plan *job)
{
    struct text *out = day->out;
    const struct task_plan *tasks[CREW_DO_MAX];
    const size_t count = crew_day_do(day->page, day->plan, day->crew, job, tasks);
    bool mixes = false;
    RAW(out, "<section class=\"do-list\"><h3>");
    html_word(out, day->page, WORD_CREW_DO);
    RAW(out, "</h3>");
    if (count == 0) {
        RAW(out, "<p>");
        html_word(out, day->page, WORD_CREW_NOTHING);
        RAW(out, "</p>");
    } else {
        RAW(out, "<ol class=\"do\">");
        for (size_t i = 0; i < count; i++) {
            one_task(day, n, job, tasks[i]);
            mixes = mixes || crew_day_mixes(tasks[i]->task);
        }
        RAW(out, "</ol>");
    }
    if (mixes) html_crew_bag(out, day->page, job);
    RAW(out, "</section>");
}

static void section(const struct crew_page *day, enum word title,
                    void (*body)(struct text *, const struct page *, const struct job_plan *),
                    const struct job_plan *job)
{
    RAW(day->out, "<section><h3>");
    html_word(day->out, day->page, title);
    RAW(day->out, "</h3>");
    body(day->out, day->page, job);
    RAW(day->out, "</section>");
}

/* What the thumb reaches, at the foot of the screen while this job is on it. */
static void bar(const struct crew_page *day, size_t n, const struct job_plan *job)
{
    struct text *out = day->out;
    RAW(out, "<nav class=\"bar\" aria-label=\"");
    text_html_z(out, job->job->name == NULL ? job->job->id : job->job->name);
    text_print(out, "\"><a href=\"#j%zu-reading\">", n);
    html_word(out, day->page, WORD_CREW_TEMPERATURE);
    text_print(out, "</a><a href=\"#j%zu-wrong\">", n);
    html_word(out, day->page, WORD_CREW_SOMETHING_WRONG);
    RAW(out, "</a>");
    html_crew_boss(out, day->page);
    RAW(out, "</nav>");
}

static void one_job(const struct crew_page *day, size_t n, const struct job_plan *job)
{
    struct text *out = day->out;
    text_print(out, "<article id=\"j%zu\" data-job=\"", n);
    text_html_z(out, job->job->id);
    RAW(out, "\">");
    html_crew_head(out, job->job);
    do_list(day, n, job);
    RAW(out, "<section class=\"do-not\"><h3>");
    html_word(out, day->page, WORD_CREW_DO_NOT);
    RAW(out, "</h3>");
    html_crew_do_not(out, day->page, job);
    RAW(out, "</section>");
    html_cautions(out, day->page, job);
    section(day, WORD_CREW_WEATHER, html_crew_weather, job);
    section(day, WORD_CREW_BEFORE_LEAVE, html_crew_leave, job);
    text_print(out, "<p><a class=\"big\" href=\"#j%zu-shelter\">", n);
    html_word(out, day->page, WORD_CREW_COVER);
    RAW(out, "</a></p>");
    bar(day, n, job);
    RAW(out, "</article>");
}

static void tools(const struct crew_page *day, const struct job_plan *const *jobs, size_t count)
{
    uint64_t all = 0;
    for (size_t i = 0; i < count; i++) {
        const struct task_plan *tasks[CREW_DO_MAX];
        const size_t n = crew_day_do(day->page, day->plan, day->crew, jobs[i], tasks);
        for (size_t t = 0; t < n; t++) all |= crew_load_tools(tasks[t]->task);
    }
    if (all == 0) return;
    RAW(day->out, "<section><h3>");
    html_word(day->out, day->page, WORD_CREW_TOOLS);
    struct text list = TEXT_UP_TO(4000);
    html_crew_list(&list, day->page, WORD_SET_TOOL, all);
    RAW(day->out, "</h3><p>");
    text_html_z(day->out, text_z(&list));
    RAW(day->out, "</p></section>");
    text_free(&list);
}

static void foot(const struct crew_page *day)
{
    struct text *out = day->out;
    RAW(out, "<section><h3>");
    html_word(out, day->page, WORD_PAGE_CAUTIONS);
    RAW(out, "</h3>");
    html_crew_safety(out, day->page);
    RAW(out, "</section>");
    html_as_of(out, day->page);
    RAW(out, "<p>");
    html_word(out, day->page, WORD_PAGE_MAY_CHANGE);
    RAW(out, "</p><p><a class=\"big\" href=\"#mine\">");
    html_word(out, day->page, WORD_CREW_MINE);
    RAW(out, "</a></p><p><a class=\"big\" href=\"/c/");
    html_segment(out, day->token);
    RAW(out, "/sheet\">");
    html_word(out, day->page, WORD_CREW_SHEET);
    RAW(out, "</a></p>");
}

void html_crew(struct text *out, const struct page *page, const struct plan *plan,
               const struct crew *crew, const char *token)
{
    const struct job_plan *jobs[CREW_JOBS_MAX];
    const char *name = crew->name == NULL ? crew->id : crew->name;
    struct text action = TEXT_UP_TO(1000);
    text_add_z(&action, "/c/");
    html_segment(&action, token);
    text_add_z(&action, "/records");
    struct crew_page day = {.out = out, .page = page, .plan = plan, .crew = crew, .token = token};
    day.action = text_z(&action);
    const size_t count = crew_day_jobs(page, plan, crew, jobs);
    head(&day, name);
    top(&day, name);
    html_crew_says(&day);
    RAW(out, "<main id=\"main\" data-base=\"/c/");
    html_segment(out, token);
    RAW(out, "\"><div id=\"state\"></div><div id=\"says\" role=\"status\" aria-live=\"polite\">"
             "</div><div id=\"page\"><h1 class=\"unseen\">");
    html_word(out, page, WORD_CREW_TITLE);
    RAW(out, "</h1><div class=\"day\">");
    if (page->notice != WORD_COUNT) {
        RAW(out, "<p class=\"notice\" role=\"status\">");
        html_word(out, page, page->notice);
        RAW(out, "</p>");
    }
    html_alarms(out, page, plan, crew, token, NULL);
    for (size_t i = 0; i < count; i++) one_job(&day, i + 1, jobs[i]);
    if (count == 0) {
        RAW(out, "<p class=\"job-name\">");
        html_word(out, page, WORD_CREW_NO_JOBS);
        RAW(out, "</p>");
        html_crew_boss(out, page);
    }
    tools(&day, jobs, count);
    foot(&day);
    RAW(out, "</div>");
    for (size_t i = 0; page->forms && i < count; i++) html_crew_panels(&day, i + 1, jobs[i]);
    html_crew_mine(&day);
    /* Last and apart, so that on a slow line nothing comes between the words and their style. */
    RAW(out,
        "</div></main><script type=\"module\" src=\"/static/js/crew.js\" fetchpriority=\"low\">"
        "</script></body></html>\n");
    text_free(&action);
}
