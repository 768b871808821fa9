/* SPDX-License-Identifier: MIT */
/* links: app */
/* Who comes in and for how long, links for phones, and photos that are kept once. */
#include <check.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/app_company.h"
#include "app/app_job.h"
#include "app/app_link.h"
#include "app/app_pass.h"
#include "app/app_photo.h"
#include "app/app_record.h"
#include "base/limits.h"
#include "model/ids.h"
#include "model/record.h"

#define NOW 1792800000 /* 2026-10-23T20:00:00Z */
#define RIGHT "four words make one"

static char directory[] = "/tmp/ew-people-XXXXXX";
static char path[256];
static struct app *app;
static struct arena *arena;
static struct faults faults;

static const char company[] =
    "{\"time_zone\":\"America/Denver\",\"work_days\":[\"mon\"],\"work_hours\":[\"07:00\","
    "\"15:30\"],\"photos_mib\":1,\"crews\":[{\"id\":\"north\",\"people\":3}]}";

static const char job_text[] =
    "{\"id\":\"hollow-pine\",\"name\":\"Hollow Pine\",\"options\":{\"base\":\"slab\",\"pad\":"
    "\"new\",\"place\":\"indoor\"}}";

static void reopen(void)
{
    app_close(app);
    const struct app_options options = {.path = path, .create = true, .now_s = NOW};
    ck_assert_int_eq(app_open(&app, &options, &faults), STATUS_OK);
}

static void begin(void)
{
    snprintf(directory, sizeof directory, "/tmp/ew-people-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/store.db", directory);
    faults = (struct faults){0};
    arena = arena_new();
    app = NULL;
    reopen();
    ck_assert_int_eq(app_company_put(NULL, app, APP_VERSION_ANY, company, strlen(company), &faults),
                     STATUS_OK);
    ck_assert_int_eq(
        app_job_create(NULL, NULL, NULL, app, job_text, strlen(job_text), "Ada", NOW, &faults),
        STATUS_OK);
}

static void end(void)
{
    app_close(app);
    app = NULL;
    arena_free(arena);
    faults_free(&faults);
    char command[300];
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
}

static enum status add(const char *name, enum app_role role, const char *password)
{
    faults_free(&faults);
    return app_person_add(app, name, role, password, NOW, &faults);
}

static char token[APP_PASS_TEXT_MAX];

static enum status enter(const char *name, const char *password, int64_t now_s)
{
    return app_pass_sign_in(token, app, name, password, now_s, NULL);
}

static struct app_pass pass;

static enum status shows(const char *text, int64_t now_s)
{
    return app_pass_session(&pass, app, text, strlen(text), now_s, arena, NULL);
}

