/* SPDX-License-Identifier: MIT */
/*
 * The weeks ahead: crew days needed against crew days had, who goes where on each day of the
 * proposal, what nobody is sent to and why, mortar by lot, half-days the weather takes.
 */
#include <math.h>

#include "compute/civil.h"
#include "views/html_screens.h"
#include "views/html_yard.h"

#include "base/banned.h"

enum { ROWS_MAX = 60 };

static void number_cell(struct text *out, double value)
{
    RAW(out, "<td>");
    text_html_z(out, says_figure(value).z);
    RAW(out, "</td>");
}

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

static void weeks_table(struct text *out, const struct page *page, const struct plan *plan)
{
    static const enum word words[] = {WORD_WEEKS_WEEK,   WORD_WEEKS_NEEDED, WORD_WEEKS_HAD,
                                      WORD_WEEKS_PLACED, WORD_WEEKS_IDLE,   WORD_WEEKS_SHORT};
    const struct when when = html_when(page, page->company->zone);
    RAW(out, "<table>");
    HEADS(out, page, words);
    RAW(out, "<tbody>");
    for (size_t i = 0; i < plan->week_count; i++) {
        const struct crew_week *week = &plan->weeks[i];
        RAW(out, "<tr><th scope=\"row\">");
        text_html_z(out, when_date(&when, week->monday).z);
        RAW(out, "</th>");
        number_cell(out, week->needed_days);
        number_cell(out, week->had_days);
        number_cell(out, week->placed_days);
        number_cell(out, week->idle_jobs);
        number_cell(out, week->short_jobs);
        RAW(out, "</tr>");
    }
    RAW(out, "</tbody></table>");
}

/* One place of a day with all that is done there. */
static size_t visit(struct text *out, const struct page *page, const struct crew_day *day, size_t w)
{
    const struct crew_work *first = &day->work[w];
    const struct when when = html_when(page, first->job->zone);
    RAW(out, "<div>");
    html_time(out, first->job->zone, first->start_s, when_clock(&when, first->start_s));
    RAW(out, " ");
    html_yard_job_link(out, first->job);
    RAW(out, ": ");
    const size_t begin = w;
    for (; w < day->work_count && day->work[w].job == first->job; w++) {
        if (w > begin) RAW(out, ", ");
        html_of(out, page, WORD_SET_TASK, (int)day->work[w].task);
    }
    RAW(out, "</div>");
    return w;
}

static const struct crew_day *day_of(const struct crew_plan *crew, int32_t day)
{
    for (size_t i = 0; i < crew->day_count; i++)
        if (crew->days[i].day == day) return &crew->days[i];
    return NULL;
}

/* A row a day on which some crew has work. */
static void crews_table(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct when when = html_when(page, page->company->zone);
    int32_t day = INT32_MIN;
    RAW(out, "<table class=\"crew-days\"><thead><tr><th scope=\"col\">");
    html_word(out, page, WORD_WEEKS_DAY);
    RAW(out, "</th>");
    for (size_t c = 0; c < plan->crew_count; c++) {
        const struct crew *crew = plan->crews[c].crew;
        RAW(out, "<th scope=\"col\">");
        text_html_z(out, crew->name == NULL ? crew->id : crew->name);
        RAW(out, "</th>");
    }
    RAW(out, "</tr></thead><tbody>");
    for (int rows = 0; rows < ROWS_MAX; rows++) {
        int32_t next = INT32_MAX;
        for (size_t c = 0; c < plan->crew_count; c++)
            for (size_t d = 0; d < plan->crews[c].day_count; d++)
                if (plan->crews[c].days[d].day > day && plan->crews[c].days[d].day < next &&
                    plan->crews[c].days[d].work_count > 0)
                    next = plan->crews[c].days[d].day;
        if (next == INT32_MAX) break;
        day = next;
        RAW(out, "<tr><th scope=\"row\">");
        text_html_z(out, when_date(&when, day).z);
        RAW(out, "</th>");
        for (size_t c = 0; c < plan->crew_count; c++) {
            const struct crew_day *one = day_of(&plan->crews[c], day);
            RAW(out, "<td>");
            for (size_t w = 0; one != NULL && w < one->work_count;) w = visit(out, page, one, w);
            RAW(out, "</td>");
        }
        RAW(out, "</tr>");
    }
    RAW(out, "</tbody></table>");
}

static bool is_told(const struct crew_unplaced *one)
{
    return one->why != CREW_UNPLACED_LATER && one->why != CREW_UNPLACED_VISIT &&
           one->why != CREW_UNPLACED_AT_NIGHTFALL;
}

/* Tasks that follow one another in one job for one reason share a row. */
static void unplaced(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct crew_unplaced *row = NULL;
    for (size_t i = 0; i < plan->unplaced_count; i++) {
        const struct crew_unplaced *one = &plan->unplaced[i];
        if (!is_told(one)) continue;
        if (row != NULL && row->job == one->job && row->why == one->why) {
            RAW(out, ", ");
            html_of(out, page, WORD_SET_TASK, (int)one->task);
            continue;
        }
        if (row == NULL) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "unplaced", WORD_WEEKS_UNPLACED);
            RAW(out, "<ul class=\"rows\">");
        } else {
            RAW(out, "</li>");
        }
        row = one;
        RAW(out, "<li>");
        html_yard_job_link(out, one->job);
        RAW(out, ": <b>");
        html_of(out, page, WORD_SET_UNPLACED, (int)one->why);
        RAW(out, "</b>: ");
        html_of(out, page, WORD_SET_TASK, (int)one->task);
    }
    if (row != NULL) RAW(out, "</li></ul></section>");
}

static void bags(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct when when = html_when(page, page->company->zone);
    if (plan->bag_count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "bags", WORD_WEEKS_BAGS);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct bag_lot *lot = &plan->bags[i];
        const struct phrase until = when_date(&when, lot->expires_day);
        RAW(out, "<li>");
        HTML_SAY(out, page, WORD_WEEKS_BAG, {"lot", lot->card->lot == NULL ? "?" : lot->card->lot},
                 {"state", words_of(page->words, WORD_SET_BAG_STATE, (int)lot->state)},
                 {"date", until.z});
        if (lot->job_count > 0) {
            struct text list = TEXT_UP_TO(2000);
            for (size_t k = 0; k < lot->job_count; k++) {
                if (k > 0) text_add_z(&list, ", ");
                text_add_z(&list,
                           lot->jobs[k]->name == NULL ? lot->jobs[k]->id : lot->jobs[k]->name);
            }
            RAW(out, ", ");
            HTML_SAY(out, page, WORD_WEEKS_BAG_JOBS, {"list", text_z(&list)});
            text_free(&list);
        }
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
}

void html_weeks(struct text *out, const struct page *page, const struct plan *plan)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_WEEKS_TITLE), .style = "yard", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_WEEKS_TITLE);
    RAW(out, "</h1>");
    weeks_table(out, page, plan);
    RAW(out, "<section>");
    html_heading(out, page, '2', "crews", WORD_WEEKS_CREWS);
    RAW(out, "<p class=\"aside\">");
    html_word(out, page, WORD_WEEKS_PROPOSAL);
    RAW(out, "</p>");
    crews_table(out, page, plan);
    RAW(out, "</section>");
    unplaced(out, page, plan);
    html_yard_half_days(out, page, plan);
    bags(out, page, plan);
    html_close(out, page, &frame);
}
