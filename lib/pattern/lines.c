/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Joins wrapped lines: a word processor writes a paragraph as one line, an editor wraps it. Two lines of the file are
 * joined when the second cannot begin a sentence: it starts with a small letter, a figure or a bracket, or the first
 * ends in mid-sentence or has the maximum length of lines in the file.
 */
#include "pattern/lines.h"

#include "base/text.h"
#include "pattern/label.h"

#include <string.h>

/* A line of the file without markup. */
struct raw {
    char *text;
    size_t *origin;
    size_t length, number;
    int level;    /* number of #; 0: none */
    bool marked;  /* a heading by markup: #, or a line of = or - below */
    bool strong;  /* the whole line is between ** */
    bool item;    /* an item of a list */
    bool skipped; /* a horizontal rule, or the line of = or - below a heading */
};

/* ---- Places ------------------------------------------------------------------------------------------------------ */

struct hk_place hk_pattern_place(const struct hk_pattern_lines *lines, size_t byte)
{
    size_t low = 0, high = lines->start_count;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (lines->starts[middle] <= byte)
            low = middle;
        else
            high = middle;
    }
    size_t start = lines->starts[low];
    return (struct hk_place){lines->file, low + 1, hk_text_characters(lines->bytes + start, byte - start) + 1};
}

static struct hk_place place_in_lines(const struct hk_row_text *text, size_t offset)
{
    return hk_pattern_place(text->host, offset);
}

struct hk_place hk_row_text_place(const struct hk_row_text *text, size_t at)
{
    return text->place(text, text->origin ? text->origin[at] : at);
}

bool hk_row_text_part(const struct hk_row_text *text, size_t from, size_t length, struct hk_row_text *part,
                      struct hk_arena *arena)
{
    while (length > 0 && text->text[from] == ' ') {
        from++;
        length--;
    }
    while (length > 0 && text->text[from + length - 1] == ' ')
        length--;
    const char *copy = hk_arena_text(arena, text->text + from, length);
    if (!copy)
        return false;
    *part = *text;
    part->text = copy;
    part->origin = text->origin + from;
    return true;
}

/* ---- Marks ------------------------------------------------------------------------------------------------------- */

static void cut(struct raw *raw, size_t at, size_t bytes)
{
    memmove(raw->text + at, raw->text + at + bytes, raw->length + 1 - at - bytes);
    memmove(raw->origin + at, raw->origin + at + bytes, (raw->length + 1 - at - bytes) * sizeof *raw->origin);
    raw->length -= bytes;
}

static void cut_blanks(struct raw *raw)
{
    while (raw->text[0] == ' ')
        cut(raw, 0, 1);
    while (raw->length > 0 && raw->text[raw->length - 1] == ' ')
        cut(raw, raw->length - 1, 1);
}

/* Unescapes characters: "\*" is a star. */
static void cut_escapes(struct raw *raw)
{
    for (size_t at = 0; at < raw->length; at++)
        if (raw->text[at] == '\\' && raw->text[at + 1] && strchr("*_#[]()-+.!\\", raw->text[at + 1]))
            cut(raw, at, 1);
}

/* Returns the length of the mark of a list item; 0: none. A star may begin a repeat: then there is another star. */
static size_t item_mark(const struct raw *raw)
{
    static const char *const bullets[] = {"\xE2\x80\xA2", "\xE2\x80\xA3", "\xE2\x97\xA6", "\xE2\x96\xAA", "\xC2\xB7"};
    const char *text = raw->text;
    for (size_t i = 0; i < sizeof bullets / sizeof bullets[0]; i++)
        if (hk_text_starts(text, bullets[i]))
            return strlen(bullets[i]);
    if (*text && strchr("-+*", *text) && text[1] == ' ')
        return *text != '*' || hk_label_begins(text + 2) || !strchr(text + 2, '*') ? 2 : 0;
    size_t digits = hk_digit_run(text);
    if (digits > 0 && digits < 4 && (text[digits] == '.' || text[digits] == ')') && text[digits + 1] == ' ' &&
        hk_label_begins(text + digits + 2))
        return digits + 2;
    return 0;
}

