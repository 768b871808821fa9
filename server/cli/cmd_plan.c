/* SPDX-License-Identifier: MIT */
/*
 * Why: see cmd_plan.h. The plan is written into memory first and then out in one piece, so that a
 * reader never gets half a plan that looks whole.
 */
#include "cli/cmd_plan.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "app/app_accept.h"
#include "base/arena.h"
#include "base/datadir.h"
#include "base/limits.h"
#include "base/text.h"
#include "intake/intake.h"
#include "planner/planner.h"
#include "rulebook/rulebook.h"
#include "views/plan_json.h"
#include "views/words.h"

#include "base/banned.h"

enum { READ_BYTES = 65536, PATH_BYTES = 4096 };

static void print_faults(const struct faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct fault *fault = &faults->items[i];
        (void)fprintf(stderr, "%s: found %s, wanted %s\n",
                      fault->path[0] != '\0' ? fault->path : "the case", fault->found,
                      fault->wanted);
    }
    if (faults->dropped > 0) (void)fprintf(stderr, "and %zu more\n", faults->dropped);
}

/* All of a stream; LIMIT when it is longer than a case may be, IO when it cannot be read. */
static enum status read_all(FILE *file, struct text *out)
{
    for (;;) {
        if (!text_room(out, READ_BYTES)) return STATUS_LIMIT;
        size_t count = fread(out->data + out->length, 1, READ_BYTES, file);
        out->length += count;
        if (count < READ_BYTES) return ferror(file) ? STATUS_IO : STATUS_OK;
    }
}

static enum status read_file(const char *path, struct text *out)
{
    bool standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    enum status status = file == NULL ? STATUS_IO : read_all(file, out);
    if (status == STATUS_IO) (void)fprintf(stderr, "%s: %s\n", path, strerror(errno));
    if (status == STATUS_LIMIT)
        (void)fprintf(stderr, "%s: found more than 256 MiB, wanted less\n", path);
    if (file != NULL && !standard) (void)fclose(file);
    return status;
}

/* What a plan is worked out and told with. */
struct tools {
    struct rulebook *rulebook;
    struct words *words;
};

static enum status load_tools(struct tools *out, struct faults *faults)
{
    char directory[PATH_BYTES];
    int length = snprintf(directory, sizeof directory, "%s/schema/words", data_dir());
    if (length < 0 || (size_t)length >= sizeof directory) return STATUS_IO;
    enum status status = rulebook_load_shipped(&out->rulebook, "modular-masonry", faults);
    if (status != STATUS_OK) return status;
    return words_load(&out->words, directory, "en", faults);
}

static int print_plan(const struct casefile *casefile, struct arena *arena)
{
    struct faults faults = {0};
    struct rulebook *rules = ARENA_TAKE(arena, 1, struct rulebook);
    struct tools tools = {NULL, NULL};
    struct text text = TEXT_UP_TO(PLAN_JSON_BYTES_MAX);
    const struct plan *plan = NULL;
    int answer = EX_OK;
    if (load_tools(&tools, &faults) != STATUS_OK) {
        (void)fprintf(stderr, "%s: found no rulebook and words that can be used\n", data_dir());
        print_faults(&faults);
        answer = EX_CONFIG;
    } else if (rules == NULL) {
        (void)fputs("no memory for the rules\n", stderr);
        answer = EX_OSERR;
    } else if (rulebook_change(rules, tools.rulebook, casefile->company.rules,
                               casefile->company.rule_count, &faults) != STATUS_OK ||
               app_accept_check_case(rules, casefile, &faults) != STATUS_OK) {
        print_faults(&faults);
        answer = EX_DATAERR;
    } else if (planner_run(&plan, casefile, rules, arena) != STATUS_OK) {
        (void)fputs("no memory for the plan\n", stderr);
        answer = EX_OSERR;
    } else {
        plan_json(&text, plan, tools.words);
        if (text_status(&text) != STATUS_OK) {
            (void)fputs("no memory for the answer\n", stderr);
            answer = EX_OSERR;
        } else if (fwrite(text.data, 1, text.length, stdout) != text.length ||
                   fflush(stdout) != 0) {
            (void)fprintf(stderr, "stdout: %s\n", strerror(errno));
            answer = EX_IOERR;
        }
    }
    text_free(&text);
    words_free(tools.words);
    rulebook_free(tools.rulebook);
    faults_free(&faults);
    return answer;
}

int cmd_plan(int argc, char **argv)
{
    if (argc != 2) {
        (void)fputs("usage: emberwait plan FILE (- for stdin)\n", stderr);
        return EX_USAGE;
    }
    struct text bytes = TEXT_UP_TO(CASE_BYTES_MAX + 2 * READ_BYTES);
    enum status status = read_file(argv[1], &bytes);
    if (status != STATUS_OK) {
        text_free(&bytes);
        return status == STATUS_LIMIT ? EX_DATAERR : EX_NOINPUT;
    }
    struct faults faults = {0};
    struct intake intake = {arena_new(), intake_zones_new(), &faults};
    struct casefile *casefile = NULL;
    int answer = EX_OSERR;
    if (intake.arena != NULL && intake.zones != NULL) {
        status = intake_case_text(&casefile, text_z(&bytes), bytes.length, &intake);
        answer = status == STATUS_OK ? print_plan(casefile, intake.arena) : EX_DATAERR;
    }
    print_faults(&faults);
    faults_free(&faults);
    text_free(&bytes);
    arena_free(intake.arena);
    intake_zones_free(intake.zones);
    return answer;
}
