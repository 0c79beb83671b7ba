/* workbook.c - the workbook as a whole: its styles, its sheets in order, its bytes */
#include "ui/report/workbook/workbook.h"

#include "core/quantity/error.h"
#include "ui/report/workbook/workbook-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <math.h>
#include <sys/mman.h>
#include <unistd.h>

#define UNDATED 946684800 /* 2000-01-01: a bench without a date; never the clock, so that equal findings give equal bytes */

lxw_color_t
workbook_colour (const SpColour *colour)
{
  lxw_color_t rgb = (lxw_color_t) lround (colour->red * 255) << 16 | (lxw_color_t) lround (colour->green * 255) << 8
                    | (lxw_color_t) lround (colour->blue * 255);
  return rgb ? rgb : LXW_COLOR_BLACK; /* the library takes 0 for no colour */
}

static void
make_text_styles (Workbook *work, const SpPalette *palette)
{
  lxw_format **styles = work->styles;
  format_set_font_size (styles[STYLE_TITLE], 16);
  format_set_bold (styles[STYLE_TITLE]);
  format_set_font_size (styles[STYLE_SECTION], 12);
  format_set_bold (styles[STYLE_SECTION]);
  for (Style style = STYLE_FIRST_HEAD; style <= STYLE_HEAD; style++) {
    format_set_bold (styles[style]);
    format_set_text_wrap (styles[style]);
    format_set_align (styles[style], LXW_ALIGN_VERTICAL_BOTTOM);
    format_set_bottom (styles[style], LXW_BORDER_THIN);
    format_set_bottom_color (styles[style], workbook_colour (&palette->ink));
    format_set_bg_color (styles[style], workbook_colour (&palette->sheet));
  }
  format_set_align (styles[STYLE_HEAD], LXW_ALIGN_CENTER);
  format_set_indent (styles[STYLE_TEXT], 1); /* stands clear of the number left of it */
  format_set_indent (styles[STYLE_STRONG], 1);
  format_set_font_color (styles[STYLE_NOTE], workbook_colour (&palette->soft));
  format_set_text_wrap (styles[STYLE_NOTE]);
  format_set_align (styles[STYLE_NOTE], LXW_ALIGN_VERTICAL_TOP);
  format_set_text_wrap (styles[STYLE_WRAP]);
  format_set_align (styles[STYLE_WRAP], LXW_ALIGN_VERTICAL_TOP);
  format_set_bold (styles[STYLE_ALARM]);
  format_set_text_wrap (styles[STYLE_ALARM]);
  format_set_font_color (styles[STYLE_ALARM], workbook_colour (&palette->limit));
  format_set_bold (styles[STYLE_STRONG]);
  format_set_underline (styles[STYLE_LINK], LXW_UNDERLINE_SINGLE);
  format_set_font_color (styles[STYLE_LINK], workbook_colour (&palette->trace[0]));
}

static lxw_format *
new_style (Workbook *work)
{
  lxw_format *style = workbook_add_format (work->book);
  format_set_font_name (style, WORKBOOK_FONT);
  return style;
}

static void
make_styles (Workbook *work)
{
  format_set_font_name (STAILQ_FIRST (work->book->formats), WORKBOOK_FONT); /* of cells without a style */
  const SpPalette *palette = sp_palette (FALSE);
  static const struct {
    Style style;
    const char *format;
  } numbers[] = {
    { STYLE_DB, "0.00" },     { STYLE_MOST, "\"<\"0.00;\"<\"-0.00" },
    { STYLE_FINE, "0.0000" }, { STYLE_HERTZ, "#,##0" },
    { STYLE_WHOLE, "0" },     { STYLE_PLAIN, "General" },
  };
  for (guint i = 0; i < N_LOOKS; i++) {
    work->styles[i] = new_style (work);
    format_set_font_color (work->styles[i], workbook_colour (&palette->ink));
  }
  make_text_styles (work, palette);
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++) {
    format_set_num_format (work->styles[numbers[i].style], numbers[i].format);
    format_set_align (work->styles[numbers[i].style], LXW_ALIGN_RIGHT); /* also where a word stands for a number */
  }
  for (guint i = 0; i < G_N_ELEMENTS (work->verdicts); i++) {
    work->verdicts[i] = new_style (work);
    format_set_bold (work->verdicts[i]);
    format_set_font_color (work->verdicts[i], workbook_colour (&palette->verdict[i]));
  }
}

static void
set_properties (const Workbook *work)
{
  const SpBench *bench = work->findings->bench;
  g_autofree char *title = workbook_text (bench->title ? bench->title : ""),
                  *author = workbook_text (bench->operator_name ? bench->operator_name : "");
  g_autofree char *instant = bench->date ? g_strconcat (bench->date, "T00:00:00Z", NULL) : NULL;
  g_autoptr (GDateTime) date = instant ? g_date_time_new_from_iso8601 (instant, NULL) : NULL;
  lxw_doc_properties properties = {
    .title = title, .author = author, .comments = "spurproof " SP_VERSION, .created = date ? (time_t) g_date_time_to_unix (date) : UNDATED
  };
  workbook_set_properties (work->book, &properties);
}

