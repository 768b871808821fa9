/* SPDX-License-Identifier: MIT */
/*
 * Why: see gate.h. The station's hours and the parts' temperatures are laid out once a job; a
 * gate's hours are judged when somebody first asks for that gate and kept, for a dozen tasks share
 * each.
 */
#include "planner/gate.h"

#include <math.h>
#include <string.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "planner/bag.h"
#include "planner/gate_internal.h"
#include "planner/history.h"

#include "base/banned.h"

enum { EVENING_S = 18 * 3600, DAWN_END_S = 10 * 3600, DAY_HOURS_LEAST = 12 };

static int64_t hour_floor_s(int64_t at_s)
{
    int64_t rest = at_s % GATE_HOUR_S;
    return at_s - (rest < 0 ? rest + GATE_HOUR_S : rest);
}

/* --- the station ----------------------------------------------------------------------------- */

static double figure_at(const struct series *series, const double *values, int64_t hour_s)
{
    if (values == NULL || hour_s < series->start_s) return NAN;
    int64_t index = (hour_s - series->start_s) / GATE_HOUR_S;
    return index < (int64_t)series->count ? values[index] : NAN;
}

/* Past hours observed only, hours ahead forecast only, the hour of now whichever there is. */
static double seen(double observed, double forecast, int64_t hour_s, int64_t now_hour_s)
{
    if (hour_s > now_hour_s) return forecast;
    if (hour_s < now_hour_s) return observed;
    return isnan(observed) ? forecast : observed;
}

#define SEEN(member)                                                                               \
    seen(figure_at(&station->observed, station->observed.member, hour_s),                          \
         figure_at(&station->forecast, station->forecast.member, hour_s), hour_s, now_hour_s)

static struct gate_sky sky_of(const struct facts *facts, int64_t hour_s, int64_t now_hour_s)
{
    const struct station *station = facts->job->station;
    if (station == NULL) return (struct gate_sky){NAN, NAN, NAN, NAN, NAN};
    return (struct gate_sky){.temp_degc = SEEN(temp_degc) + facts->job->site_offset_degc,
                             .rain_mm = SEEN(rain_mm),
                             .rh_pct = SEEN(rh_pct),
                             .wind_mps = SEEN(wind_mps),
                             .gust_mps = SEEN(gust_mps)};
}

static bool any_known(const struct series *series, size_t i)
{
    return (series->temp_degc != NULL && !isnan(series->temp_degc[i])) ||
           (series->rain_mm != NULL && !isnan(series->rain_mm[i])) ||
           (series->wind_mps != NULL && !isnan(series->wind_mps[i])) ||
           (series->gust_mps != NULL && !isnan(series->gust_mps[i]));
}

static int64_t known_until_s(const struct station *station)
{
    if (station == NULL) return INT64_MIN;
    for (size_t i = station->forecast.count; i-- > 0;)
        if (any_known(&station->forecast, i))
            return station->forecast.start_s + (int64_t)(i + 1) * GATE_HOUR_S;
    return INT64_MIN;
}

void gates_begin(struct gates *out, const struct facts *facts, struct clocks *clocks)
{
    *out = (struct gates){.facts = facts, .clocks = clocks};
    calendar_of_company(&out->calendar, facts->company);
    const int64_t now_hour_s = hour_floor_s(facts->now_s);
    const int32_t today = civil_day_of(facts->company->zone, facts->now_s);
    int64_t from_s = hour_floor_s(civil_day_start_s(facts->company->zone, today));
    int64_t until_s = hour_floor_s(civil_day_start_s(facts->company->zone, today + 1));
    if (known_until_s(facts->job->station) > until_s) until_s = known_until_s(facts->job->station);
    if (until_s > from_s + (int64_t)GATE_HOURS_MAX * GATE_HOUR_S)
        until_s = from_s + (int64_t)GATE_HOURS_MAX * GATE_HOUR_S;
    const size_t count = (size_t)((until_s - from_s) / GATE_HOUR_S);
    struct gate_sky *sky = ARENA_TAKE(facts->arena, count + GATE_BACK_H, struct gate_sky);
    if (sky == NULL) return;
    for (size_t i = 0; i < count + GATE_BACK_H; i++)
        sky[i] = sky_of(facts, from_s + ((int64_t)i - GATE_BACK_H) * GATE_HOUR_S, now_hour_s);
    out->bag = bag_in_use(facts, facts->now_s);
    out->sky = sky;
    out->from_s = from_s;
    out->until_s = until_s;
    out->count = count;
}

