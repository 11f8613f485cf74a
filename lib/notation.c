/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Recursive descent over the cell made plain, straight to sums: each open bracket or repeat has one level, whose sums are
 * multiplied into the level around it when it closes. Levels are limited, so the depth of the call stack is too. A mistake
 * ends its item only; reading goes on behind the next separator, and no sums are delivered then.
 */
#include "notation.h"

#include "diags.h"
#include "quantity.h"
#include "text.h"
#include "wording.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

#define LEVELS 33            /* the row itself and 32 brackets or repeats in each other */
#define MISTAKES_MOST 20     /* of one cell: a cell of junk is not worth more */
#define TURNING_MOST 5       /* chains: more than that widen the work */
#define SHOWN_CHARACTERS 40  /* of the user's own words in a message */

struct sums {
    int64_t needs, turning_needs, leaves;
    struct hk_stitches *stitches; /* by catalogue order, none twice */
    size_t stitch_count, capacity;
    double cut_m;
};

/* What stands in one pair of brackets or stars so far. */
struct level {
    struct sums once, each;
    bool repeats;
};

/* Chains that stand by themselves outside of all brackets; `at` NULL: there are none. */
struct chains {
    const char *at;
    int64_t count;
};

struct parser {
    struct hk_cell cell;
    enum hk_terms terms;
    const struct hk_catalogue *catalogue;
    struct hk_arena *arena, scratch;
    struct hk_diags *diags;
    char *text;            /* the cell, made plain */
    size_t *origin;
    const char *at;        /* the next character */
    const struct hk_words *words; /* by terms */
    size_t chain, slip;    /* stitches that turning chains and joins are made of */
    struct level levels[LEVELS];
    size_t depth;          /* the level in use */
    size_t brackets;       /* that are open */
    bool in_repeat, in_as; /* between stars; in what a turning chain stands for */
    bool joined;           /* by a join outside of all brackets */
    bool closed;           /* by one behind which only turns follow so far */
    struct hk_stated stated;
    int64_t chains_left;   /* to be worked into */
    bool spaces, slips, others; /* what is worked in chain spaces; slip stitches; stitches that are neither these nor chains */
    bool turns;            /* a turn or a turning chain stands outside of all brackets */
    struct chains lead, chains; /* the first and the latest item outside of brackets */
    bool turned;           /* the latest item outside of brackets is "turn" or "fasten off" */
    size_t mistakes;
    bool stopped;          /* too many mistakes, or too deep: read no further */
};

static bool opens(char c)
{
    return c == '(' || c == '[' || c == '{';
}

static bool closes(char c)
{
    return c == ')' || c == ']' || c == '}';
}

static bool separates(char c)
{
    return c == ',' || c == ';';
}

static void blanks(struct parser *p)
{
    while (*p->at == ' ')
        p->at++;
}

/* The bytes of the first `most` characters of text. */
static int clipped(const char *text, size_t length)
{
    size_t bytes = 0, characters = 0;
    for (; bytes < length; bytes++) {
        bool begins = ((unsigned char)text[bytes] & 0xC0) != 0x80;
        characters += begins;
        if (begins && characters > SHOWN_CHARACTERS)
            break;
    }
    return (int)bytes;
}

static struct hk_place place_of(const struct parser *p, const char *at)
{
    return hk_cell_place(p->cell, p->origin[at - p->text]);
}

/* A finding at `at`; false, so that a caller can return it. */
#define mistake(p, code, at, ...) \
    (hk_diags_add((p)->diags, code, place_of(p, at), __VA_ARGS__), mistake_made(p))

static bool mistake_made(struct parser *p)
{
    if (++p->mistakes >= MISTAKES_MOST)
        p->stopped = true;
    return false;
}

#define hint(p, ...) hk_diags_hint((p)->diags, __VA_ARGS__)

/* `word` at the cursor, not as the beginning of a longer one; taken then, with the blanks behind it. */
static bool take_word(struct parser *p, const char *word)
{
    size_t length = strlen(word);
    if (!hk_text_starts(p->at, word) || hk_is_letter(p->at[length]))
        return false;
    p->at += length;
    blanks(p);
    return true;
}

static bool take_one_of(struct parser *p, const char *const *words)
{
    for (; *words; words++) {
        if (take_word(p, *words))
            return true;
    }
    return false;
}

/* Letters, digits, hyphens: what a reader would take for one word. */
static size_t word_length(const char *at)
{
    size_t length = 0;
    while (hk_is_letter(at[length]) || hk_is_digit(at[length]) || at[length] == '-' || at[length] == '\'' || at[length] == '&')
        length++;
    return length;
}

/* To the end of the item's words: a separator, a bracket, a star or a number ends them. */
static size_t phrase_length(const char *at)
{
    size_t length = word_length(at);
    while (at[length] == ' ' && word_length(at + length + 1) && !hk_is_digit(at[length + 1]) &&
           !(hk_text_starts(at + length + 1, "in ")))
        length += 1 + word_length(at + length + 1);
    return length;
}

/* ---- Stitch names ------------------------------------------------------------------------------------------------------ */

static size_t words_most(const struct hk_catalogue *catalogue)
{
    size_t most = 0;
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        most += 2 + catalogue->stitches[i].also_count;
    return most;
}

static void words_add(struct hk_words *words, const char *text, size_t stitch)
{
    if (text)
        words->words[words->count++] = (struct hk_spelling){text, strlen(text), stitch, 0};
}

