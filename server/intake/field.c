/* SPDX-License-Identifier: MIT */
/*
 * Why: see field.h. The reader of one value is one switch over closed types, so that a new member
 * is a row of a table and never a new piece of parsing.
 */
#include "intake/field.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "base/limits.h"
#include "base/text.h"

#include "base/banned.h"

enum {
    FIELDS_MAX = 64,
    SHOWN_MAX = 60,    /* bytes of a value shown in a fault */
    DISTANCE_MAX = 40, /* names longer than this are not compared */
    PLACES_MAX = 16,   /* levels of a path */
};

/* --- faults ---------------------------------------------------------------------------------- */

/* Copy up to SHOWN_MAX bytes of text, whole characters, control characters as '?'. */
static void shorten(char *out, size_t size, const char *text)
{
    size_t used = 0;
    size_t length = strlen(text);
    size_t most = size - 4 < SHOWN_MAX ? size - 4 : SHOWN_MAX;
    for (size_t i = 0; i < length;) {
        size_t step = utf8_length(text + i, length - i);
        bool plain = step > 0 && (unsigned char)text[i] >= 0x20 && text[i] != 0x7f;
        if (step == 0) step = 1;
        if (used + step > most) {
            memcpy(out + used, "…", strlen("…"));
            used += strlen("…");
            break;
        }
        if (plain) {
            memcpy(out + used, text + i, step);
            used += step;
        } else {
            out[used++] = '?';
        }
        i += step;
    }
    out[used] = '\0';
}

static void show_value(char *out, size_t size, const json_t *value)
{
    char text[SHOWN_MAX + 8];
    if (value == NULL) {
        (void)snprintf(out, size, "nothing");
        return;
    }
    switch (json_typeof(value)) {
    case JSON_STRING:
        shorten(text, sizeof text, json_string_value(value));
        (void)snprintf(out, size, "\"%s\"", text);
        break;
    case JSON_INTEGER:
    case JSON_REAL:
        (void)snprintf(out, size, "%.15g", json_number_value(value));
        break;
    case JSON_TRUE:
        (void)snprintf(out, size, "true");
        break;
    case JSON_FALSE:
        (void)snprintf(out, size, "false");
        break;
    case JSON_NULL:
        (void)snprintf(out, size, "null");
        break;
    case JSON_ARRAY:
        (void)snprintf(out, size, "an array of %zu", json_array_size(value));
        break;
    case JSON_OBJECT:
        (void)snprintf(out, size, "an object");
        break;
    }
}

static void render_path(char *out, size_t size, const struct spot *place, const char *key)
{
    const struct spot *levels[PLACES_MAX];
    size_t count = 0;
    for (; place != NULL && count < PLACES_MAX; place = place->up) levels[count++] = place;
    size_t used = 0;
    out[0] = '\0';
    char name[SHOWN_MAX + 8];
    while (count > 0 && used < size) {
        const struct spot *level = levels[--count];
        int n;
        if (level->key == NULL) {
            n = snprintf(out + used, size - used, "[%zu]", level->index);
        } else {
            shorten(name, sizeof name, level->key);
            n = snprintf(out + used, size - used, "%s%s", used > 0 && *name ? "." : "", name);
        }
        used += (size_t)n;
    }
    if (key != NULL && used < size) {
        shorten(name, sizeof name, key);
        (void)snprintf(out + used, size - used, "%s%s", used > 0 ? "." : "", name);
    }
}

enum status field_fault(const struct intake *intake, const struct spot *place, const char *key,
                        const char *wanted, const char *found_format, ...)
{
    char path[FAULT_PATH_MAX];
    char found[FAULT_TEXT_MAX];
    render_path(path, sizeof path, place, key);
    va_list arguments;
    va_start(arguments, found_format);
    (void)vsnprintf(found, sizeof found, found_format, arguments);
    va_end(arguments);
    return faults_add(intake->faults, path, wanted, "%s", found);
}

enum status field_fault_value(const struct intake *intake, const struct spot *place,
                              const char *key, const char *wanted, const json_t *found)
{
    char shown[FAULT_TEXT_MAX];
    show_value(shown, sizeof shown, found);
    return field_fault(intake, place, key, wanted, "%s", shown);
}

enum status field_no_memory(const struct intake *intake, const struct spot *place)
{
    (void)field_fault(intake, place, NULL, "memory", "none left");
    return STATUS_LIMIT;
}

enum status field_worse(enum status a, enum status b)
{
    if (a == STATUS_LIMIT || b == STATUS_LIMIT) return STATUS_LIMIT;
    return a != STATUS_OK ? a : b;
}

/* --- nearest names --------------------------------------------------------------------------- */

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

