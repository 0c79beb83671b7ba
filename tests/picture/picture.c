/* picture.c - pictures as they are kept: bare, upright, small, the same when read again; and what is refused */
#include "tests/picture/made.h"
#include "ui/picture/coder.h"

static GError *error;

static void
set_up (void)
{
  error = NULL;
  sp_picture_start ();
}

static SpPicture *
parse (GByteArray *bytes)
{
  g_autoptr (GBytes) whole = g_bytes_new (bytes->data, bytes->len);
  return sp_picture_parse (whole, "shelf.jpg", &error);
}

static SpPicture *
good (GByteArray *bytes)
{
  SpPicture *picture = parse (bytes);
  sp_no_error (error);
  ck_assert_ptr_nonnull (picture);
  return picture;
}

static gboolean
says (const SpPicture *picture, const char *words)
{
  return has_words (g_bytes_get_data (picture->bytes, NULL), g_bytes_get_size (picture->bytes), words);
}

static void
check_again (const SpPicture *picture)
{
  g_autoptr (SpPicture) again = sp_picture_parse (picture->bytes, "again", &error);
  sp_no_error (error);
  ck_assert_str_eq (again->sha256, picture->sha256);
}

#define refused(bytes, part)                                                                                                               \
  {                                                                                                                                        \
    ck_assert_ptr_null (parse (bytes));                                                                                                    \
    ck_assert_msg (error &&strstr (error->message, part) && strstr (error->message, "shelf.jpg"), "“%s” lacks “%s”",                       \
                   error ? error->message : "", part);                                                                                     \
    g_clear_error (&error);                                                                                                                \
  }

/* ---- what is taken out ---- */

START_TEST (a_cameras_words_are_gone)
{
  g_autoptr (GByteArray) jpeg = picture_bytes (64, 48, "jpeg", FALSE, FALSE);
  guint plain = jpeg->len;
  put_segment (jpeg, 0xfe, "a comment", 9);
  put_segment (jpeg, 0xe2, "ICC_PROFILE\0\1\1words of a profile", 32);
  put_segment (jpeg, 0xed, "Photoshop 3.0\0the caption", 25);
  put_exif (jpeg, 1);
  g_byte_array_append (jpeg, (const guint8 *) "a film behind the end", 21);
  ck_assert (has_words (jpeg->data, jpeg->len, PLACE) && has_words (jpeg->data, jpeg->len, "Exif"));
  g_autoptr (SpPicture) picture = good (jpeg);
  const char *const words[] = { PLACE, "Exif", "a comment", "ICC_PROFILE", "profile", "Photoshop", "caption", "film" };
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    ck_assert_msg (!says (picture, words[i]), "%s", words[i]);
  ck_assert_uint_eq (g_bytes_get_size (picture->bytes), plain); /* nothing was coded anew */
  ck_assert (picture->width == 64 && picture->height == 48 && strcmp (picture->mime, "image/jpeg") == 0);
  check_again (picture);
}
END_TEST

START_TEST (a_drawings_words_are_gone)
{
  g_autoptr (GByteArray) png = picture_bytes (40, 30, "png", TRUE, FALSE);
  put_chunk (png, "tEXt", "Author\0" PLACE, 7 + sizeof PLACE);
  put_chunk (png, "eXIf", "II*\0\0\0\0\0", 8);
  put_chunk (png, "tIME", "\7\352\14\1\0\0\0", 7);
  g_autoptr (SpPicture) picture = good (png);
  ck_assert (!says (picture, "tEXt") && !says (picture, PLACE) && !says (picture, "eXIf") && !says (picture, "tIME"));
  ck_assert_str_eq (picture->mime, "image/png");
  check_again (picture);
}
END_TEST

/* ---- the way up, the size ---- */

START_TEST (the_way_up_is_applied)
{
  g_autoptr (GByteArray) jpeg = picture_bytes (64, 48, "jpeg", FALSE, FALSE);
  put_exif (jpeg, 6); /* the camera was held upright: its left edge is the picture's top */
  g_autoptr (SpPicture) picture = good (jpeg);
  ck_assert (picture->width == 48 && picture->height == 64 && !says (picture, "Exif"));
  cairo_surface_t *pixels = sp_picture_surface (picture);
  int stride = cairo_image_surface_get_stride (pixels);
  guint32 first = *(guint32 *) (gpointer) cairo_image_surface_get_data (pixels) >> 16 & 255;
  guint32 last = *(guint32 *) (gpointer) (cairo_image_surface_get_data (pixels) + 63 * stride) >> 16 & 255;
  cairo_surface_destroy (pixels);
  ck_assert_msg (first < 40 && last > 215, "red runs from %u to %u, downwards", first, last);
  check_again (picture);
}
END_TEST

