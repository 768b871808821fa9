/* SPDX-License-Identifier: MIT */
/* Why: see html.h. Signs are symbols drawn once at the top of each page and used by name, so that a
 * state costs some forty bytes and reads in black and white. */
#include "views/html.h"
#include "views/html_screens.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "compute/civil.h"

#include "base/banned.h"

/* The shapes. Solid square: the wait is over. Open square: not yet. Bar: curing. Triangle: check.
 * Cross-hatch: stopped. Tick: done. Half square: work under way. */
static const char sprite[] =
    "<svg class=\"sprite\" width=\"0\" height=\"0\" aria-hidden=\"true\" focusable=\"false\">"
    "<symbol id=\"sign-over\" viewBox=\"0 0 16 16\"><path d=\"M1 1h14v14H1z\"/></symbol>"
    "<symbol id=\"sign-not\" viewBox=\"0 0 16 16\">"
    "<path fill-rule=\"evenodd\" d=\"M1 1h14v14H1zM3 3v10h10V3z\"/></symbol>"
    "<symbol id=\"sign-half\" viewBox=\"0 0 16 16\">"
    "<path fill-rule=\"evenodd\" d=\"M1 1h14v14H1zM3 3v5h10V3z\"/></symbol>"
    "<symbol id=\"sign-bar\" viewBox=\"0 0 16 16\">"
    "<path fill-rule=\"evenodd\" d=\"M0 4h16v8H0zM8 6v4h6V6z\"/></symbol>"
    "<symbol id=\"sign-check\" viewBox=\"0 0 16 16\">"
    "<path fill-rule=\"evenodd\" d=\"M8 0l8 15H0zM7 5v5h2V5zM7 11v2h2v-2z\"/></symbol>"
    "<symbol id=\"sign-stop\" viewBox=\"0 0 16 16\"><path fill-rule=\"evenodd\" "
    "d=\"M0 0h16v16H0zM2 2v2l2-2zM6 2L2 6v2l6-6zM10 2l-8 8v2L12 2zM14 2L2 14l2 0L14 4z"
    "M14 6l-8 8h2l6-6zM14 10l-4 4h2l2-2z\"/></symbol>"
    "<symbol id=\"sign-done\" viewBox=\"0 0 16 16\"><path d=\"M1 8l3-2 3 4 6-9 2 2-8 "
    "12z\"/></symbol>"
    "</svg>";

void html_sprite(struct text *out)
{
    text_add(out, sprite, sizeof sprite - 1);
}

void html_word(struct text *out, const struct page *page, enum word word)
{
    text_html_z(out, words_get(page->words, word));
}

void html_of(struct text *out, const struct page *page, enum word_set set, int value)
{
    text_html_z(out, words_of(page->words, set, value));
}

void html_fill(struct text *out, const char *template, const struct word_arg *args, size_t count)
{
    struct text plain = TEXT_UP_TO(1 << 16);
    words_fill(&plain, template, args, count);
    if (plain.failed) out->failed = true;
    text_html_z(out, text_z(&plain));
    text_free(&plain);
}

struct when html_when(const struct page *page, const struct zone *zone)
{
    return (struct when){.words = page->words, .zone = zone, .now_s = page->now_s};
}

void html_segment(struct text *out, const char *segment)
{
    for (const char *at = segment; *at != '\0'; at++) {
        unsigned char byte = (unsigned char)*at;
        if (isalnum(byte) || byte == '-' || byte == '_' || byte == '.' || byte == '~') {
            text_add_byte(out, *at);
        } else {
            text_print(out, "%%%02X", byte);
        }
    }
}

void html_hidden(struct text *out, const char *name, const char *value)
{
    if (value == NULL) return;
    text_print(out, "<input type=\"hidden\" name=\"%s\" value=\"", name);
    text_html_z(out, value);
    RAW(out, "\">");
}

void html_time(struct text *out, const struct zone *zone, int64_t at_s, struct phrase phrase)
{
    if (at_s == INSTANT_NONE) {
        text_html_z(out, phrase.z);
        return;
    }
    RAW(out, "<time datetime=\"");
    text_instant(out, at_s, zone);
    RAW(out, "\">");
    text_html_z(out, phrase.z);
    RAW(out, "</time>");
}

void html_phone(struct text *out, const struct page *page)
{
    const char *phone = page->company == NULL ? NULL : page->company->phone;
    if (phone == NULL) return;
    RAW(out, "<a class=\"phone\" href=\"tel:");
    for (const char *at = phone; *at != '\0'; at++) {
        if (isdigit((unsigned char)*at) || *at == '+') text_add_byte(out, *at);
    }
    RAW(out, "\">");
    HTML_SAY(out, page, WORD_PAGE_CALL, {"phone", phone});
    RAW(out, "</a>");
}

