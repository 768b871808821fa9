/* SPDX-License-Identifier: MIT */
/*
 * Why: who may come in, since when nobody saw them, and one button each to shut one of them out
 * without disturbing the others. Nobody's password is ever shown, for nobody has it.
 */
#include <stdio.h>
#include <string.h>

#include "views/html.h"
#include "views/html_qr.h"
#include "views/people.h"

#include "base/banned.h"

static const enum word role_words[] = {[PEOPLE_OWNER] = WORD_PEOPLE_ROLE_OWNER,
                                       [PEOPLE_OFFICE] = WORD_PEOPLE_ROLE_OFFICE,
                                       [PEOPLE_STATION] = WORD_PEOPLE_ROLE_STATION};
static const char *const role_ids[] = {
    [PEOPLE_OWNER] = "owner", [PEOPLE_OFFICE] = "office", [PEOPLE_STATION] = "station"};

static void form_open(struct text *out, const struct page *page, const char *action)
{
    RAW(out, "<form class=\"plain\" method=\"post\" action=\"/people\">");
    html_hidden(out, "csrf", page->csrf);
    html_hidden(out, "action", action);
}

static void form_end(struct text *out, const struct page *page, enum word word, const char *about)
{
    RAW(out, "<button type=\"submit\"");
    if (about != NULL) {
        RAW(out, " aria-label=\"");
        html_word(out, page, word);
        RAW(out, ": ");
        text_html_z(out, about);
        RAW(out, "\"");
    }
    RAW(out, ">");
    html_word(out, page, word);
    RAW(out, "</button></form>");
}

/* A form that is one button about one person. */
static void button(struct text *out, const struct page *page, const char *action, enum word word,
                   const char *name)
{
    form_open(out, page, action);
    html_hidden(out, "name", name);
    form_end(out, page, word, name);
}

static void field(struct text *out, const struct page *page, const char *name, const char *type,
                  enum word word, const char *value)
{
    RAW(out, "<label><span>");
    html_word(out, page, word);
    text_print(out, "</span><input type=\"%s\" name=\"%s\" maxlength=\"200\" required", type, name);
    if (strcmp(type, "password") == 0) RAW(out, " minlength=\"10\" autocomplete=\"new-password\"");
    if (value != NULL) {
        RAW(out, " value=\"");
        text_html_z(out, value);
        RAW(out, "\"");
    }
    RAW(out, "></label>");
}

/* What was wrong, beside the form that it was wrong with. */
static void wrong(struct text *out, const struct page *page, const struct people *people,
                  const char *action)
{
    if (people->failed_action == NULL || strcmp(people->failed_action, action) != 0) return;
    RAW(out, "<p class=\"refused\" role=\"alert\">");
    html_word(out, page, WORD_PAGE_REFUSED);
    if (people->fault != NULL) {
        RAW(out, " <b>");
        text_html_z(out, people->fault->path);
        RAW(out, "</b> ");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", people->fault->found},
                 {"wanted", people->fault->wanted});
    }
    RAW(out, "</p>");
}

static void number(struct text *out, const struct page *page, enum word word, int value)
{
    char text[16];
    (void)snprintf(text, sizeof text, "%d", value);
    RAW(out, "<p>");
    HTML_SAY(out, page, word, {"n", text});
    RAW(out, "</p>");
}

static void seen(struct text *out, const struct page *page, int64_t seen_s, enum word never)
{
    const struct when when = html_when(page, page->company->zone);
    RAW(out, "<p>");
    if (seen_s == INSTANT_NONE) {
        html_word(out, page, never);
    } else {
        const struct phrase time = when_day_time(&when, seen_s);
        HTML_SAY(out, page, WORD_PEOPLE_SEEN, {"time", time.z});
    }
    RAW(out, "</p>");
}

