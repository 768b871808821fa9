/* SPDX-License-Identifier: MIT */
/*
 * Inside the rulebook folder only: how one row of the JSON is read, and what each setting is.
 * Every reader function adds its own fault and goes on, so that one run names every fault of a
 * file.
 */
#ifndef EMBERWAIT_RULEBOOK_ROWS_H
#define EMBERWAIT_RULEBOOK_ROWS_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "rulebook/rulebook.h"

/** Which change of a setting could let something open, count or be promised earlier. */
enum later {
    LATER_MORE, /**< a larger number is later: it may not fall below the shipped one */
    LATER_LESS, /**< a smaller number is later: it may not rise above the shipped one */
    LATER_SAME, /**< either change can be earlier on some day: it stays as shipped */
    LATER_FREE, /**< opens nothing: durations and information */
};

/** Sections of `rulebook show`. */
enum section {
    SECTION_READINGS,
    SECTION_FROST,
    SECTION_CLOCKS,
    SECTION_DAYS,
    SECTION_DATES,
    SECTION_CREWS
};

/** What a setting is. */
struct setting_spec {
    const char *unit;    /**< unit of the JSON row: "h", "F", … */
    const char *unit_or; /**< another unit it may be written in; NULL: none */
    enum later later;
    enum section section;
    double most; /**< never above this, in the struct's unit; 0: no bound */
};
extern const struct setting_spec setting_specs[SETTING_COUNT];

/** What a file is read into, and where each row stood. */
struct reader {
    struct rulebook *book;
    const json_t *sources;           /**< object whose keys are the source ids */
    struct faults *faults;           /**< may be NULL */
    size_t bad;                      /**< faults met, also when `faults` is NULL */
    int setting_rows[SETTING_COUNT]; /**< index in `settings`; -1: no row */
    int clock_rows[CLOCK_COUNT];
    int task_rows[TASK_COUNT];
    int check_rows[CHECK_COUNT]; /**< index in the `checks` of its task; -1: no row */
};

/** A JSON path. */
struct path {
    char text[FAULT_PATH_MAX];
};

struct path path_member(const char *base, const char *name);
struct path path_index(const char *base, size_t index);

/** Add a fault and count it. `wanted` is literal, found is printf-like. */
void reader_fault(struct reader *reader, const char *path, const char *wanted,
                  const char *found_format, ...) PRINTF_LIKE(4, 5);

/** Short plain name of a JSON value for `found`: its text, number or type. Borrow until next call.
 */
struct path json_found(const json_t *value);

/** The value is an object, and every member is one of the NULL-ended list; else faults. */
bool row_object(struct reader *reader, const char *path, const json_t *value,
                const char *const *members);
/** A string member, never empty. NULL when absent or wrong; a fault when wrong or required. */
const char *row_string(struct reader *reader, const char *path, const json_t *row, const char *name,
                       bool required);
/** A member that is an id of a table. -1 when absent or wrong. */
int row_id(struct reader *reader, const char *path, const json_t *row, const char *name,
           const struct id_table *table, bool required);
/** A number member in [least, most]. False when absent or wrong. */
bool row_double(struct reader *reader, const char *path, const json_t *row, const char *name,
                double least, double most, bool required, double *out);
/** `mark` and `source`: P needs a known source, CP has none. */
void row_standing(struct reader *reader, const char *path, const json_t *row, enum mark *mark,
                  const char **source);
/** A number with its standing: value, least, mark, source, in `unit`, held in the struct's unit. */
struct rule_number row_number(struct reader *reader, const char *path, const json_t *row,
                              const char *unit, double most);
/** Write a number in a unit into the struct's unit (degF to degC, mph to m/s …). */
double unit_held(const char *unit, double value);
/** The other way, for `rulebook show`. */
double unit_written(const char *unit, double held);
/** An array member, never empty. NULL with a fault when it is not. */
const json_t *row_array(struct reader *reader, const char *path, const json_t *row,
                        const char *name);
/** `when`: an object of options. Fills at most CONDITIONS_MAX. */
size_t row_conditions(struct reader *reader, const char *path, const json_t *row,
                      struct condition conditions[CONDITIONS_MAX]);

/** Read the three lists. */
void settings_read(struct reader *reader, const json_t *root);
void clocks_read(struct reader *reader, const json_t *root);
void tasks_read(struct reader *reader, const json_t *root);

/** Read the checks of one task row. */
void checks_read(struct reader *reader, const char *path, const json_t *row, enum task task);
/** Faults of checks that are weaker than the shipped ones. */
void checks_baseline(struct reader *reader, const struct rulebook *baseline);
/** The checks of a task, as lines of `rulebook show`. */
void checks_show(struct text *text, const struct rulebook *book, enum task task);
/** Conditions as words: "pad new and place indoor or covered". */
void show_conditions(struct text *text, const struct condition *conditions, size_t count);
/** True when the first list holds for every job for which the second does. */
bool conditions_cover(const struct condition *mine, size_t mine_count,
                      const struct condition *shipped, size_t shipped_count);

/** Faults that no single row shows: cycles of links. */
void check_cycles(struct reader *reader);
/** Limits shorter than the wait before them; clocks that only later work starts. */
void check_waits(struct reader *reader);
/** Faults of a book that opens earlier than the shipped one. */
void baseline_check(struct reader *reader, const struct rulebook *baseline);

/** Values an option can take: their ids, or NULL for yes and no. */
const struct id_table *option_values(enum option option);
/** All bits an option's mask can have. */
unsigned option_mask(enum option option);

/** Ids of the rate laws, in the order of enum maturity_kind. */
extern const struct id_table law_ids;
/** Ids of clock kinds and of what a variant is for. */
extern const struct id_table clock_kind_ids, clock_when_ids;

#endif