/* Texts that scripts may show: they are words too, so they stand in the page, hidden. */
static void script_texts(struct text *out, const struct page *page)
{
    static const struct {
        const char *name;
        enum word word;
    } texts[] = {
        {"kept", WORD_PAGE_KEPT}, {"sent", WORD_PAGE_SENT}, {"refused", WORD_PAGE_REFUSED}};
    RAW(out, "<div id=\"says\" role=\"status\" aria-live=\"polite\"></div><div hidden>");
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        text_print(out, "<p data-says=\"%s\">", texts[i].name);
        html_word(out, page, texts[i].word);
        RAW(out, "</p>");
    }
    RAW(out, "<p data-says=\"clock-skew\">");
    HTML_SAY(out, page, WORD_PAGE_CLOCK_SKEW, {"n", "#"});
    RAW(out, "</p></div>");
}

void html_language_switch(struct text *out, const struct page *page)
{
    const char *other = strcmp(words_language(page->words), "en") == 0 ? "es" : "en";
    text_print(out, "<a class=\"switch\" lang=\"%s\" hreflang=\"%s\" href=\"", other, other);
    text_html_z(out, page->path);
    text_print(out, "?lang=%s\">", other);
    html_word(out, page, WORD_LANG_SWITCH);
    RAW(out, "</a>");
}

/* Whoever came in by the door has a way out on each page. */
static void way_out(struct text *out, const struct page *page)
{
    if (page->people) {
        RAW(out, "<a href=\"/people\">");
        html_word(out, page, WORD_NAV_PEOPLE);
        RAW(out, "</a>");
    }
    if (page->signed_in == NULL) return;
    RAW(out, "<form class=\"out\" method=\"post\" action=\"/sign-out\">");
    html_hidden(out, "csrf", page->csrf);
    HTML_SAY(out, page, WORD_SIGN_AS, {"name", page->signed_in});
    RAW(out, " <button type=\"submit\">");
    html_word(out, page, WORD_SIGN_OUT);
    RAW(out, "</button></form>");
}

void html_as_of(struct text *out, const struct page *page)
{
    struct when when = html_when(page, page->company->zone);
    struct phrase time = when_day_time(&when, page->now_s);
    RAW(out, "<p class=\"as-of\" data-as-of=\"");
    text_integer(out, page->now_s);
    RAW(out, "\">");
    HTML_SAY(out, page, WORD_PAGE_AS_OF, {"time", time.z});
    RAW(out, " <strong class=\"old\" hidden>");
    html_word(out, page, WORD_PAGE_OLD_SAYS);
    RAW(out, "</strong></p>");
}

