/* iso_class.h - the five strength classes of ISO 6872 and the span each is for.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, MPa sqrt(m).  From memory of the 2015 text; the 2024 edition was not seen
 * (core/SOURCES.md "ISO 6872 classes"): everything that shows a class says so. */
#pragma once

typedef struct {
  int number;          /* 1 .. 5                                     */
  double strength_mpa; /* least mean bending strength                */
  double toughness;    /* least K_Ic that the standard recommends    */
  const char *use;     /* English msgid: what it is for              */
} IsoClass;

#define ISO_CLASSES 5
const IsoClass *iso_class(int number);     /* NULL outside 1 .. 5 */
extern const char *const iso_class_source; /* English msgid */
/* The highest class whose strength is reached, and whose toughness too where that is known (NaN:
 * strength alone); 0 = none. */
int iso_class_reached(double strength_mpa, double toughness);
