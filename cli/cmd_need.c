/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful need: first the amount that is enough, in both unit systems; then the range, the causes of its width and
 * their remedies, the assumptions, and the yarn of each piece. Figures have the digits that their spread warrants.
 */
#include "amount.h"
#include "each.h"
#include "evidence.h"
#include "findings.h"
#include "in_hand.h"
#include "more.h"
#include "need_json.h"
#include "number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- The answer ---- */

static bool flat_margin(const struct hk_need *need)
{
    return need->margin >= 0;
}

/*
 * Returns "2 readings of your own swatches, 1 weighing of the work in hand and 1 of full balls", with only the kinds
 * that exist.
 */
static void report_readings(const struct hk_need *need, struct text *text)
{
    const size_t others = need->evidence_progress + need->evidence_learned + need->evidence_balls;
    const struct {
        size_t count;
        const char *one, *of;
    } kinds[] = {
        {need->evidence - others, "reading", "of your own swatches"},
        {need->evidence_progress, "weighing", "of the work in hand"},
        {need->evidence_learned, "weighing", "of finished work"},
        {need->evidence_balls, "weighing", "of full balls"},
    };
    size_t last = 0, first = SIZE_MAX;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        first = kinds[i].count > 0 && first == SIZE_MAX ? i : first;
        last = kinds[i].count > 0 ? i : last;
    }
    char *all = text_format("From stitch counts, tools and labels");
    for (size_t i = first; all && i <= last; i++) {
        if (kinds[i].count == 0)
            continue;
        const char *before = i == last ? (i == first ? ", and" : " and") : ",";
        char *more = text_format("%s%s %zu %s%s %s", all, before, kinds[i].count, kinds[i].one, kinds[i].count == 1 ? "" : "s",
                                 kinds[i].of);
        free(all);
        all = more;
    }
    if (all)
        text_paragraph(text, "%s.", all);
    else
        text->failed = true;
    free(all);
}

static void report_basis(const struct hk_need *need, struct text *text)
{
    if (flat_margin(need))
        text_paragraph(text, "Enough is the likely amount and a flat %s more, as asked for.",
                       number_asked(need->margin).text);
    else
        text_paragraph(text, "Enough with a chance of %s, for each yarn.", number_asked(need->chance).text);
    if (need->evidence == need->evidence_balls)
        text_paragraph(text,
                       "From the loop rule alone (stitch counts, tools and labels): nothing has been weighed yet.");
    else
        report_readings(need, text);
}

/* Explains why the count of balls may exceed the grams divided by the mass of a ball. */
static void report_joins(const struct hk_need *need, struct text *text)
{
    double most_g = 0;
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        if ((double)role->balls > ceil(role->mass_g.enough / role->put_up_g))
            most_g = fmax(most_g, role->join_g);
    }
    if (!(most_g > 0))
        return;
    text_gap(text);
    text_paragraph(text,
                   "BALLS includes the yarn lost where one ball ends and the next is joined, up to %s g each time.",
                   number_digits(most_g, 2).text);
}

static const struct hk_range *range_in(const struct hk_need_role *role, enum amount_unit unit)
{
    return unit == AMOUNT_G || unit == AMOUNT_OZ ? &role->mass_g : &role->length_m;
}

static void report_answer(const struct hk_need *need, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    for (enum amount_unit unit = 0; unit < AMOUNT_UNITS; unit++)
        text_table_column(table, TEXT_RIGHT, "%s%s", unit == 0 ? "ENOUGH " : "", amount_unit_name(unit));
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_WRAP, "OF");
    if (flat_margin(need))
        text_table_column(table, TEXT_RIGHT, "CHANCE");
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        text_table_cell(table, "%s", role->size_name);
        text_table_cell(table, "%s", role->role_name);
        for (enum amount_unit unit = 0; unit < AMOUNT_UNITS; unit++)
            text_table_cell(table, "%s", amount_enough(range_in(role, unit), unit).text);
        text_table_cell(table, "%s", number_whole(role->balls).text);
        text_table_cell(table, "%s g (%s m) %s%s%s", number_label(role->put_up_g).text,
                        number_label(role->put_up_m).text, role->yarn, *role->colour ? " " : "", role->colour);
        if (flat_margin(need))
            text_table_cell(table, "%s", number_chance(role->chance).text);
    }
    text_table_print(table);
}

