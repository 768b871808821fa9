/* SPDX-License-Identifier: MIT */
/*
 * Every ceiling of the server in one place, each with its reason. What is over a ceiling is refused
 * and said (413, 414, 431, 503) or its connection is closed, never cut short in silence.
 */
#ifndef EMBERWAIT_HTTP_LIMITS_H
#define EMBERWAIT_HTTP_LIMITS_H

#include "base/limits.h"

enum {
    /*
     * Threads, each with its own epoll set. A write waits for the disk in its thread, so there have
     * to be more threads than processors; eight writers share one fsync.
     */
    HTTP_THREADS = 8,
    /*
     * libmicrohttpd 0.9.75 stalls when one epoll_wait returns exactly 128 events. A thread waits on
     * its connections, the listening socket and a wake-up pipe: 120 + 2 can never be 128.
     */
    HTTP_CONNECTIONS_PER_THREAD = 120,
    HTTP_CONNECTIONS_MAX = HTTP_THREADS * HTTP_CONNECTIONS_PER_THREAD,
    /*
     * No limit of its own: on loopback, and behind a proxy, everybody has the same address, so a
     * limit per address would be the limit of all. The guard is what keeps slow clients out.
     */
    HTTP_CONNECTIONS_PER_ADDRESS_MAX = 0,
    HTTP_BACKLOG = 511, /**< connections the kernel keeps until a thread takes them */

    HTTP_POOL_BYTES = 32768,      /**< memory of a connection: request head, reply head */
    HTTP_HEAD_BYTES_MAX = 16384,  /**< a request head; browsers send under 2,000 */
    HTTP_HEADERS_MAX = 64,        /**< header lines; browsers send about 20 */
    HTTP_TARGET_BYTES_MAX = 2048, /**< path and query; our longest id takes 240 encoded */
    HTTP_SEGMENTS_MAX = 8,        /**< parts of a path; ours have at most 5 */
    HTTP_CAPTURES_MAX = 2,        /**< parts of a path that stand for something */
    HTTP_QUERY_FIELDS_MAX = 16,   /**< ours read two */

    HTTP_BODY_BYTES_MAX = 2 << 20,          /**< records: a job of 5,000 readings */
    HTTP_HOURS_BYTES_MAX = 64 << 20,        /**< a station: 50 years of four columns take 12 MiB */
    HTTP_FORM_BYTES_MAX = 64 << 10,         /**< a page's form: a note of 4,000 bytes, encoded */
    HTTP_CREW_NAMES_MAX = 8,                /**< names to tap on a phone; more do not fit a thumb */
    HTTP_FORM_FIELDS_MAX = 200,             /**< the longest, of a whole job taken over, has 170 */
    HTTP_PHOTO_BYTES_MAX = PHOTO_BYTES_MAX, /**< at two bars, 100 KB/s, that is 20 s */
    HTTP_BODIES_BYTES_MAX = 256 << 20,      /**< all bodies being received together, then 503 */
    HTTP_DRAIN_BYTES_MAX = 4 << 20,    /**< of a refused body, read so that the answer arrives */
    HTTP_ANSWER_BYTES_MAX = 256 << 20, /**< one answer: a yard of 5,000 jobs */

    HTTP_HEAD_WAIT_S = 5,    /**< a request head must be complete by then; a phone needs one */
    HTTP_IDLE_S = 20,        /**< a kept connection may be silent, or slow with its next head */
    HTTP_BODY_GRACE_S = 5,   /**< a body may be slow that long ... */
    HTTP_BODY_RATE = 1024,   /**< ... then it must have had that many bytes a second */
    HTTP_REPLY_GRACE_S = 30, /**< an answer may be taken slowly that long ... */
    HTTP_REPLY_RATE = 4096,  /**< ... then at this many bytes a second */
    HTTP_GUARD_TICKS_PER_S = 4,
    HTTP_STOP_WAIT_S = 20, /**< requests under way may take that long when the server stops */

    HTTP_SIGN_IN_NAME_TRIES = 10,    /**< wrong passwords of one name at once ... */
    HTTP_SIGN_IN_NAME_REFILL_S = 60, /**< ... then one a minute: 500,000 a year against 10^13 */
    HTTP_SIGN_IN_ADDRESS_TRIES = 30, /**< an office behind one address mistypes less */
    HTTP_SIGN_IN_ADDRESS_REFILL_S = 20,
    HTTP_THROTTLE_BUCKETS = 4096, /**< names and addresses watched at once, 160 KB */

    HTTP_COMPRESS_FROM_BYTES = 1024,  /**< less fits one packet anyway */
    HTTP_COMPRESS_LEVEL = 6,          /**< 169 us for 20 KB, level 1 takes 88; but a fifth less to
                                           send is 30 ms on a line of 400 kbit/s */
    HTTP_ASSET_BYTES_MAX = 4 << 20,   /**< one file of static/ */
    HTTP_ASSETS_BYTES_MAX = 16 << 20, /**< all of them, kept in memory */
    HTTP_ASSETS_MAX = 500,
    HTTP_ASSET_DEPTH_MAX = 6,
};

#endif
