/* cells.c - takes the cells out of a spreadsheet's sheets, and writes no more than these */
#include "tests/bench/cells.h"

#include <gio/gio.h>
#include <math.h>
#include <string.h>
#include <unistd.h>
#include <xlsxwriter.h>

typedef struct {
  GArray *cells;
  guint sheet;
  GString *text; /* of the element that is open */
} Reading;

static Cell *
last_of (Reading *reading)
{
  return &g_array_index (reading->cells, Cell, reading->cells->len - 1);
}

static void
begin_element (GMarkupParseContext *context, const char *element, const char **names, const char **values, gpointer data, GError **error)
{
  Reading *reading = data;
  (void) context, (void) error;
  g_string_truncate (reading->text, 0);
  if (strcmp (element, "c") != 0)
    return;
  Cell cell = { .sheet = reading->sheet, .number = NAN };
  for (guint i = 0; names[i]; i++)
    if (strcmp (names[i], "r") == 0) {
      cell.row = lxw_name_to_row (values[i]);
      cell.column = lxw_name_to_col (values[i]);
    } else if (strcmp (names[i], "s") == 0)
      cell.format = (guint) g_ascii_strtoull (values[i], NULL, 10);
    else if (strcmp (values[i], "str") == 0)
      cell.text = g_strdup ("");
  g_array_append_val (reading->cells, cell);
}

static void
end_element (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  Reading *reading = data;
  (void) context, (void) error;
  if (strcmp (element, "f") == 0)
    last_of (reading)->formula = g_strconcat ("=", reading->text->str, NULL);
  else if (strcmp (element, "t") == 0 || (strcmp (element, "v") == 0 && last_of (reading)->text)) {
    g_free (last_of (reading)->text);
    last_of (reading)->text = g_strdup (reading->text->str);
  } else if (strcmp (element, "v") == 0)
    last_of (reading)->number = g_ascii_strtod (reading->text->str, NULL);
  g_string_truncate (reading->text, 0);
}

static void
add_text (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  (void) context, (void) error;
  g_string_append_len (((Reading *) data)->text, text, (gssize) length);
}

static void
clear_cell (void *data)
{
  Cell *cell = data;
  g_free (cell->text);
  g_free (cell->formula);
}

GArray *
cells_of (GBytes *workbook)
{
  const char *const script = "import io, sys, zipfile\n"
                             "book = zipfile.ZipFile(io.BytesIO(sys.stdin.buffer.read()))\n"
                             "sheets = sorted(one for one in book.namelist() if one.startswith('xl/worksheets/sheet'))\n"
                             "sys.stdout.buffer.write(b'\\0'.join(book.read(one) for one in sheets))\n";
  g_autoptr (GBytes) out = NULL;
  g_autoptr (GSubprocess) reader = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE, NULL, "python3", "-c",
                                                     script, NULL);
  g_assert_true (g_subprocess_communicate (reader, workbook, NULL, &out, NULL, NULL) && g_subprocess_get_successful (reader));
  Reading reading = { .cells = g_array_new (FALSE, TRUE, sizeof (Cell)), .text = g_string_new (NULL) };
  g_array_set_clear_func (reading.cells, clear_cell);
  const GMarkupParser parser = { begin_element, end_element, add_text, NULL, NULL };
  gsize size;
  const char *at = g_bytes_get_data (out, &size), *end = at + size;
  for (; at < end; reading.sheet++) {
    gsize length = strnlen (at, (gsize) (end - at));
    GMarkupParseContext *context = g_markup_parse_context_new (&parser, 0, &reading, NULL);
    g_assert_true (g_markup_parse_context_parse (context, at, (gssize) length, NULL));
    g_markup_parse_context_free (context);
    at += length + 1;
  }
  g_string_free (reading.text, TRUE);
  return reading.cells;
}

static void
write_cell (lxw_worksheet *sheet, const Cell *cell, lxw_format *format)
{
  lxw_col_t column = (lxw_col_t) cell->column;
  if (cell->formula && cell->text)
    worksheet_write_formula_str (sheet, cell->row, column, cell->formula, format, cell->text);
  else if (cell->formula)
    worksheet_write_formula_num (sheet, cell->row, column, cell->formula, format, cell->number);
  else if (cell->text)
    worksheet_write_string (sheet, cell->row, column, cell->text, format);
  else if (isnan (cell->number))
    worksheet_write_blank (sheet, cell->row, column, format);
  else
    worksheet_write_number (sheet, cell->row, column, cell->number, format);
}

gsize
cells_write (const GArray *cells, GBytes *picture)
{
  g_autofree char *path = NULL, *written = NULL;
  gsize bytes = 0, length;
  close (g_file_open_tmp ("spurproof-XXXXXX.xlsx", &path, NULL));
  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = (char *) g_get_tmp_dir () };
  lxw_workbook *book = workbook_new_opt (path, &options);
  lxw_worksheet *sheet = NULL;
  g_autoptr (GPtrArray) formats = g_ptr_array_new ();
  for (guint i = 0, open = 0; i < cells->len; i++) {
    const Cell *cell = &g_array_index (cells, Cell, i);
    for (; open <= cell->sheet; open++)
      sheet = workbook_add_worksheet (book, NULL);
    while (formats->len <= cell->format) {
      lxw_format *format = workbook_add_format (book);
      format_set_indent (format, (uint8_t) formats->len); /* no two alike */
      g_ptr_array_add (formats, format);
    }
    write_cell (sheet, cell, g_ptr_array_index (formats, cell->format));
  }
  const unsigned char *png = g_bytes_get_data (picture, &length);
  worksheet_insert_image_buffer (sheet, 0, 0, png, length);
  g_assert_cmpint (workbook_close (book), ==, LXW_NO_ERROR);
  g_assert_true (g_file_get_contents (path, &written, &bytes, NULL));
  remove (path);
  return bytes;
}
