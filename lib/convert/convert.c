/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Converts an amount of yarn, and a description of the yarn, to every unit of the trade. Each word is an amount or a
 * description: 275 g, 500 m; 50 g = 120 m, 400 tex, Nm 2.5, 12 wpi, a category, or the name of a yarn. Or the amount is a
 * number of balls, or the number is asked for:
 *
 *     words    = amounts and descriptions | balls | question
 *     balls    = number put-up-word ["of"] put-up ["each"]
 *     question = "how many" put-up-word ["of"] put-up ["each"] ["do I need"] "for" amount
 *     put-up   = label | mass | length | name of a yarn          put-up-word = "balls" | "skeins" | ... (parts.h)
 *
 *     balls asked = amount / put-up, rounded up; left over = rounded balls * put-up - amount
 *
 *     tex = g / km = 1000 / Nm = denier / 9 = K / (h * count)      K = (g in a pound) / (m in a yard) * 1000
 *     h, yards per pound at count 1: cotton 840, worsted 560, woollen run 1600, yd/lb 1
 *     diameter = spread diameter_mm * sqrt(tex)                    wraps per inch = 25.4 mm / diameter
 *
 * Systems and factors: ASTM D2260-03(2013) Table 1. The diameter rule is the model's (DEVELOPERS.md).
 */
#include "base/text.h"
#include "catalogue/category.h"
#include "convert/parts.h"
#include "input/quantity.h"
#include "input/spreadsheet_damage.h"
#include "project/project.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TEX_PER_METRIC 1000.0
#define DENIER_PER_TEX 9.0
#define TEX_PER_YARD_A_POUND (HK_G_PER_POUND / HK_M_PER_YARD * 1000)
#define COTTON_YARDS 840.0
#define WORSTED_YARDS 560.0
#define RUN_YARDS 1600.0

/* The parts of the words, and the next one to read. */
struct cursor {
    struct hk_convert_parts parts;
    size_t next;
};

struct converter {
    const struct hk_catalogue *catalogue;
    const struct hk_project *project; /* may be NULL */
    double diameter_mm;               /* diameter at 1 tex */
    struct hk_arena *arena;
    struct hk_diags *diags;
    const struct hk_category *category; /* the one asked for, or NULL */
    bool put_up_next;                   /* the next amount is what a ball holds */
    size_t counted;                     /* the number of the word that counts balls or asks for them */
    struct cursor at;                   /* the parts that follow */
    struct hk_convert *result;          /* the result under construction */
};

static struct hk_place start_of(const struct hk_span *word)
{
    return hk_span_place(word, word->text);
}

/* Takes a part of a word, of `length` bytes or to its end. Returns false when out of memory. */
static bool part_take(struct converter *c, const struct hk_span *word, const char *start, size_t length,
                      struct hk_span *part)
{
    if (hk_span_part(word, (size_t)(start - word->text), length, part, c->arena))
        return true;
    c->diags->out_of_memory = true;
    return false;
}

/* ---- Fineness ---------------------------------------------------------------------------------------------------- */

static struct hk_yarn_number number_of(double tex, double diameter_mm)
{
    double yards_a_pound = TEX_PER_YARD_A_POUND / tex;
    return (struct hk_yarn_number){
        .tex = tex,
        .metric_nm = TEX_PER_METRIC / tex,
        .denier = tex * DENIER_PER_TEX,
        .cotton_ne = yards_a_pound / COTTON_YARDS,
        .worsted_ne = yards_a_pound / WORSTED_YARDS,
        .woollen_run = yards_a_pound / RUN_YARDS,
        .yards_a_pound = yards_a_pound,
        .metres_in_100_g = 100 * TEX_PER_METRIC / tex,
        .wraps_per_inch = HK_MM_PER_INCH / diameter_mm,
        .diameter_mm = diameter_mm,
    };
}

static struct hk_yarn_number number_of_tex(const struct converter *c, double tex)
{
    return number_of(tex, c->diameter_mm * sqrt(tex));
}

/* Computes the fineness from a thickness, by the diameter rule. */
static struct hk_yarn_number number_of_diameter(const struct converter *c, double diameter_mm)
{
    c->result->by_rule = true;
    double root = diameter_mm / c->diameter_mm;
    return number_of(root * root, diameter_mm);
}

/* Sets the finest and the coarsest yarn. Reports a second word that states a fineness. */
static bool number_set(struct converter *c, const struct hk_span *word, struct hk_yarn_number finest,
                       struct hk_yarn_number coarsest)
{
    if (c->result->has_number) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, start_of(word), "\"%s\" is a second yarn", word->text);
        hk_diags_hint(c->diags, "describe one yarn at a time");
        return false;
    }
    /* written so that NAN fails too */
    if (!(finest.tex >= HK_QUANTITY_LEAST && coarsest.tex <= HK_QUANTITY_MOST)) {
        hk_diags_add(c->diags, HK_CODE_RANGE, start_of(word), "\"%s\" is not a possible yarn", word->text);
        hk_diags_hint(c->diags, "write it like 50 g = 120 m");
        return false;
    }
    c->result->has_number = true;
    c->result->number[0] = finest;
    c->result->number[1] = coarsest;
    return true;
}

