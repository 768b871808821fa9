/* SPDX-License-Identifier: MIT */
/*
 * One job: what is next and why, every wait with its figures, the counted days, what was written
 * down (nothing is ever hidden: a withdrawn record stands there struck through), and the forms.
 */
#include <math.h>
#include <string.h>

#include "views/html.h"
#include "views/html_alarms.h"
#include "views/html_forms.h"
#include "views/html_record.h"
#include "views/html_weather.h"
#include "views/html_work_back.h"
#include "views/svg_day_strip.h"
#include "views/svg_hour_strip.h"
#include "views/svg_hour_table.h"

#include "base/banned.h"

enum { RECORDS_SHOWN = 80 };

static void task_dates(struct text *out, const struct page *page, const struct when *when,
                       const struct job_plan *job, const struct task_plan *task)
{
    if (task->done_s != INSTANT_NONE) {
        struct phrase time = when_day_time(when, task->done_s);
        HTML_SAY(out, page, WORD_JOB_DONE, {"time", time.z});
        if (task->held) {
            RAW(out, "<br><b>");
            html_word(out, page, WORD_JOB_HELD);
            RAW(out, "</b>");
        }
        return;
    }
    if (task->start_s == INSTANT_NONE) {
        if (!stage_task_over(task) && task->state != TASK_STATE_NOT_YET)
            html_word(out, page, WORD_WHEN_NONE);
    } else {
        html_time(out, when->zone, task->start_s, when_day_time(when, task->start_s));
        if (task->forecast_old) html_forecast_old(out, page, when, job->forecast_made_s);
    }
    if (task->opens_s != INSTANT_NONE && task->opens_s != task->start_s) {
        struct phrase opens = when_day_time(when, task->opens_s);
        RAW(out, "<br><small>");
        html_word(out, page, WORD_JOB_OPENS);
        RAW(out, ": ");
        text_html_z(out, opens.z);
        RAW(out, "</small>");
    }
    if (isfinite(task->hours)) {
        struct phrase hours = says_figure(task->hours);
        RAW(out, " <small>");
        HTML_SAY(out, page, WORD_JOB_HOURS, {"hours", hours.z});
        if (task->crew_id != NULL) {
            RAW(out, ", ");
            text_html_z(out, task->crew_id);
        }
        RAW(out, "</small>");
    }
}

static void task_row(struct text *out, const struct page *page, const struct when *when,
                     const struct job_plan *job, const struct task_plan *task)
{
    RAW(out, "<tr><th scope=\"row\">");
    html_of(out, page, WORD_SET_TASK, (int)task->task);
    RAW(out, "</th><td>");
    html_state(out, page, task->state);
    html_weather_measures(out, page, task);
    if (!stage_task_over(task)) html_because(out, page, when, task->because, task->because_count);
    RAW(out, "</td><td>");
    task_dates(out, page, when, job, task);
    RAW(out, "</td></tr>");
}

/* Open tasks first, in the order of work; what is over stands folded below them. */
static void tasks(struct text *out, const struct page *page, const struct when *when,
                  const struct job_plan *job)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "tasks", WORD_JOB_TASKS);
    for (int over = 0; over <= 1; over++) {
        if (over) {
            RAW(out, "<details><summary>");
            html_word(out, page, WORD_JOB_REST);
            RAW(out, "</summary>");
        }
        RAW(out, "<table class=\"tasks\"><thead><tr><th scope=\"col\">");
        html_word(out, page, WORD_JOB_TASK);
        RAW(out, "</th><th scope=\"col\">");
        html_word(out, page, WORD_JOB_STATE);
        RAW(out, "</th><th scope=\"col\">");
        html_word(out, page, WORD_JOB_DATE);
        RAW(out, "</th></tr></thead><tbody>");
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &job->tasks[t];
            if (stage_task_over(task) == (bool)over) task_row(out, page, when, job, task);
        }
        RAW(out, "</tbody></table>");
        if (over) RAW(out, "</details>");
    }
    RAW(out, "</section>");
}

