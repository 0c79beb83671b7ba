/* folder.h - a folder of small files for a sheet's tests: chain, analyzer, mask and traces that read without a complaint */
#pragma once

#include <glib/gstdio.h>
#include <string.h>

#include "core/bench/bench.h"
#include "core/bench/sheet/sheet.h"
#include "tests/suite.h"

static char *folder; /* made once a process, emptied at the end */

static void
put (const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  GError *error = NULL;
  g_file_set_contents (path, text, -1, &error);
  sp_no_error (error);
}

/* Five points about 10 MHz and their harmonic; `attenuation` NULL: the file does not say. */
static void
put_trace_file (const char *name, const char *attenuation, double level)
{
  g_autofree char *head = attenuation ? g_strdup_printf ("Attenuation,%s dB\n", attenuation) : g_strdup ("");
  g_autofree char *text = g_strdup_printf (
      "%sRBW,10 kHz\nDetector,Sample\nFrequency (Hz),Level (dBm)\n9000000,%g\n10000000,-10\n11000000,-80\n20000000,-75\n21000000,-80\n",
      head, level);
  put (name, text);
}

static void
make_folder (void)
{
  if (folder)
    return;
  folder = g_dir_make_tmp ("sheet-XXXXXX", NULL);
  put ("a.chain",
       "[chain]\nname=Shelf\nstages=pad\ncalibrated=2026-01-01\ninterval_days=100\n[stage pad]\nkind=pad\nrating_w=10\nvswr=1.1\n"
       "points=1MHz 30 0.1; 1GHz 30.5 0.1\n");
  put ("b.chain",
       "[chain]\nname=Other shelf\nstages=pad\n[stage pad]\nkind=pad\nrating_w=10\nvswr=1.1\npoints=1MHz 40 0.1; 1GHz 40.5 0.1\n");
  put ("a.analyzer", "[analyzer]\nname=One\ndamage_dbm=20\n");
  put ("b.analyzer", "[analyzer]\nname=Two\ndamage_dbm=10\n");
  put ("house.mask", "[mask]\nname=House\n[rule 1]\nattenuation_db=50\n");
  put_trace_file ("k1.csv", "10", -80);
  put_trace_file ("k2.csv", "10", -81);
  put_trace_file ("s10.csv", "20", -82);
  put_trace_file ("s20.csv", "30", -83);
  put_trace_file ("none.csv", NULL, -84);
  put_trace_file ("a b;c?.csv", "10", -85);
  put_trace_file ("room.csv", "10", -86);
}

static void
remove_folder (void)
{
  g_autoptr (GDir) dir = folder ? g_dir_open (folder, 0, NULL) : NULL;
  for (const char *name; dir && (name = g_dir_read_name (dir));) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_remove (path);
  }
  if (folder)
    g_rmdir (folder);
  g_clear_pointer (&folder, g_free);
}

static SpBench *
read_sheet (const char *text, GError **error)
{
  g_autofree char *path = g_build_filename (folder, "night.sheet", NULL);
  put ("night.sheet", text);
  return sp_bench_read (path, error);
}

#define HEAD "[bench]\ntitle=Night\ndate=2026-03-01\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n"
