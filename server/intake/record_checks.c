/* SPDX-License-Identifier: MIT */
/*
 * Why: a record names its checks by their short ids, so which are known depends on its task, and
 * which member answers one depends on its kind. A figure where a yes is asked for is a fault at the
 * door: behind it, it would read as a check that nobody made.
 */
#include "intake/record_checks.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"

#include "base/banned.h"

struct answer {
    struct check_result result;
    const char *check;
    bool yes;
};

static const struct field answer_fields[] = {
    {"check", FIELD_ID, .required = true, .offset = offsetof(struct answer, check)},
    {"yes", FIELD_BOOL, .offset = offsetof(struct answer, yes)},
    {"value", FIELD_NUMBER, .least = -1000, .most = 1000,
     .offset = offsetof(struct answer, result.value)},
    {"of", FIELD_NUMBER, .least = 0, .most = 1000, .offset = offsetof(struct answer, result.of)},
    {"date", FIELD_DATE, .offset = offsetof(struct answer, result.day)},
    {"text", FIELD_TEXT, .offset = offsetof(struct answer, result.text)},
    {"photo", FIELD_NAME, .offset = offsetof(struct answer, result.photo)},
    {"slip", FIELD_NAME, .offset = offsetof(struct answer, result.slip)},
    {"initials", FIELD_NAME, .offset = offsetof(struct answer, result.initials)},
};

/* The short ids of a task's checks, for a fault. */
static const char *known_checks(char *out, size_t size, enum task task)
{
    int first = 0;
    size_t count = check_range(task, &first);
    size_t used =
        (size_t)snprintf(out, size, "%s", count == 0 ? "no checks: the task has none" : "one of");
    for (size_t i = 0; i < count && used < size; i++) {
        int more = snprintf(out + used, size - used, " %s",
                            check_short_id((enum check_id)(first + (int)i)));
        if (more > 0) used += (size_t)more;
    }
    return out;
}

/* The one member that answers a check of each kind. */
static const char *const answered_by[] = {"value", "yes", "value", "date", "text"};
typedef char
    answers_for_every_kind[sizeof answered_by / sizeof *answered_by == CHECK_KINDS ? 1 : -1];

/* The answer its kind asks for and no other; `of` only with a count. */
static enum status check_answers(const struct intake *intake, const struct spot *spot, json_t *json,
                                 enum check_id check)
{
    static const char *const answers[] = {"yes", "value", "date", "text"};
    const enum check_kind kind = check_kind_of(check);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < sizeof answers / sizeof *answers; i++) {
        json_t *given = json_object_get(json, answers[i]);
        bool wanted = strcmp(answers[i], answered_by[kind]) == 0;
        if (wanted == (given != NULL)) continue;
        char said[FAULT_TEXT_MAX];
        (void)snprintf(said, sizeof said,
                       wanted ? "an answer: the check is a %s" : "nothing: the check is a %s",
                       id_of(&check_kind_ids, (int)kind));
        status = field_worse(status, field_fault_value(intake, spot, answers[i], said, given));
    }
    if (json_object_get(json, "of") != NULL && kind != CHECK_KIND_COUNT)
        status = field_worse(status,
                             field_fault_value(intake, spot, "of", "nothing: only a count has it",
                                               json_object_get(json, "of")));
    return status;
}

static enum status read_answer(const struct intake *intake, const struct spot *spot,
                               struct check_result *out, enum task task, json_t *json)
{
    struct answer answer = {
        .result = {.check = CHECK_NONE, .yes = -1, .value = NAN, .of = NAN, .day = DAY_NONE}};
    enum status status = field_read_object(intake, spot, json, answer_fields,
                                           sizeof answer_fields / sizeof *answer_fields, &answer);
    if (!json_is_object(json)) return status;
    if (json_object_get(json, "yes") != NULL) answer.result.yes = answer.yes ? 1 : 0;
    if (answer.check == NULL) return status;
    answer.result.check = check_find(task, answer.check);
    if (answer.result.check == CHECK_NONE) {
        char wanted[FAULT_TEXT_MAX];
        status = field_fault_value(intake, spot, "check", known_checks(wanted, sizeof wanted, task),
                                   json_object_get(json, "check"));
    } else {
        status = field_worse(status, check_answers(intake, spot, json, answer.result.check));
    }
    *out = answer.result;
    return status;
}

enum status record_checks_read(const struct intake *intake, const struct spot *spot,
                               struct record *record, json_t *json)
{
    json_t *array = json_object_get(json, "checks");
    if (array == NULL) return STATUS_OK;
    struct spot here = {.up = spot, .key = "checks"};
    if (field_array(intake, &here, array, CHECK_COUNT, "checks") == NULL) return STATUS_INVALID;
    size_t count = json_array_size(array);
    struct check_result *results = ARENA_TAKE(intake->arena, count, struct check_result);
    if (results == NULL) return field_no_memory(intake, spot);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count; i++) {
        struct spot at = {.up = &here, .index = i};
        results[i].check = CHECK_NONE;
        enum status one =
            read_answer(intake, &at, &results[i], record->task, json_array_get(array, i));
        for (size_t k = 0; k < i && results[i].check != CHECK_NONE; k++) {
            if (results[k].check != results[i].check) continue;
            one = field_fault(intake, &at, "check", "each check once in a record", "\"%s\" again",
                              check_short_id(results[i].check));
        }
        status = field_worse(status, one);
    }
    record->checks = results;
    record->check_count = count;
    return status;
}

enum status record_rule_read(const struct intake *intake, const struct spot *spot,
                             struct record *record)
{
    static const char missed[] = "missed.";
    record->clock = (enum clock_id)id_find(&clock_ids, record->rule);
    record->check = (enum check_id)id_find(&check_rule_ids, record->rule);
    if (strncmp(record->rule, missed, sizeof missed - 1) == 0)
        record->excuses = (enum task)id_find(&task_ids, record->rule + sizeof missed - 1);
    if (record->clock != CLOCK_NONE || record->check != CHECK_NONE || record->excuses != TASK_NONE)
        return STATUS_OK;
    return field_fault(intake, spot, "rule", "a clock, check.<task>.<check> or missed.<task>",
                       "\"%s\"", record->rule);
}
