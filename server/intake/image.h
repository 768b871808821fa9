/* SPDX-License-Identifier: MIT */
/*
 * Pictures, as far as their first bytes tell: which kind, how wide, how high. Nothing is decoded
 * here, ever: what the crew sends is kept as it came and shown by a browser, in a sandbox. What is
 * refused is everything else that might call itself a picture (SVG and HTML can hold programs).
 *
 * Source: JPEG, ITU-T T.81 annex B; PNG, ISO/IEC 15948 clauses 5 and 11; WebP, RFC 9649 (VP8 frame
 * header: RFC 6386 section 9.1). From memory, held by files that others made in the tests.
 */
#ifndef EMBERWAIT_INTAKE_IMAGE_H
#define EMBERWAIT_INTAKE_IMAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

enum image_kind { IMAGE_JPEG, IMAGE_PNG, IMAGE_WEBP, IMAGE_KIND_COUNT };

struct image {
    enum image_kind kind;
    int width;  /**< pixels, 1..PHOTO_EDGE_MAX */
    int height; /**< pixels, 1..PHOTO_EDGE_MAX */
};

/** Media type of a kind, e.g. "image/jpeg". */
const char *image_type(enum image_kind kind);
/** Ending of a file of that kind, e.g. "jpg". */
const char *image_ending(enum image_kind kind);
/** The kind of a media type; false for any other. Parameters behind a semicolon do not count. */
bool image_type_parse(enum image_kind *out, const char *type);

/**
 * What a picture says of itself.
 *
 * @param[out] out    Filled.
 * @param[in]  bytes  Shape [length]; borrowed.
 * @param[out] fault  What is wrong; path "body".
 * Status: OK; INVALID (no JPEG, PNG or WebP, or its header is cut short); LIMIT (an edge or the
 *         whole is larger than any camera of ours makes).
 */
MUST_USE enum status image_read(struct image *out, const void *bytes, size_t length,
                                struct fault *fault);

#endif
