/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words of --done, --used, --left and --have. An item of --done becomes a row of progress.csv; items that were on
 * the scale together are consecutive rows, the last of which has the weight (struct hk_progress, `with`).
 */
#include "project/read/hand.h"

#include "project/read/progress.h"

#include <math.h>
#include <string.h>
#include <strings.h>

struct hand {
    struct hk_reading *reading;
    size_t size;
    bool good;
};

/* A part of a text: bytes from `start`. */
struct item {
    struct hk_table *table;
    const char *text; /* the whole */
    size_t start, length;
};

static void wrong(struct hand *hand, struct hk_cell cell, const char *message, const char *hint)
{
    hk_diags_add(hand->reading->diags, HK_CODE_PROGRESS, hk_cell_place(cell, 0), "%s", message ? message : "");
    hk_diags_hint(hand->reading->diags, "%s", hint ? hint : "");
    hand->good = false;
}

static struct hk_cell cell_of(const struct item *item)
{
    return hk_table_word(item->table, item->start, item->length);
}

static struct item part_of(const struct item *item, size_t start, size_t length)
{
    return (struct item){item->table, item->text, item->start + start, length};
}

/* The text of an option as a table; NULL when it is not stated or memory ran out. */
static struct hk_table *words_of(struct hk_reading *reading, const char *option, const char *text)
{
    struct hk_project *project = reading->project;
    struct hk_table *table = text ? hk_table_words(option, text) : NULL;
    reading->diags->out_of_memory |= text && !table;
    if (table)
        project->tables[project->table_count++] = table;
    return table;
}

/* Sets the next item of a list: up to a comma or semicolon that is not between digits. False at the end. */
static bool next_item(const struct item *whole, size_t *at, struct item *item)
{
    const char *text = whole->text;
    if (*at > whole->length)
        return false;
    size_t end = *at;
    while (end < whole->length) {
        bool decimal = text[end] == ',' && end > 0 && hk_is_digit(text[end - 1]) && hk_is_digit(text[end + 1]);
        if (text[end] == ';' || (text[end] == ',' && !decimal))
            break;
        end++;
    }
    *item = part_of(whole, *at, end - *at);
    *at = end + 1;
    return true;
}

/* ---- Amounts -------------------------------------------------------------------------------------------------------
 */

struct amount {
    struct hk_of_yarn of; /* SIZE_MAX: not stated */
    double number;        /* grams, or balls */
    bool balls;
    double step_g; /* of the last digit */
    struct hk_cell cell, name;
};

static size_t number_length(const char *text)
{
    size_t length = 0;
    while (hk_is_digit(text[length]) || text[length] == '.' || text[length] == ',')
        length++;
    return length;
}

static bool is_ball(const char *word, size_t length)
{
    static const char *const words[] = {"ball", "balls", "skein", "skeins", "hank", "hanks"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strlen(words[i]) == length && strncasecmp(word, words[i], length) == 0)
            return true;
    return false;
}

/* A number with a unit at the start of a word; *end: the byte behind the unit. */
static bool amount_at(const char *text, size_t at, size_t stop, size_t *end, bool *balls)
{
    size_t digits = number_length(text + at), unit = at + digits;
    enum hk_dimension dimension;
    double factor;
    const char *cursor;
    if (digits == 0 || !hk_is_digit(text[at]) || (at > 0 && text[at - 1] != ' '))
        return false;
    while (unit < stop && text[unit] == ' ')
        unit++;
    cursor = text + unit;
    size_t letters = 0;
    while (unit + letters < stop && text[unit + letters] != ' ')
        letters++;
    *balls = is_ball(text + unit, letters);
    if (*balls)
        *end = unit + letters;
    else if (hk_unit_scan(&cursor, &dimension, &factor) && dimension == HK_DIM_MASS && (size_t)(cursor - text) <= stop)
        *end = (size_t)(cursor - text);
    else
        return false;
    return true;
}

