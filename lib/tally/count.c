/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counts a part by following its rows one by one (pattern/follow.h). When a cycle of rows begins on the same edge as
 * the previous cycle, the remaining cycles are equal and only added up. Widths that fit are found by trial, outward
 * from the width asked for.
 */
#include "tally/count.h"

#include "pattern/edge.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TRIES_MOST 200 /* widths tried on each side */
#define HINTS_MOST TRIES_MOST
#define HINTS_EFFORT ((int64_t)2000000)
#define PROBES 1024      /* size of the cache of row 1 by number of chains */
#define CHAINS_A_UNIT 16 /* chains laid at the cost of one place */
#define KINDS_A_UNIT 16  /* kinds of stitch added up at the cost of one place */

/* The result of a row, used again without following the row. */
struct again {
    struct hk_kinds kinds;
    double cut_m;
    int64_t leaves;
};

/* The rows of a stitch pattern at one width: the stitches below each row, its stitches, and the stitches it leaves. */
struct sample {
    int64_t stated; /* the width */
    bool fits;
    int64_t foundation;
    int64_t *below; /* stitches below each row of the pattern, then below the part's first row */
    struct again *rows;
};

/* The cached result of row 1 on a number of chains. */
struct probe {
    int64_t chains; /* the number of chains + 1; 0: unused */
    int64_t width;
    enum hk_counting answer;
};

struct walk {
    const struct hk_work *work;
    struct hk_count_error *error;
    struct hk_arena *arena; /* memory of the result */
    struct hk_arena scratch;
    struct hk_follow *follow;
    struct hk_follow *trial; /* for trials; created on first use */
    struct hk_edge tried;    /* an edge that a trial returns to */
    double *sums;            /* [stitch], zeros between uses */
    struct probe *probes;    /* [chains % PROBES]; created on first use */
    bool out_of_memory;      /* also when memory ran out in a trial */
    struct hk_conventions conventions;
    size_t row_count;          /* rows of the stitch pattern */
    double *counts;            /* [stripe * stitch_count + stitch] */
    double *cut_m;             /* [stripe] */
    int64_t *joined;           /* [stripe] */
    struct hk_kinds **longest; /* [stripe], growing */
    size_t *longest_count, *longest_capacity;
    size_t stripe;       /* of the next row */
    int64_t stripe_left; /* the remaining rows of that stripe */
    size_t last_stripe;
    int64_t foundation;
    int64_t leaves;
    struct hk_row_run *runs;
    size_t run_count, run_capacity;
    bool runs_full;
    struct sample **samples;
    size_t sample_count, sample_capacity;
    unsigned choices; /* bits of the conventions that the rows depend on */
    struct {
        enum { IDLE_UNKNOWN, IDLE_NOT, IDLE } state;
        int64_t base, width,
            each; /* stitches: the least below row 1, those it then leaves, those of each further run */
    } idle; /* IDLE: the repeat of row 1 uses no stitches and adds some, so the width decides the number of runs */
};

static bool spend(const struct hk_work *work, int64_t cost)
{
    if (work->effort && *work->effort >= 0)
        *work->effort -= cost;
    return !work->effort || *work->effort >= 0;
}

/* ---- Listing the stitches that rows leave ---- */

static bool run_add(struct walk *walk, int64_t row, int64_t stitches, int64_t step)
{
    if (walk->run_count == HK_RUNS_MOST) {
        walk->runs_full = true;
        return true;
    }
    struct hk_row_run *runs =
        hk_arena_grow(walk->arena, walk->runs, walk->run_count, &walk->run_capacity, sizeof *runs);
    if (!runs)
        return false;
    walk->runs = runs;
    runs[walk->run_count++] = (struct hk_row_run){row, row, stitches, step};
    return true;
}

/* A run of two rows is not a slope: puts the second row into a run of its own. */
static bool run_split(struct walk *walk)
{
    struct hk_row_run *run = walk->run_count ? &walk->runs[walk->run_count - 1] : NULL;
    if (!run || run->step == 0 || run->last - run->first != 1)
        return true;
    int64_t second = run->stitches + run->step;
    int64_t row = run->last--;
    run->step = 0;
    return run_add(walk, row, second, 0);
}

/* Lists the stitches that row `row` (from 1) leaves. */
static bool run_push(struct walk *walk, int64_t row, int64_t stitches)
{
    if (walk->runs_full)
        return true;
    struct hk_row_run *run = walk->run_count ? &walk->runs[walk->run_count - 1] : NULL;
    int64_t length = run ? run->last - run->first + 1 : 0;
    if (length > 1 && stitches != run->stitches + length * run->step) {
        if (!run_split(walk))
            return false;
        run = &walk->runs[walk->run_count - 1];
        length = run->last - run->first + 1;
        if (walk->runs_full || length > 1)
            return walk->runs_full || run_add(walk, row, stitches, 0);
    }
    if (length == 0)
        return run_add(walk, row, stitches, 0);
    if (length == 1)
        run->step = stitches - run->stitches;
    run->last = row;
    return true;
}

/* ---- Starting ---- */

static const struct hk_manner strictly = {.strict = true};

/* Records that memory ran out, so that a failed trial is not taken for a count error. */
static enum hk_counting lose(struct walk *walk)
{
    walk->out_of_memory = true;
    return HK_COUNTING_NO_MEMORY;
}

static enum hk_counting follow_row(struct walk *walk, struct hk_follow *follow, int64_t r, struct hk_manner manner,
                                   struct hk_followed *followed)
{
    const struct hk_row *row = hk_fabric_row(walk->work->fabric, r);
    if (!spend(walk->work, 1))
        return HK_COUNTING_SPENT;
    if (!hk_follow_row(follow, row, manner, followed))
        return lose(walk);
    if (followed->good)
        return HK_COUNTING_DONE;
    if (followed->trouble.spent)
        return HK_COUNTING_SPENT;
    if (followed->trouble.endless)
        return HK_COUNTING_ENDLESS;
    if (followed->trouble.remain || followed->trouble.short_of)
        return HK_COUNTING_NO_WIDTH;
    return followed->trouble.code == HK_CODE_COUNT_TOO_LARGE ? HK_COUNTING_TOO_MANY : HK_COUNTING_TROUBLE;
}

static struct hk_follow *follower(struct walk *walk)
{
    return hk_follow_new(walk->work->catalogue, &walk->conventions, 0, walk->work->effort);
}

static struct hk_follow *trial_of(struct walk *walk)
{
    if (!walk->trial)
        walk->trial = follower(walk);
    walk->out_of_memory |= !walk->trial;
    return walk->trial;
}

static void walk_free(struct walk *walk)
{
    hk_follow_free(walk->trial);
    hk_edge_free(&walk->tried);
    hk_arena_free(&walk->scratch);
}

static bool on_cast_on(const struct walk *walk)
{
    return walk->work->fabric->knit;
}

/* Starts row 1 on a foundation, a ring or an edge. */
static bool start_on(const struct walk *walk, struct hk_follow *follow, int64_t stitches)
{
    const struct hk_work *work = walk->work;
    switch (work->start) {
    case HK_START_RING:
        return hk_follow_ring(follow);
    case HK_START_CHAIN:
        return on_cast_on(walk) ? hk_follow_edge(follow, stitches, work->foundation_stitch)
                                : hk_follow_chain(follow, stitches, hk_fabric_row(work->fabric, 0)->joined);
    case HK_START_EDGE:
    case HK_START_CONTINUE:
        return hk_follow_edge(follow, stitches, HK_SPOT_ANY);
    }
    return false;
}

