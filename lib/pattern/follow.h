/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Following a row over the edge: the places that are there, in working order, for one size. One engine for swatches,
 * pieces, fabrics and pattern.txt. Nothing is read and nothing printed here; a row that cannot be followed says why in
 * words, and the caller knows file, piece and size.
 */
#ifndef HK_FOLLOW_H
#define HK_FOLLOW_H

#include "pattern/row.h"

enum hk_spot_kind {
    HK_SPOT_STITCH,
    HK_SPOT_SPACE, /* `chains` chains between stitches */
    HK_SPOT_CHAIN, /* one chain of a foundation */
    HK_SPOT_RING,  /* takes any number of stitches */
    HK_SPOT_MARKER /* between stitches */
};

/* A place of the edge. */
struct hk_spot {
    uint32_t group;  /* alike for all that stands in one place of the row below */
    uint32_t chains; /* HK_SPOT_SPACE; of a counting chain its chains, else 0 */
    uint16_t stitch; /* of the catalogue; of a counting chain what it stands for */
    uint8_t kind;
    bool marked; /* a marker hangs in the stitch */
};

struct hk_edge {
    struct hk_spot *spots;
    size_t count, capacity;
};

/* The kind of a stitch of an edge of which only the number is known: it is found as any kind. */
#define HK_SPOT_ANY UINT16_MAX

/* What custom leaves open of chains, one choice for a whole file (hankful(1), Conventions). Each may be settled by words. */
enum hk_convention {
    HK_CONVENTION_CH2,         /* ch 2 at the start of a row counts as its first stitch; default no */
    HK_CONVENTION_CH3,         /* ch 3 before dc counts; default yes */
    HK_CONVENTION_CH4,         /* ch 4 before tr counts; default yes */
    HK_CONVENTION_CH_OTHER,    /* other chains before a stitch count as it; default no */
    HK_CONVENTION_SKIPPED_DC,  /* skipped foundation chains before dc count as a dc; default yes */
    HK_CONVENTION_SKIPPED_HDC, /* the same before hdc; default no */
    HK_CONVENTION_SPACES,      /* spaces count in a number of stitches; default no */
    HK_CONVENTIONS
};

/* Bits by enum hk_convention. */
struct hk_conventions {
    unsigned settled; /* by words: not tried otherwise */
    unsigned other;   /* taken other than the default */
};

const char *hk_convention_text(enum hk_convention choice, bool other); /* "ch 3 counts as dc" */

/* A way to read one row, where its words may be meant in two. Bits. */
enum {
    HK_READING_SPACES = 1, /* "next st" and "sk N": spaces are among the places */
    HK_READING_TIMES = 2,  /* "rep from * N times": N + 1 in all */
    HK_READING_OTHER = 4   /* the figure at the end is a count (struct hk_row, other) */
};
#define HK_READINGS 8

/* How a row is worked. */
struct hk_manner {
    bool round;  /* no turn but where the row says so; else each row begins where the one before ended */
    bool strict; /* a row of a stitch pattern: nothing may be left over */
    bool fixed;  /* open repeats that nothing else ends are run `runs` times, not as often as fits */
    int64_t runs;
};

/* Stitches worked: chains and slip stitches too, without skipped ones. */
struct hk_stitches {
    size_t stitch;
    size_t yarn; /* SIZE_MAX: the yarn that the row began with; else of hk_row_words.yarns */
    int64_t count;
};

/* Why a row cannot be followed. */
struct hk_trouble {
    enum hk_code code;
    size_t at; /* byte of the row's text */
    char text[240], hint[240];
    int64_t remain; /* places that remain where the row should have come out; 0: it is something else */
    bool endless;   /* nothing ends a repeat */
    bool short_of;  /* too few places */
    bool spent;     /* the effort is used up */
};

/* A stated count against what was worked. */
struct hk_compared {
    int64_t stated, actual;
    bool agrees;
};

/* What one row came to. Arrays live until the next row of the same follower. */
struct hk_followed {
    bool good;
    struct hk_trouble trouble;        /* where it is not */
    int64_t count;                    /* stitches, by the choices taken */
    int64_t width;                    /* with spaces, a chain each */
    int64_t left;                     /* places of the row below left unworked */
    int64_t used;                     /* places of the row below that it went over */
    int64_t went_on;                  /* runs of repeats and "each" that go on as long as they fit, all together */
    const struct hk_stitches *worked; /* in working order, neighbours differ */
    size_t worked_count;
    size_t yarn; /* that the row ends with; SIZE_MAX: the one that it began with */
    double cut_m;
    const struct hk_compared *compared; /* one for each stated count of the row */
    size_t compared_count;
    unsigned choices;  /* bits of enum hk_convention that the row depends on */
    unsigned readings; /* the reading taken, where the row has several */
};

struct hk_follow;

/*
 * For one part in one size. `conventions` is read at every row. `effort` (may be NULL) is what all together may still
 * cost, a unit for each place. NULL where memory is lost. Owner: the caller.
 */
struct hk_follow *hk_follow_new(const struct hk_catalogue *catalogue, const struct hk_conventions *conventions,
                                size_t size, int64_t *effort);
void hk_follow_free(struct hk_follow *follow);

/* What the first row is worked into; false where memory is lost. `joined`: chains closed to a ring of chains, worked in
 * rounds. */
bool hk_follow_chain(struct hk_follow *follow, int64_t chains, bool joined);
/* Stitches that are there; HK_SPOT_ANY: their kind is not known. */
bool hk_follow_edge(struct hk_follow *follow, int64_t stitches, size_t stitch);
bool hk_follow_ring(struct hk_follow *follow);
/* The edge of another follower, as it is now. */
bool hk_follow_copy(struct hk_follow *follow, const struct hk_follow *from);

/* Works one row. False where memory is lost; followed->good tells of the row. One that cannot be followed leaves the
 * edge as it was. */
bool hk_follow_row(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner,
                   struct hk_followed *followed);

/* Places that rows left unworked and no row has come back to. */
int64_t hk_follow_left(const struct hk_follow *follow);
/* The edge as the next row finds it. */
const struct hk_edge *hk_follow_edge_now(const struct hk_follow *follow);
int64_t hk_edge_width(const struct hk_edge *edge);
int64_t hk_edge_count(const struct hk_edge *edge, bool spaces);
/* The same places in the same order, however their groups are numbered. */
bool hk_edge_same(const struct hk_edge *a, const struct hk_edge *b);
bool hk_edge_copy(struct hk_edge *to, const struct hk_edge *from);
void hk_edge_free(struct hk_edge *edge);

/* Most places of one row. */
#define HK_SPOTS_MOST ((size_t)1000000)

#endif
