/* SPDX-License-Identifier: MIT */
/*
 * Percent-encoding: parts of a path, queries and the bodies of forms. Strict and bounded: a NUL, a
 * broken escape or bytes that are not UTF-8 refuse the whole; nothing is guessed. The library's own
 * reader of bodies is not used.
 */
#ifndef EMBERWAIT_HTTP_URLENCODED_H
#define EMBERWAIT_HTTP_URLENCODED_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/status.h"
#include "base/text.h"
#include "views/form.h"

/**
 * Decode `name=value&name=value`; `+` is a blank.
 *
 * @param[out] out        Decoded, ended by NUL, in `arena`, in the order met.
 * @param[out] out_count  Their number.
 * @param[in]  bytes      Shape [length].
 * @param[in]  most       Fields allowed.
 * @param[in]  faults     What is wrong, path = `form`.
 * Status: OK, INVALID, LIMIT (too many, or no memory).
 */
MUST_USE enum status urlencoded_read(struct form_field **out, size_t *out_count, const char *bytes,
                                     size_t length, size_t most, struct arena *arena,
                                     struct faults *faults);

/**
 * Decode one part of a path; `+` stands for itself.
 *
 * @return NUL-ended in `arena`; NULL when it is broken, holds control bytes, or memory ran out.
 */
char *urlencoded_segment(const char *bytes, size_t length, struct arena *arena);

/** Add one part of a path, encoded. */
void urlencoded_add(struct text *out, const char *segment);

#endif
