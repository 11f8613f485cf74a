/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The internal state of the proof of one size: the current work, the worked rows, and their results. When memory runs
 * out, p->out_of_memory is set.
 */
#ifndef HK_PROOF_RUN_H
#define HK_PROOF_RUN_H

#include "pattern/proofing.h"

#define ROWS_MOST ((int64_t)100000) /* limit for one piece in one size */
#define CYCLE_MOST 1000
#define NO_STITCH SIZE_MAX
#define HK_PROOF_WORDS_MOST 400 /* bytes of a generated row */

/* A worked row. */
struct worked_row {
    const struct hk_row *row;
    int64_t number;
    size_t entry, held;
    size_t stitch;  /* the only kind of stitch in it besides chains and shaping, or NO_STITCH */
    bool preserved; /* it left the number of stitches unchanged */
    bool knit;
    int64_t lead;   /* chains at its start that do not count as a stitch */
    int64_t change; /* stitches more than below */
};

/* A row of one stitch. */
struct plain_row {
    size_t stitch, held;
    int64_t chains; /* chains at its start that do not count */
    bool joined;
};

/* A planned row. */
struct planned_row {
    const struct hk_row *row;
    size_t held;
    bool again; /* by reference: "each ch" means each stitch if no chains are left */
};

/* A row that also applies to others that are not written. */
struct filler {
    struct planned_row planned;
    size_t entry;
    int64_t number;
    bool every;
    bool ended; /* its list is finished, and rows of it that were not worked are reported */
};

/* Other existing work that rows may use. */
struct shelf {
    struct hk_other other;
    struct hk_edge edge; /* its stitches, if known; taken ones come first */
    const char *name;    /* their purpose; "": only skipped; NULL: not stated */
    size_t entry;        /* the entry worked then */
    bool used;           /* some of it was taken */
};

/* Rows of a part in one size. */
struct part_rows {
    int64_t flat, rounds, copies;
    bool beside; /* on a part of the stitches, next to other rows */
};

/* Work that will begin on stitches that rows have left. */
struct pending {
    bool on;
    int64_t skip;
    struct hk_parts parts; /* count 0: not stated */
    const char *name;      /* the purpose of the skipped stitches; NULL: not stated */
};

struct proof_run {
    struct hk_proofing *p;
    const struct hk_written *w;
    size_t size;
    struct hk_follow *follow;
    struct hk_conventions conventions;
    struct worked_row *log;
    size_t log_count, log_capacity;
    struct filler *fillers;
    size_t filler_count, filler_capacity;
    size_t entry, piece, line;
    size_t depth;        /* nesting of pieces worked like others */
    size_t part_log;     /* index in the log of the first row of this part */
    size_t division_log; /* 1 + the index in the log of the first row after a division; 0: no division */
    size_t cycle;        /* rows of one cycle of the last reference; 0: the last row was written */
    const struct planned_row *cycle_rows;
    size_t cycle_worked; /* the number of these worked */
    bool cycle_plain;    /* they are rows of one stitch each that continue although rows between them shaped */
    int64_t number;      /* number of the last row; 0: none */
    struct hk_strand_run *strands[3]; /* of the last row; scratch; of the row before a stretch. NULL: no row yet */
    bool strands_known, strands_marked; /* the last row, and the row before the stretch, were rounds */
    size_t colours;                     /* 1 + the sequence of the entry; 0: none */
    int64_t colour_row;  /* rows worked in it */
    struct {             /* the ends that a reference shapes */
        enum hk_ends_of of;
        bool swapped; /* its first shaping is at the end of the row, or at the right edge */
        bool unknown; /* at "same edge" */
    } ends;
    bool reversed;       /* a piece is worked like another, reversing its shaping */
    bool absent;         /* this size does not have the current work */
    bool known;          /* the edge is known */
    bool from_stated;    /* the edge is the stated count of a refused row */
    bool unknown_reported;
    bool round;
    enum hk_side side; /* side of the next row; OPEN: not known */
    size_t held;
    struct hk_edge before; /* scratch */
    struct shelf *shelves;
    size_t shelf_count, shelf_capacity;
    struct part_rows *part_rows; /* [parts] */
    size_t part;                 /* the current part, index in written->parts */
    size_t edge_part;            /* the part in which the last row was worked */
    bool founded;                /* on a chain without a row worked into it */
    bool beside;                 /* work has begun again on a part of the existing stitches */
    bool based;                  /* a rib grows along an edge */
    int64_t rows_since;          /* rows since work began on existing stitches */
    struct pending pending;
    struct hk_parts along;   /* the parts of unnamed row ends; count 0: not stated */
    bool joins;              /* work has begun on an edge with an unknown number of stitches */
    struct hk_other *others; /* for the current row */
    size_t *other_shelves, other_count;
    struct hk_follow *kept;      /* scratch */
};

