/* main.c - the window program: language, then the application.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/application.h"
#include "mechanics/solid.h"
#include "ui/words.h"

int main(int argc, char *argv[])
{
  solid_start();
  /* The pictures come from cairo as finished textures: GL would only copy them, at the price of 80
   * MB and half a second at the start (measured with software GL).  A renderer that the person
   * chose stays. */
  g_setenv("GSK_RENDERER", "cairo", FALSE);
  words_start();
  g_autoptr(SoffitApplication) application = application_new();
  return g_application_run(G_APPLICATION(application), argc, argv);
}
