/* pictures.c - pictures of a bench and of a radio: named by a sheet, put on and taken off, kept once in a book, packed and unpacked */
#include "core/bench/shelf/shelf.h"
#include "core/book/book-private.h"
#include "tests/book/saved.h"
#include "tests/picture/made.h"
#include "ui/picture/coder.h"

static void
put_bytes (const char *name, const GByteArray *bytes)
{
  g_autofree char *at = shelf_path (name);
  ck_assert (g_file_set_contents (at, (const char *) bytes->data, bytes->len, NULL));
}

/* A photograph with a place in it, the same bytes under two names, and a drawing. */
static void
lay_pictures (void)
{
  g_autoptr (GByteArray) photograph = picture_bytes (64, 48, "jpeg", FALSE, FALSE), drawing = picture_bytes (20, 8, "png", TRUE, FALSE);
  put_exif (photograph, 6);
  put_bytes ("bench one.jpg", photograph);
  put_bytes ("same.jpg", photograph);
  put_bytes ("head.png", drawing);
}

static void
set_up_pictures (void)
{
  sp_picture_start ();
  set_up ();
  lay_pictures ();
}

#define OF_BENCH "letterhead=head.png\npicture.10=head.png\npicture=\"bench%20one.jpg The pads; on the # bench\"\npicture.2=same.jpg\n"
#define OF_RADIO "picture=same.jpg Its label\n"

/* The shelf's sheet with keys put into [bench] and behind the first radio's heading. */
static SpBench *
with_keys (const char *of_bench, const char *of_radio)
{
  g_autoptr (GString) text = g_string_new (shelf_sheet);
  g_autofree char *bench = g_strconcat ("[bench]\n", of_bench, NULL), *radio = g_strconcat ("[radio Zelbrid]\n", of_radio, NULL);
  g_string_replace (text, "[bench]\n", bench, 1);
  g_string_replace (text, "[radio Zelbrid]\n", radio, 1);
  put ("pictures.sheet", text->str);
  g_autofree char *sheet = shelf_path ("pictures.sheet");
  return sp_bench_read (sheet, &error);
}

static const SpCaptioned *
of (const GArray *pictures, guint which)
{
  ck_assert (pictures && which < pictures->len);
  return &g_array_index (pictures, SpCaptioned, which);
}

START_TEST (a_sheet_names_them)
{
  g_autoptr (SpBench) plain = shelf_bench (), bench = good_bench (with_keys ("", ""));
  ck_assert_ptr_null (bench->pictures);
  sp_bench_unref (g_steal_pointer (&bench));
  bench = good_bench (with_keys (OF_BENCH, OF_RADIO));
  ck_assert_uint_eq (bench->pictures->len, 3);
  ck_assert_str_eq (of (bench->pictures, 0)->caption, "The pads; on the # bench");
  ck_assert (of (bench->pictures, 0)->picture->width == 48 && of (bench->pictures, 0)->picture->height == 64);
  ck_assert_ptr_null (of (bench->pictures, 1)->caption);
  ck_assert_str_eq (of (bench->pictures, 1)->picture->sha256, of (bench->pictures, 0)->picture->sha256);
  ck_assert_int_eq (of (bench->pictures, 2)->picture->width, 20);
  ck_assert (bench->letterhead == of (bench->pictures, 2)->picture); /* one file is read once */
  ck_assert_str_eq (of (bench->radios[0].pictures, 0)->caption, "Its label");
  ck_assert_ptr_null (bench->radios[1].pictures);
  ck_assert_str_eq (bench->sha256, plain->sha256); /* nothing is judged by them */
  ck_assert_uint_eq (bench->warnings->len, plain->warnings->len);
}
END_TEST

static void
refuse (const char *of_bench, const char *part)
{
  g_autoptr (SpBench) bench = with_keys (of_bench, "");
  ck_assert_ptr_null (bench);
  ck_assert_msg (error && strstr (error->message, part), "“%s” lacks “%s”", error ? error->message : "", part);
  g_clear_error (&error);
}

