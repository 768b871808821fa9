/* SPDX-License-Identifier: MIT */
/*
 * What the program says of itself: one line per event on stderr, `level message key=value ...`.
 *
 *     info listening address=127.0.0.1 port=8080
 *     warning "record refused" job=hollow-pine found="-70 degF"
 *
 * Every value is quoted where it has to be and escaped byte by byte, so that nothing from outside
 * can end a line or forge another. A line leaves in one write and so never mixes with another
 * thread's. There is no time in it: what keeps the lines (the journal) stamps them. Secrets are
 * never passed here.
 *
 *     log_info("listening", LOG_WITH(log_text("address", host), log_number("port", port)));
 *     log_info("stopped", NULL);
 */
#ifndef EMBERWAIT_BASE_LOG_H
#define EMBERWAIT_BASE_LOG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Weight of an event; the setting lets through this level and the heavier ones. */
enum log_level { LOG_ERROR, LOG_WARNING, LOG_INFO, LOG_DEBUG, LOG_LEVEL_COUNT };

enum {
    LOG_LINE_MAX = 2048, /**< bytes of a line with its newline; a longer one ends in ` cut=true` */
    LOG_VALUE_MAX = 400, /**< bytes taken of one value; four times as many fit a line */
};

/** One `key=value`. Make it with log_text, log_bytes or log_number; a NULL key ends a list. */
struct log_field {
    const char *key;  /**< ours: `[a-z0-9_.-]` */
    const char *text; /**< borrow; NULL for a number */
    size_t length;
    int64_t number;
};

/** A list of fields for log_write. */
#define LOG_WITH(...) ((const struct log_field[]){__VA_ARGS__, {0}})

/** Field of a NUL-ended string; NULL is written as `-`. */
struct log_field log_text(const char *key, const char *z);
/** Field of `length` bytes. */
struct log_field log_bytes(const char *key, const char *bytes, size_t length);
/** Field of a whole number. */
struct log_field log_number(const char *key, int64_t number);

/**
 * Write one event, if its level is let through.
 *
 * @param[in] level    Weight.
 * @param[in] message  Plain words of ours; escaped all the same.
 * @param[in] fields   Ended by a NULL key (LOG_WITH); NULL for none.
 */
void log_write(enum log_level level, const char *message, const struct log_field *fields);
/** log_write at LOG_ERROR. */
void log_error(const char *message, const struct log_field *fields);
/** log_write at LOG_WARNING. */
void log_warning(const char *message, const struct log_field *fields);
/** log_write at LOG_INFO. */
void log_info(const char *message, const struct log_field *fields);
/** log_write at LOG_DEBUG. */
void log_debug(const char *message, const struct log_field *fields);

/** Let through `level` and heavier; LOG_INFO at the start. Safe from any thread. */
void log_level_set(enum log_level level);
/** Whether a level is let through, to spare the work of making fields. */
bool log_wants(enum log_level level);
/** Level of a name: `error`, `warning`, `info`, `debug`. False for any other. */
bool log_level_parse(enum log_level *out, const char *name);

/**
 * Write the line of an event into a buffer; what log_write sends. For tests and other sinks.
 *
 * @param[out] out  Ended by a newline and NUL.
 * @return bytes without the NUL.
 */
size_t log_format(char out[LOG_LINE_MAX + 1], enum log_level level, const char *message,
                  const struct log_field *fields);

#endif
