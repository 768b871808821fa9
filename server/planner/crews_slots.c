/* SPDX-License-Identifier: MIT */
/*
 * Why: the engine counts slots of five minutes from the begin of today. Everything that can close a
 * slot is brought to one row of open and closed here: days off, hours, lunch, an inspector's
 * calendar, the weather of a gate. Rows that are equal are kept once; most jobs share one.
 */
#include <math.h>
#include <string.h>

#include "compute/civil.h"
#include "planner/crews_internal.h"
#include "planner/gate_list.h"
#include "planner/inspect.h"

#include "base/banned.h"

enum { HOUR_S = 3600, MINUTE_S = 60 };

int32_t crews_slot_up(const struct crews *crews, int64_t at_s)
{
    int64_t slot = (at_s - crews->base_s + CREWS_SLOT_S - 1) / CREWS_SLOT_S;
    if (at_s <= crews->base_s) return 0;
    return slot > crews->slots ? crews->slots : (int32_t)slot;
}

int64_t crews_instant_s(const struct crews *crews, int32_t slot)
{
    return crews->base_s + (int64_t)slot * CREWS_SLOT_S;
}

int32_t crews_slots_of(double hours)
{
    return (int32_t)ceil(hours * HOUR_S / CREWS_SLOT_S - 1e-6);
}

/* Slots that lie wholly in [from_s, until_s), or, to close, that touch it. */
static void set(const struct crews *crews, uint8_t *open, int64_t from_s, int64_t until_s,
                uint8_t value)
{
    int32_t from = crews_slot_up(crews, from_s);
    int64_t until = (until_s - crews->base_s) / CREWS_SLOT_S;
    if (value == 0) {
        if (from > 0 && crews_instant_s(crews, from) > from_s) from--;
        until = (until_s - crews->base_s + CREWS_SLOT_S - 1) / CREWS_SLOT_S;
    }
    if (until_s <= crews->base_s) return;
    if (until > crews->slots) until = crews->slots;
    if (until > from) memset(open + from, value, (size_t)(until - from));
}

/* The hours of one calendar, in its own zone. */
static void lay_days(const struct crews *crews, uint8_t *open, const struct calendar *calendar)
{
    memset(open, 0, (size_t)crews->slots);
    int32_t first = civil_day_of(calendar->zone, crews->base_s);
    int32_t last = civil_day_of(calendar->zone, crews_instant_s(crews, crews->slots));
    for (int32_t day = first; day <= last; day++) {
        if (!calendar_works(calendar, day)) continue;
        const struct window hours = calendar->hours, lunch = calendar->lunch;
        set(crews, open, civil_instant_s(calendar->zone, day, hours.from_min * MINUTE_S),
            civil_instant_s(calendar->zone, day, hours.until_min * MINUTE_S), 1);
        if (lunch.from_min >= lunch.until_min) continue;
        set(crews, open, civil_instant_s(calendar->zone, day, lunch.from_min * MINUTE_S),
            civil_instant_s(calendar->zone, day, lunch.until_min * MINUTE_S), 0);
    }
    set(crews, open, crews->base_s, crews->casefile->now_s, 0);
}

/* A row that is laid already, or a new one for `key` to be laid; NULL without memory. */
static uint8_t *row_for(struct crews *crews, const struct crews_row *key, int32_t *index)
{
    for (*index = 0; *index < crews->calendar_count; (*index)++)
        if (memcmp(&crews->rows[*index], key, sizeof *key) == 0) return NULL;
    if (crews->calendar_count == crews->calendar_room) {
        int32_t room = crews->calendar_room == 0 ? 16 : crews->calendar_room * 2;
        const uint8_t **calendars = ARENA_TAKE(crews->arena, (size_t)room, const uint8_t *);
        struct crews_row *rows = ARENA_TAKE(crews->arena, (size_t)room, struct crews_row);
        *index = 0;
        if (calendars == NULL || rows == NULL) return NULL;
        for (int32_t c = 0; c < crews->calendar_count; c++) {
            calendars[c] = crews->calendars[c];
            rows[c] = crews->rows[c];
        }
        crews->calendars = calendars;
        crews->rows = rows;
        crews->calendar_room = room;
    }
    uint8_t *open = ARENA_TAKE(crews->arena, (size_t)crews->slots, uint8_t);
    *index = 0;
    if (open == NULL) return NULL;
    *index = crews->calendar_count;
    crews->rows[*index] = *key;
    crews->calendars[crews->calendar_count++] = open;
    return open;
}

