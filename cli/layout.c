/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layout.h"

#include "safe.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

static const char bold[] = "\033[1m", normal[] = "\033[0m";
static const size_t narrowest_wrap = 14; /* columns; the least width of a wrapped column */
static const size_t longest_name = 48;   /* columns; a longer cell is shortened unless its column wraps */
static const size_t gap = 2;             /* spaces between columns, and before a table */
static const size_t default_width = 80, narrowest = 40, widest = 1000;

/* ---- Width and words ---- */

/* Returns the width that COLUMNS states, or 0. */
static size_t columns_of(const char *word)
{
    size_t width = 0;
    if (!word || !*word)
        return 0;
    for (; *word; word++) {
        if (*word < '0' || *word > '9' || width > widest)
            return 0;
        width = 10 * width + (size_t)(*word - '0');
    }
    return width;
}

static size_t terminal_width(void)
{
    struct winsize size = {0};
    if (isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0)
        return size.ws_col;
    return 0;
}

struct text text_to(FILE *stream, int64_t width_option)
{
    const char *no_colour = getenv("NO_COLOR"), *terminal = getenv("TERM");
    struct text text = {.stream = stream, .width = (size_t)width_option};
    if (!text.width)
        text.width = columns_of(getenv("COLUMNS"));
    if (!text.width)
        text.width = terminal_width();
    if (!text.width)
        text.width = default_width;
    if (text.width < narrowest)
        text.width = narrowest;
    text.colour = isatty(STDOUT_FILENO) && !(no_colour && *no_colour) && terminal && strcmp(terminal, "dumb") != 0;
    return text;
}

static size_t width_of(const char *words, size_t length)
{
    size_t width = 0;
    for (size_t i = 0; i < length;) {
        int columns;
        i += safe_character(words + i, length - i, &columns);
        width += columns < 0 ? 1 : (size_t)columns;
    }
    return width;
}

char *text_format_list(const char *format, va_list list)
{
    char few[128]; /* most texts are short and need only one formatting pass */
    va_list again;
    va_copy(again, list);
    const int length = vsnprintf(few, sizeof few, format, again);
    va_end(again);
    char *words = length < 0 ? NULL : malloc((size_t)length + 1);
    if (words && (size_t)length < sizeof few)
        memcpy(words, few, (size_t)length + 1);
    else if (words)
        vsnprintf(words, (size_t)length + 1, format, list);
    return words;
}

char *text_format(const char *format, ...)
{
    va_list list;
    va_start(list, format);
    char *words = text_format_list(format, list);
    va_end(list);
    return words;
}

bool text_append(char **words, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    char *more = text_format_list(format, list);
    va_end(list);
    char *all = more ? text_format("%s%s", *words ? *words : "", more) : NULL;
    free(*words);
    free(more);
    *words = all;
    return all != NULL;
}

static void put(struct text *text, const char *words, size_t length)
{
    if (fwrite(words, 1, length, text->stream) != length)
        text->failed = true;
}

static void put_blanks(struct text *text, size_t count)
{
    for (size_t i = 0; i < count; i++)
        put(text, " ", 1);
}

/*
 * Returns the bytes of the next line of at most `width` columns; *next is the start of the following line. Cuts a word
 * wider than the line.
 */
static size_t next_line(const char *words, size_t width, size_t *next)
{
    const size_t length = strlen(words);
    size_t used = 0, blank = 0;
    for (size_t i = 0; i < length;) {
        int columns;
        const size_t bytes = safe_character(words + i, length - i, &columns);
        const size_t taken = columns < 0 ? 1 : (size_t)columns;
        if (words[i] == ' ') {
            blank = i;
        } else if (used + taken > width && i) {
            *next = blank ? blank + 1 : i;
            return blank ? blank : i;
        }
        used += taken;
        i += bytes;
    }
    *next = length;
    return length;
}

/* Bold starts and ends within each line, so that no line affects the next. */
static void put_styled(struct text *text, const char *words, size_t length, bool heading)
{
    if (heading && text->colour)
        put(text, bold, strlen(bold));
    put(text, words, length);
    if (heading && text->colour)
        put(text, normal, strlen(normal));
}

/* Puts `first` before the first line, and `indent` blanks before the others. */
static void wrapped(struct text *text, const char *words, const char *first, size_t indent, bool heading)
{
    put(text, first, strlen(first));
    for (bool again = false; *words || !again; again = true) {
        size_t next;
        const size_t bytes = next_line(words, text->width - (again ? indent : strlen(first)), &next);
        if (again)
            put_blanks(text, indent);
        put_styled(text, words, bytes, heading);
        put(text, "\n", 1);
        words += next;
    }
}

