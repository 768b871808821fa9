/* SPDX-License-Identifier: MIT */
/* Why: the rows of `clocks`: what a clock starts from, its rate law, its floors and its targets. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

static const char *const law_text[] = {"temperature-time", "equivalent-age", "annex-b", "steps"};
const struct id_table law_ids = {"rate law", law_text, 4};
static const char *const kind_text[] = {"set", "moist", "either", "days"};
const struct id_table clock_kind_ids = {"clock kind", kind_text, 4};
static const char *const when_text[] = {"always", "ground", "void", "void-propped"};
const struct id_table clock_when_ids = {"base", when_text, 4};

static void steps_read(struct reader *reader, const char *path, const json_t *row,
                       struct maturity_law *law)
{
    static const char *const members[] = {"from", "unit", "rate", NULL};
    static const char *const units[] = {"F", "C"};
    static const struct id_table unit_table = {"unit", units, 2};
    const json_t *list = row_array(reader, path, row, "steps");
    struct path at = path_member(path, "steps");
    if (json_array_size(list) > MATURITY_STEPS_MAX) {
        reader_fault(reader, at.text, "at most 16 steps", "%zu", json_array_size(list));
        return;
    }
    for (size_t i = 0; i < json_array_size(list); i++) {
        const json_t *step = json_array_get(list, i);
        struct path here = path_index(at.text, i);
        if (!row_object(reader, here.text, step, members)) continue;
        int unit = row_id(reader, here.text, step, "unit", &unit_table, true);
        double from = NAN;
        double rate = NAN;
        (void)row_double(reader, here.text, step, "from", -60.0, 200.0, true, &from);
        (void)row_double(reader, here.text, step, "rate", 0.0, 1.0, true, &rate);
        if (unit < 0) continue;
        law->steps[law->step_count].from_degc = unit_held(units[unit], from);
        law->steps[law->step_count++].rate = rate;
    }
}

static void law_read(struct reader *reader, const char *path, const json_t *row,
                     struct clock_rule *rule)
{
    static const char *const members[][8] = {
        {"law", "mark", "source", "datum_degc", "reference_degc", NULL},
        {"law", "mark", "source", "q_k", "reference_degc", NULL},
        {"law", "mark", "source", NULL},
        {"law", "mark", "source", "steps", NULL},
    };
    int kind = json_is_object(row) ? row_id(reader, path, row, "law", &law_ids, true) : -1;
    if (!row_object(reader, path, row, members[kind < 0 ? 0 : kind]) || kind < 0) return;
    struct maturity_law *law = &rule->law;
    law->kind = (enum maturity_kind)kind;
    row_standing(reader, path, row, &rule->law_mark, &rule->law_source);
    if (law->kind == MATURITY_TEMPERATURE_TIME) {
        (void)row_double(reader, path, row, "datum_degc", -20.0, 20.0, true, &law->datum_degc);
    }
    if (law->kind == MATURITY_EQUIVALENT_AGE) {
        (void)row_double(reader, path, row, "q_k", 1.0, 50000.0, true, &law->q_k);
    }
    if (law->kind == MATURITY_TEMPERATURE_TIME || law->kind == MATURITY_EQUIVALENT_AGE) {
        (void)row_double(reader, path, row, "reference_degc", -10.0, 60.0, true,
                         &law->reference_degc);
    }
    if (law->kind == MATURITY_STEPS) steps_read(reader, path, row, law);
}

/** Stall: its own temperature, or "bag-minimum" for mortar. */
static void stall_read(struct reader *reader, const char *path, const json_t *value,
                       struct clock_rule *rule)
{
    static const char *const members[] = {"value", "unit", "mark", "source", "least", NULL};
    static const char *const units[] = {"F", "C"};
    static const struct id_table unit_table = {"unit", units, 2};
    if (json_is_string(value) && strcmp(json_string_value(value), "bag-minimum") == 0) {
        rule->mortar = true;
        rule->stall_degc = reader->book->settings[SETTING_MORTAR_STALL_DEGC];
        return;
    }
    if (!json_is_object(value)) {
        reader_fault(reader, path, "a temperature row, or \"bag-minimum\"", "%s",
                     json_found(value).text);
        return;
    }
    if (!row_object(reader, path, value, members)) return;
    int unit = row_id(reader, path, value, "unit", &unit_table, true);
    rule->stall_degc = row_number(reader, path, value, units[unit < 0 ? 0 : unit], 0);
}

static struct rule_number plain_number(struct reader *reader, const char *path, const json_t *row,
                                       const char *name, const char *unit, double most)
{
    static const char *const members[] = {"value", "mark", "source", "least", NULL};
    struct path at = path_member(path, name);
    struct rule_number none = {.value = NAN, .mark = MARK_NONE, .least = NAN};
    if (!row_object(reader, at.text, json_object_get(row, name), members)) return none;
    return row_number(reader, at.text, json_object_get(row, name), unit, most);
}

