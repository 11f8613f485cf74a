/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful need: the balls and the amount that are enough, in both unit systems, and the likely amount with its range.
 * need_why.c and need_where.c have the rest. Figures have the digits that their spread warrants.
 */
#include "amount.h"
#include "each.h"
#include "evidence.h"
#include "findings.h"
#include "in_hand.h"
#include "more.h"
#include "need_json.h"
#include "need_text.h"
#include "number.h"

#include <stdlib.h>
#include <string.h>

/* ---- The answer ---- */

static bool flat_margin(const struct hk_need *need)
{
    return need->margin >= 0;
}

/* Returns what the first paragraph says of readings that are far from all others. Owner: the caller (free). */
static char *left_out_words(const struct hk_need *need)
{
    const bool one = need->left_out == 1;
    if (need->left_out == 0)
        return text_format("%s", "");
    return text_format(" %zu reading%s %s far off and left out (--evidence).", need->left_out, one ? "" : "s",
                       one ? "is" : "are");
}

/*
 * Prints "2 readings of your own swatches, 1 weighing of the work in hand and 1 of full balls", with only the kinds
 * that exist.
 */
static void report_readings(const struct hk_need *need, struct text *text)
{
    const size_t others =
        need->evidence_progress + need->evidence_learned + need->evidence_balls + need->evidence_testers;
    const struct {
        size_t count;
        const char *one, *of;
    } kinds[] = {
        {need->evidence - others, "reading", "of your own swatches"},
        {need->evidence_progress, "weighing", "of the work in hand"},
        {need->evidence_learned, "weighing", "of finished work"},
        {need->evidence_balls, "weighing", "of full balls"},
        {need->evidence_testers, "result", "of testers"},
    };
    size_t last = 0, first = SIZE_MAX;
    char *left_out = left_out_words(need);
    text->failed |= !left_out;
    if (need->evidence == need->evidence_balls) {
        text_paragraph(text, "From the loop rule alone (stitch counts, tools and labels)%s%s",
                       need->left_out > 0 ? "." : ": nothing has been weighed yet.", left_out ? left_out : "");
        free(left_out);
        return;
    }
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
        text_paragraph(text, "%s.%s", all, left_out ? left_out : "");
    else
        text->failed = true;
    free(all);
    free(left_out);
}

/* Opens the answer: what the figures are, for which size, and what they rest on. */
static void report_opening(const struct work *work, struct text *text)
{
    const struct hk_need *need = work->need;
    const bool one = need->size_count > 1 && work->size != HK_NO_SIZE;
    const char *comma = one ? ", " : "", *size = one ? need->sizes[work->size] : "";
    if (flat_margin(need))
        text_heading(text, "%s%s%s: yarn to have, the likely amount and a flat %s more", need->project, comma, size,
                     number_asked(need->margin).text);
    else
        text_heading(text, "%s%s%s: yarn to have, %s sure of each", need->project, comma, size,
                     number_asked(need->chance).text);
    report_readings(need, text);
    in_hand_report(need, text);
    text_gap(text);
}

/* The table for one size: a line for each role. */
static void report_one_size(const struct hk_need *need, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    for (enum amount_unit unit = 0; unit < AMOUNT_UNITS; unit++)
        text_table_column(table, TEXT_RIGHT, "%s", amount_unit_name(unit));
    if (flat_margin(need))
        text_table_column(table, TEXT_RIGHT, "CHANCE");
    text_table_column(table, TEXT_WRAP, "A BALL");
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        text_table_cell(table, "%s", role->role_name);
        text_table_cell(table, "%s", number_whole(role->balls).text);
        for (enum amount_unit unit = 0; unit < AMOUNT_UNITS; unit++)
            text_table_cell(table, "%s", amount_enough(amount_range(role, unit), unit).text);
        if (flat_margin(need))
            text_table_cell(table, "%s", number_chance(role->chance).text);
        text_table_cell(table, "%s g (%s m) %s%s%s", number_label(role->put_up_g).text,
                        number_label(role->put_up_m).text, role->yarn, *role->colour ? " " : "", role->colour);
    }
    text_table_print(table);
}

/* ---- Sizes across ---- */

/* A project's roles in the order of yarns.csv, each with its place in every size. */
struct roles_across {
    size_t *at; /* role_count x size_count indices into need->roles; SIZE_MAX: the size does without the role */
    size_t role_count, size_count;
};

#define ROLES_ALL_UNITS 4 /* up to so many roles have every unit on the first screen, */
#define ROLES_MASS 12     /* up to so many balls and grams, and more than that balls alone */

static bool fill_across(const struct hk_need *need, struct roles_across *across)
{
    across->size_count = need->size_count;
    for (size_t i = 0; i < need->role_count; i++)
        across->role_count = need->roles[i].role >= across->role_count ? need->roles[i].role + 1 : across->role_count;
    const size_t cells = across->role_count * across->size_count;
    across->at = malloc((cells + 1) * sizeof *across->at);
    for (size_t i = 0; across->at && i < cells; i++)
        across->at[i] = SIZE_MAX;
    for (size_t i = 0; across->at && i < need->role_count; i++)
        across->at[need->roles[i].role * across->size_count + need->roles[i].size] = i;
    return across->at != NULL;
}

/* Returns the first size's entry of a role; NULL: no size has the role. */
static const struct hk_need_role *any_size(const struct hk_need *need, const struct roles_across *across, size_t role)
{
    for (size_t size = 0; size < across->size_count; size++)
        if (across->at[role * across->size_count + size] != SIZE_MAX)
            return &need->roles[across->at[role * across->size_count + size]];
    return NULL;
}

