/* SPDX-License-Identifier: MIT */
/* Why: what was not taken, and why; the first of them one by one, all of them counted. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "weather/import.h"

#include "base/banned.h"

static const struct {
    const char *name;
    bool fault;
    const char *says;
} reasons[WEATHER_REASON_COUNT] = {
    [WEATHER_MISSING] = {"missing", false, "figures the file marks as missing"},
    [WEATHER_QUALITY] = {"quality-flagged", false,
                         "figures that failed a check of their publisher"},
    [WEATHER_TRACE] = {"trace", false, "traces of rain, taken as 0"},
    [WEATHER_REPEATED] = {"repeated", false, "figures said twice, kept once"},
    [WEATHER_UNUSED] = {"unused", false, "rows, elements or layers that are not used here"},
    [WEATHER_TOO_OLD] = {"before-1970", false, "hours before 1970, which no series holds"},
    [WEATHER_NO_HOURS] = {"no-hours", false,
                          "hours of days that lack what they are worked out from"},
    [WEATHER_THINNED] = {"thinned", false, "readings left out beside a colder one"},
    [WEATHER_QUESTIONED] = {"questioned", false, "figures that stand out from both neighbours"},
    [WEATHER_UNUSUAL] = {"unusual", false,
                         "figures beyond all this station had in that month, the cold ones kept"},
    [WEATHER_SHAPE] = {"wrong-shape", true, "rows that are not of this format"},
    [WEATHER_UNREADABLE] = {"unreadable", true, "figures that cannot be read"},
    [WEATHER_OUT_OF_RANGE] = {"out-of-range", true, "figures that no weather on record had"},
    [WEATHER_BAD_TIME] = {"bad-time", true, "times that cannot be read or never were"},
    [WEATHER_AFTER_NOW] = {"after-now", true, "observed hours later than now"},
    [WEATHER_CONTRADICTED] = {"contradicted", true, "figures that differ for the same time"},
};

const char *weather_reason_name(enum weather_reason reason)
{
    return reasons[reason].name;
}

bool weather_reason_is_fault(enum weather_reason reason)
{
    return reasons[reason].fault;
}

void report_count(struct weather_report *report, enum weather_reason reason, size_t times)
{
    report->counts[reason] += times;
    if (reasons[reason].fault) report->faults += times;
}

void report_tell(struct weather_report *report, enum weather_reason reason, const char *where,
                 const char *wanted, const char *found_format, ...)
{
    report_count(report, reason, 1);
    if (report->item_count == WEATHER_ITEMS_MAX) {
        report->items_dropped++;
        return;
    }
    char found[FAULT_TEXT_MAX];
    va_list arguments;
    va_start(arguments, found_format);
    (void)vsnprintf(found, sizeof found, found_format, arguments);
    va_end(arguments);
    for (char *c = found; *c != '\0'; c++) {
        if ((unsigned char)*c < ' ' || *c == 0x7f) *c = '?'; /* a terminal must not be steered */
    }
    struct weather_item *item = &report->items[report->item_count++];
    item->reason = reason;
    fault_set(&item->fault, where, wanted, "%s", found);
}

void weather_report_text(struct text *out, const struct weather *weather)
{
    const struct weather_report *report = &weather->report;
    text_print(out, "%zu rows read", report->rows);
    if (report->days > 0) text_print(out, ", %zu days", report->days);
    if (weather->reading_count > 0) text_print(out, ", %zu readings", weather->reading_count);
    text_print(out, ", %zu hours", report->hours);
    if (weather->series.count > 0) {
        const int64_t end_s = weather->series.start_s + (int64_t)weather->series.count * 3600;
        text_add_z(out, " from ");
        text_instant(out, weather->series.start_s, NULL);
        text_add_z(out, " to ");
        text_instant(out, end_s, NULL);
    }
    text_add_byte(out, '\n');
    if (weather->typical) {
        text_add_z(out,
                   "a typical year put together out of several: one past year, not observed\n");
    }
    for (size_t i = 0; i < WEATHER_REASON_COUNT; i++) {
        if (report->counts[i] == 0) continue;
        text_print(out, "%s: %zu %s%s\n", reasons[i].name, report->counts[i], reasons[i].says,
                   reasons[i].fault ? " (fault)"
                   : (i == WEATHER_QUESTIONED || i == WEATHER_UNUSUAL) &&
                           weather->options.keep_questioned
                       ? ", kept"
                       : "");
    }
    for (size_t i = 0; i < report->item_count; i++) {
        const struct weather_item *item = &report->items[i];
        text_print(out, "  %s: %s: found %s, wanted %s\n", item->fault.path,
                   reasons[item->reason].name, item->fault.found, item->fault.wanted);
    }
    if (report->items_dropped > 0) text_print(out, "  and %zu more\n", report->items_dropped);
}
