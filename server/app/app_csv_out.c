/* SPDX-License-Identifier: MIT */
/* Why: see app_csv.h. Columns are found in a first pass: the common ones in a fixed order, then
 * whatever else some row has, by name. */
#include <stdlib.h>
#include <string.h>

#include "app/app_csv.h"
#include "app/app_internal.h"
#include "app/app_job.h"
#include "app/app_record.h"

#include "base/banned.h"

enum { COLUMNS_MAX = 256, COLUMN_BYTES_MAX = 96 };

struct columns {
    char names[COLUMNS_MAX][COLUMN_BYTES_MAX];
    size_t fixed; /**< the first ones keep their order */
    size_t count;
};

static void add_column(struct columns *columns, const char *prefix, const char *name)
{
    char whole[COLUMN_BYTES_MAX];
    if (strlen(prefix) + strlen(name) >= sizeof whole || columns->count == COLUMNS_MAX) return;
    whole[0] = '\0';
    memcpy(whole, prefix, strlen(prefix));
    memcpy(whole + strlen(prefix), name, strlen(name) + 1);
    for (size_t i = 0; i < columns->count; i++)
        if (strcmp(columns->names[i], whole) == 0) return;
    memcpy(columns->names[columns->count++], whole, sizeof whole);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

/* A cell of RFC 4180; a formula's first sign is made harmless. */
static void put_text(struct text *out, const char *text)
{
    const bool formula = text[0] != '\0' && strchr("=+-@\t\r'", text[0]) != NULL;
    const bool quoted = strpbrk(text, ",\"\r\n") != NULL;
    if (quoted) text_add_byte(out, '"');
    if (formula) text_add_byte(out, '\'');
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"') text_add_byte(out, '"');
        text_add_byte(out, *c);
    }
    if (quoted) text_add_byte(out, '"');
}

static void put_value(struct text *out, const char *column, const json_t *value)
{
    /* A withdrawal says null, and that is not the same as saying nothing. */
    if (json_is_null(value) && strcmp(column, "with") == 0) text_add_z(out, "null");
    if (value == NULL || json_is_null(value)) return;
    if (json_is_string(value)) {
        put_text(out, json_string_value(value));
    } else if (json_is_number(value)) {
        app_number(out, json_number_value(value));
    } else if (json_is_boolean(value)) {
        text_add_z(out, json_is_true(value) ? "yes" : "no");
    } else {
        struct text whole = TEXT_UP_TO(1 << 20);
        app_canonical(&whole, value, NULL);
        if (whole.failed) out->failed = true;
        put_text(out, text_z(&whole));
        text_free(&whole);
    }
}

/* The member a column names: `town.name` in options.town, a plain name in the row, its options or
 * its quantities. */
static const json_t *member_of(const json_t *row, const char *column)
{
    const json_t *options = json_object_get(row, "options");
    if (strncmp(column, "town.", 5) == 0)
        return json_object_get(json_object_get(options, "town"), column + 5);
    const json_t *found = json_object_get(row, column);
    if (found == NULL) found = json_object_get(options, column);
    if (found == NULL) found = json_object_get(json_object_get(row, "quantities"), column);
    return found;
}

static void gather(struct columns *columns, const char *prefix, const json_t *object)
{
    const char *name;
    json_t *value;
    json_object_foreach((json_t *)(uintptr_t)object, name, value)
    {
        if (strcmp(prefix, "") == 0 &&
            (strcmp(name, "options") == 0 || strcmp(name, "quantities") == 0)) {
            gather(columns, "", value);
        } else if (strcmp(name, "town") == 0 && json_is_object(value)) {
            gather(columns, "town.", value);
        } else {
            add_column(columns, prefix, name);
        }
    }
}

static void put_row(struct text *out, const struct columns *columns, const json_t *row,
                    const char *job_id)
{
    for (size_t i = 0; i < columns->count; i++) {
        if (i > 0) text_add_byte(out, ',');
        if (job_id != NULL && i == 0)
            put_text(out, job_id);
        else
            put_value(out, columns->names[i], member_of(row, columns->names[i]));
    }
    text_add_z(out, "\r\n");
}

static void put_head(struct text *out, struct columns *columns)
{
    qsort(columns->names[columns->fixed], columns->count - columns->fixed, sizeof *columns->names,
          by_name);
    for (size_t i = 0; i < columns->count; i++) {
        if (i > 0) text_add_byte(out, ',');
        put_text(out, columns->names[i]);
    }
    text_add_z(out, "\r\n");
}

/* --- jobs and records ---------------------------------------------------------------------- */

static enum status load(json_t **out, struct text *text, enum status read, struct faults *faults)
{
    enum status status = read;
    if (status == STATUS_OK) status = app_text_status(text, faults);
    if (status == STATUS_OK) status = app_parse_stored(out, text->data, text->length, faults);
    text_free(text);
    return status;
}

static enum status job_list(json_t **out, struct app *app, struct faults *faults)
{
    struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    return load(out, &text, app_jobs_list(&text, app, faults), faults);
}

static enum status record_list(json_t **out, struct app *app, const char *job_id,
                               struct faults *faults)
{
    struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    return load(out, &text, app_records_list(&text, NULL, app, job_id, faults), faults);
}

static void put_jobs(struct text *out, struct columns *columns, const json_t *jobs)
{
    size_t index;
    json_t *row;
    json_array_foreach((json_t *)(uintptr_t)jobs, index, row)
    {
        gather(columns, "", json_object_get(row, "job"));
    }
    put_head(out, columns);
    json_array_foreach((json_t *)(uintptr_t)jobs, index, row)
    {
        put_row(out, columns, json_object_get(row, "job"), NULL);
    }
}

static enum status put_records(struct text *out, struct columns *columns, struct app *app,
                               const json_t *jobs, struct faults *faults)
{
    enum status status = STATUS_OK;
    for (int pass = 0; status == STATUS_OK && pass < 2; pass++) {
        if (pass == 1) put_head(out, columns);
        for (size_t i = 0; status == STATUS_OK && i < json_array_size(jobs); i++) {
            const char *job_id = json_string_value(
                json_object_get(json_object_get(json_array_get(jobs, i), "job"), "id"));
            json_t *records = NULL;
            status = record_list(&records, app, job_id, faults);
            size_t index;
            json_t *row;
            json_array_foreach(json_object_get(records, "records"), index, row)
            {
                if (pass == 0)
                    gather(columns, "", row);
                else
                    put_row(out, columns, row, job_id);
            }
            json_decref(records);
        }
    }
    return status;
}

enum status app_csv_export(struct text *out, struct app *app, enum app_csv_what what,
                           struct faults *faults)
{
    static const char *const firsts[APP_CSV_COUNT][10] = {
        [APP_CSV_JOBS] = {"id", "name", "time_zone", "station", "crew", "base", "pad", "place"},
        [APP_CSV_RECORDS] = {"job", "id", "kind", "at", "received", "by", "who", "task", "part"}};
    struct columns *columns = calloc(1, sizeof *columns);
    if (columns == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < 10 && firsts[what][i] != NULL; i++)
        add_column(columns, "", firsts[what][i]);
    columns->fixed = columns->count;
    json_t *root = NULL;
    enum status status = job_list(&root, app, faults);
    const json_t *jobs = json_object_get(root, "jobs");
    if (status == STATUS_OK && what == APP_CSV_JOBS) put_jobs(out, columns, jobs);
    if (status == STATUS_OK && what == APP_CSV_RECORDS)
        status = put_records(out, columns, app, jobs, faults);
    json_decref(root);
    free(columns);
    return status == STATUS_OK ? app_text_status(out, faults) : status;
}
