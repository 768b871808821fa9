/* SPDX-License-Identifier: MIT */
/* The log: one line per event, which nothing from outside can end, forge or hide. */
#include "base/log.h"

#include <check.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/text.h"

static char line[LOG_LINE_MAX + 1];

START_TEST(a_line_is_level_message_and_fields)
{
    ck_assert_uint_eq(
        log_format(line, LOG_INFO, "listening",
                   LOG_WITH(log_text("address", "127.0.0.1"), log_number("port", 8080))),
        strlen(line));
    ck_assert_str_eq(line, "info listening address=127.0.0.1 port=8080\n");
    (void)log_format(line, LOG_ERROR, "disk full", NULL);
    ck_assert_str_eq(line, "error \"disk full\"\n");
    (void)log_format(line, LOG_WARNING, "x",
                     LOG_WITH(log_text("none", NULL), log_text("empty", ""),
                              log_bytes("part", "abcdef", 3), log_bytes("gone", NULL, 7),
                              log_number("least", INT64_MIN)));
    ck_assert_str_eq(line, "warning x none=- empty=\"\" part=abc gone=- "
                           "least=-9223372036854775808\n");
}
END_TEST

START_TEST(a_value_cannot_end_the_line_or_forge_a_field)
{
    (void)log_format(line, LOG_INFO, "m",
                     LOG_WITH(log_text("v", "a\ninfo forged=1"), log_text("w", "x\" y=\"1"),
                              log_text("z", "\\")));
    ck_assert_str_eq(line, "info m v=\"a\\x0ainfo forged=1\" w=\"x\\\" y=\\\"1\" z=\"\\\\\"\n");
    (void)log_format(line, LOG_INFO, "m", LOG_WITH(log_text("v", "a=1"), log_text("w", "a b")));
    ck_assert_str_eq(line, "info m v=\"a=1\" w=\"a b\"\n");
}
END_TEST

START_TEST(what_turns_or_breaks_a_line_in_any_script_is_escaped)
{
    (void)log_format(line, LOG_INFO, "m",
                     LOG_WITH(log_text("esc", "\x1b[31m\x7f"), log_text("c1", "\xc2\x85\xc2\x9b"),
                              log_text("separators", "\xe2\x80\xa8\xe2\x80\xa9"),
                              log_text("direction", "\xe2\x80\xae\xe2\x81\xa6"),
                              log_text("bad", "\xff\xc3"), log_text("good", "caf\xc3\xa9")));
    ck_assert_str_eq(line, "info m esc=\"\\x1b[31m\\x7f\" c1=\"\\xc2\\x85\\xc2\\x9b\" "
                           "separators=\"\\xe2\\x80\\xa8\\xe2\\x80\\xa9\" "
                           "direction=\"\\xe2\\x80\\xae\\xe2\\x81\\xa6\" "
                           "bad=\"\\xff\\xc3\" good=\"caf\xc3\xa9\"\n");
}
END_TEST

START_TEST(no_bytes_whatever_make_more_than_one_line_or_break_utf8)
{
    uint64_t chance = 88172645463325252u;
    for (int round = 0; round < 20000; round++) {
        char bytes[40];
        for (size_t i = 0; i < sizeof bytes; i++) {
            chance ^= chance << 13;
            chance ^= chance >> 7;
            chance ^= chance << 17;
            static const char edges[] = "\n\r\"\\= \x80\xc2\xe2";
            bytes[i] = chance & 1 ? (char)(chance >> 8) : edges[chance / 2 % (sizeof edges - 1)];
        }
        const size_t length =
            log_format(line, LOG_INFO, "m", LOG_WITH(log_bytes("v", bytes, sizeof bytes)));
        if (memchr(line, '\n', length) != line + length - 1 || strlen(line) != length ||
            !utf8_valid(line, length) || strncmp(line, "info m v=", 9) != 0)
            ck_abort_msg("%s", line);
    }
}
END_TEST

START_TEST(a_long_value_is_cut_and_says_so)
{
    char most[5000];
    memset(most, 'a', sizeof most);
    const size_t length = log_format(
        line, LOG_INFO, "m", LOG_WITH(log_bytes("v", most, sizeof most), log_number("n", 1)));
    ck_assert_uint_eq(length, strlen("info m v=\"...\" n=1\n") + LOG_VALUE_MAX);
    ck_assert_str_eq(line + length - 10, "a...\" n=1\n");
}
END_TEST