static bool opens_mark(const struct raw *raw, size_t at, size_t bytes)
{
    return raw->text[at + bytes] != ' ' && (at == 0 || strchr(" ([", raw->text[at - 1]));
}

static bool closes_mark(const struct raw *raw, size_t at, size_t bytes)
{
    return raw->text[at - 1] != ' ' && (!raw->text[at + bytes] || strchr(" .,;:)]", raw->text[at + bytes]));
}

/* Bold type, "**Rnd 1:** ..." or "__(24 sts)__": marks touch the text they enclose, unlike repeats from ** to **. */
static void cut_strong(struct raw *raw, const char *mark)
{
    for (size_t at = 0; at + 2 < raw->length; at++) {
        if (strncmp(raw->text + at, mark, 2) != 0 || !opens_mark(raw, at, 2))
            continue;
        const char *end = strstr(raw->text + at + 3, mark);
        while (end && !closes_mark(raw, (size_t)(end - raw->text), 2))
            end = strstr(end + 1, mark);
        if (!end)
            return;
        size_t last = (size_t)(end - raw->text);
        raw->strong |= at == 0 && last + 2 == raw->length;
        cut(raw, last, 2);
        cut(raw, at, 2);
    }
}

/* "*Rnd 1:* ...": a single star is nearly always a repeat, except around a label. */
static void cut_slanted(struct raw *raw)
{
    if (raw->text[0] != '*' && raw->text[0] != '_')
        return;
    const char *end = strchr(raw->text + 1, raw->text[0]);
    if (!end || !hk_label_begins(raw->text + 1) || (end[-1] != ':' && end[1] != ':'))
        return;
    cut(raw, (size_t)(end - raw->text), 1);
    cut(raw, 0, 1);
}

static void cut_marks(struct raw *raw)
{
    size_t hashes = strspn(raw->text, "#");
    cut_escapes(raw);
    if (hashes > 0 && hashes <= 6 && (raw->text[hashes] == ' ' || !raw->text[hashes])) {
        raw->level = (int)hashes;
        raw->marked = true;
        cut(raw, 0, hashes);
        while (raw->text[0] && raw->text[raw->length - 1] == '#') /* "## Sleeves ##" */
            cut(raw, raw->length - 1, 1);
    } else if (raw->text[0] == '>') {
        cut(raw, 0, 1);
    }
    cut_blanks(raw);
    size_t mark = raw->marked ? 0 : item_mark(raw);
    raw->item = mark > 0;
    cut(raw, 0, mark);
    cut_blanks(raw);
    cut_slanted(raw);
    cut_strong(raw, "**");
    cut_strong(raw, "__");
    cut_blanks(raw);
}

/* ---- Headings ---- */

static bool all_of(const char *text, char c)
{
    size_t count = 0;
    while (text[count] == c)
        count++;
    return count > 2 && !text[count];
}

/* Counts the letters outside brackets, the small ones, and the words. */
static size_t letters(const char *text, size_t *small, size_t *words, bool *digits)
{
    size_t count = 0, depth = 0;
    *small = *words = 0;
    *digits = false;
    for (const char *c = text; *c; c++) {
        depth += *c == '(' || *c == '[';
        if (depth == 0) {
            count += hk_is_letter(*c);
            *small += *c >= 'a' && *c <= 'z';
            *digits |= hk_is_digit(*c);
            *words += c == text || c[-1] == ' ';
        }
        depth -= depth > 0 && (*c == ')' || *c == ']');
    }
    return count;
}

