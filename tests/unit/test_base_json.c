/* SPDX-License-Identifier: MIT */
/* The JSON writer: commas and brackets in their places, and every misuse stopped on the spot. */
#include "base/json.h"

#include <check.h>
#include <math.h>
#include <signal.h>
#include <stdlib.h>

#include "base/limits.h"

static struct text text;
static struct json json;

static void set_up(void)
{
    text = (struct text)TEXT_UP_TO(100000);
    json = (struct json){.text = &text};
}

static void tear_down(void)
{
    text_free(&text);
}

START_TEST(every_kind_of_value_stands_with_its_key_and_comma)
{
    json_open_object(&json, NULL);
    json_put_text(&json, "text", "a\"b");
    json_put_text(&json, "none", NULL);
    json_put_bytes(&json, "bytes", "abcdef", 3);
    json_put_integer(&json, "integer", -5);
    json_put_number(&json, "number", 41.2);
    json_put_number(&json, "nan", NAN);
    json_put_fixed(&json, "fixed", 2, 1);
    json_put_bool(&json, "yes", true);
    json_put_bool(&json, "no", false);
    json_put_null(&json, "null");
    json_put_instant(&json, "instant", 0, NULL);
    json_put_date(&json, "date", 0);
    json_put_raw(&json, "raw", "[1, 2]", 6);
    json_close(&json);
    ck_assert(json_done(&json));
    ck_assert_int_eq(text_status(&text), STATUS_OK);
    ck_assert_str_eq(text_z(&text),
                     "{\"text\":\"a\\\"b\",\"none\":null,\"bytes\":\"abc\",\"integer\":-5,"
                     "\"number\":41.2,\"nan\":null,\"fixed\":2.0,\"yes\":true,\"no\":false,"
                     "\"null\":null,\"instant\":\"1970-01-01T00:00:00Z\",\"date\":\"1970-01-01\","
                     "\"raw\":[1, 2]}");
}
END_TEST

START_TEST(objects_and_arrays_nest_and_may_be_empty)
{
    json_open_array(&json, NULL);
    json_open_object(&json, NULL);
    json_close(&json);
    json_open_array(&json, NULL);
    json_close(&json);
    json_open_object(&json, NULL);
    json_open_array(&json, "a");
    json_put_integer(&json, NULL, 1);
    json_put_integer(&json, NULL, 2);
    json_close(&json);
    json_open_object(&json, "b");
    json_put_null(&json, "c");
    json_close(&json);
    json_close(&json);
    ck_assert(!json_done(&json));
    json_close(&json);
    ck_assert(json_done(&json));
    ck_assert_str_eq(text_z(&text), "[{},[],{\"a\":[1,2],\"b\":{\"c\":null}}]");
}
END_TEST

START_TEST(a_key_may_be_written_before_its_value_and_a_foreign_one_is_escaped)
{
    json_open_object(&json, NULL);
    json_key(&json, "a");
    json_put_integer(&json, NULL, 1);
    json_key_escaped(&json, "q\"\n", 3);
    json_open_array(&json, NULL);
    json_close(&json);
    json_put_integer(&json, "b", 2);
    json_close(&json);
    ck_assert_str_eq(text_z(&text), "{\"a\":1,\"q\\\"\\n\":[],\"b\":2}");
}
END_TEST

START_TEST(the_deepest_level_works_and_levels_are_forgotten_when_closed)
{
    for (int round = 0; round < 2; round++) {
        if (round == 0) json_open_array(&json, NULL);
        for (int i = 1; i < JSON_DEPTH_MAX; i++) {
            if (i % 2)
                json_open_object(&json, NULL);
            else
                json_open_array(&json, "k");
        }
        for (int i = 1; i < JSON_DEPTH_MAX; i++) json_close(&json);
    }
    json_close(&json);
    ck_assert(json_done(&json));
    size_t commas = 0;
    for (size_t i = 0; i < text.length; i++) commas += text.data[i] == ',';
    ck_assert_uint_eq(commas, 1);
}
END_TEST

START_TEST(a_single_value_may_stand_at_the_top)
{
    ck_assert(!json_done(&json));
    json_put_integer(&json, NULL, 1);
    ck_assert(json_done(&json));
    ck_assert_str_eq(text_z(&text), "1");
}
END_TEST

/* Misuse: each must abort. */
START_TEST(a_writer_used_wrongly_aborts)
{
    switch (_i) {
    case 0:
        json_close(&json);
        break;
    case 1:
        json_put_integer(&json, "key", 1);
        break;
    case 2:
        json_open_object(&json, NULL);
        json_put_integer(&json, NULL, 1);
        break;
    case 3:
        json_open_array(&json, NULL);
        json_put_integer(&json, "key", 1);
        break;
    case 4:
        json_open_object(&json, NULL);
        json_key(&json, "a");
        json_close(&json);
        break;
    case 5:
        json_open_object(&json, NULL);
        json_key(&json, "a");
        json_key(&json, "b");
        break;
    case 6:
        json_put_integer(&json, NULL, 1);
        json_put_integer(&json, NULL, 2);
        break;
    case 7:
        for (int i = 0; i <= JSON_DEPTH_MAX; i++) json_open_array(&json, NULL);
        break;
    case 8:
        json_open_object(&json, NULL);
        json_key(&json, "a");
        json_put_null(&json, "b");
        break;
    case 9:
        json_put_raw(&json, NULL, "", 0);
        break;
    default:
        ck_abort_msg("no such case");
    }
}
END_TEST

START_TEST(a_text_that_is_full_fails_and_the_writer_carries_on_quietly)
{
    text.limit = 10;
    json_open_array(&json, NULL);
    for (int i = 0; i < 100; i++) json_put_integer(&json, NULL, i);
    json_close(&json);
    ck_assert(json_done(&json));
    ck_assert_int_eq(text_status(&text), STATUS_LIMIT);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("json");
    TCase *tests = tcase_create("json");
    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, every_kind_of_value_stands_with_its_key_and_comma);
    tcase_add_test(tests, objects_and_arrays_nest_and_may_be_empty);
    tcase_add_test(tests, a_key_may_be_written_before_its_value_and_a_foreign_one_is_escaped);
    tcase_add_test(tests, the_deepest_level_works_and_levels_are_forgotten_when_closed);
    tcase_add_test(tests, a_single_value_may_stand_at_the_top);
    tcase_add_loop_test_raise_signal(tests, a_writer_used_wrongly_aborts, SIGABRT, 0, 10);
    tcase_add_test(tests, a_text_that_is_full_fails_and_the_writer_carries_on_quietly);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