static bool number_set_one(struct converter *c, const struct hk_span *word, struct hk_yarn_number number)
{
    return number_set(c, word, number, number);
}

/* ---- Counts: Nm 2.5, 1.5 Ne -------------------------------------------------------------------------------------- */

struct count_system {
    const char *name;
    double tex; /* tex at count 1; the count is inversely proportional to tex */
};

static const struct count_system systems[] = {
    {"Nm", TEX_PER_METRIC}, {"metric count", TEX_PER_METRIC},
    {"Ne", TEX_PER_YARD_A_POUND / COTTON_YARDS}, {"NeC", TEX_PER_YARD_A_POUND / COTTON_YARDS},
    {"cotton", TEX_PER_YARD_A_POUND / COTTON_YARDS}, {"cotton count", TEX_PER_YARD_A_POUND / COTTON_YARDS},
    {"NeK", TEX_PER_YARD_A_POUND / WORSTED_YARDS}, {"worsted", TEX_PER_YARD_A_POUND / WORSTED_YARDS},
    {"worsted count", TEX_PER_YARD_A_POUND / WORSTED_YARDS},
    {"run", TEX_PER_YARD_A_POUND / RUN_YARDS}, {"woollen run", TEX_PER_YARD_A_POUND / RUN_YARDS},
    {"ypp", TEX_PER_YARD_A_POUND},
};

#define SYSTEM_COUNT (sizeof systems / sizeof systems[0])

/*
 * Returns the length in bytes of the word without `name`, which is at its start or end; SIZE_MAX if the name is absent.
 */
static size_t without_name(const char *text, const char *name, const char **rest)
{
    size_t length = strlen(text), named = strlen(name);
    if (length <= named)
        return SIZE_MAX;
    if (hk_text_starts(text, name) && !hk_is_letter(text[named])) {
        *rest = text + named;
        return length - named;
    }
    if (hk_text_same(text + length - named, name) && !hk_is_letter(text[length - named - 1])) {
        *rest = text;
        return length - named;
    }
    return SIZE_MAX;
}

/*
 * Reads the count at the word's number. "2/28" and "28/2" are two plies of count 28, which is count 14, not a fraction.
 * Common practice, no source.
 */
static bool count_read(struct converter *c, const struct hk_span *number, double *count)
{
    const char *cursor = number->text;
    struct hk_digits digits;
    bool plied = hk_digits_scan(&cursor, HK_DECIMAL_POINT, &digits) == HK_NUMBER_ONE && !*cursor && digits.mantissa == 0 &&
                 digits.denominator > 0 && digits.numerator > 0;
    if (!plied)
        return hk_quantity_read(number, HK_DIM_PLAIN, HK_SIGN_POSITIVE, count, c->diags);
    double a = (double)digits.numerator, b = (double)digits.denominator;
    *count = fmax(a, b) / fmin(a, b);
    return true;
}

enum answer { NOT_THIS, READ, FAILED };

static enum answer answered(bool good)
{
    return good ? READ : FAILED;
}

static enum answer system_word(struct converter *c, const struct hk_span *word)
{
    for (size_t i = 0; i < SYSTEM_COUNT; i++) {
        const char *rest = NULL;
        size_t length = without_name(word->text, systems[i].name, &rest);
        if (length == SIZE_MAX || !hk_is_digit(*hk_blanks_skipped(rest)))
            continue;
        struct hk_span number;
        double count = 0;
        if (!part_take(c, word, rest, length, &number) || !count_read(c, &number, &count))
            return FAILED;
        return answered(number_set_one(c, word, number_of_tex(c, systems[i].tex / count)));
    }
    return NOT_THIS;
}

static enum answer diameter_word(struct converter *c, const struct hk_span *word)
{
    const char *rest = NULL;
    size_t length = without_name(word->text, "diameter", &rest);
    if (length == SIZE_MAX)
        length = without_name(word->text, "thick", &rest);
    if (length == SIZE_MAX)
        return NOT_THIS;
    struct hk_span part;
    double diameter_m = 0;
    if (!part_take(c, word, rest, length, &part) ||
        !hk_quantity_read(&part, HK_DIM_LENGTH, HK_SIGN_POSITIVE, &diameter_m, c->diags))
        return FAILED;
    return answered(number_set_one(c, word, number_of_diameter(c, 1000 * diameter_m)));
}

/* ---- Labels: 50 g = 120 m ---------------------------------------------------------------------------------------- */

/*
 * Returns the mark between the two sides of a label; a "/" between digits is a fraction. NULL if the text is not a
 * label.
 */
static const char *label_mark(const char *text, size_t *length)
{
    *length = 1;
    const char *equals = strchr(text, '=');
    if (equals)
        return equals;
    for (const char *mark = strchr(text, '/'); mark; mark = strchr(mark + 1, '/')) {
        if (mark > text && !hk_is_digit(mark[-1]))
            return mark;
    }
    *length = 5;
    return strstr(text, " per ");
}