/* Works row 1 on a number of stitches or chains, with as many runs of its repeat as fit. */
static enum hk_counting first_row(struct walk *walk, struct hk_follow *follow, int64_t stitches,
                                  struct hk_followed *followed)
{
    *followed = (struct hk_followed){0};
    if (stitches > (int64_t)HK_SPOTS_MOST)
        return HK_COUNTING_TOO_MANY;
    if (!spend(walk->work, stitches / CHAINS_A_UNIT))
        return HK_COUNTING_SPENT;
    if (!start_on(walk, follow, stitches))
        return lose(walk);
    return follow_row(walk, follow, 0, strictly, followed);
}

/* Puts row 1 of a line that continues on the edge of the line before. */
static enum hk_counting stand_on_before(struct walk *walk, struct hk_follow *follow)
{
    const struct hk_work *work = walk->work;
    if (!work->before && work->below > (int64_t)HK_SPOTS_MOST)
        return HK_COUNTING_TOO_MANY;
    bool good = work->before ? hk_follow_copy(follow, work->before) : hk_follow_edge(follow, work->below, HK_SPOT_ANY);
    return good ? HK_COUNTING_DONE : lose(walk);
}

/*
 * Works row 1 with a fixed number of runs of its open repeats, on `base` stitches or chains, or on the edge of the line
 * before.
 */
static enum hk_counting first_fixed(struct walk *walk, struct hk_follow *follow, int64_t base, int64_t runs,
                                    struct hk_followed *followed)
{
    struct hk_manner manner = strictly;
    manner.fixed = true;
    manner.runs = runs;
    if (walk->work->start == HK_START_CONTINUE) {
        enum hk_counting answer = stand_on_before(walk, follow);
        if (answer != HK_COUNTING_DONE)
            return answer;
    } else if (!start_on(walk, follow, base)) {
        return lose(walk);
    }
    return follow_row(walk, follow, 0, manner, followed);
}

/*
 * Returns the number of bases to try. On an edge the width is the number of stitches below row 1, so only a row on no
 * stitches can be idle.
 */
static int64_t idle_bases(const struct walk *walk)
{
    return walk->work->start == HK_START_CHAIN ? TRIES_MOST : 0;
}

/*
 * Sets walk->idle: whether the repeat of row 1 uses no stitches and adds some. An answer other than HK_COUNTING_DONE
 * ends the walk.
 */
static enum hk_counting find_idle(struct walk *walk)
{
    if (walk->idle.state != IDLE_UNKNOWN)
        return HK_COUNTING_DONE;
    struct hk_followed followed;
    struct hk_follow *follow = hk_fabric_row(walk->work->fabric, 0)->repeats ? trial_of(walk) : NULL;
    enum hk_counting answer = HK_COUNTING_NO_WIDTH;
    walk->idle.state = IDLE_NOT;
    for (int64_t base = 0;
         follow && base <= idle_bases(walk) && (answer == HK_COUNTING_NO_WIDTH || answer == HK_COUNTING_TROUBLE);
         base++) {
        answer = first_fixed(walk, follow, base, 0, &followed);
        if (answer != HK_COUNTING_DONE)
            continue;
        int64_t used = followed.used, width = followed.width;
        answer = first_fixed(walk, follow, base, 1, &followed);
        if (answer == HK_COUNTING_NO_WIDTH || answer == HK_COUNTING_TROUBLE)
            break; /* the repeat uses stitches */
        if (answer == HK_COUNTING_DONE && followed.used == used && followed.width > width) {
            walk->idle.state = IDLE;
            walk->idle.base = walk->work->start == HK_START_CHAIN ? base : 0;
            walk->idle.width = width;
            walk->idle.each = followed.width - width;
        }
        break;
    }
    return answer == HK_COUNTING_NO_MEMORY || answer == HK_COUNTING_SPENT ? answer : HK_COUNTING_DONE;
}

/* Works row 1, whose repeat is idle, so that it leaves `stitches`. */
static enum hk_counting first_idle(struct walk *walk, struct hk_follow *follow, int64_t stitches,
                                   struct hk_followed *followed)
{
    int64_t more = stitches - walk->idle.width;
    if (stitches == HK_NOT_STATED)
        return HK_COUNTING_UNKNOWN;
    if (stitches > (int64_t)HK_SPOTS_MOST)
        return HK_COUNTING_TOO_MANY;
    if (more < 0 || more % walk->idle.each)
        return HK_COUNTING_NO_WIDTH;
    return first_fixed(walk, follow, walk->idle.base, more / walk->idle.each, followed);
}

/* Works row 1 on a number of chains. Returns HK_COUNTING_NO_WIDTH when it leaves another width. */
static enum hk_counting first_leaving(struct walk *walk, struct hk_follow *follow, int64_t chains, int64_t stitches,
                                      struct hk_followed *followed)
{
    enum hk_counting answer = chains >= 0 ? first_row(walk, follow, chains, followed) : HK_COUNTING_NO_WIDTH;
    return answer == HK_COUNTING_DONE && followed->width != stitches ? HK_COUNTING_NO_WIDTH : answer;
}

/* Sets *foundation, which is 0 when the row works into a ring of its own. */
static enum hk_counting foundation_found(struct walk *walk, struct hk_follow *follow, int64_t chains, int64_t stitches,
                                         int64_t *foundation, struct hk_followed *followed)
{
    *foundation = chains;
    if (followed->used > 0 || chains == 0)
        return HK_COUNTING_DONE;
    *foundation = 0;
    return first_leaving(walk, follow, 0, stitches, followed);
}

/*
 * Works row 1 on a number of chains, or takes the cached result if that has another width than `stitches`; then the row
 * is not followed.
 */
static enum hk_counting probe(struct walk *walk, struct hk_follow *follow, int64_t chains, int64_t stitches,
                              struct hk_followed *followed)
{
    if (!walk->probes)
        walk->probes = hk_arena_take(&walk->scratch, PROBES, sizeof *walk->probes);
    if (!walk->probes)
        return lose(walk);
    struct probe *known = &walk->probes[chains % PROBES];
    if (known->chains != chains + 1 || (known->answer == HK_COUNTING_DONE && known->width == stitches)) {
        enum hk_counting answer = first_row(walk, follow, chains, followed);
        *known = (struct probe){chains + 1, followed->width, answer};
        return answer;
    }
    *followed = (struct hk_followed){.width = known->width};
    return known->answer;
}

/*
 * The fewest chains or cast-on stitches on which row 1 leaves `stitches`: searches outward from `stitches`; two numbers
 * of chains that fit then predict the answer. Returns HK_COUNTING_NO_WIDTH if there is none.
 */
static enum hk_counting find_foundation(struct walk *walk, struct hk_follow *follow, int64_t stitches,
                                        int64_t *foundation, struct hk_followed *followed)
{
    enum hk_counting worst = HK_COUNTING_NO_WIDTH;
    int64_t known_chains = -1, known_width = 0;
    for (int64_t i = 0; i <= 2 * (int64_t)TRIES_MOST; i++) {
        int64_t chains = stitches + (i % 2 ? (i + 1) / 2 : -(i / 2));
        if (chains < 0)
            continue;
        enum hk_counting answer = probe(walk, follow, chains, stitches, followed);
        if (answer == HK_COUNTING_DONE && followed->width == stitches)
            return foundation_found(walk, follow, chains, stitches, foundation, followed);
        if (answer == HK_COUNTING_NO_MEMORY || answer == HK_COUNTING_SPENT || answer == HK_COUNTING_ENDLESS ||
            answer == HK_COUNTING_TOO_MANY)
            return answer;
        if (i == 0 && answer == HK_COUNTING_TROUBLE) { /* on as many chains as stitches: report this error */
            walk->error->trouble = followed->trouble;
            worst = HK_COUNTING_TROUBLE;
        }
        if (answer == HK_COUNTING_DONE)
            worst = HK_COUNTING_NO_WIDTH;
        if (answer == HK_COUNTING_DONE && known_chains >= 0) {
            int64_t wider = followed->width - known_width, more = (stitches - known_width) * (chains - known_chains);
            if (wider == 0 && hk_fabric_row(walk->work->fabric, 0)->repeats)
                return HK_COUNTING_ENDLESS;
            int64_t led = wider && more % wider == 0 ? known_chains + more / wider : -1;
            answer = first_leaving(walk, follow, led, stitches, followed);
            /* Numbers of chains that fit differ by whole runs of the repeat. */
            return answer == HK_COUNTING_DONE ? foundation_found(walk, follow, led, stitches, foundation, followed)
                                              : answer;
        } else if (answer == HK_COUNTING_DONE) {
            known_chains = chains;
            known_width = followed->width;
        }
    }
    return worst;
}

