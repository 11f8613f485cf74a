/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers (digits.h) followed by units.
 *
 *     quantity = number [unit] { number unit }        each unit smaller than the one before: 5' 2", 1 h 10 min
 */
#include "input/quantity.h"

#include "base/text.h"
#include "input/spreadsheet_damage.h"

#include <math.h>
#include <string.h>

/* ---- Units ------------------------------------------------------------------------------------------------------- */

/* The base unit is value * multiply / divide. Two factors make 57% the double nearest to 0.57. */
struct unit {
    const char *name; /* a blank in it matches a blank */
    enum hk_dimension dimension;
    double multiply, divide;
};

#define GRAMS HK_DIM_MASS, 1, 1
#define KILOGRAMS HK_DIM_MASS, 1000, 1
#define OUNCES HK_DIM_MASS, HK_G_PER_OUNCE, 1
#define POUNDS HK_DIM_MASS, HK_G_PER_POUND, 1
#define MILLIMETRES HK_DIM_LENGTH, 1, 1000
#define CENTIMETRES HK_DIM_LENGTH, 1, 100
#define METRES HK_DIM_LENGTH, 1, 1
#define KILOMETRES HK_DIM_LENGTH, 1000, 1
#define INCHES HK_DIM_LENGTH, HK_M_PER_INCH, 1
#define FEET HK_DIM_LENGTH, HK_M_PER_FOOT, 1
#define YARDS HK_DIM_LENGTH, HK_M_PER_YARD, 1
#define PERCENT HK_DIM_PERCENT, 1, 100
#define WRAPS HK_DIM_WRAPS, 1, 1
#define SECONDS HK_DIM_MINUTES, 1, 60
#define MINUTES HK_DIM_MINUTES, 1, 1
#define HOURS HK_DIM_MINUTES, 60, 1

/* The usual symbol of each unit comes first, since of equally near names the first is suggested. */
static const struct unit units[] = {
    {"g", GRAMS}, {"gram", GRAMS}, {"grams", GRAMS}, {"gramme", GRAMS}, {"grammes", GRAMS}, {"gms", GRAMS},
    {"kg", KILOGRAMS}, {"kilo", KILOGRAMS}, {"kilos", KILOGRAMS}, {"kilogram", KILOGRAMS}, {"kilograms", KILOGRAMS},
    {"oz", OUNCES}, {"ounce", OUNCES}, {"ounces", OUNCES},
    {"lb", POUNDS}, {"lbs", POUNDS}, {"pound", POUNDS}, {"pounds", POUNDS},
    {"mm", MILLIMETRES}, {"millimetre", MILLIMETRES}, {"millimetres", MILLIMETRES}, {"millimeter", MILLIMETRES},
    {"millimeters", MILLIMETRES},
    {"cm", CENTIMETRES}, {"cms", CENTIMETRES}, {"centimetre", CENTIMETRES}, {"centimetres", CENTIMETRES},
    {"centimeter", CENTIMETRES}, {"centimeters", CENTIMETRES},
    {"m", METRES}, {"metre", METRES}, {"metres", METRES}, {"meter", METRES}, {"meters", METRES}, {"mtr", METRES},
    {"mtrs", METRES}, {"mt", METRES},
    {"km", KILOMETRES}, {"kilometre", KILOMETRES}, {"kilometres", KILOMETRES}, {"kilometer", KILOMETRES},
    {"kilometers", KILOMETRES},
    {"in", INCHES}, {"inch", INCHES}, {"inches", INCHES}, {"\"", INCHES}, {"''", INCHES},
    {"ft", FEET}, {"foot", FEET}, {"feet", FEET}, {"'", FEET},
    {"yd", YARDS}, {"yds", YARDS}, {"yard", YARDS}, {"yards", YARDS},
    {"%", PERCENT}, {"percent", PERCENT}, {"per cent", PERCENT},
    {"tex", HK_DIM_TEX, 1, 1}, {"dtex", HK_DIM_TEX, 1, 10}, {"den", HK_DIM_TEX, 1, 9}, {"denier", HK_DIM_TEX, 1, 9},
    {"wpi", WRAPS}, {"wraps", WRAPS}, {"wraps per inch", WRAPS}, {"wraps an inch", WRAPS}, {"wraps/inch", WRAPS},
    {"min", MINUTES}, {"mins", MINUTES}, {"minute", MINUTES}, {"minutes", MINUTES},
    {"h", HOURS}, {"hr", HOURS}, {"hrs", HOURS}, {"hour", HOURS}, {"hours", HOURS},
    {"s", SECONDS}, {"sec", SECONDS}, {"second", SECONDS}, {"seconds", SECONDS},
};

#define UNIT_COUNT (sizeof units / sizeof units[0])

