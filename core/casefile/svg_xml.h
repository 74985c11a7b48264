/* svg_xml.h - outlines from SVG files (paths in mm).
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Only <path> is read, with the transforms of its groups; user units are mm unless width/height
 * with viewBox say otherwise.  y is flipped to point up.  Errors in domain CASE_ERROR name file and
 * line. */
#pragma once
#include "casefile/case_xml.h"

/* The one closed path of the file, counter-clockwise. */
bool svg_load_silhouette(const char *path, Outline *outline, GError **error);
/* Four open paths with ids gingival, occlusal, buccal, lingual; each made to run from small to
 * large x. The plan paths' y is flipped too: buccal z > 0. The zero of plan z is the middle of the
 * neck.  A fifth, closed path with id section is the drawn section of the neck, cheek to the right;
 * its middle is z = 0; without it `section` stays empty (n = 0). */
bool svg_load_connector(const char *path, Outline side[SIDE_N], Outline *section, GError **error);
