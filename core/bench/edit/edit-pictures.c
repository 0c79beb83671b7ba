/* edit-pictures.c - pictures put on a bench or beside a radio */
#include "core/bench/build.h"
#include "core/bench/edit/edit-private.h"
#include "core/bench/sheet/write.h"

SpBench *
sp_bench_set_pictures (const SpBench *bench, int radio, const GArray *pictures, GError **error)
{
  g_return_val_if_fail (radio < (int) bench->n_radios, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  GArray **place = radio < 0 ? &copy->pictures : &copy->radios[radio].pictures;
  g_clear_pointer (place, g_array_unref);
  *place = pictures && pictures->len > 0 ? sp_captioned_copy (pictures) : NULL;
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_set_letterhead (const SpBench *bench, SpPicture *picture)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_clear_pointer (&copy->letterhead, sp_picture_unref);
  copy->letterhead = picture ? sp_picture_ref (picture) : NULL;
  sp_bench_finish (copy);
  return copy;
}
