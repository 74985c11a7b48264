/* stl.c - which form of STL it is, the binary form, the unit, and what to say about it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file whose length fits the count in its head is binary, whatever its first word is: many
 * programs begin binary files with "solid". */
#include "mesh/stl_parts.h"
#include "base/tolerance.h"
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define HEAD 84u
#define RECORD 50u
#define ASK_EVERY 65536u
#define LARGEST_NUMBER 1e6f /* in any unit                                            */
#define SPOILED_LEAST 10u   /* more, and more than ...                                */
#define SPOILED_SHARE 100u  /* ... one in so many: refused                            */
#define TEXT_LOOK 2048u     /* bytes looked at to tell text                           */
#define MM_PER_INCH 25.4
/* Largest side of a bridge or of a piece of one, mm; own rule. */
#define SMALLEST_PIECE_MM 5.0

Fault stl_fail(StlReport *report, Fault fault, const char *text, double value0, double value1)
{
  report->wrong = (Phrase){.text = text, .value = {value0, value1}};
  return fault;
}

Fault soup_room(Soup *soup, size_t n)
{
  if (n <= soup->room)
    return FAULT_NONE;
  float(*corner)[3] = realloc(soup->corner, 3 * n * sizeof *corner);
  if (corner)
    soup->corner = corner;
  uint32_t *number = realloc(soup->number, n * sizeof *number);
  if (number)
    soup->number = number;
  if (!corner || !number)
    return FAULT_MEMORY;
  soup->room = n;
  return FAULT_NONE;
}

Fault soup_add(Soup *soup, float corner[3][3], StlReport *report)
{
  size_t name = soup->n + report->spoiled + 1;
  bool good = true;
  for (int i = 0; i < 9; i++)
    good = good && fabsf(corner[i / 3][i % 3]) <= LARGEST_NUMBER; /* false for NaN */
  if (!good) {
    if (report->spoiled++ == 0)
      report->first_spoiled = name;
    if (report->spoiled > SPOILED_LEAST && report->spoiled > soup->n / SPOILED_SHARE)
      return stl_fail(
          report, FAULT_NOT_FINITE,
          N_("triangle {0} and {1} more have coordinates that are no numbers. This is no "
             "surface; export it again."),
          (double)report->first_spoiled, (double)(report->spoiled - 1));
    return FAULT_NONE;
  }
  if (soup->n == MESH_MOST_TRIANGLES)
    return stl_fail(
        report, FAULT_RANGE,
        N_("it has more than {0} triangles. Export it coarser, or cut the bridge out of "
           "the model."),
        MESH_MOST_TRIANGLES, 0);
  if (soup->n == soup->room) {
    Fault fault = soup_room(soup, soup->room ? 2 * soup->room : 4096);
    if (fault)
      return fault;
  }
  memcpy(soup->corner[3 * soup->n], corner, sizeof(float[3][3]));
  soup->number[soup->n++] = (uint32_t)name;
  return FAULT_NONE;
}

/* ---- binary ---- */

static uint32_t little32(const char *p)
{
  const unsigned char *b = (const unsigned char *)p;
  return b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 | (uint32_t)b[3] << 24;
}

static void note(StlReport *report, const char *text, double value0, double value1)
{
  if (report->n_note < STL_NOTES)
    report->note[report->n_note++] = (Phrase){.text = text, .value = {value0, value1}};
}

static Fault binary_read(const char *bytes, size_t n, const MeshWatch *watch, Soup *soup,
                         StlReport *report)
{
  size_t whole = (n - HEAD) / RECORD, take = report->claimed < whole ? report->claimed : whole;
  if (report->claimed == 0)
    take = whole;
  if (take < 4)
    return stl_fail(report, FAULT_RANGE,
                    N_("it holds {0} triangles. A surface has at least 4; export it again."),
                    (double)take, 0);
  Fault fault = soup_room(soup, take < MESH_MOST_TRIANGLES ? take : MESH_MOST_TRIANGLES);
  for (size_t i = 0; i < take && !fault; i++) {
    const char *p = bytes + HEAD + i * RECORD + 12; /* behind the normal */
    float corner[3][3];
    for (size_t k = 0; k < 9; k++) {
      uint32_t bits = little32(p + 4 * k);
      memcpy(&corner[k / 3][k % 3], &bits, sizeof bits);
    }
    fault = soup_add(soup, corner, report);
    if (i % ASK_EVERY == 0 && !mesh_go_on(watch, (double)i / (double)take))
      fault = FAULT_CANCELLED;
  }
  if (!fault && report->claimed > whole)
    note(report,
         N_("The file says {0} triangles but ends after {1}: the rest is missing. What is there is "
            "used; look for holes, or save it again."),
         (double)report->claimed, (double)whole);
  else if (!fault && (n - HEAD) != RECORD * report->claimed)
    note(report, N_("The file says {0} triangles but is long enough for {1}. {2} were read."),
         (double)report->claimed, (double)whole);
  if (!fault && report->n_note > 0)
    report->note[report->n_note - 1].value[2] = (double)soup->n;
  return fault;
}

/* ---- the whole ---- */

static bool looks_like_text(const char *bytes, size_t n)
{
  size_t look = n < TEXT_LOOK ? n : TEXT_LOOK, at = 0;
  if (memchr(bytes, '\0', look))
    return false;
  if (n >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0)
    at = 3;
  while (at < look && strchr(" \t\r\n", bytes[at]))
    at++;
  return look - at >= 5 && strncasecmp(bytes + at, "solid", 5) == 0;
}

const char *stl_unit_name(StlUnit unit)
{
  static const char *const name[STL_UNIT_N] = {"", "mm", "inch", "m"};
  return unit < STL_UNIT_N ? name[unit] : "";
}

