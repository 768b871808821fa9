/* SPDX-License-Identifier: MIT */
/* `emberwait serve --db FILE [--port N] …`. */
#ifndef EMBERWAIT_CLI_CMD_SERVE_H
#define EMBERWAIT_CLI_CMD_SERVE_H

#include "app/app.h"
#include "http/server.h"

/**
 * Serve a store until SIGTERM or SIGINT: `listening on http://127.0.0.1:PORT/` on stdout when
 * ready, one line a request on stderr. When told to stop it takes no more connections, finishes
 * what is under way and closes the store.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is "serve"; the options are printed by a wrong call.
 * @return exit status (sysexits.h): 0, 64 usage, 65 faults, 66 no such file, 69 the store or the
 * port is in use, 74 the machine refused, 77 not a loopback address.
 */
int cmd_serve(int argc, char **argv);

/**
 * The same on an app that is open already: start, say where, wait for the signal, stop. Takes
 * over the handlers of SIGTERM and SIGINT.
 *
 * @param[in] config  As http_server_start.
 * @param[in] app     Borrowed; closed by the caller afterwards.
 * @return exit status.
 */
int serve_until_signal(const struct http_config *config, struct app *app);

/** Read a port, decimal digits, 0 to 65535; false: it is none. */
bool serve_read_port(uint16_t *out, const char *text);

#endif
