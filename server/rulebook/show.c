/* SPDX-License-Identifier: MIT */
/*
 * Why: the rulebook as sentences, so that a mason can read what the program does and a change to a
 * number shows its words in the same commit. Every figure is followed at once by its mark, and by
 * its source if it has one.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

static const struct {
    const char *unit;
    const char *one;
    const char *many;
} unit_words[] = {
    {"warm-hour", " warm hour", " warm hours"},
    {"counted-day", " counted day", " counted days"},
    {"hour", " h", " h"},
    {"day", " day", " days"},
    {"year", " year", " years"},
    {"F-difference", " F", " F"},
    {"C-difference", " C", " C"},
    {"percent", " %", " %"},
    {"1", "", ""},
};

static void show_figure(struct text *text, double value, const char *unit)
{
    text_print(text, "%.6g", value);
    for (size_t i = 0; i < sizeof unit_words / sizeof *unit_words; i++) {
        if (strcmp(unit, unit_words[i].unit) != 0) continue;
        text_add_z(text, value == 1.0 ? unit_words[i].one : unit_words[i].many);
        return;
    }
    text_add_byte(text, ' ');
    text_add_z(text, unit);
}

static void show_mark(struct text *text, enum mark mark, const char *source)
{
    text_add_z(text, " [");
    text_add_z(text, id_of(&mark_ids, (int)mark));
    if (source != NULL) text_print(text, ", %s", source);
    text_add_byte(text, ']');
}

static void show_number(struct text *text, const struct rule_number *number, const char *unit)
{
    show_figure(text, unit_written(unit, number->value), unit);
    show_mark(text, number->mark, number->source);
}

static void show_least(struct text *text, const struct rule_number *number, const char *unit)
{
    if (isnan(number->least)) return;
    text_add_z(text, " Never less than ");
    show_figure(text, unit_written(unit, number->least), unit);
    text_add_byte(text, '.');
}

static void show_settings(struct text *text, const struct rulebook *book, enum section section)
{
    static const char hole[] = "{value}";
    for (int i = 0; i < SETTING_COUNT; i++) {
        if (setting_specs[i].section != section) continue;
        const char *says = book->setting_says[i];
        const char *at = strstr(says, hole);
        size_t before = at != NULL ? (size_t)(at - says) : 0;
        text_add(text, says, before);
        show_number(text, &book->settings[i], book->setting_units[i]);
        text_add_z(text, at != NULL ? at + sizeof hole - 1 : "");
        show_least(text, &book->settings[i], book->setting_units[i]);
        text_print(text, " (%s)\n", id_of(&setting_ids, i));
    }
}

/* --- clocks -------------------------------------------------------------------------------- */

static void show_variant(struct text *text, const struct rulebook *book,
                         const struct clock_rule *rule, const struct clock_variant *variant)
{
    static const char *const bases[] = {"", ", base on ground", ", base over a void",
                                        ", base over a void with props"};
    const char *unit = id_of(&unit_ids, (int)rule->unit);
    text_print(text, "%s%s: ", rule->name, bases[variant->when]);
    if (rule->kind == CLOCK_KIND_EITHER) {
        text_print(text, "when \"%s\" is complete, or ", book->clocks[rule->other].name);
    }
    if (rule->kind == CLOCK_KIND_MOIST) {
        show_number(text, &variant->need, unit);
        text_add_z(text, " kept wet or sealed at ");
        show_number(text, &book->settings[SETTING_MOIST_DEGC],
                    book->setting_units[SETTING_MOIST_DEGC]);
        text_print(text, " or more, counted from %s", rule->from);
    } else if (isnan(variant->floor_h.value) || variant->floor_h.value <= 0.0) {
        show_number(text, &variant->need, unit);
        text_print(text, " after %s", rule->from);
    } else {
        text_add_z(text, "at least ");
        show_figure(text, variant->floor_h.value, "h");
        text_print(text, " after %s", rule->from);
        show_mark(text, variant->floor_h.mark, variant->floor_h.source);
        text_add_z(text, " and ");
        show_number(text, &variant->need, unit);
    }
    text_add_z(text, rule->kind == CLOCK_KIND_EITHER ? ", whichever is first." : ".");
    show_least(text, &variant->floor_h, "h");
    show_least(text, &variant->need, unit);
    text_print(text, " (%s)\n", id_of(&clock_ids, (int)rule->clock));
}

