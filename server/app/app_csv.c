/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_csv.h. The rows become one case file, which goes through the same door as any other
 * (app_case.h); the faults it finds are told by line. So a spreadsheet can say nothing that JSON
 * could not, and there is one set of rules.
 */
#include "app/app_csv.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_company.h"
#include "app/app_csv_cells.h"
#include "app/app_internal.h"
#include "app/app_job.h"
#include "app/app_record.h"
#include "base/instant.h"
#include "base/limits.h"
#include "intake/record_members.h"
#include "weather/input.h"

#include "base/banned.h"

enum { ROWS_MAX = 20000, COLUMN_MAX = 96 };

static const char *const what_names[APP_CSV_COUNT] = {"jobs", "records"};

const char *app_csv_name(enum app_csv_what what)
{
    REQUIRE(what >= 0 && what < APP_CSV_COUNT);
    return what_names[what];
}

bool app_csv_parse(enum app_csv_what *out, const char *name)
{
    for (int i = 0; i < APP_CSV_COUNT; i++) {
        if (strcmp(what_names[i], name) != 0) continue;
        *out = (enum app_csv_what)i;
        return true;
    }
    return false;
}

/* A job of the file while it is put together. */
struct coming_job {
    const char *id;
    json_t *body;    /**< with its records; owned by the case */
    size_t kept;     /**< records that were there before */
    size_t line;     /**< of its first row */
    size_t *records; /**< lines of its own records, shape [ROWS_MAX] at most */
    size_t record_count;
    size_t record_room;
};

struct reading {
    struct app *app;
    struct app_view *view;
    enum app_csv_what what;
    int64_t now_s;
    json_t *jobs;
    struct coming_job *coming;
    size_t coming_count;
    struct app_csv_row *rows;
    size_t row_count;
    size_t known; /**< records of the file that are on record */
    struct input *input;
    const char **heads; /**< names of the columns, in the arena */
    size_t head_count;
    struct arena *arena;
    struct faults *faults;
};

static enum status fault_at(const struct reading *r, const char *column, const char *wanted,
                            const char *found)
{
    char path[COLUMN_MAX + 40];
    (void)snprintf(path, sizeof path, "line %zu%s%.80s", r->input->line, column == NULL ? "" : " ",
                   column == NULL ? "" : column);
    return faults_add(r->faults, path, wanted, "\"%.80s\"", found);
}

/* --- cells --------------------------------------------------------------------------------- */

/* A cell as the JSON of its type; NULL after the fault was told. */
static json_t *value_of(const struct reading *r, const char *column, enum field_type type,
                        const char *cell)
{
    double number = 0;
    switch (type) {
    case FIELD_NUMBER:
    case FIELD_DEGF:
    case FIELD_DELTA_F:
    case FIELD_INTEGER:
        if (weather_number(&number, cell)) return json_real(number);
        (void)fault_at(r, column, "a number with a decimal point", cell);
        return NULL;
    case FIELD_BOOL:
        if (app_csv_truth(cell) >= 0) return json_boolean(app_csv_truth(cell));
        (void)fault_at(r, column, "yes or no", cell);
        return NULL;
    case FIELD_JSON: {
        json_t *parsed = json_loads(cell, JSON_DECODE_ANY | JSON_REJECT_DUPLICATES, NULL);
        if (parsed == NULL) (void)fault_at(r, column, "JSON", cell);
        return parsed;
    }
    default: {
        json_t *text = json_string(app_csv_plain(cell));
        if (text == NULL) (void)fault_at(r, column, "text in UTF-8", "other bytes");
        return text;
    }
    }
}

/* Set a member; one that is there with another value is a fault. */
static enum status set(const struct reading *r, json_t *object, const char *column,
                       const char *name, json_t *value)
{
    if (value == NULL) return STATUS_INVALID;
    const json_t *there = json_object_get(object, name);
    const bool number = json_is_number(there) && json_is_number(value);
    const bool same =
        number ? json_number_value(there) == json_number_value(value) : json_equal(there, value);
    if (there != NULL && !same) {
        json_decref(value);
        return fault_at(r, column, "what is on record of this job; change it on its page",
                        "another");
    }
    if (there != NULL) {
        json_decref(value);
        return STATUS_OK;
    }
    return json_object_set_new(object, name, value) == 0 ? STATUS_OK : app_no_memory(r->faults);
}

