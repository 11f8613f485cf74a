/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * project.csv (hankful(1), FILES). A field whose value is empty keeps its default, so that a list of all fields can
 * be handed out to fill in. A misspelt field is an error, not a warning as for columns: a setting that is ignored would
 * change the answer.
 */
#include "project/read/settings.h"

#include "base/money.h"
#include "base/text.h"
#include "project/read/fields.h"

#include <string.h>

enum { FIELD, VALUE };
static const struct hk_column columns[] = {{"field", true, true}, {"value", true, false}, {NULL, false, false}};

/* ---- Sizes --------------------------------------------------------------------------------------------------- */

/* In a file that separates by semicolons, a comma between two digits is a decimal mark: "36,5" is one size. */
static bool is_separator(const char *text, const char *c, bool decimal_comma)
{
    if (*c == ',')
        return !(decimal_comma && c > text && hk_is_digit(c[-1]) && hk_is_digit(c[1]));
    return *c && strchr(";()[]{}", *c);
}

/* The dates into which spreadsheets turn "2-4" or "6/8": "04.02.2026", "2026-02-04", "4/2/2026", "4-Feb", "Feb-04". */
static bool looks_like_date(const char *text)
{
    static const char *const months[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                         "jul", "aug", "sep", "oct", "nov", "dec"};
    size_t digits = strspn(text, "0123456789"), marks = 0;
    if (text[0] && text[strspn(text, "0123456789./-")] == '\0') {
        for (const char *c = text; *c; c++)
            marks += !hk_is_digit(*c);
        return marks == 2 && digits > 0 && strlen(text) >= 8;
    }
    const char *month = digits && text[digits] == '-' ? text + digits + 1 : text;
    for (size_t i = 0; i < sizeof months / sizeof months[0]; i++) {
        if (!hk_text_starts(month, months[i]))
            continue;
        const char *rest = month + 3;
        if (digits)
            return *rest == '\0' || *rest == '-';
        return *rest == '-' && hk_is_digit(rest[1]) && rest[1 + strspn(rest + 1, "0123456789")] == '\0';
    }
    return false;
}

static bool size_add(struct hk_reading *reading, struct hk_cell cell, size_t offset, const char *name)
{
    struct hk_project *project = reading->project;
    struct hk_place at = hk_cell_place(cell, offset);
    if (looks_like_date(name)) {
        hk_diags_add(reading->diags, HK_CODE_SPREADSHEET_DAMAGE, at,
                     "\"%s\" is a date, into which spreadsheets turn sizes such as 2-4", name);
        hk_diags_hint(reading->diags, "format the column as text and write the size again");
        return false;
    }
    if (hk_names_find(hk_project_size_names(project), name) != SIZE_MAX) {
        hk_diags_add(reading->diags, HK_CODE_NAME_DOUBLED, at, "size \"%s\" stands twice", name);
        hk_diags_hint(reading->diags, "give each size a name of its own");
        return false;
    }
    if (project->size_count == HK_SIZES_MOST) {
        hk_diags_add(reading->diags, HK_CODE_RANGE, at, "more than %zu sizes", HK_SIZES_MOST);
        return false;
    }
    project->sizes[project->size_count++] = name;
    return true;
}

static bool brackets_close(const char *text)
{
    static const char opening[] = "([{", closing[] = ")]}";
    const char *open = NULL;
    for (const char *c = text; *c; c++) {
        const char *opens = strchr(opening, *c), *closes = strchr(closing, *c);
        if (opens && open)
            return false;
        if (closes && (!open || closing[open - opening] != *c))
            return false;
        open = opens ? opens : closes ? NULL : open;
    }
    return !open;
}

/* `XS (S, M, L, XL)`, `XS, S, M` or one name. */
static bool read_sizes(struct hk_reading *reading, struct hk_cell cell, void *into)
{
    struct hk_project *project = into;
    size_t *origin;
    char *text = hk_text_plain(&project->arena, cell.text, &origin);
    project->size_count = 0;
    project->sizes_cell = cell;
    if (!text)
        return false;
    bool good = brackets_close(text), decimal_comma = hk_table_decimal(cell.table) != HK_DECIMAL_POINT;
    if (!good) {
        hk_diags_add(reading->diags, HK_CODE_GRADE_FORM, hk_cell_place(cell, 0), "the brackets of \"%s\" do not close",
                     text);
        hk_diags_hint(reading->diags, "write sizes as XS (S, M, L)");
    }
    for (const char *c = good ? text : ""; *c;) {
        size_t length = 0;
        while (c[length] && !is_separator(text, c + length, decimal_comma))
            length++;
        const size_t *from = origin + (c - text), *to = from + length;
        const char *name = hk_arena_text(&project->arena, cell.text + *from, *to - *from); /* as it was typed */
        name = name ? hk_text_shown(&project->arena, name) : NULL;
        if (name)
            hk_name_bound(cell, name, reading->diags);
        if (name && length > (*c == ' '))
            good &= size_add(reading, cell, from[*c == ' '], name);
        c += length + (c[length] != '\0');
    }
    if (good && project->size_count == 0) {
        hk_diags_add(reading->diags, HK_CODE_GRADE_FORM, hk_cell_place(cell, 0), "\"%s\" names no size", text);
        hk_diags_hint(reading->diags, "write sizes as XS (S, M, L)");
        good = false;
    }
    reading->knows_sizes = good;
    return good;
}

