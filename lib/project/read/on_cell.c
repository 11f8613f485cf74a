/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 *     cell   = part { "+" part }
 *     part   = [times "x"] words
 *     words  = graded ("ch" | "co")                       chains of its own
 *            | "rest of" other
 *            | "stitches of" other | graded "of" other
 *            | "each row end of" other | "every other row end of" other | graded "for" graded "rows of" other
 *            | "foundation of" other
 *     other  = ["all"] name                               a piece, a part, or piece/part
 *
 * Names are looked up when all lines are read, since a line may depend on a later one.
 */
#include "project/read/on_cell.h"

#include "project/read/grade.h"

#include <string.h>

#define PARTS_MOST ((size_t)16)
#define TIMES_MOST ((int64_t)1000)

static bool one_of(const char *text, const char *const *words)
{
    for (; *words; words++)
        if (hk_text_same(text, *words))
            return true;
    return false;
}

static const char *const foundations[] = {"foundation",
                                          "the foundation",
                                          "other side of foundation",
                                          "other side of the foundation",
                                          "the other side of foundation",
                                          "the other side of the foundation",
                                          NULL};

struct parser {
    struct hk_reading *reading;
    struct hk_arena *arena;
    struct hk_span whole;
};

static bool not_read(const struct parser *parser, const struct hk_span *words)
{
    hk_diags_add(parser->reading->diags, HK_CODE_CHOICE, hk_span_place(words, words->text),
                 "a line cannot stand on \"%s\"", words->text);
    hk_diags_hint(parser->reading->diags,
                  "write 44 (48, 52) of yoke, rest of yoke, stitches of yoke, each row end of front, 3 for 4 rows "
                  "of front, foundation of hem or 8 ch, with + between them");
    return false;
}

static bool piece_of(const struct parser *parser, const struct hk_span *words, const char *from, const char *to,
                     struct hk_span *piece)
{
    if (hk_span_part(words, (size_t)(from - words->text), (size_t)(to - from), piece, parser->arena))
        return true;
    parser->reading->diags->out_of_memory = true;
    return false;
}

static bool count_read(const struct parser *parser, const struct hk_span *words, struct hk_graded *count)
{
    const struct hk_project *project = parser->reading->project;
    return hk_graded_part(words, project->size_count, &project->grade, false, count, parser->arena,
                          parser->reading->diags);
}

/* The same number in every size. */
static bool count_set(const struct parser *parser, int64_t number, struct hk_graded *count)
{
    size_t sizes = parser->reading->project->size_count;
    *count = (struct hk_graded){true, hk_arena_take(parser->arena, sizes, sizeof *count->by_size), parser->whole.cell};
    for (size_t size = 0; count->by_size && size < sizes; size++)
        count->by_size[size] = (struct hk_amount){HK_AMOUNT_COUNT, number, 0};
    parser->reading->diags->out_of_memory |= !count->by_size;
    return count->by_size;
}

/* A size that picks up stitches along row ends needs rows. */
static bool rows_given(const struct parser *parser, const struct hk_span *words, const struct hk_on_part *part)
{
    for (size_t size = 0; size < parser->reading->project->size_count; size++)
        if (part->count.by_size[size].count > 0 && part->rows.by_size[size].count == 0)
            return not_read(parser, words);
    return true;
}

/* `3` and `4 rows` or `every 4 row ends` around "for". */
static bool rates_read(const struct parser *parser, const struct hk_span *words, const char *at,
                       struct hk_on_part *part)
{
    static const char *const ends[] = {" rows", " row ends", " rounds", " rnds", NULL};
    struct hk_span picks, rows;
    const char *from = hk_blanks_skipped(at + strlen(" for"));
    from = hk_text_starts(from, "every ")  ? from + strlen("every ")
           : hk_text_starts(from, "each ") ? from + strlen("each ")
                                           : from;
    size_t length = strlen(words->text), end = 0;
    for (size_t i = 0; ends[i] && end == 0; i++)
        if (length > strlen(ends[i]) && hk_text_same(words->text + length - strlen(ends[i]) + 1, ends[i] + 1))
            end = length - strlen(ends[i]);
    if (end == 0 || words->text + end <= from)
        return not_read(parser, words);
    part->kind = HK_ON_ROWS;
    return piece_of(parser, words, words->text, at, &picks) &&
           piece_of(parser, words, from, words->text + end, &rows) && count_read(parser, &picks, &part->count) &&
           count_read(parser, &rows, &part->rows) && rows_given(parser, words, part);
}

