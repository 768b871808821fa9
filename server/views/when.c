/* SPDX-License-Identifier: MIT */
/* Why: see when.h. A phrase is filled into a small text and copied out, so nothing here allocates
 * for longer than a call. */
#include "views/when.h"

#include <stdio.h>
#include <string.h>

#include "compute/civil.h"
#include "model/record.h"

#include "base/banned.h"

enum { DAY_S = 86400, HOUR_S = 3600, MINUTE_S = 60, NAMED_DAYS = 6 };

static struct phrase phrase_of(const char *z)
{
    struct phrase phrase;
    snprintf(phrase.z, sizeof phrase.z, "%s", z);
    return phrase;
}

static struct phrase fill(const struct when *when, enum word word, const struct word_arg *args,
                          size_t count)
{
    struct text text = TEXT_UP_TO(WHEN_TEXT_MAX - 1);
    words_fill(&text, words_get(when->words, word), args, count);
    struct phrase phrase = phrase_of(text_z(&text));
    text_free(&text);
    return phrase;
}
#define FILL(when, word, ...)                                                                      \
    fill((when), (word), (const struct word_arg[]){__VA_ARGS__},                                   \
         sizeof((const struct word_arg[]){__VA_ARGS__}) / sizeof(struct word_arg))

static struct phrase number(int64_t n)
{
    struct phrase phrase;
    snprintf(phrase.z, sizeof phrase.z, "%lld", (long long)n);
    return phrase;
}

static struct phrase clock_of(const struct words *words, int second)
{
    int minute = second / MINUTE_S;
    if (minute == 720) return phrase_of(words_get(words, WORD_WHEN_NOON));
    if (minute == 0) return phrase_of(words_get(words, WORD_WHEN_MIDNIGHT));
    struct phrase hour;
    int h = minute / 60 % 12 == 0 ? 12 : minute / 60 % 12;
    if (minute % 60 == 0) {
        snprintf(hour.z, sizeof hour.z, "%d", h);
    } else {
        snprintf(hour.z, sizeof hour.z, "%d:%02d", h, minute % 60);
    }
    struct when when = {.words = words};
    return FILL(&when, WORD_WHEN_CLOCK, {"hour", hour.z},
                {"half", words_get(words, minute < 720 ? WORD_WHEN_AM : WORD_WHEN_PM)});
}

struct phrase when_minute(const struct when *when, int minute)
{
    return clock_of(when->words, minute * MINUTE_S);
}

struct phrase when_clock(const struct when *when, int64_t at_s)
{
    if (at_s == INSTANT_NONE) return phrase_of(words_get(when->words, WORD_WHEN_NONE));
    return clock_of(when->words, civil_second_of_day(when->zone, at_s));
}

struct phrase when_day_time(const struct when *when, int64_t at_s)
{
    if (at_s == INSTANT_NONE) return phrase_of(words_get(when->words, WORD_WHEN_NONE));
    int32_t day = civil_day_of(when->zone, at_s);
    int32_t today = civil_day_of(when->zone, when->now_s);
    struct phrase clock = when_clock(when, at_s);
    if (day - today <= NAMED_DAYS && today - day <= NAMED_DAYS) {
        const char *weekday = words_of(when->words, WORD_SET_WEEKDAY, civil_weekday(day));
        return FILL(when, WORD_WHEN_DAY_TIME, {"weekday", weekday}, {"clock", clock.z});
    }
    struct phrase date = when_date(when, day);
    return FILL(when, WORD_WHEN_DATE_TIME, {"date", date.z}, {"clock", clock.z});
}

struct phrase when_date(const struct when *when, int32_t day)
{
    if (day == DAY_NONE) return phrase_of(words_get(when->words, WORD_WHEN_NONE));
    int year, month, day_of_month, this_year, other_month, other_day;
    civil_date(day, &year, &month, &day_of_month);
    civil_date(civil_day_of(when->zone, when->now_s), &this_year, &other_month, &other_day);
    const char *weekday = words_of(when->words, WORD_SET_WEEKDAY, civil_weekday(day));
    const char *month_name = words_of(when->words, WORD_SET_MONTH, month - 1);
    struct phrase d = number(day_of_month);
    struct phrase y = number(year);
    if (year == this_year) {
        return FILL(when, WORD_WHEN_DATE, {"weekday", weekday}, {"day", d.z},
                    {"month", month_name});
    }
    return FILL(when, WORD_WHEN_DATE_YEAR, {"weekday", weekday}, {"day", d.z},
                {"month", month_name}, {"year", y.z});
}

struct phrase when_date_of(const struct when *when, int64_t at_s)
{
    return when_date(when, at_s == INSTANT_NONE ? DAY_NONE : civil_day_of(when->zone, at_s));
}

struct phrase when_age(const struct when *when, int64_t at_s)
{
    if (at_s == INSTANT_NONE) return phrase_of(words_get(when->words, WORD_WHEN_NONE));
    int64_t age_s = when->now_s > at_s ? when->now_s - at_s : 0;
    enum word word = WORD_WHEN_MINUTES;
    int64_t n = age_s / MINUTE_S;
    if (age_s >= 2 * DAY_S) {
        word = WORD_WHEN_DAYS;
        n = age_s / DAY_S;
    } else if (age_s >= HOUR_S) {
        word = WORD_WHEN_HOURS;
        n = age_s / HOUR_S;
    }
    struct phrase count = number(n);
    return FILL(when, word, {"n", count.z});
}

struct phrase when_field(const struct when *when, int64_t at_s)
{
    struct phrase field = {""};
    if (at_s == INSTANT_NONE) return field;
    int year, month, day;
    civil_date(civil_day_of(when->zone, at_s), &year, &month, &day);
    int minute = civil_second_of_day(when->zone, at_s) / MINUTE_S;
    snprintf(field.z, sizeof field.z, "%04d-%02d-%02dT%02d:%02d", year, month, day, minute / 60,
             minute % 60);
    return field;
}

struct phrase when_exact(const struct when *when, int64_t at_s)
{
    struct phrase exact = when_field(when, at_s);
    char *between = strchr(exact.z, 'T');
    if (between != NULL)
        *between = ' ';
    else
        snprintf(exact.z, sizeof exact.z, "-");
    return exact;
}