/*
 * Matches the longest unit name at *cursor and advances it, past the full stop of an abbreviation too ("7 in.").
 * Returns NULL if there is none.
 */
static const struct unit *unit_scan(const char **cursor)
{
    const char *text = hk_blanks_skipped(*cursor);
    const struct unit *found = NULL;
    size_t longest = 0;
    for (size_t i = 0; i < UNIT_COUNT && *text; i++) {
        if (!hk_text_starts(text, units[i].name))
            continue;
        size_t length = strlen(units[i].name);
        if (length <= longest)
            continue;
        if (hk_is_letter(text[length]) && hk_is_letter(text[length - 1]))
            continue;
        longest = length;
        found = &units[i];
    }
    if (!found)
        return NULL;
    text += longest;
    if (*text == '.' && hk_is_letter(text[-1]) && !hk_is_digit(text[1]))
        text++;
    *cursor = text;
    return found;
}

bool hk_unit_scan(const char **cursor, enum hk_dimension *dimension, double *factor)
{
    const struct unit *unit = unit_scan(cursor);
    if (!unit)
        return false;
    *dimension = unit->dimension;
    *factor = unit->multiply / unit->divide;
    return true;
}

/* The words for a dimension in messages. */
struct kind {
    const char *noun, *example;
    const char *suffixes[4]; /* of suggested units, to append to a number */
};

static const struct kind kinds[] = {
    [HK_DIM_PLAIN] = {"a plain number", "12.5", {""}},
    [HK_DIM_MASS] = {"a mass", "50 g or 1.75 oz", {" g", " oz"}},
    [HK_DIM_LENGTH] = {"a length", "18.5 cm or 7 1/4 in", {" cm", " in", " m", " yd"}},
    [HK_DIM_PERCENT] = {"a percentage", "95%", {"%"}},
    [HK_DIM_TEX] = {"a yarn number", "400 tex", {" tex"}},
    [HK_DIM_WRAPS] = {"wraps per inch", "12 wpi", {" wpi"}},
    [HK_DIM_MINUTES] = {"a time", "25 min or 1 h 10 min", {" min", " h"}},
};

struct names {
    const struct unit *of[UNIT_COUNT];
    size_t count;
};

static const char *names_at(const void *context, size_t i)
{
    const struct names *names = context;
    return names->of[i]->name;
}

const char *hk_unit_nearest(const char *word, enum hk_dimension dimension)
{
    struct names names = {.count = 0};
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (units[i].dimension == dimension)
            names.of[names.count++] = &units[i];
    }
    size_t nearest = hk_text_nearest(word, names.count, names_at, &names);
    return nearest == SIZE_MAX ? NULL : names.of[nearest]->name;
}

/* Adds a hint such as "write 50 g or 50 oz"; for a bare 1 "1% or 100%". */
static void suffix_hint(const char *number, size_t length, double value, enum hk_dimension dimension, struct hk_diags *diags)
{
    const char *const *s = kinds[dimension].suffixes;
    int n = (int)(length < 40 ? length : 40);
    if (dimension == HK_DIM_PERCENT && value == 1)
        hk_diags_hint(diags, "write 1%% or 100%%");
    else if (s[3])
        hk_diags_hint(diags, "write %.*s%s, %.*s%s, %.*s%s or %.*s%s", n, number, s[0], n, number, s[1], n, number,
                      s[2], n, number, s[3]);
    else if (s[1])
        hk_diags_hint(diags, "write %.*s%s or %.*s%s", n, number, s[0], n, number, s[1]);
    else
        hk_diags_hint(diags, "write %.*s%s", n, number, s[0]);
}

/* Returns the length of the word at `at`, which ends at a blank, digit or bracket. */
static size_t word_length(const char *at)
{
    size_t length = 0;
    while (at[length] && at[length] != ' ' && !hk_is_digit(at[length]) && !strchr("()[]{},;", at[length]))
        length++;
    return length > 0 ? length : strlen(at);
}

void hk_unit_wrong(const struct hk_span *span, const char *at, enum hk_dimension dimension, struct hk_diags *diags)
{
    const struct kind *kind = &kinds[dimension];
    const char *end = at = hk_blanks_skipped(at);
    const struct unit *unit = unit_scan(&end);
    struct hk_place place = hk_span_place(span, at);
    if (unit) {
        hk_diags_add(diags, HK_CODE_UNIT_WRONG, place, "%s measures %s, and %s is needed here", unit->name,
                     kinds[unit->dimension].noun, kind->noun);
        hk_diags_hint(diags, "write it like %s", kind->example);
        return;
    }
    char word[64] = "";
    size_t length = word_length(at);
    if (length < sizeof word)
        memcpy(word, at, length);
    const char *nearest = length < sizeof word ? hk_unit_nearest(word, dimension) : NULL;
    hk_diags_add(diags, HK_CODE_UNIT_WRONG, place, "\"%.*s\" is not a known unit", (int)length, at);
    if (nearest)
        hk_diags_hint(diags, "did you mean %s?", nearest);
    else
        hk_diags_hint(diags, "write it like %s", kind->example);
}