struct gate_sky gates_sky(const struct gates *gates, int64_t at_s)
{
    int64_t index = (hour_floor_s(at_s) - gates->from_s) / GATE_HOUR_S + GATE_BACK_H;
    if (gates->sky == NULL || index < 0 || index >= (int64_t)gates->count + GATE_BACK_H)
        return (struct gate_sky){NAN, NAN, NAN, NAN, NAN};
    return gates->sky[index];
}

double gates_night_low_degc(const struct gates *gates, int32_t day)
{
    const struct zone *zone = gates->facts->job->zone;
    int64_t until_s = civil_instant_s(zone, day + 1, DAWN_END_S);
    double low = NAN;
    for (int64_t at_s = civil_instant_s(zone, day, EVENING_S); at_s < until_s; at_s += GATE_HOUR_S)
        low = fmin(low, gates_sky(gates, at_s).temp_degc); /* fmin passes over what is NAN */
    return low;
}

double gates_rain_mm(const struct gates *gates, int64_t from_s, int64_t until_s)
{
    double sum = NAN;
    for (int64_t at_s = hour_floor_s(from_s); at_s < until_s; at_s += GATE_HOUR_S) {
        double rain = gates_sky(gates, at_s).rain_mm;
        if (!isnan(rain)) sum = isnan(sum) ? rain : sum + rain;
    }
    return sum;
}

/* --- the parts ------------------------------------------------------------------------------- */

/* Lowest temperature of each hour, as the part's history has it. */
static void lay_history(double *out, const struct gates *g, const struct history *history)
{
    struct history_walk walk;
    struct piece piece;
    for (size_t i = 0; i < g->count; i++) out[i] = NAN;
    history_walk_begin(&walk, history, g->from_s, g->until_s);
    while (history_walk_next(&walk, &piece)) {
        if (isnan(piece.temp_degc)) continue;
        size_t first = (size_t)((piece.from_s - g->from_s) / GATE_HOUR_S);
        size_t last = (size_t)((piece.until_s - 1 - g->from_s) / GATE_HOUR_S);
        for (size_t i = first; i <= last && i < g->count; i++)
            out[i] = fmin(out[i], piece.temp_degc);
    }
}

/* In a room a reading is known for as long as it holds; what is carried on after that is a guess.
 */
static void forget_old(double *figures, const struct gates *g, const struct history *history)
{
    const struct record *last = history->last_reading;
    int64_t until_s = INT64_MIN;
    if (last != NULL) {
        bool note = last->how == HOW_THERMOSTAT;
        double hold_h = gate_setting(g, note ? SETTING_READING_HOLD_THERMOSTAT_H
                                             : SETTING_READING_HOLD_CLOSED_H);
        until_s = last->at_s + llround(hold_h * GATE_HOUR_S);
    }
    for (size_t i = 0; i < g->count; i++)
        if (g->from_s + (int64_t)i * GATE_HOUR_S >= until_s) figures[i] = NAN;
}

static void part_build(struct gates *g, enum part part)
{
    double *figures = ARENA_TAKE(g->facts->arena, g->count, double);
    struct history own;
    const struct history *history = &own;
    if (figures == NULL) return;
    if (g->clocks->built[part])
        history = &g->clocks->histories[part];
    else
        history_build(&own, g->facts, &g->clocks->weather, part);
    lay_history(figures, g, history);
    g->rooms[part] = strcmp(history->place, "room") == 0;
    if (g->rooms[part]) forget_old(figures, g, history);
    g->parts[part] = figures;
}

