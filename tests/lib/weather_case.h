/* SPDX-License-Identifier: MIT */
/* A weather file as a text of the test, read in one call. */
#ifndef EMBERWAIT_TESTS_WEATHER_CASE_H
#define EMBERWAIT_TESTS_WEATHER_CASE_H

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "model/record.h"
#include "weather/weather.h"

static struct weather *weather;
static struct fault fault;
static struct weather_options options;

static inline void weather_set_up(void)
{
    options = (struct weather_options){.now_s = INSTANT_NONE,
                                       .latitude_deg = (double)NAN,
                                       .longitude_deg = (double)NAN,
                                       .diurnal = DIURNAL_CONSTANTS_AIR_150_CM};
    weather = NULL;
    memset(&fault, 0, sizeof fault);
}

static inline void weather_tear_down(void)
{
    weather_free(weather);
    weather = NULL;
}

/* A reader that hands out a few bytes at a time, so that every seam between blocks is crossed. */
struct drops {
    const char *data;
    size_t length;
    size_t at;
    size_t size;
};

static inline long read_drops(void *context, char *out, size_t capacity)
{
    struct drops *drops = context;
    size_t count = drops->length - drops->at;
    if (count > drops->size) count = drops->size;
    if (count > capacity) count = capacity;
    memcpy(out, drops->data + drops->at, count);
    drops->at += count;
    return (long)count;
}

/* Reads and finishes; the worse status is the answer. */
static inline enum status read_bytes(const char *data, size_t length, size_t size)
{
    struct drops drops = {data, length, 0, size};
    const struct weather_source source = {"file", read_drops, &drops};
    weather_free(weather);
    weather = NULL;
    enum status status = weather_new(&weather, &options, &fault);
    if (status == STATUS_OK) status = weather_read(weather, &source, &fault);
    if (status == STATUS_OK) status = weather_finish(weather, &fault);
    return status;
}

static inline enum status read_text(const char *text)
{
    return read_bytes(text, strlen(text), strlen(text) + 1);
}

static inline size_t counted(enum weather_reason reason)
{
    return weather_report(weather)->counts[reason];
}

/* Figure of the hour that starts at a time; fails the test when the hour is not there. */
static inline double at(const double *column, const char *time)
{
    int64_t at_s = 0;
    const struct series *series = weather_series(weather);
    ck_assert_int_eq(instant_parse(&at_s, time, strlen(time), NULL), STATUS_OK);
    const int64_t i = (at_s - series->start_s) / 3600;
    ck_assert_ptr_nonnull(column);
    ck_assert(i >= 0 && i < (int64_t)series->count);
    return column[i];
}

static inline double temp_at(const char *time)
{
    return at(weather_series(weather)->temp_degc, time);
}

#define ASSERT_SAYS(text, part)                                                                    \
    ck_assert_msg(strstr((text), (part)) != NULL, "\"%s\" does not say \"%s\"", (text), (part))

#endif
