/* SPDX-License-Identifier: MIT */
/*
 * JSON written member by member into a text, commas and brackets placed by the writer: nobody
 * places one by hand. Every value takes its key first: the member's name in an object, NULL in an
 * array (and at the top). Keys are ours, plain ASCII, written as they are.
 *
 *     struct json json = {.text = &answer};
 *     json_open_object(&json, NULL);
 *     json_put_text(&json, "id", job->id);
 *     json_open_array(&json, "tasks");
 *     ...
 *     json_close(&json);
 *     json_close(&json);
 *     ENSURE(json_done(&json));
 *
 * Opening and closing that do not match, a key in an array or none in an object are bugs of ours
 * and abort. Reading JSON is the intake layer's; the names here keep clear of its parser's.
 */
#ifndef EMBERWAIT_BASE_JSON_H
#define EMBERWAIT_BASE_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/text.h"

/** Where the writer stands; start with `{.text = ...}`. Bit n of the masks is level n. */
struct json {
    struct text *text; /**< borrow */
    uint64_t objects;  /**< levels that are objects */
    uint64_t begun;    /**< levels that hold a value already */
    unsigned depth;    /**< open levels, at most JSON_DEPTH_MAX */
    bool keyed;        /**< json_key was written, its value was not */
};

/** Open an object. */
void json_open_object(struct json *json, const char *key);
/** Open an array. */
void json_open_array(struct json *json, const char *key);
/** Close the innermost object or array. */
void json_close(struct json *json);
/** Write a member's name alone; the next value is given with key NULL. */
void json_key(struct json *json, const char *key);
/** A key that is not ours (an id, a header): escaped like a string. */
void json_key_escaped(struct json *json, const char *key, size_t length);
/** True when everything opened was closed and one value was written. */
bool json_done(const struct json *json);

/** A NUL-ended string; NULL becomes null. */
void json_put_text(struct json *json, const char *key, const char *z);
/** A string of `length` bytes; NULL becomes null. */
void json_put_bytes(struct json *json, const char *key, const char *bytes, size_t length);
/** A whole number. */
void json_put_integer(struct json *json, const char *key, int64_t value);
/** A number, as text_json_number; not finite becomes null. */
void json_put_number(struct json *json, const char *key, double value);
/** A number with fixed decimals, as text_json_fixed; not finite becomes null. */
void json_put_fixed(struct json *json, const char *key, double value, int decimals);
/** true or false. */
void json_put_bool(struct json *json, const char *key, bool value);
/** null. */
void json_put_null(struct json *json, const char *key);
/** An instant in a zone (NULL: UTC); INT64_MIN, no instant: null. */
void json_put_instant(struct json *json, const char *key, int64_t at_s, const struct zone *zone);
/** A date `YYYY-MM-DD` of a day since 1970-01-01; INT32_MIN, no day: null. */
void json_put_date(struct json *json, const char *key, int32_t day);
/** One whole JSON value that is already text, e.g. a stored body. Not checked. */
void json_put_raw(struct json *json, const char *key, const char *bytes, size_t length);

#endif