static void show_law(struct text *text, const struct clock_rule *rule)
{
    const struct maturity_law *law = &rule->law;
    text_print(text, "  Rate: %s", id_of(&law_ids, (int)law->kind));
    if (law->kind == MATURITY_TEMPERATURE_TIME) {
        text_print(text, ", nothing at %.4g C and 1 an hour at %.4g C", law->datum_degc,
                   law->reference_degc);
    }
    if (law->kind == MATURITY_EQUIVALENT_AGE) {
        text_print(text, ", Q %.6g K, 1 an hour at %.4g C", law->q_k, law->reference_degc);
    }
    for (size_t i = 0; law->kind == MATURITY_STEPS && i < law->step_count; i++) {
        text_print(text, ", %.4g an hour from %.4g F", law->steps[i].rate,
                   unit_written("F", law->steps[i].from_degc));
    }
    show_mark(text, rule->law_mark, rule->law_source);
    if (rule->mortar) {
        text_add_z(text, "; nothing under the bag's minimum, without a bag card under ");
    } else {
        text_add_z(text, "; nothing under ");
    }
    show_number(text, &rule->stall_degc, "F");
    text_add_z(text, "; never more than ");
    show_figure(text, rule->cap.value, "1");
    text_add_z(text, " an hour");
    show_mark(text, rule->cap.mark, rule->cap.source);
    text_add_z(text, ".\n");
}

static void show_starts(struct text *text, const struct clock_rule *rule)
{
    bool moist = rule->kind == CLOCK_KIND_MOIST; /* covers go on and off; all their times count */
    text_add_z(text, moist                   ? "  Runs from: "
                     : rule->start_count > 1 ? "  Starts at the latest of: "
                                             : "  Starts at: ");
    for (size_t i = 0; i < rule->start_count; i++) {
        const struct clock_start *start = &rule->starts[i];
        if (i > 0) text_add_z(text, ", ");
        if (start->task != TASK_NONE) text_print(text, "%s ", id_of(&task_ids, (int)start->task));
        text_add_z(text, id_of(&record_kind_ids, (int)start->kind));
    }
    if (rule->once != TASK_NONE) {
        text_print(text, "; not before %s is done", id_of(&task_ids, (int)rule->once));
    }
    text_add_z(text, ".\n");
}

static void show_clock(struct text *text, const struct rulebook *book,
                       const struct clock_rule *rule)
{
    for (size_t i = 0; i < rule->variant_count; i++) {
        show_variant(text, book, rule, &rule->variants[i]);
    }
    show_starts(text, rule);
    if (rule->kind == CLOCK_KIND_SET || rule->kind == CLOCK_KIND_EITHER) show_law(text, rule);
    text_print(text, "  %s\n", rule->says);
}

/* --- tasks --------------------------------------------------------------------------------- */

void show_conditions(struct text *text, const struct condition *conditions, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct id_table *values = option_values(conditions[i].option);
        text_print(text, "%s%s", i > 0 ? " and " : "",
                   id_of(&option_ids, (int)conditions[i].option));
        bool first = true;
        for (unsigned bit = 0; (1U << bit) <= option_mask(conditions[i].option); bit++) {
            if ((conditions[i].values >> bit & 1U) == 0) continue;
            const char *value = values != NULL ? id_of(values, (int)bit) : bit != 0 ? "yes" : "no";
            text_print(text, "%s%s", first ? " " : " or ", value);
            first = false;
        }
    }
}

