/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/prose.h"

#include "text.h"

#include <string.h>

/* ---- Conventions ---- */

static void settle(struct hk_conventions *conventions, enum hk_convention choice, bool counts)
{
    bool usual = choice == HK_CONVENTION_CH3 || choice == HK_CONVENTION_CH4 || choice == HK_CONVENTION_SKIPPED_DC;
    conventions->settled |= 1u << choice;
    conventions->other &= ~(1u << choice);
    if (counts != usual)
        conventions->other |= 1u << choice;
}

/* Whether chains are spoken of before `end`, and how many: "ch 2", "ch-3", "2 ch"; 0: "turning chain", any. */
static bool chains_named(const char *text, const char *end, int64_t *chains)
{
    static const char *const words[] = {"chains", "chain", "chs", "ch", "tch", "t-ch", NULL};
    *chains = 0;
    for (const char *c = text; c < end; c++) {
        if (c > text && (hk_is_letter(c[-1]) || hk_is_digit(c[-1])))
            continue;
        const char *behind = NULL;
        for (size_t i = 0; words[i] && !behind; i++) /* "ch2" too */
            if (hk_text_starts(c, words[i]) && !hk_is_letter(c[strlen(words[i])]))
                behind = c + strlen(words[i]);
        if (!behind)
            continue;
        behind += *behind == '-';
        behind = hk_blanks_skipped(behind);
        if (hk_is_digit(*behind)) {
            *chains = *behind - '0';
        } else {
            const char *before = c;
            while (before > text && (before[-1] == ' ' || before[-1] == '-'))
                before--;
            if (before > text && hk_is_digit(before[-1]))
                *chains = before[-1] - '0';
        }
        return true;
    }
    return false;
}

/* "Join = sl st in top of ch-3": the chain is a stitch; "join = sl st in first dc": it is none. */
static bool join_read(const char *text, struct hk_conventions *conventions)
{
    const char *c = hk_word_at(text, "join"), *top = c ? hk_word_find(c, "top of") : NULL,
               *first = c ? hk_word_find(c, "first") : NULL;
    int64_t chains;
    c = c ? hk_blanks_skipped(c) : NULL;
    if (!c || (*c != '=' && *c != ':') || (!top && !first))
        return false;
    if (top && chains_named(top, top + strlen(top), &chains)) {
        settle(conventions,
               chains == 2   ? HK_CONVENTION_CH2
               : chains == 4 ? HK_CONVENTION_CH4
                             : HK_CONVENTION_CH3,
               true);
        if (chains == 0)
            settle(conventions, HK_CONVENTION_CH4, true);
    } else if (first && (hk_word_find(first, "dc") || hk_word_find(first, "tr"))) {
        settle(conventions, HK_CONVENTION_CH3, false);
    }
    return true;
}

bool hk_convention_read(const char *text, struct hk_conventions *conventions)
{
    if (join_read(text, conventions))
        return true;
    const char *counts = hk_word_find(text, "counts"), *count = hk_word_find(text, "count"),
               *counted = hk_word_find(text, "counted");
    const char *at = counts ? counts : count ? count : counted;
    if (!at)
        return false;
    bool not = hk_word_find(text, "not") || hk_word_find(text, "never") || strstr(text, "n't");
    int64_t chains;
    bool skipped = hk_word_find(text, "skipped") || hk_word_find(text, "missed");
    if (!chains_named(text, at, &chains))
        return false;
    bool space = hk_word_find(text, "sp") || hk_word_find(text, "sps") || hk_word_find(text, "spaces");
    if (space && !skipped) {
        settle(conventions, HK_CONVENTION_SPACES, !not );
        return true;
    }
    if (skipped) {
        bool half = hk_word_find(text, "hdc") || hk_word_find(text, "htr");
        settle(conventions, half ? HK_CONVENTION_SKIPPED_HDC : HK_CONVENTION_SKIPPED_DC, !not );
        return true;
    }
    if (chains == 2 || chains == 0)
        settle(conventions, HK_CONVENTION_CH2, !not );
    if (chains == 3 || chains == 0)
        settle(conventions, HK_CONVENTION_CH3, !not );
    if (chains == 4 || chains == 0)
        settle(conventions, HK_CONVENTION_CH4, !not );
    if (chains > 4 || chains == 0 || (chains == 1 && !not ))
        settle(conventions, HK_CONVENTION_CH_OTHER, !not );
    return true;
}

