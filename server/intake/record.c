/* SPDX-License-Identifier: MIT */
/*
 * Why: records come in lists, and three of their rules need the whole list: an id sent twice with
 * the same body counts once, with another body it is a fault, and a correction has to name a record
 * that exists. So a list is read in two passes: first every record by itself, then the corrections,
 * whose new body may leave out what it shares with the record it corrects (id, kind, at).
 */
#include "intake/record.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "compute/civil.h"
#include "intake/record_checks.h"
#include "intake/record_members.h"
#include "model/record.h"

#include "base/banned.h"

enum { CHAIN_MAX = 16, DAY_S = 86400 };

/* Everything one list is read with. */
struct reading_list {
    const struct intake *intake;
    const struct zone *zone;
    const struct record *stored;
    size_t stored_count;
    struct record *items; /* [count] */
    json_t **bodies;      /* [count]: the JSON of each */
    json_t *array;        /* the list itself; NULL for one record */
    size_t count;
    uint32_t *slots; /* open addressing over stored, then items: index + 1; 0 free */
    size_t slot_mask;
};

/* --- rules a row cannot say ------------------------------------------------------------------ */

static enum status check_logged_day(const struct reading_list *list, const struct spot *spot,
                                    const struct record *record, json_t *json)
{
    enum status status = STATUS_OK;
    bool mean_f = json_object_get(json, "mean_degf") != NULL;
    bool min_f = json_object_get(json, "min_degf") != NULL;
    if (mean_f != min_f) {
        status = field_fault(list->intake, spot, min_f ? "min_degf" : "min_degc",
                             "the mean and the minimum in one unit", "one in F and one in C");
    }
    if (record->min_degc > record->mean_degc) {
        status = field_fault_value(list->intake, spot, min_f ? "min_degf" : "min_degc",
                                   "a minimum not above the mean",
                                   json_object_get(json, min_f ? "min_degf" : "min_degc"));
    }
    if (list->zone != NULL && record->day > civil_day_of(list->zone, record->at_s)) {
        status = field_fault_value(list->intake, spot, "date",
                                   "a day not after the day it was written (`at`)",
                                   json_object_get(json, "date"));
    }
    return status;
}

static enum status check_patched(const struct reading_list *list, const struct spot *spot,
                                 struct record *record, json_t *json)
{
    if (record->days != 0 && record->days != 7 && record->days != 28) {
        return field_fault_value(list->intake, spot, "days", "7 or 28",
                                 json_object_get(json, "days"));
    }
    return STATUS_OK;
}

static enum status check_relaid(const struct reading_list *list, const struct spot *spot,
                                const struct record *record, json_t *json)
{
    if (record->what != RELAID_SIDE || record->percent > 10.0) return STATUS_OK;
    return field_fault_value(list->intake, spot, "percent",
                             "over 10 for a side; for less of it record it as patched",
                             json_object_get(json, "percent"));
}

static enum status check_rule(const struct reading_list *list, const struct spot *spot,
                              const struct record *record)
{
    if (!isnan(record->floor_h) || !isnan(record->need)) return STATUS_OK;
    return field_fault(list->intake, spot, NULL, "at least one of floor_h and need", "neither");
}

/* A clock is lengthened; a check has its less strict figure accepted; a missed chance is excused.
 */
static enum status check_overridden(const struct reading_list *list, const struct spot *spot,
                                    struct record *record, json_t *json)
{
    enum status status = record_rule_read(list->intake, spot, record);
    if (status != STATUS_OK) return status;
    if (record->clock != CLOCK_NONE) {
        status = check_rule(list, spot, record);
        if (json_object_get(json, "sheet") == NULL) return status;
        return field_worse(status, field_fault(list->intake, spot, "sheet",
                                               "no sheet: only a check has one", "a sheet"));
    }
    static const char *const wants[] = {"need", "sheet"};
    for (size_t i = 0; i < 2; i++) {
        json_t *given = json_object_get(json, wants[i]);
        bool wanted = record->check != CHECK_NONE;
        if (wanted == (given != NULL)) continue;
        status = field_worse(
            status, field_fault_value(list->intake, spot, wants[i],
                                      !wanted  ? "nothing: a missed chance is excused by a reason"
                                      : i == 0 ? "the figure that is accepted"
                                               : "the listing page it stands on",
                                      given));
    }
    if (!isnan(record->floor_h))
        status = field_worse(status, field_fault_value(list->intake, spot, "floor_h",
                                                       "nothing: only a clock has a floor",
                                                       json_object_get(json, "floor_h")));
    return status;
}

