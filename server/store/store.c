/* SPDX-License-Identifier: MIT */
/*
 * Why: see store.h. The writer takes the whole queue at once, so a group grows by itself while the
 * group before it waits for the disk; nobody waits for a timer. Each member has its own savepoint.
 * When the commit of a group fails, each member is tried again alone, so that one request too large
 * for the disk does not take its neighbours down with it.
 */
#include "store/store.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <sodium.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "store/store_lock.h"
#include "store/store_migrate.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum {
    STORE_READERS_MAX = 8,
    /* of large writes in one transaction: two photos, 8 ms at the pace of a plain disk */
    STORE_GROUP_BYTES_MAX = 4 << 20,
};

/** One write call, on its caller's stack. */
struct request {
    struct request *next;
    struct store_work work;
    size_t bytes; /**< of a large write */
    bool aside;   /**< no view holds what it writes */
    struct fault *fault;
    enum status status;
    bool done;
    pthread_cond_t ready;
};

struct store {
    char *path;
    char *vfs;
    struct store_options options; /**< path and vfs are ours */
    int lock;

    pthread_mutex_t mutex;
    pthread_cond_t queued;
    struct request *first, *last;
    bool stopping;
    bool writer_runs;
    pthread_t writer;
    struct store_txn write;
    uint64_t changes; /**< groups with a write that was not aside */
    struct store_figures figures;

    pthread_mutex_t reader_mutex;
    pthread_cond_t reader_free;
    struct store_txn *readers[STORE_READERS_MAX]; /**< idle ones are at the front */
    size_t readers_idle;
    size_t readers_open;
};

/* --- groups -------------------------------------------------------------------------------- */

static bool rolled_back(const struct store *store)
{
    return sqlite3_get_autocommit(store->write.db) != 0;
}

/* One member in its savepoint. False: SQLite took the whole transaction back. */
static bool member_run(struct store *store, struct request *one)
{
    struct store_txn *txn = &store->write;
    one->status = stmt_run(txn, STMT_SAVEPOINT, one->fault);
    if (one->status != STATUS_OK) return !rolled_back(store);
    one->status = one->work.run(txn, one->work.context, one->fault);
    if (rolled_back(store)) {
        ENSURE(one->status != STATUS_OK);
        return false;
    }
    struct fault ignored;
    if (one->status != STATUS_OK && stmt_run(txn, STMT_ROLLBACK_TO, &ignored) != STATUS_OK) {
        return false;
    }
    return stmt_run(txn, STMT_RELEASE, one->status == STATUS_OK ? one->fault : &ignored) ==
           STATUS_OK;
}

/* The whole list in one transaction. False: nothing of it was stored, `fault` says why. */
static bool group_run(struct store *store, struct request *list, enum status *out_status,
                      struct fault *fault)
{
    *out_status = stmt_run(&store->write, STMT_BEGIN_WRITE, fault);
    if (*out_status != STATUS_OK) return false;
    bool whole = true;
    for (struct request *one = list; whole && one != NULL; one = one->next) {
        whole = member_run(store, one);
        if (!whole) {
            *out_status = one->status == STATUS_OK ? STATUS_IO : one->status;
            *fault = *one->fault;
        }
    }
    if (whole) {
        *out_status = stmt_run(&store->write, STMT_COMMIT, fault);
        whole = *out_status == STATUS_OK;
    }
    if (!rolled_back(store)) {
        struct fault ignored;
        if (stmt_run(&store->write, STMT_ROLLBACK, &ignored) != STATUS_OK) {
            ENSURE(rolled_back(store));
        }
    }
    return whole;
}

/* A list without an `outside` member, or such a member alone. */
static void group_serve(struct store *store, struct request *list)
{
    if (list->work.outside) {
        list->status = list->work.run(&store->write, list->work.context, list->fault);
        return;
    }
    struct fault fault = {0};
    enum status status = STATUS_OK;
    if (group_run(store, list, &status, &fault)) return;
    if (list->next == NULL) {
        list->status = status;
        *list->fault = fault;
        return;
    }
    for (struct request *one = list; one != NULL;) {
        struct request *next = one->next;
        one->next = NULL;
        group_serve(store, one);
        one->next = next;
        one = next;
    }
}

