/* pictures.c - the pictures of the bench, of a radio or of a stage in its form */
#include "ui/window/widgets/pictures.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/fields.h"

#define SHOWN_SIDE 96 /* pixels: told apart at a glance, three rows of entries high (common practice, no source) */

typedef struct {
  SpPicture *picture;
  char *key; /* its place, from 0, as text */
  SpFormField field;
  GtkWidget *row, *form;
} Row;

struct _SpPictures {
  GtkBox parent_instance;
  SpPicturesOwner owner;
  GPtrArray *shown; /* of Row */
  /* of the template */
  GtkWidget *rows, *add;
};

G_DEFINE_FINAL_TYPE (SpPictures, sp_pictures, GTK_TYPE_BOX)

static void
row_free (gpointer data)
{
  Row *row = data;
  sp_picture_unref (row->picture);
  g_free ((char *) row->field.what);
  g_free (row->key);
  g_free (row);
}

static const GArray *
pictures_of (SpPictures *self)
{
  return self->owner.get (self->owner.owner);
}

/* ---- edits ---- */

/* The same pictures with one's words changed (`caption`), or without it (NULL). */
static gboolean
change (SpPictures *self, guint which, const char *caption, const char *label, GError **error)
{
  const GArray *pictures = pictures_of (self);
  g_autoptr (GArray) changed = sp_captioned_new ();
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    if (i != which)
      sp_captioned_add (changed, one->picture, one->caption);
    else if (caption)
      sp_captioned_add (changed, one->picture, caption);
  }
  return self->owner.set (self->owner.owner, changed, label, error);
}

static char *
get_caption (gpointer owner, const char *key)
{
  const GArray *pictures = pictures_of (owner);
  guint64 which = g_ascii_strtoull (key, NULL, 10);
  return pictures && which < pictures->len ? g_strdup (g_array_index (pictures, SpCaptioned, which).caption) : NULL;
}

static gboolean
set_caption (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change the words below %s"), field->what);
  return change (owner, (guint) g_ascii_strtoull (field->key, NULL, 10), value ? value : "", label, error);
}

static void
on_remove (GtkWidget *button, SpPictures *self)
{
  GError *error = NULL;
  guint which = 0;
  while (which < self->shown->len && !gtk_widget_is_ancestor (button, ((const Row *) self->shown->pdata[which])->row))
    which++;
  if (which == self->shown->len)
    return;
  gtk_widget_grab_focus (self->add); /* the button goes with its row */
  g_autofree char *label = g_strdup_printf (_ ("Take off the picture %s"), ((const Row *) self->shown->pdata[which])->field.what);
  if (!change (self, which, NULL, label, &error))
    self->owner.tell (self->owner.owner, error);
}

/* ---- ways in ---- */

static void
take_files (SpPictures *self, GListModel *files)
{
  for (guint i = 0; i < g_list_model_get_n_items (files); i++) {
    g_autoptr (GFile) file = g_list_model_get_item (files, i);
    self->owner.take (self->owner.owner, file);
  }
}

static void
on_files (GtkWidget *self, GListModel *files)
{
  take_files (SP_PICTURES (self), files);
}

static void
on_add (SpPictures *self)
{
  sp_ask_files (GTK_WIDGET (self), _ ("Pictures"), SP_PICTURE_PATTERN, on_files);
}

static gboolean
dropped (G_GNUC_UNUSED GtkDropTarget *target, const GValue *value, G_GNUC_UNUSED double x, G_GNUC_UNUSED double y, SpPictures *self)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  for (GSList *l = g_value_get_boxed (value); l; l = l->next)
    g_list_store_append (files, l->data);
  take_files (self, G_LIST_MODEL (files));
  return TRUE;
}

/* ---- rows ---- */

static gpointer
decode (G_GNUC_UNUSED const char *path, gpointer picture, GError **error)
{
  return gdk_texture_new_from_bytes (((SpPicture *) picture)->bytes, error);
}

static void
on_decoded (gpointer widget, G_GNUC_UNUSED gpointer picture, gpointer texture, GError *error)
{
  gtk_picture_set_paintable (GTK_PICTURE (widget), texture);
  g_clear_object (&texture);
  g_clear_error (&error);
}