/* Works row 1 so that it leaves the stated width. */
static enum hk_counting first_at(struct walk *walk, struct hk_follow *follow, int64_t stitches, int64_t *foundation,
                                 struct hk_followed *followed)
{
    *foundation = 0;
    enum hk_counting answer = find_idle(walk);
    if (answer != HK_COUNTING_DONE)
        return answer;
    if (walk->idle.state == IDLE) {
        *foundation = walk->idle.base;
        return first_idle(walk, follow, stitches, followed);
    }
    switch (walk->work->start) {
    case HK_START_CHAIN:
        return find_foundation(walk, follow, stitches, foundation, followed);
    case HK_START_RING:
        answer = first_row(walk, follow, 0, followed);
        return answer == HK_COUNTING_DONE && stitches != HK_NOT_STATED && followed->width != stitches
                   ? HK_COUNTING_DIFFERS
                   : answer;
    case HK_START_EDGE:
    case HK_START_CONTINUE:
        break;
    }
    return first_row(walk, follow, stitches, followed);
}

/* ---- Errors and the widths that fit ---- */

static enum hk_counting stop(struct walk *walk, enum hk_counting why, int64_t r, int64_t below,
                             const struct hk_trouble *trouble)
{
    *walk->error = (struct hk_count_error){
        .row = r + 1,
        .below = below,
        .fits_row = {HK_NOT_STATED, HK_NOT_STATED},
        .fits_all = {HK_NOT_STATED, HK_NOT_STATED},
        .counted = walk->error->counted,
        .row_of = hk_fabric_row(walk->work->fabric, r),
    };
    if (trouble)
        walk->error->trouble = *trouble;
    return why;
}

/*
 * Works all rows at a stated width, until the cycle repeats itself. once: the repeat of row 1 must run at least once.
 */
static enum hk_counting try_width(struct walk *walk, int64_t stitches, bool once)
{
    struct hk_follow *follow = trial_of(walk);
    struct hk_followed followed;
    int64_t foundation;
    enum hk_counting answer = follow ? first_at(walk, follow, stitches, &foundation, &followed) : HK_COUNTING_NO_MEMORY;
    const struct hk_fabric *fabric = walk->work->fabric;
    bool known = false;
    if (answer == HK_COUNTING_DONE && once && hk_fabric_row(fabric, 0)->repeats && followed.went_on == 0)
        answer = HK_COUNTING_NO_WIDTH;
    for (int64_t r = 1; r < walk->work->rows && answer == HK_COUNTING_DONE; r++) {
        int64_t in_cycles = r - (int64_t)fabric->setup_count;
        if (in_cycles >= 0 && in_cycles % (int64_t)fabric->cycle_count == 0) {
            if (known && hk_edge_same(&walk->tried, hk_follow_edge_now(follow)))
                break;
            known = true;
            if (!hk_edge_copy(&walk->tried, hk_follow_edge_now(follow)))
                answer = lose(walk);
        }
        if (answer == HK_COUNTING_DONE)
            answer = follow_row(walk, follow, r, strictly, &followed);
    }
    return answer;
}

/* Finds the nearest stated widths below and above that the first `rows` rows fit. */
static void fits_stated(struct walk *walk, int64_t rows, int64_t fits[2])
{
    struct hk_work work = *walk->work;
    struct hk_count_error ignored = {0};
    struct walk tried = {
        .work = &work, .error = &ignored, .conventions = walk->conventions, .row_count = walk->row_count};
    if (work.stitches == HK_NOT_STATED || work.start == HK_START_CONTINUE || work.start == HK_START_RING)
        return;
    work.rows = rows;
    for (int side = 0; side < 2; side++) {
        for (int64_t apart = 1; apart <= HINTS_MOST && fits[side] == HK_NOT_STATED; apart++) {
            int64_t width = walk->work->stitches + (side ? apart : -apart);
            if (width < 1)
                break;
            enum hk_counting answer = try_width(&tried, width, false);
            if (answer == HK_COUNTING_DONE)
                fits[side] = width;
            else if (answer != HK_COUNTING_NO_WIDTH && answer != HK_COUNTING_TROUBLE)
                break;
        }
    }
    walk->out_of_memory |= tried.out_of_memory;
    walk_free(&tried);
}

/* Finds the nearest smaller and larger numbers of stitches on which the row can be worked, or that it needs none. */
static void fits_row(struct walk *walk, int64_t r, int64_t below)
{
    struct hk_count_error *error = walk->error;
    struct hk_follow *follow = trial_of(walk);
    struct hk_followed followed;
    for (int side = 0; follow && side < 2; side++) {
        for (int64_t apart = 1; apart <= HINTS_MOST; apart++) {
            int64_t width = below + (side ? apart : -apart);
            if (width < 1 || width > (int64_t)HK_SPOTS_MOST)
                break;
            if (!hk_follow_edge(follow, width, HK_SPOT_ANY)) {
                lose(walk);
                break;
            }
            enum hk_counting answer = follow_row(walk, follow, r, strictly, &followed);
            if (answer == HK_COUNTING_DONE)
                error->fits_row[side] = width;
            if (answer != HK_COUNTING_NO_WIDTH && answer != HK_COUNTING_TROUBLE)
                break;
        }
    }
    bool plain = !walk->follow ||
                 hk_edge_count(hk_follow_edge_now(walk->follow), false) == below; /* no chain spaces on the edge */
    if (plain && !hk_fabric_row(walk->work->fabric, r)->repeats && error->trouble.remain > 0 &&
        error->trouble.remain < below)
        error->fits_row[0] = below - error->trouble.remain; /* at any distance */
    error->needs = error->fits_row[1] != HK_NOT_STATED ? error->fits_row[1] : error->fits_row[0];
    if (error->needs == HK_NOT_STATED && follow && hk_follow_edge(follow, 0, HK_SPOT_ANY) &&
        follow_row(walk, follow, r, strictly, &followed) == HK_COUNTING_DONE)
        error->needs = 0;
}

/* Finds the change of width by row r. Returns false when it differs between two widths. */
static bool row_gain(struct walk *walk, struct hk_follow *follow, int64_t r, int64_t near, int64_t *gain)
{
    struct hk_followed followed;
    int found = 0;
    for (int64_t i = 0; i <= 2 * (int64_t)HINTS_MOST && found < 2; i++) {
        int64_t width = near + (i % 2 ? (i + 1) / 2 : -(i / 2));
        if (width < 1 || width > (int64_t)HK_SPOTS_MOST)
            continue;
        if (!hk_follow_edge(follow, width, HK_SPOT_ANY))
            return lose(walk), false;
        if (follow_row(walk, follow, r, strictly, &followed) != HK_COUNTING_DONE)
            continue;
        if (found == 1 && followed.width - width != *gain)
            return false;
        *gain = followed.width - width;
        found++;
    }
    return found == 2;
}

