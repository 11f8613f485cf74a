/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * yarns.csv (hankful(1), FILES). One yarn name is one yarn in every role and colour, because it has one number of
 * grams a metre and one departure; rows that disagree about them are an error. A row with a mistake still makes its role
 * and yarn known, so that other files may refer to them without further findings.
 */
#include "project/read/yarns.h"

#include "catalogue/category.h"
#include "catalogue/diameter.h"
#include "catalogue/moisture.h"
#include "input/error_value.h"
#include "input/span.h"
#include "input/quantity.h"
#include "input/spreadsheet_damage.h"
#include "project/read/fields.h"
#include "project/read/weighed_once.h"

#include <math.h>
#include <string.h>

/* A row being read; an amount is 0 where it is not given, or given with a mistake. */
struct yarn_row {
    struct hk_candidate candidate;
    double put_up_g, length_m, wraps;
};

/* A colour as "#rrggbb", or "#rgb" with each digit meant twice (CSS Color Module Level 4, 5.2). */
static bool read_rgb(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    static const char digits[] = "0123456789abcdefABCDEF";
    const char *text = hk_reading_text(reading, cell);
    const size_t length = strlen(text);
    if (text[0] != '#' || (length != 4 && length != 7) || strspn(text + 1, digits) != length - 1) {
        hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "\"%s\" is not a colour", text);
        hk_diags_hint(reading->diags, "write red, green and blue as six hexadecimal digits, such as #8a9a5b");
        return false;
    }
    *(const char **)value = length == 7 ? text
                                        : hk_arena_print(&reading->project->arena, "#%c%c%c%c%c%c", text[1], text[1],
                                                         text[2], text[2], text[3], text[3]);
    return true;
}

enum {
    ROLE,
    YARN,
    PUT_UP,
    LENGTH,
    COLOUR,
    RGB,
    FIBRE,
    CATEGORY,
    PRICE,
    WPI,
    BALL_WEIGHS,
    SCALE_STEP,
    SCALE_ACCURACY,
    NOTES
};
static const struct hk_field fields[] = {
    [ROLE] = {"role", HK_FIELD_FILLED, HK_FIELD_KEEPS(yarn_row, candidate.cell)},
    [YARN] = {"yarn", HK_FIELD_FILLED},
    [PUT_UP] = {"put_up", HK_FIELD_FILLED, HK_FIELD_QUANTITY(yarn_row, put_up_g, HK_DIM_MASS)},
    [LENGTH] = {"length", HK_FIELD_FILLED, HK_FIELD_QUANTITY(yarn_row, length_m, HK_DIM_LENGTH)},
    [COLOUR] = {"colour", HK_FIELD_NAME(yarn_row, candidate.colour)},
    [RGB] = {"rgb", HK_FIELD_READ(yarn_row, candidate.rgb, const char *, read_rgb)},
    [FIBRE] = {"fibre", HK_FIELD_NAME(yarn_row, candidate.fibre)},
    [CATEGORY] = {"category", HK_FIELD_NAME(yarn_row, candidate.category),
                  HK_FIELD_KEEPS(yarn_row, candidate.category_cell)},
    [PRICE] = {"price", HK_FIELD_MONEY(yarn_row, candidate.price_minor),
               HK_FIELD_KEEPS(yarn_row, candidate.price_cell)},
    [WPI] = {"wpi", HK_FIELD_QUANTITY(yarn_row, wraps, HK_DIM_WRAPS)},
    [BALL_WEIGHS] = {"ball_weighs"},
    [SCALE_STEP] = {"scale_step"},
    [SCALE_ACCURACY] = {"scale_accuracy"},
    [NOTES] = {"notes", HK_FIELD_TEXT(yarn_row, candidate.notes)},
    {.name = NULL},
};

/* The same amount in two units, such as 3.5 oz and 99.22 g, agrees to the last digit written and no further. */
#define SAME_AMOUNT 5e-4
/* The largest number of balls that are weighed together: a sack. */
#define BALLS_MOST 1000

static bool amounts_same(double a, double b)
{
    return fabs(a - b) <= SAME_AMOUNT * fmax(a, b);
}

/* A name that a spreadsheet replaced by an error value. That is reported; unknown names in other files then are not. */
static bool is_lost(struct hk_reading *reading, struct hk_cell cell)
{
    bool lost = hk_error_value(cell.text);
    reading->knows_yarns &= !lost;
    return lost;
}

