/* SPDX-License-Identifier: MIT */
/*
 * A SQLite VFS between the library and the disk, for tests that include this file. It can do two
 * things:
 *
 * - fail the n-th write or sync, once or from then on (a disk that is full, or dying);
 * - keep a log of every write, truncation and sync, from which images of the disk after a power cut
 *   are built: of each file everything up to its last sync is there, and of what came later each
 *   512-byte sector is there or not by the throw of a coin. A disk that lies about syncs is the
 * same log read with the syncs left out.
 */
#include <pthread.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SHIM_SECTOR = 512 };
enum shim_fails { SHIM_WRITE = 1, SHIM_SYNC = 2 };
enum shim_op { SHIM_OP_WRITE, SHIM_OP_TRUNCATE, SHIM_OP_SYNC, SHIM_OP_ACKNOWLEDGED };

struct shim_entry {
    enum shim_op op;
    int file; /* 0 the database, 1 its write-ahead log */
    int64_t offset;
    size_t length;
    unsigned char *bytes;
};

static struct {
    pthread_mutex_t mutex;
    /* failing */
    unsigned kinds; /* which calls count */
    int64_t left;   /* calls until the failing one; < 0: none */
    bool from_then; /* every later one fails too */
    int result;     /* SQLITE_FULL, SQLITE_IOERR_WRITE, ... */
    int64_t fired;  /* how often it failed */
    /* logging */
    bool logging;
    struct shim_entry *log;
    size_t count, capacity;
} shim = {.mutex = PTHREAD_MUTEX_INITIALIZER, .left = -1};

struct shim_file {
    sqlite3_file base;
    int file;
    sqlite3_file *real; /* lies behind this struct */
};

static sqlite3_vfs *shim_real;
static sqlite3_vfs shim_vfs;

#define SHIM_REAL(file) (((struct shim_file *)(file))->real)

/* True when this call is to fail. */
static bool shim_strikes(enum shim_fails kind)
{
    bool strikes = false;
    pthread_mutex_lock(&shim.mutex);
    if ((shim.kinds & kind) != 0 && shim.left >= 0) {
        if (shim.left == 0) {
            strikes = true;
            shim.fired++;
            if (!shim.from_then) shim.left = -1;
        } else {
            shim.left--;
        }
    }
    pthread_mutex_unlock(&shim.mutex);
    return strikes;
}

static void shim_note(enum shim_op op, int file, int64_t offset, const void *bytes, size_t length)
{
    pthread_mutex_lock(&shim.mutex);
    if (shim.logging && file >= 0) {
        if (shim.count == shim.capacity) {
            shim.capacity = shim.capacity == 0 ? 1024 : shim.capacity * 2;
            shim.log = realloc(shim.log, shim.capacity * sizeof *shim.log);
            if (shim.log == NULL) abort();
        }
        struct shim_entry *entry = &shim.log[shim.count++];
        *entry = (struct shim_entry){op, file, offset, length, NULL};
        if (bytes != NULL) {
            entry->bytes = malloc(length);
            if (entry->bytes == NULL) abort();
            memcpy(entry->bytes, bytes, length);
        }
    }
    pthread_mutex_unlock(&shim.mutex);
}