/* Figures of a role that a line can show. */
enum across_line { LINE_BALLS, LINE_MASS, LINE_OZ, LINE_M, LINE_YD, LINE_CHANCE, LINES };

static const char *line_name(enum across_line line)
{
    static const char *const names[] = {[LINE_BALLS] = "balls", [LINE_MASS] = "g", [LINE_OZ] = "oz",
                                        [LINE_M] = "m",         [LINE_YD] = "yd",  [LINE_CHANCE] = "chance"};
    return names[line];
}

static struct number line_figure(const struct hk_need_role *role, enum across_line line)
{
    static const enum amount_unit units[] = {
        [LINE_MASS] = AMOUNT_G, [LINE_OZ] = AMOUNT_OZ, [LINE_M] = AMOUNT_M, [LINE_YD] = AMOUNT_YD};
    if (line == LINE_BALLS)
        return number_whole(role->balls);
    if (line == LINE_CHANCE)
        return number_chance(role->chance);
    return amount_enough(amount_range(role, units[line]), units[line]);
}

static bool line_shown(const struct hk_need *need, const struct roles_across *across, enum across_line line)
{
    if (line == LINE_CHANCE)
        return flat_margin(need);
    return line == LINE_BALLS || across->role_count <= ROLES_ALL_UNITS ||
           (line == LINE_MASS && across->role_count <= ROLES_MASS);
}

static void report_across_lines(const struct hk_need *need, const struct roles_across *across, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_KEY, "%s", "");
    for (size_t size = 0; size < across->size_count; size++)
        text_table_column(table, TEXT_RIGHT, "%s", need->sizes[size]);
    for (size_t role = 0; role < across->role_count; role++) {
        const struct hk_need_role *any = any_size(need, across, role);
        for (enum across_line line = 0; any && line < LINES; line++) {
            if (!line_shown(need, across, line))
                continue;
            text_table_cell(table, "%s", line == LINE_BALLS ? any->role_name : "");
            text_table_cell(table, "%s", line_name(line));
            for (size_t size = 0; size < across->size_count; size++) {
                const size_t at = across->at[role * across->size_count + size];
                text_table_cell(table, "%s", at == SIZE_MAX ? "-" : line_figure(&need->roles[at], line).text);
            }
        }
    }
    text_table_print(table);
}

/* Says what a ball of each role is. */
static void report_balls(const struct hk_need *need, const struct roles_across *across, struct text *text)
{
    char *words = NULL;
    bool good = true;
    for (size_t role = 0; role < across->role_count && good; role++) {
        const struct hk_need_role *any = any_size(need, across, role);
        if (any)
            good = text_append(&words, "%s%s: %s g (%s m) %s%s%s", words ? "; " : "Balls of ", any->role_name,
                               number_label(any->put_up_g).text, number_label(any->put_up_m).text, any->yarn,
                               *any->colour ? " " : "", any->colour);
    }
    if (words && good)
        text_paragraph(text, "%s.", words);
    text->failed |= !good;
    free(words);
}

static void report_sizes_across(const struct hk_need *need, struct text *text)
{
    struct roles_across across = {0};
    if (fill_across(need, &across)) {
        report_across_lines(need, &across, text);
        text_gap(text);
        report_balls(need, &across, text);
    } else {
        text->failed = true;
    }
    free(across.at);
}

/* ---- Likely amounts ---- */

#define LIKELY_MOST 4 /* roles with a sentence on the first screen, the heaviest; --why has the others */

/* Returns whether fewer than LIKELY_MOST roles of the same size are heavier. */
static bool among_heaviest(const struct hk_need *need, size_t at, size_t first, size_t end)
{
    const double mass_g = need->roles[at].mass_g.likely;
    size_t heavier = 0;
    for (size_t i = first; i < end; i++) {
        const double other_g = need->roles[i].mass_g.likely;
        heavier += other_g > mass_g || (i < at && other_g == mass_g);
    }
    return heavier < LIKELY_MOST;
}

static void report_likely(const struct work *work, struct text *text)
{
    const struct hk_need *need = work->need;
    if (!need->why_count)
        return;
    const size_t first = need->why[0].role, end = need->why[need->why_count - 1].role + 1;
    text_gap(text);
    for (size_t i = first; i < end; i++)
        if (among_heaviest(need, i, first, end))
            need_likely_report(work, i, text);
    if (end - first > LIKELY_MOST)
        text_paragraph(text, "The other %zu yarns: --why.", end - first - LIKELY_MOST);
}

static enum outcome print_text(const struct work *work, const struct options *options, struct text *text)
{
    report_opening(work, text);
    if (work->need->size_count == 1 || work->size != HK_NO_SIZE)
        report_one_size(work->need, text);
    else
        report_sizes_across(work->need, text);
    report_likely(work, text);
    if (more_wanted(options, OPTION_WHY))
        need_why_report(work, text);
    if (more_wanted(options, OPTION_WHERE))
        need_where_report(work, text);
    if (more_wanted(options, OPTION_EVIDENCE))
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
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    if (options->given & OPTION_EACH)
        return each_folder(options, out);
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (outcome == DONE)
        outcome = options->given & OPTION_JSON ? print_json(&work, options, out) : print_text(&work, options, &text);
    pipeline_free(&work);
    return outcome;
}
