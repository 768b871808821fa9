/* SPDX-License-Identifier: MIT */
/*
 * The store: one SQLite file. One connection on one thread does all writing and checkpointing;
 * every write call queues its work there and waits until the group it fell into is committed and
 * fsynced. So sixteen writers share one fsync, and none is told "stored" before it is. Readers run
 * on their own read-only connections in the caller's thread. A lock file keeps a second writing
 * process out.
 *
 * Nothing here knows JSON: bodies are bytes whose shape the app layer answers for. SQL is written
 * down once, in store_stmt.h; nobody builds it from strings.
 *
 * Refused: a connection per writer (two writers or checkpointers at once meet a known fault of the
 * packaged SQLite), memory-mapped files (an I/O error would be a signal), synchronous=NORMAL (loses
 * acknowledged writes at a power cut).
 */
#ifndef EMBERWAIT_STORE_STORE_H
#define EMBERWAIT_STORE_STORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/status.h"

struct store;
/** A transaction: handed to work functions, used by the store_<noun> functions. */
struct store_txn;

struct store_options {
    const char *path;       /**< database file */
    const char *migrations; /**< directory of NNNN-name.sql */
    const char *vfs;        /**< SQLite VFS by name; NULL: the default */
    int64_t now_s;          /**< noted beside applied migrations */
    bool create;            /**< make the file when there is none */
    bool read_only;         /**< no writer, no lock */
    bool unchecked;         /**< with read_only: open whatever the migrations say (verify) */
    bool sync_normal;       /**< only for the control of the power-loss test */
};

/**
 * Open a store, apply its migrations, start its writer.
 *
 * @param[out] out      Own; store_close.
 * @param[in]  options  Borrowed.
 * @param[out] fault    What is wrong.
 * Status: OK; NOT_FOUND (no file, or no migrations); BUSY (another process writes); CONFLICT (an
 *         applied migration was changed or is missing); CORRUPT; LIMIT (no memory); IO.
 */
MUST_USE enum status store_open(struct store **out, const struct store_options *options,
                                struct fault *fault);

/** Finish what is queued and close. No call may be under way. NULL is allowed. */
void store_close(struct store *store);

/**
 * Work inside a transaction. It may be run more than once (when a group it shared fails, each
 * member is tried again alone), so it must set its results anew each time. It answers OK to keep
 * what was done, anything else (with the fault) to take it back.
 */
struct store_work {
    enum status (*run)(struct store_txn *txn, void *context, struct fault *fault);
    void *context;
    bool
        outside; /**< store_write only: on the writing connection, but in no transaction (a copy) */
};

/**
 * Run work on the writing connection; back when it is committed and on disk, or not stored at all.
 *
 * Status: that of the work; IO, BUSY or CORRUPT when the commit failed.
 */
MUST_USE enum status store_write(struct store *store, struct store_work work, struct fault *fault);

/**
 * The same for work that writes many bytes: what shares a transaction stays under a ceiling, so
 * that a small write never waits for a row of photos. It is aside, too.
 *
 * @param[in] bytes  About how many; above 0.
 */
MUST_USE enum status store_write_large(struct store *store, struct store_work work, size_t bytes,
                                       struct fault *fault);

/**
 * The same for what no view holds: feeds, alarms, messages. It does not count in store_commits, so
 * that nothing is parsed and planned again for it.
 */
MUST_USE enum status store_write_aside(struct store *store, struct store_work work,
                                       struct fault *fault);

/** Run work in a read transaction (one unchanging picture) on a reading connection. */
MUST_USE enum status store_read(struct store *store, struct store_work work, struct fault *fault);

/**
 * Whether the writing connection can write just now: one page, the same as before, committed and
 * fsynced. For store_work, in a transaction.
 */
MUST_USE enum status store_beat(struct store_txn *txn, struct fault *fault);

/** Counters; they only grow. */
struct store_figures {
    uint64_t commits;       /**< groups committed */
    uint64_t writes;        /**< write calls that were stored */
    uint64_t failed_writes; /**< write calls the machine refused (IO, BUSY, CORRUPT) */
};
void store_figures(struct store *store, struct store_figures *out);

/** Groups committed so far, those that were all aside left out; the same number means that nothing
 * a view holds was stored in between. */
uint64_t store_commits(struct store *store);

bool store_read_only(const struct store *store);

enum { STORE_HASH_BYTES = 32 };

/** BLAKE2b-256 of up to three pieces, one after the other; a NULL piece of length 0 is skipped. */
void store_hash(unsigned char out[STORE_HASH_BYTES], const void *a, size_t a_length, const void *b,
                size_t b_length, const void *c, size_t c_length);

#endif
