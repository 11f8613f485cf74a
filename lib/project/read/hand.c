/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What --done, --used, --left and --have state. An item of --done becomes a row of progress.csv; items that were on
 * the scale together are consecutive rows, the last of which has the weight (struct hk_progress, `with`).
 */
#include "project/read/hand.h"

#include "project/read/hand_amounts.h"
#include "project/read/progress.h"

#include <math.h>
#include <string.h>
#include <strings.h>

/* "0 g" is left: a weighing of what is left has a positive hk_progress.left_g. */
#define NOTHING_LEFT_G 1e-6

/* ---- Work ----------------------------------------------------------------------------------------------------------
 */

/*
 * Finds "40 rows", "row 40", "to row 40", "rows 1-40", "40 rounds" at the end of an item; *length: that of what stands
 * before it. Rows that do not begin at 1 are left as they are, for the reader of numbers to refuse.
 */
static bool split_rows(const struct hk_hand_item *item, struct hk_hand_item *rows, size_t *length)
{
    static const char *const behind[] = {" rows", " row", " rounds", " round", " rnds", " rnd", "th row", "r"};
    static const char *const before[] = {"to row ", "to round ", "row ", "rows ", "round ", "rounds "};
    const char *text = item->text + item->start;
    size_t end = item->length;
    while (end > 0 && text[end - 1] == ' ')
        end--;
    for (size_t i = 0; i < sizeof behind / sizeof behind[0]; i++) {
        size_t word = strlen(behind[i]);
        if (end <= word || strncasecmp(text + end - word, behind[i], word) != 0)
            continue;
        size_t digits = end - word;
        while (digits > 0 && text[digits - 1] != ' ')
            digits--;
        if (end - word == digits || !hk_is_digit(text[digits]))
            continue;
        *rows = hk_hand_part(item, digits, end - word - digits);
        *length = digits;
        return true;
    }
    size_t digits = end;
    while (digits > 0 && hk_is_digit(text[digits - 1]))
        digits--;
    size_t number = digits;
    if (digits > 1 && digits < end && text[digits - 1] == '-' && hk_is_digit(text[digits - 2])) {
        for (digits--; digits > 0 && hk_is_digit(text[digits - 1]); digits--)
            continue;
        number = text[digits] == '1' && text[digits + 1] == '-' ? number : digits;
    }
    for (size_t i = 0; i < sizeof before / sizeof before[0] && digits < end; i++) {
        size_t word = strlen(before[i]);
        if (digits < word || strncasecmp(text + digits - word, before[i], word) != 0 ||
            (digits > word && text[digits - word - 1] != ' '))
            continue;
        *rows = hk_hand_part(item, number, end - number);
        *length = digits - word;
        return true;
    }
    return false;
}

static bool is_name(struct hk_names names, struct hk_cell cell)
{
    return hk_names_find(names, cell.text) != SIZE_MAX;
}

/* Returns true for a piece, also with a copy: "sleeve", "sleeve 2", "sleeve x2". */
static bool is_piece(struct hk_names pieces, const struct hk_hand_item *item, size_t length)
{
    const struct hk_hand_item name = {item->table, item->text, item->start, length};
    struct hk_cell cell = hk_hand_cell(&name);
    size_t stem = strlen(cell.text);
    if (is_name(pieces, cell))
        return true;
    while (stem > 0 && hk_is_digit(cell.text[stem - 1]))
        stem--;
    if (stem == strlen(cell.text))
        return false;
    if (stem > 0 && (cell.text[stem - 1] == 'x' || cell.text[stem - 1] == 'X'))
        stem--;
    const struct hk_hand_item before = {item->table, item->text, cell.index, stem};
    return stem > 0 && cell.text[stem - 1] == ' ' && is_name(pieces, hk_hand_cell(&before));
}

/* Returns the only piece with a part of that name; NULL: none, or several. */
static const char *piece_of_part(const struct hk_project *project, const char *part)
{
    const char *piece = NULL;
    for (size_t i = 0; i < project->line_count; i++) {
        if (!hk_text_same(project->lines[i].part, part))
            continue;
        if (piece && !hk_text_same(piece, project->lines[i].piece))
            return NULL;
        piece = project->lines[i].piece;
    }
    return piece;
}

