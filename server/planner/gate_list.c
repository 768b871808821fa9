/* SPDX-License-Identifier: MIT */
/* Why: see gate_list.h. Who is responsible is the job's crew; when there is none, whoever works
 * there that day; else nobody is named, and that is said. */
#include "planner/gate_list.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/gate_internal.h"

#include "base/banned.h"

enum { MINUTE_S = 60, MORNING_END_S = 10 * 3600 };
static const double slack = 1e-6;

static bool is_over(const struct task_plan *task)
{
    return task->state == TASK_STATE_DONE || task->state == TASK_STATE_PASSED ||
           task->state == TASK_STATE_NOT_NEEDED;
}

/* It could be done in the hours known, weather aside: what the weather put off past them counts
 * too. */
static bool asks_in(const struct task_plan *task, const struct gates *g)
{
    return task->start_s != INSTANT_NONE &&
           (task->opens_s == INSTANT_NONE || task->opens_s < g->until_s);
}

/* --- gates hour by hour ---------------------------------------------------------------------- */

static void list_gates(struct job_plan *out, struct gates *g)
{
    struct gate_strip *strips = ARENA_TAKE(g->facts->arena, GATE_CLASS_COUNT, struct gate_strip);
    if (strips == NULL) return;
    for (int c = 0; c < GATE_CLASS_COUNT; c++) {
        struct gate_strip strip = {.gate = (enum gate_class)c};
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct task_plan *task = &out->tasks[t];
            if (gates_class((enum task)t) != strip.gate || is_over(task) || task->held) continue;
            if (!asks_in(task, g)) continue;
            strip.tasks |= UINT64_C(1) << (unsigned)t;
        }
        if (strip.tasks == 0) continue;
        strip.stretches = gates_stretches(&strip.count, g, strip.gate, g->facts->now_s);
        if (strip.count > 0) strips[out->gate_count++] = strip;
    }
    out->gates = strips;
}

/* --- the pour -------------------------------------------------------------------------------- */

static double degf_of(double degc)
{
    return degc * 1.8 + 32.0;
}

static void finish_pour(struct job_plan *out, const struct gates *g)
{
    struct pour_plan *pour = &out->pour;
    const double ahead_h = gate_setting(g, SETTING_GATE_POUR_RAIN_H);
    for (size_t i = 0; i < sizeof pour->low_degf / sizeof *pour->low_degf; i++)
        pour->low_degf[i] = NAN;
    pour->rain_in = NAN;
    pour->rain_h = ahead_h;
    pour->rain_limit_in = gate_setting(g, SETTING_GATE_POUR_RAIN_MM) / 25.4;
    pour->blanket_degf = degf_of(gate_setting(g, SETTING_GATE_POUR_DEGC));
    if (!pour->asked) return;
    const int32_t day = civil_day_of(g->facts->job->zone, pour->from_s);
    for (size_t i = 0; i < sizeof pour->low_degf / sizeof *pour->low_degf; i++)
        pour->low_degf[i] = degf_of(gates_night_low_degc(g, day + (int32_t)i));
    pour->rain_in =
        gates_rain_mm(g, pour->from_s, pour->until_s + llround(ahead_h * GATE_HOUR_S)) / 25.4;
    pour->roof = g->facts->job->options.place == PLACE_COVERED;
}

/* --- tonight --------------------------------------------------------------------------------- */

static const struct clock_plan *clock_of(const struct job_plan *out, enum clock_id clock)
{
    for (size_t i = 0; i < out->clock_count; i++)
        if (out->clocks[i].clock == clock) return &out->clocks[i];
    return NULL;
}

static bool runs(const struct job_plan *out, enum clock_id clock)
{
    const struct clock_plan *plan = clock_of(out, clock);
    return plan != NULL && plan->state == CLOCK_STATE_RUNNING;
}

