/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Reads the shipped tables and keeps them twice: as text for display, and parsed. It uses the reader of users' files,
 * so errors in an edited table get the same findings. The rows of fabrics are parsed elsewhere.
 */
#include "catalogue/catalogue.h"

#include "base/diags.h"
#include "base/text.h"
#include "input/quantity.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

struct reader {
    struct hk_catalogue *catalogue;
    const struct hk_table *table;
    struct hk_diags *diags;
    struct hk_arena scratch;
};

/* ---- Names: duplicates ------------------------------------------------------------------------------------------- */

struct name {
    const char *text;
    uint64_t start; /* its first eight bytes without case: most names differ there */
    struct hk_cell cell;
    int kind; /* names of different kinds may be equal */
};

static int text_order(const char *a, const char *b)
{
    while (*a && hk_lower(*a) == hk_lower(*b)) {
        a++;
        b++;
    }
    return (unsigned char)hk_lower(*a) - (unsigned char)hk_lower(*b);
}

static int name_order(const void *a, const void *b)
{
    const struct name *x = a, *y = b;
    if (x->kind != y->kind)
        return x->kind - y->kind;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    int order = text_order(x->text, y->text);
    if (order != 0)
        return order;
    return x->cell.row != y->cell.row ? (x->cell.row < y->cell.row ? -1 : 1) : 0;
}

static struct name name_of(const char *text, struct hk_cell cell, int kind)
{
    struct name name = {.text = text, .cell = cell, .kind = kind};
    for (size_t i = 0; i < sizeof name.start; i++) {
        name.start = name.start << 8 | (unsigned char)hk_lower(*text);
        text += *text != '\0';
    }
    return name;
}

/* Sorts the names and reports a duplicate at its second row. what[kind] is the noun for messages. */
static void names_once(struct reader *reader, struct name *names, size_t count, const char *const *what)
{
    qsort(names, count, sizeof *names, name_order);
    for (size_t i = 1; i < count; i++) {
        const struct name *first = &names[i - 1], *again = &names[i];
        if (first->kind != again->kind || first->cell.row == again->cell.row || text_order(first->text, again->text) != 0)
            continue;
        hk_diags_add(reader->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(again->cell, 0),
                     "%s \"%s\" is already in line %zu", what[again->kind], again->text,
                     hk_cell_place(first->cell, 0).line);
    }
}

/* Reports duplicate names in a column. */
static void column_once(struct reader *reader, size_t column, const char *what)
{
    size_t rows = hk_table_rows(reader->table), count = 0;
    struct name *names = hk_arena_take(&reader->scratch, rows, sizeof *names);
    for (size_t row = 0; names && row < rows; row++) {
        struct hk_cell cell = hk_table_cell(reader->table, row, column);
        if (!hk_cell_empty(cell))
            names[count++] = name_of(cell.text, cell, 0);
    }
    if (names)
        names_once(reader, names, count, &what);
}

/* ---- Cells ------------------------------------------------------------------------------------------------------- */

static struct hk_cell cell_at(const struct reader *reader, size_t row, size_t column)
{
    return hk_table_cell(reader->table, row, column);
}

/* Returns false silently for an empty cell, which the table's reader has reported. */
static bool number(struct reader *reader, size_t row, size_t column, enum hk_sign sign, double *value)
{
    struct hk_cell cell = cell_at(reader, row, column);
    return !hk_cell_empty(cell) && hk_quantity_cell(cell, HK_DIM_PLAIN, sign, value, reader->diags);
}

static bool count(struct reader *reader, size_t row, size_t column, int64_t *value)
{
    struct hk_cell cell = cell_at(reader, row, column);
    return !hk_cell_empty(cell) && hk_count_cell(cell, HK_SIGN_NOT_NEGATIVE, value, reader->diags);
}

