/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Builds pieces from lines. A line is parsed from its start: the sizes that it is restricted to, then a row with its
 * label, or sentences, each of which changes yarn or tool, begins a piece, refers to rows, is a row, defines a word, or
 * is prose.
 */
#include "pattern/written.h"

#include "base/text.h"
#include "input/quantity.h"
#include "pattern/colours.h"
#include "pattern/prose.h"

#include <string.h>

#define LEVELS 8 /* Markdown levels 1 to 6, and headings without a mark */
#define LEVEL_UNMARKED 7
#define LEVEL_WITHIN 8 /* below headings without a mark: "Shape neck:", "Second side:" */
#define LEVEL_NONE 9
#define LINE_MOST ((size_t)16 << 10)
#define PIECES_MOST ((size_t)2000)
#define TURNING_MOST 4 /* limit of chains at the start of a row; more chains, joined, are a foundation */

struct heading {
    const char *name;
    struct hk_graded_count times;
    struct hk_place place;
    int level;
};

struct builder {
    struct hk_written *written;
    const struct hk_row_words *words;
    struct hk_setting_words setting_words;
    struct hk_arena *arena;
    struct heading pending; /* the heading of the next piece or part; name NULL: none */
    struct hk_graded_count times[LEVELS];
    bool own_piece; /* the last heading with a mark has a piece of its own: a heading without one is next to it, not
                       below */
    bool pending_marked;
    const char *name;   /* the name of the last heading with a name */
    bool silent, gauge; /* below SIZES, GAUGE, NOTES */
    int level;          /* level of the heading of the piece */
    bool begun;         /* a piece has begun */
    bool in_block;
    bool goes_on; /* work begins on existing work: below the heading of its piece it is a part of it */
    const bool *line_sizes, *sizes; /* of this line; of the following lines */
    struct hk_place times_wrong;    /* "make 2 (3)" with four sizes: reported at the next entry; file NULL: none */
    size_t held;
    bool begin_open;      /* the words just read begin a piece, and their sentence goes on */
    bool yarn_named;      /* named since the last row */
    size_t colours;       /* 1 + the current sequence of colours; 0: none */
    size_t colours_ahead; /* the same for the next piece */
    size_t colours_known; /* 1 + a sequence stated before all pieces */
    bool colours_over;    /* the sequence was for some rows, and no yarn has been named since */
    double tool_mm;
    struct hk_conventions conventions;
};

static void *grow(struct builder *b, void *array, size_t count, size_t *capacity, size_t size)
{
    return hk_arena_grow(b->arena, array, count, capacity, size);
}

static bool part_of(struct builder *b, const struct hk_row_text *text, size_t from, size_t length,
                    struct hk_row_text *part)
{
    return hk_row_text_part(text, from, length, part, b->arena);
}

static void cut_front(struct builder *b, struct hk_row_text *text, size_t bytes)
{
    part_of(b, text, bytes, strlen(text->text) - bytes, text);
}

int64_t hk_entry_rows(const struct hk_entry *entry, size_t size)
{
    if (entry->sizes && !entry->sizes[size])
        return 0;
    if (!entry->numbered)
        return hk_graded_in(entry->rows, size);
    int64_t rows = hk_graded_in(entry->last, size) - hk_graded_in(entry->first, size) + 1;
    return rows > 0 ? rows : 0;
}

/* ---- Prose ------------------------------------------------------------------------------------------------------- */

static void prose_add(struct builder *b, const struct hk_row_text *text)
{
    struct hk_written *w = b->written;
    struct hk_written_prose *prose = grow(b, w->prose, w->prose_count, &w->prose_capacity, sizeof *prose);
    if (!prose)
        return;
    w->prose = prose;
    bool rows = b->gauge && hk_label_begins(text->text);
    prose[w->prose_count++] = (struct hk_written_prose){
        .text = text->text,
        .place = hk_row_text_place(text, 0),
        .work = (b->begun && !b->silent && hk_speaks_of_work(text->text)) || rows,
    };
}

/* ---- Pieces and parts ---- */

static struct hk_written_part *part_add(struct builder *b, const char *name, struct hk_graded_count times)
{
    struct hk_written *w = b->written;
    struct hk_written_part *parts = grow(b, w->parts, w->part_count, &w->part_capacity, sizeof *parts);
    if (!parts)
        return NULL;
    w->parts = parts;
    int level = w->piece_count > 0 && w->pieces[w->piece_count - 1].count == 0 ? b->level : b->pending.level;
    parts[w->part_count] =
        (struct hk_written_part){.name = name, .times = times, .first = w->entry_count, .level = level};
    w->pieces[w->piece_count - 1].count++;
    return &parts[w->part_count++];
}

/* Returns the name of a piece, with a number if another piece has the name. */
static const char *piece_name(struct builder *b, const char *name)
{
    size_t same = 0;
    for (size_t i = 0; i < b->written->piece_count; i++) {
        const char *other = b->written->pieces[i].name;
        size_t length = strlen(name);
        same += hk_text_same(other, name) ||
                (hk_text_starts(other, name) && other[length] == ' ' && hk_is_digit(other[length + 1]) &&
                 length + 1 + hk_digit_run(other + length + 1) == strlen(other));
    }
    return same ? hk_arena_print(b->arena, "%s %zu", name, same + 1) : name;
}

static struct hk_graded_count times_multiply(struct builder *b, struct hk_graded_count x, struct hk_graded_count y)
{
    size_t sizes = b->words->size_count;
    if (!x.by_size && !y.by_size)
        return (struct hk_graded_count){.one = x.one * y.one};
    int64_t *by_size = hk_arena_take(b->arena, sizes, sizeof *by_size);
    for (size_t i = 0; by_size && i < sizes; i++)
        by_size[i] = hk_graded_in(x, i) * hk_graded_in(y, i);
    return (struct hk_graded_count){.one = 1, .by_size = by_size};
}

static void piece_begin(struct builder *b, struct hk_place place)
{
    static const struct hk_graded_count once = {.one = 1};
    struct hk_written *w = b->written;
    struct hk_written_piece *pieces = grow(b, w->pieces, w->piece_count, &w->piece_capacity, sizeof *pieces);
    const char *name = b->pending.name ? b->pending.name : b->name ? b->name : "pattern";
    struct hk_graded_count times = once;
    for (size_t level = 0; level < LEVELS; level++)
        times = times_multiply(b, times, b->times[level]);
    if (!pieces)
        return;
    w->pieces = pieces;
    const char *heading = name;
    name = piece_name(b, name);
    pieces[w->piece_count++] = (struct hk_written_piece){
        .name = name,
        .heading = heading,
        .times = times,
        .first = w->part_count,
        .place = b->pending.name ? b->pending.place : place};
    b->own_piece |= b->pending.name && b->pending_marked;
    b->level = b->pending.name ? b->pending.level : LEVEL_NONE;
    b->pending = (struct heading){0};
    b->begun = true;
    b->in_block = false;
    b->colours = b->colours_ahead;
    b->colours_ahead = 0;
    b->colours_over = false;
    part_add(b, "", once);
}

/* Returns true for the name of a stitch pattern: rows below it, before any piece begins, are not worked there. */
static bool names_pattern(const char *name)
{
    static const char *const words[] = {"stitch", "st", "sts", "pattern", "patt", "rib", "ribbing", "lace", NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(name, words[i]))
            return true;
    return false;
}

static void block_begin(struct builder *b)
{
    struct hk_written *w = b->written;
    struct hk_written_block *blocks = grow(b, w->blocks, w->block_count, &w->block_capacity, sizeof *blocks);
    if (!blocks)
        return;
    w->blocks = blocks;
    blocks[w->block_count++] = (struct hk_written_block){.name = b->pending.name, .first = w->entry_count};
    b->pending = (struct heading){0};
    b->in_block = true;
}

/* Finds the place of an entry that is not a beginning: a new part, a stitch pattern, or a piece without a start. */
static void place_find(struct builder *b, struct hk_place place)
{
    if (b->in_block)
        return;
    if (b->pending.name && !b->begun && names_pattern(b->pending.name)) {
        block_begin(b);
        return;
    }
    if (!b->begun) {
        piece_begin(b, place);
        return;
    }
    if (b->pending.name) {
        part_add(b, b->pending.name, b->pending.times);
        b->pending = (struct heading){0};
    }
}

static void refuse(struct hk_entry *entry, enum hk_code code, struct hk_place place, const char *text, const char *hint)
{
    if (!entry || entry->problem.text)
        return;
    entry->problem = (struct hk_entry_problem){code, place, text, hint};
    if (entry->kind == HK_ENTRY_ROW || entry->kind == HK_ENTRY_REFERENCE)
        entry->kind = HK_ENTRY_REFUSED;
}

static void refuse_number(struct builder *b, struct hk_entry *entry, struct hk_place place)
{
    const char *message =
        hk_arena_print(b->arena, "a number is not given once for each of the %zu sizes", b->words->size_count);
    refuse(entry, HK_CODE_GRADE_COUNT, place, message,
           "write one value, or one for each size, as 12 (14, 16); - for a size that does without");
}

