/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Inside of following a row: one run of a row in one reading. The tree of the row is run over a copy of the edge with a
 * cursor; what is worked goes to a second edge, which the next row then finds. A repeat that goes on as long as it fits
 * is run and taken back: all that a run has done can be cut off again at a mark. Every function that answers false has
 * said why in run->trouble, or set run->out_of_memory.
 */
#ifndef HK_RUN_H
#define HK_RUN_H

#include "pattern/edge.h"
#include "pattern/followed.h"

#define NOWHERE SIZE_MAX
#define NO_KIND SIZE_MAX
#define BACKTRACKS_MOST 256
#define DEEP_MOST 64
#define EFFORT_MOST 100000000 /* where the caller sets no bound */
#define LOOKS_A_UNIT 16       /* places that are only looked at cost less than those that are worked */

/* Chains that stand before the turn at the end of a row: they begin the next one. */
struct lead {
    int64_t chains;
    const struct hk_step *step; /* what the row said of them; of a row that lives as long as the follower is used */
};

struct log {
    struct hk_stitches *entries;
    size_t count, capacity;
};

/* Places of other work that a run has used up. */
struct took {
    size_t other;
    int64_t count;
    bool skipped;     /* and left where they were */
    const char *name; /* what for; NULL: it is not said */
};

/* Stitches that one step of the row's own list skipped: of run->skipped. */
struct aside {
    const char *name;
    size_t first, count;
};
#define ASIDE_LEAST 4 /* fewer without a name divide no work */

/* What a run has done up to a point. */
struct mark {
    size_t took;
    size_t at, here, made, logged, skipped, skipped_first, yarn;
    int64_t sub, last_count, own_chains, used, went_on;
    double cut_m;
    size_t gap_at;
    bool landed;
};

/* The place that brackets "in next st" work into. */
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
    struct hk_edge below, made, scratch, behind; /* behind: places that travelling slip stitches left, nearest last */
    size_t at;                                   /* the next place of below */
    int64_t sub;                                 /* its chains that are used up already */
    size_t end;                                  /* the place that is out of reach for now */
    size_t here;                                 /* the place worked into last */
    size_t gap_at;                               /* where a gap was worked into last */
    size_t beyond;                               /* places beyond the edge that are taken in */
    struct log log;
    struct took *took;
    size_t took_count, took_capacity;
    struct aside *aside;
    size_t aside_count, aside_capacity;
    size_t *skipped, skipped_first, skipped_count, skipped_capacity; /* those before skipped_first are worked since */
    double cut_m;
    size_t yarn;
    int64_t used;
    int64_t went_on;    /* runs of what goes on as long as it fits, all together */
    int64_t own_chains; /* of a chain that the row made, still to be worked into */
    uint32_t group;
    struct inside in;
    int64_t most_chains; /* of a space of below, when it had most_of places; most_of NOWHERE: not looked for yet */
    size_t most_of;
    bool works;               /* it works a stitch at all */
    enum hk_counts join_says; /* what the join says of the starting chain */
    bool leading;             /* no stitch is worked yet */
    bool landed;              /* nothing stands yet in the place where travelling slip stitches ended, the first one */
    bool leaves;              /* the row says that stitches are left */
    bool ring;                /* it works into a ring */
    int64_t travelled;        /* places that slip stitches have moved to the end of the round */
    bool in_group;            /* the last place was one stitch of a shell, called by its place in it */
    size_t foundation_first;  /* the first chain of the foundation that the row works into */
    size_t own;               /* the stitch that it works, for inc and dec */
    int64_t equal;            /* runs of each open repeat, -1: not fixed */
    bool equal_wanted;
    size_t open_repeats;
    const struct hk_step
        *widening; /* the chain that makes the edge longer before this row, "ch 6, turn. Dc in 4th ch ..." */
    struct lead lead;
    size_t deep;
    bool failed, out_of_memory;
    bool not_named; /* the failure: no place of the name is left */
    struct hk_trouble trouble;
};