/* --- a row of jobs ------------------------------------------------------------------------- */

/* The object a column's member stands in, made when it is not there. */
static json_t *parent_of(json_t *job, const char *parent)
{
    if (parent == NULL) return job;
    json_t *up = strcmp(parent, "town") == 0 ? parent_of(job, "options") : job;
    json_t *found = json_object_get(up, parent);
    if (found != NULL) return found;
    found = json_object();
    if (found == NULL || json_object_set_new(up, parent, found) != 0) return NULL;
    return found;
}

static const struct zone *zone_of(const struct reading *r, const json_t *job)
{
    const char *name = json_string_value(json_object_get(job, "time_zone"));
    const struct zone *company = app_view_case(r->view)->company.zone;
    const struct zone *found = NULL;
    if (name == NULL || strcmp(name, company->name) == 0) return company;
    (void)pthread_mutex_lock(&r->app->zones_mutex);
    const enum status status = intake_zones_get(&found, r->app->zones, name, NULL);
    (void)pthread_mutex_unlock(&r->app->zones_mutex);
    return status == STATUS_OK ? found : company; /* a wrong name is a fault of its own cell */
}

/* The record of that id which is on record already; NULL when there is none. */
static const json_t *kept_record(const struct coming_job *coming, const json_t *record)
{
    const json_t *records = json_object_get(coming->body, "records");
    for (size_t i = 0; i < coming->kept; i++) {
        const json_t *one = json_array_get(records, i);
        if (json_equal(json_object_get(one, "id"), json_object_get(record, "id"))) return one;
    }
    return NULL;
}

/* Whether two say the same, whenever the office got them and whoever wrote them down. */
static bool same_record(const json_t *a, const json_t *b)
{
    static const char *const less[] = {"received", "who", NULL};
    struct text first = TEXT_UP_TO(1 << 20), second = TEXT_UP_TO(1 << 20);
    app_canonical(&first, a, less);
    app_canonical(&second, b, less);
    const bool same = !first.failed && !second.failed && first.length == second.length &&
                      memcmp(first.data, second.data, first.length) == 0;
    text_free(&first);
    text_free(&second);
    return same;
}

/* Steals the record. */
static enum status add_record(struct reading *r, struct coming_job *coming, json_t *record)
{
    json_t *records = json_object_get(coming->body, "records");
    const json_t *kept = kept_record(coming, record);
    if (kept != NULL) {
        const bool same = same_record(kept, record);
        json_decref(record);
        if (same) r->known++;
        return same ? STATUS_OK
                    : fault_at(r, "id", "a new id, or the same record as is stored under it",
                               "another");
    }
    if (coming->record_count == coming->record_room) {
        const size_t room = coming->record_room == 0 ? 16 : coming->record_room * 2;
        size_t *more = ARENA_TAKE(r->arena, room, size_t);
        if (more == NULL) return app_no_memory(r->faults);
        if (coming->record_count > 0)
            memcpy(more, coming->records, coming->record_count * sizeof *more);
        coming->records = more;
        coming->record_room = room;
    }
    coming->records[coming->record_count++] = r->input->line;
    return json_array_append_new(records, record) == 0 ? STATUS_OK : app_no_memory(r->faults);
}

static enum status add_event(struct reading *r, struct coming_job *coming, const char *column,
                             enum record_kind kind, const char *task, const char *cell)
{
    int64_t at_s = 0;
    if (!app_csv_when(&at_s, cell, zone_of(r, coming->body), r->now_s))
        return fault_at(r, column, "a date like 2026-10-24, with or without a time", cell);
    char at[INSTANT_TEXT_MAX];
    instant_format(at, at_s, zone_of(r, coming->body));
    const char *id =
        arena_print(r->arena, "csv-%s-%s-%.10s", id_of(&record_kind_ids, (int)kind), task, at);
    json_t *record = json_pack("{s:s,s:s,s:s,s:s}", "id", id, "kind",
                               id_of(&record_kind_ids, (int)kind), "task", task, "at", at);
    return record == NULL ? app_no_memory(r->faults) : add_record(r, coming, record);
}

