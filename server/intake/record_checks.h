/* SPDX-License-Identifier: MIT */
/* What was checked, as a record carries it, and the rule an override names. Inside intake only. */
#ifndef EMBERWAIT_INTAKE_RECORD_CHECKS_H
#define EMBERWAIT_INTAKE_RECORD_CHECKS_H

#include "intake/field.h"
#include "model/record.h"

/**
 * Read the member `checks` of a record, if it has one.
 *
 * @param[in]     intake Arena and faults.
 * @param[in]     spot   The place of the record.
 * @param[in,out] record Its task is read already; gets checks and check_count.
 * @param[in]     json   The record.
 * Status: OK, INVALID (a check this task does not have, one that is named twice, no answer), LIMIT.
 */
MUST_USE enum status record_checks_read(const struct intake *intake, const struct spot *spot,
                                        struct record *record, json_t *json);

/**
 * What `rule` of an override names: a clock, `check.<task>.<check>` or `missed.<task>`.
 *
 * @param[in]     intake Arena and faults.
 * @param[in]     spot   The place of the record.
 * @param[in,out] record Its rule is read; gets clock, check or excuses.
 * Status: OK, INVALID.
 */
MUST_USE enum status record_rule_read(const struct intake *intake, const struct spot *spot,
                                      struct record *record);

#endif
