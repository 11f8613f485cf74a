/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern, pattern.txt: its pieces with their parts, and what each part says in working order. Built once,
 * then constant. Rows are not read here but kept as texts that know their place; proof.h reads and works them. What
 * cannot be understood is kept too, with what to say of it: a draft stops nothing.
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
    HK_ENTRY_ROW,       /* a row of the words in `text`, `rows` times */
    HK_ENTRY_REFERENCE, /* rows by reference */
    HK_ENTRY_CUT,       /* `cut_m` of yarn hang from the end: "Fasten off, leaving a 40 cm tail" */
    HK_ENTRY_REFUSED    /* a row that cannot be understood: `problem` */
};

/* What is wrong with an entry. Texts of the arena, or static. */
struct hk_entry_problem {
    enum hk_code code;
    struct hk_place place;
    const char *text, *hint;
};

struct hk_entry {
    enum hk_entry_kind kind;
    struct hk_row_text text;   /* the row's words without label, yarn and tool; of a reference all of it */
    struct hk_row_text stated; /* of a reference or a refused row: what stands behind it, where its counts are */
    struct hk_row_text taken; /* "[take as 84 hdc, 6 ch]": what is between "take as" and the bracket; text NULL: none */
    struct hk_row_text whole; /* with its label */
    struct hk_place place;    /* of the label, or the first word */
    const char *label;        /* "Rnd 3"; "" where it has none */
    bool numbered;            /* `first` to `last` are the rows' numbers; last below first: a size without */
    struct hk_graded_count first, last;
    struct hk_graded_count rows; /* else: how many rows it is */
    bool rows_given;             /* the label says how many */
    enum hk_side side;           /* that its label names */
    bool others;                 /* it stands for rows that are not written: "and all WS rows" */
    const int64_t *list;
    size_t list_count;
    const bool *sizes; /* by size; NULL: all */
    size_t held;       /* yarn, of `helds`; SIZE_MAX: none has been named */
    bool yarn_named;   /* it has been named since the row above */
    size_t colours;    /* 1 + the sequence, of `sequences`, that its rows take their yarns from; 0: none */
    double tool_mm;    /* 0: none has been named */
    struct hk_begin begin;
    struct hk_reference reference;
    double cut_m;
    struct hk_conventions conventions; /* what words have settled so far */
    size_t definition_count;           /* of the definitions, those that stand above it */
    struct hk_entry_problem problem;   /* .text NULL: none */
    size_t line;                       /* of `works`; of a stitch pattern no matter */
};

struct hk_written_part {
    const char *name; /* "" where the piece has no such heading */
    struct hk_graded_count times;
    size_t first, count; /* entries */
    int level;           /* of its heading; of the first part of a piece that of the piece's */
};

struct hk_written_piece {
    const char *name;
    const char *heading; /* the same, before a number told it from others */
    struct hk_graded_count times;
    size_t first, count; /* parts */
    struct hk_place place;
};

/* What of a part is worked with one tool: a line of the project. */
struct hk_written_line {
    size_t piece, part_index;
    const char *part;    /* its name; behind a change of tool with the row it begins with */
    size_t first, count; /* entries */
    double tool_mm;      /* 0: none has been named */
    struct hk_place place;
};

/* Yarns in turn, each for some rows. */
struct hk_written_sequence {
    const size_t *helds; /* of `helds` */
    const struct hk_graded_count *rows;
    size_t count;
    bool carried; /* none is cut */
    bool used;    /* rows are worked in it */
    const char *text;
    struct hk_place place;
};

/* A stitch pattern under its name: rows that are not worked where they stand. */
struct hk_written_block {
    const char *name;
    size_t first, count; /* entries */
};

struct hk_written_definition {
    const char *name, *text; /* text: of the whole sentence */
    struct hk_row_text steps;
};

/* What limits a line to some sizes: words at its start, alone on it for the lines that follow, or on a line above. */
struct hk_written_limit {
    const bool *sizes; /* by size; NULL: all */
    size_t length;     /* bytes of the line that say so; 0: none */
};

/* A line that is not read. */
struct hk_written_prose {
    const char *text;
    struct hk_place place;
    bool work;  /* it stands in a piece and speaks of work */
    bool count; /* a count that follows no row */
};

struct hk_written {
    struct hk_pattern_lines lines;
    struct hk_written_limit *limits; /* of each of the lines */
    struct hk_row_words words;       /* without definitions */
    struct hk_entry *entries;
    size_t entry_count, entry_capacity;
    struct hk_work_name *names; /* of pieces and parts, each with what stands below its heading */
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
    const double *tools_mm; /* all tools that the text names, ascending */
    size_t tool_count;
    struct hk_written_prose *prose;
    size_t prose_count, prose_capacity;
};

/*
 * Reads the text (valid UTF-8, which must live as long) of the file `file`. `words` as for rows, their definitions
 * ignored. *written must stay where it is: places are found by it. False where the arena is out of memory.
 */
bool hk_written_read(const char *bytes, const char *file, const struct hk_row_words *words, struct hk_written *written,
                     struct hk_arena *arena);

/* How many rows the entry is in a size, where its label says so; its sizes and numbers taken into account. */
int64_t hk_entry_rows(const struct hk_entry *entry, size_t size);

#endif
