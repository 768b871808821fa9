/* SPDX-License-Identifier: MIT */
/* Why: see html_weather.h. The tool tells figures; whether to climb is for the people on the
 * scaffold. */
#include "views/html_weather.h"

#include <math.h>

#include "compute/civil.h"
#include "views/html_yard.h"
#include "views/says_gate.h"

#include "base/banned.h"

enum { MINUTE_S = 60 };
static const double mm_per_inch = 25.4;

static void put_figure(struct text *out, const struct page *page, const struct gate_figure *figure)
{
    struct text says = TEXT_UP_TO(1000);
    says_gate_figure(&says, page->words, figure);
    text_html_z(out, text_z(&says));
    text_free(&says);
}

void html_weather_measures(struct text *out, const struct page *page, const struct task_plan *task)
{
    if (task->measure_count == 0) return;
    RAW(out, "<div class=\"measures\"><p><b>");
    html_word(out, page, WORD_CREW_MEASURES);
    RAW(out, "</b></p><ul>");
    for (size_t i = 0; i < task->measure_count; i++) {
        struct text says = TEXT_UP_TO(2000);
        says_gate_measure(&says, page->words, &task->measures[i]);
        RAW(out, "<li>");
        text_html_z(out, text_z(&says));
        RAW(out, "</li>");
        text_free(&says);
    }
    RAW(out, "</ul></div>");
}

void html_weather_measures_short(struct text *out, const struct page *page,
                                 const struct task_plan *task)
{
    if (task->measure_count == 0) return;
    RAW(out, " <span class=\"measures\"><b>");
    html_word(out, page, WORD_CREW_MEASURES);
    RAW(out, "</b>: ");
    for (size_t i = 0; i < task->measure_count; i++) {
        if (i > 0) RAW(out, "; ");
        html_of(out, page, WORD_SET_WEATHER_DO, (int)task->measures[i].measure);
    }
    RAW(out, "</span>");
}

static void closed_item(struct text *out, const struct page *page, const struct when *when,
                        const struct gate_stretch *stretch, int64_t from_s, int64_t until_s)
{
    struct text why = TEXT_UP_TO(1000);
    struct phrase from = when_clock(when, from_s), until = when_clock(when, until_s);
    says_gate_figure(&why, page->words, &stretch->figure);
    RAW(out, "<li>");
    HTML_SAY(out, page, WORD_CREW_GATE_HOURS, {"from", from.z}, {"until", until.z},
             {"why", text_z(&why)});
    RAW(out, "</li>");
    text_free(&why);
}

/* Of work that could go on today. */
static bool holds_now(const struct job_plan *job, const struct gate_strip *strip)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const enum task_state state = job->tasks[t].state;
        if ((strip->tasks >> (unsigned)t & 1U) == 0) continue;
        if (state == TASK_STATE_WAIT_OVER || state == TASK_STATE_WORKING ||
            state == TASK_STATE_WAITING_WEATHER)
            return true;
    }
    return false;
}

void html_weather_closed(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct company *company = page->company;
    const struct when when = html_when(page, job->job->zone);
    const int32_t today = civil_day_of(company->zone, page->now_s);
    const int64_t open_s =
        civil_instant_s(company->zone, today, company->hours.from_min * MINUTE_S);
    const int64_t close_s =
        civil_instant_s(company->zone, today, company->hours.until_min * MINUTE_S);
    bool begun = false;
    for (size_t g = 0; g < job->gate_count; g++) {
        for (size_t s = 0; s < job->gates[g].count && holds_now(job, &job->gates[g]); s++) {
            const struct gate_stretch *stretch = &job->gates[g].stretches[s];
            int64_t from_s = stretch->from_s > open_s ? stretch->from_s : open_s;
            int64_t until_s = stretch->until_s < close_s ? stretch->until_s : close_s;
            if (stretch->state != GATE_CLOSED || from_s >= until_s) continue;
            if (!begun) RAW(out, "<ul class=\"closed-hours\">");
            begun = true;
            closed_item(out, page, &when, stretch, from_s, until_s);
        }
    }
    if (begun) RAW(out, "</ul>");
}

