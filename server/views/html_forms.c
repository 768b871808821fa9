/* SPDX-License-Identifier: MIT */
/*
 * Why: see html_forms.h. Each form carries the id of the record it will make, drawn from the page's
 * random seed, so that a double tap or a lost answer stores one record. A refused form comes back
 * with every field as it was typed.
 */
#include "views/html_forms.h"

#include <stdio.h>
#include <string.h>

#include "model/ids.h"

#include "base/banned.h"

#define BIT(x) (UINT64_C(1) << (x))
#define ALL(count) (BIT(count) - 1)

bool html_form_echoes(const struct form_out *form)
{
    const struct form_echo *echo = form->page->echo;
    if (echo == NULL || echo->form == NULL || strcmp(echo->form, form->name) != 0) return false;
    return echo->job_id == NULL || strcmp(echo->job_id, form->job->job->id) == 0;
}

const char *html_form_typed(const struct form_out *form, const char *field)
{
    if (!html_form_echoes(form)) return NULL;
    return form_field_value(form->page->echo->fields, form->page->echo->field_count, field);
}

const struct fault *html_form_fault(const struct form_out *form, const char *field)
{
    if (!html_form_echoes(form)) return NULL;
    for (size_t i = 0; i < form->page->echo->fault_count; i++) {
        if (strcmp(form->page->echo->faults[i].path, field) == 0)
            return &form->page->echo->faults[i];
    }
    return NULL;
}

/* A version 4 UUID (RFC 9562) from the page's seed; the serial sets its last two bytes apart. */
void html_form_id(struct text *out, const struct page *page, unsigned serial)
{
    unsigned char id[PAGE_SEED_BYTES];
    memcpy(id, page->form_seed, sizeof id);
    id[14] ^= (unsigned char)(serial >> 8);
    id[15] ^= (unsigned char)serial;
    id[6] = (unsigned char)((id[6] & 0x0f) | 0x40);
    id[8] = (unsigned char)((id[8] & 0x3f) | 0x80);
    for (size_t i = 0; i < sizeof id; i++) {
        if (i == 4 || i == 6 || i == 8 || i == 10) text_add_byte(out, '-');
        text_print(out, "%02x", id[i]);
    }
}

void html_form_hidden(struct form_out *form, const char *field, const char *value)
{
    text_print(form->out, "<input type=\"hidden\" name=\"%s\" value=\"", field);
    text_html_z(form->out, value);
    RAW(form->out, "\">");
}

void html_form_open(struct form_out *form, const char *action, enum word title, unsigned serial)
{
    struct text *out = form->out;
    RAW(out, "<form class=\"plain\" method=\"post\" action=\"");
    text_html_z(out, action);
    const char level = form->level == 0 ? '3' : form->level;
    text_print(out, "\"><h%c>", level);
    html_word(out, form->page, title);
    text_print(out, "</h%c>", level);
    if (html_form_echoes(form)) {
        RAW(out, "<p class=\"refused\" role=\"alert\">");
        html_word(out, form->page, WORD_PAGE_REFUSED);
        RAW(out, "</p>");
    }
    html_form_hidden(form, "form", form->name);
    const char *id = html_form_typed(form, "id");
    if (id != NULL) {
        html_form_hidden(form, "id", id);
    } else {
        RAW(out, "<input type=\"hidden\" name=\"id\" value=\"");
        html_form_id(out, form->page, serial);
        RAW(out, "\">");
    }
    if (form->page->csrf != NULL) html_form_hidden(form, "csrf", form->page->csrf);
}

/* Faults that belong to no field that is shown stand at the end of the form. */
static void loose_faults(struct form_out *form)
{
    if (!html_form_echoes(form)) return;
    static const char *const hidden[] = {"id", "kind", "at", ""};
    for (size_t i = 0; i < form->page->echo->fault_count; i++) {
        const struct fault *fault = &form->page->echo->faults[i];
        for (size_t k = 0; k < sizeof hidden / sizeof *hidden; k++) {
            if (strcmp(fault->path, hidden[k]) != 0) continue;
            RAW(form->out, "<p class=\"wrong\">");
            HTML_SAY(form->out, form->page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
                     {"wanted", fault->wanted});
            RAW(form->out, "</p>");
        }
    }
}

void html_form_close(struct form_out *form, enum word button)
{
    loose_faults(form);
    RAW(form->out, "<button type=\"submit\">");
    html_word(form->out, form->page, button);
    RAW(form->out, "</button>");
    if (form->try_action != NULL && button != WORD_FORM_AGREE_SEND) {
        RAW(form->out, " <button type=\"submit\" class=\"try\" formaction=\"");
        text_html_z(form->out, form->try_action);
        RAW(form->out, "\">");
        html_word(form->out, form->page, WORD_TRY_BUTTON);
        RAW(form->out, "</button>");
    }
    RAW(form->out, "</form>");
}