struct hk_follow {
    const struct hk_catalogue *catalogue;
    const struct hk_conventions *conventions;
    size_t size;
    int64_t *effort, own_effort;
    struct hk_edge edge;
    struct hk_edge beyond[2]; /* crochet: places left beyond the end and before the start of the edge, nearest first */
    struct hk_edge needle;    /* knitting: stitches before the edge, on the other needle already */
    bool joined, foundation;
    struct lead lead;
    struct hk_other *others;
    size_t other_count;
    int64_t copies;
    uint16_t part; /* 1 + that of the row that made the edge */
    size_t chain, slip, slipped, sc, knit, kfb, k2tog;
    struct run runs[2];
    struct hk_compared *compared;
    size_t compared_capacity;
    struct hk_set_aside *aside;
    size_t aside_capacity;
    struct hk_edge aside_spots;
};

/* A list of steps that is being run, and what it stands in. */
struct list {
    const struct hk_step *steps;
    size_t count, now;
    bool again; /* it is repeated */
    bool open;  /* as often as it fits */
    const struct list *outer;
};

/* A place found: the spot (NOWHERE: it uses none), and where the cursor stands then. */
struct position {
    size_t index, at;
    int64_t sub;
    bool uses; /* places before `at` are used up */
    bool own;  /* a chain that this row made */
};

enum found { FOUND, NONE_LEFT, OTHER_KIND };

enum named { NAMED, TAKES_ANY, GOES_ON };

/* ---- What every stitch goes through ---- */

bool hk_run_spent(struct run *run); /* says so; false */

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

/* Filled in place: a struct put together elsewhere and copied costs more than all the rest of a stitch. */
static inline void hk_run_whole(const struct run *run, size_t index, struct position *position)
{
    position->index = index;
    position->at = run->below.spots[index].kind == HK_SPOT_RING ? index : index + 1;
    position->sub = 0;
    position->uses = true;
    position->own = false;
}

/* ---- run.c: failing, what is worked, going back ---- */

__attribute__((format(printf, 4, 5))) bool hk_run_fail(struct run *run, enum hk_code code, size_t at,
                                                       const char *format, ...);
__attribute__((format(printf, 2, 3))) bool hk_run_advise(struct run *run, const char *format, ...);
bool hk_run_lose(struct run *run);
bool hk_run_log_stitch(struct run *run, size_t stitch, int64_t count);
struct mark hk_run_mark_set(const struct run *run);
void hk_run_go_back(struct run *run, const struct mark *mark);
bool hk_run_push(struct run *run, struct hk_spot spot);
uint32_t hk_run_group_new(struct run *run);
/* The row stands on a ring, not on stitches. */
bool hk_run_on_ring(const struct run *run);
/* The group of what is worked now: in brackets "in next st" one for all of them, but in a ring chains part them. */
uint32_t hk_run_group_now(struct run *run);
bool hk_run_push_space(struct run *run, int64_t chains);
/* `count` of a stitch; the places that it makes belong to the group. */
bool hk_run_produce(struct run *run, size_t stitch, int64_t count, uint32_t group);

/* ---- run_place.c: kinds and places ---- */

bool hk_run_kind_is(const struct run *run, const struct hk_spot *spot, size_t stitch);
const char *hk_run_kind_text(const struct run *run, size_t stitch); /* in the terms of the row */
int64_t hk_run_most_chains(struct run *run);
/* A row that goes from space to space passes stitches without a word. */
bool hk_run_works_in_spaces(const struct run *run);
/* The next place of a kind before `end`; nothing is used up yet. */
enum found hk_run_seek(struct run *run, const struct hk_where *where, size_t end, struct position *position);
/* A kind that is gone to, whatever stands before it. */
bool hk_run_is_jump(const struct hk_where *where);
/* The nearest place of several kinds: in a stretch that grows, since one of the kinds may be far away or nowhere. */
enum found hk_run_seek_besides(struct run *run, const struct hk_where *where, size_t end, struct position *position);
/* Markers that the work passes hang on the needle still. */
bool hk_run_pass_markers(struct run *run, size_t to);
/* Counted no further than to one more than `most`. */
int64_t hk_run_places_up_to(const struct run *run, size_t from, size_t to, int64_t most);
int64_t hk_run_places_between(struct run *run, size_t from, size_t to);
bool hk_run_skipped_add(struct run *run, size_t index);
/* Stitches from the `first` skipped one on have been skipped by one step of the row. */
/* "center 20 sts": as many lie before them as behind. */
bool hk_run_centered(struct run *run, const struct hk_where *where, size_t at);
bool hk_run_aside_add(struct run *run, const char *name, size_t first);
/* Uses the place up. */
bool hk_run_take(struct run *run, const struct position *position);
bool hk_run_none_left(struct run *run, const struct hk_where *where, enum found found, const struct position *position,
                      size_t at);
