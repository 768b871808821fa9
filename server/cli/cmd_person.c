/* SPDX-License-Identifier: MIT */
/* Why: see cmd_person.h. */
#include "cli/cmd_person.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <termios.h>
#include <unistd.h>

#include "app/app_pass.h"
#include "base/instant.h"
#include "base/limits.h"
#include "cli/db_words.h"
#include "model/record.h"

#include "base/banned.h"

enum { LINE_BYTES = PASSWORD_BYTES_MAX + 2 };

struct words {
    const char *deed;
    const char *db;
    const char *role;
    const char *name;
};

static int usage(void)
{
    (void)fputs("usage: emberwait person add --db STORE --role owner|office|station NAME\n"
                "       emberwait person list --db STORE\n"
                "       emberwait person password --db STORE NAME\n"
                "       emberwait person token --db STORE NAME\n"
                "       emberwait person revoke --db STORE NAME\n"
                "  add       the first has to be an owner; a password is asked for, or read from\n"
                "            standard input; a station gets a token instead, shown this once\n"
                "  password  another password; every browser signed in is signed out\n"
                "  token     a new token for scripts; the one before it is dead\n"
                "  revoke    shut out; what was written down stays\n",
                stderr);
    return EX_USAGE;
}

static bool read_words(struct words *out, int argc, char **argv)
{
    *out = (struct words){.db = getenv("EMBERWAIT_DB")};
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--db") == 0 && i + 1 < argc) {
            out->db = argv[++i];
        } else if (strcmp(argv[i], "--role") == 0 && i + 1 < argc) {
            out->role = argv[++i];
        } else if (strncmp(argv[i], "--", 2) == 0) {
            return false;
        } else if (out->deed == NULL) {
            out->deed = argv[i];
        } else if (out->name == NULL) {
            out->name = argv[i];
        } else {
            return false;
        }
    }
    return out->db != NULL && out->db[0] != '\0' && out->deed != NULL;
}

/* One line of standard input, unseen where that is a terminal. False: nothing, or too long. */
static bool read_line(char out[LINE_BYTES], const char *prompt)
{
    struct termios before;
    const bool terminal = tcgetattr(STDIN_FILENO, &before) == 0;
    if (terminal) {
        struct termios unseen = before;
        unseen.c_lflag &= ~(tcflag_t)ECHO;
        (void)tcsetattr(STDIN_FILENO, TCSAFLUSH, &unseen);
        (void)fputs(prompt, stderr);
        (void)fflush(stderr);
    }
    const bool got = fgets(out, LINE_BYTES, stdin) != NULL;
    if (terminal) {
        (void)tcsetattr(STDIN_FILENO, TCSAFLUSH, &before);
        (void)fputc('\n', stderr);
    }
    if (!got) return false;
    const size_t length = strcspn(out, "\r\n");
    const bool whole = out[length] != '\0' || feof(stdin) != 0;
    out[length] = '\0';
    return whole;
}

static bool read_password(char out[LINE_BYTES])
{
    if (!read_line(out, "password (10 characters or more): ")) {
        (void)fputs("password: found nothing, or more than 256 bytes, wanted one line\n", stderr);
        return false;
    }
    if (isatty(STDIN_FILENO) == 0) return true;
    char again[LINE_BYTES];
    if (read_line(again, "once more: ") && strcmp(out, again) == 0) return true;
    (void)fputs("password: found two different ones, wanted the same twice\n", stderr);
    return false;
}

static void print_token(const char *name, const char *token)
{
    (void)printf("%s\n", token);
    (void)fflush(stdout);
    (void)fprintf(stderr, "that is the token of %s, shown this once\n", name);
}

static enum status new_token(struct app *app, const struct words *words, struct faults *faults)
{
    char token[APP_PASS_TEXT_MAX];
    const enum status status = app_pass_new_token(token, app, words->name, db_words_now(), faults);
    if (status == STATUS_OK) print_token(words->name, token);
    return status;
}

static enum status add(struct app *app, const struct words *words, const char *password,
                       struct faults *faults)
{
    enum app_role role;
    if (!app_role_parse(&role, words->role))
        return faults_add(faults, "role", "owner, office or station", "%s", words->role);
    const bool station = role == APP_ROLE_STATION;
    enum status status =
        app_person_add(app, words->name, role, station ? NULL : password, db_words_now(), faults);
    if (status == STATUS_OK && station) status = new_token(app, words, faults);
    return status;
}

static void print_person(const struct app_person *person)
{
    char made[INSTANT_TEXT_MAX];
    char until[INSTANT_TEXT_MAX];
    instant_format(made, person->made_s, NULL);
    if (person->revoked_s != INSTANT_NONE) {
        instant_format(until, person->revoked_s, NULL);
        (void)printf("%-8s %s  added %s, shut out %s\n", app_role_name(person->role), person->name,
                     made, until);
        return;
    }
    (void)printf("%-8s %s  added %s, %d sessions, %d tokens\n", app_role_name(person->role),
                 person->name, made, person->sessions, person->tokens);
}

static enum status list(struct app *app, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    const struct app_person *people = NULL;
    size_t count = 0;
    const enum status status = app_person_list(&people, &count, app, db_words_now(), arena, faults);
    for (size_t i = 0; status == STATUS_OK && i < count; i++) print_person(&people[i]);
    arena_free(arena);
    return status;
}

static enum status run(struct app *app, const struct words *words, const char *password,
                       struct faults *faults)
{
    if (strcmp(words->deed, "list") == 0) return list(app, faults);
    if (strcmp(words->deed, "add") == 0) return add(app, words, password, faults);
    if (strcmp(words->deed, "token") == 0) return new_token(app, words, faults);
    if (strcmp(words->deed, "password") == 0)
        return app_person_password(app, words->name, password, db_words_now(), faults);
    return app_person_revoke(app, words->name, db_words_now(), faults);
}

/* Whether the words make a call, and whether it needs a password. */
static bool understood(const struct words *words, bool *password)
{
    static const char *const of_a_name[] = {"add", "password", "token", "revoke"};
    *password = strcmp(words->deed, "password") == 0;
    if (strcmp(words->deed, "list") == 0) return words->name == NULL && words->role == NULL;
    const bool adds = strcmp(words->deed, "add") == 0;
    if (words->name == NULL || (words->role != NULL) != adds) return false;
    *password = *password || (adds && strcmp(words->role, "station") != 0);
    for (size_t i = 0; i < sizeof of_a_name / sizeof *of_a_name; i++) {
        if (strcmp(words->deed, of_a_name[i]) == 0) return true;
    }
    return false;
}

int cmd_person(int argc, char **argv)
{
    struct words words;
    bool asks = false;
    if (!read_words(&words, argc, argv) || !understood(&words, &asks)) return usage();
    char password[LINE_BYTES] = "";
    if (asks && !read_password(password)) return EX_DATAERR;
    const struct app_options options = {.path = words.db,
                                        .now_s = db_words_now(),
                                        .create = strcmp(words.deed, "add") == 0,
                                        .read_only = strcmp(words.deed, "list") == 0};
    struct faults faults = {0};
    struct app *app = NULL;
    enum status status = app_open(&app, &options, &faults);
    if (status == STATUS_BUSY)
        (void)fputs("a server is using the store: stop it first, or use its page /people\n",
                    stderr);
    if (status == STATUS_OK) status = run(app, &words, password, &faults);
    app_close(app);
    db_words_faults(&faults);
    faults_free(&faults);
    return status_exit(status);
}
