/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reprinting: the class of each byte, the lines that a size does not have, and the edits. */
#include "pattern/reprint.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* ---- Edits ---- */

/* Returns the byte after the character that starts at `at`. */
static size_t character_end(const char *bytes, size_t at)
{
    at++;
    while (((unsigned char)bytes[at] & 0xC0) == 0x80)
        at++;
    return at;
}

static void edit_add(struct hk_reprinting *r, size_t from, size_t end, const char *text, bool quiet)
{
    struct hk_reprint_edit *edits = hk_arena_grow(r->arena, r->edits, r->edit_count, &r->edit_capacity, sizeof *edits);
    if (!edits)
        return;
    r->edits = edits;
    edits[r->edit_count++] = (struct hk_reprint_edit){from, end, text, quiet};
}

static void mark(struct hk_reprinting *r, size_t from, size_t end, enum hk_reprint_class as)
{
    memset(r->classes + from, as, end - from);
}

void hk_reprint_edit_text(struct hk_reprinting *r, const struct hk_row_text *text, size_t at, size_t end,
                          const char *with)
{
    const size_t from = text->origin[at], to = character_end(r->written->lines.bytes, text->origin[end - 1]);
    edit_add(r, from, to, with, false);
    mark(r, from, to, HK_CLASS_GONE);
}

void hk_reprint_capital(struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    const char capital = hk_upper(text->text[at]);
    const char *with = hk_arena_text(r->arena, &capital, 1);
    if (with && capital != text->text[at])
        edit_add(r, text->origin[at], text->origin[at] + 1, with, false);
}

bool hk_reprint_capital_at(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    return r->edit_count > 0 && r->edits[r->edit_count - 1].from == text->origin[at];
}

void hk_reprint_leave(struct hk_reprinting *r, struct hk_place place, const char *text, const char *hint)
{
    struct hk_reprint_left *left = hk_arena_grow(r->arena, r->left, r->left_count, &r->left_capacity, sizeof *left);
    if (!left || !text)
        return;
    r->left = left;
    left[r->left_count++] = (struct hk_reprint_left){place, text, hint};
}

size_t hk_reprint_name_at(const struct hk_reprinting *r, const char *text, size_t at)
{
    size_t longest = 0;
    if (at > 0 && (hk_is_letter(text[at - 1]) || hk_is_digit(text[at - 1])))
        return 0;
    for (size_t i = 0; i < r->wanted->name_count; i++) {
        const size_t length = strlen(r->wanted->names[i]);
        if (length > longest && hk_text_starts(text + at, r->wanted->names[i]) && !hk_is_letter(text[at + length]))
            longest = length;
    }
    return longest;
}

/* ---- Classes of bytes ---- */

static void text_mark(struct hk_reprinting *r, const struct hk_row_text *text, enum hk_reprint_class as)
{
    for (size_t i = 0; text->text && text->text[i]; i++)
        r->classes[text->origin[i]] = (unsigned char)as;
}

static bool is_row(const struct hk_entry *entry)
{
    return entry->kind == HK_ENTRY_ROW || entry->kind == HK_ENTRY_REFERENCE || entry->kind == HK_ENTRY_REFUSED;
}

/* Returns true when the words of an entry are understood. Words before "[take as ...]" are not. */
static bool is_read(const struct hk_reprinting *r, size_t i)
{
    const struct hk_entry *entry = &r->written->entries[i];
    return is_row(entry) ? r->proof->read[i] && !entry->taken.text : !entry->problem.text;
}

static void classes_find(struct hk_reprinting *r)
{
    const struct hk_written *w = r->written;
    for (size_t i = 0; i < w->definition_count; i++)
        text_mark(r, &w->definitions[i].steps, HK_CLASS_ROW);
    for (size_t i = 0; i < r->proof->unread_count; i++)
        text_mark(r, &w->definitions[r->proof->unread[i]].steps, HK_CLASS_PROSE);
    for (size_t i = 0; i < w->entry_count; i++) {
        const struct hk_entry *entry = &w->entries[i];
        const bool read = is_read(r, i);
        text_mark(r, &entry->text, read ? HK_CLASS_ROW : HK_CLASS_REFUSED);
        if (is_row(entry))
            text_mark(r, &entry->stated, read ? HK_CLASS_ROW : HK_CLASS_REFUSED);
        if (r->proof->tails[i])
            text_mark(r, r->proof->tails[i], HK_CLASS_ROW);
        text_mark(r, &entry->taken, HK_CLASS_ROW);
    }
}

/* ---- Lines that a size does not have ---- */

static size_t line_start(const struct hk_pattern_lines *lines, size_t byte)
{
    while (byte > 0 && !strchr("\r\n", lines->bytes[byte - 1]))
        byte--;
    return byte;
}