/* ---- Roles --------------------------------------------------------------------------------------------------- */

/* The marks + , ; separate strands and stripes in a yarn cell. */
static bool role_name_good(struct hk_reading *reading, struct hk_cell cell, const char *name)
{
    if (!strpbrk(hk_reading_text(reading, cell), "+,;"))
        return true;
    hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "the role \"%s\" has a mark in it that joins roles",
                 name);
    hk_diags_hint(reading->diags, "leave + , and ; out of the names of roles");
    return false;
}

/* The role that the cell names, added where it is new; SIZE_MAX with a finding. */
static size_t role_of(struct hk_reading *reading, struct hk_cell cell)
{
    struct hk_project *project = reading->project;
    if (hk_cell_empty(cell) || is_lost(reading, cell))
        return SIZE_MAX;
    const char *name = hk_reading_name(reading, cell);
    size_t found = hk_index_find(&reading->roles, name);
    if (found != SIZE_MAX || !role_name_good(reading, cell, name) ||
        !hk_index_add(&reading->roles, name, project->role_count, &project->arena))
        return found;
    project->roles[project->role_count] = (struct hk_role){.name = name, .plan = SIZE_MAX, .cell = cell};
    return project->role_count++;
}

/* ---- Yarns --------------------------------------------------------------------------------------------------- */

static void clash(struct hk_reading *reading, struct hk_cell cell, const char *what, const struct hk_yarn *yarn)
{
    hk_diags_add(reading->diags, HK_CODE_YARN_CLASH, hk_cell_place(cell, 0), "%s \"%s\" differs from the one in line %zu",
                 what, yarn->name, hk_cell_place(yarn->cell, 0).line);
    hk_diags_hint(reading->diags, "one name is one yarn: write the same there, or give this one another name");
}

static void amount_join(struct hk_reading *reading, struct hk_cell cell, const char *what, double *known, double read,
                        const struct hk_yarn *yarn)
{
    if (read > 0 && *known > 0 && !amounts_same(*known, read))
        clash(reading, cell, what, yarn);
    else if (*known == 0)
        *known = read;
}

/* ---- A ball on the scale ------------------------------------------------------------------------------------- */

static const char *after_word(const char *text, const char *word)
{
    return hk_text_starts(text, word) ? text + strlen(word) : text;
}

/* The place in "3 balls 148 g" where the mass begins; *count is 1 where the text does not begin with a number of balls. */
static const char *after_count(const char *text, int64_t *count)
{
    const char *end = text;
    double number = 0;
    *count = 1;
    if (!hk_number_scan(&end, false, &number))
        return text;
    const char *word = hk_blanks_skipped(end), *mass = after_word(word, "ball");
    if (mass == word || number < 1 || number > BALLS_MOST || number != floor(number))
        return text;
    *count = (int64_t)number;
    mass = after_word(mass, "s");
    mass = hk_blanks_skipped(mass);
    return hk_blanks_skipped(mass + strspn(mass, ":=,"));
}

static void read_ball(struct hk_reading_row row, struct hk_yarn *yarn)
{
    struct hk_reading *reading = row.reading;
    struct hk_cell cell = hk_reading_cell(row, BALL_WEIGHS);
    struct hk_span whole, mass;
    struct hk_yarn read = {0};
    bool good = hk_reading_scale(row, SCALE_STEP, SCALE_ACCURACY, &read.ball_scale);
    if (hk_cell_empty(cell) || !hk_span_make(cell, &whole, &reading->project->arena) ||
        hk_spreadsheet_damage(&whole, reading->diags))
        return;
    size_t start = (size_t)(after_count(whole.text, &read.ball_count) - whole.text);
    if (!hk_span_part(&whole, start, strlen(whole.text) - start, &mass, &reading->project->arena) ||
        !hk_quantity_read(&mass, HK_DIM_MASS, HK_SIGN_POSITIVE, &read.ball_g, reading->diags) || !good)
        return;
    if (yarn->ball_g > 0 && (yarn->ball_count != read.ball_count || !amounts_same(yarn->ball_g, read.ball_g))) {
        clash(reading, cell, "what a ball weighs of", yarn);
        return;
    }
    yarn->ball_g = read.ball_g;
    yarn->ball_count = read.ball_count;
    yarn->ball_scale = read.ball_scale;
    yarn->ball_cell = cell;
}

