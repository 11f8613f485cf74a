/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The common parts of writing the materials block (public part in hankful.h). */
#ifndef HK_MATERIALS_H
#define HK_MATERIALS_H

#include "materials/printed.h"
#include "need/need.h"

/* The block under construction. Sizes count from the first size asked for: 0 is the project's size `first`. */
struct hk_writing {
    struct hk_materials *face;
    struct hk_arena *arena; /* the arena of the face */
    const struct hk_needed *needed;
    const struct hk_project *project;
    const struct hk_tally *tally;
    struct hk_diags *diags;
    enum hk_terms terms;
    enum hk_units units;
    double round_to;
    size_t first, size_count;
};

/* The rounding of an amount, in steps of each system's unit; quarters: print inches in quarters. */
struct hk_unit_step {
    double (*round)(double value, double step);
    double metric, customary;
    bool quarters;
};

/*
 * Returns an amount in both systems. values: in metres, grams or pieces by size; NAN: not needed. Texts are NULL when
 * out of memory.
 */
struct hk_printed hk_writing_amount(struct hk_writing *w, const double *values, enum hk_printed_kind kind,
                                    struct hk_unit_step step);

const struct hk_worked *hk_writing_worked(const struct hk_writing *w, size_t size, size_t line);
/* Returns true when some size works the line. */
bool hk_writing_uses(const struct hk_writing *w, size_t line);
/*
 * Returns true when a line, or a swatch, is worked in rounds: by its rows, else by its fabric's name, the line that it
 * continues, or a start from a ring.
 */
bool hk_writing_rounds(const struct hk_writing *w, size_t line);
bool hk_writing_swatch_rounds(const struct hk_swatch *swatch);
/* Marks the stitches, by index in the catalogue, that some size works in the line. */
void hk_writing_stitches(const struct hk_writing *w, size_t line, bool *used);
/* Returns where the text has the word or words, not within another word, in any letter case; NULL if it does not. */
const char *hk_writing_find(const char *text, const char *spelling);
/* Returns true when the fabric is from the project's own file. */
bool hk_writing_own(const struct hk_writing *w, const struct hk_fabric *fabric);
/*
 * Returns the fabric's name in the terms asked for. The project's fabrics are named in its terms, shipped ones in US
 * terms.
 */
const char *hk_writing_fabric(struct hk_writing *w, const struct hk_fabric *fabric);

/* Returns "480 m / 530 yd", or the one in the units asked for. NULL when a text is. */
const char *hk_writing_units(const struct hk_writing *w, const char *metric, const char *customary);
/* Returns "S", "S and M", "S, M and L" from `count` names, at least one. NULL when out of memory. */
const char *hk_writing_list(struct hk_writing *w, const char *const *names, size_t count);

/* Write the parts, each into its own lists of the face; the listing last. */
void hk_materials_yarns(struct hk_writing *w);
void hk_materials_held(struct hk_writing *w);
void hk_materials_tools(struct hk_writing *w);
void hk_materials_gauges(struct hk_writing *w);
void hk_materials_sizes(struct hk_writing *w);
void hk_materials_notions(struct hk_writing *w);
void hk_materials_words(struct hk_writing *w);
void hk_materials_listing(struct hk_writing *w);

#endif
