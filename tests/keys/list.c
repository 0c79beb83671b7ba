/* list.c - prints every key of every file kind, one a line: "group.key kind unit low high words hashed", "-" where there is none */
#include <stdio.h>
#include <string.h>

#include "tests/keys/tables.h"

static const char *const kinds[] = { "text", "date",  "number", "positive", "count",  "frequency", "word", "yes-no",
                                     "list", "curve", "span",   "formula",  "groups", "file",      "files" };

static void
print_bound (gboolean bounded, double bound)
{
  if (bounded)
    printf (" %.15g", bound);
  else
    printf (" -");
}

static void
print_key (const char *group, const SpKeySpec *spec)
{
  gboolean bounded = spec->low < spec->high;
  g_autofree char *words = spec->words ? g_strjoinv ("|", (char **) spec->words) : NULL;
  g_autofree char *unit = spec->unit ? g_strdelimit (g_strdup (spec->unit), " ", ',') : NULL;
  printf ("%s.%s %s %s", group, spec->key, kinds[spec->kind], unit ? unit : "-");
  print_bound (bounded, spec->low);
  print_bound (bounded, spec->high);
  printf (" %s %s\n", words ? g_strdelimit (words, " ", '-') : "-", spec->not_hashed ? "not-hashed" : "hashed");
}

int
main (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (key_tables); i++)
    for (const SpKeySpec *spec = key_tables[i].keys; spec->key; spec++)
      if (strcmp (key_tables[i].group, "mask") != 0 || key_tables[i].keys == sp_mask_keys || !sp_keys_find (sp_mask_keys, spec->key))
        print_key (key_tables[i].group, spec);
  return 0;
}
