/* SPDX-License-Identifier: MIT */
/* Why: see origin.h. */
#include "http/origin.h"

#include <string.h>
#include <strings.h>

#include "base/banned.h"

enum { PORT_DIGITS_MAX = 5 };

/* Length of the name in `name[:port]`; 0 when the port is not digits. */
static size_t name_length(const char *host)
{
    const char *colon = host[0] == '[' ? strchr(host, ']') : host;
    if (colon == NULL) return 0;
    colon = strchr(colon, ':');
    if (colon == NULL) return strlen(host);
    const size_t digits = strspn(colon + 1, "0123456789");
    if (digits == 0 || digits > PORT_DIGITS_MAX || colon[1 + digits] != '\0') return 0;
    return (size_t)(colon - host);
}

static bool is(const char *host, size_t length, const char *name)
{
    return length == strlen(name) && strncasecmp(host, name, length) == 0;
}

enum origin_host origin_host_of(const char *host, const char *const *names, size_t count)
{
    if (host == NULL) return ORIGIN_HOST_FOREIGN;
    const size_t length = name_length(host);
    if (length == 0) return ORIGIN_HOST_FOREIGN;
    if (is(host, length, "localhost") || is(host, length, "127.0.0.1") || is(host, length, "[::1]"))
        return ORIGIN_HOST_LOOPBACK;
    for (size_t i = 0; i < count; i++) {
        if (is(host, length, names[i])) return ORIGIN_HOST_NAMED;
    }
    return ORIGIN_HOST_FOREIGN;
}

enum origin_from origin_from(const char *site, const char *origin, const char *host,
                             enum origin_host kind)
{
    if (site != NULL) {
        const bool ours = strcmp(site, "same-origin") == 0 || strcmp(site, "none") == 0;
        return ours ? ORIGIN_FROM_OURS : ORIGIN_FROM_ANOTHER;
    }
    if (origin == NULL) return ORIGIN_FROM_UNSAID;
    if (strcmp(origin, "null") == 0) return ORIGIN_FROM_HIDDEN;
    const char *rest = NULL;
    if (strncmp(origin, "http://", 7) == 0) rest = origin + 7;
    if (kind == ORIGIN_HOST_NAMED && strncmp(origin, "https://", 8) == 0) rest = origin + 8;
    if (host == NULL || rest == NULL || strcasecmp(rest, host) != 0) return ORIGIN_FROM_ANOTHER;
    return ORIGIN_FROM_OURS;
}
