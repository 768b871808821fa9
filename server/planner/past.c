/* SPDX-License-Identifier: MIT */
/*
 * Why: see past.h. Slots follow the calendar of the hours ahead, so the only places where hours in
 * a row do not fall on slots in a row are new year and, in a year ahead without it, 29 February:
 * at most four runs a year.
 */
#include "planner/past.h"

#include <math.h>

#include "compute/civil.h"
#include "model/record.h"

enum { HOUR_S = 3600, DAY_S = 86400, DAY_H = 24, FEB_29_SLOT = 59 };

/* --- years ------------------------------------------------------------------------------------ */

static struct series from_hour(const struct series *all, size_t first)
{
    struct series part = *all;
    part.start_s += (int64_t)first * HOUR_S;
    part.count -= first;
    if (part.temp_degc != NULL) part.temp_degc += first;
    if (part.rain_mm != NULL) part.rain_mm += first;
    return part;
}

static void add_year(struct past *past, const struct series *hours)
{
    struct past_year *year = &past->years[past->year_count++];
    int begins, month, day;
    civil_date((int32_t)(hours->start_s / DAY_S), &begins, &month, &day);
    year->hours = *hours;
    for (int i = 0; i < 2; i++) {
        year->jan_1[i] = civil_day(begins + i, 1, 1);
        year->leap[i] = civil_date_valid(begins + i, 2, 29);
    }
}

/* A record of many years is taken apart at the anniversaries of its start. */
static void add_years(struct past *past, const struct series *all)
{
    int year, month, day;
    civil_date((int32_t)(all->start_s / DAY_S), &year, &month, &day);
    if (month == 2 && day == 29) day = 28;
    for (int n = 0; past->year_count < PAST_YEARS_MAX; n++) {
        int64_t begin_s =
            n == 0 ? all->start_s
                   : (int64_t)civil_day(year + n, month, day) * DAY_S + all->start_s % DAY_S;
        int64_t gone_h = (begin_s - all->start_s) / HOUR_S;
        if (gone_h >= (int64_t)all->count) return;
        struct series part = from_hour(all, (size_t)gone_h);
        if (n > 0 && part.count < (size_t)PAST_YEAR_DAYS * 12)
            return; /* the tail of a record, no year */
        if (part.count > (size_t)PAST_SLOT_DAYS * DAY_H) part.count = (size_t)PAST_SLOTS;
        add_year(past, &part);
    }
}

/* Hour of a year's series that stands on a slot; -1: none. */
static int64_t hour_on(const struct past_year *year, int32_t slot)
{
    const int32_t day = slot / DAY_H;
    for (int ahead = 0; ahead < 2; ahead++) { /* a winter's record may run across new year */
        const bool moved = !year->leap[ahead] && day >= FEB_29_SLOT;
        const int64_t at_s =
            (int64_t)(year->jan_1[ahead] + day - (moved ? 1 : 0)) * DAY_S + slot % DAY_H * HOUR_S;
        const int64_t index = (at_s - year->hours.start_s) / HOUR_S;
        if (at_s >= year->hours.start_s && index < (int64_t)year->hours.count) return index;
    }
    return -1;
}

static double degc_on(const struct past_year *year, int32_t slot)
{
    const int64_t hour = hour_on(year, slot);
    return hour < 0 || year->hours.temp_degc == NULL ? NAN : year->hours.temp_degc[hour];
}

/* --- the time line ---------------------------------------------------------------------------- */

static int32_t slot_of_day(int32_t day, int *year)
{
    int month, day_of_month;
    civil_date(day, year, &month, &day_of_month);
    return civil_day(2000, month, day_of_month) - civil_day(2000, 1, 1);
}

/* The first day after `day` whose slot does not follow the one before it. */
static int32_t run_end(int32_t day)
{
    int year;
    const int32_t slot = slot_of_day(day, &year);
    if (slot < FEB_29_SLOT && !civil_date_valid(year, 2, 29)) return civil_day(year, 3, 1);
    return civil_day(year + 1, 1, 1);
}