static inline void hk_proof_lose(struct proof_run *run)
{
    run->p->out_of_memory = true;
}

static inline const struct hk_entry *hk_proof_entry_at(const struct proof_run *run)
{
    return &run->w->entries[run->entry];
}

/* Returns true when its label states the number of rows. */
static inline bool hk_proof_labelled(const struct proof_run *run)
{
    return hk_proof_entry_at(run)->numbered || hk_proof_entry_at(run)->rows_given;
}

static inline struct hk_proof_row *hk_proof_row_of(const struct proof_run *run, size_t entry)
{
    return &run->p->proof->rows[entry * run->w->words.size_count + run->size];
}

/* Adds a remark to the current entry. */
static inline void hk_proof_report(struct proof_run *run, enum hk_code code, struct hk_place place, const char *text,
                                   const char *hint)
{
    hk_proof_remark(run->p, run->entry, run->size, code, place, text, hint);
}

/* ---- proof_other.c ---- */

int64_t hk_proof_copies(const struct proof_run *run); /* of the current part */
/* Ends the current work: its last row and the stitches left become available to others. */
void hk_proof_shelve(struct proof_run *run);
/* Keeps the current edge while a rib is joined to it as it grows. */
void hk_proof_base_shelve(struct proof_run *run);
/* Returns the stitches of this edge without a join yet; -1 if there is no such edge. */
int64_t hk_proof_base_left(const struct proof_run *run);
void hk_proof_foundation_shelve(struct proof_run *run, int64_t count);
void hk_proof_row_shelve(struct proof_run *run, const struct hk_followed *followed);
/* Returns the number of stitches and chains among places. */
int64_t hk_proof_stitches_in(const struct hk_spot *spots, size_t count);
void hk_proof_shelves_free(struct proof_run *run);
/* proof_order.c. Returns the piece of a part; the next function returns the title of a part. */
size_t hk_proof_piece_of(const struct proof_run *run, size_t part);
const char *hk_proof_title(const struct proof_run *run, size_t part);
/*
 * Returns true when the work that steps name exists: it is not below, and not in rounds if row ends are named. Else
 * adds a finding.
 */
bool hk_proof_works_there(struct proof_run *run, const struct hk_step *steps, size_t count);
/* Called before and after a row that may work into other work. */
bool hk_proof_others_begin(struct proof_run *run, const struct hk_row *row);
void hk_proof_others_end(struct proof_run *run);
/* Finds the longest heading that a text names. Returns false if there is none. */
bool hk_proof_work_named(const struct proof_run *run, const char *text, struct hk_parts *parts);
/* Begin work on existing edges; return false when out of memory. */
bool hk_proof_held_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count);
bool hk_proof_only_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count);
/* Finds the stitches for a row that begins on stitches left. Returns false with a finding when it cannot be worked. */
bool hk_proof_left_find(struct proof_run *run, const struct hk_row *row);
/* Stores the stitches left and not used. */
void hk_proof_left_keep(struct proof_run *run);

/* ---- proof_keep.c ---- */

/*
 * Returns the stitch that an increase or decrease is made of: sc for sc2tog, k for ssk and M1; other stitches
 * themselves.
 */
