/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * progress.csv (hankful(1), FILES). A row names a size, a piece (one copy of it, or several together), perhaps a part, and
 * the rows worked. A weight of the yarn that is left is turned into a weight of the yarn used. A later row of the same
 * names replaces the weight of the earlier one if it has a weight, and the time if it has a time.
 */
#include "project/read/progress.h"

#include "project/read/fields.h"
#include "project/read/weighed_once.h"

#include <inttypes.h>
#include <string.h>

enum { SIZE, PIECE, WEIGHT, PART, ROWS, YARN, OF, SCALE_STEP, SCALE_ACCURACY, MINUTES };
static const struct hk_field fields[] = {
    [SIZE] = {"size", HK_FIELD_REQUIRED},
    [PIECE] = {"piece", HK_FIELD_FILLED, HK_FIELD_KEEPS(hk_progress, cell)},
    [WEIGHT] = {"weight", HK_FIELD_REQUIRED, HK_FIELD_KEEPS(hk_progress, weight_cell)},
    [PART] = {"part"},
    [ROWS] = {"rows", HK_FIELD_KEEPS(hk_progress, rows_cell)},
    [YARN] = {"yarn"},
    [OF] = {"of"},
    [SCALE_STEP] = {"scale_step"},
    [SCALE_ACCURACY] = {"scale_accuracy"},
    [MINUTES] = {"minutes", HK_FIELD_QUANTITY(hk_progress, minutes, HK_DIM_MINUTES),
                 HK_FIELD_KEEPS(hk_progress, minutes_cell)},
    {.name = NULL},
};

static const char all_pieces[] = "all";

/* A row being read, of the file or typed. */
struct row {
    struct hk_reading_row at;
    const struct hk_cell *typed; /* by column; NULL: of the file */
    const char *piece, *part; /* names; "" for the whole; piece NULL: all */
};

static struct hk_cell cell_of(const struct row *row, size_t column)
{
    return row->typed ? row->typed[column] : hk_reading_cell(row->at, column);
}

static const char *cell_text(const struct row *row, size_t column)
{
    return hk_reading_text(row->at.reading, cell_of(row, column));
}

static const char *cell_name(const struct row *row, size_t column)
{
    return hk_reading_name(row->at.reading, cell_of(row, column));
}

static bool wrong(const struct row *row, size_t column, const char *message, const char *hint)
{
    hk_diags_add(row->at.reading->diags, HK_CODE_PROGRESS, hk_cell_place(cell_of(row, column), 0), "%s",
                 message ? message : "");
    hk_diags_hint(row->at.reading->diags, "%s", hint ? hint : "");
    return false;
}

/* ---- Size, piece and part ------------------------------------------------------------------------------------ */

static bool read_size(const struct row *row, struct hk_progress *progress)
{
    struct hk_reading *reading = row->at.reading;
    struct hk_names names = hk_project_size_names(reading->project);
    struct hk_cell cell = cell_of(row, SIZE);
    if (hk_cell_empty(cell) && names.count == 1)
        return true;
    if (hk_cell_empty(cell)) {
        hk_diags_add(reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell, 0), "the size is missing");
        hk_diags_hint(reading->diags, "write which size it is that is being worked");
        return false;
    }
    progress->size = hk_names_find(names, cell_text(row, SIZE));
    if (progress->size == SIZE_MAX)
        hk_reading_size_unknown(reading, cell, cell_name(row, SIZE));
    return progress->size != SIZE_MAX;
}

/* A list of names. */
struct list {
    const char **names;
    size_t count;
};

static const char *list_name(const void *list, size_t i)
{
    return ((const struct list *)list)->names[i];
}

static struct hk_names list_names(const struct list *list)
{
    return (struct hk_names){list->names ? list->count : 0, list_name, list};
}

