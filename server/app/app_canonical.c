/* SPDX-License-Identifier: MIT */
/* Why: one form of bytes for one meaning, so that the same body sent twice hashes the same. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/limits.h"

#include "base/banned.h"

void app_number(struct text *out, double value)
{
    char digits[40];
    if (value == 0.0) value = 0.0; /* no minus zero */
    for (int precision = 15; precision <= 17; precision++) {
        (void)snprintf(digits, sizeof digits, "%.*g", precision, value);
        if (strtod(digits, NULL) == value) break;
    }
    text_add_z(out, isfinite(value) ? digits : "null");
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static bool left_out(const char *name, const char *const *less)
{
    for (; less != NULL && *less != NULL; less++) {
        if (strcmp(name, *less) == 0) return true;
    }
    return false;
}

static void object(struct text *out, const json_t *json, const char *const *less, unsigned depth);

static void value(struct text *out, const json_t *json, unsigned depth)
{
    ENSURE(depth <= JSON_DEPTH_MAX + 1);
    switch (json_typeof(json)) {
    case JSON_OBJECT:
        object(out, json, NULL, depth);
        break;
    case JSON_ARRAY:
        text_add_byte(out, '[');
        for (size_t i = 0; i < json_array_size(json); i++) {
            if (i > 0) text_add_byte(out, ',');
            value(out, json_array_get(json, i), depth + 1);
        }
        text_add_byte(out, ']');
        break;
    case JSON_STRING:
        text_json_string(out, json_string_value(json), json_string_length(json));
        break;
    case JSON_INTEGER:
        text_integer(out, json_integer_value(json));
        break;
    case JSON_REAL:
        app_number(out, json_real_value(json));
        break;
    case JSON_TRUE:
        text_add_z(out, "true");
        break;
    case JSON_FALSE:
        text_add_z(out, "false");
        break;
    case JSON_NULL:
        text_add_z(out, "null");
        break;
    }
}

static void object(struct text *out, const json_t *json, const char *const *less, unsigned depth)
{
    const size_t size = json_object_size(json);
    const char **names = calloc(size + 1, sizeof *names);
    if (names == NULL) {
        out->failed = true;
        return;
    }
    size_t count = 0;
    /* the walk of the parser's library takes no const; nothing is changed */
    for (void *at = json_object_iter((json_t *)(uintptr_t)json); at != NULL;
         at = json_object_iter_next((json_t *)(uintptr_t)json, at)) {
        if (!left_out(json_object_iter_key(at), less)) names[count++] = json_object_iter_key(at);
    }
    if (count > 0) qsort(names, count, sizeof *names, by_name);
    text_add_byte(out, '{');
    for (size_t i = 0; i < count; i++) {
        if (i > 0) text_add_byte(out, ',');
        text_json_z(out, names[i]);
        text_add_byte(out, ':');
        value(out, json_object_get(json, names[i]), depth + 1);
    }
    text_add_byte(out, '}');
    free(names);
}

void app_canonical(struct text *out, const json_t *json, const char *const *less)
{
    if (json_is_object(json)) {
        object(out, json, less, 0);
    } else {
        value(out, json, 0);
    }
}

static bool merge(json_t *target, const json_t *patch, unsigned depth)
{
    ENSURE(depth <= JSON_DEPTH_MAX + 1);
    const char *name;
    json_t *wanted;
    json_object_foreach((json_t *)(uintptr_t)patch, name, wanted)
    {
        if (json_is_null(wanted)) {
            (void)json_object_del(target, name);
            continue;
        }
        json_t *there = json_object_get(target, name);
        if (!json_is_object(wanted)) {
            json_t *copy = json_deep_copy(wanted);
            if (copy == NULL || json_object_set_new(target, name, copy) != 0) return false;
            continue;
        }
        if (!json_is_object(there)) {
            if (json_object_set_new(target, name, json_object()) != 0) return false;
            there = json_object_get(target, name);
        }
        if (!merge(there, wanted, depth + 1)) return false;
    }
    return true;
}

bool app_merge_patch(json_t *target, const json_t *patch)
{
    return merge(target, patch, 0);
}
