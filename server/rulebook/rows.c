/* SPDX-License-Identifier: MIT */
/* Why: see rows.h. The smallest steps of reading a rulebook: a member, an id, a number with its
 * mark. */
#include "rulebook/rows.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"

#include "base/banned.h"

struct path path_member(const char *base, const char *name)
{
    struct path path;
    if (snprintf(path.text, sizeof path.text, "%s%s%s", base, base[0] == '\0' ? "" : ".", name) <
        0) {
        path.text[0] = '\0';
    }
    return path;
}

struct path path_index(const char *base, size_t index)
{
    struct path path;
    if (snprintf(path.text, sizeof path.text, "%s[%zu]", base, index) < 0) path.text[0] = '\0';
    return path;
}

void reader_fault(struct reader *reader, const char *path, const char *wanted,
                  const char *found_format, ...)
{
    char found[FAULT_TEXT_MAX];
    va_list arguments;
    va_start(arguments, found_format);
    (void)vsnprintf(found, sizeof found, found_format, arguments);
    va_end(arguments);
    reader->bad++;
    (void)faults_add(reader->faults, path[0] == '\0' ? "$" : path, wanted, "%s", found);
}

struct path json_found(const json_t *value)
{
    struct path out;
    switch (value == NULL ? JSON_NULL : json_typeof(value)) {
    case JSON_STRING:
        (void)snprintf(out.text, sizeof out.text, "\"%.80s\"", json_string_value(value));
        break;
    case JSON_INTEGER:
    case JSON_REAL:
        (void)snprintf(out.text, sizeof out.text, "%.12g", json_number_value(value));
        break;
    case JSON_TRUE:
        (void)snprintf(out.text, sizeof out.text, "true");
        break;
    case JSON_FALSE:
        (void)snprintf(out.text, sizeof out.text, "false");
        break;
    case JSON_OBJECT:
        (void)snprintf(out.text, sizeof out.text, "an object");
        break;
    case JSON_ARRAY:
        (void)snprintf(out.text, sizeof out.text,
                       json_array_size(value) == 0 ? "an empty list" : "a list");
        break;
    default:
        (void)snprintf(out.text, sizeof out.text, value == NULL ? "nothing" : "null");
    }
    return out;
}

bool row_object(struct reader *reader, const char *path, const json_t *value,
                const char *const *members)
{
    if (!json_is_object(value)) {
        reader_fault(reader, path, "an object", "%s", json_found(value).text);
        return false;
    }
    char wanted[FAULT_TEXT_MAX] = "one of";
    size_t used = strlen(wanted);
    for (size_t i = 0; members[i] != NULL && used < sizeof wanted; i++) {
        int more = snprintf(wanted + used, sizeof wanted - used, " %s", members[i]);
        if (more > 0) used += (size_t)more;
    }
    /* Iteration of jansson is over the object itself and wants it not const; nothing is changed. */
    for (void *at = json_object_iter((json_t *)(uintptr_t)value); at != NULL;
         at = json_object_iter_next((json_t *)(uintptr_t)value, at)) {
        const char *name = json_object_iter_key(at);
        bool known = false;
        for (size_t i = 0; members[i] != NULL && !known; i++) {
            known = strcmp(members[i], name) == 0;
        }
        if (!known) {
            reader_fault(reader, path_member(path, name).text, wanted, "unknown member %.80s",
                         name);
        }
    }
    return true;
}

const char *row_string(struct reader *reader, const char *path, const json_t *row, const char *name,
                       bool required)
{
    const json_t *value = json_object_get(row, name);
    if (value == NULL && !required) return NULL;
    if (!json_is_string(value) || json_string_length(value) == 0 ||
        json_string_length(value) > TEXT_BYTES_MAX) {
        reader_fault(reader, path_member(path, name).text, "a text", "%s", json_found(value).text);
        return NULL;
    }
    return json_string_value(value);
}

int row_id(struct reader *reader, const char *path, const json_t *row, const char *name,
           const struct id_table *table, bool required)
{
    const json_t *value = json_object_get(row, name);
    if (value == NULL && !required) return -1;
    int found = json_is_string(value) ? id_find(table, json_string_value(value)) : -1;
    if (found < 0) {
        char wanted[FAULT_TEXT_MAX];
        int used = snprintf(wanted, sizeof wanted, "a known %s", table->what);
        for (size_t i = 0;
             table->count <= 8 && i < table->count && used > 0 && (size_t)used < sizeof wanted;
             i++) {
            used += snprintf(wanted + used, sizeof wanted - (size_t)used, "%s%s",
                             i == 0 ? ": " : ", ", table->ids[i]);
        }
        reader_fault(reader, path_member(path, name).text, wanted, "%s", json_found(value).text);
    }
    return found;
}

