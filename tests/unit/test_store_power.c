/* SPDX-License-Identifier: MIT */
/* links: store */
/*
 * A power cut at any moment loses nothing that was acknowledged. kill -9 cannot show that: the
 * kernel still has what was written. So disks after a cut are built from a log of writes and syncs.
 * Two controls must fail, or the test would prove nothing: the same store with synchronous=NORMAL,
 * and a disk that lies about syncs. EMBERWAIT_IMAGES sets how many cuts are tried.
 */
#include <check.h>
#include <unistd.h>

#include "../fault/shim_vfs.c"
#include "store/store.h"
#include "store/store_job.h"
#include "store/store_record.h"

#define MIGRATIONS PROJECT_ROOT "/schema/migrations"
enum { COMMITS = 420, BODY_BYTES = 1500 };

static char directory[64];
static char path[128], cut_path[128], wal_path[160];

static const char *fast_directory(void)
{
    return access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
}

static void begin(void)
{
    snprintf(directory, sizeof directory, "%s/ew-power-XXXXXX", fast_directory());
    ck_assert_ptr_nonnull(mkdtemp(directory));
    snprintf(path, sizeof path, "%s/a.db", directory);
    snprintf(cut_path, sizeof cut_path, "%s/cut.db", directory);
    snprintf(wal_path, sizeof wal_path, "%s-wal", cut_path);
}

static void end(void)
{
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", directory);
    ck_assert_int_eq(system(command), 0);
    shim_forget();
}

struct one {
    int number;
};

static enum status job_add(struct store_txn *txn, void *context, struct fault *fault)
{
    (void)context;
    int64_t number;
    const struct store_job job = {.id = "a", .body = "{\"id\":\"a\"}", .body_length = 10};
    return store_job_add(txn, &job, &number, fault);
}

static enum status record_add(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct one *one = context;
    char id[32];
    char body[BODY_BYTES];
    snprintf(id, sizeof id, "r%d", one->number);
    memset(body, 'a' + one->number % 26, sizeof body);
    struct store_record record = {
        .id = id, .kind = "note", .body = body, .body_length = sizeof body};
    store_hash(record.sent, body, sizeof body, NULL, 0, NULL, 0);
    bool created;
    enum status status = store_record_add(txn, 1, "a", &record, &created, fault);
    if (status == STATUS_OK) status = store_job_touch(txn, 1, fault);
    return status;
}

static struct shim_image base;

static void base_read(void)
{
    FILE *file = fopen(path, "rb");
    ck_assert_ptr_nonnull(file);
    unsigned char bytes[65536];
    base = (struct shim_image){0};
    for (size_t n; (n = fread(bytes, 1, sizeof bytes, file)) > 0;) {
        shim_image_put(&base, (int64_t)base.size, bytes, n);
    }
    fclose(file);
}

/* A store with one job; then COMMITS acknowledged records with the log running. */
static void work(bool sync_normal)
{
    struct store *store;
    struct fault fault = {0};
    struct store_options options = {
        .path = path, .migrations = MIGRATIONS, .create = true, .sync_normal = sync_normal};
    ck_assert_int_eq(store_open(&store, &options, &fault), STATUS_OK);
    ck_assert_int_eq(store_write(store, (struct store_work){.run = job_add}, &fault), STATUS_OK);
    store_close(store);
    base_read();
    shim_register();
    shim.logging = true;
    options.vfs = "shim";
    ck_assert_int_eq(store_open(&store, &options, &fault), STATUS_OK);
    for (int i = 1; i <= COMMITS; i++) {
        struct one one = {i};
        ck_assert_int_eq(
            store_write(store, (struct store_work){.run = record_add, .context = &one}, &fault),
            STATUS_OK);
        shim_note(SHIM_OP_ACKNOWLEDGED, 0, i, NULL, 0);
    }
    shim.logging = false; /* closing folds the log up: no cut is made there */
    store_close(store);
}

static void image_write(const char *name, const struct shim_image *image)
{
    FILE *file = fopen(name, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(image->bytes, 1, image->size, file), image->size);
    fclose(file);
}

