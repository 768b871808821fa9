/* SPDX-License-Identifier: MIT */
/* links: store */
/* The store by itself: migrations, triggers, the chain, groups of writers. */
#include <check.h>
#include <dirent.h>
#include <pthread.h>
#include <semaphore.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "store/store.h"
#include "store/store_job.h"
#include "store/store_keep.h"
#include "store/store_record.h"

#define MIGRATIONS PROJECT_ROOT "/schema/migrations"

static char directory[64];
static char path[128];
static char migrations[128];
static struct store *store;
static struct fault fault;

static void command(const char *verb, const char *a, const char *b)
{
    char text[512];
    snprintf(text, sizeof text, "%s '%s' %s", verb, a, b);
    ck_assert_int_eq(system(text), 0);
}

static enum status reopen(bool read_only)
{
    store_close(store);
    store = NULL;
    const struct store_options options = {.path = path,
                                          .migrations = migrations,
                                          .create = true,
                                          .read_only = read_only,
                                          .now_s = 1792800000};
    return store_open(&store, &options, &fault);
}

static void begin(void)
{
    snprintf(directory, sizeof directory, "/tmp/ew-store-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/a.db", directory);
    snprintf(migrations, sizeof migrations, "%s/m", directory);
    command("cp -r", MIGRATIONS, migrations);
    ck_assert_int_eq(reopen(false), STATUS_OK);
}

static void end(void)
{
    store_close(store);
    store = NULL;
    command("rm -rf", directory, "");
}

struct one {
    const char *job_id;
    const char *id;
    const char *body;
    bool created;
    bool then_fail;
};

static enum status job_add(struct store_txn *txn, void *context, struct fault *out)
{
    int64_t number;
    const struct store_job job = {.id = context, .body = "{\"id\":\"a\"}", .body_length = 10};
    return store_job_add(txn, &job, &number, out);
}

static enum status record_add(struct store_txn *txn, void *context, struct fault *out)
{
    struct one *one = context;
    struct store_record record = {
        .id = one->id, .kind = "note", .body = one->body, .body_length = strlen(one->body)};
    store_hash(record.sent, one->body, strlen(one->body), NULL, 0, NULL, 0);
    const int64_t number = strcmp(one->job_id, "a") == 0 ? 1 : 2;
    enum status status = store_record_add(txn, number, one->job_id, &record, &one->created, out);
    if (one->then_fail) {
        fault_set(out, "test", "nothing", "a failure");
        status = STATUS_DENIED;
    }
    return status;
}

static enum status add(struct one *one)
{
    return store_write(store, (struct store_work){.run = record_add, .context = one}, &fault);
}

static void jobs_make(void)
{
    static char a[] = "a", b[] = "b";
    ck_assert_int_eq(store_write(store, (struct store_work){.run = job_add, .context = a}, &fault),
                     STATUS_OK);
    ck_assert_int_eq(store_write(store, (struct store_work){.run = job_add, .context = b}, &fault),
                     STATUS_OK);
}

static size_t faults_of_walk;

static void each(const struct store_link_of_chain *link, void *context)
{
    (void)link;
    (void)context;
}

static enum status walk(struct store_txn *txn, void *context, struct fault *out)
{
    struct faults faults = {0};
    (void)out;
    const enum status status = store_record_walk(txn, each, NULL, context, &faults);
    faults_of_walk = faults.count;
    faults_free(&faults);
    return status;
}

static enum status chain(size_t *count)
{
    return store_read(store, (struct store_work){.run = walk, .context = count}, &fault);
}

/* SQL from outside, with our triggers but without our code; the answer is SQLite's. */
static int outside(const char *sql)
{
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    const int result = sqlite3_exec(db, sql, NULL, NULL, NULL);
    sqlite3_close(db);
    return result;
}

START_TEST(record_is_known_in_its_job_and_another_one_in_another_job)
{
    jobs_make();
    struct one one = {"a", "r", "{}", false, false};
    ck_assert_int_eq(add(&one), STATUS_OK);
    ck_assert(one.created);
    ck_assert_int_eq(add(&one), STATUS_OK);
    ck_assert(!one.created);
    one.job_id = "b"; /* ids are one job's own: two jobs may number alike */
    ck_assert_int_eq(add(&one), STATUS_OK);
    ck_assert(one.created);
    one = (struct one){"a", "r", "{\"x\":1}", false, false};
    ck_assert_int_eq(add(&one), STATUS_CONFLICT);
}
END_TEST

