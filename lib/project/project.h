/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A project folder, parsed and cross-checked; nothing counted yet. Built once, then constant. */
#ifndef HK_PROJECT_H
#define HK_PROJECT_H

#include "input/graded.h"
#include "pattern/fabric.h"
#include "pattern/proof.h"
#include "project/costs.h"

/* How a scale is read, and how far it may be off, whatever it shows (limits, both ways). */
struct hk_scale {
    double step_g, accuracy_g; /* accuracy 0: exact */
};

/* One yarn name is one yarn, in every role and colour. */
struct hk_yarn {
    const char *name;
    double put_up_g, length_m;
    double tex;         /* of the label */
    double diameter_mm; /* from wraps per inch if measured, else from tex */
    const char *fibre;  /* the first that its rows state, or "" */
    double ln_weighs, ln_weighs_sd; /* prior of H: its weight on a scale over that of its label (DEVELOPERS.md, The model) */
    double ball_g;      /* full balls on her scale together; 0: not weighed */
    int64_t ball_count;
    struct hk_scale ball_scale;
    struct hk_cell cell, ball_cell;
};

/* A row of yarns.csv: a yarn that may fill a role. */
struct hk_candidate {
    size_t role, yarn;
    const char *colour, *fibre, *category, *notes; /* "" where empty */
    const char *rgb;                               /* "#rrggbb"; NULL where empty */
    int64_t price_minor;                           /* -1 where empty */
    struct hk_cell cell, price_cell, category_cell;
};

struct hk_role {
    const char *name;
    size_t plan; /* candidate: the first listed for the role */
    struct hk_cell cell;
};

/* One strand or several alike of a combination. */
struct hk_strand {
    size_t role; /* SIZE_MAX in a swatch that names a yarn */
    size_t yarn;
    int64_t times; /* "main x2" */
};

/* Yarns held together; one strand is a combination too. Kept once each in the project. */
struct hk_combination {
    struct hk_strand *strands;
    size_t strand_count;
    double diameter_mm; /* sqrt(sum d^2) over the strands */
    size_t blend;       /* combinations of the same yarns, in any roles, share one blend (one departure v) */
};

struct hk_stripe {
    size_t combination;
    int64_t rows; /* HK_COUNT_MOST where the whole part is one stripe */
};

/* The yarn cell of a line or a swatch. */
struct hk_stripes {
    struct hk_stripe *stripes;
    size_t count;
    struct hk_cell cell;
};

/* The cell `print`. Empty: as the reader of the value decides. */
enum hk_stating { HK_STATING_OPEN, HK_STATING_YES, HK_STATING_NO };

struct hk_swatch {
    const char *name;
    struct hk_stripes yarn;
    double tool_mm;
    const struct hk_fabric *fabric;
    enum hk_start start;
    int64_t stitches, rows; /* of one of them */
    int64_t copies;         /* worked alike; all are weighed, unravelled and timed together */
    double gauge_stitches, gauge_rows; /* in 10 cm; 0 where unknown */
    const char *care;
    enum hk_stating print;     /* whether the pattern states its gauge */
    const char *gauge_as_name; /* "" where the cell is empty */
    size_t gauge_as;           /* the swatch whose gauge the pattern states in place of this one's; SIZE_MAX: none */
    double mass_g;                     /* 0: not weighed */
    struct hk_scale scale;
    double unravelled_m, tape_step_m;  /* 0: not unravelled */
    int64_t ends;
    double minutes;                    /* 0: not timed */
    struct hk_cell cell, weight_cell, stitches_cell, minutes_cell, gauge_as_cell;
};

/* Other work that a line of pieces.csv depends on: one line, or all lines of a piece, which then continue on one another. */
struct hk_on_source {
    size_t line;      /* the last of them; SIZE_MAX: not looked up yet */
    bool whole;       /* the piece from its first line to that one */
    bool copies;      /* all copies together */
    const char *name; /* as it is named */
    struct hk_place at;
};

