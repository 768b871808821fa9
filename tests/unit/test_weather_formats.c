/* SPDX-License-Identifier: MIT */
/* links: weather intake compute model */
/*
 * GHCN-Daily in both faces, public forecasts, EPW, and hours out of days. The samples are written
 * here in the published shapes; figures and stations are made up.
 */
#include "weather_case.h"

#include <stdlib.h>

static struct text sample;

static void set_up(void)
{
    weather_set_up();
    sample = (struct text)TEXT_UP_TO(4000000);
}

static void tear_down(void)
{
    text_free(&sample);
    weather_tear_down();
}

/* --- GHCN-Daily, fixed columns -------------------------------------------------------------- */

/* One line: `day` 1.. has `first`, the next ones one tenth more, `days` in all; then missing. */
static void dly_line(const char *year_month, const char *element, int first, int days)
{
    text_print(&sample, "XX000000001%s%s", year_month, element);
    for (int d = 0; d < 31; d++) {
        text_print(&sample, "%5d  X", d < days ? first + d : -9999);
    }
    text_add_byte(&sample, '\n');
}

static enum status read_dly(void)
{
    options.format = WEATHER_GHCN_DLY;
    options.latitude_deg = 40.0;
    options.longitude_deg = -75.0;
    return read_text(text_z(&sample));
}

static double day_figure(const double *column, const char *date)
{
    int32_t day = 0;
    ck_assert_int_eq(date_parse(&day, date, strlen(date), NULL), STATUS_OK);
    const int64_t i = (int64_t)day - weather_days(weather)->first_day;
    ck_assert(i >= 0 && i < (int64_t)weather_days(weather)->count);
    return column[i];
}

START_TEST(dly_values_are_tenths_and_past_the_month_there_are_none)
{
    dly_line("202602", "TMAX", 100, 28);
    dly_line("202602", "TMIN", 0, 28);
    dly_line("202602", "PRCP", 12, 28);
    dly_line("202602", "SNWD", 999, 28);
    ck_assert_int_eq(read_dly(), STATUS_OK);
    const struct weather_days *days = weather_days(weather);
    ck_assert_uint_eq(days->count, 28);
    ck_assert_double_eq_tol(day_figure(days->max_degc, "2026-02-03"), 10.2, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->min_degc, "2026-02-28"), 2.7, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->rain_mm, "2026-02-01"), 1.2, 1e-9);
    ck_assert_uint_eq(counted(WEATHER_UNUSED), 1);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 0);
}
END_TEST

START_TEST(dly_values_that_failed_a_check_are_dropped_and_counted)
{
    dly_line("202601", "TMIN", 0, 31);
    sample.data[21 + 2 * 8 + 6] = 'I'; /* the third day's quality flag */
    ck_assert_int_eq(read_dly(), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_QUALITY), 1);
    ck_assert(isnan(day_figure(weather_days(weather)->min_degc, "2026-01-03")));
    ck_assert_double_eq_tol(day_figure(weather_days(weather)->min_degc, "2026-01-04"), 0.3, 1e-9);
}
END_TEST

START_TEST(dly_traces_count_as_no_rain_and_presumed_zeros_as_missing)
{
    dly_line("202601", "PRCP", 0, 2);
    sample.data[21 + 5] = 'T';
    sample.data[21 + 8 + 5] = 'P';
    ck_assert_int_eq(read_dly(), STATUS_OK);
    ck_assert_uint_eq(counted(WEATHER_TRACE), 1);
    ck_assert_uint_eq(counted(WEATHER_MISSING), 30);
    ck_assert_double_eq_tol(day_figure(weather_days(weather)->rain_mm, "2026-01-01"), 0.0, 1e-9);
    ck_assert_uint_eq(weather_days(weather)->count, 1);
}
END_TEST

