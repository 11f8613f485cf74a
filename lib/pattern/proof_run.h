/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Inside of the proof of one size: where the work has come to, the rows that have been worked, and what is kept of
 * them. Where memory runs out, p->out_of_memory is set.
 */
#ifndef HK_PROOF_RUN_H
#define HK_PROOF_RUN_H

#include "pattern/proofing.h"

#define ROWS_MOST ((int64_t)100000) /* of one piece in one size */
#define CYCLE_MOST 1000
#define NO_STITCH SIZE_MAX
#define HK_PROOF_WORDS_MOST 400 /* bytes of a row of words of our own */

/* A row that has been worked. */
struct worked_row {
    const struct hk_row *row;
    int64_t number;
    size_t entry, held;
    size_t stitch;  /* the only kind of stitch in it besides chains and shaping, or NO_STITCH */
    bool preserved; /* it left as many as it found */
    bool knit;
    int64_t lead;   /* chains at its start that count as no stitch */
    int64_t change; /* stitches more than below */
};

/* A row of one stitch. */
struct plain_row {
    size_t stitch, held;
    int64_t chains; /* at its start, counting as nothing */
    bool joined;
};

/* A row to be worked. */
struct planned_row {
    const struct hk_row *row;
    size_t held;
    bool again; /* by reference: "each ch" means each stitch where no chains are left */
};

/* A row that stands for others that are not written. */
struct filler {
    struct planned_row planned;
    size_t entry;
    int64_t number;
    bool every;
    bool ended; /* its list is not reached any more, and what of it was not worked is said */
};

/* What stands elsewhere. */
struct shelf {
    struct hk_other other;
    struct hk_edge edge; /* its stitches, where they are known; those that are taken come first */
    const char *name;    /* what they wait for; "": they were only skipped; NULL: it is not said */
    size_t entry;        /* that was worked then */
    bool used;           /* something was taken of it */
};

/* Rows of a part in one size. */
struct part_rows {
    int64_t flat, rounds, copies;
    bool beside; /* on some of the stitches of a part, beside others */
};

/* Work that is to begin on stitches that rows have left. */
struct pending {
    bool on;
    int64_t skip;
    struct hk_parts parts; /* count 0: it is not said of which */
    const char *name;      /* what the skipped ones are for, NULL: it is not said */
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
    size_t depth;    /* pieces that are being worked as others */
    size_t part_log; /* of the log: where this part begins */
    size_t division_log; /* 1 + that of the first row behind the division of the work; 0: nothing has divided it */
    size_t cycle;    /* rows of one turn of the last reference, 0: a row of its own came last */
    const struct planned_row *cycle_rows;
    size_t cycle_worked; /* so many of them have been worked */
    bool cycle_plain;    /* they are rows of one stitch each that go on, though rows between them shaped */
    int64_t number;      /* of the last row; 0: none */
    struct hk_strand_run *strands[3]; /* of the last row; scratch; of the row before a stretch. NULL: no row yet */
    bool strands_known, strands_marked; /* the last row, and that before the stretch, was a round */
    size_t colours;      /* of the entry: 1 + its sequence; 0: none */
    int64_t colour_row;  /* rows worked in it */
    bool absent;         /* this size does without what has begun */
    bool known;          /* the edge is */
    bool from_stated;    /* it is what a refused row stated */
    bool unknown_reported;
    bool round;
    enum hk_side side; /* of the next row; OPEN: not known */
    size_t held;
    struct hk_edge before; /* scratch */
    struct shelf *shelves;
    size_t shelf_count, shelf_capacity;
    struct part_rows *part_rows; /* [parts] */
    size_t part;                 /* of written->parts: the one that is being worked */
    size_t edge_part;            /* in which the last row was worked */
    bool founded;                /* on a chain into which no row has been worked yet */
    bool beside;                 /* work has begun again on some of the stitches that were there */
    bool based;                  /* a rib grows along an edge */
    int64_t rows_since;          /* rows since work began on what is there */
    struct pending pending;
    struct hk_parts along;       /* whose row ends are meant; count 0: it is not said */
    bool joins;                  /* work has begun on an edge of which the number of stitches is not known */
    struct hk_other *others;     /* of the row that is being worked */
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

/* Its label says how many rows it is. */
static inline bool hk_proof_labelled(const struct proof_run *run)
{
    return hk_proof_entry_at(run)->numbered || hk_proof_entry_at(run)->rows_given;
}

static inline struct hk_proof_row *hk_proof_row_of(const struct proof_run *run, size_t entry)
{
    return &run->p->proof->rows[entry * run->w->words.size_count + run->size];
}

/* Says it of the entry that is being worked. */
static inline void hk_proof_report(struct proof_run *run, enum hk_code code, struct hk_place place, const char *text,
                                   const char *hint)
{
    hk_proof_remark(run->p, run->entry, run->size, code, place, text, hint);
}

/* ---- proof_other.c ---- */

int64_t hk_proof_copies(const struct proof_run *run); /* of the part that is being worked */
/* Ends the work on what is there: its last row and what was left are there for others. */
void hk_proof_shelve(struct proof_run *run);
/* The edge as it is stays where a rib is joined to it as it grows. */
void hk_proof_base_shelve(struct proof_run *run);
/* Stitches of that edge that nothing is joined to yet; -1: there is none. */
int64_t hk_proof_base_left(const struct proof_run *run);
void hk_proof_foundation_shelve(struct proof_run *run, int64_t count);
void hk_proof_row_shelve(struct proof_run *run, const struct hk_followed *followed);
/* Stitches and chains among places. */
int64_t hk_proof_stitches_in(const struct hk_spot *spots, size_t count);
void hk_proof_shelves_free(struct proof_run *run);
/* proof_order.c. The piece of a part, and what the part is called. */
size_t hk_proof_piece_of(const struct proof_run *run, size_t part);
const char *hk_proof_title(const struct proof_run *run, size_t part);
/* Whether the works that steps name are there: not below, not in rounds where row ends are named. Where
 * one is not, that has been said. */
bool hk_proof_works_there(struct proof_run *run, const struct hk_step *steps, size_t count);
/* Around a row that may work into other work. */
bool hk_proof_others_begin(struct proof_run *run, const struct hk_row *row);
void hk_proof_others_end(struct proof_run *run);
/* The heading that a text names, the longest; false: none. */
bool hk_proof_work_named(const struct proof_run *run, const char *text, struct hk_parts *parts);
/* Edges that work begins on; false where memory runs out. */
bool hk_proof_held_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count);
bool hk_proof_only_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count);
/* Before a row that begins on stitches that were left: finds which. False: it cannot be worked, which has been said. */
bool hk_proof_left_find(struct proof_run *run, const struct hk_row *row);
/* Keeps what was left and nothing has taken. */
void hk_proof_left_keep(struct proof_run *run);

