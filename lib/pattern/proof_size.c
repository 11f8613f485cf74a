/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern in one size: its entries in working order, references resolved to the rows above them. Of a stretch
 * of rows that leaves the edge as it found it the rest is multiplied.
 */
#include "pattern/proofing.h"

#include "text.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ROWS_MOST ((int64_t)100000) /* of one piece in one size */
#define CYCLE_MOST 1000
#define COPIES_MOST 4 /* pieces that are as one another, in turn */
#define NO_STITCH SIZE_MAX

/* A row that has been worked. */
struct worked_row {
    const struct hk_row *row;
    int64_t number;
    size_t entry, held;
    size_t stitch;  /* the only kind of stitch in it besides chains and shaping, or NO_STITCH */
    bool preserved; /* it left as many as it found */
    bool knit;
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
    bool ended; /* its list cannot be reached any more, and what of it was not worked is said */
};

struct run {
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
    size_t part_log;  /* of the log: where this part begins */
    size_t cycle;     /* rows of the last reference, 0: a row of its own came last */
    int64_t number;   /* of the last row; 0: none */
    bool counted;     /* numbers go on from there */
    bool known;       /* the edge is */
    bool from_stated; /* it is what a refused row stated */
    bool unknown_said;
    bool round;
    enum hk_side side; /* of the next row; OPEN: not known */
    size_t held;
    struct hk_edge before; /* scratch */
};

static void lose(struct run *run)
{
    run->p->lost = true;
}

static const struct hk_entry *entry_at(const struct run *run)
{
    return &run->w->entries[run->entry];
}

static struct hk_proof_row *row_of(const struct run *run, size_t entry)
{
    return &run->p->proof->rows[entry * run->w->words.size_count + run->size];
}

static void say(struct run *run, enum hk_code code, struct hk_place place, const char *text, const char *hint)
{
    hk_proof_remark(run->p, run->entry, run->size, code, place, text, hint);
}

/* ---- Stitches ---- */

static size_t by_name(const struct run *run, const char *us)
{
    const struct hk_catalogue *catalogue = run->w->words.catalogue;
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        if (catalogue->stitches[i].us && strcmp(catalogue->stitches[i].us, us) == 0)
            return i;
    return NO_STITCH;
}

/* What a stitch is shaped from: sc of sc2tog, k of ssk and M1. */
static size_t base_of(const struct run *run, size_t stitch)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *us = s->us ? s->us : "";
    if (s->family == HK_KNIT) {
        bool purl = us[0] == 'p' || strcmp(us, "ssp") == 0 || strcmp(us, "M1P") == 0;
        return by_name(run, purl ? "p" : "k");
    }
    size_t length = strlen(us);
    if (length > 4 && strcmp(us + length - 3, "tog") == 0 && hk_is_digit(us[length - 4])) {
        char name[16];
        if (length - 4 < sizeof name) {
            memcpy(name, us, length - 4);
            name[length - 4] = '\0';
            return by_name(run, name);
        }
    }
    return stitch;
}

static size_t only_stitch(const struct run *run, const struct hk_followed *followed, bool *knit)
{
    size_t only = NO_STITCH;
    *knit = false;
    for (size_t i = 0; i < followed->worked_count; i++) {
        size_t stitch = followed->worked[i].stitch;
        if (stitch == run->p->chain || stitch == run->p->slip || stitch == run->p->cast_on ||
            run->w->words.catalogue->stitches[stitch].leaves == 0)
            continue;
        *knit |= run->w->words.catalogue->stitches[stitch].family == HK_KNIT;
        size_t base = base_of(run, stitch);
        if (only != NO_STITCH && base != only)
            return NO_STITCH;
        only = base;
    }
    return only;
}

/* ---- What is kept of a row ---- */

static size_t held_of_role(const struct run *run, size_t role, size_t fallback)
{
    for (size_t i = 0; i < run->w->held_count; i++)
        if (run->w->helds[i].count == 1 && run->w->helds[i].roles[0] == role && run->w->helds[i].times[0] == 1)
            return i;
    return fallback;
}

static void stitches_add(struct hk_proof_stitches *list, size_t *count, size_t held, size_t stitch, int64_t more)
{
    size_t at = 0;
    while (at < *count && (list[at].held < held || (list[at].held == held && list[at].stitch < stitch)))
        at++;
    if (at < *count && list[at].held == held && list[at].stitch == stitch) {
        list[at].count += more;
        return;
    }
    memmove(list + at + 1, list + at, (*count - at) * sizeof *list);
    list[at] = (struct hk_proof_stitches){held, stitch, more};
    ++*count;
}

static bool works_same(const struct hk_proof_work *a, const struct hk_proof_work *b)
{
    bool same = a->stitch_count == b->stitch_count && a->leaves == b->leaves && a->cut_m == b->cut_m &&
                a->cut_held == b->cut_held;
    for (size_t i = 0; same && i < a->stitch_count; i++)
        same = a->stitches[i].held == b->stitches[i].held && a->stitches[i].stitch == b->stitches[i].stitch &&
               a->stitches[i].count == b->stitches[i].count;
    return same;
}

static void work_keep(struct run *run, const struct hk_proof_work *work)
{
    struct hk_proof_line *line = &run->p->proof->lines[run->line * run->w->words.size_count + run->size];
    if (line->count > 0 && work->rows > 0 && line->works[line->count - 1].rows > 0 &&
        works_same(&line->works[line->count - 1], work)) {
        line->works[line->count - 1].rows += work->rows;
        return;
    }
    struct hk_proof_work *works =
        hk_arena_grow(run->p->arena, line->works, line->count, &line->capacity, sizeof *works);
    if (!works) {
        lose(run);
        return;
    }
    line->works = works;
    works[line->count++] = *work;
}

/* Stitches of one kind that are no row: a foundation. */
static void foundation_keep(struct run *run, size_t stitch, int64_t count, int64_t slips)
{
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, 2, sizeof *list);
    struct hk_proof_work work = {.stitches = list, .leaves = count, .cut_held = run->held};
    if (!list) {
        lose(run);
        return;
    }
    stitches_add(list, &work.stitch_count, run->held, stitch, count);
    if (slips > 0)
        stitches_add(list, &work.stitch_count, run->held, run->p->slip, slips);
    if (count > 0 || slips > 0)
        work_keep(run, &work);
    run->p->proof->lines[run->line * run->w->words.size_count + run->size].foundation += count;
}

static bool work_make(struct run *run, const struct hk_followed *followed, size_t held, struct hk_proof_work *work)
{
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, followed->worked_count, sizeof *list);
    *work = (struct hk_proof_work){.stitches = list, .rows = 1, .leaves = followed->count, .cut_m = followed->cut_m};
    if (!list) {
        lose(run);
        return false;
    }
    for (size_t i = 0; i < followed->worked_count; i++) {
        const struct hk_stitches *s = &followed->worked[i];
        if (s->count > 0)
            stitches_add(list, &work->stitch_count, s->yarn == SIZE_MAX ? held : held_of_role(run, s->yarn, held),
                         s->stitch, s->count);
    }
    work->cut_held = followed->yarn == SIZE_MAX ? held : held_of_role(run, followed->yarn, held);
    return true;
}

