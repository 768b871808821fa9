/* SPDX-License-Identifier: MIT */
/* Why: see db_words.h. */
#include "cli/db_words.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/banned.h"

enum { READ_BYTES = 65536 };

bool db_words_read(struct db_words *out, int argc, char **argv)
{
    *out = (struct db_words){.db = getenv("EMBERWAIT_DB")};
    bool options = true;
    for (int i = 1; i < argc; i++) {
        const char *word = argv[i];
        if (options && strcmp(word, "--") == 0) {
            options = false;
        } else if (options && strcmp(word, "--db") == 0 && i + 1 < argc) {
            out->db = argv[++i];
        } else if (options && strncmp(word, "--db=", 5) == 0) {
            out->db = word + 5;
        } else if (options && strcmp(word, "--force") == 0) {
            out->force = true;
        } else if (options && strcmp(word, "--create") == 0) {
            out->create = true;
        } else if (options && strcmp(word, "--csv") == 0 && i + 1 < argc) {
            out->csv = argv[++i];
        } else if (options && strcmp(word, "--dry-run") == 0) {
            out->dry_run = true;
        } else if ((options && word[0] == '-' && word[1] != '\0') || out->file != NULL) {
            (void)fprintf(stderr, "%s: found \"%s\", wanted --db FILE and at most one file\n",
                          argv[0], word);
            return false;
        } else {
            out->file = word;
        }
    }
    if (out->db != NULL && out->db[0] != '\0') return true;
    (void)fprintf(stderr, "%s: found no store, wanted --db FILE (or EMBERWAIT_DB)\n", argv[0]);
    return false;
}

void db_words_faults(const struct faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct fault *fault = &faults->items[i];
        (void)fprintf(stderr, "%s: found %s, wanted %s\n",
                      fault->path[0] != '\0' ? fault->path : "the file", fault->found,
                      fault->wanted);
    }
    if (faults->dropped > 0) (void)fprintf(stderr, "and %zu more\n", faults->dropped);
}

static enum status read_all(FILE *file, struct text *out)
{
    for (;;) {
        char bytes[READ_BYTES];
        const size_t count = fread(bytes, 1, sizeof bytes, file);
        text_add(out, bytes, count);
        if (text_status(out) != STATUS_OK) return STATUS_LIMIT;
        if (count < sizeof bytes) return ferror(file) != 0 ? STATUS_IO : STATUS_OK;
    }
}

enum status db_words_slurp(struct text *out, const char *path)
{
    const bool standard = strcmp(path, "-") == 0;
    FILE *file = standard ? stdin : fopen(path, "rb");
    enum status status = STATUS_NOT_FOUND;
    if (file != NULL) status = read_all(file, out);
    if (status == STATUS_LIMIT) {
        (void)fprintf(stderr, "%s: found more than %zu bytes, wanted fewer\n", path, out->limit);
    } else if (status != STATUS_OK) {
        (void)fprintf(stderr, "%s: %s\n", path, strerror(errno));
    }
    if (file != NULL && !standard) (void)fclose(file);
    return status;
}

int64_t db_words_now(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec;
}
