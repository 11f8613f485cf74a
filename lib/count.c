/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A row is linear in k, the runs of its repeat: it needs once.needs + k each.needs stitches and leaves once.leaves +
 * k each.leaves. Counting walks the rows, k following from what the row below left, and keeps for each row of the fabric and
 * each stripe how often it was worked and with how many runs together: stitch kinds are multiplied out once, at the end. As a
 * cycle of rows is a rising function of the width below, widths that come back at all come back after one cycle;
 * from there on the rest of the rows is taken in bulk.
 *
 * Which widths would fit is answered without trial: see struct ladder.
 */
#include "count.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Row 1 --------------------------------------------------------------------------------------------------------- */

/* What the runs of row 1 follow from: once + k each must come to `width`. */
struct anchor {
    int64_t once, each;
    int64_t width;  /* HK_NOT_STATED where it is not known */
    bool by_leaves; /* once and each are what the row leaves, else what it needs */
};

/* Stitches are worked into what is below; in the middle of a square there are turning chains alone. */
static bool has_below(const struct hk_row *row)
{
    return row->once.needs > row->once.turning_needs || row->each.needs > row->each.turning_needs;
}

/*
 * A turning chain stands on nothing in a ring, nor at the end of a flat chain, of which it is the last piece. A chain that
 * is joined into a round has all its stitches already, so that there it stands on the first of them.
 */
static int64_t first_needs(const struct hk_row *row, const struct hk_sum *sum, enum hk_start start)
{
    bool round = row->joined && has_below(row);
    bool fall_away = start == HK_START_RING || (start == HK_START_CHAIN && !round);
    return sum->needs - (fall_away ? sum->turning_needs : 0);
}

static struct anchor anchor_of(const struct hk_work *work)
{
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    bool needs = row->repeats ? row->each.needs > 0 : row->once.needs > 0;
    struct anchor leaves = {row->once.leaves, row->each.leaves, work->stitches, true};
    struct anchor below = {row->once.needs, row->each.needs, work->stitches, false};
    switch (work->start) {
    case HK_START_CHAIN:
    case HK_START_RING:
        return leaves;
    case HK_START_EDGE:
        return needs ? below : leaves;
    case HK_START_CONTINUE:
        if (row->repeats && !needs)
            return leaves;
        below.width = work->below;
        return below;
    }
    return leaves;
}

/* What `stitches` of a part speaks of: on an edge what row 1 stands on, if it needs any, else what it leaves. */
static int64_t stated_width(const struct hk_work *work, const struct anchor *anchor, int64_t runs)
{
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    if (work->start == HK_START_EDGE && !anchor->by_leaves)
        return anchor->once + runs * anchor->each;
    return row->once.leaves + runs * row->each.leaves;
}

/* ---- Where the counting stopped --------------------------------------------------------------------------------------- */

static void misfit_begin(struct hk_misfit *misfit, const struct hk_work *work, int64_t r, int64_t below)
{
    const struct hk_row *row = hk_fabric_row(work->fabric, r);
    *misfit = (struct hk_misfit){
        .row = r + 1,
        .below = below,
        .needs = r == 0 ? first_needs(row, &row->once, work->start) : row->once.needs,
        .fits_row = {HK_NOT_STATED, HK_NOT_STATED},
        .fits_all = {HK_NOT_STATED, HK_NOT_STATED},
        .cell = row->cell,
    };
}

/* The numbers once + k each, 0 <= k <= most, next below and above a width that is none of them; none below 1. */
static void nearest_around(int64_t once, int64_t each, int64_t most, int64_t width, int64_t around[2])
{
    int64_t k = each > 0 && width > once ? (width - once) / each : 0;
    if (k > most)
        k = most;
    int64_t low = once + k * each;
    if (low > width)
        around[1] = low;
    else if (low < width && low >= 1)
        around[0] = low;
    if (low < width && each > 0 && k < most && low <= HK_COUNT_MOST - each)
        around[1] = low + each;
}

/* ---- Widths that fit --------------------------------------------------------------------------------------------------- */

/*
 * All ways to work row 1 that the rows so far fit: runs of row 1 = first + step t for t = 0 .. top, after which base + slope t
 * stitches are left. Each row keeps those t that solve a linear congruence, so the set stays an arithmetic progression. All
 * values stay within HK_COUNT_MOST up to t = top, and step and slope are 0 where top is.
 */
struct ladder {
    int64_t first, step, top;
    int64_t base, slope;
};

