/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Weather gates, hour by hour: each limit with a figure on either side of it, what a roof, a house
 * and a room change, and what is not known. The figures are those of the rulebook as shipped.
 */
#include "gate_case.h"

#define EXPOSED "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"exposed\""
#define COVERED "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"covered\""
#define INDOOR SLAB
#define BAG(mortar, degf)                                                                          \
    "{\"kind\":\"bag\",\"lot\":\"L1\",\"mortar\":\"" mortar                                        \
    "\",\"min_degf\":" #degf AT("2026-10-19T15:00")
#define ck_says(gates, gate, hour, wanted) ck_assert_str_eq(sky_says(gates, gate, hour), wanted)

/* A figure of hour 3 (09:00 on Tuesday) decides what the gate says of it. */
#define ck_figure(array, figure, options, records, gate, wanted)                                   \
    do {                                                                                           \
        sky_mild();                                                                                \
        sky.array[3] = (figure);                                                                   \
        ck_says(sky_gates(options, records), gate, 3, wanted);                                     \
    } while (0)

START_TEST(pieces_stop_at_25_mph_gusts_and_not_below)
{
    ck_figure(gust_mph, 24.9, EXPOSED, "", GATE_CLASS_PIECES, "open");
    ck_figure(gust_mph, 25, EXPOSED, "", GATE_CLASS_PIECES, "closed gate.gust");
    ck_figure(gust_mph, 25, COVERED, "", GATE_CLASS_PIECES, "closed gate.gust");
    ck_figure(gust_mph, 60, INDOOR, "", GATE_CLASS_PIECES, "open");
}
END_TEST

START_TEST(the_scaffold_stops_at_20_mph_and_so_does_a_stack_through_the_roof_of_a_room)
{
    ck_figure(gust_mph, 19.9, EXPOSED, "", GATE_CLASS_SCAFFOLD, "open");
    ck_figure(gust_mph, 20, EXPOSED, "", GATE_CLASS_SCAFFOLD, "closed gate.scaffold-gust");
    ck_figure(gust_mph, 20, INDOOR, "", GATE_CLASS_SCAFFOLD, "open");
    ck_figure(gust_mph, 20, INDOOR ",\"through_roof\":true", ROOM("unit", "2026-10-19T09:00"),
              GATE_CLASS_SCAFFOLD, "closed gate.scaffold-gust");
}
END_TEST

START_TEST(without_a_gust_the_mean_wind_alone_is_asked_and_said_so)
{
    sky_mild();
    sky_fill(sky.gust_mph, 0, SKY_HOURS, NAN);
    sky.wind_mph[3] = 25;
    struct gates *gates = sky_gates(EXPOSED, "");
    const struct gate_hour *hour = gates_hour(gates, GATE_CLASS_PIECES, HOUR_0_S + 3 * 3600);
    ck_assert_int_eq(hour->state, GATE_CLOSED);
    ck_assert(hour->figure.mean_wind);
    ck_says(gates, GATE_CLASS_PIECES, 4, "open");
    sky_mild();
    sky.wind_mph[3] = 25; /* a gust is known, and lower: the gust is asked */
    ck_says(sky_gates(EXPOSED, ""), GATE_CLASS_PIECES, 3, "open");
    sky_mild();
    sky.gust_mph[3] = 26;
    hour = gates_hour(sky_gates(EXPOSED, ""), GATE_CLASS_PIECES, HOUR_0_S + 3 * 3600);
    ck_assert(!hour->figure.mean_wind);
    ck_assert_double_eq_tol(hour->figure.value, 26, 0.001);
    ck_assert_double_eq_tol(hour->figure.limit, 25, 0.001);
    ck_assert_int_eq(hour->figure.unit, UNIT_MPH);
    ck_assert_int_eq(hour->figure.mark, MARK_HR);
}
END_TEST

START_TEST(without_a_card_adhesive_mortar_stops_under_50)
{
    ck_figure(temp_degf, 50, EXPOSED, "", GATE_CLASS_PIECES, "open");
    ck_figure(temp_degf, 49.9, EXPOSED, "", GATE_CLASS_PIECES, "closed bag.minimum");
    ck_figure(temp_degf, 49.9, EXPOSED, "", GATE_CLASS_LINING, "closed bag.minimum");
}
END_TEST