/* A fibre sets how much moisture a labelled ball may hold: a mistyped or unknown one is reported. */
static void fibre_against_table(struct hk_reading *reading, struct hk_cell cell, const struct hk_yarn *yarn)
{
    const struct hk_catalogue *catalogue = reading->project->catalogue;
    double low, high;
    if (!*yarn->fibre || hk_moisture_allowance(catalogue, yarn->fibre, &low, &high))
        return;
    const char *meant = hk_fibre_meant(catalogue, yarn->fibre, &reading->project->arena);
    if (meant)
        hk_diags_add(reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0),
                     "\"%s\" is no known fibre; did you mean %s?", yarn->fibre, meant);
    else
        hk_diags_add(
            reading->diags, HK_CODE_ASSUMPTION, hk_cell_place(cell, 0),
            "\"%s\" is a fibre that is not known, or its shares are not 100%% together: %s may hold any moisture",
            yarn->fibre, yarn->name);
}

/* The yarn that the row names, completed from the row; SIZE_MAX with a finding. */
static size_t yarn_of(struct hk_reading_row row, const struct yarn_row *read, double *wraps)
{
    struct hk_reading *reading = row.reading;
    struct hk_project *project = reading->project;
    struct hk_cell cell = hk_reading_cell(row, YARN);
    if (hk_cell_empty(cell) || is_lost(reading, cell))
        return SIZE_MAX;
    const char *name = hk_reading_name(reading, cell);
    size_t found = hk_index_find(&reading->yarns, name);
    if (found == SIZE_MAX) {
        if (!hk_index_add(&reading->yarns, name, project->yarn_count, &project->arena))
            return SIZE_MAX;
        found = project->yarn_count++;
        project->yarns[found] = (struct hk_yarn){.name = name, .fibre = "", .cell = cell};
    }
    struct hk_yarn *yarn = &project->yarns[found];
    amount_join(reading, hk_reading_cell(row, PUT_UP), "the put-up of", &yarn->put_up_g, read->put_up_g, yarn);
    amount_join(reading, hk_reading_cell(row, LENGTH), "the length of", &yarn->length_m, read->length_m, yarn);
    amount_join(reading, hk_reading_cell(row, WPI), "wpi of", &wraps[found], read->wraps, yarn);
    read_ball(row, yarn);
    if (!*yarn->fibre) {
        yarn->fibre = hk_reading_text(reading, hk_reading_cell(row, FIBRE));
        fibre_against_table(reading, hk_reading_cell(row, FIBRE), yarn);
    }
    return found;
}

/*
 * The prior of H, the weight of a labelled ball on her scale. The mass on a label is that of the dry fibre and an agreed
 * allowance a of moisture, and most rooms are drier: N(-m a, (m a)^2), where m is the spread `moisture`. For yarn of an
 * unknown fibre: N(-unstated, unstated_spread^2).
 */
static void expect_weights(struct hk_project *project)
{
    const struct hk_spreads *spreads = &project->spreads;
    for (size_t i = 0; i < project->yarn_count; i++) {
        struct hk_yarn *yarn = &project->yarns[i];
        double low, high;
        yarn->ln_weighs = -spreads->unstated;
        yarn->ln_weighs_sd = spreads->unstated_spread;
        if (*yarn->fibre && hk_moisture_allowance(project->catalogue, yarn->fibre, &low, &high)) {
            yarn->ln_weighs_sd = spreads->moisture * (low + high) / 2;
            yarn->ln_weighs = -yarn->ln_weighs_sd;
        }
    }
}

static void measure_yarns(struct hk_project *project, const double *wraps)
{
    for (size_t i = 0; i < project->yarn_count; i++) {
        struct hk_yarn *yarn = &project->yarns[i];
        if (yarn->put_up_g > 0 && yarn->length_m > 0)
            yarn->tex = 1000 * yarn->put_up_g / yarn->length_m;
        if (wraps[i] > 0)
            yarn->diameter_mm = hk_wraps_diameter_mm(wraps[i]);
        else if (yarn->tex > 0)
            yarn->diameter_mm = hk_yarn_diameter_mm(yarn->tex, project->spreads.diameter_mm);
    }
}

/* ---- Rows ---------------------------------------------------------------------------------------------------- */