/* The pieces and, behind them, `all`; or the parts of a piece. */
static struct list names_of(const struct row *row, const char *piece)
{
    struct hk_project *project = row->at.reading->project;
    struct list list = {.names = hk_arena_take(&project->arena, project->line_count + 1, sizeof *list.names)};
    for (size_t i = 0; i < project->line_count && list.names; i++) {
        const struct hk_line *line = &project->lines[i];
        if (piece && *line->part && hk_text_same(line->piece, piece))
            list.names[list.count++] = line->part;
        else if (!piece && line->first)
            list.names[list.count++] = line->piece;
    }
    if (list.names && !piece)
        list.names[list.count++] = all_pieces;
    return list;
}

/* "sleeve 2": the second; "sleeve x2": two together. False where the name ends in no such number. */
static bool split_copies(const struct row *row, const char *text, const char **name, struct hk_progress *progress)
{
    size_t end = strlen(text), digits = end;
    int64_t number = 0;
    while (digits > 0 && text[digits - 1] >= '0' && text[digits - 1] <= '9')
        digits--;
    for (size_t i = digits; i < end; i++)
        number = number > HK_COUNT_MOST ? number : 10 * number + (text[i] - '0');
    bool together = digits > 1 && (text[digits - 1] == 'x' || text[digits - 1] == 'X');
    size_t blank = together ? digits - 1 : digits;
    if (digits == end || number < 1 || blank < 2 || text[blank - 1] != ' ')
        return false;
    *name = hk_arena_text(&row->at.reading->project->arena, text, blank - 1);
    progress->first = together ? 1 : number;
    progress->last = number;
    return *name;
}

static bool read_piece(struct row *row, struct hk_progress *progress)
{
    const char *text = cell_text(row, PIECE), *stem = NULL;
    struct list known = names_of(row, NULL);
    struct hk_names names = list_names(&known);
    progress->first = progress->last = 1;
    if (hk_cell_empty(progress->cell))
        return false;
    size_t found = hk_names_find(names, text);
    if (found == SIZE_MAX && split_copies(row, text, &stem, progress))
        found = hk_names_find(names, stem);
    if (found == SIZE_MAX) {
        hk_reading_unknown(row->at.reading, progress->cell, 0, "piece", stem ? stem : cell_name(row, PIECE),
                           " in pieces.csv", names);
        row->piece = text; /* unknown, but not the whole garment */
        return false;
    }
    row->piece = known.names[found] == all_pieces ? NULL : known.names[found];
    if (row->piece)
        return true;
    if (stem)
        return wrong(row, PIECE, "\"all\" is the whole garment, once", "name a piece, or write all");
    progress->last = HK_COUNT_MOST;
    return true;
}

static bool read_part(struct row *row)
{
    struct hk_cell cell = cell_of(row, PART);
    row->part = cell_name(row, PART);
    if (hk_cell_empty(cell))
        return true;
    if (!row->piece)
        return wrong(row, PART, "a part of \"all\"", "name its piece, or leave the part empty");
    struct list parts = names_of(row, row->piece);
    if (hk_names_find(list_names(&parts), row->part) != SIZE_MAX)
        return true;
    const char *where = hk_arena_print(&row->at.reading->project->arena, " of \"%s\" in pieces.csv", row->piece);
    hk_reading_unknown(row->at.reading, cell, 0, "part", row->part, where ? where : "", list_names(&parts));
    hk_diags_hint(row->at.reading->diags, row->typed ? "rows are stated with their number, such as 20 rows"
                                                     : "leave it empty for the whole piece");
    return false;
}

static const char *title_of(const struct row *row, const struct hk_progress *progress)
{
    struct hk_project *project = row->at.reading->project;
    const char *size = project->size_count > 1 ? project->sizes[progress->size] : NULL;
    const char *title = NULL;
    if (!row->piece)
        title = size ? hk_arena_print(&project->arena, "all of size %s", size) : "the whole work";
    else
        title = hk_arena_print(&project->arena, "\"%s\"%s%s%s%s%s", cell_name(row, PIECE), *row->part ? ", part \"" : "",
                               row->part, *row->part ? "\"" : "", size ? ", size " : "", size ? size : "");
    return title ? title : "";
}

