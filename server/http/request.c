/* SPDX-License-Identifier: MIT */
/* Why: small questions that handlers ask of a request. */
#include "http/request.h"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>

#include <stdio.h>
#include <string.h>

#include "base/banned.h"

const char *request_header(const struct http_request *request, const char *name)
{
    return head_value(&request->head, name);
}

const char *request_query(const struct http_request *request, const char *name)
{
    return form_field_value(request->query, request->query_count, name);
}

const char *request_cookie(struct http_request *request, const char *name)
{
    const char *at = request_header(request, "Cookie");
    const size_t length = strlen(name);
    while (at != NULL && *at != '\0') {
        at += strspn(at, "; ");
        const size_t pair = strcspn(at, ";");
        if (pair > length && at[length] == '=' && memcmp(at, name, length) == 0)
            return arena_copy(request->arena, at + length + 1, pair - length - 1);
        at += pair;
    }
    return NULL;
}

bool request_is_https(const struct http_request *request)
{
    return request->host_kind == ORIGIN_HOST_NAMED;
}

/* The address at the other end of the connection. */
static const char *peer(struct http_request *request, bool *loopback)
{
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(request->connection, MHD_CONNECTION_INFO_CLIENT_ADDRESS);
    char text[INET6_ADDRSTRLEN] = "";
    *loopback = false;
    if (info != NULL && info->client_addr->sa_family == AF_INET) {
        const struct sockaddr_in *v4 = (const void *)info->client_addr;
        *loopback = (ntohl(v4->sin_addr.s_addr) >> 24) == 127;
        (void)inet_ntop(AF_INET, &v4->sin_addr, text, sizeof text);
    } else if (info != NULL && info->client_addr->sa_family == AF_INET6) {
        const struct sockaddr_in6 *v6 = (const void *)info->client_addr;
        *loopback = IN6_IS_ADDR_LOOPBACK(&v6->sin6_addr);
        (void)inet_ntop(AF_INET6, &v6->sin6_addr, text, sizeof text);
    }
    return arena_copy(request->arena, text, strlen(text));
}

/* A household or an office has 64 bits of IPv6 to itself. */
static const char *network(struct http_request *request, const char *address)
{
    struct in6_addr v6;
    if (address == NULL || inet_pton(AF_INET6, address, &v6) != 1) return address;
    memset(&v6.s6_addr[8], 0, 8);
    char text[INET6_ADDRSTRLEN] = "";
    (void)inet_ntop(AF_INET6, &v6, text, sizeof text);
    return arena_copy(request->arena, text, strlen(text));
}

const char *request_address(struct http_request *request)
{
    bool loopback = false;
    const char *address = peer(request, &loopback);
    const char *forwarded = request_header(request, "X-Forwarded-For");
    const bool believed =
        request->tools->behind_proxy || (loopback && request->host_kind == ORIGIN_HOST_NAMED);
    if (believed && forwarded != NULL) {
        const char *comma = strrchr(forwarded, ',');
        const char *last = comma == NULL ? forwarded : comma + 1;
        last += strspn(last, " \t");
        address = arena_copy(request->arena, last, strcspn(last, " \t"));
    }
    address = network(request, address);
    return address == NULL ? "" : address;
}

const char *request_path(struct http_request *request)
{
    const char *path = arena_copy(request->arena, request->target, strcspn(request->target, "?"));
    return path == NULL ? "/" : path;
}

const char *request_base_url(struct http_request *request)
{
    if (request->says.host == NULL) return NULL;
    return arena_print(request->arena, "%s://%s", request_is_https(request) ? "https" : "http",
                       request->says.host);
}
