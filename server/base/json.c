/* SPDX-License-Identifier: MIT */
/* Why: see json.h. The levels are bits of two masks, so a writer is one small struct, no memory. */
#include "base/json.h"

#include "base/limits.h"

#include "base/banned.h"

_Static_assert(JSON_DEPTH_MAX < 64, "a level is a bit of a 64-bit mask");

static uint64_t level(const struct json *json)
{
    return UINT64_C(1) << json->depth;
}

/* The comma before a value or a key, unless it is the first of its level. */
static void comma(struct json *json)
{
    if (json->begun & level(json)) {
        REQUIRE(json->depth > 0); /* one value at the top */
        text_add_byte(json->text, ',');
    }
    json->begun |= level(json);
}

/* What stands before every value: its comma and its key. */
static void before(struct json *json, const char *key)
{
    const bool in_object = (json->objects & level(json)) != 0;
    if (key != NULL) {
        json_key(json, key);
    } else if (in_object) {
        REQUIRE(json->keyed);
    } else {
        comma(json);
    }
    json->keyed = false;
}

static void key_before(struct json *json)
{
    REQUIRE(!json->keyed && (json->objects & level(json)) != 0);
    comma(json);
    json->keyed = true;
}

void json_key(struct json *json, const char *key)
{
    key_before(json);
    const size_t length = strlen(key);
    if (!text_room(json->text, length + 3)) return;
    char *to = json->text->data + json->text->length; /* the most frequent addition: in one go */
    *to++ = '"';
    memcpy(to, key, length);
    memcpy(to + length, "\":", 3);
    json->text->length += length + 3;
}

void json_key_escaped(struct json *json, const char *key, size_t length)
{
    REQUIRE(key != NULL);
    key_before(json);
    text_json_string(json->text, key, length);
    text_add_byte(json->text, ':');
}

static void open_level(struct json *json, const char *key, char bracket)
{
    before(json, key);
    REQUIRE(json->depth < JSON_DEPTH_MAX);
    text_add_byte(json->text, bracket);
    json->depth++;
    json->begun &= ~level(json);
    json->objects &= ~level(json);
    if (bracket == '{') json->objects |= level(json);
}

void json_open_object(struct json *json, const char *key)
{
    open_level(json, key, '{');
}

void json_open_array(struct json *json, const char *key)
{
    open_level(json, key, '[');
}

void json_close(struct json *json)
{
    REQUIRE(json->depth > 0 && !json->keyed);
    text_add_byte(json->text, json->objects & level(json) ? '}' : ']');
    json->depth--;
}

bool json_done(const struct json *json)
{
    return json->depth == 0 && (json->begun & 1) != 0;
}

void json_put_text(struct json *json, const char *key, const char *z)
{
    before(json, key);
    text_json_z(json->text, z);
}

void json_put_bytes(struct json *json, const char *key, const char *bytes, size_t length)
{
    before(json, key);
    text_json_string(json->text, bytes, length);
}

void json_put_integer(struct json *json, const char *key, int64_t value)
{
    before(json, key);
    text_integer(json->text, value);
}

void json_put_number(struct json *json, const char *key, double value)
{
    before(json, key);
    text_json_number(json->text, value);
}

void json_put_fixed(struct json *json, const char *key, double value, int decimals)
{
    before(json, key);
    text_json_fixed(json->text, value, decimals);
}

void json_put_bool(struct json *json, const char *key, bool value)
{
    before(json, key);
    text_add_z(json->text, value ? "true" : "false");
}

void json_put_null(struct json *json, const char *key)
{
    before(json, key);
    text_add(json->text, "null", 4);
}

void json_put_instant(struct json *json, const char *key, int64_t at_s, const struct zone *zone)
{
    before(json, key);
    text_json_instant(json->text, at_s, zone);
}

void json_put_date(struct json *json, const char *key, int32_t day)
{
    before(json, key);
    text_json_date(json->text, day);
}

void json_put_raw(struct json *json, const char *key, const char *bytes, size_t length)
{
    REQUIRE(bytes != NULL && length > 0);
    before(json, key);
    text_add(json->text, bytes, length);
}
