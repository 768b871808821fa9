/* SPDX-License-Identifier: MIT */
/* Why: see cmd_rulebook.h. */
#include "cli/cmd_rulebook.h"

#include <stdio.h>
#include <string.h>
#include <sysexits.h>

#include "base/datadir.h"
#include "base/text.h"
#include "rulebook/rulebook.h"

#include "base/banned.h"

#define SHIPPED "modular-masonry"

enum { SHOW_BYTES_MAX = 1048576 /**< the shipped book is 30 kB of prose */ };

static void print_faults(const struct faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct fault *fault = &faults->items[i];
        (void)fprintf(stderr, "%s: found %s, wanted %s\n", fault->path, fault->found,
                      fault->wanted);
    }
    if (faults->dropped > 0) (void)fprintf(stderr, "and %zu more\n", faults->dropped);
}

/** The file held against the shipped rulebook, or the shipped one. */
static enum status book_load(struct rulebook **out, const char *file, struct faults *faults)
{
    struct rulebook *shipped = NULL;
    enum status status = rulebook_load_shipped(&shipped, SHIPPED, faults);
    if (status != STATUS_OK || file == NULL) {
        *out = shipped;
        return status;
    }
    char sources[4096];
    int length = snprintf(sources, sizeof sources, "%s/schema/sources.json", data_dir());
    ENSURE(length > 0 && (size_t)length < sizeof sources); /* the shipped one was found this way */
    status = rulebook_load(out, file, sources, shipped, faults);
    rulebook_free(shipped);
    return status;
}

static int show(const struct rulebook *book)
{
    struct text text = TEXT_UP_TO(SHOW_BYTES_MAX);
    rulebook_show(&text, book);
    enum status status = text_status(&text);
    if (status == STATUS_OK && (fputs(text_z(&text), stdout) < 0 || fflush(stdout) != 0)) {
        status = STATUS_IO;
    }
    text_free(&text);
    return status_exit(status);
}

int cmd_rulebook(int argc, char **argv)
{
    bool is_show = argc > 1 && strcmp(argv[1], "show") == 0;
    if (argc < 2 || argc > 3 || (!is_show && strcmp(argv[1], "check") != 0)) {
        (void)fputs("usage: emberwait rulebook check|show [FILE]\n", stderr);
        return EX_USAGE;
    }
    struct faults faults = {0};
    struct rulebook *book = NULL;
    enum status status = book_load(&book, argc == 3 ? argv[2] : NULL, &faults);
    print_faults(&faults);
    faults_free(&faults);
    if (status != STATUS_OK) return status_exit(status);
    int answer = EX_OK;
    if (is_show)
        answer = show(book);
    else if (printf("%s: %d settings, %d clocks, %d tasks, no fault\n", book->id, SETTING_COUNT,
                    CLOCK_COUNT, TASK_COUNT) < 0) {
        answer = EX_IOERR;
    }
    rulebook_free(book);
    return answer;
}
