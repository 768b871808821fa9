/* SPDX-License-Identifier: MIT */
/*
 * Why: a company's own rulebook may be slower than the shipped one, never faster. Each number is
 * compared in the direction that is later; a law is compared at every temperature from -20 to 60
 * degC, because two curves may cross; a link, a start, a hold point or a floor's least may be added
 * or tightened, never dropped. The alternative, comparing the dates of sample jobs, would miss what
 * no sample has.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

#define SLACK 1e-9 /* two ways of writing one temperature may differ in the last bit */

static const double SAMPLE_STEP_DEGC = 0.05;
enum { SAMPLES_ABOVE = 1201 /**< 0..60 degC */, SAMPLES = 1602 /**< then 0..-20 degC */ };

/** One number against the shipped one. `unit` only serves to print it as it is written. */
static void number_check(struct reader *reader, const char *path, const struct rule_number *mine,
                         const struct rule_number *shipped, enum later later, const char *unit)
{
    char wanted[FAULT_TEXT_MAX];
    double figure = unit_written(unit, shipped->value);
    bool low = mine->value < shipped->value - SLACK;
    bool high = mine->value > shipped->value + SLACK;
    if ((later == LATER_MORE && low) || (later == LATER_LESS && high) ||
        (later == LATER_SAME && (low || high))) {
        (void)snprintf(wanted, sizeof wanted, "%s%.6g, or it could open earlier than as shipped",
                       later == LATER_MORE   ? "at least "
                       : later == LATER_LESS ? "at most "
                                             : "",
                       figure);
        reader_fault(reader, path_member(path, "value").text, wanted, "%.6g",
                     unit_written(unit, mine->value));
    }
    if (!isnan(shipped->least) && !(mine->least >= shipped->least - SLACK)) {
        (void)snprintf(wanted, sizeof wanted, "at least %.6g, as shipped",
                       unit_written(unit, shipped->least));
        if (isnan(mine->least)) {
            reader_fault(reader, path_member(path, "least").text, wanted, "nothing");
        } else {
            reader_fault(reader, path_member(path, "least").text, wanted, "%.6g",
                         unit_written(unit, mine->least));
        }
    }
    /* An engineer's sheet replaces HR numbers only, so a weaker mark on the same number opens a
     * door. */
    bool weaker = mine->mark == MARK_HR && (shipped->mark == MARK_P || shipped->mark == MARK_CP);
    if (weaker && !low && !high) {
        reader_fault(reader, path_member(path, "mark").text, id_of(&mark_ids, (int)shipped->mark),
                     "HR on the shipped number");
    }
}

static void settings_check(struct reader *reader, const struct rulebook *baseline)
{
    for (int i = 0; i < SETTING_COUNT; i++) {
        struct path path = path_index("settings", (size_t)reader->setting_rows[i]);
        number_check(reader, path.text, &reader->book->settings[i], &baseline->settings[i],
                     setting_specs[i].later, reader->book->setting_units[i]);
    }
}

/** The first temperature at which a law earns more than the shipped one; one fault is enough. */
static void law_check(struct reader *reader, const char *path, const struct clock_rule *mine,
                      const struct clock_rule *shipped)
{
    struct maturity_law law = mine->law;
    struct maturity_law wanted_law = shipped->law;
    if (shipped->mortar) {
        /* The bag's minimum takes the place of the stall and may be any temperature. */
        law.stall_degc = wanted_law.stall_degc = MATURITY_TEMP_MIN_DEGC;
    }
    for (int i = 0; i < SAMPLES; i++) {
        /* From 0 degC up first, so that the fault names a temperature one works at. */
        double temp_degc =
            i < SAMPLES_ABOVE ? SAMPLE_STEP_DEGC * i : -SAMPLE_STEP_DEGC * (i - SAMPLES_ABOVE);
        double rate = maturity_rate(&law, temp_degc);
        double most = maturity_rate(&wanted_law, temp_degc);
        if (rate <= most + SLACK) continue;
        char wanted[FAULT_TEXT_MAX];
        (void)snprintf(wanted, sizeof wanted, "at most %.4f at %.2f degC (%.1f F), as shipped",
                       most, temp_degc, unit_written("F", temp_degc));
        reader_fault(reader, path, wanted, "%s: %.4f an hour", id_of(&law_ids, (int)mine->law.kind),
                     rate);
        return;
    }
}

