/* SPDX-License-Identifier: MIT */
/* Why: see cmd_export.h. */
#include "cli/cmd_export.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "app/app_case.h"
#include "base/limits.h"
#include "cli/db_words.h"

#include "base/banned.h"

static int print(const struct text *text)
{
    if (fwrite(text->data, 1, text->length, stdout) == text->length && fflush(stdout) == 0) {
        return EX_OK;
    }
    (void)fprintf(stderr, "stdout: %s\n", strerror(errno));
    return EX_IOERR;
}

int cmd_export(int argc, char **argv)
{
    struct db_words words;
    if (!db_words_read(&words, argc, argv) || words.file != NULL) {
        (void)fputs("usage: emberwait export --db STORE\n", stderr);
        return EX_USAGE;
    }
    const int64_t now_s = db_words_now();
    const struct app_options options = {.path = words.db, .read_only = true, .now_s = now_s};
    struct faults faults = {0};
    struct app *app = NULL;
    struct text text = TEXT_UP_TO(CASE_BYTES_MAX);
    enum status status = app_open(&app, &options, &faults);
    if (status == STATUS_OK) status = app_export(&text, app, now_s, &faults);
    db_words_faults(&faults);
    const int answer = status == STATUS_OK ? print(&text) : status_exit(status);
    app_close(app);
    text_free(&text);
    faults_free(&faults);
    return answer;
}

static enum status import(const struct db_words *words, const struct text *text,
                          struct app_imported *counts, struct faults *faults)
{
    const int64_t now_s = db_words_now();
    const struct app_options options = {.path = words->db, .create = words->create, .now_s = now_s};
    struct app *app = NULL;
    enum status status = app_open(&app, &options, faults);
    if (status == STATUS_OK) {
        status = app_import(counts, app, text_z(text), text->length, NULL, now_s, faults);
    }
    app_close(app);
    return status;
}

int cmd_import(int argc, char **argv)
{
    struct db_words words;
    if (!db_words_read(&words, argc, argv) || words.file == NULL) {
        (void)fputs("usage: emberwait import --db STORE [--create] FILE (- for stdin)\n", stderr);
        return EX_USAGE;
    }
    struct text text = TEXT_UP_TO(CASE_BYTES_MAX);
    struct faults faults = {0};
    struct app_imported counts = {0};
    enum status status = db_words_slurp(&text, words.file);
    if (status == STATUS_OK) status = import(&words, &text, &counts, &faults);
    db_words_faults(&faults);
    faults_free(&faults);
    text_free(&text);
    if (status != STATUS_OK) return status_exit(status);
    (void)printf("%zu new jobs, %zu known; %zu new records, %zu known; %zu stations\n", counts.jobs,
                 counts.jobs_known, counts.records, counts.records_known, counts.stations);
    return EX_OK;
}
