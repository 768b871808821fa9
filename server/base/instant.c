/* SPDX-License-Identifier: MIT */
/* Why: see instant.h. Read by position, because the grammar has only one form. */
#include "base/instant.h"

#include <stdbool.h>
#include <string.h>

#include "base/banned.h"

/* Two days inside the years 0..9999, so that no offset leads out of them. */
#define FORMAT_MIN_S (-62167046400LL)
#define FORMAT_MAX_S 253402128000LL

static const char instant_wanted[] = "an instant with its offset, like 2026-10-24T10:00:00-06:00";
static const char range_wanted[] = "an instant from 1970-01-01T00:00:00Z to 2200-01-01T00:00:00Z";
static const char date_wanted[] = "a date from 1970-01-01 to 2200-01-01, like 2026-10-24";

/* What was found, cut and made printable: a fault is shown on terminals and pages. */
static enum status refuse(struct fault *fault, const char *text, size_t length, const char *wanted)
{
    char shown[48];
    size_t count = 0;
    for (; count < length && count < sizeof shown - 4; count++) {
        const unsigned char byte = (unsigned char)text[count];
        shown[count] = byte >= 0x20 && byte < 0x7f ? (char)byte : '?';
    }
    memcpy(shown + count, count < length ? "..." : "", count < length ? 4 : 1);
    fault_set(fault, "", wanted, "%s%s", shown, length == 0 ? "nothing" : "");
    return STATUS_INVALID;
}

/* The number of `count` digits at text[at]; -1 when they are not all digits. */
static int digits(const char *text, size_t at, size_t count)
{
    int value = 0;
    for (size_t i = at; i < at + count; i++) {
        if (text[i] < '0' || text[i] > '9') return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

/* The day of the ten bytes YYYY-MM-DD. False when they are no date. */
static bool day_read(int32_t *out_day, const char *text)
{
    const int year = digits(text, 0, 4);
    const int month = digits(text, 5, 2);
    const int day = digits(text, 8, 2);
    if (text[4] != '-' || text[7] != '-' || year < 0) return false;
    if (day < 1 || day > zone_month_days(year, month)) return false;
    *out_day = zone_day_of_date(year, month, day);
    return true;
}

/* The offset `Z` or `+hh:mm`, which must be all that is left. False when it is not. */
static bool offset_read(int32_t *out_s, const char *text, size_t length)
{
    *out_s = 0;
    if (length == 1) return text[0] == 'Z' || text[0] == 'z';
    if (length != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') return false;
    const int hours = digits(text, 1, 2);
    const int minutes = digits(text, 4, 2);
    if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59) return false;
    *out_s = (text[0] == '-' ? -1 : 1) * (hours * 3600 + minutes * 60);
    return true;
}

enum status instant_parse(int64_t *out_s, const char *text, size_t length, struct fault *fault)
{
    enum { DATE_TIME_BYTES = 19 };
    int32_t day = 0;
    if (length < DATE_TIME_BYTES + 1 || !day_read(&day, text) ||
        (text[10] != 'T' && text[10] != 't') || text[13] != ':' || text[16] != ':')
        return refuse(fault, text, length, instant_wanted);
    const int hour = digits(text, 11, 2);
    const int minute = digits(text, 14, 2);
    const int second = digits(text, 17, 2);
    if (hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 60)
        return refuse(fault, text, length, instant_wanted);
    if (second == 60) return refuse(fault, text, length, "a second from 00 to 59");
    size_t at = DATE_TIME_BYTES;
    if (text[at] == '.') {
        bool zero = true;
        size_t first = ++at;
        for (; at < length && text[at] >= '0' && text[at] <= '9'; at++) zero &= text[at] == '0';
        if (at == first) return refuse(fault, text, length, instant_wanted);
        if (!zero) return refuse(fault, text, length, "whole seconds");
    }
    int32_t offset_s = 0;
    if (!offset_read(&offset_s, text + at, length - at))
        return refuse(fault, text, length, instant_wanted);
    const int64_t at_s = (int64_t)day * ZONE_DAY_S + hour * 3600 + minute * 60 + second - offset_s;
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S)
        return refuse(fault, text, length, range_wanted);
    *out_s = at_s;
    return STATUS_OK;
}

static char *two(char *out, int value)
{
    out[0] = (char)('0' + value / 10);
    out[1] = (char)('0' + value % 10);
    return out + 2;
}

static char *date_write(char *out, int32_t day)
{
    int year = 0;
    int month = 0;
    int day_of_month = 0;
    zone_date_of_day(day, &year, &month, &day_of_month);
    REQUIRE(year >= 0 && year <= 9999);
    out = two(two(out, year / 100), year % 100);
    *out++ = '-';
    out = two(out, month);
    *out++ = '-';
    return two(out, day_of_month);
}

void instant_format(char out[INSTANT_TEXT_MAX], int64_t at_s, const struct zone *zone)
{
    REQUIRE(at_s >= FORMAT_MIN_S && at_s <= FORMAT_MAX_S);
    const int offset_min = zone == NULL ? 0 : zone_offset_s(zone, at_s) / 60;
    const int64_t wall_s = at_s + offset_min * 60;
    const int32_t day = (int32_t)zone_floor_div(wall_s, ZONE_DAY_S);
    const int second = (int)(wall_s - (int64_t)day * ZONE_DAY_S);
    out = date_write(out, day);
    *out++ = 'T';
    out = two(out, second / 3600);
    *out++ = ':';
    out = two(out, second / 60 % 60);
    *out++ = ':';
    out = two(out, second % 60);
    if (zone == NULL) {
        *out++ = 'Z';
    } else {
        const int away_min = offset_min < 0 ? -offset_min : offset_min;
        *out++ = offset_min < 0 ? '-' : '+';
        out = two(out, away_min / 60);
        *out++ = ':';
        out = two(out, away_min % 60);
    }
    *out = '\0';
}

enum status date_parse(int32_t *out_day, const char *text, size_t length, struct fault *fault)
{
    int32_t day = 0;
    if (length != DATE_TEXT_MAX - 1 || !day_read(&day, text))
        return refuse(fault, text, length, date_wanted);
    if (day < INSTANT_MIN_S / ZONE_DAY_S || day > INSTANT_MAX_S / ZONE_DAY_S)
        return refuse(fault, text, length, date_wanted);
    *out_day = day;
    return STATUS_OK;
}

void date_format(char out[DATE_TEXT_MAX], int32_t day)
{
    *date_write(out, day) = '\0';
}
