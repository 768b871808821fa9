/* SPDX-License-Identifier: MIT */
/* Why: the rows of `tasks`: who, when it applies, what it waits for, how long it takes. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

/** One value of an option, or -1 with a fault. */
static int condition_value(struct reader *reader, const char *path, enum option option,
                           const json_t *value)
{
    const struct id_table *values = option_values(option);
    if (values == NULL && json_is_boolean(value)) return json_is_true(value) ? 1 : 0;
    int found =
        values != NULL && json_is_string(value) ? id_find(values, json_string_value(value)) : -1;
    if (found < 0) {
        char wanted[FAULT_TEXT_MAX];
        (void)snprintf(wanted, sizeof wanted, "%s%s", values != NULL ? "a known " : "true or false",
                       values != NULL ? values->what : "");
        reader_fault(reader, path, wanted, "%s", json_found(value).text);
    }
    return found;
}

static bool condition_read(struct reader *reader, const char *path, const char *name,
                           const json_t *value, struct condition *out)
{
    int option = id_find(&option_ids, name);
    struct path at = path_member(path, name);
    if (option < 0) {
        reader_fault(reader, at.text, "a known option", "unknown member %.80s", name);
        return false;
    }
    out->option = (enum option)option;
    out->values = 0;
    if (!json_is_array(value)) {
        int one = condition_value(reader, at.text, out->option, value);
        if (one >= 0) out->values = 1U << (unsigned)one;
        return one >= 0;
    }
    for (size_t i = 0; i < json_array_size(value); i++) {
        int one = condition_value(reader, path_index(at.text, i).text, out->option,
                                  json_array_get(value, i));
        if (one < 0) return false;
        out->values |= 1U << (unsigned)one;
    }
    if (out->values == 0) reader_fault(reader, at.text, "at least one value", "an empty list");
    return out->values != 0;
}

size_t row_conditions(struct reader *reader, const char *path, const json_t *row,
                      struct condition conditions[CONDITIONS_MAX])
{
    json_t *when = json_object_get(row, "when");
    struct path at = path_member(path, "when");
    if (when == NULL) return 0;
    if (!json_is_object(when)) {
        reader_fault(reader, at.text, "an object of options", "%s", json_found(when).text);
        return 0;
    }
    if (json_object_size(when) > CONDITIONS_MAX) {
        reader_fault(reader, at.text, "at most 4 options", "%zu", json_object_size(when));
        return 0;
    }
    size_t count = 0;
    const char *name;
    json_t *value;
    json_object_foreach(when, name, value)
    {
        if (condition_read(reader, at.text, name, value, &conditions[count])) count++;
    }
    return count;
}

/** The wait of a link: a number of its own, a setting's, or the day. */
static void wait_read(struct reader *reader, const char *path, const json_t *row,
                      struct task_link *link)
{
    double minutes = 0.0;
    int given = row_double(reader, path, row, "wait_h", 0.0, 10000.0, false, &link->wait_h) ? 1 : 0;
    if (row_double(reader, path, row, "wait_min", 0.0, 10000.0, false, &minutes)) {
        link->wait_h = minutes / 60.0;
        given++;
    }
    int setting = row_id(reader, path, row, "wait", &setting_ids, false);
    if (setting >= 0) {
        const struct rule_number *number = &reader->book->settings[setting];
        if (strcmp(setting_specs[setting].unit, "h") != 0) {
            reader_fault(reader, path_member(path, "wait").text, "a setting in hours", "%s",
                         id_of(&setting_ids, setting));
        }
        *link = (struct task_link){.kind = link->kind,
                                   .task = link->task,
                                   .clock = link->clock,
                                   .wait_h = isnan(number->value) ? 0.0 : number->value,
                                   .mark = number->mark,
                                   .source = number->source};
        given++;
    }
    const json_t *same_day = json_object_get(row, "same_day");
    if (same_day != NULL && !json_is_true(same_day)) {
        reader_fault(reader, path_member(path, "same_day").text, "true, or no such member", "%s",
                     json_found(same_day).text);
    }
    link->same_day = json_is_true(same_day);
    if (link->same_day && given == 0) link->wait_h = 24.0; /* the day itself is the tighter limit */
    if (link->same_day) given++;
    bool takes = link->kind == LINK_WITHIN || (link->kind == LINK_AFTER && !link->same_day);
    if (given > 1 || (given == 1 && !takes) || (given == 0 && link->kind == LINK_WITHIN)) {
        reader_fault(reader, path,
                     link->kind == LINK_WITHIN ? "one of wait_h, wait_min, wait, same_day"
                                               : "at most one wait, and only with after",
                     "%d of them", given);
    }
    if (setting >= 0) return;
    /* The plain order of the work is common practice; a number of hours needs its own mark. */
    link->mark = MARK_CP;
    if (given > 0) row_standing(reader, path, row, &link->mark, &link->source);
}

