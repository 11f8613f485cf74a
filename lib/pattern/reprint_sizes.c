/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Replaces lists by the value of one size: "72 (78, 84)" becomes one of the three, and the words next to it are
 * adapted: "1 more time". A list must have exactly one number for each size; other candidates are left unchanged.
 */
#include "base/text.h"
#include "pattern/reprint.h"

#include <string.h>

/* One number of a list: its bytes, and those of a unit after it. */
struct element {
    size_t at, end; /* of the number; the end of a range is after its second number */
    size_t second;  /* start of the second number of a range; 0: not a range */
    size_t unit_end;
    bool dash; /* the size has no value */
};

struct list {
    size_t at, end;
    struct element first, second, chosen;
    size_t count;      /* number of elements; at most the number of sizes + 1 */
    bool units_differ; /* an element has a unit and the first has none */
};

/* ---- Numbers ---- */

/* Returns the end of a number such as "72", "86.5", "3/4", "18 1/2"; `at` if there is none. */
static size_t number_end(const char *text, size_t at)
{
    size_t end = at + hk_digit_run(text + at);
    if (end == at)
        return at;
    const size_t mixed = text[end] == ' ' ? end + 1 + hk_digit_run(text + end + 1) : end;
    if (text[end] == '.' && hk_is_digit(text[end + 1]))
        return end + 1 + hk_digit_run(text + end + 1);
    if (text[end] == '/' && hk_is_digit(text[end + 1]))
        return end + 1 + hk_digit_run(text + end + 1);
    if (mixed > end + 1 && text[mixed] == '/' && hk_is_digit(text[mixed + 1]))
        return mixed + 1 + hk_digit_run(text + mixed + 1);
    return end;
}

/* Returns the end of a unit, with an optional blank before it. */
static size_t unit_end(const char *text, size_t at)
{
    static const char *const units[] = {"cm",    "mm", "in", "inch", "inches", "m",  "yd", "yds",
                                        "yards", "g",  "oz", "sts",  "st",     NULL};
    const size_t word = at + (text[at] == ' ');
    const char *end = hk_word_of(text + word, units);
    if (end)
        return (size_t)(end - text);
    if (text[at] == '"')
        return at + 1;
    return strncmp(text + at, "''", 2) == 0 ? at + 2 : at;
}

/* Returns the start of the blanks before the byte. */
static size_t blanks_start(const char *text, size_t at)
{
    while (at > 0 && text[at - 1] == ' ')
        at--;
    return at;
}

static bool element_scan(const char *text, size_t at, struct element *element)
{
    static const char *const joints[] = {"-", " by ", " x ", NULL};
    *element = (struct element){.at = at, .end = number_end(text, at)};
    if (text[at] == '-') {
        element->dash = true;
        element->end = element->unit_end = at + 1;
        return true;
    }
    if (element->end == at)
        return false;
    for (size_t i = 0; joints[i]; i++) {
        const size_t second = element->end + strlen(joints[i]);
        if (!element->second && hk_text_starts(text + element->end, joints[i]) && number_end(text, second) > second)
            element->second = second;
    }
    if (element->second)
        element->end = number_end(text, element->second);
    element->unit_end = unit_end(text, element->end);
    return true;
}

static size_t blanks_end(const char *text, size_t at)
{
    return (size_t)(hk_blanks_skipped(text + at) - text);
}

/* Reads a bracket that contains only elements. */
static bool group_scan(const char *text, size_t *cursor, size_t size, struct list *list, bool *units_differ)
{
    size_t at = blanks_end(text, *cursor), count = list->count;
    struct element element, chosen = list->chosen;
    bool differ = *units_differ;
    if (text[at] != '(' && text[at] != '[')
        return false;
    const char close = text[at] == '(' ? ')' : ']';
    do {
        at = blanks_end(text, at + 1);
        if (!element_scan(text, at, &element))
            return false;
        differ |= element.unit_end > element.end && list->first.unit_end == list->first.end && !list->first.dash;
        if (count == 1)
            list->second = element;
        if (count == size)
            chosen = element;
        count++;
        at = blanks_end(text, element.unit_end);
    } while (text[at] && strchr(HK_VALUE_MARKS "/", text[at]));
    if (text[at] != close)
        return false;
    list->count = count;
    list->chosen = chosen;
    *units_differ = differ;
    *cursor = list->end = at + 1;
    return true;
}

