/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of a published pattern's block are written with (public face in hankful.h). */
#ifndef HK_MATERIALS_H
#define HK_MATERIALS_H

#include "materials/printed.h"
#include "need/need.h"

/* The block being written. Sizes are counted from the first of those asked for: 0 is the project's `first`. */
struct hk_writing {
    struct hk_materials *face;
    struct hk_arena *arena; /* of the face */
    const struct hk_needed *needed;
    const struct hk_project *project;
    const struct hk_tally *tally;
    struct hk_diags *diags;
    enum hk_terms terms;
    double round_to;
    size_t first, size_count;
};

/* How an amount is rounded: in steps of each system's unit, inches to quarters. */
struct hk_unit_step {
    double (*round)(double value, double step);
    double metric, customary;
    bool quarters;
};

/* values: in metres, grams or pieces by size; NAN: does without. Texts are NULL when the arena is out of memory. */
struct hk_printed hk_writing_amount(struct hk_writing *w, const double *values, enum hk_printed_kind kind,
                                    struct hk_unit_step step);

const struct hk_worked *hk_writing_worked(const struct hk_writing *w, size_t size, size_t line);
/* Whether any size works the line. */
bool hk_writing_uses(const struct hk_writing *w, size_t line);
/* Whether a line, or a swatch, goes round: as its rows say, else its fabric's name, the line that it continues, a ring. */
bool hk_writing_rounds(const struct hk_writing *w, size_t line);
bool hk_writing_swatch_rounds(const struct hk_swatch *swatch);
/* Whether the fabric is of the project's own file. */
bool hk_writing_own(const struct hk_writing *w, const struct hk_fabric *fabric);
/* The fabric's name in the terms asked for: own fabrics are named in the project's terms, shipped ones in US terms. */
const char *hk_writing_fabric(struct hk_writing *w, const struct hk_fabric *fabric);

/* The parts, each into its own lists of the face. */
void hk_materials_yarns(struct hk_writing *w);
void hk_materials_tools(struct hk_writing *w);
void hk_materials_gauges(struct hk_writing *w);
void hk_materials_sizes(struct hk_writing *w);
void hk_materials_notions(struct hk_writing *w);
void hk_materials_words(struct hk_writing *w);

#endif
