/* SPDX-License-Identifier: MIT */
/*
 * The proof file of a job: what is missing first, then every wait with its figures, every check,
 * the dates given, the photos and every record with its place in the chain, as one page to print.
 * It claims nothing that is not on record, and hides nothing that is: a withdrawn record stands
 * there struck through.
 */
#include <math.h>
#include <string.h>

#include "views/html.h"
#include "views/html_record.h"
#include "views/svg_day_strip.h"

#include "base/banned.h"

enum { MARK_SHOWN = 16 /**< first hex digits of a hash: enough to find it by */ };

static void cell(struct text *out, const char *plain)
{
    RAW(out, "<td>");
    text_html_z(out, plain == NULL ? "" : plain);
    RAW(out, "</td>");
}

static void head_row(struct text *out, const struct page *page, const enum word *words,
                     size_t count)
{
    RAW(out, "<table class=\"proof-table\"><thead><tr>");
    for (size_t i = 0; i < count; i++) {
        RAW(out, "<th scope=\"col\">");
        html_word(out, page, words[i]);
        RAW(out, "</th>");
    }
    RAW(out, "</tr></thead><tbody>");
}
#define HEAD_ROW(out, page, words) head_row((out), (page), (words), sizeof(words) / sizeof *(words))

/* --- what is missing ------------------------------------------------------------------------- */

static void missing_item(struct text *out, const struct page *page, enum task task, enum word word)
{
    RAW(out, "<li><b>");
    html_of(out, page, WORD_SET_TASK, (int)task);
    RAW(out, "</b>: ");
    html_word(out, page, word);
    RAW(out, "</li>");
}

/* A task as a claim would look at it: not done, not passed, passed without measures or a photo. */
static size_t missing_of(struct text *out, const struct page *page, const struct task_plan *task)
{
    if (task->state == TASK_STATE_NOT_NEEDED) return 0;
    if (!stage_task_over(task)) {
        missing_item(out, page, task->task,
                     task->held ? WORD_PROOF_NOT_PASSED : WORD_PROOF_NOT_DONE);
        return 1;
    }
    if (task->pass != NULL && !task->measured) {
        missing_item(out, page, task->task, WORD_PROOF_NO_MEASURES);
        return 1;
    }
    size_t count = 0;
    for (size_t i = 0; i < task->check_count; i++) {
        const struct check_plan *check = &task->checks[i];
        if (check->state == CHECK_STATE_HOLDS || check->state == CHECK_STATE_LEFT_OUT) continue;
        RAW(out, "<li><b>");
        html_of(out, page, WORD_SET_TASK, (int)task->task);
        RAW(out, "</b>: ");
        html_of(out, page, WORD_SET_CHECK_OF, (int)check->check);
        RAW(out, "</li>");
        count++;
    }
    if (task->pass != NULL && !task->photo) {
        missing_item(out, page, task->task, WORD_PROOF_NO_PHOTO);
        count++;
    }
    return count;
}

/* What passed without its measures stands in the list above. */
static void cautions(struct text *out, const struct when *when, const struct job_plan *job)
{
    struct text plain = TEXT_UP_TO(2000);
    RAW(out, "<ul>");
    for (size_t i = 0; i < job->caution_count; i++) {
        if (job->cautions[i].caution == CAUTION_PASSED_WITHOUT_CHECKS) continue;
        text_clear(&plain);
        says_caution(&plain, when, &job->cautions[i]);
        RAW(out, "<li>");
        text_html_z(out, text_z(&plain));
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
    text_free(&plain);
}

static void missing(struct text *out, const struct page *page, const struct when *when,
                    const struct job_plan *job)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "missing", WORD_PROOF_MISSING);
    RAW(out, "<ul>");
    size_t count = 0;
    for (int t = 0; t < TASK_COUNT; t++) count += missing_of(out, page, &job->tasks[t]);
    if (count == 0) {
        RAW(out, "<li>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</li>");
    }
    RAW(out, "</ul>");
    cautions(out, when, job);
    RAW(out, "</section>");
}

/* --- waits ----------------------------------------------------------------------------------- */

