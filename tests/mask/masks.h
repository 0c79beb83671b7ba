/* masks.h - a built-in mask, and one from a test's text */
#pragma once

#include "core/mask/mask.h"
#include "tests/suite.h"

#include <string.h>

static inline SpMask *
load (const char *name)
{
  GError *error = NULL;
  SpMask *mask = sp_mask_load (name, &error);
  sp_no_error (error);
  return mask;
}

static inline SpMask *
parse (const char *text)
{
  GError *error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "in-test.mask", &error);
  sp_no_error (error);
  SpMask *mask = sp_mask_parse (file, &error);
  sp_no_error (error);
  return mask;
}
