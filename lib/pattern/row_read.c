/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A recursive descent parser over the tokens of a row. A mistake ends its item only; parsing continues after the next
 * separator, and no row is returned.
 */
#include "pattern/row_parser.h"

#include "base/text.h"
#include "input/span.h"
#include "input/quantity.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define STS "st|sts|stitch|stitches"
#define SPS "sp|sps|space|spaces"

#define NO_STAR SIZE_MAX
#define TWO_STARS '\xb2'

/* The steps in a pair of brackets, or of the row. */
struct steps {
    struct hk_step *steps;
    size_t count, capacity;
    size_t star;       /* the step that the open repeat begins with, or NO_STAR */
    size_t star_at;    /* byte of the star */
    size_t mistakes;   /* the number of mistakes before it */
    size_t second;     /* the step after "**", or NO_STAR */
    bool second_opens; /* "**" opened the repeat */
    size_t wraps;      /* repeats of the whole list */
};

static const struct hk_graded_count one = {.one = 1};

static bool parse_steps(struct hk_row_parser *parser, struct steps *steps, char close);
static bool closes(const struct hk_token *token);

static bool add(struct hk_row_parser *parser, struct steps *steps, struct hk_step step)
{
    struct hk_step *grown = hk_arena_grow(parser->arena, steps->steps, steps->count, &steps->capacity, sizeof *grown);
    if (!grown)
        return false;
    steps->steps = grown;
    grown[steps->count++] = step;
    return true;
}

static struct hk_step step_of(const struct hk_row_parser *parser, enum hk_step_kind kind)
{
    return (struct hk_step){.kind = kind,
                            .many = one,
                            .stitch = SIZE_MAX,
                            .where = {.count = one, .stitch = SIZE_MAX},
                            .at = hk_token(parser)->at};
}

/* Moves the steps from `first` on to a new list. */
static bool steps_cut(struct hk_row_parser *parser, struct steps *steps, size_t first, struct hk_step *into)
{
    into->step_count = steps->count - first;
    into->steps = hk_arena_take(parser->arena, into->step_count, sizeof *into->steps);
    if (!into->steps)
        return false;
    if (into->step_count)
        memcpy(into->steps, steps->steps + first, into->step_count * sizeof *into->steps);
    steps->count = first;
    return true;
}

static bool too_deep(struct hk_row_parser *parser)
{
    hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, hk_token(parser)->at, "brackets are nested more than %d deep", HK_ROW_DEEP);
    hk_row_hint(parser, "write the row with fewer brackets in each other");
    parser->stopped = true;
    return false;
}

/* Returns the closing bracket for an opening one; 0 for other characters. */
static char closer_of(char open)
{
    return open == '(' ? ')' : open == '[' ? ']' : open == '{' ? '}' : 0;
}

/* ---- Times ---- */

static bool times_ahead(const struct hk_row_parser *parser)
{
    if (hk_row_ahead(parser, "twice|once") ||
        (hk_row_ahead(parser, "x") && parser->tokens[parser->now + 1].kind == HK_TOKEN_NUMBER))
        return true;
    return hk_row_number_ahead(parser);
}

static struct hk_graded_count number_more(struct hk_row_parser *parser, struct hk_graded_count number)
{
    int64_t *values = number.by_size ? hk_arena_take(parser->arena, parser->words->size_count, sizeof *values) : NULL;
    for (size_t i = 0; values && i < parser->words->size_count; i++)
        values[i] = number.by_size[i] + 1;
    return (struct hk_graded_count){.one = number.one + 1, .by_size = values};
}

/* "3 times", "x 3", "twice", "3 more times", "once more". **more: in addition to the first. */
static bool take_times(struct hk_row_parser *parser, struct hk_graded_count *times, bool *found, bool *more)
{
    size_t start = parser->now;
    *found = *more = false;
    if (!times_ahead(parser))
        return true;
    if (hk_row_take(parser, "twice") || hk_row_take(parser, "once")) {
        times->one = hk_token(parser)[-1].length == 5 ? 2 : 1;
        times->by_size = NULL;
        *found = true;
        *more = hk_row_take(parser, "more");
        return true;
    }
    bool x = hk_row_take(parser, "x");
    size_t at = hk_token(parser)->at;
    struct hk_graded_count number;
    if (!hk_row_number(parser, &number))
        return false;
    *more = hk_row_take(parser, "more|additional");
    *found = hk_row_take(parser, "times|time") || x || *more;
    *more = *more || (*found && hk_row_take(parser, "more"));
    if (!hk_row_take(parser, "in all|total"))
        hk_row_take(parser, "total");
    if (!*found) {
        parser->now = start;
        return true;
    }
    *times = number;
    if (times->one == 0 && !times->by_size && !*more) {
        hk_row_mistake(parser, HK_CODE_RANGE, at, "0 times works nothing");
        hk_row_hint(parser, "leave it out, or write a number from 1");
        return false;
    }
    return true;
}

/* ---- Repeats ---- */

/* Parses the words after a repeat: times, a limit, or nothing. is_repeat: it was called a repeat. */
static bool repeat_ends(struct hk_row_parser *parser, struct hk_step *step, bool is_repeat)
{
    bool found, more;
    hk_row_mark(parser, ',');
    bool comma = hk_token(parser)[-1].kind == HK_TOKEN_MARK && hk_token(parser)[-1].mark == ',';
    if (!take_times(parser, &step->many, &found, &more))
        return false;
    if (found) {
        step->where.limit = HK_LIMIT_COUNT;
        if (more)
            step->many = number_more(parser, step->many);
        step->times_open = is_repeat && !more;
        return true;
    }
    if (!hk_row_limit(parser, &step->where, &found))
        return false;
    if (!found && comma)
        parser->now--;
    return true;
}

static bool take_repeat_word(struct hk_row_parser *parser)
{
    return hk_row_take(parser, "rep|repeat|reps|repeating|cont|continue");
}

/* Returns the number of steps at the start of a row that "repeat around" does not repeat: chains, slips, turns. */
static size_t leading_steps(const struct hk_row_parser *parser, const struct steps *steps)
{
    size_t i = 0;
    while (i < steps->count && (steps->steps[i].kind == HK_STEP_CHAIN || steps->steps[i].kind == HK_STEP_TURNING ||
                                steps->steps[i].kind == HK_STEP_TURN ||
                                (steps->steps[i].kind == HK_STEP_STITCH && steps->steps[i].stitch == parser->slip)))
        i++;
    return i;
}

/* Closes a repeat of the steps from the star on, or of the row so far. */
static bool close_repeat(struct hk_row_parser *parser, struct steps *steps, struct hk_step *step, size_t first)
{
    size_t second = steps->second;
    if (first != steps->star && ++steps->wraps > HK_ROW_WRAPS) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, hk_token(parser)->at, "more than %d repeats are nested here",
                       HK_ROW_WRAPS);
        hk_row_hint(parser, "write * before what each repeats, or brackets: [k1, p1] 3 times");
        parser->stopped = true;
        return false;
    }
    if (!steps_cut(parser, steps, first, step))
        return false;
    if (second != NO_STAR && second > first && second - first < step->step_count)
        step->last_steps = second - first;
    steps->star = steps->second = NO_STAR;
    return true;
}

/* Reports a "**" without the words that end the last run there. */
static bool second_unused(struct hk_row_parser *parser, size_t at)
{
    hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "the purpose of ** in this repeat is not stated");
    hk_row_hint(parser,
                "write rep from * across, ending last rep at **; or a comma between two repeats: *sc 1*, *dc 1*");
    return false;
}

/* "ending last rep at **", "ending with". */
static bool repeat_tail(struct hk_row_parser *parser, struct hk_step *step)
{
    size_t start = parser->now;
    hk_row_mark(parser, ',');
    bool end = hk_row_take(parser, "ending|end|omitting|finishing the? last|final? rep|repeat|time?");
    if (end && hk_row_take(parser, "at|with") && hk_row_mark(parser, TWO_STARS))
        return true;
    if (step->last_steps)
        return second_unused(parser, step->at);
    parser->now = start;
    return true;
}

/* "rep from * to end", "rep between * and * twice more", "rep around". */
static bool item_rep(struct hk_row_parser *parser, struct steps *steps)
{
    size_t at = hk_token(parser)[-1].at;
    struct hk_step step = step_of(parser, HK_STEP_REPEAT);
    step.at = at;
    bool star = false;
    if (hk_row_take(parser, "from|between first?")) {
        star = hk_row_mark(parser, '*') || hk_row_mark(parser, TWO_STARS);
        if (star && hk_row_take(parser, "to|and|until"))
            if (!hk_row_mark(parser, '*') && !hk_row_mark(parser, TWO_STARS))
                parser->now--;
        if (!star) {
            hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "the start of this repeat is not marked");
            hk_row_hint(parser, "write * before its first stitch: *sc in next st, ch 1; rep from * across");
            return false;
        }
    } else {
        hk_row_take(parser, "this");
    }
    size_t first = steps->star;
    if (first == NO_STAR && star) {
        /* *A*; rep from * to * 3 times: the repeat is closed already */
        if (steps->count && steps->steps[steps->count - 1].kind == HK_STEP_REPEAT &&
            steps->steps[steps->count - 1].where.limit == HK_LIMIT_NONE)
            return repeat_ends(parser, &steps->steps[steps->count - 1], true);
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "there is no * before this to repeat from");
        hk_row_hint(parser, "write * before the first stitch that is repeated, in the same brackets");
        return false;
    }
    if (first == NO_STAR) {
        struct hk_step *last = steps->count ? &steps->steps[steps->count - 1] : NULL;
        if (last && last->kind == HK_STEP_REPEAT && last->where.limit == HK_LIMIT_NONE)
            return repeat_ends(parser, last, true);
        first = leading_steps(parser, steps);
    }
    if (!close_repeat(parser, steps, &step, first) || !repeat_ends(parser, &step, true))
        return false;
    if (!repeat_tail(parser, &step))
        return false;
    if (step.step_count == 0) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "there is nothing before this to repeat");
        hk_row_hint(parser, "write what is repeated first: *sc in next st, ch 1; rep from * across");
        return false;
    }
    return add(parser, steps, step);
}

/* Returns true for a star after a comma and directly before a stitch: it opens a nested repeat. */
static bool star_within(const struct hk_row_parser *parser)
{
    const struct hk_token *star = hk_token(parser);
    if (star[-1].kind != HK_TOKEN_MARK || (star[-1].mark != ',' && star[-1].mark != ';'))
        return false;
    bool glued = star[1].at == star->at + 1;
    return glued && (star[1].kind == HK_TOKEN_WORD || star[1].kind == HK_TOKEN_NUMBER ||
                     (star[1].kind == HK_TOKEN_MARK && closer_of(star[1].mark)));
}

static bool star_nested(struct hk_row_parser *parser)
{
    hk_row_mistake(parser, HK_CODE_ROW_NESTED, hk_token(parser)->at, "a repeat between stars is inside another");
    hk_row_hint(parser, "write the inner one in brackets, [dc, ch 1] 3 times or [dc, ch 1] to next ch-2 sp, or close "
                        "the outer one before it");
    for (parser->now++;
         !hk_row_ends(parser) && !hk_row_mark_ahead(parser, '*') && !hk_row_mark_ahead(parser, TWO_STARS);)
        parser->now++;
    parser->now += !hk_row_ends(parser);
    return false;
}