/* Work that is under way, or planned to begin before the crew's day ends. */
static bool goes_on_today(const struct job_plan *out, enum task task, int64_t day_end_s)
{
    const struct task_plan *plan = &out->tasks[task];
    if (plan->state == TASK_STATE_WORKING || plan->state == TASK_STATE_STOPPED) return true;
    return !is_over(plan) && !plan->held && plan->start_s != INSTANT_NONE &&
           plan->start_s < day_end_s;
}

static bool joints_today(const struct job_plan *out, const struct gates *g, int64_t day_end_s)
{
    for (int t = 0; t < TASK_COUNT; t++)
        if (g->facts->rulebook->tasks[t].makes_joints &&
            goes_on_today(out, (enum task)t, day_end_s))
            return true;
    return false;
}

/* The latest word on a cover of the unit, or on a shelter of a part. */
static bool covered_since(const struct facts *facts, int64_t from_s, bool *blanket, enum part part)
{
    bool covered = false;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->at_s < from_s) continue;
        bool own = r->part == part || r->part == PART_NONE;
        if (part != PART_PAD && r->kind == RECORD_COVERED) covered = true;
        if (part != PART_PAD && r->kind == RECORD_UNCOVERED) covered = false;
        if (part == PART_PAD && own && r->kind == RECORD_WET_COVER_ON) covered = true;
        if (part == PART_PAD && own && r->kind == RECORD_WET_COVER_OFF) covered = false;
        if (r->part == part && r->kind == RECORD_CLOSED_IN) covered = *blanket = true;
        if (r->part == part && r->kind == RECORD_OPENED) covered = *blanket = false;
    }
    return covered;
}

static void look_at_night(struct tonight_item *item, const struct gates *g, int64_t until_s)
{
    item->low_degf = item->rain_in = item->gust_mph = NAN;
    item->low_s = item->rain_s = item->gust_s = INSTANT_NONE;
    double low = NAN, rain = NAN, wind = NAN;
    for (int64_t at_s = g->facts->now_s - g->facts->now_s % GATE_HOUR_S; at_s < until_s;
         at_s += GATE_HOUR_S) {
        const struct gate_sky sky = gates_sky(g, at_s);
        const double blows = gate_wind_mps(&sky);
        if (sky.temp_degc < low || (isnan(low) && !isnan(sky.temp_degc))) {
            low = sky.temp_degc;
            item->low_s = at_s;
        }
        if (!isnan(sky.rain_mm)) rain = isnan(rain) ? sky.rain_mm : rain + sky.rain_mm;
        if (sky.rain_mm > 0 && item->rain_s == INSTANT_NONE) item->rain_s = at_s;
        if (blows > wind || (isnan(wind) && !isnan(blows))) {
            wind = blows;
            item->gust_s = at_s;
            item->mean_wind = isnan(sky.gust_mps);
        }
    }
    item->low_degf = degf_of(low);
    item->rain_in = rain / 25.4;
    item->gust_mph = wind * 2.2369362920544;
}

/* First hour under a temperature, from now on. */
static int64_t first_under_s(const struct gates *g, double limit_degc, int64_t until_s)
{
    for (int64_t at_s = g->facts->now_s - g->facts->now_s % GATE_HOUR_S; at_s < until_s;
         at_s += GATE_HOUR_S)
        if (gates_sky(g, at_s).temp_degc < limit_degc - slack) return at_s;
    return INSTANT_NONE;
}

/* First hour that stops masonry by its rain, from now on. */
static int64_t first_wet_s(const struct gates *g, double limit_mm, int64_t until_s)
{
    for (int64_t at_s = g->facts->now_s - g->facts->now_s % GATE_HOUR_S; at_s < until_s;
         at_s += GATE_HOUR_S)
        if (gates_sky(g, at_s).rain_mm >= limit_mm - slack) return at_s;
    return INSTANT_NONE;
}

static double degc_of(double degf)
{
    return (degf - 32.0) / 1.8;
}

/* What decides: frost, a cold night for a pad, rain, a gust; nothing else asks for it by a figure.
 */