/* ---- The range ---- */

static void add_range(struct text_table *table, const struct hk_need_role *role, enum amount_unit unit)
{
    const struct hk_range *range = range_in(role, unit);
    text_table_cell(table, "%s-%s", amount_shown(range, range->low, unit, NUMBER_DOWN).text,
                    amount_shown(range, range->high, unit, NUMBER_UP).text);
}

static void add_likely(struct text_table *table, const struct hk_need_role *role, enum amount_unit unit)
{
    const struct hk_range *range = range_in(role, unit);
    text_table_cell(table, "%s", amount_shown(range, range->likely, unit, NUMBER_NEAREST).text);
}

/*
 * Returns the spread of each role: one figure, or the least and the greatest over its sizes. Owner: the caller (free).
 */
static char *spread_words(const struct hk_need *need, const char *role)
{
    double least = INFINITY, most = 0;
    for (size_t i = 0; i < need->role_count; i++) {
        if (strcmp(need->roles[i].role_name, role) != 0)
            continue;
        least = fmin(least, need->roles[i].spread_mass);
        most = fmax(most, need->roles[i].spread_mass);
    }
    const struct number from = number_percent(least), to = number_percent(most);
    if (strcmp(from.text, to.text) == 0)
        return text_format("%s for %s", to.text, role);
    return text_format("%s to %s for %s", from.text, to.text, role);
}

static bool named_before(const struct hk_need *need, size_t role)
{
    for (size_t i = 0; i < role; i++)
        if (strcmp(need->roles[i].role_name, need->roles[role].role_name) == 0)
            return true;
    return false;
}

static void report_spreads(const struct hk_need *need, struct text *text)
{
    char *all = NULL;
    for (size_t i = 0; i < need->role_count; i++) {
        if (named_before(need, i))
            continue;
        char *one = spread_words(need, need->roles[i].role_name);
        char *more = one ? text_format("%s%s%s", all ? all : "", all ? ", " : "", one) : NULL;
        free(one);
        free(all);
        all = more;
        if (!all)
            break;
    }
    if (all)
        text_paragraph(text,
                       "Nine times in ten the amount lies between the two ends; two times in three it is the likely "
                       "amount, give or take %s.",
                       all);
    else
        text->failed = true;
    free(all);
}

static void report_range(const struct hk_need *need, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "Likely amounts and their range");
    report_spreads(need, text);
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "LIKELY g");
    text_table_column(table, TEXT_RIGHT, "RANGE g");
    text_table_column(table, TEXT_RIGHT, "oz");
    text_table_column(table, TEXT_RIGHT, "LIKELY m");
    text_table_column(table, TEXT_RIGHT, "RANGE m");
    text_table_column(table, TEXT_RIGHT, "yd");
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        text_table_cell(table, "%s", role->size_name);
        text_table_cell(table, "%s", role->role_name);
        add_likely(table, role, AMOUNT_G);
        add_range(table, role, AMOUNT_G);
        add_range(table, role, AMOUNT_OZ);
        add_likely(table, role, AMOUNT_M);
        add_range(table, role, AMOUNT_M);
        add_range(table, role, AMOUNT_YD);
    }
    text_table_print(table);
}

/* ---- Why ---- */

#define CAUSES_SAID 4 /* causes shown for a role, besides those without a remedy; the JSON has the rest */

/* Returns a description of the cause. Owner: the caller (free). */
static char *cause_words(const struct hk_need_why *why, const char *terms)
{
    switch (why->cause) {
    case HK_CAUSE_NOTHING_WEIGHED:
        return text_format("nothing of this craft has been weighed, so the figures do not know how you work");
    case HK_CAUSE_SCALE:
        if (why->scale_accuracy_g > why->scale_step_g)
            return text_format("the scale may be %s g off in swatch %s", number_stated(why->scale_accuracy_g).text, why->swatch);
        return text_format("the scale's %s g step in swatch %s", number_stated(why->scale_step_g).text, why->swatch);
    case HK_CAUSE_STITCH:
        return text_format("no swatch has the stitch %s (%s terms)", why->stitch, terms);
    case HK_CAUSE_TOOL:
        return text_format("no swatch was worked on %s mm", number_stated(why->tool_mm).text);
    case HK_CAUSE_YARN:
        return text_format("no swatch was worked in %s", why->yarn);
    case HK_CAUSE_ONE_DAY:
        return text_format("a swatch is one day's work, and hands differ from day to day");
    case HK_CAUSE_GRIST:
        return text_format("the mass of a metre of %s is known from its label only", why->yarn);
    case HK_CAUSE_GARMENT:
        return text_format("a garment is not a swatch: hands, and weight that hangs from the work, make its stitches others");
    case HK_CAUSE_BALL:
        return text_format("the mass of a ball of %s on your scale, in the air of your room, is not known", why->yarn);
    case HK_CAUSE_MAKING:
        return text_format("one making differs from the next and one piece from another, whatever you weigh");
    }
    return NULL;
}