static bool same_letter(char a, char b)
{
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

/* Edits (insert, delete, replace; upper and lower case alike) between two names. */
static size_t distance(const char *a, const char *b)
{
    size_t la = strlen(a), lb = strlen(b);
    if (la > DISTANCE_MAX || lb > DISTANCE_MAX) return 2 * DISTANCE_MAX;
    size_t row[DISTANCE_MAX + 1];
    for (size_t j = 0; j <= lb; j++) row[j] = j;
    for (size_t i = 1; i <= la; i++) {
        size_t diagonal = row[0];
        row[0] = i;
        for (size_t j = 1; j <= lb; j++) {
            size_t replaced = diagonal + (same_letter(a[i - 1], b[j - 1]) ? 0 : 1);
            diagonal = row[j];
            row[j] = smaller(replaced, smaller(row[j], row[j - 1]) + 1);
        }
    }
    return row[lb];
}

static bool near_enough(const char *name, size_t edits)
{
    return edits <= 2 || edits * 2 <= strlen(name);
}

static enum status unknown_member(const struct intake *intake, const struct spot *place,
                                  const char *name, const struct field *fields, size_t count)
{
    char wanted[FAULT_TEXT_MAX];
    const char *nearest = NULL;
    size_t least = 2 * DISTANCE_MAX;
    for (size_t i = 0; i < count; i++) {
        size_t edits = distance(name, fields[i].name);
        if (edits < least) {
            least = edits;
            nearest = fields[i].name;
        }
    }
    if (nearest != NULL) {
        (void)snprintf(wanted, sizeof wanted, "a known member%s; the nearest is \"%s\"",
                       near_enough(name, least) ? "" : ", or none", nearest);
    } else {
        (void)snprintf(wanted, sizeof wanted, "no members");
    }
    char shown[SHOWN_MAX + 8];
    shorten(shown, sizeof shown, name);
    return field_fault(intake, place, name, wanted, "unknown member \"%s\"", shown);
}

/* --- one value ------------------------------------------------------------------------------- */

static bool allows(const struct field *field, size_t value)
{
    return field->allowed == 0 || (value < 64 && (field->allowed >> value & 1) != 0);
}

static enum status read_choice(const struct intake *intake, const struct spot *place,
                               const struct field *field, json_t *value, void *out)
{
    const char *text = json_string_value(value);
    int found = text == NULL ? -1 : id_find(field->choices, text);
    if (found >= 0 && allows(field, (size_t)found)) {
        memcpy(out, &found, sizeof found);
        return STATUS_OK;
    }
    const char *nearest = NULL;
    size_t least = 2 * DISTANCE_MAX;
    for (size_t i = 0; text != NULL && i < field->choices->count; i++) {
        size_t edits = distance(text, field->choices->ids[i]);
        if (edits < least && allows(field, i)) {
            least = edits;
            nearest = field->choices->ids[i];
        }
    }
    char wanted[FAULT_TEXT_MAX];
    size_t used = 0;
    if (nearest != NULL && near_enough(text, least)) {
        used = (size_t)snprintf(wanted, sizeof wanted, "perhaps \"%s\"; ", nearest);
    }
    used += (size_t)snprintf(wanted + used, sizeof wanted - used, "one of");
    const char *comma = " ";
    for (size_t i = 0; i < field->choices->count; i++) {
        if (!allows(field, i)) continue;
        /* Every value has an id. NOLINTNEXTLINE(clang-analyzer-core.NonNullParamChecker) */
        size_t room = strlen(comma) + strlen(field->choices->ids[i]) + strlen(", …") + 1;
        if (used + room > sizeof wanted) {
            (void)snprintf(wanted + used, sizeof wanted - used, ", …");
            break;
        }
        used += (size_t)snprintf(wanted + used, sizeof wanted - used, "%s%s", comma,
                                 field->choices->ids[i]);
        comma = ", ";
    }
    return field_fault_value(intake, place, NULL, wanted, value);
}

/*
 * One address and nothing a mailer could read as a second one, a name or a header: letters, digits
 * and a few signs, one @, a dot behind it. Narrower than RFC 5321, which also allows quoted parts.
 */
static bool is_mail(const char *text)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    const size_t local = strcspn(text, "@");
    const char *domain = text + local + 1;
    if (local == 0 || local > MAIL_LOCAL_MAX || text[local] != '@' || text[0] == '.' ||
        text[0] == '-')
        return false;
    for (size_t i = 0; i < local; i++)
        if (strchr(letters, text[i]) == NULL && strchr("._%+-'=", text[i]) == NULL) return false;
    const size_t length = strlen(domain);
    if (length < 3 || strchr(domain, '.') == NULL || strstr(domain, "..") != NULL) return false;
    if (domain[0] == '.' || domain[0] == '-' || domain[length - 1] == '.') return false;
    for (size_t i = 0; i < length; i++)
        if (strchr(letters, domain[i]) == NULL && domain[i] != '.' && domain[i] != '-')
            return false;
    return true;
}