/* ---- proof_keep.c ---- */

/* What a stitch that takes and leaves different numbers is shaped from: sc of sc2tog, k of ssk and M1. Of others
 * itself. */
size_t hk_proof_base(const struct hk_proofing *p, size_t stitch);
/* Whether it is one that shows what the fabric is: no chain, slip stitch or edge. */
bool hk_proof_shows(const struct hk_proofing *p, size_t stitch);
/* The only kind of stitch in it besides chains and shaping, NO_STITCH where there are several. *knit: one is knitted.
 */
size_t hk_proof_only_stitch(const struct proof_run *run, const struct hk_followed *followed, bool *knit);
/* Into a list sorted by held, then stitch, which has room. */
void hk_proof_stitches_add(struct hk_proof_stitches *list, size_t *count, size_t held, size_t stitch, int64_t more);
/* Into the line of the entry; rows that come to the same one after another are one. */
void hk_proof_work_keep(struct proof_run *run, const struct hk_proof_work *work);
/* Stitches of one kind that are no row; `joined` by a slip stitch. */
void hk_proof_foundation_keep(struct proof_run *run, size_t stitch, int64_t count, bool joined);
/* Which yarns the last round has left where: forgotten; marked at the start of a stretch; the same as it was there. */
void hk_proof_strands_drop(struct proof_run *run);
void hk_proof_strands_mark(struct proof_run *run);
bool hk_proof_strands_same(const struct proof_run *run);
/* False where memory runs out. */
bool hk_proof_work_make(struct proof_run *run, const struct hk_followed *followed, size_t held,
                        struct hk_proof_work *work);
void hk_proof_places_keep(struct proof_run *run, struct hk_proof_row *row);
/* What the row as it was worked puts on hold, by name. */
void hk_proof_on_hold_keep(struct proof_run *run, const struct hk_followed *followed, struct hk_proof_row *row);
/* The stitches that are there against those that `row` (NULL: nothing) states, for a line whose rows are not worked by
 * its own words. */
void hk_proof_stitches_compare(struct proof_run *run, const struct hk_row *row, int64_t least, int64_t most);
void hk_proof_stated_keep(struct proof_run *run, const struct hk_row *row, const struct hk_followed *followed,
                          struct hk_proof_row *kept);

/* ---- proof_again.c ---- */

/*
 * "Rnd 1: Sc in each ch around. Rnds 2-9: Rep rnd 1." means the stitches, where the edge has no chains any more. NULL
 * where memory runs out.
 */
const struct hk_row *hk_proof_row_again(struct proof_run *run, const struct hk_row *row);

/* ---- proof_work.c ---- */