/* Finds a word that is a number and nothing else, at the start or the end of an item: from *at to *end. */
static bool bare_number(const struct item *item, size_t *at, size_t *end)
{
    const struct hk_cell cell = cell_of(item);
    const char *last = strrchr(cell.text, ' ');
    size_t digits = number_length(cell.text);
    if (digits > 0 && (cell.text[digits] == ' ' || cell.text[digits] == '\0')) {
        *at = cell.index;
        *end = *at + digits;
        return true;
    }
    if (!last || number_length(last + 1) == 0 || last[1 + number_length(last + 1)] != '\0')
        return false;
    *at = cell.index + (size_t)(last + 1 - cell.text);
    *end = cell.index + strlen(cell.text);
    return true;
}

/* The grams of the last digit of the number: 1 for "118 g", 0.1 for "118.4 g". Other units than grams: 1 g. */
static double last_digit_g(const char *text)
{
    size_t whole = 0, digits = number_length(text);
    double step = 1;
    while (whole < digits && hk_is_digit(text[whole]))
        whole++;
    for (size_t i = whole + 1; i < digits; i++)
        step /= 10;
    const char *unit = hk_blanks_skipped(text + digits);
    return *unit == 'g' ? step : 1;
}

static void name_amount(struct hand *hand, struct item name, struct amount *amount)
{
    struct hk_reading *reading = hand->reading;
    const struct hk_project *project = reading->project;
    amount->of = (struct hk_of_yarn){project->role_count == 1 ? 0 : SIZE_MAX, SIZE_MAX};
    amount->name = cell_of(&name);
    if (hk_cell_empty(amount->name))
        return;
    amount->of.role = hk_names_find(hk_project_role_names(project), amount->name.text);
    if (amount->of.role != SIZE_MAX)
        return;
    amount->of.yarn = hk_names_find(hk_project_yarn_names(project), amount->name.text);
    if (amount->of.yarn != SIZE_MAX)
        return;
    hk_reading_unknown(reading, amount->name, 0, "role or yarn", amount->name.text, " in yarns.csv",
                       hk_project_role_names(project));
    hand->good = false;
}

/* Reads "118 g", "4 balls", "main 118 g", "118 g of main". A bare number is one of balls where `bare`. */
static bool read_amount(struct hand *hand, const struct item *item, bool bare, struct amount *amount)
{
    const char *text = item->text;
    size_t stop = item->start + item->length, at = item->start, end = stop;
    bool had = hand->good;
    *amount = (struct amount){.of = {SIZE_MAX, SIZE_MAX}, .cell = cell_of(item)};
    if (hk_cell_empty(amount->cell)) {
        hk_diags_add(hand->reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(amount->cell, 0),
                     "an amount is missing");
        hk_diags_hint(hand->reading->diags, "write one such as 118 g%s", bare ? ", or 4 balls" : "");
        return hand->good = false;
    }
    hand->good = true;
    while (at < stop && !amount_at(text, at, stop, &end, &amount->balls))
        at++;
    bool plain = at == stop && bare && bare_number(item, &at, &end);
    amount->balls |= plain;
    if (at == stop)
        at = item->start; /* the reader of quantities says what is wrong */
    struct item before = part_of(item, 0, at - item->start);
    struct item behind = {item->table, text, end, stop - end};
    if (at == item->start && end == stop)
        before.length = behind.length = 0;
    if (strncmp(hk_blanks_skipped(text + end), "of ", 3) == 0 && end < stop) {
        size_t of = (size_t)(hk_blanks_skipped(text + end) - text) + 3;
        behind = (struct item){item->table, text, of < stop ? of : stop, of < stop ? stop - of : 0};
    }
    struct item number = {item->table, text, at, end - at};
    if (amount->balls)
        number.length = number_length(text + at);
    amount->cell = cell_of(&number);
    amount->step_g = last_digit_g(amount->cell.text);
    hand->good &= hk_quantity_cell(amount->cell, amount->balls ? HK_DIM_PLAIN : HK_DIM_MASS, HK_SIGN_POSITIVE,
                                   &amount->number, hand->reading->diags);
    bool both = before.length > 0 && !hk_cell_empty(cell_of(&before));
    if (hand->good)
        name_amount(hand, both ? before : behind, amount);
    if (hand->good && both && !hk_cell_empty(cell_of(&behind)))
        wrong(hand, cell_of(&behind),
              hk_arena_print(&hand->reading->project->arena, "\"%s\" is not read", cell_of(&behind).text),
              "one amount of one yarn at a time, with commas between them");
    bool good = hand->good;
    hand->good = had && good;
    return good;
}

