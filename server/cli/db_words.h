/* SPDX-License-Identifier: MIT */
/* What the commands that work on a store share: their words, their faults, whole files. */
#ifndef EMBERWAIT_CLI_DB_WORDS_H
#define EMBERWAIT_CLI_DB_WORDS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/status.h"
#include "base/text.h"

/** What was said on the command line. */
struct db_words {
    const char *db;   /**< --db FILE, else the environment's EMBERWAIT_DB; NULL: not said */
    const char *file; /**< the one word that is not an option; NULL: none */
    bool force;       /**< --force */
    bool create;      /**< --create */
    const char *csv;  /**< --csv jobs|records; NULL: not said */
    bool dry_run;     /**< --dry-run */
};

/**
 * Read `[--db FILE] [--force] [--create] [--csv WHAT] [--dry-run] [WORD]`; `--` ends the options.
 *
 * @return false, with a line on stderr, for anything else or when no store is named.
 */
bool db_words_read(struct db_words *out, int argc, char **argv);

/** One line per fault on stderr: `PATH: found X, wanted Y`. */
void db_words_faults(const struct faults *faults);

/**
 * A whole file, or stdin for `-`; at most the text's limit.
 *
 * Status: OK, NOT_FOUND, LIMIT, IO; anything but OK has said so on stderr.
 */
MUST_USE enum status db_words_slurp(struct text *out, const char *path);

/** The wall clock, seconds since 1970 UTC. */
int64_t db_words_now(void);

#endif
