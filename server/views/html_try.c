/* SPDX-License-Identifier: MIT */
/*
 * What a try would move: nothing is kept. The first fire before and after, then each task that
 * moves to another day, then the other jobs that move with it because they share a crew or a day.
 */
#include <string.h>

#include "views/change_json.h"
#include "views/html.h"
#include "views/html_yard.h"

#include "base/banned.h"

static void fire_line(struct text *out, const struct page *page, const struct when *when,
                      const struct job_moves *moves)
{
    const struct phrase was = when_date(when, moves->old_fire_day);
    const struct phrase now = when_date(when, moves->new_fire_day);
    RAW(out, "<p class=\"fire\"><b>");
    html_word(out, page, WORD_YARD_FIRE_DATE);
    RAW(out, ":</b> ");
    if (moves->old_fire_day == moves->new_fire_day)
        HTML_SAY(out, page, WORD_TRY_STAYS, {"date", now.z});
    else
        HTML_SAY(out, page, WORD_TRY_FROM_TO, {"was", was.z}, {"now", now.z});
    RAW(out, "</p>");
}

static void moves_table(struct text *out, const struct page *page, const struct when *when,
                        const struct job_moves *moves)
{
    if (moves->count == 0) return;
    RAW(out, "<table><thead><tr><th scope=\"col\">");
    html_word(out, page, WORD_PROOF_TASK);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_TRY_NOW_PLANNED);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_TRY_WOULD);
    RAW(out, "</th></tr></thead><tbody>");
    for (size_t i = 0; i < moves->count; i++) {
        const struct date_move *move = &moves->moves[i];
        RAW(out, "<tr><th scope=\"row\">");
        html_of(out, page, WORD_SET_TASK, (int)move->task);
        RAW(out, "</th><td>");
        text_html_z(out, when_day_time(when, move->old_s).z);
        RAW(out, "</td><td>");
        text_html_z(out, when_day_time(when, move->new_s).z);
        RAW(out, "</td></tr>");
    }
    RAW(out, "</tbody></table>");
}

/* States that change without a date moving: a hold point passed, a wait that stops. */
static void states(struct text *out, const struct page *page, const struct job_moves *moves)
{
    bool begun = false;
    for (int t = 0; t < TASK_COUNT; t++) {
        const enum task_state was = moves->before->tasks[t].state;
        const enum task_state is = moves->after->tasks[t].state;
        if (was == is) continue;
        if (!begun) RAW(out, "<ul class=\"rows\">");
        begun = true;
        RAW(out, "<li><b>");
        html_of(out, page, WORD_SET_TASK, t);
        RAW(out, ":</b> ");
        html_state(out, page, was);
        RAW(out, " \u2192 ");
        html_state(out, page, is);
        RAW(out, "</li>");
    }
    if (begun) RAW(out, "</ul>");
}

static void others(struct text *out, const struct page *page, const struct job_plan *job,
                   const struct job_moves *moves, size_t count)
{
    bool begun = false;
    for (size_t i = 0; i < count; i++) {
        const struct job_moves *one = &moves[i];
        if (one->after == NULL || one->after->job == NULL || one->count == 0) continue;
        if (strcmp(one->after->job->id, job->job->id) == 0) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "others", WORD_TRY_OTHERS);
        }
        begun = true;
        const struct when when = html_when(page, one->after->job->zone);
        RAW(out, "<h3>");
        html_yard_job_link(out, one->after->job);
        RAW(out, "</h3>");
        moves_table(out, page, &when, one);
    }
    if (begun) RAW(out, "</section>");
}

void html_try(struct text *out, const struct page *page, const struct job_plan *job,
              const struct job_moves *moves, size_t count)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_TRY_TITLE), .style = "yard", .yard_links = true};
    const struct when when = html_when(page, job->job->zone);
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_TRY_TITLE);
    RAW(out, ": ");
    html_yard_job_link(out, job->job);
    RAW(out, "</h1><p role=\"status\"><b>");
    html_word(out, page, WORD_TRY_NOTHING_KEPT);
    RAW(out, "</b></p>");
    for (size_t i = 0; i < count; i++) {
        if (moves[i].after == NULL || strcmp(moves[i].after->job->id, job->job->id) != 0) continue;
        struct text slip = TEXT_UP_TO(4000);
        fire_line(out, page, &when, &moves[i]);
        says_slip(&slip, &when, &moves[i]);
        RAW(out, "<p>");
        text_html_z(out, text_z(&slip));
        RAW(out, "</p>");
        text_free(&slip);
        states(out, page, &moves[i]);
        moves_table(out, page, &when, &moves[i]);
    }
    others(out, page, job, moves, count);
    html_close(out, page, &frame);
}