static void clock_times(struct text *out, const struct page *page, const struct when *when,
                        const struct clock_plan *clock)
{
    bool days = clock->unit == UNIT_COUNTED_DAY;
    if (clock->state == CLOCK_STATE_RUNNING && clock->opens_s != INSTANT_NONE) {
        struct phrase opens =
            days ? when_date_of(when, clock->opens_s) : when_day_time(when, clock->opens_s);
        RAW(out, " <b class=\"opens\">");
        HTML_SAY(out, page, WORD_YARD_PAD_OPENS, {"time", opens.z});
        RAW(out, "</b>");
    } else if (clock->state == CLOCK_STATE_RUNNING) {
        RAW(out, " <b class=\"opens\">");
        html_word(out, page, WORD_YARD_PAD_NO_TIME);
        RAW(out, "</b>");
    }
    if (clock->state == CLOCK_STATE_RUNNING && (clock->assumes & ASSUME_FORECAST_OLD) != 0)
        html_forecast_old(out, page, when, clock->forecast_made_s);
    if (clock->stopped_s != INSTANT_NONE) {
        struct phrase stopped = when_day_time(when, clock->stopped_s);
        RAW(out, " ");
        HTML_SAY(out, page, WORD_JOB_STOPPED_AT, {"time", stopped.z});
    }
}

static void clock_item(struct text *out, const struct page *page, const struct when *when,
                       const struct clock_plan *clock)
{
    RAW(out, "<li><p><b>");
    html_of(out, page, WORD_SET_CLOCK, (int)clock->clock);
    RAW(out, "</b> ");
    html_clock_state(out, page, clock->state);
    clock_times(out, page, when, clock);
    RAW(out, "</p><p>");
    html_bar(out, page, clock->have, clock->need, clock->unit);
    RAW(out, " ");
    if (isfinite(clock->have) && isfinite(clock->need)) {
        struct text figures = TEXT_UP_TO(400);
        says_have_need(&figures, page->words, clock->have, clock->need, clock->unit);
        text_html_z(out, text_z(&figures));
        text_clear(&figures);
        says_standing(&figures, when, clock->need_mark, clock->source);
        if (figures.length > 0) {
            RAW(out, " <small>(");
            text_html_z(out, text_z(&figures));
            RAW(out, ")</small>");
        }
        text_free(&figures);
    }
    if (clock->floor_h > 0) {
        struct phrase floor_h = says_figure(clock->floor_h);
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_FIGURES_FLOOR, {"floor", floor_h.z});
    }
    if (clock->start_s != INSTANT_NONE) {
        struct phrase start = clock->unit == UNIT_COUNTED_DAY ? when_date_of(when, clock->start_s)
                                                              : when_day_time(when, clock->start_s);
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_JOB_STARTED, {"time", start.z});
    }
    RAW(out, "</p>");
    if (clock->state == CLOCK_STATE_RUNNING) html_rests_on(out, page, when, clock);
    if (clock->assumes != 0) {
        struct text list = TEXT_UP_TO(2000);
        says_assumes(&list, when, clock);
        RAW(out, "<p class=\"rests\">");
        HTML_SAY(out, page, WORD_JOB_ASSUMES, {"list", text_z(&list)});
        RAW(out, "</p>");
        text_free(&list);
    }
    if (clock->accepted != NULL) {
        RAW(out, "<p class=\"rests\">");
        HTML_SAY(out, page, WORD_JOB_ACCEPTED_BY, {"name", clock->accepted->by});
        RAW(out, "</p>");
    }
    RAW(out, "</li>");
}

