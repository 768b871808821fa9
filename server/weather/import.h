/* SPDX-License-Identifier: MIT */
/* What the importers share among themselves; nobody outside weather/ includes it. */
#ifndef EMBERWAIT_WEATHER_IMPORT_H
#define EMBERWAIT_WEATHER_IMPORT_H

#include "model/record.h"
#include "weather/weather.h"

/** Figures of an hour, in the order of struct series. */
enum figure { FIGURE_TEMP, FIGURE_RAIN, FIGURE_RH, FIGURE_WIND, FIGURE_GUST, FIGURE_COUNT };

/** Figures of a day. */
enum day_figure { DAY_MIN, DAY_MAX, DAY_RAIN, DAY_WIND, DAY_FIGURE_COUNT };

/** One reading as the file has it. */
struct row {
    int64_t at_s;
    uint32_t line;
    uint32_t file;
    double figures[FIGURE_COUNT];
};

/** A column somebody named. */
struct mapped {
    char target[WEATHER_COLUMN_NAME_MAX];
    char header[WEATHER_COLUMN_NAME_MAX];
};
enum { MAPPED_MAX = 16, FILES_MAX = 1000 };

struct weather {
    struct weather_options options;
    struct mapped mapped[MAPPED_MAX];
    size_t mapped_count;
    char (*names)[WEATHER_COLUMN_NAME_MAX]; /**< names of the files, for what is found later */
    size_t file_count;
    struct row *rows;
    size_t row_count;
    size_t row_capacity;
    double *day_figures[DAY_FIGURE_COUNT]; /**< by day since WEATHER_FIRST_YEAR; NULL until used */
    size_t day_from;                       /**< first and last day with a figure */
    size_t day_to;
    struct weather_days days;
    struct series series;
    struct weather_reading *readings;
    size_t reading_count;
    int64_t made_s;
    double latitude_deg;
    double longitude_deg;
    bool typical;
    struct weather_report report;
};

/** Bounds of one figure: no weather on record lies outside. */
struct bounds {
    const char *name;
    double least;
    double most;
    const char *wanted;
};
extern const struct bounds figure_bounds[FIGURE_COUNT];
extern const struct bounds day_bounds[DAY_FIGURE_COUNT];

/** Count one reason. */
void report_count(struct weather_report *report, enum weather_reason reason, size_t times);
/** Count one reason and tell of it; `where` as in weather_item. */
void report_tell(struct weather_report *report, enum weather_reason reason, const char *where,
                 const char *wanted, const char *found_format, ...) PRINTF_LIKE(5, 6);

/** An empty row: every figure NAN. */
struct row row_empty(int64_t at_s, size_t line, const struct weather *weather);
/** Keep a row. LIMIT past WEATHER_ROWS_MAX. */
MUST_USE enum status row_add(struct weather *weather, const struct row *row, struct fault *fault);

/**
 * Keep a figure of a day; a second, different one for the same day is a fault in the report.
 *
 * @param[in] where  For the report.
 * Status: OK, LIMIT (no memory).
 */
MUST_USE enum status day_add(struct weather *weather, int32_t day, enum day_figure figure,
                             double value, const char *where, struct fault *fault);

/** Merge, question, spread: the steps of weather_finish in their order. */
MUST_USE enum status merge_rows(struct weather *weather, struct fault *fault);
/** Question hours that stand out from both sides. */
void question_hours(struct weather *weather);
/** Question days that stand out from both sides. */
void question_days(struct weather *weather);
/** Question figures beyond what the station had in that month. */
void question_range(struct weather *weather);
/** Days -> hours. */
MUST_USE enum status daily_hours(struct weather *weather, struct fault *fault);

struct input;
/** The importers, one a format; the input is at its first byte. */
MUST_USE enum status import_csv(struct weather *weather, struct input *input, struct fault *fault);
MUST_USE enum status import_ghcn_dly(struct weather *weather, struct input *input,
                                     struct fault *fault);
MUST_USE enum status import_ghcn_csv(struct weather *weather, struct input *input,
                                     struct fault *fault);
MUST_USE enum status import_nws(struct weather *weather, struct input *input, struct fault *fault);
MUST_USE enum status import_epw(struct weather *weather, struct input *input, struct fault *fault);

#endif