/* Reads a list at a byte of the text. Returns false if there is none or it has a single number. */
static bool list_scan(const struct hk_reprinting *r, const char *text, size_t at, struct list *list)
{
    const size_t sizes = r->written->words.size_count;
    *list = (struct list){.at = at, .count = 1};
    const bool begins = at == 0 || (!hk_is_digit(text[at - 1]) && !(strchr("./", text[at - 1]) && at > 1 &&
                                                                     hk_is_digit(text[at - 2])));
    if (!begins || !element_scan(text, at, &list->first))
        return false;
    if (list->first.dash && at > 0 && !strchr(" ([:,.", text[at - 1]))
        return false;
    list->chosen = list->first;
    size_t cursor = list->first.unit_end;
    bool units_differ = false;
    while (list->count < sizes && group_scan(text, &cursor, r->wanted->size, list, &units_differ))
        ;
    list->units_differ = units_differ;
    return list->count > 1;
}

/* ---- Recognising lists ---- */

static const struct hk_entry *entry_at(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at,
                                       size_t *index)
{
    const size_t byte = text->origin[at];
    for (size_t i = 0; i < r->written->entry_count; i++) {
        const struct hk_row_text *words = &r->written->entries[i].text;
        const size_t length = strlen(words->text);
        if (length > 0 && byte >= words->origin[0] && byte <= words->origin[length - 1]) {
            *index = i;
            return &r->written->entries[i];
        }
    }
    return NULL;
}

static int64_t whole_at(const char *text, const struct element *element)
{
    static const int64_t most = HK_COUNT_MOST;
    int64_t value = 0;
    for (size_t i = element->at; hk_is_digit(text[i]) && value <= most; i++)
        value = 10 * value + (text[i] - '0');
    return value;
}

static bool states(const struct hk_proof_row *row, int64_t count)
{
    for (size_t i = 0; i < row->stated_count; i++)
        if (row->stated[i].stated == count)
            return true;
    return false;
}

/*
 * Returns true when a bracket is a count: in "Inc x 6 (12)" with two sizes, 12 is the value of the second size or a
 * count. It was parsed as a count if the second size states 12 and the first does not state 6.
 */
static bool is_count(const struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    size_t entry;
    const char *behind = text->text + list->end;
    if (r->written->words.size_count != 2 || behind[strspn(behind, ". ")] || !entry_at(r, text, list->at, &entry))
        return false;
    const struct hk_proof_row *rows = &r->proof->rows[2 * entry];
    return states(&rows[1], whole_at(text->text, &list->second)) &&
           !states(&rows[0], whole_at(text->text, &list->first));
}

/* ---- The replacement ---- */

/* Returns the bytes of the file, if they are on one line. */
static const char *slice(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at, size_t end)
{
    const char *bytes = r->written->lines.bytes;
    size_t from = text->origin[at], to = text->origin[end - 1] + 1;
    while (((unsigned char)bytes[to] & 0xC0) == 0x80)
        to++;
    if (from + strcspn(bytes + from, "\r\n*_\\") < to)
        return hk_arena_text(r->arena, text->text + at, end - at);
    return hk_arena_text(r->arena, bytes + from, to - from);
}

static bool same_number(const char *text, size_t a, size_t a_end, size_t b, size_t b_end)
{
    return a_end - a == b_end - b && strncmp(text + a, text + b, a_end - a) == 0;
}

/*
 * Returns the number of the size. In "2-30 (32, 36)" only the end differs; "2-2" is 2. *single: a range has become one
 * number.
 */
static const char *number_of(const struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list,
                             bool *single)
{
    const struct element *first = &list->first, *e = &list->chosen;
    *single = false;
    if (e->dash)
        return "-";
    if (!first->second)
        return slice(r, text, e->at, e->end);
    const size_t joint = number_end(text->text, first->at);
    const size_t low = e->second ? e->at : first->at, low_end = number_end(text->text, low),
                 high = e->second ? e->second : e->at, high_end = number_end(text->text, high);
    *single = text->text[joint] == '-' && same_number(text->text, low, low_end, high, high_end);
    if (*single)
        return slice(r, text, high, high_end);
    const char *a = slice(r, text, low, low_end), *b = slice(r, text, high, high_end),
               *between = slice(r, text, joint, first->second);
    return a && b && between ? hk_arena_print(r->arena, "%s%s%s", a, between, b) : NULL;
}

static const char *const plurals[][2] = {{"times", "time"},   {"sts", "st"},       {"stitches", "stitch"},
                                         {"rows", "row"},     {"rnds", "rnd"},     {"rounds", "round"},
                                         {"sps", "sp"},       {"chains", "chain"}, {"ridges", "ridge"},
                                         {"repeats", "repeat"}};

/* Removes the plural ending of a word. */
static void make_single(struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    for (size_t i = 0; i < sizeof plurals / sizeof plurals[0]; i++) {
        const char *end = hk_word_at(text->text + at, plurals[i][0]);
        if (!end || hk_reprint_class_at(r, text, at) == HK_CLASS_GONE)
            continue;
        const char *word = hk_arena_text(r->arena, text->text + at, strlen(plurals[i][1]));
        if (word)
            hk_reprint_edit_text(r, text, at, (size_t)(end - text->text), word);
        return;
    }
}