/* The night's figures, whichever are known. */
static void night_figures(struct text *out, const struct page *page, const struct when *when,
                          const struct tonight_item *item)
{
    if (isnan(item->low_degf) && isnan(item->rain_in) && isnan(item->gust_mph)) {
        html_word(out, page, WORD_YARD_TONIGHT_UNKNOWN);
        return;
    }
    if (isfinite(item->low_degf)) {
        struct phrase low = says_degrees((item->low_degf - 32.0) / 1.8);
        struct phrase time = when_clock(when, item->low_s);
        HTML_SAY(out, page, WORD_YARD_TONIGHT_LOW, {"value", low.z}, {"time", time.z});
        RAW(out, ", ");
    }
    if (item->rain_s != INSTANT_NONE) {
        struct phrase mm = says_figure(item->rain_in * mm_per_inch);
        struct phrase time = when_clock(when, item->rain_s);
        HTML_SAY(out, page, WORD_YARD_TONIGHT_RAIN, {"mm", mm.z}, {"time", time.z});
    } else {
        html_word(out, page,
                  isnan(item->rain_in) ? WORD_YARD_TONIGHT_UNKNOWN : WORD_YARD_TONIGHT_DRY);
    }
    if (isfinite(item->gust_mph)) {
        struct phrase mph = says_figure(floor(item->gust_mph + 0.5));
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_YARD_TONIGHT_GUST, {"mph", mph.z});
    }
}

static void tonight_item(struct text *out, const struct page *page, const struct when *when,
                         const struct tonight_item *item)
{
    struct phrase before = when_clock(when, item->before_s);
    html_of(out, page, WORD_SET_TONIGHT, (int)item->what);
    RAW(out, ". ");
    if (item->alarm) {
        RAW(out, "<b>");
        html_word(out, page, WORD_YARD_TONIGHT_ALARM);
        RAW(out, "</b>. ");
    }
    night_figures(out, page, when, item);
    RAW(out, ". ");
    if (item->figure.rule != GATE_RULE_NONE) {
        put_figure(out, page, &item->figure);
        RAW(out, ". ");
    }
    RAW(out, "<b>");
    html_word(out, page, item->covered ? WORD_YARD_TONIGHT_COVERED : WORD_YARD_COVER_TONIGHT);
    RAW(out, ", ");
    HTML_SAY(out, page, WORD_YARD_TONIGHT_BEFORE, {"time", before.z});
    RAW(out, "</b> <span class=\"aside\">");
    if (item->crew_id != NULL)
        text_html_z(out, item->crew_id);
    else
        html_word(out, page, WORD_YARD_TONIGHT_NOBODY);
    if (!item->can_act) {
        RAW(out, "; ");
        html_word(out, page, WORD_YARD_TONIGHT_LATE);
    }
    RAW(out, "</span>");
}

void html_weather_tonight(struct text *out, const struct page *page, const struct job_plan *job,
                          bool link)
{
    const struct when when = html_when(page, job->job->zone);
    for (size_t i = 0; i < job->tonight_count; i++) {
        RAW(out, "<li>");
        if (link) {
            html_yard_job_link(out, job->job);
            RAW(out, ": ");
        }
        tonight_item(out, page, &when, &job->tonight[i]);
        if (job->forecast_old) html_forecast_old(out, page, &when, job->forecast_made_s);
        RAW(out, "</li>");
    }
}

void html_weather_half_days(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct when when = html_when(page, page->company->zone);
    for (size_t i = 0; i < job->half_day_count; i++) {
        const struct half_day *half = &job->half_days[i];
        struct phrase date = when_date(&when, half->day);
        struct phrase hours = says_figure(half->hours_lost), of = says_figure(half->hours);
        struct text why = TEXT_UP_TO(1000);
        says_gate_figure(&why, page->words, &half->figure);
        RAW(out, "<li>");
        html_yard_job_link(out, job->job);
        RAW(out, ": ");
        HTML_SAY(out, page, WORD_YARD_HALF_DAY, {"date", date.z},
                 {"half", words_get(page->words, half->afternoon ? WORD_YARD_HALF_AFTERNOON
                                                                 : WORD_YARD_HALF_MORNING)},
                 {"hours", hours.z}, {"of", of.z},
                 {"task", words_of(page->words, WORD_SET_TASK, (int)half->task)},
                 {"why", text_z(&why)});
        if (job->forecast_old) html_forecast_old(out, page, &when, job->forecast_made_s);
        RAW(out, "</li>");
        text_free(&why);
    }
}
