/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A parsed row: a tree of steps in working order, and the counts that the row states. fabrics.csv and pattern.txt use
 * the same rows, in short notation (`*sc 1, ch 1, sk 1*`) and in sentences ("sc in each st across"). follow.h applies
 * the steps to stitches.
 */
#ifndef HK_ROW_H
#define HK_ROW_H

#include "catalogue/catalogue.h"
#include "input/quantity.h"

/*
 * A cell holds up to HK_COUNT_MOST stitches or rows. Worked rows have their own limits: HK_SPOTS_MOST,
 * HK_PART_ROWS_MOST.
 */

/* An integer, or one for each size. 0 in a size that does not have it. */
struct hk_graded_count {
    int64_t one;
    const int64_t *by_size; /* NULL: `one` in every size */
};

static inline int64_t hk_graded_in(struct hk_graded_count number, size_t size)
{
    return number.by_size ? number.by_size[size] : number.one;
}

/* The kind of a place. */
enum hk_what {
    HK_WHAT_ANY,    /* "st": a stitch, whatever its kind */
    HK_WHAT_STITCH, /* `stitch`, or one made from it (a dc2tog is a dc to work into) */
    HK_WHAT_SPACE,  /* a chain space, of `chains` chains or (0) any */
    HK_WHAT_CHAIN,  /* single chains: of the foundation or of a space */
    HK_WHAT_TOP,    /* top of a counting chain of `chains` chains or (0) any */
    HK_WHAT_RING,
    HK_WHAT_GAP,       /* between two groups or stitches */
    HK_WHAT_GROUP,     /* all stitches in one place: a shell, a V-stitch, a cluster */
    HK_WHAT_MARKED,    /* a marked stitch, or at a marker */
    HK_WHAT_NTH_CHAIN, /* the `nth` chain from the hook */
    HK_WHAT_SKIPPED,   /* a stitch that this row skipped */
    HK_WHAT_BELOW,     /* a place that uses no place of the edge: in rows further below, the post of a stitch below */
    HK_WHAT_OTHER      /* places of other work: `other` of them, of `works` */
};

/* Places of other work. */
enum hk_other_kind {
    HK_OTHER_ROW_ENDS,   /* one for each flat row */
    HK_OTHER_LEFT,       /* stitches that rows left unworked, skipped or put on hold */
    HK_OTHER_CHAINS,     /* chains in place of skipped stitches, from their other side */
    HK_OTHER_STITCHES,   /* stitches of the last row of a piece or part */
    HK_OTHER_FOUNDATION, /* the other side of the foundation */
    HK_OTHER_BASE,       /* the edge that a rib is joined to as it grows */
    HK_OTHER_EVENLY      /* the stated number, spread along an edge */
};

/* Parts of a written pattern that a heading names: from `first` on, `count` of them. */
struct hk_parts {
    size_t first, count;
};

static inline bool hk_parts_have(struct hk_parts parts, size_t part)
{
    return part >= parts.first && part - parts.first < parts.count;
}

struct hk_work_name {
    const char *name; /* name of a heading */
    struct hk_parts parts;
};

/*
 * Returns the bytes at the start of the text that are the name of a heading, in the singular or plural of the heading
 * ("sleeve" of "Sleeves"), as whole words; 0: the text begins otherwise.
 */
size_t hk_work_name_ahead(const char *text, const char *name);

/* Which of the places. */
enum hk_which { HK_WHICH_NEXT, HK_WHICH_EACH, HK_WHICH_FIRST, HK_WHICH_LAST, HK_WHICH_SAME };

/* The end of "each", of a repeat, or of "k to last 3 sts". */
enum hk_limit {
    HK_LIMIT_NONE,  /* not stated: before the place that the row names next */
    HK_LIMIT_END,   /* across, around, to end */
    HK_LIMIT_LAST,  /* to the last `count` places */
    HK_LIMIT_PLACE, /* to the next place of a kind: "to next ch-2 sp", "to marker" */
    HK_LIMIT_COUNT  /* in the stated number, "each of next 3 sts" */
};

