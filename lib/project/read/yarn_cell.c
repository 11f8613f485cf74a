/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 *     cell    = stripe { ("," | ";") stripe }          several stripes: each says its rows
 *     stripe  = strand { "+" strand } [rows]
 *     strand  = name ["x" times]
 *
 * Names may have blanks and digits ("contrast 2"), and those of yarns commas too, so the longest text that is a name is
 * taken as one: the whole cell, the whole stripe, the whole strand, before a number is split off its end.
 */
#include "project/read/yarn_cell.h"

#include "project/read/yarns.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

/* Bounds far beyond any design, as in reading.h: of strands held together, stripes of a cell, combinations of a project. */
#define STRANDS_MOST ((size_t)16)
#define TIMES_MOST ((int64_t)1000)
#define STRIPES_MOST ((size_t)1000)
#define COMBINATIONS_MOST ((size_t)500)

struct parser {
    struct hk_reading *reading;
    struct hk_cell cell;
    const char *text;     /* of the cell, made plain */
    const size_t *origin; /* where its bytes stand in the cell */
    bool yarns_too;
};

/* A part of the text, without outer blanks. */
struct span {
    size_t from, to;
};

static struct span span_trim(const struct parser *parser, struct span span)
{
    while (span.from < span.to && parser->text[span.from] == ' ')
        span.from++;
    while (span.to > span.from && parser->text[span.to - 1] == ' ')
        span.to--;
    return span;
}

/* Up to the first of the marks, or to the end. */
static struct span span_until(const struct parser *parser, struct span span, const char *marks)
{
    size_t to = span.from;
    while (to < span.to && !strchr(marks, parser->text[to]))
        to++;
    return (struct span){span.from, to};
}

static const char *span_text(const struct parser *parser, struct span span)
{
    const char *text = hk_arena_text(&parser->reading->project->arena, parser->text + span.from, span.to - span.from);
    return text ? text : "";
}

static struct hk_place span_place(const struct parser *parser, struct span span)
{
    return hk_cell_place(parser->cell, parser->origin[span.from]);
}

/* ---- Names --------------------------------------------------------------------------------------------------- */

static const char *name_at(const void *context, size_t i)
{
    const struct hk_project *project = context;
    return i < project->role_count ? project->roles[i].name : project->yarns[i - project->role_count].name;
}

/* Roles, then yarns if they may stand here. */
static struct hk_names names(const struct parser *parser)
{
    const struct hk_project *project = parser->reading->project;
    return (struct hk_names){project->role_count + (parser->yarns_too ? project->yarn_count : 0), name_at, project};
}

static size_t find(const struct parser *parser, struct span span)
{
    const struct hk_reading *reading = parser->reading;
    const char *name = span_text(parser, span);
    size_t role = hk_index_find(&reading->roles, name);
    size_t yarn = role == SIZE_MAX && parser->yarns_too ? hk_index_find(&reading->yarns, name) : SIZE_MAX;
    return yarn == SIZE_MAX ? role : reading->project->role_count + yarn;
}

/* ---- Numbers at the end -------------------------------------------------------------------------------------- */

/* Splits the digits off the end of the span: false where there are none, nothing before them, or too many. */
static bool split_number(const struct parser *parser, struct span *span, int64_t *number)
{
    size_t at = span->to;
    int64_t value = 0, place = 1;
    for (; at > span->from && parser->text[at - 1] >= '0' && parser->text[at - 1] <= '9'; at--) {
        if (place > HK_COUNT_MOST)
            return false;
        value += place * (parser->text[at - 1] - '0');
        place *= 10;
    }
    if (at == span->to || at == span->from)
        return false;
    *number = value;
    span->to = at;
    return true;
}

