/* SPDX-License-Identifier: MIT */
/* Why: see cmd_serve.h. */
#include "cli/cmd_serve.h"

#include <errno.h>
#include <semaphore.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <time.h>

#include "base/instant.h"
#include "base/log.h"

#include "base/banned.h"

enum { HOSTS_MAX = 16, PORT_MAX = 65535, PORT_DIGITS_MAX = 5 };

struct arguments {
    struct app_options store;
    struct http_config http;
    const char *hosts[HOSTS_MAX];
};

static int usage(const char *wrong)
{
    if (wrong != NULL) (void)fprintf(stderr, "%s: not understood\n", wrong);
    (void)fputs(
        "usage: emberwait serve --db FILE [--port N] [--listen ADDRESS] [--host NAME]...\n"
        "                       [--behind-proxy] [--mail-dir DIR] [--now INSTANT]\n"
        "                       [--log error|warning|info|debug]\n"
        "  --db FILE         the store; made when there is none\n"
        "  --port N          0, the default: any free one\n"
        "  --listen ADDRESS  127.0.0.1 by default; one that others reach only with an owner\n"
        "                    on record and --behind-proxy\n"
        "  --host NAME       a further name requests may come under (a proxy's)\n"
        "  --behind-proxy    a proxy that speaks https stands before it, here or elsewhere\n"
        "  --mail-dir DIR    put messages there for the host's own mailer to send\n"
        "  --now INSTANT     stop the clock there, to try things out\n"
        "  --log LEVEL       info, the default, has a line a request\n",
        stderr);
    return EX_USAGE;
}

bool serve_read_port(uint16_t *out, const char *text)
{
    const size_t digits = strspn(text, "0123456789");
    if (digits == 0 || digits > PORT_DIGITS_MAX || text[digits] != '\0') return false;
    const unsigned long port = strtoul(text, NULL, 10);
    if (port > PORT_MAX) return false;
    *out = (uint16_t)port;
    return true;
}

static bool read_one(struct arguments *out, const char *name, const char *value)
{
    enum log_level level;
    if (strcmp(name, "--db") == 0) {
        out->store.path = value;
    } else if (strcmp(name, "--port") == 0) {
        return serve_read_port(&out->http.port, value);
    } else if (strcmp(name, "--listen") == 0) {
        out->http.address = value;
    } else if (strcmp(name, "--host") == 0) {
        if (out->http.host_count == HOSTS_MAX || value[0] == '\0') return false;
        out->hosts[out->http.host_count++] = value;
    } else if (strcmp(name, "--mail-dir") == 0) {
        out->http.mail_dir = value;
    } else if (strcmp(name, "--now") == 0) {
        out->http.fixed_clock = true;
        return instant_parse(&out->http.fixed_now_s, value, strlen(value), NULL) == STATUS_OK;
    } else if (strcmp(name, "--log") == 0) {
        if (!log_level_parse(&level, value)) return false;
        log_level_set(level);
    } else {
        return false;
    }
    return true;
}

/* NULL: all understood; else the word that was not. */
static const char *read_arguments(struct arguments *out, int argc, char **argv)
{
    *out = (struct arguments){.store = {.create = true}};
    for (int i = 1; i < argc; i += 2) {
        if (strcmp(argv[i], "--behind-proxy") == 0) {
            out->http.behind_proxy = true;
            i--;
            continue;
        }
        if (i + 1 == argc || !read_one(out, argv[i], argv[i + 1])) return argv[i];
    }
    out->http.hosts = out->hosts;
    return NULL;
}

/* A semaphore may be posted from a signal handler, whichever thread it interrupts. */
static sem_t stop;

static void told_to_stop(int number)
{
    (void)number;
    const int kept = errno;
    (void)sem_post(&stop);
    errno = kept;
}

static int serve_exit(enum status status)
{
    if (status == STATUS_BUSY) return EX_UNAVAILABLE;
    return status_exit(status);
}

int serve_until_signal(const struct http_config *config, struct app *app)
{
    struct sigaction action = {.sa_handler = told_to_stop};
    (void)sem_init(&stop, 0, 0);
    (void)sigaction(SIGTERM, &action, NULL);
    (void)sigaction(SIGINT, &action, NULL);
    struct http_server *server = NULL;
    struct fault fault;
    const enum status status = http_server_start(&server, config, app, &fault);
    if (status != STATUS_OK) {
        (void)fprintf(stderr, "%s: found %s, wanted %s\n", fault.path, fault.found, fault.wanted);
        return serve_exit(status);
    }
    (void)printf("listening on %s\n", http_server_url(server));
    (void)fflush(stdout);
    while (sem_wait(&stop) != 0) {
    }
    log_info("stopping", NULL);
    http_server_stop(server);
    return EX_OK;
}

int cmd_serve(int argc, char **argv)
{
    struct arguments arguments;
    const char *wrong = read_arguments(&arguments, argc, argv);
    if (wrong != NULL || arguments.store.path == NULL) return usage(wrong);
    struct faults faults = {0};
    struct app *app = NULL;
    arguments.store.now_s = (int64_t)time(NULL);
    const enum status status = app_open(&app, &arguments.store, &faults);
    for (size_t i = 0; i < faults.count; i++) {
        (void)fprintf(stderr, "%s: found %s, wanted %s\n", faults.items[i].path,
                      faults.items[i].found, faults.items[i].wanted);
    }
    faults_free(&faults);
    if (status != STATUS_OK) {
        (void)fprintf(stderr, "%s: %s\n", arguments.store.path, status_name(status));
        return serve_exit(status);
    }
    const int answer = serve_until_signal(&arguments.http, app);
    app_close(app);
    return answer;
}
