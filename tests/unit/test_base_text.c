/* SPDX-License-Identifier: MIT */
/*
 * The growing text: numbers as they should be, escapes that cannot be got around, and a text that
 * fails as a whole. text.c is compiled in here so that its allocations can be made to fail.
 */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int allocations_left = -1; /* before one fails; below 0: none does */

static void *test_realloc(void *old, size_t size)
{
    if (allocations_left >= 0 && allocations_left-- == 0) return NULL;
    return realloc(old, size);
}

#define realloc test_realloc
#include "base/text.c"
#undef realloc

static uint64_t chance = 0x9e3779b97f4a7c15u;

/* xorshift64: the same numbers in every run. */
static uint64_t next_chance(void)
{
    chance ^= chance << 13;
    chance ^= chance >> 7;
    chance ^= chance << 17;
    return chance;
}

static struct text text;

static void set_up(void)
{
    text = (struct text)TEXT_UP_TO(1000000);
}

static void tear_down(void)
{
    text_free(&text);
}

static void ck_text(const char *expected)
{
    ck_assert_int_eq(text_status(&text), STATUS_OK);
    ck_assert_str_eq(text_z(&text), expected);
    ck_assert_uint_eq(text.length, strlen(expected));
    text_clear(&text);
}

START_TEST(an_empty_text_is_an_empty_string)
{
    ck_assert_str_eq(text_z(&text), "");
    text_add(&text, "", 0);
    ck_assert_ptr_null(text.data);
    ck_text("");
}
END_TEST

START_TEST(additions_follow_each_other)
{
    text_add(&text, "abcdef", 3);
    text_add_z(&text, "-");
    text_add_byte(&text, '!');
    text_print(&text, "%d/%s", 7, "x");
    text_integer(&text, -12);
    ck_text("abc-!7/x-12");
}
END_TEST

START_TEST(a_text_grows_to_its_limit_and_not_one_byte_further)
{
    for (size_t limit = 1; limit < 1200; limit++) {
        struct text small = TEXT_UP_TO(limit);
        for (size_t i = 0; i < limit; i++) text_add_byte(&small, 'a');
        if (text_status(&small) != STATUS_OK || small.length != limit) ck_abort_msg("%zu", limit);
        text_add_byte(&small, 'b');
        if (text_status(&small) != STATUS_LIMIT || small.length != limit ||
            small.capacity > limit + 1 || strlen(small.data) != limit)
            ck_abort_msg("%zu", limit);
        text_free(&small);
    }
}
END_TEST

START_TEST(a_failed_text_takes_nothing_more_and_gives_nothing_away)
{
    struct text small = TEXT_UP_TO(4);
    text_add_z(&small, "abc");
    text_add_z(&small, "de");
    text_add_z(&small, "f");
    text_print(&small, "%s", "g");
    text_integer(&small, 1);
    ck_assert_str_eq(text_z(&small), "abc");
    ck_assert_int_eq(text_status(&small), STATUS_LIMIT);
    size_t length = 99;
    ck_assert_ptr_null(text_release(&small, &length));
    ck_assert_uint_eq(length, 0);
    ck_assert_int_eq(text_status(&small), STATUS_OK);
    text_add_z(&small, "abcd");
    char *own = text_release(&small, &length);
    ck_assert_str_eq(own, "abcd");
    ck_assert_uint_eq(length, 4);
    ck_assert_ptr_null(small.data);
    free(own);
}
END_TEST

START_TEST(every_allocation_that_fails_is_told)
{
    int failing = 0;
    for (;; failing++) {
        struct text grown = TEXT_UP_TO(100000);
        allocations_left = failing;
        for (int i = 0; i < 2000; i++) {
            text_add_z(&grown, "0123456789");
            text_print(&grown, "%09d", i);
        }
        const bool none_failed = allocations_left >= 0;
        allocations_left = -1;
        ck_assert_int_eq(text_status(&grown), none_failed ? STATUS_OK : STATUS_IO);
        if (none_failed) ck_assert_uint_eq(grown.length, 38000);
        text_free(&grown);
        if (none_failed) break;
    }
    ck_assert_int_ge(failing, 4);
}
END_TEST

