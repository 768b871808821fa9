/* SPDX-License-Identifier: MIT */
/*
 * Why: the one entry. Each command is a line of the table and a file cmd_<name>.c; help and
 * dispatch read the same table, so that no command can be there and not be told of.
 */
#include <signal.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "cli/cmd_backup.h"
#include "cli/cmd_calc.h"
#include "cli/cmd_demo.h"
#include "cli/cmd_export.h"
#include "cli/cmd_person.h"
#include "cli/cmd_plan.h"
#include "cli/cmd_rulebook.h"
#include "cli/cmd_serve.h"
#include "cli/cmd_verify.h"
#include "cli/cmd_version.h"
#include "cli/cmd_weather.h"

#include "base/banned.h"

static const struct {
    const char *name;
    const char *arguments;
    const char *says;
    int (*run)(int argc, char **argv);
} commands[] = {
    {"serve", "--db FILE", "serve a store on this machine; serve alone lists the options",
     cmd_serve},
    {"demo", "[--now INSTANT]", "serve an invented company to look at; nothing is left behind",
     cmd_demo},
    {"plan", "CASE.json", "print the plan of a case file (- for stdin) as JSON", cmd_plan},
    {"calc", "QUANTITY key=value...", "print one published figure; calc alone lists them",
     cmd_calc},
    {"weather", "import|show ...", "weather files into a station; weather alone lists the words",
     cmd_weather},
    {"rulebook", "check|show [FILE]", "check a rulebook, or print it as sentences", cmd_rulebook},
    {"person", "add|list|... ", "who signs in; person alone lists the words", cmd_person},
    {"verify", "--db STORE", "check a store: file, keys, migrations, chain, bodies", cmd_verify},
    {"backup", "--db STORE FILE", "copy a store, in use or not, and check the copy", cmd_backup},
    {"restore", "--db STORE FILE", "put a checked copy in a store's place (--force)", cmd_restore},
    {"export", "--db STORE", "print the store as one case file; into a FOLDER with its photos",
     cmd_export},
    {"import", "--db STORE FILE", "take a case file or folder in, all or nothing (--create)",
     cmd_import},
    {"version", "", "print the version", cmd_version},
};

static void help(FILE *out)
{
    (void)fputs(
        "emberwait COMMAND [ARGUMENTS]\n\n"
        "Waits and dates for masonry fireplaces, worked out from what was written down.\n\n",
        out);
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        (void)fprintf(out, "  %-9s %-22s  %s\n", commands[i].name, commands[i].arguments,
                      commands[i].says);
    }
    (void)fputs("\nExit statuses follow sysexits.h: 0 done, 64 wrong call, 65 wrong data, "
                "66 no such file,\n70 a bug of ours, 74 the machine refused.\n",
                out);
}

int main(int argc, char **argv)
{
    (void)signal(SIGPIPE, SIG_IGN); /* a reader that leaves is a failed write, not a death */
    if (argc < 2) {
        help(stderr);
        return EX_USAGE;
    }
    if (strcmp(argv[1], "help") == 0 || strcmp(argv[1], "--help") == 0) {
        help(stdout);
        return EX_OK;
    }
    const char *name = strcmp(argv[1], "--version") == 0 ? "version" : argv[1];
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        if (strcmp(commands[i].name, name) == 0) return commands[i].run(argc - 1, argv + 1);
    }
    (void)fprintf(stderr, "%s: no such command\n\n", argv[1]);
    help(stderr);
    return EX_USAGE;
}