/* The same without the size, and with the rows. */
static const char *work_of(const struct row *row, const struct hk_progress *progress)
{
    struct hk_project *project = row->at.reading->project;
    const char *work = hk_arena_print(&project->arena, "%s%s%s", row->piece ? cell_name(row, PIECE) : all_pieces,
                                      *row->part ? ", " : "", row->part);
    if (work && progress->rows != HK_NOT_STATED)
        work = hk_arena_print(&project->arena, "%s, %" PRId64 " row%s", work, progress->rows,
                              progress->rows == 1 ? "" : "s");
    return work ? work : "";
}

/* ---- Lines and copies ---------------------------------------------------------------------------------------- */

static int64_t times_of(const struct hk_line *line, size_t size)
{
    return hk_line_without(line, size) ? 0 : line->times.given ? line->times.by_size[size].count : 1;
}

static bool is_of(const struct row *row, const struct hk_line *line)
{
    return !row->piece || (hk_text_same(line->piece, row->piece) && (!*row->part || hk_text_same(line->part, row->part)));
}

/* What to write in place of a copy that there is not: "back 20" may be 20 rows of it, typed. */
static const char *copy_hint(const struct row *row, const struct hk_progress *progress, int64_t most)
{
    struct hk_arena *arena = &row->at.reading->project->arena;
    if (most > 1)
        return hk_arena_print(arena,
                              "write %s 1 to %s %" PRId64 ", or %s x%" PRId64 " for all of them on the scale together",
                              row->piece, row->piece, most, row->piece, most);
    if (row->typed && progress->first == progress->last && progress->rows == HK_NOT_STATED)
        return hk_arena_print(arena, "write %s %" PRId64 " rows for these rows, or %s for all of it", row->piece,
                              progress->last, row->piece);
    return hk_arena_print(arena, "write %s", row->piece);
}

static bool copies_good(const struct row *row, const struct hk_progress *progress, int64_t most)
{
    struct hk_project *project = row->at.reading->project;
    const char *size = project->size_count > 1 ? hk_arena_print(&project->arena, "size %s", project->sizes[progress->size])
                                               : "the design";
    const char *of = *row->part ? row->part : row->piece ? row->piece : all_pieces;
    if (!size || most == 0)
        return wrong(row, PIECE, hk_arena_print(&project->arena, "%s works nothing of \"%s\"", size ? size : "", of),
                     "check the size; pieces.csv has 0 for it there");
    if (!row->piece || progress->last <= most)
        return true;
    return wrong(row, PIECE,
                 hk_arena_print(&project->arena, "\"%s\" is worked %" PRId64 " time%s in %s", of, most,
                                most == 1 ? "" : "s", size),
                 copy_hint(row, progress, most));
}

/* Whether the row says which copies it is of, where the piece is worked several times. */
static bool copies_named(const struct row *row, int64_t most)
{
    struct hk_arena *arena = &row->at.reading->project->arena;
    const char *text = cell_name(row, PIECE);
    if (!row->piece || most < 2 || !hk_text_same(text, row->piece))
        return true;
    return wrong(row, PIECE,
                 hk_arena_print(arena, "\"%s\" is worked %" PRId64 " times, and this row does not say which of them it is of",
                                text, most),
                 hk_arena_print(arena, "write %s 1 for one of them, or %s x%" PRId64 " for all of them together", text, text,
                                most));
}

static bool find_lines(const struct row *row, struct hk_progress *progress)
{
    struct hk_project *project = row->at.reading->project;
    int64_t most = 0;
    progress->lines = hk_arena_take(&project->arena, project->line_count, sizeof *progress->lines);
    for (size_t i = 0; i < project->line_count && progress->lines; i++) {
        int64_t times = is_of(row, &project->lines[i]) ? times_of(&project->lines[i], progress->size) : 0;
        if (times >= progress->first)
            progress->lines[progress->line_count++] = i;
        most = times > most ? times : most;
    }
    return progress->lines && copies_good(row, progress, most) && copies_named(row, most);
}