bool row_double(struct reader *reader, const char *path, const json_t *row, const char *name,
                double least, double most, bool required, double *out)
{
    const json_t *value = json_object_get(row, name);
    if (value == NULL && !required) return false;
    if (json_is_number(value)) {
        double number = json_number_value(value);
        if (number >= least && number <= most) {
            *out = number;
            return true;
        }
    }
    char wanted[FAULT_TEXT_MAX];
    if (least < most) {
        (void)snprintf(wanted, sizeof wanted, "a number from %.12g to %.12g", least, most);
    } else {
        (void)snprintf(wanted, sizeof wanted, "the number %.12g", least);
    }
    reader_fault(reader, path_member(path, name).text, wanted, "%s", json_found(value).text);
    return false;
}

void row_standing(struct reader *reader, const char *path, const json_t *row, enum mark *mark,
                  const char **source)
{
    *source = NULL;
    int found = row_id(reader, path, row, "mark", &mark_ids, true);
    *mark = found < 0 ? MARK_NONE : (enum mark)found;
    struct path at = path_member(path, "source");
    const char *named = row_string(reader, path, row, "source", false);
    if (named == NULL) {
        if (*mark == MARK_P && json_object_get(row, "source") == NULL) {
            reader_fault(reader, at.text, "a source, because the mark is P", "nothing");
        }
        return;
    }
    if (*mark == MARK_CP) {
        reader_fault(reader, at.text, "no source, because the mark is CP", "\"%.80s\"", named);
    }
    if (json_object_get(reader->sources, named) == NULL) {
        reader_fault(reader, at.text, "an id of schema/sources.json", "\"%.80s\"", named);
    }
    *source = named;
}

/** Units whose number is held as written times a factor. */
static const struct {
    const char *unit;
    double factor;
} unit_factors[] = {
    {"mph", 0.44704},
    {"in", 25.4},
    {"F-difference", 5.0 / 9.0},
};

double unit_held(const char *unit, double value)
{
    if (strcmp(unit, "F") == 0) return (value - 32.0) * 5.0 / 9.0;
    if (strcmp(unit, "F-difference") == 0) return value * 5.0 / 9.0;
    for (size_t i = 0; i < sizeof unit_factors / sizeof *unit_factors; i++) {
        if (strcmp(unit, unit_factors[i].unit) == 0) return value * unit_factors[i].factor;
    }
    return value;
}

double unit_written(const char *unit, double held)
{
    if (strcmp(unit, "F") == 0) return held * 9.0 / 5.0 + 32.0;
    for (size_t i = 0; i < sizeof unit_factors / sizeof *unit_factors; i++) {
        if (strcmp(unit, unit_factors[i].unit) == 0) return held / unit_factors[i].factor;
    }
    return held;
}

/** How far a number may go, as written; wide enough for every rule, narrow enough for a slip. */
static double unit_least(const char *unit)
{
    if (strcmp(unit, "F") == 0) return -60.0;
    if (strcmp(unit, "signed-h") == 0) return -24.0;
    return strcmp(unit, "C") == 0 ? -51.0 : 0.0;
}

static double unit_most(const char *unit)
{
    if (strcmp(unit, "F") == 0) return 200.0;
    return strcmp(unit, "C") == 0 ? 93.0 : 10000.0;
}

struct rule_number row_number(struct reader *reader, const char *path, const json_t *row,
                              const char *unit, double most)
{
    struct rule_number number = {.value = NAN, .mark = MARK_NONE, .least = NAN};
    double ceiling = most > 0.0 && strcmp(unit, "F") != 0 ? most : unit_most(unit);
    double value = NAN;
    double least = NAN;
    bool given = row_double(reader, path, row, "value", unit_least(unit), ceiling, true, &value);
    bool bound = row_double(reader, path, row, "least", unit_least(unit), ceiling, false, &least);
    row_standing(reader, path, row, &number.mark, &number.source);
    if (!given) return number;
    if ((strcmp(unit, "day") == 0 || strcmp(unit, "year") == 0) && value != floor(value)) {
        reader_fault(reader, path_member(path, "value").text, "a whole number", "%.12g", value);
    }
    if (bound && value < least) {
        char wanted[FAULT_TEXT_MAX];
        (void)snprintf(wanted, sizeof wanted, "at least %.12g", least);
        reader_fault(reader, path_member(path, "value").text, wanted, "%.12g", value);
    }
    number.value = unit_held(unit, value);
    if (bound) number.least = unit_held(unit, least);
    return number;
}

const json_t *row_array(struct reader *reader, const char *path, const json_t *row,
                        const char *name)
{
    const json_t *list = json_object_get(row, name);
    if (json_is_array(list) && json_array_size(list) > 0) return list;
    reader_fault(reader, path_member(path, name).text, "a list with at least one row", "%s",
                 json_found(list).text);
    return NULL;
}
