/* fault.h - the one list of what can go wrong, and its plain words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every function that can fail returns a Fault; ignoring it does not compile.  Outputs are
 * untouched unless the function says otherwise.  Texts are English msgids: the caller translates.
 */
#pragma once

#if defined(__GNUC__)
#define MUST_CHECK __attribute__((warn_unused_result))
#else
#define MUST_CHECK
#endif

typedef enum {
  FAULT_NONE = 0,
  FAULT_MEMORY,         /* no memory left                                              */
  FAULT_RANGE,          /* an argument is outside its stated range                     */
  FAULT_NOT_FINITE,     /* NaN or infinity where a number is needed                    */
  FAULT_DEGENERATE,     /* repeated points, zero length, too few points                */
  FAULT_ROOM,           /* the caller's array is too small                             */
  FAULT_CROSSING,       /* an outline crosses itself or its partner                    */
  FAULT_NO_NECK,        /* the outlines leave no material at the neck                  */
  FAULT_FOLD,           /* the ribs of the loft fold over each other                   */
  FAULT_MESH,           /* no valid mesh could be made                                 */
  FAULT_SINGULAR,       /* the equations have no unique answer (loose or empty body)   */
  FAULT_NO_CONVERGENCE, /* an iteration did not settle                                 */
  FAULT_CANCELLED,      /* the caller asked to stop                                    */
  FAULT_SUPPORT,        /* the bridge has no abutment, or too few                      */
  FAULT_SECTION,        /* a drawn section that no rib can follow                     */
  FAULT_UNSCALED,       /* traced on a photo without scale: sizes are not known          */
  FAULT_READING,        /* somebody else has the case: it can only be read              */
  FAULT_N
} Fault;

/* The plain English sentence of a fault: what is wrong and what to do.  Never NULL. */
const char *fault_text(Fault fault);

/* The short stable name of a fault ("no-neck"), for files, JSON and logs.  Never NULL. */
const char *fault_name(Fault fault);
