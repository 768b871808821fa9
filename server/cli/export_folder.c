/* SPDX-License-Identifier: MIT */
/* Why: see export_folder.h. */
#include "cli/export_folder.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "base/limits.h"
#include "cli/db_words.h"

#include "base/banned.h"

enum { PATH_BYTES = 4096 };

static bool path_of(char out[PATH_BYTES], const char *folder, const char *name)
{
    const int length = snprintf(out, PATH_BYTES, "%s/%s", folder, name);
    if (length > 0 && length < PATH_BYTES) return true;
    (void)fprintf(stderr, "%s: found a long path, wanted a shorter one\n", folder);
    return false;
}

static enum status write_file(const char *folder, const char *name, const struct text *text)
{
    char path[PATH_BYTES];
    if (!path_of(path, folder, name)) return STATUS_IO;
    FILE *file = fopen(path, "wbx");
    bool good = file != NULL && fwrite(text_z(text), 1, text->length, file) == text->length;
    const int error = errno;
    good = (file == NULL || fclose(file) == 0) && good;
    if (good) return STATUS_OK;
    (void)fprintf(stderr, "%s: %s\n", path, strerror(error));
    return STATUS_IO;
}

/* Photos are nobody else's business: the folder is the caller's alone. */
static enum status make_folder(const char *folder)
{
    char path[PATH_BYTES];
    if (!path_of(path, folder, "photos")) return STATUS_IO;
    if (mkdir(folder, 0700) == 0 && mkdir(path, 0700) == 0) return STATUS_OK;
    (void)fprintf(stderr, "%s: %s\n", folder, strerror(errno));
    return errno == EEXIST ? STATUS_CONFLICT : STATUS_IO;
}

static enum status write_photos(const char *folder, struct app *app, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return STATUS_LIMIT;
    const struct app_photo *photos = NULL;
    size_t count = 0;
    struct text bytes = TEXT_UP_TO(PHOTO_BYTES_MAX);
    enum status status = app_photo_list(&photos, &count, app, NULL, arena, faults);
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        char file[APP_PHOTO_FILE_MAX];
        app_photo_file(file, &photos[i]);
        text_clear(&bytes);
        status = app_photo_bytes(&bytes, app, photos[i].id, faults);
        if (status == STATUS_OK) status = write_file(folder, file, &bytes);
    }
    text_free(&bytes);
    arena_free(arena);
    return status;
}

enum status export_folder_write(const char *folder, struct app *app, const struct text *text,
                                struct faults *faults)
{
    struct text list = TEXT_UP_TO(CASE_BYTES_MAX);
    enum status status = make_folder(folder);
    if (status == STATUS_OK) status = write_file(folder, "case.json", text);
    if (status == STATUS_OK) status = app_photo_list_write(&list, app, faults);
    if (status == STATUS_OK) status = write_file(folder, "photos.json", &list);
    if (status == STATUS_OK) status = write_photos(folder, app, faults);
    text_free(&list);
    return status;
}

bool export_folder_is(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && S_ISDIR(found.st_mode);
}

/* Reads a file of the folder that is the context. */
static bool read_beside(void *context, const char *name, struct text *out)
{
    char path[PATH_BYTES];
    return path_of(path, context, name) && db_words_slurp(out, path) == STATUS_OK;
}

enum status export_folder_photos(struct app_photos_imported *out, struct app *app,
                                 const char *folder, struct faults *faults)
{
    char path[PATH_BYTES];
    if (snprintf(path, sizeof path, "%s", folder) >= (int)sizeof path) return STATUS_IO;
    struct text list = TEXT_UP_TO(CASE_BYTES_MAX);
    enum status status = read_beside(path, "photos.json", &list) ? STATUS_OK : STATUS_NOT_FOUND;
    if (status == STATUS_OK)
        status = app_photos_import(out, app, text_z(&list), list.length, read_beside, path, faults);
    text_free(&list);
    return status;
}

enum status export_folder_case(struct text *out, const char *folder)
{
    char path[PATH_BYTES];
    return path_of(path, folder, "case.json") ? db_words_slurp(out, path) : STATUS_IO;
}
