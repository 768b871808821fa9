/* SPDX-License-Identifier: MIT */
/* Why: see server.h. Starting and stopping; what becomes of a request is in serve.c. */
#include "http/server.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <sodium.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#include "app/app_person.h"
#include "base/datadir.h"
#include "base/log.h"
#include "http/limits.h"
#include "http/plans.h"
#include "http/serve.h"
#include "http/throttle.h"
#include "http/watch.h"

#include "base/banned.h"

enum { BOOT_BYTES = 4, PATH_BYTES = 4096, STOP_LOOKS_PER_S = 100 };

/* An address as the kernel takes it. */
union address {
    struct sockaddr any;
    struct sockaddr_in v4;
    struct sockaddr_in6 v6;
};

static bool parse_address(union address *out, socklen_t *length, const char *text, uint16_t port,
                          bool *loopback)
{
    memset(out, 0, sizeof *out);
    if (inet_pton(AF_INET, text, &out->v4.sin_addr) == 1) {
        out->v4.sin_family = AF_INET;
        out->v4.sin_port = htons(port);
        *length = sizeof out->v4;
        *loopback = (ntohl(out->v4.sin_addr.s_addr) >> 24) == 127;
        return true;
    }
    if (inet_pton(AF_INET6, text, &out->v6.sin6_addr) == 1) {
        out->v6.sin6_family = AF_INET6;
        out->v6.sin6_port = htons(port);
        *length = sizeof out->v6;
        *loopback = IN6_IS_ADDR_LOOPBACK(&out->v6.sin6_addr);
        return true;
    }
    return false;
}