static void clock_row(struct text *out, const struct page *page, const struct when *when,
                      const struct clock_plan *clock)
{
    struct text plain = TEXT_UP_TO(1000);
    RAW(out, "<tr><th scope=\"row\">");
    html_of(out, page, WORD_SET_CLOCK, (int)clock->clock);
    RAW(out, "</th>");
    cell(out, when_exact(when, clock->start_s).z);
    RAW(out, "<td>");
    html_clock_state(out, page, clock->state);
    RAW(out, "</td>");
    if (isfinite(clock->have) && isfinite(clock->need))
        says_have_need(&plain, page->words, clock->have, clock->need, clock->unit);
    if (clock->floor_h > 0) {
        const struct phrase floor_h = says_figure(clock->floor_h);
        if (plain.length > 0) text_add_z(&plain, "; ");
        WORDS_SAY(&plain, page->words, WORD_FIGURES_FLOOR, {"floor", floor_h.z});
    }
    cell(out, text_z(&plain));
    cell(out, when_exact(when, clock->crossing_s).z);
    text_clear(&plain);
    says_standing(&plain, when, clock->need_mark, clock->source);
    if (clock->accepted != NULL) {
        if (plain.length > 0) text_add_z(&plain, "; ");
        says_assume(&plain, when, clock, ASSUME_ACCEPTED);
    }
    cell(out, text_z(&plain));
    RAW(out, "</tr>");
    text_free(&plain);
}

static void waits(struct text *out, const struct page *page, const struct when *when,
                  const struct job_plan *job)
{
    static const enum word heads[] = {WORD_PROOF_WAIT,    WORD_PROOF_BEGAN, WORD_PROOF_STATE,
                                      WORD_PROOF_FIGURES, WORD_PROOF_BOTH,  WORD_PROOF_RULE};
    RAW(out, "<section>");
    html_heading(out, page, '2', "waits", WORD_PROOF_WAITS);
    HEAD_ROW(out, page, heads);
    for (size_t i = 0; i < job->clock_count; i++) clock_row(out, page, when, &job->clocks[i]);
    for (size_t i = 0; i < job->struck_count; i++) {
        const struct struck_clock *old = &job->struck[i];
        RAW(out, "<tr class=\"struck\"><th scope=\"row\"><s>");
        html_of(out, page, WORD_SET_CLOCK, (int)old->clock);
        RAW(out, "</s></th>");
        cell(out, when_exact(when, old->start_s).z);
        RAW(out, "<td>");
        html_word(out, page, WORD_PROOF_STRUCK);
        RAW(out, " ");
        text_html_z(out, when_exact(when, old->ended_s).z);
        RAW(out, "</td>");
        cell(out, says_figure(old->have).z);
        RAW(out, "<td></td><td>");
        if (old->because != NULL) html_record(out, page, when, old->because);
        RAW(out, "</td></tr>");
    }
    RAW(out, "</tbody></table></section>");
}

/* --- tasks and checks ------------------------------------------------------------------------ */

static void check_answer(struct text *out, const struct page *page, const struct when *when,
                         const struct check_plan *check)
{
    const struct check_result *result = check->result;
    RAW(out, "<li>");
    html_of(out, page, WORD_SET_CHECK_OF, (int)check->check);
    RAW(out, ": ");
    if (result == NULL) {
        html_word(out, page, WORD_PROOF_NO_ANSWER);
    } else if (isfinite(result->value)) {
        text_html_z(out, says_measure(page->words, result->value, check->unit).z);
    } else if (result->day != DAY_NONE) {
        text_html_z(out, when_date(when, result->day).z);
    } else if (result->text != NULL) {
        text_html_z(out, result->text);
    } else {
        html_word(out, page, result->yes == 1 ? WORD_PROOF_YES : WORD_PROOF_NO);
    }
    if (check->accepted != NULL) {
        RAW(out, " (");
        HTML_SAY(out, page, WORD_PROOF_ACCEPTED_BY,
                 {"name", check->accepted->by == NULL ? "?" : check->accepted->by});
        RAW(out, ")");
    }
    RAW(out, "</li>");
}