/* The first place has been worked into last: by a chain that stands there. */
bool hk_run_on_first(struct run *run);
/* The place that a step names next, used up. */
bool hk_run_take_place(struct run *run, const struct hk_where *where, size_t end, size_t at);

/* ---- run_limit.c: where "each" and repeats end ---- */

/* The spot behind which just `places` places are left; NOWHERE: there are fewer. */
size_t hk_run_before_last(struct run *run, int64_t places, size_t end);
size_t hk_run_next_marker(struct run *run, size_t end);
/* Whether a step names the place that it goes to, and which that is. */
enum named hk_run_step_named(struct run *run, const struct hk_step *step, size_t end, size_t *index);
/* The place that what follows in the row names next; NOWHERE where it names none. */
size_t hk_run_named_next(struct run *run, const struct list *list, size_t end);
/* Where a limit in words lies. False with a failure. */
bool hk_run_limit_index(struct run *run, const struct hk_where *where, const struct list *list, size_t at,
                        size_t *limit);

/* ---- run_chain.c: chains that stand for stitches ---- */

const struct hk_step *hk_run_first_worked(const struct hk_step *steps, size_t count);
bool hk_run_chooses(struct run *run, enum hk_convention choice, bool usual);
/* What the row itself says of its starting chain: joined to the top of it, it counts; joined to a stitch by name, it
 * does not. */
enum hk_counts hk_run_join_says(const struct run *run);
bool hk_run_is_us(const struct run *run, size_t stitch, const char *us);
/* The stitch that the row works, for chains that stand for one and for increases. */
size_t hk_run_row_stitch(const struct run *run, const struct hk_step *steps, size_t count);
bool hk_run_chain_too_long(struct run *run, int64_t chains);
bool hk_run_push_counting(struct run *run, size_t stitch, int64_t chains, int64_t spare);
bool hk_run_start_chain(struct run *run, int64_t chains, const struct hk_step *said, bool worked);
/* `tch 4 as (dc, ch 1)`: what is said is what counts. */
bool hk_run_turning_chain(struct run *run, const struct hk_step *step);

/* ---- run_stitch.c: stitches and groups ---- */

bool hk_run_step_stitch(struct run *run, const struct hk_step *step, const struct list *list);
bool hk_run_step_group(struct run *run, const struct hk_step *step, const struct list *list);

/* ---- run_other.c: places of other work ---- */

/*
 * How many places of other work a step goes over, used up; -1 with a failure. Of stitches worked through two layers one
 * of each is used up.
 */
int64_t hk_run_take_others(struct run *run, const struct hk_where *where);
/* One of the next places of other work. */
bool hk_run_step_others(struct run *run, const struct hk_step *step, size_t stitch, int64_t many);
/* Stitches that were left beyond the edge of the same rows: no other work. */
bool hk_run_skip_others(struct run *run, const struct hk_step *step); /* they stay where they are */
bool hk_run_beyond_edge(const struct run *run, const struct hk_where *where);

/* ---- run_repeat.c: repeats ---- */

bool hk_run_endless(struct run *run, const struct hk_step *step);
bool hk_run_step_repeat(struct run *run, const struct hk_step *step, struct list *list, bool *done);

/* ---- run_step.c: lists of steps ---- */

/* From list->now on. */
bool hk_run_list(struct run *run, struct list *list);

/* ---- run_row.c: a row from its start to its end ---- */

/* The places left at the end of the row that are no spaces. */
int64_t hk_run_leftover(const struct run *run);
/* A row that goes to named places has jumped over the rest. */
bool hk_run_jumped_over(const struct run *run);
bool hk_run_row(struct run *run);

#endif
