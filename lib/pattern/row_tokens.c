/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tokens of a row, and the basic elements made of them: phrases, numbers, names of stitches. */
#include "pattern/row_parser.h"

#include "base/text.h"
#include "pattern/label.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* ---- Tokens ---- */

static struct hk_token number_token(const char *text, size_t at)
{
    struct hk_token token = {.kind = HK_TOKEN_NUMBER, .at = at};
    for (; hk_is_digit(text[at + token.length]); token.length++) {
        if (token.value <= HK_COUNT_MOST)
            token.value = token.value * 10 + (text[at + token.length] - '0');
    }
    return token;
}

static struct hk_token next_token(const char *text, size_t at)
{
    struct hk_token token = {.kind = HK_TOKEN_MARK, .at = at, .length = 1, .mark = text[at]};
    if (!text[at])
        return (struct hk_token){.kind = HK_TOKEN_END, .at = at};
    if (hk_is_digit(text[at]))
        return number_token(text, at);
    if (!hk_is_letter(text[at])) {
        if (text[at] == '*' && text[at + 1] == '*') {
            token.mark = '\xb2'; /* two stars are one token */
            token.length = 2;
        }
        return token;
    }
    token = (struct hk_token){.kind = HK_TOKEN_WORD, .at = at};
    while (hk_is_letter(text[at + token.length]) || text[at + token.length] == '\'')
        token.length++;
    return token;
}

bool hk_row_tokenize(struct hk_row_parser *parser)
{
    const char *text = parser->text->text;
    size_t capacity = 0, at = 0;
    struct hk_token token;
    do {
        at = (size_t)(hk_blanks_skipped(text + at) - text);
        token = next_token(text, at);
        struct hk_token *grown =
            hk_arena_grow(&parser->scratch, parser->tokens, parser->token_count, &capacity, sizeof *grown);
        if (!grown)
            return false;
        parser->tokens = grown;
        grown[parser->token_count++] = token;
        at += token.length;
    } while (token.kind != HK_TOKEN_END);
    return true;
}

bool hk_row_ends(const struct hk_row_parser *parser)
{
    return hk_token(parser)->kind == HK_TOKEN_END;
}

bool hk_row_mark_ahead(const struct hk_row_parser *parser, char mark)
{
    return hk_token(parser)->kind == HK_TOKEN_MARK && hk_token(parser)->mark == mark;
}

bool hk_row_mark(struct hk_row_parser *parser, char mark)
{
    bool there = hk_row_mark_ahead(parser, mark);
    parser->now += there;
    return there;
}

/* ---- Phrases ---- */

static bool token_is(const struct hk_row_parser *parser, const struct hk_token *token, const char *word, size_t length)
{
    if (token->kind == HK_TOKEN_END || token->length != length)
        return false;
    const char *text = parser->text->text + token->at;
    for (size_t i = 0; i < length; i++)
        if (hk_lower(text[i]) != hk_lower(word[i]))
            return false;
    return true;
}

/* Matches one word of a phrase, "in|into" or "the?", at a token, and advances *phrase. */
static bool phrase_word(const struct hk_row_parser *parser, const char **phrase, size_t *now)
{
    bool found = false;
    size_t length;
    const char *at = *phrase;
    for (;; at += length + 1) {
        length = strcspn(at, " |?");
        found = found || token_is(parser, &parser->tokens[*now], at, length);
        if (at[length] != '|')
            break;
    }
    bool optional = at[length] == '?';
    at += length + optional;
    *phrase = at + (*at == ' ');
    *now += found;
    return found || optional;
}

static size_t phrase_end(const struct hk_row_parser *parser, const char *phrase)
{
    size_t now = parser->now;
    while (*phrase) {
        if (!phrase_word(parser, &phrase, &now))
            return 0;
    }
    return now;
}

bool hk_row_ahead(const struct hk_row_parser *parser, const char *phrase)
{
    return phrase_end(parser, phrase) > 0;
}