/* Reports the number of a beginning that has not one value for each size. */
static void refuse_begin(struct builder *b, struct hk_entry *entry, const struct hk_begin *begin,
                         const struct hk_row_text *text)
{
    struct hk_place place = hk_row_text_place(text, begin->wrong - 1);
    if (!begin->list) {
        refuse_number(b, entry, place);
        return;
    }
    refuse(entry, HK_CODE_GRADE_FORM, place, "the number is a list without brackets",
           hk_arena_print(b->arena, "write the first size, then the others in brackets: %s", begin->list));
}

static struct hk_entry *entry_add(struct builder *b, enum hk_entry_kind kind, const struct hk_row_text *text)
{
    struct hk_written *w = b->written;
    b->silent = false;
    bool below = b->begun && (!b->pending.name || b->pending.level > b->level);
    if (kind == HK_ENTRY_BEGIN && !(b->goes_on && below))
        piece_begin(b, hk_row_text_place(text, 0));
    else
        place_find(b, hk_row_text_place(text, 0));
    struct hk_entry *entries = grow(b, w->entries, w->entry_count, &w->entry_capacity, sizeof *entries);
    if (!entries || b->arena->out_of_memory)
        return NULL;
    w->entries = entries;
    struct hk_entry *entry = &entries[w->entry_count++];
    *entry = (struct hk_entry){.kind = kind,
                               .text = *text,
                               .whole = *text,
                               .place = hk_row_text_place(text, 0),
                               .label = "",
                               .rows = {.one = 1},
                               .sizes = b->line_sizes ? b->line_sizes : b->sizes,
                               .held = b->held,
                               .yarn_named = b->yarn_named,
                               .colours = kind == HK_ENTRY_BEGIN || b->in_block ? 0 : b->colours,
                               .tool_mm = b->tool_mm,
                               .conventions = b->conventions,
                               .definition_count = w->definition_count};
    if (b->in_block)
        w->blocks[w->block_count - 1].count++;
    else
        w->parts[w->part_count - 1].count++;
    if (b->times_wrong.file)
        refuse_number(b, entry, b->times_wrong);
    b->times_wrong = (struct hk_place){0};
    return entry;
}

/* ---- Yarn and tool ---- */

static size_t held_keep(struct builder *b, const struct hk_held *held)
{
    struct hk_written *w = b->written;
    for (size_t i = 0; i < w->held_count; i++) {
        const struct hk_held *known = &w->helds[i];
        bool same = known->count == held->count;
        for (size_t j = 0; same && j < held->count; j++)
            same = known->roles[j] == held->roles[j] && known->times[j] == held->times[j];
        if (same)
            return i;
    }
    struct hk_held *helds = grow(b, w->helds, w->held_count, &w->held_capacity, sizeof *helds);
    if (!helds)
        return SIZE_MAX;
    w->helds = helds;
    helds[w->held_count] = *held;
    return w->held_count++;
}

/* Sets the yarn of the following entries. */
static void yarn_take(struct builder *b, const struct hk_held *held)
{
    b->held = held_keep(b, held);
    b->yarn_named = true;
    b->colours = 0;
    b->colours_over = false;
}

/* Returns true for a row whose words name its yarns, "*k1 MC, k1 CC*"; it may begin with several. */
static bool names_yarns(const struct builder *b, const char *text)
{
    for (const char *c = text; *c; c++) {
        const char *end = c;
        if ((c == text || c[-1] == ' ') && hk_yarn_at(&end, &b->setting_words) != SIZE_MAX)
            return true;
    }
    return false;
}

/*
 * Reads yarn and tool at the start of the text and removes them. *joins: yarn is joined to existing work. *problem: an
 * error in them.
 */
static bool setting_take(struct builder *b, struct hk_row_text *text, bool *joins, struct hk_entry_problem *problem)
{
    struct hk_setting setting;
    if (!hk_setting_read(text->text, &b->setting_words, &setting, b->arena))
        return false;
    if (setting.held.count > 0) {
        if (setting.apart)
            setting.held.count = 1;
        yarn_take(b, &setting.held);
        if (setting.apart && !names_yarns(b, text->text + setting.length))
            *problem = (struct hk_entry_problem){HK_CODE_CHOICE, hk_row_text_place(text, 0),
                                                 "several yarns are named together",
                                                 "write \"held together\" after them, or one yarn"};
    }
    if (setting.tool_mm > 0)
        b->tool_mm = setting.tool_mm;
    if (setting.unknown_yarn) {
        const char *name = setting.unknown_yarn;
        int length = (int)strcspn(name, " ,.;:");
        *problem = (struct hk_entry_problem){
            HK_CODE_NAME_UNKNOWN, hk_row_text_place(text, (size_t)(name - text->text)),
            hk_arena_print(b->arena, "there is no yarn \"%.*s\" in yarns.csv", length, name),
            hk_arena_print(b->arena, "add a row for it, with \"%.*s\" as its role, or name another yarn", length,
                           name)};
    }
    if (setting.unknown_tool)
        *problem = (struct hk_entry_problem){
            HK_CODE_CHOICE, hk_row_text_place(text, (size_t)(setting.unknown_tool - text->text)),
            "the tool cannot be identified: the text does not name two", "write its diameter, such as 4 mm hook"};
    if (setting.unnamed)
        *problem = (struct hk_entry_problem){HK_CODE_CHOICE, hk_row_text_place(text, 0),
                                             "the names of the yarns held together are missing",
                                             "write them: \"2 strands of MC\", or \"MC and B held together\""};
    *joins |= setting.joins;
    cut_front(b, text, setting.length);
    return true;
}

/* "Join MC with sl st in next hdc, ch 2": removes the yarn and keeps "join with sl st in next hdc" in the row. */
static bool join_keep(struct builder *b, struct hk_row_text *text)
{
    static const char join[] = "join ";
    struct hk_setting setting;
    if (!hk_setting_read(text->text, &b->setting_words, &setting, b->arena) || !setting.clause ||
        setting.held.count == 0 || !text->text[setting.length])
        return false;
    const char *in = hk_word_find(text->text + setting.clause, "in"), *to = hk_word_find(text->text + setting.clause, "to"),
               *end = text->text + setting.length;
    if (!(in && in < end) && !(to && to < end))
        return false;
    size_t rest = strlen(text->text + setting.clause), head = sizeof join - 1;
    char *words = hk_arena_take(b->arena, head + rest + 1, 1);
    size_t *origin = hk_arena_take(b->arena, head + rest + 1, sizeof *origin);
    if (!words || !origin)
        return false;
    memcpy(words, join, head);
    memcpy(words + head, text->text + setting.clause, rest + 1);
    for (size_t i = 0; i < head; i++)
        origin[i] = text->origin[i];
    memcpy(origin + head, text->origin + setting.clause, (rest + 1) * sizeof *origin);
    b->held = held_keep(b, &setting.held);
    text->text = words;
    text->origin = origin;
    return true;
}

/* ---- Sentences ---- */

/*
 * Returns the length of the first sentence with its mark. Marks in brackets, and the full stops of "approx." and
 * "rep.", do not end it.
 */
static size_t sentence_length(const char *text)
{
    static const char *const shorts[] = {"approx", "rep", "beg", "foll", "rem",  "cont", "alt", "inc",
                                         "dec",    "st",  "sts", "no",   "patt", "ca",   NULL};
    static const char *const counted[] = {"approx", "inc", "dec", "no", "ca", NULL}; /* "Dec. 1 st" */
    size_t depth = 0;
    for (const char *c = text; *c; c++) {
        depth += *c == '(' || *c == '[';
        bool closes = depth == 1 && (*c == ')' || *c == ']');
        depth -= depth > 0 && (*c == ')' || *c == ']');
        if (closes && (*text == '(' || *text == '[') && c[1] == ' ' && c[2] >= 'A' &&
            c[2] <= 'Z') /* "(20 sts) Stuff firmly." */
            return (size_t)(c - text) + 1;
        if (depth > 0 || (*c != '.' && *c != '!' && *c != '?') || (c[1] && c[1] != ' '))
            continue;
        const char *word = c;
        while (word > text && hk_is_letter(word[-1]))
            word--;
        const char *next = hk_blanks_skipped(c + 1);
        bool small = *next >= 'a' && *next <= 'z';
        if ((small || hk_is_digit(*next)) && hk_word_of(word, small ? shorts : counted) == c)
            continue;
        return (size_t)(c - text) + 1;
    }
    return strlen(text);
}

/* Returns the metres of "leaving a 40 cm tail"; 0 if not stated. */
static double tail_length(const char *text)
{
    for (const char *c = text; *c; c++) {
        if (!hk_is_digit(*c))
            continue;
        const char *end = c;
        double value, factor;
        enum hk_dimension dimension;
        if (hk_number_scan(&end, false, &value) && hk_unit_scan(&end, &dimension, &factor) &&
            dimension == HK_DIM_LENGTH)
            return value * factor;
        c += strspn(c, "0123456789.,") - 1;
    }
    return 0;
}

static bool finishes(const char *text)
{
    static const char *const words[] = {"fasten off", "finish off",     "fo",      "cut yarn", "cut the yarn",
                                        "break yarn", "break the yarn", "tie off", NULL};
    static const char *const cuts[] = {"cut", "break", NULL};
    return hk_word_of(text, words) ||
           (hk_word_of(text, cuts) &&
            (hk_word_find(text, "yarn") || hk_word_find(text, "tail") || hk_word_find(text, "end")));
}

