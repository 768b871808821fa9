/* SPDX-License-Identifier: MIT */
/*
 * Why: how the weather holds work back. A start moves on to the first hour from which enough of the
 * day is open: the whole of work that cannot be left half done, else the hours a crew needs to make
 * the day worth it. Hours that close later are not worked: the finish moves by them. Past the hours
 * known nothing is held. As more hours can only close, worse weather never starts work earlier.
 */
#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"
#include "planner/gate.h"
#include "planner/network_internal.h"

#include "base/banned.h"

static const double hours_slack = 1e-6;

static int64_t next_hour_s(int64_t at_s)
{
    int64_t rest = at_s % GATE_HOUR_S;
    return at_s + GATE_HOUR_S - (rest < 0 ? rest + GATE_HOUR_S : rest);
}

/* Working hours between two instants of one hour. */
static double worked_h(const struct calendar *calendar, int64_t from_s, int64_t until_s)
{
    double left = calendar_left_h(calendar, from_s);
    if (civil_day_of(calendar->zone, until_s) != civil_day_of(calendar->zone, from_s)) return left;
    return left - calendar_left_h(calendar, until_s);
}

/* The first closed hour within so many working hours of the day from an instant on; NULL. */
static const struct gate_hour *first_closed(struct gates *gates, enum gate_class gate,
                                            const struct calendar *calendar, int64_t start_s,
                                            double need_h, int64_t *closed_s)
{
    double rest_h = fmin(need_h, calendar_left_h(calendar, start_s));
    for (int64_t at_s = start_s; rest_h > hours_slack && at_s < gates->until_s;) {
        const int64_t next_s = next_hour_s(at_s);
        const double hours = worked_h(calendar, at_s, next_s);
        const struct gate_hour *hour = gates_hour(gates, gate, at_s);
        if (hours > 0 && hour != NULL && hour->state == GATE_CLOSED) {
            *closed_s = at_s;
            return hour;
        }
        rest_h -= hours;
        at_s = next_s;
    }
    return NULL;
}

/* What closed the hours on the way, one reason a rule: the last hour of each. */
struct held_by {
    const struct gate_figure *figure;
    int64_t until_s;
};

static void add_reasons(struct bounds *bounds, struct held_by held[GATE_RULE_COUNT],
                        enum gate_rule last, int64_t start_s)
{
    held[last].until_s = start_s;
    for (int r = 0; r < GATE_RULE_COUNT; r++) {
        const struct gate_figure *figure = held[r].figure;
        if (figure == NULL || bounds->count >= REASONS_MAX) continue;
        struct reason reason =
            explain_plain(REASON_WEATHER, id_of(&gate_rule_ids, r), held[r].until_s, TASK_NONE);
        reason.have = figure->value;
        reason.need = figure->limit;
        reason.unit = figure->unit;
        reason.mark = figure->mark;
        reason.source = figure->source;
        reason.figure = figure;
        bounds->reasons[bounds->count++] = reason;
    }
}

/* Hours ahead rest on the forecast, and what the air's warmth decides on the site offset too. */
static void mark_weather(struct bounds *bounds, size_t first, const struct net *net)
{
    const struct job_plan *out = net->out;
    for (size_t i = first; i < bounds->count; i++) {
        struct reason *reason = &bounds->reasons[i];
        if (reason->unit == UNIT_DEGF) reason->site_offset_degc = net->facts->job->site_offset_degc;
        reason->forecast_old = out->forecast_old && reason->until_s > net->facts->now_s;
        reason->forecast_made_s = out->forecast_made_s;
    }
}

/* Hours that have to be open from the start on. */
static double open_needed_h(const struct net *net, enum task task, double needed_h)
{
    const double hours = net->durations[task].hours;
    const double own_h = isnan(hours) ? net->rulebook->tasks[task].hours_fixed : hours;
    if (net->rulebook->tasks[task].no_undo) return own_h;
    const double least_h = rulebook_setting(net->rulebook, SETTING_START_LEFT_ON_SITE_H);
    if (network_whole_h(net, task) > 0) needed_h = 0; /* of what follows it: has its own gate */
    return fmin(own_h, fmax(needed_h, least_h));
}

/* The pour's own answer is asked of the first hours the crew could, weather aside. */
static void note_pour(const struct net *net, int64_t start_s, double need_h,
                      const struct calendar *calendar)
{
    struct pour_plan *pour = &net->out->pour;
    struct gates *gates = net->facts->gates;
    const int64_t finish_s = calendar_finish_s(calendar, start_s, need_h);
    *pour = (struct pour_plan){.asked = true,
                               .state = GATE_UNKNOWN,
                               .figure = {.rule = GATE_RULE_NONE,
                                          .value = NAN,
                                          .limit = NAN,
                                          .mark = MARK_NONE,
                                          .at_s = INSTANT_NONE},
                               .from_s = start_s,
                               .until_s = finish_s};
    for (int64_t at_s = start_s; at_s < finish_s && at_s < gates->until_s;
         at_s = next_hour_s(at_s)) {
        const struct gate_hour *hour = gates_hour(gates, GATE_CLASS_POUR, at_s);
        if (hour == NULL || hour->state <= pour->state) continue;
        pour->state = hour->state;
        pour->figure = hour->figure;
    }
}