static Fault unit_settle(Mesh *mesh, StlReport *report)
{
  static const double mm[STL_UNIT_N] = {1, 1, MM_PER_INCH, 1000};
  MeshState *s = &report->state;
  Vec3 size = vec3_sub(s->high, s->low);
  double largest = fmax(size.x, fmax(size.y, size.z));
  if (report->guessed) {
    report->unit = largest >= SMALLEST_PIECE_MM                 ? STL_UNIT_MM
                   : largest >= SMALLEST_PIECE_MM / MM_PER_INCH ? STL_UNIT_INCH
                                                                : STL_UNIT_METRE;
  }
  double k = mm[report->unit];
  if (!(k * largest >= SMALLEST_PIECE_MM && k * largest <= MAX_SIZE_MM))
    return stl_fail(
        report, FAULT_RANGE,
        N_("its largest side measures {0.3} of its own units, {1.1} mm. A bridge is 5 to "
           "200 mm long: set the unit when exporting, or cut the bridge out of the model."),
        largest, k * largest);
  mesh_scale(mesh, k);
  s->low = vec3_scale(s->low, k);
  s->high = vec3_scale(s->high, k);
  s->volume *= k * k * k;
  if (report->guessed && report->unit != STL_UNIT_MM)
    note(report,
         report->unit == STL_UNIT_INCH ? N_("The largest side is {0.3}: taken as inches, {1.1} mm. "
                                            "Check it against the piece.")
                                       : N_("The largest side is {0.3}: taken as metres, {1.1} mm. "
                                            "Check it against the piece."),
         largest, k * largest);
  return FAULT_NONE;
}

static void surface_notes(StlReport *report)
{
  const MeshState *s = &report->state;
  if (report->spoiled)
    note(report,
         N_("{0} triangles have coordinates that are no numbers, the first is number {1}: left "
            "out."),
         (double)report->spoiled, (double)report->first_spoiled);
  if (s->flat)
    note(report, N_("{0} triangles have no area, the first is number {1}: left out."),
         (double)s->flat, (double)s->first_flat);
  if (s->open)
    note(report,
         N_("The surface is open at {0} edges, first at triangle {1}. A section through a hole is "
            "refused; elsewhere it can be used."),
         (double)s->open, (double)s->first_open);
  if (s->crowded)
    note(report,
         N_("At {0} edges more than two triangles meet, first at triangle {1}. Parts touch or "
            "overlap there."),
         (double)s->crowded, (double)s->first_crowded);
  if (s->turned)
    note(
        report,
        N_("At {0} edges neighbours face opposite ways, first at triangle {1}. Areas cut there are "
           "wrong; export the surface again."),
        (double)s->turned, (double)s->first_turned);
  if (s->inside_out)
    note(report, N_("The surface was inside out and has been turned round."), 0, 0);
}

/* Reading is the first, joining the second, looking the last part of the work. */
typedef struct {
  const MeshWatch *outer;
  double from, share;
} Part;

static bool part_step(void *data, double done)
{
  const Part *part = data;
  return mesh_go_on(part->outer, part->from + part->share * done);
}

static Fault triangles_read(const char *bytes, size_t n, const MeshWatch *watch, Soup *soup,
                            StlReport *report)
{
  bool head = n >= HEAD;
  report->claimed = head ? little32(bytes + 80) : 0;
  bool fits = head && n - HEAD == (size_t)report->claimed * RECORD;
  report->text = !fits && looks_like_text(bytes, n);
  if (report->text)
    return stl_text_read(bytes, n, watch, soup, report);
  if (!head)
    return stl_fail(report, FAULT_RANGE,
                    N_("it has {0} bytes; the shortest STL has {1}. Export the surface again."),
                    (double)n, HEAD + 4 * RECORD);
  return binary_read(bytes, n, watch, soup, report);
}

Fault stl_read(const char *bytes, size_t n, StlUnit unit, const MeshWatch *watch, Mesh *mesh,
               StlReport *report)
{
  *report = (StlReport){.unit = unit, .guessed = unit == STL_UNIT_GUESS};
  if (unit >= STL_UNIT_N)
    return FAULT_RANGE;
  if (n == 0)
    return stl_fail(report, FAULT_RANGE, N_("the file is empty. Export the surface again."), 0, 0);
  if (n > STL_LARGEST_BYTES)
    return stl_fail(report, FAULT_RANGE,
                    N_("the file is larger than {0} MiB. Save it as binary STL, or coarser."),
                    (double)(STL_LARGEST_BYTES >> 20), 0);
  Soup soup = {0};
  Mesh made = {0};
  Part part[3] = {{watch, 0, 0.4}, {watch, 0.4, 0.3}, {watch, 0.7, 0.3}};
  MeshWatch inner[3];
  for (int i = 0; i < 3; i++)
    inner[i] = (MeshWatch){part_step, &part[i]};
  Fault fault = triangles_read(bytes, n, &inner[0], &soup, report);
  report->triangles = soup.n;
  if (!fault) {
    report->line = 0;
    fault = mesh_weld(soup.corner, soup.number, soup.n, &inner[1], &made, &report->state);
    if (fault == FAULT_DEGENERATE)
      stl_fail(report, fault,
               N_("of {0} triangles too few have an area. This is no surface; export it again."),
               (double)soup.n, 0);
  }
  free(soup.corner);
  free(soup.number);
  if (!fault)
    fault = mesh_look(&made, &inner[2], &report->state);
  if (!fault)
    fault = unit_settle(&made, report);
  if (fault) {
    mesh_clear(&made);
    return fault;
  }
  surface_notes(report);
  mesh_clear(mesh);
  *mesh = made;
  return FAULT_NONE;
}