/* Returns true when a stitch of the catalogue is named between the text's start and `stop`. */
static bool names_stitch_before(const struct builder *b, const char *text, const char *stop)
{
    const struct hk_words *words = &b->words->catalogue->words[b->words->terms];
    for (const char *c = text; c < stop; c++) {
        if (c > text && (hk_is_letter(c[-1])))
            continue;
        for (size_t i = 0; i < words->count; i++) {
            size_t length = words->words[i].length;
            if (hk_text_starts(c, words->words[i].text) && !hk_is_letter(c[length]))
                return true;
        }
    }
    return false;
}

static bool names_stitch(const struct builder *b, const char *text)
{
    return names_stitch_before(b, text, text + strlen(text));
}

/* "(4 dc, inc) x 6", "(k2, p2) to end": returns true when the bracket is worked more than once, or in a place. */
static bool repeats_bracket(const char *text)
{
    static const char *const behind[] = {"x",  "twice", "rep", "repeat", "around", "across",
                                         "to", "in",    "all", "until",  NULL};
    const char *close = text;
    for (size_t depth = 0; *close; close++) {
        depth += *close == '(';
        depth -= *close == ')';
        if (depth == 0)
            break;
    }
    const char *c = *close ? hk_blanks_skipped(close + 1) : close;
    return hk_is_digit(*c) || (c[0] == 'x' && hk_is_digit(c[1])) || hk_word_of(c, behind);
}

/* "Place next 14 sts on hold", "Place marker": not "Place eyes between rounds 6 and 7". */
static bool places_stitches(const char *text)
{
    static const char *const placed[] = {"next",      "last",     "first",    "these",   "following", "rem",
                                         "center",    "centre",
                                         "remaining", "marker",   "m",        "markers", "all",       "the next",
                                         "the first", "the last", "a marker", NULL};
    const char *c = hk_blanks_skipped(text + strlen("place"));
    return hk_is_digit(*c) || hk_word_of(c, placed);
}

/* Returns true for words that begin a row without a label. */
static bool opens_row(const struct builder *b, const char *text)
{
    static const char *const words[] = {
        "work",     "knit", "purl",     "bo",    "bind off", "cast off", "co",     "cast on", "dec",  "inc", "decrease",
        "increase", "cont", "continue", "place", "divide",   "rep",      "repeat", "sl st",   "slip", "ch",  "k",
        "p",        "join", "turn",     "next",  "dec.",     "inc.",     "then",   "now",     "pick up",
        "puk",      "rejoin", "attach", "reattach", "transfer", NULL};
    static const char *const facings[] = {"with rs facing,", "with ws facing,", "with right side facing,",
                                          "with wrong side facing,", NULL};
    const char *facing = hk_word_of(text, facings);
    if (facing)
        return opens_row(b, hk_blanks_skipped(facing));
    if (*text == '*' || (*text == '[' && !hk_text_starts(text, "[take")))
        return true;
    if (*text == '(') /* "(4 dc, inc) x 6"; other brackets are remarks */
        return names_stitch(b, text) && repeats_bracket(text);
    if (hk_word_at(text, "place"))
        return places_stitches(text);
    if (hk_word_of(text, words))
        return true;
    size_t digits = hk_digit_run(text);
    const char *c = hk_blanks_skipped(text + digits);
    const struct hk_words *list = &b->words->catalogue->words[b->words->terms];
    for (size_t i = 0; i < list->count; i++)
        if (hk_text_starts(c, list->words[i].text) && !hk_is_letter(c[list->words[i].length]))
            return true;
    return false;
}

static bool is_row(const struct builder *b, const char *text)
{
    if (!opens_row(b, text))
        return false;
    bool digit = false;
    for (const char *c = text; *c; c++)
        digit |= hk_is_digit(*c);
    static const char *const offs[] = {"bo", "bind off", "cast off", "rep", "repeat", NULL};
    return digit || *text == '*' || hk_word_of(text, offs) || names_stitch(b, text);
}

/* Returns true for words and numbers without work. */
static bool idle(const char *text)
{
    static const char *const words[] = {"turn",
                                        "do not turn",
                                        "turn work",
                                        "do not fasten off",
                                        "do not join",
                                        "do not cut yarn",
                                        "weave in ends",
                                        "weave in all ends",
                                        "weave in the ends",
                                        "block",
                                        NULL};
    const char *end = hk_word_of(text, words);
    return end && (!*end || *end == '.');
}

static void definition_add(struct builder *b, const char *name, const struct hk_row_text *sentence, size_t at,
                           size_t length)
{
    struct hk_written *w = b->written;
    struct hk_written_definition *all =
        grow(b, w->definitions, w->definition_count, &w->definition_capacity, sizeof *all);
    if (!all)
        return;
    w->definitions = all;
    all[w->definition_count] = (struct hk_written_definition){.name = name, .text = sentence->text};
    if (part_of(b, sentence, at, length, &all[w->definition_count].steps))
        w->definition_count++;
}

/* Returns true for a row that states what its chain counts as: "Ch 3 (counts as dc), dc in each st around". */
static bool counts_within(const struct builder *b, const char *text)
{
    const char *at = hk_word_find(text, "counts");
    if (!at || at < text + 2 || !strchr("(,", at[-1] == ' ' ? at[-2] : at[-1]))
        return false;
    at += strcspn(at, "),");
    at += strspn(at, "), ");
    return is_row(b, at);
}

/* Stores the definitions and conventions of a sentence. */
static bool says_rule(struct builder *b, const struct hk_row_text *sentence)
{
    size_t at, length;
    const char *name, *also;
    if (!counts_within(b, sentence->text) && hk_convention_read(sentence->text, &b->conventions))
        return true;
    if (!hk_definition_find(sentence->text, &name, &also, &at, &length, b->arena))
        return false;
    definition_add(b, name, sentence, at, length);
    if (also)
        definition_add(b, also, sentence, at, length);
    return true;
}

/* ---- Rows ---- */

static void label_put(struct builder *b, struct hk_entry *entry, const struct hk_label *label)
{
    if (!label)
        return;
    entry->label = label->name;
    if (label->first.by_size && entry->sizes &&
        entry->sizes == b->sizes) { /* all sizes have a number: the restriction ends */
        b->sizes = NULL;
        entry->sizes = NULL;
    }
    entry->numbered = label->numbered;
    entry->first = label->first;
    entry->last = label->last;
    entry->rows = label->rows;
    if (label->numbered)
        entry->rows = (struct hk_graded_count){.one = 1};
    entry->rows_given = label->rows_given;
    entry->side = label->side;
    entry->others = label->others;
    entry->list = label->list;
    entry->list_count = label->list_count;
}

/* Cuts out "[take as 84 hdc, 6 ch]". */
static void taken_cut(struct builder *b, struct hk_row_text *text, struct hk_row_text *taken)
{
    const char *open = text->text, *close;
    while (*open && !hk_text_starts(open, "[take as"))
        open++;
    close = *open ? strchr(open, ']') : NULL;
    if (!close)
        return;
    size_t at = (size_t)(open - text->text), end = (size_t)(close - text->text) + 1, head = strlen("[take as");
    part_of(b, text, at + head, end - 1 - at - head, taken);
    struct hk_row_text before;
    if (!part_of(b, text, 0, at, &before))
        return;
    if (!*hk_blanks_skipped(close + 1)) {
        *text = before;
        return;
    }
    /* The text after it is kept, often the stated counts. */
    size_t rest = strlen(close + 1), length = strlen(before.text);
    char *joined = hk_arena_take(b->arena, length + rest + 2, 1);
    size_t *origin = hk_arena_take(b->arena, length + rest + 2, sizeof *origin);
    if (!joined || !origin)
        return;
    memcpy(joined, before.text, length);
    memcpy(origin, before.origin, (length + 1) * sizeof *origin);
    memcpy(joined + length, close + 1, rest + 1);
    memcpy(origin + length, text->origin + end, (rest + 1) * sizeof *origin);
    text->text = joined;
    text->origin = origin;
}

/*
 * Cuts off sentences at the end of a row that change yarn or tool for the following rows, or cut the yarn; they are
 * read after the row.
 */
static bool trailing_cut(struct builder *b, struct hk_row_text *text, struct hk_row_text *trailing)
{
    size_t at = 0;
    for (;;) {
        size_t length = sentence_length(text->text + at);
        const char *next = hk_blanks_skipped(text->text + at + length);
        if (!*next)
            return false;
        at = (size_t)(next - text->text);
        struct hk_setting setting;
        bool changes = hk_setting_read(next, &b->setting_words, &setting, b->arena) && !setting.joins &&
                       (!next[setting.length] || sentence_length(next) <= setting.length);
        bool cuts = finishes(next) && !next[sentence_length(next)];
        struct hk_begin begin;
        bool only = hk_begin_read(next, b->words->size_count, &begin, b->arena) && begin.kind == HK_BEGIN_ONLY;
        if (changes || cuts || only) {
            part_of(b, text, at, strlen(next), trailing);
            part_of(b, text, 0, at, text);
            return true;
        }
    }
}