/* A star: opens a repeat, or closes the open one. */
static bool item_star(struct hk_row_parser *parser, struct steps *steps)
{
    if (steps->star != NO_STAR && hk_row_mark_ahead(parser, '*') && star_within(parser))
        return star_nested(parser);
    bool two = hk_row_mark(parser, TWO_STARS);
    if (!two)
        parser->now++;
    if (steps->star == NO_STAR) {
        steps->star = steps->count;
        steps->star_at = hk_token(parser)[-1].at;
        steps->mistakes = parser->mistakes;
        steps->second_opens = two;
        steps->second = NO_STAR;
        return true;
    }
    if (two && !steps->second_opens) {
        steps->second = steps->count;
        return true;
    }
    struct hk_step step = step_of(parser, HK_STEP_REPEAT);
    step.at = steps->star_at;
    if (steps->count == steps->star) {
        steps->star = NO_STAR;
        if (parser->mistakes > steps->mistakes)
            return false; /* its content had a mistake */
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, step.at, "this is empty");
        hk_row_hint(parser, "write what is worked, such as *sc 1*");
        return false;
    }
    if (!close_repeat(parser, steps, &step, steps->star) || !repeat_ends(parser, &step, false) ||
        !repeat_tail(parser, &step))
        return false;
    return add(parser, steps, step);
}

/* ---- Brackets ---- */

/* Skips words without work in brackets, with the closing bracket: "(RS)", "(mark this row)". */
static bool take_remark(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    char close = closer_of(hk_token(parser)->mark);
    parser->now++;
    bool remark = hk_row_take(parser, "rs|ws|right|wrong side?") || hk_row_take(parser, "not counted|included") ||
                  hk_row_take(parser, "center|centre st|stitch|sts") || hk_row_take(parser, "approx|approximately");
    if (!remark && hk_row_number_ahead(parser)) {
        parser->now++;
        remark = hk_row_take(parser, "rows|row|rnds|rnd|rounds|cm|in|inches|times");
    }
    if (remark && hk_row_mark(parser, close))
        return true;
    parser->now = start;
    return false;
}

/* Parses the counting of a chain: "(counts as dc, ch 1)", "does not count as a st". */
static bool take_counts(struct hk_row_parser *parser, struct hk_step *chain)
{
    size_t start = parser->now, tokens = 0;
    hk_row_mark(parser, ',');
    hk_row_mark(parser, '-');
    char close = closer_of(hk_row_mark_ahead(parser, '(') ? '(' : hk_row_mark_ahead(parser, '[') ? '[' : 0);
    if (close)
        parser->now++;
    hk_row_take(parser, "this|the|these");
    if (hk_token(parser)->kind == HK_TOKEN_NUMBER && !hk_row_ahead(parser, "1 " STS))
        parser->now++;
    hk_row_take(parser, "skipped|missed|beg|beginning|first|turning|starting");
    if (hk_token(parser)->kind == HK_TOKEN_NUMBER && hk_token(parser)[1].kind == HK_TOKEN_WORD)
        parser->now++;
    if (hk_row_take(parser, "ch|chs|chain|chains|tch") && hk_row_mark(parser, '-') &&
        hk_token(parser)->kind == HK_TOKEN_NUMBER)
        parser->now++;
    if (hk_row_take(parser, "does|do|will not count|counted") ||
        hk_row_take(parser, "doesn't|don't|not count|counted") || hk_row_take(parser, "is|are not counted")) {
        chain->counts = HK_COUNTS_NO;
        hk_row_take(parser, "as a|one|1|first? " STS);
    } else if (hk_row_take(parser, "counts|count|counted|counting|counts always? as a|an|the|1|one? first?")) {
        chain->counts = HK_COUNTS_YES;
        size_t stitch = hk_row_stitch_ahead(parser, &tokens);
        if (stitch != SIZE_MAX) {
            parser->now += tokens;
            chain->stitch = stitch;
        } else {
            hk_row_take(parser, STS);
        }
        if (hk_row_take(parser, ",|and|plus|+|& 1|a|one? ch|chain")) {
            hk_row_mark(parser, '-');
            chain->spare = 1;
            if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
                chain->spare = parser->tokens[parser->now++].value;
            hk_row_mark(parser, '-');
            hk_row_take(parser, SPS);
        }
    } else {
        parser->now = start;
        return false;
    }
    while (
        hk_row_take(parser, "here|now|and|throughout|always|on") ||
        hk_row_take(parser, "in|for|of|at this|the|all|each|every? pattern|rnd|row|round|rows|rnds|rounds|beginning"))
        ;
    if (close && !hk_row_mark(parser, close)) {
        parser->now = start;
        chain->counts = HK_COUNTS_OPEN;
        return false;
    }
    return true;
}

/* Behind "dc in 4th ch from hook": "(counts as 2 dc)", itself and the chains before it. */
static bool take_counts_two(struct hk_row_parser *parser, size_t stitch)
{
    size_t start = parser->now, tokens;
    char close = closer_of(hk_row_mark_ahead(parser, '(') ? '(' : hk_row_mark_ahead(parser, '[') ? '[' : 0);
    parser->now += close != 0;
    if (close && hk_row_take(parser, "counts|count as the? first? 2|two") &&
        hk_row_stitch_ahead(parser, &tokens) == stitch) {
        parser->now += tokens;
        if (hk_row_mark(parser, close))
            return true;
    }
    parser->now = start;
    return false;
}

static bool ends_item(const struct hk_token *token)
{
    return token->kind == HK_TOKEN_END || (token->kind == HK_TOKEN_MARK && (token->mark == ',' || token->mark == ';'));
}

static bool closes_item(const struct hk_token *token)
{
    return ends_item(token) || (token->kind == HK_TOKEN_MARK && strchr(".()[]}*", token->mark));
}

/* Parses the content of brackets, and the closing bracket. */
static bool take_brackets(struct hk_row_parser *parser, struct steps *inner)
{
    size_t open = parser->now, mistakes = parser->mistakes;
    char close = closer_of(hk_token(parser)->mark);
    if (parser->depth == HK_ROW_DEEP)
        return too_deep(parser);
    parser->now++;
    parser->depth++;
    bool good = parse_steps(parser, inner, close);
    parser->depth--;
    if (!good)
        return false;
    if (!hk_row_mark(parser, close)) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, parser->tokens[open].at, "the bracket that opens here is not closed");
        hk_row_hint(parser, "write %c where the group ends", close);
        return false;
    }
    if (parser->mistakes > mistakes)
        return false;
    if (inner->count == 0) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, parser->tokens[open].at, "this is empty");
        hk_row_hint(parser, "leave it out, or write what is missing");
        return false;
    }
    return true;
}

/* Adds a group in a place; times: repeated in each place, "(3 dc, ch 2) 4 times in ring". */
static bool group_placed(struct hk_row_parser *parser, struct steps *steps, struct hk_step step, bool times,
                         struct hk_where where)
{
    struct hk_step group = step;
    bool found, more;
    group.kind = HK_STEP_GROUP;
    group.many = one;
    group.where = where;
    if (times) {
        group.steps = hk_arena_take(parser->arena, 1, sizeof *group.steps);
        if (!group.steps)
            return false;
        *group.steps = step;
        group.step_count = 1;
        return add(parser, steps, group);
    }
    if (!add(parser, steps, group) || !take_times(parser, &step.many, &found, &more))
        return false;
    if (!found)
        return true;
    struct hk_step again = step_of(parser, HK_STEP_REPEAT); /* "(dc, ch 1, dc) in next st 3 times" */
    again.many = more ? number_more(parser, step.many) : step.many;
    again.where.limit = HK_LIMIT_COUNT;
    return steps_cut(parser, steps, steps->count - 1, &again) && add(parser, steps, again);
}

/* Parses a group. Chains at its start count as a stitch, as at the start of a row. */
static bool item_group(struct hk_row_parser *parser, struct steps *steps)
{
    if (take_remark(parser))
        return true;
    struct steps inner = {.star = NO_STAR, .second = NO_STAR};
    struct hk_step step = step_of(parser, HK_STEP_REPEAT);
    if (!take_brackets(parser, &inner))
        return false;
    bool found = false, more = false;
    if (!steps_cut(parser, &inner, 0, &step))
        return false;
    if (!take_times(parser, &step.many, &found, &more))
        return false;
    if (!found && hk_token(parser)->kind == HK_TOKEN_NUMBER && ends_item(hk_token(parser) + 1)) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, hk_token(parser)->at, "a number after brackets needs x or times");
        hk_row_hint(parser, "write ( ) x 2");
        return false;
    }
    if (found) {
        step.where.limit = HK_LIMIT_COUNT;
        if (more)
            step.many = number_more(parser, step.many);
    }
    struct hk_where where;
    bool placed = false;
    if (!hk_row_where(parser, &where, &placed))
        return false;
    if (placed)
        return group_placed(parser, steps, step, found, where);
    if (!found && !repeat_ends(parser, &step, false))
        return false;
    if (step.where.limit == HK_LIMIT_NONE) {
        step.where.limit = HK_LIMIT_COUNT; /* brackets without times: once */
        if (!hk_row_ahead(parser, "rep|repeat|reps|repeating|cont|continue from|between") && take_repeat_word(parser)) {
            hk_row_take(parser, "this");
            step.where.limit = HK_LIMIT_NONE;
            if (!repeat_ends(parser, &step, true))
                return false;
        }
    }
    return add(parser, steps, step);
}

/* Behind chains and stitches that take no place: "for the left underarm", "at underarm". */
static void take_purpose(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser,
                    "for|at|over|under|across the? left|right|first|second|front|back? "
                    "underarm|underarms|thumb|neck|neckline|armhole|buttonhole|gap|gusset|slit opening|edge|gap|hole?"))
        return;
    parser->now = start;
}

/* ---- Chains and turns ---- */

static bool item_chain(struct hk_row_parser *parser, struct steps *steps, const struct hk_graded_count *before)
{
    struct hk_step step = step_of(parser, HK_STEP_CHAIN);
    step.at = hk_token(parser)[-1].at;
    if (before)
        step.many = *before;
    hk_row_mark(parser, '-');
    size_t number_at = hk_token(parser)->at;
    if (!before && hk_row_number_ahead(parser) && !hk_row_number(parser, &step.many))
        return false;
    if (step.many.one == 0 && !step.many.by_size) {
        hk_row_mistake(parser, HK_CODE_RANGE, number_at, "0 works nothing");
        hk_row_hint(parser, "leave it out, or write a number from 1");
        return false;
    }
    hk_row_take(parser, STS);
    hk_row_take(parser, "loosely");
    take_counts(parser, &step);
    take_purpose(parser);
    return add(parser, steps, step);
}

