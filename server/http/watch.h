/* SPDX-License-Identifier: MIT */
/*
 * The watch: one thread that looks at the plan after every write and every few minutes, keeps the
 * alarms, and hands messages to the host. A message leaves by a folder: each one waiting is a file
 * `<id>.eml` there, written whole or not at all; the host's own script gives it to its mailer and
 * moves it into `sent/`, where the watch finds it. So the daemon opens no connection to anybody,
 * and a message lost on the way is written again with the same Message-ID.
 */
#ifndef EMBERWAIT_HTTP_WATCH_H
#define EMBERWAIT_HTTP_WATCH_H

#include "base/status.h"
#include "http/request.h"

struct watch;

/**
 * Start the watch.
 *
 * @param[out] out       Own; watch_stop.
 * @param[in]  tools     Borrowed; must outlive it.
 * @param[in]  mail_dir  Folder of outgoing messages; NULL: messages stay in the list, to be copied
 * by hand, and alarms are only shown. Status: OK; NOT_FOUND (no such folder, or not one that can be
 * written in); LIMIT; IO.
 */
MUST_USE enum status watch_start(struct watch **out, struct http_tools *tools, const char *mail_dir,
                                 struct fault *fault);
/** Something was written: look soon. A struct watch, or NULL. */
void watch_wake(void *watch);
/** Whether messages leave by a folder. NULL: no. */
bool watch_sends(const struct watch *watch);
/** How often it has looked. NULL: never. */
uint64_t watch_looks(const struct watch *watch);
/** Stop it. NULL is allowed. */
void watch_stop(struct watch *watch);

/** Look once, now, in the caller's thread: for tests. */
void watch_look(struct watch *watch, int64_t now_s);

#endif
