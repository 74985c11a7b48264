/* photo_desk.h - the photo of the current connector: opened, found again, made straight, marked.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm in the frame of the connector, px of the upright photo.  Main thread; reading, decoding and
 * straightening run in threads of their own and drop what is not wanted any more.  Everything that
 * the case keeps goes through the session and can be undone.  No GTK.
 *
 * Signals (no arguments but the desk, "trouble" a const char *):
 *   "changed"  picture, marks or mode: drawing and card look again
 *   "trouble"  a sentence to show: what is wrong with a photo, what to do */
#pragma once
#include "casefile/photo.h"
#include "ui/drawing/underlay.h"
#include "ui/session.h"

#define SOFFIT_TYPE_PHOTO_DESK (photo_desk_get_type())
G_DECLARE_FINAL_TYPE(SoffitPhotoDesk, photo_desk, SOFFIT, PHOTO_DESK, GObject)

SoffitPhotoDesk *photo_desk_new(SoffitSession *session);

/* ---- the picture ---- */
typedef enum { PHOTO_NONE, PHOTO_COMING, PHOTO_SHOWN, PHOTO_LOST } PhotoState;
PhotoState photo_desk_state(SoffitPhotoDesk *desk);
/* Why it is lost, translated; "" otherwise.  Borrowed until "changed". */
const char *photo_desk_why(SoffitPhotoDesk *desk);
const Photo *photo_desk_photo(SoffitPhotoDesk *desk); /* of the current connector, never NULL */
/* What to draw now, or NULL: none, or hidden. */
const Underlay *photo_desk_underlay(SoffitPhotoDesk *desk);
/* How large the drawing shows a mm, device px: the raster is made as fine. */
void photo_desk_set_scale(SoffitPhotoDesk *desk, double px_mm);
void photo_desk_set_hidden(SoffitPhotoDesk *desk, bool hidden);
bool photo_desk_hidden(SoffitPhotoDesk *desk);

/* Opens a picture below the current connector, in the place of another; "trouble" when it cannot.
 */
void photo_desk_open(SoffitPhotoDesk *desk, const char *path);
void photo_desk_open_bytes(SoffitPhotoDesk *desk, GBytes *bytes, const char *name);
/* The photo tool is in hand, or is to be: its card is shown.  Leaving it ends the marking. */
void photo_desk_set_active(SoffitPhotoDesk *desk, bool active);
bool photo_desk_active(SoffitPhotoDesk *desk);
bool photo_name_known(const char *path); /* ends like a picture: for files that are dropped */

/* ---- marks ---- */
typedef enum { PHOTO_REST, PHOTO_CORNERS, PHOTO_TICKS, PHOTO_MOVE } PhotoMode;
PhotoMode photo_desk_mode(SoffitPhotoDesk *desk);
/* Marks begin with those that the case has. */
void photo_desk_set_mode(SoffitPhotoDesk *desk, PhotoMode mode);
size_t photo_desk_marks(SoffitPhotoDesk *desk, Point mm[PHOTO_MARKS]);
size_t photo_desk_chosen(SoffitPhotoDesk *desk); /* mark at hand; SIZE_MAX = none */
/* Takes the mark within reach_mm of a place, or sets a new one there. */
void photo_desk_mark(SoffitPhotoDesk *desk, Point mm, double reach_mm);
void photo_desk_mark_move(SoffitPhotoDesk *desk, Point mm); /* the one at hand */
void photo_desk_mark_drop(SoffitPhotoDesk *desk);           /* the one at hand, or the last, goes */
/* The cross of the keyboard; begins in the middle of what is seen. */
bool photo_desk_cross(SoffitPhotoDesk *desk, Point *mm);
void photo_desk_cross_to(SoffitPhotoDesk *desk, Point mm);

/* Each is one step that undo takes back; the traced line goes with the photo.  On a fault nothing
 * has changed. */
MUST_CHECK Fault photo_desk_straighten(SoffitPhotoDesk *desk, double width, double height,
                                       double error);
MUST_CHECK Fault photo_desk_scale(SoffitPhotoDesk *desk, double distance, double error);
MUST_CHECK Fault photo_desk_straighten_off(SoffitPhotoDesk *desk);
MUST_CHECK Fault photo_desk_scale_off(SoffitPhotoDesk *desk);

/* ---- placement ---- */
void photo_desk_shift(SoffitPhotoDesk *desk, double dx, double dy); /* mm */
void photo_desk_turn(SoffitPhotoDesk *desk, double by_deg);         /* about the neck */
void photo_desk_zoom(SoffitPhotoDesk *desk, double factor);         /* while there is no scale */
void photo_desk_set_opacity(SoffitPhotoDesk *desk, double opacity);
void photo_desk_set_locked(SoffitPhotoDesk *desk, bool locked);
/* Its file is kept inside of the case, or beside it again; "trouble" when it cannot. */
void photo_desk_set_inside(SoffitPhotoDesk *desk, bool inside);
void photo_desk_set_traced(SoffitPhotoDesk *desk, bool traced);
void photo_desk_reset(
    SoffitPhotoDesk *desk); /* as it was opened: no marks, middle of the drawing */
void photo_desk_remove(SoffitPhotoDesk *desk); /* what was traced on it keeps its scale */

/* ---- tracing ---- */
/* A stroke begins in an open edit of `c`: where the photo is seen it is traced on it. */
void photo_desk_trace(SoffitPhotoDesk *desk, Case *c);
void photo_desk_set_cling(SoffitPhotoDesk *desk, bool cling, double reach_mm);
bool photo_desk_cling(SoffitPhotoDesk *desk);
double photo_desk_reach(SoffitPhotoDesk *desk); /* mm */
/* The stroke as it clings; false where it does not: switched off, or no photo is seen. */
bool photo_desk_clung(SoffitPhotoDesk *desk, const Point mm[], size_t n, Point clung[]);
