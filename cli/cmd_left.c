/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful left: what a piece in progress still takes, whether the yarn in hand lasts, and what to order. */
#include "amount.h"
#include "findings.h"
#include "json.h"
#include "more.h"
#include "number.h"
#include "pipeline.h"
#include "place.h"
#include "typed.h"
#include "workbook/workbooks.h"

#include <math.h>
#include <stdlib.h>

/* What a full ball weighs is shown where it is off its label by more than this part. */
#define LABEL_OFF_LEAST 0.005

/* What joins waste is shown where the yarn lasts with less than this chance. */
#define JOINS_CHANCE 0.99

/* ---- Text ---- */

/* Appends "fronts 1, 40 rows (118 g main)". */
static bool append_done(char **words, const struct hk_remaining_done *done, bool first)
{
    bool good = text_append(words, "%s%s", first ? "Worked: " : ". ", done->work);
    if (good && done->mass_g > 0)
        good = text_append(words, ": %s g%s%s", number_label(done->mass_g).text,
                           *done->of ? " of " : " of all yarns together", done->of);
    if (good && done->left_out)
        good = text_append(words, " (far off)");
    return good;
}

static void report_done(const struct hk_remaining *left, struct text *text)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < left->done_count && good; i++)
        good = append_done(&words, &left->done[i], i == 0);
    if (good && words)
        text_paragraph(text, "%s.", words);
    text->failed |= !good;
    free(words);
    if (left->done_count == 0)
        text_paragraph(text, "Nothing is worked yet: progress.csv has no row of this size, and there is no --done.");
    else if (left->left_out > 0)
        text_paragraph(text, "What is far off counts as used, but the rest is predicted without it%s.",
                       left->evidence == 0 ? ", as of a fresh making" : "");
    else if (left->evidence == 0)
        text_paragraph(text, "Nothing of this making is weighed: the rest is predicted as of a fresh one.");
}

/* Returns true when what is in hand is what there was less what was used, by a weighing that is far off. */
static bool rests_on_odd(const struct hk_remaining_role *role)
{
    return role->known && !role->weighed && role->odd;
}

static void report_roles(const struct hk_remaining *left, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "USED g");
    text_table_column(table, TEXT_RIGHT, "TO COME g");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    text_table_column(table, TEXT_RIGHT, "ENOUGH g");
    text_table_column(table, TEXT_RIGHT, "IN HAND g");
    text_table_column(table, TEXT_RIGHT, "LASTS");
    for (size_t i = 0; i < left->role_count; i++) {
        const struct hk_remaining_role *role = &left->roles[i];
        const struct hk_range *range = &role->mass_g;
        const bool any = range->likely > 0;
        text_table_cell(table, "%s", role->role_name);
        text_table_cell(table, "%s%s", role->shared && role->used_g > 0 ? "~" : "",
                        role->used_g > 0 ? number_label(role->used_g).text : "-");
        text_table_cell(table, "%s", any ? amount_shown(range, range->likely, AMOUNT_G, NUMBER_NEAREST).text : "0");
        if (any)
            text_table_cell(table, "%s-%s", amount_shown(range, range->low, AMOUNT_G, NUMBER_DOWN).text,
                            amount_shown(range, range->high, AMOUNT_G, NUMBER_UP).text);
        else
            text_table_cell(table, "0");
        text_table_cell(table, "%s", any ? amount_enough(range, AMOUNT_G).text : "0");
        text_table_cell(table, "%s", role->known ? number_unit(role->in_hand_g).text : "?");
        text_table_cell(table, "%s", role->known && !rests_on_odd(role) ? number_chance(role->chance).text : "?");
    }
    text_table_print(table);
}

/* Says who has the lot in hand. */
static bool append_shop(char **words, const struct hk_remaining_role *role)
{
    const bool few = role->stock >= 0 && role->stock < role->order;
    if (!*role->lot && !*role->shop)
        return true;
    if (!*role->lot)
        return text_append(words, " The lot in hand is not in offers.csv: compare its label with those of %s.",
                           role->shop);
    if (!*role->shop)
        return text_append(words, " No shop in offers.csv has the lot in hand, %s: another lot may look different.",
                           role->lot);
    if (role->stock < 0)
        return text_append(words, " %s has the lot in hand, %s.", role->shop, role->lot);
    return text_append(words, " %s has %s%s ball%s of the lot in hand, %s.", role->shop, few ? "only " : "",
                       number_whole(role->stock).text, NUMBER_PLURAL(role->stock), role->lot);
}