/* "tch 3 as dc", "tch 4 as (dc, ch 1)". */
static bool item_turning(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_TURNING);
    step.at = hk_token(parser)[-1].at;
    if (!hk_row_number_ahead(parser)) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, step.at, "the turning chain does not say how many chains it has");
        hk_row_hint(parser, "write tch 1 for one that does not count, tch 3 as dc for one that counts as one");
        return false;
    }
    if (!hk_row_number(parser, &step.many))
        return false;
    if (hk_row_take(parser, "as")) {
        struct steps inner = {.star = NO_STAR, .second = NO_STAR};
        size_t tokens = 0;
        if (hk_token(parser)->kind == HK_TOKEN_MARK && closer_of(hk_token(parser)->mark)) {
            if (!take_brackets(parser, &inner))
                return false;
        } else {
            struct hk_step as = step_of(parser, HK_STEP_STITCH);
            as.stitch = hk_row_stitch_ahead(parser, &tokens);
            if (as.stitch == SIZE_MAX)
                return hk_row_unknown(parser);
            parser->now += tokens;
            if (as.stitch == parser->chain) {
                as.kind = HK_STEP_CHAIN;
                if (hk_row_number_ahead(parser) && !hk_row_number(parser, &as.many))
                    return false;
            }
            if (!add(parser, &inner, as))
                return false;
        }
        for (size_t i = 0; i < inner.count; i++) {
            bool stitch =
                inner.steps[i].kind == HK_STEP_STITCH && inner.steps[i].stitch < parser->words->catalogue->stitch_count;
            if (!stitch && inner.steps[i].kind != HK_STEP_CHAIN) {
                hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, inner.steps[i].at,
                               "a turning chain counts as stitches and chains only");
                hk_row_hint(parser, "write the stitches that it counts as: tch 4 as (dc, ch 1)");
                return false;
            }
        }
        if (!steps_cut(parser, &inner, 0, &step))
            return false;
    } else if (take_counts(parser, &step) && step.counts == HK_COUNTS_YES) {
        step.kind = HK_STEP_CHAIN; /* as "ch 3 (counts as dc)" */
    }
    return add(parser, steps, step);
}

/* ---- Joins and markers ---- */

static bool take_yarn(struct hk_row_parser *parser, struct steps *steps);
static void words_pass(struct hk_row_parser *parser);

/* Parses the words after "join". */
static bool item_join(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_JOIN);
    bool found = false;
    step.at = hk_token(parser)[-1].at;
    hk_row_take(parser, "rnd|round|work|ends?");
    if (hk_row_take(parser, "the|a? new|next|contrast|second|color|colour? ball|skein of? yarn|color|colour?") ||
        hk_row_take(parser, "the|a? new|next|contrast|color|colour? yarn|color|colour") || take_yarn(parser, steps))
        step.name = "";
    hk_row_take(parser, "with|using|by");
    hk_row_take(parser, "a|an");
    if (hk_row_take(parser, "sl|slip st|stitch|sts") || hk_row_take(parser, "slst|ss"))
        hk_row_take(parser, "loosely");
    else if (hk_row_number_ahead(parser) && !hk_row_number(parser, &step.many))
        return false;
    size_t start = parser->now;
    if (hk_row_take(parser, "to|in|into|on|at")) {
        if (hk_row_take(parser, "form|make a? ring|circle"))
            return add(parser, steps, step);
        if (hk_row_take(parser, "the? beginning|beg|start"))
            return add(parser, steps, step);
        bool any = hk_row_take(parser, "any");
        if (!hk_row_where_words(parser, &step.where, &found))
            return false;
        if (any)
            step.where.which = HK_WHICH_NEXT;
        if (!found) { /* "at the underarm" */
            parser->now = start;
            if (hk_row_take(parser, "at"))
                words_pass(parser);
        }
    }
    hk_row_take(parser, "to|and join");
    return add(parser, steps, step);
}

static bool item_marker(struct hk_row_parser *parser, struct steps *steps, enum hk_step_kind kind)
{
    struct hk_step step = step_of(parser, kind);
    bool found;
    step.at = hk_token(parser)[-1].at;
    if (kind == HK_STEP_MARK && !hk_row_where(parser, &step.where, &found))
        return false;
    return add(parser, steps, step);
}

/* "mark first st" */
static bool item_mark_first(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_MARK);
    step.where.given = true;
    step.where.which = HK_WHICH_FIRST;
    return add(parser, steps, step);
}

/* Parses "removing all markers as you go", for the whole row. */
static bool item_unmark(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_UNMARK);
    step.at = hk_token(parser)[-1].at;
    step.where.which = HK_WHICH_EACH;
    hk_row_take(parser, "as you come|go to? them?");
    return add(parser, steps, step);
}

/* ---- Skipping ---- */

/* Returns true for a number that is part of a name: "2-ch", "5-dc". */
static bool hyphen_ahead(const struct hk_row_parser *parser)
{
    const struct hk_token *token = hk_token(parser);
    return token->kind == HK_TOKEN_NUMBER && token[1].kind == HK_TOKEN_MARK && token[1].mark == '-' &&
           token[1].at == token->at + token->length && token[2].kind == HK_TOKEN_WORD;
}

/* Parses the purpose of stitches: "for left sleeve". */
static bool name_take(struct hk_row_parser *parser, struct hk_step *step)
{
    const struct hk_token *token = hk_token(parser);
    bool bracket = hk_row_mark_ahead(parser, '(') && token[1].kind == HK_TOKEN_WORD &&
                   (closes(token + 2) || (token[2].kind == HK_TOKEN_WORD && closes(token + 3)));
    if (bracket)
        parser->now++;
    if (!hk_row_take(parser, "for") && !bracket)
        return true;
    hk_row_take(parser, "the");
    size_t first = hk_token(parser)->at, end = first;
    for (; hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, "and|then"); parser->now++)
        end = hk_token(parser)->at + hk_token(parser)->length;
    parser->now += bracket;
    step->name = hk_arena_text(parser->arena, parser->text->text + first, end - first);
    return step->name;
}

static bool item_skip(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_SKIP);
    bool found = true;
    step.at = hk_token(parser)[-1].at;
    size_t before = parser->now;
    if (hk_row_number_ahead(parser)) {
        if (hyphen_ahead(parser)) /* "miss 2-ch sp", "sk 5-dc bobble" */
            return hk_row_where_words(parser, &step.where, &found) && add(parser, steps, step);
        if (!hk_row_number_of_places(parser, &step.where.count))
            return false;
        struct hk_graded_count count = step.where.count;
        struct hk_where kind;
        size_t behind = parser->now;
        if (!hk_row_where_words(parser, &kind, &found))
            return false;
        if (found && kind.limit == HK_LIMIT_NONE && kind.which == HK_WHICH_NEXT && kind.count.one == 1 &&
            !kind.count.by_size) {
            step.where = kind;
            step.where.count = count;
        } else {
            parser->now = behind;
        }
        step.where.given = found = true;
    } else if (!hk_row_where_words(parser, &step.where, &found)) {
        return false;
    }
    if (!found) {
        parser->now = before;
        step.where.given = true; /* "sk" alone: one */
    }
    return name_take(parser, &step) && add(parser, steps, step);
}

/* ---- Stitches ---- */

static bool number_is(struct hk_graded_count number, int64_t value)
{
    return number.one == value && !number.by_size;
}

static bool numbers_alike(const struct hk_row_parser *parser, struct hk_graded_count a, struct hk_graded_count b)
{
    for (size_t i = 0; i < parser->words->size_count; i++)
        if (hk_graded_in(a, i) != hk_graded_in(b, i))
            return false;
    return true;
}

static int64_t needs_of(const struct hk_row_parser *parser, size_t stitch)
{
    if (stitch == HK_STITCH_INC || stitch == HK_STITCH_DEC)
        return stitch == HK_STITCH_INC ? 1 : 2;
    return parser->words->catalogue->stitches[stitch].needs;
}

static const char *which_text(const struct hk_where *where)
{
    return where->which == HK_WHICH_FIRST ? "first" : where->which == HK_WHICH_LAST ? "last" : "next";
}

/* Converts places to stitches: sc2tog "over next 4 sts" is two stitches. */
static bool places_to_units(struct hk_row_parser *parser, struct hk_step *step, int64_t needs)
{
    struct hk_graded_count *count = &step->where.count;
    if (step->where.which == HK_WHICH_EACH || number_is(*count, 1))
        return true;
    int64_t *values = count->by_size ? hk_arena_take(parser->arena, parser->words->size_count, sizeof *values) : NULL;
    for (size_t i = 0; i < parser->words->size_count; i++) {
        int64_t places = hk_graded_in(*count, i);
        if (places % needs) {
            hk_row_mistake(parser, HK_CODE_ROW_PLACE, step->where.at, "%s takes %d stitches, and %d places are named",
                           hk_row_stitch_text(parser->words, step->stitch), (int)needs, (int)places);
            hk_row_hint(parser, "write over %s %d sts", which_text(&step->where), (int)needs);
            return false;
        }
        if (values)
            values[i] = places / needs;
    }
    *count = (struct hk_graded_count){.one = count->one / needs, .by_size = values};
    return true;
}

/* Combines a stitch with its number and its place. */
static bool place_stitch(struct hk_row_parser *parser, struct hk_step *step, bool numbered)
{
    int64_t needs = needs_of(parser, step->stitch);
    struct hk_where *where = &step->where;
    if (!where->given) {
        if (needs > 0 && where->limit == HK_LIMIT_NONE) {
            where->count = step->many;
            step->many = one;
        } else if (where->limit != HK_LIMIT_NONE) {
            where->which = HK_WHICH_EACH;
        }
        return true;
    }
    if (needs > 1)
        return places_to_units(parser, step, needs);
    bool row = where->which == HK_WHICH_NEXT || where->which == HK_WHICH_FIRST || where->which == HK_WHICH_LAST;
    if (numbered && row && where->limit != HK_LIMIT_COUNT && !number_is(where->count, 1) && !number_is(step->many, 1)) {
        if (!numbers_alike(parser, where->count, step->many)) {
            hk_row_mistake(parser, HK_CODE_ROW_PLACE, where->at, "this can be read in two ways: %d in each, or %d in all",
                           (int)step->many.one, (int)step->many.one);
            hk_row_hint(parser, "write \"in each of %s %d\" and their kind, if this is the number in each",
                        which_text(where), (int)where->count.one);
            return false;
        }
        step->many = one;
    }
    return true;
}

/* Skips the manner of working, which does not affect the count: "purlwise", "wyif", "tbl", "in the back loop". */
static void take_manner(struct hk_row_parser *parser)
{
    size_t start;
    bool more;
    do {
        start = parser->now;
        more =
            hk_row_take(parser, "purlwise|knitwise|pwise|kwise|wyif|wyib|tbl|loosely|tightly|together|blo|flo|bl|fl") ||
            hk_row_take(parser, "with yarn in front|back") || hk_row_take(parser, "as if to knit|purl|k|p") ||
            hk_row_take(parser, "through|in|into the? back|front|both|third loop|loops|lp|lps only?") ||
            hk_row_take(parser, "in|into blo|flo|bl|fl") ||
            hk_row_take(parser, "through|in|into the? 3 rd loop|loops|lp only?");
    } while (more && !hk_row_ahead(parser, "of|on"));
    if (more)
        parser->now = start; /* "in the back loop of next st" is a place */
}

static bool no_stitches(struct hk_row_parser *parser, size_t at)
{
    hk_row_mistake(parser, HK_CODE_RANGE, at, "0 works nothing");
    hk_row_hint(parser, "leave it out, or write a number from 1");
    return false;
}