/* Returns the byte after the line's end. */
static size_t line_end(const struct hk_pattern_lines *lines, size_t byte)
{
    byte += strcspn(lines->bytes + byte, "\r\n");
    byte += lines->bytes[byte] == '\r';
    return byte + (lines->bytes[byte] == '\n');
}

/* Removes all lines of the file with this text. quiet: they have no words of the pattern. */
static void lines_drop(struct hk_reprinting *r, const struct hk_row_text *text, bool quiet)
{
    const struct hk_pattern_lines *lines = &r->written->lines;
    const size_t from = line_start(lines, text->origin[0]),
                 end = line_end(lines, text->origin[strlen(text->text) - 1]);
    edit_add(r, from, end, "", quiet);
    mark(r, from, end, HK_CLASS_GONE);
}

static bool entry_in_line(const struct hk_entry *entry, const struct hk_row_text *line)
{
    const size_t at = entry->whole.origin[0];
    return at >= line->origin[0] && at <= line->origin[strlen(line->text) - 1];
}

/* Returns true when a label on the line has ended the restriction to sizes set by a line above. */
static bool limit_ended(const struct hk_reprinting *r, const struct hk_row_text *line)
{
    for (size_t i = 0; i < r->written->entry_count; i++)
        if (entry_in_line(&r->written->entries[i], line))
            return !r->written->entries[i].sizes;
    return false;
}

/* Returns true for labels of rounds: "Rnd 3", "2nd round". */
static bool names_rounds(const char *label)
{
    static const char *const words[] = {"rnd", "rnds", "round", "rounds", "rd", "rds", NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(label, words[i]))
            return true;
    return false;
}

/* Returns the words that a row without a label needs before it on a line of its own; "" if none are needed. */
static const char *row_start(const struct hk_reprinting *r, const struct hk_row_text *line)
{
    bool rounds = false;
    for (size_t i = 0; i < r->written->entry_count; i++) {
        const struct hk_entry *entry = &r->written->entries[i];
        if (entry_in_line(entry, line))
            return is_row(entry) && !*entry->label ? (rounds ? "Next rnd: " : "Next row: ") : "";
        rounds = *entry->label ? names_rounds(entry->label) : rounds;
    }
    return "";
}

/* Removes the line's first `length` bytes, and blanks after them. */
static void start_drop(struct hk_reprinting *r, const struct hk_row_text *text, size_t length)
{
    edit_add(r, text->origin[0], text->origin[length], row_start(r, text), false);
    mark(r, text->origin[0], text->origin[length], HK_CLASS_GONE);
}

static void limit_drop(struct hk_reprinting *r, size_t i)
{
    const struct hk_row_text *line = &r->written->lines.lines[i].text;
    const struct hk_written_limit *limit = &r->written->limits[i];
    const size_t length = strlen(line->text);
    bool all = true;
    for (size_t s = 0; limit->sizes && s < r->written->words.size_count; s++)
        all &= limit->sizes[s];
    const bool absent = limit->sizes && !limit->sizes[r->wanted->size] && (limit->length > 0 || !limit_ended(r, line));
    if (limit->length >= length || absent)
        lines_drop(r, line, false);
    else if (limit->length > 0 && (!all || !limit->sizes))
        start_drop(r, line, limit->length);
}

/* Returns true when the size does not have the row: "Rep last 2 rows 0 (1, 2) times", "Rnds 10-9 (10-11)". */
static bool without(const struct hk_entry *entry, size_t size)
{
    const struct hk_reference *reference = &entry->reference;
    if (hk_entry_rows(entry, size) == 0)
        return true;
    return entry->kind == HK_ENTRY_REFERENCE &&
           ((reference->times_given && hk_graded_in(reference->times, size) == 0) ||
            (reference->rows_given && hk_graded_in(reference->rows, size) == 0));
}

/* Removes a row; with its lines, if it is alone on them or only after words that restrict them to sizes. */
static void row_drop(struct hk_reprinting *r, const struct hk_entry *entry)
{
    const struct hk_pattern_lines *lines = &r->written->lines;
    const struct hk_row_text *whole = &entry->whole;
    const size_t length = strlen(whole->text);
    for (size_t i = 0; i < lines->count; i++) {
        const struct hk_row_text *line = &lines->lines[i].text;
        const size_t first = r->written->limits[i].length, last = strlen(line->text) - 1;
        if (entry_in_line(entry, line) && whole->origin[0] == line->origin[first] &&
            whole->origin[length - 1] == line->origin[last]) {
            lines_drop(r, line, false);
            return;
        }
    }
    size_t end = character_end(lines->bytes, whole->origin[length - 1]);
    while (lines->bytes[end] == ' ')
        end++;
    edit_add(r, whole->origin[0], end, "", false);
    mark(r, whole->origin[0], end, HK_CLASS_GONE);
}