/* Says what to order, and of which lot. */
static void report_order(const struct hk_remaining_role *role, struct text *text)
{
    if (!(role->mass_g.likely > 0)) {
        text_entry(text, "%s: no work is left.", role->role_name);
        return;
    }
    if (rests_on_odd(role)) {
        text_entry(
            text,
            "%s: what is in hand is not sure: it is what there was less %s g used, by a weighing that is far off. "
            "Weigh what is left (--left).",
            role->role_name, number_label(role->used_g).text);
        if (role->order == 0) {
            text_entry(text, "%s: if that is right, there is nothing to order.", role->role_name);
            return;
        }
    }
    if (role->known && role->order == 0) {
        text_entry(text, "%s: nothing to order; it lasts with a chance of %s.", role->role_name,
                   number_chance(role->chance).text);
        return;
    }
    const char *right = rests_on_odd(role) ? "if that is right, " : "";
    char *words = role->known
                      ? text_format("%s: %sorder %s ball%s of %s g now, to have enough with a chance of %s.",
                                    role->role_name, right, number_whole(role->order).text, NUMBER_PLURAL(role->order),
                                    number_label(role->put_up_g).text, number_chance(role->order_chance).text)
                      : text_format("%s: what is in hand is not known (--left, --have, or the shop own in "
                                    "offers.csv). The rest takes %s ball%s of %s g.",
                                    role->role_name, number_whole(role->order).text, NUMBER_PLURAL(role->order),
                                    number_label(role->put_up_g).text);
    const bool good = words && append_shop(&words, role);
    if (good)
        text_entry(text, "%s", words);
    text->failed |= !good;
    free(words);
}

/* Returns the words for an end of the ball in use; without a place, whether it ends at once or not within the work. */
static char *end_words(const struct hk_ball_place *place, bool at_once)
{
    if (!*place->piece)
        return text_format(at_once ? "before the next row is finished" : "not within the work");
    return place_words(place);
}

static void report_ball(const struct hk_remaining_role *role, struct text *text)
{
    if (role->end_count == 0)
        return;
    const struct hk_ball_end *end = &role->ends[0];
    const bool earliest_is = *end->earliest.piece, likely_is = *end->likely.piece, latest_is = *end->latest.piece;
    const bool none = !earliest_is && !likely_is && !latest_is, at_once = none && role->ball_g < role->mass_g.likely;
    if (none && !at_once)
        return; /* the whole rest, and a line above says so */
    char *likely = end_words(&end->likely, at_once || latest_is);
    char *earliest = end_words(&end->earliest, true), *latest = end_words(&end->latest, at_once);
    if (!likely || !earliest || !latest)
        text->failed = true;
    else if (at_once)
        text_entry(text, "%s: the ball in use (%s g) ends %s.", role->role_name, number_unit(role->ball_g).text,
                   likely);
    else
        text_entry(text, "%s: the ball in use (%s g) %s%s; earliest: %s; latest: %s.", role->role_name,
                   number_unit(role->ball_g).text,
                   likely_is   ? "ends after "
                   : latest_is ? "ends "
                               : "lasts to the end of the work",
                   likely_is || latest_is ? likely : "", earliest, latest);
    free(likely);
    free(earliest);
    free(latest);
}

/* Says what does not add up of the yarn before the work. */
static void report_missing(const struct hk_remaining_role *role, struct text *text)
{
    if (role->missing_g > 0)
        text_entry(
            text,
            "%s: %s g of what was there before the work are neither used nor left; check the weighings, and what "
            "there was (--have).",
            role->role_name, number_unit(role->missing_g).text);
    else if (role->missing_g < 0)
        text_entry(text,
                   "%s: %s g more are %s than there were before the work; check the weighings, and what there was "
                   "(--have, or the shop own in offers.csv).",
                   role->role_name, number_unit(-role->missing_g).text, role->weighed ? "used and left" : "used");
}

/* Says what a ball weighs on the scale, where its label alone does not give the figures. */
static void report_label(const struct hk_remaining_role *role, struct text *text)
{
    const double off_g = fabs(role->ball_weighs_g - role->put_up_g);
    if (role->known && role->by_label && off_g >= LABEL_OFF_LEAST * role->put_up_g)
        text_entry(text, "%s: a ball of %s g by its label is likely to weigh %s g on your scale (see ball_weighs).",
                   role->role_name, number_label(role->put_up_g).text,
                   number_stepped(role->ball_weighs_g, (struct number_step){1, -1}, NUMBER_NEAREST).text);
    if (role->known && role->mass_g.likely > 0 && role->chance < JOINS_CHANCE && role->joins_g >= 0.5)
        text_entry(text, "%s: joins between the balls in hand are likely to waste %s g of them.", role->role_name,
                   number_unit(role->joins_g).text);
}

