/* SPDX-License-Identifier: MIT */
/* Why: see says_gate.h. */
#include "views/says_gate.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/banned.h"

enum { DECIMALS_MOST = 3 };

static void plain(char *out, size_t room, double value, int decimals)
{
    double scale = pow(10, decimals);
    double rounded = round(value * scale) / scale;
    snprintf(out, room, "%.*f", decimals, rounded == 0 ? 0.0 : rounded); /* -0 prints as "-0" */
}

/* The fewest decimals, from what the unit is spoken in, that keep value and limit apart. */
static int decimals_of(const struct gate_figure *figure)
{
    char value[40], limit[40];
    int decimals = figure->unit == UNIT_INCH ? 2 : figure->unit == UNIT_KGM2H ? 1 : 0;
    if (!isfinite(figure->value) || !isfinite(figure->limit)) return decimals;
    if (fabs(figure->value - figure->limit) < 1e-6) return decimals;
    for (; decimals < DECIMALS_MOST; decimals++) {
        plain(value, sizeof value, figure->value, decimals);
        plain(limit, sizeof limit, figure->limit, decimals);
        if (strcmp(value, limit) != 0) break;
    }
    return decimals;
}

struct phrase says_gate_value(const struct words *words, const struct gate_figure *figure,
                              double value)
{
    struct phrase phrase = {""};
    char number[40];
    if (!isfinite(value)) return phrase;
    if (figure->rule == GATE_RULE_POUR_BEFORE) { /* an hour of the day */
        int minutes = (int)(value * 60 + 1e-6);
        snprintf(phrase.z, sizeof phrase.z, "%d:%02d", minutes / 60, minutes % 60);
        return phrase;
    }
    plain(number, sizeof number, value, decimals_of(figure));
    if (figure->unit == UNIT_HOUR)
        snprintf(phrase.z, sizeof phrase.z, "%s h", number);
    else
        snprintf(phrase.z, sizeof phrase.z, "%s%s%s", number, figure->unit == UNIT_DEGF ? "" : " ",
                 words_of(words, WORD_SET_UNIT, (int)figure->unit));
    return phrase;
}

void says_gate_figure(struct text *out, const struct words *words, const struct gate_figure *figure)
{
    if (figure->rule == GATE_RULE_NONE) return;
    struct phrase value = says_gate_value(words, figure, figure->value);
    struct phrase limit = says_gate_value(words, figure, figure->limit);
    const struct word_arg args[] = {{"value", value.z[0] == '\0' ? "?" : value.z},
                                    {"limit", limit.z}};
    struct text says = TEXT_UP_TO(1000);
    words_fill(&says, words_of(words, WORD_SET_GATE_RULE, (int)figure->rule), args, 2);
    if (figure->mean_wind)
        WORDS_SAY(out, words, WORD_SAYS_MEAN_WIND, {"says", text_z(&says)});
    else
        text_add(out, says.data, says.length);
    text_free(&says);
}

void says_gate_measure(struct text *out, const struct words *words,
                       const struct gate_measure *measure)
{
    struct text why = TEXT_UP_TO(1000);
    says_gate_figure(&why, words, &measure->figure);
    WORDS_SAY(out, words, WORD_SAYS_MEASURE,
              {"do", words_of(words, WORD_SET_WEATHER_DO, (int)measure->measure)},
              {"why", text_z(&why)});
    text_free(&why);
}
