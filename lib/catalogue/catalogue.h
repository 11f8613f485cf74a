/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shipped tables, parsed: stitches, fabrics, yarn categories, tools, fibres, currencies, spreads. */
#ifndef HK_CATALOGUE_H
#define HK_CATALOGUE_H

#include "input/table.h"

enum hk_family { HK_FAMILY_CROCHET, HK_FAMILY_TUNISIAN, HK_FAMILY_KNIT, HK_FAMILIES };

enum hk_terms { HK_TERMS_US, HK_TERMS_UK };

/* A row of stitches.csv. An empty cell in the column of US or UK terms: the stitch has no abbreviation in them. */
struct hk_stitch {
    const char *us, *uk;     /* abbreviation in US and UK terms, NULL if none */
    const char *const *also; /* other spellings and full names, in the terms of the prefix "us:" or "uk:", or in both */
    const enum hk_terms *also_terms; /* parallel to also; HK_TERMS_US | both below */
    const bool *also_both;
    size_t also_count;
    const char *name; /* full US name; also a US word if the stitch has a US abbreviation */
    enum hk_family family;
    int64_t needs, leaves;
    double loops, wraps;
    size_t base; /* the basic stitch that the next row works into: dc for dc2tog and FPdc, mostly the stitch itself */
};

/* Returns its abbreviation in these terms; else its US abbreviation or its name. */
static inline const char *hk_stitch_word(const struct hk_stitch *stitch, enum hk_terms terms)
{
    const char *word = terms == HK_TERMS_UK ? stitch->uk : stitch->us;
    return word ? word : stitch->us ? stitch->us : stitch->name;
}

/* A spelling of a stitch. */
struct hk_spelling {
    const char *text;
    size_t length, stitch; /* stitch: index in the catalogue */
    size_t next;           /* 1 + the index of the next word with the same first two letters; 0: none */
};

/* The hash of a letter, ignoring case; other characters share the hash of some letter. */
#define HK_LETTERS 32
#define hk_letter(c) ((unsigned char)(c) % HK_LETTERS)

/* All spellings in US or UK terms; abbreviations first, so that suggestions prefer them. */
struct hk_words {
    struct hk_spelling *words;
    size_t count;
    size_t first[HK_LETTERS][HK_LETTERS]; /* by hk_letter of the first two letters (0 for a missing second): 1 + the
                                           * index, 0: none */
};

struct hk_fabric; /* pattern/fabric.h: the type of shipped fabrics and of the designer's own */

/* Another name of a shipped fabric. */
struct hk_fabric_alias {
    const char *name;
    const struct hk_fabric *fabric;
};

/*
 * A yarn category. Ranges overlap. "and fewer": wraps_low is 0. "and up": wraps_high is INFINITY. Both are NAN if the
 * trade gives no range.
 */
struct hk_category {
    const char *name;         /* "4" */
    const char *label;        /* "Medium" */
    const char *types;        /* the trade's names of these yarns, separated by semicolons: "worsted; afghan; aran" */
    double wraps_low, wraps_high; /* per inch */
};

/*
 * Returns the category named "4", "Medium", "4 Medium" or "category 4 (Medium)", or by a trade name that belongs to one
 * category only ("aran"), ignoring letter case; NULL if there is none.
 */
const struct hk_category *hk_category_find(const struct hk_catalogue *catalogue, const char *text);

/*
 * Returns true when a yarn with this number of wraps per inch belongs to the category. Wraps are rounded, so 4.6 is in
 * 5 to 6 and there is no gap to 1 to 4. A yarn coarser than the coarsest category belongs to it.
 */
bool hk_category_holds(const struct hk_catalogue *catalogue, const struct hk_category *category, double wraps);

/* A size label of a hook or needle: "H-8" is 5 mm; "N/P-15" is sold as N-15 and as P-15. Letters are not unique. */
enum hk_tool_kind { HK_TOOL_HOOK, HK_TOOL_STEEL_HOOK, HK_TOOL_NEEDLE };

struct hk_tool {
    double tool_mm;
    const char *label;
    enum hk_tool_kind kind;
};