bool hk_row_take(struct hk_row_parser *parser, const char *phrase)
{
    size_t end = phrase_end(parser, phrase);
    if (end)
        parser->now = end;
    return end > 0;
}

/* ---- Findings ---- */

bool hk_row_mistake(struct hk_row_parser *parser, enum hk_code code, size_t at, const char *format, ...)
{
    char text[512];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    const struct hk_row row = {.text = parser->text};
    hk_diags_add(parser->diags, code, hk_row_place(&row, at), "%s", text);
    if (++parser->mistakes >= HK_ROW_MISTAKES)
        parser->stopped = true;
    return false;
}

void hk_row_hint(struct hk_row_parser *parser, const char *format, ...)
{
    char text[512];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    hk_diags_hint(parser->diags, "%s", text);
}

/* ---- Numbers ---- */

static const struct {
    const char *word;
    int64_t value;
} number_words[] = {{"one", 1},      {"two", 2},        {"three", 3},     {"four", 4},      {"five", 5},
                    {"six", 6},      {"seven", 7},      {"eight", 8},     {"nine", 9},      {"ten", 10},
                    {"eleven", 11},  {"twelve", 12},    {"thirteen", 13}, {"fourteen", 14}, {"fifteen", 15},
                    {"sixteen", 16}, {"seventeen", 17}, {"eighteen", 18}, {"nineteen", 19}, {"twenty", 20},
                    {"thirty", 30},  {"forty", 40},     {"fifty", 50},    {"sixty", 60},    {"seventy", 70},
                    {"eighty", 80},  {"ninety", 90}};

static int64_t word_value(const struct hk_row_parser *parser)
{
    for (size_t i = 0; i < sizeof number_words / sizeof *number_words; i++)
        if (hk_row_ahead(parser, number_words[i].word))
            return number_words[i].value;
    return 0;
}

/* Reads the values of other sizes after the bracket: "14, 16)". A dash means no value. */
static size_t graded_group(const struct hk_row_parser *parser, size_t now, int64_t *values, size_t most)
{
    size_t count = 0;
    char close = parser->tokens[now].mark == '(' ? ')' : ']';
    for (now++;; now++) {
        const struct hk_token *token = &parser->tokens[now];
        bool dash = token->kind == HK_TOKEN_MARK && token->mark == '-';
        if (token->kind != HK_TOKEN_NUMBER && !dash)
            return 0;
        if (count < most)
            values[count] = dash ? 0 : token->value;
        count++;
        token = &parser->tokens[now + 1];
        if (token->kind != HK_TOKEN_MARK || (!strchr(HK_VALUE_MARKS, token->mark) && token->mark != close))
            return 0;
        now++;
        if (token->mark == close)
            return count;
    }
}

static bool opens_group(const struct hk_token *token)
{
    return token->kind == HK_TOKEN_MARK && (token->mark == '(' || token->mark == '[');
}

/* Returns true for "- (42, 48)": the first size has no value. */
static bool dash_ahead(const struct hk_row_parser *parser)
{
    size_t sizes = parser->words->size_count;
    return sizes > 1 && hk_row_mark_ahead(parser, '-') && opens_group(hk_token(parser) + 1) &&
           graded_group(parser, parser->now + 1, NULL, 0) + 1 == sizes;
}

bool hk_row_number_ahead(const struct hk_row_parser *parser)
{
    return dash_ahead(parser) || hk_token(parser)->kind == HK_TOKEN_NUMBER || word_value(parser) > 0;
}

/* Returns the number of tokens of a group of `count` values. */
static size_t group_tokens(size_t count)
{
    return 2 * count + 1;
}

/* Returns true when only a full stop or "sts" follow a group at the end of the row. */
static bool ends_behind(const struct hk_row_parser *parser, size_t now)
{
    while (parser->tokens[now].kind == HK_TOKEN_MARK && parser->tokens[now].mark == '.')
        now++;
    return parser->tokens[now].kind == HK_TOKEN_END;
}

