/* SPDX-License-Identifier: MIT */
/*
 * Why: see strip.h. The walk is made once with exact pieces; only when these are too many is it
 * made again, with pieces put together in equal stretches of time. Credit is carried as a sum,
 * never as a rate times a rounded length, so that putting together loses nothing of it.
 */
#include "planner/strip.h"

#include <math.h>

#include "base/status.h"
#include "compute/civil.h"
#include "planner/clock_sum.h"

enum {
    HOUR_S = 3600,
    DAY_S = 86400,
    AHEAD_DAYS = 150, /* a picture looks no further ahead than this */
    UNKNOWN_DAYS = 7, /* a clock with no crossing in sight: a week of weather, and what past years
                         make of it */
    BAND_DAILY_DAYS = 24, /* of a longer strip the band goes by whole days */
    STRETCHES_MOST = 300  /* pieces put together; cuts at now and at the start come on top */
};
#define SAME_DEGC 1e-9

/* What one strip is made with. */
struct maker {
    const struct facts *facts;
    const struct history *history;
    const struct clock_plan *clock;
    int64_t from_s, until_s;
    struct running running; /* set clocks */
    struct earning earning;
    int32_t today;
    int64_t step_s; /* 0: exact */
    struct history_piece *pieces;
    size_t count;
    bool overflow;
};

static int64_t earlier(int64_t a, int64_t b)
{
    return a < b ? a : b;
}

static int64_t later(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* --- putting pieces down ---------------------------------------------------------------------- */

static bool same_figure(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) < SAME_DEGC;
}

static bool alike(const struct history_piece *a, const struct history_piece *b)
{
    return a->hour == b->hour && a->why == b->why && a->rests == b->rests && a->day == b->day &&
           a->ahead == b->ahead && same_figure(a->temp_degc, b->temp_degc);
}

static double hours_of(const struct history_piece *p)
{
    return (double)(p->until_s - p->from_s) / HOUR_S;
}

/* Two pieces of one stretch become one: sums stay sums, the lowest stays the lowest. */
static void put_together(struct history_piece *into, const struct history_piece *p)
{
    double have_h = hours_of(into), more_h = hours_of(p);
    if (isnan(into->temp_degc))
        into->temp_degc = p->temp_degc;
    else if (!isnan(p->temp_degc))
        into->temp_degc = (into->temp_degc * have_h + p->temp_degc * more_h) / (have_h + more_h);
    into->low_degc = fmin(into->low_degc, p->low_degc);
    into->high_degc = fmax(into->high_degc, p->high_degc);
    into->credit += p->credit;
    if (more_h > have_h) {
        into->why = p->why;
        into->rests = p->rests;
        into->day = p->day;
    }
    if (into->hour != p->hour) {
        if (into->credit > 0)
            into->hour = HOUR_PART;
        else if (more_h > have_h)
            into->hour = p->hour;
    }
    into->until_s = p->until_s;
    into->rate = into->credit / hours_of(into);
}

static bool same_stretch(const struct maker *m, const struct history_piece *a,
                         const struct history_piece *b)
{
    return a->ahead == b->ahead &&
           (a->from_s - m->from_s) / m->step_s == (b->from_s - m->from_s) / m->step_s;
}

static void put_one(struct maker *m, const struct history_piece *p)
{
    REQUIRE(m->pieces != NULL);
    struct history_piece *last = m->count > 0 ? &m->pieces[m->count - 1] : NULL;
    if (last != NULL && (m->step_s == 0 ? alike(last, p) : same_stretch(m, last, p))) {
        put_together(last, p);
        return;
    }
    if (m->count == STRIP_PIECES_MAX) {
        m->overflow = true;
        return;
    }
    m->pieces[m->count++] = *p;
}

/* Put [from, until) down, cut where stretches end. `rate` is credit an hour. */
static void put(struct maker *m, struct history_piece p, double rate)
{
    p.rate = rate;
    for (int64_t at_s = p.from_s; at_s < p.until_s && !m->overflow;) {
        struct history_piece cut = p;
        cut.from_s = at_s;
        if (m->step_s > 0) {
            int64_t ends_s = m->from_s + ((at_s - m->from_s) / m->step_s + 1) * m->step_s;
            cut.until_s = earlier(p.until_s, ends_s);
        }
        cut.credit = rate * hours_of(&cut);
        put_one(m, &cut);
        at_s = cut.until_s;
    }
}

