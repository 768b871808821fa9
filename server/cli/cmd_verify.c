/* SPDX-License-Identifier: MIT */
/* Why: see cmd_verify.h. */
#include "cli/cmd_verify.h"

#include <stdio.h>
#include <sysexits.h>

#include "app/app_keep.h"
#include "cli/db_words.h"

#include "base/banned.h"

int cmd_verify(int argc, char **argv)
{
    struct db_words words;
    if (!db_words_read(&words, argc, argv) || words.file != NULL) {
        (void)fputs("usage: emberwait verify --db FILE\n", stderr);
        return EX_USAGE;
    }
    struct faults faults = {0};
    struct app_verified counts = {0};
    const enum status status = app_verify(&counts, words.db, NULL, &faults);
    db_words_faults(&faults);
    faults_free(&faults);
    if (status == STATUS_OK) {
        (void)printf("%s is whole: %zu migrations, %zu jobs, %zu records, %zu stations, %zu %s\n",
                     words.db, counts.migrations, counts.jobs, counts.records, counts.stations,
                     counts.photos, counts.photos == 1 ? "photo" : "photos");
    }
    return status == STATUS_CORRUPT || status == STATUS_CONFLICT ? EX_DATAERR : status_exit(status);
}
