/* SPDX-License-Identifier: MIT */
/* What the files of this folder share about records; the public face is intake.h. */
#ifndef EMBERWAIT_INTAKE_RECORD_H
#define EMBERWAIT_INTAKE_RECORD_H

#include "intake/field.h"

/** intake_records with the path as a spot. Parameters and status as there. */
MUST_USE enum status records_read(const struct record **out, size_t *out_count, json_t *array,
                                  const struct spot *spot, const struct zone *zone,
                                  const struct record *stored, size_t stored_count,
                                  const struct intake *intake);

#endif