bool hk_words_list(const struct hk_catalogue *catalogue, enum hk_terms terms, struct hk_words *words,
                   struct hk_arena *arena)
{
    struct hk_words list = {.words = hk_arena_take(arena, words_most(catalogue), sizeof *list.words)};
    if (!list.words)
        return false;
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        words_add(&list, terms == HK_US ? catalogue->stitches[i].us : catalogue->stitches[i].uk, i);
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        for (size_t j = 0; j < stitch->also_count; j++) {
            if (stitch->also_both[j] || stitch->also_terms[j] == terms)
                words_add(&list, stitch->also[j], i);
        }
        if (terms == HK_US && stitch->us)
            words_add(&list, stitch->name, i);
    }
    for (size_t i = list.count; i > 0; i--) {
        const char *text = list.words[i - 1].text;
        size_t *first = &list.first[hk_letter(text[0])][text[0] ? hk_letter(text[1]) : 0];
        list.words[i - 1].next = *first;
        *first = i;
    }
    *words = list;
    return true;
}

/* The longest of the names from `first` on that stands at the cursor and is no part of a longer word there. */
static const struct hk_spelling *longest_at(const char *at, const struct hk_words *list, size_t first)
{
    const struct hk_spelling *longest = NULL;
    for (size_t i = first; i > 0; i = list->words[i - 1].next) {
        const struct hk_spelling *word = &list->words[i - 1];
        if ((longest && word->length <= longest->length) || !hk_text_starts(at, word->text))
            continue;
        char last = word->text[word->length - 1], next = at[word->length];
        if (!hk_is_letter(next) && next != '-' && next != '&' && !(hk_is_digit(last) && hk_is_digit(next)))
            longest = word;
    }
    return longest;
}

/* The longest name of these terms at the cursor; NULL where none stands there. */
static const struct hk_spelling *name_at(const struct parser *p, enum hk_terms terms)
{
    if (!*p->at)
        return NULL;
    const struct hk_words *list = &p->words[terms];
    const size_t *first = list->first[hk_letter(p->at[0])];
    const struct hk_spelling *longer = longest_at(p->at, list, first[hk_letter(p->at[1])]);
    return longer ? longer : longest_at(p->at, list, first[0]); /* a name of one letter */
}

/* "dc3tog", "2x": digits glued to a name and going on in letters make another word. */
static bool name_goes_on(const char *behind)
{
    size_t digits = 0;
    while (hk_is_digit(behind[digits]))
        digits++;
    return digits && hk_is_letter(behind[digits]);
}

static const char *spelling_name(const void *context, size_t i)
{
    return ((const struct hk_words *)context)->words[i].text;
}

static const char *terms_name(enum hk_terms terms)
{
    return terms == HK_US ? "US" : "UK";
}

/* How these terms write a stitch, or NULL where they have no word for it. */
static const char *word_of(const struct parser *p, size_t stitch)
{
    const struct hk_words *list = &p->words[p->terms];
    for (size_t i = 0; i < list->count; i++) {
        if (list->words[i].stitch == stitch)
            return list->words[i].text;
    }
    return NULL;
}

/* What written patterns say in words that counting cannot use, and how it is said here. */
static const struct {
    const char *start, *hint;
} phrases[] = {
    {"rep", "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits"},
    {"repeat", "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits"},
    {"inc", "write what is worked into one stitch: 2 sc in 1"},
    {"dec", "name the decrease, such as sc2tog or k2tog"},
    {"row", "leave the row's number out, it has a column of its own"},
    {"rnd", "leave the round's number out, it has a column of its own"},
    {"round", "leave the round's number out, it has a column of its own"},
    {"next", "name the stitch and how many, sc 3: each goes into the next stitch"},
    {"st", "name the stitch, such as sc 3 or k 3"},
    {"sts", "name the stitch, such as sc 3 or k 3"},
    {"each", "write the stitch first: sc in each of 3"},
    {"work", "write the stitch first: sc 3"},
    {"blo", "name the stitch: BLO sc 3"},
    {"flo", "name the stitch: FLO sc 3"},
    {"in", "write the stitch first: 5 dc in 1"},
    {"x", "write it behind brackets: (sc 1, ch 1) x 3"},
    {"times", "write it behind brackets: (sc 1, ch 1) 3 times"},
    {"twice", "write it behind brackets: (sc 1, ch 1) twice"},
    {"as", "write it behind a turning chain: tch 3 as dc"},
    {"sm", "leave markers out, they take no yarn"},
    {"pm", "leave markers out, they take no yarn"},
    {"rm", "leave markers out, they take no yarn"},
    {"mm", "leave markers out, they take no yarn"},
    {"slip marker", "leave markers out, they take no yarn"},
    {"place marker", "leave markers out, they take no yarn"},
    {"remove marker", "leave markers out, they take no yarn"},
    {"marker", "leave markers out, they take no yarn"},
    {"make a magic ring", "leave it out, the column start of pieces.csv says ring"},
    {"make magic ring", "leave it out, the column start of pieces.csv says ring"},
    {"magic ring", "leave it out, the column start of pieces.csv says ring"},
    {"make a ring", "leave it out, the column start of pieces.csv says ring"},
    {"make", "name the stitch and how many, such as sc 3 or k 3"},
    {"wyif", "leave it out, it takes no yarn"},
    {"wyib", "leave it out, it takes no yarn"},
    {"RS", "leave it out: which side faces takes no yarn"},
    {"WS", "leave it out: which side faces takes no yarn"},
};

static const char *phrase_hint(struct parser *p)
{
    const char *at = p->at;
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++) {
        bool here = take_word(p, phrases[i].start);
        p->at = at;
        if (here)
            return phrases[i].hint;
    }
    return NULL;
}

static bool word_of_other_terms(struct parser *p, const struct hk_spelling *other)
{
    const char *ours = word_of(p, other->stitch);
    enum hk_terms others = p->terms == HK_US ? HK_UK : HK_US;
    mistake(p, HK_ROW_TERMS, p->at, "%.*s is a %s word, and this project has terms,%s",
            clipped(p->at, other->length), p->at, terms_name(others), terms_name(p->terms));
    if (ours)
        hint(p, "write %s", ours);
    return false;
}

static size_t digits_in(const char *text)
{
    size_t digits = 0;
    for (; *text; text++)
        digits += hk_is_digit(*text);
    return digits;
}

