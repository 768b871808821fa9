/* SPDX-License-Identifier: MIT */
/* Why: see assets.h. */
#include "http/assets.h"

#include <dirent.h>
#include <errno.h>
#include <inttypes.h>
#include <limits.h>
#include <sodium.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/text.h"
#include "http/compress.h"
#include "http/limits.h"

#include "base/banned.h"

enum { TAG_BYTES = 8, READ_BYTES = 65536 };

struct assets {
    struct asset *items;
    size_t count;
    size_t bytes;
};

static const struct {
    const char *ending;
    const char *type;
} types[] = {
    {".css", "text/css; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".html", "text/html; charset=utf-8"},
    {".txt", "text/plain; charset=utf-8"},
    {".json", "application/json"},
    {".webmanifest", "application/manifest+json"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".ico", "image/vnd.microsoft.icon"},
    {".woff2", "font/woff2"},
};

static const char *type_of(const char *path)
{
    const char *ending = strrchr(path, '.');
    for (size_t i = 0; ending != NULL && i < sizeof types / sizeof *types; i++) {
        if (strcmp(types[i].ending, ending) == 0) return types[i].type;
    }
    return NULL;
}

static enum status read_bytes(struct asset *out, const char *file)
{
    FILE *in = fopen(file, "rbe");
    if (in == NULL) return errno == ENOENT ? STATUS_NOT_FOUND : STATUS_IO;
    struct text bytes = TEXT_UP_TO(HTTP_ASSET_BYTES_MAX);
    char block[READ_BYTES];
    size_t got;
    while (!bytes.failed && (got = fread(block, 1, sizeof block, in)) > 0)
        text_add(&bytes, block, got);
    enum status status = ferror(in) ? STATUS_IO : text_status(&bytes);
    (void)fclose(in);
    if (status == STATUS_OK && bytes.length == 0) status = STATUS_INVALID;
    if (status == STATUS_OK) out->bytes = text_release(&bytes, &out->length);
    text_free(&bytes);
    return status;
}

static void tag(struct asset *asset)
{
    unsigned char hash[crypto_generichash_BYTES];
    (void)crypto_generichash(hash, sizeof hash, (const unsigned char *)asset->bytes, asset->length,
                             NULL, 0);
    (void)sodium_bin2hex(asset->tag, sizeof asset->tag, hash, TAG_BYTES);
}

enum status asset_read(struct asset *out, const char *file, const char *path, struct faults *faults)
{
    *out = (struct asset){.type = type_of(path)};
    if (out->type == NULL)
        return faults_add(faults, path, "a file of a type that is served", "another ending");
    const enum status status = read_bytes(out, file);
    if (status != STATUS_OK) {
        (void)faults_add(faults, path, "a file that can be read, not empty, under 4 MiB", "%s",
                         status_name(status));
        return status;
    }
    out->path = strdup(path);
    if (out->path == NULL) {
        asset_release(out);
        return STATUS_LIMIT;
    }
    tag(out);
    out->gzip = compress_gzip(NULL, out->bytes, out->length, &out->gzip_length);
    return STATUS_OK;
}

void asset_release(struct asset *asset)
{
    free(asset->path);
    free(asset->bytes);
    free(asset->gzip);
    *asset = (struct asset){.path = NULL};
}

static enum status add_file(struct assets *assets, const char *file, const char *path,
                            struct faults *faults)
{
    if (assets->count == HTTP_ASSETS_MAX) {
        (void)faults_add(faults, path, "fewer files", "more than %d", HTTP_ASSETS_MAX);
        return STATUS_LIMIT;
    }
    struct asset *asset = &assets->items[assets->count];
    const enum status status = asset_read(asset, file, path, faults);
    if (status != STATUS_OK) return status;
    assets->count++;
    assets->bytes += asset->length + asset->gzip_length;
    if (assets->bytes <= HTTP_ASSETS_BYTES_MAX) return STATUS_OK;
    (void)faults_add(faults, path, "less in all", "more than %d bytes", HTTP_ASSETS_BYTES_MAX);
    return STATUS_LIMIT;
}

static enum status add_folder(struct assets *assets, const char *directory, const char *prefix,
                              int depth, struct faults *faults)
{
    DIR *folder = opendir(directory);
    if (folder == NULL) return errno == ENOENT ? STATUS_OK : STATUS_IO;
    enum status status = depth > HTTP_ASSET_DEPTH_MAX ? STATUS_LIMIT : STATUS_OK;
    for (struct dirent *entry; status == STATUS_OK && (entry = readdir(folder)) != NULL;) {
        if (entry->d_name[0] == '.') continue;
        char file[PATH_MAX], path[PATH_MAX];
        struct stat about;
        const int a = snprintf(file, sizeof file, "%s/%s", directory, entry->d_name);
        const int b = snprintf(path, sizeof path, "%s%s", prefix, entry->d_name);
        if (a < 0 || b < 0 || (size_t)a >= sizeof file || (size_t)b + 1 >= sizeof path) {
            status = STATUS_LIMIT;
        } else if (stat(file, &about) != 0) {
            status = STATUS_IO;
        } else if (S_ISDIR(about.st_mode)) {
            path[b] = '/';
            path[b + 1] = '\0';
            status = add_folder(assets, file, path, depth + 1, faults);
        } else if (S_ISREG(about.st_mode) && strcmp(entry->d_name, "README.md") != 0) {
            status = add_file(assets, file, path, faults);
        }
    }
    (void)closedir(folder);
    return status;
}

static const char *path_of(const struct asset *asset)
{
    return asset->path == NULL ? "" : asset->path;
}

static bool append(struct text *out, const struct assets *assets, const char *path)
{
    for (size_t i = 0; i < assets->count; i++) {
        if (strcmp(path_of(&assets->items[i]), path) != 0) continue;
        text_add(out, assets->items[i].bytes, assets->items[i].length);
        return true;
    }
    return false;
}

/*
 * `css/whole-x.css`: what page x needs of style in one request, for each costs a slow line most of
 * a second: tokens, base, the page's own, and what is for paper.
 */
static enum status add_whole(struct assets *assets, const char *page, struct faults *faults)
{
    static const char before[] = "css/page-";
    char path[PATH_MAX];
    const int length = snprintf(path, sizeof path, "css/whole-%s", page + sizeof before - 1);
    if (length < 0 || (size_t)length >= sizeof path) return STATUS_LIMIT;
    if (assets->count == HTTP_ASSETS_MAX)
        return faults_add(faults, path, "fewer files", "more than %d", HTTP_ASSETS_MAX);
    struct text whole = TEXT_UP_TO(HTTP_ASSET_BYTES_MAX);
    bool there = append(&whole, assets, "css/tokens.css") &&
                 append(&whole, assets, "css/base.css") && append(&whole, assets, page);
    text_add_z(&whole, "@media print {\n");
    there = there && append(&whole, assets, "css/print.css");
    text_add_z(&whole, "}\n");
    enum status status = text_status(&whole);
    struct asset *asset = &assets->items[assets->count];
    *asset = (struct asset){.type = type_of(path)};
    if (there && status == STATUS_OK) {
        asset->bytes = text_release(&whole, &asset->length);
        asset->path = strdup(path);
        if (asset->path == NULL || asset->bytes == NULL) {
            asset_release(asset);
            status = STATUS_LIMIT;
        } else {
            tag(asset);
            asset->gzip = compress_gzip(NULL, asset->bytes, asset->length, &asset->gzip_length);
            assets->count++;
        }
    }
    text_free(&whole);
    return status;
}

static enum status add_wholes(struct assets *assets, struct faults *faults)
{
    const size_t files = assets->count;
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < files; i++) {
        const char *path = path_of(&assets->items[i]);
        if (strncmp(path, "css/page-", 9) == 0) status = add_whole(assets, path, faults);
    }
    return status;
}