static int shim_close(sqlite3_file *file)
{
    return SHIM_REAL(file)->pMethods == NULL ? SQLITE_OK
                                             : SHIM_REAL(file)->pMethods->xClose(SHIM_REAL(file));
}
static int shim_read(sqlite3_file *file, void *out, int count, sqlite3_int64 offset)
{
    return SHIM_REAL(file)->pMethods->xRead(SHIM_REAL(file), out, count, offset);
}
static int shim_write(sqlite3_file *file, const void *bytes, int count, sqlite3_int64 offset)
{
    if (shim_strikes(SHIM_WRITE)) return shim.result;
    const int result = SHIM_REAL(file)->pMethods->xWrite(SHIM_REAL(file), bytes, count, offset);
    if (result == SQLITE_OK) {
        shim_note(SHIM_OP_WRITE, ((struct shim_file *)file)->file, offset, bytes, (size_t)count);
    }
    return result;
}
static int shim_truncate(sqlite3_file *file, sqlite3_int64 size)
{
    if (shim_strikes(SHIM_WRITE)) return SQLITE_IOERR_TRUNCATE;
    const int result = SHIM_REAL(file)->pMethods->xTruncate(SHIM_REAL(file), size);
    if (result == SQLITE_OK) {
        shim_note(SHIM_OP_TRUNCATE, ((struct shim_file *)file)->file, size, NULL, 0);
    }
    return result;
}
static int shim_sync(sqlite3_file *file, int flags)
{
    if (shim_strikes(SHIM_SYNC)) return SQLITE_IOERR_FSYNC;
    const int result = SHIM_REAL(file)->pMethods->xSync(SHIM_REAL(file), flags);
    if (result == SQLITE_OK) {
        shim_note(SHIM_OP_SYNC, ((struct shim_file *)file)->file, 0, NULL, 0);
    }
    return result;
}
static int shim_size(sqlite3_file *file, sqlite3_int64 *out)
{
    return SHIM_REAL(file)->pMethods->xFileSize(SHIM_REAL(file), out);
}
static int shim_lock(sqlite3_file *file, int kind)
{
    return SHIM_REAL(file)->pMethods->xLock(SHIM_REAL(file), kind);
}
static int shim_unlock(sqlite3_file *file, int kind)
{
    return SHIM_REAL(file)->pMethods->xUnlock(SHIM_REAL(file), kind);
}
static int shim_reserved(sqlite3_file *file, int *out)
{
    return SHIM_REAL(file)->pMethods->xCheckReservedLock(SHIM_REAL(file), out);
}
static int shim_control(sqlite3_file *file, int op, void *argument)
{
    return SHIM_REAL(file)->pMethods->xFileControl(SHIM_REAL(file), op, argument);
}
static int shim_sector(sqlite3_file *file)
{
    return SHIM_REAL(file)->pMethods->xSectorSize(SHIM_REAL(file));
}
/* No promise of the disk beyond a sector: none that survives a power cut is made. */
static int shim_device(sqlite3_file *file)
{
    (void)file;
    return 0;
}
static int shim_shm_map(sqlite3_file *file, int page, int size, int extend, void volatile **out)
{
    return SHIM_REAL(file)->pMethods->xShmMap(SHIM_REAL(file), page, size, extend, out);
}
static int shim_shm_lock(sqlite3_file *file, int offset, int count, int flags)
{
    return SHIM_REAL(file)->pMethods->xShmLock(SHIM_REAL(file), offset, count, flags);
}
static void shim_shm_barrier(sqlite3_file *file)
{
    SHIM_REAL(file)->pMethods->xShmBarrier(SHIM_REAL(file));
}
static int shim_shm_unmap(sqlite3_file *file, int remove)
{
    return SHIM_REAL(file)->pMethods->xShmUnmap(SHIM_REAL(file), remove);
}

static const sqlite3_io_methods shim_methods = {
    .iVersion = 2,
    .xClose = shim_close,
    .xRead = shim_read,
    .xWrite = shim_write,
    .xTruncate = shim_truncate,
    .xSync = shim_sync,
    .xFileSize = shim_size,
    .xLock = shim_lock,
    .xUnlock = shim_unlock,
    .xCheckReservedLock = shim_reserved,
    .xFileControl = shim_control,
    .xSectorSize = shim_sector,
    .xDeviceCharacteristics = shim_device,
    .xShmMap = shim_shm_map,
    .xShmLock = shim_shm_lock,
    .xShmBarrier = shim_shm_barrier,
    .xShmUnmap = shim_shm_unmap,
};

static int shim_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags,
                     int *out_flags)
{
    (void)vfs;
    struct shim_file *opened = (struct shim_file *)file;
    opened->base.pMethods = NULL;
    opened->file = (flags & SQLITE_OPEN_MAIN_DB) != 0 ? 0 : (flags & SQLITE_OPEN_WAL) != 0 ? 1 : -1;
    opened->real = (sqlite3_file *)(void *)(opened + 1);
    const int result = shim_real->xOpen(shim_real, name, opened->real, flags, out_flags);
    if (result == SQLITE_OK) opened->base.pMethods = &shim_methods;
    return result;
}