/*
 * Reads the values of all sizes, at least two. Returns the number of tokens after the first value; 0 if it is one value
 * for all sizes.
 */
static size_t graded_tokens(struct hk_row_parser *parser, int64_t *values)
{
    size_t sizes = parser->words->size_count, count = 1, now = parser->now + 1;
    while (count < sizes && opens_group(&parser->tokens[now])) {
        size_t more = graded_group(parser, now, values + count, sizes - count);
        if (more == 0)
            break;
        count += more;
        now += group_tokens(more);
    }
    if (count != sizes)
        return 0;
    if (sizes == 2 && ends_behind(parser, now)) {
        parser->graded_at_end = true;
        if (parser->counts_first)
            return 0;
    }
    return now - parser->now - 1;
}

/* Reports values that look graded but do not have one value for each size. */
static bool grading_wrong(struct hk_row_parser *parser)
{
    size_t group = opens_group(&parser->tokens[parser->now + 1]) ? graded_group(parser, parser->now + 1, NULL, 0) : 0;
    if (group < 2)
        return false;
    hk_row_mistake(parser, HK_CODE_GRADE_COUNT, hk_token(parser)->at, "%zu values for %zu size%s", group + 1,
                   parser->words->size_count, parser->words->size_count == 1 ? "" : "s");
    hk_row_hint(parser, "write one value for all sizes, or one for each: 12 (14, 16)");
    return true;
}

static bool too_large(struct hk_row_parser *parser, size_t at)
{
    hk_row_mistake(parser, HK_CODE_COUNT_TOO_LARGE, at, "a count is above %" PRId64, HK_COUNT_MOST);
    hk_row_hint(parser, "look for a number with too many digits");
    return false;
}

/* Reports a fraction or a decimal. */
static bool not_whole(struct hk_row_parser *parser)
{
    const struct hk_token *token = hk_token(parser), *mark = token + 1;
    if (mark->kind != HK_TOKEN_MARK || (mark->mark != '.' && mark->mark != '/') ||
        mark->at != token->at + token->length || mark[1].kind != HK_TOKEN_NUMBER || mark[1].at != mark->at + 1)
        return false;
    hk_row_mistake(parser, HK_CODE_NUMBER, token->at, "%.*s is not a whole number",
                   (int)(mark[1].at + mark[1].length - token->at), hk_token_text(parser));
    hk_row_hint(parser, "stitches are counted in whole numbers");
    parser->now += 2; /* its last digits are part of this finding */
    return true;
}

bool hk_row_number(struct hk_row_parser *parser, struct hk_graded_count *number)
{
    const struct hk_token *token = hk_token(parser);
    if (token->kind == HK_TOKEN_WORD) {
        *number = (struct hk_graded_count){.one = word_value(parser)};
        parser->now++;
        return true;
    }
    if (not_whole(parser))
        return false;
    if (token->value > HK_COUNT_MOST)
        return too_large(parser, token->at);
    int64_t *values = NULL;
    size_t more = 0;
    if (parser->words->size_count > 1 && opens_group(token + 1)) {
        values = hk_arena_take(parser->arena, parser->words->size_count, sizeof *values);
        if (!values)
            return false;
        values[0] = token->value;
        more = graded_tokens(parser, values);
    }
    if (!more && grading_wrong(parser))
        return false;
    *number = (struct hk_graded_count){.one = token->value, .by_size = more ? values : NULL};
    for (size_t i = 0; more && i < parser->words->size_count; i++)
        if (values[i] > HK_COUNT_MOST)
            return too_large(parser, token->at);
    parser->now += 1 + more;
    return true;
}

bool hk_row_number_of_places(struct hk_row_parser *parser, struct hk_graded_count *number)
{
    size_t at = hk_token(parser)->at;
    if (!hk_row_number(parser, number))
        return false;
    if (number->one != 0 || number->by_size)
        return true;
    hk_row_mistake(parser, HK_CODE_RANGE, at, "0 works nothing");
    hk_row_hint(parser, "leave it out, or write a number from 1");
    return false;
}

