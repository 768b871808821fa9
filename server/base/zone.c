/* SPDX-License-Identifier: MIT */
/*
 * Why: reads the system's zone files ourselves, because the C library knows only one zone at a time
 * (a process-wide TZ), and a server needs many. The file is treated as data from outside: read up
 * to a ceiling, every count and index checked before use, nothing believed.
 *
 * Only what a job needs is kept: spans from just before 1970 to just after 2200, offset and
 * abbreviation. Files come fat (transitions to 2037) and slim (to the last change of the law); both
 * end in a POSIX rule line that says how it goes on, and that is written out year by year.
 * Left out: leap seconds (a file that counts them is refused), and the standard/wall and UT/local
 * indicators, which serve only old-style TZ settings.
 */
#include "base/zone.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/limits.h"

#include "base/banned.h"

enum {
    FILE_BYTES_MAX = 1048576, /* the largest system file is under 4 KB */
    HEADER_BYTES = 44,
    TYPES_MAX = 256,        /* the index of a type is one byte */
    YEAR_RULE_FIRST = 1968, /* so that the first span kept is right */
    YEAR_RULE_LAST = 2201,  /* so that 2200 is whole in every zone */
    RULE_HOURS_MAX = 167,   /* a rule's time of day, either sign */
    DAYS_PER_WEEK = 7,
};

/* Changes before this are of no use: two days before 1970, for the civil day of the first instant.
 */
#define KEPT_FROM_S (INSTANT_MIN_S - 2 * ZONE_DAY_S)

/* ---- bytes ---------------------------------------------------------------------------------- */

struct bytes {
    const unsigned char *data;
    size_t length;
};

static uint32_t be32(const unsigned char *from)
{
    return (uint32_t)from[0] << 24 | (uint32_t)from[1] << 16 | (uint32_t)from[2] << 8 | from[3];
}

/* A two's complement number of 4 or 8 bytes. */
static int64_t be_signed(const unsigned char *from, size_t size)
{
    if (size == 4) return (int64_t)be32(from) - (from[0] & 0x80 ? INT64_C(0x100000000) : 0);
    const uint64_t value = (uint64_t)be32(from) << 32 | be32(from + 4);
    if (value <= INT64_MAX) return (int64_t)value;
    return -(int64_t)(UINT64_MAX - value) - 1;
}

/* ---- the file's block of counts, transitions and types --------------------------------------- */

struct block {
    size_t transitions, types, characters, leaps, standards, universals;
    size_t time_bytes;         /* 4 in the first block, 8 in the second */
    const unsigned char *body; /* times, then indices, types, characters, ... */
    size_t body_bytes;         /* of the whole body */
    unsigned version;          /* 1..4 */
};

static bool block_read(struct block *out, struct bytes file, size_t at, size_t time_bytes)
{
    if (at > file.length || file.length - at < HEADER_BYTES) return false;
    const unsigned char *header = file.data + at;
    if (memcmp(header, "TZif", 4) != 0) return false;
    if (header[4] != 0 && (header[4] < '2' || header[4] > '4')) return false;
    const size_t counts[6] = {be32(header + 20), be32(header + 24), be32(header + 28),
                              be32(header + 32), be32(header + 36), be32(header + 40)};
    for (size_t i = 0; i < 6; i++) {
        if (counts[i] > FILE_BYTES_MAX) return false;
    }
    *out = (struct block){.universals = counts[0],
                          .standards = counts[1],
                          .leaps = counts[2],
                          .transitions = counts[3],
                          .types = counts[4],
                          .characters = counts[5],
                          .time_bytes = time_bytes,
                          .body = header + HEADER_BYTES,
                          .version = header[4] == 0 ? 1 : (unsigned)(header[4] - '0')};
    out->body_bytes = out->transitions * (time_bytes + 1) + out->types * 6 + out->characters +
                      out->leaps * (time_bytes + 4) + out->standards + out->universals;
    return out->body_bytes <= file.length - at - HEADER_BYTES;
}

/* ---- spans under construction ---------------------------------------------------------------- */

