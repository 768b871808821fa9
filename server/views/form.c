/* SPDX-License-Identifier: MIT */
/*
 * Why: see form.h. One table says which posted field becomes which member of which kind of record;
 * the API's own reader then checks the record again, so a mistake here can lose a field but never
 * let a wrong one in.
 */
#include "views/form.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/instant.h"
#include "base/json.h"
#include "compute/civil.h"
#include "model/ids.h"
#include "views/form_checks.h"

#include "base/banned.h"

enum { HOUR_S = 3600, DAY_S = 86400, FORM_ID_MIN = 8, LOCAL_TEXT = 16 };

enum member_type {
    MEMBER_TEXT,
    MEMBER_CHOICE,  /**< an id of `choices` */
    MEMBER_DEGREES, /**< a number; the member's name ends in degf or degc by the field `scale` */
    MEMBER_NUMBER,
    MEMBER_WHOLE,
    MEMBER_DATE,
    MEMBER_FLAG, /**< a tick box: present means true */
};

struct member {
    enum record_kind kind; /**< RECORD_KIND_NONE: every kind */
    const char *field;     /**< name in the form */
    const char *name;      /**< name in the record */
    enum member_type type;
    bool needed;
    const struct id_table *choices;
};

static const struct member members[] = {
    {RECORD_KIND_NONE, "by", "by", MEMBER_TEXT, false, NULL},
    {RECORD_DONE, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_DONE, "lot", "lot", MEMBER_TEXT, false, NULL},
    {RECORD_DONE, "initials", "initials", MEMBER_TEXT, false, NULL},
    {RECORD_STARTED, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_STARTED, "lot", "lot", MEMBER_TEXT, false, NULL},
    {RECORD_STOPPED, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_STOPPED, "why", "why", MEMBER_CHOICE, false, &stop_why_ids},
    {RECORD_PASSED, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_PASSED, "initials", "initials", MEMBER_TEXT, false, NULL},
    {RECORD_FAILED, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_INSPECTION, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_INSPECTION, "result", "result", MEMBER_CHOICE, true, &result_ids},
    {RECORD_INSPECTION, "inspector", "inspector", MEMBER_TEXT, false, NULL},
    {RECORD_INSPECTION, "initials", "initials", MEMBER_TEXT, false, NULL},
    {RECORD_READING, "part", "part", MEMBER_CHOICE, true, &part_ids},
    {RECORD_READING, "how", "how", MEMBER_CHOICE, false, &reading_how_ids},
    {RECORD_READING, "degrees", "", MEMBER_DEGREES, true, NULL},
    {RECORD_LOGGED_DAY, "date", "date", MEMBER_DATE, true, NULL},
    {RECORD_LOGGED_DAY, "mean", "mean_", MEMBER_DEGREES, true, NULL},
    {RECORD_LOGGED_DAY, "min", "min_", MEMBER_DEGREES, true, NULL},
    {RECORD_CLOSED_IN, "part", "part", MEMBER_CHOICE, true, &part_ids},
    {RECORD_CLOSED_IN, "shelter", "how", MEMBER_CHOICE, true, &shelter_ids},
    {RECORD_OPENED, "part", "part", MEMBER_CHOICE, true, &part_ids},
    {RECORD_OPENED, "shelter", "how", MEMBER_CHOICE, false, &shelter_ids},
    {RECORD_WET_COVER_ON, "part", "part", MEMBER_CHOICE, false, &part_ids},
    {RECORD_WET_COVER_OFF, "part", "part", MEMBER_CHOICE, false, &part_ids},
    {RECORD_SOAKED, "part", "part", MEMBER_CHOICE, true, &part_ids},
    {RECORD_SOAKED, "standing", "standing", MEMBER_FLAG, false, NULL},
    {RECORD_LOOKED, "part", "part", MEMBER_CHOICE, true, &part_ids},
    {RECORD_LOOKED, "result", "result", MEMBER_CHOICE, true, &result_ids},
    {RECORD_PATCHED, "days", "days", MEMBER_WHOLE, false, NULL},
    {RECORD_PATCHED, "initials", "initials", MEMBER_TEXT, false, NULL},
    {RECORD_RELAID, "what", "what", MEMBER_CHOICE, true, &relaid_what_ids},
    {RECORD_RELAID, "percent", "percent", MEMBER_NUMBER, false, NULL},
    {RECORD_FACING, "last", "last", MEMBER_FLAG, false, NULL},
    {RECORD_AGREED, "date", "date", MEMBER_DATE, true, NULL},
    {RECORD_AGREED, "reason", "reason", MEMBER_TEXT, false, NULL},
    {RECORD_BOOKED, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_BOOKED, "date", "date", MEMBER_DATE, false, NULL},
    {RECORD_HELD_DATE, "task", "task", MEMBER_CHOICE, true, &task_ids},
    {RECORD_HELD_DATE, "date", "date", MEMBER_DATE, true, NULL},
    {RECORD_BAG, "lot", "lot", MEMBER_TEXT, true, NULL},
    {RECORD_BAG, "mortar", "mortar", MEMBER_CHOICE, false, &mortar_ids},
    {RECORD_BAG, "min", "min_", MEMBER_DEGREES, false, NULL},
    {RECORD_BAG, "made_on", "made_on", MEMBER_DATE, false, NULL},
    {RECORD_BAG, "months", "months", MEMBER_NUMBER, false, NULL},
    {RECORD_BAG, "condition", "condition", MEMBER_CHOICE, false, &bag_condition_ids},
    {RECORD_BAG, "max", "max_", MEMBER_DEGREES, false, NULL},
    {RECORD_BAG, "pot_life", "pot_life_min", MEMBER_NUMBER, false, NULL},
    {RECORD_KIND_NONE, "photo", "photo", MEMBER_TEXT, false, NULL},
    {RECORD_KIND_NONE, "note", "note", MEMBER_TEXT, false, NULL},
};