/* Reads one side of a label, in g or m. unit_alone: allows "lb" as in "900 yd/lb". *numbered: the side has a number. */
static bool side_read(struct converter *c, const struct hk_span *side, bool unit_alone, enum hk_dimension *dimension,
                      double *value, bool *numbered)
{
    const char *cursor = side->text;
    struct hk_digits digits;
    double factor = 1;
    *numbered = hk_digits_scan(&cursor, HK_DECIMAL_POINT, &digits) != HK_NUMBER_NONE;
    bool known = hk_unit_scan(&cursor, dimension, &factor) && (*dimension == HK_DIM_MASS || *dimension == HK_DIM_LENGTH);
    if (known && !*numbered && unit_alone && !*cursor) {
        *value = factor;
        return true;
    }
    if (!known)
        *dimension = HK_DIM_MASS; /* for the example in the finding */
    return hk_quantity_read(side, *dimension, HK_SIGN_POSITIVE, value, c->diags);
}

static bool sides_read(struct converter *c, const struct hk_span *word, const struct hk_span side[2], bool unit_alone)
{
    enum hk_dimension dimension[2] = {HK_DIM_MASS, HK_DIM_MASS};
    double value[2] = {0, 0};
    bool numbered[2] = {false, false};
    bool good = side_read(c, &side[0], false, &dimension[0], &value[0], &numbered[0]);
    good &= side_read(c, &side[1], unit_alone, &dimension[1], &value[1], &numbered[1]);
    if (!good)
        return false;
    if (dimension[0] == dimension[1]) {
        hk_diags_add(c->diags, HK_CODE_UNIT_WRONG, start_of(word), "\"%s\" is two %s", word->text,
                     dimension[0] == HK_DIM_MASS ? "masses" : "lengths");
        hk_diags_hint(c->diags, "a label gives a mass and a length: 50 g = 120 m");
        return false;
    }
    size_t mass = dimension[0] == HK_DIM_MASS ? 0 : 1;
    if (!number_set_one(c, word, number_of_tex(c, 1000 * value[mass] / value[1 - mass])))
        return false;
    c->result->put_up_g = numbered[mass] ? value[mass] : 0;
    c->result->put_up_m = numbered[mass] && numbered[1 - mass] ? value[1 - mass] : 0;
    return true;
}

static enum answer label_word(struct converter *c, const struct hk_span *word)
{
    size_t mark_length;
    const char *mark = label_mark(word->text, &mark_length);
    if (!mark)
        return NOT_THIS;
    struct hk_span side[2];
    const char *behind = mark + mark_length;
    if (!part_take(c, word, word->text, (size_t)(mark - word->text), &side[0]) ||
        !part_take(c, word, behind, strlen(behind), &side[1]))
        return FAILED;
    return answered(sides_read(c, word, side, *mark != '='));
}

/* ---- Amounts ----------------------------------------------------------------------------------------------------- */

/* Sets a mass or length. Reports a second one, which would be ambiguous. */
static bool amount_set(struct converter *c, const struct hk_span *word, double value, bool *has, double of[2])
{
    if (*has) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, start_of(word), "\"%s\" is a second %s", word->text,
                     of == c->result->mass_g ? "mass" : "length");
        hk_diags_hint(c->diags, "convert one amount at a time, or write a label with =: 50 g = 120 m");
        return false;
    }
    *has = true;
    of[0] = of[1] = value;
    return true;
}

/* Sets what a ball holds, of which a mass or a length is known. */
static bool put_up_set(struct converter *c, const struct hk_span *word, enum hk_dimension dimension, double value)
{
    struct hk_convert *r = c->result;
    if (r->put_up_g > 0 || r->put_up_m > 0) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, start_of(word), "\"%s\" is a second size of %s", word->text, r->put_up_word);
        hk_diags_hint(c->diags, "write a mass and a length with =: 50 g = 120 m");
        return false;
    }
    *(dimension == HK_DIM_MASS ? &r->put_up_g : &r->put_up_m) = value;
    return true;
}

static bool amount_use(struct converter *c, const struct hk_span *word, enum hk_dimension dimension, double value)
{
    const bool put_up = c->put_up_next && (dimension == HK_DIM_MASS || dimension == HK_DIM_LENGTH);
    if (put_up)
        return put_up_set(c, word, dimension, value);
    switch (dimension) {
    case HK_DIM_MASS:
        return amount_set(c, word, value, &c->result->has_mass, c->result->mass_g);
    case HK_DIM_LENGTH:
        return amount_set(c, word, value, &c->result->has_length, c->result->length_m);
    case HK_DIM_TEX:
        return number_set_one(c, word, number_of_tex(c, value));
    case HK_DIM_WRAPS:
        return number_set_one(c, word, number_of_diameter(c, HK_MM_PER_INCH / value));
    case HK_DIM_PLAIN:
    case HK_DIM_PERCENT:
    case HK_DIM_MINUTES:
        break;
    }
    hk_diags_add(c->diags, HK_CODE_UNIT_WRONG, start_of(word), "\"%s\" is not an amount of yarn", word->text);
    hk_diags_hint(c->diags, "write a mass or a length, such as 275 g or 500 m");
    return false;
}

