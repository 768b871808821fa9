/* SPDX-License-Identifier: MIT */
/*
 * Why: see record_members.h. To add a member to a kind, add one line `{KIND, NEED or MAY, MEMBER}`;
 * schema/json/record.schema.json has to follow, and a test says so when it does not.
 */
#include "intake/record_members.h"

#include <string.h>

#include "base/status.h"
#include "model/record.h"

#include "base/banned.h"

#define BIT(x) (UINT64_C(1) << (x))
#define INTO(member) .offset = offsetof(struct record, member)

#define NEED .required = true
#define MAY .required = false
#define TEXT(id, member) .name = id, .type = FIELD_TEXT, INTO(member)
#define NAME(id, member) .name = id, .type = FIELD_NAME, INTO(member)
#define FLAG(id, member) .name = id, .type = FIELD_BOOL, INTO(member)
#define DATE(id, member) .name = id, .type = FIELD_DATE, INTO(member)
#define NUMBER(id, member, from, to)                                                               \
    .name = id, .type = FIELD_NUMBER, .least = (from), .most = (to), INTO(member)
#define WHOLE(id, member, from, to)                                                                \
    .name = id, .type = FIELD_INTEGER, .least = (from), .most = (to), INTO(member)
/* -60..200 F; the same in degC, with the last digit's room */
#define DEGF(id, member) .name = id, .type = FIELD_DEGF, .least = -60.0, .most = 200.0, INTO(member)
#define DEGC(id, member)                                                                           \
    .name = id, .type = FIELD_NUMBER, .least = -51.111111111, .most = 93.333333334, INTO(member)
#define CHOICE(id, member, table)                                                                  \
    .name = id, .type = FIELD_CHOICE, .choices = &(table), INTO(member)
#define SOME(id, member, table, bits) CHOICE(id, member, table), .allowed = (bits)
#define TASK CHOICE("task", task, task_ids)
#define ANY_PART CHOICE("part", part, part_ids)
#define PART SOME("part", part, part_ids, BIT(PART_COUNT) - 1 - BIT(PART_AIR))
#define UNIT SOME("part", part, part_ids, BIT(PART_UNIT))
#define INSTANT(id, member) .name = id, .type = FIELD_INSTANT, INTO(member)
#define CLOCK(id) CHOICE(id, clock, clock_ids)
#define CHECKS .name = "checks", .type = FIELD_JSON /* read by record_checks.c */

