/* SPDX-License-Identifier: MIT */
/* links: intake model */
/*
 * schema/json says the same as the tables the reader goes by: the members of every record kind,
 * which of them must be there, their bounds and choices. A member added in one place only fails
 * here.
 */
#include <check.h>
#include <jansson.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "intake/record_members.h"
#include "model/job.h"

static json_t *load(const char *name)
{
    char path[1024];
    json_error_t error;
    snprintf(path, sizeof path, "%s/schema/json/%s.schema.json", PROJECT_ROOT, name);
    json_t *json = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    if (json == NULL) ck_abort_msg("%s: %s", path, error.text);
    return json;
}

static bool holds(json_t *array, const char *name)
{
    size_t i;
    json_t *item;
    json_array_foreach(array, i, item)
    {
        if (json_is_string(item) && strcmp(json_string_value(item), name) == 0) return true;
    }
    return false;
}

/* A schema, its `$ref` into $defs followed. */
static json_t *follow(json_t *defs, json_t *schema)
{
    const char *ref = json_string_value(json_object_get(schema, "$ref"));
    if (ref == NULL) return schema;
    json_t *found = json_object_get(defs, strrchr(ref, '/') + 1);
    ck_assert_msg(found != NULL, "%s", ref);
    return found;
}

static void same_choices(const char *where, json_t *schema, const struct field *field)
{
    json_t *constant = json_object_get(schema, "const");
    json_t *list = json_object_get(schema, "enum");
    size_t wanted = 0;
    for (size_t i = 0; i < field->choices->count; i++) {
        if (field->allowed != 0 && (field->allowed >> i & 1) == 0) continue;
        const char *id = field->choices->ids[i];
        wanted++;
        bool there =
            constant != NULL ? strcmp(json_string_value(constant), id) == 0 : holds(list, id);
        if (field->choices == &record_kind_ids) return; /* a constant in each definition */
        ck_assert_msg(there, "%s lacks %s", where, id);
    }
    ck_assert_msg(wanted == (constant != NULL ? 1 : json_array_size(list)), "%s has more", where);
}

static void same_member(const char *where, json_t *defs, json_t *schema, const struct field *field)
{
    schema = follow(defs, schema);
    const char *type = json_string_value(json_object_get(schema, "type"));
    switch (field->type) {
    case FIELD_BOOL:
        ck_assert_str_eq(type, "boolean");
        break;
    case FIELD_CHOICE:
        same_choices(where, schema, field);
        break;
    case FIELD_JSON:
        break;
    case FIELD_INTEGER:
        if (strcmp(field->name, "days") == 0) {
            ck_assert_uint_eq(json_array_size(json_object_get(schema, "enum")), 2);
            break;
        }
        ck_assert_str_eq(type, "integer");
        /* fall through */
    case FIELD_NUMBER:
    case FIELD_DEGF:
    case FIELD_DELTA_F:
        ck_assert_msg(json_number_value(json_object_get(schema, "minimum")) == field->least, "%s",
                      where);
        ck_assert_msg(json_number_value(json_object_get(schema, "maximum")) == field->most, "%s",
                      where);
        break;
    default:
        ck_assert_msg(type != NULL && strcmp(type, "string") == 0, "%s", where);
    }
}

