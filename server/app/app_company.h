/* SPDX-License-Identifier: MIT */
/* The company: zone, working calendar, crews, inspectors, trades. One per store. */
#ifndef EMBERWAIT_APP_APP_COMPANY_H
#define EMBERWAIT_APP_APP_COMPANY_H

#include <stddef.h>
#include <stdint.h>

#include "app/app.h"
#include "base/text.h"

/**
 * The company as it is stored.
 *
 * @param[in,out] out      The JSON is added to it.
 * @param[out] out_version For the ETag; may be NULL.
 * Status: OK, NOT_FOUND (none was put yet), LIMIT, BUSY, CORRUPT, IO.
 */
MUST_USE enum status app_company_get(struct text *out, int64_t *out_version, struct app *app,
                                     struct faults *faults);

/**
 * Put the whole company. Refused when a job of the store would not parse with it.
 *
 * @param[out] out_version The new version; may be NULL.
 * @param[in]  expected    Version it was made against (If-Match), or APP_VERSION_ANY.
 * @param[in]  json        Shape [length].
 * Status: OK, CONFLICT (the version is another), INVALID, LIMIT, BUSY, IO.
 */
MUST_USE enum status app_company_put(int64_t *out_version, struct app *app, int64_t expected,
                                     const char *json, size_t length, struct faults *faults);

#endif