/* The words before "of". */
static bool share_read(const struct parser *parser, const struct hk_span *words, struct hk_on_part *part)
{
    static const char *const rest[] = {"rest", "the rest", "remaining stitches", "remaining sts", NULL};
    static const char *const all[] = {"stitches", "sts", "all stitches", "all sts", "the stitches", NULL};
    static const char *const each[] = {"each row end", "every row end", "row ends", "each row", "every row", NULL};
    static const char *const other[] = {"every other row end", "every other row", "every 2nd row end", "every 2nd row",
                                        NULL};
    const char *at = strstr(words->text, " for ");
    part->kind = HK_ON_STITCHES;
    if (one_of(words->text, all))
        return true;
    if (one_of(words->text, rest)) {
        part->kind = HK_ON_REST;
        return true;
    }
    if (one_of(words->text, foundations)) {
        part->kind = HK_ON_FOUNDATION;
        return true;
    }
    bool every_other = one_of(words->text, other);
    if (every_other || one_of(words->text, each)) {
        part->kind = HK_ON_ROWS;
        return count_set(parser, 1, &part->count) && count_set(parser, every_other ? 2 : 1, &part->rows);
    }
    if (at)
        return rates_read(parser, words, at, part);
    if (!hk_is_digit(*words->text) && *words->text != '-' &&
        !hk_measure_find(&parser->reading->project->grade, words->text))
        return not_read(parser, words);
    return count_read(parser, words, &part->count);
}

/* "8 (10, 12) ch" */
static bool chains_read(const struct parser *parser, const struct hk_span *words, struct hk_on_part *part)
{
    static const struct {
        const char *word, *us;
    } kinds[] = {{" ch", "ch"}, {" chs", "ch"},     {" chain", "ch"},      {" chains", "ch"},
                 {" co", "CO"}, {" cast on", "CO"}, {" sts cast on", "CO"}};
    size_t length = strlen(words->text), best = 0;
    struct hk_span count;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        size_t own = strlen(kinds[i].word);
        if (length <= own || own <= best || !hk_text_same(words->text + length - own + 1, kinds[i].word + 1) ||
            words->text[length - own] != ' ')
            continue;
        best = own;
        part->stitch = hk_catalogue_stitch(parser->reading->project->catalogue, kinds[i].us);
    }
    if (best == 0 || part->stitch == SIZE_MAX)
        return not_read(parser, words);
    part->kind = HK_ON_CHAINS;
    part->of.line = SIZE_MAX;
    return piece_of(parser, words, words->text, words->text + length - best, &count) &&
           count_read(parser, &count, &part->count);
}

/* `all motifs`, `both fronts`, `the yoke` */
static bool other_read(const struct parser *parser, struct hk_span words, struct hk_on_part *part)
{
    static const char *const copies[] = {"all the ", "both the ", "all ", "both ", NULL};
    const char *name = words.text;
    for (size_t i = 0; copies[i] && !part->of.copies; i++) {
        if (!hk_text_starts(name, copies[i]))
            continue;
        part->of.copies = true;
        name += strlen(copies[i]);
    }
    if (hk_text_starts(name, "the "))
        name += strlen("the ");
    part->of.line = SIZE_MAX;
    part->of.name = hk_arena_text(parser->arena, name, strlen(name));
    part->of.at = hk_span_place(&words, name);
    if (!part->of.copies || part->kind == HK_ON_ROWS || part->kind == HK_ON_FOUNDATION ||
        (part->kind == HK_ON_STITCHES && !part->count.given))
        return part->of.name;
    hk_diags_add(parser->reading->diags, HK_CODE_CHOICE, part->of.at,
                 "a number or the rest of \"%s\" may be of each or of all together", words.text);
    hk_diags_hint(parser->reading->diags, "write stitches of all %s, or 2 x 44 of %s", name, name);
    return false;
}

/* The " of " before the name of the other work: the second in "other side of the foundation of"; NULL: there is none. */
static const char *source_at(const char *text)
{
    const char *of = strstr(text, " of ");
    for (size_t i = 0; foundations[i]; i++) {
        const char *behind = hk_text_starts(text, foundations[i]) ? text + strlen(foundations[i]) : text;
        of = strncmp(behind, " of ", strlen(" of ")) == 0 ? behind : of;
    }
    return of;
}

