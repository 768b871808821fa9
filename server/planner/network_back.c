/* SPDX-License-Identifier: MIT */
/*
 * Why: work-back. From the day a fire is wanted, the latest finish of each task: the same links,
 * clocks and calendars as the forward pass, walked from the end. A clock ahead takes its least
 * time: every hour and day counts in full; no gate shuts. Done at its latest finish each task still
 * reaches the day, one day later none does.
 *
 * The forward rules are asked, never copied: a start is found by trying instants against the very
 * functions that place a task, which only ever answer later for later. Requests and bookings that
 * can no longer be kept are left to the forward pass: the latest finish says by when, not whether.
 */
#include "planner/network_internal.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"

#include "base/banned.h"

#define BACK_FREE INT64_MAX /* nothing on the way to the fire waits for it */

enum {
    DAY_S = 86400,
    YOUNG_MAX = 7,
    DAYS_BACK_MAX = 1500,
    BISECT_STEPS = 18 /* of a day, to the second */
};

/** How much of its day a crew needs left to begin: it goes on, it waits on site, it drives. */
enum needs { NEEDS_NOTHING, NEEDS_USUAL };

/** The pass while it runs. */
struct back {
    struct net *net;
    int64_t finish_s[TASK_COUNT]; /* to be finished by then; BACK_FREE */
    int64_t start_s[TASK_COUNT];  /* to be begun by then; BACK_FREE */
};

static void sooner(int64_t *latest_s, int64_t at_s)
{
    if (at_s < *latest_s) *latest_s = at_s;
}

/* --- one task forward, without now -------------------------------------------------------------
 */

static double needed_h(const struct net *net, enum task task, enum needs needs)
{
    const struct rulebook *rulebook = net->rulebook;
    if (!network_by_crew(net, task)) return 0;
    double left_h = 0;
    if (needs == NEEDS_USUAL) {
        const bool drives = net->facts->job->quantities[QUANTITY_DRIVE_H] >
                            rulebook_setting(rulebook, SETTING_START_DRIVE_OVER_H);
        left_h = rulebook_setting(rulebook, drives ? SETTING_START_LEFT_DRIVE_H
                                                   : SETTING_START_LEFT_ON_SITE_H);
    }
    return fmax(left_h, network_whole_h(net, task));
}

/* Booked days hold as long as they can be kept. */
static int64_t booked_s(const struct net *net, enum task task, const struct calendar *calendar,
                        int64_t at_s)
{
    const struct record *record = net->steps[task].booked;
    if (record == NULL || record->day == DAY_NONE) return at_s;
    if (civil_day_start_s(calendar->zone, record->day + 1) <= net->facts->now_s) return at_s;
    if (civil_day_start_s(calendar->zone, record->day + 1) <= at_s) return at_s;
    return later_s(at_s, calendar_open_s(calendar, record->day));
}

/* Start and finish of a task that may begin at an instant. */
static struct span place(const struct net *net, enum task task, int64_t at_s, enum needs needs)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    const double known_h =
        isnan(net->durations[task].hours) ? rule->hours_fixed : net->durations[task].hours;
    struct span span = {INSTANT_NONE, INSTANT_NONE, false, false};
    struct calendar calendar;
    (void)network_calendar_of(&calendar, net, rule->who);
    if (rule->who == WHO_HOMEOWNER) {
        calendar.zone = net->facts->job->zone;
        span.start_s = later_s(at_s, calendar_open_s(&calendar, civil_day_of(calendar.zone, at_s)));
        span.finish_s = span.start_s + llround(known_h * NETWORK_HOUR_S);
        return span;
    }
    at_s = booked_s(net, task, &calendar, at_s);
    if (!network_comes_off_duty(net, task, &calendar, at_s))
        span.start_s = calendar_start_s(&calendar, at_s, needed_h(net, task, needs));
    else
        span.start_s = at_s; /* they said they come on their day off */
    if (span.start_s == INSTANT_NONE) return span;
    span.finish_s = isnan(net->durations[task].hours)
                        ? calendar_finish_s(&calendar, span.start_s, known_h)
                        : network_spread_s(net, task, &calendar, span.start_s);
    return span;
}

static bool fits(const struct back *back, enum task task, int64_t at_s, enum needs needs)
{
    const struct span span = place(back->net, task, at_s, needs);
    return span.finish_s != INSTANT_NONE && span.finish_s <= back->finish_s[task] &&
           span.start_s <= back->start_s[task];
}

