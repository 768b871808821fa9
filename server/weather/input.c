/* SPDX-License-Identifier: MIT */
/* Why: see input.h. One byte at a time out of a block is fast enough: the disk is not waited for.
 */
#include "weather/input.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/banned.h"

enum { END = -1, REFUSED = -2 };

static enum status fill(struct input *input, struct fault *fault)
{
    if (input->ended) return STATUS_OK;
    long count = input->source->read(input->source->context, input->block, sizeof input->block);
    input->at = 0;
    input->filled = count > 0 ? (size_t)count : 0;
    input->ended = count <= 0;
    input->total += input->filled;
    if (count < 0) {
        fault_set(fault, input->source->name, "a file that can be read", "a read that failed");
        return STATUS_IO;
    }
    if (input->total > WEATHER_BYTES_MAX) {
        fault_set(fault, input->source->name, "at most 256 MiB in one file", "more");
        return STATUS_LIMIT;
    }
    if (input->filled > 0 && memchr(input->block, 0, input->filled) != NULL) {
        fault_set(fault, input->source->name, "text", "a NUL byte after line %zu", input->line);
        return STATUS_INVALID;
    }
    return STATUS_OK;
}

enum status input_open(struct input *input, const struct weather_source *source,
                       struct fault *fault)
{
    static const char mark[] = "\xEF\xBB\xBF";
    input->source = source;
    input->total = input->line = input->at = input->filled = input->field_count = 0;
    input->ended = input->after_cr = false;
    enum status status = fill(input, fault);
    if (status != STATUS_OK) return status;
    if (input->filled >= 3 && memcmp(input->block, mark, 3) == 0) input->at = 3;
    return STATUS_OK;
}

/* The next byte; END, or REFUSED with `*status`. */
static int next(struct input *input, enum status *status, struct fault *fault)
{
    if (input->at == input->filled) {
        *status = fill(input, fault);
        if (*status != STATUS_OK) return REFUSED;
        if (input->at == input->filled) return END;
    }
    return (unsigned char)input->block[input->at++];
}

/* Skips the LF of a CRLF whose CR ended the last line. */
static enum status begin_line(struct input *input, int *byte, struct fault *fault)
{
    enum status status = STATUS_OK;
    *byte = next(input, &status, fault);
    if (*byte == '\n' && input->after_cr) *byte = next(input, &status, fault);
    input->after_cr = false;
    return status;
}

static enum status too_long(const struct input *input, struct fault *fault)
{
    char where[INPUT_WHERE_MAX];
    fault_set(fault, input_where(where, input, NULL), "a line of at most 64 KiB", "a longer one");
    return STATUS_LIMIT;
}

enum status input_line(struct input *input, size_t *out_length, struct fault *fault)
{
    size_t length = 0;
    int byte = 0;
    enum status status = begin_line(input, &byte, fault);
    if (byte == END) return STATUS_NOT_FOUND;
    input->line++;
    while (byte >= 0 && byte != '\n' && byte != '\r') {
        input->at--; /* the byte came out of this block: take the run it begins at once */
        const char *run = input->block + input->at;
        const size_t left = input->filled - input->at;
        const char *end = memchr(run, '\n', left);
        const char *cr = memchr(run, '\r', end == NULL ? left : (size_t)(end - run));
        if (cr != NULL) end = cr;
        const size_t count = end == NULL ? left : (size_t)(end - run);
        if (length + count > WEATHER_LINE_BYTES_MAX) return too_long(input, fault);
        memcpy(input->text + length, run, count);
        length += count;
        input->at += count;
        byte = next(input, &status, fault);
    }
    if (status != STATUS_OK) return status;
    input->after_cr = byte == '\r';
    input->text[length] = '\0';
    *out_length = length;
    return STATUS_OK;
}

/* What the row machine has in hand. */
struct machine {
    size_t length;
    bool quoted;
    bool closed; /* a quote has closed this field */
    bool fresh;  /* at the front of a field */
    size_t lines;
};

static bool field_end(struct input *input, struct machine *machine)
{
    input->text[machine->length++] = '\0';
    machine->fresh = true;
    machine->closed = false;
    if (input->field_count == WEATHER_FIELDS_MAX) return false;
    return true;
}

static bool field_begin(struct input *input, const struct machine *machine)
{
    if (input->field_count == WEATHER_FIELDS_MAX) return false;
    input->fields[input->field_count++] = input->text + machine->length;
    return true;
}