START_TEST(work_that_fails_leaves_nothing_behind)
{
    jobs_make();
    struct one one = {"a", "r", "{}", false, true};
    ck_assert_int_eq(add(&one), STATUS_DENIED);
    ck_assert_str_eq(fault.found, "a failure");
    size_t count = 9;
    ck_assert_int_eq(chain(&count), STATUS_OK);
    ck_assert_uint_eq(count, 0);
}
END_TEST

START_TEST(record_cannot_be_changed_deleted_replaced_or_slipped_in)
{
    jobs_make();
    struct one one = {"a", "r", "{}", false, false};
    ck_assert_int_eq(add(&one), STATUS_OK);
    ck_assert_int_eq(reopen(true), STATUS_OK);
    ck_assert_int_eq(outside("UPDATE record SET body = '{ }'"), SQLITE_CONSTRAINT);
    ck_assert_int_eq(outside("DELETE FROM record"), SQLITE_CONSTRAINT);
    ck_assert_int_eq(outside("PRAGMA recursive_triggers = ON; REPLACE INTO record SELECT seq, job, "
                             "id, kind, at, received, who, '[]', sent, previous, hash FROM record"),
                     SQLITE_CONSTRAINT);
    ck_assert_int_eq(
        outside("INSERT INTO record SELECT 5, job, 'x', kind, at, received, who, body, "
                "sent, previous, hash FROM record"),
        SQLITE_CONSTRAINT);
    ck_assert_int_eq(outside("DELETE FROM job"), SQLITE_CONSTRAINT);
    ck_assert_int_eq(outside("UPDATE job SET id = 'z'"), SQLITE_CONSTRAINT);
    size_t count;
    ck_assert_int_eq(chain(&count), STATUS_OK);
    ck_assert_uint_eq(count, 1);
}
END_TEST

START_TEST(chain_tells_a_changed_body_a_missing_record_and_a_moved_one)
{
    jobs_make();
    const char *ids[] = {"r1", "r2", "r3"};
    for (int i = 0; i < 3; i++) {
        struct one one = {"a", ids[i], "{}", false, false};
        ck_assert_int_eq(add(&one), STATUS_OK);
    }
    ck_assert_int_eq(reopen(true), STATUS_OK);
    size_t count;
    ck_assert_int_eq(chain(&count), STATUS_OK);
    ck_assert_uint_eq(faults_of_walk, 0);
    const char *drop =
        "DROP TRIGGER record_is_never_changed; DROP TRIGGER record_is_never_deleted;";
    ck_assert_int_eq(outside(drop), SQLITE_OK);
    ck_assert_int_eq(outside("UPDATE record SET body = '[]' WHERE seq = 2"), SQLITE_OK);
    ck_assert_int_eq(chain(&count), STATUS_CORRUPT);
    ck_assert_uint_eq(faults_of_walk, 1);
    ck_assert_int_eq(outside("UPDATE record SET body = '{}', job = 2 WHERE seq = 2"), SQLITE_OK);
    ck_assert_int_eq(chain(&count), STATUS_CORRUPT);
    ck_assert_uint_eq(faults_of_walk, 1);
    ck_assert_int_eq(outside("DELETE FROM record WHERE seq = 2"), SQLITE_OK);
    ck_assert_int_eq(chain(&count), STATUS_CORRUPT);
    ck_assert_uint_eq(faults_of_walk, 2); /* the number and the hash before */
}
END_TEST

/* Name of a migration `beyond` places behind the last of ours. */
static void next_migration(char name[192], int beyond, const char *what)
{
    int last = 0;
    DIR *opened = opendir(migrations);
    ck_assert_ptr_nonnull(opened);
    for (const struct dirent *entry; (entry = readdir(opened)) != NULL;)
        last += strstr(entry->d_name, ".sql") != NULL;
    closedir(opened);
    snprintf(name, 192, "%s/%04d-%s.sql", migrations, last + beyond, what);
}