static int64_t gcd(int64_t a, int64_t b)
{
    while (b) {
        int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* a b mod m for 0 <= a, b < m <= HK_COUNT_MOST, by doubling: the product itself may not fit. */
static int64_t multiply_mod(int64_t a, int64_t b, int64_t m)
{
    int64_t product = 0;
    for (; b; b >>= 1) {
        if (b & 1)
            product = (product + a) % m;
        a = a * 2 % m;
    }
    return product;
}

/* The inverse of a modulo m, gcd(a, m) = 1, by Euclid's extended algorithm. */
static int64_t inverse_mod(int64_t a, int64_t m)
{
    int64_t r0 = m, r1 = a % m, x0 = 0, x1 = 1;
    while (r1) {
        int64_t quotient = r0 / r1, rest = r0 % r1, x = x0 - quotient * x1;
        r0 = r1;
        r1 = rest;
        x0 = x1;
        x1 = x;
    }
    return ((x0 % m) + m) % m;
}

/* Keeps t = start, start + stride, ... */
static bool ladder_keep(struct ladder *ladder, int64_t start, int64_t stride)
{
    if (start > ladder->top)
        return false;
    ladder->first += ladder->step * start;
    ladder->base += ladder->slope * start;
    ladder->top = (ladder->top - start) / stride;
    ladder->step = ladder->top ? ladder->step * stride : 0;
    ladder->slope = ladder->top ? ladder->slope * stride : 0;
    return true;
}

/* Works one more row with `runs` + `more` t runs of its repeat. False where even the smallest leaves too many. */
static bool ladder_leave(struct ladder *ladder, const struct hk_row *row, int64_t runs, int64_t more)
{
    int64_t each = row->each.leaves, room = HK_COUNT_MOST - row->once.leaves;
    if (each && runs > room / each)
        return false;
    ladder->base = row->once.leaves + runs * each;
    if (each && more) {
        int64_t top = (HK_COUNT_MOST - ladder->base) / each / more;
        if (top < ladder->top)
            ladder->top = top;
    }
    ladder->slope = ladder->top ? more * each : 0;
    ladder->step = ladder->top ? ladder->step : 0;
    return true;
}

/* Keeps those t that leave just what a row without a repeat needs. */
static enum hk_counting ladder_fixed_row(struct ladder *ladder, const struct hk_row *row)
{
    int64_t missing = row->once.needs - ladder->base;
    if (missing < 0 || (missing > 0 && (ladder->slope == 0 || missing % ladder->slope)))
        return HK_MISFIT;
    if (ladder->slope) {
        if (missing / ladder->slope > ladder->top)
            return HK_MISFIT;
        ladder->first += ladder->step * (missing / ladder->slope);
        ladder->top = ladder->step = ladder->slope = 0;
    }
    ladder->base = row->once.leaves;
    ladder->slope = 0;
    return HK_COUNTED;
}

/* Keeps those t with base + slope t = once.needs + k n, k >= 0 whole, and works the row. */
static enum hk_counting ladder_row(struct ladder *ladder, const struct hk_row *row)
{
    int64_t n = row->each.needs, once = row->once.needs;
    if (!row->repeats)
        return ladder_fixed_row(ladder, row);
    if (n == 0)
        return HK_ENDLESS;
    /* slope t = lack (mod n); with g = gcd(slope, n) it needs g | lack, and then t = lack/g * (slope/g)^-1 (mod n/g). */
    int64_t lack = ((once - ladder->base) % n + n) % n;
    int64_t g = gcd(n, ladder->slope), m = n / g;
    if (lack % g)
        return HK_MISFIT;
    int64_t start = multiply_mod(lack / g % m, inverse_mod(ladder->slope / g, m), m);
    if (!ladder_keep(ladder, start, m))
        return HK_MISFIT;
    if (ladder->base < once) {
        if (ladder->slope == 0 || !ladder_keep(ladder, (once - ladder->base + ladder->slope - 1) / ladder->slope, 1))
            return HK_MISFIT;
    }
    return ladder_leave(ladder, row, (ladder->base - once) / n, ladder->slope / n) ? HK_COUNTED : HK_TOO_MANY;
}

static enum hk_counting ladder_begin(struct ladder *ladder, const struct hk_work *work, const struct anchor *anchor)
{
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    if (row->repeats && anchor->each == 0)
        return HK_ENDLESS;
    *ladder = (struct ladder){.step = 1};
    if (work->start == HK_START_CONTINUE && !anchor->by_leaves) {
        int64_t runs = anchor->each ? (anchor->width - anchor->once) / anchor->each : 0;
        if (anchor->width < anchor->once || anchor->once + runs * anchor->each != anchor->width)
            return HK_MISFIT;
        ladder->first = runs;
    } else if (row->repeats) {
        ladder->top = (HK_COUNT_MOST - anchor->once) / anchor->each;
    }
    return ladder_leave(ladder, row, ladder->first, ladder->top ? 1 : 0) ? HK_COUNTED : HK_TOO_MANY;
}

/* Row r > 0, counted from 0. */
static bool cycle_begins(const struct hk_fabric *fabric, int64_t r)
{
    int64_t in_cycles = r - (int64_t)fabric->setup_count;
    return in_cycles >= 0 && in_cycles % (int64_t)fabric->cycle_count == 0;
}

static bool ladder_same(const struct ladder *a, const struct ladder *b)
{
    return a->first == b->first && a->step == b->step && a->top == b->top && a->base == b->base && a->slope == b->slope;
}

/* What costs as much as walking a row: so many rows that a stripe may have, stitches summed up, kinds of stitch compared. */
#define ROWS_SUMMED 16
#define STITCHES_SUMMED 8
#define KINDS_COMPARED 32

static bool spend(const struct hk_work *work, int64_t cost)
{
    if (work->effort && *work->effort >= 0)
        *work->effort -= cost;
    return !work->effort || *work->effort >= 0;
}

/* All ways that all rows fit; a cycle that changes nothing ends the search. */
static enum hk_counting ladder_climb(struct ladder *ladder, const struct hk_work *work, const struct anchor *anchor)
{
    enum hk_counting answer = ladder_begin(ladder, work, anchor);
    struct ladder before = {.top = -1};
    for (int64_t r = 1; r < work->rows && answer == HK_COUNTED; r++) {
        if (cycle_begins(work->fabric, r)) {
            if (ladder_same(ladder, &before))
                break;
            before = *ladder;
        }
        if (!spend(work, 1))
            return HK_SPENT;
        answer = r < HK_ROWS_WALKED_MOST ? ladder_row(ladder, hk_fabric_row(work->fabric, r)) : HK_TOO_MANY;
    }
    return answer;
}

/* Names the stated widths around the one stated that all rows fit. A width given by the line before is no choice. */
static void misfit_widths(struct hk_misfit *misfit, const struct hk_work *work, const struct anchor *anchor)
{
    struct ladder ladder;
    if (work->stitches == HK_NOT_STATED || (work->start == HK_START_CONTINUE && !anchor->by_leaves) ||
        ladder_climb(&ladder, work, anchor) != HK_COUNTED)
        return;
    nearest_around(stated_width(work, anchor, ladder.first), ladder.step * anchor->each, ladder.top, work->stitches,
                   misfit->fits_all);
}

/* ---- Walking ------------------------------------------------------------------------------------------------------------- */

/* How a row of the fabric was worked in a stripe. Whole numbers up to 10^12, and sums in tapers: exact enough in a double. */
struct visits {
    double times;
    double runs;      /* of its repeat, all times together */
    double most_runs; /* of one time */
};

struct walk {
    const struct hk_work *work;
    struct anchor anchor;
    struct hk_misfit *misfit;
    struct hk_arena *arena; /* of what is delivered */
    struct hk_arena scratch;
    size_t row_count;       /* of the fabric */
    struct visits *visits;  /* [stripe * row_count + row of the fabric] */
    size_t stripe;          /* of the next row */
    int64_t stripe_left;    /* its rows still to come */
    double foundation;
    double leaves;
    bool ambiguous;         /* of the rows so far */
    struct hk_row_run *runs;
    size_t run_count, run_capacity;
    bool runs_full;
};

static void next_stripe(struct walk *walk)
{
    walk->stripe = (walk->stripe + 1) % walk->work->stripe_count;
    walk->stripe_left = walk->work->stripe_rows[walk->stripe];
}

static void visit(struct walk *walk, const struct hk_row *row, double runs)
{
    size_t index = (size_t)(row - walk->work->fabric->rows);
    struct visits *visits = &walk->visits[walk->stripe * walk->row_count + index];
    visits->times += 1;
    visits->runs += runs;
    visits->most_runs = fmax(visits->most_runs, runs);
    if (--walk->stripe_left == 0)
        next_stripe(walk);
}

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

/* Two rows do not make a slope: the second goes back to a run of its own. */
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

/* Lists what row `row` (from 1) leaves. */
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

/* Lists the rows up to `last`, which all leave what the two listed last did: their run goes on. */
static void run_go_on(struct walk *walk, int64_t last)
{
    if (walk->runs_full)
        return;
    struct hk_row_run *run = &walk->runs[walk->run_count - 1];
    assert(run->step == 0 && run->last > run->first);
    run->last = last;
}

/* ---- Row 1, then the others ----------------------------------------------------------------------------------------------- */

static enum hk_counting stop(struct walk *walk, enum hk_counting why, int64_t r, int64_t below)
{
    misfit_begin(walk->misfit, walk->work, r, below);
    if (why == HK_DIFFERS || why == HK_MISFIT)
        misfit_widths(walk->misfit, walk->work, &walk->anchor);
    return why;
}

static enum hk_counting stop_misfit(struct walk *walk, int64_t r, int64_t below, int64_t once, int64_t each)
{
    enum hk_counting why = stop(walk, HK_MISFIT, r, below);
    nearest_around(once, each, each ? HK_COUNT_MOST : 0, below, walk->misfit->fits_row);
    return why;
}

static enum hk_counting stop_differs(struct walk *walk, int64_t counted)
{
    stop(walk, HK_DIFFERS, 0, walk->work->stitches);
    walk->misfit->counted = counted;
    return HK_DIFFERS;
}

/* Halves up. */
static int64_t whole(double count)
{
    return (int64_t)floor(count + 0.5);
}

/* Row r, counted from 0, has been worked: compares what it leaves with what it says. */
static enum hk_counting compare_stated(struct walk *walk, const struct hk_row *row, int64_t r)
{
    walk->ambiguous |= row->ambiguous;
    if (!row->states || walk->ambiguous || whole(walk->leaves) == row->stated)
        return HK_COUNTED;
    stop(walk, HK_MISCOUNTED, r, HK_NOT_STATED);
    walk->misfit->counted = whole(walk->leaves);
    walk->misfit->stated = row->stated;
    walk->misfit->stated_at = row->stated_at;
    return HK_MISCOUNTED;
}

/* Counts and lists row r, counted from 0, which walk->leaves is of. */
static enum hk_counting row_worked(struct walk *walk, const struct hk_row *row, int64_t r, double runs)
{
    visit(walk, row, runs);
    if (!run_push(walk, r + 1, whole(walk->leaves)))
        return HK_NO_MEMORY;
    return compare_stated(walk, row, r);
}

/* What row 1 stands on, where its runs do not say so already. */
static enum hk_counting first_stands(struct walk *walk)
{
    const struct hk_work *work = walk->work;
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    if (work->start == HK_START_RING) {
        int64_t needs = first_needs(row, &row->once, work->start) + first_needs(row, &row->each, work->start);
        if (needs > 0) {
            stop(walk, HK_MISFIT, 0, 0);
            walk->misfit->needs = needs;
            return HK_MISFIT;
        }
    }
    if (work->start == HK_START_CONTINUE && walk->anchor.by_leaves && row->once.needs != work->below)
        return stop_misfit(walk, 0, work->below, row->once.needs, 0);
    return HK_COUNTED;
}

/* Runs of row 1, fractional only in a taper. */
static enum hk_counting first_runs(struct walk *walk, double *runs)
{
    const struct hk_work *work = walk->work;
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    const struct anchor *anchor = &walk->anchor;
    bool derived = (work->start == HK_START_RING && !row->repeats) || hk_row_without_stitches(row);
    if (anchor->width == HK_NOT_STATED && !derived)
        return stop(walk, HK_UNKNOWN, 0, HK_NOT_STATED);
    if (row->repeats && anchor->each == 0)
        return stop(walk, HK_ENDLESS, 0, anchor->width);
    *runs = 0;
    if (!row->repeats) {
        if (anchor->width == HK_NOT_STATED || anchor->width == anchor->once)
            return HK_COUNTED;
        if (work->start == HK_START_CONTINUE)
            return stop_misfit(walk, 0, anchor->width, anchor->once, 0);
        return stop_differs(walk, anchor->once);
    }
    int64_t over = anchor->width - anchor->once;
    if (over < 0 || (work->end_stitches == HK_NOT_STATED && over % anchor->each))
        return stop_misfit(walk, 0, anchor->width, anchor->once, anchor->each);
    *runs = (double)over / (double)anchor->each;
    return HK_COUNTED;
}

static double sum_at(int64_t once, int64_t each, double runs)
{
    return (double)once + runs * (double)each;
}

static enum hk_counting work_first(struct walk *walk)
{
    const struct hk_work *work = walk->work;
    const struct hk_row *row = hk_fabric_row(work->fabric, 0);
    double runs;
    enum hk_counting answer = first_stands(walk);
    if (answer == HK_COUNTED)
        answer = first_runs(walk, &runs);
    if (answer != HK_COUNTED)
        return answer;
    walk->leaves = sum_at(row->once.leaves, row->each.leaves, runs);
    bool derived = work->start == HK_START_CONTINUE && !walk->anchor.by_leaves;
    if (derived && work->stitches != HK_NOT_STATED && whole(walk->leaves) != work->stitches)
        return stop_differs(walk, whole(walk->leaves));
    if (work->start == HK_START_CHAIN)
        walk->foundation = floor(0.5 + sum_at(first_needs(row, &row->once, work->start),
                                              first_needs(row, &row->each, work->start), runs));
    if (walk->leaves > (double)HK_COUNT_MOST || walk->foundation > (double)HK_COUNT_MOST)
        return stop(walk, HK_TOO_MANY, 0, work->stitches);
    return row_worked(walk, row, 0, runs);
}

/* Row r, counted from 0, of a part that is no taper. */
static enum hk_counting work_row(struct walk *walk, int64_t r)
{
    const struct hk_row *row = hk_fabric_row(walk->work->fabric, r);
    int64_t below = (int64_t)walk->leaves, each = row->repeats ? row->each.needs : 0;
    int64_t over = below - row->once.needs;
    if (row->repeats && each == 0)
        return stop(walk, HK_ENDLESS, r, below);
    if (over < 0 || (each ? over % each : over) != 0)
        return stop_misfit(walk, r, below, row->once.needs, each);
    int64_t times = each ? over / each : 0;
    double runs = (double)times;
    walk->leaves = sum_at(row->once.leaves, row->each.leaves, runs);
    if (walk->leaves > (double)HK_COUNT_MOST)
        return stop(walk, HK_TOO_MANY, r, below);
    return row_worked(walk, row, r, runs);
}

/* ---- The rest in bulk ------------------------------------------------------------------------------------------------------ */

/* A cycle that leaves what it found, and how often each of its rows is still worked in each stripe. */
struct bulk {
    size_t cycle;
    double *runs, *leaves; /* of each row of the cycle */
    double *times;         /* [stripe * (cycle + 1) + row]: differences between a row's times and those of the row before */
    size_t phase;          /* the cycle's row that comes next */
};

/* Works the cycle once more, which counts and lists its rows, and keeps their runs. */
static enum hk_counting bulk_begin(struct walk *walk, struct bulk *bulk, int64_t *r)
{
    const struct hk_fabric *fabric = walk->work->fabric;
    bulk->cycle = fabric->cycle_count;
    bulk->runs = hk_arena_take(&walk->scratch, bulk->cycle, sizeof *bulk->runs);
    bulk->leaves = hk_arena_take(&walk->scratch, bulk->cycle, sizeof *bulk->leaves);
    bulk->times = hk_arena_take(&walk->scratch, walk->work->stripe_count * (bulk->cycle + 1), sizeof *bulk->times);
    if (walk->scratch.lost)
        return HK_NO_MEMORY;
    for (size_t c = 0; c < bulk->cycle && *r < walk->work->rows; c++, ++*r) {
        const struct hk_row *row = &fabric->rows[fabric->setup_count + c];
        if (row->repeats)
            bulk->runs[c] = (walk->leaves - (double)row->once.needs) / (double)row->each.needs;
        enum hk_counting answer = work_row(walk, *r);
        if (answer != HK_COUNTED)
            return answer;
        bulk->leaves[c] = walk->leaves;
    }
    return HK_COUNTED;
}

/* `copies` times the next `rows` rows, all of the present stripe. */
static void bulk_segment(const struct walk *walk, struct bulk *bulk, int64_t rows, double copies)
{
    double *times = &bulk->times[walk->stripe * (bulk->cycle + 1)];
    size_t rest = (size_t)(rows % (int64_t)bulk->cycle), end = bulk->phase + rest;
    int64_t cycles = rows / (int64_t)bulk->cycle;
    times[0] += copies * (double)cycles;
    times[bulk->phase] += copies;
    if (end >= bulk->cycle) {
        end -= bulk->cycle;
        times[0] += copies;
    }
    times[end] -= copies;
    bulk->phase = end;
}

static void bulk_rows(struct walk *walk, struct bulk *bulk, int64_t rows, double copies)
{
    while (rows > 0) {
        int64_t segment = walk->stripe_left < rows ? walk->stripe_left : rows;
        bulk_segment(walk, bulk, segment, copies);
        rows -= segment;
        walk->stripe_left -= segment;
        if (walk->stripe_left == 0)
            next_stripe(walk);
    }
}

/* Rows after which stripes start again; beyond HK_COUNT_MOST no part gets there. */
static int64_t stripes_period(const struct hk_work *work)
{
    int64_t period = 0;
    for (size_t i = 0; i < work->stripe_count; i++) {
        if (work->stripe_rows[i] > HK_COUNT_MOST - period)
            return HK_COUNT_MOST;
        period += work->stripe_rows[i];
    }
    assert(period > 0);
    return period;
}

static void bulk_visit(struct walk *walk, const struct bulk *bulk)
{
    for (size_t stripe = 0; stripe < walk->work->stripe_count; stripe++) {
        double times = 0;
        for (size_t c = 0; c < bulk->cycle; c++) {
            struct visits *visits = &walk->visits[stripe * walk->row_count + walk->work->fabric->setup_count + c];
            times += bulk->times[stripe * (bulk->cycle + 1) + c];
            if (times <= 0)
                continue;
            visits->times += times;
            visits->runs += times * bulk->runs[c];
            visits->most_runs = fmax(visits->most_runs, bulk->runs[c]);
        }
    }
}

/* Lists the rows from r on. A cycle of one width is one run however long the part. */
static bool bulk_list(struct walk *walk, const struct bulk *bulk, int64_t r)
{
    bool steady = true;
    for (size_t c = 1; c < bulk->cycle; c++)
        steady = steady && bulk->leaves[c] == bulk->leaves[0];
    if (steady) {
        run_go_on(walk, walk->work->rows);
        return true;
    }
    for (size_t c = 0; r < walk->work->rows && !walk->runs_full; r++, c = (c + 1) % bulk->cycle) {
        if (!run_push(walk, r + 1, (int64_t)bulk->leaves[c]))
            return false;
    }
    return true;
}

/* Rows r to the end, where the cycle that begins at r leaves what it finds. */
static enum hk_counting work_bulk(struct walk *walk, int64_t r)
{
    struct bulk bulk = {0};
    enum hk_counting answer = bulk_begin(walk, &bulk, &r);
    int64_t rows = walk->work->rows - r;
    if (answer != HK_COUNTED || rows <= 0)
        return answer;
    assert(bulk.cycle > 0);
    int64_t period = stripes_period(walk->work), cycle = (int64_t)bulk.cycle, common = cycle / gcd(cycle, period);
    int64_t copies = common <= rows / period ? rows / (period * common) : 0;
    if (copies > 0)
        bulk_rows(walk, &bulk, period * common, (double)copies);
    bulk_rows(walk, &bulk, rows - copies * (copies ? period * common : 0), 1);
    bulk_visit(walk, &bulk);
    walk->leaves = bulk.leaves[(rows - 1) % cycle];
    return bulk_list(walk, &bulk, r) ? HK_COUNTED : HK_NO_MEMORY;
}

static enum hk_counting work_rows(struct walk *walk)
{
    const struct hk_work *work = walk->work;
    double found = -1;
    for (int64_t r = 1; r < work->rows; r++) {
        if (cycle_begins(work->fabric, r)) {
            if (walk->leaves == found)
                return work_bulk(walk, r);
            found = walk->leaves;
        }
        if (r >= HK_ROWS_WALKED_MOST)
            return stop(walk, HK_TOO_MANY, r, (int64_t)walk->leaves);
        if (!spend(work, 1))
            return HK_SPENT;
        enum hk_counting answer = work_row(walk, r);
        if (answer != HK_COUNTED)
            return answer;
    }
    return HK_COUNTED;
}

/* ---- Tapers ------------------------------------------------------------------------------------------------------ */

/* Row r of a taper, on `width` stitches; its fit is not checked, so its repeat may run a fraction of a time. */
static enum hk_counting taper_row(struct walk *walk, int64_t r, double width)
{
    const struct hk_row *row = hk_fabric_row(walk->work->fabric, r);
    if (!row->repeats)
        return stop(walk, HK_RIGID, r, whole(width));
    if (row->each.needs == 0)
        return stop(walk, HK_ENDLESS, r, whole(width));
    double runs = (width - (double)row->once.needs) / (double)row->each.needs;
    if (runs < 0) {
        misfit_begin(walk->misfit, walk->work, r, whole(width));
        walk->misfit->fits_row[1] = row->once.needs;
        return HK_MISFIT;
    }
    walk->leaves = sum_at(row->once.leaves, row->each.leaves, runs);
    if (walk->leaves > (double)HK_COUNT_MOST)
        return stop(walk, HK_TOO_MANY, r, whole(width));
    return row_worked(walk, row, r, runs);
}

/* Row r of R, counted from 1, on s + (e - s)(r - 1)/(R - 1) stitches; row 1 by its own rule. */
static enum hk_counting work_taper(struct walk *walk)
{
    const struct hk_work *work = walk->work;
    double s = work->stitches == HK_NOT_STATED ? walk->leaves : (double)work->stitches, e = (double)work->end_stitches;
    int64_t all = work->taper_rows > 0 ? work->taper_rows : work->rows;
    for (int64_t r = 1; r < work->rows; r++) {
        double width = s + (e - s) * (double)r / (double)(all - 1);
        if (r >= HK_ROWS_WALKED_MOST)
            return stop(walk, HK_TOO_MANY, r, whole(width));
        if (!spend(work, 1))
            return HK_SPENT;
        enum hk_counting answer = taper_row(walk, r, width);
        if (answer != HK_COUNTED)
            return answer;
    }
    if (work->rows > 1 && work->rows == all)
        walk->leaves = e;
    return HK_COUNTED;
}

/* ---- Sums ----------------------------------------------------------------------------------------------------------------- */

/* The kinds of stitch that a part is made of, ascending, and counts of them. */
struct palette {
    size_t *stitches;
    size_t count;
};

static int by_stitch(const void *a, const void *b)
{
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

static bool palette_make(struct palette *palette, const struct hk_work *work, size_t row_count, struct hk_arena *arena)
{
    const struct hk_row *rows = work->fabric->rows;
    size_t all = 1, kept = 0;
    for (size_t i = 0; i < row_count; i++)
        all += rows[i].once.stitch_count + rows[i].each.stitch_count;
    size_t *stitches = hk_arena_take(arena, all, sizeof *stitches);
    if (!stitches)
        return false;
    size_t count = 0;
    stitches[count++] = work->foundation_stitch;
    for (size_t i = 0; i < row_count; i++) {
        for (size_t j = 0; j < rows[i].once.stitch_count; j++)
            stitches[count++] = rows[i].once.stitches[j].stitch;
        for (size_t j = 0; j < rows[i].each.stitch_count; j++)
            stitches[count++] = rows[i].each.stitches[j].stitch;
    }
    qsort(stitches, count, sizeof *stitches, by_stitch);
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || stitches[i] != stitches[i - 1])
            stitches[kept++] = stitches[i];
    }
    *palette = (struct palette){stitches, kept};
    return true;
}

static double *palette_at(const struct palette *palette, double *counts, size_t stitch)
{
    const size_t *at = bsearch(&stitch, palette->stitches, palette->count, sizeof stitch, by_stitch);
    assert(at);
    return &counts[at - palette->stitches];
}

static void palette_add(const struct palette *palette, double *counts, const struct hk_sum *sum, double times)
{
    for (size_t i = 0; times > 0 && i < sum->stitch_count; i++)
        *palette_at(palette, counts, sum->stitches[i].stitch) += times * (double)sum->stitches[i].count;
}

static bool palette_kinds(const struct palette *palette, const double *counts, struct hk_kinds *kinds,
                          struct hk_arena *arena)
{
    size_t filled = 0;
    for (size_t i = 0; i < palette->count; i++)
        filled += counts[i] > 0;
    *kinds = (struct hk_kinds){hk_arena_take(arena, filled, sizeof *kinds->kinds), 0};
    if (!kinds->kinds)
        return false;
    for (size_t i = 0; i < palette->count; i++) {
        if (counts[i] > 0)
            kinds->kinds[kinds->count++] = (struct hk_kind){palette->stitches[i], counts[i]};
    }
    return true;
}

static bool dominates(const double *a, const double *b, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (a[i] < b[i])
            return false;
    }
    return true;
}

