/* material_xml.h - the material cards shipped in data/materials.xml and a lab's own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "strength/material.h"
#include <glib.h>

/* All shipped cards, embedded in the program; static after the first call, thread-safe. */
const Material *materials_shipped(size_t *n);
const Material *material_find(const char *id);            /* NULL if none */
GArray *materials_load(const char *path, GError **error); /* of Material */
GString *materials_to_xml(const Material card[], size_t n);
bool material_equal(const Material *a, const Material *b);
