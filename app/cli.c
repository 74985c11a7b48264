/* cli.c - soffit-cli: the same answers without a window.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli.h"
#include "mechanics/blas.h"
#include "ui/words.h"
#include <locale.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const struct {
  const char *name, *does;
  int (*run)(int argc, char **argv);
} command[] = {
    {"assess",
     N_("assess CASE.xml... [--fine] [--live] [--bridge] [--waterfall] [--each] [--json|--csv]: "
        "every "
        "connector of each case"),
     cli_assess},
    {"outline",
     N_("outline FILE.svg --bend N_MM [--shear N] [--thickness MM] [--json]: a bare silhouette"),
     cli_outline},
    {"connector",
     N_("connector FILE.svg --bend N_MM [--shear N] [--roundness NECK,BODY] [--plane] [--fine] "
        "[--json]: four outlines"),
     cli_connector},
    {"trace",
     N_("trace FILE.stl [--neck N] [--at MM] [--svg FILE] [--json]: necks of a scanned bridge"),
     cli_trace},
    {"drawing",
     N_("drawing CASE.xml 34-35 [--svg FILE]: the outlines of a connector, true to size"),
     cli_drawing},
    {"best",
     N_("best CASE.xml CONNECTOR [--take-height] [--json]: the best outline in the room of a "
        "connector"),
     cli_best},
    {"bars",
     N_("bars FILE.csv [FILE2.csv] --test TEST --span MM [--inner MM] [--json]: strength tests"),
     cli_bars},
    {"report",
     N_("report CASE.xml -o FILE.pdf [--bench] [--paper a4|letter] | --day DATE FOLDER -o "
        "FILE.pdf|--json|--csv | CASE.xml --json|--csv: "
        "a case, its finishing list, the decisions of a day on paper or for other programs"),
     cli_report},
    {"records",
     N_("records CASE.xml|FOLDER... [--json]: where bridges broke, and where that was expected"),
     cli_records},
    {"practice",
     N_("practice [--list] | EXERCISE [--outline FILE.svg|CASE.xml] [--answer QUESTION=ANSWER] "
        "[--json]: the school bench"),
     cli_practice},
    {"lab", N_("lab FOLDER [--json] [--csv] [--fresh]: the cases of a folder, worst first"),
     cli_lab},
    {"record",
     N_("record CASE.xml [--keys FOLDER] [--bytes N] [--json|--csv] | CASE.xml... --content: the "
        "history, whether it is whole, "
        "what "
        "stands"),
     cli_record},
    {"figures", N_("figures FOLDER [--json] [--csv]: what the cases of a lab show together"),
     cli_figures},
    {"proof", N_("proof [FOLDER] [--json]: the checks that the tests wrote"), cli_proof},
};

int cli_bad(const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *text = g_strdup_vprintf(format, args);
  va_end(args);
  fprintf(stderr, "soffit-cli: %s\n", text);
  return EXIT_BAD;
}

gboolean cli_options(const char *usage, const char *summary, const GOptionEntry *entry, int *argc,
                     char ***argv)
{
  g_autoptr(GOptionContext) context = g_option_context_new(usage);
  g_autoptr(GError) error = NULL;
  g_option_context_set_summary(context, summary);
  g_option_context_add_main_entries(context, entry, SOFFIT_DOMAIN);
  if (!g_option_context_parse(context, argc, argv, &error)) {
    cli_bad(_("%s. Try --help."), error->message);
    return FALSE;
  }
  return TRUE;
}

static void usage(FILE *to)
{
  fputs(_("soffit-cli: stress and strength of the connectors of a zirconia bridge.\n\n"), to);
  for (size_t i = 0; i < G_N_ELEMENTS(command); i++)
    fprintf(to, "  soffit-cli %s\n", _(command[i].does));
  fputs(_("\nSizes in mm after firing, forces in N, stress in MPa. Exit status: 0 all hold, 1 some "
          "do not, 2 bad input.\n"
          "Soffit helps, it does not decide, and is no medical device: the maker's instructions, "
          "local rules and the licensed "
          "dentist come first.\n"),
        to);
}

int main(int argc, char **argv)
{
  blas_start();
  signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is told as a full disk is */
  words_start();
  setlocale(LC_NUMERIC, "C"); /* numbers of the command line are the same everywhere */
  if (argc >= 2 && (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)) {
    usage(stdout);
    return 0;
  }
  if (argc >= 2 && strcmp(argv[1], "--version") == 0) {
    puts("soffit-cli " SOFFIT_VERSION);
    return 0;
  }
  for (size_t i = 0; argc >= 2 && i < G_N_ELEMENTS(command); i++)
    if (strcmp(argv[1], command[i].name) == 0) {
      g_set_prgname("soffit-cli");
      int status = command[i].run(argc - 1, argv + 1);
      if (fflush(stdout) != 0 || ferror(stdout))
        return cli_bad(
            "%s", _("the output could not be written. Free some space or choose another place."));
      return status;
    }
  usage(stderr);
  if (argc < 2)
    return EXIT_BAD;
  return cli_bad(_("no command \"%s\". Use one of those above."), argv[1]);
}
