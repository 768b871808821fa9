/* SPDX-License-Identifier: MIT */
/*
 * Why: see html_crew_panels.h. Every choice is a big button that stays pressed (a radio and its
 * label), preset to the likely answer, and the last tap is always on one's own name: that tap
 * sends. So a reading is: open, two digits, name.
 */
#include "views/html_crew_panels.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "model/ids.h"
#include "views/html_weather.h"

#include "base/banned.h"

#define BIT(x) (UINT64_C(1) << (x))
#define ALL(count) (BIT(count) - 1)

enum { LIKELY_PARTS = 2 };

static void word(const struct crew_page *day, enum word which)
{
    html_word(day->out, day->page, which);
}

void html_crew_bring(struct text *out, const struct page *page, const char *list)
{
    HTML_SAY(out, page, WORD_CREW_MATERIALS, {"list", list});
}

void html_crew_boss(struct text *out, const struct page *page)
{
    const char *phone = page->company == NULL ? NULL : page->company->phone;
    if (phone == NULL) return;
    RAW(out, "<a class=\"boss\" href=\"tel:");
    for (const char *at = phone; *at != '\0'; at++) {
        if (isdigit((unsigned char)*at) || *at == '+') text_add_byte(out, *at);
    }
    RAW(out, "\">");
    html_word(out, page, WORD_CREW_BOSS);
    RAW(out, "</a>");
}

/* --- a panel -----------------------------------------------------------------------------------
 */

/* One panel while it is written. */
struct panel {
    struct crew_page *day;
    size_t n;
    const struct job_plan *job;
    struct form_out form; /**< its name is the panel's: "reading", "task-layout" */
};

static void fault(const struct panel *panel, const char *field, enum word label)
{
    const struct fault *found = html_form_fault(&panel->form, field);
    if (found == NULL) return;
    struct text *out = panel->day->out;
    RAW(out, "<p class=\"wrong\">");
    if (strcmp(field, "degrees") == 0)
        word(panel->day, WORD_CREW_DEGREES_WRONG);
    else if (strcmp(field, "at") == 0 || strcmp(field, "at_local") == 0)
        word(panel->day, WORD_CREW_TIME_WRONG);
    else
        HTML_SAY(out, panel->day->page, WORD_CREW_FIELD_WRONG,
                 {"field", words_get(panel->day->page->words, label)});
    RAW(out, "</p>");
}

/* `id` is the last part of the panel's address. */
static void panel_open(struct panel *panel, const char *id, const char *title)
{
    struct text *out = panel->day->out;
    text_print(out, "<section class=\"panel%s\" id=\"j%zu-%s\" aria-labelledby=\"j%zu-%s-h\">",
               html_form_echoes(&panel->form) ? " open" : "", panel->n, id, panel->n, id);
    text_print(out, "<form method=\"post\" action=\"%s\"><div class=\"over\">", panel->day->action);
    text_print(out, "<a class=\"back\" href=\"#j%zu\">", panel->n);
    word(panel->day, WORD_PAGE_BACK);
    text_print(out, "</a><h2 id=\"j%zu-%s-h\" tabindex=\"-1\">", panel->n, id);
    text_html_z(out, title);
    RAW(out, " <small>");
    text_html_z(out, panel->job->job->name == NULL ? panel->job->job->id : panel->job->job->name);
    RAW(out, "</small></h2></div>");
    html_form_hidden(&panel->form, "form", panel->form.name);
    html_form_hidden(&panel->form, "job", panel->job->job->id);
    const char *typed = html_form_typed(&panel->form, "id");
    RAW(out, "<input type=\"hidden\" name=\"id\" value=\"");
    if (typed != NULL)
        text_html_z(out, typed);
    else
        html_form_id(out, panel->day->page, ++panel->day->serial);
    RAW(out, "\">");
    if (panel->day->page->csrf != NULL)
        html_form_hidden(&panel->form, "csrf", panel->day->page->csrf);
    if (!html_form_echoes(&panel->form)) return;
    RAW(out, "<p class=\"wrong\" role=\"alert\">");
    word(panel->day, WORD_PAGE_REFUSED);
    RAW(out, "</p>");
    fault(panel, "at", WORD_FORM_WHEN);
    fault(panel, "at_local", WORD_FORM_WHEN);
}

