/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlines of one piece in all sizes, the names of their measures, and the picture of them. */
#ifndef REPORT_OUTLINES_H
#define REPORT_OUTLINES_H

#include "number.h"
#include "report/page.h"

/* The outline of one piece in all sizes: pieces[first] up to pieces[end]. */
struct outlines {
    const struct hk_schematic_piece *pieces;
    size_t first, end;
    size_t letters; /* the number of measures over all sizes */
    size_t drawn;   /* sizes with an outline */
    bool values;    /* the labels state the values */
};

/* Returns the outlines of the pieces from `first` up to `end`. */
struct outlines outlines_of(const struct report *report, size_t first, size_t end);

static inline bool outline_drawn(const struct hk_schematic_piece *piece)
{
    return piece->outline != HK_OUTLINE_UNKNOWN;
}

/* Returns the measure that a letter names in one size; NULL: the size has none. */
const struct hk_schematic_measure *outline_measure(const struct hk_schematic_piece *piece, size_t letter);

/* Returns the index of the size in which a letter is drawn: the last that has it. SIZE_MAX: none has. */
size_t outlines_lettered(const struct outlines *outlines, size_t letter);

/* Format "54.0", and "sts" or "rows". */
struct number outline_centimetres(double length_m);
const char *outline_counted_in(const struct hk_schematic_measure *measure);

/* Draws the picture, with a title. */
void outlines_draw(struct report *report, const struct outlines *outlines, const char *title);

#endif
