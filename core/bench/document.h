/* document.h - what a club's report says besides the findings, and which parts it has: a .report file as a value (core/docs/files.md, section 2)
 *
 * Immutable, reference counted. Its text is kept as it was written, comments and all; an edit changes one key of it. Nothing is judged by it.
 */
#pragma once

#include "core/picture/captioned.h"
#include "core/quantity/keyspec.h"

typedef enum {
  SP_DOCUMENT_FRONT,
  SP_DOCUMENT_OVERLAYS,
  SP_DOCUMENT_CONDITIONS,
  SP_DOCUMENT_WHOSE, /* what each emission was compared with, on its condition's page */
  SP_DOCUMENT_COMPARISON,
  SP_DOCUMENT_CHAIN,
  SP_DOCUMENT_METHOD, /* how it was measured and judged, and what was not looked at */
  SP_DOCUMENT_BUDGET,
  SP_DOCUMENT_FILES,
  SP_DOCUMENT_PICTURES,
  SP_N_PARTS
} SpDocumentPart;
extern const char *const sp_document_part_names[]; /* "front" "overlays" ...; NULL-terminated */

typedef struct {
  char *radio, *text;
  char *heading; /* of its group, as the file spells it */
} SpRemark;

typedef struct {
  char *title, *introduction, *conclusions; /* NULL: none. Paragraphs are divided by line ends, `\n` in the file */
  char *language;                           /* "en"; NULL: the user's */
  int paper;                                /* into sp_document_papers */
  SpPicture *letterhead;                    /* over every paper, in place of the bench's; NULL: none */
  char *letterhead_name;                    /* as the file calls it, decoded; NULL */
  GArray *parts;                            /* of SpDocumentPart, each once, in order; NULL: all, as they come */
  GArray *remarks;                          /* of SpRemark, in the file's order */
  char *file;                               /* NULL: made here */
  char *text;
  char *sha256;        /* of the text */
  GPtrArray *warnings; /* SpReason* */
} SpDocument;

extern const char *const sp_document_papers[];               /* "not stated" "a4" "letter" "a5"; NULL-terminated */
extern const SpKeySpec sp_document_keys[], sp_remark_keys[]; /* of [report] and of [remark RADIO] */

/* Errors: FILE:LINE:COLUMN: [group] key: what. `pictures`: where the letterhead comes from; NULL: a file beside `name`. (transfer full) */
SpDocument *sp_document_read (const char *path, GError **error);
SpDocument *sp_document_parse (const char *text, gsize length, const char *name, const SpPictureSource *pictures, GError **error);
SpDocument *sp_document_new (void); /* that says nothing */
SpDocument *sp_document_ref (SpDocument *document);
void sp_document_unref (SpDocument *document);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpDocument, sp_document_unref)

/* The remark on a radio; NULL: none. Edits: core/bench/edit/edit.h. */
const char *sp_document_remark (const SpDocument *document, const char *radio);