struct spans {
    struct zone_span *items;
    size_t count, capacity;
    bool no_memory;
    bool disordered; /* the rule's changes overlap */
};

static bool same_type(const struct zone_span *a, const struct zone_span *b)
{
    return a->offset_s == b->offset_s && strcmp(a->abbreviation, b->abbreviation) == 0;
}

/* Append a span; one that begins where the last does replaces it, one that changes nothing goes. */
static void spans_add(struct spans *spans, int64_t from_s, const struct zone_span *type)
{
    if (spans->count == 1 && from_s <= KEPT_FROM_S) spans->count = 0;
    if (spans->count > 1) {
        const int64_t last_s = spans->items[spans->count - 1].from_s;
        if (from_s < last_s) spans->disordered = true;
        if (from_s <= last_s) spans->count--;
    }
    if (spans->count > 0 && same_type(&spans->items[spans->count - 1], type)) return;
    if (spans->count == spans->capacity) {
        const size_t capacity = spans->capacity == 0 ? 64 : spans->capacity * 2;
        struct zone_span *items = realloc(spans->items, capacity * sizeof *items);
        if (items == NULL) {
            spans->no_memory = true;
            return;
        }
        spans->items = items;
        spans->capacity = capacity;
    }
    spans->items[spans->count] = *type;
    spans->items[spans->count].from_s = spans->count == 0 ? INT64_MIN : from_s;
    spans->count++;
}

/* The local time types of a block, as spans without a beginning. */
static bool types_read(struct zone_span *out, const struct block *block)
{
    if (block->types < 1 || block->types > TYPES_MAX || block->characters < 1) return false;
    const unsigned char *types = block->body + block->transitions * (block->time_bytes + 1);
    const unsigned char *characters = types + block->types * 6;
    for (size_t i = 0; i < block->types; i++) {
        const unsigned char *type = types + i * 6;
        const int64_t offset_s = be_signed(type, 4);
        if (offset_s <= -ZONE_OFFSET_MAX_S || offset_s >= ZONE_OFFSET_MAX_S) return false;
        if (type[4] > 1 || type[5] >= block->characters) return false;
        const unsigned char *name = characters + type[5];
        const unsigned char *end = memchr(name, 0, block->characters - type[5]);
        if (end == NULL || end - name >= ZONE_ABBREVIATION_MAX) return false;
        out[i] = (struct zone_span){.offset_s = (int32_t)offset_s};
        memcpy(out[i].abbreviation, name, (size_t)(end - name));
    }
    return true;
}

/* The transitions of a block; sets the instant after which the rule line speaks. */
static bool transitions_read(struct spans *spans, const struct block *block,
                             const struct zone_span *types, int64_t *out_last_s)
{
    const unsigned char *times = block->body;
    const unsigned char *indices = times + block->transitions * block->time_bytes;
    *out_last_s = INT64_MIN;
    spans_add(spans, INT64_MIN, &types[0]);
    for (size_t i = 0; i < block->transitions; i++) {
        const int64_t from_s = be_signed(times + i * block->time_bytes, block->time_bytes);
        if (i > 0 && from_s <= *out_last_s) return false;
        if (indices[i] >= block->types) return false;
        spans_add(spans, from_s, &types[indices[i]]);
        *out_last_s = from_s;
    }
    return true;
}

/* ---- the rule line: std offset [dst [offset],start[/time],end[/time]] -------------------------
 */

struct change {
    char form; /* 'M', 'J' or '0' */
    int month, week, weekday, day;
    int32_t time_s;
};

struct rule {
    struct zone_span standard, daylight;
    struct change start, end; /* of daylight time; unused without it */
    bool has_daylight;
};

struct cursor {
    const char *at, *end;
};

static bool take(struct cursor *cursor, char wanted)
{
    if (cursor->at == cursor->end || *cursor->at != wanted) return false;
    cursor->at++;
    return true;
}

