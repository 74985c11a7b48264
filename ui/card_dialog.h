/* card_dialog.h - the material cards of the lab: shipped ones to read, own ones to edit.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

void card_dialog_new(GtkWindow *parent);
/* The folder of the lab's cards: as chosen, else "cards" in the user's data folder; to be freed. */
char *card_folder(void);