static void report_unweighed(const struct hk_remaining_role *role, struct text *text)
{
    if (role->unweighed_g >= 0.5)
        text_entry(text, "%s: of what is in hand, likely %s g are in work that no weighing includes.", role->role_name,
                   number_unit(role->unweighed_g).text);
    if (role->shared)
        text_entry(text, "%s: several yarns were weighed together; ~ is its share by stitch counts.", role->role_name);
}

/* Says where to stop before a part; of those that it is too late for, only of the last of a role. */
static void report_stop(const struct hk_remaining *left, size_t at, struct text *text)
{
    const struct hk_remaining_part *part = &left->parts[at];
    const bool last = at + 1 == left->part_count || left->parts[at + 1].role != part->role;
    const char *comma = *part->part ? ", " : "", *behind = last ? "" : " and what follows",
               *role = left->roles[part->role].role_name;
    char *place = place_words(&part->stop);
    if (!place)
        text->failed = true;
    else if (*part->stop.piece)
        text_entry(text, "%s: to keep enough for %s%s%s%s, stop after %s at the latest.", role, part->piece, comma,
                   part->part, behind, place);
    else if (last)
        text_entry(text, "%s: what is in hand is not sure to be enough for %s%s%s alone.", role, part->piece, comma,
                   part->part);
    free(place);
}

static void report_stops(const struct hk_remaining *left, struct text *text)
{
    for (size_t i = 0; i < left->part_count; i++)
        if (left->parts[i].must_stop)
            report_stop(left, i, text);
}

static void report_parts(const struct hk_remaining *left, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "TO COME");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_RIGHT, "TIMES");
    text_table_column(table, TEXT_RIGHT, "ROWS");
    text_table_column(table, TEXT_LEFT, "ROLE");
    text_table_column(table, TEXT_RIGHT, "LIKELY g");
    text_table_column(table, TEXT_RIGHT, "KEEP BACK g");
    for (size_t i = 0; i < left->part_count; i++) {
        const struct hk_remaining_part *part = &left->parts[i];
        text_table_cell(table, "%s", part->piece);
        text_table_cell(table, "%s", part->part);
        text_table_cell(table, "%s", number_whole(part->copies).text);
        if (part->rows > 0 && part->rows_done + 1 == part->rows)
            text_table_cell(table, "%s", number_whole(part->rows).text);
        else if (part->rows > 0)
            text_table_cell(table, "%s-%s", number_whole(part->rows_done + 1).text, number_whole(part->rows).text);
        else
            text_table_cell(table, "-");
        text_table_cell(table, "%s", left->roles[part->role].role_name);
        text_table_cell(table, "%s", amount_shown(&part->mass_g, part->mass_g.likely, AMOUNT_G, NUMBER_NEAREST).text);
        text_table_cell(table, "%s", amount_enough(&part->mass_g, AMOUNT_G).text);
    }
    text_table_print(table);
}

static enum outcome print_text(const struct work *work, const struct hk_remaining *left, const struct options *options,
                               struct text *text)
{
    const bool sized = work->need->size_count > 1;
    if (left->margin >= 0)
        text_heading(text, "%s%s%s: the work to come, the likely amount and a flat %s more", left->project,
                     sized ? ", " : "", sized ? left->size_name : "", number_asked(left->margin).text);
    else
        text_heading(text, "%s%s%s: the work to come, %s sure of each", left->project, sized ? ", " : "",
                     sized ? left->size_name : "", number_asked(left->chance).text);
    report_done(left, text);
    text_gap(text);
    report_roles(left, text);
    text_gap(text);
    for (size_t i = 0; i < left->role_count; i++) {
        report_order(&left->roles[i], text);
        report_ball(&left->roles[i], text);
        report_unweighed(&left->roles[i], text);
        report_label(&left->roles[i], text);
        report_missing(&left->roles[i], text);
    }
    report_stops(left, text);
    if (left->part_count > 0) {
        text_gap(text);
        report_parts(left, text);
    }
    more_report(text, work, options, 0, HK_CODE_END);
    return text_outcome(text);
}

/* ---- JSON ---- */

static json_t *done_json(struct json *json, const struct hk_remaining *left)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; i < left->done_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "work", left->done[i].work);
        json_put_text(json, object, "of", left->done[i].of);
        json_put(json, object, "mass_g", left->done[i].mass_g > 0 ? json_real(left->done[i].mass_g) : json_null());
        json_put_bool(json, object, "left_out", left->done[i].left_out);
        json_add(json, list, object);
    }
    return list;
}

