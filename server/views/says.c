/* SPDX-License-Identifier: MIT */
/* Why: see says.h. */
#include "views/says.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "views/says_gate.h"

#include "base/banned.h"

/* The tail of a sentence: "; " before it, unless it is the first piece. */
static void joined(struct text *out, size_t begin)
{
    if (out->length > begin) text_add_z(out, "; ");
}

struct phrase says_degrees(double temp_degc)
{
    struct phrase phrase = {""};
    if (!isfinite(temp_degc)) return phrase;
    double degf = temp_degc * 1.8 + 32.0;
    double whole = floor(degf + 0.5);
    /* -0 would print as "-0" */
    snprintf(phrase.z, sizeof phrase.z, "%.0f\u00b0F", whole == 0.0 ? 0.0 : whole);
    return phrase;
}

struct phrase says_figure(double value)
{
    struct phrase phrase = {""};
    if (!isfinite(value)) return phrase;
    double tenths = floor(value * 10.0 + 1e-9);
    bool whole = fmod(tenths, 10.0) == 0.0;
    snprintf(phrase.z, sizeof phrase.z, whole ? "%.0f" : "%.1f", tenths / 10.0);
    return phrase;
}

/* A whole number of sixteenths as a carpenter writes it: 1 1/4; else three decimals at most. */
static void inches(struct phrase *phrase, double value)
{
    double sixteenths = round(value * 16.0);
    if (fabs(value * 16.0 - sixteenths) > 1e-6 || sixteenths >= 16e6) {
        snprintf(phrase->z, sizeof phrase->z, "%.6g", round(value * 1000.0) / 1000.0);
        return;
    }
    int whole = (int)(sixteenths / 16.0), over = (int)(sixteenths - whole * 16.0), under = 16;
    for (; over > 0 && over % 2 == 0; under /= 2) over /= 2;
    if (over == 0)
        snprintf(phrase->z, sizeof phrase->z, "%d", whole);
    else if (whole == 0)
        snprintf(phrase->z, sizeof phrase->z, "%d/%d", over, under);
    else
        snprintf(phrase->z, sizeof phrase->z, "%d %d/%d", whole, over, under);
}

struct phrase says_measure(const struct words *words, double value, enum check_unit unit)
{
    struct phrase phrase = {""};
    if (!isfinite(value)) return phrase;
    if (unit == CHECK_UNIT_IN || unit == CHECK_UNIT_IN_PER_10_FT)
        inches(&phrase, value);
    else
        snprintf(phrase.z, sizeof phrase.z, "%.6g", round(value * 1000.0) / 1000.0);
    if (unit == CHECK_UNIT_NONE) return phrase;
    const char *name = words_of(words, WORD_SET_MEASURE, (int)unit);
    size_t used = strlen(phrase.z);
    snprintf(phrase.z + used, sizeof phrase.z - used, "%s%s", unit == CHECK_UNIT_F ? "" : " ",
             name);
    return phrase;
}

void says_have_need(struct text *out, const struct words *words, double have, double need,
                    enum unit unit)
{
    struct phrase h = says_figure(have);
    struct phrase n = says_figure(need);
    WORDS_SAY(out, words, WORD_FIGURES_OF, {"have", h.z}, {"need", n.z},
              {"unit", words_of(words, WORD_SET_UNIT, (int)unit)});
}

/* Reasons whose sentence already holds the time. */
static bool says_until_itself(enum reason_kind kind)
{
    return kind == REASON_CLOCK || kind == REASON_CREW_DAY || kind == REASON_DRIVE ||
           kind == REASON_HELD_DATE || kind == REASON_LEAD || kind == REASON_BURN_BAN ||
           kind == REASON_GUST || kind == REASON_FIRE_REST;
}

static bool of_a_check(enum reason_kind kind)
{
    return kind == REASON_CHECK_OUT || kind == REASON_CHECK_MISSING ||
           kind == REASON_CHECK_EVIDENCE;
}