/* One form while it is read. */
struct form {
    const struct form_field *fields;
    size_t count;
    const struct zone *zone;
    int64_t now_s;
    struct form_said *said;
    struct faults *faults;
    bool bad;
};

const char *form_field_value(const struct form_field *fields, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(fields[i].name, name) == 0) return fields[i].value;
    }
    return NULL;
}

/* A field's value without blanks around it; NULL when it is absent or empty. */
static const char *value_of(const struct form *form, const char *name, size_t *length)
{
    const char *value = form_field_value(form->fields, form->count, name);
    if (value == NULL) return NULL;
    while (isspace((unsigned char)*value)) value++;
    *length = strlen(value);
    while (*length > 0 && isspace((unsigned char)value[*length - 1])) (*length)--;
    return *length == 0 ? NULL : value;
}

static void refuse(struct form *form, const char *field, const char *wanted, const char *found,
                   size_t length)
{
    form->bad = true;
    int n = length > 80 ? 80 : (int)length;
    faults_add(form->faults, field, wanted, "%.*s", n, found);
}

/* A plain decimal: optional sign, digits, one point or comma, digits. */
static bool read_number(const char *value, size_t length, double *out)
{
    char buffer[32];
    if (length >= sizeof buffer) return false;
    size_t digits = 0;
    size_t points = 0;
    for (size_t i = 0; i < length; i++) {
        char c = value[i] == ',' ? '.' : value[i];
        if (isdigit((unsigned char)c)) {
            digits++;
        } else if (c == '.') {
            points++;
        } else if (!((c == '-' || c == '+') && i == 0)) {
            return false;
        }
        buffer[i] = c;
    }
    buffer[length] = '\0';
    if (digits == 0 || points > 1) return false;
    *out = strtod(buffer, NULL);
    return isfinite(*out);
}

static void put_choice(struct form *form, struct json *json, const struct member *member,
                       const char *value, size_t length)
{
    for (size_t i = 0; i < member->choices->count; i++) {
        if (strlen(member->choices->ids[i]) == length &&
            memcmp(member->choices->ids[i], value, length) == 0) {
            json_put_text(json, member->name, member->choices->ids[i]);
            return;
        }
    }
    refuse(form, member->field, member->choices->what, value, length);
}