/* Returns true for sentences of a row without work: "Stuff firmly." is prose. */
static bool is_remark(const struct builder *b, const char *text)
{
    static const char *const words[] = {"turn", "join",   "place", "pm",  "move",  "mark",  "fasten", "do not",
                                        "rep",  "repeat", "ch",    "cut", "break", "sl st", "ss",     "remove",
                                        "rm",   "sm",     "leave", "k",   "p",     NULL};
    if (hk_word_of(text, words) || !hk_is_letter(*text) || names_stitch(b, text))
        return false;
    for (const char *c = text; *c; c++)
        if (hk_is_digit(*c) || *c == '*')
            return false;
    return true;
}

/* Cuts off remarks at the end only, so that places stay valid. */
static void remarks_cut(struct builder *b, struct hk_row_text *text)
{
    struct hk_row_text sentence, remarks = *text;
    size_t last = 0; /* the start of the remarks; 0: none */
    for (size_t at = sentence_length(text->text); text->text[at];) {
        size_t from = (size_t)(hk_blanks_skipped(text->text + at) - text->text);
        at = from + sentence_length(text->text + from);
        if (!part_of(b, text, from, at - from, &sentence))
            return;
        bool remark = is_remark(b, sentence.text);
        last = !remark ? 0 : last ? last : from;
    }
    if (last == 0)
        return;
    cut_front(b, &remarks, last);
    part_of(b, text, 0, last, text);
    while (*remarks.text && part_of(b, &remarks, 0, sentence_length(remarks.text), &sentence)) {
        prose_add(b, &sentence);
        cut_front(b, &remarks, sentence_length(remarks.text));
    }
}

/* Returns true for "Rep rows 1 and 2 (18 rows)", without other words on how many. */
static bool rows_in_bracket(const struct hk_reference *reference, const char *behind)
{
    bool repeats = reference->kind == HK_REFERENCE_ROWS || reference->kind == HK_REFERENCE_LAST;
    size_t rows;
    return repeats && !reference->times_given && !reference->rows_given && !reference->length_m &&
           !reference->to_edge && !reference->problem && *behind && strchr("([", *behind) &&
           (rows = hk_rows_named(behind + 1)) > 0 && strchr(")]", behind[1 + rows]);
}

static struct hk_entry *reference_add(struct builder *b, const struct hk_row_text *text,
                                      const struct hk_reference *reference, const struct hk_label *label,
                                      const struct hk_entry_problem *problem)
{
    struct hk_entry *entry = entry_add(b, HK_ENTRY_REFERENCE, text);
    if (!entry)
        return NULL;
    label_put(b, entry, label);
    entry->reference = *reference;
    entry->side = entry->side == HK_SIDE_OPEN ? reference->first_side : entry->side;
    part_of(b, text, reference->length, strlen(text->text) - reference->length, &entry->stated);
    if (problem->text)
        refuse(entry, problem->code, problem->place, problem->text, problem->hint);
    if (reference->from_unread)
        entry->reference.from_place = hk_row_text_place(text, reference->from_unread - 1);
    if (reference->problem)
        refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(text, reference->problem_at), reference->problem,
               reference->hint);
    if (reference->wrong)
        refuse_number(b, entry, hk_row_text_place(text, reference->wrong - 1));
    if (!label && rows_in_bracket(reference, text->text + reference->length))
        refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(text, reference->length),
               "a number of rows in brackets may be that of this line or of all rows so far",
               "write \"for 18 rows\" or \"18 more times\"");
    return entry;
}

static size_t count_behind(const struct builder *b, const char *text);

/* Work begins within the row: "Ch 20, sc in 2nd ch from hook ...", "6 sc in magic ring". */
static bool row_begins(struct builder *b, const struct hk_label *label, struct hk_begin *begin,
                       const struct hk_row_text *text)
{
    const struct hk_written *w = b->written;
    bool fresh = !b->begun || b->pending.name;
    bool first = label && label->numbered && label->first.one == 1 && !label->first.by_size;
    if (!fresh && (!first || w->entries[w->entry_count - 1].kind == HK_ENTRY_BEGIN))
        return false;
    if (hk_begin_read(text->text, b->words->size_count, begin, b->arena)) {
        const char *rest = hk_blanks_skipped(text->text + begin->length);
        if (begin->kind == HK_BEGIN_PICK_UP && label && count_behind(b, rest) > 0)
            return false; /* "Row 1: Pick up and knit 20 sts along the neck. 20 sts" */
        bool foundation = !b->begun || hk_graded_in(begin->count, 0) > TURNING_MOST;
        if (begin->kind == HK_BEGIN_CHAIN)
            return !*rest || hk_word_find(rest, "hook") || hk_row_in_ring(rest) ||
                   (fresh && begin->joined && foundation);
        if (begin->kind == HK_BEGIN_CAST_ON)
            return fresh || !*rest;
        return begin->kind != HK_BEGIN_LEFT && begin->kind != HK_BEGIN_ONLY &&
               (fresh || (begin->kind != HK_BEGIN_JOIN && begin->kind != HK_BEGIN_HELD));
    }
    *begin = (struct hk_begin){0};
    if (hk_row_in_ring(text->text)) {
        begin->kind = HK_BEGIN_RING;
        begin->joined = true;
        return true;
    }
    begin->kind = HK_BEGIN_NOTHING;
    return fresh && hk_row_founds(text->text);
}

/*
 * "Place 10 held sts on needles", "Cast on 10 sts" or "Pick up and knit 14 sts along the left front", followed by "Pick
 * up and knit 2 sts at the base of the thumb."
 */
static bool picks_up_more(const struct builder *b, const struct hk_begin *begin)
{
    const struct hk_written *w = b->written;
    const struct hk_entry *last = w->entry_count > 0 ? &w->entries[w->entry_count - 1] : NULL;
    return begin->kind == HK_BEGIN_PICK_UP && !b->pending.name && last && last->kind == HK_ENTRY_BEGIN &&
           (last->begin.kind == HK_BEGIN_HELD || last->begin.kind == HK_BEGIN_CAST_ON ||
            last->begin.kind == HK_BEGIN_PICK_UP);
}

static struct hk_entry_problem words_after_begin(const struct hk_row_text *words)
{
    return (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_text_place(words, 0),
                                     "these words after a beginning are not read",
                                     "write the work as a row below it, and graded numbers as 72 (78, 84)"};
}

static struct hk_entry *begin_add(struct builder *b, const struct hk_row_text *text, const struct hk_begin *begin,
                                  const struct hk_entry_problem *problem)
{
    struct hk_row_text words = *text;
    bool joins = false;
    struct hk_entry_problem found = *problem;
    if (!found.text && (b->line_sizes || b->sizes))
        found = (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_text_place(text, 0),
                                          "a beginning for some of the sizes is not read",
                                          "write one beginning for all sizes, with graded numbers: \"ch 21 (23, 25)\""};
    if (begin->setting) {
        struct hk_row_text setting = *text;
        bool any = false;
        part_of(b, text, begin->setting - 1, begin->length - (begin->setting - 1), &setting);
        while (!b->arena->out_of_memory && setting_take(b, &setting, &joins, &found))
            any = true;
        if (!b->arena->out_of_memory && !found.text && strpbrk(setting.text, "0123456789"))
            found = words_after_begin(&setting);
        else if (!any)
            prose_add(b, &setting);
    }
    if (begin->length > 0)
        part_of(b, text, 0, begin->length, &words);
    bool more = picks_up_more(b, begin);
    b->goes_on = more || begin->kind == HK_BEGIN_LEFT || begin->kind == HK_BEGIN_HELD || begin->kind == HK_BEGIN_ONLY;
    struct hk_entry *entry = entry_add(b, HK_ENTRY_BEGIN, &words);
    b->goes_on = false;
    if (!entry)
        return NULL;
    entry->begin = *begin;
    entry->begin.more = more;
    if (found.text)
        refuse(entry, found.code, found.place, found.text, found.hint);
    if (begin->wrong)
        refuse_begin(b, entry, begin, text);
    b->begin_open = begin->length > 0 && !strchr(".:", text->text[begin->length - 1]) &&
                    *hk_blanks_skipped(text->text + begin->length);
    return entry;
}

/* Treats a small ring of chains as a ring if the first row works into it. */
static void ring_settle(struct builder *b, const char *row)
{
    struct hk_written *w = b->written;
    struct hk_entry *last = w->entry_count > 0 ? &w->entries[w->entry_count - 1] : NULL;
    if (last && last->kind == HK_ENTRY_BEGIN && last->begin.kind == HK_BEGIN_CHAIN && last->begin.joined &&
        hk_row_in_ring(row))
        last->begin.kind = HK_BEGIN_RING;
}