/* "and in each st across", "and 2 in last st": adds the same stitch in more places. */
static bool same_stitch_more(struct hk_row_parser *parser, struct steps *steps, const struct hk_step *first)
{
    for (;;) {
        size_t start = parser->now;
        bool found = false, again = false;
        struct hk_step step = *first;
        step.at = hk_token(parser)->at;
        step.many = one;
        step.counts = HK_COUNTS_OPEN;
        step.spare = 0;
        step.where = (struct hk_where){.count = one, .stitch = SIZE_MAX};
        hk_row_mark(parser, ',');
        if (hk_row_take(parser, "and|&|then")) {
            bool numbered = hk_token(parser)->kind == HK_TOKEN_NUMBER;
            size_t tokens;
            size_t number_at = hk_token(parser)->at;
            if (numbered && !hk_row_number(parser, &step.many))
                return false;
            if (hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX) {
                parser->now = start;
                return true;
            }
            if (numbered && number_is(step.many, 0))
                return no_stitches(parser, number_at);
            if (hk_row_ahead(parser, "in|into|each|next|last|top|on|around|first|to")) {
                if (!hk_row_where(parser, &step.where, &found))
                    return false;
                if (!found && !numbered && hk_row_ahead(parser, "each|next|last|top|first") &&
                    !hk_row_where_words(parser, &step.where, &found))
                    return false;
                again = found;
            }
        }
        if (!again) {
            parser->now = start;
            return true;
        }
        if (!place_stitch(parser, &step, true) || !add(parser, steps, step))
            return false;
    }
}

/* Parses "k1, p1 around": with a number and a limit, the whole row so far repeats. */
static bool wrap_row(struct hk_row_parser *parser, struct steps *steps, const struct hk_where *limit)
{
    struct hk_step step = step_of(parser, HK_STEP_REPEAT);
    size_t first = leading_steps(parser, steps);
    step.at = steps->steps[first].at;
    if (!close_repeat(parser, steps, &step, first))
        return false;
    step.where.limit = limit->limit;
    step.where.last = limit->last;
    step.where.until = limit->until;
    return add(parser, steps, step);
}

/* Reports "k2, p2 to marker", which does not state what repeats. */
static bool numbered_to_place(struct hk_row_parser *parser, const struct hk_step *step)
{
    const char *name = hk_row_stitch_text(parser->words, step->stitch);
    hk_row_mistake(parser, HK_CODE_ROW_PLACE, step->at, "%s has both a number and a place that it goes up to", name);
    hk_row_hint(parser, "write [%s %d] to marker for what repeats up to there, or %s to marker", name,
                (int)step->many.one, name);
    return false;
}

/* "sl st to ch-2 sp": slip stitches up to the place, and one into it. */
static bool slip_to(struct hk_row_parser *parser, struct steps *steps, struct hk_step *step)
{
    struct hk_where into = *step->where.until;
    if (into.which == HK_WHICH_FIRST || into.what == HK_WHAT_TOP) { /* "sl st to first sc" closes the round */
        step->kind = HK_STEP_JOIN;
        step->where = into;
        return add(parser, steps, *step);
    }
    step->where.which = HK_WHICH_EACH;
    if (!add(parser, steps, *step))
        return false;
    struct hk_step last = *step;
    last.where = into;
    return add(parser, steps, last);
}

/* Parses shaping of a named stitch: "hdc inc", "sc dec". */
static bool named_shaping(struct hk_row_parser *parser, struct hk_step *step)
{
    const struct hk_catalogue *catalogue = parser->words->catalogue;
    if (step->stitch >= catalogue->stitch_count || catalogue->stitches[step->stitch].needs != 1)
        return true;
    if (hk_row_take(parser, "inc|increase")) {
        step->stitch_inc = true;
        return true;
    }
    size_t at = hk_token(parser)->at;
    if (!hk_row_take(parser, "dec|decrease"))
        return true;
    const char *us = catalogue->stitches[step->stitch].us;
    const char *name = us ? hk_arena_print(&parser->scratch, "%s2tog", us) : NULL;
    size_t decrease = name ? hk_catalogue_stitch(catalogue, name) : SIZE_MAX;
    if (decrease == SIZE_MAX) {
        hk_row_mistake(parser, HK_CODE_NAME_UNKNOWN, at, "a decrease of %s is in no table",
                       hk_row_stitch_text(parser->words, step->stitch));
        hk_row_hint(parser, "name the decrease, such as sc2tog or k2tog");
        return false;
    }
    step->stitch = decrease;
    return true;
}

/* Skips "in pattern" after a stitch that is bound off. */
static void take_pattern(struct hk_row_parser *parser, size_t stitch)
{
    const struct hk_catalogue *catalogue = parser->words->catalogue;
    if (stitch >= catalogue->stitch_count || catalogue->stitches[stitch].family != HK_FAMILY_KNIT ||
        catalogue->stitches[stitch].leaves != 0)
        return;
    while (hk_row_take(parser, "in the? pattern|patt|rib|ribbing") || hk_row_take(parser, "in k|p|knit|purl"))
        take_manner(parser);
}

/*
 * "3-dc cluster over next 3 sts" has each of its stitches in a place of its own: it is a dc3tog. Over one place it is
 * a cluster.
 */
static void cluster_over(const struct hk_row_parser *parser, struct hk_step *step)
{
    const struct hk_catalogue *catalogue = parser->words->catalogue;
    const char *us = step->stitch < catalogue->stitch_count ? catalogue->stitches[step->stitch].us : NULL;
    const bool legs = us && hk_is_digit(us[0]) && us[1] == '-'; /* "3-dc cl" */
    if (!legs || step->where.which == HK_WHICH_EACH || step->where.which == HK_WHICH_SAME ||
        step->where.limit == HK_LIMIT_COUNT || number_is(step->where.count, 1))
        return;
    const size_t length = strcspn(us + 2, " ");
    if (strcmp(us + 2 + length, " cl") != 0)
        return;
    char name[32];
    snprintf(name, sizeof name, "%.*s%ctog", (int)length, us + 2, us[0]);
    const size_t together = hk_catalogue_stitch(catalogue, name);
    step->stitch = together != SIZE_MAX ? together : step->stitch;
}

static bool take_evenly(struct hk_row_parser *parser, struct hk_where *where);

/* "k1 MC, k1 CC": sets the yarn of this stitch and of the following ones. */
static bool yarn_behind(struct hk_row_parser *parser, struct steps *steps)
{
    size_t start = parser->now;
    hk_row_take(parser, "with|in");
    if (!take_yarn(parser, steps))
        parser->now = start;
    return !parser->arena->out_of_memory;
}

static bool item_stitch(struct hk_row_parser *parser, struct steps *steps, size_t stitch,
                        const struct hk_graded_count *before, size_t at)
{
    struct hk_step step = step_of(parser, HK_STEP_STITCH);
    bool found = false, more = false, numbered = before != NULL, limited = false;
    step.at = at;
    step.stitch = stitch;
    if (before)
        step.many = *before;
    take_manner(parser);
    take_pattern(parser, stitch);
    if (!numbered) {
        if (!take_times(parser, &step.many, &found, &more))
            return false;
        size_t start = parser->now, number_at = hk_token(parser)->at;
        if (!found && hk_row_number_ahead(parser) && !hyphen_ahead(parser)) {
            if (!hk_row_number(parser, &step.many))
                return false;
            if (hk_row_ahead(parser, "rows|rnds|row|rnd below|down"))
                parser->now = start, step.many = one;
            else
                found = true;
        }
        numbered = found;
        if (found && number_is(step.many, 0))
            return no_stitches(parser, number_at);
    }
    take_manner(parser);
    if (!named_shaping(parser, &step) || !yarn_behind(parser, steps))
        return false;
    size_t behind = parser->now;
    hk_row_take(parser, STS);
    take_manner(parser);
    take_pattern(parser, stitch);
    if (needs_of(parser, stitch) == 0)
        take_purpose(parser);
    const bool over = hk_row_ahead(parser, "over");
    if (!hk_row_where(parser, &step.where, &found))
        return false;
    if (found && over)
        cluster_over(parser, &step);
    if (!found && numbered && hk_row_other_sts(parser, behind, &step.where)) { /* "k16 held sts" */
        step.where.count = step.many;
        step.many = one;
        return add(parser, steps, step);
    }
    if (!found && !numbered && hk_row_across_others(parser, &step.where))
        return add(parser, steps, step);
    if (!found && hk_row_ahead(parser, "next|last|first|rem|remaining|all|each|every|same|center|centre") && !numbered &&
        !hk_row_where_words(parser, &step.where, &found))
        return false;
    if (!found && numbered && take_evenly(parser, &step.where)) {
        step.where.count = step.many;
        step.many = one;
        return add(parser, steps, step);
    }
    if (!found) {
        step.where = (struct hk_where){.count = one, .stitch = SIZE_MAX, .at = step.at};
        if (!hk_row_limit(parser, &step.where, &limited))
            return false;
    }
    if (limited && numbered && step.where.limit == HK_LIMIT_PLACE)
        return numbered_to_place(parser, &step);
    if (limited && numbered && needs_of(parser, stitch) > 0) {
        struct hk_where limit = step.where;
        step.where.limit = HK_LIMIT_NONE;
        return place_stitch(parser, &step, numbered) && add(parser, steps, step) && wrap_row(parser, steps, &limit);
    }
    if (limited && stitch == parser->slip && step.where.limit == HK_LIMIT_PLACE &&
        step.where.until->what != HK_WHAT_MARKED)
        return slip_to(parser, steps, &step);
    take_manner(parser);
    take_pattern(parser, stitch);
    if (step.stitch == parser->slip && !limited && hk_row_take(parser, "to|and join")) {
        step.kind = HK_STEP_JOIN;
        return add(parser, steps, step);
    }
    if (!found && !limited) { /* in "sc2tog twice" after a bare name, twice is the number of stitches */
        bool again;
        struct hk_graded_count times = one;
        if (!numbered && !take_times(parser, &times, &again, &more))
            return false;
        if (!numbered && again)
            step.many = times;
    }
    bool each = step.where.given;
    if (each && step.where.what == HK_WHAT_NTH_CHAIN) {
        struct hk_step chain = step_of(parser, HK_STEP_CHAIN);
        if (take_counts_two(parser, step.stitch)) {
            step.counts = HK_COUNTS_YES;
        } else if (take_counts(parser, &chain)) {
            step.counts = chain.counts;
            step.spare = chain.spare;
        }
    }
    if (!place_stitch(parser, &step, numbered) || !add(parser, steps, step))
        return false;
    if (each) {
        bool again;
        struct hk_graded_count times = one;
        size_t start = parser->now;
        if (!take_times(parser, &times, &again, &more))
            return false;
        if (again && step.where.which == HK_WHICH_NEXT) { /* "2 sc in next st 3 times" */
            struct hk_step repeat = step_of(parser, HK_STEP_REPEAT);
            repeat.many = more ? number_more(parser, times) : times;
            repeat.where.limit = HK_LIMIT_COUNT;
            return steps_cut(parser, steps, steps->count - 1, &repeat) && add(parser, steps, repeat);
        }
        parser->now = start;
        return same_stitch_more(parser, steps, &step);
    }
    return true;
}

