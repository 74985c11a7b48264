/* connector_line.h - one connector of an assessed case as a line of JSON.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include <glib.h>

/* What the line says besides readings, answer, chance, verdict, reasons and advice. */
typedef struct {
  const char *file; /* "file", first; NULL = not                                              */
  bool bridge;      /* the flat picture of the whole bridge, where it was asked for           */
  bool seconds;     /* how long the case took: the one figure that differs from run to run    */
} LineWish;
/* One whole line with its newline; owned. */
GString *connector_line(const Assessment *a, size_t connector, const LineWish *wish);

const char *form_id(FormKind kind);        /* "U" */
const char *answer_id(const Field *field); /* "solid"; NULL: "none" */