/* Returns the dimension for a message about an unknown unit: the first with a similar unit name. */
static enum hk_dimension nearest_dimension(const struct hk_span *unit)
{
    static const enum hk_dimension tried[] = {HK_DIM_MASS, HK_DIM_LENGTH, HK_DIM_TEX, HK_DIM_WRAPS};
    for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
        if (hk_unit_nearest(unit->text, tried[i]))
            return tried[i];
    }
    return HK_DIM_MASS;
}

static bool unit_wrong(struct converter *c, const struct hk_span *word, const char *rest)
{
    rest = hk_blanks_skipped(rest);
    struct hk_span unit;
    if (!*rest) {
        const char *n = word->text;
        hk_diags_add(c->diags, HK_CODE_UNIT_MISSING, start_of(word), "%s has no unit", n);
        hk_diags_hint(c->diags, "write %s g, %s m, %s yd, %s tex or category %s", n, n, n, n, n);
    } else if (part_take(c, word, rest, strlen(rest), &unit)) {
        hk_unit_wrong(word, rest, nearest_dimension(&unit), c->diags);
    }
    return false;
}

static enum answer amount_word(struct converter *c, const struct hk_span *word)
{
    const char *cursor = word->text;
    struct hk_digits digits;
    enum hk_dimension dimension = HK_DIM_MASS;
    double factor, value = 0;
    if (hk_spreadsheet_damage(word, c->diags))
        return FAILED;
    enum hk_number_form form = hk_digits_scan(&cursor, HK_DECIMAL_POINT, &digits);
    if (form == HK_NUMBER_NONE)
        return NOT_THIS;
    const char *rest = cursor;
    if (form == HK_NUMBER_ONE && !hk_unit_scan(&cursor, &dimension, &factor))
        return answered(unit_wrong(c, word, rest));
    return answered(hk_quantity_read(word, dimension, HK_SIGN_POSITIVE, &value, c->diags) &&
                    amount_use(c, word, dimension, value));
}

/* ---- Names ------------------------------------------------------------------------------------------------------- */

/* Returns the text after its first word if that is `first`; else the whole text. */
static const char *name_behind(const char *text, const char *first)
{
    size_t length = strlen(first);
    return hk_text_starts(text, first) && text[length] == ' ' ? text + length + 1 : text;
}

static const struct hk_yarn *yarn_find(const struct hk_project *project, const char *name)
{
    for (size_t i = 0; i < project->yarn_count; i++) {
        if (hk_text_same(project->yarns[i].name, name))
            return &project->yarns[i];
    }
    for (size_t i = 0; i < project->role_count; i++) {
        if (hk_text_same(project->roles[i].name, name))
            return &project->yarns[project->candidates[project->roles[i].plan].yarn];
    }
    return NULL;
}

static enum answer yarn_word(struct converter *c, const struct hk_span *word)
{
    const struct hk_yarn *yarn = c->project ? yarn_find(c->project, word->text) : NULL;
    if (!yarn && c->project)
        yarn = yarn_find(c->project, name_behind(word->text, "yarn"));
    if (!yarn)
        return NOT_THIS;
    if (!number_set_one(c, word, number_of(yarn->tex, yarn->diameter_mm)))
        return FAILED;
    c->result->put_up_g = yarn->put_up_g;
    return READ;
}

static bool has_letter(const char *text)
{
    while (*text && !hk_is_letter(*text))
        text++;
    return *text;
}

/* Finds a category by label or trade name, or by number after "category", since a bare 4 may be anything. */
static const struct hk_category *category_find(const struct hk_catalogue *catalogue, const char *text)
{
    const char *name = name_behind(text, "category");
    for (size_t i = 0; i < catalogue->category_count; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (hk_text_same(category->label, name) || (name != text && hk_text_same(category->name, name)))
            return category;
    }
    return has_letter(name) ? hk_category_find(catalogue, name) : NULL;
}

/* Reports a trade name with several categories, such as "fingering". */
static bool several_called(struct converter *c, const struct hk_span *word)
{
    const char *name = name_behind(word->text, "category");
    const char *called = has_letter(name) ? hk_categories_called(c->catalogue, name, c->arena) : NULL;
    if (!called)
        return false;
    hk_diags_add(c->diags, HK_CODE_CHOICE, start_of(word), "\"%s\" is the name of several yarn categories: %s", name,
                 called);
    hk_diags_hint(c->diags, "write category and the number of the one that is meant");
    return true;
}

/*
 * Sets the range of a category by its wraps per inch. If an end of the category is open (0, infinity), the range ends
 * at the known end, and the result states that the category continues.
 */
