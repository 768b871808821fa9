/* SPDX-License-Identifier: MIT */
/* Why: see store_lock.h. flock and not fcntl: it also keeps two openers in one process apart. */
#include "store/store_lock.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/banned.h"

enum { LOCK_PATH_MAX = 4096 };

enum status store_lock(int *out_lock, const char *path, struct fault *fault)
{
    *out_lock = -1;
    char name[LOCK_PATH_MAX];
    const int length = snprintf(name, sizeof name, "%s.lock", path);
    const int lock = length < 0 || (size_t)length >= sizeof name
                         ? -1
                         : open(name, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (lock < 0) {
        fault_set(fault, path, "a lock file beside the store", "%s", strerror(errno));
        return STATUS_IO;
    }
    if (flock(lock, LOCK_EX | LOCK_NB) != 0) {
        (void)close(lock);
        fault_set(fault, path, "a store that no other process writes to", "one in use");
        return STATUS_BUSY;
    }
    *out_lock = lock;
    return STATUS_OK;
}

void store_unlock(int lock)
{
    if (lock >= 0) (void)close(lock);
}
