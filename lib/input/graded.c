/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Graded cells: splitting the trade's notation into values, and reading each value as a count or a length. A row of
 * grade.csv holds the same values in columns.
 */
#include "input/graded.h"

#include "base/text.h"
#include "input/spreadsheet_damage.h"

#include <math.h>
#include <string.h>

const struct hk_measure *hk_measure_find(const struct hk_grade *grade, const char *name)
{
    for (size_t i = 0; grade && i < grade->count; i++) {
        if (hk_text_same(grade->measures[i].name, name))
            return &grade->measures[i];
    }
    return NULL;
}

/* ---- Splitting --------------------------------------------------------------------------------------------------- */

/* The values of one cell, in the order of the sizes. */
struct values {
    struct hk_span whole;
    struct hk_span *of;
    size_t count, capacity;
    struct hk_span unit; /* after all values; text "" if absent */
    bool bare_commas;    /* in some bracket all commas are between digits, where they are decimal marks */
    struct hk_arena *arena;
    struct hk_diags *diags;
};

static void form_error(const struct values *values, const char *at, const char *what)
{
    hk_diags_add(values->diags, HK_CODE_GRADE_FORM, hk_span_place(&values->whole, at), "%s in \"%s\"", what,
                 values->whole.text);
    hk_diags_hint(values->diags, "write the first size, then the others in brackets: 71 (77, 83)");
}

static bool part_take(const struct values *values, const char *start, const char *end, struct hk_span *part)
{
    if (hk_span_part(&values->whole, (size_t)(start - values->whole.text), (size_t)(end - start), part, values->arena))
        return true;
    values->diags->out_of_memory = true;
    return false;
}

static bool value_add(struct values *values, const char *start, const char *end)
{
    start = hk_blanks_skipped(start);
    if (start >= end) {
        form_error(values, end, "a value is missing");
        return false;
    }
    struct hk_span *larger = hk_arena_grow(values->arena, values->of, values->count, &values->capacity, sizeof *larger);
    if (!larger) {
        values->diags->out_of_memory = true;
        return false;
    }
    values->of = larger;
    return part_take(values, start, end, &values->of[values->count]) && ++values->count > 0;
}

static char closing(char open)
{
    return open == '(' ? ')' : open == '[' ? ']' : '}';
}

/* Returns true for a comma between two digits: a separator, decimal mark or thousands separator. */
static bool comma_between_digits(const char *comma, const char *start)
{
    return comma > start && hk_is_digit(comma[-1]) && hk_is_digit(comma[1]);
}

/* The separators of a bracket. */
struct marks {
    bool sure;        /* separated by `;`, or by commas that are not between two digits */
    const char *bare; /* the first comma between two digits */
};

static struct marks marks_find(const char *start, const char *end)
{
    struct marks marks = {0};
    for (const char *c = start; c < end; c++) {
        bool bare = *c == ',' && comma_between_digits(c, start);
        if (bare && !marks.bare)
            marks.bare = c;
        marks.sure |= *c == ';' || (*c == ',' && !bare);
    }
    return marks;
}

static bool separates(char c, bool bare, bool decimal_comma)
{
    return c == ';' || (c == ',' && !(bare && decimal_comma));
}

/* Reports an ambiguous comma: "8, 8,5" may hold two or three values. */
static void comma_asked(const struct values *values, const char *comma)
{
    const char *start = comma, *end = comma + 1;
    while (start > values->whole.text && hk_is_digit(start[-1]))
        start--;
    while (hk_is_digit(*end))
        end++;
    int before = (int)(comma - start), behind = (int)(end - comma - 1);
    hk_diags_add(values->diags, HK_CODE_GRADE_FORM, hk_span_place(&values->whole, start),
                 "%.*s can be one value or two", before + 1 + behind, start);
    const char *point = behind == 3 ? "" : ".";
    hk_diags_hint(values->diags, "write %.*s%s%.*s, or %.*s, %.*s with a blank", before, start, point, behind,
                  comma + 1, before, start, behind, comma + 1);
}