static enum answer category_word(struct converter *c, const struct hk_span *word)
{
    const struct hk_category *category = category_find(c->catalogue, word->text);
    if (!category)
        return several_called(c, word) ? FAILED : NOT_THIS;
    bool has_low = category->wraps_low > 0, has_high = isfinite(category->wraps_high) && category->wraps_high > 0;
    if (!has_low && !has_high) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, start_of(word), "no wraps per inch are known for category %s",
                     category->name);
        hk_diags_hint(c->diags, "describe the yarn by its label: 50 g = 120 m");
        return FAILED;
    }
    double most = has_high ? category->wraps_high : category->wraps_low;
    double least = has_low ? category->wraps_low : category->wraps_high;
    c->result->finer_too = !has_high;
    c->result->coarser_too = !has_low;
    c->category = category;
    return answered(
        number_set(c, word, number_of_diameter(c, HK_MM_PER_INCH / most), number_of_diameter(c, HK_MM_PER_INCH / least)));
}

/* Names for suggestions: categories, then yarns. */
static const char *known_name(const void *context, size_t i)
{
    const struct converter *c = context;
    size_t categories = c->catalogue->category_count;
    return i < categories ? c->catalogue->categories[i].label : c->project->yarns[i - categories].name;
}

/* Returns the text with the parts of the same argument that are no numbers, up to "of" or "for", and advances past them. */
static const char *with_following(struct converter *c, const char *text)
{
    struct cursor *at = &c->at;
    const struct hk_convert_part *parts = at->parts.parts;
    while (at->next < at->parts.count && parts[at->next].word == parts[at->next - 1].word) {
        const char *next = parts[at->next].text;
        if (hk_is_digit(*next) || hk_text_same(next, "of") || hk_text_same(next, "for") || hk_put_up_word(next))
            break;
        const char *longer = hk_arena_print(c->arena, "%s %s", text, next);
        text = longer ? longer : text;
        at->next++;
    }
    return text;
}

static bool word_unknown(struct converter *c, const struct hk_span *word)
{
    size_t count = c->catalogue->category_count + (c->project ? c->project->yarn_count : 0);
    const char *name = name_behind(name_behind(word->text, "category"), "yarn");
    size_t nearest = hk_text_nearest(name, count, known_name, c);
    hk_diags_add(c->diags, HK_CODE_NAME_UNKNOWN, start_of(word),
                 "\"%s\" is not an amount, a category or a yarn of this design", with_following(c, word->text));
    if (nearest != SIZE_MAX)
        hk_diags_hint(c->diags, "did you mean \"%s\"?", known_name(c, nearest));
    else
        hk_diags_hint(
            c->diags,
            "write an amount like 275 g or 500 m, and a yarn like 50 g = 120 m, 400 tex, 12 wpi or category 4");
    return false;
}

/* ---- Words ------------------------------------------------------------------------------------------------------- */

static bool word_read(struct converter *c, const struct hk_span *word)
{
    static enum answer (*const ways[])(struct converter *, const struct hk_span *) = {
        yarn_word,
        category_word,
        system_word,
        diameter_word,
    };
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        enum answer answer = ways[i](c, word);
        if (answer != NOT_THIS)
            return answer == READ;
    }
    /* "12 wraps/inch" is an amount, "50g/120m" a label */
    const char *cursor = word->text;
    struct hk_digits digits;
    enum hk_dimension dimension;
    double factor;
    bool amount = hk_digits_scan(&cursor, HK_DECIMAL_POINT, &digits) == HK_NUMBER_ONE &&
                  hk_unit_scan(&cursor, &dimension, &factor) && !*cursor;
    enum answer answer = amount ? NOT_THIS : label_word(c, word);
    if (answer == NOT_THIS)
        answer = amount_word(c, word);
    return answer == NOT_THIS ? word_unknown(c, word) : answer == READ;
}

static bool one_of(const char *text, const char *const *words)
{
    for (; *words; words++) {
        if (hk_text_same(text, *words))
            return true;
    }
    return false;
}

/* Returns true when the whole text is a number. */
static bool bare_number(const char *text)
{
    struct hk_digits digits;
    return hk_digits_scan(&text, HK_DECIMAL_POINT, &digits) != HK_NUMBER_NONE && !*text;
}

/* Returns true when the text ends with a number without its unit: "275", "50 g = 120". */
static bool unit_pending(const char *text)
{
    size_t length;
    const char *mark = label_mark(text, &length);
    return bare_number(text) || (mark && bare_number(hk_blanks_skipped(mark + length)));
}

static const char *last_word(const char *text)
{
    const char *blank = strrchr(text, ' ');
    return blank ? blank + 1 : text;
}

/*
 * Returns true when two separate words belong together: "275" and "g", "50 g" and "=", "7" and "1/4", "category" and
 * "4".
 */
