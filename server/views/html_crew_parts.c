/* SPDX-License-Identifier: MIT */
/*
 * What the crew's phone and its paper say in the same words: how to get in, what to do, what not to
 * do, the weather of the working hours, what to leave behind. One function each, so that the two
 * can never differ.
 */
#include <math.h>

#include "compute/civil.h"
#include "views/crew_day.h"
#include "views/html.h"
#include "views/html_crew.h"
#include "views/html_weather.h"
#include "views/sky.h"

#include "base/banned.h"

enum { HOUR_S = 3600, MINUTE_S = 60, STRIP_H = 2 };
static const double mph_per_mps = 2.236936;

void html_crew_task_state(struct text *out, const struct page *page, const struct when *when,
                          const struct task_plan *task)
{
    int64_t opens_s = task->opens_s != INSTANT_NONE && task->opens_s > page->now_s ? task->opens_s
                                                                                   : task->start_s;
    if (task->state != TASK_STATE_WAIT_OVER && task->state != TASK_STATE_WORKING &&
        task->state != TASK_STATE_CHECK_IT && opens_s != INSTANT_NONE) {
        struct phrase time = when_clock(when, opens_s);
        RAW(out, "<span class=\"state\">");
        HTML_SAY(out, page, WORD_CREW_NOT_BEFORE, {"time", time.z});
        RAW(out, "</span>");
    } else {
        html_state(out, page, task->state);
    }
}

/* How long a bucket lasts at the work that can go on now: the shortest of it, as the plan has it.
 */
static double bucket_of(const struct job_plan *job)
{
    double bucket_h = NAN;
    for (int t = 0; t < TASK_COUNT; t++) {
        const enum task_state state = job->tasks[t].state;
        if (state != TASK_STATE_WAIT_OVER && state != TASK_STATE_WORKING) continue;
        if (crew_day_mixes((enum task)t)) bucket_h = fmin(bucket_h, job->tasks[t].bucket_h);
    }
    return bucket_h;
}

void html_crew_bag(struct text *out, const struct page *page, const struct job_plan *job)
{
    struct phrase least = says_figure(floor(job->bag_min_degf + 0.5));
    const double pot_min = crew_day_bag_pot_min(job);
    RAW(out, "<p class=\"bag\"><b>");
    HTML_SAY(out, page, WORD_SAYS_BAG_MINIMUM, {"min", least.z});
    RAW(out, "</b> ");
    const double bucket_h = bucket_of(job);
    if (!isfinite(pot_min) && isfinite(bucket_h))
        HTML_SAY(out, page, WORD_CREW_BUCKET, {"min", says_figure(bucket_h * 60).z});
    else if (isfinite(pot_min))
        HTML_SAY(out, page, WORD_CREW_BAG_POT, {"n", says_figure(pot_min).z});
    else
        html_word(out, page, WORD_CREW_BAG_LIFE);
    RAW(out, "</p>");
}

void html_crew_list(struct text *out, const struct page *page, enum word_set set, uint64_t members)
{
    bool first = true;
    for (int i = 0; i < 64; i++) {
        if ((members & (UINT64_C(1) << i)) == 0) continue;
        if (!first) RAW(out, ", ");
        text_add_z(out, words_of(page->words, set, i));
        first = false;
    }
}

void html_crew_do(struct text *out, const struct page *page, const struct plan *plan,
                  const struct crew *crew, const struct job_plan *job)
{
    const struct task_plan *tasks[CREW_DO_MAX];
    size_t count = crew_day_do(page, plan, crew, job, tasks);
    struct when when = html_when(page, job->job->zone);
    if (count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_CREW_NOTHING);
        RAW(out, "</p>");
        return;
    }
    bool mixes = false;
    RAW(out, "<ol class=\"do\">");
    for (size_t i = 0; i < count; i++) {
        const struct task_plan *task = tasks[i];
        RAW(out, "<li><b>");
        html_of(out, page, WORD_SET_TASK, (int)task->task);
        RAW(out, "</b> ");
        html_crew_task_state(out, page, &when, task);
        RAW(out, "<p>");
        HTML_SAY(out, page, WORD_CREW_CHECK,
                 {"check", words_of(page->words, WORD_SET_CHECK, (int)task->task)});
        RAW(out, "</p>");
        html_weather_measures(out, page, task);
        RAW(out, "</li>");
        mixes = mixes || crew_day_mixes(task->task);
    }
    RAW(out, "</ol>");
    if (mixes) html_crew_bag(out, page, job);
}

static void do_not_item(void *context, const char *sentence)
{
    struct text *out = context;
    RAW(out, "<li>");
    text_html_z(out, sentence);
    RAW(out, "</li>");
}

void html_crew_do_not(struct text *out, const struct page *page, const struct job_plan *job)
{
    struct when when = html_when(page, job->job->zone);
    struct text list = TEXT_UP_TO(1 << 16);
    crew_day_do_not(&when, job, do_not_item, &list);
    if (list.failed) out->failed = true;
    if (list.length == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</p>");
    } else {
        RAW(out, "<ul class=\"stops\">");
        text_add(out, list.data, list.length);
        RAW(out, "</ul>");
    }
    text_free(&list);
}