/* A name that is put in place of the word may not bring a count with it, and of two letters any may be the wrong one. */
static bool may_stand_for(const char *word, const char *name)
{
    return strlen(word) > 2 && digits_in(word) == digits_in(name);
}

/* Offers the name nearest to the whole phrase, else to its first word. Not once findings are only counted any more. */
static const char *nearest_name(struct parser *p, size_t *length)
{
    const struct hk_words *list = &p->words[p->terms];
    size_t lengths[] = {phrase_length(p->at), word_length(p->at)};
    for (size_t i = 0; i < 2 && p->diags->count < HK_FINDINGS_MOST; i++) {
        if (lengths[i] > (size_t)4 * SHOWN_CHARACTERS)
            continue;
        const char *word = hk_arena_text(&p->scratch, p->at, lengths[i]);
        size_t nearest = word ? hk_text_nearest(word, list->count, spelling_name, list) : SIZE_MAX;
        if (nearest != SIZE_MAX && may_stand_for(word, list->words[nearest].text)) {
            *length = lengths[i];
            return list->words[nearest].text;
        }
    }
    *length = lengths[1];
    return NULL;
}

static bool unknown_name(struct parser *p)
{
    const struct hk_spelling *other = name_at(p, p->terms == HK_US ? HK_UK : HK_US);
    if (other && !name_goes_on(p->at + other->length))
        return word_of_other_terms(p, other);
    size_t length = word_length(p->at);
    if (length == 0) {
        mistake(p, HK_ROW_SYNTAX, p->at, "a stitch is missing here");
        hint(p, "name the stitch, such as sc 3 or 5 dc in 1");
        return false;
    }
    const char *said = phrase_hint(p);
    if (said) {
        mistake(p, HK_ROW_SYNTAX, p->at, "%.*s is no stitch", clipped(p->at, length), p->at);
        hint(p, "%s", said);
        return false;
    }
    size_t dash = strcspn(p->at, "-");
    if (dash < length && dash + 1 + strspn(p->at + dash + 1, "0123456789") == length) {
        mistake(p, HK_ROW_SYNTAX, p->at, "%.*s is no stitch", clipped(p->at, length), p->at);
        hint(p, "write a blank before the number: ch 2, and in ch-2 sp for the space of two chains");
        return false;
    }
    const char *near = nearest_name(p, &length);
    mistake(p, HK_NAME_UNKNOWN, p->at, "%.*s is no stitch in %s terms", clipped(p->at, length), p->at,
            terms_name(p->terms));
    if (near)
        hint(p, "did you mean \"%s\"?", near);
    return false;
}

/* A stitch in these terms; a longer name of the other terms is what was meant, not its beginning. */
static bool take_name(struct parser *p, size_t *stitch)
{
    const struct hk_spelling *name = name_at(p, p->terms), *other = name_at(p, p->terms == HK_US ? HK_UK : HK_US);
    if (!name || (other && other->length > name->length) || name_goes_on(p->at + name->length))
        return unknown_name(p);
    *stitch = name->stitch;
    p->at += name->length;
    blanks(p);
    return true;
}

/* ---- Numbers ------------------------------------------------------------------------------------------------------------- */

static bool too_large(struct parser *p, const char *at)
{
    mistake(p, HK_COUNT_TOO_LARGE, at, "a count is above %" PRId64, HK_COUNT_MOST);
    hint(p, "look for a number with too many digits");
    return false;
}

/* A whole number from 1 at the cursor. Fails with a finding. */
static bool take_number(struct parser *p, int64_t *number)
{
    const char *start = p->at;
    int64_t value = 0;
    for (; hk_is_digit(*p->at); p->at++) {
        if (value <= HK_COUNT_MOST)
            value = value * 10 + (*p->at - '0');
    }
    size_t length = (size_t)(p->at - start);
    assert(length > 0);
    if (strchr("./", *p->at) && *p->at) {
        size_t whole = length + 1 + word_length(p->at + 1);
        mistake(p, HK_NUMBER, start, "%.*s is not a whole number", clipped(start, whole), start);
        hint(p, "stitches are counted in whole numbers");
        return false;
    }
    if (value > HK_COUNT_MOST)
        return too_large(p, start);
    if (value == 0) {
        mistake(p, HK_RANGE, start, "0 works nothing");
        hint(p, "leave it out, or write a number from 1");
        return false;
    }
    blanks(p);
    *number = value;
    return true;
}

/* *sum += a * b, where that stays within HK_COUNT_MOST. */
static bool add_product(int64_t *sum, int64_t a, int64_t b)
{
    assert(b > 0);
    if (a > (HK_COUNT_MOST - *sum) / b)
        return false;
    *sum += a * b;
    return true;
}

/* ---- Levels -------------------------------------------------------------------------------------------------------------- */

/* Its list keeps its room. */
static void sums_clear(struct sums *sums)
{
    *sums = (struct sums){.stitches = sums->stitches, .capacity = sums->capacity};
}

/* A level within the present one, for what opens at `at`. */
static bool level_open(struct parser *p, const char *at)
{
    if (p->depth + 1 == LEVELS) {
        mistake(p, HK_ROW_SYNTAX, at, "brackets are nested more than %d deep", LEVELS - 1);
        hint(p, "write the row with fewer brackets in each other");
        p->stopped = true;
        return false;
    }
    struct level *level = &p->levels[++p->depth];
    level->repeats = false;
    sums_clear(&level->once);
    sums_clear(&level->each);
    return true;
}

/* A stitch a * b times more, where that stays within HK_COUNT_MOST. True where memory is lost, which is told by the arena. */
static bool add_count(struct parser *p, struct sums *sums, size_t stitch, int64_t a, int64_t b)
{
    size_t at = 0;
    while (at < sums->stitch_count && sums->stitches[at].stitch < stitch)
        at++;
    if (at == sums->stitch_count || sums->stitches[at].stitch != stitch) {
        struct hk_stitches *grown =
            hk_arena_grow(&p->scratch, sums->stitches, sums->stitch_count, &sums->capacity, sizeof *grown);
        if (!grown)
            return true;
        memmove(&grown[at + 1], &grown[at], (sums->stitch_count++ - at) * sizeof *grown);
        grown[at] = (struct hk_stitches){stitch, 0};
        sums->stitches = grown;
    }
    return add_product(&sums->stitches[at].count, a, b);
}