/* Splits the values between two brackets. */
static bool group_split(struct values *values, const char *start, const char *end)
{
    bool decimal_comma = hk_span_decimal(&values->whole) != HK_DECIMAL_POINT;
    struct marks marks = marks_find(start, end);
    if (marks.sure && marks.bare && !decimal_comma && !memchr(start, ';', (size_t)(end - start))) {
        comma_asked(values, marks.bare);
        return false;
    }
    bool decimals = decimal_comma || marks.sure;
    values->bare_commas |= decimal_comma && marks.bare && !marks.sure;
    const char *value = start;
    for (const char *c = start; c < end; c++) {
        if (!separates(*c, comma_between_digits(c, start), decimals))
            continue;
        if (!value_add(values, value, c))
            return false;
        value = c + 1;
    }
    return value_add(values, value, end);
}

/* Splits all bracketed groups from *cursor on and advances it past the last. */
static bool groups_split(struct values *values, const char **cursor)
{
    const char *text = *cursor;
    while (*text && strchr("([{", *text)) {
        const char *end = text + 1;
        while (*end && !strchr("()[]{}", *end))
            end++;
        if (*end != closing(*text)) {
            form_error(values, text, *end ? "a bracket closes with another" : "a bracket does not close");
            return false;
        }
        if (!group_split(values, text + 1, end))
            return false;
        text = hk_blanks_skipped(end + 1);
    }
    *cursor = text;
    return true;
}

/* Parses the unit after the brackets: words without digits or brackets. */
static bool unit_take(struct values *values, const char *text)
{
    const char *end = text + strlen(text);
    if (hk_is_digit(*text) || (*text && strpbrk(text, "()[]{},;"))) {
        form_error(values, text, "text follows the bracket");
        return false;
    }
    return part_take(values, text, end, &values->unit);
}

static bool values_split(struct values *values)
{
    const char *text = values->whole.text;
    const char *bracket = strpbrk(text, "()[]{}");
    if (!bracket) {
        const char *end = text + strlen(text);
        return value_add(values, text, end) && part_take(values, end, end, &values->unit);
    }
    if (strchr(")]}", *bracket)) {
        form_error(values, bracket, "a bracket closes that was not opened");
        return false;
    }
    if (bracket == text) {
        form_error(values, bracket, "no value precedes the bracket");
        return false;
    }
    return value_add(values, text, bracket) && groups_split(values, &bracket) && unit_take(values, bracket);
}

/* Returns the names of the sizes as a list: "XS, S, M". */
static const char *sizes_listed(const char *const *sizes, size_t count, struct hk_arena *arena)
{
    const char *list = sizes[0];
    for (size_t i = 1; list && i < count; i++)
        list = hk_arena_print(arena, "%s, %s", list, sizes[i]);
    return list ? list : "";
}

static bool whole_make(struct values *values, struct hk_cell cell)
{
    if (hk_span_make(cell, &values->whole, values->arena))
        return true;
    values->diags->out_of_memory = true;
    return false;
}

/*
 * Returns the number of groups of digits separated by blanks at the start of a text, such as 2 for "160 200", when the
 * first has one to three digits; else 1.
 */
static size_t blank_groups(const char *text)
{
    size_t digits = hk_digit_run(text), groups = 1;
    if (digits == 0 || digits > 3)
        return 1;
    for (text += digits; *text == ' ' && hk_digit_run(text + 1) == 3 && text[4] != '/'; text += 4)
        groups++;
    return groups;
}