static json_t *roles_json(struct json *json, const struct hk_remaining *left)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; i < left->role_count; i++) {
        const struct hk_remaining_role *role = &left->roles[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "role", role->role_name);
        json_put_text(json, object, "yarn", role->yarn);
        json_put_text(json, object, "colour", role->colour);
        json_put_real(json, object, "used_g", role->used_g);
        json_put_bool(json, object, "shared", role->shared);
        json_put_bool(json, object, "in_hand_doubtful", rests_on_odd(role));
        json_put_amount(json, object, "to_come_g", &role->mass_g);
        json_put_real(json, object, "spread", role->spread);
        json_put(json, object, "in_hand_g", role->known ? json_real(role->in_hand_g) : json_null());
        json_put_real(json, object, "unweighed_g", role->unweighed_g);
        json_put_real(json, object, "missing_g", role->missing_g);
        json_put_real(json, object, "joins_g", role->joins_g);
        json_put_real(json, object, "ball_weighs_g", role->ball_weighs_g);
        json_put(json, object, "chance", role->known ? json_real(role->chance) : json_null());
        json_put_whole(json, object, "order", role->order);
        json_put_real(json, object, "order_chance", role->order_chance);
        json_put_real(json, object, "put_up_g", role->put_up_g);
        json_put_text(json, object, "lot", role->lot);
        json_put_text(json, object, "shop", role->shop);
        json_put(json, object, "stock", role->stock >= 0 ? json_integer(role->stock) : json_null());
        json_put(json, object, "ball_in_use_g", role->known ? json_real(role->ball_g) : json_null());
        json_put(json, object, "ends", ball_ends_json(json, role->ends, role->end_count));
        json_add(json, list, object);
    }
    return list;
}

static json_t *parts_json(struct json *json, const struct hk_remaining *left)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; i < left->part_count; i++) {
        const struct hk_remaining_part *part = &left->parts[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "piece", part->piece);
        json_put_text(json, object, "part", part->part);
        json_put_text(json, object, "role", left->roles[part->role].role_name);
        json_put_whole(json, object, "copy", part->copy);
        json_put_whole(json, object, "copies", part->copies);
        json_put_whole(json, object, "rows_done", part->rows_done);
        json_put(json, object, "rows", part->rows > 0 ? json_integer(part->rows) : json_null());
        json_put_amount(json, object, "mass_g", &part->mass_g);
        json_put(json, object, "stop", part->must_stop ? place_json(json, &part->stop) : json_null());
        json_add(json, list, object);
    }
    return list;
}

static enum outcome print_json(const struct work *work, const struct hk_remaining *left, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    json_put_text(&json, answer, "project", left->project);
    json_put_text(&json, answer, "size", left->size_name);
    if (left->margin >= 0)
        json_put_real(&json, answer, "margin", left->margin);
    else
        json_put_real(&json, answer, "chance", left->chance);
    json_put_whole(&json, answer, "weighings", (int64_t)left->evidence);
    json_put_whole(&json, answer, "left_out", (int64_t)left->left_out);
    json_put(&json, answer, "done", done_json(&json, left));
    json_put(&json, answer, "roles", roles_json(&json, left));
    json_put(&json, answer, "parts", parts_json(&json, left));
    json_put_remarks(&json, answer, &work->diags, work->folder.path);
    return json_write(&json, answer, out);
}

/* ---- The command ---- */

/* Finds the size in hand, once the project is read. */
static enum outcome take_size(const struct work *work, const struct options *options, void *taking)
{
    size_t *size = taking;
    *size = work->size != HK_NO_SIZE ? work->size : hk_project_size_in_hand(work->project);
    if (options->used && !options->done) {
        complain("--used goes with --done: it is what that work weighs");
        return MISUSED;
    }
    if (*size != HK_NO_SIZE)
        return DONE;
    static const char file[] = "progress.csv";
    char *words = workbook_words(work->folder.path, file);
    complain("left needs the size in hand: --size %s, or another of the %zu; %s has none, or several",
             hk_project_size(work->project, 0), hk_project_sizes(work->project), words ? words : file);
    free(words);
    return MISUSED;
}

enum outcome cmd_left(const struct options *options, FILE *out)
{
    size_t size = HK_NO_SIZE;
    const struct hk_hand hand = typed_hand(options);
    struct work work = {.hand = &hand, .take_options = take_size, .taking = &size};
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    struct hk_remaining *left = NULL;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    if (outcome == DONE && !(left = hk_remaining_predict(work.need, size, &work.diags)))
        outcome = findings_outcome(&work.diags);
    if (left)
        outcome = options->given & OPTION_JSON ? print_json(&work, left, out) : print_text(&work, left, options, &text);
    hk_remaining_free(left);
    pipeline_free(&work);
    return outcome;
}
