/* SPDX-License-Identifier: MIT */
/*
 * Why: see cmd_demo.h. The signals that end it are held back from the first line on and fetched
 * only once the server runs, so that no moment is left in which a signal would leave the folder
 * behind.
 */
#include "cli/cmd_demo.h"

#include <errno.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <unistd.h>

#include "app/app_case.h"
#include "app/app_link.h"
#include "app/app_view.h"
#include "app/demo.h"
#include "base/instant.h"
#include "cli/cmd_serve.h"
#include "cli/db_words.h"
#include "http/server.h"

#include "base/banned.h"

/* Who is signed in, as long as nobody real can: she runs the invented company. */
#define DEMO_OWNER "Ruth Vandermere"

enum { PATH_BYTES = 1024 };

struct arguments {
    const char *db; /* NULL: a folder of our own */
    struct http_config http;
    int64_t now_s;
    bool print_case;
};

static int usage(const char *wrong)
{
    if (wrong != NULL) (void)fprintf(stderr, "%s: not understood\n", wrong);
    (void)fputs("usage: emberwait demo [--port N] [--now INSTANT] [--print-case] [--db FILE]\n"
                "  --port N       0, the default: any free one\n"
                "  --now INSTANT  the morning to show, for example 2026-11-25T06:15:00-07:00\n"
                "  --print-case   print the case as JSON and stop\n"
                "  --db FILE      keep the store there; without it nothing is left behind\n",
                stderr);
    return EX_USAGE;
}

static bool read_one(struct arguments *out, const char *name, const char *value)
{
    if (strcmp(name, "--port") == 0) return serve_read_port(&out->http.port, value);
    if (strcmp(name, "--db") == 0) {
        out->db = value;
        return value[0] != '\0';
    }
    if (strcmp(name, "--now") != 0) return false;
    out->http.fixed_clock = true;
    return instant_parse(&out->http.fixed_now_s, value, strlen(value), NULL) == STATUS_OK;
}

/* NULL: all understood; else the word that was not. */
static const char *read_arguments(struct arguments *out, int argc, char **argv)
{
    *out = (struct arguments){.http = {.quiet = true, .demo_owner = DEMO_OWNER}};
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--print-case") == 0) {
            out->print_case = true;
            continue;
        }
        if (i + 1 == argc || !read_one(out, argv[i], argv[i + 1])) return argv[i];
        i++;
    }
    out->now_s = out->http.fixed_clock ? out->http.fixed_now_s : db_words_now();
    return NULL;
}

static int failed(enum status status, struct faults *faults)
{
    db_words_faults(faults);
    faults_free(faults);
    (void)fprintf(stderr, "the demonstration did not start: %s\n", status_name(status));
    return status == STATUS_BUSY ? EX_UNAVAILABLE : status_exit(status);
}

/* --- a folder of our own -----------------------------------------------------------------------
 */

struct folder {
    char path[PATH_BYTES];
    char db[PATH_BYTES + 16];
};

static bool make_folder(struct folder *out)
{
    const char *below = getenv("TMPDIR");
    if (below == NULL || below[0] == '\0') below = "/tmp";
    const int length = snprintf(out->path, sizeof out->path, "%s/emberwait-demo-XXXXXX", below);
    if (length < 0 || (size_t)length >= sizeof out->path) return false;
    if (mkdtemp(out->path) == NULL) return false;
    (void)snprintf(out->db, sizeof out->db, "%s/demo.db", out->path);
    return true;
}

static void remove_folder(const struct folder *folder)
{
    static const char *const behind[] = {"", "-wal", "-shm", "-journal", ".lock", "-lock"};
    char name[sizeof folder->db + 16];
    for (size_t i = 0; i < sizeof behind / sizeof *behind; i++) {
        (void)snprintf(name, sizeof name, "%s%s", folder->db, behind[i]);
        (void)unlink(name);
    }
    if (rmdir(folder->path) != 0) (void)fprintf(stderr, "%s: %s\n", folder->path, strerror(errno));
}

/* --- the store ---------------------------------------------------------------------------------
 */

static enum status has_jobs(bool *out, struct app *app, struct faults *faults)
{
    struct app_view *view = NULL;
    const enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    *out = app_view_case(view)->job_count > 0;
    app_view_release(view);
    return STATUS_OK;
}

static enum status fill(struct app *app, int64_t now_s, struct faults *faults)
{
    struct text text = TEXT_UP_TO(DEMO_BYTES_MAX);
    struct fault fault;
    enum status status = demo_case(&text, now_s, &fault);
    if (status != STATUS_OK)
        (void)faults_add(faults, fault.path, fault.wanted, "%s", fault.found);
    else
        status = app_import(NULL, app, text_z(&text), text.length, "demo", now_s, faults);
    text_free(&text);
    return status;
}