static void task_row(struct text *out, const struct page *page, const struct when *when,
                     const struct task_plan *task)
{
    RAW(out, "<tr><th scope=\"row\">");
    html_of(out, page, WORD_SET_TASK, (int)task->task);
    RAW(out, "</th><td>");
    html_state(out, page, task->state);
    RAW(out, "</td>");
    cell(out, when_exact(when, task->done_s).z);
    cell(out, task->pass == NULL ? NULL : task->pass->by);
    RAW(out, "<td>");
    if (task->check_count > 0) {
        RAW(out, "<ul class=\"plain\">");
        for (size_t i = 0; i < task->check_count; i++)
            check_answer(out, page, when, &task->checks[i]);
        RAW(out, "</ul>");
    }
    RAW(out, "</td></tr>");
}

static void tasks(struct text *out, const struct page *page, const struct when *when,
                  const struct job_plan *job)
{
    static const enum word heads[] = {WORD_PROOF_TASK, WORD_PROOF_STATE, WORD_PROOF_DONE_AT,
                                      WORD_PROOF_PASSED_BY, WORD_PROOF_CHECKS};
    RAW(out, "<section>");
    html_heading(out, page, '2', "work", WORD_PROOF_WORK);
    HEAD_ROW(out, page, heads);
    for (int t = 0; t < TASK_COUNT; t++)
        if (job->tasks[t].state != TASK_STATE_NOT_NEEDED) task_row(out, page, when, &job->tasks[t]);
    RAW(out, "</tbody></table></section>");
}

/* --- photos, messages ------------------------------------------------------------------------ */

static void photos(struct text *out, const struct page *page, const struct when *when,
                   const struct job *job, const struct proof *proof)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "photos", WORD_PROOF_PHOTOS);
    if (proof->photo_count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_PAGE_NONE);
        RAW(out, "</p>");
    }
    RAW(out, "<div class=\"proof-photos\">");
    for (size_t i = 0; i < proof->photo_count; i++) {
        const struct proof_photo *photo = &proof->photos[i];
        RAW(out, "<figure><img src=\"/jobs/");
        html_segment(out, job->id);
        RAW(out, "/photos/");
        html_segment(out, photo->id);
        text_print(out, "\" width=\"%d\" height=\"%d\" alt=\"", photo->width, photo->height);
        html_word(out, page, WORD_PROOF_PHOTO);
        text_print(out, " %zu\"><figcaption>%zu. ", i + 1, i + 1);
        text_html_z(out, when_exact(when, photo->taken_s != INSTANT_NONE ? photo->taken_s
                                                                         : photo->received_s)
                             .z);
        if (photo->who != NULL) {
            RAW(out, ", ");
            text_html_z(out, photo->who);
        }
        RAW(out, " <code>");
        text_html(out, photo->sha256, MARK_SHOWN);
        RAW(out, "</code></figcaption></figure>");
    }
    RAW(out, "</div></section>");
}

static void messages(struct text *out, const struct page *page, const struct when *when,
                     const struct proof *proof)
{
    if (proof->sent_count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "messages", WORD_TELL_EARLIER);
    RAW(out, "<ul>");
    for (size_t i = 0; i < proof->sent_count; i++) {
        const struct tell_sent *mail = &proof->sent[i];
        RAW(out, "<li>");
        text_html_z(out, when_exact(when, mail->made_s).z);
        RAW(out, ", ");
        text_html_z(out, mail->receiver);
        RAW(out, ": <pre class=\"mail\">");
        text_html_z(out, mail->body);
        RAW(out, "</pre></li>");
    }
    RAW(out, "</ul></section>");
}

/* --- records --------------------------------------------------------------------------------- */

static const struct proof_mark *mark_of(const struct proof *proof, const char *id)
{
    for (size_t i = 0; id != NULL && i < proof->mark_count; i++)
        if (strcmp(proof->marks[i].record_id, id) == 0) return &proof->marks[i];
    return NULL;
}

static bool corrected(const struct job *job, const char *id)
{
    for (size_t i = 0; id != NULL && i < job->record_count; i++) {
        const struct record *r = &job->records[i];
        if (r->kind == RECORD_CORRECTED && r->corrects != NULL && strcmp(r->corrects, id) == 0)
            return true;
    }
    return false;
}