static void wrapped_list(struct text *text, const char *first, size_t indent, bool heading, const char *format,
                         va_list list)
{
    char *words = text_format_list(format, list);
    if (words && text->reword) {
        char *reworded = text->reword(text->project, words);
        free(words);
        words = reworded;
    }
    if (!words) {
        text->failed = true;
        return;
    }
    safe_words(words);
    wrapped(text, words, first, indent, heading);
    free(words);
}

void text_gap(struct text *text)
{
    put(text, "\n", 1);
}

void text_plain(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    char *words = text_format_list(format, list);
    va_end(list);
    if (words)
        put(text, words, strlen(words));
    else
        text->failed = true;
    free(words);
}

void text_line(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    char *words = text_format_list(format, list);
    va_end(list);
    if (words) {
        safe_words(words);
        put(text, words, strlen(words));
        put(text, "\n", 1);
    } else {
        text->failed = true;
    }
    free(words);
}

void text_heading(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    wrapped_list(text, "", 0, true, format, list);
    va_end(list);
}

void text_paragraph(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    wrapped_list(text, "", 0, false, format, list);
    va_end(list);
}

void text_entry(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    wrapped_list(text, "", 2, false, format, list);
    va_end(list);
}

void text_item(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    wrapped_list(text, "  - ", 4, false, format, list);
    va_end(list);
}

void text_subitem(struct text *text, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    wrapped_list(text, "    - ", 6, false, format, list);
    va_end(list);
}

/* ---- Tables ---- */

struct column {
    char *name;
    int flags;
    size_t natural, width; /* width of the widest cell, and width assigned */
};

struct text_table {
    struct text *text;
    struct column *columns;
    size_t column_count;
    char **cells;
    size_t cell_count, capacity;
    bool failed;
};

struct text_table *text_table(struct text *text)
{
    struct text_table *table = calloc(1, sizeof *table);
    if (!table)
        text->failed = true;
    else
        table->text = text;
    return table;
}

static void table_free(struct text_table *table)
{
    for (size_t i = 0; i < table->column_count; i++)
        free(table->columns[i].name);
    for (size_t i = 0; i < table->cell_count; i++)
        free(table->cells[i]);
    free(table->columns);
    free(table->cells);
    free(table);
}

/*
 * Makes room for one more item, doubling the block as needed. Returns NULL, and keeps the old block, when memory runs
 * out.
 */
static void *grown(void *block, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity)
        return block;
    const size_t more = *capacity ? 2 * *capacity : 16;
    void *larger = realloc(block, more * size);
    if (larger)
        *capacity = more;
    return larger;
}

void text_shorten(char *words, size_t columns)
{
    static const char dots[] = "...";
    const size_t length = strlen(words), most = columns - strlen(dots);
    size_t width = 0, kept = 0;
    if (width_of(words, length) <= columns)
        return;
    while (width < most) {
        int wide;
        const size_t bytes = safe_character(words + kept, length - kept, &wide);
        width += wide < 0 ? 1 : (size_t)wide;
        if (width <= most)
            kept += bytes;
    }
    memcpy(words + kept, dots, sizeof dots);
}

void text_table_column(struct text_table *table, int flags, const char *format, ...)
{
    if (!table)
        return;
    struct column *columns = realloc(table->columns, (table->column_count + 1) * sizeof *columns);
    va_list list;
    va_start(list, format);
    char *name = columns ? text_format_list(format, list) : NULL;
    va_end(list);
    if (columns)
        table->columns = columns;
    if (!name) {
        table->failed = true;
        return;
    }
    safe_words(name);
    text_shorten(name, longest_name);
    columns[table->column_count++] =
        (struct column){.name = name, .flags = flags, .natural = width_of(name, strlen(name))};
}

void text_table_words(struct text_table *table, char *words)
{
    char **cells = NULL;
    if (table && words)
        cells = grown(table->cells, table->cell_count, &table->capacity, sizeof *cells);
    if (!cells) {
        free(words);
        if (table)
            table->failed = true;
        return;
    }
    safe_words(words);
    struct column *column = &table->columns[table->cell_count % table->column_count];
    if (!(column->flags & TEXT_WRAP))
        text_shorten(words, longest_name);
    const size_t width = width_of(words, strlen(words));
    if (width > column->natural)
        column->natural = width;
    table->cells = cells;
    table->cells[table->cell_count++] = words;
}

void text_table_cell(struct text_table *table, const char *format, ...)
{
    if (!table || table->failed)
        return;
    va_list list;
    va_start(list, format);
    text_table_words(table, text_format_list(format, list));
    va_end(list);
}

