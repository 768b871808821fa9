/* SPDX-License-Identifier: MIT */
/* links: views */
/*
 * The weather's figures in words: enough decimals to stand apart from their limit, the same in both
 * languages, and on the pages only where the plan carries them.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "views/html_crew.h"
#include "views/html_weather.h"
#include "views/html_yard.h"
#include "views/says_gate.h"
#include "views_sample.h"

static struct words *english, *spanish;
static struct sample sample;

static void set_up(void)
{
    ck_assert_int_eq(words_load(&english, PROJECT_ROOT "/schema/words", "en", NULL), STATUS_OK);
    ck_assert_int_eq(words_load(&spanish, PROJECT_ROOT "/schema/words", "es", NULL), STATUS_OK);
    ck_assert_int_eq(sample_make(&sample, english), STATUS_OK);
}

static void tear_down(void)
{
    words_free(english);
    words_free(spanish);
    zone_free(sample.zone);
}

static const char *said(const struct words *words, enum gate_rule rule, enum unit unit,
                        double value, double limit, bool mean_wind)
{
    static struct text out;
    const struct gate_figure figure = {
        .rule = rule, .unit = unit, .value = value, .limit = limit, .mean_wind = mean_wind};
    text_free(&out);
    out = (struct text)TEXT_UP_TO(1000);
    says_gate_figure(&out, words, &figure);
    return text_z(&out);
}

START_TEST(a_figure_close_to_its_limit_is_not_rounded_onto_it)
{
    ck_assert_str_eq(said(english, GATE_RULE_COLD, UNIT_DEGF, 31.4, 40, false),
                     "air or pieces 31°F, at least 40°F");
    ck_assert_str_eq(said(english, GATE_RULE_COLD, UNIT_DEGF, 39.9, 40, false),
                     "air or pieces 39.9°F, at least 40.0°F");
    ck_assert_str_eq(said(english, GATE_RULE_GUST, UNIT_MPH, 25, 25, false),
                     "gusts 25 mph, limit 25 mph");
    ck_assert_str_eq(said(english, GATE_RULE_POUR_RAIN, UNIT_INCH, 0.126, 0.1, false),
                     "rain after the pour 0.13 in, limit 0.10 in");
    ck_assert_str_eq(said(english, GATE_RULE_FROST, UNIT_DEGF, -0.2, 32, false),
                     "frost: 0°F, under 32°F");
}
END_TEST

START_TEST(a_mean_wind_is_said_to_be_one_in_both_languages)
{
    ck_assert_str_eq(said(english, GATE_RULE_GUST, UNIT_MPH, 30, 25, true),
                     "gusts 30 mph, limit 25 mph (no gust known: mean wind)");
    ck_assert_str_eq(said(spanish, GATE_RULE_GUST, UNIT_MPH, 30, 25, true),
                     "ráfagas de 30 mph, límite 25 mph (sin dato de ráfagas: viento medio)");
}
END_TEST

START_TEST(an_hour_of_the_day_is_shown_as_one)
{
    ck_assert_str_eq(said(english, GATE_RULE_POUR_BEFORE, UNIT_HOUR, 13.5, 12, false),
                     "start at 13:30, wanted before 12:00 of the day");
}
END_TEST

static const char *yard(void)
{
    static struct text out;
    const struct page page = {.words = english,
                              .now_s = sample.now_s,
                              .company = &sample.company,
                              .path = "/",
                              .notice = WORD_COUNT};
    text_free(&out);
    out = (struct text)TEXT_UP_TO(PAGE_BYTES_MAX);
    html_yard(&out, &page, &sample.plan, NULL, 0);
    ck_assert_int_eq(text_status(&out), STATUS_OK);
    return text_z(&out);
}

START_TEST(tonight_names_the_crew_the_time_and_what_decides)
{
    const char *page = yard();
    ck_assert_ptr_nonnull(strstr(page, "Green joints: top and 2 ft down the sides"));
    ck_assert_ptr_nonnull(strstr(page, "Cover tonight, before 3:30 pm"));
    ck_assert_ptr_nonnull(strstr(page, "frost: 30°F, under 32°F"));
    ck_assert_ptr_null(strstr(page, "too late to change it"));
    sample.plans[0].tonight[0].can_act = false;
    sample.plans[0].tonight[0].alarm = true;
    page = yard();
    ck_assert_ptr_nonnull(strstr(page, "too late to change it"));
    ck_assert_ptr_nonnull(strstr(page, "Frost before its first-frost limit"));
    for (size_t i = 0; i < SAMPLE_JOBS; i++) sample.plans[i].tonight_count = 0;
    ck_assert_ptr_null(strstr(yard(), "Cover tonight"));
}
END_TEST

START_TEST(the_pours_figures_are_those_of_the_plan)
{
    ck_assert_ptr_nonnull(strstr(yard(), "Rain in the pour and the 6 h after: 0 mm"));
    ck_assert_ptr_nonnull(strstr(yard(), "Blankets on the truck before the pour"));
    ck_assert_ptr_null(strstr(yard(), "Not today:"));
    struct pour_plan *pour = &sample.plans[4].pour;
    pour->rain_h = 8;
    pour->rain_in = 0.5;
    pour->state = GATE_CLOSED;
    pour->figure = (struct gate_figure){
        .rule = GATE_RULE_POUR_RAIN, .unit = UNIT_INCH, .value = 0.5, .limit = 0.2};
    ck_assert_ptr_nonnull(strstr(yard(), "Rain in the pour and the 8 h after: 12.7 mm"));
    ck_assert_ptr_nonnull(strstr(yard(), "Not today: rain after the pour 0.50 in, limit 0.20 in"));
}
END_TEST

START_TEST(a_lost_half_day_tells_hours_work_and_threshold)
{
    ck_assert_ptr_nonnull(
        strstr(yard(), "afternoon: 2.5 h of 3 lost, Damper: gusts 31 mph, limit 25 mph"));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_figure_close_to_its_limit_is_not_rounded_onto_it,
        a_mean_wind_is_said_to_be_one_in_both_languages,
        an_hour_of_the_day_is_shown_as_one,
        tonight_names_the_crew_the_time_and_what_decides,
        the_pours_figures_are_those_of_the_plan,
        a_lost_half_day_tells_hours_work_and_threshold,
    };
    Suite *suite = suite_create("views weather");
    TCase *sentences = tcase_create("views weather");
    tcase_add_checked_fixture(sentences, set_up, tear_down);
    for (size_t i = 0; i < sizeof tests / sizeof *tests; i++) tcase_add_test(sentences, tests[i]);
    suite_add_tcase(suite, sentences);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