/* Splits "front body 40 rows" into its piece, part and rows. */
static struct hk_progress_words split_work(struct hk_hand_reading *hand, const struct hk_hand_item *item)
{
    struct hk_names pieces = hk_progress_pieces(hand->reading);
    struct hk_hand_item rows = hk_hand_part(item, 0, 0), name = *item;
    split_rows(item, &rows, &name.length);
    struct hk_cell whole = hk_hand_cell(&name), none = whole;
    none.text = "";
    struct hk_progress_words words = {whole, none, hk_hand_cell(&rows), none};
    if (is_piece(pieces, &name, name.length) || hk_cell_empty(whole))
        return words;
    for (size_t blank = name.length; blank-- > 1;) {
        char c = name.text[name.start + blank];
        struct hk_hand_item part = hk_hand_part(&name, blank + 1, name.length - blank - 1);
        if ((c != ' ' && c != ':') || hk_cell_empty(hk_hand_cell(&part)) || !is_piece(pieces, &name, blank))
            continue;
        struct hk_hand_item piece = hk_hand_part(&name, 0, blank);
        words.piece = hk_hand_cell(&piece);
        words.part = hk_hand_cell(&part);
        return words;
    }
    const char *piece = piece_of_part(hand->reading->project, whole.text);
    if (piece) {
        words.part = whole;
        words.piece.text = piece;
    }
    return words;
}

static bool share_work(const struct hk_progress *a, const struct hk_progress *b)
{
    for (size_t i = 0; i < a->line_count; i++)
        for (size_t k = 0; k < b->line_count; k++)
            if (a->lines[i] == b->lines[k] && a->first <= b->last && b->first <= a->last)
                return true;
    return false;
}

/* What was on the scale: all items, or those with the yarn. */
static size_t weigh(struct hk_hand_reading *hand, const struct hk_progress *items, size_t count,
                    const struct hk_hand_amount *used)
{
    struct hk_project *project = hand->reading->project;
    size_t first = project->progress_count;
    for (size_t i = 0; i < count; i++) {
        bool works = !used || (used->of.role == SIZE_MAX && used->of.yarn == SIZE_MAX);
        for (size_t l = 0; l < items[i].line_count && !works; l++) {
            const struct hk_stripes *yarn = &project->lines[items[i].lines[l]].yarn;
            for (size_t k = 0; k < yarn->count; k++)
                for (size_t s = 0; s < project->combinations[yarn->stripes[k].combination].strand_count; s++) {
                    const struct hk_strand *strand = &project->combinations[yarn->stripes[k].combination].strands[s];
                    works |= hk_of_yarn(used->of, strand->role, strand->yarn);
                }
        }
        if (works)
            project->progress[project->progress_count++] = items[i];
    }
    if (!used)
        return project->progress_count - first;
    if (project->progress_count == first) {
        hk_hand_wrong(hand, used->cell, "this yarn is worked in nothing that is done", "check --done, and the role");
        return 0;
    }
    struct hk_progress *last = &project->progress[project->progress_count - 1];
    bool same = used->of.role == SIZE_MAX && used->of.yarn == SIZE_MAX; /* all work in one role, as its rows have it */
    for (size_t i = first; i < project->progress_count; i++)
        same &= project->progress[i].of.role == last->of.role && last->of.role != SIZE_MAX;
    for (size_t i = first; i < project->progress_count && !same; i++)
        project->progress[i].of = used->of;
    last->mass_g = used->number;
    last->scale = (struct hk_scale){used->step_g, used->step_g};
    last->with = project->progress_count - first - 1;
    last->weight_cell = used->cell;
    for (size_t i = project->progress_count - 1; i-- > first;) {
        const char *both = hk_arena_print(&project->arena, "%s and %s", project->progress[i].title, last->title);
        const char *works = hk_arena_print(&project->arena, "%s; %s", project->progress[i].work, last->work);
        last->title = both ? both : "";
        last->work = works ? works : "";
    }
    return project->progress_count - first;
}

/* The grams of that yarn before the work: as typed, else of the shop own; 0: not known. */
static double start_g(const struct hk_project *project, struct hk_of_yarn of)
{
    for (size_t i = 0; i < project->in_hand_count; i++)
        if (!project->in_hand[i].left && project->in_hand[i].role == of.role)
            return project->in_hand[i].mass_g;
    return hk_progress_hand_g(project, of);
}