/** Index of the variant in its list, for the path. */
static size_t variant_index(const struct clock_rule *rule, const struct clock_variant *variant)
{
    return (size_t)(variant - rule->variants);
}

static void variants_check(struct reader *reader, const char *path, const struct clock_rule *mine,
                           const struct clock_rule *shipped)
{
    const struct clock_variant *seen[BASE_COUNT * 2];
    const struct clock_variant *seen_shipped[BASE_COUNT * 2];
    size_t count = 0;
    struct path list = path_member(path, "variants");
    for (int i = 0; i < BASE_COUNT * 2; i++) {
        struct options options = {.base = (enum base)(i / 2), .propped = i % 2 != 0};
        const struct clock_variant *a = rulebook_variant(mine, &options);
        const struct clock_variant *b = rulebook_variant(shipped, &options);
        ENSURE(a != NULL && b != NULL);
        bool again = false;
        for (size_t k = 0; k < count; k++) again = again || (seen[k] == a && seen_shipped[k] == b);
        if (again) continue;
        seen[count] = a;
        seen_shipped[count++] = b;
        struct path row = path_index(list.text, variant_index(mine, a));
        if (mine->kind != CLOCK_KIND_DAYS) {
            number_check(reader, path_member(row.text, "floor_h").text, &a->floor_h, &b->floor_h,
                         LATER_MORE, "h");
        }
        number_check(reader, path_member(row.text, "need").text, &a->need, &b->need, LATER_MORE,
                     "1");
    }
}

static void starts_check(struct reader *reader, const char *path, const struct clock_rule *mine,
                         const struct clock_rule *shipped)
{
    for (size_t i = 0; i < shipped->start_count; i++) {
        const struct clock_start *start = &shipped->starts[i];
        bool found = false;
        for (size_t k = 0; k < mine->start_count; k++) {
            found = found ||
                    (mine->starts[k].kind == start->kind && mine->starts[k].task == start->task);
        }
        if (found) continue;
        reader_fault(reader, path_member(path, "starts").text, "every start of the shipped clock",
                     "no %s%s%s", id_of(&record_kind_ids, (int)start->kind),
                     start->task == TASK_NONE ? "" : ":",
                     start->task == TASK_NONE ? "" : id_of(&task_ids, (int)start->task));
    }
}

static void clock_check(struct reader *reader, const struct clock_rule *mine,
                        const struct clock_rule *shipped)
{
    struct path path = path_index("clocks", (size_t)reader->clock_rows[shipped->clock]);
    const struct {
        const char *name;
        bool same;
    } fixed[] = {
        {"kind", mine->kind == shipped->kind},      {"part", mine->part == shipped->part},
        {"other", mine->other == shipped->other},   {"once", mine->once == shipped->once},
        {"stall", mine->mortar == shipped->mortar},
    };
    for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++) {
        if (fixed[i].same) continue;
        reader_fault(reader, path_member(path.text, fixed[i].name).text,
                     "what the shipped clock has", "something else");
    }
    starts_check(reader, path.text, mine, shipped);
    if (mine->kind != shipped->kind) return; /* another kind has no figures to compare */
    if (mine->kind == CLOCK_KIND_SET || mine->kind == CLOCK_KIND_EITHER) {
        if (!mine->mortar) {
            number_check(reader, path_member(path.text, "stall").text, &mine->stall_degc,
                         &shipped->stall_degc, LATER_MORE, "F");
        }
        number_check(reader, path_member(path.text, "cap").text, &mine->cap, &shipped->cap,
                     LATER_LESS, "1");
        law_check(reader, path_member(path.text, "law").text, mine, shipped);
    }
    variants_check(reader, path.text, mine, shipped);
}