static bool add_stitch(struct parser *p, struct sums *sums, size_t stitch, int64_t count)
{
    const struct hk_stitch *s = &p->catalogue->stitches[stitch];
    bool worked = s->loops > 0 || s->wraps > 0; /* a skipped stitch takes no yarn */
    return add_product(&sums->needs, s->needs, count) && add_product(&sums->leaves, s->leaves, count) &&
           (!worked || add_count(p, sums, stitch, 1, count));
}

/* Adds what is worked, `times` times; what it needs is said by the place, if there is one. */
static bool add_sums(struct parser *p, struct sums *to, const struct sums *from, int64_t times, bool placed)
{
    bool fits = add_product(&to->leaves, from->leaves, times);
    if (!placed)
        fits = fits && add_product(&to->needs, from->needs, times) &&
               add_product(&to->turning_needs, from->turning_needs, times);
    for (size_t i = 0; fits && i < from->stitch_count; i++)
        fits = add_count(p, to, from->stitches[i].stitch, from->stitches[i].count, times);
    to->cut_m += from->cut_m * (double)times;
    return fits && to->cut_m <= HK_QUANTITY_MOST;
}

/* ---- Places and times ----------------------------------------------------------------------------------------------------- */

/* What all repetitions of an item go into. */
struct place {
    bool given;
    int64_t needs, copies;
};

static bool say_places(struct parser *p)
{
    hint(p, "write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp");
    return false;
}

/* Words that a written pattern adds and that say nothing more. */
static void take_fill(struct parser *p, const char *const *words)
{
    while (take_one_of(p, words))
        ;
}

static const char *const articles[] = {"the", "a", "magic", "adjustable", NULL};
static const char *const ahead[] = {"the", "next", NULL};
static const char *const stitch_words[] = {"st", "sts", "stitch", "stitches", NULL};
static const char *const space_words[] = {"sp", "sps", "space", "spaces", NULL};

/* Behind "ch": "-2 sp", " 2 sp", "2-sp". */
static bool place_chain_space(struct parser *p, const char *start, struct place *place)
{
    p->spaces = true;
    if (*p->at == '-')
        p->at++;
    blanks(p);
    if (!hk_is_digit(*p->at)) {
        mistake(p, HK_ROW_SYNTAX, start, "the chain space does not say of how many chains");
        hint(p, "write in ch-1 sp or in ch-2 sp, or in sp where its chains are used up otherwise");
        return false;
    }
    if (!take_number(p, &place->needs))
        return false;
    if (*p->at == '-')
        p->at++;
    if (take_one_of(p, space_words))
        return true;
    mistake(p, HK_ROW_SYNTAX, start, "a place in chains is their space");
    hint(p, "write in ch-%" PRId64 " sp", place->needs);
    return false;
}

static bool place_number(struct parser *p, struct place *place)
{
    const char *start = p->at;
    int64_t number;
    if (!take_number(p, &number))
        return false;
    if (number != 1) {
        mistake(p, HK_ROW_PLACE, start, "in %" PRId64 " can be read in two ways", number);
        hint(p, "write in each of %" PRId64 " for once in each of so many, or in 1 for all in one", number);
        return false;
    }
    place->needs = 1;
    take_one_of(p, stitch_words);
    return true;
}

static bool place_each(struct parser *p, const char *start, struct place *place)
{
    bool of = take_word(p, "of");
    take_fill(p, ahead);
    if (!of || !hk_is_digit(*p->at)) {
        mistake(p, HK_ROW_SYNTAX, start, "in each does not say of how many");
        hint(p, "write in each of 3, or put it between stars to go on as long as it fits: *2 sc in 1*");
        return false;
    }
    if (!take_number(p, &place->needs))
        return false;
    place->copies = place->needs;
    take_one_of(p, stitch_words);
    return true;
}

/* Whether nothing of the row below is used up yet. */
static bool at_first_stitch(const struct parser *p)
{
    for (size_t i = 0; i <= p->depth; i++)
        if (p->levels[i].once.needs > 0 || p->levels[i].each.needs > 0)
            return false;
    return true;
}

/* "same", "same st", "same st as joining", "same sp": used up by what stands before, but at the beginning the first stitch. */
static void place_same(struct parser *p, struct place *place)
{
    if (!take_one_of(p, stitch_words) && take_one_of(p, space_words)) {
        p->spaces = true;
        return;
    }
    place->needs = at_first_stitch(p);
    if (take_word(p, "as"))
        p->at += strcspn(p->at, ",;()[]{}*");
}

static bool place_words(struct parser *p, struct place *place)
{
    const char *start = p->at;
    *place = (struct place){true, 0, 1};
    take_fill(p, articles);
    bool next = take_word(p, "next");
    if (hk_is_digit(*p->at))
        return place_number(p, place);
    if (next && take_one_of(p, stitch_words)) {
        place->needs = 1;
        return true;
    }
    if (take_word(p, "each"))
        return place_each(p, start, place);
    if (take_word(p, "ch") || take_word(p, "chain"))
        return place_chain_space(p, start, place);
    if (take_word(p, "same")) {
        place_same(p, place);
        return true;
    }
    if (take_word(p, "ring"))
        return true;
    if (take_one_of(p, space_words)) {
        p->spaces = true;
        return true;
    }
    size_t length = word_length(start);
    mistake(p, HK_ROW_SYNTAX, start, length ? "in %.*s is no place" : "in needs a place", clipped(start, length), start);
    return say_places(p);
}

/* [place] */
static bool take_place(struct parser *p, struct place *place)
{
    *place = (struct place){false, 0, 1};
    return take_word(p, "in") ? place_words(p, place) : true;
}