/* Adapts the words after the list: "1 more times", "1 sts". */
static void words_behind(struct hk_reprinting *r, const struct hk_row_text *text, size_t end, const char *number)
{
    size_t at = blanks_end(text->text, end);
    const char *more = hk_word_at(text->text + at, "more");
    if (more)
        at = blanks_end(text->text, (size_t)(more - text->text));
    const char *time = hk_word_at(text->text + at, "time");
    if (strcmp(number, "1") == 0)
        make_single(r, text, at);
    else if (time)
        hk_reprint_edit_text(r, text, at, (size_t)(time - text->text), "times");
}

/* Adapts the word before the list: "Rnds 2-2". */
static void word_before(struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    size_t start = blanks_start(text->text, at);
    while (start > 0 && hk_is_letter(text->text[start - 1]))
        start--;
    make_single(r, text, start);
}

/* ---- Zeros ---- */

/* Returns the start of the clause with this byte, between marks; brackets within it are skipped as a whole. */
static size_t clause_start(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    size_t depth = 0;
    while (at > 0 && hk_reprint_class_at(r, text, at - 1) == HK_CLASS_ROW) {
        const char c = text->text[at - 1];
        if (depth == 0 && strchr(",;:.*([", c))
            break;
        depth += c == ')' || c == ']';
        depth -= depth > 0 && (c == '(' || c == '[');
        at--;
    }
    return blanks_end(text->text, at);
}

static size_t clause_end(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    size_t depth = 0;
    for (; text->text[at] && hk_reprint_class_at(r, text, at) == HK_CLASS_ROW; at++) {
        const char c = text->text[at];
        if (depth == 0 && strchr(",;.*)]", c))
            break;
        depth += c == '(' || c == '[';
        depth -= depth > 0 && (c == ')' || c == ']');
    }
    return at;
}

/* Returns true when a clause has words beyond a number of stitches. */
static bool clause_binds(const char *text, size_t start, size_t end)
{
    static const char *const words[] = {"rep",    "repeat", "to",   "until", "from",  "before", "work",
                                        "and",    "in all", "join", "turn",  "times", "time",   "more", NULL};
    for (size_t i = start; i < end; i++)
        if ((i == start || !hk_is_letter(text[i - 1])) && hk_word_of(text + i, words))
            return true;
    return false;
}

/* "k 0 (1, 2), p2": removes the clause before or after the comma, with its mark. Returns false when ambiguous. */
static bool clause_drop(struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    const size_t start = clause_start(r, text, list->at), end = clause_end(r, text, list->end);
    const bool bracket = strchr("[(", text->text[start]); /* "[k2, p2] 0 times" */
    const size_t before = blanks_start(text->text, list->at), mark = blanks_start(text->text, start);
    if (bracket ? !strchr("])", text->text[before - 1]) : clause_binds(text->text, start, end))
        return false;
    if (mark > 0 && text->text[mark - 1] == ',' && hk_reprint_class_at(r, text, mark - 1) == HK_CLASS_ROW) {
        hk_reprint_edit_text(r, text, mark - 1, end, "");
        return true;
    }
    if (text->text[end] != ',')
        return false;
    const size_t next = blanks_end(text->text, end + 1);
    if (!text->text[next] || hk_reprint_class_at(r, text, next) != HK_CLASS_ROW)
        return false;
    const char first = text->text[start + strspn(text->text + start, "[(")];
    const bool capital = hk_lower(first) != first || hk_reprint_capital_at(r, text, start);
    hk_reprint_edit_text(r, text, start, next, "");
    if (capital)
        hk_reprint_capital(r, text, next);
    return true;
}

/* Changes "to last 0 (1, 2) sts" to "to end". */
static bool to_end(struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    static const char *const sts[] = {"sts", "st", "stitches", NULL};
    static const char last[] = "to last ";
    const size_t length = sizeof last - 1, behind = blanks_end(text->text, list->end);
    const char *end = hk_word_of(text->text + behind, sts);
    if (list->at < length || !hk_text_starts(text->text + list->at - length, last) || !end)
        return false;
    hk_reprint_edit_text(r, text, list->at - length, (size_t)(end - text->text), "to end");
    return true;
}

static void nothing_take(struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    static const char *const times[] = {"times", "time", "more", NULL};
    const bool repeats = hk_word_of(text->text + blanks_end(text->text, list->end), times);
    if ((!repeats && to_end(r, text, list)) || clause_drop(r, text, list))
        return;
    if (!repeats)
        hk_reprint_leave(r, hk_row_text_place(text, list->at),
                         "in this size the number is 0, and its words are still there",
                         "take out by hand what is not worked");
    hk_reprint_edit_text(r, text, list->at, list->end, "0");
}

/* ---- Lists ---- */