static void weather_row(struct text *out, const struct page *page, const struct job *job,
                        int64_t from_s, const struct sky *sky)
{
    struct when when = html_when(page, job->zone);
    RAW(out, "<tr><th scope=\"row\">");
    text_html_z(out, when_clock(&when, from_s).z);
    RAW(out, "</th><td>");
    struct phrase low = says_degrees(sky->low_degc);
    text_html_z(out, low.z[0] == '\0' ? "?" : low.z);
    RAW(out, "</td><td>");
    if (isnan(sky->rain_mm)) {
        text_add_z(out, "?");
    } else if (sky->rain_mm > 0) {
        text_html_z(out, says_figure(sky->rain_mm).z);
        RAW(out, " mm");
    } else {
        html_word(out, page, WORD_CREW_DRY);
    }
    RAW(out, "</td><td>");
    if (isfinite(sky->gust_mps)) {
        text_html_z(out, says_figure(floor(sky->gust_mps * mph_per_mps + 0.5)).z);
        RAW(out, " mph");
    } else {
        text_add_z(out, "?");
    }
    RAW(out, "</td></tr>");
}

void html_crew_weather(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct job *site = job->job;
    int32_t today = civil_day_of(page->company->zone, page->now_s);
    struct text rows = TEXT_UP_TO(1 << 14);
    size_t known = 0;
    int from_min = page->company->hours.from_min;
    int until_min = page->company->hours.until_min;
    for (int minute = from_min; minute < until_min; minute += STRIP_H * 60) {
        int64_t from_s = civil_instant_s(page->company->zone, today, minute * MINUTE_S);
        int last = minute + STRIP_H * 60 < until_min ? minute + STRIP_H * 60 : until_min;
        int64_t until_s = civil_instant_s(page->company->zone, today, last * MINUTE_S);
        struct sky sky = sky_between(site->station, site->site_offset_degc, from_s, until_s);
        known += sky.hours_known;
        weather_row(&rows, page, site, from_s, &sky);
    }
    if (known == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_CREW_NO_WEATHER);
        RAW(out, "</p>");
    } else {
        static const enum word heads[] = {WORD_CREW_HOUR, WORD_CREW_TEMP, WORD_CREW_RAIN,
                                          WORD_CREW_GUST};
        RAW(out, "<table class=\"weather\"><thead><tr>");
        for (size_t i = 0; i < sizeof heads / sizeof *heads; i++) {
            RAW(out, "<th scope=\"col\">");
            html_word(out, page, heads[i]);
            RAW(out, "</th>");
        }
        RAW(out, "</tr></thead><tbody>");
        text_add(out, rows.data, rows.length);
        RAW(out, "</tbody></table>");
        html_weather_closed(out, page, job);
        if (job->forecast_old) {
            struct when when = html_when(page, site->zone);
            RAW(out, "<p>");
            html_forecast_old(out, page, &when, job->forecast_made_s);
            RAW(out, "</p>");
        }
    }
    text_free(&rows);
}

void html_crew_leave(struct text *out, const struct page *page, const struct job_plan *job)
{
    enum word leave[CREW_LEAVE_MAX];
    size_t count = crew_day_leave(job, leave);
    RAW(out, "<ul class=\"leave\">");
    for (size_t i = 0; i < count; i++) {
        RAW(out,
            "<li><svg class=\"tick-box\" aria-hidden=\"true\"><use href=\"#sign-not\"/></svg> ");
        html_word(out, page, leave[i]);
        RAW(out, "</li>");
    }
    html_weather_tonight(out, page, job, false);
    enum task inspection = crew_day_inspection_tomorrow(page, job);
    if (inspection != TASK_NONE) {
        RAW(out,
            "<li><svg class=\"tick-box\" aria-hidden=\"true\"><use href=\"#sign-not\"/></svg> ");
        HTML_SAY(out, page, WORD_CREW_TOMORROW_INSPECTION,
                 {"task", words_of(page->words, WORD_SET_TASK, (int)inspection)});
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
}

void html_crew_safety(struct text *out, const struct page *page)
{
    static const enum word safety[] = {WORD_SAFETY_CEMENT, WORD_SAFETY_CUT,      WORD_SAFETY_LIFT,
                                       WORD_SAFETY_HUNG,   WORD_SAFETY_SCAFFOLD, WORD_SAFETY_HEATER,
                                       WORD_SAFETY_GAS};
    RAW(out, "<ul class=\"safety\">");
    for (size_t i = 0; i < sizeof safety / sizeof *safety; i++) {
        RAW(out, "<li>");
        html_word(out, page, safety[i]);
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
}

void html_crew_head(struct text *out, const struct job *job)
{
    RAW(out, "<h2 class=\"job-name\">");
    text_html_z(out, job->name == NULL ? job->id : job->name);
    RAW(out, "</h2>");
    if (job->access == NULL) return;
    RAW(out, "<p class=\"access\">");
    text_html_z(out, job->access);
    RAW(out, "</p>");
}
