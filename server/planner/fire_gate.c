/* SPDX-License-Identifier: MIT */
/*
 * Why: see fire_gate.h. No fire is ever planned on a day the unit's clocks do not give. What can be
 * lifted by hand in a minute (an enclosure) keeps a fire from being ready, but takes no date away.
 */
#include "planner/fire_gate.h"

#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/explain.h"

#include "base/banned.h"

enum { SHIFTS_MAX = 800 /**< hours and bans looked past for a calm, permitted day */ };

/* --- water ----------------------------------------------------------------------------------- */

int64_t fire_gate_rained_on_s(const struct facts *facts, int64_t from_s)
{
    const struct job *job = facts->job;
    const double wet_mm = rulebook_setting(facts->rulebook, SETTING_DAY_RAIN_MM);
    if (job->options.place != PLACE_EXPOSED || job->station == NULL) return INSTANT_NONE;
    const struct series *seen = &job->station->observed;
    if (seen->rain_mm == NULL) return INSTANT_NONE;
    int64_t first = (from_s - seen->start_s) / NETWORK_HOUR_S;
    int64_t wet_s = INSTANT_NONE;
    double total_mm = 0;
    int32_t today = DAY_NONE;
    for (int64_t i = first > 0 ? first : 0; i < (int64_t)seen->count; i++) {
        int64_t hour_s = seen->start_s + i * NETWORK_HOUR_S;
        if (hour_s >= facts->now_s) break;
        if (isnan(seen->rain_mm[i]) || seen->rain_mm[i] <= 0) continue;
        int32_t day = civil_day_of(job->zone, hour_s);
        if (day != today) total_mm = 0;
        today = day;
        total_mm += seen->rain_mm[i];
        if (total_mm >= wet_mm) wet_s = hour_s + NETWORK_HOUR_S;
    }
    return wet_s;
}

/* When the unit was last wetted, as far as it still matters; whether it is covered now or not. */
static int64_t wetted_s(const struct facts *facts, int64_t from_s)
{
    int64_t last_s = fire_gate_rained_on_s(facts, from_s);
    for (size_t i = facts->count; i-- > 0 && facts->records[i]->at_s >= from_s;) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_SOAKED || r->part != PART_UNIT) continue;
        last_s = later_s(last_s, r->at_s);
        break;
    }
    return last_s;
}

static struct reason from_setting(enum reason_kind kind, const struct net *net,
                                  enum setting setting, int64_t until_s)
{
    const struct rule_number *number = &net->rulebook->settings[setting];
    struct reason reason = explain_plain(kind, setting_ids.ids[setting], until_s, TASK_NONE);
    reason.mark = number->mark;
    reason.source = number->source;
    return reason;
}

static void add_dry(struct bounds *bounds, const struct net *net)
{
    const int64_t now_s = net->facts->now_s;
    const double dry_h = rulebook_setting(net->rulebook, SETTING_FIRE_DRY_H);
    const int64_t dry_s = llround(dry_h * NETWORK_HOUR_S);
    const int64_t wet_s = wetted_s(net->facts, now_s - dry_s);
    if (wet_s == INSTANT_NONE) return;
    struct reason reason = from_setting(REASON_LOOK, net, SETTING_FIRE_DRY_H, wet_s + dry_s);
    reason.have = (double)(now_s - wet_s) / NETWORK_HOUR_S;
    reason.need = dry_h;
    explain_add(bounds, reason, reason.until_s <= now_s);
}

/* --- what the fires before it ask for -----------------------------------------------------------
 */

static void add_steps(struct bounds *bounds, const struct net *net)
{
    const struct fire_plan *fire = &net->out->fire;
    const int64_t now_s = net->facts->now_s;
    if (fire->last_fire_s == INSTANT_NONE) return;
    const int64_t gap_s =
        llround(rulebook_setting(net->rulebook, SETTING_FIRE_GAP_H) * NETWORK_HOUR_S);
    const int64_t next_s = fire->last_fire_s + gap_s;
    explain_add(bounds, from_setting(REASON_FIRE_REST, net, SETTING_FIRE_GAP_H, next_s),
                next_s <= now_s);
    if (fire->sign_hold != NULL)
        explain_add(bounds, explain_plain(REASON_FIRE_SIGN, "fire.sign", INSTANT_NONE, TASK_NONE),
                    false);
    if (fire->rest_for != NULL) {
        const bool soaked = fire->rest_for->sign == SIGN_NONE;
        const enum setting setting = soaked ? SETTING_FIRE_SOAKED_DAYS : SETTING_FIRE_REST_DAYS;
        explain_add(bounds, from_setting(REASON_FIRE_REST, net, setting, fire->rest_until_s),
                    fire->rest_until_s != INSTANT_NONE && fire->rest_until_s <= now_s);
    }
    if (!fire->next_extra || bounds->unknown) return;
    /* one more number 1 on the first day there is, and the gap after it */
    const int64_t extra_s = later_s(now_s, bounds->latest_s) +
                            llround(net->durations[TASK_FIRE_1].hours * NETWORK_HOUR_S);
    explain_add(bounds,
                from_setting(REASON_FIRE_REST, net, SETTING_FIRE_COLD_DEGC, extra_s + gap_s),
                false);
}

