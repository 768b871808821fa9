/* SPDX-License-Identifier: MIT */
/*
 * Why: a hold point is passed on a phone, one field a check: `check.level` is the answer, and
 * beside it `of.`, `photo.`, `slip.` and `initials.` of the same name. An empty field is a check
 * that was not made. A tape shows fractions, so a figure may be one.
 */
#include "views/form_checks.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/instant.h"

#include "base/banned.h"

enum { NAME_MAX_BYTES = 80 };

/* Digits only, at most six. */
static bool whole(const char *at, size_t length, double *out)
{
    char digits[8];
    if (length == 0 || length >= sizeof digits) return false;
    for (size_t i = 0; i < length; i++) {
        if (!isdigit((unsigned char)at[i])) return false;
        digits[i] = at[i];
    }
    digits[length] = '\0';
    *out = strtod(digits, NULL);
    return true;
}

/* `1/8` */
static bool fraction(const char *at, size_t length, double *out)
{
    const char *slash = memchr(at, '/', length);
    double over = 0, under = 0;
    if (slash == NULL || !whole(at, (size_t)(slash - at), &over) ||
        !whole(slash + 1, length - (size_t)(slash - at) - 1, &under) || !(under > 0))
        return false;
    *out = over / under;
    return true;
}

/* `12`, `0.125`, `0,125`, `.5` */
static bool decimal(const char *at, size_t length, double *out)
{
    char text[24];
    size_t digits = 0, points = 0;
    if (length == 0 || length >= sizeof text) return false;
    for (size_t i = 0; i < length; i++) {
        text[i] = at[i] == ',' ? '.' : at[i];
        digits += isdigit((unsigned char)text[i]) != 0;
        points += text[i] == '.';
        if (!isdigit((unsigned char)text[i]) && text[i] != '.') return false;
    }
    text[length] = '\0';
    if (digits == 0 || points > 1) return false;
    *out = strtod(text, NULL);
    return true;
}

bool form_figure(double *out, const char *value, size_t length)
{
    bool minus = length > 0 && value[0] == '-';
    if (minus || (length > 0 && value[0] == '+')) {
        value++;
        length--;
    }
    double figure = 0, part = 0;
    const char *blank = length == 0 ? NULL : memchr(value, ' ', length);
    bool known;
    if (blank != NULL) { /* a whole number and a fraction */
        size_t first = (size_t)(blank - value);
        known = whole(value, first, &figure) && fraction(blank + 1, length - first - 1, &part);
        figure += part;
    } else {
        known = fraction(value, length, &figure) || decimal(value, length, &figure);
    }
    if (known) *out = minus ? -figure : figure;
    return known;
}

/* --- one check -------------------------------------------------------------------------------- */

struct answering {
    const struct form_field *fields;
    size_t count;
    struct faults *faults;
    bool bad;
};

/* The value of `<prefix><short>` without blanks around it; NULL when absent or empty. */
static const char *value_of(const struct answering *form, const char *prefix, enum check_id check,
                            size_t *length)
{
    char name[NAME_MAX_BYTES];
    (void)snprintf(name, sizeof name, "%s%s", prefix, check_short_id(check));
    const char *value = form_field_value(form->fields, form->count, name);
    if (value == NULL) return NULL;
    while (isspace((unsigned char)*value)) value++;
    *length = strlen(value);
    while (*length > 0 && isspace((unsigned char)value[*length - 1])) (*length)--;
    return *length == 0 ? NULL : value;
}

static void refuse(struct answering *form, const char *prefix, enum check_id check,
                   const char *wanted, const char *found, size_t length)
{
    char name[NAME_MAX_BYTES];
    (void)snprintf(name, sizeof name, "%s%s", prefix, check_short_id(check));
    form->bad = true;
    (void)faults_add(form->faults, name, wanted, "%.*s", length > 80 ? 80 : (int)length, found);
}

static void put_figure(struct answering *form, struct json *json, const char *prefix,
                       const char *member, enum check_id check, const char *value, size_t length)
{
    double figure = 0;
    if (form_figure(&figure, value, length) && fabs(figure) <= 1000)
        json_put_number(json, member, figure);
    else
        refuse(form, prefix, check, "a number, for example 1/8 or 0.125", value, length);
}

static void put_answer(struct answering *form, struct json *json, enum check_id check,
                       const char *value, size_t length)
{
    int32_t day = 0;
    bool yes = length == 3 && memcmp(value, "yes", 3) == 0;
    bool no = length == 2 && memcmp(value, "no", 2) == 0;
    switch (check_kind_of(check)) {
    case CHECK_KIND_MEASURE:
    case CHECK_KIND_COUNT:
        put_figure(form, json, "check.", "value", check, value, length);
        break;
    case CHECK_KIND_YES:
        if (yes || no)
            json_put_bool(json, "yes", yes);
        else
            refuse(form, "check.", check, "yes or no", value, length);
        break;
    case CHECK_KIND_DATE:
        if (date_parse(&day, value, length, NULL) == STATUS_OK)
            json_put_date(json, "date", day);
        else
            refuse(form, "check.", check, "a date, YYYY-MM-DD", value, length);
        break;
    default:
        json_put_bytes(json, "text", value, length);
    }
}

static void put_check(struct answering *form, struct json *json, enum check_id check,
                      const char *value, size_t length)
{
    static const struct {
        const char *prefix, *member;
    } beside[] = {{"photo.", "photo"}, {"slip.", "slip"}, {"initials.", "initials"}};
    json_open_object(json, NULL);
    json_put_text(json, "check", check_short_id(check));
    put_answer(form, json, check, value, length);
    value = value_of(form, "of.", check, &length);
    if (value != NULL && check_kind_of(check) == CHECK_KIND_COUNT)
        put_figure(form, json, "of.", "of", check, value, length);
    for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
        value = value_of(form, beside[i].prefix, check, &length);
        if (value != NULL) json_put_bytes(json, beside[i].member, value, length);
    }
    json_close(json);
}

/* A field that names a check of another task was meant for something: it is not passed over. */
static void refuse_unknown(struct answering *form, enum task task)
{
    static const char prefix[] = "check.";
    for (size_t i = 0; i < form->count; i++) {
        const char *name = form->fields[i].name;
        if (strncmp(name, prefix, sizeof prefix - 1) != 0 || form->fields[i].value[0] == '\0')
            continue;
        if (check_find(task, name + sizeof prefix - 1) != CHECK_NONE) continue;
        form->bad = true;
        (void)faults_add(form->faults, name, "a check of this task", "%.80s",
                         form->fields[i].value);
    }
}

bool form_checks_put(struct json *json, const struct form_field *fields, size_t count,
                     enum task task, struct faults *faults)
{
    struct answering form = {fields, count, faults, false};
    int first = 0;
    bool open = false;
    size_t checks = check_range(task, &first), length = 0;
    for (size_t i = 0; i < checks; i++) {
        enum check_id check = (enum check_id)(first + (int)i);
        const char *value = value_of(&form, "check.", check, &length);
        if (value == NULL) continue;
        if (!open) json_open_array(json, "checks");
        open = true;
        put_check(&form, json, check, value, length);
    }
    if (open) json_close(json);
    refuse_unknown(&form, task);
    return !form.bad;
}