static void link_read(struct reader *reader, const char *path, const json_t *row,
                      struct task_rule *rule)
{
    static const char *const members[] = {"after",    "after-clock", "before", "within",   "with",
                                          "when",     "if",          "wait_h", "wait_min", "wait",
                                          "same_day", "mark",        "source", NULL};
    if (!row_object(reader, path, row, members)) return;
    struct task_link link = {.task = TASK_NONE, .clock = CLOCK_NONE};
    int kinds = 0;
    bool known = true;
    for (int i = 0; i < LINK_COUNT; i++) {
        const char *name = id_of(&link_ids, i);
        if (json_object_get(row, name) == NULL) continue;
        kinds++;
        link.kind = (enum link_kind)i;
        bool clock = link.kind == LINK_AFTER_CLOCK;
        int target = row_id(reader, path, row, name, clock ? &clock_ids : &task_ids, true);
        known = known && target >= 0;
        if (clock) link.clock = (enum clock_id)target;
        if (!clock) link.task = (enum task)target;
    }
    if (kinds != 1) {
        reader_fault(reader, path, "exactly one of after, after-clock, before, within, with", "%d",
                     kinds);
        return;
    }
    wait_read(reader, path, row, &link);
    const char *only_if = row_string(reader, path, row, "if", false);
    if (only_if != NULL && (link.kind != LINK_AFTER_CLOCK || strcmp(only_if, "started") != 0)) {
        reader_fault(reader, path_member(path, "if").text, "\"started\", and only with after-clock",
                     "\"%.80s\"", only_if);
    }
    link.if_started = only_if != NULL;
    link.when_count = row_conditions(reader, path, row, link.when);
    if (known) rule->links[rule->link_count++] = link;
}

static void links_read(struct reader *reader, const char *path, const json_t *row,
                       struct task_rule *rule)
{
    const json_t *list = json_object_get(row, "links");
    struct path at = path_member(path, "links");
    if (!json_is_array(list) || json_array_size(list) > LINKS_MAX) {
        reader_fault(reader, at.text, "a list of at most 12 links", "%s",
                     json_is_array(list) ? "more" : json_found(list).text);
        return;
    }
    for (size_t i = 0; i < json_array_size(list); i++) {
        link_read(reader, path_index(at.text, i).text, json_array_get(list, i), rule);
    }
}

static void hours_read(struct reader *reader, const char *path, const json_t *row,
                       struct task_rule *rule)
{
    static const char *const members[] = {"fixed", "per", "mark", "source", NULL};
    if (!row_object(reader, path, row, members)) return;
    (void)row_double(reader, path, row, "fixed", 0.0, 1000.0, true, &rule->hours_fixed);
    row_standing(reader, path, row, &rule->hours_mark, &rule->hours_source);
    json_t *per = json_object_get(row, "per");
    struct path at = path_member(path, "per");
    if (per == NULL) return;
    if (!json_is_object(per) || json_object_size(per) > PER_MAX) {
        reader_fault(reader, at.text, "an object of at most 6 quantities", "%s",
                     json_found(per).text);
        return;
    }
    const char *name;
    json_t *value;
    json_object_foreach(per, name, value)
    {
        int measure = id_find(&measure_ids, name);
        double each = NAN;
        if (measure < 0) {
            reader_fault(reader, path_member(at.text, name).text, "a known quantity",
                         "unknown member %.80s", name);
        } else if (row_double(reader, at.text, per, name, 0.0, 1000.0, true, &each)) {
            rule->per[rule->per_count].measure = (enum measure)measure;
            rule->per[rule->per_count++].hours_each = each;
        }
    }
}

