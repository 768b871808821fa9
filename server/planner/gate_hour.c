/* SPDX-License-Identifier: MIT */
/*
 * Why: one hour of building against frost, rain, wind, cold and heat. Each rule speaks for itself;
 * the hour takes the worst of what they say. The reading of the rules is told in gate.h.
 */
#include <math.h>

#include "planner/gate_internal.h"

#include "base/banned.h"

static const double slack = 1e-6;

double gate_wind_mps(const struct gate_sky *sky)
{
    return isnan(sky->gust_mps) ? sky->wind_mps : sky->gust_mps;
}

bool gate_wet(const struct gate_look *look, size_t back)
{
    const struct gate_sky *sky = look->sky - back;
    const struct gates *g = look->gates;
    if (look->exposure > EXPOSURE_SIDES) return false;
    if (!(sky->rain_mm >= gate_setting(g, SETTING_GATE_RAIN_MM) - slack)) return false;
    if (look->exposure == EXPOSURE_SKY) return true;
    return !(gate_wind_mps(sky) < gate_setting(g, SETTING_GATE_DRIVEN_RAIN_MPS) - slack);
}

void gate_judge_ice(struct gate_look *look)
{
    const struct gates *g = look->gates;
    const double hours = gate_setting(g, SETTING_GATE_ICE_H);
    if (!(look->sky->temp_degc < gate_setting(g, SETTING_FROST_DEGC) - slack)) return;
    for (size_t back = 0; back <= GATE_BACK_H && (double)back <= hours + slack; back++) {
        if (!gate_wet(look, back)) continue;
        gate_close(look, GATE_RULE_ICE, (double)back, hours);
        return;
    }
}

static void judge_rain(struct gate_look *look)
{
    if (look->exposure > EXPOSURE_SIDES) return;
    if (!isnan(look->sky->rain_mm)) gate_know(look);
    if (gate_wet(look, 0))
        gate_close(look, GATE_RULE_RAIN, look->sky->rain_mm,
                   gate_setting(look->gates, SETTING_GATE_RAIN_MM));
}

/* Wet until so many dry hours have passed. */
static void judge_dry(struct gate_look *look)
{
    const double hours = gate_setting(look->gates, SETTING_GATE_DRY_H);
    for (size_t back = 1; back <= GATE_BACK_H && (double)back < hours + 1 - slack; back++) {
        if (!gate_wet(look, back)) continue;
        gate_close(look, GATE_RULE_DRY, (double)(back - 1), hours);
        return;
    }
}

static void judge_wind(struct gate_look *look, enum gate_rule rule, enum setting setting)
{
    if (look->exposure > EXPOSURE_SIDES) return;
    const double wind = gate_wind_mps(look->sky);
    const double limit = gate_setting(look->gates, setting);
    if (isnan(wind)) return;
    gate_know(look);
    if (wind >= limit - slack) gate_close(look, rule, wind, limit);
}

static void judge_frost(struct gate_look *look, double value)
{
    const double frost = gate_setting(look->gates, SETTING_FROST_DEGC);
    if (!isnan(value)) gate_know(look);
    if (value < frost - slack) gate_close(look, GATE_RULE_FROST, value, frost);
}

static void judge_least(struct gate_look *look, enum gate_rule rule, double value, double limit)
{
    if (!isnan(value)) gate_know(look);
    if (value < limit - slack) gate_close(look, rule, value, limit);
}

/* Air and what is built on: the lower; in a room the room's own reading alone. */
static double work_degc(struct gate_look *look, enum part part)
{
    bool outside = look->exposure == EXPOSURE_SKY && gates_in_room(look->gates, part);
    double own = outside ? NAN : gate_part_degc(look, part);
    return look->exposure == EXPOSURE_ROOM ? own : fmin(own, look->sky->temp_degc);
}

/* Adhesive mortar: the bag's figure and the 40 F of the trade, whichever is warmer. */
static void judge_adhesive(struct gate_look *look, double value)
{
    const double bag = gates_bag_degc(look->gates);
    const double cold = gate_setting(look->gates, SETTING_GATE_COLD_DEGC);
    if (bag >= cold)
        judge_least(look, GATE_RULE_BAG, value, bag);
    else
        judge_least(look, GATE_RULE_COLD, value, cold);
}

/* Ordinary mortar goes on in bands by the air now, each with its measure. */
static void judge_bands(struct gate_look *look, double value)
{
    const struct gates *g = look->gates;
    const double one = gate_setting(g, SETTING_GATE_BAND_1_DEGC);
    const double two = gate_setting(g, SETTING_GATE_BAND_2_DEGC);
    const double three = gate_setting(g, SETTING_GATE_BAND_3_DEGC);
    const double four = gate_setting(g, SETTING_GATE_BAND_4_DEGC);
    const double windy = gate_setting(g, SETTING_GATE_BAND_WIND_MPS);
    const double wind = look->exposure == EXPOSURE_ROOM ? 0 : gate_wind_mps(look->sky);
    const struct record *bag = g->bag;
    if (isnan(value)) return;
    gate_know(look);
    if (bag != NULL && bag->mortar == MORTAR_HYDRAULIC)
        judge_least(look, GATE_RULE_BAG, value, bag->bag_min_degc);
    if (value < four - slack) {
        gate_ask(look, DO_ENCLOSE, GATE_RULE_BAND_4, value, four);
        gate_ask(look, DO_HEAT_BOTH, GATE_RULE_BAND_2, value, two);
    } else if (value < three - slack) {
        gate_ask(look, DO_WARM_SURFACE, GATE_RULE_BAND_3, value, three);
        gate_ask(look, DO_HEAT_BOTH, GATE_RULE_BAND_2, value, two);
        if (!(wind <= windy + slack)) /* wind not known: as if there were */
            gate_ask(look, DO_WIND_BREAK, GATE_RULE_BAND_WIND, wind, windy);
    } else if (value < two - slack) {
        gate_ask(look, DO_HEAT_BOTH, GATE_RULE_BAND_2, value, two);
    } else if (value < one - slack) {
        gate_ask(look, DO_HEAT_ONE, GATE_RULE_BAND_1, value, one);
    }
}