bool gates_in_room(struct gates *gates, enum part part)
{
    if (gates->parts[part] == NULL) part_build(gates, part);
    return gates->rooms[part];
}

double gate_part_degc(struct gate_look *look, enum part part)
{
    struct gates *g = look->gates;
    if (g->parts[part] == NULL) part_build(g, part);
    return g->parts[part] == NULL ? NAN : g->parts[part][look->hour];
}

double gates_bag_degc(const struct gates *gates)
{
    return bag_minimum_degc(gates->facts, gates->bag);
}

/* --- one gate -------------------------------------------------------------------------------- */

enum gate_class gates_class(enum task task)
{
    switch (task) {
    case TASK_KIT_RECEIVE:
        return GATE_CLASS_RECEIVE;
    case TASK_FOOTING_READY:
        return GATE_CLASS_GROUND;
    case TASK_TOWER_BLOCK:
        return GATE_CLASS_BLOCK;
    case TASK_DECK_SET:
        return GATE_CLASS_DECK;
    case TASK_PAD_POUR:
        return GATE_CLASS_POUR;
    case TASK_PAD_STRIP:
        return GATE_CLASS_STRIP;
    case TASK_LAYOUT:
        return GATE_CLASS_LAYOUT;
    case TASK_BOX_COURSES:
    case TASK_THROAT_SET:
    case TASK_LINTEL_IRON:
    case TASK_DAMPER_SET:
    case TASK_SMOKE_CHAMBER:
    case TASK_TRANSITION_SET:
        return GATE_CLASS_PIECES;
    case TASK_CHIMNEY_RUN:
    case TASK_CAP_SET:
        return GATE_CLASS_SCAFFOLD;
    case TASK_ROOF_FLASH:
        return GATE_CLASS_ROOF;
    case TASK_LINE_FLOOR:
    case TASK_LINE_BACK:
    case TASK_LINE_SIDES:
    case TASK_LINE_CLEAN:
        return GATE_CLASS_LINING;
    case TASK_FACING_OTHERS:
    case TASK_HEARTH_EXT:
        return GATE_CLASS_FACING;
    default:
        return GATE_CLASS_NONE;
    }
}

/* The part whose shelter is the work's. */
static enum part part_of(enum gate_class gate)
{
    switch (gate) {
    case GATE_CLASS_GROUND:
        return PART_FOOTING;
    case GATE_CLASS_BLOCK:
        return PART_JOINTS;
    case GATE_CLASS_DECK:
    case GATE_CLASS_POUR:
    case GATE_CLASS_STRIP:
    case GATE_CLASS_LAYOUT:
        return PART_PAD;
    case GATE_CLASS_LINING:
        return PART_LINING;
    default:
        return PART_UNIT;
    }
}

static enum gate_exposure exposure_of(struct gates *g, enum gate_class gate)
{
    const struct options *options = &g->facts->job->options;
    const bool stack = gate == GATE_CLASS_SCAFFOLD || gate == GATE_CLASS_ROOF;
    if (gate == GATE_CLASS_RECEIVE || (stack && options->through_roof)) return EXPOSURE_SKY;
    if (gates_in_room(g, part_of(gate))) return EXPOSURE_ROOM;
    if (options->place == PLACE_COVERED) return EXPOSURE_SIDES;
    if (options->place == PLACE_EXPOSED) return EXPOSURE_SKY;
    bool base = gate == GATE_CLASS_DECK || gate == GATE_CLASS_POUR;
    return base ? EXPOSURE_SKY : EXPOSURE_HOUSE; /* no roof is on record over a new base */
}