static bool heading_by_looks(const struct raw *raw, bool apart, const struct hk_row_words *words,
                             struct hk_arena *arena)
{
    const bool *sizes;
    bool unknown;
    static const size_t words_most = 6, bytes_most = 70;
    size_t small, word_count;
    bool digits;
    size_t count = letters(raw->text, &small, &word_count, &digits);
    char last = raw->text[raw->length - 1];
    const char *colon = strchr(raw->text, ':');
    if (raw->item || count < 3 || hk_line_begins_work(raw->text) || strchr(raw->text, '=') || strchr(raw->text, '*') ||
        strchr(".,;!?", last) || (colon && colon[1]))
        return false;
    if (words && hk_sizes_read(raw->text, words, &sizes, &unknown, arena) > 0)
        return false;
    if (small == 0 || raw->strong)
        return true;
    /* "Square 1" ends in a figure; "16 sts and 20 rows" is none. */
    size_t end = raw->length - (last == ':');
    while (hk_is_digit(raw->text[end - 1]))
        end--;
    bool inner = false;
    for (size_t i = 0, depth = 0; i < end; i++) {
        depth += raw->text[i] == '(';
        inner |= depth == 0 && hk_is_digit(raw->text[i]);
        depth -= depth > 0 && raw->text[i] == ')';
    }
    bool capital = raw->text[0] >= 'A' && raw->text[0] <= 'Z';
    return (apart || last == ':') && capital && !inner && word_count <= words_most && raw->length <= bytes_most;
}

/*
 * ---- Joining lines
 * ----------------------------------------------------------------------------------------------------
 */

static bool ends_sentence(const char *text)
{
    return strchr(".!?:)]", text[strlen(text) - 1]);
}

/* Returns true for a line that continues below, such as "K2, p2," and "sc in next st and". */
static bool stops_open(const char *text)
{
    size_t length = strlen(text);
    return strchr(",;&", text[length - 1]) || (length > 4 && hk_word_at(text + length - 4, " and"));
}

/* Returns the maximum length of lines in the file; 0 if it is not wrapped. */
static size_t wrap_width(const struct raw *raws, size_t count)
{
    static const size_t wrapped_least = 40, wrapped_most = 130;
    size_t widest = 0;
    for (size_t i = 0; i < count; i++)
        widest = raws[i].length > widest ? raws[i].length : widest;
    return widest >= wrapped_least && widest <= wrapped_most ? widest : 0;
}

/* Returns true for sizes without other words: "Medium and large only:". */
static bool sizes_alone(const struct raw *raw, const struct hk_row_words *words, struct hk_arena *arena)
{
    const bool *sizes;
    bool unknown;
    size_t taken = hk_sizes_read(raw->text, words, &sizes, &unknown, arena);
    return taken > 0 && taken >= raw->length;
}

/* "shell = 5 dc in same st", "picot: ch 3": lists of abbreviations begin with small letters. */
static bool defines(const char *text)
{
    static const size_t name_most = 30;
    size_t length = strcspn(text, "=:,.;*");
    const char *open = memchr(text, '(', length);
    if (open && hk_numbers_follow(open)) /* "12 (14: 16) sts" */
        return false;
    return length > 0 && length < name_most && (text[length] == '=' || text[length] == ':');
}