static void candidate_add(struct hk_reading *reading, struct hk_candidate candidate)
{
    struct hk_project *project = reading->project;
    for (size_t i = 0; i < project->candidate_count; i++) {
        const struct hk_candidate *other = &project->candidates[i];
        if (other->role != candidate.role || other->yarn != candidate.yarn ||
            !hk_text_same(other->colour, candidate.colour))
            continue;
        hk_diags_add(reading->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(candidate.cell, 0),
                     "\"%s\" stands for this role in line %zu already", project->yarns[candidate.yarn].name,
                     hk_cell_place(other->cell, 0).line);
        hk_diags_hint(reading->diags, "take one of the two rows out");
        return;
    }
    struct hk_role *role = &project->roles[candidate.role];
    if (role->plan == SIZE_MAX)
        role->plan = project->candidate_count;
    project->candidates[project->candidate_count++] = candidate;
}

static void check_price(struct hk_reading *reading, const struct hk_candidate *candidate)
{
    if (candidate->price_minor != 0)
        return;
    hk_diags_add(reading->diags, HK_CODE_PRICE_NOTHING, hk_cell_place(candidate->price_cell, 0),
                 "a ball costs 0, so any number of them costs nothing");
    hk_diags_hint(reading->diags,
                  "write what a ball costs, or nothing where that is not known; what is at home goes into "
                  "offers.csv, as shop \"own\"");
}

static void read_row(struct hk_reading_row row, double *wraps)
{
    struct yarn_row read = {.candidate.price_minor = HK_NO_PRICE};
    struct hk_candidate *candidate = &read.candidate;
    hk_fields_read(fields, row, &read);
    candidate->role = role_of(row.reading, candidate->cell);
    candidate->yarn = yarn_of(row, &read, wraps);
    check_price(row.reading, candidate);
    if (candidate->role != SIZE_MAX && candidate->yarn != SIZE_MAX)
        candidate_add(row.reading, *candidate);
}

/* ---- Categories ---------------------------------------------------------------------------------------------- */

/* Times as thick as the thickest yarn of a category, or as thin as the thinnest: a mistyped label. */
#define FAR_OFF 1.5

/* An unknown category is kept as it stands: a pattern prints it, and nothing is computed from it. */
static void category_unknown(struct hk_reading *reading, const struct hk_candidate *candidate)
{
    struct hk_place at = hk_cell_place(candidate->category_cell, 0);
    struct hk_arena *arena = &reading->project->arena;
    const struct hk_catalogue *catalogue = reading->project->catalogue;
    const char *text = candidate->category, *called = hk_categories_called(catalogue, text, arena);
    const char *known = hk_categories_called(catalogue, NULL, arena);
    if (called) {
        hk_diags_add(reading->diags, HK_CODE_CATEGORY, at, "\"%s\" is the name of several yarn categories: %s", text,
                     called);
        hk_diags_hint(reading->diags, "write the number of the one that is meant");
        return;
    }
    hk_diags_add(reading->diags, HK_CODE_CATEGORY, at, "\"%s\" is no yarn category", text);
    hk_diags_hint(reading->diags, "the categories are %s; leave the cell empty to have the yarn's thickness tell",
                  known ? known : "not known");
}

/* The metres in `put_up_g` grams of a yarn of that thickness: the inverse of hk_yarn_diameter_mm, to tens of metres. */
static double about_m(const struct hk_project *project, double put_up_g, double wraps)
{
    double root = hk_wraps_diameter_mm(wraps) / project->spreads.diameter_mm;
    return 10 * rint(100 * put_up_g / (root * root));
}

/* A digit that is mistyped in a label puts the yarn far from its category. */
static void category_against_label(struct hk_reading *reading, const struct hk_candidate *candidate,
                                   const struct hk_category *category)
{
    const struct hk_project *project = reading->project;
    const struct hk_yarn *yarn = &project->yarns[candidate->yarn];
    double wraps = HK_MM_PER_INCH / hk_yarn_diameter_mm(yarn->tex, project->spreads.diameter_mm);
    bool thick = wraps * FAR_OFF < category->wraps_low, thin = wraps > FAR_OFF * category->wraps_high;
    if (!thick && !thin)
        return;
    hk_diags_add(reading->diags, HK_CODE_CATEGORY, hk_cell_place(candidate->category_cell, 0),
                 "%s m in %s g makes \"%s\" far %s than category %s %s", hk_number_text(yarn->length_m, 4).text,
                 hk_number_text(yarn->put_up_g, 4).text, yarn->name, thick ? "thicker" : "thinner",
                 category->name, category->label);
    double near = thick ? category->wraps_low : category->wraps_high;
    hk_diags_hint(reading->diags, "check put_up, length and category: %s g of such a yarn would have %s about %.0f m",
                  hk_number_text(yarn->put_up_g, 4).text, thick ? "at least" : "at most", about_m(project, yarn->put_up_g, near));
}