/* ---- The other fields ---------------------------------------------------------------------------------------- */

static bool read_terms(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    static const char *const words[] = {[HK_TERMS_US] = "US", [HK_TERMS_UK] = "UK"};
    enum hk_terms *terms = value;
    size_t choice;
    reading->knows_terms = hk_reading_choice(reading, cell, words, 2, &choice);
    if (reading->knows_terms)
        *terms = (enum hk_terms)choice;
    return reading->knows_terms;
}

static const char *currency_name(const void *catalogue, size_t i)
{
    return ((const struct hk_catalogue *)catalogue)->currencies[i].code;
}

static bool read_currency(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    const struct hk_currency **currency = value;
    const struct hk_catalogue *catalogue = reading->project->catalogue;
    struct hk_names names = {catalogue->currency_count, currency_name, catalogue};
    const char *text = hk_reading_text(reading, cell);
    *currency = hk_currency_find(catalogue, text);
    reading->knows_currency = *currency;
    if (reading->knows_currency)
        return true;
    hk_reading_unknown(reading, cell, 0, "currency", text, "", names);
    hk_diags_hint(reading->diags, "write its three letters, such as EUR, GBP or USD");
    return false;
}

#define DAYS_MOST 3650 /* ten years: a longer one is a typing error */
#define DAYS_PER_WEEK 7

/* `30 days`, `1 day`, `6 weeks`. */
static bool read_period(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    static const char *const units[] = {"days", "day", "weeks", "week"};
    struct hk_period *period = value;
    const char *text = hk_reading_text(reading, cell), *unit = text + strspn(text, "0123456789");
    const size_t digits = (size_t)(unit - text);
    int64_t count = 0;
    unit = hk_blanks_skipped(unit);
    for (size_t i = 0; i < digits && count <= DAYS_MOST; i++)
        count = 10 * count + (text[i] - '0');
    for (size_t i = 0; i < sizeof units / sizeof units[0] && count > 0; i++) {
        const bool weeks = i >= 2;
        if (!hk_text_same(unit, units[i]) || count * (weeks ? DAYS_PER_WEEK : 1) > DAYS_MOST)
            continue;
        *period = (struct hk_period){count, weeks};
        return true;
    }
    hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "\"%s\" is not a number of days or weeks",
                 text);
    hk_diags_hint(reading->diags, "write it like 30 days or 6 weeks, at most ten years");
    return false;
}

/* `../hat/`, `..\hat` and `./../hat` are one folder. */
static const char *folder_plain(struct hk_arena *arena, const char *text)
{
    char *plain = hk_arena_print(arena, "%s/", text);
    size_t out = 0;
    for (const char *c = plain; c && *c;) {
        size_t length = strcspn(c, "/\\");
        bool here = (length == 1 && *c == '.') || (length == 0 && c != plain);
        if (!here) {
            memmove(plain + out, c, length);
            out += length;
            plain[out++] = '/';
        }
        c += length + (c[length] != '\0');
    }
    if (plain)
        plain[out] = '\0';
    return plain;
}

static void read_learn_from(struct hk_reading *reading, struct hk_cell cell)
{
    struct hk_place at = hk_cell_place(cell, 0);
    const char *text = hk_reading_text(reading, cell), *folder = folder_plain(&reading->project->arena, text);
    if (!folder || reading->learning)
        return;
    if (*folder == '\0') {
        hk_diags_add(reading->diags, HK_CODE_CHOICE, at, "\"%s\" is this folder itself", text);
        hk_diags_hint(reading->diags, "name the folder of another project, such as ../hat");
        return;
    }
    for (size_t i = 0; i < reading->learn_count; i++) {
        if (strcmp(reading->learn_from[i], folder) == 0) {
            hk_diags_add(reading->diags, HK_CODE_NAME_DOUBLED, at, "\"%s\" is named twice, and its swatches count once",
                         text);
            hk_diags_hint(reading->diags, "take this row out");
            return;
        }
    }
    if (reading->learn_count == HK_LEARNED_MOST)
        hk_diags_add(reading->diags, HK_CODE_RANGE, at, "more than %zu folders to learn from", HK_LEARNED_MOST);
    else {
        reading->learn_cells[reading->learn_count] = cell;
        reading->learn_from[reading->learn_count++] = folder;
    }
}