/* Returns true when a line continues the one above. work: the joined line begins work. */
static bool goes_on(const struct raw *above, const struct raw *raw, bool work, size_t width,
                    const struct hk_row_words *words, struct hk_arena *arena)
{
    static const char *const begins[] = {"beg with", "beginning with", "start with",   "starting with",
                                         "st st",    "do this",        "for the next", NULL};
    const char *text = raw->text;
    const bool *sizes;
    bool unknown;
    if (hk_text_starts(text, "[take as"))
        return true;
    if (raw->item || hk_label_begins(text))
        return false;
    if (words && (hk_sizes_read(text, words, &sizes, &unknown, arena) > 0 || sizes_alone(above, words, arena)))
        return false;
    if (work && stops_open(above->text))
        return true;
    if (hk_line_begins_work(text))
        return false;
    bool full = width > 0 && above->length + 1 + strcspn(text, " ") > width;
    bool capital = *text >= 'A' && *text <= 'Z'; /* "CC: Holm DK" begins a line even below the longest one */
    if (capital && hk_word_of(text, begins))
        return false;
    if (((!full || capital) && defines(text)) ||
        (!full && strchr(above->text, '=') && !hk_line_begins_work(above->text)))
        return false;
    bool tool = hk_word_find(text, "hook") || hk_word_find(text, "hooks") || hk_word_find(text, "needles");
    if (!full && hk_is_digit(*text) && tool && !hk_line_begins_work(above->text)) /* "5.5 mm hook" in a list */
        return false;
    if ((*text >= 'a' && *text <= 'z') || hk_is_digit(*text) || strchr("([*;,-+", *text))
        return true;
    /* It begins with a capital: wrapped only if its first word had no room above. */
    return full && !(ends_sentence(above->text) && 4 * above->length < 3 * width) &&
           !heading_by_looks(raw, false, words, arena);
}

/* ---- The whole file ---- */

static bool starts_find(const char *bytes, struct hk_pattern_lines *lines, struct hk_arena *arena)
{
    size_t count = 1;
    for (const char *c = bytes; *c; c++)
        count += *c == '\n' || (*c == '\r' && c[1] != '\n');
    lines->starts = hk_arena_take(arena, count, sizeof *lines->starts);
    if (!lines->starts)
        return false;
    lines->start_count = 1;
    for (const char *c = bytes; *c; c++)
        if (*c == '\n' || (*c == '\r' && c[1] != '\n'))
            lines->starts[lines->start_count++] = (size_t)(c - bytes) + 1;
    return true;
}

static bool raw_read(const struct hk_pattern_lines *lines, size_t i, struct raw *raw, struct hk_arena *arena)
{
    size_t start = lines->starts[i];
    const char *text = hk_arena_text(arena, lines->bytes + start, strcspn(lines->bytes + start, "\r\n"));
    if (!text)
        return false;
    raw->text = hk_text_plain(arena, text, &raw->origin);
    if (!raw->text)
        return false;
    raw->length = strlen(raw->text);
    raw->number = i + 1;
    for (size_t b = 0; b <= raw->length; b++)
        raw->origin[b] += start;
    cut_marks(raw);
    return true;
}

static struct hk_row_text text_of(const struct hk_pattern_lines *lines, char *text, size_t *origin)
{
    return (struct hk_row_text){.text = text, .origin = origin, .place = place_in_lines, .host = lines};
}

/* Joins the raw lines from `first` to `end` - 1. A hyphen at the end of a line joins without a blank: "ch-", "2 sp". */
static bool line_join(struct hk_pattern_lines *lines, const struct raw *raws, size_t first, size_t end,
                      struct hk_arena *arena)
{
    size_t length = 0;
    for (size_t i = first; i < end; i++)
        length += raws[i].length + 1;
    char *text = hk_arena_take(arena, length + 1, 1);
    size_t *origin = hk_arena_take(arena, length + 1, sizeof *origin);
    if (!text || !origin)
        return false;
    size_t at = 0;
    for (size_t i = first; i < end; i++) {
        bool hyphen = at > 1 && text[at - 1] == '-' && text[at - 2] != ' ' && hk_is_digit(raws[i].text[0]);
        if (at > 0 && !hyphen) {
            text[at] = ' ';
            origin[at++] = raws[i - 1].origin[raws[i - 1].length];
        }
        memcpy(text + at, raws[i].text, raws[i].length);
        memcpy(origin + at, raws[i].origin, (raws[i].length + 1) * sizeof *origin);
        at += raws[i].length;
    }
    lines->lines[lines->count].text = text_of(lines, text, origin);
    lines->lines[lines->count].number = raws[first].number;
    return true;
}

