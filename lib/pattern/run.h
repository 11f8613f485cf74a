/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The internal part of following a row: one run of a row in one reading. The tree of the row is run over a copy of the
 * edge with a cursor; worked stitches go to a second edge, the edge of the next row. A repeat that continues as long as
 * it fits is run and undone: everything after a mark can be removed. Every function that returns false has set
 * run->trouble or run->out_of_memory.
 */
#ifndef HK_RUN_H
#define HK_RUN_H

#include "pattern/edge.h"
#include "pattern/followed.h"

#define NOWHERE SIZE_MAX
#define NO_KIND SIZE_MAX
#define BACKTRACKS_MOST 256
#define DEEP_MOST 64
#define EFFORT_MOST 100000000 /* used if the caller sets no limit */
#define LOOKS_A_UNIT 16       /* places examined at the cost of one place worked */

/* Chains before the turn at the end of a row, which begin the next row. */
struct lead {
    int64_t chains;
    const struct hk_step *step; /* the step of these chains; the row lives as long as the follower is used */
};

struct log {
    struct hk_stitches *entries;
    size_t count, capacity;
};

/* Places of other work that a run has used. */
struct took {
    size_t other;
    int64_t count;
    bool skipped;     /* skipped and left in place */
    const char *name; /* their purpose; NULL: not stated */
};

/* Stitches skipped by one step of the row's top-level list, a part of run->skipped. */
struct aside {
    const char *name;
    size_t first, count;
};
#define ASIDE_LEAST 4 /* fewer stitches without a name do not divide the work */

/* The state of a run at a point, for undoing. */
struct mark {
    size_t took;
    size_t at, here, made, logged, skipped, skipped_first, yarn;
    int64_t sub, last_count, own_chains, used, went_on;
    double cut_m;
    size_t gap_at;
    bool landed;
};

/* The place of a bracket "in next st". */
struct inside {
    bool on;
    size_t place;
    uint32_t group;
};

/* A row in one reading. */
struct run {
    struct hk_follow *follow;
    const struct hk_row *row;
    struct hk_manner manner;
    unsigned reading, readings, choices;
    struct hk_edge below, made, scratch, behind; /* behind: places passed by travelling slip stitches, nearest last */
    size_t at;                                   /* the next place of below */
    int64_t sub;                                 /* its chains that are used already */
    size_t end;                                  /* the first place out of reach at present */
    size_t here;                                 /* the place worked into last */
    size_t gap_at;                               /* the gap worked into last */
    size_t beyond;                               /* places from beyond the edge that are included */
    struct log log;
    struct took *took;
    size_t took_count, took_capacity;
    struct aside *aside;
    size_t aside_count, aside_capacity;
    size_t *skipped, skipped_first, skipped_count,
        skipped_capacity; /* those before skipped_first have been worked since */
    double cut_m;
    size_t yarn;
    int64_t used;
    int64_t went_on;    /* total runs of repeats that continue as long as they fit */
    int64_t own_chains; /* chains made by the row and not yet worked into */
    uint32_t group;
    struct inside in;
    int64_t most_chains; /* the longest space of below when it had most_of places; most_of NOWHERE: not computed */
    size_t most_of;
    bool works;               /* the row works some stitch */
    enum hk_counts join_says; /* whether the join makes the starting chain count */
    bool leading;             /* no stitch has been worked */
    bool landed;              /* nothing has been worked in the first place, where travelling slip stitches ended */
    bool leaves;              /* the row states that stitches are left */
    bool ring;                /* the row works into a ring */
    int64_t travelled;        /* places that slip stitches have moved to the end of the round */
    bool in_group;            /* the last place was one stitch of a shell, named by its position in it */
    size_t foundation_first;  /* the first chain of the foundation that the row works into */
    size_t row_stitch;        /* the stitch of the row, for inc and dec */
    int64_t equal;            /* runs of each open repeat, -1: not fixed */
    bool equal_wanted;
    size_t open_repeats;
    const struct hk_step
        *widening; /* the chain that lengthens the edge before this row, "ch 6, turn. Dc in 4th ch ..." */
    struct lead lead;
    size_t deep;
    bool failed, out_of_memory;
    bool not_named; /* failed: no place with this name is left */
    struct hk_trouble trouble;
};

struct hk_follow {
    const struct hk_catalogue *catalogue;
    const struct hk_conventions *conventions;
    size_t size;
    int64_t *effort, own_effort;
    struct hk_edge edge;
    struct hk_edge beyond[2]; /* crochet: places left beyond the end and before the start of the edge, nearest first */
    struct hk_edge needle;    /* knitting: stitches before the edge, already on the other needle */
    bool joined, foundation;
    struct lead lead;
    struct hk_other *others;
    size_t other_count;
    int64_t copies;
    uint16_t part; /* 1 + the part of the row that made the edge */
    uint16_t row;  /* number of the row, of places that it leaves */
    size_t chain, slip, slipped, sc, knit, kfb, k2tog;
    struct run runs[2];
    struct hk_compared *compared;
    size_t compared_capacity;
    struct hk_set_aside *aside;
    size_t aside_capacity;
    struct hk_edge aside_spots;
};