/* ---- Names of stitches ---- */

/* Returns the longest name from `first` on that matches at `at` as a whole word. */
static const struct hk_spelling *longest_at(const char *at, const struct hk_words *list, size_t first)
{
    const struct hk_spelling *longest = NULL;
    for (size_t i = first; i > 0; i = list->words[i - 1].next) {
        const struct hk_spelling *word = &list->words[i - 1];
        if ((longest && word->length <= longest->length) || !hk_text_starts(at, word->text))
            continue;
        char last = word->text[word->length - 1], next = at[word->length];
        if (!hk_is_letter(next) && next != '&' && !(hk_is_digit(last) && hk_is_digit(next)))
            longest = word;
    }
    return longest;
}

static const struct hk_spelling *name_at(const struct hk_row_words *words, enum hk_terms terms, const char *at)
{
    if (!*at)
        return NULL;
    const struct hk_words *list = &words->catalogue->words[terms];
    const size_t *first = list->first[hk_letter(at[0])];
    const struct hk_spelling *longer = longest_at(at, list, first[hk_letter(at[1])]);
    return longer ? longer : longest_at(at, list, first[0]); /* names of one letter */
}

/* Returns true for digits followed by letters directly after a name, which make another word: "dc3tog", "2x". */
static bool name_goes_on(const char *behind)
{
    size_t digits = hk_digit_run(behind);
    return digits && hk_is_letter(behind[digits]) && !hk_text_starts(behind + digits, "x ");
}

/* Returns the number of tokens in `length` bytes from the next token; 0 if the name ends within a token. */
static size_t tokens_of(const struct hk_row_parser *parser, size_t length)
{
    size_t end = hk_token(parser)->at + length, count = 0;
    while (parser->tokens[parser->now + count].at < end) /* there is at least one, and the last token ends the text */
        count++;
    const struct hk_token *last = &parser->tokens[parser->now + count - 1];
    return last->at + last->length == end ? count : 0;
}

size_t hk_row_stitch_ahead(const struct hk_row_parser *parser, size_t *tokens)
{
    const char *at = hk_token_text(parser);
    enum hk_terms terms = parser->words->terms, others = terms == HK_TERMS_US ? HK_TERMS_UK : HK_TERMS_US;
    const struct hk_spelling *name = name_at(parser->words, terms, at), *other = name_at(parser->words, others, at);
    if (!name || (other && other->length > name->length) || name_goes_on(at + name->length))
        return SIZE_MAX;
    size_t count = tokens_of(parser, name->length);
    if (!count)
        return SIZE_MAX;
    *tokens = count;
    return name->stitch;
}

size_t hk_row_stitch_take(struct hk_row_parser *parser)
{
    size_t tokens = 0, stitch = hk_row_stitch_ahead(parser, &tokens);
    parser->now += tokens;
    return stitch;
}

size_t hk_row_stitches_take(struct hk_row_parser *parser)
{
    if (hk_row_take(parser, "sl|slip sts|stitches")) /* the plural of sl st, not of sl */
        return parser->slip;
    size_t stitch = hk_row_stitch_take(parser);
    if (stitch != SIZE_MAX)
        return stitch;
    const struct hk_token *token = hk_token(parser);
    const struct hk_words *list = &parser->words->catalogue->words[parser->words->terms];
    const char *text = hk_token_text(parser);
    if (token->kind != HK_TOKEN_WORD || hk_lower(text[token->length - 1]) != 's')
        return SIZE_MAX;
    for (size_t i = 0; i < list->count; i++) {
        if (list->words[i].length == token->length - 1 && hk_text_starts(text, list->words[i].text)) {
            parser->now++;
            return list->words[i].stitch;
        }
    }
    return SIZE_MAX;
}