START_TEST(changed_missing_or_newer_migration_is_refused)
{
    FILE *file;
    char name[192];
    next_migration(name, 1, "more");
    file = fopen(name, "w");
    ck_assert_ptr_nonnull(file);
    fputs("CREATE TABLE more (x INTEGER) STRICT;\n", file);
    fclose(file);
    ck_assert_int_eq(reopen(true), STATUS_CONFLICT); /* not applied yet, and we may not */
    ck_assert_int_eq(reopen(false), STATUS_OK);
    ck_assert_int_eq(reopen(true), STATUS_OK);
    file = fopen(name, "a");
    fputs("-- changed\n", file);
    fclose(file);
    ck_assert_int_eq(reopen(false), STATUS_CONFLICT);
    ck_assert_int_eq(unlink(name), 0);
    ck_assert_int_eq(reopen(false), STATUS_CONFLICT); /* the store is newer than we are */
    next_migration(name, 2, "gap");
    file = fopen(name, "w");
    fputs("SELECT 1;\n", file);
    fclose(file);
    ck_assert_int_eq(reopen(false), STATUS_INVALID);
}
END_TEST

static enum status check_file(struct store_txn *txn, void *context, struct fault *unused)
{
    (void)unused;
    struct faults faults = {0};
    const enum status status = store_keep_check(txn, migrations, context, &faults);
    faults_free(&faults);
    return status;
}

/* Checked as a copy is: whatever migrations it has had. */
static enum status checked(size_t *count)
{
    struct store *copy = NULL;
    const struct store_options options = {
        .path = path, .migrations = migrations, .read_only = true, .unchecked = true};
    ck_assert_int_eq(store_open(&copy, &options, NULL), STATUS_OK);
    const enum status status =
        store_read(copy, (struct store_work){check_file, count, false}, NULL);
    store_close(copy);
    return status;
}

START_TEST(a_copy_from_before_a_migration_is_still_whole)
{
    size_t count = 0, later = 0;
    char name[192];
    ck_assert_int_eq(checked(&count), STATUS_OK);
    next_migration(name, 1, "more");
    FILE *file = fopen(name, "w");
    ck_assert_ptr_nonnull(file);
    fputs("CREATE TABLE more (x INTEGER) STRICT;\n", file);
    fclose(file);
    ck_assert_int_eq(checked(&later), STATUS_OK);
    ck_assert_uint_eq(later, count); /* what it has had, not what there is */
    ck_assert_int_eq(reopen(false), STATUS_OK);
    ck_assert_int_eq(checked(&later), STATUS_OK);
    ck_assert_uint_eq(later, count + 1);
    ck_assert_int_eq(unlink(name), 0);
    ck_assert_int_eq(checked(&later), STATUS_CONFLICT); /* newer than we are */
}
END_TEST

START_TEST(migration_that_fails_half_way_leaves_nothing)
{
    char name[192];
    next_migration(name, 1, "bad");
    FILE *file = fopen(name, "w");
    fputs("CREATE TABLE half (x INTEGER) STRICT;\nINSERT INTO nowhere VALUES (1);\n", file);
    fclose(file);
    ck_assert_int_ne(reopen(false), STATUS_OK);
    ck_assert_int_eq(unlink(name), 0);
    ck_assert_int_eq(reopen(false), STATUS_OK);
    ck_assert_int_eq(outside("SELECT * FROM half"), SQLITE_ERROR);
}
END_TEST

START_TEST(what_is_no_store_is_refused_and_what_is_not_there_is_not_found)
{
    store_close(store);
    store = NULL;
    FILE *file = fopen(path, "w");
    ck_assert_ptr_nonnull(file);
    fputs("this is no database, whatever its name may say", file);
    fclose(file);
    ck_assert_int_eq(reopen(false), STATUS_CORRUPT);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(reopen(true), STATUS_NOT_FOUND);
    snprintf(path, sizeof path, "%s/none/a.db", directory);
    ck_assert_int_eq(reopen(false), STATUS_NOT_FOUND);
}
END_TEST

struct writer {
    pthread_t thread;
    int number;
    enum status worst;
};

static void *write_many(void *context)
{
    struct writer *writer = context;
    for (int i = 0; i < 100; i++) {
        char id[32];
        snprintf(id, sizeof id, "w%d-%d", writer->number, i);
        /* every tenth fails on purpose, in the same group as good ones */
        struct one one = {"a", id, "{}", false, i % 10 == 9};
        struct fault own;
        const enum status status =
            store_write(store, (struct store_work){.run = record_add, .context = &one}, &own);
        if (status != (i % 10 == 9 ? STATUS_DENIED : STATUS_OK)) writer->worst = status;
    }
    return NULL;
}