/* The VFS "shim" over the default one; call before the first store is opened with it. */
static void shim_register(void)
{
    shim_real = sqlite3_vfs_find(NULL);
    shim_vfs = *shim_real;
    shim_vfs.zName = "shim";
    shim_vfs.pNext = NULL;
    shim_vfs.szOsFile = (int)sizeof(struct shim_file) + shim_real->szOsFile;
    shim_vfs.xOpen = shim_open;
    if (sqlite3_vfs_register(&shim_vfs, 0) != SQLITE_OK) abort();
}

/* Let the n-th (from 0) call of these kinds fail; n < 0: heal. */
static __attribute__((unused)) void shim_fail(unsigned kinds, int64_t n, bool from_then, int result)
{
    pthread_mutex_lock(&shim.mutex);
    shim.kinds = kinds;
    shim.left = n;
    shim.from_then = from_then;
    shim.result = result;
    shim.fired = 0;
    pthread_mutex_unlock(&shim.mutex);
}

/* --- images -------------------------------------------------------------------------------- */

struct shim_image {
    unsigned char *bytes;
    size_t size, capacity;
};

static __attribute__((unused)) void shim_image_put(struct shim_image *image, int64_t offset,
                                                   const unsigned char *bytes, size_t length)
{
    const size_t end = (size_t)offset + length;
    if (end > image->capacity) {
        const size_t capacity = end * 2;
        image->bytes = realloc(image->bytes, capacity);
        if (image->bytes == NULL) abort();
        memset(image->bytes + image->capacity, 0, capacity - image->capacity);
        image->capacity = capacity;
    }
    memcpy(image->bytes + offset, bytes, length);
    if (end > image->size) image->size = end;
}

static __attribute__((unused)) void shim_image_apply(struct shim_image *image,
                                                     const struct shim_entry *entry, bool whole,
                                                     unsigned *chance)
{
    if (entry->op == SHIM_OP_TRUNCATE && (whole || rand_r(chance) % 2 == 0)) {
        if ((size_t)entry->offset < image->size) {
            memset(image->bytes + entry->offset, 0, image->size - (size_t)entry->offset);
            image->size = (size_t)entry->offset;
        }
    }
    if (entry->op != SHIM_OP_WRITE) return;
    const unsigned kind = whole ? 0 : (unsigned)rand_r(chance) % 3;
    if (kind == 1) return; /* the whole write is lost */
    for (size_t at = 0; at < entry->length;) {
        size_t length = SHIM_SECTOR - (size_t)(entry->offset + (int64_t)at) % SHIM_SECTOR;
        if (length > entry->length - at) length = entry->length - at;
        if (kind == 0 || rand_r(chance) % 2 == 0) {
            shim_image_put(image, entry->offset + (int64_t)at, entry->bytes + at, length);
        }
        at += length;
    }
}

/*
 * The two files as a power cut after `until` entries of the log leaves them.
 *
 * lying: syncs are not believed. Returns the acknowledgements given before the cut.
 */
static __attribute__((unused)) size_t shim_cut(struct shim_image images[2], size_t until,
                                               bool lying, unsigned *chance)
{
    size_t synced[2] = {0, 0};
    size_t acknowledged = 0;
    for (size_t i = 0; i < until; i++) {
        if (shim.log[i].op == SHIM_OP_ACKNOWLEDGED) acknowledged++;
        if (shim.log[i].op == SHIM_OP_SYNC && !lying) synced[shim.log[i].file] = i;
    }
    for (size_t i = 0; i < until; i++) {
        const struct shim_entry *entry = &shim.log[i];
        if (entry->op == SHIM_OP_ACKNOWLEDGED || entry->op == SHIM_OP_SYNC) continue;
        shim_image_apply(&images[entry->file], entry, i < synced[entry->file], chance);
    }
    return acknowledged;
}

static __attribute__((unused)) void shim_forget(void)
{
    for (size_t i = 0; i < shim.count; i++) free(shim.log[i].bytes);
    free(shim.log);
    shim.log = NULL;
    shim.count = shim.capacity = 0;
}
