/* SPDX-License-Identifier: MIT */
/* Lists of days, for whoever else keeps a calendar: a town has holidays as a company has. */
#ifndef EMBERWAIT_INTAKE_COMPANY_H
#define EMBERWAIT_INTAKE_COMPANY_H

#include "intake/field.h"

/**
 * Read a list of civil days.
 *
 * @param[out] out    Ascending, each once; in the arena.
 * @param[out] count  Shape of out.
 * @param[in]  array  Anything but a list of dates is a fault.
 * @param[in]  spot   The place of the list.
 * @param[in]  intake Arena and faults.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status company_days(const int32_t **out, size_t *count, json_t *array,
                                  const struct spot *spot, const struct intake *intake);

#endif