const struct hk_definition *hk_row_definition_take(struct hk_row_parser *parser)
{
    const char *at = hk_token_text(parser);
    const struct hk_definition *longest = NULL;
    size_t tokens = 0;
    for (size_t i = parser->words->definition_count; i > 0; i--) {
        const struct hk_definition *definition = &parser->words->definitions[i - 1];
        size_t length = strlen(definition->name);
        if ((longest && length <= strlen(longest->name)) || !hk_text_starts(at, definition->name))
            continue;
        if (hk_is_letter(at[length]) && hk_lower(at[length]) == 's' && !hk_is_letter(at[length + 1]))
            length++; /* "shells" */
        size_t count = hk_is_letter(at[length]) ? 0 : tokens_of(parser, length);
        if (count) {
            longest = definition;
            tokens = count;
        }
    }
    parser->now += tokens;
    return longest;
}

const char *hk_row_stitch_text(const struct hk_row_words *words, size_t stitch)
{
    if (stitch == HK_STITCH_INC || stitch == HK_STITCH_DEC)
        return stitch == HK_STITCH_INC ? "inc" : "dec";
    return hk_stitch_word(&words->catalogue->stitches[stitch], words->terms);
}

/* ---- Unknown words ---- */

/* Phrases of written patterns that are not supported, and hints how to write them with the same count. */
static const struct {
    const char *phrase, *hint;
} hints[] = {
    {"wyif|wyib", "leave it out: where the yarn lies takes none"},
    {"in this manner|way", "write the rows out, or what repeats between stars"},
    {"manner|way", "write the rows out, or what repeats between stars"},
    {"with 1|one|2|two fewer|less|more", "write each row out: what changes from row to row is not followed"},
    {"as established|set", "write the row out, or Rep row 2"},
    {"in pattern|patt", "write the row out, or Rep row 2"},
    {"in st pattern|patt", "write the row out, or Rep row 2"},
    {"provisional", "write CO and a number: a provisional cast-on counts as one"},
    {"return", "leave the return pass out: a Tunisian stitch has it in it"},
    {"next|each|every", "name the stitch first: sc in next 3 sts, sc in each st across"},
    {"st|sts|stitch|stitches", "name the stitch, such as sc 3 or k 3"},
    {"row|rnd|round", "leave the row's number out here: it stands before the colon, or in a column of its own"},
    {"times|time|twice", "write it after brackets: (sc, ch 1) 3 times"},
    {"x", "write it after brackets: (sc, ch 1) x 3"},
    {"counts|count", "write (counts as dc), or (does not count as a st)"},
    {"as", "write it after a turning chain: tch 3 as dc"},
    {"evenly|increasing|decreasing", "write where they are worked, such as *k 18, M1; rep from * to end"},
    {"skipping|missing", "name what is worked: \"sc in each dc around\" passes over the spaces"},
    {"before", "write up to which place, such as to 2 sts before marker, or to next ch-2 sp"},
    {"in|into", "write the stitch first: 5 dc in next st"},
};

static size_t word_length(const char *at)
{
    size_t length = 0;
    while (hk_is_letter(at[length]) || hk_is_digit(at[length]) || at[length] == '-' || at[length] == '\'' ||
           at[length] == '&')
        length++;
    return length;
}

/* Returns the length in bytes of the first characters of a text. */
static int clipped(const char *text, size_t length)
{
    size_t bytes = 0, characters = 0;
    for (; bytes < length; bytes++) {
        bool begins = ((unsigned char)text[bytes] & 0xC0) != 0x80;
        characters += begins;
        if (begins && characters > HK_ROW_SHOWN)
            break;
    }
    return (int)bytes;
}

static const char *spelling_name(const void *context, size_t i)
{
    return ((const struct hk_words *)context)->words[i].text;
}

static bool other_terms(struct hk_row_parser *parser, const struct hk_spelling *other)
{
    enum hk_terms terms = parser->words->terms;
    const char *at = hk_token_text(parser);
    const struct hk_stitch *stitch = &parser->words->catalogue->stitches[other->stitch];
    const char *ours = terms == HK_TERMS_US ? stitch->us : stitch->uk;
    hk_row_mistake(parser, HK_CODE_ROW_TERMS, hk_token(parser)->at, "%.*s is a %s word, and this project has terms,%s",
                   clipped(at, other->length), at, terms == HK_TERMS_US ? "UK" : "US",
                   terms == HK_TERMS_US ? "US" : "UK");
    if (ours)
        hk_row_hint(parser, "write %s", ours);
    return false;
}

