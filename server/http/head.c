/* SPDX-License-Identifier: MIT */
/* Why: see head.h. */
#include "http/head.h"

#include <string.h>
#include <strings.h>

#include "base/banned.h"

enum { LENGTH_DIGITS_MAX = 18 };

static bool token_byte(unsigned char c)
{
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
           (c != '\0' && strchr("!#$%&'*+-.^_`|~", c) != NULL);
}

static bool token(const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        if (!token_byte((unsigned char)bytes[i])) return false;
    }
    return length > 0;
}

static bool plain_value(const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        const unsigned char c = (unsigned char)bytes[i];
        if ((c < 0x20 && c != '\t') || c == 0x7f) return false;
    }
    return true;
}

static bool named(const struct head_field *field, const char *name)
{
    return field->name_length == strlen(name) &&
           strncasecmp(field->name, name, field->name_length) == 0;
}

size_t head_count(const struct head *head, const char *name)
{
    size_t count = 0;
    for (size_t i = 0; i < head->field_count; i++) count += named(&head->fields[i], name);
    return count;
}

const char *head_value(const struct head *head, const char *name)
{
    for (size_t i = 0; i < head->field_count; i++) {
        if (named(&head->fields[i], name)) return head->fields[i].value;
    }
    return NULL;
}

/* Path and query: visible ASCII that begins with a slash (RFC 9112 origin-form). */
static bool good_target(const char *target)
{
    if (target[0] != '/') return false;
    for (const char *at = target; *at != '\0'; at++) {
        if ((unsigned char)*at <= 0x20 || (unsigned char)*at >= 0x7f || *at == '#') return false;
    }
    return true;
}

/* Every byte of the head is accounted for, see head.h. */
static bool whole(const struct head *head)
{
    size_t most = strlen(head->method) + 1 + strlen(head->target) + 1 + strlen(head->version) + 2;
    for (size_t i = 0; i < head->field_count; i++)
        most += head->fields[i].name_length + 2 + head->fields[i].value_length + 2;
    most += 2;
    return head->bytes <= most && head->bytes + head->field_count >= most;
}

static const char *check_lines(const struct head *head)
{
    if (!good_target(head->target)) return "the target is not a path of printable ASCII";
    for (size_t i = 0; i < head->field_count; i++) {
        const struct head_field *field = &head->fields[i];
        if (!token(field->name, field->name_length)) return "a header name is not a token";
        if (!plain_value(field->value, field->value_length))
            return "a header value holds a control byte";
    }
    if (!whole(head)) return "the head holds a folded line, a NUL or a line that ends in a bare LF";
    return NULL;
}

static bool read_length(uint64_t *out, const char *value)
{
    const size_t length = strlen(value);
    if (length == 0 || length > LENGTH_DIGITS_MAX) return false;
    uint64_t number = 0;
    for (size_t i = 0; i < length; i++) {
        if (value[i] < '0' || value[i] > '9') return false;
        number = number * 10 + (uint64_t)(value[i] - '0');
    }
    *out = number;
    return true;
}

static const char *check_framing(struct head_says *out, const struct head *head,
                                 unsigned *http_status)
{
    const size_t lengths = head_count(head, "Content-Length");
    const size_t codings = head_count(head, "Transfer-Encoding");
    if (lengths > 0 && codings > 0) return "Content-Length and Transfer-Encoding together";
    if (lengths > 1) return "more than one Content-Length";
    if (codings > 1) return "more than one Transfer-Encoding";
    if (codings == 1) {
        if (strcasecmp(head_value(head, "Transfer-Encoding"), "chunked") != 0) {
            *http_status = 501;
            return "a transfer coding other than chunked";
        }
        if (strcmp(head->version, "HTTP/1.1") != 0) return "Transfer-Encoding before HTTP/1.1";
        out->chunked = true;
    }
    if (lengths == 1) {
        if (!read_length(&out->body_length, head_value(head, "Content-Length")))
            return "a Content-Length that is not a number";
        out->has_length = true;
    }
    return NULL;
}

const char *head_check(struct head_says *out, const struct head *head, unsigned *http_status)
{
    *out = (struct head_says){.host = NULL};
    *http_status = 431;
    if (head->bytes > HTTP_HEAD_BYTES_MAX) return "a head that is too long";
    if (head->field_total > head->field_count) return "too many header lines";
    *http_status = 414;
    if (strlen(head->target) > HTTP_TARGET_BYTES_MAX) return "a target that is too long";
    *http_status = 400;
    const char *wrong = check_lines(head);
    if (wrong == NULL) wrong = check_framing(out, head, http_status);
    if (wrong != NULL) return wrong;
    const size_t hosts = head_count(head, "Host");
    if (hosts > 1) return "more than one Host";
    if (hosts == 0 && strcmp(head->version, "HTTP/1.1") == 0) return "no Host";
    out->host = head_value(head, "Host");
    static const char *const once[] = {"Origin", "Sec-Fetch-Site", "Content-Type", "If-Match",
                                       "Expect"};
    for (size_t i = 0; i < sizeof once / sizeof *once; i++) {
        if (head_count(head, once[i]) > 1) return "a header twice that may come once";
    }
    return NULL;
}