static bool same_yarn_before(const struct hk_project *project, size_t candidate)
{
    const struct hk_candidate *of = &project->candidates[candidate];
    for (size_t i = 0; i < candidate; i++) {
        const struct hk_candidate *before = &project->candidates[i];
        if (before->yarn == of->yarn && hk_text_same(before->category, of->category))
            return true;
    }
    return false;
}

/* Once the thickness of the yarns is known. A yarn with several colours is reported once. */
static void settle_categories(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    for (size_t i = project->candidate_count; i-- > 0;) { /* backwards: earlier ones keep their own words until then */
        struct hk_candidate *candidate = &project->candidates[i];
        const struct hk_category *category = hk_category_find(project->catalogue, candidate->category);
        const struct hk_yarn *yarn = &project->yarns[candidate->yarn];
        bool said = same_yarn_before(project, i);
        if (!*candidate->category || !(yarn->tex > 0))
            continue;
        if (!category)
            category = hk_category_by_thickness(project->catalogue, candidate->category,
                                                HK_MM_PER_INCH / yarn->diameter_mm);
        if (category && !said)
            category_against_label(reading, candidate, category);
        else if (!category && !said)
            category_unknown(reading, candidate);
        if (category)
            candidate->category = category->name;
    }
}

/* ---- The file ------------------------------------------------------------------------------------------------ */

void hk_yarns_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    const struct hk_table *table = hk_fields_table(reading, "yarns.csv", fields, true, &reading->knows_yarns);
    if (!table)
        return;
    size_t rows = hk_table_rows(table);
    double *wraps = hk_arena_take(&project->arena, rows, sizeof *wraps);
    project->roles = hk_arena_take(&project->arena, rows, sizeof *project->roles);
    project->yarns = hk_arena_take(&project->arena, rows, sizeof *project->yarns);
    project->candidates = hk_arena_take(&project->arena, rows, sizeof *project->candidates);
    if (project->arena.out_of_memory)
        return;
    for (size_t row = 0; row < rows; row++)
        read_row((struct hk_reading_row){reading, table, row}, wraps);
    measure_yarns(project, wraps);
    expect_weights(project);
    settle_categories(reading);
}

/* ---- Of several folders ---------------------------------------------------------------------------------------- */

static size_t yarn_count(const struct hk_project *of)
{
    return of->yarn_count;
}

static void weighing_list(struct hk_project *of, size_t i, struct hk_weighing *weighing)
{
    struct hk_yarn *yarn = &of->yarns[i];
    weighing->hash = hk_text_hash(yarn->name);
    weighing->what = yarn->ball_g > 0 ? yarn : NULL;
}

/* The same weighing is of equally many balls of that yarn, on a scale of the same step and accuracy. */
static void weighing_compare(const struct hk_weighing *first, struct hk_weighing *again, struct hk_diags *diags)
{
    const struct hk_yarn *x = first->what, *y = again->what;
    again->again = hk_text_same(x->name, y->name) && x->ball_count == y->ball_count &&
                   amounts_same(x->ball_g, y->ball_g) && x->ball_scale.step_g == y->ball_scale.step_g &&
                   x->ball_scale.accuracy_g == y->ball_scale.accuracy_g;
    if (!again->again)
        return;
    struct hk_place at = hk_cell_place(x->ball_cell, 0);
    hk_diags_add(diags, HK_CODE_SWATCH_DOUBLED, hk_cell_place(y->ball_cell, 0),
                 "what a ball of %s weighs is the weighing in %s:%zu, and counts once", y->name, at.file, at.line);
    hk_diags_hint(diags, "take it out of one of the two files");
}

static void weighing_leave_out(const struct hk_weighing *weighing)
{
    ((struct hk_yarn *)weighing->what)->ball_g = 0;
}

void hk_yarns_once(struct hk_project *project, struct hk_diags *diags)
{
    static const struct hk_weighings of_balls = {yarn_count, weighing_list, weighing_compare, weighing_leave_out};
    hk_weighed_once(project, &of_balls, diags);
}