enum hk_on_kind {
    HK_ON_STITCHES,   /* `count` of the stitches that other work leaves; all of them where it is not given */
    HK_ON_REST,       /* those that nothing else takes */
    HK_ON_ROWS,       /* `count` stitches for `rows` rows of it: along row ends */
    HK_ON_FOUNDATION, /* along the other side of its foundation */
    HK_ON_CHAINS      /* `count` chains or cast-on stitches of its own */
};

struct hk_on_part {
    enum hk_on_kind kind;
    int64_t times;                /* "2 x" */
    struct hk_graded count, rows; /* 0 in a size that does without */
    struct hk_on_source of;           /* not of HK_ON_CHAINS */
    size_t stitch;                /* HK_ON_CHAINS: of the catalogue */
};

/* The cell `on`: the work that the first row of a line is worked into. */
struct hk_on {
    struct hk_on_part *parts;
    size_t count; /* 0: the cell is empty */
    struct hk_cell cell;
};

/* The cell `every`: rows of a line that shape it. */
struct hk_every {
    bool given;
    int sign;                       /* -1 decreases, 1 increases, 0: as end_stitches says */
    struct hk_graded by, after[2];  /* `by` stitches in the row after[0] - 1 rows behind the last that shaped, then after[1] */
    bool alternately;               /* after[1] is given */
    bool both_ends;                 /* "each end" */
    struct hk_cell cell;
};

/* The place of shaping in a row, for the schematic. */
enum hk_shaping_at {
    HK_SHAPING_AT_NO_PLACE, /* not stated */
    HK_SHAPING_AT_BOTH_ENDS,
    HK_SHAPING_AT_ONE_END,
    HK_SHAPING_WITHIN
};

/* A line of pieces.csv: one part of a piece. */
struct hk_line {
    const char *piece, *part; /* part "" where empty */
    const struct hk_fabric *fabric;
    struct hk_stripes yarn;
    double tool_mm;
    const struct hk_swatch *width_gauge, *height_gauge; /* for its lengths; NULL: no swatch has it */
    enum hk_start start;
    struct hk_graded stitches, rows, end_stitches, times, ends; /* ends not given: the default rule */
    struct hk_on on;
    struct hk_every every;
    enum hk_shaping_at shaping;
    bool carry;
    bool first;               /* of its piece */
    size_t before;            /* the line before of the same piece, SIZE_MAX where first */
    struct hk_cell cell;      /* its first filled cell, for messages about the line */
    bool written;             /* it is the line of pattern.txt with the same index in `written` */
    struct hk_place at;       /* the place where that line begins */
};

/* The yarn of a weighing, where it is not all yarn: the yarn of one role, or one yarn in any role. */
struct hk_of_yarn {
    size_t role, yarn; /* SIZE_MAX: any */
};

/*
 * A row of progress.csv: unfinished work of one size, weighed or timed. It covers some lines in the order of pieces.csv,
 * without those that the size does not work, from their start; the tally finds the rows (progress.h).
 */
struct hk_progress {
    size_t size;
    const char *title;       /* `"sleeve 2", part "cuff", size M`, `all of size M` */
    const char *own_title;   /* the same; of this row alone where `title` is of all that was on the scale together */
    const char *work;        /* `sleeve 2, cuff, 40 rows`, `all`; with everything on the scale together */
    size_t *lines, line_count;
    int64_t first, last;     /* copies of each line, from 1; last HK_COUNT_MOST: all copies */
    int64_t rows;            /* of each copy, through its lines; HK_NOT_STATED: all */
    struct hk_of_yarn of;    /* the yarn weighed; a time is that of the whole work */
    double mass_g;           /* used so far; 0: not weighed, or replaced by another row */
    bool replaced;           /* its weight, by that of a later row of the same work */
    double hand_g, left_g;   /* in hand before by the labels, and left of it on her scale; 0 where the cell `of` says used */
    struct hk_scale scale;
    double minutes;          /* 0: not timed, or replaced by another row */
    size_t with;             /* the number of rows before it whose work was on the scale together with this row's */
    struct hk_cell cell, weight_cell, rows_cell, minutes_cell;
};

