/* shipped.h - the data files built into the program: schemas, material cards, demo cases,
 * exercises. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

/* "materials.xml", "schema/case.rng", "demo/QB-02.xml"; NULL if there is no such file.  The caller
 * unrefs. */
GBytes *shipped_file(const char *name);
/* Names of the demo cases for shipped_file(), in order, NULL at the end; free with g_strfreev(). */
char **shipped_demos(void);
/* Those of another folder, such as "exercises". */
char **shipped_names(const char *folder);