/* The latest instant a task may begin to be possible at; INSTANT_NONE: there is none in sight. */
static int64_t latest_s(const struct back *back, enum task task, enum needs needs)
{
    const struct zone *zone = back->net->crew_calendar.zone;
    const int64_t end_s =
        back->finish_s[task] < back->start_s[task] ? back->finish_s[task] : back->start_s[task];
    if (fits(back, task, end_s, needs)) return end_s;
    int32_t day = civil_day_of(zone, end_s);
    const int32_t first = day - DAYS_BACK_MAX;
    while (day > first && !fits(back, task, civil_day_start_s(zone, day), needs)) day--;
    if (day == first) return INSTANT_NONE;
    int64_t good_s = civil_day_start_s(zone, day);
    int64_t bad_s = civil_day_start_s(zone, day + 1);
    if (bad_s > end_s) bad_s = end_s;
    for (int i = 0; i < BISECT_STEPS && bad_s - good_s > 1; i++) {
        const int64_t middle_s = good_s + (bad_s - good_s) / 2;
        if (fits(back, task, middle_s, needs))
            good_s = middle_s;
        else
            bad_s = middle_s;
    }
    return good_s;
}

/* --- what a task asks of those before it ---------------------------------------------------------
 */

/* The latest start of a clock that opens by an instant, every hour or day of it counting. */
static int64_t clock_start_by_s(struct net *net, enum clock_id clock, int64_t opens_by_s)
{
    const struct zone *zone = net->facts->job->zone;
    const int64_t least_s = network_clock_opens_s(net, clock, opens_by_s) - opens_by_s;
    if (net->rulebook->clocks[clock].kind == CLOCK_KIND_DAYS) {
        int32_t day = civil_day_of(zone, opens_by_s - least_s) + 2;
        for (int i = 0; i < 8; i++, day--) {
            const int64_t last_s = civil_day_start_s(zone, day + 1) - 1;
            if (network_clock_opens_s(net, clock, last_s) <= opens_by_s) return last_s;
        }
        return INSTANT_NONE;
    }
    /* the opening is on a whole hour of the wall clock, the start need not be */
    int64_t good_s = opens_by_s - least_s - 2 * NETWORK_HOUR_S;
    int64_t bad_s = opens_by_s - least_s + 3 * NETWORK_HOUR_S;
    if (network_clock_opens_s(net, clock, good_s) > opens_by_s) return INSTANT_NONE;
    while (bad_s - good_s > 1) {
        const int64_t middle_s = good_s + (bad_s - good_s) / 2;
        if (network_clock_opens_s(net, clock, middle_s) <= opens_by_s)
            good_s = middle_s;
        else
            bad_s = middle_s;
    }
    return good_s;
}

/* The latest end of what a lead time is counted from. */
static int64_t lead_from_by_s(const struct net *net, int days, int64_t until_s)
{
    const struct zone *zone = net->crew_calendar.zone;
    int32_t day = civil_day_of(zone, until_s);
    if (days == 0) return until_s;
    for (int i = 0; i < DAYS_BACK_MAX; i++, day--) {
        const int64_t last_s = civil_day_start_s(zone, day + 1) - 1;
        const int64_t lead_s = network_lead_s(net, last_s, days);
        if (lead_s != INSTANT_NONE && lead_s <= until_s) return last_s;
    }
    return INSTANT_NONE;
}

static void ask_finish(struct back *back, enum task before, int64_t by_s)
{
    const struct step *step = &back->net->steps[before];
    if (step->needed && !step->finished) sooner(&back->finish_s[before], by_s);
}

static void ask_clock(struct back *back, enum task task, enum clock_id clock, int64_t by_s)
{
    struct net *net = back->net;
    if (!network_clock_ahead(net, clock, task)) return;
    const uint64_t starts = network_clock_starts(net, clock, task);
    if (starts == 0) return;
    const int64_t start_s = clock_start_by_s(net, clock, by_s);
    if (start_s == INSTANT_NONE) return;
    for (uint64_t m = starts; m != 0; m &= m - 1) ask_finish(back, task_first(m), start_s);
}

/* Work that the crew only goes on from is asked for later than what it has to come back for. */
static int64_t by_of(const struct net *net, enum task before, double wait_h, int64_t going_on_s,
                     int64_t usual_s)
{
    return wait_h <= 0 && network_by_crew(net, before) ? going_on_s : usual_s;
}