struct hk_where {
    bool given;  /* false: the next place, not stated */
    bool worded; /* stated in words, not only by a number: "next 2 sts", not `sk 2` */
    enum hk_which which;
    enum hk_what what;
    size_t stitch; /* HK_WHAT_STITCH; SIZE_MAX: any */
    int64_t chains;
    bool of_chains; /* HK_WHAT_SPACE without a number: "ch sp", not "sp", which may be a gap */
    struct hk_graded_count count; /* places; of HK_LIMIT_COUNT */
    enum hk_limit limit;
    struct hk_graded_count last;    /* HK_LIMIT_LAST and HK_LIMIT_PLACE: places before this point that stay free */
    const struct hk_where *until;   /* HK_LIMIT_PLACE */
    const struct hk_where *besides; /* "each sc and each ch-1 sp": the other kinds of places */
    /*
     * Within a group: its `nth` place from 1, -1 the last, 0 its middle; `within` is false for a place that is not part
     * of a group.
     */
    bool within;
    int64_t nth;
    enum hk_other_kind other; /* HK_WHAT_OTHER, HK_WHAT_SKIPPED */
    const struct hk_parts *works;
    size_t work_count;  /* 0: none named */
    bool all;           /* of all copies of the piece */
    bool center;        /* "center 20 sts": with equal numbers before and after them */
    int64_t take, of;   /* `take` of every `of` places, "every other row end"; of 0: all */
    bool both_layers;   /* two places at a time: one from each of two pieces, or of a folded edge */
    size_t at; /* byte of the row's text, for messages */
};

enum hk_step_kind {
    HK_STEP_STITCH,  /* `many` of `stitch` in each place of `where` */
    HK_STEP_CHAIN,   /* `many` chains */
    HK_STEP_TURNING, /* `many` chains at the turn, counting as `steps`, or not at all if there are none: `tch 3 as dc`
                      */
    HK_STEP_GROUP,   /* all `steps` in each place of `where` */
    HK_STEP_REPEAT,  /* all `steps`, `many` times or up to a limit (in `where`) */
    HK_STEP_SKIP,    /* `where`; held under `name` if it has one */
    HK_STEP_JOIN,    /* a slip stitch that closes a round */
    HK_STEP_TURN,
    HK_STEP_MARK,       /* a marker is placed; in `where` if given, else here */
    HK_STEP_PASS,       /* a marker is slipped from needle to needle */
    HK_STEP_UNMARK,     /* a marker is taken out */
    HK_STEP_CUT,        /* `cut_m` of yarn, `many` times */
    HK_STEP_LEAVE,      /* the places `where` stay unworked */
    HK_STEP_OTHER_SIDE, /* continue along the other side of the foundation places that the row has used */
    HK_STEP_YARN        /* continue in the yarn `name` with the index `spare` */
};

/* Increases and decreases without a stitch: in the stitch of the row, else of the row below, else sc. */
#define HK_STITCH_INC (SIZE_MAX - 1) /* two in one place */
#define HK_STITCH_DEC (SIZE_MAX - 2) /* two together */

/* Whether the chains of a step count, as the row states. */
enum hk_counts { HK_COUNTS_OPEN, HK_COUNTS_YES, HK_COUNTS_NO };

struct hk_step {
    enum hk_step_kind kind;
    size_t stitch;
    bool stitch_inc; /* "hdc inc": two of it in one place */
    struct hk_graded_count many;
    struct hk_where where;
    struct hk_step *steps;
    size_t step_count;
    enum hk_counts counts; /* HK_STEP_CHAIN: as `stitch`, followed by a space of `spare` chains */
    int64_t spare;
    size_t last_steps; /* HK_STEP_REPEAT: steps of its last run ("ending last rep at **"); 0: all */
    bool times_open;   /* "rep from * N times": N or N + 1 in all */
    double cut_m;
    const char *name; /* HK_STEP_SKIP: purpose of the stitches, "left sleeve" */
    bool hold;        /* HK_STEP_SKIP: put on hold */
    size_t at;
};