START_TEST(writers_at_once_share_a_commit_and_a_bad_one_harms_nobody)
{
    jobs_make();
    struct writer writers[16];
    for (int i = 0; i < 16; i++) {
        writers[i] = (struct writer){.number = i};
        ck_assert_int_eq(pthread_create(&writers[i].thread, NULL, write_many, &writers[i]), 0);
    }
    for (int i = 0; i < 16; i++) {
        ck_assert_int_eq(pthread_join(writers[i].thread, NULL), 0);
        ck_assert_int_eq(writers[i].worst, STATUS_OK);
    }
    size_t count;
    ck_assert_int_eq(chain(&count), STATUS_OK);
    ck_assert_uint_eq(count, 16 * 90);
    struct store_figures figures;
    store_figures(store, &figures);
    ck_assert_uint_eq(figures.writes, 16 * 90 + 2);
    ck_assert_uint_lt(figures.commits, 16 * 100); /* groups did form */
}
END_TEST

/* --- large writes -------------------------------------------------------------------------- */

static sem_t held, let_go;

static enum status hold(struct store_txn *txn, void *context, struct fault *unused)
{
    (void)txn;
    (void)context;
    (void)unused;
    sem_post(&held);
    sem_wait(&let_go);
    return STATUS_OK;
}

static enum status touch(struct store_txn *txn, void *context, struct fault *unused)
{
    (void)context;
    return store_beat(txn, unused);
}

static void *write_held(void *context)
{
    (void)context;
    ck_assert_int_eq(store_write(store, (struct store_work){hold, NULL, true}, NULL), STATUS_OK);
    return NULL;
}

static void *write_large(void *context)
{
    ck_assert_int_eq(store_write_large(store, (struct store_work){touch, NULL, false},
                                       *(const size_t *)context, NULL),
                     STATUS_OK);
    return NULL;
}

/* Commits that six writes of so many bytes take when they all wait for the writer. */
static uint64_t commits_of_six(size_t bytes)
{
    pthread_t holder, writers[6];
    struct store_figures before, after;
    store_figures(store, &before);
    sem_init(&held, 0, 0);
    sem_init(&let_go, 0, 0);
    pthread_create(&holder, NULL, write_held, NULL);
    sem_wait(&held);
    for (int i = 0; i < 6; i++) pthread_create(&writers[i], NULL, write_large, &bytes);
    /* they are queued after that; were they not, there would be more commits, not fewer */
    const struct timespec pause = {.tv_nsec = 200000000};
    nanosleep(&pause, NULL);
    sem_post(&let_go);
    pthread_join(holder, NULL);
    for (int i = 0; i < 6; i++) pthread_join(writers[i], NULL);
    store_figures(store, &after);
    return after.commits - before.commits - 1; /* the one that held the writer */
}

START_TEST(large_writes_share_a_commit_only_up_to_a_ceiling)
{
    ck_assert_uint_eq(commits_of_six(0), 1);
    ck_assert_uint_ge(commits_of_six(3 << 19), 3); /* 1.5 MiB: two fit below 4 MiB */
    ck_assert_uint_eq(commits_of_six(8 << 20), 6); /* one that is too large goes alone */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("store");
    TCase *tests = tcase_create("store");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, record_is_known_in_its_job_and_another_one_in_another_job);
    tcase_add_test(tests, work_that_fails_leaves_nothing_behind);
    tcase_add_test(tests, record_cannot_be_changed_deleted_replaced_or_slipped_in);
    tcase_add_test(tests, chain_tells_a_changed_body_a_missing_record_and_a_moved_one);
    tcase_add_test(tests, changed_missing_or_newer_migration_is_refused);
    tcase_add_test(tests, a_copy_from_before_a_migration_is_still_whole);
    tcase_add_test(tests, large_writes_share_a_commit_only_up_to_a_ceiling);
    tcase_add_test(tests, migration_that_fails_half_way_leaves_nothing);
    tcase_add_test(tests, what_is_no_store_is_refused_and_what_is_not_there_is_not_found);
    tcase_add_test(tests, writers_at_once_share_a_commit_and_a_bad_one_harms_nobody);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