static enum status read_string(const struct intake *intake, const struct spot *place,
                               const struct field *field, json_t *value, void *out)
{
    size_t most = field->type == FIELD_ID     ? ID_BYTES_MAX
                  : field->type == FIELD_NAME ? NAME_BYTES_MAX
                  : field->type == FIELD_MAIL ? MAIL_BYTES_MAX
                                              : TEXT_BYTES_MAX;
    size_t least = field->type == FIELD_TEXT ? 0 : 1;
    char wanted[96];
    if (!json_is_string(value)) {
        return field_fault_value(intake, place, NULL, "a text in quotes", value);
    }
    const char *text = json_string_value(value);
    size_t length = json_string_length(value);
    if (length < least || length > most) {
        (void)snprintf(wanted, sizeof wanted, "a text of %zu to %zu bytes", least, most);
        return field_fault(intake, place, NULL, wanted, "a text of %zu bytes", length);
    }
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        bool line = field->type == FIELD_TEXT && (c == '\n' || c == '\t' || c == '\r');
        if ((c < 0x20 && !line) || c == 0x7f) {
            return field_fault(intake, place, NULL, "a text without control characters",
                               "the byte 0x%02x in it", c);
        }
    }
    if (field->type == FIELD_MAIL && (strlen(text) != length || !is_mail(text)))
        return field_fault_value(intake, place, NULL, "one mail address like crew@example.org",
                                 value);
    char *copy = arena_copy(intake->arena, text, length);
    if (copy == NULL) return field_no_memory(intake, place);
    memcpy(out, &copy, sizeof copy);
    return STATUS_OK;
}

static enum status read_number(const struct intake *intake, const struct spot *place,
                               const struct field *field, json_t *value, void *out)
{
    char wanted[96];
    bool whole = field->type == FIELD_INTEGER;
    const char *unit = field->type == FIELD_DEGF || field->type == FIELD_DELTA_F ? " F" : "";
    (void)snprintf(wanted, sizeof wanted, "a %snumber from %.15g to %.15g%s", whole ? "whole " : "",
                   field->least, field->most, unit);
    double number = json_is_number(value) ? json_number_value(value) : (double)NAN;
    if (!isfinite(number) || number < field->least || number > field->most ||
        (whole && number != floor(number))) {
        return field_fault_value(intake, place, NULL, wanted, value);
    }
    if (whole) {
        int integer = (int)number;
        memcpy(out, &integer, sizeof integer);
        return STATUS_OK;
    }
    if (field->type == FIELD_DEGF) number = (number - 32.0) * 5.0 / 9.0;
    if (field->type == FIELD_DELTA_F) number = number * 5.0 / 9.0;
    memcpy(out, &number, sizeof number);
    return STATUS_OK;
}

static bool two_digits(const char *text, int *out)
{
    if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9') return false;
    *out = (text[0] - '0') * 10 + (text[1] - '0');
    return true;
}

/* Instants, dates and times of day: text with a shape. */
static enum status read_time(const struct intake *intake, const struct spot *place,
                             const struct field *field, json_t *value, void *out)
{
    static const char *const wanted[] = {
        [FIELD_INSTANT] =
            "an instant with its offset, 1970 to 2199, like 2026-10-24T10:00:00-06:00",
        [FIELD_DATE] = "a date, 1970 to 2199, like 2026-10-24",
        [FIELD_MINUTES] = "a time of day like 07:00, up to 24:00",
    };
    const char *text = json_string_value(value);
    if (text == NULL) return field_fault_value(intake, place, NULL, wanted[field->type], value);
    size_t length = json_string_length(value);
    struct fault fault = {.wanted = ""};
    enum status status = STATUS_INVALID;
    if (field->type == FIELD_INSTANT) {
        int64_t at_s;
        status = instant_parse(&at_s, text, length, &fault);
        if (status == STATUS_OK) memcpy(out, &at_s, sizeof at_s);
    } else if (field->type == FIELD_DATE) {
        int32_t day;
        status = date_parse(&day, text, length, &fault);
        if (status == STATUS_OK) memcpy(out, &day, sizeof day);
    } else {
        int hour, minute;
        if (length == 5 && text[2] == ':' && two_digits(text, &hour) &&
            two_digits(text + 3, &minute) && minute < 60 && hour * 60 + minute <= 1440) {
            int minutes = hour * 60 + minute;
            memcpy(out, &minutes, sizeof minutes);
            status = STATUS_OK;
        }
    }
    if (status == STATUS_OK) return STATUS_OK;
    return field_fault_value(intake, place, NULL,
                             fault.wanted[0] != '\0' ? fault.wanted : wanted[field->type], value);
}

