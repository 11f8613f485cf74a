/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows of a table are sorted by fabric, then set-up before cycle, then number, so that a gap or a duplicate is visible
 * between neighbours. Sorting avoids quadratic time for large files.
 */
#include "pattern/fabric.h"

#include "base/diags.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMN_FABRIC, COLUMN_ROW, COLUMN_MAKE };

/* A row of the table. */
struct entry {
    const char *name;   /* the fabric's name */
    bool cycle;         /* false: a set-up row */
    int64_t number;     /* from 1 */
    size_t table_row;
    bool numbered; /* its fabric and number are valid */
    bool parsed;
    struct hk_row row;
};

struct reader {
    const struct hk_table *table;
    enum hk_terms terms;
    const struct hk_catalogue *catalogue;
    struct hk_arena *arena; /* memory of the result */
    struct hk_arena *scratch;
    struct hk_diags *diags;
};

/* Returns true when no step works into a stitch: cut lengths, turning chains, and words without work. */
static bool works_no_stitch(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool cut = steps[i].kind == HK_STEP_CUT || steps[i].kind == HK_STEP_TURN;
        bool turning = steps[i].kind == HK_STEP_TURNING && steps[i].step_count == 0;
        if (steps[i].kind == HK_STEP_CHAIN) /* "ch 1, turn" */
            turning = i + 1 < count && steps[i + 1].kind == HK_STEP_TURN;
        bool times = steps[i].kind == HK_STEP_REPEAT && steps[i].where.limit == HK_LIMIT_COUNT;
        if (!cut && !turning && !(times && works_no_stitch(steps[i].steps, steps[i].step_count)))
            return false;
    }
    return true;
}

bool hk_row_without_stitches(const struct hk_row *row)
{
    return works_no_stitch(row->steps, row->step_count);
}

static enum hk_way rows_way(const struct hk_row *rows, size_t count)
{
    enum hk_way way = HK_WAY_NOT_STATED;
    for (size_t r = 0; r < count; r++)
        way = rows[r].way > way ? rows[r].way : way;
    return way;
}

/* Returns true for a name of rounds: rows of circular knitting and spirals have neither join nor turn. */
static bool called_round(const char *name)
{
    return strstr(name, "in rounds") || strstr(name, "in the round") || strstr(name, "in a spiral");
}

enum hk_way hk_fabric_way(const struct hk_fabric *fabric)
{
    enum hk_way way = rows_way(fabric->rows + fabric->setup_count, fabric->cycle_count);
    way = way != HK_WAY_NOT_STATED ? way : rows_way(fabric->rows, fabric->setup_count);
    return way == HK_WAY_NOT_STATED && called_round(fabric->name) ? HK_WAY_ROUNDS : way;
}

static bool steps_have_base(const struct hk_catalogue *catalogue, const struct hk_step *steps, size_t count,
                            size_t base)
{
    for (size_t i = 0; i < count; i++)
        if ((steps[i].kind == HK_STEP_STITCH && steps[i].stitch < catalogue->stitch_count &&
             catalogue->stitches[steps[i].stitch].base == base) ||
            steps_have_base(catalogue, steps[i].steps, steps[i].step_count, base))
            return true;
    return false;
}

bool hk_fabric_works(const struct hk_fabric *fabric, const struct hk_catalogue *catalogue, size_t base)
{
    for (size_t r = 0; r < fabric->setup_count + fabric->cycle_count; r++)
        if (steps_have_base(catalogue, fabric->rows[r].steps, fabric->rows[r].step_count, base))
            return true;
    return false;
}

const struct hk_row *hk_fabric_row(const struct hk_fabric *fabric, int64_t r)
{
    int64_t setup = (int64_t)fabric->setup_count;
    return &fabric->rows[r < setup ? r : setup + (r - setup) % (int64_t)fabric->cycle_count];
}

/* Returns the positive integer that is the whole text; 0 if it is not one. */
static int64_t row_number(const char *text)
{
    int64_t number = 0;
    if (!*text)
        return 0;
    for (; *text; text++) {
        if (*text < '0' || *text > '9' || number > HK_COUNT_MOST)
            return 0;
        number = number * 10 + (*text - '0');
    }
    return number;
}

