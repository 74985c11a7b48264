/* case_parts.h - the pieces that reading and writing a case share.  Private to core/casefile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/attribute_xml.h"

#define CASE_NAMESPACE "https://soffit.invalid/case"
#define CASE_END "</case>\n"

/* The tree of a case file into an inited case; on failure the error is set and `c` still to be
 * cleared. */
bool case_read_tree(Reader *r, struct _xmlNode *root, Case *c);
/* The elements <connector> below <connectors>, then every outline that is not drawn.  Connectors
 * that are read must be as inited. */
bool case_read_connectors(Reader *r, struct _xmlNode *root, Case *c);
/* One <connector> element. */
void case_write_connector(GString *out, const Case *c, size_t connector);
/* A <material> element; what is absent comes from the shipped card with the same id. */
bool material_read_element(Reader *r, struct _xmlNode *node, const Material *shipped, size_t n,
                           Material *material);
/* The element <loads>, behind the units. */
bool read_load_cases(Reader *r, struct _xmlNode *root, Case *c);
void write_load_cases(GString *out, const Case *c);
/* The element <photo> of a connector. */
bool read_photo(Reader *r, struct _xmlNode *node, Photo *photo);
void write_photo(GString *out, const char *indent, const Photo *photo);
/* <pictures>: the photos that are kept inside; read after the connectors. */
bool read_pictures(Reader *r, struct _xmlNode *root, Case *c);
void write_pictures(GString *out, const Case *c);
void material_write(GString *out, const char *indent, const Material *material);

/* "(x, y; r R) (x, y) ..." into at most `room` corners; *bad_at = byte offset of the first wrong
 * character. */
bool corners_from_text(const char *text, Corner corner[], size_t room, size_t *n, size_t *bad_at);

/* Whether a drawn neck section will do (drawn_section.h).  The message names a place of the file:
 * what was shifted by shift_z after reading, y up (1) or down (-1) there. */
bool section_accept(Reader *r, long line, const Outline *section, double shift_z, int up);
