/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures: within the page, or as files of their own. */
#include "findings.h"
#include "new_files.h"
#include "report/page.h"

#include <assert.h>
#include <stdlib.h>

struct svg page_picture(struct report *report, const char *id, double width, double height, const char *title,
                        const char *description)
{
    struct pictures *pictures = &report->pictures;
    if (pictures->folder) {
        pictures->page = report->markup.out;
        report->markup.out = open_memstream(&pictures->bytes, &pictures->size);
        if (!report->markup.out) {
            report->markup.out = pictures->page;
            report->markup.failed = true;
        }
    }
    if (pictures->folder && !(pictures->title = text_format("%s", title)))
        report->markup.failed = true;
    return svg_open(&report->markup, id, width, height, title, description, pictures->folder);
}

bool report_take_pictures(struct report *report)
{
    struct pictures *pictures = &report->pictures;
    /* A range and a chance for each role, two stacks, and an outline and stripes for each line. */
    pictures->most = 2 * report->work->need->role_count + 2 + 2 * hk_tally_lines(report->work->tally);
    pictures->files = calloc(pictures->most, sizeof *pictures->files);
    pictures->titles = calloc(pictures->most, sizeof *pictures->titles);
    return pictures->files && pictures->titles;
}

/* Keeps the bytes and the title of a picture as a file to be made. */
static bool keep(struct pictures *pictures, const char *id)
{
    char *name = text_format("%s.svg", id);
    bool good = name && pictures->title && pictures->bytes; /* a stream that cannot trim its memory has none */
    assert(pictures->count < pictures->most);
    if (good) {
        struct new_file *file = &pictures->files[pictures->count];
        pictures->titles[pictures->count++] = pictures->title;
        *file = (struct new_file){.bytes = pictures->bytes, .size = pictures->size};
        good = new_file_name(file, pictures->folder, name);
    } else {
        free(pictures->bytes);
        free(pictures->title);
    }
    pictures->bytes = pictures->title = NULL;
    free(name);
    return good;
}

void page_picture_end(struct report *report, struct svg *svg)
{
    struct pictures *pictures = &report->pictures;
    svg_close(svg);
    if (!pictures->folder)
        return;
    if (report->markup.out == pictures->page) {
        free(pictures->title);
        pictures->title = NULL;
        return;
    }
    const bool written = !ferror(report->markup.out);
    const bool closed = fclose(report->markup.out) == 0;
    report->markup.out = pictures->page;
    report->markup.failed |= !keep(pictures, svg->id) || !written || !closed;
}

enum outcome report_write_pictures(struct pictures *pictures, struct text *text)
{
    struct new_files set = {.files = pictures->files,
                            .count = pictures->count,
                            .folder = pictures->folder,
                            .remedy = "remove it, or name another folder"};
    enum outcome outcome = new_files_check(&set);
    if (outcome == DONE)
        outcome = new_files_make(&set);
    new_files_end(&set, outcome == DONE);
    if (outcome != DONE)
        return outcome;
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "FILE");
    text_table_column(table, TEXT_WRAP, "PICTURE");
    for (size_t i = 0; i < set.count; i++) {
        text_table_cell(table, "%s", set.files[i].path);
        text_table_cell(table, "%s", pictures->titles[i]);
    }
    text_table_print(table);
    return text_outcome(text);
}

void report_free_pictures(struct pictures *pictures)
{
    const struct new_files set = {.files = pictures->files, .count = pictures->count};
    new_files_free(&set);
    for (size_t i = 0; i < pictures->count; i++)
        free(pictures->titles[i]);
    free(pictures->titles);
    free(pictures->files);
}