/* What is left, where nothing else says what was used: the weight of the rest, as `left` in progress.csv. */
static void weigh_left(struct hk_hand_reading *hand, const struct hk_progress *items, size_t count,
                       const struct hk_hand_amount *left)
{
    struct hk_project *project = hand->reading->project;
    double hand_g = left->balls ? 0 : start_g(project, left->of);
    if (!(hand_g > 0) || left->of.role == SIZE_MAX)
        return;
    for (size_t i = 0; i < project->in_hand_count; i++) /* full balls, not on the scale */
        if (project->in_hand[i].left && !project->in_hand[i].weighed && project->in_hand[i].role == left->of.role)
            hand_g -= project->in_hand[i].mass_g;
    if (left->number >= hand_g) {
        hk_hand_wrong(hand, left->cell,
                      hk_arena_print(&project->arena,
                                     "%s g of %s are left, but %s g of it were in hand before the work",
                                     hk_number_text(left->number, 6).text, project->roles[left->of.role].name,
                                     hk_number_text(fmax(hand_g, 0), 6).text),
                      "check the weight, and what was in hand: --have, or the shop own in offers.csv");
        return;
    }
    struct hk_hand_amount used = *left;
    used.number = hand_g - left->number;
    if (weigh(hand, items, count, &used) == 0)
        return;
    project->progress[project->progress_count - 1].hand_g = hand_g;
    project->progress[project->progress_count - 1].left_g = fmax(left->number, NOTHING_LEFT_G);
}

/* Whether progress.csv has a weighing of that size. */
static bool weighed_before(const struct hk_project *project, size_t size, size_t rows)
{
    for (size_t i = 0; i < rows; i++)
        if (project->progress[i].size == size && project->progress[i].mass_g > 0)
            return true;
    return false;
}

/* Refuses "12 motifs": copies are stated after the piece. Returns true when the item is one of these. */
static bool refuse_count_before(struct hk_hand_reading *hand, struct hk_cell cell)
{
    const struct hk_names pieces = hk_progress_pieces(hand->reading);
    struct hk_arena *arena = &hand->reading->project->arena;
    const size_t digits = strspn(cell.text, "0123456789"), length = strlen(cell.text);
    if (digits == 0 || cell.text[digits] != ' ' || hk_names_find(pieces, cell.text) != SIZE_MAX)
        return false;
    const char *name = hk_blanks_skipped(cell.text + digits);
    const char *one = length > 0 && cell.text[length - 1] == 's' ? hk_arena_text(arena, name, strlen(name) - 1) : name;
    size_t piece = one ? hk_names_find(pieces, hk_names_find(pieces, name) != SIZE_MAX ? name : one) : SIZE_MAX;
    if (piece == SIZE_MAX)
        return false;
    hk_hand_wrong(hand, cell, "the number of copies is not read before the piece",
                  hk_arena_print(arena, "write %s x%.*s", pieces.name(pieces.context, piece), (int)digits, cell.text));
    return true;
}

/* Refuses "rows 5-44": rows are counted from the first. Returns true when the rows are such. */
static bool refuse_later_rows(struct hk_hand_reading *hand, struct hk_cell rows)
{
    const size_t first = strspn(rows.text, "0123456789");
    if (first == 0 || rows.text[first] != '-' || !hk_is_digit(rows.text[first + 1]))
        return false;
    hk_hand_wrong(hand, rows,
                  hk_arena_print(&hand->reading->project->arena, "rows %s do not begin with row 1", rows.text),
                  "write what is worked from the first row on, such as rows 1-40 or 40 rows");
    return true;
}

static struct hk_progress *read_done(struct hk_hand_reading *hand, const char *words, size_t *count)
{
    struct hk_project *project = hand->reading->project;
    struct hk_table *table = hk_hand_table(hand->reading, "--done", words);
    *count = 0;
    if (!table)
        return NULL;
    const char *text = hk_table_text(table);
    struct hk_hand_item whole = {table, text, 0, strlen(text)}, item;
    struct hk_progress *items = hk_arena_take(&project->arena, whole.length + 1, sizeof *items);
    for (size_t at = 0; items && hk_hand_next(&whole, &at, &item);) {
        struct hk_progress_words split = split_work(hand, &item);
        struct hk_progress *progress = &items[*count];
        *progress = (struct hk_progress){.size = hand->size};
        if (hk_cell_empty(split.piece)) {
            hk_diags_add(hand->reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(split.piece, 0),
                         "a piece is missing");
            hk_diags_hint(hand->reading->diags, "write what is worked, such as: back, front 40 rows");
            hand->good = false;
            continue;
        }
        if (refuse_count_before(hand, split.piece) || refuse_later_rows(hand, split.rows))
            continue;
        if (!hk_progress_typed(hand->reading, &split, progress)) {
            hand->good = false;
            continue;
        }
        for (size_t i = 0; i < *count; i++) {
            if (!share_work(&items[i], progress))
                continue;
            hk_hand_wrong(hand, split.piece, hk_arena_print(&project->arena, "%s is stated twice", progress->title),
                          "name each piece, copy and part once");
            break;
        }
        (*count)++;
    }
    hand->reading->diags->out_of_memory |= hk_table_words_failed(table);
    return items;
}

