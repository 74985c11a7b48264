/* case_entry.c - the history and the remarks of a case: kept, compared, read, written.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_entry.h"
#include "base/phrase.h"
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include <libxml/tree.h>
#include <string.h>

/* --- kept --- */

const char *entry_kind_id(EntryKind kind)
{
  const char *word = word_of(WORDS_ENTRY, (int)kind);
  return word ? word : "note"; /* which a file does not write */
}

const char *entry_kind_name(EntryKind kind)
{
  static const char *const name[ENTRY_KINDS] = {[ENTRY_NOTE] = N_("note"),
                                                [ENTRY_CHANGE] = N_("changed"),
                                                [ENTRY_SENT] = N_("sent"),
                                                [ENTRY_PASS] = N_("passed"),
                                                [ENTRY_RETURN] = N_("returned"),
                                                [ENTRY_WAIT] = N_("left waiting"),
                                                [ENTRY_TAKEN_OVER] = N_("taken over"),
                                                [ENTRY_MERGE] = N_("merged")};
  return kind < ENTRY_KINDS ? name[kind] : "";
}

HistoryEntry *history_entry_new(void)
{
  HistoryEntry *entry = g_new(HistoryEntry, 1);
  *entry = (HistoryEntry){.kind = ENTRY_NOTE,
                          .time = g_strdup(""),
                          .role = g_strdup(""),
                          .initials = g_strdup(""),
                          .name = g_strdup(""),
                          .text = g_strdup(""),
                          .before = g_strdup(""),
                          .after = g_strdup(""),
                          .content = g_strdup(""),
                          .limits = g_strdup(""),
                          .chain = g_strdup(""),
                          .key = g_strdup(""),
                          .signature = g_strdup("")};
  return entry;
}

void history_entry_free(gpointer data)
{
  HistoryEntry *entry = data;
  if (!entry)
    return;
  char *owned[] = {entry->time,   entry->role,   entry->initials, entry->name,
                   entry->text,   entry->before, entry->after,    entry->content,
                   entry->limits, entry->chain,  entry->key,      entry->signature};
  for (size_t i = 0; i < G_N_ELEMENTS(owned); i++)
    g_free(owned[i]);
  g_free(entry);
}

static gpointer entry_copy(gconstpointer data, gpointer unused)
{
  (void)unused;
  const HistoryEntry *from = data;
  HistoryEntry *entry = g_new(HistoryEntry, 1);
  *entry = (HistoryEntry){.kind = from->kind,
                          .time = g_strdup(from->time),
                          .role = g_strdup(from->role),
                          .initials = g_strdup(from->initials),
                          .name = g_strdup(from->name),
                          .text = g_strdup(from->text),
                          .before = g_strdup(from->before),
                          .after = g_strdup(from->after),
                          .content = g_strdup(from->content),
                          .limits = g_strdup(from->limits),
                          .chain = g_strdup(from->chain),
                          .key = g_strdup(from->key),
                          .signature = g_strdup(from->signature)};
  return entry;
}

GPtrArray *history_copy(const GPtrArray *from)
{
  GPtrArray *copy = g_ptr_array_copy((GPtrArray *)from, entry_copy, NULL);
  g_ptr_array_set_free_func(copy, history_entry_free);
  return copy;
}

bool history_equal(const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return false;
  for (guint i = 0; i < a->len; i++) {
    const HistoryEntry *p = a->pdata[i], *q = b->pdata[i];
    if (!attributes_equal(&entry_element, p, q) || strcmp(p->text, q->text) != 0)
      return false;
  }
  return true;
}

Remark *remark_new(void)
{
  Remark *remark = g_new(Remark, 1);
  *remark = (Remark){.connector = SIZE_MAX,
                     .at = {NAN, NAN},
                     .time = g_strdup(""),
                     .role = g_strdup(""),
                     .initials = g_strdup(""),
                     .text = g_strdup("")};
  return remark;
}

void remark_free(gpointer data)
{
  Remark *remark = data;
  if (!remark)
    return;
  g_free(remark->time);
  g_free(remark->role);
  g_free(remark->initials);
  g_free(remark->text);
  g_free(remark);
}

static gpointer remark_copy(gconstpointer data, gpointer unused)
{
  (void)unused;
  const Remark *from = data;
  Remark *remark = g_new(Remark, 1);
  *remark = *from;
  remark->time = g_strdup(from->time);
  remark->role = g_strdup(from->role);
  remark->initials = g_strdup(from->initials);
  remark->text = g_strdup(from->text);
  return remark;
}

GPtrArray *remarks_copy(const GPtrArray *from)
{
  GPtrArray *copy = g_ptr_array_copy((GPtrArray *)from, remark_copy, NULL);
  g_ptr_array_set_free_func(copy, remark_free);
  return copy;
}

bool remarks_equal(const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return false;
  for (guint i = 0; i < a->len; i++) {
    const Remark *p = a->pdata[i], *q = b->pdata[i];
    if (p->connector != q->connector || !attributes_equal(&remark_element, p, q) ||
        strcmp(p->text, q->text) != 0)
      return false;
  }
  return true;
}

/* --- read --- */

void read_history(Reader *r, xmlNode *root, Case *c)
{
  for (xmlNode *node = node_child(node_child(root, "history"), "entry"); node;
       node = node_next(node, "entry")) {
    HistoryEntry *entry = history_entry_new();
    g_free(entry->text);
    entry->text = node_content(node);
    attributes_read(r, node, &entry_element, entry);
    g_ptr_array_add(c->history, entry);
  }
}

void read_remarks(Reader *r, xmlNode *root, Case *c)
{
  for (xmlNode *node = node_child(node_child(root, "remarks"), "remark"); node;
       node = node_next(node, "remark")) {
    Remark *remark = remark_new();
    g_free(remark->text);
    remark->text = node_content(node);
    attributes_read(r, node, &remark_element, remark);
    read_between(r, node, c, &remark->connector);
    g_ptr_array_add(c->remark, remark);
  }
}

/* --- written --- */

void write_history(GString *out, const Case *c)
{
  if (c->history->len == 0)
    return;
  g_string_append(out, "  <history>\n");
  for (guint i = 0; i < c->history->len; i++) {
    const HistoryEntry *entry = c->history->pdata[i];
    g_string_append(out, "    <entry");
    attributes_write(out, &entry_element, entry);
    g_string_append_c(out, '>');
    write_escaped(out, entry->text);
    g_string_append(out, "</entry>\n");
  }
  g_string_append(out, "  </history>\n");
}

void write_remarks(GString *out, const Case *c)
{
  if (c->remark->len == 0)
    return;
  g_string_append(out, "  <remarks>\n");
  for (guint i = 0; i < c->remark->len; i++) {
    const Remark *remark = c->remark->pdata[i];
    g_string_append(out, "    <remark");
    write_between(out, c, remark->connector);
    attributes_write(out, &remark_element, remark);
    g_string_append_c(out, '>');
    write_escaped(out, remark->text);
    g_string_append(out, "</remark>\n");
  }
  g_string_append(out, "  </remarks>\n");
}