static void struck_item(struct text *out, const struct page *page, const struct when *when,
                        const struct struck_clock *struck)
{
    struct phrase time = when_date_of(when, struck->ended_s);
    struct phrase have = says_figure(struck->have);
    RAW(out, "<li><s>");
    html_of(out, page, WORD_SET_CLOCK, (int)struck->clock);
    RAW(out, "</s> ");
    HTML_SAY(out, page, WORD_JOB_STRUCK, {"time", time.z}, {"have", have.z},
             {"unit", words_of(page->words, WORD_SET_UNIT, UNIT_COUNTED_DAY)});
    if (struck->because != NULL) {
        RAW(out, ". ");
        HTML_SAY(out, page, WORD_JOB_STRUCK_WHY,
                 {"kind", words_of(page->words, WORD_SET_KIND, (int)struck->because->kind)});
        if (struck->because->by != NULL) {
            RAW(out, ", ");
            HTML_SAY(out, page, WORD_JOB_BY, {"name", struck->because->by});
        }
    }
    RAW(out, "</li>");
}

static void clocks(struct text *out, const struct page *page, const struct when *when,
                   const struct job_plan *job)
{
    if (job->clock_count == 0 && job->struck_count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "clocks", WORD_JOB_CLOCKS);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < job->clock_count; i++) {
        if (job->clocks[i].state != CLOCK_STATE_NOT_STARTED)
            clock_item(out, page, when, &job->clocks[i]);
    }
    for (size_t i = 0; i < job->struck_count; i++) struck_item(out, page, when, &job->struck[i]);
    RAW(out, "</ul><p class=\"aside\">");
    html_word(out, page, WORD_JOB_WARM_NOTE);
    RAW(out, "</p></section>");
}

/* Each count of days as a calendar, and the hours of each part: those that still run stand open,
 * those whose waits are over are folded. */
static void pictures(struct text *out, const struct page *page, const struct job_plan *job)
{
    bool begun = false;
    for (size_t c = 0; c < job->clock_count; c++) {
        const struct clock_plan *clock = &job->clocks[c];
        if (clock->day_count == 0 || clock->days == NULL) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "days", WORD_JOB_DRYING);
            RAW(out, "<div class=\"s-row\">");
        }
        begun = true;
        svg_day_strip(out, page, job, clock, false);
    }
    if (begun) RAW(out, "</div></section>");
    begun = false;
    for (int p = 0; p < PART_COUNT; p++) {
        const struct part_plan *part = &job->parts[p];
        if (part->strip == NULL) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "hours", WORD_JOB_STRIP);
        }
        begun = true;
        const struct clock_plan *clock = stage_clock(job, part->strip->clock);
        const bool over = clock != NULL && clock->state == CLOCK_STATE_OPEN;
        if (over) {
            RAW(out, "<details><summary>");
            svg_hour_title(out, page, part);
            RAW(out, "</summary>");
        }
        svg_hour_strip(out, page, job, part);
        if (over) RAW(out, "</details>");
    }
    if (begun) RAW(out, "</section>");
}

static void date_line(struct text *out, const struct page *page, enum word word,
                      const struct phrase date)
{
    RAW(out, "<dt>");
    html_word(out, page, word);
    RAW(out, "</dt><dd>");
    text_html_z(out, date.z);
    RAW(out, "</dd>");
}

