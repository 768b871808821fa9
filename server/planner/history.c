/* SPDX-License-Identifier: MIT */
/*
 * Why: see history.h. The part's time is first cut into stays (open, room, blanket); within each
 * stay the readings taken in it, and no others, are laid out as spans; last, caps are laid over the
 * spans wherever they act, whatever the stay.
 */
#include "planner/history.h"

#include <math.h>
#include <string.h>

#include "base/status.h"

enum { HOUR_S = 3600 };

enum place_kind { PLACE_KIND_OPEN, PLACE_KIND_ROOM, PLACE_KIND_BLANKET };

static const char *const place_names[] = {"open", "room", "blanket"};

struct stay {
    int64_t from_s;
    enum place_kind place;
};

/* All readings of one instant: the lowest of them, and of the hour before. */
struct figure {
    int64_t at_s;
    double lowest_degc; /* at this instant alone */
    double highest_degc;
    double figure_degc; /* within the hour up to it, in its stay */
    bool air;
    bool thermostat;
    const struct record *record;
};

struct cap {
    int64_t from_s;
    int64_t until_s; /* inclusive end is one instant: no length, no matter */
    double degc;
};

struct build {
    const struct facts *facts;
    struct history *out;
    struct history_span *spans;
    size_t count, capacity;
    struct stay *stays;
    size_t stay_count;
    struct figure *figures;
    size_t figure_count;
    struct cap *caps;
    size_t cap_count;
};

static double setting(const struct build *b, enum setting id)
{
    return rulebook_setting(b->facts->rulebook, id);
}

static int64_t setting_s(const struct build *b, enum setting id)
{
    return (int64_t)llround(setting(b, id) * HOUR_S);
}

static bool is_cap(const struct record *r)
{
    return r->how == HOW_LOWEST || r->how == HOW_IMPRESSION;
}

static bool is_reading_of(const struct record *r, enum part part)
{
    return r->kind == RECORD_READING && r->part == part && !is_cap(r);
}

static bool has_reading(const struct facts *facts, enum part part)
{
    for (size_t i = 0; i < facts->count; i++)
        if (is_reading_of(facts->records[i], part)) return true;
    return false;
}

static bool has_shelter_record(const struct facts *facts, enum part part)
{
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if ((r->kind == RECORD_CLOSED_IN || r->kind == RECORD_OPENED) && r->part == part)
            return true;
    }
    return false;
}

/* joints, bed and lining without a record of their own live as the unit does. */
static enum part part_read(const struct facts *facts, enum part part)
{
    if (part != PART_JOINTS && part != PART_BED && part != PART_LINING) return part;
    return has_reading(facts, part) || has_shelter_record(facts, part) ? part : PART_UNIT;
}

/* --- stays ------------------------------------------------------------------------------------ */

static enum place_kind place_of(const bool on[SHELTER_COUNT])
{
    if (on[SHELTER_ROOM] || on[SHELTER_ENCLOSURE]) return PLACE_KIND_ROOM;
    return on[SHELTER_BLANKET] ? PLACE_KIND_BLANKET : PLACE_KIND_OPEN;
}

static void find_stays(struct build *b, enum part part)
{
    bool on[SHELTER_COUNT] = {false};
    b->stays = ARENA_TAKE(b->facts->arena, b->facts->count + 1, struct stay);
    if (b->stays == NULL) return;
    b->stays[b->stay_count++] = (struct stay){INT64_MIN, PLACE_KIND_OPEN};
    for (size_t i = 0; i < b->facts->count; i++) {
        const struct record *r = b->facts->records[i];
        if (r->part != part) continue;
        if (r->kind == RECORD_CLOSED_IN) {
            if (r->shelter != SHELTER_NONE) on[r->shelter] = true;
        } else if (r->kind == RECORD_OPENED) {
            if (r->shelter != SHELTER_NONE)
                on[r->shelter] = false;
            else
                memset(on, 0, sizeof on);
        } else {
            continue;
        }
        enum place_kind place = place_of(on);
        struct stay *last = &b->stays[b->stay_count - 1];
        if (place == last->place) continue;
        if (last->from_s != r->at_s) {
            b->stays[b->stay_count++] = (struct stay){r->at_s, place};
        } else if (b->stay_count > 1 && last[-1].place == place) {
            b->stay_count--; /* changed and changed back at one instant: the stay goes on */
        } else {
            last->place = place;
        }
    }
}