START_TEST (a_sheet_may_not_name)
{
  put ("words.jpg", "no picture at all");
  g_autoptr (GByteArray) bomb = picture_bytes (8, 8, "png", FALSE, FALSE);
  claim_size (bomb, 60000, 60000);
  put_bytes ("bomb.png", bomb);
  refuse ("picture=nowhere.jpg\n", "pictures.sheet:3:9: [bench] picture: ");
  refuse ("picture=words.jpg what it is\n", "a PNG or a JPEG");
  refuse ("picture.2=bomb.png\n", "60000 by 60000");
  refuse ("letterhead=/dev/zero\n", "letterhead");
  refuse ("picture=/proc/self/environ\n", "picture");
  refuse ("picture=.\n", "picture");
  refuse ("picture=\n", "nothing stands here");
  g_autoptr (GString) many = g_string_new (""), longer = g_string_new ("picture=head.png ");
  for (guint i = 2; i < 3 + SP_PICTURES_MAX; i++)
    g_string_append_printf (many, "picture.%u=head.png\n", i);
  refuse (many->str, "12 at most");
  for (guint i = 0; i <= SP_CAPTION_CHARACTERS; i++)
    g_string_append (longer, "\303\266");
  refuse (g_string_append_c (longer, '\n')->str, "301 characters");
}
END_TEST

/* ---- edits ---- */

START_TEST (put_on_and_taken_off)
{
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autofree char *file = shelf_path ("bench one.jpg");
  g_autoptr (SpPicture) picture = sp_picture_read (file, &error), other = sp_picture_read (file, &error);
  g_autoptr (GArray) two = sp_captioned_new ();
  sp_captioned_add (two, picture, "What is seen");
  sp_captioned_add (two, other, NULL); /* of one name: told apart */
  g_autoptr (SpBench) with = good_bench (sp_bench_set_pictures (bench, 1, two, &error));
  ck_assert_uint_eq (with->radios[1].pictures->len, 2);
  ck_assert_ptr_null (with->pictures);
  g_autoptr (SpBench) headed = good_bench (sp_bench_set_letterhead (with, picture));
  g_autoptr (SpBench) renamed = good_bench (sp_bench_set (headed, "title", "Another", &error)); /* through the text and back */
  ck_assert (of (renamed->radios[1].pictures, 0)->picture == picture && of (renamed->radios[1].pictures, 1)->picture == other);
  ck_assert (renamed->letterhead == picture);
  g_autoptr (SpBench) without = good_bench (sp_bench_set_pictures (renamed, 1, NULL, &error));
  ck_assert (!without->radios[1].pictures && !bench->radios[1].pictures);
  g_autofree char *wide = g_strnfill (SP_CAPTION_CHARACTERS + 1, 'x');
  sp_captioned_add (two, picture, wide);
  ck_assert (!sp_bench_set_pictures (bench, 1, two, &error) && strstr (error->message, "301 characters"));
  g_clear_error (&error);
  sp_captioned_add (two, picture, "two\nlines");
  ck_assert (!sp_bench_set_pictures (bench, -1, two, &error));
  g_clear_error (&error);
}
END_TEST

/* ---- the book ---- */

static gint64
count (const char *sql)
{
  sqlite3 *db;
  sqlite3_stmt *statement = NULL;
  ck_assert_int_eq (sqlite3_open (path, &db), SQLITE_OK);
  ck_assert_int_eq (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), SQLITE_OK);
  ck_assert_int_eq (sqlite3_step (statement), SQLITE_ROW);
  gint64 n = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return n;
}

