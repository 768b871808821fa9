/* SPDX-License-Identifier: MIT */
/* Why: see store_keep.h. */
#include "store/store_keep.h"

#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "store/store_lock.h"
#include "store/store_migrate.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { KEEP_PATH_MAX = 4096 };

/* --- checks -------------------------------------------------------------------------------- */

static enum status rows_check(struct store_txn *txn, enum stmt_id id, const char *path,
                              const char *wanted, bool ok_row, struct faults *faults)
{
    struct arena *arena = arena_new();
    struct stmt stmt = stmt_begin(txn, id);
    if (arena == NULL) stmt.result = SQLITE_NOMEM;
    bool sound = true;
    while (stmt_step(&stmt)) {
        const char *said = stmt_column_text(&stmt, 0, arena, NULL);
        if (ok_row && said != NULL && strcmp(said, "ok") == 0) continue;
        (void)faults_add(faults, path, wanted, "%s", said == NULL ? "no memory" : said);
        sound = false;
        arena_reset(arena);
    }
    struct fault fault;
    const enum status status = stmt_end(&stmt, &fault);
    if (status != STATUS_OK) (void)faults_add(faults, path, fault.wanted, "%s", fault.found);
    arena_free(arena);
    return status == STATUS_OK && !sound ? STATUS_CORRUPT : status;
}

enum status store_keep_check(struct store_txn *txn, const char *migrations, size_t *out_count,
                             struct faults *faults)
{
    const enum status whole =
        rows_check(txn, STMT_INTEGRITY, "integrity", "a whole file", true, faults);
    const enum status keys = rows_check(txn, STMT_FOREIGN_KEYS, "foreign-keys",
                                        "rows whose parents are there", false, faults);
    const enum status applied =
        store_migrate(txn, migrations, STORE_MIGRATE_OLDER, 0, out_count, faults);
    if (whole != STATUS_OK) return whole;
    return keys != STATUS_OK ? keys : applied;
}

/* --- copies -------------------------------------------------------------------------------- */

static enum status io_fault(const char *path, const char *wanted, struct fault *fault)
{
    fault_set(fault, path, wanted, "%s", strerror(errno));
    return STATUS_IO;
}

static enum status path_sync(const char *path, int flags, struct fault *fault)
{
    const int file = open(path, flags | O_CLOEXEC);
    if (file < 0) return io_fault(path, "a file to be made safe on disk", fault);
    const int result = fsync(file);
    const int kept = errno;
    (void)close(file);
    errno = kept;
    return result == 0 ? STATUS_OK : io_fault(path, "a file made safe on disk (fsync)", fault);
}

static enum status directory_sync(const char *path, struct fault *fault)
{
    char name[KEEP_PATH_MAX];
    const int length = snprintf(name, sizeof name, "%s", path);
    if (length < 0 || (size_t)length >= sizeof name) {
        errno = ENAMETOOLONG;
        return io_fault(path, "a shorter path", fault);
    }
    return path_sync(dirname(name), O_RDONLY | O_DIRECTORY, fault);
}

static enum status file_claim(const char *copy, struct fault *fault)
{
    const int file = open(copy, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (file >= 0) {
        (void)close(file);
        return STATUS_OK;
    }
    if (errno == EEXIST) {
        fault_set(fault, copy, "a file that is not there yet", "one that is");
        return STATUS_CONFLICT;
    }
    return io_fault(copy, "a file that can be made", fault);
}

static enum status pages_copy(sqlite3 *to, sqlite3 *from, struct fault *fault)
{
    sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
    if (backup == NULL) return stmt_failure(to, sqlite3_errcode(to), fault);
    const int stepped = sqlite3_backup_step(backup, -1);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE) return stmt_failure(NULL, stepped, fault);
    if (finished != SQLITE_OK) return stmt_failure(to, finished, fault);
    return stmt_script(to, "PRAGMA journal_mode = DELETE;", fault);
}

static enum status copy_from(sqlite3 *from, const char *copy, struct fault *fault)
{
    enum status status = file_claim(copy, fault);
    if (status != STATUS_OK) return status;
    sqlite3 *to = NULL;
    const int opened = sqlite3_open_v2(copy, &to, SQLITE_OPEN_READWRITE, NULL);
    status = opened == SQLITE_OK ? pages_copy(to, from, fault) : stmt_failure(to, opened, fault);
    const int closed = sqlite3_close(to);
    if (status == STATUS_OK && closed != SQLITE_OK) status = stmt_failure(NULL, closed, fault);
    if (status == STATUS_OK) status = path_sync(copy, O_RDWR, fault);
    if (status == STATUS_OK) status = directory_sync(copy, fault);
    if (status != STATUS_OK) (void)unlink(copy);
    return status;
}

enum status store_keep_copy(const char *path, const char *copy, struct fault *fault)
{
    if (access(path, F_OK) != 0) {
        fault_set(fault, path, "a store file", "nothing there");
        return STATUS_NOT_FOUND;
    }
    const struct store_options options = {.path = path, .read_only = true};
    struct store_txn from;
    enum status status = stmt_connect(&from, &options, false, fault);
    if (status != STATUS_OK) return status;
    status = copy_from(from.db, copy, fault);
    stmt_disconnect(&from);
    return status;
}

struct live {
    const char *copy;
};

static enum status live_run(struct store_txn *txn, void *context, struct fault *fault)
{
    const struct live *live = context;
    return copy_from(txn->db, live->copy, fault);
}

enum status store_keep_copy_live(struct store *store, const char *copy, struct fault *fault)
{
    struct live live = {copy};
    return store_write(store, (struct store_work){live_run, &live, .outside = true}, fault);
}

/* --- putting into place -------------------------------------------------------------------- */

/*
 * A log left beside the old store would be replayed into the new one. The old store is folded up
 * first; one too broken for that loses its log together with itself.
 */
static void log_away(const char *path)
{
    sqlite3 *old = NULL;
    if (sqlite3_open_v2(path, &old, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK) {
        (void)sqlite3_exec(old, "PRAGMA journal_mode = DELETE;", NULL, NULL, NULL);
    }
    (void)sqlite3_close(old);
    static const char *const ends[] = {"-wal", "-shm", "-journal"};
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        char name[KEEP_PATH_MAX];
        const int length = snprintf(name, sizeof name, "%s%s", path, ends[i]);
        if (length > 0 && (size_t)length < sizeof name) (void)unlink(name);
    }
}

static enum status place(const char *file, const char *path, bool replace, struct fault *fault)
{
    if (!replace) {
        /* link and not rename: it refuses a name that appeared meanwhile */
        if (link(file, path) != 0) {
            if (errno != EEXIST) return io_fault(path, "a file that can be put there", fault);
            fault_set(fault, path, "nothing there (or --force)", "a file");
            return STATUS_CONFLICT;
        }
        (void)unlink(file);
        return directory_sync(path, fault);
    }
    log_away(path);
    if (rename(file, path) != 0) return io_fault(path, "a file that can be put there", fault);
    return directory_sync(path, fault);
}

enum status store_keep_place(const char *file, const char *path, bool replace, struct fault *fault)
{
    if (!replace)
        return place(file, path, false, fault); /* nobody can be using what is not there */
    int lock = -1;
    enum status status = store_lock(&lock, path, fault);
    if (status == STATUS_OK) status = place(file, path, replace, fault);
    store_unlock(lock);
    return status;
}
