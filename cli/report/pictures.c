/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures: within the page, or as files of their own. */
#include "new_files.h"
#include "report/page.h"

#include <stdlib.h>

struct svg page_picture(struct report *report, const char *id, double width, double height, const char *title,
                        const char *description)
{
    struct pictures *pictures = report->pictures;
    if (pictures) {
        pictures->page = report->markup.out;
        report->markup.out = open_memstream(&pictures->bytes, &pictures->size);
        if (!report->markup.out) {
            report->markup.out = pictures->page;
            report->markup.failed = true;
        }
    }
    return svg_open(&report->markup, id, width, height, title, description, pictures != NULL);
}

/* Keeps the bytes of a picture as a file to be made. */
static bool keep(struct pictures *pictures, const char *id)
{
    struct new_file *grown = realloc(pictures->files, (pictures->count + 1) * sizeof *grown);
    char *name = text_format("%s.svg", id);
    bool good = grown && name;
    if (grown)
        pictures->files = grown;
    if (good) {
        struct new_file *file = &grown[pictures->count++];
        *file = (struct new_file){.bytes = pictures->bytes, .size = pictures->size};
        good = new_file_name(file, pictures->folder, name);
    } else {
        free(pictures->bytes);
    }
    pictures->bytes = NULL;
    free(name);
    return good;
}

void page_picture_end(struct report *report, struct svg *svg)
{
    struct pictures *pictures = report->pictures;
    svg_close(svg);
    if (!pictures || report->markup.out == pictures->page)
        return;
    const bool written = !ferror(report->markup.out);
    const bool closed = fclose(report->markup.out) == 0;
    report->markup.out = pictures->page;
    report->markup.failed |= !keep(pictures, svg->id) || !written || !closed;
}

enum outcome report_write_pictures(struct pictures *pictures, struct text *text)
{
    struct new_files set = {.files = pictures->files, .count = pictures->count, .folder = pictures->folder,
                            .remedy = "remove it, or name another folder"};
    enum outcome outcome = new_files_check(&set);
    if (outcome == DONE)
        outcome = new_files_make(&set);
    new_files_end(&set, outcome == DONE);
    for (size_t i = 0; i < set.count && outcome == DONE; i++)
        text_line(text, "%s", set.files[i].path);
    return outcome;
}

void report_free_pictures(struct pictures *pictures)
{
    const struct new_files set = {.files = pictures->files, .count = pictures->count};
    new_files_free(&set);
    free(pictures->files);
}
