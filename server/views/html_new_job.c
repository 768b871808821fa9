/* SPDX-License-Identifier: MIT */
/*
 * A new job: asked is only what switches a task on or off, moves a date, or says how long something
 * takes. Names of the fields are those of a spreadsheet's columns (app/app_csv.h), for the row goes
 * through the same door. What was typed stays when something was wrong.
 */
#include <stdio.h>
#include <string.h>

#include "views/html_screens.h"

#include "base/banned.h"

enum kind { NEW_TEXT, NEW_NUMBER, NEW_DATE, NEW_MAIL, NEW_CHOICE, NEW_YES, NEW_CREW, NEW_STATION };

struct new_field {
    const char *name;
    const struct id_table *table; /**< NEW_CHOICE */
    enum word word;
    enum kind kind;
    enum word_set set; /**< NEW_CHOICE */
    bool must;
};

/* Needed first; then what switches something; then quantities. */
static const struct new_field who[] = {
    {"name", NULL, WORD_NEW_NAME, NEW_TEXT, 0, true},
    {"id", NULL, WORD_NEW_ID, NEW_TEXT, 0, false},
    {"address", NULL, WORD_NEW_ADDRESS, NEW_TEXT, 0, false},
    {"access", NULL, WORD_NEW_ACCESS, NEW_TEXT, 0, false},
    {"homeowner", NULL, WORD_NEW_HOMEOWNER, NEW_TEXT, 0, false},
    {"homeowner_mail", NULL, WORD_NEW_MAIL, NEW_MAIL, 0, false},
    {"homeowner_language", &language_ids, WORD_NEW_LANGUAGE, NEW_CHOICE, WORD_SET_LANGUAGE, false},
    {"crew", NULL, WORD_NEW_CREW, NEW_CREW, 0, false},
    {"station", NULL, WORD_NEW_STATION, NEW_STATION, 0, false},
    {"wanted_fire", NULL, WORD_NEW_WANTED, NEW_DATE, 0, false},
};
static const struct new_field switches[] = {
    {"place", &place_ids, WORD_NEW_PLACE, NEW_CHOICE, WORD_SET_PLACE, true},
    {"base", &base_ids, WORD_NEW_BASE, NEW_CHOICE, WORD_SET_BASE, true},
    {"pad", &pad_option_ids, WORD_NEW_PAD, NEW_CHOICE, WORD_SET_PAD_OPTION, true},
    {"propped", NULL, WORD_NEW_PROPPED, NEW_YES, 0, false},
    {"mix", &mix_ids, WORD_NEW_MIX, NEW_CHOICE, WORD_SET_MIX, false},
    {"setting_out", &setting_out_ids, WORD_NEW_SETTING_OUT, NEW_CHOICE, WORD_SET_SETTING_OUT,
     false},
    {"outside_air", NULL, WORD_NEW_AIR, NEW_YES, 0, false},
    {"lighter", &lighter_ids, WORD_NEW_LIGHTER, NEW_CHOICE, WORD_SET_LIGHTER, false},
    {"lining", &lining_option_ids, WORD_NEW_LINING, NEW_CHOICE, WORD_SET_LINING, false},
    {"facing", &facing_option_ids, WORD_NEW_FACING, NEW_CHOICE, WORD_SET_FACING, false},
    {"through_roof", NULL, WORD_NEW_ROOF, NEW_YES, 0, false},
    {"permit", NULL, WORD_NEW_PERMIT, NEW_YES, 0, false},
    {"town.name", NULL, WORD_NEW_TOWN, NEW_TEXT, 0, false},
    {"town.request_cutoff", NULL, WORD_NEW_CUTOFF, NEW_TEXT, 0, false},
    {"town.throat_look", NULL, WORD_NEW_THROAT, NEW_YES, 0, false},
    {"town.build_on_floor_h", NULL, WORD_NEW_FLOOR, NEW_NUMBER, 0, false},
};

static const char *typed(const struct new_job *form, const char *name)
{
    for (size_t i = 0; i < form->field_count; i++)
        if (strcmp(form->fields[i].name, name) == 0) return form->fields[i].value;
    return NULL;
}

/* Faults are told by the column they are about. */
static void wrong(struct text *out, const struct page *page, const struct new_job *form,
                  const char *name)
{
    for (size_t i = 0; form->faults != NULL && i < form->faults->count; i++) {
        const struct fault *fault = &form->faults->items[i];
        if (strcmp(fault->path, name) != 0) continue;
        RAW(out, "<em class=\"wrong\">");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
                 {"wanted", fault->wanted});
        RAW(out, "</em>");
    }
}

static void option(struct text *out, const char *value, const char *says, const char *chosen)
{
    RAW(out, "<option value=\"");
    text_html_z(out, value);
    text_add_z(out, chosen != NULL && strcmp(chosen, value) == 0 ? "\" selected>" : "\">");
    text_html_z(out, says);
    RAW(out, "</option>");
}