/* Returns a decrease written in words: "sl 1, k2tog, psso". */
static size_t passed_over(struct hk_row_parser *parser)
{
    static const struct {
        const char *phrase, *us;
    } ways[] = {
        {"sl|slip 1|one st? knitwise|kwise|purlwise|pwise? ,? k 2 tog ,? psso", "sk2p"},
        {"sl|slip 1|one st? knitwise|kwise|purlwise|pwise? ,? k 1|one ,? psso", "skp"},
        {"sl|slip 2|two sts? tog|together? knitwise|kwise? ,? k 1|one ,? p 2 sso", "s2kp"},
        {"sl|slip 2|two sts? tog|together? knitwise|kwise? ,? k 1|one ,? psso", "s2kp"},
        {"sl|slip 2|two as if to k 2 tog ,? k 1|one ,? p 2 sso", "s2kp"},
    };
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++)
        if (hk_row_take(parser, ways[i].phrase))
            return hk_catalogue_stitch(parser->words->catalogue, ways[i].us);
    return SIZE_MAX;
}

/* Counts the steps of a definition, with nested ones, up to slightly more than `most`. */
static size_t steps_in(const struct hk_step *steps, size_t count, size_t deep, size_t most)
{
    size_t all = deep > HK_ROW_DEEP ? most + 1 : count;
    for (size_t i = 0; i < count && all <= most; i++)
        all += steps_in(steps[i].steps, steps[i].step_count, deep + 1, most - all);
    return all;
}

/* Returns true for a step that uses no place of the row below. */
static bool hangs(const struct hk_row_parser *parser, const struct hk_step *step)
{
    return step->kind == HK_STEP_CHAIN || step->where.what == HK_WHAT_NTH_CHAIN ||
           (step->kind == HK_STEP_STITCH && !step->where.given && needs_of(parser, step->stitch) == 0);
}

/* Returns true for a step that names places of the row below. */
static bool names_places(const struct hk_step *step)
{
    bool takes = step->kind == HK_STEP_STITCH || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_SKIP;
    bool named =
        takes && step->where.given && step->where.which != HK_WHICH_SAME && step->where.what != HK_WHAT_NTH_CHAIN;
    for (size_t i = 0; i < step->step_count && !named; i++)
        named = names_places(&step->steps[i]);
    return named;
}

/* The footing of a definition: how its steps use places. */
enum footing {
    IN_A_PLACE,  /* all in one place, named where it is used: "5 dc in same st" */
    IN_NO_PLACE, /* no place used: "ch 3, sl st in 3rd ch from hook" */
    OVER_PLACES  /* places of its own: "sk 1, dc in next st, dc in skipped st" */
};

static enum footing footing_of(const struct hk_row_parser *parser, const struct hk_definition *definition)
{
    const struct hk_step *steps = definition->steps;
    bool hanging = true, over = false;
    for (size_t i = 0; i < definition->step_count; i++) {
        hanging &= hangs(parser, &steps[i]);
        over |= names_places(&steps[i]) && (i > 0 || steps->kind == HK_STEP_SKIP || steps->kind == HK_STEP_REPEAT ||
                                            steps->where.which != HK_WHICH_NEXT || !number_is(steps->where.count, 1));
    }
    return over ? OVER_PLACES : hanging ? IN_NO_PLACE : IN_A_PLACE;
}

/* Copies the steps of a definition; in "5 dc in next st" the place is replaced by the one named where it is used. */
static bool take_definition(struct hk_row_parser *parser, const struct hk_definition *definition, enum footing footing,
                            struct hk_step *step)
{
    step->steps = definition->steps;
    step->step_count = definition->step_count;
    if (footing != IN_A_PLACE || !names_places(definition->steps))
        return true;
    step->steps = hk_arena_take(parser->arena, step->step_count, sizeof *step->steps);
    if (!step->steps)
        return false;
    memcpy(step->steps, definition->steps, step->step_count * sizeof *step->steps);
    step->steps->where = (struct hk_where){
        .given = true, .worded = true, .which = HK_WHICH_SAME, .count = one, .stitch = SIZE_MAX, .at = step->at};
    return true;
}

/* Parses the use of a definition without a place or with its own places, a number of times or up to a limit. */
static bool item_spanning(struct hk_row_parser *parser, struct steps *steps, struct hk_step step,
                          const struct hk_graded_count *before)
{
    bool limited = false;
    step.kind = HK_STEP_REPEAT;
    step.many = before ? *before : one;
    if (!before && !hk_row_limit(parser, &step.where, &limited))
        return false;
    if (!limited)
        step.where.limit = HK_LIMIT_COUNT;
    return add(parser, steps, step);
}

/* Parses the number after the word: "inc x 6", "shell 3". */
static bool definition_times(struct hk_row_parser *parser, const struct hk_graded_count **before,
                             struct hk_graded_count *times)
{
    bool again = false, more = false;
    if (*before)
        return true;
    if (!take_times(parser, times, &again, &more))
        return false;
    if (again && more)
        *times = number_more(parser, *times);
    if (!again && hk_token(parser)->kind == HK_TOKEN_NUMBER && closes_item(hk_token(parser) + 1)) {
        if (!hk_row_number(parser, times))
            return false;
        again = true;
    }
    if (again)
        *before = times;
    return true;
}

/* Parses the use of a definition: in a place, or without one in the next places. */
static bool item_defined(struct hk_row_parser *parser, struct steps *steps, const struct hk_definition *definition,
                         const struct hk_graded_count *before, size_t at)
{
    struct hk_step step = step_of(parser, HK_STEP_GROUP);
    struct hk_where where;
    bool found = false, limited = false;
    if (steps_in(definition->steps, definition->step_count, 0, HK_ROW_DEFINED_MOST) > HK_ROW_DEFINED_MOST) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "%s stands for more than %d steps", definition->name,
                       HK_ROW_DEFINED_MOST);
        hk_row_hint(parser, "write out what is worked");
        return false;
    }
    enum footing footing = footing_of(parser, definition);
    step.at = at;
    struct hk_graded_count times = one;
    if (!take_definition(parser, definition, footing, &step) || !definition_times(parser, &before, &times) ||
        !hk_row_where(parser, &where, &found))
        return false;
    if (found && footing == OVER_PLACES) {
        hk_row_mistake(parser, HK_CODE_ROW_PLACE, where.at, "%s goes over places of its own", definition->name);
        hk_row_hint(parser, "leave this place out, or write out what is worked");
        return false;
    }
    if (!found && footing != IN_A_PLACE)
        return item_spanning(parser, steps, step, before);
    if (!found) {
        step.where = (struct hk_where){.given = true, .count = before ? *before : one, .stitch = SIZE_MAX, .at = at};
        if (!hk_row_limit(parser, &step.where, &limited))
            return false;
        if (limited)
            step.where.which = HK_WHICH_EACH;
        return add(parser, steps, step);
    }
    step.where = where;
    if (!add(parser, steps, step) || !before || number_is(*before, 1))
        return !parser->arena->out_of_memory;
    struct hk_step repeat = step_of(parser, HK_STEP_REPEAT); /* "2 shells in next st" */
    repeat.many = *before;
    repeat.where.limit = HK_LIMIT_COUNT;
    return steps_cut(parser, steps, steps->count - 1, &repeat) && add(parser, steps, repeat);
}

/* ---- Cut lengths ---- */

static bool cut_unclear(struct hk_row_parser *parser, size_t at)
{
    hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "cut does not say how long");
    hk_row_hint(parser, "write a length like cut 30 cm or cut 12 in");
    return false;
}

/* Advances to the first token after a byte of the text. */
static void go_to(struct hk_row_parser *parser, const char *at)
{
    while (!hk_row_ends(parser) && hk_token_text(parser) < at)
        parser->now++;
}

/* "cut 20 cm x 30". */
static bool item_cut(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_CUT);
    const char *at = hk_token_text(parser);
    enum hk_decimal decimal = parser->text->cell.table ? hk_table_decimal(parser->text->cell.table) : HK_DECIMAL_POINT;
    bool found, more;
    enum hk_dimension dimension;
    double length = 0, factor;
    step.at = hk_token(parser)[-1].at;
    if (hk_token(parser)->kind != HK_TOKEN_NUMBER || !hk_number_scan(&at, decimal, &length))
        return cut_unclear(parser, step.at);
    at = hk_blanks_skipped(at);
    const char *number = hk_token_text(parser);
    bool unit = hk_unit_scan(&at, &dimension, &factor);
    if (!unit || dimension != HK_DIM_LENGTH) {
        if (unit)
            hk_row_mistake(parser, HK_CODE_UNIT_WRONG, hk_token(parser)->at, "%.*s is no length", (int)(at - number),
                           number);
        else
            hk_row_mistake(parser, HK_CODE_UNIT_MISSING, hk_token(parser)->at, "the cut length has no unit");
        hk_row_hint(parser, "write a length like cut 30 cm or cut 12 in");
        return false;
    }
    if (!(length > 0) || length * factor > HK_QUANTITY_MOST) {
        hk_row_mistake(parser, HK_CODE_RANGE, hk_token(parser)->at, "the cut length is %s", length > 0 ? "too large" : "0");
        hk_row_hint(parser, "write a length like cut 30 cm or cut 12 in");
        return false;
    }
    go_to(parser, at);
    step.cut_m = length * factor;
    return take_times(parser, &step.many, &found, &more) && add(parser, steps, step);
}

/* ---- Items ---- */

/* "leaving a 30 cm tail for sewing". */
static bool take_tail_of_yarn(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    if (hk_row_take(parser, "leaving|leave a|an? long?")) {
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
            parser->now++;
        hk_row_mark(parser, '-');
        hk_row_take(parser, "cm|in|inch|inches|mm");
        hk_row_mark(parser, '"');
        hk_row_mark(parser, '.');
        if (hk_row_take(parser, "long? tail|end")) {
            if (hk_row_take(parser, "for|to"))
                while (hk_token(parser)->kind == HK_TOKEN_WORD)
                    parser->now++;
            return true;
        }
    }
    parser->now = start;
    return false;
}

/* Skips words without work that change no count. */
static bool take_nothing(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    struct hk_where last;
    bool found = false;
    if (hk_row_take(parser, "working|working|placing|making the? last")) { /* "working last dc in top of ch-3" */
        if (!hk_row_take(parser, "st|stitch"))
            hk_row_stitch_take(parser);
        if (hk_row_where(parser, &last, &found) && found)
            return true;
        parser->now = start;
    }
    return hk_row_take(parser, "make|form? a|an? magic|adjustable ring|loop|circle") ||
           hk_row_take(parser, "do|don't not? turn|join|cut|break the? yarn?") ||
           hk_row_take(parser, "fasten|finish|end off") || hk_row_take(parser, "cut|break the? yarn") ||
           hk_row_take(parser, "weave in ends?") || take_tail_of_yarn(parser) ||
           hk_row_take(parser, "draw|pull the? ring|loop closed|tight") || hk_row_take(parser, "close ring") ||
           hk_row_take(parser, "rs|ws facing?") || hk_row_take(parser, "with rs|ws facing") ||
           hk_row_take(parser, "here and throughout") || hk_row_take(parser, "loosely") ||
           hk_row_take(parser, "join|joined? with? sl st at|each end of? rnds|rounds throughout") ||
           hk_row_take(parser, "working|work from left to right") ||
           hk_row_take(parser, "working|work from right to left") || hk_row_take(parser, "work in a? spiral");
}

static bool take_inc_dec(struct hk_row_parser *parser, size_t *stitch)
{
    if (hk_row_take(parser, "inc|increase"))
        *stitch = HK_STITCH_INC;
    else if (hk_row_take(parser, "dec|decrease"))
        *stitch = HK_STITCH_DEC;
    else
        return false;
    return true;
}

