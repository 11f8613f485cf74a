/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the yarn in hand is enough for. A size is judged by its prediction. A number of copies or rows is found by
 * changing it in a copy of the project, counting and predicting that, as `need` does, and searching for the largest
 * number that is enough.
 */
#include "base/diags.h"
#include "base/text.h"
#include "model/chance.h"
#include "need/have.h"
#include "project/names.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A piece worked so often is a motif: how many of them is a question. */
#define MOTIFS_LEAST 3
/* A line with so much of the yarn of a size is the body of a shawl or a scarf. */
#define MAIN_SHARE 0.5
/* Some numbers of rows cannot be worked: this is how many of the next ones are tried. */
#define NEXT_MOST 8
/* The limit of lines and rows in all sizes, which each try counts again; and of the numbers found without --vary. */
#define LINES_AND_ROWS_MOST 60000
#define COUNTS_MOST 8

struct finding_from {
    struct hk_from face;
    struct hk_arena arena;
};

struct search {
    struct finding_from *from;
    const struct hk_needed *needed;
    const struct hk_project *project;
    struct hk_diags *diags;
    struct hk_arena *arena;
    size_t size;
    enum hk_from_kind kind;
    size_t line; /* ROWS: the line; COPIES: the first line of the piece */
};

/* ---- A design ------------------------------------------------------------------------------------------------------
 */

/* Judges one size of a prediction by what is in hand. Returns false when out of memory. */
static bool judge(const struct hk_needed *needed, size_t size, struct hk_arena *arena, struct hk_from_design *design)
{
    const struct hk_need *need = &needed->face;
    const struct hk_project *project = needed->fit->tally->project;
    struct hk_from_role *roles = hk_arena_take(arena, need->role_count, sizeof *roles);
    double *limits = hk_arena_take(arena, need->role_count, sizeof *limits);
    size_t *at = hk_arena_take(arena, need->role_count, sizeof *at), known = 0;
    *design = (struct hk_from_design){.chance = 1, .enough = true, .roles = roles};
    for (size_t i = 0; roles && limits && at && i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        struct hk_walk walk;
        double have_g;
        if (role->size != size)
            continue;
        struct hk_from_role *out = &roles[design->role_count];
        *out = (struct hk_from_role){role->role_name, role->yarn, role->colour, NAN, role->mass_g.likely, NAN};
        design->role_count++;
        if (!hk_have_start_g(project, role->role, &have_g))
            continue;
        const struct hk_have have = hk_have_of(have_g, role->put_up_g);
        bool walked = need->margin < 0 && hk_walk_rows(needed, size, size, 1, role->role, &walk, arena);
        const struct hk_taking taking = {role->mass_g.likely, role->spread_mass, role->join_g, walked ? &walk : NULL};
        out->have_g = have_g;
        if (!hk_have_chance(have, &taking, &out->chance))
            return false;
        design->enough &= need->margin >= 0 ? hk_have_usable_g(have, role->join_g) >= role->mass_g.enough
                                            : out->chance >= need->chance;
        if (known == 0 || out->chance < roles[design->first_out].chance)
            design->first_out = design->role_count - 1;
        at[known] = i;
        limits[known++] = role->spread_mass * hk_normal_limit(out->chance);
    }
    double *covariance = hk_arena_take(arena, known * known, sizeof *covariance);
    if (arena->out_of_memory)
        return false;
    for (size_t i = 0; i < known; i++)
        for (size_t k = 0; k < known; k++)
            covariance[i * known + k] = need->covariance[at[i] * need->role_count + at[k]];
    return known == 0 || hk_joint_chance(known, limits, covariance, &design->chance);
}

/* ---- Another number ------------------------------------------------------------------------------------------------
 */

static bool is_changed(const struct search *s, size_t line)
{
    const struct hk_line *of = &s->project->lines[line], *first = &s->project->lines[s->line];
    return s->kind == HK_FROM_ROWS ? line == s->line
                                   : hk_text_same(of->piece, first->piece) && !hk_line_without(of, s->size);
}

/* Sets the value of one size. Returns false when out of memory. */
static bool change(const struct search *s, struct hk_graded *graded, int64_t count, struct hk_arena *arena)
{
    struct hk_amount *values = hk_arena_take(arena, s->project->size_count, sizeof *values);
    if (!values)
        return false;
    for (size_t i = 0; i < s->project->size_count; i++)
        values[i] = graded->given ? graded->by_size[i] : (struct hk_amount){.kind = HK_AMOUNT_COUNT, .count = 1};
    values[s->size] = (struct hk_amount){.kind = HK_AMOUNT_COUNT, .count = count};
    graded->given = true;
    graded->by_size = values;
    return true;
}

