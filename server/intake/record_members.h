/* SPDX-License-Identifier: MIT */
/*
 * Which members a record of each kind has, as one table: the reader, the schema test and the pages'
 * forms all go by it. A new member is one line in record_members.c.
 */
#ifndef EMBERWAIT_INTAKE_RECORD_MEMBERS_H
#define EMBERWAIT_INTAKE_RECORD_MEMBERS_H

#include <stddef.h>

#include "intake/field.h"
#include "model/ids.h"

enum { RECORD_MEMBERS_MAX = 32 }; /**< most members a kind has, the common ones included */

/**
 * The members of a kind, the common ones (id, kind, at, by, who, note, received, photo) included.
 *
 * @param[in]  kind  A kind, or RECORD_KIND_NONE for the common ones alone.
 * @param[out] out   Rows, shape [RECORD_MEMBERS_MAX]; offsets are into struct record.
 * @return rows filled.
 */
size_t record_members(enum record_kind kind, struct field out[RECORD_MEMBERS_MAX]);

#endif
