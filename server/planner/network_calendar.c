/* SPDX-License-Identifier: MIT */
/*
 * Why: the earliest opening is not yet a start. A crew needs enough of its day left, more when it
 * has to drive; an inspector has to be asked by a cut-off; a booked day holds. Work that has to be
 * followed at once (cover the pad, clean the lining) starts only when both fit into the day.
 */
#include "planner/network_internal.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/explain.h"
#include "planner/inspect.h"
#include "planner/lift.h"

#include "base/banned.h"

/* A calendar-made constraint: it moves the start, it does not keep the task from being ready. */
static void add(struct bounds *bounds, struct reason reason)
{
    if (bounds->count < REASONS_MAX) bounds->reasons[bounds->count++] = reason;
}

static const struct outside_party *find_party(const struct outside_party *parties, size_t count,
                                              const char *id)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(parties[i].id, id) == 0) return &parties[i];
    return NULL;
}

const struct outside_party *network_calendar_of(struct calendar *out, const struct net *net,
                                                enum who who)
{
    const struct company *company = net->facts->company;
    const struct outside_party *party = NULL;
    switch (who) {
    case WHO_INSPECTOR:
        party = inspect_party(company, net->facts->job);
        inspect_calendar(out, party, company, net->facts->job);
        return party;
    case WHO_PLUMBER:
    case WHO_HVAC:
    case WHO_ROOFER:
    case WHO_FRAMER:
    case WHO_SETTER:
        party = find_party(company->trades, company->trade_count, id_of(&who_ids, (int)who));
        calendar_of_party(out, party, company, company->zone);
        return party;
    default:
        *out = net->crew_calendar;
        return NULL;
    }
}

bool network_comes_off_duty(const struct net *net, enum task task, const struct calendar *calendar,
                            int64_t at_s)
{
    const enum who who = net->rulebook->tasks[task].who;
    const struct record *record = net->steps[task].booked;
    const int32_t day = civil_day_of(calendar->zone, at_s);
    const bool outside = who >= WHO_INSPECTOR && who <= WHO_SETTER;
    return outside && record != NULL && record->day == day && !calendar_works(calendar, day) &&
           at_s < civil_instant_s(calendar->zone, day, calendar->hours.until_min * 60);
}

/* Hours of the day that must be left for the crew to begin at an instant. */
static double left_needed_h(const struct net *net, const struct bounds *bounds, int64_t at_s,
                            bool *drives)
{
    const struct zone *zone = net->crew_calendar.zone;
    const double drive_h = net->facts->job->quantities[QUANTITY_DRIVE_H];
    const double on_site_h = rulebook_setting(net->rulebook, SETTING_START_LEFT_ON_SITE_H);
    *drives = false;
    if (bounds->crew_s != INSTANT_NONE &&
        civil_day_of(zone, bounds->crew_s) == civil_day_of(zone, at_s))
        return bounds->other_s > bounds->crew_s ? on_site_h : 0; /* it just goes on */
    *drives = drive_h > rulebook_setting(net->rulebook, SETTING_START_DRIVE_OVER_H);
    return *drives ? rulebook_setting(net->rulebook, SETTING_START_LEFT_DRIVE_H) : on_site_h;
}

/* It had to follow something that is finished: it is due now, however little of the day is left. */
static bool is_due(const struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (link->kind == LINK_WITHIN && !net->steps[link->task].hold &&
            net->steps[link->task].finished && network_link_acts(net, link))
            return true;
    }
    return false;
}

/* Fires are given by the day: from the hour the company opens, on any day of the week. */
static void by_day(struct span *out, const struct net *net, int64_t at_s, double hours,
                   struct bounds *bounds)
{
    struct calendar calendar = net->crew_calendar;
    calendar.zone = net->facts->job->zone;
    int64_t open_s = calendar_open_s(&calendar, civil_day_of(calendar.zone, at_s));
    out->start_s = later_s(at_s, open_s);
    if (out->start_s > at_s)
        add(bounds, explain_plain(REASON_CREW_DAY, "crew-day", out->start_s, TASK_NONE));
    if (!isnan(hours)) out->finish_s = out->start_s + llround(hours * NETWORK_HOUR_S);
}

double network_whole_h(const struct net *net, enum task task)
{
    const double hours = net->durations[task].hours;
    const bool whole = net->rulebook->tasks[task].no_undo || net->follow_h[task] > 0;
    if (!whole || isnan(hours)) return 0;
    double all_h = hours + net->follow_h[task];
    return all_h <= calendar_day_h(&net->crew_calendar) ? all_h : 0;
}

