/* SPDX-License-Identifier: MIT */
/*
 * The morning questions about green work: is the pad ready and how do you know, what can rain on me
 * tonight, can I pour. The time it opens stands first, the figures second, then what they rest on.
 */
#include <math.h>

#include "views/html.h"
#include "views/html_weather.h"
#include "views/html_yard.h"
#include "views/says_gate.h"

#include "base/banned.h"

static const double mm_per_inch = 25.4;

/* The pad clock that matters now: the first of these that is not open, else NULL. */
static const struct clock_plan *pad_clock(const struct job_plan *job)
{
    static const enum clock_id order[] = {CLOCK_PAD_BUILD_ON, CLOCK_PAD_CHIMNEY_LOAD};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        const struct clock_plan *clock = stage_clock(job, order[i]);
        if (clock != NULL && clock->state != CLOCK_STATE_OPEN) return clock;
    }
    const struct clock_plan *build = stage_clock(job, CLOCK_PAD_BUILD_ON);
    return build != NULL && !stage_task_over(&job->tasks[TASK_PAD_CHECK]) ? build : NULL;
}

static void pad_opens(struct text *out, const struct page *page, const struct when *when,
                      const struct clock_plan *clock)
{
    RAW(out, "<b class=\"opens\">");
    if (clock->state == CLOCK_STATE_CHECK_IT || clock->state == CLOCK_STATE_ENDED) {
        html_clock_state(out, page, clock->state);
    } else if (clock->state == CLOCK_STATE_OPEN) {
        html_word(out, page, WORD_YARD_PAD_OVER);
    } else if (clock->opens_s == INSTANT_NONE) {
        html_word(out, page, WORD_YARD_PAD_NO_TIME);
    } else {
        struct phrase time = when_day_time(when, clock->opens_s);
        HTML_SAY(out, page, WORD_YARD_PAD_OPENS, {"time", time.z});
    }
    RAW(out, "</b>");
    if ((clock->assumes & ASSUME_FORECAST_OLD) != 0)
        html_forecast_old(out, page, when, clock->forecast_made_s);
}

static void pad_row(struct text *out, const struct page *page, const struct job_plan *job,
                    const struct clock_plan *clock)
{
    struct when when = html_when(page, job->job->zone);
    RAW(out, "<li class=\"pad\"><p>");
    html_yard_job_link(out, job->job);
    RAW(out, " ");
    pad_opens(out, page, &when, clock);
    RAW(out, "</p><p>");
    html_bar(out, page, clock->have, clock->need, clock->unit);
    RAW(out, " ");
    struct text figures = TEXT_UP_TO(400);
    says_have_need(&figures, page->words, clock->have, clock->need, clock->unit);
    text_html_z(out, text_z(&figures));
    text_free(&figures);
    RAW(out, ", ");
    html_of(out, page, WORD_SET_CLOCK, (int)clock->clock);
    RAW(out, "</p>");
    html_rests_on(out, page, &when, clock);
    if (clock->assumes != 0) {
        struct text list = TEXT_UP_TO(2000);
        says_assumes(&list, &when, clock);
        RAW(out, "<p class=\"rests\">");
        HTML_SAY(out, page, WORD_JOB_ASSUMES, {"list", text_z(&list)});
        RAW(out, "</p>");
        text_free(&list);
    }
    const struct task_plan *check = &job->tasks[TASK_PAD_CHECK];
    if (!stage_task_over(check))
        html_because(out, page, &when, check->because, check->because_count);
    RAW(out, "</li>");
}

void html_yard_pads(struct text *out, const struct page *page, const struct plan *plan)
{
    size_t rows = 0;
    RAW(out, "<section>");
    html_heading(out, page, '2', "pads", WORD_YARD_PADS);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct clock_plan *clock = pad_clock(&plan->jobs[i]);
        if (clock == NULL) continue;
        pad_row(out, page, &plan->jobs[i], clock);
        rows++;
    }
    RAW(out, "</ul>");
    RAW(out, "<p class=\"aside\">");
    html_word(out, page, rows == 0 ? WORD_PAGE_NONE : WORD_JOB_WARM_NOTE);
    RAW(out, "</p></section>");
}

static bool pour_is_next(const struct job_plan *job)
{
    const enum task_state state = job->tasks[TASK_PAD_POUR].state;
    return job->pour.asked &&
           (state == TASK_STATE_WAIT_OVER || state == TASK_STATE_WAITING_WEATHER ||
            state == TASK_STATE_WAITING_INSPECTOR);
}

/* What a pad rests on, short: "43°F probe, 3 h ago", or since when nothing was read. */
static void rests_short(struct text *out, const struct page *page, const struct when *when,
                        const struct clock_plan *clock)
{
    const struct record *reading = clock->last_reading;
    if (clock->no_reading_since_s != INSTANT_NONE || reading == NULL) {
        html_rests_on(out, page, when, clock);
        return;
    }
    RAW(out, " <span class=\"aside\">");
    text_html_z(out, says_degrees(reading->temp_degc).z);
    RAW(out, " ");
    html_of(out, page, WORD_SET_HOW, reading->how == HOW_NONE ? HOW_PROBE : (int)reading->how);
    RAW(out, ", ");
    text_html_z(out, when_age(when, reading->at_s).z);
    RAW(out, "</span>");
}