/* Returns the index of the cell in `words`; word_count if it is not among them, with a finding. */
static size_t choice(struct reader *reader, size_t row, size_t column, const char *const *words, size_t word_count,
                     const char *hint)
{
    struct hk_cell cell = cell_at(reader, row, column);
    for (size_t i = 0; i < word_count; i++) {
        if (hk_text_same(cell.text, words[i]))
            return i;
    }
    if (!hk_cell_empty(cell)) {
        hk_diags_add(reader->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "\"%s\" is not a choice here", cell.text);
        hk_diags_hint(reader->diags, "write %s", hint);
    }
    return word_count;
}

/* Allocates one element of `size` bytes for each row; NULL when out of memory. */
static void *rows_take(struct reader *reader, size_t size)
{
    return hk_arena_take(&reader->catalogue->arena, hk_table_rows(reader->table), size);
}

/* ---- Stitches ---------------------------------------------------------------------------------------------------- */

enum { ST_US, ST_UK, ST_ALSO, ST_NAME, ST_FAMILY, ST_NEEDS, ST_LEAVES, ST_LOOPS, ST_WRAPS };
static const struct hk_column stitch_columns[] = {
    {"us", true, false},    {"uk", true, false},    {"also", true, false},  {"name", true, true},
    {"family", true, true}, {"needs", true, true},  {"leaves", true, true}, {"loops", true, true},
    {"wraps", true, true},  {"notes", true, false}, {"source", true, true}, {NULL, false, false}};

static const char *filled_or_null(struct hk_cell cell)
{
    return hk_cell_empty(cell) ? NULL : cell.text;
}

/* Returns a spelling without its prefix. */
static const char *also_word(struct hk_arena *arena, const char *text, size_t length, enum hk_terms *terms, bool *both)
{
    *both = false;
    if (length > 3 && hk_text_starts(text, "us:"))
        *terms = HK_TERMS_US;
    else if (length > 3 && hk_text_starts(text, "uk:"))
        *terms = HK_TERMS_UK;
    else
        *both = true;
    const char *word = hk_arena_text(arena, text + (*both ? 0 : 3), length - (*both ? 0 : 3));
    return word ? hk_text_plain(arena, word, NULL) : NULL;
}

/* Parses a list of spellings: "us:single crochet;uk:double crochet;exsc". */
static bool also_read(struct reader *reader, struct hk_cell cell, struct hk_stitch *stitch)
{
    struct hk_arena *arena = &reader->catalogue->arena;
    size_t most = 1;
    for (const char *c = cell.text; *c; c++)
        most += *c == ';';
    const char **also = hk_arena_take(arena, most, sizeof *also);
    enum hk_terms *terms = hk_arena_take(arena, most, sizeof *terms);
    bool *both = hk_arena_take(arena, most, sizeof *both);
    if (!also || !terms || !both)
        return false;
    size_t found = 0;
    for (const char *c = cell.text; *c; c += *c == ';') {
        c += strspn(c, " ");
        size_t length = strcspn(c, ";");
        also[found] = also_word(arena, c, length, &terms[found], &both[found]);
        if (!also[found])
            return false;
        found += *also[found] != '\0';
        c += length;
    }
    stitch->also = also;
    stitch->also_terms = terms;
    stitch->also_both = both;
    stitch->also_count = found;
    return true;
}

/* Returns false with a finding when the row is unusable, or when out of memory. */
static bool stitch_read(struct reader *reader, size_t row, struct hk_stitch *stitch)
{
    static const char *const families[] = {"crochet", "tunisian", "knit"};
    *stitch = (struct hk_stitch){.us = filled_or_null(cell_at(reader, row, ST_US)),
                                 .uk = filled_or_null(cell_at(reader, row, ST_UK)),
                                 .name = cell_at(reader, row, ST_NAME).text};
    bool good = also_read(reader, cell_at(reader, row, ST_ALSO), stitch);
    if (!stitch->us && !stitch->uk) {
        hk_diags_add(reader->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell_at(reader, row, ST_US), 0),
                     "the stitch has no abbreviation");
        hk_diags_hint(reader->diags, "write one in us, uk or both");
        good = false;
    }
    size_t family = choice(reader, row, ST_FAMILY, families, HK_FAMILIES, "crochet, tunisian or knit");
    good = family < HK_FAMILIES && good;
    stitch->family = (enum hk_family)family;
    good = count(reader, row, ST_NEEDS, &stitch->needs) && good;
    good = count(reader, row, ST_LEAVES, &stitch->leaves) && good;
    good = number(reader, row, ST_LOOPS, HK_SIGN_NOT_NEGATIVE, &stitch->loops) && good;
    return number(reader, row, ST_WRAPS, HK_SIGN_NOT_NEGATIVE, &stitch->wraps) && good;
}

