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

static const char *typed(const struct rules_page *rules, const char *name)
{
    for (size_t i = 0; i < rules->field_count; i++)
        if (strcmp(rules->fields[i].name, name) == 0) return rules->fields[i].value;
    return "";
}

static void field(struct text *out, const struct page *page, const struct rules_page *rules,
                  const char *name, enum word label, const char *more)
{
    RAW(out, "<label><span>");
    html_word(out, page, label);
    text_print(out, "</span><input type=\"text\" name=\"%s\" required%s value=\"", name, more);
    text_html_z(out, typed(rules, name));
    RAW(out, "\">");
    for (size_t i = 0; rules->faults != NULL && i < rules->faults->count; i++) {
        const struct fault *fault = &rules->faults->items[i];
        if (strcmp(fault->path, name) != 0) continue;
        RAW(out, "<em class=\"wrong\">");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
                 {"wanted", fault->wanted});
        RAW(out, "</em>");
    }
    RAW(out, "</label>");
}

static void change_form(struct text *out, const struct page *page, const struct rules_page *rules)
{
    RAW(out, "<details");
    if (rules->faults != NULL && rules->faults->count > 0) RAW(out, " open");
    RAW(out, "><summary>");
    html_word(out, page, WORD_RULES_CHANGE);
    RAW(out, "</summary><form method=\"post\" action=\"/rules\"><p>");
    html_word(out, page, WORD_RULES_LATER);
    RAW(out, "</p>");
    html_hidden(out, "csrf", page->csrf);
    field(out, page, rules, "id", WORD_RULES_ID, " list=\"rule-ids\"");
    RAW(out, "<datalist id=\"rule-ids\">");
    for (size_t i = 0; i < rules->id_count; i++) {
        RAW(out, "<option value=\"");
        text_html_z(out, rules->ids[i]);
        RAW(out, "\"></option>");
    }
    RAW(out, "</datalist>");
    field(out, page, rules, "value", WORD_RULES_VALUE, " inputmode=\"decimal\"");
    field(out, page, rules, "reason", WORD_RULES_REASON, "");
    field(out, page, rules, "by", WORD_FORM_BY, "");
    RAW(out, "<p><button>");
    html_word(out, page, WORD_RULES_SEND);
    RAW(out, "</button></p></form></details>");
}

/* The latest of an id is in force; those before it stand struck through. */
static void changes(struct text *out, const struct page *page)
{
    const struct company *company = page->company;
    const struct when when = html_when(page, company->zone);
    if (company->rule_count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "changes", WORD_RULES_CHANGES);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = company->rule_count; i-- > 0;) {
        const struct rule_change *rule = &company->rules[i];
        bool later = false;
        for (size_t k = i + 1; k < company->rule_count; k++)
            later = later || strcmp(company->rules[k].id, rule->id) == 0;
        const struct phrase time = when_exact(&when, rule->at_s);
        struct text value = TEXT_UP_TO(40);
        text_json_number(&value, rule->value);
        text_add_z(out, later ? "<li><s>" : "<li><b>");
        HTML_SAY(out, page, WORD_RULES_ONE, {"id", rule->id}, {"value", text_z(&value)},
                 {"by", rule->by}, {"time", time.z});
        text_add_z(out, later ? "</s> " : "</b> ");
        text_html_z(out, rule->reason);
        RAW(out, "</li>");
        text_free(&value);
    }
    RAW(out, "</ul></section>");
}

void html_rules(struct text *out, const struct page *page, const struct rules_page *rules)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_NAV_RULES), .style = "plain", .yard_links = true};
    bool list = false, item = false, after_empty = false, first = true;
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_NAV_RULES);
    RAW(out, "</h1><p>");
    html_word(out, page, WORD_RULES_SAY);
    RAW(out, "</p>");
    change_form(out, page, rules);
    changes(out, page);
    RAW(out, "<div lang=\"en\">");
    for (const char *line = rules->rules; *line != '\0';) {
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