/* Yarn in hand, as typed on a command line. */
struct hk_in_hand {
    size_t role;
    double mass_g;
    bool left;    /* now; else before the work */
    bool weighed; /* on her scale; else by the label: full balls */
    struct hk_cell cell;
};

/* What a tester used of one yarn. */
struct hk_tester_used {
    struct hk_of_yarn of; /* the strands of the design that it replaced; any: the whole work, in its planned yarns */
    size_t yarn;          /* the yarn that was used; SIZE_MAX where `of` is any */
    double mass_g;        /* on the tester's scale; a length is turned into grams by the label, as testers measure it */
    struct hk_scale scale; /* step 0: a length, which was rounded as the row states it */
    struct hk_cell cell;
};

/*
 * The rows of testers.csv of one tester in one size: another maker, who worked the whole design. It may have been to
 * another gauge, which the yarn follows (readers.h).
 */
struct hk_tester {
    const char *name;
    size_t size;
    double tool_mm;                    /* 0: not stated */
    double gauge_stitches, gauge_rows; /* in 10 cm; 0: not stated, and taken to be the pattern's */
    struct hk_tester_used *used;
    size_t used_count, used_capacity;
    struct hk_cell cell, tool_cell, gauge_cell;
};

/* From this number of balls on, the price of all the balls of the offer; for hk_offer_price.balls balls, as it is. */
struct hk_quantity_price {
    int64_t from; /* in balls */
    int64_t minor;
};

/* "6.40", "5 for 27.99", "5.60; from 10 5.20": the price of a number of balls, with lower prices for larger numbers. */
struct hk_offer_price {
    int64_t minor, balls;
    const struct hk_quantity_price *from; /* numbers rise, prices fall */
    size_t from_count;
};

/* A row of offers.csv, of any yarn: hk_offer_counts decides whether it may fill a role. */
struct hk_offer {
    size_t role, shop;
    size_t yarn;             /* SIZE_MAX where empty: the planned one */
    const char *colour, *lot; /* "" where empty */
    double put_up_g, length_m; /* length 0 where empty */
    int64_t pack;            /* balls in a pack; 1 where empty */
    int64_t stock;           /* in balls; -1 where empty: no limit */
    struct hk_offer_price price; /* of one ball, or of a pack */
    int64_t value_minor;     /* of a ball at home; -1 where it is not stated */
    struct hk_cell cell;
};

/* A row of shops.csv; also a shop that only offers.csv names, where there is no shops.csv. */
struct hk_seller {
    const char *name;
    int64_t postage_minor;
    int64_t free_from_minor;           /* -1: never */
    int64_t off_from_minor;            /* threshold of both reductions */
    int64_t off_minor, off_millionths; /* add up */
    struct hk_cell cell;
};
#define HK_SELLER_OWN ((size_t)0)   /* yarn at home: always the first seller of a project */
#define HK_SELLER_PRICE ((size_t)1) /* the second seller, without a name: the price in yarns.csv, postage unknown */

/* A time in whole days or weeks. */
struct hk_period {
    int64_t count; /* 0: not stated */
    bool weeks;
};

/* What project.csv states for the letter to a client; "" where it does not. */
struct hk_letter {
    const char *maker, *place, *care, *conditions;
    struct hk_period valid_for, ready_in;
    bool tax_separately;
};

struct hk_project {
    struct hk_arena arena;
    const struct hk_catalogue *catalogue;
    struct hk_table **tables; /* kept for their cells */
    size_t table_count;