static bool joins(const char *left, const char *right)
{
    static const char *const before[] = {"category", "yarn", "diameter", "Nm", "Ne", "NeC", "NeK", "ypp", NULL};
    static const char *const between[] = {"per", "a", "an", NULL};
    static const char *const behind[] = {"diameter", "thick", "count", "per", "a", "an", NULL};
    size_t length = strlen(left);
    if (length == 0 || strchr("=/", left[length - 1]) || *right == '=' || *right == '/')
        return true;
    if (left[length - 1] == '\'' && hk_is_digit(*right)) /* 5' 2" */
        return true;
    if (one_of(left, before) || one_of(last_word(left), between) || one_of(right, behind))
        return true;
    bool fraction = strchr(right, '/') && bare_number(right) && !strchr(last_word(left), '/');
    return unit_pending(left) && (!hk_is_digit(*right) || fraction);
}

/* Returns the text of the part `ahead` of the next one; "" beyond the last. */
static const char *part_at(const struct cursor *at, size_t ahead)
{
    return at->next + ahead < at->parts.count ? at->parts.parts[at->next + ahead].text : "";
}

/*
 * Returns the next part joined with all parts that belong to it, and advances past them. NULL when out of memory.
 */
static const char *word_join(struct cursor *at, struct hk_arena *arena)
{
    const char *joined = part_at(at, 0);
    for (at->next++; joined && at->next < at->parts.count && joins(joined, part_at(at, 0)); at->next++)
        joined = hk_arena_print(arena, "%s %s", joined, part_at(at, 0));
    return joined;
}

/* Whether the whole text names a yarn or a category. */
static bool is_name(const void *context, const char *text)
{
    const struct converter *c = context;
    return (c->project && yarn_find(c->project, text)) || category_find(c->catalogue, text);
}

/* Returns the longest name of several parts from the next one on, and advances past it; NULL: there is none. */
static const char *name_join(const struct converter *c, struct cursor *at)
{
    enum { most = 8 };
    const char *joined = part_at(at, 0), *found = NULL;
    size_t length = 0;
    for (size_t i = 1; joined && i < most && at->next + i < at->parts.count; i++) {
        joined = hk_arena_print(c->arena, "%s %s", joined, part_at(at, i));
        if (joined && is_name(c, joined)) {
            found = joined;
            length = i + 1;
        }
    }
    at->next += length;
    return found;
}

/* Advances past the parts that are among the words. */
static void skip(struct cursor *at, const char *const *words)
{
    while (at->next < at->parts.count && one_of(part_at(at, 0), words))
        at->next++;
}

static struct hk_place part_place(const struct cursor *at)
{
    return (struct hk_place){"words", at->parts.parts[at->next].word + 1, 1};
}

/* Advances past a word for balls, and "of" behind it: what a ball holds follows. */
static void put_up_begins(struct converter *c, struct cursor *at)
{
    static const char *const of[] = {"of", "with", "at", NULL};
    c->result->put_up_word = hk_put_up_word(part_at(at, 0));
    c->put_up_next = true;
    c->counted = at->parts.parts[at->next].word + 1;
    at->next++;
    skip(at, of);
}

/* "3 balls", "2 1/2 skeins", "a ball". *good: false with a finding. Returns false where there is no such number. */
static bool balls_read(struct converter *c, struct cursor *at, bool *good)
{
    static const char *const one[] = {"a", "an", "one", NULL};
    const size_t parts = hk_put_up_word(part_at(at, 1)) ? 1 : hk_put_up_word(part_at(at, 2)) ? 2 : 0;
    const struct hk_place place = part_place(at);
    const char *text = parts == 2 ? hk_arena_print(c->arena, "%s %s", part_at(at, 0), part_at(at, 1)) : part_at(at, 0);
    double balls = 1;
    struct hk_span word;
    if (parts == 0 || !text || (!bare_number(text) && !(parts == 1 && one_of(text, one))))
        return false;
    if (!hk_span_make((struct hk_cell){.text = text}, &word, c->arena)) {
        *good = false;
        return true;
    }
    word.at = place;
    *good = !bare_number(text) || hk_quantity_read(&word, HK_DIM_PLAIN, HK_SIGN_POSITIVE, &balls, c->diags);
    if (*good && (c->result->given_balls > 0 || c->result->asks_balls)) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, place, "%s %s are a second number of balls", text, part_at(at, parts));
        hk_diags_hint(c->diags, "convert one kind at a time");
        *good = false;
        at->next = at->parts.count;
        return true;
    }
    c->result->given_balls = balls;
    at->next += parts;
    put_up_begins(c, at);
    return true;
}

/* "how many balls of", "how many yards are in". Returns false where the parts do not ask. */
static bool question_read(struct converter *c, struct cursor *at)
{
    static const char *const are_in[] = {"are", "there", "in", "do", "does", "have", "has", "is", "make", NULL};
    const char *unit = part_at(at, 2);
    enum hk_dimension dimension;
    double factor;
    if (!hk_text_same(part_at(at, 0), "how") || !hk_text_same(part_at(at, 1), "many"))
        return false;
    if (hk_put_up_word(part_at(at, 2))) {
        at->next += 2;
        c->result->asks_balls = true;
        put_up_begins(c, at);
        return true;
    }
    if (!hk_unit_scan(&unit, &dimension, &factor) || *unit || (dimension != HK_DIM_MASS && dimension != HK_DIM_LENGTH))
        return false;
    at->next += 3; /* every unit is in the answer */
    skip(at, are_in);
    return true;
}