static enum status job_cell(struct reading *r, struct coming_job *coming, struct app_csv_row *row,
                            const char *column, const char *cell)
{
    enum record_kind kind = RECORD_KIND_NONE;
    const char *task = NULL;
    if (app_csv_event(&kind, &task, column)) {
        row->records++;
        return add_event(r, coming, column, kind, task, cell);
    }
    struct app_csv_column room;
    const struct app_csv_column *known = app_csv_column(&room, column);
    if (known == NULL) return STATUS_OK; /* told with the heads */
    json_t *parent = parent_of(coming->body, known->parent);
    const char *dot = known->parent == NULL ? NULL : strchr(known->name, '.');
    if (parent == NULL) return app_no_memory(r->faults);
    row->cells++;
    return set(r, parent, column, dot == NULL ? known->name : dot + 1,
               value_of(r, column, known->type, cell));
}

/* --- jobs that are there ------------------------------------------------------------------- */

/* The stored body and records of a job; an empty one for a new job. */
static enum status stored_job(struct reading *r, json_t **out, size_t *kept, const char *id)
{
    struct text text = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    json_t *records = NULL;
    *kept = 0;
    if (app_view_job(r->view, id) == NULL) {
        *out = json_pack("{s:s,s:[]}", "id", id, "records");
        return *out == NULL ? app_no_memory(r->faults) : STATUS_OK;
    }
    enum status status = app_job_get(&text, NULL, r->app, id, r->faults);
    if (status == STATUS_OK) status = app_parse_stored(out, text.data, text.length, r->faults);
    text_clear(&text);
    if (status == STATUS_OK) status = app_records_list(&text, NULL, r->app, id, r->faults);
    if (status == STATUS_OK) status = app_parse_stored(&records, text.data, text.length, r->faults);
    text_free(&text);
    if (status != STATUS_OK) return status;
    json_t *list = json_incref(json_object_get(records, "records"));
    json_decref(records);
    *kept = json_array_size(list);
    return json_object_set_new(*out, "records", list) == 0 ? STATUS_OK : app_no_memory(r->faults);
}

static struct coming_job *coming_job(struct reading *r, const char *id)
{
    for (size_t i = 0; i < r->coming_count; i++)
        if (strcmp(r->coming[i].id, id) == 0) return &r->coming[i];
    struct coming_job *made = &r->coming[r->coming_count];
    *made = (struct coming_job){.id = arena_print(r->arena, "%s", id), .line = r->input->line};
    if (made->id == NULL) return NULL;
    if (stored_job(r, &made->body, &made->kept, id) != STATUS_OK) return NULL;
    if (json_array_append_new(r->jobs, made->body) != 0) return NULL;
    r->coming_count++;
    return made;
}

/* --- a row of records ---------------------------------------------------------------------- */

static enum status record_cell(const struct reading *r, json_t *record, enum record_kind kind,
                               const char *column, const char *cell)
{
    struct field members[RECORD_MEMBERS_MAX];
    const size_t count = record_members(kind, members);
    enum field_type type = FIELD_TEXT; /* a member it does not have is told by the reader */
    for (size_t i = 0; i < count; i++)
        if (strcmp(members[i].name, column) == 0) type = members[i].type;
    return set(r, record, column, column, value_of(r, column, type, cell));
}

static const char *cell_of(const struct reading *r, const char *column)
{
    for (size_t i = 0; i < r->head_count && i < r->input->field_count; i++)
        if (strcmp(r->heads[i], column) == 0) return app_csv_plain(r->input->fields[i]);
    return "";
}

static enum status record_row(struct reading *r, struct coming_job *coming)
{
    const int kind = id_find(&record_kind_ids, cell_of(r, "kind"));
    if (kind < 0) return fault_at(r, "kind", "a kind of record", cell_of(r, "kind"));
    json_t *record = json_object();
    enum status status = record == NULL ? app_no_memory(r->faults) : STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < r->input->field_count; i++) {
        if (r->input->fields[i][0] == '\0' || strcmp(r->heads[i], "job") == 0) continue;
        status = record_cell(r, record, (enum record_kind)kind, r->heads[i], r->input->fields[i]);
    }
    if (status == STATUS_OK) return add_record(r, coming, record);
    json_decref(record);
    return status;
}

/* --- the file ------------------------------------------------------------------------------ */