/* Rows up to the next start. */
void hk_proof_not_followed(struct proof_run *run);
/* The stitches that a row states; -1: it states none. */
int64_t hk_proof_stated_stitches(const struct proof_run *run, const struct hk_row *row);
/* A row that cannot be worked: what follows stands on what it states (NULL: nothing), if it does. */
void hk_proof_go_on_from(struct proof_run *run, const struct hk_row *stated);
/* The side behind so many rows more. */
void hk_proof_turn_side(struct proof_run *run, int64_t rows);
/* One row. `stated`: whose counts it is held to, NULL: none. False where it could not be worked. */
bool hk_proof_work_row(struct proof_run *run, struct planned_row planned, const struct hk_row *stated,
                       struct hk_proof_work *work);
/* Whether so many rows more may be worked; where not, that has been said. */
bool hk_proof_room(struct proof_run *run, int64_t rows);
/* Works `total` rows, those of the cycle in turn; the last is held to what `stated` states. False: one could not be. */
bool hk_proof_work_cycle(struct proof_run *run, struct planned_row *cycle, size_t count, int64_t total,
                         const struct hk_row *stated);
/* The entry is not worked; said at its place. */
void hk_proof_refuse(struct proof_run *run, enum hk_code code, const char *text, const char *hint);

/* ---- proof_colours.c ---- */

/* The rows of the cycle in the colours that come in turn, as many as take one turn of both or all `total`; *count: how
 * many. The cycle itself where there are no such colours. NULL: said, or memory runs out. */
struct planned_row *hk_proof_coloured(struct proof_run *run, struct planned_row *cycle, size_t *count, int64_t total);
/* The yarn of the next row, `held` where no colours come in turn; and a row more. */
size_t hk_proof_colour_next(struct proof_run *run, size_t held);

/* ---- proof_plain.c ---- */

/* Rows of words of our own. False: they cannot be read. */
bool hk_proof_planned_words(struct proof_run *run, const char *words, size_t held, struct planned_row *planned);
/* A row of that stitch with those words, or (NULL) of nothing else. */
bool hk_proof_plain_words(struct proof_run *run, const struct plain_row *plain, const char *words,
                          struct planned_row *planned);
/* A row of that stitch, with chains and a join as the nearest row of it has them. */
struct plain_row hk_proof_plain_of(const struct proof_run *run, size_t stitch);
/* Chains at the start of a row that count as no stitch. */
int64_t hk_proof_lead(const struct proof_run *run, const struct hk_followed *followed);
/*
 * The rows of one stitch each that go on in turn, the next one first, into `rows` (room for CYCLE_MOST): those of the
 * last reference, else like the last row, in flat knitting like the last two. Where no row is above, knitting is k and
 * p in turn, which is said. 0: it cannot be told.
 */
size_t hk_proof_plain_rows(struct proof_run *run, struct plain_row *rows);
/* What "work even" then goes on with, `worked` of them in turn having been worked. */
void hk_proof_plain_keep(struct proof_run *run, const struct planned_row *rows, size_t count, int64_t worked);

/* ---- proof_sum.c ---- */

/*
 * Of a row that divides the work by numbers, "10 + 90 + 8 + 90 are 198" stitches that it leaves; where it could not be
 * worked, "30 + 46 + 61 are 137 stitches, of 136". NULL: it is no such row, or its numbers are not to blame.
 */
const char *hk_proof_sum(struct proof_run *run, const struct hk_row *row, bool worked);

/* ---- proof_shape.c ---- */

/* Shaping, and what shapes besides it, over `plain` rows in turn; `rows` of them, -1: as many as it takes. */
void hk_proof_shape(struct proof_run *run, const struct hk_reference *reference, struct plain_row *plain,
                    size_t plain_count, int64_t rows, const struct hk_row *stated);

/* ---- proof_evenly.c ---- */

void hk_proof_evenly(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *stated);

/* ---- proof_begin.c ---- */

void hk_proof_begin_work(struct proof_run *run);

/* ---- proof_pattern.c ---- */

/* Whether the text has a stitch pattern of that name. */
bool hk_proof_pattern_known(const struct proof_run *run, const char *name);
/* The rows of the stitch pattern of that name, the first `*setup` of them once only. 0: it has been said what is wrong.
 */
size_t hk_proof_pattern_rows(struct proof_run *run, const char *name, struct planned_row *cycle, size_t *setup);

/* ---- proof_reference.c ---- */

/* The first of every second row that an entry with `others` stands for; where it has no number, those of its side. */
int64_t hk_proof_filler_first(const struct hk_entry *entry, size_t size);
/* What stands for the row of that number; NULL: nothing. */
/* Numbers go no further: says which rows of lists lie behind the last one. */
void hk_proof_lists_end(struct proof_run *run);
const struct filler *hk_proof_filler_for(const struct proof_run *run, int64_t number);
void hk_proof_reference_work(struct proof_run *run);

/* ---- proof_size.c ---- */

/* All of another piece, in place of the entry. */
void hk_proof_reference_as(struct proof_run *run, const struct hk_reference *reference);

#endif