static bool part_read(const struct parser *parser, struct hk_span words, struct hk_on_part *part)
{
    const char *text = words.text, *end = text + hk_digit_run(text);
    const char *mark = hk_blanks_skipped(end);
    part->times = 1;
    part->of.line = SIZE_MAX;
    if (end > text && end - text <= 4 && (*mark == 'x' || *mark == 'X') && mark[1] == ' ') {
        part->times = 0;
        for (; text < end; text++)
            part->times = 10 * part->times + (*text - '0');
        if (part->times < 1 || part->times > TIMES_MOST)
            return not_read(parser, &words);
        struct hk_span whole = words;
        if (!piece_of(parser, &whole, mark + 2, whole.text + strlen(whole.text), &words))
            return false;
    }
    const char *of = source_at(words.text);
    struct hk_span share, other;
    if (!*words.text)
        return not_read(parser, &parser->whole);
    if (!of)
        return chains_read(parser, &words, part);
    return piece_of(parser, &words, words.text, of, &share) &&
           piece_of(parser, &words, of + strlen(" of "), words.text + strlen(words.text), &other) &&
           share_read(parser, &share, part) && other_read(parser, other, part);
}

bool hk_on_cell(struct hk_reading *reading, struct hk_cell cell, struct hk_on *on)
{
    struct parser parser = {.reading = reading, .arena = &reading->project->arena};
    *on = (struct hk_on){.cell = cell};
    if (hk_cell_empty(cell))
        return true;
    if (!reading->knows_sizes || !reading->knows_grade || !hk_span_make(cell, &parser.whole, parser.arena))
        return false;
    const char *text = parser.whole.text;
    size_t count = 1;
    for (const char *c = text; *c; c++)
        count += *c == '+';
    if (count > PARTS_MOST) {
        hk_diags_add(reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "%zu parts are summed up in one cell",
                     count);
        hk_diags_hint(reading->diags, "write at most %zu", PARTS_MOST);
        return false;
    }
    struct hk_on_part *parts = hk_arena_take(parser.arena, count, sizeof *parts);
    bool good = parts;
    for (size_t i = 0; parts && i < count; i++) {
        const char *end = text + strcspn(text, "+");
        struct hk_span words;
        good &= piece_of(&parser, &parser.whole, text, end, &words) && part_read(&parser, words, &parts[i]);
        text = end + (*end == '+');
    }
    if (!good)
        return false;
    *on = (struct hk_on){parts, count, cell};
    return true;
}

/* ---- What the names mean ----------------------------------------------------------------------------------------- */

#define NEAREST_MOST 20 /* unknown names for which the nearest name is searched */

/* Pieces and parts by their names. */
struct book {
    struct hk_reading *reading;
    const struct hk_project *project;
    struct hk_index pieces; /* the last line of each */
    struct hk_index parts;  /* the first line of that part in any piece */
    size_t *begins;         /* of each line: the first of its piece */
    size_t *next;           /* of each line: the next of the same part, SIZE_MAX: none */
    bool *straight;         /* of each line: it and all before it of its piece continue on one another */
    size_t unknown;         /* unknown names */
    struct hk_arena *arena;
};

static bool book_make(struct book *book)
{
    const struct hk_project *project = book->project;
    size_t lines = project->line_count;
    book->begins = hk_arena_take(book->arena, lines, sizeof *book->begins);
    book->next = hk_arena_take(book->arena, lines, sizeof *book->next);
    book->straight = hk_arena_take(book->arena, lines, sizeof *book->straight);
    bool good = book->begins && book->next && book->straight;
    for (size_t i = 0; good && i < lines; i++) {
        const struct hk_line *line = &project->lines[i];
        book->begins[i] = line->first ? i : book->begins[line->before];
        book->straight[i] = line->first || (line->start == HK_START_CONTINUE && book->straight[line->before]);
    }
    for (size_t i = lines; good && i-- > 0;) {
        const struct hk_line *line = &project->lines[i];
        good = hk_index_add(&book->pieces, line->piece, i, book->arena);
        book->next[i] = SIZE_MAX;
    }
    /* In order, so that the index has the first line of a name; each further line is linked behind the last one. */
    size_t *last = hk_arena_take(book->arena, lines, sizeof *last);
    good &= last != NULL;
    for (size_t i = 0; good && i < lines; i++) {
        const char *part = project->lines[i].part;
        size_t first = *part ? hk_index_find(&book->parts, part) : SIZE_MAX;
        last[i] = i;
        if (*part && first == SIZE_MAX)
            good = hk_index_add(&book->parts, part, i, book->arena);
        else if (*part) {
            book->next[last[first]] = i;
            last[first] = i;
        }
    }
    return good;
}

static const struct hk_line *line_at(const struct book *book, size_t line)
{
    return &book->project->lines[line];
}

