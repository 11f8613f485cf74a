/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful shop: first what to buy and what it costs, with the chance that it is enough; then the effect of a ball fewer
 * and one more, and where each ball is bought. Several sizes are a table, sizes across.
 */
#include "shop_text.h"

#include "findings.h"
#include "in_hand.h"
#include "more.h"
#include "number.h"
#include "purchases.h"

#include <stdlib.h>
#include <string.h>

/* Prints the words, unless memory ran out (good: false), and frees them. */
static void print_words(struct text *text, char *words, bool good)
{
    if (good && *words)
        text_paragraph(text, "%s", words);
    text->failed |= !good;
    free(words);
}

/* ---- What to buy ---- */

/* The balls of a role in a basket. */
struct count {
    int64_t bought, home;
};

static struct count count_of(const struct hk_shop_size *size, const char *role)
{
    struct count count = {0};
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        if (strcmp(line->role, role) == 0)
            *(shop_is_own(line->shop) ? &count.home : &count.bought) += line->balls;
    }
    return count;
}

/* Appends "9 main + 2 contrast": the balls bought, or those at home. */
static bool append_balls(char **words, const struct hk_shop_size *size, bool home)
{
    bool any = false;
    for (size_t i = 0; i < size->role_count; i++) {
        const struct count count = count_of(size, size->roles[i].role);
        const int64_t balls = home ? count.home : count.bought;
        if (balls && !text_append(words, "%s%s %s", any ? " + " : "", number_whole(balls).text, size->roles[i].role))
            return false;
        any |= balls > 0;
    }
    return true;
}

/* Returns whether some balls are bought, or some are from home. */
static bool any_from(const struct hk_shop_size *size, bool home)
{
    for (size_t i = 0; i < size->line_count; i++)
        if (shop_is_own(size->lines[i].shop) == home)
            return true;
    return false;
}

/* Returns whether the yarn of the role has a price. */
static bool priced(const struct hk_shop_role *role)
{
    return role->steps[0].cost_minor >= 0;
}

/* Appends ", EUR 72.00", and the roles without a price. */
static bool append_cost(char **words, const struct hk_shop *shop, const struct hk_shop_size *size)
{
    size_t unpriced = 0;
    for (size_t i = 0; i < size->role_count; i++)
        unpriced += !priced(&size->roles[i]);
    if (unpriced == size->role_count)
        return text_append(words, "%s", unpriced ? ", no price stated" : "");
    if (!text_append(words, ", %s", shop_named_money(shop, size->total_minor).text))
        return false;
    for (size_t i = 0, listed = 0; i < size->role_count; i++)
        if (!priced(&size->roles[i]) && !text_append(words, "%s%s",
                                                     listed++ == 0        ? " without the price of "
                                                     : listed == unpriced ? " and "
                                                                          : ", ",
                                                     size->roles[i].role))
            return false;
    return true;
}

/* "Buy for M: 9 main + 2 contrast, EUR 72.00. 99.4% sure."; "Buy nothing for M: 1 main at home. 98% sure." */
static void report_purchase(const struct work *work, const struct hk_shop_size *size, struct text *text)
{
    const bool named = hk_project_sizes(work->project) > 1 || size->times > 1;
    char *title = shop_size_title(size), *words = NULL;
    const bool bought = any_from(size, false);
    bool good = title && text_append(&words, "Buy%s%s%s: ", bought ? "" : " nothing", named ? " for " : "", named ? title : "") &&
                append_balls(&words, size, false);
    if (good && any_from(size, true))
        good = text_append(&words, "%s", bought ? ", besides " : "") && append_balls(&words, size, true) &&
               text_append(&words, " at home");
    good = good && (!bought || append_cost(&words, work->shop, size)) &&
           text_append(&words, ". %s sure.", number_chance(size->chance_all).text);
    print_words(text, words, good);
    free(title);
}

/* ---- A ball fewer, one more ---- */

/* Appends ", saves 6.40", ", 6.40 more", ", at the same cost" or ", from home". */
static bool append_change(char **words, const struct hk_shop *shop, const struct hk_shop_role *role, int away)
{
    const struct hk_shop_step *step = shop_step_at(role, away);
    const int64_t change_minor = step->cost_minor - shop_step_at(role, 0)->cost_minor;
    if (step->cost_minor < 0)
        return true;
    if (change_minor == 0 && shop_is_own(step->shop))
        return away < 0 || text_append(words, ", from home");
    if (change_minor == 0)
        return text_append(words, ", at the same cost");
    if (change_minor < 0)
        return text_append(words, ", saves %s", shop_money(shop, -change_minor).text);
    return text_append(words, ", %s more", shop_money(shop, change_minor).text);
}