/* Returns the change of width by a whole cycle; 0 if it varies. */
static int64_t cycle_gain(struct walk *walk, int64_t below)
{
    const struct hk_fabric *fabric = walk->work->fabric;
    struct hk_follow *follow = trial_of(walk);
    int64_t sum = 0, gain = 0;
    bool same = follow;
    for (size_t r = fabric->setup_count; r < fabric->setup_count + fabric->cycle_count && same; r++) {
        same = row_gain(walk, follow, (int64_t)r, below, &gain);
        sum += gain;
    }
    return same ? sum : 0;
}

/* Searches for widths that fit, for the message. This has an effort limit of its own, not charged to the design. */
static void look_for_fits(struct walk *walk, int64_t r, int64_t below)
{
    int64_t effort = HINTS_EFFORT;
    const struct hk_work *kept = walk->work;
    struct hk_work work = *kept;
    work.effort = &effort;
    walk->work = &work;
    if (r > 0 || work.start != HK_START_CHAIN)
        fits_row(walk, r, below);
    else
        fits_stated(walk, 1, walk->error->fits_row);
    fits_stated(walk, work.rows, walk->error->fits_all);
    if (r > 0)
        walk->error->gain = cycle_gain(walk, below);
    walk->work = kept;
}

static enum hk_counting stop_count_error(struct walk *walk, enum hk_counting why, int64_t r, int64_t below,
                                         const struct hk_trouble *trouble)
{
    stop(walk, why, r, below, trouble);
    if (why == HK_COUNTING_NO_WIDTH || why == HK_COUNTING_DIFFERS)
        look_for_fits(walk, r, below);
    return why;
}

/* ---- Adding up ---- */

static size_t stitch_count(const struct walk *walk)
{
    return walk->work->catalogue->stitch_count;
}

/* Collects the kinds of the worked stitches, ascending. Returns false when out of memory. */
static bool kinds_of(struct walk *walk, const struct hk_stitches *worked, size_t count, struct hk_kinds *kinds,
                     struct hk_arena *arena)
{
    if (!walk->sums)
        walk->sums = hk_arena_take(&walk->scratch, stitch_count(walk), sizeof *walk->sums);
    double *sums = walk->sums;
    size_t found = 0;
    if (!sums)
        return false;
    for (size_t i = 0; i < count; i++) {
        found += sums[worked[i].stitch] == 0;
        sums[worked[i].stitch] += (double)worked[i].count;
    }
    struct hk_kind *list = hk_arena_take(arena, found, sizeof *list);
    if (!list)
        return false;
    *kinds = (struct hk_kinds){.kinds = list};
    for (size_t i = 0; i < stitch_count(walk); i++) {
        if (sums[i] > 0)
            list[kinds->count++] = (struct hk_kind){i, sums[i]};
        sums[i] = 0;
    }
    return true;
}

/* Returns true when a has at least as many stitches of every kind as b. */
static bool has_all(const struct hk_kinds *a, const struct hk_kinds *b)
{
    size_t i = 0;
    for (size_t j = 0; j < b->count; j++) {
        while (i < a->count && a->kinds[i].stitch < b->kinds[j].stitch)
            i++;
        if (i == a->count || a->kinds[i].stitch != b->kinds[j].stitch || a->kinds[i].count < b->kinds[j].count)
            return false;
    }
    return true;
}

/* Keeps the Pareto-maximal rows of the stripe; the longest is one of them. */
static bool longest_add(struct walk *walk, struct hk_kinds kinds)
{
    size_t s = walk->stripe, kept = 0, *count = &walk->longest_count[s];
    struct hk_kinds *list = walk->longest[s];
    if (kinds.count == 0)
        return true;
    for (size_t i = 0; i < *count; i++)
        if (has_all(&list[i], &kinds))
            return true;
    for (size_t i = 0; i < *count; i++)
        if (!has_all(&kinds, &list[i]))
            list[kept++] = list[i];
    *count = kept;
    list = hk_arena_grow(walk->arena, list, kept, &walk->longest_capacity[s], sizeof *list);
    if (!list)
        return false;
    struct hk_kind *copy = hk_arena_take(walk->arena, kinds.count, sizeof *copy);
    if (!copy)
        return false;
    memcpy(copy, kinds.kinds, kinds.count * sizeof *copy);
    list[(*count)++] = (struct hk_kinds){copy, kinds.count};
    walk->longest[s] = list;
    return true;
}

static void next_stripe(struct walk *walk)
{
    assert(walk->work->stripe_count > 0);
    walk->stripe = (walk->stripe + 1) % walk->work->stripe_count;
    walk->stripe_left = walk->work->stripe_rows[walk->stripe];
}

/* Adds a row to the current stripe. same: an equal row has been added before. */
static enum hk_counting row_add(struct walk *walk, int64_t r, const struct again *row, bool same)
{
    if (r > 0 && walk->stripe_left == 0) {
        next_stripe(walk);
        walk->joined[walk->stripe] += walk->work->stripe_count > 1;
        same = false;
    }
    if (!spend(walk->work, 1 + (int64_t)row->kinds.count / KINDS_A_UNIT))
        return HK_COUNTING_SPENT;
    double *counts = &walk->counts[walk->stripe * stitch_count(walk)];
    for (size_t i = 0; i < row->kinds.count; i++)
        counts[row->kinds.kinds[i].stitch] += row->kinds.kinds[i].count;
    walk->cut_m[walk->stripe] += row->cut_m;
    walk->last_stripe = walk->stripe;
    walk->stripe_left--;
    walk->leaves = row->leaves;
    if (!same && !longest_add(walk, row->kinds))
        return HK_COUNTING_NO_MEMORY;
    return run_push(walk, r + 1, row->leaves) ? HK_COUNTING_DONE : HK_COUNTING_NO_MEMORY;
}

static bool again_of(struct walk *walk, const struct hk_followed *followed, struct again *row)
{
    *row = (struct again){.cut_m = followed->cut_m, .leaves = followed->width};
    return kinds_of(walk, followed->worked, followed->worked_count, &row->kinds, &walk->scratch);
}

/* Checks the count that a row states. */
static enum hk_counting stated_met(struct walk *walk, int64_t r, const struct hk_followed *followed)
{
    for (size_t i = 0; i < followed->compared_count; i++) {
        if (followed->compared[i].agrees)
            continue;
        walk->error->counted = followed->compared[i].actual;
        stop(walk, HK_COUNTING_MISCOUNTED, r, followed->compared[i].stated, NULL);
        walk->error->stated = &hk_fabric_row(walk->work->fabric, r)->stated[i];
        return HK_COUNTING_MISCOUNTED;
    }
    return HK_COUNTING_DONE;
}

/* ---- Rows without shaping ---- */

static bool cycle_begins(const struct hk_fabric *fabric, int64_t r)
{
    int64_t in_cycles = r - (int64_t)fabric->setup_count;
    return in_cycles >= 0 && in_cycles % (int64_t)fabric->cycle_count == 0;
}

static enum hk_counting work_row(struct walk *walk, int64_t r, struct again *row)
{
    int64_t below = walk->leaves;
    struct hk_followed followed;
    enum hk_counting answer = follow_row(walk, walk->follow, r, strictly, &followed);
    if (answer != HK_COUNTING_DONE)
        return answer == HK_COUNTING_NO_MEMORY || answer == HK_COUNTING_SPENT
                   ? answer
                   : stop_count_error(walk, answer, r, below, &followed.trouble);
    walk->choices |= followed.choices;
    answer = stated_met(walk, r, &followed);
    if (answer != HK_COUNTING_DONE)
        return answer;
    if (!again_of(walk, &followed, row))
        return HK_COUNTING_NO_MEMORY;
    return row_add(walk, r, row, false);
}