/* --- what a piece rests on -------------------------------------------------------------------- */

static enum hour_rest rests_on(const struct piece *piece, bool ahead)
{
    const struct history_span *span = piece->span;
    const enum hour_rest outside = ahead ? HOUR_REST_FORECAST : HOUR_REST_STATION;
    if (isnan(piece->temp_degc)) return HOUR_REST_NOTHING;
    if (span->cap_degc <= piece->temp_degc) return HOUR_REST_CAP;
    switch (span->use) {
    case STATION_ALONE:
        return outside;
    case STATION_LOWER:
        if (isnan(span->base_degc) || piece->temp_degc < span->base_degc - SAME_DEGC)
            return outside;
        break;
    case STATION_OVER:
        if (piece->temp_degc < span->base_degc - SAME_DEGC) return HOUR_REST_BLANKET;
        return HOUR_REST_CARRIED;
    case STATION_UNUSED:
        break;
    }
    return ahead ? HOUR_REST_CARRIED : HOUR_REST_READING;
}

static struct history_piece piece_of(const struct maker *m, const struct piece *piece,
                                     int64_t from_s, int64_t until_s)
{
    bool ahead = from_s >= m->facts->now_s;
    return (struct history_piece){.from_s = from_s,
                                  .until_s = until_s,
                                  .temp_degc = piece->temp_degc,
                                  .low_degc = piece->temp_degc,
                                  .high_degc = piece->temp_degc,
                                  .rests = rests_on(piece, ahead),
                                  .day = DAY_AHEAD,
                                  .ahead = ahead};
}

/* --- clocks of warm hours --------------------------------------------------------------------- */

/* Is the clock earning at an instant, and until when does that stay so? */
static bool runs_at(const struct running *running, int64_t at_s, int64_t *until_s)
{
    for (size_t i = 0; i < running->count; i++) {
        if (at_s < running->spans[i][0]) {
            *until_s = earlier(*until_s, running->spans[i][0]);
            return false;
        }
        if (at_s < running->spans[i][1]) {
            *until_s = earlier(*until_s, running->spans[i][1]);
            return true;
        }
    }
    return false;
}

/* Why the clock stood still at an instant: what happened where its last run ended. */
static enum hour_why stopped_why(const struct maker *m, int64_t at_s)
{
    int64_t stopped_s = m->from_s;
    for (size_t i = 0; i < m->running.count; i++)
        if (m->running.spans[i][1] <= at_s) stopped_s = m->running.spans[i][1];
    if (m->history->part != PART_PAD) return HOUR_WHY_BELOW_BAG;
    for (size_t i = 0; i < m->facts->count; i++) {
        const struct record *r = m->facts->records[i];
        if (r->kind == RECORD_SOAKED && r->part == PART_PAD && r->at_s == stopped_s)
            return HOUR_WHY_SOAKED;
    }
    return HOUR_WHY_FROZE;
}

static void judge_warm(const struct maker *m, struct history_piece *p, const struct piece *piece,
                       double rate)
{
    if (isnan(piece->temp_degc)) {
        p->hour = HOUR_NO_READING;
        p->why = piece->past_forecast ? HOUR_WHY_BEYOND : HOUR_WHY_NO_READING;
    } else if (m->earning.law.cap <= 0) {
        p->hour = HOUR_NOTHING;
        p->why = HOUR_WHY_MORTAR;
    } else if (rate <= 0) {
        p->hour = HOUR_NOTHING;
        p->why = HOUR_WHY_COLD;
    } else if (rate < m->earning.law.cap - SAME_DEGC) {
        p->hour = HOUR_PART;
        p->why = HOUR_WHY_COOL;
    } else {
        p->hour = HOUR_FULL;
        p->why = HOUR_WHY_WARM;
    }
}

