/* SPDX-License-Identifier: MIT */
/* Why: see firm.h. */
#include "firm.h"

#include <math.h>
#include <string.h>

#include "base/instant.h"
#include "compute/civil.h"

enum { HOUR_S = 3600, DAY_S = 86400 };

void firm_mend(struct firm *f)
{
    f->station.observed.temp_degc = f->temp;
    f->station.observed.rain_mm = f->rain;
    f->station.forecast.temp_degc = f->ahead;
    f->station.forecast.rain_mm = f->ahead_rain;
    f->station.forecast.gust_mps = f->ahead_gust;
    for (size_t j = 0; j < f->job_count; j++) {
        struct firm_job *own = &f->own[j];
        for (size_t i = 0; i < own->count; i++) {
            snprintf(own->ids[i], sizeof own->ids[i], "r%zu", i);
            own->records[i].id = own->ids[i];
        }
        f->jobs[j].id = f->jobs[j].name = own->id;
        f->jobs[j].records = own->records;
        f->jobs[j].record_count = own->count;
        if (f->jobs[j].station != NULL) f->jobs[j].station = &f->station;
        f->jobs[j].options.town.days_off = NULL;
    }
    for (int i = 0; i < 2; i++) f->inspectors[i].days_off = f->inspector_off;
    f->company.days_off = f->days_off;
    f->company.crews = f->crews;
    f->company.inspectors = f->inspectors;
    f->company.trades = f->trades;
    f->company.burn_bans = f->bans;
    f->casefile.company = f->company;
    f->casefile.stations = &f->station;
    f->casefile.station_count = 1;
    f->casefile.jobs = f->jobs;
    f->casefile.job_count = f->job_count;
}

void firm_copy(struct firm *to, const struct firm *from)
{
    *to = *from;
    firm_mend(to);
}

struct record *firm_add(struct firm *f, size_t job, enum record_kind kind, int64_t at_s)
{
    struct firm_job *own = &f->own[job];
    if (own->count == FIRM_RECORDS_MAX) return NULL;
    struct record *r = &own->records[own->count++];
    *r = record_blank(kind, at_s);
    firm_mend(f);
    return r;
}

void firm_drop_record(struct firm *f, size_t job, size_t index)
{
    struct firm_job *own = &f->own[job];
    memmove(&own->records[index], &own->records[index + 1],
            (own->count - index - 1) * sizeof own->records[0]);
    own->count--;
    firm_mend(f);
}

void firm_drop_job(struct firm *f, size_t job)
{
    for (size_t j = job; j + 1 < f->job_count; j++) {
        f->own[j] = f->own[j + 1];
        f->jobs[j] = f->jobs[j + 1];
    }
    f->job_count--;
    firm_mend(f);
}

/* --- drawing ------------------------------------------------------------------------------------
 */

static void draw_weather(struct firm *f, struct chance *c, int hours, int ahead)
{
    const double base = chance_between(c, -2, 24), swing = chance_between(c, 0, 8);
    const bool wet = chance_of(c, 30), windy = chance_of(c, 25);
    for (int i = 0; i < hours + ahead; i++) {
        const double t = base + swing * sin((double)(i - 9) / 24 * 6.283185307);
        const double rain = wet && chance_of(c, 4) ? chance_between(c, 0, 5) : 0;
        if (i < hours) {
            f->temp[i] = round(t * 10) / 10;
            f->rain[i] = round(rain * 10) / 10;
        } else {
            f->ahead[i - hours] = round(t * 10) / 10;
            f->ahead_rain[i - hours] = round(rain * 10) / 10;
            f->ahead_gust[i - hours] = windy ? round(chance_between(c, 0, 16) * 10) / 10 : 2;
        }
    }
}

