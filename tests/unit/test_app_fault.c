/* SPDX-License-Identifier: MIT */
/* links: app */
/*
 * The n-th thing fails: a write, a sync, an allocation, for every n until nothing fails any more.
 * Each time the call must say so, nothing of the batch may be there (or, for a call that says OK,
 * all of it), and the next call must work without a restart.
 */
#include <check.h>
#include <stdatomic.h>
#include <unistd.h>

#include "../fault/shim_vfs.c"
#include "app/app_case.h"
#include "app/app_job.h"
#include "app/app_keep.h"
#include "app/app_pass.h"
#include "app/app_photo.h"
#include "app/app_plan.h"
#include "app/app_record.h"
#include "app/app_station.h"
#include "app/app_view.h"
#include "base/limits.h"
#include "model/record.h"

#define NOW 1792800000

/* --- allocations --------------------------------------------------------------------------- */

/* Under AddressSanitizer the allocator is its own, so the allocation loops are left to plain
 * builds. */
#ifdef __SANITIZE_ADDRESS__
enum { ALLOCATIONS_CAN_FAIL = 0 };
static atomic_long allocations_left = -1;
#else
enum { ALLOCATIONS_CAN_FAIL = 1 };
static atomic_long allocations_left = -1; /* until the one that fails; < 0: none does */

void *__libc_malloc(size_t bytes);
void *__libc_calloc(size_t count, size_t bytes);
void *__libc_realloc(void *old, size_t bytes);

static bool refused(void)
{
    if (atomic_load(&allocations_left) < 0) return false;
    return atomic_fetch_sub(&allocations_left, 1) == 0;
}
void *malloc(size_t bytes)
{
    return refused() ? NULL : __libc_malloc(bytes);
}
void *calloc(size_t count, size_t bytes)
{
    return refused() ? NULL : __libc_calloc(count, bytes);
}
void *realloc(void *old, size_t bytes)
{
    return refused() ? NULL : __libc_realloc(old, bytes);
}
#endif

/* --- a store ------------------------------------------------------------------------------- */

static char directory[64];
static char path[128];
static struct app *app;
static struct arena *arena;
static struct faults faults;
static int batch;

static const char job_text[] =
    "{\"id\":\"a\",\"options\":{\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\"}}";

static void begin(void)
{
    shim_register();
    const char *fast = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
    snprintf(directory, sizeof directory, "%s/ew-fault-XXXXXX", fast);
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/a.db", directory);
    faults = (struct faults){0};
    arena = arena_new();
    batch = 0;
    const struct app_options options = {.path = path, .create = true, .now_s = NOW, .vfs = "shim"};
    ck_assert_int_eq(app_open(&app, &options, &faults), STATUS_OK);
    ck_assert_int_eq(
        app_job_create(NULL, NULL, NULL, app, job_text, strlen(job_text), NULL, NOW, &faults),
        STATUS_OK);
}

static void end(void)
{
    app_close(app);
    arena_free(arena);
    faults_free(&faults);
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
}

/* A batch of three records of its own; the answer is the status. */
static enum status three(int number, size_t *created)
{
    char json[700];
    snprintf(json, sizeof json,
             "[{\"id\":\"b%d-0\",\"kind\":\"note\",\"at\":\"2026-10-20T13:00:00Z\",\"note\":\"x\"},"
             "{\"id\":\"b%d-1\",\"kind\":\"note\",\"at\":\"2026-10-20T13:00:00Z\",\"note\":\"x\"},"
             "{\"id\":\"b%d-2\",\"kind\":\"note\",\"at\":\"2026-10-20T13:00:00Z\",\"note\":\"x\"}]",
             number, number, number);
    const struct app_added *added;
    size_t count;
    struct faults found = {0};
    const enum status status =
        app_records_add(&added, &count, app, "a", json, strlen(json), "Ada", NOW, arena, &found);
    *created = 0;
    for (size_t i = 0; i < count; i++) *created += added[i].created;
    faults_free(&found);
    return status;
}

static size_t stored(void)
{
    struct app_view *view;
    ck_assert_int_eq(app_view_take(&view, app, &faults), STATUS_OK);
    const size_t count = app_view_job(view, "a")->record_count;
    app_view_release(view);
    return count;
}

/* After batch number `batch` ended with `status`: it is there whole or not at all, and can be sent.
 */
static void settle(enum status status)
{
    const size_t before = 3 * (size_t)batch;
    ck_assert_uint_eq(stored(), before + (status == STATUS_OK ? 3 : 0));
    size_t created;
    ck_assert_int_eq(three(batch, &created), STATUS_OK);
    ck_assert_uint_eq(created, status == STATUS_OK ? 0 : 3);
    ck_assert_uint_eq(stored(), before + 3);
    batch++;
}