static void walk_set(struct maker *m)
{
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, m->history, m->from_s, m->until_s);
    while (!m->overflow && history_walk_next(&walk, &piece)) {
        double rate = sum_rate(&m->earning, &piece);
        for (int64_t at_s = piece.from_s; at_s < piece.until_s && !m->overflow;) {
            int64_t stop_s = piece.until_s;
            if (at_s < m->facts->now_s) stop_s = earlier(stop_s, m->facts->now_s);
            bool runs = runs_at(&m->running, at_s, &stop_s);
            struct history_piece p = piece_of(m, &piece, at_s, stop_s);
            if (runs) {
                judge_warm(m, &p, &piece, rate);
            } else {
                p.hour = HOUR_STOPPED;
                p.why = stopped_why(m, at_s);
            }
            put(m, p, runs ? rate : 0);
            at_s = stop_s;
        }
    }
}

/* --- clocks of counted days ------------------------------------------------------------------- */

static void judge_day(const struct maker *m, struct history_piece *p, int32_t day)
{
    const struct clock_plan *clock = m->clock;
    const int32_t first = civil_day_of(m->facts->job->zone, clock->start_s) + 1;
    p->ahead = day >= m->today;
    p->why = HOUR_WHY_DAY;
    p->day = DAY_AHEAD;
    p->credit = 0;
    if (day < first) {
        p->hour = HOUR_NOTHING;
        p->why = HOUR_WHY_DAY_ZERO;
        return;
    }
    if (clock->day_count == 0) {
        p->hour = HOUR_NO_READING;
        p->day = DAY_NO_READING;
        return;
    }
    size_t index = (size_t)(day - first);
    if (index >= clock->day_count) index = clock->day_count - 1;
    const struct counted_day *judged = &clock->days[index];
    p->day = judged->reason;
    p->credit = judged->credit; /* of the whole day */
    if (judged->reason == DAY_AHEAD)
        p->hour = HOUR_ASSUMED;
    else if (judged->credit >= 1)
        p->hour = HOUR_FULL;
    else if (judged->credit > 0)
        p->hour = HOUR_PART;
    else
        p->hour = judged->reason == DAY_NO_READING ? HOUR_NO_READING : HOUR_NOTHING;
}

static void walk_days(struct maker *m)
{
    const struct zone *zone = m->facts->job->zone;
    for (int64_t at_s = m->from_s; at_s < m->until_s && !m->overflow;) {
        int32_t day = civil_day_of(zone, at_s);
        while (civil_day_start_s(zone, day + 1) <= at_s) day++; /* a midnight that came twice */
        int64_t begin_s = civil_day_start_s(zone, day), end_s = civil_day_start_s(zone, day + 1);
        struct history_piece verdict = {0};
        judge_day(m, &verdict, day);
        double rate = verdict.credit / ((double)(end_s - begin_s) / HOUR_S);
        int64_t stop_s = earlier(end_s, m->until_s);
        struct history_walk walk;
        struct piece piece;
        history_walk_begin(&walk, m->history, at_s, stop_s);
        while (!m->overflow && history_walk_next(&walk, &piece)) {
            for (int64_t from_s = piece.from_s; from_s < piece.until_s;) {
                int64_t until_s = piece.until_s;
                if (from_s < m->facts->now_s) until_s = earlier(until_s, m->facts->now_s);
                struct history_piece p = piece_of(m, &piece, from_s, until_s);
                p.hour = verdict.hour;
                p.why = verdict.why;
                p.day = verdict.day;
                p.ahead = verdict.ahead;
                put(m, p, rate);
                from_s = until_s;
            }
        }
        at_s = stop_s;
    }
}

/* --- which clock, and how far ----------------------------------------------------------------- */

static bool live(const struct clock_plan *clock)
{
    return clock->state == CLOCK_STATE_RUNNING || clock->state == CLOCK_STATE_CHECK_IT;
}

/* Clocks whose hours a part's strip can show; the moist cure counts other hours. */
static bool shown(const struct maker *m, const struct clock_plan *clock, enum part part)
{
    const enum clock_kind kind = m->facts->rulebook->clocks[clock->clock].kind;
    return clock->part == part && (kind == CLOCK_KIND_SET || kind == CLOCK_KIND_DAYS) &&
           (live(clock) || clock->state == CLOCK_STATE_OPEN);
}

