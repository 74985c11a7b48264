/* paper_pdf.c - see paper_pdf.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_pdf.h"
#include "casefile/case_xml.h"
#include "casefile/save.h"
#include "ui/drawing/paper_trainee.h"
#include <cairo-pdf.h>

#define PIXELS_A_POINT 4 /* of the shade: 288 dots per inch */
#define CREATOR "Soffit"

DrawContext paper_context(PhraseTranslate translate, const char *decimal)
{
  return (DrawContext){.palette = PALETTE_LIGHT,
                       .decimal = decimal,
                       .translate = translate,
                       .scale = PAPER_SCALE,
                       .resolution = PIXELS_A_POINT};
}

static cairo_status_t keep(void *closure, const unsigned char *data, unsigned int length)
{
  GByteArray *bytes = closure;
  if (length > G_MAXUINT - bytes->len)
    return CAIRO_STATUS_WRITE_ERROR;
  g_byte_array_append(bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t drop(void *closure, const unsigned char *data, unsigned int length)
{
  (void)closure, (void)data, (void)length;
  return CAIRO_STATUS_SUCCESS;
}

/* The drawing ends, and both go; whether all of it was written. */
static cairo_status_t pdf_end(cairo_t *cr, cairo_surface_t *surface)
{
  cairo_status_t status = cairo_status(cr);
  cairo_destroy(cr);
  cairo_surface_finish(surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  return status;
}

/* Draws onto a new PDF surface; *pages is the number shown in the feet, then the number drawn. */
static cairo_status_t draw(const PaperJob *job, const DrawContext *context,
                           cairo_write_func_t write, void *closure, int *pages)
{
  cairo_surface_t *surface =
      cairo_pdf_surface_create_for_stream(write, closure, job->width, job->height);
  g_autofree char *title = paper_title(job, context);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, CREATOR);
  cairo_t *cr = cairo_create(surface);
  *pages = paper_draw(cr, context, job, *pages, write == drop);
  return pdf_end(cr, surface);
}

static bool undrawn(const DrawContext *context, cairo_status_t status, GError **error)
{
  g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
              text_word(context, N_("The report cannot be drawn: %s")),
              cairo_status_to_string(status));
  return false;
}

bool paper_write_pdf(const PaperJob *job, const DrawContext *context, const char *path,
                     GError **error)
{
  g_autoptr(GByteArray) bytes = g_byte_array_new();
  int pages = 0;
  cairo_status_t status = draw(job, context, drop, NULL, &pages);
  if (status == CAIRO_STATUS_SUCCESS)
    status = draw(job, context, keep, bytes, &pages);
  if (status != CAIRO_STATUS_SUCCESS)
    return undrawn(context, status, error);
  return file_save(path, (const char *)bytes->data, bytes->len, error);
}

bool paper_write_class(const GPtrArray *rows, const GPtrArray *set, PaperSize size,
                       const char *time, const DrawContext *context, PaperTell tell, void *data,
                       const char *path, GError **error)
{
  double width, height;
  paper_size_points(size, &width, &height);
  g_autoptr(GByteArray) bytes = g_byte_array_new();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(keep, bytes, width, height);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, CREATOR);
  cairo_t *cr = cairo_create(surface);
  bool more = true;
  for (guint i = 0; i < rows->len && more; i++) {
    paper_trainee(cr, context, rows->pdata[i], set, width, height, time);
    more = !tell || tell(i + 1, data);
  }
  cairo_status_t status = pdf_end(cr, surface);
  if (!more) {
    g_set_error_literal(error, CASE_ERROR, CASE_ERROR_SAVE,
                        text_word(context, N_("Stopped. Nothing was saved.")));
    return false;
  }
  return status ? undrawn(context, status, error)
                : file_save(path, (const char *)bytes->data, bytes->len, error);
}