bool crews_slots_begin(struct crews *crews)
{
    struct crews_row key;
    int32_t index;
    calendar_of_company(&crews->calendar, &crews->casefile->company);
    crews->first_day = civil_day_of(crews->calendar.zone, crews->casefile->now_s);
    crews->base_s = civil_day_start_s(crews->calendar.zone, crews->first_day);
    int64_t end_s = civil_day_start_s(crews->calendar.zone, crews->first_day + CREWS_DAYS);
    crews->slots = (int32_t)((end_s - crews->base_s) / CREWS_SLOT_S);
    memset(&key, 0, sizeof key);
    uint8_t *open = row_for(crews, &key, &index);
    if (open == NULL) return false;
    lay_days(crews, open, &crews->calendar);
    return true;
}

/* The hours from slot 0 on that the weather closes to one of the tasks. */
static bool find_closed(const struct crews *crews, const struct job_plan *job,
                        const enum task *tasks, int task_count, struct crews_row *key)
{
    const int64_t end_s = crews_instant_s(crews, crews->slots);
    const int64_t first_s = crews->base_s - crews->base_s % HOUR_S;
    bool any = false;
    for (int t = 0; t < task_count; t++) {
        int64_t at_s = gate_closed_from_s(job, tasks[t], crews->casefile->now_s, end_s);
        for (; at_s != INSTANT_NONE;) {
            const int64_t hour = (at_s - first_s) / HOUR_S;
            if (hour >= CREWS_HOURS_MAX) break;
            key->closed[hour / 64] |= UINT64_C(1) << hour % 64;
            any = true;
            at_s = gate_closed_from_s(job, tasks[t], first_s + (hour + 1) * HOUR_S, end_s);
        }
    }
    return any;
}

int32_t crews_calendar_of(struct crews *crews, const struct job_plan *job, const enum task *tasks,
                          int task_count, int32_t early)
{
    const int64_t first_s = crews->base_s - crews->base_s % HOUR_S;
    struct crews_row key;
    int32_t index;
    memset(&key, 0, sizeof key);
    key.early = early;
    (void)find_closed(crews, job, tasks, task_count, &key);
    uint8_t *open = row_for(crews, &key, &index);
    if (open == NULL) return index;
    memcpy(open, crews->calendars[0], (size_t)crews->slots);
    for (int32_t s = crews->slots, shut = 0; s-- > 0;) { /* the last slots before each long gap */
        bool last = s + 1 == crews->slots || !crews->calendars[0][s + 1];
        if (crews->calendars[0][s] && last && crews_rests_after(crews, s)) shut = early;
        if (shut > 0 && open[s]) {
            open[s] = 0;
            shut--;
        }
    }
    for (int64_t hour = 0; hour < CREWS_HOURS_MAX; hour++)
        if ((key.closed[hour / 64] >> hour % 64 & 1) != 0)
            set(crews, open, first_s + hour * HOUR_S, first_s + (hour + 1) * HOUR_S, 0);
    return index;
}

bool crews_rests_after(const struct crews *crews, int32_t slot)
{
    const int32_t rest = crews_slots_of(CREWS_REST_H);
    for (int32_t s = slot + 1; s <= slot + rest && s < crews->slots; s++)
        if (crews->calendars[0][s]) return false;
    return true;
}

static const struct outside_party *party_of(const struct company *company, enum who who)
{
    const char *id = id_of(&who_ids, (int)who);
    for (size_t i = 0; i < company->trade_count; i++)
        if (strcmp(company->trades[i].id, id) == 0) return &company->trades[i];
    return NULL;
}

int32_t crews_calendar_of_party(struct crews *crews, const struct job *job, enum who who)
{
    const struct company *company = &crews->casefile->company;
    const struct outside_party *party = NULL;
    struct calendar calendar;
    struct crews_row key;
    int32_t index;
    if (who == WHO_OWNER || who == WHO_OFFICE || who == WHO_HOMEOWNER) return 0;
    if (who == WHO_INSPECTOR) {
        party = inspect_party(company, job);
        inspect_calendar(&calendar, party, company, job);
    } else {
        party = party_of(company, who);
        calendar_of_party(&calendar, party, company, company->zone);
    }
    memset(&key, 0, sizeof key);
    key.early = SEQUENCE_NONE;
    key.party = party;
    key.zone = calendar.zone;
    key.town_off = calendar.town_off;
    uint8_t *open = row_for(crews, &key, &index);
    if (open != NULL) lay_days(crews, open, &calendar);
    return index;
}

int32_t crews_calendar_index(const struct crews *crews, const struct job_plan *job, enum task task)
{
    const size_t index = (size_t)(job->job - crews->casefile->jobs);
    const int32_t item = crews->item_of[crews_at(crews, index, task)];
    return item == SEQUENCE_NONE ? 0 : crews->activities[item].calendar;
}

int32_t crews_open_count(const struct crews *crews, int32_t calendar, int32_t from, int32_t until)
{
    int32_t count = 0;
    for (int32_t s = from; s < until; s++) count += crews->calendars[calendar][s];
    return count;
}