/*
 * Judges the design with this number. *counted: it can be worked; else the design is not set. Returns false when out of
 * memory.
 */
static bool try(struct search *s, int64_t number, bool *counted, struct hk_from_design *design)
{
    struct hk_project project = *s->project;
    struct hk_arena scratch = {0};
    struct hk_diags diags = {0};
    struct hk_need_options options = hk_need_defaults();
    options.size = s->size;
    options.chance = s->needed->face.margin < 0 ? s->needed->face.chance : 0;
    struct hk_line *lines = hk_arena_take(&scratch, project.line_count, sizeof *lines);
    bool good = lines;
    for (size_t i = 0; good && i < project.line_count; i++) {
        lines[i] = s->project->lines[i];
        if (is_changed(s, i))
            good = change(s, s->kind == HK_FROM_ROWS ? &lines[i].rows : &lines[i].times, number, &scratch);
    }
    project.lines = lines;
    /* a weighing that is right, as its row says, counts here too */
    good = good && hk_diags_accept_as(&diags, s->diags);
    struct hk_tally *tally = good ? hk_tally_count(&project, &diags) : NULL;
    struct hk_fit *fit = tally ? hk_fit_make(tally, &diags) : NULL;
    struct hk_need *need = fit ? hk_need_predict(fit, options, &diags) : NULL;
    *counted = need;
    good = good && !diags.out_of_memory;
    if (need && good)
        good = judge((const struct hk_needed *)need, s->size, s->arena, design);
    hk_need_free(need);
    hk_fit_free(fit);
    hk_tally_free(tally);
    hk_diags_free(&diags);
    hk_arena_free(&scratch);
    return good;
}

/* Judges the first number from this one on that can be worked. *number: that number; *enough false where there is none.
 */
static bool try_from(struct search *s, int64_t *number, struct hk_from_design *design, bool *enough)
{
    bool counted = false;
    *enough = false;
    for (int64_t last = *number + NEXT_MOST; !counted && *number <= last; *number += counted ? 0 : 1)
        if (!try(s, *number, &counted, design))
            return false;
    *enough = counted && design->enough;
    if (!counted)
        *design = (struct hk_from_design){0};
    return true;
}

/* Finds the largest number that is enough: doubled until it is not, then halved. */
static bool search_count(struct search *s, struct hk_from_count *found)
{
    int64_t low = 0, high = found->designed; /* low is enough, or 0; high is to be tried */
    struct hk_from_design design;
    bool enough = true;
    for (;;) {
        int64_t number = high;
        if (!try_from(s, &number, &design, &enough))
            return false;
        if (!enough)
            break;
        low = number;
        found->at = design;
        if (low >= HK_FROM_MOST) {
            found->unlimited = true;
            found->most = low;
            return true;
        }
        high = 2 * low;
    }
    found->next = design;
    while (high - low > 1) {
        int64_t middle = low + (high - low) / 2, number = middle;
        if (!try_from(s, &number, &design, &enough))
            return false;
        if (enough) {
            low = number < high ? number : middle;
            found->at = design;
        } else {
            high = middle;
            found->next = design;
        }
    }
    found->most = low;
    return true;
}

/* ---- What to vary --------------------------------------------------------------------------------------------------
 */

static int64_t times_of(const struct hk_project *project, size_t line, size_t size)
{
    const struct hk_line *of = &project->lines[line];
    return hk_line_without(of, size) ? 0 : of->times.given ? of->times.by_size[size].count : 1;
}

static int64_t rows_of(const struct hk_needed *needed, size_t line, size_t size)
{
    const struct hk_worked *worked = &needed->fit->tally->lines[size * needed->fit->tally->project->line_count + line];
    return worked->run_count > 0 ? worked->runs[worked->run_count - 1].last : 0;
}

/* Returns true when the design is small enough to be counted many times. */
static bool is_small(const struct search *s)
{
    double rows = 0;
    for (size_t i = 0; i < s->project->size_count * s->project->line_count; i++) {
        const struct hk_worked *worked = &s->needed->fit->tally->lines[i];
        rows += 10 + (worked->run_count > 0 ? (double)worked->runs[worked->run_count - 1].last : 0);
    }
    return rows <= LINES_AND_ROWS_MOST;
}