struct hk_fibre {
    const char *name; /* "wool, carded": labels rarely state the kind after the comma */
    const char *also; /* other names on labels, separated by semicolons; "" if none */
    double allowance; /* conventional moisture allowance, a ratio of the dry mass */
};

struct hk_currency {
    const char *code;
    int minor_digits;
};

/*
 * The parameters of the model that are not measured, named as in tables/spreads.csv; a project may override them.
 * Standard deviations of natural logarithms unless stated otherwise.
 */
struct hk_spreads {
    double wrap_ratio;   /* omega: length of a wrap relative to a full loop, median */
    double wrap;         /* of ln omega */
    double tension, stitch, tool, yarn, grist, making, piece;
    double garment;  /* of a garment's lengths relative to a swatch's */
    double moisture; /* part of the moisture allowance that a yarn lacks when weighed: median, also its standard
                      * deviation */
    double unstated, unstated_spread; /* median deficit of a ball's mass from its label if the fibre is not stated,
                                       * and its spread */
    double ball;                      /* of the mass of single balls */
    double reader;                    /* of ln length, for a reader of the pattern who meets its gauge */
    double unravelled;   /* relative standard uncertainty of an unravelled length */
    double diameter_mm;  /* yarn diameter in mm for 1 tex: d = this * sqrt(tex) */
    double time_loop_s;  /* seconds per loop, median */
    double time_tension, time_stitch, time_tool, time_yarn, time_making, time_piece;
    double time_end_min; /* minutes to weave in an end */
};

struct hk_catalogue {
    struct hk_arena arena;
    struct hk_table **tables; /* as shown by `hankful tables` */
    size_t table_count;
    struct hk_stitch *stitches;
    size_t stitch_count;
    struct hk_words words[2]; /* by terms; for parsing rows */
    const struct hk_table *fabrics_table;
    struct hk_fabric *fabrics; /* always in US terms */
    size_t fabric_count;
    struct hk_fabric_alias *aliases;
    size_t alias_count;
    struct hk_category *categories;
    size_t category_count;
    struct hk_tool *tools;
    size_t tool_count;
    struct hk_fibre *fibres;
    size_t fibre_count;
    struct hk_currency *currencies;
    size_t currency_count;
    struct hk_spreads spreads;
};

/* Returns the spread with this name in *spreads, to read or override; NULL if there is none. */
double *hk_spreads_find(struct hk_spreads *spreads, const char *name);
/* Returns its largest allowed value: 1 for ratios and standard deviations of logarithms. */
double hk_spreads_most(const char *name);
/* Returns true for a quantity that may well be 1, such as a time, and false for ratios and standard deviations. */
bool hk_spreads_plain(const char *name);
/* Returns the name of spread i, for suggestions; NULL past the end. */
const char *hk_spreads_name(size_t i);

/*
 * Parses a tool's diameter: "5 mm", "H-8", "H", "US 8", "K-10.5", "J (6 mm)", "6 mm (J)"; letter case, blanks and
 * dashes do not matter. A label with several diameters is an error that lists them; a bare number, which may be mm or a
 * US size, is an error that suggests both. Returns false with a finding, or silently when the cell is empty (the table
 * reader has reported it).
 */
bool hk_tool_cell(struct hk_cell cell, const struct hk_catalogue *catalogue, double *tool_mm, struct hk_diags *diags);

/* Returns the index of the stitch with exactly this US abbreviation; SIZE_MAX if there is none. */
size_t hk_catalogue_stitch(const struct hk_catalogue *catalogue, const char *us);

/* Returns the currency with this code, ignoring letter case; NULL if there is none. */
const struct hk_currency *hk_currency_find(const struct hk_catalogue *catalogue, const char *code);
/* Columns of fabrics.csv. */
enum { HK_FABRICS_FABRIC, HK_FABRICS_ALSO = 4 };

/*
 * Reads all tables; hk_catalogue_read then parses the rows of fabrics. The result is returned even with errors; NULL
 * only when out of memory.
 */
struct hk_catalogue *hk_catalogue_tables_read(const struct hk_source *source, struct hk_diags *diags);

#endif