void html_open(struct text *out, const struct page *page, const struct frame *frame)
{
    text_print(out, "<!doctype html>\n<html lang=\"%s\"><head><meta charset=\"utf-8\">",
               words_language(page->words));
    RAW(out, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
    if (frame->noindex) RAW(out, "<meta name=\"robots\" content=\"noindex, nofollow\">");
    if (frame->look_again != NULL) {
        RAW(out, "<meta http-equiv=\"refresh\" content=\"0; url=");
        text_html_z(out, frame->look_again);
        RAW(out, "\">");
    }
    RAW(out, "<meta name=\"referrer\" content=\"no-referrer\"><title>");
    text_html_z(out, frame->title);
    RAW(out, "</title><link rel=\"icon\" href=\"/static/icon.svg\" type=\"image/svg+xml\">");
    /* tokens, base, the page and paper in one: http/assets.c puts them together */
    text_print(out, "<link rel=\"stylesheet\" href=\"/static/css/whole-%s.css\">", frame->style);
    if (frame->pictures) RAW(out, "<link rel=\"stylesheet\" href=\"/static/css/svg.css\">");
    text_print(out, "</head><body class=\"%s\">", frame->style);
    html_sprite(out);
    if (frame->paper) {
        RAW(out, "<main id=\"main\">");
        return;
    }
    RAW(out, "<a class=\"skip\" href=\"#main\">");
    html_word(out, page, WORD_PAGE_SKIP);
    RAW(out, "</a><header class=\"top\">");
    html_as_of(out, page);
    html_language_switch(out, page);
    way_out(out, page);
    RAW(out, "</header>");
    if (frame->yard_links) html_nav(out, page);
    RAW(out, "<main id=\"main\">");
    if (page->demo != NULL) {
        RAW(out, "<p class=\"notice\">");
        HTML_SAY(out, page, WORD_SIGN_DEMO, {"name", page->demo});
        RAW(out, "</p>");
    }
    script_texts(out, page);
    if (page->notice != WORD_COUNT) {
        RAW(out, "<p class=\"notice\" role=\"status\">");
        html_word(out, page, page->notice);
        RAW(out, "</p>");
    }
}

void html_close(struct text *out, const struct page *page, const struct frame *frame)
{
    RAW(out, "</main>");
    if (!frame->paper) {
        RAW(out, "<footer class=\"foot\"><p>");
        html_word(out, page, WORD_PAGE_MAY_CHANGE);
        RAW(out, "</p></footer>");
    }
    /* last, so that on a slow line nothing comes between the words and their style */
    if (!frame->paper)
        RAW(out, "<script type=\"module\" src=\"/static/js/page.js\" "
                 "fetchpriority=\"low\"></script>");
    RAW(out, "</body></html>\n");
}

void html_heading(struct text *out, const struct page *page, char level, const char *id,
                  enum word word)
{
    text_print(out, "<h%c id=\"%s\">", level, id);
    html_word(out, page, word);
    text_print(out, "</h%c>", level);
}

static void sign(struct text *out, const char *name)
{
    text_print(out, "<svg class=\"sign\" aria-hidden=\"true\"><use href=\"#sign-%s\"/></svg> ",
               name);
}

static const char *state_sign(enum task_state state)
{
    switch (state) {
    case TASK_STATE_WAIT_OVER:
        return "over";
    case TASK_STATE_WORKING:
        return "half";
    case TASK_STATE_WAITING_CURE:
        return "bar";
    case TASK_STATE_CHECK_IT:
        return "check";
    case TASK_STATE_DONE:
    case TASK_STATE_PASSED:
        return "done";
    case TASK_STATE_STOPPED:
    case TASK_STATE_REDO:
        return "stop";
    default:
        return "not";
    }
}

void html_state(struct text *out, const struct page *page, enum task_state state)
{
    RAW(out, "<span class=\"state\">");
    sign(out, state_sign(state));
    html_of(out, page, WORD_SET_STATE, (int)state);
    RAW(out, "</span>");
}

void html_clock_state(struct text *out, const struct page *page, enum clock_state state)
{
    static const char *const signs[CLOCK_STATE_COUNT] = {[CLOCK_STATE_NOT_STARTED] = "not",
                                                         [CLOCK_STATE_RUNNING] = "bar",
                                                         [CLOCK_STATE_OPEN] = "over",
                                                         [CLOCK_STATE_CHECK_IT] = "check",
                                                         [CLOCK_STATE_ENDED] = "stop"};
    RAW(out, "<span class=\"state\">");
    sign(out, signs[state]);
    html_of(out, page, WORD_SET_CLOCK_STATE, (int)state);
    RAW(out, "</span>");
}

void html_bar(struct text *out, const struct page *page, double have, double need, enum unit unit)
{
    if (!isfinite(have) || !isfinite(need) || need <= 0) return;
    double share = have / need;
    if (share > 1) share = 1;
    if (share < 0) share = 0;
    struct text label = TEXT_UP_TO(400);
    says_have_need(&label, page->words, have, need, unit);
    RAW(out, "<span class=\"figures\"><svg class=\"bar\" viewBox=\"0 0 100 12\" "
             "preserveAspectRatio=\"none\" role=\"img\" aria-label=\"");
    text_html_z(out, text_z(&label));
    text_print(out,
               "\"><rect class=\"bar-frame\" width=\"100\" height=\"12\"/>"
               "<rect class=\"bar-fill\" width=\"%d\" height=\"12\"/></svg> ",
               (int)floor(share * 100.0));
    RAW(out, "<b class=\"bar-text\" aria-hidden=\"true\">");
    struct phrase h = says_figure(have);
    struct phrase n = says_figure(need);
    HTML_SAY(out, page, WORD_FIGURES_BAR, {"have", h.z}, {"need", n.z});
    RAW(out, "</b></span>");
    text_free(&label);
}

void html_reason(struct text *out, const struct page *page, const struct when *when,
                 const struct reason *reason)
{
    struct text plain = TEXT_UP_TO(4000);
    says_reason(&plain, when, reason);
    text_html_z(out, text_z(&plain));
    text_clear(&plain);
    says_standing(&plain, when, reason->mark, reason->source);
    if (plain.length > 0) {
        RAW(out, " <small>(");
        text_html_z(out, text_z(&plain));
        RAW(out, ")</small>");
    }
    text_free(&plain);
    (void)page;
}

void html_because(struct text *out, const struct page *page, const struct when *when,
                  const struct reason *because, size_t count)
{
    if (count == 0) return;
    struct text first = TEXT_UP_TO(4000);
    says_reason(&first, when, &because[0]);
    RAW(out, "<details class=\"because\"><summary><b>");
    html_word(out, page, WORD_PAGE_BECAUSE);
    RAW(out, ":</b> ");
    text_html_z(out, text_z(&first));
    RAW(out, "</summary><ul>");
    for (size_t i = 0; i < count; i++) {
        RAW(out, "<li>");
        html_reason(out, page, when, &because[i]);
        RAW(out, "</li>");
    }
    RAW(out, "</ul></details>");
    text_free(&first);
}

/* All that passed without measures on one line, at the first of them. */
static bool passed_by_name(struct text *out, const struct page *page, const struct job_plan *job,
                           size_t first)
{
    for (size_t i = 0; i < first; i++)
        if (job->cautions[i].caution == CAUTION_PASSED_WITHOUT_CHECKS) return false;
    struct text list = TEXT_UP_TO(2000);
    for (size_t i = first; i < job->caution_count; i++) {
        if (job->cautions[i].caution != CAUTION_PASSED_WITHOUT_CHECKS) continue;
        if (list.length > 0) text_add_z(&list, ", ");
        text_add_z(&list, words_of(page->words, WORD_SET_TASK, (int)job->cautions[i].task));
    }
    words_fill(out, words_of(page->words, WORD_SET_CAUTION, CAUTION_PASSED_WITHOUT_CHECKS),
               (const struct word_arg[]){{"task", text_z(&list)}}, 1);
    text_free(&list);
    return true;
}

void html_cautions(struct text *out, const struct page *page, const struct job_plan *job)
{
    if (job->caution_count == 0) return;
    struct when when = html_when(page, job->job->zone);
    struct text plain = TEXT_UP_TO(4000);
    RAW(out, "<ul class=\"cautions\">");
    for (size_t i = 0; i < job->caution_count; i++) {
        text_clear(&plain);
        if (job->cautions[i].caution == CAUTION_PASSED_WITHOUT_CHECKS) {
            if (!passed_by_name(&plain, page, job, i)) continue;
        } else {
            says_caution(&plain, &when, &job->cautions[i]);
        }
        RAW(out, "<li>");
        sign(out, "check");
        text_html_z(out, text_z(&plain));
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
    text_free(&plain);
}

void html_forecast_old(struct text *out, const struct page *page, const struct when *when,
                       int64_t made_s)
{
    struct text plain = TEXT_UP_TO(1000);
    says_forecast_old(&plain, when, made_s);
    RAW(out, " <small class=\"old-forecast\">");
    sign(out, "check");
    text_html_z(out, text_z(&plain));
    RAW(out, "</small>");
    text_free(&plain);
    (void)page;
}

void html_fire_old(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct when when = html_when(page, job->job->zone);
    for (size_t i = 0; i < job->clock_count; i++) {
        const struct clock_plan *clock = &job->clocks[i];
        if (clock->part != PART_UNIT || clock->state != CLOCK_STATE_RUNNING ||
            (clock->assumes & ASSUME_FORECAST_OLD) == 0)
            continue;
        html_forecast_old(out, page, &when, clock->forecast_made_s);
        return;
    }
}

void html_rests_on(struct text *out, const struct page *page, const struct when *when,
                   const struct clock_plan *clock)
{
    const struct record *reading = clock->last_reading;
    if (reading != NULL) {
        struct phrase value = says_degrees(reading->temp_degc);
        struct phrase time = when_day_time(when, reading->at_s);
        struct phrase age = when_age(when, reading->at_s);
        const char *how = reading->how == HOW_NONE
                              ? words_of(page->words, WORD_SET_HOW, HOW_PROBE)
                              : words_of(page->words, WORD_SET_HOW, (int)reading->how);
        RAW(out, "<p class=\"rests\">");
        HTML_SAY(out, page, WORD_YARD_RESTS_ON, {"value", value.z}, {"how", how}, {"time", time.z},
                 {"age", age.z});
        RAW(out, "</p>");
    } else if (clock->no_reading_since_s == INSTANT_NONE && clock->state == CLOCK_STATE_RUNNING) {
        RAW(out, "<p class=\"rests\">");
        html_word(out, page, WORD_YARD_RESTS_ON_STATION);
        RAW(out, "</p>");
    }
    if (clock->no_reading_since_s != INSTANT_NONE) {
        struct caution caution = {.caution = CAUTION_NO_READING,
                                  .part = PART_NONE,
                                  .task = TASK_NONE,
                                  .at_s = clock->no_reading_since_s,
                                  .value = NAN,
                                  .quantity = QUANTITY_NONE};
        struct text plain = TEXT_UP_TO(1000);
        says_caution(&plain, when, &caution);
        RAW(out, "<p class=\"no-reading\">");
        sign(out, "check");
        text_html_z(out, text_z(&plain));
        RAW(out, "</p>");
        text_free(&plain);
    }
}
