/* SPDX-License-Identifier: MIT */
/*
 * A view: all that is in the store at one commit, parsed, never changed, shared by every reader and
 * freed with the last of them. Taking one costs a pointer when nothing was written since the last;
 * after a write only the jobs and stations that changed are read and parsed again.
 */
#ifndef EMBERWAIT_APP_APP_VIEW_H
#define EMBERWAIT_APP_APP_VIEW_H

#include <stdint.h>

#include "app/app.h"
#include "model/job.h"
#include "rulebook/rulebook.h"

struct app_view;

/**
 * The newest view; it holds everything whose write call is back.
 *
 * @param[out] out     Own one reference; app_view_release.
 * @param[in]  app     Borrowed; must outlive the view.
 * @param[in,out] faults What is wrong.
 * Status: OK, CORRUPT (a stored body does not parse), LIMIT (no memory), BUSY, IO.
 */
MUST_USE enum status app_view_take(struct app_view **out, struct app *app, struct faults *faults);

/** Give one reference back; NULL is allowed. */
void app_view_release(struct app_view *view);

/**
 * The case: company, stations, jobs (in the order they were made). `now_s` of it is INSTANT_NONE;
 * plans take their own. A store without a company has zone UTC, work days Monday to Friday, no
 * crew.
 */
const struct casefile *app_view_case(const struct app_view *view);

/** Grows with every commit: with the minute of `now`, a strong tag for everything computed. */
uint64_t app_view_generation(const struct app_view *view);

/** A job by id; NULL when there is none. */
const struct job *app_view_job(const struct app_view *view, const char *job_id);

/** Version of a job, as app_job.h has it; 0 when there is no such job. */
int64_t app_view_job_version(const struct app_view *view, const char *job_id);

/** A station by id; NULL when there is none. */
const struct station *app_view_station(const struct app_view *view, const char *station_id);

/** The rulebook a job names; never NULL for a job of the view. */
const struct rulebook *app_view_rulebook(const struct app_view *view, const struct job *job);

#endif
