/* SPDX-License-Identifier: MIT */
/*
 * The morning questions about green work: is the pad ready and how do you know, what can rain on me
 * tonight, can I pour. The time it opens stands first, the figures second, then what they rest on.
 */
#include <math.h>

#include "compute/civil.h"
#include "views/html.h"
#include "views/html_yard.h"
#include "views/sky.h"

#include "base/banned.h"

enum { HOUR_S = 3600, MORNING_S = 7 * HOUR_S, EVENING_S = 18 * HOUR_S, DAWN_END_S = 10 * HOUR_S };
enum { POUR_RAIN_H = 6, POUR_NIGHTS = 3 };
static const double pour_rain_mm = 2.54;         /* 0.1 in. (HR) */
static const double blanket_night_degc = 4.4444; /* 40 F (HR) */
static const double mph_per_mps = 2.236936;

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

/* Something out of doors that the night can spoil; the words for it, or WORD_COUNT. */
static enum word green_of(const struct job_plan *job)
{
    const struct clock_plan *joints = stage_clock(job, CLOCK_JOINTS_EARLY);
    if (joints != NULL && joints->state == CLOCK_STATE_RUNNING) return WORD_YARD_TONIGHT_GREEN;
    const struct clock_plan *frost = stage_clock(job, CLOCK_PAD_FIRST_FROST);
    if (frost != NULL && frost->state == CLOCK_STATE_RUNNING) return WORD_YARD_TONIGHT_PAD;
    enum task_state run = job->tasks[TASK_CHIMNEY_RUN].state;
    bool begun = run == TASK_STATE_WORKING || run == TASK_STATE_STOPPED ||
                 stage_task_done(job, TASK_CHIMNEY_RUN);
    if (begun && !stage_task_over(&job->tasks[TASK_CAP_SET])) return WORD_YARD_TONIGHT_FLUE;
    return WORD_COUNT;
}

static void tonight_weather(struct text *out, const struct page *page, const struct job *job)
{
    struct when when = html_when(page, job->zone);
    int32_t today = civil_day_of(job->zone, page->now_s);
    int64_t morning_s = civil_instant_s(job->zone, today + 1, MORNING_S);
    struct sky sky = sky_between(job->station, job->site_offset_degc, page->now_s, morning_s);
    if (sky.hours_known == 0) {
        html_word(out, page, WORD_YARD_TONIGHT_UNKNOWN);
        return;
    }
    struct phrase low = says_degrees(sky.low_degc);
    struct phrase low_time = when_clock(&when, sky.low_s);
    HTML_SAY(out, page, WORD_YARD_TONIGHT_LOW, {"value", low.z}, {"time", low_time.z});
    RAW(out, ", ");
    if (sky.rain_s != INSTANT_NONE) {
        struct phrase mm = says_figure(sky.rain_mm);
        struct phrase time = when_clock(&when, sky.rain_s);
        HTML_SAY(out, page, WORD_YARD_TONIGHT_RAIN, {"mm", mm.z}, {"time", time.z});
    } else {
        html_word(out, page,
                  isnan(sky.rain_mm) ? WORD_YARD_TONIGHT_UNKNOWN : WORD_YARD_TONIGHT_DRY);
    }
    if (isfinite(sky.gust_mps)) {
        struct phrase mph = says_figure(floor(sky.gust_mps * mph_per_mps + 0.5));
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_YARD_TONIGHT_GUST, {"mph", mph.z});
    }
}

void html_yard_tonight(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        enum word green = green_of(job);
        if (green == WORD_COUNT) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "tonight", WORD_YARD_TONIGHT);
            RAW(out, "<ul class=\"rows\">");
            begun = true;
        }
        RAW(out, "<li>");
        html_yard_job_link(out, job->job);
        RAW(out, ": ");
        html_word(out, page, green);
        RAW(out, ". ");
        tonight_weather(out, page, job->job);
        RAW(out, ". <b>");
        html_word(out, page, WORD_YARD_COVER_TONIGHT);
        if (job->job->crew_id != NULL) {
            RAW(out, "</b> <span class=\"aside\">");
            text_html_z(out, job->job->crew_id);
            RAW(out, "</span><b>");
        }
        RAW(out, "</b></li>");
    }
    if (begun) RAW(out, "</ul></section>");
}

static bool pour_is_next(const struct job_plan *job)
{
    const struct task_plan *pour = &job->tasks[TASK_PAD_POUR];
    return pour->state == TASK_STATE_WAIT_OVER || pour->state == TASK_STATE_WAITING_WEATHER ||
           pour->state == TASK_STATE_WAITING_INSPECTOR;
}

static void pour_row(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct job *site = job->job;
    int32_t today = civil_day_of(site->zone, page->now_s);
    RAW(out, "<li>");
    html_yard_job_link(out, site);
    RAW(out, ": ");
    html_state(out, page, job->tasks[TASK_PAD_POUR].state);
    struct text lows = TEXT_UP_TO(200);
    bool cold = false;
    for (int32_t night = 0; night < POUR_NIGHTS; night++) {
        int64_t from_s = civil_instant_s(site->zone, today + night, EVENING_S);
        int64_t until_s = civil_instant_s(site->zone, today + night + 1, DAWN_END_S);
        struct sky sky = sky_between(site->station, site->site_offset_degc, from_s, until_s);
        struct phrase low = says_degrees(sky.low_degc);
        if (night > 0) text_add_z(&lows, ", ");
        text_add_z(&lows, low.z[0] == '\0' ? "?" : low.z);
        if (sky.low_degc < blanket_night_degc) cold = true;
    }
    RAW(out, "<p>");
    HTML_SAY(out, page, WORD_YARD_POUR_NIGHTS, {"lows", text_z(&lows)});
    text_free(&lows);
    RAW(out, "</p>");
    struct sky soon =
        sky_between(site->station, 0, page->now_s, page->now_s + POUR_RAIN_H * HOUR_S);
    struct phrase mm = says_figure(soon.rain_mm);
    RAW(out, "<p>");
    HTML_SAY(out, page, WORD_YARD_POUR_RAIN, {"mm", mm.z[0] == '\0' ? "?" : mm.z});
    RAW(out, "</p>");
    if (cold) {
        RAW(out, "<p class=\"no-reading\">");
        html_word(out, page, WORD_YARD_POUR_BLANKETS);
        RAW(out, "</p>");
    }
    if (soon.rain_mm > pour_rain_mm) {
        RAW(out, "<p class=\"no-reading\">");
        html_word(out, page, WORD_YARD_POUR_RAIN_NO);
        RAW(out, "</p>");
    }
    struct when when = html_when(page, site->zone);
    html_because(out, page, &when, job->tasks[TASK_PAD_POUR].because,
                 job->tasks[TASK_PAD_POUR].because_count);
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
