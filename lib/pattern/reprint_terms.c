/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Changes the stitches of a line to the other terms, by tables/stitches.csv. In a parsed row every name is a stitch. In
 * prose only abbreviations as in the table, and names of several words, are changed: "double the yarn" and "Treble
 * Clef" name no stitch. A word that both terms have for the stitch stays, except "skip", which becomes "miss", and an
 * abbreviation if the other terms have a different one: "sl st" becomes "ss".
 */
#include "base/text.h"
#include "pattern/reprint.h"
#include "pattern/row_parser.h"

#include <string.h>

struct changing {
    struct hk_reprinting *r;
    const struct hk_row_text *text;
    struct hk_row_parser parser;
    enum hk_terms from, to;
    bool foreign; /* the line mentions both systems: its words may be of either */
};

/* ---- Words for one stitch ---- */

static const char *column(const struct hk_stitch *stitch, enum hk_terms terms)
{
    return terms == HK_TERMS_UK ? stitch->uk : stitch->us;
}

/* Returns the length of the common ending of two words. */
static size_t alike(const char *a, const char *b)
{
    const size_t a_length = strlen(a), b_length = strlen(b);
    size_t same = 0;
    while (same < a_length && same < b_length && hk_lower(a[a_length - 1 - same]) == hk_lower(b[b_length - 1 - same]))
        same++;
    return same;
}

static bool same_word(const char *a, const char *b)
{
    return b && strlen(a) == strlen(b) && hk_text_starts(a, b);
}

/* Returns true when the word names the stitch in these terms. */
static bool names(const struct hk_catalogue *catalogue, enum hk_terms terms, const char *word, size_t stitch)
{
    const struct hk_words *list = &catalogue->words[terms];
    for (size_t i = 0; i < list->count; i++)
        if (list->words[i].stitch == stitch && same_word(word, list->words[i].text))
            return true;
    return false;
}

/* Returns true for a full name: several words, or a long word in small letters. */
static bool written_out(const char *word)
{
    static const size_t short_most = 5;
    if (strchr(word, ' '))
        return true;
    for (const char *c = word + 1; *c; c++)
        if (hk_upper(*c) == *c)
            return false;
    return strlen(word) > short_most;
}

/*
 * Returns the most similar word of the other terms: an abbreviation for an abbreviation, a name for a name. NULL if
 * there is none.
 */
static const char *counterpart(const struct hk_stitch *stitch, enum hk_terms from, enum hk_terms to, const char *word)
{
    const char *own = column(stitch, from), *other = column(stitch, to), *best = NULL;
    const bool out = written_out(word);
    if (same_word(word, own) && other && out == written_out(other))
        return other;
    size_t most = 0;
    for (size_t i = 0; i < stitch->also_count; i++) {
        const char *also = stitch->also[i];
        if (stitch->also_both[i] || stitch->also_terms[i] != to || written_out(also) != out || same_word(also, word))
            continue;
        if (!best || alike(word, also) > most) {
            best = also;
            most = alike(word, also);
        }
    }
    if (other && (!best || (written_out(other) == out && alike(word, other) > most)))
        best = other;
    return best;
}

/* Returns true when a sentence begins at the byte. */
static bool begins(const char *text, size_t at)
{
    while (at > 0 && strchr(" *([", text[at - 1]))
        at--;
    return at == 0 || strchr(".:", text[at - 1]);
}

/*
 * Returns the replacement in the case of the original: "Dc", "DC", "dc". Words that the table has in capitals only,
 * "BO", are in small letters except at the start of a sentence. Owned by the arena.
 */
static char *in_case(struct changing *c, size_t at, const char *word, const char *with, const char *own)
{
    const bool plain = own && strcmp(word, own) == 0;
    const bool first = hk_lower(*word) != *word;
    bool small = false;
    for (const char *w = word; *w; w++)
        small |= hk_upper(*w) != *w;
    char *copy = hk_arena_text(c->r->arena, with, strlen(with));
    if (!copy || !first || (plain && !begins(c->text->text, at)))
        return copy;
    for (char *w = copy; *w; w++)
        if (w == copy || (!small && !plain))
            *w = hk_upper(*w);
    return copy;
}

/* ---- Stitches ---- */