/* ---- Quantities -------------------------------------------------------------------------------------------------- */

struct reading {
    const struct hk_span *span;
    enum hk_dimension dimension;
    struct hk_diags *diags;
};

/* One term, such as "5'" of "5' 2\"": its value in the base unit, and the size of its unit. */
struct term {
    double value, unit;
    bool bare;
};

void hk_two_readings(const struct hk_span *span, const char *start, const char *end, struct hk_diags *diags)
{
    char whole[32], decimal[32];
    size_t count = 0;
    for (const char *c = start; c < end && count < sizeof whole - 1; c++) {
        if (hk_is_digit(*c) || *c == '-')
            whole[count++] = *c;
    }
    whole[count] = '\0';
    memcpy(decimal, whole, count + 1);
    if (count > 3 && count + 2 < sizeof decimal) {
        enum hk_decimal mark = hk_span_decimal(span);
        memmove(decimal + count - 2, whole + count - 3, 4);
        decimal[count - 3] = mark == HK_DECIMAL_COMMA ? ',' : '.';
        if (mark == HK_DECIMAL_EITHER) /* with a fourth digit it cannot be thousands */
            memcpy(decimal + count + 1, "0", 2);
    }
    hk_diags_add(diags, HK_CODE_NUMBER, hk_span_place(span, start), "%.*s can be read in two ways", (int)(end - start),
                 start);
    hk_diags_hint(diags, "write %s or %s", whole, decimal);
}

static void not_a_number(const struct reading *r, const char *at)
{
    const char *text = r->span->text;
    hk_diags_add(r->diags, HK_CODE_NUMBER, hk_span_place(r->span, at), "\"%s\" is not %s", text,
                 kinds[r->dimension].noun);
    hk_diags_hint(r->diags, "write it like %s", kinds[r->dimension].example);
}

/* Reports the text after a number that is not a unit: a range, a second number, or words. */
static void leftover(const struct reading *r, const char *from, const char *rest)
{
    const char *word = hk_blanks_skipped(rest);
    struct hk_place at = hk_span_place(r->span, word);
    size_t length = (size_t)(rest - from);
    if (*word == '-' && hk_is_digit(*hk_blanks_skipped(word + 1))) {
        hk_diags_add(r->diags, HK_CODE_NUMBER, at, "\"%s\" is a range", r->span->text);
        hk_diags_hint(r->diags, "write one value, like %s", kinds[r->dimension].example);
    } else if (hk_is_letter(*word) || *word == '%' || *word == '"' || *word == '\'') {
        hk_unit_wrong(r->span, word, r->dimension, r->diags);
    } else {
        while (length > 0 && from[length - 1] == ' ')
            length--;
        hk_diags_add(r->diags, HK_CODE_NUMBER, at, "\"%s\" behind %.*s is not understood", word,
                     (int)(length < 200 ? length : 200), from);
        hk_diags_hint(r->diags, "write one value, like %s", kinds[r->dimension].example);
    }
}

/* Returns true when a number may lack a unit. after: the unit of the previous term, 0 for the first. */
static bool bare_allowed(enum hk_dimension dimension, double value, double after)
{
    switch (dimension) {
    case HK_DIM_PLAIN:
    case HK_DIM_WRAPS:
        return true;
    case HK_DIM_PERCENT:
        return value >= -1 && value < 1; /* 1 is ambiguous: 1% or 100% */
    case HK_DIM_MINUTES:
        return after == 0 || after == 60;
    case HK_DIM_MASS:
    case HK_DIM_LENGTH:
    case HK_DIM_TEX:
        return false;
    }
    return false;
}

static bool bare_term(const struct reading *r, const char *start, const char *end, double value, double after,
                      struct term *term)
{
    const char *rest = hk_blanks_skipped(end);
    if (*rest) {
        leftover(r, start, end);
        return false;
    }
    if (!bare_allowed(r->dimension, value, after)) {
        size_t length = (size_t)(end - start);
        hk_diags_add(r->diags, HK_CODE_UNIT_MISSING, hk_span_place(r->span, start), "%s has no unit", start);
        suffix_hint(start, length, value, r->dimension, r->diags);
        return false;
    }
    *term = (struct term){.value = value, .unit = 1, .bare = true};
    return true;
}