/* ---- Edges ---- */

static const char *kind_of(const struct run *run, const struct hk_spot *spot)
{
    switch (spot->kind) {
    case HK_SPOT_SPACE:
        return hk_arena_print(run->p->arena, "ch-%u sp", (unsigned)spot->chains);
    case HK_SPOT_CHAIN:
        return "ch";
    case HK_SPOT_RING:
        return "ring";
    case HK_SPOT_MARKER:
        return NULL;
    default:
        return hk_proof_stitch(run->p, spot->stitch); /* "st" of one whose kind is not known */
    }
}

static bool kinds_alike(const struct hk_spot *a, const struct hk_spot *b)
{
    return a->kind == b->kind &&
           (a->kind == HK_SPOT_SPACE ? a->chains == b->chains : a->kind != HK_SPOT_STITCH || a->stitch == b->stitch);
}

static void places_keep(struct run *run, struct hk_proof_row *row)
{
    enum { kinds_most = 64 };
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    struct hk_spot kinds[kinds_most];
    int64_t counts[kinds_most];
    size_t count = 0;
    for (size_t i = 0; i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        size_t k = 0;
        if (spot->kind == HK_SPOT_MARKER)
            continue;
        while (k < count && !kinds_alike(&kinds[k], spot))
            k++;
        if (k == kinds_most)
            continue;
        if (k == count) {
            kinds[count] = *spot;
            counts[count++] = 0;
        }
        counts[k]++;
    }
    struct hk_written_places *places = hk_arena_take(run->p->arena, count, sizeof *places);
    if (!places) {
        lose(run);
        return;
    }
    for (size_t k = 0; k < count; k++)
        places[k] = (struct hk_written_places){kind_of(run, &kinds[k]), counts[k]};
    row->places = places;
    row->place_count = count;
}

static const char *stated_text(const struct run *run, const struct hk_stated *stated)
{
    switch (stated->of) {
    case HK_STATED_STITCHES:
        return "sts";
    case HK_STATED_KIND:
        return hk_proof_stitch(run->p, stated->stitch);
    case HK_STATED_SPACES:
        return stated->chains ? hk_arena_print(run->p->arena, "ch-%" PRId64 " sp", stated->chains) : "sp";
    case HK_STATED_CHAINS:
        return "ch";
    case HK_STATED_GROUPS:
        return "groups";
    case HK_STATED_MORE:
        return "sts more";
    case HK_STATED_FEWER:
        return "sts fewer";
    }
    return "";
}

static void stated_keep(struct run *run, const struct hk_row *row, const struct hk_followed *followed,
                        struct hk_proof_row *kept)
{
    kept->agrees = true;
    kept->stated_count = 0;
    struct hk_written_stated *list = hk_arena_take(run->p->arena, followed->compared_count, sizeof *list);
    if (!list) {
        lose(run);
        return;
    }
    for (size_t i = 0; i < followed->compared_count && i < row->stated_count; i++) {
        list[kept->stated_count++] = (struct hk_written_stated){
            stated_text(run, &row->stated[i]), followed->compared[i].stated, followed->compared[i].actual};
        kept->agrees &= followed->compared[i].agrees;
    }
    kept->stated = list;
}

/* ---- Rows that were worked into a foundation, again ---- */

static bool where_chains(const struct hk_where *where)
{
    return where && where->given &&
           (where->what == HK_WHAT_CHAIN || where_chains(where->besides) || where_chains(where->until));
}

static bool steps_chains(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (where_chains(&steps[i].where) || steps_chains(steps[i].steps, steps[i].step_count))
            return true;
    return false;
}

static struct hk_where where_stitches(struct run *run, struct hk_where where)
{
    if (where.given && where.what == HK_WHAT_CHAIN)
        where.what = HK_WHAT_ANY;
    const struct hk_where *besides[] = {where.besides, where.until};
    for (size_t i = 0; i < 2; i++) {
        struct hk_where *copy = besides[i] ? hk_arena_take(run->p->arena, 1, sizeof *copy) : NULL;
        if (copy)
            *copy = where_stitches(run, *besides[i]);
        besides[i] = copy ? copy : besides[i];
    }
    where.besides = besides[0];
    where.until = besides[1];
    return where;
}

static struct hk_step *steps_stitches(struct run *run, const struct hk_step *steps, size_t count)
{
    struct hk_step *copies = hk_arena_take(run->p->arena, count, sizeof *copies);
    if (!copies) {
        lose(run);
        return NULL;
    }
    for (size_t i = 0; i < count; i++) {
        copies[i] = steps[i];
        copies[i].where = where_stitches(run, steps[i].where);
        if (steps[i].step_count > 0)
            copies[i].steps = steps_stitches(run, steps[i].steps, steps[i].step_count);
    }
    return copies;
}

/*
 * "Rnd 1: Sc in each ch around. Rnds 2-9: Rep rnd 1." means the stitches, where the edge has no chains any more. NULL
 * where memory is lost.
 */
static const struct hk_row *row_again(struct run *run, const struct hk_row *row)
{
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    for (size_t i = 0; i < edge->count; i++)
        if (edge->spots[i].kind == HK_SPOT_CHAIN || edge->spots[i].kind == HK_SPOT_SPACE)
            return row;
    if (!steps_chains(row->steps, row->step_count))
        return row;
    struct hk_row *copy = hk_arena_take(run->p->arena, 1, sizeof *copy);
    if (!copy) {
        lose(run);
        return NULL;
    }
    *copy = *row;
    copy->steps = steps_stitches(run, row->steps, row->step_count);
    copy->other = NULL;
    return copy->steps ? copy : NULL;
}

/* ---- Working rows ---- */

static void not_followed(struct run *run)
{
    run->p->proof->incomplete[run->size] = true;
    run->known = false;
}

/* The stitches that a refused row states. */
static int64_t stated_stitches(const struct run *run, const struct hk_row *row)
{
    int64_t kinds = 0;
    bool any = false;
    for (size_t i = 0; i < row->stated_count; i++) {
        if (row->stated[i].of == HK_STATED_STITCHES)
            return hk_graded_in(row->stated[i].count, run->size);
        if (row->stated[i].of == HK_STATED_KIND) {
            kinds += hk_graded_in(row->stated[i].count, run->size);
            any = true;
        }
    }
    return any ? kinds : -1;
}

/* A row that cannot be worked: what follows stands on what it states, if it does. */
static void go_on_from(struct run *run, const struct hk_row *stated)
{
    int64_t stitches = stated && run->known ? stated_stitches(run, stated) : -1;
    run->p->proof->incomplete[run->size] = true;
    run->cycle = 0;
    if (stitches < 0) {
        not_followed(run);
        return;
    }
    if (stitches > (int64_t)HK_SPOTS_MOST) {
        not_followed(run);
        return;
    }
    if (!hk_follow_edge(run->follow, stitches, HK_SPOT_ANY))
        lose(run);
    run->from_stated = true;
}

static void turn_side(struct run *run)
{
    if (!run->round && run->side != HK_SIDE_OPEN)
        run->side = run->side == HK_SIDE_RIGHT ? HK_SIDE_WRONG : HK_SIDE_RIGHT;
}