/* Digits up to `most`; -1 when there are none or the number is larger. */
static int32_t take_number(struct cursor *cursor, int32_t most)
{
    const char *from = cursor->at;
    int32_t value = 0;
    for (; cursor->at < cursor->end && *cursor->at >= '0' && *cursor->at <= '9'; cursor->at++) {
        value = value * 10 + (*cursor->at - '0');
        if (value > most) return -1;
    }
    return cursor->at == from ? -1 : value;
}

static bool take_name(struct cursor *cursor, char out[ZONE_ABBREVIATION_MAX])
{
    const bool quoted = take(cursor, '<');
    size_t length = 0;
    for (; cursor->at < cursor->end; cursor->at++) {
        const char c = *cursor->at;
        const bool letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
        const bool other = (c >= '0' && c <= '9') || c == '+' || c == '-';
        if (!letter && !(quoted && other)) break;
        if (length == ZONE_ABBREVIATION_MAX - 1) return false;
        out[length++] = c;
    }
    out[length] = '\0';
    return length >= 3 && (!quoted || take(cursor, '>'));
}

/* [+-]hh[:mm[:ss]] in seconds, the sign as written. */
static bool take_time(struct cursor *cursor, int32_t hours_most, int32_t *out_s)
{
    const bool minus = take(cursor, '-');
    if (!minus) (void)take(cursor, '+');
    const int32_t hours = take_number(cursor, hours_most);
    int32_t minutes = 0;
    int32_t seconds = 0;
    if (hours >= 0 && take(cursor, ':')) {
        minutes = take_number(cursor, 59);
        if (minutes >= 0 && take(cursor, ':')) seconds = take_number(cursor, 59);
    }
    if (hours < 0 || minutes < 0 || seconds < 0) return false;
    *out_s = (minus ? -1 : 1) * (hours * 3600 + minutes * 60 + seconds);
    return true;
}

static bool take_change(struct cursor *cursor, struct change *out)
{
    *out = (struct change){.form = '0', .time_s = 2 * 3600};
    if (!take(cursor, ',')) return false;
    if (take(cursor, 'M')) {
        out->form = 'M';
        out->month = take_number(cursor, 12);
        if (out->month < 1 || !take(cursor, '.')) return false;
        out->week = take_number(cursor, 5);
        if (out->week < 1 || !take(cursor, '.')) return false;
        out->weekday = take_number(cursor, 6);
        if (out->weekday < 0) return false;
    } else {
        if (take(cursor, 'J')) out->form = 'J';
        out->day = take_number(cursor, 365);
        if (out->day < (out->form == 'J' ? 1 : 0)) return false;
    }
    return !take(cursor, '/') || take_time(cursor, RULE_HOURS_MAX, &out->time_s);
}

static bool rule_read(struct rule *out, const char *line, size_t length)
{
    struct cursor cursor = {line, line + length};
    int32_t west_s = 0;
    *out = (struct rule){.has_daylight = false};
    if (!take_name(&cursor, out->standard.abbreviation)) return false;
    if (!take_time(&cursor, 24, &west_s)) return false;
    out->standard.offset_s = -west_s;
    if (cursor.at == cursor.end) return true;
    out->has_daylight = true;
    if (!take_name(&cursor, out->daylight.abbreviation)) return false;
    west_s -= 3600;
    if (cursor.at < cursor.end && *cursor.at != ',' && !take_time(&cursor, 24, &west_s))
        return false;
    out->daylight.offset_s = -west_s;
    return take_change(&cursor, &out->start) && take_change(&cursor, &out->end) &&
           cursor.at == cursor.end;
}

/* The instant of a change in a year, from the wall clock that holds until then. */
static int64_t change_s(const struct change *change, int year, int32_t offset_s)
{
    int32_t day = zone_day_of_date(year, 1, 1);
    if (change->form == 'M') {
        const int32_t first = zone_day_of_date(year, change->month, 1);
        const int weekday = (first % DAYS_PER_WEEK + 11) % DAYS_PER_WEEK; /* 0 = Sunday */
        int32_t into = (change->weekday - weekday + DAYS_PER_WEEK) % DAYS_PER_WEEK;
        into += (change->week - 1) * DAYS_PER_WEEK;
        if (into >= zone_month_days(year, change->month)) into -= DAYS_PER_WEEK;
        day = first + into;
    } else if (change->form == 'J') { /* 29 February is never counted */
        const bool leap = zone_month_days(year, 2) == 29;
        day += change->day - 1 + (leap && change->day >= 60 ? 1 : 0);
    } else {
        day += change->day;
    }
    return (int64_t)day * ZONE_DAY_S + change->time_s - offset_s;
}