size_t hk_proof_base(const struct hk_proofing *p, size_t stitch);
/* Returns true for a stitch that characterises the fabric: not a chain, slip stitch or edge. */
bool hk_proof_shows(const struct hk_proofing *p, size_t stitch);
/*
 * Returns the only kind of stitch in a row besides chains and shaping, NO_STITCH if there are several. *knit: one is a
 * knit stitch.
 */
size_t hk_proof_only_stitch(const struct proof_run *run, const struct hk_followed *followed, bool *knit);
/* Adds to a list sorted by held, then stitch, which has room. */
void hk_proof_stitches_add(struct hk_proof_stitches *list, size_t *count, size_t held, size_t stitch, int64_t more);
/* Stores the work in the line of the entry; consecutive equal rows are merged. */
void hk_proof_work_keep(struct proof_run *run, const struct hk_proof_work *work);
/* Stores stitches of one kind that are not a row; `joined` by a slip stitch. */
void hk_proof_foundation_keep(struct proof_run *run, size_t stitch, int64_t count, bool joined);
/*
 * The positions of yarns after the last round: drop them; mark them at the start of a stretch; return true when they
 * equal the marked ones.
 */
void hk_proof_strands_drop(struct proof_run *run);
void hk_proof_strands_mark(struct proof_run *run);
bool hk_proof_strands_same(const struct proof_run *run);
/* Returns false when out of memory. */
bool hk_proof_work_make(struct proof_run *run, const struct hk_followed *followed, size_t held,
                        struct hk_proof_work *work);
void hk_proof_places_keep(struct proof_run *run, struct hk_proof_row *row);
/* Stores the stitches that the worked row puts on hold, by name. */
void hk_proof_on_hold_keep(struct proof_run *run, const struct hk_followed *followed, struct hk_proof_row *row);
/*
 * Compares the existing stitches with those that `row` (NULL: none) states, for a line whose rows are not worked by its
 * own words.
 */
void hk_proof_stitches_compare(struct proof_run *run, const struct hk_row *row, int64_t least, int64_t most);
void hk_proof_stated_keep(struct proof_run *run, const struct hk_row *row, const struct hk_followed *followed,
                          struct hk_proof_row *kept);

/* ---- proof_again.c ---- */

/*
 * "Rnd 1: Sc in each ch around. Rnds 2-9: Rep rnd 1." means each stitch, if the edge has no chains any more. Returns
 * the row to work; NULL when out of memory.
 */
const struct hk_row *hk_proof_row_again(struct proof_run *run, const struct hk_row *row);

/* ---- proof_work.c ---- */

/* Skips rows up to the next start. */
void hk_proof_not_followed(struct proof_run *run);
/* Returns the stitches that a row states; -1 if none. */
int64_t hk_proof_stated_stitches(const struct proof_run *run, const struct hk_row *row);
/* Handles a row that cannot be worked: work continues from the stitches that `stated` (NULL: none) states. */
void hk_proof_go_on_from(struct proof_run *run, const struct hk_row *stated);
/* Sets the side after `rows` more rows. */
void hk_proof_turn_side(struct proof_run *run, int64_t rows);
/* Works one row. stated: the row with the counts to compare, NULL: none. Returns false when it could not be worked. */
bool hk_proof_work_row(struct proof_run *run, struct planned_row planned, const struct hk_row *stated,
                       struct hk_proof_work *work);
/* Returns true when `rows` more rows are within the limit; else adds a finding. */
bool hk_proof_room(struct proof_run *run, int64_t rows);
/*
 * Works `total` rows, repeating the cycle, and compares the last with the counts of `stated`. Returns false when one
 * could not be worked.
 */
bool hk_proof_work_cycle(struct proof_run *run, struct planned_row *cycle, size_t count, int64_t total,
                         const struct hk_row *stated);
/* Refuses the entry with a finding at its place. */
void hk_proof_refuse(struct proof_run *run, enum hk_code code, const char *text, const char *hint);

/* ---- proof_colours.c ---- */