static bool times_ahead(const struct parser *p)
{
    const char *at = p->at;
    if (*at == 'x' || *at == 'X') {
        at += at[1] == ' ' ? 2 : 1;
        return hk_is_digit(*at);
    }
    if (hk_text_starts(at, "twice"))
        return !hk_is_letter(at[5]);
    if (!hk_is_digit(*at))
        return false;
    while (hk_is_digit(*at))
        at++;
    at += *at == ' ';
    return hk_text_starts(at, "time");
}

/* [times]: "x 3", "3 times", "twice". */
static bool take_times(struct parser *p, int64_t *times)
{
    static const char *const words[] = {"times", "time", NULL};
    *times = 1;
    if (!times_ahead(p))
        return true;
    if (take_word(p, "twice")) {
        *times = 2;
        return true;
    }
    bool number_first = hk_is_digit(*p->at);
    p->at += !number_first;
    blanks(p);
    if (!take_number(p, times))
        return false;
    if (number_first && !take_one_of(p, words))
        return unknown_name(p);
    return true;
}

/* ---- Items ------------------------------------------------------------------------------------------------------- */

static void parse_items(struct parser *p, const char *opener);

/* Adds a level that just closed to the one around it. */
static bool close_into(struct parser *p, const char *at, int64_t times, const struct place *place)
{
    struct level *from = &p->levels[p->depth + 1], *to = &p->levels[p->depth];
    int64_t all = 0;
    to->repeats = to->repeats || from->repeats;
    if (add_product(&all, times, place->copies) && add_sums(p, &to->once, &from->once, all, place->given) &&
        add_sums(p, &to->each, &from->each, all, place->given) && add_product(&to->once.needs, place->needs, 1))
        return true;
    return too_large(p, at);
}

/* The inner stars are skipped, so that the outer ones still pair. */
static bool nested(struct parser *p, const char *star)
{
    mistake(p, HK_ROW_NESTED, star, "a repeat stands in a repeat");
    hint(p, "write the inner one with its number of times, ( ) x 3, or close the outer one before it with *");
    const char *end = strchr(star + 1, '*');
    p->at = end ? end + 1 : star + strlen(star);
    blanks(p);
    return false;
}

/* "*" row "*" */
static bool item_repeat(struct parser *p)
{
    const char *star = p->at;
    if (p->in_as) {
        mistake(p, HK_ROW_SYNTAX, star, "a turning chain cannot stand for a repeat");
        hint(p, "write the stitches that it stands for: tch 4 as (dc, ch 1)");
        return false;
    }
    if (p->in_repeat)
        return nested(p, star);
    if (!level_open(p, star))
        return false;
    p->at++;
    p->in_repeat = true;
    parse_items(p, star);
    p->in_repeat = false;
    struct sums *each = &p->levels[p->depth--].once;
    if (p->stopped)
        return false;
    if (*p->at != '*') {
        mistake(p, HK_ROW_SYNTAX, star, "the repeat that opens here is not closed");
        hint(p, "write * behind its last stitch too");
        return false;
    }
    p->at++;
    blanks(p);
    struct level *to = &p->levels[p->depth];
    to->repeats = true;
    if (!add_sums(p, &to->each, each, 1, false))
        return too_large(p, star);
    if (!times_ahead(p))
        return true;
    mistake(p, HK_ROW_SYNTAX, p->at, "what stands between stars is repeated as often as it fits");
    hint(p, "write brackets for a number of times: (sc 1, ch 1) x 3");
    return false;
}

/* "(" row ")", and what it comes to stands in the level above the present one. */
static bool take_brackets(struct parser *p)
{
    const char *open = p->at;
    if (!level_open(p, open))
        return false;
    p->at++;
    p->brackets++;
    parse_items(p, open);
    p->brackets--;
    p->depth--;
    if (p->stopped)
        return false;
    if (!closes(*p->at)) {
        mistake(p, HK_ROW_SYNTAX, open, "the bracket that opens here is not closed");
        hint(p, "write ) behind its last stitch");
        return false;
    }
    p->at++;
    blanks(p);
    return true;
}

/* "(" row ")" [times] [place] */
static bool item_group(struct parser *p)
{
    const char *start = p->at;
    struct place place;
    int64_t times;
    if (!take_brackets(p) || !take_times(p, &times) || !take_place(p, &place))
        return false;
    if (hk_is_digit(*p->at)) {
        mistake(p, HK_ROW_SYNTAX, p->at, "a number behind brackets needs x or times");
        hint(p, "write ( ) x %.*s", clipped(p->at, strspn(p->at, "0123456789")), p->at);
        return false;
    }
    if (place.given && times_ahead(p)) {
        mistake(p, HK_ROW_SYNTAX, p->at, "how many times comes before the place");
        hint(p, "write (sc 1, ch 1) x 2 in 1 for all in one, or ((sc 1, ch 1) in 1) x 2 for one stitch each");
        return false;
    }
    return close_into(p, start, times, &place);
}

/* "BLO", "FLO", "in BLO": where the hook goes in takes no more or less yarn. */
static void take_loop_word(struct parser *p)
{
    static const char *const words[] = {"BLO", "FLO", "BL", "FL", NULL};
    const char *start = p->at;
    if (take_word(p, "in"))
        take_fill(p, articles);
    if (!take_one_of(p, words))
        p->at = start;
}

static bool two_numbers(struct parser *p, const char *at, int64_t first, int64_t second)
{
    mistake(p, HK_ROW_SYNTAX, at, "the stitch has two numbers, %" PRId64 " and %" PRId64, first, second);
    hint(p, "write one of them, or brackets: (sc 3) x 2");
    return false;
}