/* Rows of one stripe that no other row outdoes in every kind: which is longest depends on the yarn each kind takes. */
struct front {
    double **rows;
    size_t count;
};

static void front_add(struct front *front, double *row, size_t kinds)
{
    for (size_t i = 0; i < front->count; i++) {
        if (dominates(front->rows[i], row, kinds))
            return;
    }
    size_t kept = 0;
    for (size_t i = 0; i < front->count; i++) {
        if (!dominates(row, front->rows[i], kinds))
            front->rows[kept++] = front->rows[i];
    }
    front->rows[kept++] = row;
    front->count = kept;
}

/* Of one row of the fabric the time with most runs outdoes all others, so there is one candidate a row. */
static enum hk_counting front_fill(struct walk *walk, const struct palette *palette, size_t stripe, struct front *front,
                                   struct hk_arena *scratch)
{
    const struct hk_row *rows = walk->work->fabric->rows;
    front->rows = hk_arena_take(scratch, walk->row_count, sizeof *front->rows);
    if (!front->rows)
        return HK_NO_MEMORY;
    for (size_t i = 0; i < walk->row_count; i++) {
        const struct visits *visits = &walk->visits[stripe * walk->row_count + i];
        if (visits->times <= 0 || rows[i].once.stitch_count + rows[i].each.stitch_count == 0)
            continue;
        if (!spend(walk->work, (int64_t)((1 + front->count) * palette->count / KINDS_COMPARED)))
            return HK_SPENT;
        double *counts = hk_arena_take(scratch, palette->count, sizeof *counts);
        if (!counts)
            return HK_NO_MEMORY;
        palette_add(palette, counts, &rows[i].once, 1);
        palette_add(palette, counts, &rows[i].each, visits->most_runs);
        front_add(front, counts, palette->count);
    }
    return HK_COUNTED;
}