/*
 * Returns the rows of the cycle in the sequence of colours, for one common period or all `total` rows; *count: their
 * number. Returns the cycle itself without a sequence. NULL with a finding or when out of memory.
 */
struct planned_row *hk_proof_coloured(struct proof_run *run, struct planned_row *cycle, size_t *count, int64_t total);
/* Returns the yarn of the next row, `held` without a sequence of colours; advances by one row. */
size_t hk_proof_colour_next(struct proof_run *run, size_t held);

/* ---- proof_plain.c ---- */

/* Plans a row from generated words. Returns false when they cannot be parsed. */
bool hk_proof_planned_words(struct proof_run *run, const char *words, size_t held, struct planned_row *planned);
/* Plans a row of this stitch with these words, or (NULL) of the stitch only. */
bool hk_proof_plain_words(struct proof_run *run, const struct plain_row *plain, const char *words,
                          struct planned_row *planned);
/* Returns a row of this stitch, with the chains and join of the nearest row with it. */
struct plain_row hk_proof_plain_of(const struct proof_run *run, size_t stitch);
/* Returns the chains at the start of a row that do not count as a stitch. */
int64_t hk_proof_lead(const struct proof_run *run, const struct hk_followed *followed);
/*
 * Finds the rows of one stitch each to continue, the next one first, and sets them in `rows` (room for CYCLE_MOST):
 * those of the last reference, else like the last row, in flat knitting like the last two. Without a row above,
 * knitting alternates k and p, with a note. Returns their number; 0 when ambiguous.
 */
size_t hk_proof_plain_rows(struct proof_run *run, struct plain_row *rows);
/* Stores the rows that a later "work even" continues, after `worked` of them. */
void hk_proof_plain_keep(struct proof_run *run, const struct planned_row *rows, size_t count, int64_t worked);

/* ---- proof_sum.c ---- */

/*
 * Returns the sum for a row that divides the work by numbers: "10 + 90 + 8 + 90 are 198", the stitches that it leaves;
 * if it could not be worked, "30 + 46 + 61 are 137 stitches, of 136". NULL for other rows, or if the numbers are not
 * the error.
 */
const char *hk_proof_sum(struct proof_run *run, const struct hk_row *row, bool worked);

/* ---- proof_shape.c ---- */

/* Works shaping, and simultaneous shapings, over repeated `plain` rows; `rows` rows, -1: as many as needed. */
void hk_proof_shape(struct proof_run *run, const struct hk_reference *reference, struct plain_row *plain,
                    size_t plain_count, int64_t rows, const struct hk_row *stated);

/* ---- proof_evenly.c ---- */

void hk_proof_evenly(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *stated);

/* ---- proof_begin.c ---- */

void hk_proof_begin_work(struct proof_run *run);

/* ---- proof_pattern.c ---- */

/* Returns true when the text has a stitch pattern with this name. */
bool hk_proof_pattern_known(const struct proof_run *run, const char *name);
/*
 * Sets the rows of the stitch pattern with this name, of which the first `*setup` are worked once. Returns their
 * number; 0 with a finding.
 */
size_t hk_proof_pattern_rows(struct proof_run *run, const char *name, struct planned_row *cycle, size_t *setup);

/* ---- proof_reference.c ---- */

/*
 * Returns the first row of an entry with `others`, which applies to every second row; without a number it applies to
 * rows of its side.
 */
int64_t hk_proof_filler_first(const struct hk_entry *entry, size_t size);
/* hk_proof_filler_for returns the entry that applies to the row with this number; NULL if none. */
/* Called at the end of numbered rows: reports rows of lists after the last one. */
void hk_proof_lists_end(struct proof_run *run);
const struct filler *hk_proof_filler_for(const struct proof_run *run, int64_t number);
void hk_proof_reference_work(struct proof_run *run);

/* ---- proof_size.c ---- */

/* Works all of another piece in place of the entry. */
void hk_proof_reference_as(struct proof_run *run, const struct hk_reference *reference);

#endif
