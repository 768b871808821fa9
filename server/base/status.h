/* SPDX-License-Identifier: MIT */
/*
 * Status codes, faults and the two kinds of assertion.
 *
 * Three kinds of error never mix. A bug of ours aborts (REQUIRE, ENSURE), in release builds too.
 * A fault of the world travels as an enum status with a struct fault that says where, what was
 * found and what was wanted. A doubtful number is a positive, function-specific status that goes on
 * to the user as a caution. Exit statuses and HTTP statuses are derived from enum status in one
 * table (status.c), so that the command line and the server can never disagree.
 */
#ifndef EMBERWAIT_BASE_STATUS_H
#define EMBERWAIT_BASE_STATUS_H

#include <stdbool.h>
#include <stddef.h>

#define MUST_USE __attribute__((warn_unused_result))
#define PRINTF_LIKE(f, a) __attribute__((format(printf, f, a)))

/** What came of an operation on data from outside. The set is closed. */
enum status {
    STATUS_OK = 0,
    STATUS_INVALID,   /**< the input is wrong; the fault says where */
    STATUS_NOT_FOUND, /**< nothing of that name */
    STATUS_CONFLICT,  /**< contradicts what is on record */
    STATUS_DENIED,    /**< not allowed */
    STATUS_LIMIT,     /**< over a ceiling of base/limits.h */
    STATUS_BUSY,      /**< try again later */
    STATUS_CORRUPT,   /**< stored data fails its own check */
    STATUS_IO,        /**< the machine refused */
    STATUS_COUNT
};

enum {
    FAULT_PATH_MAX = 256, /**< bytes of a JSON path, NUL included */
    FAULT_TEXT_MAX = 768, /**< bytes of found / wanted, NUL included: holds the list of all tasks */
};

/** One fault: where it is, what was found, what was wanted. Plain text, UTF-8. */
struct fault {
    char path[FAULT_PATH_MAX];
    char found[FAULT_TEXT_MAX];
    char wanted[FAULT_TEXT_MAX];
};

/** Every fault of one input, in the order met. The caller owns it (faults_free). */
struct faults {
    struct fault *items;
    size_t count;
    size_t capacity;
    size_t dropped; /**< faults past FAULTS_MAX, counted only */
};

/**
 * Append one fault. `path` is literal; found and wanted are printf-like.
 *
 * @param[in,out] faults  List; NULL is allowed and ignores the fault.
 * @param[in]     path    Where, e.g. `jobs[0].records[3].degf`.
 * @param[in]     wanted  What was wanted, plain text.
 * @param[in]     found_format  printf format of what was found, then its arguments.
 * @return always STATUS_INVALID, so that a parser can `return faults_add(...)`.
 */
enum status faults_add(struct faults *faults, const char *path, const char *wanted,
                       const char *found_format, ...) PRINTF_LIKE(4, 5);

/** Free what a fault list owns; the list itself is the caller's and may be used again. */
void faults_free(struct faults *faults);

/**
 * Fill one fault.
 *
 * @param[out] fault  Target; NULL is allowed.
 * @param[in]  path   Where.
 * @param[in]  wanted What was wanted.
 * @param[in]  found_format printf format of what was found.
 */
void fault_set(struct fault *fault, const char *path, const char *wanted, const char *found_format,
               ...) PRINTF_LIKE(4, 5);

/** Exit status (sysexits.h) of a status. */
int status_exit(enum status status);
/** HTTP status of a status. */
int status_http(enum status status);
/** Short kebab-case name of a status, for problem documents and logs. */
const char *status_name(enum status status);

/** Log `file:line: what failed` to stderr and abort. Never returns. */
void status_abort(const char *file, int line, const char *what) __attribute__((noreturn));

/** The caller broke the contract: a bug of ours. */
#define REQUIRE(x)                                                                                 \
    do {                                                                                           \
        if (!(x)) status_abort(__FILE__, __LINE__, "required: " #x);                               \
    } while (0)
/** We broke our own promise: a bug of ours. */
#define ENSURE(x)                                                                                  \
    do {                                                                                           \
        if (!(x)) status_abort(__FILE__, __LINE__, "ensured: " #x);                                \
    } while (0)

#endif
