/* cli.h - the commands of soffit-cli.  Each returns the exit status: 0 all hold, 1 some do not, 2
 * bad input or usage, 130 stopped. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

#define EXIT_HOLDS 0
#define EXIT_NOT 1
#define EXIT_BAD 2
#define EXIT_STOPPED 130 /* by a signal, as shells count it: 128 + SIGINT */

int cli_assess(int argc, char **argv);
int cli_outline(int argc, char **argv);
int cli_connector(int argc, char **argv);
int cli_best(int argc, char **argv); /* 1: no better outline */
int cli_bars(int argc, char **argv); /* 1: rows were left out, or no fit */
int cli_report(int argc, char **argv);
int cli_records(int argc, char **argv);
int cli_lab(int argc, char **argv);
int cli_record(int argc, char **argv); /* 1: broken, open again, or a signature that does not fit */
int cli_figures(int argc, char **argv); /* 2: files without an answer were left out */
int cli_trace(int argc, char **argv);
int cli_drawing(int argc, char **argv);
int cli_practice(int argc, char **argv); /* 1: not passed */
int cli_proof(int argc, char **argv);

/* Says what is wrong on standard error, "soffit-cli: ...", and returns EXIT_BAD. */
int cli_bad(const char *format, ...) G_GNUC_PRINTF(1, 2);
/* Parses the options of a command; false after a message. */
gboolean cli_options(const char *usage, const char *summary, const GOptionEntry *entry, int *argc,
                     char ***argv);