/* Reads a row number: "set-up", "set-up 2", "3". */
static bool row_word(const char *word, struct entry *entry)
{
    static const char *const setups[] = {"set-up", "setup", "set up"};
    entry->cycle = true;
    for (size_t i = 0; i < sizeof setups / sizeof *setups; i++) {
        if (!hk_text_starts(word, setups[i]))
            continue;
        word += strlen(setups[i]);
        entry->cycle = false;
        if (!*word) {
            entry->number = 1;
            return true;
        }
        word += *word == ' ';
        break;
    }
    entry->number = row_number(word);
    return entry->number > 0;
}

static bool read_row_word(const struct reader *reader, struct entry *entry)
{
    struct hk_cell cell = hk_table_cell(reader->table, entry->table_row, COLUMN_ROW);
    const char *word = hk_text_plain(reader->scratch, cell.text, NULL);
    if (!word || !*word)
        return false;
    if (row_word(word, entry))
        return true;
    hk_diags_add(reader->diags, HK_CODE_FABRIC_ROWS, hk_cell_place(cell, 0), "%s is no row of a fabric", word);
    hk_diags_hint(reader->diags, "write set-up, set-up 2, ... for rows worked once, then 1, 2, ...");
    return false;
}

/* Reads a row. The table reader has reported empty cells. */
static bool read_entry(const struct reader *reader, size_t table_row, struct entry *entry)
{
    struct hk_cell name = hk_table_cell(reader->table, table_row, COLUMN_FABRIC);
    struct hk_cell make = hk_table_cell(reader->table, table_row, COLUMN_MAKE);
    *entry = (struct entry){.table_row = table_row, .name = hk_text_shown(reader->scratch, name.text)};
    if (entry->name)
        hk_name_bound(name, entry->name, reader->diags);
    entry->numbered = read_row_word(reader, entry) && !hk_cell_empty(name);
    entry->parsed = !hk_cell_empty(make) && hk_row_parse(make, reader->terms, reader->catalogue, &entry->row,
                                                         reader->arena, reader->diags);
    return entry->name;
}

static int by_fabric(const void *a, const void *b)
{
    const struct entry *x = a, *y = b;
    int names = hk_text_compare(x->name, y->name);
    if (names)
        return names;
    if (x->cycle != y->cycle)
        return x->cycle ? 1 : -1;
    if (x->number != y->number)
        return x->number > y->number ? 1 : -1;
    return (x->table_row > y->table_row) - (x->table_row < y->table_row);
}

static int by_first_cell(const void *a, const void *b)
{
    const struct hk_fabric *x = a, *y = b;
    return (x->cell.row > y->cell.row) - (x->cell.row < y->cell.row);
}

static const char *row_text(const struct reader *reader, bool cycle, int64_t number)
{
    const char *text = cycle         ? hk_arena_print(reader->scratch, "row %" PRId64, number)
                       : number == 1 ? "set-up row"
                                     : hk_arena_print(reader->scratch, "row set-up %" PRId64, number);
    return text ? text : "row";
}

static void report_doubled(const struct reader *reader, const struct entry *first, const struct entry *again)
{
    struct hk_cell cell = hk_table_cell(reader->table, again->table_row, COLUMN_ROW);
    struct hk_place at_first = hk_cell_place(hk_table_cell(reader->table, first->table_row, COLUMN_ROW), 0);
    hk_diags_add(reader->diags, HK_CODE_FABRIC_ROWS, hk_cell_place(cell, 0), "%s has a %s twice, first in line %zu",
                 again->name, row_text(reader, again->cycle, again->number), at_first.line);
    hk_diags_hint(reader->diags, "number the rows 1, 2, ... each once");
}

static void report_gap(const struct reader *reader, const struct entry *entry, int64_t missing)
{
    struct hk_cell cell = hk_table_cell(reader->table, entry->table_row, COLUMN_ROW);
    const char *has = row_text(reader, entry->cycle, entry->number);
    hk_diags_add(reader->diags, HK_CODE_FABRIC_ROWS, hk_cell_place(cell, 0), "%s has a %s and no %s",
                 entry->name, has, row_text(reader, entry->cycle, missing));
    hk_diags_hint(reader->diags, "number the rows without gaps");
}