static void draw_options(struct job *job, struct chance *c)
{
    job->options = (struct options){.base = (enum base)chance_below(c, BASE_COUNT),
                                    .pad = chance_of(c, 60) ? PAD_NEW : PAD_EXISTING,
                                    .place = (enum place)chance_below(c, PLACE_COUNT),
                                    .outside_air = chance_of(c, 40),
                                    .lighter = (enum lighter)chance_below(c, LIGHTER_COUNT),
                                    .lining = (enum lining_option)chance_below(c, LINING_COUNT),
                                    .facing = (enum facing_option)chance_below(c, FACING_COUNT),
                                    .through_roof = chance_of(c, 30),
                                    .permit = chance_of(c, 60),
                                    .propped = chance_of(c, 20),
                                    .mix = chance_of(c, 15) ? MIX_BLENDED : MIX_PLAIN};
    job->options.town = (struct town){.name = chance_of(c, 50) ? "Alder" : NULL,
                                      .throat_look = chance_of(c, 30),
                                      .build_on_floor_h = chance_of(c, 10) ? 72 : NAN,
                                      .request_cutoff_min = chance_of(c, 50) ? 14 * 60 : -1};
    for (int q = 0; q < QUANTITY_COUNT; q++)
        job->quantities[q] = chance_of(c, 5) ? NAN : 2.0 + chance_below(c, 40);
    job->quantities[QUANTITY_DRIVE_H] = chance_of(c, 80) ? chance_between(c, 0, 1.5) : NAN;
    job->permit_lead_days = chance_of(c, 30) ? chance_below(c, 20) : -1;
    job->kit_lead_days = chance_of(c, 30) ? chance_below(c, 30) : -1;
}

/* Built up to a random task, with mistakes: forgotten, stopped, failed, out of order. */
static void draw_work(struct firm *f, struct chance *c, size_t j, int64_t from_s)
{
    static const enum record_kind wrong[] = {RECORD_STARTED, RECORD_STOPPED, RECORD_FAILED,
                                             RECORD_BOOKED};
    const bool tidy = chance_of(c, 60);
    const int upto = tidy && chance_of(c, 40) ? TASK_FACING_OTHERS + chance_below(c, 9)
                                              : chance_below(c, TASK_COUNT + 1);
    int64_t at_s = from_s;
    for (int t = 0; t < upto && t < TASK_COUNT; t++) {
        if (t == TASK_NIGHT_COVER || t == TASK_CURE_WATCH) continue;
        at_s += (int64_t)chance_below(c, 30) * HOUR_S / 2;
        if (at_s > f->casefile.now_s || f->own[j].count > FIRM_RECORDS_MAX - 30) break;
        if (!tidy && chance_of(c, 12)) continue;
        const bool slip = !tidy && chance_of(c, 12);
        struct record *r = firm_add(f, j, slip ? wrong[chance_below(c, 4)] : RECORD_DONE, at_s);
        r->task = (enum task)t;
        if (r->kind == RECORD_BOOKED)
            r->day = civil_day_of(f->jobs[j].zone, at_s) + chance_below(c, 40);
        if (slip || (!tidy && chance_of(c, 10))) continue;
        r = firm_add(f, j, RECORD_PASSED, at_s + 600);
        r->task = (enum task)t;
    }
}

static void draw_readings(struct firm *f, struct chance *c, size_t j, int64_t from_s)
{
    const double level = chance_between(c, 3, 24);
    for (int p = 0; p < 2; p++) {
        const enum part part = p == 0 ? PART_PAD : PART_UNIT;
        if (chance_of(c, 30)) continue;
        struct record *r = firm_add(f, j, RECORD_CLOSED_IN, from_s);
        if (r == NULL) return;
        r->part = part;
        r->shelter = SHELTER_ROOM;
        for (int64_t at_s = from_s; at_s <= f->casefile.now_s; at_s += 4 * DAY_S) {
            if (f->own[j].count > FIRM_RECORDS_MAX - 12) return;
            r = firm_add(f, j, RECORD_READING, at_s + chance_below(c, 9) * 1200);
            r->part = part;
            r->how = HOW_THERMOSTAT;
            r->temp_degc = round((level + chance_between(c, -3, 3)) * 10) / 10;
        }
    }
}