static void rate_read(struct reader *reader, const char *path, const json_t *row,
                      struct clock_rule *rule)
{
    size_t before = reader->bad;
    struct path at = path_member(path, "law");
    law_read(reader, at.text, json_object_get(row, "law"), rule);
    stall_read(reader, path_member(path, "stall").text, json_object_get(row, "stall"), rule);
    rule->cap = plain_number(reader, path, row, "cap", "1", 1.0);
    rule->law.stall_degc = rule->stall_degc.value;
    rule->law.cap = rule->cap.value;
    /* A faulty mortar.stall has its own fault already. */
    if (reader->bad > before || isnan(rule->law.stall_degc)) return;
    if (maturity_law_check(&rule->law) != MATURITY_OK) {
        reader_fault(reader, at.text,
                     "reference above the datum; steps ascending in temperature and rate",
                     "constants that give no law");
    }
}

static void start_read(struct reader *reader, const char *path, const json_t *value,
                       struct clock_rule *rule)
{
    const char *text = json_is_string(value) ? json_string_value(value) : "";
    const char *colon = strchr(text, ':');
    char kind_id[32] = "";
    size_t length = colon != NULL ? (size_t)(colon - text) : strlen(text);
    if (length < sizeof kind_id) memcpy(kind_id, text, length);
    int kind = id_find(&record_kind_ids, kind_id);
    int task = colon != NULL ? id_find(&task_ids, colon + 1) : TASK_NONE;
    bool of_task = kind == RECORD_DONE || kind == RECORD_STARTED || kind == RECORD_STOPPED;
    if (kind < 0 || of_task != (colon != NULL) || (colon != NULL && task < 0)) {
        reader_fault(reader, path, "a record kind, or done:, started: or stopped: with a task",
                     "%s", json_found(value).text);
        return;
    }
    for (size_t i = 0; i < rule->start_count; i++) {
        if ((int)rule->starts[i].kind == kind && (int)rule->starts[i].task == task) {
            reader_fault(reader, path, "each start once", "%s again", text);
            return;
        }
    }
    struct clock_start *start = &rule->starts[rule->start_count++];
    start->kind = (enum record_kind)kind;
    start->task = (enum task)task;
}

static void starts_read(struct reader *reader, const char *path, const json_t *row,
                        struct clock_rule *rule)
{
    const json_t *list = row_array(reader, path, row, "starts");
    struct path at = path_member(path, "starts");
    if (json_array_size(list) > CLOCK_STARTS_MAX) {
        reader_fault(reader, at.text, "at most 12 starts", "%zu", json_array_size(list));
        return;
    }
    for (size_t i = 0; i < json_array_size(list); i++) {
        start_read(reader, path_index(at.text, i).text, json_array_get(list, i), rule);
    }
}

static void variant_read(struct reader *reader, const char *path, const json_t *row,
                         struct clock_rule *rule)
{
    static const char *const members[] = {"when", "floor_h", "need", NULL};
    if (!row_object(reader, path, row, members)) return;
    struct clock_variant *variant = &rule->variants[rule->variant_count];
    variant->when = CLOCK_WHEN_ALWAYS;
    if (json_object_get(row, "when") != NULL) {
        int when = row_id(reader, path, row, "when", &clock_when_ids, true);
        if (when < 0) return;
        variant->when = (enum clock_when)when;
    }
    for (size_t i = 0; i < rule->variant_count; i++) {
        if (rule->variants[i].when == variant->when) {
            reader_fault(reader, path_member(path, "when").text, "each base once", "%s again",
                         id_of(&clock_when_ids, (int)variant->when));
        }
    }
    rule->variant_count++;
    bool days = rule->kind == CLOCK_KIND_DAYS;
    variant->floor_h = (struct rule_number){.value = NAN, .mark = MARK_NONE, .least = NAN};
    if (days && json_object_get(row, "floor_h") != NULL) {
        reader_fault(reader, path_member(path, "floor_h").text,
                     "no floor, because a clock of counted days has none", "one");
    }
    if (!days) variant->floor_h = plain_number(reader, path, row, "floor_h", "h", 0);
    variant->need = plain_number(reader, path, row, "need", "need", 0);
}

/** Every job must find its numbers: a base that no variant is for is a fault. */
static void variants_cover(struct reader *reader, const char *path, const struct clock_rule *rule)
{
    for (int base = 0; base < BASE_COUNT; base++) {
        for (int propped = 0; propped < 2; propped++) {
            struct options options = {.base = (enum base)base, .propped = propped != 0};
            if (rulebook_variant(rule, &options) != NULL) continue;
            reader_fault(reader, path, "numbers for every base", "none for base %s%s",
                         id_of(&base_ids, base), propped != 0 ? ", propped" : "");
        }
    }
}