/* Suggests a new swatch and states its effect. */
static char *swatch_words(const char *what, const char *when, const struct hk_need_why *why)
{
    const struct number tool = number_stated(why->tool_mm), scale = number_stated(why->new_step_g);
    const struct number rows = number_whole(why->rows), stitches = number_whole(why->stitches);
    if (why->stitches == 0)
        return text_format("%s of %s on %s mm in %s, %s rounds from a ring%s weighed on a %s g scale,", what, why->fabric,
                           tool.text, why->yarn, rows.text, *when ? when : ",", scale.text);
    return text_format("%s of %s on %s mm in %s, %s stitches and %s rows%s weighed on a %s g scale,", what, why->fabric,
                       tool.text, why->yarn, stitches.text, rows.text, *when ? when : ",", scale.text);
}

/* Suggests a finer scale, or an alternative on the same scale with nearly the same effect. */
static char *scale_words(const struct hk_need_why *why)
{
    const struct number scale = number_stated(why->new_step_g), rows = number_whole(why->rows),
                        copies = number_whole(why->copies);
    if (why->rows > 0 && why->copies > 0)
        return text_format("A %s g scale, that swatch with %s rows, or %s of it weighed together,", scale.text,
                           rows.text, copies.text);
    if (why->rows > 0)
        return text_format("A %s g scale, or that swatch with %s rows,", scale.text, rows.text);
    if (why->copies > 0)
        return text_format("A %s g scale, or %s of it weighed together,", scale.text, copies.text);
    return text_format("A %s g scale", scale.text);
}

/* Returns the remedy for the cause, as the subject of a sentence; NULL if the cause has no remedy. */
static char *remedy_words(const struct hk_need_why *why)
{
    const struct number scale = number_stated(why->new_step_g);
    switch (why->cause) {
    case HK_CAUSE_NOTHING_WEIGHED:
    case HK_CAUSE_STITCH:
    case HK_CAUSE_TOOL:
    case HK_CAUSE_YARN:
        return swatch_words("A swatch", "", why);
    case HK_CAUSE_ONE_DAY:
        return swatch_words("One more swatch", ", worked on another day and", why);
    case HK_CAUSE_SCALE:
        return scale_words(why);
    case HK_CAUSE_GRIST:
        return text_format("Unravelling swatch %s and measuring its yarn", why->swatch);
    case HK_CAUSE_GARMENT:
        if (why->yarn)
            return text_format(
                "Weighing the yarn of %s in the finished piece %s (a %s g scale; progress.csv), or learning "
                "from a finished project,",
                why->yarn, why->piece, scale.text);
        return text_format("Weighing the finished piece %s (a %s g scale; progress.csv), or learning from a finished project,",
                           why->piece, scale.text);
    case HK_CAUSE_BALL:
        return text_format("Weighing a full ball (a %s g scale; ball_weighs in yarns.csv)", scale.text);
    case HK_CAUSE_MAKING:
        return NULL;
    }
    return NULL;
}

static void report_cause(const struct hk_need_why *why, const char *now, const char *terms, struct text *text)
{
    char *cause = cause_words(why, terms), *remedy = remedy_words(why);
    const char *most = why->share >= 0.5 ? "Most of it: " : "";
    const struct number then = number_percent(why->spread_mass_then);
    if (!cause || (!remedy && why->cause != HK_CAUSE_MAKING))
        text->failed = true;
    else if (remedy)
        text_item(text, "%s%s. %s would narrow it from %s to %s.", most, cause, remedy, now, then.text);
    else
        text_item(text, "%s%s: %s would be left when all else is done.", most, cause, then.text);
    free(cause);
    free(remedy);
}