static void label_open(struct form_out *form, enum word label)
{
    RAW(form->out, "<label><span>");
    html_word(form->out, form->page, label);
    RAW(form->out, "</span>");
}

static void label_close(struct form_out *form, const char *field)
{
    const struct fault *fault = html_form_fault(form, field);
    if (fault != NULL) {
        RAW(form->out, "<em class=\"wrong\">");
        HTML_SAY(form->out, form->page, WORD_PAGE_FOUND_WANTED, {"found", fault->found},
                 {"wanted", fault->wanted});
        RAW(form->out, "</em>");
    }
    RAW(form->out, "</label>");
}

static const char *invalid(const struct form_out *form, const char *field)
{
    return html_form_fault(form, field) == NULL ? "" : " aria-invalid=\"true\"";
}

void html_form_choice(struct form_out *form, const char *field, enum word label, enum word_set set,
                      const struct id_table *table, uint64_t shown, int first)
{
    struct text *out = form->out;
    const char *chosen = html_form_typed(form, field);
    label_open(form, label);
    text_print(out, "<select name=\"%s\"%s>", field, invalid(form, field));
    if (first < 0) {
        RAW(out, "<option value=\"\">");
        html_word(out, form->page, WORD_FORM_NONE);
        RAW(out, "</option>");
    }
    for (size_t i = 0; i < table->count; i++) {
        if ((shown & BIT(i)) == 0) continue;
        bool selected = chosen != NULL ? strcmp(chosen, table->ids[i]) == 0 : first == (int)i;
        text_print(out, "<option value=\"%s\"%s>", table->ids[i], selected ? " selected" : "");
        html_of(out, form->page, set, (int)i);
        RAW(out, "</option>");
    }
    RAW(out, "</select>");
    label_close(form, field);
}

void html_form_input(struct form_out *form, const char *field, enum word label, const char *type,
                     const char *value)
{
    const char *kept = html_form_typed(form, field);
    label_open(form, label);
    bool number = strcmp(type, "number") == 0;
    text_print(form->out, "<input type=\"%s\" name=\"%s\"%s%s value=\"", number ? "text" : type,
               field, number ? " inputmode=\"decimal\" autocomplete=\"off\"" : "",
               invalid(form, field));
    text_html_z(form->out, kept != NULL ? kept : value);
    RAW(form->out, "\">");
    label_close(form, field);
}

void html_form_tick(struct form_out *form, const char *field, enum word label)
{
    text_print(form->out,
               "<label class=\"tick\"><input type=\"checkbox\" name=\"%s\" value=\"yes\"%s>"
               " <span>",
               field, html_form_typed(form, field) != NULL ? " checked" : "");
    html_word(form->out, form->page, label);
    RAW(form->out, "</span></label>");
}

void html_form_scale(struct form_out *form)
{
    const char *kept = html_form_typed(form, "scale");
    bool celsius = kept != NULL && strcmp(kept, "c") == 0;
    label_open(form, WORD_FORM_SCALE);
    text_print(form->out,
               "<select name=\"scale\"><option value=\"f\">\u00b0F</option>"
               "<option value=\"c\"%s>\u00b0C</option></select></label>",
               celsius ? " selected" : "");
}

void html_form_when_by(struct form_out *form)
{
    label_open(form, WORD_FORM_WHEN);
    text_print(form->out, "<input type=\"datetime-local\" name=\"at_local\"%s value=\"",
               invalid(form, "at_local"));
    text_html_z(form->out, html_form_typed(form, "at_local"));
    RAW(form->out, "\"><small>");
    html_word(form->out, form->page, WORD_FORM_WHEN_NOW);
    RAW(form->out, "</small>");
    label_close(form, "at_local");
    html_form_input(form, "by", WORD_FORM_BY, "text", NULL);
}

/* Kinds as bits: RECORD_KIND_COUNT is below 64. */
static void kind_choice(struct form_out *form, uint64_t kinds)
{
    html_form_choice(form, "kind", WORD_FORM_WHAT, WORD_SET_KIND, &record_kind_ids, kinds, -1);
}

/* Tasks this job needs; open ones only, or all of them. */
static uint64_t needed_tasks(const struct job_plan *job, bool open_only)
{
    uint64_t shown = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        if (job->tasks[t].state == TASK_STATE_NOT_NEEDED) continue;
        if (open_only && stage_task_over(&job->tasks[t])) continue;
        shown |= BIT(t);
    }
    return shown;
}