static void draw_events(struct firm *f, struct chance *c, size_t j, int64_t from_s)
{
    static const enum record_kind kinds[] = {
        RECORD_SOAKED, RECORD_LOOKED, RECORD_FACING,    RECORD_FIRE,      RECORD_FIRE,
        RECORD_RELAID, RECORD_AGREED, RECORD_HELD_DATE, RECORD_DELIVERED, RECORD_BOOKED};
    const int span_h = (int)((f->casefile.now_s - from_s) / HOUR_S);
    for (int n = chance_below(c, 6); n > 0; n--) {
        const int64_t at_s = from_s + (int64_t)chance_below(c, span_h + 1) * HOUR_S;
        const enum record_kind kind = kinds[chance_below(c, 10)];
        struct record *r = firm_add(f, j, kind, at_s);
        if (r == NULL) return;
        r->part = PART_UNIT;
        if (kind == RECORD_SOAKED) r->part = chance_of(c, 30) ? PART_PAD : PART_UNIT;
        r->result = chance_of(c, 85) ? RESULT_NO_DAMAGE_SEEN : RESULT_REDO;
        r->what = RELAID_FLOOR;
        r->by = "Wren";
        r->last = kind == RECORD_FACING && chance_of(c, 60);
        r->task = (enum task)chance_below(c, TASK_FIRE_1);
        r->day = civil_day_of(f->jobs[j].zone, f->casefile.now_s) - 5 + chance_below(c, 60);
        if (kind != RECORD_FIRE) continue;
        r->task = TASK_NONE;
        r->fire_number = 1 + chance_below(c, 5);
        r->sign = chance_of(c, 40) ? (enum fire_sign)chance_below(c, SIGN_COUNT) : SIGN_NONE;
        r->stop_sign = r->sign != SIGN_NONE;
    }
}

static void draw_people(struct firm *f, struct chance *c)
{
    static const char *const crew_ids[] = {"north", "south", "east"};
    static const char *const trades[] = {"plumber", "hvac", "roofer", "framer", "setter"};
    const int32_t today = civil_day_of(f->company.zone, f->casefile.now_s);
    f->company.crew_count = (size_t)chance_below(c, 4);
    for (size_t i = 0; i < f->company.crew_count; i++)
        f->crews[i] = (struct crew){.id = crew_ids[i], .people = 2 + chance_below(c, 2)};
    f->company.days_off_count = (size_t)chance_below(c, 5);
    for (size_t i = 0; i < f->company.days_off_count; i++)
        f->days_off[i] = (i == 0 ? today - 4 : f->days_off[i - 1]) + 1 + chance_below(c, 9);
    size_t offs = (size_t)chance_below(c, 4);
    for (size_t i = 0; i < offs; i++) f->inspector_off[i] = today + 1 + (int32_t)i * 3;
    f->company.inspector_count = (size_t)chance_below(c, 3);
    for (size_t i = 0; i < 2; i++)
        f->inspectors[i] =
            (struct outside_party){.id = i == 0 ? "Alder" : "county",
                                   .work_days = chance_of(c, 70) ? 0x1f : 0x0a,
                                   .serves = chance_of(c, 20) ? 0x15 : 0,
                                   .hours = {480, 960},
                                   .request_cutoff_min = chance_of(c, 70) ? 13 * 60 : -1,
                                   .request_days = 1 + (chance_of(c, 15) ? 1 : 0),
                                   .days_off_count = offs};
    f->company.trade_count = (size_t)chance_below(c, 6);
    for (size_t i = 0; i < f->company.trade_count; i++)
        f->trades[i] = (struct outside_party){.id = trades[i],
                                              .work_days = chance_of(c, 70) ? 0x1f : 0x12,
                                              .hours = {420, 900},
                                              .request_cutoff_min = -1,
                                              .request_days = 1};
    f->company.burn_ban_count = chance_of(c, 15) ? 1 : 0;
    f->bans[0] = (struct burn_ban){.from_day = today - chance_below(c, 5),
                                   .until_day = today + chance_below(c, 40),
                                   .town = chance_of(c, 50) ? "Alder" : NULL};
}

