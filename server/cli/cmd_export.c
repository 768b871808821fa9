/* SPDX-License-Identifier: MIT */
/* Why: see cmd_export.h. Without a folder everything but the photos goes to stdout, as one file. */
#include "cli/cmd_export.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "app/app_case.h"
#include "app/app_csv.h"
#include "base/limits.h"
#include "cli/db_words.h"
#include "cli/export_folder.h"

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
    enum app_csv_what what = APP_CSV_JOBS;
    if (!db_words_read(&words, argc, argv) || (words.file != NULL && words.csv != NULL) ||
        (words.csv != NULL && !app_csv_parse(&what, words.csv))) {
        (void)fputs("usage: emberwait export --db STORE [FOLDER | --csv jobs|records]\n", stderr);
        return EX_USAGE;
    }
    const int64_t now_s = db_words_now();
    const struct app_options options = {.path = words.db, .read_only = true, .now_s = now_s};
    struct faults faults = {0};
    struct app *app = NULL;
    struct text text = TEXT_UP_TO(CASE_BYTES_MAX);
    enum status status = app_open(&app, &options, &faults);
    if (status == STATUS_OK)
        status = words.csv != NULL ? app_csv_export(&text, app, what, &faults)
                                   : app_export(&text, app, now_s, &faults);
    if (status == STATUS_OK && words.file != NULL)
        status = export_folder_write(words.file, app, &text, &faults);
    db_words_faults(&faults);
    const int answer =
        status == STATUS_OK && words.file == NULL ? print(&text) : status_exit(status);
    app_close(app);
    text_free(&text);
    faults_free(&faults);
    return answer;
}

/* One line a row: what it becomes. */
static void print_rows(const struct app_csv_row *rows, size_t count, bool dry)
{
    for (size_t i = 0; i < count; i++)
        (void)printf("line %zu: %s%s job %s, %zu cells, %zu records\n", rows[i].line,
                     dry ? "would be " : "", rows[i].new_job ? "new" : "known", rows[i].job_id,
                     rows[i].cells, rows[i].records);
}

static enum status import_csv(const struct db_words *words, const struct text *text,
                              enum app_csv_what what, struct app *app, struct app_imported *counts,
                              struct faults *faults)
{
    const struct app_csv_row *rows = NULL;
    size_t count = 0;
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    const enum status status =
        app_csv_import(counts, &rows, &count, app, what, text_z(text), text->length, words->dry_run,
                       NULL, db_words_now(), arena, faults);
    if (status == STATUS_OK) print_rows(rows, count, words->dry_run);
    arena_free(arena);
    return status;
}

static enum status import(const struct db_words *words, const struct text *text,
                          enum app_csv_what what, struct app_imported *counts,
                          struct app_photos_imported *photos, struct faults *faults)
{
    const int64_t now_s = db_words_now();
    const struct app_options options = {.path = words->db, .create = words->create, .now_s = now_s};
    struct app *app = NULL;
    enum status status = app_open(&app, &options, faults);
    if (status == STATUS_OK && words->csv != NULL) {
        status = import_csv(words, text, what, app, counts, faults);
    } else if (status == STATUS_OK) {
        status = (words->dry_run ? app_import_dry : app_import)(counts, app, text_z(text),
                                                                text->length, NULL, now_s, faults);
        if (status == STATUS_OK && !words->dry_run && export_folder_is(words->file))
            status = export_folder_photos(photos, app, words->file, faults);
    }
    app_close(app);
    return status;
}

int cmd_import(int argc, char **argv)
{
    struct db_words words;
    enum app_csv_what what = APP_CSV_JOBS;
    if (!db_words_read(&words, argc, argv) || words.file == NULL ||
        (words.csv != NULL && !app_csv_parse(&what, words.csv))) {
        (void)fputs(
            "usage: emberwait import --db STORE [--create] [--csv jobs|records] [--dry-run] "
            "FILE|FOLDER (- for stdin)\n",
            stderr);
        return EX_USAGE;
    }
    struct text text = TEXT_UP_TO(CASE_BYTES_MAX);
    struct faults faults = {0};
    struct app_imported counts = {0};
    struct app_photos_imported photos = {0};
    const bool folder = words.csv == NULL && export_folder_is(words.file);
    enum status status =
        folder ? export_folder_case(&text, words.file) : db_words_slurp(&text, words.file);
    if (status == STATUS_OK) status = import(&words, &text, what, &counts, &photos, &faults);
    db_words_faults(&faults);
    faults_free(&faults);
    text_free(&text);
    if (status != STATUS_OK) return status_exit(status);
    if (words.dry_run) (void)fputs("nothing is kept: ", stdout);
    (void)printf("%zu new jobs, %zu known; %zu new records, %zu known; %zu stations", counts.jobs,
                 counts.jobs_known, counts.records, counts.records_known, counts.stations);
    if (folder) (void)printf("; %zu new photos, %zu known", photos.photos, photos.photos_known);
    (void)puts("");
    return EX_OK;
}
