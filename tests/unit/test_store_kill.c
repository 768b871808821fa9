/* SPDX-License-Identifier: MIT */
/* links: store */
/*
 * A process that is killed at any moment loses nothing it acknowledged, and its store opens again.
 * A child writes with four threads and tells each stored record through a pipe; the parent kills it
 * with SIGKILL at a random moment, opens the store and counts. EMBERWAIT_KILLS sets how often.
 */
#include <check.h>
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "store/store.h"
#include "store/store_job.h"
#include "store/store_record.h"

#define MIGRATIONS PROJECT_ROOT "/schema/migrations"
enum { THREADS = 4, NUMBERS_MAX = 1000000 };

static char directory[64];
static char path[128];

static struct store_options options(void)
{
    return (struct store_options){.path = path, .migrations = MIGRATIONS, .create = true};
}

static enum status job_add(struct store_txn *txn, void *context, struct fault *fault)
{
    (void)context;
    int64_t number;
    const struct store_job job = {.id = "a", .body = "{\"id\":\"a\"}", .body_length = 10};
    return store_job_add(txn, &job, &number, fault);
}

static enum status record_add(struct store_txn *txn, void *context, struct fault *fault)
{
    const int *number = context;
    char id[32];
    snprintf(id, sizeof id, "%d", *number);
    struct store_record record = {.id = id, .kind = "note", .body = "{}", .body_length = 2};
    store_hash(record.sent, id, strlen(id), NULL, 0, NULL, 0);
    bool created;
    const enum status status = store_record_add(txn, 1, "a", &record, &created, fault);
    return status == STATUS_OK ? store_job_touch(txn, 1, fault) : status;
}

/* --- the child ----------------------------------------------------------------------------- */

static struct store *child_store;
static int child_pipe, child_first;

static void *child_write(void *context)
{
    for (int number = child_first + *(const int *)context;; number += THREADS) {
        if (store_write(child_store, (struct store_work){.run = record_add, .context = &number},
                        NULL) != STATUS_OK) {
            _exit(3);
        }
        if (write(child_pipe, &number, sizeof number) != sizeof number) _exit(4);
    }
    return NULL;
}

static void child(int out, int first)
{
    child_pipe = out;
    child_first = first;
    const struct store_options opened = options();
    if (store_open(&child_store, &opened, NULL) != STATUS_OK) _exit(2);
    static int numbers[THREADS];
    pthread_t threads[THREADS];
    for (int i = 0; i < THREADS; i++) {
        numbers[i] = i;
        if (pthread_create(&threads[i], NULL, child_write, &numbers[i]) != 0) _exit(5);
    }
    (void)pthread_join(threads[0], NULL);
    _exit(6);
}

/* --- the parent ---------------------------------------------------------------------------- */

static unsigned char told[NUMBERS_MAX];
static unsigned char there[NUMBERS_MAX];

/* Runs a child until it is killed; acknowledged numbers are marked. Returns the highest. */
static int one_kill(int first, unsigned *chance)
{
    int ends[2];
    ck_assert_int_eq(pipe(ends), 0);
    const pid_t pid = fork();
    ck_assert_int_ge(pid, 0);
    if (pid == 0) {
        close(ends[0]);
        child(ends[1], first);
    }
    close(ends[1]);
    int number, highest = first;
    bool started = false;
    while (read(ends[0], &number, sizeof number) == sizeof number) {
        ck_assert_int_lt(number, NUMBERS_MAX);
        told[number] = 1;
        if (number > highest) highest = number;
        if (started) continue;
        started = true;
        const struct timespec wait = {.tv_nsec = rand_r(chance) % 30000000};
        nanosleep(&wait, NULL);
        ck_assert_int_eq(kill(pid, SIGKILL), 0);
    }
    int status;
    ck_assert_int_eq(waitpid(pid, &status, 0), pid);
    ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
    close(ends[0]);
    return highest;
}

static void each(const struct store_link_of_chain *link, void *context)
{
    (void)context;
    there[strtol(link->record.id, NULL, 10)] = 1;
}

static enum status walk(struct store_txn *txn, void *context, struct fault *fault)
{
    struct faults faults = {0};
    (void)fault;
    const enum status status = store_record_walk(txn, each, NULL, context, &faults);
    faults_free(&faults);
    return status;
}

START_TEST(killed_process_loses_nothing_that_was_acknowledged)
{
    snprintf(directory, sizeof directory, "/tmp/ew-kill-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/a.db", directory);
    struct store *store;
    const struct store_options opened = options();
    ck_assert_int_eq(store_open(&store, &opened, NULL), STATUS_OK);
    ck_assert_int_eq(store_write(store, (struct store_work){.run = job_add}, NULL), STATUS_OK);
    store_close(store);
    const char *said = getenv("EMBERWAIT_KILLS");
    const int kills = said == NULL ? 30 : (int)strtol(said, NULL, 10);
    unsigned chance = 20261023;
    int first = 0;
    for (int i = 0; i < kills; i++) {
        first = one_kill(first, &chance) + 1000;
        ck_assert_int_eq(store_open(&store, &opened, NULL), STATUS_OK);
        size_t count = 0;
        ck_assert_int_eq(
            store_read(store, (struct store_work){.run = walk, .context = &count}, NULL),
            STATUS_OK);
        store_close(store);
    }
    size_t acknowledged = 0;
    for (int i = 0; i < NUMBERS_MAX; i++) {
        acknowledged += told[i];
        ck_assert_msg(!told[i] || there[i], "record %d was acknowledged and is lost", i);
    }
    ck_assert_uint_ge(acknowledged, (size_t)kills);
    if (said != NULL) fprintf(stderr, "%zu acknowledged, 0 lost\n", acknowledged);
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("store-kill");
    TCase *tests = tcase_create("kill");
    tcase_set_timeout(tests, 600);
    tcase_add_test(tests, killed_process_loses_nothing_that_was_acknowledged);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
