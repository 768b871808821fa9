/* SPDX-License-Identifier: MIT */
/*
 * The draft of a message to the homeowner, for the owner to read, change, and send or copy. Nothing
 * goes to a homeowner by itself. What was sent before stands below it.
 */
#include "views/html.h"

#include "base/banned.h"

static void earlier(struct text *out, const struct page *page, const struct when *when,
                    const struct tell *tell)
{
    if (tell->sent_count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "earlier", WORD_TELL_EARLIER);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < tell->sent_count; i++) {
        const struct tell_sent *mail = &tell->sent[i];
        const struct phrase made = when_day_time(when, mail->made_s);
        RAW(out, "<li><details><summary>");
        text_html_z(out, made.z);
        RAW(out, " ");
        text_html_z(out, mail->receiver);
        RAW(out, ": ");
        text_html_z(out, mail->subject);
        RAW(out, " (");
        if (mail->sent_s == INSTANT_NONE) {
            html_word(out, page, WORD_TELL_WAITS);
        } else {
            const struct phrase sent = when_day_time(when, mail->sent_s);
            HTML_SAY(out, page, WORD_TELL_LEFT, {"time", sent.z});
        }
        RAW(out, ")</summary><pre class=\"mail\">");
        text_html_z(out, mail->body);
        RAW(out, "</pre></details></li>");
    }
    RAW(out, "</ul></section>");
}

static void draft(struct text *out, const struct page *page, const struct job *job,
                  const struct tell *tell)
{
    RAW(out, "<form class=\"tell\" method=\"post\" action=\"/jobs/");
    html_segment(out, job->id);
    RAW(out, "/tell\"><input type=\"hidden\" name=\"id\" value=\"");
    text_html_z(out, tell->id);
    RAW(out, "\">");
    if (page->csrf != NULL) {
        RAW(out, "<input type=\"hidden\" name=\"csrf\" value=\"");
        text_html_z(out, page->csrf);
        RAW(out, "\">");
    }
    RAW(out, "<p>");
    if (tell->receiver == NULL)
        html_word(out, page, WORD_TELL_NO_ADDRESS);
    else
        HTML_SAY(out, page, WORD_TELL_TO, {"address", tell->receiver});
    RAW(out, "</p><p><label>");
    html_word(out, page, WORD_TELL_SUBJECT);
    RAW(out, "<input name=\"subject\" maxlength=\"200\" required value=\"");
    text_html_z(out, tell->subject);
    RAW(out, "\"></label></p><p><label>");
    html_word(out, page, WORD_TELL_BODY);
    RAW(out, "<textarea name=\"body\" rows=\"16\" required>\n");
    text_html_z(out, tell->body);
    RAW(out, "</textarea></label></p>");
    if (tell->receiver != NULL && tell->can_send) {
        RAW(out, "<button>");
        html_word(out, page, WORD_TELL_SEND);
        RAW(out, "</button>");
    } else {
        RAW(out, "<p>");
        html_word(out, page, WORD_TELL_COPY);
        RAW(out, "</p>");
    }
    RAW(out, "</form>");
}

void html_tell(struct text *out, const struct page *page, const struct job_plan *job,
               const struct tell *tell)
{
    const struct frame frame = {.title = words_get(page->words, WORD_TELL_TITLE),
                                .style = "job",
                                .noindex = true,
                                .yard_links = true};
    const struct when when = html_when(page, job->job->zone);
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_TELL_TITLE);
    RAW(out, " <small>");
    text_html_z(out, job->job->name == NULL ? job->job->id : job->job->name);
    RAW(out, "</small></h1><p><a href=\"/jobs/");
    html_segment(out, job->job->id);
    RAW(out, "\">");
    html_word(out, page, WORD_TELL_JOB);
    RAW(out, "</a></p>");
    if (tell->wrong != NULL) {
        RAW(out, "<p class=\"refused\" role=\"alert\">");
        html_word(out, page, WORD_PAGE_REFUSED);
        RAW(out, " ");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", tell->wrong->found},
                 {"wanted", tell->wrong->wanted});
        RAW(out, "</p>");
    }
    draft(out, page, job->job, tell);
    earlier(out, page, &when, tell);
    html_close(out, page, &frame);
}