static int by_path(const void *a, const void *b)
{
    return strcmp(path_of(a), path_of(b));
}

enum status assets_load(struct assets **out, const char *directory, struct faults *faults)
{
    struct assets *assets = calloc(1, sizeof *assets);
    struct asset *items = calloc(HTTP_ASSETS_MAX, sizeof *items);
    if (assets == NULL || items == NULL) {
        free(assets);
        free(items);
        return STATUS_LIMIT;
    }
    assets->items = items;
    enum status status = add_folder(assets, directory, "", 0, faults);
    if (status == STATUS_OK) status = add_wholes(assets, faults);
    if (status != STATUS_OK) {
        assets_free(assets);
        return status;
    }
    qsort(items, assets->count, sizeof *items, by_path);
    *out = assets;
    return STATUS_OK;
}

void assets_free(struct assets *assets)
{
    if (assets == NULL) return;
    for (size_t i = 0; i < assets->count; i++) asset_release(&assets->items[i]);
    free(assets->items);
    free(assets);
}

const struct asset *assets_find(const struct assets *assets, const char *path)
{
    size_t low = 0;
    for (size_t high = assets->count; low < high;) {
        const size_t middle = low + (high - low) / 2;
        const int order = strcmp(path_of(&assets->items[middle]), path);
        if (order == 0) return &assets->items[middle];
        if (order < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return NULL;
}