/* Returns whether the remedy changes any of the digits shown; otherwise it is not worth mentioning. */
static bool worth_saying(const struct hk_need_why *why, const char *now)
{
    return why->cause == HK_CAUSE_MAKING || strcmp(number_percent(why->spread_mass_then).text, now) != 0;
}

/* Shows the main causes of one role, up to a limit. */
static void report_causes(const struct work *work, size_t role, bool alone, struct text *text)
{
    const struct hk_need *need = work->need;
    const struct number now = number_percent(need->roles[role].spread_mass);
    const char *terms = hk_project_uk_terms(work->project) ? "UK" : "US";
    size_t said = 0;
    if (!alone)
        text_paragraph(text, "%s, give or take %s:", need->roles[role].role_name, now.text);
    for (size_t i = 0; i < need->why_count; i++) {
        bool stays = need->why[i].cause == HK_CAUSE_MAKING;
        if (need->why[i].role != role || (said == CAUSES_SAID && !stays) || !worth_saying(&need->why[i], now.text))
            continue;
        report_cause(&need->why[i], now.text, terms, text);
        said += !stays;
    }
}

/* Shows the causes of every role in the middle size. */
static void report_why(const struct work *work, struct text *text)
{
    const struct hk_need *need = work->need;
    if (!need->why_count)
        return;
    const size_t first = need->why[0].role, last = need->why[need->why_count - 1].role;
    const bool sized = need->size_count > 1;
    text_gap(text);
    text_heading(text, "Causes of the range, and ways to narrow it%s%s%s", sized ? " (size " : "",
                 sized ? need->roles[first].size_name : "", sized ? ")" : "");
    for (size_t role = first; role <= last; role++)
        report_causes(work, role, first == last, text);
}

/* ---- Where it goes ---- */

/* Amounts are whole, with one more digit below ten. Lines are no more precise than their sum, but must add up to it. */
static struct number part_figure(double value)
{
    return number_stepped(value, (struct number_step){1, value < 10 ? -1 : 0}, NUMBER_NEAREST);
}

static void report_lines(const struct hk_need *need, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_LEFT, "ROLE");
    text_table_column(table, TEXT_RIGHT, "STITCHES");
    text_table_column(table, TEXT_RIGHT, "g");
    text_table_column(table, TEXT_RIGHT, "m");
    text_table_column(table, TEXT_RIGHT, "SHARE");
    text_table_column(table, TEXT_RIGHT, "ENOUGH g");
    for (size_t i = 0; i < need->part_count; i++) {
        const struct hk_need_part *part = &need->parts[i];
        text_table_cell(table, "%s", part->piece);
        text_table_cell(table, "%s", part->part);
        text_table_cell(table, "%s", part->role_name);
        text_table_cell(table, "%s", part->stitches > 0 ? number_whole(part->stitches).text : "-");
        text_table_cell(table, "%s", part_figure(part->mass_g).text);
        text_table_cell(table, "%s", part_figure(part->length_m).text);
        text_table_cell(table, "%s", number_share(part->share).text);
        text_table_cell(table, "%s", part_figure(part->enough_g).text);
    }
    text_table_print(table);
}

static int compare_parts(const struct hk_need_part *a, const struct hk_need_part *b)
{
    const int piece = strcmp(a->piece, b->piece), part = piece ? piece : strcmp(a->part, b->part);
    return part ? part : (a->role > b->role) - (a->role < b->role);
}

static int by_part(const void *a, const void *b)
{
    const struct hk_need_part *x = *(const struct hk_need_part *const *)a, *y = *(const struct hk_need_part *const *)b;
    const int order = compare_parts(x, y);
    return order ? order : (x > y) - (x < y);
}

/* The lines of one piece, part and role in all sizes: `count` lines starting at `parts`. */
struct lines {
    const struct hk_need_part **parts;
    size_t count;
};

static int by_first(const void *a, const void *b)
{
    const struct hk_need_part *x = ((const struct lines *)a)->parts[0], *y = ((const struct lines *)b)->parts[0];
    return (x > y) - (x < y);
}

