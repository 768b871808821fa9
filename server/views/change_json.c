/* SPDX-License-Identifier: MIT */
/*
 * Why: see change_json.h. A date that moved is told with the old one, the new one and one reason;
 * the figures of a slip are civil days, later being positive.
 */
#include "views/change_json.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/limits.h"
#include "views/says.h"

#include "base/banned.h"

enum { CHANGE_SAYS_BYTES_MAX = 4000 };

static void put_instant(struct json *json, const struct zone *zone, const char *key, int64_t at_s)
{
    if (at_s < INSTANT_MIN_S || at_s > INSTANT_MAX_S)
        json_put_null(json, key);
    else
        json_put_instant(json, key, at_s, zone);
}

static void put_day(struct json *json, const char *key, int32_t day)
{
    if (day == DAY_NONE)
        json_put_null(json, key);
    else
        json_put_date(json, key, day);
}

static void put_task(struct json *json, const char *key, enum task task)
{
    json_put_text(json, key, task == TASK_NONE ? NULL : id_of(&task_ids, (int)task));
}

static const char *task_name(const struct when *when, enum task task)
{
    return task == TASK_NONE ? "" : words_of(when->words, WORD_SET_TASK, (int)task);
}

static void says_record(struct text *out, const struct when *when, const struct record *record)
{
    const struct phrase time = when_day_time(when, record->at_s);
    const char *kind = words_of(when->words, WORD_SET_KIND, (int)record->kind);
    if (record->task != TASK_NONE)
        WORDS_SAY(out, when->words, WORD_CHANGE_RECORD_TASK, {"kind", kind},
                  {"task", task_name(when, record->task)}, {"time", time.z});
    else
        WORDS_SAY(out, when->words, WORD_CHANGE_RECORD, {"kind", kind}, {"time", time.z});
}

void says_change(struct text *out, const struct when *when, const struct change *change)
{
    if (change->why == CHANGE_RECORD && change->record != NULL) {
        says_record(out, when, change->record);
        return;
    }
    const struct word_arg args[] = {{"task", task_name(when, change->task)}};
    const enum word word = change->why == CHANGE_NOT_DONE   ? WORD_CHANGE_NOT_DONE
                           : change->why == CHANGE_CALENDAR ? WORD_CHANGE_CALENDAR
                                                            : WORD_CHANGE_WEATHER;
    words_fill(out, words_get(when->words, change->task == TASK_NONE ? WORD_CHANGE_WEATHER : word),
               args, 1);
}

static void add_days(struct text *out, const struct when *when, int32_t days)
{
    struct phrase n = {""};
    snprintf(n.z, sizeof n.z, "%d", abs((int)days));
    const bool one = abs((int)days) == 1;
    WORDS_SAY(out, when->words,
              days >= 0 ? (one ? WORD_SLIP_DAY_LATE : WORD_SLIP_DAYS_LATE)
                        : (one ? WORD_SLIP_DAY_EARLY : WORD_SLIP_DAYS_EARLY),
              {"n", n.z});
}

void says_slip(struct text *out, const struct when *when, const struct job_moves *moves)
{
    if (moves->here == TASK_NONE) return;
    struct text here = TEXT_UP_TO(200), end = TEXT_UP_TO(200), why = TEXT_UP_TO(2000);
    add_days(&here, when, moves->here_days);
    add_days(&end, when, moves->end_days);
    WORDS_SAY(out, when->words, WORD_SLIP_HERE, {"here", text_z(&here)}, {"end", text_z(&end)},
              {"task", task_name(when, moves->here)});
    if (moves->snap != NULL && moves->end_days != moves->here_days) {
        says_reason(&why, when, moves->snap);
        text_add_byte(out, ' ');
        WORDS_SAY(out, when->words, WORD_SLIP_BECAUSE, {"task", task_name(when, moves->snapped)},
                  {"says", text_z(&why)});
    }
    text_free(&here);
    text_free(&end);
    text_free(&why);
}

static void put_moves(struct json *json, const struct job_moves *moves)
{
    const struct zone *zone = moves->after->job->zone;
    json_put_text(json, "job", moves->after->job->id);
    json_put_text(json, "name", moves->after->job->name);
    json_open_object(json, "first_fire");
    put_day(json, "old", moves->old_fire_day);
    put_day(json, "new", moves->new_fire_day);
    json_put_integer(json, "days", moves->end_days);
    json_close(json);
    json_open_array(json, "tasks");
    for (size_t i = 0; i < moves->count; i++) {
        json_open_object(json, NULL);
        put_task(json, "task", moves->moves[i].task);
        put_instant(json, zone, "old", moves->moves[i].old_s);
        put_instant(json, zone, "new", moves->moves[i].new_s);
        json_put_integer(json, "days", moves->moves[i].days);
        json_close(json);
    }
    json_close(json);
}

void change_json_list(struct json *json, const char *key, const struct change *changes,
                      size_t count, int64_t now_s, const struct words *words)
{
    json_open_array(json, key);
    for (size_t i = 0; i < count; i++) {
        const struct change *change = &changes[i];
        const struct when when = {
            .words = words, .zone = change->moves.after->job->zone, .now_s = now_s};
        struct text says = TEXT_UP_TO(CHANGE_SAYS_BYTES_MAX);
        says_change(&says, &when, change);
        json_open_object(json, NULL);
        put_moves(json, &change->moves);
        json_put_text(json, "why", id_of(&change_why_ids, (int)change->why));
        json_put_text(json, "record", change->record == NULL ? NULL : change->record->id);
        put_task(json, "because_of", change->task);
        json_put_bool(json, "date_given_withdrawn", change->holds_no_more);
        json_put_text(json, "says", text_z(&says));
        json_close(json);
        text_free(&says);
    }
    json_close(json);
}

void change_json_slips(struct json *json, const char *key, const struct job_moves *moves,
                       size_t count, int64_t now_s, const struct words *words)
{
    json_open_array(json, key);
    for (size_t i = 0; i < count; i++) {
        const struct job_moves *one = &moves[i];
        if (one->count == 0 && one->old_fire_day == one->new_fire_day) continue;
        const struct when when = {.words = words, .zone = one->after->job->zone, .now_s = now_s};
        struct text says = TEXT_UP_TO(CHANGE_SAYS_BYTES_MAX);
        says_slip(&says, &when, one);
        json_open_object(json, NULL);
        put_moves(json, one);
        put_task(json, "here", one->here);
        json_put_integer(json, "here_days", one->here_days);
        json_put_integer(json, "end_days", one->end_days);
        put_task(json, "snapped", one->snapped);
        json_put_text(json, "rule", one->snap == NULL ? NULL : one->snap->rule);
        json_put_text(json, "says", text_z(&says));
        json_close(json);
        text_free(&says);
    }
    json_close(json);
}