/* Adds rows from r on, which repeat the cycle worked last. */
static enum hk_counting work_again(struct walk *walk, int64_t r, const struct again *cycle, size_t count)
{
    int64_t period = 0; /* period of the stripes, in rows */
    for (size_t s = 0; s < walk->work->stripe_count && period <= walk->work->rows; s++)
        period += walk->work->stripe_rows[s];
    for (int64_t i = 0; r < walk->work->rows; r++, i++) {
        /*
         * The longest row of each colour is wanted: after all stripes have met all rows, rows are equal to earlier
         * ones.
         */
        bool same = walk->work->stripe_count == 1 || i / (int64_t)count > period;
        enum hk_counting answer = row_add(walk, r, &cycle[(size_t)i % count], same);
        if (answer != HK_COUNTING_DONE)
            return answer;
    }
    return HK_COUNTING_DONE;
}

static enum hk_counting work_rows(struct walk *walk)
{
    const struct hk_fabric *fabric = walk->work->fabric;
    struct hk_edge before = {0};
    struct again *cycle = hk_arena_take(&walk->scratch, fabric->cycle_count, sizeof *cycle);
    enum hk_counting answer = cycle ? HK_COUNTING_DONE : HK_COUNTING_NO_MEMORY;
    bool known = false;
    for (int64_t r = 1; r < walk->work->rows && answer == HK_COUNTING_DONE; r++) {
        size_t c = r < (int64_t)fabric->setup_count
                       ? 0
                       : (size_t)((r - (int64_t)fabric->setup_count) % (int64_t)fabric->cycle_count);
        if (cycle_begins(fabric, r)) {
            const struct hk_edge *now = hk_follow_edge_now(walk->follow);
            if (known && hk_edge_same(&before, now)) {
                answer = work_again(walk, r, cycle, fabric->cycle_count);
                break;
            }
            if (!hk_edge_copy(&before, now))
                answer = HK_COUNTING_NO_MEMORY;
            known = true;
        }
        struct again row;
        if (answer == HK_COUNTING_DONE)
            answer = work_row(walk, r, r < (int64_t)fabric->setup_count ? &row : &cycle[c]);
    }
    hk_edge_free(&before);
    return answer;
}

/* ---- Tapers ---- */

/*
 * Works the part at another width through two cycles of the pattern, so that each row is on the row it follows in the
 * pattern.
 */
static bool sample_work(struct walk *walk, struct sample *sample)
{
    const struct hk_fabric *fabric = walk->work->fabric;
    struct hk_follow *follow = trial_of(walk);
    struct hk_followed followed;
    if (!follow)
        return false;
    enum hk_counting answer = first_at(walk, follow, sample->stated, &sample->foundation, &followed);
    int64_t rows = (int64_t)walk->row_count + (int64_t)fabric->cycle_count, below = sample->stated;
    for (int64_t r = 0; r < rows && answer == HK_COUNTING_DONE; r++) {
        size_t k = r < (int64_t)walk->row_count ? (size_t)r : (size_t)r - fabric->cycle_count;
        if (r > 0)
            answer = follow_row(walk, follow, r, strictly, &followed);
        if (answer != HK_COUNTING_DONE)
            break;
        if (r == 0 && !again_of(walk, &followed, &sample->rows[walk->row_count]))
            answer = HK_COUNTING_NO_MEMORY;
        if (r == 0)
            sample->below[walk->row_count] = below;
        sample->below[k] = below;
        if (answer == HK_COUNTING_DONE && !again_of(walk, &followed, &sample->rows[k]))
            answer = HK_COUNTING_NO_MEMORY;
        below = followed.width;
    }
    sample->fits = answer == HK_COUNTING_DONE;
    return answer != HK_COUNTING_NO_MEMORY && answer != HK_COUNTING_SPENT;
}

static struct sample *sample_at(struct walk *walk, int64_t stated)
{
    for (size_t i = walk->sample_count; i > 0; i--)
        if (walk->samples[i - 1]->stated == stated)
            return walk->samples[i - 1];
    struct sample *sample = hk_arena_take(&walk->scratch, 1, sizeof *sample);
    struct sample **grown =
        hk_arena_grow(&walk->scratch, walk->samples, walk->sample_count, &walk->sample_capacity, sizeof *grown);
    if (!sample || !grown)
        return NULL;
    walk->samples = grown;
    *sample = (struct sample){
        .stated = stated,
        .below = hk_arena_take(&walk->scratch, walk->row_count + 1, sizeof *sample->below),
        .rows = hk_arena_take(&walk->scratch, walk->row_count + 1, sizeof *sample->rows),
    };
    if (!sample->below || !sample->rows || !sample_work(walk, sample))
        return NULL;
    walk->samples[walk->sample_count++] = sample;
    return sample;
}

/* Interpolates row k at any width between the nearest two widths that fit. */
static enum hk_counting between(struct walk *walk, size_t k, double width, struct again *row, double *foundation)
{
    const struct sample *ends[2] = {NULL, NULL};
    for (int side = 0; side < 2; side++) {
        int64_t guess = (int64_t)floor(width) + side;
        for (int64_t apart = 0; apart <= TRIES_MOST && !ends[side]; apart++) {
            int64_t stated = guess + (side ? apart : -apart);
            if (stated < 0 || stated > (int64_t)HK_SPOTS_MOST)
                break;
            const struct sample *sample = sample_at(walk, stated);
            if (!sample)
                return walk->work->effort && *walk->work->effort < 0 ? HK_COUNTING_SPENT : HK_COUNTING_NO_MEMORY;
            if (sample->fits && (side ? (double)sample->below[k] >= width : (double)sample->below[k] <= width))
                ends[side] = sample;
        }
        if (side == 0 && ends[0] && (double)ends[0]->below[k] == width) {
            *row = ends[0]->rows[k];
            *foundation = (double)ends[0]->foundation;
            return HK_COUNTING_DONE;
        }
    }
    if (!ends[0] || !ends[1])
        return HK_COUNTING_NO_WIDTH;
    double share = (width - (double)ends[0]->below[k]) / (double)(ends[1]->below[k] - ends[0]->below[k]);
    const struct again *a = &ends[0]->rows[k], *b = &ends[1]->rows[k];
    double *sums = hk_arena_take(&walk->scratch, stitch_count(walk), sizeof *sums);
    struct hk_kind *list = hk_arena_take(&walk->scratch, a->kinds.count + b->kinds.count, sizeof *list);
    if (!sums || !list)
        return HK_COUNTING_NO_MEMORY;
    for (size_t i = 0; i < a->kinds.count; i++)
        sums[a->kinds.kinds[i].stitch] += (1 - share) * a->kinds.kinds[i].count;
    for (size_t i = 0; i < b->kinds.count; i++)
        sums[b->kinds.kinds[i].stitch] += share * b->kinds.kinds[i].count;
    *row = (struct again){.kinds = {list, 0}, .cut_m = (1 - share) * a->cut_m + share * b->cut_m};
    for (size_t i = 0; i < stitch_count(walk); i++)
        if (sums[i] > 0)
            list[row->kinds.count++] = (struct hk_kind){i, sums[i]};
    row->leaves = (int64_t)floor((1 - share) * (double)a->leaves + share * (double)b->leaves + 0.5);
    *foundation = floor((1 - share) * (double)ends[0]->foundation + share * (double)ends[1]->foundation + 0.5);
    return HK_COUNTING_DONE;
}