START_TEST(the_bag_wins_when_it_is_warmer_and_40_holds_when_it_is_not)
{
    ck_figure(temp_degf, 45, EXPOSED, BAG("polymer", 45), GATE_CLASS_PIECES, "open");
    ck_figure(temp_degf, 44.9, EXPOSED, BAG("polymer", 45), GATE_CLASS_PIECES,
              "closed bag.minimum");
    ck_figure(temp_degf, 40, EXPOSED, BAG("polymer", 35), GATE_CLASS_PIECES, "open");
    ck_figure(temp_degf, 39.9, EXPOSED, BAG("polymer", 35), GATE_CLASS_PIECES, "closed gate.cold");
    ck_figure(temp_degf, 39.9, EXPOSED, BAG("hydraulic", 20), GATE_CLASS_PIECES,
              "closed gate.cold");
}
END_TEST

START_TEST(rain_stops_masonry_at_a_hundredth_of_an_inch_under_the_sky)
{
    ck_figure(rain_in, 0.0099, EXPOSED, "", GATE_CLASS_PIECES, "open");
    ck_figure(rain_in, 0.01, EXPOSED, "", GATE_CLASS_PIECES, "closed gate.rain");
    ck_figure(rain_in, 0.01, EXPOSED, "", GATE_CLASS_LINING, "closed gate.rain");
    ck_figure(rain_in, 1, INDOOR, "", GATE_CLASS_PIECES, "open");
}
END_TEST

START_TEST(under_a_roof_rain_counts_when_it_is_driven_or_the_wind_is_not_known)
{
    ck_figure(rain_in, 0.2, COVERED, "", GATE_CLASS_PIECES, "open");
    sky_mild();
    sky.rain_in[3] = sky.rain_in[4] = sky.rain_in[5] = 0.2;
    sky.gust_mph[3] = 14.9;
    sky.gust_mph[4] = 15;
    sky.gust_mph[5] = sky.wind_mph[5] = NAN;
    struct gates *gates = sky_gates(COVERED, "");
    ck_says(gates, GATE_CLASS_PIECES, 3, "open");
    ck_says(gates, GATE_CLASS_PIECES, 4, "closed gate.rain");
    ck_says(gates, GATE_CLASS_PIECES, 5, "closed gate.rain");
}
END_TEST

START_TEST(a_closed_room_knows_no_weather_but_its_own_reading_for_as_long_as_it_holds)
{
    sky_mild();
    sky_fill(sky.temp_degf, 0, SKY_HOURS, 10);
    sky_fill(sky.gust_mph, 0, SKY_HOURS, 60);
    sky_fill(sky.rain_in, 0, SKY_HOURS, 0.5);
    struct gates *gates =
        sky_gates(INDOOR, ROOM("unit", "2026-10-19T09:00") READ("unit", 62, "2026-10-20T05:00"));
    ck_says(gates, GATE_CLASS_PIECES, 3, "open");
    ck_says(gates, GATE_CLASS_PIECES, 22, "open");
    ck_says(gates, GATE_CLASS_PIECES, 23, "unknown"); /* read 24 h ago */
    gates =
        sky_gates(INDOOR, ROOM("unit", "2026-10-19T09:00") READ("unit", 48, "2026-10-20T05:00"));
    ck_says(gates, GATE_CLASS_PIECES, 3, "closed bag.minimum");
    ck_says(gates, GATE_CLASS_PIECES, 23, "unknown");
}
END_TEST

START_TEST(a_house_nobody_closed_in_is_as_cold_as_the_station)
{
    ck_figure(temp_degf, 49, INDOOR, "", GATE_CLASS_PIECES, "closed bag.minimum");
}
END_TEST

START_TEST(a_cold_piece_closes_the_hour_that_the_air_would_leave_open)
{
    sky_mild();
    struct gates *gates = sky_gates(EXPOSED, READ("unit", 44, "2026-10-20T05:30"));
    ck_says(gates, GATE_CLASS_PIECES, 1, "closed bag.minimum");
    ck_says(gates, GATE_CLASS_PIECES, 8, "open"); /* six hours after the reading: the forecast */
}
END_TEST

