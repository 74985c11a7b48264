/* main.c - the window program: language, then the application.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/application.h"
#include "mechanics/blas.h"
#include "ui/review/lab_round.h"
#include "ui/words.h"
#include <signal.h>
#include <unistd.h>

#define END_PATIENCE_MS 5000

int main(int argc, char *argv[])
{
  blas_start();
  signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is told as a full disk is */
  /* The pictures come from cairo as finished textures: GL would only copy them, at the price of 80
   * MB and half a second at the start (measured with software GL).  A renderer that the person
   * chose stays. */
  g_setenv("GSK_RENDERER", "cairo", FALSE);
  words_start();
  SoffitApplication *application = application_new();
  int status = g_application_run(G_APPLICATION(application), argc, argv);
  g_object_unref(application); /* its windows go, and what they had in hand */
  if (!lab_rounds_over(END_PATIENCE_MS))
    _exit(status); /* a share hangs; everything of this program is on disk */
  return status;
}
