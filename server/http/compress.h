/* SPDX-License-Identifier: MIT */
/*
 * gzip for answers. Its working memory (256 KB) is kept from one answer to the next, one for each
 * that was ever at work at the same time.
 */
#ifndef EMBERWAIT_HTTP_COMPRESS_H
#define EMBERWAIT_HTTP_COMPRESS_H

#include <stdbool.h>
#include <stddef.h>

struct compress;

/** NULL when there is no memory. Own; compress_free. */
struct compress *compress_new(void);
/** NULL is allowed. */
void compress_free(struct compress *compress);

/**
 * Compress bytes.
 *
 * @param[in]  compress    Kept memory, or NULL for a single use at the best level.
 * @param[in]  bytes       Shape [length].
 * @param[out] out_length  Bytes of the answer.
 * @return own, free(); NULL when it would not be smaller or there is no memory.
 */
char *compress_gzip(struct compress *compress, const char *bytes, size_t length,
                    size_t *out_length);

/** Whether an Accept-Encoding header takes gzip; NULL does not. Source: RFC 9110, 12.5.3. */
bool compress_accepted(const char *accept_encoding);

#endif