/* Reports words with two meanings in the same terms. A word may mean one stitch in US and another in UK terms. */
static void stitch_words_once(struct reader *reader)
{
    static const char *const what[] = {[HK_TERMS_US] = "in US terms the word", [HK_TERMS_UK] = "in UK terms the word"};
    const struct hk_catalogue *catalogue = reader->catalogue;
    size_t most = 0, found = 0;
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        most += 3 + 2 * catalogue->stitches[i].also_count;
    struct name *names = hk_arena_take(&reader->scratch, most, sizeof *names);
    if (!names)
        return;
    /* Called only when every row is valid, so stitch i is row i. */
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *s = &catalogue->stitches[i];
        if (s->us) {
            names[found++] = name_of(s->us, cell_at(reader, i, ST_US), HK_TERMS_US);
            names[found++] = name_of(s->name, cell_at(reader, i, ST_NAME), HK_TERMS_US);
        }
        if (s->uk)
            names[found++] = name_of(s->uk, cell_at(reader, i, ST_UK), HK_TERMS_UK);
        for (size_t k = 0; k < s->also_count; k++) {
            for (enum hk_terms terms = HK_TERMS_US; terms <= HK_TERMS_UK; terms++) {
                if (s->also_both[k] || s->also_terms[k] == terms)
                    names[found++] = name_of(s->also[k], cell_at(reader, i, ST_ALSO), (int)terms);
            }
        }
    }
    names_once(reader, names, found, what);
}

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

/* Lists all spellings of the stitches in these terms. Returns false and leaves *words unchanged when out of memory. */
static bool words_list(const struct hk_catalogue *catalogue, enum hk_terms terms, struct hk_words *words,
                       struct hk_arena *arena)
{
    struct hk_words list = {.words = hk_arena_take(arena, words_most(catalogue), sizeof *list.words)};
    if (!list.words)
        return false;
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        words_add(&list, terms == HK_TERMS_US ? catalogue->stitches[i].us : catalogue->stitches[i].uk, i);
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        for (size_t j = 0; j < stitch->also_count; j++) {
            if (stitch->also_both[j] || stitch->also_terms[j] == terms)
                words_add(&list, stitch->also[j], i);
        }
        if (terms == HK_TERMS_US && stitch->us)
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

static size_t stitch_by_us(const struct hk_catalogue *catalogue, const char *us, size_t length)
{
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const char *text = catalogue->stitches[i].us;
        if (text && strlen(text) == length && strncmp(text, us, length) == 0)
            return i;
    }
    return SIZE_MAX;
}

size_t hk_catalogue_stitch(const struct hk_catalogue *catalogue, const char *us)
{
    return stitch_by_us(catalogue, us, strlen(us));
}

/*
 * Returns the basic stitch that the next row works into: without the placement (FPdc, rev sc, fsc) and without the
 * decrease (dc2tog). All knit stitches have the same base.
 */
