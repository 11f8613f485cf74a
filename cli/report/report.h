/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful report: one page of HTML for a project, in three cuts. Each section has its file; page.h has what they share.
 * Numbers come from the structs that text and JSON come from.
 */
#ifndef REPORT_H
#define REPORT_H

#include "json.h"
#include "markup.h"
#include "pipeline.h"
#include "svg.h"

enum report_cut {
    REPORT_OWN,     /* the maker's: everything, to print and tick off */
    REPORT_CLIENT,  /* for who ordered it: no hours, no chances */
    REPORT_PATTERN, /* for readers of the pattern */
};

/* Pictures that are written as files, in place of the page. */
struct pictures {
    const char *folder;     /* NULL: pictures are within the page */
    struct new_file *files; /* room for `most`; owned */
    char **titles;          /* of each; owned */
    size_t count, most;
    FILE *page;          /* where the page goes while a picture is written */
    char *bytes, *title; /* of that picture; owned */
    size_t size;
};

struct report {
    struct markup markup;
    const struct options *options;
    const struct work *work;
    struct hk_quote *quote; /* NULL: not part of the cut, or quote_diags says why */
    struct hk_diags quote_diags;
    struct hk_materials *materials; /* the same */
    struct hk_diags materials_diags;
    struct hk_schematic *schematic;
    struct hk_diags schematic_diags;
    enum report_cut cut;
    struct pictures pictures;
};

/* Makes room for all pictures that the page can have. Returns false when out of memory. */
bool report_take_pictures(struct report *report);
/* Makes the files of the pictures, and lists them. */
enum outcome report_write_pictures(struct pictures *pictures, struct text *text);
void report_free_pictures(struct pictures *pictures);

/* Writes the page, with the sections of its cut. */
void report_write(struct report *report);
/* Writes the outlines of the pieces, stripes and ends of balls as JSON; all other figures of the page are in the JSON
 * of other commands. */
enum outcome report_json(const struct report *report, FILE *out);

/* Returns where each ball ends, by size and role. */
json_t *report_balls_json(struct json *json, const struct report *report);
/* Returns the lines of pieces with stripes, as the table of the page has them. */
json_t *report_stripes_json(struct json *json, const struct report *report);

/* ---- Sections, in the order of the page ---- */

void report_offer(struct report *report);
void report_answer(struct report *report);
void report_shopping(struct report *report);
void report_ranges(struct report *report);
void report_risks(struct report *report);
void report_balls(struct report *report);
void report_where(struct report *report);
void report_shapes(
    struct report *report); /* with values in the picture of a single size, but letters alone in REPORT_PATTERN */
void report_stripes(struct report *report);
bool report_has_stripes(const struct report *report);
void report_price(struct report *report);
void report_materials(struct report *report);
void report_rows(struct report *report);
void report_notes(struct report *report);
bool report_has_notes(const struct report *report);

/* Returns the letter of a measure: A to Z, then AA. */
struct shape_letter {
    char text[16];
};
struct shape_letter report_shape_letter(size_t letter);

/* Returns what a measure measures: "width", "around", "height". */
const char *report_measured_name(const struct hk_schematic_measure *measure);

/* Returns the index in need->roles of a role in a size; SIZE_MAX: the size does without it. */
size_t report_role(const struct hk_need *need, size_t size, size_t role);

/* Returns the entry of a role in the first size that has it; NULL: no size has it. */
const struct hk_need_role *report_any_size(const struct hk_need *need, size_t role);

/* Returns the fill of a role: its colour, by its place among the roles. */
struct colour report_colour(const struct report *report, size_t role);

/* Returns the shop's answer for a size of the project; NULL: there is none. `at`: its index, SIZE_MAX if none. */
const struct hk_shop_size *report_shop_size(const struct report *report, size_t size, size_t *at);

#endif
