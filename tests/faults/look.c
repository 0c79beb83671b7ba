/* look.c - opens bench books and tells of each, one line: its present bench's hash, or `-` and why it was refused */
#include <stdio.h>

#include "core/book/book.h"

int
main (int n, char **paths)
{
  for (int i = 1; i < n; i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBook) book = sp_book_open (paths[i], &error);
    printf ("%s\n", book ? sp_book_bench (book)->sha256 : "-");
    if (!book)
      fprintf (stderr, "%s\n", error->message);
  }
  return 0;
}
