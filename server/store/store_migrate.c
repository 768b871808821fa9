/* SPDX-License-Identifier: MIT */
/* Why: see store_migrate.h. Files are read whole before the first of them runs. */
#include "store/store_migrate.h"

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/banned.h"

enum {
    MIGRATIONS_MAX = 999,
    MIGRATION_BYTES_MAX = 1048576, /**< one file; ours are a few KiB */
    PATH_BYTES_MAX = 4096,
};

struct migration {
    char name[NAME_MAX + 1]; /**< file name */
    char *sql;
    unsigned char checksum[STORE_HASH_BYTES];
};

struct migrations {
    struct migration *items;
    size_t count;
};

static void migrations_free(struct migrations *all)
{
    for (size_t i = 0; i < all->count; i++) free(all->items[i].sql);
    free(all->items);
    all->items = NULL;
    all->count = 0;
}

/* NNNN-name.sql -> NNNN; 0 for any other name. */
static size_t number_of(const char *name)
{
    size_t number = 0;
    for (int i = 0; i < 4; i++) {
        if (name[i] < '0' || name[i] > '9') return 0;
        number = number * 10 + (size_t)(name[i] - '0');
    }
    const size_t length = strlen(name);
    if (length < 10 || name[4] != '-' || strcmp(name + length - 4, ".sql") != 0) return 0;
    return number;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct migration *)a)->name, ((const struct migration *)b)->name);
}

static enum status names_read(struct migrations *all, const char *directory, struct faults *faults)
{
    DIR *opened = opendir(directory);
    if (opened == NULL) {
        (void)faults_add(faults, directory, "the directory of migrations", "nothing");
        return STATUS_NOT_FOUND;
    }
    enum status status = STATUS_OK;
    for (const struct dirent *entry; status == STATUS_OK && (entry = readdir(opened)) != NULL;) {
        if (number_of(entry->d_name) == 0) continue;
        struct migration *more = all->count == MIGRATIONS_MAX
                                     ? NULL
                                     : realloc(all->items, (all->count + 1) * sizeof *all->items);
        if (more == NULL) {
            (void)faults_add(faults, directory, "fewer migrations or more memory", "no room");
            status = STATUS_LIMIT;
            break;
        }
        all->items = more;
        struct migration *one = &all->items[all->count++];
        memset(one, 0, sizeof *one);
        (void)snprintf(one->name, sizeof one->name, "%s", entry->d_name);
    }
    (void)closedir(opened);
    if (status == STATUS_OK && all->count == 0) {
        (void)faults_add(faults, directory, "files NNNN-name.sql", "none");
        status = STATUS_NOT_FOUND;
    }
    if (all->count > 0) qsort(all->items, all->count, sizeof *all->items, by_name);
    return status;
}

static enum status text_read(struct migration *one, const char *directory, struct faults *faults)
{
    char path[PATH_BYTES_MAX];
    const int length = snprintf(path, sizeof path, "%s/%s", directory, one->name);
    FILE *file = length < 0 || (size_t)length >= sizeof path ? NULL : fopen(path, "rb");
    one->sql = calloc(1, MIGRATION_BYTES_MAX + 1);
    size_t bytes = 0;
    if (file != NULL && one->sql != NULL) bytes = fread(one->sql, 1, MIGRATION_BYTES_MAX + 1, file);
    const bool bad = file == NULL || one->sql == NULL || ferror(file) != 0 || bytes == 0 ||
                     bytes > MIGRATION_BYTES_MAX;
    if (file != NULL) (void)fclose(file);
    if (bad) {
        (void)faults_add(faults, one->name, "a migration of 1 byte to 1 MiB", "unreadable");
        return STATUS_IO;
    }
    one->sql[bytes] = '\0';
    store_hash(one->checksum, one->sql, bytes, NULL, 0, NULL, 0);
    return STATUS_OK;
}

static enum status migrations_read(struct migrations *all, const char *directory,
                                   struct faults *faults)
{
    enum status status = names_read(all, directory, faults);
    for (size_t i = 0; status == STATUS_OK && i < all->count; i++) {
        if (number_of(all->items[i].name) != i + 1) {
            status = faults_add(faults, all->items[i].name, "numbers 0001, 0002, … without a gap",
                                "number %zu at place %zu", number_of(all->items[i].name), i + 1);
        } else {
            status = text_read(&all->items[i], directory, faults);
        }
    }
    return status;
}

/* The table is there before the first migration, so it is not one itself. */
#define MIGRATION_TABLE                                                                            \
    "CREATE TABLE IF NOT EXISTS migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, "       \
    "checksum BLOB NOT NULL CHECK (length(checksum) = 32), applied INTEGER NOT NULL) STRICT;"

static enum status one_failed(struct store_txn *txn, int result, struct faults *faults)
{
    struct fault fault;
    const enum status status = stmt_failure(txn->db, result, &fault);
    (void)faults_add(faults, fault.path, fault.wanted, "%s", fault.found);
    return status;
}