START_TEST(print_writes_whole_at_every_length)
{
    for (int width = 1; width < 600; width++) {
        struct text printed = TEXT_UP_TO(1000);
        text_add_z(&printed, "<");
        text_print(&printed, "%*d", width, 7);
        if (printed.length != (size_t)width + 1 || printed.data[width] != '7' ||
            strlen(printed.data) != printed.length)
            ck_abort_msg("%d", width);
        text_free(&printed);
    }
    struct text small = TEXT_UP_TO(300);
    text_add_z(&small, "abc");
    text_print(&small, "%400d", 7);
    ck_assert_str_eq(text_z(&small), "abc");
    ck_assert_int_eq(text_status(&small), STATUS_LIMIT);
    text_free(&small);
}
END_TEST

START_TEST(whole_numbers_reach_both_ends)
{
    text_integer(&text, 0);
    text_add_byte(&text, ' ');
    text_integer(&text, INT64_MAX);
    text_add_byte(&text, ' ');
    text_integer(&text, INT64_MIN);
    ck_text("0 9223372036854775807 -9223372036854775808");
}
END_TEST

START_TEST(numbers_are_the_shortest_with_12_significant_digits)
{
    static const struct {
        double value;
        const char *expected;
    } rows[] = {
        {0, "0"},
        {-0.0, "0"},
        {1, "1"},
        {-1, "-1"},
        {41.2, "41.2"},
        {0.1 + 0.2, "0.3"},
        {1.0 / 3, "0.333333333333"},
        {2.0 / 3, "0.666666666667"},
        {0.001, "0.001"},
        {0.0001, "0.0001"},
        {0.00001, "1e-05"},
        {100000, "100000"},
        {123456789012.0, "123456789012"},
        {1e12, "1e+12"},
        {1e300, "1e+300"},
        {-116.21, "-116.21"},
        {99.9999999999999, "100"},
        {0.9999999999999, "1"},
        {1234567.891, "1234567.891"},
        {NAN, "null"},
        {INFINITY, "null"},
        {-INFINITY, "null"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        text_json_number(&text, rows[i].value);
        ck_text(rows[i].expected);
    }
}
END_TEST

static void ck_like_printf(double value)
{
    char expected[40];
    (void)snprintf(expected, sizeof expected, "%.12g", value);
    text_clear(&text);
    text_json_number(&text, value);
    if (strcmp(text_z(&text), value == 0 ? "0" : expected) != 0)
        ck_abort_msg("%.17g is written %s, not %s", value, text_z(&text), expected);
}

START_TEST(the_short_way_of_writing_numbers_is_exactly_the_long_way)
{
    for (int i = 0; i < 300000; i++) {
        const int decimals = (int)(next_chance() % 15);
        const int64_t whole = (int64_t)next_chance() >> (next_chance() % 64);
        const double value = (double)whole / pow(10, decimals);
        ck_like_printf(value);
        ck_like_printf(nextafter(value, INFINITY));
        ck_like_printf(value * (1 + 1.0000001e-13));
        ck_like_printf(value * (1 - 4.9e-13));
        double any;
        const uint64_t bits = next_chance();
        memcpy(&any, &bits, sizeof any);
        if (isfinite(any)) ck_like_printf(any);
    }
}
END_TEST

START_TEST(fixed_decimals_round_half_away_from_zero)
{
    static const struct {
        double value;
        int decimals;
        const char *expected;
    } rows[] = {
        {0, 0, "0"},          {0, 2, "0.00"},         {0.125, 2, "0.13"},
        {-0.125, 2, "-0.13"}, {-0.001, 2, "0.00"},    {1.005, 1, "1.0"},
        {2.5, 0, "3"},        {-2.5, 0, "-3"},        {12.3456, 3, "12.346"},
        {0.05, 1, "0.1"},     {9.999, 2, "10.00"},    {1e20, 1, "100000000000000000000.0"},
        {NAN, 1, "null"},     {-INFINITY, 1, "null"}, {0.000000001, 9, "0.000000001"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        text_json_fixed(&text, rows[i].value, rows[i].decimals);
        ck_text(rows[i].expected);
    }
    text_json_fixed(&text, -1.7976931348623157e308, 9);
    ck_assert_uint_eq(text.length, 320);
}
END_TEST

START_TEST(json_strings_are_escaped)
{
    text_json_z(&text, "plain");
    ck_text("\"plain\"");
    text_json_z(&text, "\"\\/\b\f\n\r\t\x01\x1f\x7f<&'");
    ck_text("\"\\\"\\\\/\\b\\f\\n\\r\\t\\u0001\\u001f\x7f<&'\"");
    text_json_string(&text, "a\0b", 3);
    ck_text("\"a\\u0000b\"");
    text_json_z(&text, "\xc3\xa9 \xe2\x82\xac \xf0\x9f\x94\xa5");
    ck_text("\"\xc3\xa9 \xe2\x82\xac \xf0\x9f\x94\xa5\"");
    text_json_z(&text, NULL);
    ck_text("null");
    text_json_z(&text, "");
    ck_text("\"\"");
}
END_TEST

START_TEST(a_byte_is_escaped_the_same_wherever_it_stands_among_plain_ones)
{
    for (int byte = 0; byte < 256; byte++) {
        char expected[16];
        const char alone = (char)byte;
        text_clear(&text);
        text_json_string(&text, &alone, 1);
        const size_t escaped = text.length - 2;
        memcpy(expected, text.data + 1, escaped);
        for (size_t at = 0; at < 24; at++) {
            char bytes[24];
            memset(bytes, 'a', sizeof bytes);
            bytes[at] = alone;
            text_clear(&text);
            text_json_string(&text, bytes, sizeof bytes);
            if (text.length != 25 + escaped || memcmp(text.data + 1 + at, expected, escaped) != 0 ||
                text.data[at] != (at == 0 ? '"' : 'a') ||
                text.data[1 + at + escaped] != (at == 23 ? '"' : 'a'))
                ck_abort_msg("byte %02x at %zu: %s", byte, at, text.data);
        }
    }
}
END_TEST

START_TEST(bytes_that_are_not_utf8_become_the_replacement_character)
{
    text_json_z(&text, "a\xff"
                       "b\xc3");
    ck_text("\"a\xef\xbf\xbd"
            "b\xef\xbf\xbd\"");
    text_html_z(&text, "\xed\xa0\x80<");
    ck_text("\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd&lt;");
    text_json_z(&text, "\xc0\xaf");
    ck_text("\"\xef\xbf\xbd\xef\xbf\xbd\"");
}
END_TEST

START_TEST(html_is_escaped_for_elements_and_quoted_attributes)
{
    text_html_z(&text, "<a href=\"x\" b='y'>&amp;</a>\n\t\x01");
    ck_text("&lt;a href=&quot;x&quot; b=&#39;y&#39;&gt;&amp;amp;&lt;/a&gt;\n\t\xef\xbf\xbd");
    text_html_z(&text, NULL);
    ck_text("");
    text_html(&text, "a\0b", 3);
    ck_text("a\xef\xbf\xbd"
            "b");
    text_html_z(&text, "\xe2\x82\xac 5");
    ck_text("\xe2\x82\xac 5");
}
END_TEST

START_TEST(whatever_bytes_come_in_valid_utf8_goes_out_and_no_open_quote)
{
    for (int round = 0; round < 20000; round++) {
        char bytes[24];
        for (size_t i = 0; i < sizeof bytes; i++) {
            static const char edges[] = "\"\\<>&'\x7f\xc0\xc2\xe0\xed\xf0\xf4\x80\x9f\xa0\xbf\n";
            const uint64_t pick = next_chance();
            bytes[i] = pick & 1 ? edges[(pick >> 8) % sizeof edges] : (char)(pick >> 16);
        }
        text_clear(&text);
        text_json_string(&text, bytes, sizeof bytes);
        bool good = utf8_valid(text.data, text.length);
        for (size_t i = 1; i + 1 < text.length; i++) {
            if (text.data[i] == '\\')
                i++;
            else
                good = good && text.data[i] != '"' && (unsigned char)text.data[i] >= 0x20;
        }
        text_clear(&text);
        text_html(&text, bytes, sizeof bytes);
        good = good && utf8_valid(text.data, text.length) && strpbrk(text.data, "<>\"'") == NULL &&
               strlen(text.data) == text.length;
        if (!good) ck_abort_msg("round %d", round);
    }
}
END_TEST

/* Put a code point into UTF-8 the plain way, also where it may not be. */
static size_t encode(char *out, uint32_t point)
{
    if (point < 0x80) {
        out[0] = (char)point;
        return 1;
    }
    const size_t length = point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
    static const unsigned char heads[] = {0, 0, 0xc0, 0xe0, 0xf0};
    for (size_t i = length - 1; i > 0; i--, point >>= 6) out[i] = (char)(0x80 | (point & 0x3f));
    out[0] = (char)(heads[length] | point);
    return length;
}

START_TEST(every_code_point_is_valid_but_surrogates_and_what_is_past_the_last)
{
    for (uint32_t point = 0; point < 0x1fffff; point++) {
        char bytes[4];
        const size_t length = encode(bytes, point);
        const bool expected = point <= 0x10ffff && (point < 0xd800 || point > 0xdfff);
        if ((utf8_length(bytes, length) == length) != expected ||
            utf8_valid(bytes, length) != expected || (length > 1 && utf8_valid(bytes, length - 1)))
            ck_abort_msg("U+%04X", point);
    }
}
END_TEST

START_TEST(overlong_and_broken_sequences_are_not_valid)
{
    static const char *const rows[] = {
        "\xc0\x80",         "\xc1\xbf",         "\xe0\x9f\xbf", "\xf0\x8f\xbf\xbf",
        "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "\x80",         "\xbf",
        "\xe2\x82",         "\xe2\x28\xa1",     "\xff",         "\xf8\x88\x80\x80\x80"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ck_assert_msg(!utf8_valid(rows[i], strlen(rows[i])), "row %zu", i);
    ck_assert(utf8_valid("", 0));
    ck_assert_uint_eq(utf8_length("", 0), 0);
}
END_TEST

START_TEST(instants_and_dates_are_written_and_their_absence_is_null)
{
    text_json_instant(&text, 0, NULL);
    text_json_date(&text, 20523);
    text_json_instant(&text, INT64_MIN, NULL);
    text_json_date(&text, INT32_MIN);
    text_instant(&text, 86399, NULL);
    text_date(&text, 0);
    ck_text("\"1970-01-01T00:00:00Z\"\"2026-03-11\"nullnull1970-01-01T23:59:59Z1970-01-01");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("text");
    TCase *tests = tcase_create("text");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, an_empty_text_is_an_empty_string);
    tcase_add_test(tests, additions_follow_each_other);
    tcase_add_test(tests, a_text_grows_to_its_limit_and_not_one_byte_further);
    tcase_add_test(tests, a_failed_text_takes_nothing_more_and_gives_nothing_away);
    tcase_add_test(tests, every_allocation_that_fails_is_told);
    tcase_add_test(tests, print_writes_whole_at_every_length);
    tcase_add_test(tests, whole_numbers_reach_both_ends);
    tcase_add_test(tests, numbers_are_the_shortest_with_12_significant_digits);
    tcase_add_test(tests, the_short_way_of_writing_numbers_is_exactly_the_long_way);
    tcase_add_test(tests, fixed_decimals_round_half_away_from_zero);
    tcase_add_test(tests, json_strings_are_escaped);
    tcase_add_test(tests, a_byte_is_escaped_the_same_wherever_it_stands_among_plain_ones);
    tcase_add_test(tests, bytes_that_are_not_utf8_become_the_replacement_character);
    tcase_add_test(tests, html_is_escaped_for_elements_and_quoted_attributes);
    tcase_add_test(tests, whatever_bytes_come_in_valid_utf8_goes_out_and_no_open_quote);
    tcase_add_test(tests, every_code_point_is_valid_but_surrogates_and_what_is_past_the_last);
    tcase_add_test(tests, overlong_and_broken_sequences_are_not_valid);
    tcase_add_test(tests, instants_and_dates_are_written_and_their_absence_is_null);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