/* Names, and a field for a name that is not among them. A script adds the names it remembers. */
static void sign_and_close(struct panel *panel)
{
    struct text *out = panel->day->out;
    fault(panel, "by", WORD_CREW_INITIALS);
    RAW(out, "<div class=\"who\"><p>");
    word(panel->day, WORD_CREW_NAME_TAP);
    RAW(out, "</p><div class=\"names\">");
    for (size_t i = 0; i < panel->day->page->name_count; i++) {
        RAW(out, "<button type=\"submit\" name=\"by\" value=\"");
        text_html_z(out, panel->day->page->names[i]);
        RAW(out, "\">");
        text_html_z(out, panel->day->page->names[i]);
        RAW(out, "</button>");
    }
    text_print(out, "</div><details class=\"other\"%s><summary>",
               panel->day->page->name_count == 0 || html_form_echoes(&panel->form) ? " open" : "");
    word(panel->day, WORD_CREW_NAME_OTHER);
    RAW(out, "</summary><div class=\"pair\"><label><span>");
    word(panel->day, WORD_CREW_INITIALS);
    RAW(out,
        "</span><input type=\"text\" name=\"by\" autocomplete=\"name\" maxlength=\"80\" value=\"");
    text_html_z(out, html_form_typed(&panel->form, "by"));
    RAW(out, "\"></label><button type=\"submit\">");
    word(panel->day, WORD_FORM_SEND);
    RAW(out, "</button></div></details></div></form></section>");
}

/* One big button that stays pressed. */
static void pick(struct panel *panel, const char *field, const char *value, const char *label,
                 bool first)
{
    struct text *out = panel->day->out;
    const char *typed = html_form_typed(&panel->form, field);
    const bool checked = typed == NULL ? first : strcmp(typed, value) == 0;
    text_print(out, "<label><input type=\"radio\" name=\"%s\" value=\"%s\"%s><span>", field, value,
               checked ? " checked" : "");
    text_html_z(out, label);
    RAW(out, "</span></label>");
}

static void picks_open(struct panel *panel, const char *class, enum word legend)
{
    text_print(panel->day->out, "<fieldset class=\"%s\"><legend>", class);
    word(panel->day, legend);
    RAW(panel->day->out, "</legend>");
}

static void picks(struct panel *panel, const char *field, enum word_set set,
                  const struct id_table *table, uint64_t shown, int first)
{
    for (size_t i = 0; i < table->count; i++) {
        if ((shown & BIT(i)) == 0) continue;
        pick(panel, field, table->ids[i], words_of(panel->day->page->words, set, (int)i),
             first == (int)i);
    }
}

/* Needs a script, so a script shows it. */
static void photo(struct panel *panel)
{
    struct text *out = panel->day->out;
    RAW(out, "<label class=\"photo\" hidden><input type=\"file\" accept=\"image/*\" "
             "capture=\"environment\"><span>");
    word(panel->day, WORD_CREW_PHOTO);
    RAW(out, "</span></label>");
}

/* --- the reading -------------------------------------------------------------------------------
 */

static const struct record *last_reading(const struct job_plan *job)
{
    const struct record *last = NULL;
    for (int p = 0; p < PART_COUNT; p++) {
        const struct record *reading = job->parts[p].last_reading;
        if (reading != NULL && (last == NULL || reading->at_s > last->at_s)) last = reading;
    }
    return last;
}

/* The part that was read last, else what the crew works on; then the next likely one. */
static void likely_parts(const struct job_plan *job, int likely[LIKELY_PARTS])
{
    const struct record *last = last_reading(job);
    const enum stage stage = stage_of(job);
    const int at_work = stage <= STAGE_BASE     ? PART_PAD
                        : stage == STAGE_LINING ? PART_LINING
                        : stage <= STAGE_STACK  ? PART_JOINTS
                                                : PART_UNIT;
    likely[0] = last != NULL ? (int)last->part : at_work;
    likely[1] = likely[0] != at_work ? at_work : likely[0] == PART_UNIT ? PART_AIR : PART_UNIT;
}