static void decide(struct tonight_item *item, const struct gates *g, int64_t until_s)
{
    const double frost = gate_setting(g, SETTING_FROST_DEGC);
    const double cold = gate_setting(g, SETTING_GATE_POUR_DEGC);
    const double drop = gate_setting(g, SETTING_GATE_RAIN_MM);
    const double gust = gate_setting(g, SETTING_GATE_GUST_MPS);
    const double low = degc_of(item->low_degf);
    const bool sky = g->facts->job->options.place != PLACE_INDOOR;
    /* A house keeps the rain off its joints; over a new pad no roof is on record, nor over a flue.
     */
    const bool rained_on = sky || item->what == TONIGHT_PAD || item->what == TONIGHT_FLUE;
    const int64_t wet_s = rained_on ? first_wet_s(g, drop, until_s) : INSTANT_NONE;
    item->figure = (struct gate_figure){.rule = GATE_RULE_NONE,
                                        .value = NAN,
                                        .limit = NAN,
                                        .mark = MARK_NONE,
                                        .at_s = INSTANT_NONE};
    if (item->what <= TONIGHT_JOINTS && low < frost - slack) {
        item->figure =
            gate_figure_of(g, GATE_RULE_FROST, low, frost, first_under_s(g, frost, until_s));
    } else if (item->what == TONIGHT_PAD && low < cold - slack) {
        item->figure =
            gate_figure_of(g, GATE_RULE_POUR_COLD, low, cold, first_under_s(g, cold, until_s));
    } else if (wet_s != INSTANT_NONE) {
        item->figure = gate_figure_of(g, GATE_RULE_RAIN, gates_sky(g, wet_s).rain_mm, drop, wet_s);
    } else if (sky && item->gust_mph / 2.2369362920544 >= gust - slack) {
        item->figure =
            gate_figure_of(g, GATE_RULE_GUST, item->gust_mph / 2.2369362920544, gust, item->gust_s);
        item->figure.mean_wind = item->mean_wind;
    }
}

/* A probe of the pad under the alarm figure and lower than the one before it. */
static bool falling(const struct gates *g)
{
    const struct record *last = NULL, *before = NULL;
    for (size_t i = 0; i < g->facts->count; i++) {
        const struct record *r = g->facts->records[i];
        if (r->kind != RECORD_READING || r->part != PART_PAD || r->how == HOW_IMPRESSION) continue;
        before = last;
        last = r;
    }
    if (last == NULL || before == NULL) return false;
    return last->temp_degc < gate_setting(g, SETTING_ALARM_PROBE_DEGC) - slack &&
           last->temp_degc < before->temp_degc - slack;
}

static bool frost_ahead(const struct job_plan *out)
{
    for (size_t i = 0; i < out->caution_count; i++)
        if (out->cautions[i].caution == CAUTION_FROST_AHEAD && out->cautions[i].part == PART_PAD)
            return true;
    return false;
}

static void add_tonight(struct job_plan *out, struct gates *g, enum tonight_what what,
                        int64_t since_s, enum part part, int64_t day_end_s)
{
    const struct facts *facts = g->facts;
    const int32_t today = civil_day_of(facts->job->zone, facts->now_s);
    const int64_t until_s = civil_instant_s(facts->job->zone, today + 1, MORNING_END_S);
    const int64_t lead_s = llround(gate_setting(g, SETTING_COVER_BEFORE_RAIN_H) * GATE_HOUR_S);
    struct tonight_item *item = &out->tonight[out->tonight_count];
    *item = (struct tonight_item){.what = what, .crew_id = facts->job->crew_id};
    if (gates_in_room(g, part) && what != TONIGHT_FLUE) return; /* the weather is outside */
    item->covered = covered_since(facts, since_s, &item->blanket, part);
    look_at_night(item, g, until_s);
    decide(item, g, until_s);
    if (what == TONIGHT_UNIT && item->figure.rule != GATE_RULE_RAIN) return;
    item->before_s = day_end_s > facts->now_s ? day_end_s : until_s;
    int64_t bad_s = item->figure.at_s;
    /* The end of last night's frost takes nothing from tonight's: the lowest hour is still ahead.
     */
    if (bad_s <= facts->now_s && day_end_s > facts->now_s && item->low_s > day_end_s)
        bad_s = item->low_s;
    if (bad_s != INSTANT_NONE && bad_s < item->before_s) item->before_s = bad_s;
    if (item->rain_s != INSTANT_NONE && item->rain_s - lead_s < item->before_s)
        item->before_s = item->rain_s - lead_s;
    item->can_act = bad_s == INSTANT_NONE || bad_s > facts->now_s;
    item->alarm =
        what == TONIGHT_PAD && runs(out, CLOCK_PAD_FIRST_FROST) && (frost_ahead(out) || falling(g));
    out->tonight_count++;
}