/* The rows of a stripe: a number that stands alone at the end and is no "x 2". */
static bool split_rows(const struct parser *parser, struct span *span, int64_t *rows)
{
    struct span rest = *span;
    int64_t number;
    if (!split_number(parser, &rest, &number) || parser->text[rest.to - 1] != ' ')
        return false;
    rest = span_trim(parser, rest);
    size_t length = rest.to - rest.from;
    bool times = length >= 2 && (parser->text[rest.to - 1] == 'x' || parser->text[rest.to - 1] == 'X') &&
                 parser->text[rest.to - 2] == ' ';
    if (times)
        return false;
    *rows = number;
    *span = rest;
    return true;
}

/* `x2` at the end of a strand, a blank before it. */
static bool split_times(const struct parser *parser, struct span *span, int64_t *times)
{
    struct span rest = *span;
    int64_t number;
    if (!split_number(parser, &rest, &number))
        return false;
    rest = span_trim(parser, rest);
    char mark = rest.to > rest.from ? parser->text[rest.to - 1] : '\0';
    if ((mark != 'x' && mark != 'X') || rest.to - rest.from < 3 || parser->text[rest.to - 2] != ' ')
        return false;
    rest.to--;
    *times = number;
    *span = span_trim(parser, rest);
    return true;
}

/* ---- Combinations -------------------------------------------------------------------------------------------- */

static bool strands_same(const struct hk_combination *a, const struct hk_combination *b)
{
    bool same = a->strand_count == b->strand_count;
    for (size_t i = 0; same && i < a->strand_count; i++) {
        const struct hk_strand *s = &a->strands[i], *t = &b->strands[i];
        same = s->role == t->role && s->yarn == t->yarn && s->times == t->times;
    }
    return same;
}

/* The number of strands of a yarn in a combination, in all roles. */
static int64_t yarn_times(const struct hk_combination *combination, size_t yarn)
{
    int64_t times = 0;
    for (size_t i = 0; i < combination->strand_count; i++)
        times += combination->strands[i].yarn == yarn ? combination->strands[i].times : 0;
    return times;
}

static bool yarns_within(const struct hk_combination *a, const struct hk_combination *b)
{
    for (size_t i = 0; i < a->strand_count; i++) {
        if (yarn_times(a, a->strands[i].yarn) != yarn_times(b, a->strands[i].yarn))
            return false;
    }
    return true;
}

/* Whether both hold the same yarns as often, in any roles. */
static bool yarns_same(const struct hk_combination *a, const struct hk_combination *b)
{
    return yarns_within(a, b) && yarns_within(b, a);
}

/* d_c = sqrt(sum of times * d^2) (DEVELOPERS.md, The model). */
static double diameter_mm(const struct hk_project *project, const struct hk_combination *combination)
{
    double sum = 0;
    for (size_t i = 0; i < combination->strand_count; i++) {
        double d = project->yarns[combination->strands[i].yarn].diameter_mm;
        sum += (double)combination->strands[i].times * d * d;
    }
    return sqrt(sum);
}

static size_t combination_find(const struct hk_project *project, const struct hk_combination *combination)
{
    for (size_t i = 0; i < project->combination_count; i++) {
        if (strands_same(&project->combinations[i], combination))
            return i;
    }
    return SIZE_MAX;
}

/* The blend of a combination of the same yarns, else a new one. */
static size_t blend_find(const struct hk_project *project, const struct hk_combination *combination)
{
    for (size_t i = 0; i < project->combination_count; i++) {
        if (yarns_same(&project->combinations[i], combination))
            return project->combinations[i].blend;
    }
    return project->blend_count;
}

static bool too_many(const struct parser *parser, struct span span, size_t most, const char *what)
{
    hk_diags_add(parser->reading->diags, HK_CODE_RANGE, span_place(parser, span), "more than %zu %s", most, what);
    hk_diags_hint(parser->reading->diags, "that is too many to compute together: is it a slip?");
    return false;
}