/* Reports that `value` begins with `groups` groups of digits and is ambiguous. */
static void blanks_asked(const struct values *values, const struct hk_span *value, size_t groups)
{
    int first = (int)hk_digit_run(value->text), length = first + 4 * (int)(groups - 1);
    const char *number = hk_arena_print(values->arena, "%.*s", first, value->text), *list = number;
    for (size_t i = 1; number && list && i < groups; i++) {
        const char *group = value->text + first + 4 * (i - 1) + 1;
        number = hk_arena_print(values->arena, "%s%.3s", number, group);
        list = hk_arena_print(values->arena, "%s%s%.3s", list, i == 1 ? " (" : ", ", group);
    }
    hk_diags_add(values->diags, HK_CODE_GRADE_FORM, hk_span_place(value, value->text), "%.*s can be one number or %zu",
                 length, value->text, groups);
    hk_diags_hint(values->diags, "write %s, or %s) for a number each", number ? number : "", list ? list : "");
}

/*
 * "160 200" may be a number of six digits, or the values of two sizes without brackets. It is reported when there are
 * as many groups as sizes, or when all groups have three digits, which is usual for counts and rare for thousands. With
 * one size it is a number.
 */
static bool blanks_sure(const struct values *values, size_t size_count)
{
    bool sure = true;
    for (size_t i = 0; size_count > 1 && i < values->count; i++) {
        const struct hk_span *value = &values->of[i];
        size_t groups = blank_groups(value->text);
        if (groups == 1 || (groups != size_count && hk_digit_run(value->text) < 3))
            continue;
        blanks_asked(values, value, groups);
        sure = false;
    }
    return sure;
}

/* Returns true when there is one value, or one for each size; else reports it. `sizes` may be NULL. */
static bool count_right(const struct values *values, const char *const *sizes, size_t size_count)
{
    if (values->count == size_count || values->count == 1)
        return true;
    struct hk_place at = hk_span_place(&values->whole, values->whole.text);
    const char *plural = size_count == 1 ? "" : "s";
    if (sizes)
        hk_diags_add(values->diags, HK_CODE_GRADE_COUNT, at, "%zu values for %zu size%s (%s)", values->count, size_count,
                     plural, sizes_listed(sizes, size_count, values->arena));
    else
        hk_diags_add(values->diags, HK_CODE_GRADE_COUNT, at, "%zu values for %zu size%s", values->count, size_count, plural);
    if (values->bare_commas)
        hk_diags_hint(values->diags,
                      "in this file a comma between digits is a decimal mark: put a blank after each comma");
    else if (size_count == 1)
        hk_diags_hint(values->diags, "write one value");
    else
        hk_diags_hint(values->diags,
                      "write one value for all sizes, or one for each with 0 or - where a size does without");
    return false;
}

bool hk_has_words(const char *text)
{
    return text[strspn(text, "0123456789.,'/ -+")] != '\0';
}

static bool is_nothing(const char *text)
{
    return hk_text_same(text, "0") || hk_text_same(text, "-");
}

bool hk_graded_split(struct hk_cell cell, size_t size_count, const char **texts, struct hk_arena *arena,
                     struct hk_diags *diags)
{
    struct values values = {.arena = arena, .diags = diags};
    if (!whole_make(&values, cell) || !values_split(&values) || !count_right(&values, NULL, size_count) ||
        !blanks_sure(&values, size_count))
        return false;
    const char **found = hk_arena_take(arena, size_count, sizeof *found);
    for (size_t i = 0; found && i < size_count; i++) {
        const char *text = values.of[values.count == 1 ? 0 : i].text;
        bool alone = !*values.unit.text || is_nothing(text) || hk_has_words(text);
        found[i] = alone ? text : hk_arena_print(arena, "%s %s", text, values.unit.text);
    }
    if (!found || arena->out_of_memory) {
        diags->out_of_memory = true;
        return false;
    }
    memcpy(texts, found, size_count * sizeof *found);
    return true;
}

/* ---- Amounts ----------------------------------------------------------------------------------------------------- */

/* A unit written apart from the values: after the brackets, or in the unit column of grade.csv. */
struct unit {
    bool given;
    double factor_m;
    const char *text;
};