static void ask_links(struct back *back, enum task task, int64_t going_on_s, int64_t usual_s)
{
    struct net *net = back->net;
    const struct task_rule *rule = &net->rulebook->tasks[task];
    uint64_t named = 0;
    for (size_t i = 0; i < rule->link_count; i++) {
        const struct task_link *link = &rule->links[i];
        if (!network_link_acts(net, link)) continue;
        if (link->kind == LINK_AFTER_CLOCK) {
            if (net->clocks[link->clock] != NULL || !link->if_started)
                ask_clock(back, task, link->clock, usual_s);
            continue;
        }
        if (!net->steps[link->task].needed) continue;
        if (link->kind == LINK_WITH)
            sooner(&back->start_s[link->task], by_of(net, link->task, 0, going_on_s, usual_s));
        if (link->kind != LINK_AFTER) continue;
        named |= task_bit(link->task);
        ask_finish(back, link->task,
                   by_of(net, link->task, link->wait_h, going_on_s, usual_s) -
                       llround(link->wait_h * NETWORK_HOUR_S));
    }
    const uint64_t others = (net->steps[task].waits_for & ~named) | net->steps[task].chances;
    for (uint64_t m = others; m != 0; m &= m - 1)
        ask_finish(back, task_first(m), by_of(net, task_first(m), 0, going_on_s, usual_s));
    int days = 0;
    const enum task from = network_lead_of(net, task, &days);
    if (from != TASK_NONE) ask_finish(back, from, lead_from_by_s(net, days, usual_s));
}

/* The facing that is still to come is a clock of its own before the fire. */
static void ask_facing(struct back *back, enum task task, int64_t by_s)
{
    const struct step *facing = &back->net->steps[TASK_FACING_OTHERS];
    if (task != TASK_FIRE_1 || !facing->needed || facing->finished) return;
    ask_finish(back, TASK_FACING_OTHERS, clock_start_by_s(back->net, CLOCK_UNIT_FACING_CURE, by_s));
}

static bool is_planned(const struct net *net, enum task task)
{
    const struct step *step = &net->steps[task];
    return step->needed && !step->finished && !net->out->tasks[task].held &&
           step->phase != PHASE_STARTED && task != TASK_NIGHT_COVER && task != TASK_CURE_WATCH;
}

/* A plan that reaches the day is early enough as it is: a crew on site may begin with less of the
 * day left than one that is only known to be coming. */
static int64_t as_planned_s(const struct net *net, enum task task, int64_t latest)
{
    const struct fire_plan *fire = &net->out->fire;
    const bool reached = fire->projected_day != DAY_NONE && fire->projected_day <= fire->wanted_day;
    return reached ? later_s(latest, net->out->tasks[task].finish_s) : latest;
}

static void keep(const struct net *net, enum task task, int64_t latest)
{
    struct task_plan *out = &net->out->tasks[task];
    const struct zone *zone = net->facts->job->zone;
    out->latest_finish_s = latest;
    const int64_t finish_s =
        out->finish_s != INSTANT_NONE ? out->finish_s : net->steps[task].release_s;
    if (finish_s != INSTANT_NONE)
        out->days_to_spare = civil_day_of(zone, latest) - civil_day_of(zone, finish_s);
}

/* The chimney fits when its bed is laid at an instant and it begins as soon as that is open. */
static bool fits_on_bed(struct back *back, int64_t bed_s)
{
    back->net->lifts_s = bed_s;
    return fits(back, TASK_CHIMNEY_RUN, network_clock_opens_s(back->net, CLOCK_BED_SET, bed_s),
                NEEDS_USUAL);
}

/* How late the bed under the chimney may be laid: a young one carries only a first lift. From here
 * on the pass goes by that bed, so that all latest finishes hold together. */
