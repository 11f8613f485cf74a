/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/setting.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

#define TOOL_LEAST_MM 0.3
#define TOOL_MOST_MM 60.0
#define STRANDS_MOST 99

/* ---- Yarns ------------------------------------------------------------------------------------------------------- */

size_t hk_yarn_at(const char **cursor, const struct hk_setting_words *words)
{
    size_t found = SIZE_MAX, length = 0, count = words->words->yarn_count;
    for (size_t i = 0; i < count; i++) {
        const char *end = hk_word_at(*cursor, words->words->yarns[i]);
        if (end && (size_t)(end - *cursor) > length) {
            found = i;
            length = (size_t)(end - *cursor);
        }
    }
    const char *text = *cursor;
    bool ends = *text && !(hk_is_letter(text[1]) || hk_is_digit(text[1]) || text[1] == '\'');
    if (found == SIZE_MAX && hk_word_at(text, "MC") && count > 0) {
        found = 0;
        length = 2;
    } else if (found == SIZE_MAX && text[0] == 'C' && text[1] == 'C' && !hk_is_letter(text[2])) {
        size_t number = hk_is_digit(text[2]) ? (size_t)(text[2] - '0') : 1;
        found = number > 0 && number < count ? number : SIZE_MAX;
        length = hk_is_digit(text[2]) ? 3 : 2;
    } else if (found == SIZE_MAX && text[0] >= 'A' && text[0] <= 'Z' && ends) {
        size_t number = (size_t)(text[0] - 'A') + (words->main_named ? 1 : 0);
        found = number < count ? number : SIZE_MAX;
        length = 1;
    }
    *cursor += found == SIZE_MAX ? 0 : length;
    return found;
}

/* Returns false when there is no room. */
static bool held_add(struct hk_held *held, size_t role, int64_t times)
{
    size_t at = 0;
    while (at < held->count && held->roles[at] < role)
        at++;
    if (at < held->count && held->roles[at] == role) {
        held->times[at] += times;
        return true;
    }
    if (held->count == HK_TOGETHER_MOST)
        return false;
    memmove(held->roles + at + 1, held->roles + at, (held->count - at) * sizeof *held->roles);
    memmove(held->times + at + 1, held->times + at, (held->count - at) * sizeof *held->times);
    held->roles[at] = role;
    held->times[at] = times;
    held->count++;
    return true;
}

/* ---- Tools ------------------------------------------------------------------------------------------------------- */

/* Reads "5 mm", "5.5 mm" and advances. Returns 0 if there is none. */
static double millimetres_at(const char **cursor)
{
    const char *c = *cursor;
    double value = 0, unit = 1;
    size_t digits = hk_digit_run(c);
    if (digits == 0 || digits > 2)
        return 0;
    for (size_t i = 0; i < digits; i++)
        value = 10 * value + (c[i] - '0');
    c += digits;
    if ((*c == '.' || *c == ',') && hk_is_digit(c[1])) {
        for (c++; hk_is_digit(*c) && unit < 1e3; c++) {
            value = 10 * value + (*c - '0');
            unit *= 10;
        }
    }
    c = hk_blanks_skipped(c);
    c += *c == '-';
    if (!hk_word_at(c, "mm"))
        return 0;
    value /= unit;
    *cursor = c + 2;
    return value >= TOOL_LEAST_MM && value <= TOOL_MOST_MM ? value : 0;
}

static const char *tool_word_at(const char *text)
{
    static const char *const words[] = {"hooks", "hook",      "needles",  "needle", "dpns",
                                        "dpn",   "circulars", "circular", NULL};
    return hk_word_of(text, words);
}

/*
 * Reads a label such as "H-8", "US 8", "K/10.5" before "hook" or "needles" and advances. Returns 0 if there is none or
 * it is ambiguous.
 */
static double label_at(const char **cursor, const struct hk_catalogue *catalogue, struct hk_arena *arena)
{
    const char *c = *cursor;
    size_t length = strcspn(c, ",.;:() ");
    if (hk_text_starts(c, "US "))
        length = 3 + strcspn(c + 3, ",;:() ");
    if (c[length] == '.' && hk_is_digit(c[length + 1])) /* "K/10.5" */
        length += 1 + hk_digit_run(c + length + 1);
    const char *behind = hk_blanks_skipped(c + length);
    if (*behind == '(') { /* "H-8 (5 mm) hook" */
        const char *inner = hk_blanks_skipped(behind + 1);
        double tool_mm = millimetres_at(&inner);
        if (tool_mm > 0 && *inner == ')') {
            *cursor = inner + 1;
            return tool_mm;
        }
    }
    if (length > 12 || !tool_word_at(behind))
        return 0;
    const char *label = hk_arena_text(arena, c, length);
    struct hk_diags scratch = {0};
    double tool_mm = 0;
    if (!label)
        return 0;
    if (!hk_tool_cell((struct hk_cell){.text = label}, catalogue, &tool_mm, &scratch))
        tool_mm = 0;
    arena->out_of_memory |= scratch.out_of_memory;
    hk_diags_free(&scratch);
    if (tool_mm > 0)
        *cursor = c + length;
    return tool_mm;
}