/* What was found and what was wanted of a measure or a count. */
static void says_check_figures(struct text *out, const struct words *words,
                               const struct reason *reason)
{
    struct phrase have = says_measure(words, reason->have, reason->check_unit);
    struct phrase need = says_measure(words, reason->need, reason->check_unit);
    if (reason->kind != REASON_CHECK_OUT || !isfinite(reason->have)) return;
    text_add_z(out, "; ");
    if (reason->check_unit == CHECK_UNIT_PIECES) {
        struct phrase counted = says_figure(reason->have);
        WORDS_SAY(out, words, WORD_CHECK_COUNTED, {"have", counted.z}, {"need", need.z});
        return;
    }
    WORDS_SAY(out, words, WORD_CHECK_FOUND, {"have", have.z});
    if (!isfinite(reason->need)) return;
    text_add_z(out, ", ");
    WORDS_SAY(out, words, reason->at_most ? WORD_CHECK_AT_MOST : WORD_CHECK_AT_LEAST,
              {"need", need.z});
}

/* A counted-day clock ends at a midnight: the day is what counts. */
static struct phrase until_of(const struct when *when, const struct reason *reason)
{
    if (reason->unit == UNIT_COUNTED_DAY && isfinite(reason->need))
        return when_date_of(when, reason->until_s);
    return when_day_time(when, reason->until_s);
}

void says_forecast_old(struct text *out, const struct when *when, int64_t made_s)
{
    struct phrase time = when_day_time(when, made_s), age = when_age(when, made_s);
    WORDS_SAY(out, when->words, WORD_SAYS_FORECAST_OLD, {"time", time.z}, {"age", age.z});
}

void says_reason(struct text *out, const struct when *when, const struct reason *reason)
{
    size_t begin = out->length;
    struct phrase until = until_of(when, reason);
    const char *task =
        reason->task == TASK_NONE ? "" : words_of(when->words, WORD_SET_TASK, (int)reason->task);
    const char *clock = reason->clock == CLOCK_NONE
                            ? ""
                            : words_of(when->words, WORD_SET_CLOCK, (int)reason->clock);
    const bool check = of_a_check(reason->kind);
    const struct word_arg args[] = {
        {"until", until.z},
        {"task", task},
        {"clock", clock},
        {"check", check ? words_of(when->words, WORD_SET_CHECK_OF, (int)reason->check) : ""},
        {"evidence", check ? words_of(when->words, WORD_SET_EVIDENCE, (int)reason->evidence) : ""},
        {"by", reason->record == NULL ? NULL : reason->record->by},
        {"lot", reason->record == NULL ? NULL : reason->record->lot},
        {"bag", words_of(when->words, WORD_SET_BAG_STATE, (int)reason->bag)}};
    enum reason_kind kind = reason->kind;
    if (kind == REASON_CLOCK && reason->until_s == INSTANT_NONE) kind = REASON_CLOCK_UNKNOWN;
    words_fill(out, words_of(when->words, WORD_SET_REASON, (int)kind), args,
               sizeof args / sizeof *args);
    if (reason->figure != NULL) {
        text_add_z(out, ": ");
        says_gate_figure(out, when->words, reason->figure);
    }
    if (!says_until_itself(kind) && reason->until_s != INSTANT_NONE &&
        reason->until_s > when->now_s) {
        joined(out, begin);
        WORDS_SAY(out, when->words, WORD_REASON_UNTIL, {"until", until.z});
    }
    if (check) {
        says_check_figures(out, when->words, reason);
    } else if (reason->figure == NULL && isfinite(reason->have) && isfinite(reason->need)) {
        joined(out, begin);
        says_have_need(out, when->words, reason->have, reason->need, reason->unit);
    }
    if (isfinite(reason->floor_h) && reason->floor_h > 0) {
        struct phrase floor_h = says_figure(reason->floor_h);
        joined(out, begin);
        WORDS_SAY(out, when->words, WORD_FIGURES_FLOOR, {"floor", floor_h.z});
    }
    if (reason->site_offset_degc != 0) {
        struct phrase degrees = says_difference(reason->site_offset_degc);
        joined(out, begin);
        WORDS_SAY(out, when->words, WORD_SAYS_SITE_OFFSET, {"degrees", degrees.z});
    }
    if (reason->forecast_old) {
        joined(out, begin);
        says_forecast_old(out, when, reason->forecast_made_s);
    }
}

void says_standing(struct text *out, const struct when *when, enum mark mark, const char *source)
{
    if (mark == MARK_NONE) return;
    text_add_z(out, words_of(when->words, WORD_SET_MARK, (int)mark));
    if (source == NULL) return;
    text_add_z(out, ", ");
    WORDS_SAY(out, when->words, WORD_PAGE_SOURCE, {"source", source});
}