static size_t stitch_base(const struct hk_catalogue *catalogue, size_t stitch)
{
    static const char *const before[] = {"FP", "BP", "rev ", "spike ", "f"};
    const char *us = catalogue->stitches[stitch].us;
    size_t base = SIZE_MAX;
    if (catalogue->stitches[stitch].family == HK_FAMILY_KNIT)
        base = hk_catalogue_stitch(catalogue, "k");
    else if (us && strcmp(us, "invdec") == 0)
        base = hk_catalogue_stitch(catalogue, "sc");
    else if (us) {
        for (size_t i = 0; i < sizeof before / sizeof *before; i++)
            if (strncmp(us, before[i], strlen(before[i])) == 0 &&
                (before[i][1] || catalogue->stitches[stitch].needs == 0)) {
                us += strlen(before[i]);
                break;
            }
        size_t length = strlen(us);
        const char *together = strstr(us, "tog");
        if (together)
            for (length = (size_t)(together - us); length > 0 && hk_is_digit(us[length - 1]); length--)
                ;
        base = stitch_by_us(catalogue, us, length);
    }
    return base == SIZE_MAX ? stitch : base;
}

static void stitches_read(struct reader *reader)
{
    struct hk_catalogue *catalogue = reader->catalogue;
    catalogue->stitches = rows_take(reader, sizeof *catalogue->stitches);
    bool good = catalogue->stitches;
    for (size_t row = 0; catalogue->stitches && row < hk_table_rows(reader->table); row++)
        good = stitch_read(reader, row, &catalogue->stitches[row]) && good;
    if (!good)
        return;
    catalogue->stitch_count = hk_table_rows(reader->table);
    stitch_words_once(reader);
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        catalogue->stitches[i].base = stitch_base(catalogue, i);
    for (enum hk_terms terms = HK_TERMS_US; terms <= HK_TERMS_UK; terms++)
        words_list(catalogue, terms, &catalogue->words[terms], &catalogue->arena);
}

/* ---- Fabrics ----------------------------------------------------------------------------------------------------- */

static const struct hk_column fabric_columns[] = {
    {"fabric", true, true}, {"row", true, true},    {"make", true, true}, {"source", true, true},
    {"also", false, false}, {NULL, false, false}};

/* Keeps the table; pattern/shipped_fabrics.c parses its rows. */
static void fabrics_keep(struct reader *reader)
{
    reader->catalogue->fabrics_table = reader->table;
}

/* ---- Categories -------------------------------------------------------------------------------------------------- */

enum { CA_CATEGORY, CA_LABEL, CA_TYPES, CA_WRAPS = 11 }; /* only `hankful tables` shows the others */
static const struct hk_column category_columns[] = {
    {"category", true, true},
    {"label", true, true},
    {"types", true, false},
    {"knit_low_per_10cm", true, false},
    {"knit_high_per_10cm", true, false},
    {"crochet_low_per_10cm", true, false},
    {"crochet_high_per_10cm", true, false},
    {"needle_low_mm", true, false},
    {"needle_high_mm", true, false},
    {"hook_low_mm", true, false},
    {"hook_high_mm", true, false},
    {"wraps_low_per_in", true, false},
    {"wraps_high_per_in", true, false},
    {"notes", true, false},
    {"source", true, true},
    {NULL, false, false}};

/* Reads a range from two columns, the low end first. */
static void range_read(struct reader *reader, size_t row, size_t column, double *low, double *high)
{
    struct hk_cell from = cell_at(reader, row, column), to = cell_at(reader, row, column + 1);
    *low = hk_cell_empty(to) ? NAN : 0;
    *high = hk_cell_empty(from) ? NAN : INFINITY;
    bool both = number(reader, row, column, HK_SIGN_POSITIVE, low);
    both = number(reader, row, column + 1, HK_SIGN_POSITIVE, high) && both;
    if (both && *low > *high) {
        hk_diags_add(reader->diags, HK_CODE_RANGE, hk_cell_place(from, 0), "a range from %s to %s", from.text, to.text);
        hk_diags_hint(reader->diags, "write the smaller number first");
    }
}

static void categories_read(struct reader *reader)
{
    struct hk_catalogue *catalogue = reader->catalogue;
    catalogue->categories = rows_take(reader, sizeof *catalogue->categories);
    for (size_t row = 0; catalogue->categories && row < hk_table_rows(reader->table); row++) {
        struct hk_category *c = &catalogue->categories[catalogue->category_count++];
        c->name = cell_at(reader, row, CA_CATEGORY).text;
        c->label = cell_at(reader, row, CA_LABEL).text;
        c->types = cell_at(reader, row, CA_TYPES).text;
        range_read(reader, row, CA_WRAPS, &c->wraps_low, &c->wraps_high);
    }
    column_once(reader, CA_CATEGORY, "the category");
}