/* --- enclosure, ban, wind ----------------------------------------------------------------------
 */

/* An enclosure or blanket round the unit, a wrap or a tarp over it. */
static bool stands_covered(const struct facts *facts)
{
    bool shelters[SHELTER_COUNT] = {false};
    bool wrapped = false, tarp = false;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind == RECORD_WRAPPED || r->kind == RECORD_UNWRAPPED)
            wrapped = r->kind == RECORD_WRAPPED;
        if (r->kind == RECORD_COVERED || r->kind == RECORD_UNCOVERED)
            tarp = r->kind == RECORD_COVERED;
        if (r->part != PART_UNIT || (r->kind != RECORD_CLOSED_IN && r->kind != RECORD_OPENED))
            continue;
        for (int s = 0; s < SHELTER_COUNT; s++)
            if (r->shelter == SHELTER_NONE || r->shelter == (enum shelter)s)
                shelters[s] = r->kind == RECORD_CLOSED_IN;
    }
    return wrapped || tarp || shelters[SHELTER_ENCLOSURE] || shelters[SHELTER_BLANKET];
}

static bool is_banned_in(const struct burn_ban *ban, const struct job *job)
{
    return ban->town == NULL ||
           (job->options.town.name != NULL && strcmp(ban->town, job->options.town.name) == 0);
}

int64_t fire_gate_after_ban_s(const struct facts *facts, int64_t at_s)
{
    const struct company *company = facts->company;
    const struct zone *zone = facts->job->zone;
    for (size_t i = 0; i < company->burn_ban_count; i++) {
        const struct burn_ban *ban = &company->burn_bans[i];
        const int32_t day = civil_day_of(zone, at_s);
        if (!is_banned_in(ban, facts->job) || day < ban->from_day) continue;
        if (ban->until_day == DAY_NONE) return INSTANT_NONE;
        if (day > ban->until_day) continue;
        at_s = civil_day_start_s(zone, ban->until_day + 1);
        i = (size_t)-1; /* another one may begin there */
    }
    return at_s;
}

/* Gusts (or wind, where no gust is known) in a forecast hour; NAN: unknown. */
static double gust_mps(const struct series *ahead, int64_t at_s)
{
    const int64_t i = at_s < ahead->start_s ? -1 : (at_s - ahead->start_s) / NETWORK_HOUR_S;
    if (i < 0 || i >= (int64_t)ahead->count) return NAN;
    if (ahead->gust_mps != NULL && !isnan(ahead->gust_mps[i])) return ahead->gust_mps[i];
    return ahead->wind_mps != NULL ? ahead->wind_mps[i] : NAN;
}

/* The first start at or after an instant, on the hour, through which no forecast gust is too much:
 * on that day within the company's hours, else from the next morning on. */
static int64_t calm_s(const struct net *net, int64_t at_s, double hours)
{
    const struct job *job = net->facts->job;
    const double most_mps = rulebook_setting(net->rulebook, SETTING_FIRE_GUST_MPS);
    if (job->options.place == PLACE_INDOOR || job->station == NULL) return at_s;
    struct calendar day = net->crew_calendar;
    day.zone = job->zone;
    for (int i = 0; i < SHIFTS_MAX; i++) {
        const int32_t today = civil_day_of(day.zone, at_s);
        at_s = later_s(at_s, calendar_open_s(&day, today));
        const int64_t over_s = at_s + llround(hours * NETWORK_HOUR_S);
        int64_t windy_s = INSTANT_NONE;
        for (int64_t t = at_s; t < over_s; t += NETWORK_HOUR_S)
            if (gust_mps(&job->station->forecast, t) > most_mps) windy_s = t;
        if (windy_s == INSTANT_NONE) return at_s;
        at_s = civil_hour_up_s(day.zone, windy_s + 1);
        const int64_t close_s = civil_instant_s(day.zone, today, day.hours.until_min * 60);
        if (at_s + llround(hours * NETWORK_HOUR_S) > close_s)
            at_s = calendar_open_s(&day, today + 1);
    }
    return at_s;
}

