/* document_xml.c - XML files read safely: bytes, well-formed tree, root, schema.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file that declares entities is refused before any is used, so none can grow; libxml2 limits the
 * depth to 256. */
#include "casefile/document_xml.h"
#include "base/phrase.h"
#include "casefile/shipped.h"
#include <errno.h>
#include <fcntl.h>
#include <libxml/parser.h>
#include <libxml/relaxng.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define LARGEST_FILE ((off_t)64 << 20)
#define PARSE_OPTIONS                                                                              \
  (XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_NOCDATA |                 \
   XML_PARSE_BIG_LINES)

G_DEFINE_QUARK(soffit - case -error - quark, case_error)

bool reader_fail(Reader *r, CaseErrorCode code, long line, const char *format, ...)
{
  if (r->failed)
    return false;
  r->failed = true;
  va_list list;
  va_start(list, format);
  char *text = g_strdup_vprintf(g_dgettext("soffit", format), list); /* read by people only */
  va_end(list);
  if (line > 0)
    g_set_error(r->error, CASE_ERROR, (int)code, "%s:%ld: %s", r->file, line, text);
  else
    g_set_error(r->error, CASE_ERROR, (int)code, "%s: %s", r->file, text);
  g_free(text);
  return false;
}

static bool open_fail(Reader *r, int error)
{
  const char *act = error == ENOENT || error == ENOTDIR ? N_("Check the name and the folder.")
                    : error == EACCES || error == EPERM ? N_("Ask for the right to read it.")
                                                        : N_("Try again, or use a copy.");
  return reader_fail(r, CASE_ERROR_OPEN, 0, "the file cannot be read (%s). %s", g_strerror(error),
                     g_dgettext("soffit", act));
}

bool document_read_whole(Reader *r, const char *path, const ReadLimit *limit, char **text,
                         size_t *length)
{
  int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  struct stat about;
  if (file < 0)
    return open_fail(r, errno);
  char *buf = NULL;
  if (fstat(file, &about) != 0) {
    open_fail(r, errno);
  } else if (S_ISDIR(about.st_mode)) {
    reader_fail(r, CASE_ERROR_OPEN, 0, "this is a folder. Choose a file in it.");
  } else if (!S_ISREG(about.st_mode)) {
    reader_fail(r, CASE_ERROR_OPEN, 0, "this is no regular file. Choose a file on a disk.");
  } else if (about.st_size > limit->bytes) {
    reader_fail(r, CASE_ERROR_TOO_LARGE, 0, "%s", g_dgettext("soffit", limit->too_large));
  } else {
    /* a file may grow while it is read, or claim to be empty as those of /proc do */
    size_t room = (size_t)about.st_size + 1, n = 0;
    buf = g_try_malloc(room);
    while (buf && !r->failed) {
      ssize_t got = n + 1 < room ? read(file, buf + n, room - 1 - n) : 0;
      if (got < 0 && errno == EINTR)
        continue;
      if (got < 0)
        open_fail(r, errno);
      if (got <= 0)
        break;
      n += (size_t)got;
    }
    if (!buf)
      reader_fail(r, CASE_ERROR_OPEN, 0, "%s", fault_text(FAULT_MEMORY));
    else if (n == 0)
      reader_fail(r, CASE_ERROR_NOT_XML, 0, "%s", g_dgettext("soffit", limit->empty));
    else
      buf[n] = '\0';
    *length = n;
  }
  close(file);
  if (r->failed) {
    g_free(buf);
    return false;
  }
  *text = buf;
  return true;
}

bool document_read_file(const char *path, char **text, size_t *length, GError **error)
{
  static const ReadLimit limit = {
      LARGEST_FILE, N_("the file is larger than 64 MiB. Take large pictures out of it."),
      N_("the file is empty. Open its backup copy or start the case again.")};
  Reader r = {path, error, false};
  return document_read_whole(&r, path, &limit, text, length);
}

/* ---- parsing ---- */