/* Each combination is kept once. False where there are too many, or when memory runs out. */
static bool keep(struct hk_reading *reading, struct hk_combination combination, size_t *found)
{
    struct hk_project *project = reading->project;
    size_t known = combination_find(project, &combination);
    if (known != SIZE_MAX) {
        *found = known;
        return true;
    }
    if (project->combination_count == COMBINATIONS_MOST)
        return false;
    struct hk_combination *grown = hk_arena_grow(&project->arena, project->combinations, project->combination_count,
                                                 &reading->combination_capacity, sizeof *grown);
    if (!grown)
        return false;
    combination.blend = blend_find(project, &combination);
    combination.diameter_mm = diameter_mm(project, &combination);
    project->blend_count += combination.blend == project->blend_count;
    project->combinations = grown;
    *found = project->combination_count++;
    grown[*found] = combination;
    return true;
}

/* As keep; false with a finding or when memory runs out. */
static bool combination_keep(const struct parser *parser, struct span span, struct hk_combination combination,
                             size_t *found)
{
    if (keep(parser->reading, combination, found))
        return true;
    return parser->reading->project->combination_count == COMBINATIONS_MOST &&
           too_many(parser, span, COMBINATIONS_MOST, "yarns and sets of yarns held together");
}

bool hk_combination_of(struct hk_reading *reading, const struct hk_strand *strands, size_t count, size_t *combination)
{
    struct hk_strand *copy = hk_arena_take(&reading->project->arena, count, sizeof *copy);
    if (!copy)
        return false;
    memcpy(copy, strands, count * sizeof *copy);
    return keep(reading, (struct hk_combination){.strands = copy, .strand_count = count}, combination);
}

/* ---- Grammar ------------------------------------------------------------------------------------------------- */

static bool number_fits(const struct parser *parser, struct span span, int64_t number, int64_t most, const char *what)
{
    if (number > 0 && number <= most)
        return true;
    hk_diags_add(parser->reading->diags, HK_CODE_RANGE, span_place(parser, span), "\"%s\" has %" PRId64 " %s",
                 span_text(parser, span), number, what);
    if (number > most)
        hk_diags_hint(parser->reading->diags, "at most %" PRId64 " are allowed", most);
    else
        hk_diags_hint(parser->reading->diags, "write at least 1, or leave it out");
    return false;
}

static bool strand_of(const struct parser *parser, struct span span, struct hk_strand *strand)
{
    const struct hk_project *project = parser->reading->project;
    struct span name = span;
    strand->times = 1;
    size_t found = find(parser, name);
    if (found == SIZE_MAX && split_times(parser, &name, &strand->times)) {
        if (!number_fits(parser, span, strand->times, TIMES_MOST, "strands"))
            return false;
        found = find(parser, name);
    }
    if (found == SIZE_MAX) {
        if (parser->reading->knows_yarns)
            hk_reading_unknown(parser->reading, parser->cell, parser->origin[name.from],
                               parser->yarns_too ? "role or yarn" : "role", span_text(parser, name), " in yarns.csv",
                               names(parser));
        return false;
    }
    strand->role = found < project->role_count ? found : SIZE_MAX;
    strand->yarn = found - project->role_count;
    if (found < project->role_count) {
        size_t plan = project->roles[found].plan;
        if (plan == SIZE_MAX)
            return false; /* the mistake in its row is reported */
        strand->yarn = project->candidates[plan].yarn;
    }
    return true;
}

/* Keeps strands in order of role and yarn, `main + main` as `main x2`, so that equal combinations look equal. */
static void strand_insert(struct hk_combination *combination, struct hk_strand strand)
{
    size_t at = 0;
    while (at < combination->strand_count &&
           (combination->strands[at].role < strand.role ||
            (combination->strands[at].role == strand.role && combination->strands[at].yarn < strand.yarn)))
        at++;
    struct hk_strand *here = &combination->strands[at];
    if (at < combination->strand_count && here->role == strand.role && here->yarn == strand.yarn) {
        here->times += strand.times;
        return;
    }
    memmove(here + 1, here, (combination->strand_count - at) * sizeof *here);
    *here = strand;
    combination->strand_count++;
}

static size_t marks_count(const struct parser *parser, struct span span, const char *marks)
{
    size_t count = 0;
    for (size_t i = span.from; i < span.to; i++)
        count += strchr(marks, parser->text[i]) != NULL;
    return count;
}