static enum status read_heads(struct reading *r)
{
    struct fault fault = {0};
    enum status status = input_row(r->input, &fault);
    if (status != STATUS_OK)
        return faults_add(r->faults, "line 1", "a row of column names", "nothing");
    r->heads = ARENA_TAKE(r->arena, r->input->field_count, const char *);
    if (r->heads == NULL) return app_no_memory(r->faults);
    r->head_count = r->input->field_count;
    bool key = false;
    for (size_t i = 0; i < r->head_count; i++) {
        char *name = arena_print(r->arena, "%s", r->input->fields[i]);
        if (name == NULL) return app_no_memory(r->faults);
        r->heads[i] = input_trim(name);
        struct app_csv_column room;
        enum record_kind kind = RECORD_KIND_NONE;
        const char *task = NULL;
        key = key || strcmp(r->heads[i], r->what == APP_CSV_JOBS ? "id" : "job") == 0;
        for (size_t k = 0; k < i; k++)
            if (strcmp(r->heads[k], r->heads[i]) == 0)
                status = fault_at(r, r->heads[i], "each column once", r->heads[i]);
        if (r->what == APP_CSV_JOBS && app_csv_column(&room, r->heads[i]) == NULL &&
            !app_csv_event(&kind, &task, r->heads[i]))
            status = fault_at(r, r->heads[i],
                              "a member of a job, an option, a quantity, done.TASK or passed.TASK",
                              r->heads[i]);
    }
    if (!key)
        status = fault_at(r, NULL,
                          r->what == APP_CSV_JOBS ? "a column id" : "a column job, the job's id",
                          "none");
    return status;
}

static enum status read_row(struct reading *r)
{
    const char *id = cell_of(r, r->what == APP_CSV_JOBS ? "id" : "job");
    if (r->input->unclosed || r->input->stray)
        return fault_at(r, NULL, "quotes that close, and quotes only around a whole cell",
                        "others");
    if (r->input->field_count > r->head_count)
        return fault_at(r, NULL, "no more cells than there are columns", "more");
    if (id[0] == '\0') return fault_at(r, r->what == APP_CSV_JOBS ? "id" : "job", "an id", "");
    if (r->row_count == ROWS_MAX) return fault_at(r, NULL, "at most 20000 rows", "more");
    struct coming_job *coming = coming_job(r, id);
    if (coming == NULL) return app_no_memory(r->faults);
    struct app_csv_row *row = &r->rows[r->row_count++];
    *row = (struct app_csv_row){
        .line = r->input->line, .job_id = coming->id, .new_job = app_view_job(r->view, id) == NULL};
    if (r->what == APP_CSV_RECORDS) {
        row->records = 1;
        return record_row(r, coming);
    }
    enum status status = STATUS_OK;
    for (size_t i = 0; i < r->input->field_count; i++) {
        if (r->input->fields[i][0] == '\0') continue;
        const enum status one = job_cell(r, coming, row, r->heads[i], r->input->fields[i]);
        if (one != STATUS_OK) status = one;
    }
    return status;
}

static enum status read_file(struct reading *r)
{
    enum status status = read_heads(r);
    while (status != STATUS_LIMIT) {
        struct fault fault = {0};
        const enum status next = input_row(r->input, &fault);
        if (next == STATUS_NOT_FOUND) break;
        if (next != STATUS_OK) return app_fault(r->faults, next, &fault);
        if (status != STATUS_OK && r->head_count == 0) return status;
        const enum status one = read_row(r);
        if (one != STATUS_OK) status = one;
    }
    return status;
}

/* --- through the door ---------------------------------------------------------------------- */

/* The lines that `jobs[N].records[M]` of a fault came from; 0: none. */
static size_t line_of(const struct reading *r, const char *path, size_t *length)
{
    char *end = NULL;
    if (strncmp(path, "jobs[", 5) != 0) return 0;
    const size_t job = strtoul(path + 5, &end, 10);
    if (*end != ']' || job >= r->coming_count) return 0;
    const struct coming_job *coming = &r->coming[job];
    *length = (size_t)(end + 1 - path);
    if (strncmp(end + 1, ".records[", 9) != 0) return coming->line;
    const size_t record = strtoul(end + 10, &end, 10);
    if (*end != ']' || record < coming->kept || record - coming->kept >= coming->record_count)
        return coming->line;
    *length = (size_t)(end + 1 - path);
    return coming->records[record - coming->kept];
}