/* Sets the yarn for the following rows: "changing to CC in last st", and "K with MC" as the only yarn. */
static void yarn_change(struct builder *b, const char *text)
{
    static const char *const changes[] = {"change to",      "changing to",      "switch to",          "switching to",
                                          "change to yarn", "changing to yarn", "change to the yarn", NULL};
    static const char *const withs[] = {"with", "in", "using", NULL};
    size_t only = SIZE_MAX, named = 0;
    for (const char *c = text; *c; c++) {
        bool begins = c == text || c[-1] == ' ' || c[-1] == '(';
        const char *with = begins ? hk_word_of(c, withs) : NULL, *name = with ? hk_blanks_skipped(with) : NULL;
        size_t of = name ? hk_yarn_at(&name, &b->setting_words) : SIZE_MAX;
        const char *word = c;
        named += begins && hk_yarn_at(&word, &b->setting_words) != SIZE_MAX;
        only = of != SIZE_MAX ? of : only;
        const char *end = begins ? hk_word_of(c, changes) : NULL;
        const char *yarn = end ? hk_blanks_skipped(end) : NULL;
        size_t role = yarn ? hk_yarn_at(&yarn, &b->setting_words) : SIZE_MAX;
        if (role != SIZE_MAX)
            yarn_take(b, &(struct hk_held){.roles = {role}, .times = {1}, .count = 1});
    }
    if (named == 1 && only != SIZE_MAX) {
        bool since = b->yarn_named; /* for the following rows */
        yarn_take(b, &(struct hk_held){.roles = {only}, .times = {1}, .count = 1});
        b->yarn_named = since;
    }
}

static void sentences_take(struct builder *b, struct hk_row_text text);

/* ---- Colours in turn ---- */

/* Stores a sequence. Returns 1 + its index; 0 when out of memory. */
static size_t sequence_keep(struct builder *b, const struct hk_colours *colours, const struct hk_row_text *text)
{
    struct hk_written *w = b->written;
    struct hk_written_sequence *all = grow(b, w->sequences, w->sequence_count, &w->sequence_capacity, sizeof *all);
    size_t *helds = hk_arena_take(b->arena, colours->count, sizeof *helds);
    struct hk_graded_count *rows = hk_arena_take(b->arena, colours->count, sizeof *rows);
    if (!all || !helds || !rows)
        return 0;
    w->sequences = all;
    for (size_t i = 0; i < colours->count; i++) {
        helds[i] = held_keep(b, &(struct hk_held){.roles = {colours->colours[i].role}, .times = {1}, .count = 1});
        rows[i] = colours->colours[i].rows;
    }
    all[w->sequence_count] = (struct hk_written_sequence){.helds = helds,
                                                          .rows = rows,
                                                          .count = colours->count,
                                                          .carried = colours->carried,
                                                          .text = text->text,
                                                          .place = hk_row_text_place(text, 0)};
    return ++w->sequence_count;
}

/* Restarts the known sequence. */
static size_t sequence_again(struct builder *b)
{
    struct hk_written *w = b->written;
    struct hk_written_sequence *all = grow(b, w->sequences, w->sequence_count, &w->sequence_capacity, sizeof *all);
    if (!all)
        return 0;
    w->sequences = all;
    all[b->colours_known - 1].used = true;
    all[w->sequence_count] = all[b->colours_known - 1];
    return ++w->sequence_count;
}

static void row_take(struct builder *b, const struct hk_label *label, const struct hk_row_text *whole,
                     struct hk_row_text text, struct hk_entry_problem problem);

/* Prepends "Work even " to "for 20 rows". */
static bool even_text(struct builder *b, const struct hk_row_text *rest, struct hk_row_text *text)
{
    static const char even[] = "Work even ";
    size_t head = sizeof even - 1, length = strlen(rest->text);
    char *words = hk_arena_take(b->arena, head + length + 1, 1);
    size_t *origin = hk_arena_take(b->arena, head + length + 1, sizeof *origin);
    if (!words || !origin)
        return false;
    memcpy(words, even, head);
    memcpy(words + head, rest->text, length + 1);
    for (size_t i = 0; i < head; i++)
        origin[i] = rest->origin[0];
    memcpy(origin + head, rest->origin, (length + 1) * sizeof *origin);
    *text = *rest;
    text->text = words;
    text->origin = origin;
    return true;
}

/* Reads a sequence of colours at the start of the text. Returns its length; 0 if there is none. */
static size_t colours_take(struct builder *b, const struct hk_row_text *text)
{
    struct hk_colours *colours = hk_arena_take(b->arena, 1, sizeof *colours);
    struct hk_row_text sentence, rest;
    if (!colours || !hk_colours_read(text->text, &b->setting_words, colours, b->arena) ||
        !part_of(b, text, 0, colours->length, &sentence))
        return 0;
    bool in_piece = !b->silent && (b->begun || b->pending.name);
    if (colours->problem || colours->wrong) {
        struct hk_entry *entry = in_piece ? entry_add(b, HK_ENTRY_ROW, &sentence) : NULL;
        if (colours->problem)
            refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(text, colours->problem_at), colours->problem,
                   colours->hint);
        else if (entry)
            refuse_number(b, entry, hk_row_text_place(text, colours->wrong - 1));
        if (!in_piece)
            prose_add(b, &sentence);
        return colours->length;
    }
    size_t sequence = sequence_keep(b, colours, &sentence);
    if (!in_piece) {
        b->colours_known = sequence;
        return colours->length;
    }
    if (b->pending.name && !b->begun)
        b->colours_ahead = sequence;
    else if (b->pending.name)
        b->colours_ahead = b->colours =
            sequence; /* whether a piece or a part begins, it applies to the following rows */
    else
        b->colours = sequence;
    b->colours_over = false;
    if (!colours->goes_on || !part_of(b, text, colours->length, strlen(text->text) - colours->length, &rest))
        return colours->length;
    size_t used = sentence_length(rest.text);
    used += count_behind(b, rest.text + used);
    struct hk_row_text words;
    if (!part_of(b, &rest, 0, used, &words) || !even_text(b, &words, &words))
        return colours->length;
    row_take(b, NULL, &sentence, words, (struct hk_entry_problem){0});
    b->colours = 0;
    b->colours_over = true;
    return colours->length + used;
}

/* Handles words in a row that name a sequence of colours: the current one, else the known one. */
static void colours_want(struct builder *b, struct hk_row_text *text, struct hk_entry_problem *problem, bool *some)
{
    const char *behind = hk_colours_intro(text->text);
    *some = false;
    if (!behind && !hk_colours_wanted(text->text))
        return;
    for (size_t i = 0; i < b->written->block_count && !behind; i++)
        for (const char *c = text->text; *c; c++)
            if (hk_word_at(c, b->written->blocks[i].name)) /* a stitch pattern of that name */
                return;
    if (b->colours == 0 && b->colours_known > 0) {
        b->colours = sequence_again(b);
        b->colours_over = false;
        *some = !behind;
    } else if (b->colours == 0) {
        *problem = (struct hk_entry_problem){HK_CODE_NAME_UNKNOWN, hk_row_text_place(text, 0),
                                             "the sequence of colours is not stated above it",
                                             "write it before: \"Colour sequence: 2 rows A, 4 rows B\""};
    }
    if (behind)
        cut_front(b, text, (size_t)(hk_blanks_skipped(behind) - text->text));
}

/* Returns the words for two shapings in the same rows; NULL if there are none. */
static const char *same_time(const char *text)
{
    const char *at = hk_word_find(text, "at the same time");
    return at ? at : hk_word_find(text, "at same time");
}

/* "Working both sides at once with separate balls of yarn, ..." */
static bool both_sides(const char *text)
{
    static const char *const ways[] = {"at once", "at the same time", "at same time", "separate balls", "simultaneously", NULL};
    if (!hk_word_find(text, "both sides") && !hk_word_find(text, "each side"))
        return false;
    for (size_t i = 0; ways[i]; i++)
        if (hk_word_find(text, ways[i]))
            return true;
    return false;
}

#define BOTH_SIDES "two sides that are worked at once are not read"
#define BOTH_SIDES_HINT                                                                                                \
    "write the rows of one side on its stitches, then those of the other, which begins with \"Rejoin yarn to rem sts\""

/* Adds the words of a row as an entry. */
static struct hk_entry *row_add(struct builder *b, const struct hk_label *label, const struct hk_row_text *text,
                                const struct hk_entry_problem *problem)
{
    ring_settle(b, text->text);
    struct hk_entry *entry = entry_add(b, HK_ENTRY_ROW, text);
    if (!entry)
        return NULL;
    label_put(b, entry, label);
    entry->stated = *text;
    if (problem->text)
        refuse(entry, problem->code, problem->place, problem->text, problem->hint);
    const char *both = same_time(text->text);
    if (both_sides(text->text))
        refuse(entry, HK_CODE_ROW_SYNTAX, entry->place, BOTH_SIDES, BOTH_SIDES_HINT);
    if (both)
        refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(text, (size_t)(both - text->text)),
               "two shapings at the same time are not read",
               "write the rows in which both fall as rows of their own, or the row with \"[take as 84 hdc]\" "
               "after it");
    return entry;
}

