/* SPDX-License-Identifier: MIT */
/* links: cli compute */
/*
 * Every row of tests/tables against the evaluator of `calc`, in this process. A row is a check
 * of its own; one that fails prints its file and line, what was wanted and what came.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/calc_evaluate.h"
#include "table.h"

#define PATTERN PROJECT_ROOT "/tests/tables/*.tbl"

static struct table table;
static char *sources; /* text of schema/sources.json */

/* The figure a row speaks of; NAN when the answer has no such place or member. */
static double figure_of(const struct table_row *row, const struct calc_result *result)
{
    if (row->place >= 0)
        return result->form == CALC_ARRAY && (size_t)row->place < result->count
                   ? result->figures[row->place]
                   : NAN;
    if (!*row->names) return result->form == CALC_NUMBER ? result->figures[0] : NAN;
    for (size_t i = 0; result->form == CALC_OBJECT && i < result->count; i++)
        if (strcmp(result->names[i], row->names) == 0) return result->figures[i];
    return NAN;
}

static bool source_known(const char *id)
{
    char member[100];
    snprintf(member, sizeof member, "\"%s\": {", id);
    return strstr(sources, member) != NULL;
}

START_TEST(a_row_gives_its_figure)
{
    const struct table_row *row = &table.rows[_i];
    struct calc_result result;
    struct fault fault;
    enum calc_outcome outcome = calc_evaluate(row->word_count, row->words, &result, &fault);
    if (row->refused) {
        if ((int)outcome != row->refused || !strstr(fault.path, row->names))
            ck_abort_msg("tests/tables/%s:%d: wanted %d naming '%s', came %d naming '%s'",
                         row->file, row->number, row->refused, row->names, (int)outcome,
                         outcome == CALC_OK ? "" : fault.path);
        return;
    }
    if (outcome != CALC_OK)
        ck_abort_msg("tests/tables/%s:%d: refused %d: %s: found %s, wanted %s", row->file,
                     row->number, (int)outcome, fault.path, fault.found, fault.wanted);
    double figure = figure_of(row, &result);
    if (!(fabs(figure - row->expected) <= row->tolerance + 1e-12 * fabs(row->expected)))
        ck_abort_msg("tests/tables/%s:%d: wanted %.12g within %.3g, came %.12g", row->file,
                     row->number, row->expected, row->tolerance, figure);
    if (strcmp(row->unit, result.unit) != 0)
        ck_abort_msg("tests/tables/%s:%d: unit wanted %s, came %s", row->file, row->number,
                     row->unit, result.unit);
    if (!source_known(result.source))
        ck_abort_msg("tests/tables/%s:%d: source %s is not in schema/sources.json", row->file,
                     row->number, result.source);
}
END_TEST

START_TEST(every_table_can_be_read)
{
    ck_assert_int_eq(table.faults, 0);
    ck_assert_int_gt(table.count, 0);
}
END_TEST

START_TEST(every_source_named_in_a_table_is_on_the_list)
{
    for (int i = 0; i < table.count; i++)
        if (!source_known(table.rows[i].source))
            ck_abort_msg("tests/tables/%s:%d: source %s is not in schema/sources.json",
                         table.rows[i].file, table.rows[i].number, table.rows[i].source);
}
END_TEST

START_TEST(every_quantity_has_a_figure_and_a_refusal_in_some_table)
{
    for (size_t q = 0; q < calc_quantity_count; q++) {
        int figures = 0, refusals = 0;
        for (int i = 0; i < table.count; i++) {
            if (strcmp(table.rows[i].words[0], calc_quantities[q]->name) != 0) continue;
            if (table.rows[i].refused)
                refusals++;
            else
                figures++;
        }
        if (figures == 0 || refusals == 0)
            ck_abort_msg("%s: %d figures, %d refusals", calc_quantities[q]->name, figures,
                         refusals);
    }
}
END_TEST

static char *file_text(const char *path)
{
    FILE *file = fopen(path, "r");
    if (!file) {
        perror(path);
        exit(1);
    }
    char *text = calloc(1, 1 << 20);
    if (!text || fread(text, 1, (1 << 20) - 1, file) == 0) exit(1);
    fclose(file);
    return text;
}

int main(void)
{
    table = table_read(PATTERN);
    sources = file_text(PROJECT_ROOT "/schema/sources.json");
    Suite *suite = suite_create("tables");
    TCase *whole = tcase_create("the tables themselves");
    tcase_add_test(whole, every_table_can_be_read);
    tcase_add_test(whole, every_source_named_in_a_table_is_on_the_list);
    tcase_add_test(whole, every_quantity_has_a_figure_and_a_refusal_in_some_table);
    suite_add_tcase(suite, whole);
    TCase *rows = tcase_create("rows");
    tcase_add_loop_test(rows, a_row_gives_its_figure, 0, table.count);
    suite_add_tcase(suite, rows);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    table_free(&table);
    free(sources);
    return failed == 0 ? 0 : 1;
}