/* Marks rules: a line of only marks, or a line of = or - below a separate line, which is a heading. */
static void rules_find(struct raw *raws, size_t count)
{
    bool apart = true, above = false; /* the line above is a separate line */
    for (size_t i = 0; i < count; i++) {
        const char *text = raws[i].text;
        bool underline = all_of(text, '=') || all_of(text, '-');
        raws[i].skipped = underline || all_of(text, '*') || all_of(text, '_');
        if (underline && above && !hk_line_begins_work(raws[i - 1].text)) {
            raws[i - 1].marked = true;
            raws[i - 1].level = *text == '=' ? 1 : 2;
        }
        bool words = raws[i].length > 0 && !raws[i].skipped && !raws[i].marked;
        above = words && apart;
        apart = !words;
    }
}

/* ---- Lines that accept findings ---------------------------------------------------------------------------------- */

/* Takes the lines "ok: ..." out of the raw lines: to the others they are not there. Returns false when out of memory. */
static bool oks_take(struct hk_pattern_lines *lines, struct raw *raws, size_t *count, struct hk_arena *arena)
{
    static const char mark[] = "ok:";
    size_t kept = 0;
    lines->oks = hk_arena_take(arena, *count, sizeof *lines->oks);
    if (!lines->oks)
        return false;
    for (size_t i = 0; i < *count; i++) {
        if (hk_text_starts(raws[i].text, mark))
            lines->oks[lines->ok_count++] =
                (struct hk_pattern_ok){.text = text_of(lines, raws[i].text, raws[i].origin),
                                       .codes = sizeof mark - 1,
                                       .number = raws[i].number};
        else
            raws[kept++] = raws[i];
    }
    *count = kept;
    return true;
}

static void oks_place(struct hk_pattern_lines *lines)
{
    size_t below = 0;
    for (size_t i = 0; i < lines->ok_count; i++) {
        struct hk_pattern_ok *ok = &lines->oks[i];
        while (below < lines->count && lines->lines[below].number < ok->number)
            below++;
        ok->first = ok->last = ok->number;
        if (below == lines->count)
            continue;
        const struct hk_row_text *text = &lines->lines[below].text;
        ok->first = lines->lines[below].number;
        ok->last = hk_row_text_place(text, strlen(text->text) - 1).line;
    }
}

bool hk_pattern_lines_read(const char *bytes, const char *file, const struct hk_row_words *words,
                           struct hk_pattern_lines *lines, struct hk_arena *arena)
{
    *lines = (struct hk_pattern_lines){.file = file, .bytes = bytes};
    if (!starts_find(bytes, lines, arena))
        return false;
    size_t count = lines->start_count;
    struct raw *raws = hk_arena_take(arena, count, sizeof *raws);
    lines->lines = hk_arena_take(arena, count, sizeof *lines->lines);
    if (!raws || !lines->lines)
        return false;
    for (size_t i = 0; i < count; i++)
        if (!raw_read(lines, i, &raws[i], arena))
            return false;
    if (!oks_take(lines, raws, &count, arena))
        return false;
    rules_find(raws, count);
    size_t width = wrap_width(raws, count);
    bool apart = true;
    for (size_t i = 0; i < count;) {
        if (raws[i].length == 0 || raws[i].skipped) {
            apart = true;
            i++;
            continue;
        }
        struct hk_pattern_line *line = &lines->lines[lines->count];
        line->heading = raws[i].marked || heading_by_looks(&raws[i], apart, words, arena);
        line->level = raws[i].level;
        line->apart = apart;
        bool work = hk_line_begins_work(raws[i].text);
        size_t end = i + 1;
        while (!line->heading && end < count && raws[end].length > 0 && !raws[end].marked && !raws[end].skipped &&
               goes_on(&raws[end - 1], &raws[end], work, width, words, arena) &&
               !(ends_sentence(raws[end - 1].text) && heading_by_looks(&raws[end], false, words, arena)))
            end++;
        if (!line_join(lines, raws, i, end, arena))
            return false;
        lines->count++;
        apart = line->heading;
        i = end;
    }
    oks_place(lines);
    return true;
}