static void log_add(struct run *run, struct worked_row row)
{
    struct worked_row *log = hk_arena_grow(run->p->arena, run->log, run->log_count, &run->log_capacity, sizeof *log);
    if (!log) {
        lose(run);
        return;
    }
    run->log = log;
    log[run->log_count++] = row;
    run->number = row.number;
}

static void trouble_say(struct run *run, const struct hk_row *row, const struct hk_trouble *trouble)
{
    const struct hk_entry *entry = entry_at(run);
    bool own = row->text == &entry->text || row->text == run->p->entries[run->entry].row.text;
    struct hk_place place = own ? hk_row_text_place(row->text, trouble->at) : entry->place;
    if (trouble->spent) {
        run->p->spent = true;
        return;
    }
    if (own) {
        say(run, trouble->code, place, trouble->text, *trouble->hint ? trouble->hint : NULL);
        return;
    }
    const char *text = hk_arena_print(run->p->arena, "%s, where it works \"%s\"", trouble->text, row->text->text);
    if (text)
        say(run, trouble->code, place, text, *trouble->hint ? trouble->hint : NULL);
}

/* One row. `stated`: whose counts it is held to, NULL: none. False where it could not be worked. */
static bool work_row(struct run *run, struct planned_row planned, const struct hk_row *stated,
                     struct hk_proof_work *work)
{
    struct hk_followed followed;
    struct hk_row row = *planned.row;
    const struct hk_manner manner = {.round = run->round};
    row.stated = stated ? stated->stated : NULL;
    row.stated_count = stated ? stated->stated_count : 0;
    if (stated != planned.row)
        row.other = NULL;
    int64_t width = hk_edge_width(hk_follow_edge_now(run->follow));
    if (!hk_follow_row(run->follow, &row, manner, &followed)) {
        lose(run);
        return false;
    }
    if (!followed.good) {
        trouble_say(run, planned.row, &followed.trouble);
        return false;
    }
    bool knit;
    size_t stitch = only_stitch(run, &followed, &knit);
    if (!work_make(run, &followed, planned.held, work))
        return false;
    log_add(run, (struct worked_row){planned.row, run->number + 1, run->entry, planned.held, stitch,
                                     followed.width == width, knit});
    struct hk_proof_row *kept = row_of(run, run->entry);
    kept->worked = true;
    kept->stitches = followed.count;
    kept->left += followed.left;
    kept->choices |= followed.choices;
    kept->side = run->round ? HK_SIDE_RIGHT : run->side;
    if (stated)
        stated_keep(run,
                    (followed.readings & HK_READING_OTHER) && planned.row->other && stated == planned.row
                        ? planned.row->other
                        : stated,
                    &followed, kept);
    turn_side(run);
    return true;
}

/* Adds `times` more of the last `count` rows of the log and their works. */
static void multiply(struct run *run, const struct hk_proof_work *works, size_t count, int64_t times)
{
    if (count == 1) {
        struct hk_proof_work work = works[0];
        work.rows = times;
        work_keep(run, &work);
    }
    for (int64_t t = 0; t < times && !run->p->lost; t++)
        for (size_t i = 0; i < count && !run->p->lost; i++) {
            if (count > 1)
                work_keep(run, &works[i]);
            struct worked_row row = run->log[run->log_count - count];
            row.number = run->number + 1;
            row.entry = run->entry;
            log_add(run, row);
            turn_side(run);
        }
}

static bool room(struct run *run, int64_t rows)
{
    if ((int64_t)run->log_count + rows <= ROWS_MOST) {
        *run->p->effort -= rows;
        run->p->spent |= *run->p->effort < 0;
        return !run->p->spent;
    }
    char text[80];
    snprintf(text, sizeof text, "the piece has more than %" PRId64 " rows", ROWS_MOST);
    say(run, HK_COUNT_TOO_LARGE, entry_at(run)->place, text, "is a number a slip?");
    return false;
}

/* Works `total` rows, those of the cycle in turn; the last is held to what `stated` states. */
static void work_cycle(struct run *run, struct planned_row *cycle, size_t count, int64_t total,
                       const struct hk_row *stated)
{
    struct hk_proof_row *kept = row_of(run, run->entry);
    struct hk_proof_work *works = count > 0 ? hk_arena_take(run->p->arena, count, sizeof *works) : NULL;
    bool good = works && room(run, total), comparable = false, steady = true;
    kept->from_stated = run->from_stated;
    if (!works && count > 0)
        lose(run);
    for (int64_t i = 0; i < total && good && !run->p->lost; i++) {
        size_t at = (size_t)(i % (int64_t)count);
        if (at == 0) {
            int64_t spare = (total - i - 1) / (int64_t)count;
            if (comparable && steady && spare > 0 && hk_edge_same(&run->before, hk_follow_edge_now(run->follow))) {
                multiply(run, works, count, spare);
                i += spare * (int64_t)count;
            }
            comparable = total - i > (int64_t)count;
            if (comparable && !hk_edge_copy(&run->before, hk_follow_edge_now(run->follow)))
                lose(run);
            steady = true;
        }
        int64_t left = kept->left;
        if (cycle[at].again && !(cycle[at].row = row_again(run, cycle[at].row)))
            break;
        good = work_row(run, cycle[at], i + 1 == total ? stated : NULL, &works[at]);
        steady &= kept->left == left;
        if (good)
            work_keep(run, &works[at]);
    }
    kept->rows = total;
    kept->there = total > 0;
    if (!good) {
        kept->worked = false;
        go_on_from(run, stated);
        return;
    }
    if (total > 0) {
        run->from_stated = false;
        places_keep(run, kept);
    }
}

/* ---- Which rows ---- */

static const struct filler *filler_for(const struct run *run, int64_t number)
{
    for (size_t i = run->filler_count; i > 0; i--) {
        const struct filler *filler = &run->fillers[i - 1];
        const struct hk_entry *entry = &run->w->entries[filler->entry];
        if (filler->every && number > filler->number && (number - filler->number) % 2 == 0)
            return filler;
        for (size_t n = 0; n < entry->list_count; n++)
            if (entry->list[n] == number)
                return filler;
    }
    return NULL;
}

static bool row_numbered(const struct run *run, int64_t number, struct planned_row *planned)
{
    for (size_t i = run->log_count; i > 0; i--)
        if (run->log[i - 1].number == number) {
            *planned = (struct planned_row){run->log[i - 1].row, run->log[i - 1].held, true};
            return true;
        }
    const struct filler *filler = filler_for(run, number);
    if (filler)
        *planned = filler->planned;
    return filler != NULL;
}

static void refuse(struct run *run, enum hk_code code, const char *text, const char *hint)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    say(run, code, entry_at(run)->place, text, hint);
    row_of(run, run->entry)->worked = false;
    go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
}

/* Rows of words of our own, in the yarn of the entry. */
static bool planned_words(struct run *run, const char *words, struct planned_row *planned)
{
    const struct hk_row *row = hk_proof_words(run->p, words, &entry_at(run)->text);
    *planned = (struct planned_row){row, run->held, false};
    return row != NULL;
}

static bool plain_words(struct run *run, size_t stitch, struct planned_row *planned)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *name = hk_proof_stitch(run->p, stitch);
    const char *words = hk_arena_print(run->p->arena, s->family == HK_KNIT ? "%s to end" : "%s in each st", name);
    if (!words)
        lose(run);
    return words && planned_words(run, words, planned);
}