/* Parses a stitch name, inc or dec, or a word that the pattern defines. */
static bool item_named(struct hk_row_parser *parser, struct steps *steps, const struct hk_graded_count *before)
{
    size_t at = hk_token(parser)->at, stitch = SIZE_MAX;
    hk_row_mark(parser, '-');             /* "5-dc" */
    hk_row_take(parser, "blo|flo|bl|fl"); /* "3 BLO sc" */
    const struct hk_definition *definition = hk_row_definition_take(parser);
    if (definition && definition->step_count == 1 && definition->steps->kind == HK_STEP_STITCH &&
        !definition->steps->where.given && number_is(definition->steps->many, 1) &&
        number_is(definition->steps->where.count, 1))
        return item_stitch(parser, steps, definition->steps->stitch, before, at); /* "dec = dc2tog" */
    if (definition)
        return item_defined(parser, steps, definition, before, at);
    if (!before && (stitch = passed_over(parser)) != SIZE_MAX)
        return item_stitch(parser, steps, stitch, NULL, at);
    stitch = hk_row_stitch_take(parser);
    if (stitch == SIZE_MAX && !take_inc_dec(parser, &stitch))
        return hk_row_unknown(parser);
    if (stitch == parser->chain)
        return item_chain(parser, steps, before);
    if (stitch < parser->words->catalogue->stitch_count && parser->words->catalogue->stitches[stitch].leaves == 0 &&
        parser->words->catalogue->stitches[stitch].loops == 0 && parser->words->catalogue->stitches[stitch].wraps == 0)
        return item_skip(parser, steps);
    return item_stitch(parser, steps, stitch, before, at);
}

static bool item_numbered(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_graded_count number;
    size_t at = hk_token(parser)->at;
    if (!hk_row_number(parser, &number))
        return false;
    if (number.one == 0 && !number.by_size) {
        hk_row_mistake(parser, HK_CODE_RANGE, at, "0 works nothing");
        hk_row_hint(parser, "leave it out, or write a number from 1");
        return false;
    }
    const struct hk_token *next = hk_token(parser);
    if (next->kind == HK_TOKEN_MARK && closer_of(next->mark)) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "there is a number before brackets");
        hk_row_hint(parser, "write it after them: ( ) x 3");
        return false;
    }
    if (next->kind != HK_TOKEN_WORD && next->kind != HK_TOKEN_NUMBER && !hk_row_mark_ahead(parser, '-')) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, at, "a number without a stitch");
        hk_row_hint(parser, "name what is worked: sc 3, 5 dc in next st");
        return false;
    }
    return item_named(parser, steps, &number);
}

/* The conventional names of yarns by their order. */
static const struct {
    const char *name;
    size_t yarn;
} yarn_letters[] = {{"mc", 0}, {"cc", 1}, {"a", 0}, {"b", 1}, {"c", 2}, {"d", 3}, {"e", 4}, {"f", 5}};

static bool add_yarn(struct hk_row_parser *parser, struct steps *steps, size_t yarn, size_t length)
{
    struct hk_step step = step_of(parser, HK_STEP_YARN);
    size_t end = hk_token(parser)->at + length;
    step.name = parser->words->yarns[yarn];
    step.spare = (int64_t)yarn;
    while (!hk_row_ends(parser) && hk_token(parser)->at < end)
        parser->now++;
    return add(parser, steps, step);
}

/* Parses the name of a yarn as a step. */
static bool take_yarn(struct hk_row_parser *parser, struct steps *steps)
{
    size_t yarn = SIZE_MAX, longest = 0;
    for (size_t i = 0; i < parser->words->yarn_count; i++) {
        const char *name = parser->words->yarns[i];
        size_t length = strlen(name);
        if (length > longest && hk_text_starts(hk_token_text(parser), name) &&
            !hk_is_letter(hk_token_text(parser)[length])) {
            yarn = i;
            longest = length;
        }
    }
    if (yarn != SIZE_MAX)
        return add_yarn(parser, steps, yarn, longest);
    for (size_t i = 0; i < sizeof yarn_letters / sizeof *yarn_letters; i++) {
        bool letter = yarn_letters[i].name[1] == '\0';
        size_t number = yarn_letters[i].yarn + (letter && parser->words->main_named);
        if (number < parser->words->yarn_count && hk_row_ahead(parser, yarn_letters[i].name) &&
            hk_token_text(parser)[0] <= 'Z') /* a capital, since "a" is an article */
            return add_yarn(parser, steps, number, hk_token(parser)->length);
    }
    return false;
}

static bool item_yarn(struct hk_row_parser *parser, struct steps *steps)
{
    size_t start = parser->now;
    if (!hk_row_take(parser, "with|in|using") && !hk_row_take(parser, "change|changing|switch|switching to"))
        return false;
    hk_row_take(parser, "the? color|colour|yarn?");
    if (take_yarn(parser, steps)) {
        if (hk_row_take(parser, "in|on|at|with the? last|final|end") && !hk_row_take(parser, STS))
            hk_row_stitch_take(parser); /* "in last st": the yarn of the following stitches */
        hk_row_take(parser, "of the|this? rnd|round|row");
        return true;
    }
    parser->now = start;
    return false;
}

#define HOLDS "place|slip|put|sl|transfer|leave|move"

/* Returns true for stitches, with an optional number, after a word that may put them on hold; "sl 1" is a stitch. */
static bool hold_ahead(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    bool ahead = hk_row_take(parser, HOLDS);
    if (ahead) {
        hk_row_take(parser, "the");
        ahead = hk_row_ahead(parser, "next|last|first|these|following|rem|remaining|center|centre|middle|all");
        if (!ahead && hk_row_number_ahead(parser)) {
            while (hk_token(parser)->kind == HK_TOKEN_NUMBER || hk_token(parser)->kind == HK_TOKEN_MARK)
                parser->now++;
            ahead = hk_row_take(parser, STS) && hk_row_hold_take(parser);
        }
    }
    parser->now = start;
    return ahead;
}

/* Parses "for left sleeve", "(left sleeve)", "left sleeve" after stitches put on hold. */
static bool hold_name_take(struct hk_row_parser *parser, struct hk_step *step)
{
    char close = hk_token(parser)[1].kind == HK_TOKEN_WORD && hk_row_mark(parser, '(') ? ')' : 0;
    hk_row_take(parser, "for|as the?");
    size_t first = hk_token(parser)->at, end = first;
    while (hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, "and|then")) {
        end = hk_token(parser)->at + hk_token(parser)->length;
        parser->now++;
    }
    if (close && !hk_row_mark(parser, close))
        return false;
    step->hold = true;
    step->name = hk_arena_text(parser->arena, parser->text->text + first, end - first);
    return step->name;
}

/* "leave last 4 sts unworked", "leaving rem sts on a holder". */
static bool item_leave(struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step step = step_of(parser, HK_STEP_LEAVE);
    bool found;
    step.at = hk_token(parser)[-1].at;
    if (!hk_row_where_words(parser, &step.where, &found))
        return false;
    if (!found)
        return hk_row_unknown(parser);
    if (hk_row_hold_take(parser)) {
        step.kind = HK_STEP_SKIP;
        return hold_name_take(parser, &step) ? add(parser, steps, step) : hk_row_unknown(parser);
    }
    hk_row_take(parser, "unworked|free");
    return add(parser, steps, step);
}

/* "place next 14 sts on hold for left sleeve". */
static bool item_hold(struct hk_row_parser *parser, struct steps *steps)
{
    size_t start = parser->now;
    struct hk_step step = step_of(parser, HK_STEP_SKIP);
    bool found = false;
    hk_row_take(parser, HOLDS);
    hk_row_take(parser, "the");
    if (hk_row_number_ahead(parser)) {
        step.where = (struct hk_where){.given = true, .stitch = SIZE_MAX, .at = hk_token(parser)->at};
        found = hk_row_number_of_places(parser, &step.where.count) && hk_row_take(parser, STS);
    } else if (!hk_row_where_words(parser, &step.where, &found)) {
        return false;
    }
    if (found && hk_row_hold_take(parser) && hold_name_take(parser, &step))
        return add(parser, steps, step);
    parser->now = start;
    return false;
}

/* Skips to the end of the words of the item. */
static void words_pass(struct hk_row_parser *parser)
{
    while (hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, "and|then|turn|join"))
        parser->now++;
}

/* Parses "evenly along the right front edge" after a number of stitches. */
static bool take_evenly(struct hk_row_parser *parser, struct hk_where *where)
{
    size_t start = parser->now;
    hk_row_take(parser, "evenly spaced?");
    if (hk_row_take(parser, "along|across|around|round|up|down|from|at the?")) {
        bool edge = false;
        while (hk_token(parser)->kind == HK_TOKEN_WORD && !hk_row_ahead(parser, "and|then|turn|join")) {
            edge |= hk_row_ahead(parser, "edge|edges|neck|neckline|armhole|opening|side|sides|front|underarm|border");
            parser->now++;
        }
        if (edge) {
            *where = (struct hk_where){.given = true,
                                       .worded = true,
                                       .what = HK_WHAT_OTHER,
                                       .other = HK_OTHER_EVENLY,
                                       .count = where->count,
                                       .stitch = SIZE_MAX,
                                       .at = parser->tokens[start].at};
            return true;
        }
    }
    parser->now = start;
    return false;
}

/*
 * Parses the words after "pick up and knit": "3 sts for every 4 rows of left front", "1 st in each row end", "6 sts
 * along the underarm".
 */
static bool item_pick_up(struct hk_row_parser *parser, struct steps *steps, const char *us)
{
    struct hk_step step = step_of(parser, HK_STEP_STITCH);
    struct hk_graded_count number = one;
    bool found = false, numbered = hk_row_number_ahead(parser);
    size_t at = hk_token(parser)->at;
    step.at = hk_token(parser)[-1].at;
    step.stitch = hk_catalogue_stitch(parser->words->catalogue, us);
    if (step.stitch == SIZE_MAX)
        return hk_row_unknown(parser);
    if (numbered && !hk_row_number_of_places(parser, &number))
        return false;
    hk_row_take(parser, STS);
    size_t start = parser->now;
    if (hk_row_take(parser, "for|in|from|per|out? of? every|each?") && hk_token(parser)->kind == HK_TOKEN_NUMBER) {
        int64_t of = hk_token(parser)->value;
        parser->now++;
        struct hk_where *where = &step.where;
        *where = (struct hk_where){.given = true, .worded = true, .which = HK_WHICH_EACH, .stitch = SIZE_MAX, .at = at};
        where->count = one;
        if (!number.by_size && of >= number.one && of < 100 && hk_row_other_take(parser, where) &&
            where->other == HK_OTHER_ROW_ENDS) {
            where->take = number.one;
            where->of = of;
            return add(parser, steps, step);
        }
        if (!number.by_size && of >= number.one && of < 100 && hk_row_take(parser, "rows|row")) {
            where->what = HK_WHAT_OTHER;
            where->other = HK_OTHER_ROW_ENDS;
            hk_row_other_works(parser, where);
            where->take = number.one;
            where->of = of;
            return add(parser, steps, step);
        }
    }
    parser->now = start;
    if (!hk_row_where(parser, &step.where, &found))
        return false;
    if (found && step.where.which == HK_WHICH_EACH) {
        step.many = number;
        return add(parser, steps, step);
    }
    parser->now = start;
    if (!numbered)
        return hk_row_unknown(parser);
    step.where = (struct hk_where){.given = true,
                                   .worded = true,
                                   .what = HK_WHAT_OTHER,
                                   .other = HK_OTHER_EVENLY,
                                   .count = number,
                                   .stitch = SIZE_MAX,
                                   .at = at};
    words_pass(parser);
    return add(parser, steps, step);
}

