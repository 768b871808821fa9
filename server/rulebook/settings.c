/* SPDX-License-Identifier: MIT */
/*
 * Why: the ids of the settings and, beside each, the unit it is written in and the direction that
 * is later. The direction is decided per setting with the rule of the history or the day in mind: a
 * number that makes something count less, hold back longer or warn sooner is later. Where either
 * change can be earlier on some day (a shorter pair of readings in the open hands over to a warmer
 * station) the number stays as shipped.
 */
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

#define SETTINGS_TEXT(name, id) id,
static const char *const setting_text[] = {SETTING_LIST(SETTINGS_TEXT)};
const struct id_table setting_ids = {"setting", setting_text,
                                     sizeof setting_text / sizeof *setting_text};

#define H "h", NULL
#define TEMPERATURE "F", "C"
#define DIFFERENCE "F-difference", "C-difference"
#define WARM "warm-hour", NULL
#define FACTOR "1", NULL
#define DAYS "day", NULL
#define COUNTED "counted-day", NULL
#define WIND "mph", "m/s"

const struct setting_spec setting_specs[SETTING_COUNT] = {
    /* In the open a reading gives way to the station, which may be warmer or colder. */
    [SETTING_READING_HOLD_OPEN_H] = {H, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_READING_PAIR_H] = {H, LATER_SAME, SECTION_READINGS, 0},
    /* A pair or bridge not made leaves the warmer of the two to hold on its own for a while. */
    [SETTING_READING_PAIR_THERMOSTAT_H] = {H, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_READING_BRIDGE_H] = {H, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_READING_BRIDGE_LESS_DEGC] = {DIFFERENCE, LATER_MORE, SECTION_READINGS, 0},
    /* In a closed place the alternative to a reading that holds is none. */
    [SETTING_READING_HOLD_CLOSED_H] = {H, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_READING_HOLD_THERMOSTAT_H] = {H, LATER_LESS, SECTION_READINGS, 0},
    /* The lowest of more readings is lower. */
    [SETTING_READING_FIGURE_H] = {H, LATER_MORE, SECTION_READINGS, 0},
    [SETTING_READING_DISAGREE_DEGC] = {DIFFERENCE, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_READING_BLANKET_AHEAD_H] = {H, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_READING_BLANKET_OVER_DEGC] = {DIFFERENCE, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_CAP_LOWEST_H] = {H, LATER_MORE, SECTION_READINGS, 0},
    [SETTING_CAP_IMPRESSION_H] = {H, LATER_MORE, SECTION_READINGS, 0},
    [SETTING_HOT_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_FORECAST_OLD_H] = {H, LATER_LESS, SECTION_READINGS, 0},
    [SETTING_ALARM_REPEAT_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_ALARM_QUIET_FROM_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_ALARM_QUIET_UNTIL_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_ALARM_CAN_ACT_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_DIURNAL_PEAK_LAG_H] = {H, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_DIURNAL_NIGHT_FALL] = {FACTOR, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_DIURNAL_MIN_LAG_H] = {"signed-h", NULL, LATER_SAME, SECTION_READINGS, 0},
    [SETTING_FROST_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_FROST, 0},
    [SETTING_FROST_LIMIT] = {WARM, LATER_MORE, SECTION_FROST, 0},
    [SETTING_BLENDED_FACTOR] = {FACTOR, LATER_MORE, SECTION_CLOCKS, 0},
    [SETTING_MORTAR_STALL_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CLOCKS, 0},
    [SETTING_MORTAR_POLYMER_H] = {H, LATER_MORE, SECTION_CLOCKS, 0},
    [SETTING_MOIST_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CLOCKS, 0},
    [SETTING_DAY_FULL_MEAN_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_FULL_MIN_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_HALF_MEAN_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_HALF_MIN_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_HALF_CREDIT] = {COUNTED, LATER_LESS, SECTION_DAYS, 1},
    [SETTING_DAY_SOAKED_DAYS] = {DAYS, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_STANDING_DAYS] = {DAYS, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_RAIN_MM] = {"mm", "in", LATER_LESS, SECTION_DAYS, 0},
    [SETTING_DAY_RAIN_NEXT_MM] = {"mm", "in", LATER_LESS, SECTION_DAYS, 0},
    [SETTING_DAY_UNCAPPED_DAYS] = {DAYS, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_RAIN_UNKNOWN_H] = {H, LATER_LESS, SECTION_DAYS, 0},
    [SETTING_DAY_NO_READING_H] = {H, LATER_LESS, SECTION_DAYS, 0},
    [SETTING_DAY_EARLY_DAYS] = {COUNTED, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_DAY_LOOK_AFTER_H] = {H, LATER_LESS, SECTION_DAYS, 0},
    [SETTING_PATCH_DAYS_INITIALS] = {COUNTED, LATER_MORE, SECTION_DAYS, 0},
    [SETTING_PATCH_DAYS] = {COUNTED, LATER_MORE, SECTION_DAYS, 0},
    /* More of what was laid again is a panel, which starts the whole count again. */
    [SETTING_RELAID_SIDE_PERCENT] = {"percent", NULL, LATER_LESS, SECTION_DAYS, 100},
    [SETTING_PROMISE_INDOOR_DAYS] = {DAYS, LATER_MORE, SECTION_DATES, 0},
    [SETTING_PROMISE_COVERED_DAYS] = {DAYS, LATER_MORE, SECTION_DATES, 0},
    [SETTING_OUTLOOK_YEARS] = {"year", NULL, LATER_MORE, SECTION_DATES, 0},
    [SETTING_OUTLOOK_RECENT_YEARS] = {"year", NULL, LATER_FREE, SECTION_DATES, 0},
    [SETTING_RECENT_RATE_DAYS] = {DAYS, LATER_FREE, SECTION_DATES, 0},
    [SETTING_FIRE_DRY_H] = {H, LATER_MORE, SECTION_DATES, 0},
    [SETTING_FIRE_GAP_H] = {H, LATER_MORE, SECTION_DATES, 0},
    [SETTING_FIRE_GUST_MPS] = {WIND, LATER_LESS, SECTION_DATES, 0},
    [SETTING_FIRE_COLD_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_DATES, 0},
    [SETTING_FIRE_REST_DAYS] = {COUNTED, LATER_MORE, SECTION_DATES, 0},
    [SETTING_FIRE_SOAKED_DAYS] = {DAYS, LATER_MORE, SECTION_DATES, 0},
    [SETTING_PROMISE_THIN_DAYS] = {DAYS, LATER_FREE, SECTION_DATES, 0},
    [SETTING_FIRE_STEP_BACK_OPEN_DAYS] = {DAYS, LATER_LESS, SECTION_DATES, 0},
    [SETTING_FIRE_STEP_BACK_ROOM_DAYS] = {DAYS, LATER_LESS, SECTION_DATES, 0},
    /* Where a crew starts only with more of its day left, it starts later. */
    [SETTING_START_LEFT_ON_SITE_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_START_LEFT_DRIVE_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_START_DRIVE_OVER_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_DRIVE_ROAD_FACTOR] = {FACTOR, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_DRIVE_SPEED_MPS] = {WIND, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_DRIVE_NEAR_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_CREWS_HALF_DAY_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_CREWS_LONG_CLOCK] = {FACTOR, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_CREWS_KEEP_H] = {H, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_EVAPORATION_CAUTION_KGM2H] = {"kg/m2/h", NULL, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_EVAPORATION_ACT_KGM2H] = {"kg/m2/h", NULL, LATER_LESS, SECTION_CREWS, 0},
    /* A duration, like the hours of a task: the company's own logged figure may replace it. */
    [SETTING_THIN_LINING_FACTOR] = {FACTOR, LATER_FREE, SECTION_CREWS, 0},
    [SETTING_LIFT_DAY_FT] = {"ft", NULL, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_LIFT_FIRST_FT] = {"ft", NULL, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_LIFT_FIRST_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_COLD_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_GUST_MPS] = {WIND, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_SCAFFOLD_GUST_MPS] = {WIND, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_RAIN_MM] = {"in", "mm", LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_RAIN_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_RAIN_MM] = {"in", "mm", LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_DRIVEN_RAIN_MPS] = {WIND, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_DRY_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_ICE_H] = {H, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_LAYOUT_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_STRIP_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_NIGHTS] = {DAYS, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_LIFT_DEGC] = {DIFFERENCE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_KEEP_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_PLACED_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_POUR_BEFORE_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_EVAPORATION_CONCRETE_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_BAND_1_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_BAND_2_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_BAND_3_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_BAND_4_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_GATE_BAND_WIND_MPS] = {WIND, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_HOT_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_HOT_BREEZY_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_VERY_HOT_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_VERY_HOT_BREEZY_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_GATE_BREEZE_MPS] = {WIND, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_PROTECT_COVER_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_PROTECT_INSULATE_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_PROTECT_HEAT_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_BUCKET_LIFE_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_BUCKET_WARM_DEGC] = {TEMPERATURE, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_BUCKET_LIFE_WARM_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_BUCKET_ORDINARY_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_BUCKET_ORDINARY_HOT_H] = {H, LATER_LESS, SECTION_CREWS, 0},
    [SETTING_ALARM_PROBE_DEGC] = {TEMPERATURE, LATER_MORE, SECTION_CREWS, 0},
    [SETTING_COVER_BEFORE_RAIN_H] = {H, LATER_MORE, SECTION_CREWS, 0},
};