/* Behind the name: [N], unless a number is there already. */
static bool take_count(struct parser *p, int64_t *count)
{
    int64_t behind;
    const char *at = p->at;
    if (times_ahead(p)) {
        mistake(p, HK_ROW_SYNTAX, p->at, "only what stands in brackets is worked so many times");
        hint(p, "write sc 3 for three of them, or (sc 3) x 2");
        return false;
    }
    if (!hk_is_digit(*p->at)) {
        *count = *count ? *count : 1;
        return true;
    }
    if (!take_number(p, &behind))
        return false;
    if (*count)
        return two_numbers(p, at, *count, behind);
    *count = behind;
    return true;
}

static bool count_before_bracket(struct parser *p, const char *start, int64_t count)
{
    mistake(p, HK_ROW_SYNTAX, start, "a number stands before brackets");
    hint(p, "write it behind them: ( ) x %" PRId64, count);
    return false;
}

static void note_kind(struct parser *p, size_t stitch, int64_t count)
{
    if (stitch == p->chain)
        p->chains_left += count;
    else if (stitch == p->slip)
        p->slips = true;
    else
        p->others = p->others || p->catalogue->stitches[stitch].leaves > 0;
}

/* [N] stitch [N] [place], BLO or FLO anywhere between */
static bool item_stitch(struct parser *p)
{
    const char *start = p->at;
    struct sums *once = &p->levels[p->depth].once;
    struct place place;
    size_t stitch;
    int64_t count = 0, all = 0;
    take_loop_word(p);
    if (hk_is_digit(*p->at) && !name_at(p, p->terms)) {
        if (!take_number(p, &count))
            return false;
        if (opens(*p->at))
            return count_before_bracket(p, start, count);
        take_loop_word(p);
    }
    if (!take_name(p, &stitch))
        return false;
    take_loop_word(p);
    if (!take_count(p, &count))
        return false;
    take_one_of(p, stitch_words); /* "dc 10 sts" */
    take_loop_word(p);
    if (!take_place(p, &place))
        return false;
    int64_t needs = once->needs;
    if (stitch == p->chain && p->depth == 0 && !place.given)
        p->chains = (struct chains){start, count};
    note_kind(p, stitch, count);
    if (!add_product(&all, count, place.copies) || !add_stitch(p, once, stitch, all))
        return too_large(p, start);
    if (place.given) {
        once->needs = needs;
        if (!add_product(&once->needs, place.needs, 1))
            return too_large(p, start);
    }
    return true;
}

/* What a turning chain stands for: a stitch, or several in brackets. */
static bool take_stands_for(struct parser *p, int64_t *leaves)
{
    size_t stitch;
    if (opens(*p->at)) {
        p->in_as = true;
        bool good = take_brackets(p);
        p->in_as = false;
        *leaves = p->levels[p->depth + 1].once.leaves;
        return good;
    }
    if (*p->at == '*' || (hk_is_digit(*p->at) && !name_at(p, p->terms))) {
        mistake(p, HK_ROW_SYNTAX, p->at, "a turning chain stands for one stitch, or for several in brackets");
        hint(p, "write tch 3 as dc, or tch 4 as (dc, ch 1)");
        return false;
    }
    if (!take_name(p, &stitch))
        return false;
    *leaves = p->catalogue->stitches[stitch].leaves;
    return true;
}

/* "tch" N ["as" stitch | "as" "(" row ")"] */
static bool item_turning_chain(struct parser *p, const char *start)
{
    struct sums *once = &p->levels[p->depth].once;
    int64_t count, leaves = 0;
    if (p->in_as) {
        mistake(p, HK_ROW_SYNTAX, start, "a turning chain cannot stand for another");
        hint(p, "write the stitches that it stands for: tch 4 as (dc, ch 1)");
        return false;
    }
    if (!hk_is_digit(*p->at)) {
        mistake(p, HK_ROW_SYNTAX, start, "the turning chain does not say how many chains");
        hint(p, "write tch 1, or tch 3 as dc where it counts as a stitch");
        return false;
    }
    if (!take_number(p, &count))
        return false;
    bool counts = take_word(p, "as");
    if (counts && !take_stands_for(p, &leaves))
        return false;
    if (add_count(p, once, p->chain, 1, count) && add_product(&once->leaves, leaves, 1) &&
        add_product(&once->needs, counts, 1) && add_product(&once->turning_needs, counts, 1))
        return true;
    return too_large(p, start);
}

/* "join" [N] */
static bool item_join(struct parser *p, const char *start)
{
    int64_t count = 1;
    if (hk_is_digit(*p->at) && !take_number(p, &count))
        return false;
    if (!add_count(p, &p->levels[p->depth].once, p->slip, 1, count))
        return too_large(p, start);
    p->closed = p->depth == 0;
    p->joined = p->joined || p->closed;
    return true;
}

static bool cut_without_unit(struct parser *p, const char *number, const char *behind)
{
    size_t length = word_length(behind);
    if (length && !times_ahead(p)) {
        mistake(p, HK_UNIT_WRONG, number, "%.*s is no length", clipped(number, (size_t)(behind - number) + length), number);
    } else {
        mistake(p, HK_UNIT_MISSING, number, "the cut length has no unit");
    }
    hint(p, "write a length like cut 30 cm or cut 12 in");
    return false;
}

/* "cut" LENGTH [times] */
static bool item_cut(struct parser *p, const char *start)
{
    struct sums *once = &p->levels[p->depth].once;
    enum hk_decimal decimal = p->cell.table ? hk_table_decimal(p->cell.table) : HK_DECIMAL_POINT;
    const char *number = p->at;
    enum hk_dimension dimension;
    double length, factor;
    int64_t times;
    if (p->in_as) {
        mistake(p, HK_ROW_SYNTAX, start, "a turning chain cannot stand for a cut length");
        hint(p, "write the stitches that it stands for: tch 4 as (dc, ch 1)");
        return false;
    }
    if (!hk_number_scan(&p->at, decimal, &length)) {
        mistake(p, HK_ROW_SYNTAX, start, "cut does not say how long");
        hint(p, "write a length like cut 30 cm or cut 12 in");
        return false;
    }
    blanks(p);
    const char *behind = p->at;
    if (!hk_unit_scan(&p->at, &dimension, &factor) || dimension != HK_LENGTH)
        return cut_without_unit(p, number, behind);
    blanks(p);
    if (!(length > 0) || length * factor > HK_QUANTITY_MOST) {
        mistake(p, HK_RANGE, number, "the cut length is %s", length > 0 ? "too large" : "0");
        hint(p, "write a length like cut 30 cm or cut 12 in");
        return false;
    }
    if (!take_times(p, &times))
        return false;
    once->cut_m += length * factor * (double)times;
    return once->cut_m <= HK_QUANTITY_MOST ? true : too_large(p, start);
}