/* Groups the sorted parts. Returns the number of groups. */
static size_t group(const struct hk_need_part **parts, size_t count, struct lines *lines)
{
    size_t groups = 0;
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || compare_parts(parts[i - 1], parts[i]) != 0)
            lines[groups++] = (struct lines){parts + i, 0};
        lines[groups - 1].count++;
    }
    qsort(lines, groups, sizeof *lines, by_first);
    return groups;
}

/* Adds up the share of the lines in each size; -1 for a size that has none of them. */
static void add_shares(const struct lines *lines, double *shares, size_t size_count)
{
    for (size_t size = 0; size < size_count; size++)
        shares[size] = -1;
    for (size_t i = 0; i < lines->count; i++) {
        double *share = &shares[lines->parts[i]->size];
        *share = (*share < 0 ? 0 : *share) + lines->parts[i]->share;
    }
}

static void fill_shares(const struct hk_need *need, const struct lines *lines, size_t groups, double *shares,
                        struct text_table *table)
{
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_KEY, "ROLE");
    for (size_t size = 0; size < need->size_count; size++)
        text_table_column(table, TEXT_RIGHT, "%s", need->sizes[size]);
    for (size_t i = 0; i < groups; i++) {
        text_table_cell(table, "%s", lines[i].parts[0]->piece);
        text_table_cell(table, "%s", lines[i].parts[0]->part);
        text_table_cell(table, "%s", lines[i].parts[0]->role_name);
        add_shares(&lines[i], shares, need->size_count);
        for (size_t size = 0; size < need->size_count; size++)
            text_table_cell(table, "%s", shares[size] < 0 ? "-" : number_share(shares[size]).text);
    }
}

static void report_shares(const struct hk_need *need, struct text *text)
{
    const size_t count = need->part_count;
    const struct hk_need_part **parts = calloc(count + 1, sizeof *parts);
    struct lines *lines = calloc(count + 1, sizeof *lines);
    double *shares = calloc(need->size_count + 1, sizeof *shares);
    if (parts && lines && shares) {
        struct text_table *table = text_table(text);
        for (size_t i = 0; i < count; i++)
            parts[i] = &need->parts[i];
        qsort(parts, count, sizeof *parts, by_part);
        fill_shares(need, lines, group(parts, count, lines), shares, table);
        text_table_print(table);
    } else {
        text->failed = true;
    }
    free(parts);
    free(lines);
    free(shares);
}

static void report_where(const struct work *work, struct text *text)
{
    text_gap(text);
    if (work->need->size_count == 1)
        text_heading(text, "Where the yarn goes: likely amounts, ends included");
    else if (work->size != HK_NO_SIZE)
        text_heading(text, "Where the yarn goes (size %s): likely amounts, ends included",
                     work->need->sizes[work->size]);
    else
        text_heading(text, "Where the yarn goes: share of each role's grams");
    text_gap(text);
    if (work->need->size_count == 1 || work->size != HK_NO_SIZE) {
        report_lines(work->need, text);
    } else {
        report_shares(work->need, text);
        text_gap(text);
        text_paragraph(text, "With --size, every line has its stitches, grams and metres.");
    }
}

static enum outcome print_text(const struct work *work, const struct options *options, struct text *text)
{
    text_heading(text, "%s: yarn needed", work->need->project);
    report_basis(work->need, text);
    in_hand_report(work->need, text);
    text_gap(text);
    report_answer(work->need, text);
    report_joins(work->need, text);
    if (more_wanted(options, OPTION_WHY)) {
        report_range(work->need, text);
        report_why(work, text);
    }
    if (more_wanted(options, OPTION_WHERE))
        report_where(work, text);
    if (options->given & OPTION_EVIDENCE)
        evidence_report(text, work);
    more_report(text, work, options, OPTION_WHY | OPTION_WHERE, HK_CODE_END);
    return text_outcome(text);
}

static enum outcome print_json(const struct work *work, const struct options *options, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    need_json(&json, answer, work);
    if (options->given & OPTION_EVIDENCE)
        evidence_json(&json, answer, work);
    return json_write(&json, answer, out);
}

enum outcome cmd_need(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct text text = text_to(out, options->width);
    if (options->given & OPTION_EACH)
        return each_folder(options, out);
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (outcome == DONE)
        outcome = options->given & OPTION_JSON ? print_json(&work, options, out) : print_text(&work, options, &text);
    pipeline_free(&work);
    return outcome;
}