static GtkWidget *
new_image (const SpPicture *picture, const char *name)
{
  static const SpFileReading reading = { decode, g_object_unref, on_decoded, (GDestroyNotify) sp_picture_unref };
  GtkWidget *image = gtk_picture_new ();
  gtk_widget_set_size_request (image, SHOWN_SIDE, SHOWN_SIDE);
  gtk_widget_set_halign (image, GTK_ALIGN_START);
  gtk_picture_set_alternative_text (GTK_PICTURE (image), name);
  sp_reading_begin (image, NULL, &reading, sp_picture_ref ((SpPicture *) picture));
  return image;
}

static GtkWidget *
new_removal (SpPictures *self, const char *name)
{
  GtkWidget *remove = gtk_button_new_with_label (_ ("Remove"));
  g_autofree char *spoken = g_strdup_printf (_ ("Take off the picture %s"), name);
  gtk_button_set_has_frame (GTK_BUTTON (remove), FALSE);
  gtk_widget_set_valign (remove, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (remove, spoken);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), self);
  return remove;
}

static void
add_row (SpPictures *self, guint which, SpPicture *picture)
{
  const SpFormOwner owner = { get_caption, set_caption, self };
  g_autofree char *base = g_path_get_basename (picture->file ? picture->file : "-");
  Row *row = g_new0 (Row, 1);
  row->picture = sp_picture_ref (picture);
  row->key = g_strdup_printf ("%u", which);
  row->field = (SpFormField){ .key = row->key,
                              .what = g_filename_display_name (base),
                              .tip = N_ ("What is said below it on paper; who cannot see it hears this."),
                              .hint = N_ ("nothing is said below it") };
  row->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  row->form = g_object_new (SP_TYPE_FIELDS, "hexpand", TRUE, NULL);
  sp_fields_fill (SP_FIELDS (row->form), NULL, &row->field, 1, 1, &owner);
  sp_fields_refresh (SP_FIELDS (row->form), TRUE);
  gtk_box_append (GTK_BOX (row->row), row->form);
  gtk_box_append (GTK_BOX (row->row), new_removal (self, row->field.what));
  gtk_box_append (GTK_BOX (self->rows), row->row);
  gtk_box_prepend (GTK_BOX (row->row), new_image (picture, row->field.what));
  g_ptr_array_add (self->shown, row);
}

static gboolean
is_shown (SpPictures *self, const GArray *pictures)
{
  guint n = pictures ? pictures->len : 0;
  gboolean same = n == self->shown->len;
  for (guint i = 0; i < n && same; i++)
    same = ((const Row *) self->shown->pdata[i])->picture == g_array_index (pictures, SpCaptioned, i).picture;
  return same;
}

void
sp_pictures_follow (SpPictures *self)
{
  const GArray *pictures = pictures_of (self);
  if (is_shown (self, pictures)) {
    for (guint i = 0; i < self->shown->len; i++)
      sp_fields_refresh (SP_FIELDS (((Row *) self->shown->pdata[i])->form), FALSE);
    return;
  }
  for (guint i = 0; i < self->shown->len; i++) {
    gtk_box_remove (GTK_BOX (self->rows), ((Row *) self->shown->pdata[i])->row);
  }
  g_ptr_array_set_size (self->shown, 0);
  for (guint i = 0; pictures && i < pictures->len; i++)
    add_row (self, i, g_array_index (pictures, SpCaptioned, i).picture);
}

void
sp_pictures_begin (SpPictures *self, const SpPicturesOwner *owner)
{
  self->owner = *owner;
}

GtkWidget *
sp_pictures_entry (SpPictures *self, guint which)
{
  const Row *row = which < self->shown->len ? self->shown->pdata[which] : NULL;
  return row ? sp_fields_widget (SP_FIELDS (row->form), row->key) : NULL;
}

static void
sp_pictures_finalize (GObject *object)
{
  g_ptr_array_unref (SP_PICTURES (object)->shown);
  G_OBJECT_CLASS (sp_pictures_parent_class)->finalize (object);
}

static void
sp_pictures_class_init (SpPicturesClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_pictures_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/pictures.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpPictures, name)
  PART (rows), PART (add);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_add);
}

static void
sp_pictures_init (SpPictures *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->shown = g_ptr_array_new_with_free_func (row_free);
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