/* The amounts of a text. */
struct amounts {
    struct amount *list;
    size_t count;
};

static bool same_yarn(struct hk_of_yarn a, struct hk_of_yarn b)
{
    return a.role == b.role && a.yarn == b.yarn;
}

static struct amounts read_amounts(struct hand *hand, const char *option, const char *words, bool bare)
{
    struct hk_project *project = hand->reading->project;
    struct amounts amounts = {0};
    struct hk_table *table = words_of(hand->reading, option, words);
    if (!table)
        return amounts;
    const char *text = hk_table_text(table);
    struct item whole = {table, text, 0, strlen(text)}, item;
    amounts.list = hk_arena_take(&project->arena, whole.length + 1, sizeof *amounts.list);
    for (size_t at = 0; amounts.list && next_item(&whole, &at, &item);) {
        struct amount *amount = &amounts.list[amounts.count];
        if (!read_amount(hand, &item, bare, amount))
            continue;
        for (size_t i = 0; i < amounts.count; i++)
            if (same_yarn(amounts.list[i].of, amount->of) && amounts.list[i].balls == amount->balls)
                wrong(hand, amount->cell, "this yarn stands there twice", "write one amount for each yarn");
        amounts.count++;
    }
    hand->reading->diags->out_of_memory |= hk_table_words_failed(table);
    return amounts;
}

/* ---- Work ----------------------------------------------------------------------------------------------------------
 */