static double tool_at(const char **cursor, const struct hk_catalogue *catalogue, struct hk_arena *arena)
{
    const char *c = *cursor;
    if (hk_word_at(c, "size"))
        c = hk_blanks_skipped(c + 4);
    double tool_mm = millimetres_at(&c);
    if (tool_mm > 0) {
        const char *open = hk_blanks_skipped(c);
        const char *close = *open == '(' ? strchr(open, ')') : NULL; /* "5 mm (US H-8)" */
        *cursor = close ? close + 1 : c;
        return tool_mm;
    }
    bool label = hk_is_digit(*c) || (*c >= 'A' && *c <= 'Z');
    tool_mm = label ? label_at(&c, catalogue, arena) : 0;
    if (tool_mm > 0)
        *cursor = c;
    return tool_mm;
}

static void tool_add(double *tools_mm, size_t *count, size_t most, double tool_mm)
{
    size_t at = 0;
    while (at < *count && tools_mm[at] < tool_mm)
        at++;
    if ((at < *count && tools_mm[at] == tool_mm) || *count == most)
        return;
    memmove(tools_mm + at + 1, tools_mm + at, (*count - at) * sizeof *tools_mm);
    tools_mm[at] = tool_mm;
    ++*count;
}

/* Returns true when "hook" or "needle" is near a number in mm, in the same line, since buttons have mm too. */
static bool tool_near(const char *from, const char *text, const char *behind)
{
    static const size_t near = 40;
    for (size_t i = 0; i < near && behind[i] && behind[i] != '\n'; i++)
        if (tool_word_at(behind + i))
            return true;
    for (const char *c = text; c > from && c[-1] != '\n' && (size_t)(text - c) < near; c--)
        if (tool_word_at(c - 1))
            return true;
    return false;
}

bool hk_tools_find(const char *text, const struct hk_catalogue *catalogue, double **tools_mm, size_t *count,
                   struct hk_arena *arena)
{
    enum { most = 32 };
    *tools_mm = hk_arena_take(arena, most, sizeof **tools_mm);
    *count = 0;
    if (!*tools_mm)
        return false;
    for (const char *c = text; *c; c++) {
        bool begins = c == text || !(hk_is_letter(c[-1]) || hk_is_digit(c[-1]) || c[-1] == '.' || c[-1] == ',');
        if (!begins || !(hk_is_digit(*c) || (*c >= 'A' && *c <= 'Z')))
            continue;
        const char *end = c;
        double tool_mm = tool_at(&end, catalogue, arena);
        if (tool_mm > 0 && tool_near(text, c, end)) {
            tool_add(*tools_mm, count, most, tool_mm);
            c = end - 1;
        }
    }
    return !arena->out_of_memory;
}

/* ---- The whole setting ---- */

/* Reads "smaller hook", "larger needles" if there are two tools. */
static bool comparative(const char **cursor, const struct hk_setting_words *words, struct hk_setting *setting)
{
    static const char *const small[] = {"smaller", "smallest", NULL}, *const large[] = {"larger", "largest", "bigger",
                                                                                        NULL};
    const char *less = hk_word_of(*cursor, small), *more = hk_word_of(*cursor, large);
    const char *end = less ? less : more;
    if (!end)
        return false;
    if (words->tool_count == 2)
        setting->tool_mm = words->tools_mm[less ? 0 : 1];
    else
        setting->unknown_tool = *cursor;
    *cursor = end;
    return true;
}

static const char *intro(const char *text, bool *joins)
{
    static const char *const words[] = {"with",      "using",          "use",    "in", "change back to", "change to",
                                        "switch to", "switch back to", "change", NULL};
    static const char *const join[] = {"join in", "join", "attach", "rejoin", NULL};
    const char *end = hk_word_of(text, words);
    *joins = false;
    if (end)
        return end;
    *joins = true;
    return hk_word_of(text, join);
}

/* The state of the parser. */
struct reading {
    const struct hk_setting_words *words;
    struct hk_setting *setting;
    int64_t strands; /* of the next yarn */
    bool together;
};

/* Returns the text after "held together", "held double", or NULL. */
static const char *held_words(const char *c, struct reading *r)
{
    static const char *const held[] = {"held together", "together", "held double", "held", NULL};
    const char *end = hk_word_of(c, held);
    if (!end)
        return NULL;
    r->together = true;
    for (size_t i = 0; hk_word_at(c, "held double") && i < r->setting->held.count; i++)
        r->setting->held.times[i] *= 2;
    return end;
}

/* Returns the text after "two strands", or NULL. */
static const char *strands_at(const char *c, struct reading *r, struct hk_arena *arena)
{
    static const char *const strands[] = {"strands", "strand", NULL};
    bool wrong = false;
    struct hk_graded_count number;
    if (!hk_whole_scan(&c, 1, &number, &wrong, arena))
        return NULL;
    const char *end = hk_word_of(hk_blanks_skipped(c), strands);
    if (!end || number.one < 1 || number.one > STRANDS_MOST)
        return NULL;
    r->strands = number.one;
    return end;
}

