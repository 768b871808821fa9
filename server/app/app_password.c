/* SPDX-License-Identifier: MIT */
/* Why: see app_password.h. */
#include "app/app_password.h"

#include <errno.h>
#include <sodium.h>
#include <string.h>
#include <time.h>

#include "app/app_internal.h"
#include "base/limits.h"

#include "base/banned.h"

_Static_assert(APP_PASSWORD_TEXT_MAX >= crypto_pwhash_STRBYTES, "room for what is written");

enum { MIB = 1 << 20, NS_PER_S = 1000000000 };

/* What is stretched when there is nothing to hold a password against: the word "nobody" under the
 * parameters above, so that the work is the same. No password is ever held against it and let in.
 */
static const char nobody[APP_PASSWORD_TEXT_MAX] =
    "$argon2id$v=19$m=65536,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$"
    "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

void app_password_ready(struct app *app)
{
    ENSURE(crypto_pwhash_str_needs_rehash(nobody, PASSWORD_OPERATIONS,
                                          (size_t)PASSWORD_MEMORY_MIB * MIB) == 0);
    pthread_condattr_t steady;
    ENSURE(pthread_condattr_init(&steady) == 0);
    ENSURE(pthread_condattr_setclock(&steady, CLOCK_MONOTONIC) == 0);
    ENSURE(pthread_mutex_init(&app->stretching.mutex, NULL) == 0);
    ENSURE(pthread_cond_init(&app->stretching.turn, &steady) == 0);
    (void)pthread_condattr_destroy(&steady);
}

void app_password_done(struct app *app)
{
    (void)pthread_cond_destroy(&app->stretching.turn);
    (void)pthread_mutex_destroy(&app->stretching.mutex);
}

/* Under the mutex: true when it is our turn. */
static bool wait_for_turn(struct app_stretching *stretching)
{
    struct timespec until;
    (void)clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_nsec += (long)(PASSWORD_WAIT_S * NS_PER_S);
    until.tv_sec += until.tv_nsec / NS_PER_S;
    until.tv_nsec %= NS_PER_S;
    stretching->waiting++;
    int result = 0;
    while (stretching->running >= PASSWORDS_AT_ONCE && result == 0)
        result = pthread_cond_timedwait(&stretching->turn, &stretching->mutex, &until);
    stretching->waiting--;
    return stretching->running < PASSWORDS_AT_ONCE;
}

static enum status begin(struct app *app, struct faults *faults)
{
    struct app_stretching *stretching = &app->stretching;
    (void)pthread_mutex_lock(&stretching->mutex);
    bool ours = stretching->running < PASSWORDS_AT_ONCE;
    if (!ours && stretching->waiting < PASSWORDS_WAITING) ours = wait_for_turn(stretching);
    if (ours) {
        stretching->running++;
        stretching->count++;
    }
    (void)pthread_mutex_unlock(&stretching->mutex);
    if (ours) return STATUS_OK;
    (void)faults_add(faults, "password", "a moment in which nobody else signs in",
                     "others who are signing in");
    return STATUS_BUSY;
}

static void end(struct app *app)
{
    (void)pthread_mutex_lock(&app->stretching.mutex);
    app->stretching.running--;
    (void)pthread_cond_signal(&app->stretching.turn);
    (void)pthread_mutex_unlock(&app->stretching.mutex);
}

static size_t characters(const char *text)
{
    size_t count = 0;
    for (; *text != '\0'; text++) count += ((unsigned char)*text & 0xc0) != 0x80;
    return count;
}

/* One character over and over is as short as one character. */
static bool one_character(const char *text)
{
    return text[0] != '\0' && strspn(text, (const char[]){text[0], '\0'}) == strlen(text);
}

enum status app_password_check(const char *password, const char *name, struct faults *faults)
{
    const size_t length = strlen(password);
    if (length > PASSWORD_BYTES_MAX || !utf8_valid(password, length))
        return faults_add(faults, "password", "at most 256 bytes of UTF-8", "%zu bytes", length);
    if (characters(password) < PASSWORD_CHARACTERS_MIN)
        return faults_add(faults, "password", "at least 10 characters: four words are a good one",
                          "%zu", characters(password));
    if (strcmp(password, name) == 0 || one_character(password))
        return faults_add(faults, "password", "one that is not the name, nor one key held down",
                          "one that anybody would try first");
    return STATUS_OK;
}

enum status app_password_stretch(char out[APP_PASSWORD_TEXT_MAX], struct app *app,
                                 const char *password, struct faults *faults)
{
    const enum status status = begin(app, faults);
    if (status != STATUS_OK) return status;
    memset(out, 0, APP_PASSWORD_TEXT_MAX);
    const int result = crypto_pwhash_str(out, password, strlen(password), PASSWORD_OPERATIONS,
                                         (size_t)PASSWORD_MEMORY_MIB * MIB);
    end(app);
    return result == 0 ? STATUS_OK : app_no_memory(faults);
}

enum status app_password_verify(struct app *app, const char *stored, const char *password,
                                struct faults *faults)
{
    const enum status status = begin(app, faults);
    if (status != STATUS_OK) return status;
    char text[APP_PASSWORD_TEXT_MAX] = {0};
    const char *held = stored == NULL ? nobody : stored;
    bool right = strlen(held) < sizeof text;
    if (right) memcpy(text, held, strlen(held));
    right = right && crypto_pwhash_str_verify(text, password, strlen(password)) == 0;
    end(app);
    if (right && stored != NULL) return STATUS_OK;
    (void)faults_add(faults, "password", "a name and a password that go together", "others");
    return STATUS_DENIED;
}