static void tell_by_line(const struct reading *r, const struct faults *found)
{
    for (size_t i = 0; i < found->count; i++) {
        const struct fault *fault = &found->items[i];
        char path[FAULT_TEXT_MAX + 40];
        size_t length = 0;
        const size_t line = line_of(r, fault->path, &length);
        const char *rest = fault->path + length;
        if (line == 0)
            (void)snprintf(path, sizeof path, "%s", fault->path);
        else
            (void)snprintf(path, sizeof path, "line %zu%s%s", line, *rest == '\0' ? "" : " ",
                           *rest == '.' ? rest + 1 : rest);
        (void)faults_add(r->faults, path, fault->wanted, "%s", fault->found);
    }
}

/* Stations the rows name, as they are: the reader has to find them. */
static json_t *stations_of(const struct reading *r)
{
    json_t *out = json_object();
    for (size_t i = 0; out != NULL && i < r->coming_count; i++) {
        const char *id = json_string_value(json_object_get(r->coming[i].body, "station"));
        if (id == NULL || app_view_station(r->view, id) == NULL) continue;
        if (json_object_set_new(out, id, json_object()) != 0) return NULL;
    }
    return out;
}

static enum status take_in(struct app_imported *out, struct reading *r, bool dry, const char *who)
{
    struct text body = TEXT_UP_TO(APP_BODY_BYTES_MAX);
    struct faults found = {0};
    json_t *company = NULL;
    char now[INSTANT_TEXT_MAX];
    enum status status = app_company_get(&body, NULL, r->app, r->faults);
    if (status == STATUS_OK) status = app_parse_stored(&company, body.data, body.length, r->faults);
    instant_format(now, r->now_s, NULL);
    json_t *root = status != STATUS_OK
                       ? NULL
                       : json_pack("{s:i,s:s,s:o,s:o,s:O}", "emberwait", 1, "now", now, "company",
                                   company, "stations", stations_of(r), "jobs", r->jobs);
    text_clear(&body);
    if (root != NULL) app_canonical(&body, root, NULL);
    if (status == STATUS_OK)
        status = root == NULL ? app_no_memory(r->faults) : app_text_status(&body, r->faults);
    if (status == STATUS_OK)
        status = dry ? app_import_dry(out, r->app, body.data, body.length, who, r->now_s, &found)
                     : app_import(out, r->app, body.data, body.length, who, r->now_s, &found);
    if (status == STATUS_OK) { /* what was stored before is not of this file */
        for (size_t i = 0; i < r->coming_count; i++) out->records_known -= r->coming[i].kept;
        out->records_known += r->known;
    }
    tell_by_line(r, &found);
    faults_free(&found);
    json_decref(root);
    text_free(&body);
    return status;
}

struct memory {
    const char *bytes;
    size_t length;
};

static long read_memory(void *context, char *out, size_t capacity)
{
    struct memory *memory = context;
    const size_t take = memory->length < capacity ? memory->length : capacity;
    if (take > 0) memcpy(out, memory->bytes, take);
    memory->bytes += take;
    memory->length -= take;
    return (long)take;
}

enum status app_csv_import(struct app_imported *out, const struct app_csv_row **rows,
                           size_t *row_count, struct app *app, enum app_csv_what what,
                           const char *bytes, size_t length, bool dry, const char *who,
                           int64_t now_s, struct arena *arena, struct faults *faults)
{
    struct memory memory = {bytes, length};
    const struct weather_source source = {"line", read_memory, &memory};
    struct fault fault = {0};
    struct reading r = {.app = app, .what = what, .now_s = now_s, .arena = arena, .faults = faults};
    *out = (struct app_imported){0};
    *row_count = 0;
    r.input = ARENA_TAKE(arena, 1, struct input);
    r.rows = ARENA_TAKE(arena, ROWS_MAX, struct app_csv_row);
    r.coming = ARENA_TAKE(arena, ROWS_MAX, struct coming_job);
    if (r.input == NULL || r.rows == NULL || r.coming == NULL) return app_no_memory(faults);
    enum status status = app_view_take(&r.view, app, faults);
    if (status != STATUS_OK) return status;
    r.jobs = json_array();
    status = input_open(r.input, &source, &fault);
    if (status == STATUS_OK) status = read_file(&r);
    if (status == STATUS_OK) status = take_in(out, &r, dry, who);
    json_decref(r.jobs);
    app_view_release(r.view);
    *rows = r.rows;
    *row_count = r.row_count;
    return status;
}