START_TEST(dly_month_thirteen_is_refused_with_its_line)
{
    dly_line("202601", "TMIN", 0, 31);
    dly_line("202613", "TMIN", 0, 31);
    ck_assert_int_eq(read_dly(), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
    ck_assert_str_eq(weather_report(weather)->items[0].fault.path, "file:2");
    ck_assert_str_eq(weather_report(weather)->items[0].fault.found, "\"202613\"");
}
END_TEST

START_TEST(dly_with_a_value_on_the_thirtieth_of_february_is_refused)
{
    dly_line("202602", "TMIN", 0, 30);
    ck_assert_int_eq(read_dly(), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 2);
    ck_assert_str_eq(weather_report(weather)->items[0].fault.path, "file:1 TMIN day 29");
}
END_TEST

START_TEST(dly_cut_in_the_middle_is_refused_and_trimmed_blanks_are_not)
{
    dly_line("202601", "TMIN", 0, 31);
    dly_line("202602", "TMIN", 0, 28);
    const size_t whole = sample.length;
    options.format = WEATHER_GHCN_DLY;
    options.latitude_deg = 40.0;
    options.longitude_deg = -75.0;
    ck_assert_int_eq(read_bytes(sample.data, whole - 100, 77), STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_SHAPE), 1);
    ck_assert_int_eq(read_bytes(sample.data, whole - 4, 77), STATUS_OK); /* LF and three flags */
    ck_assert_uint_eq(weather_report(weather)->days, 59);
}
END_TEST

START_TEST(another_format_under_the_name_of_dly_is_told)
{
    text_add_z(&sample, "time,temp_degc\n2026-01-05T06:00:00Z,1\n");
    ck_assert_int_eq(read_dly(), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "269");
    static const enum weather_format formats[] = {WEATHER_GHCN_CSV, WEATHER_EPW, WEATHER_NWS};
    for (size_t i = 0; i < 3; i++) {
        options.format = formats[i];
        ck_assert_int_eq(read_text(text_z(&sample)), STATUS_INVALID);
    }
}
END_TEST

START_TEST(dly_lines_of_two_stations_are_refused)
{
    dly_line("202601", "TMIN", 0, 31);
    dly_line("202602", "TMIN", 0, 28);
    sample.data[270 + 10] = '2';
    ck_assert_int_eq(read_dly(), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "one station");
}
END_TEST

START_TEST(days_without_a_place_make_no_hours)
{
    dly_line("202601", "TMIN", 0, 31);
    options.format = WEATHER_GHCN_DLY;
    ck_assert_int_eq(read_text(text_z(&sample)), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "latitude and longitude");
}
END_TEST

START_TEST(a_day_minimum_far_below_both_neighbours_is_questioned)
{
    for (int limit = 0; limit < 2; limit++) {
        text_clear(&sample);
        dly_line("202601", "TMIN", 0, 31);
        /* day 3 stands between 0.1 and 0.3: 15.0 below the lower one, then 14.9 */
        memcpy(sample.data + 21 + 2 * 8, limit == 0 ? " -149" : " -148", 5);
        ck_assert_int_eq(read_dly(), STATUS_OK);
        ck_assert_uint_eq(counted(WEATHER_QUESTIONED), limit == 0 ? 1 : 0);
        ck_assert_int_eq(isnan(day_figure(weather_days(weather)->min_degc, "2026-01-03")) != 0,
                         limit == 0);
    }
}
END_TEST

START_TEST(hours_before_1970_are_counted_and_left_out)
{
    dly_line("196912", "TMAX", 100, 31);
    dly_line("196912", "TMIN", 0, 31);
    dly_line("197001", "TMAX", 100, 31);
    dly_line("197001", "TMIN", 0, 31);
    ck_assert_int_eq(read_dly(), STATUS_OK);
    ck_assert_uint_eq(weather_report(weather)->days, 62);
    ck_assert_uint_eq(counted(WEATHER_TOO_OLD), 31 * 24 - 5);
    ck_assert_int_eq(weather_series(weather)->start_s, 0);
}
END_TEST

START_TEST(a_morning_observers_maximum_and_rain_belong_to_the_day_before)
{
    dly_line("202601", "TMAX", 100, 31);
    dly_line("202601", "PRCP", 50, 31);
    dly_line("202601", "TMIN", 0, 31);
    options.morning_observer = true;
    ck_assert_int_eq(read_dly(), STATUS_OK);
    const struct weather_days *days = weather_days(weather);
    ck_assert_double_eq_tol(day_figure(days->max_degc, "2026-01-04"), 10.4, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->rain_mm, "2026-01-04"), 5.4, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->min_degc, "2026-01-04"), 0.3, 1e-9);
}
END_TEST

static long read_for_ever(void *context, char *out, size_t capacity)
{
    size_t *sent = context;
    for (size_t i = 0; i < capacity; i++, (*sent)++) out[i] = sample.data[*sent % sample.length];
    return (long)capacity;
}

