/* links: views compute model */
/* SPDX-License-Identifier: MIT */
/*
 * The crew's page held against the man in the truck: order, one thing to tap a task, what a thumb
 * may write down, the name that signs, and the same page in Spanish.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "views/crew_day.h"
#include "views/crew_load.h"
#include "views_sample.h"

static struct words *english, *spanish;
static struct sample sample;
static struct text page;

static void load(void)
{
    struct faults faults = {0};
    ck_assert_int_eq(words_load(&english, PROJECT_ROOT "/schema/words", "en", &faults), STATUS_OK);
    ck_assert_int_eq(words_load(&spanish, PROJECT_ROOT "/schema/words", "es", &faults), STATUS_OK);
    ck_assert_int_eq(sample_make(&sample, english), STATUS_OK);
    page = (struct text)TEXT_UP_TO(PAGE_BYTES_MAX);
}

static void unload(void)
{
    text_free(&page);
    zone_free(sample.zone);
    words_free(english);
    words_free(spanish);
}

#define HAS(what) ck_assert_msg(strstr(text_z(&page), (what)) != NULL, "missing: %s", (what))
#define LACKS(what) ck_assert_msg(strstr(text_z(&page), (what)) == NULL, "must not say: %s", (what))

static void crew_page(void)
{
    text_clear(&page);
    html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "tok");
    ck_assert_int_eq(text_status(&page), STATUS_OK);
}

/* Each of the texts stands after the one before it. */
static void in_order(const char *const *texts, size_t count)
{
    const char *at = text_z(&page);
    for (size_t i = 0; i < count; i++) {
        const char *found = strstr(at, texts[i]);
        ck_assert_msg(found != NULL, "not there, or too early: %s", texts[i]);
        at = found;
    }
}

START_TEST(the_page_answers_in_the_order_the_crew_asks)
{
    static const char *const order[] = {"class=\"job-name\"", "Gate 4471",
                                        "Do today",           "Do not today",
                                        "Weather in working", "Before you leave",
                                        "Tools to load",      "As of ",
                                        "Day sheet to print", "class=\"panel\" id=\"j1-reading\""};
    crew_page();
    in_order(order, sizeof order / sizeof *order);
}
END_TEST

START_TEST(a_task_is_one_thing_to_tap_and_opens_its_panel)
{
    crew_page();
    HAS("<a class=\"task\" data-task=\"pad-strip\" href=\"#j1-pad-strip\">");
    HAS("<section class=\"panel\" id=\"j1-pad-strip\"");
    HAS("name=\"kind\" value=\"started\" checked");
    HAS("name=\"kind\" value=\"done\"");
    HAS("name=\"why\" value=\"hurt\"");
}
END_TEST

START_TEST(what_is_done_and_not_passed_comes_first_and_asks_for_its_checks)
{
    sample.plans[0].tasks[TASK_PAD_STEEL].state = TASK_STATE_CHECK_IT;
    sample.plans[0].tasks[TASK_PAD_STEEL].held = true;
    const struct task_plan *tasks[CREW_DO_MAX];
    ck_assert_uint_ge(
        crew_day_do(&sample.page, &sample.plan, &sample.crews[0], &sample.plans[0], tasks), 2);
    ck_assert_int_eq(tasks[0]->task, TASK_PAD_STEEL);
    crew_page();
    HAS("name=\"kind\" value=\"passed\" checked");
    LACKS("name=\"done_id\"");
}
END_TEST

static struct check_plan sample_check(enum check_id check, enum check_kind kind, double most)
{
    return (struct check_plan){.check = check,
                               .kind = kind,
                               .unit = kind == CHECK_KIND_MEASURE ? CHECK_UNIT_IN : CHECK_UNIT_NONE,
                               .evidence = EVIDENCE_PHOTO,
                               .least = NAN,
                               .most = most,
                               .of = NAN};
}