/* Compare what the store says it has with what we have. */
static enum status applied_check(struct store_txn *txn, const struct migrations *all,
                                 size_t *out_applied, struct faults *faults)
{
    sqlite3_stmt *rows = NULL;
    int result = sqlite3_prepare_v2(
        txn->db, "SELECT number, name, checksum FROM migration ORDER BY number", -1, &rows, NULL);
    enum status status = STATUS_OK;
    size_t applied = 0;
    while (result == SQLITE_OK && (result = sqlite3_step(rows)) == SQLITE_ROW) {
        result = SQLITE_OK;
        const int64_t number = sqlite3_column_int64(rows, 0);
        const char *name = (const char *)sqlite3_column_text(rows, 1);
        if (name == NULL) name = "?";
        applied++;
        if (number != (int64_t)applied || applied > all->count) {
            (void)faults_add(faults, name, "a program that has every migration of the store",
                             "migration %lld, which this program does not have", (long long)number);
            status = STATUS_CONFLICT;
        } else if (sqlite3_column_bytes(rows, 2) != STORE_HASH_BYTES ||
                   memcmp(sqlite3_column_blob(rows, 2), all->items[applied - 1].checksum,
                          STORE_HASH_BYTES) != 0 ||
                   strcmp(name, all->items[applied - 1].name) != 0) {
            (void)faults_add(faults, name, "the migration as it was applied", "a changed one (%s)",
                             all->items[applied - 1].name);
            status = STATUS_CONFLICT;
        }
    }
    if (result != SQLITE_DONE) status = one_failed(txn, result, faults);
    (void)sqlite3_finalize(rows);
    *out_applied = applied;
    return status;
}

static int migration_note(struct store_txn *txn, const struct migration *one, size_t number,
                          int64_t now_s)
{
    sqlite3_stmt *row = NULL;
    int result = sqlite3_prepare_v2(txn->db, "INSERT INTO migration VALUES (?1, ?2, ?3, ?4)", -1,
                                    &row, NULL);
    if (result == SQLITE_OK) result = sqlite3_bind_int64(row, 1, (int64_t)number);
    if (result == SQLITE_OK) result = sqlite3_bind_text(row, 2, one->name, -1, SQLITE_STATIC);
    if (result == SQLITE_OK) {
        result = sqlite3_bind_blob(row, 3, one->checksum, STORE_HASH_BYTES, SQLITE_STATIC);
    }
    if (result == SQLITE_OK) result = sqlite3_bind_int64(row, 4, now_s);
    if (result == SQLITE_OK) result = sqlite3_step(row);
    (void)sqlite3_finalize(row);
    return result == SQLITE_DONE ? SQLITE_OK : result;
}

static enum status migration_apply(struct store_txn *txn, const struct migration *one,
                                   size_t number, int64_t now_s, struct faults *faults)
{
    int result = sqlite3_exec(txn->db, "BEGIN IMMEDIATE", NULL, NULL, NULL);
    if (result == SQLITE_OK) result = sqlite3_exec(txn->db, one->sql, NULL, NULL, NULL);
    if (result == SQLITE_OK) result = migration_note(txn, one, number, now_s);
    if (result == SQLITE_OK) result = sqlite3_exec(txn->db, "COMMIT", NULL, NULL, NULL);
    if (result == SQLITE_OK) return STATUS_OK;
    const enum status status = one_failed(txn, result, faults);
    if (sqlite3_get_autocommit(txn->db) == 0) {
        (void)sqlite3_exec(txn->db, "ROLLBACK", NULL, NULL, NULL);
    }
    return status;
}

enum status store_migrate(struct store_txn *txn, const char *directory, enum store_migrate_how how,
                          int64_t now_s, size_t *out_count, struct faults *faults)
{
    struct migrations all = {0};
    enum status status = migrations_read(&all, directory, faults);
    if (status == STATUS_OK && how == STORE_MIGRATE_APPLY) {
        const int result = sqlite3_exec(txn->db, MIGRATION_TABLE, NULL, NULL, NULL);
        if (result != SQLITE_OK) status = one_failed(txn, result, faults);
    }
    size_t applied = 0;
    if (status == STATUS_OK) status = applied_check(txn, &all, &applied, faults);
    if (out_count != NULL) *out_count = how == STORE_MIGRATE_OLDER ? applied : all.count;
    if (how == STORE_MIGRATE_OLDER) applied = all.count;
    for (size_t i = applied; status == STATUS_OK && i < all.count; i++) {
        if (how == STORE_MIGRATE_APPLY) {
            status = migration_apply(txn, &all.items[i], i + 1, now_s, faults);
        } else {
            (void)faults_add(faults, all.items[i].name, "an applied migration",
                             "one that the store has not had yet");
            status = STATUS_CONFLICT;
        }
    }
    migrations_free(&all);
    return status;
}
