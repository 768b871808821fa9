/* SPDX-License-Identifier: MIT */
/* Rows of a spreadsheet: pasted, looked at (what each becomes), then taken in, all or nothing. */
#include <string.h>

#include "views/html.h"

#include "base/banned.h"

static void what_choice(struct text *out, const struct page *page, const struct import_page *import)
{
    static const struct {
        const char *value;
        enum word word;
    } choices[] = {{"jobs", WORD_IMPORT_JOBS}, {"records", WORD_IMPORT_RECORDS}};
    RAW(out, "<fieldset><legend>");
    html_word(out, page, WORD_IMPORT_WHAT);
    RAW(out, "</legend>");
    for (size_t i = 0; i < sizeof choices / sizeof *choices; i++) {
        const bool chosen = strcmp(import->what, choices[i].value) == 0;
        text_print(out, "<label><input type=\"radio\" name=\"what\" value=\"%s\"%s> ",
                   choices[i].value, chosen ? " checked" : "");
        html_word(out, page, choices[i].word);
        RAW(out, "</label> ");
    }
    RAW(out, "</fieldset>");
}

static void faults_list(struct text *out, const struct page *page, const struct faults *faults)
{
    if (faults == NULL || faults->count == 0) return;
    RAW(out, "<section class=\"refused\" role=\"alert\"><p>");
    html_word(out, page, WORD_IMPORT_REFUSED);
    RAW(out, "</p><ul>");
    for (size_t i = 0; i < faults->count; i++) {
        RAW(out, "<li><b>");
        text_html_z(out, faults->items[i].path);
        RAW(out, "</b> ");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", faults->items[i].found},
                 {"wanted", faults->items[i].wanted});
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
}

static void rows_table(struct text *out, const struct page *page, const struct import_page *import)
{
    if (import->row_count == 0) return;
    RAW(out, "<section><p role=\"status\"><b>");
    html_word(out, page, import->kept ? WORD_IMPORT_KEPT : WORD_IMPORT_WOULD);
    RAW(out, "</b></p><table><thead><tr><th scope=\"col\">");
    html_word(out, page, WORD_IMPORT_LINE);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_IMPORT_JOB);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_IMPORT_BECOMES);
    RAW(out, "</th></tr></thead><tbody>");
    for (size_t i = 0; i < import->row_count; i++) {
        const struct import_row *row = &import->rows[i];
        const struct phrase cells = says_figure((double)row->cells);
        const struct phrase records = says_figure((double)row->records);
        RAW(out, "<tr><td>");
        text_integer(out, (int64_t)row->line);
        RAW(out, "</td><td>");
        text_html_z(out, row->job_id);
        RAW(out, "</td><td>");
        HTML_SAY(out, page, row->new_job ? WORD_IMPORT_NEW : WORD_IMPORT_THERE, {"cells", cells.z},
                 {"records", records.z});
        RAW(out, "</td></tr>");
    }
    RAW(out, "</tbody></table></section>");
}

void html_import(struct text *out, const struct page *page, const struct import_page *import)
{
    const struct frame frame = {.title = words_get(page->words, WORD_IMPORT_TITLE),
                                .style = "plain",
                                .noindex = true,
                                .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_IMPORT_TITLE);
    RAW(out, "</h1><p>");
    html_word(out, page, WORD_IMPORT_HOW);
    RAW(out, "</p><p><a href=\"/api/v1/jobs.csv\">");
    html_word(out, page, WORD_IMPORT_JOBS_OUT);
    RAW(out, "</a>, <a href=\"/api/v1/records.csv\">");
    html_word(out, page, WORD_IMPORT_RECORDS_OUT);
    RAW(out, "</a></p>");
    faults_list(out, page, import->faults);
    rows_table(out, page, import);
    RAW(out, "<form class=\"tell\" method=\"post\" action=\"/import\">");
    if (page->csrf != NULL) {
        RAW(out, "<input type=\"hidden\" name=\"csrf\" value=\"");
        text_html_z(out, page->csrf);
        RAW(out, "\">");
    }
    what_choice(out, page, import);
    RAW(out, "<p><label>");
    html_word(out, page, WORD_IMPORT_PASTE);
    RAW(out, "<textarea name=\"csv\" rows=\"14\" required>\n");
    if (!import->kept) text_html_z(out, import->csv);
    RAW(out, "</textarea></label></p><p><button>");
    html_word(out, page, WORD_IMPORT_LOOK);
    RAW(out, "</button> <button name=\"keep\" value=\"1\">");
    html_word(out, page, WORD_IMPORT_KEEP);
    RAW(out, "</button></p></form>");
    html_close(out, page, &frame);
}
