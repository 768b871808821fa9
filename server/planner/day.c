/* SPDX-License-Identifier: MIT */
/*
 * Why: see day.h. What a civil day earns does not depend on which clock asks, so each day is judged
 * once and the clocks only add up.
 */
#include "planner/day.h"

#include <math.h>

#include "base/limits.h"

enum { HOUR_S = 3600 };

static double setting(const struct unit_days *c, enum setting id)
{
    return rulebook_setting(c->facts->rulebook, id);
}

/* --- what takes a day away -------------------------------------------------------------------- */

static bool soaked_day(const struct unit_days *c, int32_t day)
{
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->kind != RECORD_SOAKED || r->part != PART_UNIT) continue;
        int32_t wet = day_of(c, r->at_s);
        double after =
            setting(c, r->standing ? SETTING_DAY_STANDING_DAYS : SETTING_DAY_SOAKED_DAYS);
        if (day >= wet && day <= wet + (int32_t)after) return true;
    }
    return false;
}

static bool wrapped_day(const struct unit_days *c, int64_t from_s, int64_t until_s)
{
    bool on = false;
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->at_s >= until_s) break;
        if (r->kind == RECORD_UNWRAPPED) {
            if (on && r->at_s > from_s) return true;
            on = false;
        }
        if (r->kind == RECORD_WRAPPED) on = true;
    }
    return on;
}

/* Wet work or a fire on that day. */
static enum day_reason worked_day(const struct unit_days *c, int64_t from_s, int64_t until_s)
{
    for (size_t i = 0; i < c->event_count; i++) {
        const struct record *r = c->events[i];
        if (r->at_s < from_s || r->at_s >= until_s) continue;
        if (r->kind == RECORD_LIT) return DAY_LIT;
        if (r->kind == RECORD_FACING || r->kind == RECORD_PATCHED || r->kind == RECORD_RELAID)
            return DAY_WET_WORK;
    }
    return DAY_FULL;
}

static bool covered_at(const struct unit_days *c, int64_t at_s)
{
    for (size_t i = c->event_count; i-- > 0;) {
        const struct record *r = c->events[i];
        if (r->at_s > at_s) continue;
        if (r->kind == RECORD_COVERED) return true;
        if (r->kind == RECORD_UNCOVERED) return false;
    }
    return false;
}

static struct rain rain_measure(const struct unit_days *c, int32_t day)
{
    struct rain rain = {0, 0};
    int64_t from_s = day_start(c, day), until_s = day_start(c, day + 1);
    int64_t first_s = (from_s + HOUR_S - 1) / HOUR_S * HOUR_S;
    for (int64_t at_s = first_s; at_s < until_s; at_s += HOUR_S) {
        double mm = history_rain_mm(c->weather, at_s);
        bool past = at_s + HOUR_S <= c->facts->now_s;
        if (isnan(mm) ? !past : mm <= 0) continue;
        if (covered_at(c, at_s)) continue;
        if (isnan(mm))
            rain.unknown_h++;
        else
            rain.mm += mm;
    }
    return rain;
}

/* Rain of a day, measured once, in order. */
static struct rain rain_of(struct unit_days *c, int32_t day)
{
    size_t index = (size_t)(day - (c->first_day - c->rain_back));
    while (c->rain_count <= index) {
        int32_t next = c->first_day - c->rain_back + (int32_t)c->rain_count;
        c->rains[c->rain_count++] = rain_measure(c, next);
    }
    return c->rains[index];
}

static bool rain_day(struct unit_days *c, int32_t day, bool *unknown)
{
    *unknown = false;
    if (!c->rain_matters) return false;
    for (int32_t wet = day; wet >= day - c->rain_back; wet--) {
        struct rain rain = rain_of(c, wet);
        if (wet == day && rain.unknown_h > setting(c, SETTING_DAY_RAIN_UNKNOWN_H)) *unknown = true;
        bool rained = rain.mm + DAY_SLACK >= setting(c, SETTING_DAY_RAIN_MM);
        bool poured = rain.mm + DAY_SLACK >= setting(c, SETTING_DAY_RAIN_NEXT_MM);
        bool capped = c->cap_set_s != INSTANT_NONE && c->cap_set_s < day_start(c, wet);
        if (wet == day && rained) return true;
        if (wet == day - 1 && poured) return true;
        if (wet < day && rained && !capped &&
            day - wet <= (int)setting(c, SETTING_DAY_UNCAPPED_DAYS))
            return true;
    }
    return false;
}

