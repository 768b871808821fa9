/* SPDX-License-Identifier: MIT */
/* links: rulebook model */
/*
 * The shipped rulebook holds the numbers it should; every faulty one is refused with exactly its
 * faults; nothing that opens earlier passes as a company's own. The cases in tests/rulebook are
 * changes to the shipped book: [what, where, value], where rows are named by their id. A new file
 * there is a new test.
 */
#include <check.h>
#include <dirent.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/text.h"
#include "rulebook/rows.h"

#define BOOK PROJECT_ROOT "/schema/rulebook/modular-masonry.json"
#define SOURCES PROJECT_ROOT "/schema/sources.json"

static struct rulebook *shipped;

static void set_up(void)
{
    struct faults faults = {0};
    enum status status = rulebook_load(&shipped, BOOK, SOURCES, NULL, &faults);
    for (size_t i = 0; i < faults.count; i++) {
        (void)fprintf(stderr, "%s: found %s, wanted %s\n", faults.items[i].path,
                      faults.items[i].found, faults.items[i].wanted);
    }
    ck_assert_int_eq(status, STATUS_OK);
    ck_assert_uint_eq(faults.count, 0);
    faults_free(&faults);
}

static void tear_down(void)
{
    rulebook_free(shipped);
    shipped = NULL;
}

/* --- books made for a test ----------------------------------------------------------------- */

static enum status load_text(const char *text, size_t length, const struct rulebook *baseline,
                             struct faults *faults, struct rulebook **out)
{
    char path[] = "/tmp/rulebook-test-XXXXXX";
    int handle = mkstemp(path);
    ck_assert_int_ge(handle, 0);
    FILE *file = fdopen(handle, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(text, 1, length, file), length);
    ck_assert_int_eq(fclose(file), 0);
    enum status status = rulebook_load(out, path, SOURCES, baseline, faults);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert(status == STATUS_OK ? *out != NULL : *out == NULL);
    return status;
}

static enum status load_json(const json_t *book, const struct rulebook *baseline,
                             struct faults *faults)
{
    char *text = json_dumps(book, JSON_COMPACT);
    ck_assert_ptr_nonnull(text);
    struct rulebook *out = NULL;
    enum status status = load_text(text, strlen(text), baseline, faults, &out);
    free(text);
    rulebook_free(out);
    return status;
}

static json_t *read_json(const char *path)
{
    json_error_t error;
    json_t *value = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(value != NULL, "%s: %s", path, error.text);
    return value;
}

/** Index of a step: a number, or the row with that id; -1 for a member of an object. */
static int step_index(json_t *at, const json_t *step)
{
    if (json_is_integer(step)) return (int)json_integer_value(step);
    if (!json_is_array(at)) return -1;
    for (size_t i = 0; i < json_array_size(at); i++) {
        const json_t *id = json_object_get(json_array_get(at, i), "id");
        if (id != NULL && strcmp(json_string_value(id), json_string_value(step)) == 0)
            return (int)i;
    }
    ck_abort_msg("no row %s", json_string_value(step));
    return -1;
}

static void change(json_t *book, const json_t *edit)
{
    const char *what = json_string_value(json_array_get(edit, 0));
    const json_t *where = json_array_get(edit, 1);
    json_t *value = json_array_get(edit, 2);
    size_t last = json_array_size(where) - 1;
    json_t *at = book;
    size_t steps = strcmp(what, "append") == 0 ? last + 1 : last;
    for (size_t i = 0; i < steps; i++) {
        const json_t *step = json_array_get(where, i);
        int index = step_index(at, step);
        at = index >= 0 ? json_array_get(at, (size_t)index)
                        : json_object_get(at, json_string_value(step));
        ck_assert_ptr_nonnull(at);
    }
    if (strcmp(what, "append") == 0) {
        ck_assert_int_eq(json_array_append(at, value), 0);
        return;
    }
    const json_t *step = json_array_get(where, last);
    int index = step_index(at, step);
    bool removes = strcmp(what, "remove") == 0;
    ck_assert(removes || strcmp(what, "set") == 0);
    if (index >= 0 && removes)
        ck_assert_int_eq(json_array_remove(at, (size_t)index), 0);
    else if (index >= 0)
        ck_assert_int_eq(json_array_set(at, (size_t)index, value), 0);
    else if (removes)
        ck_assert_int_eq(json_object_del(at, json_string_value(step)), 0);
    else
        ck_assert_int_eq(json_object_set(at, json_string_value(step), value), 0);
}