START_TEST(a_file_over_the_ceiling_is_refused_while_it_is_read)
{
    size_t sent = 0;
    const struct weather_source source = {"pipe", read_for_ever, &sent};
    dly_line("202601", "SNOW", 0, 31);
    options.format = WEATHER_GHCN_DLY;
    ck_assert_int_eq(weather_new(&weather, &options, &fault), STATUS_OK);
    ck_assert_int_eq(weather_read(weather, &source, &fault), STATUS_LIMIT);
    ASSERT_SAYS(fault.wanted, "256 MiB");
    ck_assert_uint_le(sent, (size_t)WEATHER_BYTES_MAX + 65536);
}
END_TEST

/* --- hours out of days ---------------------------------------------------------------------- */

START_TEST(solar_noon_is_early_in_november_and_follows_the_longitude)
{
    int32_t day = 0;
    int64_t noon_s = 0;
    /* 3 November: the sun is 16.4 minutes ahead of the mean clock (almanac, from memory) */
    ck_assert_int_eq(instant_parse(&noon_s, "2026-11-03T12:00:00Z", 20, NULL), STATUS_OK);
    ck_assert_double_eq_tol(weather_solar_h(noon_s, 0.0, &day), 12.0 + 16.4 / 60.0, 0.02);
    ck_assert_double_eq_tol(weather_solar_h(noon_s + 5 * 3600, -75.0, &day), 12.0 + 16.4 / 60.0,
                            0.02);
    /* 11 February: 14.2 minutes behind */
    ck_assert_int_eq(instant_parse(&noon_s, "2026-02-11T12:00:00Z", 20, NULL), STATUS_OK);
    ck_assert_double_eq_tol(weather_solar_h(noon_s, 0.0, &day), 12.0 - 14.2 / 60.0, 0.02);
    ck_assert_int_eq(instant_parse(&noon_s, "2026-02-11T00:00:00Z", 20, NULL), STATUS_OK);
    ck_assert_double_eq_tol(weather_solar_h(noon_s, -75.0, &day), 19.0 - 14.2 / 60.0, 0.02);
    ck_assert_int_eq(day, 20494); /* still 10 February at the sun */
}
END_TEST

START_TEST(hours_stay_between_the_minimum_and_the_maximum_and_keep_the_rain)
{
    double rain_mm = 0.0;
    double lowest = 100.0;
    double highest = -100.0;
    dly_line("202607", "TMAX", 300, 31);
    dly_line("202607", "TMIN", 150, 31);
    dly_line("202607", "PRCP", 24, 31);
    ck_assert_int_eq(read_dly(), STATUS_OK);
    const struct series *series = weather_series(weather);
    ck_assert_uint_eq(series->count, 31 * 24);
    for (size_t i = 240; i < 264; i++) { /* the eleventh: 16.0 to 31.0, next minimum 16.1 */
        lowest = fmin(lowest, series->temp_degc[i]);
        highest = fmax(highest, series->temp_degc[i]);
    }
    for (size_t i = 0; i < series->count; i++) {
        if (!isnan(series->rain_mm[i])) rain_mm += series->rain_mm[i];
    }
    ck_assert_double_ge(lowest, 16.0);
    ck_assert_double_le(lowest, 17.5);
    ck_assert_double_le(highest, 31.0);
    ck_assert_double_ge(highest, 30.7);
    ck_assert_double_eq_tol(rain_mm, 31 * 2.4 + 46.5, 0.2);
}
END_TEST

START_TEST(the_last_evening_has_no_hours_without_the_next_minimum)
{
    dly_line("202607", "TMAX", 300, 2);
    dly_line("202607", "TMIN", 150, 2);
    ck_assert_int_eq(read_dly(), STATUS_OK);
    ck_assert(!isnan(temp_at("2026-07-02T20:00:00Z")));
    ck_assert(isnan(temp_at("2026-07-03T03:00:00Z"))); /* 22:00 at the sun of the second day */
    ck_assert_uint_gt(counted(WEATHER_NO_HOURS), 0);
}
END_TEST

/* --- GHCN-Daily, one station's CSV ---------------------------------------------------------- */