static void variants_read(struct reader *reader, const char *path, const json_t *row,
                          struct clock_rule *rule)
{
    size_t before = reader->bad;
    const json_t *list = row_array(reader, path, row, "variants");
    struct path at = path_member(path, "variants");
    if (json_array_size(list) > CLOCK_VARIANTS_MAX) {
        reader_fault(reader, at.text, "at most 4 variants", "%zu", json_array_size(list));
        return;
    }
    for (size_t i = 0; i < json_array_size(list); i++) {
        variant_read(reader, path_index(at.text, i).text, json_array_get(list, i), rule);
    }
    if (reader->bad == before) variants_cover(reader, at.text, rule);
}

/** The unit that a kind of clock counts in. */
static enum unit kind_unit(enum clock_kind kind)
{
    if (kind == CLOCK_KIND_DAYS) return UNIT_COUNTED_DAY;
    return kind == CLOCK_KIND_MOIST ? UNIT_HOUR : UNIT_WARM_HOUR;
}

static void kind_read(struct reader *reader, const char *path, const json_t *row,
                      struct clock_rule *rule)
{
    int part = row_id(reader, path, row, "part", &part_ids, true);
    int unit = row_id(reader, path, row, "unit", &unit_ids, true);
    rule->part = part < 0 ? PART_NONE : (enum part)part;
    rule->unit = kind_unit(rule->kind);
    if (unit >= 0 && (enum unit)unit != rule->unit) {
        reader_fault(reader, path_member(path, "unit").text, id_of(&unit_ids, (int)rule->unit),
                     "%s", id_of(&unit_ids, unit));
    }
    rule->other = CLOCK_NONE;
    if (rule->kind == CLOCK_KIND_EITHER) {
        int other = row_id(reader, path, row, "other", &clock_ids, true);
        rule->other = other < 0 ? CLOCK_NONE : (enum clock_id)other;
        if (rule->other == rule->clock) {
            reader_fault(reader, path_member(path, "other").text, "another clock",
                         "the clock itself");
        }
    }
    int once = row_id(reader, path, row, "once", &task_ids, false);
    rule->once = once < 0 ? TASK_NONE : (enum task)once;
}

static void clock_read(struct reader *reader, const char *path, const json_t *row, size_t index)
{
    static const char *const rated[] = {"id",    "name",   "part",     "kind", "unit",
                                        "other", "law",    "stall",    "cap",  "from",
                                        "once",  "starts", "variants", "says", NULL};
    static const char *const plain[] = {"id",   "name",   "part",     "kind", "unit", "from",
                                        "once", "starts", "variants", "says", NULL};
    const json_t *kind_row = json_is_object(row) ? json_object_get(row, "kind") : NULL;
    int kind =
        json_is_string(kind_row) ? id_find(&clock_kind_ids, json_string_value(kind_row)) : -1;
    bool has_law = kind != CLOCK_KIND_MOIST && kind != CLOCK_KIND_DAYS;
    if (!row_object(reader, path, row, has_law ? rated : plain)) return;
    int clock = row_id(reader, path, row, "id", &clock_ids, true);
    (void)row_id(reader, path, row, "kind", &clock_kind_ids, true);
    if (clock < 0) return;
    if (reader->clock_rows[clock] >= 0) {
        reader_fault(reader, path_member(path, "id").text, "each clock once", "%s again",
                     id_of(&clock_ids, clock));
        return;
    }
    reader->clock_rows[clock] = (int)index;
    struct clock_rule *rule = &reader->book->clocks[clock];
    rule->clock = (enum clock_id)clock;
    rule->law_mark = MARK_NONE;
    rule->name = row_string(reader, path, row, "name", true);
    rule->from = row_string(reader, path, row, "from", true);
    rule->says = row_string(reader, path, row, "says", true);
    starts_read(reader, path, row, rule);
    if (kind < 0) return;
    rule->kind = (enum clock_kind)kind;
    kind_read(reader, path, row, rule);
    if (has_law) rate_read(reader, path, row, rule);
    variants_read(reader, path, row, rule);
}

void clocks_read(struct reader *reader, const json_t *root)
{
    const json_t *list = row_array(reader, "", root, "clocks");
    for (size_t i = 0; i < json_array_size(list); i++) {
        clock_read(reader, path_index("clocks", i).text, json_array_get(list, i), i);
    }
    for (int i = 0; list != NULL && i < CLOCK_COUNT; i++) {
        if (reader->clock_rows[i] < 0) {
            reader_fault(reader, "clocks", "a row for every clock", "no %s", id_of(&clock_ids, i));
        }
    }
}