/* The rule for the values of a cell. */
struct rule {
    struct unit unit;
    bool lengths, in_brackets;
    struct hk_diags *diags;
};

/* Returns true for words that mark a count, such as "sts" and "rows". */
static bool counts_word(const char *text)
{
    static const char *const words[] = {"st",   "sts", "stitch", "stitches", "row",
                                        "rows", "rnd", "rnds",   "round",    "rounds"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (hk_text_same(text, words[i]))
            return true;
    }
    return false;
}

/* Parses a unit of length, or words for counts (then unit->given is false). Returns false with a finding. */
static bool unit_read(const struct hk_span *span, bool lengths, struct unit *unit, struct hk_diags *diags)
{
    const char *cursor = span->text;
    *unit = (struct unit){.text = cursor};
    if (!*cursor || counts_word(cursor))
        return true;
    enum hk_dimension dimension = HK_DIM_LENGTH;
    if (!lengths) {
        hk_diags_add(diags, HK_CODE_UNIT_WRONG, hk_span_place(span, cursor), "\"%s\" follows counts", cursor);
        hk_diags_hint(diags, "write whole numbers without a unit");
        return false;
    }
    if (!hk_unit_scan(&cursor, &dimension, &unit->factor_m) || *hk_blanks_skipped(cursor) || dimension != HK_DIM_LENGTH) {
        hk_unit_wrong(span, *hk_blanks_skipped(cursor) && cursor != span->text ? cursor : span->text, HK_DIM_LENGTH,
                      diags);
        return false;
    }
    unit->given = true;
    return true;
}

static void not_whole(const struct hk_span *value, const struct rule *rule)
{
    const char *text = value->text;
    hk_diags_add(rule->diags, HK_CODE_NUMBER, hk_span_place(value, text), "%s is not a whole number", text);
    if (rule->lengths)
        hk_diags_hint(rule->diags, "write a count like 12, or with a unit if it is a length: %s cm or %s in", text,
                      text);
    else
        hk_diags_hint(rule->diags, "write a count like 12");
}

/* Reports a negative number: a spreadsheet turns "(71)" into "-71". */
static void negative_found(const struct hk_span *value, const struct rule *rule)
{
    const char *text = value->text;
    struct hk_place at = hk_span_place(value, text);
    if (rule->in_brackets) {
        hk_diags_add(rule->diags, HK_CODE_RANGE, at, "%s is below zero", text);
        hk_diags_hint(rule->diags, "write 0 or - where a size does without");
        return;
    }
    hk_diags_add(rule->diags, HK_CODE_SPREADSHEET_DAMAGE, at, "a spreadsheet turned (%s) into %s", text + 1, text);
    hk_diags_hint(rule->diags, "format the column as text and type it again");
}

static bool length_checked(const struct hk_span *value, double length_m, struct hk_amount *amount,
                           struct hk_diags *diags)
{
    if (length_m == 0) {
        *amount = (struct hk_amount){.kind = HK_AMOUNT_NONE};
        return true;
    }
    if (length_m > HK_QUANTITY_MOST || length_m < HK_QUANTITY_LEAST) {
        hk_diags_add(diags, HK_CODE_RANGE, hk_span_place(value, value->text), "%s is %s than anything possible",
                     value->text, length_m > 1 ? "larger" : "smaller");
        hk_diags_hint(diags, "write a length like 18.5 cm or 7 1/4 in");
        return false;
    }
    *amount = (struct hk_amount){.kind = HK_AMOUNT_LENGTH, .length_m = length_m};
    return true;
}