static void line_from(struct past_line *line, int64_t from_s)
{
    *line =
        (struct past_line){.from_s = from_s, .until_s = from_s + (int64_t)PAST_YEAR_DAYS * DAY_S};
    for (int64_t at_s = from_s; at_s < line->until_s && line->run_count < PAST_RUNS_MAX;) {
        const int32_t day = (int32_t)(at_s / DAY_S);
        int year;
        int64_t until_s = (int64_t)run_end(day) * DAY_S;
        if (until_s > line->until_s) until_s = line->until_s;
        line->runs[line->run_count++] = (struct past_run){
            at_s, until_s, slot_of_day(day, &year) * DAY_H + (int32_t)(at_s % DAY_S / HOUR_S)};
        at_s = until_s;
    }
}

static int32_t slot_at(const struct past_line *line, int64_t hour_s)
{
    for (size_t i = 0; i < line->run_count; i++) {
        const struct past_run *run = &line->runs[i];
        if (hour_s < run->from_s || hour_s >= run->until_s) continue;
        return run->slot + (int32_t)((hour_s - run->from_s) / HOUR_S);
    }
    return -1;
}

double past_degc(const struct past_tail *tail, int64_t hour_s)
{
    const int32_t slot = slot_at(tail->line, hour_s);
    return slot < 0 ? NAN : degc_on(tail->year, slot) + tail->offset_degc;
}

double past_rain_mm(const struct past_tail *tail, int64_t hour_s)
{
    const int32_t slot = slot_at(tail->line, hour_s);
    const int64_t hour = slot < 0 ? -1 : hour_on(tail->year, slot);
    return hour < 0 || tail->year->hours.rain_mm == NULL ? NAN : tail->year->hours.rain_mm[hour];
}

void past_tail_of(struct past_tail *out, const struct past *past, size_t year, double offset_degc)
{
    *out =
        (struct past_tail){&past->years[year], &past->line, year, offset_degc, past->line.until_s};
    while (out->end_s > past->line.from_s && isnan(past_degc(out, out->end_s - HOUR_S)))
        out->end_s -= HOUR_S;
}

/* --- what is kept ----------------------------------------------------------------------------- */

static struct past *past_new(struct past_cache *cache, const struct station *station,
                             uint64_t version)
{
    struct past *past = ARENA_TAKE(cache->arena, 1, struct past);
    if (past == NULL) return NULL;
    past->years = ARENA_TAKE(cache->arena, PAST_YEARS_MAX, struct past_year);
    if (past->years == NULL) return NULL;
    past->station = station;
    past->version = version;
    for (size_t i = 0; i < station->history_count; i++)
        if (station->history[i].count > 0) add_years(past, &station->history[i]);
    for (size_t i = 1; i < past->year_count; i++) { /* oldest first; nearly sorted as they come */
        const struct past_year year = past->years[i];
        size_t k = i;
        for (; k > 0 && past->years[k - 1].hours.start_s > year.hours.start_s; k--)
            past->years[k] = past->years[k - 1];
        past->years[k] = year;
    }
    past->next = cache->stations;
    cache->stations = past;
    return past;
}

struct past *past_of(struct past_cache *cache, const struct station *station, uint64_t version,
                     int64_t from_s)
{
    struct past *past = NULL;
    for (struct past **at = &cache->stations; *at != NULL && past == NULL;) {
        if ((*at)->station != station)
            at = &(*at)->next;
        else if ((*at)->version == version)
            past = *at;
        else
            *at = (*at)->next;
    }
    if (past == NULL) past = past_new(cache, station, version);
    if (past != NULL && past->line.from_s != from_s) line_from(&past->line, from_s);
    return past;
}

/* --- sums ------------------------------------------------------------------------------------- */