/** What a list of conditions leaves of an option. */
static unsigned conditions_mask(const struct condition *conditions, size_t count,
                                enum option option)
{
    unsigned mask = option_mask(option);
    for (size_t i = 0; i < count; i++) {
        if (conditions[i].option == option) mask &= conditions[i].values;
    }
    return mask;
}

bool conditions_cover(const struct condition *mine, size_t mine_count,
                      const struct condition *shipped, size_t shipped_count)
{
    for (int option = 0; option < OPTION_COUNT; option++) {
        unsigned want = conditions_mask(shipped, shipped_count, (enum option)option);
        if ((want & ~conditions_mask(mine, mine_count, (enum option)option)) != 0) return false;
    }
    return true;
}

/** True when my link holds back at least whenever, and at least as long as, the shipped one. */
static bool link_covers(const struct task_link *mine, const struct task_link *shipped)
{
    if (mine->kind != shipped->kind || mine->task != shipped->task ||
        mine->clock != shipped->clock) {
        return false;
    }
    if (shipped->kind == LINK_AFTER && mine->wait_h < shipped->wait_h - SLACK) return false;
    if (shipped->kind == LINK_WITHIN && mine->wait_h > shipped->wait_h + SLACK) return false;
    if (shipped->same_day && !mine->same_day) return false;
    if (mine->if_started && !shipped->if_started) return false;
    return conditions_cover(mine->when, mine->when_count, shipped->when, shipped->when_count);
}

static void links_check(struct reader *reader, const char *path, const struct task_rule *mine,
                        const struct task_rule *shipped)
{
    for (size_t i = 0; i < shipped->link_count; i++) {
        const struct task_link *link = &shipped->links[i];
        bool covered = false;
        for (size_t k = 0; k < mine->link_count && !covered; k++) {
            covered = link_covers(&mine->links[k], link);
        }
        if (covered) continue;
        reader_fault(reader, path_member(path, "links").text,
                     "every link of the shipped task, no weaker", "no %s %s",
                     id_of(&link_ids, (int)link->kind),
                     link->kind == LINK_AFTER_CLOCK ? id_of(&clock_ids, (int)link->clock)
                                                    : id_of(&task_ids, (int)link->task));
    }
}

static void task_check(struct reader *reader, const struct task_rule *mine,
                       const struct task_rule *shipped)
{
    struct path path = path_index("tasks", (size_t)reader->task_rows[shipped->task]);
    const struct {
        const char *name;
        bool dropped;
    } flags[] = {
        {"hold", shipped->hold && !mine->hold},
        {"inspection", shipped->inspection && !mine->inspection},
        {"outdoors", shipped->outdoors && !mine->outdoors},
        {"makes-joints", shipped->makes_joints && !mine->makes_joints},
        {"no-undo", shipped->no_undo && !mine->no_undo},
        {"mortar", shipped->mortar && !mine->mortar},
    };
    for (size_t i = 0; i < sizeof flags / sizeof *flags; i++) {
        if (!flags[i].dropped) continue;
        char wanted[FAULT_TEXT_MAX];
        (void)snprintf(wanted, sizeof wanted, "%s, as shipped", flags[i].name);
        reader_fault(reader, path_member(path.text, "is").text, wanted, "no %s", flags[i].name);
    }
    if (!conditions_cover(mine->when, mine->when_count, shipped->when, shipped->when_count)) {
        reader_fault(reader, path_member(path.text, "when").text,
                     "at least the jobs the shipped task is for", "fewer");
    }
    links_check(reader, path.text, mine, shipped);
}

void baseline_check(struct reader *reader, const struct rulebook *baseline)
{
    settings_check(reader, baseline);
    for (int i = 0; i < CLOCK_COUNT; i++) {
        clock_check(reader, &reader->book->clocks[i], &baseline->clocks[i]);
    }
    for (int i = 0; i < TASK_COUNT; i++) {
        task_check(reader, &reader->book->tasks[i], &baseline->tasks[i]);
    }
    checks_baseline(reader, baseline);
}
