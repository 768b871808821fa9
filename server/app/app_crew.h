/* SPDX-License-Identifier: MIT */
/*
 * What a crew's link may write down: what happened on the site, and corrections of what this very
 * crew wrote. Dates, sheets, longer waits and the owner's yes are the owner's, also by way of a
 * correction.
 */
#ifndef EMBERWAIT_APP_APP_CREW_H
#define EMBERWAIT_APP_APP_CREW_H

#include <stdbool.h>
#include <stddef.h>

#include "model/job.h"

/** Whether a crew may write a kind of record, by its id. An id that is no kind: true. */
bool app_crew_may_kind(const char *kind);

/**
 * Whether a crew may write some records.
 *
 * @param[in] json     One record or a list, shape [length]. What cannot be read: true, for the
 *                     records' own reader tells what is wrong with it.
 * @param[in] length   Its bytes.
 * @param[in] job      The job with its records; a correction has to name one this crew wrote.
 * @param[in] crew_id  The crew, as its records name it under `who`.
 */
bool app_crew_may(const char *json, size_t length, const struct job *job, const char *crew_id);

#endif