static enum hk_counting stripe_longest(struct walk *walk, const struct palette *palette, size_t stripe,
                                       struct hk_stripe_count *out)
{
    struct hk_arena scratch = {0}; /* not the walk's: there may be many stripes */
    struct front front = {0};
    enum hk_counting answer = front_fill(walk, palette, stripe, &front, &scratch);
    out->longest = answer == HK_COUNTED ? hk_arena_take(walk->arena, front.count, sizeof *out->longest) : NULL;
    for (size_t i = 0; out->longest && i < front.count; i++) {
        if (!palette_kinds(palette, front.rows[i], &out->longest[i], walk->arena))
            answer = HK_NO_MEMORY;
    }
    out->longest_count = out->longest ? front.count : 0;
    hk_arena_free(&scratch);
    return answer == HK_COUNTED && !out->longest ? HK_NO_MEMORY : answer;
}

/* Times that each stripe begins within the part, but for the part's own beginning. */
static void stripes_joined(const struct hk_work *work, struct hk_stripe_count *stripes)
{
    int64_t before = 0, period = stripes_period(work);
    for (size_t i = 0; work->stripe_count > 1 && i < work->stripe_count && before < work->rows; i++) {
        stripes[i].joined = (work->rows - 1 - before) / period + 1 - (i == 0);
        before = work->stripe_rows[i] < work->rows - before ? before + work->stripe_rows[i] : work->rows;
    }
}