START_TEST(a_hold_point_shows_its_checks_with_their_limits_and_takes_an_answer_for_each)
{
    const struct check_plan checks[] = {
        sample_check(CHECK_PAD_CHECK_LEVEL, CHECK_KIND_MEASURE, 0.125),
        sample_check(CHECK_PAD_CHECK_SCRATCH, CHECK_KIND_YES, NAN),
        sample_check(CHECK_PAD_CHECK_DRY, CHECK_KIND_YES, NAN)};
    struct task_plan *task = &sample.plans[0].tasks[TASK_PAD_CHECK];
    task->state = TASK_STATE_WAIT_OVER;
    task->checks = checks;
    task->check_count = 3;
    crew_page();
    HAS("at most 1/8 in.");
    HAS("name=\"check.level\" data-kind=\"measure\"");
    HAS("name=\"check.scratch\" value=\"yes\"");
    HAS("name=\"check.scratch\" value=\"no\"");
    HAS("class=\"all-yes\" hidden");
    HAS("name=\"done_id\""); /* nobody called it done: one tap says both */
    HAS("capture=\"environment\"");
}
END_TEST

START_TEST(a_course_is_passed_without_a_photo_where_no_check_asks_for_one)
{
    struct check_plan check = sample_check(CHECK_BOX_COURSES_SQUEEZE, CHECK_KIND_YES, NAN);
    check.evidence = EVIDENCE_NOTHING;
    const struct task_plan task = {.task = TASK_BOX_COURSES, .checks = &check, .check_count = 1};
    text_clear(&page);
    for (int wants = 0; wants < 2; wants++) {
        check.evidence = wants ? EVIDENCE_PHOTO : EVIDENCE_NOTHING;
        struct plan plan = sample.plan;
        struct job_plan job = sample.plans[0];
        for (int t = 0; t < TASK_COUNT; t++) job.tasks[t].state = TASK_STATE_NOT_NEEDED;
        job.tasks[TASK_BOX_COURSES] = task;
        job.tasks[TASK_BOX_COURSES].state = TASK_STATE_WAIT_OVER;
        plan.jobs = &job;
        plan.job_count = 1;
        plan.crew_count = 0;
        html_crew(&page, &sample.page, &plan, &sample.crews[0], "tok");
        const char *panel = strstr(text_z(&page), "id=\"j1-box-courses\"");
        ck_assert_ptr_nonnull(panel);
        const char *end = strstr(panel, "</section>");
        const char *photo = strstr(panel, "class=\"photo\"");
        ck_assert_int_eq(photo != NULL && photo < end, wants);
        text_clear(&page);
    }
}
END_TEST

START_TEST(the_number_pad_begins_with_the_last_reading_of_the_part_it_was_taken_at)
{
    crew_page();
    HAS("name=\"degrees\" inputmode=\"decimal\" autocomplete=\"off\" maxlength=\"6\" value=\"54\"");
    HAS("name=\"part\" value=\"pad\" checked");
    HAS("name=\"scale\" value=\"f\"");
    LACKS("value=\"c\"");
}
END_TEST

START_TEST(a_refused_form_of_the_crew_is_open_again_and_says_why_in_the_pages_language)
{
    const struct form_field fields[] = {{"form", "reading"}, {"degrees", "hot"}, {"by", "Ana"}};
    struct fault fault;
    fault_set(&fault, "degrees", "a number", "hot");
    struct form_echo echo = {"reading", "hollow-pine", fields, 3, &fault, 1};
    sample.page.echo = &echo;
    sample.page.words = spanish;
    crew_page();
    HAS("class=\"panel open\" id=\"j1-reading\"");
    HAS("Grados: un n\u00famero de -60 a 200.");
    HAS("value=\"hot\"");
    HAS("value=\"Ana\"");
    LACKS("a number");
    sample.page.words = english;
    crew_page();
    HAS("Degrees: a number from -60 to 200.");
}
END_TEST

START_TEST(names_of_the_crews_phones_are_one_tap_and_sign)
{
    static const char *const names[] = {"Luis", "Ana <b>"};
    crew_page();
    LACKS("name=\"by\" value=\"Luis\"");
    HAS("class=\"other\" open");
    sample.page.names = names;
    sample.page.name_count = 2;
    crew_page();
    HAS("<button type=\"submit\" name=\"by\" value=\"Luis\">Luis</button>");
    HAS("value=\"Ana &lt;b&gt;\"");
    LACKS("class=\"other\" open");
}
END_TEST