/* --- how warm was it -------------------------------------------------------------------------- */

struct warmth {
    double mean_degc, min_degc; /* NAN: no temperature at all */
    int64_t missing_s;          /* time with no reading */
    int64_t known_s;
};

static struct warmth warmth_of(const struct unit_days *c, int32_t day, int64_t from_s,
                               int64_t until_s)
{
    for (size_t i = c->event_count; i-- > 0;) {
        const struct record *r = c->events[i];
        if (r->kind == RECORD_LOGGED_DAY && r->day == day &&
            (r->part == PART_NONE || r->part == PART_UNIT))
            return (struct warmth){
                .mean_degc = r->mean_degc, .min_degc = r->min_degc, .known_s = until_s - from_s};
    }
    struct warmth w = {.mean_degc = NAN, .min_degc = NAN};
    double sum = 0;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, c->history, from_s, until_s);
    while (history_walk_next(&walk, &piece)) {
        int64_t length_s = piece.until_s - piece.from_s;
        if (piece.past_forecast) continue; /* left out of mean and minimum */
        if (isnan(piece.temp_degc)) {
            w.missing_s += length_s;
        } else {
            w.known_s += length_s;
            sum += piece.temp_degc * (double)length_s;
            w.min_degc = fmin(w.min_degc, piece.temp_degc);
        }
    }
    if (w.known_s > 0) w.mean_degc = sum / (double)w.known_s;
    return w;
}

static void warm_credit(const struct unit_days *c, struct counted_day *out, const struct warmth *w)
{
    const double half = setting(c, SETTING_DAY_HALF_CREDIT);
    out->mean_degc = w->mean_degc;
    out->min_degc = w->min_degc;
    if ((double)w->missing_s > setting(c, SETTING_DAY_NO_READING_H) * HOUR_S) {
        out->reason = DAY_NO_READING;
        return;
    }
    if (w->known_s == 0) { /* nothing but hours past the forecast, or not even that */
        out->credit = w->missing_s == 0 ? 1 : 0;
        out->reason = w->missing_s == 0 ? DAY_AHEAD : DAY_NO_READING;
    } else {
        out->credit = counted_day_credit(&c->rule, w->mean_degc, w->min_degc);
        out->reason = out->credit <= 0 ? DAY_COLD : out->credit < 1 ? DAY_HALF_COOL : DAY_FULL;
        if (out->reason == DAY_HALF_COOL) out->credit = half;
    }
    if (w->missing_s > 0 && out->credit > half) {
        out->credit = half;
        out->reason = DAY_HALF_GAPS;
    }
}

/* The verdict on one civil day. */
static struct counted_day day_judge(struct unit_days *c, int32_t day)
{
    struct counted_day out = {.day = day, .mean_degc = NAN, .min_degc = NAN};
    int64_t from_s = day_start(c, day), until_s = day_start(c, day + 1);
    struct warmth warmth = warmth_of(c, day, from_s, until_s);
    warm_credit(c, &out, &warmth);
    bool unknown = false;
    enum day_reason worked = worked_day(c, from_s, until_s);
    enum day_reason taken = DAY_FULL;
    if (soaked_day(c, day))
        taken = DAY_SOAKED;
    else if (worked != DAY_FULL)
        taken = worked;
    else if (rain_day(c, day, &unknown))
        taken = DAY_RAIN;
    else if (wrapped_day(c, from_s, until_s))
        taken = DAY_WRAPPED;
    else if (unknown)
        taken = DAY_RAIN_UNKNOWN;
    if (taken != DAY_FULL) {
        out.credit = 0;
        out.reason = taken;
    }
    return out;
}

const struct counted_day *day_get(struct unit_days *c, int32_t day)
{
    size_t index = (size_t)(day - c->first_day);
    if (index >= c->capacity) index = c->capacity - 1;
    for (; c->count <= index; c->count++)
        c->days[c->count] = day_judge(c, c->first_day + (int32_t)c->count);
    return &c->days[index];
}

/* --- gathering -------------------------------------------------------------------------------- */