static void each(const struct store_link_of_chain *link, void *context)
{
    (void)link;
    (void)context;
}

static enum status count_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct faults faults = {0};
    (void)fault;
    const enum status status = store_record_walk(txn, each, NULL, context, &faults);
    faults_free(&faults);
    return status;
}

/* Records there are after the cut, the chain checked; SIZE_MAX: the store is damaged. */
static size_t records_after(size_t until, bool lying, unsigned *chance, size_t *acknowledged)
{
    struct shim_image images[2] = {{0}, {0}};
    shim_image_put(&images[0], 0, base.bytes, base.size);
    *acknowledged = shim_cut(images, until, lying, chance);
    image_write(cut_path, &images[0]);
    image_write(wal_path, &images[1]);
    free(images[0].bytes);
    free(images[1].bytes);
    char name[160];
    snprintf(name, sizeof name, "%s-shm", cut_path);
    unlink(name);
    struct store *store;
    const struct store_options options = {.path = cut_path, .migrations = MIGRATIONS};
    if (store_open(&store, &options, NULL) != STATUS_OK) return SIZE_MAX;
    size_t count = 0;
    struct fault fault = {0};
    const enum status status =
        store_read(store, (struct store_work){.run = count_run, .context = &count}, &fault);
    store_close(store);
    return status == STATUS_OK ? count : SIZE_MAX;
}

struct outcome {
    size_t cuts, lost, damaged, more_than_sent;
};

static struct outcome cuts_try(size_t cuts, bool lying)
{
    struct outcome outcome = {.cuts = cuts};
    unsigned chance = 20261023;
    for (size_t i = 0; i < cuts; i++) {
        const size_t until = 1 + (size_t)rand_r(&chance) % shim.count;
        size_t acknowledged = 0;
        const size_t found = records_after(until, lying, &chance, &acknowledged);
        if (found == SIZE_MAX) {
            outcome.damaged++;
        } else if (found < acknowledged) {
            outcome.lost++;
        } else if (found > acknowledged + 1) {
            outcome.more_than_sent++;
        }
    }
    free(base.bytes);
    if (getenv("EMBERWAIT_IMAGES") != NULL) {
        fprintf(stderr, "%zu cuts: %zu lost acknowledged records, %zu damaged\n", cuts,
                outcome.lost, outcome.damaged);
    }
    return outcome;
}

static size_t images(size_t otherwise)
{
    const char *said = getenv("EMBERWAIT_IMAGES");
    return said == NULL ? otherwise : (size_t)strtoul(said, NULL, 10);
}

static size_t checkpoints(void)
{
    size_t syncs = 0;
    for (size_t i = 0; i < shim.count; i++) {
        syncs += shim.log[i].op == SHIM_OP_SYNC && shim.log[i].file == 0;
    }
    return syncs;
}

START_TEST(power_cut_loses_nothing_that_was_acknowledged)
{
    work(false);
    ck_assert_uint_ge(checkpoints(), 1); /* cuts fall into checkpoints too */
    const struct outcome outcome = cuts_try(images(150), false);
    ck_assert_uint_eq(outcome.lost, 0);
    ck_assert_uint_eq(outcome.damaged, 0);
    ck_assert_uint_eq(outcome.more_than_sent, 0);
}
END_TEST

START_TEST(control_with_synchronous_normal_does_lose_acknowledged_records)
{
    work(true);
    const struct outcome outcome = cuts_try(images(40), false);
    ck_assert_uint_gt(outcome.lost, outcome.cuts / 4);
}
END_TEST

START_TEST(control_with_a_lying_disk_does_lose_acknowledged_records)
{
    work(false);
    const struct outcome outcome = cuts_try(images(40), true);
    ck_assert_uint_gt(outcome.lost + outcome.damaged, outcome.cuts / 2);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("store-power");
    TCase *tests = tcase_create("power");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 600);
    tcase_add_test(tests, power_cut_loses_nothing_that_was_acknowledged);
    tcase_add_test(tests, control_with_synchronous_normal_does_lose_acknowledged_records);
    tcase_add_test(tests, control_with_a_lying_disk_does_lose_acknowledged_records);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
