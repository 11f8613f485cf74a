/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need_text.h"

#include "number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- The range ---- */

static void add_range(struct text_table *table, const struct hk_need_role *role, enum amount_unit unit)
{
    const struct hk_range *range = amount_range(role, unit);
    text_table_cell(table, "%s-%s", amount_shown(range, range->low, unit, NUMBER_DOWN).text,
                    amount_shown(range, range->high, unit, NUMBER_UP).text);
}

static void add_likely(struct text_table *table, const struct hk_need_role *role, enum amount_unit unit)
{
    const struct hk_range *range = amount_range(role, unit);
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

/* ---- Its causes ---- */

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
static void report_all_causes(const struct work *work, struct text *text)
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

void need_why_report(const struct work *work, struct text *text)
{
    report_range(work->need, text);
    report_joins(work->need, text);
    report_all_causes(work, text);
}

/* ---- In a sentence ---- */

/* Returns the remedy in a few words, "weigh a full ball". Owner: the caller (free). */
static char *help_words(const struct hk_need_why *why)
{
    switch (why->cause) {
    case HK_CAUSE_NOTHING_WEIGHED:
    case HK_CAUSE_STITCH:
    case HK_CAUSE_TOOL:
    case HK_CAUSE_YARN:
        return text_format("a weighed swatch of %s on %s mm in %s", why->fabric, number_stated(why->tool_mm).text, why->yarn);
    case HK_CAUSE_ONE_DAY:
        return text_format("one more swatch of %s on %s mm", why->fabric, number_stated(why->tool_mm).text);
    case HK_CAUSE_SCALE:
        return text_format("a %s g scale for swatch %s", number_stated(why->new_step_g).text, why->swatch);
    case HK_CAUSE_GRIST:
        return text_format("unravel and measure swatch %s", why->swatch);
    case HK_CAUSE_GARMENT:
        if (why->yarn)
            return text_format("weigh the yarn of %s in the finished %s", why->yarn, why->piece);
        return text_format("weigh the finished %s", why->piece);
    case HK_CAUSE_BALL:
        return text_format("weigh a full ball of %s", why->yarn);
    case HK_CAUSE_MAKING:
        break;
    }
    return NULL;
}

/* Returns the remedy of the role that leaves the least spread, before the work begins or during it; NULL: none. */
static const struct hk_need_why *best_help(const struct hk_need *need, size_t at, bool during, const char *now)
{
    const struct hk_need_why *best = NULL;
    for (size_t i = 0; i < need->why_count; i++) {
        const struct hk_need_why *why = &need->why[i];
        if (why->role == at && why->cause != HK_CAUSE_MAKING && (why->cause == HK_CAUSE_GARMENT) == during &&
            worth_saying(why, now) && (!best || why->spread_mass_then < best->spread_mass_then))
            best = why;
    }
    return best;
}

/* Appends "; narrower with: one more swatch (6.3%)". */
static bool append_help(char **words, const char *before, const struct hk_need_why *why)
{
    char *help = why ? help_words(why) : NULL;
    const bool good = !why || (help && text_append(words, "%s%s (%s)", before, help, number_percent(why->spread_mass_then).text));
    free(help);
    return good;
}

void need_likely_report(const struct work *work, size_t at, struct text *text)
{
    const struct hk_need *need = work->need;
    const struct hk_need_role *role = &need->roles[at];
    const struct hk_range *range = &role->mass_g;
    const struct number now = number_percent(role->spread_mass);
    const struct hk_need_why *before = best_help(need, at, false, now.text), *during = best_help(need, at, true, now.text);
    char *words = text_format("%s%s%s: likely %s g (%s-%s), give or take %s.", need->size_count > 1 ? role->size_name : "",
                              need->size_count > 1 ? " " : "", role->role_name,
                              amount_shown(range, range->likely, AMOUNT_G, NUMBER_NEAREST).text,
                              amount_shown(range, range->low, AMOUNT_G, NUMBER_DOWN).text,
                              amount_shown(range, range->high, AMOUNT_G, NUMBER_UP).text, now.text);
    bool good = words && append_help(&words, " Best help: ", before) &&
                append_help(&words, before ? "; while you work: " : " Best help: ", during) &&
                text_append(&words, "%s", before || during ? "." : "");
    if (good)
        text_paragraph(text, "%s", words);
    text->failed |= !good;
    free(words);
}