/* The unit of a stated count. */
enum hk_stated_of {
    HK_STATED_STITCHES, /* all that count as stitches */
    HK_STATED_KIND,     /* of `stitch` */
    HK_STATED_SPACES,   /* of `chains` chains, or (0) of any */
    HK_STATED_CHAINS,   /* single chains of all spaces: "plus 6 chs" */
    HK_STATED_GROUPS,   /* shells, V-stitches, ... */
    HK_STATED_MORE,     /* increase over the row below */
    HK_STATED_FEWER
};

struct hk_stated {
    enum hk_stated_of of;
    size_t stitch;
    int64_t chains;
    struct hk_graded_count count;
    bool each;       /* HK_STATED_CHAINS: of each space, "plus 6 chs at each underarm" */
    bool spaces_too; /* "counting each ch-1 as a st" */
    size_t at;
};

/* Rows or rounds, by the words of the row. */
enum hk_way {
    HK_WAY_NOT_STATED,
    HK_WAY_ROWS,  /* it turns, or begins with a turning chain, and is not closed */
    HK_WAY_ROUNDS /* closed by a join, turned or not; or with words of a round */
};

struct hk_row {
    struct hk_step *steps;
    size_t step_count;
    struct hk_stated *stated;
    size_t stated_count;
    bool joined;  /* a join closes it */
    bool turned;  /* it has a turn, at its end or its start */
    bool repeats; /* a repeat or "each" continues as long as it fits */
    bool to_end;  /* the repeat continues to the end of the row and must fit exactly */
    bool knit;    /* it has knit stitches */
    bool others;  /* it works into other work */
    bool only_others; /* it works only into other work */
    enum hk_way way;
    enum hk_terms terms; /* of its words */
    const struct hk_row
        *other; /* the alternative reading, with a number at the end as a count, not as a size's value; or NULL */
    const struct hk_row_text *text;
};

/* The plain text of a row, with the places of its bytes. */
struct hk_row_text {
    const char *text;
    const size_t *origin; /* for each byte and the final zero: its offset for `place`; NULL: the same offset */
    struct hk_place (*place)(const struct hk_row_text *text, size_t offset);
    struct hk_cell cell; /* the cell, for the text of a cell */
    const void *host;    /* data for `place` */
};

/* The meaning of a word in rows. */
struct hk_definition {
    const char *name;      /* "shell", "picot", ignoring letter case */
    struct hk_step *steps; /* its meaning */
    size_t step_count;
};

struct hk_row_words {
    const struct hk_catalogue *catalogue;
    enum hk_terms terms;
    size_t size_count; /* 1 if nothing is graded */
    const char *const *size_names;
    const struct hk_definition *definitions; /* the last definition of a name is used */
    size_t definition_count;
    const char *const *yarns; /* roles of yarns.csv, in order; MC, CC, A, B are also names */
    size_t yarn_count;
    bool main_named;                  /* the text uses MC: A is then the second yarn, not the first */
    const struct hk_work_name *works; /* the headings of a written pattern */
    size_t work_count;
};

/*
 * Parses a row. Returns false with findings at their places, and leaves *row unchanged. The text must live as long as
 * the row.
 */
bool hk_row_read(const struct hk_row_text *text, const struct hk_row_words *words, struct hk_row *row,
                 struct hk_arena *arena, struct hk_diags *diags);

/* The same for a cell, without graded numbers. */
bool hk_row_parse(struct hk_cell cell, enum hk_terms terms, const struct hk_catalogue *catalogue, struct hk_row *row,
                  struct hk_arena *arena, struct hk_diags *diags);

/* Returns the step that joins yarn to existing work before any stitch; step_count if there is none. */
size_t hk_row_join(const struct hk_row *row);

/* Returns true when "skipped st" may refer to a stitch that the row itself skips. */
bool hk_row_skips(const struct hk_row *row);

/* Returns the place of `at`, a byte of the row's plain text. */
struct hk_place hk_row_place(const struct hk_row *row, size_t at);

/* Returns the row in a canonical form that parses as the same tree. NULL when out of memory. */
const char *hk_row_print(const struct hk_row *row, const struct hk_row_words *words, struct hk_arena *arena);

#endif