START_TEST(by_station_rows_bring_flags_and_the_place)
{
    options.format = WEATHER_GHCN_CSV;
    ck_assert_int_eq(
        read_text("\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"TMAX\",\"TMAX_ATTRIBUTES\","
                  "\"TMIN\",\"TMIN_ATTRIBUTES\",\"PRCP\",\"PRCP_ATTRIBUTES\"\n"
                  "\"XX000000001\",\"2026-01-01\",\"41.5\",\"-74.5\",\"   56\",\",,X\",\"  -11\","
                  "\",,X\",\"    0\",\"T,,X,0700\"\n"
                  "\"XX000000001\",\"2026-01-02\",\"41.5\",\"-74.5\",\"   66\",\",,X\",\"  -21\","
                  "\",I,X\",\"\",\"\"\n"),
        STATUS_OK);
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    weather_place(weather, &latitude_deg, &longitude_deg);
    ck_assert_double_eq_tol(latitude_deg, 41.5, 1e-9);
    ck_assert_double_eq_tol(longitude_deg, -74.5, 1e-9);
    const struct weather_days *days = weather_days(weather);
    ck_assert_double_eq_tol(day_figure(days->max_degc, "2026-01-01"), 5.6, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->min_degc, "2026-01-01"), -1.1, 1e-9);
    ck_assert_double_eq_tol(day_figure(days->rain_mm, "2026-01-01"), 0.0, 1e-9);
    ck_assert(isnan(day_figure(days->min_degc, "2026-01-02")));
    ck_assert_uint_eq(counted(WEATHER_QUALITY), 1);
    ck_assert_uint_eq(counted(WEATHER_TRACE), 1);
    ck_assert_uint_eq(counted(WEATHER_MISSING), 1);
}
END_TEST

START_TEST(by_station_degrees_instead_of_tenths_are_not_taken_for_them)
{
    options.format = WEATHER_GHCN_CSV;
    options.latitude_deg = options.longitude_deg = 40.0;
    ck_assert_int_eq(read_text("STATION,DATE,TMIN,TMIN_ATTRIBUTES\nX,2026-01-01,5.6,\",,X\"\n"),
                     STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_UNREADABLE), 1);
    ck_assert_int_eq(read_text("STATION,DATE,TMIN\nX,2026-01-01,56\n"), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "TMIN_ATTRIBUTES");
    ck_assert_int_eq(read_text("STATION,DATE,TMIN,TMIN_ATTRIBUTES\nX,2026-02-30,56,\",,X\"\n"),
                     STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
}
END_TEST

/* --- public forecasts ----------------------------------------------------------------------- */

#define PERIODS(periods)                                                                           \
    "{\"type\":\"Feature\",\"properties\":{\"units\":\"us\",\"updateTime\":"                       \
    "\"2026-01-05T05:30:00+00:00\",\"periods\":[" periods "]}}"
#define PERIOD(start, end, rest)                                                                   \
    "{\"startTime\":\"2026-01-05T" start ":00:00-06:00\",\"endTime\":\"2026-01-05T" end            \
    ":00:00-06:00\"," rest "}"

static enum status read_nws(const char *text)
{
    options.format = WEATHER_NWS;
    return read_text(text);
}