/* A list of steps being run, with the lists around it. */
struct list {
    const struct hk_step *steps;
    size_t count, now;
    bool again; /* it is repeated */
    bool open;  /* repeated as often as it fits */
    const struct list *outer;
};

/* A place found: the spot (NOWHERE: it uses none), and the cursor after it. */
struct position {
    size_t index, at;
    int64_t sub;
    bool uses;      /* places before `at` are used */
    bool own_chain; /* a chain that this row made */
};

enum found { FOUND, NONE_LEFT, OTHER_KIND };

enum named { NAMED, TAKES_ANY, GOES_ON };

/* ---- Common to all stitches ---- */

bool hk_run_spent(struct run *run); /* reports it; returns false */

static inline bool hk_run_spend(struct run *run, int64_t cost)
{
    return (*run->follow->effort -= cost) >= 0 || hk_run_spent(run);
}

static inline bool hk_run_look(struct run *run, size_t places)
{
    return places < LOOKS_A_UNIT || hk_run_spend(run, (int64_t)(places / LOOKS_A_UNIT));
}

static inline const struct hk_stitch *hk_run_stitch_of(const struct run *run, size_t stitch)
{
    return &run->follow->catalogue->stitches[stitch];
}

static inline bool hk_run_is_worked(const struct hk_spot *spot)
{
    return spot->kind == HK_SPOT_STITCH || spot->kind == HK_SPOT_CHAIN;
}

static inline bool hk_run_spaces_are_places(const struct run *run)
{
    return run->reading & HK_READING_SPACES;
}

/* Set in place, since copying a struct would cost more than all other work of a stitch. */
static inline void hk_run_whole(const struct run *run, size_t index, struct position *position)
{
    position->index = index;
    position->at = run->below.spots[index].kind == HK_SPOT_RING ? index : index + 1;
    position->sub = 0;
    position->uses = true;
    position->own_chain = false;
}

/* ---- run.c: failure, working, undoing ---- */

__attribute__((format(printf, 4, 5))) bool hk_run_fail(struct run *run, enum hk_code code, size_t at,
                                                       const char *format, ...);
__attribute__((format(printf, 2, 3))) bool hk_run_advise(struct run *run, const char *format, ...);
bool hk_run_lose(struct run *run);
bool hk_run_log_stitch(struct run *run, size_t stitch, int64_t count);
struct mark hk_run_mark_set(const struct run *run);
void hk_run_go_back(struct run *run, const struct mark *mark);
bool hk_run_push(struct run *run, struct hk_spot spot);
uint32_t hk_run_group_new(struct run *run);
/* Returns true when the row is worked on a ring, not on stitches. */
bool hk_run_on_ring(const struct run *run);
/*
 * Returns the group of the next stitches: one group within brackets "in next st", but in a ring chains separate groups.
 */
uint32_t hk_run_group_now(struct run *run);
bool hk_run_push_space(struct run *run, int64_t chains);
/* Works `count` of a stitch; its places belong to the group. */
bool hk_run_produce(struct run *run, size_t stitch, int64_t count, uint32_t group);

/* ---- run_place.c: kinds and places ---- */

bool hk_run_kind_is(const struct run *run, const struct hk_spot *spot, size_t stitch);
const char *hk_run_kind_text(const struct run *run, size_t stitch); /* in the terms of the row */
int64_t hk_run_most_chains(struct run *run);
/* Returns true for a row that goes from space to space and passes over stitches. */
bool hk_run_works_in_spaces(const struct run *run);
/* Finds the next place of a kind before `end`, without using it. */
enum found hk_run_seek(struct run *run, const struct hk_where *where, size_t end, struct position *position);
/* Returns true for a kind of place that may be reached over any other places. */
bool hk_run_is_jump(const struct hk_where *where);
/* Finds the nearest place of several kinds, in growing stretches, since one of the kinds may be far away or absent. */
enum found hk_run_seek_besides(struct run *run, const struct hk_where *where, size_t end, struct position *position);
/* Keeps the markers that the work passes on the needle. */
bool hk_run_pass_markers(struct run *run, size_t to);
/* Counts up to most + 1. */
int64_t hk_run_places_up_to(const struct run *run, size_t from, size_t to, int64_t most);
int64_t hk_run_places_between(struct run *run, size_t from, size_t to);
bool hk_run_skipped_add(struct run *run, size_t index);
/* hk_run_aside_add records that one step skipped the stitches from `first` on. */
/* hk_run_centered checks "center 20 sts": equal numbers before and after them. */
bool hk_run_centered(struct run *run, const struct hk_where *where, size_t at);
bool hk_run_aside_add(struct run *run, const char *name, size_t first);
/* Uses the place. */
bool hk_run_take(struct run *run, const struct position *position);
bool hk_run_none_left(struct run *run, const struct hk_where *where, enum found found, const struct position *position,
                      size_t at);
