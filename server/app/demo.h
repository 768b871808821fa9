/* SPDX-License-Identifier: MIT */
/*
 * A company to look at: one that builds fireplaces in an invented valley, with a job at every stage
 * and with each kind of trouble, dated so that today is a busy morning whenever that is.
 */
#ifndef EMBERWAIT_APP_DEMO_H
#define EMBERWAIT_APP_DEMO_H

#include <stdint.h>

#include "base/status.h"
#include "base/text.h"

enum { DEMO_BYTES_MAX = 4194304 /**< room for the case: 4 MiB */ };

/**
 * Write the whole case: company, station and jobs. The same now gives the same bytes, and every
 * instant of one hour the same weather and the same work.
 *
 * @param[in,out] out    The JSON is added to it; its limit should be DEMO_BYTES_MAX or more.
 * @param[in]     now_s  Seconds since 1970, years 1980..2190.
 * @param[out]    fault  What is wrong.
 * Status: OK; NOT_FOUND or CORRUPT (the zone files of the machine); INVALID (now out of range);
 *         LIMIT; IO.
 */
MUST_USE enum status demo_case(struct text *out, int64_t now_s, struct fault *fault);

#endif