static void panel_reading(struct panel *panel)
{
    struct crew_page *day = panel->day;
    struct text *out = day->out;
    const struct words *words = day->page->words;
    const struct record *last = last_reading(panel->job);
    int likely[LIKELY_PARTS];
    likely_parts(panel->job, likely);
    panel->form.name = "reading";
    panel_open(panel, "reading", words_get(words, WORD_CREW_TEMPERATURE));
    html_form_hidden(&panel->form, "kind", "reading");
    html_form_hidden(&panel->form, "scale", "f");
    struct phrase value = says_degrees(last == NULL ? 0 : last->temp_degc);
    RAW(out, "<label class=\"number\"><span>");
    word(day, WORD_FORM_DEGREES);
    RAW(out, " \u00b0F</span><input type=\"text\" name=\"degrees\" inputmode=\"decimal\" "
             "autocomplete=\"off\" maxlength=\"6\" value=\"");
    const char *typed = html_form_typed(&panel->form, "degrees");
    if (typed != NULL)
        text_html_z(out, typed);
    else if (last != NULL)
        text_add(out, value.z, strcspn(value.z, "\xc2"));
    RAW(out, "\"></label>");
    if (last != NULL) {
        struct when when = html_when(day->page, panel->job->job->zone);
        struct phrase time = when_day_time(&when, last->at_s);
        RAW(out, "<p class=\"last\">");
        HTML_SAY(out, day->page, WORD_CREW_LAST_READING, {"value", value.z}, {"time", time.z});
        RAW(out, "</p>");
    }
    fault(panel, "degrees", WORD_FORM_DEGREES);
    fault(panel, "part", WORD_FORM_PART);
    picks_open(panel, "picks part", WORD_FORM_PART);
    for (int i = 0; i < LIKELY_PARTS; i++)
        pick(panel, "part", part_ids.ids[likely[i]], words_of(words, WORD_SET_PART, likely[i]),
             i == 0);
    RAW(out, "<details><summary>");
    word(day, WORD_CREW_MORE);
    RAW(out, "</summary><div class=\"picks\">");
    picks(panel, "part", WORD_SET_PART, &part_ids,
          ALL(PART_COUNT) & ~BIT(likely[0]) & ~BIT(likely[1]), -1);
    RAW(out, "</div><p>");
    word(day, WORD_FORM_HOW);
    RAW(out, "</p><div class=\"picks\">");
    picks(panel, "how", WORD_SET_HOW, &reading_how_ids, ALL(HOW_COUNT), HOW_PROBE);
    RAW(out, "</div></details></fieldset><div class=\"keys\" hidden></div>");
    sign_and_close(panel);
}

/* --- a task ------------------------------------------------------------------------------------
 */

static void panel_task(struct panel *panel, const struct task_plan *task)
{
    struct crew_page *day = panel->day;
    struct text *out = day->out;
    const struct words *words = day->page->words;
    struct when when = html_when(day->page, panel->job->job->zone);
    const char *id = task_ids.ids[task->task];
    char name[ID_BYTES_MAX + 8];
    (void)snprintf(name, sizeof name, "task-%s", id);
    panel->form.name = name;
    panel_open(panel, id, words_of(words, WORD_SET_TASK, (int)task->task));
    html_form_hidden(&panel->form, "task", id);
    RAW(out, "<p class=\"state-line\">");
    html_crew_task_state(out, day->page, &when, task);
    RAW(out, "</p><p class=\"check\">");
    HTML_SAY(out, day->page, WORD_CREW_CHECK,
             {"check", words_of(words, WORD_SET_CHECK, (int)task->task)});
    RAW(out, "</p>");
    html_weather_measures(out, day->page, task);
    fault(panel, "kind", WORD_FORM_WHAT);
    fault(panel, "task", WORD_FORM_TASK_NAME);
    fault(panel, "why", WORD_FORM_STOP_WHY);
    const bool checked = task->check_count > 0 || task->held;
    const bool under_way = task->state == TASK_STATE_WORKING || task->held;
    picks_open(panel, "picks what", WORD_FORM_WHAT);
    pick(panel, "kind", "started", words_of(words, WORD_SET_KIND, RECORD_STARTED), !under_way);
    if (checked && !task->held) {
        const char *typed = html_form_typed(&panel->form, "done_id");
        RAW(out, "<input type=\"hidden\" name=\"done_id\" value=\"");
        if (typed != NULL)
            text_html_z(out, typed);
        else
            html_form_id(out, day->page, ++day->serial);
        RAW(out, "\">");
    }
    if (checked)
        pick(panel, "kind", "passed", words_get(words, WORD_CREW_PASS), under_way);
    else
        pick(panel, "kind", "done", words_of(words, WORD_SET_KIND, RECORD_DONE), under_way);
    pick(panel, "kind", "stopped", words_of(words, WORD_SET_KIND, RECORD_STOPPED), false);
    RAW(out, "</fieldset>");
    picks_open(panel, "picks why", WORD_FORM_STOP_WHY);
    picks(panel, "why", WORD_SET_WHY, &stop_why_ids, ALL(STOP_COUNT), -1);
    RAW(out, "</fieldset>");
    if (checked && html_crew_wants_photo(task)) photo(panel);
    if (checked) html_crew_checks(&panel->form, task);
    sign_and_close(panel);
}

