/* SPDX-License-Identifier: MIT */
/*
 * Why: the case as a whole, and JSON text as a whole. Depth is counted before the parser runs: a
 * parser that recurses must never be handed ten thousand brackets.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "base/text.h"
#include "intake/field.h"
#include "model/job.h"

#include "base/banned.h"

/* --- text ------------------------------------------------------------------------------------ */

/* Line and column (in bytes, from 1) of an offset, as a path. */
static void line_path(char *out, size_t size, const char *bytes, size_t offset)
{
    size_t line = 1, column = 1;
    for (size_t i = 0; i < offset; i++) {
        if (bytes[i] == '\n') {
            line++;
            column = 1;
        } else {
            column++;
        }
    }
    (void)snprintf(out, size, "line %zu:%zu", line, column);
}

/* Offset of the first bracket that nests too deep, or `length`. */
static size_t too_deep(const char *bytes, size_t length)
{
    size_t depth = 0;
    bool quoted = false;
    for (size_t i = 0; i < length; i++) {
        char c = bytes[i];
        if (quoted) {
            if (c == '\\') i++;
            if (c == '"') quoted = false;
        } else if (c == '"') {
            quoted = true;
        } else if (c == '[' || c == '{') {
            if (++depth > JSON_DEPTH_MAX) return i;
        } else if ((c == ']' || c == '}') && depth > 0) {
            depth--;
        }
    }
    return length;
}

/* A parser's sentence, on one line and well-formed. */
static void clean(char *text)
{
    size_t length = strlen(text);
    for (size_t i = 0; i < length;) {
        size_t step = utf8_length(text + i, length - i);
        if (step == 0 || (unsigned char)text[i] < 0x20) text[i] = '?';
        i += step == 0 ? 1 : step;
    }
}