/* Called when the file declares an entity of its own. */
static void refuse_entity(void *context, const xmlChar *name, int type, const xmlChar *public_id,
                          const xmlChar *system_id, xmlChar *content)
{
  (void)name, (void)type, (void)public_id, (void)system_id, (void)content;
  xmlParserCtxt *parser = context;
  bool *refused = parser->_private;
  *refused = true;
  xmlStopParser(parser);
}

xmlDoc *document_parse(Reader *r, const char *text, size_t length)
{
  xmlInitParser();
  if (length == 0) {
    reader_fail(r, CASE_ERROR_NOT_XML, 0,
                "the file is empty. Open its backup copy or start the case again.");
    return NULL;
  }
  if (length > (size_t)LARGEST_FILE) {
    reader_fail(r, CASE_ERROR_TOO_LARGE, 0,
                "the file is larger than 64 MiB. Take large pictures out of it.");
    return NULL;
  }
  xmlParserCtxt *parser = xmlNewParserCtxt();
  if (!parser) {
    reader_fail(r, CASE_ERROR_OPEN, 0, "%s", fault_text(FAULT_MEMORY));
    return NULL;
  }
  bool refused = false;
  parser->_private = &refused;
  parser->sax->entityDecl = refuse_entity;
  xmlDoc *doc = xmlCtxtReadMemory(parser, text, (int)length, NULL, NULL, PARSE_OPTIONS);
  if (refused) {
    reader_fail(r, CASE_ERROR_NOT_XML, 0,
                "the file declares entities of its own. Save it as plain XML without them.");
  } else if (!doc || !parser->wellFormed) {
    const xmlError *last = xmlCtxtGetLastError(parser);
    char *what = g_strchomp(
        g_utf8_make_valid(last && last->message ? last->message : "it cannot be read", -1));
    reader_fail(r, CASE_ERROR_NOT_XML, last ? last->line : 0,
                "this is no whole XML file (%s). Open its backup copy, or mend this line with a "
                "text editor.",
                what);
    g_free(what);
  }
  if (r->failed && doc) {
    xmlFreeDoc(doc);
    doc = NULL;
  }
  xmlFreeParserCtxt(parser);
  return doc;
}

void document_free(xmlDoc *doc)
{
  if (doc)
    xmlFreeDoc(doc);
}

/* The next node of the tree in reading order, not going into `node` when `skip`. */
static xmlNode *node_after(xmlNode *node, xmlNode *root, bool skip)
{
  if (!skip && node->type == XML_ELEMENT_NODE && node->children)
    return node->children;
  while (node != root && !node->next)
    node = node->parent;
  return node == root ? NULL : node->next;
}

void document_strip_foreign(xmlDoc *doc, const char *ours)
{
  xmlNode *root = xmlDocGetRootElement(doc);
  for (xmlNode *node = root, *next; node; node = next) {
    bool foreign = node->type == XML_ELEMENT_NODE && node != root && node->ns &&
                   strcmp((const char *)node->ns->href, ours) != 0;
    next = node_after(node, root, foreign);
    if (foreign) {
      xmlUnlinkNode(node);
      xmlFreeNode(node);
      continue;
    }
    if (node->type != XML_ELEMENT_NODE)
      continue;
    for (xmlAttr *attribute = node->properties, *after; attribute; attribute = after) {
      after = attribute->next;
      if (attribute->ns)
        xmlRemoveProp(attribute);
    }
  }
}

bool document_check_root(Reader *r, xmlDoc *doc, const char *root, const char *name_space)
{
  xmlNode *node = xmlDocGetRootElement(doc);
  const char *found = node && node->ns ? (const char *)node->ns->href : "";
  long line = node ? node_line(node) : 0;
  if (!node || strcmp(found, name_space) != 0)
    return reader_fail(r, CASE_ERROR_NAMESPACE, line,
                       "this XML file is not one of Soffit: its namespace is \"%.80s\", not "
                       "\"%s\". Choose another file.",
                       found, name_space);
  if (strcmp((const char *)node->name, root) != 0)
    return reader_fail(r, CASE_ERROR_NAMESPACE, line,
                       "the file begins with <%.40s> where <%s> is needed. Choose another file.",
                       (const char *)node->name, root);
  if (!read_required(r, node, "version", "1"))
    return false;
  char *version = node_attribute(node, "version");
  char *end;
  errno = 0;
  guint64 number = g_ascii_strtoull(version, &end, 10);
  bool digits = g_ascii_isdigit(version[0]) && *end == '\0';
  if (digits && errno == 0 && number > 1)
    reader_fail(r, CASE_ERROR_NEWER, line,
                "this file was made by a newer Soffit (version %.40s). Update Soffit to open it.",
                version);
  else if (!digits || errno != 0 || number != 1)
    reader_fail(r, CASE_ERROR_VALUE, line,
                "the version \"%.40s\" is not known. Write version=\"1\".", version);
  g_free(version);
  return !r->failed;
}