/* Where nothing else is said of it: "fasten off in ring" is left. */
static bool take_fasten_off(struct parser *p)
{
    const char *start = p->at;
    if (take_word(p, "fasten off") && (!*p->at || strchr(",;.)]}*", *p->at)))
        return true;
    p->at = start;
    return false;
}

static bool parse_item(struct parser *p)
{
    static const char *const turning_chain[] = {"tch", "t-ch", "turning chain", NULL};
    const char *start = p->at;
    if (*p->at == '*')
        return item_repeat(p);
    if (opens(*p->at))
        return item_group(p);
    if (take_one_of(p, turning_chain)) {
        p->turns = p->turns || p->depth == 0;
        return item_turning_chain(p, start);
    }
    if (take_word(p, "join"))
        return item_join(p, start);
    if (take_word(p, "cut"))
        return item_cut(p, start);
    if (take_word(p, "turn")) {
        p->turned = true;
        p->turns = p->turns || p->depth == 0;
        return true;
    }
    if (take_fasten_off(p)) {
        p->turned = true;
        return true;
    }
    return item_stitch(p);
}

/* ---- Turning ----------------------------------------------------------------------------------------------------- */

/* Chains next to a turn lift the hook to the next row: they leave no stitch to work into. */
static void lift(struct parser *p, struct chains *chains)
{
    if (!chains->at || chains->count > TURNING_MOST)
        return;
    p->levels[0].once.leaves -= chains->count;
    p->chains_left -= chains->count;
    if (p->lead.at == chains->at)
        p->lead.at = NULL;
    chains->at = NULL;
}

/* An item outside of all brackets, and what it is to the one before it. */
static bool parse_outer_item(struct parser *p)
{
    struct chains before = p->chains;
    bool turned = p->turned, closed = p->closed, first = p->at == p->text;
    p->chains.at = NULL;
    p->turned = p->closed = false;
    bool good = parse_item(p);
    p->closed = p->closed || (p->turned && closed);
    if (first)
        p->lead = p->chains;
    if (turned)
        lift(p, &p->chains);
    if (p->turned)
        lift(p, &before);
    return good;
}

static bool works_others(const struct parser *p, const struct sums *sums)
{
    for (size_t i = 0; i < sums->stitch_count; i++)
        if (sums->stitches[i].stitch != p->chain && sums->stitches[i].stitch != p->slip)
            return true;
    return false;
}

static bool works_stitches(const struct parser *p)
{
    return works_others(p, &p->levels[0].once) || works_others(p, &p->levels[0].each);
}

/*
 * Chains that a row begins with: where it ends in a turn they are those of the turn before. Said, unless it is the one chain that
 * never counts, because as written "ch 3" may be meant for a stitch.
 */
static void judge_lead(struct parser *p)
{
    const char *at = p->lead.at;
    int64_t count = p->lead.count;
    if (!at || count > TURNING_MOST || p->mistakes || !works_stitches(p))
        return;
    if (p->turned) {
        lift(p, &p->lead);
        if (count == 1)
            return;
        hk_diags_add(p->diags, HK_ROW_CHAIN, place_of(p, at),
                     "ch %" PRId64 " at the start of the row is taken as a turning chain that counts as no stitch", count);
        hint(p, "write ch %" PRId64 " (counts as dc) where it counts as one, tch %" PRId64 " where it does not", count, count);
    } else {
        hk_diags_add(p->diags, HK_ROW_CHAIN, place_of(p, at),
                     "ch %" PRId64 " at the start of the row is counted as %s to work into", count,
                     count == 1 ? "a stitch" : "stitches");
        hint(p, "write tch %" PRId64 " where it only turns, tch %" PRId64 " as dc where it counts as a dc, (ch %" PRId64
                ") where it is right so", count, count, count);
    }
}

/* ---- Rows -------------------------------------------------------------------------------------------------------- */

static bool ends_items(const struct parser *p)
{
    return !*p->at || closes(*p->at) || (*p->at == '*' && p->in_repeat);
}

/* After a mistake: to the next separator or the end of what is open, whole brackets and repeats skipped. */
static void recover(struct parser *p)
{
    size_t deep = 0;
    bool starred = false;
    for (; *p->at; p->at++) {
        if (deep == 0 && !starred && (separates(*p->at) || ends_items(p)))
            return;
        if (opens(*p->at))
            deep++;
        else if (closes(*p->at) && deep > 0)
            deep--;
        else if (*p->at == '*')
            starred = !starred && !p->in_repeat;
    }
}

/* What an item begins with is there without a comma before it, or nothing that can be read. */
static void leftover(struct parser *p)
{
    size_t length = word_length(p->at);
    bool item = *p->at == '*' || opens(*p->at) || name_at(p, p->terms);
    if (!length)
        length = 1 + strcspn(p->at + 1, " ,;*()[]{}");
    if (item) {
        mistake(p, HK_ROW_SYNTAX, p->at, "a comma is missing before %.*s", clipped(p->at, word_length(p->at) ? length : 1),
                p->at);
        hint(p, "write a comma between items: sc 3, ch 1");
        return;
    }
    const char *said = phrase_hint(p);
    mistake(p, HK_ROW_SYNTAX, p->at, "%.*s cannot be read here", clipped(p->at, length), p->at);
    if (said)
        hint(p, "%s", said);
    else
        hint(p, "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between");
    recover(p);
}