static const struct {
    enum record_kind kind; /* RECORD_KIND_NONE: every kind */
    struct field field;
} members[] = {
    {RECORD_KIND_NONE, {NEED, .name = "id", .type = FIELD_ID, INTO(id)}},
    {RECORD_KIND_NONE, {NEED, CHOICE("kind", kind, record_kind_ids)}},
    {RECORD_KIND_NONE, {NEED, INSTANT("at", at_s)}},
    {RECORD_KIND_NONE, {MAY, INSTANT("received", received_s)}},
    {RECORD_KIND_NONE, {MAY, NAME("by", by)}},
    {RECORD_KIND_NONE, {MAY, NAME("who", who)}},
    {RECORD_KIND_NONE, {MAY, TEXT("note", text)}},
    {RECORD_KIND_NONE, {MAY, NAME("photo", photo)}},

    {RECORD_DONE, {NEED, TASK}},
    {RECORD_DONE, {MAY, NAME("lot", lot)}},
    {RECORD_DONE, {MAY, NAME("initials", initials)}},
    {RECORD_DONE, {MAY, FLAG("taken_over", taken_over)}},
    {RECORD_DONE, {MAY, CHECKS}},
    {RECORD_STARTED, {NEED, TASK}},
    {RECORD_STARTED, {MAY, NAME("lot", lot)}},
    {RECORD_STOPPED, {NEED, TASK}},
    {RECORD_STOPPED, {MAY, CHOICE("why", why, stop_why_ids)}},
    {RECORD_PASSED, {NEED, TASK}},
    {RECORD_PASSED, {MAY, NAME("inspector", inspector)}},
    {RECORD_PASSED, {MAY, NAME("initials", initials)}},
    {RECORD_PASSED, {MAY, FLAG("taken_over", taken_over)}},
    {RECORD_PASSED, {MAY, CHECKS}},
    {RECORD_FAILED, {NEED, TASK}},
    {RECORD_FAILED, {MAY, NAME("inspector", inspector)}},
    {RECORD_FAILED, {MAY, TEXT("reason", reason)}},
    {RECORD_INSPECTION, {NEED, TASK}},
    {RECORD_INSPECTION,
     {NEED, SOME("result", result, result_ids,
                 BIT(RESULT_PASSED) | BIT(RESULT_PASSED_WITH_NOTE) | BIT(RESULT_FAILED) |
                     BIT(RESULT_NOT_COME))}},
    {RECORD_INSPECTION, {MAY, NAME("inspector", inspector)}},
    {RECORD_INSPECTION, {MAY, NAME("initials", initials)}},
    {RECORD_INSPECTION, {MAY, FLAG("taken_over", taken_over)}},
    {RECORD_INSPECTION, {MAY, CHECKS}},
    {RECORD_INSPECTION, {MAY, TEXT("reason", reason)}},

    {RECORD_READING, {NEED, ANY_PART}},
    {RECORD_READING, {MAY, CHOICE("how", how, reading_how_ids)}},
    {RECORD_READING, {NEED, DEGF("degf", temp_degc), .group = 't'}},
    {RECORD_READING, {NEED, DEGC("degc", temp_degc), .group = 't'}},
    {RECORD_LOGGED_DAY, {NEED, DATE("date", day)}},
    {RECORD_LOGGED_DAY, {NEED, DEGF("mean_degf", mean_degc), .group = 'a'}},
    {RECORD_LOGGED_DAY, {NEED, DEGC("mean_degc", mean_degc), .group = 'a'}},
    {RECORD_LOGGED_DAY, {NEED, DEGF("min_degf", min_degc), .group = 'b'}},
    {RECORD_LOGGED_DAY, {NEED, DEGC("min_degc", min_degc), .group = 'b'}},
    {RECORD_LOGGED_DAY, {MAY, PART}},

    {RECORD_COVERED, {MAY, UNIT}},
    {RECORD_UNCOVERED, {MAY, UNIT}},
    {RECORD_CLOSED_IN, {NEED, PART}},
    {RECORD_CLOSED_IN, {NEED, CHOICE("how", shelter, shelter_ids)}},
    {RECORD_OPENED, {NEED, PART}},
    {RECORD_OPENED, {MAY, CHOICE("how", shelter, shelter_ids)}},
    {RECORD_WRAPPED, {MAY, UNIT}},
    {RECORD_UNWRAPPED, {MAY, UNIT}},
    {RECORD_WET_COVER_ON, {MAY, PART}},
    {RECORD_WET_COVER_OFF, {MAY, PART}},
    {RECORD_SOAKED, {NEED, PART}},
    {RECORD_SOAKED, {MAY, FLAG("standing", standing)}},
    {RECORD_LOOKED, {NEED, PART}},
    {RECORD_LOOKED,
     {NEED, SOME("result", result, result_ids, BIT(RESULT_NO_DAMAGE_SEEN) | BIT(RESULT_REDO))}},

    {RECORD_PATCHED, {MAY, WHOLE("days", days, 7, 28)}},
    {RECORD_PATCHED, {MAY, NAME("initials", initials)}},
    {RECORD_PATCHED, {MAY, CHOICE("what", what, relaid_what_ids)}},
    {RECORD_PATCHED, {MAY, NUMBER("percent", percent, 0.0, 100.0)}},
    {RECORD_RELAID, {NEED, CHOICE("what", what, relaid_what_ids)}},
    {RECORD_RELAID, {MAY, NUMBER("percent", percent, 0.0, 100.0)}},
    {RECORD_FACING, {MAY, FLAG("last", last)}},
    {RECORD_FIRE, {MAY, WHOLE("number", fire_number, 1, 5)}},
    {RECORD_FIRE, {MAY, FLAG("stop_sign", stop_sign)}},
    {RECORD_FIRE, {MAY, CHOICE("sign", sign, fire_sign_ids)}},

    {RECORD_DELIVERED, {MAY, TEXT("item", item)}},
    {RECORD_DELIVERED, {MAY, FLAG("complete", complete)}},
    {RECORD_BAG, {NEED, NAME("lot", lot)}},
    {RECORD_BAG, {MAY, CHOICE("mortar", mortar, mortar_ids)}},
    {RECORD_BAG, {MAY, CHOICE("condition", condition, bag_condition_ids)}},
    {RECORD_BAG, {MAY, DEGF("min_degf", bag_min_degc), .group = 'a'}},
    {RECORD_BAG, {MAY, DEGC("min_degc", bag_min_degc), .group = 'a'}},
    {RECORD_BAG, {MAY, DEGF("max_degf", bag_max_degc), .group = 'b'}},
    {RECORD_BAG, {MAY, DEGC("max_degc", bag_max_degc), .group = 'b'}},
    {RECORD_BAG, {MAY, NUMBER("min_for_h", bag_min_for_h, 0.0, 1000.0)}},
    {RECORD_BAG, {MAY, NUMBER("pot_life_min", pot_life_min, 0.0, 1440.0)}},
    {RECORD_BAG, {MAY, DATE("made_on", made_on)}},
    {RECORD_BAG, {MAY, NUMBER("months", months, 0.0, 120.0)}},

    {RECORD_BOOKED, {NEED, TASK}},
    {RECORD_BOOKED, {MAY, DATE("date", day)}},
    {RECORD_BOOKED, {MAY, INSTANT("until", until_s)}},
    {RECORD_BOOKED, {MAY, TEXT("item", item)}},
    {RECORD_AGREED, {NEED, DATE("date", day)}},
    {RECORD_AGREED, {MAY, TEXT("reason", reason)}},
    {RECORD_HELD_DATE, {NEED, TASK}},
    {RECORD_HELD_DATE, {NEED, DATE("date", day)}},
    {RECORD_HELD_DATE, {MAY, TEXT("reason", reason)}},

    {RECORD_ACCEPTED, {NEED, CLOCK("clock")}},
    {RECORD_ACCEPTED, {NEED, NAME("by", by)}},
    {RECORD_ACCEPTED, {NEED, TEXT("reason", reason)}},
    {RECORD_ENGINEER, {NEED, CLOCK("rule")}},
    {RECORD_ENGINEER, {MAY, NUMBER("floor_h", floor_h, 0.0, 8760.0)}},
    {RECORD_ENGINEER, {MAY, NUMBER("need", need, 0.0, 8760.0)}},
    {RECORD_ENGINEER, {MAY, TEXT("sheet", sheet)}},
    {RECORD_ENGINEER, {MAY, TEXT("reason", reason)}},
    {RECORD_OVERRIDDEN, {NEED, .name = "rule", .type = FIELD_ID, INTO(rule)}},
    {RECORD_OVERRIDDEN, {MAY, NUMBER("floor_h", floor_h, 0.0, 8760.0)}},
    {RECORD_OVERRIDDEN, {MAY, NUMBER("need", need, 0.0, 8760.0)}},
    {RECORD_OVERRIDDEN, {MAY, TEXT("sheet", sheet)}},
    {RECORD_OVERRIDDEN, {NEED, NAME("by", by)}},
    {RECORD_OVERRIDDEN, {NEED, TEXT("reason", reason)}},

    {RECORD_CORRECTED, {NEED, .name = "corrects", .type = FIELD_ID, INTO(corrects)}},
    {RECORD_CORRECTED, {NEED, .name = "with", .type = FIELD_JSON}},
    {RECORD_CORRECTED, {MAY, TEXT("reason", reason)}},

    {RECORD_PHOTO, {NEED, NAME("photo", photo)}},
    {RECORD_PHOTO, {MAY, TASK}},
    {RECORD_PHOTO, {MAY, ANY_PART}},
    {RECORD_NOTE, {NEED, TEXT("note", text), .group = 't'}},
    {RECORD_NOTE, {NEED, TEXT("text", text), .group = 't'}},
    {RECORD_NOTE, {MAY, TASK}},
    {RECORD_NOTE, {MAY, ANY_PART}},
    {RECORD_NOTE, {MAY, FLAG("told", told)}},
};

size_t record_members(enum record_kind kind, struct field out[RECORD_MEMBERS_MAX])
{
    size_t total = sizeof members / sizeof *members;
    size_t count = 0;
    for (size_t i = 0; i < total; i++) {
        if (members[i].kind != RECORD_KIND_NONE && members[i].kind != kind) continue;
        /* a kind may be stricter about a common member: its own row takes the place */
        size_t at = 0;
        while (at < count && strcmp(out[at].name, members[i].field.name) != 0) at++;
        REQUIRE(at < RECORD_MEMBERS_MAX);
        out[at] = members[i].field;
        if (at == count) count++;
    }
    return count;
}
