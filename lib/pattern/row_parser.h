/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the parser of rows: tokens, and how words, numbers, stitches and places are taken from them. */
#ifndef HK_ROW_PARSER_H
#define HK_ROW_PARSER_H

#include "base/diags.h"
#include "pattern/row.h"

enum hk_token_kind { HK_TOKEN_END, HK_TOKEN_WORD, HK_TOKEN_NUMBER, HK_TOKEN_MARK };

/* A run of letters, a run of digits or one other character. */
struct hk_token {
    enum hk_token_kind kind;
    size_t at, length; /* of the plain text */
    int64_t value;     /* of a number; HK_COUNT_MOST + 1 where it is larger */
    char mark;
};

struct hk_row_parser {
    const struct hk_row_text *text;
    const struct hk_row_words *words;
    struct hk_arena *arena; /* of what is delivered */
    struct hk_arena scratch;
    struct hk_diags *diags;
    struct hk_token *tokens; /* the last is of kind END */
    size_t token_count;
    size_t now;        /* the next token */
    size_t depth;      /* brackets that are open */
    size_t items;      /* items that are being read, one within the other */
    size_t not_stated; /* before this token no list of figures is one of stated counts */
    size_t mistakes;
    bool stopped;       /* too many mistakes: read no further */
    bool counts_first;  /* a figure in brackets at the end is a count, even where it may be a size's */
    bool graded_at_end; /* there was such a figure */
    size_t chain, slip; /* stitches of the catalogue */
    struct hk_stated *stated;
    size_t stated_count, stated_capacity;
};

#define HK_ROW_DEEP 32
#define HK_ROW_WRAPS 8           /* repeats in one another without brackets: "k1 around, p1 around" */
#define HK_ROW_DEFINED_MOST 1000 /* steps that one word stands for */
#define HK_ROW_MISTAKES 20
#define HK_ROW_SHOWN 40 /* characters of the user's own words in a message */

bool hk_row_tokenize(struct hk_row_parser *parser);

static inline const struct hk_token *hk_token(const struct hk_row_parser *parser)
{
    return &parser->tokens[parser->now];
}

static inline const char *hk_token_text(const struct hk_row_parser *parser)
{
    return parser->text->text + hk_token(parser)->at;
}

/* A finding at a byte of the text; false, so that a caller can return it. */
bool hk_row_mistake(struct hk_row_parser *parser, enum hk_code code, size_t at, const char *format, ...)
    HK_PRINTF(4, 5);
void hk_row_hint(struct hk_row_parser *parser, const char *format, ...) HK_PRINTF(2, 3);

/*
 * Words and marks at the next token: alternatives of one word are parted by |, and ? behind them means that they may be
 * missing: "in|into the? next". Taken where all are there; else nothing is.
 */
bool hk_row_take(struct hk_row_parser *parser, const char *phrase);
bool hk_row_ahead(const struct hk_row_parser *parser, const char *phrase); /* the same, nothing taken */
bool hk_row_mark(struct hk_row_parser *parser, char mark);
bool hk_row_mark_ahead(const struct hk_row_parser *parser, char mark);
bool hk_row_ends(const struct hk_row_parser *parser); /* the row's end */

/* A whole number in digits or words ("six"), graded where the row has sizes: "12 (14, 16)". */
bool hk_row_number_ahead(const struct hk_row_parser *parser);
bool hk_row_number(struct hk_row_parser *parser, struct hk_graded_count *number); /* false with a finding */
/* The same, of places or stitches: 0 in every size is a finding. */
bool hk_row_number_of_places(struct hk_row_parser *parser, struct hk_graded_count *number);

/* The longest name of a stitch in the row's terms, SIZE_MAX where none stands there. */
size_t hk_row_stitch_ahead(const struct hk_row_parser *parser, size_t *tokens);
size_t hk_row_stitch_take(struct hk_row_parser *parser);
size_t hk_row_stitches_take(struct hk_row_parser *parser); /* the same, or a name with the s of several: "dcs" */
const struct hk_definition *hk_row_definition_take(struct hk_row_parser *parser);
/* Says of the words at the next token that they are not understood; false. */
bool hk_row_unknown(struct hk_row_parser *parser);
/* How these terms write a stitch; its US name where they have no word. */
const char *hk_row_stitch_text(const struct hk_row_words *words, size_t stitch);

/* row_where.c. A place behind "in", "into", "around" and the like; *found is false where none stands there. False with
 * a finding. */
bool hk_row_where(struct hk_row_parser *parser, struct hk_where *where, bool *found);
/* The same without the preposition: "next 3 sts", "ch-2 sp". */
bool hk_row_where_words(struct hk_row_parser *parser, struct hk_where *where, bool *found);
/* "ch-2 sp", "2-ch sp", "ch sp", "sp": of *chains chains, 0 any, -1 of a corner. */
bool hk_row_space_take(struct hk_row_parser *parser, int64_t *chains);
/* "shell", "V-st", "5-dc group", a name that the pattern defines. */
bool hk_row_group_take(struct hk_row_parser *parser);
/* "across", "to last 3 sts", "to marker": *where gets the limit. */
bool hk_row_limit(struct hk_row_parser *parser, struct hk_where *where, bool *found);

/* row_other.c. A kind of place of other work, "row ends of the left front": taken into *where, what it is of too. */
bool hk_row_other_take(struct hk_row_parser *parser, struct hk_where *where);
/* Behind a kind of place: "of the back", which makes it one of other work. */
void hk_row_other_of(struct hk_row_parser *parser, struct hk_where *where);
bool hk_row_some_others(struct hk_row_parser *parser, struct hk_where *where); /* "3 of every 4 row ends of back" */
/* "of the back", "down the left side of back" alone; false where no heading of the pattern is named there. */
bool hk_row_other_works(struct hk_row_parser *parser, struct hk_where *where);
/* "on hold", "onto a stitch holder", "from waste yarn". */
bool hk_row_hold_take(struct hk_row_parser *parser);
/* "16 held sts of sleeve", behind the number, from token `from`; "across the held sts", "across 26 sts of front". */
bool hk_row_other_sts(struct hk_row_parser *parser, size_t from, struct hk_where *where);
bool hk_row_across_others(struct hk_row_parser *parser, struct hk_where *where);
/* "through both layers", "through arm and body". */
bool hk_row_layers_take(struct hk_row_parser *parser, struct hk_where *where);

/* row_stated.c. A list of stated counts at the next token that ends the row, taken; false where there is none, nothing
 * taken then. */
bool hk_row_stated(struct hk_row_parser *parser, bool bracketed);

#endif
