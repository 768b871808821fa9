/* SPDX-License-Identifier: MIT */
/* What the cells and columns of a spreadsheet of jobs mean. Inside app only. */
#ifndef EMBERWAIT_APP_APP_CSV_CELLS_H
#define EMBERWAIT_APP_APP_CSV_CELLS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/zone.h"
#include "intake/field.h"
#include "model/ids.h"

/** A cell without the apostrophe that keeps a spreadsheet from taking it for a formula. */
const char *app_csv_plain(const char *cell);
/** 1 yes, 0 no, -1 neither, in either language. */
int app_csv_truth(const char *cell);

/** A column of a spreadsheet of jobs. */
struct app_csv_column {
    const char *name;
    const char *parent; /**< NULL: the job itself; options, town or quantities */
    enum field_type type;
};

/** The column of a name; `room` holds it when it is a quantity's. NULL: none. */
const struct app_csv_column *app_csv_column(struct app_csv_column *room, const char *name);

/** `done.pad-pour` is done and pad-pour; false for a column that is no event. */
bool app_csv_event(enum record_kind *kind, const char **task, const char *name);

/**
 * When something was done: RFC 3339, a date and time by the job's clock, or a date.
 *
 * A date alone is the end of that day, or now if that is earlier: what starts a wait starts no
 * earlier than it can have.
 *
 * @return false for anything else.
 */
bool app_csv_when(int64_t *out, const char *cell, const struct zone *zone, int64_t now_s);

#endif