static void check_case(const char *path, const json_t *test)
{
    json_t *book = read_json(BOOK);
    const json_t *changes = json_object_get(test, "change");
    for (size_t i = 0; i < json_array_size(changes); i++) change(book, json_array_get(changes, i));
    const struct rulebook *baseline =
        json_is_true(json_object_get(test, "baseline")) ? shipped : NULL;
    const json_t *text = json_object_get(test, "text");
    struct faults faults = {0};
    struct rulebook *out = NULL;
    enum status status = text == NULL ? load_json(book, baseline, &faults)
                                      : load_text(json_string_value(text), json_string_length(text),
                                                  baseline, &faults, &out);
    rulebook_free(out);
    const json_t *wanted = json_object_get(test, "faults");
    bool record = getenv("RULEBOOK_PRINT_FAULTS") != NULL; /* to write a new case */
    for (size_t i = 0; i < faults.count; i++) {
        char line[FAULT_PATH_MAX + 2 * FAULT_TEXT_MAX + 32];
        (void)snprintf(line, sizeof line, "%s: found %s, wanted %s", faults.items[i].path,
                       faults.items[i].found, faults.items[i].wanted);
        if (record) (void)printf("%s\t%s\n", path, line);
        const char *want = json_string_value(json_array_get(wanted, i));
        ck_assert_msg(record || (want != NULL && strcmp(want, line) == 0), "%s: %s\nwanted: %s",
                      path, line, want == NULL ? "no more" : want);
    }
    ck_assert_msg(record || faults.count == json_array_size(wanted), "%s: %zu faults, wanted %zu",
                  path, faults.count, json_array_size(wanted));
    ck_assert_msg(status == (faults.count == 0 ? STATUS_OK : STATUS_INVALID), "%s: status %d", path,
                  (int)status);
    faults_free(&faults);
    json_decref(book);
}

/** Every case of a folder; how many there were. */
static int check_folder(const char *folder, bool valid)
{
    DIR *directory = opendir(folder);
    ck_assert_msg(directory != NULL, "%s", folder);
    int count = 0;
    for (const struct dirent *entry = readdir(directory); entry != NULL;
         entry = readdir(directory)) {
        if (strstr(entry->d_name, ".json") == NULL) continue;
        char path[1024];
        (void)snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        json_t *test = read_json(path);
        bool empty = json_array_size(json_object_get(test, "faults")) == 0;
        ck_assert_msg(empty == valid || getenv("RULEBOOK_PRINT_FAULTS") != NULL,
                      "%s stands in the wrong folder", path);
        check_case(path, test);
        json_decref(test);
        count++;
    }
    (void)closedir(directory);
    return count;
}

/* --- the numbers --------------------------------------------------------------------------- */

static const struct {
    enum clock_id clock;
    enum base base;
    bool propped;
    double floor_h; /* NAN: none */
    double need;
    enum mark floor_mark;
    enum mark need_mark;
} defaults[] = {
    {CLOCK_PAD_STRIP, BASE_SLAB, false, 24, 12, MARK_HR, MARK_HR},
    {CLOCK_PAD_FIRST_FROST, BASE_CRAWL, false, 0, 24, MARK_HR, MARK_HR},
    {CLOCK_PAD_BUILD_ON, BASE_SLAB, false, 24, 24, MARK_CP, MARK_HR},
    {CLOCK_PAD_BUILD_ON, BASE_SLAB, true, 24, 24, MARK_CP, MARK_HR},
    {CLOCK_PAD_BUILD_ON, BASE_CRAWL, false, 48, 48, MARK_HR, MARK_HR},
    {CLOCK_PAD_BUILD_ON, BASE_BASEMENT, true, 48, 48, MARK_HR, MARK_HR},
    {CLOCK_PAD_CHIMNEY_LOAD, BASE_SLAB, true, 48, 48, MARK_HR, MARK_HR},
    {CLOCK_PAD_CHIMNEY_LOAD, BASE_CRAWL, false, 168, 72, MARK_HR, MARK_HR},
    {CLOCK_PAD_CHIMNEY_LOAD, BASE_BASEMENT, true, 72, 72, MARK_HR, MARK_HR},
    {CLOCK_PAD_MOIST_CURE, BASE_SLAB, false, 0, 168, MARK_HR, MARK_HR},
    {CLOCK_PAD_FACING_READY, BASE_SLAB, false, 336, 84, MARK_HR, MARK_HR},
    {CLOCK_JOINTS_EARLY, BASE_SLAB, false, 24, 24, MARK_HR, MARK_HR},
    {CLOCK_BED_SET, BASE_SLAB, false, 16, 12, MARK_HR, MARK_HR},
    {CLOCK_LIFT_NEXT, BASE_SLAB, false, 12, 6, MARK_HR, MARK_HR},
    {CLOCK_LINING_EARLY, BASE_SLAB, false, 0, 48, MARK_HR, MARK_HR},
    {CLOCK_UNIT_DRY_CURE, BASE_SLAB, false, NAN, 28, MARK_NONE, MARK_CP},
    {CLOCK_UNIT_FACING_CURE, BASE_SLAB, false, NAN, 14, MARK_NONE, MARK_HR},
    {CLOCK_UNIT_PATCH, BASE_SLAB, false, NAN, 28, MARK_NONE, MARK_HR},
};

