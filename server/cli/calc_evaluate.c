/* SPDX-License-Identifier: MIT */
/*
 * Reading a `calc` call against its quantity's table of keys. Every value is read and held against
 * its own range here, so that a quantity only has to look at what its values mean together.
 */
#include "cli/calc_evaluate.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "cli/calc_keys.h"
#include "compute/civil.h"

#include "base/banned.h"

static size_t key_index(const struct calc_quantity *quantity, const char *name, size_t length)
{
    for (size_t i = 0; i < quantity->key_count; i++) {
        const struct calc_key *key = &quantity->keys[i];
        if (strlen(key->name) == length && memcmp(key->name, name, length) == 0) return i;
        if (key->alias && strlen(key->alias) == length && memcmp(key->alias, name, length) == 0)
            return i;
    }
    return SIZE_MAX;
}

static size_t known_key(const struct calc_call *call, const char *name)
{
    size_t index = key_index(call->quantity, name, strlen(name));
    REQUIRE(index != SIZE_MAX);
    return index;
}

bool calc_given(const struct calc_call *call, const char *name)
{
    return call->given[known_key(call, name)];
}

double calc_value(const struct calc_call *call, const char *name, double otherwise)
{
    size_t index = known_key(call, name);
    return call->given[index] ? call->number[index] : otherwise;
}

enum calc_outcome calc_refuse_key(const struct calc_call *call, const char *name,
                                  const char *wanted)
{
    fault_set(call->fault, name, wanted, "%s", calc_given(call, name) ? "it" : "nothing");
    return CALC_USAGE;
}

enum calc_outcome calc_refuse_value(const struct calc_call *call, const char *name,
                                    const char *wanted)
{
    fault_set(call->fault, name, wanted, "%.12g", calc_value(call, name, NAN));
    return CALC_BAD_VALUE;
}

/* A whole decimal number and nothing else: no blanks, no hexadecimal, no nan or inf. */
static bool number_read(const char *text, size_t length, double *out)
{
    char copy[64];
    if (length == 0 || length >= sizeof copy) return false;
    if (strspn(text, "+-.0123456789eE") < length) return false;
    memcpy(copy, text, length);
    copy[length] = '\0';
    char *end;
    *out = strtod(copy, &end);
    return end == copy + length && isfinite(*out);
}

static bool in_range(const struct calc_key *key, double value)
{
    if (key->above_least ? !(value > key->least) : !(value >= key->least)) return false;
    return value <= key->most;
}

/* "a number above 0, at most 24 h" */
static void wanted_number(const struct calc_key *key, char *wanted, size_t size)
{
    if (key->above_least)
        snprintf(wanted, size, "a number above %.12g, at most %.12g%s%s", key->least, key->most,
                 *key->unit ? " " : "", key->unit);
    else
        snprintf(wanted, size, "a number from %.12g to %.12g%s%s", key->least, key->most,
                 *key->unit ? " " : "", key->unit);
}

static enum calc_outcome number_take(const struct calc_key *key, const char *path, const char *text,
                                     size_t length, double *out, struct fault *fault)
{
    char wanted[FAULT_TEXT_MAX];
    if (number_read(text, length, out) && in_range(key, *out)) return CALC_OK;
    wanted_number(key, wanted, sizeof wanted);
    if (length == 0)
        fault_set(fault, path, wanted, "nothing");
    else
        fault_set(fault, path, wanted, "%.*s", (int)(length > 60 ? 60 : length), text);
    return CALC_BAD_VALUE;
}

static enum calc_outcome list_take(const struct calc_key *key, const char *text,
                                   struct calc_call *call)
{
    size_t count = 1;
    for (const char *at = text; *at; at++) count += *at == ',';
    if (count > SERIES_SAMPLES_MAX) {
        fault_set(call->fault, key->name, "a shorter list", "%zu numbers", count);
        return CALC_BAD_VALUE;
    }
    call->list = calloc(count, sizeof *call->list);
    if (!call->list) return CALC_NO_MEMORY;
    call->list_count = count;
    for (size_t i = 0; i < count; i++) {
        char path[FAULT_PATH_MAX];
        size_t length = strcspn(text, ",");
        snprintf(path, sizeof path, "%s[%zu]", key->name, i);
        enum calc_outcome outcome =
            number_take(key, path, text, length, &call->list[i], call->fault);
        if (outcome != CALC_OK) return outcome;
        text += length + 1;
    }
    return CALC_OK;
}

static enum calc_outcome choice_take(const struct calc_key *key, const char *text, double *out,
                                     struct fault *fault)
{
    const char *word = key->choices;
    for (int index = 0; *word; index++) {
        size_t length = strcspn(word, "|");
        if (length == strlen(text) && memcmp(word, text, length) == 0) {
            *out = index;
            return CALC_OK;
        }
        word += length + (word[length] == '|');
    }
    fault_set(fault, key->name, key->choices, "%s", *text ? text : "nothing");
    return CALC_BAD_VALUE;
}

