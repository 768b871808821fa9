/* SPDX-License-Identifier: MIT */
/* Why: see check_json.h. Figures are in the unit of the check, as they were typed. */
#include "views/check_json.h"

#include <math.h>

#include "views/words.h"

#include "base/banned.h"

static void put_limit(struct json *json, const struct check_limit *limit)
{
    json_open_object(json, NULL);
    json_put_number(json, "figure", limit->figure);
    json_put_bool(json, "at_most", limit->at_most);
    json_put_text(json, "mark",
                  limit->mark == MARK_NONE ? NULL : id_of(&mark_ids, (int)limit->mark));
    json_put_text(json, "source", limit->source);
    json_put_text(json, "basis", id_of(&basis_ids, (int)limit->basis));
    json_put_bool(json, "acts", limit->acts);
    json_close(json);
}

/* The latest answer: only the members it has. */
static void put_answer(struct json *json, const struct check_plan *check, const struct when *when)
{
    const struct check_result *result = check->result;
    if (result == NULL) return;
    if (result->yes >= 0) json_put_bool(json, "yes", result->yes == 1);
    if (!isnan(result->value)) json_put_number(json, "value", result->value);
    if (!isnan(result->of)) json_put_number(json, "counted_of", result->of);
    if (result->day != DAY_NONE) json_put_date(json, "date", result->day);
    if (result->text != NULL) json_put_text(json, "text", result->text);
    const char *photo = result->photo != NULL ? result->photo : check->record->photo;
    if (photo != NULL) json_put_text(json, "photo", photo);
    if (result->slip != NULL) json_put_text(json, "slip", result->slip);
    json_put_instant(json, "at", check->record->at_s, when->zone);
    json_put_text(json, "by", check->record->by);
}

static void put_accepted(struct json *json, const struct record *accepted, const struct when *when)
{
    if (accepted == NULL) return;
    json_open_object(json, "accepted");
    json_put_instant(json, "at", accepted->at_s, when->zone);
    json_put_text(json, "by", accepted->by);
    json_put_text(json, "reason", accepted->reason);
    json_put_text(json, "sheet", accepted->sheet);
    json_close(json);
}

static void put_check(struct json *json, const struct check_plan *check, const struct when *when)
{
    json_open_object(json, NULL);
    json_put_text(json, "check", check_short_id(check->check));
    json_put_text(json, "says", words_of(when->words, WORD_SET_CHECK_OF, (int)check->check));
    json_put_text(json, "kind", id_of(&check_kind_ids, (int)check->kind));
    json_put_text(json, "unit",
                  check->unit == CHECK_UNIT_NONE ? NULL : id_of(&check_unit_ids, (int)check->unit));
    json_put_number(json, "least", check->least);
    json_put_number(json, "most", check->most);
    json_put_number(json, "of", check->of);
    json_put_text(json, "evidence", id_of(&evidence_ids, (int)check->evidence));
    json_put_bool(json, "optional", check->optional);
    json_put_text(json, "state", id_of(&check_state_ids, (int)check->state));
    json_open_array(json, "limits");
    for (size_t i = 0; i < check->limit_count; i++) put_limit(json, &check->limits[i]);
    json_close(json);
    put_answer(json, check, when);
    put_accepted(json, check->accepted, when);
    json_close(json);
}

void check_json_task(struct json *json, const struct task_plan *task, const struct when *when)
{
    json_put_bool(json, "measured", task->measured);
    json_put_bool(json, "photo", task->photo);
    if (task->state == TASK_STATE_NOT_YET && !task->measured) return;
    if (task->check_count == 0) return;
    json_open_array(json, "checks");
    for (size_t i = 0; i < task->check_count; i++) put_check(json, &task->checks[i], when);
    json_close(json);
}

/* Passed by a record, without a photo, and later than (or beside) the one said before. */
static const struct task_plan *next_bare(const struct job_plan *plan, const struct task_plan *after)
{
    const struct task_plan *next = NULL;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan->tasks[t];
        if (task->state != TASK_STATE_PASSED || task->pass == NULL || task->photo) continue;
        const int64_t at_s = task->pass->at_s;
        bool said = after != NULL &&
                    (at_s < after->pass->at_s || (at_s == after->pass->at_s && task <= after));
        if (!said && (next == NULL || at_s < next->pass->at_s)) next = task;
    }
    return next;
}

void check_json_without_photo(struct json *json, const struct job_plan *plan,
                              const struct when *when)
{
    json_open_array(json, "without_photo");
    const struct task_plan *task = NULL;
    while ((task = next_bare(plan, task)) != NULL) {
        json_open_object(json, NULL);
        json_put_text(json, "task", id_of(&task_ids, (int)task->task));
        json_put_instant(json, "at", task->pass->at_s, when->zone);
        json_put_text(json, "by", task->pass->by);
        json_put_bool(json, "measured", task->measured);
        json_close(json);
    }
    json_close(json);
}

static void put_bag(struct json *json, const struct bag_lot *bag)
{
    json_open_object(json, NULL);
    json_put_text(json, "lot", bag->card->lot);
    json_put_text(json, "mortar",
                  bag->card->mortar == MORTAR_NONE ? NULL
                                                   : id_of(&mortar_ids, (int)bag->card->mortar));
    json_put_text(json, "state", id_of(&bag_state_ids, (int)bag->state));
    if (bag->card->made_on == DAY_NONE)
        json_put_null(json, "made_on");
    else
        json_put_date(json, "made_on", bag->card->made_on);
    if (bag->expires_day == DAY_NONE)
        json_put_null(json, "expires");
    else
        json_put_date(json, "expires", bag->expires_day);
    if (bag->age_days == DAY_NONE)
        json_put_null(json, "age_days");
    else
        json_put_integer(json, "age_days", bag->age_days);
    json_put_bool(json, "outlives", bag->outlives);
    json_open_array(json, "jobs");
    for (size_t i = 0; i < bag->job_count; i++) json_put_text(json, NULL, bag->jobs[i]->id);
    json_close(json);
    json_close(json);
}

void check_json_bags(struct json *json, const struct plan *plan)
{
    json_open_array(json, "bags");
    for (size_t i = 0; i < plan->bag_count; i++) put_bag(json, &plan->bags[i]);
    json_close(json);
}