/** The unit a row is written in, checked; the shipped one when it is wrong. */
static const char *setting_unit(struct reader *reader, const char *path, const json_t *row,
                                const struct setting_spec *spec)
{
    const json_t *given = json_object_get(row, "unit");
    const char *unit = json_string_value(given);
    const char *plain = strcmp(spec->unit, "signed-h") == 0 ? "h" : spec->unit;
    if (unit != NULL && strcmp(unit, plain) == 0) return spec->unit;
    if (unit != NULL && spec->unit_or != NULL && strcmp(unit, spec->unit_or) == 0) {
        return spec->unit_or;
    }
    char wanted[FAULT_TEXT_MAX];
    (void)snprintf(wanted, sizeof wanted, "%s%s%s", plain, spec->unit_or != NULL ? " or " : "",
                   spec->unit_or != NULL ? spec->unit_or : "");
    reader_fault(reader, path_member(path, "unit").text, wanted, "%s", json_found(given).text);
    return spec->unit;
}

static void setting_read(struct reader *reader, const char *path, const json_t *row, size_t index)
{
    static const char *const members[] = {"id",     "value", "unit", "mark",
                                          "source", "least", "says", NULL};
    if (!row_object(reader, path, row, members)) return;
    int setting = row_id(reader, path, row, "id", &setting_ids, true);
    if (setting < 0) return;
    if (reader->setting_rows[setting] >= 0) {
        reader_fault(reader, path_member(path, "id").text, "each setting once", "%s again",
                     setting_text[setting]);
        return;
    }
    reader->setting_rows[setting] = (int)index;
    const struct setting_spec *spec = &setting_specs[setting];
    const char *unit = setting_unit(reader, path, row, spec);
    struct rulebook *book = reader->book;
    book->settings[setting] = row_number(reader, path, row, unit, spec->most);
    book->setting_units[setting] = strcmp(unit, "signed-h") == 0 ? "h" : unit;
    book->setting_says[setting] = row_string(reader, path, row, "says", true);
}