START_TEST(ordinary_mortar_goes_on_in_bands_by_the_air_each_with_its_measure)
{
    static const struct {
        double degf, wind_mph;
        const char *measures;
    } rows[] = {
        {40, 2, ""},
        {39.9, 2, "heat-sand-or-water"},
        {32, 2, "heat-sand-or-water"},
        {31.9, 2, "heat-sand-and-water"},
        {25, 2, "heat-sand-and-water"},
        {24.9, 15, "heat-sand-and-water warm-surfaces"},
        {24.9, 15.1, "heat-sand-and-water warm-surfaces wind-break"},
        {20, 2, "heat-sand-and-water warm-surfaces"},
        {19.9, 2, "heat-sand-and-water enclose-and-heat"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sky_mild();
        sky_fill(sky.temp_degf, 0, SKY_HOURS, 70); /* the mean of the day stays above 40 */
        sky.temp_degf[3] = rows[i].degf;
        sky.gust_mph[3] = rows[i].wind_mph;
        struct gates *gates = sky_gates(EXPOSED, "");
        ck_says(gates, GATE_CLASS_BLOCK, 2, "open");
        ck_assert_str_eq(sky_measures(gates, GATE_CLASS_BLOCK, 3, 4), rows[i].measures);
        ck_assert_int_eq(gates_hour(gates, GATE_CLASS_BLOCK, HOUR_0_S + 3 * 3600)->state,
                         *rows[i].measures == '\0' ? GATE_OPEN : GATE_MEASURE);
    }
}
END_TEST

START_TEST(the_card_of_a_hydraulic_mortar_stops_it_at_its_own_minimum)
{
    ck_figure(temp_degf, 36, EXPOSED, BAG("hydraulic", 36), GATE_CLASS_BLOCK,
              "with-measure gate.band-1");
    ck_figure(temp_degf, 35.9, EXPOSED, BAG("hydraulic", 36), GATE_CLASS_BLOCK,
              "closed bag.minimum");
    ck_figure(temp_degf, 35.9, EXPOSED, BAG("polymer", 50), GATE_CLASS_BLOCK,
              "with-measure gate.band-1");
}
END_TEST

START_TEST(heat_has_two_levels_and_each_begins_ten_degrees_earlier_in_wind)
{
    static const struct {
        double degf, gust_mph;
        const char *measures;
    } rows[] = {
        {90, 9, ""},
        {90.1, 8, ""},
        {90.1, 8.1, "cool-the-mortar"},
        {100, 8, ""},
        {100.1, 8, "cool-the-mortar"},
        {105, 9, "cool-the-mortar"},
        {105.1, 9, "cool-the-mortar shade-everything"},
        {115, 8, "cool-the-mortar"},
        {115.1, 8, "cool-the-mortar shade-everything"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sky_mild();
        sky.temp_degf[3] = rows[i].degf;
        sky.gust_mph[3] = rows[i].gust_mph;
        ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_PIECES, 3, 4),
                         rows[i].measures);
    }
}
END_TEST

START_TEST(protection_goes_by_the_mean_of_the_day_and_never_closes_an_hour)
{
    static const struct {
        double low_degf, high_degf;
        const char *measures;
    } rows[] = {
        {20, 60, ""}, /* mean 40, though the night is at 20 */
        {19, 60, "cover-after"},
        {0, 50, "cover-after"}, /* mean 25, though the air at work is 50 */
        {-1, 50, "insulate-after"},
        {-10, 50, "insulate-after"}, /* mean 20 */
        {-11, 50, "keep-warm-after"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sky_mild();
        sky_fill(sky.temp_degf, 0, SKY_HOURS, rows[i].high_degf);
        for (int night = 18; night < SKY_HOURS; night += 24)
            sky.temp_degf[night] = rows[i].low_degf;
        struct gates *gates = sky_gates(EXPOSED, "");
        ck_assert_str_eq(sky_measures(gates, GATE_CLASS_PIECES, 27, 29), rows[i].measures);
        ck_says(gates, GATE_CLASS_PIECES, 27, "open");
    }
}
END_TEST

START_TEST(a_base_is_laid_out_on_after_two_dry_hours_and_not_under_40)
{
    ck_figure(temp_degf, 40, EXPOSED, "", GATE_CLASS_LAYOUT, "open");
    ck_figure(temp_degf, 39.9, EXPOSED, "", GATE_CLASS_LAYOUT, "closed gate.layout-cold");
    sky_mild();
    sky.rain_in[3] = 0.01;
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_LAYOUT, 2, "open");
    ck_says(gates, GATE_CLASS_LAYOUT, 3, "closed gate.rain");
    ck_says(gates, GATE_CLASS_LAYOUT, 4, "closed gate.dry");
    ck_says(gates, GATE_CLASS_LAYOUT, 5, "closed gate.dry");
    ck_says(gates, GATE_CLASS_LAYOUT, 6, "open");
    ck_says(gates, GATE_CLASS_DECK, 5, "closed gate.dry");
    ck_says(gates, GATE_CLASS_ROOF, 5, "closed gate.dry");
    ck_says(gates, GATE_CLASS_ROOF, 6, "open");
}
END_TEST