/*
 * "8 main: 87%, saves 6.40. 10 main: >99.9%, 6.40 more."; "6 main with those at home: 52%, saves 6.40; 8: >99.9%, 6.40
 * more."
 */
static bool append_effects(char **words, const struct hk_shop *shop, const struct hk_shop_size *size,
                           const struct hk_shop_role *role)
{
    const bool home = count_of(size, role->role).home > 0;
    bool good = true, any = false;
    for (int away = -1; away <= 1; away += 2) {
        const struct hk_shop_step *step = shop_step_at(role, away);
        if (!step || !good)
            continue;
        good = text_append(words, "%s%s", !any ? " " : home ? "; " : ". ", number_whole(step->balls).text) &&
               (any && home ? true : text_append(words, " %s%s", role->role, home ? " with those at home" : "")) &&
               text_append(words, ": %s", number_chance(step->chance).text) && append_change(words, shop, role, away);
        any = true;
    }
    if (good && any)
        good = text_append(words, ".");
    if (good && !shop_step_at(role, 1))
        good = text_append(words, " No more %s%s is on offer.", role->role, shop->lots_apart ? " of its lot" : "");
    return good;
}

/* A line for each of a few roles; many run on. */
static void report_effects(const struct hk_shop *shop, const struct hk_shop_size *size, struct text *text)
{
    const size_t few = 3;
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < size->role_count && good; i++) {
        good = append_effects(&words, shop, size, &size->roles[i]);
        if (good && words && (size->role_count <= few || i + 1 == size->role_count)) {
            text_paragraph(text, "%s", words + 1); /* without the first blank */
            free(words);
            words = NULL;
        }
    }
    text->failed |= !good;
    free(words);
}

/* "Left over: about 200 m main, 55 m contrast. One lot each." */
static void report_left_over(const struct hk_shop *shop, const struct hk_shop_size *size, struct text *text)
{
    char *words = text_format("Left over: about ");
    bool good = words != NULL, several = false;
    for (size_t i = 0; good && i < size->role_count; i++) {
        const struct hk_shop_role *role = &size->roles[i];
        const struct hk_shop_step *step = shop_step_at(role, 0);
        several |= step->balls > 1;
        good = text_append(&words, "%s%s m %s", i ? ", " : "",
                           number_stepped(step->expected_left_over_m, number_step(role->deviation_m, 0), NUMBER_NEAREST).text,
                           role->role);
    }
    const char *lots = size->role_count > 1 ? " One lot each." : " One lot.";
    good = good && text_append(&words, ".%s", shop->lots_apart && several ? lots : "");
    print_words(text, words, good);
}

static void report_one(const struct work *work, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    const struct hk_shop_size *size = &shop->sizes[0];
    report_purchase(work, size, text);
    report_effects(shop, size, text);
    report_left_over(shop, size, text);
}

/* ---- Several sizes ---- */

static const struct hk_shop_role *role_named(const struct hk_shop_size *size, const char *role)
{
    for (size_t i = 0; i < size->role_count; i++)
        if (strcmp(size->roles[i].role, role) == 0)
            return &size->roles[i];
    return NULL;
}

static bool role_before(const struct hk_shop *shop, size_t size, const char *role)
{
    for (size_t i = 0; i < size; i++)
        if (role_named(&shop->sizes[i], role))
            return true;
    return false;
}

static void add_counts(struct text_table *table, const struct hk_shop *shop, const char *role, bool home)
{
    text_table_cell(table, "%s%s", role, home ? " at home" : "");
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct count count = count_of(&shop->sizes[i], role);
        const int64_t balls = home ? count.home : count.bought;
        text_table_cell(table, "%s", balls ? number_whole(balls).text : "-");
    }
}

static bool any_of(const struct hk_shop *shop, const char *role, bool home)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct count count = count_of(&shop->sizes[i], role);
        if ((home ? count.home : count.bought) > 0)
            return true;
    }
    return false;
}

/* Returns whether the role has a ball of this mass in an earlier line or size. */
static bool put_up_before(const struct hk_shop *shop, size_t size, size_t line)
{
    const struct hk_shop_line *of = &shop->sizes[size].lines[line];
    for (size_t i = 0; i <= size; i++)
        for (size_t j = 0; j < (i < size ? shop->sizes[i].line_count : line); j++)
            if (strcmp(shop->sizes[i].lines[j].role, of->role) == 0 && shop->sizes[i].lines[j].put_up_g == of->put_up_g)
                return true;
    return false;
}

