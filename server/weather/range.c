/* SPDX-License-Identifier: MIT */
/*
 * Why: a thermometer that hangs for a day stands out from no neighbour, but a May afternoon at
 * -10 degC stands out from every May the station has had. A month counts as a year's once 480 of
 * its hours are known, so that one stray hour does not pass for a year of experience.
 */
#include "weather/range.h"

#include <math.h>

#include "compute/civil.h"

#include "base/banned.h"

enum { HOUR_S = 3600, DAY_S = 86400, MONTH_HOURS = 480 };

/* One month of one series: hours known, and what they reach. */
struct month {
    int year, month;
    int hours;
    double low_degc, high_degc;
};

static void keep(struct weather_range *out, const struct month *m)
{
    if (m->hours == 0) return;
    out->low_degc[m->month - 1] = fmin(out->low_degc[m->month - 1], m->low_degc);
    out->high_degc[m->month - 1] = fmax(out->high_degc[m->month - 1], m->high_degc);
    if (m->hours >= MONTH_HOURS) out->years[m->month - 1]++;
}

static void add(struct weather_range *out, const struct series *hours)
{
    struct month m = {.year = 0};
    int32_t last = INT32_MIN;
    if (hours->temp_degc == NULL) return;
    for (size_t i = 0; i < hours->count; i++) {
        const int32_t day = (int32_t)((hours->start_s + (int64_t)i * HOUR_S) / DAY_S);
        if (day != last) {
            int year, month, day_of_month;
            civil_date(day, &year, &month, &day_of_month);
            last = day;
            if (year != m.year || month != m.month) {
                keep(out, &m);
                m = (struct month){year, month, 0, (double)NAN, (double)NAN};
            }
        }
        if (isnan(hours->temp_degc[i])) continue;
        m.low_degc = fmin(m.low_degc, hours->temp_degc[i]); /* fmin passes over NAN */
        m.high_degc = fmax(m.high_degc, hours->temp_degc[i]);
        m.hours++;
    }
    keep(out, &m);
}

void weather_range_of(struct weather_range *out, const struct station *station)
{
    for (int m = 0; m < WEATHER_MONTHS; m++) {
        out->low_degc[m] = out->high_degc[m] = (double)NAN;
        out->years[m] = 0;
    }
    add(out, &station->observed);
    for (size_t i = 0; i < station->history_count; i++) add(out, &station->history[i]);
}