static bool read_rows(const struct row *row, struct hk_progress *progress)
{
    progress->rows = HK_NOT_STATED;
    if (hk_cell_empty(progress->rows_cell))
        return true;
    if (!row->piece)
        return wrong(row, ROWS, "rows of \"all\" could be anywhere",
                     "name the piece, or leave the rows empty for the whole garment");
    return hk_count_cell(progress->rows_cell, HK_SIGN_POSITIVE, &progress->rows, row->at.reading->diags);
}

/* ---- Yarn ------------------------------------------------------------------------------------------------------ */

/* The roles of the strands of the lines: the first, whether there are others, whether a strand matches the yarn. */
struct strands_used {
    size_t role;
    bool several, matches;
};

static struct strands_used strands_used(const struct hk_project *project, const struct hk_progress *progress,
                                        struct hk_of_yarn of)
{
    struct strands_used used = {.role = SIZE_MAX};
    for (size_t l = 0; l < progress->line_count; l++) {
        const struct hk_stripes *yarn = &project->lines[progress->lines[l]].yarn;
        for (size_t i = 0; i < yarn->count; i++) {
            const struct hk_combination *c = &project->combinations[yarn->stripes[i].combination];
            for (size_t s = 0; s < c->strand_count; s++) {
                used.role = used.role == SIZE_MAX ? c->strands[s].role : used.role;
                used.several |= c->strands[s].role != used.role;
                used.matches |= hk_of_yarn(of, c->strands[s].role, c->strands[s].yarn);
            }
        }
    }
    return used;
}

/* The role or the yarn that the cell names; the other is SIZE_MAX. */
static struct hk_of_yarn yarn_named(const struct hk_project *project, const char *text)
{
    struct hk_of_yarn of = {hk_names_find(hk_project_role_names(project), text), SIZE_MAX};
    if (of.role == SIZE_MAX)
        of.yarn = hk_names_find(hk_project_yarn_names(project), text);
    return of;
}

static bool read_yarn(const struct row *row, struct hk_progress *progress)
{
    struct hk_reading *reading = row->at.reading;
    struct hk_project *project = reading->project;
    struct hk_cell cell = cell_of(row, YARN);
    const char *text = cell_text(row, YARN);
    struct hk_of_yarn named = {SIZE_MAX, SIZE_MAX};
    if (!hk_cell_empty(cell)) {
        named = yarn_named(project, text);
        if (named.role == SIZE_MAX && named.yarn == SIZE_MAX) {
            hk_reading_unknown(reading, cell, 0, "role or yarn", text, " in yarns.csv", hk_project_role_names(project));
            return false;
        }
    }
    struct strands_used used = strands_used(project, progress, named);
    progress->of = used.several ? named : (struct hk_of_yarn){used.role, SIZE_MAX};
    if (used.matches || used.role == SIZE_MAX) /* there are no strands where memory ran out in pieces.csv */
        return true;
    return wrong(row, YARN, hk_arena_print(&project->arena, "%s is not worked in \"%s\"", progress->title, text),
                 hk_arena_print(&project->arena, "is it %s?", project->roles[used.role].name));
}

/* ---- What the scale and the clock say ---------------------------------------------------------------------------- */

/* Grams in hand of that yarn: the offers of the shop own for its roles. */
static double in_hand_g(const struct hk_project *project, struct hk_of_yarn of)
{
    double mass_g = 0;
    for (size_t i = 0; i < project->offer_count; i++) {
        const struct hk_offer *offer = &project->offers[i];
        const struct hk_candidate *plan = &project->candidates[project->roles[offer->role].plan];
        if (offer->shop == HK_SELLER_OWN && hk_of_yarn(of, offer->role, offer->yarn) && hk_offer_counts(offer, plan))
            mass_g += (double)offer->stock * offer->put_up_g;
    }
    return mass_g;
}