/* The clock that still runs before one that is over; then the one others build on. */
static int rank_of(const struct clock_plan *clock)
{
    static const enum clock_id first[] = {CLOCK_PAD_BUILD_ON,  CLOCK_JOINTS_EARLY,
                                          CLOCK_BED_SET,       CLOCK_LINING_EARLY,
                                          CLOCK_UNIT_DRY_CURE, CLOCK_UNIT_FACING_CURE};
    int rank = (int)(sizeof first / sizeof *first);
    for (int i = 0; i < (int)(sizeof first / sizeof *first); i++)
        if (clock->clock == first[i]) rank = i;
    const bool pad = clock->part == PART_PAD; /* its clocks share their hours */
    return live(clock) || pad ? rank : rank + 100;
}

static bool choose(struct maker *m, const struct clocks *clocks, enum part part)
{
    const struct clock_plan *best = NULL;
    for (size_t i = 0; i < clocks->count; i++) {
        const struct clock_plan *clock = &clocks->plans[i];
        if (!shown(m, clock, part)) continue;
        if (best == NULL || rank_of(clock) < rank_of(best)) best = clock;
    }
    m->clock = best;
    if (best == NULL) return false;
    m->from_s = best->start_s;
    return true;
}

/* To the latest crossing of the waits that share the start, and to now while one of them runs. */
static void look_ahead(struct maker *m, struct part_strip *strip, const struct clocks *clocks,
                       enum part part)
{
    const int64_t now_s = m->facts->now_s;
    int64_t until_s = m->from_s;
    bool running = false, unknown = false;
    for (size_t i = 0; i < clocks->count; i++) {
        const struct clock_plan *clock = &clocks->plans[i];
        if (!shown(m, clock, part) || clock->start_s != m->from_s) continue;
        running = running || live(clock);
        if (clock->state == CLOCK_STATE_RUNNING && clock->crossing_s == INSTANT_NONE)
            unknown = true;
        if (clock->crossing_s != INSTANT_NONE) until_s = later(until_s, clock->crossing_s);
    }
    if (running) until_s = later(until_s, now_s);
    if (unknown && m->history->weather->station && m->history->place[0] != 'r')
        until_s = later(until_s, now_s + (int64_t)UNKNOWN_DAYS * DAY_S);
    int64_t most_s = later(now_s, m->from_s) + (int64_t)AHEAD_DAYS * DAY_S;
    strip->cut = until_s > most_s;
    m->until_s = earlier(until_s, most_s);
}

static void make_pieces(struct maker *m)
{
    m->step_s = 0;
    for (;;) {
        m->count = 0;
        m->overflow = false;
        if (m->facts->rulebook->clocks[m->clock->clock].kind == CLOCK_KIND_DAYS)
            walk_days(m);
        else
            walk_set(m);
        if (!m->overflow) return;
        int64_t hours = (m->until_s - m->from_s + HOUR_S - 1) / HOUR_S;
        int64_t least_h = (hours + STRETCHES_MOST - 1) / STRETCHES_MOST;
        m->step_s = m->step_s == 0 ? least_h * HOUR_S : m->step_s * 2;
    }
}

/* --- what stands above the hours -------------------------------------------------------------- */

static bool cap_record(const struct record *r)
{
    return r->how == HOW_LOWEST || r->how == HOW_IMPRESSION;
}

static bool of_part(const struct history *h, const struct record *r)
{
    if (r->kind != RECORD_READING) return false;
    if (r->part == h->readings) return true;
    return cap_record(r) && (r->part == h->lives_as || r->part == h->part);
}

