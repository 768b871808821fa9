/* SPDX-License-Identifier: MIT */
/*
 * Why: a demonstration needs weather that behaves. The model has a year (cold and clear winters,
 * dry summers), a day whose swing shrinks under cloud, and fronts: every few days the air warms
 * ahead of one, cloud, wind and rain come with it, and behind it the air is colder and drier.
 * Humidity follows from a dew point near the night's minimum, so that it is high at dawn and in
 * rain and low in the afternoon. Left out: snow on the ground, inversions, the difference between
 * one forecast and the next. The numbers are invented and are nobody's climate.
 */
#include "app/demo_weather.h"

#include <math.h>
#include <stdbool.h>

#include "base/banned.h"

enum {
    HOUR_S = 3600,
    DAY_H = 24,
    OBSERVED_DAYS = 120,
    FORECAST_H = 7 * DAY_H,
    HISTORY_DAYS = 365, /* an outdoor count begun in autumn may need the spring */
    HISTORY_YEARS = 6,
    FRONT_EVERY_H = 100, /* a front in each slot of this length ... */
    FRONT_SPREAD_H = 64, /* ... somewhere in its first hours */
    PEAK_HOUR = 15,      /* the warmest hour by the clock */
    WARMEST_DAY = 203,   /* 22 July */
};

static const double pi = 3.14159265358979323846;
static const double year_days = 365.2425;

/* A number 0..1 that belongs to (what, index): splitmix64. */
static double chance(uint64_t what, int64_t index)
{
    uint64_t z = (uint64_t)index * 0x9e3779b97f4a7c15U + what * 0xd1b54a32d192ed03U;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
    z ^= z >> 31;
    return (double)(z >> 11) * 0x1.0p-53;
}

enum { OF_FRONT_TIME, OF_FRONT_FORCE, OF_FRONT_RAIN, OF_HOUR_RAIN, OF_HOUR_WIND, OF_HOUR_TEMP };

struct front {
    int64_t hour;
    double force; /* 0.25..1 */
    bool wet;
};

static struct front front_of(int64_t slot)
{
    return (struct front){
        .hour = slot * FRONT_EVERY_H + (int64_t)(chance(OF_FRONT_TIME, slot) * FRONT_SPREAD_H),
        .force = 0.25 + 0.75 * chance(OF_FRONT_FORCE, slot),
        .wet = chance(OF_FRONT_RAIN, slot) < 0.7,
    };
}

/* Where an hour stands between the front that passed and the one that comes. */
struct sky {
    struct front passed;
    struct front coming;
    double since_h;
    double until_h;
    double cloud; /* 0..1 */
};

/* A hump of height 1 around 0. */
static double hump(double x, double width)
{
    const double t = x / width;
    return 1 / (1 + t * t * t * t);
}

static struct sky sky_of(int64_t hour)
{
    int64_t slot = hour / FRONT_EVERY_H;
    struct sky sky = {.passed = front_of(slot)};
    if (sky.passed.hour > hour) {
        sky.coming = sky.passed;
        sky.passed = front_of(slot - 1);
    } else {
        sky.coming = front_of(slot + 1);
    }
    sky.since_h = (double)(hour - sky.passed.hour);
    sky.until_h = (double)(sky.coming.hour - hour);
    const double behind = sky.passed.force * hump(sky.since_h, 14);
    const double ahead = sky.coming.force * hump(sky.until_h, 12);
    sky.cloud = fmin(1, 0.1 + fmax(behind, ahead));
    return sky;
}

/* Warmth of the year, -1 (winter) .. 1 (summer). */
static double season_of(int64_t hour)
{
    const double day = fmod((double)hour / DAY_H, year_days);
    return cos(2 * pi * (day - WARMEST_DAY + 1) / year_days);
}

/* Rain of the hour: most within half a day behind a wet front, in bursts. */
static double rain_of(int64_t hour, const struct sky *sky, double season)
{
    const double chance_now = chance(OF_HOUR_RAIN, hour);
    const double behind = sky->passed.wet ? sky->passed.force * hump(sky->since_h - 3, 6) : 0;
    const double ahead = sky->coming.wet ? sky->coming.force * hump(sky->until_h - 1, 3) : 0;
    const double likely = fmax(behind, ahead) * (0.78 - 0.14 * season);
    if (likely < 0.12 || chance_now > likely) return 0;
    const double burst = chance_now / likely;
    const double rain_mm = 0.2 + 3.4 * likely * burst * burst;
    return round(10 * rain_mm) / 10;
}

/* Saturation pressure over water, relative: Magnus, good to a percent, enough for show. */
static double vapour(double temp_degc)
{
    return exp(17.62 * temp_degc / (243.12 + temp_degc));
}

