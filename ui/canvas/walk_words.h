/* walk_words.h - what is said of the place where one stands on the gum-side line.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/tool.h"

#define WALK_LINES 3
/* Lines for a plate, pull first, each to be freed; NULL: fewer. */
void walk_lines(const Hand *hand, char *line[WALK_LINES]);
/* "Roof, x 0.00, y 2.10 mm, radius 0.31 mm (0.31–0.32), pulled 512 MPa (498–526)"; to be freed. */
char *walk_sentence(const Hand *hand);
/* Is the answer that of the line as it is drawn? */
bool walk_answered(const Hand *hand);
