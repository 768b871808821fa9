/* SPDX-License-Identifier: MIT */
/*
 * Why: one row a rule of the gates says which setting holds its limit and in which unit it is
 * spoken of, so that a limit is never written twice.
 */
#include <math.h>

#include "planner/gate_internal.h"

#include "base/banned.h"

enum { SETTING_OF_NONE = -1 };

struct rule_spec {
    int setting; /* SETTING_OF_NONE: a fact or the calendar */
    enum unit unit;
};

static const struct rule_spec specs[GATE_RULE_COUNT] = {
    [GATE_RULE_FROST] = {SETTING_FROST_DEGC, UNIT_DEGF},
    [GATE_RULE_ICE] = {SETTING_GATE_ICE_H, UNIT_HOUR},
    [GATE_RULE_RAIN] = {SETTING_GATE_RAIN_MM, UNIT_INCH},
    [GATE_RULE_DRY] = {SETTING_GATE_DRY_H, UNIT_HOUR},
    [GATE_RULE_GUST] = {SETTING_GATE_GUST_MPS, UNIT_MPH},
    [GATE_RULE_SCAFFOLD] = {SETTING_GATE_SCAFFOLD_GUST_MPS, UNIT_MPH},
    [GATE_RULE_COLD] = {SETTING_GATE_COLD_DEGC, UNIT_DEGF},
    [GATE_RULE_BAG] = {SETTING_MORTAR_STALL_DEGC, UNIT_DEGF},
    [GATE_RULE_LAYOUT] = {SETTING_GATE_LAYOUT_DEGC, UNIT_DEGF},
    [GATE_RULE_STRIP] = {SETTING_GATE_STRIP_DEGC, UNIT_DEGF},
    [GATE_RULE_POUR_RAIN] = {SETTING_GATE_POUR_RAIN_MM, UNIT_INCH},
    [GATE_RULE_POUR_KEEP] = {SETTING_GATE_POUR_KEEP_DEGC, UNIT_DEGF},
    [GATE_RULE_POUR_COLD] = {SETTING_GATE_POUR_DEGC, UNIT_DEGF},
    [GATE_RULE_POUR_PLACED] = {SETTING_GATE_POUR_PLACED_DEGC, UNIT_DEGF},
    [GATE_RULE_POUR_BEFORE] = {SETTING_GATE_POUR_BEFORE_H, UNIT_HOUR},
    [GATE_RULE_LOOK] = {SETTING_OF_NONE, UNIT_HOUR},
    [GATE_RULE_EVAPORATION_CAUTION] = {SETTING_EVAPORATION_CAUTION_KGM2H, UNIT_KGM2H},
    [GATE_RULE_EVAPORATION_ACT] = {SETTING_EVAPORATION_ACT_KGM2H, UNIT_KGM2H},
    [GATE_RULE_BAND_1] = {SETTING_GATE_BAND_1_DEGC, UNIT_DEGF},
    [GATE_RULE_BAND_2] = {SETTING_GATE_BAND_2_DEGC, UNIT_DEGF},
    [GATE_RULE_BAND_3] = {SETTING_GATE_BAND_3_DEGC, UNIT_DEGF},
    [GATE_RULE_BAND_4] = {SETTING_GATE_BAND_4_DEGC, UNIT_DEGF},
    [GATE_RULE_BAND_WIND] = {SETTING_GATE_BAND_WIND_MPS, UNIT_MPH},
    [GATE_RULE_HOT] = {SETTING_GATE_HOT_DEGC, UNIT_DEGF},
    [GATE_RULE_HOT_BREEZY] = {SETTING_GATE_HOT_BREEZY_DEGC, UNIT_DEGF},
    [GATE_RULE_VERY_HOT] = {SETTING_GATE_VERY_HOT_DEGC, UNIT_DEGF},
    [GATE_RULE_VERY_HOT_BREEZY] = {SETTING_GATE_VERY_HOT_BREEZY_DEGC, UNIT_DEGF},
    [GATE_RULE_FLUE] = {SETTING_GATE_RAIN_MM, UNIT_INCH},
    [GATE_RULE_PROTECT_COVER] = {SETTING_PROTECT_COVER_DEGC, UNIT_DEGF},
    [GATE_RULE_PROTECT_INSULATE] = {SETTING_PROTECT_INSULATE_DEGC, UNIT_DEGF},
    [GATE_RULE_PROTECT_HEAT] = {SETTING_PROTECT_HEAT_DEGC, UNIT_DEGF},
};

static const double mph_per_mps = 2.2369362920544;
static const double mm_per_inch = 25.4;

static double spoken(enum unit unit, double value)
{
    switch (unit) {
    case UNIT_DEGF:
        return value * 1.8 + 32.0;
    case UNIT_MPH:
        return value * mph_per_mps;
    case UNIT_INCH:
        return value / mm_per_inch;
    default:
        return value;
    }
}

double gate_setting(const struct gates *gates, enum setting setting)
{
    return rulebook_setting(gates->facts->rulebook, setting);
}

struct gate_figure gate_figure_of(const struct gates *gates, enum gate_rule rule, double value,
                                  double limit, int64_t at_s)
{
    const struct rule_spec *spec = &specs[rule];
    bool fact = spec->setting == SETTING_OF_NONE;
    if (rule == GATE_RULE_BAG && gates->bag != NULL) fact = !isnan(gates->bag->bag_min_degc);
    const struct rule_number *number =
        fact ? NULL : &gates->facts->rulebook->settings[spec->setting];
    return (struct gate_figure){.rule = rule,
                                .value = spoken(spec->unit, value),
                                .limit = spoken(spec->unit, limit),
                                .unit = spec->unit,
                                .mark = number == NULL ? MARK_NONE : number->mark,
                                .source = number == NULL ? NULL : number->source,
                                .at_s = at_s};
}

double gate_figure_excess(const struct gate_figure *figure)
{
    double excess = fabs(figure->value - figure->limit);
    return isnan(excess) ? 0 : excess;
}