static void drops_find(struct hk_reprinting *r)
{
    const struct hk_written *w = r->written;
    for (size_t i = 0; i < w->lines.count; i++)
        limit_drop(r, i);
    for (size_t i = 0; i < w->entry_count; i++) {
        const struct hk_entry *entry = &w->entries[i];
        if (!*entry->whole.text)
            continue;
        const bool gone = r->classes[entry->whole.origin[0]] == HK_CLASS_GONE &&
                          r->classes[entry->whole.origin[strlen(entry->whole.text) - 1]] == HK_CLASS_GONE;
        r->dropped[i] = gone || (is_row(entry) && without(entry, r->wanted->size));
        if (r->dropped[i] && !gone)
            row_drop(r, entry);
    }
}

/* ---- Lines that are wrapped ---- */

/* Replaces line ends of the file within the line by a blank, after a joining hyphen by nothing. */
static void unwrap(struct hk_reprinting *r, const struct hk_row_text *text)
{
    const char *bytes = r->written->lines.bytes;
    for (size_t i = 1; text->text[i]; i++) {
        if (text->text[i] == ' ')
            continue;
        const size_t before = i - 1 - (text->text[i - 1] == ' ' && i > 1);
        const size_t from = character_end(bytes, text->origin[before]), end = text->origin[i];
        if (end > from && from + strcspn(bytes + from, "\r\n") < end && r->classes[from] != HK_CLASS_GONE)
            edit_add(r, from, end, before + 1 == i ? "" : " ", true);
    }
}

/* ---- The whole reprint ---- */

static int by_place(const void *a, const void *b)
{
    const struct hk_reprint_edit *x = a, *y = b;
    if (x->from != y->from)
        return x->from < y->from ? -1 : 1;
    return x->end < y->end ? 1 : x->end > y->end ? -1 : 0;
}

/* Sorts the edits; of overlapping edits the first is kept. */
static void edits_sort(struct hk_reprinting *r)
{
    size_t kept = 0;
    if (r->edit_count > 1)
        qsort(r->edits, r->edit_count, sizeof *r->edits, by_place);
    for (size_t i = 0; i < r->edit_count; i++)
        if (kept == 0 || r->edits[i].from >= r->edits[kept - 1].end)
            r->edits[kept++] = r->edits[i];
    r->edit_count = kept;
}

/* Lists the rows that are not read. */
static void refused_leave(struct hk_reprinting *r)
{
    for (size_t i = 0; i < r->written->entry_count; i++) {
        const struct hk_entry *entry = &r->written->entries[i];
        if (!is_read(r, i) && !r->dropped[i])
            hk_reprint_leave(r, entry->place, "this row is not read: its words are left as they are",
                             "change them by hand, or correct the row; check says how");
    }
}

bool hk_reprint_find(struct hk_reprinting *r)
{
    const struct hk_written *w = r->written;
    const bool one = r->wanted->size != SIZE_MAX;
    r->classes = hk_arena_take(r->arena, strlen(w->lines.bytes) + 1, 1);
    r->dropped = hk_arena_take(r->arena, w->entry_count, sizeof *r->dropped);
    if (!r->classes || !r->dropped)
        return false;
    classes_find(r);
    if (one)
        drops_find(r);
    for (size_t i = 0; i < w->lines.ok_count; i++) /* a note to Hankful, not to readers */
        lines_drop(r, &w->lines.oks[i].text, true);
    if (one || r->wanted->terms != w->words.terms)
        refused_leave(r);
    for (size_t i = 0; i < w->lines.count && !r->arena->out_of_memory; i++) {
        const struct hk_pattern_line *line = &w->lines.lines[i];
        if (one && w->words.size_count > 1)
            hk_reprint_sizes(r, &line->text);
        if (r->wanted->terms != w->words.terms)
            hk_reprint_terms(r, &line->text);
        if (r->wanted->unwrap)
            unwrap(r, &line->text);
    }
    if (r->arena->out_of_memory)
        return false;
    edits_sort(r);
    return true;
}

const char *hk_reprint_apply(const struct hk_reprinting *r)
{
    const char *bytes = r->written->lines.bytes;
    size_t length = strlen(bytes), at = 0, to = 0;
    for (size_t i = 0; i < r->edit_count; i++)
        length += strlen(r->edits[i].text);
    char *text = hk_arena_take(r->arena, length + 1, 1);
    for (size_t i = 0; text && i < r->edit_count; i++) {
        const struct hk_reprint_edit *edit = &r->edits[i];
        const size_t kept = edit->from - at, more = strlen(edit->text);
        memcpy(text + to, bytes + at, kept);
        memcpy(text + to + kept, edit->text, more);
        to += kept + more;
        at = edit->end;
    }
    if (text)
        memcpy(text + to, bytes + at, strlen(bytes + at) + 1);
    return text;
}