/*
 * Write the rule out after the last transition. The two changes of a year come in either order (the
 * south, and Ireland, whose standard time is the summer's); where one year's end is the next year's
 * start (daylight all year) the start is added last and wins.
 */
static void rule_expand(struct spans *spans, const struct rule *rule, int64_t last_s)
{
    if (!rule->has_daylight) {
        spans_add(spans, last_s, &rule->standard);
        return;
    }
    const struct zone_span *end_pending = NULL;
    int64_t pending_s = 0;
    for (int year = YEAR_RULE_FIRST; year <= YEAR_RULE_LAST; year++) {
        const int64_t start_s = change_s(&rule->start, year, rule->standard.offset_s);
        const int64_t end_s = change_s(&rule->end, year, rule->daylight.offset_s);
        const bool start_first = start_s < end_s;
        if (end_pending != NULL && pending_s > last_s) spans_add(spans, pending_s, end_pending);
        end_pending = NULL;
        if (!start_first && end_s > last_s) spans_add(spans, end_s, &rule->standard);
        if (start_s > last_s) spans_add(spans, start_s, &rule->daylight);
        if (start_first) {
            end_pending = &rule->standard;
            pending_s = end_s;
        }
    }
}

/* ---- the whole file -------------------------------------------------------------------------- */

static enum status corrupt(struct fault *fault, const char *name, const char *found)
{
    fault_set(fault, "", "a zone file as RFC 9636 describes it", "%s: %s", name, found);
    return STATUS_CORRUPT;
}

/* The rule line between two newlines behind the second block; empty when there is none. */
static bool footer_read(const char **out_line, size_t *out_length, struct bytes file, size_t at)
{
    if (at >= file.length || file.data[at] != '\n') return false;
    const unsigned char *line = file.data + at + 1;
    const unsigned char *end = memchr(line, '\n', file.length - at - 1);
    if (end == NULL) return false;
    *out_line = (const char *)line;
    *out_length = (size_t)(end - line);
    return true;
}

static enum status file_decode(struct spans *spans, struct bytes file, const char *name,
                               struct fault *fault)
{
    struct block block;
    struct zone_span types[TYPES_MAX];
    int64_t last_s = INT64_MIN;
    const char *line = "";
    size_t line_length = 0;
    if (!block_read(&block, file, 0, 4)) return corrupt(fault, name, "a bad first block");
    if (block.version >= 2) {
        const size_t second = HEADER_BYTES + block.body_bytes;
        if (!block_read(&block, file, second, 8)) return corrupt(fault, name, "a bad second block");
        const size_t footer = second + HEADER_BYTES + block.body_bytes;
        if (!footer_read(&line, &line_length, file, footer))
            return corrupt(fault, name, "no rule line at the end");
    }
    if (block.leaps > 0) return corrupt(fault, name, "a count of leap seconds");
    if (!types_read(types, &block)) return corrupt(fault, name, "a bad table of types");
    if (!transitions_read(spans, &block, types, &last_s))
        return corrupt(fault, name, "a bad table of transitions");
    if (line_length > 0) {
        struct rule rule;
        if (!rule_read(&rule, line, line_length)) return corrupt(fault, name, "a bad rule line");
        rule_expand(spans, &rule, last_s);
        if (spans->disordered) return corrupt(fault, name, "a rule line that overlaps itself");
    }
    return STATUS_OK;
}