/*
 * The rows that go on without shaping, into `cycle` (room for CYCLE_MOST): the rows of the last reference, else the
 * last row, in flat knitting the last two; where these shaped, plain rows of their stitches. 0: it cannot be told.
 */
static size_t even_rows(struct run *run, struct planned_row *cycle)
{
    size_t count = run->log_count, part = count - run->part_log;
    if (count == 0)
        return 0;
    const struct worked_row *last = &run->log[count - 1], *above = part > 1 ? last - 1 : NULL;
    if (run->cycle > 0 && run->cycle <= part && run->cycle <= CYCLE_MOST) {
        bool preserved = true;
        for (size_t i = 0; i < run->cycle; i++)
            preserved &= run->log[count - run->cycle + i].preserved;
        for (size_t i = 0; preserved && i < run->cycle; i++)
            cycle[i] = (struct planned_row){run->log[count - run->cycle + i].row, run->held, true};
        if (preserved)
            return run->cycle;
    }
    bool pair = !run->round && last->knit && above && above->knit;
    if (last->preserved && (!pair || above->preserved)) {
        if (pair)
            cycle[0] = (struct planned_row){above->row, run->held, true};
        cycle[pair] = (struct planned_row){last->row, run->held, true};
        bool same = pair || !above || above->row == last->row || !above->preserved ||
                    (above->stitch != NO_STITCH && above->stitch == last->stitch);
        if (!pair && !run->round && last->knit)
            return 0;
        return same ? 1 + (size_t)pair : 0;
    }
    if (last->stitch == NO_STITCH || (pair && above->stitch == NO_STITCH) || (!pair && last->knit && !run->round))
        return 0;
    if (pair && !plain_words(run, above->stitch, &cycle[0]))
        return 0;
    return plain_words(run, last->stitch, &cycle[pair]) ? 1 + (size_t)pair : 0;
}

/* How many rows it takes to a length; -1: no gauge, said. */
static int64_t rows_to_length(struct run *run, const struct hk_reference *reference)
{
    const char *swatch = NULL;
    size_t stitch = run->log_count > 0 ? run->log[run->log_count - 1].stitch : NO_STITCH;
    double per_m = run->p->host->rows_per_m(run->p->host->context, stitch, entry_at(run)->tool_mm, &swatch);
    if (!(per_m > 0)) {
        refuse(run, HK_GAUGE_MISSING, "no swatch says how many rows that is",
               "give a swatch of this stitch with its gauge in swatches.csv, or write how many rows");
        return -1;
    }
    double rows = reference->length_m[run->size] * per_m;
    if (!reference->onward)
        rows -= (double)(run->log_count - (reference->of_part ? run->part_log : 0));
    if (rows < -0.5) {
        refuse(run, HK_RANGE, "it measures more than that already",
               "check the length, the gauge of the swatch and the rows above");
        return -1;
    }
    return rows > (double)ROWS_MOST ? ROWS_MOST + 1 : (int64_t)floor(fmax(rows, 0) + 0.5);
}

/* How many rows a reference to `count` rows is. -1: it has been said what is wrong. */
static int64_t rows_total(struct run *run, const struct hk_reference *reference, size_t count)
{
    const struct hk_entry *entry = entry_at(run);
    int64_t labelled = hk_entry_rows(entry, run->size), total = labelled;
    bool label = entry->numbered || entry->rows_given;
    if (reference->length_m) {
        total = rows_to_length(run, reference);
        if (total < 0)
            return -1;
        /* "ending with a WS row": one more where it would end on the other side. */
        bool odd = total % 2 != 0;
        enum hk_side end = run->side == HK_SIDE_OPEN             ? HK_SIDE_OPEN
                           : (run->side == HK_SIDE_RIGHT) == odd ? HK_SIDE_RIGHT
                                                                 : HK_SIDE_WRONG;
        total +=
            reference->end_side != HK_SIDE_OPEN && end != HK_SIDE_OPEN && end != reference->end_side && !run->round;
        return total;
    }
    if (reference->rows_given)
        total = hk_graded_in(reference->rows, run->size);
    else if (reference->times_given)
        total = hk_graded_in(reference->times, run->size) * (int64_t)count;
    else if (!label)
        total = (int64_t)count;
    if (label && (reference->rows_given || reference->times_given) && total != labelled) {
        char text[160];
        snprintf(text, sizeof text, "the label has %" PRId64 " rows, and the words come to %" PRId64, labelled, total);
        refuse(run, HK_COUNT_DIFFERS, text, "make them agree, or leave one of them out");
        return -1;
    }
    return total;
}

static bool same_letters(const char *a, const char *b)
{
    for (;;) {
        while (*a == ' ' || *a == ',' || *a == '-' || *a == '/')
            a++;
        while (*b == ' ' || *b == ',' || *b == '-' || *b == '/')
            b++;
        if (hk_lower(*a) != hk_lower(*b))
            return false;
        if (!*a)
            return true;
        a++;
        b++;
    }
}

/* The rows of a stitch pattern by name: a block of the text, a fabric, a stitch. */
static size_t pattern_rows(struct run *run, const char *name, struct planned_row *cycle, size_t *setup)
{
    const struct hk_written *w = run->w;
    *setup = 0;
    for (size_t b = w->block_count; b > 0; b--) {
        const struct hk_written_block *block = &w->blocks[b - 1];
        size_t length = strlen(block->name);
        if (!same_letters(name, block->name) &&
            !(hk_text_starts(name, block->name) && hk_word_at(name + length, " patt")))
            continue;
        size_t count = 0;
        for (size_t e = 0; e < block->count; e++) {
            const struct hk_proof_entry *parsed = &run->p->entries[block->first + e];
            int64_t rows = hk_entry_rows(&w->entries[block->first + e], run->size);
            if (!parsed->good)
                return 0;
            for (int64_t i = 0; i < rows && count < CYCLE_MOST; i++)
                cycle[count++] = (struct planned_row){&parsed->row, run->held, false};
        }
        return count;
    }
    static const char *const aliases[][2] = {
        {"st st", "stockinette"},          {"stocking stitch", "stockinette"},    {"stocking st", "stockinette"},
        {"stockinette st", "stockinette"}, {"stockinette stitch", "stockinette"}, {"garter st", "garter stitch"},
        {"garter", "garter stitch"}};
    const char *known = name;
    for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++)
        if (same_letters(name, aliases[i][0]))
            known = aliases[i][1];
    const struct hk_row *rows;
    size_t turns;
    const char *round = run->round ? hk_arena_print(run->p->arena, "%s in rounds", known) : NULL;
    if ((round && run->p->host->fabric(run->p->host->context, round, &rows, setup, &turns)) ||
        run->p->host->fabric(run->p->host->context, known, &rows, setup, &turns)) {
        size_t count = *setup + turns;
        for (size_t i = 0; i < count && i < CYCLE_MOST; i++)
            cycle[i] = (struct planned_row){&rows[i], run->held, false};
        return count <= CYCLE_MOST ? count : 0;
    }
    const struct hk_words *words = &w->words.catalogue->words[w->words.terms];
    for (size_t i = 0; i < words->count; i++)
        if (hk_text_same(words->words[i].text, name))
            return plain_words(run, words->words[i].stitch, &cycle[0]) ? 1 : 0;
    return 0;
}