static size_t digits_in(const char *text)
{
    size_t digits = 0;
    for (; *text; text++)
        digits += hk_is_digit(*text);
    return digits;
}

/*
 * Returns true when a name may be suggested for a word: it must not contain a count, and a word of two letters has no
 * suggestion.
 */
static bool may_stand_for(const char *word, const char *name)
{
    return strlen(word) > 2 && digits_in(word) == digits_in(name);
}

static const char *nearest_name(struct hk_row_parser *parser, size_t length)
{
    const struct hk_words *list = &parser->words->catalogue->words[parser->words->terms];
    if (parser->diags->count >= HK_FINDINGS_MOST || length < 2 || length > (size_t)4 * HK_ROW_SHOWN)
        return NULL;
    const char *word = hk_arena_text(&parser->scratch, hk_token_text(parser), length);
    size_t nearest = word ? hk_text_nearest(word, list->count, spelling_name, list) : SIZE_MAX;
    return nearest != SIZE_MAX && may_stand_for(word, list->words[nearest].text) ? list->words[nearest].text : NULL;
}

/* Reports a missing place: "sc in moon". */
static bool no_place(struct hk_row_parser *parser)
{
    const struct hk_token *place = hk_token(parser) + 1;
    const char *at = parser->text->text + place->at;
    hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, place->at, "\"in %.*s\" names no place", clipped(at, word_length(at)),
                   at);
    hk_row_hint(parser, "name a stitch and its place: sc in next st, 2 dc in ch-2 sp, (dc, ch 2) in ring");
    return false;
}

bool hk_row_unknown(struct hk_row_parser *parser)
{
    const char *at = hk_token_text(parser);
    size_t where = hk_token(parser)->at, length = word_length(at);
    const struct hk_spelling *other = name_at(parser->words,
                                              parser->words->terms == HK_TERMS_US ? HK_TERMS_UK : HK_TERMS_US, at),
                             *ours = name_at(parser->words, parser->words->terms, at);
    if (other && !name_goes_on(at + other->length) && (!ours || other->length > ours->length))
        return other_terms(parser, other);
    if (length == 0) {
        size_t mark = hk_row_ends(parser) ? 0 : hk_token(parser)->length;
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, where,
                       mark ? "\"%.*s\" is not understood here" : "a stitch is missing here%.*s", (int)mark, at);
        hk_row_hint(parser, "name what is worked, such as sc in next 3 sts or ch 2");
        return false;
    }
    for (size_t i = 0; i < sizeof hints / sizeof *hints; i++) {
        if (!hk_row_ahead(parser, hints[i].phrase))
            continue;
        if (hk_row_ahead(parser, "in|into") && parser->now > 0 && hk_token(parser)[-1].kind != HK_TOKEN_MARK)
            return no_place(parser);
        hk_row_mistake(parser, HK_CODE_ROW_SYNTAX, where, "\"%.*s\" is not understood here", clipped(at, length), at);
        hk_row_hint(parser, "%s", hints[i].hint);
        return false;
    }
    const char *near = nearest_name(parser, length);
    hk_row_mistake(parser, HK_CODE_NAME_UNKNOWN, where, "%.*s is not a stitch in %s terms", clipped(at, length), at,
                   parser->words->terms == HK_TERMS_US ? "US" : "UK");
    if (near)
        hk_row_hint(parser, "did you mean \"%s\"?", near);
    else
        hk_row_hint(parser, "write it in stitches that hankful tables stitches lists%s",
                    parser->text->cell.table              ? ""
                    : parser->words->terms == HK_TERMS_US ? ", or write [take as 24 sc] after the row"
                                                          : ", or write [take as 24 dc] after the row");
    return false;
}