static void fire_dates(struct text *out, const struct page *page, const struct when *when,
                       const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    RAW(out, "<section>");
    html_heading(out, page, '2', "fire", WORD_YARD_FIRE_DATE);
    RAW(out, "<p class=\"fire\"><b>");
    if (fire->blocked_by != 0 || fire->cure_complete_day == DAY_NONE) {
        html_word(out, page, WORD_JOB_NO_FIRE_DATE);
        RAW(out, "</b> ");
        struct text why = TEXT_UP_TO(4000);
        says_fire_blocks(&why, page->words, fire->blocked_by);
        text_html_z(out, text_z(&why));
        text_free(&why);
    } else {
        struct phrase date = when_date(when, fire->cure_complete_day);
        HTML_SAY(out, page, WORD_YARD_NOT_BEFORE, {"date", date.z});
        RAW(out, "</b> ");
        if (fire->driven_by != CLOCK_NONE)
            HTML_SAY(out, page, WORD_YARD_DRIVEN_BY,
                     {"clock", words_of(page->words, WORD_SET_CLOCK, (int)fire->driven_by)});
        html_fire_old(out, page, job);
    }
    RAW(out, "</p><dl class=\"dates\">");
    date_line(out, page, WORD_YARD_DATE_GIVEN, when_date(when, fire->agreed_day));
    if (fire->agreed_day != DAY_NONE && !fire->agreed_holds) {
        RAW(out, "<dd class=\"wrong\">");
        html_word(out, page, WORD_SAYS_CHECKING_DATE);
        RAW(out, "</dd>");
    }
    if (fire->earliest_day != DAY_NONE)
        date_line(out, page, WORD_YARD_EARLIEST, when_date(when, fire->earliest_day));
    if (fire->p50_day != DAY_NONE)
        date_line(out, page, WORD_YARD_LIKELY, when_date(when, fire->p50_day));
    if (fire->p90_day != DAY_NONE)
        date_line(out, page, WORD_YARD_NINE_IN_TEN, when_date(when, fire->p90_day));
    if (fire->promise_day != DAY_NONE)
        date_line(out, page, WORD_YARD_PROPOSED, when_date(when, fire->promise_day));
    if (fire->at_recent_rate_day != DAY_NONE)
        date_line(out, page, WORD_YARD_RECENT_RATE, when_date(when, fire->at_recent_rate_day));
    RAW(out, "</dl>");
    if (fire->agreed_holds && fire->cure_complete_day != DAY_NONE) {
        struct phrase spare = says_figure((double)(fire->agreed_day - fire->cure_complete_day));
        RAW(out, "<p>");
        HTML_SAY(out, page, WORD_YARD_SPARE, {"n", spare.z});
        RAW(out, "</p>");
    }
    RAW(out, "<p class=\"aside\">");
    html_word(out, page, WORD_SAYS_NOT_PERMISSION);
    RAW(out, "</p></section>");
}

/* The correction that names a record, or NULL. */
static const struct record *correction_of(const struct job *job, const struct record *record)
{
    for (size_t i = 0; i < job->record_count; i++) {
        const struct record *other = &job->records[i];
        if (other->kind == RECORD_CORRECTED && other->corrects != NULL && record->id != NULL &&
            strcmp(other->corrects, record->id) == 0)
            return other;
    }
    return NULL;
}

static void record_item(struct text *out, const struct page *page, const struct when *when,
                        const struct job *job, const struct record *record)
{
    const struct record *correction = correction_of(job, record);
    struct phrase taken = when_day_time(when, record->at_s);
    text_add_z(out, correction == NULL ? "<li><p>" : "<li><p><s>");
    html_record(out, page, when, record);
    if (correction != NULL) {
        RAW(out, "</s> <b>");
        html_word(out, page, correction->with == NULL ? WORD_JOB_WITHDRAWN : WORD_JOB_CORRECTED);
        RAW(out, "</b>");
    }
    RAW(out, "</p><p class=\"aside\">");
    HTML_SAY(out, page, WORD_JOB_TAKEN, {"time", taken.z});
    if (record->received_s != INSTANT_NONE) {
        struct phrase received = when_day_time(when, record->received_s);
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_JOB_RECEIVED, {"time", received.z});
    }
    if (record->by != NULL) {
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_JOB_BY, {"name", record->by});
    }
    if (record->who != NULL) {
        RAW(out, ", ");
        HTML_SAY(out, page, WORD_JOB_WRITTEN_BY, {"name", record->who});
    }
    RAW(out, "</p></li>");
}