/* Finds "40 rows", "row 40", "to row 40", "40 rounds" at the end of an item; *length: that of what stands before it. */
static bool split_rows(const struct item *item, struct item *rows, size_t *length)
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
        *rows = part_of(item, digits, end - word - digits);
        *length = digits;
        return true;
    }
    size_t digits = end;
    while (digits > 0 && hk_is_digit(text[digits - 1]))
        digits--;
    for (size_t i = 0; i < sizeof before / sizeof before[0] && digits < end; i++) {
        size_t word = strlen(before[i]);
        if (digits < word || strncasecmp(text + digits - word, before[i], word) != 0 ||
            (digits > word && text[digits - word - 1] != ' '))
            continue;
        *rows = part_of(item, digits, end - digits);
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
static bool is_piece(struct hk_names pieces, const struct item *item, size_t length)
{
    const struct item name = {item->table, item->text, item->start, length};
    struct hk_cell cell = cell_of(&name);
    size_t stem = strlen(cell.text);
    if (is_name(pieces, cell))
        return true;
    while (stem > 0 && hk_is_digit(cell.text[stem - 1]))
        stem--;
    if (stem == strlen(cell.text))
        return false;
    if (stem > 0 && (cell.text[stem - 1] == 'x' || cell.text[stem - 1] == 'X'))
        stem--;
    const struct item before = {item->table, item->text, cell.index, stem};
    return stem > 0 && cell.text[stem - 1] == ' ' && is_name(pieces, cell_of(&before));
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
static struct hk_progress_words split_work(struct hand *hand, const struct item *item)
{
    struct hk_names pieces = hk_progress_pieces(hand->reading);
    struct item rows = part_of(item, 0, 0), name = *item;
    split_rows(item, &rows, &name.length);
    struct hk_cell whole = cell_of(&name), none = whole;
    none.text = "";
    struct hk_progress_words words = {whole, none, cell_of(&rows), none};
    if (is_piece(pieces, &name, name.length) || hk_cell_empty(whole))
        return words;
    for (size_t blank = name.length; blank-- > 1;) {
        char c = name.text[name.start + blank];
        struct item part = part_of(&name, blank + 1, name.length - blank - 1);
        if ((c != ' ' && c != ':') || hk_cell_empty(cell_of(&part)) || !is_piece(pieces, &name, blank))
            continue;
        struct item piece = part_of(&name, 0, blank);
        words.piece = cell_of(&piece);
        words.part = cell_of(&part);
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
static size_t weigh(struct hand *hand, const struct hk_progress *items, size_t count, const struct amount *used)
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
        wrong(hand, used->cell, "this yarn is worked in nothing that is done", "check --done, and the role");
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
static void weigh_left(struct hand *hand, const struct hk_progress *items, size_t count, const struct amount *left)
{
    struct hk_project *project = hand->reading->project;
    double hand_g = left->balls ? 0 : start_g(project, left->of);
    if (!(hand_g > 0) || left->of.role == SIZE_MAX)
        return;
    for (size_t i = 0; i < project->in_hand_count; i++) /* full balls, not on the scale */
        if (project->in_hand[i].left && !project->in_hand[i].weighed && project->in_hand[i].role == left->of.role)
            hand_g -= project->in_hand[i].mass_g;
    if (left->number >= hand_g) {
        wrong(hand, left->cell,
              hk_arena_print(&project->arena, "%s g are left of %s, and %s g of it were to be used",
                             hk_number_text(left->number, 6).text, project->roles[left->of.role].name,
                             hk_number_text(fmax(hand_g, 0), 6).text),
              "check the weight, and what was in hand: --have, or the shop own in offers.csv");
        return;
    }
    struct amount used = *left;
    used.number = hand_g - left->number;
    if (weigh(hand, items, count, &used) == 0)
        return;
    project->progress[project->progress_count - 1].hand_g = hand_g;
    project->progress[project->progress_count - 1].left_g = left->number;
}

/* Whether progress.csv has a weighing of that size. */
static bool weighed_before(const struct hk_project *project, size_t size, size_t rows)
{
    for (size_t i = 0; i < rows; i++)
        if (project->progress[i].size == size && project->progress[i].mass_g > 0)
            return true;
    return false;
}

static struct hk_progress *read_done(struct hand *hand, const char *words, size_t *count)
{
    struct hk_project *project = hand->reading->project;
    struct hk_table *table = words_of(hand->reading, "--done", words);
    *count = 0;
    if (!table)
        return NULL;
    const char *text = hk_table_text(table);
    struct item whole = {table, text, 0, strlen(text)}, item;
    struct hk_progress *items = hk_arena_take(&project->arena, whole.length + 1, sizeof *items);
    for (size_t at = 0; items && next_item(&whole, &at, &item);) {
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
        if (!hk_progress_typed(hand->reading, &split, progress)) {
            hand->good = false;
            continue;
        }
        for (size_t i = 0; i < *count; i++) {
            if (!share_work(&items[i], progress))
                continue;
            wrong(hand, split.piece, hk_arena_print(&project->arena, "%s stands there twice", progress->title),
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

static void keep_amounts(struct hand *hand, const struct amounts *amounts, bool left)
{
    struct hk_project *project = hand->reading->project;
    for (size_t i = 0; i < amounts->count; i++) {
        const struct amount *amount = &amounts->list[i];
        size_t role = amount->of.role;
        for (size_t r = 0; r < project->role_count && role == SIZE_MAX && amount->of.yarn != SIZE_MAX; r++)
            if (project->candidates[project->roles[r].plan].yarn == amount->of.yarn)
                role = r;
        if (role == SIZE_MAX) {
            wrong(hand, amount->cell, "several yarns, and the amount does not say which of them it is of",
                  hk_arena_print(&project->arena, "write the role before it: %s %s", project->roles[0].name,
                                 amount->cell.text));
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

/* The size that is worked: the one asked for, the only one, or the only one of progress.csv. */
static size_t find_size(const struct hk_project *project, const char *name)
{
    size_t size = project->size_count == 1 ? 0 : SIZE_MAX;
    if (name)
        return hk_names_find(hk_project_size_names(project), name);
    for (size_t i = 0; i < project->progress_count && project->size_count > 1; i++) {
        if (i > 0 && project->progress[i].size != size)
            return SIZE_MAX;
        size = project->progress[i].size;
    }
    return size;
}

static void read_work(struct hand *hand, const struct amounts *used, const struct amounts *left)
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
    struct hand hand = {reading, SIZE_MAX, true};
    if (!reading->knows_pieces)
        return; /* the names that it refers to are not known */
    hand.size = find_size(project, typed->size);
    if (hand.size == SIZE_MAX && typed->size)
        return; /* the caller says that there is no such size */
    struct amounts used = read_amounts(&hand, "--used", typed->used, false);
    struct amounts left = read_amounts(&hand, "--left", typed->left, true);
    struct amounts have = read_amounts(&hand, "--have", typed->have, true);
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