void gate_know(struct gate_look *look)
{
    if (look->out->state < GATE_OPEN) look->out->state = GATE_OPEN;
}

static int64_t look_at_s(const struct gate_look *look)
{
    return look->gates->from_s + (int64_t)look->hour * GATE_HOUR_S;
}

static void decide(struct gate_look *look, enum gate_state state, const struct gate_figure *figure)
{
    if (state <= look->out->state) return; /* the first of the worst stands */
    look->out->state = state;
    look->out->figure = *figure;
}

/* Wind rules: no gust was known. */
static bool by_mean(const struct gate_look *look, enum gate_rule rule)
{
    bool wind = rule == GATE_RULE_GUST || rule == GATE_RULE_SCAFFOLD || rule == GATE_RULE_BAND_WIND;
    return wind && isnan(look->sky->gust_mps);
}

void gate_close(struct gate_look *look, enum gate_rule rule, double value, double limit)
{
    struct gate_figure figure = gate_figure_of(look->gates, rule, value, limit, look_at_s(look));
    figure.mean_wind = by_mean(look, rule);
    decide(look, GATE_CLOSED, &figure);
}

void gate_ask(struct gate_look *look, enum measure_id measure, enum gate_rule rule, double value,
              double limit)
{
    struct gate_figure figure = gate_figure_of(look->gates, rule, value, limit, look_at_s(look));
    figure.mean_wind = by_mean(look, rule);
    decide(look, GATE_MEASURE, &figure);
    if (look->measures == NULL) return;
    struct gate_measure *kept = &look->measures[measure];
    if (kept->measure == measure &&
        gate_figure_excess(&kept->figure) >= gate_figure_excess(&figure))
        return;
    *kept = (struct gate_measure){measure, figure};
}

static void judge(struct gates *g, enum gate_class gate, enum gate_exposure exposure, size_t hour,
                  struct gate_hour *out, struct gate_measure *measures)
{
    struct gate_look look = {.gates = g,
                             .gate = gate,
                             .exposure = exposure,
                             .hour = hour,
                             .sky = &g->sky[GATE_BACK_H + hour],
                             .out = out,
                             .measures = measures};
    *out = (struct gate_hour){.state = GATE_UNKNOWN,
                              .figure = {.rule = GATE_RULE_NONE,
                                         .value = NAN,
                                         .limit = NAN,
                                         .mark = MARK_NONE,
                                         .at_s = INSTANT_NONE}};
    gate_judge_hour(&look);
}

static bool gate_build(struct gates *g, enum gate_class gate)
{
    struct gate_hour *hours = ARENA_TAKE(g->facts->arena, g->count, struct gate_hour);
    const enum gate_exposure exposure = exposure_of(g, gate);
    if (hours == NULL) return false;
    for (size_t i = 0; i < g->count; i++) judge(g, gate, exposure, i, &hours[i], NULL);
    g->hours[gate] = hours;
    return true;
}

const struct gate_hour *gates_hour(struct gates *gates, enum gate_class gate, int64_t at_s)
{
    if (gates->count == 0 || at_s < gates->from_s || at_s >= gates->until_s) return NULL;
    if (gates->hours[gate] == NULL && !gate_build(gates, gate)) return NULL;
    return &gates->hours[gate][(at_s - gates->from_s) / GATE_HOUR_S];
}

/* --- measures -------------------------------------------------------------------------------- */

static void keep(struct gate_measure *room, enum measure_id measure, struct gate_figure figure)
{
    room[measure] = (struct gate_measure){measure, figure};
}

/* Mean of the lowest and the highest of a civil day; NAN: too little of it is known. */
static double day_mean_degc(const struct gates *g, int32_t day)
{
    const struct zone *zone = g->facts->job->zone;
    int64_t until_s = civil_day_start_s(zone, day + 1);
    double low = NAN, high = NAN;
    int known = 0;
    for (int64_t at_s = civil_day_start_s(zone, day); at_s < until_s; at_s += GATE_HOUR_S) {
        double temp = gates_sky(g, at_s).temp_degc;
        if (isnan(temp)) continue;
        known++;
        low = fmin(low, temp);
        high = fmax(high, temp);
    }
    return known < DAY_HOURS_LEAST ? NAN : (low + high) / 2;
}

