/* svg_transform.h - transforms and units of SVG.  Private to core/casefile.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A matrix {a b c d e f}: x' = a x + c y + e, y' = b x + d y + f. */
#pragma once
#include <stdbool.h>

/* "translate(1 2) rotate(30)"; "" is the identity. */
bool svg_transform_from_text(const char *text, double matrix[6]);
/* First `inner`, then `outer`; product may be neither. */
void svg_matrix_multiply(const double outer[6], const double inner[6], double product[6]);
/* mm per user unit; any text may be NULL; NaN when one cannot be read. */
double svg_user_unit(const char *width, const char *height, const char *view_box);
/* User units of an attribute such as "2.5", "2.5px", "1mm"; NaN if it is none. */
double svg_length_user(const char *text);