START_TEST(a_long_line_loses_whole_fields_and_says_so)
{
    char most[LOG_VALUE_MAX + 1];
    memset(most, '\n', LOG_VALUE_MAX);
    most[LOG_VALUE_MAX] = '\0';
    size_t length = log_format(
        line, LOG_WARNING, "m",
        LOG_WITH(log_number("n", 1), log_text("a", most), log_text("b", most), log_number("o", 2)));
    ck_assert_uint_le(length, LOG_LINE_MAX);
    ck_assert_str_eq(line + length - strlen("\\x0a\" cut=true\n"), "\\x0a\" cut=true\n");
    ck_assert_ptr_null(strstr(line, " b="));
    /* the longest message there can be still closes its quotes */
    length = log_format(line, LOG_WARNING, most, NULL);
    ck_assert_str_eq(line + length - 6, "\\x0a\"\n");
}
END_TEST

/* What log_write sends to stderr. */
static void caught(char *out, size_t capacity, void (*act)(void))
{
    FILE *file = tmpfile();
    ck_assert_ptr_nonnull(file);
    const int kept = dup(STDERR_FILENO);
    ck_assert_int_ge(dup2(fileno(file), STDERR_FILENO), 0);
    act();
    ck_assert_int_ge(dup2(kept, STDERR_FILENO), 0);
    (void)close(kept);
    rewind(file);
    const size_t length = fread(out, 1, capacity - 1, file);
    out[length] = '\0';
    (void)fclose(file);
}

static void one_of_each(void)
{
    log_error("e", NULL);
    log_warning("w", NULL);
    log_info("i", LOG_WITH(log_number("n", 1)));
    log_debug("d", NULL);
}

START_TEST(the_level_lets_through_itself_and_the_heavier)
{
    static const char *const expected[] = {"error e\n", "error e\nwarning w\n",
                                           "error e\nwarning w\ninfo i n=1\n",
                                           "error e\nwarning w\ninfo i n=1\ndebug d\n"};
    char out[4096];
    caught(out, sizeof out, one_of_each);
    ck_assert_str_eq(out, expected[LOG_INFO]); /* at the start */
    for (int level = LOG_ERROR; level < LOG_LEVEL_COUNT; level++) {
        log_level_set((enum log_level)level);
        ck_assert(log_wants((enum log_level)level));
        caught(out, sizeof out, one_of_each);
        ck_assert_str_eq(out, expected[level]);
    }
    log_level_set(LOG_ERROR);
    ck_assert(!log_wants(LOG_WARNING));
}
END_TEST

START_TEST(levels_have_names_and_nothing_else_is_one)
{
    enum log_level level = LOG_INFO;
    ck_assert(log_level_parse(&level, "debug"));
    ck_assert_int_eq(level, LOG_DEBUG);
    ck_assert(log_level_parse(&level, "error"));
    ck_assert_int_eq(level, LOG_ERROR);
    ck_assert(!log_level_parse(&level, "Debug"));
    ck_assert(!log_level_parse(&level, ""));
    ck_assert_int_eq(level, LOG_ERROR);
}
END_TEST

START_TEST(a_line_leaves_errno_as_it_was_even_when_stderr_is_closed)
{
    const int kept = dup(STDERR_FILENO);
    (void)close(STDERR_FILENO);
    errno = ENOSPC;
    log_error("disk full", NULL);
    const int after = errno;
    ck_assert_int_ge(dup2(kept, STDERR_FILENO), 0);
    (void)close(kept);
    ck_assert_int_eq(after, ENOSPC);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("log");
    TCase *tests = tcase_create("log");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, a_line_is_level_message_and_fields);
    tcase_add_test(tests, a_value_cannot_end_the_line_or_forge_a_field);
    tcase_add_test(tests, what_turns_or_breaks_a_line_in_any_script_is_escaped);
    tcase_add_test(tests, no_bytes_whatever_make_more_than_one_line_or_break_utf8);
    tcase_add_test(tests, a_long_value_is_cut_and_says_so);
    tcase_add_test(tests, a_long_line_loses_whole_fields_and_says_so);
    tcase_add_test(tests, the_level_lets_through_itself_and_the_heavier);
    tcase_add_test(tests, levels_have_names_and_nothing_else_is_one);
    tcase_add_test(tests, a_line_leaves_errno_as_it_was_even_when_stderr_is_closed);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