static void choices(struct text *out, const struct page *page, const struct new_job *form,
                    const struct new_field *field, const char *value)
{
    text_print(out, "<select name=\"%s\"%s>", field->name, field->must ? " required" : "");
    const bool empty = field->must || field->kind == NEW_CREW || field->kind == NEW_STATION;
    if (empty) option(out, "", "", value);
    if (field->kind == NEW_CHOICE)
        for (size_t i = 0; i < field->table->count; i++)
            option(out, field->table->ids[i], words_of(page->words, field->set, (int)i), value);
    if (field->kind == NEW_CREW)
        for (size_t i = 0; i < page->company->crew_count; i++) {
            const struct crew *crew = &page->company->crews[i];
            option(out, crew->id, crew->name == NULL ? crew->id : crew->name, value);
        }
    if (field->kind == NEW_STATION)
        for (size_t i = 0; i < form->station_count; i++)
            option(out, form->stations[i], form->stations[i], value);
    RAW(out, "</select>");
}

static void yes_no(struct text *out, const struct page *page, const struct new_field *field,
                   const char *value)
{
    const bool permit = strcmp(field->name, "permit") == 0; /* the one that is yes unless denied */
    if (value == NULL) value = permit ? "yes" : "no";
    text_print(out, "<select name=\"%s\">", field->name);
    option(out, "no", words_get(page->words, WORD_PROOF_NO), value);
    option(out, "yes", words_get(page->words, WORD_PROOF_YES), value);
    RAW(out, "</select>");
}

static void field_row(struct text *out, const struct page *page, const struct new_job *form,
                      const struct new_field *field, const char *label)
{
    static const char *const types[] = {
        [NEW_TEXT] = "text", [NEW_NUMBER] = "text", [NEW_DATE] = "date", [NEW_MAIL] = "email"};
    const char *value = typed(form, field->name);
    RAW(out, "<label><span>");
    text_html_z(out, label);
    RAW(out, "</span>");
    if (field->kind == NEW_YES) {
        yes_no(out, page, field, value);
    } else if (field->kind >= NEW_CHOICE) {
        choices(out, page, form, field, value);
    } else {
        text_print(out, "<input type=\"%s\" name=\"%s\"%s%s value=\"", types[field->kind],
                   field->name, field->must ? " required" : "",
                   field->kind == NEW_NUMBER ? " inputmode=\"decimal\"" : "");
        text_html_z(out, value);
        RAW(out, "\">");
    }
    wrong(out, page, form, field->name);
    RAW(out, "</label>");
}

static void group(struct text *out, const struct page *page, const struct new_job *form,
                  enum word title, const struct new_field *fields, size_t count)
{
    RAW(out, "<fieldset><legend>");
    html_word(out, page, title);
    RAW(out, "</legend>");
    for (size_t i = 0; i < count; i++)
        field_row(out, page, form, &fields[i], words_get(page->words, fields[i].word));
    RAW(out, "</fieldset>");
}

static void quantities(struct text *out, const struct page *page, const struct new_job *form)
{
    RAW(out, "<fieldset><legend>");
    html_word(out, page, WORD_NEW_QUANTITIES);
    RAW(out, "</legend>");
    for (int q = 0; q < QUANTITY_COUNT; q++) {
        const struct new_field field = {.name = quantity_ids.ids[q], .kind = NEW_NUMBER};
        field_row(out, page, form, &field, words_of(page->words, WORD_SET_QUANTITY, q));
    }
    RAW(out, "</fieldset>");
}

/* Faults that no field of the form has. */
static void loose_faults(struct text *out, const struct page *page, const struct new_job *form)
{
    if (form->faults == NULL || form->faults->count == 0) return;
    RAW(out, "<section class=\"refused\" role=\"alert\"><p>");
    html_word(out, page, WORD_PAGE_REFUSED);
    RAW(out, "</p><ul>");
    for (size_t i = 0; i < form->faults->count; i++) {
        RAW(out, "<li><b>");
        text_html_z(out, form->faults->items[i].path);
        RAW(out, "</b> ");
        HTML_SAY(out, page, WORD_PAGE_FOUND_WANTED, {"found", form->faults->items[i].found},
                 {"wanted", form->faults->items[i].wanted});
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
}

void html_new_job(struct text *out, const struct page *page, const struct new_job *form)
{
    const struct frame frame = {
        .title = words_get(page->words, WORD_JOBS_NEW), .style = "new", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    html_word(out, page, WORD_JOBS_NEW);
    RAW(out, "</h1><p>");
    html_word(out, page, WORD_NEW_INTRO);
    RAW(out, "</p>");
    loose_faults(out, page, form);
    RAW(out, "<form class=\"new-job\" method=\"post\" action=\"/jobs/new\">");
    html_hidden(out, "csrf", page->csrf);
    group(out, page, form, WORD_NEW_WHO, who, sizeof who / sizeof *who);
    group(out, page, form, WORD_NEW_SWITCHES, switches, sizeof switches / sizeof *switches);
    quantities(out, page, form);
    RAW(out, "<p><button>");
    html_word(out, page, WORD_NEW_SEND);
    RAW(out, "</button></p></form>");
    html_close(out, page, &frame);
}