static int next_task(const struct job_plan *job)
{
    const struct task_plan *next = stage_next_task(job);
    return next == NULL ? -1 : (int)next->task;
}

static const uint64_t parts_of_work = ALL(PART_COUNT) & ~BIT(PART_AIR);

static void form_reading(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "reading";
    html_form_open(form, action, WORD_FORM_READING, serial);
    html_form_hidden(form, "kind", "reading");
    html_form_choice(form, "part", WORD_FORM_PART, WORD_SET_PART, &part_ids, ALL(PART_COUNT),
                     stage_of(form->job) <= STAGE_BASE ? PART_PAD : PART_UNIT);
    html_form_choice(form, "how", WORD_FORM_HOW, WORD_SET_HOW, &reading_how_ids, ALL(HOW_COUNT),
                     HOW_PROBE);
    html_form_input(form, "degrees", WORD_FORM_DEGREES, "number", NULL);
    html_form_scale(form);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_task(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "task";
    html_form_open(form, action, WORD_FORM_TASK, serial);
    kind_choice(form, BIT(RECORD_DONE) | BIT(RECORD_STARTED) | BIT(RECORD_STOPPED) |
                          BIT(RECORD_PASSED) | BIT(RECORD_FAILED));
    html_form_choice(form, "task", WORD_FORM_TASK_NAME, WORD_SET_TASK, &task_ids,
                     needed_tasks(form->job, false), next_task(form->job));
    html_form_choice(form, "why", WORD_FORM_WHY, WORD_SET_WHY, &stop_why_ids, ALL(STOP_COUNT), -1);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_shelter(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "shelter";
    html_form_open(form, action, WORD_FORM_SHELTER, serial);
    kind_choice(form, BIT(RECORD_COVERED) | BIT(RECORD_UNCOVERED) | BIT(RECORD_CLOSED_IN) |
                          BIT(RECORD_OPENED) | BIT(RECORD_WRAPPED) | BIT(RECORD_UNWRAPPED) |
                          BIT(RECORD_WET_COVER_ON) | BIT(RECORD_WET_COVER_OFF));
    html_form_choice(form, "part", WORD_FORM_PART, WORD_SET_PART, &part_ids, parts_of_work, -1);
    html_form_choice(form, "shelter", WORD_FORM_SHELTER_KIND, WORD_SET_SHELTER, &shelter_ids,
                     ALL(SHELTER_COUNT), -1);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_look(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "look";
    html_form_open(form, action, WORD_FORM_LOOK, serial);
    kind_choice(form, BIT(RECORD_LOOKED) | BIT(RECORD_SOAKED) | BIT(RECORD_LIT));
    html_form_choice(form, "part", WORD_FORM_PART, WORD_SET_PART, &part_ids, parts_of_work,
                     PART_UNIT);
    html_form_choice(form, "result", WORD_FORM_RESULT, WORD_SET_RESULT, &result_ids,
                     BIT(RESULT_NO_DAMAGE_SEEN) | BIT(RESULT_REDO), -1);
    html_form_tick(form, "standing", WORD_FORM_STANDING);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_mend(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "mend";
    html_form_open(form, action, WORD_FORM_MEND, serial);
    kind_choice(form, BIT(RECORD_PATCHED) | BIT(RECORD_RELAID) | BIT(RECORD_FACING));
    html_form_input(form, "days", WORD_FORM_DAYS, "number", NULL);
    html_form_input(form, "initials", WORD_FORM_INITIALS, "text", NULL);
    html_form_choice(form, "what", WORD_FORM_PANEL, WORD_SET_RELAID, &relaid_what_ids,
                     ALL(RELAID_COUNT), -1);
    html_form_input(form, "percent", WORD_FORM_PERCENT, "number", NULL);
    html_form_tick(form, "last", WORD_FORM_LAST);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_inspection(struct form_out *form, const char *action, unsigned serial)
{
    static const enum task inspected[] = {TASK_FOOTING_READY, TASK_PAD_INSPECT, TASK_THROAT_INSPECT,
                                          TASK_FRAME_INSPECT, TASK_GAS_ROUGH,   TASK_FINAL_INSPECT};
    uint64_t shown = 0;
    for (size_t i = 0; i < sizeof inspected / sizeof *inspected; i++) shown |= BIT(inspected[i]);
    shown &= needed_tasks(form->job, false);
    form->name = "inspection";
    html_form_open(form, action, WORD_FORM_INSPECTION, serial);
    kind_choice(form, BIT(RECORD_INSPECTION) | BIT(RECORD_BOOKED));
    html_form_choice(form, "task", WORD_FORM_TASK_NAME, WORD_SET_TASK, &task_ids, shown, -1);
    html_form_choice(form, "result", WORD_FORM_RESULT, WORD_SET_RESULT, &result_ids,
                     BIT(RESULT_PASSED) | BIT(RESULT_PASSED_WITH_NOTE) | BIT(RESULT_FAILED) |
                         BIT(RESULT_NOT_COME),
                     -1);
    html_form_input(form, "inspector", WORD_FORM_INSPECTOR, "text", NULL);
    html_form_input(form, "date", WORD_FORM_DATE, "date", NULL);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_logged_day(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "logged-day";
    html_form_open(form, action, WORD_FORM_LOGGED_DAY, serial);
    html_form_hidden(form, "kind", "logged-day");
    html_form_input(form, "date", WORD_FORM_DATE, "date", NULL);
    html_form_input(form, "mean", WORD_FORM_MEAN, "number", NULL);
    html_form_input(form, "min", WORD_FORM_MIN, "number", NULL);
    html_form_scale(form);
    html_form_input(form, "by", WORD_FORM_BY, "text", NULL);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_agree(struct form_out *form, const char *action, unsigned serial)
{
    struct when when = html_when(form->page, form->job->job->zone);
    const struct fire_plan *fire = &form->job->fire;
    int32_t least = fire->blocked_by != 0 ? DAY_NONE : fire->cure_complete_day;
    form->name = "agree";
    html_form_open(form, action, WORD_FORM_AGREE, serial);
    html_form_hidden(form, "kind", "agreed");
    RAW(form->out, "<p class=\"wide\">");
    struct phrase date = when_date(&when, least);
    HTML_SAY(form->out, form->page, WORD_FORM_AGREE_LEAST, {"date", date.z});
    RAW(form->out, " ");
    html_word(form->out, form->page, WORD_FORM_AGREE_NOTE);
    RAW(form->out, "</p>");
    struct text day = TEXT_UP_TO(16);
    if (least != DAY_NONE)
        text_date(&day, fire->promise_day != DAY_NONE ? fire->promise_day : least);
    html_form_input(form, "date", WORD_FORM_DATE, "date", text_z(&day));
    text_free(&day);
    html_form_input(form, "reason", WORD_FORM_REASON, "text", NULL);
    html_form_input(form, "by", WORD_FORM_BY, "text", NULL);
    html_form_close(form, WORD_FORM_AGREE_SEND);
}

static void form_bag(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "bag";
    html_form_open(form, action, WORD_FORM_BAG, serial);
    html_form_hidden(form, "kind", "bag");
    html_form_input(form, "lot", WORD_FORM_LOT, "text", NULL);
    html_form_choice(form, "mortar", WORD_FORM_MORTAR, WORD_SET_MORTAR, &mortar_ids,
                     ALL(MORTAR_COUNT), MORTAR_POLYMER);
    html_form_input(form, "min", WORD_FORM_BAG_MIN, "number", NULL);
    html_form_input(form, "made_on", WORD_FORM_MADE_ON, "date", NULL);
    html_form_input(form, "months", WORD_FORM_MONTHS, "number", NULL);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

static void form_note(struct form_out *form, const char *action, unsigned serial)
{
    form->name = "note";
    html_form_open(form, action, WORD_FORM_NOTE, serial);
    html_form_hidden(form, "kind", "note");
    html_form_input(form, "note", WORD_FORM_NOTE_TEXT, "text", NULL);
    html_form_when_by(form);
    html_form_close(form, WORD_FORM_SEND);
}

void html_forms_job(struct text *out, const struct page *page, const struct job_plan *job)
{
    static void (*const forms[])(struct form_out *, const char *, unsigned) = {
        form_reading,    form_task,       form_shelter, form_look, form_mend,
        form_inspection, form_logged_day, form_agree,   form_bag,  form_note};
    struct text action = TEXT_UP_TO(1000);
    text_add_z(&action, "/jobs/");
    html_segment(&action, job->job->id);
    text_add_z(&action, "/records");
    struct text try_action = TEXT_UP_TO(1000);
    text_add_z(&try_action, "/jobs/");
    html_segment(&try_action, job->job->id);
    text_add_z(&try_action, "/try");
    struct form_out form = {
        .out = out, .page = page, .job = job, .try_action = text_z(&try_action)};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        forms[i](&form, text_z(&action), (unsigned)i + 1);
    text_free(&try_action);
    text_free(&action);
}