START_TEST(nobody_has_to_sign_in_until_an_owner_is_on_record)
{
    ck_assert(!app_person_any(app));
    ck_assert_int_eq(add("Ben", APP_ROLE_OFFICE, RIGHT), STATUS_CONFLICT);
    ck_assert_int_eq(add("hours", APP_ROLE_STATION, NULL), STATUS_CONFLICT);
    ck_assert(!app_person_any(app));
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    ck_assert(app_person_any(app));
    reopen();
    ck_assert(app_person_any(app));
    ck_assert_int_eq(app_person_revoke(app, "Ada", NOW, &faults), STATUS_CONFLICT);
    ck_assert_int_eq(add("Eve", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    ck_assert_int_eq(app_person_revoke(app, "Ada", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_person_revoke(app, "Eve", NOW, &faults), STATUS_CONFLICT);
    ck_assert_int_eq(add("Ada", APP_ROLE_OFFICE, RIGHT), STATUS_OK); /* a name may come again */
}
END_TEST

START_TEST(names_and_passwords_that_will_not_do_are_refused)
{
    char long_one[PASSWORD_BYTES_MAX + 2];
    memset(long_one, 'x', sizeof long_one - 1);
    long_one[sizeof long_one - 1] = '\0';
    long_one[0] = 'y';
    const char *const bad[] = {"",
                               "short",
                               "nine char",
                               "aaaaaaaaaaaaaaa",
                               "Ada Bells",
                               "\xff\xfe"
                               "0123456789",
                               long_one};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(add("Ada Bells", APP_ROLE_OWNER, bad[i]) == STATUS_INVALID, "%zu", i);
    ck_assert_int_eq(add("Ada Bells Long", APP_ROLE_OWNER, "Ada Bells Long"), STATUS_INVALID);
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, NULL), STATUS_INVALID);
    ck_assert_int_eq(add("", APP_ROLE_OWNER, RIGHT), STATUS_INVALID);
    ck_assert_int_eq(add("a\nb", APP_ROLE_OWNER, RIGHT), STATUS_INVALID);
    long_one[PASSWORD_BYTES_MAX] = '\0';
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, long_one), STATUS_OK);
    ck_assert_int_eq(enter("Ada", long_one, NOW), STATUS_OK);
    long_one[PASSWORD_BYTES_MAX - 1] = 'y';
    ck_assert_int_eq(enter("Ada", long_one, NOW), STATUS_DENIED);
    ck_assert_int_eq(add("Ben", APP_ROLE_OFFICE,
                         "\xc3\xa9\xc3\xb1\xc3\xa9\xc3\xb1\xc3\xa9\xc3\xb1"
                         "\xc3\xa9\xc3\xb1\xc3\xa9\xc3\xb1"),
                     STATUS_OK); /* ten characters of two bytes */
    ck_assert_int_eq(add("hours", APP_ROLE_STATION, RIGHT), STATUS_INVALID);
}
END_TEST

START_TEST(a_session_ends_when_idle_when_old_and_when_told)
{
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    ck_assert_int_eq(enter("Ada", "four words make two", NOW), STATUS_DENIED);
    ck_assert_str_eq(token, "");
    ck_assert_int_eq(enter("ada", RIGHT, NOW), STATUS_DENIED);
    ck_assert_int_eq(enter("", "", NOW), STATUS_DENIED);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW + 1), STATUS_OK);
    ck_assert_str_eq(pass.name, "Ada");
    ck_assert_int_eq(pass.role, APP_ROLE_OWNER);
    ck_assert_int_eq(shows(token, NOW + SESSION_IDLE_S - 1), STATUS_OK); /* and begins again */
    ck_assert_int_eq(shows(token, NOW + 2 * SESSION_IDLE_S - 2), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW + 3 * SESSION_IDLE_S), STATUS_NOT_FOUND);
    int64_t at_s = NOW;
    ck_assert_int_eq(enter("Ada", RIGHT, at_s), STATUS_OK);
    for (; at_s + 86400 < NOW + SESSION_S; at_s += 86400)
        ck_assert_int_eq(shows(token, at_s), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW + SESSION_S - 1), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW + SESSION_S), STATUS_NOT_FOUND);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW), STATUS_OK);
    ck_assert_int_eq(app_pass_sign_out(app, &pass, NOW, &faults), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW), STATUS_NOT_FOUND);
}
END_TEST