START_TEST (kept_once)
{
  gint64 before = count ("SELECT count (*) FROM raw");
  g_autoptr (SpBench) bench = good_bench (with_keys (OF_BENCH, OF_RADIO));
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  sp_book_edit (book, bench, "Put pictures on");
  edit (book, "With pictures");
  good (sp_book_save (book, &error));
  sp_book_close (g_steal_pointer (&book));
  ck_assert_int_eq (count ("SELECT count (*) FROM raw") - before, 2); /* a photograph of two names, and the drawing */
  book = good_book (sp_book_open (path, &error));
  const SpBench *now = sp_book_bench (book);
  ck_assert (now->letterhead && now->pictures->len == 3 && of (now->radios[0].pictures, 0)->picture->width == 48);
  ck_assert_str_eq (of (now->pictures, 1)->picture->sha256, of (bench->pictures, 1)->picture->sha256);
  ck_assert (sp_book_undo (book) && sp_book_undo (book) && !sp_book_bench (book)->pictures && !sp_book_bench (book)->letterhead);
  ck_assert (sp_book_redo (book) && sp_book_bench (book)->pictures->len == 3);
}
END_TEST

/* ---- a document's letterhead ---- */

/* The shelf's sheet with a document that has a letterhead, and a letterhead of its own. */
static SpBench *
with_document (void)
{
  put ("words.report", "[report]\ntitle=Ours\nletterhead=bench%20one.jpg # over all\n");
  return good_bench (with_keys ("letterhead=head.png\ndocument=words.report\n", ""));
}

START_TEST (of_a_document)
{
  g_autoptr (SpBench) plain = shelf_bench (), bench = with_document ();
  ck_assert (bench->letterhead->width == 20 && sp_bench_letterhead (bench)->width == 48);
  ck_assert_str_eq (bench->sha256, plain->sha256);
  ck_assert_uint_eq (bench->warnings->len, plain->warnings->len);
  g_autoptr (SpDocument) titled = sp_document_set (bench->document, "title", "Another", &error);
  sp_no_error (error);
  ck_assert (titled->letterhead == bench->document->letterhead); /* read once */
  ck_assert (!sp_document_set (titled, "letterhead", "head.png", &error) && strstr (error->message, "bench one.jpg"));
  g_clear_error (&error);
  g_autoptr (SpBench) chosen = good_bench (sp_bench_set_letterhead (bench, bench->letterhead));
  ck_assert (sp_bench_letterhead (chosen)->width == 20 && strstr (chosen->document->text, "title=Ours") != NULL);
  g_autoptr (SpBench) none = good_bench (sp_bench_set_letterhead (bench, NULL));
  ck_assert_ptr_null (sp_bench_letterhead (none));
  ck_assert (sp_bench_letterhead (bench)->width == 48);
  g_autoptr (SpBench) without = good_bench (sp_bench_set_document (bench, NULL));
  ck_assert_int_eq (sp_bench_letterhead (without)->width, 20);
}
END_TEST

START_TEST (a_document_may_not_name)
{
  put ("words.report", "[report]\nletterhead=nowhere.png\n");
  refuse ("document=words.report\n", "words.report:2:12: [report] letterhead: ");
  put ("words.report", "[report]\nletterhead=\n");
  refuse ("document=words.report\n", "nothing stands here");
  put ("words.report", "[report]\nletterhead=words.report\n");
  refuse ("document=words.report\n", "a PNG or a JPEG");
}
END_TEST

START_TEST (of_a_document_packed_and_unpacked)
{
  g_autoptr (SpBench) bench = with_document ();
  g_autofree char *sheet = shelf_path ("pictures.sheet"), *packed = shelf_path ("p.benchbook"), *out = shelf_path ("out"),
                  *again_sheet = shelf_path ("out/bench.sheet"), *first = shelf_path ("bench one.jpg"), *twice = shelf_path ("twice");
  good (sp_book_pack (sheet, packed, &error));
  ck_assert_int_eq (g_remove (first), 0); /* the book has it */
  g_autoptr (SpBook) book = good_book (sp_book_open (packed, &error));
  ck_assert_str_eq (sp_bench_letterhead (sp_book_bench (book))->sha256, bench->document->letterhead->sha256);
  sp_book_close (g_steal_pointer (&book));
  good (sp_book_unpack (packed, out, &error));
  good (sp_book_pack (again_sheet, packed, &error));
  good (sp_book_unpack (packed, twice, &error));
  g_autoptr (SpBench) again = good_bench (sp_bench_read (again_sheet, &error));
  ck_assert_str_eq (again->document->letterhead->sha256, bench->document->letterhead->sha256);
  ck_assert_str_eq (again->letterhead->sha256, bench->letterhead->sha256);
  ck_assert_str_eq (again->document->title, "Ours");
}
END_TEST

