/* forge-pages.c - a stranger at work with a byte editor on a book's pages, and on what stands beside it */
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tests/faults/forge.h"

static const guint8 magic[8] = { 0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7 };

static guint
below (GRand *rand, gsize n)
{
  return n > 1 ? (guint) g_rand_int_range (rand, 0, (gint32) n) : 0;
}

static gsize
page_size (const char *bytes)
{
  gsize size = (guint8) bytes[16] << 8 | (guint8) bytes[17];
  return size == 1 ? 65536 : MAX (size, 512);
}

static void
put_number (char *at, guint32 value)
{
  for (int i = 0; i < 4; i++)
    at[i] = (char) (value >> (24 - 8 * i));
}

/* A number as pointers and counts have it: small, or near a power of two. */
static guint32
some_number (GRand *rand)
{
  guint32 near = (guint32) 1 << below (rand, 32);
  return below (rand, 2) ? below (rand, 40) : near + below (rand, 3) - 1;
}

/* One change within a page: its head, its pointers to cells, a cell, its pointer to the right. */
static void
change_in_page (char *page, gsize size, gsize head, GRand *rand)
{
  const gsize more = below (rand, 16);
  gsize n_cells = (guint8) page[head + 3] << 8 | (guint8) page[head + 4], pointer = head + 8 + 2 * below (rand, MAX (n_cells, 1));
  switch (below (rand, 5)) {
  case 0: page[head + below (rand, 12)] = (char) g_rand_int (rand); break;
  case 1: page[MIN (pointer + more % 2, size - 1)] = (char) g_rand_int (rand); break;
  case 2: put_number (page + head + 8, some_number (rand)); break;
  case 3: {
    gsize cell = pointer + 2 <= size ? (gsize) ((guint8) page[pointer] << 8 | (guint8) page[pointer + 1]) : 0;
    page[MIN (cell + more, size - 1)] = (char) g_rand_int (rand);
    break;
  }
  default: page[below (rand, size)] ^= (char) (1 << below (rand, 8));
  }
}

/* One change of whole pages. */
static void
change_pages (char *bytes, gsize *length, gsize size, GRand *rand)
{
  gsize n = *length / size, a = below (rand, n), b = below (rand, n);
  g_autofree char *page = g_memdup2 (bytes + a * size, size);
  switch (below (rand, 6)) {
  case 0:
    memmove (bytes + a * size, bytes + b * size, size);
    memcpy (bytes + b * size, page, size);
    break;
  case 1: memmove (bytes + a * size, bytes + b * size, size); break;
  case 2: memset (bytes + a * size, below (rand, 2) ? 0 : 0xff, size); break;
  case 3: *length = below (rand, *length); break;
  case 4: *length = a * size; break;
  default: /* a list of free pages, which may lead back to its beginning */
    put_number (bytes + 32, (guint32) a + 1);
    put_number (bytes + 36, some_number (rand));
    put_number (bytes + a * size, (guint32) (below (rand, 2) ? a : b) + 1);
    put_number (bytes + a * size + 4, some_number (rand));
  }
}

char *
forge_pages (const Sound *sound, GRand *rand, gsize *length)
{
  char *bytes = g_memdup2 (sound->bytes, sound->length);
  gsize size = page_size (bytes);
  *length = sound->length;
  for (guint n = 1 + below (rand, 4); n > 0 && *length >= size; n--) {
    gsize page = below (rand, *length / size), what = below (rand, 8);
    if (what == 0)
      bytes[below (rand, 100)] = (char) g_rand_int (rand);
    else if (what == 1)
      put_number (bytes + 4 * below (rand, 25), some_number (rand));
    else if (what == 2)
      change_pages (bytes, length, size, rand);
    else
      change_in_page (bytes + page * size, size, page ? 0 : 100, rand);
  }
  return bytes;
}

/* ---- beside ---- */

/* As SQLite writes one: head, then pages of the book with their checksums, which it would take for good. */
static GByteArray *
playable (GRand *rand, gsize size)
{
  GByteArray *journal = g_byte_array_new ();
  guint32 nonce = g_rand_int (rand), n = 1 + below (rand, 3);
  guint32 head[] = { n, nonce, some_number (rand), 512, (guint32) size };
  char number[4];
  g_byte_array_append (journal, magic, 8);
  for (guint i = 0; i < G_N_ELEMENTS (head); i++) {
    put_number (number, head[i]);
    g_byte_array_append (journal, (guint8 *) number, 4);
  }
  g_byte_array_set_size (journal, 512);
  for (guint i = 0; i < n; i++) {
    g_autofree char *page = g_malloc0 (size);
    guint32 sum = nonce;
    for (guint k = 0; k < size; k++)
      page[k] = (char) (below (rand, 4) ? 0 : g_rand_int (rand));
    for (gsize at = size - 200; size > 200 && at > 0; at -= MIN (at, 200))
      sum += (guint8) page[at];
    put_number (number, some_number (rand));
    g_byte_array_append (journal, (guint8 *) number, 4);
    g_byte_array_append (journal, (guint8 *) page, (guint) size);
    put_number (number, sum);
    g_byte_array_append (journal, (guint8 *) number, 4);
  }
  return journal;
}

/* The name of another file that SQLite would remove. */
static void
add_super_journal (GByteArray *journal, const char *victim)
{
  char number[4];
  guint32 sum = 0;
  for (const char *c = victim; *c; c++)
    sum += (guint8) *c;
  put_number (number, 0x40000001);
  g_byte_array_append (journal, (guint8 *) number, 4);
  g_byte_array_append (journal, (const guint8 *) victim, (guint) strlen (victim));
  put_number (number, (guint32) strlen (victim));
  g_byte_array_append (journal, (guint8 *) number, 4);
  put_number (number, sum);
  g_byte_array_append (journal, (guint8 *) number, 4);
  g_byte_array_append (journal, magic, 8);
}

void
forge_beside (const char *path, const char *other, GRand *rand)
{
  static const char *const endings[] = { "-journal", "-journal", "-journal", "-wal", "-shm" };
  g_autofree char *beside = g_strconcat (path, endings[below (rand, 5)], NULL);
  g_autoptr (GByteArray) journal = playable (rand, (gsize) 512 << below (rand, 4));
  switch (below (rand, 9)) {
  case 0: ck_assert_int_eq (symlink (other, beside), 0); return;
  case 1: ck_assert_int_eq (mkfifo (beside, 0600), 0); return;
  case 2: ck_assert_int_eq (mkdir (beside, 0700), 0); return;
  case 3: add_super_journal (journal, other); break;
  case 4: g_byte_array_set_size (journal, below (rand, journal->len)); break;
  case 5:
    for (guint i = below (rand, 2) ? 8 : 0; i < journal->len; i++)
      journal->data[i] = (guint8) g_rand_int (rand);
    break;
  case 6: journal->data[8 + below (rand, 20)] = (guint8) g_rand_int (rand); break;
  case 7: memset (journal->data, 0, 8 + below (rand, 24)); break;
  default: break;
  }
  ck_assert (g_file_set_contents (beside, (const char *) journal->data, journal->len, NULL));
}
