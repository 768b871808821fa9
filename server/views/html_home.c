/* SPDX-License-Identifier: MIT */
/*
 * The homeowner's page: readable by an eighty-year-old, printable, one date. The date is the one
 * the owner agreed and is shown only while the plan supports it; no computed date ever stands here,
 * no address, no crew note, and nobody else's name.
 */
#include <math.h>
#include <string.h>

#include "views/html_home.h"
#include "views/svg_day_strip.h"

#include "base/banned.h"

static const enum word home_stages[STAGE_COUNT] = {[STAGE_QUOTED] = WORD_HOME_STAGE_QUOTED,
                                                   [STAGE_PERMIT] = WORD_HOME_STAGE_PERMIT,
                                                   [STAGE_BASE] = WORD_HOME_STAGE_BASE,
                                                   [STAGE_BOX] = WORD_HOME_STAGE_BOX,
                                                   [STAGE_STACK] = WORD_HOME_STAGE_STACK,
                                                   [STAGE_LINING] = WORD_HOME_STAGE_LINING,
                                                   [STAGE_FACING] = WORD_HOME_STAGE_FACING,
                                                   [STAGE_DRYING] = WORD_HOME_STAGE_DRYING,
                                                   [STAGE_FIRST_FIRES] =
                                                       WORD_HOME_STAGE_FIRST_FIRES,
                                                   [STAGE_CLOSED] = WORD_HOME_STAGE_CLOSED,
                                                   [STAGE_ON_HOLD] = WORD_HOME_STAGE_ON_HOLD};

static const enum word please[] = {WORD_PLEASE_RAIN, WORD_PLEASE_AIR,    WORD_PLEASE_WARM,
                                   WORD_PLEASE_WASH, WORD_PLEASE_MANTEL, WORD_PLEASE_LEAN,
                                   WORD_PLEASE_PHOTO};
static const enum word fires[] = {WORD_FIRE_1, WORD_FIRE_2, WORD_FIRE_3, WORD_FIRE_4, WORD_FIRE_5};
static const enum word stop_signs[] = {
    WORD_STOP_SIGN_STEAM, WORD_STOP_SIGN_WATER, WORD_STOP_SIGN_POPPING, WORD_STOP_SIGN_CRACK,
    WORD_STOP_SIGN_LOOSE, WORD_STOP_SIGN_SMOKE, WORD_STOP_SIGN_ALARM};
static const enum word care[] = {
    WORD_CARE_ALARMS, WORD_CARE_CLEAR, WORD_CARE_FUEL,   WORD_CARE_WOOD, WORD_CARE_DAMPER,
    WORD_CARE_ASH,    WORD_CARE_GAS,   WORD_CARE_YEARLY, WORD_CARE_BAN,  WORD_CARE_OUT};

static void word_list(struct text *out, const struct page *page, const enum word *words,
                      size_t count, const char *style)
{
    text_print(out, "<ul class=\"%s\">", style);
    for (size_t i = 0; i < count; i++) {
        RAW(out, "<li>");
        html_word(out, page, words[i]);
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
}
#define WORD_ITEMS(out, page, words, style)                                                        \
    word_list((out), (page), (words), sizeof(words) / sizeof *(words), (style))

static void the_date(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    struct when when = html_when(page, job->job->zone);
    bool burning = fire->blocked_by == 0 && stage_task_done(job, TASK_FIRE_1);
    RAW(out, "<section class=\"date\"><p class=\"the-date\">");
    if (burning) {
        html_word(out, page, WORD_SAYS_NOT_PERMISSION);
    } else if (fire->agreed_day == DAY_NONE) {
        html_word(out, page, WORD_HOME_NO_DATE);
        RAW(out, "</p><p>");
        html_word(out, page, WORD_HOME_NO_DATE_WHY);
    } else if (!fire->agreed_holds) {
        html_word(out, page, WORD_SAYS_CHECKING_DATE);
    } else {
        struct phrase date = when_date(&when, fire->agreed_day);
        HTML_SAY(out, page, WORD_SAYS_FIRST_FIRE, {"date", date.z});
    }
    RAW(out, "</p>");
    const struct clock_plan *dry = stage_clock(job, CLOCK_UNIT_DRY_CURE);
    if (dry != NULL && isfinite(dry->have)) {
        struct phrase have = says_figure(dry->have);
        struct phrase need = says_figure(dry->need);
        RAW(out, "<p>");
        html_bar(out, page, dry->have, dry->need, dry->unit);
        RAW(out, "</p><p>");
        HTML_SAY(out, page, WORD_HOME_COUNTED, {"have", have.z}, {"need", need.z});
        RAW(out, "</p>");
        svg_day_strip(out, page, job, dry, true);
    }
    RAW(out, "</section>");
}

static bool withdrawn(const struct job *job, const struct record *record)
{
    for (size_t i = 0; i < job->record_count; i++) {
        const struct record *other = &job->records[i];
        if (other->kind == RECORD_CORRECTED && other->corrects != NULL && record->id != NULL &&
            strcmp(other->corrects, record->id) == 0)
            return true;
    }
    return false;
}

/* When and why the date moved, in the owner's own clause. The earlier dates are not repeated: a
 * date that is no longer supported stands nowhere on this page, not even as a past one. */
static void moved(struct text *out, const struct page *page, const struct job_plan *job)
{
    struct when when = html_when(page, job->job->zone);
    size_t given = 0;
    for (size_t i = 0; i < job->job->record_count; i++) {
        const struct record *record = &job->job->records[i];
        if (record->kind != RECORD_AGREED || record->at_s > page->now_s ||
            withdrawn(job->job, record) || ++given == 1)
            continue;
        if (given == 2) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "moved", WORD_HOME_MOVED);
            RAW(out, "<ul class=\"rows\">");
        }
        struct phrase day = when_date_of(&when, record->at_s);
        RAW(out, "<li>");
        HTML_SAY(out, page, WORD_HOME_MOVED_LINE, {"when", day.z});
        if (record->reason != NULL) {
            RAW(out, " ");
            html_word(out, page, WORD_PAGE_BECAUSE);
            RAW(out, ": ");
            text_html_z(out, record->reason);
        }
        RAW(out, "</li>");
    }
    if (given >= 2) RAW(out, "</ul></section>");
}