static void group_count(struct store *store, const struct request *list)
{
    bool seen = false;
    store->figures.commits++;
    for (const struct request *one = list; one != NULL; one = one->next) {
        if (!one->aside) seen = true;
        if (one->status == STATUS_OK) store->figures.writes++;
        if (one->status == STATUS_IO || one->status == STATUS_BUSY ||
            one->status == STATUS_CORRUPT) {
            store->figures.failed_writes++;
        }
    }
    if (seen) store->changes++;
}

/* The longest front of the queue that may share a transaction. */
static struct request *group_take(struct store *store)
{
    struct request *list = store->first;
    struct request *last = list;
    if (list == NULL) return NULL;
    size_t bytes = list->bytes;
    while (!list->work.outside && last->next != NULL && !last->next->work.outside) {
        bytes += last->next->bytes;
        if (bytes > STORE_GROUP_BYTES_MAX) break;
        last = last->next;
    }
    store->first = last->next;
    if (store->first == NULL) store->last = NULL;
    last->next = NULL;
    return list;
}

static void *writer_main(void *context)
{
    struct store *store = context;
    (void)pthread_mutex_lock(&store->mutex);
    for (;;) {
        while (store->first == NULL && !store->stopping) {
            (void)pthread_cond_wait(&store->queued, &store->mutex);
        }
        struct request *list = group_take(store);
        if (list == NULL) break;
        (void)pthread_mutex_unlock(&store->mutex);
        group_serve(store, list);
        (void)pthread_mutex_lock(&store->mutex);
        group_count(store, list);
        while (list != NULL) {
            struct request *one = list;
            list = one->next; /* once done, the request is its caller's again */
            one->done = true;
            (void)pthread_cond_signal(&one->ready);
        }
    }
    (void)pthread_mutex_unlock(&store->mutex);
    return NULL;
}

static enum status queue_write(struct store *store, struct store_work work, size_t bytes,
                               bool aside, struct fault *fault)
{
    struct fault own;
    if (fault == NULL) fault = &own;
    if (!store->writer_runs) {
        fault_set(fault, "store", "a store opened for writing", "one opened for reading");
        return STATUS_DENIED;
    }
    struct request request = {.work = work, .bytes = bytes, .aside = aside, .fault = fault};
    ENSURE(pthread_cond_init(&request.ready, NULL) == 0);
    (void)pthread_mutex_lock(&store->mutex);
    REQUIRE(!store->stopping);
    if (store->last != NULL) {
        store->last->next = &request;
    } else {
        store->first = &request;
    }
    store->last = &request;
    (void)pthread_cond_signal(&store->queued);
    while (!request.done) (void)pthread_cond_wait(&request.ready, &store->mutex);
    (void)pthread_mutex_unlock(&store->mutex);
    (void)pthread_cond_destroy(&request.ready);
    return request.status;
}

enum status store_write(struct store *store, struct store_work work, struct fault *fault)
{
    return queue_write(store, work, 0, false, fault);
}

enum status store_write_aside(struct store *store, struct store_work work, struct fault *fault)
{
    return queue_write(store, work, 0, true, fault);
}

enum status store_write_large(struct store *store, struct store_work work, size_t bytes,
                              struct fault *fault)
{
    return queue_write(store, work, bytes, true, fault);
}

/* SQLite writes the first page for it, whatever the number was; nothing else uses the number. */
enum status store_beat(struct store_txn *txn, struct fault *fault)
{
    return stmt_run(txn, STMT_BEAT, fault);
}

/* --- readers ------------------------------------------------------------------------------- */

static enum status reader_new(struct store *store, struct store_txn **out, struct fault *fault)
{
    struct store_txn *reader = calloc(1, sizeof *reader);
    if (reader == NULL) {
        fault_set(fault, "store", "memory", "no memory");
        return STATUS_IO;
    }
    const enum status status = stmt_connect(reader, &store->options, false, fault);
    if (status != STATUS_OK) {
        free(reader);
        return status;
    }
    *out = reader;
    return STATUS_OK;
}