/* After work: by the mean of the day, the colder of the day itself and the next. */
static void add_protection(struct gate_measure *room, struct gates *g, enum gate_class gate,
                           int64_t at_s)
{
    static const struct {
        enum setting setting;
        enum gate_rule rule;
        enum measure_id measure;
    } bands[] = {
        {SETTING_PROTECT_HEAT_DEGC, GATE_RULE_PROTECT_HEAT, DO_HEAT_AFTER},
        {SETTING_PROTECT_INSULATE_DEGC, GATE_RULE_PROTECT_INSULATE, DO_INSULATE_AFTER},
        {SETTING_PROTECT_COVER_DEGC, GATE_RULE_PROTECT_COVER, DO_COVER_AFTER},
    };
    bool mortar = gate == GATE_CLASS_BLOCK || gate == GATE_CLASS_PIECES ||
                  gate == GATE_CLASS_SCAFFOLD || gate == GATE_CLASS_LINING ||
                  gate == GATE_CLASS_FACING;
    if (!mortar || exposure_of(g, gate) == EXPOSURE_ROOM) return;
    int32_t day = civil_day_of(g->facts->job->zone, at_s);
    double mean = fmin(day_mean_degc(g, day), day_mean_degc(g, day + 1));
    for (size_t i = 0; i < sizeof bands / sizeof *bands; i++) {
        double limit = gate_setting(g, bands[i].setting);
        if (!(mean < limit - 1e-6)) continue;
        keep(room, bands[i].measure,
             gate_figure_of(g, bands[i].rule, mean, limit,
                            civil_day_start_s(g->facts->job->zone, day)));
        return;
    }
}

static void add_late_pour(struct gate_measure *room, const struct gates *g, int64_t start_s)
{
    const double before_h = gate_setting(g, SETTING_GATE_POUR_BEFORE_H);
    double hour = (double)civil_second_of_day(g->calendar.zone, start_s) / GATE_HOUR_S;
    if (hour >= before_h)
        keep(room, DO_POUR_EARLY,
             gate_figure_of(g, GATE_RULE_POUR_BEFORE, hour, before_h, start_s));
}

/* Whether any of an hour is worked. */
static bool worked(const struct calendar *calendar, int64_t from_s, int64_t until_s)
{
    double left = calendar_left_h(calendar, from_s);
    if (left <= 0) return false;
    if (civil_day_of(calendar->zone, until_s) != civil_day_of(calendar->zone, from_s)) return true;
    return left > calendar_left_h(calendar, until_s);
}

size_t gates_measures(struct gate_measure room[MEASURE_ID_COUNT], struct gates *gates,
                      enum gate_class gate, const struct calendar *calendar, int64_t start_s,
                      int64_t finish_s)
{
    const enum gate_exposure exposure = exposure_of(gates, gate);
    struct gate_hour hour;
    size_t count = 0;
    for (int m = 0; m < MEASURE_ID_COUNT; m++)
        room[m] = (struct gate_measure){.measure = MEASURE_ID_NONE};
    for (int64_t at_s = start_s; at_s < finish_s && at_s < gates->until_s;
         at_s = hour_floor_s(at_s) + GATE_HOUR_S) {
        int64_t end_s = hour_floor_s(at_s) + GATE_HOUR_S;
        const struct gate_hour *known = gates_hour(gates, gate, at_s);
        if (known == NULL || known->state != GATE_MEASURE) continue;
        if (!worked(calendar, at_s, end_s < finish_s ? end_s : finish_s)) continue;
        judge(gates, gate, exposure, (size_t)((at_s - gates->from_s) / GATE_HOUR_S), &hour, room);
    }
    add_protection(room, gates, gate, start_s);
    if (gate == GATE_CLASS_POUR) add_late_pour(room, gates, start_s);
    for (int m = 0; m < MEASURE_ID_COUNT; m++)
        if (room[m].measure != MEASURE_ID_NONE) room[count++] = room[m];
    return count;
}

