/* SPDX-License-Identifier: MIT */
/* Why: which rows of the rulebook speak of a job, asked with the job's options. */
#include <stdlib.h>

#include "rulebook/rows.h"

#include "base/banned.h"

#define EVAL_TEXT(name, id) id,
static const char *const option_text[] = {OPTION_LIST(EVAL_TEXT)};
const struct id_table option_ids = {"option", option_text, OPTION_COUNT};
static const char *const link_text[] = {LINK_LIST(EVAL_TEXT)};
const struct id_table link_ids = {"link", link_text, LINK_COUNT};
static const char *const who_text[] = {WHO_LIST(EVAL_TEXT)};
const struct id_table who_ids = {"person or trade", who_text, WHO_COUNT};
static const char *const measure_text[] = {MEASURE_LIST(EVAL_TEXT)};
const struct id_table measure_ids = {"quantity", measure_text, MEASURE_COUNT};

const struct id_table *option_values(enum option option)
{
    switch (option) {
    case OPTION_BASE:
        return &base_ids;
    case OPTION_PAD:
        return &pad_option_ids;
    case OPTION_PLACE:
        return &place_ids;
    case OPTION_SETTING_OUT:
        return &setting_out_ids;
    case OPTION_LIGHTER:
        return &lighter_ids;
    case OPTION_LINING:
        return &lining_option_ids;
    case OPTION_FACING:
        return &facing_option_ids;
    case OPTION_MIX:
        return &mix_ids;
    default:
        return NULL;
    }
}

unsigned option_mask(enum option option)
{
    const struct id_table *values = option_values(option);
    return (1U << (values != NULL ? values->count : 2U)) - 1U;
}

static unsigned option_value(const struct options *options, enum option option)
{
    switch (option) {
    case OPTION_BASE:
        return options->base;
    case OPTION_PAD:
        return options->pad;
    case OPTION_PLACE:
        return options->place;
    case OPTION_SETTING_OUT:
        return options->setting_out;
    case OPTION_OUTSIDE_AIR:
        return options->outside_air;
    case OPTION_LIGHTER:
        return options->lighter;
    case OPTION_LINING:
        return options->lining;
    case OPTION_FACING:
        return options->facing;
    case OPTION_THROUGH_ROOF:
        return options->through_roof;
    case OPTION_PERMIT:
        return options->permit;
    case OPTION_PROPPED:
        return options->propped;
    case OPTION_MIX:
        return options->mix;
    case OPTION_THROAT_LOOK:
        return options->town.throat_look;
    case OPTION_SEISMIC:
        return options->town.seismic;
    default:
        ENSURE(option < OPTION_COUNT);
        return 0;
    }
}

bool rulebook_holds(const struct condition *conditions, size_t count, const struct options *options)
{
    for (size_t i = 0; i < count; i++) {
        if ((conditions[i].values >> option_value(options, conditions[i].option) & 1U) == 0) {
            return false;
        }
    }
    return true;
}

const struct clock_variant *rulebook_variant(const struct clock_rule *rule,
                                             const struct options *options)
{
    bool over_void = options->base != BASE_SLAB;
    const struct clock_variant *best = NULL;
    for (size_t i = 0; i < rule->variant_count; i++) {
        const struct clock_variant *variant = &rule->variants[i];
        bool fits = variant->when == CLOCK_WHEN_ALWAYS ||
                    (variant->when == CLOCK_WHEN_GROUND && !over_void) ||
                    (variant->when == CLOCK_WHEN_VOID && over_void) ||
                    (variant->when == CLOCK_WHEN_VOID_PROPPED && over_void && options->propped);
        /* The enum goes from the general to the particular. */
        if (fits && (best == NULL || variant->when > best->when)) best = variant;
    }
    return best;
}