/* Turns the weight of the yarn left into the weight of the yarn used. */
static bool take_from_hand(const struct row *row, struct hk_progress *progress)
{
    struct hk_project *project = row->at.reading->project;
    struct hk_of_yarn of = progress->of;
    if (of.role == SIZE_MAX && of.yarn == SIZE_MAX)
        return wrong(row, OF,
                     hk_arena_print(&project->arena, "%s uses several yarns, and the row does not say which is left",
                                    progress->title),
                     "name it in the column yarn, and give each yarn a row of its own");
    if (!row->at.reading->knows_offers)
        return false;
    const char *name = of.role != SIZE_MAX ? project->roles[of.role].name : project->yarns[of.yarn].name;
    double hand_g = in_hand_g(project, of);
    if (!(hand_g > 0))
        return wrong(row, OF, hk_arena_print(&project->arena, "what was in hand of %s before is not known", name),
                     "write it into offers.csv as of the shop own, with its put_up, a price of 0 and its stock");
    if (progress->mass_g >= hand_g)
        return wrong(row, WEIGHT, hk_arena_print(&project->arena, "%s g are left of %s, and %s g were in hand",
                                                 hk_number_text(progress->mass_g, 6).text, name,
                                                 hk_number_text(hand_g, 6).text),
                     "check the weight, and the stock of the shop own in offers.csv; or is it what was used?");
    progress->hand_g = hand_g;
    progress->left_g = progress->mass_g;
    progress->mass_g = hand_g - progress->left_g;
    return true;
}

static bool read_weight(const struct row *row, struct hk_progress *progress)
{
    static const char *const words[] = {"used", "left"};
    struct hk_reading *reading = row->at.reading;
    struct hk_cell of = cell_of(row, OF);
    size_t choice = 0;
    bool good = hk_cell_empty(of) || hk_reading_choice(reading, of, words, 2, &choice);
    good &= hk_reading_scale(row->at, SCALE_STEP, SCALE_ACCURACY, &progress->scale);
    if (hk_cell_empty(progress->weight_cell))
        return good;
    good &= hk_quantity_cell(progress->weight_cell, HK_DIM_MASS, HK_SIGN_POSITIVE, &progress->mass_g, reading->diags);
    return good && (choice == 0 || take_from_hand(row, progress));
}

static bool weighed_or_timed(const struct row *row, const struct hk_progress *progress)
{
    struct hk_diags *diags = row->at.reading->diags;
    if (!hk_cell_empty(progress->minutes_cell) || !hk_cell_empty(progress->weight_cell))
        return true;
    hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_cell_place(progress->weight_cell, 0), "neither a weight nor minutes");
    hk_diags_hint(diags, "write what it weighs so far, or how long it took in the column minutes");
    return false;
}

/* ---- The file ------------------------------------------------------------------------------------------------------ */

/* Cells are read even if others have mistakes; but a weight beside a filled cell `of` only where the work is known. */
static bool read_row(struct row *row, struct hk_progress *progress)
{
    bool read = hk_fields_read(fields, row->at, progress);
    bool good = read_size(row, progress);
    bool named = read_piece(row, progress);
    named = named && read_part(row);
    good &= read_rows(row, progress);
    if (good && named) {
        progress->title = progress->own_title = title_of(row, progress);
        progress->work = work_of(row, progress);
        good = find_lines(row, progress) && read_yarn(row, progress);
    }
    bool found = good && named;
    if (found || hk_cell_empty(cell_of(row, OF)))
        good &= read_weight(row, progress);
    good &= weighed_or_timed(row, progress);
    return good && named && read;
}

/* The lines are all, those of a piece or those of a part: the count and the first line identify them. */
static bool same_work(const struct hk_progress *a, const struct hk_progress *b)
{
    return a->size == b->size && a->first == b->first && a->last == b->last && a->line_count == b->line_count &&
           a->lines[0] == b->lines[0];
}

/* A later row of the same work replaces its weight of the same yarn, and its time. */
static void replace_earlier(struct hk_project *project, const struct hk_progress *later)
{
    for (size_t i = 0; i < project->progress_count; i++) {
        struct hk_progress *earlier = &project->progress[i];
        if (!same_work(earlier, later))
            continue;
        if (later->minutes > 0)
            earlier->minutes = 0;
        if (!(later->mass_g > 0) || earlier->of.role != later->of.role || earlier->of.yarn != later->of.yarn)
            continue;
        earlier->replaced = earlier->mass_g > 0;
        earlier->mass_g = 0;
    }
}

