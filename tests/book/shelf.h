/* shelf.h - a bench of small files for the tests of edits and books: two radios, three conditions, every kind of sweep, a Touchstone file, a mask of
 * its own, unknown keys, names that need escapes */
#pragma once

#include <glib/gstdio.h>
#include <string.h>

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "tests/suite.h"

static char *folder; /* made once a process, emptied at the end */

static void
put (const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, text, -1, NULL));
}

static void
put_sweep (const char *name, const char *attenuation, double level)
{
  g_autofree char *text
      = g_strdup_printf ("Attenuation,%s dB\nRBW,10 kHz\nDetector,Sample\nFrequency (Hz),Level (dBm)\n9000000,%g\n10000000,-10\n"
                         "11000000,-80\n20000000,-75\n21000000,-80\n",
                         attenuation, level);
  put (name, text);
}

/* The second radio's name is "Torn [a]#% x  y": brackets, # and % cannot stand bare in a heading. */
#define TORN "Torn %5Ba%5D%23%25 x%20%20y"

static const char shelf_sheet[]
    = "# a comment\n[bench]\ntitle=Night # a remark\ndate=2026-03-01\noperator=\"some # body\"\nplace=Shed\nnote=\nchain=a.chain\n"
      "analyzer=a.analyzer\nmask=us-amateur\nrule=simple\ntemperature_c=21.5\nnecessary_bandwidth=12.5kHz\nradio_vswr=1.5\n"
      "radio_harmonic_vswr=3\nunkeyed=room.csv\ncolour=green # kept\n"
      "[radio Zelbrid]\nowner=the club\nserial=0042\ninstalled=2015-06-01\nnote=3\" cable\nshelf=\"4 # "
      "left\"\nfundamental=10MHz\nrated_w=5\n"
      "keyed=k1.csv;k2.csv\n"
      "[radio " TORN "]\n[condition " TORN
      "/2 m, high/low]\nfundamental=10MHz\nmeter_dbm=36.9\nmeter_u_db=0.2\nmeter=check\nmode=FM\nduty=0.5\n"
      "necessary_bandwidth=16kHz\nmask=house.mask\nchain=b.chain\nanalyzer=b.analyzer\nstep=s10.csv 10;s20.csv 20\n"
      "keyed=k1.csv?rbw=3kHz;a%20b%3Bc%3F.csv\nnotched=k2.csv\nnotched_chain=b.chain\nsuperseded=k1.csv\nmood=good\n"
      "[condition " TORN "/70 cm]\nfundamental=20MHz\nkeyed=k2.csv\nunkeyed=room.csv\n[lamp]\nwatt=40\n";

static void
make_folder (void)
{
  if (folder)
    return;
  folder = g_dir_make_tmp ("shelf-XXXXXX", NULL);
  put ("a.chain",
       "[chain]\nname=Shelf\nstages=pad;lead\ncalibrated=2026-01-01\ninterval_days=100\ncolour=blue\n[stage pad]\nkind=pad\nrating_w=10\n"
       "vswr=1.1\npoints=1MHz 30 0.1; 1GHz 30.5 0.1\n[stage lead]\nkind=cable\ntouchstone=lead wire.s2p\nu_db=0.05\n[stage "
       "spare]\nkind=pad\n");
  put ("b.chain",
       "[chain]\nname=Other shelf\nstages=pad\n[stage pad]\nkind=pad\nrating_w=10\nvswr=1.1\npoints=1MHz 40 0.1; 1GHz 40.5 0.1\n");
  put ("lead wire.s2p", "# MHz S RI R 50\n1 0.01 0 0.98 0 0.98 0 0.01 0\n1000 0.02 0 0.9 -0.1 0.9 -0.1 0.02 0\n");
  put ("a.analyzer", "[analyzer]\nname=One\ndamage_dbm=20\nthird_order_intercept_dbm=12\n");
  put ("b.analyzer", "[analyzer]\nname=Two\ndamage_dbm=10\naccuracy_db=0.4\nodd=1\n");
  put ("house.mask", "[mask]\nname=House\n[rule 1]\nattenuation_db=50\n");
  put_sweep ("k1.csv", "10", -80);
  put_sweep ("k2.csv", "10", -81);
  put_sweep ("s10.csv", "20", -82);
  put_sweep ("s20.csv", "30", -83);
  put_sweep ("a b;c?.csv", "10", -85);
  put_sweep ("room.csv", "10", -86);
  put ("night.sheet", shelf_sheet);
}

static void
empty_folder (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name (dir));) {
    g_autofree char *below = g_build_filename (path, name, NULL);
    if (g_file_test (below, G_FILE_TEST_IS_DIR) && !g_file_test (below, G_FILE_TEST_IS_SYMLINK))
      empty_folder (below);
    else
      g_remove (below);
  }
  g_rmdir (path);
}

G_GNUC_UNUSED static void
remove_folder (void)
{
  if (folder)
    empty_folder (folder);
  g_clear_pointer (&folder, g_free);
}

static char *
shelf_path (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static SpBench *
shelf_bench (void)
{
  GError *error = NULL;
  g_autofree char *path = shelf_path ("night.sheet");
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}