/* Fails the n-th of these calls for n = 0, 1, … until none is left to fail. */
static void fail_each(unsigned kinds, bool from_then, int result)
{
    for (int64_t n = 0;; n++) {
        ck_assert_int_lt(n, 5000);
        size_t created;
        shim_fail(kinds, n, from_then, result);
        const enum status status = three(batch, &created);
        const int64_t fired = shim.fired;
        shim_fail(0, -1, false, 0);
        if (n == 0) ck_assert_int_eq(status, STATUS_IO);
        if (fired == 0) ck_assert_int_eq(status, STATUS_OK);
        settle(status);
        if (fired == 0 && n > 0) break;
    }
    ck_assert_int_ge(batch, 2);
    ck_assert_int_eq(app_verify(NULL, path, NULL, &faults), STATUS_OK);
}

START_TEST(write_that_fails_stores_nothing_of_the_batch)
{
    fail_each(SHIM_WRITE, false, SQLITE_IOERR_WRITE);
}
END_TEST

START_TEST(sync_that_fails_stores_nothing_of_the_batch)
{
    fail_each(SHIM_SYNC, false, SQLITE_IOERR_FSYNC);
}
END_TEST

START_TEST(disk_that_dies_for_a_while_stores_nothing_of_the_batch)
{
    fail_each(SHIM_WRITE | SHIM_SYNC, true, SQLITE_IOERR_WRITE);
}
END_TEST

START_TEST(full_disk_is_said_reading_goes_on_and_it_heals_without_a_restart)
{
    size_t created;
    ck_assert_int_eq(three(batch++, &created), STATUS_OK);
    shim_fail(SHIM_WRITE, 0, true, SQLITE_FULL);
    for (int i = 0; i < 5; i++) {
        const struct app_added *added;
        size_t count;
        const char *json =
            "{\"id\":\"x\",\"kind\":\"note\",\"at\":\"2026-10-20T13:00:00Z\",\"note\":\"x\"}";
        faults_free(&faults);
        ck_assert_int_eq(app_records_add(&added, &count, app, "a", json, strlen(json), NULL, NOW,
                                         arena, &faults),
                         STATUS_IO);
        ck_assert_ptr_nonnull(strstr(faults.items[0].found, "full"));
        ck_assert_uint_eq(stored(), 3);
        struct text text = TEXT_UP_TO(100000);
        ck_assert_int_eq(app_records_list(&text, NULL, app, "a", &faults), STATUS_OK);
        text_free(&text);
    }
    shim_fail(0, -1, false, 0);
    ck_assert_int_eq(three(batch++, &created), STATUS_OK);
    ck_assert_uint_eq(created, 3);
    struct app_figures figures;
    app_figures(app, &figures);
    ck_assert_uint_ge(figures.failed_writes, 5);
}
END_TEST

START_TEST(store_that_cannot_be_made_whole_is_made_whole_later)
{
    char other[160];
    for (int64_t n = 0;; n++) {
        ck_assert_int_lt(n, 5000);
        snprintf(other, sizeof other, "%s/n%d.db", directory, (int)n);
        struct app *made = NULL;
        const struct app_options options = {
            .path = other, .create = true, .now_s = NOW, .vfs = "shim"};
        shim_fail(SHIM_WRITE | SHIM_SYNC, n, false, SQLITE_IOERR_WRITE);
        enum status status = app_open(&made, &options, &faults);
        const int64_t fired = shim.fired;
        shim_fail(0, -1, false, 0);
        if (n == 0) ck_assert_int_ne(status, STATUS_OK);
        if (status != STATUS_OK) status = app_open(&made, &options, &faults);
        ck_assert_int_eq(status, STATUS_OK);
        app_close(made);
        ck_assert_int_eq(app_verify(NULL, other, NULL, &faults), STATUS_OK);
        if (fired == 0) break;
    }
}
END_TEST

START_TEST(allocation_that_fails_while_records_are_added_stores_nothing)
{
    if (!ALLOCATIONS_CAN_FAIL) return;
    for (long n = 0;; n++) {
        ck_assert_int_lt(n, 20000);
        size_t created;
        (void)stored(); /* the view is fresh, so that adding is what is measured */
        atomic_store(&allocations_left, n);
        const enum status status = three(batch, &created);
        const bool fired = atomic_exchange(&allocations_left, -1) < 0;
        if (n == 0) ck_assert_int_ne(status, STATUS_OK);
        settle(status);
        if (!fired) break;
    }
    ck_assert_int_ge(batch, 50);
    ck_assert_int_eq(app_verify(NULL, path, NULL, &faults), STATUS_OK);
}
END_TEST