static void list_tonight(struct job_plan *out, struct gates *g)
{
    const struct facts *facts = g->facts;
    const int32_t today = civil_day_of(g->calendar.zone, facts->now_s);
    const int64_t end_s =
        calendar_works(&g->calendar, today)
            ? civil_instant_s(g->calendar.zone, today, g->calendar.hours.until_min * MINUTE_S)
            : facts->now_s;
    const struct clock_plan *frost = clock_of(out, CLOCK_PAD_FIRST_FROST);
    const struct clock_plan *joints = clock_of(out, CLOCK_JOINTS_EARLY);
    const struct clock_plan *dry = clock_of(out, CLOCK_UNIT_DRY_CURE);
    const bool pour = goes_on_today(out, TASK_PAD_POUR, end_s);
    if (pour || runs(out, CLOCK_PAD_FIRST_FROST) || runs(out, CLOCK_PAD_MOIST_CURE))
        add_tonight(out, g, TONIGHT_PAD, frost != NULL && !pour ? frost->start_s : facts->now_s,
                    PART_PAD, end_s);
    const bool building = joints_today(out, g, end_s);
    if (building || runs(out, CLOCK_JOINTS_EARLY))
        add_tonight(out, g, TONIGHT_JOINTS,
                    joints != NULL && !building ? joints->start_s : facts->now_s, PART_UNIT, end_s);
    const enum task_state run = out->tasks[TASK_CHIMNEY_RUN].state;
    const bool begun = run == TASK_STATE_DONE || run == TASK_STATE_PASSED ||
                       out->tasks[TASK_CHIMNEY_RUN].held ||
                       goes_on_today(out, TASK_CHIMNEY_RUN, end_s);
    if (begun && !is_over(&out->tasks[TASK_CAP_SET]))
        add_tonight(out, g, TONIGHT_FLUE, facts->now_s, PART_UNIT, end_s);
    if (runs(out, CLOCK_UNIT_DRY_CURE) && facts->job->options.place == PLACE_EXPOSED)
        add_tonight(out, g, TONIGHT_UNIT, dry->start_s, PART_UNIT, end_s);
}

/* --- half-days ------------------------------------------------------------------------------- */

/* The first outdoor work that is left, as the gates have it. */
static enum task outdoor_task(const struct job_plan *out, const struct gates *g)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &out->tasks[t];
        const enum who who = g->facts->rulebook->tasks[t].who;
        if (is_over(task) || task->held || gates_class((enum task)t) == GATE_CLASS_NONE) continue;
        if (who != WHO_CREW && who != WHO_MASON) continue;
        if (asks_in(task, g)) return (enum task)t;
    }
    return TASK_NONE;
}

static void count_half(struct half_day *half, struct gates *g, int from_min, int until_min)
{
    const enum gate_class gate = gates_class(half->task);
    const int64_t from_s = civil_instant_s(g->calendar.zone, half->day, from_min * MINUTE_S);
    const int64_t until_s = civil_instant_s(g->calendar.zone, half->day, until_min * MINUTE_S);
    for (int64_t at_s = from_s; at_s < until_s;) {
        int64_t next_s = at_s - at_s % GATE_HOUR_S + GATE_HOUR_S;
        if (next_s > until_s) next_s = until_s;
        const double hours = (double)(next_s - at_s) / GATE_HOUR_S;
        const struct gate_hour *hour = gates_hour(g, gate, at_s);
        half->hours += hours;
        if (hour != NULL && hour->state == GATE_CLOSED) {
            if (half->hours_lost <= 0 ||
                gate_figure_excess(&hour->figure) > gate_figure_excess(&half->figure))
                half->figure = hour->figure;
            half->hours_lost += hours;
        }
        at_s = next_s;
    }
    half->lost = half->hours_lost > 0 &&
                 half->hours - half->hours_lost <
                     fmin(half->hours, gate_setting(g, SETTING_START_LEFT_ON_SITE_H)) - slack;
}