/* Adds a row. problem: an error in the yarn and tool before the text. */
static void row_take(struct builder *b, const struct hk_label *label, const struct hk_row_text *whole,
                     struct hk_row_text text, struct hk_entry_problem problem)
{
    struct hk_row_text taken = {0}, trailing = {0};
    struct hk_begin begin;
    struct hk_reference reference;
    struct hk_entry *entry = NULL;
    bool joins = false;
    const struct hk_row_text uncut = text;
    bool some_rows;
    taken_cut(b, &text, &taken);
    while (!b->arena->out_of_memory && (join_keep(b, &text) || setting_take(b, &text, &joins, &problem)))
        ;
    colours_want(b, &text, &problem, &some_rows);
    bool cut = trailing_cut(b, &text, &trailing);
    remarks_cut(b, &text);
    if (b->arena->out_of_memory)
        return;
    if (row_begins(b, label, &begin, &text)) {
        entry = begin_add(b, &text, &begin, &problem);
        cut_front(b, &text, begin.length);
    } else if (joins && (b->pending.name || !b->begun)) {
        begin = (struct hk_begin){.kind = HK_BEGIN_JOIN};
        entry = begin_add(b, &uncut, &begin, &problem);
    }
    bool refers = hk_reference_read(text.text, b->words->size_count, &reference, b->arena);
    if (refers || *text.text || taken.text || !entry) { /* a label alone is a row too: its words are missing */
        entry = refers ? reference_add(b, &text, &reference, label, &problem) : row_add(b, label, &text, &problem);
        if (!entry)
            return;
        entry->place = hk_row_text_place(whole, 0);
        entry->whole = *whole;
        entry->taken = taken;
        if (b->colours_over)
            refuse(entry, HK_CODE_CHOICE, hk_row_text_place(&text, 0),
                   "its yarn is not stated: the sequence of colours ends above it", "name the yarn: \"With A, ...\"");
        b->yarn_named = false;
        if (some_rows && refers) {
            b->colours = 0;
            b->colours_over = true;
        }
    }
    if (label && label->wrong)
        refuse_number(b, entry, hk_row_text_place(whole, label->wrong - 1));
    if (label && label->problem)
        refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(whole, label->problem_at), label->problem, label->hint);
    const char *named = label ? hk_setting_within(label->name, &b->setting_words, b->arena) : NULL;
    if (named)
        refuse(entry, HK_CODE_ROW_SYNTAX, hk_row_text_place(whole, (size_t)(named - label->name)),
               "yarn and tool in a label are not read", "write them after its colon: \"Row 3: With CC, ...\"");
    yarn_change(b, text.text);
    if (cut)
        sentences_take(b, trailing);
}

/* ---- Headings ---- */

static void heading_take(struct builder *b, const struct hk_pattern_line *line)
{
    static const struct hk_graded_count once = {.one = 1};
    const char *text = line->text.text;
    size_t length = strcspn(text, "([");
    struct hk_graded_count times = once, read;
    struct hk_place times_wrong = {0};
    bool wrong;
    for (const char *c = text; *c; c++) { /* "(make 2)", "make 2", "x 2" */
        size_t taken = c == text || c[-1] == ' ' || *c == '('
                           ? hk_times_read(c, b->words->size_count, &read, &wrong, b->arena)
                           : 0;
        if (taken == 0)
            continue;
        times = read;
        if (wrong)
            times_wrong = hk_row_text_place(&line->text, (size_t)(c - text));
        const char *behind = text + taken + strspn(text + taken, " :,-");
        if (c == text && *behind) { /* "(make 2) Legs" */
            text = behind;
            length = strcspn(text, "([");
        } else if (c != text && (size_t)(c - text) < length) {
            length = (size_t)(c - text);
        }
        break;
    }
    while (length > 0 && strchr(" :,-", text[length - 1]))
        length--;
    const char *name = hk_arena_text(b->arena, text, length);
    if (!name || length == 0)
        return;
    b->sizes = NULL;
    b->times_wrong = times_wrong;
    int level = line->level ? line->level : LEVEL_UNMARKED;
    for (int marked = 0; !line->level && b->own_piece && marked < level; marked++)
        b->times[marked] = once;
    b->own_piece &= !line->level;
    b->pending_marked = line->level > 0;
    for (int deeper = level; deeper < LEVELS; deeper++)
        b->times[deeper] = once;
    b->silent = hk_heading_silent(name, &b->gauge);
    b->in_block = false;
    if (b->silent) {
        b->pending = (struct heading){0};
        return;
    }
    b->name = name;
    b->times[level] = times;
    static const char *const within[] = {"shape", "shaping", "side", NULL};
    bool below = false;
    for (size_t i = 0; within[i] && !line->level; i++)
        below |= hk_word_find(name, within[i]) != NULL;
    b->pending = (struct heading){name, times, hk_row_text_place(&line->text, 0), below ? LEVEL_WITHIN : level};
}

/* Reads "Make 2." below a heading, or in a piece. */
static bool times_take(struct builder *b, const struct hk_row_text *text)
{
    struct hk_graded_count times;
    bool wrong;
    size_t taken = hk_times_read(text->text, b->words->size_count, &times, &wrong, b->arena);
    if (taken == 0 || (!b->pending.name && !b->begun))
        return false;
    if (text->text[taken]) /* "Make 2, reversing the second." */
        prose_add(b, text);
    if (wrong) {
        b->times_wrong = hk_row_text_place(text, 0);
        if (!b->pending.name)
            entry_add(b, HK_ENTRY_ROW, text);
        return true;
    }
    if (b->pending.name) {
        b->pending.times = times;
        b->times[LEVEL_UNMARKED] = times_multiply(b, b->times[LEVEL_UNMARKED], times);
        return true;
    }
    struct hk_written_piece *piece = &b->written->pieces[b->written->piece_count - 1];
    piece->times = times_multiply(b, piece->times, times);
    return true;
}

/* ---- Lines ---- */

/* Returns true when the word occurs between the text's start and `end`. */
static bool has_word(const char *text, const char *end, const char *word)
{
    const char *found = hk_word_find(text, word);
    return found && found < end;
}

/* Returns the length of counts stated after a sentence: "K to end. 72 sts.", "(72 sts)", "- (70, 72) sts". */
static size_t count_behind(const struct builder *b, const char *text)
{
    static const size_t count_most = 60;
    const char *c = hk_blanks_skipped(text), *end = c + sentence_length(c);
    bool bracket = *c == '(' || *c == '[';
    if (!bracket && !hk_is_digit(*c) && !hk_text_starts(c, "- (") && !hk_text_starts(c, "- ["))
        return 0;
    bool figures = true; /* "K to end. 72 (76, 80)." */
    for (const char *f = c; f < end; f++)
        figures &= !hk_is_letter(*f);
    bool counts = bracket || figures || has_word(c, end, "st") || has_word(c, end, "sts") || has_word(c, end, "rem") ||
                  (names_stitch_before(b, c, end) && !has_word(c, end, "in"));
    return counts && (size_t)(end - c) < count_most ? (size_t)(end - text) : 0;
}

/*
 * Returns true for a row on existing stitches: "Ch 3, dc in each st around". "Ch 20, sc in each ch across" is worked on
 * its own chain, unless nothing has been worked into the chain before.
 */
static bool chain_goes_on(const struct builder *b, const char *text, const struct hk_begin *begin)
{
    static const char *const chains[] = {"ring", "each ch", "every ch", "next ch", "first ch"};
    const struct hk_written *w = b->written;
    const char *end = text + sentence_length(text), *rest = hk_blanks_skipped(text + begin->length);
    bool cast = begin->kind == HK_BEGIN_CAST_ON && !b->pending.name; /* "Cast on 4 sts, k to end" */
    if (!b->begun || (begin->kind != HK_BEGIN_CHAIN && !cast) || rest >= end || has_word(rest, end, "hook"))
        return false;
    if (hk_word_at(rest, "counts")) /* "Ch 3, counts as dc, dc in each st" */
        rest = hk_blanks_skipped(rest + strcspn(rest, ",") + (strchr(rest, ',') != NULL));
    bool bare = w->entries[w->entry_count - 1].kind == HK_ENTRY_BEGIN;
    for (size_t i = 0; i < sizeof chains / sizeof chains[0] && !bare; i++) {
        const char *found = hk_word_find(rest, chains[i]);
        if (found && found < end && found[strlen(chains[i])] != '-')
            return false;
    }
    return is_row(b, rest);
}

/* Reads "Fasten off", "Make 2", definitions, and sentences without work. */
static bool aside_take(struct builder *b, const struct hk_row_text *sentence)
{
    if (times_take(b, sentence) || says_rule(b, sentence))
        return true;
    if (b->silent || !finishes(sentence->text))
        return idle(sentence->text);
    struct hk_entry *entry = b->begun ? entry_add(b, HK_ENTRY_CUT, sentence) : NULL;
    if (entry)
        entry->cut_m = tail_length(sentence->text);
    return true;
}

/* "Make a second mitten in the same way." */
static bool makes_another(const char *text)
{
    static const char *const makes[] = {"make", "work", "knit", "crochet", NULL};
    static const char *const others[] = {"a second", "another",   "second",       "the second",
                                         "one more", "the other", "an identical", NULL};
    const char *c = hk_word_of(text, makes);
    c = c ? hk_word_of(hk_blanks_skipped(c), others) : NULL;
    return c && !hk_word_find(c, "row") && !hk_word_find(c, "rnd");
}

/* "72 (76, 80) sts." alone. */
enum lone_count { LONE_NONE, LONE_OF_BEGIN /* it states the count of the beginning above it */, LONE_OF_NO_ROW };