/* Returns true when the text is the name, or the name and the label with any marks between them. */
static bool category_named(const struct hk_category *category, const char *text)
{
    static const char marks[] = " -:,()";
    size_t name = strlen(category->name), label = strlen(category->label);
    if (hk_text_same(category->name, text) || hk_text_same(category->label, text))
        return true;
    if (!hk_text_starts(text, category->name) || !text[name] || !strchr(marks, text[name]))
        return false;
    text += name + strspn(text + name, marks);
    return hk_text_starts(text, category->label) && text[label + strspn(text + label, marks)] == '\0';
}

/* Returns true when the words are an element of a list separated by semicolons. */
static bool list_has(const char *list, const char *words)
{
    size_t length = strlen(words);
    while (*list) {
        list += strspn(list, "; ");
        size_t part = strcspn(list, ";");
        if (part == length && length > 0 && hk_text_starts(list, words))
            return true;
        list += part;
    }
    return false;
}

const struct hk_category *hk_category_find(const struct hk_catalogue *catalogue, const char *text)
{
    static const char word[] = "category ";
    if (hk_text_starts(text, word))
        text += sizeof word - 1;
    for (size_t i = 0; i < catalogue->category_count; i++) {
        if (category_named(&catalogue->categories[i], text))
            return &catalogue->categories[i];
    }
    const struct hk_category *typed = NULL;
    for (size_t i = 0; i < catalogue->category_count; i++) {
        if (!list_has(catalogue->categories[i].types, text))
            continue;
        if (typed)
            return NULL; /* ambiguous: "baby" is 1 and 2 */
        typed = &catalogue->categories[i];
    }
    return typed;
}

bool hk_category_holds(const struct hk_catalogue *catalogue, const struct hk_category *category, double wraps)
{
    double least = INFINITY;
    for (size_t i = 0; i < catalogue->category_count; i++)
        least = fmin(least, catalogue->categories[i].wraps_low); /* fmin ignores NAN, which means no range */
    wraps = fmax(floor(wraps + 0.5), least);
    return wraps >= category->wraps_low && wraps <= category->wraps_high; /* false without a range */
}

/* ---- Tools, fibres, currencies ----------------------------------------------------------------------------------- */

enum { TO_MM, TO_LABEL, TO_KIND };
static const struct hk_column tool_columns[] = {
    {"tool_mm", true, true}, {"label", true, true}, {"kind", true, true}, {"source", true, true}, {NULL, false, false}};

/* A label may have several diameters. Reports a diameter that occurs twice under the same label. */
static void tools_once(struct reader *reader)
{
    const char *what = "the tool";
    size_t rows = hk_table_rows(reader->table);
    struct name *names = hk_arena_take(&reader->scratch, rows, sizeof *names);
    for (size_t row = 0; names && row < rows; row++) {
        const char *text = hk_arena_print(&reader->scratch, "%s, %s mm", cell_at(reader, row, TO_LABEL).text,
                                          cell_at(reader, row, TO_MM).text);
        names[row] = name_of(text ? text : "", cell_at(reader, row, TO_LABEL), 0);
    }
    if (names && !reader->scratch.out_of_memory)
        names_once(reader, names, rows, &what);
}

static void tools_read(struct reader *reader)
{
    static const char *const kinds[] = {
        [HK_TOOL_HOOK] = "hook", [HK_TOOL_STEEL_HOOK] = "steel hook", [HK_TOOL_NEEDLE] = "needle"};
    struct hk_catalogue *catalogue = reader->catalogue;
    catalogue->tools = rows_take(reader, sizeof *catalogue->tools);
    for (size_t row = 0; catalogue->tools && row < hk_table_rows(reader->table); row++) {
        struct hk_tool *tool = &catalogue->tools[catalogue->tool_count++];
        tool->label = cell_at(reader, row, TO_LABEL).text;
        number(reader, row, TO_MM, HK_SIGN_POSITIVE, &tool->tool_mm);
        tool->kind = (enum hk_tool_kind)choice(reader, row, TO_KIND, kinds, COUNT(kinds), "hook, steel hook or needle");
    }
    tools_once(reader);
}