START_TEST(the_shipped_clocks_have_the_default_numbers_and_marks)
{
    for (size_t i = 0; i < sizeof defaults / sizeof *defaults; i++) {
        struct options options = {.base = defaults[i].base, .propped = defaults[i].propped};
        const struct clock_variant *variant =
            rulebook_variant(&shipped->clocks[defaults[i].clock], &options);
        ck_assert_ptr_nonnull(variant);
        ck_assert_msg(variant->need.value == defaults[i].need && /* exact: as written */
                          variant->need.mark == defaults[i].need_mark &&
                          variant->floor_h.mark == defaults[i].floor_mark,
                      "%s, row %zu", id_of(&clock_ids, (int)defaults[i].clock), i);
        ck_assert(isnan(defaults[i].floor_h) ? isnan(variant->floor_h.value)
                                             : variant->floor_h.value == defaults[i].floor_h);
    }
}
END_TEST

START_TEST(mortar_clocks_stall_at_the_bag_and_concrete_at_40_f_exactly)
{
    const double forty_degc = (40 - 32) * 5.0 / 9.0;
    const double fifty_degc = (50 - 32) * 5.0 / 9.0;
    for (int i = 0; i < CLOCK_COUNT; i++) {
        const struct clock_rule *rule = &shipped->clocks[i];
        if (rule->kind != CLOCK_KIND_SET && rule->kind != CLOCK_KIND_EITHER) continue;
        bool mortar = i == CLOCK_JOINTS_EARLY || i == CLOCK_BED_SET || i == CLOCK_LIFT_NEXT ||
                      i == CLOCK_LINING_EARLY;
        ck_assert(rule->mortar == mortar);
        ck_assert(rule->law.stall_degc == (mortar ? fifty_degc : forty_degc));
        ck_assert(rule->law.cap == 1.0 && rule->law.datum_degc == 0.0);
        ck_assert(rule->law.reference_degc == 20.0 && rule->law.kind == MATURITY_TEMPERATURE_TIME);
        ck_assert_int_eq(rule->law_mark, MARK_P);
        ck_assert_str_eq(rule->law_source, "astm-c1074");
    }
    ck_assert(rulebook_setting(shipped, SETTING_FROST_DEGC) == 0.0);
    ck_assert(rulebook_setting(shipped, SETTING_READING_DISAGREE_DEGC) == 8 * 5.0 / 9.0);
    ck_assert(rulebook_setting(shipped, SETTING_DAY_FULL_MIN_DEGC) == forty_degc);
    ck_assert(rulebook_setting(shipped, SETTING_GATE_GUST_MPS) == 25 * 0.44704);
    ck_assert_double_eq_tol(rulebook_setting(shipped, SETTING_GATE_POUR_RAIN_MM), 2.54, 1e-12);
}
END_TEST

static bool gated(enum task task, enum clock_id clock)
{
    const struct task_rule *rule = &shipped->tasks[task];
    for (size_t i = 0; i < rule->link_count; i++) {
        if (rule->links[i].kind == LINK_AFTER_CLOCK && rule->links[i].clock == clock) return true;
    }
    return false;
}