/* Days of a ban and hours of wind are passed over until neither is in the way. */
static void add_permitted(struct bounds *bounds, const struct net *net, enum task task, bool next)
{
    const double hours = isnan(net->durations[task].hours) ? 0 : net->durations[task].hours;
    if (bounds->unknown) return;
    for (int i = 0; i < 20; i++) {
        const int64_t at_s = later_s(net->facts->now_s, bounds->latest_s);
        const int64_t free_s = fire_gate_after_ban_s(net->facts, at_s);
        if (free_s != at_s)
            explain_add(bounds, explain_plain(REASON_BURN_BAN, "burn-ban", free_s, TASK_NONE),
                        false);
        if (free_s == INSTANT_NONE) return;
        const int64_t calm = next ? calm_s(net, free_s, hours) : free_s;
        struct calendar day = net->crew_calendar;
        day.zone = net->facts->job->zone;
        const int64_t open_s = calendar_open_s(&day, civil_day_of(day.zone, free_s));
        if (calm <= later_s(free_s, open_s)) return;
        explain_add(bounds, from_setting(REASON_GUST, net, SETTING_FIRE_GUST_MPS, calm), false);
    }
}

/* --- the date of the unit -----------------------------------------------------------------------
 */

/* Where the work ahead leads, before anything counts: the facing that is still to come as well. */
static void note_projected(struct bounds *bounds, struct net *net)
{
    const struct step *facing = &net->steps[TASK_FACING_OTHERS];
    int64_t at_s = later_s(net->facts->now_s, bounds->latest_s);
    if (bounds->unknown) return;
    if (facing->needed && !facing->finished) {
        if (facing->release_s == INSTANT_NONE) return;
        const int64_t cured_s =
            network_clock_opens_s(net, CLOCK_UNIT_FACING_CURE, facing->release_s);
        if (cured_s == INSTANT_NONE) return;
        at_s = later_s(at_s, cured_s);
    }
    net->projected_s = fire_gate_after_ban_s(net->facts, at_s);
}

static void add_date(struct bounds *bounds, const struct net *net)
{
    const struct fire_plan *fire = &net->out->fire;
    const struct zone *zone = net->facts->job->zone;
    if (fire->blocked_by & FIRE_BLOCK_LIT)
        explain_add(bounds, explain_plain(REASON_LIT, "lit", INSTANT_NONE, TASK_NONE), false);
    if (fire->blocked_by & FIRE_BLOCK_FACING)
        explain_add(bounds, explain_plain(REASON_FACING_LAST, "facing", INSTANT_NONE, TASK_NONE),
                    false);
    if (fire->blocked_by == 0 && fire->cure_complete_day != DAY_NONE) {
        int64_t day_s = civil_day_start_s(zone, fire->cure_complete_day);
        bool named = false;
        for (size_t i = 0; i < bounds->count && !named; i++)
            named = bounds->reasons[i].kind == REASON_CLOCK && bounds->reasons[i].until_s >= day_s;
        if (named) return; /* the clock that drives the date stands there already */
        const struct clock_plan *clock =
            fire->driven_by == CLOCK_NONE ? NULL : net->clocks[fire->driven_by];
        struct reason reason =
            clock != NULL ? explain_clock(clock)
                          : explain_plain(REASON_LOOK, "fire.cure-complete", day_s, TASK_NONE);
        reason.until_s = day_s;
        explain_add(bounds, reason, day_s <= net->facts->now_s);
        return;
    }
    if (bounds->unknown) return; /* what takes the date away stands there already */
    bool unlined = (fire->blocked_by & FIRE_BLOCK_NOT_LINED) != 0;
    explain_add(bounds,
                unlined ? explain_plain(REASON_AFTER, explain_rule(EXPLAIN_AFTER, TASK_LINE_CLEAN),
                                        INSTANT_NONE, TASK_LINE_CLEAN)
                        : explain_plain(REASON_CLOCK_UNKNOWN, "fire.cure-complete", INSTANT_NONE,
                                        TASK_NONE),
                false);
}

/* No fire before the inspector has seen the whole of it, whoever handed it over. */
static void add_final(struct bounds *bounds, const struct net *net)
{
    const struct step *final = &net->steps[TASK_FINAL_INSPECT];
    if (!final->needed || network_releases(final)) return;
    explain_add(bounds,
                explain_plain(REASON_INSPECTION, explain_rule(EXPLAIN_AFTER, TASK_FINAL_INSPECT),
                              final->implied ? INSTANT_NONE : final->release_s, TASK_FINAL_INSPECT),
                false);
}

void fire_gate_add(struct bounds *bounds, struct net *net, enum task task)
{
    const bool first = task <= TASK_FIRE_1;
    const struct step *before = &net->steps[first ? task : task - 1];
    const int size = task - TASK_FIRE_1 + 1;
    const bool next = first || size == net->out->fire.next_size || before->finished ||
                      before->phase == PHASE_STARTED;
    if (next) {
        add_final(bounds, net);
        if (task == TASK_FIRE_1) note_projected(bounds, net);
        add_dry(bounds, net);
        if (size == net->out->fire.next_size) add_steps(bounds, net);
        add_date(bounds, net);
        if (stands_covered(net->facts))
            explain_add(bounds,
                        explain_plain(REASON_ENCLOSURE, "enclosure", net->facts->now_s, TASK_NONE),
                        false);
    }
    add_permitted(bounds, net, task, next);
}