/* Day of the year of YYYY-MM-DD. */
static enum calc_outcome date_take(const struct calc_key *key, const char *text, double *out,
                                   struct fault *fault)
{
    const char *digits = "0123456789";
    bool shaped = strlen(text) == 10 && strspn(text, digits) == 4 && text[4] == '-' &&
                  strspn(text + 5, digits) == 2 && text[7] == '-' && strspn(text + 8, digits) == 2;
    if (shaped) {
        int year = (int)strtol(text, NULL, 10);
        int month = (int)strtol(text + 5, NULL, 10);
        int day = (int)strtol(text + 8, NULL, 10);
        if (civil_date_valid(year, month, day)) {
            *out = civil_day(year, month, day) - civil_day(year, 1, 1) + 1;
            return CALC_OK;
        }
    }
    fault_set(fault, key->name, "a date YYYY-MM-DD", "%s", text);
    return CALC_BAD_VALUE;
}

static enum calc_outcome value_take(struct calc_call *call, size_t index, const char *text)
{
    const struct calc_key *key = &call->quantity->keys[index];
    switch (key->kind) {
    case CALC_KEY_NUMBER:
        return number_take(key, key->name, text, strlen(text), &call->number[index], call->fault);
    case CALC_KEY_LIST:
        return list_take(key, text, call);
    case CALC_KEY_CHOICE:
        return choice_take(key, text, &call->number[index], call->fault);
    case CALC_KEY_DATE:
        return date_take(key, text, &call->number[index], call->fault);
    }
    return CALC_USAGE;
}

/* Names of the keys of a quantity, for a fault. */
static void wanted_keys(const struct calc_quantity *quantity, char *wanted, size_t size)
{
    size_t used = 0;
    wanted[0] = '\0';
    for (size_t i = 0; i < quantity->key_count && used < size; i++) {
        int added =
            snprintf(wanted + used, size - used, "%s%s=", i ? " " : "", quantity->keys[i].name);
        used += added > 0 ? (size_t)added : 0;
    }
}

/* Keys first, all of them, so that a misspelt key is a usage fault even beside a bad value. */
static enum calc_outcome keys_take(struct calc_call *call, int count, const char *const *arguments,
                                   const char **texts)
{
    char wanted[FAULT_TEXT_MAX];
    for (int i = 1; i < count; i++) {
        size_t length = strcspn(arguments[i], "=");
        size_t index = key_index(call->quantity, arguments[i], length);
        if (arguments[i][length] != '=' || index == SIZE_MAX) {
            wanted_keys(call->quantity, wanted, sizeof wanted);
            fault_set(call->fault, call->quantity->name, wanted, "%s", arguments[i]);
            return CALC_USAGE;
        }
        if (call->given[index]) {
            fault_set(call->fault, call->quantity->keys[index].name, "each key once", "%s",
                      arguments[i]);
            return CALC_USAGE;
        }
        call->given[index] = true;
        texts[index] = arguments[i] + length + 1;
    }
    for (size_t i = 0; i < call->quantity->key_count; i++) {
        const struct calc_key *key = &call->quantity->keys[i];
        if (!key->required || call->given[i]) continue;
        snprintf(wanted, sizeof wanted, "%s=, %s", key->name, key->says);
        fault_set(call->fault, key->name, wanted, "nothing");
        return CALC_USAGE;
    }
    return CALC_OK;
}

static enum calc_outcome call_run(struct calc_call *call, int count, const char *const *arguments,
                                  struct calc_result *out)
{
    const char *texts[CALC_KEYS_MAX] = {NULL};
    enum calc_outcome outcome = keys_take(call, count, arguments, texts);
    for (size_t i = 0; outcome == CALC_OK && i < call->quantity->key_count; i++)
        if (call->given[i]) outcome = value_take(call, i, texts[i]);
    if (outcome != CALC_OK) return outcome;
    *out = (struct calc_result){.quantity = call->quantity->name,
                                .unit = call->quantity->unit,
                                .form = CALC_NUMBER,
                                .count = 1};
    outcome = call->quantity->evaluate(call, out);
    for (size_t i = 0; outcome == CALC_OK && i < out->count; i++)
        if (!isfinite(out->figures[i])) outcome = calc_took(call, -1);
    return outcome;
}

enum calc_outcome calc_evaluate(int count, const char *const *arguments, struct calc_result *out,
                                struct fault *fault)
{
    fault_set(fault, "", "", "%s", "");
    const char *name = count > 0 ? arguments[0] : "";
    for (size_t i = 0; i < calc_quantity_count; i++) {
        if (strcmp(calc_quantities[i]->name, name) != 0) continue;
        struct calc_call call = {.quantity = calc_quantities[i], .fault = fault};
        REQUIRE(call.quantity->key_count <= CALC_KEYS_MAX);
        enum calc_outcome outcome = call_run(&call, count, arguments, out);
        free(call.list);
        return outcome;
    }
    fault_set(fault, "quantity", "a quantity of `calc --help`", "%s", name);
    return CALC_USAGE;
}