START_TEST(each_clock_holds_back_the_tasks_it_is_there_for)
{
    static const struct {
        enum clock_id clock;
        enum task task;
    } releases[] = {
        {CLOCK_PAD_BUILD_ON, TASK_PAD_CHECK},      {CLOCK_PAD_BUILD_ON, TASK_LAYOUT},
        {CLOCK_PAD_STRIP, TASK_PAD_STRIP},         {CLOCK_PAD_CHIMNEY_LOAD, TASK_CHIMNEY_RUN},
        {CLOCK_BED_SET, TASK_CHIMNEY_RUN},         {CLOCK_LIFT_NEXT, TASK_CHIMNEY_RUN},
        {CLOCK_PAD_MOIST_CURE, TASK_PROPS_OUT},    {CLOCK_PAD_FACING_READY, TASK_FACING_OTHERS},
        {CLOCK_PAD_FACING_READY, TASK_HEARTH_EXT}, {CLOCK_LINING_EARLY, TASK_LIGHTER_TOP},
        {CLOCK_LINING_EARLY, TASK_FACING_OTHERS},  {CLOCK_JOINTS_EARLY, TASK_LINE_FLOOR},
        {CLOCK_JOINTS_EARLY, TASK_DECK_SET},       {CLOCK_UNIT_DRY_CURE, TASK_HANDOVER},
        {CLOCK_UNIT_DRY_CURE, TASK_FIRE_1},        {CLOCK_UNIT_FACING_CURE, TASK_FIRE_1},
        {CLOCK_UNIT_PATCH, TASK_FIRE_1},
    };
    for (size_t i = 0; i < sizeof releases / sizeof *releases; i++) {
        ck_assert_msg(gated(releases[i].task, releases[i].clock), "%s does not wait for %s",
                      id_of(&task_ids, (int)releases[i].task),
                      id_of(&clock_ids, (int)releases[i].clock));
    }
}
END_TEST

static bool needed(enum task task, const struct options *options)
{
    return rulebook_holds(shipped->tasks[task].when, shipped->tasks[task].when_count, options);
}

START_TEST(options_switch_the_tasks_they_should)
{
    struct options plain = {
        .base = BASE_SLAB, .pad = PAD_NEW, .place = PLACE_EXPOSED, .permit = true};
    ck_assert(!needed(TASK_TOWER_BLOCK, &plain) && !needed(TASK_PROPS_OUT, &plain));
    ck_assert(!needed(TASK_AIR_CUT, &plain) && !needed(TASK_GAS_ROUGH, &plain));
    ck_assert(!needed(TASK_THROAT_INSPECT, &plain) && !needed(TASK_ROOF_FLASH, &plain));
    ck_assert(needed(TASK_PAD_POUR, &plain) && needed(TASK_PAD_INSPECT, &plain));
    struct options full = {.base = BASE_BASEMENT,
                           .pad = PAD_NEW,
                           .place = PLACE_INDOOR,
                           .permit = false,
                           .propped = true,
                           .outside_air = true,
                           .lighter = LIGHTER_FLUSH,
                           .facing = FACING_MORTARED,
                           .through_roof = true,
                           .town = {.throat_look = true}};
    ck_assert(needed(TASK_TOWER_BLOCK, &full) && needed(TASK_PROPS_OUT, &full));
    ck_assert(needed(TASK_AIR_CUT, &full) && needed(TASK_GAS_ROUGH, &full));
    ck_assert(needed(TASK_LIGHTER_FLUSH, &full) && !needed(TASK_LIGHTER_TOP, &full));
    ck_assert(needed(TASK_THROAT_INSPECT, &full) && needed(TASK_ROOF_FLASH, &full));
    ck_assert(needed(TASK_FACING_OTHERS, &full) && !needed(TASK_PAD_INSPECT, &full));
    full.propped = false;
    ck_assert(!needed(TASK_PROPS_OUT, &full));
    full.pad = PAD_EXISTING;
    ck_assert(!needed(TASK_PAD_POUR, &full) && needed(TASK_PAD_CHECK, &full));
}
END_TEST

static double hours(enum task task, const double amounts[MEASURE_COUNT])
{
    const struct task_rule *rule = &shipped->tasks[task];
    double sum = rule->hours_fixed;
    for (size_t i = 0; i < rule->per_count; i++) {
        sum += rule->per[i].hours_each * amounts[rule->per[i].measure];
    }
    return sum;
}