/* Appends "50 g and 22 g Holm DK Kelp": the balls of a role in all sizes. */
static bool append_kinds(char **words, const struct hk_shop *shop, const char *role)
{
    const struct hk_shop_line *first = NULL;
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].line_count; j++) {
            const struct hk_shop_line *line = &shop->sizes[i].lines[j];
            if (strcmp(line->role, role) != 0 || (first && put_up_before(shop, i, j)))
                continue;
            if (!text_append(words, "%s%s\u00a0g", first ? " and " : " ", number_label(line->put_up_g).text))
                return false;
            first = first ? first : line;
        }
    }
    return !first || text_append(words, " %s%s%s", first->yarn, *first->colour ? " " : "", first->colour);
}

/* "Balls: main 50 g Holm DK Lichen; contrast 50 g Holm Tweed DK Kelp." */
static void report_kinds(const struct hk_shop *shop, struct text *text)
{
    char *words = text_format("Balls:");
    bool good = words != NULL, any = false;
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count && good; j++) {
            const char *role = shop->sizes[i].roles[j].role;
            if (role_before(shop, i, role))
                continue;
            good = text_append(&words, "%s %s", any ? ";" : "", role) && append_kinds(&words, shop, role);
            any = true;
        }
    }
    good = good && text_append(&words, ".");
    print_words(text, words, good);
}

static void add_totals(struct text_table *table, const struct hk_shop *shop)
{
    text_table_cell(table, "%s", *shop->currency ? shop->currency : "cost");
    for (size_t i = 0; i < shop->size_count; i++) {
        const bool any = shop->sizes[i].priced || shop->sizes[i].total_minor > 0;
        text_table_cell(table, "%s%s", shop_money(shop, any ? shop->sizes[i].total_minor : -1).text,
                        any && !shop->sizes[i].priced ? "*" : "");
    }
    text_table_cell(table, "sure");
    for (size_t i = 0; i < shop->size_count; i++)
        text_table_cell(table, "%s", number_chance(shop->sizes[i].chance_all).text);
}

/* The balls of each role, the cost and the chance that all are enough, sizes across. */
static void report_sizes(const struct hk_shop *shop, struct text *text)
{
    struct text_table *table = text_table(text);
    bool part = false;
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    for (size_t i = 0; i < shop->size_count; i++) {
        char *title = shop_size_title(&shop->sizes[i]);
        text_table_column(table, TEXT_RIGHT, "%s", title ? title : "");
        text->failed |= !title;
        free(title);
        part |= !shop->sizes[i].priced && shop->sizes[i].total_minor > 0;
    }
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count; j++) {
            const char *role = shop->sizes[i].roles[j].role;
            if (role_before(shop, i, role))
                continue;
            for (int home = 0; home < 2; home++)
                if (any_of(shop, role, home))
                    add_counts(table, shop, role, home);
        }
    }
    add_totals(table, shop);
    text_table_print(table);
    text_gap(text);
    if (part)
        text_paragraph(text, "* without the yarn that has no price.");
    report_kinds(shop, text);
}

/* "Balls to buy, 95% sure of each yarn" */
static void report_several(const struct hk_shop *shop, struct text *text)
{
    if (shop->short_cost_minor >= 0)
        text_heading(text, "Balls to buy");
    else if (shop->margin >= 0)
        text_heading(text, "Balls to buy, the likely amount and %s more", number_asked(shop->margin).text);
    else
        text_heading(text, "Balls to buy, %s sure of each yarn", number_asked(shop->chance).text);
    report_sizes(shop, text);
}

/* ---- What changes the decision ---- */

/* Returns " in S, M": the sizes for which `holds` is true; "" for the only size, NULL if there is none. */
static char *sizes_where(const struct hk_shop *shop, const char *role, bool (*holds)(const struct hk_shop_role *role),
                         struct text *text)
{
    char *sizes = NULL;
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_role *in = role_named(&shop->sizes[i], role);
        if (!in || !holds(in))
            continue;
        if (shop->size_count == 1)
            text->failed |= !text_append(&sizes, "%s", "");
        else
            text->failed |= !text_append(&sizes, "%s%s", sizes ? ", " : " in ", shop->sizes[i].size);
    }
    return sizes;
}

static bool leaves_home(const struct hk_shop_role *role)
{
    return role->own_left;
}

static bool mixes_lots(const struct hk_shop_role *role)
{
    return role->lots > 1;
}

