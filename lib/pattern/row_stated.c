/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parses the counts that a row states at its end, in all usual forms; each is checked against the row. */
#include "pattern/row_parser.h"

#include "base/text.h"

#define STS "st|sts|stitch|stitches"
#define NO_SECTION SIZE_MAX
#define SPS "sp|sps|space|spaces|lp|lps|loop|loops|arch|arches"
#define CLOSES ")|]|}|,|;|."

/* "4 ch-1 sps", "4 2-ch sps"; "4 ch-1", "4 corners" at the end. */
static bool unit_space(struct hk_row_parser *parser, struct hk_stated *stated)
{
    size_t start = parser->now;
    int64_t chains = 0;
    if (!hk_row_space_take(parser, &chains)) {
        bool corner = hk_row_take(parser, "corner|corners"), chain = hk_row_take(parser, "ch|chain");
        hk_row_mark(parser, '-');
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
            chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
        chain = hk_row_take(parser, "ch|chain") || chain;
        if ((!corner && (!chain || chains == 0)) || !hk_row_ahead(parser, CLOSES)) {
            parser->now = start;
            return false;
        }
    }
    stated->of = HK_STATED_SPACES;
    stated->chains = chains > 0 ? chains : 0;
    return true;
}

static void unit_stitch(struct hk_row_parser *parser, struct hk_stated *stated)
{
    stated->stitch = hk_row_stitches_take(parser);
    if (stated->stitch == SIZE_MAX)
        return;
    stated->of = stated->stitch == parser->chain ? HK_STATED_CHAINS : HK_STATED_KIND;
    hk_row_take(parser, STS);
}

/* "inc'd", "increased", "dec'd", "total", "remain", "counting each ch-1 as a st". */
static bool take_any(struct hk_row_parser *parser, const char *const *phrases)
{
    for (; *phrases; phrases++)
        if (hk_row_take(parser, *phrases))
            return true;
    return false;
}

static void figure_tail(struct hk_row_parser *parser, struct hk_stated *stated)
{
    static const char *const says_nothing[] = {"total|altogether|rem|remain|remaining|remains|left|made",
                                               "in all|total|rnd|round|row", "on the? needle|needles|hook",
                                               "at|around underarm|underarms|corner|corners|ends", NULL};
    if (hk_row_take(parser, "inc'd|increased|inc|incd|added|more"))
        stated->of = HK_STATED_MORE;
    else if (hk_row_take(parser, "dec'd|decreased|dec|decd|fewer|less"))
        stated->of = HK_STATED_FEWER;
    while (take_any(parser, says_nothing) ||
           (stated->of == HK_STATED_CHAINS && !stated->each &&
            (stated->each = hk_row_take(parser, "at|around|in each underarm|corner|end|side"))))
        ;
    size_t start = parser->now;
    if (!hk_row_take(parser, ",? counting|including"))
        return;
    hk_row_take(parser, "each|every|all|the");
    if (!hk_row_take(parser, "turning|beg|beginning|starting? ch|chain|chs|chains|tch")) {
        parser->now = start;
        return;
    }
    hk_row_mark(parser, '-');
    if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
        parser->now++;
    bool space = hk_row_take(parser, SPS);
    stated->spaces_too = hk_row_take(parser, "as a|one|1? " STS) || space;
}

/* Parses a list with one number for each size: "30, 36, 42". */
static bool figure_list(struct hk_row_parser *parser, struct hk_graded_count *count)
{
    size_t sizes = parser->words->size_count, start = parser->now;
    int64_t *values = sizes > 1 ? hk_arena_take(parser->arena, sizes, sizeof *values) : NULL;
    bool good = values != NULL;
    for (size_t i = 0; good && i < sizes; i++) {
        const struct hk_token *token = hk_token(parser);
        good = token->kind == HK_TOKEN_NUMBER;
        values[i] = token->value;
        parser->now += good;
        good = good && (i + 1 == sizes || hk_row_mark(parser, ',') || hk_row_mark(parser, '/'));
    }
    bool more = good && (hk_row_mark_ahead(parser, ',') || hk_row_mark_ahead(parser, '/')) &&
                hk_token(parser)[1].kind == HK_TOKEN_NUMBER;
    if (good && !more) {
        *count = (struct hk_graded_count){.one = values[0], .by_size = values};
        return true;
    }
    parser->now = start;
    return false;
}