/* --- covers, and what is wrong -----------------------------------------------------------------
 */

static void panel_shelter(struct panel *panel)
{
    static const enum record_kind kinds[] = {RECORD_COVERED,      RECORD_UNCOVERED,
                                             RECORD_CLOSED_IN,    RECORD_OPENED,
                                             RECORD_WET_COVER_ON, RECORD_WET_COVER_OFF};
    const struct words *words = panel->day->page->words;
    const bool base = stage_of(panel->job) <= STAGE_BASE;
    panel->form.name = "shelter";
    panel_open(panel, "shelter", words_get(words, WORD_CREW_COVER));
    fault(panel, "kind", WORD_FORM_WHAT);
    picks_open(panel, "picks", WORD_FORM_WHAT);
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        const char *label = kinds[i] == RECORD_CLOSED_IN ? words_get(words, WORD_CREW_CLOSED_IN)
                            : kinds[i] == RECORD_OPENED
                                ? words_get(words, WORD_CREW_OPENED)
                                : words_of(words, WORD_SET_KIND, (int)kinds[i]);
        pick(panel, "kind", record_kind_ids.ids[kinds[i]], label, false);
    }
    RAW(panel->day->out, "</fieldset>");
    fault(panel, "part", WORD_FORM_PART);
    picks_open(panel, "picks", WORD_FORM_PART);
    picks(panel, "part", WORD_SET_PART, &part_ids,
          BIT(PART_PAD) | BIT(PART_JOINTS) | BIT(PART_UNIT), base ? PART_PAD : PART_UNIT);
    RAW(panel->day->out, "</fieldset>");
    fault(panel, "shelter", WORD_FORM_SHELTER_KIND);
    picks_open(panel, "picks", WORD_FORM_SHELTER_KIND);
    picks(panel, "shelter", WORD_SET_SHELTER, &shelter_ids, ALL(SHELTER_COUNT), SHELTER_BLANKET);
    RAW(panel->day->out, "</fieldset>");
    photo(panel);
    sign_and_close(panel);
}

static void panel_wrong(struct panel *panel)
{
    struct text *out = panel->day->out;
    panel->form.name = "wrong";
    panel_open(panel, "wrong", words_get(panel->day->page->words, WORD_CREW_SOMETHING_WRONG));
    html_form_hidden(&panel->form, "kind", "note");
    photo(panel);
    fault(panel, "note", WORD_CREW_WORDS);
    RAW(out, "<label class=\"words\"><span>");
    word(panel->day, WORD_CREW_WORDS);
    RAW(out, "</span><textarea name=\"note\" rows=\"2\" maxlength=\"2000\">");
    text_html_z(out, html_form_typed(&panel->form, "note"));
    RAW(out, "</textarea></label>");
    html_crew_boss(out, panel->day->page);
    sign_and_close(panel);
}

void html_crew_panels(struct crew_page *day, size_t n, const struct job_plan *job)
{
    struct panel panel = {.day = day, .n = n, .job = job};
    panel.form = (struct form_out){.out = day->out, .page = day->page, .job = job};
    const struct task_plan *tasks[CREW_DO_MAX];
    const size_t count = crew_day_do(day->page, day->plan, day->crew, job, tasks);
    panel_reading(&panel);
    for (size_t i = 0; i < count; i++) panel_task(&panel, tasks[i]);
    panel_shelter(&panel);
    panel_wrong(&panel);
}

void html_crew_mine(const struct crew_page *day)
{
    struct text *out = day->out;
    RAW(out, "<section class=\"panel\" id=\"mine\" aria-labelledby=\"mine-h\"><div class=\"over\">"
             "<a class=\"back\" href=\"#main\">");
    word(day, WORD_PAGE_BACK);
    RAW(out, "</a><h2 id=\"mine-h\" tabindex=\"-1\">");
    word(day, WORD_CREW_MINE);
    RAW(out, "</h2></div><p class=\"mine-none\">");
    word(day, WORD_CREW_MINE_NONE);
    RAW(out, "</p><ol class=\"mine\"></ol></section>");
}

/* --- what a script may say ---------------------------------------------------------------------
 */

static void says(const struct crew_page *day, const char *name, const char *text)
{
    text_print(day->out, "<p data-says=\"%s\">", name);
    text_html_z(day->out, text);
    RAW(day->out, "</p>");
}