/* Returns true when the sorted rows of one fabric are consecutive and include row 1; else reports it. */
static bool rows_follow(const struct reader *reader, const struct entry *entries, size_t count)
{
    bool good = true;
    for (size_t i = 0; i < count; i++) {
        bool first = i == 0 || entries[i].cycle != entries[i - 1].cycle;
        int64_t before = first ? 0 : entries[i - 1].number;
        if (entries[i].number == before) {
            report_doubled(reader, &entries[i - 1], &entries[i]);
            good = false;
        } else if (entries[i].number != before + 1) {
            report_gap(reader, &entries[i], before + 1);
            good = false;
        }
    }
    if (!entries[count - 1].cycle) {
        struct hk_cell cell = hk_table_cell(reader->table, entries[count - 1].table_row, COLUMN_ROW);
        hk_diags_add(reader->diags, HK_CODE_FABRIC_ROWS, hk_cell_place(cell, 0), "%s has set-up rows and no row 1",
                     entries[count - 1].name);
        hk_diags_hint(reader->diags, "number the rows that are repeated 1, 2, ...");
        good = false;
    }
    return good;
}

static bool build(const struct reader *reader, const struct entry *entries, size_t count, struct hk_fabric *fabric)
{
    size_t first = 0;
    for (size_t i = 1; i < count; i++) {
        if (entries[i].table_row < entries[first].table_row)
            first = i;
    }
    *fabric = (struct hk_fabric){
        .cell = hk_table_cell(reader->table, entries[first].table_row, COLUMN_FABRIC),
        .rows = hk_arena_take(reader->arena, count, sizeof *fabric->rows),
    };
    fabric->name = hk_text_shown(reader->arena, fabric->cell.text);
    if (!fabric->rows || !fabric->name)
        return false;
    for (size_t i = 0; i < count; i++) {
        fabric->rows[i] = entries[i].row;
        fabric->setup_count += !entries[i].cycle;
    }
    fabric->cycle_count = count - fabric->setup_count;
    fabric->knit = fabric->rows[0].knit;
    return true;
}

/* Builds the fabrics whose rows are all valid; entries are sorted. */
static bool build_all(const struct reader *reader, struct entry *entries, size_t entry_count, struct hk_fabric *fabrics,
                      size_t *count)
{
    bool good = true;
    for (size_t begin = 0, end; begin < entry_count; begin = end) {
        bool numbered = true, parsed = true;
        for (end = begin; end < entry_count && hk_text_same(entries[end].name, entries[begin].name); end++) {
            numbered = numbered && entries[end].numbered;
            parsed = parsed && entries[end].parsed;
        }
        /* A row without a valid number may be the missing one. */
        if (!numbered || !rows_follow(reader, &entries[begin], end - begin) || !parsed) {
            good = false;
            continue;
        }
        if (!build(reader, &entries[begin], end - begin, &fabrics[*count]))
            return false;
        ++*count;
    }
    if (*count)
        qsort(fabrics, *count, sizeof *fabrics, by_first_cell);
    return good;
}

static bool read_all(const struct reader *reader, struct hk_fabric **fabrics, size_t *count)
{
    size_t rows = hk_table_rows(reader->table), found = 0;
    struct entry *entries = hk_arena_take(reader->scratch, rows, sizeof *entries);
    struct hk_fabric *list = hk_arena_take(reader->arena, rows, sizeof *list);
    for (size_t i = 0; entries && list && i < rows; i++) {
        if (!read_entry(reader, i, &entries[i]))
            entries = NULL;
    }
    if (!entries || !list)
        return false;
    if (rows)
        qsort(entries, rows, sizeof *entries, by_fabric);
    bool good = build_all(reader, entries, rows, list, &found);
    *fabrics = list;
    *count = found;
    return good;
}

bool hk_fabrics_read(const struct hk_table *table, enum hk_terms terms, const struct hk_catalogue *catalogue,
                     struct hk_fabric **fabrics, size_t *count, struct hk_arena *arena, struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    struct reader reader = {table, terms, catalogue, arena, &scratch, diags};
    bool good = read_all(&reader, fabrics, count);
    if (scratch.out_of_memory || arena->out_of_memory) {
        diags->out_of_memory = true;
        good = false;
    }
    hk_arena_free(&scratch);
    return good;
}