/* ---- schema ---- */

/* The validator reports from the inside out and from the outside in: what stands furthest down in
 * the file says most. */
typedef struct {
  long line;  /* -1 = nothing reported */
  char *what; /* owned */
} Misfit;

static void keep_furthest(void *data, xmlErrorPtr error)
{
  Misfit *misfit = data;
  xmlNode *node = error->node;
  long line = node ? node_line(node) : error->line;
  if (line <= misfit->line)
    return;
  g_autofree char *message =
      g_utf8_make_valid(error->message ? error->message : "does not fit the schema", -1);
  g_strchomp(message);
  bool named = node && node->type == XML_ELEMENT_NODE;
  g_free(misfit->what);
  misfit->what = named ? g_strdup_printf("element %s: %s", (const char *)node->name, message)
                       : g_strdup(message);
  misfit->line = line;
}

/* The rules of a schema, parsed once and never changed: threads validate by the same ones.  libxml2
 * sets up its data types with the first schema, which two threads must not do at once.  NULL: there
 * are none; tried again the next time. */
static const xmlRelaxNG *schema_rules(const char *schema, GBytes *bytes)
{
  static GMutex lock;
  static GHashTable *parsed;
  g_mutex_lock(&lock);
  if (!parsed)
    parsed = g_hash_table_new(g_str_hash, g_str_equal);
  xmlRelaxNG *rules = g_hash_table_lookup(parsed, schema);
  if (!rules) {
    gsize size;
    const char *text = g_bytes_get_data(bytes, &size);
    xmlRelaxNGParserCtxt *parser = xmlRelaxNGNewMemParserCtxt(text, (int)size);
    rules = parser ? xmlRelaxNGParse(parser) : NULL;
    xmlRelaxNGFreeParserCtxt(parser);
    if (rules)
      g_hash_table_insert(parsed, g_strdup(schema), rules);
  }
  g_mutex_unlock(&lock);
  return rules;
}

bool document_validate(Reader *r, xmlDoc *doc, const char *schema)
{
  GBytes *bytes = shipped_file(schema);
  if (!bytes)
    return reader_fail(r, CASE_ERROR_SCHEMA, 0, "the schema %s is missing. Install Soffit again.",
                       schema);
  Misfit misfit = {.line = -1};
  const xmlRelaxNG *rules = schema_rules(schema, bytes);
  xmlRelaxNGValidCtxt *valid = rules ? xmlRelaxNGNewValidCtxt((xmlRelaxNG *)rules) : NULL;
  if (valid) {
    xmlRelaxNGSetValidStructuredErrors(valid, keep_furthest, &misfit);
    bool fits = xmlRelaxNGValidateDoc(valid, doc) == 0;
    if (!fits && misfit.what)
      reader_fail(r, CASE_ERROR_SCHEMA, misfit.line, "%s. Correct or delete this part of the file.",
                  misfit.what);
    else if (!fits)
      reader_fail(r, CASE_ERROR_SCHEMA, 0,
                  "the file does not fit the schema %s. Correct it with a text editor.", schema);
  } else {
    reader_fail(r, CASE_ERROR_SCHEMA, 0, "the schema %s cannot be used. Install Soffit again.",
                schema);
  }
  g_free(misfit.what);
  xmlRelaxNGFreeValidCtxt(valid);
  g_bytes_unref(bytes);
  return !r->failed;
}