/* Skips words between items without meaning: "and", "then work", "ending with". */
static bool take_filler(struct hk_row_parser *parser)
{
    size_t tokens;
    if (hk_row_ahead(parser, "place marker|m") || hold_ahead(parser) ||
        hk_row_ahead(parser, "work on|along|in|into|around|up? the? other|opposite|back|front|third") ||
        hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX)
        return false;
    if (hk_row_take(parser, "end|ending")) {
        hk_row_take(parser, "with|by");
        return true;
    }
    return hk_row_take(parser, "and|&|then|now|work|make|place|loosely");
}

static bool item(struct hk_row_parser *parser, struct steps *steps);

static bool item_here(struct hk_row_parser *parser, struct steps *steps)
{
    size_t tokens, mistakes = parser->mistakes;
    if (hk_token(parser)->kind == HK_TOKEN_MARK && closer_of(hk_token(parser)->mark))
        return item_group(parser, steps);
    if (hk_row_mark_ahead(parser, '*') || hk_row_mark_ahead(parser, TWO_STARS))
        return item_star(parser, steps);
    for (;;) {
        if (take_nothing(parser))
            return true;
        if (parser->mistakes > mistakes)
            return false;
        if (!take_filler(parser))
            break;
        if (hk_row_mark_ahead(parser, '*') ||
            (hk_token(parser)->kind == HK_TOKEN_MARK && closer_of(hk_token(parser)->mark)))
            return item(parser, steps);
    }
    if (hk_row_take(parser, "rep|repeat"))
        return item_rep(parser, steps);
    if (hk_row_take(parser, "tch") || hk_row_take(parser, "turning chain|ch"))
        return item_turning(parser, steps);
    if (hk_row_take(parser, "join|joined|rejoin|attach"))
        return item_join(parser, steps);
    if (hk_row_take(parser, "turn|turning|turned work|piece?")) {
        struct hk_step step = step_of(parser, HK_STEP_TURN);
        step.at = hk_token(parser)[-1].at;
        return add(parser, steps, step);
    }
    if (hk_row_take(parser, "sl|slip m|marker|markers") || hk_row_take(parser, "sm|slm"))
        return item_marker(parser, steps, HK_STEP_PASS);
    if (hk_row_take(parser, "pm") || hk_row_take(parser, "place marker|m|markers") ||
        hk_row_take(parser, "mark this|last st|stitch"))
        return item_marker(parser, steps, HK_STEP_MARK);
    if (hk_row_take(parser, "mark first st|stitch"))
        return item_mark_first(parser, steps);
    if (hk_row_take(parser, "remove|removing all|the|both m|marker|markers") ||
        hk_row_take(parser, "remove|removing markers"))
        return item_unmark(parser, steps);
    if (hk_row_take(parser, "rm") || hk_row_take(parser, "remove|removing m|marker"))
        return item_marker(parser, steps, HK_STEP_UNMARK);
    if (hk_row_take(parser, "move m|marker|markers up? into? this? st|stitch?")) {
        return true;
    }
    if (hk_row_take(parser, "working|work? on|along|in|into|around|up? the? other|opposite side of? the? "
                            "foundation|starting|beg|beginning? ch|chain|row|edge?"))
        return add(parser, steps, step_of(parser, HK_STEP_OTHER_SIDE));
    if (hk_row_take(parser, "w & t") || hk_row_take(parser, "wrap and|& turn") ||
        hk_row_take(parser, "wrap next st and|& turn"))
        return add(parser, steps, step_of(parser, HK_STEP_TURN));
    if (hold_ahead(parser) && (item_hold(parser, steps) || parser->mistakes > mistakes))
        return parser->mistakes == mistakes;
    if (hk_row_take(parser, "pick up and|& purl|p"))
        return item_pick_up(parser, steps, "p");
    if (hk_row_take(parser, "pick up and|& knit|k") || hk_row_take(parser, "puk") || hk_row_take(parser, "pick up"))
        return item_pick_up(parser, steps, "k");
    if (hk_row_take(parser, "leave|leaving"))
        return item_leave(parser, steps);
    if (hk_row_take(parser, "cut"))
        return item_cut(parser, steps);
    if (hk_row_ahead(parser, "in|with|using|change|changing|switch") && item_yarn(parser, steps))
        return true;
    if (hk_row_take(parser, "blo|flo") ||
        hk_row_take(parser, "in|through|working|work in|into|through? the? back|front|third loop|loops|lp|lps only?") ||
        hk_row_take(parser, "in blo|flo") || hk_row_take(parser, "back|front loop|loops only")) {
        hk_row_mark(parser, ',');
        if (hk_row_ends(parser))
            return hk_row_unknown(parser);
        return item(parser, steps);
    }
    if (hk_row_number_ahead(parser) && hk_row_stitch_ahead(parser, &tokens) == SIZE_MAX)
        return item_numbered(parser, steps);
    return item_named(parser, steps, NULL);
}

/* "Sc in next 3 sts with CC": sets the yarn of the last item, from its first step on, and of the following ones. */
static bool yarn_of_item(struct hk_row_parser *parser, struct steps *steps, size_t first)
{
    size_t start = parser->now, count = steps->count;
    bool worked = count > first && steps->steps[first].kind != HK_STEP_YARN && steps->steps[first].kind != HK_STEP_TURN;
    if (!worked || !hk_row_take(parser, "with|in|using"))
        return true;
    hk_row_take(parser, "the? color|colour|yarn?");
    if (!take_yarn(parser, steps) || hk_row_ahead(parser, "in|on|at|with")) {
        parser->now = start;
        steps->count = count;
        return !parser->arena->out_of_memory;
    }
    struct hk_step yarn = steps->steps[count];
    memmove(steps->steps + first + 1, steps->steps + first, (count - first) * sizeof *steps->steps);
    steps->steps[first] = yarn;
    return true;
}

static bool item(struct hk_row_parser *parser, struct steps *steps)
{
    size_t first = steps->count;
    if (parser->items >= 3 * (size_t)HK_ROW_DEEP) /* a bracket is one item, the words before it another */
        return too_deep(parser);
    parser->items++;
    bool good = item_here(parser, steps) && yarn_of_item(parser, steps, first);
    parser->items--;
    return good;
}

/* ---- Lists of items ---- */

static bool separates(const struct hk_row_parser *parser)
{
    const struct hk_token *token = hk_token(parser);
    return token->kind == HK_TOKEN_MARK &&
           (token->mark == ',' || token->mark == ';' || token->mark == '.' || token->mark == ':');
}

static bool closes(const struct hk_token *token)
{
    return token->kind == HK_TOKEN_MARK && (token->mark == ')' || token->mark == ']' || token->mark == '}');
}

/* After a mistake: skips to the next separator or the closing bracket; skips inner brackets as a whole. */
static void recover(struct hk_row_parser *parser, const struct steps *steps)
{
    size_t deep = 0;
    for (; !hk_row_ends(parser); parser->now++) {
        const struct hk_token *token = hk_token(parser);
        bool star = steps->star != NO_STAR && token->kind == HK_TOKEN_MARK && token->mark == '*';
        if (deep == 0 && (separates(parser) || closes(token) || star))
            return;
        if (token->kind == HK_TOKEN_MARK && closer_of(token->mark))
            deep++;
        else if (closes(token))
            deep--;
    }
}

static bool nothing_there(struct hk_row_parser *parser, const struct hk_token *before)
{
    const struct hk_token *mark = separates(parser) ? hk_token(parser) : before;
    if (!mark) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, 0, "the row is empty");
        hk_row_hint(parser, "write what is worked, such as *sc 1*");
    } else {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, mark->at, "nothing stands %s this %s",
                       mark == before ? "behind" : "before", mark->mark == ',' ? "comma" : "semicolon");
        hk_row_hint(parser, "leave it out, or write what is missing");
    }
    return false;
}

/* Parses the stated count of the row: a bracket, or a number after a dash, a colon or a full stop. */
static bool take_stated(struct hk_row_parser *parser, const struct hk_token *before, size_t steps)
{
    if (parser->depth || steps == 0)
        return false;
    const struct hk_token *token = hk_token(parser);
    if (token->kind == HK_TOKEN_MARK && closer_of(token->mark))
        return hk_row_stated(parser, true);
    if (token->kind == HK_TOKEN_MARK && (token->mark == '-' || token->mark == '=')) {
        if (hk_row_number_ahead(parser) && hk_row_stated(parser, false)) /* "- (42, 48) sts": the first size has none */
            return true;
        parser->now++;
        while (hk_row_mark(parser, '-') || hk_row_mark(parser, '='))
            ;
        if (hk_row_stated(parser, false))
            return true;
        parser->now = (size_t)(token - parser->tokens);
        return false;
    }
    return before && (before->mark == '.' || before->mark == ':' || before->mark == ';') &&
           hk_row_stated(parser, false);
}

/* Reports name, number, name with a blank before the number, where a comma is needed. */
static bool comma_needed(const struct hk_row_parser *parser)
{
    const struct hk_token *number = hk_token(parser) - 1;
    size_t tokens;
    if (parser->now < 2 || number->kind != HK_TOKEN_NUMBER || hk_row_stitch_ahead(parser, &tokens) == SIZE_MAX)
        return false;
    return number[-1].kind == HK_TOKEN_WORD && number[-1].at + number[-1].length < number->at;
}

static bool comma_missing(struct hk_row_parser *parser)
{
    hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, hk_token(parser)->at, "a comma is missing before %.*s",
                   (int)hk_token(parser)->length, hk_token_text(parser));
    hk_row_hint(parser, "write a comma between items: sc 3, ch 1");
    return false;
}

/* Parses items up to the closing bracket, which is left for the caller, or the end. */
static bool parse_steps(struct hk_row_parser *parser, struct steps *steps, char close)
{
    const struct hk_token *before = NULL;
    bool due = true;
    while (!parser->stopped && !parser->arena->out_of_memory && !parser->scratch.out_of_memory) {
        const struct hk_token *token = hk_token(parser);
        if (closes(token)) {
            if (close)
                break;
            hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, token->at, "this bracket closes nothing");
            hk_row_hint(parser, "write ( where the group begins, or leave it out");
            parser->now++;
            continue;
        }
        if (hk_row_ends(parser))
            break;
        if (take_stated(parser, before, steps->count)) {
            before = NULL;
            due = false;
            continue;
        }
        if (separates(parser)) {
            bool comma = token->mark == ',' || token->mark == ';';
            if (due && comma && (before == NULL ? steps->count == 0 : before->mark == ','))
                nothing_there(parser, before);
            before = token;
            parser->now++;
            due = true;
            continue;
        }
        if (!due && comma_needed(parser))
            comma_missing(parser);
        size_t now = parser->now;
        if (!item(parser, steps) && !parser->stopped)
            recover(parser, steps);
        if (parser->now == now && !parser->stopped) { /* no progress: the text is not an item */
            hk_row_unknown(parser);
            parser->now++;
            recover(parser, steps);
        }
        due = false;
        before = NULL;
    }
    if (due && before && before->mark == ',' && !parser->stopped)
        nothing_there(parser, before);
    if (steps->star != NO_STAR && !parser->stopped && parser->mistakes == steps->mistakes) {
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, steps->star_at, "the repeat that opens here is not closed");
        hk_row_hint(parser, "write * after its last stitch too, or rep from * with the number of times");
    }
    return !parser->stopped;
}