START_TEST(under_frost_there_is_ice_for_twelve_hours_after_rain)
{
    sky_mild();
    sky.rain_in[3] = 0.05;
    sky_fill(sky.temp_degf, 10, 20, 31.9);
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_RECEIVE, 9, "open");
    ck_says(gates, GATE_CLASS_RECEIVE, 10, "closed gate.ice");
    ck_says(gates, GATE_CLASS_RECEIVE, 15, "closed gate.ice");
    ck_says(gates, GATE_CLASS_RECEIVE, 16, "open"); /* 13 h after the rain */
    sky_fill(sky.temp_degf, 10, 20, 32);
    ck_says(sky_gates(EXPOSED, ""), GATE_CLASS_RECEIVE, 15, "open");
}
END_TEST

START_TEST(a_footing_and_a_roof_ask_for_no_frost)
{
    ck_figure(temp_degf, 32, EXPOSED, "", GATE_CLASS_GROUND, "open");
    ck_figure(temp_degf, 31.9, EXPOSED, "", GATE_CLASS_GROUND, "closed frost.below");
    ck_figure(temp_degf, 32, EXPOSED, "", GATE_CLASS_ROOF, "open");
    ck_figure(temp_degf, 31.9, EXPOSED, "", GATE_CLASS_ROOF, "closed frost.below");
}
END_TEST

START_TEST(forms_stay_on_a_pad_that_reads_under_40)
{
    sky_mild();
    ck_says(sky_gates(EXPOSED, READ("pad", 39.9, "2026-10-20T05:30")), GATE_CLASS_STRIP, 2,
            "closed gate.strip-cold");
    ck_says(sky_gates(EXPOSED, READ("pad", 40, "2026-10-20T05:30")), GATE_CLASS_STRIP, 2, "open");
}
END_TEST

/* --- the pour ------------------------------------------------------------------------------- */

START_TEST(a_pour_is_closed_by_frost_on_its_base)
{
    ck_figure(temp_degf, 32, EXPOSED, "", GATE_CLASS_POUR, "with-measure gate.pour-cold");
    ck_figure(temp_degf, 31.9, EXPOSED, "", GATE_CLASS_POUR, "closed frost.below");
    sky_mild();
    ck_says(sky_gates(EXPOSED, READ("footing", 31, "2026-10-20T05:30")), GATE_CLASS_POUR, 2,
            "closed frost.below");
}
END_TEST

START_TEST(more_than_a_tenth_of_an_inch_in_its_hour_and_the_six_after_closes_a_pour_without_a_roof)
{
    sky_mild();
    sky.rain_in[9] = 0.1;
    ck_says(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 3, "open");
    sky.rain_in[9] = 0.101;
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_POUR, 2, "open"); /* hour 9 is the seventh after hour 2 */
    ck_says(gates, GATE_CLASS_POUR, 3, "closed gate.pour-rain");
    ck_says(gates, GATE_CLASS_POUR, 9, "closed gate.pour-rain");
    ck_says(gates, GATE_CLASS_POUR, 10, "open");
    ck_says(sky_gates(COVERED, ""), GATE_CLASS_POUR, 3, "open");
    ck_says(sky_gates(INDOOR, ""), GATE_CLASS_POUR, 3, "closed gate.pour-rain");
    ck_says(sky_gates(INDOOR, ROOM("pad", "2026-10-19T09:00") READ("pad", 60, "2026-10-20T05:00")),
            GATE_CLASS_POUR, 3, "open");
}
END_TEST

