/* SPDX-License-Identifier: MIT */
/*
 * Printing of `calc`. Numbers are written with the fewest digits from 15 up that read back as the
 * same double: a figure meant for comparison must not lose digits on its way out.
 */
#include "cli/cmd_calc.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/calc_evaluate.h"

#include "base/banned.h"

enum { EXIT_CANNOT_WRITE = 74 };

static void number_print(double value)
{
    char digits[40];
    for (int precision = 15; precision <= 17; precision++) {
        snprintf(digits, sizeof digits, "%.*g", precision, value == 0.0 ? 0.0 : value);
        if (strtod(digits, NULL) == value) break;
    }
    fputs(digits, stdout);
}

static void value_print(const struct calc_result *result)
{
    if (result->form == CALC_NUMBER) {
        number_print(result->figures[0]);
        return;
    }
    bool object = result->form == CALC_OBJECT;
    putchar(object ? '{' : '[');
    for (size_t i = 0; i < result->count; i++) {
        if (i > 0) fputs(", ", stdout);
        if (object) printf("\"%s\": ", result->names[i]);
        number_print(result->figures[i]);
    }
    putchar(object ? '}' : ']');
}

/* The texts of a result are literals of ours without quotes, backslashes or control characters. */
static void member_print(const char *name, const char *text)
{
    if (text) printf(", \"%s\": \"%s\"", name, text);
}

static int result_print(const struct calc_result *result)
{
    printf("{\"quantity\": \"%s\", \"value\": ", result->quantity);
    value_print(result);
    member_print("unit", result->unit);
    member_print("source", result->source);
    member_print("clause", result->clause);
    member_print("basis", result->basis);
    member_print("caution", result->caution);
    puts("}");
    return fflush(stdout) == 0 && !ferror(stdout) ? 0 : EXIT_CANNOT_WRITE;
}

static void help_key(FILE *stream, const struct calc_key *key)
{
    fprintf(stream, "    %s=%s  %s", key->name, key->required ? "" : " (optional)", key->says);
    if (key->kind == CALC_KEY_CHOICE) fprintf(stream, ": %s", key->choices);
    if (key->kind == CALC_KEY_DATE) fputs(", YYYY-MM-DD", stream);
    if (key->kind == CALC_KEY_LIST) fputs(", comma list", stream);
    if (key->kind == CALC_KEY_NUMBER || key->kind == CALC_KEY_LIST)
        fprintf(stream, ", %s%.12g to %.12g%s%s", key->above_least ? "above " : "", key->least,
                key->most, *key->unit ? " " : "", key->unit);
    if (key->alias) fprintf(stream, "; also %s=", key->alias);
    fputc('\n', stream);
}

static int help_print(FILE *stream)
{
    fputs("emberwait calc QUANTITY key=value...\n"
          "Prints one line of JSON: quantity, value, unit, source, and where they apply clause,\n"
          "basis and caution. Laws are printed uncut, as published. Exit status 64: unknown or\n"
          "missing key; 65: a value that cannot be used.\n\n",
          stream);
    for (size_t i = 0; i < calc_quantity_count; i++) {
        const struct calc_quantity *quantity = calc_quantities[i];
        fprintf(stream, "%s -> %s\n    %s\n", quantity->name, quantity->unit, quantity->says);
        for (size_t k = 0; k < quantity->key_count; k++) help_key(stream, &quantity->keys[k]);
        fputc('\n', stream);
    }
    return fflush(stream) == 0 && !ferror(stream) ? 0 : EXIT_CANNOT_WRITE;
}

int cmd_calc(int argc, char **argv)
{
    if (argc >= 2 && (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "help") == 0))
        return help_print(stdout);
    if (argc < 2) {
        help_print(stderr);
        return CALC_USAGE;
    }
    struct calc_result result;
    struct fault fault;
    const char *const *arguments = (const char *const *)(argv + 1);
    enum calc_outcome outcome = calc_evaluate(argc - 1, arguments, &result, &fault);
    if (outcome == CALC_OK) return result_print(&result);
    if (outcome == CALC_NO_MEMORY)
        fputs("emberwait calc: no memory for the list\n", stderr);
    else
        fprintf(stderr, "emberwait calc: %s: found %s, wanted %s\n", fault.path, fault.found,
                fault.wanted);
    return (int)outcome;
}