/* ---- Shaping at the ends ---- */

/* The words of a row that shapes at its ends; NULL: there are none for that stitch. */
static const char *shape_words(struct run *run, const struct hk_reference *reference, size_t stitch)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *name = hk_proof_stitch(run->p, stitch);
    bool both = reference->ends == 2, purl = s->us && s->us[0] == 'p';
    if (reference->by == -1 && s->family == HK_KNIT)
        return purl ? (both ? "p2tog, p to last 2 sts, p2tog" : "p2tog, p to end")
                    : (both ? "k2tog, k to last 2 sts, ssk" : "k2tog, k to end");
    if (reference->by == 1 && s->family == HK_KNIT)
        return purl ? (both ? "p1, M1P, p to last st, M1P, p1" : "p1, M1P, p to end")
                    : (both ? "k1, M1, k to last st, M1, k1" : "k1, M1, k to end");
    const char *us = s->us ? s->us : "";
    const char *together = hk_arena_print(run->p->arena, "%s2tog", us);
    if (!together || s->family != HK_CROCHET)
        return NULL;
    if (reference->by == 1)
        return both ? hk_arena_print(run->p->arena, "2 %s in first st, %s in each st to last st, 2 %s in last st", name,
                                     name, name)
                    : hk_arena_print(run->p->arena, "2 %s in first st, %s in each st to end", name, name);
    size_t dec = by_name(run, together);
    const char *dec_name = dec != NO_STITCH ? hk_proof_stitch(run->p, dec) : NULL;
    if (reference->by != -1 || !dec_name)
        return NULL;
    return both ? hk_arena_print(run->p->arena, "%s, %s in each st to last 2 sts, %s", dec_name, name, dec_name)
                : hk_arena_print(run->p->arena, "%s, %s in each st to end", dec_name, name);
}

struct shaping {
    struct planned_row even[2], shape[2]; /* by side, if `pair` */
    bool pair;
    int64_t worked;
    bool good;
};

static void shaping_row(struct run *run, struct shaping *shaping, bool shapes, const struct hk_row *stated)
{
    size_t at = shaping->pair ? (size_t)(shaping->worked % 2) : 0;
    struct hk_proof_work work;
    if (!shaping->good || !room(run, 1))
        shaping->good = false;
    else
        shaping->good = work_row(run, shapes ? shaping->shape[at] : shaping->even[at], stated, &work);
    if (shaping->good)
        work_keep(run, &work);
    shaping->worked++;
}

/*
 * The stitches of plain rows that go on: of the last row, in flat knitting of the last two. Where no row is above,
 * knitting is k and p in turn, which is said. False: it cannot be told.
 */
static bool plain_stitches(struct run *run, size_t *stitches, bool *pair)
{
    const struct worked_row *last = run->log_count > 0 ? &run->log[run->log_count - 1] : NULL;
    const struct worked_row *above = run->log_count > 1 ? &run->log[run->log_count - 2] : NULL;
    *pair = !run->round && last && last->knit && above && above->knit && above->stitch != NO_STITCH;
    if (!last && run->p->needles) {
        stitches[0] = run->p->knit;
        stitches[1] = by_name(run, "p");
        *pair = !run->round;
        say(run, HK_ASSUMED, entry_at(run)->place,
            *pair ? "no row is above it: knit and purl rows in turn are taken"
                  : "no row is above it: knit rounds are taken",
            NULL);
        return true;
    }
    if (!last || last->stitch == NO_STITCH || (last->knit && !run->round && !*pair))
        return false;
    stitches[0] = *pair ? above->stitch : last->stitch;
    stitches[1] = last->stitch;
    return true;
}

static bool shaping_plan(struct run *run, const struct hk_reference *reference, struct shaping *shaping)
{
    size_t stitches[2];
    if (!plain_stitches(run, stitches, &shaping->pair))
        return false;
    for (size_t i = 0; i < 1 + (size_t)shaping->pair; i++) {
        const char *words = shape_words(run, reference, stitches[i]);
        if (!words || !planned_words(run, words, &shaping->shape[i]) ||
            !plain_words(run, stitches[i], &shaping->even[i]))
            return false;
    }
    return true;
}

/* Whether "to 34 sts" is met; where it is not, that has been said. */
static bool shaping_comes_out(struct run *run, const struct hk_reference *reference)
{
    int64_t now = hk_edge_count(hk_follow_edge_now(run->follow), false),
            each = (int64_t)reference->by * reference->ends;
    if (!reference->stages[0].to)
        return true;
    int64_t to = hk_graded_in(reference->stages[0].times, run->size);
    if ((to - now) % each == 0 && (to - now) / each >= 0)
        return true;
    char text[160];
    snprintf(text, sizeof text, "%" PRId64 " stitches do not become %" PRId64 " by %" PRId64 " at a time", now, to,
             each < 0 ? -each : each);
    refuse(run, HK_COUNT_DIFFERS, text, "check both numbers");
    return false;
}

static void shape(struct run *run, const struct hk_reference *reference)
{
    const struct hk_entry *entry = entry_at(run);
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct shaping shaping = {.good = true};
    struct hk_proof_row *kept = row_of(run, run->entry);
    bool label = entry->numbered || entry->rows_given;
    int64_t labelled = hk_entry_rows(entry, run->size);
    kept->from_stated = run->from_stated;
    if (!shaping_plan(run, reference, &shaping)) {
        refuse(run, HK_ROW_SYNTAX, "which stitches are shaped cannot be told from the rows above",
               "write the row that shapes with its label, and \"Rep rows ...\" or \"Work even for 3 rows\"");
        return;
    }
    if (!shaping_comes_out(run, reference))
        return;
    if (reference->first_next)
        shaping_row(run, &shaping, true, NULL);
    for (size_t s = 0; s < reference->stage_count && shaping.good; s++) {
        const struct hk_shape_stage *stage = &reference->stages[s];
        int64_t times = hk_graded_in(stage->times, run->size);
        if (reference->first_next && stage->every == 1 && stage->open && reference->stage_count == 1 && !label)
            break; /* "at each end of next row" */
        if (stage->open) {
            if (!label) {
                refuse(run, HK_ROW_SYNTAX, "it does not say how often",
                       "write \"... to 34 sts\", \"... 6 times\" or \"... 6 more times\"");
                return;
            }
            times = (labelled - shaping.worked) / stage->every;
        } else if (stage->to) {
            int64_t now = hk_edge_count(hk_follow_edge_now(run->follow), false),
                    each = (int64_t)reference->by * reference->ends;
            times = (times - now) / each;
        }
        for (int64_t t = 0; t < times && shaping.good; t++) {
            for (int64_t e = 1; e < stage->every && shaping.good; e++)
                shaping_row(run, &shaping, false, NULL);
            shaping_row(run, &shaping, true,
                        s + 1 == reference->stage_count && t + 1 == times && parsed->tailed ? &parsed->tail : NULL);
        }
    }
    while (label && shaping.good && shaping.worked < labelled)
        shaping_row(run, &shaping, false, shaping.worked + 1 == labelled && parsed->tailed ? &parsed->tail : NULL);
    if (shaping.good && label && shaping.worked > labelled) {
        refuse(run, HK_COUNT_DIFFERS, "the shaping takes more rows than the label has", "check both numbers");
        return;
    }
    kept->rows = shaping.worked;
    run->cycle = 0;
    if (!shaping.good) {
        kept->worked = false;
        go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
        return;
    }
    if (shaping.worked > 0) {
        run->from_stated = false;
        places_keep(run, kept);
    }
}

