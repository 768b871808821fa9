/* SPDX-License-Identifier: MIT */
/* What is said of checks, and on the page of a job taken over. A part of WORD_LIST in words.h. */
#ifndef EMBERWAIT_VIEWS_WORDS_HOLD_H
#define EMBERWAIT_VIEWS_WORDS_HOLD_H

/* Name, key, the placeholders it may use. */
#define WORD_HOLD_LIST(X)                                                                          \
    X(TAKE_OVER_TITLE, "take-over.title", "job")                                                   \
    X(TAKE_OVER_INTRO, "take-over.intro", "")                                                      \
    X(TAKE_OVER_BACK, "take-over.back", "")                                                        \
    X(TAKE_OVER_WHAT, "take-over.what", "")                                                        \
    X(TAKE_OVER_REASON, "take-over.reason", "")                                                    \
    X(TAKE_OVER_DONE_ON, "take-over.done-on", "")                                                  \
    X(TAKE_OVER_TASKS, "take-over.tasks", "")                                                      \
    X(TAKE_OVER_DAY_OF, "take-over.day-of", "task")                                                \
    X(TAKE_OVER_CLOCKS, "take-over.clocks", "")                                                    \
    X(TAKE_OVER_CLOCKS_WHY, "take-over.clocks-why", "")                                            \
    X(TAKE_OVER_SEND, "take-over.send", "")                                                        \
    X(TAKE_OVER_LINK, "take-over.link", "")                                                        \
    X(JOB_SAME_SITE, "job.same-site", "site")                                                      \
    X(CHECK_FOUND, "check.found", "have")                                                          \
    X(CHECK_AT_LEAST, "check.at-least", "need")                                                    \
    X(CHECK_AT_MOST, "check.at-most", "need")                                                      \
    X(CHECK_COUNTED, "check.counted", "have need")                                                 \
    X(CREW_CHECK, "crew.check", "check")                                                           \
    X(CREW_INITIALS, "crew.initials", "")                                                          \
    X(CREW_PHOTO, "crew.photo", "")                                                                \
    X(CREW_PHOTO_TAKEN, "crew.photo-taken", "")                                                    \
    X(CREW_PHOTO_BAD, "crew.photo-bad", "")                                                        \
    X(CREW_PASS, "crew.pass", "")                                                                  \
    X(CREW_OFFLINE, "crew.offline", "")                                                            \
    X(CREW_YES, "crew.yes", "")                                                                    \
    X(CREW_NO, "crew.no", "")                                                                      \
    X(CREW_ALL_YES, "crew.all-yes", "")                                                            \
    X(CREW_FIGURES, "crew.figures", "")                                                            \
    X(CREW_OF, "crew.of", "n")                                                                     \
    X(CREW_OF_HOW_MANY, "crew.of-how-many", "")                                                    \
    X(CREW_CHECK_WRONG, "crew.check-wrong", "")

#endif
