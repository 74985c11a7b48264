/* test_palette.c - every colour of the drawing against what it is drawn on, in both themes and with
 * high contrast; the stress scale in grey and without red or green.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Contrast: WCAG 2.2, success criteria 1.4.3 (text 4.5) and 1.4.11 (marks 3), "relative luminance"
 * and "contrast ratio" (W3C Recommendation 2023; formulas from memory, held to the published 21 : 1
 * and to 4.54 : 1 of #767676 on white).  Lightness: CIE 1976 L* (CIE 15; from memory).  Dichromats:
 * Vienot, Brettel and Mollon 1999 (from memory): the single matrices for protanopes and
 * deuteranopes in linear sRGB, held to white staying white. */
#include "../core/proof.h"
#include "colour.h"
#include "ui/drawing/connector_layers.h"

static double gamma_of(double c)
{
  c = fmin(fmax(c, 0), 1);
  return c <= 0.0031308 ? 12.92 * c : 1.055 * pow(c, 1 / 2.4) - 0.055;
}

/* `over` laid on `ground`. */
static Rgba laid(Rgba over, Rgba ground)
{
  Rgba c = palette_mix(ground, (Rgba){over.r, over.g, over.b, 1}, over.a);
  c.a = 1;
  return c;
}

static Rgba grey(int level)
{
  return (Rgba){level / 255.0, level / 255.0, level / 255.0, 1};
}

static void test_formulas(void)
{
  const Source wcag = {"WCAG 2.2, contrast ratio", FROM_MEMORY}, cie = {"CIE 1976 L*", FROM_MEMORY};
  proof_row("contrast of black on white", wcag, 21, contrast(grey(0), grey(255)), 1e-6);
  proof_row("contrast of #767676 on white", wcag, 4.54, contrast(grey(0x76), grey(255)), 0.1);
  proof_row("L* of white", cie, 100, lightness(grey(255)), 1e-6);
  proof_row("L* of the sRGB grey 119", cie, 50, lightness(grey(119)), 0.1);
}

/* ---- every token ---- */

enum { TEXT = 9, MARK = 6 }; /* halves: 4.5 and 3 */

typedef struct {
  Colour ink;
  int half;         /* least ratio, doubled                              */
  Colour ground[6]; /* COLOUR_N ends                                     */
  const char *what;
} Use;

#define ON(...)                                                                                    \
  {                                                                                                \
    __VA_ARGS__, COLOUR_N                                                                          \
  }
/* Marks that lie on shade or photo have a halo of paper (ink_stroke_haloed) or a plate: paper and
 * card are what they are seen against. */
static const Use use[] = {
    {COLOUR_TEXT, TEXT, ON(COLOUR_WINDOW, COLOUR_BAR, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER),
     "words"},
    {COLOUR_TEXT, TEXT, ON(COLOUR_GUM_FILL, COLOUR_SEL), "words on gum and chosen rows"},
    {COLOUR_DIM, TEXT, ON(COLOUR_WINDOW, COLOUR_BAR, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER),
     "notes"},
    {COLOUR_DIM, TEXT, ON(COLOUR_GUM_FILL, COLOUR_SEL), "notes on gum and chosen rows"},
    {COLOUR_DIM, MARK, ON(COLOUR_PAPER, COLOUR_CARD), "room, envelope, dimensions"},
    {COLOUR_INK, MARK, ON(COLOUR_PAPER, COLOUR_CARD, COLOUR_GUM_FILL),
     "outlines, hot spot, cutter, brush"},
    {COLOUR_ACCENT, TEXT, ON(COLOUR_PAPER, COLOUR_CARD, COLOUR_SEL), "figures of sizes and ghost"},
    {COLOUR_ACCENT, MARK, ON(COLOUR_PAPER, COLOUR_CARD, COLOUR_WINDOW, COLOUR_GUM_FILL),
     "ghost, knots, tangents, walk, snap, measure, photo marks, load"},
    {COLOUR_ON_ACCENT, TEXT, ON(COLOUR_ACCENT), "words on the chosen button"},
    {COLOUR_RULE, MARK, ON(COLOUR_WINDOW, COLOUR_BAR, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER),
     "edges of controls"},
    {COLOUR_HOLDS, TEXT, ON(COLOUR_WINDOW, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER, COLOUR_SEL),
     "holds"},
    {COLOUR_CLOSE, TEXT, ON(COLOUR_WINDOW, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER, COLOUR_SEL),
     "close"},
    {COLOUR_REWORK, TEXT, ON(COLOUR_WINDOW, COLOUR_SIDE, COLOUR_CARD, COLOUR_PAPER, COLOUR_SEL),
     "rework"},
    {COLOUR_GUM, MARK, ON(COLOUR_PAPER, COLOUR_GUM_FILL), "gum line"},
};
/* Neither read nor needed to understand: paper's own grid and partings, troughs beside a figure.
 * WCAG 1.4.11 asks nothing of them; hatch is checked over the shade it marks. */
