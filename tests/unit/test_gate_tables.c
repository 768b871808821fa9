/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Every row of tests/tables/weather.gate: the published figures against the rulebook and against
 * the gates themselves. A row that fails prints its file and line.
 */
#include "gate_case.h"
#include "table.h"

#define EXPOSED "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"exposed\""

static struct table table;

static const char *argument(const struct table_row *row, const char *name)
{
    const size_t length = strlen(name);
    for (int i = 1; i < row->word_count; i++)
        if (strncmp(row->words[i], name, length) == 0 && row->words[i][length] == '=')
            return row->words[i] + length + 1;
    ck_abort_msg("tests/tables/%s:%d: no %s", row->file, row->number, name);
    return NULL;
}

static double number(const struct table_row *row, const char *name)
{
    return strtod(argument(row, name), NULL);
}

static bool asks(const char *measures, enum measure_id measure)
{
    return strstr(measures, id_of(&measure_id_ids, (int)measure)) != NULL;
}

/* Measures of one hour of work at 09:00 with that air and wind, mild else. */
static const char *hour_measures(const struct table_row *row, enum gate_class gate)
{
    sky_mild();
    sky_fill(sky.temp_degf, 0, SKY_HOURS, 120); /* the mean of the day asks for no cover */
    sky_fill(sky.gust_mph, 0, SKY_HOURS, 0);
    sky.temp_degf[3] = number(row, "air_degf");
    sky.gust_mph[3] = number(row, "gust_mph");
    return sky_measures(sky_gates(EXPOSED, ""), gate, 3, 4);
}

static double setting_figure(const struct table_row *row)
{
    const int setting = id_find(&setting_ids, argument(row, "id"));
    ck_assert_msg(setting >= 0, "tests/tables/%s:%d: no such setting", row->file, row->number);
    const struct rule_number *rule = &book->settings[setting];
    ck_assert_int_eq(rule->mark, MARK_P);
    ck_assert_str_eq(rule->source, row->source);
    ck_assert_str_eq(book->setting_units[setting], row->unit);
    if (strcmp(row->unit, "F") == 0) return rule->value * 1.8 + 32;
    return strcmp(row->unit, "mph") == 0 ? rule->value / 0.44704 : rule->value;
}

static double cold_figure(const char *measures)
{
    if (asks(measures, DO_ENCLOSE)) return 4;
    if (asks(measures, DO_WARM_SURFACE)) return 3;
    if (asks(measures, DO_HEAT_BOTH)) return 2;
    return asks(measures, DO_HEAT_ONE) ? 1 : 0;
}

static double protect_figure(const struct table_row *row)
{
    sky_mild();
    sky_fill(sky.temp_degf, 0, SKY_HOURS, number(row, "mean_degf"));
    sky_fill(sky.temp_degf, 24, SKY_HOURS, number(row, "mean_degf"));
    const char *measures = sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_FACING, 27, 28);
    if (asks(measures, DO_HEAT_AFTER)) return 3;
    if (asks(measures, DO_INSULATE_AFTER)) return 2;
    return asks(measures, DO_COVER_AFTER) ? 1 : 0;
}

static double blankets_figure(const struct table_row *row)
{
    sky_mild();
    sky.temp_degf[20] = number(row, "low_degf");
    return asks(sky_measures(sky_gates(EXPOSED, ""), GATE_CLASS_POUR, 2, 3), DO_BLANKETS);
}

static double figure_of(const struct table_row *row)
{
    const char *call = row->words[0];
    if (strcmp(call, "setting") == 0) return setting_figure(row);
    if (strcmp(call, "cold") == 0) return cold_figure(hour_measures(row, GATE_CLASS_BLOCK));
    if (strcmp(call, "break") == 0)
        return asks(hour_measures(row, GATE_CLASS_BLOCK), DO_WIND_BREAK);
    if (strcmp(call, "protect") == 0) return protect_figure(row);
    if (strcmp(call, "blankets") == 0) return blankets_figure(row);
    if (strcmp(call, "heat") == 0) {
        const char *measures = hour_measures(row, GATE_CLASS_PIECES);
        return asks(measures, DO_SHADE) ? 2 : asks(measures, DO_COOL) ? 1 : 0;
    }
    ck_abort_msg("tests/tables/%s:%d: what is %s", row->file, row->number, call);
    return NAN;
}

START_TEST(a_row_gives_its_figure)
{
    table = table_read(PROJECT_ROOT "/tests/tables/*.gate");
    ck_assert_int_eq(table.faults, 0);
    ck_assert_int_gt(table.count, 40);
    for (int i = 0; i < table.count; i++) {
        const struct table_row *row = &table.rows[i];
        const double figure = figure_of(row);
        ck_assert_msg(fabs(figure - row->expected) <= row->tolerance + 1e-6,
                      "tests/tables/%s:%d: wanted %g, came %g", row->file, row->number,
                      row->expected, figure);
    }
    table_free(&table);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {a_row_gives_its_figure};
    return case_run("gate tables", tests, sizeof tests / sizeof *tests);
}
