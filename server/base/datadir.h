/* SPDX-License-Identifier: MIT */
/*
 * Where the read-only files of the program are: schema/ and static/. One place decides it, so that
 * the command line, the server and the tests can never read different rulebooks.
 */
#ifndef EMBERWAIT_BASE_DATADIR_H
#define EMBERWAIT_BASE_DATADIR_H

/**
 * The directory that holds schema/ and static/: the environment's EMBERWAIT_DATA if it is set and
 * not empty, else what the build was told.
 *
 * @return borrow; never NULL. No slash is added at the end.
 */
const char *data_dir(void);

#endif