static void report_role(const struct hk_shop *shop, const struct hk_shop_role *role, struct text *text)
{
    char *left = sizes_where(shop, role->role, leaves_home, text), *mixed = sizes_where(shop, role->role, mixes_lots, text);
    if (role->swatch_use_g > 0)
        text_paragraph(text, "%s: the %s g of your swatches are included.", role->role,
                       number_digits(role->swatch_use_g, 2).text);
    if (mixed && shop->size_count == 1)
        shop_report_mixed(&shop->sizes[0], role, text);
    else if (mixed)
        text_paragraph(text, "%s: lots are mixed%s, as project.csv lets them; --where names them, and their colours may "
                       "differ.", role->role, mixed);
    if (left)
        text_paragraph(text, "%s: some balls at home are not taken%s, for a role stays in one lot, unless lots in project.csv "
                       "says \"may mix\".", role->role, left);
    free(left);
    free(mixed);
}

static void report_roles(const struct hk_shop *shop, struct text *text)
{
    for (size_t i = 0; i < shop->size_count; i++)
        for (size_t j = 0; j < shop->sizes[i].role_count; j++)
            if (!role_before(shop, i, shop->sizes[i].roles[j].role))
                report_role(shop, &shop->sizes[i].roles[j], text);
}

/* What decided, where that is not the chance asked for. */
static void report_basis(const struct hk_shop *shop, struct text *text)
{
    if (shop->short_cost_minor >= 0)
        text_paragraph(text, "At the least expected cost: running short costs %s, and a ball left over keeps %s of its price.",
                       shop_named_money(shop, shop->short_cost_minor).text, number_asked(shop->spare_worth).text);
    else if (shop->margin >= 0 && shop->size_count == 1)
        text_paragraph(text, "That holds the likely amount and a flat %s more, as asked for.", number_asked(shop->margin).text);
}

/* Shown only where the search was stopped. */
static void report_stopped(const struct hk_shop *shop, struct text *text)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_size *size = &shop->sizes[i];
        if (!size->proven && size->gap < 1)
            text_paragraph(text, "%s: the search was stopped; the cheapest basket is at most %s cheaper (--seconds gives it more "
                           "time).", size->size, number_percent(size->gap).text);
        else if (!size->proven)
            text_paragraph(text, "%s: the search was stopped before it could tell how much cheaper a basket there may be "
                           "(--seconds gives it more time).", size->size);
    }
}

/* ---- The pattern's materials ---- */

/* Returns whether the purchase of a colour, in all its roles, is as many balls as the materials state, in each size. */
static bool as_printed(const struct hk_shop *shop, const struct hk_materials_yarn *yarn, const struct hk_materials_colour *colour)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_size *size = &shop->sizes[i];
        int64_t balls = 0;
        for (size_t j = 0; j < size->line_count; j++) {
            const struct hk_shop_line *line = &size->lines[j];
            if (strcmp(line->yarn, yarn->yarn) != 0 || strcmp(line->colour, colour->colour) != 0)
                continue;
            if (line->put_up_g != yarn->put_up_g)
                return true; /* balls of another size have another number */
            balls += line->balls;
        }
        if (balls != colour->balls[i])
            return false;
    }
    return true;
}

/* "The pattern's materials state 9 main: readers vary." */
static void report_materials(const struct work *work, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    struct hk_diags diags = {0};
    struct hk_materials *materials = hk_materials_make(work->need, hk_materials_defaults(), &diags);
    char *words = NULL;
    bool good = !hk_diags_out_of_memory(&diags);
    for (size_t y = 0; materials && y < materials->yarn_count; y++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[y];
        for (size_t c = 0; c < yarn->colour_count && good; c++)
            if (!as_printed(shop, yarn, &yarn->colours[c]))
                good = text_append(&words, "%s%s %s", words ? " and " : "", yarn->colours[c].balls_text,
                                   yarn->colours[c].roles);
    }
    if (words)
        text_paragraph(text, "The pattern's materials state %s: readers vary.", words);
    text->failed |= !good;
    free(words);
    hk_materials_free(materials);
    hk_diags_free(&diags);
}

/* ---- All of it ---- */

void shop_text(const struct work *work, const struct options *options, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    const bool one = shop->size_count == 1;
    if (one)
        report_one(work, text);
    else
        report_several(shop, text);
    report_basis(shop, text);
    if (!(options->given & (OPTION_TOGETHER | OPTION_TIMES)))
        report_materials(work, text);
    report_roles(shop, text);
    report_stopped(shop, text);
    in_hand_report(work->need, text);
    if (one || more_wanted(options, OPTION_WHERE)) {
        text_gap(text);
        if (!one)
            text_heading(text, "Where each ball is bought");
        purchases_print(shop, true, text);
    }
    if (more_wanted(options, OPTION_WHY))
        shop_report_why(shop, text);
    if (more_wanted(options, OPTION_STEPS))
        shop_report_steps(shop, text);
    more_report(text, work, options, OPTION_WHY | OPTION_STEPS | (one ? 0 : OPTION_WHERE), HK_CODE_END);
}