START_TEST(allocation_that_fails_while_a_view_is_taken_gives_none_or_a_whole_one)
{
    if (!ALLOCATIONS_CAN_FAIL) return;
    bool failed_once = false;
    size_t created;
    ck_assert_int_eq(three(batch++, &created), STATUS_OK);
    for (long n = 0;; n++) {
        ck_assert_int_lt(n, 20000);
        const char *patch = n % 2 == 0 ? "{\"name\":\"A\"}" : "{\"name\":\"B\"}";
        ck_assert_int_eq(app_job_patch(NULL, NULL, app, "a", APP_VERSION_ANY, patch, strlen(patch),
                                       NOW, &faults),
                         STATUS_OK);
        struct app_view *view = NULL;
        struct faults found = {0};
        atomic_store(&allocations_left, n);
        const enum status status = app_view_take(&view, app, &found);
        const bool fired = atomic_exchange(&allocations_left, -1) < 0;
        if (status == STATUS_OK) {
            ck_assert_uint_eq(app_view_job(view, "a")->record_count, 3);
            ck_assert_str_eq(app_view_job(view, "a")->name, n % 2 == 0 ? "A" : "B");
        } else {
            ck_assert_ptr_null(view);
            failed_once = true;
        }
        app_view_release(view);
        faults_free(&found);
        ck_assert_uint_eq(stored(), 3);
        if (!fired) break;
    }
    ck_assert(failed_once);
}
END_TEST

START_TEST(allocation_that_fails_in_other_use_cases_is_said_and_changes_nothing)
{
    if (!ALLOCATIONS_CAN_FAIL) return;
    size_t created;
    ck_assert_int_eq(three(batch++, &created), STATUS_OK);
    for (int which = 0; which < 4; which++) {
        for (long n = 0;; n++) {
            ck_assert_int_lt(n, 20000);
            struct faults found = {0};
            struct text text = TEXT_UP_TO(CASE_BYTES_MAX);
            struct arena *own = arena_new();
            struct app_view *view = NULL;
            ck_assert_int_eq(app_view_take(&view, app, &faults), STATUS_OK);
            struct app_try both;
            enum status status = STATUS_OK;
            const char *patch = "{\"options\":{\"place\":\"indoor\"}}";
            atomic_store(&allocations_left, n);
            if (which == 0) status = app_export(&text, app, NOW, &found);
            if (which == 1)
                status = app_try(&both, view, "a", patch, strlen(patch), NOW, own, &found);
            if (which == 2)
                status = app_job_patch(NULL, NULL, app, "a", APP_VERSION_ANY, patch, strlen(patch),
                                       NOW, &found);
            if (which == 3) status = app_verify(NULL, path, NULL, &found);
            const bool fired = atomic_exchange(&allocations_left, -1) < 0;
            if (!fired) ck_assert_int_eq(status, STATUS_OK);
            app_view_release(view);
            arena_free(own);
            text_free(&text);
            faults_free(&found);
            if (!fired) break;
        }
        ck_assert_uint_eq(stored(), 3);
    }
}
END_TEST

/* --- photos and passes --------------------------------------------------------------------- */

static unsigned char picture[9000]; /* more than one page of the store */

static enum status send_photo(int number, bool *created)
{
    static const unsigned char head[] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0,
                                         0,    0,   13,  'I', 'H',  'D',  'R',  0,    0,
                                         0,    3,   0,   0,   0,    2,    8,    2,    0};
    memcpy(picture, head, sizeof head);
    char id[40];
    snprintf(id, sizeof id, "0f0e0d0c-0000-4000-8000-%012d", number);
    const struct app_photo_sent sent = {.job_id = "a",
                                        .id = id,
                                        .bytes = picture,
                                        .length = sizeof picture,
                                        .taken_s = INSTANT_NONE,
                                        .now_s = NOW};
    struct app_photo_kept kept;
    struct faults found = {0};
    const enum status status = app_photo_put(&kept, app, &sent, &found);
    *created = status == STATUS_OK && kept.created;
    faults_free(&found);
    return status;
}

static int64_t photos(void)
{
    struct app_photo_room room;
    ck_assert_int_eq(app_photo_room(&room, app, &faults), STATUS_OK);
    return room.count;
}

/* It is there whole or not at all, and can be sent again. */
static void settle_photo(int number, enum status status)
{
    bool created;
    ck_assert_int_eq(photos(), number + (status == STATUS_OK));
    ck_assert_int_eq(send_photo(number, &created), STATUS_OK);
    ck_assert_int_eq(created, status != STATUS_OK);
    ck_assert_int_eq(photos(), number + 1);
}