static bool figure(struct hk_row_parser *parser, struct hk_stated *stated)
{
    *stated = (struct hk_stated){.at = hk_token(parser)->at, .stitch = SIZE_MAX};
    bool list = figure_list(parser, &stated->count);
    if (!list && (!hk_row_number_ahead(parser) || !hk_row_number(parser, &stated->count)))
        return false;
    if (!hk_row_take(parser, STS) && !unit_space(parser, stated)) {
        if (hk_row_group_take(parser))
            stated->of = HK_STATED_GROUPS;
        else
            unit_stitch(parser, stated);
    }
    figure_tail(parser, stated);
    return true;
}

/* "12 each front, 8 each sleeve, 24 back": returns the multiplicity of a section of the row: 2 for "each". */
static int64_t section(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    hk_row_take(parser, "for|on|at|in the?");
    bool each = hk_row_take(parser, "each");
    hk_row_take(parser, "left|right");
    if (hk_row_take(parser, "front|back|sleeve|sleeves|fronts|side|half|end"))
        return each ? 2 : 1;
    parser->now = start;
    return 0;
}

static bool add_times(struct hk_row_parser *parser, struct hk_graded_count *sum, struct hk_graded_count more,
                      int64_t times)
{
    size_t sizes = parser->words->size_count;
    int64_t *values = hk_arena_take(parser->arena, sizes, sizeof *values);
    if (!values)
        return false;
    for (size_t i = 0; i < sizes; i++)
        values[i] = hk_graded_in(*sum, i) + times * hk_graded_in(more, i);
    *sum = (struct hk_graded_count){.one = values[0], .by_size = values};
    return true;
}

static bool keep(struct hk_row_parser *parser, struct hk_stated stated)
{
    struct hk_stated *grown =
        hk_arena_grow(parser->arena, parser->stated, parser->stated_count, &parser->stated_capacity, sizeof *grown);
    if (!grown)
        return false;
    parser->stated = grown;
    grown[parser->stated_count++] = stated;
    return true;
}

/* Returns true when only the end of the row follows a count. */
static bool closes_row(struct hk_row_parser *parser)
{
    static const char *const closes[] = {".|,|;",
                                         "do not|don't turn|join",
                                         "turn|join",
                                         "ch 1|2|3|4",
                                         "fasten|finish off",
                                         "cut|break the? yarn",
                                         "place marker",
                                         "pm marker?",
                                         NULL};
    size_t start = parser->now;
    while (take_any(parser, closes))
        ;
    bool ends = hk_row_ends(parser) || hk_row_mark_ahead(parser, '(') || hk_row_mark_ahead(parser, '[');
    parser->now = start;
    return ends;
}

bool hk_row_stated(struct hk_row_parser *parser, bool bracketed)
{
    if (!bracketed && parser->now < parser->not_stated)
        return false;
    size_t start = parser->now, kept = parser->stated_count;
    char close = hk_row_mark_ahead(parser, '(') ? ')' : hk_row_mark_ahead(parser, '[') ? ']' : '}';
    if (bracketed)
        parser->now++;
    bool good = true,
         approximate = hk_row_take(parser, "approx|approximately|about|ca|circa|roughly") || hk_row_mark(parser, '~');
    struct hk_stated sections = {.at = NO_SECTION};
    hk_row_mark(parser, '=');
    hk_row_take(parser, "total of?");
    do {
        struct hk_stated stated;
        good = figure(parser, &stated);
        int64_t times = good && stated.of == HK_STATED_STITCHES ? section(parser) : 0;
        if (times && sections.at == NO_SECTION)
            sections = (struct hk_stated){.at = stated.at, .stitch = SIZE_MAX};
        if (times)
            good = add_times(parser, &sections.count, stated.count, times);
        else if (good && !approximate)
            good = keep(parser, stated);
    } while (good && (hk_row_take(parser, ",|;|+ and|plus|&?") || hk_row_take(parser, "and|plus|&")) &&
             hk_row_number_ahead(parser));
    if (hk_row_take(parser, "approx|approximately|or so?")) {
        approximate = true;
        parser->stated_count = kept;
    }
    if (good && sections.at != NO_SECTION && !approximate)
        good = keep(parser, sections);
    if (good && bracketed)
        good = hk_row_mark(parser, close);
    if (good && closes_row(parser))
        return true;
    if (!bracketed)
        parser->not_stated = parser->now;
    parser->now = start;
    parser->stated_count = kept;
    return false;
}