static bool first_wet_day(const struct facts *facts, int32_t *out_day)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        for (int clock = 0; clock < CLOCK_COUNT; clock++) {
            const struct clock_rule *rule = &facts->rulebook->clocks[clock];
            if (rule->kind != CLOCK_KIND_DAYS || !clock_is_start(rule, r)) continue;
            *out_day = civil_day_of(facts->job->zone, r->at_s);
            return true;
        }
    }
    return false;
}

static bool day_event(const struct record *r)
{
    switch (r->kind) {
    case RECORD_SOAKED:
    case RECORD_WRAPPED:
    case RECORD_UNWRAPPED:
    case RECORD_FACING:
    case RECORD_PATCHED:
    case RECORD_RELAID:
    case RECORD_LIT:
    case RECORD_COVERED:
    case RECORD_UNCOVERED:
    case RECORD_LOGGED_DAY:
        return true;
    default:
        return false;
    }
}

static int tail_days(const struct unit_days *c)
{
    return (int)fmax(setting(c, SETTING_DAY_STANDING_DAYS), setting(c, SETTING_DAY_SOAKED_DAYS));
}

void day_again(struct unit_days *days, const struct history *history, int32_t first_day)
{
    days->history = history;
    days->weather = history->weather;
    days->first_day = first_day;
    if (days->settled_s != history->settled_s || days->room == 0)
        days->settled_day =
            day_of(days, history->settled_s) + tail_days(days) + days->rain_back + 1;
    days->settled_s = history->settled_s;
    int32_t judged = days->settled_day > first_day ? days->settled_day - first_day : 0;
    days->capacity = (size_t)judged + 2;
    days->count = days->rain_count = 0;
    REQUIRE(days->days == NULL || days->capacity <= days->room);
}

bool day_from(struct unit_days *out, struct clocks *clocks, const struct history *history,
              int32_t first_day)
{
    const struct facts *facts = clocks->facts;
    *out = (struct unit_days){.clocks = clocks, .facts = facts, .cap_set_s = INSTANT_NONE};
    out->rule = (struct counted_day_law){
        .full_mean_degc = setting(out, SETTING_DAY_FULL_MEAN_DEGC),
        .full_min_degc = setting(out, SETTING_DAY_FULL_MIN_DEGC),
        .half_mean_degc = setting(out, SETTING_DAY_HALF_MEAN_DEGC),
        .half_min_degc = setting(out, SETTING_DAY_HALF_MIN_DEGC),
    };
    out->rain_back = (int)fmax(1, setting(out, SETTING_DAY_UNCAPPED_DAYS));
    out->rain_matters = facts->job->options.place == PLACE_EXPOSED;
    const struct record *cap = facts_latest(facts, RECORD_DONE, TASK_CAP_SET);
    if (cap != NULL) out->cap_set_s = cap->at_s;
    day_again(out, history, first_day);
    out->room = out->capacity;
    out->days = ARENA_TAKE(facts->arena, out->room, struct counted_day);
    out->rains = ARENA_TAKE(facts->arena, out->room + (size_t)out->rain_back, struct rain);
    out->events = ARENA_TAKE(facts->arena, facts->count, const struct record *);
    if (out->days == NULL || out->rains == NULL || out->events == NULL) return false;
    for (size_t i = 0; i < facts->count; i++)
        if (day_event(facts->records[i])) out->events[out->event_count++] = facts->records[i];
    return true;
}

bool day_all(struct unit_days *out, struct clocks *clocks)
{
    int32_t first_day;
    return first_wet_day(clocks->facts, &first_day) &&
           day_from(out, clocks, clock_history(clocks, PART_UNIT), first_day);
}

int64_t day_not_before_s(const struct unit_days *days, int32_t day, int64_t floor_s)
{
    while (day_start(days, day) < floor_s) day++;
    return day_start(days, day);
}

/* --- past years ------------------------------------------------------------------------------- */

enum past_rain day_rain_ahead(const struct unit_days *days)
{
    if (!days->rain_matters || covered_at(days, days->facts->now_s)) return PAST_RAIN_NONE;
    return days->cap_set_s != INSTANT_NONE ? PAST_RAIN_CAPPED : PAST_RAIN_OPEN;
}