/* Returns true when `where` is the first stitch, and a counting chain there or another stitch has used it last. */
bool hk_run_on_first(struct run *run, const struct hk_where *where);
/* Returns the places after the first of `where`: "first 3 sts" are the first and the next 2. */
struct hk_where hk_run_where_then(const struct hk_where *where);
/* Finds and uses the place that a step names next. */
bool hk_run_take_place(struct run *run, const struct hk_where *where, size_t end, size_t at);

/* ---- run_ends.c: shaping ---- */

/* Returns where a flat row that leaves `count` stitches changes their number; zero for a round and a row of a fabric.
 */
struct hk_ends hk_run_ends(const struct run *run, int64_t count);

/* ---- run_limit.c: the end of "each" and repeats ---- */

/* Returns the spot after which exactly `places` places are left; NOWHERE if there are fewer. */
size_t hk_run_before_last(struct run *run, int64_t places, size_t end);
size_t hk_run_next_marker(struct run *run, size_t end);
/* Finds whether a step names its place, and that place. */
enum named hk_run_step_named(struct run *run, const struct hk_step *step, size_t end, size_t *index);
/* Returns the place that the rest of the row names next; NOWHERE if none. */
size_t hk_run_named_next(struct run *run, const struct list *list, size_t end);
/* Finds the place of a limit in words. Returns false with a failure. */
bool hk_run_limit_index(struct run *run, const struct hk_where *where, const struct list *list, size_t at,
                        size_t *limit);

/* ---- run_chain.c: chains that count as stitches ---- */

const struct hk_step *hk_run_first_worked(const struct hk_step *steps, size_t count);
bool hk_run_chooses(struct run *run, enum hk_convention choice, bool usual);
/*
 * Returns whether the starting chain counts by the join: joined to its top it counts, joined to a named stitch it does
 * not.
 */
enum hk_counts hk_run_join_says(const struct run *run);
bool hk_run_is_us(const struct run *run, size_t stitch, const char *us);
/* Returns the stitch of the row, for counting chains and for increases. */
size_t hk_run_row_stitch(const struct run *run, const struct hk_step *steps, size_t count);
bool hk_run_chain_too_long(struct run *run, int64_t chains);
bool hk_run_push_counting(struct run *run, size_t stitch, int64_t chains, int64_t spare);
bool hk_run_start_chain(struct run *run, int64_t chains, const struct hk_step *chain_step, bool worked);
/* `tch 4 as (dc, ch 1)`: works the chains as stated. */
bool hk_run_turning_chain(struct run *run, const struct hk_step *step);

/* ---- run_stitch.c: stitches and groups ---- */

bool hk_run_step_stitch(struct run *run, const struct hk_step *step, const struct list *list);
bool hk_run_step_group(struct run *run, const struct hk_step *step, const struct list *list);

/* ---- run_other.c: places of other work ---- */

/*
 * Uses the places of other work of a step. Returns their number; -1 with a failure. Through two layers, one place of
 * each is used.
 */
int64_t hk_run_take_others(struct run *run, const struct hk_where *where);
/* Works into the next places of other work. */
bool hk_run_step_others(struct run *run, const struct hk_step *step, size_t stitch, int64_t many);
/* hk_run_beyond_edge returns true for stitches left beyond the edge of the same rows, which are not other work. */
bool hk_run_skip_others(struct run *run, const struct hk_step *step); /* the stitches stay in place */
bool hk_run_beyond_edge(const struct run *run, const struct hk_where *where);

/* ---- run_repeat.c: repeats ---- */

bool hk_run_endless(struct run *run, const struct hk_step *step);
bool hk_run_step_repeat(struct run *run, const struct hk_step *step, struct list *list, bool *done);

/* ---- run_step.c: lists of steps ---- */

/* Runs the list from list->now on. */
bool hk_run_list(struct run *run, struct list *list);

/* ---- run_row.c: a whole row ---- */

/* Returns the number of places left at the end of the row, without spaces. */
int64_t hk_run_leftover(const struct run *run);
/* Returns true when a row that goes to named places has passed over others. */
bool hk_run_jumped_over(const struct run *run);
bool hk_run_row(struct run *run);

#endif