static void list_half_days(struct job_plan *out, struct gates *g)
{
    const enum task task = outdoor_task(out, g);
    const struct window hours = g->calendar.hours, lunch = g->calendar.lunch;
    const int32_t first = civil_day_of(g->calendar.zone, g->facts->now_s);
    const int32_t last = civil_day_of(g->calendar.zone, g->until_s - 1);
    if (task == TASK_NONE) return;
    const int noon_min =
        lunch.from_min < lunch.until_min ? lunch.from_min : (hours.from_min + hours.until_min) / 2;
    const int after_min = lunch.from_min < lunch.until_min ? lunch.until_min : noon_min;
    struct half_day *room =
        ARENA_TAKE(g->facts->arena, 2 * (size_t)(last - first + 1), struct half_day);
    if (room == NULL) return;
    for (int32_t day = first; day <= last; day++) {
        if (!calendar_works(&g->calendar, day)) continue;
        for (int half = 0; half < 2; half++) {
            struct half_day *item = &room[out->half_day_count];
            *item = (struct half_day){.day = day, .afternoon = half == 1, .task = task};
            count_half(item, g, half == 0 ? hours.from_min : after_min,
                       half == 0 ? noon_min : hours.until_min);
            /* A half that was over before the work could begin is no loss. */
            const int64_t end_s = civil_instant_s(
                g->calendar.zone, day, (half == 0 ? noon_min : hours.until_min) * MINUTE_S);
            const int64_t opens_s = out->tasks[task].opens_s;
            if (opens_s != INSTANT_NONE && end_s <= opens_s) continue;
            if (item->hours_lost > 0) out->half_day_count++;
        }
    }
    out->half_days = room;
}

void gate_lists(struct job_plan *out, const struct facts *facts)
{
    struct gates *g = facts->gates;
    out->bag_min_degf = degf_of(gates_bag_degc(g));
    finish_pour(out, g);
    if (g->count == 0) return;
    list_gates(out, g);
    list_tonight(out, g);
    list_half_days(out, g);
}

int64_t gate_closed_from_s(const struct job_plan *job, enum task task, int64_t from_s,
                           int64_t until_s)
{
    for (size_t g = 0; g < job->gate_count; g++) {
        const struct gate_strip *strip = &job->gates[g];
        if ((strip->tasks >> (unsigned)task & 1U) == 0) continue;
        for (size_t s = 0; s < strip->count; s++) {
            const struct gate_stretch *stretch = &strip->stretches[s];
            if (stretch->state != GATE_CLOSED || stretch->until_s <= from_s) continue;
            if (stretch->from_s >= until_s) break;
            return stretch->from_s > from_s ? stretch->from_s : from_s;
        }
    }
    return INSTANT_NONE;
}

void gate_lists_crews(struct job_plan *jobs, size_t job_count, const struct crew_plan *crews,
                      size_t crew_count)
{
    for (size_t c = 0; c < crew_count; c++) {
        if (crews[c].day_count == 0) continue;
        for (size_t w = 0; w < crews[c].days[0].work_count; w++) {
            for (size_t j = 0; j < job_count; j++) {
                if (jobs[j].job != crews[c].days[0].work[w].job) continue;
                for (size_t i = 0; i < jobs[j].tonight_count; i++)
                    if (jobs[j].tonight[i].crew_id == NULL)
                        jobs[j].tonight[i].crew_id = crews[c].crew->id;
            }
        }
    }
}