static void show_link(struct text *text, const struct task_link *link)
{
    const char *clock = link->kind == LINK_AFTER_CLOCK ? id_of(&clock_ids, (int)link->clock) : "";
    const char *task = link->kind == LINK_AFTER_CLOCK ? "" : id_of(&task_ids, (int)link->task);
    switch (link->kind) {
    case LINK_AFTER:
        text_print(text, "after %s", task);
        break;
    case LINK_AFTER_CLOCK:
        text_print(text, "when %s is open", clock);
        break;
    case LINK_BEFORE:
        text_print(text, "last chance before %s", task);
        break;
    case LINK_WITH:
        text_print(text, "together with %s", task);
        break;
    case LINK_WITHIN:
        if (link->same_day)
            text_print(text, "on the same day as %s", task);
        else if (link->wait_h < 1.0)
            text_print(text, "within %.4g min of %s", link->wait_h * 60, task);
        else
            text_print(text, "within %.6g h of %s", link->wait_h, task);
        break;
    default:
        ENSURE(link->kind < LINK_COUNT);
    }
    if (link->kind == LINK_AFTER && link->wait_h > 0.0)
        text_print(text, " and %.6g h", link->wait_h);
    if (link->wait_h > 0.0) show_mark(text, link->mark, link->source);
    if (link->if_started) text_add_z(text, ", if it ever started");
    if (link->when_count > 0) {
        text_add_z(text, " (for ");
        show_conditions(text, link->when, link->when_count);
        text_add_byte(text, ')');
    }
}

static void show_hours(struct text *text, const struct task_rule *rule)
{
    text_add_z(text, "  Takes ");
    bool first = rule->per_count > 0 && rule->hours_fixed <= 0.0;
    if (!first) text_print(text, "%.6g h", rule->hours_fixed);
    for (size_t i = 0; i < rule->per_count; i++) {
        text_print(text, "%s%.6g h x %s", first ? "" : " + ", rule->per[i].hours_each,
                   id_of(&measure_ids, (int)rule->per[i].measure));
        first = false;
    }
    show_mark(text, rule->hours_mark, rule->hours_source);
    text_add_z(text, rule->lining_hours ? ", less for thin lining." : ".");
    if (rule->inspection)
        text_add_z(text, " Passed by an inspector.");
    else if (rule->hold)
        text_add_z(text, " A hold point: done releases nothing until it is passed.");
    if (rule->outdoors) text_add_z(text, " Weather counts when it is not indoors.");
    if (rule->makes_joints) text_add_z(text, " Leaves young joints to cover.");
    if (rule->no_undo) text_add_z(text, " Cannot be undone.");
    if (rule->mortar) text_add_z(text, " Needs mortar from a bag that is in date and dry.");
    text_add_byte(text, '\n');
}

static void show_task(struct text *text, const struct rulebook *book, const struct task_rule *rule)
{
    text_print(text, "%s: %s. ", id_of(&task_ids, (int)rule->task), rule->name);
    if (rule->people > 0) {
        text_print(text, "By %s, %d %s", id_of(&who_ids, (int)rule->who), rule->people,
                   rule->people == 1 ? "person" : "people");
    } else {
        text_print(text, "By %s", id_of(&who_ids, (int)rule->who));
    }
    if (rule->when_count > 0) text_add_z(text, ", only for ");
    show_conditions(text, rule->when, rule->when_count);
    text_add_z(text, ".\n");
    for (size_t i = 0; i < rule->link_count; i++) {
        text_add_z(text, i == 0 ? "  Comes " : "; ");
        show_link(text, &rule->links[i]);
    }
    if (rule->link_count > 0) text_add_z(text, ".\n");
    show_hours(text, rule);
    text_print(text, "  Check: %s Keep: %s\n", rule->check, rule->proof);
    checks_show(text, book, rule->task);
}

void rulebook_show(struct text *text, const struct rulebook *rulebook)
{
    static const struct {
        const char *title;
        enum section section;
    } sections[] = {
        {"Readings", SECTION_READINGS}, {"Frost", SECTION_FROST}, {"Clocks", SECTION_CLOCKS},
        {"Drying days", SECTION_DAYS},  {"Dates", SECTION_DATES}, {"Crews", SECTION_CREWS},
    };
    text_print(text, "%s (%s)\n", rulebook->title, rulebook->id);
    text_add_z(text,
               "P published, CP common practice without a source, HR house rule. Warm hours and "
               "counted days\npace the work; they say nothing about what a pad can carry.\n");
    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++) {
        text_print(text, "\n%s\n", sections[i].title);
        show_settings(text, rulebook, sections[i].section);
        for (int k = 0; sections[i].section == SECTION_CLOCKS && k < CLOCK_COUNT; k++) {
            show_clock(text, rulebook, &rulebook->clocks[k]);
        }
    }
    text_add_z(text, "\nTasks\n");
    for (int i = 0; i < TASK_COUNT; i++) show_task(text, rulebook, &rulebook->tasks[i]);
}