static void judge_heat(struct gate_look *look, double value)
{
    const struct gates *g = look->gates;
    const double wind = look->exposure > EXPOSURE_SIDES ? 0 : gate_wind_mps(look->sky);
    const bool breezy = !(wind <= gate_setting(g, SETTING_GATE_BREEZE_MPS) + slack);
    static const struct {
        enum setting setting;
        enum gate_rule rule;
        enum measure_id measure;
        bool breezy;
    } levels[] = {
        {SETTING_GATE_VERY_HOT_DEGC, GATE_RULE_VERY_HOT, DO_SHADE, false},
        {SETTING_GATE_VERY_HOT_BREEZY_DEGC, GATE_RULE_VERY_HOT_BREEZY, DO_SHADE, true},
        {SETTING_GATE_HOT_DEGC, GATE_RULE_HOT, DO_COOL, false},
        {SETTING_GATE_HOT_BREEZY_DEGC, GATE_RULE_HOT_BREEZY, DO_COOL, true},
    };
    for (size_t i = 0; i < sizeof levels / sizeof *levels; i++) {
        double limit = gate_setting(g, levels[i].setting);
        if (levels[i].breezy && !breezy) continue;
        if (value > limit + slack) gate_ask(look, levels[i].measure, levels[i].rule, value, limit);
    }
}

static void judge_masonry(struct gate_look *look, enum part part, bool adhesive)
{
    const double value = work_degc(look, part);
    judge_rain(look);
    if (adhesive)
        judge_adhesive(look, value);
    else
        judge_bands(look, value);
    judge_heat(look, value);
}

/* Rain down a flue without a cap: the flue is closed off above while they line. */
static void judge_flue(struct gate_look *look)
{
    const struct gates *g = look->gates;
    const double limit = gate_setting(g, SETTING_GATE_RAIN_MM);
    if (facts_latest(g->facts, RECORD_DONE, TASK_CAP_SET) != NULL) return;
    if (look->sky->rain_mm >= limit - slack)
        gate_ask(look, DO_CLOSE_FLUE, GATE_RULE_FLUE, look->sky->rain_mm, limit);
}

void gate_judge_hour(struct gate_look *look)
{
    struct gates *g = look->gates;
    switch (look->gate) {
    case GATE_CLASS_RECEIVE:
        if (!isnan(look->sky->temp_degc)) gate_know(look);
        gate_judge_ice(look);
        return;
    case GATE_CLASS_GROUND:
        judge_frost(look, work_degc(look, PART_FOOTING));
        return;
    case GATE_CLASS_BLOCK:
        judge_wind(look, GATE_RULE_GUST, SETTING_GATE_GUST_MPS);
        judge_masonry(look, PART_JOINTS, false);
        return;
    case GATE_CLASS_DECK:
        gate_judge_ice(look);
        judge_rain(look);
        judge_dry(look);
        return;
    case GATE_CLASS_STRIP:
        judge_least(look, GATE_RULE_STRIP, gate_part_degc(look, PART_PAD),
                    gate_setting(g, SETTING_GATE_STRIP_DEGC));
        return;
    case GATE_CLASS_LAYOUT:
        judge_least(look, GATE_RULE_LAYOUT, gate_part_degc(look, PART_PAD),
                    gate_setting(g, SETTING_GATE_LAYOUT_DEGC));
        judge_rain(look);
        judge_dry(look);
        return;
    case GATE_CLASS_PIECES:
        judge_wind(look, GATE_RULE_GUST, SETTING_GATE_GUST_MPS);
        judge_masonry(look, PART_UNIT, true);
        return;
    case GATE_CLASS_SCAFFOLD:
        judge_wind(look, GATE_RULE_SCAFFOLD, SETTING_GATE_SCAFFOLD_GUST_MPS);
        gate_judge_ice(look);
        judge_masonry(look, PART_UNIT, true);
        return;
    case GATE_CLASS_ROOF:
        judge_frost(look, look->sky->temp_degc);
        gate_judge_ice(look);
        judge_rain(look);
        judge_dry(look);
        return;
    case GATE_CLASS_LINING:
        judge_masonry(look, PART_LINING, true);
        judge_flue(look);
        return;
    case GATE_CLASS_FACING:
        judge_wind(look, GATE_RULE_GUST, SETTING_GATE_GUST_MPS);
        judge_masonry(look, PART_UNIT, false);
        return;
    default:
        gate_judge_pour(look);
        return;
    }
}
