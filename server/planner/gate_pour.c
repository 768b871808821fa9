/* SPDX-License-Identifier: MIT */
/*
 * Why: the pour is the one gate that looks ahead. What spoils a pad is the night after it, the rain
 * of its first hours and a hot wind; so each hour is judged by what follows it, as far as that is
 * known. The concrete itself is not there to be measured yet: its temperature is a setting.
 */
#include <math.h>

#include "compute/civil.h"
#include "compute/evaporation.h"
#include "planner/gate_internal.h"

#include "base/banned.h"

static const double slack = 1e-6;
static const double kmh_per_mps = 3.6;

/* Nights after the hour: blankets, or none that would do. */
static void judge_nights(struct gate_look *look)
{
    const struct gates *g = look->gates;
    const int32_t day =
        civil_day_of(g->facts->job->zone, g->from_s + (int64_t)look->hour * GATE_HOUR_S);
    const int nights = (int)gate_setting(g, SETTING_GATE_POUR_NIGHTS);
    const double cold = gate_setting(g, SETTING_GATE_POUR_DEGC);
    const double keep =
        gate_setting(g, SETTING_GATE_POUR_KEEP_DEGC) - gate_setting(g, SETTING_GATE_POUR_LIFT_DEGC);
    double low = look->sky->temp_degc;
    for (int i = 0; i < nights; i++) {
        double night = gates_night_low_degc(g, day + i);
        if (isnan(low) || night < low) low = night;
    }
    if (isnan(low)) return;
    gate_know(look);
    if (low < keep - slack) gate_close(look, GATE_RULE_POUR_KEEP, low, keep);
    if (!(low < cold - slack)) return;
    gate_ask(look, DO_BLANKETS, GATE_RULE_POUR_COLD, low, cold);
    /* The figure asked for is the concrete's own: nothing is measured against it yet. */
    gate_ask(look, DO_PLACE_WARM, GATE_RULE_POUR_PLACED, NAN,
             gate_setting(g, SETTING_GATE_POUR_PLACED_DEGC));
}

static void judge_rain(struct gate_look *look)
{
    const struct gates *g = look->gates;
    const int64_t at_s = g->from_s + (int64_t)look->hour * GATE_HOUR_S;
    const int64_t ahead_s =
        llround(gate_setting(g, SETTING_GATE_POUR_RAIN_H) * GATE_HOUR_S) + GATE_HOUR_S;
    const double limit = gate_setting(g, SETTING_GATE_POUR_RAIN_MM);
    if (look->exposure != EXPOSURE_SKY) return;
    double rain = gates_rain_mm(g, at_s, at_s + ahead_s);
    if (isnan(rain)) return;
    gate_know(look);
    if (rain > limit + slack) gate_close(look, GATE_RULE_POUR_RAIN, rain, limit);
}

static void judge_evaporation(struct gate_look *look)
{
    const struct gates *g = look->gates;
    const struct gate_sky *sky = look->sky;
    double rate = NAN;
    if (look->exposure == EXPOSURE_ROOM) return;
    double concrete = fmax(sky->temp_degc, gate_setting(g, SETTING_EVAPORATION_CONCRETE_DEGC));
    if (isnan(sky->temp_degc) || (int)evaporation_uno(concrete, sky->temp_degc, sky->rh_pct / 100.0,
                                                      sky->wind_mps * kmh_per_mps, &rate) < 0)
        return;
    gate_know(look);
    double act = gate_setting(g, SETTING_EVAPORATION_ACT_KGM2H);
    double caution = gate_setting(g, SETTING_EVAPORATION_CAUTION_KGM2H);
    if (rate >= act - slack)
        gate_ask(look, DO_SLOW_EVAPORATION, GATE_RULE_EVAPORATION_ACT, rate, act);
    else if (rate >= caution - slack)
        gate_ask(look, DO_WATCH_EVAPORATION, GATE_RULE_EVAPORATION_CAUTION, rate, caution);
}

bool gate_looked_at(const struct gates *gates, int32_t day)
{
    if (calendar_works(&gates->calendar, day)) return true;
    for (size_t i = 0; i < gates->facts->count; i++) {
        const struct record *r = gates->facts->records[i];
        bool says = r->kind == RECORD_HELD_DATE || r->kind == RECORD_BOOKED;
        bool pad =
            r->task == TASK_PAD_PROTECT || r->task == TASK_PAD_CHECK || r->task == TASK_PAD_STRIP;
        if (says && pad && r->day == day) return true;
    }
    return false;
}

void gate_judge_pour(struct gate_look *look)
{
    const struct gates *g = look->gates;
    double base = gate_part_degc(look, PART_PAD);
    if (look->exposure != EXPOSURE_ROOM) {
        double footing = gate_part_degc(look, PART_FOOTING);
        base = fmin(base, fmin(footing, look->sky->temp_degc)); /* fmin passes over what is NAN */
    }
    double frost = gate_setting(g, SETTING_FROST_DEGC);
    if (!isnan(base)) gate_know(look);
    if (base < frost - slack) gate_close(look, GATE_RULE_FROST, base, frost);
    if (look->exposure == EXPOSURE_SKY) gate_judge_ice(look);
    judge_rain(look);
    if (look->exposure != EXPOSURE_ROOM) judge_nights(look);
    judge_evaporation(look);
    int32_t day = civil_day_of(g->calendar.zone, g->from_s + (int64_t)look->hour * GATE_HOUR_S);
    if (!gate_looked_at(g, day + 1)) gate_ask(look, DO_NAME_WHO_LOOKS, GATE_RULE_LOOK, NAN, NAN);
}
