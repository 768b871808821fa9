/* SPDX-License-Identifier: MIT */
/* Why: see throttle.h. Keys are hashed under a secret of this start: nobody can choose whom to
 * meet.
 */
#include "http/throttle.h"

#include <math.h>
#include <pthread.h>
#include <sodium.h>
#include <stdlib.h>
#include <string.h>

#include "base/status.h"
#include "http/limits.h"

#include "base/banned.h"

enum { WAYS = 4, SETS = HTTP_THROTTLE_BUCKETS / WAYS };

struct bucket {
    uint64_t hash; /**< 0: unused */
    double left;
    double full;
    double per_s;
    int64_t at_ns;
};

struct throttle {
    pthread_mutex_t mutex;
    unsigned char key[crypto_shorthash_KEYBYTES];
    struct bucket buckets[SETS][WAYS];
};

struct throttle *throttle_new(void)
{
    struct throttle *throttle = calloc(1, sizeof *throttle);
    if (throttle == NULL) return NULL;
    ENSURE(pthread_mutex_init(&throttle->mutex, NULL) == 0);
    randombytes_buf(throttle->key, sizeof throttle->key);
    return throttle;
}

void throttle_free(struct throttle *throttle)
{
    if (throttle == NULL) return;
    (void)pthread_mutex_destroy(&throttle->mutex);
    free(throttle);
}

static uint64_t hash_of(const struct throttle *throttle, const char *text)
{
    unsigned char bytes[crypto_shorthash_BYTES];
    (void)crypto_shorthash(bytes, (const unsigned char *)text, strlen(text), throttle->key);
    uint64_t hash;
    memcpy(&hash, bytes, sizeof hash);
    return hash;
}

/* Fill up to now. */
static void refresh(struct bucket *bucket, int64_t now_ns)
{
    if (now_ns > bucket->at_ns)
        bucket->left += (double)(now_ns - bucket->at_ns) * 1e-9 * bucket->per_s;
    if (bucket->left > bucket->full) bucket->left = bucket->full;
    bucket->at_ns = now_ns;
}

/* The bucket of a key; a new one takes the place of the fullest where there is no other. */
static struct bucket *find(struct throttle *throttle, const struct throttle_rule *rule,
                           const char *key, int64_t now_ns)
{
    /* the kind sets the hashes of a name and of an address that read alike apart */
    const uint64_t hash =
        (hash_of(throttle, key) ^ (hash_of(throttle, rule->kind) * UINT64_C(0x9e3779b97f4a7c15))) |
        1;
    struct bucket *set = throttle->buckets[(hash >> 1) % SETS];
    struct bucket *found = &set[0];
    for (int i = 0; i < WAYS; i++) {
        if (set[i].hash == hash) {
            refresh(&set[i], now_ns);
            return &set[i];
        }
        if (set[i].hash != 0) refresh(&set[i], now_ns);
        const double share = set[i].hash == 0 ? INFINITY : set[i].left / set[i].full;
        const double best = found->hash == 0 ? INFINITY : found->left / found->full;
        if (share > best) found = &set[i];
    }
    *found = (struct bucket){.hash = hash,
                             .left = rule->tries,
                             .full = rule->tries,
                             .per_s = 1.0 / rule->refill_s,
                             .at_ns = now_ns};
    return found;
}

int throttle_take(struct throttle *throttle, const struct throttle_rule *rule, const char *key,
                  int64_t now_ns)
{
    (void)pthread_mutex_lock(&throttle->mutex);
    struct bucket *bucket = find(throttle, rule, key, now_ns);
    int wait_s = 0;
    if (bucket->left >= 1)
        bucket->left -= 1;
    else
        wait_s = (int)ceil((1 - bucket->left) / bucket->per_s);
    (void)pthread_mutex_unlock(&throttle->mutex);
    return wait_s;
}

void throttle_give(struct throttle *throttle, const struct throttle_rule *rule, const char *key,
                   int64_t now_ns)
{
    (void)pthread_mutex_lock(&throttle->mutex);
    struct bucket *bucket = find(throttle, rule, key, now_ns);
    bucket->left += 1;
    if (bucket->left > bucket->full) bucket->left = bucket->full;
    (void)pthread_mutex_unlock(&throttle->mutex);
}
