/* SPDX-License-Identifier: MIT */
/*
 * Why: turns the tables of demo_jobs_*.c into records. Times are worked out by the valley's wall
 * clock and never fall after now; what would, has not been written down yet and is left out.
 */
#include "app/demo_job.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "compute/civil.h"

#include "base/banned.h"

enum {
    MINUTE_S = 60,
    HOUR_S = 3600,
    DAY_S = 86400,
    RECORDS_MAX = 400,
    FIRST_MIN = 8 * 60, /* a moment of a job lies between these */
    LAST_MIN = 15 * 60,
    SATURDAY = 5,
};

/** One record before it is written. */
struct entry {
    int64_t at_s;
    int64_t received_s;
    size_t number; /* within the job, in the order of the tables */
    const char *kind;
    const char *more;
};

struct writer {
    const struct demo_job *job;
    const struct zone *zone;
    struct arena *arena;
    size_t index;
    int64_t now_s;
    int64_t moment_s;
    int32_t moment_day;
    int32_t today;
    struct entry *entries;
    size_t count;
};

static bool works(int32_t day)
{
    return civil_weekday(day) < SATURDAY;
}

static int32_t work_day(int32_t day, int days)
{
    while (!works(day)) day--;
    const int32_t step = days < 0 ? -1 : 1;
    while (days != 0) {
        day += step;
        if (works(day)) days -= step;
    }
    return day;
}

static int64_t wall_clock_s(const struct zone *zone, int32_t day, int hhmm)
{
    return civil_instant_s(zone, day, (hhmm / 100 * 60 + hhmm % 100) * MINUTE_S);
}

/* The latest working time that is at least so long ago. */
static int64_t moment_of(const struct zone *zone, int64_t hour_s, int before_min)
{
    const int64_t latest_s = hour_s - (int64_t)before_min * MINUTE_S;
    const int32_t day = civil_day_of(zone, latest_s);
    const int minute = civil_second_of_day(zone, latest_s) / MINUTE_S;
    if (works(day) && minute >= FIRST_MIN)
        return minute <= LAST_MIN ? latest_s : wall_clock_s(zone, day, 1500);
    return wall_clock_s(zone, work_day(day - 1, 0), 1500);
}

/* --- dates and quotes --- */

/* A signed number at *z, which is moved behind it; 0 when there is none. */
static int signed_number(const char **z)
{
    if (**z != '+' && **z != '-') return 0;
    char *end = NULL;
    const long value = strtol(*z, &end, 10);
    *z = end;
    return (int)value;
}

/* `<w-3+28>` at z; gives what is behind it. */
static const char *put_token(struct text *out, const struct writer *writer, const char *z)
{
    const bool from_today = z[1] == 'n';
    const char *rest = z + 2;
    const int days = signed_number(&rest);
    const int32_t day = work_day(from_today ? writer->today : writer->moment_day, days);
    text_date(out, day + signed_number(&rest));
    REQUIRE(*rest == '>');
    return rest + 1;
}

static void put_members(struct text *out, const struct writer *writer, const char *z)
{
    while (*z != '\0') {
        if (*z == '<') {
            z = put_token(out, writer, z);
            continue;
        }
        text_add_byte(out, *z == '\'' ? '"' : *z);
        z++;
    }
}

/* --- entries --- */

static uint64_t mix(uint64_t z)
{
    z += 0x9e3779b97f4a7c15U;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31);
}

static uint64_t seed_of(const struct writer *writer, uint64_t number)
{
    return mix(mix(mix((uint64_t)writer->now_s / HOUR_S) + writer->index) + number);
}

/* Phones send within the hour, as they find a signal. */
static void add(struct writer *writer, int64_t at_s, int64_t received_s, const char *kind,
                const char *more)
{
    const size_t number = writer->count;
    if (at_s > writer->now_s) return;
    REQUIRE(number < RECORDS_MAX);
    if (received_s == INT64_MIN)
        received_s = at_s + (int64_t)(mix((uint64_t)at_s + number) % 50) * MINUTE_S;
    if (received_s > writer->now_s) received_s = writer->now_s;
    writer->entries[number] = (struct entry){at_s, received_s, number, kind, more};
    writer->count++;
}

static void add_line(struct writer *writer, const struct demo_line *line, int work_days)
{
    int64_t at_s = writer->moment_s + (int64_t)line->n * MINUTE_S;
    int64_t received_s = INT64_MIN;
    switch (line->when) {
    case DEMO_WORK_DAYS:
        at_s =
            wall_clock_s(writer->zone, work_day(writer->moment_day, line->n + work_days), line->at);
        break;
    case DEMO_TODAY:
        at_s = wall_clock_s(writer->zone, writer->today + line->n, line->at);
        break;
    case DEMO_MINUTES:
        at_s += (work_day(writer->moment_day, work_days) - writer->moment_day) * (int64_t)DAY_S;
        if (line->at > 0) received_s = writer->now_s - (int64_t)line->at * MINUTE_S;
        break;
    }
    add(writer, at_s, received_s, line->kind, line->more);
}