static char *
contents (const char *name, gsize *length)
{
  g_autofree char *at = shelf_path (name);
  char *bytes = NULL;
  ck_assert_msg (g_file_get_contents (at, &bytes, length, NULL), "%s", name);
  return bytes;
}

START_TEST (packed_and_unpacked)
{
  g_autoptr (SpBench) bench = good_bench (with_keys (OF_BENCH, OF_RADIO));
  g_autofree char *sheet = shelf_path ("pictures.sheet"), *packed = shelf_path ("p.benchbook"), *out = shelf_path ("out");
  good (sp_book_pack (sheet, packed, &error));
  good (sp_book_unpack (packed, out, &error));
  gsize n = 0, bytes = 0;
  g_autofree char *written = contents ("out/bench.sheet", &n);
  const char *begin = strstr (written, "\npicture="), *named = strstr (written, "bench_one.jpg The pads; on the");
  ck_assert_msg (begin && named, "%s", written);
  g_auto (GStrv) words = g_strsplit (begin + strlen ("\npicture=\""), " ", 2); /* quoted: a # is in it */
  g_autofree char *name = g_strconcat ("out/", words[0], NULL), *kept = contents (name, &bytes);
  ck_assert (bytes == g_bytes_get_size (of (bench->pictures, 0)->picture->bytes) && !has_words (kept, bytes, PLACE));
  g_autofree char *again_sheet = shelf_path ("out/bench.sheet");
  g_autoptr (SpBench) again = good_bench (sp_bench_read (again_sheet, &error));
  for (guint i = 0; i < 3; i++)
    ck_assert_str_eq (of (again->pictures, i)->picture->sha256, of (bench->pictures, i)->picture->sha256);
  ck_assert_str_eq (again->letterhead->sha256, bench->letterhead->sha256);
  ck_assert_str_eq (of (again->radios[0].pictures, 0)->caption, "Its label");
}
END_TEST

/* A stranger's book that calls something a picture. */
START_TEST (a_forged_book)
{
  g_autoptr (SpBench) bench = good_bench (with_keys (OF_BENCH, OF_RADIO));
  g_autofree char *sheet = shelf_path ("pictures.sheet");
  g_remove (path);
  good (sp_book_pack (sheet, path, &error));
  sqlite3 *db;
  ck_assert_int_eq (sqlite3_open (path, &db), SQLITE_OK);
  g_autofree char *sql = g_strdup_printf ("UPDATE raw SET bytes = zeroblob (200) WHERE sha256 = '%s'", bench->letterhead->sha256);
  ck_assert_int_eq (sqlite3_exec (db, sql, NULL, NULL, NULL), SQLITE_OK);
  sqlite3_close (db);
  ck_assert_ptr_null (sp_book_open (path, &error));
  ck_assert (error != NULL);
  g_clear_error (&error);
}
END_TEST

/* ---- a stage's ---- */

/* With a chain whose first stage has two pictures. */
static SpBench *
with_stages (void)
{
  g_autofree char *chain = NULL, *at = shelf_path ("a.chain");
  ck_assert (g_file_get_contents (at, &chain, NULL, NULL));
  g_autoptr (GString) text = g_string_new (chain);
  g_string_replace (text, "[stage pad]\n", "[stage pad]\npicture=bench%20one.jpg Its label\npicture.2=head.png\n", 1);
  put ("a.chain", text->str);
  return shelf_bench ();
}