/* ---- Yarn in hand --------------------------------------------------------------------------------------------------
 */

static void keep_amounts(struct hk_hand_reading *hand, const struct hk_hand_amounts *amounts, bool left)
{
    struct hk_project *project = hand->reading->project;
    for (size_t i = 0; i < amounts->count; i++) {
        const struct hk_hand_amount *amount = &amounts->list[i];
        size_t role = amount->of.role, roles = 0;
        for (size_t r = 0; r < project->role_count && amount->of.role == SIZE_MAX; r++)
            if (amount->of.yarn != SIZE_MAX && project->candidates[project->roles[r].plan].yarn == amount->of.yarn &&
                roles++ == 0)
                role = r;
        if (roles > 1) {
            hk_hand_wrong(
                hand, amount->name,
                hk_arena_print(&project->arena, "%s is the yarn of %zu roles", amount->name.text, roles),
                hk_arena_print(&project->arena, "name the role in its place, such as %s", project->roles[role].name));
            continue;
        }
        if (role == SIZE_MAX) {
            hk_hand_wrong(hand, amount->cell, "several yarns, and the amount does not say which of them it is of",
                          hk_arena_print(&project->arena, "write the role before it: %s %s%s", project->roles[0].name,
                                         amount->cell.text,
                                         !amount->balls        ? ""
                                         : amount->number == 1 ? " ball"
                                                               : " balls"));
            continue;
        }
        const struct hk_yarn *yarn = &project->yarns[project->candidates[project->roles[role].plan].yarn];
        project->in_hand[project->in_hand_count++] = (struct hk_in_hand){
            .role = role,
            .mass_g = amount->balls ? amount->number * yarn->put_up_g : amount->number,
            .left = left,
            .weighed = left && !amount->balls,
            .cell = amount->cell,
        };
    }
}

static void read_work(struct hk_hand_reading *hand, const struct hk_hand_amounts *used,
                      const struct hk_hand_amounts *left)
{
    struct hk_project *project = hand->reading->project;
    size_t count, rows = project->progress_count;
    struct hk_progress *items = read_done(hand, hand->reading->hand->done, &count);
    if (!items || !hand->good)
        return;
    struct hk_progress *all =
        hk_arena_take(&project->arena, rows + count * (used->count + left->count + 1), sizeof *all);
    if (!all)
        return;
    if (rows > 0)
        memcpy(all, project->progress, rows * sizeof *all);
    project->progress = all;
    for (size_t i = 0; i < used->count; i++)
        weigh(hand, items, count, &used->list[i]);
    bool before = weighed_before(project, hand->size, rows) || used->count > 0;
    for (size_t i = 0; i < left->count && !before; i++)
        weigh_left(hand, items, count, &left->list[i]);
    if (project->progress_count == rows)
        weigh(hand, items, count, NULL);
}

void hk_hand_read(struct hk_reading *reading)
{
    const struct hk_hand *typed = reading->hand;
    struct hk_project *project = reading->project;
    struct hk_hand_reading hand = {reading, SIZE_MAX, true};
    if (!reading->knows_pieces)
        return; /* the names that it refers to are not known */
    hand.size =
        typed->size ? hk_names_find(hk_project_size_names(project), typed->size) : hk_project_size_in_hand(project);
    if (hand.size == SIZE_MAX && typed->size)
        return; /* the caller says that there is no such size */
    struct hk_hand_amounts used = hk_hand_read_amounts(&hand, "--used", typed->used, false, HK_SIGN_POSITIVE);
    struct hk_hand_amounts left = hk_hand_read_amounts(&hand, "--left", typed->left, true, HK_SIGN_NOT_NEGATIVE);
    struct hk_hand_amounts have = hk_hand_read_amounts(&hand, "--have", typed->have, true, HK_SIGN_POSITIVE);
    project->in_hand = hk_arena_take(&project->arena, left.count + have.count, sizeof *project->in_hand);
    if (!project->in_hand || project->arena.out_of_memory)
        return;
    keep_amounts(&hand, &have, false);
    keep_amounts(&hand, &left, true);
    if (typed->done && hand.size == SIZE_MAX) {
        hk_diags_add(reading->diags, HK_CODE_CELL_MISSING, (struct hk_place){"--size", 0, 0},
                     "the size that is worked is missing");
        hk_diags_hint(reading->diags, "name one of the %zu sizes, such as --size %s", project->size_count,
                      project->sizes[0]);
    } else if (typed->done) {
        read_work(&hand, &used, &left);
    }
}