static bool term_read(const struct reading *r, const char **cursor, double after, struct term *term)
{
    const char *start = *cursor, *end = start;
    struct hk_digits digits;
    switch (hk_digits_scan(&end, hk_span_decimal(r->span), &digits)) {
    case HK_NUMBER_NONE:
        not_a_number(r, start);
        return false;
    case HK_NUMBER_AMBIGUOUS:
        hk_two_readings(r->span, start, end, r->diags);
        return false;
    case HK_NUMBER_ONE:
        break;
    }
    double value = hk_digits_value(&digits);
    *cursor = end;
    const struct unit *unit = unit_scan(cursor);
    if (!unit) {
        *cursor = hk_blanks_skipped(end);
        return bare_term(r, start, end, value, after, term);
    }
    if (unit->dimension != r->dimension) {
        hk_unit_wrong(r->span, end, r->dimension, r->diags);
        return false;
    }
    *term = (struct term){.value = value * unit->multiply / unit->divide, .unit = unit->multiply / unit->divide};
    *cursor = hk_blanks_skipped(*cursor);
    return true;
}

/*
 * Parses terms such as 5' 2": each unit is smaller than the previous one, and each value less than one previous unit.
 */
static bool terms_read(const struct reading *r, double *value)
{
    const char *cursor = r->span->text;
    struct term term = {0};
    if (!term_read(r, &cursor, 0, &term))
        return false;
    double total = fabs(term.value);
    bool negative = term.value < 0;
    while (*cursor) {
        const char *start = cursor;
        double before = term.unit;
        if (!hk_is_digit(*cursor) || term.bare) {
            leftover(r, r->span->text, cursor);
            return false;
        }
        if (!term_read(r, &cursor, before, &term))
            return false;
        if (term.unit >= before || term.value >= before) {
            hk_diags_add(r->diags, HK_CODE_NUMBER, hk_span_place(r->span, start), "\"%s\" is not one value",
                         r->span->text);
            hk_diags_hint(r->diags, "write one value, like %s", kinds[r->dimension].example);
            return false;
        }
        total += term.value;
    }
    *value = negative ? -total : total;
    return true;
}

/* Returns the error in the sign or magnitude of a value, or NULL. */
static const char *range_problem(double value, enum hk_sign sign)
{
    if (value < 0 && sign != HK_SIGN_ANY)
        return "is below zero";
    if (value == 0 && sign == HK_SIGN_POSITIVE)
        return "is not possible here";
    if (fabs(value) > HK_QUANTITY_MOST)
        return "is larger than anything possible";
    if (value != 0 && fabs(value) < HK_QUANTITY_LEAST)
        return "is smaller than anything possible";
    return NULL;
}

static bool in_range(const struct reading *r, enum hk_sign sign, double value)
{
    const char *text = r->span->text, *problem = range_problem(value, sign);
    const struct kind *kind = &kinds[r->dimension];
    if (!problem)
        return true;
    hk_diags_add(r->diags, HK_CODE_RANGE, hk_span_place(r->span, text), "%s %s", text, problem);
    if (value > 0 || sign == HK_SIGN_ANY)
        hk_diags_hint(r->diags, "write %s like %s", kind->noun, kind->example);
    else
        hk_diags_hint(r->diags, sign == HK_SIGN_POSITIVE ? "write %s above zero" : "write %s of zero or more", kind->noun);
    return false;
}

bool hk_quantity_read(const struct hk_span *span, enum hk_dimension dimension, enum hk_sign sign, double *value,
                      struct hk_diags *diags)
{
    const struct reading r = {span, dimension, diags};
    if (!*span->text) {
        hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_span_place(span, span->text), "%s is missing",
                     kinds[dimension].noun);
        hk_diags_hint(diags, "write it like %s", kinds[dimension].example);
        return false;
    }
    double found = 0;
    if (hk_spreadsheet_damage(span, diags) || !terms_read(&r, &found) || !in_range(&r, sign, found))
        return false;
    *value = found;
    return true;
}

bool hk_quantity_cell(struct hk_cell cell, enum hk_dimension dimension, enum hk_sign sign, double *value,
                      struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    struct hk_span span;
    bool read = hk_span_make(cell, &span, &scratch);
    if (!read)
        diags->out_of_memory = true;
    read = read && hk_quantity_read(&span, dimension, sign, value, diags);
    hk_arena_free(&scratch);
    return read;
}

bool hk_count_cell(struct hk_cell cell, enum hk_sign sign, int64_t *value, struct hk_diags *diags)
{
    double number;
    if (!hk_quantity_cell(cell, HK_DIM_PLAIN, sign, &number, diags))
        return false;
    if (number != floor(number)) {
        hk_diags_add(diags, HK_CODE_NUMBER, hk_cell_place(cell, 0), "%s is not a whole number", cell.text);
        hk_diags_hint(diags, "write it like 12");
        return false;
    }
    *value = (int64_t)number;
    return true;
}
