/* photo_words.c - see photo_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/photo/photo_words.h"
#include "ui/words.h"

char *photo_status_text(SoffitPhotoDesk *desk)
{
  const Photo *photo = photo_desk_photo(desk);
  switch (photo_desk_state(desk)) {
  case PHOTO_COMING:
    return g_strdup(_("The photo is being opened."));
  case PHOTO_LOST:
    return g_strdup(photo_desk_why(desk));
  case PHOTO_SHOWN: {
    g_autofree char *wide = words_number(photo->plane.width, 0),
                    *high = words_number(photo->plane.height, 0);
    return g_strdup_printf(_("%s, %s × %s px"), photo->file, wide, high);
  }
  default:
    return g_strdup(_("Open a photo of the piece, paste it, or drop it on the drawing. Taken "
                      "square to the neck, with a ruler beside it in the same plane, it needs the "
                      "least correction."));
  }
}

char *photo_scale_text(SoffitPhotoDesk *desk)
{
  const Photo *photo = photo_desk_photo(desk);
  double mm_px, percent;
  if (!(photo->plane.width > 0))
    return g_strdup("");
  if (photo_scale(&photo->plane, &mm_px, &percent))
    return g_strdup(_("No scale yet: sizes traced on this photo are not known, and there is no "
                      "verdict on them."));
  g_autofree char *px = words_number(1 / mm_px, 1), *error = words_number(percent, 1);
  return g_strdup_printf(_("1 mm is %s px, known to ± %s %%. That much wider are the bands of "
                           "what is traced on it; marks must lie in the plane of the line."),
                         px, error);
}

char *photo_corner_text(SoffitPhotoDesk *desk)
{
  Point mm[PHOTO_MARKS];
  if (photo_desk_mode(desk) == PHOTO_CORNERS)
    return g_strdup_printf(_("%zu of 4 corners. Tap, or arrows and Enter; drag to correct."),
                           photo_desk_marks(desk, mm));
  return g_strdup(photo_desk_photo(desk)->plane.straightened
                      ? _("Straightened by four corners.")
                      : _("Only where the photo was taken at a slant: mark the four corners of "
                          "something right-angled in the plane of the line."));
}

char *photo_tick_text(SoffitPhotoDesk *desk)
{
  Point mm[PHOTO_MARKS];
  size_t n = photo_desk_marks(desk, mm);
  double mm_px, percent;
  if (photo_desk_mode(desk) == PHOTO_TICKS)
    return g_strdup_printf(words_plural("%zu mark. Tap, or arrows and Enter; drag to correct.",
                                        "%zu marks. Tap, or arrows and Enter; drag to correct.", n),
                           n);
  if (!photo_scale(&photo_desk_photo(desk)->plane, &mm_px, &percent))
    return photo_scale_text(desk);
  return g_strdup(_("Mark two places of known distance, such as the calliper’s jaws, or ticks of a "
                    "ruler in a row: the more ticks, the better it is known."));
}

const char *photo_corner_trouble(SoffitPhotoDesk *desk, Fault fault)
{
  Point mm[PHOTO_MARKS];
  if (photo_desk_mode(desk) != PHOTO_CORNERS || photo_desk_marks(desk, mm) < 4)
    return _("Mark the four corners first.");
  if (fault == FAULT_RANGE)
    return _("Write width and height of the rectangle: in mm, or their ratio alone.");
  return _("These four corners make no rectangle: three lie in line, or one lies inside of the "
           "others. Mark them again.");
}

const char *photo_tick_trouble(SoffitPhotoDesk *desk, Fault fault)
{
  Point mm[PHOTO_MARKS];
  if (photo_desk_mode(desk) != PHOTO_TICKS || photo_desk_marks(desk, mm) < 2)
    return _("Mark two places first, or three and more ticks of a ruler.");
  if (fault == FAULT_RANGE)
    return _("Write how far apart neighbouring marks are, in mm.");
  return _("These marks lie on one place, or at uneven steps: not in a row like the ticks of one "
           "ruler. Mark them again.");
}