enum { FI_FIBRE, FI_ALLOWANCE, FI_ALSO = 5 };
static const struct hk_column fibre_columns[] = {
    {"fibre", true, true},
    {"allowance_percent", true, true},
    {"density_g_per_cm3", true, false}, /* only `hankful tables` shows it */
    {"notes", true, false},
    {"source", true, true},
    {"also", false, false},
    {NULL, false, false}};

static void fibres_read(struct reader *reader)
{
    struct hk_catalogue *catalogue = reader->catalogue;
    catalogue->fibres = rows_take(reader, sizeof *catalogue->fibres);
    for (size_t row = 0; catalogue->fibres && row < hk_table_rows(reader->table); row++) {
        struct hk_fibre *fibre = &catalogue->fibres[catalogue->fibre_count++];
        double percent = 0;
        fibre->name = cell_at(reader, row, FI_FIBRE).text;
        number(reader, row, FI_ALLOWANCE, HK_SIGN_NOT_NEGATIVE, &percent);
        fibre->allowance = percent / 100;
        fibre->also = cell_at(reader, row, FI_ALSO).text;
    }
    column_once(reader, FI_FIBRE, "the fibre");
}

enum { CU_CODE, CU_DIGITS };
static const struct hk_column currency_columns[] = {{"code", true, true},   {"minor_digits", true, true},
                                                    {"name", true, true},   {"notes", true, false},
                                                    {"source", true, true}, {NULL, false, false}};
#define DIGITS_MOST 4 /* the standard's maximum; money is 64-bit minor units */

static void currencies_read(struct reader *reader)
{
    struct hk_catalogue *catalogue = reader->catalogue;
    catalogue->currencies = rows_take(reader, sizeof *catalogue->currencies);
    for (size_t row = 0; catalogue->currencies && row < hk_table_rows(reader->table); row++) {
        struct hk_currency *currency = &catalogue->currencies[catalogue->currency_count++];
        int64_t digits = 0;
        currency->code = cell_at(reader, row, CU_CODE).text;
        if (!count(reader, row, CU_DIGITS, &digits))
            continue;
        if (digits > DIGITS_MOST) {
            hk_diags_add(reader->diags, HK_CODE_RANGE, hk_cell_place(cell_at(reader, row, CU_DIGITS), 0),
                         "a currency of %s digits", cell_at(reader, row, CU_DIGITS).text);
            hk_diags_hint(reader->diags, "write 0 to %d", DIGITS_MOST);
            continue;
        }
        currency->minor_digits = (int)digits;
    }
    column_once(reader, CU_CODE, "the currency");
}

const struct hk_currency *hk_currency_find(const struct hk_catalogue *catalogue, const char *code)
{
    for (size_t i = 0; i < catalogue->currency_count; i++) {
        if (hk_text_same(catalogue->currencies[i].code, code))
            return &catalogue->currencies[i];
    }
    return NULL;
}

/* ---- Spreads ----------------------------------------------------------------------------------------------------- */

enum { SP_NAME, SP_VALUE };
static const struct hk_column spread_columns[] = {
    {"name", true, true}, {"value", true, true}, {"meaning", true, true}, {"source", true, true}, {NULL, false, false}};

