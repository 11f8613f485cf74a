/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shipped tables, parsed: stitches, fabrics, yarn categories, tools, fibres, currencies, spreads. */
#ifndef HK_CATALOGUE_H
#define HK_CATALOGUE_H

#include "input/table.h"

enum hk_family { HK_FAMILY_CROCHET, HK_FAMILY_TUNISIAN, HK_FAMILY_KNIT, HK_FAMILIES };

enum hk_terms { HK_TERMS_US, HK_TERMS_UK };

/* A row of stitches.csv. A word that a terms' column leaves empty does not exist in those terms. */
struct hk_stitch {
    const char *us, *uk;      /* abbreviation in each terms, NULL where there is none */
    const char *const *also;  /* other spellings and full names, in the terms that a prefix "us:" or "uk:" named, or both */
    const enum hk_terms *also_terms; /* parallel to also; HK_TERMS_US | both below */
    const bool *also_both;
    size_t also_count;
    const char *name;         /* full US name, a US word too unless the stitch has no US abbreviation */
    enum hk_family family;
    int64_t needs, leaves;
    double loops, wraps;
    size_t base; /* the basic stitch that it is to work into: of dc2tog and FPdc dc, of most itself */
};

/* How these terms write it; its US word or its name where they have none. */
static inline const char *hk_stitch_word(const struct hk_stitch *stitch, enum hk_terms terms)
{
    const char *word = terms == HK_TERMS_UK ? stitch->uk : stitch->us;
    return word ? word : stitch->us ? stitch->us : stitch->name;
}

/* A way to write a stitch. */
struct hk_spelling {
    const char *text;
    size_t length, stitch; /* stitch: of the catalogue */
    size_t next;           /* 1 + the next with like first two letters; 0: none */
};

/* A letter without its case; other characters stand with some letter. */
#define HK_LETTERS 32
#define hk_letter(c) ((unsigned char)(c) % HK_LETTERS)

/* All ways in one of the terms; abbreviations first, so that a suggestion prefers them. */
struct hk_words {
    struct hk_spelling *words;
    size_t count;
    size_t first[HK_LETTERS][HK_LETTERS]; /* by hk_letter of the first two (of one letter: and 0): 1 + the word, 0: none */
};

struct hk_fabric; /* pattern/fabric.h: a fabric is the same thing shipped or the designer's own */

/* What a shipped fabric is called too. */
struct hk_fabric_alias {
    const char *name;
    const struct hk_fabric *fabric;
};

/* Ranges overlap. "and fewer": wraps_low is 0. "and up": wraps_high is INFINITY. Where the trade gives no range both are NAN. */
struct hk_category {
    const char *name;         /* "4" */
    const char *label;        /* "Medium" */
    const char *types;        /* what the trade calls such yarns, parted by semicolons: "worsted; afghan; aran" */
    double wraps_low, wraps_high;     /* an inch */
};

/*
 * "4", "Medium", "4 Medium", "category 4 (Medium)", or what the trade calls the yarns of that category alone, "aran"; in any
 * letter case; NULL if it is none of them.
 */
const struct hk_category *hk_category_find(const struct hk_catalogue *catalogue, const char *text);

/*
 * Whether a yarn of so many wraps an inch belongs to the category. Wraps are counted whole, so that 4.6 lies in 5 to 6 and no
 * gap opens between that and 1 to 4; what is coarser than the coarsest category is of that one.
 */
bool hk_category_holds(const struct hk_catalogue *catalogue, const struct hk_category *category, double wraps);

/* A label of a hook or needle: "H-8" is 5 mm, "N/P-15" is sold as N-15 and as P-15. Letters are not unique. */
enum hk_tool_kind { HK_TOOL_HOOK, HK_TOOL_STEEL_HOOK, HK_TOOL_NEEDLE };

struct hk_tool {
    double tool_mm;
    const char *label;
    enum hk_tool_kind kind;
};

struct hk_fibre {
    const char *name;          /* "wool, carded": the kind behind the comma is seldom on a label */
    const char *also;          /* what else labels call it, parted by semicolons; "" where nothing */
    double allowance;          /* moisture that trade agrees to, of the dry mass */
};

struct hk_currency {
    const char *code;
    int minor_digits;
};

/*
 * Every number of the model that is no measurement: names as in tables/spreads.csv, which also a project may override.
 * Standard deviations of natural logarithms unless said otherwise.
 */
struct hk_spreads {
    double wrap_ratio;   /* omega: a wrap against a full loop, median */
    double wrap;         /* of ln omega */
    double tension, stitch, tool, yarn, grist, making, piece;
    double garment;      /* of a garment's lengths against a swatch's */
    double moisture;     /* part of its moisture allowance that a yarn lacks where it is weighed: median, and spread */
    double unstated, unstated_spread; /* how much lighter than its label a yarn weighs whose fibre is not stated */
    double ball;         /* one ball's mass against the next */
    double reader;       /* of ln length: a reader of the pattern who meets its gauge */
    double unravelled;   /* relative standard uncertainty of an unravelled length */
    double diameter_mm;  /* yarn diameter in mm for 1 tex: d = this * sqrt(tex) */
    double time_loop_s;  /* seconds that a loop takes, median */
    double time_tension, time_stitch, time_tool, time_yarn, time_making, time_piece;
    double time_end_min; /* minutes that weaving in an end takes */
};

struct hk_catalogue {
    struct hk_arena arena;
    struct hk_table **tables; /* as shown by `hankful tables` */
    size_t table_count;
    struct hk_stitch *stitches;
    size_t stitch_count;
    struct hk_words words[2];  /* by terms; rows are read by them */
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

/* The spread of that name in *spreads, to read or override; NULL if there is none. */
double *hk_spreads_find(struct hk_spreads *spreads, const char *name);
/* The largest value that makes sense for it: 1 for ratios and standard deviations of logarithms. */
double hk_spreads_most(const char *name);
/* Whether it is an amount of its own, of which 1 is a usual one, and neither a part nor a standard deviation. */
bool hk_spreads_plain(const char *name);
/* Names of spreads, for suggestions; NULL past the end. */
const char *hk_spreads_name(size_t i);

/*
 * A tool's diameter from a cell: "5 mm", "H-8", "H", "US 8", "K-10.5"; letter case, blanks and dashes do not matter;
 * "J (6 mm)" and "6 mm (J)" too. A label alone that sizes share is an error that lists the mm, and a bare number, which
 * may be either, one that offers both. False with a finding, or silently where the cell is empty (its table has said so).
 */
bool hk_tool_cell(struct hk_cell cell, const struct hk_catalogue *catalogue, double *tool_mm, struct hk_diags *diags);

/* The stitch that US terms abbreviate so, letter by letter; SIZE_MAX: there is none. */
size_t hk_catalogue_stitch(const struct hk_catalogue *catalogue, const char *us);

/* By code, in any letter case; NULL if there is none. */
const struct hk_currency *hk_currency_find(const struct hk_catalogue *catalogue, const char *code);
/* Columns of fabrics.csv. */
enum { HK_FABRICS_FABRIC, HK_FABRICS_ALSO = 4 };

/*
 * All tables, of fabrics the table alone: hk_catalogue_read adds what its rows say. Delivered with mistakes too; NULL
 * where memory runs out.
 */
struct hk_catalogue *hk_catalogue_tables_read(const struct hk_source *source, struct hk_diags *diags);

#endif