/* Returns true when the word is unambiguous in prose. */
static bool certain(const struct changing *c, const struct hk_stitch *stitch, const char *word)
{
    const char *own = column(stitch, c->from);
    const char *blank = strchr(word, ' ');
    if (blank)
        return hk_lower(blank[1]) == blank[1] || hk_lower(*word) == *word;
    return own && strcmp(word + 1, own + 1) == 0 && hk_lower(*word) == hk_lower(*own);
}

static void stitch_change(struct changing *c, size_t at, size_t end, size_t stitch, bool several)
{
    const struct hk_catalogue *catalogue = c->parser.words->catalogue;
    const struct hk_stitch *of = &catalogue->stitches[stitch];
    struct hk_arena *arena = c->r->arena;
    const char *word = hk_arena_text(arena, c->text->text + at, end - at);
    if (!word)
        return;
    const bool skip = same_word(word, "skip") && c->to == HK_TERMS_UK, miss = same_word(word, "miss");
    const char *own = column(of, c->from), *other = column(of, c->to);
    const bool another = same_word(word, own) && other && !same_word(word, other);
    if (!skip && !another && names(catalogue, c->to, word, stitch))
        return;
    const enum hk_reprint_class class = hk_reprint_class_at(c->r, c->text, at);
    if (class == HK_CLASS_REFUSED || (class == HK_CLASS_PROSE && (skip || miss))) /* "miss" is also an English word */
        return;
    const char *with = skip ? "miss" : miss ? "skip" : counterpart(of, c->from, c->to, word);
    if (!with) {
        hk_reprint_leave(c->r, hk_row_text_place(c->text, at),
                         hk_arena_print(arena, "\"%s\" is left unchanged: %s terms have no word for it", word,
                                        c->to == HK_TERMS_US ? "US" : "UK"),
                         NULL);
        return;
    }
    if (class == HK_CLASS_PROSE && (c->foreign || !certain(c, of, word))) {
        hk_reprint_leave(c->r, hk_row_text_place(c->text, at),
                         hk_arena_print(arena, "\"%s\" is left as it is: %s", word,
                                        c->foreign ? "its line speaks of US or UK words"
                                                   : "in prose it may be no stitch"),
                         hk_arena_print(arena, "where it is one, write \"%s\"", with));
        return;
    }
    const char *cased = in_case(c, at, word, with, own);
    if (cased && several)
        cased = hk_arena_print(arena, "%ss", cased);
    if (cased)
        hk_reprint_edit_text(c->r, c->text, at, end + several, cased);
}

/* Changes a stitch at the next token. Returns the number of its tokens; 0 if there is none. */
static size_t stitch_take(struct changing *c)
{
    struct hk_row_parser *parser = &c->parser;
    const struct hk_token *token = hk_token(parser);
    const size_t start = parser->now;
    size_t tokens = 0, stitch = hk_row_stitch_ahead(parser, &tokens);
    if (stitch != SIZE_MAX) {
        const struct hk_token *last = token + tokens - 1;
        stitch_change(c, token->at, last->at + last->length, stitch, false);
        return tokens;
    }
    stitch = hk_row_stitches_take(parser);
    parser->now = start;
    if (stitch == SIZE_MAX)
        return 0;
    stitch_change(c, token->at, token->at + token->length - 1, stitch, true);
    return 1;
}

/* ---- Other words ---- */

static bool token_is(const struct changing *c, const struct hk_token *token, const char *word)
{
    return token->kind == HK_TOKEN_WORD && token->length == strlen(word) &&
           hk_text_starts(c->text->text + token->at, word);
}

/* "GAUGE", "Tension:", "gauge swatch", "tension square": changes the words of the two systems for it. */
static bool gauge_take(struct changing *c)
{
    const char *word = c->from == HK_TERMS_US ? "gauge" : "tension", *with = c->from == HK_TERMS_US ? "tension" : "gauge";
    const struct hk_token *token = hk_token(&c->parser), *next = token + 1;
    if (!token_is(c, token, word) || hk_reprint_class_at(c->r, c->text, token->at) != HK_CLASS_PROSE)
        return false;
    const bool ends = next->kind == HK_TOKEN_END || (next->kind == HK_TOKEN_MARK && strchr(":-(", next->mark));
    const bool swatch = token_is(c, next, "swatch") || token_is(c, next, "square");
    if (!swatch && !(ends && c->parser.now == 0))
        return false;
    const char *copy = hk_arena_text(c->r->arena, c->text->text + token->at, token->length);
    const char *cased = copy ? in_case(c, token->at, copy, with, NULL) : NULL;
    if (cased)
        hk_reprint_edit_text(c->r, c->text, token->at, token->at + token->length, cased);
    return true;
}

