/* SPDX-License-Identifier: MIT */
/*
 * Why: the owner's own numbers. They may only wait longer: each is held against the rulebook as it
 * is shipped, never against an earlier change, so a number that was raised can be lowered again,
 * but not below what is shipped.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "rulebook/rows.h"

#include "base/banned.h"

enum number { NUMBER_NONE, NUMBER_NEED, NUMBER_FLOOR };

/* `pad.build-on.need` -> pad.build-on and need. */
static enum number clock_number(enum clock_id *clock, const char *id)
{
    static const struct {
        const char *ending;
        enum number number;
    } endings[] = {{".need", NUMBER_NEED}, {".floor_h", NUMBER_FLOOR}};
    char name[ID_BYTES_MAX + 1];
    const size_t length = strlen(id);
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        const size_t tail = strlen(endings[i].ending);
        if (length <= tail || length > ID_BYTES_MAX) continue;
        if (strcmp(id + length - tail, endings[i].ending) != 0) continue;
        memcpy(name, id, length - tail);
        name[length - tail] = '\0';
        const int found = id_find(&clock_ids, name);
        if (found < 0) continue;
        *clock = (enum clock_id)found;
        return endings[i].number;
    }
    return NUMBER_NONE;
}

static struct rule_number *number_of(struct clock_variant *variant, enum number number)
{
    return number == NUMBER_NEED ? &variant->need : &variant->floor_h;
}

static enum status change_clock(struct rulebook *out, const struct rulebook *shipped,
                                enum clock_id clock, enum number number, double value,
                                struct faults *faults, const char *path)
{
    struct clock_rule *rule = &out->clocks[clock];
    double least = NAN;
    for (size_t i = 0; i < rule->variant_count; i++) {
        struct clock_variant as_shipped = shipped->clocks[clock].variants[i];
        const struct rule_number *was = number_of(&as_shipped, number);
        if (isnan(was->value)) continue;
        if (isnan(least) || was->value < least) least = was->value;
        number_of(&rule->variants[i], number)->value = value >= was->value ? value : was->value;
    }
    if (!isnan(least) && value >= least && value <= 8760) return STATUS_OK;
    char wanted[FAULT_TEXT_MAX];
    if (isnan(least))
        (void)snprintf(wanted, sizeof wanted, "a number that this clock has");
    else
        (void)snprintf(wanted, sizeof wanted, "at least %.6g, and at most 8760", least);
    return faults_add(faults, path, wanted, "%.6g", value);
}

static enum status change_setting(struct rulebook *out, const struct rulebook *shipped,
                                  const struct rule_change *change, struct faults *faults,
                                  const char *path)
{
    struct faults found = {0};
    const enum status status =
        rulebook_try_setting(out, shipped, change->id, change->value, &found);
    for (size_t i = 0; i < found.count; i++)
        (void)faults_add(faults, path, found.items[i].wanted, "%s", found.items[i].found);
    faults_free(&found);
    return status;
}

enum status rulebook_change(struct rulebook *out, const struct rulebook *shipped,
                            const struct rule_change *changes, size_t count, struct faults *faults)
{
    enum status status = STATUS_OK;
    *out = *shipped;
    out->owner = NULL; /* the copy owns nothing */
    for (size_t i = 0; i < count; i++) {
        enum clock_id clock = CLOCK_NONE;
        char path[64];
        const enum number number = clock_number(&clock, changes[i].id);
        const bool known = number != NUMBER_NONE || id_find(&setting_ids, changes[i].id) >= 0;
        (void)snprintf(path, sizeof path, "rules[%zu].%s", i, known ? "value" : "id");
        const enum status one =
            number != NUMBER_NONE
                ? change_clock(out, shipped, clock, number, changes[i].value, faults, path)
                : change_setting(out, shipped, &changes[i], faults, path);
        if (one != STATUS_OK) status = one;
    }
    return status;
}