/* Returns why the number cannot be varied, or NULL. */
static const char *fixed_reason(const struct search *s)
{
    const struct hk_line *line = &s->project->lines[s->line];
    if (s->kind == HK_FROM_ROWS && line->written)
        return "its rows are those of pattern.txt";
    if (s->kind == HK_FROM_ROWS && !line->rows.given)
        return "its rows are not stated in pieces.csv";
    return is_small(s) ? NULL : "the design has too many lines and rows to be counted again for each number";
}

static bool add_count(struct search *s, struct hk_from_count *counts)
{
    const struct hk_line *line = &s->project->lines[s->line];
    struct hk_from_count *found = &counts[s->from->face.count_count];
    bool rows = s->kind == HK_FROM_ROWS;
    *found = (struct hk_from_count){
        .kind = s->kind,
        .piece = line->piece,
        .part = rows ? line->part : "",
        .size = s->size,
        .designed = rows ? rows_of(s->needed, s->line, s->size) : times_of(s->project, s->line, s->size),
        .fixed = fixed_reason(s),
    };
    if (found->designed < 1)
        return true;
    s->from->face.count_count++;
    if (found->fixed)
        return true;
    if (!search_count(s, found))
        return false;
    if (rows)
        found->length_m = hk_tally_row_height(s->needed->fit->tally, s->line, found->most);
    return true;
}

static void refuse(struct search *s, const char *message, const char *hint)
{
    hk_diags_add(s->diags, HK_CODE_NAME_UNKNOWN, (struct hk_place){"--vary", 1, 1}, "%s", message ? message : "");
    hk_diags_hint(s->diags, "%s", hint ? hint : "");
}

/* Returns true when the words name the line: its piece, or its piece and part. */
static bool is_named(const struct hk_project *project, const char *words, size_t line, struct hk_arena *arena,
                     bool *part)
{
    const struct hk_line *of = &project->lines[line];
    *part = false;
    if (hk_text_same(of->piece, words))
        return true;
    const char *both = hk_arena_print(arena, "%s %s", of->piece, of->part);
    *part = *of->part && ((both && hk_text_same(both, words)) || hk_text_same(of->part, words));
    return *part;
}

static const char *piece_name(const void *context, size_t i)
{
    return ((const struct hk_project *)context)->lines[i].piece;
}

/* Finds the line that the words name. Returns false with a finding. */
static bool find_named(struct search *s, const char *words)
{
    const struct hk_project *project = s->project;
    size_t found = 0;
    bool part, with_part = false, unnamed = false; /* the part without a name is meant by the name of its piece */
    for (size_t i = 0; i < project->line_count; i++) {
        if (!is_named(project, words, i, s->arena, &part) || times_of(project, i, s->size) == 0)
            continue;
        s->line = found == 0 || (!*project->lines[i].part && !unnamed) ? i : s->line;
        unnamed |= !*project->lines[i].part;
        with_part |= part;
        found++;
    }
    if (found == 0) {
        size_t nearest = hk_text_nearest(words, project->line_count, piece_name, project);
        refuse(s, hk_arena_print(s->arena, "there is no piece \"%s\" in size %s", words, project->sizes[s->size]),
               nearest != SIZE_MAX ? hk_arena_print(s->arena, "did you mean \"%s\"?", project->lines[nearest].piece)
                                   : "name a piece of pieces.csv, or a part after its piece");
        return false;
    }
    s->kind = times_of(project, s->line, s->size) > 1 && !with_part ? HK_FROM_COPIES : HK_FROM_ROWS;
    const struct hk_line *line = &project->lines[s->line];
    if (s->kind == HK_FROM_ROWS && found > 1 && !unnamed) {
        refuse(s, hk_arena_print(s->arena, "\"%s\" has %zu parts", words, found),
               hk_arena_print(s->arena, "name one of them after the piece: %s %s", line->piece, line->part));
        return false;
    }
    const char *reason = fixed_reason(s);
    if (reason)
        refuse(s, hk_arena_print(s->arena, "\"%s\" cannot be varied: %s", words, reason),
               s->kind == HK_FROM_ROWS ? "hankful left with --have shows the row at which the yarn ends"
                                       : "change the number in pieces.csv, and read what need answers");
    return !reason;
}