static void list_take(struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    bool single;
    const char *number = number_of(r, text, list, &single);
    if (!number)
        return;
    const bool row = hk_reprint_class_at(r, text, list->at) == HK_CLASS_ROW;
    if (row && (strcmp(number, "0") == 0 || strcmp(number, "-") == 0)) {
        nothing_take(r, text, list);
        return;
    }
    const struct element *e = &list->chosen, *unit = e->unit_end > e->end ? e : &list->first;
    const char *unit_text =
        unit->unit_end > unit->end && !e->dash ? slice(r, text, unit->end, unit->unit_end) : "";
    const char *with = unit_text ? hk_arena_print(r->arena, "%s%s", number, unit_text) : NULL;
    if (!with)
        return;
    hk_reprint_edit_text(r, text, list->at, list->end, with);
    words_behind(r, text, list->end, number);
    if (single)
        word_before(r, text, list->at);
}

static void list_leave(struct hk_reprinting *r, const struct hk_row_text *text, const struct list *list)
{
    hk_reprint_leave(r, hk_row_text_place(text, list->at),
                     hk_arena_print(r->arena, "\"%.*s\" is left as it is: it is not one number for each size",
                                    (int)(list->end - list->at), text->text + list->at),
                     "write the number of this size by hand");
}

/* Replaces a list at the byte. Returns its length in bytes; 0 if there is none. */
static size_t number_take(struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    const size_t sizes = r->written->words.size_count;
    struct list list = {0};
    if (hk_reprint_class_at(r, text, at) == HK_CLASS_REFUSED || !list_scan(r, text->text, at, &list))
        return 0;
    const bool uneven = list.first.unit_end > list.first.end && list.chosen.unit_end == list.chosen.end;
    if (list.count != sizes || list.units_differ || (sizes == 2 && uneven)) {
        if (list.count > 2)
            list_leave(r, text, &list);
        return list.count > 2 ? list.end - at : 0;
    }
    if (!is_count(r, text, &list))
        list_take(r, text, &list);
    return list.end - at;
}

/* ---- Names of sizes ---- */

static size_t name_end(const char *text, size_t at, const char *name)
{
    const size_t length = strlen(name);
    const char next = hk_text_starts(text + at, name) ? text[at + length] : 'x';
    return hk_is_letter(next) || hk_is_digit(next) ? 0 : at + length;
}

/* Returns the end of marks between two names; `at` if there are none. */
static size_t between_end(const char *text, size_t at)
{
    static const char *const joints[] = {"and", "or", "to", "&", NULL};
    size_t end = blanks_end(text, at);
    const size_t marks = strspn(text + end, ",;/()[]");
    end = blanks_end(text, end + marks);
    const char *joint = hk_word_of(text + end, joints);
    if (joint)
        return blanks_end(text, (size_t)(joint - text));
    return marks > 0 ? end : at;
}

/* Returns the length of a list of all sizes in order: "S (M, L)", "S, M and L"; 0 if there is none. */
static size_t names_length(const struct hk_reprinting *r, const char *text, size_t at)
{
    const struct hk_row_words *words = &r->written->words;
    size_t end = at, open = 0;
    if (at > 0 && (hk_is_letter(text[at - 1]) || hk_is_digit(text[at - 1])))
        return 0;
    for (size_t i = 0; i < words->size_count; i++) {
        const size_t next = i > 0 ? between_end(text, end) : end;
        if (i > 0 && next == end)
            return 0;
        for (size_t c = end; c < next; c++)
            open += text[c] == '(' || text[c] == '[';
        end = name_end(text, next, words->size_names[i]);
        if (end == 0)
            return 0;
    }
    if (open > 0)
        end += text[end] == ')' || text[end] == ']';
    return end - at;
}

static size_t names_take(struct hk_reprinting *r, const struct hk_row_text *text, size_t at)
{
    const size_t length = names_length(r, text->text, at);
    if (length > 0)
        hk_reprint_edit_text(r, text, at, at + length, r->written->words.size_names[r->wanted->size]);
    return length;
}

/* ---- A line ---- */

void hk_reprint_sizes(struct hk_reprinting *r, const struct hk_row_text *text)
{
    for (size_t at = 0; text->text[at] && !r->arena->out_of_memory;) {
        const enum hk_reprint_class class = hk_reprint_class_at(r, text, at);
        size_t taken = class == HK_CLASS_GONE ? 1 : hk_reprint_name_at(r, text->text, at);
        if (taken == 0 && class == HK_CLASS_PROSE)
            taken = names_take(r, text, at);
        if (taken == 0 && (hk_is_digit(text->text[at]) || text->text[at] == '-'))
            taken = number_take(r, text, at);
        if (taken == 0 && hk_is_digit(text->text[at]))
            taken = hk_digit_run(text->text + at);
        at += taken > 0 ? taken : 1;
    }
}