static void add_readings(struct writer *writer, const struct demo_readings *readings)
{
    for (int day = readings->from_day; day <= readings->until_day; day += readings->every) {
        for (int i = 0; i < 2; i++) {
            if (readings->at[i] == 0) continue;
            const int64_t at_s =
                wall_clock_s(writer->zone, writer->moment_day + day, readings->at[i]);
            const double off = (double)(mix((uint64_t)at_s) % 2001) / 1000.0 - 1.0;
            const double degf = round(readings->degf + off * readings->spread_degf);
            const char *more = arena_print(writer->arena, "'part':'%s','how':'%s','degf':%d",
                                           readings->part, readings->how, (int)degf);
            if (more != NULL) add(writer, at_s, INT64_MIN, "reading", more);
        }
    }
}

static void add_logged(struct writer *writer, const char *days)
{
    for (int32_t day = writer->moment_day + 1; day < writer->today; day++) {
        const char letter = *days;
        if (days[1] != '\0') days++;
        const int mean = letter == 'F' ? 53 : letter == 'H' ? 45 : 37;
        const int least = letter == 'F' ? 46 : letter == 'H' ? 37 : 34;
        char date[DATE_TEXT_MAX];
        date_format(date, day);
        const char *more =
            arena_print(writer->arena, "'date':'%s','mean_degf':%d,'min_degf':%d,'part':'unit'",
                        date, mean, least);
        if (more != NULL)
            add(writer, wall_clock_s(writer->zone, day, 2359), INT64_MIN, "logged-day", more);
    }
}

static int in_order_of_coming(const void *a, const void *b)
{
    const struct entry *x = a;
    const struct entry *y = b;
    if (x->received_s != y->received_s) return x->received_s < y->received_s ? -1 : 1;
    if (x->at_s != y->at_s) return x->at_s < y->at_s ? -1 : 1;
    return (x->number > y->number) - (x->number < y->number);
}

/* --- as JSON --- */

/* An id of the shape every sender makes: a UUID, version 8 (its bits are ours). [rfc9562] */
static void put_id(struct json *json, const struct writer *writer, size_t number)
{
    const uint64_t high = seed_of(writer, 2 * number);
    const uint64_t low = seed_of(writer, 2 * number + 1);
    char *id = arena_print(writer->arena, "%08x-%04x-8%03x-%04x-%012llx", (unsigned)(high >> 32),
                           (unsigned)(high >> 16 & 0xffffU), (unsigned)(high & 0xfffU),
                           (unsigned)(0x8000U | (low >> 48 & 0x3fffU)),
                           (unsigned long long)(low & 0xffffffffffffU));
    json_put_text(json, "id", id != NULL ? id : "");
}

static void put_record(struct json *json, const struct writer *writer, const struct entry *entry)
{
    const char *more = entry->more != NULL ? entry->more : "";
    json_open_object(json, NULL);
    put_id(json, writer, entry->number);
    json_put_text(json, "kind", entry->kind);
    json_put_instant(json, "at", entry->at_s, writer->zone);
    json_put_instant(json, "received", entry->received_s, writer->zone);
    if (strstr(more, "'by':") == NULL) json_put_text(json, "by", writer->job->lead);
    if (strcmp(entry->kind, "inspection") == 0 && strstr(more, "'inspector':") == NULL)
        json_put_text(json, "inspector", writer->job->inspector);
    if (*more != '\0') {
        text_add_byte(json->text, ',');
        put_members(json->text, writer, more);
    }
    json_close(json);
}

static void gather(struct writer *writer)
{
    const struct demo_job *job = writer->job;
    for (size_t p = 0; p < DEMO_PARTS_MAX; p++) {
        const struct demo_part *part = &job->parts[p];
        if (part->lines == NULL) continue;
        for (const struct demo_line *line = part->lines; line->kind != NULL; line++)
            add_line(writer, line, part->work_days);
    }
    for (size_t r = 0; r < DEMO_READINGS_MAX; r++)
        if (job->readings[r].part != NULL) add_readings(writer, &job->readings[r]);
    if (job->logged != NULL) add_logged(writer, job->logged);
    qsort(writer->entries, writer->count, sizeof *writer->entries, in_order_of_coming);
}

void demo_job_write(struct json *json, const struct demo_job *job, size_t index, int64_t now_s,
                    const struct zone *zone, struct arena *arena)
{
    const int64_t hour_s = now_s - now_s % HOUR_S;
    struct writer writer = {.job = job,
                            .zone = zone,
                            .arena = arena,
                            .index = index,
                            .now_s = hour_s,
                            .moment_s = moment_of(zone, hour_s, job->before_min),
                            .today = civil_day_of(zone, hour_s)};
    writer.moment_day = civil_day_of(zone, writer.moment_s);
    writer.entries = ARENA_TAKE(arena, RECORDS_MAX, struct entry);
    if (writer.entries == NULL) return;
    gather(&writer);
    json_open_object(json, NULL);
    put_members(json->text, &writer, job->head);
    text_add_byte(json->text, ',');
    json_open_array(json, "records");
    for (size_t i = 0; i < writer.count; i++) put_record(json, &writer, &writer.entries[i]);
    json_close(json);
    json_close(json);
}