static enum status open_socket(struct http_server *server, const struct http_config *config,
                               struct app *app, struct fault *fault)
{
    const char *text = config->address == NULL ? "127.0.0.1" : config->address;
    union address address;
    socklen_t length = 0;
    bool loopback = false;
    if (!parse_address(&address, &length, text, config->port, &loopback)) {
        fault_set(fault, "listen", "an IP address of this machine, e.g. 127.0.0.1", "%s", text);
        return STATUS_INVALID;
    }
    if (!loopback && !(config->behind_proxy && app_person_any(app))) {
        fault_set(fault, "listen",
                  config->behind_proxy
                      ? "an owner on record before others can reach this: emberwait person add"
                      : "a loopback address, or --behind-proxy: passwords do not go over a network "
                        "in the clear, so a proxy that speaks https stands before others",
                  "%s, which others can reach", text);
        return STATUS_DENIED;
    }
    const int yes = 1;
    const int family = address.any.sa_family;
    const int listener = socket(family, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (listener < 0 || setsockopt(listener, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes) != 0 ||
        bind(listener, &address.any, length) != 0 || listen(listener, HTTP_BACKLOG) != 0 ||
        getsockname(listener, &address.any, &length) != 0) {
        const int error = errno;
        if (listener >= 0) (void)close(listener);
        fault_set(fault, "port", "a free port of this machine", "%u: %s", config->port,
                  strerror(error));
        return error == EADDRINUSE ? STATUS_BUSY : STATUS_IO;
    }
    server->listener = listener;
    server->port = ntohs(family == AF_INET ? address.v4.sin_port : address.v6.sin6_port);
    (void)snprintf(server->url, sizeof server->url,
                   family == AF_INET ? "http://%s:%u/" : "http://[%s]:%u/", text, server->port);
    return STATUS_OK;
}

static enum status load_words(struct http_tools *tools, struct faults *faults)
{
    static const char *const languages[HTTP_LANGUAGE_COUNT] = {"en", "es"};
    char path[PATH_BYTES];
    const int length = snprintf(path, sizeof path, "%s/schema/words", data_dir());
    if (length < 0 || (size_t)length >= sizeof path) return STATUS_LIMIT;
    enum status status = STATUS_OK;
    for (int i = 0; status == STATUS_OK && i < HTTP_LANGUAGE_COUNT; i++)
        status = words_load(&tools->words[i], path, languages[i], faults);
    return status;
}

static enum status load_files(struct http_tools *tools, struct faults *faults)
{
    char path[PATH_BYTES];
    const char *const root = data_dir();
    const int length = snprintf(path, sizeof path, "%s/schema/openapi.json", root);
    if (length < 0 || (size_t)length >= sizeof path) return STATUS_LIMIT;
    enum status status = asset_read(&tools->openapi, path, "openapi.json", faults);
    (void)snprintf(path, sizeof path, "%s/schema/json", root);
    if (status == STATUS_OK) status = assets_load(&tools->schemas, path, faults);
    (void)snprintf(path, sizeof path, "%s/static", root);
    if (status == STATUS_OK) status = assets_load(&tools->assets, path, faults);
    if (status == STATUS_OK) status = load_words(tools, faults);
    return status;
}

static enum status fill(struct http_server *server, const struct http_config *config,
                        struct app *app, struct fault *fault)
{
    struct http_tools *tools = &server->tools;
    tools->app = app;
    tools->fixed_clock = config->fixed_clock;
    tools->behind_proxy = config->behind_proxy;
    if (config->demo_owner != NULL) {
        server->demo_owner = strdup(config->demo_owner);
        if (server->demo_owner == NULL) return STATUS_LIMIT;
    }
    tools->demo_owner = server->demo_owner;
    tools->fixed_now_s = config->fixed_now_s;
    server->quiet = config->quiet;
    unsigned char boot[BOOT_BYTES];
    if (sodium_init() < 0) return STATUS_IO;
    randombytes_buf(boot, sizeof boot);
    (void)sodium_bin2hex(tools->boot, sizeof tools->boot, boot, sizeof boot);
    tools->plans = plans_new();
    tools->throttle = throttle_new();
    tools->metrics = metrics_new();
    server->compress = compress_new();
    server->hosts = calloc(config->host_count + 1, sizeof *server->hosts);
    if (tools->plans == NULL || tools->throttle == NULL || tools->metrics == NULL ||
        server->compress == NULL || server->hosts == NULL)
        return STATUS_LIMIT;
    for (size_t i = 0; i < config->host_count; i++, server->host_count++) {
        server->hosts[i] = strdup(config->hosts[i]);
        if (server->hosts[i] == NULL) return STATUS_LIMIT;
    }
    struct faults faults = {0};
    const enum status status = load_files(tools, &faults);
    if (faults.count > 0) *fault = faults.items[0];
    faults_free(&faults);
    return status;
}

static void log_library(void *context, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* What the library says: faults of clients, so only for who looks closely. */
static void log_library(void *context, const char *format, va_list arguments)
{
    (void)context;
    if (!log_wants(LOG_DEBUG)) return;
    char line[400];
    const int length = vsnprintf(line, sizeof line, format, arguments);
    if (length > 0) log_debug("library", LOG_WITH(log_text("says", line)));
}

static enum status start_daemon(struct http_server *server, struct fault *fault)
{
    server->daemon = MHD_start_daemon(
        MHD_USE_EPOLL_INTERNAL_THREAD | MHD_USE_ITC | MHD_USE_ERROR_LOG, server->port, NULL, NULL,
        serve_request, server, MHD_OPTION_EXTERNAL_LOGGER, log_library, NULL,
        MHD_OPTION_LISTEN_SOCKET, server->listener, MHD_OPTION_THREAD_POOL_SIZE,
        (unsigned)HTTP_THREADS, MHD_OPTION_CONNECTION_LIMIT, (unsigned)HTTP_CONNECTIONS_MAX,
        MHD_OPTION_PER_IP_CONNECTION_LIMIT, (unsigned)HTTP_CONNECTIONS_PER_ADDRESS_MAX,
        MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)HTTP_POOL_BYTES, MHD_OPTION_STRICT_FOR_CLIENT,
        1, MHD_OPTION_UNESCAPE_CALLBACK, serve_unescape, NULL, MHD_OPTION_URI_LOG_CALLBACK,
        serve_target, server, MHD_OPTION_NOTIFY_CONNECTION, serve_connection, server,
        MHD_OPTION_NOTIFY_COMPLETED, serve_completed, server, MHD_OPTION_END);
    if (server->daemon != NULL) return STATUS_OK;
    fault_set(fault, "", "threads and descriptors enough", "the library could not start");
    return STATUS_IO;
}

static void release(struct http_server *server)
{
    struct http_tools *tools = &server->tools;
    watch_stop(server->watch);
    guard_stop(server->guard);
    if (server->listener >= 0) (void)close(server->listener);
    plans_free(tools->plans);
    throttle_free(tools->throttle);
    free(server->demo_owner);
    metrics_free(tools->metrics);
    compress_free(server->compress);
    assets_free(tools->assets);
    assets_free(tools->schemas);
    asset_release(&tools->openapi);
    for (int i = 0; i < HTTP_LANGUAGE_COUNT; i++) words_free(tools->words[i]);
    for (size_t i = 0; i < server->host_count; i++) free(server->hosts[i]);
    free(server->hosts);
    free(server);
}

enum status http_server_start(struct http_server **out, const struct http_config *config,
                              struct app *app, struct fault *fault)
{
    *out = NULL;
    struct fault spare;
    if (fault == NULL) fault = &spare;
    fault_set(fault, "", "memory and files of the program", "none");
    struct http_server *server = calloc(1, sizeof *server);
    if (server == NULL) return STATUS_LIMIT;
    server->listener = -1;
    enum status status = open_socket(server, config, app, fault);
    if (status == STATUS_OK) status = fill(server, config, app, fault);
    if (status == STATUS_OK) status = guard_start(&server->guard, HTTP_CONNECTIONS_MAX + 16);
    if (status == STATUS_OK)
        status = watch_start(&server->watch, &server->tools, config->mail_dir, fault);
    if (status == STATUS_OK) {
        plans_on_write(server->tools.plans, watch_wake, server->watch);
        status = start_daemon(server, fault);
    }
    if (status != STATUS_OK) {
        release(server);
        return status;
    }
    *out = server;
    return STATUS_OK;
}

uint16_t http_server_port(const struct http_server *server)
{
    return server->port;
}

const char *http_server_url(const struct http_server *server)
{
    return server->url;
}

void http_server_stop(struct http_server *server)
{
    if (server == NULL) return;
    atomic_store(&server->stopping, true);
    (void)MHD_quiesce_daemon(server->daemon);
    const struct timespec pause = {.tv_nsec = 1000000000L / STOP_LOOKS_PER_S};
    for (int i = 0; i < HTTP_STOP_WAIT_S * STOP_LOOKS_PER_S; i++) {
        if (atomic_load(&server->under_way) == 0) break;
        (void)nanosleep(&pause, NULL);
    }
    MHD_stop_daemon(server->daemon); /* no request is left that could wake the watch */
    release(server);
}
