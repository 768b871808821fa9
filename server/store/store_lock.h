/* SPDX-License-Identifier: MIT */
/*
 * One writing process per store: an advisory lock on `<store>.lock`, let go by the kernel when its
 * holder dies. The file itself stays; it is empty and means nothing.
 */
#ifndef EMBERWAIT_STORE_STORE_LOCK_H
#define EMBERWAIT_STORE_STORE_LOCK_H

#include "base/status.h"

/**
 * Take the lock.
 *
 * @param[out] out_lock  Descriptor for store_unlock; -1 on any status but OK.
 * @param[in]  path      The database file.
 * Status: OK, BUSY (somebody else has it), IO.
 */
MUST_USE enum status store_lock(int *out_lock, const char *path, struct fault *fault);

/** Let it go; -1 is allowed. */
void store_unlock(int lock);

#endif