START_TEST (of_a_stage)
{
  g_autoptr (SpBench) plain = shelf_bench (), bench = good_bench (with_stages ());
  const SpStage *pad = bench->chain->stages[0];
  ck_assert_uint_eq (pad->pictures->len, 2);
  ck_assert_str_eq (of (pad->pictures, 0)->caption, "Its label");
  ck_assert_str_eq (bench->chain->sha256, plain->chain->sha256);
  ck_assert_uint_eq (bench->warnings->len, plain->warnings->len);
  g_autoptr (SpChain) moved = sp_chain_move_stage (bench->chain, 0, 1, &error);
  sp_no_error (error);
  ck_assert (of (moved->stages[1]->pictures, 0)->picture == of (pad->pictures, 0)->picture);
  g_autoptr (SpChain) less = sp_chain_set_pictures (bench->chain, 0, NULL, &error);
  sp_no_error (error);
  ck_assert (!less->stages[0]->pictures && !strstr (less->text, "picture"));
  g_autoptr (GArray) two = sp_captioned_new ();
  sp_captioned_add (two, of (pad->pictures, 1)->picture, "Another");
  g_autoptr (SpChain) other = sp_chain_set_pictures (bench->chain, 1, two, &error);
  sp_no_error (error);
  ck_assert_str_eq (of (other->stages[1]->pictures, 0)->caption, "Another");
  ck_assert_uint_eq (other->stages[0]->pictures->len, 2);
  g_autoptr (SpChain) taken = sp_chain_take_stage (less, 0, bench->chain, 0, "pad 2", &error);
  sp_no_error (error);
  ck_assert_str_eq (of (taken->stages[0]->pictures, 0)->picture->sha256, of (pad->pictures, 0)->picture->sha256);
}
END_TEST

START_TEST (of_a_stage_on_the_shelf_and_in_a_book)
{
  g_autoptr (SpBench) bench = good_bench (with_stages ());
  const GArray *pictures = bench->chain->stages[0]->pictures;
  g_autofree char *shelf = shelf_path ("shelf"), *sheet = shelf_path ("night.sheet"), *packed = shelf_path ("p.benchbook"),
                  *out = shelf_path ("out"), *again_sheet = shelf_path ("out/bench.sheet");
  good (sp_shelf_put (shelf, bench->chain, 0, "Pad", FALSE, &error));
  g_autoptr (GPtrArray) items = sp_shelf_read (shelf, SP_SHELF_STAGES, &error);
  ck_assert_uint_eq (items->len, 1);
  const SpShelfItem *item = items->pdata[0];
  sp_no_error (item->error);
  ck_assert_str_eq (of (item->chain->stages[0]->pictures, 0)->caption, "Its label");
  ck_assert_str_eq (of (item->chain->stages[0]->pictures, 1)->picture->sha256, of (pictures, 1)->picture->sha256);
  good (sp_book_pack (sheet, packed, &error));
  g_autoptr (SpBook) book = good_book (sp_book_open (packed, &error));
  ck_assert_str_eq (of (sp_book_bench (book)->chain->stages[0]->pictures, 0)->caption, "Its label");
  ck_assert_str_eq (sp_book_bench (book)->sha256, bench->sha256);
  sp_book_close (g_steal_pointer (&book));
  good (sp_book_unpack (packed, out, &error));
  g_autoptr (SpBench) again = good_bench (sp_bench_read (again_sheet, &error));
  for (guint i = 0; i < 2; i++)
    ck_assert_str_eq (of (again->chain->stages[0]->pictures, i)->picture->sha256, of (pictures, i)->picture->sha256);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("pictures");
  TCase *t = tcase_create ("pictures");
  tcase_add_checked_fixture (t, set_up_pictures, tear_down);
  tcase_add_test (t, a_sheet_names_them);
  tcase_add_test (t, a_sheet_may_not_name);
  tcase_add_test (t, put_on_and_taken_off);
  tcase_add_test (t, kept_once);
  tcase_add_test (t, of_a_document);
  tcase_add_test (t, a_document_may_not_name);
  tcase_add_test (t, of_a_document_packed_and_unpacked);
  tcase_add_test (t, packed_and_unpacked);
  tcase_add_test (t, a_forged_book);
  tcase_add_test (t, of_a_stage);
  tcase_add_test (t, of_a_stage_on_the_shelf_and_in_a_book);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