enum status intake_parse(json_t **out, const char *bytes, size_t length, struct faults *faults)
{
    char path[64];
    *out = NULL;
    if (length > CASE_BYTES_MAX) {
        (void)faults_add(faults, "", "at most 256 MiB", "%zu bytes", length);
        return STATUS_LIMIT;
    }
    for (size_t i = 0; i < length;) {
        if ((unsigned char)bytes[i] < 0x80) {
            i++;
            continue;
        }
        size_t step = utf8_length(bytes + i, length - i);
        if (step == 0) {
            line_path(path, sizeof path, bytes, i);
            return faults_add(faults, path, "UTF-8", "the byte 0x%02x", (unsigned char)bytes[i]);
        }
        i += step;
    }
    size_t deep = too_deep(bytes, length);
    if (deep < length) {
        line_path(path, sizeof path, bytes, deep);
        return faults_add(faults, path, "JSON nested at most 32 deep", "a deeper bracket");
    }
    json_error_t error;
    *out = json_loadb(length > 0 ? bytes : "", length,
                      JSON_REJECT_DUPLICATES | JSON_DECODE_INT_AS_REAL | JSON_DECODE_ANY, &error);
    if (*out != NULL) return STATUS_OK;
    if (json_error_code(&error) == json_error_out_of_memory) {
        (void)faults_add(faults, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    if (error.line < 1) error.line = 1;
    (void)snprintf(path, sizeof path, "line %d:%d", error.line,
                   error.column > 0 ? error.column : 1);
    clean(error.text);
    return faults_add(faults, path, "JSON", "%s", error.text);
}

/* --- the case -------------------------------------------------------------------------------- */

static enum status read_stations(const struct intake *intake, json_t *json, struct casefile *out)
{
    struct spot spot = {.key = "stations"};
    if (json == NULL) return STATUS_OK;
    if (!json_is_object(json) || json_object_size(json) > STATIONS_MAX) {
        return field_fault_value(intake, &spot, NULL, "an object of at most 1000 stations", json);
    }
    struct station *stations = ARENA_TAKE(intake->arena, json_object_size(json), struct station);
    if (stations == NULL) return field_no_memory(intake, &spot);
    out->stations = stations;
    enum status status = STATUS_OK;
    const char *id;
    json_t *value;
    json_object_foreach(json, id, value)
    {
        char path[FAULT_PATH_MAX];
        (void)snprintf(path, sizeof path, "stations.%.80s", id);
        struct station *station = &stations[out->station_count];
        enum status one = intake_station(station, id, value, path, intake);
        status = field_worse(status, one);
        /* a station with a fault still has its name: its jobs are not wrong because of it */
        if (one != STATUS_OK) station->id = arena_copy(intake->arena, id, strlen(id));
        if (station->id == NULL) return field_no_memory(intake, &spot);
        out->station_count++;
    }
    return status;
}

static int compare_ids(const void *a, const void *b)
{
    const struct job *x = *(const struct job *const *)a, *y = *(const struct job *const *)b;
    int order = strcmp(x->id, y->id);
    return order != 0 ? order : (x > y) - (x < y);
}

/* Ids of jobs are unique; sorted once, because a case may hold thousands. */
static enum status check_job_ids(const struct intake *intake, const struct job *jobs, size_t count)
{
    const struct job **sorted = ARENA_TAKE(intake->arena, count, const struct job *);
    struct spot spot = {.key = "jobs"};
    if (sorted == NULL) return field_no_memory(intake, &spot);
    size_t known = 0;
    for (size_t i = 0; i < count; i++) {
        if (jobs[i].id != NULL) sorted[known++] = &jobs[i];
    }
    qsort(sorted, known, sizeof *sorted, compare_ids);
    enum status status = STATUS_OK;
    for (size_t i = 1; i < known; i++) {
        if (strcmp(sorted[i - 1]->id, sorted[i]->id) != 0) continue;
        struct spot here = {.up = &spot, .index = (size_t)(sorted[i] - jobs)};
        status = field_fault(intake, &here, "id", "an id of its own", "\"%s\" a second time",
                             sorted[i]->id);
    }
    return status;
}

/* A kit that a job names has its sheet on file: without it nothing would be lengthened, unseen. */
static enum status check_job_kits(const struct intake *intake, const struct company *company,
                                  const struct job *jobs, size_t count)
{
    struct spot spot = {.key = "jobs"};
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        if (jobs[i].kit_id == NULL || company_kit(company, jobs[i].kit_id) != NULL) continue;
        struct spot here = {.up = &spot, .index = i};
        status = field_fault(intake, &here, "kit", "the id of a kit of the company", "\"%s\"",
                             jobs[i].kit_id);
    }
    return status;
}

static enum status read_jobs(const struct intake *intake, json_t *array, struct casefile *out)
{
    struct spot spot = {.key = "jobs"};
    if (array == NULL) return STATUS_OK; /* told by the row of the member */
    if (field_array(intake, &spot, array, JOBS_MAX, "jobs") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    struct job *jobs = ARENA_TAKE(intake->arena, count, struct job);
    if (jobs == NULL) return field_no_memory(intake, &spot);
    static const struct station no_station;
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        char path[64];
        (void)snprintf(path, sizeof path, "jobs[%zu]", i);
        const struct station *stations = out->stations != NULL ? out->stations : &no_station;
        status = field_worse(status,
                             intake_job(&jobs[i], json_array_get(array, i), path, out->company.zone,
                                        stations, out->station_count, intake));
    }
    out->jobs = jobs;
    out->job_count = count;
    status = field_worse(status, check_job_kits(intake, &out->company, jobs, count));
    return field_worse(status, check_job_ids(intake, jobs, count));
}

enum status intake_case(struct casefile **out, json_t *root, const struct intake *intake)
{
    struct head {
        int version;
        int64_t now_s;
    } head = {0, INSTANT_NONE};
    static const struct field fields[] = {
        {"emberwait", FIELD_INTEGER, .required = true, .least = 1, .most = 1,
         .offset = offsetof(struct head, version)},
        {"now", FIELD_INSTANT, .required = true, .offset = offsetof(struct head, now_s)},
        {"company", FIELD_JSON, .required = true},
        {"stations", FIELD_JSON, .required = false},
        {"jobs", FIELD_JSON, .required = true},
        {"proposal", FIELD_JSON, .required = false},
    };
    struct spot spot = {.key = ""};
    *out = NULL;
    struct casefile *casefile = ARENA_TAKE(intake->arena, 1, struct casefile);
    if (casefile == NULL) return field_no_memory(intake, &spot);
    enum status status =
        field_read_object(intake, &spot, root, fields, sizeof fields / sizeof *fields, &head);
    if (!json_is_object(root)) return status;
    casefile->now_s = head.now_s;
    json_t *company = json_object_get(root, "company");
    if (company != NULL) {
        status =
            field_worse(status, intake_company(&casefile->company, company, "company", intake));
    }
    casefile->now_zone = casefile->company.zone;
    status =
        field_worse(status, read_stations(intake, json_object_get(root, "stations"), casefile));
    status = field_worse(status, read_jobs(intake, json_object_get(root, "jobs"), casefile));
    status =
        field_worse(status, intake_proposal(casefile, json_object_get(root, "proposal"), intake));
    if (status == STATUS_OK) *out = casefile;
    return status;
}

enum status intake_case_text(struct casefile **out, const char *bytes, size_t length,
                             const struct intake *intake)
{
    json_t *root = NULL;
    *out = NULL;
    enum status status = intake_parse(&root, bytes, length, intake->faults);
    if (status != STATUS_OK) return status;
    status = intake_case(out, root, intake);
    json_decref(root);
    return status;
}