/* Start of the stay that holds an instant: a change at that very instant has already happened. */
static size_t stay_at(const struct build *b, int64_t at_s)
{
    size_t low = 0, high = b->stay_count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (b->stays[middle].from_s <= at_s)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* --- readings and caps ------------------------------------------------------------------------ */

static void add_figure(struct build *b, const struct record *r)
{
    struct figure *last = b->figure_count > 0 ? &b->figures[b->figure_count - 1] : NULL;
    if (last != NULL && last->at_s == r->at_s) {
        if (r->temp_degc < last->lowest_degc) {
            last->lowest_degc = r->temp_degc;
            last->record = r;
        }
        last->highest_degc = fmax(last->highest_degc, r->temp_degc);
        last->air = last->air && r->how == HOW_AIR;
        last->thermostat = last->thermostat && r->how == HOW_THERMOSTAT;
        return;
    }
    b->figures[b->figure_count++] = (struct figure){.at_s = r->at_s,
                                                    .lowest_degc = r->temp_degc,
                                                    .highest_degc = r->temp_degc,
                                                    .air = r->how == HOW_AIR,
                                                    .thermostat = r->how == HOW_THERMOSTAT,
                                                    .record = r};
}

/* `previous_s`: the reading or cap strictly before this one, of those used for the part. */
static void add_cap(struct build *b, const struct record *r, int64_t previous_s)
{
    struct cap cap = {.degc = r->temp_degc};
    if (r->how == HOW_LOWEST) {
        cap.from_s = r->at_s - setting_s(b, SETTING_CAP_LOWEST_H);
        if (previous_s > cap.from_s) cap.from_s = previous_s;
        cap.until_s = r->at_s;
    } else {
        cap.from_s = r->at_s - setting_s(b, SETTING_CAP_IMPRESSION_H);
        cap.until_s = r->at_s + setting_s(b, SETTING_CAP_IMPRESSION_H);
    }
    b->caps[b->cap_count++] = cap;
}

static void note_disagreement(struct build *b, const struct record *r, double apart)
{
    if (apart <= setting(b, SETTING_READING_DISAGREE_DEGC) + 1e-9) return;
    b->out->disagree = r;
    b->out->disagree_degc = apart;
}

/* The lowest within the hour up to each reading, in its own stay. */
static void settle_figures(struct build *b)
{
    size_t low = 0;
    for (size_t i = 0; i < b->figure_count; i++) {
        struct figure *f = &b->figures[i];
        int64_t stay_s = b->stays[stay_at(b, f->at_s)].from_s;
        int64_t since_s = f->at_s - setting_s(b, SETTING_READING_FIGURE_H);
        if (stay_s > since_s) since_s = stay_s;
        while (b->figures[low].at_s < since_s) low++;
        f->figure_degc = f->lowest_degc;
        for (size_t k = low; k <= i; k++) {
            if (b->figures[k].lowest_degc < f->figure_degc)
                f->figure_degc = b->figures[k].lowest_degc;
            note_disagreement(b, f->record,
                              fmax(f->highest_degc - b->figures[k].lowest_degc,
                                   b->figures[k].highest_degc - f->lowest_degc));
        }
    }
}

static void find_readings(struct build *b, enum part part, enum part own)
{
    const struct facts *facts = b->facts;
    enum part readings = has_reading(facts, part) ? part : PART_AIR;
    b->out->readings = readings;
    b->figures = ARENA_TAKE(facts->arena, facts->count, struct figure);
    b->caps = ARENA_TAKE(facts->arena, facts->count, struct cap);
    if (b->figures == NULL || b->caps == NULL) return;
    int64_t previous_s = INT64_MIN, last_s = INT64_MIN;
    for (size_t i = 0; i < facts->count; i++) {
        const struct record *r = facts->records[i];
        if (r->kind != RECORD_READING) continue;
        bool reading = is_reading_of(r, readings);
        bool cap = is_cap(r) && (r->part == part || r->part == readings || r->part == own);
        if (!reading && !cap) continue;
        if (r->at_s > last_s) previous_s = last_s;
        last_s = r->at_s;
        if (reading)
            add_figure(b, r);
        else
            add_cap(b, r, previous_s);
    }
    settle_figures(b);
}

/* --- spans ------------------------------------------------------------------------------------ */

static void emit(struct build *b, int64_t from_s, int64_t until_s, struct history_span span)
{
    if (from_s >= until_s) return;
    if (b->count == b->capacity) {
        size_t capacity = b->capacity == 0 ? 32 : b->capacity * 2;
        struct history_span *spans = ARENA_TAKE(b->facts->arena, capacity, struct history_span);
        if (spans == NULL) return;
        if (b->count > 0) memcpy(spans, b->spans, b->count * sizeof *spans);
        b->spans = spans;
        b->capacity = capacity;
    }
    span.from_s = from_s;
    span.until_s = until_s;
    b->spans[b->count++] = span;
}

static int64_t earlier(int64_t a, int64_t b)
{
    return a < b ? a : b;
}

static int64_t later(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

static struct history_span span_of(double base_degc, enum station_use use, bool open,
                                   const struct record *reading)
{
    return (struct history_span){.base_degc = base_degc,
                                 .frost_base_degc = base_degc,
                                 .cap_degc = INFINITY,
                                 .use = use,
                                 .open = open,
                                 .assumes = use == STATION_UNUSED ? 0 : ASSUME_FORECAST,
                                 .reading = reading};
}

/* In the open: two readings bridge, with the station looking over their shoulder after 6 h. */
static void lay_open(struct build *b, int64_t from_s, int64_t until_s, size_t first, size_t end)
{
    const struct history_span station = span_of(NAN, STATION_ALONE, true, NULL);
    int64_t hold_s = setting_s(b, SETTING_READING_HOLD_OPEN_H);
    int64_t pair_s = setting_s(b, SETTING_READING_PAIR_H);
    const struct figure *figures = b->figures;
    REQUIRE(figures != NULL);
    emit(b, from_s, first < end ? figures[first].at_s : until_s, station);
    for (size_t i = first; i < end; i++) {
        const struct figure *f = &figures[i], *next = i + 1 < end ? f + 1 : NULL;
        int64_t stop_s = next != NULL ? next->at_s : until_s;
        int64_t held_s = earlier(f->at_s + hold_s, stop_s);
        bool pair = next != NULL && next->at_s - f->at_s <= pair_s;
        double base = pair ? fmin(f->figure_degc, next->figure_degc) : f->figure_degc;
        bool air = f->air || (pair && next->air);
        emit(b, f->at_s, held_s,
             span_of(base, air ? STATION_LOWER : STATION_UNUSED, true, f->record));
        emit(b, held_s, stop_s, pair ? span_of(base, STATION_LOWER, true, f->record) : station);
    }
}

/* After now in a closed place: the room carries its last reading, the blanket leans on the
 * forecast. */
static void lay_closed_ahead(struct build *b, enum place_kind place, const struct figure *last)
{
    int64_t now_s = b->facts->now_s;
    if (place == PLACE_KIND_ROOM) {
        struct history_span carried =
            span_of(last->figure_degc, STATION_UNUSED, false, last->record);
        carried.assumes = ASSUME_LAST_READING;
        emit(b, now_s, INT64_MAX, carried);
        return;
    }
    int64_t ends_s = later(now_s, last->at_s + setting_s(b, SETTING_READING_BLANKET_AHEAD_H));
    struct history_span carried = span_of(last->figure_degc, STATION_UNUSED, false, last->record);
    carried.assumes = ASSUME_LAST_READING;
    emit(b, now_s, ends_s, carried);
    struct history_span over = span_of(last->figure_degc, STATION_OVER, false, last->record);
    over.assumes = ASSUME_BLANKET_FORECAST;
    emit(b, ends_s, INT64_MAX, over);
}

/* In a closed place the station never fills in. */
static void lay_closed(struct build *b, enum place_kind place, int64_t from_s, int64_t until_s,
                       size_t first, size_t end)
{
    const struct history_span nothing = span_of(NAN, STATION_UNUSED, false, NULL);
    int64_t now_s = b->facts->now_s;
    bool room = place == PLACE_KIND_ROOM;
    const struct figure *figures = b->figures;
    REQUIRE(figures != NULL);
    emit(b, from_s, first < end ? figures[first].at_s : until_s, nothing);
    for (size_t i = first; i < end; i++) {
        const struct figure *f = &figures[i], *next = i + 1 < end ? f + 1 : NULL;
        bool notes = room && f->thermostat && (next == NULL || next->thermostat);
        int64_t stop_s = next != NULL ? next->at_s : earlier(until_s, later(now_s, f->at_s));
        int64_t gap_s = next != NULL ? next->at_s - f->at_s : INT64_MAX;
        double lower = next != NULL ? fmin(f->figure_degc, next->figure_degc) : f->figure_degc;
        int64_t pair_s =
            setting_s(b, notes ? SETTING_READING_PAIR_THERMOSTAT_H : SETTING_READING_PAIR_H);
        struct history_span span = span_of(lower, STATION_UNUSED, false, f->record);
        if (gap_s <= pair_s) {
            emit(b, f->at_s, stop_s, span);
        } else if (gap_s <= setting_s(b, SETTING_READING_BRIDGE_H)) {
            span.base_degc = lower - setting(b, SETTING_READING_BRIDGE_LESS_DEGC);
            emit(b, f->at_s, stop_s, span);
        } else {
            int64_t hold_s = setting_s(b, notes ? SETTING_READING_HOLD_THERMOSTAT_H
                                                : SETTING_READING_HOLD_CLOSED_H);
            int64_t held_s = earlier(f->at_s + hold_s, stop_s);
            emit(b, f->at_s, held_s, span_of(f->figure_degc, STATION_UNUSED, false, f->record));
            emit(b, held_s, stop_s, nothing);
        }
    }
    if (first < end && until_s == INT64_MAX) lay_closed_ahead(b, place, &figures[end - 1]);
}

static void lay_stays(struct build *b)
{
    size_t next = 0;
    for (size_t i = 0; i < b->stay_count; i++) {
        int64_t until_s = i + 1 < b->stay_count ? b->stays[i + 1].from_s : INT64_MAX;
        size_t first = next;
        while (next < b->figure_count && b->figures[next].at_s < until_s) next++;
        if (b->stays[i].place == PLACE_KIND_OPEN)
            lay_open(b, b->stays[i].from_s, until_s, first, next);
        else
            lay_closed(b, b->stays[i].place, b->stays[i].from_s, until_s, first, next);
        if (until_s == INT64_MAX)
            b->out->never_read = b->stays[i].place != PLACE_KIND_OPEN && first == next;
    }
    b->out->place = place_names[b->stays[b->stay_count - 1].place];
    if (b->figure_count > 0) b->out->last_reading = b->figures[b->figure_count - 1].record;
}

/* --- caps ------------------------------------------------------------------------------------- */

static void sort_caps(struct build *b)
{
    for (size_t i = 1; i < b->cap_count; i++) { /* nearly sorted: they come in order of at_s */
        struct cap cap = b->caps[i];
        size_t k = i;
        for (; k > 0 && b->caps[k - 1].from_s > cap.from_s; k--) b->caps[k] = b->caps[k - 1];
        b->caps[k] = cap;
    }
}

/* Cut one span by the caps that act in it; `low` is the first cap that may still matter. */
static void cut_by_caps(struct build *b, struct history_span span, size_t *low)
{
    int64_t at_s = span.from_s;
    while (at_s < span.until_s) {
        int64_t stop_s = span.until_s;
        double cap_degc = INFINITY;
        while (*low < b->cap_count && b->caps[*low].until_s <= at_s) (*low)++;
        for (size_t k = *low; k < b->cap_count; k++) {
            const struct cap *cap = &b->caps[k];
            if (cap->from_s > at_s) {
                stop_s = earlier(stop_s, cap->from_s);
                break;
            }
            if (cap->until_s <= at_s) continue;
            stop_s = earlier(stop_s, cap->until_s);
            cap_degc = fmin(cap_degc, cap->degc);
        }
        span.cap_degc = cap_degc;
        emit(b, at_s, stop_s, span);
        at_s = stop_s;
    }
}

static void lay_caps(struct build *b)
{
    if (b->cap_count == 0) return;
    sort_caps(b);
    const struct history_span *spans = b->spans;
    size_t count = b->count, low = 0;
    b->spans = NULL;
    b->count = b->capacity = 0;
    for (size_t i = 0; i < count; i++) cut_by_caps(b, spans[i], &low);
}

/* From when on neither readings nor caps nor the station change anything. */
static int64_t settled(const struct build *b)
{
    int64_t at_s = b->facts->now_s;
    const struct weather_view *w = b->out->weather;
    if (w->count > 0) at_s = later(at_s, w->start_s + (int64_t)w->count * HOUR_S);
    at_s = later(at_s, w->forecast_end_s);
    if (w->tail != NULL) at_s = later(at_s, w->tail->line->until_s);
    for (size_t i = 0; i < b->count; i++)
        if (b->spans[i].from_s != INT64_MIN) at_s = later(at_s, b->spans[i].from_s);
    return at_s;
}

void history_year(struct history *out, const struct history *history,
                  const struct weather_view *weather)
{
    *out = *history;
    out->weather = weather;
    out->settled_s = later(history->settled_s, weather->tail->line->until_s);
}

bool history_is_station_from(const struct history *history, int64_t at_s)
{
    const struct history_span *last = &history->spans[history->count - 1];
    return at_s >= last->from_s && last->use == STATION_ALONE && !(last->cap_degc < INFINITY);
}

void history_build(struct history *out, const struct facts *facts,
                   const struct weather_view *weather, enum part part)
{
    *out = (struct history){.part = part,
                            .weather = weather,
                            .now_s = facts->now_s,
                            .place = place_names[PLACE_KIND_OPEN]};
    struct build b = {.facts = facts, .out = out};
    out->over_degc = setting(&b, SETTING_READING_BLANKET_OVER_DEGC);
    enum part read = part_read(facts, part);
    out->lives_as = out->readings = read;
    find_stays(&b, read);
    if (b.stays == NULL) return;
    find_readings(&b, read, part);
    if (b.figures == NULL || b.caps == NULL) return;
    lay_stays(&b);
    lay_caps(&b);
    out->spans = b.spans;
    out->count = b.count;
    out->settled_s = settled(&b);
}

/* --- walking ---------------------------------------------------------------------------------- */

void history_walk_begin(struct history_walk *walk, const struct history *history, int64_t from_s,
                        int64_t until_s)
{
    size_t low = 0, high = history->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (history->spans[middle].from_s <= from_s)
            low = middle;
        else
            high = middle;
    }
    *walk = (struct history_walk){history, low, from_s, until_s};
}

/* The station's figure at an instant and until when it stays so. */
static double station_at(const struct weather_view *w, int64_t at_s, int64_t *until_s)
{
    if (w->tail != NULL) {
        if (at_s >= w->ahead_s) {
            int64_t hour_s = at_s - at_s % HOUR_S;
            if (hour_s < w->tail->line->until_s) *until_s = earlier(*until_s, hour_s + HOUR_S);
            return past_degc(w->tail, hour_s);
        }
        *until_s = earlier(*until_s, w->ahead_s);
    }
    if (w->count == 0) return NAN;
    if (at_s < w->start_s) {
        *until_s = earlier(*until_s, w->start_s);
        return NAN;
    }
    int64_t index = (at_s - w->start_s) / HOUR_S;
    if (index >= (int64_t)w->count) return NAN;
    *until_s = earlier(*until_s, w->start_s + (index + 1) * HOUR_S);
    return w->temp_degc[index];
}

static double lower_of(double a, double b)
{
    if (isnan(a)) return b;
    if (isnan(b)) return a;
    return a < b ? a : b;
}

/* Past the last forecast hour, in the open, at a job with a station. */
static bool past_forecast(const struct history *h, int64_t at_s, int64_t *until_s)
{
    int64_t begins_s = later(h->now_s, h->weather->forecast_end_s);
    if (at_s < begins_s) {
        *until_s = earlier(*until_s, begins_s);
        return false;
    }
    return h->weather->station;
}

bool history_walk_next(struct history_walk *walk, struct piece *piece)
{
    const struct history *h = walk->history;
    if (walk->at_s >= walk->until_s || walk->span >= h->count) return false;
    const struct history_span *span = &h->spans[walk->span];
    int64_t until_s = earlier(span->until_s, walk->until_s);
    double temp = span->base_degc, station = NAN;
    bool past = false;
    if (span->open || span->use != STATION_UNUSED) {
        station = station_at(h->weather, walk->at_s, &until_s);
        if (span->use == STATION_ALONE) {
            temp = station;
            if (isnan(station)) past = past_forecast(h, walk->at_s, &until_s);
        } else if (span->use == STATION_LOWER) {
            temp = lower_of(temp, station);
        } else if (span->use == STATION_OVER) {
            temp = isnan(station) ? NAN : lower_of(temp, station + h->over_degc);
        }
    }
    double frost = span->use == STATION_UNUSED ? span->frost_base_degc : temp;
    if (span->open) frost = lower_of(frost, station);
    if (span->cap_degc < INFINITY) {
        frost = lower_of(frost, span->cap_degc);
        if (!isnan(temp) && span->cap_degc < temp) temp = span->cap_degc;
    }
    *piece = (struct piece){walk->at_s, until_s, temp, frost, past, span};
    walk->at_s = until_s;
    if (until_s >= span->until_s) walk->span++;
    return true;
}

const double *history_walk_hours(struct history_walk *walk, size_t hours_most, size_t *out_hours)
{
    const struct history *h = walk->history;
    const struct weather_view *w = h->weather;
    *out_hours = 0;
    if (walk->span >= h->count || w->count == 0) return NULL;
    const struct history_span *span = &h->spans[walk->span];
    if (span->use != STATION_ALONE || span->cap_degc < INFINITY) return NULL;
    int64_t until_s = earlier(earlier(span->until_s, walk->until_s), h->now_s);
    until_s = earlier(until_s, w->start_s + (int64_t)w->count * HOUR_S);
    if (walk->at_s < w->start_s || walk->at_s >= until_s) return NULL;
    if ((walk->at_s - w->start_s) % HOUR_S != 0) return NULL;
    size_t first = (size_t)((walk->at_s - w->start_s) / HOUR_S);
    size_t hours = (size_t)((until_s - walk->at_s) / HOUR_S);
    if (hours > hours_most) hours = hours_most;
    *out_hours = hours;
    walk->at_s += (int64_t)hours * HOUR_S;
    if (walk->at_s >= span->until_s) walk->span++;
    return &w->temp_degc[first];
}