bool past_same_law(const struct maturity_law *a, const struct maturity_law *b)
{
    if (a->kind != b->kind || a->datum_degc != b->datum_degc || a->q_k != b->q_k ||
        a->reference_degc != b->reference_degc || a->stall_degc != b->stall_degc ||
        a->cap != b->cap || a->step_count != b->step_count)
        return false;
    for (size_t i = 0; i < a->step_count; i++)
        if (a->steps[i].from_degc != b->steps[i].from_degc || a->steps[i].rate != b->steps[i].rate)
            return false;
    return true;
}

const struct past_sums *past_sums_of(struct past_cache *cache, struct past *past,
                                     const struct maturity_law *law, double offset_degc)
{
    if (!cache->keeps_sums) return NULL;
    for (const struct past_sums *s = past->sums; s != NULL; s = s->next)
        if (s->offset_degc == offset_degc && past_same_law(&s->law, law)) return s;
    struct past_sums *sums = ARENA_TAKE(cache->arena, 1, struct past_sums);
    double **years = ARENA_TAKE(cache->arena, past->year_count, double *);
    if (sums == NULL || years == NULL) return NULL;
    for (size_t y = 0; y < past->year_count; y++) {
        double *sum = ARENA_TAKE(cache->arena, PAST_SLOTS + 1, double);
        if (sum == NULL) return NULL;
        for (int32_t slot = 0; slot < PAST_SLOTS; slot++) {
            const double degc = degc_on(&past->years[y], slot) + offset_degc;
            sum[slot + 1] = sum[slot] + (isnan(degc) ? 0 : maturity_rate(law, degc) * HOUR_S);
        }
        years[y] = sum;
    }
    *sums = (struct past_sums){*law, offset_degc, years, past->sums};
    past->sums = sums;
    return sums;
}

/* The part of a run between two instants, as slots [*first, *end); false: none of it. */
static bool slots_of(const struct past_run *run, int64_t from_s, int64_t until_s, int32_t *first,
                     int32_t *end)
{
    if (from_s < run->from_s) from_s = run->from_s;
    if (until_s > run->until_s) until_s = run->until_s;
    *first = run->slot + (int32_t)((from_s - run->from_s) / HOUR_S);
    *end = run->slot + (int32_t)((until_s - run->from_s) / HOUR_S);
    return from_s < until_s;
}

double past_sum(const struct past_sums *sums, const struct past_tail *tail, int64_t from_s,
                int64_t until_s)
{
    const double *sum = sums->years[tail->index];
    double warm = 0;
    int32_t first, end;
    for (size_t i = 0; i < tail->line->run_count; i++)
        if (slots_of(&tail->line->runs[i], from_s, until_s, &first, &end))
            warm += sum[end] - sum[first];
    return warm;
}

/* The first slot of [first, end) at whose end `left` warm seconds are earned; end: none. */
static int32_t slot_reaching(const double *sum, int32_t first, int32_t end, double left)
{
    const double goal = sum[first] + left;
    int32_t low = first, high = end;
    while (low < high) {
        const int32_t middle = low + (high - low) / 2;
        if (sum[middle + 1] >= goal)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

int64_t past_reach_s(const struct past_sums *sums, const struct past_tail *tail, int64_t from_s,
                     double left, double slack_s)
{
    const double *sum = sums->years[tail->index];
    int32_t first, end;
    for (size_t i = 0; i < tail->line->run_count; i++) {
        const struct past_run *run = &tail->line->runs[i];
        if (!slots_of(run, from_s, tail->end_s, &first, &end)) continue;
        /* No hour earns more than one, so an hour that is reached within the slack after its end
         * is this one or a later one. */
        for (int32_t slot = slot_reaching(sum, first, end, left - slack_s); slot < end; slot++) {
            const double rate = (sum[slot + 1] - sum[slot]) / HOUR_S;
            const double seconds = (left - (sum[slot] - sum[first])) / rate;
            if (!(rate > 0) || seconds > HOUR_S + slack_s) continue;
            return run->from_s + (int64_t)(slot - run->slot) * HOUR_S +
                   (int64_t)ceil(fmax(0, seconds - slack_s));
        }
        left -= sum[end] - sum[first];
    }
    return INSTANT_NONE;
}