static void flags_read(struct reader *reader, const char *path, const json_t *row,
                       struct task_rule *rule)
{
    const struct {
        const char *id;
        bool *flag;
    } flags[] = {
        {"hold", &rule->hold},         {"inspection", &rule->inspection},
        {"outdoors", &rule->outdoors}, {"makes-joints", &rule->makes_joints},
        {"no-undo", &rule->no_undo},   {"thin-lining", &rule->lining_hours},
        {"mortar", &rule->mortar},
    };
    if (json_object_get(row, "is") == NULL) return;
    const json_t *list = row_array(reader, path, row, "is");
    struct path at = path_member(path, "is");
    for (size_t i = 0; i < json_array_size(list); i++) {
        const json_t *value = json_array_get(list, i);
        bool *flag = NULL;
        for (size_t k = 0; json_is_string(value) && k < sizeof flags / sizeof *flags; k++) {
            if (strcmp(flags[k].id, json_string_value(value)) == 0) flag = flags[k].flag;
        }
        if (flag == NULL || *flag) {
            reader_fault(reader, path_index(at.text, i).text,
                         "one of hold inspection outdoors makes-joints no-undo thin-lining mortar, "
                         "once",
                         "%s", json_found(value).text);
            continue;
        }
        *flag = true;
    }
    if (rule->inspection && !rule->hold) {
        reader_fault(reader, at.text, "hold beside inspection", "inspection alone");
    }
}

static void task_read(struct reader *reader, const char *path, const json_t *row, size_t index)
{
    static const char *const members[] = {"id",    "name",  "who",   "people", "when",   "is",
                                          "links", "hours", "check", "proof",  "checks", NULL};
    if (!row_object(reader, path, row, members)) return;
    int task = row_id(reader, path, row, "id", &task_ids, true);
    if (task < 0) return;
    if (reader->task_rows[task] >= 0) {
        reader_fault(reader, path_member(path, "id").text, "each task once", "%s again",
                     id_of(&task_ids, task));
        return;
    }
    reader->task_rows[task] = (int)index;
    struct task_rule *rule = &reader->book->tasks[task];
    rule->task = (enum task)task;
    rule->hours_mark = MARK_NONE;
    rule->name = row_string(reader, path, row, "name", true);
    rule->check = row_string(reader, path, row, "check", true);
    rule->proof = row_string(reader, path, row, "proof", true);
    int who = row_id(reader, path, row, "who", &who_ids, true);
    rule->who = who < 0 ? WHO_OWNER : (enum who)who;
    double people = 0.0;
    if (row_double(reader, path, row, "people", 0.0, 20.0, true, &people)) {
        if (people != floor(people)) {
            reader_fault(reader, path_member(path, "people").text, "a whole number", "%g", people);
        }
        rule->people = (int)people;
    }
    rule->when_count = row_conditions(reader, path, row, rule->when);
    flags_read(reader, path, row, rule);
    links_read(reader, path, row, rule);
    checks_read(reader, path, row, rule->task);
    hours_read(reader, path_member(path, "hours").text, json_object_get(row, "hours"), rule);
}

void tasks_read(struct reader *reader, const json_t *root)
{
    const json_t *list = row_array(reader, "", root, "tasks");
    for (size_t i = 0; i < json_array_size(list); i++) {
        task_read(reader, path_index("tasks", i).text, json_array_get(list, i), i);
    }
    for (int i = 0; list != NULL && i < TASK_COUNT; i++) {
        if (reader->task_rows[i] < 0) {
            reader_fault(reader, "tasks", "a row for every task", "no %s", id_of(&task_ids, i));
        }
    }
}