START_TEST(photo_whose_write_or_sync_fails_is_not_there_and_can_be_sent_again)
{
    int number = 0;
    for (int64_t n = 0;; n++) {
        ck_assert_int_lt(n, 5000);
        bool created;
        shim_fail(SHIM_WRITE | SHIM_SYNC, n, false, SQLITE_IOERR_WRITE);
        const enum status status = send_photo(number, &created);
        const int64_t fired = shim.fired;
        shim_fail(0, -1, false, 0);
        if (n == 0) ck_assert_int_eq(status, STATUS_IO);
        settle_photo(number++, status);
        if (fired == 0) break;
    }
    ck_assert_int_ge(number, 4);
    ck_assert_int_eq(app_verify(NULL, path, NULL, &faults), STATUS_OK);
}
END_TEST

START_TEST(allocation_that_fails_while_a_photo_is_kept_keeps_none)
{
    if (!ALLOCATIONS_CAN_FAIL) return;
    int number = 0;
    for (long n = 0;; n++) {
        ck_assert_int_lt(n, 20000);
        bool created;
        (void)stored(); /* the view is fresh */
        atomic_store(&allocations_left, n);
        const enum status status = send_photo(number, &created);
        const bool fired = atomic_exchange(&allocations_left, -1) < 0;
        settle_photo(number++, status);
        if (!fired) break;
    }
    ck_assert_int_ge(number, 10);
}
END_TEST

START_TEST(allocation_that_fails_lets_nobody_in)
{
    if (!ALLOCATIONS_CAN_FAIL) return;
    char session[APP_PASS_TEXT_MAX], token[APP_PASS_TEXT_MAX];
    ck_assert_int_eq(
        app_person_add(app, "Ada", APP_ROLE_OWNER, "four words make one", NOW, &faults), STATUS_OK);
    ck_assert_int_eq(app_pass_sign_in(session, app, "Ada", "four words make one", NOW, &faults),
                     STATUS_OK);
    for (int which = 0; which < 3; which++) {
        const char *shown = which == 0 ? session : "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";
        for (long n = 0;; n++) {
            ck_assert_int_lt(n, 20000);
            struct arena *own = arena_new();
            struct app_pass pass = {0};
            atomic_store(&allocations_left, n);
            const enum status status =
                which == 2 ? app_pass_new_token(token, app, "Ada", NOW, NULL)
                           : app_pass_session(&pass, app, shown, 43, NOW, own, NULL);
            const bool fired = atomic_exchange(&allocations_left, -1) < 0;
            if (which == 0 && status == STATUS_OK) ck_assert_str_eq(pass.name, "Ada");
            if (which == 1) ck_assert_int_ne(status, STATUS_OK);
            if (which == 2 && status != STATUS_OK) ck_assert_str_eq(token, "");
            arena_free(own);
            if (!fired) {
                ck_assert_int_eq(status, which == 1 ? STATUS_NOT_FOUND : STATUS_OK);
                break;
            }
        }
    }
}
END_TEST

START_TEST(health_writes_and_says_when_the_disk_does_not)
{
    shim_fail(SHIM_WRITE, 0, true, SQLITE_FULL);
    for (int i = 0; i < 3; i++) {
        faults_free(&faults);
        ck_assert_int_eq(app_health(app, &faults), STATUS_IO);
        ck_assert_ptr_nonnull(strstr(faults.items[0].found, "full"));
    }
    shim_fail(0, -1, false, 0);
    ck_assert_int_eq(app_health(app, &faults), STATUS_OK); /* at once, without a restart */
    struct app_figures before, after;
    app_figures(app, &before);
    for (int i = 0; i < 50; i++) ck_assert_int_eq(app_health(app, &faults), STATUS_OK);
    app_figures(app, &after);
    ck_assert_uint_le(after.commits - before.commits, 1); /* asked often, it writes seldom */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("app-fault");
    TCase *tests = tcase_create("fault");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, write_that_fails_stores_nothing_of_the_batch);
    tcase_add_test(tests, sync_that_fails_stores_nothing_of_the_batch);
    tcase_add_test(tests, disk_that_dies_for_a_while_stores_nothing_of_the_batch);
    tcase_add_test(tests, full_disk_is_said_reading_goes_on_and_it_heals_without_a_restart);
    tcase_add_test(tests, store_that_cannot_be_made_whole_is_made_whole_later);
    tcase_add_test(tests, allocation_that_fails_while_records_are_added_stores_nothing);
    tcase_add_test(tests, allocation_that_fails_while_a_view_is_taken_gives_none_or_a_whole_one);
    tcase_add_test(tests, allocation_that_fails_in_other_use_cases_is_said_and_changes_nothing);
    tcase_add_test(tests, photo_whose_write_or_sync_fails_is_not_there_and_can_be_sent_again);
    tcase_add_test(tests, allocation_that_fails_while_a_photo_is_kept_keeps_none);
    tcase_add_test(tests, allocation_that_fails_lets_nobody_in);
    tcase_add_test(tests, health_writes_and_says_when_the_disk_does_not);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