static void says_set(const struct crew_page *day, const char *prefix, enum word_set set,
                     const struct id_table *table, uint64_t shown)
{
    char name[ID_BYTES_MAX + 16];
    for (size_t i = 0; i < table->count; i++) {
        if ((shown & BIT(i)) == 0) continue;
        (void)snprintf(name, sizeof name, "%s-%s", prefix, table->ids[i]);
        says(day, name, words_of(day->page->words, set, (int)i));
    }
}

/* Templates with a figure: `#` stands where a script puts it. */
static void says_with(const struct crew_page *day, const char *name, enum word which,
                      const char *placeholder)
{
    text_print(day->out, "<p data-says=\"%s\">", name);
    HTML_SAY(day->out, day->page, which, {placeholder, "#"});
    RAW(day->out, "</p>");
}

void html_crew_says(const struct crew_page *day)
{
    static const struct {
        const char *name;
        enum word word;
    } texts[] = {
        {"kept", WORD_PAGE_KEPT},
        {"sent", WORD_PAGE_SENT},
        {"old", WORD_PAGE_OLD_SAYS},
        {"item-sent", WORD_CREW_ITEM_SENT},
        {"item-waits", WORD_CREW_ITEM_WAITS},
        {"item-refused", WORD_CREW_ITEM_REFUSED},
        {"item-undone", WORD_CREW_ITEM_UNDONE},
        {"item-corrected", WORD_CREW_ITEM_CORRECTED},
        {"undo", WORD_CREW_UNDO},
        {"correct", WORD_CREW_CORRECT},
        {"take-back", WORD_CREW_TAKE_BACK},
        {"again", WORD_CREW_AGAIN},
        {"without-photo", WORD_CREW_WITHOUT_PHOTO},
        {"words-add", WORD_CREW_WORDS_ADD},
        {"send", WORD_FORM_SEND},
        {"wrong", WORD_CREW_SOMETHING_WRONG},
        {"pass", WORD_CREW_PASS},
        {"photo", WORD_CREW_PHOTO},
        {"photo-taken", WORD_CREW_PHOTO_TAKEN},
        {"photo-bad", WORD_CREW_PHOTO_BAD},
        {"why-link", WORD_CREW_WHY_LINK},
        {"why-job", WORD_CREW_WHY_JOB},
        {"why-clash", WORD_CREW_WHY_CLASH},
        {"why-room", WORD_CREW_WHY_ROOM},
        {"why-photo", WORD_CREW_WHY_PHOTO},
        {"degrees-wrong", WORD_CREW_DEGREES_WRONG},
        {"time-wrong", WORD_CREW_TIME_WRONG},
        {"other-wrong", WORD_CREW_OTHER_WRONG},
        {"plain-http", WORD_CREW_PLAIN_HTTP},
        {"no-store", WORD_CREW_NO_STORE},
        {"offline", WORD_CREW_OFFLINE},
        {"ready", WORD_CREW_READY},
        {"erase", WORD_CREW_ERASE},
        {"no-name", WORD_CREW_NO_NAME},
        {"no-degrees", WORD_CREW_NO_DEGREES},
        {"no-why", WORD_CREW_NO_WHY},
        {"no-choice", WORD_CREW_NO_CHOICE},
        {"check-wrong", WORD_CREW_CHECK_WRONG},
    };
    RAW(day->out, "<div hidden>");
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        says(day, texts[i].name, words_get(day->page->words, texts[i].word));
    says_with(day, "waiting", WORD_CREW_WAITING, "n");
    says_with(day, "clock", WORD_CREW_CLOCK, "n");
    says_with(day, "why-field", WORD_CREW_WHY_FIELD, "what");
    says_set(day, "kind", WORD_SET_KIND, &record_kind_ids,
             BIT(RECORD_DONE) | BIT(RECORD_STARTED) | BIT(RECORD_STOPPED) | BIT(RECORD_PASSED) |
                 BIT(RECORD_READING) | BIT(RECORD_COVERED) | BIT(RECORD_UNCOVERED) |
                 BIT(RECORD_CLOSED_IN) | BIT(RECORD_OPENED) | BIT(RECORD_WET_COVER_ON) |
                 BIT(RECORD_WET_COVER_OFF) | BIT(RECORD_NOTE) | BIT(RECORD_PHOTO));
    says_set(day, "part", WORD_SET_PART, &part_ids, ALL(PART_COUNT));
    says_set(day, "why", WORD_SET_WHY, &stop_why_ids, ALL(STOP_COUNT));
    says_set(day, "task", WORD_SET_TASK, &task_ids, crew_day_tasks());
    RAW(day->out, "</div>");
}
