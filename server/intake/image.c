/* SPDX-License-Identifier: MIT */
/* Why: see image.h. Each reader looks no further than `length`. */
#include "intake/image.h"

#include <stdint.h>
#include <string.h>
#include <strings.h>

#include "base/limits.h"

#include "base/banned.h"

static const struct {
    const char *type;
    const char *ending;
} kinds[IMAGE_KIND_COUNT] = {
    [IMAGE_JPEG] = {"image/jpeg", "jpg"},
    [IMAGE_PNG] = {"image/png", "png"},
    [IMAGE_WEBP] = {"image/webp", "webp"},
};

const char *image_type(enum image_kind kind)
{
    REQUIRE((unsigned)kind < IMAGE_KIND_COUNT);
    return kinds[kind].type;
}

const char *image_ending(enum image_kind kind)
{
    REQUIRE((unsigned)kind < IMAGE_KIND_COUNT);
    return kinds[kind].ending;
}

bool image_type_parse(enum image_kind *out, const char *type)
{
    const size_t length = strcspn(type, "; \t");
    for (int i = 0; i < IMAGE_KIND_COUNT; i++) {
        if (strlen(kinds[i].type) != length || strncasecmp(type, kinds[i].type, length) != 0)
            continue;
        *out = (enum image_kind)i;
        return true;
    }
    return false;
}

/** What was found before it was held against the ceilings. */
struct found {
    enum image_kind kind;
    uint32_t width, height;
};

static uint32_t big_16(const unsigned char *at)
{
    return (uint32_t)at[0] << 8 | at[1];
}

static uint32_t big_32(const unsigned char *at)
{
    return big_16(at) << 16 | big_16(at + 2);
}

static uint32_t little_24(const unsigned char *at)
{
    return (uint32_t)at[2] << 16 | (uint32_t)at[1] << 8 | at[0];
}

/* Markers of a JPEG that begin a frame: C0 to CF less tables and the reserved one. */
static bool begins_frame(unsigned char marker)
{
    return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

/* Segments one after the other to the frame header, which must come before the first scan. */
static bool read_jpeg(struct found *out, const unsigned char *bytes, size_t length)
{
    if (length < 4 || bytes[0] != 0xff || bytes[1] != 0xd8) return false;
    for (size_t at = 2; at + 4 <= length;) {
        if (bytes[at] != 0xff) return false;
        const unsigned char marker = bytes[at + 1];
        if (marker == 0xff) {
            at++; /* fill */
            continue;
        }
        if (marker == 0xd8 || marker == 0xd9 || marker == 0xda || marker == 0) return false;
        if (marker == 0x01 || (marker >= 0xd0 && marker <= 0xd7)) {
            at += 2;
            continue;
        }
        const size_t segment = big_16(bytes + at + 2);
        if (segment < 2 || segment > length - at - 2) return false;
        if (begins_frame(marker)) {
            if (segment < 8) return false;
            *out = (struct found){IMAGE_JPEG, big_16(bytes + at + 7), big_16(bytes + at + 5)};
            return true;
        }
        at += 2 + segment;
    }
    return false;
}

static bool read_png(struct found *out, const unsigned char *bytes, size_t length)
{
    static const unsigned char begin[] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n',
                                          0,    0,   0,   13,  'I',  'H',  'D',  'R'};
    enum { HEAD_BYTES = sizeof begin + 13 + 4 };
    if (length < HEAD_BYTES || memcmp(bytes, begin, sizeof begin) != 0) return false;
    *out = (struct found){IMAGE_PNG, big_32(bytes + 16), big_32(bytes + 20)};
    return true;
}

static bool read_webp(struct found *out, const unsigned char *bytes, size_t length)
{
    if (length < 30 || memcmp(bytes, "RIFF", 4) != 0 || memcmp(bytes + 8, "WEBP", 4) != 0)
        return false;
    const uint32_t riff = little_24(bytes + 4) | (uint32_t)bytes[7] << 24;
    if (riff < 22 || (size_t)riff + 8 > length) return false;
    out->kind = IMAGE_WEBP;
    const unsigned char *chunk = bytes + 12;
    const unsigned char *at = chunk + 8;
    if (memcmp(chunk, "VP8X", 4) == 0) {
        out->width = little_24(at + 4) + 1;
        out->height = little_24(at + 7) + 1;
        return true;
    }
    if (memcmp(chunk, "VP8L", 4) == 0) {
        if (at[0] != 0x2f) return false;
        const uint32_t bits = little_24(at + 1) | (uint32_t)at[4] << 24;
        out->width = (bits & 0x3fff) + 1;
        out->height = (bits >> 14 & 0x3fff) + 1;
        return true;
    }
    if (memcmp(chunk, "VP8 ", 4) != 0 || (at[0] & 1) != 0 || at[3] != 0x9d || at[4] != 0x01 ||
        at[5] != 0x2a)
        return false;
    out->width = ((uint32_t)at[7] << 8 | at[6]) & 0x3fff;
    out->height = ((uint32_t)at[9] << 8 | at[8]) & 0x3fff;
    return true;
}

enum status image_read(struct image *out, const void *bytes, size_t length, struct fault *fault)
{
    struct found found = {IMAGE_JPEG, 0, 0};
    if (!read_jpeg(&found, bytes, length) && !read_png(&found, bytes, length) &&
        !read_webp(&found, bytes, length)) {
        fault_set(fault, "body", "a whole JPEG, PNG or WebP picture", "%zu bytes of another kind",
                  length);
        return STATUS_INVALID;
    }
    if (found.width == 0 || found.height == 0) {
        fault_set(fault, "body", "a picture with a width and a height", "%u by %u",
                  (unsigned)found.width, (unsigned)found.height);
        return STATUS_INVALID;
    }
    if (found.width > PHOTO_EDGE_MAX || found.height > PHOTO_EDGE_MAX) {
        fault_set(fault, "body", "a picture of at most 12000 pixels an edge", "%u by %u",
                  (unsigned)found.width, (unsigned)found.height);
        return STATUS_LIMIT;
    }
    *out = (struct image){found.kind, (int)found.width, (int)found.height};
    return STATUS_OK;
}