START_TEST(a_night_under_40_among_the_first_three_asks_for_blankets)
{
    sky_mild();
    sky.temp_degf[68] = 40; /* the third night: Friday 02:00 */
    ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 2, 4), "");
    sky.temp_degf[68] = 39.9;
    ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 2, 4),
                     "blankets place-warm");
    sky.temp_degf[68] = 60;
    sky.temp_degf[92] = 30; /* the fourth night */
    ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 2, 4), "");
    ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 26, 28),
                     "blankets place-warm");
}
END_TEST

START_TEST(a_night_that_blankets_cannot_make_up_for_closes_the_pour)
{
    sky_mild();
    sky.temp_degf[20] = 25;
    ck_says(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 2, "with-measure gate.pour-cold");
    sky.temp_degf[20] = 24.9;
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_POUR, 2, "closed gate.pour-keep");
    ck_says(sky_gates(EXPOSED, ROOM("pad", "2026-10-19T09:00") READ("pad", 60, "2026-10-20T05:00")),
            GATE_CLASS_POUR, 2, "open");
}
END_TEST

START_TEST(evaporation_is_watched_from_a_half_and_acted_on_from_one)
{
    /* E = 5 ((31+18)^2.5 - 0.5 (31+18)^2.5)(V+4) 1e-6 = 0.042018 (V+4): 0.5 at 7.900 km/h, 1.0 at
     * 19.799 km/h; 87.8 F, half saturated. 1 mph is 1.609344 km/h. */
    static const struct {
        double wind_mph;
        const char *measures;
    } rows[] = {{4.90, ""},
                {4.92, "watch-evaporation"},
                {12.29, "watch-evaporation"},
                {12.31, "slow-evaporation"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        sky_mild();
        sky_fill(sky.temp_degf, 0, SKY_HOURS, 87.8);
        sky.wind_mph[3] = rows[i].wind_mph;
        ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 3, 4),
                         rows[i].measures);
    }
    sky.rh_pct[3] = NAN; /* not known: nothing is asked */
    ck_assert_str_eq(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 3, 4), "");
}
END_TEST

START_TEST(the_morning_after_a_pour_somebody_looks_or_is_named)
{
    sky_mild();
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_POUR, 49, "open");                   /* Thursday */
    ck_says(gates, GATE_CLASS_POUR, 73, "with-measure gate.look"); /* Friday */
    gates = sky_gates(EXPOSED, "{\"kind\":\"held-date\",\"task\":\"pad-check\","
                               "\"date\":\"2026-10-24\"" AT("2026-10-19T15:00"));
    ck_says(gates, GATE_CLASS_POUR, 73, "open");
}
END_TEST

START_TEST(a_pour_that_begins_at_noon_or_later_is_better_begun_before)
{
    sky_mild();
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_assert_str_eq(sky_measures(gates, GATE_CLASS_POUR, 5, 8), "");
    ck_assert_str_eq(sky_measures(gates, GATE_CLASS_POUR, 6, 8), "pour-early"); /* 12:00 */
}
END_TEST

START_TEST(rain_down_an_open_flue_asks_to_close_it_while_they_line)
{
    sky_mild();
    sky.rain_in[3] = 0.05;
    ck_says(sky_gates(INDOOR, ""), GATE_CLASS_LINING, 3, "with-measure gate.flue");
    ck_says(sky_gates(INDOOR, DONE("cap-set", "2026-10-19T15:00")), GATE_CLASS_LINING, 3, "open");
}
END_TEST

/* --- what is not known ------------------------------------------------------------------------ */

START_TEST(an_hour_of_which_nothing_is_known_is_unknown_and_past_the_forecast_there_is_none)
{
    sky_mild();
    sky.count = 30;
    sky.temp_degf[3] = sky.rain_in[3] = sky.rh_pct[3] = sky.wind_mph[3] = sky.gust_mph[3] = NAN;
    struct gates *gates = sky_gates(EXPOSED, "");
    ck_says(gates, GATE_CLASS_PIECES, 3, "unknown");
    ck_says(gates, GATE_CLASS_PIECES, 29, "open");
    ck_says(gates, GATE_CLASS_PIECES, 30, "beyond");
}
END_TEST

