/* SPDX-License-Identifier: MIT */
/* Why: see html_record.h. Every member that is there is said, so that nothing on record is hidden.
 */
#include "views/html_record.h"

#include <math.h>

#include "base/banned.h"

static void piece(struct text *out, bool *begun, const char *plain)
{
    if (plain == NULL || *plain == '\0') return;
    text_add_z(out, *begun ? ", " : ": ");
    *begun = true;
    text_html_z(out, plain);
}

static void of(struct text *out, const struct page *page, bool *begun, enum word_set set, int value)
{
    if (value >= 0) piece(out, begun, words_of(page->words, set, value));
}

/* The inspector's sentence stands as a whole. */
static bool inspector_passed(struct text *out, const struct page *page, const struct when *when,
                             const struct record *record)
{
    bool passed = record->kind == RECORD_PASSED ||
                  (record->kind == RECORD_INSPECTION && record->result == RESULT_PASSED);
    if (!passed || record->inspector == NULL) return false;
    struct phrase date = when_date_of(when, record->at_s);
    if (record->task != TASK_NONE) {
        html_of(out, page, WORD_SET_TASK, (int)record->task);
        RAW(out, ". ");
    }
    HTML_SAY(out, page, WORD_SAYS_INSPECTOR_PASSED, {"name", record->inspector}, {"date", date.z});
    return true;
}

static void figures(struct text *out, const struct page *page, bool *begun,
                    const struct record *record)
{
    if (isfinite(record->temp_degc)) piece(out, begun, says_degrees(record->temp_degc).z);
    if (isfinite(record->mean_degc)) {
        struct phrase mean = says_degrees(record->mean_degc);
        struct phrase low = says_degrees(record->min_degc);
        struct text plain = TEXT_UP_TO(200);
        WORDS_SAY(&plain, page->words, WORD_JOB_MEAN_MIN, {"mean", mean.z}, {"min", low.z});
        piece(out, begun, text_z(&plain));
        text_free(&plain);
    }
    if (record->days > 0) piece(out, begun, says_figure(record->days).z);
    if (isfinite(record->percent)) {
        struct phrase percent = says_figure(record->percent);
        piece(out, begun, percent.z);
        RAW(out, " %");
    }
    if (isfinite(record->floor_h)) {
        struct phrase floor_h = says_figure(record->floor_h);
        struct text plain = TEXT_UP_TO(200);
        WORDS_SAY(&plain, page->words, WORD_FIGURES_FLOOR, {"floor", floor_h.z});
        piece(out, begun, text_z(&plain));
        text_free(&plain);
    }
    if (isfinite(record->need)) piece(out, begun, says_figure(record->need).z);
    if (isfinite(record->bag_min_degc)) {
        struct phrase low = says_figure(floor(record->bag_min_degc * 1.8 + 32.5));
        struct text plain = TEXT_UP_TO(300);
        WORDS_SAY(&plain, page->words, WORD_SAYS_BAG_MINIMUM, {"min", low.z});
        piece(out, begun, text_z(&plain));
        text_free(&plain);
    }
}

/* What was found of each check, as it was written down. */
static void answers(struct text *out, const struct page *page, bool *begun,
                    const struct record *record)
{
    for (size_t i = 0; i < record->check_count; i++) {
        const struct check_result *r = &record->checks[i];
        if (r->check == CHECK_NONE) continue;
        struct text plain = TEXT_UP_TO(1000);
        struct phrase value = says_measure(page->words, r->value, CHECK_UNIT_NONE);
        struct phrase of = says_measure(page->words, r->of, CHECK_UNIT_NONE);
        text_add_z(&plain, words_of(page->words, WORD_SET_CHECK_OF, (int)r->check));
        text_add_z(&plain, ": ");
        if (r->yes >= 0)
            text_add_z(&plain, words_get(page->words, r->yes == 1 ? WORD_CREW_YES : WORD_CREW_NO));
        else if (isfinite(r->of))
            WORDS_SAY(&plain, page->words, WORD_CHECK_COUNTED, {"have", value.z}, {"need", of.z});
        else if (r->text != NULL)
            text_add_z(&plain, r->text);
        else
            text_add_z(&plain, value.z);
        if (r->slip != NULL) text_print(&plain, " (%s)", r->slip);
        piece(out, begun, text_z(&plain));
        text_free(&plain);
    }
}

void html_record(struct text *out, const struct page *page, const struct when *when,
                 const struct record *record)
{
    if (inspector_passed(out, page, when, record)) return;
    bool begun = false;
    RAW(out, "<b>");
    html_of(out, page, WORD_SET_KIND, (int)record->kind);
    RAW(out, "</b>");
    of(out, page, &begun, WORD_SET_TASK, (int)record->task);
    of(out, page, &begun, WORD_SET_PART, (int)record->part);
    of(out, page, &begun, WORD_SET_SHELTER, (int)record->shelter);
    of(out, page, &begun, WORD_SET_CLOCK, (int)record->clock);
    of(out, page, &begun, WORD_SET_CHECK_OF, (int)record->check);
    of(out, page, &begun, WORD_SET_TASK, (int)record->excuses);
    answers(out, page, &begun, record);
    figures(out, page, &begun, record);
    of(out, page, &begun, WORD_SET_HOW, (int)record->how);
    of(out, page, &begun, WORD_SET_RESULT, (int)record->result);
    of(out, page, &begun, WORD_SET_RELAID, (int)record->what);
    of(out, page, &begun, WORD_SET_WHY, (int)record->why);
    of(out, page, &begun, WORD_SET_MORTAR, (int)record->mortar);
    if (record->day != DAY_NONE) piece(out, &begun, when_date(when, record->day).z);
    if (record->standing) piece(out, &begun, words_get(page->words, WORD_FORM_STANDING));
    if (record->last) piece(out, &begun, words_get(page->words, WORD_FORM_LAST));
    piece(out, &begun, record->initials);
    piece(out, &begun, record->inspector);
    piece(out, &begun, record->lot);
    piece(out, &begun, record->sheet);
    piece(out, &begun, record->item);
    piece(out, &begun, record->reason);
    piece(out, &begun, record->text);
    if (record->corrects != NULL) {
        struct text plain = TEXT_UP_TO(400);
        WORDS_SAY(&plain, page->words, WORD_JOB_CORRECTS, {"id", record->corrects});
        piece(out, &begun, text_z(&plain));
        text_free(&plain);
    }
}