START_TEST (it_becomes_small)
{
  g_autoptr (GByteArray) jpeg = picture_bytes (4000, 3000, "jpeg", FALSE, FALSE), png = picture_bytes (1000, 800, "png", FALSE, TRUE);
  g_autoptr (SpPicture) photograph = good (jpeg), noise = good (png);
  ck_assert (photograph->width == SP_PICTURE_SIDE && photograph->height == SP_PICTURE_SIDE * 3 / 4);
  ck_assert_str_eq (noise->mime, "image/jpeg"); /* 2.4 MB as PNG */
  ck_assert (noise->width == 1000 && g_bytes_get_size (noise->bytes) < png->len * 2 / 3);
  g_autoptr (GByteArray) drawing = picture_bytes (2400, 1200, "png", TRUE, FALSE);
  g_autoptr (SpPicture) drawn = good (drawing);
  ck_assert (drawn->width == SP_PICTURE_SIDE && drawn->height == SP_PICTURE_SIDE / 2 && strcmp (drawn->mime, "image/png") == 0);
  check_again (photograph);
  check_again (drawn);
  check_again (noise);
}
END_TEST

/* ---- what is refused ---- */

START_TEST (bombs)
{
  g_autoptr (GByteArray) png = picture_bytes (8, 8, "png", FALSE, FALSE), jpeg = picture_bytes (8, 8, "jpeg", FALSE, FALSE);
  claim_size (png, 60000, 60000);
  refused (png, "60000 by 60000");
  claim_size (png, 70000, 2);
  refused (png, "70000 by 2");
  claim_size (png, 7000, 7000); /* allowed, but the pixels are not there */
  refused (png, "broken");
  claim_size (png, 0, 8);
  refused (png, "broken");
  guint8 *frame = memmem (jpeg->data, jpeg->len, "\xff\xc0", 2);
  memcpy (frame + 5, "\xff\xdc\xff\xdc", 4); /* 65500 by 65500 */
  refused (jpeg, "65500 by 65500");
  g_autoptr (GByteArray) many = picture_bytes (8, 8, "jpeg", FALSE, FALSE);
  g_byte_array_set_size (many, SP_PICTURE_BYTES + 1);
  refused (many, "32 MiB");
}
END_TEST

START_TEST (broken)
{
  g_autoptr (GByteArray) jpeg = picture_bytes (200, 100, "jpeg", FALSE, TRUE), png = picture_bytes (100, 60, "png", FALSE, TRUE);
  for (guint i = 1; i < 40; i++) {
    g_autoptr (GByteArray) cut = g_byte_array_new (), short_png = g_byte_array_new ();
    g_byte_array_append (cut, jpeg->data, jpeg->len * i / 40);
    refused (cut, "expected");
    g_byte_array_append (short_png, png->data, png->len * i / 40);
    refused (short_png, "expected");
  }
  g_autoptr (GByteArray) hole = g_byte_array_append (g_byte_array_new (), png->data, png->len);
  memset (hole->data + png->len / 2, 0, 200);
  refused (hole, "broken");
  g_autoptr (GByteArray) words = g_byte_array_append (g_byte_array_new (), (const guint8 *) "GIF89a, as it were", 18);
  refused (words, "a PNG or a JPEG");
  g_byte_array_set_size (words, 0);
  refused (words, "a PNG or a JPEG");
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("pictures");
  TCase *t = tcase_create ("pictures");
  tcase_add_checked_fixture (t, set_up, NULL);
  tcase_add_test (t, a_cameras_words_are_gone);
  tcase_add_test (t, a_drawings_words_are_gone);
  tcase_add_test (t, the_way_up_is_applied);
  tcase_add_test (t, it_becomes_small);
  tcase_add_test (t, bombs);
  tcase_add_test (t, broken);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