static void person_forms(struct text *out, const struct page *page,
                         const struct people_person *person)
{
    if (person->sessions > 0) button(out, page, "sign-out", WORD_PEOPLE_EVERYWHERE, person->name);
    button(out, page, "token", WORD_PEOPLE_TOKEN, person->name);
    button(out, page, "revoke", WORD_PEOPLE_REVOKE, person->name);
    if (person->role == PEOPLE_STATION) return;
    RAW(out, "<details><summary>");
    html_word(out, page, WORD_PEOPLE_SET);
    RAW(out, "</summary>");
    form_open(out, page, "password");
    html_hidden(out, "name", person->name);
    field(out, page, "password", "password", WORD_PEOPLE_NEW_PASSWORD, NULL);
    form_end(out, page, WORD_PEOPLE_SET, person->name);
    RAW(out, "</details>");
}

static void person_row(struct text *out, const struct page *page,
                       const struct people_person *person)
{
    RAW(out, "<tr><th scope=\"row\">");
    text_html_z(out, person->name);
    RAW(out, "</th><td>");
    html_word(out, page, role_words[person->role]);
    if (person->revoked_s != INSTANT_NONE) {
        const struct when when = html_when(page, page->company->zone);
        const struct phrase time = when_day_time(&when, person->revoked_s);
        RAW(out, "<p><b>");
        HTML_SAY(out, page, WORD_PEOPLE_SHUT, {"time", time.z});
        RAW(out, "</b></p></td><td></td></tr>");
        return;
    }
    seen(out, page, person->seen_s, WORD_PEOPLE_NEVER);
    if (person->sessions > 0) number(out, page, WORD_PEOPLE_SESSIONS, person->sessions);
    if (person->tokens > 0) number(out, page, WORD_PEOPLE_TOKENS, person->tokens);
    RAW(out, "</td><td>");
    person_forms(out, page, person);
    RAW(out, "</td></tr>");
}

static void table_open(struct text *out, const struct page *page, enum word first, enum word second)
{
    RAW(out, "<table><thead><tr><th scope=\"col\">");
    html_word(out, page, first);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, second);
    RAW(out, "</th><td></td></tr></thead><tbody>");
}

static void people_table(struct text *out, const struct page *page, const struct people *people)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "who", WORD_PEOPLE_WHO);
    static const char *const actions[] = {"revoke", "sign-out", "password", "token"};
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++)
        wrong(out, page, people, actions[i]);
    if (people->person_count > 0) {
        table_open(out, page, WORD_PEOPLE_NAME, WORD_PEOPLE_ROLE);
        for (size_t i = 0; i < people->person_count; i++) person_row(out, page, &people->people[i]);
        RAW(out, "</tbody></table>");
    }
    RAW(out, "</section>");
}

static void add_form(struct text *out, const struct page *page, const struct people *people)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "add", WORD_PEOPLE_ADD);
    wrong(out, page, people, "add");
    form_open(out, page, "add");
    field(out, page, "name", "text", WORD_PEOPLE_NAME, people->typed_name);
    RAW(out, "<label><span>");
    html_word(out, page, WORD_PEOPLE_ROLE);
    RAW(out, "</span><select name=\"role\">");
    /* the first has to be an owner; after that the one who may least stands first but a script */
    static const enum people_role order[] = {PEOPLE_OFFICE, PEOPLE_OWNER, PEOPLE_STATION};
    static const enum people_role only[] = {PEOPLE_OWNER};
    const bool first = people->person_count == 0;
    const size_t roles = first ? 1 : sizeof order / sizeof *order;
    for (size_t i = 0; i < roles; i++) {
        const enum people_role role = first ? only[i] : order[i];
        text_print(out, "<option value=\"%s\">", role_ids[role]);
        html_word(out, page, role_words[role]);
        RAW(out, "</option>");
    }
    RAW(out, "</select></label><label><span>");
    html_word(out, page, WORD_PEOPLE_NEW_PASSWORD);
    RAW(out, "</span><input type=\"password\" name=\"password\" minlength=\"10\" maxlength=\"200\" "
             "autocomplete=\"new-password\"></label>");
    form_end(out, page, WORD_PEOPLE_ADD, NULL);
    RAW(out, "</section>");
}

