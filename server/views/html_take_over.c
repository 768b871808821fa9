/* SPDX-License-Identifier: MIT */
/*
 * Why: the day the owner starts, his jobs stand half built. One page takes one job: a tick and a
 * day for each piece of work, a tick for each wait that is over, who says so and why. It is printed
 * from the job's plan: what is on record already is not asked again.
 */
#include <stdio.h>

#include "views/html.h"
#include "views/html_forms.h"

#include "base/banned.h"

enum { SAID_MAX = 200 };

/* A tick of the whole form; ticked when it came back so. */
static void tick(struct form_out *form, const char *prefix, const char *id, const char *label)
{
    char name[SAID_MAX];
    (void)snprintf(name, sizeof name, "%s%s", prefix, id);
    RAW(form->out, "<label><input type=\"checkbox\" name=\"");
    text_html_z(form->out, name);
    text_add_z(form->out, html_form_typed(form, name) != NULL ? "\" value=\"1\" checked> "
                                                              : "\" value=\"1\"> ");
    text_html_z(form->out, label);
    RAW(form->out, "</label>");
}

static void day(struct form_out *form, const char *id, const char *label)
{
    char name[SAID_MAX];
    (void)snprintf(name, sizeof name, "date.%s", id);
    const char *typed = html_form_typed(form, name);
    RAW(form->out, "<input type=\"date\" name=\"");
    text_html_z(form->out, name);
    RAW(form->out, "\" aria-label=\"");
    HTML_SAY(form->out, form->page, WORD_TAKE_OVER_DAY_OF, {"task", label});
    RAW(form->out, "\" value=\"");
    if (typed != NULL) text_html_z(form->out, typed);
    RAW(form->out, "\">");
    const struct fault *fault = html_form_fault(form, name);
    if (fault == NULL) return;
    RAW(form->out, " <em class=\"wrong\">");
    HTML_SAY(form->out, form->page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
             {"wanted", fault->wanted});
    RAW(form->out, "</em>");
}

static bool asked(const struct task_plan *task)
{
    return task->state != TASK_STATE_NOT_NEEDED && task->done_s == INSTANT_NONE &&
           task->state != TASK_STATE_DONE && task->state != TASK_STATE_PASSED &&
           task->task != TASK_CURE_WATCH && task->task != TASK_NIGHT_COVER;
}

static void tasks(struct form_out *form)
{
    RAW(form->out, "<fieldset><legend>");
    html_word(form->out, form->page, WORD_TAKE_OVER_TASKS);
    RAW(form->out, "</legend><ul class=\"bare\">");
    for (int t = 0; t < TASK_COUNT; t++) {
        if (!asked(&form->job->tasks[t])) continue;
        const char *label = words_of(form->page->words, WORD_SET_TASK, t);
        RAW(form->out, "<li>");
        tick(form, "task.", id_of(&task_ids, t), label);
        RAW(form->out, " ");
        day(form, id_of(&task_ids, t), label);
        RAW(form->out, "</li>");
    }
    RAW(form->out, "</ul></fieldset>");
}

static bool is_open(const struct job_plan *job, int clock)
{
    for (size_t i = 0; i < job->clock_count; i++)
        if ((int)job->clocks[i].clock == clock) return job->clocks[i].state == CLOCK_STATE_OPEN;
    return false;
}

static void clocks(struct form_out *form)
{
    RAW(form->out, "<fieldset><legend>");
    html_word(form->out, form->page, WORD_TAKE_OVER_CLOCKS);
    RAW(form->out, "</legend><p>");
    html_word(form->out, form->page, WORD_TAKE_OVER_CLOCKS_WHY);
    RAW(form->out, "</p><ul class=\"bare\">");
    for (int c = 0; c < CLOCK_COUNT; c++) {
        if (is_open(form->job, c)) continue;
        RAW(form->out, "<li>");
        tick(form, "clock.", id_of(&clock_ids, c), words_of(form->page->words, WORD_SET_CLOCK, c));
        RAW(form->out, "</li>");
    }
    RAW(form->out, "</ul></fieldset>");
}

void html_take_over(struct text *out, const struct page *page, const struct job_plan *job)
{
    const struct frame frame = {.title = job->job->name, .style = "plain", .yard_links = true};
    struct text action = TEXT_UP_TO(1000);
    text_add_z(&action, "/jobs/");
    html_segment(&action, job->job->id);
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    HTML_SAY(out, page, WORD_TAKE_OVER_TITLE, {"job", job->job->name});
    RAW(out, "</h1><p>");
    html_word(out, page, WORD_TAKE_OVER_INTRO);
    RAW(out, "</p><p><a href=\"");
    text_html_z(out, text_z(&action));
    RAW(out, "\">");
    html_word(out, page, WORD_TAKE_OVER_BACK);
    RAW(out, "</a></p>");
    text_add_z(&action, "/take-over");
    struct form_out form = {
        .out = out, .page = page, .job = job, .name = "take-over", .level = '2'};
    html_form_open(&form, text_z(&action), WORD_TAKE_OVER_WHAT, 1);
    html_form_input(&form, "by", WORD_FORM_BY, "text", NULL);
    html_form_input(&form, "reason", WORD_TAKE_OVER_REASON, "text", NULL);
    html_form_input(&form, "done_on", WORD_TAKE_OVER_DONE_ON, "date", NULL);
    tasks(&form);
    clocks(&form);
    html_form_close(&form, WORD_TAKE_OVER_SEND);
    html_close(out, page, &frame);
    text_free(&action);
}