enum status field_read(const struct intake *intake, const struct spot *place,
                       const struct field *field, json_t *value, void *out)
{
    switch (field->type) {
    case FIELD_ID:
    case FIELD_NAME:
    case FIELD_TEXT:
    case FIELD_MAIL:
        return read_string(intake, place, field, value, out);
    case FIELD_NUMBER:
    case FIELD_DEGF:
    case FIELD_DELTA_F:
    case FIELD_INTEGER:
        return read_number(intake, place, field, value, out);
    case FIELD_CHOICE:
        return read_choice(intake, place, field, value, out);
    case FIELD_INSTANT:
    case FIELD_DATE:
    case FIELD_MINUTES:
        return read_time(intake, place, field, value, out);
    case FIELD_BOOL:
        if (!json_is_boolean(value)) {
            return field_fault_value(intake, place, NULL, "true or false", value);
        }
        *(bool *)out = json_is_true(value);
        return STATUS_OK;
    case FIELD_JSON:
        return STATUS_OK;
    }
    status_abort(__FILE__, __LINE__, "a type of the list");
}

/* --- an object ------------------------------------------------------------------------------- */

/* What a missing member should have been, in words. */
static const char *missing(const struct field *field)
{
    switch (field->type) {
    case FIELD_ID:
        return "an id";
    case FIELD_NAME:
    case FIELD_TEXT:
        return "a text in quotes";
    case FIELD_MAIL:
        return "a mail address";
    case FIELD_NUMBER:
    case FIELD_DEGF:
    case FIELD_DELTA_F:
    case FIELD_INTEGER:
        return "a number";
    case FIELD_BOOL:
        return "true or false";
    case FIELD_INSTANT:
        return "an instant with its offset, like 2026-10-24T10:00:00-06:00";
    case FIELD_DATE:
        return "a date like 2026-10-24";
    case FIELD_MINUTES:
        return "a time of day like 07:00";
    default:
        return "this member";
    }
}

/* Checks how many members of the group of `fields[first]` are there. */
static enum status check_group(const struct intake *intake, const struct spot *place,
                               json_t *object, const struct field *fields, size_t count,
                               size_t first)
{
    char names[96] = "";
    size_t used = 0, present = 0;
    for (size_t i = 0; i < count; i++) {
        if (fields[i].group != fields[first].group) continue;
        if (i < first) return STATUS_OK; /* told already */
        if (json_object_get(object, fields[i].name) != NULL) present++;
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", used > 0 ? " or " : "",
                                 fields[i].name);
        REQUIRE(used < sizeof names);
    }
    if (present == 1 || (present == 0 && !fields[first].required)) return STATUS_OK;
    char wanted[128];
    (void)snprintf(wanted, sizeof wanted, "exactly one of %s", names);
    return field_fault(intake, place, fields[first].name, wanted,
                       present == 0 ? "nothing" : "both");
}

static enum status read_member(const struct intake *intake, const struct spot *place,
                               json_t *object, const struct field *fields, size_t count, size_t i,
                               void *out)
{
    const struct field *field = &fields[i];
    enum status status = STATUS_OK;
    if (field->group != 0) status = check_group(intake, place, object, fields, count, i);
    json_t *value = json_object_get(object, field->name);
    if (value != NULL && field->nullable && json_is_null(value)) value = NULL;
    struct spot here = {.up = place, .key = field->name};
    if (value == NULL) {
        if (field->group != 0 || !field->required) return status;
        if (field->type == FIELD_CHOICE) return read_choice(intake, &here, field, NULL, out);
        return field_fault(intake, &here, NULL, missing(field), "nothing");
    }
    return field_worse(status,
                       field_read(intake, &here, field, value, (char *)out + field->offset));
}

enum status field_read_object(const struct intake *intake, const struct spot *place, json_t *object,
                              const struct field *fields, size_t count, void *out)
{
    REQUIRE(count <= FIELDS_MAX);
    if (!json_is_object(object)) {
        return field_fault_value(intake, place, NULL, "an object", object);
    }
    enum status status = STATUS_OK;
    const char *name;
    json_t *value;
    json_object_foreach(object, name, value)
    {
        bool known = false;
        for (size_t i = 0; i < count && !known; i++) known = strcmp(fields[i].name, name) == 0;
        if (!known) {
            status = field_worse(status, unknown_member(intake, place, name, fields, count));
        }
    }
    for (size_t i = 0; i < count; i++) {
        status = field_worse(status, read_member(intake, place, object, fields, count, i, out));
    }
    return status;
}

json_t *field_array(const struct intake *intake, const struct spot *place, json_t *value,
                    size_t most, const char *of_what)
{
    char wanted[96];
    if (json_is_array(value) && json_array_size(value) <= most) return value;
    (void)snprintf(wanted, sizeof wanted, "an array of at most %zu %s", most, of_what);
    (void)field_fault_value(intake, place, NULL, wanted, value);
    return NULL;
}