START_TEST(the_bag_says_how_long_a_bucket_lasts_when_its_card_does)
{
    ck_assert(isnan(crew_day_bag_pot_min(&sample.plans[0])));
    struct record bag = sample_record("r-bag", RECORD_BAG, sample.now_s - 3600);
    bag.pot_life_min = 40;
    sample.jobs[0].records = &bag;
    sample.jobs[0].record_count = 1;
    sample.plans[0].tasks[TASK_LAYOUT].state = TASK_STATE_WAIT_OVER;
    crew_page();
    HAS("Bucket: 40 min, as the bag says.");
}
END_TEST

START_TEST(tools_are_said_once_and_every_id_of_the_lists_has_a_use)
{
    uint64_t materials = 0, tools = 0;
    for (int t = 0; t < TASK_COUNT; t++) {
        materials |= crew_load_materials((enum task)t);
        tools |= crew_load_tools((enum task)t);
    }
    ck_assert_uint_eq(materials, (UINT64_C(1) << MATERIAL_COUNT) - 1);
    ck_assert_uint_eq(tools, (UINT64_C(1) << TOOL_COUNT) - 1);
    crew_page();
    const char *at = strstr(text_z(&page), "Tools to load");
    ck_assert_ptr_nonnull(at);
    at = strstr(at, "probe thermometer");
    ck_assert_ptr_nonnull(at);
    ck_assert_ptr_null(strstr(at + 1, "probe thermometer"));
}
END_TEST

/* Numbers and hours of a text, in order, without its words and ids. */
static void figures_of(char out[8000], const char *html)
{
    size_t n = 0;
    bool tag = false;
    for (const char *at = html; *at != '\0' && n + 2 < 8000; at++) {
        if (*at == '<') tag = true;
        if (!tag && *at == '&') at += strcspn(at, ";");
        if (!tag && *at >= '0' && *at <= '9') out[n++] = *at;
        if (!tag && n > 0 && out[n - 1] != ' ' && (*at < '0' || *at > '9')) out[n++] = ' ';
        if (*at == '>') tag = false;
    }
    out[n] = '\0';
}

START_TEST(the_spanish_page_is_the_same_page_with_the_same_numbers)
{
    static char en[8000], es[8000];
    crew_page();
    figures_of(en, text_z(&page));
    size_t links = 0;
    for (const char *at = text_z(&page); (at = strstr(at, "href=\"#")) != NULL; at++) links++;
    sample.page.words = spanish;
    crew_page();
    figures_of(es, text_z(&page));
    for (const char *at = text_z(&page); (at = strstr(at, "href=\"#")) != NULL; at++) links--;
    ck_assert_uint_eq(links, 0);
    ck_assert_str_eq(en, es);
}
END_TEST

START_TEST(the_page_shows_no_price_no_homeowner_and_no_address)
{
    crew_page();
    LACKS("Mrs Abernathy");
    LACKS("14 Sample Street");
    LACKS("$");
    LACKS("<style");
    LACKS("<script>");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("views-crew");
    TCase *tests = tcase_create("crew");
    tcase_add_checked_fixture(tests, load, unload);
    tcase_add_test(tests, the_page_answers_in_the_order_the_crew_asks);
    tcase_add_test(tests, a_task_is_one_thing_to_tap_and_opens_its_panel);
    tcase_add_test(tests, what_is_done_and_not_passed_comes_first_and_asks_for_its_checks);
    tcase_add_test(tests,
                   a_hold_point_shows_its_checks_with_their_limits_and_takes_an_answer_for_each);
    tcase_add_test(tests, a_course_is_passed_without_a_photo_where_no_check_asks_for_one);
    tcase_add_test(tests, the_number_pad_begins_with_the_last_reading_of_the_part_it_was_taken_at);
    tcase_add_test(tests,
                   a_refused_form_of_the_crew_is_open_again_and_says_why_in_the_pages_language);
    tcase_add_test(tests, names_of_the_crews_phones_are_one_tap_and_sign);
    tcase_add_test(tests, the_bag_says_how_long_a_bucket_lasts_when_its_card_does);
    tcase_add_test(tests, tools_are_said_once_and_every_id_of_the_lists_has_a_use);
    tcase_add_test(tests, the_spanish_page_is_the_same_page_with_the_same_numbers);
    tcase_add_test(tests, the_page_shows_no_price_no_homeowner_and_no_address);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