static enum lone_count lone_count(struct builder *b, const char *text)
{
    static const char *const ends[] = {"rem", "remain", "remaining", "in all", "total", "in total", NULL};
    const char *c = text + strspn(text, "([- ");
    struct hk_graded_count count;
    bool wrong = false;
    if (!hk_is_digit(*c) || !hk_whole_scan(&c, b->words->size_count, &count, &wrong, b->arena))
        return LONE_NONE;
    const char *unit = hk_word_of(hk_blanks_skipped(c), hk_count_units);
    const char *end = unit ? hk_word_of(hk_blanks_skipped(unit), ends) : NULL;
    c = hk_blanks_skipped(end ? end : unit ? unit : c);
    if (!unit || c[strspn(c, ".)] ")])
        return LONE_NONE;
    const struct hk_entry *last = &b->written->entries[b->written->entry_count - 1];
    bool same = last->kind == HK_ENTRY_BEGIN && !wrong;
    for (size_t i = 0; same && i < b->words->size_count; i++) {
        int64_t begun = hk_graded_in(last->begin.count, i);
        for (const struct hk_entry *more = last; more->begin.more; more--)
            begun += hk_graded_in(more[-1].begin.count, i);
        same = hk_graded_in(count, i) == begun;
    }
    return same ? LONE_OF_BEGIN : LONE_OF_NO_ROW;
}

/* Reads "Join to work in the round." directly after a beginning. Returns false for other sentences. */
static bool round_take(struct builder *b, const char *sentence)
{
    static const char *const joins[] = {"join", "pm and join", "place marker and join", "place a marker and join",
                                        NULL};
    static const char *const works[] = {"to work in", "for working in",      "in",
                                        "to knit in", "to begin working in", NULL};
    static const char *const rounds[] = {"the round", "the rnd", "round", "rnds", "rounds", NULL};
    struct hk_written *w = b->written;
    struct hk_entry *last = w->entry_count > 0 ? &w->entries[w->entry_count - 1] : NULL;
    const char *c = hk_word_of(sentence, joins);
    c = c ? hk_word_of(hk_blanks_skipped(c), works) : NULL;
    if (!c || !hk_word_of(hk_blanks_skipped(c), rounds) || !last || last->kind != HK_ENTRY_BEGIN)
        return false;
    last->begin.joined = true;
    return true;
}

/* Reads one sentence at the start of the text. Returns its length. */
static size_t sentence_take(struct builder *b, const struct hk_row_text *text)
{
    static const struct hk_label unnamed = {.name = "", .rows = {.one = 1}};
    size_t length = sentence_length(text->text), sizes = b->words->size_count;
    struct hk_row_text sentence, rest = *text;
    struct hk_begin begin = {0};
    struct hk_reference reference;
    struct hk_setting setting;
    struct hk_entry_problem problem = {0};
    bool joins = false, set = false, silent = b->silent, after_begin = b->begin_open;
    b->begin_open = false;
    if (!part_of(b, text, 0, length, &sentence))
        return length;
    if (silent && b->gauge) {
        prose_add(b, &sentence);
        return length;
    }
    size_t coloured = colours_take(b, text);
    if (coloured > 0)
        return coloured;
    if (aside_take(b, &sentence) || (b->begun && !silent && round_take(b, sentence.text)))
        return length;
    /* The beginning of work may end with a colon, or in the middle of the sentence. */
    if (hk_setting_read(rest.text, &b->setting_words, &setting, b->arena) &&
        (!silent || hk_begin_read(hk_blanks_skipped(rest.text + setting.length), sizes, &begin, b->arena)))
        set = setting_take(b, &rest, &joins, &problem);
    size_t taken = strlen(text->text) - strlen(rest.text);
    if (hk_begin_read(rest.text, sizes, &begin, b->arena) &&
        (!b->begun || b->pending.name || begin.kind != HK_BEGIN_JOIN) &&
        (b->begun || (begin.kind != HK_BEGIN_LEFT && begin.kind != HK_BEGIN_ONLY)) && !chain_goes_on(b, rest.text, &begin)) {
        begin_add(b, &rest, &begin, &problem);
        return taken + begin.length;
    }
    if (joins && (b->pending.name || !b->begun)) {
        begin = (struct hk_begin){.kind = HK_BEGIN_JOIN};
        begin_add(b, &sentence, &begin, &problem);
        return taken;
    }
    if (set && taken >= length) {
        if (problem.text)
            row_add(b, NULL, &sentence, &problem);
        return taken;
    }
    size_t used = sentence_length(rest.text);
    struct hk_row_text words;
    if (silent || !part_of(b, &rest, 0, used, &words)) {
        prose_add(b, &sentence);
        return length;
    }
    bool refers = hk_reference_read(rest.text, sizes, &reference, b->arena);
    if (refers && reference.kind == HK_REFERENCE_AS) {
        refers = false;
        if (b->pending.name) {
            begin = (struct hk_begin){.kind = HK_BEGIN_NOTHING};
            begin_add(b, &words, &begin, &problem);
            used += count_behind(b, rest.text + used);
            if (part_of(b, &rest, 0, used, &words))
                reference_add(b, &words, &reference, NULL, &problem);
            return taken + used;
        }
    }
    if (b->begun && both_sides(sentence.text)) {
        problem = (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_text_place(&sentence, 0),
                                            BOTH_SIDES, BOTH_SIDES_HINT};
        row_add(b, NULL, &sentence, &problem);
        return length;
    }
    bool row = b->begun || b->line_sizes || b->sizes || set;
    if (!refers && b->begun && same_time(sentence.text)) {
        row_take(b, &unnamed, &sentence, sentence, problem);
        return length;
    }
    if (refers ? b->begun || b->pending.name : row && is_row(b, rest.text)) {
        used += count_behind(b, rest.text + used);
        if (part_of(b, &rest, 0, used, &words))
            row_take(b, NULL, &words, words, problem);
        return taken + used;
    }
    if (b->begun && makes_another(sentence.text)) {
        problem = (struct hk_entry_problem){HK_CODE_ROW_SYNTAX, hk_row_text_place(&sentence, 0),
                                            "the number of copies of a piece is not read here",
                                            "write \"make 2\" in its heading, and take this sentence out"};
        row_add(b, NULL, &sentence, &problem);
        return length;
    }
    if (after_begin && strpbrk(sentence.text, "0123456789") && lone_count(b, sentence.text) != LONE_OF_BEGIN) {
        problem = words_after_begin(&sentence);
        row_add(b, NULL, &sentence, &problem);
        return length;
    }
    prose_add(b, &sentence);
    if (b->begun && !b->arena->out_of_memory) {
        struct hk_written_prose *prose = &b->written->prose[b->written->prose_count - 1];
        prose->count = lone_count(b, sentence.text) == LONE_OF_NO_ROW;
        prose->rows = hk_rows_named_in(sentence.text);
        prose->instruction = prose->rows && *sentence.text != '(' && !hk_states(sentence.text) &&
                             (hk_instructs(sentence.text) || names_stitch(b, sentence.text));
    }
    return length;
}

static void sentences_take(struct builder *b, struct hk_row_text text)
{
    while (*text.text && !b->arena->out_of_memory) {
        size_t length = sentence_take(b, &text);
        cut_front(b, &text, length);
    }
}

/* "Right front: Work as for left front": returns the length of the name; 0 for other lines. */
static size_t piece_as(const struct builder *b, const char *text)
{
    static const size_t words_most = 4;
    const char *colon = strchr(text, ':');
    struct hk_reference reference;
    size_t words = 1;
    if (!colon || colon[1] != ' ' || b->silent)
        return 0;
    for (const char *c = text; c < colon; c++) {
        words += *c == ' ';
        if (strchr(".,;*=", *c))
            return 0;
    }
    bool as = hk_reference_read(hk_blanks_skipped(colon + 1), b->words->size_count, &reference, b->arena) &&
              reference.kind == HK_REFERENCE_AS;
    return as && words <= words_most ? (size_t)(colon - text) : 0;
}

/* Returns the length of a label that names no row, before words of work: "Divide: Sc in next 12 sts". */
static size_t named_row(const struct builder *b, const char *text)
{
    static const size_t words_most = 4;
    const char *colon = strchr(text, ':');
    size_t words = 1;
    bool gauge;
    if (!colon || colon[1] != ' ' || b->silent || !b->begun)
        return 0;
    for (const char *c = text; c < colon; c++) {
        words += *c == ' ';
        if (strchr(".,;*()=", *c))
            return 0;
    }
    if (words > words_most || hk_heading_silent(text, &gauge) || hk_text_starts(text, "note"))
        return 0;
    const char *body = hk_blanks_skipped(colon + 1);
    return is_row(b, body) ? (size_t)(colon - text) + 1 : 0;
}

/*
 * Returns the byte of the next label in the text, after the end of a sentence; the length of the text if there is none.
 */
static size_t next_label(const char *text)
{
    for (const char *c = text; *c; c++) {
        if (!strchr(".)]", *c) || c[1] != ' ')
            continue;
        const char *next = hk_blanks_skipped(c + 1);
        if (*next >= 'A' && *next <= 'Z' && hk_label_begins(next))
            return (size_t)(next - text);
    }
    return strlen(text);
}

/*
 * Reads the sizes of a line; alone on a line they apply to the following lines. Returns false if nothing is left of the
 * line.
 */