START_TEST(sessions_of_one_person_end_together_and_others_stay)
{
    char first[APP_PASS_TEXT_MAX], other[APP_PASS_TEXT_MAX];
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    ck_assert_int_eq(add("Ben", APP_ROLE_OFFICE, "another four words"), STATUS_OK);
    ck_assert_int_eq(enter("Ben", "another four words", NOW), STATUS_OK);
    memcpy(other, token, sizeof other);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
    memcpy(first, token, sizeof first);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
    ck_assert_str_ne(first, token);
    ck_assert_int_eq(app_pass_sign_out_everywhere(app, "Ada", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(shows(first, NOW), STATUS_NOT_FOUND);
    ck_assert_int_eq(shows(token, NOW), STATUS_NOT_FOUND);
    ck_assert_int_eq(shows(other, NOW), STATUS_OK);
    ck_assert_int_eq(pass.role, APP_ROLE_OFFICE);
    ck_assert_int_eq(app_person_password(app, "Ben", "quite other words", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(shows(other, NOW), STATUS_NOT_FOUND);
    ck_assert_int_eq(enter("Ben", "another four words", NOW), STATUS_DENIED);
    ck_assert_int_eq(enter("Ben", "quite other words", NOW), STATUS_OK);
    ck_assert_int_eq(app_person_revoke(app, "Ben", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(shows(token, NOW), STATUS_NOT_FOUND);
    ck_assert_int_eq(enter("Ben", "quite other words", NOW), STATUS_DENIED);
    ck_assert_int_eq(app_person_revoke(app, "Ben", NOW, &faults), STATUS_NOT_FOUND);
    ck_assert_int_eq(app_person_password(app, "Ben", RIGHT, NOW, &faults), STATUS_NOT_FOUND);
}
END_TEST

START_TEST(a_script_has_one_token_and_it_is_no_session)
{
    char script[APP_PASS_TEXT_MAX], next[APP_PASS_TEXT_MAX];
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    ck_assert_int_eq(add("hours", APP_ROLE_STATION, NULL), STATUS_OK);
    ck_assert_int_eq(enter("hours", "", NOW), STATUS_DENIED);
    ck_assert_int_eq(enter("hours", "nobody", NOW), STATUS_DENIED);
    ck_assert_int_eq(app_pass_new_token(script, app, "hours", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(
        app_pass_token(&pass, app, script, strlen(script), NOW + 400 * 86400, arena, NULL),
        STATUS_OK); /* it does not grow old */
    ck_assert_int_eq(pass.role, APP_ROLE_STATION);
    ck_assert_int_eq(shows(script, NOW), STATUS_NOT_FOUND);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
    ck_assert_int_eq(app_pass_token(&pass, app, token, strlen(token), NOW, arena, NULL),
                     STATUS_NOT_FOUND);
    ck_assert_int_eq(app_pass_new_token(next, app, "hours", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_pass_token(&pass, app, script, strlen(script), NOW, arena, NULL),
                     STATUS_NOT_FOUND);
    ck_assert_int_eq(app_pass_new_token(script, app, "nobody", NOW, &faults), STATUS_NOT_FOUND);
    ck_assert_int_eq(app_person_password(app, "hours", RIGHT, NOW, &faults), STATUS_CONFLICT);
    const struct app_person *all;
    size_t count;
    ck_assert_int_eq(app_person_list(&all, &count, app, NOW, arena, &faults), STATUS_OK);
    ck_assert_uint_eq(count, 2);
    ck_assert_int_eq(all[0].sessions, 1);
    ck_assert_int_eq(all[1].tokens, 1);
    ck_assert_int_eq(app_person_revoke(app, "hours", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_pass_token(&pass, app, next, strlen(next), NOW, arena, NULL),
                     STATUS_NOT_FOUND);
}
END_TEST

static void *try_wrong(void *context)
{
    enum status *out = context;
    char mine[APP_PASS_TEXT_MAX];
    *out = app_pass_sign_in(mine, app, "Ada", "not this one at all", NOW, NULL);
    return NULL;
}

START_TEST(of_many_who_sign_in_at_once_some_are_told_to_wait)
{
    enum { TRIES = 24 };
    ck_assert_int_eq(add("Ada", APP_ROLE_OWNER, RIGHT), STATUS_OK);
    pthread_t threads[TRIES];
    enum status answers[TRIES];
    for (int i = 0; i < TRIES; i++)
        ck_assert_int_eq(pthread_create(&threads[i], NULL, try_wrong, &answers[i]), 0);
    int busy = 0, denied = 0;
    for (int i = 0; i < TRIES; i++) {
        pthread_join(threads[i], NULL);
        busy += answers[i] == STATUS_BUSY;
        denied += answers[i] == STATUS_DENIED;
    }
    ck_assert_int_eq(busy + denied, TRIES);
    ck_assert_int_gt(busy, 0);
    ck_assert_int_gt(denied, 0);
    ck_assert_int_eq(enter("Ada", RIGHT, NOW), STATUS_OK);
}
END_TEST

START_TEST(each_phone_of_a_crew_has_a_link_of_its_own)
{
    struct app_link luis, ines, nobodys, found;
    ck_assert_int_eq(app_link_make_for(&luis, app, APP_LINK_CREW, "north", "Luis", NOW, &faults),
                     STATUS_OK);
    ck_assert_int_eq(
        app_link_make_for(&ines, app, APP_LINK_CREW, "north", "In\xc3\xa9s", NOW, &faults),
        STATUS_OK);
    ck_assert_int_eq(app_link_make(&nobodys, app, APP_LINK_CREW, "north", NOW, &faults), STATUS_OK);
    ck_assert_str_ne(luis.token, ines.token);
    ck_assert_str_ne(luis.token, nobodys.token);
    ck_assert_int_eq(app_link_make_for(&found, app, APP_LINK_CREW, "north", "Luis", NOW, &faults),
                     STATUS_OK);
    ck_assert_str_eq(found.token, luis.token);
    ck_assert_int_eq(app_link_revoke_for(app, APP_LINK_CREW, "north", "Luis", NOW, &faults),
                     STATUS_OK);
    ck_assert_int_eq(app_link_find(&found, app, luis.token, 27, arena, &faults), STATUS_NOT_FOUND);
    ck_assert_int_eq(app_link_find(&found, app, ines.token, 27, arena, &faults), STATUS_OK);
    ck_assert_str_eq(found.phone, "In\xc3\xa9s");
    ck_assert_int_eq(found.seen_s, INSTANT_NONE);
    app_link_seen(app, &found, NOW + 5);
    ck_assert_int_eq(app_link_find(&found, app, ines.token, 27, arena, &faults), STATUS_OK);
    ck_assert_int_eq(found.seen_s, NOW + 5);
    app_link_seen(app, &found, NOW + SEEN_EVERY_S);
    ck_assert_int_eq(app_link_find(&found, app, ines.token, 27, arena, &faults), STATUS_OK);
    ck_assert_int_eq(found.seen_s, NOW + 5); /* not yet again */
    ck_assert_int_eq(app_link_find(&found, app, nobodys.token, 27, arena, &faults), STATUS_OK);
    ck_assert_ptr_null(found.phone);
    ck_assert_int_eq(app_link_make_for(&found, app, APP_LINK_CREW, "north", "Luis", NOW, &faults),
                     STATUS_OK);
    ck_assert_str_ne(found.token, luis.token);
    ck_assert_int_eq(app_link_make_for(&found, app, APP_LINK_CREW, "north", "", NOW, &faults),
                     STATUS_INVALID);
    ck_assert_int_eq(
        app_link_make_for(&found, app, APP_LINK_HOMEOWNER, "hollow-pine", "Luis", NOW, &faults),
        STATUS_INVALID);
}
END_TEST

START_TEST(kinds_are_found_in_lists_and_in_corrections)
{
    uint64_t kinds = 0;
    const char *json =
        "[{\"kind\":\"note\"},{\"kind\":\"corrected\",\"with\":{\"kind\":\"agreed\"}},"
        "{\"kind\":7},{}]";
    ck_assert_int_eq(app_records_kinds(&kinds, json, strlen(json), &faults), STATUS_OK);
    ck_assert_uint_eq(kinds, UINT64_C(1) << RECORD_NOTE | UINT64_C(1) << RECORD_CORRECTED |
                                 UINT64_C(1) << RECORD_AGREED);
    json = "{\"id\":\"a\",\"records\":[{\"kind\":\"overridden\"}]}";
    ck_assert_int_eq(app_records_kinds(&kinds, json, strlen(json), &faults), STATUS_OK);
    ck_assert_uint_eq(kinds, UINT64_C(1) << RECORD_OVERRIDDEN);
    json = "{\"kind\":\"engineer\"}";
    ck_assert_int_eq(app_records_kinds(&kinds, json, strlen(json), &faults), STATUS_OK);
    ck_assert_uint_eq(kinds, UINT64_C(1) << RECORD_ENGINEER);
    ck_assert_int_eq(app_records_kinds(&kinds, "[", 1, &faults), STATUS_INVALID);
}
END_TEST

/* The head of a PNG of 3 by 2 pixels, then zeros up to `length`. */
static void png(unsigned char *out, size_t length)
{
    static const unsigned char head[] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0,
                                         0,    0,   13,  'I', 'H',  'D',  'R',  0,    0,
                                         0,    3,   0,   0,   0,    2,    8,    2,    0};
    memset(out, 0, length);
    memcpy(out, head, sizeof head);
}

static struct app_photo_kept kept;
static unsigned char picture[700000];

static enum status send(const char *id, size_t length)
{
    faults_free(&faults);
    const struct app_photo_sent sent = {.job_id = "hollow-pine",
                                        .id = id,
                                        .type = "image/png",
                                        .bytes = picture,
                                        .length = length,
                                        .taken_s = INSTANT_NONE,
                                        .who = "Luis (north)",
                                        .now_s = NOW};
    return app_photo_put(&kept, app, &sent, &faults);
}

START_TEST(a_photo_is_kept_once_and_never_thrown_away)
{
    const char *const one = "0f0e0d0c-0000-4000-8000-000000000001";
    const char *const two = "0f0e0d0c-0000-4000-8000-000000000002";
    png(picture, sizeof picture);
    ck_assert_int_eq(send(one, 500), STATUS_OK);
    ck_assert(kept.created && kept.photo.width == 3 && kept.photo.height == 2);
    ck_assert_int_eq(send(one, 500), STATUS_OK);
    ck_assert(!kept.created);
    ck_assert_int_eq(send(one, 501), STATUS_CONFLICT);
    ck_assert_int_eq(send("0F0E0D0C-0000-4000-8000-000000000001", 500), STATUS_INVALID);
    ck_assert(!kept.not_image);
    picture[0] = 0;
    ck_assert_int_eq(send(two, 500), STATUS_INVALID);
    ck_assert(kept.not_image);
    picture[0] = 0x89;
    ck_assert_int_eq(send(two, 600000), STATUS_OK);
    ck_assert_int_eq(send("0f0e0d0c-0000-4000-8000-000000000003", 600000), STATUS_LIMIT);
    ck_assert(kept.no_room);
    ck_assert_ptr_nonnull(strstr(faults.items[0].wanted, "photos_mib"));
    ck_assert_int_eq(send(two, 600000), STATUS_OK); /* known, room or not */
    struct app_photo_room room;
    ck_assert_int_eq(app_photo_room(&room, app, &faults), STATUS_OK);
    ck_assert_int_eq(room.count, 2);
    ck_assert_int_eq(room.bytes, 600500);
    ck_assert_int_eq(room.bytes_max, 1 << 20);
    struct text bytes = TEXT_UP_TO(PHOTO_BYTES_MAX);
    ck_assert_int_eq(app_photo_bytes(&bytes, app, one, &faults), STATUS_OK);
    ck_assert_uint_eq(bytes.length, 500);
    ck_assert_mem_eq(bytes.data, picture, 500);
    text_free(&bytes);
    const struct app_photo *all;
    size_t count;
    ck_assert_int_eq(app_photo_list(&all, &count, app, "hollow-pine", arena, &faults), STATUS_OK);
    ck_assert_uint_eq(count, 2);
    ck_assert_str_eq(all[0].id, one);
    ck_assert_str_eq(all[0].who, "Luis (north)");
    ck_assert_int_eq(app_photo_list(&all, &count, app, "nowhere", arena, &faults),
                     STATUS_NOT_FOUND);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("people and photos");
    TCase *tests = tcase_create("people and photos");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_test(tests, nobody_has_to_sign_in_until_an_owner_is_on_record);
    tcase_add_test(tests, names_and_passwords_that_will_not_do_are_refused);
    tcase_add_test(tests, a_session_ends_when_idle_when_old_and_when_told);
    tcase_add_test(tests, sessions_of_one_person_end_together_and_others_stay);
    tcase_add_test(tests, a_script_has_one_token_and_it_is_no_session);
    tcase_add_test(tests, of_many_who_sign_in_at_once_some_are_told_to_wait);
    tcase_add_test(tests, each_phone_of_a_crew_has_a_link_of_its_own);
    tcase_add_test(tests, kinds_are_found_in_lists_and_in_corrections);
    tcase_add_test(tests, a_photo_is_kept_once_and_never_thrown_away);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