/* The last line of the piece; in the piece of `line` itself, the line before `line`. SIZE_MAX: there is none. */
static size_t piece_last(const struct book *book, size_t line, const char *name)
{
    size_t last = hk_index_find(&book->pieces, name);
    bool own = last != SIZE_MAX && book->begins[last] == book->begins[line] && !line_at(book, line)->first;
    return own ? line_at(book, line)->before : last;
}

/* Tries the name as it is, without its last s, and with an s. */
static size_t piece_named(const struct book *book, size_t line, const char *name)
{
    size_t length = strlen(name), found = piece_last(book, line, name);
    if (found != SIZE_MAX)
        return found;
    const char *other = length > 1 && hk_lower(name[length - 1]) == 's' ? hk_arena_text(book->arena, name, length - 1)
                                                                        : hk_arena_print(book->arena, "%ss", name);
    return other ? piece_last(book, line, other) : SIZE_MAX;
}

/*
 * The first line of that part, in the piece that begins with the line `piece`, or in any piece if that is SIZE_MAX; *other
 * is another such line, or SIZE_MAX.
 */
static size_t part_named(const struct book *book, size_t piece, const char *part, size_t *other)
{
    size_t found = SIZE_MAX;
    *other = SIZE_MAX;
    for (size_t i = hk_index_find(&book->parts, part); i != SIZE_MAX && *other == SIZE_MAX; i = book->next[i]) {
        if (piece != SIZE_MAX && book->begins[i] != piece)
            continue;
        if (found != SIZE_MAX)
            *other = i;
        else
            found = i;
    }
    return found;
}

static size_t piece_slash_part(const struct book *book, const char *name, size_t *other)
{
    size_t found = SIZE_MAX;
    for (const char *slash = strchr(name, '/'); slash && found == SIZE_MAX; slash = strchr(slash + 1, '/')) {
        const char *piece = hk_arena_text(book->arena, name, (size_t)(slash - name));
        size_t last = piece ? hk_index_find(&book->pieces, piece) : SIZE_MAX;
        if (last != SIZE_MAX)
            found = part_named(book, book->begins[last], slash + 1, other);
    }
    return found;
}

static const char *name_at(const void *context, size_t i)
{
    const struct hk_project *project = context;
    const struct hk_line *line = &project->lines[i / 2];
    return i % 2 && *line->part ? line->part : line->piece;
}

static const char *title(const struct hk_line *line, struct hk_arena *arena)
{
    const char *text = *line->part ? hk_arena_print(arena, "%s/%s", line->piece, line->part) : line->piece;
    return text ? text : "";
}

static void unknown(struct book *book, const struct hk_on_source *of)
{
    struct hk_diags *diags = book->reading->diags;
    size_t near = book->unknown++ < NEAREST_MOST
                      ? hk_text_nearest(of->name, 2 * book->project->line_count, name_at, book->project)
                      : SIZE_MAX;
    hk_diags_add(diags, HK_CODE_NAME_UNKNOWN, of->at, "there is no piece or part \"%s\"", of->name);
    if (near != SIZE_MAX)
        hk_diags_hint(diags, "did you mean \"%s\"?", name_at(book->project, near));
    else
        hk_diags_hint(diags, "write the name of a piece, or of a part as piece/part");
}

static void twice(const struct book *book, const struct hk_on_source *of, size_t a, size_t b)
{
    const struct hk_line *first = line_at(book, a), *second = line_at(book, b);
    hk_diags_add(book->reading->diags, HK_CODE_NAME_DOUBLED, of->at, "\"%s\" is the name of two parts", of->name);
    if (book->begins[a] != book->begins[b])
        hk_diags_hint(book->reading->diags, "write %s or %s", title(first, book->arena), title(second, book->arena));
    else
        hk_diags_hint(book->reading->diags, "give the parts of \"%s\" different names", first->piece);
}

static void divided(const struct book *book, const struct hk_on_source *of, size_t last)
{
    const struct hk_line *line = line_at(book, last);
    hk_diags_add(book->reading->diags, HK_CODE_CHOICE, of->at, "\"%s\" has parts that do not continue on one another",
                 of->name);
    hk_diags_hint(book->reading->diags,
                  *line->part ? "name the part that is meant, such as %s"
                              : "give its lines a part, and name the one that is meant",
                  title(line, book->arena));
}

