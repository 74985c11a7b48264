/* case_entry.h - the history and the remarks of a case.  Private to core/casefile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case.h"
#include "casefile/document_xml.h"

GPtrArray *history_copy(const GPtrArray *from);
GPtrArray *remarks_copy(const GPtrArray *from);
bool history_equal(const GPtrArray *a, const GPtrArray *b);
bool remarks_equal(const GPtrArray *a, const GPtrArray *b);

/* "between": the connector it is about; SIZE_MAX without. */
void read_between(Reader *r, struct _xmlNode *node, const Case *c, size_t *connector);
void write_between(GString *out, const Case *c, size_t connector);
/* <history> and <remarks> below the root; the connectors are known by then. */
void read_history(Reader *r, struct _xmlNode *root, Case *c);
void read_remarks(Reader *r, struct _xmlNode *root, Case *c);
void write_history(GString *out, const Case *c);
void write_remarks(GString *out, const Case *c);