/* A word for balls without a number before it; after another mistake it is read as with a number. */
static bool balls_without_number(struct converter *c, struct cursor *at)
{
    if (c->diags->errors == 0) {
        hk_diags_add(c->diags, HK_CODE_CELL_MISSING, part_place(at), "\"%s\" has no number", part_at(at, 0));
        hk_diags_hint(c->diags, "write 3 %ss of 50 g = 120 m, or how many %ss of 50 g = 120 m for 500 m",
                      hk_put_up_word(part_at(at, 0)), hk_put_up_word(part_at(at, 0)));
    }
    put_up_begins(c, at);
    return false;
}

/* Reads an amount or a description that begins at the next part. */
static bool description_read(struct converter *c, struct cursor *at)
{
    const struct hk_place place = part_place(at);
    struct hk_span word;
    const char *text = name_join(c, at);
    if (!text)
        text = word_join(at, c->arena);
    if (!text || !hk_span_make((struct hk_cell){.text = text}, &word, c->arena)) {
        c->diags->out_of_memory = true;
        return false;
    }
    word.at = place;
    const bool put_up = c->put_up_next, good = word_read(c, &word);
    c->put_up_next = false;
    static const char *const each[] = {"each", NULL};
    if (put_up)
        skip(at, each);
    return good;
}

static bool words_read(struct converter *c, const char *const *words, size_t count)
{
    static const char *const need[] = {"do",   "does", "i",    "we",   "you", "it",  "will", "would", "need", "needed",
                                       "take", "takes", "are", "is", "buy", "to", "get", "make", NULL};
    static const char *const before[] = {"of", "for", NULL};
    struct cursor *at = &c->at;
    bool good = true;
    if (!hk_convert_parts_make(words, count, is_name, c, &at->parts, c->arena))
        return false;
    while (at->next < at->parts.count) {
        bool read = true;
        if (balls_read(c, at, &read)) {
            good &= read;
            continue;
        }
        if (question_read(c, at))
            continue;
        if (c->result->asks_balls)
            skip(at, need);
        if (hk_put_up_word(part_at(at, 0)) && !is_name(c, part_at(at, 0))) {
            good &= balls_without_number(c, at);
        } else if (at->next > 0 && at->next < at->parts.count && one_of(part_at(at, 0), before)) {
            c->put_up_next &= !hk_text_same(part_at(at, 0), "for");
            at->next++;
        } else if (at->next < at->parts.count)
            good &= description_read(c, at);
    }
    if (good && count == 0) {
        hk_diags_add(c->diags, HK_CODE_CELL_MISSING, (struct hk_place){"words", 0, 0}, "there is nothing to convert");
        hk_diags_hint(c->diags, "write an amount like 275 g, a yarn like 50 g = 120 m, or both");
        good = false;
    }
    return good;
}

/* ---- The result -------------------------------------------------------------------------------------------------- */

/* The other measure of a put-up, where the yarn is known. */
static void put_up_complete(struct hk_convert *r)
{
    if (!r->has_number || r->number[0].tex != r->number[1].tex)
        return;
    const double g_per_m = r->number[0].tex / 1000;
    if (r->put_up_g > 0 && r->put_up_m == 0)
        r->put_up_m = r->put_up_g / g_per_m;
    else if (r->put_up_g == 0)
        r->put_up_g = r->put_up_m * g_per_m;
}

/* Turns a number of balls into an amount; reports balls of which nothing is known. */
static bool balls_use(struct converter *c)
{
    struct hk_convert *r = c->result;
    const struct hk_place at = {"words", c->counted, 1};
    if (c->counted == 0)
        return true;
    if (r->put_up_g == 0 && r->put_up_m == 0) {
        hk_diags_add(c->diags, HK_CODE_CELL_MISSING, at, "it is not said what a %s holds", r->put_up_word);
        hk_diags_hint(c->diags, "write its label: %ss of 50 g = 120 m", r->put_up_word);
        return false;
    }
    if (r->given_balls > 0 && (r->has_mass || r->has_length)) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, at, "a number of %ss and another amount are given", r->put_up_word);
        hk_diags_hint(c->diags, "leave one out, or ask: how many %ss of 50 g = 120 m for 500 m", r->put_up_word);
        return false;
    }
    if (r->asks_balls && !r->has_mass && !r->has_length) {
        hk_diags_add(c->diags, HK_CODE_CELL_MISSING, at, "it is not said for how much yarn");
        hk_diags_hint(c->diags, "write the amount after it: for 840 m");
        return false;
    }
    if (r->given_balls > 0 && r->put_up_g > 0) {
        r->has_mass = true;
        r->mass_g[0] = r->mass_g[1] = r->given_balls * r->put_up_g;
    } else if (r->given_balls > 0) {
        r->has_length = true;
        r->length_m[0] = r->length_m[1] = r->given_balls * r->put_up_m;
    }
    return true;
}

