/* SPDX-License-Identifier: MIT */
/* Why: see world.h. */
#include "world.h"

#include <math.h>
#include <string.h>

#include "base/instant.h"
#include "compute/civil.h"

enum { HOUR_S = 3600, DAY_S = 86400 };

uint64_t chance_next(struct chance *chance)
{
    uint64_t z = chance->state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

int chance_below(struct chance *chance, int below)
{
    return (int)(chance_next(chance) % (uint64_t)below);
}

double chance_between(struct chance *chance, double low, double high)
{
    return low + (high - low) * (double)(chance_next(chance) >> 11) / 9007199254740992.0;
}

bool chance_of(struct chance *chance, int percent)
{
    return chance_below(chance, 100) < percent;
}

static void mend(struct world *w)
{
    for (size_t i = 0; i < w->count; i++) {
        snprintf(w->ids[i], sizeof w->ids[i], "r%zu", i);
        w->records[i].id = w->ids[i];
    }
    w->station.observed.temp_degc = w->temp;
    w->station.observed.rain_mm = w->rain;
    w->station.forecast.temp_degc = w->ahead;
    w->station.forecast.rain_mm = w->ahead_rain;
    w->job.records = w->records;
    w->job.record_count = w->count;
    if (w->job.station != NULL) w->job.station = &w->station;
}

void world_copy(struct world *to, const struct world *from)
{
    *to = *from;
    mend(to);
}

struct record *world_add(struct world *w, enum record_kind kind, int64_t at_s)
{
    if (w->count == WORLD_RECORDS_MAX) return NULL;
    struct record *r = &w->records[w->count++];
    *r = record_blank(kind, at_s);
    mend(w);
    return r;
}

void world_drop(struct world *w, size_t index)
{
    memmove(&w->records[index], &w->records[index + 1],
            (w->count - index - 1) * sizeof w->records[0]);
    w->count--;
    mend(w);
}

static void draw_weather(struct world *w, struct chance *c, int hours, int ahead)
{
    double base = chance_between(c, -4, 24), swing = chance_between(c, 0, 9), front = 0;
    bool wet = chance_of(c, 40), gaps = chance_of(c, 25);
    for (int i = 0; i < hours + ahead; i++) {
        if (chance_of(c, 2)) front = chance_between(c, -8, 6);
        double t = base + front + swing * sin((double)(i - 9) / 24 * 6.283185307) +
                   chance_between(c, -1, 1);
        double rain = wet && chance_of(c, 4) ? chance_between(c, 0, 6) : 0;
        bool lost = gaps && chance_of(c, 3);
        double *temp = i < hours ? &w->temp[i] : &w->ahead[i - hours];
        double *fall = i < hours ? &w->rain[i] : &w->ahead_rain[i - hours];
        *temp = lost ? NAN : round(t * 10) / 10;
        *fall = lost && chance_of(c, 50) ? NAN : round(rain * 10) / 10;
    }
}

static void read_part(struct world *w, struct chance *c, enum part part, int64_t from_s,
                      int64_t until_s)
{
    int64_t every_s = (int64_t)(1 + chance_below(c, 30)) * HOUR_S;
    enum reading_how how = (enum reading_how)chance_below(c, HOW_LOWEST);
    double level = chance_between(c, 0, 24);
    for (int64_t at_s = from_s; at_s <= until_s && w->count < WORLD_RECORDS_MAX - 30;
         at_s += every_s) {
        if (chance_of(c, 20)) continue;
        struct record *r = world_add(w, RECORD_READING, at_s + chance_below(c, 3) * 1200);
        r->part = part;
        r->how = chance_of(c, 85) ? how : (enum reading_how)chance_below(c, HOW_COUNT);
        r->temp_degc = round((level + chance_between(c, -6, 6)) * 10) / 10;
        if (chance_of(c, 4)) r->temp_degc = -1;
    }
}

static void shelter(struct world *w, struct chance *c, enum part part, int64_t at_s)
{
    struct record *r = world_add(w, RECORD_CLOSED_IN, at_s);
    if (r == NULL) return;
    r->part = part;
    r->shelter = (enum shelter)chance_below(c, SHELTER_COUNT);
    if (!chance_of(c, 30)) return;
    r = world_add(w, RECORD_OPENED, at_s + (int64_t)(1 + chance_below(c, 200)) * HOUR_S);
    if (r != NULL) r->part = part;
}

static struct record *task_done(struct world *w, enum task task, int64_t at_s)
{
    struct record *r = world_add(w, RECORD_DONE, at_s);
    if (r != NULL) r->task = task;
    return r;
}

static void draw_events(struct world *w, struct chance *c, int64_t from_s)
{
    int span_h = (int)((w->now_s - from_s) / HOUR_S);
    for (int n = chance_below(c, 6); n > 0; n--) {
        int64_t at_s = from_s + (int64_t)chance_below(c, span_h + 1) * HOUR_S;
        static const enum record_kind kinds[] = {
            RECORD_SOAKED,  RECORD_LOOKED,    RECORD_WRAPPED,      RECORD_UNWRAPPED,
            RECORD_COVERED, RECORD_UNCOVERED, RECORD_FACING,       RECORD_PATCHED,
            RECORD_RELAID,  RECORD_LIT,       RECORD_WET_COVER_ON, RECORD_WET_COVER_OFF,
            RECORD_LOOKED,  RECORD_LOOKED};
        struct record *r = world_add(w, kinds[chance_below(c, 14)], at_s);
        if (r == NULL) return;
        r->part = chance_of(c, 50) ? PART_PAD : PART_UNIT;
        r->result = chance_of(c, 85) ? RESULT_NO_DAMAGE_SEEN : RESULT_REDO;
        r->standing = r->kind == RECORD_SOAKED && chance_of(c, 20);
        r->last = r->kind == RECORD_FACING && chance_of(c, 50);
        r->what = RELAID_FLOOR;
        r->days = chance_of(c, 50) ? 7 : 28;
        r->initials = chance_of(c, 50) ? "AB" : NULL;
        r->by = "Ada";
    }
}

void world_draw(struct world *w, uint64_t seed, struct zone *const *zones, size_t zone_count)
{
    struct chance chance = {seed * 2654435761u + 17}, *c = &chance;
    memset(w, 0, sizeof *w);
    int days = 3 + chance_below(c, chance_of(c, 50) ? 8 : 70);
    int ahead_h = chance_of(c, 15) ? 0 : 24 * (1 + chance_below(c, 10));
    const int64_t begin_s = 1700000000 / HOUR_S * HOUR_S + (int64_t)chance_below(c, 8760) * HOUR_S;
    w->now_s = begin_s + (int64_t)days * DAY_S + chance_below(c, 3) * 1800;
    draw_weather(w, c, days * 24, ahead_h);
    w->station = (struct station){
        .id = "town", .latitude_deg = NAN, .longitude_deg = NAN, .forecast_made_s = INSTANT_NONE};
    w->station.observed.start_s = begin_s;
    w->station.observed.count = (size_t)days * 24;
    w->station.forecast.start_s = begin_s + (int64_t)days * DAY_S;
    w->station.forecast.count = (size_t)ahead_h;
    w->company = (struct company){
        .zone = zones[0], .work_days = 0x1f, .hours = {420, 930}, .lunch = {720, 750}};
    w->job = (struct job){.id = "j",
                          .name = "J",
                          .zone = zones[chance_below(c, (int)zone_count)],
                          .rulebook_id = "modular-masonry",
                          .latitude_deg = NAN,
                          .longitude_deg = NAN};
    if (chance_of(c, 85)) {
        w->job.station = &w->station;
        w->job.station_id = "town";
    }
    w->job.options = (struct options){.base = (enum base)chance_below(c, BASE_COUNT),
                                      .place = (enum place)chance_below(c, PLACE_COUNT),
                                      .permit = true,
                                      .propped = chance_of(c, 20),
                                      .mix = chance_of(c, 20) ? MIX_BLENDED : MIX_PLAIN,
                                      .facing = chance_of(c, 20) ? FACING_MORTARED : FACING_NONE};
    w->job.options.town.build_on_floor_h = NAN;
    w->job.options.town.request_cutoff_min = -1;
    for (int i = 0; i < QUANTITY_COUNT; i++) w->job.quantities[i] = 4 + chance_below(c, 40);
    const int64_t first_s = begin_s + (int64_t)chance_below(c, 48) * HOUR_S;
    bool unit = days > 12 && chance_of(c, 80);
    if (!unit || chance_of(c, 50)) {
        task_done(w, TASK_PAD_POUR, first_s);
        if (chance_of(c, 40)) shelter(w, c, PART_PAD, first_s);
        if (chance_of(c, 70)) read_part(w, c, PART_PAD, first_s, w->now_s);
    }
    if (unit) {
        int64_t at_s = first_s + (int64_t)chance_below(c, 100) * HOUR_S;
        task_done(w, TASK_BOX_COURSES, at_s);
        task_done(w, TASK_TRANSITION_SET, at_s += 4 * HOUR_S);
        task_done(w, TASK_CHIMNEY_RUN, at_s += (int64_t)chance_below(c, 60) * HOUR_S);
        if (chance_of(c, 85)) task_done(w, TASK_CAP_SET, at_s += 2 * HOUR_S);
        task_done(w, TASK_LINE_SIDES, at_s += (int64_t)chance_below(c, 60) * HOUR_S);
        if (chance_of(c, 90)) task_done(w, TASK_LINE_CLEAN, at_s += HOUR_S);
        if (chance_of(c, 60)) shelter(w, c, PART_UNIT, first_s);
        if (chance_of(c, 70)) read_part(w, c, PART_UNIT, first_s, w->now_s);
    }
    draw_events(w, c, first_s);
    mend(w);
}

/* --- as a case file --------------------------------------------------------------------------- */

static void print_hours(FILE *out, const char *name, const double *values, size_t count)
{
    fprintf(out, "\"%s\":[", name);
    for (size_t i = 0; i < count; i++) {
        if (isnan(values[i]))
            fprintf(out, "%snull", i ? "," : "");
        else
            fprintf(out, "%s%.10g", i ? "," : "", values[i]);
    }
    fprintf(out, "]");
}

static void print_instant(FILE *out, const char *name, int64_t at_s, const struct zone *zone)
{
    char text[INSTANT_TEXT_MAX];
    instant_format(text, at_s, zone);
    fprintf(out, "\"%s\":\"%s\"", name, text);
}

static void print_record(FILE *out, const struct record *r, const struct zone *zone)
{
    fprintf(out, "{\"id\":\"%s\",\"kind\":\"%s\",", r->id, id_of(&record_kind_ids, r->kind));
    print_instant(out, "at", r->at_s, zone);
    bool parted = r->kind == RECORD_READING || r->kind == RECORD_CLOSED_IN ||
                  r->kind == RECORD_OPENED || r->kind == RECORD_SOAKED || r->kind == RECORD_LOOKED;
    if (parted) fprintf(out, ",\"part\":\"%s\"", id_of(&part_ids, r->part));
    if (r->kind == RECORD_DONE) fprintf(out, ",\"task\":\"%s\"", id_of(&task_ids, r->task));
    if (r->kind == RECORD_CLOSED_IN)
        fprintf(out, ",\"how\":\"%s\"", id_of(&shelter_ids, r->shelter));
    if (r->kind == RECORD_READING)
        fprintf(out, ",\"how\":\"%s\",\"degc\":%.10g", id_of(&reading_how_ids, r->how),
                r->temp_degc);
    if (r->kind == RECORD_LOOKED)
        fprintf(out, ",\"result\":\"%s\",\"by\":\"Ada\"", id_of(&result_ids, r->result));
    if (r->kind == RECORD_SOAKED && r->standing) fprintf(out, ",\"standing\":true");
    if (r->kind == RECORD_FACING && r->last) fprintf(out, ",\"last\":true");
    if (r->kind == RECORD_RELAID) fprintf(out, ",\"what\":\"floor\"");
    if (r->kind == RECORD_PATCHED) {
        fprintf(out, ",\"days\":%d", r->days);
        if (r->initials != NULL) fprintf(out, ",\"initials\":\"%s\"", r->initials);
    }
    fprintf(out, "}");
}

void world_print(const struct world *w, FILE *out)
{
    const struct options *o = &w->job.options;
    fprintf(out, "{\"emberwait\":1,");
    print_instant(out, "now", w->now_s, w->company.zone);
    fprintf(out,
            ",\n\"company\":{\"time_zone\":\"%s\",\"work_days\":[\"mon\",\"tue\",\"wed\","
            "\"thu\",\"fri\"],\"work_hours\":[\"07:00\",\"15:30\"],\"lunch\":[\"12:00\","
            "\"12:30\"],\"days_off\":[],\"crews\":[]},\n\"stations\":{\"town\":{\"observed\":{",
            w->company.zone->name);
    print_instant(out, "start", w->station.observed.start_s, w->company.zone);
    fprintf(out, ",");
    print_hours(out, "temp_degc", w->temp, w->station.observed.count);
    fprintf(out, ",");
    print_hours(out, "rain_mm", w->rain, w->station.observed.count);
    fprintf(out, "},\"forecast\":{");
    print_instant(out, "start", w->station.forecast.start_s, w->company.zone);
    fprintf(out, ",");
    print_hours(out, "temp_degc", w->ahead, w->station.forecast.count);
    fprintf(out, ",");
    print_hours(out, "rain_mm", w->ahead_rain, w->station.forecast.count);
    fprintf(out,
            "}}},\n\"jobs\":[{\"id\":\"j\",\"name\":\"J\",\"time_zone\":\"%s\",%s"
            "\"rulebook\":\"modular-masonry\",\"options\":{\"base\":\"%s\",\"pad\":\"new\","
            "\"place\":\"%s\",\"propped\":%s,\"mix\":\"%s\",\"facing\":\"%s\"},\"quantities\":{",
            w->job.zone->name, w->job.station != NULL ? "\"station\":\"town\"," : "",
            id_of(&base_ids, (int)o->base), id_of(&place_ids, (int)o->place),
            o->propped ? "true" : "false", id_of(&mix_ids, (int)o->mix),
            id_of(&facing_option_ids, (int)o->facing));
    for (int i = 0; i < QUANTITY_COUNT; i++)
        fprintf(out, "%s\"%s\":%g", i ? "," : "", id_of(&quantity_ids, i), w->job.quantities[i]);
    fprintf(out, "},\n\"records\":[");
    for (size_t i = 0; i < w->count; i++) {
        fprintf(out, "%s\n", i ? "," : "");
        print_record(out, &w->records[i], w->job.zone);
    }
    fprintf(out, "]}]}\n");
}
