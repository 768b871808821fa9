/* SPDX-License-Identifier: MIT */
/* Why: see plan_json_crews.h. Ids only: the words for them are in schema/words. */
#include "views/plan_json_crews.h"

#include <math.h>

/* Hours to the minute: finer would say more than is known. */
static void put_hours(struct json *json, const char *key, double hours)
{
    json_put_number(json, key, round(hours * 60) / 60);
}

static void put_change(struct json *json, const struct crew_change *change, const struct zone *zone)
{
    if (change->kind == CREW_CHANGE_NONE) return;
    json_open_object(json, "changed");
    json_put_text(json, "what", id_of(&crew_change_ids, (int)change->kind));
    if (change->was_start_s != INSTANT_NONE) {
        json_put_instant(json, "was_start", change->was_start_s, zone);
        json_put_text(json, "was_crew", change->was_crew_id);
        json_put_text(json, "why", id_of(&crew_change_why_ids, (int)change->why));
    }
    if (change->instead_job != NULL) {
        json_open_object(json, "instead");
        json_put_text(json, "job", change->instead_job->id);
        json_put_text(json, "task", id_of(&task_ids, (int)change->instead_task));
        json_close(json);
    }
    json_close(json);
}

static void put_work(struct json *json, const struct crew_work *work)
{
    json_open_object(json, NULL);
    json_put_text(json, "job", work->job->id);
    json_put_text(json, "task", id_of(&task_ids, (int)work->task));
    json_put_instant(json, "start", work->start_s, work->job->zone);
    json_put_instant(json, "finish", work->finish_s, work->job->zone);
    put_hours(json, "drive_h", work->drive_h);
    json_put_text(json, "why", id_of(&crew_why_ids, (int)work->why));
    put_change(json, &work->change, work->job->zone);
    json_close(json);
}

static void put_free(struct json *json, const struct crew_day *day, const struct zone *zone)
{
    if (!(day->free_h > 0)) return;
    json_open_object(json, "free");
    json_put_instant(json, "from", day->free_from_s, zone);
    put_hours(json, "hours", day->free_h);
    json_open_array(json, "could");
    for (size_t i = 0; i < day->could_count; i++) {
        json_open_object(json, NULL);
        json_put_text(json, "job", day->could[i].job->id);
        json_put_text(json, "task", id_of(&task_ids, (int)day->could[i].task));
        put_hours(json, "drive_h", day->could[i].drive_h);
        json_close(json);
    }
    json_close(json);
    json_close(json);
}

static void put_day(struct json *json, const struct crew_day *day, const struct zone *zone)
{
    json_open_object(json, NULL);
    json_put_date(json, "date", day->day);
    json_open_array(json, "work");
    for (size_t i = 0; i < day->work_count; i++) put_work(json, &day->work[i]);
    json_close(json);
    put_hours(json, "drive_h", day->drive_h);
    json_open_array(json, "load");
    for (int i = 0; i < CREW_LOAD_COUNT; i++)
        if ((day->load >> i & 1) != 0) json_put_text(json, NULL, id_of(&crew_load_ids, i));
    json_close(json);
    put_free(json, day, zone);
    json_close(json);
}

static void put_unplaced(struct json *json, const struct plan *plan)
{
    json_open_array(json, "unplaced");
    for (size_t i = 0; i < plan->unplaced_count; i++) {
        const struct crew_unplaced *item = &plan->unplaced[i];
        json_open_object(json, NULL);
        json_put_text(json, "job", item->job->id);
        json_put_text(json, "task", id_of(&task_ids, (int)item->task));
        json_put_text(json, "why", id_of(&crew_unplaced_ids, (int)item->why));
        put_change(json, &item->change, item->job->zone);
        json_close(json);
    }
    json_close(json);
}

static void put_weeks(struct json *json, const struct plan *plan)
{
    json_open_array(json, "weeks");
    for (size_t i = 0; i < plan->week_count; i++) {
        const struct crew_week *week = &plan->weeks[i];
        json_open_object(json, NULL);
        json_put_date(json, "monday", week->monday);
        json_put_number(json, "had_days", round(week->had_days * 100) / 100);
        json_put_number(json, "needed_days", round(week->needed_days * 100) / 100);
        json_put_number(json, "placed_days", round(week->placed_days * 100) / 100);
        json_put_integer(json, "idle_jobs", week->idle_jobs);
        json_put_integer(json, "short_jobs", week->short_jobs);
        json_close(json);
    }
    json_close(json);
}

void plan_json_crews(struct json *json, const struct plan *plan)
{
    json_open_array(json, "crews");
    for (size_t c = 0; c < plan->crew_count; c++) {
        json_open_object(json, NULL);
        json_put_text(json, "crew", plan->crews[c].crew->id);
        json_open_array(json, "days");
        for (size_t d = 0; d < plan->crews[c].day_count; d++)
            put_day(json, &plan->crews[c].days[d], plan->casefile->company.zone);
        json_close(json);
        json_close(json);
    }
    json_close(json);
    put_unplaced(json, plan);
    put_weeks(json, plan);
}