static void link_row(struct text *out, const struct page *page, const struct people_link *link)
{
    RAW(out, "<tr><th scope=\"row\">");
    if (link->phone != NULL)
        text_html_z(out, link->phone);
    else
        html_word(out, page, WORD_PEOPLE_NOBODYS);
    RAW(out, "</th><td>");
    text_html_z(out, link->crew_id);
    RAW(out, "<p><a href=\"/c/");
    html_segment(out, link->token);
    RAW(out, "\">");
    text_html_z(out, page->base_url);
    RAW(out, "/c/");
    text_html_z(out, link->token);
    RAW(out, "</a></p>");
    seen(out, page, link->seen_s, WORD_PEOPLE_NOT_USED);
    RAW(out, "<p><a href=\"/people?code=");
    html_segment(out, link->token);
    RAW(out, "#code\">");
    html_word(out, page, WORD_PEOPLE_CODE);
    RAW(out, "</a></p></td><td>");
    form_open(out, page, "link-off");
    html_hidden(out, "crew", link->crew_id);
    html_hidden(out, "phone", link->phone);
    form_end(out, page, WORD_PEOPLE_LINK_OFF, link->phone != NULL ? link->phone : link->crew_id);
    RAW(out, "</td></tr>");
}

/* A phone is held before the screen: nobody types 27 characters with gloves on. */
static void code(struct text *out, const struct page *page, const struct people_link *link)
{
    if (link == NULL || page->base_url == NULL) return;
    struct text url = TEXT_UP_TO(2000);
    text_add_z(&url, page->base_url);
    text_add_z(&url, "/c/");
    html_segment(&url, link->token);
    RAW(out, "<figure id=\"code\">");
    html_qr(out, page, text_z(&url));
    RAW(out, "<figcaption>");
    HTML_SAY(out, page, WORD_PEOPLE_CODE_SAY,
             {"name", link->phone != NULL ? link->phone : link->crew_id});
    RAW(out, "</figcaption></figure>");
    text_free(&url);
}

static void links(struct text *out, const struct page *page, const struct people *people)
{
    RAW(out, "<section>");
    html_heading(out, page, '2', "links", WORD_PEOPLE_LINKS);
    RAW(out, "<p>");
    html_word(out, page, WORD_PEOPLE_LINKS_SAY);
    RAW(out, "</p>");
    wrong(out, page, people, "link");
    wrong(out, page, people, "link-off");
    code(out, page, people->code);
    if (people->link_count > 0) {
        table_open(out, page, WORD_PEOPLE_PHONE, WORD_PEOPLE_CREW);
        for (size_t i = 0; i < people->link_count; i++) link_row(out, page, &people->links[i]);
        RAW(out, "</tbody></table>");
    }
    if (page->company->crew_count > 0) {
        form_open(out, page, "link");
        field(out, page, "phone", "text", WORD_PEOPLE_PHONE, NULL);
        RAW(out, "<label><span>");
        html_word(out, page, WORD_PEOPLE_CREW);
        RAW(out, "</span><select name=\"crew\">");
        for (size_t i = 0; i < page->company->crew_count; i++) {
            RAW(out, "<option>");
            text_html_z(out, page->company->crews[i].id);
            RAW(out, "</option>");
        }
        RAW(out, "</select></label>");
        form_end(out, page, WORD_PEOPLE_LINK_MAKE, NULL);
    }
    RAW(out, "</section>");
}

void html_people(struct text *out, const struct page *page, const struct people *people)
{
    struct frame frame = {.title = words_get(page->words, WORD_PEOPLE_TITLE),
                          .style = "people",
                          .noindex = true,
                          .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_PEOPLE_TITLE);
    RAW(out, "</h1>");
    if (people->person_count == 0) {
        RAW(out, "<p>");
        html_word(out, page, WORD_PEOPLE_FIRST);
        RAW(out, "</p>");
    }
    if (people->new_token != NULL) {
        RAW(out, "<p class=\"notice\" role=\"status\">");
        HTML_SAY(out, page, WORD_PEOPLE_TOKEN_IS, {"name", people->token_name});
        RAW(out, " <code>");
        text_html_z(out, people->new_token);
        RAW(out, "</code></p>");
    }
    people_table(out, page, people);
    add_form(out, page, people);
    links(out, page, people);
    html_close(out, page, &frame);
}
