/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 *     cell   = ["dec" | "inc"] graded ["each end"] "every" times
 *     times  = ["other"] rows | graded rows | graded "and" graded rows ["alternately"]
 *     rows   = "row" | "rows" | "round" | "rounds" | "rnd" | "rnds"
 */
#include "project/read/every_cell.h"

#include "project/read/grade.h"

#include <string.h>

struct parser {
    struct hk_reading *reading;
    struct hk_span whole;
};

/* A stretch of the text. */
struct span {
    const char *from, *to;
};

static struct span trimmed(struct span span)
{
    while (span.from < span.to && *span.from == ' ')
        span.from++;
    while (span.to > span.from && span.to[-1] == ' ')
        span.to--;
    return span;
}

/* Removes the first of the words that the span begins with; of two words with one beginning the longer stands first. */
static bool take_first(struct span *span, const char *const *words)
{
    for (; *words; words++) {
        size_t length = strlen(*words);
        if ((size_t)(span->to - span->from) < length || !hk_text_starts(span->from, *words) ||
            (hk_is_letter((*words)[length - 1]) && span->from + length < span->to && hk_is_letter(span->from[length])))
            continue;
        *span = trimmed((struct span){span->from + length, span->to});
        return true;
    }
    return false;
}

static bool take_last(struct span *span, const char *const *words)
{
    for (; *words; words++) {
        size_t length = strlen(*words);
        if ((size_t)(span->to - span->from) < length || !hk_text_starts(span->to - length, *words) ||
            (span->to - length > span->from && hk_is_letter(span->to[-(ptrdiff_t)length - 1])))
            continue;
        *span = trimmed((struct span){span->from, span->to - length});
        return true;
    }
    return false;
}

static bool not_read(const struct parser *parser)
{
    hk_diags_add(parser->reading->diags, HK_CODE_CHOICE, hk_span_place(&parser->whole, parser->whole.text),
                 "\"%s\" does not say how many stitches are shaped, and how often", parser->whole.text);
    hk_diags_hint(parser->reading->diags, "write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows");
    return false;
}

static bool graded_read(const struct parser *parser, struct span span, struct hk_graded *graded)
{
    struct hk_project *project = parser->reading->project;
    struct hk_span words;
    if (span.from >= span.to)
        return not_read(parser);
    if (!hk_is_digit(*span.from) && *span.from != '-' && !hk_is_letter(*span.from))
        return not_read(parser);
    if (!hk_span_part(&parser->whole, (size_t)(span.from - parser->whole.text), (size_t)(span.to - span.from), &words,
                      &project->arena)) {
        parser->reading->diags->out_of_memory = true;
        return false;
    }
    if (hk_is_letter(*words.text) && !hk_measure_find(&project->grade, words.text))
        return not_read(parser);
    return hk_graded_part(&words, project->size_count, &project->grade, false, graded, &project->arena,
                          parser->reading->diags);
}

static bool number_set(const struct parser *parser, int64_t number, struct hk_graded *graded)
{
    struct hk_project *project = parser->reading->project;
    *graded = (struct hk_graded){true, hk_arena_take(&project->arena, project->size_count, sizeof *graded->by_size),
                                 parser->whole.cell};
    for (size_t size = 0; graded->by_size && size < project->size_count; size++)
        graded->by_size[size] = (struct hk_amount){HK_AMOUNT_COUNT, number, 0};
    return graded->by_size;
}

/* `dec 2 sts`, `inc 1 st each end` */
static bool by_read(const struct parser *parser, struct span span, struct hk_every *every)
{
    static const char *const decs[] = {"decrease", "decreasing", "dec.", "dec", NULL};
    static const char *const incs[] = {"increase", "increasing", "inc.", "inc", NULL};
    static const char *const joining[] = {"of", "in", "on", NULL};
    static const char *const ends[] = {
        "at each end", "at both ends", "at each side", "each end", "both ends", "each side", NULL};
    struct hk_project *project = parser->reading->project;
    every->sign = take_first(&span, decs) ? -1 : take_first(&span, incs) ? 1 : 0;
    take_last(&span, joining);
    every->both_ends = take_last(&span, ends);
    if (!graded_read(parser, span, &every->by))
        return false;
    for (size_t size = 0; every->both_ends && size < project->size_count; size++)
        every->by.by_size[size].count *= 2;
    return true;
}

/* `5`, `4th` */
static bool after_read(const struct parser *parser, struct span span, struct hk_graded *after)
{
    static const char *const ordinals[] = {"th", "nd", "rd", "st", NULL};
    span = trimmed(span);
    for (size_t i = 0; ordinals[i] && span.to - span.from > 2; i++)
        if (hk_text_starts(span.to - 2, ordinals[i]) && hk_is_digit(span.to[-3])) {
            span.to -= 2;
            break;
        }
    return graded_read(parser, span, after);
}

static bool rows_read(const struct parser *parser, struct span span, struct hk_every *every)
{
    static const char *const alternately[] = {"alternately", "alternating", NULL};
    static const char *const rows[] = {"rows", "row", "rounds", "round", "rnds", "rnd", NULL};
    static const char *const others[] = {"other", NULL};
    bool said = take_last(&span, alternately);
    if (!take_last(&span, rows))
        return not_read(parser);
    if (span.from == span.to)
        return number_set(parser, 1, &every->after[0]);
    struct span other = span;
    if (take_first(&other, others))
        return other.from == other.to ? number_set(parser, 2, &every->after[0]) : not_read(parser);
    for (const char *c = span.from; c + 5 < span.to; c++)
        if (hk_text_starts(c, " and ")) {
            every->alternately = true;
            return after_read(parser, (struct span){span.from, c}, &every->after[0]) &&
                   after_read(parser, (struct span){c + 5, span.to}, &every->after[1]);
        }
    return said ? not_read(parser) : after_read(parser, span, &every->after[0]);
}

/* A distance of 0 rows between shaping rows cannot be worked. */
static bool rows_between(const struct parser *parser, const struct hk_every *every)
{
    for (size_t size = 0; size < parser->reading->project->size_count; size++) {
        bool shapes = every->by.by_size[size].count > 0, none = every->after[0].by_size[size].count == 0;
        none |= every->alternately && every->after[1].by_size[size].count == 0;
        if (shapes && none)
            return not_read(parser);
    }
    return true;
}

bool hk_every_cell(struct hk_reading *reading, struct hk_cell cell, struct hk_every *every)
{
    struct parser parser = {.reading = reading};
    *every = (struct hk_every){.cell = cell};
    if (hk_cell_empty(cell))
        return true;
    every->given = true;
    if (!reading->knows_sizes || !reading->knows_grade || !hk_span_make(cell, &parser.whole, &reading->project->arena))
        return false;
    const char *text = parser.whole.text, *at = strstr(text, "every ");
    if (!at)
        at = strstr(text, "each r"); /* "2 sts each row" */
    if (!at)
        return not_read(&parser);
    struct span by = {text, at}, rows = {strchr(at, ' ') + 1, text + strlen(text)};
    return by_read(&parser, trimmed(by), every) && rows_read(&parser, trimmed(rows), every) &&
           rows_between(&parser, every);
}