static bool count_checked(const struct hk_span *value, double count, const struct rule *rule, struct hk_amount *amount)
{
    if (count > (double)HK_COUNT_MOST) {
        hk_diags_add(rule->diags, HK_CODE_RANGE, hk_span_place(value, value->text),
                     "%s is larger than anything possible", value->text);
        hk_diags_hint(rule->diags, "write a count of at most 1000000000000");
        return false;
    }
    if (count != floor(count)) {
        not_whole(value, rule);
        return false;
    }
    *amount = (struct hk_amount){count == 0 ? HK_AMOUNT_NONE : HK_AMOUNT_COUNT, (int64_t)count, 0};
    return true;
}

static void no_amount(const struct hk_span *value, const struct rule *rule)
{
    hk_diags_add(rule->diags, HK_CODE_NUMBER, hk_span_place(value, value->text), "\"%s\" is not %s", value->text,
                 rule->lengths ? "a count or a length" : "a count");
    hk_diags_hint(rule->diags, rule->lengths ? "write it like 71, 18.5 cm or 7 1/4 in" : "write it like 71");
}

/* Parses the text after a number: nothing, words for counts, or a unit of length. */
static bool suffixed_read(const struct hk_span *value, const char *rest, double number, const struct rule *rule,
                          struct hk_amount *amount)
{
    rest = hk_blanks_skipped(rest);
    if (!*rest && rule->unit.given)
        return length_checked(value, number * rule->unit.factor_m, amount, rule->diags);
    if (!*rest || counts_word(rest))
        return count_checked(value, number, rule, amount);
    if (strchr(".,;/-+", *rest) || hk_is_digit(*rest)) {
        no_amount(value, rule);
        return false;
    }
    if (!rule->lengths) {
        hk_diags_add(rule->diags, HK_CODE_UNIT_WRONG, hk_span_place(value, rest),
                     "%s has a unit, and a count is needed here", value->text);
        hk_diags_hint(rule->diags, "write a whole number without a unit");
        return false;
    }
    double length_m = 0;
    return hk_quantity_read(value, HK_DIM_LENGTH, HK_SIGN_NOT_NEGATIVE, &length_m, rule->diags) &&
           length_checked(value, length_m, amount, rule->diags);
}

static bool amount_read(const struct hk_span *value, const struct rule *rule, struct hk_amount *amount)
{
    const char *cursor = value->text;
    if (is_nothing(cursor)) {
        *amount = (struct hk_amount){.kind = HK_AMOUNT_NONE};
        return true;
    }
    if (hk_spreadsheet_damage(value, rule->diags))
        return false;
    struct hk_digits digits;
    switch (hk_digits_scan(&cursor, hk_span_decimal(value), &digits)) {
    case HK_NUMBER_NONE:
        no_amount(value, rule);
        return false;
    case HK_NUMBER_AMBIGUOUS:
        hk_two_readings(value, value->text, cursor, rule->diags);
        return false;
    case HK_NUMBER_ONE:
        break;
    }
    if (digits.negative) {
        negative_found(value, rule);
        return false;
    }
    return suffixed_read(value, cursor, hk_digits_value(&digits), rule, amount);
}

/* Returns true unless a cell mixes counts and lengths; then reports the first value without a unit. */
static bool kinds_agree(const struct values *values, const struct hk_amount *amounts, struct hk_diags *diags)
{
    size_t count = SIZE_MAX, length = SIZE_MAX;
    for (size_t i = values->count; i-- > 0;) {
        if (amounts[i].kind == HK_AMOUNT_COUNT)
            count = i;
        else if (amounts[i].kind == HK_AMOUNT_LENGTH)
            length = i;
    }
    if (count == SIZE_MAX || length == SIZE_MAX)
        return true;
    const struct hk_span *value = &values->of[count];
    hk_diags_add(diags, HK_CODE_UNIT_MISSING, hk_span_place(value, value->text), "%s has no unit, and %s has one",
                 value->text, values->of[length].text);
    hk_diags_hint(diags, "write the unit after each value, or once after all of them: 38 (40, 42) cm");
    return false;
}