/* ---- The table ----------------------------------------------------------------------------------------------- */

static const struct hk_bound sure = {1, true, "a chance of ", ", and nothing is surer than sure",
                                     "write it as 95% or 0.95, below 100%"};
static const struct hk_bound whole = {1, false, "a margin of ", ", more than the work itself",
                                      "write it as 10% or 0.1"};
static const struct hk_bound full_price = {1, false, "a ball left over that keeps ", " of its price",
                                           "write it as 50%, 0.5 or returnable"};

/* In the order in which they are read: money comes after the currency. A tail of 0 needs no unit. */
enum {
    TITLE,
    SIZES,
    TERMS,
    CURRENCY,
    CHANCE,
    MARGIN,
    TAIL,
    JOIN,
    LOTS,
    SHORT_COST,
    SPARE_WORTH,
    SWATCHES,
    MAKER,
    PLACE,
    CARE,
    CONDITIONS,
    VALID_FOR,
    READY_IN,
    TAX_SHOWN,
    LEARN_FROM
};
static const struct hk_field fields[] = {
    [TITLE] = {"title", HK_FIELD_NAME(hk_project, title)},
    [SIZES] = {"sizes", .holds = HK_HOLDS_READ, .read = read_sizes},
    [TERMS] = {"terms", HK_FIELD_READ(hk_project, terms, enum hk_terms, read_terms)},
    [CURRENCY] = {"currency", HK_FIELD_READ(hk_project, currency, const struct hk_currency *, read_currency)},
    [CHANCE] = {"chance", HK_FIELD_QUANTITY(hk_project, chance, HK_DIM_PERCENT), .bound = &sure},
    [MARGIN] = {"margin", HK_FIELD_QUANTITY(hk_project, margin, HK_DIM_PERCENT), .sign = HK_SIGN_NOT_NEGATIVE,
                .bound = &whole},
    [TAIL] = {"tail", HK_FIELD_QUANTITY(hk_project, tail_m, HK_DIM_LENGTH), .sign = HK_SIGN_NOT_NEGATIVE, .word = "0"},
    [JOIN] = {"join", HK_FIELD_WORD(hk_project, join_anywhere, "row end", "anywhere")},
    [LOTS] = {"lots", HK_FIELD_WORD(hk_project, lots_may_mix, "one", "may mix")},
    [SHORT_COST] = {"short_cost", HK_FIELD_MONEY(hk_project, short_cost_minor)},
    [SPARE_WORTH] = {"spare_worth", HK_FIELD_QUANTITY(hk_project, spare_worth, HK_DIM_PERCENT),
                     .sign = HK_SIGN_NOT_NEGATIVE, .bound = &full_price, .word = "returnable", .word_value = 1},
    [SWATCHES] = {"swatches", HK_FIELD_WORD(hk_project, count_in_swatches, "leave out", "count in")},
    [MAKER] = {"maker", HK_FIELD_NAME(hk_project, letter.maker)},
    [PLACE] = {"place", HK_FIELD_NAME(hk_project, letter.place)},
    [CARE] = {"care", HK_FIELD_NAME(hk_project, letter.care)},
    [CONDITIONS] = {"conditions", HK_FIELD_NAME(hk_project, letter.conditions)},
    [VALID_FOR] = {"valid_for", HK_FIELD_READ(hk_project, letter.valid_for, struct hk_period, read_period)},
    [READY_IN] = {"ready_in", HK_FIELD_READ(hk_project, letter.ready_in, struct hk_period, read_period)},
    [TAX_SHOWN] = {"tax_shown", HK_FIELD_WORD(hk_project, letter.tax_separately, "included", "separately")},
    [LEARN_FROM] = {"learn_from"}, /* may stand several times: read as it is found */
};
enum { FIELDS = sizeof fields / sizeof fields[0] };

/* The fields, then the spreads. */
static const char *setting_name(const void *context, size_t i)
{
    (void)context;
    return i < FIELDS ? fields[i].name : hk_spreads_name(i - FIELDS);
}

static struct hk_names setting_names(void)
{
    size_t spreads = 0;
    while (hk_spreads_name(spreads))
        spreads++;
    return (struct hk_names){FIELDS + spreads, setting_name, NULL};
}

/* Blanks and dashes are as good as underscores, as in the names of columns. */
static size_t setting_find(struct hk_reading *reading, struct hk_names names, const char *word)
{
    char *name = hk_arena_text(&reading->project->arena, word, strlen(word));
    for (char *c = name; c && *c; c++)
        *c = *c == ' ' || *c == '-' ? '_' : *c;
    return name ? hk_names_find(names, name) : SIZE_MAX;
}