/* Works a taper: row r of R, counted from 1, on s + (e - s)(r - 1)/(R - 1) stitches; row 1 as without a taper. */
static enum hk_counting work_taper(struct walk *walk, double s)
{
    const struct hk_work *work = walk->work;
    double e = (double)work->end_stitches, ignored;
    int64_t all = work->taper_rows > 0 ? work->taper_rows : work->rows;
    if (work->rows > 1 && !hk_fabric_row(work->fabric, 0)->repeats && work->fabric->setup_count == 0)
        return stop(walk, HK_COUNTING_RIGID, 0, work->stitches, NULL);
    for (int64_t r = 1; r < work->rows; r++) {
        const struct hk_row *row = hk_fabric_row(work->fabric, r);
        double width = s + (e - s) * (double)r / (double)(all - 1);
        int64_t shown = (int64_t)floor(width + 0.5);
        if (!row->repeats)
            return stop(walk, HK_COUNTING_RIGID, r, shown, NULL);
        struct again of;
        enum hk_counting answer = between(walk, (size_t)(row - work->fabric->rows), width, &of, &ignored);
        if (answer == HK_COUNTING_NO_WIDTH)
            return stop_count_error(walk, answer, r, shown, NULL);
        if (answer == HK_COUNTING_DONE)
            answer = row_add(walk, r, &of, false);
        if (answer != HK_COUNTING_DONE)
            return answer;
    }
    if (work->rows > 1 && work->rows == all)
        walk->leaves = work->end_stitches;
    return hk_follow_edge(walk->follow, walk->leaves, HK_SPOT_ANY) ? HK_COUNTING_DONE : HK_COUNTING_NO_MEMORY;
}

/* ---- Shaping by a number of stitches every few rows ---- */

static int64_t shaping_first(const struct hk_shaping *shaping)
{
    return shaping->after[0] > 1 ? shaping->after[0] : 2;
}

int64_t hk_shaping_count(const struct hk_shaping *shaping, int64_t rows)
{
    int64_t both = shaping->after[0] + shaping->after[1], behind = rows - shaping_first(shaping);
    return behind < 0 ? 0 : 1 + 2 * (behind / both) + (behind % both >= shaping->after[1]);
}

int64_t hk_shaping_row(const struct hk_shaping *shaping, int64_t count)
{
    int64_t more = count - 1;
    if (count < 1)
        return 1;
    return shaping_first(shaping) + more / 2 * (shaping->after[0] + shaping->after[1]) + more % 2 * shaping->after[1];
}

/* Returns the decrease of a stitch, such as "sc2tog"; SIZE_MAX if there is none. */
static size_t decrease_of(const struct hk_catalogue *catalogue, const struct hk_stitch *stitch)
{
    char name[64];
    if (!stitch->us || stitch->needs != 1 || stitch->leaves != 1)
        return SIZE_MAX;
    snprintf(name, sizeof name, "%s2tog", stitch->us);
    return hk_catalogue_stitch(catalogue, name);
}

/*
 * Replaces `by` of the row's most frequent stitches by decreases, so that the row uses `by` stitches more than it
 * leaves.
 */
static enum hk_counting decrease(struct walk *walk, struct again *row, double by)
{
    const struct hk_catalogue *catalogue = walk->work->catalogue;
    size_t most = SIZE_MAX, together = SIZE_MAX;
    struct hk_kind *list = hk_arena_take(&walk->scratch, row->kinds.count + 1, sizeof *list);
    if (!list)
        return HK_COUNTING_NO_MEMORY;
    for (size_t i = 0; i < row->kinds.count; i++) {
        const struct hk_kind *kind = &row->kinds.kinds[i];
        size_t of = kind->count < by || (most != SIZE_MAX && row->kinds.kinds[most].count >= kind->count)
                        ? SIZE_MAX
                        : decrease_of(catalogue, &catalogue->stitches[kind->stitch]);
        if (of == SIZE_MAX)
            continue;
        most = i;
        together = of;
    }
    if (most == SIZE_MAX)
        return HK_COUNTING_NO_DECREASE;
    size_t count = 0;
    bool put = false;
    for (size_t i = 0; i <= row->kinds.count; i++) {
        struct hk_kind kind = i < row->kinds.count ? row->kinds.kinds[i] : (struct hk_kind){SIZE_MAX, 0};
        if (!put && kind.stitch >= together) {
            list[count++] = (struct hk_kind){together, by + (kind.stitch == together ? kind.count : 0)};
            put = true;
            if (kind.stitch == together)
                continue;
        }
        kind.count -= i == most ? by : 0;
        if (kind.count > 0)
            list[count++] = kind;
    }
    row->kinds = (struct hk_kinds){list, count};
    return HK_COUNTING_DONE;
}

/* Works the rows after the first. Rows that do not shape keep the number of stitches. */
static enum hk_counting work_shaped(struct walk *walk, int64_t width)
{
    const struct hk_work *work = walk->work;
    int64_t all = work->taper_rows > 0 ? work->taper_rows : work->rows;
    double ignored;
    if (width != work->end_stitches - work->shaping.by * hk_shaping_count(&work->shaping, all))
        return stop(walk, HK_COUNTING_SHAPES, 0, width, NULL);
    for (int64_t r = 1; r < work->rows; r++) {
        const struct hk_row *row = hk_fabric_row(work->fabric, r);
        bool shapes = hk_shaping_row(&work->shaping, hk_shaping_count(&work->shaping, r + 1)) == r + 1;
        width += shapes ? work->shaping.by : 0;
        if (!row->repeats)
            return stop(walk, HK_COUNTING_RIGID, r, width, NULL);
        struct again of;
        enum hk_counting answer = between(walk, (size_t)(row - work->fabric->rows), (double)width, &of, &ignored);
        if (answer == HK_COUNTING_NO_WIDTH)
            return stop_count_error(walk, answer, r, width, NULL);
        if (answer == HK_COUNTING_DONE && of.leaves != width)
            return stop(walk, HK_COUNTING_SHAPES, r, width, NULL);
        if (answer == HK_COUNTING_DONE && shapes && work->shaping.by < 0)
            answer = decrease(walk, &of, (double)-work->shaping.by);
        if (answer == HK_COUNTING_NO_DECREASE)
            return stop(walk, answer, r, width, NULL);
        if (answer == HK_COUNTING_DONE)
            answer = row_add(walk, r, &of, false);
        if (answer != HK_COUNTING_DONE)
            return answer;
    }
    return hk_follow_edge(walk->follow, walk->leaves, HK_SPOT_ANY) ? HK_COUNTING_DONE : HK_COUNTING_NO_MEMORY;
}

/* ---- Row 1 ---- */

static enum hk_counting first_stopped(struct walk *walk, enum hk_counting answer, const struct hk_followed *followed)
{
    const struct hk_work *work = walk->work;
    int64_t below = work->start == HK_START_CONTINUE                                ? work->below
                    : work->start == HK_START_RING && answer != HK_COUNTING_DIFFERS ? 0
                                                                                    : work->stitches;
    if (answer == HK_COUNTING_DIFFERS)
        walk->error->counted = followed->width;
    if (answer == HK_COUNTING_NO_MEMORY || answer == HK_COUNTING_SPENT)
        return answer;
    const struct hk_trouble *trouble =
        work->start == HK_START_CHAIN && answer == HK_COUNTING_TROUBLE ? &walk->error->trouble : &followed->trouble;
    struct hk_trouble kept = *trouble;
    return stop_count_error(walk, answer, 0, below, &kept);
}

/* Works row 1 without a repeat, which leaves one width only. */
static enum hk_counting first_rigid(struct walk *walk, struct hk_followed *followed)
{
    const struct hk_work *work = walk->work;
    if (work->start == HK_START_CONTINUE || work->start == HK_START_RING || hk_fabric_row(work->fabric, 0)->repeats)
        return HK_COUNTING_NO_WIDTH;
    for (int64_t width = 0; width <= 4 * (int64_t)TRIES_MOST; width++) {
        enum hk_counting answer = first_row(walk, walk->follow, width, followed);
        if (answer == HK_COUNTING_DONE) {
            walk->error->counted = work->start == HK_START_EDGE ? width : followed->width;
            return HK_COUNTING_DIFFERS;
        }
        if (answer != HK_COUNTING_NO_WIDTH && answer != HK_COUNTING_TROUBLE)
            return answer;
    }
    return HK_COUNTING_NO_WIDTH;
}