/* Newest first: the records stand in the order they were stored. */
static void records(struct text *out, const struct page *page, const struct when *when,
                    const struct job *job)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "records", WORD_JOB_RECORDS);
    if (job->record_count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</p></section>");
        return;
    }
    RAW(out, "<ol class=\"rows records\">");
    size_t shown = job->record_count < RECORDS_SHOWN ? job->record_count : RECORDS_SHOWN;
    for (size_t i = 0; i < shown; i++)
        record_item(out, page, when, job, &job->records[job->record_count - 1 - i]);
    RAW(out, "</ol>");
    if (shown < job->record_count) {
        struct phrase rest = says_figure((double)(job->record_count - shown));
        RAW(out, "<p class=\"aside\">");
        HTML_SAY(out, page, WORD_JOB_MORE_RECORDS, {"n", rest.z});
        RAW(out, "</p>");
    }
    RAW(out, "</section>");
}

static void handout(struct text *out, const struct page *page, const char *before,
                    const char *segment, const char *after, enum word word)
{
    RAW(out, "<li><a href=\"");
    text_add_z(out, before);
    html_segment(out, segment);
    text_add_z(out, after);
    RAW(out, "\">");
    html_word(out, page, word);
    RAW(out, "</a></li>");
}

/* A button that makes a link, or switches it off. */
static void link_button(struct text *out, const struct page *page, const struct job *job,
                        const char *kind, bool off, enum word word)
{
    RAW(out, "<form method=\"post\" action=\"/jobs/");
    html_segment(out, job->id);
    RAW(out, "/links\"><input type=\"hidden\" name=\"kind\" value=\"");
    text_html_z(out, kind);
    RAW(out, "\">");
    if (off) RAW(out, "<input type=\"hidden\" name=\"off\" value=\"1\">");
    if (page->csrf != NULL) {
        RAW(out, "<input type=\"hidden\" name=\"csrf\" value=\"");
        text_html_z(out, page->csrf);
        RAW(out, "\">");
    }
    RAW(out, "<button>");
    html_word(out, page, word);
    RAW(out, "</button></form>");
}

/* A page that opens by a link: the link and the way to switch it off, or the way to make it. */
static void handout_by_link(struct text *out, const struct page *page, const struct job *job,
                            const char *kind, const char *before, const char *token, enum word word,
                            enum word make, enum word off)
{
    if (token != NULL) handout(out, page, before, token, "", word);
    RAW(out, "<li>");
    link_button(out, page, job, kind, token != NULL, token != NULL ? off : make);
    RAW(out, "</li>");
}

static void handouts(struct text *out, const struct page *page, const struct job *job,
                     const struct job_links *links)
{
    const struct job_links none = {NULL, NULL};
    if (links == NULL) links = &none;
    RAW(out, "<section>");
    html_heading(out, page, '2', "links", WORD_JOB_LINKS);
    RAW(out, "<ul class=\"links\">");
    if (job->crew_id != NULL)
        handout_by_link(out, page, job, "crew", "/c/", links->crew_token, WORD_JOB_LINK_CREW,
                        WORD_JOB_LINK_CREW_MAKE, WORD_JOB_LINK_CREW_OFF);
    handout_by_link(out, page, job, "homeowner", "/h/", links->home_token, WORD_JOB_LINK_HOME,
                    WORD_JOB_LINK_HOME_MAKE, WORD_JOB_LINK_HOME_OFF);
    handout(out, page, "/jobs/", job->id, "/tell", WORD_TELL_TITLE);
    handout(out, page, "/jobs/", job->id, "/letter", WORD_LETTER_TITLE);
    handout(out, page, "/jobs/", job->id, "/proof", WORD_PROOF_TITLE);
    handout(out, page, "/jobs/", job->id, "/tag", WORD_JOB_LINK_TAG);
    handout(out, page, "/jobs/", job->id, "/fire-sheet", WORD_FIRE_SHEET_TITLE);
    handout(out, page, "/jobs/", job->id, "/day-sheet", WORD_JOB_LINK_SHEET);
    RAW(out, "</ul></section>");
}

