/* SPDX-License-Identifier: MIT */
/* Why: see check.h. The tables are generated from the same lists as the enums. */
#include "model/check.h"

#include <string.h>

#include "base/status.h"

#define CHECK_ID_TEXT(task, task_id, check, id, kind) task_id "." id,
#define CHECK_RULE_TEXT(task, task_id, check, id, kind) "check." task_id "." id,
#define CHECK_SHORT_TEXT(task, task_id, check, id, kind) id,
#define CHECK_TASK_OF(task, task_id, check, id, kind) TASK_##task,
#define CHECK_KIND_OF(task, task_id, check, id, kind) CHECK_KIND_##kind,
#define CHECK_TEXT(name, id) id,
#define CHECK_TABLE(table, what, list, text)                                                       \
    static const char *const table##_text[] = {list(text)};                                        \
    const struct id_table table = {what, table##_text, sizeof table##_text / sizeof *table##_text}

CHECK_TABLE(check_ids, "check", CHECK_LIST, CHECK_ID_TEXT);
CHECK_TABLE(check_rule_ids, "check", CHECK_LIST, CHECK_RULE_TEXT);
CHECK_TABLE(check_kind_ids, "kind of check", CHECK_KIND_LIST, CHECK_TEXT);
CHECK_TABLE(check_unit_ids, "unit of a check", CHECK_UNIT_LIST, CHECK_TEXT);
CHECK_TABLE(evidence_ids, "evidence", EVIDENCE_LIST, CHECK_TEXT);
CHECK_TABLE(check_state_ids, "state of a check", CHECK_STATE_LIST, CHECK_TEXT);
CHECK_TABLE(clearance_ids, "clearance", CLEARANCE_LIST, CHECK_TEXT);

static const char *const short_text[] = {CHECK_LIST(CHECK_SHORT_TEXT)};
static const enum task task_of[] = {CHECK_LIST(CHECK_TASK_OF)};
static const enum check_kind kind_of[] = {CHECK_LIST(CHECK_KIND_OF)};

enum task check_task(enum check_id check)
{
    REQUIRE(check >= 0 && check < CHECK_COUNT);
    return task_of[check];
}

enum check_kind check_kind_of(enum check_id check)
{
    REQUIRE(check >= 0 && check < CHECK_COUNT);
    return kind_of[check];
}

const char *check_short_id(enum check_id check)
{
    REQUIRE(check >= 0 && check < CHECK_COUNT);
    return short_text[check];
}

size_t check_range(enum task task, int *first)
{
    size_t count = 0;
    *first = 0;
    for (int i = 0; i < CHECK_COUNT; i++) {
        if (task_of[i] != task) continue;
        if (count == 0) *first = i;
        count++;
    }
    return count;
}

enum check_id check_find(enum task task, const char *short_id)
{
    for (int i = 0; i < CHECK_COUNT; i++)
        if (task_of[i] == task && strcmp(short_text[i], short_id) == 0) return (enum check_id)i;
    return CHECK_NONE;
}