static void ask_bed(struct back *back)
{
    struct net *net = back->net;
    const int64_t planned_s = net->lifts_s;
    if (planned_s == INSTANT_NONE || net->steps[TASK_TRANSITION_SET].finished ||
        !network_clock_ahead(net, CLOCK_BED_SET, TASK_CHIMNEY_RUN))
        return;
    net->lifts_s = planned_s < back->finish_s[TASK_CHIMNEY_RUN] - DAYS_BACK_MAX * DAY_S
                       ? planned_s
                       : back->finish_s[TASK_CHIMNEY_RUN] - DAYS_BACK_MAX * DAY_S; /* an old one */
    const int64_t opens_s = latest_s(back, TASK_CHIMNEY_RUN, NEEDS_USUAL);
    const int64_t bed_s =
        opens_s == INSTANT_NONE ? INSTANT_NONE : clock_start_by_s(net, CLOCK_BED_SET, opens_s);
    if (bed_s == INSTANT_NONE) {
        net->lifts_s = planned_s;
        return;
    }
    int64_t good_s = bed_s - YOUNG_MAX * DAY_S, bad_s = bed_s + 1;
    if (fits_on_bed(back, bed_s)) good_s = bed_s;
    while (bad_s - good_s > 1 && good_s != bed_s) {
        const int64_t middle_s = good_s + (bad_s - good_s) / 2;
        if (fits_on_bed(back, middle_s))
            good_s = middle_s;
        else
            bad_s = middle_s;
    }
    net->lifts_s = good_s;
    ask_finish(back, TASK_TRANSITION_SET, good_s);
}

static void back_task(struct back *back, enum task task)
{
    struct net *net = back->net;
    if (back->finish_s[task] == BACK_FREE && back->start_s[task] == BACK_FREE) return;
    if (!net->steps[task].needed || net->steps[task].finished) return;
    if (back->finish_s[task] == BACK_FREE) { /* only its start is asked for */
        const struct span span = place(net, task, back->start_s[task], NEEDS_NOTHING);
        if (span.finish_s == INSTANT_NONE) return;
        back->finish_s[task] = span.finish_s;
    }
    if (!is_planned(net, task)) {
        keep(net, task, back->finish_s[task]);
        return;
    }
    if (task == TASK_CHIMNEY_RUN) ask_bed(back);
    const int64_t usual_s = latest_s(back, task, NEEDS_USUAL);
    const int64_t going_on_s =
        network_by_crew(net, task) ? latest_s(back, task, NEEDS_NOTHING) : usual_s;
    if (usual_s == INSTANT_NONE || going_on_s == INSTANT_NONE) return;
    const int64_t latest = place(net, task, going_on_s, NEEDS_NOTHING).finish_s;
    keep(net, task, as_planned_s(net, task, latest));
    ask_links(back, task, going_on_s, usual_s);
    ask_facing(back, task, usual_s);
}

/* What nothing waits for but has to follow something soon: as long after its latest finish. */
static void keep_following(const struct net *net)
{
    for (int i = 0; i < TASK_COUNT; i++) {
        const enum task task = net->order[i];
        const struct task_rule *rule = &net->rulebook->tasks[task];
        if (!is_planned(net, task) || net->out->tasks[task].latest_finish_s != INSTANT_NONE)
            continue;
        for (size_t k = 0; k < rule->link_count; k++) {
            const struct task_link *link = &rule->links[k];
            if (link->kind != LINK_WITHIN || !network_link_acts(net, link)) continue;
            const int64_t by_s = net->out->tasks[link->task].latest_finish_s;
            if (by_s == INSTANT_NONE) continue;
            const struct zone *zone = net->facts->job->zone;
            keep(net, task,
                 link->same_day ? civil_day_start_s(zone, civil_day_of(zone, by_s) + 1) - 1
                                : by_s + llround(link->wait_h * NETWORK_HOUR_S));
        }
    }
}

void network_back(struct net *net)
{
    struct fire_plan *fire = &net->out->fire;
    struct back back = {.net = net};
    const int32_t wanted = net->facts->job->wanted_fire_day;
    fire->wanted_day = wanted != DAY_NONE ? wanted : fire->agreed_day;
    fire->wanted_is_agreed = wanted == DAY_NONE && fire->agreed_day != DAY_NONE;
    if (fire->wanted_day == DAY_NONE || net->steps[TASK_FIRE_1].finished) return;
    for (int t = 0; t < TASK_COUNT; t++) back.finish_s[t] = back.start_s[t] = BACK_FREE;
    const double hours = net->durations[TASK_FIRE_1].hours;
    const int64_t over_s = civil_day_start_s(net->facts->job->zone, fire->wanted_day + 1) - 1;
    back.finish_s[TASK_FIRE_1] = over_s;
    back.start_s[TASK_FIRE_1] = isnan(hours) ? over_s : over_s - llround(hours * NETWORK_HOUR_S);
    const int64_t lifts_s = net->lifts_s;
    for (int i = TASK_COUNT; i-- > 0;) back_task(&back, net->order[i]);
    net->lifts_s = lifts_s;
    keep_following(net);
}