static const Colour quiet[] = {COLOUR_GRID, COLOUR_GRID5, COLOUR_LINE, COLOUR_TROUGH, COLOUR_HATCH};

static void test_tokens(void)
{
  bool seen[COLOUR_N] = {false};
  for (size_t i = 0; i < G_N_ELEMENTS(quiet); i++)
    seen[quiet[i]] = true;
  for (size_t i = 0; i < G_N_ELEMENTS(use); i++)
    for (int k = 0; use[i].ground[k] != COLOUR_N; k++)
      for (Palette p = 0; p < PALETTE_N; p++) {
        seen[use[i].ink] = seen[use[i].ground[k]] = true;
        double ratio = contrast(palette_colour(p, use[i].ink), palette_colour(p, use[i].ground[k]));
        if (ratio < use[i].half / 2.0)
          g_test_fail_printf("%s on ground %d, palette %d: %.2f, wanted %.1f", use[i].what,
                             (int)use[i].ground[k], (int)p, ratio, use[i].half / 2.0);
      }
  for (Colour c = 0; c < COLOUR_N; c++)
    if (!seen[c])
      g_test_fail_printf("colour %d is not checked", (int)c);
}

/* ---- on the shade ---- */

static void test_on_shade(void)
{
  for (Palette p = 0; p < PALETTE_N; p++) {
    bool high = p == PALETTE_LIGHT_CONTRAST || p == PALETTE_DARK_CONTRAST;
    Rgba paper = palette_colour(p, COLOUR_PAPER), ink = palette_colour(p, COLOUR_INK);
    for (int step = 6; step < PALETTE_STRETCHED; step++) /* over the limit */
      g_assert_cmpfloat(contrast(palette_colour(p, COLOUR_HATCH), palette_stretched_step(p, step)),
                        >=, 4.5);
    for (int step = 0; step < PALETTE_STRETCHED; step++) {
      Rgba shade = palette_stretched_step(p, step);
      /* a mark with its halo: ink or halo stands out of any shade; the accent of its halo */
      g_assert_cmpfloat(fmax(contrast(paper, shade), contrast(ink, shade)), >=, 3);
      if (step < 5) /* neck and zero line: bare ink, below the limit */
        g_assert_cmpfloat(contrast(ink, shade), >=, 3);
      if (high && step < 5) /* flow of the pull */
        g_assert_cmpfloat(contrast(laid(palette_soft(p, COLOUR_INK, 0.52), shade), shade), >=, 3);
    }
    for (int step = 0; step < PALETTE_SQUEEZED; step++) {
      Rgba shade = palette_squeezed_step(p, step);
      g_assert_cmpfloat(contrast(ink, shade), >=, 4.5);
      g_assert_cmpfloat(contrast(palette_colour(p, COLOUR_ACCENT), shade), >=, 3);
    }
    Rgba comb = laid(palette_soft(p, COLOUR_ACCENT, COMB_ALPHA), paper);
    g_assert_cmpfloat(contrast(comb, paper), >=, 3);
  }
}

/* ---- the scale ---- */

/* What a dichromat sees, in sRGB. */
static Rgba dichromat(Rgba c, bool protan)
{
  static const double m[2][3][3] = {
      {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
      {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}}};
  double in[3] = {linear(c.r), linear(c.g), linear(c.b)}, out[3];
  for (int i = 0; i < 3; i++)
    out[i] = m[protan][i][0] * in[0] + m[protan][i][1] * in[1] + m[protan][i][2] * in[2];
  return (Rgba){gamma_of(out[0]), gamma_of(out[1]), gamma_of(out[2]), 1};
}

static void test_scale(void)
{
  for (Palette p = 0; p < PALETTE_N; p++) {
    double away = palette_dark(p) ? 1 : -1; /* of the paper */
    for (int eye = 0; eye < 3; eye++) {     /* grey, deuteranope, protanope */
      for (int side = 0; side < 2; side++) {
        double before = NAN, first = NAN;
        for (int i = 0; i <= 1000; i++) {
          Rgba c = palette_stress(p, (side ? PALETTE_SQUEEZED_END : PALETTE_END) * i / 1000);
          double now = lightness(eye ? dichromat(c, eye == 2) : c);
          if (i == 0)
            first = now;
          else
            g_assert_cmpfloat(away * (now - before), >, 0); /* strictly monotone */
          before = now;
        }
        g_assert_cmpfloat(away * (before - first), >, side ? 8 : 55);
      }
      double limit = lightness(palette_stress(p, 1)), zero = lightness(palette_stress(p, 0));
      g_assert_cmpfloat(fabs(limit - zero), >, 40);
    }
  }
  for (int eye = 0; eye < 2; eye++)
    g_assert_cmpfloat(fabs(lightness(dichromat(grey(255), eye)) - 100), <, 1e-6);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/palette/formulas", test_formulas);
  g_test_add_func("/palette/tokens", test_tokens);
  g_test_add_func("/palette/on-shade", test_on_shade);
  g_test_add_func("/palette/scale", test_scale);
  return g_test_run();
}