/* The readings inside the strip; of too many the lowest of each stretch. */
static void find_readings(struct part_strip *strip, const struct maker *m)
{
    const struct record **kept =
        ARENA_TAKE(m->facts->arena, STRIP_READINGS_MAX, const struct record *);
    if (kept == NULL) return;
    size_t all = 0;
    for (int pass = 0; pass < 2; pass++) {
        int64_t stretch = -1;
        strip->reading_count = 0;
        for (size_t i = 0; i < m->facts->count; i++) {
            const struct record *r = m->facts->records[i];
            if (!of_part(m->history, r) || r->at_s < m->from_s || r->at_s > m->until_s) continue;
            if (pass == 0) {
                all++;
                continue;
            }
            const int64_t length_s = m->until_s - m->from_s + 1;
            int64_t here = all <= STRIP_READINGS_MAX
                               ? (int64_t)i
                               : (int64_t)((double)(r->at_s - m->from_s) / (double)length_s *
                                           STRIP_READINGS_MAX);
            if (here != stretch)
                kept[strip->reading_count++] = r;
            else if (r->temp_degc < kept[strip->reading_count - 1]->temp_degc)
                kept[strip->reading_count - 1] = r;
            stretch = here;
        }
    }
    strip->readings = kept;
}

static int64_t hour_floor_s(int64_t at_s)
{
    int64_t rest = at_s % HOUR_S;
    return at_s - (rest < 0 ? rest + HOUR_S : rest);
}

static void find_station(struct part_strip *strip, const struct maker *m)
{
    const struct weather_view *w = m->history->weather;
    const int64_t now_s = m->facts->now_s;
    strip->forecast_from_s = strip->forecast_until_s = INSTANT_NONE;
    if (!w->station) return;
    if (w->count > 0) {
        int64_t end_s = w->start_s + (int64_t)w->count * HOUR_S;
        int64_t from_s = later(hour_floor_s(m->from_s), w->start_s);
        int64_t until_s = earlier(hour_floor_s(m->until_s + HOUR_S - 1), end_s);
        if (from_s < until_s) {
            strip->station_degc = &w->temp_degc[(from_s - w->start_s) / HOUR_S];
            strip->station_from_s = from_s;
            strip->station_count = (size_t)((until_s - from_s) / HOUR_S);
        }
    }
    int64_t ends_s = earlier(w->forecast_end_s, m->until_s);
    if (ends_s > now_s) {
        strip->forecast_from_s = later(now_s, m->from_s);
        strip->forecast_until_s = ends_s;
    }
    if (m->history->place[0] == 'r') return; /* a closed room: the weather does not come in */
    strip_band_find(strip, m->facts, hour_floor_s(later(now_s, w->forecast_end_s) + HOUR_S - 1),
                    m->until_s, m->until_s - m->from_s > (int64_t)BAND_DAILY_DAYS * DAY_S);
}

static void strip_part(struct job_plan *out, struct clocks *clocks, enum part part)
{
    const struct facts *facts = clocks->facts;
    struct maker m = {.facts = facts, .today = civil_day_of(facts->job->zone, facts->now_s)};
    if (!choose(&m, clocks, part)) return;
    struct part_strip *strip = ARENA_TAKE(facts->arena, 1, struct part_strip);
    m.pieces = ARENA_TAKE(facts->arena, STRIP_PIECES_MAX, struct history_piece);
    if (strip == NULL || m.pieces == NULL) return;
    *strip = (struct part_strip){.clock = m.clock->clock, .from_s = m.from_s};
    m.history = clock_history(clocks, part);
    look_ahead(&m, strip, clocks, part);
    if (m.until_s <= m.from_s) return;
    const bool set = facts->rulebook->clocks[m.clock->clock].kind == CLOCK_KIND_SET;
    if (set && !clock_set_terms(&m.running, &m.earning, clocks, m.clock->clock, m.from_s)) return;
    make_pieces(&m);
    strip->until_s = m.until_s;
    strip->step_s = m.step_s;
    find_readings(strip, &m);
    find_station(strip, &m);
    out->parts[part].part = part;
    out->parts[part].pieces = m.pieces;
    out->parts[part].piece_count = m.count;
    out->parts[part].strip = strip;
}

void strip_fill(struct job_plan *out, struct clocks *clocks)
{
    for (int p = 0; p < PART_COUNT; p++) strip_part(out, clocks, (enum part)p);
}