static void add_hours(struct bounds *bounds, const struct net *net, int64_t start_s, double left_h,
                      double needed_h, bool drives)
{
    bool short_day = left_h > 0 && left_h < needed_h; /* else they are not at work then */
    enum setting setting = drives ? SETTING_START_LEFT_DRIVE_H : SETTING_START_LEFT_ON_SITE_H;
    struct reason reason = explain_plain(REASON_CREW_DAY, "crew-day", start_s, TASK_NONE);
    if (short_day && drives) {
        reason.kind = REASON_DRIVE;
        reason.rule = "drive";
    }
    if (short_day) {
        reason.have = left_h;
        reason.need = needed_h;
        reason.mark = net->rulebook->settings[setting].mark;
        reason.source = net->rulebook->settings[setting].source;
    }
    add(bounds, reason);
}

/* The booked or held day, if it can still be kept; moves *at_s to it. */
static bool keep_booking(struct bounds *bounds, const struct net *net, enum task task,
                         const struct calendar *calendar, int64_t *at_s)
{
    const struct record *record = net->steps[task].booked;
    if (record == NULL || record->day == DAY_NONE) return false;
    int64_t open_s = calendar_open_s(calendar, record->day);
    int64_t over_s = civil_day_start_s(calendar->zone, record->day + 1);
    if (over_s <= *at_s) return false;
    const char *rule = id_of(&record_kind_ids, (int)record->kind);
    add(bounds, explain_plain(REASON_HELD_DATE, rule, open_s, task));
    *at_s = later_s(*at_s, open_s);
    return true;
}

int64_t network_spread_s(const struct net *net, enum task task, const struct calendar *calendar,
                         int64_t start_s)
{
    const struct duration duration = net->durations[task];
    if (task == TASK_CHIMNEY_RUN && net->lifts_s != INSTANT_NONE)
        return lift_finish_s(net, calendar, start_s);
    int64_t finish_s = start_s;
    for (int i = 0; i < duration.days; i++) {
        if (i > 0) {
            int32_t day = civil_day_of(calendar->zone, finish_s);
            day = calendar_next_day(calendar, day + 1);
            if (day == DAY_NONE) return INSTANT_NONE;
            start_s = calendar_open_s(calendar, day);
        }
        finish_s = calendar_finish_s(calendar, start_s, duration.hours / duration.days);
        if (finish_s == INSTANT_NONE) return INSTANT_NONE;
    }
    return finish_s;
}

void network_calendar(struct span *out, const struct net *net, enum task task,
                      struct bounds *bounds)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    struct duration duration = net->durations[task];
    int64_t at_s = later_s(net->facts->now_s, bounds->latest_s);
    *out = (struct span){.start_s = at_s, .finish_s = INSTANT_NONE};
    if (rule->who == WHO_HOMEOWNER) {
        by_day(out, net, at_s, duration.hours, bounds);
        return;
    }
    struct calendar calendar;
    (void)network_calendar_of(&calendar, net, rule->who);
    bool crew = network_by_crew(net, task);
    bool booked = keep_booking(bounds, net, task, &calendar, &at_s);
    out->booked = booked && at_s > net->facts->now_s;
    if (rule->who == WHO_INSPECTOR && !booked) {
        int64_t asked_s =
            inspect_first_visit_s(net->facts->company, net->facts->job, net->facts->now_s);
        if (asked_s > at_s) {
            add(bounds, explain_plain(REASON_INSPECTION, "request-cutoff", asked_s, task));
            at_s = asked_s;
        }
    }
    bool drives = false;
    double needed_h = crew ? left_needed_h(net, bounds, at_s, &drives) : 0;
    needed_h = fmax(needed_h, crew ? network_whole_h(net, task) : 0);
    if (is_due(net, task)) needed_h = 0;
    out->start_s = calendar_start_s(&calendar, at_s, needed_h);
    if (booked && network_comes_off_duty(net, task, &calendar, at_s)) {
        out->start_s = at_s; /* they said they come on their day off */
        if (!isnan(duration.hours)) out->finish_s = at_s + llround(duration.hours * NETWORK_HOUR_S);
        return;
    }
    if (out->start_s == INSTANT_NONE) {
        add(bounds, explain_plain(REASON_CREW_DAY, "crew-day", INSTANT_NONE, TASK_NONE));
        return;
    }
    if (out->start_s > at_s)
        add_hours(bounds, net, out->start_s, calendar_left_h(&calendar, at_s), needed_h, drives);
    network_gate(out, net, task, bounds, &calendar, needed_h);
    if (isnan(duration.hours)) return;
    out->finish_s = network_spread_s(net, task, &calendar, out->start_s);
    out->finish_s = network_gate_finish_s(net, task, &calendar, out->start_s, out->finish_s);
}

int64_t network_finish_s(const struct net *net, enum task task, int64_t start_s, double hours)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    if (start_s == INSTANT_NONE || isnan(hours)) return INSTANT_NONE;
    struct calendar calendar;
    (void)network_calendar_of(&calendar, net, rule->who);
    int64_t finish_s = rule->who == WHO_HOMEOWNER ? start_s + llround(hours * NETWORK_HOUR_S)
                                                  : calendar_finish_s(&calendar, start_s, hours);
    return finish_s == INSTANT_NONE ? INSTANT_NONE : later_s(finish_s, net->facts->now_s);
}
