/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows that are written by reference to others: "Rep rows 1 and 2", "Rep last 2 rows 5 (6, 7) more times", "Work even
 * for 10 rows", "Dec 1 st each end of next and every 4th row to 34 sts", "Inc 6 sts evenly across", "Knit 4 rows", "As
 * left front, reversing shaping"; and shaping at the same time as other rows.
 */
#ifndef HK_REFERENCE_H
#define HK_REFERENCE_H

#include "pattern/label.h"

enum hk_reference_kind {
    HK_REFERENCE_ROWS,    /* rows of these numbers, in order */
    HK_REFERENCE_LAST,    /* the last rows */
    HK_REFERENCE_EVEN,    /* continue without shaping in the current pattern */
    HK_REFERENCE_WORDS,   /* rows of these words: "k", "sc" */
    HK_REFERENCE_PATTERN, /* a stitch pattern by its name */
    HK_REFERENCE_SHAPE,   /* increase or decrease at the ends of some rows, with rows without shaping between them */
    HK_REFERENCE_EVENLY,  /* a row that increases or decreases by `spread` stitches, in the stitch `words` if stated */
    HK_REFERENCE_EDGE,    /* stitches bound off or cast on at an end of some rows, by `words` */
    HK_REFERENCE_AS,      /* worked as another piece */
};

/* A stage of a shaping: every `every`-th row, `times` times. */
struct hk_shape_stage {
    struct hk_graded_count every;
    struct hk_graded_count
        then; /* "every 2nd and 4th row alternately": the distance after every second row; 0: `every` */
    struct hk_graded_count times;
    bool to;   /* until there are `times` stitches */
    bool open; /* without a number: as long as the rows of the label last */
};
#define HK_STAGES_MOST 6

struct hk_reference {
    enum hk_reference_kind kind;
    const int64_t *numbers; /* HK_REFERENCE_ROWS */
    size_t number_count;
    struct hk_graded_count last; /* HK_REFERENCE_LAST */
    const char *words;           /* HK_REFERENCE_WORDS, _PATTERN, _EDGE, _AS: owner: the arena */
    /* The number of rows. */
    bool times_given; /* all rows are repeated `times` times */
    struct hk_graded_count times;
    bool to_edge;    /* until stitches are joined to the whole edge */
    bool rows_given; /* the number of rows is given */
    struct hk_graded_count rows;
    const double *length_m; /* until it measures this (by size), or for this length if `onward` */
    bool onward;
    size_t from_unread;         /* 1 + the byte of a length measured from a point that is not followed; 0: none */
    struct hk_place from_place; /* place of this byte in the file */
    bool of_part;               /* the length is of a rib or cuff, not of the whole piece */
    bool of_division; /* the length is measured from the underarm: from the row that divides the work, or the start of a
                         piece on its stitches */
    enum hk_side end_side; /* "ending with a WS row" */
    enum hk_side first_side; /* HK_REFERENCE_PATTERN: "beg with a RS row" */
    const char *first; /* HK_REFERENCE_PATTERN: "beg with a K row": "knit" or "purl", as tables/stitches.csv; NULL: not
                          stated. Static */
    /* HK_REFERENCE_SHAPE, and `by`, 1 or -1, of HK_REFERENCE_EVENLY */
    int by;           /* stitches at each of the ends: 1, -2, ... */
    int ends;         /* 1 or 2 */
    const char *edge; /* the end, if one: "neck edge", "beg", "end" */
    const char *row;  /* the label of the shaping row, "dec row", instead of `by`, `ends` and `edge`; or NULL */
    bool first_next;  /* the next row is the first shaping row */
    struct hk_shape_stage stages[HK_STAGES_MOST];
    size_t stage_count;
    bool one_row;   /* "at each end of row": one row is shaped, and no others are worked */
    bool reversing; /* HK_REFERENCE_AS: its mirror image */
    bool in_all;    /* "alternately 6 times" is read as 6 shaping rows in total */
    struct hk_graded_count spread;
    int64_t chains;                     /* HK_REFERENCE_EVENLY: chains at its start; 0: not stated */
    bool at_end;                        /* HK_REFERENCE_EDGE: at the end of the rows */
    const struct hk_reference *besides; /* shaping in the same rows; NULL: none */
    const struct hk_reference *then;    /* the next reference in the same sentence; NULL: none */
    size_t length;                      /* length of the text in bytes, with a full stop after it */
    size_t wrong;                       /* 1 + the byte of a number without one value for each size */
    const char *problem,
        *hint; /* the message for a reference that is ambiguous or cannot be read. Static, or owned by the arena */
    size_t problem_at;
};

/* Returns false when the text is not a reference. */
bool hk_reference_read(const char *text, size_t size_count, struct hk_reference *reference, struct hk_arena *arena);

#endif