START_TEST(a_bucket_lasts_90_minutes_under_80_degrees_and_the_bag_wins)
{
    static const char *const pot = "{\"kind\":\"bag\",\"lot\":\"L1\",\"mortar\":\"polymer\","
                                   "\"min_degf\":50,\"pot_life_min\":60" AT("2026-10-19T15:00");
    sky_mild();
    sky_fill(sky.temp_degf, 0, SKY_HOURS, 79.9);
    const int64_t from_s = HOUR_0_S + 3600, until_s = from_s + 7200;
    ck_assert_double_eq_tol(
        gates_bucket_h(sky_gates(EXPOSED, ""), GATE_CLASS_PIECES, from_s, until_s), 1.5, 1e-9);
    sky.temp_degf[2] = 80;
    ck_assert_double_eq_tol(
        gates_bucket_h(sky_gates(EXPOSED, ""), GATE_CLASS_PIECES, from_s, until_s), 0.75, 1e-9);
    ck_assert_double_eq_tol(
        gates_bucket_h(sky_gates(EXPOSED, pot), GATE_CLASS_PIECES, from_s, until_s), 1, 1e-9);
    ck_assert_double_eq_tol(
        gates_bucket_h(sky_gates(EXPOSED, ""), GATE_CLASS_BLOCK, from_s, until_s), 2.5, 1e-9);
    sky.temp_degf[2] = 90.1;
    ck_assert_double_eq_tol(
        gates_bucket_h(sky_gates(EXPOSED, ""), GATE_CLASS_BLOCK, from_s, until_s), 2, 1e-9);
    ck_assert(isnan(gates_bucket_h(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, from_s, until_s)));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        pieces_stop_at_25_mph_gusts_and_not_below,
        the_scaffold_stops_at_20_mph_and_so_does_a_stack_through_the_roof_of_a_room,
        without_a_gust_the_mean_wind_alone_is_asked_and_said_so,
        without_a_card_adhesive_mortar_stops_under_50,
        the_bag_wins_when_it_is_warmer_and_40_holds_when_it_is_not,
        rain_stops_masonry_at_a_hundredth_of_an_inch_under_the_sky,
        under_a_roof_rain_counts_when_it_is_driven_or_the_wind_is_not_known,
        a_closed_room_knows_no_weather_but_its_own_reading_for_as_long_as_it_holds,
        a_house_nobody_closed_in_is_as_cold_as_the_station,
        a_cold_piece_closes_the_hour_that_the_air_would_leave_open,
        ordinary_mortar_goes_on_in_bands_by_the_air_each_with_its_measure,
        the_card_of_a_hydraulic_mortar_stops_it_at_its_own_minimum,
        heat_has_two_levels_and_each_begins_ten_degrees_earlier_in_wind,
        protection_goes_by_the_mean_of_the_day_and_never_closes_an_hour,
        a_base_is_laid_out_on_after_two_dry_hours_and_not_under_40,
        under_frost_there_is_ice_for_twelve_hours_after_rain,
        a_footing_and_a_roof_ask_for_no_frost,
        forms_stay_on_a_pad_that_reads_under_40,
        a_pour_is_closed_by_frost_on_its_base,
        more_than_a_tenth_of_an_inch_in_its_hour_and_the_six_after_closes_a_pour_without_a_roof,
        a_night_under_40_among_the_first_three_asks_for_blankets,
        a_night_that_blankets_cannot_make_up_for_closes_the_pour,
        evaporation_is_watched_from_a_half_and_acted_on_from_one,
        the_morning_after_a_pour_somebody_looks_or_is_named,
        a_pour_that_begins_at_noon_or_later_is_better_begun_before,
        rain_down_an_open_flue_asks_to_close_it_while_they_line,
        an_hour_of_which_nothing_is_known_is_unknown_and_past_the_forecast_there_is_none,
        a_bucket_lasts_90_minutes_under_80_degrees_and_the_bag_wins,
    };
    return case_run("gate", tests, sizeof tests / sizeof *tests);
}