START_TEST(the_schema_of_each_record_kind_has_the_members_of_the_table)
{
    json_t *root = load("record");
    json_t *defs = json_object_get(root, "$defs");
    ck_assert_uint_eq(json_array_size(json_object_get(root, "oneOf")), RECORD_KIND_COUNT);
    struct field fields[RECORD_MEMBERS_MAX];
    char where[200];
    snprintf(where, sizeof where, "record-%s", record_kind_ids.ids[_i]);
    json_t *def = json_object_get(defs, where);
    json_t *properties = json_object_get(def, "properties");
    json_t *required = json_object_get(def, "required");
    ck_assert_msg(def != NULL, "%s", where);
    ck_assert(json_is_false(json_object_get(def, "additionalProperties")));
    ck_assert_str_eq(
        json_string_value(json_object_get(json_object_get(properties, "kind"), "const")),
        record_kind_ids.ids[_i]);
    size_t count = record_members((enum record_kind)_i, fields);
    size_t needed = 0;
    ck_assert_msg(json_object_size(properties) == count, "%s: %zu members in the schema, %zu read",
                  where, json_object_size(properties), count);
    for (size_t i = 0; i < count; i++) {
        snprintf(where, sizeof where, "record-%s.%s", record_kind_ids.ids[_i], fields[i].name);
        json_t *schema = json_object_get(properties, fields[i].name);
        ck_assert_msg(schema != NULL, "%s is not in the schema", where);
        bool must = fields[i].required && fields[i].group == 0;
        ck_assert_msg(holds(required, fields[i].name) == must, "%s: required or not", where);
        needed += must ? 1 : 0;
        /* members of which exactly one is wanted stand under allOf */
        if (fields[i].group != 0) ck_assert_msg(json_object_get(def, "allOf") != NULL, "%s", where);
        same_member(where, defs, schema, &fields[i]);
    }
    ck_assert_uint_eq(json_array_size(required), needed);
    json_decref(root);
}
END_TEST

START_TEST(a_body_of_a_correction_may_have_every_member_any_kind_has)
{
    json_t *root = load("record");
    json_t *body =
        json_object_get(json_object_get(json_object_get(root, "$defs"), "body"), "properties");
    struct field fields[RECORD_MEMBERS_MAX];
    for (int kind = 0; kind < RECORD_KIND_COUNT; kind++) {
        if (kind == RECORD_CORRECTED) continue;
        size_t count = record_members((enum record_kind)kind, fields);
        for (size_t i = 0; i < count; i++) {
            ck_assert_msg(json_object_get(body, fields[i].name) != NULL, "%s", fields[i].name);
        }
    }
    json_decref(root);
}
END_TEST

START_TEST(the_schema_of_a_job_has_every_quantity_and_option_value)
{
    json_t *root = load("job");
    json_t *quantities = json_object_get(
        json_object_get(json_object_get(root, "properties"), "quantities"), "properties");
    ck_assert_uint_eq(json_object_size(quantities), QUANTITY_COUNT);
    for (size_t i = 0; i < QUANTITY_COUNT; i++) {
        ck_assert_ptr_nonnull(json_object_get(quantities, quantity_ids.ids[i]));
    }
    json_t *options =
        json_object_get(json_object_get(json_object_get(root, "$defs"), "options"), "properties");
    const struct {
        const char *name;
        const struct id_table *table;
    } rows[] = {{"base", &base_ids},
                {"pad", &pad_option_ids},
                {"place", &place_ids},
                {"setting_out", &setting_out_ids},
                {"lighter", &lighter_ids},
                {"lining", &lining_option_ids},
                {"facing", &facing_option_ids},
                {"mix", &mix_ids}};
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        json_t *list = json_object_get(json_object_get(options, rows[r].name), "enum");
        ck_assert_uint_eq(json_array_size(list), rows[r].table->count);
        for (size_t i = 0; i < rows[r].table->count; i++) {
            ck_assert(holds(list, rows[r].table->ids[i]));
        }
    }
    json_decref(root);
}
END_TEST

START_TEST(no_kind_has_more_members_than_there_is_room_for)
{
    struct field fields[RECORD_MEMBERS_MAX];
    for (int kind = 0; kind < RECORD_KIND_COUNT; kind++) {
        size_t count = record_members((enum record_kind)kind, fields);
        ck_assert_uint_ge(count, 8);
        for (size_t i = 0; i < count; i++) {
            for (size_t j = 0; j < i; j++) ck_assert_str_ne(fields[i].name, fields[j].name);
        }
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("intake schema");
    TCase *cases = tcase_create("schema");
    tcase_add_loop_test(cases, the_schema_of_each_record_kind_has_the_members_of_the_table, 0,
                        RECORD_KIND_COUNT);
    tcase_add_test(cases, a_body_of_a_correction_may_have_every_member_any_kind_has);
    tcase_add_test(cases, the_schema_of_a_job_has_every_quantity_and_option_value);
    tcase_add_test(cases, no_kind_has_more_members_than_there_is_room_for);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