static double warmest_degc(struct gates *g, enum gate_class gate, int64_t start_s, int64_t finish_s)
{
    const enum gate_exposure exposure = exposure_of(g, gate);
    double most = NAN;
    for (int64_t at_s = start_s; at_s < finish_s && at_s < g->until_s; at_s += GATE_HOUR_S) {
        if (at_s < g->from_s) continue;
        struct gate_look look = {.gates = g, .hour = (size_t)((at_s - g->from_s) / GATE_HOUR_S)};
        if (exposure != EXPOSURE_ROOM) most = fmax(most, gates_sky(g, at_s).temp_degc);
        if (exposure != EXPOSURE_SKY || !gates_in_room(g, part_of(gate)))
            most = fmax(most, gate_part_degc(&look, part_of(gate)));
    }
    return most;
}

double gates_bucket_h(struct gates *gates, enum gate_class gate, int64_t start_s, int64_t finish_s)
{
    const struct record *bag = gates->bag;
    const double most = warmest_degc(gates, gate, start_s, finish_s);
    switch (gate) {
    case GATE_CLASS_PIECES:
    case GATE_CLASS_SCAFFOLD:
    case GATE_CLASS_LINING:
    case GATE_CLASS_LAYOUT:
        if (bag != NULL && bag->pot_life_min > 0) return bag->pot_life_min / 60;
        return gate_setting(gates, most < gate_setting(gates, SETTING_BUCKET_WARM_DEGC) - 1e-6
                                       ? SETTING_BUCKET_LIFE_H
                                       : SETTING_BUCKET_LIFE_WARM_H);
    case GATE_CLASS_BLOCK:
    case GATE_CLASS_FACING:
        return gate_setting(gates, most <= gate_setting(gates, SETTING_GATE_HOT_BREEZY_DEGC)
                                       ? SETTING_BUCKET_ORDINARY_H
                                       : SETTING_BUCKET_ORDINARY_HOT_H);
    default:
        return NAN;
    }
}

/* --- stretches ------------------------------------------------------------------------------- */

static bool same(const struct gate_hour *a, const struct gate_hour *b)
{
    return a->state == b->state && a->figure.rule == b->figure.rule;
}

const struct gate_stretch *gates_stretches(size_t *out_count, struct gates *gates,
                                           enum gate_class gate, int64_t from_s)
{
    *out_count = 0;
    if (gates_hour(gates, gate, from_s) == NULL) return NULL;
    const struct gate_hour *hours = gates->hours[gate];
    const size_t first = (size_t)((from_s - gates->from_s) / GATE_HOUR_S);
    size_t runs = 0;
    for (size_t i = first; i < gates->count; i++)
        if (i == first || !same(&hours[i], &hours[i - 1])) runs++;
    struct gate_stretch *room = ARENA_TAKE(gates->facts->arena, runs, struct gate_stretch);
    if (room == NULL) return NULL;
    for (size_t i = first; i < gates->count; i++) {
        const int64_t end_s = gates->from_s + (int64_t)(i + 1) * GATE_HOUR_S;
        if (i == first || !same(&hours[i], &hours[i - 1]))
            room[(*out_count)++] =
                (struct gate_stretch){end_s - GATE_HOUR_S, end_s, hours[i].state, hours[i].figure};
        struct gate_stretch *run = &room[*out_count - 1];
        run->until_s = end_s;
        if (gate_figure_excess(&hours[i].figure) > gate_figure_excess(&run->figure))
            run->figure = hours[i].figure;
    }
    return room;
}
