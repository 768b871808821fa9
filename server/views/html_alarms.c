/* SPDX-License-Identifier: MIT */
/* Why: see html_alarms.h. An alarm that is no longer so stays, too, and says so: it was on a page.
 */
#include "views/html_alarms.h"

#include <string.h>

#include "views/mail.h"

#include "base/banned.h"

static const struct job_plan *job_of(const struct plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->job_count; i++)
        if (strcmp(plan->jobs[i].job->id, id) == 0) return &plan->jobs[i];
    return NULL;
}

/* Whether a crew's page shows it: its own job, and nothing that only the office can mend. */
static bool is_crews(const struct alarm *alarm, const struct job_plan *job, const struct crew *crew)
{
    if (alarm->kind == ALARM_MISSED) return false;
    return job->job->crew_id != NULL && strcmp(job->job->crew_id, crew->id) == 0;
}

static void button(struct text *out, const struct page *page, const struct alarm *alarm,
                   const char *token)
{
    RAW(out, "<form method=\"post\" action=\"");
    if (token != NULL) {
        RAW(out, "/c/");
        html_segment(out, token);
    }
    RAW(out, "/alarms/");
    text_integer(out, alarm->number);
    RAW(out, "/seen\">");
    if (page->csrf != NULL && token == NULL) {
        RAW(out, "<input type=\"hidden\" name=\"csrf\" value=\"");
        text_html_z(out, page->csrf);
        RAW(out, "\">");
    }
    RAW(out, "<button>");
    html_word(out, page, WORD_ALARM_SEEN);
    RAW(out, "</button></form>");
}

static void item(struct text *out, const struct page *page, const struct job_plan *job,
                 const struct alarm *alarm, const char *token)
{
    const struct when when = html_when(page, job->job->zone);
    const struct phrase found = when_day_time(&when, alarm->at_s);
    struct text said = TEXT_UP_TO(2000);
    mail_say_alarm(&said, &when, alarm);
    RAW(out, "<li><p><b>");
    text_html_z(out, job->job->name == NULL ? job->job->id : job->job->name);
    RAW(out, "</b> ");
    text_html_z(out, text_z(&said));
    RAW(out, "</p><p><small>");
    HTML_SAY(out, page, WORD_ALARM_FOUND, {"time", found.z});
    if (alarm->over_s != INSTANT_NONE) {
        const struct phrase over = when_day_time(&when, alarm->over_s);
        RAW(out, "; ");
        HTML_SAY(out, page, WORD_ALARM_OVER, {"time", over.z});
    }
    RAW(out, "</small></p>");
    if (page->forms) button(out, page, alarm, token);
    RAW(out, "</li>");
    text_free(&said);
}

void html_alarms(struct text *out, const struct page *page, const struct plan *plan,
                 const struct crew *crew, const char *token, const struct job_plan *only)
{
    bool begun = false;
    for (size_t i = 0; page->alarms != NULL && i < page->alarms->count; i++) {
        const struct alarm *alarm = &page->alarms->items[i];
        const struct job_plan *job = job_of(plan, alarm->job_id);
        if (job == NULL || (only != NULL && job != only)) continue;
        if ((crew == NULL ? alarm->seen_s : alarm->crew_seen_s) != INSTANT_NONE) continue;
        if (crew != NULL && !is_crews(alarm, job, crew)) continue;
        if (!begun) {
            RAW(out, "<section class=\"alarms\" role=\"alert\">");
            html_heading(out, page, '2', "alarms", WORD_ALARM_TITLE);
            RAW(out, "<ul class=\"alarm-list\">");
        }
        begun = true;
        item(out, page, job, alarm, token);
    }
    if (begun) RAW(out, "</ul></section>");
}