/* Takes one byte of a row into the field at hand. */
static void take(struct input *input, struct machine *machine, int byte, int after)
{
    if (machine->quoted) {
        if (byte == '"' && after != '"') {
            machine->quoted = false;
            machine->closed = true;
            return;
        }
        machine->lines += byte == '\n' || (byte == '\r' && after != '\n');
    } else if (byte == '"' && machine->fresh) {
        machine->quoted = true;
        machine->fresh = false;
        return;
    } else if (byte == '"' || machine->closed) {
        input->stray = true;
    }
    machine->fresh = false;
    input->text[machine->length++] = (char)byte;
}

/* One row from its first byte on, to its line end or the end of the file. */
static enum status read_row(struct input *input, int byte, struct machine *machine,
                            struct fault *fault)
{
    enum status status = STATUS_OK;
    bool room = field_begin(input, machine);
    while (byte >= 0 && room) {
        if (!machine->quoted && (byte == '\n' || byte == '\r')) break;
        if (machine->length + 2 > WEATHER_LINE_BYTES_MAX) return too_long(input, fault);
        if (!machine->quoted && byte == ',') {
            room = field_end(input, machine) && field_begin(input, machine);
            byte = next(input, &status, fault);
            continue;
        }
        int after = next(input, &status, fault);
        const bool doubled = machine->quoted && byte == '"' && after == '"';
        take(input, machine, byte, after);
        byte = doubled ? next(input, &status, fault) : after;
    }
    if (status != STATUS_OK) return status;
    if (!room) {
        char where[INPUT_WHERE_MAX];
        fault_set(fault, input_where(where, input, NULL), "at most 512 fields in a row", "more");
        return STATUS_LIMIT;
    }
    input->after_cr = byte == '\r';
    input->unclosed = machine->quoted;
    (void)field_end(input, machine);
    return STATUS_OK;
}

enum status input_row(struct input *input, struct fault *fault)
{
    for (;;) {
        struct machine machine = {.fresh = true};
        int byte = 0;
        enum status status = begin_line(input, &byte, fault);
        if (byte == END) return STATUS_NOT_FOUND;
        if (status != STATUS_OK) return status;
        input->line++;
        input->field_count = 0;
        input->stray = false;
        status = read_row(input, byte, &machine, fault);
        if (status != STATUS_OK) return status;
        if (input->field_count > 1 || input->fields[0][0] != '\0') {
            input->line += machine.lines; /* the last line of the row: where an editor finds it */
            return STATUS_OK;
        }
    }
}

enum status input_rest(struct input *input, struct text *out, size_t limit, struct fault *fault)
{
    enum status status = STATUS_OK;
    while (status == STATUS_OK) {
        text_add(out, input->block + input->at, input->filled - input->at);
        input->at = input->filled;
        if (out->length > limit || text_status(out) != STATUS_OK) {
            fault_set(fault, input->source->name, "a smaller file of this format",
                      "more than %zu bytes", limit);
            return STATUS_LIMIT;
        }
        if (input->ended) break;
        status = fill(input, fault);
    }
    return status;
}

const char *input_where(char out[INPUT_WHERE_MAX], const struct input *input, const char *column)
{
    const char *name = input->source->name;
    const char *gap = column == NULL ? "" : " ";
    if (column == NULL) column = "";
    (void)snprintf(out, INPUT_WHERE_MAX, "%.100s:%zu%s%.60s", name, input->line, gap, column);
    return out;
}

char *input_trim(char *text)
{
    while (*text == ' ' || *text == '\t') text++;
    size_t length = strlen(text);
    while (length > 0 && (text[length - 1] == ' ' || text[length - 1] == '\t')) length--;
    text[length] = '\0';
    return text;
}

bool weather_number(double *out, const char *text)
{
    const size_t length = strlen(text);
    if (length == 0 || length > 40 || strspn(text, "0123456789+-.eE") != length) return false;
    char *end = NULL;
    const double value = strtod(text, &end);
    if (end != text + length || !isfinite(value)) return false;
    *out = value;
    return true;
}

bool input_missing(const char *text)
{
    static const char *const words[] = {"",  "NA", "N/A",   "NaN",    "null",
                                        "M", "-",  "-9999", "-9999.0"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (strcasecmp(text, words[i]) == 0) return true;
    }
    return false;
}