static bool name_missing(const struct parser *parser, struct span span)
{
    hk_diags_add(parser->reading->diags, HK_CODE_CELL_MISSING, span_place(parser, span), "a role is missing in \"%s\"",
                 parser->text);
    hk_diags_hint(parser->reading->diags, "write it as main, main + lace or main 4, contrast 2");
    return false;
}

static bool strands_of(const struct parser *parser, struct span span, struct hk_combination *combination)
{
    size_t most = marks_count(parser, span, "+") + 1;
    if (most > STRANDS_MOST)
        return too_many(parser, span, STRANDS_MOST, "strands are held together");
    combination->strands = hk_arena_take(&parser->reading->project->arena, most, sizeof *combination->strands);
    if (!combination->strands)
        return false;
    bool good = true;
    for (size_t from = span.from; from <= span.to;) {
        struct span part = span_until(parser, (struct span){from, span.to}, "+");
        struct hk_strand strand;
        from = part.to + 1;
        part = span_trim(parser, part);
        if (part.from == part.to)
            good = name_missing(parser, part);
        else if (strand_of(parser, part, &strand))
            strand_insert(combination, strand);
        else
            good = false;
    }
    return good;
}

/* The text behind the last "+". If it is the name of a role, a number at its end belongs to the name. */
static struct span last_strand(const struct parser *parser, struct span span)
{
    for (size_t at = span.to; at > span.from; at--) {
        if (parser->text[at - 1] == '+')
            return span_trim(parser, (struct span){at, span.to});
    }
    return span;
}

static bool stripe_of(const struct parser *parser, struct span span, bool alone, struct hk_stripe *stripe)
{
    struct hk_combination combination = {0};
    struct span strands = span;
    stripe->rows = HK_COUNT_MOST;
    if (span.from == span.to)
        return name_missing(parser, span);
    bool counted = find(parser, last_strand(parser, span)) == SIZE_MAX && split_rows(parser, &strands, &stripe->rows);
    if (counted && !number_fits(parser, span, stripe->rows, HK_COUNT_MOST, "rows"))
        return false;
    if (!strands_of(parser, strands, &combination))
        return false;
    if (!counted && !alone) {
        hk_diags_add(parser->reading->diags, HK_CODE_NUMBER, span_place(parser, span),
                     "the stripe \"%s\" does not say its rows", span_text(parser, span));
        hk_diags_hint(parser->reading->diags, "write stripes as main 4, contrast 2");
        return false;
    }
    return combination_keep(parser, span, combination, &stripe->combination);
}

bool hk_yarn_cell(struct hk_reading *reading, struct hk_cell cell, bool yarns_too, struct hk_stripes *stripes)
{
    static const char marks[] = ",;";
    struct hk_arena *arena = &reading->project->arena;
    struct parser parser = {.reading = reading, .cell = cell, .yarns_too = yarns_too};
    size_t *origin;
    if (hk_cell_empty(cell))
        return false;
    parser.text = hk_text_plain(arena, cell.text, &origin);
    if (!parser.text)
        return false;
    parser.origin = origin;
    struct span whole = {0, strlen(parser.text)};
    bool is_name = find(&parser, whole) != SIZE_MAX;
    size_t count = is_name ? 1 : marks_count(&parser, whole, marks) + 1;
    struct hk_stripes read = {
        .count = count, .cell = cell, .stripes = hk_arena_take(arena, count, sizeof *read.stripes)};
    if (count > STRIPES_MOST)
        return too_many(&parser, whole, STRIPES_MOST, "stripes");
    if (!read.stripes)
        return false;
    bool good = true;
    for (size_t i = 0, from = 0; i < count; i++) {
        struct span part = is_name ? whole : span_until(&parser, (struct span){from, whole.to}, marks);
        from = part.to + 1;
        good &= stripe_of(&parser, span_trim(&parser, part), count == 1, &read.stripes[i]);
        if (!good && reading->project->combination_count == COMBINATIONS_MOST)
            return false; /* reported once for each cell */
    }
    if (good)
        *stripes = read;
    return good;
}
