/* mark_words.h - every mark that the drawing shows now, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/mark_list.h"

/* Owned; empty without a case. */
GArray *mark_words(SoffitCanvas *canvas);
