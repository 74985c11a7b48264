/* load_case_xml.c - the element <loads> of a case file, read and written.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * <loads><bite incline="30" x="12.5"/><bite><on tooth="45" share="2"/>...</bite></loads> */
#include "casefile/case_parts.h"
#include "casefile/load_case.h"
#include <libxml/tree.h>

#define FAR 1e6 /* beyond any number that makes sense: load_case_check() says what does not */

static bool read_on(Reader *r, xmlNode *node, LoadCase *bite)
{
  if (bite->n_on == SPAN_MAX_UNITS)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "this bite presses on more than %d teeth. Delete some.", SPAN_MAX_UNITS);
  double tooth = 0, share = 1;
  if (!read_required(r, node, "tooth", "46"))
    return false;
  read_number(r, node, "tooth", -FAR, FAR, &tooth);
  read_number(r, node, "share", -FAR, FAR, &share);
  bite->on[bite->n_on++] = (BiteShare){tooth == floor(tooth) ? (int)tooth : 0, share};
  return !r->failed;
}

bool read_load_cases(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *all = node_child(root, "loads");
  for (xmlNode *node = node_child(all, "bite"); node; node = node_next(node, "bite")) {
    if (c->n_load_case == SPAN_LOAD_CASES)
      return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                         "there are more than %d bites. Delete some.", SPAN_LOAD_CASES);
    LoadCase *bite = &c->load_case[c->n_load_case];
    load_case_init(bite);
    read_number(r, node, "x", -FAR, FAR, &bite->x);
    read_number(r, node, "incline", -FAR, FAR, &bite->incline_deg);
    for (xmlNode *on = node_child(node, "on"); on; on = node_next(on, "on"))
      if (!read_on(r, on, bite))
        return false;
    const char *reason;
    if (!r->failed && !load_case_check(c, bite, &reason))
      return reader_fail(r, CASE_ERROR_VALUE, node_line(node), "bite %zu: %s", c->n_load_case + 1,
                         reason);
    c->n_load_case++;
  }
  return !r->failed;
}

void write_load_cases(GString *out, const Case *c)
{
  if (c->n_load_case > 0)
    g_string_append(out, "  <loads>\n");
  for (size_t i = 0; i < c->n_load_case; i++) {
    const LoadCase *bite = &c->load_case[i];
    g_string_append(out, "    <bite");
    write_number(out, "x", bite->x);
    if (bite->incline_deg < 0 || bite->incline_deg > 0)
      write_number(out, "incline", bite->incline_deg);
    g_string_append(out, bite->n_on > 0 ? ">" : "/>\n");
    for (size_t k = 0; k < bite->n_on; k++) {
      g_string_append(out, "<on");
      write_number(out, "tooth", bite->on[k].tooth);
      write_number(out, "share", bite->on[k].share);
      g_string_append(out, "/>");
    }
    if (bite->n_on > 0)
      g_string_append(out, "</bite>\n");
  }
  if (c->n_load_case > 0)
    g_string_append(out, "  </loads>\n");
}