static enum status check_bag(const struct reading_list *list, const struct spot *spot,
                             const struct record *record, json_t *json)
{
    if (!(record->bag_min_degc > record->bag_max_degc)) return STATUS_OK;
    const char *key = json_object_get(json, "max_degf") != NULL ? "max_degf" : "max_degc";
    return field_fault_value(list->intake, spot, key, "a maximum not below the minimum",
                             json_object_get(json, key));
}

/* Checks and defaults that belong to a kind; the members themselves were read without a fault. */
static enum status finish_kind(const struct reading_list *list, const struct spot *spot,
                               struct record *record, json_t *json)
{
    switch (record->kind) {
    case RECORD_READING:
        if (record->how == HOW_NONE) record->how = HOW_PROBE;
        record->in_degf = json_object_get(json, "degf") != NULL;
        return STATUS_OK;
    case RECORD_LOGGED_DAY:
        if (record->part == PART_NONE) record->part = PART_UNIT;
        record->in_degf = json_object_get(json, "mean_degf") != NULL;
        return check_logged_day(list, spot, record, json);
    case RECORD_WET_COVER_ON:
    case RECORD_WET_COVER_OFF:
        if (record->part == PART_NONE) record->part = PART_PAD;
        return STATUS_OK;
    case RECORD_COVERED:
    case RECORD_UNCOVERED:
    case RECORD_WRAPPED:
    case RECORD_UNWRAPPED:
        record->part = PART_UNIT;
        return STATUS_OK;
    case RECORD_DELIVERED:
        if (json_object_get(json, "complete") == NULL) record->complete = true;
        return STATUS_OK;
    case RECORD_PATCHED:
        return check_patched(list, spot, record, json);
    case RECORD_RELAID:
        return check_relaid(list, spot, record, json);
    case RECORD_ENGINEER:
        return check_rule(list, spot, record);
    case RECORD_OVERRIDDEN:
        return check_overridden(list, spot, record, json);
    case RECORD_DONE:
    case RECORD_PASSED:
    case RECORD_INSPECTION:
        return record_checks_read(list->intake, spot, record, json);
    case RECORD_BAG:
        return check_bag(list, spot, record, json);
    default:
        return STATUS_OK;
    }
}

/* --- one record ------------------------------------------------------------------------------ */

/* Reads the kind alone; RECORD_KIND_NONE when absent or not known (told as a fault only once). */
static enum record_kind peek_kind(json_t *json)
{
    const char *kind = json_string_value(json_object_get(json, "kind"));
    return kind == NULL ? RECORD_KIND_NONE : (enum record_kind)id_find(&record_kind_ids, kind);
}

/* Without a known kind only the common members can be judged. */
static enum status read_unknown_kind(const struct reading_list *list, const struct spot *spot,
                                     struct record *out, json_t *json)
{
    struct field fields[RECORD_MEMBERS_MAX];
    size_t count = record_members(RECORD_KIND_NONE, fields);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .key = fields[i].name};
        json_t *value = json_object_get(json, fields[i].name);
        if (value == NULL && fields[i].type != FIELD_CHOICE && fields[i].required) {
            status = field_worse(status, field_fault(list->intake, &here, NULL,
                                                     "a member every record has", "nothing"));
        } else if (value != NULL || fields[i].required) {
            json_t *nothing = value != NULL ? value : json_null();
            status = field_worse(status, field_read(list->intake, &here, &fields[i], nothing,
                                                    (char *)out + fields[i].offset));
        }
    }
    return status;
}

/* Reads a record by the table of its kind. `base`: what it may leave out; NULL: nothing. */
static enum status read_one(const struct reading_list *list, const struct spot *spot,
                            struct record *out, json_t *json, const struct record *base)
{
    *out = record_blank(RECORD_KIND_NONE, INSTANT_NONE);
    if (!json_is_object(json)) {
        return field_fault_value(list->intake, spot, NULL, "a record (an object)", json);
    }
    enum record_kind kind = peek_kind(json);
    if (base != NULL && json_object_get(json, "kind") == NULL) kind = base->kind;
    if (kind == RECORD_KIND_NONE) return read_unknown_kind(list, spot, out, json);
    struct field fields[RECORD_MEMBERS_MAX];
    size_t count = record_members(kind, fields);
    if (base != NULL) {
        out->id = base->id;
        out->at_s = base->at_s;
        out->kind = kind;
        for (size_t i = 0; i < count; i++) {
            if (strcmp(fields[i].name, "id") == 0 || strcmp(fields[i].name, "kind") == 0 ||
                strcmp(fields[i].name, "at") == 0) {
                fields[i].required = false;
            }
        }
    }
    enum status status = field_read_object(list->intake, spot, json, fields, count, out);
    return status == STATUS_OK ? finish_kind(list, spot, out, json) : status;
}