static void put_number(struct form *form, struct json *json, const struct member *member,
                       const char *value, size_t length)
{
    double number;
    if (!read_number(value, length, &number)) {
        refuse(form, member->field, "a number", value, length);
        return;
    }
    if (member->type == MEMBER_WHOLE && (number != floor(number) || fabs(number) > 1e6)) {
        refuse(form, member->field, "a whole number", value, length);
        return;
    }
    if (member->type == MEMBER_WHOLE) {
        json_put_integer(json, member->name, (int64_t)number);
        return;
    }
    char name[32];
    const char *scale = form_field_value(form->fields, form->count, "scale");
    bool celsius = scale != NULL && strcmp(scale, "c") == 0;
    bool degrees = member->type == MEMBER_DEGREES;
    snprintf(name, sizeof name, "%s%s", member->name, !degrees ? "" : celsius ? "degc" : "degf");
    json_put_number(json, name, number);
}

static void put_member(struct form *form, struct json *json, const struct member *member)
{
    size_t length = 0;
    const char *value = value_of(form, member->field, &length);
    if (value == NULL) {
        if (member->needed) refuse(form, member->field, "something here", "nothing", 7);
        return;
    }
    int32_t day;
    switch (member->type) {
    case MEMBER_TEXT:
        json_put_bytes(json, member->name, value, length);
        break;
    case MEMBER_CHOICE:
        put_choice(form, json, member, value, length);
        break;
    case MEMBER_FLAG:
        json_put_bool(json, member->name, true);
        break;
    case MEMBER_DATE:
        if (date_parse(&day, value, length, NULL) != STATUS_OK) {
            refuse(form, member->field, "a date, YYYY-MM-DD", value, length);
        } else {
            json_put_date(json, member->name, day);
        }
        break;
    case MEMBER_DEGREES:
    case MEMBER_NUMBER:
    case MEMBER_WHOLE:
        put_number(form, json, member, value, length);
        break;
    }
}

/* The later of two instants that show the same wall clock, where a clock goes back. */
static int64_t later_twin_s(const struct zone *zone, int64_t at_s, int64_t local_s)
{
    for (size_t i = 1; i < zone->count; i++) {
        int64_t change_s = zone->spans[i].from_s;
        if (change_s <= at_s) continue;
        if (change_s > at_s + DAY_S) break;
        int64_t twin_s = local_s - zone->spans[i].offset_s;
        if (twin_s > at_s && twin_s >= change_s &&
            (i + 1 == zone->count || twin_s < zone->spans[i + 1].from_s))
            return twin_s;
    }
    return at_s;
}

static bool two_digits(const char *at, int most, int *out)
{
    if (at[0] < '0' || at[0] > '9' || at[1] < '0' || at[1] > '9') return false;
    *out = (at[0] - '0') * 10 + (at[1] - '0');
    return *out <= most;
}

/* `YYYY-MM-DDTHH:MM`, seconds allowed, by the wall clock of the job. */
static bool read_local(struct form *form, const char *value, size_t length, int64_t *at_s)
{
    int32_t day;
    int hour = 0, minute = 0;
    bool shape = length >= LOCAL_TEXT && (value[10] == 'T' || value[10] == ' ') &&
                 date_parse(&day, value, 10, NULL) == STATUS_OK &&
                 two_digits(value + 11, 23, &hour) && value[13] == ':' &&
                 two_digits(value + 14, 59, &minute) &&
                 (length == LOCAL_TEXT || value[LOCAL_TEXT] == ':');
    if (!shape) {
        refuse(form, "at_local", "a date and a time, YYYY-MM-DDTHH:MM", value, length);
        return false;
    }
    int second = hour * HOUR_S + minute * 60;
    *at_s = civil_instant_s(form->zone, day, second);
    if (civil_day_of(form->zone, *at_s) != day ||
        civil_second_of_day(form->zone, *at_s) != second) {
        refuse(form, "at_local", "a time the clock showed (it was put forward that night)", value,
               length);
        return false;
    }
    int64_t twin_s = later_twin_s(form->zone, *at_s, (int64_t)day * DAY_S + second);
    if (twin_s != *at_s && twin_s <= form->now_s) {
        *at_s = twin_s;
        if (form->said != NULL) form->said->hour_twice = true;
    }
    return true;
}