START_TEST(the_hours_of_a_42_inch_unit_add_up_as_worked_by_hand)
{
    const double amounts[MEASURE_COUNT] = {
        [MEASURE_COURSES] = 5,      [MEASURE_CHIMNEY_LOW_FT] = 12, [MEASURE_CHIMNEY_HIGH_FT] = 2,
        [MEASURE_FLOOR_BRICK] = 36, [MEASURE_BACK_BRICK] = 45,     [MEASURE_SIDE_BRICK] = 56,
    };
    ck_assert_double_eq_tol(hours(TASK_BOX_COURSES, amounts), 3.25, 1e-9);
    double first_day = hours(TASK_LAYOUT, amounts) + hours(TASK_BOX_COURSES, amounts) +
                       hours(TASK_THROAT_SET, amounts) + hours(TASK_LINTEL_IRON, amounts) +
                       hours(TASK_DAMPER_SET, amounts);
    ck_assert_double_eq_tol(first_day, 6.5, 1e-9);
    ck_assert_double_eq_tol(
        hours(TASK_SMOKE_CHAMBER, amounts) + hours(TASK_TRANSITION_SET, amounts), 2.35, 1e-9);
    ck_assert_double_eq_tol(hours(TASK_CHIMNEY_RUN, amounts), 7.3, 1e-9);
    ck_assert_double_eq_tol(hours(TASK_LINE_FLOOR, amounts) + hours(TASK_LINE_BACK, amounts) +
                                hours(TASK_LINE_SIDES, amounts),
                            11.24, 1e-9);
}
END_TEST

/* --- refusals ------------------------------------------------------------------------------ */

START_TEST(every_valid_book_is_taken)
{
    ck_assert_int_ge(check_folder(PROJECT_ROOT "/tests/rulebook/valid", true), 5);
}
END_TEST

START_TEST(every_invalid_book_gives_exactly_its_faults)
{
    ck_assert_int_ge(check_folder(PROJECT_ROOT "/tests/rulebook/invalid", false), 50);
}
END_TEST

/** Lower every number that has a least to one below it, wherever it stands. */
static int lower_below_least(json_t *root, json_t *at, const char *path)
{
    int count = 0;
    const json_t *least = json_object_get(at, "least");
    if (least != NULL && json_object_get(at, "value") != NULL) {
        json_t *value = json_incref(json_object_get(at, "value"));
        json_object_set_new(at, "value", json_real(json_number_value(least) - 1.0));
        struct faults faults = {0};
        ck_assert_int_eq(load_json(root, NULL, &faults), STATUS_INVALID);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_str_eq(faults.items[0].path, path_member(path, "value").text);
        faults_free(&faults);
        json_object_set_new(at, "value", value);
        count++;
    }
    const char *name;
    json_t *member;
    json_object_foreach(at, name, member)
    {
        count += lower_below_least(root, member, path_member(path, name).text);
    }
    for (size_t i = 0; json_is_array(at) && i < json_array_size(at); i++) {
        count += lower_below_least(root, json_array_get(at, i), path_index(path, i).text);
    }
    return count;
}

START_TEST(a_number_one_below_its_least_is_refused_wherever_it_stands)
{
    json_t *book = read_json(BOOK);
    ck_assert_int_ge(lower_below_least(book, book, ""), 5);
    json_decref(book);
}
END_TEST

START_TEST(every_clock_number_one_lower_is_refused_against_the_shipped_book)
{
    json_t *book = read_json(BOOK);
    json_t *clocks = json_object_get(book, "clocks");
    int count = 0;
    for (size_t i = 0; i < json_array_size(clocks); i++) {
        json_t *variants = json_object_get(json_array_get(clocks, i), "variants");
        for (size_t k = 0; k < json_array_size(variants) * 2; k++) {
            json_t *variant = json_array_get(variants, k / 2);
            const char *which = k % 2 == 0 ? "floor_h" : "need";
            json_t *number = json_object_get(variant, which);
            double value = json_number_value(json_object_get(number, "value"));
            if (number == NULL || value == 0.0) continue;
            json_object_set_new(number, "value", json_real(value - 1.0));
            json_object_del(number, "least"); /* the file may not excuse itself */
            struct faults faults = {0};
            ck_assert_int_eq(load_json(book, shipped, &faults), STATUS_INVALID);
            char path[FAULT_PATH_MAX];
            (void)snprintf(path, sizeof path, "clocks[%zu].variants[%zu].%s.value", i, k / 2,
                           which);
            ck_assert_str_eq(faults.items[0].path, path);
            faults_free(&faults);
            json_decref(book);
            book = read_json(BOOK);
            clocks = json_object_get(book, "clocks");
            variants = json_object_get(json_array_get(clocks, i), "variants");
            count++;
        }
    }
    ck_assert_int_eq(count, 26);
    json_decref(book);
}
END_TEST

