/* cli_chance.h - chance, scratch and their drivers of one connector as JSON and as lines.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"

/* Keys of the connector's object: bands of scratch and chance, service, drivers. */
void chance_json(GString *line, const Assessment *a, size_t connector);
void chance_print(const Assessment *a, size_t connector);