/* ---- Binding off at the beginning of rows ---- */

/* "Bind off 4 (5, 6) sts at beg of next 2 rows": the words of each of them. */
static size_t edge_rows(struct run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    size_t stitches[2];
    bool pair;
    if (!plain_stitches(run, stitches, &pair))
        return 0;
    for (size_t i = 0; i < 1 + (size_t)pair; i++) {
        const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitches[i]];
        const char *name = hk_proof_stitch(run->p, stitches[i]);
        const char *words = hk_arena_print(
            run->p->arena, s->family == HK_KNIT ? "%s, %s to end" : "%s, %s in each st to end", reference->words, name);
        if (!words || !planned_words(run, words, &cycle[i]))
            return 0;
    }
    return 1 + (size_t)pair;
}

/* ---- Entries ---- */

static void piece_work(struct run *run, size_t piece, size_t depth);

static void reference_as(struct run *run, const struct hk_reference *reference, size_t depth)
{
    size_t found = SIZE_MAX;
    for (size_t i = run->piece; i > 0 && found == SIZE_MAX; i--)
        if (hk_text_same(run->w->pieces[i - 1].name, reference->words) ||
            (hk_text_starts(run->w->pieces[i - 1].name, reference->words) &&
             run->w->pieces[i - 1].name[strlen(reference->words)] == 's'))
            found = i - 1;
    if (found == SIZE_MAX || depth >= COPIES_MOST) {
        refuse(run, HK_NAME_UNKNOWN, "there is no piece of that name above",
               "name it as its heading does, or write the rows");
        return;
    }
    size_t entry = run->entry, line = run->line, piece = run->piece;
    piece_work(run, found, depth + 1);
    /* The copied rows have rows of their own in the proof; this line has what they came to. */
    run->entry = entry;
    run->line = line;
    run->piece = piece;
    struct hk_proof_row *kept = row_of(run, entry);
    if (run->p->lost || !run->follow)
        return;
    kept->worked = run->known;
    kept->rows = (int64_t)run->log_count;
    kept->stitches = run->known ? hk_edge_count(hk_follow_edge_now(run->follow), false) : 0;
    kept->agrees = true;
    if (run->known)
        places_keep(run, kept);
}

static void reference_work(struct run *run, size_t depth)
{
    const struct hk_entry *entry = entry_at(run);
    const struct hk_reference *reference = &entry->reference;
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *stated = parsed->tailed ? &parsed->tail : NULL;
    struct planned_row *cycle = calloc(CYCLE_MOST, sizeof *cycle);
    size_t count = 0, setup = 0;
    char text[200];
    if (!cycle) {
        lose(run);
        return;
    }
    switch (reference->kind) {
    case HK_REF_ROWS:
        for (; count < reference->number_count; count++)
            if (!row_numbered(run, reference->numbers[count], &cycle[count])) {
                snprintf(text, sizeof text, "there is no row %" PRId64 " above", reference->numbers[count]);
                refuse(run, HK_NAME_UNKNOWN, text,
                       "a reference means the nearest row of that number above it in its piece");
                free(cycle);
                return;
            }
        break;
    case HK_REF_LAST: {
        int64_t last = hk_graded_in(reference->last, run->size);
        if (last < 1 || last > (int64_t)run->log_count || last > CYCLE_MOST) {
            snprintf(text, sizeof text, "there are %zu rows above it in its piece, and not %" PRId64, run->log_count,
                     last);
            refuse(run, HK_RANGE, text, "check the number");
            free(cycle);
            return;
        }
        for (; count < (size_t)last; count++) {
            const struct worked_row *row = &run->log[run->log_count - (size_t)last + count];
            cycle[count] = (struct planned_row){row->row, row->held, true};
        }
        break;
    }
    case HK_REF_EVEN:
        count = even_rows(run, cycle);
        if (count == 0) {
            refuse(run, HK_ROW_SYNTAX, "which rows go on cannot be told from the rows above",
                   "write \"Rep row 4 for 10 rows\", or \"Work 10 rows in sc\"");
            free(cycle);
            return;
        }
        break;
    case HK_REF_WORDS:
        if (planned_words(run, strcmp(reference->words, "k") == 0 ? "k to end" : "p to end", &cycle[0]))
            count = 1;
        break;
    case HK_REF_PATTERN:
        count = pattern_rows(run, reference->words, cycle, &setup);
        if (count == 0) {
            snprintf(text, sizeof text, "there is no stitch pattern \"%.80s\"", reference->words);
            refuse(run, HK_NAME_UNKNOWN, text, "write its rows under its name before the pieces, or into fabrics.csv");
            free(cycle);
            return;
        }
        break;
    case HK_REF_EDGE:
        count = edge_rows(run, reference, cycle);
        if (count == 0) {
            refuse(run, HK_ROW_SYNTAX, "how these rows go on cannot be told from the rows above",
                   "write each of them: \"Next row: Bind off 3 sts, k to end\"");
            free(cycle);
            return;
        }
        break;
    case HK_REF_SHAPE:
        shape(run, reference);
        free(cycle);
        return;
    case HK_REF_AS:
        free(cycle);
        reference_as(run, reference, depth);
        return;
    }
    int64_t total = count > 0 ? rows_total(run, reference, count - setup) : -1;
    if (total >= 0 && setup > 0) {
        int64_t first = total < (int64_t)setup ? total : (int64_t)setup;
        work_cycle(run, cycle, setup, first, total == first ? stated : NULL);
        total -= first;
    }
    if (total > 0 || (total == 0 && setup == 0))
        work_cycle(run, cycle + setup, count - setup, total, stated);
    if (total >= 0 && reference->kind != HK_REF_WORDS && reference->kind != HK_REF_EDGE)
        run->cycle = count - setup;
    else
        run->cycle = 0;
    free(cycle);
}