/*
 * Finds the system that a word names, "US" or "British". Returns false if none. Capitals matter: "us" is an English
 * word.
 */
static bool system_named(const struct changing *c, const struct hk_token *token, enum hk_terms *terms)
{
    static const char *const words[][2] = {[HK_TERMS_US] = {"US", "American"}, [HK_TERMS_UK] = {"UK", "British"}};
    for (int of = HK_TERMS_US; of <= HK_TERMS_UK; of++)
        for (size_t i = 0; i < 2; i++)
            if (token_is(c, token, words[of][i]) && c->text->text[token->at] == words[of][i][0] &&
                c->text->text[token->at + 1] == words[of][i][1]) {
                *terms = (enum hk_terms)of;
                return true;
            }
    return false;
}

/* Returns true when "terms" or "crochet terminology" follow. */
static bool of_terms(const struct changing *c, const struct hk_token *next)
{
    if (token_is(c, next, "crochet"))
        next++;
    return token_is(c, next, "terms") || token_is(c, next, "terminology") || token_is(c, next, "abbreviations");
}

/* Returns true for a hook: "US H-8", "UK 6". */
static bool of_tool(const struct hk_token *next)
{
    return next->kind == HK_TOKEN_NUMBER ||
           (next->kind == HK_TOKEN_WORD && next->length == 1 && next[1].kind == HK_TOKEN_MARK);
}

/* "US terms", "British crochet terminology": changes the terms that the text states. */
static bool terms_take(struct changing *c)
{
    const struct hk_token *token = hk_token(&c->parser);
    enum hk_terms terms;
    if (!system_named(c, token, &terms) || terms != c->from || !of_terms(c, token + 1) || c->foreign)
        return false;
    const bool shortly = token->length == 2;
    hk_reprint_edit_text(c->r, c->text, token->at, token->at + token->length,
                         c->to == HK_TERMS_UK ? (shortly ? "UK" : "British") : (shortly ? "US" : "American"));
    return true;
}

/*
 * Returns true when a line mentions both systems: "dc (UK: tr)", "US terms; UK terms in brackets"; not for hooks or a
 * statement of the terms.
 */
static bool speaks_of_both(const struct changing *c)
{
    for (const struct hk_token *token = c->parser.tokens; token->kind != HK_TOKEN_END; token++) {
        enum hk_terms terms;
        if (system_named(c, token, &terms) && !of_tool(token + 1) && !(terms == c->from && of_terms(c, token + 1)))
            return true;
    }
    return false;
}

/* ---- A line ---- */

void hk_reprint_terms(struct hk_reprinting *r, const struct hk_row_text *text)
{
    struct changing c = {.r = r,
                         .text = text,
                         .parser = {.text = text, .words = &r->written->words},
                         .from = r->written->words.terms,
                         .to = r->wanted->terms};
    bool good = hk_row_tokenize(&c.parser);
    c.foreign = good && speaks_of_both(&c);
    size_t named = 0; /* the position after a name of a yarn */
    while (good && !hk_row_ends(&c.parser) && !r->arena->out_of_memory) {
        const struct hk_token *token = hk_token(&c.parser);
        const size_t length = hk_reprint_name_at(r, text->text, token->at);
        named = token->at + length > named && length > 0 ? token->at + length : named;
        size_t taken = 0;
        if (token->at >= named && hk_reprint_class_at(r, text, token->at) != HK_CLASS_GONE && !gauge_take(&c) &&
            !terms_take(&c))
            taken = stitch_take(&c);
        c.parser.now += taken > 0 ? taken : 1;
    }
    r->arena->out_of_memory |= !good;
    hk_arena_free(&c.parser.scratch);
}