/* --- ids ------------------------------------------------------------------------------------- */

static size_t hash(const char *id)
{
    uint64_t h = UINT64_C(1469598103934665603); /* FNV-1a */
    for (; *id != '\0'; id++) h = (h ^ (unsigned char)*id) * UINT64_C(1099511628211);
    return (size_t)(h ^ h >> 32);
}

static const struct record *at_slot(const struct reading_list *list, uint32_t value)
{
    size_t index = value - 1;
    return index < list->stored_count ? &list->stored[index]
                                      : &list->items[index - list->stored_count];
}

/* The slot that holds `id`, or the free one where it belongs. */
static uint32_t *slot_of(const struct reading_list *list, const char *id)
{
    size_t i = hash(id) & list->slot_mask;
    while (list->slots[i] != 0 && strcmp(at_slot(list, list->slots[i])->id, id) != 0)
        i = (i + 1) & list->slot_mask;
    return &list->slots[i];
}

static const struct record *find(const struct reading_list *list, const char *id)
{
    uint32_t value = *slot_of(list, id);
    return value == 0 ? NULL : at_slot(list, value);
}

static bool make_slots(struct reading_list *list, size_t more)
{
    size_t size = 16;
    while (size < 2 * (list->stored_count + more)) size *= 2;
    list->slots = ARENA_TAKE(list->intake->arena, size, uint32_t);
    list->slot_mask = size - 1;
    if (list->slots == NULL) return false;
    for (size_t i = 0; i < list->stored_count; i++) {
        *slot_of(list, list->stored[i].id) = (uint32_t)i + 1;
    }
    return true;
}

/* --- corrections ----------------------------------------------------------------------------- */

/* What a correction of `target` may leave out: follows corrections to what they stand for. */
static bool base_of(const struct reading_list *list, const struct record *target,
                    struct record *out)
{
    *out = record_blank(RECORD_KIND_NONE, INSTANT_NONE);
    for (int depth = 0; target != NULL && depth < CHAIN_MAX; depth++) {
        if (target->kind != RECORD_CORRECTED) {
            *out = *target;
            return true;
        }
        if (target->with != NULL) {
            *out = *target->with;
            return true;
        }
        target = target->corrects == NULL ? NULL : find(list, target->corrects);
    }
    return false;
}

/* True when the list holds the id in a record that has faults of its own, which are told. */
static bool was_refused(const struct reading_list *list, const char *id)
{
    size_t index;
    json_t *json;
    if (list->array == NULL) return false;
    json_array_foreach(list->array, index, json)
    {
        const char *other = json_string_value(json_object_get(json, "id"));
        if (other != NULL && strcmp(other, id) == 0) return true;
    }
    return false;
}

static enum status read_correction(const struct reading_list *list, const struct spot *spot,
                                   struct record *record, json_t *json)
{
    const struct record *target = find(list, record->corrects);
    if (target == NULL && was_refused(list, record->corrects)) return STATUS_INVALID;
    if (target == NULL || target == record) {
        return field_fault_value(list->intake, spot, "corrects", "the id of a record of this job",
                                 json_object_get(json, "corrects"));
    }
    json_t *with = json_object_get(json, "with");
    if (json_is_null(with)) return STATUS_OK;
    struct record base;
    if (!base_of(list, target, &base)) {
        return field_fault_value(list->intake, spot, "corrects",
                                 "a record, not corrections that name each other",
                                 json_object_get(json, "corrects"));
    }
    struct spot here = {.up = spot, .key = "with"};
    if (peek_kind(with) == RECORD_CORRECTED) {
        return field_fault(list->intake, &here, "kind", "a kind other than corrected",
                           "\"corrected\"");
    }
    struct record *body = ARENA_TAKE(list->intake->arena, 1, struct record);
    if (body == NULL) return field_no_memory(list->intake, spot);
    enum status status = read_one(list, &here, body, with, &base);
    if (status != STATUS_OK) return status;
    ENSURE(body->id != NULL && base.id != NULL); /* a body that was read has one */
    if (strcmp(body->id, base.id) != 0) {
        return field_fault_value(list->intake, &here, "id",
                                 "the id of the record that is corrected, or none",
                                 json_object_get(with, "id"));
    }
    record->with = body;
    return STATUS_OK;
}