/* Rounds up, except for what the last digits of a double make of a whole number. */
static double balls_whole(double balls)
{
    return ceil(balls - 1e-9 * balls);
}

/* The amount in balls, exact and whole, and what whole balls leave. Reports a question that the words do not answer. */
static bool balls_answer(struct converter *c)
{
    struct hk_convert *r = c->result;
    const bool by_mass = r->put_up_g > 0 && r->has_mass, by_length = !by_mass && r->put_up_m > 0 && r->has_length;
    if (!by_mass && !by_length) {
        if (!r->asks_balls)
            return true;
        hk_diags_add(c->diags, HK_CODE_CELL_MISSING, (struct hk_place){"words", c->counted, 1},
                     r->has_mass ? "the amount is a mass, and of a %s only the length is said"
                                 : "the amount is a length, and of a %s only the mass is said", r->put_up_word);
        hk_diags_hint(c->diags, "write both, as on the label: 50 g = 120 m");
        return false;
    }
    for (int i = 0; i < 2; i++) {
        r->balls[i] = by_mass ? r->mass_g[i] / r->put_up_g : r->length_m[i] / r->put_up_m;
        r->whole_balls[i] = balls_whole(r->balls[i]);
    }
    if (r->balls[0] == r->balls[1] && r->whole_balls[0] > r->balls[0]) {
        r->left_g = r->has_mass ? fmax(r->whole_balls[0] * r->put_up_g - r->mass_g[0], 0) : 0;
        r->left_m = r->has_length ? fmax(r->whole_balls[0] * r->put_up_m - r->length_m[0], 0) : 0;
    }
    return true;
}

/* Computes the missing values: fineness from mass and length, or mass and length from each other. */
static bool complete(struct converter *c)
{
    struct hk_convert *r = c->result;
    put_up_complete(r);
    if (!balls_use(c))
        return false;
    if (r->has_mass && r->has_length && r->has_number) {
        hk_diags_add(c->diags, HK_CODE_CHOICE, (struct hk_place){"words", 0, 0}, "a mass, a length and a yarn are given");
        hk_diags_hint(c->diags, "leave one out to compute it from the others");
        return false;
    }
    if (r->has_mass && r->has_length) {
        const struct hk_span both = {.text = "", .origin = (size_t[]){0}, .cell.text = "", .at = {"words", 0, 0}};
        return number_set_one(c, &both, number_of_tex(c, 1000 * r->mass_g[0] / r->length_m[0]));
    }
    if (!r->has_number || r->has_mass == r->has_length)
        return true;
    double finest = r->number[0].tex / 1000, coarsest = r->number[1].tex / 1000;
    if (r->has_mass) {
        r->length_m[0] = r->mass_g[0] / coarsest;
        r->length_m[1] = r->mass_g[1] / finest;
    } else {
        r->mass_g[0] = r->length_m[0] * finest;
        r->mass_g[1] = r->length_m[1] * coarsest;
    }
    r->has_mass = r->has_length = true;
    return true;
}

static bool category_fits(const struct converter *c, const struct hk_category *category)
{
    if (c->category)
        return category == c->category;
    return hk_category_holds(c->catalogue, category, c->result->number[0].wraps_per_inch);
}

static bool categories_list(struct converter *c)
{
    if (!c->result->has_number)
        return true;
    const char **list = hk_arena_take(c->arena, c->catalogue->category_count, sizeof *list);
    size_t count = 0;
    for (size_t i = 0; list && i < c->catalogue->category_count; i++) {
        const struct hk_category *category = &c->catalogue->categories[i];
        if (category_fits(c, category))
            list[count++] = hk_arena_print(c->arena, "%s %s", category->name, category->label);
    }
    c->result->categories = list;
    c->result->category_count = count;
    return !c->arena->out_of_memory;
}

bool hk_convert_words(const char *const *words, size_t count, const struct hk_catalogue *catalogue,
                      const struct hk_project *project, struct hk_convert *result, struct hk_diags *diags)
{
    struct hk_convert found = {0};
    struct hk_arena *arena = calloc(1, sizeof *arena);
    if (!arena) {
        diags->out_of_memory = true;
        return false;
    }
    double diameter_mm = project ? project->spreads.diameter_mm : catalogue->spreads.diameter_mm;
    found.put_up_word = "ball";
    struct converter converter = {.catalogue = catalogue,
                                  .project = project,
                                  .diameter_mm = diameter_mm,
                                  .arena = arena,
                                  .diags = diags,
                                  .result = &found};
    bool good = words_read(&converter, words, count) && complete(&converter) && balls_answer(&converter) &&
                categories_list(&converter);
    diags->out_of_memory |= arena->out_of_memory;
    found.memory = arena;
    if (!good || arena->out_of_memory) {
        hk_convert_free(&found);
        return false;
    }
    *result = found;
    return true;
}

void hk_convert_free(struct hk_convert *result)
{
    if (!result)
        return;
    if (result->memory) {
        hk_arena_free(result->memory);
        free(result->memory);
    }
    *result = (struct hk_convert){0};
}