static enum hk_counting stripe_sum(struct walk *walk, const struct palette *palette, size_t stripe,
                                   struct hk_stripe_count *out)
{
    double *counts = hk_arena_take(&walk->scratch, palette->count, sizeof *counts);
    if (!counts)
        return HK_NO_MEMORY;
    if (stripe == 0)
        *palette_at(palette, counts, walk->work->foundation_stitch) += walk->foundation;
    for (size_t i = 0; i < walk->row_count; i++) {
        const struct hk_row *row = &walk->work->fabric->rows[i];
        const struct visits *visits = &walk->visits[stripe * walk->row_count + i];
        palette_add(palette, counts, &row->once, visits->times);
        palette_add(palette, counts, &row->each, visits->runs);
        out->cut_m += visits->times * row->once.cut_m + visits->runs * row->each.cut_m;
    }
    for (size_t i = 0; i < palette->count; i++) {
        if (counts[i] > (double)HK_COUNT_MOST)
            return stop(walk, HK_TOO_MANY, walk->work->rows - 1, HK_NOT_STATED);
    }
    if (!palette_kinds(palette, counts, &out->kinds, walk->arena))
        return HK_NO_MEMORY;
    return stripe_longest(walk, palette, stripe, out);
}

static size_t last_stripe(const struct hk_work *work)
{
    int64_t left = work->rows > 0 ? (work->rows - 1) % stripes_period(work) : 0;
    size_t stripe = 0;
    while (left >= work->stripe_rows[stripe])
        left -= work->stripe_rows[stripe++];
    return stripe;
}