static const struct {
    const char *name;
    size_t offset;
} spread_fields[] = {
    {"wrap_ratio", offsetof(struct hk_spreads, wrap_ratio)}, {"wrap", offsetof(struct hk_spreads, wrap)},
    {"tension", offsetof(struct hk_spreads, tension)},       {"stitch", offsetof(struct hk_spreads, stitch)},
    {"tool", offsetof(struct hk_spreads, tool)},             {"yarn", offsetof(struct hk_spreads, yarn)},
    {"grist", offsetof(struct hk_spreads, grist)},           {"making", offsetof(struct hk_spreads, making)},
    {"piece", offsetof(struct hk_spreads, piece)},           {"garment", offsetof(struct hk_spreads, garment)},
    {"moisture", offsetof(struct hk_spreads, moisture)},     {"unstated", offsetof(struct hk_spreads, unstated)},
    {"unstated_spread", offsetof(struct hk_spreads, unstated_spread)},
    {"ball", offsetof(struct hk_spreads, ball)},             {"unravelled", offsetof(struct hk_spreads, unravelled)},
    {"reader", offsetof(struct hk_spreads, reader)},         {"diameter_mm", offsetof(struct hk_spreads, diameter_mm)},
    {"time_loop_s", offsetof(struct hk_spreads, time_loop_s)},
    {"time_tension", offsetof(struct hk_spreads, time_tension)},
    {"time_stitch", offsetof(struct hk_spreads, time_stitch)},
    {"time_tool", offsetof(struct hk_spreads, time_tool)},
    {"time_yarn", offsetof(struct hk_spreads, time_yarn)},
    {"time_making", offsetof(struct hk_spreads, time_making)},
    {"time_piece", offsetof(struct hk_spreads, time_piece)},
    {"time_end_min", offsetof(struct hk_spreads, time_end_min)},
};

double hk_spreads_most(const char *name)
{
    static const double an_hour = 60; /* limit for a loop in seconds and for an end in minutes */
    return hk_text_same(name, "time_loop_s") || hk_text_same(name, "time_end_min") ? an_hour : 1;
}

bool hk_spreads_plain(const char *name)
{
    return hk_text_same(name, "wrap_ratio") || hk_text_same(name, "diameter_mm") || hk_spreads_most(name) > 1;
}

const char *hk_spreads_name(size_t i)
{
    return i < COUNT(spread_fields) ? spread_fields[i].name : NULL;
}

/* Returns the index of a spread, or COUNT(spread_fields) if the name is unknown. */
static size_t spread_index(const char *name)
{
    size_t i = 0;
    while (i < COUNT(spread_fields) && !hk_text_same(spread_fields[i].name, name))
        i++;
    return i;
}

double *hk_spreads_find(struct hk_spreads *spreads, const char *name)
{
    size_t i = spread_index(name);
    return i < COUNT(spread_fields) ? (double *)(void *)((char *)spreads + spread_fields[i].offset) : NULL;
}

static const char *spread_name(const void *context, size_t i)
{
    (void)context;
    return spread_fields[i].name;
}

static void spread_unknown(struct reader *reader, struct hk_cell cell)
{
    hk_diags_add(reader->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0), "there is no spread \"%s\"", cell.text);
    size_t nearest = hk_text_nearest(cell.text, COUNT(spread_fields), spread_name, NULL);
    if (nearest != SIZE_MAX)
        hk_diags_hint(reader->diags, "did you mean \"%s\"?", spread_fields[nearest].name);
}

static void spreads_read(struct reader *reader)
{
    bool seen[COUNT(spread_fields) + 1] = {false}; /* the last element: unknown names */
    for (size_t row = 0; row < hk_table_rows(reader->table); row++) {
        struct hk_cell cell = cell_at(reader, row, SP_NAME);
        double *value = hk_spreads_find(&reader->catalogue->spreads, cell.text);
        seen[spread_index(cell.text)] = true;
        if (!value && !hk_cell_empty(cell))
            spread_unknown(reader, cell);
        double unused;
        number(reader, row, SP_VALUE, HK_SIGN_POSITIVE, value ? value : &unused);
    }
    for (size_t i = 0; i < COUNT(spread_fields); i++) {
        if (!seen[i])
            hk_diags_add(reader->diags, HK_CODE_ROWS_MISSING, hk_table_place(reader->table),
                         "there is no row for the spread %s", spread_fields[i].name);
    }
    column_once(reader, SP_NAME, "the spread");
}