static enum status open_filled(struct app **out, const char *db, int64_t now_s,
                               struct faults *faults)
{
    const struct app_options options = {.path = db, .create = true, .now_s = now_s};
    enum status status = app_open(out, &options, faults);
    if (status != STATUS_OK) return status;
    bool there = false;
    status = has_jobs(&there, *out, faults);
    if (status == STATUS_OK && !there) status = fill(*out, now_s, faults);
    if (status != STATUS_OK) {
        app_close(*out);
        *out = NULL;
    }
    return status;
}

/* --- what is printed ---------------------------------------------------------------------------
 */

static enum status print_link(const char *url, struct app *app, enum app_link_kind kind,
                              const char *target, const char *name, int64_t now_s)
{
    struct faults faults = {0};
    struct app_link link;
    const enum status status = app_link_make(&link, app, kind, target, now_s, &faults);
    if (status == STATUS_OK)
        (void)printf("%s  %s%s/%s\n", name, url, kind == APP_LINK_CREW ? "c" : "h", link.token);
    else
        db_words_faults(&faults);
    faults_free(&faults);
    return status;
}

/* The address, the crews' pages, and the page of a homeowner whose date does not hold. */
static enum status print_links(const char *url, struct app *app, int64_t now_s)
{
    (void)printf("the yard     %s\n", url);
    enum status status = print_link(url, app, APP_LINK_CREW, "river", "river crew ", now_s);
    if (status != STATUS_OK) return status;
    status = print_link(url, app, APP_LINK_CREW, "ridge", "ridge crew ", now_s);
    if (status != STATUS_OK) return status;
    return print_link(url, app, APP_LINK_HOMEOWNER, "sorrel-gap", "a homeowner", now_s);
}

static int serve(const struct arguments *arguments, struct app *app, const sigset_t *ending)
{
    struct http_server *server = NULL;
    struct fault fault;
    struct faults faults = {0};
    enum status status = http_server_start(&server, &arguments->http, app, &fault);
    if (status != STATUS_OK) {
        (void)faults_add(&faults, fault.path, fault.wanted, "%s", fault.found);
        return failed(status, &faults);
    }
    (void)printf("listening on %s\n", http_server_url(server));
    (void)fflush(stdout);
    status = print_links(http_server_url(server), app, arguments->now_s);
    (void)puts("Everything here is invented. Control-C ends it.");
    (void)fflush(stdout);
    int number = 0;
    if (status == STATUS_OK) (void)sigwait(ending, &number);
    http_server_stop(server);
    return status == STATUS_OK ? EX_OK : failed(status, &faults);
}

static int print_case(int64_t now_s)
{
    struct text text = TEXT_UP_TO(DEMO_BYTES_MAX);
    struct fault fault;
    const enum status status = demo_case(&text, now_s, &fault);
    int answer = status_exit(status);
    if (status != STATUS_OK) {
        (void)fprintf(stderr, "%s: found %s, wanted %s\n", fault.path, fault.found, fault.wanted);
    } else if (fwrite(text.data, 1, text.length, stdout) != text.length || fflush(stdout) != 0) {
        (void)fprintf(stderr, "stdout: %s\n", strerror(errno));
        answer = EX_IOERR;
    }
    text_free(&text);
    return answer;
}

int cmd_demo(int argc, char **argv)
{
    struct arguments arguments;
    const char *wrong = read_arguments(&arguments, argc, argv);
    if (wrong != NULL) return usage(wrong);
    if (arguments.print_case) return print_case(arguments.now_s);
    sigset_t ending;
    (void)sigemptyset(&ending);
    (void)sigaddset(&ending, SIGTERM);
    (void)sigaddset(&ending, SIGINT);
    (void)sigaddset(&ending, SIGHUP);
    (void)sigprocmask(SIG_BLOCK, &ending, NULL);
    struct folder folder = {0};
    if (arguments.db == NULL && !make_folder(&folder)) {
        (void)fprintf(stderr, "a folder below TMPDIR: %s\n", strerror(errno));
        return EX_CANTCREAT;
    }
    struct faults faults = {0};
    struct app *app = NULL;
    const char *db = arguments.db != NULL ? arguments.db : folder.db;
    const enum status status = open_filled(&app, db, arguments.now_s, &faults);
    const int answer =
        status == STATUS_OK ? serve(&arguments, app, &ending) : failed(status, &faults);
    app_close(app);
    if (arguments.db == NULL) remove_folder(&folder);
    return answer;
}