static void source_find(struct book *book, size_t line, struct hk_on_source *of)
{
    size_t other = SIZE_MAX, found = piece_named(book, line, of->name);
    if (found != SIZE_MAX) {
        of->whole = true;
        if (!book->straight[found])
            divided(book, of, found);
    } else {
        found = part_named(book, book->begins[line], of->name, &other);
        if (found == SIZE_MAX)
            found = part_named(book, SIZE_MAX, of->name, &other);
        if (found == SIZE_MAX)
            found = piece_slash_part(book, of->name, &other);
        if (found == SIZE_MAX)
            unknown(book, of);
        else if (other != SIZE_MAX)
            twice(book, of, found, other);
    }
    of->line = found;
}

static void sources_find(struct hk_reading *reading, struct hk_arena *scratch)
{
    struct hk_project *project = reading->project;
    struct book book = {.reading = reading, .project = project, .arena = scratch};
    if (!book_make(&book))
        return;
    for (size_t line = 0; line < project->line_count; line++)
        for (size_t i = 0; i < project->lines[line].on.count; i++)
            if (project->lines[line].on.parts[i].kind != HK_ON_CHAINS)
                source_find(&book, line, &project->lines[line].on.parts[i].of);
}

/* ---- The order --------------------------------------------------------------------------------------------------- */

struct ordering {
    struct hk_reading *reading;
    struct hk_project *project;
    enum { NOT_YET, BEGUN, DONE } * state;
    size_t *path, *next; /* lines begun, and the next dependency of each */
    size_t depth, count;
};

/* The lines that a line depends on: the line before it in its piece, then those that its cell names. SIZE_MAX: none here. */
static bool hangs_on(const struct hk_project *project, size_t line, size_t i, size_t *on)
{
    const struct hk_line *of = &project->lines[line];
    if (i > of->on.count)
        return false;
    *on = i == 0 ? of->before : of->on.parts[i - 1].of.line;
    return true;
}

/* `band (line 4) -> front (line 2) -> band` */
static void circle_report(const struct ordering *ordering, size_t from)
{
    const struct hk_project *project = ordering->project;
    struct hk_arena scratch = {0};
    const char *text = "";
    size_t first = 0; /* the circle is reported from its first line in the file */
    size_t count = ordering->depth - from;
    for (size_t i = 1; i < count; i++)
        if (ordering->path[from + i] < ordering->path[from + first])
            first = i;
    for (size_t i = 0; i <= count && text; i++) {
        const struct hk_line *line = &project->lines[ordering->path[from + (first + i) % count]];
        struct hk_place at = hk_line_place(line);
        text = i == count ? hk_arena_print(&scratch, "%s%s", text, title(line, &scratch))
                          : hk_arena_print(&scratch, "%s%s (line %zu) -> ", text, title(line, &scratch), at.line);
    }
    hk_diags_add(ordering->reading->diags, HK_CODE_CIRCLE, hk_line_place(&project->lines[ordering->path[from + first]]),
                 "lines depend on one another in a circle: %s", text ? text : "");
    hk_diags_hint(ordering->reading->diags, "write the stitches of one of them as a number");
    ordering->reading->diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

static void line_order(struct ordering *ordering, size_t line)
{
    ordering->path[0] = line;
    ordering->next[0] = 0;
    ordering->depth = 1;
    ordering->state[line] = BEGUN;
    while (ordering->depth > 0) {
        size_t top = ordering->path[ordering->depth - 1], on;
        if (!hangs_on(ordering->project, top, ordering->next[ordering->depth - 1]++, &on)) {
            ordering->state[top] = DONE;
            ordering->project->order[ordering->count++] = top;
            ordering->depth--;
        } else if (on != SIZE_MAX && ordering->state[on] == NOT_YET) {
            ordering->state[on] = BEGUN;
            ordering->path[ordering->depth] = on;
            ordering->next[ordering->depth++] = 0;
        } else if (on != SIZE_MAX && ordering->state[on] == BEGUN) {
            size_t from = ordering->depth;
            while (ordering->path[from - 1] != on)
                from--;
            circle_report(ordering, from - 1);
        }
    }
}

void hk_on_find(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    struct hk_arena scratch = {0};
    size_t lines = project->line_count;
    struct ordering ordering = {.reading = reading,
                                .project = project,
                                .state = hk_arena_take(&scratch, lines, sizeof *ordering.state),
                                .path = hk_arena_take(&scratch, lines + 1, sizeof *ordering.path),
                                .next = hk_arena_take(&scratch, lines + 1, sizeof *ordering.next)};
    project->order = hk_arena_take(&project->arena, lines, sizeof *project->order);
    sources_find(reading, &scratch);
    for (size_t line = 0; project->order && !scratch.out_of_memory && line < lines; line++)
        if (ordering.state[line] == NOT_YET)
            line_order(&ordering, line);
    reading->diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}