/* Parses every value of a split cell and reports all mistakes. Returns one amount for each size, or NULL. */
static struct hk_amount *amounts_read(const struct values *values, const struct rule *rule, size_t size_count)
{
    struct hk_amount *amounts = hk_arena_take(values->arena, size_count, sizeof *amounts);
    if (!amounts) {
        rule->diags->out_of_memory = true;
        return NULL;
    }
    bool good = true;
    for (size_t i = 0; i < values->count; i++)
        good &= amount_read(&values->of[i], rule, &amounts[i]);
    if (!good || !kinds_agree(values, amounts, rule->diags))
        return NULL;
    for (size_t i = values->count; i < size_count; i++)
        amounts[i] = amounts[0];
    return amounts;
}

/* ---- Cells of pieces.csv ----------------------------------------------------------------------------------------- */

/* Returns false with a finding when the amounts of a measure are lengths and the cell needs counts. */
static bool measure_use(const struct hk_measure *measure, size_t size_count, bool lengths, const struct hk_span *name,
                        struct hk_diags *diags)
{
    for (size_t i = 0; i < size_count && !lengths; i++) {
        if (measure->by_size[i].kind != HK_AMOUNT_LENGTH)
            continue;
        hk_diags_add(diags, HK_CODE_UNIT_WRONG, hk_span_place(name, name->text), "\"%s\" is a length in grade.csv",
                     name->text);
        hk_diags_hint(diags, "a count is needed here: write whole numbers without a unit");
        return false;
    }
    return true;
}

/* Returns true when the text is a name and not a malformed number. */
static bool is_name(const char *text)
{
    return hk_is_letter(*text) && !strpbrk(text, "()[]{}");
}

static const char *measure_name(const void *context, size_t i)
{
    return ((const struct hk_measure *)context)[i].name;
}

static void name_unknown(const struct hk_span *name, const struct hk_grade *grade, bool lengths, struct hk_diags *diags)
{
    size_t nearest = hk_text_nearest(name->text, grade->count, measure_name, grade->measures);
    hk_diags_add(diags, HK_CODE_NAME_UNKNOWN, hk_span_place(name, name->text),
                 "\"%s\" is neither a number nor a name in grade.csv", name->text);
    if (nearest != SIZE_MAX)
        hk_diags_hint(diags, "did you mean \"%s\"?", grade->measures[nearest].name);
    else
        hk_diags_hint(diags,
                      lengths ? "write numbers like 71 (77, 83) or 38 (40, 42) cm" : "write numbers like 71 (77, 83)");
}

/*
 * Returns true for one integer for each size, separated by blanks: "240 248 256". blanks_sure() handles those that may
 * be a single number.
 */
static bool parted_by_blanks(const char *text, size_t size_count)
{
    size_t numbers = 0;
    for (; *text; text = hk_blanks_skipped(text), numbers++) {
        size_t digits = strspn(text, "0123456789");
        if (digits == 0)
            return false;
        text += digits;
    }
    return numbers == size_count && numbers > 1;
}

/* Reports a list without brackets: "71, 77, 83". */
static bool bracket_missing(const struct values *values, size_t size_count, struct hk_diags *diags)
{
    const char *text = values->whole.text, *comma = strpbrk(text, ",;");
    if (values->count != 1)
        return false;
    if (comma ? *comma == ',' && comma_between_digits(comma, text) : !parted_by_blanks(text, size_count))
        return false;
    hk_diags_add(diags, HK_CODE_GRADE_FORM, hk_span_place(&values->whole, comma ? comma : text),
                 "\"%s\" is a list without brackets", text);
    hk_diags_hint(diags, "write the first size, then the others in brackets: 71 (77, 83)");
    return true;
}

/*
 * Parses values->whole, which is not empty, with memory from values->arena. Returns the amounts, or NULL with findings.
 */
