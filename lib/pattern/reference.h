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
    HK_REFERENCE_ROWS,    /* rows of these numbers, in turn */
    HK_REFERENCE_LAST,    /* the last rows, however many */
    HK_REFERENCE_EVEN,    /* go on without shaping, in the pattern as it stands */
    HK_REFERENCE_WORDS,   /* rows of these words: "k", "sc" */
    HK_REFERENCE_PATTERN, /* a stitch pattern by its name */
    HK_REFERENCE_SHAPE,   /* increase or decrease at the ends of some rows, and go on without between them */
    HK_REFERENCE_EVENLY,  /* a row that increases or decreases by `spread` stitches; in the stitch `words`, if that is
                             said */
    HK_REFERENCE_EDGE,    /* stitches bound off or cast on at an end of some rows: `words` say it */
    HK_REFERENCE_AS,      /* as another piece */
};

/* Some of the rows of a shaping: each `every`th, `times` of them. */
struct hk_shape_stage {
    struct hk_graded_count every;
    struct hk_graded_count then; /* "every 2nd and 4th row alternately": behind each second of them; 0: `every` */
    struct hk_graded_count times;
    bool to;   /* until `times` stitches are there, in place of so many times */
    bool open; /* how many is not said: as long as the rows of the label last */
};
#define HK_STAGES_MOST 6

struct hk_reference {
    enum hk_reference_kind kind;
    const int64_t *numbers; /* HK_REFERENCE_ROWS */
    size_t number_count;
    struct hk_graded_count last; /* HK_REFERENCE_LAST */
    const char *words;           /* HK_REFERENCE_WORDS, _PATTERN, _EDGE, _AS: owner: the arena */
    /* How many rows. */
    bool times_given; /* so many times all of the rows */
    struct hk_graded_count times;
    bool to_edge;    /* until stitches are joined to all of the edge */
    bool rows_given; /* so many rows */
    struct hk_graded_count rows;
    const double *length_m; /* until it measures that (by size), or for that long if `onward` */
    bool onward;
    size_t from_unread; /* 1 + the byte of a length that is measured from a place which is not followed; 0: none */
    struct hk_place from_place; /* the place of that byte in the file */
    bool of_part;          /* a rib, a cuff measures it, not the whole piece */
    bool of_division; /* measured from the underarm: from the row that divides the work, or the start of a piece on its
                         stitches */
    enum hk_side end_side; /* "ending with a WS row" */
    /* HK_REFERENCE_SHAPE, and `by`, 1 or -1, of HK_REFERENCE_EVENLY */
    int by;           /* stitches at each of the ends: 1, -2, ... */
    int ends;         /* 1 or 2 */
    const char *edge; /* which, of one: "neck edge", "beg", "end" */
    const char *row;  /* the label of the row that shapes, "dec row", in place of `by`, `ends` and `edge`; or NULL */
    bool first_next;  /* the next row is the first of them */
    struct hk_shape_stage stages[HK_STAGES_MOST];
    size_t stage_count;
    bool one_row;   /* "at each end of row": one row is shaped, and no more are worked */
    bool reversing; /* HK_REFERENCE_AS: its mirror image */
    bool in_all; /* "alternately 6 times" is taken as 6 rows that shape, in all */
    struct hk_graded_count spread;
    int64_t chains;                     /* HK_REFERENCE_EVENLY: that it begins with; 0: not said */
    bool at_end;                        /* HK_REFERENCE_EDGE: at the end of the rows */
    const struct hk_reference *besides; /* shaping in the same rows; NULL: none */
    const struct hk_reference *then;    /* what follows in the same sentence; NULL: nothing */
    size_t length;                      /* bytes of the text that it takes, a full stop behind it too */
    size_t wrong;                       /* 1 + the byte of a number that has not one value for each size */
    const char *problem,
        *hint; /* it is one, and may be meant in two ways or cannot be read: what to say. Static, or of the arena */
    size_t problem_at;
};

/* False where the text is no such thing. */
bool hk_reference_read(const char *text, size_t size_count, struct hk_reference *reference, struct hk_arena *arena);

#endif
