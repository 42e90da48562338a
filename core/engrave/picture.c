#include "core/engrave/picture.h"

#include "core/engrave/child.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
  SECONDS      = 30,
  PAGES_MOST   = 200,
  PATH_LENGTH  = 64,
  WORDS_BEFORE = 3, // What stands before the pages
};

static const char end_of_page[] = "</svg>";

// Pages as files in a folder of their own
typedef struct {
  char     folder[32];
  unsigned n;
  char     paths[PAGES_MOST][PATH_LENGTH];
} Pages;

static bool
write_page(const char* const path, const char* const svg, const size_t n)
{
  FILE* const file = fopen(path, "w");
  if (!file) {
    return false;
  }
  const bool is_written = fwrite(svg, 1, n, file) == n;
  return fclose(file) == 0 && is_written;
}

static Status
write_pages(Pages* const pages, const char* svg, const size_t n_svg)
{
  const char* const end = svg + n_svg;
  for (const char* close = svg; (close = strstr(svg, end_of_page)) != NULL;
       svg               = close) {
    close += strlen(end_of_page);
    if (close > end || pages->n == PAGES_MOST) {
      return STATUS_FULL;
    }
    char path[PATH_LENGTH];
    (void)snprintf(path, sizeof(path), "%s/%03u.svg", pages->folder, pages->n);
    memcpy(pages->paths[pages->n++], path, sizeof(path));
    if (!write_page(path, svg, (size_t)(close - svg))) {
      return STATUS_SYSTEM;
    }
  }
  return pages->n ? STATUS_OK : STATUS_SYNTAX;
}

static Status
join_pages(const Pages* const pages, char** const bytes, size_t* const size)
{
  const char* words[WORDS_BEFORE + PAGES_MOST + 1] = {
    "rsvg-convert", "--format=pdf", "--keep-aspect-ratio"};
  for (unsigned i = 0; i < pages->n; ++i) {
    words[WORDS_BEFORE + i] = pages->paths[i];
  }
  return child_run(words, SECONDS, "", 0, bytes, size);
}

Status
picture_pdf(const char* const svg,
            const size_t      n_svg,
            char** const      bytes,
            size_t* const     size)
{
  Pages* const pages = calloc(1, sizeof(*pages));
  if (!pages) {
    return STATUS_MEMORY;
  }
  (void)snprintf(pages->folder, sizeof(pages->folder), "/tmp/barter-XXXXXX");
  if (!mkdtemp(pages->folder)) {
    free(pages);
    return STATUS_SYSTEM;
  }
  Status status = write_pages(pages, svg, n_svg);
  if (!status) {
    status = join_pages(pages, bytes, size);
  }
  for (unsigned i = 0; i < pages->n; ++i) {
    (void)unlink(pages->paths[i]);
  }
  (void)rmdir(pages->folder);
  free(pages);
  return status;
}

Status
picture_png(const char* const svg,
            const size_t      n_svg,
            char** const      bytes,
            size_t* const     size)
{
  static const char* const words[] = {"rsvg-convert",
                                      "--format=png",
                                      "--zoom=2",
                                      "--background-color=white",
                                      NULL};
  return child_run(words, SECONDS, svg, n_svg, bytes, size);
}
