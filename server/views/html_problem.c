/* SPDX-License-Identifier: MIT */
/* The pages nobody asks for: something could not be done, and the door. */
#include "views/html.h"

#include "base/banned.h"

static enum word problem_word(enum status status)
{
    switch (status) {
    case STATUS_NOT_FOUND:
        return WORD_PROBLEM_NOT_FOUND;
    case STATUS_DENIED:
        return WORD_PROBLEM_DENIED;
    case STATUS_BUSY:
        return WORD_PROBLEM_BUSY;
    default:
        return WORD_PROBLEM_OTHER;
    }
}

void html_problem(struct text *out, const struct page *page, enum status status,
                  const struct fault *fault)
{
    struct frame frame = {
        .title = words_get(page->words, WORD_PROBLEM_TITLE), .style = "plain", .noindex = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_PROBLEM_TITLE);
    RAW(out, "</h1><p>");
    html_word(out, page, problem_word(status));
    RAW(out, "</p>");
    if (fault != NULL && fault->wanted[0] != '\0') {
        RAW(out, "<p>");
        if (fault->path[0] != '\0') {
            RAW(out, "<b>");
            text_html_z(out, fault->path);
            RAW(out, "</b> ");
        }
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
                 {"wanted", fault->wanted});
        RAW(out, "</p>");
    }
    if (page->company->phone != NULL) {
        RAW(out, "<p>");
        html_phone(out, page);
        RAW(out, "</p>");
    }
    html_close(out, page, &frame);
}

static void sign_in_fields(struct text *out, const struct page *page,
                           const struct sign_in_form *form)
{
    RAW(out, "<label><span>");
    html_word(out, page, WORD_SIGN_NAME);
    RAW(out, "</span><input type=\"text\" name=\"name\" maxlength=\"200\" "
             "autocomplete=\"username\" autocapitalize=\"words\" spellcheck=\"false\" required");
    if (form->wrong) RAW(out, " aria-invalid=\"true\" aria-describedby=\"wrong\"");
    RAW(out, " value=\"");
    text_html_z(out, form->name);
    RAW(out, "\"></label><label><span>");
    html_word(out, page, WORD_SIGN_PASSWORD);
    RAW(out, "</span><input type=\"password\" name=\"password\" "
             "autocomplete=\"current-password\" required");
    if (form->wrong) RAW(out, " aria-invalid=\"true\" aria-describedby=\"wrong\"");
    RAW(out, "></label><button type=\"submit\">");
    html_word(out, page, WORD_SIGN_ENTER);
    RAW(out, "</button>");
}

void html_sign_in(struct text *out, const struct page *page, const struct sign_in_form *form)
{
    struct frame frame = {.title = words_get(page->words, WORD_SIGN_TITLE),
                          .style = "plain",
                          .noindex = true,
                          .look_again = form->go_on};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_SIGN_TITLE);
    RAW(out, "</h1>");
    if (form->wrong) {
        RAW(out, "<p class=\"refused\" id=\"wrong\" role=\"alert\">");
        html_word(out, page, WORD_SIGN_WRONG);
        RAW(out, "</p>");
    }
    RAW(out, "<form class=\"plain\" method=\"post\" action=\"/sign-in\">");
    html_hidden(out, "csrf", page->csrf);
    html_hidden(out, "to", form->to);
    sign_in_fields(out, page, form);
    RAW(out, "</form>");
    html_close(out, page, &frame);
}