/* Varies what suits a design of one size: the copies of motifs, or the rows of the line that has most of the yarn. */
static bool vary_all(struct search *s, struct hk_from_count *counts)
{
    const struct hk_need *need = &s->needed->face;
    double all_g = 0;
    for (size_t i = 0; i < need->part_count; i++)
        all_g += need->parts[i].mass_g;
    for (size_t line = 0; line < s->project->line_count; line++) {
        double line_g = 0;
        const struct hk_line *of = &s->project->lines[line];
        for (size_t i = 0; i < need->part_count; i++)
            line_g += strcmp(need->parts[i].piece, of->piece) == 0 && strcmp(need->parts[i].part, of->part) == 0
                          ? need->parts[i].mass_g
                          : 0;
        s->line = line;
        s->kind = times_of(s->project, line, s->size) >= MOTIFS_LEAST ? HK_FROM_COPIES : HK_FROM_ROWS;
        bool first = line == 0 || !hk_text_same(of->piece, s->project->lines[line - 1].piece);
        bool rows = times_of(s->project, line, s->size) == 1 && line_g >= MAIN_SHARE * all_g;
        if ((s->kind == HK_FROM_COPIES ? first : rows) && s->from->face.count_count < COUNTS_MOST &&
            !add_count(s, counts))
            return false;
    }
    return true;
}

static bool find_counts(struct search *s, struct hk_from_options options)
{
    size_t room = options.vary ? 1 : s->project->line_count;
    struct hk_from_count *counts = hk_arena_take(s->arena, room, sizeof *counts);
    s->from->face.counts = counts;
    if (!counts)
        return false;
    if (options.vary)
        return find_named(s, options.vary) ? add_count(s, counts) : true;
    return vary_all(s, counts);
}

/* ---- The whole answer ----------------------------------------------------------------------------------------------
 */

static bool judge_sizes(struct search *s)
{
    const struct hk_needed *needed = s->needed;
    struct hk_from_size *sizes = hk_arena_take(s->arena, needed->last_size - needed->first_size + 1, sizeof *sizes);
    s->from->face.sizes = sizes;
    for (size_t size = needed->first_size; sizes && size <= needed->last_size; size++) {
        struct hk_from_size *out = &sizes[s->from->face.size_count];
        *out = (struct hk_from_size){.size = size, .size_name = s->project->sizes[size]};
        if (!judge(needed, size, s->arena, &out->design))
            return false;
        s->from->face.size_count += out->design.role_count > 0;
    }
    return sizes;
}

static bool is_stated(const struct hk_project *project, struct hk_diags *diags)
{
    double mass_g;
    for (size_t role = 0; role < project->role_count; role++)
        if (hk_have_start_g(project, role, &mass_g))
            return true;
    hk_diags_add(diags, HK_CODE_CELL_MISSING, (struct hk_place){"--have", 0, 0}, "the yarn in hand is not stated");
    hk_diags_hint(diags, "write it, such as --have \"%s%s4 balls\", or into offers.csv as of the shop own",
                  project->role_count > 1 ? project->roles[0].name : "", project->role_count > 1 ? " " : "");
    return false;
}

struct hk_from *hk_from_find(const struct hk_need *need, struct hk_from_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!is_stated(project, diags))
        return NULL;
    if (options.vary && needed->first_size != needed->last_size) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"--vary", 0, 0}, "copies and rows are varied in one size");
        hk_diags_hint(diags, "ask for a size: --size %s", project->sizes[needed->first_size]);
        return NULL;
    }
    struct finding_from *from = calloc(1, sizeof *from);
    if (!from) {
        hk_diags_set_out_of_memory(diags);
        return NULL;
    }
    from->face = (struct hk_from){.project = need->project, .chance = need->chance, .margin = need->margin};
    struct search s = {.from = from,
                       .needed = needed,
                       .project = project,
                       .diags = diags,
                       .arena = &from->arena,
                       .size = needed->first_size};
    bool good = judge_sizes(&s) && (needed->first_size != needed->last_size || find_counts(&s, options));
    if (!good || from->arena.out_of_memory)
        hk_diags_set_out_of_memory(diags);
    if (!diags->out_of_memory && diags->errors == errors)
        return &from->face;
    hk_from_free(&from->face);
    return NULL;
}

void hk_from_free(struct hk_from *from)
{
    struct finding_from *whole = (struct finding_from *)from;
    if (!whole)
        return;
    hk_arena_free(&whole->arena);
    free(whole);
}