static enum hk_counting first_on_before(struct walk *walk, struct hk_followed *followed)
{
    const struct hk_work *work = walk->work;
    enum hk_counting idle = find_idle(walk);
    if (idle != HK_COUNTING_DONE)
        return idle;
    if (walk->idle.state == IDLE && work->stitches != HK_NOT_STATED)
        return first_idle(walk, walk->follow, work->stitches, followed);
    enum hk_counting stands = stand_on_before(walk, walk->follow);
    if (stands != HK_COUNTING_DONE)
        return stands;
    enum hk_counting answer = follow_row(walk, walk->follow, 0, strictly, followed);
    if (answer == HK_COUNTING_DONE && work->stitches != HK_NOT_STATED && followed->width != work->stitches) {
        walk->error->counted = followed->width;
        return HK_COUNTING_DIFFERS;
    }
    return answer;
}

static enum hk_counting work_first(struct walk *walk, struct again *row)
{
    const struct hk_work *work = walk->work;
    struct hk_followed followed = {0};
    enum hk_counting answer;
    if (work->start == HK_START_CONTINUE)
        answer = first_on_before(walk, &followed);
    else if (work->stitches == HK_NOT_STATED && work->start != HK_START_RING &&
             !hk_row_without_stitches(hk_fabric_row(work->fabric, 0)))
        return stop(walk, HK_COUNTING_UNKNOWN, 0, HK_NOT_STATED, NULL);
    else
        answer = first_at(walk, walk->follow,
                          work->stitches == HK_NOT_STATED && work->start != HK_START_RING ? 0 : work->stitches,
                          &walk->foundation, &followed);
    if (answer == HK_COUNTING_NO_WIDTH && work->end_stitches != HK_NOT_STATED && work->start != HK_START_RING) {
        double foundation = 0, width = (double)(work->start == HK_START_CONTINUE ? work->below : work->stitches);
        answer = between(walk, walk->row_count, width, row, &foundation);
        walk->foundation = (int64_t)foundation;
        if (answer == HK_COUNTING_DONE)
            return HK_COUNTING_DONE;
    }
    if (answer == HK_COUNTING_NO_WIDTH) {
        enum hk_counting rigid = first_rigid(walk, &followed);
        if (rigid == HK_COUNTING_DIFFERS) {
            int64_t counted = walk->error->counted;
            stop(walk, HK_COUNTING_DIFFERS, 0, work->stitches, NULL);
            walk->error->counted = counted;
            return HK_COUNTING_DIFFERS;
        }
    }
    if (answer != HK_COUNTING_DONE)
        return first_stopped(walk, answer, &followed);
    walk->choices |= followed.choices;
    answer = stated_met(walk, 0, &followed);
    if (answer != HK_COUNTING_DONE)
        return answer;
    return again_of(walk, &followed, row) ? HK_COUNTING_DONE : HK_COUNTING_NO_MEMORY;
}

/* ---- The whole part ---- */

static bool room(struct walk *walk)
{
    size_t stripes = walk->work->stripe_count;
    walk->counts = hk_arena_take(&walk->scratch, stripes * stitch_count(walk), sizeof *walk->counts);
    walk->cut_m = hk_arena_take(&walk->scratch, stripes, sizeof *walk->cut_m);
    walk->joined = hk_arena_take(&walk->scratch, stripes, sizeof *walk->joined);
    walk->longest = hk_arena_take(&walk->scratch, stripes, sizeof(struct hk_kinds *));
    walk->longest_count = hk_arena_take(&walk->scratch, stripes, sizeof *walk->longest_count);
    walk->longest_capacity = hk_arena_take(&walk->scratch, stripes, sizeof *walk->longest_capacity);
    walk->follow = follower(walk);
    return !walk->scratch.out_of_memory && walk->follow;
}

static bool deliver_stripe(struct walk *walk, size_t s, struct hk_stripe_count *stripe)
{
    const double *counts = &walk->counts[s * stitch_count(walk)];
    size_t found = 0;
    for (size_t i = 0; i < stitch_count(walk); i++)
        found += counts[i] > 0;
    struct hk_kind *kinds = hk_arena_take(walk->arena, found, sizeof *kinds);
    if (!kinds)
        return false;
    *stripe = (struct hk_stripe_count){.kinds = {kinds, 0},
                                       .cut_m = walk->cut_m[s],
                                       .joined = walk->joined[s],
                                       .longest = walk->longest[s],
                                       .longest_count = walk->longest_count[s]};
    for (size_t i = 0; i < stitch_count(walk); i++)
        if (counts[i] > 0)
            kinds[stripe->kinds.count++] = (struct hk_kind){i, counts[i]};
    return true;
}

static enum hk_counting deliver(struct walk *walk, struct hk_counted *counted)
{
    size_t stripes = walk->work->stripe_count;
    struct hk_stripe_count *list = hk_arena_take(walk->arena, stripes, sizeof *list);
    if (!run_split(walk))
        return HK_COUNTING_NO_MEMORY;
    for (size_t s = 0; list && s < stripes; s++)
        if (!deliver_stripe(walk, s, &list[s]))
            return HK_COUNTING_NO_MEMORY;
    if (!list)
        return HK_COUNTING_NO_MEMORY;
    *counted = (struct hk_counted){.stripes = list,
                                   .last_stripe = walk->last_stripe,
                                   .foundation = walk->foundation,
                                   .leaves = walk->leaves,
                                   .runs = walk->runs,
                                   .run_count = walk->run_count,
                                   .other = walk->conventions.other};
    return HK_COUNTING_DONE;
}

static enum hk_counting count_rows(struct walk *walk)
{
    const struct hk_work *work = walk->work;
    struct again first = {0};
    enum hk_counting answer = work_first(walk, &first);
    if (answer != HK_COUNTING_DONE)
        return answer;
    walk->counts[work->foundation_stitch] += (double)walk->foundation;
    for (size_t i = 0; i < work->made.count; i++)
        walk->counts[work->made.kinds[i].stitch] += work->made.kinds[i].count;
    answer = row_add(walk, 0, &first, false);
    if (answer != HK_COUNTING_DONE)
        return answer;
    if (work->end_stitches != HK_NOT_STATED && work->shaping.by != 0)
        return work_shaped(walk, walk->leaves);
    if (work->end_stitches != HK_NOT_STATED)
        return work_taper(walk, work->stitches == HK_NOT_STATED ? (double)walk->leaves : (double)work->stitches);
    return work_rows(walk);
}

/* Counts with other readings of ambiguous conventions if only these agree with the counts that rows state. */
static enum hk_counting count_by_eligible(struct walk *walk, const struct walk *empty)
{
    enum hk_counting answer = count_rows(walk);
    unsigned open = walk->choices;
    if (answer != HK_COUNTING_MISCOUNTED)
        return answer;
    for (unsigned other = 1; other < 1u << HK_CONVENTIONS; other++) {
        if (other & ~open)
            continue;
        struct walk again = *empty;
        struct hk_count_error error = {0};
        again.conventions.other = other;
        again.error = &error;
        if (!room(&again)) {
            hk_follow_free(again.follow);
            walk_free(&again);
            return HK_COUNTING_NO_MEMORY;
        }
        enum hk_counting better = count_rows(&again);
        if (better == HK_COUNTING_DONE) {
            again.error = walk->error;
            hk_follow_free(walk->follow);
            walk_free(walk);
            *walk = again;
            return HK_COUNTING_DONE;
        }
        walk->out_of_memory |= again.out_of_memory;
        hk_follow_free(again.follow);
        walk_free(&again);
        if (better == HK_COUNTING_NO_MEMORY || better == HK_COUNTING_SPENT)
            return better;
    }
    return answer;
}

enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_count_error *error,
                               struct hk_arena *arena)
{
    assert(work->stripe_count > 0 && work->fabric->cycle_count > 0);
    *error =
        (struct hk_count_error){.fits_row = {HK_NOT_STATED, HK_NOT_STATED}, .fits_all = {HK_NOT_STATED, HK_NOT_STATED}};
    if (work->rows > HK_PART_ROWS_MOST) {
        error->row = HK_PART_ROWS_MOST;
        return HK_COUNTING_TOO_MANY;
    }
    struct walk walk = {
        .work = work,
        .error = error,
        .arena = arena,
        .row_count = work->fabric->setup_count + work->fabric->cycle_count,
        .stripe_left = work->stripe_rows[0],
        .leaves = work->start == HK_START_CONTINUE ? work->below : 0,
    };
    const struct walk empty = walk;
    enum hk_counting answer = HK_COUNTING_NO_MEMORY;
    if (room(&walk))
        answer = work->rows > 0 ? count_by_eligible(&walk, &empty) : HK_COUNTING_DONE;
    if (answer == HK_COUNTING_DONE && work->rows == 0 && work->before && !hk_follow_copy(walk.follow, work->before))
        answer = HK_COUNTING_NO_MEMORY;
    if (answer == HK_COUNTING_DONE)
        answer = deliver(&walk, counted);
    if (walk.out_of_memory)
        answer = HK_COUNTING_NO_MEMORY;
    if (answer == HK_COUNTING_DONE)
        counted->follow = walk.follow;
    else
        hk_follow_free(walk.follow);
    walk_free(&walk);
    return answer;
}

/* ---- Widths that fit ---- */

/* Finds the next width that fits from `width` on, in steps of `step`. */
static enum hk_counting fitting_from(struct walk *walk, int64_t width, int64_t step, int64_t *found)
{
    for (int64_t i = 0; i <= TRIES_MOST && width >= 1 && width <= (int64_t)HK_SPOTS_MOST; i++, width += step) {
        enum hk_counting answer = try_width(walk, width, true);
        if (answer == HK_COUNTING_DONE) {
            *found = width;
            return HK_COUNTING_DONE;
        }
        if (answer != HK_COUNTING_NO_WIDTH && answer != HK_COUNTING_TROUBLE)
            return answer;
    }
    return HK_COUNTING_NO_WIDTH;
}

static enum hk_counting nearest_of(struct walk *walk, double stitches, int64_t *width, int64_t *apart)
{
    const struct hk_work *any = walk->work;
    if (any->rows > HK_PART_ROWS_MOST)
        return HK_COUNTING_TOO_MANY;
    enum hk_counting idle = find_idle(walk);
    if (idle != HK_COUNTING_DONE)
        return idle;
    if (walk->idle.state != IDLE &&
        (any->start == HK_START_CONTINUE || any->start == HK_START_RING)) { /* their width is given */
        struct hk_followed followed = {0};
        walk->follow = trial_of(walk);
        enum hk_counting answer = !walk->follow                 ? HK_COUNTING_NO_MEMORY
                                  : any->start == HK_START_RING ? first_row(walk, walk->follow, 0, &followed)
                                                                : first_on_before(walk, &followed);
        if (answer == HK_COUNTING_DONE) {
            *width = followed.width;
            *apart = 0;
        }
        return answer;
    }
    if (stitches > (double)HK_SPOTS_MOST)
        return HK_COUNTING_TOO_MANY;
    int64_t below = HK_NOT_STATED, above = HK_NOT_STATED, next = HK_NOT_STATED;
    int64_t asked = (int64_t)fmax(1, floor(stitches + 0.5));
    enum hk_counting down = fitting_from(walk, asked, -1, &below);
    if (down != HK_COUNTING_DONE && down != HK_COUNTING_NO_WIDTH)
        return down;
    enum hk_counting up = below == asked ? HK_COUNTING_DONE : fitting_from(walk, asked + 1, 1, &above);
    if (up != HK_COUNTING_DONE && up != HK_COUNTING_NO_WIDTH)
        return up;
    if (below == HK_NOT_STATED && above == HK_NOT_STATED)
        return HK_COUNTING_NO_WIDTH;
    bool take_above =
        below == HK_NOT_STATED || (above != HK_NOT_STATED && (double)above - stitches <= stitches - (double)below);
    *width = take_above ? above : below;
    fitting_from(walk, *width + 1, 1, &next);
    *apart = next == HK_NOT_STATED ? 0 : next - *width;
    return HK_COUNTING_DONE;
}

enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, int64_t *apart)
{
    struct hk_work any = *work;
    any.stitches = any.end_stitches = HK_NOT_STATED;
    any.shaping = (struct hk_shaping){0};
    struct hk_count_error ignored = {0};
    struct walk walk = {
        .work = &any, .error = &ignored, .row_count = work->fabric->setup_count + work->fabric->cycle_count};
    enum hk_counting answer = nearest_of(&walk, stitches, width, apart);
    if (walk.out_of_memory)
        answer = HK_COUNTING_NO_MEMORY;
    walk_free(&walk);
    return answer;
}

/* ---- Shaping ---- */

/* Finds whether the repeated rows widen or narrow the part, starting from a width that fits, or from a ring. */
static enum hk_counting shape_of(struct walk *walk, int64_t width, bool *wider, bool *narrower)
{
    const struct hk_work *work = walk->work;
    bool ring = work->start == HK_START_RING;
    struct hk_follow *follow = trial_of(walk);
    struct hk_followed followed = {0};
    int64_t foundation;
    enum hk_counting answer = follow ? first_at(walk, follow, width, &foundation, &followed) : HK_COUNTING_NO_MEMORY;
    if (answer == HK_COUNTING_DONE && work->fabric->setup_count == 0 && !ring) {
        *wider |= followed.width > width;
        *narrower |= followed.width < width;
    }
    for (int64_t r = 1; r < work->rows && answer == HK_COUNTING_DONE; r++) {
        int64_t below = followed.width;
        answer = follow_row(walk, follow, r, strictly, &followed);
        if (answer == HK_COUNTING_DONE && r >= (int64_t)work->fabric->setup_count) {
            *wider |= followed.width > below;
            *narrower |= followed.width < below;
        }
    }
    return answer;
}

bool hk_count_shapes(const struct hk_fabric *fabric, const struct hk_catalogue *catalogue, struct hk_arena *arena)
{
    static const int64_t whole[] = {HK_COUNT_MOST};
    int64_t effort = HK_EFFORT_MOST / 100, width = 0;
    struct hk_work work = {.fabric = fabric,
                           .catalogue = catalogue,
                           .stitches = HK_NOT_STATED,
                           .rows = (int64_t)(fabric->setup_count + fabric->cycle_count),
                           .end_stitches = HK_NOT_STATED,
                           .stripe_rows = whole,
                           .stripe_count = 1,
                           .effort = &effort};
    struct hk_count_error error = {0};
    struct walk walk = {.work = &work, .error = &error, .row_count = fabric->setup_count + fabric->cycle_count};
    bool wider = false, narrower = false;
    work.start = HK_START_EDGE;
    if (fitting_from(&walk, 30, 1, &width) == HK_COUNTING_DONE) {
        shape_of(&walk, width, &wider, &narrower);
    } else {
        work.start = HK_START_RING;
        walk.idle.state = IDLE_UNKNOWN;
        if (shape_of(&walk, HK_NOT_STATED, &wider, &narrower) != HK_COUNTING_DONE)
            wider = narrower = false;
    }
    arena->out_of_memory |= walk.out_of_memory;
    walk_free(&walk);
    return wider != narrower;
}