    const char *title;
    const char **sizes;
    struct hk_cell sizes_cell; /* of project.csv; without table: none */
    size_t size_count;
    enum hk_terms terms;
    const struct hk_currency *currency; /* NULL where none is stated: prices then have 2 digits */
    double chance;                      /* 0.95 */
    double margin;                      /* flat, a ratio; -1: none */
    double tail_m;                      /* 0.15 */
    bool join_anywhere;
    bool lots_may_mix;                  /* within a role; else all of a role is of one lot */
    int64_t short_cost_minor;           /* the cost of a second order or of a lost lot; -1 where not stated */
    double spare_worth;                 /* the share of its price that a ball left over keeps; 1: returnable */
    bool count_in_swatches;             /* yarn used in swatches is bought too */
    struct hk_letter letter;
    struct hk_spreads spreads;

    struct hk_grade grade;
    struct hk_yarn *yarns;
    size_t yarn_count;
    struct hk_candidate *candidates;
    size_t candidate_count;
    struct hk_role *roles;
    size_t role_count;
    struct hk_combination *combinations;
    size_t combination_count;
    size_t blend_count;
    struct hk_fabric *fabrics; /* its own; the shipped ones are the catalogue's */
    size_t fabric_count;
    struct hk_swatch *swatches;
    size_t swatch_count;
    struct hk_line *lines; /* those of pattern.txt first */
    size_t line_count;
    size_t *order;         /* of lines: each behind those that it depends on */

    struct hk_written *written;  /* pattern.txt; NULL: there is none, or it could not be read */
    bool pattern_unread;         /* pattern.txt is there, but could not be read */
    struct hk_proof *proof;      /* of it; owned */
    struct hk_diags proof_diags; /* its findings; the tally reports them */
    struct hk_stitch_total *written_totals;
    size_t written_total_count;
    size_t *written_rows; /* entries that are rows of pieces */
    size_t written_row_count;
    size_t *held_combinations; /* of its sets of yarns; the last is for rows that name none */

    struct hk_progress *progress;
    size_t progress_count;
    struct hk_tester *testers;
    size_t tester_count;

    struct hk_in_hand *in_hand; /* hk_project_read_hand */
    size_t in_hand_count;

    struct hk_cost *costs;
    size_t cost_count;

    struct hk_offer *offers;
    size_t offer_count;
    struct hk_seller *sellers;
    size_t seller_count;

    bool learning;               /* another project learns from it: it gives no answers of its own */
    struct hk_project **learned; /* learn_from: other folders whose weighings are evidence too; owned */
    size_t learned_count;
};

/* Money in the project's currency, with two digits and no currency where it states none; as hk_money_cell. */
bool hk_project_money_cell(const struct hk_project *project, struct hk_cell cell, int64_t *minor, struct hk_diags *diags);

/* The place where a line begins. */
static inline struct hk_place hk_line_place(const struct hk_line *line)
{
    return line->written ? line->at : hk_cell_place(line->cell, 0);
}

/* `"back"`, `"back", part "body"`, `"back", part "body", size M`; the size only where there are several. */
const char *hk_line_title(const struct hk_line *line, struct hk_arena *arena);
const char *hk_line_title_in(const struct hk_project *project, size_t line, size_t size, struct hk_arena *arena);

/* Whether the line does not work anything in that size. */
bool hk_line_without(const struct hk_line *line, size_t size);

/* The combination of a set of yarns of pattern.txt; for SIZE_MAX, no set, the planned yarn alone. */
size_t hk_held_combination(const struct hk_project *project, size_t held);

/* Whether yarn of that role, a strand or a ball, is of the yarn that a weighing is of. */
bool hk_of_yarn(struct hk_of_yarn of, size_t role, size_t yarn);

/* The price at this number of balls, for price.balls balls. */
int64_t hk_offer_price_at(const struct hk_offer *offer, int64_t balls);

/* Whether the offer is one of that yarn for its role, in that colour. */
bool hk_offer_counts(const struct hk_offer *offer, const struct hk_candidate *candidate);

#endif
