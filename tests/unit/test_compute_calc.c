/* SPDX-License-Identifier: MIT */
/* links: cli compute */
/* What `calc` prints: one line of JSON or one line of fault, never both, and a complete help. */
#include <check.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/calc_evaluate.h"
#include "cli/cmd_calc.h"
#include "table.h"

enum { PRINTED_MAX = 32768 };

struct printed {
    int status;
    char out[PRINTED_MAX];
    char err[PRINTED_MAX];
};

static void read_back(FILE *file, char *text)
{
    rewind(file);
    size_t length = fread(text, 1, PRINTED_MAX - 1, file);
    text[length] = '\0';
    fclose(file);
}

/* Run the command with stdout and stderr turned into files. */
static void run(struct printed *printed, int count, const char *const *words)
{
    char copies[TABLE_WORDS_MAX][200], *argv[TABLE_WORDS_MAX + 2] = {NULL};
    argv[0] = copies[count];
    snprintf(copies[count], sizeof copies[count], "calc");
    for (int i = 0; i < count; i++) {
        argv[i + 1] = copies[i];
        snprintf(copies[i], sizeof copies[i], "%s", words[i]);
    }
    FILE *out = tmpfile(), *err = tmpfile();
    ck_assert_ptr_nonnull(out);
    ck_assert_ptr_nonnull(err);
    fflush(stdout);
    fflush(stderr);
    int kept_out = dup(STDOUT_FILENO), kept_err = dup(STDERR_FILENO);
    ck_assert_int_ge(dup2(fileno(out), STDOUT_FILENO), 0);
    ck_assert_int_ge(dup2(fileno(err), STDERR_FILENO), 0);
    printed->status = cmd_calc(count + 1, argv);
    fflush(stdout);
    fflush(stderr);
    dup2(kept_out, STDOUT_FILENO);
    dup2(kept_err, STDERR_FILENO);
    close(kept_out);
    close(kept_err);
    read_back(out, printed->out);
    read_back(err, printed->err);
}

static int lines(const char *text)
{
    int count = 0;
    for (; *text; text++) count += *text == '\n';
    return count;
}

START_TEST(every_row_prints_one_line_of_json_or_one_line_of_fault)
{
    struct table table = table_read(PROJECT_ROOT "/tests/tables/*.tbl");
    static struct printed printed;
    ck_assert_int_gt(table.count, 0);
    for (int i = 0; i < table.count; i++) {
        const struct table_row *row = &table.rows[i];
        run(&printed, row->word_count, row->words);
        ck_assert_int_eq(printed.status, row->refused);
        if (row->refused) {
            ck_assert_str_eq(printed.out, "");
            ck_assert_int_eq(lines(printed.err), 1);
            ck_assert_ptr_nonnull(strstr(printed.err, row->names));
            ck_assert_ptr_nonnull(strstr(printed.err, "found "));
            ck_assert_ptr_nonnull(strstr(printed.err, "wanted "));
            continue;
        }
        ck_assert_str_eq(printed.err, "");
        ck_assert_int_eq(lines(printed.out), 1);
        json_t *json = json_loads(printed.out, JSON_REJECT_DUPLICATES, NULL);
        ck_assert_ptr_nonnull(json);
        ck_assert_str_eq(json_string_value(json_object_get(json, "quantity")), row->words[0]);
        ck_assert_str_eq(json_string_value(json_object_get(json, "unit")), row->unit);
        ck_assert_ptr_nonnull(json_string_value(json_object_get(json, "source")));
        const json_t *value = json_object_get(json, "value");
        if (row->place >= 0) value = json_array_get(value, (size_t)row->place);
        if (*row->names) value = json_object_get(value, row->names);
        ck_assert(json_is_number(value));
        ck_assert_double_le(fabs(json_number_value(value) - row->expected),
                            row->tolerance + 1e-12 * fabs(row->expected));
        json_decref(json);
    }
    table_free(&table);
}
END_TEST

START_TEST(a_printed_number_reads_back_as_the_same_double)
{
    const char *words[] = {"strength-ratio", "law=en1992", "age_d=9", "s=0.25"};
    static struct printed printed;
    struct calc_result result;
    struct fault fault;
    ck_assert_int_eq(calc_evaluate(4, words, &result, &fault), CALC_OK);
    run(&printed, 4, words);
    json_t *json = json_loads(printed.out, 0, NULL);
    ck_assert_double_eq(json_number_value(json_object_get(json, "value")), result.figures[0]);
    json_decref(json);
}
END_TEST

START_TEST(a_doubtful_figure_carries_its_caution_and_a_plain_one_none)
{
    const char *young[] = {"strength-ratio", "law=en1992", "age_d=2", "s=0.25"};
    const char *plain[] = {"strength-ratio", "law=en1992", "age_d=3", "s=0.25"};
    static struct printed printed;
    run(&printed, 4, young);
    ck_assert_ptr_nonnull(strstr(printed.out, "\"caution\": \"younger than 3 d"));
    run(&printed, 4, plain);
    ck_assert_ptr_null(strstr(printed.out, "caution"));
}
END_TEST

START_TEST(the_help_names_every_quantity_and_key)
{
    const char *words[] = {"--help"};
    static struct printed printed;
    run(&printed, 1, words);
    ck_assert_int_eq(printed.status, 0);
    for (size_t i = 0; i < calc_quantity_count; i++) {
        const struct calc_quantity *quantity = calc_quantities[i];
        char wanted[100];
        snprintf(wanted, sizeof wanted, "\n%s -> %s\n", quantity->name, quantity->unit);
        const char *at = strstr(printed.out, wanted);
        ck_assert_ptr_nonnull(at);
        for (size_t k = 0; k < quantity->key_count; k++) {
            snprintf(wanted, sizeof wanted, "\n    %s=", quantity->keys[k].name);
            ck_assert_ptr_nonnull(strstr(at, wanted));
        }
    }
}
END_TEST

START_TEST(without_a_quantity_the_help_goes_to_stderr_and_the_status_is_usage)
{
    static struct printed printed;
    run(&printed, 0, NULL);
    ck_assert_int_eq(printed.status, CALC_USAGE);
    ck_assert_str_eq(printed.out, "");
    ck_assert_ptr_nonnull(strstr(printed.err, "equivalent-age"));
}
END_TEST

START_TEST(a_long_list_is_taken_whole)
{
    enum { COUNT = 5000 };
    char *list = malloc(COUNT * 3 + 20);
    ck_assert_ptr_nonnull(list);
    size_t length = (size_t)snprintf(list, 20, "temps_degc=20");
    for (int i = 1; i < COUNT; i++) {
        memcpy(list + length, ",20", 4);
        length += 3;
    }
    const char *words[] = {"annex-b-age", list, "step_h=1"};
    struct calc_result result;
    struct fault fault;
    ck_assert_int_eq(calc_evaluate(3, words, &result, &fault), CALC_OK);
    ck_assert_double_eq_tol(result.figures[0], COUNT * 0.998124627607, 1e-6);
    free(list);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("calc");
    TCase *cases = tcase_create("calc");
    tcase_set_timeout(cases, 60);
    tcase_add_test(cases, every_row_prints_one_line_of_json_or_one_line_of_fault);
    tcase_add_test(cases, a_printed_number_reads_back_as_the_same_double);
    tcase_add_test(cases, a_doubtful_figure_carries_its_caution_and_a_plain_one_none);
    tcase_add_test(cases, the_help_names_every_quantity_and_key);
    tcase_add_test(cases, without_a_quantity_the_help_goes_to_stderr_and_the_status_is_usage);
    tcase_add_test(cases, a_long_list_is_taken_whole);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