/* The bytes of an open file, at most FILE_BYTES_MAX. */
static enum status file_read(unsigned char **out, size_t *out_length, int file)
{
    size_t capacity = 4096;
    size_t length = 0;
    unsigned char *data = malloc(capacity);
    while (data != NULL) {
        const ssize_t got = read(file, data + length, capacity - length);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0 || (length += (size_t)got) > FILE_BYTES_MAX) break;
        if (got == 0) {
            *out = data;
            *out_length = length;
            return STATUS_OK;
        }
        if (length == capacity) {
            unsigned char *larger = realloc(data, capacity *= 2);
            if (larger == NULL) break;
            data = larger;
        }
    }
    free(data);
    return length > FILE_BYTES_MAX ? STATUS_CORRUPT : STATUS_IO;
}

/* An IANA name, not a path: parts of letters, digits, `_ - +`, each begun and separated by one `/`.
 */
static bool name_valid(const char *name)
{
    const size_t length = strlen(name);
    if (length == 0 || length >= ZONE_NAME_MAX) return false;
    for (size_t i = 0; i < length; i++) {
        const char c = name[i];
        const bool letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
        const bool inside = (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '+';
        if (c == '/' && i > 0 && name[i - 1] != '/' && i + 1 < length) continue;
        if (!letter && !inside) return false;
    }
    return true;
}

/* Files that lie among the zones and are none: the machine's own setting, and other editions. */
static bool name_reserved(const char *name)
{
    return strcmp(name, "localtime") == 0 || strcmp(name, "posixrules") == 0 ||
           strncmp(name, "posix/", 6) == 0 || strncmp(name, "right/", 6) == 0;
}

static enum status not_found(struct fault *fault, const char *name)
{
    fault_set(fault, "", "the IANA name of a zone, like America/Denver", "%s", name);
    return STATUS_NOT_FOUND;
}

static enum status file_load(unsigned char **out, size_t *out_length, const char *name,
                             struct fault *fault)
{
    const char *directory = getenv("TZDIR");
    if (directory == NULL || directory[0] == '\0') directory = "/usr/share/zoneinfo";
    char path[4096];
    const int length = snprintf(path, sizeof path, "%s/%s", directory, name);
    if (length < 0 || (size_t)length >= sizeof path) return not_found(fault, name);
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (file < 0 && (errno == ENOENT || errno == ENOTDIR)) return not_found(fault, name);
    struct stat about;
    enum status status = STATUS_IO;
    if (file >= 0 && fstat(file, &about) == 0)
        status = S_ISREG(about.st_mode) ? file_read(out, out_length, file) : STATUS_NOT_FOUND;
    if (file >= 0) (void)close(file);
    if (status == STATUS_NOT_FOUND) return not_found(fault, name);
    if (status == STATUS_CORRUPT) return corrupt(fault, name, "a file of over 1 MiB");
    if (status == STATUS_IO)
        fault_set(fault, "", "a readable zone file", "%s cannot be read", name);
    return status;
}

enum status zone_load(struct zone **out, const char *name, struct fault *fault)
{
    REQUIRE(out != NULL && name != NULL);
    if (!name_valid(name)) {
        fault_set(fault, "", "the IANA name of a zone, like America/Denver", "%.80s", name);
        return STATUS_INVALID;
    }
    if (name_reserved(name)) return not_found(fault, name);
    unsigned char *data = NULL;
    size_t length = 0;
    enum status status = file_load(&data, &length, name, fault);
    if (status != STATUS_OK) return status;
    struct spans spans = {.items = NULL};
    status = file_decode(&spans, (struct bytes){data, length}, name, fault);
    free(data);
    struct zone *zone = NULL;
    if (status == STATUS_OK && !spans.no_memory) zone = calloc(1, sizeof *zone);
    if (zone == NULL) {
        free(spans.items);
        if (status != STATUS_OK) return status;
        fault_set(fault, "", "memory for a zone", "%s: none left", name);
        return STATUS_IO;
    }
    memcpy(zone->name, name, strlen(name));
    zone->count = spans.count;
    zone->spans = spans.items;
    *out = zone;
    return STATUS_OK;
}

void zone_free(struct zone *zone)
{
    if (zone == NULL) return;
    free(zone->spans);
    free(zone);
}