void firm_draw(struct firm *f, uint64_t seed, struct zone *const *zones, size_t zone_count)
{
    struct chance chance = {seed * 2654435761u + 99}, *c = &chance;
    memset(f, 0, sizeof *f);
    const int days = 6 + chance_below(c, 50), ahead_h = chance_of(c, 40) ? 0 : 24 * 3;
    const int64_t begin_s = 1780000000 / HOUR_S * HOUR_S + (int64_t)chance_below(c, 8760) * HOUR_S;
    f->casefile.now_s = begin_s + (int64_t)days * DAY_S + chance_below(c, 12) * 600;
    draw_weather(f, c, days * 24, ahead_h);
    f->station = (struct station){
        .id = "town", .latitude_deg = NAN, .longitude_deg = NAN, .forecast_made_s = INSTANT_NONE};
    f->station.observed.start_s = begin_s;
    f->station.observed.count = (size_t)days * 24;
    f->station.forecast.start_s = begin_s + (int64_t)days * DAY_S;
    f->station.forecast.count = (size_t)ahead_h;
    f->company = (struct company){.zone = zones[0],
                                  .work_days = chance_of(c, 85) ? 0x1f : 0x3f,
                                  .hours = {420, 930},
                                  .lunch = {720, 750}};
    f->casefile.now_zone = zones[0];
    draw_people(f, c);
    f->job_count = 1 + (size_t)chance_below(c, FIRM_JOBS_MAX);
    for (size_t j = 0; j < f->job_count; j++) {
        snprintf(f->own[j].id, sizeof f->own[j].id, "job-%zu", j);
        f->jobs[j] = (struct job){.zone = zones[chance_below(c, (int)zone_count)],
                                  .rulebook_id = "modular-masonry",
                                  .latitude_deg = NAN,
                                  .longitude_deg = NAN,
                                  .wanted_fire_day = DAY_NONE};
        draw_options(&f->jobs[j], c);
        if (chance_of(c, 85)) {
            f->jobs[j].station = &f->station;
            f->jobs[j].station_id = "town";
        }
        if (chance_of(c, 40))
            f->jobs[j].wanted_fire_day =
                civil_day_of(f->jobs[j].zone, f->casefile.now_s) + 10 + chance_below(c, 120);
        firm_mend(f);
        const int64_t from_s = begin_s + (int64_t)chance_below(c, 72) * HOUR_S;
        draw_readings(f, c, j, from_s);
        draw_work(f, c, j, from_s);
        draw_events(f, c, j, from_s);
    }
    firm_mend(f);
}

/* --- as a case file ------------------------------------------------------------------------------
 */

static void put_hours(FILE *out, const char *name, const double *values, size_t count)
{
    fprintf(out, "\"%s\":[", name);
    for (size_t i = 0; i < count; i++) fprintf(out, "%s%.10g", i ? "," : "", values[i]);
    fprintf(out, "]");
}

static void put_instant(FILE *out, const char *name, int64_t at_s, const struct zone *zone)
{
    char text[INSTANT_TEXT_MAX];
    instant_format(text, at_s, zone);
    fprintf(out, "\"%s\":\"%s\"", name, text);
}

static void put_date(FILE *out, int32_t day)
{
    int year, month, date;
    civil_date(day, &year, &month, &date);
    fprintf(out, "\"%04d-%02d-%02d\"", year, month, date);
}

static void put_days(FILE *out, const char *name, const int32_t *days, size_t count)
{
    fprintf(out, "\"%s\":[", name);
    for (size_t i = 0; i < count; i++) {
        fprintf(out, "%s", i ? "," : "");
        put_date(out, days[i]);
    }
    fprintf(out, "]");
}