static struct hk_amount *whole_read(struct values *values, size_t size_count, const struct hk_grade *grade, bool lengths)
{
    struct hk_diags *diags = values->diags;
    const struct hk_measure *measure = hk_measure_find(grade, values->whole.text);
    if (measure)
        return measure_use(measure, size_count, lengths, &values->whole, diags) ? measure->by_size : NULL;
    struct rule rule = {.lengths = lengths, .diags = diags};
    if (hk_spreadsheet_damage(&values->whole, diags))
        return NULL;
    if (grade && is_name(values->whole.text)) {
        name_unknown(&values->whole, grade, lengths, diags);
        return NULL;
    }
    if (!values_split(values) || !blanks_sure(values, size_count) || bracket_missing(values, size_count, diags) ||
        !count_right(values, grade ? grade->sizes : NULL, size_count) ||
        !unit_read(&values->unit, lengths, &rule.unit, diags))
        return NULL;
    rule.in_brackets = values->count > 1;
    return amounts_read(values, &rule, size_count);
}

bool hk_graded_part(const struct hk_span *span, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    struct values values = {.whole = *span, .arena = &scratch, .diags = diags};
    const struct hk_amount *found = whole_read(&values, size_count, grade, lengths);
    struct hk_amount *by_size = found ? hk_arena_take(arena, size_count, sizeof *by_size) : NULL;
    if (by_size) {
        memcpy(by_size, found, size_count * sizeof *by_size);
        *value = (struct hk_graded){.given = true, .by_size = by_size, .cell = span->cell};
    }
    diags->out_of_memory |= (found && !by_size) || scratch.out_of_memory;
    hk_arena_free(&scratch);
    return by_size != NULL;
}

bool hk_graded_cell(struct hk_cell cell, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags)
{
    if (hk_cell_empty(cell)) {
        *value = (struct hk_graded){.cell = cell};
        return true;
    }
    struct hk_arena scratch = {0};
    struct hk_span span;
    bool good = hk_span_make(cell, &span, &scratch);
    diags->out_of_memory |= !good;
    good = good && hk_graded_part(&span, size_count, grade, lengths, value, arena, diags);
    hk_arena_free(&scratch);
    return good;
}

/* ---- Writing ------------------------------------------------------------------------------------------------------ */

const char *hk_graded_write(const char *const *texts, size_t count, struct hk_arena *arena)
{
    bool same = true;
    for (size_t i = 1; i < count; i++)
        same &= texts[i] && texts[0] && strcmp(texts[i], texts[0]) == 0;
    const char *all = texts[0];
    for (size_t i = 1; i < count && all && !same; i++)
        all = hk_arena_print(arena, "%s%s%s%s", all, hk_graded_mark(i, count), texts[i] ? texts[i] : "",
                             i + 1 == count ? hk_graded_mark(count, count) : "");
    return all ? all : "";
}

/* ---- Rows of grade.csv ------------------------------------------------------------------------------------------- */

bool hk_amounts_row(const struct hk_cell *cells, struct hk_cell unit_cell, const char *const *sizes, size_t size_count,
                    struct hk_amount *by_size, struct hk_arena *arena, struct hk_diags *diags)
{
    struct values values = {.arena = arena, .diags = diags, .count = size_count};
    struct hk_span unit;
    struct rule rule = {.lengths = true, .diags = diags};
    values.of = hk_arena_take(arena, size_count, sizeof *values.of);
    if (!values.of || !hk_span_make(unit_cell, &unit, arena))
        return false;
    bool good = unit_read(&unit, true, &rule.unit, diags);
    for (size_t i = 0; i < size_count; i++) {
        if (!hk_span_make(cells[i], &values.of[i], arena))
            return false;
        if (hk_cell_empty(cells[i])) {
            hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_cell_place(cells[i], 0), "size %s has no value", sizes[i]);
            hk_diags_hint(diags, "write 0 or - where a size does without");
            good = false;
        } else {
            good &= amount_read(&values.of[i], &rule, &by_size[i]);
        }
    }
    return good && kinds_agree(&values, by_size, diags);
}
