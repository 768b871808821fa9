/* SPDX-License-Identifier: MIT */
/*
 * A file as bytes, lines and rows, read in blocks of 64 KiB. Line ends may be LF, CRLF or CR, even
 * mixed; a UTF-8 mark at the front is skipped; a NUL byte anywhere refuses the file, for none of
 * these formats has one.
 */
#ifndef EMBERWAIT_WEATHER_INPUT_H
#define EMBERWAIT_WEATHER_INPUT_H

#include "weather/weather.h"

enum { INPUT_BLOCK_BYTES = 65536, INPUT_WHERE_MAX = 200 };

struct input {
    const struct weather_source *source;
    size_t total; /**< bytes read so far */
    size_t line;  /**< number of the line that was read last, from 1 */
    size_t at;
    size_t filled;
    bool ended;
    bool after_cr; /**< the last line ended in CR; an LF that follows belongs to it */
    char block[INPUT_BLOCK_BYTES];
    char text[WEATHER_LINE_BYTES_MAX + 1]; /**< the line or row at hand */
    const char *fields[WEATHER_FIELDS_MAX];
    size_t field_count;
    bool unclosed; /**< the row's last quote never ended */
    bool stray;    /**< bytes behind a closing quote, or a quote inside a bare field */
};

/** Stand at the front, behind a UTF-8 mark. Status: OK, IO. */
MUST_USE enum status input_open(struct input *input, const struct weather_source *source,
                                struct fault *fault);

/**
 * The next line, without its end, in `input->text`; `*out_length` bytes and a NUL.
 *
 * Status: OK; NOT_FOUND at the end of the file; INVALID (NUL byte); LIMIT (line or file too long);
 *         IO.
 */
MUST_USE enum status input_line(struct input *input, size_t *out_length, struct fault *fault);

/**
 * The next row of RFC 4180 that is not empty, in `input->fields`; quoted fields may hold commas,
 * quotes and line ends. `input->line` is the line it ended on.
 *
 * Status: as input_line.
 */
MUST_USE enum status input_row(struct input *input, struct fault *fault);

/** All of the rest, at most `limit` bytes. Status: as input_line, never NOT_FOUND. */
MUST_USE enum status input_rest(struct input *input, struct text *out, size_t limit,
                                struct fault *fault);

/** `NAME:LINE` or `NAME:LINE COLUMN`. */
const char *input_where(char out[INPUT_WHERE_MAX], const struct input *input, const char *column);

/** Without the blanks around it, in place. */
char *input_trim(char *text);

/** Whether a CSV field says that there is no figure: empty, NA, N/A, NaN, null, M, -, -9999. */
bool input_missing(const char *text);

#endif
