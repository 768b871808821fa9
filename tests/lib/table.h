/* SPDX-License-Identifier: MIT */
/*
 * Reader of tests/tables/NAME.tbl: one row a line, fields parted by |, so that people of the trade
 * can add a figure they trust without touching C.
 *
 *     quantity key=value ... | expected | tolerance | unit | source | read or memory | note
 *
 * expected:  a number; `name number` for a member of an object; `[i] number` for a place in a list;
 *            `refused 64` (usage) or `refused 65 key` (a bad value, and the key it must name).
 * tolerance: absolute, or with % of the expected figure; empty when refused.
 * Lines that start with # and empty lines are passed over. Everything is static: one runner reads
 * these files, and it is one file.
 */
#ifndef EMBERWAIT_TESTS_TABLE_H
#define EMBERWAIT_TESTS_TABLE_H

#include <glob.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    TABLE_ROWS_MAX = 4000,
    TABLE_LINE_MAX = 2000,
    TABLE_WORDS_MAX = 20,
    TABLE_FIELDS = 7,
};

/** One row; texts point into `line`. */
struct table_row {
    char *line;
    char file[60];
    int number;
    const char *words[TABLE_WORDS_MAX]; /**< quantity and its arguments */
    int word_count;
    int refused;       /**< exit status wanted; 0: a figure is wanted */
    const char *names; /**< key the fault must name, member of the object, or "" */
    int place;         /**< place in a list, else -1 */
    double expected;
    double tolerance; /**< absolute */
    const char *unit;
    const char *source;
};

struct table {
    struct table_row *rows;
    int count;
    int faults; /**< rows that cannot be read; each was printed with its file and line */
};

static char *table_trim(char *text)
{
    while (*text == ' ' || *text == '\t') text++;
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t\r\n", text[length - 1])) text[--length] = '\0';
    return text;
}

/* Split at a byte into trimmed parts; more than `most` is a fault of the row (-1). */
static int table_split(char *text, char at, char **parts, int most)
{
    int count = 0;
    for (;;) {
        if (count == most) return -1;
        char *end = strchr(text, at);
        if (end) *end = '\0';
        parts[count++] = table_trim(text);
        if (!end) return count;
        text = end + 1;
    }
}

static bool table_number(const char *text, double *out, char **end)
{
    *out = strtod(text, end);
    return *end != text;
}

/* `refused 65 key`, `[3] 12.5`, `front_in 16`, `12.5` */
static bool table_expected(char *text, struct table_row *row)
{
    char *end;
    row->place = -1;
    row->names = "";
    if (strncmp(text, "refused ", 8) == 0) {
        row->refused = (int)strtol(text + 8, &end, 10);
        row->names = table_trim(end);
        return row->refused == 64 || (row->refused == 65 && *row->names);
    }
    if (*text == '[') {
        row->place = (int)strtol(text + 1, &end, 10);
        if (*end != ']') return false;
        text = table_trim(end + 1);
    } else if (strchr("abcdefghijklmnopqrstuvwxyz", *text)) {
        end = strchr(text, ' ');
        if (!end) return false;
        *end = '\0';
        row->names = text;
        text = table_trim(end + 1);
    }
    return table_number(text, &row->expected, &end) && *end == '\0';
}

static bool table_tolerance(const char *text, struct table_row *row)
{
    char *end;
    if (row->refused) return *text == '\0';
    if (!table_number(text, &row->tolerance, &end) || row->tolerance < 0) return false;
    if (strcmp(end, "%") == 0) {
        double size = row->expected < 0 ? -row->expected : row->expected;
        row->tolerance *= size / 100;
        return true;
    }
    return *end == '\0';
}

static bool table_row_read(char *line, struct table_row *row)
{
    char *fields[TABLE_FIELDS], *words[TABLE_WORDS_MAX];
    int count = table_split(line, '|', fields, TABLE_FIELDS);
    if (count < TABLE_FIELDS - 1) return false;
    for (char *at = fields[0]; *at; at++)
        while (at[0] == ' ' && at[1] == ' ') memmove(at, at + 1, strlen(at));
    row->word_count = table_split(fields[0], ' ', words, TABLE_WORDS_MAX);
    for (int i = 0; i < row->word_count; i++) row->words[i] = words[i];
    row->unit = fields[3];
    row->source = fields[4];
    bool seen = strcmp(fields[5], "read") == 0 || strcmp(fields[5], "memory") == 0;
    return row->word_count > 0 && table_expected(fields[1], row) &&
           table_tolerance(fields[2], row) && *row->source && seen;
}

static void table_file_read(struct table *table, const char *path)
{
    char line[TABLE_LINE_MAX];
    const char *name = strrchr(path, '/') + 1;
    FILE *file = fopen(path, "r");
    if (!file) {
        fprintf(stderr, "%s: cannot be opened\n", path);
        table->faults++;
        return;
    }
    for (int number = 1; fgets(line, sizeof line, file); number++) {
        char *text = table_trim(line);
        if (*text == '\0' || *text == '#') continue;
        struct table_row row = {.number = number};
        row.line = malloc(strlen(text) + 1);
        if (!row.line || table->count == TABLE_ROWS_MAX) abort();
        memcpy(row.line, text, strlen(text) + 1);
        snprintf(row.file, sizeof row.file, "%s", name);
        if (table_row_read(row.line, &row)) {
            table->rows[table->count++] = row;
        } else {
            fprintf(stderr, "tests/tables/%s:%d: a row that cannot be read\n", name, number);
            table->faults++;
            free(row.line);
        }
    }
    fclose(file);
}

/** Read every table that fits a pattern, in the order of their names. Free with table_free. */
static struct table table_read(const char *pattern)
{
    struct table table = {.rows = calloc(TABLE_ROWS_MAX, sizeof(struct table_row))};
    glob_t found;
    if (!table.rows) abort();
    if (glob(pattern, 0, NULL, &found) == 0) {
        for (size_t i = 0; i < found.gl_pathc; i++) table_file_read(&table, found.gl_pathv[i]);
        globfree(&found);
    }
    return table;
}

static void table_free(struct table *table)
{
    for (int i = 0; i < table->count; i++) free(table->rows[i].line);
    free(table->rows);
}

#endif