void html_today_pads(struct text *out, const struct page *page, const struct plan *plan)
{
    size_t rows = 0;
    RAW(out, "<section><h2><a href=\"/pads\">");
    html_word(out, page, WORD_YARD_PADS);
    RAW(out, "</a></h2><ul class=\"rows\">");
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        const struct clock_plan *clock = pad_clock(job);
        if (clock == NULL) continue;
        const struct when when = html_when(page, job->job->zone);
        RAW(out, "<li>");
        html_yard_job_link(out, job->job);
        RAW(out, " ");
        pad_opens(out, page, &when, clock);
        RAW(out, " ");
        html_bar(out, page, clock->have, clock->need, clock->unit);
        rests_short(out, page, &when, clock);
        RAW(out, "</li>");
        rows++;
    }
    for (size_t i = 0; i < plan->job_count; i++) {
        if (!pour_is_next(&plan->jobs[i])) continue;
        const struct pour_plan *pour = &plan->jobs[i].pour;
        RAW(out, "<li>");
        html_yard_job_link(out, plan->jobs[i].job);
        RAW(out, ": ");
        html_word(out, page, WORD_YARD_POUR);
        RAW(out, " <b>");
        if (pour->state == GATE_CLOSED) {
            struct text why = TEXT_UP_TO(1000);
            says_gate_figure(&why, page->words, &pour->figure);
            HTML_SAY(out, page, WORD_YARD_POUR_NO, {"why", text_z(&why)});
            text_free(&why);
        } else {
            html_of(out, page, WORD_SET_GATE_STATE, (int)pour->state);
        }
        RAW(out, "</b></li>");
        rows++;
    }
    if (rows == 0) {
        RAW(out, "<li>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
}

void html_yard_tonight(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        if (plan->jobs[i].tonight_count == 0) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "tonight", WORD_YARD_TONIGHT);
            RAW(out, "<ul class=\"rows\">");
            begun = true;
        }
        html_weather_tonight(out, page, &plan->jobs[i], true);
    }
    if (begun) RAW(out, "</ul></section>");
}

static void pour_figures(struct text *out, const struct page *page, const struct pour_plan *pour)
{
    struct text lows = TEXT_UP_TO(200);
    for (size_t night = 0; night < sizeof pour->low_degf / sizeof *pour->low_degf; night++) {
        struct phrase low = says_degrees((pour->low_degf[night] - 32.0) / 1.8);
        if (night > 0) text_add_z(&lows, ", ");
        text_add_z(&lows, low.z[0] == '\0' ? "?" : low.z);
    }
    RAW(out, "<p>");
    HTML_SAY(out, page, WORD_YARD_POUR_NIGHTS, {"lows", text_z(&lows)});
    text_free(&lows);
    struct phrase mm = says_figure(pour->rain_in * mm_per_inch), hours = says_figure(pour->rain_h);
    RAW(out, "</p><p>");
    HTML_SAY(out, page, WORD_YARD_POUR_RAIN, {"hours", hours.z},
             {"mm", mm.z[0] == '\0' ? "?" : mm.z});
    RAW(out, "</p>");
    if (pour->state != GATE_CLOSED) return;
    struct text why = TEXT_UP_TO(1000);
    says_gate_figure(&why, page->words, &pour->figure);
    RAW(out, "<p class=\"no-reading\">");
    HTML_SAY(out, page, WORD_YARD_POUR_NO, {"why", text_z(&why)});
    RAW(out, "</p>");
    text_free(&why);
}

static void pour_row(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct task_plan *task = &job->tasks[TASK_PAD_POUR];
    const struct when when = html_when(page, job->job->zone);
    RAW(out, "<li>");
    html_yard_job_link(out, job->job);
    RAW(out, ": ");
    html_state(out, page, task->state);
    if (job->forecast_old) html_forecast_old(out, page, &when, job->forecast_made_s);
    pour_figures(out, page, &job->pour);
    html_weather_measures(out, page, task);
    html_because(out, page, &when, task->because, task->because_count);
    RAW(out, "</li>");
}

void html_yard_pours(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        if (!pour_is_next(&plan->jobs[i])) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "pour", WORD_YARD_POUR);
            RAW(out, "<ul class=\"rows\">");
            begun = true;
        }
        pour_row(out, page, &plan->jobs[i]);
    }
    if (begun) RAW(out, "</ul></section>");
}

void html_yard_half_days(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        if (plan->jobs[i].half_day_count == 0) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "half-days", WORD_YARD_HALF_DAYS);
            RAW(out, "<ul class=\"rows\">");
            begun = true;
        }
        html_weather_half_days(out, page, &plan->jobs[i]);
    }
    if (begun) RAW(out, "</ul></section>");
}
