/* SPDX-License-Identifier: MIT */
/* Why: see cmd_backup.h. */
#include "cli/cmd_backup.h"

#include <stdio.h>
#include <sysexits.h>

#include "app/app_keep.h"
#include "cli/db_words.h"

#include "base/banned.h"

static int end(enum status status, struct faults *faults, const char *from, const char *to)
{
    db_words_faults(faults);
    faults_free(faults);
    if (status == STATUS_OK) (void)printf("%s is a checked copy of %s\n", to, from);
    return status_exit(status);
}

int cmd_backup(int argc, char **argv)
{
    struct db_words words;
    if (!db_words_read(&words, argc, argv) || words.file == NULL) {
        (void)fputs("usage: emberwait backup --db STORE FILE\n", stderr);
        return EX_USAGE;
    }
    struct faults faults = {0};
    const enum status status = app_backup(words.db, words.file, &faults);
    return end(status, &faults, words.db, words.file);
}

int cmd_restore(int argc, char **argv)
{
    struct db_words words;
    if (!db_words_read(&words, argc, argv) || words.file == NULL) {
        (void)fputs("usage: emberwait restore --db STORE [--force] FILE\n", stderr);
        return EX_USAGE;
    }
    struct faults faults = {0};
    const enum status status = app_restore(words.file, words.db, words.force, &faults);
    return end(status, &faults, words.file, words.db);
}
