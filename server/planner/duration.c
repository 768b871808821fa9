/* SPDX-License-Identifier: MIT */
/* Why: see duration.h. The measures are defined here, once: what they are made of, in what unit. */
#include "planner/duration.h"

#include <math.h>

#include "base/banned.h"

/* A yard is 3 ft and a foot 12 in.; the "low" part of a chimney is its first 12 ft by definition of
 * the measure (its hours are the rulebook's). */
enum { FT_PER_YD = 3, IN_PER_FT = 12, CHIMNEY_LOW_FT = 12 };

/** What a measure is made of: one quantity, or two. */
struct made_of {
    enum quantity first;
    enum quantity second;
};

static const struct made_of made_of[MEASURE_COUNT] = {
    [MEASURE_COURSES] = {QUANTITY_COURSES, QUANTITY_NONE},
    [MEASURE_CHIMNEY_LOW_FT] = {QUANTITY_CHIMNEY_FT, QUANTITY_NONE},
    [MEASURE_CHIMNEY_HIGH_FT] = {QUANTITY_CHIMNEY_FT, QUANTITY_NONE},
    [MEASURE_FLOOR_BRICK] = {QUANTITY_FLOOR_BRICK, QUANTITY_NONE},
    [MEASURE_BACK_BRICK] = {QUANTITY_BACK_BRICK, QUANTITY_NONE},
    [MEASURE_SIDE_BRICK] = {QUANTITY_SIDE_BRICK, QUANTITY_NONE},
    [MEASURE_PAD_FT2] = {QUANTITY_PAD_FT2, QUANTITY_NONE},
    [MEASURE_PAD_YD3] = {QUANTITY_PAD_FT2, QUANTITY_PAD_THICKNESS_IN},
    [MEASURE_TOWER_BLOCKS] = {QUANTITY_TOWER_BLOCKS, QUANTITY_NONE},
    [MEASURE_SLEEVES] = {QUANTITY_SLEEVES, QUANTITY_NONE},
    [MEASURE_DUCT_FT] = {QUANTITY_DUCT_FT, QUANTITY_NONE},
    [MEASURE_GAS_FT] = {QUANTITY_GAS_FT, QUANTITY_NONE},
    [MEASURE_FACING_FT2] = {QUANTITY_FACING_FT2, QUANTITY_NONE},
    [MEASURE_PALLETS] = {QUANTITY_PALLETS, QUANTITY_NONE},
    [MEASURE_DRIVE_H] = {QUANTITY_DRIVE_H, QUANTITY_NONE},
};

double duration_measure(const struct job *job, enum measure measure)
{
    const double first = job->quantities[made_of[measure].first];
    switch (measure) {
    case MEASURE_CHIMNEY_LOW_FT:
        return isnan(first) ? NAN : fmin(first, CHIMNEY_LOW_FT);
    case MEASURE_CHIMNEY_HIGH_FT:
        return isnan(first) ? NAN : fmax(first - CHIMNEY_LOW_FT, 0);
    case MEASURE_PAD_YD3:
        return first * job->quantities[QUANTITY_PAD_THICKNESS_IN] / IN_PER_FT /
               (FT_PER_YD * FT_PER_YD * FT_PER_YD);
    default:
        return first;
    }
}

struct duration duration_of(const struct rulebook *rulebook, const struct job *job, enum task task)
{
    const struct task_rule *rule = &rulebook->tasks[task];
    struct duration out = {.hours = rule->hours_fixed, .days = 1};
    for (size_t i = 0; i < rule->per_count; i++) {
        out.hours += rule->per[i].hours_each * duration_measure(job, rule->per[i].measure);
        if (rule->per[i].measure != MEASURE_CHIMNEY_LOW_FT) continue;
        double lifts = ceil(job->quantities[QUANTITY_CHIMNEY_FT] /
                            rulebook_setting(rulebook, SETTING_LIFT_DAY_FT));
        if (lifts > 1 && lifts < 1000) out.days = (int)lifts;
    }
    if (rule->lining_hours && job->options.lining == LINING_THIN)
        out.hours *= rulebook_setting(rulebook, SETTING_THIN_LINING_FACTOR);
    return out;
}

int duration_missing(enum quantity out[2], const struct job *job, enum measure measure)
{
    int count = 0;
    if (isnan(job->quantities[made_of[measure].first])) out[count++] = made_of[measure].first;
    if (made_of[measure].second != QUANTITY_NONE && isnan(job->quantities[made_of[measure].second]))
        out[count++] = made_of[measure].second;
    return count;
}
