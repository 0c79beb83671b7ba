/* palette.c - the colours of light and of dark paper */
#include "ui/figure/pen/palette.h"

/* by hand: one ink a row */
/* clang-format off */
#define RGB(hex) { ((hex) >> 16 & 255) / 255.0, ((hex) >> 8 & 255) / 255.0, ((hex) & 255) / 255.0 }

static const SpPalette palettes[2] = {
  {
    .sheet = RGB (0xF7F4EC), .ink = RGB (0x1C2733), .soft = RGB (0x5A636B), .limit = RGB (0xB3321B), .floor_edge = RGB (0x7B7361), .floor_ink = RGB (0x7B7361),
    .fog = RGB (0xD5D3D6), .fog_ink = RGB (0x3B3F58),
    .verdict = { [SP_VERDICT_NO_LIMIT] = RGB (0x5A636B), [SP_VERDICT_COMPLIES] = RGB (0x117A65), [SP_VERDICT_NOT_PROVEN] = RGB (0x2B2F52),
                 [SP_VERDICT_INCONCLUSIVE] = RGB (0xB57B00), [SP_VERDICT_EXCEEDS] = RGB (0x8E1B10) },
    /* dark enough for 4.5:1 with this sheet */
    .trace = { RGB (0x143E98), RGB (0xB7438E), RGB (0x12804C), RGB (0x846E00), RGB (0x633205), RGB (0x463F42) },
    .dash_each = SP_TRACE_INKS,
  },
  {
    .sheet = RGB (0x1B2126), .ink = RGB (0xECE7DC), .soft = RGB (0xA3ABB0), .limit = RGB (0xFF8A70), .floor_edge = RGB (0x9A937F), .floor_ink = RGB (0x9A937F),
    .fog = RGB (0x3A4048), .fog_ink = RGB (0xC9C6E6),
    .verdict = { [SP_VERDICT_NO_LIMIT] = RGB (0xA3ABB0), [SP_VERDICT_COMPLIES] = RGB (0x2FA98C), [SP_VERDICT_NOT_PROVEN] = RGB (0xA6A0E0),
                 [SP_VERDICT_INCONCLUSIVE] = RGB (0xFBE7AE), [SP_VERDICT_EXCEEDS] = RGB (0xF2684A) },
    .trace = { RGB (0x97D9C3), RGB (0xF2C083), RGB (0x8580CF), RGB (0x97865B), RGB (0xCEC0F5), RGB (0x3C9498) },
    .dash_each = SP_TRACE_INKS,
  },
};
/* clang-format on */

const SpPalette *
sp_palette (gboolean dark)
{
  return &palettes[dark ? 1 : 0];
}

const SpPalette *
sp_palette_strong (gboolean dark)
{
  static SpPalette strong[2];
  static gsize made;
  if (g_once_init_enter (&made)) {
    for (guint i = 0; i < G_N_ELEMENTS (strong); i++) {
      strong[i] = palettes[i];
      strong[i].soft = strong[i].floor_edge = strong[i].floor_ink = strong[i].fog_ink = strong[i].verdict[SP_VERDICT_NO_LIMIT]
          = strong[i].ink;
    }
    g_once_init_leave (&made, 1);
  }
  return &strong[dark ? 1 : 0];
}

const SpPalette *
sp_palette_paper (gboolean alone)
{
  static SpPalette paper[2];
  static gsize made;
  if (g_once_init_enter (&made)) {
    const SpColour white = { 1, 1, 1 }, black = { 0, 0, 0 }, grey = { 0.45, 0.45, 0.45 };
    for (guint i = 0; i < G_N_ELEMENTS (paper); i++) {
      paper[i] = palettes[0];
      paper[i].sheet = white;
      paper[i].ink = paper[i].soft = paper[i].floor_ink = paper[i].fog_ink = black;
      paper[i].floor_edge = grey;
      for (guint k = 0; k < G_N_ELEMENTS (paper[i].verdict); k++)
        paper[i].verdict[k] = black;
      for (guint k = 0; i == 1 && k < SP_TRACE_INKS; k++)
        paper[i].trace[k] = black;
      paper[i].dash_each = i == 1 ? G_MAXUINT : 1; /* alone it is drawn through */
    }
    g_once_init_leave (&made, 1);
  }
  return &paper[alone ? 1 : 0];
}

const SpPalette *
sp_palette_grey (gboolean alone)
{
  static SpPalette grey[2];
  static gsize made;
  if (g_once_init_enter (&made)) {
    for (int i = 0; i < 2; i++) {
      grey[i] = *sp_palette_paper (i == 1);
      grey[i].limit = grey[i].ink;
      grey[i].fog = (SpColour){ 0.84, 0.84, 0.84 };
      for (guint k = 0; k < SP_TRACE_INKS; k++) /* their dashes tell them apart */
        grey[i].trace[k] = grey[i].ink;
    }
    g_once_init_leave (&made, 1);
  }
  return &grey[alone ? 1 : 0];
}

const SpDash sp_trace_dashes[SP_TRACE_DASHES] = { { 0 }, { 2, { 7, 3 } }, { 2, { 2, 3 } }, { 4, { 7, 3, 2, 3 } } };