static bool sizes_take(struct builder *b, struct hk_row_text *text)
{
    bool unknown;
    const bool *sizes;
    size_t taken = hk_sizes_read(text->text, b->words, &sizes, &unknown, b->arena);
    b->line_sizes = NULL;
    if (taken == 0 || (unknown && !b->begun && !b->pending.name)) /* "Choose your size: ..." */
        return true;
    struct hk_row_text whole = *text;
    cut_front(b, text, taken);
    if (unknown) {
        struct hk_entry *entry = entry_add(b, HK_ENTRY_ROW, &whole);
        refuse(entry, HK_CODE_NAME_UNKNOWN, hk_row_text_place(&whole, 0), "the sizes of this line cannot be read",
               "write them as project.csv names them: \"Sizes M and L only:\"");
        return false;
    }
    if (!*text->text) {
        b->sizes = sizes;
        return false;
    }
    b->line_sizes = sizes;
    if (!sizes) { /* "All sizes:" ends an earlier restriction */
        b->sizes = NULL;
    }
    return true;
}

static void line_take(struct builder *b, const struct hk_pattern_line *line, struct hk_written_limit *limit)
{
    struct hk_row_text text = line->text;
    if (strlen(text.text) > LINE_MOST) {
        struct hk_entry *entry = entry_add(b, HK_ENTRY_ROW, &text);
        refuse(entry, HK_CODE_CELL_TOO_LARGE, hk_row_text_place(&text, 0), "a line of more than 16 kB is not read",
               "write each row on a line of its own");
        return;
    }
    struct hk_label label;
    b->line_sizes = NULL;
    if (line->apart)
        b->sizes = NULL;
    bool work = hk_line_begins_work(text.text), left = b->silent || sizes_take(b, &text);
    limit->length = strlen(line->text.text) - strlen(text.text);
    limit->sizes = b->line_sizes ? b->line_sizes : b->sizes;
    if (!left)
        return;
    size_t last = strlen(text.text);
    bool names = !b->silent || (line->apart && names_pattern(text.text));
    if (!b->begun && names && last > 1 && text.text[last - 1] == ':' && !work && last < 70) {
        heading_take(b, line); /* "K2, p2 rib (multiple of 4):" */
        return;
    }
    while (*text.text && !b->arena->out_of_memory) {
        size_t coloured = b->silent && b->gauge ? 0 : colours_take(b, &text);
        if (coloured > 0) {
            cut_front(b, &text, coloured);
            cut_front(b, &text, (size_t)(hk_blanks_skipped(text.text) - text.text));
            continue;
        }
        if (!(b->silent && b->gauge) && hk_label_read(text.text, b->words, &label, b->arena)) {
            size_t end = label.length + next_label(text.text + label.length);
            struct hk_row_text whole, body;
            if (!part_of(b, &text, 0, end, &whole) || !part_of(b, &text, label.length, end - label.length, &body))
                return;
            row_take(b, &label, &whole, body, (struct hk_entry_problem){0});
            cut_front(b, &text, end);
            continue;
        }
        size_t piece = piece_as(b, text.text);
        if (piece > 0) {
            struct hk_pattern_line heading = *line;
            heading.level = 0;
            if (!part_of(b, &text, 0, piece, &heading.text))
                return;
            heading_take(b, &heading);
            cut_front(b, &text, piece + 1);
            cut_front(b, &text, (size_t)(hk_blanks_skipped(text.text) - text.text));
            continue;
        }
        size_t named = named_row(b, text.text);
        if (named > 0) {
            struct hk_row_text body, whole = text;
            const char *name = hk_arena_text(b->arena, text.text, named - 1);
            if (!part_of(b, &text, named, strlen(text.text) - named, &body))
                return;
            label = (struct hk_label){.name = name, .rows = {.one = 1}};
            row_take(b, &label, &whole, body, (struct hk_entry_problem){0});
            return;
        }
        size_t next = next_label(text.text);
        struct hk_row_text before;
        if (!part_of(b, &text, 0, next, &before))
            return;
        sentences_take(b, before);
        cut_front(b, &text, next);
    }
}

/* ---- Lines of the project ---- */

static void line_name(struct builder *b, struct hk_written_line *line, const struct hk_entry *entry, const char *part)
{
    line->part = part;
    if (line->first == b->written->parts[line->part_index].first)
        return;
    size_t length = strcspn(entry->label, "(");
    while (length > 0 && entry->label[length - 1] == ' ')
        length--;
    const char *label = length ? hk_arena_text(b->arena, entry->label, length) : NULL;
    line->part = label ? hk_arena_print(b->arena, "%s%sfrom %s", part, *part ? ", " : "", label)
                       : hk_arena_print(b->arena, "%s%sfrom line %zu", part, *part ? ", " : "", entry->place.line);
}

/* Makes the lines of the project: a part has one line for each tool that it changes to. */
static void lines_find(struct builder *b)
{
    struct hk_written *w = b->written;
    w->works = hk_arena_take(b->arena, w->entry_count + 1, sizeof *w->works);
    for (size_t p = 0; w->works && p < w->piece_count; p++)
        for (size_t q = 0; q < w->pieces[p].count; q++) {
            size_t part = w->pieces[p].first + q;
            struct hk_written_line *line = NULL;
            for (size_t e = 0; e < w->parts[part].count; e++) {
                size_t index = w->parts[part].first + e;
                const struct hk_entry *entry = &w->entries[index];
                if (!line || (entry->tool_mm != line->tool_mm && entry->kind != HK_ENTRY_CUT)) {
                    line = &w->works[w->work_count++];
                    *line = (struct hk_written_line){.piece = p,
                                                     .part_index = part,
                                                     .first = index,
                                                     .tool_mm = entry->tool_mm,
                                                     .place = entry->place};
                    line_name(b, line, entry, w->parts[part].name);
                }
                line->count++;
                w->entries[index].line = w->work_count - 1;
            }
        }
}

/* Marks the sequences of colours that are used. */
static void sequences_mark(struct builder *b)
{
    for (size_t i = 0; i < b->written->entry_count; i++)
        if (b->written->entries[i].colours > 0)
            b->written->sequences[b->written->entries[i].colours - 1].used = true;
}

/* Adds a set of one yarn for each yarn named within rows. */
static void yarns_find(struct builder *b)
{
    for (size_t i = 0; i < b->written->entry_count; i++) {
        const char *text = b->written->entries[i].text.text;
        for (const char *c = text; *c; c++) {
            const char *end = c;
            size_t role = c == text || c[-1] == ' ' || c[-1] == '(' ? hk_yarn_at(&end, &b->setting_words) : SIZE_MAX;
            if (role != SIZE_MAX)
                held_keep(b, &(struct hk_held){.roles = {role}, .times = {1}, .count = 1});
        }
    }
}

/* Finds the parts of each heading: all parts below it, up to the next heading of its level. */
static void names_find(struct builder *b)
{
    struct hk_written *w = b->written;
    w->names = hk_arena_take(b->arena, w->part_count, sizeof *w->names);
    for (size_t p = 0; w->names && p < w->piece_count; p++)
        for (size_t q = 0; q < w->pieces[p].count; q++) {
            size_t part = w->pieces[p].first + q, end = part + 1;
            while (end < w->part_count && w->parts[end].level > w->parts[part].level)
                end++;
            const char *name = q == 0 ? w->pieces[p].name : w->parts[part].name;
            if (*name)
                w->names[w->name_count++] = (struct hk_work_name){name, {part, end - part}};
        }
    w->words.works = w->names;
    w->words.work_count = w->name_count;
}

bool hk_written_read(const char *bytes, const char *file, const struct hk_row_words *words, struct hk_written *written,
                     struct hk_arena *arena)
{
    *written = (struct hk_written){.words = *words};
    written->words.definitions = NULL;
    written->words.definition_count = 0;
    written->words.main_named = hk_word_find(bytes, "MC") != NULL;
    struct builder b = {.written = written,
                        .words = &written->words,
                        .setting_words = {.words = &written->words, .main_named = written->words.main_named},
                        .arena = arena,
                        .held = SIZE_MAX};
    double *tools_mm;
    if (!hk_tools_find(bytes, words->catalogue, &tools_mm, &b.setting_words.tool_count, arena) ||
        !hk_pattern_lines_read(bytes, file, words, &written->lines, arena))
        return false;
    b.setting_words.tools_mm = written->tools_mm = tools_mm;
    written->limits = hk_arena_take(arena, written->lines.count, sizeof *written->limits);
    written->tool_count = b.setting_words.tool_count;
    for (size_t i = 0; i < LEVELS; i++)
        b.times[i] = (struct hk_graded_count){.one = 1};
    for (size_t i = 0; i < written->lines.count && !arena->out_of_memory; i++) {
        const struct hk_pattern_line *line = &written->lines.lines[i];
        if (written->piece_count >= PIECES_MOST) {
            struct hk_entry *entry = entry_add(&b, HK_ENTRY_ROW, &line->text);
            refuse(entry, HK_CODE_FILE_TOO_LARGE, hk_row_text_place(&line->text, 0),
                   "more than 2000 pieces are not read", "is this the right file?");
            break;
        }
        if (line->heading)
            heading_take(&b, line);
        else
            line_take(&b, line, &written->limits[i]);
    }
    lines_find(&b);
    names_find(&b);
    yarns_find(&b);
    sequences_mark(&b);
    return !arena->out_of_memory;
}
