/* SPDX-License-Identifier: MIT */
/*
 * The rules in force as a page: each number in its sentence with its mark and source, and the id it
 * has everywhere. The sentences are the rulebook's own (rulebook/show.c), one a line; a line alone
 * after an empty one is a heading, an indented line belongs to the one above it.
 */
#include <string.h>

#include "views/html_screens.h"

#include "base/banned.h"

enum { LINE_MAX = 4000 };

/* "… (frost.below)": where the id of a rule begins; NULL: the line has none. */
static const char *id_of_line(const char *line, size_t length)
{
    if (length < 4 || line[length - 1] != ')') return NULL;
    size_t at = length - 1;
    while (at > 0 && line[at] != '(' && line[at] != ' ') at--;
    return line[at] == '(' && at > 0 ? line + at : NULL;
}

static void rule_line(struct text *out, const char *line, size_t length)
{
    const char *id = id_of_line(line, length);
    if (id == NULL) {
        text_html(out, line, length);
        return;
    }
    text_html(out, line, (size_t)(id - line));
    RAW(out, "<code>");
    text_html(out, id + 1, length - (size_t)(id - line) - 2);
    RAW(out, "</code>");
}

void html_rules(struct text *out, const struct page *page, const char *rules)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_NAV_RULES), .style = "plain", .yard_links = true};
    bool list = false, item = false, after_empty = false, first = true;
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_NAV_RULES);
    RAW(out, "</h1><p>");
    html_word(out, page, WORD_RULES_SAY);
    RAW(out, "</p><div lang=\"en\">");
    for (const char *line = rules; *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        const bool indented = line[0] == ' ';
        if (length > 0 && item && !indented) RAW(out, "</li>");
        if (length > 0 && !indented) item = false;
        if (length > 0 && after_empty && !first) {
            if (list) RAW(out, "</ul>");
            RAW(out, "<h2>");
            text_html(out, line, length);
            RAW(out, "</h2><ul class=\"rows\">");
            list = true;
        } else if (length > 0 && indented && item) {
            RAW(out, "<br><small>");
            rule_line(out, line + strspn(line, " "), length - strspn(line, " "));
            RAW(out, "</small>");
        } else if (length > 0 && list) {
            RAW(out, "<li>");
            rule_line(out, line, length);
            item = true;
        } else if (length > 0) {
            RAW(out, "<p>");
            text_html(out, line, length);
            RAW(out, "</p>");
        }
        if (length > 0) first = false;
        after_empty = length == 0;
        line += length + (line[length] == '\n');
    }
    if (item) RAW(out, "</li>");
    if (list) RAW(out, "</ul>");
    RAW(out, "</div>");
    html_close(out, page, &frame);
}