static enum status reader_take(struct store *store, struct store_txn **out, struct fault *fault)
{
    enum status status = STATUS_OK;
    (void)pthread_mutex_lock(&store->reader_mutex);
    while (store->readers_idle == 0 && store->readers_open == STORE_READERS_MAX) {
        (void)pthread_cond_wait(&store->reader_free, &store->reader_mutex);
    }
    if (store->readers_idle > 0) {
        *out = store->readers[--store->readers_idle];
    } else {
        store->readers_open++;
        (void)pthread_mutex_unlock(&store->reader_mutex);
        status = reader_new(store, out, fault);
        (void)pthread_mutex_lock(&store->reader_mutex);
        if (status != STATUS_OK) {
            store->readers_open--;
            (void)pthread_cond_signal(&store->reader_free);
        }
    }
    (void)pthread_mutex_unlock(&store->reader_mutex);
    return status;
}

/* A connection that failed is closed, not kept: the next reader starts afresh. */
static void reader_give(struct store *store, struct store_txn *reader, bool sound)
{
    if (!sound) {
        stmt_disconnect(reader);
        free(reader);
    }
    (void)pthread_mutex_lock(&store->reader_mutex);
    if (sound) {
        store->readers[store->readers_idle++] = reader;
    } else {
        store->readers_open--;
    }
    (void)pthread_cond_signal(&store->reader_free);
    (void)pthread_mutex_unlock(&store->reader_mutex);
}

enum status store_read(struct store *store, struct store_work work, struct fault *fault)
{
    struct fault own;
    if (fault == NULL) fault = &own;
    struct store_txn *reader = NULL;
    enum status status = reader_take(store, &reader, fault);
    if (status != STATUS_OK) return status;
    status = stmt_run(reader, STMT_BEGIN_READ, fault);
    if (status == STATUS_OK) status = work.run(reader, work.context, fault);
    bool sound = status != STATUS_IO && status != STATUS_CORRUPT;
    if (sqlite3_get_autocommit(reader->db) == 0) {
        struct fault ignored;
        sound = stmt_run(reader, STMT_ROLLBACK, &ignored) == STATUS_OK && sound;
    }
    reader_give(store, reader, sound);
    return status;
}

/* --- open and close ------------------------------------------------------------------------ */

static pthread_once_t sqlite_once = PTHREAD_ONCE_INIT;

/* The memory statistics are one lock that every reading thread would wait for. */
static void sqlite_prepare(void)
{
    (void)sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
    ENSURE(sodium_init() >= 0);
}