static size_t least_width(const struct column *column)
{
    return column->flags & TEXT_WRAP && column->natural > narrowest_wrap ? narrowest_wrap : column->natural;
}

/* A block of a table: the key columns, and the columns from `first` up to, not including, `end`. */
static bool in_block(const struct text_table *table, size_t i, size_t first, size_t end)
{
    return (table->columns[i].flags & TEXT_KEY) || (i >= first && i < end);
}

/* Returns the end of the block that starts at column `first`: it has at least one column that is no key. */
static size_t block_end(const struct text_table *table, size_t first)
{
    size_t used = gap, end = first, others = 0;
    for (size_t i = 0; i < table->column_count; i++)
        if (table->columns[i].flags & TEXT_KEY)
            used += least_width(&table->columns[i]) + gap;
    for (; end < table->column_count; end++) {
        if (table->columns[end].flags & TEXT_KEY)
            continue;
        used += least_width(&table->columns[end]) + gap;
        if (used - gap > table->text->width && others)
            break;
        others++;
    }
    return end;
}

/* Distributes the remaining width among the wrapped columns of the block, in order, up to the width that each needs. */
static void spread_width(struct text_table *table, size_t first, size_t end)
{
    size_t used = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        if (!in_block(table, i, first, end))
            continue;
        table->columns[i].width = least_width(&table->columns[i]);
        used += gap + table->columns[i].width;
    }
    for (bool grew = true; grew && used < table->text->width;) {
        grew = false;
        for (size_t i = 0; i < table->column_count && used < table->text->width; i++) {
            struct column *column = &table->columns[i];
            if (!in_block(table, i, first, end) || column->width >= column->natural)
                continue;
            column->width++;
            used++;
            grew = true;
        }
    }
}

/*
 * Returns line n, from 0, of words wrapped to a width; "" beyond the last line. Owner: the caller (free). Returns NULL
 * when memory runs out.
 */
static char *wrapped_line(const char *words, size_t width, size_t n, bool *last)
{
    size_t next = 0, bytes = next_line(words, width, &next);
    for (size_t i = 0; i < n; i++) {
        words += next;
        bytes = next_line(words, width, &next);
    }
    *last = words[next] == '\0';
    return text_format("%.*s", (int)bytes, words);
}

/*
 * Prints a line of a block of columns: line n of a row's cells, or the heading where cells is NULL. Leaves out spaces
 * at the end of the line. *last: no cell has a further line. Returns false when memory runs out.
 */
static bool print_line(const struct text_table *table, char *const *cells, size_t n, size_t first, size_t end, bool *last)
{
    char *line = NULL;
    size_t blanks = 0;
    *last = true;
    for (size_t i = 0; i < table->column_count; i++) {
        const struct column *column = &table->columns[i];
        bool ends = true;
        if (!in_block(table, i, first, end))
            continue;
        char *words = cells ? wrapped_line(cells[i], column->width, n, &ends) : text_format("%s", column->name);
        const size_t width = words ? width_of(words, strlen(words)) : 0;
        const size_t room = column->width > width ? column->width - width : 0;
        const bool right = column->flags & TEXT_RIGHT, empty = words && !*words;
        const bool added =
            words && (empty || text_append(&line, "%*s%s", (int)(blanks + (right ? room : 0)), "", words));
        free(words);
        if (!added) {
            free(line);
            return false;
        }
        blanks = gap + (empty ? blanks + column->width : right ? 0 : room);
        *last = *last && ends;
    }
    put_blanks(table->text, line ? gap : 0);
    if (line)
        put_styled(table->text, line, strlen(line), !cells);
    put(table->text, "\n", 1);
    free(line);
    return true;
}

static bool print_block(struct text_table *table, size_t first, size_t end)
{
    bool last, printed = true;
    spread_width(table, first, end);
    printed = print_line(table, NULL, 0, first, end, &last);
    for (size_t row = 0; printed && row < table->cell_count / table->column_count; row++) {
        last = false;
        for (size_t n = 0; printed && !last; n++)
            printed = print_line(table, table->cells + row * table->column_count, n, first, end, &last);
    }
    return printed;
}

void text_table_print(struct text_table *table)
{
    if (!table)
        return;
    size_t first = 0;
    while (!table->failed && table->cell_count && first < table->column_count) {
        const size_t end = block_end(table, first);
        if (first)
            text_gap(table->text);
        if (!print_block(table, first, end))
            table->failed = true;
        first = end;
    }
    if (table->failed)
        table->text->failed = true;
    table_free(table);
}