void settings_read(struct reader *reader, const json_t *root)
{
    const json_t *list = row_array(reader, "", root, "settings");
    for (size_t i = 0; i < json_array_size(list); i++) {
        setting_read(reader, path_index("settings", i).text, json_array_get(list, i), i);
    }
    for (int i = 0; list != NULL && i < SETTING_COUNT; i++) {
        if (reader->setting_rows[i] < 0) {
            reader_fault(reader, "settings", "a row for every setting", "no %s", setting_text[i]);
        }
    }
}

enum status rulebook_try_setting(struct rulebook *book, const struct rulebook *shipped,
                                 const char *id, double value, struct faults *faults)
{
    const int setting = id_find(&setting_ids, id);
    if (setting < 0) return faults_add(faults, id, "the id of a setting", "\"%.80s\"", id);
    const struct setting_spec *spec = &setting_specs[setting];
    const struct rule_number *was = &shipped->settings[setting];
    const char *plain =
        strcmp(spec->unit, "signed-h") == 0 ? spec->unit : shipped->setting_units[setting];
    const double held = unit_held(plain, value);
    const double slack = 1e-9;
    const bool low = !(held >= was->value - slack), high = !(held <= was->value + slack);
    const bool earlier = (spec->later == LATER_MORE && low) ||
                         (spec->later == LATER_LESS && high) ||
                         (spec->later == LATER_SAME && (low || high));
    char wanted[FAULT_TEXT_MAX];
    if (earlier || (was->least > held) || (spec->most > 0 && held > spec->most) || !(held > -1e6) ||
        !(held < 1e6)) {
        (void)snprintf(wanted, sizeof wanted, "%s%.6g %s",
                       spec->later == LATER_MORE   ? "at least "
                       : spec->later == LATER_LESS ? "at most "
                                                   : "",
                       unit_written(plain, was->value), shipped->setting_units[setting]);
        return faults_add(faults, id, wanted, "%.6g", value);
    }
    book->settings[setting].value = held;
    return STATUS_OK;
}