/* The first day that a record cannot touch any more, by itself or by the rain it let in. */
static int32_t touched_until(const struct unit_days *days, const struct record *r)
{
    const int32_t day = day_of(days, r->at_s) + 1;
    switch (r->kind) {
    case RECORD_LOGGED_DAY:
        return r->day + 1;
    case RECORD_SOAKED:
        return day + tail_days(days);
    case RECORD_COVERED:
    case RECORD_UNCOVERED:
        return day + days->rain_back;
    default:
        return day;
    }
}

int32_t day_untouched(const struct unit_days *days)
{
    const int64_t now_s = days->facts->now_s;
    int32_t day = day_of(days, now_s) + 1;
    if (wrapped_day(days, now_s, now_s + 1)) return DAY_NONE;
    for (size_t i = 0; i < days->event_count; i++) {
        const int32_t until = touched_until(days, days->events[i]);
        if (until > day) day = until;
    }
    if (days->cap_set_s != INSTANT_NONE) {
        const int32_t capped = day_of(days, days->cap_set_s) + 1 + days->rain_back;
        if (capped > day) day = capped;
    }
    return day;
}

/* The days under one past year at the station alone, forecast first, with nothing on record. */
static double *past_year_days(struct past_cache *cache, const struct past *past, size_t year,
                              const struct unit_days *days, const struct past_days *kept)
{
    struct past_tail tail;
    past_tail_of(&tail, past, year, kept->offset_degc);
    if (tail.end_s != past->line.until_s) return NULL; /* a short year is walked */
    double *sum = ARENA_TAKE(cache->arena, kept->count + 1, double);
    if (sum == NULL) return NULL;
    const struct history_span span = {.from_s = INT64_MIN,
                                      .until_s = INT64_MAX,
                                      .base_degc = NAN,
                                      .frost_base_degc = NAN,
                                      .cap_degc = INFINITY,
                                      .use = STATION_ALONE,
                                      .open = true};
    struct weather_view weather;
    history_weather_year(&weather, &days->clocks->weather, &tail);
    const struct history history = {.part = PART_UNIT,
                                    .weather = &weather,
                                    .now_s = days->facts->now_s,
                                    .spans = &span,
                                    .count = 1,
                                    .settled_s = past->line.until_s};
    struct unit_days bare = *days;
    bare.history = &history;
    bare.weather = &weather;
    bare.event_count = 0;
    bare.rain_matters = kept->rain != PAST_RAIN_NONE;
    bare.cap_set_s = kept->rain == PAST_RAIN_CAPPED ? 0 : INSTANT_NONE;
    bare.first_day = kept->first_day;
    bare.rain_count = 0;
    bare.rains = ARENA_TAKE(cache->arena, kept->count + (size_t)bare.rain_back, struct rain);
    if (bare.rains == NULL) return NULL;
    for (size_t i = 0; i < kept->count; i++)
        sum[i + 1] = sum[i] + day_judge(&bare, kept->first_day + (int32_t)i).credit;
    return sum;
}

const struct past_days *day_past(struct past_cache *cache, struct past *past,
                                 const struct unit_days *days, enum past_rain rain)
{
    const struct facts *facts = days->facts;
    const int32_t first_day = day_of(days, facts->now_s) + 1;
    if (!cache->keeps_sums) return NULL;
    for (const struct past_days *d = past->days; d != NULL; d = d->next)
        if (d->zone == facts->job->zone && d->rulebook == facts->rulebook && d->rain == rain &&
            d->offset_degc == facts->job->site_offset_degc && d->first_day == first_day)
            return d;
    struct past_days *kept = ARENA_TAKE(cache->arena, 1, struct past_days);
    double **years = ARENA_TAKE(cache->arena, past->year_count, double *);
    if (kept == NULL || years == NULL) return NULL;
    *kept = (struct past_days){.zone = facts->job->zone,
                               .rulebook = facts->rulebook,
                               .offset_degc = facts->job->site_offset_degc,
                               .rain = rain,
                               .first_day = first_day,
                               .count = (size_t)(day_of(days, past->line.until_s) - first_day),
                               .years = years,
                               .next = past->days};
    for (size_t y = 0; y < past->year_count; y++)
        years[y] = past_year_days(cache, past, y, days, kept);
    past->days = kept;
    return kept;
}