/* Secrets are in it: nobody else may read it. SQLite gives its other files the same mode. */
static enum status file_make(const char *path, struct fault *fault)
{
    const int file = open(path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (file >= 0) {
        (void)close(file);
        return STATUS_OK;
    }
    if (errno == EEXIST) return STATUS_OK;
    fault_set(fault, path, "a file that can be made", "%s", strerror(errno));
    return errno == ENOENT || errno == ENOTDIR ? STATUS_NOT_FOUND : STATUS_IO;
}

static enum status file_ready(const struct store_options *options, struct fault *fault)
{
    struct stat found;
    if (stat(options->path, &found) == 0) {
        if (S_ISREG(found.st_mode)) return STATUS_OK;
        fault_set(fault, options->path, "a file", "something else");
        return STATUS_INVALID;
    }
    if (!options->create || options->read_only) {
        fault_set(fault, options->path, "a store file", "nothing there");
        return STATUS_NOT_FOUND;
    }
    return file_make(options->path, fault);
}

static enum status store_new(struct store **out, const struct store_options *options,
                             struct fault *fault)
{
    struct store *store = calloc(1, sizeof *store);
    if (store != NULL) {
        store->lock = -1;
        store->options = *options;
        store->path = strdup(options->path);
        store->vfs = options->vfs == NULL ? NULL : strdup(options->vfs);
    }
    if (store == NULL || store->path == NULL || (options->vfs != NULL && store->vfs == NULL)) {
        if (store != NULL) free(store->path);
        free(store);
        fault_set(fault, "store", "memory", "no memory");
        return STATUS_LIMIT;
    }
    store->options.path = store->path;
    store->options.vfs = store->vfs;
    ENSURE(pthread_mutex_init(&store->mutex, NULL) == 0);
    ENSURE(pthread_mutex_init(&store->reader_mutex, NULL) == 0);
    ENSURE(pthread_cond_init(&store->queued, NULL) == 0);
    ENSURE(pthread_cond_init(&store->reader_free, NULL) == 0);
    *out = store;
    return STATUS_OK;
}

static enum status first_fault(enum status status, struct faults *faults, struct fault *fault)
{
    if (status != STATUS_OK && faults->count > 0 && fault != NULL) *fault = faults->items[0];
    faults_free(faults);
    return status;
}

static enum status writer_start(struct store *store, struct fault *fault)
{
    enum status status = store_lock(&store->lock, store->path, fault);
    if (status != STATUS_OK) return status;
    status = stmt_connect(&store->write, &store->options, true, fault);
    if (status != STATUS_OK) return status;
    struct faults faults = {0};
    status = store_migrate(&store->write, store->options.migrations, STORE_MIGRATE_APPLY,
                           store->options.now_s, NULL, &faults);
    status = first_fault(status, &faults, fault);
    if (status != STATUS_OK) return status;
    if (pthread_create(&store->writer, NULL, writer_main, store) != 0) {
        fault_set(fault, "store", "a thread for writing", "none to be had");
        return STATUS_IO;
    }
    store->writer_runs = true;
    return STATUS_OK;
}

static enum status reader_check(struct store *store, struct fault *fault)
{
    struct store_txn *reader = NULL;
    enum status status = reader_take(store, &reader, fault);
    if (status != STATUS_OK) return status;
    struct faults faults = {0};
    if (!store->options.unchecked) {
        status =
            store_migrate(reader, store->options.migrations, STORE_MIGRATE_WHOLE, 0, NULL, &faults);
    }
    reader_give(store, reader, status == STATUS_OK);
    return first_fault(status, &faults, fault);
}

enum status store_open(struct store **out, const struct store_options *options, struct fault *fault)
{
    *out = NULL;
    struct fault own;
    if (fault == NULL) fault = &own;
    (void)pthread_once(&sqlite_once, sqlite_prepare);
    enum status status = file_ready(options, fault);
    if (status != STATUS_OK) return status;
    struct store *store = NULL;
    status = store_new(&store, options, fault);
    if (status != STATUS_OK) return status;
    status = options->read_only ? reader_check(store, fault) : writer_start(store, fault);
    if (status != STATUS_OK) {
        store_close(store);
        return status;
    }
    *out = store;
    return STATUS_OK;
}

void store_close(struct store *store)
{
    if (store == NULL) return;
    if (store->writer_runs) {
        (void)pthread_mutex_lock(&store->mutex);
        store->stopping = true;
        (void)pthread_cond_signal(&store->queued);
        (void)pthread_mutex_unlock(&store->mutex);
        (void)pthread_join(store->writer, NULL);
    }
    ENSURE(store->readers_idle == store->readers_open);
    for (size_t i = 0; i < store->readers_idle; i++) {
        stmt_disconnect(store->readers[i]);
        free(store->readers[i]);
    }
    stmt_disconnect(&store->write); /* the last to close: it checkpoints and clears the log away */
    store_unlock(store->lock);
    (void)pthread_mutex_destroy(&store->mutex);
    (void)pthread_mutex_destroy(&store->reader_mutex);
    (void)pthread_cond_destroy(&store->queued);
    (void)pthread_cond_destroy(&store->reader_free);
    free(store->path);
    free(store->vfs);
    free(store);
}

/* --- small things -------------------------------------------------------------------------- */

void store_figures(struct store *store, struct store_figures *out)
{
    (void)pthread_mutex_lock(&store->mutex);
    *out = store->figures;
    (void)pthread_mutex_unlock(&store->mutex);
}

uint64_t store_commits(struct store *store)
{
    (void)pthread_mutex_lock(&store->mutex);
    const uint64_t changes = store->changes;
    (void)pthread_mutex_unlock(&store->mutex);
    return changes;
}

bool store_read_only(const struct store *store)
{
    return !store->writer_runs;
}

void store_hash(unsigned char out[STORE_HASH_BYTES], const void *a, size_t a_length, const void *b,
                size_t b_length, const void *c, size_t c_length)
{
    crypto_generichash_state state;
    (void)crypto_generichash_init(&state, NULL, 0, STORE_HASH_BYTES);
    if (a_length > 0) (void)crypto_generichash_update(&state, a, a_length);
    if (b_length > 0) (void)crypto_generichash_update(&state, b, b_length);
    if (c_length > 0) (void)crypto_generichash_update(&state, c, c_length);
    (void)crypto_generichash_final(&state, out, STORE_HASH_BYTES);
}
