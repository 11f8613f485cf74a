/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern, pattern.txt: its pieces with their parts, and the entries of each part in working order. Built
 * once, then constant. Rows are kept as texts with places; proof.h parses and works them. Text that is not understood
 * is kept with a finding, since a draft is not an error.
 */
#ifndef HK_WRITTEN_H
#define HK_WRITTEN_H

#include "pattern/begin.h"
#include "pattern/follow.h"
#include "pattern/lines.h"
#include "pattern/reference.h"
#include "pattern/setting.h"

enum hk_entry_kind {
    HK_ENTRY_BEGIN,     /* work begins */
    HK_ENTRY_ROW,       /* a row with the words in `text`, `rows` times */
    HK_ENTRY_REFERENCE, /* rows by reference */
    HK_ENTRY_CUT,       /* a tail of `cut_m`: "Fasten off, leaving a 40 cm tail" */
    HK_ENTRY_REFUSED    /* a row that cannot be understood: `problem` */
};

/* An error in an entry. Texts are owned by the arena, or static. */
struct hk_entry_problem {
    enum hk_code code;
    struct hk_place place;
    const char *text, *hint;
};

struct hk_entry {
    enum hk_entry_kind kind;
    struct hk_row_text text;   /* the row's words without label, yarn and tool; the whole text of a reference */
    struct hk_row_text stated; /* of a reference or a refused row: the text after it, with its counts */
    struct hk_row_text taken;  /* "[take as 84 hdc, 6 ch]": the text after "take as"; text NULL: none */
    struct hk_row_text whole; /* with its label */
    struct hk_place place;    /* place of the label, or of the first word */
    const char *label;        /* "Rnd 3"; "" if absent */
    bool numbered;            /* `first` to `last` are the rows' numbers; last < first: the size has no such row */
    struct hk_graded_count first, last;
    struct hk_graded_count rows; /* if not numbered: the number of rows */
    bool rows_given;             /* the label states the number */
    enum hk_side side;           /* the side named in its label */
    bool others;                 /* it applies to rows that are not written: "and all WS rows" */
    const int64_t *list;
    size_t list_count;
    const bool *sizes; /* by size; NULL: all */
    size_t held;       /* yarn, index in `helds`; SIZE_MAX: none has been named */
    bool yarn_named;   /* the yarn has been named since the row above */
    size_t colours;    /* 1 + the colour sequence of its rows, index in `sequences`; 0: none */
    double tool_mm;    /* 0: none has been named */
    struct hk_begin begin;
    struct hk_reference reference;
    double cut_m;
    struct hk_conventions conventions; /* conventions settled so far */
    size_t definition_count;           /* the number of definitions above it */
    struct hk_entry_problem problem;   /* .text NULL: none */
    size_t line;                       /* index in `works`; not used for a stitch pattern */
};

struct hk_written_part {
    const char *name; /* "" if the piece has no heading for it */
    struct hk_graded_count times;
    size_t first, count; /* entries */
    int level;           /* level of its heading; of the first part of a piece, the piece's */
};

struct hk_written_piece {
    const char *name;
    const char *heading; /* the name without a distinguishing number */
    struct hk_graded_count times;
    size_t first, count; /* parts */
    struct hk_place place;
};

/* The section of a part worked with one tool: a line of the project. */
struct hk_written_line {
    size_t piece, part_index;
    const char *part;    /* its name; after a change of tool, with the row that it begins with */
    size_t first, count; /* entries */
    double tool_mm;      /* 0: none has been named */
    struct hk_place place;
};

/* A sequence of yarns, each for a number of rows. */
struct hk_written_sequence {
    const size_t *helds; /* indices in `helds` */
    const struct hk_graded_count *rows;
    size_t count;
    bool carried; /* yarns are not cut */
    bool used;    /* rows use it */
    const char *text;
    struct hk_place place;
};

/* A stitch pattern with its name: rows that are not worked where they are written. */
struct hk_written_block {
    const char *name;
    size_t first, count; /* entries */
};

struct hk_written_definition {
    const char *name, *text; /* text: the whole sentence */
    struct hk_row_text steps;
};

/* The sizes that a line is restricted to, by words at its start, or on a line above. */
struct hk_written_limit {
    const bool *sizes; /* by size; NULL: all */
    size_t length;     /* length of these words in the line; 0: none */
};

/* A line that is not read. */
struct hk_written_prose {
    const char *text;
    struct hk_place place;
    bool work;  /* it is in a piece and mentions work */
    bool count; /* a count without a row */
    bool rows;  /* it is in a piece and has a number of rows or of repeats */
    bool instruction; /* `rows`, and it tells to work them */
};

struct hk_written {
    struct hk_pattern_lines lines;
    struct hk_written_limit *limits; /* for each of the lines */
    struct hk_row_words words;       /* without definitions */
    struct hk_entry *entries;
    size_t entry_count, entry_capacity;
    struct hk_work_name *names; /* the names of pieces and parts, each with the parts below its heading */
    size_t name_count;
    struct hk_written_part *parts;
    size_t part_count, part_capacity;
    struct hk_written_piece *pieces;
    size_t piece_count, piece_capacity;
    struct hk_written_line *works;
    size_t work_count;
    struct hk_written_block *blocks;
    size_t block_count, block_capacity;
    struct hk_written_definition *definitions;
    size_t definition_count, definition_capacity;
    struct hk_held *helds;
    size_t held_count, held_capacity;
    struct hk_written_sequence *sequences;
    size_t sequence_count, sequence_capacity;
    const double *tools_mm; /* all tools named in the text, ascending */
    size_t tool_count;
    struct hk_written_prose *prose;
    size_t prose_count, prose_capacity;
};

/*
 * Reads the text (valid UTF-8, which must live as long as *written) of the file `file`. `words` as for rows; their
 * definitions are ignored. Places refer to *written, so it must not move. Returns false when out of memory.
 */
bool hk_written_read(const char *bytes, const char *file, const struct hk_row_words *words, struct hk_written *written,
                     struct hk_arena *arena);

/* Returns the number of rows of the entry in a size by its label, with regard to its sizes and numbers. */
int64_t hk_entry_rows(const struct hk_entry *entry, size_t size);

#endif