void hk_progress_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    bool known;
    const struct hk_table *table = hk_fields_table(reading, "progress.csv", fields, false, &known);
    size_t rows = table ? hk_table_rows(table) : 0;
    if (!reading->knows_pieces)
        return; /* the names that its rows refer to are not known */
    project->progress = hk_arena_take(&project->arena, rows, sizeof *project->progress);
    for (size_t i = 0; project->progress && i < rows; i++) {
        struct row row = {.at = {reading, table, i}};
        struct hk_progress progress = {0};
        if (!read_row(&row, &progress))
            continue;
        replace_earlier(project, &progress);
        project->progress[project->progress_count++] = progress;
    }
}

struct hk_names hk_progress_pieces(struct hk_reading *reading)
{
    struct row row = {.at = {.reading = reading}};
    struct list *list = hk_arena_take(&reading->project->arena, 1, sizeof *list);
    if (!list)
        return (struct hk_names){0, list_name, NULL};
    *list = names_of(&row, NULL);
    return list_names(list);
}

bool hk_progress_typed(struct hk_reading *reading, const struct hk_progress_words *words, struct hk_progress *progress)
{
    struct hk_cell none = words->piece,
                   cells[] = {[PIECE] = words->piece, [WEIGHT] = words->piece, [PART] = words->part,
                              [ROWS] = words->rows,   [YARN] = words->yarn,    [MINUTES] = words->piece};
    none.text = "";
    struct row row = {.at = {.reading = reading}, .typed = cells};
    cells[WEIGHT] = cells[MINUTES] = none;
    progress->cell = progress->weight_cell = progress->minutes_cell = words->piece;
    progress->rows_cell = words->rows;
    if (!read_piece(&row, progress) || !read_part(&row) || !read_rows(&row, progress))
        return false;
    progress->title = progress->own_title = title_of(&row, progress);
    progress->work = work_of(&row, progress);
    return find_lines(&row, progress) && read_yarn(&row, progress);
}

double hk_progress_hand_g(const struct hk_project *project, struct hk_of_yarn of)
{
    return in_hand_g(project, of);
}

/* ---- Of several folders ---------------------------------------------------------------------------------------- */

static size_t progress_count(const struct hk_project *of)
{
    return of->progress_count;
}

static void weighing_list(struct hk_project *of, size_t i, struct hk_weighing *weighing)
{
    struct hk_progress *progress = &of->progress[i];
    weighing->hash = 31 * hk_text_hash(of->title) + hk_text_hash(progress->title);
    weighing->what = progress->mass_g > 0 || progress->minutes > 0 ? progress : NULL;
}

/* The same weighing, or time, is of the same work of the same design. */
static void weighing_compare(const struct hk_weighing *first, struct hk_weighing *again, struct hk_diags *diags)
{
    const struct hk_progress *x = first->what, *y = again->what;
    again->again = hk_text_same(first->of->title, again->of->title) && hk_text_same(x->title, y->title) &&
                   x->first == y->first && x->last == y->last && x->rows == y->rows && x->line_count == y->line_count &&
                   x->mass_g == y->mass_g && x->minutes == y->minutes;
    if (!again->again)
        return;
    struct hk_place at = hk_cell_place(x->cell, 0);
    hk_diags_add(diags, HK_CODE_SWATCH_DOUBLED, hk_cell_place(y->cell, 0),
                 "%s is weighed as in %s:%zu, and counts once", y->title, at.file, at.line);
    hk_diags_hint(diags, "take it out of one of the two files");
}

static void weighing_leave_out(const struct hk_weighing *weighing)
{
    struct hk_progress *progress = weighing->what;
    progress->mass_g = progress->minutes = 0;
}

void hk_progress_once(struct hk_project *project, struct hk_diags *diags)
{
    static const struct hk_weighings of_work = {progress_count, weighing_list, weighing_compare, weighing_leave_out};
    hk_weighed_once(project, &of_work, diags);
}