struct demo_hour demo_weather_hour(int64_t hour, int offset_h)
{
    const double season = season_of(hour);
    const struct sky sky = sky_of(hour);
    const double swing_degc = (6.5 + 1.5 * season) * (1 - 0.65 * sky.cloud);
    const double clock_h = (double)((hour + offset_h) % DAY_H);
    const double of_day = cos(2 * pi * (clock_h - PEAK_HOUR) / DAY_H);
    const double front_degc = -9.0 * sky.passed.force * exp(-sky.since_h / 30) +
                              5.0 * sky.coming.force * exp(-sky.until_h / 26);
    const double mean_degc = 8.0 + 12.0 * season + front_degc;
    const double noise = chance(OF_HOUR_TEMP, hour) - 0.5;
    struct demo_hour out = {.temp_degc = mean_degc + swing_degc * of_day + 0.8 * noise};
    out.rain_mm = rain_of(hour, &sky, season);
    const double dry_degc = 1.5 + 3.0 * (season > 0 ? season : 0) * (1 - sky.cloud);
    double dew_degc = mean_degc - swing_degc - dry_degc + 2.5 * sky.cloud;
    if (out.rain_mm > 0) dew_degc = fmax(dew_degc, out.temp_degc - 1.0);
    dew_degc = fmin(dew_degc, out.temp_degc);
    out.rh_pct = fmin(100, fmax(12, 100 * vapour(dew_degc) / vapour(out.temp_degc)));
    const double breeze = 1.2 + 1.6 * (of_day > 0 ? of_day : 0);
    const double storm = 6.0 * fmax(sky.passed.force * hump(sky.since_h, 7),
                                    0.8 * sky.coming.force * hump(sky.until_h, 6));
    out.wind_mps = (breeze + storm) * (0.75 + 0.5 * chance(OF_HOUR_WIND, hour));
    out.gust_mps = 1.0 + 1.55 * out.wind_mps;
    return out;
}

/* --- as JSON --- */

struct stretch {
    int64_t first_hour;
    int64_t count;
    const struct zone *zone;
    struct demo_hour *hours; /* room for the longer of the two */
};

enum column { COLUMN_TEMP, COLUMN_RAIN, COLUMN_RH, COLUMN_WIND, COLUMN_GUST, COLUMN_COUNT };

static const char *const column_names[COLUMN_COUNT] = {"temp_degc", "rain_mm", "rh_pct", "wind_mps",
                                                       "gust_mps"};

static void put_column(struct json *json, const struct demo_hour *hours, int64_t count,
                       enum column column)
{
    json_open_array(json, column_names[column]);
    for (int64_t i = 0; i < count; i++) {
        const double figures[COLUMN_COUNT] = {hours[i].temp_degc, hours[i].rain_mm, hours[i].rh_pct,
                                              hours[i].wind_mps, hours[i].gust_mps};
        json_put_fixed(json, NULL, figures[column], column == COLUMN_RH ? 0 : 1);
    }
    json_close(json);
}

static void put_stretch(struct json *json, const struct stretch *stretch, int columns)
{
    for (int64_t i = 0; i < stretch->count; i++) {
        const int64_t hour = stretch->first_hour + i;
        const int offset_h = zone_offset_s(stretch->zone, hour * HOUR_S) / HOUR_S;
        stretch->hours[i] = demo_weather_hour(hour, offset_h);
    }
    json_put_instant(json, "start", stretch->first_hour * HOUR_S, stretch->zone);
    for (int c = 0; c < columns; c++)
        put_column(json, stretch->hours, stretch->count, (enum column)c);
}

/* The same date some years before; 29 February becomes the 28th. */
static int32_t years_before(int32_t day, int years)
{
    int year, month, of_month;
    zone_date_of_day(day, &year, &month, &of_month);
    const int there = zone_month_days(year - years, month);
    return zone_day_of_date(year - years, month, of_month < there ? of_month : there);
}

void demo_weather_station(struct json *json, int64_t now_s, const struct zone *zone,
                          struct arena *arena)
{
    const int64_t now_hour = now_s / HOUR_S;
    struct stretch stretch = {now_hour - OBSERVED_DAYS * DAY_H, OBSERVED_DAYS * DAY_H, zone, NULL};
    stretch.hours = ARENA_TAKE(arena, HISTORY_DAYS * DAY_H, struct demo_hour);
    if (stretch.hours == NULL) return;
    json_open_object(json, "tamsel-mill");
    json_put_text(json, "name", "Tamsel mill weather post");
    json_put_number(json, "latitude", 43.7);
    json_put_number(json, "longitude", -109.4);
    json_open_object(json, "observed");
    put_stretch(json, &stretch, COLUMN_COUNT);
    json_close(json);
    json_open_object(json, "forecast");
    stretch.first_hour = now_hour;
    stretch.count = FORECAST_H;
    put_stretch(json, &stretch, COLUMN_COUNT);
    json_put_instant(json, "made", now_hour * HOUR_S, zone);
    json_close(json);
    json_open_array(json, "history");
    const int32_t today = (int32_t)(now_hour / DAY_H);
    for (int back = HISTORY_YEARS; back >= 1; back--) {
        stretch.first_hour = (int64_t)years_before(today, back) * DAY_H;
        stretch.count = HISTORY_DAYS * DAY_H;
        json_open_object(json, NULL);
        put_stretch(json, &stretch,
                    COLUMN_RH); /* temperature and rain: all that an outlook reads */
        json_close(json);
    }
    json_close(json);
    json_close(json);
}
