/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts that a row states at its end, in all usual forms: each is a check of what it says. */
#include "row_parser.h"

#include "text.h"

#define STS "st|sts|stitch|stitches"
#define NO_SECTION SIZE_MAX
#define SPS "sp|sps|space|spaces|lp|lps|loop|loops|arch|arches"

/* "4 ch-1 sps", "4 2-ch sps". */
static bool unit_space(struct hk_row_parser *parser, struct hk_stated *stated)
{
    size_t start = parser->now;
    hk_row_take(parser, "corner|corners");
    if (hk_row_take(parser, "ch|chain")) {
        hk_row_mark(parser, '-');
        if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
            stated->chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
    } else if (hk_token(parser)->kind == HK_TOKEN_NUMBER) {
        stated->chains = parser->tokens[parser->now++].value;
        hk_row_mark(parser, '-');
        if (!hk_row_take(parser, "ch|chain")) {
            parser->now = start;
            stated->chains = 0;
            return false;
        }
        hk_row_mark(parser, '-');
    }
    if (hk_row_take(parser, SPS) || (parser->now > start && hk_row_ahead(parser, ")|]|,|;|."))) {
        stated->of = HK_STATED_SPACES;
        return true;
    }
    parser->now = start;
    stated->chains = 0;
    return false;
}

static bool unit_stitch(struct hk_row_parser *parser, struct hk_stated *stated)
{
    size_t tokens = 0;
    stated->stitch = hk_row_stitch_ahead(parser, &tokens);
    if (stated->stitch != SIZE_MAX) {
        parser->now += tokens;
        stated->of = stated->stitch == parser->chain ? HK_STATED_CHAINS : HK_STATED_KIND;
        hk_row_take(parser, STS);
        return true;
    }
    const struct hk_token *token = hk_token(parser);
    const struct hk_words *list = &parser->words->catalogue->words[parser->words->terms];
    const char *text = hk_token_text(parser);
    for (size_t i = 0; token->kind == HK_TOKEN_WORD && i < list->count; i++) {
        if (list->words[i].length + 1 == token->length && hk_lower(text[token->length - 1]) == 's' &&
            hk_text_starts(text, list->words[i].text)) {
            stated->stitch = list->words[i].stitch;
            stated->of = stated->stitch == parser->chain ? HK_STATED_CHAINS : HK_STATED_KIND;
            parser->now++;
            return true;
        }
    }
    return false;
}

static bool unit_group(struct hk_row_parser *parser, struct hk_stated *stated)
{
    size_t start = parser->now, tokens = 0;
    if (hk_token(parser)->kind == HK_TOKEN_NUMBER) { /* "8 3-dc groups" */
        parser->now++;
        hk_row_mark(parser, '-');
        if (hk_row_stitch_ahead(parser, &tokens) != SIZE_MAX)
            parser->now += tokens;
        hk_row_mark(parser, '-');
    }
    if (hk_row_take(parser, "shell|shells|group|groups|grps|fan|fans") || hk_row_take(parser, "v - " STS) ||
        hk_row_take(parser, "v " STS) || hk_row_take(parser, "vst|vsts") || hk_row_definition_take(parser)) {
        stated->of = HK_STATED_GROUPS;
        return true;
    }
    parser->now = start;
    return false;
}

/* "inc'd", "increased", "dec'd", "total", "remain", "counting each ch-1 as a st". */
static void figure_tail(struct hk_row_parser *parser, struct hk_stated *stated)
{
    if (hk_row_take(parser, "inc'd|increased|inc|incd|added|more"))
        stated->of = HK_STATED_MORE;
    else if (hk_row_take(parser, "dec'd|decreased|dec|decd|fewer|less"))
        stated->of = HK_STATED_FEWER;
    bool more = true;
    while (more) {
        more = hk_row_take(parser,
                           "total|altogether|rem|remain|remaining|remains|left|made|in all|on needle|needles|hook") ||
               hk_row_take(parser, "in all|total|rnd|round|row") ||
               hk_row_take(parser, "on the? needle|needles|hook") ||
               hk_row_take(parser, "at|around underarm|underarms|corner|corners|ends");
        if (!more && hk_row_take(parser, "at|around|in each underarm|corner|end|side"))
            more = stated->each = true;
    }
    size_t start = parser->now;
    if (hk_row_take(parser, "counting|including") || hk_row_take(parser, ", counting|including")) {
        hk_row_take(parser, "each|every|all|the");
        bool chain = hk_row_take(parser, "turning|beg|beginning|starting? ch|chain|chs|chains|tch");
        if (chain) {
            hk_row_mark(parser, '-');
            if (hk_token(parser)->kind == HK_TOKEN_NUMBER)
                parser->now++;
            bool space = hk_row_take(parser, SPS);
            if (hk_row_take(parser, "as a|one|1? " STS) || space)
                stated->spaces_too = true;
            return;
        }
        parser->now = start;
    }
}

/* "30, 36, 42": a figure for each size, where there are as many. */
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
    size_t mistakes = parser->mistakes;
    bool list = figure_list(parser, &stated->count);
    if (!list && (!hk_row_number_ahead(parser) || !hk_row_number(parser, &stated->count) || parser->mistakes > mistakes))
        return false;
    if (!hk_row_take(parser, STS) && !unit_space(parser, stated) && !unit_group(parser, stated))
        unit_stitch(parser, stated);
    figure_tail(parser, stated);
    return true;
}

/* "12 each front, 8 each sleeve, 24 back": a section of the row, counted twice where it says each. */
static int64_t section(struct hk_row_parser *parser)
{
    bool each = hk_row_take(parser, "for|on each");
    if (!each && !hk_row_ahead(parser, "for|on the? left|right? front|back|sleeve|side") &&
        !hk_row_ahead(parser, "each|front|back|sleeve|left|right"))
        return 0;
    hk_row_take(parser, "for|on the?");
    each = hk_row_take(parser, "each") || each;
    hk_row_take(parser, "left|right");
    if (!hk_row_take(parser, "front|back|sleeve|sleeves|fronts|side|half|end"))
        return 0;
    return each ? 2 : 1;
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

/* Behind a count only what closes a row may stand. */
static bool closes_row(struct hk_row_parser *parser)
{
    size_t start = parser->now;
    bool more = true;
    while (more)
        more = hk_row_mark(parser, '.') || hk_row_mark(parser, ',') || hk_row_mark(parser, ';') ||
               hk_row_take(parser, "do not|don't turn|join") || hk_row_take(parser, "turn|join") ||
               hk_row_take(parser, "ch 1|2|3|4") || hk_row_take(parser, "fasten|finish off") ||
               hk_row_take(parser, "cut|break the? yarn") || hk_row_take(parser, "place|pm marker?");
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
