/* SPDX-License-Identifier: MIT */
/*
 * One member of a JSON object, described instead of programmed: its name, what it may be, and where
 * in the struct it goes. A list of such rows reads an object, reports every fault of it and refuses
 * the members it does not know, naming the nearest that it does.
 */
#ifndef EMBERWAIT_INTAKE_FIELD_H
#define EMBERWAIT_INTAKE_FIELD_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "intake/intake.h"
#include "model/ids.h"

/** Where we are in the JSON; rendered only when there is a fault to report. */
struct spot {
    const struct spot *up; /**< NULL at the root */
    const char *key;       /**< NULL: an array element */
    size_t index;
};

/** What a member is, and the type of the struct member it fills. */
enum field_type {
    FIELD_ID,      /**< const char *: 1..ID_BYTES_MAX bytes, no control characters */
    FIELD_NAME,    /**< const char *: 1..NAME_BYTES_MAX bytes */
    FIELD_TEXT,    /**< const char *: up to TEXT_BYTES_MAX bytes, lines allowed */
    FIELD_MAIL,    /**< const char *: one mail address, plain (RFC 5321 addr-spec, ASCII) */
    FIELD_NUMBER,  /**< double in [least, most] */
    FIELD_DEGF,    /**< double, degC; written in F, [least, most] in F */
    FIELD_DELTA_F, /**< double, degC; a difference written in F, [least, most] in F */
    FIELD_INTEGER, /**< int in [least, most] */
    FIELD_BOOL,    /**< bool */
    FIELD_CHOICE,  /**< an enum: one of `choices` (those of `allowed`, 0: all) */
    FIELD_INSTANT, /**< int64_t, RFC 3339 */
    FIELD_DATE,    /**< int32_t civil day */
    FIELD_MINUTES, /**< int, minutes after midnight, written "HH:MM", to 24:00 */
    FIELD_JSON     /**< known here, read by the caller */
};

/** One row. */
struct field {
    const char *name;
    enum field_type type;
    bool required;
    bool nullable; /**< null is the same as absent */
    char group;    /**< rows of one group: exactly one when required, at most one else; 0: none */
    size_t offset; /**< into the struct */
    double least;
    double most;
    const struct id_table *choices;
    uint64_t allowed; /**< bits of `choices` that are allowed; 0: all */
};

/**
 * Report a fault at a place (or at its member `key`, unless NULL).
 *
 * @param[in] intake  Takes the fault.
 * @param[in] place   Where.
 * @param[in] key     Member of it, or NULL.
 * @param[in] wanted  Plain text.
 * @param[in] found_format printf format of what was found.
 * @return always STATUS_INVALID.
 */
enum status field_fault(const struct intake *intake, const struct spot *place, const char *key,
                        const char *wanted, const char *found_format, ...) PRINTF_LIKE(5, 6);

/** The same, with a JSON value (shortened) as what was found; NULL: nothing. */
enum status field_fault_value(const struct intake *intake, const struct spot *place,
                              const char *key, const char *wanted, const json_t *found);

/** No memory: reported once as a fault of its own; STATUS_LIMIT. */
enum status field_no_memory(const struct intake *intake, const struct spot *place);

/**
 * Read one value into `*(type *)out`.
 *
 * @param[in]  intake Arena and faults.
 * @param[in]  place  The place of the value itself.
 * @param[in]  field  What it may be.
 * @param[in]  value  Borrowed, not NULL.
 * @param[out] out    Of the type of the field.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status field_read(const struct intake *intake, const struct spot *place,
                                const struct field *field, json_t *value, void *out);

/**
 * Read an object by its rows; members that are absent leave the struct as it is.
 *
 * @param[in]  intake Arena and faults.
 * @param[in]  place  The place of the object.
 * @param[in]  object Borrowed; anything but an object is a fault.
 * @param[in]  fields Rows, shape [count].
 * @param[in]  count  Rows, at most 64.
 * @param[out] out    The struct.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status field_read_object(const struct intake *intake, const struct spot *place,
                                       json_t *object, const struct field *fields, size_t count,
                                       void *out);

/** `value` as an array of at most `most` items, else a fault at `place` and NULL. */
json_t *field_array(const struct intake *intake, const struct spot *place, json_t *value,
                    size_t most, const char *of_what);

/** The worse of two statuses: LIMIT, then INVALID, then OK. */
enum status field_worse(enum status a, enum status b);

#endif
