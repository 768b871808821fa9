/* SPDX-License-Identifier: MIT */
/*
 * What a strict server refuses and the library lets through: a request that two readers could take
 * for two different ones. Pure: the server fills in what it was given, a test what it likes.
 *
 * The library joins a folded line to the name before it and cuts a line at a NUL, so neither can be
 * seen in what it hands out. But it tells how many bytes the head had. A head whose lines are all
 * `name: value` or `name:value` and end in CR LF has a size known to within one byte a line; any
 * other size means that bytes were there that nobody showed us.
 */
#ifndef EMBERWAIT_HTTP_HEAD_H
#define EMBERWAIT_HTTP_HEAD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "http/limits.h"

/** One header line. Borrow. */
struct head_field {
    const char *name;
    size_t name_length;
    const char *value;
    size_t value_length;
};

/** A request head. */
struct head {
    const char *method;
    const char *target; /**< path and query as they came */
    const char *version;
    size_t bytes; /**< of the head, with its last empty line */
    struct head_field fields[HTTP_HEADERS_MAX];
    size_t field_count;
    size_t field_total; /**< more than field_count: there were too many */
};

/** What was read from it. */
struct head_says {
    const char *host;     /**< NULL: none (HTTP/1.0) */
    bool chunked;         /**< the body comes in chunks, its length is not known */
    bool has_length;      /**< Content-Length was given */
    uint64_t body_length; /**< 0 when none was given */
};

/**
 * Check a head.
 *
 * @param[out] out   Filled when it is good.
 * @param[in]  head  Borrowed.
 * @param[out] http_status 400, 414, 431 or 501 when it is not.
 * @return NULL when it is good, else what is wrong with it.
 */
const char *head_check(struct head_says *out, const struct head *head, unsigned *http_status);

/** Value of a header that came once; NULL when it is absent. Borrow, ended by NUL. */
const char *head_value(const struct head *head, const char *name);
/** How many lines have this name. */
size_t head_count(const struct head *head, const char *name);

#endif