START_TEST(periods_in_fahrenheit_and_celsius_become_hours)
{
    ck_assert_int_eq(
        read_nws(PERIODS(PERIOD("00", "01",
                                "\"temperature\":50,\"temperatureUnit\":\"F\",\"windSpeed\":\"5 to "
                                "10 mph\","
                                "\"relativeHumidity\":{\"unitCode\":\"wmoUnit:percent\",\"value\":"
                                "80}") "," PERIOD("01", "02",
                                                  "\"temperature\":-1.5,\"temperatureUnit\":\"C\","
                                                  "\"windSpeed\":\"18 km/h\"") "," PERIOD("02",
                                                                                          "03",
                                                                                          "\"temper"
                                                                                          "ature\":"
                                                                                          "{\"unitC"
                                                                                          "ode\":"
                                                                                          "\"wmoUni"
                                                                                          "t:"
                                                                                          "degC\","
                                                                                          "\"value"
                                                                                          "\":3},"
                                                                                          "\"windSp"
                                                                                          "eed\":"
                                                                                          "{\"unitC"
                                                                                          "ode\":"
                                                                                          "\"wmoUni"
                                                                                          "t:km_h-"
                                                                                          "1\","
                                                                                          "\"value"
                                                                                          "\":null}"
                                                                                          ",\"windG"
                                                                                          "ust\":"
                                                                                          "\"36 "
                                                                                          "km/h\"") "," PERIOD("03",
                                                                                                               "04",
                                                                                                               "\"temperature\":null"))),
        STATUS_OK);
    const struct series *series = weather_series(weather);
    ck_assert_double_eq_tol(temp_at("2026-01-05T06:00:00Z"), 10.0, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-01-05T07:00:00Z"), -1.5, 1e-9);
    ck_assert_double_eq_tol(temp_at("2026-01-05T08:00:00Z"), 3.0, 1e-9);
    ck_assert(isnan(temp_at("2026-01-05T09:00:00Z")));
    ck_assert_double_eq_tol(series->wind_mps[0], 4.4704, 1e-9);
    ck_assert_double_eq_tol(series->wind_mps[1], 5.0, 1e-9);
    ck_assert(isnan(series->wind_mps[2]));
    ck_assert_double_eq_tol(series->gust_mps[2], 10.0, 1e-9);
    ck_assert_double_eq_tol(series->rh_pct[0], 80.0, 1e-9);
    ck_assert_ptr_null(series->rain_mm); /* no amount is given: not a dry forecast */
    ck_assert_int_eq(weather_made_s(weather), 1767591000);
}
END_TEST

START_TEST(a_unit_nobody_knows_is_a_fault_with_its_place)
{
    ck_assert_int_eq(
        read_nws(PERIODS(PERIOD("00", "01", "\"temperature\":280,\"temperatureUnit\":\"K\""))),
        STATUS_INVALID);
    const struct weather_item *item = &weather_report(weather)->items[0];
    ck_assert_int_eq(item->reason, WEATHER_UNREADABLE);
    ck_assert_str_eq(item->fault.path, "file properties.periods[0].temperature");
    ck_assert_int_eq(read_nws(PERIODS(PERIOD("00", "01", "\"windSpeed\":\"a gentle breeze\""))),
                     STATUS_INVALID);
    ck_assert_int_eq(weather_report(weather)->items[0].reason, WEATHER_UNREADABLE);
}
END_TEST

START_TEST(periods_of_half_a_day_are_not_an_hourly_forecast)
{
    ck_assert_int_eq(
        read_nws(PERIODS(PERIOD("06", "18", "\"temperature\":50,\"temperatureUnit\":\"F\""))),
        STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
    ASSERT_SAYS(weather_report(weather)->items[0].fault.wanted, "one hour");
}
END_TEST

START_TEST(a_forecast_without_periods_or_cut_short_is_refused)
{
    ck_assert_int_eq(read_nws(PERIODS("")), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "no periods");
    ck_assert_int_eq(read_nws("{\"type\":\"FeatureCollection\",\"features\":[]}"), STATUS_INVALID);
    ASSERT_SAYS(fault.found, "neither");
    ck_assert_int_eq(read_nws("{\"properties\":{\"periods\":[{\"startTime\":"), STATUS_INVALID);
    ck_assert_int_eq(read_nws("[]"), STATUS_INVALID);
    ck_assert_int_eq(read_nws("null"), STATUS_INVALID);
    ck_assert_int_eq(read_nws("{\"properties\":{\"periods\":[7]}}"), STATUS_INVALID);
    ck_assert_int_eq(
        read_nws(PERIODS(PERIOD("00", "01", "\"temperature\":9999,\"temperatureUnit\":\"F\""))),
        STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_OUT_OF_RANGE), 1);
}
END_TEST

START_TEST(layers_of_the_grid_are_spread_over_their_hours)
{
    ck_assert_int_eq(
        read_nws("{\"properties\":{\"temperature\":{\"uom\":\"wmoUnit:degC\",\"values\":["
                 "{\"validTime\":\"2026-01-05T06:00:00+00:00/PT2H\",\"value\":4},"
                 "{\"validTime\":\"2026-01-05T08:00:00+00:00/PT1H\",\"value\":null}]},"
                 "\"quantitativePrecipitation\":{\"uom\":\"wmoUnit:mm\",\"values\":["
                 "{\"validTime\":\"2026-01-05T06:00:00+00:00/PT6H\",\"value\":12.6},"
                 "{\"validTime\":\"2026-01-05T12:00:00+00:00/P1DT1H\",\"value\":0}]}}}"),
        STATUS_OK);
    const struct series *series = weather_series(weather);
    ck_assert_uint_eq(series->count, 31);
    ck_assert_double_eq_tol(series->rain_mm[5], 2.1, 1e-9);
    ck_assert_double_eq_tol(series->rain_mm[30], 0.0, 1e-9);
    ck_assert_double_eq_tol(series->temp_degc[1], 4.0, 1e-9);
    ck_assert(isnan(series->temp_degc[2]));
    ck_assert_int_eq(
        read_nws("{\"properties\":{\"quantitativePrecipitation\":{\"uom\":\"wmoUnit:mm\","
                 "\"values\":[{\"validTime\":\"2026-01-05T06:00:00+00:00/PT90M\",\"value\":1}]}}}"),
        STATUS_INVALID);
    ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
}
END_TEST

/* --- EPW ------------------------------------------------------------------------------------ */

static void epw_headers(const char *zone)
{
    text_print(&sample, "LOCATION,Alder,-,-,made up,0,40.0,-75.0,%s,10\n", zone);
    text_add_z(&sample, "DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
                        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\n"
                        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n");
}

static void epw_row(const char *date_hour, const char *temp, const char *rain)
{
    text_print(&sample, "%s,0,?,%s,1.0,80,99000,0,0,0,0,0,0,0,0,0,0,180,3.5,9,9,", date_hour, temp);
    text_print(&sample, "9999,99999,9,999999999,0,0,0,0,0,%s,99\n", rain);
}

static enum status read_epw(void)
{
    options.format = WEATHER_EPW;
    return read_text(text_z(&sample));
}

START_TEST(epw_hours_are_told_at_their_end_in_the_zone_of_the_header)
{
    epw_headers("-5.0");
    epw_row("2018,1,1,1", "2.0", "0.5");
    epw_row("2018,1,1,24", "99.9", "999");
    ck_assert_int_eq(read_epw(), STATUS_OK);
    ck_assert_double_eq_tol(temp_at("2018-01-01T05:00:00Z"), 2.0, 1e-9);
    ck_assert(isnan(temp_at("2018-01-02T04:00:00Z")));
    ck_assert_double_eq_tol(at(weather_series(weather)->wind_mps, "2018-01-02T04:00:00Z"), 3.5,
                            1e-9);
    ck_assert_double_eq_tol(at(weather_series(weather)->rain_mm, "2018-01-01T05:00:00Z"), 0.5,
                            1e-9);
    ck_assert_uint_eq(counted(WEATHER_MISSING), 2);
    ck_assert(!weather_is_typical(weather));
}
END_TEST

START_TEST(epw_months_of_several_years_are_put_on_one)
{
    epw_headers("0");
    epw_row("2018,1,31,24", "2.0", "0");
    epw_row("2004,2,1,1", "3.0", "0");
    epw_row("2004,2,29,1", "3.0", "0");
    ck_assert_int_eq(read_epw(), STATUS_OK);
    ck_assert(weather_is_typical(weather));
    ck_assert_double_eq_tol(temp_at("2018-02-01T00:00:00Z"), 3.0, 1e-9);
    ck_assert_uint_eq(counted(WEATHER_UNUSED), 1); /* 2018 has no 29 February */
}
END_TEST

START_TEST(epw_hour_zero_and_hour_twenty_five_are_refused)
{
    static const char *const hours[] = {"2018,1,1,0", "2018,1,1,25", "2018,13,1,1", "2018,2,30,1",
                                        "2018,1,1,1.5"};
    for (size_t i = 0; i < sizeof hours / sizeof *hours; i++) {
        text_clear(&sample);
        epw_headers("0");
        epw_row(hours[i], "2.0", "0");
        ck_assert_int_eq(read_epw(), STATUS_INVALID);
        ck_assert_uint_eq(counted(WEATHER_BAD_TIME), 1);
        ck_assert_str_eq(weather_report(weather)->items[0].fault.path, "file:9");
    }
}
END_TEST

START_TEST(epw_with_headers_alone_or_cut_headers_is_refused)
{
    epw_headers("0");
    ck_assert_int_eq(read_epw(), STATUS_INVALID);
    text_clear(&sample);
    text_add_z(&sample, "LOCATION,Alder,-,-,made up,0,40.0,-75.0,0,10\nDESIGN CONDITIONS,0\n");
    ck_assert_int_eq(read_epw(), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "eight header lines");
    text_clear(&sample);
    epw_headers("nowhere");
    ck_assert_int_eq(read_epw(), STATUS_INVALID);
    ASSERT_SAYS(fault.wanted, "LOCATION");
}
END_TEST

/* --- damaged files -------------------------------------------------------------------------- */

START_TEST(no_damage_to_a_file_ends_in_anything_but_a_status)
{
    unsigned seed = 7;
    dly_line("202601", "TMIN", 0, 31);
    dly_line("202601", "TMAX", 90, 31);
    dly_line("202601", "PRCP", 0, 31);
    epw_headers("0");
    epw_row("2018,1,1,1", "2.0", "0");
    text_add_z(&sample, PERIODS(PERIOD("00", "01", "\"temperature\":50,\"windSpeed\":\"5 mph\"")));
    text_add_z(&sample, "\ntime,temp_degc\n2026-01-05T06:00:00Z,1\n\"a\"\"b\",\"c\n");
    options.latitude_deg = options.longitude_deg = 40.0;
    options.keep_good = true;
    size_t statuses[STATUS_COUNT] = {0};
    for (int round = 0; round < 6000; round++) {
        char damaged[4096];
        seed = seed * 1103515245u + 12345u;
        const size_t from = (seed >> 8) % (sample.length - 10);
        size_t length = sample.length - from;
        if (length > sizeof damaged) length = sizeof damaged;
        memcpy(damaged, sample.data + (round % 3 == 0 ? 0 : from), length);
        for (int hits = 0; hits < round % 5; hits++) {
            seed = seed * 1103515245u + 12345u;
            damaged[(seed >> 8) % length] = (char)(seed >> 24);
        }
        options.format = (enum weather_format)(round % WEATHER_FORMAT_COUNT);
        statuses[read_bytes(damaged, length, 1 + (seed >> 9) % 300)]++;
    }
    ck_assert_uint_eq(statuses[STATUS_OK] + statuses[STATUS_INVALID] + statuses[STATUS_LIMIT],
                      6000);
    ck_assert_uint_gt(statuses[STATUS_OK], 0);
    ck_assert_uint_gt(statuses[STATUS_INVALID], 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather formats");
    TCase *tests = tcase_create("formats");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, dly_values_are_tenths_and_past_the_month_there_are_none);
    tcase_add_test(tests, dly_values_that_failed_a_check_are_dropped_and_counted);
    tcase_add_test(tests, dly_traces_count_as_no_rain_and_presumed_zeros_as_missing);
    tcase_add_test(tests, dly_month_thirteen_is_refused_with_its_line);
    tcase_add_test(tests, dly_with_a_value_on_the_thirtieth_of_february_is_refused);
    tcase_add_test(tests, dly_cut_in_the_middle_is_refused_and_trimmed_blanks_are_not);
    tcase_add_test(tests, another_format_under_the_name_of_dly_is_told);
    tcase_add_test(tests, dly_lines_of_two_stations_are_refused);
    tcase_add_test(tests, days_without_a_place_make_no_hours);
    tcase_add_test(tests, a_day_minimum_far_below_both_neighbours_is_questioned);
    tcase_add_test(tests, hours_before_1970_are_counted_and_left_out);
    tcase_add_test(tests, a_morning_observers_maximum_and_rain_belong_to_the_day_before);
    tcase_add_test(tests, a_file_over_the_ceiling_is_refused_while_it_is_read);
    tcase_add_test(tests, solar_noon_is_early_in_november_and_follows_the_longitude);
    tcase_add_test(tests, hours_stay_between_the_minimum_and_the_maximum_and_keep_the_rain);
    tcase_add_test(tests, the_last_evening_has_no_hours_without_the_next_minimum);
    tcase_add_test(tests, by_station_rows_bring_flags_and_the_place);
    tcase_add_test(tests, by_station_degrees_instead_of_tenths_are_not_taken_for_them);
    tcase_add_test(tests, periods_in_fahrenheit_and_celsius_become_hours);
    tcase_add_test(tests, a_unit_nobody_knows_is_a_fault_with_its_place);
    tcase_add_test(tests, periods_of_half_a_day_are_not_an_hourly_forecast);
    tcase_add_test(tests, a_forecast_without_periods_or_cut_short_is_refused);
    tcase_add_test(tests, layers_of_the_grid_are_spread_over_their_hours);
    tcase_add_test(tests, epw_hours_are_told_at_their_end_in_the_zone_of_the_header);
    tcase_add_test(tests, epw_months_of_several_years_are_put_on_one);
    tcase_add_test(tests, epw_hour_zero_and_hour_twenty_five_are_refused);
    tcase_add_test(tests, epw_with_headers_alone_or_cut_headers_is_refused);
    tcase_add_test(tests, no_damage_to_a_file_ends_in_anything_but_a_status);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