static void fire_line(struct text *out, const struct page *page, enum word word)
{
    RAW(out, "<p><b>");
    html_word(out, page, word);
    RAW(out, "</b></p>");
}

/* Which fire is next and how big, once the key is handed over; a stop comes before any size. */
static void next_fire(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct fire_plan *fire = &job->fire;
    const bool begun = fire->last_fire_s != INSTANT_NONE || stage_task_done(job, TASK_HANDOVER);
    if (!begun || fire->blocked_by != 0 || fire->next_size < 1 || fire->next_size > 5) return;
    if (fire->sign_hold != NULL) {
        fire_line(out, page, WORD_HOME_FIRE_LOOK);
        return;
    }
    const bool rests = fire->rest_for != NULL &&
                       (fire->rest_until_s == INSTANT_NONE || fire->rest_until_s > page->now_s);
    if (rests) fire_line(out, page, WORD_HOME_FIRE_REST);
    if (fire->stepped_back > 0) fire_line(out, page, WORD_HOME_FIRE_BACK);
    if (fire->next_extra) fire_line(out, page, WORD_HOME_FIRE_EXTRA);
    struct phrase n = says_figure((double)fire->next_size);
    RAW(out, "<p><b>");
    HTML_SAY(out, page, WORD_HOME_FIRE_NEXT, {"n", n.z});
    RAW(out, "</b></p>");
}

void html_home_fires(struct text *out, const struct page *page, const struct job_plan *job)
{
    RAW(out, "<section class=\"fires\">");
    html_heading(out, page, '2', "fires", WORD_HOME_FIRES);
    RAW(out, "<p>");
    html_word(out, page, WORD_HOME_FIRES_NOTE);
    RAW(out, "</p>");
    next_fire(out, page, job);
    RAW(out, "<ol class=\"ticks\">");
    for (size_t i = 0; i < sizeof fires / sizeof *fires; i++) {
        struct phrase n = says_figure((double)i + 1);
        bool done = stage_task_done(job, (enum task)(TASK_FIRE_1 + (int)i));
        RAW(out, "<li><svg class=\"tick-box\" aria-hidden=\"true\"><use href=\"#sign-");
        text_add_z(out, done ? "done" : "not");
        RAW(out, "\"/></svg><div><b>");
        HTML_SAY(out, page, WORD_HOME_FIRE_N, {"n", n.z});
        RAW(out, "</b> ");
        html_word(out, page, fires[i]);
        RAW(out, "<p class=\"line\">");
        html_word(out, page, done ? WORD_HOME_FIRE_DONE : WORD_HOME_FIRE_DAY);
        RAW(out, "</p></div></li>");
    }
    RAW(out, "</ol><p>");
    html_word(out, page, WORD_HOME_NEXT_FIRE);
    RAW(out, "</p></section><section class=\"stop\">");
    html_heading(out, page, '2', "stop", WORD_HOME_STOP);
    WORD_ITEMS(out, page, stop_signs, "stops");
    RAW(out, "<p><b>");
    html_word(out, page, WORD_HOME_STOP_THEN);
    RAW(out, "</b></p><p>");
    html_word(out, page, WORD_SAYS_STOP_SIGNS);
    RAW(out, "</p></section>");
}

void html_home_care(struct text *out, const struct page *page)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "care", WORD_HOME_CARE);
    WORD_ITEMS(out, page, care, "rows");
    RAW(out, "</section>");
}

void html_home(struct text *out, const struct page *page, const struct job_plan *job)
{
    static const enum word do_not[] = {WORD_HOME_DO_NOT_LIGHT, WORD_HOME_DO_NOT_TAG,
                                       WORD_HOME_DO_NOT_STORE};
    struct frame frame = {.title = words_get(page->words, WORD_HOME_TITLE),
                          .style = "home",
                          .noindex = true,
                          .pictures = true};
    html_open(out, page, &frame);
    enum stage stage = stage_of(job);
    RAW(out, "<h1>");
    html_word(out, page, WORD_HOME_TITLE);
    RAW(out, "</h1><p class=\"where\">");
    html_word(out, page, home_stages[stage]);
    RAW(out, "</p>");
    the_date(out, page, job);
    moved(out, page, job);
    RAW(out, "<section class=\"do-not\">");
    html_heading(out, page, '2', "do-not", WORD_HOME_DO_NOT);
    WORD_ITEMS(out, page, do_not, "stops");
    RAW(out, "</section><section>");
    html_heading(out, page, '2', "please", WORD_HOME_PLEASE);
    WORD_ITEMS(out, page, please, "rows");
    RAW(out, "</section>");
    html_home_fires(out, page, job);
    html_home_care(out, page);
    RAW(out, "<section class=\"call\">");
    html_heading(out, page, '2', "call", WORD_HOME_CALL);
    RAW(out, "<p>");
    if (page->company->phone == NULL) {
        html_word(out, page, WORD_HOME_CALL_NONE);
    } else {
        if (page->company->name != NULL) {
            text_html_z(out, page->company->name);
            RAW(out, ". ");
        }
        html_phone(out, page);
    }
    RAW(out, "</p></section>");
    html_close(out, page, &frame);
}