static enum hk_counting sum_up(struct walk *walk, struct hk_counted *counted)
{
    const struct hk_work *work = walk->work;
    struct palette palette;
    struct hk_stripe_count *stripes = hk_arena_take(walk->arena, work->stripe_count, sizeof *stripes);
    if (!stripes || !palette_make(&palette, work, walk->row_count, &walk->scratch) || !run_split(walk))
        return HK_NO_MEMORY;
    for (size_t i = 0; i < work->stripe_count; i++) {
        enum hk_counting answer = stripe_sum(walk, &palette, i, &stripes[i]);
        if (answer != HK_COUNTED)
            return answer;
    }
    stripes_joined(work, stripes);
    *counted = (struct hk_counted){
        .stripes = stripes,
        .last_stripe = last_stripe(work),
        .foundation = (int64_t)walk->foundation,
        .leaves = whole(walk->leaves),
        .ambiguous = walk->ambiguous,
        .runs = walk->runs,
        .run_count = walk->run_count,
    };
    return HK_COUNTED;
}

/* ---- The two calls ----------------------------------------------------------------------------------------------- */

/* Stitches of each row of the fabric are summed once for the part, and again for each stripe. */
static int64_t sums_cost(const struct walk *walk)
{
    const struct hk_row *rows = walk->work->fabric->rows;
    size_t stripes = walk->work->stripe_count, stitches = 0;
    for (size_t i = 0; i < walk->row_count; i++)
        stitches += rows[i].once.stitch_count + rows[i].each.stitch_count;
    return (int64_t)(stripes + stripes * walk->row_count / ROWS_SUMMED + (1 + stripes) * stitches / STITCHES_SUMMED);
}