/* A spread is a percentage, or a plain number (a ratio, mm, a time), where a bare 1 is 1. All are above 0. */
static void read_spread(struct hk_reading *reading, const char *name, struct hk_cell cell)
{
    double value, most = hk_spreads_most(name);
    bool percent = strchr(cell.text, '%') || !hk_spreads_plain(name);
    if (!hk_quantity_cell(cell, percent ? HK_DIM_PERCENT : HK_DIM_PLAIN, HK_SIGN_POSITIVE, &value, reading->diags))
        return;
    if (value <= most) {
        *hk_spreads_find(&reading->project->spreads, name) = value;
        return;
    }
    hk_diags_add(reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "%s of %s, and it is at most %s", name,
                 hk_number_text(value, 6).text, hk_number_text(most, 6).text);
    if (most == 1)
        hk_diags_hint(reading->diags, "write 15%% or 0.15 for fifteen percent");
}

/* The chance of running short may have been written in place of the chance that the yarn is enough. */
static void warn_of_chance(struct hk_reading *reading, struct hk_cell cell)
{
    double chance = reading->project->chance;
    if (chance >= 0.5)
        return;
    hk_diags_add(reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0),
                 "with a chance of %s%% the yarn is less than is likely to be used",
                 hk_number_text(100 * chance, 6).text);
    hk_diags_hint(reading->diags,
                  "it is the chance that the yarn is enough: write one like 95%%; if it is right, it may stay");
}

static void margin_or_chance(struct hk_reading *reading, const struct hk_cell *values)
{
    if (hk_cell_empty(values[CHANCE]) || hk_cell_empty(values[MARGIN]))
        return;
    struct hk_cell later = values[values[MARGIN].row > values[CHANCE].row ? MARGIN : CHANCE];
    hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(later, 0), "both a chance and a flat margin are asked for");
    hk_diags_hint(reading->diags, "keep the one that decides how much is enough");
}

/* Finds the value of each setting. A setting that stands twice and an unknown one are findings. */
static void collect(struct hk_reading *reading, const struct hk_table *table, struct hk_names names,
                    struct hk_cell *values, bool *seen)
{
    for (size_t row = 0; row < hk_table_rows(table); row++) {
        struct hk_cell field = hk_table_cell(table, row, FIELD), value = hk_table_cell(table, row, VALUE);
        if (hk_cell_empty(field))
            continue;
        const char *word = hk_reading_text(reading, field);
        size_t found = setting_find(reading, names, word);
        if (found == SIZE_MAX) {
            hk_reading_unknown(reading, field, 0, "setting", word, "", names);
        } else if (found == LEARN_FROM) {
            if (!hk_cell_empty(value))
                read_learn_from(reading, value);
        } else if (seen[found]) {
            hk_diags_add(reading->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(field, 0), "%s is set twice", word);
            hk_diags_hint(reading->diags, "keep one of the rows");
        } else {
            seen[found] = true;
            values[found] = value;
        }
    }
}

static void defaults(struct hk_project *project)
{
    static const char *const one_size = "one size";
    project->title = "untitled";
    project->sizes[0] = one_size;
    project->size_count = 1;
    project->chance = 0.95;
    project->margin = -1;
    project->tail_m = 0.15;
    project->short_cost_minor = -1;
    project->letter = (struct hk_letter){.maker = "", .place = "", .care = "", .conditions = ""};
    project->spreads = project->catalogue->spreads;
}

void hk_settings_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    struct hk_names names = setting_names();
    struct hk_cell *values = hk_arena_take(&project->arena, names.count, sizeof *values);
    bool *seen = hk_arena_take(&project->arena, names.count, sizeof *seen);
    project->sizes = hk_arena_take(&project->arena, HK_SIZES_MOST, sizeof *project->sizes);
    reading->learn_from = hk_arena_take(&project->arena, HK_LEARNED_MOST, sizeof *reading->learn_from);
    reading->learn_cells = hk_arena_take(&project->arena, HK_LEARNED_MOST, sizeof *reading->learn_cells);
    if (!values || !seen || !project->sizes || !reading->learn_from || !reading->learn_cells)
        return;
    defaults(project);
    bool known;
    const struct hk_table *table = hk_reading_table(reading, "project.csv", columns, true, &known);
    reading->knows_sizes = reading->knows_terms = reading->knows_currency = known;
    if (!table)
        return;
    collect(reading, table, names, values, seen);
    for (size_t i = 0; i < names.count; i++) {
        if (!seen[i] || hk_cell_empty(values[i]))
            continue;
        if (i < FIELDS)
            hk_field_read(&fields[i], reading, values[i], project);
        else
            read_spread(reading, names.name(NULL, i), values[i]);
    }
    warn_of_chance(reading, values[CHANCE]);
    if (seen[CHANCE] && seen[MARGIN])
        margin_or_chance(reading, values);
}
