/* SPDX-License-Identifier: MIT */
/*
 * The owner's morning on one screen: every question of the kitchen table with its short answer,
 * each heading leading to the page that has all of it. Lists are cut, and say by how much; nothing
 * that somebody has to do today is cut.
 */
#include "compute/civil.h"
#include "views/change_json.h"
#include "views/html_alarms.h"
#include "views/html_screens.h"
#include "views/html_weather.h"
#include "views/html_yard.h"

#include "base/banned.h"

enum { HOUR_S = 3600, ROWS = 5 };

/* --- pieces -------------------------------------------------------------------------------- */

static void open_block(struct text *out, const struct page *page, const char *href, enum word word,
                       size_t count)
{
    RAW(out, "<section><h2>");
    if (href != NULL) text_print(out, "<a href=\"%s\">", href);
    html_word(out, page, word);
    if (href != NULL) RAW(out, "</a>");
    if (count > 0) {
        RAW(out, " <small>");
        text_integer(out, (int64_t)count);
        RAW(out, "</small>");
    }
    RAW(out, "</h2><ul class=\"rows\">");
}

static void close_block(struct text *out, const struct page *page, const char *href, size_t count)
{
    if (count > ROWS) {
        const struct phrase more = says_figure((double)(count - ROWS));
        text_print(out, "<li><a href=\"%s\">", href);
        HTML_SAY(out, page, WORD_TODAY_MORE, {"n", more.z});
        RAW(out, "</a></li>");
    }
    if (count == 0) {
        RAW(out, "<li>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
}

/* --- people and dates ---------------------------------------------------------------------- */

static void owed(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct plan_lists *lists = &plan->lists;
    open_block(out, page, "/dates", WORD_YARD_OWED, lists->owed_count);
    for (size_t i = 0; i < lists->owed_count && i < ROWS; i++) {
        const struct owed_call *call = &lists->owed[i];
        const struct when when = html_when(page, call->job->job->zone);
        const struct phrase told = when_date(&when, call->told_day);
        const struct phrase now = when_date(&when, call->now_day);
        RAW(out, "<li>");
        html_yard_job_link(out, call->job->job);
        RAW(out, " ");
        if (call->task != TASK_NONE) {
            html_of(out, page, WORD_SET_TASK, (int)call->task);
            RAW(out, ". ");
        }
        HTML_SAY(out, page, WORD_YARD_OWED_SAYS, {"date", told.z});
        if (call->now_day != DAY_NONE) {
            RAW(out, " ");
            HTML_SAY(out, page, WORD_YARD_OWED_NEW, {"date", now.z});
        }
        if (call->task == TASK_NONE) {
            RAW(out, " <a href=\"/jobs/");
            html_segment(out, call->job->job->id);
            RAW(out, "/tell\">");
            html_word(out, page, WORD_TELL_TITLE);
            RAW(out, "</a>");
        }
        RAW(out, "</li>");
    }
    close_block(out, page, "/dates", lists->owed_count);
}

static void moved(struct text *out, const struct page *page, const struct date_change *changes,
                  size_t count)
{
    open_block(out, page, NULL, WORD_YARD_CHANGED, count);
    for (size_t i = 0; i < count; i++) html_yard_change(out, page, &changes[i]);
    close_block(out, page, "/", count == 0 ? 0 : 1);
}

/* --- crews --------------------------------------------------------------------------------- */

/* The visits of a day: each place with its first task and how many more there are. */
static void visits(struct text *out, const struct page *page, const struct crew_day *day)
{
    for (size_t w = 0; w < day->work_count;) {
        const struct crew_work *first = &day->work[w];
        const struct when when = html_when(page, first->job->zone);
        size_t more = 0;
        while (w + more + 1 < day->work_count && day->work[w + more + 1].job == first->job) more++;
        RAW(out, "<div>");
        html_time(out, first->job->zone, first->start_s, when_clock(&when, first->start_s));
        RAW(out, " ");
        html_yard_job_link(out, first->job);
        RAW(out, ": ");
        const char *task = words_of(page->words, WORD_SET_TASK, (int)first->task);
        const struct phrase n = says_figure((double)more);
        if (more == 0)
            text_html_z(out, task);
        else
            HTML_SAY(out, page, WORD_TODAY_FIRST, {"task", task}, {"n", n.z});
        RAW(out, "</div>");
        w += more + 1;
    }
}

static void day_line(struct text *out, const struct page *page, const struct crew_day *day)
{
    double work_h = 0;
    for (size_t w = 0; w < day->work_count; w++)
        work_h += (double)(day->work[w].finish_s - day->work[w].start_s) / HOUR_S;
    const struct phrase drive = says_figure(day->drive_h), work = says_figure(work_h);
    RAW(out, "<p class=\"aside\">");
    HTML_SAY(out, page, WORD_TODAY_CREW_DAY, {"drive", drive.z}, {"work", work.z});
    if (day->load != 0) {
        struct text list = TEXT_UP_TO(2000);
        for (int load = 0; load < CREW_LOAD_COUNT; load++) {
            if ((day->load >> load & 1u) == 0) continue;
            if (list.length > 0) text_add_z(&list, ", ");
            text_add_z(&list, words_of(page->words, WORD_SET_LOAD, load));
        }
        RAW(out, ". ");
        HTML_SAY(out, page, WORD_TODAY_LOAD, {"list", text_z(&list)});
        text_free(&list);
    }
    RAW(out, "</p>");
}

static void free_line(struct text *out, const struct page *page, const struct crew_day *day,
                      const struct zone *zone)
{
    if (day->free_h <= 0) return;
    const struct when when = html_when(page, zone);
    const struct phrase hours = says_figure(day->free_h);
    const struct phrase from = when_clock(&when, day->free_from_s);
    struct text list = TEXT_UP_TO(2000);
    for (size_t i = 0; i < day->could_count && i < ROWS; i++) {
        const struct job *job = day->could[i].job;
        if (i > 0) text_add_z(&list, "; ");
        text_add_z(&list, job->name == NULL ? job->id : job->name);
        text_add_z(&list, ", ");
        text_add_z(&list, words_of(page->words, WORD_SET_TASK, (int)day->could[i].task));
    }
    if (list.length == 0) text_add_z(&list, words_get(page->words, WORD_PAGE_NONE));
    RAW(out, "<p class=\"aside\">");
    HTML_SAY(out, page, WORD_TODAY_FREE, {"hours", hours.z}, {"time", from.z},
             {"list", text_z(&list)});
    RAW(out, "</p>");
    text_free(&list);
}

static void crews(struct text *out, const struct page *page, const struct plan *plan)
{
    const int32_t today = civil_day_of(page->company->zone, page->now_s);
    open_block(out, page, "/weeks", WORD_YARD_WHO_WHERE, 0);
    for (size_t c = 0; c < plan->crew_count; c++) {
        const struct crew_plan *crew = &plan->crews[c];
        const struct crew_day *day = crew->day_count == 0 ? NULL : &crew->days[0];
        RAW(out, "<li><b>");
        text_html_z(out, crew->crew->name == NULL ? crew->crew->id : crew->crew->name);
        if (day != NULL && day->day != today) {
            const struct when when = html_when(page, page->company->zone);
            RAW(out, ", ");
            text_html_z(out, when_date(&when, day->day).z);
        }
        RAW(out, "</b>");
        if (day == NULL || day->work_count == 0) {
            RAW(out, " ");
            html_word(out, page, WORD_YARD_CREW_NONE);
        } else {
            visits(out, page, day);
            day_line(out, page, day);
        }
        if (day != NULL) free_line(out, page, day, page->company->zone);
        RAW(out, "</li>");
    }
    close_block(out, page, "/weeks", plan->crew_count == 0 ? 0 : 1);
}

static void idle(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct plan_lists *lists = &plan->lists;
    open_block(out, page, "/jobs", WORD_YARD_READY, lists->idle_count);
    for (size_t i = 0; i < lists->idle_count && i < ROWS; i++) {
        const struct idle_work *work = &lists->idle[i];
        const struct when when = html_when(page, work->job->job->zone);
        const struct phrase since = when_day_time(&when, work->since_s);
        RAW(out, "<li>");
        html_yard_job_link(out, work->job->job);
        RAW(out, ": ");
        html_of(out, page, WORD_SET_TASK, (int)work->task);
        if (work->since_s != INSTANT_NONE) {
            RAW(out, " <span class=\"aside\">");
            HTML_SAY(out, page, WORD_YARD_IDLE, {"time", since.z});
            RAW(out, "</span>");
        }
        RAW(out, "</li>");
    }
    close_block(out, page, "/jobs", lists->idle_count);
}

/* --- what can go wrong --------------------------------------------------------------------- */

static void call_in(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct plan_lists *lists = &plan->lists;
    size_t count = 0;
    for (size_t i = 0; i < lists->call_in_count; i++) count += lists->call_ins[i].today;
    open_block(out, page, "/call-in", WORD_YARD_CALL_IN, count);
    for (size_t i = 0; i < lists->call_in_count; i++) {
        const struct call_in *call = &lists->call_ins[i];
        if (!call->today) continue;
        const struct when when = html_when(page, call->job->job->zone);
        const struct phrase by = when_day_time(&when, call->request_by_s);
        RAW(out, "<li>");
        html_yard_job_link(out, call->job->job);
        RAW(out, ": ");
        html_of(out, page, WORD_SET_TASK, (int)call->task);
        if (call->request_by_s != INSTANT_NONE) {
            RAW(out, " <b>");
            HTML_SAY(out, page, WORD_YARD_CALL_BY, {"time", by.z});
            RAW(out, "</b>");
        }
        if (call->inspector != NULL && call->inspector->phone != NULL) {
            RAW(out, " ");
            text_html_z(out, call->inspector->phone);
        }
        RAW(out, "</li>");
    }
    close_block(out, page, "/call-in", count == 0 ? 0 : 1);
}

static void tonight(struct text *out, const struct page *page, const struct plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->job_count; i++) count += plan->jobs[i].tonight_count;
    open_block(out, page, "/tonight", WORD_YARD_TONIGHT, count);
    for (size_t i = 0; i < plan->job_count; i++)
        html_weather_tonight(out, page, &plan->jobs[i], true);
    close_block(out, page, "/tonight", count == 0 ? 0 : 1);
}

/* Passed since yesterday morning, and no photo goes with it. */
static void no_photo(struct text *out, const struct page *page, const struct plan *plan)
{
    const int32_t today = civil_day_of(page->company->zone, page->now_s);
    const int64_t since_s = civil_day_start_s(page->company->zone, today - 1);
    size_t count = 0;
    for (size_t i = 0; i < plan->job_count; i++) {
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &plan->jobs[i].tasks[t];
            if (task->pass == NULL || task->photo || task->pass->at_s < since_s) continue;
            if (count++ == 0) open_block(out, page, NULL, WORD_TODAY_NO_PHOTO, 0);
            const struct when when = html_when(page, plan->jobs[i].job->zone);
            const struct phrase time = when_day_time(&when, task->pass->at_s);
            RAW(out, "<li>");
            html_yard_job_link(out, plan->jobs[i].job);
            RAW(out, ": ");
            HTML_SAY(out, page, WORD_TODAY_NO_PHOTO_SAYS,
                     {"task", words_of(page->words, WORD_SET_TASK, t)}, {"time", time.z});
            RAW(out, "</li>");
        }
    }
    if (count > 0) close_block(out, page, "/", 1);
}

void html_today(struct text *out, const struct page *page, const struct plan *plan,
                const struct date_change *changes, size_t change_count)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_YARD_TITLE), .style = "today", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    if (page->company->name != NULL) {
        text_html_z(out, page->company->name);
        RAW(out, ": ");
    }
    html_word(out, page, WORD_YARD_TITLE);
    RAW(out, " <small><a href=\"/yard\">");
    html_word(out, page, WORD_NAV_ALL);
    RAW(out, "</a></small></h1>");
    html_alarms(out, page, plan, NULL, NULL, NULL);
    RAW(out, "<div class=\"today\"><div>");
    crews(out, page, plan);
    idle(out, page, plan);
    RAW(out, "</div><div>");
    html_today_pads(out, page, plan);
    tonight(out, page, plan);
    RAW(out, "</div><div>");
    owed(out, page, plan);
    moved(out, page, changes, change_count);
    call_in(out, page, plan);
    no_photo(out, page, plan);
    RAW(out, "</div></div>");
    html_close(out, page, &frame);
}
