/* fault.c - the plain words of each fault.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fault.h"
#include "base/phrase.h"

static const struct {
  const char *name, *text;
} fault_table[FAULT_N] = {
    [FAULT_NONE] = {"none", N_("No fault.")},
    [FAULT_MEMORY] = {"memory",
                      N_("There is not enough memory. Close other programs and try again.")},
    [FAULT_RANGE] = {"range", N_("A value is outside its range. Check the sizes entered.")},
    [FAULT_NOT_FINITE] = {"not-finite", N_("A value is not a number. Check the sizes entered.")},
    [FAULT_DEGENERATE] = {"degenerate",
                          N_("The outline is too short or repeats a point. Draw it again.")},
    [FAULT_ROOM] = {"room", N_("The outline has too many points. Draw it with fewer.")},
    [FAULT_CROSSING] = {"crossing", N_("The line crosses itself here. Draw this stretch again.")},
    [FAULT_NO_NECK] =
        {"no-neck", N_("The outlines leave no neck. Lower the roof or raise the biting groove.")},
    [FAULT_FOLD] = {"fold",
                    N_("The drawn sides do not fit one body here. Widen the plan outline.")},
    [FAULT_MESH] = {"mesh",
                    N_("This outline cannot be divided for the calculation. Smooth it a little.")},
    [FAULT_SINGULAR] = {"singular",
                        N_("The body is loose or has no section. Check supports and outlines.")},
    [FAULT_NO_CONVERGENCE] = {"no-convergence",
                              N_("The calculation did not settle. Change the outline a little.")},
    [FAULT_CANCELLED] = {"cancelled", N_("Stopped.")},
    [FAULT_SUPPORT] =
        {"support",
         N_("The bridge has no abutment to stand on. Make at least one unit an abutment.")},
    [FAULT_SECTION] = {"section", N_("The drawn section of this neck is no plain loop around its "
                                     "middle. Draw it again, or go back to roundness.")},
    [FAULT_UNSCALED] = {"unscaled",
                        N_("Scale the photo first: this line was traced on a photo without scale, "
                           "so its sizes are not known.")},
    [FAULT_READING] = {"reading", N_("You only read this case. Take it over first, or save it "
                                     "under another name.")},
};

const char *fault_text(Fault fault)
{
  return (unsigned)fault < FAULT_N ? fault_table[fault].text : N_("Unknown fault.");
}

const char *fault_name(Fault fault)
{
  return (unsigned)fault < FAULT_N ? fault_table[fault].name : "unknown";
}
