/* SPDX-License-Identifier: MIT */
/*
 * Jobs and records as CSV (RFC 4180), both ways, for an owner's spreadsheet. Going in, a row
 * becomes what the same JSON would: nothing is guessed, every fault names its line and column, and
 * it is all or nothing. A dry run does all of it and keeps none. What is on record is never
 * overwritten from a spreadsheet: a job that is there gains records, and a cell that contradicts it
 * is a fault.
 */
#ifndef EMBERWAIT_APP_APP_CSV_H
#define EMBERWAIT_APP_APP_CSV_H

#include "app/app_case.h"
#include "base/arena.h"

enum app_csv_what { APP_CSV_JOBS, APP_CSV_RECORDS, APP_CSV_COUNT };

/** "jobs" or "records". */
const char *app_csv_name(enum app_csv_what what);
/** The kind of a name; false for any other. */
bool app_csv_parse(enum app_csv_what *out, const char *name);

/** What a row becomes. */
struct app_csv_row {
    size_t line;        /**< of the file, from 1 */
    const char *job_id; /**< in the arena */
    bool new_job;
    size_t cells;   /**< cells that say something about the job itself */
    size_t records; /**< records it makes */
};

/**
 * Take a CSV file in.
 *
 * Jobs: a row a job; columns are the members of a job, its options, its town (`town.name`) and its
 * quantities by their own names, and `done.TASK` / `passed.TASK`: a date (then the end of that day,
 * or now if that is earlier: a wait never opens early by it), a date and time by the job's clock,
 * or RFC 3339. Records: a row a record; `job` beside the members of a record. An empty cell says
 * nothing.
 *
 * @param[out] out    Counts; what they would be in a dry run.
 * @param[out] rows   In `arena`, shape [*row_count].
 * @param[in]  bytes  Shape [length].
 * @param[in]  dry    Keep nothing.
 * Status: OK, INVALID (path `line N COLUMN`), CONFLICT, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_csv_import(struct app_imported *out, const struct app_csv_row **rows,
                                    size_t *row_count, struct app *app, enum app_csv_what what,
                                    const char *bytes, size_t length, bool dry, const char *who,
                                    int64_t now_s, struct arena *arena, struct faults *faults);

/**
 * Everything that is on record, one row each, lines ending in CRLF.
 *
 * A text that a spreadsheet would take for a formula has an apostrophe before it; app_csv_import
 * takes it off again. Lists and objects stand as JSON.
 *
 * Status: OK, LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_csv_export(struct text *out, struct app *app, enum app_csv_what what,
                                    struct faults *faults);

#endif