static void put_time(struct form *form, struct json *json)
{
    int64_t at_s = form->now_s;
    size_t length = 0;
    const char *value = value_of(form, "at", &length);
    if (value != NULL) {
        if (instant_parse(&at_s, value, length, NULL) != STATUS_OK) {
            refuse(form, "at", "a time with its offset from UTC", value, length);
            return;
        }
    } else {
        value = value_of(form, "at_local", &length);
        if (value != NULL && !read_local(form, value, length, &at_s)) return;
    }
    json_put_instant(json, "at", at_s, form->zone);
}

static int read_kind(struct form *form)
{
    size_t length = 0;
    const char *value = value_of(form, "kind", &length);
    if (value == NULL) {
        refuse(form, "kind", "what happened", "nothing", 7);
        return -1;
    }
    for (size_t i = 0; i < record_kind_ids.count; i++) {
        if (strlen(record_kind_ids.ids[i]) == length &&
            memcmp(record_kind_ids.ids[i], value, length) == 0)
            return (int)i;
    }
    refuse(form, "kind", record_kind_ids.what, value, length);
    return -1;
}

/* Kinds that pages have a form for; the rest come through the API. */
static bool has_form(int kind)
{
    for (size_t i = 0; i < sizeof members / sizeof *members; i++) {
        if ((int)members[i].kind == kind) return true;
    }
    return kind == RECORD_COVERED || kind == RECORD_UNCOVERED || kind == RECORD_WRAPPED ||
           kind == RECORD_UNWRAPPED || kind == RECORD_LIT || kind == RECORD_NOTE;
}

/* What was checked, of the kinds that may say so. */
static void put_checks(struct form *form, struct json *json, int kind)
{
    size_t length = 0;
    if (kind != RECORD_DONE && kind != RECORD_PASSED && kind != RECORD_INSPECTION) return;
    const char *value = value_of(form, "task", &length);
    for (size_t t = 0; value != NULL && t < task_ids.count; t++) {
        if (strlen(task_ids.ids[t]) != length || memcmp(task_ids.ids[t], value, length) != 0)
            continue;
        if (!form_checks_put(json, form->fields, form->count, (enum task)t, form->faults))
            form->bad = true;
    }
}

static void put_record(struct form *form, struct json *json, int kind)
{
    size_t length = 0;
    const char *id = value_of(form, "id", &length);
    json_open_object(json, NULL);
    if (id == NULL || length < FORM_ID_MIN || length > ID_BYTES_MAX) {
        refuse(form, "id", "the id the form came with", id == NULL ? "nothing" : id,
               id == NULL ? 7 : length);
    } else {
        json_put_bytes(json, "id", id, length);
    }
    json_put_text(json, "kind", record_kind_ids.ids[kind]);
    put_time(form, json);
    for (size_t i = 0; i < sizeof members / sizeof *members; i++) {
        if (members[i].kind == RECORD_KIND_NONE || (int)members[i].kind == kind)
            put_member(form, json, &members[i]);
    }
    put_checks(form, json, kind);
    if (kind == RECORD_NOTE && value_of(form, "note", &length) == NULL)
        refuse(form, "note", "something here", "nothing", 7);
    json_close(json);
}

enum status form_record_json(struct text *json, const struct form_field *fields, size_t count,
                             const struct job *job, int64_t now_s, struct form_said *said,
                             struct faults *faults)
{
    struct form form = {.fields = fields,
                        .count = count,
                        .zone = job->zone,
                        .now_s = now_s,
                        .said = said,
                        .faults = faults};
    if (said != NULL) *said = (struct form_said){false};
    int kind = read_kind(&form);
    if (kind < 0) return STATUS_INVALID;
    if (!has_form(kind)) {
        refuse(&form, "kind", "a kind of record with a form", record_kind_ids.ids[kind],
               strlen(record_kind_ids.ids[kind]));
        return STATUS_INVALID;
    }
    struct text written = TEXT_UP_TO(1 << 16);
    struct json writer = {.text = &written};
    put_record(&form, &writer, kind);
    enum status status = form.bad ? STATUS_INVALID : text_status(&written);
    if (status == STATUS_OK) {
        text_add(json, text_z(&written), written.length);
        status = text_status(json);
    }
    text_free(&written);
    return status;
}
