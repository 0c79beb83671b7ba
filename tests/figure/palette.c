/* palette.c - recomputes what palette.h promises: trace inks that everybody can tell apart, and that stand off the sheet */
#include "ui/figure/pen/palette.h"
#include "tests/suite.h"

#define SRGB "IEC 61966-2-1 (sRGB), from memory"

typedef struct {
  double v[3];
} Triple;

static double
linear (double encoded)
{
  return encoded <= 0.04045 ? encoded / 12.92 : pow ((encoded + 0.055) / 1.055, 2.4);
}

static Triple
linear_rgb (const SpColour *colour)
{
  return (Triple){ { linear (colour->red), linear (colour->green), linear (colour->blue) } };
}

static Triple
times (const double m[3][3], Triple a)
{
  Triple out;
  for (guint i = 0; i < 3; i++)
    out.v[i] = CLAMP (m[i][0] * a.v[0] + m[i][1] * a.v[1] + m[i][2] * a.v[2], 0, 1);
  return out;
}

/* Machado, Oliveira, Fernandes 2009, table of severity 1.0; they act on linear RGB. From memory. */
static const double eyes[4][3][3] = {
  { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
  { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
  { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
  { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
};
static const char *const eye_names[] = { "normal", "protan", "deutan", "tritan" };

static double
lab_f (double t)
{
  return t > 216.0 / 24389 ? cbrt (t) : (24389.0 / 27 * t + 16) / 116;
}

/* CIE 1976 L*a*b*, D65. */
static Triple
lab (Triple rgb)
{
  double x = (0.4124564 * rgb.v[0] + 0.3575761 * rgb.v[1] + 0.1804375 * rgb.v[2]) / 0.95047;
  double y = 0.2126729 * rgb.v[0] + 0.7151522 * rgb.v[1] + 0.0721750 * rgb.v[2];
  double z = (0.0193339 * rgb.v[0] + 0.1191920 * rgb.v[1] + 0.9503041 * rgb.v[2]) / 1.08883;
  return (Triple){ { 116 * lab_f (y) - 16, 500 * (lab_f (x) - lab_f (y)), 200 * (lab_f (y) - lab_f (z)) } };
}

static double
distance (const SpColour *a, const SpColour *b, guint eye)
{
  Triple p = lab (times (eyes[eye], linear_rgb (a))), q = lab (times (eyes[eye], linear_rgb (b)));
  return hypot (hypot (p.v[0] - q.v[0], p.v[1] - q.v[1]), p.v[2] - q.v[2]);
}

static double
luminance (const SpColour *colour)
{
  Triple rgb = linear_rgb (colour);
  return 0.2126 * rgb.v[0] + 0.7152 * rgb.v[1] + 0.0722 * rgb.v[2];
}

static double
contrast (const SpColour *a, const SpColour *b)
{
  double p = luminance (a), q = luminance (b);
  return (MAX (p, q) + 0.05) / (MIN (p, q) + 0.05);
}

START_TEST (the_measures_are_right)
{
  const SpColour white = { 1, 1, 1 }, black = { 0, 0, 0 }, red = { 1, 0, 0 }, blue = { 0, 0, 1 },
                 grey = { 0x77 / 255.0, 0x77 / 255.0, 0x77 / 255.0 };
  sp_outside ("contrast of black on white", "WCAG 2.1, definition of contrast ratio", contrast (&white, &black), 21, 1e-9);
  sp_outside ("contrast of #777777 on white", "widely published example for WCAG AA, from memory", contrast (&grey, &white), 4.48, 0.005);
  Triple r = lab (linear_rgb (&red)), b = lab (linear_rgb (&blue)), w = lab (linear_rgb (&white));
  sp_outside ("L* of sRGB red", SRGB ", CIE 15", r.v[0], 53.24, 0.01);
  sp_outside ("a* of sRGB red", SRGB ", CIE 15", r.v[1], 80.09, 0.01);
  sp_outside ("b* of sRGB red", SRGB ", CIE 15", r.v[2], 67.20, 0.01);
  sp_outside ("L* of sRGB blue", SRGB ", CIE 15", b.v[0], 32.30, 0.01);
  sp_outside ("b* of sRGB blue", SRGB ", CIE 15", b.v[2], -107.86, 0.02);
  sp_outside ("L* of white", "CIE 15", w.v[0], 100, 0.001);
  /* a colour without hue looks the same to everybody: the rows of each matrix add up to one */
  for (guint eye = 0; eye < 4; eye++)
    for (guint row = 0; row < 3; row++)
      sp_outside ("row sum of a eye's matrix", "calculated: grey stays grey", eyes[eye][row][0] + eyes[eye][row][1] + eyes[eye][row][2], 1,
                  2e-6);
}
END_TEST

START_TEST (inks_can_be_told_apart)
{
  for (guint dark = 0; dark < 2; dark++) {
    const SpPalette *palette = sp_palette (dark);
    for (guint eye = 0; eye < 4; eye++)
      for (guint i = 0; i < SP_TRACE_INKS; i++)
        for (guint k = 0; k < i; k++) {
          double apart = distance (&palette->trace[i], &palette->trace[k], eye);
          ck_assert_msg (apart >= 25, "%s, inks %u and %u, %s eye: %.1f apart", dark ? "dark" : "light", k, i, eye_names[eye], apart);
        }
  }
}
END_TEST

/* No neon on dark paper; where yellow and cyan lie, nothing but greys. */
START_TEST (dark_inks_are_calm)
{
  for (guint i = 0; i < SP_TRACE_INKS; i++) {
    Triple a = lab (linear_rgb (&sp_palette (TRUE)->trace[i]));
    double chroma = hypot (a.v[1], a.v[2]), hue = fmod (atan2 (a.v[2], a.v[1]) * 180 / G_PI + 360, 360);
    ck_assert_msg (a.v[0] < 83 && chroma < 46, "ink %u: L* %.1f, chroma %.1f", i, a.v[0], chroma);
    gboolean yellow = hue >= 78 && hue <= 118, cyan = hue >= 185 && hue <= 235;
    ck_assert_msg (chroma <= 28 || (!yellow && !cyan), "ink %u: hue %.0f, chroma %.1f", i, hue, chroma);
  }
}
END_TEST

START_TEST (everything_stands_off_the_sheet)
{
  for (guint dark = 0; dark < 2; dark++) {
    const SpPalette *p = sp_palette (dark);
    for (guint i = 0; i < SP_TRACE_INKS; i++)
      ck_assert_msg (contrast (&p->trace[i], &p->sheet) >= 4.5, "ink %u: %.2f", i, contrast (&p->trace[i], &p->sheet));
    ck_assert_double_ge (contrast (&p->ink, &p->sheet), 7);
    ck_assert_double_ge (contrast (&p->soft, &p->sheet), 4.5);
    ck_assert_double_ge (contrast (&p->limit, &p->sheet), 4.5);
    ck_assert_double_ge (contrast (&p->fog_ink, &p->fog), 4.5);
    for (guint v = 0; v < 5; v++) /* a glyph is a picture: 3:1 (WCAG 2.1, 1.4.11), its word stands beside it in ink */
      ck_assert_msg (contrast (&p->verdict[v], &p->sheet) >= 3, "verdict %u: %.2f", v, contrast (&p->verdict[v], &p->sheet));
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/palette");
  TCase *t = tcase_create ("palette");
  tcase_add_test (t, the_measures_are_right);
  tcase_add_test (t, inks_can_be_told_apart);
  tcase_add_test (t, dark_inks_are_calm);
  tcase_add_test (t, everything_stands_off_the_sheet);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
