/* links: views compute model */
/* SPDX-License-Identifier: MIT */
/*
 * Whole pages held against tests/snapshot/pages-*.html, so that a change of a word or a rule of
 * display shows its consequence in the same commit. To take new ones on purpose, run this test with
 * EMBERWAIT_SNAPSHOT=write and read the difference.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "people_sample.h"
#include "views_sample.h"

static struct words *words[2];
static struct sample sample;
static struct text page;

static void load(void)
{
    ck_assert_int_eq(words_load(&words[0], PROJECT_ROOT "/schema/words", "en", NULL), STATUS_OK);
    ck_assert_int_eq(words_load(&words[1], PROJECT_ROOT "/schema/words", "es", NULL), STATUS_OK);
    ck_assert_int_eq(sample_make(&sample, words[0]), STATUS_OK);
    page = (struct text)TEXT_UP_TO(PAGE_BYTES_MAX);
}

static void unload(void)
{
    text_free(&page);
    zone_free(sample.zone);
    words_free(words[0]);
    words_free(words[1]);
}

/* A line for each element, so that a difference is a line. */
static void broken_into_lines(struct text *out)
{
    for (const char *at = text_z(&page); *at != '\0'; at++) {
        if (at[0] == '<' && at[1] != '/' && out->length > 0) text_add_byte(out, '\n');
        text_add_byte(out, *at);
    }
}

static void held_against(const char *name)
{
    char path[400];
    snprintf(path, sizeof path, PROJECT_ROOT "/tests/snapshot/pages-%s.html", name);
    struct text now = TEXT_UP_TO(PAGE_BYTES_MAX), before = TEXT_UP_TO(PAGE_BYTES_MAX);
    broken_into_lines(&now);
    const char *write = getenv("EMBERWAIT_SNAPSHOT");
    if (write != NULL && strcmp(write, "write") == 0) {
        FILE *file = fopen(path, "wb");
        ck_assert_ptr_nonnull(file);
        fwrite(text_z(&now), 1, now.length, file);
        ck_assert_int_eq(fclose(file), 0);
    }
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "no %s", path);
    char buffer[4096];
    for (size_t n; (n = fread(buffer, 1, sizeof buffer, file)) > 0;) text_add(&before, buffer, n);
    fclose(file);
    size_t at = 0, line = 1;
    while (at < now.length && at < before.length && now.data[at] == before.data[at])
        if (now.data[at++] == '\n') line++;
    ck_assert_msg(at == now.length && at == before.length, "%s differs in line %zu: %.120s", path,
                  line, text_z(&now) + (at > 40 ? at - 40 : 0));
    text_free(&now);
    text_free(&before);
    text_clear(&page);
}

START_TEST(the_pages_are_what_was_last_agreed)
{
    static const char *const languages[] = {"en", "es"};
    for (int l = 0; l < 2; l++) {
        char name[40];
        sample.page.words = words[l];
        html_yard(&page, &sample.page, &sample.plan, sample.changes, 1);
        snprintf(name, sizeof name, "yard-%s", languages[l]);
        held_against(name);
        html_crew(&page, &sample.page, &sample.plan, &sample.crews[0], "crew-token");
        snprintf(name, sizeof name, "crew-%s", languages[l]);
        held_against(name);
        html_home(&page, &sample.page, &sample.plans[2]);
        snprintf(name, sizeof name, "home-%s", languages[l]);
        held_against(name);
        html_day_sheet(&page, &sample.page, &sample.plan, &sample.crews[0], NULL);
        snprintf(name, sizeof name, "sheet-%s", languages[l]);
        held_against(name);
        html_people(&page, &sample.page, people_sample(sample.now_s));
        snprintf(name, sizeof name, "people-%s", languages[l]);
        held_against(name);
    }
    sample.page.words = words[0];
    sample.page.csrf = "0123456789abcdef0123456789abcdef";
    html_sign_in(&page, &sample.page,
                 &(struct sign_in_form){.name = "Ada", .to = "/people", .wrong = true});
    held_against("sign-in");
    sample.page.csrf = NULL;
    html_tag(&page, &sample.page, words[1], &sample.plans[2], "home-token");
    held_against("tag");
}
END_TEST

START_TEST(the_same_model_gives_the_same_bytes)
{
    struct text again = TEXT_UP_TO(PAGE_BYTES_MAX);
    html_job(&page, &sample.page, &sample.plan, &sample.plans[2], NULL);
    html_job(&again, &sample.page, &sample.plan, &sample.plans[2], NULL);
    ck_assert_str_eq(text_z(&page), text_z(&again));
    text_free(&again);
}
END_TEST

START_TEST(a_page_that_does_not_fit_says_so)
{
    struct text small = TEXT_UP_TO(500);
    html_yard(&small, &sample.page, &sample.plan, NULL, 0);
    ck_assert_int_eq(text_status(&small), STATUS_LIMIT);
    text_free(&small);
}
END_TEST

int main(void)
{
    TCase *tests = tcase_create("pages");
    tcase_add_checked_fixture(tests, load, unload);
    tcase_add_test(tests, the_pages_are_what_was_last_agreed);
    tcase_add_test(tests, the_same_model_gives_the_same_bytes);
    tcase_add_test(tests, a_page_that_does_not_fit_says_so);
    Suite *suite = suite_create("views snapshot");
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? 0 : 1;
}
