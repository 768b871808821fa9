/* SPDX-License-Identifier: MIT */
/* Sheets of kits, as the company's file carries them. Inside intake only. */
#ifndef EMBERWAIT_INTAKE_KIT_H
#define EMBERWAIT_INTAKE_KIT_H

#include "intake/field.h"
#include "model/job.h"

/**
 * Read the member `kits` of a company.
 *
 * @param[in]  intake    Arena and faults.
 * @param[in]  spot      The place of the list.
 * @param[in]  array     The list; anything else is a fault.
 * @param[out] out       In the arena.
 * @param[out] out_count Their number.
 * Status: OK, INVALID, LIMIT.
 */
MUST_USE enum status kits_read(const struct intake *intake, const struct spot *spot, json_t *array,
                               const struct kit **out, size_t *out_count);

#endif
