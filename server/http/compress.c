/* SPDX-License-Identifier: MIT */
/* Why: see compress.h. */
#include "http/compress.h"

#include <limits.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#define ZLIB_CONST
#include <zlib.h>

#include "http/limits.h"

#include "base/banned.h"

enum { WINDOW_GZIP = 15 + 16, MEMORY_LEVEL = 8 };

struct work {
    z_stream stream;
    struct work *next;
};

struct compress {
    pthread_mutex_t lock;
    struct work *idle;
};

struct compress *compress_new(void)
{
    struct compress *compress = calloc(1, sizeof *compress);
    if (compress != NULL) (void)pthread_mutex_init(&compress->lock, NULL);
    return compress;
}

static void work_free(struct work *work)
{
    (void)deflateEnd(&work->stream);
    free(work);
}

void compress_free(struct compress *compress)
{
    if (compress == NULL) return;
    for (struct work *work = compress->idle; work != NULL;) {
        struct work *next = work->next;
        work_free(work);
        work = next;
    }
    (void)pthread_mutex_destroy(&compress->lock);
    free(compress);
}

static struct work *work_new(int level)
{
    struct work *work = calloc(1, sizeof *work);
    if (work == NULL) return NULL;
    if (deflateInit2(&work->stream, level, Z_DEFLATED, WINDOW_GZIP, MEMORY_LEVEL,
                     Z_DEFAULT_STRATEGY) != Z_OK) {
        free(work);
        return NULL;
    }
    return work;
}

static struct work *take(struct compress *compress)
{
    if (compress == NULL) return work_new(Z_BEST_COMPRESSION);
    (void)pthread_mutex_lock(&compress->lock);
    struct work *work = compress->idle;
    if (work != NULL) compress->idle = work->next;
    (void)pthread_mutex_unlock(&compress->lock);
    if (work == NULL) return work_new(HTTP_COMPRESS_LEVEL);
    if (deflateReset(&work->stream) == Z_OK) return work;
    work_free(work);
    return NULL;
}

static void give_back(struct compress *compress, struct work *work)
{
    if (compress == NULL) {
        work_free(work);
        return;
    }
    (void)pthread_mutex_lock(&compress->lock);
    work->next = compress->idle;
    compress->idle = work;
    (void)pthread_mutex_unlock(&compress->lock);
}

char *compress_gzip(struct compress *compress, const char *bytes, size_t length, size_t *out_length)
{
    if (length < HTTP_COMPRESS_FROM_BYTES || length > UINT_MAX) return NULL;
    char *out = malloc(length);
    struct work *work = out == NULL ? NULL : take(compress);
    if (work == NULL) {
        free(out);
        return NULL;
    }
    work->stream.next_in = (const Bytef *)bytes;
    work->stream.avail_in = (uInt)length;
    work->stream.next_out = (Bytef *)out;
    work->stream.avail_out = (uInt)length;
    const bool done = deflate(&work->stream, Z_FINISH) == Z_STREAM_END;
    *out_length = length - work->stream.avail_out;
    give_back(compress, work);
    if (done) return out;
    free(out);
    return NULL;
}

/* Weight of one coding: `;q=0` and its like mean no. */
static bool weight_is_zero(const char *from, size_t length)
{
    const char *at = memchr(from, ';', length);
    if (at == NULL) return false;
    const char *end = from + length;
    at++;
    while (at < end && (*at == ' ' || *at == '\t')) at++;
    if (end - at < 2 || (*at != 'q' && *at != 'Q') || at[1] != '=') return true;
    for (at += 2; at < end; at++) {
        if (*at >= '1' && *at <= '9') return false;
    }
    return true;
}

bool compress_accepted(const char *accept_encoding)
{
    bool any = false;
    for (const char *at = accept_encoding; at != NULL && *at != '\0';) {
        at += strspn(at, " \t,");
        const size_t length = strcspn(at, ",");
        const size_t name = strcspn(at, " \t;,");
        if (name == 4 && strncasecmp(at, "gzip", 4) == 0) return !weight_is_zero(at, length);
        if (name == 1 && *at == '*') any = !weight_is_zero(at, length);
        at += length;
    }
    return any;
}