/* ---- All tables ------------------------------------------------------------------------------------------------- */

/* In the order of reading and display. */
static const struct {
    const char *name, *file;
    const struct hk_column *columns;
    void (*read)(struct reader *reader);
} shipped[] = {
    {"stitches", "stitches.csv", stitch_columns, stitches_read},
    {"fabrics", "fabrics.csv", fabric_columns, fabrics_keep},
    {"categories", "categories.csv", category_columns, categories_read},
    {"tools", "tools.csv", tool_columns, tools_read},
    {"fibres", "fibres.csv", fibre_columns, fibres_read},
    {"currencies", "currencies.csv", currency_columns, currencies_read},
    {"spreads", "spreads.csv", spread_columns, spreads_read},
};

static void table_read(struct hk_catalogue *catalogue, const struct hk_source *source, size_t which, struct hk_diags *diags)
{
    struct hk_table_options options = {.columns = shipped[which].columns, .required = true};
    struct hk_table *table = hk_table_read(source, shipped[which].file, options, diags);
    if (!table)
        return;
    catalogue->tables[catalogue->table_count++] = table;
    struct reader reader = {.catalogue = catalogue, .table = table, .diags = diags};
    shipped[which].read(&reader);
    if (reader.scratch.out_of_memory || catalogue->arena.out_of_memory)
        diags->out_of_memory = true;
    hk_arena_free(&reader.scratch);
}

struct hk_catalogue *hk_catalogue_tables_read(const struct hk_source *source, struct hk_diags *diags)
{
    struct hk_catalogue *catalogue = calloc(1, sizeof *catalogue);
    if (catalogue)
        catalogue->tables = hk_arena_take(&catalogue->arena, COUNT(shipped), sizeof *catalogue->tables);
    if (!catalogue || !catalogue->tables)
        diags->out_of_memory = true;
    for (size_t i = 0; i < COUNT(shipped) && !diags->out_of_memory; i++)
        table_read(catalogue, source, i, diags);
    return catalogue;
}

void hk_catalogue_free(struct hk_catalogue *catalogue)
{
    if (!catalogue)
        return;
    assert(catalogue->tables || catalogue->table_count == 0);
    for (size_t i = 0; i < catalogue->table_count; i++)
        hk_table_free(catalogue->tables[i]);
    hk_arena_free(&catalogue->arena);
    free(catalogue);
}

/* ---- Display: a returned catalogue has all tables, in the order of `shipped` --------------------------- */

size_t hk_catalogue_tables(const struct hk_catalogue *catalogue)
{
    return catalogue->table_count;
}

const char *hk_catalogue_table_name(const struct hk_catalogue *catalogue, size_t table)
{
    return table < catalogue->table_count ? shipped[table].name : NULL;
}

static const struct hk_table *shown(const struct hk_catalogue *catalogue, size_t table)
{
    return table < catalogue->table_count ? catalogue->tables[table] : NULL;
}

size_t hk_catalogue_columns(const struct hk_catalogue *catalogue, size_t table)
{
    const struct hk_table *t = shown(catalogue, table);
    return t ? hk_table_columns(t) : 0;
}

size_t hk_catalogue_rows(const struct hk_catalogue *catalogue, size_t table)
{
    const struct hk_table *t = shown(catalogue, table);
    return t ? hk_table_rows(t) : 0;
}

const char *hk_catalogue_column(const struct hk_catalogue *catalogue, size_t table, size_t column)
{
    const struct hk_table *t = shown(catalogue, table);
    return t && column < hk_table_columns(t) ? hk_table_header(t, column).text : NULL;
}

const char *hk_catalogue_cell(const struct hk_catalogue *catalogue, size_t table, size_t row, size_t column)
{
    const struct hk_table *t = shown(catalogue, table);
    return t && row < hk_table_rows(t) && column < hk_table_columns(t) ? hk_table_at(t, row, column).text : NULL;
}
