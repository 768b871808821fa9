/* SPDX-License-Identifier: MIT */
/*
 * Somebody is told. The watch compares the plan of now with what it last saw of each job and keeps
 * a list of alarms: a wait that was over and is not any more, frost ahead of a green pad, a date
 * given that is no longer supported, a cut-off that was missed. Each stays until it is seen, and is
 * mailed once, and once more.
 */
#ifndef EMBERWAIT_APP_APP_WATCH_H
#define EMBERWAIT_APP_APP_WATCH_H

#include "app/app.h"
#include "base/arena.h"
#include "model/alarm.h"
#include "model/plan.h"

/**
 * Look at the plan of now and write down what became true and what is true no more.
 *
 * A clock that was started anew, or that somebody ended, is no alarm: only one that stood open with
 * the same start and does not any more. Nothing is written when nothing changed.
 *
 * @param[out] out    Alarms that are true still or that somebody has not seen; in `arena`.
 * @param[in]  plan   Of `now_s`, all jobs; borrowed.
 * Status: OK, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_watch(struct alarm_list *out, struct app *app, const struct plan *plan,
                               int64_t now_s, struct arena *arena, struct faults *faults);

/** The alarms as they stand, without looking at a plan. Status: OK, LIMIT, BUSY, IO. */
MUST_USE enum status app_alarms(struct alarm_list *out, struct app *app, struct arena *arena,
                                struct faults *faults);

/** The office (`by` its name) or, `by` NULL, a crew has seen an alarm. Status: OK, NOT_FOUND, IO…
 */
MUST_USE enum status app_alarm_seen(struct app *app, int64_t number, const char *by, int64_t now_s,
                                    struct faults *faults);

/**
 * Whether an alarm is to be mailed now.
 *
 * Once when it is found and once more, `alarm.repeat` later, if nobody has seen it and it is true
 * still. Between `alarm.quiet-from` and `alarm.quiet-until` by the company's clock only when there
 * is still something that a person could do: it has a time, and that is at least `alarm.can-act`
 * ahead.
 */
bool app_alarm_due(const struct app *app, const struct alarm *alarm, const struct zone *zone,
                   int64_t now_s);

/** It was mailed. Status: OK, NOT_FOUND, IO… */
MUST_USE enum status app_alarm_told(struct app *app, const struct alarm *alarm, int64_t now_s,
                                    struct faults *faults);

#endif