/* Returns the end of a name like a role's, "B" or "CC2", before a mark or "and"; NULL if there is none. */
static const char *role_like(const char *text)
{
    static const char *const words[] = {"and", "held", "together", NULL};
    if (!(*text >= 'A' && *text <= 'Z') || strchr("KP", *text))
        return NULL;
    bool named = hk_word_at(text, "MC") || (text[0] == 'C' && text[1] == 'C');
    const char *end = text + (named ? 2 : 1);
    end += named && hk_is_digit(*end);
    const char *behind = hk_blanks_skipped(end);
    bool ends = !*behind || strchr(",.;:", *behind) || hk_word_of(behind, words);
    return ends && !hk_is_letter(*end) ? end : NULL;
}

/* Reads one element. Returns false if there is none. */
static bool item(const char **cursor, struct reading *r, struct hk_arena *arena)
{
    static const char *const fillers[] = {
        "the",  "yarn",    "color",    "colour",         "and",   "&",       "+",      "of",
        "a",    "set",     "new",      "hook",           "hooks", "needles", "needle", "circular",
        "dpns", "crochet", "straight", "double-pointed", "size",  "facing",  "both",   NULL};
    static const char *const right[] = {"RS", "right side", NULL}, *const wrong[] = {"WS", "wrong side", NULL};
    if (comparative(cursor, r->words, r->setting))
        return true;
    const char *c = *cursor, *end = hk_word_of(c, right), *other = hk_word_of(c, wrong);
    if (end || other) {
        r->setting->facing = end ? HK_SIDE_RIGHT : HK_SIDE_WRONG;
        *cursor = end ? end : other;
        return true;
    }
    end = held_words(c, r);
    if (!end) {
        double tool_mm = tool_at(cursor, r->words->words->catalogue, arena);
        if (tool_mm > 0) {
            r->setting->tool_mm = tool_mm;
            return true;
        }
        size_t role = hk_yarn_at(cursor, r->words);
        if (role != SIZE_MAX) {
            int64_t strands = r->strands;
            r->strands = 1;
            return held_add(&r->setting->held, role, strands);
        }
        end = role_like(c);
        if (end)
            r->setting->unknown_yarn = c;
        else
            end = strands_at(c, r, arena);
    }
    if (!end)
        end = hk_word_of(c, fillers);
    *cursor = end ? end : c;
    return end != NULL;
}

/* Returns true when after a comma the setting continues with a tool, a side or "held together". */
static bool goes_on(const char *c, const struct hk_setting_words *words, struct hk_arena *arena)
{
    static const char *const more[] = {"smaller", "larger", "RS", "WS", "right side", "wrong side", "held", NULL};
    const char *cursor = hk_blanks_skipped(c);
    return hk_word_of(cursor, more) || tool_at(&cursor, words->words->catalogue, arena) > 0;
}

bool hk_setting_read(const char *text, const struct hk_setting_words *words, struct hk_setting *setting,
                     struct hk_arena *arena)
{
    bool joins;
    const char *c = intro(text, &joins);
    if (!c)
        return false;
    *setting = (struct hk_setting){.joins = joins};
    struct reading reading = {.words = words, .setting = setting, .strands = 1};
    do {
        c = hk_blanks_skipped(c);
        if (*c == ',' && goes_on(c + 1, words, arena))
            c = hk_blanks_skipped(c + 1);
    } while (item(&c, &reading, arena));
    const struct hk_held *held = &setting->held;
    bool one = held->count == 0 || (held->count == 1 && held->times[0] == 1);
    setting->unnamed = !setting->unknown_yarn && (reading.strands > 1 || (reading.together && one));
    bool yarn = held->count > 0 || setting->unknown_yarn;
    if (joins ? !yarn
              : !yarn && setting->tool_mm == 0 && !setting->unknown_tool && !setting->unnamed &&
                    setting->facing == HK_SIDE_OPEN)
        return false;
    setting->apart = held->count > 1 && !reading.together;
    if (*c && strchr(",.;:", *c))
        c++;
    else if (joins && *c) { /* "with sl st in any st," */
        setting->clause = (size_t)(c - text);
        c += strcspn(c, ",.;:") + (c[strcspn(c, ",.;:")] != '\0');
    }
    setting->length = (size_t)(c - text);
    return true;
}

const char *hk_setting_within(const char *label, const struct hk_setting_words *words, struct hk_arena *arena)
{
    static const char *const behind[] = {")", ",", ";", NULL}, *const with[] = {"with", "using", "in", NULL};
    struct hk_setting setting;
    for (const char *c = label; *c; c++) {
        const char *yarn = c;
        if (c > label && strchr("( ", c[-1]) && hk_word_of(c, with) && hk_setting_read(c, words, &setting, arena) &&
            setting.held.count > 0)
            return c;
        if (c > label && c[-1] == '(' && hk_yarn_at(&yarn, words) != SIZE_MAX && hk_word_of(yarn, behind))
            return c;
    }
    bool found = hk_setting_read(label, words, &setting, arena) && (setting.held.count > 0 || setting.tool_mm > 0);
    return found ? label : NULL;
}