static void
name_sheets (Workbook *work, char **fixed)
{
  g_autoptr (GHashTable) taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  const char *const wishes[] = { _ ("Summary"), _ ("Figure"), _ ("Chain"), _ ("Provenance") };
  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    fixed[i] = workbook_sheet_name (wishes[i], taken);
  guint n = work->findings->n;
  work->page_names = g_new0 (char *, n + 1);
  work->names = g_new0 (char *, n + 1);
  work->trace_names = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    work->page_names[i] = workbook_sheet_name (work->findings->conditions[i].name, taken);
  for (guint i = 0; i < n; i++) {
    g_autofree char *wish = g_strdup_printf (_ ("Working %s"), work->page_names[i]);
    work->names[i] = workbook_sheet_name (wish, taken);
  }
  for (guint i = 0; i < n && work->traces; i++) {
    g_autofree char *wish = g_strdup_printf (_ ("Sweeps %s"), work->page_names[i]);
    work->trace_names[i] = workbook_sheet_name (wish, taken);
  }
}

static gboolean
fail_without_memory (GError **error)
{
  return sp_fail (error, SP_ERROR_IO, _ ("there is not enough memory for the spreadsheet"));
}

static gboolean
fail (const char *why, GError **error)
{
  return sp_fail (error, SP_ERROR_IO, _ ("the spreadsheet cannot be put together in the folder %s: %s"), g_get_tmp_dir (), why);
}

static gboolean
fail_by_errno (GError **error)
{
  int number = errno;
  return number == ENOMEM ? fail_without_memory (error) : fail (g_strerror (number), error);
}

static gboolean
write_sheets (Workbook *work, GError **error)
{
  char *fixed[4] = { NULL };
  name_sheets (work, fixed);
  workbook_plan_losses (work, fixed[2]);
  guint n = work->findings->n;
  work->places = g_new0 (Places, n + 1);
  for (guint i = 0; i < n; i++)
    work->places[i] = workbook_places (&work->findings->conditions[i]);
  g_autoptr (GError) figure = NULL;
  gboolean done = workbook_summary (work, fixed[0]);
  for (guint i = 0; i < n && done; i++)
    done = workbook_condition_page (work, i, &figure);
  done = done && workbook_figure (work, fixed[1], &figure);
  for (guint i = 0; i < n && done; i++)
    done = workbook_condition (work, i);
  done = done && workbook_chain (work, fixed[2]);
  for (guint i = 0; i < n && work->traces && done; i++)
    done = workbook_traces (work, i);
  done = done && workbook_provenance (work, fixed[3]) && workbook_temporary_good (); /* else the library would talk of it */
  if (figure)
    g_propagate_error (error, g_steal_pointer (&figure));
  else if (!done)
    fail_by_errno (error);
  for (guint i = 0; i < G_N_ELEMENTS (fixed); i++)
    g_free (fixed[i]);
  return done;
}

static void
clear (Workbook *work)
{
  guint n = work->findings->n;
  for (guint i = 0; i < n; i++) {
    if (work->places)
      g_free (work->places[i].terms);
    g_strfreev (work->losses ? work->losses[i] : NULL);
  }
  g_free (work->places);
  g_free (work->losses);
  g_strfreev (work->page_names);
  g_strfreev (work->names);
  g_strfreev (work->trace_names);
  g_clear_pointer (&work->chains, g_ptr_array_unref);
}

static gboolean
write_file (const char *path, const SpFindings *findings, const SpView *view, gboolean traces, GError **error)
{
  /* the library makes its files there for itself alone, and takes their names away at once */
  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = (char *) g_get_tmp_dir () };
  Workbook work = { .findings = findings, .view = view, .traces = traces };
  work.book = workbook_new_opt (path, &options);
  if (!work.book)
    return fail_without_memory (error);
  make_styles (&work);
  set_properties (&work);
  gboolean done = write_sheets (&work, error);
  clear (&work);
  if (!done) {
    lxw_workbook_free (work.book);
    return FALSE;
  }
  lxw_error status = workbook_close (work.book);
  if (!workbook_temporary_good ())
    return fail_by_errno (error);
  /* it is packed into memory, and what could not be read is noted above: only memory can lack */
  if (status == LXW_ERROR_MEMORY_MALLOC_FAILED || (status >= LXW_ERROR_ZIP_FILE_OPERATION && status <= LXW_ERROR_ZIP_CLOSE))
    return fail_without_memory (error);
  return status == LXW_NO_ERROR || fail (lxw_strerror (status), error);
}

GBytes *
sp_workbook_export (const SpFindings *findings, const SpView *view, gboolean traces, GError **error)
{
  int file = memfd_create ("spurproof", MFD_CLOEXEC); /* without a name: nothing is left behind, not even by a kill */
  g_autofree char *path = g_strdup_printf ("/proc/self/fd/%d", file);
  g_autoptr (GMappedFile) written = NULL;
  if (file < 0) {
    fail_by_errno (error);
    return NULL;
  }
  /* numbers go into the file as printf writes them: with a decimal point, whatever the user's own mark; words stay in his language */
  locale_t own = uselocale ((locale_t) 0), copy = duplocale (own), mine = copy ? newlocale (LC_NUMERIC_MASK, "C", copy) : NULL;
  if (!mine) {
    fail_without_memory (error);
    if (copy)
      freelocale (copy);
    close (file);
    return NULL;
  }
  uselocale (mine);
  workbook_temporary_begin ();
  gboolean done = write_file (path, findings, view, traces, error) && (written = g_mapped_file_new_from_fd (file, FALSE, error));
  uselocale (own);
  freelocale (mine);
  close (file);
  return done ? g_mapped_file_get_bytes (written) : NULL;
}