/* The edge that "[take as 84 hdc, 6 ch]" leaves, and what it works. */
static void taken_work(struct run *run, int64_t rows)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = row_of(run, run->entry);
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, parsed->taken.step_count, sizeof *list);
    struct hk_proof_work work = {.stitches = list, .rows = rows, .cut_held = run->held};
    int64_t stitches = 0, most = -1;
    size_t kind = NO_STITCH;
    if (!list) {
        lose(run);
        return;
    }
    for (size_t i = 0; i < parsed->taken.step_count; i++) {
        const struct hk_step *step = &parsed->taken.steps[i];
        size_t stitch = step->kind == HK_STEP_STITCH ? step->stitch : run->p->chain;
        int64_t many = hk_graded_in(step->many, run->size), places = hk_graded_in(step->where.count, run->size);
        many *= step->kind == HK_STEP_STITCH && places > 1 ? places : 1; /* "84 hdc" */
        if (many <= 0)
            continue;
        stitches_add(list, &work.stitch_count, run->held, stitch, many);
        if (step->kind != HK_STEP_STITCH || stitch == run->p->slip)
            continue;
        stitches += many * run->w->words.catalogue->stitches[stitch].leaves;
        if (many > most) {
            most = many;
            kind = stitch;
        }
    }
    const struct hk_row *row = parsed->good ? &parsed->row : parsed->tailed ? &parsed->tail : NULL;
    int64_t said = row ? stated_stitches(run, row) : -1;
    work.leaves = said >= 0 ? said : stitches;
    work_keep(run, &work);
    if (work.leaves > (int64_t)HK_SPOTS_MOST) {
        say(run, HK_COUNT_TOO_LARGE, entry_at(run)->place, "it leaves more stitches than can be followed",
            "is the number a slip?");
        not_followed(run);
        return;
    }
    if (!hk_follow_edge(run->follow, work.leaves, kind == NO_STITCH ? HK_SPOT_ANY : kind))
        lose(run);
    for (int64_t i = 0; i < rows; i++)
        turn_side(run);
    run->number += rows;
    kept->worked = true;
    kept->agrees = true;
    kept->rows = rows;
    kept->stitches = work.leaves;
    run->from_stated = false;
    run->cycle = 0;
    places_keep(run, kept);
}

/* "On an edge of 20 dc": of that kind, in the pattern's terms. */
static bool edge_begin(struct run *run, const struct hk_begin *begin, int64_t count)
{
    const struct hk_words *words = &run->w->words.catalogue->words[run->w->words.terms];
    size_t stitch = begin->stitch ? NO_STITCH : HK_SPOT_ANY;
    for (size_t i = 0; i < words->count && stitch == NO_STITCH; i++)
        if (hk_text_same(words->words[i].text, begin->stitch))
            stitch = words->words[i].stitch;
    if (stitch == NO_STITCH) {
        char text[120];
        snprintf(text, sizeof text, "\"%.60s\" is no stitch", begin->stitch);
        say(run, HK_NAME_UNKNOWN, entry_at(run)->place, text,
            "write \"On an edge of 20 sts:\", or the kind of stitch: \"On an edge of 20 dc:\"");
        not_followed(run);
        run->unknown_said = true;
        return true;
    }
    return hk_follow_edge(run->follow, count, stitch);
}

/* Numbers go no further: rows of a list that lie behind the last one worked are none. */
static void lists_end(struct run *run)
{
    for (size_t i = 0; i < run->filler_count; i++) {
        const struct hk_entry *entry = &run->w->entries[run->fillers[i].entry];
        int64_t last = entry->list_count > 0 ? entry->list[entry->list_count - 1] : 0;
        if (run->fillers[i].ended)
            continue;
        run->fillers[i].ended = true;
        if (last <= run->number)
            continue;
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" has a row %" PRId64 ", but the last row of its part is row %" PRId64,
                 entry->label, last, run->number);
        hk_proof_remark(run->p, run->fillers[i].entry, run->size, HK_ROW_SYNTAX, entry->place, text,
                        "write the rows of the list that come last as rows of their own");
    }
}

static void begin_work(struct run *run)
{
    const struct hk_entry *entry = entry_at(run);
    const struct hk_begin *begin = &entry->begin;
    int64_t count = hk_graded_in(begin->count, run->size);
    bool good = true;
    lists_end(run);
    hk_follow_free(run->follow);
    run->follow = hk_follow_new(run->w->words.catalogue, &run->conventions, run->size, run->p->effort);
    if (!run->follow) {
        run->known = false;
        lose(run);
        return;
    }
    run->log_count = run->part_log = run->filler_count = run->cycle = 0;
    run->number = 0;
    run->counted = run->known = true;
    run->from_stated = run->unknown_said = false;
    run->round = begin->joined;
    run->side = HK_SIDE_OPEN;
    if (entry->problem.text) {
        say(run, entry->problem.code, entry->problem.place, entry->problem.text, entry->problem.hint);
        if (entry->problem.code == HK_GRADE_COUNT) {
            not_followed(run);
            return;
        }
    }
    if (count > (int64_t)HK_SPOTS_MOST) {
        say(run, HK_COUNT_TOO_LARGE, entry->place, "work begins on more stitches than can be followed",
            "is the number a slip?");
        not_followed(run);
        return;
    }
    switch (begin->kind) {
    case HK_BEGIN_CHAIN:
        foundation_keep(run, run->p->chain, count, begin->joined);
        good = hk_follow_chain(run->follow, count, begin->joined);
        break;
    case HK_BEGIN_CAST_ON:
        foundation_keep(run, run->p->cast_on, count, 0);
        good = hk_follow_edge(run->follow, count, run->p->cast_on);
        break;
    case HK_BEGIN_PICK_UP:
        foundation_keep(run, run->p->knit, count, 0);
        good = hk_follow_edge(run->follow, count, run->p->knit);
        break;
    case HK_BEGIN_RING:
        foundation_keep(run, run->p->chain, count, count > 0);
        good = hk_follow_ring(run->follow);
        break;
    case HK_BEGIN_EDGE:
        good = edge_begin(run, begin, count);
        break;
    case HK_BEGIN_HELD:
        say(run, HK_ASSUMED, entry->place, "the stitches that were held are taken as they are stated", NULL);
        good = hk_follow_edge(run->follow, count, HK_SPOT_ANY);
        break;
    case HK_BEGIN_NOTHING:
        good = hk_follow_edge(run->follow, 0, HK_SPOT_ANY);
        break;
    case HK_BEGIN_JOIN:
        say(run, HK_START, entry->place, "how many stitches this is worked on is not known",
            "write \"On an edge of 40 sts:\" before it, with the stitches of every size");
        run->unknown_said = true;
        not_followed(run);
        break;
    }
    if (!good)
        lose(run);
}

/* Whether a label names rounds, or rows; HK_SIDE has nothing to do with it. 0: neither. */
static int label_manner(const char *label)
{
    static const char *const rounds[] = {"rnd", "rnds", "round", "rounds", "rd", "rds"}, *const rows[] = {"row", "rows",
                                                                                                          "rw"};
    for (const char *c = label; *c; c++) {
        if (c > label && hk_is_letter(c[-1]))
            continue;
        for (size_t i = 0; i < sizeof rounds / sizeof rounds[0]; i++)
            if (hk_text_starts(c, rounds[i]) && !hk_is_letter(c[strlen(rounds[i])]))
                return 1;
        for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
            if (hk_text_starts(c, rows[i]) && !hk_is_letter(c[strlen(rows[i])]))
                return -1;
    }
    return 0;
}

static void side_check(struct run *run)
{
    const struct hk_entry *entry = entry_at(run);
    if (entry->side == HK_SIDE_OPEN || run->round)
        return;
    if (run->side == HK_SIDE_OPEN) {
        run->side = entry->side;
        /* What was worked before decides nothing: it was not said. */
        return;
    }
    if (run->side == entry->side)
        return;
    char text[160];
    snprintf(text, sizeof text, "\"%.60s\" falls on the %s side", entry->label,
             entry->side == HK_SIDE_RIGHT ? "wrong" : "right");
    say(run, HK_UNUSUAL, entry->place, text, "is a row too many or too few above it?");
    run->side = entry->side;
}