static enum hk_counting count_all(struct walk *walk, struct hk_counted *counted)
{
    const struct hk_work *work = walk->work;
    bool taper = work->end_stitches != HK_NOT_STATED;
    if (!spend(work, sums_cost(walk)))
        return HK_SPENT;
    walk->visits = hk_arena_take(&walk->scratch, work->stripe_count, walk->row_count * sizeof *walk->visits);
    if (!walk->visits)
        return HK_NO_MEMORY;
    if (work->rows > 0) {
        if (taper && !hk_fabric_row(work->fabric, 0)->repeats)
            return stop(walk, HK_RIGID, 0, work->stitches);
        enum hk_counting answer = work_first(walk);
        if (answer == HK_COUNTED)
            answer = taper ? work_taper(walk) : work_rows(walk);
        if (answer != HK_COUNTED)
            return answer;
    }
    return sum_up(walk, counted);
}

enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_misfit *misfit,
                               struct hk_arena *arena)
{
    assert(work->stripe_count > 0 && work->fabric->cycle_count > 0);
    for (size_t i = 0; i < work->stripe_count; i++)
        assert(work->stripe_rows[i] > 0);
    struct walk walk = {
        .work = work,
        .anchor = anchor_of(work),
        .misfit = misfit,
        .arena = arena,
        .row_count = work->fabric->setup_count + work->fabric->cycle_count,
        .stripe_left = work->stripe_rows[0],
        .leaves = work->start == HK_START_CONTINUE ? (double)work->below : 0,
        .ambiguous = work->start == HK_START_CONTINUE && work->ambiguous,
    };
    enum hk_counting answer = count_all(&walk, counted);
    hk_arena_free(&walk.scratch);
    return answer;
}

