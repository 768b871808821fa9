/* SPDX-License-Identifier: MIT */
/*
 * The checks of a task, as the crew reads and answers them. One tap passes by name alone; whoever
 * measures opens the list and answers each. Once one is answered the task asks for all of them, so
 * "all looked at, all yes" answers every yes-or-no at once and leaves the figures to be typed.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "views/html_crew_panels.h"

#include "base/banned.h"

/* "at most 1/8 in." */
static void limit(struct text *out, const struct page *page, const struct check_plan *check,
                  enum word which, double figure)
{
    if (!isfinite(figure)) return;
    RAW(out, ", ");
    HTML_SAY(out, page, which, {"need", says_measure(page->words, figure, check->unit).z});
}

static void name_and_limits(struct text *out, const struct page *page,
                            const struct check_plan *check)
{
    html_of(out, page, WORD_SET_CHECK_OF, (int)check->check);
    limit(out, page, check, WORD_CHECK_AT_LEAST, check->least);
    limit(out, page, check, WORD_CHECK_AT_MOST, check->most);
}

static void yes_or_no(struct text *out, const struct page *page, const char *field,
                      const char *typed, const char *value, enum word word)
{
    text_print(out, "<label><input type=\"radio\" name=\"check.%s\" value=\"%s\"%s><span>", field,
               value, typed != NULL && strcmp(typed, value) == 0 ? " checked" : "");
    html_word(out, page, word);
    RAW(out, "</span></label>");
}

static void typed_field(struct text *out, const char *prefix, const char *field,
                        enum check_kind kind, const char *value)
{
    text_print(out,
               "<input type=\"%s\" name=\"%s.%s\" data-kind=\"%s\" autocomplete=\"off\" "
               "maxlength=\"200\" value=\"",
               kind == CHECK_KIND_DATE ? "date" : "text", prefix, field, check_kind_ids.ids[kind]);
    text_html_z(out, value);
    RAW(out, "\">");
}

static void answer(const struct form_out *form, const struct check_plan *check)
{
    struct text *out = form->out;
    const char *field = check_short_id(check->check);
    char name[CREW_FIELD_MAX];
    (void)snprintf(name, sizeof name, "check.%s", field);
    const char *typed = html_form_typed(form, name);
    if (html_form_fault(form, name) != NULL) {
        RAW(out, "<p class=\"wrong\">");
        html_word(out, form->page, WORD_CREW_CHECK_WRONG);
        RAW(out, "</p>");
    }
    if (check->kind == CHECK_KIND_YES) {
        RAW(out, "<fieldset class=\"picks yes\"><legend>");
        name_and_limits(out, form->page, check);
        RAW(out, "</legend>");
        yes_or_no(out, form->page, field, typed, "yes", WORD_CREW_YES);
        yes_or_no(out, form->page, field, typed, "no", WORD_CREW_NO);
        RAW(out, "</fieldset>");
        return;
    }
    RAW(out, "<label class=\"figure\"><span>");
    name_and_limits(out, form->page, check);
    if (check->kind == CHECK_KIND_MEASURE && check->unit != CHECK_UNIT_NONE &&
        !isfinite(check->least) && !isfinite(check->most)) {
        RAW(out, " (");
        html_of(out, form->page, WORD_SET_MEASURE, (int)check->unit);
        RAW(out, ")");
    }
    RAW(out, "</span>");
    typed_field(out, "check", field, check->kind, typed);
    RAW(out, "</label>");
    if (check->kind != CHECK_KIND_COUNT) return;
    char of[CREW_FIELD_MAX];
    (void)snprintf(of, sizeof of, "of.%s", field);
    typed = html_form_typed(form, of);
    RAW(out, "<label class=\"figure\"><span>");
    html_word(out, form->page, WORD_CREW_OF_HOW_MANY);
    RAW(out, "</span>");
    typed_field(out, "of", field, CHECK_KIND_COUNT,
                typed == NULL && isfinite(check->of) ? says_figure(check->of).z : typed);
    RAW(out, "</label>");
}

bool html_crew_wants_photo(const struct task_plan *task)
{
    for (size_t i = 0; i < task->check_count; i++) {
        const enum evidence evidence = task->checks[i].evidence;
        if (evidence == EVIDENCE_PHOTO || evidence == EVIDENCE_SLIP || evidence == EVIDENCE_CLIP)
            return true;
    }
    return false;
}

void html_crew_checks(const struct form_out *form, const struct task_plan *task)
{
    if (task->check_count == 0) return;
    struct text *out = form->out;
    const struct page *page = form->page;
    size_t yes = 0;
    RAW(out, "<ul class=\"looks\">");
    for (size_t i = 0; i < task->check_count; i++) {
        RAW(out, "<li>");
        name_and_limits(out, page, &task->checks[i]);
        RAW(out, "</li>");
        yes += task->checks[i].kind == CHECK_KIND_YES;
    }
    text_print(out, "</ul><details class=\"checks\"%s><summary>",
               html_form_echoes(form) ? " open" : "");
    html_word(out, page, WORD_CREW_FIGURES);
    RAW(out, "</summary>");
    if (yes > 1) {
        RAW(out, "<button type=\"button\" class=\"all-yes\" hidden>");
        html_word(out, page, WORD_CREW_ALL_YES);
        RAW(out, "</button>");
    }
    for (size_t i = 0; i < task->check_count; i++) answer(form, &task->checks[i]);
    RAW(out, "</details>");
}
