/* SPDX-License-Identifier: MIT */
/* links: app */
/* When an alarm is mailed: once, once more, and at night only while somebody can still act. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "app/app_mail.h"
#include "app/app_watch.h"
#include "base/instant.h"
#include "model/record.h"

static char directory[] = "/tmp/ew-watch-XXXXXX";
static struct app *app;
static struct zone *zone;
static struct arena *arena;

static int64_t at(const char *text)
{
    int64_t out = 0;
    ck_assert_int_eq(instant_parse(&out, text, strlen(text), NULL), STATUS_OK);
    return out;
}

static void begin(void)
{
    char path[256];
    snprintf(directory, sizeof directory, "/tmp/ew-watch-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/store.db", directory);
    const struct app_options options = {.path = path, .create = true, .now_s = 1792800000};
    ck_assert_int_eq(app_open(&app, &options, NULL), STATUS_OK);
    ck_assert_int_eq(zone_load(&zone, "America/Denver", NULL), STATUS_OK);
    arena = arena_new();
}

static void end(void)
{
    char command[300];
    app_close(app);
    zone_free(zone);
    arena_free(arena);
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
}

static struct alarm alarm_of(enum alarm_kind kind)
{
    return (struct alarm){.number = 1,
                          .job_id = "hollow-pine",
                          .kind = kind,
                          .about = "pad.build-on",
                          .due_s = INSTANT_NONE,
                          .told_s = INSTANT_NONE,
                          .over_s = INSTANT_NONE,
                          .seen_s = INSTANT_NONE,
                          .crew_seen_s = INSTANT_NONE};
}

static bool due(const struct alarm *alarm, const char *now)
{
    return app_alarm_due(app, alarm, zone, at(now));
}

START_TEST(an_alarm_is_mailed_by_day_at_once)
{
    const struct alarm alarm = alarm_of(ALARM_NOT_YET);
    ck_assert(due(&alarm, "2026-10-23T05:30:00-06:00"));
    ck_assert(due(&alarm, "2026-10-23T20:59:59-06:00"));
}
END_TEST

START_TEST(what_can_wait_waits_for_the_morning)
{
    const struct alarm alarm = alarm_of(ALARM_NOT_YET);
    ck_assert(!due(&alarm, "2026-10-23T21:00:00-06:00"));
    ck_assert(!due(&alarm, "2026-10-23T05:29:59-06:00"));
}
END_TEST

START_TEST(a_frost_is_mailed_at_night_while_somebody_can_still_cover)
{
    struct alarm alarm = alarm_of(ALARM_FROST);
    alarm.due_s = at("2026-10-24T05:00:00-06:00");
    ck_assert(due(&alarm, "2026-10-23T22:00:00-06:00"));
    ck_assert(due(&alarm, "2026-10-24T04:30:00-06:00"));
    ck_assert(!due(&alarm, "2026-10-24T04:30:01-06:00"));
    alarm.due_s = INSTANT_NONE;
    ck_assert(!due(&alarm, "2026-10-23T22:00:00-06:00"));
}
END_TEST

START_TEST(one_repeat_two_hours_later_and_no_more)
{
    struct alarm alarm = alarm_of(ALARM_WITHDRAWN);
    alarm.told = 1;
    alarm.told_s = at("2026-10-23T08:00:00-06:00");
    ck_assert(!due(&alarm, "2026-10-23T09:59:59-06:00"));
    ck_assert(due(&alarm, "2026-10-23T10:00:00-06:00"));
    alarm.told = 2;
    ck_assert(!due(&alarm, "2026-10-23T19:00:00-06:00"));
}
END_TEST

START_TEST(what_was_seen_or_is_over_is_not_mailed)
{
    struct alarm alarm = alarm_of(ALARM_NOT_YET);
    alarm.seen_s = at("2026-10-23T08:00:00-06:00");
    ck_assert(!due(&alarm, "2026-10-23T09:00:00-06:00"));
    alarm = alarm_of(ALARM_NOT_YET);
    alarm.over_s = at("2026-10-23T08:00:00-06:00");
    ck_assert(!due(&alarm, "2026-10-23T09:00:00-06:00"));
}
END_TEST

START_TEST(the_queue_takes_a_thousand_messages_and_then_says_so)
{
    struct faults faults = {0};
    for (int i = 0; i < APP_MAIL_QUEUE_MAX; i++) {
        char id[40];
        snprintf(id, sizeof id, "00000000-0000-4000-8000-%012d", i);
        const struct app_mail mail = {
            .id = id, .receiver = "one@example.org", .subject = "s", .body = "b"};
        ck_assert_int_eq(app_mail_queue(app, &mail, 1792800000, &faults), STATUS_OK);
    }
    const struct app_mail over = {.id = "0f0e0d0c-0000-4000-8000-000000000001",
                                  .receiver = "one@example.org",
                                  .subject = "s",
                                  .body = "b"};
    ck_assert_int_eq(app_mail_queue(app, &over, 1792800000, &faults), STATUS_LIMIT);
    ck_assert_uint_eq(faults.count, 1);
    faults_free(&faults);
    const struct app_mail *waiting = NULL;
    size_t count = 0;
    ck_assert_int_eq(app_mail_waiting(&waiting, &count, app, arena, NULL), STATUS_OK);
    ck_assert_uint_eq(count, APP_MAIL_QUEUE_MAX);
    ck_assert_int_eq(app_mail_sent(app, waiting[0].number, 1792800001, NULL), STATUS_OK);
    ck_assert_int_eq(app_mail_sent(app, waiting[0].number, 1792800001, NULL), STATUS_NOT_FOUND);
    ck_assert_int_eq(app_mail_queue(app, &over, 1792800000, &faults), STATUS_OK);
}
END_TEST

START_TEST(an_id_that_is_no_uuid_is_queued_nowhere)
{
    static const char *const bad[] = {
        "",
        "message-1",
        "/.././././././././././././././././evil",
        "a\r\nBcc: evil@x.example\r\nxxxxxxxxxxxx",
        "0F0E0D0C-0000-4000-8000-000000000001",
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct faults faults = {0};
        const struct app_mail mail = {
            .id = bad[i], .receiver = "one@example.org", .subject = "s", .body = "b"};
        ck_assert_int_eq(app_mail_queue(app, &mail, 1792800000, &faults), STATUS_INVALID);
        ck_assert_str_eq(faults.items[0].path, "id");
        faults_free(&faults);
    }
}
END_TEST

START_TEST(a_message_of_no_job_and_of_one_that_is_not_there)
{
    struct faults faults = {0};
    const struct app_mail lost = {.id = "0f0e0d0c-0000-4000-8000-000000000002",
                                  .job_id = "nowhere",
                                  .receiver = "one@example.org",
                                  .subject = "s",
                                  .body = "b"};
    ck_assert_int_eq(app_mail_queue(app, &lost, 1792800000, &faults), STATUS_NOT_FOUND);
    faults_free(&faults);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("watch");
    TCase *tests = tcase_create("watch");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, an_alarm_is_mailed_by_day_at_once);
    tcase_add_test(tests, what_can_wait_waits_for_the_morning);
    tcase_add_test(tests, a_frost_is_mailed_at_night_while_somebody_can_still_cover);
    tcase_add_test(tests, one_repeat_two_hours_later_and_no_more);
    tcase_add_test(tests, what_was_seen_or_is_over_is_not_mailed);
    tcase_add_test(tests, the_queue_takes_a_thousand_messages_and_then_says_so);
    tcase_add_test(tests, an_id_that_is_no_uuid_is_queued_nowhere);
    tcase_add_test(tests, a_message_of_no_job_and_of_one_that_is_not_there);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed != 0;
}