/* ---- Definitions ---- */

/* Where the name ends: at "=", ":" or a bracket; NULL: nowhere near. */
static const char *name_end(const char *text, const char **steps)
{
    static const size_t name_most = 40;
    for (const char *c = text; *c && (size_t)(c - text) < name_most; c++) {
        if (*c == '=' || *c == ':') {
            *steps = c + 1;
            return c;
        }
        if (c[0] == ' ' && c[1] == '-' && c[2] == ' ') {
            *steps = c + 2;
            return c;
        }
        if (*c == '(' && c > text) {
            const char *close = strchr(c, ')');
            const char *behind = close ? hk_blanks_skipped(close + 1) : NULL;
            if (close && (*behind == '=' || *behind == ':')) { /* "Cluster (CL) = " */
                *steps = behind + 1;
                return c;
            }
            *steps = c; /* "V-st (dc, ch 1, dc)" */
            return close && (!*behind || *behind == '.') ? c : NULL;
        }
        if (strchr(",;.*", *c))
            return NULL;
    }
    return NULL;
}

bool hk_definition_find(const char *text, const char **name, const char **also, size_t *at, size_t *length,
                        struct hk_arena *arena)
{
    static const char *const none[] = {"join",   "note",    "notes",   "row",  "rnd",   "round",
                                       "rows",   "gauge",   "tension", "size", "sizes", "hook",
                                       "needle", "needles", "yarn",    "step", NULL};
    const char *steps = NULL, *end = name_end(text, &steps);
    if (!end || end == text || hk_word_of(text, none))
        return false;
    size_t bytes = (size_t)(end - text), words = 1;
    while (bytes > 0 && text[bytes - 1] == ' ')
        bytes--;
    for (size_t i = 0; i < bytes; i++)
        words += text[i] == ' ';
    const char *digit = steps;
    while (*digit && !hk_is_digit(*digit))
        digit++;
    if (*steps == '(' && hk_is_digit(text[bytes - 1])) /* "Ch 26 (30, 34)" */
        return false;
    if (words > 3 || bytes == 0 || !hk_is_letter(text[0]) || (!*digit && *steps != '('))
        return false;
    const char *from = hk_blanks_skipped(steps);
    size_t stop = strlen(from);
    const char *full = strstr(from, ". ");
    if (full)
        stop = (size_t)(full - from);
    while (stop > 0 && strchr(" .", from[stop - 1]))
        stop--;
    *at = (size_t)(from - text);
    *length = stop;
    *name = hk_arena_text(arena, text, bytes);
    *also = NULL;
    if (*end == '(' && end + 1 < steps) {
        *also = hk_arena_text(arena, end + 1, strcspn(end + 1, ")"));
        if (!*also)
            return false;
    }
    return *name && stop > 0;
}

/* ---- How often ---- */

size_t hk_times_read(const char *text, size_t size_count, struct hk_graded_count *times, struct hk_arena *arena)
{
    static const char *const makes[] = {"make", "work", "x", "knit", "crochet", NULL};
    static const char *const both[] = {"both alike", "make both alike", "both the same", "make two alike", NULL};
    const char *c = text;
    bool bracket = *c == '(' || *c == '[';
    c = hk_blanks_skipped(c + bracket);
    const char *end = hk_word_of(c, both);
    if (end) {
        *times = (struct hk_graded_count){.one = 2};
    } else {
        const char *make = hk_word_of(c, makes);
        bool wrong = false;
        if (!make && *c == 'x' && hk_is_digit(c[1])) /* "x2" */
            make = c + 1;
        const char *number = hk_blanks_skipped(make ? make : c);
        if ((!make && !bracket) || !hk_whole_scan(&number, size_count, times, &wrong, arena) || wrong)
            return 0;
        if (hk_word_at(number, "x"))
            number++;
        end = number;
        static const char *const alike[] = {"alike", "pieces", "the same", "of these", NULL};
        const char *more = hk_word_of(hk_blanks_skipped(end), alike);
        end = more ? more : end;
    }
    end = hk_blanks_skipped(end);
    if (bracket) {
        if (*end != ')' && *end != ']')
            return 0;
        end++;
    } else if (*end == '.') {
        end++;
    } else if (*end) {
        return 0;
    }
    return (size_t)(end - text);
}