START_TEST(every_setting_may_move_to_the_later_side_only)
{
    json_t *book = read_json(BOOK);
    json_t *rows = json_object_get(book, "settings");
    for (size_t i = 0; i < json_array_size(rows); i++) {
        json_t *row = json_array_get(rows, i);
        int setting = id_find(&setting_ids, json_string_value(json_object_get(row, "id")));
        ck_assert_int_ge(setting, 0);
        const char *unit = json_string_value(json_object_get(row, "unit"));
        bool whole = strcmp(unit, "day") == 0 || strcmp(unit, "year") == 0;
        double step = whole ? 1.0 : 0.03125;
        enum later later = setting_specs[setting].later;
        json_t *kept = json_incref(json_object_get(row, "value"));
        for (int sign = -1; sign <= 1; sign += 2) {
            json_object_set_new(row, "value", json_real(json_number_value(kept) + sign * step));
            bool earlier = later == LATER_SAME || (later == LATER_MORE && sign < 0) ||
                           (later == LATER_LESS && sign > 0);
            struct faults faults = {0};
            enum status status = load_json(book, shipped, &faults);
            ck_assert_msg(status == (earlier ? STATUS_INVALID : STATUS_OK), "%s %+g: status %d",
                          setting_ids.ids[setting], sign * step, (int)status);
            faults_free(&faults);
        }
        json_object_set_new(row, "value", kept);
    }
    json_decref(book);
}
END_TEST

/** Every member in turn gone, or of another type: named as a fault or optional, never a crash. */
static void break_members(json_t *root, json_t *at, int *seen, int *refused)
{
    if (json_is_object(at)) {
        const char *names[16];
        size_t count = 0;
        const char *name;
        json_t *member;
        json_object_foreach(at, name, member)
        {
            ck_assert_uint_lt(count, 16);
            names[count++] = name;
        }
        for (size_t i = 0; i < count; i++) {
            break_members(root, json_object_get(at, names[i]), seen, refused);
            if ((*seen)++ % 7 != 0) continue; /* a sample keeps the test short */
            char key[64];
            (void)snprintf(key, sizeof key, "%s", names[i]);
            json_t *kept = json_incref(json_object_get(at, key));
            json_object_set_new(at, key, json_is_object(kept) ? json_integer(-1) : json_object());
            struct faults faults = {0};
            ck_assert_msg(load_json(root, NULL, &faults) == STATUS_INVALID, "%s", key);
            ck_assert_uint_ge(faults.count, 1);
            faults_free(&faults);
            json_object_set_new(at, key, kept);
            (*refused)++;
        }
        return;
    }
    for (size_t i = 0; json_is_array(at) && i < json_array_size(at); i++) {
        break_members(root, json_array_get(at, i), seen, refused);
    }
}

START_TEST(a_member_of_another_type_is_always_a_named_fault)
{
    json_t *book = read_json(BOOK);
    int seen = 0;
    int refused = 0;
    break_members(book, book, &seen, &refused);
    ck_assert_int_ge(refused, 150);
    json_decref(book);
}
END_TEST

START_TEST(a_rulebook_of_more_than_a_mebibyte_is_a_limit)
{
    size_t length = 1048577;
    char *text = malloc(length);
    ck_assert_ptr_nonnull(text);
    memset(text, ' ', length);
    struct faults faults = {0};
    struct rulebook *out = NULL;
    ck_assert_int_eq(load_text(text, length, NULL, &faults, &out), STATUS_LIMIT);
    ck_assert_uint_eq(faults.count, 1);
    faults_free(&faults);
    free(text);
}
END_TEST

START_TEST(a_rulebook_that_is_not_there_is_not_found)
{
    struct rulebook *out = NULL;
    struct faults faults = {0};
    ck_assert_int_eq(rulebook_load(&out, PROJECT_ROOT "/no-such-book.json", SOURCES, NULL, &faults),
                     STATUS_NOT_FOUND);
    ck_assert_ptr_null(out);
    ck_assert_uint_eq(faults.count, 1);
    faults_free(&faults);
}
END_TEST