/* The width nearest to `stitches` among those of the ladder. */
static int64_t ladder_nearest(const struct ladder *ladder, const struct hk_work *work, const struct anchor *anchor,
                              double stitches)
{
    double t = 0;
    if (ladder->step > 0) {
        double least = (double)stated_width(work, anchor, ladder->first);
        t = floor((stitches - least) / ((double)ladder->step * (double)anchor->each) + 0.5);
        t = fmin(fmax(t, 0), (double)ladder->top);
    }
    return stated_width(work, anchor, ladder->first + ladder->step * (int64_t)t);
}

enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, int64_t *apart)
{
    struct hk_work any = *work;
    any.stitches = any.end_stitches = HK_NOT_STATED;
    struct hk_misfit ignored;
    struct walk walk = {.work = &any, .anchor = anchor_of(&any), .misfit = &ignored};
    struct ladder ladder;
    enum hk_counting answer = first_stands(&walk);
    if (answer == HK_COUNTED)
        answer = ladder_climb(&ladder, &any, &walk.anchor);
    if (answer != HK_COUNTED)
        return answer;
    bool chosen = work->start != HK_START_CONTINUE || walk.anchor.by_leaves;
    if (chosen && hk_fabric_row(work->fabric, 0)->repeats && ladder.first == 0 && !ladder_keep(&ladder, 1, 1))
        return HK_MISFIT;
    *width = ladder_nearest(&ladder, &any, &walk.anchor, stitches);
    *apart = ladder.step * walk.anchor.each;
    return HK_COUNTED;
}