void says_caution(struct text *out, const struct when *when, const struct caution *caution)
{
    struct phrase time = when_day_time(when, caution->at_s);
    struct phrase value = says_degrees(caution->value);
    const char *task =
        caution->task == TASK_NONE ? "" : words_of(when->words, WORD_SET_TASK, (int)caution->task);
    const char *quantity = caution->quantity == QUANTITY_NONE
                               ? ""
                               : words_of(when->words, WORD_SET_QUANTITY, (int)caution->quantity);
    const bool kit = caution->caution == CAUTION_KIT_SHORTER;
    const bool figure = caution->caution == CAUTION_FIGURE_ACCEPTED;
    const struct word_arg args[] = {
        {"time", time.z},
        {"value", value.z},
        {"task", task},
        {"quantity", quantity},
        {"by", caution->record == NULL ? NULL : caution->record->by},
        {"lot", caution->record == NULL ? NULL : caution->record->lot},
        {"bag", words_of(when->words, WORD_SET_BAG_STATE, (int)caution->bag)},
        {"clock", kit ? words_of(when->words, WORD_SET_CLOCK, (int)caution->clock) : ""},
        {"check", figure ? words_of(when->words, WORD_SET_CHECK_OF, (int)caution->check) : ""}};
    struct text says = TEXT_UP_TO(2000);
    if (caution->caution == CAUTION_NO_READING && caution->at_s == INSTANT_NONE) {
        text_add_z(&says, words_get(when->words, WORD_SAYS_NO_READING_EVER));
    } else {
        words_fill(&says, words_of(when->words, WORD_SET_CAUTION, (int)caution->caution), args,
                   sizeof args / sizeof *args);
    }
    if (caution->part == PART_NONE) {
        text_add_z(out, text_z(&says));
    } else {
        struct text part = TEXT_UP_TO(200);
        text_add_z(&part, words_of(when->words, WORD_SET_PART, (int)caution->part));
        if (part.length > 0 && part.data[0] >= 'a' && part.data[0] <= 'z')
            part.data[0] = (char)(part.data[0] - 'a' + 'A');
        WORDS_SAY(out, when->words, WORD_SAYS_PLACE, {"place", text_z(&part)},
                  {"says", text_z(&says)});
        text_free(&part);
    }
    text_free(&says);
}

struct phrase says_difference(double difference_degc)
{
    struct phrase phrase = says_figure(fabs(difference_degc) * 1.8 + 1e-6);
    size_t length = strlen(phrase.z);
    if (length > 0) snprintf(phrase.z + length, sizeof phrase.z - length, "\u00b0F");
    return phrase;
}

void says_assume(struct text *out, const struct when *when, const struct clock_plan *clock,
                 enum assume assume)
{
    const bool old = assume == ASSUME_FORECAST_OLD;
    struct phrase time = when_day_time(when, old ? clock->forecast_made_s : INSTANT_NONE);
    struct phrase age = {""};
    if (old) age = when_age(when, clock->forecast_made_s);
    struct phrase degrees = says_difference(clock->site_offset_degc);
    const struct word_arg args[] = {{"time", time.z}, {"age", age.z}, {"degrees", degrees.z}};
    for (int bit = 0; bit < (int)assume_word_ids.count; bit++) {
        if ((unsigned)assume != 1u << bit) continue;
        words_fill(out, words_of(when->words, WORD_SET_ASSUME, bit), args, 3);
        return;
    }
    ENSURE(false);
}

void says_assumes(struct text *out, const struct when *when, const struct clock_plan *clock)
{
    size_t begin = out->length;
    for (unsigned bit = 0; bit < assume_word_ids.count; bit++) {
        if ((clock->assumes & (1u << bit)) == 0) continue;
        joined(out, begin);
        says_assume(out, when, clock, (enum assume)(1u << bit));
    }
}

const char *says_day_reason(const struct words *words, enum day_reason reason)
{
    return words_of(words, WORD_SET_DAY, (int)reason);
}

const char *says_state(const struct words *words, enum task_state state)
{
    return words_of(words, WORD_SET_STATE, (int)state);
}

void says_fire_blocks(struct text *out, const struct words *words, unsigned blocked_by)
{
    size_t begin = out->length;
    for (unsigned bit = 0; bit < block_word_ids.count; bit++) {
        if ((blocked_by & (1u << bit)) == 0) continue;
        if (out->length > begin) text_add_byte(out, ' ');
        text_add_z(out, words_of(words, WORD_SET_BLOCK, (int)bit));
    }
}
