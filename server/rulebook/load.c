/* SPDX-License-Identifier: MIT */
/*
 * Why: a rulebook is read whole, checked whole and then never changed. The strings stay in the JSON
 * they came from, which the rulebook owns. The baseline is the shipped rulebook: a company may be
 * slower than it, never faster.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/datadir.h"
#include "base/limits.h"
#include "rulebook/rows.h"

#include "base/banned.h"

enum { BOOK_BYTES_MAX = 1048576 /**< the shipped book has 40 kB */ };

/** A whole file as own bytes with a NUL; NULL with a fault. */
static enum status file_read(char **out, size_t *length, const char *path, struct faults *faults)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        bool missing = errno == ENOENT || errno == ENOTDIR;
        (void)faults_add(faults, path, "a file that can be read", "%s", strerror(errno));
        return missing ? STATUS_NOT_FOUND : STATUS_IO;
    }
    char *bytes = malloc(BOOK_BYTES_MAX + 2);
    size_t count = bytes != NULL ? fread(bytes, 1, BOOK_BYTES_MAX + 1, file) : 0;
    enum status status = bytes == NULL || ferror(file) != 0 ? STATUS_IO : STATUS_OK;
    (void)fclose(file);
    if (status == STATUS_OK && count > BOOK_BYTES_MAX) status = STATUS_LIMIT;
    if (status != STATUS_OK) {
        (void)faults_add(faults, path, status == STATUS_LIMIT ? "at most 1 MiB" : "a readable file",
                         status == STATUS_LIMIT ? "more" : "an error while reading");
        free(bytes);
        return status;
    }
    bytes[count] = '\0';
    *out = bytes;
    *length = count;
    return STATUS_OK;
}

/** True when no value is nested deeper than JSON_DEPTH_MAX; told before the parser recurses. */
static bool depth_fits(const char *bytes, size_t length)
{
    size_t depth = 0;
    bool in_string = false;
    for (size_t i = 0; i < length; i++) {
        if (in_string) {
            if (bytes[i] == '\\')
                i++;
            else if (bytes[i] == '"')
                in_string = false;
        } else if (bytes[i] == '"') {
            in_string = true;
        } else if (bytes[i] == '{' || bytes[i] == '[') {
            if (++depth > JSON_DEPTH_MAX) return false;
        } else if ((bytes[i] == '}' || bytes[i] == ']') && depth > 0) {
            depth--;
        }
    }
    return true;
}

static enum status json_read(json_t **out, const char *path, struct faults *faults)
{
    char *bytes = NULL;
    size_t length = 0;
    enum status status = file_read(&bytes, &length, path, faults);
    if (status != STATUS_OK) return status;
    if (!depth_fits(bytes, length)) {
        free(bytes);
        return faults_add(faults, "$", "at most 32 levels", "deeper nesting");
    }
    json_error_t error;
    *out = json_loadb(bytes, length, JSON_REJECT_DUPLICATES, &error);
    free(bytes);
    if (*out != NULL) return STATUS_OK;
    char where[FAULT_PATH_MAX];
    (void)snprintf(where, sizeof where, "line %d, column %d", error.line, error.column);
    return faults_add(faults, where, "JSON (RFC 8259), each member once", "%s", error.text);
}

static void head_read(struct reader *reader, const json_t *root)
{
    static const char *const members[] = {"emberwait", "rulebook", "title", "settings",
                                          "clocks",    "tasks",    "says",  NULL};
    if (!row_object(reader, "", root, members)) return;
    double version = 0.0;
    (void)row_double(reader, "", root, "emberwait", 1.0, 1.0, true, &version);
    reader->book->id = row_string(reader, "", root, "rulebook", true);
    reader->book->title = row_string(reader, "", root, "title", true);
    (void)row_string(reader, "", root, "says", false);
    settings_read(reader, root);
    clocks_read(reader, root);
    tasks_read(reader, root);
    check_cycles(reader);
    check_waits(reader);
}

static enum status book_read(struct rulebook *book, const json_t *root, const json_t *sources,
                             const struct rulebook *baseline, struct faults *faults)
{
    struct reader reader = {.book = book, .sources = sources, .faults = faults};
    for (int i = 0; i < SETTING_COUNT; i++) reader.setting_rows[i] = -1;
    for (int i = 0; i < CLOCK_COUNT; i++) reader.clock_rows[i] = -1;
    for (int i = 0; i < TASK_COUNT; i++) reader.task_rows[i] = -1;
    for (int i = 0; i < CHECK_COUNT; i++) reader.check_rows[i] = -1;
    head_read(&reader, root);
    /* Comparing needs whole rows; a faulty one was named already. */
    if (reader.bad == 0 && baseline != NULL) baseline_check(&reader, baseline);
    return reader.bad == 0 ? STATUS_OK : STATUS_INVALID;
}

enum status rulebook_load(struct rulebook **out, const char *path, const char *sources,
                          const struct rulebook *baseline, struct faults *faults)
{
    REQUIRE(out != NULL && path != NULL && sources != NULL);
    *out = NULL;
    json_t *source_root = NULL;
    json_t *root = NULL;
    struct rulebook *book = calloc(1, sizeof *book);
    enum status status = book == NULL ? STATUS_IO : STATUS_OK;
    if (status == STATUS_OK) status = json_read(&source_root, sources, faults);
    if (status == STATUS_OK) status = json_read(&root, path, faults);
    if (status == STATUS_OK) {
        const json_t *known = json_object_get(source_root, "sources");
        status = json_is_object(known) ? book_read(book, root, known, baseline, faults)
                                       : faults_add(faults, sources, "an object `sources`", "%s",
                                                    json_found(known).text);
    }
    json_decref(source_root);
    if (status != STATUS_OK) {
        json_decref(root);
        free(book);
        return status;
    }
    book->owner = root;
    *out = book;
    return STATUS_OK;
}

enum status rulebook_load_shipped(struct rulebook **out, const char *id, struct faults *faults)
{
    REQUIRE(out != NULL && id != NULL);
    *out = NULL;
    size_t length = strlen(id);
    if (length == 0 || length > ID_BYTES_MAX ||
        strspn(id, "abcdefghijklmnopqrstuvwxyz0123456789-") != length) {
        return faults_add(faults, "rulebook", "lower-case letters, digits and -", "\"%.80s\"", id);
    }
    char path[4096];
    char sources[4096];
    int one = snprintf(path, sizeof path, "%s/schema/rulebook/%s.json", data_dir(), id);
    int two = snprintf(sources, sizeof sources, "%s/schema/sources.json", data_dir());
    if (one < 0 || two < 0 || (size_t)one >= sizeof path || (size_t)two >= sizeof sources) {
        (void)faults_add(faults, "EMBERWAIT_DATA", "a shorter path", "%zu bytes",
                         strlen(data_dir()));
        return STATUS_LIMIT;
    }
    return rulebook_load(out, path, sources, NULL, faults);
}

void rulebook_free(struct rulebook *rulebook)
{
    if (rulebook == NULL) return;
    json_decref(rulebook->owner);
    free(rulebook);
}