/* --- the list -------------------------------------------------------------------------------- */

/* Files a record that was read without a fault; drops an exact repetition. */
static enum status keep(struct reading_list *list, const struct spot *spot, json_t *json)
{
    struct record *record = &list->items[list->count];
    uint32_t *slot = slot_of(list, record->id);
    if (*slot == 0) {
        list->bodies[list->count] = json;
        *slot = (uint32_t)(list->stored_count + ++list->count);
        return STATUS_OK;
    }
    size_t index = *slot - 1;
    /* an id that is stored already is for the store to compare; it keeps the bytes */
    if (index < list->stored_count) {
        list->bodies[list->count++] = json;
        return STATUS_OK;
    }
    if (json_equal(list->bodies[index - list->stored_count], json)) return STATUS_OK;
    return field_fault_value(list->intake, spot, "id",
                             "an id of its own: another record has it with another body",
                             json_object_get(json, "id"));
}

enum status records_read(const struct record **out, size_t *out_count, json_t *array,
                         const struct spot *spot, const struct zone *zone,
                         const struct record *stored, size_t stored_count,
                         const struct intake *intake)
{
    *out = NULL;
    *out_count = 0;
    if (field_array(intake, spot, array, RECORDS_PER_JOB_MAX, "records") == NULL) {
        return STATUS_INVALID;
    }
    size_t total = json_array_size(array);
    struct reading_list list = {.intake = intake,
                                .zone = zone,
                                .stored = stored,
                                .stored_count = stored_count,
                                .array = array,
                                .items = ARENA_TAKE(intake->arena, total, struct record),
                                .bodies = ARENA_TAKE(intake->arena, total, json_t *)};
    size_t *indexes = ARENA_TAKE(intake->arena, total, size_t);
    if (list.items == NULL || list.bodies == NULL || indexes == NULL || !make_slots(&list, total)) {
        return field_no_memory(intake, spot);
    }
    enum status status = STATUS_OK;
    for (size_t i = 0; i < total; i++) {
        struct spot here = {.up = spot, .index = i};
        json_t *json = json_array_get(array, i);
        enum status one = read_one(&list, &here, &list.items[list.count], json, NULL);
        indexes[list.count] = i;
        if (one == STATUS_OK) one = keep(&list, &here, json);
        status = field_worse(status, one);
    }
    for (size_t i = 0; i < list.count; i++) {
        struct spot here = {.up = spot, .index = indexes[i]};
        if (list.items[i].kind != RECORD_CORRECTED) continue;
        status = field_worse(status, read_correction(&list, &here, &list.items[i], list.bodies[i]));
    }
    if (status != STATUS_OK) return status;
    *out = list.items;
    *out_count = list.count;
    return STATUS_OK;
}

enum status intake_records(const struct record **out, size_t *out_count, json_t *array,
                           const char *path, const struct zone *zone, const struct record *stored,
                           size_t stored_count, const struct intake *intake)
{
    struct spot spot = {.key = path};
    return records_read(out, out_count, array, &spot, zone, stored, stored_count, intake);
}

enum status intake_record(struct record *out, json_t *json, const char *path,
                          const struct zone *zone, const struct record *stored, size_t stored_count,
                          const struct intake *intake)
{
    struct spot spot = {.key = path};
    struct record *item = ARENA_TAKE(intake->arena, 1, struct record);
    struct reading_list list = {.intake = intake,
                                .zone = zone,
                                .stored = stored,
                                .stored_count = stored_count,
                                .items = item};
    if (item == NULL || !make_slots(&list, 1)) return field_no_memory(intake, &spot);
    enum status status = read_one(&list, &spot, item, json, NULL);
    if (status == STATUS_OK && item->kind == RECORD_CORRECTED) {
        status = read_correction(&list, &spot, item, json);
    }
    if (status == STATUS_OK) *out = *item;
    return status;
}
