/* SPDX-License-Identifier: MIT */
/* Why: one table maps a status to its name, its HTTP status and its exit status. */
#include "base/status.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "base/limits.h"

#include "base/banned.h"

static const struct {
    const char *name;
    int http;
    int exit;
} status_table[STATUS_COUNT] = {
    [STATUS_OK] = {"ok", 200, EX_OK},
    [STATUS_INVALID] = {"invalid", 400, EX_DATAERR},
    [STATUS_NOT_FOUND] = {"not-found", 404, EX_NOINPUT},
    [STATUS_CONFLICT] = {"conflict", 409, EX_DATAERR},
    [STATUS_DENIED] = {"denied", 403, EX_NOPERM},
    [STATUS_LIMIT] = {"limit", 413, EX_DATAERR},
    [STATUS_BUSY] = {"busy", 503, EX_TEMPFAIL},
    [STATUS_CORRUPT] = {"corrupt", 500, EX_SOFTWARE},
    [STATUS_IO] = {"io", 507, EX_IOERR},
};

static void fault_fill(struct fault *fault, const char *path, const char *wanted,
                       const char *format, va_list arguments) PRINTF_LIKE(4, 0);

static void fault_fill(struct fault *fault, const char *path, const char *wanted,
                       const char *format, va_list arguments)
{
    (void)snprintf(fault->path, sizeof fault->path, "%s", path);
    (void)snprintf(fault->wanted, sizeof fault->wanted, "%s", wanted);
    (void)vsnprintf(fault->found, sizeof fault->found, format, arguments);
}

void fault_set(struct fault *fault, const char *path, const char *wanted, const char *found_format,
               ...)
{
    if (fault == NULL) return;
    va_list arguments;
    va_start(arguments, found_format);
    fault_fill(fault, path, wanted, found_format, arguments);
    va_end(arguments);
}

enum status faults_add(struct faults *faults, const char *path, const char *wanted,
                       const char *found_format, ...)
{
    if (faults == NULL) return STATUS_INVALID;
    if (faults->count >= FAULTS_MAX) {
        faults->dropped++;
        return STATUS_INVALID;
    }
    if (faults->count == faults->capacity) {
        size_t capacity = faults->capacity == 0 ? 8 : faults->capacity * 2;
        struct fault *items = realloc(faults->items, capacity * sizeof *items);
        if (items == NULL) {
            faults->dropped++;
            return STATUS_INVALID;
        }
        faults->items = items;
        faults->capacity = capacity;
    }
    va_list arguments;
    va_start(arguments, found_format);
    fault_fill(&faults->items[faults->count++], path, wanted, found_format, arguments);
    va_end(arguments);
    return STATUS_INVALID;
}

void faults_free(struct faults *faults)
{
    if (faults == NULL) return;
    free(faults->items);
    memset(faults, 0, sizeof *faults);
}

int status_exit(enum status status)
{
    REQUIRE((unsigned)status < STATUS_COUNT);
    return status_table[status].exit;
}

int status_http(enum status status)
{
    REQUIRE((unsigned)status < STATUS_COUNT);
    return status_table[status].http;
}

const char *status_name(enum status status)
{
    REQUIRE((unsigned)status < STATUS_COUNT);
    return status_table[status].name;
}

void status_abort(const char *file, int line, const char *what)
{
    (void)fprintf(stderr, "%s:%d: %s\n", file, line, what);
    abort();
}