static void record_row(struct text *out, const struct page *page, const struct when *when,
                       const struct job *job, const struct record *record,
                       const struct proof *proof)
{
    const struct proof_mark *mark = mark_of(proof, record->id);
    const bool struck = corrected(job, record->id);
    RAW(out, "<tr><td>");
    if (mark != NULL) text_integer(out, mark->seq);
    RAW(out, "</td>");
    cell(out, when_exact(when, record->at_s).z);
    cell(out, when_exact(when, record->received_s).z);
    cell(out, record->by != NULL ? record->by : record->who);
    RAW(out, "<td>");
    if (struck) RAW(out, "<s>");
    html_record(out, page, when, record);
    if (struck) RAW(out, "</s>");
    RAW(out, "</td><td><code>");
    if (mark != NULL) text_html(out, mark->hash, MARK_SHOWN);
    RAW(out, "</code></td></tr>");
}

static void records(struct text *out, const struct page *page, const struct when *when,
                    const struct job *job, const struct proof *proof)
{
    static const enum word heads[] = {WORD_PROOF_NUMBER, WORD_PROOF_HAPPENED, WORD_PROOF_RECEIVED,
                                      WORD_PROOF_BY,     WORD_PROOF_SAYS,     WORD_PROOF_MARK};
    RAW(out, "<section>");
    html_heading(out, page, '2', "records", WORD_PROOF_RECORDS);
    HEAD_ROW(out, page, heads);
    for (size_t i = 0; i < job->record_count; i++)
        record_row(out, page, when, job, &job->records[i], proof);
    RAW(out, "</tbody></table></section><section>");
    html_heading(out, page, '2', "chain", WORD_PROOF_CHAIN);
    RAW(out, "<p>");
    html_word(out, page, WORD_PROOF_CHAIN_SAYS);
    RAW(out, "</p><p>");
    const struct phrase tip = says_figure((double)proof->tip_seq);
    HTML_SAY(out, page, WORD_PROOF_TIP, {"n", tip.z});
    RAW(out, " <code class=\"hash\">");
    text_html_z(out, proof->tip_hash);
    RAW(out, "</code></p></section>");
}

static void opening(struct text *out, const struct page *page, const struct when *when,
                    const struct job_plan *job)
{
    const struct job *site = job->job;
    RAW(out, "<h1>");
    html_word(out, page, WORD_PROOF_TITLE);
    RAW(out, ": ");
    text_html_z(out, site->name == NULL ? site->id : site->name);
    RAW(out, "</h1><p>");
    if (page->company->name != NULL) {
        text_html_z(out, page->company->name);
        RAW(out, ". ");
    }
    if (site->address != NULL) {
        text_html_z(out, site->address);
        RAW(out, ". ");
    }
    if (site->homeowner != NULL) {
        text_html_z(out, site->homeowner);
        RAW(out, ". ");
    }
    HTML_SAY(out, page, WORD_JOB_PLACE_NOTE,
             {"base", words_of(page->words, WORD_SET_BASE, (int)site->options.base)},
             {"place", words_of(page->words, WORD_SET_PLACE, (int)site->options.place)});
    RAW(out, "</p><p><b>");
    const struct phrase printed = when_exact(when, page->now_s);
    HTML_SAY(out, page, WORD_PROOF_AS_OF, {"time", printed.z});
    RAW(out, "</b> ");
    html_word(out, page, WORD_PROOF_NOT_STRENGTH);
    RAW(out, "</p>");
}

void html_proof(struct text *out, const struct page *page, const struct job_plan *job,
                const struct proof *proof)
{
    const struct frame frame = {.title = words_get(page->words, WORD_PROOF_TITLE),
                                .style = "proof",
                                .noindex = true,
                                .pictures = true,
                                .paper = true};
    const struct when when = html_when(page, job->job->zone);
    html_open(out, page, &frame);
    opening(out, page, &when, job);
    missing(out, page, &when, job);
    waits(out, page, &when, job);
    for (size_t i = 0; i < job->clock_count; i++)
        if (job->clocks[i].unit == UNIT_COUNTED_DAY)
            svg_day_strip(out, page, job, &job->clocks[i], false);
    tasks(out, page, &when, job);
    photos(out, page, &when, job->job, proof);
    messages(out, page, &when, proof);
    records(out, page, &when, job->job, proof);
    html_close(out, page, &frame);
}