START_TEST(a_shipped_rulebook_is_named_by_a_plain_id_only)
{
    static const char *const bad[] = {
        "", "../sources", "Modular-Masonry", "modular_masonry", "a/b", "modular-masonry.json"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct rulebook *out = NULL;
        ck_assert_int_eq(rulebook_load_shipped(&out, bad[i], NULL), STATUS_INVALID);
        ck_assert_ptr_null(out);
    }
    struct rulebook *out = NULL;
    ck_assert_int_eq(rulebook_load_shipped(&out, "no-such-book", NULL), STATUS_NOT_FOUND);
    ck_assert_int_eq(rulebook_load_shipped(&out, "modular-masonry", NULL), STATUS_OK);
    ck_assert_str_eq(out->id, "modular-masonry");
    rulebook_free(out);
}
END_TEST

/* --- sentences ----------------------------------------------------------------------------- */

START_TEST(the_rules_as_sentences_are_the_snapshot)
{
    const char *path = PROJECT_ROOT "/tests/snapshot/rulebook-modular-masonry.txt";
    struct text text = TEXT_UP_TO(1048576);
    rulebook_show(&text, shipped);
    ck_assert_int_eq(text_status(&text), STATUS_OK);
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s", path);
    char *wanted = calloc(1, 1048577);
    ck_assert_ptr_nonnull(wanted);
    size_t length = fread(wanted, 1, 1048576, file);
    (void)fclose(file);
    size_t same = 0;
    while (same < length && same < text.length && wanted[same] == text.data[same]) same++;
    ck_assert_msg(same == length && same == text.length,
                  "differs at byte %zu:\n%.120s\nsnapshot (emberwait rulebook show > %s):\n%.120s",
                  same, text_z(&text) + same, path, wanted + same);
    free(wanted);
    text_free(&text);
}
END_TEST

START_TEST(no_sentence_claims_what_the_tool_cannot_know)
{
    static const char *const banned[] = {"safe",      "approved", "permitted", "cured",
                                         "certified", "strength", "psi"};
    struct text text = TEXT_UP_TO(1048576);
    rulebook_show(&text, shipped);
    for (size_t i = 0; i < text.length; i++) {
        if (text.data[i] >= 'A' && text.data[i] <= 'Z') text.data[i] = (char)(text.data[i] + 32);
    }
    for (size_t i = 0; i < sizeof banned / sizeof *banned; i++) {
        ck_assert_msg(strstr(text_z(&text), banned[i]) == NULL, "%s", banned[i]);
    }
    ck_assert_ptr_nonnull(strstr(text_z(&text),
                                 "build on the pad, base on ground: at least 24 h after "
                                 "the pour [cp] and 24 warm hours [hr]."));
    text_free(&text);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("rulebook");
    TCase *tests = tcase_create("rulebook");
    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, the_shipped_clocks_have_the_default_numbers_and_marks);
    tcase_add_test(tests, mortar_clocks_stall_at_the_bag_and_concrete_at_40_f_exactly);
    tcase_add_test(tests, each_clock_holds_back_the_tasks_it_is_there_for);
    tcase_add_test(tests, options_switch_the_tasks_they_should);
    tcase_add_test(tests, the_hours_of_a_42_inch_unit_add_up_as_worked_by_hand);
    tcase_add_test(tests, every_valid_book_is_taken);
    tcase_add_test(tests, every_invalid_book_gives_exactly_its_faults);
    tcase_add_test(tests, a_number_one_below_its_least_is_refused_wherever_it_stands);
    tcase_add_test(tests, every_clock_number_one_lower_is_refused_against_the_shipped_book);
    tcase_add_test(tests, every_setting_may_move_to_the_later_side_only);
    tcase_add_test(tests, a_member_of_another_type_is_always_a_named_fault);
    tcase_add_test(tests, a_rulebook_of_more_than_a_mebibyte_is_a_limit);
    tcase_add_test(tests, a_rulebook_that_is_not_there_is_not_found);
    tcase_add_test(tests, a_shipped_rulebook_is_named_by_a_plain_id_only);
    tcase_add_test(tests, the_rules_as_sentences_are_the_snapshot);
    tcase_add_test(tests, no_sentence_claims_what_the_tool_cannot_know);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