void network_gate(struct span *span, const struct net *net, enum task task, struct bounds *bounds,
                  const struct calendar *calendar, double needed_h)
{
    struct gates *gates = net->facts->gates;
    const enum gate_class gate = gates_class(task);
    struct held_by held[GATE_RULE_COUNT] = {{NULL, INSTANT_NONE}};
    enum gate_rule last = GATE_RULE_NONE;
    if (gates == NULL || gate == GATE_CLASS_NONE || span->start_s == INSTANT_NONE) return;
    const double need_h = open_needed_h(net, task, needed_h);
    int64_t start_s = span->start_s, closed_s = INSTANT_NONE;
    if (task == TASK_PAD_POUR) note_pour(net, start_s, need_h, calendar);
    while (start_s != INSTANT_NONE && start_s < gates->until_s) {
        const struct gate_hour *hour =
            first_closed(gates, gate, calendar, start_s, need_h, &closed_s);
        if (hour == NULL) break;
        last = hour->figure.rule;
        held[last] = (struct held_by){&hour->figure, next_hour_s(closed_s)};
        start_s = calendar_start_s(calendar, next_hour_s(closed_s), needed_h);
    }
    if (last == GATE_RULE_NONE || start_s == INSTANT_NONE) return;
    const size_t first = bounds->count;
    add_reasons(bounds, held, last, start_s);
    mark_weather(bounds, first, net);
    span->start_s = start_s;
    span->weather = true;
}

/* Working hours of a task that fit into one day: chimney lifts have a most. */
static double day_most_h(const struct net *net, enum task task)
{
    const struct duration duration = net->durations[task];
    const double feet = net->facts->job->quantities[QUANTITY_CHIMNEY_FT];
    if (duration.days <= 1) return INFINITY;
    if (task == TASK_CHIMNEY_RUN && feet > 0)
        return duration.hours * rulebook_setting(net->rulebook, SETTING_LIFT_DAY_FT) / feet;
    return duration.hours / duration.days;
}

/*
 * When the open working hours from a start on add up to the hours of a task, as early as they do. A
 * later start or one more closed hour never makes the sum come earlier.
 */
static int64_t add_up_s(const struct net *net, enum task task, const struct calendar *calendar,
                        int64_t start_s)
{
    struct gates *gates = net->facts->gates;
    const enum gate_class gate = gates_class(task);
    const double most_h = day_most_h(net, task);
    double rest_h = net->durations[task].hours, today_h = most_h;
    int32_t today = civil_day_of(calendar->zone, start_s);
    int64_t at_s = start_s;
    for (; at_s < gates->until_s; at_s = next_hour_s(at_s)) {
        const struct gate_hour *hour = gates_hour(gates, gate, at_s);
        if (civil_day_of(calendar->zone, at_s) != today) today_h = most_h;
        today = civil_day_of(calendar->zone, at_s);
        double hours = fmin(worked_h(calendar, at_s, next_hour_s(at_s)), today_h);
        if (hours <= 0 || (hour != NULL && hour->state == GATE_CLOSED)) continue;
        if (hours >= rest_h - hours_slack) return calendar_finish_s(calendar, at_s, rest_h);
        rest_h -= hours;
        today_h -= hours;
    }
    if (civil_day_of(calendar->zone, at_s) != today) today_h = most_h; /* at midnight */
    while (rest_h > hours_slack) {                                     /* past the hours known */
        double hours = fmin(fmin(rest_h, today_h), calendar_left_h(calendar, at_s));
        if (hours >= rest_h - hours_slack) return calendar_finish_s(calendar, at_s, rest_h);
        rest_h -= hours;
        today_h = most_h;
        int32_t day = calendar_next_day(calendar, civil_day_of(calendar->zone, at_s) + 1);
        if (day == DAY_NONE) return INSTANT_NONE;
        at_s = calendar_open_s(calendar, day);
    }
    return at_s;
}

int64_t network_gate_finish_s(const struct net *net, enum task task,
                              const struct calendar *calendar, int64_t start_s, int64_t finish_s)
{
    const struct gates *gates = net->facts->gates;
    if (gates == NULL || gates_class(task) == GATE_CLASS_NONE || finish_s == INSTANT_NONE)
        return finish_s;
    if (start_s >= gates->until_s || net->durations[task].hours <= 0) return finish_s;
    return later_s(finish_s, add_up_s(net, task, calendar, start_s));
}

void network_gate_notes(const struct net *net, enum task task, struct task_plan *out)
{
    struct gates *gates = net->facts->gates;
    const enum gate_class gate = gates_class(task);
    struct gate_measure room[MEASURE_ID_COUNT];
    struct calendar calendar;
    if (gates == NULL || gate == GATE_CLASS_NONE || out->start_s == INSTANT_NONE) return;
    int64_t from_s = later_s(out->start_s, net->facts->now_s);
    if (from_s >= gates->until_s) return;
    int64_t until_s = out->finish_s == INSTANT_NONE ? from_s + GATE_HOUR_S : out->finish_s;
    (void)network_calendar_of(&calendar, net, net->rulebook->tasks[task].who);
    out->bucket_h = gates_bucket_h(gates, gate, from_s, until_s);
    size_t count = gates_measures(room, gates, gate, &calendar, from_s, until_s);
    struct gate_measure *kept = ARENA_TAKE(net->facts->arena, count, struct gate_measure);
    if (kept == NULL) return;
    for (size_t i = 0; i < count; i++) kept[i] = room[i];
    out->measures = kept;
    out->measure_count = count;
}
