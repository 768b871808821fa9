/* SPDX-License-Identifier: MIT */
/*
 * Why: the printed sheet that came with a kit is entered once and used by every job of that kit. It
 * is read as figures by clock and by distance; whether a figure lengthens is the planner's to see.
 */
#include "intake/kit.h"

#include <math.h>
#include <string.h>

#include "base/banned.h"

enum { KITS_MAX = 200 };

static enum status read_clocks(const struct intake *intake, const struct spot *spot, json_t *object,
                               struct kit *kit)
{
    struct pair {
        double floor_h, need;
    };
    static const struct field pair_fields[] = {
        {"floor_h", FIELD_NUMBER, .nullable = true, .least = 0, .most = 8760,
         .offset = offsetof(struct pair, floor_h)},
        {"need", FIELD_NUMBER, .nullable = true, .least = 0, .most = 8760,
         .offset = offsetof(struct pair, need)},
    };
    struct field fields[CLOCK_COUNT];
    for (size_t i = 0; i < CLOCK_COUNT; i++)
        fields[i] = (struct field){.name = clock_ids.ids[i], .type = FIELD_JSON};
    enum status status = field_read_object(intake, spot, object, fields, CLOCK_COUNT, kit);
    for (size_t i = 0; json_is_object(object) && i < CLOCK_COUNT; i++) {
        json_t *value = json_object_get(object, clock_ids.ids[i]);
        struct spot here = {.up = spot, .key = clock_ids.ids[i]};
        struct pair pair = {NAN, NAN};
        if (value == NULL) continue;
        status =
            field_worse(status, field_read_object(intake, &here, value, pair_fields, 2, &pair));
        kit->floor_h[i] = pair.floor_h;
        kit->need[i] = pair.need;
    }
    return status;
}

static enum status read_clearances(const struct intake *intake, const struct spot *spot,
                                   json_t *object, struct kit *kit)
{
    struct field fields[CLEARANCE_COUNT];
    for (size_t i = 0; i < CLEARANCE_COUNT; i++) {
        fields[i] = (struct field){.name = clearance_ids.ids[i],
                                   .type = FIELD_NUMBER,
                                   .nullable = true,
                                   .least = 0,
                                   .most = 1000,
                                   .offset = i * sizeof kit->clearances_in[0]};
    }
    return field_read_object(intake, spot, object, fields, CLEARANCE_COUNT, kit->clearances_in);
}

static struct kit blank(void)
{
    struct kit kit = {.bag_min_degc = NAN};
    for (size_t i = 0; i < CLOCK_COUNT; i++) kit.floor_h[i] = kit.need[i] = NAN;
    for (size_t i = 0; i < CLEARANCE_COUNT; i++) kit.clearances_in[i] = NAN;
    return kit;
}

static enum status read_kit(const struct intake *intake, const struct spot *spot, json_t *json,
                            struct kit *kit)
{
    static const struct field fields[] = {
        {"id", FIELD_ID, .required = true, .offset = offsetof(struct kit, id)},
        {"name", FIELD_NAME, .nullable = true, .offset = offsetof(struct kit, name)},
        {"revision", FIELD_NAME, .nullable = true, .offset = offsetof(struct kit, revision)},
        {"page", FIELD_TEXT, .nullable = true, .offset = offsetof(struct kit, page)},
        {"bag_min_degf", FIELD_DEGF, .nullable = true, .least = -60, .most = 200,
         .offset = offsetof(struct kit, bag_min_degc)},
        {"clocks", FIELD_JSON, .required = false},
        {"clearances", FIELD_JSON, .required = false},
    };
    *kit = blank();
    enum status status =
        field_read_object(intake, spot, json, fields, sizeof fields / sizeof *fields, kit);
    json_t *clocks = json_object_get(json, "clocks");
    json_t *clearances = json_object_get(json, "clearances");
    struct spot here = {.up = spot, .key = "clocks"};
    if (clocks != NULL) status = field_worse(status, read_clocks(intake, &here, clocks, kit));
    here.key = "clearances";
    if (clearances != NULL)
        status = field_worse(status, read_clearances(intake, &here, clearances, kit));
    return status;
}

enum status kits_read(const struct intake *intake, const struct spot *spot, json_t *array,
                      const struct kit **out, size_t *out_count)
{
    if (field_array(intake, spot, array, KITS_MAX, "kits") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    struct kit *kits = ARENA_TAKE(intake->arena, count, struct kit);
    if (kits == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        status = field_worse(status, read_kit(intake, &here, json_array_get(array, i), &kits[i]));
        for (size_t j = 0; j < i && kits[i].id != NULL; j++) {
            if (kits[j].id == NULL || strcmp(kits[j].id, kits[i].id) != 0) continue;
            status = field_worse(status, field_fault(intake, &here, "id", "an id of its own",
                                                     "\"%s\" a second time", kits[i].id));
        }
    }
    *out = kits;
    *out_count = count;
    return status;
}