static void heading(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct job *site = job->job;
    RAW(out, "<h1>");
    text_html_z(out, site->name == NULL ? site->id : site->name);
    RAW(out, " <small>");
    html_of(out, page, WORD_SET_STAGE, (int)stage_of(job));
    RAW(out, "</small></h1><p>");
    HTML_SAY(out, page, WORD_JOB_PLACE_NOTE,
             {"base", words_of(page->words, WORD_SET_BASE, (int)site->options.base)},
             {"place", words_of(page->words, WORD_SET_PLACE, (int)site->options.place)});
    RAW(out, "</p>");
    if (site->address != NULL) {
        RAW(out, "<p>");
        text_html_z(out, site->address);
        RAW(out, "</p>");
    }
    if (site->note != NULL) {
        RAW(out, "<p>");
        text_html_z(out, site->note);
        RAW(out, "</p>");
    }
}

static void section_links(struct text *out, const struct page *page)
{
    RAW(out, "<nav class=\"sections\"><a href=\"#tasks\">");
    html_word(out, page, WORD_JOB_TASKS);
    RAW(out, "</a> ");
    if (page->forms) {
        RAW(out, "<a href=\"#write\">");
        html_word(out, page, WORD_JOB_WRITE);
        RAW(out, "</a> ");
    }
    RAW(out, "<a href=\"#records\">");
    html_word(out, page, WORD_JOB_RECORDS);
    RAW(out, "</a></nav>");
}

static void job_link(struct text *out, const struct job *job, const char *tail, const char *label)
{
    RAW(out, "<a href=\"/jobs/");
    html_segment(out, job->id);
    text_add_z(out, tail);
    RAW(out, "\">");
    text_html_z(out, label);
    RAW(out, "</a>");
}

/* The other units at one address are jobs of their own. */
static void same_site(struct text *out, const struct page *page, const struct plan *plan,
                      const struct job *job)
{
    bool open = false;
    for (size_t i = 0; plan != NULL && job->site != NULL && i < plan->job_count; i++) {
        const struct job *other = plan->jobs[i].job;
        if (other->site == NULL || strcmp(other->site, job->site) != 0 ||
            strcmp(other->id, job->id) == 0)
            continue;
        text_add_z(out, open ? ", " : "<p class=\"aside\">");
        if (!open) HTML_SAY(out, page, WORD_JOB_SAME_SITE, {"site", job->site});
        if (!open) RAW(out, " \u2013 ");
        open = true;
        job_link(out, other, "", other->name == NULL ? other->id : other->name);
    }
    if (open) RAW(out, "</p>");
}

static void take_over_link(struct text *out, const struct page *page, const struct job *job)
{
    RAW(out, "<p>");
    job_link(out, job, "/take-over", words_get(page->words, WORD_TAKE_OVER_LINK));
    RAW(out, "</p>");
}

void html_job(struct text *out, const struct page *page, const struct plan *plan,
              const struct job_plan *job, const struct job_links *links)
{
    const struct job *site = job->job;
    struct when when = html_when(page, site->zone);
    struct frame frame = {.title = site->name == NULL ? site->id : site->name,
                          .style = "job",
                          .yard_links = true,
                          .pictures = true};
    html_open(out, page, &frame);
    heading(out, page, job);
    html_alarms(out, page, plan, NULL, NULL, job);
    html_cautions(out, page, job);
    same_site(out, page, plan, site);
    section_links(out, page);
    RAW(out, "<div class=\"two\"><div>");
    fire_dates(out, page, &when, job);
    html_work_back(out, page, &when, job);
    clocks(out, page, &when, job);
    RAW(out, "</div><div>");
    tasks(out, page, &when, job);
    RAW(out, "</div></div>");
    pictures(out, page, job);
    if (page->forms) {
        RAW(out, "<section>");
        html_heading(out, page, '2', "write", WORD_JOB_WRITE);
        RAW(out, "<div class=\"forms\">");
        html_forms_job(out, page, job);
        RAW(out, "</div>");
        take_over_link(out, page, site);
        RAW(out, "</section>");
    }
    records(out, page, &when, site);
    handouts(out, page, site, links);
    html_close(out, page, &frame);
}