/* A bracket that nothing opened: said, and passed over. */
static void stray_bracket(struct parser *p)
{
    mistake(p, HK_ROW_SYNTAX, p->at, "this bracket closes nothing");
    hint(p, "write ( where the group begins, or leave it out");
    p->at++;
    blanks(p);
}

static void nothing_there(struct parser *p, const char *before)
{
    if (!before && separates(*p->at))
        before = p->at;
    if (before && separates(*before)) {
        mistake(p, HK_ROW_SYNTAX, before, "nothing stands %s this %s", before == p->at ? "before" : "behind",
                *before == ',' ? "comma" : "semicolon");
        hint(p, "leave it out, or write what is missing");
        return;
    }
    mistake(p, HK_ROW_SYNTAX, before ? before : p->text, before ? "nothing stands in here" : "the row is empty");
    hint(p, "write what is worked, such as *sc 1*");
}

/* A star where an item is due closes the repeat if nothing that could be repeated follows it. */
static bool star_closes(const struct parser *p)
{
    const char *behind = p->at + 1 + strspn(p->at + 1, " ");
    return *p->at == '*' && p->in_repeat && (!*behind || separates(*behind) || closes(*behind) || *behind == '*');
}

/* One item where one is due; `before` is the separator or opener in front of it, NULL at the beginning of the row. */
static void due_item(struct parser *p, const char *before)
{
    if (!*p->at || separates(*p->at) || (closes(*p->at) && p->brackets) || star_closes(p)) {
        nothing_there(p, before);
        return;
    }
    bool outer = p->depth == 0;
    if (!closes(*p->at) && !(outer ? parse_outer_item(p) : parse_item(p)) && !p->stopped)
        recover(p);
}

/* item { ("," | ";") item } up to a closing bracket or star, which stays for the caller, or the end. */
static void parse_items(struct parser *p, const char *opener)
{
    const char *before = opener;
    bool due = true;
    while (!p->stopped) {
        blanks(p);
        if (due)
            due_item(p, before);
        due = false;
        blanks(p);
        if (p->stopped)
            return;
        if (closes(*p->at) && p->brackets == 0) {
            stray_bracket(p);
        } else if (separates(*p->at)) {
            before = p->at++;
            due = true;
        } else if (ends_items(p)) {
            return;
        } else {
            leftover(p);
            due = !ends_items(p) && !separates(*p->at);
        }
    }
}

/* A full stop ends the row as it ends a sentence. */
static void forgive_full_stop(char *text)
{
    size_t length = strlen(text);
    while (length && (text[length - 1] == '.' || text[length - 1] == ' '))
        text[--length] = '\0';
}

/* The stitches that the notation itself works, by their US names: they are there in both terms. */
static bool find_own(struct parser *p, const char *us, size_t *stitch)
{
    for (size_t i = 0; i < p->catalogue->stitch_count; i++) {
        if (p->catalogue->stitches[i].us && hk_text_same(p->catalogue->stitches[i].us, us)) {
            *stitch = i;
            return true;
        }
    }
    mistake(p, HK_NAME_UNKNOWN, p->text, "the table of stitches has no %s, which rows are made of", us);
    hint(p, "put it back into stitches.csv");
    return false;
}

static bool deliver(struct parser *p, const struct sums *sums, struct hk_sum *out)
{
    *out = (struct hk_sum){
        .needs = sums->needs,
        .turning_needs = sums->turning_needs,
        .leaves = sums->leaves,
        .stitches = hk_arena_take(p->arena, sums->stitch_count, sizeof *out->stitches),
        .stitch_count = sums->stitch_count,
        .cut_m = sums->cut_m,
    };
    if (out->stitches && sums->stitch_count)
        memcpy(out->stitches, sums->stitches, sums->stitch_count * sizeof *out->stitches);
    return out->stitches;
}

static enum hk_way way_of(const struct parser *p)
{
    if (p->closed)
        return HK_WAY_ROUNDS;
    return p->turns ? HK_WAY_ROWS : HK_WAY_NOT_STATED;
}

static bool parse_row(struct parser *p, struct hk_row *row)
{
    p->text = hk_text_plain(&p->scratch, p->cell.text, &p->origin);
    if (!p->text || !hk_wording(&p->scratch, &p->text, &p->origin, &p->stated))
        return false;
    if (!find_own(p, "ch", &p->chain) || !find_own(p, "sl st", &p->slip))
        return false;
    forgive_full_stop(p->text);
    p->at = p->text;
    parse_items(p, NULL);
    judge_lead(p);
    const struct level *row_level = &p->levels[0];
    struct hk_row parsed = {
        .repeats = row_level->repeats, .way = way_of(p), .joined = p->joined, .cell = p->cell,
        .states = p->stated.stitches >= 0, .stated = p->stated.stitches, .stated_at = p->stated.at,
        .ambiguous = p->spaces || p->chains_left > 0 || (p->slips && p->others) ||
                     row_level->once.turning_needs > 0 || row_level->each.turning_needs > 0,
    };
    if (p->mistakes || p->scratch.lost || !deliver(p, &p->levels[0].once, &parsed.once) ||
        !deliver(p, &p->levels[0].each, &parsed.each))
        return false;
    *row = parsed;
    return true;
}

bool hk_row_parse(struct hk_cell cell, enum hk_terms terms, const struct hk_catalogue *catalogue, struct hk_row *row,
                  struct hk_arena *arena, struct hk_diags *diags)
{
    struct parser parser = {.cell = cell, .terms = terms, .catalogue = catalogue, .arena = arena, .diags = diags,
                            .words = catalogue->words, .stated.stitches = -1};
    bool good = parse_row(&parser, row);
    if (parser.scratch.lost || arena->lost)
        diags->lost = true;
    hk_arena_free(&parser.scratch);
    return good;
}