/* ---- Rows ---- */

/* Marks a slip stitch at the end, into the first stitch or the top of the chain, as the join of a round. */
static void find_join(const struct hk_row_parser *parser, struct steps *steps)
{
    size_t last = steps->count;
    while (last > 0 && steps->steps[last - 1].kind == HK_STEP_TURN)
        last--;
    if (last < 2)
        return;
    struct hk_step *step = &steps->steps[last - 1];
    if (step->kind == HK_STEP_STITCH && step->stitch == parser->slip && step->where.given &&
        (step->where.which == HK_WHICH_FIRST || step->where.what == HK_WHAT_TOP))
        step->kind = HK_STEP_JOIN;
}

/*
 * Returns true when a repeat or "each" continues as long as it fits; to_end: to the end of the row, as stated or by
 * default.
 */
static bool goes_on(const struct hk_step *steps, size_t count, bool to_end)
{
    for (size_t i = 0; i < count; i++) {
        const struct hk_step *step = &steps[i];
        bool limited = step->where.limit == HK_LIMIT_LAST || step->where.limit == HK_LIMIT_PLACE;
        if (step->kind == HK_STEP_REPEAT && step->where.limit != HK_LIMIT_COUNT && (!to_end || !limited))
            return true;
        if ((step->kind == HK_STEP_STITCH || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_SKIP) &&
            step->where.which == HK_WHICH_EACH && (!to_end || !limited))
            return true;
        if (step->kind != HK_STEP_TURNING && goes_on(step->steps, step->step_count, to_end))
            return true;
    }
    return false;
}

static bool has_knit(const struct hk_catalogue *catalogue, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH && steps[i].stitch < catalogue->stitch_count &&
            catalogue->stitches[steps[i].stitch].family == HK_FAMILY_KNIT)
            return true;
        if (has_knit(catalogue, steps[i].steps, steps[i].step_count))
            return true;
    }
    return false;
}

/*
 * Finds whether some places of a row are of other work, and some are not. A skipped stitch is of other work if the row
 * skips none.
 */
static void others_find(struct hk_step *steps, size_t count, bool skips, bool *others, bool *of_edge)
{
    for (size_t i = 0; i < count; i++) {
        struct hk_step *step = &steps[i];
        if (step->where.what == HK_WHAT_SKIPPED && step->where.given && !skips)
            step->where.what = HK_WHAT_OTHER;
        bool takes = step->kind == HK_STEP_STITCH || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_SKIP;
        if (step->where.what == HK_WHAT_OTHER && step->where.given)
            *others = true;
        else if (takes && step->where.what != HK_WHAT_RING && step->where.which != HK_WHICH_SAME)
            *of_edge = true;
        if (step->kind == HK_STEP_REPEAT) /* the steps in brackets are worked in their place */
            others_find(step->steps, step->step_count, skips, others, of_edge);
    }
}

/* "Sk next 22 sts of back, join yarn in next st": the row is worked on stitches of the back, and skips some of them. */
static void skips_before_join(struct hk_row *row)
{
    const size_t join = hk_row_join(row);
    for (size_t i = 0; i < join && join < row->step_count && !row->joined; i++) {
        struct hk_where *where = &row->steps[i].where;
        if (row->steps[i].kind == HK_STEP_SKIP && where->what == HK_WHAT_OTHER && where->other == HK_OTHER_STITCHES &&
            where->work_count == 1 && !where->all && where->which != HK_WHICH_EACH)
            where->what = where->stitch == SIZE_MAX ? HK_WHAT_ANY : HK_WHAT_STITCH;
    }
}

static bool skips(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (steps[i].kind == HK_STEP_SKIP || skips(steps[i].steps, steps[i].step_count))
            return true;
    return false;
}

bool hk_row_skips(const struct hk_row *row)
{
    return skips(row->steps, row->step_count);
}

static bool says_around(const struct hk_row_parser *parser)
{
    for (size_t i = 0; i < parser->token_count; i++) {
        const struct hk_token *token = &parser->tokens[i];
        if (token->kind == HK_TOKEN_WORD && token->length == 6 &&
            hk_text_starts(parser->text->text + token->at, "around") && parser->tokens[i + 1].kind != HK_TOKEN_WORD)
            return true;
    }
    return false;
}

static enum hk_way way_of(const struct hk_row_parser *parser, const struct hk_row *row)
{
    if (row->joined || says_around(parser))
        return HK_WAY_ROUNDS;
    if (row->turned)
        return HK_WAY_ROWS;
    for (size_t i = 0; i < row->step_count; i++)
        if (row->steps[i].kind == HK_STEP_TURNING)
            return HK_WAY_ROWS;
    return HK_WAY_NOT_STATED;
}

/* "Knit.", "K" alone and "K with MC" work every stitch. */
static void whole_row(const struct hk_row_parser *parser, struct steps *steps)
{
    struct hk_step *only = NULL;
    for (size_t i = 0; i < steps->count; i++) {
        enum hk_step_kind kind = steps->steps[i].kind;
        bool beside = kind == HK_STEP_TURN || kind == HK_STEP_CHAIN || kind == HK_STEP_YARN || kind == HK_STEP_JOIN ||
                      kind == HK_STEP_UNMARK;
        if (beside)
            continue;
        if (only)
            return;
        only = &steps->steps[i];
    }
    if (!only || only->kind != HK_STEP_STITCH || only->where.given || only->where.limit != HK_LIMIT_NONE ||
        only->stitch >= parser->words->catalogue->stitch_count ||
        parser->words->catalogue->stitches[only->stitch].family != HK_FAMILY_KNIT ||
        parser->words->catalogue->stitches[only->stitch].needs != 1 || !number_is(only->where.count, 1))
        return;
    size_t end = parser->stated_count ? parser->stated[0].at : SIZE_MAX;
    for (size_t i = 0; i < parser->token_count; i++)
        if (parser->tokens[i].kind == HK_TOKEN_NUMBER && parser->tokens[i].at > only->at && parser->tokens[i].at < end)
            return;
    only->where.which = HK_WHICH_EACH;
    only->where.limit = HK_LIMIT_END;
}

static bool find_own(struct hk_row_parser *parser, const char *us, size_t *stitch)
{
    *stitch = hk_catalogue_stitch(parser->words->catalogue, us);
    if (*stitch != SIZE_MAX)
        return true;
    hk_row_mistake(parser, HK_CODE_NAME_UNKNOWN, 0, "the table of stitches has no %s, which rows are made of", us);
    hk_row_hint(parser, "put it back into stitches.csv");
    return false;
}

size_t hk_row_join(const struct hk_row *row)
{
    size_t i = 0;
    while (i < row->step_count && (row->steps[i].kind == HK_STEP_TURN || row->steps[i].kind == HK_STEP_SKIP ||
                                   row->steps[i].kind == HK_STEP_YARN))
        i++;
    return i < row->step_count && row->steps[i].kind == HK_STEP_JOIN ? i : row->step_count;
}

static bool read_steps(struct hk_row_parser *parser, struct hk_row *row)
{
    struct steps steps = {.star = NO_STAR, .second = NO_STAR};
    if (!hk_row_tokenize(parser) || !find_own(parser, "ch", &parser->chain) ||
        !find_own(parser, "sl st", &parser->slip))
        return false;
    bool good = parse_steps(parser, &steps, 0);
    if (steps.count == 0 && !parser->mistakes)
        nothing_there(parser, NULL);
    if (!good || parser->mistakes || parser->arena->out_of_memory || parser->scratch.out_of_memory)
        return false;
    find_join(parser, &steps);
    whole_row(parser, &steps);
    *row = (struct hk_row){.steps = steps.steps,
                           .step_count = steps.count,
                           .stated = parser->stated,
                           .stated_count = parser->stated_count,
                           .terms = parser->words->terms,
                           .text = parser->text};
    for (size_t i = 0; i < steps.count; i++) {
        row->joined |= steps.steps[i].kind == HK_STEP_JOIN && i > 0 && i != hk_row_join(row);
        row->turned |= steps.steps[i].kind == HK_STEP_TURN;
    }
    row->repeats = goes_on(steps.steps, steps.count, false);
    row->to_end = goes_on(steps.steps, steps.count, true);
    row->knit = has_knit(parser->words->catalogue, steps.steps, steps.count);
    row->way = way_of(parser, row);
    skips_before_join(row);
    bool of_edge = false;
    others_find(steps.steps, steps.count, skips(steps.steps, steps.count), &row->others, &of_edge);
    row->only_others = row->others && !of_edge;
    return true;
}

static bool read_once(const struct hk_row_text *text, const struct hk_row_words *words, bool counts_first,
                      bool *two_ways, struct hk_row *row, struct hk_arena *arena, struct hk_diags *diags)
{
    struct hk_row_parser parser = {
        .text = text, .words = words, .arena = arena, .diags = diags, .counts_first = counts_first};
    bool good = read_steps(&parser, row);
    if (parser.scratch.out_of_memory || arena->out_of_memory)
        diags->out_of_memory = true;
    *two_ways = parser.graded_at_end;
    hk_arena_free(&parser.scratch);
    return good;
}

bool hk_row_read(const struct hk_row_text *text, const struct hk_row_words *words, struct hk_row *row,
                 struct hk_arena *arena, struct hk_diags *diags)
{
    bool two_ways = false, ignored;
    struct hk_row read;
    if (!read_once(text, words, false, &two_ways, &read, arena, diags))
        return false;
    struct hk_row *other = two_ways ? hk_arena_take(arena, 1, sizeof *other) : NULL;
    struct hk_diags findings = {0};
    if (other && read_once(text, words, true, &ignored, other, arena, &findings))
        read.other = other;
    diags->out_of_memory |= findings.out_of_memory;
    hk_diags_free(&findings);
    *row = read;
    return true;
}

/* ---- Cells ---- */

static struct hk_place cell_place(const struct hk_row_text *text, size_t offset)
{
    return hk_cell_place(text->cell, offset);
}

bool hk_row_parse(struct hk_cell cell, enum hk_terms terms, const struct hk_catalogue *catalogue, struct hk_row *row,
                  struct hk_arena *arena, struct hk_diags *diags)
{
    struct hk_span span;
    struct hk_row_text *text = hk_arena_take(arena, 1, sizeof *text);
    if (!text || !hk_span_make(cell, &span, arena)) {
        diags->out_of_memory = true;
        return false;
    }
    *text = (struct hk_row_text){.text = span.text, .origin = span.origin, .place = cell_place, .cell = cell};
    const struct hk_row_words words = {.catalogue = catalogue, .terms = terms, .size_count = 1};
    return hk_row_read(text, &words, row, arena, diags);
}

struct hk_place hk_row_place(const struct hk_row *row, size_t at)
{
    const struct hk_row_text *text = row->text;
    return text->place(text, text->origin ? text->origin[at] : at);
}