static void put_weekdays(FILE *out, const char *name, unsigned days)
{
    static const char *const names[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    const char *comma = "";
    fprintf(out, "\"%s\":[", name);
    for (int i = 0; i < 7; i++)
        if (days >> i & 1U) {
            fprintf(out, "%s\"%s\"", comma, names[i]);
            comma = ",";
        }
    fprintf(out, "]");
}

static void put_party(FILE *out, const struct outside_party *party)
{
    fprintf(out, "{\"id\":\"%s\",\"work_hours\":[\"%02d:%02d\",\"%02d:%02d\"],", party->id,
            party->hours.from_min / 60, party->hours.from_min % 60, party->hours.until_min / 60,
            party->hours.until_min % 60);
    put_weekdays(out, "work_days", party->work_days);
    if (party->serves != 0) {
        fprintf(out, ",");
        put_weekdays(out, "serves", party->serves);
    }
    if (party->request_cutoff_min >= 0)
        fprintf(out, ",\"request_cutoff\":\"%02d:00\"", party->request_cutoff_min / 60);
    fprintf(out, ",\"request_days\":%d,", party->request_days);
    put_days(out, "holidays", party->days_off, party->days_off_count);
    fprintf(out, "}");
}

static void put_company(FILE *out, const struct firm *f)
{
    const struct company *company = &f->company;
    fprintf(out, "\"company\":{\"time_zone\":\"%s\",", company->zone->name);
    put_weekdays(out, "work_days", company->work_days);
    fprintf(out, ",\"work_hours\":[\"07:00\",\"15:30\"],\"lunch\":[\"12:00\",\"12:30\"],");
    put_days(out, "days_off", company->days_off, company->days_off_count);
    fprintf(out, ",\"crews\":[");
    for (size_t i = 0; i < company->crew_count; i++)
        fprintf(out, "%s{\"id\":\"%s\",\"people\":%d}", i ? "," : "", f->crews[i].id,
                f->crews[i].people);
    fprintf(out, "],\"inspectors\":[");
    for (size_t i = 0; i < company->inspector_count; i++) {
        fprintf(out, "%s", i ? "," : "");
        put_party(out, &f->inspectors[i]);
    }
    fprintf(out, "],\"trades\":[");
    for (size_t i = 0; i < company->trade_count; i++) {
        fprintf(out, "%s", i ? "," : "");
        put_party(out, &f->trades[i]);
    }
    fprintf(out, "],\"burn_bans\":[");
    for (size_t i = 0; i < company->burn_ban_count; i++) {
        fprintf(out, "{\"from\":");
        put_date(out, f->bans[i].from_day);
        fprintf(out, ",\"until\":");
        put_date(out, f->bans[i].until_day);
        if (f->bans[i].town != NULL) fprintf(out, ",\"town\":\"%s\"", f->bans[i].town);
        fprintf(out, "}");
    }
    fprintf(out, "]}");
}

static bool has_task(const struct record *r)
{
    return r->kind == RECORD_DONE || r->kind == RECORD_PASSED || r->kind == RECORD_STARTED ||
           r->kind == RECORD_STOPPED || r->kind == RECORD_FAILED || r->kind == RECORD_BOOKED ||
           r->kind == RECORD_HELD_DATE;
}

static void put_record(FILE *out, const struct record *r, const struct zone *zone)
{
    fprintf(out, "{\"id\":\"%s\",\"kind\":\"%s\",", r->id, id_of(&record_kind_ids, (int)r->kind));
    put_instant(out, "at", r->at_s, zone);
    if (has_task(r)) fprintf(out, ",\"task\":\"%s\"", id_of(&task_ids, (int)r->task));
    if (r->kind == RECORD_BOOKED || r->kind == RECORD_HELD_DATE || r->kind == RECORD_AGREED) {
        fprintf(out, ",\"date\":");
        put_date(out, r->day);
    }
    if (r->kind == RECORD_READING)
        fprintf(out, ",\"how\":\"%s\",\"degc\":%.10g", id_of(&reading_how_ids, (int)r->how),
                r->temp_degc);
    if (r->kind == RECORD_CLOSED_IN) fprintf(out, ",\"how\":\"room\"");
    if (r->kind == RECORD_READING || r->kind == RECORD_CLOSED_IN || r->kind == RECORD_SOAKED ||
        r->kind == RECORD_LOOKED)
        fprintf(out, ",\"part\":\"%s\"", id_of(&part_ids, (int)r->part));
    if (r->kind == RECORD_LOOKED)
        fprintf(out, ",\"result\":\"%s\",\"by\":\"Wren\"", id_of(&result_ids, (int)r->result));
    if (r->kind == RECORD_FACING && r->last) fprintf(out, ",\"last\":true");
    if (r->kind == RECORD_RELAID) fprintf(out, ",\"what\":\"floor\"");
    if (r->kind == RECORD_FIRE) {
        fprintf(out, ",\"number\":%d", r->fire_number);
        if (r->sign != SIGN_NONE)
            fprintf(out, ",\"stop_sign\":true,\"sign\":\"%s\"",
                    id_of(&fire_sign_ids, (int)r->sign));
    }
    fprintf(out, "}");
}

static void put_job(FILE *out, const struct job *job)
{
    const struct options *o = &job->options;
    fprintf(out,
            "{\"id\":\"%s\",\"time_zone\":\"%s\",%s\"options\":{\"base\":\"%s\",\"pad\":\"%s\","
            "\"place\":\"%s\",\"outside_air\":%s,\"lighter\":\"%s\",\"lining\":\"%s\","
            "\"facing\":\"%s\",\"through_roof\":%s,\"permit\":%s,\"propped\":%s,\"mix\":\"%s\","
            "\"town\":{\"throat_look\":%s",
            job->id, job->zone->name, job->station != NULL ? "\"station\":\"town\"," : "",
            id_of(&base_ids, (int)o->base), id_of(&pad_option_ids, (int)o->pad),
            id_of(&place_ids, (int)o->place), o->outside_air ? "true" : "false",
            id_of(&lighter_ids, (int)o->lighter), id_of(&lining_option_ids, (int)o->lining),
            id_of(&facing_option_ids, (int)o->facing), o->through_roof ? "true" : "false",
            o->permit ? "true" : "false", o->propped ? "true" : "false",
            id_of(&mix_ids, (int)o->mix), o->town.throat_look ? "true" : "false");
    if (o->town.name != NULL) fprintf(out, ",\"name\":\"%s\"", o->town.name);
    if (!isnan(o->town.build_on_floor_h))
        fprintf(out, ",\"build_on_floor_h\":%g", o->town.build_on_floor_h);
    if (o->town.request_cutoff_min >= 0)
        fprintf(out, ",\"request_cutoff\":\"%02d:00\"", o->town.request_cutoff_min / 60);
    fprintf(out, "}},\"quantities\":{");
    const char *comma = "";
    for (int q = 0; q < QUANTITY_COUNT; q++) {
        if (isnan(job->quantities[q])) continue;
        fprintf(out, "%s\"%s\":%.17g", comma, id_of(&quantity_ids, q), job->quantities[q]);
        comma = ",";
    }
    fprintf(out, "},");
    if (job->permit_lead_days >= 0) fprintf(out, "\"permit_lead_days\":%d,", job->permit_lead_days);
    if (job->kit_lead_days >= 0) fprintf(out, "\"kit_lead_days\":%d,", job->kit_lead_days);
    if (job->wanted_fire_day != DAY_NONE) {
        fprintf(out, "\"wanted_fire\":");
        put_date(out, job->wanted_fire_day);
        fprintf(out, ",");
    }
    fprintf(out, "\"records\":[");
    for (size_t i = 0; i < job->record_count; i++) {
        fprintf(out, "%s\n", i ? "," : "");
        put_record(out, &job->records[i], job->zone);
    }
    fprintf(out, "]}");
}

void firm_print(const struct firm *f, FILE *out)
{
    fprintf(out, "{\"emberwait\":1,");
    put_instant(out, "now", f->casefile.now_s, f->company.zone);
    fprintf(out, ",\n");
    put_company(out, f);
    fprintf(out, ",\n\"stations\":{\"town\":{\"observed\":{");
    put_instant(out, "start", f->station.observed.start_s, f->company.zone);
    fprintf(out, ",");
    put_hours(out, "temp_degc", f->temp, f->station.observed.count);
    fprintf(out, ",");
    put_hours(out, "rain_mm", f->rain, f->station.observed.count);
    fprintf(out, "},\"forecast\":{");
    put_instant(out, "start", f->station.forecast.start_s, f->company.zone);
    fprintf(out, ",");
    put_hours(out, "temp_degc", f->ahead, f->station.forecast.count);
    fprintf(out, ",");
    put_hours(out, "rain_mm", f->ahead_rain, f->station.forecast.count);
    fprintf(out, ",");
    put_hours(out, "gust_mps", f->ahead_gust, f->station.forecast.count);
    fprintf(out, "}}},\n\"jobs\":[");
    for (size_t j = 0; j < f->job_count; j++) {
        fprintf(out, "%s\n", j ? "," : "");
        put_job(out, &f->jobs[j]);
    }
    fprintf(out, "]}\n");
}
