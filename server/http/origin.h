/* SPDX-License-Identifier: MIT */
/*
 * Who is asking, as far as a browser tells: the Host it believes it talks to (a name that only
 * resolves to this machine is a trick to read it), and the site a request that changes something
 * comes from. Pure.
 */
#ifndef EMBERWAIT_HTTP_ORIGIN_H
#define EMBERWAIT_HTTP_ORIGIN_H

#include <stdbool.h>
#include <stddef.h>

enum origin_host {
    ORIGIN_HOST_FOREIGN,  /**< not a name of ours */
    ORIGIN_HOST_LOOPBACK, /**< localhost, 127.0.0.1 or [::1], any port (a forwarded one too) */
    ORIGIN_HOST_NAMED,    /**< one that was given at the start: a proxy stands before us */
};

/**
 * What a Host header names.
 *
 * @param[in] host   NUL-ended; NULL (HTTP/1.0 without one) is foreign.
 * @param[in] names  Further names, shape [count], without ports; compared without case.
 */
enum origin_host origin_host_of(const char *host, const char *const *names, size_t count);

/** Where a request comes from. */
enum origin_from {
    ORIGIN_FROM_OURS,    /**< a page of ours, or typed into the browser */
    ORIGIN_FROM_UNSAID,  /**< nothing says: no browser, or an old one with our own form */
    ORIGIN_FROM_HIDDEN,  /**< `Origin: null`: an old browser with our own form, or anybody's */
    ORIGIN_FROM_ANOTHER, /**< another site */
};

/**
 * Where a request that changes something comes from, as far as its headers tell.
 *
 * Sec-Fetch-Site decides when it is there: pages cannot set it, and our Referrer-Policy makes
 * browsers send `Origin: null` with our own forms. Else Origin, if there is one, must be the Host.
 *
 * @param[in] site    Sec-Fetch-Site, or NULL.
 * @param[in] origin  Origin, or NULL.
 * @param[in] host    Host.
 * @param[in] kind    What it names; https is taken only for a name that was given.
 */
enum origin_from origin_from(const char *site, const char *origin, const char *host,
                             enum origin_host kind);

#endif
