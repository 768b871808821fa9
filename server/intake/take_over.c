/* SPDX-License-Identifier: MIT */
/*
 * Why: one body for a whole half-built job, read like any other noun: every fault with its place.
 * What is refused here and not left to the records: work of the future, a task or clock named
 * twice, nothing at all.
 */
#include <string.h>

#include "compute/civil.h"
#include "intake/field.h"
#include "model/record.h"
#include "model/take_over.h"

#include "base/banned.h"

enum { TAKE_OVER_ID_MAX = 48 /**< the ids of its records are made of it */ };

static enum status read_task(const struct intake *intake, const struct spot *spot, json_t *json,
                             const struct zone *zone, int64_t now_s, struct taken_task *out)
{
    static const struct field fields[] = {
        {"task", FIELD_CHOICE, .required = true, .choices = &task_ids,
         .offset = offsetof(struct taken_task, task)},
        {"date", FIELD_DATE, .required = true, .group = 'd',
         .offset = offsetof(struct taken_task, day)},
        {"at", FIELD_INSTANT, .required = true, .group = 'd',
         .offset = offsetof(struct taken_task, at_s)},
        {"by", FIELD_NAME, .nullable = true, .offset = offsetof(struct taken_task, by)},
    };
    *out = (struct taken_task){.task = TASK_NONE, .day = DAY_NONE, .at_s = INSTANT_NONE};
    enum status status =
        field_read_object(intake, spot, json, fields, sizeof fields / sizeof *fields, out);
    if (status != STATUS_OK) return status;
    if (out->day != DAY_NONE && out->day > civil_day_of(zone, now_s))
        return field_fault_value(intake, spot, "date", "a day that is not to come",
                                 json_object_get(json, "date"));
    if (out->at_s != INSTANT_NONE && out->at_s > now_s)
        return field_fault_value(intake, spot, "at", "a time that is not to come",
                                 json_object_get(json, "at"));
    return STATUS_OK;
}

static enum status read_clock(const struct intake *intake, const struct spot *spot, json_t *json,
                              struct taken_clock *out)
{
    static const struct field fields[] = {
        {"clock", FIELD_CHOICE, .required = true, .choices = &clock_ids,
         .offset = offsetof(struct taken_clock, clock)},
        {"reason", FIELD_TEXT, .nullable = true, .offset = offsetof(struct taken_clock, reason)},
    };
    *out = (struct taken_clock){.clock = CLOCK_NONE};
    return field_read_object(intake, spot, json, fields, sizeof fields / sizeof *fields, out);
}

static enum status read_tasks(const struct intake *intake, const struct spot *spot, json_t *array,
                              const struct zone *zone, int64_t now_s, struct take_over *out)
{
    if (field_array(intake, spot, array, TASK_COUNT, "tasks") == NULL) return STATUS_INVALID;
    const size_t count = json_array_size(array);
    struct taken_task *tasks = ARENA_TAKE(intake->arena, count, struct taken_task);
    if (tasks == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        enum status one =
            read_task(intake, &here, json_array_get(array, i), zone, now_s, &tasks[i]);
        for (size_t k = 0; k < i && one == STATUS_OK; k++) {
            if (tasks[k].task != tasks[i].task) continue;
            one = field_fault(intake, &here, "task", "each task once", "%s again",
                              id_of(&task_ids, (int)tasks[i].task));
        }
        status = field_worse(status, one);
    }
    out->tasks = tasks;
    out->task_count = count;
    return status;
}

static enum status read_clocks(const struct intake *intake, const struct spot *spot, json_t *array,
                               struct take_over *out)
{
    if (field_array(intake, spot, array, CLOCK_COUNT, "clocks") == NULL) return STATUS_INVALID;
    const size_t count = json_array_size(array);
    struct taken_clock *clocks = ARENA_TAKE(intake->arena, count, struct taken_clock);
    if (clocks == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot here = {.up = spot, .index = i};
        enum status one = read_clock(intake, &here, json_array_get(array, i), &clocks[i]);
        for (size_t k = 0; k < i && one == STATUS_OK; k++) {
            if (clocks[k].clock != clocks[i].clock) continue;
            one = field_fault(intake, &here, "clock", "each clock once", "%s again",
                              id_of(&clock_ids, (int)clocks[i].clock));
        }
        status = field_worse(status, one);
    }
    out->clocks = clocks;
    out->clock_count = count;
    return status;
}

enum status intake_take_over(struct take_over *out, json_t *json, const char *path,
                             const struct zone *zone, int64_t now_s, const struct intake *intake)
{
    static const struct field fields[] = {
        {"id", FIELD_ID, .required = true, .offset = offsetof(struct take_over, id)},
        {"by", FIELD_NAME, .required = true, .offset = offsetof(struct take_over, by)},
        {"reason", FIELD_TEXT, .required = true, .offset = offsetof(struct take_over, reason)},
        {"tasks", FIELD_JSON, .required = false},
        {"clocks", FIELD_JSON, .required = false},
    };
    struct spot spot = {.key = path};
    struct take_over read = {.id = NULL};
    enum status status =
        field_read_object(intake, &spot, json, fields, sizeof fields / sizeof *fields, &read);
    if (!json_is_object(json)) return status;
    if (read.id != NULL && strlen(read.id) > TAKE_OVER_ID_MAX)
        status = field_fault(intake, &spot, "id", "at most 48 bytes", "%zu", strlen(read.id));
    json_t *tasks = json_object_get(json, "tasks");
    json_t *clocks = json_object_get(json, "clocks");
    struct spot here = {.up = &spot, .key = "tasks"};
    if (tasks != NULL)
        status = field_worse(status, read_tasks(intake, &here, tasks, zone, now_s, &read));
    here.key = "clocks";
    if (clocks != NULL) status = field_worse(status, read_clocks(intake, &here, clocks, &read));
    if (status == STATUS_OK && read.task_count + read.clock_count == 0)
        status =
            field_fault(intake, &spot, "tasks", "some work that was done, or a clock", "nothing");
    if (status == STATUS_OK) *out = read;
    return status;
}