/* ---- Headings, work ---- */

bool hk_heading_silent(const char *text, bool *gauge)
{
    static const char *const gauges[] = {"gauge", "tension", "gauge swatch", "tension square", "swatch", NULL};
    static const char *const words[] = {"sizes",
                                        "size",
                                        "finished size",
                                        "finished sizes",
                                        "finished measurements",
                                        "measurements",
                                        "to fit",
                                        "notes",
                                        "note",
                                        "pattern notes",
                                        "materials",
                                        "yarn",
                                        "yarns",
                                        "hook",
                                        "hooks",
                                        "needles",
                                        "needle",
                                        "tools",
                                        "tool",
                                        "notions",
                                        "supplies",
                                        "abbreviations",
                                        "special stitches",
                                        "special stitch",
                                        "stitches",
                                        "stitch guide",
                                        "stitch glossary",
                                        "stitch patterns",
                                        "stitch pattern",
                                        "stitch key",
                                        "terms",
                                        "skill level",
                                        "level",
                                        "difficulty",
                                        "pattern",
                                        "the pattern",
                                        "instructions",
                                        "directions",
                                        "techniques",
                                        "description",
                                        "about",
                                        "copyright",
                                        "colours",
                                        "colors",
                                        "colourway",
                                        "you will need",
                                        "what you need",
                                        "equipment",
                                        "special techniques",
                                        "special abbreviations",
                                        "construction",
                                        "schematic",
                                        "chart",
                                        "charts",
                                        "key",
                                        "contents",
                                        "introduction",
                                        "before you begin",
                                        "tips",
                                        "hints",
                                        "care",
                                        "washing",
                                        "credits",
                                        "contact",
                                        "errata",
                                        NULL};
    size_t length = strcspn(text, ":(");
    while (length > 0 && text[length - 1] == ' ')
        length--;
    *gauge = false;
    for (size_t i = 0; gauges[i]; i++)
        *gauge |= hk_text_starts(text, gauges[i]) && strlen(gauges[i]) == length;
    if (*gauge)
        return true;
    for (size_t i = 0; words[i]; i++)
        if (hk_text_starts(text, words[i]) && strlen(words[i]) == length)
            return true;
    return false;
}

bool hk_speaks_of_work(const char *text)
{
    static const char *const words[] = {"sew",
                                        "sewn",
                                        "sewing",
                                        "seam",
                                        "seams",
                                        "tassel",
                                        "tassels",
                                        "pick up",
                                        "whipstitch",
                                        "whip stitch",
                                        "mattress stitch",
                                        "backstitch",
                                        "embroider",
                                        "fringe",
                                        "fringes",
                                        "pompom",
                                        "pom-pom",
                                        "pompoms",
                                        "pom-poms",
                                        "graft",
                                        "grafting",
                                        "kitchener",
                                        "crochet",
                                        "edging",
                                        "join the",
                                        "i-cord",
                                        "cord",
                                        "attach",
                                        "surface",
                                        "slip stitch together",
                                        "bobbles",
                                        "duplicate stitch",
                                        "applique",
                                        "lace up",
                                        "drawstring",
                                        "tie",
                                        "ties",
                                        NULL};
    for (size_t i = 0; words[i]; i++)
        if (hk_word_find(text, words[i]))
            return true;
    return false;
}
