/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The columns of a file as data: the name of each, whether the file must have it, what its cells hold, and where in the
 * struct of a row the value goes. One loop reads a row by them. The fields of project.csv are described alike.
 */
#ifndef HK_FIELDS_H
#define HK_FIELDS_H

#include "input/quantity.h"
#include "project/read/reading.h"

#include <stddef.h>

enum hk_field_need {
    HK_FIELD_OPTIONAL, /* the file may lack the column */
    HK_FIELD_REQUIRED, /* the file must have it; its cells may be empty */
    HK_FIELD_FILLED,   /* the file must have it, and every row must fill it */
};

/*
 * The contents of a cell, with the type of the value. An empty cell gives the name or text ""; it leaves any other value as
 * it was, and so does a mistake.
 */
enum hk_holds {
    HK_HOLDS_OTHER,    /* no value: the reader of the file reads the cell */
    HK_HOLDS_NAME,     /* const char *: hk_reading_name */
    HK_HOLDS_TEXT,     /* const char *: hk_reading_text */
    HK_HOLDS_QUANTITY, /* double, in the base unit of `dimension` */
    HK_HOLDS_COUNT,    /* int64_t */
    HK_HOLDS_MONEY,    /* int64_t, in minor units */
    HK_HOLDS_WORD,     /* bool: the second of `words`, not the first */
    HK_HOLDS_FABRIC,   /* const struct hk_fabric * */
    HK_HOLDS_TOOL,     /* double, mm */
    HK_HOLDS_GRADED,   /* struct hk_graded */
    HK_HOLDS_READ,     /* any type: the function `read`, which is not called for an empty cell */
};

/* The upper bound of a percentage, and the finding above it: the text `before`, the percentage, the text `after`. */
struct hk_bound {
    double most;
    bool below; /* the bound itself is too large */
    const char *before, *after, *hint;
};

struct hk_field {
    const char *name;
    enum hk_field_need need;
    enum hk_holds holds;
    size_t value;                 /* the offset of the value in the struct of a row */
    bool keeps_cell;              /* the struct has the cell too */
    size_t cell;                  /* at this offset */
    enum hk_dimension dimension;
    enum hk_sign sign;            /* of quantities and counts; positive where not given */
    const struct hk_bound *bound; /* of quantities; NULL: none */
    const char *word;             /* a word that may stand in place of a quantity, or NULL */
    double word_value;            /* the quantity that it means */
    const char *words[2];         /* of HK_HOLDS_WORD */
    bool lengths;                 /* graded cells may be lengths */
    bool (*read)(struct hk_reading *reading, struct hk_cell cell, void *value);
};

/*
 * Initializers for the contents of a field and for the member of `struct type` that takes the value; the compiler checks the
 * type of the member. Further initializers, such as `.sign`, may follow.
 */
#define HK_FIELD_AT(of, type, member) \
    .value = _Generic(((struct type *)0)->member, of: offsetof(struct type, member))
#define HK_FIELD_NAME(type, member) .holds = HK_HOLDS_NAME, HK_FIELD_AT(const char *, type, member)
#define HK_FIELD_TEXT(type, member) .holds = HK_HOLDS_TEXT, HK_FIELD_AT(const char *, type, member)
#define HK_FIELD_QUANTITY(type, member, dim) \
    .holds = HK_HOLDS_QUANTITY, .dimension = (dim), HK_FIELD_AT(double, type, member)
#define HK_FIELD_COUNT(type, member) .holds = HK_HOLDS_COUNT, HK_FIELD_AT(int64_t, type, member)
#define HK_FIELD_MONEY(type, member) .holds = HK_HOLDS_MONEY, HK_FIELD_AT(int64_t, type, member)
#define HK_FIELD_WORD(type, member, no, yes) \
    .holds = HK_HOLDS_WORD, .words = {no, yes}, HK_FIELD_AT(bool, type, member)
#define HK_FIELD_FABRIC(type, member) .holds = HK_HOLDS_FABRIC, HK_FIELD_AT(const struct hk_fabric *, type, member)
#define HK_FIELD_TOOL(type, member) .holds = HK_HOLDS_TOOL, HK_FIELD_AT(double, type, member)
#define HK_FIELD_GRADED(type, member) \
    .holds = HK_HOLDS_GRADED, HK_FIELD_AT(struct hk_graded, type, member), HK_FIELD_KEEPS(type, member.cell)
#define HK_FIELD_READ(type, member, of, function) .holds = HK_HOLDS_READ, .read = (function), HK_FIELD_AT(of, type, member)
#define HK_FIELD_KEEPS(type, member) .keeps_cell = true, .cell = offsetof(struct type, member)

/* A list of fields ends with a NULL name. */
#define HK_FIELDS_MOST 24

/* The columns that the fields describe, as hk_reading_large_table takes them: into `columns`, which is returned. */
const struct hk_column *hk_fields_columns(const struct hk_field *fields, struct hk_column columns[HK_FIELDS_MOST + 1]);

/* As hk_reading_table. */
const struct hk_table *hk_fields_table(struct hk_reading *reading, const char *name, const struct hk_field *fields,
                                       bool required, bool *known);

/* Reads a cell into the struct `into`. False with a finding, or without one where that was reported before. */
bool hk_field_read(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell, void *into);

/* Reads the cells of a row, in the order of the fields, even after a mistake. False where a cell has one. */
bool hk_fields_read(const struct hk_field *fields, struct hk_reading_row row, void *into);

#endif
