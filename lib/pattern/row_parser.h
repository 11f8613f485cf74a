/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The internal part of the parser of rows: tokens, and the parsing of words, numbers, stitches and places. */
#ifndef HK_ROW_PARSER_H
#define HK_ROW_PARSER_H

#include "base/diags.h"
#include "pattern/row.h"

enum hk_token_kind { HK_TOKEN_END, HK_TOKEN_WORD, HK_TOKEN_NUMBER, HK_TOKEN_MARK };

/* A run of letters, a run of digits or one other character. */
struct hk_token {
    enum hk_token_kind kind;
    size_t at, length; /* in the plain text */
    int64_t value;     /* of a number; HK_COUNT_MOST + 1 if it is larger */
    char mark;
};

struct hk_row_parser {
    const struct hk_row_text *text;
    const struct hk_row_words *words;
    struct hk_arena *arena; /* memory of the result */
    struct hk_arena scratch;
    struct hk_diags *diags;
    struct hk_token *tokens; /* the last is of kind END */
    size_t token_count;
    size_t now;        /* the next token */
    size_t depth;      /* the number of open brackets */
    size_t items;      /* nesting of items */
    size_t not_stated; /* a list of numbers before this token is not a list of stated counts */
    size_t mistakes;
    bool stopped;       /* too many mistakes: parsing has stopped */
    bool counts_first;  /* a number in brackets at the end is a count, even if it may be a size's value */
    bool graded_at_end; /* the row has such a number */
    size_t chain, slip; /* stitches of the catalogue */
    struct hk_stated *stated;
    size_t stated_count, stated_capacity;
};

#define HK_ROW_DEEP 32
#define HK_ROW_WRAPS 8           /* nested repeats without brackets: "k1 around, p1 around" */
#define HK_ROW_DEFINED_MOST 1000 /* limit of steps in a definition */
#define HK_ROW_MISTAKES 20
#define HK_ROW_SHOWN 40 /* limit of characters quoted from the row in a message */

bool hk_row_tokenize(struct hk_row_parser *parser);

static inline const struct hk_token *hk_token(const struct hk_row_parser *parser)
{
    return &parser->tokens[parser->now];
}

static inline const char *hk_token_text(const struct hk_row_parser *parser)
{
    return parser->text->text + hk_token(parser)->at;
}

/* Adds a finding at a byte of the text. Returns false, for the caller to return. */
bool hk_row_mistake(struct hk_row_parser *parser, enum hk_code code, size_t at, const char *format, ...)
    HK_PRINTF(4, 5);
void hk_row_hint(struct hk_row_parser *parser, const char *format, ...) HK_PRINTF(2, 3);

/*
 * Matches words and marks from the next token on: | separates alternatives of a word, and ? after a word makes it
 * optional: "in|into the? next". Returns true and advances when all match; else does not advance.
 */
bool hk_row_take(struct hk_row_parser *parser, const char *phrase);
bool hk_row_ahead(const struct hk_row_parser *parser, const char *phrase); /* the same without advancing */
bool hk_row_mark(struct hk_row_parser *parser, char mark);
bool hk_row_mark_ahead(const struct hk_row_parser *parser, char mark);
bool hk_row_ends(const struct hk_row_parser *parser); /* true at the row's end */

/* An integer in digits or words ("six"), graded if the row has sizes: "12 (14, 16)". */
bool hk_row_number_ahead(const struct hk_row_parser *parser);
bool hk_row_number(struct hk_row_parser *parser, struct hk_graded_count *number); /* false with a finding */
/* The same for places or stitches: 0 in every size is a finding. */
bool hk_row_number_of_places(struct hk_row_parser *parser, struct hk_graded_count *number);

/* Returns the stitch with the longest name at the next token, in the row's terms; SIZE_MAX if none. */
size_t hk_row_stitch_ahead(const struct hk_row_parser *parser, size_t *tokens);
size_t hk_row_stitch_take(struct hk_row_parser *parser);
size_t hk_row_stitches_take(struct hk_row_parser *parser); /* the same, also in the plural: "dcs" */
const struct hk_definition *hk_row_definition_take(struct hk_row_parser *parser);
/* Reports that the words at the next token are not understood. Returns false. */
bool hk_row_unknown(struct hk_row_parser *parser);
/* Returns the abbreviation of a stitch in these terms; its US name if there is none. */
const char *hk_row_stitch_text(const struct hk_row_words *words, size_t stitch);

/*
 * row_where.c. Parses a place after "in", "into", "around" and similar words; *found is false if there is none. Returns
 * false with a finding.
 */
bool hk_row_where(struct hk_row_parser *parser, struct hk_where *where, bool *found);
/* The same without the preposition: "next 3 sts", "ch-2 sp". */
bool hk_row_where_words(struct hk_row_parser *parser, struct hk_where *where, bool *found);
/* "ch-2 sp", "2-ch sp", "ch sp", "sp": reads a space of *chains chains, 0 any, -1 of a corner. */
bool hk_row_space_take(struct hk_row_parser *parser, int64_t *chains);
/* "shell", "V-st", "5-dc group", a name that the pattern defines. */
bool hk_row_group_take(struct hk_row_parser *parser);
/* "across", "to last 3 sts", "to marker": *sets the limit in *where. */
bool hk_row_limit(struct hk_row_parser *parser, struct hk_where *where, bool *found);

/* row_other.c. Parses a place of other work with its piece, "row ends of the left front", into *where. */
bool hk_row_other_take(struct hk_row_parser *parser, struct hk_where *where);
/* Parses "of the back" after a kind of place, which makes it a place of other work. */
void hk_row_other_of(struct hk_row_parser *parser, struct hk_where *where);
bool hk_row_some_others(struct hk_row_parser *parser, struct hk_where *where); /* "3 of every 4 row ends of back" */
/* "of the back", "down the left side of back" alone; returns false if no heading of the pattern is named. */
bool hk_row_other_works(struct hk_row_parser *parser, struct hk_where *where);
/* "on hold", "onto a stitch holder", "from waste yarn". */
bool hk_row_hold_take(struct hk_row_parser *parser);
/* "16 held sts of sleeve", after the number, from token `from`; "across the held sts", "across 26 sts of front". */
bool hk_row_other_sts(struct hk_row_parser *parser, size_t from, struct hk_where *where);
bool hk_row_across_others(struct hk_row_parser *parser, struct hk_where *where);
/* "through both layers", "through arm and body". */
bool hk_row_layers_take(struct hk_row_parser *parser, struct hk_where *where);

/*
 * row_stated.c. Parses a list of stated counts that ends the row. Returns false, without advancing, if there is none.
 */
bool hk_row_stated(struct hk_row_parser *parser, bool bracketed);

#endif