/* Rows that are not written but stood for, up to the number of the entry; a gap that nothing fills is a warning. */
static void gap_fill(struct run *run)
{
    const struct hk_entry *entry = entry_at(run);
    size_t here = run->entry;
    int64_t first = hk_graded_in(entry->first, run->size);
    if (!entry->numbered)
        return;
    while (run->number > 0 && run->number + 1 < first && !run->p->lost && run->known) {
        const struct filler *filler = filler_for(run, run->number + 1);
        if (!filler)
            break;
        run->entry = filler->entry;
        size_t cycle = run->cycle;
        struct hk_proof_row kept = *row_of(run, filler->entry);
        struct planned_row planned = filler->planned;
        work_cycle(run, &planned, 1, 1, NULL);
        row_of(run, filler->entry)->rows += kept.rows;
        run->cycle = cycle;
        run->entry = here;
    }
    bool restarts = first == 1 || run->number == 0;
    if (restarts)
        lists_end(run);
    if (!restarts && first != run->number + 1) {
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" comes behind row %" PRId64, entry->label, run->number);
        say(run, HK_UNUSUAL, entry->place, text, "is a row missing, or a number wrong?");
    }
    run->number = first - 1;
}

static void filler_keep(struct run *run, const struct hk_row *row)
{
    const struct hk_entry *entry = entry_at(run);
    if (!entry->others && entry->list_count == 0)
        return;
    struct filler *fillers =
        hk_arena_grow(run->p->arena, run->fillers, run->filler_count, &run->filler_capacity, sizeof *fillers);
    if (!fillers) {
        lose(run);
        return;
    }
    run->fillers = fillers;
    fillers[run->filler_count++] =
        (struct filler){{row, run->held, true}, run->entry, hk_graded_in(entry->first, run->size), entry->others, false};
}

static void entry_row(struct run *run, size_t depth)
{
    const struct hk_entry *entry = entry_at(run);
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = row_of(run, run->entry);
    int64_t rows = hk_entry_rows(entry, run->size);
    bool limited = entry->sizes && !entry->sizes[run->size];
    if (limited || (rows == 0 && (entry->kind != HK_ENTRY_REFERENCE || entry->numbered || entry->rows_given)))
        return;
    *kept = (struct hk_proof_row){.there = true, .rows = rows, .agrees = true};
    int manner = label_manner(entry->label);
    if (manner != 0)
        run->round = manner > 0;
    if (!run->known) {
        if (!run->unknown_said && run->follow == NULL)
            say(run, HK_START, entry->place, "work begins nowhere",
                "write how it begins before it: \"ch 72\", \"cast on 84 sts\", \"On an edge of 20 sts:\"");
        run->unknown_said = true;
        run->p->proof->incomplete[run->size] = true;
        if (parsed->problem.text)
            say(run, parsed->problem.code, parsed->problem.place, parsed->problem.text, parsed->problem.hint);
        return;
    }
    gap_fill(run);
    side_check(run);
    if (parsed->taken_good) {
        taken_work(run, rows);
        return;
    }
    if (!parsed->good) {
        say(run, parsed->problem.code, parsed->problem.place, parsed->problem.text, parsed->problem.hint);
        go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
        run->number += entry->numbered ? 0 : rows;
        for (int64_t i = 0; i < rows; i++)
            turn_side(run);
        return;
    }
    if (entry->kind == HK_ENTRY_REFERENCE) {
        reference_work(run, depth);
        return;
    }
    struct planned_row planned = {&parsed->row, run->held, rows > 1};
    work_cycle(run, &planned, 1, rows, &parsed->row);
    run->cycle = 0;
    filler_keep(run, &parsed->row);
}

/* Whatever became of its rows, the next one follows on its number. */
static void number_take(struct run *run)
{
    const struct hk_entry *entry = entry_at(run);
    bool row = entry->kind == HK_ENTRY_ROW || entry->kind == HK_ENTRY_REFERENCE || entry->kind == HK_ENTRY_REFUSED;
    if (row && entry->numbered && hk_entry_rows(entry, run->size) > 0)
        run->number = hk_graded_in(entry->last, run->size);
}

static void entry_work(struct run *run, size_t depth)
{
    const struct hk_entry *entry = entry_at(run);
    run->held = entry->held;
    run->conventions.settled = entry->conventions.settled;
    run->conventions.other =
        (entry->conventions.other & entry->conventions.settled) | (run->p->other & ~entry->conventions.settled);
    switch (entry->kind) {
    case HK_ENTRY_BEGIN:
        begin_work(run);
        return;
    case HK_ENTRY_CUT:
        if (entry->cut_m > 0 && (!entry->sizes || entry->sizes[run->size]))
            work_keep(run, &(struct hk_proof_work){.cut_m = entry->cut_m, .cut_held = run->held});
        return;
    case HK_ENTRY_ROW:
    case HK_ENTRY_REFERENCE:
    case HK_ENTRY_REFUSED:
        entry_row(run, depth);
        number_take(run);
        return;
    }
}

static void left_say(struct run *run, size_t piece)
{
    int64_t left = run->follow && run->known ? hk_follow_left(run->follow) : 0;
    if (left == 0 || run->w->pieces[piece].count == 0)
        return;
    char text[160];
    snprintf(text, sizeof text, "\"%.60s\" leaves %" PRId64 " place%s unworked", run->w->pieces[piece].name, left,
             left == 1 ? "" : "s");
    hk_proof_remark(run->p, run->w->parts[run->w->pieces[piece].first].first, run->size, HK_ASSUMED,
                    run->w->pieces[piece].place, text, NULL);
}

static void piece_work(struct run *run, size_t piece, size_t depth)
{
    const struct hk_written_piece *of = &run->w->pieces[piece];
    bool copy = depth > 0;
    size_t line = run->line, entry = run->entry;
    if (!copy) {
        hk_follow_free(run->follow);
        run->follow = NULL;
        run->known = run->unknown_said = false;
        run->log_count = run->part_log = run->filler_count = 0;
        run->number = 0;
        run->round = false;
        run->side = HK_SIDE_OPEN;
        run->piece = piece;
    }
    for (size_t q = 0; q < of->count; q++) {
        const struct hk_written_part *part = &run->w->parts[of->first + q];
        run->part_log = run->log_count;
        for (size_t e = 0; e < part->count && !run->p->lost && !run->p->spent; e++) {
            run->entry = part->first + e;
            run->line = copy ? line : run->w->entries[run->entry].line;
            entry_work(run, depth);
        }
    }
    run->entry = entry;
    if (!copy) {
        lists_end(run);
        left_say(run, piece);
    }
}

void hk_proof_size(struct hk_proofing *p, size_t size)
{
    struct run run = {.p = p, .w = p->written, .size = size};
    for (size_t piece = 0; piece < p->written->piece_count && !p->lost && !p->spent; piece++)
        if (hk_graded_in(p->written->pieces[piece].times, size) > 0)
            piece_work(&run, piece, 0);
    hk_follow_free(run.follow);
    hk_edge_free(&run.before);
}
